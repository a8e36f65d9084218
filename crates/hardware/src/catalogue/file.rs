//! The layout of the data files, and their reader.

use super::*;

#[derive(Deserialize)]
struct SizeRow {
    diameter_mm: f64,
    hole_mm: f64,
    core: Option<String>,
    torque_low_nm: Option<f64>,
    torque_high_nm: Option<f64>,
}

#[derive(Deserialize)]
struct KindRow {
    id: Kind,
    typical_diameter_mm: f64,
    diameter_sd_ln: f64,
    embedment_low_mm: f64,
    embedment_mm: f64,
    embedment_high_mm: f64,
    offset_mm: f64,
    offset_diameters: f64,
    length_sd_ln: f64,
    area_factor: f64,
    area_factor_sd_ln: f64,
    #[serde(default)]
    smooth: bool,
    has_hanger: bool,
    source: String,
    sizes: Vec<SizeRow>,
}

#[derive(Deserialize)]
struct Usual {
    typical_diameter_mm: f64,
    diameter_sd_ln: f64,
}

#[derive(Deserialize)]
struct Kinds {
    #[serde(rename = "kind")]
    kinds: Vec<KindRow>,
    unknown: Usual,
    untabled_thread: UntabledThread,
}

#[derive(Deserialize)]
struct MaterialRow {
    id: Option<Material>,
    fu_low_mpa: f64,
    fu_likely_mpa: f64,
    fu_high_mpa: f64,
    fy_likely_mpa: f64,
    density_kg_per_m3: f64,
    ductile: bool,
    source: String,
}

#[derive(Deserialize)]
struct Materials {
    #[serde(rename = "material")]
    materials: Vec<MaterialRow>,
    unknown: MaterialRow,
}

#[derive(Deserialize)]
struct Standards {
    #[serde(rename = "standard")]
    standards: Vec<Standard>,
}

#[derive(Deserialize)]
struct HangerRow {
    material: Option<String>,
    radial_kn: f64,
    axial_kn: f64,
    sd_ln: f64,
    source: String,
}

#[derive(Deserialize)]
struct Hangers {
    #[serde(rename = "hanger")]
    hangers: Vec<HangerRow>,
    eye: HangerRow,
    mark: MarkEntry,
}

impl From<MaterialRow> for MaterialEntry {
    fn from(r: MaterialRow) -> Self {
        let sd = (r.fu_high_mpa / r.fu_low_mpa).ln() / Z90_WIDTH;
        MaterialEntry {
            tensile: Uncertain::new(Stress::mpa(r.fu_likely_mpa), sd),
            yield_likely: Stress::mpa(r.fy_likely_mpa),
            density_kg_per_m3: r.density_kg_per_m3,
            ductile: r.ductile,
            source: r.source,
        }
    }
}

impl From<&HangerRow> for HangerEntry {
    fn from(r: &HangerRow) -> Self {
        HangerEntry {
            radial: Uncertain::new(Force::kn(r.radial_kn), r.sd_ln),
            axial: Uncertain::new(Force::kn(r.axial_kn), r.sd_ln),
            source: r.source.clone(),
        }
    }
}

fn kind(row: KindRow, threads: &[Thread]) -> Result<KindEntry, String> {
    let size = |s: SizeRow| {
        let core = match s.core {
            None => None,
            Some(name) => {
                Some(threads.iter().position(|t| t.name == name).ok_or_else(|| format!("no thread {name}"))?)
            }
        };
        Ok::<_, String>(Size {
            diameter: Length::mm(s.diameter_mm),
            hole: Length::mm(s.hole_mm),
            core,
            torque: s.torque_low_nm.zip(s.torque_high_nm).map(|(a, b)| (Torque::nm(a), Torque::nm(b))),
        })
    };
    let embedment_sd = (row.embedment_high_mm / row.embedment_low_mm).ln() / Z90_WIDTH;
    Ok(KindEntry {
        diameter: Uncertain::new(Length::mm(row.typical_diameter_mm), row.diameter_sd_ln),
        embedment: Uncertain::new(Length::mm(row.embedment_mm), embedment_sd),
        offset: (Length::mm(row.offset_mm), row.offset_diameters),
        length_sd_ln: row.length_sd_ln,
        area_factor: (row.area_factor, row.area_factor_sd_ln),
        smooth: row.smooth,
        has_hanger: row.has_hanger,
        sizes: row.sizes.into_iter().map(size).collect::<Result<_, _>>()?,
        source: row.source,
    })
}

/// Reads the built-in data files.
pub(super) fn read() -> Result<Catalogue, String> {
    let bad = |e: toml::de::Error| e.to_string();
    let threads = thread::read(include_str!("../../data/threads.toml")).map_err(bad)?;
    let kinds: Kinds = toml::from_str(include_str!("../../data/kinds.toml")).map_err(bad)?;
    let materials: Materials = toml::from_str(include_str!("../../data/materials.toml")).map_err(bad)?;
    let standards: Standards = toml::from_str(include_str!("../../data/standards.toml")).map_err(bad)?;
    let hangers: Hangers = toml::from_str(include_str!("../../data/hangers.toml")).map_err(bad)?;

    let unknown_diameter =
        Uncertain::new(Length::mm(kinds.unknown.typical_diameter_mm), kinds.unknown.diameter_sd_ln);
    let mut rows = kinds.kinds;
    rows.sort_by_key(|r| r.id);
    if !rows.iter().map(|r| r.id).eq(Kind::ALL) {
        return Err("kinds.toml must hold every kind once".to_owned());
    }
    let mut strengths = materials.materials;
    strengths.sort_by_key(|r| r.id);
    if !strengths.iter().map(|r| r.id).eq(Material::ALL.map(Some)) {
        return Err("materials.toml must hold every material once".to_owned());
    }
    let hanger = |name: &str| {
        let row = hangers.hangers.iter().find(|h| h.material.as_deref() == Some(name));
        row.map(HangerEntry::from).ok_or_else(|| format!("hangers.toml has no entry for {name}"))
    };
    Ok(Catalogue {
        kinds: rows.into_iter().map(|r| kind(r, &threads)).collect::<Result<_, _>>()?,
        threads,
        unknown_diameter,
        untabled: kinds.untabled_thread,
        materials: strengths.into_iter().map(MaterialEntry::from).collect(),
        unknown_material: materials.unknown.into(),
        standards: standards.standards,
        hangers: [hanger("steel")?, hanger("titanium")?, hanger("aluminium")?, hanger("unknown")?],
        eye: HangerEntry::from(&hangers.eye),
        mark: hangers.mark,
    })
}
