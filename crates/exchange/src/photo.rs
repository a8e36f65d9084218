//! Photos: time and place from the camera, identity from the content.

use crate::gpx::distance_m;
use crate::{Limits, ReadError};
use exif::{Exif, In, Tag, Value};
use register::{PhotoRecord, State, Subject, identity};
use sha2::{Digest, Sha256};
use std::io::Read;

/// A photo is taken to show a route that is this near (m; judgement: the error of a hand-held receiver
/// at the foot of a wall), if the next one is at least as far again.
const NEAR_M: f64 = 15.0;
/// Placements seen on a photo's day that still leave no doubt which one it shows.
const MANY: usize = 1;

/// A photo that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Photo {
    /// Its record.
    pub record: PhotoRecord,
    /// Why it was matched as it was, or why not.
    pub why: String,
}

impl Photo {
    /// The subject it is stated as.
    pub fn subject(&self) -> Subject {
        Subject::Photo(identity::photo(self.record.sha256.as_deref().unwrap_or("")))
    }
}

/// Reads a JPEG: SHA-256 of the file, time and position from its EXIF data, and what it shows where that
/// is clear: a placement or route named in the file name; else the only placement within 15 m that was
/// seen that day; else the route whose recorded position is nearest, within 15 m and with no other within
/// twice the distance; for a photo without position the only placement seen that day.
/// Everything else stays unmatched, with the reason.
///
/// # Errors
/// [`ReadError::NotAPhoto`], [`ReadError::TooLarge`]. Damaged EXIF data is no error: time and place are
/// then not known.
pub fn read<R: Read>(file: &str, reader: R, limits: &Limits, state: &State) -> Result<Photo, ReadError> {
    let mut bytes = Vec::new();
    reader.take(limits.file_bytes + 1).read_to_end(&mut bytes).map_err(|e| ReadError::io(file, e))?;
    if bytes.len() as u64 > limits.file_bytes {
        return Err(ReadError::TooLarge { file: file.to_owned(), limit: limits.file_bytes });
    }
    if bytes.is_empty() {
        return Err(ReadError::Empty { file: file.to_owned() });
    }
    if !bytes.starts_with(b"\xff\xd8\xff") {
        return Err(ReadError::NotAPhoto { file: file.to_owned() });
    }
    let name = file.rsplit(['/', '\\']).next().unwrap_or(file).to_owned();
    let mut record = PhotoRecord {
        file: Some(name.clone()),
        sha256: Some(hex(&Sha256::digest(&bytes))),
        ..PhotoRecord::default()
    };
    let exif = exif::Reader::new()
        .continue_on_error(true)
        .read_from_container(&mut std::io::Cursor::new(&bytes))
        .or_else(|e| e.distill_partial_result(|_| {}));
    if let Ok(exif) = &exif {
        record.taken_at = taken_at(exif);
        if let Some((latitude, longitude)) = position(exif) {
            record.latitude_deg = Some(latitude);
            record.longitude_deg = Some(longitude);
        }
    }
    let (shows, why) = shown(&name, &record, state);
    record.shows = shows;
    Ok(Photo { record, why })
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}

/// SHA-256 of a file's content in hexadecimal figures.
pub fn sha256(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

/// `2023-04-15T08:12:00`, the camera's local time.
fn taken_at(exif: &Exif) -> Option<String> {
    let field = [Tag::DateTimeOriginal, Tag::DateTimeDigitized, Tag::DateTime]
        .into_iter()
        .find_map(|tag| exif.get_field(tag, In::PRIMARY))?;
    let Value::Ascii(texts) = &field.value else { return None };
    let t = exif::DateTime::from_ascii(texts.first()?).ok()?;
    jiff::civil::Date::new(
        i16::try_from(t.year).ok()?,
        i8::try_from(t.month).ok()?,
        i8::try_from(t.day).ok()?,
    )
    .ok()
    .filter(|date| date.year() >= 1900)?;
    (t.hour < 24 && t.minute < 60 && t.second < 61).then(|| {
        format!("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}", t.year, t.month, t.day, t.hour, t.minute, t.second)
    })
}

fn position(exif: &Exif) -> Option<(f64, f64)> {
    let part = |tag, mark: Tag, negative: u8, most: f64| -> Option<f64> {
        let Value::Rational(parts) = &exif.get_field(tag, In::PRIMARY)?.value else { return None };
        let mut degrees = 0.0;
        for (rational, share) in parts.iter().zip([1.0, 60.0, 3600.0]) {
            if rational.denom == 0 {
                return None;
            }
            degrees += rational.to_f64() / share;
        }
        let sign = match &exif.get_field(mark, In::PRIMARY)?.value {
            Value::Ascii(texts) => texts.first()?.first()?.to_ascii_uppercase(),
            _ => return None,
        };
        (!parts.is_empty() && degrees.is_finite() && degrees <= most).then_some(if sign == negative {
            -degrees
        } else {
            degrees
        })
    };
    let latitude = part(Tag::GPSLatitude, Tag::GPSLatitudeRef, b'S', 90.0)?;
    let longitude = part(Tag::GPSLongitude, Tag::GPSLongitudeRef, b'W', 180.0)?;
    // A receiver without a fix writes zeros.
    (latitude != 0.0 || longitude != 0.0).then_some((latitude, longitude))
}

/// What a photo shows and why, as far as it is clear.
fn shown(name: &str, record: &PhotoRecord, state: &State) -> (Option<String>, String) {
    match by_name(name, state) {
        Matched::One(id, what) => return (Some(id), format!("its file name names the {what}")),
        Matched::Several => return (None, "its file name fits several routes".to_owned()),
        Matched::None => {}
    }
    let day = record.taken_at.as_deref().and_then(|t| t.get(..10)).and_then(|d| d.parse().ok());
    if let (Some(latitude), Some(longitude)) = (record.latitude_deg, record.longitude_deg) {
        let here = (latitude, longitude);
        let mut routes: Vec<(f64, &str)> = state
            .routes()
            .filter_map(|r| {
                let there = (r.record.latitude_deg?, r.record.longitude_deg?);
                Some((distance_m(here, there), r.id))
            })
            .collect();
        routes.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(b.1)));
        if let Some(&(nearest, id)) = routes.first() {
            if nearest > NEAR_M {
                return (None, format!("the nearest route, {id}, is {nearest:.0} m away"));
            }
            // What was seen that day on the routes within reach.
            if let Some(day) = day {
                let seen: Vec<&str> = routes
                    .iter()
                    .take_while(|(distance, _)| *distance <= NEAR_M)
                    .flat_map(|(_, route)| state.placements_of(route))
                    .filter(|p| state.sightings_of(p.id).any(|s| s.record.on == Some(day)))
                    .map(|p| p.id)
                    .take(MANY + 1)
                    .collect();
                if let [one] = seen[..] {
                    return (
                        Some(one.to_owned()),
                        format!("only this placement within {NEAR_M} m was seen on the day it was taken"),
                    );
                }
            }
            let second = routes.get(1).map_or(f64::INFINITY, |r| r.0);
            if second < 2.0 * nearest.max(2.0) {
                return (
                    None,
                    format!("{id} is {nearest:.0} m away and another route {second:.0} m: not clear which"),
                );
            }
            return (
                Some(id.to_owned()),
                format!("the route is {nearest:.0} m away and the next one {second:.0} m"),
            );
        }
    }
    if let Some(day) = day {
        let seen: Vec<String> = state
            .sightings()
            .filter(|s| s.record.on == Some(day))
            .filter_map(|s| s.record.placement.clone())
            .take(MANY + 1)
            .collect();
        if let [one] = &seen[..] {
            return (Some(one.clone()), "only this placement was seen on the day it was taken".to_owned());
        }
        if !seen.is_empty() {
            return (None, "several placements were seen on the day it was taken".to_owned());
        }
    }
    (None, "neither name, place nor day tells what it shows".to_owned())
}

enum Matched {
    One(String, &'static str),
    Several,
    None,
}

/// The placement or route whose slug stands in the file name, with the placement's number after it.
fn by_name(name: &str, state: &State) -> Matched {
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    let slug = format!("-{}-", identity::slug(stem));
    let mut found: Vec<(usize, &str)> = state
        .routes()
        .filter_map(|r| {
            let own = r.id.rsplit('/').next()?;
            (own.len() >= 4 && slug.contains(&format!("-{own}-"))).then_some((own.len(), r.id))
        })
        .collect();
    // "corner" also stands in "blind-corner": the longest name is meant.
    found.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(b.1)));
    let Some(&(longest, route)) = found.first() else { return Matched::None };
    let same: Vec<&str> = found.iter().filter(|f| f.0 == longest).map(|f| f.1).collect();
    let route = match same[..] {
        [_] => route,
        // The crag's name beside it decides.
        _ => {
            let named: Vec<&str> = same
                .iter()
                .copied()
                .filter(|id| id.split('/').next().is_some_and(|crag| slug.contains(&format!("-{crag}-"))))
                .collect();
            match named[..] {
                [one] => one,
                _ => return Matched::Several,
            }
        }
    };
    let own = route.rsplit('/').next().unwrap_or(route);
    let after = slug.split_once(&format!("-{own}-")).map_or("", |(_, after)| after);
    let number = after
        .split('-')
        .find_map(|part| part.trim_start_matches(|c: char| c.is_ascii_alphabetic()).parse::<u16>().ok());
    if let Some(number) = number {
        let id = identity::placement(route, None, number);
        if state.placement(&id).is_some() {
            return Matched::One(id, "placement");
        }
    }
    Matched::One(route.to_owned(), "route")
}
