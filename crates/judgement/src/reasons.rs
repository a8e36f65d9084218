//! Why a judgement came out as it did: its reasons, ranked.

use crate::call::Rule;
use crate::outcome::{Call, Chance, MissingEvidence, Reason, ReasonKind};
use crate::statement::Statement;
use evidence::Seen;
use hardware::Fitting;
use resistance::Source;
use units::Force;

impl Reason {
    fn new(statement: Statement, effect: f64) -> Self {
        Self { kind: statement.kind(), origin: statement.origin(), effect, statement }
    }
}

fn of_rule(rule: &Rule<'_>, hard_fall: Force, chance: Chance, year: Chance) -> Statement {
    match rule {
        Rule::GaveWay(years) => Statement::GaveWay(*years),
        Rule::Outlived => Statement::Outlived,
        Rule::Recalled => Statement::Recalled,
        Rule::YearBelow(threshold) => Statement::YearBelow { chance: year, threshold: *threshold },
        Rule::LookAt(seen) => Statement::LookAt(*seen),
        Rule::KeptByService => Statement::KeptByService,
        Rule::StopSign(sign) => Statement::StopSign(*sign),
        Rule::ChanceBelow(threshold) => Statement::ChanceBelow { hard_fall, chance, threshold: *threshold },
        Rule::DoubtBelow(threshold) => Statement::DoubtBelow { hard_fall, chance, threshold: *threshold },
        Rule::LifeEnds(years) => Statement::LifeEnds(*years),
        Rule::MayEnd(years) => Statement::MayEnd(*years),
        Rule::Spent => Statement::Spent,
        Rule::Floor(floor) => Statement::KindFloor(floor.because.clone()),
        Rule::Tendable(sign) => Statement::Tendable(*sign),
        Rule::LookAgain(years) => Statement::LookAgain(*years),
        Rule::NeverSeen => Statement::NeverSeen,
    }
}

/// All reasons: the rules that made the call first, then the influences by the size of their effect
/// (|ln factor|), then what is not known. The chances are those to hold a hard fall and a year; `influences` are statements with their factor on the
/// resistance that governs.
pub(crate) fn assemble(
    rules: &[(Call, Rule<'_>)],
    call: Call,
    hard_fall: Force,
    (chance, year): (Chance, Chance),
    mut influences: Vec<(Statement, f64)>,
    missing: &[MissingEvidence],
    fitting: &Fitting,
) -> Vec<Reason> {
    let mut reasons: Vec<Reason> = Vec::with_capacity(rules.len() + influences.len() + 2);
    for (asked, rule) in rules {
        let statement = of_rule(rule, hard_fall, chance, year);
        // small work must not hide a doubt, nor must a contradiction between service and models
        let always = statement.kind() != ReasonKind::Unknown
            || matches!(statement, Statement::Outlived)
            || (call == Call::Tend && matches!(statement, Statement::DoubtBelow { .. }));
        if *asked == call || always {
            reasons.push(Reason::new(statement, 1.0));
        }
    }
    influences.sort_by(|a, b| b.1.ln().abs().total_cmp(&a.1.ln().abs()));
    for (influence, effect) in influences {
        let names = |reason: &&mut Reason, seen: Seen| match reason.statement {
            Statement::StopSign(sign) | Statement::Tendable(sign) => sign == seen.sign,
            Statement::LookAt(looked) => looked == seen,
            _ => false,
        };
        if let Statement::Sign(seen) = influence
            && let Some(named) = reasons.iter_mut().find(|reason| names(reason, seen))
        {
            // a rule has named the sign already: its reason gets the effect
            named.effect = effect;
        } else if effect.ln().abs() >= 0.01 {
            reasons.push(Reason::new(influence, effect));
        }
    }
    if fitting.kind.is_none() {
        reasons.push(Reason::new(Statement::KindUnknown, 1.0));
    }
    for unknown in missing.iter().filter(|m| m.share >= 0.15 && m.source != Source::Kind).take(2) {
        let statement = Statement::NotKnown { source: unknown.source, share: unknown.share };
        reasons.push(Reason::new(statement, 1.0));
    }
    reasons
}
