//! Rank and choice of stainless alloys by composition and exposure.

use crate::data::metals;
use serde::{Deserialize, Serialize};
use units::Length;

/// Pitting resistance equivalent `PREN = Cr + 3.3 Mo + 16 N + 1.65 W`, contents in mass per cent.
///
/// Ranks resistance to pitting only; it does not rank stress-corrosion cracking and is no pass mark.
/// Source: molybdenum association grade table.
pub fn pren(chromium: f64, molybdenum: f64, nitrogen: f64, tungsten: f64) -> f64 {
    chromium + 3.3 * molybdenum + 16.0 * nitrogen + 1.65 * tungsten
}

/// An alloy of the built-in table with its composition in mass per cent.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Alloy {
    /// Name and number.
    pub name: String,
    /// Chromium.
    pub chromium: f64,
    /// Molybdenum.
    pub molybdenum: f64,
    /// Nitrogen.
    pub nitrogen: f64,
    /// Where it comes from.
    pub source: String,
}

impl Alloy {
    /// Its [`pren`].
    pub fn pren(&self) -> f64 {
        pren(self.chromium, self.molybdenum, self.nitrogen, 0.0)
    }
}

/// The built-in alloys.
pub fn alloys() -> &'static [Alloy] {
    &metals().alloy
}

/// Exposure of a part for the corrosion resistance factor of EN 1993-1-4, annex A.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exposure {
    /// Indoors in controlled air (nothing else counts then).
    pub indoors: bool,
    /// Distance to the sea.
    pub sea: Length,
    /// The sea is the German North Sea or the Baltic.
    pub mild_sea: bool,
    /// Distance to a road that is salted; `None` = none near.
    pub salted_road: Option<Length>,
    /// In a road tunnel, or where vehicles carry salt in.
    pub salt_carried_in: bool,
    /// Sulphur dioxide in the air, ug/m3.
    pub sulphur_ug_m3: f64,
    /// How salt is washed off.
    pub washing: Washing,
}

/// How salt is washed off a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Washing {
    /// Fully exposed to rain.
    Rain,
    /// Cleaned to a plan.
    Cleaning,
    /// Neither.
    None,
}

/// Corrosion resistance factor `CRF = F1 + F2 + F3` (greater is milder).
///
/// F1 chlorides: indoors 1; sea beyond 10 km and road beyond 0.1 km 0; sea 1..10 km or road 10..100 m -3;
/// sea 0.25..1 km or road within 10 m -7; salt carried in -10; sea within 0.25 km -15 (mild seas -10); the
/// worst counts. F2 SO2: below 10 ug/m3 0, up to 90 -5, above -10. F3: rain 0, cleaning -2, neither -7,
/// and 0 where F1 + F2 >= 0. Source: EN 1993-1-4:2006+A1:2015, annex A; F1 and F2 seen in data sheets,
/// F3 and its rule from memory. European climate, parts that can be inspected; not for tropical seas.
pub fn corrosion_resistance_factor(e: &Exposure) -> i32 {
    if e.indoors {
        return 1;
    }
    let sea = match e.sea.as_m() {
        m if m <= 250.0 => {
            if e.mild_sea {
                -10
            } else {
                -15
            }
        }
        m if m <= 1_000.0 => -7,
        m if m <= 10_000.0 => -3,
        _ => 0,
    };
    let road = match e.salted_road.map(Length::as_m) {
        Some(m) if m <= 10.0 => -7,
        Some(m) if m <= 100.0 => -3,
        _ => 0,
    };
    let carried = if e.salt_carried_in { -10 } else { 0 };
    let f1 = sea.min(road).min(carried);
    let f2 = match e.sulphur_ug_m3 {
        s if s > 90.0 => -10,
        s if s >= 10.0 => -5,
        _ => 0,
    };
    let f3 = match e.washing {
        _ if f1 + f2 >= 0 => 0,
        Washing::Rain => 0,
        Washing::Cleaning => -2,
        Washing::None => -7,
    };
    f1 + f2 + f3
}

/// Corrosion resistance class I..V that a stainless grade needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[allow(missing_docs)]
pub enum ResistanceClass {
    I,
    II,
    III,
    IV,
    V,
}

impl ResistanceClass {
    /// Class from the factor: 1 is I, 0 to above -7 II, -7 to above -15 III, -15 to -20 IV, below V.
    /// Source: EN 1993-1-4:2006+A1:2015, table A.2 (limits from memory).
    pub const fn of(factor: i32) -> Self {
        match factor {
            1.. => Self::I,
            -6..=0 => Self::II,
            -14..=-7 => Self::III,
            -20..=-15 => Self::IV,
            _ => Self::V,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pren_of_the_grade_table() {
        // molybdenum association grade table, printed to one decimal
        for (alloy, want) in alloys().iter().zip([18.1, 24.13, 34.19, 34.95, 43.33]) {
            assert!((alloy.pren() - want).abs() < 1e-9, "{alloy:?}");
        }
    }

    #[test]
    fn worked_exposures_of_the_reference() {
        // reference, sec. 2.4, cases a to h
        let e = |km: f64, mild_sea, so2, washing| Exposure {
            indoors: false,
            sea: Length::m(km * 1e3),
            mild_sea,
            salted_road: None,
            salt_carried_in: false,
            sulphur_ug_m3: so2,
            washing,
        };
        use ResistanceClass::*;
        for (exposure, factor, class) in [
            (e(50.0, false, 5.0, Washing::None), 0, II),
            (e(3.0, false, 5.0, Washing::None), -10, III),
            (e(0.5, false, 5.0, Washing::None), -14, III),
            (e(0.5, false, 50.0, Washing::None), -19, IV),
            (e(0.1, false, 5.0, Washing::Rain), -15, IV),
            (e(0.1, false, 5.0, Washing::None), -22, V),
            (e(0.1, true, 5.0, Washing::None), -17, IV),
            (e(3.0, false, 5.0, Washing::Rain), -3, II),
        ] {
            let got = corrosion_resistance_factor(&exposure);
            assert_eq!((got, ResistanceClass::of(got)), (factor, class), "{exposure:?}");
        }
        let indoors = Exposure { indoors: true, ..e(0.1, false, 5.0, Washing::None) };
        assert_eq!(ResistanceClass::of(corrosion_resistance_factor(&indoors)), I);
        let road = Exposure { salted_road: Some(Length::m(5.0)), ..e(50.0, false, 5.0, Washing::Rain) };
        assert_eq!(corrosion_resistance_factor(&road), -7);
    }
}
