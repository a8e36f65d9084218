//! From numbers to a call, and the rule that made it.

use crate::outcome::{Call, Chance, YearsLeft};
use crate::policy::{KindFloor, Policy};
use evidence::{Extent, Finding, Group, Seen, Sign, effects};
use hardware::Kind;

/// A rule that asked for a call.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Rule<'p> {
    /// It gave way in a pull so many years ago.
    GaveWay(f64),
    /// It has survived loads that its judged strength would hardly have held.
    Outlived,
    /// Its batch was recalled.
    Recalled,
    /// Its chance to hold a year is below the threshold given.
    YearBelow(f64),
    /// A sign that asks for a closer look whatever the numbers.
    LookAt(Seen),
    /// Only the loads it is assumed to have held keep its chance above the threshold.
    KeptByService,
    /// A sign that stops use whatever the numbers.
    StopSign(Sign),
    /// The chance to hold a hard fall is below the threshold given.
    ChanceBelow(f64),
    /// The useful life ends within the years given.
    LifeEnds(f64),
    /// Corrosion has gone beyond what strength can be computed for.
    Spent,
    /// The kind of hardware has a floor.
    Floor(&'p KindFloor),
    /// A sign that small work would cure.
    Tendable(Sign),
    /// The unfavourable chance is below the threshold given.
    DoubtBelow(f64),
    /// The unfavourable life ends within the years given.
    MayEnd(f64),
    /// Looked at too long ago.
    LookAgain(f64),
    /// Never looked at since it was placed, as far as the records say.
    NeverSeen,
}

/// What the rules look at.
pub(crate) struct Grounds<'a> {
    pub kind: Option<Kind>,
    pub hard_fall: Chance,
    pub years_left: YearsLeft,
    pub age_years: Option<f64>,
    pub last_seen_years_ago: Option<f64>,
    pub gave_way: Option<f64>,
    /// It has survived loads that its judged strength would hardly have held.
    pub outlived: bool,
    /// Its batch was recalled.
    pub recalled: bool,
    pub signs: &'a [Seen],
    pub holds_year: Chance,
    /// Without the loads counted as survived its chance would ask for renewal.
    pub kept_by_service: bool,
    /// Carbon steel in air, or with a loss, beyond the limits of the corrosion law.
    pub spent: bool,
    pub policy: &'a Policy,
}

/// The most urgent call any rule asks for, with all rules that ask for at least `watch`, most urgent
/// first. Thresholds: the policy (judgement).
pub(crate) fn decide<'a>(grounds: &Grounds<'a>) -> (Call, Vec<(Call, Rule<'a>)>) {
    let t = &grounds.policy.thresholds;
    let mut asked: Vec<(Call, Rule<'a>)> = Vec::new();
    if let Some(years) = grounds.gave_way {
        asked.push((Call::Shun, Rule::GaveWay(years)));
    }
    if grounds.outlived {
        asked.push((Call::Watch, Rule::Outlived));
    }
    let present = || grounds.signs.iter().copied().filter(|s| s.finding != Finding::Absent);
    if let Some(seen) = present().find(|s| effects(*s).stop) {
        asked.push((Call::Shun, Rule::StopSign(seen.sign)));
    }
    if grounds.recalled {
        asked.push((grounds.policy.recall.call, Rule::Recalled));
    }
    if let Some(seen) = present().filter(|s| asks_for_a_look(*s)).max_by_key(|s| s.finding) {
        asked.push((Call::Watch, Rule::LookAt(seen)));
    }
    let year_could_be_good = grounds.holds_year.high >= t.year_watch_below;
    if grounds.holds_year.best < t.year_renew_below && !year_could_be_good {
        asked.push((Call::Renew, Rule::YearBelow(t.year_renew_below)));
    } else if grounds.holds_year.best < t.year_watch_below {
        asked.push((Call::Watch, Rule::YearBelow(t.year_watch_below)));
    }
    if grounds.kept_by_service {
        asked.push((Call::Watch, Rule::KeptByService));
    }
    // A poor best estimate that better knowledge could lift clear of the renewal threshold asks for one
    // step less: to renew, or prove by a closer look, instead of to warn; to look, instead of to renew.
    let could_be_good = grounds.hard_fall.high >= t.renew_below;
    if grounds.hard_fall.best < t.shun_below {
        let doubtful = could_be_good && grounds.hard_fall.best >= t.doubt_shun_below;
        asked.push((if doubtful { Call::Renew } else { Call::Shun }, Rule::ChanceBelow(t.shun_below)));
    } else if grounds.hard_fall.best < t.renew_below && !could_be_good {
        asked.push((Call::Renew, Rule::ChanceBelow(t.renew_below)));
    } else if grounds.hard_fall.low < t.watch_below {
        asked.push((Call::Watch, Rule::DoubtBelow(t.watch_below)));
    }
    // a life that has ended already is what the chance says above
    let ends_soon = |y: f64| y > 0.0 && y < t.renew_within_years;
    if grounds.years_left.best.is_some_and(ends_soon) && !could_be_good {
        asked.push((Call::Renew, Rule::LifeEnds(t.renew_within_years)));
    } else if grounds.years_left.low.is_some_and(|y| y > 0.0 && y < t.watch_within_years) {
        asked.push((Call::Watch, Rule::MayEnd(t.watch_within_years)));
    }
    if grounds.spent {
        asked.push((Call::Renew, Rule::Spent));
    }
    for floor in grounds.policy.kind_floor.iter().filter(|f| grounds.kind == Some(f.kind)) {
        asked.push((floor.call, Rule::Floor(floor)));
    }
    if let Some(seen) = present().find(|s| effects(*s).tend.is_some()) {
        asked.push((Call::Tend, Rule::Tendable(seen.sign)));
    }
    // setting a fitting is a look at it too
    match grounds.last_seen_years_ago.or(grounds.age_years) {
        None => asked.push((Call::Watch, Rule::NeverSeen)),
        Some(years) if years > t.look_again_after_years => {
            let never = grounds.last_seen_years_ago.is_none();
            asked.push((Call::Watch, if never { Rule::NeverSeen } else { Rule::LookAgain(years) }));
        }
        Some(_) => {}
    }
    asked.sort_by_key(|(call, _)| std::cmp::Reverse(*call));
    (asked.first().map_or(Call::Sound, |(call, _)| *call), asked)
}

/// True for a sign that nobody leaves without a closer look: anything severe, and a bolt, stud or glue-in
/// that moves at all. Source: common practice, no source.
fn asks_for_a_look(seen: Seen) -> bool {
    let Finding::Present(extent) = seen.finding else { return false };
    extent == Extent::Severe || seen.sign == Sign::StudTurns || effects(seen).group == Group::Movement
}
