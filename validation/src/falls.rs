//! Falls, ropes, friction and load spectra.

use crate::{Computation, Error, Inputs, computation};
use demand::friction::{
    bolt_force, capstan, friction_from_raise_and_lower, friction_from_ratio, slip_bound, top_bolt_force,
};
use demand::impact::{impact_force, modulus_from_rating, peak_strain, time_to_peak};
use demand::path::{Bend, effective_length, forces_along, impact_force_on_path};
use demand::{greatest_below, standards};
use reckoning::Uncertain;
use units::{Angle, Force, Length, Mass, Ratio};

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("rope_modulus_from_rating", |i| {
            modulus_from_rating(
                Force::kn(i.number("rating_kn")?),
                Mass::kg(i.number("mass_kg")?),
                Ratio::of(i.number("fall_factor")?),
            )
            .map(Force::as_n)
            .ok_or_else(|| Error::Model("the rating is below twice the weight".to_owned()))
        }),
        computation("impact_force", |i| Ok(impact(i)?.as_n())),
        computation("impact_strain", |i| Ok(peak_strain(impact(i)?, modulus(i)?).get())),
        computation("impact_time_to_peak", |i| {
            let rope = i.number("rope_m")?;
            let fall = rope * i.number("fall_factor")?;
            Ok(time_to_peak(mass(i)?, modulus(i)?, Length::m(rope), Length::m(fall)))
        }),
        computation("capstan_ratio", |i| Ok(capstan(friction(i)?, Angle::deg(i.number("wrap_deg")?)).get())),
        computation("friction_from_raise_and_lower", |i| {
            let [raise, lower] = ["raise_kgf", "lower_kgf"].map(|name| i.number(name).map(Force::kgf));
            Ok(friction_from_raise_and_lower(raise?, lower?, Angle::deg(i.number("wrap_deg")?)).get())
        }),
        computation("friction_from_ratio", |i| Ok(friction_from_ratio(Ratio::of(i.number("ratio")?)).get())),
        computation("bolt_force", |i| {
            let [a, b] = ["strand_a_kn", "strand_b_kn"].map(|name| i.number(name).map(Force::kn));
            Ok(bolt_force(a?, b?, Angle::deg(i.number("wrap_deg")?)).as_kn())
        }),
        computation("top_bolt_force", |i| {
            Ok(top_bolt_force(Force::kn(i.number("climber_kn")?), Ratio::of(i.number("ratio")?)).as_kn())
        }),
        computation("slip_bound", |i| {
            let (c, t) = slip_bound(Force::kn(i.number("slip_kn")?), Ratio::of(i.number("ratio")?));
            i.choice("at", &[("climber", c.as_kn()), ("top bolt", t.as_kn())])
        }),
        computation("path_effective_length", |i| {
            Ok(effective_length(Length::m(i.number("first_m")?), &bends(i)?, friction(i)?).as_m())
        }),
        computation("path_climber_force", |i| Ok(climber_on_path(i)?.as_n())),
        computation("path_tension_behind", |i| {
            let all: Vec<f64> =
                forces_along(climber_on_path(i)?, &bends(i)?, friction(i)?).map(|(t, _)| t.as_n()).collect();
            i.pick("bolt", &all)
        }),
        computation("path_bolt_force", |i| {
            let all: Vec<f64> =
                forces_along(climber_on_path(i)?, &bends(i)?, friction(i)?).map(|(_, b)| b.as_n()).collect();
            i.pick("bolt", &all)
        }),
        computation("dynamic_rope_limit", |i| {
            let s = standards();
            let rope = i.choice(
                "type",
                &[("single", &s.en892_single), ("half", &s.en892_half), ("twin", &s.en892_twin)],
            )?;
            i.choice(
                "limit",
                &[
                    ("peak force", rope.peak_kn),
                    ("static elongation", rope.static_elongation_percent),
                    ("dynamic elongation", rope.dynamic_elongation_percent),
                    ("falls", f64::from(rope.falls)),
                ],
            )
        }),
        computation("low_stretch_rope_limit", |i| {
            let s = standards();
            let rope = i.choice("type", &[("A", &s.en1891_a), ("B", &s.en1891_b)])?;
            i.choice(
                "limit",
                &[
                    ("static strength", rope.static_strength_kn),
                    ("knotted strength", rope.knotted_strength_kn),
                    ("peak force", rope.peak_kn),
                    ("elongation", rope.elongation_percent),
                ],
            )
        }),
        computation("load_fractile", |i| Ok(one_loading(i)?.fractile(i.number("p")?).as_kn())),
        computation("greatest_of_loadings_exceeds", |i| {
            let below = one_loading(i)?.cdf(Force::kn(i.number("load_kn")?));
            Ok(1.0 - greatest_below(i.number("loadings")?, below))
        }),
    ]
}

fn mass(i: &Inputs) -> Result<Mass, Error> {
    Ok(Mass::kg(i.number("mass_kg")?))
}

fn modulus(i: &Inputs) -> Result<Force, Error> {
    Ok(Force::n(i.number("modulus_n")?))
}

fn friction(i: &Inputs) -> Result<Ratio, Error> {
    Ok(Ratio::of(i.number("friction")?))
}

fn impact(i: &Inputs) -> Result<Force, Error> {
    Ok(impact_force(mass(i)?, modulus(i)?, Ratio::of(i.number("fall_factor")?)))
}

fn bends(i: &Inputs) -> Result<Vec<Bend>, Error> {
    let (wraps, ropes) = (i.numbers("wraps_deg")?, i.numbers("ropes_behind_m")?);
    Ok(wraps
        .into_iter()
        .zip(ropes)
        .map(|(w, r)| Bend { wrap: Angle::deg(w), rope_behind: Length::m(r) })
        .collect())
}

fn climber_on_path(i: &Inputs) -> Result<Force, Error> {
    let effective = effective_length(Length::m(i.number("first_m")?), &bends(i)?, friction(i)?);
    Ok(impact_force_on_path(mass(i)?, modulus(i)?, Length::m(i.number("free_fall_m")?), effective))
}

fn one_loading(i: &Inputs) -> Result<Uncertain<Force>, Error> {
    // median and coefficient of variation of a log-normal; the mean follows
    let cov = i.number("cov")?;
    let mut force = Uncertain::from_mean_cov(Force::kn(1.0), cov);
    force.median = Force::kn(i.number("median_kn")?);
    Ok(force)
}
