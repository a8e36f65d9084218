//! The truth, for scoring.

use crate::File;
use crate::hardware::Defect;
use crate::loads::{angle, annual_failure};
use crate::pulls::Pull;
use crate::sheets::words;
use crate::strength;
use crate::world::{NOW, World};
use anyhow::Result;

/// One row per placement: what is in it now and what that would hold.
pub(crate) fn placements(world: &World) -> Result<File> {
    let mut out = csv::Writer::from_writer(Vec::new());
    out.write_record([
        "placement",
        "kind",
        "diameter_mm",
        "embedment_mm",
        "material",
        "placed",
        "set_by",
        "batch",
        "defect",
        "rock_ucs_mpa",
        "steel_loss_per_side_mm",
        "cracked",
        "axial_kn",
        "axial_mode",
        "radial_kn",
        "radial_mode",
        "angle_from_axis_deg",
        "resistance_kn",
        "mode",
        "annual_failure",
    ])?;
    for placement in &world.placements {
        let hardware = &placement.hardware;
        let strength = strength::of(hardware, &placement.spot, world.here(placement), NOW);
        let angle = angle(placement);
        let (resistance, mode) = strength.at(angle);
        let defect = match hardware.defect {
            Defect::None => "none",
            Defect::OverDrilled => "hole drilled too wide",
            Defect::NeverExpanded => "never expanded",
            Defect::HoleNotCleaned => "hole not cleaned",
            Defect::ResinUnset => "resin unset",
            Defect::ShortHole => "hole too short",
            Defect::SmoothRod => "smooth rod",
        };
        out.write_record([
            world.identity(placement),
            words::kind_key(hardware.kind).to_owned(),
            format!("{:.2}", hardware.diameter),
            format!("{:.1}", hardware.embedment),
            words::metal_key(hardware.metal).to_owned(),
            hardware.placed.to_string(),
            hardware.setter.unwrap_or_default().to_owned(),
            hardware.batch.unwrap_or_default().to_owned(),
            defect.to_owned(),
            format!("{:.1}", placement.spot.ucs),
            format!("{:.3}", strength.loss),
            strength.cracked.to_string(),
            format!("{:.2}", strength.axial),
            strength.axial_mode.word().to_owned(),
            format!("{:.2}", strength.radial),
            strength.radial_mode.word().to_owned(),
            format!("{angle:.0}"),
            format!("{resistance:.2}"),
            mode.word().to_owned(),
            format!("{:.6}", annual_failure(placement, world.route_of(placement).traffic, resistance)),
        ])?;
    }
    Ok(File::new("truth/truth.csv", out.into_inner()?))
}

/// One row per pull: what the pulled hardware would have held in that direction on that day.
pub(crate) fn pulled(world: &World, pulls: &[Pull]) -> Result<File> {
    let mut out = csv::Writer::from_writer(Vec::new());
    out.write_record([
        "placement",
        "date",
        "trace",
        "direction",
        "true_strength_kn",
        "peak_kn",
        "renewed_after",
    ])?;
    for pull in pulls {
        let placement = &world.placements[pull.placement];
        out.write_record([
            world.identity(placement),
            pull.on.to_string(),
            crate::trace::name(pull),
            if pull.axial { "axial" } else { "radial" }.to_owned(),
            format!("{:.2}", pull.truth),
            format!("{:.2}", pull.peak),
            placement.former.is_some().to_string(),
        ])?;
    }
    Ok(File::new("truth/pulled.csv", out.into_inner()?))
}
