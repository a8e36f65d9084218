//! Statistics of pull tests.

use crate::{Computation, Error, Inputs, computation};
use evidence::statistics::{
    Rule, Scatter, Shape, Side, SisterPull, Weibull, characteristic, en1990_factor, finite_crag_bad,
    fit_line, fit_weibull, grubbs, grubbs_critical, proof_bounds, sister_ratio, t_quantile, tests_needed,
    tolerance_factor, tolerance_factor_known, weibull_scale_bound,
};

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("tolerance_factor", |i| {
            tolerance_factor(size(i)?, i.number("share_above")?, i.number("confidence")?)
                .map_err(Error::model)
        }),
        computation("tolerance_factor_known_scatter", |i| {
            tolerance_factor_known(size(i)?, i.number("share_above")?, i.number("confidence")?)
                .map_err(Error::model)
        }),
        computation("en1990_factor", |i| {
            en1990_factor(size(i)?, i.flag("scatter_known")?).map_err(Error::model)
        }),
        computation("student_t_quantile", |i| {
            Ok(t_quantile(i.number("share_below")?, i.number("degrees_of_freedom")?))
        }),
        computation("characteristic_load", |i| {
            let shape = i.choice("family", &[("log-normal", Shape::LogNormal), ("normal", Shape::Normal)])?;
            let rule = match i.optional_number("confidence")? {
                Some(confidence) => Rule::Confidence(confidence),
                None => Rule::En1990,
            };
            let scatter = i.optional_number("known_cov")?.map_or(Scatter::Sample, Scatter::Known);
            let c = characteristic(&i.numbers("loads_kn")?, shape, rule, scatter).map_err(Error::model)?;
            Ok(c.value)
        }),
        computation("weibull_shape", |i| Ok(weibull(i)?.shape)),
        computation("weibull_scale", |i| Ok(weibull(i)?.scale)),
        computation("weibull_ln_likelihood", |i| Ok(weibull(i)?.ln_likelihood)),
        computation("weibull_mean", |i| Ok(weibull(i)?.mean())),
        computation("weibull_sd", |i| Ok(weibull(i)?.sd())),
        computation("weibull_fractile", |i| Ok(weibull(i)?.fractile(i.number("share_below")?))),
        computation("weibull_scale_bound", |i| {
            weibull_scale_bound(&repeated(i, "held")?, i.number("shape")?, i.number("risk")?)
                .map_err(Error::model)
        }),
        computation("proof_upper_bound", |i| Ok(bounds(i)?.1)),
        computation("proof_lower_bound", |i| Ok(bounds(i)?.0)),
        computation("tests_needed", |i| {
            let n =
                tests_needed(i.number("share_that_holds")?, i.number("confidence")?).map_err(Error::model)?;
            Ok(n as f64)
        }),
        computation("finite_crag_bad", |i| {
            let bad = finite_crag_bad(i.whole("all")?, i.whole("tested")?, i.number("risk")?)
                .map_err(Error::model)?;
            Ok(bad as f64)
        }),
        computation("grubbs_distance", |i| {
            Ok(grubbs(&i.numbers("values")?, 0.05, Side::Either).map_err(Error::model)?.distance)
        }),
        computation("grubbs_critical", |i| {
            grubbs_critical(size(i)?, i.number("risk")?, side(i)?).map_err(Error::model)
        }),
        computation("line", |i| {
            let line = fit_line(&i.numbers("x")?, &i.numbers("y")?).map_err(Error::model)?;
            i.choice(
                "wanted",
                &[("intercept", line.intercept), ("slope", line.slope), ("residual sd", line.residual_sd)],
            )
        }),
        computation("sister_ratio", |i| {
            let sd_ln = i.number("within_sd")?;
            let pull = |ln_ratio| SisterPull { ln_ratio, sd_ln, held: false };
            let pulls: Vec<SisterPull> = i.numbers("ln_ratios")?.into_iter().map(pull).collect();
            let (median, sd_ln) = sister_ratio(&pulls, i.number("prior_sd")?, None);
            i.choice("wanted", &[("median", median), ("sd of the logarithm", sd_ln)])
        }),
    ]
}

fn size(i: &Inputs) -> Result<usize, Error> {
    usize::try_from(i.whole("n")?).map_err(Error::model)
}

fn side(i: &Inputs) -> Result<Side, Error> {
    i.choice("side", &[("either", Side::Either), ("low", Side::Low), ("high", Side::High)])
}

/// The loads of a list, or one load so many times.
fn repeated(i: &Inputs, name: &str) -> Result<Vec<f64>, Error> {
    let count = usize::try_from(i.whole(&format!("{name}_count"))?).map_err(Error::model)?;
    if count > 1_000_000 {
        return Err(Error::model("more than a million loads"));
    }
    Ok(vec![i.number(&format!("{name}_each"))?; count])
}

fn weibull(i: &Inputs) -> Result<Weibull, Error> {
    fit_weibull(&i.numbers("failed")?, &repeated(i, "held")?).map_err(Error::model)
}

fn bounds(i: &Inputs) -> Result<(f64, f64), Error> {
    proof_bounds(i.whole("failures")?, i.whole("tests")?, i.number("risk")?).map_err(Error::model)
}
