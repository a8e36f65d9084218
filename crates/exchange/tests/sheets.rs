//! Sheets as groups have them, read as a whole.

#![allow(clippy::unwrap_used)]

use exchange::*;
use jiff::civil::{Date, date};
use proptest::prelude::*;
use register::{Body, FittingRecord, State, Subject};
use std::io::Cursor;

const TODAY: Date = date(2026, 11, 25);

fn read(text: &str) -> SheetImport {
    try_read(text).unwrap_or_else(|e| panic!("{e}"))
}

fn try_read(text: &str) -> Result<SheetImport, ReadError> {
    read_sheet("bolts.csv", Cursor::new(text.as_bytes()), &Options::new(TODAY), &State::default())
}

/// The register after an import.
fn store(state: &mut State, import: &SheetImport, from: u64) {
    state.apply(facts_of(import, from));
}

fn facts_of(import: &SheetImport, from: u64) -> Vec<register::Fact> {
    let origin = |row| origin(&import.file, import.sheet.as_deref(), row);
    let drafts = import.drafts.iter().zip(from + 1..);
    drafts.map(|(d, millis)| fact(millis, origin(d.row), d.subject.clone(), d.body.clone())).collect()
}

fn fact(millis: u64, origin: String, subject: Subject, body: Body) -> register::Fact {
    let fact = register::Fact {
        id: uuid(millis),
        author: "Pia L.".into(),
        stamp: register::Stamp { millis, counter: 0, device: "d".into() },
        wall_millis: millis as i64,
        origin: Some(origin),
        subject,
        body,
    };
    fact.check().unwrap_or_else(|e| panic!("{e}: {fact:?}"));
    fact
}

fn uuid(n: u64) -> uuid::Uuid {
    uuid::Builder::from_unix_timestamp_millis(n, &[7; 10]).into_uuid()
}

fn fittings(import: &SheetImport) -> Vec<(&str, &FittingRecord)> {
    import
        .drafts
        .iter()
        .filter_map(|d| match (&d.subject, &d.body) {
            (Subject::Fitting(id), Body::Fitting(record)) => Some((id.as_str(), record)),
            _ => None,
        })
        .collect()
}

fn told(import: &SheetImport, part: &str) -> bool {
    import.findings.iter().any(|f| f.told(usize::MAX).contains(part))
}

fn reasons(import: &SheetImport) -> Vec<String> {
    import.repairs.iter().map(|r| format!("{}:{}: {}", r.row, r.column, r.reason)).collect()
}

const HEAD: &str = "Crag,Route,No,Type,Size,Embedment (mm),Material,Placed,Notes\n";

#[test]
fn a_row_becomes_four_drafts() {
    let import = read(&format!(
        "{HEAD}Harl Quarry,Blind Corner,3,wedge bolt,3/8 x 2 1/4,45,A4,2019-05-03,by the tree\n"
    ));
    assert_eq!(import.mapping.kind, SheetKind::Placements);
    let ids: Vec<&str> = import.drafts.iter().map(|d| d.subject.id()).collect();
    assert_eq!(
        ids,
        [
            "harl-quarry",
            "harl-quarry/blind-corner",
            "harl-quarry/blind-corner/3",
            "harl-quarry/blind-corner/3/f2019-05-03"
        ]
    );
    let (_, fitting) = fittings(&import)[0];
    assert_eq!(fitting.kind, Some(hardware::Kind::WedgeBolt));
    assert!((fitting.diameter.unwrap().as_mm() - 9.525).abs() < 1e-9);
    assert!((fitting.length.unwrap().as_mm() - 57.15).abs() < 1e-9);
    assert!((fitting.embedment.unwrap().as_mm() - 45.0).abs() < 1e-9);
    assert_eq!(fitting.material, Some(hardware::Material::Stainless316));
    assert_eq!(fitting.placed_on, Some(date(2019, 5, 3)));
    assert_eq!(fitting.note.as_deref(), Some("by the tree"));
    assert!(import.repairs.is_empty(), "{:?}", reasons(&import));
}

#[test]
fn a_bad_cell_stays_out_and_the_row_goes_in() {
    let import = read(&format!(
        "{HEAD}Harl Quarry,Blind Corner,1,wedge bolt,M12x90,200,A4,2019,\n\
         Harl Quarry,Blind Corner,2,wedge bolt,M12x90,-70,A4,2019,\n\
         Harl Quarry,Blind Corner,3,banana,M12x90,70,A4,2052-05-14,\n\
         Harl Quarry,Blind Corner,,wedge bolt,M12x90,70,A4,2019,\n\
         TOTAL,,,,,,,,\n"
    ));
    assert_eq!(fittings(&import).len(), 3);
    let reasons = reasons(&import);
    assert_eq!(import.counts.rows_to_repair, 4);
    assert!(reasons[0].contains("longer than the bolt"), "{reasons:?}");
    assert!(
        reasons[1].starts_with("3:Embedment (mm)") && reasons[1].contains("cannot be true"),
        "{reasons:?}"
    );
    assert!(
        reasons.iter().any(|r| r.contains("banana")) && reasons.iter().any(|r| r.contains("after today")),
        "{reasons:?}"
    );
    assert!(import.repairs.iter().filter(|r| r.whole_row).count() == 1);
    assert!(told(&import, "lines of totals were left out: row 6"));
    assert_eq!(fittings(&import)[0].1.embedment, None);
    assert_eq!(fittings(&import)[2].1.placed_on, None);
}

#[test]
fn copies_and_contradictions() {
    let import = read(&format!(
        "{HEAD}Harl Quarry,Blind Corner,1,wedge bolt,M12x90,70,A4,2019,\n\
         Harl Quarry ,blind corner,1,Wedge Bolt, M12x90,70,A4,2019,\n\
         Harl Quarry,Blind Corner,1,wedge bolt,M12x90,70,zinc,2019,\n\
         Harl Quarry,Blind Corner,2,compression,1/4,,zinc,1972,\n\
         Harl Quarry,Blind Corner,2,glue-in,12x100,90,A4,2020,\n"
    ));
    assert_eq!(import.counts.duplicates, 1);
    let ids: Vec<&str> = fittings(&import).iter().map(|f| f.0).collect();
    assert_eq!(
        ids,
        [
            "harl-quarry/blind-corner/1/f2019",
            "harl-quarry/blind-corner/2/f1972",
            "harl-quarry/blind-corner/2/f2020"
        ]
    );
    let reasons = reasons(&import);
    assert!(reasons.len() == 1 && reasons[0].starts_with("4:Material"), "{reasons:?}");
    assert!(told(&import, "replaced in one hole"));
}

#[test]
fn hardware_that_is_gone_is_not_there() {
    let text = "Crag,Route,No,Type,Material,Placed,Removed,Grade\n\
        Q,Blind Corner,1,compression,zinc,1972,2015,R4\n\
        Q,Blind Corner,1,glue-in,A4,2015,,R5\n\
        Q,Blind Corner,2,glue-in,A4,2015-06-01,2014,R5\n";
    let import = read(text);
    assert_eq!(fittings(&import)[0].1.removed_on, Some(date(2015, 1, 1)));
    assert!(told(&import, "row 2, 2015, as 2015-01-01") && told(&import, "replaced in one hole"));
    assert!(reasons(&import)[0].contains("removed before it was placed"));
    let Some(Body::Placement(placement)) =
        import.drafts.iter().map(|d| &d.body).find(|b| matches!(b, Body::Placement(_)))
    else {
        panic!()
    };
    assert_eq!(placement.grade, Some(rock::FieldGrade::R4));
    let mut state = State::default();
    store(&mut state, &import, 1000);
    let again = read_sheet("b.csv", Cursor::new(text), &Options::new(TODAY), &state).unwrap();
    assert!(again.drafts.is_empty(), "{:?}", again.drafts);
    // The same heading over grades of routes.
    let import = read("Crag,Route,No,Type,Grade\nQ,Blind Corner,1,glue-in,6a+\n");
    assert_eq!(import.mapping.position(Column::ClimbingGrade), Some(4));
}

#[test]
fn the_column_settles_the_order_of_its_dates() {
    let import = read(&format!(
        "{HEAD}Q,Blind Corner,1,wedge bolt,M12,,A4,03/05/2021,\nQ,Blind Corner,2,wedge bolt,M12,,A4,25/12/2020,\n"
    ));
    assert_eq!(fittings(&import)[0].1.placed_on, Some(date(2021, 5, 3)));
    assert!(told(&import, "day, month, year: row 3"));
    let import = read(&format!("{HEAD}Q,Blind Corner,1,wedge bolt,M12,,A4,03/05/2021,\n"));
    assert_eq!(fittings(&import)[0].1.placed_on, None);
    assert!(reasons(&import)[0].contains("3 May 2021 or 5 March 2021"));
}

#[test]
fn reading_twice_adds_nothing_and_a_corrected_list_only_its_corrections() {
    let text = format!(
        "{HEAD}Harl Quarry,Blind Corner,1,wedge bolt,M12x90,70,A4,03/05/2021,\n\
         Harl Quarry,Blind Corner,2,expansion bolt,M12x90,70,A4,2019,kept dry\n\
         Harl Quarry,Blind Corner,x,wedge bolt,M12x90,70,A4,2019,\n"
    );
    let first = read(&text);
    let mut state = State::default();
    store(&mut state, &first, 1000);
    let again = read_sheet("bolts.csv", Cursor::new(&text), &Options::new(TODAY), &state).unwrap();
    assert!(again.drafts.is_empty(), "{:?}", again.drafts);
    assert_eq!(again.counts.unchanged, 2);

    let mut list = Vec::new();
    write_repairs(&mut list, &first.headings(), &first.repairs).unwrap();
    let list = String::from_utf8(list).unwrap();
    assert_eq!(list.lines().count(), 4);
    let corrected = list
        .replace(",wedge bolt,M12x90,70,A4,03/05/2021,", ",wedge bolt,M12x90,70,A4,2021-05-03,")
        .replace(",expansion bolt,", ",sleeve bolt,")
        .replace("Blind Corner,x,", "Blind Corner,3,");
    let third = read_sheet("repairs.csv", Cursor::new(&corrected), &Options::new(TODAY), &state).unwrap();
    assert!(third.repairs.is_empty(), "{:?}", reasons(&third));
    store(&mut state, &third, 2000);
    let counts = state.counts();
    assert_eq!((counts.placements, counts.fittings), (3, 3));
    let one = state.fittings_of("harl-quarry/blind-corner/1").next().unwrap();
    assert_eq!(one.record.placed_on, Some(date(2021, 5, 3)));
    let two = state.fittings_of("harl-quarry/blind-corner/2").next().unwrap();
    assert_eq!(two.record.kind, Some(hardware::Kind::SleeveBolt));
    assert_eq!(two.record.note.as_deref(), Some("kept dry"));
}

#[test]
fn sightings_with_a_column_a_sign_and_as_lists() {
    let wide = read(
        "Date,Observer,Crag,Route,Pitch,Bolt no,Moves in hole,Rust,Crack in rock,Notes\n\
         2024-05-03,Ines V.,Harl Quarry,Blind Corner,1,3,no,slight,,\n\
         2024-05-03,Ines V.,Harl Quarry,Blind Corner,1,4,n/a,severe,-,dull sound\n",
    );
    assert_eq!(wide.mapping.kind, SheetKind::Sightings);
    let signs: Vec<_> = wide
        .drafts
        .iter()
        .filter_map(|d| match &d.body {
            Body::Sighting(s) => Some((d.subject.id().to_owned(), s.signs.clone().unwrap_or_default())),
            _ => None,
        })
        .collect();
    use evidence::{Extent, Finding as F, Seen, Sign};
    assert_eq!(signs[0].0, "harl-quarry/blind-corner/3/s2024-05-03-ines-v");
    assert_eq!(
        signs[0].1,
        [
            Seen { sign: Sign::MovesInHole, finding: F::Absent },
            Seen { sign: Sign::Rust, finding: F::Present(Extent::Slight) }
        ]
    );
    // n/a: cannot be there; a dash: nobody can tell whether anyone looked.
    assert_eq!(signs[1].1, [Seen { sign: Sign::Rust, finding: F::Present(Extent::Severe) }]);
    let dash = wide.findings.iter().find(|f| f.text.contains("a dash does not tell")).unwrap();
    assert_eq!((dash.column.as_deref(), dash.rows), (Some("Crack in rock"), 1));
    let list = read(
        "Date,By,Crag,Route,No,Findings\n2024-05-03,Ines V.,Q,Blind Corner,3,\"loose nut, slight rust; no rock crack\"\n2024-05-03,Ines V.,Q,Blind Corner,4,OK\n",
    );
    assert_eq!(list.mapping.kind, SheetKind::Sightings);
    assert!(told(&list, "no sign is named that was looked for: nothing was taken from it: \"OK\""));
    assert!(list.repairs.is_empty(), "{:?}", reasons(&list));
    // One row a sign.
    let long = read(
        "Date,By,Crag,Route,No,Sign,Extent\n2024-05-03,I,Q,Blind Corner,3,rust,slight\n2024-05-03,I,Q,Blind Corner,3,bent,severe\n2024-05-03,I,Q,Blind Corner,3,bent,slight\n",
    );
    let last = long.drafts.iter().rev().find_map(|d| match &d.body {
        Body::Sighting(s) => s.signs.clone(),
        _ => None,
    });
    assert_eq!(
        last.unwrap(),
        [
            Seen { sign: Sign::Bent, finding: F::Present(Extent::Severe) },
            Seen { sign: Sign::Rust, finding: F::Present(Extent::Slight) }
        ]
    );
    assert_eq!(long.repairs.len(), 1);
}

#[test]
fn pulls() {
    let import = read(
        "Date,Crag,Route,Bolt no,Tester,Direction,Peak load,Result,Movement (mm),Trace file\n\
         2022-04-03,Q,Tallow Whistle,5,Teo M.,straight out,1054 kgf,proof held,0.1,a.csv\n\
         2022-04-03,Q,Tallow Whistle,5,Teo M.,axial,\"5,620.5 lbf\",pull-out,7.3,b.csv\n\
         2022-04-03,Q,Tallow Whistle,6,Teo M.,axial,22 stone,held,,\n",
    );
    assert_eq!(import.mapping.kind, SheetKind::Pulls);
    let pulls: Vec<_> = import
        .drafts
        .iter()
        .filter_map(|d| match &d.body {
            Body::Pull(p) => Some((d.subject.id(), p)),
            _ => None,
        })
        .collect();
    assert_eq!(pulls[0].0, "q/tallow-whistle/5/p2022-04-03");
    assert_eq!(pulls[1].0, "q/tallow-whistle/5/p2022-04-03-2");
    // 1054 kgf x 9.80665 and 5620.5 lbf x 4.4482216 (NIST SP 811).
    assert!((pulls[0].1.peak.unwrap().as_n() - 10_336.21).abs() < 0.01);
    assert!((pulls[1].1.peak.unwrap().as_n() - 25_001.23).abs() < 0.01);
    assert_eq!(pulls[1].1.end, Some(register::PullEnd::PulledOut));
    assert_eq!(pulls[1].1.axial, Some(true));
    assert_eq!(import.repairs.len(), 1);
}

#[test]
fn short_lists() {
    let crags = read(
        "Crag,Latitude,Longitude,Rock,Field grade,Setting,Mean temperature (C),Relative humidity (%),Visit hours,Visit cost\nTern Head,-46.7,-121.8,lime stone,R4,sea cliff,19,76,2.5,30\n",
    );
    assert_eq!(crags.mapping.kind, SheetKind::Crags);
    let Body::Crag(crag) = &crags.drafts[0].body else { panic!() };
    assert_eq!(crag.rock_type, Some(rock::RockType::Limestone));
    assert_eq!(crag.setting, Some(decay::Setting::SeaCliff));
    assert_eq!(crag.temperature.unwrap().as_celsius(), 19.0);
    let routes = read(
        "Crag,Sector,Route,Grade,Length (m),Steepness,Use\nHarl Quarry,Lower Tier,Long Corner,5a,20,slab,regular\n",
    );
    assert_eq!(routes.mapping.kind, SheetKind::Routes);
    let stock = read("Item,In hand,Price\nwedge bolt M12x100,60,7.20\n");
    assert_eq!(stock.mapping.kind, SheetKind::Stock);
    let batches =
        read("Batch,What,Bought,Expires,Recalled\nEP-2210,epoxy cartridge,2022-02-10,2027-02-10,\n");
    assert_eq!(batches.mapping.kind, SheetKind::Batches);
    for import in [crags, routes, stock, batches] {
        assert!(import.repairs.is_empty(), "{:?}", reasons(&import));
    }
}

#[test]
fn encodings_and_delimiters() {
    let text = "Cliff;Climb;No.;Fixing;M-X [mm];Height [m];Steel;Date set\nTern Head;Café Ladder;1;stud;10;5,5;A2;12.07.2005\nTern Head;Café Ladder;2;stud;10;8,5;A2;27.09.2005\n";
    let utf16: Vec<u8> =
        [0xff, 0xfe].into_iter().chain(text.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    let bare16: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
    let (latin, _, _) = encoding_rs::WINDOWS_1252.encode(text);
    let marked: Vec<u8> = b"\xef\xbb\xbf".iter().copied().chain(text.bytes()).collect();
    for (what, bytes) in [
        ("utf-8", text.as_bytes().to_vec()),
        ("utf-8 with mark", marked),
        ("utf-16", utf16),
        ("utf-16 big end first, without mark", bare16),
        ("windows-1252", latin.into_owned()),
    ] {
        let import =
            read_sheet("t.csv", Cursor::new(bytes), &Options::new(TODAY), &State::default()).unwrap();
        assert_eq!(import.drafts[1].subject, Subject::Route("tern-head/cafe-ladder".into()), "{what}");
        let Body::Placement(placement) = &import.drafts[2].body else { panic!("{what}") };
        assert_eq!(placement.height.unwrap().as_m(), 5.5, "{what}");
        let (_, fitting) = fittings(&import)[0];
        assert_eq!(fitting.placed_on, Some(date(2005, 7, 12)), "{what}");
        assert_eq!(fitting.diameter.unwrap().as_mm(), 10.0, "{what}");
        assert!(import.repairs.is_empty(), "{what} {:?}", reasons(&import));
    }
}

#[test]
fn mapping_is_saved_and_read_again() {
    let odd = "Foo,Bar,Baz,Quux\nHarl Quarry,Blind Corner,3,M12x90\n";
    assert!(matches!(try_read(odd), Err(ReadError::NoHeader { .. })));
    let toml = "kind = \"placements\"\n[[column]]\nheading = \"Foo\"\nholds = \"crag\"\n[[column]]\nheading = \"bar\"\nholds = \"route\"\n[[column]]\nheading = \"Baz\"\nholds = \"number\"\n[[column]]\nheading = \"Quux\"\nholds = \"size\"\n";
    let mapping = Mapping::from_toml(toml).unwrap();
    let mut options = Options::new(TODAY);
    options.mapping = Some(mapping.clone());
    let import = read_sheet("odd.csv", Cursor::new(odd), &options, &State::default()).unwrap();
    assert_eq!(fittings(&import)[0].0, "harl-quarry/blind-corner/3/f");
    let again = Mapping::from_toml(&import.mapping.to_toml().unwrap()).unwrap();
    assert_eq!(
        again.columns.iter().map(|c| c.holds).collect::<Vec<_>>(),
        mapping.columns.iter().map(|c| c.holds).collect::<Vec<_>>()
    );
    assert!(matches!(Mapping::from_toml("kind = \"bananas\""), Err(ReadError::Mapping { .. })));
}

#[test]
fn unread_columns_are_told_and_kept() {
    let import = read("Crag,Route,No,Type,Colour of the moon\nQ,Blind Corner,1,glue-in,pale\n");
    assert_eq!(import.mapping.unmapped().collect::<Vec<_>>(), ["Colour of the moon"]);
    assert_eq!(fittings(&import)[0].1.note.as_deref(), Some("Colour of the moon: pale"));
}

#[test]
fn whole_files_that_are_refused() {
    let refused = |bytes: &[u8]| {
        read_file("f", Cursor::new(bytes), &Options::new(TODAY), &State::default()).unwrap_err()
    };
    assert!(matches!(refused(b""), ReadError::Empty { .. }));
    assert!(matches!(refused(b"\n\n\n"), ReadError::Empty { .. }));
    assert!(matches!(refused(b"%PDF-1.7 ..."), ReadError::NotASheet { .. }));
    assert!(matches!(refused(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), ReadError::NotASheet { .. }));
    assert!(matches!(refused(b"Crag,Route\0,No\n\0\0"), ReadError::NotASheet { .. }));
    assert!(matches!(refused(b"PK\x03\x04 nothing"), ReadError::Workbook { .. }));
    let wide = format!("{}\n", vec!["Crag"; 5000].join(","));
    assert!(matches!(refused(wide.as_bytes()), ReadError::TooManyColumns { row: 1, .. }));
    let open = format!("{HEAD}Q,\"Blind Corner,1,wedge bolt\nQ,Blind Corner,2,wedge bolt,,,,,\n");
    assert!(matches!(refused(open.as_bytes()), ReadError::UnbalancedQuote { row: 2, .. }));
    let long = format!("{HEAD}Q,{},1\n", "x".repeat(2_000_000));
    assert!(matches!(refused(long.as_bytes()), ReadError::RowTooLong { row: 2, .. }));
    let message = refused(open.as_bytes()).to_string();
    assert!(message.contains("row 2"), "{message}");
}

/// A sheet far larger than what is kept: rows are made as they are read, drafts are dropped.
#[test]
fn large_sheets_are_streamed() {
    let mut text = HEAD.to_owned();
    for i in 0..20_000 {
        text.push_str(&format!("Q,Route {},{},wedge bolt,M12x90,70,A4,2019,\n", i / 20, i % 20 + 1));
    }
    let (mut drafts, mut largest) = (0, 0);
    let imports = read_batches(
        "big.csv",
        Cursor::new(&text),
        &Options::new(TODAY),
        &State::default(),
        &mut |_, batch| {
            drafts += batch.len();
            largest = largest.max(batch.len());
        },
    )
    .unwrap();
    assert_eq!(drafts, 1 + 1000 + 40_000);
    assert!(largest < 1100);
    assert!(imports[0].drafts.is_empty() && imports[0].counts.taken == 20_000);
    let mut options = Options::new(TODAY);
    options.limits.rows = 1000;
    assert!(matches!(
        read_file("big.csv", Cursor::new(&text), &options, &State::default()),
        Err(ReadError::TooManyRows { .. })
    ));
}

fn workbook() -> Vec<u8> {
    let mut book = rust_xlsxwriter::Workbook::new();
    let day = rust_xlsxwriter::Format::new().set_num_format("yyyy-mm-dd");
    let sheet = book.add_worksheet().set_name("Lower Tier").unwrap();
    for (c, text) in
        ["Crag", "Route", "Bolt no", "Type", "Size", "Depth (mm)", "Placed"].into_iter().enumerate()
    {
        sheet.write(2, c as u16, text).unwrap();
    }
    sheet.write(0, 0, "Our bolts").unwrap();
    for r in 0..3u32 {
        sheet.write(3 + r, 0, "Harl Quarry").unwrap();
        if r == 0 {
            sheet.write(3, 1, "Long Corner").unwrap();
        }
        sheet.write(3 + r, 2, r + 1).unwrap();
        sheet.write(3 + r, 3, "wedge").unwrap();
        sheet.write(3 + r, 5, 70.5).unwrap();
    }
    sheet.write(3, 4, "M12x90").unwrap();
    let made = rust_xlsxwriter::ExcelDateTime::from_ymd(2019, 5, 3).unwrap();
    sheet.write_with_format(3, 6, &made, &day).unwrap();
    sheet.write(4, 6, 2015).unwrap();
    // The spreadsheet program took 3/8 for a day in March.
    let mistaken = rust_xlsxwriter::ExcelDateTime::from_ymd(2026, 3, 8).unwrap();
    sheet.write_with_format(5, 4, &mistaken, &day).unwrap();
    book.add_worksheet().set_name("Readme").unwrap().write(0, 0, "ask Pia").unwrap();
    book.save_to_buffer().unwrap()
}

#[test]
fn workbooks() {
    let imports =
        read_file("b.xlsx", Cursor::new(workbook()), &Options::new(TODAY), &State::default()).unwrap();
    assert_eq!(imports.len(), 1);
    let import = &imports[0];
    assert_eq!((import.sheet.as_deref(), import.mapping.header_row), (Some("Lower Tier"), 3));
    let fittings = fittings(import);
    assert_eq!(fittings.len(), 3);
    assert_eq!(fittings[0].1.placed_on, Some(date(2019, 5, 3)));
    assert_eq!(fittings[1].1.placed_year, Some(2015));
    assert!(fittings[2].0.starts_with("harl-quarry/long-corner/3/"));
    assert!(told(import, "route of the row above") && told(import, "left out"));
    assert_eq!(reasons(import).len(), 1);
    assert!(reasons(import)[0].starts_with("6:Size") && reasons(import)[0].contains("dates of fractions"));
    let mut options = Options::new(TODAY);
    options.sheet = Some("Nowhere".into());
    assert!(matches!(
        read_file("b.xlsx", Cursor::new(workbook()), &options, &State::default()),
        Err(ReadError::NoSuchSheet { .. })
    ));
}

#[test]
fn a_workbook_that_unpacks_without_end_is_refused() {
    use std::io::Write;
    // 64 MB of zeros pack to some 64 kB; with the limits below that is already too much.
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let options = zip::write::SimpleFileOptions::default();
    zip.start_file("xl/workbook.xml", options).unwrap();
    zip.write_all(b"<workbook/>").unwrap();
    zip.start_file("xl/sharedStrings.xml", options).unwrap();
    for _ in 0..64 {
        zip.write_all(&vec![0u8; 1 << 20]).unwrap();
    }
    let bomb = zip.finish().unwrap().into_inner();
    assert!(bomb.len() < 200_000);
    let mut limited = Options::new(TODAY);
    limited.limits.held_bytes = 16 << 20;
    let error = read_file("bomb.xlsx", Cursor::new(&bomb), &limited, &State::default()).unwrap_err();
    assert!(matches!(error, ReadError::UnpacksTooLarge { .. }), "{error}");
    // The declared size lies: the local and central headers say 1 kB.
    let mut lying = bomb.clone();
    let size = (64u32 << 20).to_le_bytes();
    let mut at = 0;
    while let Some(found) = lying[at..].windows(4).position(|w| w == size) {
        lying[at + found..at + found + 4].copy_from_slice(&1024u32.to_le_bytes());
        at += found + 4;
    }
    let error = read_file("bomb.xlsx", Cursor::new(&lying), &limited, &State::default()).unwrap_err();
    assert!(matches!(error, ReadError::UnpacksTooLarge { .. } | ReadError::Workbook { .. }), "{error}");
}

#[test]
fn names_that_are_almost_known() {
    let mut state = State::default();
    store(
        &mut state,
        &read(&format!("{HEAD}Harl Quarry,Blind Corner,1,wedge bolt,M12x90,70,A4,2019,\n")),
        1000,
    );
    let text = format!(
        "{HEAD}Harl Quarry,Blnd Corner,2,wedge bolt,M12x90,70,A4,2019,\nHarl Quary,Blind Corner,3,wedge bolt,M12x90,70,A4,2019,\n"
    );
    let import = read_sheet("b.csv", Cursor::new(&text), &Options::new(TODAY), &state).unwrap();
    assert!(import.drafts.is_empty());
    assert!(reasons(&import)[0].contains("\"Blind Corner\" is"), "{:?}", reasons(&import));
    assert!(reasons(&import)[1].contains("\"Harl Quarry\" is"), "{:?}", reasons(&import));
    let mut options = Options::new(TODAY);
    options.new_names = true;
    let import = read_sheet("b.csv", Cursor::new(&text), &options, &state).unwrap();
    assert!(import.repairs.is_empty() && fittings(&import).len() == 2);
}

#[test]
fn waypoints() {
    let mut state = State::default();
    store(
        &mut state,
        &read(&format!("{HEAD}Harl Quarry,Blind Corner,1,wedge bolt,M12x90,70,A4,2019,\n")),
        1000,
    );
    let file = "<?xml version=\"1.0\"?><gpx version=\"1.1\" creator=\"t\" xmlns=\"http://www.topografix.com/GPX/1/1\">\
        <wpt lat=\"-46.9\" lon=\"-121.3\"><name>blind corner</name></wpt>\
        <wpt lat=\"-46.8\" lon=\"-121.2\"><name>HARL QUARRY</name></wpt>\
        <wpt lat=\"-46.7\" lon=\"-121.1\"><name>car park</name></wpt></gpx>";
    let import = gpx::read("harl.gpx", file.as_bytes(), &Limits::default(), &state).unwrap();
    let ids: Vec<&str> = import.drafts.iter().map(|d| d.subject.id()).collect();
    assert_eq!(ids, ["harl-quarry/blind-corner", "harl-quarry"]);
    assert_eq!(import.unmatched.len(), 1);
    assert!(matches!(
        gpx::read("x.gpx", &b"<html></html>"[..], &Limits::default(), &state),
        Err(ReadError::Waypoints { .. })
    ));
}

/// The files of the invented group: all of them are understood, every row is accounted for, and reading
/// them again adds nothing. Their README says which kinds of trouble they hold.
#[test]
fn the_demo_group() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/input");
    let open = |name: &str| std::fs::File::open(folder.join(name)).unwrap();
    let names = [
        "crags.csv",
        "routes.csv",
        "batches.csv",
        "stock.csv",
        "harl-quarry.xlsx",
        "tern-head.csv",
        "otter-gorge.csv",
        "sightings.xlsx",
        "pulls.csv",
    ];
    let mut state = State::default();
    let mut reasons = String::new();
    for (i, name) in names.into_iter().enumerate() {
        for (j, import) in
            read_file(name, open(name), &Options::new(TODAY), &state).unwrap().into_iter().enumerate()
        {
            let whole = import.repairs.iter().filter(|r| r.whole_row).count() as u32;
            assert_eq!(import.counts.rows, import.counts.taken + import.counts.duplicates + whole, "{name}");
            // About two rows in a hundred are bad.
            assert!(import.counts.rows_to_repair * 25 <= import.counts.rows, "{name}: {:?}", import.counts);
            // The running number of a test is the only column without a place in the register.
            assert!(
                import.mapping.unmapped().all(|h| h == "Test"),
                "{name}: {:?}",
                import.mapping.unmapped().collect::<Vec<_>>()
            );
            reasons.extend(import.repairs.iter().map(|r| r.reason.clone() + "\n"));
            store(&mut state, &import, 1_000_000 * (10 * i + j + 1) as u64);
        }
    }
    for part in [
        "longer than the bolt",
        "outside what",
        "after today",
        "is no date",
        "cannot be true",
        "does not tell which placement",
        "does not tell its route",
        "no kind of bolt",
        "stands in row",
        "cannot be read as",
        "a sighting needs its day",
        "none of the",
    ] {
        assert!(reasons.contains(part), "no repair says: {part}");
    }
    let counts = state.counts();
    assert_eq!((counts.crags, counts.routes, counts.pulls), (3, 120, 90));
    assert!((1380..=1440).contains(&counts.placements), "{counts:?}");
    for name in names {
        for import in read_file(name, open(name), &Options::new(TODAY), &state).unwrap() {
            assert!(import.drafts.is_empty(), "{name}: {:?}", import.drafts.first());
        }
    }
    let mut samples = 0;
    for entry in std::fs::read_dir(folder.join("traces")).unwrap() {
        let path = entry.unwrap().path();
        let trace =
            trace::read(&path.to_string_lossy(), std::fs::File::open(&path).unwrap(), &Limits::default())
                .unwrap();
        samples += trace.time_s().len();
    }
    assert!(samples > 10_000);
    for crag in ["harl-quarry", "tern-head", "otter-gorge"] {
        let name = format!("gpx/{crag}.gpx");
        let import = gpx::read(&name, open(&name), &Limits::default(), &state).unwrap();
        assert!(import.drafts.len() >= 30 && import.unmatched.is_empty(), "{name}");
    }
    let (mut named, mut timed, mut placed) = (0, 0, 0);
    for entry in std::fs::read_dir(folder.join("photos")).unwrap() {
        let path = entry.unwrap().path();
        let photo = photo::read(
            &path.to_string_lossy(),
            std::fs::File::open(&path).unwrap(),
            &Limits::default(),
            &state,
        )
        .unwrap();
        named += usize::from(photo.record.shows.is_some());
        timed += usize::from(photo.record.taken_at.is_some());
        placed += usize::from(photo.record.latitude_deg.is_some());
        assert!(!photo.why.is_empty() && photo.record.sha256.is_some_and(|s| s.len() == 64));
    }
    assert!(named >= 5 && timed > placed && placed > 5, "{named} {timed} {placed}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, ..ProptestConfig::default() })]

    /// Any bytes give a result or an error.
    #[test]
    fn any_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let _ = read_file("f", Cursor::new(&bytes), &Options::new(TODAY), &State::default());
        let _ = gpx::read("f.gpx", &bytes[..], &Limits::default(), &State::default());
        let mut photo = b"\xff\xd8\xff\xe1".to_vec();
        photo.extend(&bytes);
        let _ = photo::read("f.jpg", &photo[..], &Limits::default(), &State::default());
        let _ = Mapping::from_toml(&String::from_utf8_lossy(&bytes));
    }

    /// Any cells under headings that are known; nothing is lost: every row is taken, a copy, or to be repaired.
    #[test]
    fn any_cells(cells in proptest::collection::vec(proptest::collection::vec("[a-zA-Z0-9/. x-]{0,10}", 9), 1..8)) {
        let body: String = cells.iter().map(|row| row.join(",") + "\n").collect();
        if let Ok(import) = try_read(&format!("{HEAD}{body}")) {
            let rows = import.counts.rows;
            let out = import.repairs.iter().filter(|r| r.whole_row).count() as u32;
            prop_assert_eq!(rows, import.counts.taken + import.counts.duplicates + out);
            for draft in &import.drafts {
                prop_assert!(!draft.subject.id().is_empty());
            }
        }
    }

    /// A workbook with a few bytes changed gives a result or an error.
    #[test]
    fn damaged_workbooks(at in proptest::collection::vec((0usize..7000, any::<u8>()), 1..6)) {
        let mut bytes = workbook();
        let length = bytes.len();
        for (i, b) in at { bytes[i % length] = b; }
        let _ = read_file("b.xlsx", Cursor::new(&bytes), &Options::new(TODAY), &State::default());
    }

    /// Whatever two rows a sheet has on each hole, reading it again adds nothing.
    #[test]
    fn reading_again_adds_nothing(rows in proptest::collection::vec(
        ("(wedge bolt|glue-in|wege bolt|)", "(M12x90|3/8|10mm|)", "(70|90|)", "(A4|zinc|)", "(1972|2019|2019-05-03|2021-06-01|)", "(2015-01-02|2020|)", "(R4|R5|)"),
        1..7)) {
        let mut text = "Crag,Route,No,Type,Size,Embedment (mm),Material,Placed,Removed,Rock grade\n".to_owned();
        for (i, (kind, size, depth, material, placed, removed, grade)) in rows.into_iter().enumerate() {
            let no = i / 2 + 1;
            text.push_str(&format!("Q,Blind Corner,{no},{kind},{size},{depth},{material},{placed},{removed},{grade}\n"));
        }
        if let Ok(first) = try_read(&text) {
            let mut state = State::default();
            store(&mut state, &first, 1000);
            let again = read_sheet("bolts.csv", Cursor::new(&text), &Options::new(TODAY), &state).unwrap();
            prop_assert!(again.drafts.is_empty(), "{text}\n{:?}\n{:?}", again.drafts, state.fittings().map(|f| (f.id, f.record.placed_on, f.record.placed_year, f.record.removed_on)).collect::<Vec<_>>());
        }
    }
}

/// A sheet with one row a sign is one sighting a day, whose remarks are all kept; reading it again adds
/// nothing.
#[test]
fn one_row_a_sign_is_one_sighting_and_stays_so() {
    let text = "Crag,Route,No,Date,By,Sign,Extent,Torque (Nm),Note\n\
        Harl,Slab,1,2024-05-01,AB,rust,slight,,first\n\
        Harl,Slab,1,2024-05-01,AB,nut loose,,22,second\n\
        Harl,Slab,1,2024-05-01,AB,bent,severe,,\n\
        Harl,Slab,1,2024-05-01,AB,bent,severe,,\n\
        Harl,Slab,1,2024-05-01,AB,worn,severe,30,\n";
    let import = read(text);
    let sightings: Vec<_> = import.drafts.iter().filter(|d| matches!(d.body, Body::Sighting(_))).collect();
    let [Body::Sighting(one)] = &sightings.iter().map(|d| &d.body).collect::<Vec<_>>()[..] else {
        panic!("{sightings:?}")
    };
    assert_eq!(one.signs.as_ref().map(Vec::len), Some(3));
    assert_eq!(one.note.as_deref(), Some("first; second"));
    assert_eq!(one.torque, Some(units::Torque::nm(22.0)));
    // Another torque on the same day by the same person: one of the two is wrong.
    assert_eq!(import.counts.duplicates, 1);
    assert!(reasons(&import)[0].starts_with("6:Torque (Nm)"), "{:?}", reasons(&import));
    // An extent that is left out is told only where it is left out.
    assert!(told(&import, "signs without an extent were read as marked: \"nut loose\""));
    assert!(!told(&import, "\"rust\""));
    let state = State::of(facts_of(&import, 0));
    let again = read_sheet("f.csv", Cursor::new(text), &Options::new(TODAY), &state).unwrap();
    assert_eq!(again.drafts, []);
    assert_eq!(again.counts.unchanged, 3);
}

/// A column whose heading is clear is what it says, even if none of its cells can be read.
#[test]
fn a_column_that_cannot_be_read_is_repaired_and_not_lost() {
    let import = read(
        "Crag,Route,No,Type,Steel,Placed\nQ,Slab,1,qwrtz,A4,2019\nQ,Slab,2,zzxy,A4,2019\nQ,Slab,3,vvbbn,A4,2019\n",
    );
    assert_eq!(import.mapping.position("kind".parse().unwrap()), Some(3));
    assert_eq!(import.counts.rows_to_repair, 3);
    assert!(import.repairs.iter().all(|r| r.column == "Type" && !r.whole_row), "{:?}", reasons(&import));
    assert_eq!(fittings(&import).len(), 3, "the rest of each row goes in");
}

/// Reading a sheet again does not undo what was corrected since, and says so; what changed in the sheet goes in.
#[test]
fn corrections_outlive_the_sheet() {
    let sheet = |size: &str, steel: &str| {
        format!(
            "Crag,Route,No,Type,Size,Steel,Placed\nQ,Slab,1,wedge bolt,{size},{steel},2019\nQ,Slab,2,wedge bolt,M10x90,A4,2019\n"
        )
    };
    let first = read(&sheet("M10x90", "A4"));
    let mut facts = facts_of(&first, 0);
    let said = [State::of(facts.clone())];
    // By hand: it is a 12 mm sleeve bolt of 2018.
    let fitting = said[0].fittings_of("q/slab/1").next().unwrap().id.to_owned();
    let record = FittingRecord {
        diameter: Some(units::Length::mm(12.0)),
        kind: Some(hardware::Kind::SleeveBolt),
        placed_year: Some(2018),
        ..Default::default()
    };
    facts.push(fact(1000, "by hand".into(), Subject::Fitting(fitting.clone()), Body::Fitting(record)));
    let state = State::of(facts);
    let read_again = |text: String| {
        let known = Known { register: &state, said: &said };
        read_sheet("f.csv", Cursor::new(text), &Options::new(TODAY), known).unwrap()
    };
    let same = read_again(sheet("M10x90", "A4"));
    assert_eq!(same.drafts, []);
    assert_eq!((same.counts.corrected_since, same.counts.unchanged), (1, 2));
    assert!(told(&same, "the corrections stand: row 2"));
    let changed = read_again(sheet("M10x90", "A2"));
    let [draft] = &changed.drafts[..] else { panic!("{:?}", changed.drafts) };
    let Body::Fitting(record) = &draft.body else { panic!("{draft:?}") };
    assert_eq!(draft.subject, Subject::Fitting(fitting));
    assert_eq!(record.material, Some(hardware::Material::Stainless304));
    assert_eq!((record.diameter, record.kind, record.placed_year), (None, None, None));
    // The sheet's own size changed: that is news again.
    let changed = read_again(sheet("M8x90", "A4"));
    assert_eq!(changed.drafts.len(), 1);
}

/// A repair list that comes back from a spreadsheet program with other separators or encoding is still one.
#[test]
fn repair_lists_come_back_in_other_clothes() {
    let plain = "repair: file,repair: sheet,repair: row,repair: column,repair: value,repair: reason,repair: advice,Crag,No\n\
        a/Höhe.csv,Blatt 1,12,No,x,no number,\"write it; or, not\",Q,3\n\n\
        a/Höhe.csv,,14,No,y,no number,write it,Q,4\n";
    let expected = [(2, Some("Blatt 1"), 12), (4, None, 14)];
    let semicolons = plain.replace("\"write it; or, not\"", "write it").replace(',', ";");
    let (western, ..) = encoding_rs::WINDOWS_1252.encode(&semicolons);
    for bytes in [plain.as_bytes(), semicolons.as_bytes(), &western] {
        let rows = copied_rows("l.csv", Cursor::new(bytes), Limits::default()).unwrap();
        let found: Vec<_> = rows.iter().map(|r| (r.row, r.sheet.as_deref(), r.original_row)).collect();
        assert_eq!(found, expected);
        assert!(rows.iter().all(|r| r.file == "a/Höhe.csv"), "{rows:?}");
    }
    assert_eq!(copied_rows("f.csv", Cursor::new("Crag,No\nQ,1\n"), Limits::default()).unwrap(), []);
}

/// Nothing that stands in a sheet is dropped without a word.
#[test]
fn stray_cells_broken_formulas_and_bare_headings() {
    let ragged =
        read("Crag,Route,No,Type,Size,\nQ,Slab,1,wedge bolt,M12,odd,cells\nQ,Slab,2,wedge bolt,M12\n");
    assert!(told(&ragged, "cells that stand under no heading go into the note: row 2"));
    assert_eq!(fittings(&ragged)[0].1.note.as_deref(), Some("odd, cells"));
    // A broken crag is not taken from the row above.
    let broken = read(
        "Crag,Route,No,Type\nQ,Slab,1,wedge bolt\n,Slab,2,wedge bolt\n#REF!,Slab,3,wedge bolt\nQ,Slab,4,#NAME?\n",
    );
    assert_eq!(fittings(&broken).len(), 3);
    assert!(reasons(&broken)[0].starts_with("4:Crag: \"#REF!\""), "{:?}", reasons(&broken));
    assert!(reasons(&broken)[1].starts_with("5:Type: \"#NAME?\""), "{:?}", reasons(&broken));
    let twice = read("Crag,Route,No,Type,Type,Size\nQ,Slab,1,wedge bolt,glue-in,M12\n");
    assert!(told(&twice, "the heading stands twice and the first is read: its cells go into the note"));
    assert_eq!(fittings(&twice)[0].1.note.as_deref(), Some("Type: glue-in"));
    let bare = read("Crag,Route,No,Type,Size\n");
    assert!(told(&bare, "no row under the headings"));
}

/// The crag of a file without a column for it: its name, if the register has that crag.
#[test]
fn a_file_named_after_a_crag() {
    let text = "Route,No,Type,Size\nSlab,1,wedge bolt,M12\n";
    let unknown = read_sheet("a/tern-head.csv", Cursor::new(text), &Options::new(TODAY), &State::default());
    assert!(reasons(&unknown.unwrap())[0].contains("does not tell its crag"));
    let record = register::CragRecord { name: Some("Tern Head".into()), ..Default::default() };
    let state = State::of([fact(1, "x".into(), Subject::Crag("tern-head".into()), Body::Crag(record))]);
    let known = read_sheet("a/Tern Head.csv", Cursor::new(text), &Options::new(TODAY), &state).unwrap();
    assert!(told(&known, "tern-head was taken from the file's name"));
    assert!(known.drafts.iter().any(|d| d.subject.id() == "tern-head/slab/1"));
}

/// Rows of a repair list stand alone: what they took from the rows around them, from the sheet's name and from
/// the order of dates of their column comes with them.
#[test]
fn a_repair_list_stands_alone() {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    sheet.set_name("Harl Quarry").unwrap();
    let rows = [
        ["Route", "No", "Type", "Depth (mm)", "Placed"],
        ["Slab", "1", "wedge bolt", "70", "25/12/2019"],
        ["", "2", "wedge bolt", "700000", "03/05/2019"],
        ["Arete", "?", "wedge bolt", "70", "03/05/2019"],
        ["", "2", "qqq", "70", "04/05/2019"],
        ["a remark", "", "", "", ""],
        ["", "3", "zzz", "70", "04/05/2019"],
    ];
    for (r, row) in rows.iter().enumerate() {
        for (c, cell) in row.iter().enumerate() {
            sheet.write(r as u32, c as u16, *cell).unwrap();
        }
    }
    let options = Options::new(TODAY);
    let bytes = book.save_to_buffer().unwrap();
    let import = read_sheet("b.xlsx", Cursor::new(&bytes), &options, &State::default()).unwrap();
    let placements: Vec<&str> = import
        .drafts
        .iter()
        .filter(|d| matches!(d.body, Body::Placement(_)))
        .map(|d| d.subject.id())
        .collect();
    assert_eq!(
        placements,
        ["harl-quarry/slab/1", "harl-quarry/slab/2", "harl-quarry/arete/2", "harl-quarry/arete/3"]
    );
    let mut list = Vec::new();
    write_repairs(&mut list, &import.headings(), &import.repairs).unwrap();
    let list = String::from_utf8(list).unwrap();
    let fixed = list.replace(",2,wedge bolt,700000", ",2,wedge bolt,80").replace("Arete,?", "Arete,1");
    let fixed = fixed.replace("qqq", "glue-in").replace("zzz", "piton");
    let fixed: String = fixed.lines().filter(|l| !l.contains("a remark")).map(|l| format!("{l}\n")).collect();
    let state = State::of(facts_of(&import, 0));
    let again = read_sheet("repairs/b.csv", Cursor::new(&fixed), &options, &state).unwrap();
    assert_eq!(reasons(&again), Vec::<String>::new(), "{fixed}");
    let mut said: Vec<_> = fittings(&again)
        .iter()
        .map(|(id, f)| (*id, f.kind, f.embedment.map(|l| l.as_mm()), f.placed_on))
        .collect();
    said.sort_by_key(|s| s.0);
    use hardware::Kind;
    assert_eq!(
        said,
        [
            ("harl-quarry/arete/1/f2019-05-03", Some(Kind::WedgeBolt), Some(70.0), Some(date(2019, 5, 3))),
            ("harl-quarry/arete/2/f2019-05-04", Some(Kind::GlueIn), None, None),
            ("harl-quarry/arete/3/f2019-05-04", Some(Kind::Piton), None, None),
            ("harl-quarry/slab/2/f2019-05-03", None, Some(80.0), None),
        ]
    );
}

/// Merged cells, formulas that went wrong, numbers kept as text, days as numbers, and a sheet as wide as a
/// spreadsheet allows.
#[test]
fn workbooks_as_they_are_found() {
    let mut book = rust_xlsxwriter::Workbook::new();
    let plain = rust_xlsxwriter::Format::new();
    let sheet = book.add_worksheet();
    sheet.set_name("Harl Quarry").unwrap();
    for (c, text) in ["Route", "No", "Type", "Size", "Depth (mm)", "Placed"].into_iter().enumerate() {
        sheet.write(0, c as u16, text).unwrap();
    }
    sheet.merge_range(1, 0, 3, 0, "Slab", &plain).unwrap();
    let broken = |shown: &str| rust_xlsxwriter::Formula::new("=1/0").set_result(shown);
    for r in 1..4u32 {
        sheet.write(r, 1, r.to_string()).unwrap();
        sheet.write(r, 2, "wedge bolt").unwrap();
        sheet.write(r, 3, "M12x90").unwrap();
        sheet.write(r, 4, "70,5").unwrap();
        // Day 43831 of the spreadsheet's count: 1 January 2020.
        sheet.write(r, 5, 43_831).unwrap();
    }
    sheet.write_formula(3, 4, broken("#DIV/0!")).unwrap();
    let bytes = book.save_to_buffer().unwrap();
    let import = read_sheet("b.xlsx", Cursor::new(bytes), &Options::new(TODAY), &State::default()).unwrap();
    let found: Vec<_> =
        fittings(&import).iter().map(|(_, f)| (f.embedment.map(|l| l.as_mm()), f.placed_on)).collect();
    let placed = Some(date(2020, 1, 1));
    assert_eq!(found, [(Some(70.5), placed), (Some(70.5), placed), (None, placed)]);
    assert!(told(&import, "empty cells take the route of the row above"));
    assert!(told(&import, "day counts of a spreadsheet were read as dates"));
    assert!(reasons(&import)[0].starts_with("4:Depth (mm): \"#DIV/0!\""), "{:?}", reasons(&import));
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    for c in 0..16_384u16 {
        sheet.write(0, c, "Crag").unwrap();
    }
    let wide = book.save_to_buffer().unwrap();
    let error = read_sheet("w.xlsx", Cursor::new(wide), &Options::new(TODAY), &State::default()).unwrap_err();
    assert!(matches!(error, ReadError::TooManyColumns { row: 1, .. }), "{error}");
}
