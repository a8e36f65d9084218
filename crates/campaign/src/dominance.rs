//! Which work of a route is never worse than another.

use crate::{Problem, Work};

/// For every work the next better one on its route that is never worse in any respect (at least the
/// gain; at most the hours, cost and every quantity), or `None`. Exchanging the worse for the better
/// keeps any plan feasible and its gain at least as high, so the model may ask for the better one
/// first. Works that must be done take no part. Among equals the earlier index comes first.
pub(crate) fn next_better(problem: &Problem) -> Vec<Option<usize>> {
    let mut by_route: Vec<Vec<usize>> = vec![Vec::new(); problem.routes.len()];
    for (index, work) in problem.works.iter().enumerate() {
        if !work.must {
            by_route[work.route].push(index);
        }
    }
    let mut better = vec![None; problem.works.len()];
    for mut works in by_route {
        works.sort_by(|&a, &b| problem.works[b].gain.total_cmp(&problem.works[a].gain).then(a.cmp(&b)));
        for (position, &worse) in works.iter().enumerate() {
            better[worse] = works[..position]
                .iter()
                .rev()
                .copied()
                .find(|&candidate| needs_no_more(&problem.works[candidate], &problem.works[worse]));
        }
    }
    better
}

fn needs_no_more(a: &Work, b: &Work) -> bool {
    let quantity = |work: &Work, item: usize| -> f64 {
        work.uses.iter().filter(|need| need.item == item).map(|need| need.quantity).sum()
    };
    a.hours <= b.hours
        && a.cost <= b.cost
        && a.uses.iter().all(|need| quantity(a, need.item) <= quantity(b, need.item))
}
