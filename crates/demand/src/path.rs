//! A rope that wanders: friction at every bolt on the way to the belay.

use crate::friction::bolt_force;
use crate::impact::weight;
use units::{Angle, Force, Length, Mass, Ratio};

/// One bolt on the rope's path, counted from the climber, with the rope behind it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// Angle by which the rope is deflected at this bolt.
    pub wrap: Angle,
    /// Length of rope from this bolt to the next one, or to the belay.
    pub rope_behind: Length,
}

/// Length of rope that takes part in the catch: `L_eff = sum(L_i / R_i)`, `R_0 = 1`,
/// `R_i = exp(mu * sum of wraps at bolts 1..i)`. Unit: m.
///
/// * `first` L_0: rope from the climber to the top bolt, m
/// * `bends`: the bolts with the rope behind each, top bolt first
/// * `friction` mu, dimensionless
///
/// Small-strain treatment: leaves out the rope that slides through during the catch, which makes forces
/// 4 to 5 % too high. Source: capstan law and equal sliding direction at all bolts; the effective fall
/// factor of encyclopedia articles that cite Leuthaeusser 2011.
pub fn effective_length(first: Length, bends: &[Bend], friction: Ratio) -> Length {
    let mut wrap = 0.0;
    let mut sum = first.as_m();
    for bend in bends {
        wrap += bend.wrap.as_rad();
        sum += bend.rope_behind.as_m() * (-friction.get() * wrap).exp();
    }
    Length::m(sum)
}

/// Peak tension on the climber's side with friction along the path:
/// `F = W + sqrt(W^2 + 2 W K h / L_eff)`. `free_fall` h and `effective` L_eff in m (> 0), K in N.
/// Source: energy model with [`effective_length`].
pub fn impact_force_on_path(mass: Mass, modulus: Force, free_fall: Length, effective: Length) -> Force {
    let w = weight(mass).as_n();
    Force::n(w + (w * w + 2.0 * w * modulus.as_n() * (free_fall / effective).max(0.0)).sqrt())
}

/// Tensions and bolt forces along the path, for each bolt from the top: the tension behind it
/// (`T_i = F / R_i`, N) and the force on it, N. Source: capstan law and [`bolt_force`].
pub fn forces_along<'a>(
    climber: Force,
    bends: &'a [Bend],
    friction: Ratio,
) -> impl Iterator<Item = (Force, Force)> + 'a {
    let mut before = climber;
    bends.iter().map(move |bend| {
        let behind = before * (-friction.get() * bend.wrap.as_rad()).exp();
        let on_bolt = bolt_force(before, behind, bend.wrap);
        before = behind;
        (behind, on_bolt)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const K: f64 = 21_203.9;

    fn bend(deg: f64, m: f64) -> Bend {
        Bend { wrap: Angle::deg(deg), rope_behind: Length::m(m) }
    }

    #[test]
    fn one_bolt_table() {
        // reference table, sec. 2.2 (independent computation): mu, L_eff, climber, belay, top bolt
        for (mu, l, f, t, top) in [
            (0.0, 12.0, 4206.8, 4206.8, 8413.5),
            (0.15, 8.242, 4879.6, 3046.0, 7925.6),
            (0.20, 7.335, 5116.7, 2729.7, 7846.5),
            (0.25, 6.559, 5357.7, 2442.8, 7800.5),
            (0.30, 5.897, 5600.7, 2182.4, 7783.0),
        ] {
            let bends = [bend(180.0, 10.0)];
            let l_eff = effective_length(Length::m(2.0), &bends, Ratio::of(mu));
            assert!((l_eff.as_m() - l).abs() < 1e-3, "{mu}: {l_eff:?}");
            let climber = impact_force_on_path(Mass::kg(80.0), Force::n(K), Length::m(4.0), l_eff);
            assert!((climber.as_n() / f - 1.0).abs() < 1e-4, "{mu}: {climber:?}");
            let (behind, on) = forces_along(climber, &bends, Ratio::of(mu)).next().unwrap();
            assert!((behind.as_n() / t - 1.0).abs() < 1e-4 && (on.as_n() / top - 1.0).abs() < 1e-4);
        }
    }

    #[test]
    fn three_bolts() {
        // reference chain, sec. 2.2 (independent computation)
        let bends = [bend(170.0, 3.0), bend(20.0, 5.0), bend(30.0, 5.0)];
        let l = effective_length(Length::m(2.0), &bends, Ratio::of(0.13));
        assert!((l.as_m() - 10.324).abs() < 1e-3);
        let climber = impact_force_on_path(Mass::kg(80.0), Force::n(21_204.0), Length::m(4.0), l);
        assert!((climber.as_n() - 4460.5).abs() < 1.0, "{climber:?}");
        let got: Vec<_> = forces_along(climber, &bends, Ratio::of(0.13)).collect();
        for ((t, b), (want_t, want_b)) in
            got.iter().zip([(3033.0, 7466.0), (2898.4, 1038.0), (2707.7, 1463.0)])
        {
            assert!((t.as_n() - want_t).abs() < 1.0, "{t:?}");
            assert!((b.as_n() / want_b - 1.0).abs() < 1e-3, "{b:?}");
        }
    }
}
