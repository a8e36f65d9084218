//! The embedded typeface: how wide a text is, how it wraps and how it is shortened.
//!
//! The faces are Noto Sans Regular and Bold, SIL Open Font License 1.1, as shipped by the `notosans`
//! crate. Charts name the same family first and stretch each text to the measured width, so that a
//! screen without that family still shows the layout that was computed here.

use std::sync::OnceLock;
use ttf_parser::Face;

/// Weight of a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Weight {
    /// Running text.
    Regular,
    /// Headings and what must be seen first.
    Bold,
}

impl Weight {
    /// The font file's bytes.
    pub(crate) fn bytes(self) -> &'static [u8] {
        match self {
            Weight::Regular => notosans::REGULAR_TTF,
            Weight::Bold => notosans::BOLD_TTF,
        }
    }

    fn face(self) -> Option<&'static Face<'static>> {
        static REGULAR: OnceLock<Option<Face<'static>>> = OnceLock::new();
        static BOLD: OnceLock<Option<Face<'static>>> = OnceLock::new();
        let cell = match self {
            Weight::Regular => &REGULAR,
            Weight::Bold => &BOLD,
        };
        cell.get_or_init(|| Face::parse(self.bytes(), 0).ok()).as_ref()
    }
}

/// Distance of two baselines as a multiple of the type size.
pub(crate) const LINE: f64 = 1.32;
/// Height of a capital above the baseline as a multiple of the type size.
pub(crate) const CAP: f64 = 0.714;
/// Depth of a descender as a multiple of the type size.
pub(crate) const DESCENT: f64 = 0.24;

/// True where the typeface has a drawing for the character.
pub fn covers(c: char, weight: Weight) -> bool {
    weight.face().is_some_and(|face| face.glyph_index(c).is_some())
}

/// Width of a text in the unit of `size` (pixels or points), kerning left out; characters that the
/// typeface lacks count as one em.
pub fn width(text: &str, size: f64, weight: Weight) -> f64 {
    let Some(face) = weight.face() else { return text.chars().count() as f64 * size * 0.6 };
    let em = f64::from(face.units_per_em());
    let units: f64 = text
        .chars()
        .map(|c| face.glyph_index(c).and_then(|g| face.glyph_hor_advance(g)).map_or(em, f64::from))
        .sum();
    units / em * size
}

/// The text without control characters; line ends and tabs become spaces.
pub fn clean(text: &str) -> String {
    text.chars()
        .filter_map(|c| match c {
            '\n' | '\r' | '\t' => Some(' '),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}' | '\u{feff}') => None,
            c => Some(c),
        })
        .collect()
}

/// The text with every character the typeface lacks replaced by `?`, for the printed page.
pub(crate) fn printable(text: &str, weight: Weight) -> String {
    clean(text).chars().map(|c| if covers(c, weight) { c } else { '?' }).collect()
}

/// The text if it fits into `max`, else its beginning with an ellipsis.
pub fn shorten(text: &str, size: f64, weight: Weight, max: f64) -> String {
    if width(text, size, weight) <= max {
        return text.to_owned();
    }
    let ellipsis = width("…", size, weight);
    let mut kept = String::new();
    let mut used = ellipsis;
    for c in text.chars() {
        used += width(c.encode_utf8(&mut [0; 4]), size, weight);
        if used > max {
            break;
        }
        kept.push(c);
    }
    kept.truncate(kept.trim_end().len());
    kept.push('…');
    kept
}

/// The text in lines no wider than `max`. Breaks at spaces; a word wider than a line is broken inside.
/// Never empty: a blank text gives one empty line.
pub fn wrap(text: &str, size: f64, weight: Weight, max: f64) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        for piece in pieces(word, size, weight, max) {
            let longer = if line.is_empty() { piece.clone() } else { format!("{line} {piece}") };
            if line.is_empty() || width(&longer, size, weight) <= max {
                line = longer;
            } else {
                lines.push(std::mem::replace(&mut line, piece));
            }
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// A word cut into pieces that each fit a line.
pub(crate) fn pieces(word: &str, size: f64, weight: Weight, max: f64) -> Vec<String> {
    if width(word, size, weight) <= max {
        return vec![word.to_owned()];
    }
    let mut out = Vec::new();
    let mut piece = String::new();
    let mut used = 0.0;
    for c in word.chars() {
        let w = width(c.encode_utf8(&mut [0; 4]), size, weight);
        if !piece.is_empty() && used + w > max {
            out.push(std::mem::take(&mut piece));
            used = 0.0;
        }
        piece.push(c);
        used += w;
    }
    out.push(piece);
    out
}

/// Like [`wrap`], but no more than `count` lines: the last one ends with an ellipsis if text is left.
pub fn wrap_to(text: &str, size: f64, weight: Weight, max: f64, count: usize) -> Vec<String> {
    let mut lines = wrap(text, size, weight, max);
    if lines.len() > count.max(1) {
        let rest = lines.split_off(count.max(1) - 1).join(" ");
        lines.push(shorten(&rest, size, weight, max));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn faces_have_the_characters_the_report_uses() {
        for weight in [Weight::Regular, Weight::Bold] {
            for c in "aZ09·×≤≥–—…é°±²µ½≈→%£€$ſßøÅñ’“”".chars() {
                assert!(covers(c, weight), "{c} {weight:?}");
            }
        }
    }

    #[test]
    fn width_follows_the_advance_of_the_face() {
        // Noto Sans sets its figures on 572 of 1000 (or 1171 of 2048) units: all alike, so columns align.
        let one = width("1", 1000.0, Weight::Regular);
        assert!((one - 572.0).abs() < 1.0, "{one}");
        assert_eq!(one, width("8", 1000.0, Weight::Regular));
    }

    #[test]
    fn wrapped_lines_fit_and_keep_every_character() {
        let text = "A rather long name of a route with Donaudampfschifffahrtsgesellschaft in it";
        for max in [40.0, 90.0, 300.0] {
            let lines = wrap(text, 12.0, Weight::Regular, max);
            assert!(lines.iter().all(|l| width(l, 12.0, Weight::Regular) <= max));
            let strip = |s: &str| s.replace(' ', "");
            assert_eq!(strip(&lines.concat()), strip(text));
        }
    }

    #[test]
    fn a_shortened_text_shows_that_it_is_shortened() {
        let s = shorten("Slow Lichen on the Long Wall", 12.0, Weight::Regular, 80.0);
        assert!(s.ends_with('…') && width(&s, 12.0, Weight::Regular) <= 80.0, "{s}");
    }
}
