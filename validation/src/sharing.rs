//! Load sharing between the legs of an anchor, and direction of pull.

use crate::{Computation, Error, computation};
use demand::anchor::{
    Leg, leg_force, leg_forces, line_sag, line_tension, pendulum_tension, share_by_stiffness,
    triangle_bolt_force,
};
use demand::impact::weight;
use units::{Angle, Force, Length, Mass};

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("leg_share", |i| {
            Ok(leg_force(Force::kn(1.0), Angle::deg(i.number("included_deg")?)).as_kn())
        }),
        computation("leg_share_unequal", |i| {
            let [a, b] = ["first_deg", "second_deg"].map(|name| i.number(name).map(Angle::deg));
            let (first, second) = leg_forces(Force::kn(1.0), a?, b?);
            i.choice("leg", &[("first", first.as_kn()), ("second", second.as_kn())])
        }),
        computation("leg_share_by_stiffness", |i| {
            let (angles, lengths) = (i.numbers("angles_deg")?, i.numbers("lengths_m")?);
            let legs: Vec<Leg> = angles
                .into_iter()
                .zip(lengths)
                .map(|(a, l)| Leg { angle: Angle::deg(a), length: Length::m(l) })
                .collect();
            let mut forces = vec![Force::n(0.0); legs.len()];
            let off = Angle::deg(i.number("off_deg")?);
            if !share_by_stiffness(Force::kn(1.0), off, &legs, &mut forces) {
                return Err(Error::Model("no leg holds this load".to_owned()));
            }
            i.pick("leg", &forces.into_iter().map(Force::as_kn).collect::<Vec<_>>())
        }),
        computation("triangle_rig_share", |i| {
            Ok(triangle_bolt_force(Force::kn(1.0), Angle::deg(i.number("included_deg")?)).as_kn())
        }),
        computation("pendulum_in_weights", |i| {
            let mass = Mass::kg(i.number("mass_kg")?);
            Ok(pendulum_tension(mass, Angle::deg(i.number("release_deg")?)) / weight(mass))
        }),
        computation("line_tension", |i| {
            let [span, sag] = ["span_m", "sag_m"].map(|name| i.number(name).map(Length::m));
            Ok(line_tension(Force::n(i.number("load_n")?), span?, sag?).as_n())
        }),
        computation("line_sag", |i| {
            let load = weight(Mass::kg(i.number("mass_kg")?));
            line_sag(load, Length::m(i.number("span_m")?), Force::kn(i.number("tension_kn")?))
                .map(Length::as_m)
                .ok_or_else(|| Error::Model("the line would hang straight down".to_owned()))
        }),
    ]
}
