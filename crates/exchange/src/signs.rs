//! Free lists of signs: "loose nut, some rust; no cracks".

use crate::cell::Trouble;
use crate::findings::Told;
use crate::vocabulary::{Reading, all, tidy};
use evidence::{Extent, Finding, Seen, Sign};

/// Told of a sign in a list without a word of extent.
pub(crate) const NO_EXTENT: &str = "signs without an extent were read as marked";

/// Reads a list of signs. With `absent` every sign named is one that was looked for and not there. Signs
/// that are not named were not looked for, whatever the list says of the whole ("ok", "fine").
pub(crate) fn read_list(text: &str, absent: bool) -> Result<(Vec<Seen>, Vec<Told>), Trouble> {
    let mut seen: Vec<Seen> = Vec::new();
    let mut told = Vec::new();
    if text.len() > 2000 {
        return Err(Trouble::new("the list of signs is too long", "name the signs, separated by semicolons"));
    }
    let joined = text.replace(" and ", ";").replace(" & ", ";").replace(" but ", ";");
    for item in joined.split([',', ';', '\n', '|', '+']) {
        let item = item.trim().trim_end_matches('.');
        let word = tidy(item);
        if word.is_empty() {
            continue;
        }
        if matches!(
            word.as_str(),
            "ok" | "fine"
                | "good"
                | "all ok"
                | "all good"
                | "looks ok"
                | "looks good"
                | "nothing"
                | "none"
                | "no defects"
                | "sound"
                | "looks fine"
                | "all fine"
                | "no faults"
                | "no problems"
                | "no issues"
                | "n/a"
                | "unknown"
                | "solid"
        ) {
            told.push(Told::case(
                "no sign is named that was looked for: nothing was taken from it",
                format!("\"{item}\""),
            ));
            continue;
        }
        match one(&word, item, absent)? {
            Some((sign, finding, note)) => {
                told.extend(note);
                match seen.iter().find(|s| s.sign == sign) {
                    None => seen.push(Seen { sign, finding }),
                    Some(other) if other.finding == finding => {}
                    Some(_) => {
                        return Err(Trouble::new(
                            format!("\"{text}\" says two things of {}", all().sign.name(sign)),
                            "name each sign once",
                        ));
                    }
                }
            }
            None => told.push(Told::case("signs that were not looked for", format!("\"{item}\""))),
        }
    }
    Ok((seen, told))
}

type One = Option<(Sign, Finding, Option<Told>)>;

/// One item of a list: a sign with words of extent or absence around it.
fn one(word: &str, item: &str, absent: bool) -> Result<One, Trouble> {
    let words = all();
    if word.ends_with("not looked for") || word.ends_with("not checked") || word.ends_with("not inspected") {
        return Ok(None);
    }
    // The item may be a sign as it stands ("nut not tight").
    let mut extent: Option<Extent> = None;
    let mut gone = absent;
    let mut reading = words.sign.read(word);
    if !matches!(reading, Reading::Exact(_)) {
        let mut parts: Vec<&str> = word.split(' ').collect();
        parts.retain(|part| {
            if matches!(*part, "no" | "not" | "without" | "absent" | "none") {
                gone = true;
                return false;
            }
            if parts_is_filler(part) {
                return false;
            }
            let known = match words.extent.read(part) {
                Reading::Exact(e) if part.len() > 1 || part.bytes().all(|b| b.is_ascii_digit()) => Some(e),
                _ => None,
            };
            match known {
                // "very" strengthens, it does not overrule.
                Some(e) if !is_bare_yes(part) => {
                    extent = Some(extent.map_or(e, |before| before.max(e)));
                    false
                }
                Some(_) => false,
                None => true,
            }
        });
        let rest = parts.join(" ");
        if rest.is_empty() {
            return Err(strange(item));
        }
        let core = words.sign.read(&rest);
        // The whole phrase wins where only it is a sign ("too much thread").
        if !matches!(core, Reading::Strange | Reading::Unknown) {
            reading = match core {
                Reading::Exact(sign) => Reading::Exact(sign),
                other => other,
            };
        }
    }
    let (sign, near) = match reading {
        Reading::Exact(sign) => (sign, None),
        Reading::Near(sign, name) => (sign, Some(Told::near(item, &name))),
        Reading::Between(first, second) => {
            return Err(Trouble::new(
                format!("\"{item}\" can mean {first} or {second}"),
                format!("write {first} or {second}"),
            ));
        }
        Reading::Unknown | Reading::Strange => return Err(strange(item)),
    };
    if gone {
        return Ok(Some((sign, Finding::Absent, near)));
    }
    let (extent, note) = match extent {
        Some(extent) => (extent, near),
        None => (
            Extent::Marked,
            Some(Told::case(NO_EXTENT, format!("\"{item}\" as {}, marked", words.sign.name(sign)))),
        ),
    };
    Ok(Some((sign, Finding::Present(extent), note)))
}

fn parts_is_filler(part: &str) -> bool {
    matches!(
        part,
        "is" | "are"
            | "the"
            | "a"
            | "there"
            | "seen"
            | "found"
            | "any"
            | "signs"
            | "sign"
            | "on"
            | "at"
            | "its"
    ) && part.len() < 8
}

/// Words that say a sign is there without saying how much.
pub(crate) fn is_bare_yes(text: &str) -> bool {
    matches!(tidy(text).as_str(), "yes" | "y" | "x" | "true" | "present" | "some")
}

fn strange(item: &str) -> Trouble {
    Trouble::new(
        format!("\"{item}\" is no sign that is known"),
        "name signs such as moves in hole, nut loose, rust, rock crack, each with slight, marked or severe; put other remarks into the note",
    )
}

/// Puts the extent of a column of its own on the one sign of a list.
pub(crate) fn with_extent(seen: &mut [Seen], extent: Extent) {
    if let [one] = seen
        && let Finding::Present(e) = &mut one.finding
    {
        *e = extent;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn lists() {
        let present = |sign, extent| Seen { sign, finding: Finding::Present(extent) };
        let gone = |sign| Seen { sign, finding: Finding::Absent };
        for (text, expected) in [
            (
                "loose nut, slight rust; no rock crack",
                vec![
                    present(Sign::NutLoose, Extent::Marked),
                    present(Sign::Rust, Extent::Slight),
                    gone(Sign::RockCrack),
                ],
            ),
            ("rust (severe)", vec![present(Sign::Rust, Extent::Severe)]),
            ("badly bent", vec![present(Sign::Bent, Extent::Severe)]),
            ("moves in hole: slight", vec![present(Sign::MovesInHole, Extent::Slight)]),
            ("spiner", vec![present(Sign::HangerTurns, Extent::Marked)]),
            ("rust streaks", vec![present(Sign::RustFromHole, Extent::Marked)]),
            ("OK", vec![]),
            ("rust not looked for", vec![]),
            ("too much thread", vec![present(Sign::ThreadExcess, Extent::Marked)]),
        ] {
            assert_eq!(
                read_list(text, false).unwrap_or_else(|t| panic!("{text}: {t:?}")).0,
                expected,
                "{text}"
            );
        }
        assert_eq!(read_list("rust; bent", true).unwrap().0, vec![gone(Sign::Rust), gone(Sign::Bent)]);
        assert!(read_list("cracked", false).is_err());
        assert!(read_list("lovely view", false).is_err());
        assert!(read_list("slight rust, severe rust", false).is_err());
    }

    proptest! {
        #[test]
        fn any_list(text in "\\PC{0,60}") { let _ = read_list(&text, false); }
    }
}
