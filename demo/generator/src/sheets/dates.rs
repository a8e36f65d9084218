//! Dates as people write them.

use super::cell::Cell;
use crate::dice::Dice;
use crate::hardware::Hardware;
use jiff::civil::Date;

/// The day it was set as far as anybody wrote it down: a date, a year, a guess at a year, nothing.
pub(crate) fn placed(hardware: &Hardware, day: impl Fn(Date, &mut Dice) -> Cell, dice: &mut Dice) -> Cell {
    let year = hardware.placed.year();
    let forgotten = if year < 1990 { 0.35 } else { 0.06 };
    if dice.chance(forgotten) {
        Cell::Blank
    } else if hardware.day_known {
        day(hardware.placed, dice)
    } else if year < 1990 && dice.chance(0.08) {
        Cell::text(format!("ca. {}", (year + 2) / 5 * 5))
    } else {
        Cell::whole(year)
    }
}

/// Mostly a true date cell; at times text with the month in letters, or in figures.
pub(crate) fn in_workbook(date: Date, dice: &mut Dice) -> Cell {
    match dice.unit() {
        ..0.86 => Cell::Date(date),
        0.86..0.94 => Cell::text(date.strftime("%-d %b %Y").to_string()),
        _ => Cell::text(date.strftime("%d/%m/%Y").to_string()),
    }
}

/// Day first with dots; at times with slashes, which leaves the order open.
pub(crate) fn day_first(date: Date, dice: &mut Dice) -> Cell {
    match dice.unit() {
        ..0.9 => Cell::text(date.strftime("%d.%m.%Y").to_string()),
        0.9..0.95 => Cell::text(date.strftime("%-d/%-m/%Y").to_string()),
        _ => Cell::text(date.strftime("%B %Y").to_string()),
    }
}

/// Month first; at times with two figures for the year, or in the order of the standard.
pub(crate) fn month_first(date: Date, dice: &mut Dice) -> Cell {
    match dice.unit() {
        ..0.8 => Cell::text(date.strftime("%m/%d/%Y").to_string()),
        0.8..0.88 => Cell::text(date.strftime("%-m/%-d/%y").to_string()),
        _ => Cell::text(date.strftime("%Y-%m-%d").to_string()),
    }
}
