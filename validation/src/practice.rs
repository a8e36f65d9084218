//! What the trade counts as usual, without a publication behind it.

use crate::{Computation, computation};
use demand::{Position, Role, Steepness, UseClass, demand};
use hardware::{Fitting, Kind, Material, Rating, hanger_resistance};
use reckoning::Silent;
use resistance::{Anchorage, modes};
use rock::{FieldGrade, RockEvidence, RockType, Soundness, Surroundings, Wetness};
use units::{Angle, Force, Length};

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("marked_hanger_radial", |i| {
            let rating = Rating {
                radial: Force::kn(i.number("marked_radial_kn")?),
                axial: Force::kn(i.number("marked_axial_kn")?),
            };
            let material = i.choice(
                "material",
                &[
                    ("304", Material::Stainless304),
                    ("316", Material::Stainless316),
                    ("duplex", Material::Duplex),
                ],
            )?;
            let fitting = Fitting {
                kind: Some(Kind::WedgeBolt),
                hanger_material: Some(material),
                rating: Some(rating),
                ..Fitting::default()
            };
            Ok(hanger_resistance(&fitting).radial.fractile(i.number("share_below")?).as_kn())
        }),
        computation("well_set_modern_bolt", |i| {
            let kind = i.choice("kind", &[("wedge bolt", Kind::WedgeBolt), ("glue-in", Kind::GlueIn)])?;
            let rating = Rating { radial: Force::kn(25.0), axial: Force::kn(15.0) };
            let fitting = Fitting {
                kind: Some(kind),
                diameter: Some(Length::mm(i.number("diameter_mm")?)),
                embedment: Some(Length::mm(i.number("embedment_mm")?)),
                material: Some(Material::Stainless316),
                hanger_material: (kind == Kind::WedgeBolt).then_some(Material::Stainless316),
                rating: Some(rating),
                ..Fitting::default()
            };
            let rock = RockEvidence {
                rock_type: Some(RockType::Granite),
                grade: Some(FieldGrade::R5),
                wetness: Some(Wetness::Dry),
                soundness: Some(Soundness::Massive),
                ..RockEvidence::default()
            };
            let far = Length::m(2.0);
            let anchorage = Anchorage {
                fitting,
                rock: rock::strength(&rock, &mut Silent),
                surroundings: Surroundings { edge_distance: Some(far), spacing: Some(far) },
                proud: Some(Length::mm(0.0)),
                direction: Angle::deg(90.0),
                direction_spread: Angle::deg(0.0),
            };
            let weakest =
                modes(&anchorage, &mut Silent).iter().fold(f64::INFINITY, |w, m| w.min(m.median.as_kn()));
            Ok(weakest)
        }),
        computation("sport_fall_on_runner", |i| {
            let position = Position {
                role: Some(Role::Runner),
                number: Some(u16::try_from(i.whole("number")?).unwrap_or(u16::MAX)),
                height: Some(Length::m(i.number("height_m")?)),
                next_gap: Some(Length::m(i.number("next_gap_m")?)),
                steepness: Some(Steepness::Vertical),
                use_class: Some(UseClass::Regular),
            };
            Ok(demand(&position, &mut Silent).per_fall.fractile(i.number("share_below")?).as_kn())
        }),
    ]
}
