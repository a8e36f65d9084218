//! Files of every older version come up to date with nothing lost.

use super::{SqliteStore, VERSION, schema};
use crate::{RegisterStore, StoreError};
use register::{Body, CragRecord, Fact, Stamp, State, Subject};
use rusqlite::{Connection, params};
use std::path::Path;
use uuid::Uuid;

fn facts() -> Vec<Fact> {
    let fact = |n: u64, name: &str, body: Option<Body>| Fact {
        id: Uuid::from_u64_pair(1, n),
        author: "Ines Morrow".into(),
        stamp: Stamp { millis: 1_764_000_000_000 + n, counter: 0, device: "hut".into() },
        wall_millis: 1_764_000_000_000,
        origin: Some("crags.csv, row 2".into()),
        subject: Subject::Crag("harl-quarry".into()),
        body: body.unwrap_or(Body::Crag(CragRecord { name: Some(name.into()), ..CragRecord::default() })),
    };
    vec![
        fact(1, "Harl Quary", None),
        fact(2, "", Some(Body::Withdrawn { reason: "typing error".into() })),
        fact(3, "Harl Quarry", None),
    ]
}

/// A file as that version left it: its tables, and the facts as it wrote them.
fn old_file(path: &Path, version: u32) {
    let mut connection = Connection::open(path).unwrap();
    schema::make_old(&mut connection, version);
    for fact in facts() {
        connection
            .execute(
                "INSERT INTO facts (id, millis, counter, device, author, wall_millis, origin, kind, subject, says, body)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
                params![
                    fact.id.as_bytes(),
                    fact.stamp.millis as i64,
                    fact.stamp.counter,
                    fact.stamp.device,
                    fact.author,
                    fact.wall_millis,
                    fact.origin,
                    fact.subject.kind(),
                    fact.subject.id(),
                    fact.body.says(),
                    fact.body.to_json().unwrap(),
                ],
            )
            .unwrap();
    }
}

#[test]
fn versions_before_the_fold_come_up_to_date() {
    let folder = tempfile::tempdir().unwrap();
    for version in [1, 2] {
        let path = folder.path().join(format!("v{version}.holdproof"));
        old_file(&path, version);
        assert!(
            matches!(SqliteStore::open_to_read(&path), Err(StoreError::Older { version: v, .. }) if v == version)
        );
        let store = SqliteStore::open(&path).unwrap();
        assert!(store.state().unwrap() == State::of(facts()));
        let checked = store.check().unwrap();
        assert_eq!((checked.facts, checked.subjects), (3, 1));
        assert_eq!(store.repairs(false).unwrap(), []);
        drop(store);
        let header = std::fs::read(&path).unwrap();
        assert_eq!(u32::from_be_bytes(header[60..64].try_into().unwrap()), VERSION);
    }
}

#[test]
fn an_upgrade_that_fails_leaves_the_old_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("old.holdproof");
    old_file(&path, 1);
    // A fact that no version can read stops the fold in the middle of the upgrade.
    Connection::open(&path)
        .unwrap()
        .execute(
            "INSERT INTO facts (id, millis, counter, device, author, wall_millis, kind, subject, says, body)
             VALUES (randomblob(16), 9, 0, 'd', 'a', 0, 'crag', 'c', 'crag', '{\"name\":')",
            [],
        )
        .unwrap();
    let before = std::fs::read(&path).unwrap();
    let error = SqliteStore::open(&path).unwrap_err();
    assert!(matches!(&error, StoreError::Damaged { what, .. } if what.contains("fact number 4")), "{error}");
    assert!(before == std::fs::read(&path).unwrap());
}
