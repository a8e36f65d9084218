//! Reading sheets. Run `cargo bench -p exchange`.

use std::fmt::Write as _;
use std::io::Cursor;

fn main() {
    divan::main();
}

/// A sheet of `rows` placements on routes of ten bolts, with the variety of a real one.
fn sheet(rows: usize) -> String {
    let kinds =
        ["wedge bolt", "wege bolt", "glue-in", "resin bolt", "sleeve", "compression", "Wedge", "drop in"];
    let sizes = ["M12x90", "3/8 x 2 1/4", "10x80", "12mm", "M10", "1/2\"\" x 2-3/4\"\"", "M12x110", ""];
    let materials = ["A4", "316", "zinc plated", "stainles", "stainless 304", "A2", "", "titanium"];
    let setters = ["Runa D.", "Teo M.", "Pia L.", "Wim K.", ""];
    let mut text = String::with_capacity(rows * 130);
    text.push_str("Crag,Route,Bolt no,Type,Size,Depth (mm),Bolt material,Hanger material,Batch,Set by,Placed,Height (m),Wall,Torque (Nm),Edge distance (mm),Remarks\n");
    for i in 0..rows {
        let route = i / 10;
        let pick = |list: &[&'static str], salt: usize| list[(i * 7 + salt * 13 + i / 31) % list.len()];
        let _ = writeln!(
            text,
            "Crag {},Route number {},{},{},\"{}\",{},{},{},B-{:04},{},{:02}/{:02}/{},{}.{},{},{},{},{}",
            route / 50,
            route,
            i % 10 + 1,
            pick(&kinds, 1),
            pick(&sizes, 2),
            40 + i % 30,
            pick(&materials, 3),
            pick(&materials, 5),
            i % 300,
            pick(&setters, 4),
            i % 28 + 1,
            i % 12 + 1,
            1985 + i % 40,
            i % 10 * 3 + 2,
            i % 10,
            ["slab", "vertical", "overhang", "roof"][route % 4],
            20 + i % 20,
            100 + i % 400,
            if i % 9 == 0 { "check again next year" } else { "" },
        );
    }
    text
}

#[divan::bench(sample_count = 10, sample_size = 1)]
fn csv_100_000_rows(bencher: divan::Bencher) {
    let text = sheet(100_000);
    let options = exchange::Options::new(jiff::civil::date(2026, 11, 25));
    let state = register::State::default();
    bencher.counter(divan::counter::ItemsCount::new(100_000u32)).bench_local(|| {
        let mut drafts = 0;
        let imports =
            exchange::read_batches("bolts.csv", Cursor::new(&text), &options, &state, &mut |_, batch| {
                drafts += divan::black_box(batch).len();
            });
        assert!(drafts > 200_000 && imports.is_ok_and(|i| i[0].counts.taken > 95_000));
    });
}

#[divan::bench(sample_count = 10, sample_size = 1)]
fn csv_10_000_rows_kept(bencher: divan::Bencher) {
    let text = sheet(10_000);
    let options = exchange::Options::new(jiff::civil::date(2026, 11, 25));
    let state = register::State::default();
    bencher.counter(divan::counter::ItemsCount::new(10_000u32)).bench_local(|| {
        divan::black_box(exchange::read_file("bolts.csv", Cursor::new(&text), &options, &state)).is_ok()
    });
}
