//! Dates as people write them, and the order of a column's days and months.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// Order of day, month and year in numbers like 03/05/2021.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum DateOrder {
    DayMonthYear,
    MonthDayYear,
    YearMonthDay,
}

impl DateOrder {
    /// Words for people.
    pub const fn name(self) -> &'static str {
        match self {
            Self::DayMonthYear => "day, month, year",
            Self::MonthDayYear => "month, day, year",
            Self::YearMonthDay => "year, month, day",
        }
    }
}

/// A date as well as it is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Known {
    Day(Date),
    /// Year and month.
    Month(i16, i8),
    Year(i16),
}

impl Known {
    pub(crate) fn year(self) -> i16 {
        match self {
            Self::Day(date) => date.year(),
            Self::Month(year, _) | Self::Year(year) => year,
        }
    }

    /// The latest day it can be.
    pub(crate) fn latest(self) -> Option<Date> {
        match self {
            Self::Day(date) => Some(date),
            Self::Month(year, month) => Date::new(year, month, 1).ok().map(Date::last_of_month),
            Self::Year(year) => Date::new(year, 12, 31).ok(),
        }
    }

    /// `2021-05-03`, `May 2021`, `2021`.
    pub(crate) fn words(self) -> String {
        match self {
            Self::Day(date) => date.to_string(),
            Self::Month(year, month) => format!("{} {year}", month_name(month)),
            Self::Year(year) => year.to_string(),
        }
    }

    /// The earliest day it can be.
    pub(crate) fn earliest(self) -> Option<Date> {
        match self {
            Self::Day(date) => Some(date),
            Self::Month(year, month) => Date::new(year, month, 1).ok(),
            Self::Year(year) => Date::new(year, 1, 1).ok(),
        }
    }
}

/// What a cell says before the column's order is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Written {
    Known(Known),
    /// A day count of a spreadsheet.
    Serial(Date),
    /// Season and year: the year is kept.
    Season(i16),
    /// "about 1994": the year is kept.
    About(i16),
    /// Three numbers: two of day and month, and the year.
    Open {
        first: i8,
        second: i8,
        year: i16,
    },
    /// Three numbers of two figures with hyphens: even the year is open.
    AllOpen {
        first: i8,
        second: i8,
        third: i8,
    },
    /// A decade.
    Decade,
    /// Not a date.
    Strange,
}

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

fn month(word: &str) -> Option<i8> {
    if word.len() < 3 || !word.is_ascii() {
        return None;
    }
    let word = if word == "sept" { "sep" } else { word };
    MONTHS.iter().position(|name| name.starts_with(word)).map(|at| at as i8 + 1)
}

/// Year from its figures; two figures mean a year up to `today`'s in this century, else the last one.
fn year(figures: &str, today: Date) -> Option<i16> {
    let value: i16 = figures.parse().ok()?;
    match figures.len() {
        4 => Some(value),
        2 => {
            let century = today.year() / 100 * 100;
            Some(if value <= today.year() % 100 { century + value } else { century - 100 + value })
        }
        _ => None,
    }
}

/// Reads a cell without knowledge of its column.
pub(crate) fn scan(text: &str, today: Date) -> Written {
    let text = text.trim();
    if text.is_empty() || text.len() > 40 || !text.is_ascii() {
        return Written::Strange;
    }
    let lower = text.to_ascii_lowercase();
    // The time of day is not wanted.
    let day = match lower.find(':') {
        Some(colon) => {
            let cut = lower[..colon].rfind(['t', ' ']).unwrap_or(colon);
            lower[..cut].trim()
        }
        None => lower.as_str(),
    };
    let day = day.trim_end_matches(['.', ',', ' ']);
    if day.bytes().all(|b| b.is_ascii_digit() || b == b'.') && day.bytes().filter(|b| *b == b'.').count() <= 1
    {
        return plain_number(day);
    }
    let parts: Vec<&str> = day.split([' ', '/', '.', '-', ',', '_']).filter(|p| !p.is_empty()).collect();
    let numeric = |p: &str| !p.is_empty() && p.bytes().all(|b| b.is_ascii_digit());
    match parts[..] {
        [a, b, c] if numeric(a) && numeric(b) && numeric(c) => {
            if a.len() == 4 {
                return whole(a.parse().ok(), b.parse().ok(), c.parse().ok());
            }
            let (Ok(first), Ok(second)) = (a.parse::<i8>(), b.parse::<i8>()) else { return Written::Strange };
            if c.len() == 2
                && a.len() == 2
                && b.len() == 2
                && day.contains('-')
                && let Ok(third) = c.parse()
            {
                return Written::AllOpen { first, second, third };
            }
            match year(c, today) {
                Some(year) if first > 0 && second > 0 => Written::Open { first, second, year },
                _ => Written::Strange,
            }
        }
        [a, b, c] if month(b).is_some() && numeric(trim_ordinal(a)) && numeric(c) => {
            whole(year(c, today), month(b), trim_ordinal(a).parse().ok())
        }
        [a, b, c] if month(a).is_some() && numeric(trim_ordinal(b)) && numeric(c) => {
            whole(year(c, today), month(a), trim_ordinal(b).parse().ok())
        }
        [a, b] if month(a).is_some() && numeric(b) && b.len() == 4 => month_of(year(b, today), month(a)),
        // Mar-08 may be a size that a spreadsheet took for a date, so two figures are not believed.
        [a, b] if month(b).is_some() && numeric(a) && a.len() == 4 => month_of(year(a, today), month(b)),
        [a, b] if numeric(a) && numeric(b) && a.len() == 4 && b.len() <= 2 => {
            month_of(a.parse().ok(), b.parse().ok())
        }
        [a, b] if numeric(a) && numeric(b) && b.len() == 4 && a.len() <= 2 => {
            month_of(b.parse().ok(), a.parse().ok())
        }
        [season, b] if numeric(b) && b.len() == 4 => match season {
            "spring" | "summer" | "autumn" | "fall" | "winter" | "easter" | "early" | "mid" | "late" => {
                year(b, today).map_or(Written::Strange, Written::Season)
            }
            "c" | "ca" | "circa" | "about" | "approx" | "around" | "~" | "say" => {
                year(b, today).map_or(Written::Strange, Written::About)
            }
            _ => Written::Strange,
        },
        [single] => {
            let bare = single.trim_matches(['~', '?', '\'']);
            if bare
                .strip_suffix('s')
                .map(|d| d.trim_end_matches('\''))
                .is_some_and(|d| numeric(d) && (d.len() == 2 || d.len() == 4))
            {
                return Written::Decade;
            }
            if bare.len() == 4 && numeric(bare) && bare != single {
                return year(bare, today).map_or(Written::Strange, Written::About);
            }
            Written::Strange
        }
        [_, b] if b.strip_suffix('s').is_some_and(numeric) => Written::Decade,
        _ => Written::Strange,
    }
}

fn trim_ordinal(text: &str) -> &str {
    ["st", "nd", "rd", "th"].iter().find_map(|s| text.strip_suffix(s)).unwrap_or(text)
}

/// 2021, 20210503 or the day count of a spreadsheet (44319 is 3 May 2021).
fn plain_number(text: &str) -> Written {
    let whole_part = text.split('.').next().unwrap_or("");
    let Ok(value) = whole_part.parse::<i64>() else { return Written::Strange };
    match (whole_part.len(), text.contains('.')) {
        (4, false) if (1000..=9999).contains(&value) => Written::Known(Known::Year(value as i16)),
        (8, false) => whole(
            i16::try_from(value / 10_000).ok(),
            i8::try_from(value / 100 % 100).ok(),
            i8::try_from(value % 100).ok(),
        ),
        (5, _) => Date::new(1899, 12, 30)
            .ok()
            .and_then(|zero| zero.checked_add(jiff::Span::new().try_days(value).ok()?).ok())
            .map_or(Written::Strange, Written::Serial),
        _ => Written::Strange,
    }
}

fn whole(year: Option<i16>, month: Option<i8>, day: Option<i8>) -> Written {
    match (year, month, day) {
        (Some(y), Some(m), Some(d)) => {
            Date::new(y, m, d).map_or(Written::Strange, |date| Written::Known(Known::Day(date)))
        }
        _ => Written::Strange,
    }
}

fn month_of(year: Option<i16>, month: Option<i8>) -> Written {
    match (year, month) {
        (Some(y), Some(m)) if Date::new(y, m, 1).is_ok() => Written::Known(Known::Month(y, m)),
        _ => Written::Strange,
    }
}

/// What a whole column shows of its order.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct OrderEvidence {
    /// Cells that can only be day first, and the first row of them.
    pub day_first: u32,
    pub day_first_row: u32,
    /// Cells that can only be month first, and the first row of them.
    pub month_first: u32,
    pub month_first_row: u32,
    /// Cells that can be either.
    pub open: u32,
}

impl OrderEvidence {
    pub(crate) fn add(&mut self, written: Written, row: u32) {
        let Written::Open { first, second, year } = written else { return };
        let day_first = Date::new(year, second, first).is_ok();
        let month_first = Date::new(year, first, second).is_ok();
        match (day_first, month_first) {
            (true, true) if first != second => self.open += 1,
            (true, false) => {
                self.day_first += 1;
                if self.day_first_row == 0 {
                    self.day_first_row = row;
                }
            }
            (false, true) => {
                self.month_first += 1;
                if self.month_first_row == 0 {
                    self.month_first_row = row;
                }
            }
            _ => {}
        }
    }

    /// The order that the column proves, if it does not contradict itself.
    pub(crate) fn order(&self) -> Option<DateOrder> {
        match (self.day_first, self.month_first) {
            (1.., 0) => Some(DateOrder::DayMonthYear),
            (0, 1..) => Some(DateOrder::MonthDayYear),
            _ => None,
        }
    }
}

/// A date, or what stands in its way.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Resolved {
    Known(Known),
    /// The readings that are possible.
    Ambiguous(String, String),
    Strange,
}

/// Reads an open date with the order of its column.
pub(crate) fn resolve(written: Written, order: Option<DateOrder>, today: Date) -> Resolved {
    let known = |date: Option<Date>| date.map_or(Resolved::Strange, |d| Resolved::Known(Known::Day(d)));
    match written {
        Written::Known(known) => Resolved::Known(known),
        Written::Serial(date) => Resolved::Known(Known::Day(date)),
        Written::Season(year) | Written::About(year) => Resolved::Known(Known::Year(year)),
        Written::Open { first, second, year } => {
            let day_first = Date::new(year, second, first).ok();
            let month_first = Date::new(year, first, second).ok();
            match (order, day_first, month_first) {
                (_, Some(date), None) => known(Some(date)),
                (_, None, Some(date)) => known(Some(date)),
                (_, Some(a), Some(b)) if a == b => known(Some(a)),
                (Some(DateOrder::DayMonthYear), Some(date), _) => known(Some(date)),
                (Some(DateOrder::MonthDayYear), _, Some(date)) => known(Some(date)),
                (_, Some(a), Some(b)) => Resolved::Ambiguous(long(a), long(b)),
                (_, None, None) => Resolved::Strange,
            }
        }
        Written::AllOpen { first, second, third } => {
            let full = |y: i8| year(&format!("{y:02}"), today);
            let date = |y: Option<i16>, m: i8, d: i8| Date::new(y?, m, d).ok();
            match order {
                Some(DateOrder::DayMonthYear) => known(date(full(third), second, first)),
                Some(DateOrder::MonthDayYear) => known(date(full(third), first, second)),
                Some(DateOrder::YearMonthDay) => known(date(full(first), second, third)),
                None => {
                    let mut readings: Vec<Date> = [
                        date(full(third), second, first),
                        date(full(third), first, second),
                        date(full(first), second, third),
                    ]
                    .into_iter()
                    .flatten()
                    .collect();
                    readings.sort_unstable();
                    readings.dedup();
                    match readings[..] {
                        [] => Resolved::Strange,
                        [one] => known(Some(one)),
                        [a, b, ..] => Resolved::Ambiguous(long(a), long(b)),
                    }
                }
            }
        }
        Written::Decade | Written::Strange => Resolved::Strange,
    }
}

/// `3 May 2021`.
pub(crate) fn long(date: Date) -> String {
    let name = MONTHS.get((date.month() - 1) as usize).copied().unwrap_or("");
    let mut letters = name.chars();
    let capital = letters.next().map(|c| c.to_ascii_uppercase()).unwrap_or(' ');
    format!("{} {capital}{} {}", date.day(), letters.as_str(), date.year())
}

/// `may` for 5.
pub(crate) fn month_name(month: i8) -> &'static str {
    MONTHS.get((month.max(1) - 1) as usize).copied().unwrap_or("")
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use proptest::prelude::*;

    const TODAY: Date = date(2026, 11, 25);

    #[test]
    fn one_reading_only() {
        let day = |y, m, d| Written::Known(Known::Day(date(y, m, d)));
        for (text, expected) in [
            ("2021-05-03", day(2021, 5, 3)),
            ("2021/5/3", day(2021, 5, 3)),
            ("2021-05-03T14:30:00", day(2021, 5, 3)),
            ("2021-05-03 14:30", day(2021, 5, 3)),
            ("20210503", day(2021, 5, 3)),
            ("3 May 2021", day(2021, 5, 3)),
            ("3rd May 2021", day(2021, 5, 3)),
            ("May 3, 2021", day(2021, 5, 3)),
            ("3-May-21", day(2021, 5, 3)),
            ("3 Sept 98", day(1998, 9, 3)),
            ("May 2021", Written::Known(Known::Month(2021, 5))),
            ("2021-05", Written::Known(Known::Month(2021, 5))),
            ("05/2021", Written::Known(Known::Month(2021, 5))),
            ("2021", Written::Known(Known::Year(2021))),
            ("spring 1994", Written::Season(1994)),
            ("c. 1994", Written::About(1994)),
            ("1994?", Written::About(1994)),
            ("1990s", Written::Decade),
            ("early 90s", Written::Decade),
            // Day count of 3 May 2021 in spreadsheets whose day 1 is 1 January 1900.
            ("44319", Written::Serial(date(2021, 5, 3))),
            ("44319.5", Written::Serial(date(2021, 5, 3))),
            ("36526", Written::Serial(date(2000, 1, 1))),
            ("03/05/2021", Written::Open { first: 3, second: 5, year: 2021 }),
            ("5.3.21", Written::Open { first: 5, second: 3, year: 2021 }),
            ("21-05-03", Written::AllOpen { first: 21, second: 5, third: 3 }),
            ("31/02/2021", Written::Open { first: 31, second: 2, year: 2021 }),
            ("Mar-08", Written::Strange),
            ("yesterday", Written::Strange),
            ("", Written::Strange),
        ] {
            assert_eq!(scan(text, TODAY), expected, "{text}");
        }
    }

    #[test]
    fn the_column_decides() {
        let column = |cells: &[&str]| {
            let mut evidence = OrderEvidence::default();
            for (i, cell) in cells.iter().enumerate() {
                evidence.add(scan(cell, TODAY), i as u32 + 2);
            }
            evidence
        };
        assert_eq!(column(&["03/05/2021", "25/12/2020"]).order(), Some(DateOrder::DayMonthYear));
        assert_eq!(column(&["03/05/2021", "12/25/2020"]).order(), Some(DateOrder::MonthDayYear));
        assert_eq!(column(&["03/05/2021", "04/06/2021"]).order(), None);
        assert_eq!(column(&["13/05/2021", "05/13/2021"]).order(), None);
        let open = scan("03/05/2021", TODAY);
        assert_eq!(
            resolve(open, None, TODAY),
            Resolved::Ambiguous("3 May 2021".into(), "5 March 2021".into())
        );
        assert_eq!(
            resolve(open, Some(DateOrder::MonthDayYear), TODAY),
            Resolved::Known(Known::Day(date(2021, 3, 5)))
        );
        assert_eq!(resolve(scan("31/02/2021", TODAY), None, TODAY), Resolved::Strange);
        assert_eq!(
            resolve(scan("04/04/2021", TODAY), None, TODAY),
            Resolved::Known(Known::Day(date(2021, 4, 4)))
        );
    }

    proptest! {
        #[test]
        fn any_text(text in "\\PC{0,20}") {
            let _ = resolve(scan(&text, TODAY), None, TODAY);
        }
        #[test]
        fn any_date_like_text(text in "[0-9/. -]{0,12}(jan|May|s)?[0-9 ]{0,5}") {
            let _ = resolve(scan(&text, TODAY), Some(DateOrder::DayMonthYear), TODAY);
        }
        #[test]
        fn every_day_in_its_order(serial in 20_000i64..50_000) {
            let day = Date::new(1899, 12, 30).unwrap().checked_add(jiff::Span::new().days(serial)).unwrap();
            let text = format!("{}/{}/{}", day.day(), day.month(), day.year());
            prop_assert_eq!(resolve(scan(&text, TODAY), Some(DateOrder::DayMonthYear), TODAY), Resolved::Known(Known::Day(day)));
            prop_assert_eq!(scan(&serial.to_string(), TODAY), Written::Serial(day));
            prop_assert_eq!(scan(&day.to_string(), TODAY), Written::Known(Known::Day(day)));
        }
    }
}
