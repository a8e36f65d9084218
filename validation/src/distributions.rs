//! The normal and log-normal distributions.

use crate::{Computation, Error, Inputs, computation};
use reckoning::{Uncertain, normal};
use units::Force;

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("normal_cdf", |i| Ok(normal::cdf(i.number("z")?))),
        computation("normal_cdf_table", |i| Ok(normal::Table::get().cdf(i.number("z")?))),
        computation("reliability_index", |i| Ok(-normal::quantile(i.number("failure_probability")?))),
        computation("lognormal_fractile", |i| Ok(lognormal(i)?.fractile(i.number("share_below")?).as_kn())),
        computation("lognormal_mean", |i| Ok(lognormal(i)?.mean().as_kn())),
        computation("lognormal_median_from_mean", |i| {
            Ok(Uncertain::from_mean_cov(Force::kn(i.number("mean_kn")?), i.number("cov")?).median.as_kn())
        }),
    ]
}

fn lognormal(i: &Inputs) -> Result<Uncertain<Force>, Error> {
    let cov = i.number("cov")?;
    Ok(Uncertain::new(Force::kn(i.number("median_kn")?), (1.0 + cov * cov).ln().sqrt()))
}
