//! The crags' routes and placements as they truly are.

use crate::dice::Dice;
use crate::hardware::{self, BAD_SETTER, Hardware};
use crate::region::{CRAGS, Where, point};
use crate::{loads, names, strength};
use jiff::civil::Date;

/// The day the truth is told for.
pub(crate) const NOW: Date = Date::constant(2025, 11, 1);

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Steep {
    Slab,
    Vertical,
    Overhang,
    Roof,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shelter {
    Washed,
    Sheltered,
    Seeping,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    Runner,
    LowerOff,
    Belay,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Traffic {
    Rare,
    Regular,
    Popular,
}

pub(crate) struct Route {
    pub(crate) here: Where,
    pub(crate) name: String,
    pub(crate) slug: String,
    pub(crate) sector: &'static str,
    pub(crate) grade: String,
    pub(crate) length: f64,
    pub(crate) steep: Steep,
    pub(crate) traffic: Traffic,
    pub(crate) base: (f64, f64),
}

/// The rock and position of one hole.
#[derive(Clone, Debug)]
pub(crate) struct Spot {
    pub(crate) steep: Steep,
    pub(crate) shelter: Shelter,
    pub(crate) ucs: f64,
    pub(crate) edge: Option<f64>,
    pub(crate) spacing: Option<f64>,
    pub(crate) cracked_rock: bool,
    pub(crate) hollow: bool,
}

pub(crate) struct Placement {
    pub(crate) route: usize,
    pub(crate) number: u16,
    pub(crate) pitch: u16,
    pub(crate) role: Role,
    pub(crate) height: f64,
    pub(crate) spot: Spot,
    pub(crate) hardware: Hardware,
    /// What was in the hole before, and the day it came out.
    pub(crate) former: Option<(Hardware, Date)>,
}

pub(crate) struct World {
    pub(crate) routes: Vec<Route>,
    pub(crate) placements: Vec<Placement>,
}

impl World {
    pub(crate) fn build() -> Self {
        let mut dice = Dice::stream(1);
        let mut world = Self { routes: Vec::new(), placements: Vec::new() };
        for crag in &CRAGS {
            for (index, name) in names::routes(crag.here, crag.routes, &mut dice).into_iter().enumerate() {
                let route = route(crag.here, index, name, &mut dice);
                world.routes.push(route);
                world.equip(world.routes.len() - 1, &mut dice);
            }
        }
        world.outlive();
        world
    }

    /// What is weak enough to have failed in the last five years is gone, and renewed: only survivors are left.
    fn outlive(&mut self) {
        let mut dice = Dice::stream(5);
        for placement in &mut self.placements {
            let route = &self.routes[placement.route];
            let strength = strength::of(&placement.hardware, &placement.spot, route.here, NOW);
            let (resistance, _) = strength.at(loads::angle(placement));
            let survives = libm::pow(1.0 - loads::annual_failure(placement, route.traffic, resistance), 5.0);
            if !dice.chance(survives) {
                let year = dice.whole(2019, 2024) as i16;
                let sheltered = placement.spot.shelter != Shelter::Washed;
                placement.hardware =
                    hardware::set(route.here, year, sheltered, setter(year, &mut dice), &mut dice);
            }
        }
    }

    pub(crate) fn route_of(&self, placement: &Placement) -> &Route {
        &self.routes[placement.route]
    }

    pub(crate) fn here(&self, placement: &Placement) -> Where {
        self.route_of(placement).here
    }

    /// Identity of a placement as the register would write it.
    pub(crate) fn identity(&self, placement: &Placement) -> String {
        let route = self.route_of(placement);
        let pitch = if placement.pitch > 1 { format!("p{}-", placement.pitch) } else { String::new() };
        format!("{}/{}/{pitch}{}", route.here.crag().slug, route.slug, placement.number)
    }

    fn equip(&mut self, index: usize, dice: &mut Dice) {
        let route = &self.routes[index];
        let here = route.here;
        let crag = here.crag();
        let first_year = first_year(dice);
        let rebolted = rebolted(here, first_year, dice);
        let first_setter = setter(first_year, dice);
        let later_setter = rebolted.map(|year| setter(year, dice));
        let route_ucs = dice.around(crag.ucs, crag.ucs_route);
        let pitches: u16 =
            if here == Where::Tern && route.length > 27.0 && dice.chance(0.35) { 2 } else { 1 };
        let pitch_length = route.length / f64::from(pitches);
        for pitch in 1..=pitches {
            let mut number = 0;
            let mut height = dice.between(2.6, 4.2);
            let mut stands: Vec<(f64, Role)> = Vec::new();
            while height < pitch_length - 1.0 {
                stands.push((height, Role::Runner));
                height += dice.between(1.35, 2.35);
            }
            let top = if pitch < pitches { Role::Belay } else { Role::LowerOff };
            stands.push((pitch_length, top));
            stands.push((pitch_length, top));
            let apart = dice.between(90.0, 320.0);
            for (height, role) in stands {
                number += 1;
                let spot = Spot {
                    spacing: (role != Role::Runner).then_some(apart),
                    ..spot(here, route, height, route_ucs, dice)
                };
                let sheltered = spot.shelter != Shelter::Washed;
                let renewed =
                    rebolted.filter(|_| dice.chance(if role == Role::Runner { 0.88 } else { 0.97 }));
                let (year, by) = match (renewed, later_setter) {
                    (Some(year), Some(by)) => (year, by),
                    _ => (first_year, first_setter),
                };
                let hardware = hardware::set(here, year, sheltered, by, dice);
                self.placements.push(Placement {
                    route: index,
                    number,
                    pitch,
                    role,
                    height: (height * 10.0).round() / 10.0,
                    spot,
                    hardware,
                    former: None,
                });
            }
        }
    }
}

fn route(here: Where, index: usize, name: String, dice: &mut Dice) -> Route {
    let crag = here.crag();
    let steep = match here {
        Where::Harl => dice.weighted(&[(0.35, Steep::Slab), (0.5, Steep::Vertical), (0.15, Steep::Overhang)]),
        Where::Tern => dice.weighted(&[(0.5, Steep::Vertical), (0.4, Steep::Overhang), (0.1, Steep::Roof)]),
        Where::Otter => {
            dice.weighted(&[(0.4, Steep::Slab), (0.55, Steep::Vertical), (0.05, Steep::Overhang)])
        }
    };
    let hard = match steep {
        Steep::Slab => 4,
        Steep::Vertical => 5,
        Steep::Overhang => 6,
        Steep::Roof => 7,
    };
    let grade =
        format!("{}{}{}", hard + dice.whole(0, 1), dice.pick(&["a", "b", "c"]), dice.pick(&["", "", "+"]));
    let length = match here {
        Where::Harl => dice.between(14.0, 28.0),
        Where::Tern => dice.between(16.0, 36.0),
        Where::Otter => dice.between(10.0, 22.0),
    };
    let along = (index as f64 - crag.routes as f64 / 2.0) * 4.5;
    Route {
        here,
        slug: names::slug(&name),
        name,
        sector: crag.sectors[index * 3 / crag.routes],
        grade,
        length: length.round(),
        steep,
        traffic: dice.weighted(&[(0.35, Traffic::Rare), (0.45, Traffic::Regular), (0.2, Traffic::Popular)]),
        base: point(crag, along, dice.between(-1.0, 1.0)),
    }
}

fn spot(here: Where, route: &Route, height: f64, route_ucs: f64, dice: &mut Dice) -> Spot {
    let crag = here.crag();
    let weathered = if dice.chance(0.03) { 0.4 } else { 1.0 };
    // The river soaks the foot of the gorge every winter.
    let soaked = if here == Where::Otter && height < 5.0 { 0.65 } else { 1.0 };
    let shelter = match here {
        Where::Otter if height < 5.0 => dice.weighted(&[(0.5, Shelter::Seeping), (0.5, Shelter::Washed)]),
        _ => match route.steep {
            Steep::Slab | Steep::Vertical => {
                dice.weighted(&[(0.92, Shelter::Washed), (0.08, Shelter::Seeping)])
            }
            Steep::Overhang => dice.weighted(&[(0.8, Shelter::Sheltered), (0.2, Shelter::Washed)]),
            Steep::Roof => Shelter::Sheltered,
        },
    };
    let steep = if dice.chance(0.1) { Steep::Vertical } else { route.steep };
    Spot {
        steep,
        shelter,
        ucs: dice.around(route_ucs, crag.ucs_hole) * weathered * soaked,
        edge: dice.chance(0.07).then(|| dice.between(40.0, 220.0)),
        spacing: None,
        cracked_rock: dice.chance(0.03),
        hollow: dice.chance(if here == Where::Tern { 0.02 } else { 0.008 }),
    }
}

fn first_year(dice: &mut Dice) -> i16 {
    let (from, to) = dice.weighted(&[
        (0.12, (1964, 1974)),
        (0.12, (1975, 1987)),
        (0.24, (1988, 1999)),
        (0.24, (2000, 2011)),
        (0.28, (2012, 2024)),
    ]);
    dice.whole(from, to) as i16
}

fn rebolted(here: Where, first: i16, dice: &mut Dice) -> Option<i16> {
    let likely = match (here, first) {
        (Where::Tern, ..=1999) => 0.7,
        (_, ..=1987) => 0.5,
        (_, 1988..=1999) => 0.35,
        (_, 2000..=2007) => 0.1,
        _ => 0.0,
    };
    dice.chance(likely).then(|| {
        let (from, to) = match first {
            ..=1987 => dice.weighted(&[(0.35, (1996, 2004)), (0.3, (2016, 2017)), (0.35, (2012, 2024))]),
            _ => dice.weighted(&[(0.35, (2016, 2017)), (0.65, (2012, 2024))]),
        };
        dice.whole(from, to) as i16
    })
}

fn setter(year: i16, dice: &mut Dice) -> Option<&'static str> {
    match year {
        ..=1974 => None,
        1975..=1993 => dice.weighted(&[(0.4, None), (0.3, Some("Oskar N.")), (0.3, Some("Hedda R."))]),
        1994..=2009 => dice.weighted(&[
            (0.3, Some(BAD_SETTER)),
            (0.3, Some("Hedda R.")),
            (0.3, Some("Pia L.")),
            (0.1, None),
        ]),
        _ => dice.weighted(&[(0.4, Some("Pia L.")), (0.35, Some("Runa D.")), (0.25, Some("Teo M."))]),
    }
}
