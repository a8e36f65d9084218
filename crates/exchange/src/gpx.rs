//! Waypoints: positions of crags and routes.

use crate::repair::Finding;
use crate::sheet::Draft;
use crate::{Limits, ReadError};
use register::{Body, CragRecord, RouteRecord, State, Subject, identity};
use std::io::Read;

/// A named waypoint.
#[derive(Clone, Debug, PartialEq)]
pub struct Waypoint {
    /// Its name.
    pub name: String,
    /// Degrees, north positive.
    pub latitude_deg: f64,
    /// Degrees, east positive.
    pub longitude_deg: f64,
}

/// What came of a file of waypoints.
#[derive(Clone, Debug, Default)]
pub struct WaypointImport {
    /// Positions of crags and routes that the register does not hold yet; the row is the waypoint's number.
    pub drafts: Vec<Draft>,
    /// Waypoints that no crag or route matches.
    pub unmatched: Vec<Waypoint>,
    /// What a person should know.
    pub findings: Vec<Finding>,
}

/// Reads GPX 1.0 or 1.1 and matches its waypoints by name with the crags and routes that the register
/// knows. A name that several routes have is decided by the crag that the file's own name or title
/// stands for, else left unmatched. Spelling may differ in capitals, blanks and accents only.
///
/// # Errors
/// [`ReadError::Waypoints`] if it is no GPX, [`ReadError::TooLarge`].
pub fn read<R: Read>(
    file: &str,
    reader: R,
    limits: &Limits,
    state: &State,
) -> Result<WaypointImport, ReadError> {
    let mut bytes = Vec::new();
    reader.take(limits.file_bytes + 1).read_to_end(&mut bytes).map_err(|e| ReadError::io(file, e))?;
    if bytes.len() as u64 > limits.file_bytes {
        return Err(ReadError::TooLarge { file: file.to_owned(), limit: limits.file_bytes });
    }
    if bytes.is_empty() {
        return Err(ReadError::Empty { file: file.to_owned() });
    }
    let data = gpx::read(&bytes[..])
        .map_err(|e| ReadError::Waypoints { file: file.to_owned(), reason: e.to_string() })?;
    let stem = file.rsplit(['/', '\\']).next().unwrap_or(file).split('.').next().unwrap_or("");
    let title = data.metadata.as_ref().and_then(|m| m.name.clone()).unwrap_or_default();
    let home = [title.as_str(), stem].into_iter().map(identity::crag).find(|id| state.crag(id).is_some());

    let mut import = WaypointImport::default();
    let mut nameless = 0;
    for (index, point) in data.waypoints.iter().enumerate() {
        let row = index as u32 + 1;
        let (longitude_deg, latitude_deg) = point.point().x_y();
        let Some(name) = point.name.as_deref().map(str::trim).filter(|n| !n.is_empty()) else {
            nameless += 1;
            continue;
        };
        let finding =
            |text: String| Finding { sheet: None, row, rows: 1, column: None, text, cases: Vec::new() };
        if !(latitude_deg.abs() <= 90.0 && longitude_deg.abs() <= 180.0) {
            import.findings.push(finding(format!("waypoint \"{name}\" has no place on earth")));
            continue;
        }
        let place = (Some(latitude_deg), Some(longitude_deg));
        let slug = identity::slug(name);
        if state.crag(&slug).is_some() {
            let record =
                CragRecord { latitude_deg: place.0, longitude_deg: place.1, ..CragRecord::default() };
            push(&mut import.drafts, state, row, Subject::Crag(slug), Body::Crag(record));
            continue;
        }
        let ids: Vec<&str> =
            state.routes().map(|r| r.id).filter(|id| id.rsplit('/').next() == Some(slug.as_str())).collect();
        let here: Vec<&str> = match &home {
            Some(crag) if ids.len() > 1 => {
                ids.iter().copied().filter(|id| id.split('/').next() == Some(crag.as_str())).collect()
            }
            _ => ids.clone(),
        };
        match here[..] {
            [one] => {
                let record =
                    RouteRecord { latitude_deg: place.0, longitude_deg: place.1, ..RouteRecord::default() };
                push(&mut import.drafts, state, row, Subject::Route(one.to_owned()), Body::Route(record));
            }
            [] => import.unmatched.push(Waypoint { name: name.to_owned(), latitude_deg, longitude_deg }),
            _ => {
                import
                    .findings
                    .push(finding(format!("waypoint \"{name}\" fits several routes: {}", here.join(", "))));
                import.unmatched.push(Waypoint { name: name.to_owned(), latitude_deg, longitude_deg });
            }
        }
    }
    if nameless > 0 {
        import.findings.push(Finding {
            sheet: None,
            row: 0,
            rows: nameless,
            column: None,
            text: format!("{nameless} waypoints without a name were left out"),
            cases: Vec::new(),
        });
    }
    Ok(import)
}

fn push(drafts: &mut Vec<Draft>, state: &State, row: u32, subject: Subject, body: Body) {
    if let Some(body) = state.news(&subject, body) {
        drafts.push(Draft { row, subject, body });
    }
}

/// Distance in metres between two positions in degrees, on a sphere of 6 371 009 m (haversine; within
/// half a per cent of the ellipsoid, far below the error of a hand-held receiver).
pub(crate) fn distance_m(a: (f64, f64), b: (f64, f64)) -> f64 {
    let (lat_a, lat_b) = (a.0.to_radians(), b.0.to_radians());
    let half = |x: f64| (x / 2.0).sin().powi(2);
    let h = half(lat_b - lat_a) + lat_a.cos() * lat_b.cos() * half((b.1 - a.1).to_radians());
    2.0 * 6_371_009.0 * h.clamp(0.0, 1.0).sqrt().asin()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One degree of a meridian on that sphere is 111.195 km (2 pi R / 360).
    #[test]
    fn a_degree_of_the_meridian() {
        assert!((distance_m((54.0, -2.0), (55.0, -2.0)) - 111_195.0).abs() < 1.0);
        assert_eq!(distance_m((54.0, -2.0), (54.0, -2.0)), 0.0);
    }
}
