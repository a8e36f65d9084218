//! Sightings: one workbook, a sheet per year. The form grew from year to year.

use super::cell::{self, Cell, Table};
use crate::File;
use crate::dice::Dice;
use crate::signs::{SIGNS, Sighting, Sign, Written};
use crate::world::World;
use anyhow::Result;

#[derive(Clone, Copy)]
enum Column {
    Date,
    By,
    Crag,
    Route,
    Pitch,
    Number,
    Sign(Sign),
    ProudMm,
    LossMm,
    Rebound,
    Note,
}

const HEAD: [(Column, &str); 6] = [
    (Column::Date, "Date"),
    (Column::By, "Observer"),
    (Column::Crag, "Crag"),
    (Column::Route, "Route"),
    (Column::Pitch, "Pitch"),
    (Column::Number, "Bolt no"),
];

const FIRST: [(Column, &str); 10] = [
    (Column::Sign(Sign::MovesInHole), "Moves in hole"),
    (Column::Sign(Sign::HangerTurns), "Hanger turns"),
    (Column::Sign(Sign::NutLoose), "Nut loose"),
    (Column::Sign(Sign::Bent), "Bent"),
    (Column::Sign(Sign::MetalCrack), "Metal crack"),
    (Column::Sign(Sign::Rust), "Rust"),
    (Column::Sign(Sign::RustFromHole), "Rust from hole"),
    (Column::Sign(Sign::ResinSoft), "Resin soft"),
    (Column::Sign(Sign::GlueInTurns), "Glue-in turns"),
    (Column::Sign(Sign::RockCrack), "Crack in rock"),
];

const SECOND: [(Column, &str); 5] = [
    (Column::Sign(Sign::StudTurns), "Stud turns"),
    (Column::Sign(Sign::ThreadExcess), "Thread showing"),
    (Column::Sign(Sign::Proud), "Proud"),
    (Column::ProudMm, "Proud by (mm)"),
    (Column::Sign(Sign::Worn), "Worn"),
];

const THIRD: [(Column, &str); 8] = [
    (Column::Sign(Sign::ImpactDamage), "Impact damage"),
    (Column::Sign(Sign::ResinGap), "Resin gap"),
    (Column::Sign(Sign::RockHollow), "Rock hollow"),
    (Column::Sign(Sign::RockCrushed), "Rock crushed"),
    (Column::Sign(Sign::Seepage), "Seepage"),
    (Column::Sign(Sign::MixedMetals), "Mixed metals"),
    (Column::LossMm, "Rust loss (mm)"),
    (Column::Rebound, "Rebound"),
];

pub(crate) fn sheet(world: &World, sightings: &[Sighting]) -> Result<File> {
    let mut dice = Dice::stream(24);
    let tables: Vec<Table> = [(2022, "2022"), (2023, "2023"), (2024, "2024"), (2025, "2025")]
        .into_iter()
        .map(|(year, name)| table(world, sightings, year, name, &mut dice))
        .collect();
    Ok(File::new("input/sightings.xlsx", cell::xlsx(&tables)?))
}

fn table(world: &World, sightings: &[Sighting], year: i16, name: &'static str, dice: &mut Dice) -> Table {
    let mut columns = HEAD.to_vec();
    columns.extend(FIRST);
    if year >= 2023 {
        columns.extend(SECOND);
    }
    if year >= 2024 {
        columns.extend(THIRD);
    }
    columns.push((Column::Note, "Notes"));
    let mut rows: Vec<Vec<Cell>> = sightings
        .iter()
        .filter(|sighting| sighting.on.year() == year)
        .map(|sighting| columns.iter().map(|&(column, _)| content(column, world, sighting, dice)).collect())
        .collect();
    spoil(&mut rows, dice);
    Table { name, header: columns.iter().map(|&(_, name)| name).collect(), rows }
}

fn content(column: Column, world: &World, sighting: &Sighting, dice: &mut Dice) -> Cell {
    let placement = &world.placements[sighting.placement];
    let route = world.route_of(placement);
    match column {
        Column::Date => super::dates::in_workbook(sighting.on, dice),
        Column::By => Cell::text(sighting.by.name),
        Column::Crag => Cell::text(route.here.crag().name),
        Column::Route => Cell::text(route.name.clone()),
        Column::Pitch => Cell::whole(placement.pitch),
        Column::Number => Cell::whole(placement.number),
        Column::Sign(sign) => {
            let place = SIGNS.iter().position(|&other| other == sign).unwrap_or_default();
            written(sighting.signs[place], sighting.by.no, dice)
        }
        Column::ProudMm => Cell::number(sighting.proud_mm, 0),
        Column::LossMm => Cell::number(sighting.loss_mm, 1),
        Column::Rebound => Cell::number(sighting.rebound, 0),
        Column::Note if dice.chance(0.015) => Cell::text(dice.pick(&[
            "photo taken",
            "hammered lightly, dull",
            "could not reach well",
            "someone hung a sling here",
        ])),
        Column::Note => Cell::Blank,
    }
}

fn written(finding: Written, no: &str, dice: &mut Dice) -> Cell {
    let slip = dice.chance(0.015);
    match finding {
        Written::NotLooked => Cell::Blank,
        Written::DoesNotApply => Cell::text("n/a"),
        Written::Absent => Cell::text(no),
        // A careless hand writes that it is there but not how far it goes, or misspells.
        Written::Present(_) if slip && dice.chance(0.4) => Cell::text("yes"),
        Written::Present(1) => Cell::text(if slip { "sligth" } else { "slight" }),
        Written::Present(2) => Cell::text(if slip { "markd" } else { "marked" }),
        Written::Present(_) => Cell::text(if slip { "sever" } else { "severe" }),
    }
}

/// Five faults a year: a lost date, a day to come, a route nobody knows, a placement that is not there, a row
/// copied twice.
fn spoil(rows: &mut Vec<Vec<Cell>>, dice: &mut Dice) {
    let mut some = |rows: &Vec<Vec<Cell>>| dice.whole(0, rows.len() as i64 - 1) as usize;
    let at = some(rows);
    rows[at][0] = Cell::Blank;
    let at = some(rows);
    rows[at][0] = Cell::text("3 June 2204");
    let at = some(rows);
    rows[at][3] = Cell::text("the one left of the big tree");
    let at = some(rows);
    rows[at][5] = Cell::whole(99);
    let at = some(rows);
    let copy = rows[at].clone();
    rows.insert(at, copy);
}
