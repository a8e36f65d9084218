//! The checked-in files are exactly what the generator makes.

use anyhow::{Context, Result};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn collect(folder: &Path, root: &Path, found: &mut BTreeMap<String, Vec<u8>>) -> Result<()> {
    for entry in std::fs::read_dir(folder).with_context(|| folder.display().to_string())? {
        let path = entry?.path();
        if path.is_dir() {
            collect(&path, root, found)?;
        } else {
            let name = path
                .strip_prefix(root)?
                .components()
                .map(|part| part.as_os_str().to_string_lossy())
                .collect::<Vec<_>>();
            found.insert(name.join("/"), std::fs::read(&path)?);
        }
    }
    Ok(())
}

#[test]
fn checked_in_files_are_what_the_generator_makes() -> Result<()> {
    let made: BTreeMap<String, Vec<u8>> =
        demo_generator::files()?.into_iter().map(|file| (file.path, file.bytes)).collect();
    let mut kept = BTreeMap::new();
    collect(&demo().join("input"), &demo(), &mut kept)?;
    collect(&demo().join("truth"), &demo(), &mut kept)?;
    let names = |files: &BTreeMap<String, Vec<u8>>| files.keys().cloned().collect::<Vec<_>>();
    assert_eq!(names(&kept), names(&made));
    let changed: Vec<&String> =
        made.iter().filter(|(path, bytes)| kept.get(*path) != Some(bytes)).map(|(path, _)| path).collect();
    assert!(changed.is_empty(), "run `cargo xtask demo-data`; these files differ: {changed:?}");
    Ok(())
}
