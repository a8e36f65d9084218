//! A small register in a folder of its own, and the program run on it.
#![allow(dead_code, clippy::unwrap_used)]

use std::path::Path;
use std::process::{Command, Output};

/// Every test judges as of this day, so that answers stay the same.
pub const TODAY: &str = "2026-06-01";

/// A folder with a register.
pub struct Group {
    folder: tempfile::TempDir,
}

/// What the program answered.
pub struct Answer {
    pub code: i32,
    pub out: String,
    pub err: String,
}

impl Group {
    /// An empty folder.
    pub fn without_register() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    /// A register with the sheets of `tests/sheets`.
    pub fn new() -> Self {
        let group = Self::without_register();
        assert_eq!(group.run(&["init"]).code, 0);
        for sheet in ["crags", "routes", "placements", "sightings", "pulls", "stock"] {
            let text = std::fs::read(
                Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/sheets/{sheet}.csv")),
            );
            std::fs::write(group.path(&format!("{sheet}.csv")), text.unwrap()).unwrap();
        }
        let import = group.run(&[
            "import",
            "crags.csv",
            "routes.csv",
            "placements.csv",
            "sightings.csv",
            "pulls.csv",
            "stock.csv",
        ]);
        assert_eq!(import.code, 0, "{}{}", import.out, import.err);
        group
    }

    pub fn path(&self, name: &str) -> std::path::PathBuf {
        self.folder.path().join(name)
    }

    pub fn write(&self, name: &str, text: impl AsRef<[u8]>) {
        std::fs::write(self.path(name), text).unwrap();
    }

    pub fn run(&self, arguments: &[&str]) -> Answer {
        self.run_with(arguments, &[])
    }

    pub fn run_with(&self, arguments: &[&str], environment: &[(&str, &str)]) -> Answer {
        let output = Command::new(env!("CARGO_BIN_EXE_holdproof"))
            .args(arguments)
            .args(["--today", TODAY])
            .current_dir(self.folder.path())
            .env_remove("HOLDPROOF_REGISTER")
            .env("COLUMNS", "100")
            .envs(environment.iter().copied())
            .output()
            .unwrap();
        output.into()
    }

    pub fn json(&self, arguments: &[&str]) -> serde_json::Value {
        let answer = self.run(&[arguments, &["--json"]].concat());
        assert!(answer.code <= 1, "{arguments:?}: {}", answer.err);
        serde_json::from_str(&answer.out).unwrap_or_else(|e| panic!("{arguments:?}: {e}\n{}", answer.out))
    }
}

impl From<Output> for Answer {
    fn from(output: Output) -> Self {
        Self {
            code: output.status.code().unwrap(),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }
}

/// Runs the program without a register.
pub fn run(arguments: &[&str]) -> Answer {
    Group::without_register().run(arguments)
}

/// Compares with `tests/golden/<name>`; with HOLDPROOF_GOLDEN=write it is written instead.
pub fn golden(name: &str, text: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(name);
    if std::env::var_os("HOLDPROOF_GOLDEN").is_some_and(|value| value == "write") {
        std::fs::write(&path, text).unwrap();
        return;
    }
    let expected = std::fs::read_to_string(&path).unwrap_or_default().replace("\r\n", "\n");
    assert!(
        expected == text,
        "{name} differs; look at it and write it anew with HOLDPROOF_GOLDEN=write if it is right\n--- expected\n{expected}\n--- got\n{text}"
    );
}
