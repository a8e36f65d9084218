//! `show`: all that is recorded of one placement.

use crate::answer::{FORMAT, PlacementAnswer, tidy};
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::judging::Judge;
use crate::{caution, open, select, words};
use evidence::Seen;
use jiff::civil::Date;
use register::{FittingRecord, Known, PhotoRecord, PlacementRecord, PullRecord, SightingRecord, State};
use serde::Serialize;
use std::io::Write;
use units::{Length, UnitSystem};

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  holdproof show harl-quarry/blind-corner/3
  holdproof show \"Harl Quarry/Blind Corner/3\"    names work as well
  holdproof show tern-head/salt-line/2 --json")]
pub struct Args {
    /// The placement (identity, as `holdproof list` shows it)
    #[arg(value_name = "PLACEMENT")]
    placement: String,
}

#[derive(Serialize)]
struct Answer<'a> {
    format: u32,
    #[serde(flatten)]
    placement: PlacementAnswer<'a>,
    edge_distance_mm: Option<f64>,
    spacing_mm: Option<f64>,
    steepness: Option<demand::Steepness>,
    shelter: Option<decay::Shelter>,
    rock: Option<rock::RockType>,
    field_grade: Option<rock::FieldGrade>,
    rebound: Option<f64>,
    soundness: Option<rock::Soundness>,
    wetness: Option<rock::Wetness>,
    note: Option<&'a str>,
    fittings: Vec<FittingAnswer<'a>>,
    sightings: Vec<SightingAnswer<'a>>,
    pulls: Vec<PullAnswer<'a>>,
    photos: Vec<PhotoAnswer<'a>>,
    call: Option<judgement::Call>,
    judged_on: Date,
    caution: &'static str,
}

#[derive(Serialize)]
struct FittingAnswer<'a> {
    fitting: &'a str,
    placed_on: Option<Date>,
    placed_year: Option<i16>,
    removed_on: Option<Date>,
    kind: Option<hardware::Kind>,
    diameter_mm: Option<f64>,
    length_mm: Option<f64>,
    embedment_mm: Option<f64>,
    material: Option<hardware::Material>,
    hanger_material: Option<hardware::Material>,
    resin: Option<hardware::Resin>,
    rated_radial_kn: Option<f64>,
    rated_axial_kn: Option<f64>,
    torque_nm: Option<f64>,
    batch: Option<&'a str>,
    set_by: Option<&'a str>,
    note: Option<&'a str>,
}

#[derive(Serialize)]
struct SightingAnswer<'a> {
    sighting: &'a str,
    on: Option<Date>,
    by: Option<&'a str>,
    signs: &'a [Seen],
    proud_mm: Option<f64>,
    measured_loss_mm: Option<f64>,
    torque_nm: Option<f64>,
    rebound: Option<f64>,
    note: Option<&'a str>,
}

#[derive(Serialize)]
struct PullAnswer<'a> {
    pull: &'a str,
    on: Option<Date>,
    by: Option<&'a str>,
    peak_kn: Option<f64>,
    axial: Option<bool>,
    end: Option<register::PullEnd>,
    displacement_at_peak_mm: Option<f64>,
    trace: Option<&'a str>,
    note: Option<&'a str>,
}

#[derive(Serialize)]
struct PhotoAnswer<'a> {
    photo: &'a str,
    file: Option<&'a str>,
    taken_at: Option<&'a str>,
}

fn mm(length: Option<Length>) -> Option<f64> {
    length.map(|length| tidy(length.as_mm()))
}

/// Prints the records.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    let state = open::state(desk)?;
    let placement = select::placement(&state, &args.placement)?;
    let policy = judgement::Policy::built_in().clone();
    let judged = Judge::new(&state, policy, desk.today).judge(placement);
    let call = judged.map(|one| one.judgement.call);
    if desk.json {
        let answer = answer(&state, placement, call, desk.today);
        desk.write_json(&answer)?;
        return Ok(Exit::Fine);
    }
    let (units, today) = (desk.units, desk.today);
    let out = &mut desk.out;
    writeln!(out, "{}", words::heading(placement.id))?;
    match call {
        Some(call) => {
            writeln!(out, "  call on {today}: {} ({})", words::call_mark(call), call.meaning())?;
        }
        None => writeln!(out, "  empty: the last fitting was removed")?,
    }
    place(out, &state, placement, units)?;
    for fitting in state.fittings_of(placement.id) {
        show_fitting(out, fitting, units)?;
    }
    for sighting in state.sightings_of(placement.id) {
        show_sighting(out, sighting, units)?;
    }
    for pull in state.pulls_of(placement.id) {
        show_pull(out, pull, units)?;
    }
    let photos: Vec<Known<PhotoRecord>> = state.photos_of(placement.id).collect();
    if !photos.is_empty() {
        writeln!(out, "\n{}", words::heading("Photos"))?;
        for photo in photos {
            let file = photo.record.file.as_deref().unwrap_or(photo.id);
            writeln!(out, "  {file}  {}", photo.record.taken_at.as_deref().unwrap_or(""))?;
        }
    }
    caution::print(out)?;
    Ok(Exit::Fine)
}

/// Lines of "what: value"; values that are not known are left out.
struct Lines<'o>(&'o mut dyn Write);

impl Lines<'_> {
    fn line(&mut self, what: &str, value: Option<impl std::fmt::Display>) -> Result<(), Failure> {
        if let Some(value) = value {
            writeln!(self.0, "  {what:<18} {value}")?;
        }
        Ok(())
    }
}

fn place(
    out: &mut dyn Write,
    state: &State,
    placement: Known<PlacementRecord>,
    units: UnitSystem,
) -> Result<(), Failure> {
    let record = placement.record;
    let route = record.route.as_deref().and_then(|id| Some((id, state.route(id)?)));
    let crag = state.crag_of(placement.id).and_then(|id| state.crag(id));
    let rock = record.rock_type.or(crag.and_then(|crag| crag.rock_type));
    let mut lines = Lines(out);
    lines.line("place", Some(words::place_on_route(placement.id, record)))?;
    lines.line("route", route.map(|(id, route)| route.name.as_deref().unwrap_or(id)))?;
    lines.line("height", record.height.map(|height| units.height(height)))?;
    lines.line("steepness", record.steepness.map(words::steepness))?;
    lines.line("use", route.and_then(|(_, route)| route.use_class).map(words::use_class))?;
    lines.line("rock", rock.map(rock::RockType::name))?;
    lines.line("field grade", record.grade.map(rock::FieldGrade::name))?;
    lines.line("soundness", record.soundness.map(rock::Soundness::name))?;
    lines.line("wetness", record.wetness.map(rock::Wetness::name))?;
    lines.line("rebound", record.rebound)?;
    lines.line("edge distance", record.edge_distance.map(|d| units.length(d)))?;
    lines.line("spacing", record.spacing.map(|d| units.length(d)))?;
    lines.line("note", record.note.as_deref())
}

fn show_fitting(
    out: &mut dyn Write,
    fitting: Known<FittingRecord>,
    units: UnitSystem,
) -> Result<(), Failure> {
    let record = fitting.record;
    writeln!(out, "\n{} {}", words::heading("Fitting"), words::fitting(record, units))?;
    let mut lines = Lines(out);
    lines.line("placed", Some(words::placed(record)))?;
    lines.line("removed", record.removed_on)?;
    lines.line("embedment", record.embedment.map(|l| units.length(l)))?;
    lines.line("hanger", record.hanger_material.map(hardware::Material::name))?;
    lines.line("resin", record.resin.map(hardware::Resin::name))?;
    lines.line("rated along face", record.rated_radial.map(|f| units.force(f)))?;
    lines.line("rated straight out", record.rated_axial.map(|f| units.force(f)))?;
    lines.line("torque", record.torque.map(|t| units.torque(t)))?;
    lines.line("batch", record.batch.as_deref())?;
    lines.line("set by", record.set_by.as_deref())?;
    lines.line("note", record.note.as_deref())
}

fn show_sighting(
    out: &mut dyn Write,
    sighting: Known<SightingRecord>,
    units: UnitSystem,
) -> Result<(), Failure> {
    let record = sighting.record;
    let by = record.by.as_deref().map_or_else(String::new, |by| format!(" by {by}"));
    writeln!(out, "\n{} {}{by}", words::heading("Sighting"), words::date(record.on))?;
    for seen in record.signs.iter().flatten() {
        writeln!(out, "  {}", words::seen(seen))?;
    }
    let mut lines = Lines(out);
    lines.line("proud of rock", record.proud.map(|l| units.length(l)))?;
    lines.line("steel lost", record.measured_loss.map(|l| units.length(l)))?;
    lines.line("edge distance", record.edge_distance.map(|l| units.length(l)))?;
    lines.line("torque", record.torque.map(|t| units.torque(t)))?;
    lines.line("rebound", record.rebound)?;
    lines.line("note", record.note.as_deref())
}

fn show_pull(out: &mut dyn Write, pull: Known<PullRecord>, units: UnitSystem) -> Result<(), Failure> {
    let record = pull.record;
    let by = record.by.as_deref().map_or_else(String::new, |by| format!(" by {by}"));
    writeln!(out, "\n{} {}{by}", words::heading("Pull"), words::date(record.on))?;
    let mut lines = Lines(out);
    lines.line("peak", record.peak.map(|f| units.force(f)))?;
    lines
        .line("direction", record.axial.map(|axial| if axial { "straight out" } else { "along the face" }))?;
    lines.line("end", record.end.map(words::pull_end))?;
    lines.line("moved at peak", record.displacement_at_peak.map(|l| units.length(l)))?;
    lines.line("trace", record.trace.as_deref())?;
    lines.line("note", record.note.as_deref())
}

fn answer<'a>(
    state: &'a State,
    placement: Known<'a, PlacementRecord>,
    call: Option<judgement::Call>,
    today: Date,
) -> Answer<'a> {
    let record = placement.record;
    let crag = state.crag_of(placement.id).and_then(|id| state.crag(id));
    Answer {
        format: FORMAT,
        placement: PlacementAnswer::new(state, placement, today),
        edge_distance_mm: mm(record.edge_distance),
        spacing_mm: mm(record.spacing),
        steepness: record.steepness,
        shelter: record.shelter,
        rock: record.rock_type.or(crag.and_then(|crag| crag.rock_type)),
        field_grade: record.grade,
        rebound: record.rebound,
        soundness: record.soundness,
        wetness: record.wetness,
        note: record.note.as_deref(),
        fittings: state
            .fittings_of(placement.id)
            .map(|Known { id, record }| FittingAnswer {
                fitting: id,
                placed_on: record.placed_on,
                placed_year: record.placed_year,
                removed_on: record.removed_on,
                kind: record.kind,
                diameter_mm: mm(record.diameter),
                length_mm: mm(record.length),
                embedment_mm: mm(record.embedment),
                material: record.material,
                hanger_material: record.hanger_material,
                resin: record.resin,
                rated_radial_kn: record.rated_radial.map(|f| tidy(f.as_kn())),
                rated_axial_kn: record.rated_axial.map(|f| tidy(f.as_kn())),
                torque_nm: record.torque.map(|t| tidy(t.as_nm())),
                batch: record.batch.as_deref(),
                set_by: record.set_by.as_deref(),
                note: record.note.as_deref(),
            })
            .collect(),
        sightings: state
            .sightings_of(placement.id)
            .map(|Known { id, record }| SightingAnswer {
                sighting: id,
                on: record.on,
                by: record.by.as_deref(),
                signs: record.signs.as_deref().unwrap_or(&[]),
                proud_mm: mm(record.proud),
                measured_loss_mm: mm(record.measured_loss),
                torque_nm: record.torque.map(|t| tidy(t.as_nm())),
                rebound: record.rebound,
                note: record.note.as_deref(),
            })
            .collect(),
        pulls: state
            .pulls_of(placement.id)
            .map(|Known { id, record }| PullAnswer {
                pull: id,
                on: record.on,
                by: record.by.as_deref(),
                peak_kn: record.peak.map(|f| tidy(f.as_kn())),
                axial: record.axial,
                end: record.end,
                displacement_at_peak_mm: mm(record.displacement_at_peak),
                trace: record.trace.as_deref(),
                note: record.note.as_deref(),
            })
            .collect(),
        photos: state
            .photos_of(placement.id)
            .map(|Known { id, record }| PhotoAnswer {
                photo: id,
                file: record.file.as_deref(),
                taken_at: record.taken_at.as_deref(),
            })
            .collect(),
        call,
        judged_on: today,
        caution: caution::SHORT,
    }
}
