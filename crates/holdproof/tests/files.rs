//! Register files: starting, importing again, backing up, damage.
#![allow(clippy::unwrap_used)]

mod common;
use common::Group;

#[test]
fn init_does_not_write_over_a_register() {
    let group = Group::new();
    let again = group.run(&["init"]);
    assert_eq!(again.code, 3, "{}", again.out);
    assert!(again.err.contains("group.holdproof"), "{}", again.err);
    assert_eq!(group.json(&["list"])["placements"].as_array().unwrap().len(), 6);
}

#[test]
fn a_second_import_adds_nothing() {
    let group = Group::new();
    let again = group.json(&["import", "placements.csv", "sightings.csv", "pulls.csv"]);
    assert_eq!(again["facts_new"], 0, "{again}");
    assert_eq!(group.json(&["list"])["placements"].as_array().unwrap().len(), 6);
}

#[test]
fn a_dry_run_writes_nothing() {
    let group = Group::new();
    group.write(
        "more.csv",
        "Crag,Route,Number,Role,Kind,Size,Material,Placed\nHarl Quarry,New Line,1,runner,wedge bolt,M12x100,A4,2026\n",
    );
    let dry = group.json(&["import", "more.csv", "--dry-run"]);
    assert!(dry["facts_new"].as_u64().unwrap() > 0, "{dry}");
    assert_eq!(group.json(&["list"])["placements"].as_array().unwrap().len(), 6);
    assert_eq!(group.run(&["import", "more.csv"]).code, 0);
    assert_eq!(group.json(&["list"])["placements"].as_array().unwrap().len(), 7);
}

#[test]
fn bad_rows_go_to_a_repair_list_and_come_back() {
    let group = Group::new();
    group.write(
        "more.csv",
        "Crag,Route,Number,Role,Kind,Size,Material,Placed\n\
         Harl Quarry,New Line,1,runner,wedge bolt,M12x100,A4,2026\n\
         Harl Quarry,New Line,2,runner,flying carpet,M12x100,A4,2026\n",
    );
    let import = group.run(&["import", "more.csv"]);
    assert_eq!(import.code, 1, "{}{}", import.out, import.err);
    let repairs = group.json(&["repairs"]);
    let list = repairs["repairs"].as_array().unwrap();
    assert!(list.iter().any(|repair| repair["row"] == 3 || repair["row"] == "3"), "{repairs}");
    assert_eq!(group.run(&["repairs"]).code, 1);
    group.write(
        "more.csv",
        "Crag,Route,Number,Role,Kind,Size,Material,Placed\n\
         Harl Quarry,New Line,1,runner,wedge bolt,M12x100,A4,2026\n\
         Harl Quarry,New Line,2,runner,wedge bolt,M12x100,A4,2026\n",
    );
    let again = group.run(&["import", "more.csv"]);
    assert_eq!(again.code, 0, "{}{}", again.out, again.err);
    assert_eq!(group.run(&["repairs"]).code, 0, "nothing is left to repair");
    assert_eq!(group.json(&["list", "--route", "New Line"])["placements"].as_array().unwrap().len(), 2);
}

#[test]
fn a_corrected_repair_list_settles_its_rows() {
    let group = Group::new();
    group.write(
        "more.csv",
        "Crag,Route,Number,Role,Kind,Size,Material,Placed\n\
         Harl Quarry,New Line,1,runner,flying carpet,M12x100,A4,2026\n\
         Harl Quarry,New Line,2,runner,magic bean,M12x100,A4,2026\n\
         Harl Quarry,New Line,3,runner,glue-in,12x100,A4,2026\n\
         Harl Quarry,New Line,4,runner,glue-in,12x100,A4,2026\n",
    );
    assert_eq!(group.run(&["import", "more.csv"]).code, 1);
    assert_eq!(group.json(&["repairs"])["repairs"].as_array().unwrap().len(), 2);
    let list = std::fs::read_to_string(group.path("repairs/more.csv")).unwrap();
    // one of the two rows is corrected
    let corrected: String = list
        .lines()
        .map(|line| if line.contains(",New Line,1,") { line.replace(",runner,flying carpet,", ",runner,wedge bolt,") } else { line.to_owned() } + "\n")
        .collect();
    assert_ne!(list, corrected);
    group.write("corrected.csv", corrected);
    assert_eq!(group.run(&["import", "corrected.csv"]).code, 1, "one row is still bad");
    let left = group.json(&["repairs"]);
    assert_eq!(left["repairs"].as_array().unwrap().len(), 1, "{left}");
    assert_eq!(left["repairs"][0]["row"], 3);
    let number = left["repairs"][0]["number"].to_string();
    assert_eq!(group.run(&["repairs", "--settle", &number]).code, 0);
    assert_eq!(group.run(&["repairs", "--settle", &number]).code, 2);
    assert_eq!(group.json(&["list", "--route", "New Line"])["placements"][0]["kind"], "wedge_bolt");
}

#[test]
fn check_finds_what_cannot_be() {
    let group = Group::new();
    assert_eq!(group.run(&["check"]).code, 0, "{}", group.run(&["check"]).out);
    group.write(
        "old.csv",
        "Crag,Route,Number,Date,By,Rust\nHarl Quarry,Slow Lichen,1,2001-05-05,Ines Morrow,marked\n",
    );
    group.run(&["import", "old.csv"]);
    let check = group.json(&["check", "--all"]);
    let about = |finding: &serde_json::Value| finding["subject"].as_str().unwrap().contains("slow-lichen/1");
    assert!(check["findings"].as_array().unwrap().iter().any(about), "seen before it was placed: {check}");
}

#[test]
fn a_mapping_can_be_saved_and_used() {
    let group = Group::new();
    let odd = "Wand,Linie,Nr,Was,Groesse,Jahr\nHarl Quarry,Odd Line,1,wedge bolt,M12x100,2020\n";
    group.write("odd.csv", odd);
    group.write(
        "odd.toml",
        "kind = \"placements\"\n\
         [[column]]\nheading = \"Wand\"\nholds = \"crag\"\n\
         [[column]]\nheading = \"Linie\"\nholds = \"route\"\n\
         [[column]]\nheading = \"Nr\"\nholds = \"number\"\n\
         [[column]]\nheading = \"Was\"\nholds = \"kind\"\n\
         [[column]]\nheading = \"Groesse\"\nholds = \"size\"\n\
         [[column]]\nheading = \"Jahr\"\nholds = \"placed_on\"\n",
    );
    let import = group.run(&["import", "odd.csv", "--mapping", "odd.toml", "--save-mapping", "used.toml"]);
    assert_eq!(import.code, 0, "{}{}", import.out, import.err);
    assert!(std::fs::read_to_string(group.path("used.toml")).unwrap().contains("Groesse"));
    assert_eq!(group.json(&["list", "--route", "Odd Line"])["placements"][0]["placed_year"], 2020);
}

#[test]
fn history_keeps_every_fact() {
    let group = Group::new();
    let history = group.json(&["history", "harl-quarry/blind-corner/1"]);
    let facts = history["facts"].as_array().unwrap();
    assert!(facts.iter().any(|fact| fact["subject_kind"] == "placement"), "{history}");
    assert!(facts.iter().any(|fact| fact["subject_kind"] == "sighting"), "{history}");
    assert!(facts.iter().all(|fact| fact["origin"].as_str().unwrap().contains(".csv")), "{history}");
    let text = group.run(&["history", "harl-quarry/blind-corner/1"]);
    assert!(text.out.contains("placements.csv"), "{}", text.out);
    assert_eq!(group.run(&["history", "no/such/thing"]).code, 2);
}

#[test]
fn backup_and_restore_go_round() {
    let group = Group::new();
    let before = group.json(&["judge", "--all"]);
    assert_eq!(group.run(&["backup", "safe.holdproof"]).code, 0);
    assert_eq!(group.run(&["backup", "safe.holdproof"]).code, 4, "a backup is not written over");
    let refused = group.run(&["restore", "safe.holdproof"]);
    assert_eq!(refused.code, 3, "a register is not written over unasked: {}", refused.out);
    std::fs::remove_file(group.path("group.holdproof")).unwrap();
    let restored = group.run(&["restore", "safe.holdproof"]);
    assert_eq!(restored.code, 0, "{}", restored.err);
    assert_eq!(before, group.json(&["judge", "--all"]));
    assert_eq!(group.run(&["check"]).code, 0);
}

#[test]
fn a_file_that_is_no_register_is_left_alone() {
    let group = Group::without_register();
    let missing = group.run(&["list"]);
    assert_eq!(missing.code, 3);
    assert!(missing.err.contains("holdproof init"), "{}", missing.err);
    group.write("group.holdproof", "this is a shopping list, not a register");
    for command in [&["list"][..], &["check"], &["import", "x.csv"], &["judge", "--all"]] {
        let answer = group.run(command);
        assert_eq!(answer.code, 3, "{command:?}: {}", answer.err);
        assert!(answer.out.is_empty(), "{command:?}");
    }
    assert_eq!(
        std::fs::read_to_string(group.path("group.holdproof")).unwrap(),
        "this is a shopping list, not a register"
    );
}

#[test]
fn a_damaged_register_is_told_not_mended() {
    let group = Group::new();
    let path = group.path("group.holdproof");
    let mut bytes = std::fs::read(&path).unwrap();
    let middle = bytes.len() / 2;
    for byte in &mut bytes[middle..middle + 3000] {
        *byte ^= 0x5a;
    }
    std::fs::write(&path, &bytes).unwrap();
    let check = group.run(&["check"]);
    assert!(check.code == 3 || check.code == 1, "{}{}", check.out, check.err);
    assert_eq!(std::fs::read(&path).unwrap(), bytes, "nothing was touched");
}

#[test]
fn bad_files_do_not_stop_the_good_ones() {
    let group = Group::new();
    group.write("empty.csv", "");
    group.write("noise.xlsx", [0u8, 159, 146, 150, 7, 8, 9]);
    group.write(
        "more.csv",
        "Crag,Route,Number,Role,Kind,Size,Material,Placed\nHarl Quarry,New Line,1,runner,wedge bolt,M12x100,A4,2026\n",
    );
    let import = group.run(&["import", "empty.csv", "noise.xlsx", "more.csv"]);
    assert_eq!(import.code, 1, "{}{}", import.out, import.err);
    assert!(import.out.contains("empty.csv") && import.out.contains("noise.xlsx"), "{}", import.out);
    assert_eq!(group.json(&["list", "--route", "New Line"])["placements"].as_array().unwrap().len(), 1);
    std::fs::create_dir(group.path("nothing-here")).unwrap();
    assert_eq!(group.run(&["import", "nothing-here"]).code, 2);
    let nothing = group.run(&["import", "no-such-file.csv"]);
    assert_eq!(nothing.code, 2);
    assert!(nothing.err.contains("no-such-file.csv"), "{}", nothing.err);
}

const BOLTS: &str = "Crag,Route,No,Type,Size,Embedment (mm),Placed\n\
    Harl,Slab,1,wedge bolt,M12x90,70,2019\n\
    Harl,Slab,2,wedge bolt,M12x90,700,2019\n\
    Harl,Slab,3,qwrtz,M12x90,70,2019\n\
    Harl,Slab,4,wedge bolt,M12x90,70,2019\n";

fn bolts() -> Group {
    let group = Group::without_register();
    assert_eq!(group.run(&["init"]).code, 0);
    group.write("bolts.csv", BOLTS);
    let import = group.run(&["import", "bolts.csv"]);
    assert_eq!(import.code, 1, "{}", import.err);
    group
}

fn embedment(group: &Group, number: u8) -> serde_json::Value {
    group.json(&["show", &format!("harl/slab/{number}")])["fittings"][0]["embedment_mm"].clone()
}

/// A repair list that was corrected settles its rows, adds nothing twice, and the sheet it came from does not
/// bring the old trouble back.
#[test]
fn the_repair_list_shrinks() {
    let group = bolts();
    assert_eq!(group.json(&["repairs"])["repairs"].as_array().unwrap().len(), 2);
    let list = std::fs::read_to_string(group.path("repairs/bolts.csv")).unwrap();
    // One row is corrected, the other still is wrong; saved with semicolons.
    let fixed = list
        .replace(",700,2019", ",80,2019")
        .replace(", or leave one of the two empty", "")
        .replace(',', ";");
    group.write("repairs/bolts.csv", &fixed);
    let import = group.json(&["import", "repairs/bolts.csv"]);
    assert_eq!((&import["facts_new"], &import["repairs_settled"]), (&1.into(), &1.into()), "{import}");
    assert_eq!(embedment(&group, 2), 80.0);
    let open = group.json(&["repairs"]);
    assert_eq!(open["repairs"].as_array().unwrap().len(), 1);
    assert_eq!(open["repairs"][0]["value"], "qwrtz");
    // The sheet as it was: nothing new, and only the open row waits.
    let again = group.json(&["import", "bolts.csv"]);
    assert_eq!(
        (&again["facts_new"], &again["files"][0]["rows_to_repair"]),
        (&0.into(), &1.into()),
        "{again}"
    );
    assert_eq!(embedment(&group, 2), 80.0);
    // The list that a person had in hand was put aside, not written over.
    assert_eq!(std::fs::read_to_string(group.path("repairs/bolts.csv.before")).unwrap(), fixed);
    // What is settled as it stands does not come back either.
    let number = open["repairs"][0]["number"].to_string();
    assert_eq!(group.run(&["repairs", "--settle", &number]).code, 0);
    assert_eq!(group.run(&["import", "bolts.csv"]).code, 0);
    assert_eq!(group.json(&["repairs"])["repairs"].as_array().unwrap().len(), 0);
}

/// A newer sheet corrects an older one; reading the older one again, from wherever, changes nothing, and one
/// changed cell in it is one fact.
#[test]
fn an_old_sheet_does_not_undo_a_newer_one() {
    let group = bolts();
    group.write(
        "survey.csv",
        "Crag,Route,No,Type,Size,Embedment (mm),Placed\nHarl,Slab,1,wedge bolt,M12x90,62,2019\n",
    );
    assert_eq!(group.json(&["import", "survey.csv"])["facts_new"], 1);
    assert_eq!(embedment(&group, 1), 62.0);
    std::fs::create_dir(group.path("old")).unwrap();
    std::fs::copy(group.path("bolts.csv"), group.path("old/bolts.csv")).unwrap();
    for name in ["bolts.csv", "./bolts.csv", "old/bolts.csv"] {
        let again = group.json(&["import", name]);
        assert_eq!(again["facts_new"], 0, "{name}: {again}");
        assert_eq!(again["files"][0]["corrected_since"], 1, "{name}");
        assert_eq!(embedment(&group, 1), 62.0, "{name}");
    }
    let text = group.run(&["import", "bolts.csv"]).out;
    assert!(text.contains("the corrections stand: row 2"), "{text}");
    group.write("bolts.csv", BOLTS.replace("Slab,4,wedge bolt,M12x90,70", "Slab,4,wedge bolt,M12x90,65"));
    assert_eq!(group.json(&["import", "bolts.csv"])["facts_new"], 1);
    assert_eq!((embedment(&group, 4), embedment(&group, 1)), (65.0.into(), 62.0.into()));
}

/// An import that stops says what is in and what is not.
#[test]
fn a_stopped_import_says_how_far_it_came() {
    let group = Group::without_register();
    assert_eq!(group.run(&["init"]).code, 0);
    group.write("bolts.csv", BOLTS);
    // The lists cannot be written where a file has their folder's name.
    group.write("repairs", "");
    let import = group.run(&["import", "bolts.csv"]);
    assert_eq!((import.code, import.out.as_str()), (4, ""));
    for words in ["In the register: 1 file with 10 facts (bolts.csv)", "adds nothing twice"] {
        assert!(import.err.contains(words), "{words}: {}", import.err);
    }
    assert_eq!(group.json(&["list"])["placements"].as_array().unwrap().len(), 4);
}

/// Files that are no sheets are refused with a reason; what was named and is not there stops the import.
#[test]
fn files_that_are_no_sheets() {
    let group = Group::without_register();
    assert_eq!(group.run(&["init"]).code, 0);
    group.write("empty.csv", "");
    group.write("headings.csv", "Crag,Route,No,Type\n");
    group.write(
        "noise.csv",
        (0..4000u32).map(|i| (i.wrapping_mul(2_654_435_761) >> 13) as u8).collect::<Vec<_>>(),
    );
    group.write("old.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 and so on");
    group.write("letter.pdf", "%PDF-1.7");
    group.write("torn.xlsx", b"PK\x03\x04 and so on");
    std::fs::create_dir(group.path("nothing")).unwrap();
    for (name, code, words) in [
        ("empty.csv", 1, "is empty"),
        ("headings.csv", 0, "no row under the headings"),
        ("noise.csv", 1, "is binary data"),
        ("old.xls", 1, "an old (.xls) or password-protected workbook"),
        ("letter.pdf", 1, "is a PDF"),
        ("torn.xlsx", 1, "cannot be read as a workbook"),
        ("nothing", 2, "no file in what was named"),
        ("gone.csv", 2, "no file or folder gone.csv"),
    ] {
        let import = group.run(&["import", name]);
        assert_eq!(import.code, code, "{name}: {}{}", import.out, import.err);
        let said = format!("{}{}", import.out, import.err).split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(said.contains(words), "{name}: {said}");
        assert!(!said.contains("panicked") && !said.contains("knows all of this"), "{name}: {said}");
    }
}
