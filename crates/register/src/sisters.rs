//! Pulls of sister fittings: same crag, same rock type, same kind.

use crate::record::*;
use crate::state::State;
use hardware::Kind;
use jiff::civil::Date;
use rock::RockType;
use rustc_hash::FxHashMap;
use units::Force;

/// A pull and the fitting that was pulled.
#[derive(Clone, Debug, PartialEq)]
pub struct PullRef {
    /// Identity of the pull.
    pub pull: String,
    /// Identity of the placement that was pulled.
    pub placement: String,
    /// Identity of the fitting that was pulled.
    pub fitting: String,
    /// When.
    pub on: Date,
    /// Greatest load reached.
    pub peak: Force,
    /// True = straight out of the rock, false = along the face; `None` where not recorded.
    pub axial: Option<bool>,
    /// What gave way.
    pub end: PullEnd,
    /// Batch of the fitting that was pulled.
    pub batch: Option<String>,
    /// Who set the fitting that was pulled.
    pub set_by: Option<String>,
}

impl PullEnd {
    /// True if something gave way, so that the peak is a resistance and not a lower bound.
    pub fn is_failure(self) -> bool {
        match self {
            PullEnd::SteelBroke
            | PullEnd::HangerBroke
            | PullEnd::Cone
            | PullEnd::PulledOut
            | PullEnd::BondFailed => true,
            PullEnd::ProofHeld | PullEnd::Stopped => false,
        }
    }
}

/// Fittings that are sisters: same crag, rock type and kind.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Family {
    crag: String,
    rock_type: RockType,
    pub(crate) kind: Kind,
}

/// All pulls of a register, by crag, rock type and kind of fitting.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sisters(FxHashMap<Family, Vec<PullRef>>);

impl Sisters {
    /// Gathers the pulls of a state. A pull counts if its date, peak and end are known, and the fitting in the placement on that date, its kind, crag and rock type are known.
    pub fn gather(state: &State) -> Sisters {
        let mut families: FxHashMap<Family, Vec<PullRef>> = FxHashMap::default();
        for pull in state.pulls() {
            let record = pull.record;
            let (Some(placement), Some(on), Some(peak), Some(end)) =
                (record.placement.as_deref(), record.on, record.peak, record.end)
            else {
                continue;
            };
            if !peak.is_finite() || peak.as_n() <= 0.0 {
                continue;
            }
            let Some(fitting) = state.fitting_pulled(placement, on, Some(end)) else { continue };
            let Some(family) = Family::of(state, placement, fitting.record.kind) else { continue };
            families.entry(family).or_default().push(PullRef {
                pull: pull.id.to_owned(),
                placement: placement.to_owned(),
                fitting: fitting.id.to_owned(),
                on,
                peak,
                axial: record.axial,
                end,
                batch: fitting.record.batch.clone(),
                set_by: fitting.record.set_by.clone(),
            });
        }
        Sisters(families)
    }

    /// The families with pulls, in no particular order.
    pub(crate) fn families(&self) -> impl Iterator<Item = (&Family, &Vec<PullRef>)> {
        self.0.iter()
    }

    pub(crate) fn of_family(&self, family: &Family) -> &[PullRef] {
        self.0.get(family).map_or(&[], |pulls| pulls)
    }

    /// Pulls of the sisters of the fitting that is in a placement on a date, made by that
    /// date; without pulls of that fitting itself. In the order of the pulls' identities.
    pub fn of<'a>(
        &'a self,
        state: &State,
        placement: &str,
        on: Date,
    ) -> impl Iterator<Item = &'a PullRef> + use<'a> {
        let fitting = state.current_fitting(placement, on);
        let own = fitting.map(|fitting| fitting.id.to_owned());
        let family = fitting.and_then(|fitting| Family::of(state, placement, fitting.record.kind));
        let pulls = family.as_ref().map_or(&[][..], |family| self.of_family(family));
        pulls.iter().filter(move |pull| pull.on <= on && own.as_deref() != Some(&*pull.fitting))
    }
}

/// As [`Sisters::of`], for a single placement.
pub fn sisters(state: &State, placement: &str, on: Date) -> Vec<PullRef> {
    Sisters::gather(state).of(state, placement, on).cloned().collect()
}

impl Family {
    /// The family of a fitting of this kind in a placement, where crag and rock type are known.
    pub(crate) fn of(state: &State, placement: &str, kind: Option<Kind>) -> Option<Family> {
        let crag = state.crag_of(placement)?;
        let rock_of_crag = || state.crag(crag).and_then(|record| record.rock_type);
        let rock_type = state.placement(placement)?.rock_type.or_else(rock_of_crag)?;
        Some(Family { crag: crag.to_owned(), rock_type, kind: kind? })
    }
}
