//! First-year rates of steel and zinc from what is known of the air.

use crate::Environment;
use crate::data::air_table;
use crate::iso9223::{Air, Category, Metal, first_year};
use reckoning::{Origin, Scribe, Step, Term, Uncertain};
use units::Length;

/// First-year losses with their scatter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rates {
    /// Loss of carbon steel in the first year, in the open.
    pub steel: Uncertain<Length>,
    /// Loss of zinc in the first year, in the open.
    pub zinc: Uncertain<Length>,
    /// The air they were worked out for; means where nothing is known.
    pub air: Air,
    /// True where the air lies outside the range the functions were fitted to.
    pub extrapolated: bool,
}

impl Rates {
    /// Corrosivity category of the air for a metal, by the median loss.
    pub fn category(&self, metal: Metal) -> Category {
        Category::of(
            metal,
            match metal {
                Metal::Steel => self.steel.median,
                Metal::Zinc => self.zinc.median,
            },
        )
    }
}

/// A variable of the air: value, scatter (absolute for T and RH, logarithmic for deposits), and whether
/// it was measured.
#[derive(Clone, Copy)]
struct Known {
    value: f64,
    sd: f64,
    measured: bool,
}

impl Known {
    fn of(measured: Option<f64>, valid: impl Fn(f64) -> bool, otherwise: f64, sd: f64) -> Self {
        match measured.filter(|v| v.is_finite() && valid(*v)) {
            Some(value) => Self { value, sd: 0.0, measured: true },
            None => Self { value: otherwise, sd, measured: false },
        }
    }
    fn origin(&self) -> Origin {
        if self.measured { Origin::Recorded } else { Origin::Assumed }
    }
    /// Terms of a variable with absolute scatter: the value and its standard deviation.
    fn plain(&self, symbol: &'static str, scatter: &'static str, unit: &'static str) -> [Term; 2] {
        [Term::new(symbol, self.value, unit, self.origin()), Term::new(scatter, self.sd, unit, self.origin())]
    }
    /// Term of a deposition, whose scatter is logarithmic.
    fn deposition(&self, symbol: &'static str) -> Term {
        let term = Term::new(symbol, self.value, "mg/(m2 d)", self.origin());
        if self.measured { term } else { term.with_sd(self.sd) }
    }
}

/// First-year losses of steel and zinc in the open air, ISO 9223 functions ([`first_year`]), with the
/// scatter of the functions (0.4 in the logarithm) and of everything that was not measured.
///
/// Deposits that are not measured follow the setting of the crag (`data/air.toml`); an unknown setting
/// spans inland to shore. Temperature and humidity that are not measured are those of a temperate
/// climate with wide scatter. Scatter enters by the derivatives of the function (delta method).
/// Measured values that make no sense (not finite, below 0, humidity above 100 %, beyond +-60 C) count
/// as not known. Errors: none. Source: ISO 9223:2012; presets judgement.
pub fn first_year_rates(env: &Environment, scribe: &mut impl Scribe) -> Rates {
    let table = air_table();
    let deposits = table.deposits(env.setting);
    let climate = &table.climate;
    let positive = |v: f64| v >= 0.0;
    let t = Known::of(
        env.temperature.map(|t| t.as_celsius()),
        |v| v.abs() <= 60.0,
        climate.temperature,
        climate.temperature_sd,
    );
    let rh = Known::of(
        env.relative_humidity_percent,
        |v| (0.0..=100.0).contains(&v),
        climate.humidity,
        climate.humidity_sd,
    );
    let so2 = Known::of(env.sulphur_mg_m2_d, positive, deposits.sulphur, deposits.sulphur_sd_ln);
    let salt = Known::of(env.chloride_mg_m2_d, positive, deposits.chloride, deposits.chloride_sd_ln);
    let air = Air { temperature: t.value, humidity: rh.value, sulphur: so2.value, chloride: salt.value };

    let rate = |metal: Metal| {
        let parts = first_year(metal, &air);
        let (s, c, sum) = (parts.sulphur.as_um(), parts.chloride.as_um(), parts.total().as_um());
        if sum <= 0.0 {
            return Uncertain::new(Length::m(0.0), table.dose_response.sd_ln);
        }
        let k = metal.coefficients();
        let slope = if air.temperature <= 10.0 { k.cold } else { k.warm };
        let by_t = (s * slope + c * k.l) / sum * t.sd;
        let by_rh = (s * k.h + c * k.k) / sum * rh.sd;
        let by_so2 = s * k.p / sum * so2.sd;
        let by_salt = c * k.q / sum * salt.sd;
        let own = table.dose_response.sd_ln;
        let var = own * own + by_t * by_t + by_rh * by_rh + by_so2 * by_so2 + by_salt * by_salt;
        Uncertain::new(parts.total(), var.sqrt())
    };
    let rates =
        Rates { steel: rate(Metal::Steel), zinc: rate(Metal::Zinc), air, extrapolated: !air.is_fitted() };

    for (metal, name, symbol, formula) in [
        (
            Metal::Steel,
            "carbon steel",
            "r_steel",
            "r = 1.77 Pd^0.52 exp(0.020 RH + f) + 0.102 Sd^0.62 exp(0.033 RH + 0.040 T)",
        ),
        (
            Metal::Zinc,
            "zinc",
            "r_zinc",
            "r = 0.0129 Pd^0.44 exp(0.046 RH + f) + 0.0175 Sd^0.57 exp(0.008 RH + 0.085 T)",
        ),
    ] {
        scribe.step(|| {
            let r = if metal == Metal::Steel { rates.steel } else { rates.zinc };
            let mut source = format!("ISO 9223:2012; deposits: {}", deposits.source);
            if !(t.measured && rh.measured) {
                source.push_str("; climate: ");
                source.push_str(&climate.source);
            }
            source.push_str("; scatter: ");
            source.push_str(&table.dose_response.source);
            let beyond = if rates.extrapolated { ", outside the range of the function" } else { "" };
            Step {
                chapter: "corrosion",
                what: format!(
                    "loss of {name} in the first year in the open, category {:?}{beyond}",
                    rates.category(metal)
                )
                .into(),
                formula: formula.into(),
                inputs: t
                    .plain("T", "s_T", "C")
                    .into_iter()
                    .chain(rh.plain("RH", "s_RH", "%"))
                    .chain([so2.deposition("Pd"), salt.deposition("Sd")])
                    .collect(),
                result: Term::new(symbol, r.median.as_um(), "um", Origin::Computed).with_sd(r.sd_ln),
                source: source.into(),
            }
        });
    }
    rates
}
