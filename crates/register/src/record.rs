//! The records. Every field is optional: unknown stays unknown.
//!
//! `record!` makes of each list a struct of public `Option` fields (`name: String` becomes
//! `pub name: Option<String>`) that is stored as JSON without the unknown fields, and its
//! [`Record`](crate::Record).

use crate::field::record;
use decay::{Setting, Shelter};
use demand::{Role, Steepness, UseClass};
use evidence::Seen;
use hardware::{Kind, Material, Resin};
use jiff::civil::Date;
use rock::{FieldGrade, RockType, Soundness, Wetness};
use serde::{Deserialize, Serialize};
use units::{Force, Length, Stress, Temperature, Torque};

record! {
    /// A crag and what is known of its rock and climate.
    CragRecord {
        name: String,
        latitude_deg: f64,
        longitude_deg: f64,
        rock_type: RockType,
        grade: FieldGrade,
        tested_ucs: Stress,
        unit_weight_kn_per_m3: f64,
        wetness: Wetness,
        setting: Setting,
        temperature: Temperature,
        relative_humidity_percent: f64,
        sulphur_mg_m2_d: f64,
        chloride_mg_m2_d: f64,
        visit_hours: f64,
        visit_cost: f64,
        note: String,
    }
}

record! {
    /// A route.
    RouteRecord {
        name: String,
        /// Identity of the crag.
        crag: String,
        sector: String,
        /// Climbing grade as written.
        grade: String,
        length: Length,
        steepness: Steepness,
        use_class: UseClass,
        latitude_deg: f64,
        longitude_deg: f64,
        note: String,
    }
}

record! {
    /// One hole in the rock.
    PlacementRecord {
        /// Identity of the route.
        route: String,
        /// Number from the ground up, 1 = first.
        number: u16,
        pitch: u16,
        role: Role,
        /// Height above the start of the pitch.
        height: Length,
        steepness: Steepness,
        shelter: Shelter,
        edge_distance: Length,
        spacing: Length,
        rock_type: RockType,
        grade: FieldGrade,
        rebound: f64,
        point_load_index: Stress,
        soundness: Soundness,
        wetness: Wetness,
        latitude_deg: f64,
        longitude_deg: f64,
        note: String,
    }
}

record! {
    /// The hardware in a placement for a span of time.
    FittingRecord {
        /// Identity of the placement.
        placement: String,
        placed_on: Date,
        /// Year alone, where only that is known.
        placed_year: i16,
        removed_on: Date,
        kind: Kind,
        diameter: Length,
        length: Length,
        embedment: Length,
        material: Material,
        hanger_material: Material,
        resin: Resin,
        rated_radial: Force,
        rated_axial: Force,
        torque: Torque,
        batch: String,
        set_by: String,
        note: String,
    }
}

record! {
    /// One inspection of a placement on a date by a person.
    SightingRecord {
        /// Identity of the placement.
        placement: String,
        on: Date,
        by: String,
        /// Findings of the signs that were looked for.
        signs: Vec<Seen>,
        proud: Length,
        measured_loss: Length,
        edge_distance: Length,
        torque: Torque,
        rebound: f64,
        note: String,
    }
}

/// How a pull test ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PullEnd {
    /// A proof load held.
    ProofHeld,
    /// The steel broke.
    SteelBroke,
    /// The hanger or eye broke.
    HangerBroke,
    /// A cone of rock came out.
    Cone,
    /// The bolt slipped or pulled through.
    PulledOut,
    /// The bond gave way.
    BondFailed,
    /// Stopped for another reason (rig, time).
    Stopped,
}

record! {
    /// One pull test.
    PullRecord {
        /// Identity of the placement.
        placement: String,
        on: Date,
        by: String,
        /// Greatest load reached.
        peak: Force,
        /// True = straight out of the rock, false = along the face.
        axial: bool,
        end: PullEnd,
        displacement_at_peak: Length,
        /// File name of the load trace and its SHA-256.
        trace: String,
        trace_sha256: String,
        note: String,
    }
}

record! {
    /// A photo, known by its content.
    PhotoRecord {
        file: String,
        sha256: String,
        /// Local time from the camera, ISO 8601 without zone.
        taken_at: String,
        latitude_deg: f64,
        longitude_deg: f64,
        /// Identity of the placement or route it shows, where known.
        shows: String,
    }
}

record! {
    /// A purchase lot.
    BatchRecord {
        code: String,
        what: String,
        bought_on: Date,
        expires_on: Date,
        recalled: String,
    }
}

record! {
    /// Hardware in hand and its price.
    StockRecord {
        name: String,
        in_hand: u32,
        price: f64,
    }
}
