//! Running the cases.

use crate::{Bound, Case, CaseFile, Computation, Error, Inputs, Source};

/// What came of one case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// The value is met.
    Agrees,
    /// The value is missed.
    Differs,
    /// No value was computed.
    Fails,
}

/// One case with its result.
#[derive(Debug)]
pub struct Outcome {
    /// The case.
    pub case: Case,
    /// Its inputs as one line.
    pub inputs: String,
    /// The computed value, or why there is none.
    pub computed: Result<f64, String>,
    /// Whether it is met.
    pub verdict: Verdict,
}

impl Outcome {
    /// One line for a list of failures; `None` if the case agrees.
    pub fn complaint(&self) -> Option<String> {
        let Case { id, what, expected, unit, tolerance, .. } = &self.case;
        match (&self.verdict, &self.computed) {
            (Verdict::Agrees, _) => None,
            (_, Err(why)) => Some(format!("{id} ({what}): {why}")),
            (_, Ok(value)) => Some(format!(
                "{id} ({what}): computed {value} {unit}, expected {expected}, allowed difference {} ({}); inputs: {}",
                tolerance.width(*expected),
                tolerance.reason(),
                self.inputs,
            )),
        }
    }
}

/// One source with the results of its cases.
#[derive(Debug)]
pub struct SourceOutcome {
    /// File name without ending.
    pub slug: String,
    /// The source.
    pub source: Source,
    /// Its cases in the order of the file.
    pub outcomes: Vec<Outcome>,
}

/// Runs every case with the computation it names. A case that names an unknown computation, lacks an
/// input or holds an unused one fails.
pub fn run(files: Vec<CaseFile>, registry: &[Computation]) -> Vec<SourceOutcome> {
    files
        .into_iter()
        .map(|file| SourceOutcome {
            slug: file.slug,
            source: file.source,
            outcomes: file.cases.into_iter().map(|case| run_one(case, registry)).collect(),
        })
        .collect()
}

fn run_one(case: Case, registry: &[Computation]) -> Outcome {
    let inputs = Inputs::new(case.inputs.clone());
    let computed = match registry.iter().find(|(name, _)| *name == case.quantity) {
        None => Err(format!("there is no computation named '{}'", case.quantity)),
        Some((_, compute)) => compute(&inputs)
            .and_then(|value| inputs.all_read().map(|()| value))
            .map_err(|e: Error| e.to_string())
            .and_then(|v| if v.is_finite() { Ok(v) } else { Err(format!("the computation gave {v}")) }),
    };
    let verdict = match &computed {
        Err(_) => Verdict::Fails,
        Ok(value) if meets(*value, &case) => Verdict::Agrees,
        Ok(_) => Verdict::Differs,
    };
    Outcome { inputs: inputs.line(), case, computed, verdict }
}

fn meets(value: f64, case: &Case) -> bool {
    let width = case.tolerance.width(case.expected);
    match case.bound {
        Bound::Equal => (value - case.expected).abs() <= width,
        Bound::AtLeast => value >= case.expected - width,
        Bound::AtMost => value <= case.expected + width,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::computation;

    fn verdict(text: &str) -> (Verdict, Option<String>) {
        let head = "[source]\ntitle = 't'\nkind = 'paper'\nseen = 'never'\n";
        let file: CaseFile = toml::from_str(&format!("{head}[[case]]\n{text}")).unwrap();
        let registry = [computation("double", |i| Ok(2.0 * i.number("x")?))];
        let done = run(vec![file], &registry);
        (done[0].outcomes[0].verdict, done[0].outcomes[0].complaint())
    }

    const REST: &str = "id = 'a'\nwhat = 'w'\nunit = '1'\nstatus = 'checked'\ntolerance = { absolute = 0.1, reason = 'r' }\n";

    #[test]
    fn a_case_agrees_only_within_its_tolerance() {
        let case = |expected: f64, bound: &str| {
            verdict(&format!(
                "{REST}quantity = 'double'\ninputs = {{ x = 2 }}\nexpected = {expected:?}\nbound = '{bound}'"
            ))
            .0
        };
        assert_eq!(case(4.05, "equal"), Verdict::Agrees);
        assert_eq!(case(4.2, "equal"), Verdict::Differs);
        assert_eq!(case(3.0, "at least"), Verdict::Agrees);
        assert_eq!(case(5.0, "at least"), Verdict::Differs);
        assert_eq!(case(5.0, "at most"), Verdict::Agrees);
        assert_eq!(case(3.0, "at most"), Verdict::Differs);
    }

    #[test]
    fn a_case_that_cannot_be_run_fails_with_a_reason() {
        let (v, why) = verdict(&format!("{REST}quantity = 'triple'\nexpected = 1.0"));
        assert_eq!(v, Verdict::Fails);
        assert!(why.unwrap().contains("no computation named 'triple'"));
        let (v, why) = verdict(&format!("{REST}quantity = 'double'\nexpected = 1.0"));
        assert_eq!(v, Verdict::Fails);
        assert!(why.unwrap().contains("'x' is missing"));
        let (v, why) =
            verdict(&format!("{REST}quantity = 'double'\ninputs = {{ x = 2, y = 1 }}\nexpected = 4.0"));
        assert_eq!(v, Verdict::Fails);
        assert!(why.unwrap().contains("'y'"));
    }
}
