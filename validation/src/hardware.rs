//! Standard requirements, ratings and what the trade counts as usual.

use crate::{Computation, Error, computation};
use hardware::Catalogue;
use units::Length;

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("standard_limit", |i| {
            let (document, edition) = (i.text("document")?, i.text("edition")?);
            let standard = Catalogue::built_in()
                .standard(document, edition)
                .ok_or_else(|| Error::model(format!("no {document}, edition {edition}")))?;
            let limit = i.choice(
                "of",
                &[
                    ("axial", 0),
                    ("radial", 1),
                    ("glue-in length", 2),
                    ("mechanical length", 3),
                    ("thickness", 4),
                ],
            )?;
            Ok(match limit {
                0 => standard.axial().as_kn(),
                1 => standard.radial().as_kn(),
                2 => standard.glue_in_length().as_mm(),
                3 => standard.mechanical_length_in_hole_diameters,
                _ => standard
                    .attachment_thickness()
                    .map(Length::as_mm)
                    .ok_or_else(|| Error::model("this edition gives no thickness"))?,
            })
        }),
        computation("tabled_stress_area_mm2", |i| {
            let name = i.text("thread")?;
            let found = Catalogue::built_in().threads().iter().find(|t| t.name == name);
            found.map(|t| t.stress_area_mm2).ok_or_else(|| Error::model(format!("no thread {name}")))
        }),
    ]
}
