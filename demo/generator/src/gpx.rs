//! GPX 1.1: the approaches as tracks, the foot of each route as a waypoint.

use crate::File;
use crate::dice::Dice;
use crate::region::{CRAGS, Crag, point};
use crate::world::World;
use std::fmt::Write as _;

pub(crate) fn files(world: &World) -> Vec<File> {
    CRAGS.iter().map(|crag| file(world, crag)).collect()
}

fn file(world: &World, crag: &Crag) -> File {
    let mut dice = Dice::stream(10 + crag.here as u64);
    let mut text = String::from(concat!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n",
        "<gpx version=\"1.1\" creator=\"handheld receiver\" xmlns=\"http://www.topografix.com/GPX/1/1\">\n",
    ));
    let _ =
        writeln!(text, "  <metadata><name>{}</name><time>2023-04-15T08:12:00Z</time></metadata>", crag.name);
    for route in world.routes.iter().filter(|route| route.here == crag.here) {
        // Under a cliff a receiver sees half the sky: several metres of error.
        let (latitude, longitude) =
            (route.base.0 + dice.normal() * 3e-5, route.base.1 + dice.normal() * 4e-5);
        let name = route.name.replace('\'', "&apos;");
        let _ = writeln!(
            text,
            "  <wpt lat=\"{latitude:.6}\" lon=\"{longitude:.6}\"><name>{name}</name><desc>{}, foot of route</desc></wpt>",
            route.sector
        );
    }
    let _ = writeln!(text, "  <trk><name>Approach to {}</name><trkseg>", crag.name);
    let steps = 80;
    let (mut along, mut minute) = (0.0, 0.0);
    for step in 0..=steps {
        let left = f64::from(steps - step) / f64::from(steps);
        along += dice.between(-9.0, 9.0);
        let (latitude, longitude) = point(crag, along * left, -14.0 - 900.0 * left);
        minute += dice.between(0.15, 0.3);
        let seconds = (minute * 60.0) as i64;
        let height = 120.0 + 60.0 * (1.0 - left) + dice.normal();
        let _ = writeln!(
            text,
            "    <trkpt lat=\"{latitude:.6}\" lon=\"{longitude:.6}\"><ele>{height:.1}</ele><time>2023-04-15T08:{:02}:{:02}Z</time></trkpt>",
            12 + seconds / 60,
            seconds % 60
        );
    }
    text.push_str("  </trkseg></trk>\n</gpx>\n");
    File::new(format!("input/gpx/{}.gpx", crag.slug), text)
}
