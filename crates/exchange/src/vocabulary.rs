//! The words people write for kinds, materials, rocks, signs and the like.

use crate::mapping::same_end;
use register::PullEnd;
use serde::de::IntoDeserializer;
use serde::{Deserialize, de::DeserializeOwned};
use std::collections::{BTreeMap, HashMap};
use std::sync::OnceLock;

/// How a written word was taken.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Reading<T> {
    /// A word of the vocabulary.
    Exact(T),
    /// Near enough to one term only: the term and its name.
    Near(T, String),
    /// Two terms are equally near: their names.
    Between(String, String),
    /// Says that it is not known.
    Unknown,
    /// No term is near.
    Strange,
}

/// Straight out of the rock or along the face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Direction {
    Axial,
    Radial,
}

/// A sign that is not there, or was not looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Absence {
    Absent,
    NotLooked,
}

/// The words for one set of terms.
pub(crate) struct Vocabulary<T> {
    terms: Vec<(T, String)>,
    generic: Vec<bool>,
    /// Word without blanks and signs -> terms (two if it is ambiguous), and whether the word is itself
    /// in the list as `words`.
    words: HashMap<String, Vec<usize>>,
    /// The same words squeezed, for the search of near ones.
    squeezed: Vec<(String, Vec<usize>)>,
    /// Words in parts, longest first, for the search within a cell.
    phrases: Vec<(Vec<String>, Vec<usize>)>,
}

#[derive(Deserialize)]
struct Entry {
    words: BTreeMap<String, Vec<String>>,
    #[serde(default)]
    ambiguous: BTreeMap<String, Vec<String>>,
    #[serde(default)]
    generic: Vec<String>,
}

impl<T: Copy + PartialEq + DeserializeOwned> Vocabulary<T> {
    fn load(entry: &Entry) -> Self {
        let mut terms: Vec<(T, String)> = Vec::new();
        let mut generic = Vec::new();
        let mut words: HashMap<String, Vec<usize>> = HashMap::new();
        let mut keys = Vec::new();
        for (key, list) in &entry.words {
            let parsed: Result<T, serde::de::value::Error> = T::deserialize(key.as_str().into_deserializer());
            // A test reads every key; a key that is no term is left out.
            let Ok(term) = parsed else { continue };
            let index = terms.len();
            terms.push((term, spoken(key)));
            keys.push(key.clone());
            generic.push(entry.generic.contains(key));
            let own = spoken(key);
            for word in list.iter().chain(std::iter::once(&own)) {
                let at = words.entry(tidy(word)).or_default();
                if !at.contains(&index) {
                    at.push(index);
                }
            }
        }
        for (word, between) in &entry.ambiguous {
            let at = between.iter().filter_map(|key| keys.iter().position(|k| k == key)).collect();
            words.insert(tidy(word), at);
        }
        let mut squeezed: Vec<(String, Vec<usize>)> =
            words.iter().map(|(word, at)| (squeeze(word), at.clone())).collect();
        squeezed.sort();
        squeezed.dedup();
        let mut phrases: Vec<(Vec<String>, Vec<usize>)> = words
            .iter()
            .map(|(word, at)| (word.split(' ').map(str::to_owned).collect::<Vec<_>>(), at.clone()))
            .collect();
        phrases.sort_by(|a, b| b.0.len().cmp(&a.0.len()).then_with(|| a.cmp(b)));
        Self { terms, generic, words, squeezed, phrases }
    }

    /// Name of a term for people.
    pub(crate) fn name(&self, term: T) -> &str {
        self.terms.iter().find(|(t, _)| *t == term).map_or("", |(_, name)| name)
    }

    /// Reads one cell. Order: the very word; the word with blanks and hyphens left out; the words that
    /// stand within it; the nearest word by edit distance (one slip in four letters, two in seven, three
    /// in eleven; judgement).
    pub(crate) fn read(&self, text: &str) -> Reading<T> {
        let word = tidy(text);
        if let Some(at) = self.words.get(&word) {
            return self.taken(at, true);
        }
        if is_unknown(text) {
            return Reading::Unknown;
        }
        if word.is_empty() || word.len() > 120 {
            return Reading::Strange;
        }
        let tight = squeeze(&word);
        let same: Vec<usize> =
            self.gather(self.squeezed.iter().filter(|(w, _)| *w == tight).map(|(_, at)| at));
        if !same.is_empty() {
            return self.taken(&same, false);
        }
        let within = self.within(&word);
        if !within.is_empty() {
            return self.taken(&within, false);
        }
        self.nearest(&tight)
    }

    /// Terms whose words stand in `word` one after the other, longest first, each part used once.
    fn within(&self, word: &str) -> Vec<usize> {
        let mut parts: Vec<Option<&str>> = word.split(' ').map(Some).collect();
        let mut found: Vec<usize> = Vec::new();
        for (phrase, at) in &self.phrases {
            if phrase.len() > parts.len() || (phrase.len() == 1 && phrase[0].len() < 2) {
                continue;
            }
            for start in 0..=parts.len() - phrase.len() {
                if phrase.iter().zip(&parts[start..]).all(|(p, part)| *part == Some(p.as_str())) {
                    parts[start..start + phrase.len()].fill(None);
                    found.extend(at);
                }
            }
        }
        found.sort_unstable();
        found.dedup();
        if found.iter().any(|i| !self.generic[*i]) {
            found.retain(|i| !self.generic[*i]);
        }
        found
    }

    fn nearest(&self, tight: &str) -> Reading<T> {
        let letters = tight.chars().count();
        let slips = match letters {
            0..=3 => return Reading::Strange,
            4..=6 => 1,
            7..=10 => 2,
            _ => 3,
        };
        // Figures tell sizes and grades apart: a slip in them is never forgiven.
        let figures = |s: &str| s.chars().filter(char::is_ascii_digit).collect::<String>();
        let own = figures(tight);
        let mut best = (usize::MAX, Vec::new());
        for (word, at) in &self.squeezed {
            if !same_end(word, tight) {
                continue;
            }
            if word.chars().count().abs_diff(letters) > slips
                || word.chars().count() < 4
                || figures(word) != own
            {
                continue;
            }
            let distance = strsim::osa_distance(word, tight);
            if distance > slips || distance > best.0 {
                continue;
            }
            if distance < best.0 {
                best = (distance, Vec::new());
            }
            best.1.extend(at);
        }
        best.1.sort_unstable();
        best.1.dedup();
        if best.1.is_empty() { Reading::Strange } else { self.taken(&best.1, false) }
    }

    fn gather<'a>(&self, lists: impl Iterator<Item = &'a Vec<usize>>) -> Vec<usize> {
        let mut all: Vec<usize> = lists.flatten().copied().collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    fn taken(&self, at: &[usize], exact: bool) -> Reading<T> {
        match at {
            [] => Reading::Strange,
            [one] if exact => Reading::Exact(self.terms[*one].0),
            [one] => Reading::Near(self.terms[*one].0, self.terms[*one].1.clone()),
            [first, second, ..] => {
                Reading::Between(self.terms[*first].1.clone(), self.terms[*second].1.clone())
            }
        }
    }
}

/// `moves_in_hole` -> `moves in hole`, `stainless316` -> `stainless 316`.
fn spoken(key: &str) -> String {
    let letters = key.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    if letters > 2 && letters < key.len() {
        format!("{} {}", key[..letters].replace('_', " ").trim_end(), &key[letters..])
    } else {
        key.replace('_', " ")
    }
}

/// Small letters, one blank between parts, no punctuation but `/`, `.` and `%` within words.
pub(crate) fn tidy(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut letters = text.chars().flat_map(char::to_lowercase).peekable();
    while let Some(c) = letters.next() {
        match c {
            '\'' | '’' | '!' | '"' => {}
            // A full stop between figures or letters belongs to the word (1.4401), at its end not.
            '.' if out.ends_with(char::is_alphanumeric)
                && letters.peek().is_some_and(|n| n.is_alphanumeric()) =>
            {
                out.push(c);
            }
            c if c.is_alphanumeric() || matches!(c, '/' | '%' | '#') => out.push(c),
            _ => {
                if !out.is_empty() && !out.ends_with(' ') {
                    out.push(' ');
                }
            }
        }
    }
    let end = out.trim_end().len();
    out.truncate(end);
    out
}

fn squeeze(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).collect()
}

/// Whether a cell says that nothing is known.
pub(crate) fn is_unknown(text: &str) -> bool {
    let text = text.trim();
    text.is_empty()
        || text.len() <= 16 && all().unknown.iter().any(|word| word.eq_ignore_ascii_case(text))
        || text.chars().all(|c| matches!(c, '?' | '-' | '–' | '—' | '.' | ' '))
}

/// All vocabularies.
pub(crate) struct Vocabularies {
    unknown: Vec<String>,
    pub kind: Vocabulary<hardware::Kind>,
    pub material: Vocabulary<hardware::Material>,
    pub resin: Vocabulary<hardware::Resin>,
    pub rock_type: Vocabulary<rock::RockType>,
    pub rock_grade: Vocabulary<rock::FieldGrade>,
    pub wetness: Vocabulary<rock::Wetness>,
    pub soundness: Vocabulary<rock::Soundness>,
    pub setting: Vocabulary<decay::Setting>,
    pub shelter: Vocabulary<decay::Shelter>,
    pub role: Vocabulary<demand::Role>,
    pub steepness: Vocabulary<demand::Steepness>,
    pub use_class: Vocabulary<demand::UseClass>,
    pub pull_end: Vocabulary<PullEnd>,
    pub direction: Vocabulary<Direction>,
    pub sign: Vocabulary<evidence::Sign>,
    pub extent: Vocabulary<evidence::Extent>,
    pub absence: Vocabulary<Absence>,
}

#[derive(Deserialize)]
struct File {
    unknown: Vec<String>,
    #[serde(flatten)]
    sets: BTreeMap<String, Entry>,
}

/// The vocabularies of `data/vocabulary.toml`, read once.
pub(crate) fn all() -> &'static Vocabularies {
    static ALL: OnceLock<Vocabularies> = OnceLock::new();
    ALL.get_or_init(|| {
        let file: File = toml::from_str(include_str!("../data/vocabulary.toml"))
            .expect("the built-in vocabulary is read by a test");
        let none = Entry { words: BTreeMap::new(), ambiguous: BTreeMap::new(), generic: Vec::new() };
        let set = |name: &str| file.sets.get(name).unwrap_or(&none);
        Vocabularies {
            kind: Vocabulary::load(set("kind")),
            material: Vocabulary::load(set("material")),
            resin: Vocabulary::load(set("resin")),
            rock_type: Vocabulary::load(set("rock_type")),
            rock_grade: Vocabulary::load(set("rock_grade")),
            wetness: Vocabulary::load(set("wetness")),
            soundness: Vocabulary::load(set("soundness")),
            setting: Vocabulary::load(set("setting")),
            shelter: Vocabulary::load(set("shelter")),
            role: Vocabulary::load(set("role")),
            steepness: Vocabulary::load(set("steepness")),
            use_class: Vocabulary::load(set("use_class")),
            pull_end: Vocabulary::load(set("pull_end")),
            direction: Vocabulary::load(set("direction")),
            sign: Vocabulary::load(set("sign")),
            extent: Vocabulary::load(set("extent")),
            absence: Vocabulary::load(set("absence")),
            unknown: file.unknown,
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use hardware::{Kind, Material};
    use rock::RockType;

    #[test]
    fn every_key_is_a_term() {
        let file: File = toml::from_str(include_str!("../data/vocabulary.toml")).unwrap();
        let all = all();
        for (name, read) in [
            ("kind", all.kind.terms.len()),
            ("material", all.material.terms.len()),
            ("resin", all.resin.terms.len()),
            ("rock_type", all.rock_type.terms.len()),
            ("rock_grade", all.rock_grade.terms.len()),
            ("wetness", all.wetness.terms.len()),
            ("soundness", all.soundness.terms.len()),
            ("setting", all.setting.terms.len()),
            ("shelter", all.shelter.terms.len()),
            ("role", all.role.terms.len()),
            ("steepness", all.steepness.terms.len()),
            ("use_class", all.use_class.terms.len()),
            ("pull_end", all.pull_end.terms.len()),
            ("direction", all.direction.terms.len()),
            ("sign", all.sign.terms.len()),
            ("extent", all.extent.terms.len()),
            ("absence", all.absence.terms.len()),
        ] {
            assert_eq!(file.sets[name].words.len(), read, "{name}");
            for between in file.sets[name].ambiguous.values() {
                assert!(between.iter().all(|key| file.sets[name].words.contains_key(key)), "{name}");
            }
        }
        assert_eq!(all.sign.terms.len(), evidence::Sign::ALL.len());
    }

    #[test]
    fn slips_are_forgiven_and_told() {
        let v = all();
        let near = |reading: Reading<Kind>| match reading {
            Reading::Near(kind, _) => Some(kind),
            _ => None,
        };
        assert_eq!(near(v.kind.read("wege bolt")), Some(Kind::WedgeBolt));
        assert_eq!(near(v.kind.read("Glue  inn")), Some(Kind::GlueIn));
        assert_eq!(near(v.kind.read("slevee bolt")), Some(Kind::SleeveBolt));
        assert_eq!(near(v.kind.read("wedge bolt, placed by hand")), Some(Kind::WedgeBolt));
        assert_eq!(v.kind.read("GLUE-IN"), Reading::Exact(Kind::GlueIn));
        assert_eq!(v.rock_type.read("lime stone"), Reading::Near(RockType::Limestone, "limestone".into()));
        assert_eq!(v.rock_type.read("sandstne"), Reading::Near(RockType::Sandstone, "sandstone".into()));
        assert_eq!(
            v.material.read("stainles 316"),
            Reading::Near(Material::Stainless316, "stainless 316".into())
        );
        assert_eq!(v.material.read("A4"), Reading::Exact(Material::Stainless316));
        assert_eq!(v.material.read("Zinc"), Reading::Exact(Material::PlatedCarbonSteel));
        assert_eq!(
            v.material.read("carbon steel, zinc plated"),
            Reading::Near(Material::PlatedCarbonSteel, "plated carbon steel".into())
        );
    }

    #[test]
    fn two_near_terms_are_not_guessed() {
        let v = all();
        assert!(matches!(v.kind.read("expansion bolt"), Reading::Between(..)));
        assert!(matches!(v.material.read("galvanised"), Reading::Between(..)));
        assert!(matches!(v.material.read("304 or 316"), Reading::Between(..)));
        // A wrong figure is no slip.
        assert_eq!(
            v.material.read("stainless 315"),
            Reading::Near(Material::StainlessUnknown, "stainless unknown".into())
        );
        assert_eq!(v.kind.read("banana"), Reading::Strange);
        assert_eq!(v.kind.read("?"), Reading::Unknown);
    }
}
