//! What a placement truly holds: the scenario's own model, with more luck in it than any inspector sees.

use crate::hardware::{Defect, Hardware, Kind, Metal, Resin};
use crate::region::Where;
use crate::world::{Shelter, Spot};
use jiff::civil::Date;

/// True resistance at a date, kN, with what would give way.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Strength {
    pub(crate) axial: f64,
    pub(crate) axial_mode: Mode,
    pub(crate) radial: f64,
    pub(crate) radial_mode: Mode,
    pub(crate) cracked: bool,
    /// Loss of carbon steel per side, mm.
    pub(crate) loss: f64,
    /// What grips the hole alone would hold, kN.
    pub(crate) grip: f64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Mode {
    Steel,
    Hanger,
    Cone,
    Grip,
    Bond,
    Crushing,
}

impl Mode {
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Steel => "steel",
            Self::Hanger => "hanger",
            Self::Cone => "rock breakout",
            Self::Grip => "pull-out",
            Self::Bond => "bond",
            Self::Crushing => "rock crushing",
        }
    }
}

impl Strength {
    /// Resistance and mode at an angle from the axis of the hole, degrees.
    pub(crate) fn at(&self, angle: f64) -> (f64, Mode) {
        let power = 1.5;
        let axial = libm::pow((libm::cos(angle.to_radians()) / self.axial).max(0.0), power);
        let radial = libm::pow((libm::sin(angle.to_radians()) / self.radial).max(0.0), power);
        let mode = if axial > radial { self.axial_mode } else { self.radial_mode };
        (libm::pow(axial + radial, -1.0 / power), mode)
    }
}

/// True strength of this hardware at this spot on a date.
pub(crate) fn of(hardware: &Hardware, spot: &Spot, here: Where, on: Date) -> Strength {
    let luck = &hardware.luck;
    let years = years_between(hardware.placed, on);
    let loss = loss(hardware, spot, here, years);
    let cracked = luck.cracks_in.is_some_and(|year| year <= on.year());
    let crack = if cracked { luck.left_when_cracked } else { 1.0 };

    let core = core_diameter(hardware);
    let left = (core - 2.0 * loss).max(0.0);
    let area = core::f64::consts::FRAC_PI_4 * left * left;
    let tensile = tensile_strength(hardware.metal) * luck.steel;
    let eye = if hardware.kind == Kind::Glue { 0.85 } else { 1.0 };
    let steel_axial = (area * tensile / 1000.0 * eye * crack).max(0.05);
    // A ductile bolt bends over and then works as a tie, so its shear exceeds the thread's 0.6.
    let steel_radial = steel_axial * 0.72;

    let depth = match hardware.defect {
        Defect::OverDrilled => hardware.embedment - 6.0,
        _ => hardware.embedment,
    };
    let cone = cone(depth, spot, luck.cone);
    let (grip, grip_mode) = grip(hardware, spot, depth);
    let hanger = match hardware.hanger {
        None => f64::INFINITY,
        Some(metal) => {
            let new = match metal {
                Metal::Aluminium => 16.0,
                Metal::Bare => 14.0,
                _ => 30.0,
            };
            let eaten = if matches!(metal, Metal::Bare | Metal::Plated | Metal::HotDip) {
                loss * 2.0 / 3.0
            } else {
                0.0
            };
            (new * luck.hanger * (1.0 - eaten).max(0.05) * crack).max(0.05)
        }
    };
    let crushing =
        2.2 * spot.ucs * hardware.diameter * depth.min(6.0 * hardware.diameter) / 1000.0 * luck.bearing;
    // Whatever turns out of the rock sideways still has to leave the hole: a dead grip costs shear too.
    let levered = match hardware.kind {
        Kind::Piton => grip * 1.6,
        Kind::Hammered | Kind::Compression => grip * 2.2,
        _ => 6.0 + grip * 1.5,
    };
    let weakest = |modes: &[(f64, Mode)]| {
        modes
            .iter()
            .copied()
            .fold((f64::INFINITY, Mode::Steel), |least, mode| if mode.0 < least.0 { mode } else { least })
    };
    let (axial, axial_mode) =
        weakest(&[(steel_axial, Mode::Steel), (hanger, Mode::Hanger), (cone, Mode::Cone), (grip, grip_mode)]);
    let (radial, radial_mode) = weakest(&[
        (steel_radial, Mode::Steel),
        (hanger, Mode::Hanger),
        (crushing, Mode::Crushing),
        (levered, grip_mode),
        (cone * 1.6, Mode::Cone),
    ]);
    Strength { axial, axial_mode, radial, radial_mode, cracked, loss, grip }
}

/// Years from one day to another, never negative.
pub(crate) fn years_between(from: Date, to: Date) -> f64 {
    let day = |date: Date| f64::from(date.year()) + f64::from(date.day_of_year()) / 365.25;
    (day(to) - day(from)).max(0.0)
}

fn cone(depth: f64, spot: &Spot, luck: f64) -> f64 {
    let reach = 1.5 * depth;
    let edge = match spot.edge {
        Some(edge) if edge < reach => (0.7 + 0.3 * edge / reach) * (edge + reach) / (2.0 * reach),
        _ => 1.0,
    };
    let pair = match spot.spacing {
        Some(spacing) if spacing < 2.0 * reach => (2.0 * reach + spacing) / (4.0 * reach),
        _ => 1.0,
    };
    let block = if spot.hollow {
        0.25
    } else if spot.cracked_rock {
        0.65
    } else {
        1.0
    };
    14.7 * spot.ucs.min(60.0).sqrt() * depth * depth.sqrt() / 1000.0 * edge * pair * block * luck
}

fn grip(hardware: &Hardware, spot: &Spot, depth: f64) -> (f64, Mode) {
    let luck = hardware.luck.grip;
    let diameter = hardware.diameter;
    let rock = if spot.ucs < 25.0 { spot.ucs / 22.0 } else { (spot.ucs.min(70.0) / 22.0).sqrt() };
    let held = match hardware.kind {
        Kind::Glue => {
            let resin = match hardware.resin {
                Some(Resin::Epoxy) => 15.0,
                Some(Resin::Vinylester) => 12.0,
                Some(Resin::Polyester) | None => 7.5,
            };
            let wall = 0.4 * spot.ucs;
            let wet = if spot.shelter == Shelter::Seeping { 0.75 } else { 1.0 };
            core::f64::consts::PI * diameter * depth * f64::min(resin, wall) * wet / 1000.0
        }
        Kind::Wedge => 24.0 * libm::pow(diameter / 12.0, 1.6) * rock,
        Kind::Sleeve => 22.0 * libm::pow(diameter / 12.0, 1.4) * rock,
        Kind::DropIn => 11.0 * rock.min(1.2),
        Kind::Compression => 7.0 * libm::pow(diameter / 7.9, 1.3) * rock.min(1.3) * luck,
        Kind::Hammered => 5.5 * rock.min(1.6) * luck * luck,
        Kind::Piton => 6.0 * luck * luck * luck.min(1.4),
    };
    let fault = match hardware.defect {
        Defect::None | Defect::ShortHole => 1.0,
        Defect::OverDrilled => 0.4,
        Defect::NeverExpanded => 0.25,
        Defect::HoleNotCleaned => 0.55,
        Defect::SmoothRod => 0.45,
        Defect::ResinUnset => 0.14 * luck,
    };
    let mode = if hardware.kind == Kind::Glue { Mode::Bond } else { Mode::Grip };
    ((held * luck * fault).max(0.1), mode)
}

/// Diameter of the loaded steel, mm: thread root, core of a sleeve, screw of a drop-in, rod.
fn core_diameter(hardware: &Hardware) -> f64 {
    let d = hardware.diameter;
    match hardware.kind {
        Kind::Wedge => d * 0.845,
        Kind::Sleeve => (d - 2.0) * 0.84,
        Kind::DropIn => 6.83,
        Kind::Compression => d * 0.93,
        Kind::Hammered => 8.6,
        Kind::Piton | Kind::Glue => d,
    }
}

fn tensile_strength(metal: Metal) -> f64 {
    match metal {
        Metal::Bare | Metal::Plated | Metal::HotDip => 500.0,
        Metal::S304 => 650.0,
        Metal::S316 => 670.0,
        Metal::Titanium => 420.0,
        Metal::Aluminium => 250.0,
    }
}

fn loss(hardware: &Hardware, spot: &Spot, here: Where, years: f64) -> f64 {
    let crag = here.crag();
    let place = match spot.shelter {
        Shelter::Washed => 1.2,
        Shelter::Sheltered => 1.8,
        Shelter::Seeping => 3.0,
    };
    let zinc = match hardware.metal {
        Metal::Plated => 6.0,
        Metal::HotDip => 45.0,
        Metal::Bare => 0.0,
        _ => return 0.0,
    };
    let unlike = if hardware.hanger == Some(Metal::S304) { 1.7 } else { 1.0 };
    let bare_after = libm::pow(zinc / (crag.zinc_loss * place), 1.0 / 0.81);
    let eaten = (years - bare_after).max(0.0);
    crag.steel_loss * place * unlike * hardware.luck.corrosion * libm::pow(eaten, 0.55) / 1000.0
}
