//! The sheet of pulls.

use super::cell::{self, Cell, PLAIN, Table};
use crate::File;
use crate::dice::Dice;
use crate::pulls::{End, Pull};
use crate::world::World;
use anyhow::Result;

pub(crate) fn sheet(world: &World, pulls: &[Pull]) -> Result<File> {
    let mut dice = Dice::stream(25);
    let header = vec![
        "Test",
        "Date",
        "Crag",
        "Route",
        "Pitch",
        "Bolt no",
        "Tester",
        "Direction",
        "Peak load",
        "Outcome",
        "Movement (mm)",
        "Trace file",
        "Remarks",
    ];
    let rows = pulls.iter().map(|pull| row(world, pull, &mut dice)).collect();
    let table = Table { name: "", header, rows };
    Ok(File::new("input/pulls.csv", cell::csv(&table, &PLAIN)?))
}

fn row(world: &World, pull: &Pull, dice: &mut Dice) -> Vec<Cell> {
    let placement = &world.placements[pull.placement];
    let route = world.route_of(placement);
    let read = pull.peak * dice.around(1.0, 0.01);
    let peak = match dice.unit() {
        ..0.85 => format!("{read:.1} kN"),
        0.85..0.93 => format!("{:.0} lbf", read * 224.809),
        _ => format!("{:.0} kgf", read * 101.972),
    };
    let result = match pull.end {
        End::ProofHeld => dice.pick(&["proof held", "held", "proof held"]),
        End::SteelBroke => dice.pick(&["steel broke", "bolt broke"]),
        End::HangerBroke => "hanger broke",
        End::Cone => dice.pick(&["cone", "rock cone"]),
        End::PulledOut => dice.pick(&["pulled out", "pull-out"]),
        End::BondFailed => dice.pick(&["bond failed", "glue failed"]),
        End::Stopped => "stopped",
    };
    let remark = match pull.end {
        End::ProofHeld => "held 45 s",
        End::Stopped => "rig at its limit",
        _ if pull.to_failure => "old bolt, renewed after the test",
        _ => "failed below the proof load, renewed",
    };
    vec![
        Cell::whole(pull.number as u32),
        Cell::Date(pull.on),
        Cell::text(route.here.crag().name),
        Cell::text(route.name.clone()),
        Cell::whole(placement.pitch),
        Cell::whole(placement.number),
        Cell::text(pull.by),
        Cell::text(if pull.axial {
            dice.pick(&["axial", "straight out"])
        } else {
            dice.pick(&["radial", "along the face"])
        }),
        Cell::text(peak),
        Cell::text(result),
        if dice.chance(0.8) { Cell::Number(pull.moved, 1) } else { Cell::Blank },
        Cell::text(crate::trace::name(pull)),
        Cell::text(remark),
    ]
}
