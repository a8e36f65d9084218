//! An invented register and an invented sheet.

use decay::{Setting, Shelter};
use demand::{Role, Steepness, UseClass};
use evidence::{Extent, Finding, Seen, Sign};
use hardware::{Kind, Material};
use jiff::civil::{Date, date};
use register::{
    Body, CragRecord, Fact, FittingRecord, PlacementRecord, PullEnd, PullRecord, RouteRecord, SightingRecord,
    Stamp, Subject, identity,
};
use rock::RockType;
use std::fmt::Write as _;
use units::{Force, Length};
use uuid::Uuid;

/// The date of the judgements.
pub const TODAY: Date = date(2026, 11, 25);

/// Placements of a route and routes of a crag.
const OF_ROUTE: usize = 10;
const OF_CRAG: usize = 100 * OF_ROUTE;

/// One of a list, by a number that mixes well.
fn pick<T: Copy>(list: &[T], n: usize, salt: usize) -> T {
    let mixed = (n + salt * 7919).wrapping_mul(2_654_435_761) >> 7;
    list[mixed % list.len()]
}

/// A number between two others.
fn between(low: f64, high: f64, n: usize, salt: usize) -> f64 {
    let mixed = (n + salt * 7919).wrapping_mul(2_654_435_761) >> 7;
    low + (high - low) * (mixed % 1000) as f64 / 1000.0
}

const KINDS: [Option<Kind>; 8] = [
    Some(Kind::WedgeBolt),
    Some(Kind::WedgeBolt),
    Some(Kind::GlueIn),
    Some(Kind::GlueIn),
    Some(Kind::SleeveBolt),
    Some(Kind::CompressionBolt),
    Some(Kind::DropIn),
    None,
];
const MATERIALS: [Option<Material>; 5] = [
    Some(Material::PlatedCarbonSteel),
    Some(Material::PlatedCarbonSteel),
    Some(Material::Stainless304),
    Some(Material::Stainless316),
    None,
];
const SIGNS: [Sign; 4] = [Sign::MovesInHole, Sign::HangerTurns, Sign::Rust, Sign::RockCrack];

/// What is stated of placement number `n`: itself, its fitting and a sighting; with the first of a route or
/// crag also those; one in 2000 was pulled.
fn statements(n: usize) -> impl Iterator<Item = (Subject, Body)> {
    let (crag_number, route_number) = (n / OF_CRAG, n / OF_ROUTE);
    let number = (n % OF_ROUTE + 1) as u16;
    let crag = format!("invented-crag-{crag_number}");
    let route = format!("{crag}/route-number-{route_number}");
    let placement = identity::placement(&route, None, number);

    let of_crag = CragRecord {
        name: Some(crag.clone()),
        rock_type: pick(
            &[Some(RockType::Granite), Some(RockType::Limestone), Some(RockType::Sandstone), None],
            crag_number,
            1,
        ),
        setting: pick(&[Some(Setting::Inland), Some(Setting::SeaCliff), None], crag_number, 2),
        ..Default::default()
    };
    let of_route = RouteRecord {
        crag: Some(crag.clone()),
        name: Some(route.clone()),
        steepness: pick(
            &[Some(Steepness::Slab), Some(Steepness::Vertical), Some(Steepness::Overhang), None],
            route_number,
            3,
        ),
        use_class: pick(&[Some(UseClass::Regular), None], route_number, 4),
        ..Default::default()
    };
    let last = usize::from(number) == OF_ROUTE;
    let of_placement = PlacementRecord {
        route: Some(route.clone()),
        number: Some(number),
        role: Some(if last { Role::LowerOff } else { Role::Runner }),
        height: Some(Length::m(2.5 * f64::from(number))).filter(|_| !n.is_multiple_of(3)),
        edge_distance: Some(Length::mm(between(60.0, 400.0, n, 5))).filter(|_| n.is_multiple_of(5)),
        shelter: pick(&[None, None, Some(Shelter::Sheltered)], n, 6),
        ..Default::default()
    };
    let of_fitting = FittingRecord {
        placement: Some(placement.clone()),
        placed_year: Some(1980 + (n % 45) as i16).filter(|_| !n.is_multiple_of(11)),
        kind: pick(&KINDS, n, 7),
        diameter: Some(Length::mm(8.0 + (n % 3) as f64 * 2.0)).filter(|_| !n.is_multiple_of(7)),
        embedment: Some(Length::mm(between(40.0, 90.0, n, 8))).filter(|_| n.is_multiple_of(3)),
        material: pick(&MATERIALS, n, 9),
        hanger_material: pick(&MATERIALS, n, 10),
        ..Default::default()
    };
    let present = |k: usize| Finding::Present(pick(&[Extent::Slight, Extent::Slight, Extent::Severe], n, k));
    let signs = SIGNS.into_iter().enumerate().map(|(k, sign)| Seen {
        sign,
        finding: if (n / 3 + k * 5).is_multiple_of(7) { present(k) } else { Finding::Absent },
    });
    let of_sighting = sighting(&placement, 2024, n, signs.collect());
    let pull = n.is_multiple_of(2000).then(|| pull(&placement, n));
    [
        n.is_multiple_of(OF_CRAG).then_some((Subject::Crag(crag), Body::Crag(of_crag))),
        n.is_multiple_of(OF_ROUTE).then_some((Subject::Route(route), Body::Route(of_route))),
        Some((Subject::Fitting(format!("{placement}/f")), Body::Fitting(of_fitting))),
        Some(of_sighting),
        pull,
        Some((Subject::Placement(placement), Body::Placement(of_placement))),
    ]
    .into_iter()
    .flatten()
}

fn sighting(placement: &str, year: i16, n: usize, signs: Vec<Seen>) -> (Subject, Body) {
    let on = Some(date(year, 5, (n % 28 + 1) as i8));
    let record = SightingRecord {
        placement: Some(placement.to_owned()),
        on,
        signs: Some(signs),
        ..Default::default()
    };
    (Subject::Sighting(identity::sighting(placement, on, None)), Body::Sighting(record))
}

fn pull(placement: &str, n: usize) -> (Subject, Body) {
    let record = PullRecord {
        placement: Some(placement.to_owned()),
        on: Some(date(2023, 9, 12)),
        peak: Some(Force::kn(between(6.0, 20.0, n, 11))),
        axial: Some(true),
        end: Some(if n.is_multiple_of(4000) { PullEnd::ProofHeld } else { PullEnd::PulledOut }),
        ..Default::default()
    };
    (Subject::Pull(format!("{placement}/pull")), Body::Pull(record))
}

fn fact(n: usize, (subject, body): (Subject, Body)) -> Fact {
    Fact {
        id: Uuid::from_u128((0x0193_0000_0000_7000 << 64) | n as u128),
        author: "Ines Morrow".to_owned(),
        stamp: Stamp { millis: 1_764_000_000_000 + n as u64, counter: 0, device: "bench".to_owned() },
        wall_millis: 1_764_000_000_000,
        origin: None,
        subject,
        body,
    }
}

/// The facts of a register of so many placements.
pub fn facts(placements: usize) -> impl Iterator<Item = Fact> {
    (0..placements).flat_map(statements).enumerate().map(|(n, statement)| fact(n, statement))
}

/// A new sighting, number `n`, of a placement: it moves.
pub fn new_sighting(placement: &str, n: usize) -> Fact {
    let moves = Seen { sign: Sign::MovesInHole, finding: Finding::Present(Extent::Slight) };
    fact(usize::MAX / 2 + n, sighting(placement, 2025, n, vec![moves]))
}

/// A sheet of `rows` placements on routes of ten bolts, with spellings and units mixed as people mix them.
pub fn sheet(rows: usize) -> String {
    const TYPES: [&str; 8] =
        ["wedge bolt", "wege bolt", "glue-in", "resin bolt", "sleeve", "compression", "Wedge", "drop in"];
    const SIZES: [&str; 8] =
        ["M12x90", "3/8 x 2 1/4", "10x80", "12mm", "M10", "1/2\"\" x 2-3/4\"\"", "M12x110", ""];
    const STEELS: [&str; 7] = ["A4", "316", "zinc plated", "stainles", "stainless 304", "A2", ""];
    let mut text = String::with_capacity(rows * 110);
    text.push_str("Crag,Route,Bolt no,Type,Size,Depth (mm),Bolt material,Hanger material,Placed,");
    text.push_str("Height (m),Wall,Torque (Nm),Edge distance (mm),Remarks\n");
    for n in 0..rows {
        let route = n / OF_ROUTE;
        let _ = writeln!(
            text,
            "Crag {},Route number {route},{},{},\"{}\",{},{},{},{:02}/{:02}/{},{:.1},{},{},{:.0},{}",
            n / OF_CRAG,
            n % OF_ROUTE + 1,
            pick(&TYPES, n, 1),
            pick(&SIZES, n, 2),
            40 + n % 30,
            pick(&STEELS, n, 3),
            pick(&STEELS, n, 4),
            n % 28 + 1,
            n % 12 + 1,
            1985 + n % 40,
            2.5 * (n % OF_ROUTE + 1) as f64,
            pick(&["slab", "vertical", "overhang", "roof"], route, 5),
            20 + n % 20,
            between(60.0, 400.0, n, 6),
            if n.is_multiple_of(9) { "check again next year" } else { "" },
        );
    }
    text
}
