//! The page VALIDATION.md.

use crate::{Bound, Outcome, SourceOutcome, Status, Verdict};
use std::fmt::Write;

const HEAD: &str = "# Validation

This page is written by `cargo run -p validation -- --write VALIDATION.md` from the case files in
`validation/cases/`; a test fails when it is out of date. Every row is one check: a value that was known
before the program ran, the value that the program computes from the same inputs, and whether the two agree.

## How to read it

- **Expected** is the value of the source. **Computed** is what the program's own models give.
- **Tolerance** is how far the two may differ; the case file says why.
- **Status** says how sure the expected value is. *checked*: seen in the source or in a text that quotes it.
  *calculated from the published formula*: worked out apart from this program. *from memory*: written down
  without the source at hand; confirm before relying on it. *common practice, no source*: what the trade
  takes as usual.

## What it cannot show

- Agreement proves that a formula was carried out as its source states it. It does not prove that the formula
  fits a given cliff: most sources tested anchors in concrete, few in rock.
- The table of signs, the share of hidden setting defects and the fall statistics are judgement. No
  published data were found to check them against.
- A check value says nothing about inputs. A wrong embedment or rock grade gives a wrong answer by a right formula.
- Nothing here says that a bolt is safe. A number is an estimate; no inspection sees inside the hole. Follow the
  maker's instructions, local codes, land-manager rules and competent practice, and back up what you doubt.
";

/// The whole page as Markdown.
pub fn page(sources: &[SourceOutcome]) -> String {
    let mut out = String::from(HEAD);
    // writing to a String cannot fail
    let _ = counts(&mut out, sources);
    for source in sources {
        let _ = table(&mut out, source);
    }
    out
}

fn counts(out: &mut String, sources: &[SourceOutcome]) -> std::fmt::Result {
    let all = || sources.iter().flat_map(|s| &s.outcomes);
    let published: Vec<&SourceOutcome> =
        sources.iter().filter(|s| s.source.kind.is_published() && !s.outcomes.is_empty()).collect();
    let from_published: usize = published.iter().map(|s| s.outcomes.len()).sum();
    writeln!(out, "\n## Counts\n")?;
    let seen =
        published.iter().filter(|s| s.outcomes.iter().any(|o| o.case.status == Status::Checked)).count();
    writeln!(
        out,
        "{} check values, {from_published} of them from {} distinct published sources; of {seen} of these sources at \
         least one value was seen in print. {} agree, {} do not.\n",
        all().count(),
        published.len(),
        all().filter(|o| o.verdict == Verdict::Agrees).count(),
        all().filter(|o| o.verdict != Verdict::Agrees).count(),
    )?;
    writeln!(out, "| status | check values |\n| --- | ---: |")?;
    for status in Status::ALL {
        let count = all().filter(|o| o.case.status == status).count();
        writeln!(out, "| {} | {count} |", status.name())?;
    }
    writeln!(out, "\n| source | kind | check values | agree |\n| --- | --- | ---: | ---: |")?;
    for s in sources {
        let agree = s.outcomes.iter().filter(|o| o.verdict == Verdict::Agrees).count();
        let (title, kind) = (cell(&s.source.title), s.source.kind.name());
        writeln!(out, "| [{title}](#{}) | {kind} | {} | {agree} |", s.slug, s.outcomes.len())?;
    }
    Ok(())
}

fn table(out: &mut String, s: &SourceOutcome) -> std::fmt::Result {
    let source = &s.source;
    writeln!(out, "\n<a id=\"{}\"></a>\n\n## {}\n", s.slug, source.title)?;
    let mut facts = Vec::new();
    facts.extend(source.authors.clone());
    facts.extend(source.year.map(|y| y.to_string()));
    facts.extend(source.place.clone());
    if !facts.is_empty() {
        writeln!(out, "{}.", facts.join(", ").trim_end_matches('.'))?;
    }
    writeln!(out, "How seen: {}.", source.seen.trim_end_matches('.'))?;
    if let Some(note) = &source.note {
        writeln!(out, "{note}")?;
    }
    writeln!(
        out,
        "\n| id | what | inputs | expected | computed | unit | difference | tolerance | status | verdict |\n\
         | --- | --- | --- | ---: | ---: | --- | ---: | ---: | --- | --- |"
    )?;
    for o in &s.outcomes {
        row(out, o)?;
    }
    Ok(())
}

fn row(out: &mut String, o: &Outcome) -> std::fmt::Result {
    let case = &o.case;
    let expected = case.expected.to_string();
    let sig = significant(&expected).clamp(6, 12);
    let bound = match case.bound {
        Bound::Equal => "",
        Bound::AtLeast => "at least ",
        Bound::AtMost => "at most ",
    };
    let (computed, difference) = match &o.computed {
        Ok(value) => (number(*value, sig), difference(value - case.expected, case.expected)),
        Err(why) => (cell(why), String::new()),
    };
    let verdict = match o.verdict {
        Verdict::Agrees => "agrees",
        Verdict::Differs => "**differs**",
        Verdict::Fails => "**no value**",
    };
    writeln!(
        out,
        "| {} | {} | {} | {bound}{expected} | {computed} | {} | {difference} | {} | {} | {verdict} |",
        cell(&case.id),
        cell(&case.what),
        cell(&o.inputs),
        cell(&case.unit),
        number(case.tolerance.width(case.expected), 2),
        case.status.name(),
    )
}

fn cell(text: &str) -> String {
    text.replace('|', "\\|").replace('\n', " ")
}

/// How many significant digits a number is written with.
fn significant(text: &str) -> usize {
    let digits: String = text.chars().take_while(|c| *c != 'e').filter(char::is_ascii_digit).collect();
    digits.trim_start_matches('0').len()
}

/// A number with so many significant digits, without trailing zeros, so that the last bits of a
/// floating-point result, which differ between machines, never show.
fn number(value: f64, significant: usize) -> String {
    let rounded: f64 = format!("{value:.*e}", significant.saturating_sub(1)).parse().unwrap_or(value);
    let magnitude = rounded.abs();
    if magnitude != 0.0 && !(1e-4..1e9).contains(&magnitude) {
        format!("{rounded:e}")
    } else {
        format!("{rounded}")
    }
}

/// A difference to two digits; 0 where it is nothing but the rounding of floating-point numbers.
fn difference(difference: f64, expected: f64) -> String {
    if difference.abs() <= 1e-10 * expected.abs().max(1e-3) { "0".into() } else { number(difference, 2) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_show_their_digits_and_no_noise() {
        assert_eq!(number(0.1 + 0.2, 6), "0.3");
        assert_eq!(number(1234.56789, 6), "1234.57");
        assert_eq!(number(1.2345e-7, 2), "1.2e-7");
        assert_eq!(number(0.0, 6), "0");
        assert_eq!(significant("0.001350"), 4);
        assert_eq!(difference(1e-16, 1.0), "0");
    }
}
