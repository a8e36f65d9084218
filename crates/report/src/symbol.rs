//! The drawn symbol of each call: a shape that is known by its silhouette alone.

use crate::palette::{Palette, contrast};
use crate::scene::{Line, Outline, Point, Scene};
use judgement::Call;

/// Draws the symbol of a call into a circle of radius `r` about `(x, y)`: disc (sound), ring with a
/// dot (watch), triangle (tend), diamond (renew), saltire (shun).
pub fn draw(scene: &mut Scene, palette: &Palette, call: Call, x: f64, y: f64, r: f64) {
    let fill = Some((palette.call(call), 1.0));
    let edge = palette.edge(call);
    let line = Some(Line::new(edge, (r * 0.18).max(0.5)));
    let at = |dx: f64, dy: f64| Point::new(x + dx * r, y + dy * r);
    match call {
        Call::Sound => scene.shape(Outline::Circle(at(0.0, 0.0), r * 0.86), fill, line),
        Call::Watch => {
            // Where ring and fill are too alike the ring is left open, so that it stays a ring.
            let open = contrast(palette.call(call), edge) < 2.0;
            let fill = if open { Some((palette.ground, 1.0)) } else { fill };
            scene.shape(Outline::Circle(at(0.0, 0.0), r * 0.8), fill, Some(Line::new(edge, r * 0.32)));
            scene.shape(Outline::Circle(at(0.0, 0.0), r * 0.28), Some((edge, 1.0)), None);
        }
        Call::Tend => {
            let points = vec![at(0.0, -0.95), at(0.98, 0.78), at(-0.98, 0.78)];
            scene.shape(Outline::Path(points, true), fill, line);
        }
        Call::Renew => {
            let points = vec![at(0.0, -1.02), at(1.02, 0.0), at(0.0, 1.02), at(-1.02, 0.0)];
            scene.shape(Outline::Path(points, true), fill, line);
        }
        Call::Shun => {
            let (a, b) = (0.92, 0.34);
            let points = [
                (0.0, -b),
                (a - b, -a),
                (a, -(a - b)),
                (b, 0.0),
                (a, a - b),
                (a - b, a),
                (0.0, b),
                (-(a - b), a),
                (-a, a - b),
                (-b, 0.0),
                (-a, -(a - b)),
                (-(a - b), -a),
            ];
            let points = points.iter().map(|(dx, dy)| at(*dx, *dy)).collect();
            scene.shape(Outline::Path(points, true), fill, None);
        }
    }
}
