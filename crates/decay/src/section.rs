//! What a loss per side leaves of a round section.

use units::{Length, Ratio};

/// Diameter left: `d = max(0, d0 - 2 m D)`.
///
/// * `diameter` d0: of the loaded section (equal-area diameter of a thread), m
/// * `loss` D: uniform loss per side, m; `local` m >= 1: local loss over uniform loss
///
/// Source: geometry; m is judgement.
pub fn diameter_left(diameter: Length, loss: Length, local: Ratio) -> Length {
    (diameter - loss * (2.0 * local.get())).max(Length::m(0.0))
}

/// Share of strength left in tension and shear, `(d / d0)^2`. Source: geometry.
pub fn area_left(left: Length, diameter: Length) -> Ratio {
    Ratio::of((left / diameter).powi(2))
}

/// Share of strength left in bending, `(d / d0)^3` (elastic or plastic). Source: geometry.
pub fn bending_left(left: Length, diameter: Length) -> Ratio {
    Ratio::of((left / diameter).powi(3))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn worked_example_of_the_reference() {
        // reference, sec. 1.5: 12 mm shank, 471.10 um lost
        for (m, d, tension, bending) in [
            (1.0, 11.0578, 0.84913, 0.78246),
            (2.0, 10.1156, 0.71059, 0.59901),
            (3.0, 9.1734, 0.58438, 0.44673),
        ] {
            let d0 = Length::mm(12.0);
            let left = diameter_left(d0, Length::um(471.10), Ratio::of(m));
            assert!((left.as_mm() - d).abs() < 1e-4);
            assert!((area_left(left, d0).get() - tension).abs() < 1e-4);
            assert!((bending_left(left, d0).get() - bending).abs() < 1e-4);
        }
        assert_eq!(diameter_left(Length::mm(8.0), Length::mm(5.0), Ratio::of(1.0)), Length::m(0.0));
    }
}
