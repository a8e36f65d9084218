//! The cells of one row, sorted into the records they belong to.

use crate::cell::Value;
use crate::column::Column;
use crate::dates::Known;
use crate::label::Label;
use crate::signs;
use evidence::{Extent, Seen};
use jiff::civil::Date;
use register::{
    BatchRecord, CragRecord, FittingRecord, PlacementRecord, PullRecord, RouteRecord, SightingRecord,
    StockRecord,
};
use units::Length;

/// The cells of one row.
#[derive(Default)]
pub(crate) struct Fields {
    pub crag_name: String,
    pub route_name: String,
    pub placement_ref: String,
    pub label: Option<Label>,
    pub pitch: Option<u16>,
    pub date: Option<Known>,
    pub removed: Option<Known>,
    /// Diameter that stands in the size column.
    pub size_diameter: Option<Length>,
    pub size_length: Option<Length>,
    pub extent: Option<Extent>,
    pub notes: Vec<String>,
    pub crag: CragRecord,
    pub route: RouteRecord,
    pub placement: PlacementRecord,
    pub fitting: FittingRecord,
    pub sighting: SightingRecord,
    pub pull: PullRecord,
    pub batch: BatchRecord,
    pub stock: StockRecord,
}

/// The day of a date, if the day is known.
pub(crate) fn day(known: Option<Known>) -> Option<Date> {
    match known {
        Some(Known::Day(date)) => Some(date),
        _ => None,
    }
}

impl Fields {
    /// Puts one cell where it belongs. `text` is the cell as written. Columns that several kinds of sheet
    /// have are put into all their records; the kind of sheet decides which are used.
    pub(crate) fn put(&mut self, column: Column, value: &Value, text: &str) {
        use Column as C;
        match (column, value) {
            (C::Crag, _) => self.crag_name.push_str(text),
            (C::Route, _) => self.route_name.push_str(text),
            (C::Placement, _) => self.placement_ref.push_str(text),
            (C::Sector, _) => self.route.sector = Some(text.to_owned()),
            (C::ClimbingGrade, _) => self.route.grade = Some(text.to_owned()),
            (C::Note, _) => self.notes.push(text.to_owned()),
            (C::Batch, _) => {
                self.fitting.batch = Some(text.to_owned());
                self.batch.code = Some(text.to_owned());
            }
            (C::SetBy, _) => self.fitting.set_by = Some(text.to_owned()),
            (C::By, _) => {
                self.sighting.by = Some(text.to_owned());
                self.pull.by = Some(text.to_owned());
            }
            (C::Trace, _) => self.pull.trace = Some(text.to_owned()),
            (C::Item, _) => self.stock.name = Some(text.to_owned()),
            (C::What, _) => self.batch.what = Some(text.to_owned()),
            (C::Recalled, _) => self.batch.recalled = Some(text.to_owned()),
            (C::Number, Value::Label(label)) => self.label = Some(label.clone()),
            (C::Pitch, Value::Count(n)) => self.pitch = u16::try_from(*n).ok(),
            (C::Role, Value::Role(v)) => self.placement.role = Some(*v),
            (C::Height, Value::Length(v)) => self.placement.height = Some(*v),
            (C::Steepness, Value::Steepness(v)) => {
                self.placement.steepness = Some(*v);
                self.route.steepness = Some(*v);
            }
            (C::Shelter, Value::Shelter(v)) => self.placement.shelter = Some(*v),
            (C::EdgeDistance, Value::Length(v)) => {
                self.placement.edge_distance = Some(*v);
                self.sighting.edge_distance = Some(*v);
            }
            (C::Spacing, Value::Length(v)) => self.placement.spacing = Some(*v),
            (C::RockType, Value::RockType(v)) => {
                self.placement.rock_type = Some(*v);
                self.crag.rock_type = Some(*v);
            }
            (C::RockGrade, Value::RockGrade(v)) => {
                self.placement.grade = Some(*v);
                self.crag.grade = Some(*v);
            }
            (C::Rebound, Value::Number(v)) => {
                self.placement.rebound = Some(*v);
                self.sighting.rebound = Some(*v);
            }
            (C::PointLoadIndex, Value::Stress(v)) => self.placement.point_load_index = Some(*v),
            (C::Soundness, Value::Soundness(v)) => self.placement.soundness = Some(*v),
            (C::Wetness, Value::Wetness(v)) => {
                self.placement.wetness = Some(*v);
                self.crag.wetness = Some(*v);
            }
            (C::Latitude, Value::Number(v)) => self.put_position(Some(*v), None),
            (C::Longitude, Value::Number(v)) => self.put_position(None, Some(*v)),
            (C::Coordinates, Value::Position { latitude, longitude }) => {
                self.put_position(Some(*latitude), Some(*longitude));
            }
            (C::Kind, Value::Kind(v)) => self.fitting.kind = Some(*v),
            (C::Size, Value::Size(v)) => {
                self.size_diameter = Some(v.diameter);
                self.size_length = v.length;
            }
            (C::Diameter, Value::Length(v)) => self.fitting.diameter = Some(*v),
            (C::Length, Value::Length(v)) => self.fitting.length = Some(*v),
            (C::Embedment, Value::Length(v)) => self.fitting.embedment = Some(*v),
            (C::Material, Value::Material(v)) => self.fitting.material = Some(*v),
            (C::HangerMaterial, Value::Material(v)) => self.fitting.hanger_material = Some(*v),
            (C::Resin, Value::Resin(v)) => self.fitting.resin = Some(*v),
            (C::Rating, Value::Rating { radial, axial }) => {
                self.fitting.rated_radial = Some(*radial);
                self.fitting.rated_axial = *axial;
            }
            (C::RatedRadial, Value::Rating { radial, .. }) => self.fitting.rated_radial = Some(*radial),
            (C::RatedAxial, Value::Rating { radial, .. }) => self.fitting.rated_axial = Some(*radial),
            (C::Torque, Value::Torque(v)) => {
                self.fitting.torque = Some(*v);
                self.sighting.torque = Some(*v);
            }
            (C::PlacedOn, Value::Date(known, note)) => {
                self.date = Some(*known);
                if let Some(note) = note {
                    self.notes.push(format!("placed {note}"));
                }
            }
            (C::RemovedOn, Value::Date(known, _)) => self.removed = Some(*known),
            (C::On, Value::Date(known, _)) => self.date = Some(*known),
            (C::BoughtOn, Value::Date(known, _)) => self.batch.bought_on = known.earliest(),
            (C::ExpiresOn, Value::Date(known, _)) => self.batch.expires_on = known.earliest(),
            (C::Signs | C::Absent, Value::Signs(seen)) => {
                let mut seen = seen.clone();
                if let Some(extent) = self.extent {
                    signs::with_extent(&mut seen, extent);
                }
                self.put_signs(seen);
            }
            (C::Sign(sign), Value::Finding(finding)) => {
                self.put_signs(vec![Seen { sign, finding: *finding }])
            }
            (C::Extent, Value::Extent(extent)) => {
                self.extent = Some(*extent);
                if let Some(seen) = &mut self.sighting.signs {
                    signs::with_extent(seen, *extent);
                }
            }
            (C::Proud, Value::Length(v)) => self.sighting.proud = Some(*v),
            (C::MeasuredLoss, Value::Length(v)) => self.sighting.measured_loss = Some(*v),
            (C::Peak, Value::Force(v)) => self.pull.peak = Some(*v),
            (C::Direction, Value::Axial(v)) => self.pull.axial = Some(*v),
            (C::End, Value::PullEnd(v)) => self.pull.end = Some(*v),
            (C::Displacement, Value::Length(v)) => self.pull.displacement_at_peak = Some(*v),
            (C::TestedUcs, Value::Stress(v)) => self.crag.tested_ucs = Some(*v),
            (C::UnitWeight, Value::Number(v)) => self.crag.unit_weight_kn_per_m3 = Some(*v),
            (C::Setting, Value::Setting(v)) => self.crag.setting = Some(*v),
            (C::Temperature, Value::Temperature(v)) => self.crag.temperature = Some(*v),
            (C::Humidity, Value::Number(v)) => self.crag.relative_humidity_percent = Some(*v),
            (C::Sulphur, Value::Number(v)) => self.crag.sulphur_mg_m2_d = Some(*v),
            (C::Chloride, Value::Number(v)) => self.crag.chloride_mg_m2_d = Some(*v),
            (C::VisitHours, Value::Number(v)) => self.crag.visit_hours = Some(*v),
            (C::VisitCost, Value::Number(v)) => self.crag.visit_cost = Some(*v),
            (C::RouteLength, Value::Length(v)) => self.route.length = Some(*v),
            (C::UseClass, Value::UseClass(v)) => self.route.use_class = Some(*v),
            (C::InHand, Value::Count(v)) => self.stock.in_hand = Some(*v),
            (C::Price, Value::Number(v)) => self.stock.price = Some(*v),
            _ => {}
        }
    }

    fn put_position(&mut self, latitude: Option<f64>, longitude: Option<f64>) {
        if latitude.is_some() {
            self.crag.latitude_deg = latitude;
            self.route.latitude_deg = latitude;
            self.placement.latitude_deg = latitude;
        }
        if longitude.is_some() {
            self.crag.longitude_deg = longitude;
            self.route.longitude_deg = longitude;
            self.placement.longitude_deg = longitude;
        }
    }

    /// Adds signs; one seen in two columns keeps the finding of greater extent.
    fn put_signs(&mut self, more: Vec<Seen>) {
        let signs = self.sighting.signs.get_or_insert_default();
        for seen in more {
            match signs.iter_mut().find(|s| s.sign == seen.sign) {
                Some(known) => {
                    if known.finding < seen.finding {
                        known.finding = seen.finding;
                    }
                }
                None => signs.push(seen),
            }
        }
    }

    /// All remarks as one note.
    pub(crate) fn note(&mut self) -> Option<String> {
        match self.notes.len() {
            0 => None,
            1 => self.notes.pop(),
            _ => Some(std::mem::take(&mut self.notes).join("; ")),
        }
    }
}

/// Signs in their fixed order, so that the same row always gives the same list.
pub(crate) fn sorted(mut signs: Vec<Seen>) -> Vec<Seen> {
    signs.sort_by_key(|seen| (seen.sign, seen.finding));
    signs
}

/// Joins findings of two rows of one sighting; false if they contradict each other.
pub(crate) fn join_signs(into: &mut Vec<Seen>, more: &[Seen]) -> bool {
    for seen in more {
        match into.iter().find(|s| s.sign == seen.sign) {
            Some(known) if known.finding != seen.finding => return false,
            Some(_) => {}
            None => into.push(*seen),
        }
    }
    true
}
