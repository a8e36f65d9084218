//! Which column of a sheet is which column of the register: guessed from headings and cells, shown,
//! saved, loaded again.

use crate::column::{Column, SheetKind};
use crate::dates::{DateOrder, Written, scan};
use crate::row::Row;
use crate::vocabulary::{Reading, all, is_unknown, tidy};
use crate::{Options, ReadError};
use serde::{Deserialize, Serialize};
use std::collections::HashMap;
use std::sync::OnceLock;
use units::{ForceUnit, LengthUnit, StressUnit, TemperatureUnit, TorqueUnit};

/// Rows looked at to guess.
pub(crate) const SAMPLE: usize = 200;
/// Rows among which the headings are sought.
const HEADER_ROWS: usize = 12;
/// Least score of a column that is taken (judgement).
const LEAST: f64 = 0.55;

/// Which column of a sheet is which column of the register.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mapping {
    /// What the rows are.
    pub kind: SheetKind,
    /// Row that holds the headings, from 1.
    #[serde(default = "first")]
    pub header_row: u32,
    /// The sheet's columns from left to right.
    #[serde(rename = "column")]
    pub columns: Vec<Mapped>,
}

fn first() -> u32 {
    1
}

/// One column of a sheet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mapped {
    /// Heading as written.
    pub heading: String,
    /// What it holds; none: it is not read, its cells go into the note.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub holds: Option<Column>,
    /// Unit of cells without one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// Order of day, month and year, where a person states it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date_order: Option<DateOrder>,
    /// Why it was taken so.
    #[serde(skip)]
    pub why: String,
}

impl Mapping {
    /// The mapping as a TOML file that [`Mapping::from_toml`] reads.
    ///
    /// # Errors
    /// [`ReadError::Mapping`] if it cannot be written.
    pub fn to_toml(&self) -> Result<String, ReadError> {
        let body = toml::to_string(self).map_err(|e| ReadError::Mapping { reason: e.to_string() })?;
        Ok(format!(
            "# Column mapping. \"holds\" names the column of the register; delete the line to leave a column out.\n\
             # \"unit\" is taken for cells without a unit; \"date_order\" is day_month_year, month_day_year or\n\
             # year_month_day.\n{body}"
        ))
    }

    /// Reads a mapping that was saved.
    ///
    /// # Errors
    /// [`ReadError::Mapping`] with the line that is wrong.
    pub fn from_toml(text: &str) -> Result<Self, ReadError> {
        toml::from_str(text).map_err(|e| ReadError::Mapping { reason: e.to_string().trim().to_owned() })
    }

    /// Headings of the columns that are not read.
    pub fn unmapped(&self) -> impl Iterator<Item = &str> {
        self.columns
            .iter()
            .filter(|c| c.holds.is_none() && !c.heading.is_empty() && !is_repair_heading(&c.heading))
            .map(|c| c.heading.as_str())
    }

    /// Position of a column in the sheet.
    pub fn position(&self, column: Column) -> Option<usize> {
        self.columns.iter().position(|c| c.holds == Some(column))
    }

    /// The mapping a person gave, put on the columns that this sheet has. Columns are found by heading.
    fn fitted(&self, headings: &Row, header_row: u32) -> Self {
        let mut given: Vec<(String, Option<&Mapped>)> =
            self.columns.iter().map(|c| (tidy(&c.heading), Some(c))).collect();
        let columns = headings
            .cells()
            .map(|heading| {
                let key = tidy(heading);
                let found = given
                    .iter_mut()
                    .find(|(name, mapped)| mapped.is_some() && *name == key)
                    .and_then(|(_, mapped)| mapped.take());
                match found {
                    Some(mapped) => Mapped {
                        heading: heading.to_owned(),
                        why: "the mapping says so".to_owned(),
                        ..mapped.clone()
                    },
                    None => Mapped {
                        heading: heading.to_owned(),
                        holds: None,
                        unit: None,
                        date_order: None,
                        why: "the mapping does not name it".to_owned(),
                    },
                }
            })
            .collect();
        Self { kind: self.kind, header_row, columns }
    }
}

/// Headings that the repair list puts before the row's own cells.
pub(crate) const REPAIR_HEADINGS: [&str; 7] = [
    "repair: file",
    "repair: sheet",
    "repair: row",
    "repair: column",
    "repair: value",
    "repair: reason",
    "repair: advice",
];

pub(crate) fn is_repair_heading(heading: &str) -> bool {
    REPAIR_HEADINGS.contains(&heading.trim())
}

/// Whether a column leaves cells empty to say "as above": at least one in five of the rows that have
/// other cells (judgement; a single gap in a full column is a slip).
pub(crate) fn leaves_gaps(sample: &[Row], header_row: u32, at: usize) -> bool {
    let rows = sample
        .iter()
        .filter(|row| row.number > header_row && row.cells().filter(|c| !c.is_empty()).count() >= 2);
    let (mut all, mut empty) = (0, 0);
    for row in rows {
        all += 1;
        empty += usize::from(row.get(at).is_empty());
    }
    empty * 5 >= all && empty > 0
}

struct Headings {
    column: Column,
    sheets: Vec<SheetKind>,
    words: Vec<String>,
    /// The same words without blanks.
    tight: Vec<String>,
}

fn known_headings() -> &'static [Headings] {
    #[derive(Deserialize)]
    struct File {
        column: Vec<Entry>,
    }
    #[derive(Deserialize)]
    struct Entry {
        name: Column,
        sheets: Vec<SheetKind>,
        headings: Vec<String>,
    }
    static KNOWN: OnceLock<Vec<Headings>> = OnceLock::new();
    KNOWN.get_or_init(|| {
        let file: File = toml::from_str(include_str!("../data/columns.toml"))
            .expect("the built-in headings are read by a test");
        file.column
            .into_iter()
            .map(|entry| {
                let mut words: Vec<String> = entry.headings.iter().map(|h| tidy(h)).collect();
                words.push(entry.name.name().replace('_', " "));
                let tight = words.iter().map(|word| tight(word)).collect();
                Headings { column: entry.name, sheets: entry.sheets, words, tight }
            })
            .collect()
    })
}

/// A heading without its unit, and the unit.
fn split_unit(heading: &str) -> (String, Option<String>) {
    let heading = heading.trim();
    for (open, close) in [('(', ')'), ('[', ']'), ('{', '}')] {
        if let (Some(start), Some(end)) = (heading.find(open), heading.rfind(close))
            && start < end
        {
            let inside = heading[start + open.len_utf8()..end].trim().to_owned();
            let rest = format!("{} {}", &heading[..start], &heading[end + close.len_utf8()..]);
            let unit = is_unit(&inside).then_some(inside);
            return (parted(&rest), unit);
        }
    }
    for separator in [",", "/", "_", " "] {
        if let Some((rest, last)) = heading.rsplit_once(separator) {
            let last = last.trim();
            let telling = !matches!(
                last.to_ascii_lowercase().as_str(),
                "in" | "n" | "f" | "c" | "m" | "t" | "k" | "pa" | "bar" | "h" | "hours" | "%"
            );
            if !rest.trim().is_empty() && telling && is_unit(last) {
                return (parted(rest), Some(last.to_owned()));
            }
        }
    }
    (parted(heading), None)
}

/// A heading in small letters with its words apart: `BoltType`, `bolt_type`, `Bolt Ø`, `Bolt #`.
fn parted(heading: &str) -> String {
    let mut spaced = String::with_capacity(heading.len() + 4);
    let mut before = ' ';
    for c in heading.trim().chars() {
        match c {
            'Ø' | 'ø' | '⌀' => spaced.push_str(" diameter "),
            '#' if before == ' ' => spaced.push_str(" no "),
            '_' => spaced.push(' '),
            c if c.is_uppercase() && before.is_lowercase() => {
                spaced.push(' ');
                spaced.push(c);
            }
            c => spaced.push(c),
        }
        before = c;
    }
    tidy(&spaced)
}

fn is_unit(text: &str) -> bool {
    LengthUnit::named(text).is_some()
        || ForceUnit::named(text).is_some()
        || TorqueUnit::named(text).is_some()
        || StressUnit::named(text).is_some()
        || TemperatureUnit::named(text).is_some()
        || matches!(text, "%" | "h" | "hours")
}

fn tight(text: &str) -> String {
    text.replace([' ', '.'], "")
}

/// How well a heading fits the words of a column, 0..1.
fn fit(heading: &str, known: &Headings) -> f64 {
    if heading.is_empty() {
        return 0.0;
    }
    if known.words.iter().any(|word| word == heading) {
        return 1.0;
    }
    let own = tight(heading);
    let mut best: f64 = 0.0;
    for (word, theirs) in known.words.iter().zip(&known.tight) {
        if own == *theirs {
            best = best.max(0.97);
        }
        let slips = 1 + own.len() / 9;
        let alike = own.len() >= 5
            && theirs.len() >= 5
            && own.len().abs_diff(theirs.len()) <= slips
            && same_end(&own, theirs)
            && strsim::osa_distance(&own, theirs) <= slips;
        if alike {
            best = best.max(0.75);
        }
        // "Date of last check": all parts of the known word stand in the heading.
        if word.len() >= 4 {
            let parts: Vec<&str> = heading.split(' ').collect();
            if word.split(' ').all(|w| parts.contains(&w)) {
                best = best.max(0.6 + 0.02 * word.split(' ').count() as f64);
            }
        }
    }
    best
}

/// Whether two words begin or end alike; a slip seldom takes both ends, and this saves most comparing.
pub(crate) fn same_end(a: &str, b: &str) -> bool {
    a.as_bytes().first() == b.as_bytes().first() || a.as_bytes().last() == b.as_bytes().last()
}

/// How well sample cells fit a column: share of the stated cells that can be read, if it can be told.
fn cells_fit(column: Column, cells: &[&str], options: &Options) -> Option<f64> {
    let words = all();
    let reads = |cell: &str| -> Option<bool> {
        fn known<T>(reading: Reading<T>) -> bool {
            !matches!(reading, Reading::Strange | Reading::Unknown)
        }
        Some(match column {
            Column::Kind => known(words.kind.read(cell)),
            Column::Material | Column::HangerMaterial => known(words.material.read(cell)),
            Column::Resin => known(words.resin.read(cell)),
            Column::RockType => known(words.rock_type.read(cell)),
            // Bare figures are grades of routes as well.
            Column::RockGrade if cell.chars().all(|c| c.is_ascii_digit()) => return None,
            Column::RockGrade => known(words.rock_grade.read(cell)),
            Column::Steepness => known(words.steepness.read(cell)),
            Column::Role => known(words.role.read(cell)),
            Column::Setting => known(words.setting.read(cell)),
            Column::End => known(words.pull_end.read(cell)),
            Column::Direction => known(words.direction.read(cell)),
            Column::Extent => known(words.extent.read(cell)),
            Column::Size => units::parse_bolt_size(cell).is_ok(),
            Column::Diameter => units::parse_diameter(cell).is_ok(),
            Column::PlacedOn | Column::RemovedOn | Column::On | Column::BoughtOn | Column::ExpiresOn => {
                !matches!(scan(cell, options.today), Written::Strange)
            }
            Column::Peak => units::parse_force(cell, Some(ForceUnit::Kilonewton)).is_ok(),
            Column::Number => {
                cell.chars().any(|c| c.is_ascii_digit()) && cell.len() < 20 || known(words.role.read(cell))
            }
            Column::Length | Column::Embedment | Column::RouteLength | Column::Height => {
                units::parse_length(cell, Some(LengthUnit::Millimetre)).is_ok()
            }
            Column::InHand | Column::Price | Column::Latitude | Column::Longitude | Column::Humidity => {
                cell.chars().any(|c| c.is_ascii_digit())
            }
            _ => return None,
        })
    };
    let mut stated = 0;
    let mut read = 0;
    for cell in cells {
        if cell.is_empty() || is_unknown(cell) {
            continue;
        }
        stated += 1;
        read += usize::from(reads(cell)?);
    }
    (stated > 0).then(|| f64::from(read as u32) / f64::from(stated as u32))
}

/// Fit of a heading that leaves no doubt. Source: judgement.
const CLEAR: f64 = 0.95;

/// Columns that cells alone can show, where the heading says nothing.
const SHOWN_BY_CELLS: [Column; 7] = [
    Column::Kind,
    Column::Material,
    Column::RockType,
    Column::Size,
    Column::End,
    Column::PlacedOn,
    Column::On,
];

/// A heading of the sheet.
struct Heading {
    written: String,
    words: String,
    unit: Option<String>,
    /// How well it fits each of the known headings.
    fits: Vec<f64>,
}

impl Heading {
    fn new(written: &str) -> Self {
        let (words, unit) = split_unit(written);
        let fits = known_headings().iter().map(|known| fit(&words, known)).collect();
        Self { written: written.to_owned(), words, unit, fits }
    }
}

/// Rows looked at, and what was found out of their columns.
struct Sample<'r> {
    rows: &'r [Row],
    options: &'r Options,
    fits: HashMap<(usize, Column), Option<f64>>,
}

impl<'r> Sample<'r> {
    fn cells(&self, at: usize) -> impl Iterator<Item = &'r str> {
        self.rows.iter().take(60).map(move |row| row.get(at))
    }

    fn fit(&mut self, at: usize, column: Column) -> Option<f64> {
        if let Some(known) = self.fits.get(&(at, column)) {
            return *known;
        }
        let mut cells: Vec<&str> = self.cells(at).collect();
        cells.sort_unstable();
        cells.dedup();
        let fit = cells_fit(column, &cells, self.options);
        self.fits.insert((at, column), fit);
        fit
    }
}

struct Guess {
    score: f64,
    columns: Vec<Mapped>,
}

/// Guesses the columns for one kind of sheet.
fn guess_for(kind: SheetKind, headings: &[Heading], sample: &mut Sample<'_>) -> Guess {
    let mut pairs: Vec<(f64, usize, Column, String)> = Vec::new();
    // Headings that are clear, over cells of which hardly any can be read.
    let mut unreadable: Vec<(usize, Column)> = Vec::new();
    for (at, heading) in headings.iter().enumerate() {
        if is_repair_heading(&heading.written) {
            continue;
        }
        let mut any = false;
        for (known, fit) in known_headings().iter().zip(&heading.fits) {
            let mut score = *fit;
            if score < LEAST || !known.sheets.contains(&kind) {
                continue;
            }
            let mut why = format!("the heading means {}", known.column.name());
            if let Some(share) = sample.fit(at, known.column) {
                if share < 0.25 {
                    score -= 0.5;
                    if *fit >= CLEAR {
                        unreadable.push((at, known.column));
                    }
                } else if share >= 0.6 {
                    score += 0.1;
                    why.push_str(" and its cells fit");
                }
            }
            // A unit of force does not stand over a length.
            if heading.unit.as_deref().is_some_and(|u| !unit_fits(known.column, u)) {
                score -= 0.4;
            }
            any |= score >= LEAST;
            pairs.push((score, at, known.column, why));
        }
        if kind == SheetKind::Sightings {
            match all().sign.read(&heading.words) {
                Reading::Exact(sign) => {
                    pairs.push((1.05, at, Column::Sign(sign), "the heading is a sign".to_owned()));
                    any = true;
                }
                Reading::Near(sign, _) if !any => {
                    pairs.push((0.7, at, Column::Sign(sign), "the heading is near a sign".to_owned()));
                    any = true;
                }
                _ => {}
            }
        }
        if !any {
            for column in SHOWN_BY_CELLS {
                let stands = known_headings().iter().any(|k| k.column == column && k.sheets.contains(&kind));
                if !stands || sample.cells(at).filter(|c| !c.is_empty()).count() < 2 {
                    continue;
                }
                // Bare numbers may be anything.
                if sample.cells(at).all(|c| c.chars().all(|c| c.is_ascii_digit() || c == '.')) {
                    continue;
                }
                if let Some(share) = sample.fit(at, column).filter(|share| *share >= 0.8) {
                    pairs.push((0.3 + 0.3 * share, at, column, "its cells show it".to_owned()));
                }
            }
        }
    }
    pairs.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut columns: Vec<Mapped> = headings
        .iter()
        .map(|heading| Mapped {
            heading: heading.written.clone(),
            holds: None,
            unit: None,
            date_order: None,
            why: "no column of the register is meant".to_owned(),
        })
        .collect();
    let mut used: Vec<Column> = Vec::new();
    let mut score = 0.0;
    for (points, at, column, why) in pairs {
        if points < LEAST || columns[at].holds.is_some() || (used.contains(&column) && column != Column::Note)
        {
            continue;
        }
        columns[at].holds = Some(column);
        columns[at].why = why;
        columns[at].unit = headings[at].unit.clone().filter(|unit| unit_fits(column, unit));
        used.push(column);
        score += points;
    }
    // Such a column is what its heading says if nothing else is: its cells go to the repair list, not
    // unseen into a note.
    for (at, column) in unreadable {
        if columns[at].holds.is_none() && !used.contains(&column) {
            columns[at].holds = Some(column);
            columns[at].why =
                format!("the heading means {}, though few of its cells can be read", column.name());
            columns[at].unit = headings[at].unit.clone().filter(|unit| unit_fits(column, unit));
            used.push(column);
            score += LEAST;
        }
    }
    for (at, heading) in headings.iter().enumerate().filter(|(_, h)| !h.written.is_empty()) {
        let stands = |k: &&Headings| k.sheets.contains(&kind) && used.contains(&k.column);
        let twin = known_headings()
            .iter()
            .zip(&heading.fits)
            .filter(|(known, fit)| **fit >= CLEAR && stands(known))
            .find_map(|(known, _)| columns.iter().find(|c| c.holds == Some(known.column)));
        if let (None, Some(twin)) = (columns[at].holds, twin) {
            columns[at].why = if twin.heading.trim() == heading.written.trim() {
                "the heading stands twice and the first is read".to_owned()
            } else {
                format!("\"{}\" is read for this", twin.heading.trim())
            };
        }
    }
    let has = |list: &[Column]| list.iter().any(|c| used.contains(c));
    let placed = has(&[Column::Number, Column::Placement]);
    let enough = match kind {
        SheetKind::Placements => {
            placed
                && has(&[
                    Column::Kind,
                    Column::Size,
                    Column::Diameter,
                    Column::Material,
                    Column::Embedment,
                    Column::PlacedOn,
                    Column::HangerMaterial,
                ])
        }
        SheetKind::Sightings => {
            placed
                && (has(&[Column::Signs, Column::Absent])
                    || used.iter().any(|c| matches!(c, Column::Sign(_))))
        }
        SheetKind::Pulls => placed && has(&[Column::Peak]),
        SheetKind::Crags => {
            has(&[Column::Crag])
                && has(&[
                    Column::Setting,
                    Column::Temperature,
                    Column::Humidity,
                    Column::RockType,
                    Column::Latitude,
                    Column::Coordinates,
                    Column::TestedUcs,
                    Column::VisitHours,
                ])
                && !has(&[Column::Route])
        }
        SheetKind::Routes => {
            has(&[Column::Route])
                && has(&[Column::ClimbingGrade, Column::RouteLength, Column::UseClass, Column::Steepness])
        }
        SheetKind::Stock => has(&[Column::Item]) && has(&[Column::InHand]),
        SheetKind::Batches => {
            has(&[Column::Batch]) && has(&[Column::ExpiresOn, Column::BoughtOn, Column::Recalled])
        }
    };
    // What only one kind of sheet has weighs most.
    let telling = match kind {
        SheetKind::Pulls => {
            has(&[Column::Peak])
                && has(&[Column::End, Column::Direction, Column::Trace, Column::Displacement])
        }
        SheetKind::Sightings => has(&[Column::Signs]) || used.iter().any(|c| matches!(c, Column::Sign(_))),
        _ => false,
    };
    let unread = columns.iter().filter(|c| c.holds.is_none() && !c.heading.is_empty()).count() as f64;
    score -= 0.25 * unread;
    if telling {
        score += 1.0;
    }
    if !enough {
        score -= 100.0;
    }
    Guess { score, columns }
}

/// Whether a unit can stand over a column.
fn unit_fits(column: Column, unit: &str) -> bool {
    match column {
        Column::Diameter
        | Column::Length
        | Column::Embedment
        | Column::EdgeDistance
        | Column::Spacing
        | Column::Height
        | Column::RouteLength
        | Column::Proud
        | Column::MeasuredLoss
        | Column::Displacement
        | Column::Size => LengthUnit::named(unit).is_some(),
        Column::Peak | Column::Rating | Column::RatedRadial | Column::RatedAxial => {
            ForceUnit::named(unit).is_some()
        }
        Column::Torque => TorqueUnit::named(unit).is_some(),
        Column::TestedUcs | Column::PointLoadIndex => StressUnit::named(unit).is_some(),
        Column::Temperature => TemperatureUnit::named(unit).is_some(),
        Column::Humidity => unit == "%",
        Column::VisitHours => matches!(unit, "h" | "hours"),
        _ => false,
    }
}

/// Finds the row of headings in `sample` and what its columns hold.
pub(crate) fn guess(file: &str, sample: &[Row], options: &Options) -> Result<Mapping, ReadError> {
    if let Some(given) = &options.mapping {
        let keys: Vec<String> =
            given.columns.iter().filter(|c| c.holds.is_some()).map(|c| tidy(&c.heading)).collect();
        let hits = |row: &Row| row.cells().filter(|cell| keys.contains(&tidy(cell))).count();
        let best = sample.iter().take(HEADER_ROWS).max_by_key(|row| (hits(row), u32::MAX - row.number));
        return match best {
            Some(row) if hits(row) > 0 => Ok(given.fitted(row, row.number)),
            _ => Err(ReadError::NoHeader { file: file.to_owned() }),
        };
    }
    // The row of headings: most cells that are known headings of any kind of sheet.
    let mut best: (f64, usize) = (0.0, 0);
    for (at, row) in sample.iter().take(HEADER_ROWS).enumerate() {
        let score: f64 = row
            .cells()
            .map(|cell| {
                let (heading, _) = split_unit(cell);
                let known = known_headings().iter().map(|k| fit(&heading, k)).fold(0.0, f64::max);
                if known >= LEAST { known } else { 0.0 }
            })
            .sum();
        if score > best.0 + 0.5 {
            best = (score, at);
        }
    }
    if best.0 < 1.0 {
        return Err(ReadError::NoHeader { file: file.to_owned() });
    }
    let header = &sample[best.1];
    let headings: Vec<Heading> = header.cells().map(Heading::new).collect();
    let mut rows = Sample { rows: &sample[best.1 + 1..], options, fits: HashMap::new() };
    let kinds: Vec<SheetKind> = match options.kind {
        Some(kind) => vec![kind],
        None => SheetKind::ALL.to_vec(),
    };
    let mut guesses: Vec<(SheetKind, Guess)> =
        kinds.into_iter().map(|kind| (kind, guess_for(kind, &headings, &mut rows))).collect();
    guesses.sort_by(|a, b| b.1.score.total_cmp(&a.1.score).then(a.0.cmp(&b.0)));
    match guesses.into_iter().next() {
        Some((kind, guess)) if guess.score > -50.0 || options.kind.is_some() => {
            Ok(Mapping { kind, header_row: header.number, columns: guess.columns })
        }
        _ => {
            let names: Vec<&str> = header.cells().filter(|c| !c.is_empty()).take(12).collect();
            Err(ReadError::UnknownKind { file: file.to_owned(), columns: names.join(", ") })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_heading_entry_is_a_column() {
        for (name, column) in known_headings().iter().map(|k| (k.column.name(), k.column)) {
            assert_eq!(name.parse::<Column>().unwrap(), column);
        }
        // No heading means two columns of the same kind of sheet, but for two that the cells settle.
        for kind in SheetKind::ALL {
            let mut seen = std::collections::BTreeMap::new();
            for known in known_headings().iter().filter(|k| k.sheets.contains(&kind)) {
                for word in &known.words {
                    if let Some(other) = seen.insert(word.clone(), known.column) {
                        assert!(
                            other == known.column || word == "result" || word == "grade",
                            "{kind}: {word} means {} and {}",
                            other.name(),
                            known.column.name()
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn units_of_headings() {
        for (heading, rest, unit) in [
            ("Diameter (mm)", "diameter", Some("mm")),
            ("Peak load [kN]", "peak load", Some("kN")),
            ("depth_mm", "depth", Some("mm")),
            ("Bolt Ø", "bolt diameter", None),
            ("BoltType", "bolt type", None),
            ("Torque, Nm", "torque", Some("Nm")),
            ("Set in", "set in", None),
            ("Height (ft)", "height", Some("ft")),
            ("# ", "no", None),
            ("Notes (private)", "notes", None),
        ] {
            let (r, u) = split_unit(heading);
            assert_eq!((r.as_str(), u.as_deref()), (rest, unit), "{heading}");
        }
    }
}
