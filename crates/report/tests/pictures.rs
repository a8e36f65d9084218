//! Charts: well-formed, readable, nothing cut off, nothing on top of each other, the same bytes each time.

#[path = "../examples/specimen/sample.rs"]
#[allow(dead_code)]
mod sample;

use judgement::{Band, Call, Chance, Judgement, YearsLeft};
use proptest::prelude::*;
use report::{
    AgeingPoint, AgeingView, CallCounts, GeoPoint, Item, MarginView, PlanView, RouteGain, Scene, Sketch,
    SketchRoute, Style, Theme, YearsGroup,
};
use units::{Force, UnitSystem};

fn date() -> jiff::civil::Date {
    jiff::civil::date(2026, 11, 25)
}

fn styles() -> [Style; 3] {
    [
        Style::wall(),
        Style::wall().with_theme(Theme::Dark).with_units(UnitSystem::Us),
        Style::page(480.0, 250.0),
    ]
}

/// Well-formed XML, and every number in it can be read.
fn well_formed(svg: &str) {
    let doc = roxmltree::Document::parse(svg).expect("well-formed XML");
    for node in doc.descendants().filter(|n| n.is_element()) {
        for attribute in node.attributes() {
            let value = attribute.value();
            match attribute.name() {
                "d" => {
                    for number in value.split(['M', 'L', 'Z', ' ']).filter(|s| !s.is_empty()) {
                        let v: f64 = number.parse().expect("a number in a path");
                        assert!(v.is_finite());
                    }
                }
                "x" | "y" | "width" | "height" | "cx" | "cy" | "r" | "rx" | "font-size" | "stroke-width"
                | "textLength" | "fill-opacity" => {
                    let v: f64 = value.parse().expect("a number");
                    assert!(v.is_finite());
                }
                _ => {}
            }
        }
    }
}

/// Texts lie inside the picture.
fn inside(scene: &Scene) {
    for item in &scene.items {
        if let Some(a) = item.text_area() {
            assert!(
                a.x >= -0.5
                    && a.y >= -0.5
                    && a.right() <= scene.width + 0.5
                    && a.bottom() <= scene.height + 0.5,
                "{item:?} at {a:?} leaves {} × {}",
                scene.width,
                scene.height
            );
        }
    }
}

/// No two texts overlap by more than a sliver.
fn apart(scene: &Scene) {
    let texts: Vec<(&Item, report::Area)> =
        scene.items.iter().filter_map(|i| i.text_area().map(|a| (i, a))).collect();
    for (i, (one, a)) in texts.iter().enumerate() {
        let a = report::Area { x: a.x + 0.5, y: a.y + a.h * 0.15, w: (a.w - 1.0).max(0.0), h: a.h * 0.7 };
        for (other, b) in &texts[i + 1..] {
            let b = report::Area { y: b.y + b.h * 0.15, h: b.h * 0.7, ..*b };
            assert!(!a.overlaps(b), "{one:?} and {other:?}");
        }
    }
}

fn all_specimens(style: &Style) -> Vec<(String, Scene)> {
    let crag = sample::crag(24, 8);
    let mut dice = sample::Dice::new(3);
    let mut out = Vec::new();
    for call in [Call::Sound, Call::Watch, Call::Tend, Call::Renew, Call::Shun] {
        let judgement = sample::judgement(call, &mut dice);
        let view = MarginView {
            place: "Slow Lichen, bolt 3",
            fitting: "wedge bolt",
            date: date(),
            judgement: &judgement,
        };
        out.push((format!("margin {call:?}"), report::margin(&view, style)));
    }
    let long = "A Very Long Winter's Walk Along the Upper Ledge to Nowhere in Particular, second pitch, third bolt \
                after the overhang, the left one of two, counted from the tree that fell in the storm";
    let judgement = sample::judgement(Call::Tend, &mut dice);
    let view = MarginView { place: long, fitting: long, date: date(), judgement: &judgement };
    out.push(("margin, long names".to_owned(), report::margin(&view, style)));
    let counts = |label: &str, counts| CallCounts { label: label.to_owned(), counts };
    let groups = [
        crag.counts(),
        counts("Harl Quarry", [180, 40, 22, 31, 1]),
        counts(
            "A crag with a name that is far too long to stand beside a bar in full length",
            [1, 1, 1, 1, 1],
        ),
        counts("Otter Gorge", [60_000, 1, 9, 0, 12]),
    ];
    out.push(("calls".to_owned(), report::calls_by_group(&groups, "by crag", style)));
    let many: Vec<CallCounts> = (0..60).map(|i| counts(&format!("crag {i}"), [i, 3, 2, 1, i % 2])).collect();
    out.push(("many crags".to_owned(), report::calls_by_group(&many, "by crag", style)));
    out.push(("decades".to_owned(), report::calls_by_decade(&crag.by_decade(), style)));
    let years = |label: &str| YearsGroup {
        label: label.to_owned(),
        years: crag.placements().map(|(_, p)| p.judgement.years_left).collect(),
    };
    out.push(("years".to_owned(), report::years_left(&[years("Tern Head"), years("Harl Quarry")], style)));
    let many: Vec<YearsGroup> = (0..40).map(|i| years(&format!("crag number {i}"))).collect();
    out.push(("years of many".to_owned(), report::years_left(&many, style)));
    let judgement = sample::judgement(Call::Watch, &mut dice);
    let series = sample::ageing_series();
    let view = AgeingView {
        place: "Slow Lichen, bolt 3",
        fitting: "wedge bolt",
        now: 2026.9,
        series: &series,
        demand: &judgement.demand,
    };
    out.push(("ageing".to_owned(), report::ageing(&view, style)));
    out.push(("plan".to_owned(), report::plan(crag.plan.as_ref().expect("a plan"), style)));
    out.push(("sketch".to_owned(), report::sketch(&Sketch { crag: "Tern Head", routes: &spots(24) }, style)));
    out.push((
        "full sketch".to_owned(),
        report::sketch(&Sketch { crag: "Tern Head", routes: &spots(400) }, style),
    ));
    out
}

fn spots(n: usize) -> Vec<SketchRoute> {
    sample::crag(n, 2)
        .routes
        .iter()
        .enumerate()
        .map(|(i, r)| SketchRoute {
            number: i + 1,
            name: r.name.clone(),
            call: r.worst_call(),
            point: r.position(),
        })
        .collect()
}

#[test]
fn specimens_are_readable_in_every_style() {
    for style in styles() {
        for (_, scene) in all_specimens(&style) {
            well_formed(&scene.to_svg());
            inside(&scene);
            apart(&scene);
            assert!(!scene.title.is_empty() && !scene.description.is_empty());
        }
    }
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let [a, b] = [(); 2]
        .map(|()| -> String { all_specimens(&Style::wall()).iter().map(|(_, s)| s.to_svg()).collect() });
    assert_eq!(a, b);
}

#[test]
fn no_chart_promises_safety() {
    for (name, scene) in all_specimens(&Style::wall()) {
        let svg = scene.to_svg().to_lowercase();
        assert!(!svg.contains("safe"), "{name}");
        if name != "sketch" && name != "full sketch" {
            assert!(svg.contains("estimate"), "{name}");
        }
    }
}

#[test]
fn small_charts_as_svg() {
    let style = Style::page(420.0, 200.0);
    let counts = [
        CallCounts { label: "Tern Head".to_owned(), counts: [12, 5, 3, 4, 1] },
        CallCounts { label: "Rock & <Roll>".to_owned(), counts: [2, 0, 0, 1, 0] },
    ];
    insta::assert_snapshot!("calls_by_crag", report::calls_by_group(&counts, "by crag", &style).to_svg());
    let year = |best, low, high| YearsLeft { best, low, high, horizon: 50.0 };
    let group = YearsGroup {
        label: "Tern Head".to_owned(),
        years: vec![
            year(Some(0.0), Some(0.0), Some(2.0)),
            year(Some(12.0), Some(7.0), None),
            year(None, Some(40.0), None),
        ],
    };
    insta::assert_snapshot!("years_left", report::years_left(&[group], &style).to_svg());
    insta::assert_snapshot!("no_placements", report::years_left(&[], &style).to_svg());
}

#[test]
fn symbols_differ_in_shape_and_every_call_has_its_word() {
    let counts = [CallCounts { label: "x".to_owned(), counts: [1; 5] }];
    let svg = report::calls_by_group(&counts, "", &Style::wall()).to_svg();
    for call in [Call::Sound, Call::Watch, Call::Tend, Call::Renew, Call::Shun] {
        assert!(svg.contains(call.name()));
    }
}

#[test]
fn hidden_things_are_counted() {
    let style = Style::wall();
    let mut routes = spots(12);
    routes[3].point = None;
    routes[5].point = Some(GeoPoint { latitude: f64::NAN, longitude: 0.0 });
    routes[6].point = Some(GeoPoint { latitude: -12.0, longitude: 88.0 });
    let missing = routes.iter().filter(|r| r.point.is_none_or(|p| !p.is_valid())).count();
    let svg = report::sketch(&Sketch { crag: "x", routes: &routes }, &style).to_svg();
    assert!(svg.contains(&format!("{missing} routes without coordinates not drawn.")), "{svg}");
    assert!(svg.contains("1 route far from all others not drawn"), "{svg}");
    let none = [SketchRoute { number: 1, name: "a".to_owned(), call: None, point: None }];
    let svg = report::sketch(&Sketch { crag: "x", routes: &none }, &style).to_svg();
    assert!(svg.contains("no sketch can be drawn"));
}

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        8 => -5.0..80.0f64,
        1 => Just(0.0),
        1 => Just(1e-300),
        1 => Just(1e300),
        1 => Just(-1e12),
        1 => Just(f64::INFINITY),
        1 => Just(f64::NAN),
    ]
}

fn band() -> impl Strategy<Value = Band> {
    [number(), number(), number()].prop_map(|[a, b, c]| Band {
        p05: Force::kn(a),
        p50: Force::kn(b),
        p95: Force::kn(c),
    })
}

fn any_judgement() -> impl Strategy<Value = Judgement> {
    (band(), band(), band(), band(), [number(), number(), number(), number(), number()], 0..5usize).prop_map(
        |(a, b, c, d, n, call)| {
            let call = [Call::Sound, Call::Watch, Call::Tend, Call::Renew, Call::Shun][call];
            let mut j = sample::judgement(call, &mut sample::Dice::new(1));
            j.resistance = a;
            j.demand.per_fall = b;
            j.demand.worst_year = c;
            j.modes[0].band = d;
            j.modes[1].governs = n[0];
            j.characteristic = Force::kn(n[1]);
            j.demand.hard_fall = Force::kn(n[2]);
            j.holds_hard_fall = Chance { best: n[3], low: n[4], high: n[0] };
            j
        },
    )
}

fn any_style() -> impl Strategy<Value = Style> {
    (0..2usize, 0..2usize, number(), number(), number()).prop_map(|(theme, units, w, h, t)| Style {
        theme: [Theme::Light, Theme::Dark][theme],
        units: [UnitSystem::Metric, UnitSystem::Us][units],
        width: w * 30.0,
        height: h * 20.0,
        text: t,
        title: t * 1.5,
        margin: t,
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn margin_is_well_formed_for_any_numbers(j in any_judgement(), style in any_style(), place in "\\PC{0,60}") {
        let view = MarginView { place: &place, fitting: &place, date: date(), judgement: &j };
        well_formed(&report::margin(&view, &style).to_svg());
    }

    #[test]
    fn ageing_is_well_formed_for_any_numbers(
        points in prop::collection::vec((number(), band()), 0..12),
        j in any_judgement(),
        now in number(),
        style in any_style(),
    ) {
        let series: Vec<AgeingPoint> =
            points.into_iter().map(|(year, resistance)| AgeingPoint { year, resistance }).collect();
        let view = AgeingView { place: "p", fitting: "f", now, series: &series, demand: &j.demand };
        well_formed(&report::ageing(&view, &style).to_svg());
    }

    #[test]
    fn years_are_well_formed_for_any_numbers(
        years in prop::collection::vec((prop::option::of(number()), prop::option::of(number()), number()), 0..40),
        style in any_style(),
    ) {
        let years: Vec<YearsLeft> = years
            .into_iter()
            .map(|(best, low, horizon)| YearsLeft { best, low, high: best, horizon })
            .collect();
        let groups = [
            YearsGroup { label: "a".to_owned(), years: years.clone() },
            YearsGroup { label: "b".to_owned(), years },
        ];
        well_formed(&report::years_left(&groups, &style).to_svg());
    }

    #[test]
    fn calls_are_well_formed_for_any_counts(
        groups in prop::collection::vec(("\\PC{0,80}", prop::array::uniform5(prop_oneof![0..50u32, Just(u32::MAX)])), 0..30),
        style in any_style(),
    ) {
        let groups: Vec<CallCounts> =
            groups.into_iter().map(|(label, counts)| CallCounts { label, counts }).collect();
        well_formed(&report::calls_by_group(&groups, "by crag", &style).to_svg());
        well_formed(&report::calls_by_decade(&groups, &style).to_svg());
    }

    #[test]
    fn plans_are_well_formed_for_any_numbers(
        routes in prop::collection::vec(("\\PC{0,60}", 0..9usize, number(), number()), 0..50),
        n in [number(), number(), number(), number(), number()],
        style in any_style(),
    ) {
        let routes: Vec<RouteGain> =
            routes.into_iter().map(|(route, works, gain, hours)| RouteGain { route, works, gain, hours, carry: Vec::new() }).collect();
        let view = PlanView {
            currency: "EUR".to_owned(),
            limits: campaign::Limits { money: n[0], hours: n[1] },
            money: n[2],
            hours: n[3],
            gain: n[4],
            gap: n[0],
            possible: n[1],
            rows: Vec::new(),
            routes,
            buy: Vec::new(),
        };
        well_formed(&report::plan(&view, &style).to_svg());
    }

    #[test]
    fn sketches_are_well_formed_for_any_places(
        places in prop::collection::vec((number(), number(), "\\PC{0,60}"), 0..40),
        style in any_style(),
    ) {
        let routes: Vec<SketchRoute> = places
            .into_iter()
            .enumerate()
            .map(|(i, (latitude, longitude, name))| SketchRoute {
                number: i,
                name,
                call: Some(Call::Renew),
                point: Some(GeoPoint { latitude, longitude }),
            })
            .collect();
        well_formed(&report::sketch(&Sketch { crag: "x", routes: &routes }, &style).to_svg());
    }
}
