//! Load traces: read, compared with the pull they belong to, and noted there.

use super::{FileReport, Found, Pen, ReadFacts, finding, open};
use evidence::trace::{Settings, read as read_trace};
use exchange::{Limits, ReadError};
use register::{Body, PullRecord, State, Subject};
use std::io::Read;
use units::{Force, Length, UnitSystem};

/// Relative difference of a peak in the sheet and in the trace that is worth telling. Source: judgement.
const TELLING: f64 = 0.05;

/// Reads a trace. The pull that names this file gets its check sum, and peak and displacement where the
/// sheet gives none; a peak that differs from the sheet's is told and left as the sheet has it.
pub fn read(found: &Found, limits: &Limits, state: &State, pen: &mut Pen) -> ReadFacts {
    let mut bytes = Vec::new();
    let io = |source| ReadError::Io { file: found.name.clone(), source };
    open(found)?.take(limits.file_bytes + 1).read_to_end(&mut bytes).map_err(io)?;
    let trace = exchange::trace::read(&found.name, &bytes[..], limits)?;
    let mut report = FileReport::named(found, "load trace");
    let file = found.path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let pull = state.pulls().find(|pull| {
        pull.record.trace.as_deref().is_some_and(|trace| {
            let trace = trace.rsplit(['/', '\\']).next().unwrap_or(trace);
            trace.eq_ignore_ascii_case(&file)
        })
    });
    let Some(pull) = pull else {
        report
            .findings
            .push(finding("no pull in the register names this trace; import the sheet of pulls first"));
        return Ok((Vec::new(), vec![report]));
    };
    let mut record =
        PullRecord { trace_sha256: Some(exchange::photo::sha256(&bytes)), ..PullRecord::default() };
    match read_trace(&trace, &Settings::default()) {
        Err(error) => report.findings.push(finding(error.to_string())),
        Ok(reading) => {
            let load = reading.held_load.unwrap_or(reading.peak);
            match pull.record.peak {
                None => record.peak = Some(load),
                Some(peak) if differs(peak, load) && differs(peak, reading.peak) => {
                    let metric = UnitSystem::Metric;
                    report.findings.push(finding(format!(
                        "{} says {}, its trace {}; the sheet's value is kept",
                        pull.id,
                        metric.force(peak),
                        metric.force(load)
                    )));
                }
                Some(_) => {}
            }
            if pull.record.displacement_at_peak.is_none() {
                record.displacement_at_peak = reading.displacement_at_peak_m.map(Length::m);
            }
        }
    }
    let subject = Subject::Pull(pull.id.to_owned());
    let facts: Vec<_> = state
        .news(&subject, Body::Pull(record))
        .map(|body| pen.write(found.name.clone(), subject, body))
        .into_iter()
        .collect();
    report.facts_new = facts.len();
    Ok((facts, vec![report]))
}

fn differs(a: Force, b: Force) -> bool {
    (a.as_n() - b.as_n()).abs() > TELLING * a.as_n().abs().max(b.as_n().abs())
}
