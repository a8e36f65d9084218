//! A picture of rock with a bolt in it.

use crate::dice::Dice;
use crate::hardware::{Hardware, Kind, Metal};
use crate::region::Rock;
use anyhow::Result;
use image::codecs::jpeg::JpegEncoder;
use image::{Rgb, RgbImage};

const WIDTH: u32 = 320;
const HEIGHT: u32 = 240;

pub(crate) fn jpeg(rock: Rock, hardware: &Hardware, dice: &mut Dice) -> Result<Vec<u8>> {
    let mut picture = face(rock, dice);
    let (x, y) = (dice.whole(130, 190) as i32, dice.whole(100, 140) as i32);
    let metal = match hardware.metal {
        Metal::Bare => [120, 72, 48],
        Metal::Plated | Metal::HotDip => [150, 128, 104],
        Metal::Titanium => [128, 126, 130],
        _ => [188, 190, 194],
    };
    let dark = metal.map(|part| part / 2);
    if hardware.kind == Kind::Glue {
        ring(&mut picture, (x, y + 16), 30, 20, metal);
        disc(&mut picture, (x, y - 8), 13, [70, 70, 66]);
        disc(&mut picture, (x, y - 8), 8, dark);
    } else {
        plate(&mut picture, (x - 18, y - 20), (x + 18, y + 30), metal);
        disc(&mut picture, (x, y + 38), 26, metal);
        disc(&mut picture, (x, y + 40), 14, [40, 38, 36]);
        disc(&mut picture, (x, y - 4), 12, dark);
        disc(&mut picture, (x, y - 4), 7, metal);
    }
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 72).encode_image(&picture)?;
    Ok(bytes)
}

/// Rock texture: soft patches of two sizes and a grain, all in whole numbers.
fn face(rock: Rock, dice: &mut Dice) -> RgbImage {
    let (base, patch, contrast, grain) = match rock {
        Rock::Granite => ([146, 142, 140], 7, 46, 16),
        Rock::Limestone => ([198, 192, 176], 30, 30, 5),
        Rock::Sandstone => ([178, 134, 92], 16, 24, 8),
    };
    let coarse = Patches::new(patch * 3, contrast, dice);
    let fine = Patches::new(patch, contrast, dice);
    let mut face = RgbImage::new(WIDTH, HEIGHT);
    for (x, y, pixel) in face.enumerate_pixels_mut() {
        let band = if rock == Rock::Sandstone { i64::from((y + x / 12) / 11 % 3) * 8 } else { 0 };
        let tone = (coarse.at(x, y) + fine.at(x, y)) / 2 + band + dice.whole(-grain, grain);
        *pixel = Rgb(base.map(|part: i64| (part + tone).clamp(0, 255) as u8));
    }
    face
}

/// Random tones on a grid, blended between its points.
struct Patches {
    size: u32,
    tones: Vec<i64>,
}

impl Patches {
    fn new(size: u32, contrast: i64, dice: &mut Dice) -> Self {
        let points = (WIDTH / size + 2) * (HEIGHT / size + 2);
        Self { size, tones: (0..points).map(|_| dice.whole(-contrast, contrast)).collect() }
    }

    fn at(&self, x: u32, y: u32) -> i64 {
        let size = i64::from(self.size);
        let tone = |column: u32, row: u32| self.tones[(row * (WIDTH / self.size + 2) + column) as usize];
        let (column, row) = (x / self.size, y / self.size);
        let (right, down) = (i64::from(x % self.size), i64::from(y % self.size));
        let upper = tone(column, row) * (size - right) + tone(column + 1, row) * right;
        let lower = tone(column, row + 1) * (size - right) + tone(column + 1, row + 1) * right;
        (upper * (size - down) + lower * down) / (size * size)
    }
}

fn put(picture: &mut RgbImage, x: i32, y: i32, colour: [u8; 3]) {
    if let (Ok(x), Ok(y)) = (u32::try_from(x), u32::try_from(y))
        && x < WIDTH
        && y < HEIGHT
    {
        picture.put_pixel(x, y, Rgb(colour));
    }
}

fn disc(picture: &mut RgbImage, (cx, cy): (i32, i32), radius: i32, colour: [u8; 3]) {
    for y in -radius..=radius {
        for x in -radius..=radius {
            if x * x + y * y <= radius * radius {
                put(picture, cx + x, cy + y, colour);
            }
        }
    }
}

fn ring(picture: &mut RgbImage, (cx, cy): (i32, i32), outer: i32, inner: i32, colour: [u8; 3]) {
    for y in -outer..=outer {
        for x in -outer..=outer {
            let from_middle = x * x + y * y;
            if from_middle <= outer * outer && from_middle >= inner * inner {
                put(picture, cx + x, cy + y, colour);
            }
        }
    }
}

fn plate(picture: &mut RgbImage, from: (i32, i32), to: (i32, i32), colour: [u8; 3]) {
    for y in from.1..to.1 {
        for x in from.0..to.0 {
            put(picture, x, y, colour);
        }
    }
}
