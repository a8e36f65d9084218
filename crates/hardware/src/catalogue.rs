//! The catalogue: data files read once into tables indexed by kind and material.

mod file;

use crate::fitting::{Kind, Material};
use crate::thread::{self, Thread};
use reckoning::Uncertain;
use serde::Deserialize;
use std::sync::OnceLock;
use units::{Force, Length, Stress, Torque};

/// Full width of the middle 90 % of a normal distribution in standard deviations.
const Z90_WIDTH: f64 = 3.289_707_253_902_944_6;

/// A size in which a kind is sold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// Outside diameter.
    pub diameter: Length,
    /// Hole.
    pub hole: Length,
    /// Index in the thread table of the thinner bolt that carries the load, where there is one.
    core: Option<usize>,
    /// Usual torque, lowest and highest, where it is tightened.
    pub torque: Option<(Torque, Torque)>,
}

/// What is usual for a kind.
#[derive(Clone, Debug, PartialEq)]
pub struct KindEntry {
    /// Diameter where it was not measured.
    pub diameter: Uncertain<Length>,
    /// Effective embedment where neither it nor the length is known.
    pub embedment: Uncertain<Length>,
    /// Part of a bolt's length that does not anchor: fixed part and part in diameters.
    pub offset: (Length, f64),
    /// Scatter of the embedment from a known length.
    pub length_sd_ln: f64,
    /// Area of the weakest section over the thread's stress area, median and scatter.
    pub area_factor: (f64, f64),
    /// The load goes through a smooth shank instead of a thread.
    pub smooth: bool,
    /// A separate hanger is bolted on.
    pub has_hanger: bool,
    /// Sizes, thinnest first.
    pub sizes: Vec<Size>,
    /// Where the numbers come from.
    pub source: String,
}

/// Strength of a material.
#[derive(Clone, Debug, PartialEq)]
pub struct MaterialEntry {
    /// Tensile strength over the grades that are sold.
    pub tensile: Uncertain<Stress>,
    /// Yield stress of the likely grade.
    pub yield_likely: Stress,
    /// Density in kg/m3.
    pub density_kg_per_m3: f64,
    /// Bends far before it breaks.
    pub ductile: bool,
    /// Where the numbers come from.
    pub source: String,
}

/// What an edition of a product standard asks for.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Standard {
    /// Document, e.g. `EN 959`.
    pub document: String,
    /// Edition, e.g. `2018`.
    pub edition: String,
    radial_kn: f64,
    axial_kn: f64,
    glue_in_length_mm: f64,
    /// Shortest length in the rock of a mechanical anchor, in diameters of the drilled hole.
    pub mechanical_length_in_hole_diameters: f64,
    attachment_thickness_mm: Option<f64>,
    /// True where the numbers were seen in the document.
    pub checked: bool,
    /// Clause, and what was seen.
    pub source: String,
}

impl Standard {
    /// Least strength along the face.
    pub fn radial(&self) -> Force {
        Force::kn(self.radial_kn)
    }
    /// Least strength straight out.
    pub fn axial(&self) -> Force {
        Force::kn(self.axial_kn)
    }
    /// Shortest length in the rock of a glue-in.
    pub fn glue_in_length(&self) -> Length {
        Length::mm(self.glue_in_length_mm)
    }
    /// Least thickness of the part the rope or connector runs over.
    pub fn attachment_thickness(&self) -> Option<Length> {
        self.attachment_thickness_mm.map(Length::mm)
    }
}

/// Strength of an unmarked hanger or eye.
#[derive(Clone, Debug, PartialEq)]
pub struct HangerEntry {
    /// Along the face.
    pub radial: Uncertain<Force>,
    /// Straight out.
    pub axial: Uncertain<Force>,
    /// Where the numbers come from.
    pub source: String,
}

/// How well a mark bounds a strength.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct MarkEntry {
    /// Scatter with which the mark bounds the part it stands on.
    pub own_sd_ln: f64,
    /// Scatter with which it bounds the bolt below a marked hanger.
    pub bolt_sd_ln: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// Share of the full circle that an untabled thread leaves.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct UntabledThread {
    /// Median share.
    pub share: f64,
    /// Its scatter.
    pub sd_ln: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// All tables of hardware.
#[derive(Clone, Debug)]
pub struct Catalogue {
    threads: Vec<Thread>,
    kinds: Vec<KindEntry>,
    unknown_diameter: Uncertain<Length>,
    untabled: UntabledThread,
    materials: Vec<MaterialEntry>,
    unknown_material: MaterialEntry,
    standards: Vec<Standard>,
    hangers: [HangerEntry; 4],
    eye: HangerEntry,
    mark: MarkEntry,
}

impl Catalogue {
    /// The catalogue that comes with the program.
    pub fn built_in() -> &'static Catalogue {
        static CATALOGUE: OnceLock<Catalogue> = OnceLock::new();
        CATALOGUE.get_or_init(|| {
            #[allow(clippy::expect_used)] // the built-in files are read by every test
            file::read().expect("built-in catalogue")
        })
    }

    /// All threads, thinnest first.
    pub fn threads(&self) -> &[Thread] {
        &self.threads
    }

    /// The tabled thread nearest to a diameter, if one lies within 2.5 %.
    pub fn thread(&self, diameter: Length) -> Option<&Thread> {
        thread::nearest(&self.threads, diameter)
    }

    /// The share of the full circle taken for a thread that is in no table.
    pub fn untabled_thread(&self) -> &UntabledThread {
        &self.untabled
    }

    /// What is usual for a kind.
    pub fn kind(&self, kind: Kind) -> &KindEntry {
        &self.kinds[kind as usize]
    }

    /// The size of a kind nearest to an outside diameter, if one lies within 6 %.
    pub fn size(&self, kind: Kind, diameter: Length) -> Option<&Size> {
        let gap = |s: &Size| ((s.diameter - diameter) / diameter).abs();
        self.kind(kind).sizes.iter().filter(|s| gap(s) <= 0.06).min_by(|a, b| gap(a).total_cmp(&gap(b)))
    }

    /// The thinner bolt that carries the load of this size, where there is one.
    pub fn core(&self, size: &Size) -> Option<&Thread> {
        size.core.and_then(|i| self.threads.get(i))
    }

    /// Diameter where nobody measured it.
    pub fn usual_diameter(&self, kind: Option<Kind>) -> Uncertain<Length> {
        kind.map_or(self.unknown_diameter, |k| self.kind(k).diameter)
    }

    /// A material's entry, or that of material nobody wrote down.
    pub fn material(&self, material: Option<Material>) -> &MaterialEntry {
        material.and_then(|m| self.materials.get(m as usize)).unwrap_or(&self.unknown_material)
    }

    /// All standards with their editions.
    pub fn standards(&self) -> &[Standard] {
        &self.standards
    }

    /// The limits of one edition of a document.
    pub fn standard(&self, document: &str, edition: &str) -> Option<&Standard> {
        self.standards.iter().find(|s| s.document == document && s.edition == edition)
    }

    /// An unmarked hanger of a material.
    pub fn hanger(&self, material: Option<Material>) -> &HangerEntry {
        let [steel, titanium, aluminium, unknown] = &self.hangers;
        match material {
            None => unknown,
            Some(Material::Titanium) => titanium,
            Some(Material::Aluminium) => aluminium,
            Some(_) => steel,
        }
    }

    /// The unmarked eye of a glue-in.
    pub fn eye(&self) -> &HangerEntry {
        &self.eye
    }

    /// What a mark proves.
    pub fn mark(&self) -> &MarkEntry {
        &self.mark
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn standards_keep_document_and_edition_apart() {
        let c = Catalogue::built_in();
        let en = c.standard("EN 959", "2018").unwrap();
        // EN 959:2018 clauses 4.2.6 and 4.3.1
        assert_eq!((en.axial().as_kn(), en.radial().as_kn()), (15.0, 25.0));
        assert_eq!(en.glue_in_length().as_mm(), 70.0);
        assert_eq!(en.mechanical_length_in_hole_diameters, 5.0);
        let other = c.standard("UIAA 123", "V4, 2020").unwrap();
        assert!(other.axial() > en.axial());
        assert!(c.standard("EN 959", "1900").is_none());
    }

    #[test]
    fn tables_are_plausible() {
        let c = Catalogue::built_in();
        for k in Kind::ALL {
            let e = c.kind(k);
            assert!(!e.source.is_empty());
            assert!(e.sizes.windows(2).all(|w| w[0].diameter < w[1].diameter), "{k:?}");
            for s in &e.sizes {
                assert!(s.hole / s.diameter > 0.9 && s.hole / s.diameter < 1.4, "{k:?}");
                assert!(c.core(s).is_none_or(|t| t.diameter < s.diameter), "{k:?}");
            }
        }
        for m in Material::ALL {
            let e = c.material(Some(m));
            assert!(e.yield_likely < e.tensile.median && e.tensile.sd_ln > 0.0, "{m:?}");
        }
        assert!(c.material(None).tensile.sd_ln > c.material(Some(Material::Stainless316)).tensile.sd_ln);
    }
}
