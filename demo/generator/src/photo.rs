//! Small pictures of bolts, drawn by rule, with the time and place a camera would have added.

mod draw;
mod exif;

use crate::File;
use crate::dice::Dice;
use crate::world::World;
use anyhow::Result;

const COUNT: usize = 25;

/// Photos: three in five with place and time, a quarter with time only, the rest with neither.
pub(crate) fn files(world: &World) -> Result<Vec<File>> {
    let mut dice = Dice::stream(4);
    let mut files = Vec::new();
    for number in 1..=COUNT {
        let placement = &world.placements[dice.whole(0, world.placements.len() as i64 - 1) as usize];
        let route = world.route_of(placement);
        let jpeg = draw::jpeg(route.here.crag().rock, &placement.hardware, &mut dice)?;
        let (month, day) = (dice.whole(3, 10), dice.whole(1, 28));
        let (year, hour, minute) = (dice.whole(2022, 2025), dice.whole(9, 18), dice.whole(0, 59));
        let time = format!("{year}:{month:02}:{day:02} {hour:02}:{minute:02}:{:02}", dice.whole(0, 59));
        let place = (route.base.0 + dice.normal() * 4e-5, route.base.1 + dice.normal() * 5e-5);
        let roll = dice.unit();
        let (bytes, name) = if roll < 0.6 {
            (exif::with(&jpeg, &time, Some(place)), format!("IMG_{:04}.jpg", 2100 + number * 7))
        } else if roll < 0.85 {
            (exif::with(&jpeg, &time, None), format!("IMG_{:04}.jpg", 2100 + number * 7))
        } else {
            (jpeg, format!("received {number:02} {} {}.jpg", route.slug, placement.number))
        };
        files.push(File::new(format!("input/photos/{name}"), bytes));
    }
    Ok(files)
}
