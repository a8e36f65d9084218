//! What goes wrong in sheets: about two rows in a hundred, every kind of it at least once.

use super::cell::Cell;
use super::placements::{Column, Manner};
use crate::dice::Dice;

#[derive(Clone, Copy)]
enum Fault {
    DeeperThanLong,
    NegativeDepth,
    Future,
    NotANumber,
    NoRoute,
    NoNumber,
    Twice,
    TwiceWithSpaces,
    Contradicted,
    HugeDiameter,
    TooHigh,
    WordForNumber,
    NoSuchDay,
    UnknownKind,
    Total,
    Remark,
}

const FAULTS: [Fault; 16] = [
    Fault::DeeperThanLong,
    Fault::NegativeDepth,
    Fault::Future,
    Fault::NotANumber,
    Fault::NoRoute,
    Fault::NoNumber,
    Fault::Twice,
    Fault::TwiceWithSpaces,
    Fault::Contradicted,
    Fault::HugeDiameter,
    Fault::TooHigh,
    Fault::WordForNumber,
    Fault::NoSuchDay,
    Fault::UnknownKind,
    Fault::Total,
    Fault::Remark,
];

/// Spoils rows in place and adds rows that should not be there, from the given place in the list of faults on.
pub(crate) fn spoil(rows: &mut Vec<Vec<Cell>>, manner: &Manner, first: usize, dice: &mut Dice) {
    let wanted = (rows.len() / 50).max(8);
    for turn in 0..wanted {
        let row = dice.whole(2, rows.len() as i64 - 2) as usize;
        apply(FAULTS[(first + turn) % FAULTS.len()], rows, row, manner, dice);
    }
}

fn apply(fault: Fault, rows: &mut Vec<Vec<Cell>>, row: usize, manner: &Manner, dice: &mut Dice) {
    let mut set = |column: Column, cell: Cell| {
        if let Some(place) = place(manner, column) {
            rows[row][place] = cell;
        }
    };
    match fault {
        Fault::DeeperThanLong => {
            set(Column::Size, Cell::text("M10x70"));
            set(Column::Diameter, Cell::whole(10));
            set(Column::Length, Cell::whole(70));
            set(Column::Depth, Cell::whole(700));
        }
        Fault::NegativeDepth => set(Column::Depth, Cell::whole(-60)),
        Fault::Future => set(Column::Placed, Cell::text("14 May 2052")),
        Fault::NotANumber => set(Column::Depth, Cell::text("NaN")),
        Fault::NoRoute => set(Column::Route, Cell::Blank),
        Fault::NoNumber => set(Column::Number, Cell::text("?")),
        Fault::HugeDiameter => {
            set(Column::Size, Cell::text("M120"));
            set(Column::Diameter, Cell::whole(1200));
        }
        Fault::TooHigh => set(Column::Height, Cell::whole(3_500)),
        Fault::WordForNumber => {
            set(Column::Torque, Cell::text("tight"));
            set(Column::Height, Cell::text("high"));
        }
        Fault::NoSuchDay => set(Column::Placed, Cell::text("31/02/2014")),
        Fault::UnknownKind => set(Column::Kind, Cell::text("the shiny sort")),
        Fault::Twice => {
            let copy = rows[row].clone();
            rows.insert(row + 1, copy);
        }
        Fault::TwiceWithSpaces => {
            let mut copy = rows[row].clone();
            for cell in &mut copy {
                if let Cell::Text(text) = cell {
                    *text = format!(" {text} ");
                }
            }
            rows.insert(row + 1, copy);
        }
        Fault::Contradicted => {
            let mut copy = rows[row].clone();
            if let Some(kind) = place(manner, Column::Kind) {
                let other = if matches!(&copy[kind], Cell::Text(word) if word.contains("glue")) {
                    "wedge bolt"
                } else {
                    "glue-in"
                };
                copy[kind] = Cell::text(other);
            }
            let at = dice.whole(row as i64 + 1, rows.len() as i64) as usize;
            rows.insert(at, copy);
        }
        Fault::Total => {
            let mut total = vec![Cell::Blank; manner.columns.len()];
            total[1] = Cell::text("TOTAL");
            total[2] = Cell::whole(rows.len() as u32);
            rows.push(total);
        }
        Fault::Remark => {
            let mut remark = vec![Cell::Blank; manner.columns.len()];
            remark[0] = Cell::text("rows below copied from the old notebook, check!");
            rows.insert(row, remark);
        }
    }
}

fn place(manner: &Manner, column: Column) -> Option<usize> {
    manner.columns.iter().position(|&(other, _)| other == column)
}
