//! What tells one placement of a route from the others: a number, or words like "lower-off left".

use crate::cell::Trouble;
use crate::vocabulary::{Reading, all, tidy};
use demand::Role;

/// A placement's label on its route.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Label {
    /// Number from the ground up.
    pub number: Option<u16>,
    /// The words, where it has no plain number.
    pub words: Option<String>,
    /// What the words say of its role.
    pub role: Option<Role>,
}

/// Reads `3`, `3.0`, `#3`, `bolt 3`, `3a`, `LO`, `anchor left`, `belay 2`.
pub(crate) fn read_label(text: &str) -> Result<Label, Trouble> {
    let trouble = || {
        Trouble::new(
            format!("\"{text}\" does not tell which placement of the route is meant"),
            "write its number from the ground up (1 = first), or words such as lower-off left",
        )
    };
    if text.len() > 60 || text.trim_start().starts_with('-') {
        return Err(trouble());
    }
    let word = tidy(text);
    let mut parts: Vec<&str> = word.split([' ', '#']).filter(|p| !p.is_empty()).collect();
    if parts.len() > 1
        && matches!(parts[0], "bolt" | "no" | "nr" | "number" | "b" | "p" | "placement" | "clip" | "runner")
    {
        parts.remove(0);
    }
    if let [single] = parts[..] {
        let bare = single.strip_suffix(".0").unwrap_or(single);
        let figures = bare
            .strip_prefix(['b', '#'])
            .unwrap_or(bare)
            .trim_end_matches("st")
            .trim_end_matches("nd")
            .trim_end_matches("rd")
            .trim_end_matches("th");
        if !figures.is_empty() && figures.bytes().all(|b| b.is_ascii_digit()) {
            return match figures.parse::<u16>() {
                Ok(number @ 1..=500) => Ok(Label { number: Some(number), words: None, role: None }),
                _ => Err(trouble()),
            };
        }
        // 3a, 3b: two bolts at one height.
        let (digits, letter) = bare.split_at(bare.len() - bare.chars().last().map_or(0, char::len_utf8));
        if letter.chars().all(|c| c.is_ascii_lowercase())
            && !digits.is_empty()
            && digits.bytes().all(|b| b.is_ascii_digit())
        {
            return match digits.parse::<u16>() {
                Ok(number @ 1..=500) => {
                    Ok(Label { number: Some(number), words: Some(format!("{number}{letter}")), role: None })
                }
                _ => Err(trouble()),
            };
        }
    }
    // Side and count belong to the label, the other words tell the role.
    let mut side = Vec::new();
    let mut rest = Vec::new();
    for part in &parts {
        match *part {
            "l" | "left" | "lh" => side.push("left".to_owned()),
            "r" | "right" | "rh" => side.push("right".to_owned()),
            "m" | "mid" | "middle" | "centre" | "center" => side.push("middle".to_owned()),
            p if p.bytes().all(|b| b.is_ascii_digit()) && p.len() <= 3 => side.push(p.to_owned()),
            p => {
                // lo1, b2
                let end = p.trim_end_matches(|c: char| c.is_ascii_digit()).len();
                if end > 0 && end < p.len() && p.len() - end <= 3 {
                    rest.push(&p[..end]);
                    side.push(p[end..].to_owned());
                } else {
                    rest.push(p);
                }
            }
        }
    }
    let role = match all().role.read(&rest.join(" ")) {
        Reading::Exact(role) | Reading::Near(role, _) if role != Role::Runner => role,
        _ => return Err(trouble()),
    };
    let name = match role {
        Role::LowerOff => "lower-off",
        Role::Belay => "belay",
        Role::Runner => "runner",
    };
    let words = std::iter::once(name.to_owned()).chain(side).collect::<Vec<_>>().join(" ");
    Ok(Label { number: None, words: Some(words), role: Some(role) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn labels() {
        let number = |n| Label { number: Some(n), words: None, role: None };
        for text in ["3", "3.0", "#3", " 3 ", "bolt 3", "No. 3", "B3", "3rd", "Bolt #3"] {
            assert_eq!(read_label(text).unwrap(), number(3), "{text}");
        }
        assert_eq!(read_label("3a").unwrap().words.as_deref(), Some("3a"));
        for (text, words, role) in [
            ("LO", "lower-off", Role::LowerOff),
            ("lower-off left", "lower-off left", Role::LowerOff),
            ("Anchor L", "lower-off left", Role::LowerOff),
            ("LO1", "lower-off 1", Role::LowerOff),
            ("chain 2", "lower-off 2", Role::LowerOff),
            ("Belay R", "belay right", Role::Belay),
        ] {
            let label = read_label(text).unwrap();
            assert_eq!((label.words.as_deref(), label.role), (Some(words), Some(role)), "{text}");
        }
        for text in ["0", "-3", "9999", "next to the tree", "", "3.5"] {
            assert!(read_label(text).is_err(), "{text}");
        }
    }

    proptest! {
        #[test]
        fn any_text(text in "\\PC{0,20}") { let _ = read_label(&text); }
        #[test]
        fn any_label_like_text(text in "[a-zäß0-9 .#-]{0,8}") { let _ = read_label(&text); }
    }
}
