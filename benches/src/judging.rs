//! Judging all placements of a register, as the command line does it.

use crate::invented::TODAY;
use judgement::{Judgement, Policy, judge};
use rayon::prelude::*;
use register::case::{self, Params};
use register::{Known, PlacementRecord, SisterRatios, State};

/// Judges one placement; `None` if it is empty.
pub fn one(state: &State, sisters: &SisterRatios, policy: &Policy, placement: &str) -> Option<Judgement> {
    let params = Params { sisters: sisters.of(state, placement) };
    let case = case::of(state, placement, TODAY, &params).ok()?;
    Some(judge(&case, policy))
}

/// Judges all placements on all cores and keeps the judgements.
pub fn all(state: &State) -> Vec<Judgement> {
    let policy = Policy::built_in();
    let sisters = SisterRatios::gather(state, policy, TODAY);
    let placements: Vec<Known<'_, PlacementRecord>> = state.placements().collect();
    placements
        .par_chunks(256)
        .flat_map_iter(|chunk| chunk.iter().filter_map(|p| one(state, &sisters, policy, p.id)))
        .collect()
}
