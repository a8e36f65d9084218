//! Load traces of pull tests, as loggers write them.

use crate::{Limits, ReadError};
use evidence::trace::Trace;
use std::io::Read;
use units::{ForceUnit, LengthUnit};

/// Samples taken from one file.
const MOST: usize = 20_000_000;

#[derive(Clone, Copy, PartialEq)]
enum Role {
    /// Factor to seconds.
    Time(f64),
    /// Factor to newtons.
    Force(f64),
    /// Factor to metres.
    Displacement(f64),
}

/// Reads a delimited load trace: columns of time, force and, where it was measured, displacement, with
/// their units in the headings (`time (s)`, `t [ms]`, `force (kN)`, `load [lbf]`, `disp (mm)`). Lines
/// before the headings, and lines that start with `#`, `%` or `//`, are left out. The delimiter is a
/// comma, semicolon, tab or blanks; with semicolons and tabs decimals may have a comma.
///
/// # Errors
/// [`ReadError::Trace`] tells the line and what is wrong: no headings, a unit that is missing, a cell
/// that is no number, time that does not rise.
pub fn read<R: Read>(file: &str, reader: R, limits: &Limits) -> Result<Trace, ReadError> {
    let mut bytes = Vec::new();
    reader.take(limits.file_bytes + 1).read_to_end(&mut bytes).map_err(|e| ReadError::io(file, e))?;
    if bytes.len() as u64 > limits.file_bytes {
        return Err(ReadError::TooLarge { file: file.to_owned(), limit: limits.file_bytes });
    }
    if bytes.is_empty() {
        return Err(ReadError::Empty { file: file.to_owned() });
    }
    let fail = |reason: String| ReadError::Trace { file: file.to_owned(), reason };
    let encoding = crate::encoding::detect(file, &mut std::io::Cursor::new(&bytes))?;
    let (text, _, _) = encoding.encoding.decode(&bytes);
    let mut layout: Option<(Vec<Option<Role>>, Separator)> = None;
    let (mut time, mut force, mut displacement) = (Vec::new(), Vec::new(), Vec::new());
    for (index, line) in text.lines().enumerate() {
        let number = index + 1;
        let line = line.trim_start_matches('\u{feff}').trim_end();
        let start = line.trim_start();
        if start.is_empty() || start.starts_with(['#', '%']) || start.starts_with("//") {
            continue;
        }
        let Some((roles, separator)) = &layout else {
            layout = headings(line).map_err(|reason| fail(format!("line {number}: {reason}")))?;
            continue;
        };
        if time.len() >= MOST {
            return Err(fail(format!("more than {MOST} samples; cut the trace to the test")));
        }
        let mut found = (None, None, None);
        let mut cells = separator.cells(line);
        for role in roles {
            let Some(cell) = cells.next() else { break };
            let Some(role) = role else { continue };
            let value = separator.number(cell).ok_or_else(|| {
                fail(format!(
                    "line {number}: \"{}\" is no number; delete the line or correct it",
                    short(cell)
                ))
            })?;
            match role {
                Role::Time(factor) => found.0 = Some(value * factor),
                Role::Force(factor) => found.1 = Some(value * factor),
                Role::Displacement(factor) => found.2 = Some(value * factor),
            }
        }
        let (Some(t), Some(f)) = (found.0, found.1) else {
            return Err(fail(format!(
                "line {number}: fewer cells than headings; delete the line or complete it"
            )));
        };
        time.push(t);
        force.push(f);
        if let Some(d) = found.2 {
            displacement.push(d);
        }
    }
    if layout.is_none() {
        return Err(fail(
            "no line names the columns; put a heading line such as time (s),force (kN) before the numbers"
                .to_owned(),
        ));
    }
    let displacement = (!displacement.is_empty()).then_some(displacement);
    Trace::new(time, force, displacement).map_err(|e| fail(e.to_string()))
}

fn short(text: &str) -> String {
    text.trim().chars().take(40).collect()
}

#[derive(Clone, Copy)]
enum Separator {
    Char(char),
    Blanks,
}

impl Separator {
    fn cells<'l>(self, line: &'l str) -> Box<dyn Iterator<Item = &'l str> + 'l> {
        match self {
            Self::Char(c) => Box::new(line.split(c).map(|cell| cell.trim().trim_matches('"'))),
            Self::Blanks => Box::new(line.split_whitespace()),
        }
    }

    /// A number; with a separator other than a comma its decimals may have a comma.
    fn number(self, cell: &str) -> Option<f64> {
        let value: f64 = match self {
            Self::Char(',') => cell.parse().ok()?,
            _ if cell.contains(',') => cell.replace(',', ".").parse().ok()?,
            _ => cell.parse().ok()?,
        };
        value.is_finite().then_some(value)
    }
}

type Layout = Option<(Vec<Option<Role>>, Separator)>;

/// The columns that a line of headings names; none if it is no line of headings, an error if it is one
/// but a unit cannot be understood.
fn headings(line: &str) -> Result<Layout, String> {
    let separator =
        [';', '\t', ','].into_iter().find(|c| line.contains(*c)).map_or(Separator::Blanks, Separator::Char);
    // With blanks as separators a unit would be a cell of its own: "time(s) force(kN)".
    let mut roles = Vec::new();
    let (mut times, mut forces) = (0, 0);
    for heading in separator.cells(line) {
        let role = role(heading)?;
        times += usize::from(matches!(role, Some(Role::Time(_))));
        forces += usize::from(matches!(role, Some(Role::Force(_))));
        roles.push(role);
    }
    match (times, forces) {
        (1, 1) => Ok(Some((roles, separator))),
        (0, _) | (_, 0) => Ok(None),
        _ => Err("several columns of time or of force; keep one of each".to_owned()),
    }
}

fn role(heading: &str) -> Result<Option<Role>, String> {
    let lower = heading.trim().to_lowercase();
    let (name, unit) = match lower.find(['(', '[', '/', '_']) {
        Some(at) => (lower[..at].trim(), lower[at..].trim_matches(['(', ')', '[', ']', '/', '_', ' '])),
        None => match lower.rsplit_once(' ') {
            Some((name, unit)) => (name.trim(), unit.trim()),
            None => (lower.as_str(), ""),
        },
    };
    let missing = || {
        format!(
            "the heading \"{}\" has no unit that is known; write for example time (s), force (kN)",
            short(heading)
        )
    };
    Ok(match name {
        "time" | "t" | "elapsed" | "elapsed time" | "zeit" | "seconds" | "sec" => {
            Some(Role::Time(match unit {
                "s" | "sec" | "secs" | "seconds" => 1.0,
                "ms" | "msec" | "milliseconds" => 1e-3,
                "us" | "µs" => 1e-6,
                "min" => 60.0,
                "" if name.starts_with("sec") => 1.0,
                _ => return Err(missing()),
            }))
        }
        "force" | "load" | "f" | "pull" | "tension" | "kraft" | "load cell" | "kn" | "lbf" | "kgf" | "n" => {
            let unit = if unit.is_empty() { name } else { unit };
            Some(Role::Force(ForceUnit::named(unit).ok_or_else(missing)?.of(1.0).as_n()))
        }
        "displacement" | "disp" | "travel" | "movement" | "extension" | "stroke" | "d" | "x" => {
            Some(Role::Displacement(LengthUnit::named(unit).ok_or_else(missing)?.of(1.0).as_m()))
        }
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn trace(text: &str) -> Result<Trace, ReadError> {
        read("t.csv", text.as_bytes(), &Limits::default())
    }

    #[test]
    fn two_layouts() {
        let a = trace("# unit A\n# rate 10 Hz\ntime (s),force (kN)\n0.0,0.1\n0.1,0.2\n0.2,1.5\n# note\n0.3,3.0\n0.4,0.5\n").unwrap();
        assert_eq!(a.time_s(), [0.0, 0.1, 0.2, 0.3, 0.4]);
        assert!((a.force_n()[3] - 3000.0).abs() < 1e-9);
        assert!(a.displacement_m().is_none());
        let b = trace("Logger;B\r\nTest;2\r\nt [ms];load [lbf];disp [mm]\r\n0;-2,5;0,0\r\n100;-3,6;0,1\r\n200;100,0;0,2\r\n300;50;0,3\r\n400;0;0,4\r\n").unwrap();
        assert!((b.time_s()[1] - 0.1).abs() < 1e-12);
        // 100 lbf = 444.822 N (NIST SP 811).
        assert!((b.force_n()[2] - 444.822).abs() < 1e-3);
        assert!((b.displacement_m().unwrap()[4] - 0.4e-3).abs() < 1e-12);
        let c = trace("time(s) force(kgf)\n0 1\n1 2\n2 3\n3 4\n4 5\n").unwrap();
        assert!((c.force_n()[0] - 9.80665).abs() < 1e-9);
    }

    #[test]
    fn refused() {
        for (text, part) in [
            ("1,2\n3,4\n", "no line names"),
            ("time (s),force (stone)\n0,1\n", "no unit"),
            ("time (s),force (kN)\n0,x\n", "line 2"),
            ("time (s),force (kN)\n0\n", "fewer cells"),
            ("time (s),force (kN)\n0,1\n0,1\n0,1\n0,1\n0,1\n", "does not go up"),
            ("time (s),force (kN)\n0,NaN\n", "no number"),
        ] {
            let message = trace(text).unwrap_err().to_string();
            assert!(message.contains(part), "{message}");
        }
        assert!(matches!(trace(""), Err(ReadError::Empty { .. })));
    }

    proptest! {
        #[test]
        fn any_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
            let _ = read("t.csv", &bytes[..], &Limits::default());
        }
        #[test]
        fn any_lines(body in "[0-9,;. \\n\\t-]{0,80}") {
            let _ = trace(&format!("time (s);force (kN)\n{body}"));
        }
    }
}
