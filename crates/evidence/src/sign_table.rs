//! What each sign means for the failure modes: the built-in table of judgement.

use crate::{Extent, Finding, Seen, Sign};
use resistance::Mode;
use serde::Deserialize;
use std::sync::OnceLock;

/// Signs of one group tell of the same thing; of each group only the strongest shifts the odds of a
/// setting defect out of sight. Source: judgement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "snake_case")]
#[repr(usize)]
#[allow(missing_docs)]
pub enum Group {
    Movement,
    Tightness,
    Setting,
    Rock,
    Damage,
    Corrosion,
    Wear,
}

impl Group {
    /// Number of groups.
    pub const COUNT: usize = 7;
}

/// How a finding acts on one failure mode: the mode's resistance is multiplied by a log-normal ratio.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Action {
    /// The mode.
    pub mode: Mode,
    /// Median of the ratio, 0 < ratio <= 1.
    pub ratio: f64,
    /// Standard deviation of the ratio's logarithm, >= 0.
    pub sd_ln: f64,
}

/// What one finding of one sign means.
#[derive(Clone, Debug, PartialEq)]
pub struct SignEffect {
    /// The finding.
    pub seen: Seen,
    /// Plain name of the sign.
    pub name: String,
    /// What to look for, one sentence.
    pub look_for: String,
    /// What this extent looks like; empty for "looked for and absent".
    pub means: String,
    /// Signs that tell of the same thing.
    pub group: Group,
    /// Its actions, at most one per mode; empty for "looked for and absent".
    pub actions: Box<[Action]>,
    /// True where no number counts any more: do not use.
    pub stop: bool,
    /// Small work that removes the sign, where there is such work and the sign is present.
    pub tend: Option<String>,
    /// Likelihood ratio of a setting defect out of sight given this finding; 1 = tells nothing.
    pub defect: f64,
    /// Citation or "judgement".
    pub source: String,
    /// Remark, may be empty.
    pub note: String,
}

impl SignEffect {
    /// Action on a mode, where it has one.
    pub fn on(&self, mode: Mode) -> Option<Action> {
        self.actions.iter().find(|a| a.mode == mode).copied()
    }
}

/// What a finding means. An array lookup: no hashing, no allocation after the first call.
///
/// Source: `data/signs.toml`, each entry with its own (judgement where no publication was found).
#[inline]
pub fn effects(seen: Seen) -> &'static SignEffect {
    let column = match seen.finding {
        Finding::Absent => 0,
        Finding::Present(extent) => 1 + extent as usize,
    };
    &table()[seen.sign as usize * COLUMNS + column]
}

impl Sign {
    /// Plain name, e.g. "bolt moves in its hole".
    pub fn name(self) -> &'static str {
        &self.absent_entry().name
    }

    /// What to look for, one sentence.
    pub fn look_for(self) -> &'static str {
        &self.absent_entry().look_for
    }

    fn absent_entry(self) -> &'static SignEffect {
        effects(Seen { sign: self, finding: Finding::Absent })
    }
}

const COLUMNS: usize = 1 + Extent::ALL.len();

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    sign: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    sign: Sign,
    name: String,
    look_for: String,
    group: Group,
    absent: f64,
    stop_from: Option<Extent>,
    tend: Option<String>,
    source: String,
    #[serde(default)]
    note: String,
    slight: Grade,
    marked: Grade,
    severe: Grade,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Grade {
    means: String,
    defect: f64,
    actions: Vec<ActionRow>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ActionRow {
    modes: Vec<Mode>,
    ratio: f64,
    sd_ln: f64,
}

fn table() -> &'static [SignEffect] {
    static TABLE: OnceLock<Vec<SignEffect>> = OnceLock::new();
    TABLE.get_or_init(|| {
        // the tests read the same built-in text and check that every sign is there
        parse(include_str!("../data/signs.toml")).expect("the built-in table of signs is complete")
    })
}

/// Reads a table of signs into index order; an error names what is missing or out of range.
fn parse(text: &str) -> Result<Vec<SignEffect>, String> {
    let file: File = toml::from_str(text).map_err(|e| e.to_string())?;
    let mut out = Vec::with_capacity(Sign::COUNT * COLUMNS);
    for sign in Sign::ALL {
        let mut rows = file.sign.iter().filter(|r| r.sign == sign);
        let row = rows.next().ok_or_else(|| format!("{sign:?} is missing"))?;
        if rows.next().is_some() {
            return Err(format!("{sign:?} appears twice"));
        }
        let entry = |finding, means: &str, defect, actions: Vec<Action>, stop| SignEffect {
            seen: Seen { sign, finding },
            name: row.name.clone(),
            look_for: row.look_for.clone(),
            means: means.to_owned(),
            group: row.group,
            actions: actions.into(),
            stop,
            tend: row.tend.clone().filter(|_| finding != Finding::Absent),
            defect,
            source: row.source.clone(),
            note: row.note.clone(),
        };
        out.push(entry(Finding::Absent, "", row.absent, Vec::new(), false));
        for (extent, grade) in Extent::ALL.into_iter().zip([&row.slight, &row.marked, &row.severe]) {
            let stop = row.stop_from.is_some_and(|from| extent >= from);
            let actions = grade.flat().map_err(|why| format!("{sign:?} {}: {why}", extent.name()))?;
            out.push(entry(Finding::Present(extent), &grade.means, grade.defect, actions, stop));
        }
    }
    match out.iter().find(|e| !(e.defect > 0.0 && e.defect.is_finite())) {
        Some(bad) => Err(format!("{:?}: the likelihood ratio must be above 0", bad.seen)),
        None => Ok(out),
    }
}

impl Grade {
    fn flat(&self) -> Result<Vec<Action>, String> {
        let mut out: Vec<Action> = Vec::new();
        for row in &self.actions {
            if !(row.ratio > 0.0 && row.ratio <= 1.0 && row.sd_ln >= 0.0 && row.sd_ln.is_finite()) {
                return Err(format!("ratio {} or scatter {} out of range", row.ratio, row.sd_ln));
            }
            for &mode in &row.modes {
                if out.iter().any(|a| a.mode == mode) {
                    return Err(format!("{mode:?} is named twice"));
                }
                out.push(Action { mode, ratio: row.ratio, sd_ln: row.sd_ln });
            }
        }
        Ok(out)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MODES: [Mode; 8] = [
        Mode::Steel,
        Mode::Hanger,
        Mode::Cone,
        Mode::PullOut,
        Mode::Bond,
        Mode::EdgeBreakout,
        Mode::PryOut,
        Mode::Experience,
    ];

    fn at(sign: Sign, finding: Finding) -> &'static SignEffect {
        effects(Seen { sign, finding })
    }

    #[test]
    fn every_sign_has_every_extent_and_says_what_it_means() {
        parse(include_str!("../data/signs.toml")).unwrap();
        for (index, sign) in Sign::ALL.into_iter().enumerate() {
            assert_eq!(index, sign as usize, "Sign::ALL must follow the order of the type");
            assert!(sign.name().len() > 3 && sign.look_for().ends_with(['.', '?']));
            let absent = at(sign, Finding::Absent);
            assert_eq!(absent.seen.sign, sign);
            assert!(absent.actions.is_empty() && !absent.stop && absent.tend.is_none());
            assert!((0.5..=1.0).contains(&absent.defect), "{sign:?}: absence proves little");
            for extent in Extent::ALL {
                let e = at(sign, Finding::Present(extent));
                assert_eq!(e.seen, Seen { sign, finding: Finding::Present(extent) });
                assert!(!e.actions.is_empty() && !e.means.is_empty() && !e.source.is_empty());
                assert!((1.0..=20.0).contains(&e.defect));
            }
        }
    }

    #[test]
    fn a_greater_extent_never_acts_less() {
        for sign in Sign::ALL {
            for pair in Extent::ALL.windows(2) {
                let (less, more) = (at(sign, Finding::Present(pair[0])), at(sign, Finding::Present(pair[1])));
                for mode in MODES {
                    if let Some(a) = less.on(mode) {
                        let b = more.on(mode).unwrap_or_else(|| panic!("{sign:?} drops {mode:?}"));
                        assert!(b.ratio <= a.ratio && b.sd_ln >= a.sd_ln, "{sign:?} on {mode:?}");
                    }
                }
                assert!(more.stop >= less.stop && more.defect >= less.defect);
            }
        }
    }

    #[test]
    fn a_turning_hanger_is_not_a_moving_bolt() {
        let marked = Finding::Present(Extent::Marked);
        let hanger = at(Sign::HangerTurns, marked);
        assert!(hanger.on(Mode::PullOut).is_none() && hanger.on(Mode::Bond).is_none());
        assert!(hanger.tend.is_some() && !hanger.stop);
        let bolt = at(Sign::MovesInHole, marked);
        assert!(bolt.on(Mode::Steel).is_none() && bolt.on(Mode::PullOut).unwrap().ratio <= 0.3);
        assert!(bolt.stop && bolt.tend.is_none());
    }

    #[test]
    fn a_broken_table_is_refused_by_name() {
        let text = include_str!("../data/signs.toml");
        let lost = text.replacen("sign = \"bent\"", "sign = \"proud\"", 1);
        assert!(parse(&lost).unwrap_err().contains("Proud appears twice"));
        let above = text.replacen("ratio = 0.4", "ratio = 1.4", 1);
        assert!(parse(&above).unwrap_err().contains("out of range"));
    }
}
