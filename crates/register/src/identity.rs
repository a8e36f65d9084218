//! Identities: readable paths made from names.
//!
//! An identity is made once, when its subject is first recorded, and never changes. Because it is a
//! function of what the sheet says, the same row read twice names the same subject. Spelling that
//! differs only in capitals, accents, apostrophes, blanks or hyphens gives the same identity.
//!
//! ```
//! use register::identity;
//! let crag = identity::crag("Harl Quarry");
//! let route = identity::route(&crag, "Blind Corner");
//! assert_eq!(identity::placement(&route, None, 3), "harl-quarry/blind-corner/3");
//! ```

use crate::record::FittingRecord;
use jiff::civil::Date;
use unicode_normalization::UnicodeNormalization;
use uuid::Uuid;

/// Longest slug in characters; a longer name is cut and ends in a mark made from all of it.
const LONGEST: usize = 60;

/// One step of an identity: small letters and digits of the name, joined by single hyphens.
///
/// Accents are dropped, `&` becomes `and`, apostrophes vanish, letters of any script stay. A name
/// without a letter or digit, or longer than 60 characters, gets a mark made from its text (first 8
/// hexadecimal digits of its version-5 UUID), so that different names stay apart. The slug of a slug
/// is itself.
pub fn slug(name: &str) -> String {
    let mut out = String::with_capacity(name.len());
    let mut gap = false;
    let mut put = |text: &str, gap: &mut bool| {
        if *gap && !out.is_empty() {
            out.push('-');
        }
        *gap = false;
        out.push_str(text);
    };
    let mut one = [0u8; 4];
    for letter in name.nfkd().flat_map(char::to_lowercase).nfkd() {
        match letter {
            '\u{300}'..='\u{36f}' | '\'' | '\u{2018}' | '\u{2019}' | '\u{2bc}' | '`' => {}
            'ß' => put("ss", &mut gap),
            'æ' => put("ae", &mut gap),
            'œ' => put("oe", &mut gap),
            'ø' => put("o", &mut gap),
            'ł' => put("l", &mut gap),
            'đ' | 'ð' => put("d", &mut gap),
            'þ' => put("th", &mut gap),
            'ı' => put("i", &mut gap),
            '&' => {
                gap = true;
                put("and", &mut gap);
                gap = true;
            }
            _ if letter.is_alphanumeric() => put(letter.encode_utf8(&mut one), &mut gap),
            _ => gap = true,
        }
    }
    if out.is_empty() {
        return if name.trim().is_empty() { "unnamed".to_owned() } else { format!("x-{}", mark(name)) };
    }
    if out.chars().count() > LONGEST {
        let mark = mark(&out);
        let kept: String = out.chars().take(LONGEST - 9).collect();
        return format!("{}-{mark}", kept.trim_end_matches('-'));
    }
    out
}

fn mark(text: &str) -> String {
    let uuid = Uuid::new_v5(&Uuid::NAMESPACE_OID, text.as_bytes());
    let mut hex = uuid.simple().to_string();
    hex.truncate(8);
    hex
}

/// Identity of a crag: `harl-quarry`.
pub fn crag(name: &str) -> String {
    slug(name)
}

/// Identity of a route: `harl-quarry/blind-corner`.
pub fn route(crag_id: &str, name: &str) -> String {
    format!("{crag_id}/{}", slug(name))
}

/// Identity of a placement: `harl-quarry/blind-corner/3`, from the second pitch on
/// `harl-quarry/blind-corner/p2-3`. No pitch and the first pitch are the same.
pub fn placement(route_id: &str, pitch: Option<u16>, number: u16) -> String {
    match pitch {
        Some(pitch) if pitch > 1 => format!("{route_id}/p{pitch}-{number}"),
        _ => format!("{route_id}/{number}"),
    }
}

/// Identity of a placement that has a label instead of a number: `harl-quarry/blind-corner/left-anchor`.
/// A label that is a plain number gives the same identity as [`placement`].
pub fn placement_labelled(route_id: &str, pitch: Option<u16>, label: &str) -> String {
    if let Ok(number) = label.trim().parse::<u16>() {
        return placement(route_id, pitch, number);
    }
    match pitch {
        Some(pitch) if pitch > 1 => format!("{route_id}/p{pitch}-{}", slug(label)),
        _ => format!("{route_id}/{}", slug(label)),
    }
}

/// When a fitting was placed, as well as it is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Placed {
    /// Not known.
    Unknown,
    /// The year alone.
    Year(i16),
    /// The day.
    On(Date),
}

impl Placed {
    /// From the two fields of a record; the day is worth more than the year.
    pub fn from_parts(on: Option<Date>, year: Option<i16>) -> Self {
        match (on, year) {
            (Some(date), _) => Placed::On(date),
            (None, Some(year)) => Placed::Year(year),
            (None, None) => Placed::Unknown,
        }
    }
    /// The year, where known.
    pub fn year(self) -> Option<i16> {
        match self {
            Placed::Unknown => None,
            Placed::Year(year) => Some(year),
            Placed::On(date) => Some(date.year()),
        }
    }
}

impl From<&FittingRecord> for Placed {
    fn from(record: &FittingRecord) -> Self {
        Placed::from_parts(record.placed_on, record.placed_year)
    }
}

/// Identity of a fitting: `.../3/f2019-05-03`, `.../3/f2019`, or `.../3/f` where no date is known.
///
/// Before making a new one ask [`State::fitting_meant`](crate::State::fitting_meant): a fitting first
/// recorded without a date keeps its identity when the date becomes known.
pub fn fitting(placement_id: &str, placed: Placed) -> String {
    match placed {
        Placed::Unknown => format!("{placement_id}/f"),
        Placed::Year(year) => format!("{placement_id}/f{year}"),
        Placed::On(date) => format!("{placement_id}/f{date}"),
    }
}

/// Identity of a sighting: `.../3/s2024-05-03-ines-morrow`; one person sees a placement once a day.
pub fn sighting(placement_id: &str, date: Option<Date>, by: Option<&str>) -> String {
    let day = date.map(|date| date.to_string()).unwrap_or_default();
    match by.map(slug).filter(|by| by != "unnamed") {
        Some(by) => format!("{placement_id}/s{day}-{by}"),
        None => format!("{placement_id}/s{day}"),
    }
}

/// Identity of a pull: `.../3/p2024-05-03`, the second of a day `.../3/p2024-05-03-2` (`n` counts from
/// 1; 0 is taken as 1).
pub fn pull(placement_id: &str, date: Option<Date>, n: u16) -> String {
    let day = date.map(|date| date.to_string()).unwrap_or_default();
    if n > 1 { format!("{placement_id}/p{day}-{n}") } else { format!("{placement_id}/p{day}") }
}

/// Identity of a photo: first 16 hexadecimal digits of its SHA-256.
pub fn photo(sha256: &str) -> String {
    sha256.trim().chars().filter(char::is_ascii_hexdigit).take(16).collect::<String>().to_ascii_lowercase()
}

/// Identity of a batch.
pub fn batch(code: &str) -> String {
    slug(code)
}

/// Identity of an item of stock.
pub fn stock(name: &str) -> String {
    slug(name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use proptest::prelude::*;

    #[test]
    fn spelling_variants_meet() {
        for name in ["Blind Corner", "blind  corner", " BLIND-CORNER ", "Blind_Corner", "Blínd Corner."] {
            assert_eq!(slug(name), "blind-corner", "{name}");
        }
        assert_eq!(slug("Widow’s Step"), slug("Widow's Step"));
        assert_eq!(slug("Salt & Thyme"), slug("Salt and Thyme"));
        assert_eq!(slug("Größe"), "grosse");
        assert_eq!(slug("Скала 7"), "скала-7");
        assert_eq!(slug("Ｆull ½"), "full-1-2");
    }

    #[test]
    fn names_without_letters_stay_apart() {
        assert_ne!(slug("???"), slug("!!!"));
        assert_eq!(slug("  "), "unnamed");
        let long = "a".repeat(200);
        assert_ne!(slug(&long), slug(&format!("{long}b")));
        assert!(slug(&long).chars().count() <= LONGEST);
    }

    #[test]
    fn paths_read_as_designed() {
        let route = route(&crag("Harl Quarry"), "Blind Corner");
        assert_eq!(placement(&route, Some(1), 3), "harl-quarry/blind-corner/3");
        let hole = placement(&route, Some(2), 3);
        assert_eq!(hole, "harl-quarry/blind-corner/p2-3");
        assert_eq!(placement_labelled(&route, None, " 3 "), "harl-quarry/blind-corner/3");
        assert_eq!(placement_labelled(&route, None, "Left anchor"), "harl-quarry/blind-corner/left-anchor");
        assert_eq!(fitting(&hole, Placed::On(date(2019, 5, 3))), format!("{hole}/f2019-05-03"));
        assert_eq!(fitting(&hole, Placed::Year(2019)), format!("{hole}/f2019"));
        assert_eq!(
            sighting(&hole, Some(date(2024, 5, 3)), Some("Ines Morrow")),
            format!("{hole}/s2024-05-03-ines-morrow")
        );
        assert_eq!(sighting(&hole, Some(date(2024, 5, 3)), Some(" ")), format!("{hole}/s2024-05-03"));
        assert_eq!(pull(&hole, Some(date(2024, 5, 3)), 1), format!("{hole}/p2024-05-03"));
        assert_eq!(pull(&hole, Some(date(2024, 5, 3)), 2), format!("{hole}/p2024-05-03-2"));
    }

    proptest! {
        #[test]
        fn slug_is_stable_and_one_step(name in any::<String>()) {
            let once = slug(&name);
            prop_assert!(!once.is_empty());
            prop_assert!(!once.contains('/') && !once.contains(char::is_whitespace));
            prop_assert_eq!(slug(&once), once);
        }
        #[test]
        fn capitals_and_blanks_do_not_matter(words in proptest::collection::vec("[a-z0-9]{1,8}", 1..5)) {
            let plain = words.join(" ");
            let loud = format!("  {} ", words.join("  - ").to_uppercase());
            prop_assert_eq!(slug(&plain), slug(&loud));
        }
    }
}
