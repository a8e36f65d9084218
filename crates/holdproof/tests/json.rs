//! Every field of every JSON answer is described in docs/json.md.
#![allow(clippy::unwrap_used)]

mod common;
use common::Group;
use serde_json::Value;
use std::collections::BTreeSet;

fn keys(value: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => {
            for (key, value) in fields {
                found.insert(key.clone());
                // stored records and facts of signs keep the register's own words
                if key != "record" && key != "signs" && key != "finding" {
                    keys(value, found);
                }
            }
        }
        Value::Array(items) => items.iter().for_each(|item| keys(item, found)),
        _ => {}
    }
}

#[test]
fn every_field_is_described() {
    let group = Group::new();
    group.write(
        "more.csv",
        "Crag,Route,Number,Role,Kind,Size,Material,Placed\n\
         Harl Quarry,New Line,1,runner,wedge bolt,M12x100,A4,2026\n\
         Harl Quarry,New Line,2,runner,flying carpet,M12x100,A4,2026\n",
    );
    let docs = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/json.md");
    let docs = std::fs::read_to_string(docs).unwrap();
    let placement = "harl-quarry/blind-corner/2";
    let mut undescribed = BTreeSet::new();
    for command in [
        &["import", "more.csv"][..],
        &["repairs"],
        &["list"],
        &["judge", "--all"],
        &["show", "harl-quarry/slow-lichen/1"],
        &["show", "harl-quarry/blind-corner/3"],
        &["explain", placement],
        &["plan", "--money", "200", "--days", "2", "--people", "2"],
        &["report", "--all", "--out", "reports"],
        &["check", "--all"],
        &["backup", "copy.holdproof"],
        &["history", placement],
        &["init", "--register", "new.holdproof"],
    ] {
        let answer = group.json(command);
        assert_eq!(answer["format"], 1, "{command:?}");
        let mut found = BTreeSet::new();
        keys(&answer, &mut found);
        for key in found {
            if !docs.contains(&format!("`{key}`")) {
                undescribed.insert(format!("{} {key}", command[0]));
            }
        }
    }
    assert!(undescribed.is_empty(), "not in docs/json.md: {undescribed:#?}");
}

#[test]
fn verdicts_carry_the_caution() {
    let group = Group::new();
    for command in [
        &["list"][..],
        &["judge", "--all"],
        &["show", "harl-quarry/blind-corner/3"],
        &["explain", "harl-quarry/blind-corner/3"],
        &["plan", "--money", "200", "--days", "2"],
        &["report", "--all", "--out", "reports"],
    ] {
        assert!(
            group.json(command)["caution"].as_str().unwrap().contains("no inspection sees"),
            "{command:?}"
        );
    }
}
