//! Which files there are and what each of them is.

use super::{open, open_path};
use crate::exit::Failure;
use exchange::{Options, ReadError, SheetKind};
use std::path::{Path, PathBuf};

/// What a file is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A sheet of records; the kind of its first sheet where it could be guessed.
    Sheet(Option<SheetKind>),
    /// GPX waypoints.
    Waypoints,
    /// A JPEG photo.
    Photo,
    /// A load trace.
    Trace,
    /// None of these.
    Unknown,
}

impl Kind {
    /// Place in the order of reading: what others refer to comes first.
    fn order(self) -> u8 {
        match self {
            Self::Sheet(Some(SheetKind::Crags)) => 0,
            Self::Sheet(Some(SheetKind::Routes)) => 1,
            Self::Sheet(Some(SheetKind::Batches)) => 2,
            Self::Sheet(Some(SheetKind::Stock)) => 3,
            Self::Sheet(Some(SheetKind::Placements)) => 4,
            Self::Sheet(Some(SheetKind::Sightings)) => 5,
            Self::Sheet(Some(SheetKind::Pulls)) => 6,
            Self::Sheet(None) => 7,
            Self::Waypoints => 8,
            Self::Photo => 9,
            Self::Trace => 10,
            Self::Unknown => 11,
        }
    }
}

/// A file to be read.
#[derive(Clone, Debug)]
pub struct Found {
    /// Where it is.
    pub path: PathBuf,
    /// As seen from the register's folder if it lies in it, so that it is the same from wherever it is named;
    /// else as given on the command line. With `/` between folders. This is how facts name their origin.
    pub name: String,
    /// What it is.
    pub kind: Kind,
}

/// Files a folder may hold below itself; more is taken for a wrong folder.
const MOST: usize = 100_000;
/// Folders within folders.
const DEEPEST: usize = 16;

/// Finds the files that paths name, folders with all that lies in them, in the order of reading.
/// Hidden files in folders are passed over.
pub fn find(paths: &[PathBuf], options: &Options, register: &Path) -> Result<Vec<Found>, Failure> {
    let home = register.canonicalize().ok().and_then(|file| file.parent().map(Path::to_owned));
    let classify = |path: PathBuf| classify(path, options, home.as_deref());
    let mut files = Vec::new();
    let mut named = Vec::new();
    for path in paths {
        if path.is_dir() {
            walk(path, 0, &mut files)?;
        } else if path.is_file() {
            named.push(path.clone());
        } else {
            return Err(Failure::usage(format!("there is no file or folder {}", path.display())));
        }
    }
    if files.is_empty() && named.is_empty() {
        return Err(Failure::usage("there is no file in what was named"));
    }
    let mut found: Vec<Found> = named.into_iter().map(classify).collect();
    // Who names a file wants it read, whatever it is called: that it is no sheet is then an error.
    for file in found.iter_mut().filter(|file| file.kind == Kind::Unknown && !is_toml(&file.path)) {
        file.kind = sheet_or_trace(&file.path, &file.name, options);
    }
    found.extend(files.into_iter().map(classify));
    // stable: files of one kind stay in the order given, those of a folder in the order of their names
    found.sort_by_key(|file| file.kind.order());
    Ok(found)
}

/// A file of limits or of a mapping: never a sheet.
pub fn is_toml(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension.eq_ignore_ascii_case("toml"))
}

fn walk(folder: &Path, depth: usize, files: &mut Vec<PathBuf>) -> Result<(), Failure> {
    let trouble = |e: std::io::Error| Failure::file("read the folder", folder, e);
    let mut entries: Vec<PathBuf> = std::fs::read_dir(folder)
        .map_err(trouble)?
        .map(|entry| entry.map(|entry| entry.path()))
        .collect::<Result<_, _>>()
        .map_err(trouble)?;
    entries.sort();
    for path in entries {
        let hidden = path.file_name().is_some_and(|name| name.to_string_lossy().starts_with('.'));
        if hidden {
            continue;
        }
        if path.is_dir() {
            if depth < DEEPEST {
                walk(&path, depth + 1, files)?;
            }
        } else if path.is_file() {
            files.push(path);
        }
        if files.len() > MOST {
            return Err(Failure::usage(format!("{} holds more than {MOST} files", folder.display()))
                .advise("Name the folder that holds the group's own files."));
        }
    }
    Ok(())
}

fn classify(path: PathBuf, options: &Options, home: Option<&Path>) -> Found {
    let whole = path.canonicalize().ok();
    let at_home = whole.as_deref().zip(home).and_then(|(path, home)| path.strip_prefix(home).ok());
    let name = at_home.unwrap_or(&path).to_string_lossy().replace('\\', "/");
    let name = name.strip_prefix("./").map_or(name.clone(), str::to_owned);
    let extension = path.extension().map(|ext| ext.to_string_lossy().to_lowercase()).unwrap_or_default();
    let kind = match extension.as_str() {
        // the last four cannot be read, and that has to be said
        "csv" | "tsv" | "txt" | "xlsx" | "xlsm" | "xls" | "xlsb" | "ods" | "numbers" => {
            sheet_or_trace(&path, &name, options)
        }
        "gpx" => Kind::Waypoints,
        "jpg" | "jpeg" => Kind::Photo,
        _ => Kind::Unknown,
    };
    Found { path, name, kind }
}

/// Tells a sheet of records from a load trace by its columns.
fn sheet_or_trace(path: &Path, name: &str, options: &Options) -> Kind {
    if options.mapping.is_some() || options.kind.is_some() {
        return Kind::Sheet(options.kind.or(options.mapping.as_ref().map(|mapping| mapping.kind)));
    }
    let preview = open_path(path, name).and_then(|file| exchange::preview(name, file, options));
    let first = match preview {
        Ok(sheets) => sheets
            .into_iter()
            .map(|(_, mapping)| mapping)
            .find(Result::is_ok)
            .unwrap_or_else(|| Err(ReadError::NoHeader { file: name.to_owned() })),
        Err(error) => Err(error),
    };
    match first {
        Ok(mapping) => Kind::Sheet(Some(mapping.kind)),
        Err(ReadError::NoHeader { .. } | ReadError::UnknownKind { .. }) => {
            let probe = Found { path: path.to_owned(), name: name.to_owned(), kind: Kind::Trace };
            match open(&probe).and_then(|file| exchange::trace::read(name, file, &options.limits)) {
                Ok(_) => Kind::Trace,
                Err(_) => Kind::Sheet(None),
            }
        }
        // damaged, empty ...: reading it will say what is wrong
        Err(_) => Kind::Sheet(None),
    }
}
