//! From records to the case that the core judges.
//!
//! What is known of a placement overrides what is known of its route, and that what is known of its
//! crag. What belongs to the hardware is taken from the life of the current fitting only; what belongs
//! to the rock outlasts it. Nothing is filled in: a field that no record knows stays `None`. A value
//! that cannot be (a negative size, a year of setting in the future) is left out, and the provenance
//! says so.

use crate::fact::Subject;
use crate::identity::Placed;
use crate::record::*;
use crate::state::{Known, State, day_of, pitch_of};
use decay::Environment;
use demand::{Position, Role};
use evidence::{Seen, Sign};
use hardware::{Fitting, Rating};
use jiff::civil::Date;
use judgement::{Case, ProofHeld};
use rock::{RockEvidence, Surroundings};
use serde::Serialize;
use smallvec::SmallVec;
use units::{Length, Quantity};
use uuid::Uuid;

/// What a case needs besides the records.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Params {
    /// Ratio of observed to judged resistance of sister fittings, as median and logarithmic standard
    /// deviation; the caller works it out from [`Sisters`](crate::Sisters), since it takes judgements.
    pub sisters: Option<(f64, f64)>,
}

/// There is nothing to judge.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[allow(missing_docs)]
pub enum CaseError {
    #[error("there is no placement `{id}`; list the placements of its route to find the right name.")]
    NoPlacement { id: String },
    #[error("placement `{id}` has been empty since {since}: its last fitting was removed.")]
    Empty { id: String, since: Date },
}

/// Where one field of a case came from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Given {
    /// Field of the case, e.g. `fitting.diameter`.
    pub field: &'static str,
    /// The record it came from.
    pub subject: Subject,
    /// Field of that record.
    pub record_field: &'static str,
    /// The fact that states it.
    pub fact: Option<Uuid>,
}

/// Something recorded that the case does not use.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LeftOut {
    /// The record it stands in.
    pub subject: Subject,
    /// Why it was not used, in one plain sentence.
    pub reason: String,
}

/// Where a case came from.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Provenance {
    /// Fields that are known, in the order of the case.
    pub given: Vec<Given>,
    /// What was recorded but not used.
    pub left_out: Vec<LeftOut>,
}

/// The case of a placement on a date.
///
/// A sign that does not heal keeps its worst finding. Times: ages and times since are in years of 365.25 days, at least 0; a year alone counts from its
/// middle. Signs: the newest finding of each sign since the current fitting was placed, of equal dates
/// the worse; signs of the rock itself (crack, hollow, seepage) also from before. `next_gap`: to the
/// next higher placement of the same pitch, if heights are known without a gap in between. Spacing: as
/// recorded here, or, for one of exactly two belay or lowering points of a pitch, as recorded at the
/// other.
///
/// # Errors
/// No such placement, or its last fitting was removed.
pub fn of(state: &State, placement: &str, on: Date, params: &Params) -> Result<Case, CaseError> {
    build(state, placement, on, params, &mut Untraced)
}

/// As [`of`], with the record and fact behind every field.
///
/// # Errors
/// As [`of`].
pub fn traced(
    state: &State,
    placement: &str,
    on: Date,
    params: &Params,
) -> Result<(Case, Provenance), CaseError> {
    let mut trail = Traced { state, provenance: Provenance::default() };
    let case = build(state, placement, on, params, &mut trail)?;
    Ok((case, trail.provenance))
}

/// A record, by kind and identity, without owning it.
#[derive(Clone, Copy)]
enum From<'a> {
    Crag(&'a str),
    Route(&'a str),
    Placement(&'a str),
    Fitting(&'a str),
    Sighting(&'a str),
    Pull(&'a str),
}

impl From<'_> {
    fn subject(self) -> Subject {
        match self {
            From::Crag(id) => Subject::Crag(id.to_owned()),
            From::Route(id) => Subject::Route(id.to_owned()),
            From::Placement(id) => Subject::Placement(id.to_owned()),
            From::Fitting(id) => Subject::Fitting(id.to_owned()),
            From::Sighting(id) => Subject::Sighting(id.to_owned()),
            From::Pull(id) => Subject::Pull(id.to_owned()),
        }
    }
}

/// Takes down where values come from; costs nothing when nobody asks.
trait Trail {
    fn given(&mut self, field: &'static str, from: From<'_>, record_field: &'static str);
    fn left_out(&mut self, from: From<'_>, reason: impl FnOnce() -> String);
}

struct Untraced;

impl Trail for Untraced {
    fn given(&mut self, _: &'static str, _: From<'_>, _: &'static str) {}
    fn left_out(&mut self, _: From<'_>, _: impl FnOnce() -> String) {}
}

struct Traced<'a> {
    state: &'a State,
    provenance: Provenance,
}

impl Trail for Traced<'_> {
    fn given(&mut self, field: &'static str, from: From<'_>, record_field: &'static str) {
        let subject = from.subject();
        let fact = self.state.fact_of(&subject, record_field);
        self.provenance.given.push(Given { field, subject, record_field, fact });
    }
    fn left_out(&mut self, from: From<'_>, reason: impl FnOnce() -> String) {
        self.provenance.left_out.push(LeftOut { subject: from.subject(), reason: reason() });
    }
}

/// The first of several records that knows a value, if the value can be.
fn first<T: Copy>(
    trail: &mut impl Trail,
    field: &'static str,
    can_be: fn(T) -> bool,
    sources: &[(Option<T>, From<'_>, &'static str)],
) -> Option<T> {
    for (value, from, record_field) in sources {
        if let Some(value) = *value {
            if can_be(value) {
                trail.given(field, *from, record_field);
                return Some(value);
            }
            trail.left_out(*from, || {
                format!("The recorded `{record_field}` cannot be: it is zero, negative or out of range.")
            });
        }
    }
    None
}

fn any<T>(_: T) -> bool {
    true
}
fn positive<Q: Quantity>(value: Q) -> bool {
    value.si() > 0.0
}
fn not_negative<Q: Quantity>(value: Q) -> bool {
    value.si() >= 0.0
}

fn years(from: Date, to: Date) -> f64 {
    f64::from((to - from).get_days()) / 365.25
}

fn build(
    state: &State,
    id: &str,
    on: Date,
    params: &Params,
    trail: &mut impl Trail,
) -> Result<Case, CaseError> {
    let placement = state.placement(id).ok_or_else(|| CaseError::NoPlacement { id: id.to_owned() })?;
    let nothing_of_route = RouteRecord::default();
    let nothing_of_crag = CragRecord::default();
    let route_id = placement.route.as_deref().unwrap_or("");
    let route = state.route(route_id).unwrap_or(&nothing_of_route);
    let crag_id = route.crag.as_deref().unwrap_or("");
    let crag = state.crag(crag_id).unwrap_or(&nothing_of_crag);

    let fitting = state.current_fitting(id, on);
    if fitting.is_none()
        && let Some(since) = state.fittings_of(id).filter_map(|fitting| fitting.record.removed_on).max()
    {
        return Err(CaseError::Empty { id: id.to_owned(), since });
    }
    let life = Life::of(state, id, fitting, on);

    let mut case = Case { sisters: params.sisters, ..Case::default() };
    if let Some(fitting) = fitting {
        case.fitting = hardware(fitting, trail);
        case.age_years = age(fitting, on, trail);
        case.recalled = recalled(state, fitting, trail);
    }
    case.rock = rock(state, id, placement, crag_id, crag, on, trail);
    case.surroundings = surroundings(state, id, placement, on, trail);
    sightings(state, id, &life, on, &mut case, trail);
    case.environment = environment(id, placement, crag_id, crag, trail);
    case.position = position(state, id, placement, route_id, route, trail);
    case.proofs = proofs(state, id, &life, on, trail);
    case.gave_way_years_ago = gave_way(state, id, fitting, on, trail);
    Ok(case)
}

/// Years since the current fitting gave way in a pull, where it did.
fn gave_way(
    state: &State,
    id: &str,
    fitting: Option<Known<'_, FittingRecord>>,
    on: Date,
    trail: &mut impl Trail,
) -> Option<f64> {
    for pull in state.pulls_of(id) {
        let (Some(day), Some(end)) = (pull.record.on, pull.record.end) else { continue };
        let pulled = || state.fitting_pulled(id, day, pull.record.end).map(|fitting| fitting.id);
        if day <= on && end.is_failure() && pulled() == fitting.map(|fitting| fitting.id) {
            trail.given("gave_way_years_ago", From::Pull(pull.id), "end");
            return Some(years(day, on));
        }
    }
    None
}

/// True where the fitting is of a batch that was recalled.
fn recalled(state: &State, fitting: Known<'_, FittingRecord>, trail: &mut impl Trail) -> bool {
    let code = fitting.record.batch.as_deref();
    let batch = code.and_then(|code| state.batch(&crate::identity::batch(code)));
    let recalled = batch.is_some_and(|batch| batch.recalled.is_some());
    if recalled {
        trail.given("recalled", From::Fitting(fitting.id), "batch");
    }
    recalled
}

/// The time that the current fitting has been in its hole.
struct Life {
    /// First day, as far as it is known.
    from: (i16, i16),
    /// Day on which it took the place of another, so that a sighting of that day may be of either.
    replaced_on: Option<Date>,
    /// True if no other fitting was ever there, so that undated evidence must be about this one.
    only_one: bool,
}

impl Life {
    fn of(state: &State, placement: &str, fitting: Option<Known<'_, FittingRecord>>, on: Date) -> Self {
        let others = || {
            state.fittings_of(placement).filter(|other| fitting.is_none_or(|fitting| fitting.id != other.id))
        };
        let placed = fitting.map_or(Placed::Unknown, |fitting| Placed::from(fitting.record));
        // When the one before it came out, if that was by `on` and the test holds.
        let last_removal = |test: &dyn Fn(Date) -> bool| {
            others()
                .filter_map(|other| other.record.removed_on)
                .filter(|day| *day <= on && test(*day))
                .map(|day| day_of(Placed::On(day)))
                .max()
        };
        let from = match placed {
            Placed::Unknown => last_removal(&|_| true).unwrap_or((i16::MIN, 0)),
            // A date that cannot be says nothing about when evidence is too old.
            later if day_of(later) > day_of(Placed::On(on)) => (i16::MIN, 0),
            Placed::Year(year) => last_removal(&|day| day.year() == year).unwrap_or(day_of(placed)),
            Placed::On(_) => day_of(placed),
        };
        let replaced_on = match placed {
            Placed::On(day) => others()
                .any(|other| {
                    day_of(Placed::from(other.record)) < day_of(placed)
                        && other.record.removed_on.is_none_or(|removed| removed == day)
                })
                .then_some(day),
            _ => None,
        };
        Self { from, replaced_on, only_one: others().next().is_none() }
    }

    fn covers(&self, day: Option<Date>, on: Date) -> bool {
        match day {
            Some(day) => day <= on && day_of(Placed::On(day)) >= self.from,
            None => self.only_one,
        }
    }
}

fn hardware(fitting: Known<'_, FittingRecord>, trail: &mut impl Trail) -> Fitting {
    let Known { id, record } = fitting;
    let from = From::Fitting(id);
    let radial = record.rated_radial.filter(|force| positive(*force));
    let axial = record.rated_axial.filter(|force| positive(*force));
    let rating = match (radial, axial) {
        (Some(radial), Some(axial)) => {
            trail.given("fitting.rating", from, "rated_radial");
            trail.given("fitting.rating", from, "rated_axial");
            Some(Rating { radial, axial })
        }
        (None, None) => None,
        _ => {
            trail.left_out(from, || {
                "Only one of the two ratings (along the face, straight out) is known.".to_owned()
            });
            None
        }
    };
    Fitting {
        kind: first(trail, "fitting.kind", any, &[(record.kind, from, "kind")]),
        diameter: first(trail, "fitting.diameter", positive, &[(record.diameter, from, "diameter")]),
        length: first(trail, "fitting.length", positive, &[(record.length, from, "length")]),
        embedment: first(trail, "fitting.embedment", positive, &[(record.embedment, from, "embedment")]),
        material: first(trail, "fitting.material", any, &[(record.material, from, "material")]),
        hanger_material: first(
            trail,
            "fitting.hanger_material",
            any,
            &[(record.hanger_material, from, "hanger_material")],
        ),
        resin: first(trail, "fitting.resin", any, &[(record.resin, from, "resin")]),
        rating,
        torque: first(trail, "fitting.torque", positive, &[(record.torque, from, "torque")]),
    }
}

fn age(fitting: Known<'_, FittingRecord>, on: Date, trail: &mut impl Trail) -> Option<f64> {
    let from = From::Fitting(fitting.id);
    let (age, field) = match Placed::from(fitting.record) {
        Placed::Unknown => return None,
        Placed::On(day) => (years(day, on), "placed_on"),
        Placed::Year(year) => {
            let this_year = f64::from(on.year()) + (f64::from(on.day_of_year()) - 0.5) / 365.25;
            // Within the year itself the middle may still lie ahead.
            let age = this_year - (f64::from(year) + 0.5);
            (if year == on.year() { age.max(0.0) } else { age }, "placed_year")
        }
    };
    if age < 0.0 {
        trail.left_out(from, || {
            format!("It is recorded as placed after {on}, so its age is taken as unknown.")
        });
        return None;
    }
    trail.given("age_years", from, field);
    Some(age)
}

/// The newest sighting up to a date that knows a value.
fn newest<'a, T: Copy>(
    state: &'a State,
    placement: &str,
    on: Date,
    value: fn(&SightingRecord) -> Option<T>,
) -> (Option<T>, From<'a>) {
    let mut known = state
        .sightings_of(placement)
        .rev()
        .filter(|sighting| sighting.record.on.is_none_or(|day| day <= on))
        .filter_map(|sighting| Some((value(sighting.record)?, sighting.id)));
    match known.next() {
        Some((value, id)) => (Some(value), From::Sighting(id)),
        None => (None, From::Sighting("")),
    }
}

fn rock(
    state: &State,
    id: &str,
    placement: &PlacementRecord,
    crag_id: &str,
    crag: &CragRecord,
    on: Date,
    trail: &mut impl Trail,
) -> RockEvidence {
    let (here, there) = (From::Placement(id), From::Crag(crag_id));
    // What was found in the crag's rock says nothing about a vein of another.
    let same_rock = match (placement.rock_type, crag.rock_type) {
        (Some(here), Some(there)) => here == there,
        _ => true,
    };
    let of_crag = if same_rock { crag } else { &CragRecord::default() };
    let (seen, sighting) = newest(state, id, on, |sighting| sighting.rebound);
    let rebound_range = |value: f64| value > 0.0;
    RockEvidence {
        rock_type: first(
            trail,
            "rock.rock_type",
            any,
            &[(placement.rock_type, here, "rock_type"), (crag.rock_type, there, "rock_type")],
        ),
        grade: first(
            trail,
            "rock.grade",
            any,
            &[(placement.grade, here, "grade"), (of_crag.grade, there, "grade")],
        ),
        rebound: first(
            trail,
            "rock.rebound",
            rebound_range,
            &[(seen, sighting, "rebound"), (placement.rebound, here, "rebound")],
        ),
        unit_weight_kn_per_m3: first(
            trail,
            "rock.unit_weight_kn_per_m3",
            |value: f64| value > 0.0,
            &[(of_crag.unit_weight_kn_per_m3, there, "unit_weight_kn_per_m3")],
        ),
        point_load_index: first(
            trail,
            "rock.point_load_index",
            positive,
            &[(placement.point_load_index, here, "point_load_index")],
        ),
        tested_ucs: first(trail, "rock.tested_ucs", positive, &[(of_crag.tested_ucs, there, "tested_ucs")]),
        wetness: first(
            trail,
            "rock.wetness",
            any,
            &[(placement.wetness, here, "wetness"), (crag.wetness, there, "wetness")],
        ),
        soundness: first(trail, "rock.soundness", any, &[(placement.soundness, here, "soundness")]),
    }
}

fn surroundings(
    state: &State,
    id: &str,
    placement: &PlacementRecord,
    on: Date,
    trail: &mut impl Trail,
) -> Surroundings {
    let here = From::Placement(id);
    let (seen, sighting) = newest(state, id, on, |sighting| sighting.edge_distance);
    let edge_distance = first(
        trail,
        "surroundings.edge_distance",
        not_negative,
        &[(seen, sighting, "edge_distance"), (placement.edge_distance, here, "edge_distance")],
    );
    let mut spacing_from = [(placement.spacing, here, "spacing"), (None, here, "spacing")];
    if let (None, Some(role @ (Role::Belay | Role::LowerOff))) = (placement.spacing, placement.role) {
        let pitch = pitch_of(placement);
        let mut points = state
            .placements_before(id)
            .take_while(|other| pitch_of(other.record) == pitch)
            .chain(state.placements_after(id).take_while(|other| pitch_of(other.record) == pitch))
            .filter(|other| other.record.role == Some(role));
        if let (Some(partner), None) = (points.next(), points.next()) {
            spacing_from[1] = (partner.record.spacing, From::Placement(partner.id), "spacing");
        }
    }
    let spacing = first(trail, "surroundings.spacing", positive, &spacing_from);
    Surroundings { edge_distance, spacing }
}

fn is_of_the_rock(sign: Sign) -> bool {
    matches!(sign, Sign::RockCrack | Sign::RockHollow | Sign::Seepage)
}

fn sightings(state: &State, id: &str, life: &Life, on: Date, case: &mut Case, trail: &mut impl Trail) {
    let mut found: SmallVec<[(Seen, Option<Date>, &str); 12]> = SmallVec::new();
    let mut proud: Option<(Length, &str)> = None;
    let mut loss: Option<(Length, Option<Date>, &str)> = None;
    let mut last: Option<(Date, &str)> = None;
    for Known { id, record } in state.sightings_of(id).rev() {
        if record.on.is_some_and(|day| day > on) {
            trail.left_out(From::Sighting(id), || format!("It is dated after {on}."));
            continue;
        }
        let of_either = record.on.is_some() && record.on == life.replaced_on;
        let in_life = life.covers(record.on, on) && !of_either;
        for seen in record.signs.iter().flatten() {
            if !in_life && !is_of_the_rock(seen.sign) {
                continue;
            }
            match found.iter_mut().find(|(known, ..)| known.sign == seen.sign) {
                None => found.push((*seen, record.on, id)),
                // what does not heal was there even if a later look missed it
                Some(known) if !seen.sign.heals() && known.0.finding < seen.finding => {
                    *known = (*seen, record.on, id);
                }
                Some(known) if known.1 == record.on && known.0.finding < seen.finding => {
                    *known = (*seen, record.on, id);
                }
                Some(_) => {}
            }
        }
        if in_life {
            proud = proud.or(record.proud.map(|proud| (proud, id)));
            loss = loss.or(record.measured_loss.map(|loss| (loss, record.on, id)));
            last = last.or(record.on.map(|day| (day, id)));
        } else if record.signs.is_some() {
            trail.left_out(From::Sighting(id), || {
                let why = match (of_either, record.on) {
                    (true, _) => "It was made on the day the fitting was replaced and may be of the old one",
                    (false, Some(_)) => "It is older than the current fitting",
                    (false, None) => "It has no date and may be of an earlier fitting",
                };
                format!("{why}; only its signs of the rock are used.")
            });
        }
    }
    let from = |id| From::Sighting(id);
    case.proud = proud
        .and_then(|(value, id)| first(trail, "proud", not_negative, &[(Some(value), from(id), "proud")]));
    case.measured_loss = loss.and_then(|(value, day, id)| {
        first(trail, "measured_loss", not_negative, &[(Some(value), from(id), "measured_loss")])
            .map(|value| (value, day.map_or(0.0, |day| years(day, on))))
    });
    found.sort_unstable_by_key(|(seen, ..)| seen.sign);
    for (_, _, id) in &found {
        trail.given("signs", from(id), "signs");
    }
    case.signs = found.iter().map(|(seen, ..)| *seen).collect();
    case.last_seen_years_ago = last.map(|(day, id)| {
        trail.given("last_seen_years_ago", from(id), "on");
        years(day, on)
    });
}

fn environment(
    id: &str,
    placement: &PlacementRecord,
    crag_id: &str,
    crag: &CragRecord,
    trail: &mut impl Trail,
) -> Environment {
    let there = From::Crag(crag_id);
    let share = |value: f64| (0.0..=100.0).contains(&value);
    let amount = |value: f64| value >= 0.0;
    Environment {
        setting: first(trail, "environment.setting", any, &[(crag.setting, there, "setting")]),
        temperature: first(
            trail,
            "environment.temperature",
            any,
            &[(crag.temperature, there, "temperature")],
        ),
        relative_humidity_percent: first(
            trail,
            "environment.relative_humidity_percent",
            share,
            &[(crag.relative_humidity_percent, there, "relative_humidity_percent")],
        ),
        sulphur_mg_m2_d: first(
            trail,
            "environment.sulphur_mg_m2_d",
            amount,
            &[(crag.sulphur_mg_m2_d, there, "sulphur_mg_m2_d")],
        ),
        chloride_mg_m2_d: first(
            trail,
            "environment.chloride_mg_m2_d",
            amount,
            &[(crag.chloride_mg_m2_d, there, "chloride_mg_m2_d")],
        ),
        shelter: first(
            trail,
            "environment.shelter",
            any,
            &[(placement.shelter, From::Placement(id), "shelter")],
        ),
    }
}

fn position(
    state: &State,
    id: &str,
    placement: &PlacementRecord,
    route_id: &str,
    route: &RouteRecord,
    trail: &mut impl Trail,
) -> Position {
    let (here, there) = (From::Placement(id), From::Route(route_id));
    let height = first(trail, "position.height", not_negative, &[(placement.height, here, "height")]);
    let next_gap = height.and_then(|height| {
        let (gap, next) = gap_above(state, id, placement, height)?;
        trail.given("position.next_gap", From::Placement(next), "height");
        Some(gap)
    });
    Position {
        role: first(trail, "position.role", any, &[(placement.role, here, "role")]),
        number: first(trail, "position.number", any, &[(placement.number, here, "number")]),
        height,
        next_gap,
        steepness: first(
            trail,
            "position.steepness",
            any,
            &[(placement.steepness, here, "steepness"), (route.steepness, there, "steepness")],
        ),
        use_class: first(trail, "position.use_class", any, &[(route.use_class, there, "use_class")]),
    }
}

/// Distance up to the next placement of the pitch and its identity. Points at the same height (the two
/// of a belay) are passed over; a next placement without a height, or below this one, gives nothing.
fn gap_above<'a>(
    state: &'a State,
    id: &str,
    placement: &PlacementRecord,
    height: Length,
) -> Option<(Length, &'a str)> {
    placement.number?;
    let pitch = pitch_of(placement);
    for next in state.placements_after(id) {
        if pitch_of(next.record) != pitch {
            return None;
        }
        next.record.number?;
        let gap = next.record.height? - height;
        if gap.si() < 0.0 {
            return None;
        }
        if gap.si() > 0.0 {
            return Some((gap, next.id));
        }
    }
    None
}

fn proofs(
    state: &State,
    id: &str,
    life: &Life,
    on: Date,
    trail: &mut impl Trail,
) -> SmallVec<[ProofHeld; 1]> {
    let mut proofs = SmallVec::new();
    for Known { id, record } in state.pulls_of(id) {
        if record.end != Some(PullEnd::ProofHeld) {
            continue;
        }
        let from = From::Pull(id);
        let Some(day) = record.on else {
            trail.left_out(from, || {
                "The proof load has no date, so it may be of an earlier fitting.".to_owned()
            });
            continue;
        };
        if !life.covers(Some(day), on) {
            trail.left_out(from, || {
                format!("The proof load of {day} lies outside the life of the current fitting up to {on}.")
            });
            continue;
        }
        match (record.peak.filter(|peak| positive(*peak)), record.axial) {
            (Some(load), Some(axial)) => {
                trail.given("proofs", from, "peak");
                proofs.push(ProofHeld { load, years_ago: years(day, on), axial });
            }
            (None, _) => trail.left_out(from, || "The proof load has no size.".to_owned()),
            (_, None) => trail.left_out(from, || "The direction of the proof load is not known.".to_owned()),
        }
    }
    proofs
}
