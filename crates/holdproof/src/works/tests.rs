use super::*;

fn candidate(placement: &str, call: Call, fails: f64) -> Candidate {
    Candidate {
        placement: placement.into(),
        route: placement.rsplit_once('/').map_or("route", |(route, _)| route).into(),
        call,
        fails,
        role: Some(Role::Runner),
        number: Some(5),
        setting: Some(Setting::Inland),
        rock: Some(RockType::Granite),
        bad_rock: false,
        must: false,
    }
}

fn defaults() -> Defaults {
    Defaults::from_toml(Defaults::BUILT_IN).unwrap()
}

const LIMITS: Limits = Limits { money: 1000.0, hours: 100.0 };

fn offered<'d>(candidates: &[Candidate], stock: &[StockItem], defaults: &'d Defaults) -> Offer<'d> {
    offer(candidates, &HashMap::new(), stock, LIMITS, defaults)
}

#[test]
fn only_calls_for_work_become_works() {
    let defaults = defaults();
    let candidates = [
        candidate("a/1", Call::Sound, 0.001),
        candidate("a/2", Call::Watch, 0.01),
        candidate("a/3", Call::Tend, 0.02),
        candidate("a/4", Call::Renew, 0.05),
        candidate("b/1", Call::Shun, 0.5),
    ];
    let offer = offered(&candidates, &[], &defaults);
    let names: Vec<_> = offer.problem.works.iter().map(|work| work.placement.as_str()).collect();
    assert_eq!(names, ["a/4", "a/3", "b/1"]);
    assert_eq!(offer.todo[1], Todo::Tend);
    let mut must = candidates;
    must[1].must = true;
    assert_eq!(offered(&must, &[], &defaults).problem.works.len(), 4);
}

#[test]
fn gain_is_the_difference_of_failures_over_the_horizon() {
    let defaults = defaults();
    let offer = offered(&[candidate("a/1", Call::Renew, 0.05)], &[], &defaults);
    // by hand: 0.05; a new fitting 1e-5 a year for ten years
    assert!((offer.problem.works[0].gain - (0.05 - 0.000_1)).abs() < 1e-9);
    let offer = offered(&[candidate("a/1", Call::Tend, 0.05)], &[], &defaults);
    // tending takes away 0.3 of it
    assert!((offer.problem.works[0].gain - 0.015).abs() < 1e-9);
}

#[test]
fn consequence_weighs_the_gain() {
    let defaults = defaults();
    let gain = |role, number| {
        let one = Candidate { role, number, ..candidate("a/1", Call::Renew, 0.05) };
        offered(&[one], &[], &defaults).problem.works[0].gain
    };
    let runner = gain(Some(Role::Runner), Some(5));
    assert!((gain(Some(Role::Runner), Some(1)) / runner - 1.5).abs() < 1e-9);
    assert!((gain(Some(Role::LowerOff), Some(9)) / runner - 2.0).abs() < 1e-9);
    assert!((gain(None, None) / runner - 1.0).abs() < 1e-9);
}

#[test]
fn kits_follow_setting_rock_and_role() {
    let defaults = defaults();
    let kit = |setting, rock, role| {
        let one = Candidate { setting, rock, role, ..candidate("a/1", Call::Renew, 0.05) };
        defaults.kit_for(&one).unwrap().name.clone()
    };
    let runner = Some(Role::Runner);
    assert_eq!(kit(Some(Setting::SeaCliff), Some(RockType::Limestone), runner), "titanium glue-in");
    assert_eq!(kit(Some(Setting::Inland), Some(RockType::Sandstone), runner), "long stainless glue-in");
    assert_eq!(kit(Some(Setting::Inland), Some(RockType::Granite), runner), "stainless wedge bolt");
    assert_eq!(kit(None, None, None), "stainless wedge bolt");
    let top = Some(Role::LowerOff);
    assert_eq!(kit(Some(Setting::Inland), None, top), "stainless wedge bolt with lower-off");
}

#[test]
fn stock_is_matched_by_name_and_prices_are_owned_up_to() {
    let defaults = defaults();
    let stock = [
        StockItem {
            name: "Wedge Bolt  M12x100 stainless-316 with hanger".into(),
            in_hand: 7,
            price: Some(3.0),
        },
        StockItem { name: "Drill bit 12 mm".into(), in_hand: 1, price: None },
    ];
    let offer = offered(&[candidate("a/1", Call::Renew, 0.05)], &stock, &defaults);
    assert_eq!(offer.problem.stock.len(), 2, "no item twice");
    assert_eq!(offer.problem.stock[0].price, Some(3.0));
    assert_eq!(offer.problem.stock[1].price, Some(15.0));
    assert_eq!(offer.assumed_prices, ["Drill bit 12 mm"]);
    assert!(offer.without_price.is_empty());
}

#[test]
fn a_file_with_nonsense_is_refused_by_name() {
    let text = Defaults::BUILT_IN.replace("horizon_years = 10.0", "horizon_years = -1.0");
    assert!(Defaults::from_toml(&text).unwrap_err().to_string().contains("gain.horizon_years is -1"));
    let text = Defaults::BUILT_IN.replace("pieces = 0.5", "pieces = nan");
    assert!(Defaults::from_toml(&text).unwrap_err().to_string().contains("pieces of lower-off set"));
    assert!(Defaults::from_toml("currency = 3").is_err());
}

#[test]
fn chances_that_are_no_numbers_give_no_gain() {
    let defaults = defaults();
    let offer = offered(&[candidate("a/1", Call::Renew, f64::NAN)], &[], &defaults);
    assert_eq!(offer.problem.works[0].gain, 0.0);
}

#[test]
fn placements_without_a_kit_are_named() {
    let text = Defaults::BUILT_IN.replace(
        "name = \"stainless wedge bolt\"\n",
        "name = \"stainless wedge bolt\"\nrocks = [\"basalt\"]\n",
    );
    let defaults = Defaults::from_toml(&text).unwrap();
    let offer = offered(&[candidate("a/1", Call::Renew, 0.05)], &[], &defaults);
    assert!(offer.problem.works.is_empty());
    assert_eq!(offer.without_kit, ["a/1"]);
}

#[test]
fn bad_rock_is_not_drilled_again() {
    let defaults = defaults();
    let mut hollow = candidate("a/1", Call::Shun, 0.5);
    hollow.bad_rock = true;
    let offer = offered(&[hollow], &[], &defaults);
    assert!(matches!(offer.todo[0], Todo::Move(_)));
    assert!(offer.todo[0].words().contains("good rock nearby, or take out of use"));
}
