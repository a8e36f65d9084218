//! JSON forms that several commands share. Field names carry units; docs/json.md describes them.
#![allow(missing_docs)]

use jiff::civil::Date;
use judgement::{Band, Call, Chance, Judgement, ReasonKind};
use reckoning::Origin;
use register::{FittingRecord, Known, PlacementRecord, State};
use resistance::{Mode, Source};
use serde::Serialize;
use units::{Length, UnitSystem};

/// Version of all JSON answers; it rises when a field changes its meaning or goes.
pub const FORMAT: u32 = 1;

/// A placement and the hardware in it.
#[derive(Debug, Serialize)]
pub struct PlacementAnswer<'a> {
    /// Identity.
    pub placement: &'a str,
    /// Identity of the crag.
    pub crag: Option<&'a str>,
    /// Identity of the route.
    pub route: Option<&'a str>,
    pub pitch: Option<u16>,
    /// From the ground up, 1 = first.
    pub number: Option<u16>,
    pub role: Option<demand::Role>,
    pub height_m: Option<f64>,
    pub kind: Option<hardware::Kind>,
    pub diameter_mm: Option<f64>,
    pub length_mm: Option<f64>,
    pub embedment_mm: Option<f64>,
    pub material: Option<hardware::Material>,
    pub placed_on: Option<Date>,
    pub placed_year: Option<i16>,
    /// Newest sighting.
    pub last_seen_on: Option<Date>,
}

impl<'a> PlacementAnswer<'a> {
    /// As known on a date.
    pub fn new(state: &'a State, known: Known<'a, PlacementRecord>, on: Date) -> Self {
        let none = FittingRecord::default();
        let current = state.current_fitting(known.id, on);
        let fitting = current.as_ref().map_or(&none, |fitting| fitting.record);
        let mm = |length: Option<Length>| length.map(|l| tidy(l.as_mm()));
        Self {
            placement: known.id,
            crag: state.crag_of(known.id),
            route: known.record.route.as_deref(),
            pitch: known.record.pitch,
            number: known.record.number,
            role: known.record.role,
            height_m: known.record.height.map(|height| tidy(height.as_m())),
            kind: fitting.kind,
            diameter_mm: mm(fitting.diameter),
            length_mm: mm(fitting.length),
            embedment_mm: mm(fitting.embedment),
            material: fitting.material,
            placed_on: fitting.placed_on,
            placed_year: fitting.placed_year.or(fitting.placed_on.map(Date::year)),
            last_seen_on: last_seen(state, known.id, on),
        }
    }
}

/// Date of the newest sighting on or before a day.
pub fn last_seen(state: &State, placement: &str, on: Date) -> Option<Date> {
    state.sightings_of(placement).rev().filter_map(|sighting| sighting.record.on).find(|date| *date <= on)
}

/// Fractiles of a load in kN.
#[derive(Debug, Serialize)]
pub struct BandAnswer {
    pub p05_kn: f64,
    pub p50_kn: f64,
    pub p95_kn: f64,
}

impl From<Band> for BandAnswer {
    fn from(band: Band) -> Self {
        Self {
            p05_kn: tidy(band.p05.as_kn()),
            p50_kn: tidy(band.p50.as_kn()),
            p95_kn: tidy(band.p95.as_kn()),
        }
    }
}

/// A chance and how far better evidence could move it.
#[derive(Debug, Serialize)]
pub struct ChanceAnswer {
    pub best: f64,
    pub low: f64,
    pub high: f64,
}

impl From<Chance> for ChanceAnswer {
    fn from(chance: Chance) -> Self {
        Self { best: tidy(chance.best), low: tidy(chance.low), high: tidy(chance.high) }
    }
}

/// A judgement.
#[derive(Debug, Serialize)]
pub struct JudgementAnswer {
    pub call: Call,
    pub call_meaning: &'static str,
    pub holds_hard_fall: ChanceAnswer,
    pub holds_year: ChanceAnswer,
    pub resistance: BandAnswer,
    pub characteristic_resistance_kn: f64,
    pub governing_mode: Mode,
    pub modes: Vec<ModeAnswer>,
    pub demand: DemandAnswer,
    pub years_left: YearsAnswer,
    pub reasons: Vec<ReasonAnswer>,
    pub missing: Vec<MissingAnswer>,
}

/// One failure mode.
#[derive(Debug, Serialize)]
pub struct ModeAnswer {
    pub mode: Mode,
    pub resistance: BandAnswer,
    /// Chance that it is the weakest.
    pub governs: f64,
}

/// The load to be held.
#[derive(Debug, Serialize)]
pub struct DemandAnswer {
    pub per_fall: BandAnswer,
    pub hard_fall_kn: f64,
    pub worst_year: BandAnswer,
    pub falls_per_year: f64,
    /// From the rock's normal.
    pub direction_deg: f64,
}

/// Years left; null = beyond the horizon.
#[derive(Debug, Serialize)]
pub struct YearsAnswer {
    pub best_years: Option<f64>,
    pub low_years: Option<f64>,
    pub high_years: Option<f64>,
    pub horizon_years: f64,
}

/// A reason.
#[derive(Debug, Serialize)]
pub struct ReasonAnswer {
    pub kind: ReasonKind,
    pub text: String,
    /// Factor on the median resistance.
    pub effect: f64,
    pub origin: Origin,
}

/// Evidence that is missing.
#[derive(Debug, Serialize)]
pub struct MissingAnswer {
    pub source: Source,
    /// Share of the variance that knowing it would remove.
    pub share: f64,
    pub advice: &'static str,
}

impl From<&Judgement> for JudgementAnswer {
    fn from(j: &Judgement) -> Self {
        Self {
            call: j.call,
            call_meaning: j.call.meaning(),
            holds_hard_fall: j.holds_hard_fall.into(),
            holds_year: j.holds_year.into(),
            resistance: j.resistance.into(),
            characteristic_resistance_kn: tidy(j.characteristic.as_kn()),
            governing_mode: j.governing,
            modes: j
                .modes
                .iter()
                .map(|m| ModeAnswer { mode: m.mode, resistance: m.band.into(), governs: tidy(m.governs) })
                .collect(),
            demand: DemandAnswer {
                per_fall: j.demand.per_fall.into(),
                hard_fall_kn: tidy(j.demand.hard_fall.as_kn()),
                worst_year: j.demand.worst_year.into(),
                falls_per_year: tidy(j.demand.falls_per_year),
                direction_deg: tidy(j.demand.direction.as_deg()),
            },
            years_left: YearsAnswer {
                best_years: j.years_left.best.map(tidy),
                low_years: j.years_left.low.map(tidy),
                high_years: j.years_left.high.map(tidy),
                horizon_years: j.years_left.horizon,
            },
            reasons: j
                .reasons
                .iter()
                .map(|r| ReasonAnswer {
                    kind: r.kind,
                    text: r.statement.text(UnitSystem::Metric),
                    effect: tidy(r.effect),
                    origin: r.origin,
                })
                .collect(),
            missing: j
                .missing
                .iter()
                .map(|m| MissingAnswer { source: m.source, share: tidy(m.share), advice: m.advice })
                .collect(),
        }
    }
}

/// Six significant figures: more would suggest a precision that is not there, fewer would hide small
/// chances.
pub fn tidy(value: f64) -> f64 {
    if !value.is_finite() || value == 0.0 {
        return value;
    }
    format!("{value:.5e}").parse().unwrap_or(value)
}
