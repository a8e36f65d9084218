//! Judging placements of a register.

use crate::exit::Failure;
use crate::progress;
use jiff::civil::Date;
use judgement::{Assessed, Case, Judgement, Policy};
use rayon::prelude::*;
use reckoning::Account;
use register::case::{self, CaseError, Params, Provenance};
use register::{Known, PlacementRecord, SisterRatios, State};
use std::path::PathBuf;

/// How to judge.
#[derive(Clone, Debug, Default, clap::Args)]
pub struct Judging {
    /// Judge as of this date (year-month-day) instead of today
    #[arg(long, value_name = "DATE")]
    pub on: Option<Date>,
    /// Your group's own policy file: where a call changes, what kinds get at least which call
    #[arg(long, value_name = "FILE")]
    pub policy: Option<PathBuf>,
}

impl Judging {
    /// The date of the judgement.
    pub fn date(&self, today: Date) -> Date {
        self.on.unwrap_or(today)
    }

    /// The policy: the group's own, or the built-in one.
    pub fn policy(&self) -> Result<Policy, Failure> {
        let Some(path) = &self.policy else { return Ok(Policy::built_in().clone()) };
        let text = std::fs::read_to_string(path)
            .map_err(|e| Failure::usage(format!("cannot read the policy file {}: {e}", path.display())))?;
        Policy::from_toml(&text).map_err(|e| Failure::usage(format!("{}: {e}", path.display())))
    }
}

/// A placement with its judgement.
pub struct Judged<'a> {
    /// The placement.
    pub placement: Known<'a, PlacementRecord>,
    /// Its judgement.
    pub judgement: Judgement,
}

/// All that judging the placements of one register on one day takes.
pub struct Judge<'a> {
    state: &'a State,
    policy: Policy,
    on: Date,
    sisters: SisterRatios,
}

/// Placements judged together; the answer does not depend on it.
const CHUNK: usize = 256;

impl<'a> Judge<'a> {
    /// Gathers what the placements share: the pulls of sister fittings.
    pub fn new(state: &'a State, policy: Policy, on: Date) -> Self {
        let sisters = SisterRatios::gather(state, &policy, on);
        Self { state, policy, on, sisters }
    }

    /// The register's state.
    pub fn state(&self) -> &'a State {
        self.state
    }

    fn params(&self, placement: &str) -> Params {
        Params { sisters: self.sisters.of(self.state, placement) }
    }

    fn case(&self, placement: &str) -> Result<Case, CaseError> {
        case::of(self.state, placement, self.on, &self.params(placement))
    }

    /// Judges one placement; `None` if it is empty.
    pub fn judge(&self, placement: Known<'a, PlacementRecord>) -> Option<Judged<'a>> {
        let case = self.case(placement.id).ok()?;
        Some(Judged { placement, judgement: judgement::judge(&case, &self.policy) })
    }

    /// Judges one placement and keeps what the judgement was made of.
    pub fn assess(&self, placement: &str) -> Result<Assessed, Failure> {
        Ok(judgement::assess(&self.case(placement).map_err(Failure::usage)?, &self.policy))
    }

    /// Judges one placement with every step and the record behind every input.
    pub fn explain(&self, placement: &str) -> Result<(Assessed, Account, Provenance), Failure> {
        let params = self.params(placement);
        let (case, provenance) =
            case::traced(self.state, placement, self.on, &params).map_err(Failure::usage)?;
        let (assessed, account) = judgement::explain(&case, &self.policy);
        Ok((assessed, account, provenance))
    }

    /// Judges placements on all cores, in the order given; empty ones are left out.
    pub fn judge_all(&self, placements: &[Known<'a, PlacementRecord>], quiet: bool) -> Vec<Judged<'a>> {
        let bar = progress::bar(placements.len() as u64, "judging", quiet || placements.len() < 20_000);
        let judged = placements
            .par_chunks(CHUNK)
            .flat_map_iter(|chunk| {
                bar.inc(chunk.len() as u64);
                chunk.iter().filter_map(|placement| self.judge(*placement))
            })
            .collect();
        bar.finish_and_clear();
        judged
    }
}
