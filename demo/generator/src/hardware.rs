//! What people put into the rock, decade by decade, and how well they did it.

use crate::dice::Dice;
use crate::region::{Rock, Where};
use jiff::civil::Date;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    Wedge,
    Sleeve,
    DropIn,
    Glue,
    Compression,
    Hammered,
    Piton,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Metal {
    Bare,
    Plated,
    HotDip,
    S304,
    S316,
    Titanium,
    Aluminium,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Resin {
    Polyester,
    Vinylester,
    Epoxy,
}

/// What went wrong when it was set. Nobody can see most of these from outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Defect {
    None,
    OverDrilled,
    NeverExpanded,
    HoleNotCleaned,
    ResinUnset,
    ShortHole,
    SmoothRod,
}

/// The hardware of one placement, with everything about it that is settled the day it was set.
#[derive(Clone, Debug)]
pub(crate) struct Hardware {
    pub(crate) kind: Kind,
    pub(crate) inch: bool,
    pub(crate) diameter: f64,
    pub(crate) length: f64,
    /// As meant, mm.
    pub(crate) nominal_embedment: f64,
    /// As it is, mm.
    pub(crate) embedment: f64,
    pub(crate) metal: Metal,
    pub(crate) hanger: Option<Metal>,
    pub(crate) resin: Option<Resin>,
    pub(crate) batch: Option<&'static str>,
    pub(crate) setter: Option<&'static str>,
    pub(crate) placed: Date,
    pub(crate) day_known: bool,
    pub(crate) torque: Option<f64>,
    pub(crate) defect: Defect,
    pub(crate) luck: Luck,
}

/// Factors that no record tells, and the year of a stress-corrosion crack.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Luck {
    pub(crate) steel: f64,
    pub(crate) cone: f64,
    pub(crate) grip: f64,
    pub(crate) bearing: f64,
    pub(crate) hanger: f64,
    pub(crate) corrosion: f64,
    pub(crate) cracks_in: Option<i16>,
    pub(crate) left_when_cracked: f64,
}

/// The lot of resin whose hardener did not flow.
pub(crate) const BAD_BATCH: &str = "VB-0417";
/// The setter with bad habits, who was busy from 1994 to 2009.
pub(crate) const BAD_SETTER: &str = "Wim K.";
const INCH: f64 = 25.4;

struct Choice {
    kind: Kind,
    inch: bool,
    diameter: f64,
    length: f64,
    embedment: f64,
    metal: Metal,
    resin: Option<Resin>,
}

/// What somebody would have set in that year at that crag.
pub(crate) fn set(
    here: Where,
    year: i16,
    sheltered: bool,
    setter: Option<&'static str>,
    dice: &mut Dice,
) -> Hardware {
    let choice = choose(here, year, dice);
    let inch = choice.inch;
    let placed = day_in(year, dice);
    let bad = setter == Some(BAD_SETTER);
    let batch = batch(choice.kind, choice.resin, year, dice);
    let defect = defect(&choice, batch, bad, here, dice);
    let embedment = match defect {
        Defect::ShortHole => choice.embedment * dice.between(0.45, 0.7),
        _ => choice.embedment * dice.around(1.0, 0.05),
    }
    .min(choice.length);
    let hanger = match choice.kind {
        Kind::Glue | Kind::Piton => None,
        _ if year < 1976 => Some(dice.weighted(&[(0.6, Metal::Bare), (0.4, Metal::Aluminium)])),
        _ if year < 1990 => Some(dice.weighted(&[(0.6, Metal::Plated), (0.4, Metal::Aluminium)])),
        _ if choice.metal == Metal::Plated && dice.chance(0.3) => Some(Metal::S304),
        _ => Some(choice.metal),
    };
    let torque = (matches!(choice.kind, Kind::Wedge | Kind::Sleeve) && year >= 1996 && dice.chance(0.35))
        .then(|| {
            let meant = if choice.diameter > 11.0 { 50.0 } else { 35.0 };
            let done = if bad { meant * dice.between(1.5, 2.1) } else { meant * dice.between(0.85, 1.15) };
            (done / 5.0).round() * 5.0
        });
    Hardware {
        kind: choice.kind,
        inch,
        diameter: choice.diameter,
        length: choice.length,
        nominal_embedment: choice.embedment,
        embedment,
        metal: choice.metal,
        hanger,
        resin: choice.resin,
        batch,
        setter,
        placed,
        day_known: year > 1992 && dice.chance(0.75),
        torque,
        defect,
        luck: luck(here, year, choice.metal, sheltered, bad, dice),
    }
}

fn choose(here: Where, year: i16, dice: &mut Dice) -> Choice {
    use Kind::{Compression, DropIn, Glue, Hammered, Piton, Sleeve, Wedge};
    let soft = here.crag().rock == Rock::Sandstone;
    let kind = match year {
        ..=1974 if soft => dice.weighted(&[(0.5, Hammered), (0.25, Piton), (0.25, Compression)]),
        ..=1974 => dice.weighted(&[(0.35, Piton), (0.4, Compression), (0.25, Hammered)]),
        1975..=1987 => dice.weighted(&[(0.45, DropIn), (0.2, Compression), (0.25, Wedge), (0.1, Hammered)]),
        1988..=1999 if soft => dice.weighted(&[(0.3, Wedge), (0.25, Sleeve), (0.4, Glue), (0.05, DropIn)]),
        1988..=1999 => dice.weighted(&[(0.6, Wedge), (0.2, Sleeve), (0.15, Glue), (0.05, DropIn)]),
        _ if soft => dice.weighted(&[(0.1, Wedge), (0.1, Sleeve), (0.8, Glue)]),
        2000..=2011 => dice.weighted(&[(0.6, Wedge), (0.12, Sleeve), (0.28, Glue)]),
        _ => dice.weighted(&[(0.5, Wedge), (0.04, Sleeve), (0.46, Glue)]),
    };
    let inch = match kind {
        Compression => true,
        Glue | Piton => false,
        _ => here == Where::Otter || (year < 1995 && dice.chance(0.4)),
    };
    let thick = match year {
        ..=1999 => dice.chance(0.15),
        2000..=2011 => dice.chance(0.45),
        _ => dice.chance(0.85),
    };
    let diameter = match (kind, inch, thick) {
        (Compression, ..) => dice.weighted(&[(0.5, 0.25), (0.25, 0.3125), (0.25, 0.375)]) * INCH,
        (DropIn, ..) => 12.0,
        (Glue, ..) if soft => 12.0,
        (Glue, _, true) => dice.pick(&[10.0, 12.0]),
        (Glue, _, false) => 10.0,
        (Piton, ..) => 10.0,
        (_, true, false) => 0.375 * INCH,
        (_, true, true) => 0.5 * INCH,
        (_, false, false) => 10.0,
        (_, false, true) => 12.0,
    };
    let big = diameter > 11.0;
    let (length, embedment) = match (kind, inch) {
        (Wedge | Sleeve, true) => {
            let length = if big { dice.pick(&[2.75, 3.75]) } else { dice.pick(&[2.25, 2.75, 3.0]) } * INCH;
            (length, length - 0.75 * INCH)
        }
        (Wedge | Sleeve, false) => {
            let length = if big { dice.pick(&[90.0, 100.0, 110.0]) } else { dice.pick(&[70.0, 80.0, 90.0]) };
            (length, length - 24.0)
        }
        (DropIn, _) => (30.0, 28.0),
        (Glue, _) if soft => (dice.pick(&[120.0, 150.0]), 0.0),
        (Glue, _) => (dice.pick(&[80.0, 90.0, 100.0]), 0.0),
        (Compression, _) => (dice.pick(&[1.25, 1.5, 2.0]) * INCH, 1.0 * INCH),
        (Hammered, _) => (dice.pick(&[60.0, 70.0]), 50.0),
        (Piton, _) => (100.0, 70.0),
    };
    let embedment = match kind {
        Glue => length - 8.0,
        Compression => length - 0.25 * INCH,
        _ => embedment,
    };
    let metal = match (year, here, kind) {
        (..=1974, ..) => Metal::Bare,
        (1975..=1999, _, Glue) => Metal::S304,
        (1975..=1987, ..) => Metal::Plated,
        (1988..=1999, Where::Tern, _) => dice.weighted(&[(0.5, Metal::S304), (0.5, Metal::Plated)]),
        (1988..=1999, ..) => dice.weighted(&[(0.8, Metal::Plated), (0.1, Metal::HotDip), (0.1, Metal::S304)]),
        (2000..=2011, Where::Tern, _) => dice.weighted(&[(0.6, Metal::S304), (0.4, Metal::S316)]),
        (2000..=2011, ..) => dice.weighted(&[(0.15, Metal::Plated), (0.6, Metal::S304), (0.25, Metal::S316)]),
        (2018.., Where::Tern, Glue) => Metal::Titanium,
        _ => Metal::S316,
    };
    let resin = (kind == Glue).then(|| match year {
        ..=1999 => Resin::Polyester,
        2000..=2017 => dice.weighted(&[(0.8, Resin::Vinylester), (0.2, Resin::Epoxy)]),
        _ => dice.weighted(&[(0.3, Resin::Vinylester), (0.7, Resin::Epoxy)]),
    });
    Choice { kind, inch, diameter, length, embedment, metal, resin }
}

fn batch(kind: Kind, resin: Option<Resin>, year: i16, dice: &mut Dice) -> Option<&'static str> {
    match (kind, resin, year) {
        (_, Some(Resin::Vinylester), 2016..=2017) => Some(BAD_BATCH),
        (_, Some(Resin::Vinylester), 2012..=2015) => Some("VB-1302"),
        (_, Some(Resin::Epoxy), 2018..=2021) => Some("EP-1903"),
        (_, Some(Resin::Epoxy), 2022..) => Some("EP-2210"),
        (Kind::Wedge, _, 2003..=2011) => dice.chance(0.6).then_some("ST-0603"),
        (Kind::Wedge, _, 2012..) => dice.chance(0.8).then_some("ST-1411"),
        _ => None,
    }
}

fn defect(choice: &Choice, batch: Option<&str>, bad: bool, here: Where, dice: &mut Dice) -> Defect {
    let worse = if bad { 5.0 } else { 1.0 };
    match choice.kind {
        Kind::Glue if batch == Some(BAD_BATCH) && dice.chance(0.35) => Defect::ResinUnset,
        Kind::Glue if dice.chance(0.008 * worse) => Defect::ResinUnset,
        Kind::Glue if dice.chance(0.04 * worse) => Defect::HoleNotCleaned,
        Kind::Glue if choice.resin == Some(Resin::Polyester) && dice.chance(0.25) => Defect::SmoothRod,
        Kind::Wedge | Kind::Sleeve if dice.chance(0.015 * worse) => Defect::ShortHole,
        Kind::Wedge | Kind::Sleeve if dice.chance(0.02 * worse) => Defect::OverDrilled,
        Kind::Wedge if here == Where::Otter && dice.chance(0.12) => Defect::NeverExpanded,
        Kind::DropIn if dice.chance(0.12) => Defect::NeverExpanded,
        _ => Defect::None,
    }
}

fn luck(here: Where, year: i16, metal: Metal, sheltered: bool, bad: bool, dice: &mut Dice) -> Luck {
    let share = match metal {
        Metal::S304 => 1.0,
        Metal::S316 => 0.35,
        _ => 0.0,
    };
    let washed = if sheltered { 1.0 } else { 0.25 };
    let strained = if bad { 2.0 } else { 1.0 };
    let hazard = here.crag().cracking * share * washed * strained;
    // Every draw is made for every bolt, so that the streams stay in step.
    let waited = -libm::log(1.0 - dice.unit()) / hazard.max(1e-9);
    Luck {
        steel: dice.around(1.0, 0.06),
        cone: dice.around(1.0, 0.18),
        grip: dice.around(if bad { 0.8 } else { 1.0 }, if bad { 0.38 } else { 0.22 }),
        bearing: dice.around(1.0, 0.2),
        hanger: dice.around(1.0, 0.08),
        corrosion: dice.around(1.0, 0.45),
        cracks_in: (waited < 200.0).then(|| year + waited as i16),
        left_when_cracked: dice.between(0.08, 0.7),
    }
}

fn day_in(year: i16, dice: &mut Dice) -> Date {
    let month = dice.whole(3, 10) as i8;
    let day = dice.whole(1, 28) as i8;
    Date::constant(year, month, day)
}
