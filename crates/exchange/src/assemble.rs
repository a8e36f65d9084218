//! From the rows of one sheet to drafts of facts.

use crate::cell::{About, CellReading, Trouble, Value, mark, read};
use crate::column::{Column, SheetKind};
use crate::dates::{DateOrder, Known};
use crate::fields::{Fields, day, join_signs, sorted};
use crate::findings::{Findings, Told};
use crate::label::{Label, read_label};
use crate::mapping::{Mapping, is_repair_heading, same_end};
use crate::repair::Repair;
use crate::row::Row;
use crate::signs::NO_EXTENT;
use crate::{Counts, Draft, Known as Before, Options};
use register::identity::{self, Placed};
use register::{
    BatchRecord, Body, CragRecord, FittingRecord, PlacementRecord, Record, RouteRecord, SightingRecord,
    State, Subject,
};
use std::collections::{HashMap, HashSet};
use std::rc::Rc;
use std::sync::Arc;

/// Different cells of a column that are remembered.
const REMEMBERED: usize = 20_000;
/// Repairs of one sheet that are listed.
const LISTED_REPAIRS: usize = 20_000;
/// Names that one sheet may have at a crag before near ones are no longer looked for: more than any real crag
/// has, and the time would grow with the square of the names. Source: judgement.
const COMPARED: usize = 3000;
/// Characters of unread columns that go into a note.
const NOTE: usize = 4000;

/// One mapped column while it is read.
struct Reader {
    at: usize,
    column: Column,
    heading: String,
    about: About,
    /// Empty cells mean the same as the row above.
    as_above: bool,
    /// Texts read before, with the places of what was told of them.
    cache: HashMap<Box<str>, Rc<Cached>>,
}

struct Cached {
    reading: CellReading,
    told_at: Vec<usize>,
}

/// What earlier rows said of a placement.
struct Earlier {
    row: u32,
    placed: Placed,
    removed: bool,
    /// Place of its marks.
    marks: usize,
    /// Identity of its fitting, hashed, and the date in it.
    fitting: u64,
    dated: Placed,
}

/// A sighting and the rows that speak of it.
struct HeldSighting {
    id: String,
    record: SightingRecord,
    /// Each row with the marks of its cells.
    rows: Vec<(u32, Vec<u32>)>,
}

/// Reads rows into drafts.
pub(crate) struct Assembler<'a> {
    file: &'a str,
    sheet: Option<&'a str>,
    kind: SheetKind,
    options: &'a Options,
    state: &'a State,
    before: Before<'a>,
    /// The row being read repeats what was corrected in the register since.
    corrected: bool,
    headings: Vec<String>,
    readers: Vec<Reader>,
    /// Columns that are not read: place and heading.
    unread: Vec<(usize, String)>,
    /// Columns without a heading.
    nameless: Vec<usize>,
    scratch: Vec<Option<Rc<Cached>>>,
    pub findings: Findings,
    pub repairs: Vec<Repair>,
    pub counts: Counts,
    pub drafts: Vec<Draft>,
    names: Names,
    carried_crag: String,
    carried_route: String,
    /// No column names the crag, so the repair list gets one.
    pub adds_crag: bool,
    /// The crag of the latest row of which it is known.
    row_crag: Option<Rc<str>>,
    /// Placement identity -> earlier rows.
    earlier: HashMap<u64, Vec<Earlier>>,
    marks: Vec<u32>,
    /// Sightings of this sheet, held until its end, so that one row a sign gives one sighting.
    sightings: Vec<HeldSighting>,
    /// Identity of a sighting -> its place among those held.
    sighting_at: HashMap<String, usize>,
    /// Fields that this sheet has stated of each placement, one bit each.
    hole_fields: HashMap<u64, u32>,
    /// Crags, routes, placements and batches that this file has already stated.
    stated: HashSet<u64>,
}

#[derive(Default)]
struct Names {
    crags: HashMap<String, Rc<str>>,
    /// By crag, then by name as written.
    routes: HashMap<Rc<str>, HashMap<String, Rc<str>>>,
}

/// The row's own placement.
struct Place {
    crag: Rc<str>,
    route: Rc<str>,
    route_name: String,
    placement: String,
    label: Label,
}

impl<'a> Assembler<'a> {
    pub(crate) fn new(
        file: &'a str,
        sheet: Option<&'a str>,
        mapping: &Mapping,
        orders: &[Option<DateOrder>],
        as_above: &[bool],
        options: &'a Options,
        before: Before<'a>,
    ) -> Self {
        let mut readers = Vec::new();
        let mut unread = Vec::new();
        let mut nameless = Vec::new();
        for (at, mapped) in mapping.columns.iter().enumerate() {
            match mapped.holds {
                Some(column) => readers.push(Reader {
                    at,
                    column,
                    heading: mapped.heading.clone(),
                    about: About {
                        column,
                        unit: mapped.unit.clone(),
                        system: options.units,
                        order: orders.get(at).copied().flatten(),
                        today: options.today,
                    },
                    as_above: as_above.get(at).copied().unwrap_or(false),
                    cache: HashMap::new(),
                }),
                None if !mapped.heading.trim().is_empty() && !is_repair_heading(&mapped.heading) => {
                    unread.push((at, mapped.heading.clone()));
                }
                None if mapped.heading.trim().is_empty() => nameless.push(at),
                None => {}
            }
        }
        let mut findings = Findings::default();
        for (at, heading) in &unread {
            let why = &mapping.columns[*at].why;
            let text = format!("{why}: its cells go into the note");
            findings.add(sheet, 0, Some((*at, heading)), text.into());
        }
        Self {
            file,
            sheet,
            kind: mapping.kind,
            options,
            state: before.register,
            before,
            corrected: false,
            headings: mapping.columns.iter().map(|c| c.heading.clone()).collect(),
            scratch: vec![None; readers.len()],
            readers,
            unread,
            nameless,
            findings,
            repairs: Vec::new(),
            counts: Counts::default(),
            drafts: Vec::new(),
            names: Names::default(),
            carried_crag: String::new(),
            carried_route: String::new(),
            adds_crag: mapping.kind.stands_at_a_crag()
                && mapping.position(Column::Crag).is_none()
                && mapping.position(Column::Placement).is_none(),
            row_crag: None,
            earlier: HashMap::new(),
            marks: Vec::new(),
            sightings: Vec::new(),
            sighting_at: HashMap::new(),
            hole_fields: HashMap::new(),
            stated: HashSet::new(),
        }
    }

    /// Reads one row.
    pub(crate) fn row(&mut self, row: &Row) {
        // A heading line that stands again further down.
        if self.headings.iter().enumerate().all(|(at, heading)| row.get(at) == heading.trim()) {
            return;
        }
        // A line of totals at the foot of a list.
        if row.cells().find(|cell| !cell.is_empty()).is_some_and(is_total) {
            self.tell_case(row.number, "lines of totals were left out", format!("row {}", row.number));
            return;
        }
        self.counts.rows += 1;
        let mut fields = Fields::default();
        let repairs_before = self.counts.repairs;
        // A column of its own states the extents.
        let extents = self.has(Column::Extent);
        for (i, reader) in self.readers.iter_mut().enumerate() {
            let text = row.get(reader.at);
            if text.is_empty() {
                self.scratch[i] = None;
                continue;
            }
            let cached = match reader.cache.get(text) {
                Some(cached) => {
                    for at in &cached.told_at {
                        self.findings.again(*at);
                    }
                    Rc::clone(cached)
                }
                None => {
                    let reading = read(&reader.about, text);
                    let told_at = reading
                        .told
                        .iter()
                        .filter(|told| !(extents && told.text == NO_EXTENT))
                        .filter_map(|told| {
                            self.findings.add(
                                self.sheet,
                                row.number,
                                Some((i, &reader.heading)),
                                told.clone(),
                            )
                        })
                        .collect();
                    let cached = Rc::new(Cached { reading, told_at });
                    if reader.cache.len() >= REMEMBERED {
                        reader.cache.clear();
                    }
                    reader.cache.insert(text.into(), Rc::clone(&cached));
                    cached
                }
            };
            if let Some(value) = &cached.reading.value {
                fields.put(reader.column, value, text);
            }
            self.scratch[i] = Some(cached);
        }
        self.keep_unread(row, &mut fields);
        self.corrected = false;
        let taken = match self.key_trouble() {
            Some((column, trouble)) => {
                // What the rows below leave empty is not this either.
                self.carried_route.clear();
                if column == Column::Crag {
                    self.carried_crag.clear();
                }
                Err((Some(column), trouble))
            }
            None => self.take_row(row, &mut fields),
        };
        match taken {
            Ok(true) => {
                self.counts.taken += 1;
                if self.corrected {
                    self.corrected_since(row.number);
                }
                self.cell_repairs(row);
            }
            // A copy of an earlier row: its troubles are told there.
            Ok(false) => {}
            Err((column, trouble)) => {
                self.repair(row, column, &trouble, true);
            }
        }
        if self.counts.repairs > repairs_before {
            self.counts.rows_to_repair += 1;
        }
    }

    /// Trouble with a cell that names what the row is about. No other cell may stand in for it.
    fn key_trouble(&self) -> Option<(Column, Trouble)> {
        let batch = (self.kind == SheetKind::Batches).then_some(Column::Batch);
        [Column::Crag, Column::Route, Column::Placement, Column::Item]
            .into_iter()
            .chain(batch)
            .find_map(|column| self.trouble_of(column).map(|trouble| (column, trouble)))
    }

    fn take_row(&mut self, row: &Row, fields: &mut Fields) -> Result<bool, (Option<Column>, Trouble)> {
        match self.kind {
            SheetKind::Placements => self.placement(row, fields),
            SheetKind::Sightings => self.sighting(row, fields),
            SheetKind::Pulls => self.pull(row, fields),
            SheetKind::Crags => self.crag(row, fields),
            SheetKind::Routes => self.route(row, fields),
            SheetKind::Stock => self.stock(row, fields),
            SheetKind::Batches => self.batch(row, fields),
        }
    }

    fn corrected_since(&mut self, row: u32) {
        self.counts.corrected_since += 1;
        self.tell_case(
            row,
            "these rows repeat what the register has corrected since; the corrections stand",
            format!("row {row}"),
        );
    }

    /// The cells of columns that are not read go into the note.
    fn keep_unread(&mut self, row: &Row, fields: &mut Fields) {
        let mut length = 0;
        for (at, heading) in &self.unread {
            let text = row.get(*at);
            if !text.is_empty() && length < NOTE {
                length += text.len();
                fields.notes.push(format!("{heading}: {}", text.chars().take(NOTE).collect::<String>()));
            }
        }
        let beyond = self.headings.len()..row.len();
        let stray: Vec<&str> = self
            .nameless
            .iter()
            .copied()
            .chain(beyond)
            .map(|at| row.get(at))
            .filter(|t| !t.is_empty())
            .collect();
        if !stray.is_empty() {
            let text: String = stray.join(", ").chars().take(NOTE).collect();
            fields.notes.push(text);
            self.tell_case(
                row.number,
                "cells that stand under no heading go into the note",
                format!("row {}", row.number),
            );
        }
    }

    /// Lists the cells that were not taken from a row that went in.
    fn cell_repairs(&mut self, row: &Row) {
        for i in 0..self.readers.len() {
            let Some(cached) = self.scratch[i].clone() else { continue };
            if let Some(trouble) = &cached.reading.trouble {
                self.repair(row, Some(self.readers[i].column), trouble, false);
            }
        }
    }

    fn repair(&mut self, row: &Row, column: Option<Column>, trouble: &Trouble, whole_row: bool) {
        self.counts.repairs += 1;
        if self.repairs.len() >= LISTED_REPAIRS {
            return;
        }
        let reader = column.and_then(|c| self.readers.iter().find(|r| r.column == c));
        let cells: Arc<[String]> = match self.repairs.last() {
            Some(last) if last.row == row.number => Arc::clone(&last.cells),
            _ => self.cells_to_repair(row),
        };
        self.repairs.push(Repair {
            file: self.file.to_owned(),
            sheet: self.sheet.map(str::to_owned),
            row: row.number,
            column: reader.map(|r| r.heading.clone()).unwrap_or_default(),
            value: reader.map(|r| row.get(r.at).to_owned()).unwrap_or_default(),
            reason: trouble.reason.clone(),
            advice: trouble.advice.clone(),
            whole_row,
            cells,
        });
    }

    /// The row as it has to stand in a list of its own: what it takes from the rows around it is filled in,
    /// and its dates no longer need the others of their column to be understood.
    fn cells_to_repair(&self, row: &Row) -> Arc<[String]> {
        let mut cells: Vec<String> = row.cells().map(str::to_owned).collect();
        cells.resize(cells.len().max(self.headings.len()), String::new());
        for (i, reader) in self.readers.iter().enumerate() {
            let value = self.scratch[i].as_ref().and_then(|cached| cached.reading.value.as_ref());
            let cell = &mut cells[reader.at];
            match (reader.column, value) {
                (_, Some(Value::Date(Known::Day(date), _))) => *cell = date.to_string(),
                (Column::Crag, None) if reader.as_above && cell.is_empty() => {
                    cell.clone_from(&self.carried_crag);
                }
                (Column::Route, None) if reader.as_above && cell.is_empty() => {
                    cell.clone_from(&self.carried_route);
                }
                _ => {}
            }
        }
        if self.adds_crag {
            cells.truncate(self.headings.len());
            let known = self.row_crag.as_deref().map(|id| {
                let name = self.state.crag(id).and_then(|crag| crag.name.clone());
                name.or_else(|| self.names.crags.iter().find(|(_, i)| ***i == *id).map(|(n, _)| n.clone()))
                    .unwrap_or_else(|| id.to_owned())
            });
            cells.push(known.unwrap_or_default());
        }
        cells.into()
    }

    fn tell(&mut self, row: u32, text: String) {
        self.findings.add(self.sheet, row, None, text.into());
    }

    fn tell_case(&mut self, row: u32, text: &str, case: String) {
        self.findings.add(self.sheet, row, None, Told::case(text, case));
    }

    fn copy(&mut self, row: u32, of: u32) {
        self.counts.duplicates += 1;
        self.tell_case(
            row,
            "rows that repeat an earlier row were taken once",
            format!("row {row} repeats {of}"),
        );
    }

    /// The trouble of a column's cell in this row.
    fn trouble_of(&self, column: Column) -> Option<Trouble> {
        let i = self.readers.iter().position(|r| r.column == column)?;
        self.scratch[i].as_ref()?.reading.trouble.clone()
    }

    fn has(&self, column: Column) -> bool {
        self.readers.iter().any(|r| r.column == column)
    }

    /// Whether empty cells of a column mean the same as the row above.
    fn as_above(&self, column: Column) -> bool {
        self.readers.iter().any(|r| r.column == column && r.as_above)
    }

    /// States a body if the register does not hold it yet.
    fn state(&mut self, row: u32, subject: Subject, body: Body) -> bool {
        let (news, corrected) = self.before.news(&subject, body);
        self.corrected |= corrected;
        match news {
            Some(body) => {
                self.drafts.push(Draft { row, subject, body });
                true
            }
            None => false,
        }
    }

    /// True the first time a subject is met in this sheet.
    fn first_time(&mut self, kind: &str, id: &str) -> bool {
        self.stated.insert(hash(&[kind, id]))
    }

    fn crag_id(&mut self, row: u32, name: &str) -> Result<Rc<str>, Trouble> {
        if let Some(id) = self.names.crags.get(name) {
            return Ok(Rc::clone(id));
        }
        let id = identity::crag(name);
        let few = self.names.crags.len() <= COMPARED;
        if few && !self.options.new_names && self.state.crag(&id).is_none() {
            let known = self
                .state
                .crags()
                .map(|c| (c.id, c.record.name.as_deref().unwrap_or(c.id)))
                .chain(self.names.crags.iter().map(|(name, id)| (&**id, name.as_str())));
            match near(&id, known) {
                // A list of crags is the authority on their names.
                Some(other) if self.kind == SheetKind::Crags => {
                    self.tell(row, almost_like("crag", name, &other))
                }
                Some(other) => return Err(near_name("crag", name, &other)),
                None => {}
            }
        }
        let id: Rc<str> = id.into();
        self.names.crags.insert(name.to_owned(), Rc::clone(&id));
        if self.first_time("crag", &id) && self.state.crag(&id).is_none() {
            let record = CragRecord { name: Some(name.to_owned()), ..CragRecord::default() };
            if self.kind != SheetKind::Crags {
                self.state(row, Subject::Crag(id.to_string()), Body::Crag(record));
            }
        }
        Ok(id)
    }

    fn route_id(&mut self, row: u32, crag: &Rc<str>, name: &str) -> Result<Rc<str>, Trouble> {
        if let Some(id) = self.names.routes.get(crag).and_then(|names| names.get(name)) {
            return Ok(Rc::clone(id));
        }
        let id = identity::route(crag, name);
        let few = self.names.routes.get(crag).map_or(0, HashMap::len) <= COMPARED;
        if few && !self.options.new_names && self.state.route(&id).is_none() {
            let prefix = format!("{crag}/");
            let known = self
                .state
                .routes_of(crag)
                .map(|r| (r.id, r.record.name.as_deref().unwrap_or(r.id)))
                .chain(
                    self.names
                        .routes
                        .get(crag)
                        .into_iter()
                        .flatten()
                        .map(|(name, id)| (&**id, name.as_str())),
                )
                .filter_map(|(id, name)| Some((id.strip_prefix(&prefix)?, name)));
            let own = id.strip_prefix(&prefix).unwrap_or(&id).to_owned();
            // Where the register knows the crag's routes, a new name near a known one is a slip; in the
            // first sheet of a crag both may be right.
            let register_knows =
                self.kind != SheetKind::Routes && self.state.routes_of(crag).next().is_some();
            match near(&own, known) {
                Some(other) if register_knows => return Err(near_name("route", name, &other)),
                Some(other) => self.tell(row, almost_like("route", name, &other)),
                None => {}
            }
        }
        let id: Rc<str> = id.into();
        self.names.routes.entry(Rc::clone(crag)).or_default().insert(name.to_owned(), Rc::clone(&id));
        Ok(id)
    }

    /// The crag of a row: its cell; the one above; the option; the only crag that has the route.
    fn crag_of(
        &mut self,
        row: &Row,
        fields: &Fields,
        route_name: &str,
    ) -> Result<Rc<str>, (Option<Column>, Trouble)> {
        let at = |t| (Some(Column::Crag), t);
        if !fields.crag_name.is_empty() {
            if fields.crag_name != self.carried_crag {
                // A new crag ends the route above.
                self.carried_route.clear();
                self.carried_crag.clone_from(&fields.crag_name);
            }
            return self.crag_id(row.number, &fields.crag_name).map_err(at);
        }
        if self.as_above(Column::Crag) && !self.carried_crag.is_empty() {
            let name = self.carried_crag.clone();
            let reader = self.readers.iter().position(|r| r.column == Column::Crag);
            if let Some(i) = reader {
                let heading = self.readers[i].heading.clone();
                self.findings.add(
                    self.sheet,
                    row.number,
                    Some((i, &heading)),
                    "empty cells take the crag of the row above".to_owned().into(),
                );
            }
            return self.crag_id(row.number, &name).map_err(at);
        }
        if let Some(name) = self.options.crag.clone() {
            return self.crag_id(row.number, &name).map_err(at);
        }
        let slug = identity::slug(route_name);
        let mut holders: Vec<String> = self
            .state
            .routes()
            .filter(|r| r.id.rsplit('/').next() == Some(slug.as_str()))
            .filter_map(|r| r.record.crag.clone())
            .collect();
        holders.sort();
        holders.dedup();
        match &holders[..] {
            [one] => return Ok(one.as_str().into()),
            [first, second, ..] => {
                return Err(at(Trouble::new(
                    format!("\"{route_name}\" is a route of {first} and of {second}"),
                    "add a column with the crag",
                )));
            }
            [] => {}
        }
        if let (Some(sheet), false) = (self.sheet, self.has(Column::Crag)) {
            let generic = sheet.to_ascii_lowercase();
            if !["sheet", "table", "data", "bolts", "list", "page", "19", "20"]
                .iter()
                .any(|w| generic.starts_with(w))
            {
                let name = sheet.to_owned();
                self.tell(0, format!("no column names the crag: {name} was taken from the sheet's name"));
                return self.crag_id(row.number, &name).map_err(at);
            }
        }
        let stem = self.file.rsplit(['/', '\\']).next().unwrap_or(self.file);
        let stem = identity::slug(stem.rsplit_once('.').map_or(stem, |(stem, _)| stem));
        if !self.has(Column::Crag) && self.state.crag(&stem).is_some() {
            self.tell(0, format!("no column names the crag: {stem} was taken from the file's name"));
            return Ok(stem.into());
        }
        Err(at(Trouble::new(
            "the row does not tell its crag",
            "fill in the crag, or say which one the whole file is about (--crag)",
        )))
    }

    /// Lets the rows below a row that stays out take its crag and route where theirs are empty. A remark in
    /// the midst of a table, which fills a cell or two, names neither.
    fn carry(&mut self, row: &Row, fields: &Fields) {
        if row.cells().filter(|cell| !cell.is_empty()).count() < 3 {
            return;
        }
        if !fields.crag_name.is_empty() && fields.crag_name != self.carried_crag {
            self.carried_route.clear();
            self.carried_crag.clone_from(&fields.crag_name);
        }
        if !fields.route_name.is_empty() {
            self.carried_route.clone_from(&fields.route_name);
        }
    }

    /// Finds crag, route and placement of a row.
    fn place(&mut self, row: &Row, fields: &Fields) -> Result<Place, (Option<Column>, Trouble)> {
        let mut route_name = fields.route_name.clone();
        let mut crag_name = None;
        let mut label = fields.label.clone();
        if !fields.placement_ref.is_empty() && (route_name.is_empty() || label.is_none()) {
            // harl-quarry/blind-corner/3, Blind Corner/3, Blind Corner 3
            let parts: Vec<&str> = fields.placement_ref.split(['/', '\\']).map(str::trim).collect();
            let at = |t| (Some(Column::Placement), t);
            match parts[..] {
                [crag, route, last] => {
                    crag_name = Some(crag.to_owned());
                    route_name = route.to_owned();
                    label = Some(read_label(last).map_err(at)?);
                }
                [route, last] => {
                    route_name = route.to_owned();
                    label = Some(read_label(last).map_err(at)?);
                }
                [single] => {
                    if let Some((name, last)) =
                        single.rsplit_once([' ', '#', '-']).filter(|_| route_name.is_empty())
                    {
                        route_name = name.trim_end_matches([' ', '#', '-']).to_owned();
                        label = Some(read_label(last).map_err(at)?);
                    } else if label.is_none() {
                        label = Some(read_label(single).map_err(at)?);
                    }
                }
                _ => {}
            }
        }
        let Some(label) = label else {
            let trouble = self.trouble_of(Column::Number).unwrap_or_else(|| {
                Trouble::new(
                    "the row does not tell which placement it is about",
                    "fill in the number from the ground up (1 = first)",
                )
            });
            self.carry(row, fields);
            return Err((Some(Column::Number), trouble));
        };
        if let Some(trouble) = self.trouble_of(Column::Pitch) {
            self.carry(row, fields);
            return Err((Some(Column::Pitch), trouble));
        }
        let crag = match crag_name {
            Some(name) => match self.state.crag(&name) {
                Some(_) => name.as_str().into(),
                None => self.crag_id(row.number, &name).map_err(|t| (Some(Column::Placement), t))?,
            },
            None => self.crag_of(row, fields, &route_name)?,
        };
        self.row_crag = Some(Rc::clone(&crag));
        if route_name.is_empty() {
            if self.carried_route.is_empty() || !self.as_above(Column::Route) {
                return Err((
                    Some(Column::Route),
                    Trouble::new("the row does not tell its route", "fill in the route"),
                ));
            }
            route_name.clone_from(&self.carried_route);
            if let Some(i) = self.readers.iter().position(|r| r.column == Column::Route) {
                let heading = self.readers[i].heading.clone();
                self.findings.add(
                    self.sheet,
                    row.number,
                    Some((i, &heading)),
                    "empty cells take the route of the row above".to_owned().into(),
                );
            }
        } else {
            self.carried_route.clone_from(&route_name);
        }
        let route = self.route_id(row.number, &crag, &route_name).map_err(|t| (Some(Column::Route), t))?;
        let placement = match (&label.words, label.number) {
            (None, Some(number)) => identity::placement(&route, fields.pitch, number),
            (words, _) => identity::placement_labelled(&route, fields.pitch, words.as_deref().unwrap_or("")),
        };
        Ok(Place { crag, route, route_name, placement, label })
    }

    /// States the route of a placement the first time it is met.
    fn state_route(&mut self, row: u32, place: &Place, fields: &mut Fields) {
        let more =
            fields.route.sector.is_some() || fields.route.grade.is_some() || fields.route.use_class.is_some();
        let first = self.first_time("route", &place.route);
        let first_with_more = more && self.first_time("route+", &place.route);
        if !first && !first_with_more {
            return;
        }
        let known = self.state.route(&place.route);
        let record = RouteRecord {
            name: known.is_none_or(|r| r.name.is_none()).then(|| place.route_name.clone()),
            crag: Some(place.crag.to_string()),
            sector: fields.route.sector.take(),
            grade: fields.route.grade.take(),
            use_class: fields.route.use_class.take(),
            ..RouteRecord::default()
        };
        self.state(row, Subject::Route(place.route.to_string()), Body::Route(record));
    }

    /// States a placement of which a sighting or pull speaks, if nobody has yet.
    fn state_placement(&mut self, row: u32, place: &Place, fields: &mut Fields) {
        if self.state.placement(&place.placement).is_some() || !self.first_time("placement", &place.placement)
        {
            return;
        }
        self.state_route(row, place, fields);
        let record = PlacementRecord {
            route: Some(place.route.to_string()),
            number: place.label.number,
            pitch: fields.pitch,
            role: place.label.role,
            ..PlacementRecord::default()
        };
        self.state(row, Subject::Placement(place.placement.clone()), Body::Placement(record));
    }

    /// Refuses a placement that the register does not have on a route whose placements it has, and a route
    /// of a crag whose routes it has.
    fn recorded(&self, place: &Place) -> Result<(), (Option<Column>, Trouble)> {
        if self.options.new_names || self.state.placement(&place.placement).is_some() {
            return Ok(());
        }
        if self.state.route(&place.route).is_none() && self.state.routes_of(&place.crag).next().is_some() {
            return Err((
                Some(Column::Route),
                Trouble::new(
                    format!("\"{}\" is no route recorded at this crag", place.route_name),
                    "correct the route, or record it first and read this row again",
                ),
            ));
        }
        match self.state.placements_of(&place.route).count() {
            0 => Ok(()),
            count => Err((
                Some(Column::Number),
                Trouble::new(
                    format!("{} is none of the {count} placements recorded on its route", place.placement),
                    "correct the number, or record the placement first and read this row again",
                ),
            )),
        }
    }

    /// Marks of the row's cells in the order of the columns.
    fn row_marks(&self) -> Vec<u32> {
        self.scratch.iter().map(|c| c.as_ref().map_or(0, |c| c.reading.mark)).collect()
    }

    fn placement(&mut self, row: &Row, fields: &mut Fields) -> Result<bool, (Option<Column>, Trouble)> {
        let place = self.place(row, fields)?;
        self.settle_size(row, fields);
        let removed = fields.removed.and_then(Known::latest);
        let mut placed = match fields.date {
            Some(Known::Day(date)) => Placed::On(date),
            Some(other) => Placed::Year(other.year()),
            None => Placed::Unknown,
        };
        if let (Some(gone), Some(first)) = (removed, fields.date.and_then(Known::earliest))
            && gone < first
        {
            let trouble = Trouble::new(
                "the fitting would be removed before it was placed",
                "correct one of the two dates",
            );
            self.repair(row, Some(Column::RemovedOn), &trouble, false);
            fields.removed = None;
        }
        if let Some(rough @ (Known::Month(..) | Known::Year(_))) = fields.removed {
            // Hardware that is gone must not count as there: the first day that it can have been.
            if let Some(first) = rough.earliest() {
                self.tell_case(
                    row.number,
                    "removals without a day were taken as the first day that they can have been",
                    format!("row {}, {}, as {first}", row.number, rough.words()),
                );
                fields.notes.push(format!("removed {}", rough.words()));
                fields.removed = Some(Known::Day(first));
            }
        }
        // A date that could not be read still tells nothing of the fitting's identity.
        if self.trouble_of(Column::PlacedOn).is_some() {
            placed = Placed::Unknown;
        }
        let compared = self.compare(row, &place.placement, placed, fields.removed.is_some());
        match compared {
            Compared::New { .. } => {}
            Compared::Copy(of) => {
                self.copy(row.number, of);
                return Ok(false);
            }
            Compared::Contradicts(of, column) => {
                let heading = column.map(|c| self.heading(c)).unwrap_or_default();
                return Err((
                    column,
                    Trouble::new(
                        format!(
                            "{} stands in row {of} too, with another {heading}; row {of} was taken",
                            place.placement
                        ),
                        "correct or delete one of the two rows; if the hardware was replaced, give both rows their dates",
                    ),
                ));
            }
        }
        let key = hash(&["placement", &place.placement]);
        let before = self.hole_fields.get(&key).copied().unwrap_or(0);
        self.state_route(row.number, &place, fields);
        let note = fields.note();
        let mut record = std::mem::take(&mut fields.placement);
        if self.is_replaced(&place.placement, placed, removed.is_some()) {
            // What a row of old hardware says of the hole fills gaps only.
            let known = self.state.placement(&place.placement);
            for field in 0..PlacementRecord::FIELDS.len() {
                if before & (1 << field) != 0 || known.is_some_and(|k| k.states(field)) {
                    record.clear(field);
                }
            }
        }
        let now =
            (0..PlacementRecord::FIELDS.len()).filter(|f| record.states(*f)).fold(before, |m, f| m | 1 << f);
        self.hole_fields.insert(key, now);
        record.route = Some(place.route.to_string());
        record.number = place.label.number;
        record.pitch = fields.pitch;
        record.role = record.role.or(place.label.role);
        let mut any =
            self.state(row.number, Subject::Placement(place.placement.clone()), Body::Placement(record));

        if let Some(code) = fields.fitting.batch.clone() {
            let id = identity::batch(&code);
            if self.first_time("batch", &id) && self.state.batch(&id).is_none() {
                let record = BatchRecord { code: Some(code), ..BatchRecord::default() };
                self.state(row.number, Subject::Batch(id.clone()), Body::Batch(record));
            }
            fields.fitting.batch = Some(id);
        }
        let mut fitting = std::mem::take(&mut fields.fitting);
        let (dated, adds) = match compared {
            Compared::New { adds: Some(dated) } => (dated, true),
            _ => (placed, false),
        };
        let id = self.fitting_id(row.number, &place.placement, dated, day(fields.removed), &fitting);
        let id = self.own_fitting(&place.placement, id, adds);
        fitting.placement = Some(place.placement.clone());
        match placed {
            Placed::On(date) => fitting.placed_on = Some(date),
            Placed::Year(year) => fitting.placed_year = Some(year),
            Placed::Unknown => {}
        }
        fitting.removed_on = day(fields.removed);
        fitting.note = note;
        any |= self.state(row.number, Subject::Fitting(id), Body::Fitting(fitting));
        if !any {
            self.counts.unchanged += 1;
        }
        Ok(true)
    }

    fn heading(&self, column: Column) -> String {
        self.readers.iter().find(|r| r.column == column).map(|r| r.heading.clone()).unwrap_or_default()
    }

    /// Size, diameter, length and embedment of a row that fit together; what does not is put on the repair
    /// list and left out.
    fn settle_size(&mut self, row: &Row, fields: &mut Fields) {
        let differ = |a: units::Length, b: units::Length| (a - b).as_mm().abs() > 0.6;
        for (column, in_size) in
            [(Column::Diameter, fields.size_diameter), (Column::Length, fields.size_length)]
        {
            let own = if column == Column::Diameter {
                &mut fields.fitting.diameter
            } else {
                &mut fields.fitting.length
            };
            match (*own, in_size) {
                (Some(a), Some(b)) if differ(a, b) => {
                    *own = None;
                    let trouble =
                        Trouble::new("the columns of size contradict each other", "correct one of them");
                    self.repair(row, Some(column), &trouble, false);
                }
                (None, Some(b)) => *own = Some(b),
                _ => {}
            }
        }
        if let (Some(length), Some(embedment)) = (fields.fitting.length, fields.fitting.embedment) {
            // A drop-in or glue-in may end below the surface, so a little more is believed.
            if embedment.as_mm() > length.as_mm() + 5.0 {
                fields.fitting.embedment = None;
                let trouble = Trouble::new(
                    format!(
                        "an embedment of {:.0} mm is longer than the bolt of {:.0} mm",
                        embedment.as_mm(),
                        length.as_mm()
                    ),
                    "measure again, or leave one of the two empty",
                );
                self.repair(row, Some(Column::Embedment), &trouble, false);
            }
        }
    }

    /// Whether a row speaks of hardware that is gone: it says so, or the register or an earlier row has
    /// hardware that was placed there in a later year.
    fn is_replaced(&self, placement: &str, placed: Placed, removed: bool) -> bool {
        let later =
            |other: Placed| other.year().is_some() && placed.year().is_some() && other.year() > placed.year();
        removed
            || self.state.fittings_of(placement).any(|f| later(Placed::from(f.record)))
            || self
                .earlier
                .get(&hash(&["row", placement]))
                .is_some_and(|rows| rows.iter().any(|e| later(e.placed)))
    }

    /// The fitting that the row speaks of: one that the register knows, or a new one.
    fn fitting_id(
        &mut self,
        row: u32,
        placement: &str,
        placed: Placed,
        removed: Option<jiff::civil::Date>,
        fitting: &FittingRecord,
    ) -> String {
        // This file has spoken of it before, whatever of it was corrected since.
        let own = identity::fitting(placement, placed);
        let mut said = self.before.said.iter().filter_map(|said| said.fitting(&own));
        if said.any(|said| said.kind == fitting.kind) {
            return own;
        }
        // Old hardware is known by the day on which it was taken out.
        if removed.is_some() {
            let years =
                |f: &register::Known<'_, FittingRecord>| (Placed::from(f.record).year(), placed.year());
            let gone = || {
                self.state.fittings_of(placement).filter(|f| {
                    f.record.removed_on == removed
                        && (f.record.kind == fitting.kind || fitting.kind.is_none())
                })
            };
            let same_day = gone().find(|f| Placed::from(f.record) == placed);
            let same_year = same_day.or_else(|| gone().find(|f| years(f).0 == years(f).1));
            let known = same_year.or_else(|| gone().find(|f| years(f).0.is_none() || years(f).1.is_none()));
            if let Some(known) = known {
                return known.id.to_owned();
            }
        }
        if let Some(id) = self.state.fitting_meant(placement, placed) {
            // Hardware that was taken out is not meant by a row of other hardware that is there.
            let other = self.state.fitting(id).is_some_and(|known| {
                known.removed_on.is_some()
                    && removed.is_none()
                    && known.kind.is_some()
                    && fitting.kind.is_some()
                    && known.kind != fitting.kind
            });
            if !other {
                return id.to_owned();
            }
        }
        // One fitting is known and the row says the same of it but for its date: the date was corrected.
        let mut known = self.state.fittings_of(placement);
        if let (Some(only), None, false) = (known.next(), known.next(), removed.is_some()) {
            let same = only.record.removed_on.is_none()
                && only.record.kind.is_some()
                && only.record.kind == fitting.kind
                && only.record.diameter == fitting.diameter
                && only.record.length == fitting.length
                && only.record.material == fitting.material
                && only.record.batch == fitting.batch;
            if same {
                let id = only.id.to_owned();
                self.tell_case(
                    row,
                    "dates differ from the register's and all else is the same: taken for the same hardware",
                    placement.to_owned(),
                );
                return id;
            }
        }
        identity::fitting(placement, placed)
    }

    /// The identity of a row's fitting, with a number after it if another fitting of the same hole in this
    /// sheet has it (old and new hardware, both without a date). Notes it for later rows.
    fn own_fitting(&mut self, placement: &str, id: String, adds: bool) -> String {
        let Some(rows) = self.earlier.get_mut(&hash(&["row", placement])) else { return id };
        let Some((own, before)) = rows.split_last_mut() else { return id };
        let mut chosen = id.clone();
        let mut number = 2;
        while !adds && before.iter().any(|e| e.fitting == hash(&[&chosen])) {
            chosen = format!("{id}-{number}");
            number += 1;
        }
        own.fitting = hash(&[&chosen]);
        chosen
    }

    /// Compares a row with earlier rows of the same placement.
    fn compare(&mut self, row: &Row, placement: &str, placed: Placed, removed: bool) -> Compared {
        let key = hash(&["row", placement]);
        let marks = self.row_marks();
        let width = marks.len();
        let mut others = Vec::new();
        for earlier in self.earlier.get(&key).map_or(&[][..], |list| list) {
            let before = &self.marks[earlier.marks..earlier.marks + width];
            if before == marks {
                return Compared::Copy(earlier.row);
            }
            let differs: Vec<Column> = self
                .readers
                .iter()
                .zip(before.iter().zip(&marks))
                .filter(|(reader, (a, b))| {
                    **a != 0
                        && **b != 0
                        && a != b
                        && !matches!(reader.column, Column::Note | Column::Crag | Column::Route)
                })
                .map(|(reader, _)| reader.column)
                .collect();
            let dates_differ = dates_differ(earlier.placed, placed);
            // A year and a day of it agree.
            let differs: Vec<Column> =
                differs.into_iter().filter(|c| *c != Column::PlacedOn || dates_differ).collect();
            let hardware = differs.iter().any(|c| {
                matches!(
                    c,
                    Column::Kind
                        | Column::Size
                        | Column::Diameter
                        | Column::Length
                        | Column::Material
                        | Column::HangerMaterial
                        | Column::Resin
                        | Column::Batch
                )
            });
            let same_day = matches!(placed, Placed::On(_)) && earlier.placed == placed;
            others.push((
                earlier.row,
                differs,
                (dates_differ, same_day),
                hardware,
                earlier.removed,
                earlier.dated,
            ));
        }
        let mut adds = None;
        for (of, differs, (dates_differ, same_day), hardware, other_removed, dated) in others {
            // Hardware that was replaced: both rows are right.
            if (removed != other_removed && !same_day) || (dates_differ && (hardware || removed)) {
                self.tell_case(
                    row.number,
                    "rows were taken as hardware that was replaced in one hole",
                    format!("{of} and {}", row.number),
                );
                continue;
            }
            if let Some(first) = differs.first() {
                return Compared::Contradicts(of, Some(*first));
            }
            adds.get_or_insert(dated);
            self.tell_case(
                row.number,
                "rows add to an earlier row of the same hardware",
                format!("{} to {of}", row.number),
            );
        }
        let at = self.marks.len();
        self.marks.extend(marks);
        let dated = adds.unwrap_or(placed);
        let row = Earlier { row: row.number, placed, removed, marks: at, fitting: 0, dated };
        self.earlier.entry(key).or_insert_with(|| Vec::with_capacity(1)).push(row);
        Compared::New { adds }
    }

    fn sighting(&mut self, row: &Row, fields: &mut Fields) -> Result<bool, (Option<Column>, Trouble)> {
        let place = self.place(row, fields)?;
        let on = self.test_day(fields)?;
        let Some(on) = on else {
            return Err((
                Some(Column::On),
                Trouble::new("a sighting needs its day", "write the date as year-month-day"),
            ));
        };
        self.recorded(&place)?;
        let mut record = std::mem::take(&mut fields.sighting);
        record.note = fields.note();
        let id = identity::sighting(&place.placement, Some(on), record.by.as_deref());
        let found = sorted(record.signs.take().unwrap_or_default());
        if self.has(Column::Extent) && fields.extent.is_none() {
            let open = |told: &Told| (told.text == NO_EXTENT).then(|| told.case.clone()).flatten();
            let open: Vec<String> =
                self.scratch.iter().flatten().flat_map(|c| &c.reading.told).filter_map(open).collect();
            for case in open {
                self.tell_case(row.number, NO_EXTENT, case);
            }
        }
        let marks = self.row_marks();
        let Some(&at) = self.sighting_at.get(&id) else {
            self.state_placement(row.number, &place, fields);
            record.placement = Some(place.placement);
            record.on = Some(on);
            record.signs = (!found.is_empty()).then_some(found);
            self.sighting_at.insert(id.clone(), self.sightings.len());
            self.sightings.push(HeldSighting { id, record, rows: vec![(row.number, marks)] });
            return Ok(true);
        };
        if let Some((of, _)) = self.sightings[at].rows.iter().find(|(_, before)| *before == marks) {
            self.copy(row.number, *of);
            return Ok(false);
        }
        let says_otherwise = |column: Option<Column>| {
            Err((
                column,
                Trouble::new(
                    format!(
                        "an earlier row of {} by the same person on the same day says otherwise; the earlier row was taken",
                        place.placement
                    ),
                    "correct or delete one of the two rows",
                ),
            ))
        };
        // One row a sign: these columns differ from row to row, the others may not.
        let of_signs =
            |c: Column| matches!(c, Column::Signs | Column::Absent | Column::Sign(_) | Column::Extent);
        let differs = self.readers.iter().enumerate().find(|(i, reader)| {
            !of_signs(reader.column)
                && !matches!(reader.column, Column::Note | Column::Crag | Column::Route)
                && self.sightings[at]
                    .rows
                    .iter()
                    .any(|(_, m)| m[*i] != 0 && marks[*i] != 0 && m[*i] != marks[*i])
        });
        if let Some((_, reader)) = differs {
            return says_otherwise(Some(reader.column));
        }
        let held = &mut self.sightings[at];
        let mut signs = held.record.signs.clone().unwrap_or_default();
        if !join_signs(&mut signs, &found) {
            return says_otherwise(self.readers.iter().map(|r| r.column).find(|c| of_signs(*c)));
        }
        let signs = sorted(signs);
        let note = match (held.record.note.take(), record.note.take()) {
            (Some(before), Some(more)) if before != more => Some(format!("{before}; {more}")),
            (before, more) => before.or(more),
        };
        let held_before = held.record.clone();
        held.record.take(&record, |field| !held_before.states(field));
        held.record.note = note;
        held.record.signs = (!signs.is_empty()).then_some(signs);
        held.rows.push((row.number, marks));
        Ok(true)
    }

    /// States what was held until the end of the sheet.
    pub(crate) fn finish(&mut self) {
        for held in std::mem::take(&mut self.sightings) {
            let first = held.rows.first().map_or(0, |(row, _)| *row);
            self.corrected = false;
            if !self.state(first, Subject::Sighting(held.id), Body::Sighting(held.record)) {
                self.counts.unchanged += u32::try_from(held.rows.len()).unwrap_or(u32::MAX);
            }
            if self.corrected {
                self.corrected_since(first);
            }
        }
        self.sighting_at.clear();
    }

    /// The day of a sighting or pull; a trouble of its cell keeps the row out, because the day is part of
    /// its identity.
    fn test_day(&self, fields: &Fields) -> Result<Option<jiff::civil::Date>, (Option<Column>, Trouble)> {
        if let Some(trouble) = self.trouble_of(Column::On) {
            return Err((Some(Column::On), trouble));
        }
        match fields.date {
            None => Ok(None),
            Some(Known::Day(date)) => Ok(Some(date)),
            Some(_) => Err((
                Some(Column::On),
                Trouble::new("the day is missing", "write the date as year-month-day"),
            )),
        }
    }

    fn pull(&mut self, row: &Row, fields: &mut Fields) -> Result<bool, (Option<Column>, Trouble)> {
        let place = self.place(row, fields)?;
        let on = self.test_day(fields)?;
        if fields.pull.peak.is_none() {
            let trouble = self.trouble_of(Column::Peak).unwrap_or_else(|| {
                Trouble::new("a pull needs its peak load", "write it with its unit, for example 12.4 kN")
            });
            return Err((Some(Column::Peak), trouble));
        }
        self.recorded(&place)?;
        let mut record = std::mem::take(&mut fields.pull);
        record.note = fields.note();
        record.on = on;
        record.placement = Some(place.placement.clone());
        let said = format!("{:?} {:?} {:?} {:?}", record.peak, record.axial, record.end, record.trace);
        let day_key = identity::pull(&place.placement, on, 1);
        let key = hash(&["pull", &day_key]);
        let own = mark(&said);
        let rows = self.earlier.entry(key).or_default();
        if let Some(copy) = rows.iter().find(|e| e.marks == own as usize) {
            let of = copy.row;
            self.copy(row.number, of);
            return Ok(false);
        }
        rows.push(Earlier {
            row: row.number,
            placed: Placed::Unknown,
            removed: false,
            marks: own as usize,
            fitting: 0,
            dated: Placed::Unknown,
        });
        let nth = rows.len() as u16;
        if nth > 1 {
            self.tell_case(
                row.number,
                "pulled more than once on a day",
                format!("{} (pull {nth})", place.placement),
            );
        }
        // A pull of that day that the register knows and that says the same is meant; else the next number.
        let mut number = nth;
        for n in 1..=nth.saturating_add(20) {
            match self.state.pull(&identity::pull(&place.placement, on, n)) {
                Some(known) if known.peak == record.peak => {
                    number = n;
                    break;
                }
                Some(_) => {}
                None => break,
            }
        }
        self.state_placement(row.number, &place, fields);
        let id = identity::pull(&place.placement, on, number);
        if !self.state(row.number, Subject::Pull(id), Body::Pull(record)) {
            self.counts.unchanged += 1;
        }
        Ok(true)
    }

    /// Refuses a second row of a short list that says otherwise than the first.
    fn listed(
        &mut self,
        row: &Row,
        kind: &str,
        id: &str,
        key: Column,
    ) -> Result<bool, (Option<Column>, Trouble)> {
        match self.compare(row, &format!("{kind}:{id}"), Placed::Unknown, false) {
            Compared::New { .. } => Ok(true),
            Compared::Copy(of) => {
                self.copy(row.number, of);
                Ok(false)
            }
            Compared::Contradicts(of, column) => {
                let heading = column.map(|c| self.heading(c)).unwrap_or_default();
                Err((
                    column.or(Some(key)),
                    Trouble::new(
                        format!("row {of} is about the same one, with another {heading}; row {of} was taken"),
                        "correct or delete one of the two rows",
                    ),
                ))
            }
        }
    }

    fn crag(&mut self, row: &Row, fields: &mut Fields) -> Result<bool, (Option<Column>, Trouble)> {
        if fields.crag_name.is_empty() {
            return Err((
                Some(Column::Crag),
                Trouble::new("the row does not name its crag", "fill in the crag"),
            ));
        }
        let name = std::mem::take(&mut fields.crag_name);
        let id = self.crag_id(row.number, &name).map_err(|t| (Some(Column::Crag), t))?;
        if !self.listed(row, "crag", &id, Column::Crag)? {
            return Ok(false);
        }
        let mut record = std::mem::take(&mut fields.crag);
        record.name = Some(name);
        record.note = fields.note();
        if !self.state(row.number, Subject::Crag(id.to_string()), Body::Crag(record)) {
            self.counts.unchanged += 1;
        }
        Ok(true)
    }

    fn route(&mut self, row: &Row, fields: &mut Fields) -> Result<bool, (Option<Column>, Trouble)> {
        if fields.route_name.is_empty() {
            return Err((
                Some(Column::Route),
                Trouble::new("the row does not name its route", "fill in the route"),
            ));
        }
        let name = std::mem::take(&mut fields.route_name);
        let crag = self.crag_of(row, fields, &name)?;
        self.row_crag = Some(Rc::clone(&crag));
        let id = self.route_id(row.number, &crag, &name).map_err(|t| (Some(Column::Route), t))?;
        if !self.listed(row, "route", &id, Column::Route)? {
            return Ok(false);
        }
        let mut record = std::mem::take(&mut fields.route);
        record.name = Some(name);
        record.crag = Some(crag.to_string());
        record.note = fields.note();
        if !self.state(row.number, Subject::Route(id.to_string()), Body::Route(record)) {
            self.counts.unchanged += 1;
        }
        Ok(true)
    }

    fn stock(&mut self, row: &Row, fields: &mut Fields) -> Result<bool, (Option<Column>, Trouble)> {
        let record = std::mem::take(&mut fields.stock);
        let Some(name) = &record.name else {
            return Err((
                Some(Column::Item),
                Trouble::new("the row does not name its item", "fill in the item"),
            ));
        };
        let id = identity::stock(name);
        if !self.listed(row, "stock", &id, Column::Item)? {
            return Ok(false);
        }
        if !self.state(row.number, Subject::Stock(id), Body::Stock(record)) {
            self.counts.unchanged += 1;
        }
        Ok(true)
    }

    fn batch(&mut self, row: &Row, fields: &mut Fields) -> Result<bool, (Option<Column>, Trouble)> {
        let record = std::mem::take(&mut fields.batch);
        let Some(code) = &record.code else {
            return Err((
                Some(Column::Batch),
                Trouble::new("the row does not name its batch", "fill in the batch"),
            ));
        };
        let id = identity::batch(code);
        if !self.listed(row, "batch", &id, Column::Batch)? {
            return Ok(false);
        }
        if !self.state(row.number, Subject::Batch(id), Body::Batch(record)) {
            self.counts.unchanged += 1;
        }
        Ok(true)
    }
}

/// Whether two dates of placing cannot be the same one.
fn dates_differ(a: Placed, b: Placed) -> bool {
    match (a, b) {
        (Placed::On(a), Placed::On(b)) => a != b,
        _ => a.year().is_some() && b.year().is_some() && a.year() != b.year(),
    }
}

fn is_total(cell: &str) -> bool {
    let cell = cell.trim_end_matches([':', ' ', '.']);
    ["total", "totals", "sum", "subtotal", "sub-total", "grand total"]
        .iter()
        .any(|word| cell.eq_ignore_ascii_case(word))
}

enum Compared {
    /// Adds to an earlier row, whose fitting has this date in its identity.
    New {
        adds: Option<Placed>,
    },
    Copy(u32),
    Contradicts(u32, Option<Column>),
}

fn hash(parts: &[&str]) -> u64 {
    use std::hash::{DefaultHasher, Hash, Hasher};
    let mut hasher = DefaultHasher::new();
    parts.hash(&mut hasher);
    hasher.finish()
}

/// The name among `known` whose slug is one or two slips from `slug`, if there is exactly one. Figures
/// must agree, and short names are never near.
fn near<'k>(slug: &str, known: impl Iterator<Item = (&'k str, &'k str)>) -> Option<String> {
    let letters = slug.chars().count();
    let slips = match letters {
        0..=5 => return None,
        6..=9 => 1,
        _ => 2,
    };
    let figures = |s: &str| s.chars().filter(char::is_ascii_digit).collect::<String>();
    let own = figures(slug);
    let mut found: Option<(usize, &str)> = None;
    let mut several = false;
    for (other, name) in known.take(COMPARED) {
        if !same_end(other, slug) {
            continue;
        }
        if other == slug || other.chars().count().abs_diff(letters) > slips || figures(other) != own {
            continue;
        }
        let distance = strsim::osa_distance(other, slug);
        if distance > slips {
            continue;
        }
        match &found {
            Some((best, _)) if *best < distance => {}
            Some((best, kept)) if *best == distance && *kept != name => several = true,
            _ => {
                several = false;
                found = Some((distance, name));
            }
        }
    }
    found.filter(|_| !several).map(|(_, name)| name.to_owned())
}

fn almost_like(what: &str, name: &str, other: &str) -> String {
    format!("the {what} \"{name}\" is spelt almost like \"{other}\"; if they are one, correct the spelling")
}

fn near_name(what: &str, name: &str, other: &str) -> Trouble {
    Trouble::new(
        format!("no {what} \"{name}\" is known, but \"{other}\" is"),
        format!(
            "write \"{other}\" if it is meant; if \"{name}\" is another {what}, say that new names are right"
        ),
    )
}
