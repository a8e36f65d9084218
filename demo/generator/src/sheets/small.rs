//! The short sheets: crags, routes, batches, stock, and the means of the campaign.

use super::cell::{self, Cell, PLAIN, Table};
use super::words;
use crate::File;
use crate::dice::Dice;
use crate::hardware::BAD_BATCH;
use crate::region::CRAGS;
use crate::world::World;
use anyhow::Result;

fn file(path: &str, header: Vec<&'static str>, rows: Vec<Vec<Cell>>) -> Result<File> {
    let table = Table { name: "", header, rows };
    Ok(File::new(path, cell::csv(&table, &PLAIN)?))
}

fn cells(texts: &[&str]) -> Vec<Cell> {
    texts.iter().map(|text| Cell::text(*text)).collect()
}

/// What the group knows of its crags: less than the truth.
pub(crate) fn crags() -> Result<File> {
    let header = vec![
        "Crag",
        "Latitude",
        "Longitude",
        "Rock",
        "Field grade",
        "Tested UCS (MPa)",
        "Unit weight (kN/m3)",
        "Wetness",
        "Setting",
        "Mean temperature (C)",
        "Relative humidity (%)",
        "Chloride (mg/m2 d)",
        "Access time (h)",
        "Visit cost",
        "Notes",
    ];
    let known: [&[&str]; 3] = [
        &[
            "granite",
            "R5",
            "152",
            "26.2",
            "dry",
            "inland",
            "4",
            "74",
            "3",
            "1.5",
            "18",
            "cores tested when the quarry closed",
        ],
        &[
            "limestone",
            "R4",
            "",
            "25.8",
            "damp",
            "sea cliff",
            "19",
            "76",
            "",
            "2.5",
            "30",
            "sheltered caves, salt never washed off",
        ],
        &[
            "sandstone",
            "R2",
            "",
            "22.5",
            "wet",
            "inland",
            "11",
            "84",
            "",
            "1",
            "12",
            "river floods the foot most winters",
        ],
    ];
    let rows = CRAGS.iter().zip(known).map(|(crag, known)| {
        let mut row =
            vec![Cell::text(crag.name), Cell::Number(crag.latitude, 5), Cell::Number(crag.longitude, 5)];
        row.extend(cells(known));
        row
    });
    file("input/crags.csv", header, rows.collect())
}

pub(crate) fn routes(world: &World) -> Result<File> {
    let mut dice = Dice::stream(26);
    let header = vec!["Crag", "Sector", "Route", "Grade", "Length (m)", "Steepness", "Use"];
    let rows = world.routes.iter().map(|route| {
        let mut forget = |cell: Cell| if dice.chance(0.05) { Cell::Blank } else { cell };
        vec![
            Cell::text(route.here.crag().name),
            Cell::text(route.sector),
            Cell::text(route.name.clone()),
            forget(Cell::text(route.grade.clone())),
            forget(Cell::Number(route.length, 0)),
            forget(Cell::text(words::steep(route.steep, &mut Dice::stream(27)))),
            forget(Cell::text(words::traffic(route.traffic))),
        ]
    });
    file("input/routes.csv", header, rows.collect())
}

pub(crate) fn batches() -> Result<File> {
    let header = vec!["Batch", "What", "Bought", "Expires", "Recalled"];
    let rows = vec![
        cells(&["ST-0603", "wedge bolt 10x80 A2", "2003-02-11", "", ""]),
        cells(&["VB-1302", "vinylester cartridge 300 ml", "2012-03-20", "2015-12-31", ""]),
        cells(&["ST-1411", "wedge bolt 12x100 A4", "2012-03-20", "", ""]),
        cells(&[
            BAD_BATCH,
            "vinylester cartridge 300 ml",
            "2016-01-14",
            "2017-12-31",
            "hardener outlet partly blocked: resin may stay soft",
        ]),
        cells(&["EP-1903", "epoxy cartridge 400 ml", "2018-03-02", "2021-12-31", ""]),
        cells(&["EP-2210", "epoxy cartridge 400 ml", "2022-02-10", "2026-02-10", ""]),
    ];
    file("input/batches.csv", header, rows)
}

pub(crate) fn stock() -> Result<File> {
    let header = vec!["Item", "In hand", "Price"];
    let rows = vec![
        cells(&["wedge bolt M12x100 stainless 316 with hanger", "60", "7.20"]),
        cells(&["glue-in 12x100 stainless 316", "45", "8.90"]),
        cells(&["glue-in 12x150 stainless 316", "20", "10.40"]),
        cells(&["glue-in 12x100 titanium", "12", "21.50"]),
        cells(&["lower-off set stainless 316", "8", "24.00"]),
        cells(&["epoxy cartridge 400 ml", "4", "32.00"]),
        cells(&["mixing nozzle", "10", "1.60"]),
        cells(&["drill bit 12 mm", "3", "14.00"]),
        cells(&["drill bit 14 mm", "2", "16.50"]),
    ];
    file("input/stock.csv", header, rows)
}

pub(crate) fn campaign() -> File {
    let text = "\
# What the group can spend on the next season. Money is in the group's own currency.
money = 6000.0
volunteers = 11
days_per_volunteer = 4
hours_per_day = 6.0
start = 2026-03-01
end = 2026-10-31
";
    File::new("input/campaign.toml", text)
}
