//! What the trade counts as usual, without a publication behind it.

use crate::{Computation, computation};
use demand::{Position, Role, Steepness, UseClass, demand};
use hardware::{Fitting, Kind, Material, Rating, hanger_resistance};
use reckoning::Silent;
use units::{Force, Length};

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
