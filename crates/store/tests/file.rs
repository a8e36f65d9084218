//! The file: what is kept, what is refused, and that a refused file keeps every byte.

#![allow(clippy::unwrap_used)]

use proptest::prelude::*;
use register::{Body, CragRecord, Fact, FittingRecord, PlacementRecord, Stamp, State, Subject};
use rusqlite::Connection;
use sha2::{Digest, Sha256};
use std::path::{Path, PathBuf};
use store::{Position, RegisterStore, SqliteStore, StoreError, VERSION, restore};
use units::Length;
use uuid::Uuid;

fn fact(n: u64, subject: Subject, body: Body) -> Fact {
    Fact {
        id: Uuid::from_u64_pair(7, n),
        author: "Ines Morrow".into(),
        stamp: Stamp { millis: 1_764_000_000_000 + n, counter: 2, device: "hut".into() },
        wall_millis: -5,
        origin: Some("bolts.xlsx, sheet Harl, row 7".into()),
        subject,
        body,
    }
}

fn crag(n: u64, id: &str, name: &str) -> Fact {
    let record = CragRecord { name: Some(name.into()), ..CragRecord::default() };
    fact(n, Subject::Crag(id.into()), Body::Crag(record))
}

fn fitting(n: u64, id: u64, diameter: f64) -> Fact {
    let record = FittingRecord {
        placement: Some("harl-quarry/r/1".into()),
        diameter: Some(Length::mm(diameter)),
        ..FittingRecord::default()
    };
    fact(n, Subject::Fitting(format!("harl-quarry/r/1/f{id}")), Body::Fitting(record))
}

/// A few subjects with later facts, a withdrawal and a retraction.
fn some_facts() -> Vec<Fact> {
    vec![
        crag(1, "harl-quarry", "Harl Quary"),
        crag(2, "tern-head", "Tern Head"),
        fitting(3, 1, 10.0),
        crag(4, "harl-quarry", "Harl Quarry"),
        fact(5, Subject::Crag("tern-head".into()), Body::Withdrawn { reason: "not ours".into() }),
        fact(
            6,
            Subject::Fitting("harl-quarry/r/1/f1".into()),
            Body::Retracted { fields: vec!["diameter".into()], reason: "misread".into() },
        ),
        fact(7, Subject::Placement("harl-quarry/r/1".into()), Body::Placement(PlacementRecord::default())),
    ]
}

struct Folder(tempfile::TempDir);

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }
    fn file(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }
    /// Names and hashes of all files.
    fn hashes(&self) -> Vec<(String, String)> {
        let mut all: Vec<_> = std::fs::read_dir(self.0.path())
            .unwrap()
            .map(|entry| {
                let path = entry.unwrap().path();
                let hash = Sha256::digest(std::fs::read(&path).unwrap());
                (path.file_name().unwrap().to_string_lossy().into_owned(), format!("{hash:x?}"))
            })
            .collect();
        all.sort();
        all
    }
    fn filled(&self, name: &str) -> PathBuf {
        let path = self.file(name);
        SqliteStore::create(&path).unwrap().append(&some_facts()).unwrap();
        path
    }
}

#[test]
fn what_is_appended_is_kept() {
    let folder = Folder::new();
    let path = folder.filled("register.holdproof");
    assert_eq!(folder.hashes().len(), 1, "one file and nothing beside it");
    let mut store = SqliteStore::open(&path).unwrap();
    let kept = store.facts_after(Position(0), 100).unwrap();
    assert_eq!(kept.iter().map(|(_, fact)| fact.clone()).collect::<Vec<_>>(), some_facts());
    assert_eq!(store.facts_after(kept[4].0, 1).unwrap()[0].1, some_facts()[5]);
    assert_eq!(store.facts_after(Position(u64::MAX), usize::MAX).unwrap(), []);
    assert_eq!(store.facts_about(&Subject::Crag("tern-head".into())).unwrap().len(), 2);
    assert!(store.state().unwrap() == State::of(some_facts()));
    assert_eq!(store.latest_stamp().unwrap(), Some(some_facts()[6].stamp.clone()));
    // Sent again: nothing twice.
    let again = store.append(&some_facts()).unwrap();
    assert_eq!((again.added, again.known), (0, 7));
    assert_eq!(store.fact_count().unwrap(), 7);
    let checked = store.check().unwrap();
    assert_eq!((checked.facts, checked.subjects), (7, 4));
}

#[test]
fn a_sheet_read_again_does_not_undo_corrections() {
    let folder = Folder::new();
    let mut store = SqliteStore::create(&folder.file("r.holdproof")).unwrap();
    let row = |n: u64, diameter: f64, file: &str| Fact {
        origin: Some(format!("{file}, row 2")),
        ..fitting(n, 1, diameter)
    };
    let correction = Fact { origin: None, ..fitting(2, 1, 12.0) };
    store.append(&[row(1, 10.0, "bolts.csv"), correction, row(3, 8.0, "bolts.csv.old")]).unwrap();
    let said = State::of(store.facts_from("bolts.csv").unwrap());
    let subject = Subject::Fitting("harl-quarry/r/1/f1".into());
    assert_eq!(said.news(&subject, row(9, 10.0, "bolts.csv").body), None);
    assert!(said.news(&subject, row(9, 11.0, "bolts.csv").body).is_some(), "the sheet itself was corrected");
    assert_eq!(store.facts_from("bolts").unwrap(), []);
    // By name, wherever the file lies; not by a part of its name.
    store.append(&[row(4, 10.0, "old/bolts.csv"), row(5, 10.0, "my bolts.csv")]).unwrap();
    let origins = |name: &str| -> Vec<_> {
        store.facts_from_name(name).unwrap().into_iter().map(|fact| fact.origin.unwrap()).collect()
    };
    assert_eq!(origins("bolts.csv"), ["bolts.csv, row 2", "old/bolts.csv, row 2"]);
    assert_eq!(origins("olts.csv"), [""; 0]);
}

#[test]
fn a_trouble_in_the_middle_keeps_nothing_of_the_batch() {
    let folder = Folder::new();
    let path = folder.filled("register.holdproof");
    let before = folder.hashes();
    let mut store = SqliteStore::open(&path).unwrap();
    // The last fact of a long batch carries an id that is there with other content.
    let mut batch: Vec<Fact> = (100..5_000).map(|n| fitting(n, n, 10.0)).collect();
    batch.push(crag(1, "harl-quarry", "Another name"));
    assert!(matches!(store.append(&batch), Err(StoreError::Clash { id }) if id == Uuid::from_u64_pair(7, 1)));
    // Body of another kind than the subject.
    let odd = fact(9_000, Subject::Route("x".into()), Body::Crag(CragRecord::default()));
    assert!(matches!(store.append(&[fitting(8_000, 1, 8.0), odd]), Err(StoreError::Fact(_))));
    assert_eq!(store.fact_count().unwrap(), 7);
    assert!(store.state().unwrap() == State::of(some_facts()));
    drop(store);
    assert_eq!(folder.hashes(), before);
}

#[test]
fn a_program_killed_in_the_middle_of_a_batch_leaves_nothing_of_it() {
    let folder = Folder::new();
    let path = folder.filled("register.holdproof");
    // What a kill leaves: pages of the new batch in the file, and the journal with the old ones. The
    // small cache forces pages out before the commit; the files are copied while the batch is open.
    let killed = folder.file("killed.holdproof");
    let connection = Connection::open(&path).unwrap();
    connection.execute_batch("PRAGMA cache_size = 5; PRAGMA cache_spill = 1; BEGIN IMMEDIATE;").unwrap();
    for n in 0..3_000i64 {
        connection
            .execute(
                "INSERT INTO facts (id, millis, counter, device, author, wall_millis, kind, subject, says, body)
                 VALUES (randomblob(16), ?1, 0, 'hut', 'Ines Morrow', 0, 'crag', 'c', 'crag', '{}')",
                [n],
            )
            .unwrap();
    }
    let journal = |path: &Path| PathBuf::from(format!("{}-journal", path.display()));
    std::fs::copy(&path, &killed).unwrap();
    std::fs::copy(journal(&path), journal(&killed)).unwrap();
    connection.execute_batch("ROLLBACK").unwrap();
    drop(connection);
    assert!(std::fs::metadata(&killed).unwrap().len() > std::fs::metadata(&path).unwrap().len());

    let before = folder.hashes();
    assert!(matches!(SqliteStore::open_to_read(&killed), Err(StoreError::Unfinished { .. })));
    assert_eq!(folder.hashes(), before);
    let store = SqliteStore::open(&killed).unwrap();
    assert_eq!(store.fact_count().unwrap(), 7);
    store.check().unwrap();
    assert!(!journal(&killed).exists());
}

#[test]
fn facts_cannot_be_changed_or_deleted() {
    let folder = Folder::new();
    let path = folder.filled("register.holdproof");
    let connection = Connection::open(&path).unwrap();
    for sql in ["UPDATE facts SET body = '{}'", "DELETE FROM facts"] {
        assert!(connection.execute(sql, []).is_err(), "{sql}");
    }
    drop(connection);
    let store = SqliteStore::open(&path).unwrap();
    let facts: Vec<Fact> =
        store.facts_after(Position(0), 100).unwrap().into_iter().map(|(_, fact)| fact).collect();
    assert_eq!(facts, some_facts());
}

#[test]
fn a_fact_replaced_by_another_program_is_found() {
    let folder = Folder::new();
    let path = folder.filled("register.holdproof");
    let connection = Connection::open(&path).unwrap();
    let sql = "REPLACE INTO facts
               SELECT seq, id, millis, counter, device, author, wall_millis, origin, kind, subject, says, '{}'
               FROM facts WHERE seq = 4";
    connection.execute_batch("PRAGMA recursive_triggers = ON").unwrap();
    assert!(connection.execute(sql, []).is_err());
    connection.execute_batch("PRAGMA recursive_triggers = OFF").unwrap();
    assert_eq!(connection.execute(sql, []).unwrap(), 1);
    drop(connection);
    assert!(matches!(SqliteStore::open(&path).unwrap().check(), Err(StoreError::Damaged { .. })));
}

#[test]
fn a_state_that_was_tampered_with_is_found() {
    let folder = Folder::new();
    let path = folder.filled("register.holdproof");
    Connection::open(&path).unwrap().execute("DELETE FROM subjects WHERE kind = 'fitting'", []).unwrap();
    let error = SqliteStore::open(&path).unwrap().check().unwrap_err();
    assert!(
        matches!(&error, StoreError::Damaged { what, .. } if what.contains("not what the log")),
        "{error}"
    );
}

/// Opens both ways; returns the two errors and makes sure that nothing was touched.
fn refused(folder: &Folder, path: &Path) -> (StoreError, StoreError) {
    let before = folder.hashes();
    let write = SqliteStore::open(path).unwrap_err();
    let read = SqliteStore::open_to_read(path).unwrap_err();
    assert_eq!(folder.hashes(), before, "every byte as it was, and no journal beside it");
    (write, read)
}

#[test]
fn missing_and_empty_files_are_told_apart() {
    let folder = Folder::new();
    let path = folder.file("none.holdproof");
    let (write, read) = refused(&folder, &path);
    assert!(matches!(write, StoreError::Missing { .. }) && matches!(read, StoreError::Missing { .. }));
    std::fs::write(&path, "").unwrap();
    let (write, read) = refused(&folder, &path);
    assert!(matches!(write, StoreError::Empty { .. }) && matches!(read, StoreError::Empty { .. }));
    assert!(matches!(SqliteStore::create(&path), Err(StoreError::Exists { .. })));
    assert!(matches!(
        SqliteStore::open(folder.0.path()),
        Err(StoreError::NotADatabase { .. } | StoreError::Io { .. })
    ));
}

#[test]
fn other_files_are_refused() {
    let folder = Folder::new();
    let path = folder.file("notes.txt");
    std::fs::write(&path, "Blind Corner, bolt 3: loose\n".repeat(100)).unwrap();
    let (write, read) = refused(&folder, &path);
    assert!(
        matches!(write, StoreError::NotADatabase { .. }) && matches!(read, StoreError::NotADatabase { .. })
    );

    let path = folder.file("other.db");
    Connection::open(&path)
        .unwrap()
        .execute_batch("PRAGMA application_id = 77; CREATE TABLE t (a);")
        .unwrap();
    let (write, read) = refused(&folder, &path);
    assert!(matches!(write, StoreError::OtherApplication { application_id: 77, .. }));
    assert!(matches!(read, StoreError::OtherApplication { application_id: 77, .. }));

    let path = folder.filled("newer.holdproof");
    Connection::open(&path).unwrap().pragma_update(None, "user_version", VERSION + 3).unwrap();
    let (write, read) = refused(&folder, &path);
    assert!(matches!(write, StoreError::Newer { version, .. } if version == VERSION + 3));
    assert!(matches!(read, StoreError::Newer { .. }));
    assert!(read.to_string().contains("install the newer version"));
}

#[test]
fn damaged_files_are_refused() {
    let folder = Folder::new();
    let path = folder.filled("damaged.holdproof");
    let whole = std::fs::read(&path).unwrap();
    let damages: [(&str, Vec<u8>); 4] = [
        ("cut off within the header", whole[..60].to_vec()),
        ("cut off after the first page", whole[..4096].to_vec()),
        ("a page of noise", {
            let mut bytes = whole.clone();
            bytes[4096..8192].fill(0xA5);
            bytes
        }),
        ("write-ahead mode in the header", {
            let mut bytes = whole.clone();
            bytes[18] = 2;
            bytes[19] = 2;
            bytes
        }),
    ];
    for (what, bytes) in damages {
        std::fs::write(&path, bytes).unwrap();
        let (write, read) = refused(&folder, &path);
        assert!(matches!(write, StoreError::Damaged { .. }), "{what}: {write}");
        assert!(matches!(read, StoreError::Damaged { .. }), "{what}: {read}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Any bytes overwritten anywhere: an error or a register, never a panic, and no byte changed by reading.
    #[test]
    fn noise_in_the_file_never_panics(at in 0.0f64..1.0, noise in proptest::collection::vec(any::<u8>(), 1..64)) {
        let folder = Folder::new();
        let path = folder.filled("noise.holdproof");
        let mut bytes = std::fs::read(&path).unwrap();
        let at = (at * (bytes.len() - noise.len()) as f64) as usize;
        bytes[at..at + noise.len()].copy_from_slice(&noise);
        std::fs::write(&path, bytes).unwrap();
        let before = folder.hashes();
        if let Ok(store) = SqliteStore::open_to_read(&path) {
            let _ = store.state();
            let _ = store.facts_after(Position(0), 100);
            let _ = store.check();
        }
        prop_assert_eq!(folder.hashes(), before);
    }

    /// Batches in any split leave the state of the whole.
    #[test]
    fn any_split_gives_the_same_state(order in Just((0..7usize).collect::<Vec<_>>()).prop_shuffle(), cut in 0usize..8) {
        let folder = Folder::new();
        let mut store = SqliteStore::create(&folder.file("r.holdproof")).unwrap();
        let facts: Vec<Fact> = order.into_iter().map(|n| some_facts()[n].clone()).collect();
        store.append(&facts[..cut.min(7)]).unwrap();
        store.append(&facts[cut.min(7)..]).unwrap();
        prop_assert!(store.state().unwrap() == State::of(some_facts()));
        store.check().unwrap();
    }
}

#[test]
fn a_reader_cannot_write_and_two_writers_take_turns() {
    let folder = Folder::new();
    let path = folder.filled("register.holdproof");
    let before = folder.hashes();
    let mut reader = SqliteStore::open_to_read(&path).unwrap();
    assert!(matches!(reader.append(&[crag(50, "x", "X")]), Err(StoreError::ReadOnly { .. })));
    assert_eq!(folder.hashes(), before);
    let mut one = SqliteStore::open(&path).unwrap();
    let mut two = SqliteStore::open(&path).unwrap();
    one.append(&[crag(51, "x", "X")]).unwrap();
    two.append(&[crag(52, "y", "Y")]).unwrap();
    assert_eq!(one.fact_count().unwrap(), 9);
}

#[test]
fn backup_and_restore() {
    let folder = Folder::new();
    let path = folder.filled("register.holdproof");
    let copy = folder.file("copy.holdproof");
    let mut store = SqliteStore::open(&path).unwrap();
    assert_eq!(store.backup_to(&copy).unwrap().facts, 7);
    assert!(matches!(store.backup_to(&copy), Err(StoreError::Exists { .. })));
    store.append(&[crag(60, "otter-gorge", "Otter Gorge")]).unwrap();
    drop(store);

    let before = folder.hashes();
    assert_eq!(before.len(), 2, "nothing left beside");
    assert!(matches!(restore(&copy, &path, false), Err(StoreError::Exists { .. })));
    let broken = folder.file("broken.holdproof");
    std::fs::write(&broken, &std::fs::read(&copy).unwrap()[..8192]).unwrap();
    assert!(matches!(restore(&broken, &path, true), Err(StoreError::Damaged { .. })));
    std::fs::remove_file(&broken).unwrap();
    assert_eq!(folder.hashes(), before);

    assert_eq!(restore(&copy, &path, true).unwrap().facts, 7);
    assert!(SqliteStore::open(&path).unwrap().state().unwrap() == State::of(some_facts()));
    let fresh = folder.file("fresh.holdproof");
    restore(&copy, &fresh, false).unwrap();
    assert_eq!(SqliteStore::open_to_read(&fresh).unwrap().fact_count().unwrap(), 7);
    assert_eq!(folder.hashes().len(), 3);
}

#[test]
fn repairs_are_settled_by_a_later_import() {
    use store::Repair;
    let folder = Folder::new();
    let mut store = SqliteStore::create(&folder.file("r.holdproof")).unwrap();
    let repair = |row, value: &str| Repair {
        sheet: Some("Harl".into()),
        row,
        column: Some("Dia".into()),
        value: value.into(),
        reason: "not a size; write it as 10 mm or 3/8 in".into(),
    };
    let counts = store
        .note_repairs("bolts.xlsx", &[repair(7, "thick"), repair(9, "?"), repair(7, "thick")], 100)
        .unwrap();
    assert_eq!((counts.added, counts.still_open, counts.resolved), (2, 0, 0));
    store.note_repairs("other.csv", &[Repair { sheet: None, column: None, ..repair(2, "") }], 150).unwrap();
    // Row 7 was corrected, row 9 not, row 12 is new.
    let counts = store.note_repairs("bolts.xlsx", &[repair(9, "?"), repair(12, "-3")], 200).unwrap();
    assert_eq!((counts.added, counts.still_open, counts.resolved), (1, 1, 1));
    let open = store.repairs(true).unwrap();
    let rows: Vec<_> = open.iter().map(|kept| (&*kept.file, kept.repair.row, kept.first_seen)).collect();
    assert_eq!(rows, [("bolts.xlsx", 9, 100), ("bolts.xlsx", 12, 200), ("other.csv", 2, 150)]);
    assert_eq!((&open[2].repair.sheet, &open[2].repair.column), (&None, &None));
    assert!(store.resolve_repair(open[0].id, 300).unwrap());
    assert!(!store.resolve_repair(open[0].id, 300).unwrap());
    let all = store.repairs(false).unwrap();
    assert_eq!(all.len(), 4);
    assert_eq!(all.iter().filter_map(|kept| kept.resolved).collect::<Vec<_>>(), [200, 300]);
    // What was settled by hand does not come back with the same sheet; with another value it does.
    let counts = store
        .note_repairs("bolts.xlsx", &[repair(9, "?"), repair(12, "-3"), repair(7, "huge")], 400)
        .unwrap();
    assert_eq!((counts.added, counts.still_open, counts.settled_before), (1, 1, 1));
}
