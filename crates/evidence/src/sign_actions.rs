//! How several signs act together on one failure mode.

use crate::Seen;
use crate::sign_table::{Action, Group, effects};
use resistance::Mode;

/// The actions that count on one mode: of each group of signs only the strongest (lowest ratio; with equal
/// ratios the one with more scatter), because signs of a group tell of the same damage and must not be
/// counted twice. Ratios of different groups multiply, variances of their logarithms add.
///
/// The order of `seen` matters only between equal actions. No allocation. Source: judgement.
pub fn actions_on(mode: Mode, seen: &[Seen]) -> impl Iterator<Item = (Seen, Action)> {
    let mut strongest = [None::<(Seen, Action)>; Group::COUNT];
    for &s in seen {
        let effect = effects(s);
        let Some(action) = effect.on(mode) else { continue };
        let place = &mut strongest[effect.group as usize];
        let weaker = |held: Action| {
            held.ratio > action.ratio || (held.ratio == action.ratio && held.sd_ln < action.sd_ln)
        };
        if place.is_none_or(|(_, held)| weaker(held)) {
            *place = Some((s, action));
        }
    }
    strongest.into_iter().flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Extent, Finding, Sign};
    use proptest::prelude::*;

    fn present(sign: Sign, extent: Extent) -> Seen {
        Seen { sign, finding: Finding::Present(extent) }
    }

    fn product(mode: Mode, seen: &[Seen]) -> f64 {
        actions_on(mode, seen).map(|(_, a)| a.ratio).product()
    }

    #[test]
    fn signs_of_one_group_count_once_and_groups_multiply() {
        let rust = present(Sign::Rust, Extent::Marked);
        let streak = present(Sign::RustFromHole, Extent::Marked);
        let bent = present(Sign::Bent, Extent::Marked);
        let on = |s: Seen| effects(s).on(Mode::Steel).unwrap().ratio;
        assert_eq!(product(Mode::Steel, &[rust, streak]), on(rust).min(on(streak)));
        assert_eq!(product(Mode::Steel, &[rust, bent]), on(rust) * on(bent));
        assert_eq!(product(Mode::Steel, &[]), 1.0);
        let absent = Seen { sign: Sign::MetalCrack, finding: Finding::Absent };
        assert_eq!(product(Mode::Steel, &[absent]), 1.0);
    }

    proptest! {
        #[test]
        fn another_sign_never_makes_a_mode_stronger(
            picks in proptest::collection::vec((0..Sign::COUNT, 0..3_usize), 1..12),
        ) {
            let seen: Vec<Seen> =
                picks.iter().map(|(s, e)| present(Sign::ALL[*s], Extent::ALL[*e])).collect();
            for mode in [Mode::Steel, Mode::Cone, Mode::PullOut, Mode::Bond, Mode::Experience] {
                let (fewer, all) = (product(mode, &seen[1..]), product(mode, &seen));
                prop_assert!(all <= fewer && all > 0.0);
                let mut turned = seen.clone();
                turned.reverse();
                prop_assert!((product(mode, &turned) / all - 1.0).abs() < 1e-12);
            }
        }
    }
}
