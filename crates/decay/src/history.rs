//! The steel of one bolt or hanger through the years.

use crate::cracking::{Hazard, cracking};
use crate::data::{Coating, SteelTable, steel};
use crate::galvanic::{couple, multiplier};
use crate::iso9223::{Category, Metal};
use crate::iso9224::{growth, years_to_lose};
use crate::rates::{Rates, first_year_rates};
use crate::{Cracking, Environment, Shelter, SteelState};
use hardware::Material;
use reckoning::{Origin, Scribe, Silent, Step, Term, Uncertain, normal};
use units::{Length, Ratio};

/// Loss per side through the years for one value of the uncertain rate: nothing while the coating
/// lasts, then `rate growth(t - coating)`.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Curve {
    coating_years: f64,
    /// Local loss per side of the first bare year over the loaded diameter or thickness.
    rate: f64,
    exponent: f64,
    shape: Shape,
}

/// Shape of the loaded section.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Shape {
    /// A bolt: area goes with the square of the diameter.
    Round,
    /// A hanger: area goes with the thickness.
    Plate,
}

impl Curve {
    /// Loss per side as a share of the diameter or thickness.
    fn depth(&self, years: f64) -> f64 {
        if years <= self.coating_years {
            return 0.0;
        }
        self.rate * growth(years - self.coating_years, self.exponent)
    }

    /// Share of the area left, not floored.
    fn area(&self, years: f64) -> f64 {
        let left = (1.0 - 2.0 * self.depth(years)).max(0.0);
        match self.shape {
            Shape::Round => left * left,
            Shape::Plate => left,
        }
    }
}

/// Standard deviations above the median that 5 % of a normal variable exceed.
const ADVERSE: f64 = 1.644_853_626_951_472_7;

/// Wasting of carbon steel: what is needed to draw the curve for any shift of the rate.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Wasting {
    /// Coating thickness, um; 0 = bare.
    coating_um: f64,
    /// Local zinc loss of the first year, um.
    zinc_um: f64,
    zinc_exponent: f64,
    zinc_sd_ln: f64,
    /// Local steel loss per side of the first bare year over the diameter.
    steel_rate: f64,
    steel_exponent: f64,
    steel_sd_ln: f64,
    shape: Shape,
    /// Where a measured loss has moved the rate to, and how much of the scatter it left.
    centre: f64,
    spread: f64,
    /// The curve at the median of the rate, and the one that 5 % of the rates exceed.
    median: Curve,
    adverse: Curve,
}

impl Wasting {
    /// The curve with the rate `z` standard deviations of its logarithm up, before any measurement.
    fn raw(&self, z: f64) -> Curve {
        let coating_years = if self.coating_um > 0.0 {
            let zinc = Length::um(self.zinc_um * (self.zinc_sd_ln * z).exp());
            years_to_lose(Length::um(self.coating_um), zinc, self.zinc_exponent)
        } else {
            0.0
        };
        Curve {
            coating_years,
            rate: self.steel_rate * (self.steel_sd_ln * z).exp(),
            exponent: self.steel_exponent,
            shape: self.shape,
        }
    }

    fn curve(&self, z: f64) -> Curve {
        self.raw(self.centre + self.spread * z)
    }

    /// Moves centre and spread by a loss per side seen at an age: the shift that explains the loss is
    /// weighed against the prior by their variances (normal with normal).
    fn observe(&mut self, loss: Length, age: f64, size: Length, table: &SteelTable) {
        let m = &table.measured;
        let seen = loss.as_mm();
        let least = m.least_mm;
        let depth = |z: f64| self.raw(z).depth(age) * size.as_mm();
        if seen < least && depth(0.0) <= least {
            return;
        }
        let target = if seen < least { least } else { seen * m.hidden_factor };
        let (mut lo, mut hi) = (-6.0, 6.0);
        for _ in 0..40 {
            let mid = 0.5 * (lo + hi);
            if depth(mid) < target { lo = mid } else { hi = mid }
        }
        let z_seen = 0.5 * (lo + hi);
        let sd = m.hidden_sd_ln.hypot(m.reading_mm / target.max(m.reading_mm)) / self.steel_sd_ln.max(0.05);
        self.centre = z_seen / (1.0 + sd * sd);
        self.spread = sd / (1.0 + sd * sd).sqrt();
    }

    fn settle(&mut self) {
        self.median = self.curve(0.0);
        self.adverse = self.curve(ADVERSE);
    }

    /// ln of the median area left and its standard deviation.
    fn ln_area(&self, years: f64, table: &SteelTable) -> (f64, f64) {
        let limits = &table.limits;
        let floor = limits.least_area_left;
        if years <= self.adverse.coating_years {
            return (0.0, 0.0);
        }
        let median = self.median.area(years).max(floor).ln();
        let adverse = self.adverse.area(years).max(floor).ln();
        // a section that is gone is not known the better for it
        let gone = median <= floor.ln();
        let sd = if gone { limits.greatest_sd_ln } else { (median - adverse) / ADVERSE };
        (median, sd.min(limits.greatest_sd_ln))
    }
}

/// What happens to the steel of one bolt or hanger, prepared once and cheap to ask for any age. Plain data.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Decay {
    /// Probability that the bolt is carbon steel (1 or 0 where the material is known).
    carbon_share: f64,
    wasting: Option<Wasting>,
    hazard: Option<Hazard>,
    cracking: Option<Cracking>,
    /// Scatter without a loss function (aluminium): per year.
    drift: f64,
    category: Category,
}

/// Prepares the history of a bolt's steel.
///
/// * `material` of the bolt, `hanger` the metal it touches; `None` = not known
/// * `env`: air, water and shelter
/// * `diameter`: of the loaded section (equal-area diameter where threads lie in it), > 0
/// * `measured_loss`: loss of steel per side and the age in years it was measured at
///
/// Carbon steel: `phi(t) = (1 - 2 m M D(t) / d0)^2`, D after ISO 9224 ([`crate::iso9224`]) from the
/// first-year rates ([`first_year_rates`]), after the zinc is gone (`t_c`, same law, zinc rate times the
/// same m M). m: local loss in crevice and hole by shelter; M: unlike metals, where the hanger is nobler
/// and salt or water joins them. Scatter: rate, m, M, coating and exponent together, moved as one (a bad
/// environment eats zinc and steel alike). A measured loss moves and narrows it.
///
/// Stainless, duplex, titanium: no loss of section, a hazard of cracking ([`crate::cracking`]). Unknown
/// material: mixture of carbon steel with electroplated zinc and stainless of unknown family, so wide.
/// A diameter that is not a positive number counts as 8 mm. Source: ISO 9223, ISO 9224, geometry;
/// factors are judgement (`data/steel.toml`).
pub fn prepare(
    material: Option<Material>,
    hanger: Option<Material>,
    env: &Environment,
    diameter: Length,
    measured_loss: Option<(Length, f64)>,
    scribe: &mut impl Scribe,
) -> Decay {
    let size = if diameter.is_finite() && diameter.as_m() > 0.0 { diameter } else { Length::mm(8.0) };
    history(&Part { material, touching: hanger, shape: Shape::Round, size }, env, measured_loss, scribe)
}

/// Prepares the history of a hanger's plate, as [`prepare`] does for a bolt:
/// `phi(t) = 1 - 2 m M D(t) / s0`, for a plate of thickness s0 that touches a bolt of metal `bolt`.
///
/// The steps of the air are left to the account of the bolt. A plate is a large area beside the bolt, so a nobler bolt eats it slowly (M near 1). A thickness that
/// is not a positive number counts as 3 mm. Errors: none. Source: as [`prepare`].
pub fn prepare_plate(
    material: Option<Material>,
    bolt: Option<Material>,
    env: &Environment,
    thickness: Length,
    measured_loss: Option<(Length, f64)>,
    scribe: &mut impl Scribe,
) -> Decay {
    let size = if thickness.is_finite() && thickness.as_m() > 0.0 { thickness } else { Length::mm(3.0) };
    history(&Part { material, touching: bolt, shape: Shape::Plate, size }, env, measured_loss, scribe)
}

/// The part whose history is asked for.
struct Part {
    material: Option<Material>,
    /// The metal it touches.
    touching: Option<Material>,
    shape: Shape,
    /// Diameter or thickness.
    size: Length,
}

impl Part {
    const fn name(&self) -> &'static str {
        match self.shape {
            Shape::Round => "bolt",
            Shape::Plate => "hanger",
        }
    }
}

fn history(
    part: &Part,
    env: &Environment,
    measured_loss: Option<(Length, f64)>,
    scribe: &mut impl Scribe,
) -> Decay {
    let table = steel();
    let material = part.material;
    let measured =
        measured_loss.filter(|(l, age)| l.is_finite() && l.as_m() >= 0.0 && age.is_finite() && *age > 0.0);
    let carbon_share = carbon_share(part, measured, table, scribe);

    let mut category = Category::C1;
    let wasting = (carbon_share > 0.0).then(|| {
        let rates = match part.shape {
            Shape::Round => first_year_rates(env, scribe),
            // the account of the bolt holds the steps of the air already
            Shape::Plate => first_year_rates(env, &mut Silent),
        };
        category = rates.category(Metal::Steel);
        wasting(part, env, &rates, measured, table, scribe)
    });
    let alloy = match material {
        None => Some(Material::StainlessUnknown),
        known => known,
    };
    let cracking = if carbon_share < 1.0 { alloy.and_then(|a| cracking(a, env, scribe)) } else { None };
    if carbon_share == 0.0 {
        scribe.step(|| Step {
            chapter: "corrosion",
            what: format!("share of the {}'s section left at any age: no even loss is counted", part.name())
                .into(),
            formula: "phi = 1".into(),
            inputs: Vec::new(),
            result: Term::new("phi", 1.0, "1", Origin::Table),
            source: "judgement: passive metals pit and crack, they do not thin".into(),
        });
    }
    let drift = if material == Some(Material::Aluminium) { table.aluminium.sd_ln_per_year } else { 0.0 };
    Decay {
        carbon_share,
        wasting,
        hazard: cracking.map(|c| Hazard::new(&c.hazard_per_year)),
        cracking,
        drift,
        category,
    }
}

const fn is_carbon(material: Material) -> bool {
    matches!(material, Material::BareCarbonSteel | Material::PlatedCarbonSteel | Material::HotDipCarbonSteel)
}

fn carbon_share(
    part: &Part,
    measured: Option<(Length, f64)>,
    table: &'static SteelTable,
    scribe: &mut impl Scribe,
) -> f64 {
    if let Some(material) = part.material {
        return if is_carbon(material) { 1.0 } else { 0.0 };
    }
    let t = &table.material_unknown;
    let share = match (measured, part.touching) {
        (Some((loss, _)), _) if loss.as_mm() >= table.measured.reading_mm => t.carbon_share_loss_measured,
        (_, Some(h)) if is_carbon(h) => t.carbon_share_carbon_hanger,
        (_, Some(Material::Aluminium)) | (_, None) => t.carbon_share,
        (_, Some(_)) => t.carbon_share_stainless_hanger,
    };
    scribe.step(|| Step {
        chapter: "corrosion",
        what: format!("chance that the {}, whose metal is not recorded, is carbon steel", part.name()).into(),
        formula: "by the metal it touches and by measured loss".into(),
        inputs: Vec::new(),
        result: Term::new("p_carbon", share, "1", Origin::Assumed),
        source: t.source.as_str().into(),
    });
    share
}

fn wasting(
    part: &Part,
    env: &Environment,
    rates: &Rates,
    measured: Option<(Length, f64)>,
    table: &'static SteelTable,
    scribe: &mut impl Scribe,
) -> Wasting {
    let Part { material, touching, shape, size } = *part;
    let salt = rates.air.chloride >= table.salt_exponent.from_mg_m2_d;
    let crevice = table.crevice(env.shelter, salt);
    let coating: Option<&'static Coating> = match material {
        Some(Material::BareCarbonSteel) => None,
        Some(Material::HotDipCarbonSteel) => Some(&table.coating.hot_dip),
        _ => Some(&table.coating.plated),
    };
    // the pair is judged on the steel: zinc is gone first
    let pair = touching.map(|h| couple(Material::BareCarbonSteel, h));
    let eaten = pair.is_some_and(|p| p.risky && p.first_is_eaten);
    let g = &table.galvanic;
    let area_ratio = match shape {
        Shape::Round => g.hanger_on_bolt_area_ratio,
        Shape::Plate => g.bolt_on_hanger_area_ratio,
    };
    let pair_factor = if eaten { multiplier(g.g, area_ratio) } else { 1.0 };
    let pair_sd = if eaten { g.sd_ln } else { 0.0 };

    let salty = env.shelter == Some(Shelter::Sheltered) && rates.category(Metal::Steel) >= Category::C5;
    let exponent = if salty { table.salt_exponent.steel } else { table.exponents.steel };
    let exponent_sd = if salty {
        table.salt_exponent.sd
    } else {
        (table.exponents.steel_upper - table.exponents.steel) / 2.0
    };
    // d ln(growth) / d b = ln t; taken at 20 years
    let by_exponent = exponent_sd * crate::iso9224::TANGENT_FROM.ln();

    let local = crevice.factor * pair_factor;
    let local_sd = crevice.sd_ln.hypot(pair_sd);
    let mut w = Wasting {
        coating_um: coating.map_or(0.0, |c| c.um),
        zinc_um: rates.zinc.median.as_um() * local,
        zinc_exponent: table.exponents.zinc,
        zinc_sd_ln: rates.zinc.sd_ln.hypot(local_sd).hypot(coating.map_or(0.0, |c| c.sd_ln)),
        steel_rate: rates.steel.median / size * local,
        steel_exponent: exponent,
        steel_sd_ln: rates.steel.sd_ln.hypot(local_sd).hypot(by_exponent),
        shape,
        centre: 0.0,
        spread: 1.0,
        median: Curve { coating_years: 0.0, rate: 0.0, exponent, shape },
        adverse: Curve { coating_years: 0.0, rate: 0.0, exponent, shape },
    };
    if let Some((loss, age)) = measured {
        w.observe(loss, age, size, table);
    }
    w.settle();

    if let Some(c) = coating {
        scribe.step(|| Step {
            chapter: "corrosion",
            what: format!("years until the {}'s zinc is gone where it goes first", part.name()).into(),
            formula: "t_c = (c / (m M r_zinc))^(1/b), tangent past 20 years".into(),
            inputs: vec![
                Term::new("c", c.um, "um", Origin::Table).with_sd(c.sd_ln),
                Term::new("r_zinc", rates.zinc.median.as_um(), "um", Origin::Computed)
                    .with_sd(rates.zinc.sd_ln),
                Term::new("m", crevice.factor, "1", Origin::Table).with_sd(crevice.sd_ln),
                Term::new("M", pair_factor, "1", Origin::Table).with_sd(pair_sd),
                Term::new("b", w.zinc_exponent, "1", Origin::Table),
            ],
            result: Term::new("t_c", w.median.coating_years, "a", Origin::Computed),
            source: format!("ISO 9224:2012; coating: {}; m: {}", c.source, crevice.source).into(),
        });
    }
    scribe.step(|| {
        let mut source = format!("{}; m: {}", table.exponents.source, crevice.source);
        if salty {
            source = format!("exponent: {}; m: {}", table.salt_exponent.source, crevice.source);
        }
        if eaten {
            source = format!("{source}; M: {}", g.source);
        }
        Step {
            chapter: "corrosion",
            what: format!("loss of the {} per side in the first bare year, at its worst place", part.name())
                .into(),
            formula: "D1 = m M r_steel".into(),
            inputs: vec![
                Term::new("r_steel", rates.steel.median.as_um(), "um", Origin::Computed)
                    .with_sd(rates.steel.sd_ln),
                Term::new("m", crevice.factor, "1", Origin::Table).with_sd(crevice.sd_ln),
                Term::new("M", pair_factor, "1", Origin::Table).with_sd(pair_sd),
                Term::new("b", exponent, "1", Origin::Table),
            ],
            result: Term::new("D1", w.steel_rate * size.as_um(), "um", Origin::Computed)
                .with_sd(w.steel_sd_ln),
            source: source.into(),
        }
    });
    if let Some((loss, age)) = measured {
        scribe.step(|| Step {
            chapter: "corrosion",
            what: "measured loss weighed against the expected one".into(),
            formula: "D1' = D1 exp(z s); z from loss, age and their scatter".into(),
            inputs: vec![
                Term::new("loss", loss.as_mm(), "mm", Origin::Measured),
                Term::new("age", age, "a", Origin::Recorded),
                Term::new("z", w.centre, "1", Origin::Computed),
            ],
            result: Term::new("D1'", w.median.rate * size.as_um(), "um", Origin::Computed)
                .with_sd(w.steel_sd_ln * w.spread),
            source: table.measured.source.as_str().into(),
        });
    }
    scribe.step(|| Step {
        chapter: "corrosion",
        what: format!("share of the {}'s loaded area left after 20 years", part.name()).into(),
        formula: match shape {
            Shape::Round => "phi = (1 - 2 D1 growth(20 - t_c) / d0)^2".into(),
            Shape::Plate => "phi = 1 - 2 D1 growth(20 - t_c) / s0".into(),
        },
        inputs: vec![
            Term::new(if shape == Shape::Round { "d0" } else { "s0" }, size.as_mm(), "mm", Origin::Recorded),
            Term::new("t_c", w.median.coating_years, "a", Origin::Computed),
            Term::new("b", exponent, "1", Origin::Table),
        ],
        result: {
            let (ln, sd) = w.ln_area(20.0, table);
            Term::new("phi", ln.exp(), "1", Origin::Computed).with_sd(sd)
        },
        source: "ISO 9224:2012 and geometry".into(),
    });
    w
}

impl Decay {
    /// The steel `years` after it was placed (negative and NaN count as 0).
    ///
    /// The median share of area is never below 1 %. Its scatter is set so that the 5 % fractile is the
    /// area left by a rate that 5 % exceed, because loss is lopsided and its bad side matters; it is at
    /// most 1.2. No credit is given for rust.
    pub fn at(&self, years: f64) -> SteelState {
        let t = years.max(0.0);
        let table = steel();
        let (ln, sd) = self.wasting.map_or((0.0, 0.0), |w| w.ln_area(t, table));
        let cracked = self.hazard.map_or(0.0, |h| h.cracked(t));
        self.mix(ln, sd, cracked, t)
    }

    /// The steel after `years` with the rate of loss (and the hazard of cracking) `z` standard deviations
    /// of its logarithm above the median, below for z < 0. The scatter that this shift stands for is
    /// then known and left out of the answer.
    pub fn at_shifted(&self, years: f64, z: f64) -> SteelState {
        let t = years.max(0.0);
        let floor = steel().limits.least_area_left;
        let ln = self.wasting.map_or(0.0, |w| w.curve(z).area(t).max(floor).ln());
        let cracked = self.hazard.map_or(0.0, |h| h.cracked_shifted(t, z));
        // where the metal is not known, the shifted end is that of the metal itself: carbon steel if it
        // turns out badly, stainless if well, unless that is less likely than the end stands for
        let likely = |share: f64| share >= normal::Table::get().cdf(-z.abs());
        let p = self.carbon_share;
        let end = Self {
            carbon_share: match z {
                z if z > 0.0 && p < 1.0 && likely(p) => 1.0,
                z if z < 0.0 && p > 0.0 && likely(1.0 - p) => 0.0,
                _ => p,
            },
            ..*self
        };
        let state = end.mix(ln, 0.0, 0.0, t);
        SteelState { cracked: (1.0 - p) * cracked, ..state }
    }

    /// Weighs carbon steel against the rest where the material is not known.
    fn mix(&self, ln: f64, sd: f64, cracked: f64, years: f64) -> SteelState {
        let p = self.carbon_share;
        let table = steel();
        let drift = (self.drift * years).min(table.aluminium.greatest_sd_ln);
        let var = p * sd * sd + p * (1.0 - p) * ln * ln + drift * drift;
        SteelState {
            area_left: Uncertain::new(Ratio::of((p * ln).exp()), var.sqrt().min(table.limits.greatest_sd_ln)),
            cracked: (1.0 - p) * cracked,
        }
    }

    /// Hazard of cracking and strength left, of the alloys that may crack; `None` where none may.
    /// Where the material is not known these are the numbers of the stainless part of the mixture;
    /// `cracked` of [`SteelState`] is already weighed.
    pub fn cracking(&self) -> Option<Cracking> {
        self.cracking
    }

    /// Median years until the zinc coating is gone; `None` where there is no carbon steel.
    pub fn coating_years(&self) -> Option<f64> {
        self.wasting.map(|w| w.median.coating_years)
    }

    /// Median loss of steel per side after `years` as a share of the diameter or thickness; 0 for other metals.
    pub fn depth_share(&self, years: f64) -> f64 {
        self.wasting.map_or(0.0, |w| w.median.depth(years.max(0.0)))
    }

    /// True where the bolt should be replaced whatever its computed strength: carbon steel (at least
    /// more likely than not) in air of category CX or worse, or more than 15 % of the diameter lost per
    /// side. Source: judgement (limits of the loss law).
    pub fn is_spent(&self, years: f64) -> bool {
        self.carbon_share > 0.5
            && (self.category >= Category::CX || self.depth_share(years) > steel().limits.spent_depth_share)
    }
}
