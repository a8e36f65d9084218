//! Loss of steel and zinc with time, corrosion resistance numbers, galvanic pairs.

use crate::{Computation, Error, Inputs, computation};
use decay::alloy::{Exposure, ResistanceClass, Washing, corrosion_resistance_factor, pren};
use decay::iso9223::{Air, Category, Metal, first_year};
use decay::iso9224::{growth, loss, years_to_lose};
use decay::section::{area_left, bending_left, diameter_left};
use decay::{Environment, Setting, Shelter, cracking, galvanic};
use hardware::Material;
use reckoning::Silent;
use units::{Length, Ratio, Temperature};

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("first_year_loss", |i| {
            let air = Air {
                temperature: i.number("temperature_c")?,
                humidity: i.number("humidity_percent")?,
                sulphur: i.number("sulphur_mg_m2_d")?,
                chloride: i.number("chloride_mg_m2_d")?,
            };
            Ok(first_year(metal(i)?, &air).total().as_um())
        }),
        computation("corrosivity_category", |i| {
            let category = Category::of(metal(i)?, Length::um(i.number("first_year_um")?));
            Ok(match category {
                Category::C1 => 1.0,
                Category::C2 => 2.0,
                Category::C3 => 3.0,
                Category::C4 => 4.0,
                Category::C5 => 5.0,
                Category::CX => 6.0,
                Category::BeyondCX => 7.0,
            })
        }),
        computation("loss_growth", |i| Ok(growth(i.number("years")?, i.number("exponent")?))),
        computation("loss_after", |i| {
            let first = Length::um(i.number("first_year_um")?);
            Ok(loss(first, i.number("exponent")?, i.number("years")?).as_um())
        }),
        computation("coating_years", |i| {
            let [depth, first] = ["coating_um", "first_year_um"].map(|name| i.number(name).map(Length::um));
            Ok(years_to_lose(depth?, first?, i.number("exponent")?))
        }),
        computation("section_left", |i| {
            let d0 = Length::mm(i.number("diameter_mm")?);
            let d = diameter_left(d0, Length::um(i.number("loss_um")?), Ratio::of(i.number("local")?));
            i.choice(
                "of",
                &[
                    ("diameter", d.as_mm()),
                    ("area", area_left(d, d0).get()),
                    ("bending", bending_left(d, d0).get()),
                ],
            )
        }),
        computation("pitting_resistance_equivalent", |i| {
            Ok(pren(
                i.number("chromium")?,
                i.number("molybdenum")?,
                i.optional_number("nitrogen")?.unwrap_or(0.0),
                i.optional_number("tungsten")?.unwrap_or(0.0),
            ))
        }),
        computation("corrosion_resistance_factor", |i| Ok(f64::from(factor(i)?))),
        computation("corrosion_resistance_class", |i| {
            Ok(match ResistanceClass::of(factor(i)?) {
                ResistanceClass::I => 1.0,
                ResistanceClass::II => 2.0,
                ResistanceClass::III => 3.0,
                ResistanceClass::IV => 4.0,
                ResistanceClass::V => 5.0,
            })
        }),
        computation("galvanic_volts", |i| {
            Ok(galvanic::couple(material(i, "first")?, material(i, "second")?).volts)
        }),
        computation("galvanic_risk", |i| {
            Ok(f64::from(u8::from(galvanic::couple(material(i, "first")?, material(i, "second")?).risky)))
        }),
        computation("cracking_ratio", |i| {
            let env = Environment {
                setting: Some(Setting::SeaCliff),
                shelter: Some(Shelter::Sheltered),
                temperature: Some(Temperature::celsius(i.number("temperature_c")?)),
                ..Environment::default()
            };
            let hazard = |m| {
                cracking(m, &env, &mut Silent)
                    .map(|c| c.hazard_per_year.median.get())
                    .ok_or_else(|| Error::Model("this metal does not crack in this way".to_owned()))
            };
            Ok(hazard(material(i, "first")?)? / hazard(material(i, "second")?)?)
        }),
    ]
}

fn metal(i: &Inputs) -> Result<Metal, Error> {
    i.choice("metal", &[("steel", Metal::Steel), ("zinc", Metal::Zinc)])
}

fn material(i: &Inputs, name: &str) -> Result<Material, Error> {
    i.choice(
        name,
        &[
            ("carbon steel", Material::BareCarbonSteel),
            ("zinc-plated steel", Material::PlatedCarbonSteel),
            ("304", Material::Stainless304),
            ("316", Material::Stainless316),
            ("titanium", Material::Titanium),
            ("aluminium", Material::Aluminium),
        ],
    )
}

fn factor(i: &Inputs) -> Result<i32, Error> {
    Ok(corrosion_resistance_factor(&Exposure {
        indoors: false,
        sea: Length::m(1e3 * i.number("sea_km")?),
        mild_sea: i.flag("mild_sea")?,
        salted_road: None,
        salt_carried_in: false,
        sulphur_ug_m3: i.number("sulphur_ug_m3")?,
        washing: i.choice(
            "washing",
            &[("rain", Washing::Rain), ("cleaning", Washing::Cleaning), ("none", Washing::None)],
        )?,
    }))
}
