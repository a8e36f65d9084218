//! What three people saw in four years: noisy functions of the truth.

use crate::dice::Dice;
use crate::hardware::{BAD_SETTER, Defect, Hardware, Kind, Metal};
use crate::region::Where;
use crate::strength::{self, Strength};
use crate::world::{Placement, Role, Shelter, Spot, Traffic, World};
use jiff::civil::Date;

/// Signs in the order of the sheet's columns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sign {
    MovesInHole,
    HangerTurns,
    NutLoose,
    StudTurns,
    ThreadExcess,
    Proud,
    Bent,
    MetalCrack,
    Rust,
    RustFromHole,
    ImpactDamage,
    Worn,
    ResinSoft,
    ResinGap,
    GlueInTurns,
    RockCrack,
    RockHollow,
    RockCrushed,
    Seepage,
    MixedMetals,
}

pub(crate) const SIGNS: [Sign; 20] = [
    Sign::MovesInHole,
    Sign::HangerTurns,
    Sign::NutLoose,
    Sign::StudTurns,
    Sign::ThreadExcess,
    Sign::Proud,
    Sign::Bent,
    Sign::MetalCrack,
    Sign::Rust,
    Sign::RustFromHole,
    Sign::ImpactDamage,
    Sign::Worn,
    Sign::ResinSoft,
    Sign::ResinGap,
    Sign::GlueInTurns,
    Sign::RockCrack,
    Sign::RockHollow,
    Sign::RockCrushed,
    Sign::Seepage,
    Sign::MixedMetals,
];

/// What was written down of one sign. `None` in a sighting: nobody looked, or it cannot occur here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Written {
    NotLooked,
    DoesNotApply,
    Absent,
    /// 1 slight, 2 marked, 3 severe.
    Present(u8),
}

pub(crate) struct Sighting {
    pub(crate) placement: usize,
    pub(crate) on: Date,
    pub(crate) by: &'static Observer,
    pub(crate) signs: [Written; SIGNS.len()],
    pub(crate) proud_mm: Option<f64>,
    pub(crate) loss_mm: Option<f64>,
    pub(crate) rebound: Option<f64>,
}

/// A person with habits.
pub(crate) struct Observer {
    pub(crate) name: &'static str,
    /// How often a sign is looked for at all.
    looks: f64,
    /// How often a slight sign is noticed; graver ones are noticed more often.
    notices: f64,
    /// How often something is noted that is not there.
    imagines: f64,
    /// How often the extent is written one step too high.
    exaggerates: f64,
    /// The word for "looked for and not there".
    pub(crate) no: &'static str,
}

static OBSERVERS: [Observer; 3] = [
    Observer { name: "Odile F.", looks: 0.97, notices: 0.8, imagines: 0.006, exaggerates: 0.05, no: "no" },
    Observer { name: "Bram T.", looks: 0.6, notices: 0.5, imagines: 0.004, exaggerates: 0.02, no: "-" },
    Observer { name: "Ines V.", looks: 0.9, notices: 0.75, imagines: 0.03, exaggerates: 0.3, no: "none" },
];

/// All sightings, by date.
pub(crate) fn inspect(world: &World) -> Vec<Sighting> {
    let mut dice = Dice::stream(3);
    let mut sightings = Vec::new();
    for year in 2022..=2025 {
        let share = 0.22 + 0.03 * f64::from(year - 2022);
        for route in 0..world.routes.len() {
            // A day on a route looks at all of it.
            if !dice.chance(share) {
                continue;
            }
            let by = dice.weighted(&[(0.4, &OBSERVERS[0]), (0.35, &OBSERVERS[1]), (0.25, &OBSERVERS[2])]);
            let on = Date::constant(year, dice.whole(3, 10) as i8, dice.whole(1, 28) as i8);
            for (index, placement) in world.placements.iter().enumerate() {
                if placement.route == route
                    && let Some(hardware) = hardware_on(placement, on)
                {
                    sightings.push(look(world, index, hardware, on, by, &mut dice));
                }
            }
        }
    }
    sightings.sort_by_key(|sighting| (sighting.on, sighting.placement));
    sightings
}

fn hardware_on(placement: &Placement, on: Date) -> Option<&Hardware> {
    match &placement.former {
        Some((old, removed)) if on < *removed => Some(old).filter(|old| old.placed <= on),
        _ => Some(&placement.hardware).filter(|hardware| hardware.placed <= on),
    }
}

fn look(
    world: &World,
    index: usize,
    hardware: &Hardware,
    on: Date,
    by: &'static Observer,
    dice: &mut Dice,
) -> Sighting {
    let placement = &world.placements[index];
    let here = world.here(placement);
    let strength = strength::of(hardware, &placement.spot, here, on);
    let mut signs = [Written::NotLooked; SIGNS.len()];
    let mut proud_mm = None;
    for (slot, sign) in signs.iter_mut().zip(SIGNS) {
        let seen = there(sign, hardware, placement, world, &strength, dice);
        let looked = dice.chance(by.looks);
        let noticed = dice.unit();
        let extent_luck = dice.unit();
        let imagined = dice.chance(by.imagines);
        *slot = match seen {
            None => Written::DoesNotApply,
            Some(extent) if extent > 0 => {
                let detected = 1.0 - libm::pow(1.0 - by.notices, f64::from(extent));
                // A grave sign strikes even those who were not looking.
                if noticed < detected && (looked || extent == 3) {
                    let step = u8::from(extent_luck < by.exaggerates);
                    Written::Present((extent + step).min(3))
                } else if looked {
                    Written::Absent
                } else {
                    Written::NotLooked
                }
            }
            Some(_) if !looked => Written::NotLooked,
            Some(_) if imagined => Written::Present(1 + u8::from(extent_luck < by.exaggerates)),
            Some(_) => Written::Absent,
        };
        if sign == Sign::Proud
            && let Written::Present(extent) = *slot
        {
            proud_mm = dice.chance(0.6).then(|| (4.0 * f64::from(extent) + dice.between(0.0, 4.0)).round());
        }
    }
    let loss_mm = (strength.loss > 0.15 && dice.chance(0.08))
        .then(|| (strength.loss * dice.around(1.0, 0.25) * 10.0).round() / 10.0);
    let rebound = dice.chance(0.05).then(|| {
        // Inverse of the classical relation between rebound and strength, with its scatter.
        let weight = if here == Where::Otter { 22.5 } else { 26.0 };
        ((libm::log10(placement.spot.ucs) - 1.01) / (0.000_88 * weight) * dice.around(1.0, 0.08))
            .round()
            .clamp(12.0, 68.0)
    });
    Sighting { placement: index, on, by, signs, proud_mm, loss_mm, rebound }
}

/// True extent of a sign, 0 for none; `None` where it cannot occur.
fn there(
    sign: Sign,
    hardware: &Hardware,
    placement: &Placement,
    world: &World,
    now: &Strength,
    dice: &mut Dice,
) -> Option<u8> {
    let kind = hardware.kind;
    let spot: &Spot = &placement.spot;
    let glue = kind == Kind::Glue;
    let threaded = matches!(kind, Kind::Wedge | Kind::Sleeve);
    let carbon = matches!(hardware.metal, Metal::Bare | Metal::Plated | Metal::HotDip);
    let roll = dice.unit();
    let often = |probability: f64, extent: u8| if roll < probability { extent } else { 0 };
    let extent = match sign {
        Sign::MovesInHole => match now.grip {
            ..2.0 => often(0.75, 3),
            2.0..5.0 => often(0.5, 2),
            5.0..9.0 => often(0.2, 1),
            _ => often(0.004, 1),
        },
        Sign::HangerTurns if glue || kind == Kind::Piton => return None,
        Sign::HangerTurns => {
            let careless = if hardware.setter == Some(BAD_SETTER) { 0.18 } else { 0.06 };
            let slack = if now.grip < 6.0 { 0.3 } else { 0.0 };
            often(careless + slack, 1 + u8::from(roll < 0.04))
        }
        Sign::NutLoose if !threaded => return None,
        Sign::NutLoose => {
            often(if hardware.torque.is_some() { 0.03 } else { 0.07 }, 1 + u8::from(roll < 0.02))
        }
        Sign::StudTurns if kind != Kind::Wedge => return None,
        Sign::StudTurns => match hardware.defect {
            Defect::NeverExpanded => often(0.7, 3),
            Defect::OverDrilled => often(0.5, 2),
            _ => often(0.004, 1),
        },
        Sign::ThreadExcess if kind != Kind::Wedge => return None,
        Sign::ThreadExcess => match hardware.nominal_embedment - hardware.embedment {
            18.0.. => often(0.9, 3),
            9.0..18.0 => often(0.8, 2),
            5.0..9.0 => often(0.5, 1),
            _ => often(0.005, 1),
        },
        Sign::Proud => match hardware.defect {
            Defect::ShortHole => often(0.7, 2),
            _ if matches!(kind, Kind::Hammered | Kind::Piton) => often(0.3, 1),
            _ => often(0.015, 1),
        },
        Sign::Bent => often(if now.radial < 9.0 { 0.06 } else { 0.006 }, 1 + u8::from(roll < 0.01)),
        Sign::MetalCrack if now.cracked => often(0.2, 3),
        Sign::MetalCrack => often(0.001, 1),
        Sign::Rust if carbon => match now.loss {
            ..0.02 => 0,
            0.02..0.12 => often(0.8, 1),
            0.12..0.4 => often(0.95, 2),
            _ => 3,
        },
        // Tea staining of stainless by the sea says little about its strength.
        Sign::Rust => often(
            if world.here(placement) == Where::Tern && hardware.metal != Metal::Titanium {
                0.35
            } else {
                0.03
            },
            1,
        ),
        Sign::RustFromHole if !carbon => often(0.01, 1),
        Sign::RustFromHole => match now.loss {
            ..0.1 => 0,
            0.1..0.35 => often(0.3, 1),
            0.35..0.8 => often(0.6, 2),
            _ => often(0.8, 3),
        },
        Sign::ImpactDamage => often(0.012, 1 + u8::from(roll < 0.003)),
        Sign::Worn => {
            let busy = world.route_of(placement).traffic == Traffic::Popular;
            often(
                if placement.role == Role::LowerOff && busy { 0.3 } else { 0.02 },
                1 + u8::from(roll < 0.08),
            )
        }
        Sign::ResinSoft | Sign::ResinGap | Sign::GlueInTurns if !glue => return None,
        Sign::ResinSoft => {
            often(if hardware.defect == Defect::ResinUnset { 0.6 } else { 0.004 }, 2 + u8::from(roll < 0.25))
        }
        Sign::ResinGap => match hardware.defect {
            Defect::HoleNotCleaned => often(0.3, 2),
            Defect::ResinUnset => often(0.3, 1),
            _ => often(0.03, 1),
        },
        Sign::GlueInTurns => match (now.grip, hardware.defect) {
            (..4.0, _) => often(0.6, 3),
            (_, Defect::SmoothRod) => often(0.25, 2),
            (4.0..9.0, _) => often(0.25, 2),
            _ => often(0.003, 1),
        },
        Sign::RockCrack => {
            if spot.cracked_rock {
                2
            } else {
                often(0.02, 1)
            }
        }
        Sign::RockHollow => {
            if spot.hollow {
                3
            } else {
                often(0.01, 1)
            }
        }
        Sign::RockCrushed => match spot.ucs {
            ..12.0 => often(0.3, 2),
            12.0..25.0 => often(0.1, 1),
            _ => often(0.008, 1),
        },
        Sign::Seepage => {
            if spot.shelter == Shelter::Seeping {
                often(0.7, 2)
            } else {
                often(0.02, 1)
            }
        }
        Sign::MixedMetals => match hardware.hanger {
            Some(hanger) if hanger != hardware.metal && hardware.metal != Metal::Bare => 2,
            Some(_) => 0,
            None => return None,
        },
    };
    Some(extent)
}
