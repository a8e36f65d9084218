//! Cost of preparing a history and of reading it.

use decay::{Environment, Setting, Shelter, prepare};
use hardware::Material;
use reckoning::Silent;
use std::hint::black_box;
use units::{Length, Temperature};

fn main() {
    divan::main();
}

fn environment() -> Environment {
    Environment {
        setting: Some(Setting::Coast),
        temperature: Some(Temperature::celsius(14.0)),
        shelter: Some(Shelter::Sheltered),
        ..Environment::default()
    }
}

const MATERIALS: [Option<Material>; 4] =
    [None, Some(Material::BareCarbonSteel), Some(Material::PlatedCarbonSteel), Some(Material::Stainless316)];

#[divan::bench(args = MATERIALS)]
fn prepare_history(bencher: divan::Bencher, material: Option<Material>) {
    let env = environment();
    bencher.bench(|| prepare(black_box(material), None, black_box(&env), Length::mm(8.6), None, &mut Silent));
}

#[divan::bench]
fn prepare_with_measured_loss(bencher: divan::Bencher) {
    let env = environment();
    let measured = Some((Length::mm(0.4), 18.0));
    bencher.bench(|| {
        prepare(
            Some(Material::PlatedCarbonSteel),
            None,
            black_box(&env),
            Length::mm(8.6),
            measured,
            &mut Silent,
        )
    });
}

#[divan::bench(args = MATERIALS)]
fn at(bencher: divan::Bencher, material: Option<Material>) {
    let d = prepare(material, None, &environment(), Length::mm(8.6), None, &mut Silent);
    bencher.bench(|| black_box(&d).at(black_box(23.0)));
}

#[divan::bench(args = MATERIALS)]
fn at_shifted(bencher: divan::Bencher, material: Option<Material>) {
    let d = prepare(material, None, &environment(), Length::mm(8.6), None, &mut Silent);
    bencher.bench(|| black_box(&d).at_shifted(black_box(23.0), black_box(1.28)));
}
