//! Chance that a resistance exceeds a load, and how evidence changes it.

use crate::{Computation, Error, Inputs, computation};
use evidence::{Held, chance_to_fail, chance_to_fail_after_survivals, reweigh};
use reckoning::Uncertain;
use units::Force;

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("chance_to_fail", |i| {
            let (r, s) = (resistance(i)?, load(i)?);
            Ok(chance_to_fail(r, |x| 1.0 - s.cdf(x)))
        }),
        computation("chance_to_fail_gumbel_load", |i| {
            let (mode, scale) = (i.number("load_mode_kn")?, i.number("load_scale_kn")?);
            Ok(chance_to_fail(resistance(i)?, |x| -(-(-(x.as_kn() - mode) / scale).exp()).exp_m1()))
        }),
        computation("proof_chance_of_breaking", |i| Ok(held(i)?.chance_of_breaking())),
        computation("chance_to_fail_after_proof", |i| {
            let s = load(i)?;
            Ok(held(i)?.chance_to_fail(|x| 1.0 - s.cdf(x)))
        }),
        computation("chance_to_fail_after_survivals", |i| {
            let s = load(i)?;
            let survived = i.whole("survived")? as f64;
            Ok(chance_to_fail_after_survivals(resistance(i)?, |x| s.cdf(x), survived, true))
        }),
        computation("class_weight", |i| {
            let weights = reweighed(i)?;
            i.pick("class", &weights)
        }),
        computation("classes_after_sign_and_proof", |i| {
            let mut weights = reweighed(i)?;
            let proof = Force::kn(i.number("proof_kn")?);
            let s = load(i)?;
            let classes: Vec<Held> = i
                .numbers("class_mean_kn")?
                .into_iter()
                .zip(i.numbers("class_cov")?)
                .map(|(mean, cov)| Held::new(Uncertain::from_mean_cov(Force::kn(mean), cov), proof))
                .collect();
            let survived: Vec<f64> = classes.iter().map(|c| 1.0 - c.chance_of_breaking()).collect();
            reweigh(&mut weights, &survived);
            Ok(weights.iter().zip(&classes).map(|(w, c)| w * c.chance_to_fail(|x| 1.0 - s.cdf(x))).sum())
        }),
    ]
}

fn resistance(i: &Inputs) -> Result<Uncertain<Force>, Error> {
    Ok(Uncertain::from_mean_cov(Force::kn(i.number("resistance_mean_kn")?), i.number("resistance_cov")?))
}

fn load(i: &Inputs) -> Result<Uncertain<Force>, Error> {
    Ok(Uncertain::from_mean_cov(Force::kn(i.number("load_mean_kn")?), i.number("load_cov")?))
}

fn held(i: &Inputs) -> Result<Held, Error> {
    Ok(Held::new(resistance(i)?, Force::kn(i.number("proof_kn")?)))
}

fn reweighed(i: &Inputs) -> Result<Vec<f64>, Error> {
    let mut weights = i.numbers("class_prior")?;
    let likelihoods = i.numbers("sign_likelihood")?;
    if weights.len() != likelihoods.len() {
        return Err(Error::model("as many likelihoods as classes are needed"));
    }
    reweigh(&mut weights, &likelihoods);
    Ok(weights)
}
