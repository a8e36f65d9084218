//! Units.

use crate::{Computation, computation};
use units::{Force, Length, Stress, Torque};

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("inch_in_mm", |i| Ok(Length::inch(i.number("inch")?).as_mm())),
        computation("foot_in_m", |i| Ok(Length::foot(i.number("foot")?).as_m())),
        computation("pound_force_in_n", |i| Ok(Force::lbf(i.number("lbf")?).as_n())),
        computation("kilogram_force_in_n", |i| Ok(Force::kgf(i.number("kgf")?).as_n())),
        computation("psi_in_mpa", |i| Ok(Stress::psi(i.number("psi")?).as_mpa())),
        computation("pound_foot_in_n_m", |i| Ok(Torque::ft_lbf(i.number("ft_lbf")?).as_nm())),
    ]
}
