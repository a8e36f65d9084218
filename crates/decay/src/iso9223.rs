//! Loss of steel and zinc in the first year, from the air.

use serde::{Deserialize, Serialize};
use units::Length;

/// Annual means of the air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Temperature T, degrees Celsius.
    pub temperature: f64,
    /// Relative humidity RH, per cent.
    pub humidity: f64,
    /// SO2 deposition Pd, mg/(m2 d).
    pub sulphur: f64,
    /// Chloride deposition Sd, mg/(m2 d).
    pub chloride: f64,
}

impl Air {
    /// True inside the range the functions were fitted to: T -17.1..28.7, RH 34..93, Pd 0.7..150.4,
    /// Sd 0.4..760.5. Source: ISO 9223:2012, table 3 (from memory).
    pub fn is_fitted(&self) -> bool {
        (-17.1..=28.7).contains(&self.temperature)
            && (34.0..=93.0).contains(&self.humidity)
            && (0.7..=150.4).contains(&self.sulphur)
            && (0.4..=760.5).contains(&self.chloride)
    }
}

/// Metal of a dose-response function.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Metal {
    /// Carbon steel.
    Steel,
    /// Zinc.
    Zinc,
}

/// Loss of the first year, split by what causes it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FirstYear {
    /// By sulphur dioxide.
    pub sulphur: Length,
    /// By chloride.
    pub chloride: Length,
}

impl FirstYear {
    /// Sum of both.
    pub fn total(&self) -> Length {
        self.sulphur + self.chloride
    }
}

/// Coefficients `a Pd^p exp(h RH + f(T)) + b Sd^q exp(k RH + l T)`, f = cold (T - 10) or warm (T - 10).
pub(crate) struct Coefficients {
    pub a: f64,
    pub p: f64,
    pub h: f64,
    pub cold: f64,
    pub warm: f64,
    pub b: f64,
    pub q: f64,
    pub k: f64,
    pub l: f64,
}

impl Metal {
    pub(crate) const fn coefficients(self) -> Coefficients {
        match self {
            Self::Steel => Coefficients {
                a: 1.77,
                p: 0.52,
                h: 0.020,
                cold: 0.150,
                warm: -0.054,
                b: 0.102,
                q: 0.62,
                k: 0.033,
                l: 0.040,
            },
            Self::Zinc => Coefficients {
                a: 0.0129,
                p: 0.44,
                h: 0.046,
                cold: 0.038,
                warm: -0.071,
                b: 0.0175,
                q: 0.57,
                k: 0.008,
                l: 0.085,
            },
        }
    }
}

/// Loss of a metal in its first year in the open, ISO 9223 dose-response function:
///
/// steel: `r = 1.77 Pd^0.52 exp(0.020 RH + f) + 0.102 Sd^0.62 exp(0.033 RH + 0.040 T)`,
/// `f = 0.150 (T - 10)` up to 10 C, `-0.054 (T - 10)` above;
/// zinc: `r = 0.0129 Pd^0.44 exp(0.046 RH + f) + 0.0175 Sd^0.57 exp(0.008 RH + 0.085 T)`,
/// `f = 0.038 (T - 10)` up to 10 C, `-0.071 (T - 10)` above.
///
/// Unit: um in one year. Negative depositions count as 0. Outside [`Air::is_fitted`] it extrapolates.
/// The scatter of such a function is about -33 % to +50 %. Source: ISO 9223:2012; steel coefficients seen
/// in print, zinc from memory.
pub fn first_year(metal: Metal, air: &Air) -> FirstYear {
    let c = metal.coefficients();
    let dt = air.temperature - 10.0;
    let f = if dt <= 0.0 { c.cold * dt } else { c.warm * dt };
    let sulphur = c.a * air.sulphur.max(0.0).powf(c.p) * (c.h * air.humidity + f).exp();
    let chloride = c.b * air.chloride.max(0.0).powf(c.q) * (c.k * air.humidity + c.l * air.temperature).exp();
    FirstYear { sulphur: Length::um(sulphur), chloride: Length::um(chloride) }
}

/// Corrosivity category of the air.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[allow(missing_docs)]
pub enum Category {
    C1,
    C2,
    C3,
    C4,
    C5,
    CX,
    /// Above the upper limit of CX.
    BeyondCX,
}

impl Category {
    /// Greatest first-year loss of each category in um, C1 to CX.
    const fn limits(metal: Metal) -> [f64; 6] {
        match metal {
            Metal::Steel => [1.3, 25.0, 50.0, 80.0, 200.0, 700.0],
            Metal::Zinc => [0.1, 0.7, 2.1, 4.2, 8.4, 25.0],
        }
    }

    /// Category of a first-year loss. Intervals are open below and closed above: 50 um of steel is C3.
    /// NaN counts as beyond CX. Source: ISO 9223:2012, table 2 (CX of zinc from memory).
    pub fn of(metal: Metal, first_year: Length) -> Self {
        const ALL: [Category; 6] =
            [Category::C1, Category::C2, Category::C3, Category::C4, Category::C5, Category::CX];
        // a hair of tolerance so that 50 um stored in metres is still 50 um
        let um = first_year.as_um() * (1.0 - 1e-12);
        Self::limits(metal)
            .iter()
            .zip(ALL)
            .find(|(limit, _)| um <= **limit)
            .map_or(Self::BeyondCX, |(_, c)| c)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const fn air(temperature: f64, humidity: f64, sulphur: f64, chloride: f64) -> Air {
        Air { temperature, humidity, sulphur, chloride }
    }

    #[test]
    fn table_of_the_reference() {
        // reference, sec. 1.2 (independent computation): SO2 part, chloride part, category
        use Category::*;
        for (a, steel, zinc, cs, cz) in [
            (air(-5.0, 70.0, 1.0, 3.0), (0.7565, 1.6626), (0.1826, 0.0375), C2, C2),
            (air(8.0, 78.0, 5.0, 3.0), (14.4095, 3.6414), (0.8778, 0.1206), C2, C3),
            (air(10.0, 80.0, 10.0, 10.0), (29.0298, 8.8891), (1.4086, 0.2885), C3, C3),
            (air(15.0, 75.0, 2.0, 60.0), (8.6834, 27.9582), (0.3865, 1.1773), C3, C3),
            (air(20.0, 77.0, 4.0, 20.0), (9.8932, 18.4594), (0.4031, 0.9783), C3, C3),
            (air(27.0, 80.0, 1.0, 200.0), (3.5008, 112.4124), (0.1530, 6.7496), C5, C5),
        ] {
            for (metal, want, category) in [(Metal::Steel, steel, cs), (Metal::Zinc, zinc, cz)] {
                let got = first_year(metal, &a);
                assert!((got.sulphur.as_um() - want.0).abs() < 1e-4, "{metal:?} {a:?}: {got:?}");
                assert!((got.chloride.as_um() - want.1).abs() < 1e-4, "{metal:?} {a:?}: {got:?}");
                assert_eq!(Category::of(metal, got.total()), category);
            }
        }
    }

    #[test]
    fn categories_are_closed_above() {
        assert_eq!(Category::of(Metal::Steel, Length::um(50.0)), Category::C3);
        assert_eq!(Category::of(Metal::Steel, Length::um(50.01)), Category::C4);
        assert_eq!(Category::of(Metal::Steel, Length::um(1.3)), Category::C1);
        assert_eq!(Category::of(Metal::Zinc, Length::um(4.2)), Category::C4);
        assert_eq!(Category::of(Metal::Zinc, Length::um(25.1)), Category::BeyondCX);
        assert_eq!(Category::of(Metal::Steel, Length::um(f64::NAN)), Category::BeyondCX);
    }

    proptest! {
        #[test]
        fn more_salt_sulphur_or_damp_eats_more(
            t in -15.0..28.0f64, rh in 35.0..90.0f64, p in 0.7..100.0f64, s in 0.4..700.0f64,
        ) {
            for metal in [Metal::Steel, Metal::Zinc] {
                let r = |a: Air| first_year(metal, &a).total().as_um();
                let base = r(air(t, rh, p, s));
                prop_assert!(base > 0.0);
                prop_assert!(r(air(t, rh + 1.0, p, s)) > base);
                prop_assert!(r(air(t, rh, p * 1.1, s)) > base);
                prop_assert!(r(air(t, rh, p, s * 1.1)) > base);
            }
        }
    }
}
