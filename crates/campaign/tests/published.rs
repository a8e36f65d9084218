//! Instances with known answers.

use campaign::{
    CampaignError, Limits, Options, Problem, Proof, Resource, Route, StockItem, Use, Work, by_route,
    shopping_list, solve, split_into_days,
};

const EXACT: Options = Options { gap: 0.0, node_limit: 100_000 };

fn work(name: &str, route: usize, gain: f64, hours: f64, cost: f64) -> Work {
    Work { placement: name.into(), route, gain, hours, cost, uses: Vec::new(), must: false }
}

fn route(name: &str, visit_hours: f64) -> Route {
    Route { name: name.into(), visit_hours, visit_cost: 0.0 }
}

/// Seven works on three routes, small enough to check by hand: all 128 subsets were listed, and a
/// general solver (HiGHS) agrees.
fn seven_works(must: &[&str]) -> Problem {
    let mut works = vec![
        work("1", 0, 9.0, 1.0, 8.0),
        work("2", 0, 6.0, 1.0, 8.0),
        work("3", 1, 14.0, 1.0, 12.0),
        work("4", 1, 10.0, 1.0, 8.0),
        work("5", 1, 3.0, 1.0, 8.0),
        work("6", 2, 5.0, 0.5, 8.0),
        work("7", 2, 4.0, 1.0, 12.0),
    ];
    for work in &mut works {
        work.must = must.contains(&work.placement.as_str());
    }
    Problem {
        works,
        routes: vec![route("A", 1.0), route("B", 2.0), route("C", 0.5)],
        stock: Vec::new(),
        limits: Limits { money: 36.0, hours: 5.0 },
    }
}

fn names(problem: &Problem, plan: &campaign::Plan) -> Vec<String> {
    let mut names: Vec<_> = plan.chosen.iter().map(|c| problem.works[c.work].placement.clone()).collect();
    names.sort();
    names
}

#[test]
fn seven_works_by_hand() {
    for (must, gain, chosen, money) in [
        (&[][..], 29.0, &["3", "4", "6"][..], 28.0),
        (&["6"][..], 29.0, &["3", "4", "6"][..], 28.0),
        (&["6", "7"][..], 24.0, &["1", "2", "6", "7"][..], 36.0),
    ] {
        let problem = seven_works(must);
        let plan = solve(&problem, &EXACT).unwrap();
        assert_eq!(plan.gain, gain, "must {must:?}");
        assert_eq!(names(&problem, &plan), chosen, "must {must:?}");
        assert_eq!(plan.money, money);
        assert_eq!(plan.hours, 5.0);
        assert_eq!((plan.gap, plan.proof), (0.0, Proof::Optimal));
        assert_eq!(plan.bound, plan.gain);
    }
}

#[test]
fn musts_that_do_not_fit_say_which_limit_and_by_how_much() {
    let error = solve(&seven_works(&["5", "7", "1"]), &EXACT).unwrap_err();
    let CampaignError::MustNotFit(shortfalls) = &error else { panic!("{error}") };
    assert_eq!(shortfalls.len(), 1, "money 28 of 36 is enough");
    assert_eq!(shortfalls[0].resource, Resource::Hours);
    assert_eq!((shortfalls[0].needed, shortfalls[0].over_by()), (6.5, 1.5));
    assert_eq!(
        error.to_string(),
        "the works that must be done do not fit: 6.5 person-hours needed, 5 available, 1.5 too few"
    );
}

#[test]
fn routes_come_by_gain_per_hour_and_musts_first() {
    let problem = seven_works(&[]);
    let plan = solve(&problem, &EXACT).unwrap();
    // B: 24 in 4 h = 6 per hour; C: 5 in 1 h = 5 per hour
    let order: Vec<_> = by_route(&problem, &plan).iter().map(|share| share.route).collect();
    assert_eq!(order, [1, 2]);
    let problem = seven_works(&["6"]);
    let plan = solve(&problem, &EXACT).unwrap();
    let order: Vec<_> = by_route(&problem, &plan).iter().map(|share| share.route).collect();
    assert_eq!(order, [2, 1]);
}

#[test]
fn days_stay_in_one_area_and_own_up_to_second_visits() {
    let problem = seven_works(&[]);
    let plan = solve(&problem, &EXACT).unwrap();
    let one_area = |_: &Route| 0;
    let hours = |days: &[campaign::Day]| days.iter().map(|day| day.hours).collect::<Vec<_>>();
    // B (4 h) does not fit into 3 h: one bolt on day 1, visit again on day 2; C (1 h) fits into neither
    let days = split_into_days(&problem, &plan, 3.0, one_area);
    assert_eq!(hours(&days), [3.0, 3.0, 1.0]);
    assert_eq!(days[1].stops[0].route, 1);
    assert!(days[1].stops[0].again && !days[0].stops[0].again);
    // in 4.5 h C does not fit after B, in 5 h it does, unless it lies elsewhere
    assert_eq!(hours(&split_into_days(&problem, &plan, 4.5, one_area)), [4.0, 1.0]);
    assert_eq!(hours(&split_into_days(&problem, &plan, 5.0, one_area)), [5.0]);
    assert_eq!(hours(&split_into_days(&problem, &plan, 5.0, |route| route.name.clone())), [4.0, 1.0]);
    for without_limit in [f64::INFINITY, f64::NAN, 0.0] {
        assert_eq!(hours(&split_into_days(&problem, &plan, without_limit, one_area)), [5.0]);
    }
}

/// Name, capacity, weights, profits, best profit.
type KnapsackSet = (&'static str, f64, &'static [f64], &'static [f64], f64);

/// Zero-one knapsacks P01, P02, P03, P06, P07 of the KNAPSACK_01 test directory (capacities as printed
/// there; items from memory; optima confirmed by dynamic programming and by HiGHS).
#[test]
fn knapsacks() {
    let sets: [KnapsackSet; 5] = [
        (
            "P01",
            165.0,
            &[23., 31., 29., 44., 53., 38., 63., 85., 89., 82.],
            &[92., 57., 49., 68., 60., 43., 67., 84., 87., 72.],
            309.0,
        ),
        ("P02", 26.0, &[12., 7., 11., 8., 9.], &[24., 13., 23., 15., 16.], 51.0),
        ("P03", 190.0, &[56., 59., 80., 64., 75., 17.], &[50., 50., 64., 46., 50., 5.], 150.0),
        (
            "P06",
            170.0,
            &[41., 50., 49., 59., 55., 57., 60.],
            &[442., 525., 511., 593., 546., 564., 617.],
            1735.0,
        ),
        (
            "P07",
            750.0,
            &[70., 73., 77., 80., 82., 87., 90., 94., 98., 106., 110., 113., 115., 118., 120.],
            &[135., 139., 149., 150., 156., 163., 173., 184., 192., 201., 210., 214., 221., 229., 240.],
            1458.0,
        ),
    ];
    for (name, capacity, weights, profits, optimum) in sets {
        // as money, as hours, and as pieces of a stock item that cannot be bought
        for resource in 0..3 {
            let works = weights
                .iter()
                .zip(profits)
                .enumerate()
                .map(|(i, (&weight, &profit))| {
                    let mut work = work(&i.to_string(), 0, profit, 0.0, 0.0);
                    match resource {
                        0 => work.cost = weight,
                        1 => work.hours = weight,
                        _ => work.uses.push(Use { item: 0, quantity: weight }),
                    }
                    work
                })
                .collect();
            let problem = Problem {
                works,
                routes: vec![route("wall", 0.0)],
                stock: vec![StockItem { name: "bolt".into(), in_hand: capacity as u32, price: None }],
                limits: Limits { money: capacity, hours: capacity },
            };
            let plan = solve(&problem, &EXACT).unwrap();
            assert_eq!(plan.gain, optimum, "{name}, resource {resource}");
            assert_eq!(plan.gap, 0.0, "{name}, resource {resource}");
        }
    }
}

#[test]
fn stock_in_hand_goes_first_and_purchases_are_whole() {
    let mut works: Vec<_> = (0..5).map(|i| work(&i.to_string(), 0, 1.0, 0.5, 0.0)).collect();
    for work in &mut works {
        work.uses = vec![Use { item: 0, quantity: 1.0 }, Use { item: 1, quantity: 0.3 }];
    }
    let problem = Problem {
        works,
        routes: vec![route("wall", 1.0)],
        stock: vec![
            StockItem { name: "glue-in".into(), in_hand: 2, price: Some(7.0) },
            StockItem { name: "resin".into(), in_hand: 1, price: Some(12.0) },
        ],
        limits: Limits { money: 33.0, hours: 10.0 },
    };
    let plan = solve(&problem, &EXACT).unwrap();
    // five: 3 x 7 + 1 x 12 = 33, just enough: 1.5 cartridges are two whole ones
    assert_eq!((plan.gain, plan.money, plan.hours), (5.0, 33.0, 3.5));
    assert_eq!((plan.used.as_slice(), plan.buy.as_slice()), (&[5, 2][..], &[3, 1][..]));
    let list = shopping_list(&problem, &plan);
    assert_eq!((list[0].from_hand, list[0].buy, list[0].cost), (2, 3, 21.0));
    assert_eq!((list[1].from_hand, list[1].buy, list[1].cost), (1, 1, 12.0));
    let mut poorer = problem.clone();
    poorer.limits.money = 32.9;
    let plan = solve(&poorer, &EXACT).unwrap();
    // four need 2 x 7 + 12 = 26
    assert_eq!((plan.gain, plan.money), (4.0, 26.0));
}

#[test]
fn nothing_to_do_is_a_plan() {
    let empty =
        Problem { works: vec![], routes: vec![], stock: vec![], limits: Limits { money: 0.0, hours: 0.0 } };
    let plan = solve(&empty, &Options::default()).unwrap();
    assert_eq!((plan.gain, plan.gap, plan.chosen.len()), (0.0, 0.0, 0));
    assert!(plan.gain.is_sign_positive() && plan.money.is_sign_positive() && plan.hours.is_sign_positive());
    let mut without_gain = seven_works(&[]);
    for work in &mut without_gain.works {
        work.gain = 0.0;
    }
    assert!(solve(&without_gain, &EXACT).unwrap().chosen.is_empty(), "works without gain are not bought");
}

type Spoil = fn(&mut Problem);

#[test]
fn bad_numbers_and_indices_are_refused_by_name() {
    let spoil: [(&str, Spoil); 5] = [
        ("gain of the work on 1", |p| p.works[0].gain = f64::NAN),
        ("time of the work on 2", |p| p.works[1].hours = -1.0),
        ("money limit", |p| p.limits.money = f64::INFINITY),
        ("visit time of route B", |p| p.routes[1].visit_hours = -0.5),
        ("route number 9", |p| p.works[3].route = 9),
    ];
    for (expected, spoil) in spoil {
        let mut problem = seven_works(&[]);
        spoil(&mut problem);
        let error = solve(&problem, &EXACT).unwrap_err().to_string();
        assert!(error.contains(expected), "{error}");
    }
}
