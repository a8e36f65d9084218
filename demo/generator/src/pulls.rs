//! Ninety pull tests: which placements, what was asked of them, how they ended.

use crate::dice::Dice;
use crate::hardware::{self, Hardware, Kind};
use crate::strength::{self, Mode};
use crate::world::{Placement, Shelter, World};
use jiff::civil::Date;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum End {
    ProofHeld,
    SteelBroke,
    HangerBroke,
    Cone,
    PulledOut,
    BondFailed,
    Stopped,
}

#[derive(Clone, Debug)]
pub(crate) struct Pull {
    /// Place in the world's list of placements.
    pub(crate) placement: usize,
    /// One from 1 to 90, by date.
    pub(crate) number: usize,
    pub(crate) on: Date,
    pub(crate) by: &'static str,
    pub(crate) axial: bool,
    pub(crate) peak: f64,
    pub(crate) end: End,
    /// Movement at the peak, mm.
    pub(crate) moved: f64,
    /// What it would have held, kN.
    pub(crate) truth: f64,
    /// True if it was a test of the old hardware before it was renewed.
    pub(crate) to_failure: bool,
}

const PROOFS: usize = 58;
const FAILURES: usize = 32;
/// The group's puller cannot go beyond this, kN.
const RIG: f64 = 30.0;

/// Pulls, and renews what was pulled to failure.
pub(crate) fn run(world: &mut World) -> Vec<Pull> {
    let mut dice = Dice::stream(2);
    let mut free: Vec<usize> = (0..world.placements.len()).collect();
    dice.shuffle(&mut free);
    let mut pulls = Vec::new();
    let mut taken = Vec::new();
    for &index in &free {
        let wanted = to_failure_wanted(&world.placements[index]) && taken.len() < FAILURES;
        if wanted && dice.chance(0.35) {
            taken.push(index);
            pulls.push(pull(world, index, true, &mut dice));
        }
    }
    for &index in &free {
        if pulls.len() == PROOFS + FAILURES {
            break;
        }
        let hardware = &world.placements[index].hardware;
        let worth = match hardware.kind {
            Kind::Piton | Kind::Hammered | Kind::Compression => false,
            // Once the lot was suspected, its bolts were tested first.
            Kind::Glue if hardware.batch == Some(hardware::BAD_BATCH) => true,
            _ => dice.chance(0.15),
        };
        if worth && !taken.contains(&index) && hardware.placed < Date::constant(2022, 1, 1) {
            taken.push(index);
            pulls.push(pull(world, index, false, &mut dice));
        }
    }
    for pull in &pulls {
        if pull.end != End::ProofHeld && pull.end != End::Stopped {
            renew(world, pull, &mut dice);
        }
    }
    pulls.sort_by_key(|pull| (pull.on, pull.placement));
    for (index, pull) in pulls.iter_mut().enumerate() {
        pull.number = index + 1;
    }
    pulls
}

fn to_failure_wanted(placement: &Placement) -> bool {
    placement.hardware.placed.year() < 2009
}

fn pull(world: &World, index: usize, to_failure: bool, dice: &mut Dice) -> Pull {
    let placement = &world.placements[index];
    let on = Date::constant(dice.whole(2022, 2025) as i16, dice.whole(4, 9) as i8, dice.whole(1, 28) as i8);
    let axial = dice.chance(0.85);
    let strength = strength::of(&placement.hardware, &placement.spot, world.here(placement), on);
    let (truth, mode) =
        if axial { (strength.axial, strength.axial_mode) } else { (strength.radial, strength.radial_mode) };
    let asked = if to_failure { RIG } else { dice.pick(&[6.0, 8.0, 8.0, 10.0]) };
    let (peak, end) = if truth > asked {
        (asked * dice.between(1.0, 1.03), if to_failure { End::Stopped } else { End::ProofHeld })
    } else {
        (truth, end_of(mode))
    };
    let stretch = match end {
        End::ProofHeld => 0.15,
        End::SteelBroke | End::HangerBroke => 6.0,
        End::Cone => 1.6,
        End::PulledOut => 9.0,
        End::BondFailed => 1.1,
        End::Stopped => 2.0,
    };
    Pull {
        placement: index,
        number: 0,
        on,
        by: dice.pick(&["Runa D.", "Teo M."]),
        axial,
        peak,
        end,
        moved: dice.around(stretch, 0.4),
        truth,
        to_failure,
    }
}

fn end_of(mode: Mode) -> End {
    match mode {
        Mode::Steel => End::SteelBroke,
        Mode::Hanger => End::HangerBroke,
        Mode::Cone => End::Cone,
        Mode::Grip | Mode::Crushing => End::PulledOut,
        Mode::Bond => End::BondFailed,
    }
}

fn renew(world: &mut World, pull: &Pull, dice: &mut Dice) {
    let here = world.here(&world.placements[pull.placement]);
    let placement = &mut world.placements[pull.placement];
    let sheltered = placement.spot.shelter != Shelter::Washed;
    let mut new: Hardware = hardware::set(here, pull.on.year(), sheltered, Some("Runa D."), dice);
    new.placed = pull.on;
    new.day_known = true;
    let old = std::mem::replace(&mut placement.hardware, new);
    placement.former = Some((old, pull.on));
}
