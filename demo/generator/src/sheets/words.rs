//! Words as people write them, slips of the pen included.

use crate::dice::Dice;
use crate::hardware::{Kind, Metal, Resin};
use crate::region::Rock;
use crate::world::{Role, Shelter, Steep, Traffic};

/// A word from the usual ones, or in one of fifty cases from the misspelt ones.
fn say(usual: &[&'static str], slips: &[&'static str], dice: &mut Dice) -> String {
    if !slips.is_empty() && dice.chance(0.02) { dice.pick(slips) } else { dice.pick(usual) }.to_owned()
}

pub(crate) fn kind(kind: Kind, dice: &mut Dice) -> String {
    let (usual, slips): (&[_], &[_]) = match kind {
        Kind::Wedge => {
            (&["wedge bolt", "wedge bolt", "wedge", "stud"], &["wege bolt", "wedge blot", "Wedgebolt"])
        }
        Kind::Sleeve => (&["sleeve bolt", "sleeve bolt", "sleeve"], &["sleve bolt", "sleeve-bolt "]),
        Kind::DropIn => (&["drop-in", "drop in", "self-drive"], &["dropin", "drop-inn"]),
        Kind::Glue => {
            (&["glue-in", "glue-in", "glue in", "resin bolt"], &["gluein", "glew-in", "resin blot"])
        }
        Kind::Compression => (&["compression bolt", "split shaft", "button head"], &["compresion bolt"]),
        Kind::Hammered => (&["hammered bolt", "machine bolt"], &["hamered bolt"]),
        Kind::Piton => (&["piton", "peg"], &["pitton"]),
    };
    say(usual, slips, dice)
}

pub(crate) fn metal(metal: Metal, dice: &mut Dice) -> String {
    if matches!(metal, Metal::S304 | Metal::S316) && dice.chance(0.25) {
        return say(&["stainless", "stainless", "s/s"], &["stainles", "stainless stel"], dice);
    }
    let (usual, slips): (&[_], &[_]) = match metal {
        Metal::Bare => (&["carbon steel", "plain steel", "mild steel"], &["carbon stel"]),
        Metal::Plated => (&["zinc plated", "plated steel", "zinc"], &["zink plated"]),
        Metal::HotDip => (&["hot-dip galvanised", "HDG"], &[]),
        Metal::S304 => (&["A2", "304", "stainless 304"], &["stainles 304"]),
        Metal::S316 => (&["A4", "316", "stainless 316"], &["stainles 316"]),
        Metal::Titanium => (&["titanium", "Ti"], &["titanum"]),
        Metal::Aluminium => (&["aluminium", "alu"], &["aluminum"]),
    };
    say(usual, slips, dice)
}

pub(crate) fn resin(resin: Resin, dice: &mut Dice) -> String {
    match resin {
        Resin::Polyester => say(&["polyester"], &["polyster"], dice),
        Resin::Vinylester => say(&["vinylester", "vinyl ester"], &["vinylesther"], dice),
        Resin::Epoxy => say(&["epoxy"], &["epoxi"], dice),
    }
}

pub(crate) fn rock(rock: Rock, dice: &mut Dice) -> String {
    match rock {
        Rock::Granite => say(&["granite"], &["granit"], dice),
        Rock::Limestone => say(&["limestone"], &["lime stone", "limstone"], dice),
        Rock::Sandstone => say(&["sandstone"], &["sand stone", "sandstn"], dice),
    }
}

pub(crate) fn steep(steep: Steep, dice: &mut Dice) -> String {
    match steep {
        Steep::Slab => say(&["slab"], &["slap"], dice),
        Steep::Vertical => say(&["vertical"], &["vertcal"], dice),
        Steep::Overhang => say(&["overhang", "overhanging"], &["overhnag"], dice),
        Steep::Roof => say(&["roof"], &[], dice),
    }
}

pub(crate) fn shelter(shelter: Shelter, dice: &mut Dice) -> String {
    match shelter {
        Shelter::Washed => say(&["washed", "washed", "open"], &[], dice),
        Shelter::Sheltered => say(&["sheltered"], &["shelterd"], dice),
        Shelter::Seeping => say(&["seeping", "seepage"], &[], dice),
    }
}

pub(crate) fn role(role: Role, dice: &mut Dice) -> String {
    match role {
        Role::Runner => say(&["runner", "lead"], &["runer"], dice),
        Role::LowerOff => say(&["lower-off", "lower off"], &["lowerof"], dice),
        Role::Belay => say(&["belay", "stance"], &["beley"], dice),
    }
}

pub(crate) fn traffic(traffic: Traffic) -> &'static str {
    match traffic {
        Traffic::Rare => "rare",
        Traffic::Regular => "regular",
        Traffic::Popular => "popular",
    }
}

/// ISRM field grade as a careful person with a hammer would give it, now and then one off.
pub(crate) fn field_grade(ucs: f64, dice: &mut Dice) -> String {
    let felt = ucs * if dice.chance(0.15) { dice.pick(&[0.6, 1.6]) } else { 1.0 };
    match felt {
        ..1.0 => "R0",
        1.0..5.0 => "R1",
        5.0..25.0 => "R2",
        25.0..50.0 => "R3",
        50.0..100.0 => "R4",
        100.0..250.0 => "R5",
        _ => "R6",
    }
    .to_owned()
}

/// Key of a kind in the truth.
pub(crate) fn kind_key(kind: Kind) -> &'static str {
    match kind {
        Kind::Wedge => "wedge_bolt",
        Kind::Sleeve => "sleeve_bolt",
        Kind::DropIn => "drop_in",
        Kind::Glue => "glue_in",
        Kind::Compression => "compression_bolt",
        Kind::Hammered => "hammered_bolt",
        Kind::Piton => "piton",
    }
}

/// Key of a metal in the truth.
pub(crate) fn metal_key(metal: Metal) -> &'static str {
    match metal {
        Metal::Bare => "bare_carbon_steel",
        Metal::Plated => "plated_carbon_steel",
        Metal::HotDip => "hot_dip_carbon_steel",
        Metal::S304 => "stainless304",
        Metal::S316 => "stainless316",
        Metal::Titanium => "titanium",
        Metal::Aluminium => "aluminium",
    }
}

/// A length in inches as a mixed fraction of sixteenths, `2 1/4`.
pub(crate) fn inches(millimetres: f64) -> String {
    let sixteenths = (millimetres / 25.4 * 16.0).round() as u64;
    let (whole, rest) = (sixteenths / 16, sixteenths % 16);
    let shared = if rest == 0 { 16 } else { 1 << rest.trailing_zeros() };
    match (whole, rest) {
        (_, 0) => whole.to_string(),
        (0, _) => format!("{}/{}", rest / shared, 16 / shared),
        _ => format!("{whole} {}/{}", rest / shared, 16 / shared),
    }
}

/// Diameter with or without length, in the way of the hardware and of the hand that wrote it. In a column
/// meant for inches (`named`) millimetres are named.
pub(crate) fn size(
    kind: Kind,
    inch: bool,
    named: bool,
    diameter: f64,
    length: Option<f64>,
    dice: &mut Dice,
) -> String {
    let threaded = matches!(kind, Kind::Wedge | Kind::Sleeve);
    if inch {
        let across = inches(diameter);
        return match length {
            Some(length) => format!("{across} x {}", inches(length)),
            None => match dice.whole(0, 3) {
                0 => format!("{across}\""),
                1 => format!("{across} in"),
                2 if diameter > 12.0 => "0.5 in".to_owned(),
                _ => across,
            },
        };
    }
    match (length, threaded) {
        (Some(length), true) => format!("M{diameter:.0}{}{length:.0}", dice.pick(&["x", " x ", "×"])),
        (Some(length), false) if named => format!("{diameter:.0}mm x {length:.0}mm"),
        (Some(length), false) => format!("{diameter:.0}x{length:.0}"),
        (None, true) if dice.chance(0.6) => format!("M{diameter:.0}"),
        (None, _) => format!("{diameter:.0}{}", dice.pick(&["mm", " mm"])),
    }
}
