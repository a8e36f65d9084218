//! Numbers as people write them: decimal point or comma, fractions, groups of three.

use crate::ParseError;

/// A number at the start of a text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Number {
    /// Its value.
    pub value: f64,
    /// Written with a fraction (`3/8`, `2 1/4`).
    pub fraction: bool,
    /// Written without fraction and without decimals.
    pub whole: bool,
}

/// Lower case, one kind of each sign, fractions spelt out, single spaces.
pub(crate) fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 4);
    for c in text.trim().chars() {
        match c {
            '½' => out.push_str(" 1/2"),
            '¼' => out.push_str(" 1/4"),
            '¾' => out.push_str(" 3/4"),
            '⅛' => out.push_str(" 1/8"),
            '⅜' => out.push_str(" 3/8"),
            '⅝' => out.push_str(" 5/8"),
            '⅞' => out.push_str(" 7/8"),
            '⁄' | '∕' => out.push('/'),
            '″' | '”' | '“' | '„' => out.push('"'),
            '′' | '’' | '‘' | '`' | '´' => out.push('\''),
            '×' | '✕' | '*' => out.push('x'),
            '−' | '–' | '—' | '‐' | '‑' => out.push('-'),
            'µ' | 'μ' => out.push('u'),
            '·' | '⋅' | '•' => out.push('.'),
            '²' => out.push('2'),
            'º' | '˚' => out.push('°'),
            c if c.is_whitespace() => {
                if !out.ends_with(' ') {
                    out.push(' ');
                }
            }
            c => out.extend(c.to_lowercase()),
        }
    }
    // Two apostrophes are an inch mark.
    if out.contains("''") {
        out = out.replace("''", "\"");
    }
    let start = out.len() - out.trim_start().len();
    out.drain(..start);
    out.truncate(out.trim_end().len());
    out
}

/// Splits `text` (made by [`plain`]) into the number it starts with and the rest. `written` is the
/// text as written, for messages.
pub(crate) fn leading<'t>(
    text: &'t str,
    written: &str,
    quantity: &'static str,
) -> Result<(Number, &'t str), ParseError> {
    let not_a_number = || ParseError::NotANumber { text: written.trim().to_owned(), quantity };
    if text.is_empty() {
        return Err(ParseError::Empty);
    }
    let (negative, unsigned) = match text.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let length = run(unsigned, |b| b.is_ascii_digit() || b == b'.' || b == b',');
    let (mut token, mut rest) = unsigned.split_at(length);
    // A full stop that ends the number belongs to the text.
    if let Some(shorter) = token.strip_suffix('.') {
        token = shorter;
    }
    if token.is_empty() || !token.as_bytes()[0].is_ascii_digit() && !token.starts_with(['.', ',']) {
        return Err(not_a_number());
    }
    let sign = if negative { -1.0 } else { 1.0 };
    let digits_only = token.bytes().all(|b| b.is_ascii_digit());

    if digits_only {
        if let Some(after) = rest.strip_prefix('/') {
            let (share, rest) = fraction(token, after, written)?;
            return Ok((Number { value: sign * share, fraction: true, whole: false }, rest));
        }
        if let Some((share, rest)) = mixed(rest, written)? {
            let whole = digits(token).ok_or_else(not_a_number)?;
            return Ok((Number { value: sign * (whole + share), fraction: true, whole: false }, rest));
        }
    }
    let mut value = decimal(token, written, quantity)?;
    let mut whole = digits_only;
    // Groups of three digits after a space: 22 000.
    if digits_only && token.len() <= 3 {
        while rest.len() >= 4
            && rest.starts_with(' ')
            && run(&rest[1..], |b| b.is_ascii_digit()) == 3
            && !rest[4..].starts_with(['/', ',', '.'])
        {
            value = value * 1000.0 + digits(&rest[1..4]).ok_or_else(not_a_number)?;
            rest = &rest[4..];
        }
    }
    // Exponent as spreadsheets write it: 1.5e+03.
    if let Some(after) = rest.strip_prefix('e') {
        let (minus, figures) = match after.as_bytes().first() {
            Some(b'-') => (true, &after[1..]),
            Some(b'+') => (false, &after[1..]),
            _ => (false, after),
        };
        let count = run(figures, |b| b.is_ascii_digit());
        if (1..=3).contains(&count) {
            let power: i32 = figures[..count].parse().map_err(|_| not_a_number())?;
            value *= 10f64.powi(if minus { -power } else { power });
            whole = false;
            rest = &figures[count..];
        }
    }
    if !value.is_finite() {
        return Err(not_a_number());
    }
    Ok((Number { value: sign * value, fraction: false, whole }, rest))
}

/// Length of the run of bytes that pass `test` at the start of `text`.
fn run(text: &str, test: impl Fn(u8) -> bool) -> usize {
    text.bytes().take_while(|b| test(*b)).count()
}

fn digits(text: &str) -> Option<f64> {
    text.parse().ok()
}

/// `3` over `8...`: the share and what follows.
fn fraction<'t>(over: &str, after: &'t str, written: &str) -> Result<(f64, &'t str), ParseError> {
    let bad = || ParseError::BadFraction { text: written.trim().to_owned() };
    let count = run(after, |b| b.is_ascii_digit());
    let (under, rest) = after.split_at(count);
    let over: f64 = digits(over).ok_or_else(bad)?;
    let under: u32 = under.parse().map_err(|_| bad())?;
    if !matches!(under, 2 | 4 | 8 | 16 | 32 | 64) || over < 1.0 || over >= f64::from(under) {
        return Err(bad());
    }
    if rest.starts_with(['/', ',', '.']) {
        return Err(bad());
    }
    Ok((over / f64::from(under), rest))
}

/// The fraction of a mixed number: ` 1/4`, `-1/4`.
fn mixed<'t>(rest: &'t str, written: &str) -> Result<Option<(f64, &'t str)>, ParseError> {
    let inner = rest.trim_start().strip_prefix('-').unwrap_or(rest).trim_start();
    if inner.len() == rest.len() {
        return Ok(None);
    }
    let count = run(inner, |b| b.is_ascii_digit());
    if count == 0 {
        return Ok(None);
    }
    match inner[count..].strip_prefix('/') {
        Some(after) => fraction(&inner[..count], after, written).map(Some),
        None => Ok(None),
    }
}

/// A token of digits, points and commas.
fn decimal(token: &str, written: &str, quantity: &'static str) -> Result<f64, ParseError> {
    let not_a_number = || ParseError::NotANumber { text: written.trim().to_owned(), quantity };
    let points = token.matches('.').count();
    let commas = token.matches(',').count();
    let parse = |text: &str| digits(text).ok_or_else(not_a_number);
    let without = |separator: char| token.chars().filter(|c| *c != separator).collect::<String>();
    match (points, commas) {
        (_, 0) if points <= 1 => parse(token),
        (0, 1) => {
            let (before, after) = token.split_once(',').unwrap_or((token, ""));
            if after.is_empty() {
                return Err(not_a_number());
            }
            let decimal = format!("{before}.{after}");
            if after.len() == 3 && (1..=3).contains(&before.len()) && !before.starts_with('0') {
                return Err(ParseError::Ambiguous {
                    text: written.trim().to_owned(),
                    first: decimal,
                    second: without(','),
                });
            }
            parse(&decimal)
        }
        (_, 0) => grouped(token, '.').then(|| without('.')).ok_or_else(not_a_number).and_then(|t| parse(&t)),
        (0, _) => grouped(token, ',').then(|| without(',')).ok_or_else(not_a_number).and_then(|t| parse(&t)),
        _ => {
            let (group, mark) = if token.rfind('.') > token.rfind(',') { (',', '.') } else { ('.', ',') };
            let (before, after) = token.rsplit_once(mark).unwrap_or((token, ""));
            if after.is_empty() || before.contains(mark) || !grouped(before, group) {
                return Err(not_a_number());
            }
            let before: String = before.chars().filter(|c| *c != group).collect();
            parse(&format!("{before}.{after}"))
        }
    }
}

/// Whether `separator` splits `token` into a first group of 1..3 digits and others of three.
fn grouped(token: &str, separator: char) -> bool {
    token.split(separator).enumerate().all(|(i, group)| match i {
        0 => (1..=3).contains(&group.len()),
        _ => group.len() == 3,
    })
}

/// Reads a number that has no unit: `12`, `12.5`, `12,5`, `1 250`, `1/2`.
///
/// # Errors
/// [`ParseError`], with both readings named where two are possible (`1,250`).
pub fn parse_number(text: &str) -> Result<f64, ParseError> {
    let tidy = plain(text);
    let (number, rest) = leading(&tidy, text, "number")?;
    if rest.trim().is_empty() {
        Ok(number.value)
    } else {
        Err(ParseError::NotANumber { text: text.trim().to_owned(), quantity: "number" })
    }
}
