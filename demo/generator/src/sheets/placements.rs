//! The three crags' lists of placements, each in the manner of the person who keeps it.

use super::cell::{self, Cell, Style, Table};
use super::{dates, mess, words};
use crate::File;
use crate::dice::Dice;
use crate::hardware::{Hardware, Kind};
use crate::region::Where;
use crate::world::{Placement, World};
use anyhow::Result;
use jiff::civil::Date;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Column {
    Crag,
    Sector,
    Route,
    Number,
    Pitch,
    Height,
    Role,
    Wall,
    Shelter,
    Rock,
    Grade,
    Kind,
    Size,
    Diameter,
    Length,
    Depth,
    Metal,
    Hanger,
    Resin,
    Batch,
    Setter,
    Placed,
    Removed,
    Torque,
    Edge,
    Spacing,
    Note,
}

/// A person's way of keeping a list.
pub(crate) struct Manner {
    here: Where,
    pub(crate) columns: &'static [(Column, &'static str)],
    inches: bool,
    date: fn(Date, &mut Dice) -> Cell,
    stream: u64,
}

const HARL: Manner = Manner {
    here: Where::Harl,
    columns: &[
        (Column::Crag, "Crag"),
        (Column::Route, "Route"),
        (Column::Number, "Bolt no"),
        (Column::Role, "Role"),
        (Column::Height, "Height (m)"),
        (Column::Wall, "Angle"),
        (Column::Shelter, "Shelter"),
        (Column::Kind, "Type"),
        (Column::Size, "Size"),
        (Column::Depth, "Depth (mm)"),
        (Column::Metal, "Bolt material"),
        (Column::Hanger, "Hanger material"),
        (Column::Resin, "Resin"),
        (Column::Batch, "Batch"),
        (Column::Setter, "Set by"),
        (Column::Placed, "Placed"),
        (Column::Removed, "Removed"),
        (Column::Torque, "Torque (Nm)"),
        (Column::Edge, "Edge distance (mm)"),
        (Column::Grade, "Rock grade"),
        (Column::Note, "Remarks"),
    ],
    inches: false,
    date: dates::in_workbook,
    stream: 21,
};

const TERN: Manner = Manner {
    here: Where::Tern,
    columns: &[
        (Column::Crag, "Cliff"),
        (Column::Sector, "Sector"),
        (Column::Route, "Climb"),
        (Column::Number, "No."),
        (Column::Pitch, "Pitch"),
        (Column::Height, "Height [m]"),
        (Column::Role, "Purpose"),
        (Column::Wall, "Steepness"),
        (Column::Shelter, "Rain"),
        (Column::Rock, "Rock"),
        (Column::Kind, "Fixing"),
        (Column::Diameter, "Dia [mm]"),
        (Column::Length, "Length [mm]"),
        (Column::Depth, "Embedment [mm]"),
        (Column::Metal, "Steel"),
        (Column::Hanger, "Hanger"),
        (Column::Resin, "Glue"),
        (Column::Batch, "Lot"),
        (Column::Setter, "Setter"),
        (Column::Placed, "Date set"),
        (Column::Removed, "Date removed"),
        (Column::Edge, "Edge [mm]"),
        (Column::Spacing, "Spacing [mm]"),
        (Column::Note, "Notes"),
    ],
    inches: false,
    date: dates::day_first,
    stream: 22,
};

const OTTER: Manner = Manner {
    here: Where::Otter,
    columns: &[
        (Column::Crag, "Area"),
        (Column::Route, "Route name"),
        (Column::Number, "Bolt #"),
        (Column::Height, "Height (ft)"),
        (Column::Role, "Used as"),
        (Column::Wall, "Wall angle"),
        (Column::Shelter, "Exposure"),
        (Column::Rock, "Rock type"),
        (Column::Grade, "Hardness"),
        (Column::Kind, "Hardware"),
        (Column::Size, "Size (in)"),
        (Column::Depth, "Embedment (in)"),
        (Column::Metal, "Metal"),
        (Column::Hanger, "Hanger metal"),
        (Column::Resin, "Adhesive"),
        (Column::Batch, "Batch"),
        (Column::Setter, "Placed by"),
        (Column::Placed, "Installed"),
        (Column::Removed, "Taken out"),
        (Column::Torque, "Torque (ft-lb)"),
        (Column::Edge, "Edge (in)"),
        (Column::Note, "Comments"),
    ],
    inches: true,
    date: dates::month_first,
    stream: 23,
};

/// Harl Quarry: a workbook with one sheet for the upper tier and one for all else.
pub(crate) fn harl(world: &World) -> Result<File> {
    let mut dice = Dice::stream(HARL.stream);
    let lower = table(world, &HARL, "Lower tier + Crane Bay", |sector| sector != "Upper Tier", 0, &mut dice);
    let upper = table(world, &HARL, "Upper tier", |sector| sector == "Upper Tier", 8, &mut dice);
    Ok(File::new("input/harl-quarry.xlsx", cell::xlsx(&[lower, upper])?))
}

/// Tern Head: semicolons, decimal commas, Windows-1252.
pub(crate) fn tern(world: &World) -> Result<File> {
    let mut dice = Dice::stream(TERN.stream);
    let table = table(world, &TERN, "", |_| true, 0, &mut dice);
    let style = Style { delimiter: b';', decimal_comma: true, date: "%d.%m.%Y" };
    let text = String::from_utf8(cell::csv(&table, &style)?)?;
    let (bytes, ..) = encoding_rs::WINDOWS_1252.encode(&text);
    Ok(File::new("input/tern-head.csv", bytes.into_owned()))
}

/// Otter Gorge: feet and inches.
pub(crate) fn otter(world: &World) -> Result<File> {
    let mut dice = Dice::stream(OTTER.stream);
    let table = table(world, &OTTER, "", |_| true, 8, &mut dice);
    let style = Style { delimiter: b',', decimal_comma: false, date: "%m/%d/%Y" };
    Ok(File::new("input/otter-gorge.csv", cell::csv(&table, &style)?))
}

fn table(
    world: &World,
    manner: &Manner,
    name: &'static str,
    sector: impl Fn(&str) -> bool,
    first_fault: usize,
    dice: &mut Dice,
) -> Table {
    let mut rows = Vec::new();
    for placement in &world.placements {
        let route = world.route_of(placement);
        if route.here != manner.here || !sector(route.sector) {
            continue;
        }
        if let Some((old, removed)) = &placement.former {
            rows.push(row(world, manner, placement, old, Some(*removed), dice));
        }
        rows.push(row(world, manner, placement, &placement.hardware, None, dice));
    }
    mess::spoil(&mut rows, manner, first_fault, dice);
    Table { name, header: manner.columns.iter().map(|&(_, name)| name).collect(), rows }
}

fn row(
    world: &World,
    manner: &Manner,
    placement: &Placement,
    hardware: &Hardware,
    removed: Option<Date>,
    dice: &mut Dice,
) -> Vec<Cell> {
    let known = Known::of(hardware, dice);
    manner
        .columns
        .iter()
        .map(|&(column, _)| content(column, world, manner, placement, hardware, removed, &known, dice))
        .collect()
}

/// What the keeper of the list knew of this hardware. The older, the less.
struct Known {
    kind: bool,
    diameter: bool,
    length: bool,
    depth: bool,
    metal: bool,
    hanger: bool,
    resin: bool,
    batch: bool,
    setter: bool,
}

impl Known {
    fn of(hardware: &Hardware, dice: &mut Dice) -> Self {
        let mut known = |old: f64, middle: f64, new: f64| {
            dice.chance(match hardware.placed.year() {
                ..=1987 => old,
                1988..=2007 => middle,
                _ => new,
            })
        };
        Self {
            kind: known(0.92, 0.97, 0.995),
            diameter: known(0.6, 0.88, 0.97),
            length: known(0.08, 0.35, 0.8),
            depth: known(0.05, 0.2, 0.55),
            metal: known(0.6, 0.8, 0.95),
            hanger: known(0.6, 0.75, 0.9),
            resin: known(0.3, 0.55, 0.93),
            batch: known(0.0, 0.6, 0.9),
            setter: known(0.7, 0.85, 0.95),
        }
    }
}

#[allow(clippy::too_many_arguments)]
fn content(
    column: Column,
    world: &World,
    manner: &Manner,
    placement: &Placement,
    hardware: &Hardware,
    removed: Option<Date>,
    known: &Known,
    dice: &mut Dice,
) -> Cell {
    let route = world.route_of(placement);
    let crag = route.here.crag();
    let spot = &placement.spot;
    let only = |know: bool, text: String| if know { Cell::text(text) } else { Cell::Blank };
    let length = |millimetres: f64| {
        if manner.inches {
            Cell::text(words::inches(millimetres))
        } else {
            Cell::Number(millimetres.round(), 0)
        }
    };
    match column {
        Column::Crag => Cell::text(crag.name),
        Column::Sector => Cell::text(route.sector),
        Column::Route => Cell::text(route.name.clone()),
        Column::Number => Cell::whole(placement.number),
        Column::Pitch => Cell::whole(placement.pitch),
        Column::Height if dice.chance(0.12) => Cell::Blank,
        Column::Height if manner.inches => Cell::Number((placement.height / 0.3048).round(), 0),
        Column::Height => Cell::Number(placement.height, 1),
        Column::Role => Cell::text(words::role(placement.role, dice)),
        Column::Wall if dice.chance(0.1) => Cell::Blank,
        Column::Wall => Cell::text(words::steep(spot.steep, dice)),
        Column::Shelter if dice.chance(0.25) => Cell::Blank,
        Column::Shelter => Cell::text(words::shelter(spot.shelter, dice)),
        Column::Rock => Cell::text(words::rock(crag.rock, dice)),
        Column::Grade if dice.chance(0.7) => Cell::Blank,
        Column::Grade => Cell::text(words::field_grade(spot.ucs, dice)),
        Column::Kind => only(known.kind, words::kind(hardware.kind, dice)),
        Column::Size => {
            let with = (known.length && hardware.kind != Kind::Piton).then_some(hardware.length);
            only(
                known.diameter,
                words::size(hardware.kind, hardware.inch, manner.inches, hardware.diameter, with, dice),
            )
        }
        // In a column meant for millimetres some people write the name of the size.
        Column::Diameter if !known.diameter => Cell::Blank,
        Column::Diameter if hardware.inch || dice.chance(0.05) => Cell::text(words::size(
            hardware.kind,
            hardware.inch,
            manner.inches,
            hardware.diameter,
            None,
            dice,
        )),
        Column::Diameter => Cell::Number(hardware.diameter, 0),
        Column::Length if known.length => length(hardware.length),
        Column::Depth if known.depth => length(hardware.nominal_embedment),
        Column::Metal => only(known.metal, words::metal(hardware.metal, dice)),
        Column::Hanger => match hardware.hanger {
            Some(hanger) => only(known.hanger, words::metal(hanger, dice)),
            None => Cell::Blank,
        },
        Column::Resin => match hardware.resin {
            Some(resin) => only(known.resin, words::resin(resin, dice)),
            None => Cell::Blank,
        },
        Column::Batch => only(known.batch, hardware.batch.unwrap_or_default().to_owned()),
        Column::Setter => only(known.setter, hardware.setter.unwrap_or_default().to_owned()),
        Column::Placed => dates::placed(hardware, manner.date, dice),
        Column::Removed => removed.map_or(Cell::Blank, Cell::Date),
        Column::Torque if manner.inches => {
            Cell::number(hardware.torque.map(|torque| (torque / 1.355_82).round()), 0)
        }
        Column::Torque => Cell::number(hardware.torque, 0),
        Column::Edge => match spot.edge {
            Some(edge) if dice.chance(0.6) => length(edge),
            _ => Cell::Blank,
        },
        Column::Spacing => spot.spacing.filter(|_| dice.chance(0.6)).map_or(Cell::Blank, length),
        Column::Note if removed.is_some() => Cell::text("pulled for test and renewed"),
        Column::Note => Cell::text(note(placement, dice)),
        Column::Length | Column::Depth => Cell::Blank,
    }
}

fn note(placement: &Placement, dice: &mut Dice) -> &'static str {
    if placement.spot.cracked_rock && dice.chance(0.4) {
        return "crack in rock close by";
    }
    if placement.hardware.defect == crate::hardware::Defect::OverDrilled && dice.chance(0.2) {
        return "hole felt loose";
    }
    if dice.chance(0.02) {
        return dice.pick(&[
            "hard to clip",
            "glove left here",
            "check again next year",
            "bees in summer",
            "rope drag, long sling",
        ]);
    }
    ""
}
