//! The form of a case file, and its reader.

use serde::Deserialize;
use std::path::{Path, PathBuf};

/// What a source is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// A standard or code.
    Standard,
    /// A paper, thesis or book.
    Paper,
    /// A handbook or reference table.
    Handbook,
    /// A worked example or a public data set with a known answer.
    WorkedExample,
    /// A general-purpose numerical library used as an independent second solver.
    GeneralLibrary,
    /// What the trade takes as usual, without a publication behind it.
    CommonPractice,
}

impl Kind {
    /// True for a publication; false for a second solver and for trade practice.
    pub const fn is_published(self) -> bool {
        !matches!(self, Self::GeneralLibrary | Self::CommonPractice)
    }

    /// Name for people.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Standard => "standard",
            Self::Paper => "paper",
            Self::Handbook => "handbook",
            Self::WorkedExample => "worked example",
            Self::GeneralLibrary => "general library",
            Self::CommonPractice => "common practice",
        }
    }
}

/// How sure we are that the expected value is what the source says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
pub enum Status {
    /// The value was seen in the source or a text that quotes it.
    #[serde(rename = "checked")]
    Checked,
    /// The value or the data behind it was written down from memory.
    #[serde(rename = "from memory")]
    FromMemory,
    /// Computed outside this project from the formula of the source.
    #[serde(rename = "calculated from the published formula")]
    Calculated,
    /// What the trade takes as usual; nothing was published.
    #[serde(rename = "common practice, no source")]
    CommonPractice,
}

impl Status {
    /// All, surest first.
    pub const ALL: [Self; 4] = [Self::Checked, Self::Calculated, Self::FromMemory, Self::CommonPractice];

    /// The words of the case file.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Checked => "checked",
            Self::FromMemory => "from memory",
            Self::Calculated => "calculated from the published formula",
            Self::CommonPractice => "common practice, no source",
        }
    }
}

/// The publication that a file's values come from.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Title.
    pub title: String,
    /// What it is.
    pub kind: Kind,
    /// Authors or issuing body.
    pub authors: Option<String>,
    /// Year or edition.
    pub year: Option<u16>,
    /// Clause, table or page.
    pub place: Option<String>,
    /// How the values came to us: what was seen, at second hand or from memory.
    pub seen: String,
    /// A remark for the reader.
    pub note: Option<String>,
}

/// How far the computed value may be from the expected one, and why so far.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(untagged, deny_unknown_fields)]
pub enum Tolerance {
    /// In the unit of the value.
    Absolute {
        /// Greatest difference.
        absolute: f64,
        /// Why.
        reason: String,
    },
    /// As a share of the expected value.
    Relative {
        /// Greatest difference divided by the expected value.
        relative: f64,
        /// Why.
        reason: String,
    },
}

impl Tolerance {
    /// Greatest allowed difference for this expected value, in its unit.
    pub fn width(&self, expected: f64) -> f64 {
        match self {
            Self::Absolute { absolute, .. } => *absolute,
            Self::Relative { relative, .. } => relative * expected.abs(),
        }
    }

    /// Why the difference may be this large.
    pub fn reason(&self) -> &str {
        match self {
            Self::Absolute { reason, .. } | Self::Relative { reason, .. } => reason,
        }
    }
}

/// How the computed value must stand to the expected one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
pub enum Bound {
    /// Equal within the tolerance.
    #[default]
    #[serde(rename = "equal")]
    Equal,
    /// Not below (less the tolerance).
    #[serde(rename = "at least")]
    AtLeast,
    /// Not above (plus the tolerance).
    #[serde(rename = "at most")]
    AtMost,
}

/// One check value.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    /// Short name, unique over all files.
    pub id: String,
    /// What is checked, in plain words.
    pub what: String,
    /// Name of the computation.
    pub quantity: String,
    /// Inputs by name; the names carry the units.
    #[serde(default)]
    pub inputs: toml::Table,
    /// The value to be met.
    pub expected: f64,
    /// Whether it is to be met, reached or not exceeded.
    #[serde(default)]
    pub bound: Bound,
    /// Unit of the value; "1" for a bare number.
    pub unit: String,
    /// How close, and why.
    pub tolerance: Tolerance,
    /// How sure the expected value is.
    pub status: Status,
}

/// All check values of one source.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CaseFile {
    /// File name without ending.
    #[serde(skip)]
    pub slug: String,
    /// Where the values come from.
    pub source: Source,
    /// The values.
    #[serde(rename = "case", default)]
    pub cases: Vec<Case>,
}

/// Why the case files could not be read.
#[derive(Debug, thiserror::Error)]
pub enum CaseError {
    /// The folder or a file in it cannot be read.
    #[error("cannot read {path}: {error}")]
    Unreadable {
        /// Which.
        path: PathBuf,
        /// What the system said.
        error: std::io::Error,
    },
    /// A file is not a case file.
    #[error("{path} is not a case file: {error}")]
    Malformed {
        /// Which.
        path: PathBuf,
        /// What is wrong and where.
        error: Box<toml::de::Error>,
    },
    /// Two cases share a name.
    #[error("the case id '{id}' is used twice (in {first} and {second}); give one of them another id")]
    SameId {
        /// The id.
        id: String,
        /// File of the first.
        first: String,
        /// File of the second.
        second: String,
    },
    /// A value or tolerance that is not finite, or a tolerance below zero or without a reason.
    #[error("the case '{id}' in {slug}: {complaint}")]
    Nonsense {
        /// The case.
        id: String,
        /// Its file.
        slug: String,
        /// What is wrong with it.
        complaint: &'static str,
    },
}

/// Reads every `.toml` file of a folder, in alphabetical order.
///
/// Errors: unreadable or malformed files, the same id twice, values that are not finite.
pub fn read_folder(folder: &Path) -> Result<Vec<CaseFile>, CaseError> {
    let unreadable = |path: &Path| {
        let path = path.to_owned();
        move |error| CaseError::Unreadable { path, error }
    };
    let mut paths = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(unreadable(folder))? {
        let path = entry.map_err(unreadable(folder))?.path();
        if path.extension().is_some_and(|e| e == "toml") {
            paths.push(path);
        }
    }
    paths.sort();
    let mut files = Vec::new();
    for path in paths {
        let text = std::fs::read_to_string(&path).map_err(unreadable(&path))?;
        let mut file: CaseFile = toml::from_str(&text)
            .map_err(|error| CaseError::Malformed { path: path.clone(), error: Box::new(error) })?;
        file.slug = path.file_stem().map(|s| s.to_string_lossy().into_owned()).unwrap_or_default();
        files.push(file);
    }
    check(&files)?;
    Ok(files)
}

fn check(files: &[CaseFile]) -> Result<(), CaseError> {
    let mut seen: Vec<(&str, &str)> = Vec::new();
    for file in files {
        for case in &file.cases {
            if let Some((_, first)) = seen.iter().find(|(id, _)| *id == case.id) {
                return Err(CaseError::SameId {
                    id: case.id.clone(),
                    first: (*first).to_owned(),
                    second: file.slug.clone(),
                });
            }
            seen.push((&case.id, &file.slug));
            let width = case.tolerance.width(case.expected);
            let complaint = if !case.expected.is_finite() {
                "the expected value must be a finite number"
            } else if !(width >= 0.0 && width.is_finite()) {
                "the tolerance must be a finite number, zero or more"
            } else if case.tolerance.reason().trim().is_empty() {
                "the tolerance needs a reason"
            } else if case.tolerance.width(case.expected) > 0.5 * case.expected.abs() && case.expected != 0.0
            {
                "the tolerance is more than half of the expected value, so the case tests nothing"
            } else {
                continue;
            };
            return Err(CaseError::Nonsense { id: case.id.clone(), slug: file.slug.clone(), complaint });
        }
    }
    Ok(())
}
