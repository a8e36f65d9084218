//! Histories of steel against worked examples, limits and order.
#![allow(clippy::unwrap_used)]

use decay::iso9223::{Category, Metal};
use decay::iso9224::{loss, years_to_lose};
use decay::section::{area_left, diameter_left};
use decay::{Decay, Environment, Setting, Shelter, first_year_rates, prepare, prepare_plate};
use hardware::Material;
use proptest::prelude::*;
use reckoning::{Account, Silent, normal};
use units::{Length, Ratio, Temperature};

fn env(setting: Setting, shelter: Shelter) -> Environment {
    Environment {
        setting: Some(setting),
        shelter: Some(shelter),
        temperature: Some(Temperature::celsius(12.0)),
        relative_humidity_percent: Some(78.0),
        ..Environment::default()
    }
}

fn history(material: impl Into<Option<Material>>, env: &Environment) -> Decay {
    prepare(material.into(), None, env, Length::mm(8.593), None, &mut Silent)
}

/// Air with given first-year losses is found by its deposits; here the fully measured row 10 C, 80 %,
/// 10, 10 of the reference: 37.9189 um of steel, 1.6971 um of zinc.
fn measured_air(shelter: Shelter) -> Environment {
    Environment {
        setting: Some(Setting::Inland),
        shelter: Some(shelter),
        temperature: Some(Temperature::celsius(10.0)),
        relative_humidity_percent: Some(80.0),
        sulphur_mg_m2_d: Some(10.0),
        chloride_mg_m2_d: Some(10.0),
    }
}

#[test]
fn plated_bolt_worked_by_hand() {
    // washed: m = 2. Zinc 5 um at 2 * 1.6971 um: (5 / 3.3942)^(1/0.813) = 1.6104 a.
    // Steel after 20 a: 37.9189 * 18.3896^0.523 = 173.869 um; 2 m D / d0 = 0.080935 of 8.593 mm.
    let d = history(Material::PlatedCarbonSteel, &measured_air(Shelter::Washed));
    assert!((d.coating_years().unwrap() - 1.6104).abs() < 1e-3, "{:?}", d.coating_years());
    let at = d.at(20.0);
    let lost = 37.9189e-3 * (20.0f64 - 1.6104).powf(0.523);
    let want = (1.0 - 4.0 * lost / 8.593).powi(2);
    assert!((at.area_left.median.get() - want).abs() < 1e-4, "{at:?} {want}");
    assert_eq!(at.cracked, 0.0);
}

#[test]
fn repeated_loads_on_wasting_steel() {
    // reference, sec. 6.1: d0 10 mm, r 50 um, b 0.523, m 2: phi after 10, 20, 30, 50 years, and the
    // chance of failure under ten loads a year, R 25 kN (V 0.15), S 9 kN (V 0.25), log-normal
    let d0 = Length::mm(10.0);
    let phi =
        |t: f64| area_left(diameter_left(d0, loss(Length::um(50.0), 0.523, t), Ratio::of(2.0)), d0).get();
    for (t, want) in [(10.0, 0.871_076), (20.0, 0.817_536), (30.0, 0.772_851), (50.0, 0.687_248)] {
        assert!((phi(t) - want).abs() < 1e-6, "{t}: {}", phi(t));
    }
    let (lr, zr, ls, zs) = (3.207_751, 0.149_166, 2.166_912, 0.246_221);
    let failure = |years: f64| {
        let (n, step) = (400, 0.02);
        (-350..350)
            .map(|j| {
                let z = (f64::from(j) + 0.5) * step;
                let r = lr + zr * z;
                let exceed: f64 = (0..n)
                    .map(|i| {
                        let t = (f64::from(i) + 0.5) / f64::from(n) * years;
                        normal::cdf(-(r + phi(t).ln() - ls) / zs)
                    })
                    .sum::<f64>()
                    / f64::from(n);
                normal::pdf(z) * step * (1.0 - (-10.0 * years * exceed).exp())
            })
            .sum::<f64>()
    };
    for (years, want) in [(1.0, 0.002_097_7), (20.0, 0.108_891), (50.0, 0.435_791)] {
        let got = failure(years);
        assert!((got / want - 1.0).abs() < 1e-3, "{years}: {got}");
    }
}

#[test]
fn coated_worked_example() {
    // reference, sec. 1.5: 12 mm, 5 um zinc at 4.2, steel at 80 um: bare after 1.2392 a, 471.10 um at 30 a
    let t_c = years_to_lose(Length::um(5.0), Length::um(4.2), 0.813);
    assert!((t_c - 1.2392).abs() < 1e-4);
    let d = loss(Length::um(80.0), 0.523, 30.0 - t_c);
    assert!((d.as_um() - 471.10).abs() < 0.02, "{d:?}");
}

#[test]
fn settings_fall_into_their_categories() {
    // reference, sec. 1.1: inland C2-C3, coast with salt C5, spray C5-CX (typical settings)
    let category = |s| first_year_rates(&env(s, Shelter::Washed), &mut Silent).category(Metal::Steel);
    assert!((Category::C2..=Category::C3).contains(&category(Setting::Inland)));
    assert!((Category::C3..=Category::C4).contains(&category(Setting::NearCoast)));
    assert!((Category::C3..=Category::C5).contains(&category(Setting::Coast)));
    assert!((Category::C5..=Category::CX).contains(&category(Setting::SeaCliff)));
}

#[test]
fn unknown_inputs_widen() {
    let known = measured_air(Shelter::Washed);
    let sd = |e: &Environment| first_year_rates(e, &mut Silent).steel.sd_ln;
    for e in [
        Environment { temperature: None, ..known },
        Environment { relative_humidity_percent: None, ..known },
        Environment { chloride_mg_m2_d: None, ..known },
        Environment { sulphur_mg_m2_d: None, ..known },
    ] {
        assert!(sd(&e) > sd(&known), "{e:?}");
    }
    let nothing = Environment::default();
    assert!(sd(&nothing) > sd(&env(Setting::Coast, Shelter::Washed)));
    let area = |m: Option<Material>, e: &Environment| history(m, e).at(25.0).area_left.sd_ln;
    let plated = Some(Material::PlatedCarbonSteel);
    let shelter_unknown = Environment { shelter: None, ..known };
    assert!(area(plated, &shelter_unknown) > area(plated, &known));
    let sea = env(Setting::SeaCliff, Shelter::Sheltered);
    let unknown = history(None, &sea).at(25.0);
    assert!(unknown.area_left.sd_ln > 0.2 && unknown.cracked > 0.0, "{unknown:?}");
}

#[test]
fn stainless_keeps_its_section_but_may_crack() {
    let sea = env(Setting::SeaCliff, Shelter::Sheltered);
    let d = history(Material::Stainless304, &sea);
    let at = d.at(20.0);
    assert_eq!((at.area_left.median.get(), at.area_left.sd_ln), (1.0, 0.0));
    assert!(at.cracked > 0.05 && at.cracked < 0.6, "{at:?}");
    assert!(history(Material::Titanium, &sea).at(20.0).cracked < 0.01);
    let inland = env(Setting::Inland, Shelter::Washed);
    assert!(history(Material::Stainless304, &inland).at(20.0).cracked < 0.005);
    assert!(history(Material::PlatedCarbonSteel, &sea).cracking().is_none());
}

#[test]
fn five_per_cent_fractile_is_that_of_the_rate() {
    let d = history(Material::PlatedCarbonSteel, &env(Setting::Coast, Shelter::Washed));
    for t in [2.0, 10.0, 30.0] {
        let want = d.at_shifted(t, 1.644_853_6).area_left.median.get();
        assert!((d.at(t).area_left.fractile(0.05).get() / want - 1.0).abs() < 1e-5, "{t}");
        assert_eq!(d.at(t).area_left.median, d.at_shifted(t, 0.0).area_left.median);
    }
}

#[test]
fn nobler_hanger_eats_the_bolt() {
    let e = env(Setting::NearCoast, Shelter::Washed);
    let at = |hanger| {
        prepare(Some(Material::PlatedCarbonSteel), hanger, &e, Length::mm(8.6), None, &mut Silent)
            .at(20.0)
            .area_left
            .median
            .get()
    };
    assert!(at(Some(Material::Stainless316)) < at(None));
    assert_eq!(at(Some(Material::PlatedCarbonSteel)), at(None));
}

#[test]
fn a_plate_loses_thickness() {
    let e = measured_air(Shelter::Washed);
    let bare = Some(Material::BareCarbonSteel);
    let at = |bolt| {
        prepare_plate(bare, bolt, &e, Length::mm(4.0), None, &mut Silent).at(20.0).area_left.median.get()
    };
    // m = 2: 1 - 2 * 2 * 37.9189 um * 4.7911 / 4 mm = 0.81833
    assert!((at(bare) - 0.81833).abs() < 1e-4, "{}", at(bare));
    // a stainless bolt in a steel hanger: M = 1.06
    assert!((at(Some(Material::Stainless316)) - (1.0 - 0.18167 * 1.06)).abs() < 1e-4);
}

#[test]
fn a_measured_loss_moves_and_narrows() {
    let e = env(Setting::NearCoast, Shelter::Washed);
    let with = |loss_mm: Option<f64>| {
        let measured = loss_mm.map(|l| (Length::mm(l), 20.0));
        prepare(Some(Material::BareCarbonSteel), None, &e, Length::mm(10.0), measured, &mut Silent)
            .at(20.0)
            .area_left
    };
    let prior = with(None);
    let (little, much) = (with(Some(0.1)), with(Some(1.2)));
    assert!(little.median > prior.median && much.median < prior.median, "{little:?} {prior:?} {much:?}");
    assert!(much.sd_ln < 0.5);
    assert!(little.sd_ln < prior.sd_ln);
    // 1.2 mm seen (1.56 mm with what is hidden) of 10 mm: about (1 - 0.31)^2, drawn back towards the prior
    assert!((0.45..0.70).contains(&much.median.get()), "{much:?}");
    let none = with(Some(0.0));
    assert!(none.median > prior.median, "no loss seen on bare steel is good news");
}

#[test]
fn spent_where_the_law_ends() {
    let sea = env(Setting::SeaCliff, Shelter::Sheltered);
    let d = history(Material::BareCarbonSteel, &sea);
    assert!(!d.is_spent(0.0) && d.is_spent(60.0), "{}", d.depth_share(60.0));
    assert!(!history(Material::Stainless316, &sea).is_spent(60.0));
}

#[test]
fn the_account_is_complete() {
    for material in [None, Some(Material::PlatedCarbonSteel), Some(Material::Stainless316)] {
        let mut account = Account::default();
        let measured = Some((Length::mm(0.2), 15.0));
        let e = env(Setting::Coast, Shelter::Sheltered);
        prepare(material, Some(Material::Stainless304), &e, Length::mm(8.6), measured, &mut account);
        let least = if material == Some(Material::Stainless316) { 3 } else { 5 };
        assert!(account.steps.len() >= least, "{material:?}: {}", account.steps.len());
        assert!(account.steps.iter().all(|s| s.result.value.is_finite() && !s.source.is_empty()));
    }
}

fn materials() -> impl Strategy<Value = Option<Material>> {
    prop::option::of(prop::sample::select(vec![
        Material::BareCarbonSteel,
        Material::PlatedCarbonSteel,
        Material::HotDipCarbonSteel,
        Material::Stainless304,
        Material::Stainless316,
        Material::StainlessUnknown,
        Material::Duplex,
        Material::HighMolybdenum,
        Material::Titanium,
        Material::Aluminium,
    ]))
}

fn environments() -> impl Strategy<Value = Environment> {
    (
        prop::option::of(prop::sample::select(vec![
            Setting::Inland,
            Setting::Polluted,
            Setting::NearCoast,
            Setting::Coast,
            Setting::SeaCliff,
        ])),
        prop::option::of(prop::sample::select(vec![Shelter::Washed, Shelter::Sheltered, Shelter::Seeping])),
        prop::option::of(prop_oneof![any::<f64>(), -20.0..35.0f64]),
        prop::option::of(prop_oneof![any::<f64>(), 0.0..100.0f64]),
        prop::option::of(prop_oneof![any::<f64>(), 0.0..1000.0f64]),
    )
        .prop_map(|(setting, shelter, t, rh, salt)| Environment {
            setting,
            shelter,
            temperature: t.map(Temperature::celsius),
            relative_humidity_percent: rh,
            sulphur_mg_m2_d: None,
            chloride_mg_m2_d: salt,
        })
}

proptest! {
    #[test]
    fn steel_only_gets_worse(
        material in materials(), hanger in materials(), e in environments(), d in 4.0..20.0f64,
        measured in prop::option::of((0.0..3.0f64, 0.5..60.0f64)), t in 0.0..100.0f64, z in -2.5..2.5f64,
    ) {
        let measured = measured.map(|(l, a)| (Length::mm(l), a));
        let decay = prepare(material, hanger, &e, Length::mm(d), measured, &mut Silent);
        for (a, b) in [
            (decay.at(t), decay.at(t + 1.0)),
            (decay.at_shifted(t, z), decay.at_shifted(t + 1.0, z)),
            (decay.at_shifted(t, z), decay.at_shifted(t, z + 0.3)),
        ] {
            for s in [a, b] {
                let m = s.area_left.median.get();
                prop_assert!(m > 0.0 && m <= 1.0, "{s:?}");
                prop_assert!((0.0..=1.2).contains(&s.area_left.sd_ln), "{s:?}");
                prop_assert!((0.0..=1.0).contains(&s.cracked), "{s:?}");
            }
            prop_assert!(b.area_left.median.get() <= a.area_left.median.get() + 1e-12);
            prop_assert!(b.cracked >= a.cracked - 1e-12);
        }
        prop_assert_eq!(decay.at(0.0).area_left.median.get(), 1.0);
    }

    #[test]
    fn nonsense_does_not_break_it(
        material in materials(), e in environments(), d in any::<f64>(), l in any::<f64>(), a in any::<f64>(),
        t in any::<f64>(),
    ) {
        let decay = prepare(material, None, &e, Length::m(d), Some((Length::m(l), a)), &mut Silent);
        let s = decay.at(t);
        prop_assert!(s.area_left.median.get() > 0.0 && s.area_left.median.get() <= 1.0, "{s:?}");
        prop_assert!(s.area_left.sd_ln.is_finite() && (0.0..=1.0).contains(&s.cracked), "{s:?}");
    }

    #[test]
    fn thicker_bolts_last_longer(e in environments(), d in 5.0..15.0f64, t in 5.0..60.0f64) {
        let at = |d: f64| {
            prepare(Some(Material::BareCarbonSteel), None, &e, Length::mm(d), None, &mut Silent).at(t).area_left.median.get()
        };
        prop_assert!(at(d * 1.2) >= at(d));
    }
}
