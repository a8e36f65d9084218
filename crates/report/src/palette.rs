//! Colours: few, calm, told apart by people with any colour vision, never alone in carrying meaning.

use judgement::Call;

/// A colour of the sRGB space.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Rgb(pub u8, pub u8, pub u8);

impl Rgb {
    /// As `#rrggbb`.
    pub fn hex(self) -> String {
        format!("#{:02x}{:02x}{:02x}", self.0, self.1, self.2)
    }
}

const fn rgb(hex: u32) -> Rgb {
    Rgb((hex >> 16) as u8, (hex >> 8) as u8, hex as u8)
}

/// A light or a dark ground.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Theme {
    /// Dark ink on a light ground: the default, for paper and bright rooms.
    #[default]
    Light,
    /// Light ink on a dark ground.
    Dark,
}

/// The colours of a theme.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Palette {
    /// Background.
    pub ground: Rgb,
    /// Main text.
    pub ink: Rgb,
    /// Secondary text; at least 4.5 : 1 against the ground.
    pub muted: Rgb,
    /// Grid lines and rules.
    pub grid: Rgb,
    /// What a placement holds.
    pub holds: Rgb,
    /// What is asked of it.
    pub asked: Rgb,
    /// Fills of the calls in the order sound, watch, tend, renew, shun.
    pub calls: [Rgb; 5],
    /// Outlines of the calls, at least 3 : 1 against the ground.
    pub edges: [Rgb; 5],
}

impl Palette {
    /// The colours of a theme.
    pub const fn of(theme: Theme) -> Self {
        match theme {
            Theme::Light => Self {
                ground: rgb(0xffffff),
                ink: rgb(0x1a2530),
                muted: rgb(0x55616d),
                grid: rgb(0xdfe4e8),
                holds: rgb(0x1f5fa8),
                asked: rgb(0xb3570b),
                calls: [rgb(0x4a8fce), rgb(0xf3dc7b), rgb(0xe6952e), rgb(0xb23a1e), rgb(0x2b1638)],
                edges: [rgb(0x1f5a94), rgb(0x8a7415), rgb(0x99590a), rgb(0x7d230e), rgb(0x2b1638)],
            },
            Theme::Dark => Self {
                ground: rgb(0x12181e),
                ink: rgb(0xf0f3f5),
                muted: rgb(0xa9b4be),
                grid: rgb(0x33404b),
                holds: rgb(0x7db8f0),
                asked: rgb(0xf2a65a),
                calls: [rgb(0x4a90d8), rgb(0xf0d040), rgb(0xcc6f18), rgb(0x8f2a1c), rgb(0xf4eefb)],
                edges: [rgb(0x8fc4f5), rgb(0xf0d040), rgb(0xf5b877), rgb(0xe88a74), rgb(0xf4eefb)],
            },
        }
    }

    /// Fill of a call.
    pub fn call(&self, call: Call) -> Rgb {
        self.calls[index(call)]
    }

    /// Outline of a call.
    pub fn edge(&self, call: Call) -> Rgb {
        self.edges[index(call)]
    }

    /// The ink of the two that reads better on a fill.
    pub fn ink_on(&self, fill: Rgb) -> Rgb {
        let dark = rgb(0x10161b);
        let light = rgb(0xffffff);
        if contrast(fill, dark) >= contrast(fill, light) { dark } else { light }
    }
}

/// All calls, least urgent first.
pub(crate) const CALLS: [Call; 5] = [Call::Sound, Call::Watch, Call::Tend, Call::Renew, Call::Shun];

/// Place of a call in [`CALLS`].
pub(crate) fn index(call: Call) -> usize {
    match call {
        Call::Sound => 0,
        Call::Watch => 1,
        Call::Tend => 2,
        Call::Renew => 3,
        Call::Shun => 4,
    }
}

fn linear(c: u8) -> f64 {
    let v = f64::from(c) / 255.0;
    if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
}

/// Contrast ratio of two colours, `(L1 + 0.05) / (L2 + 0.05)` with relative luminance
/// `L = 0.2126 R + 0.7152 G + 0.0722 B` of linear sRGB; 1 to 21. Source: W3C, Web Content
/// Accessibility Guidelines 2.2, definitions of contrast ratio and relative luminance (from memory).
pub fn contrast(a: Rgb, b: Rgb) -> f64 {
    let l = |c: Rgb| 0.2126 * linear(c.0) + 0.7152 * linear(c.1) + 0.0722 * linear(c.2);
    let (a, b) = (l(a), l(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Linear sRGB as seen with no L cones (protan), no M cones (deutan) or no S cones (tritan), the
    /// full-severity matrices of Machado, Oliveira and Fernandes (2009), from memory.
    const VISION: [(&str, [[f64; 3]; 3]); 4] = [
        ("full", [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]),
        (
            "protan",
            [
                [0.152286, 1.052583, -0.204868],
                [0.114503, 0.786281, 0.099216],
                [-0.003882, -0.048116, 1.051998],
            ],
        ),
        (
            "deutan",
            [
                [0.367322, 0.860646, -0.227968],
                [0.280085, 0.672501, 0.047413],
                [-0.011820, 0.042940, 0.968881],
            ],
        ),
        (
            "tritan",
            [
                [1.255528, -0.076749, -0.178779],
                [-0.078411, 0.930809, 0.147602],
                [0.004733, 0.691367, 0.303900],
            ],
        ),
    ];

    /// CIE L*a*b* (D65) of a colour as seen through a vision matrix.
    fn lab(c: Rgb, m: &[[f64; 3]; 3]) -> [f64; 3] {
        let v = [linear(c.0), linear(c.1), linear(c.2)];
        let s: Vec<f64> =
            m.iter().map(|r| (r[0] * v[0] + r[1] * v[1] + r[2] * v[2]).clamp(0.0, 1.0)).collect();
        let x = (0.4124 * s[0] + 0.3576 * s[1] + 0.1805 * s[2]) / 0.95047;
        let y = 0.2126 * s[0] + 0.7152 * s[1] + 0.0722 * s[2];
        let z = (0.0193 * s[0] + 0.1192 * s[1] + 0.9505 * s[2]) / 1.08883;
        let f = |t: f64| if t > 0.008856 { t.cbrt() } else { 7.787 * t + 16.0 / 116.0 };
        [116.0 * f(y) - 16.0, 500.0 * (f(x) - f(y)), 200.0 * (f(y) - f(z))]
    }

    /// CIE76 colour difference.
    fn distance(a: &[f64; 3], b: &[f64; 3]) -> f64 {
        a.iter().zip(b).map(|(x, y)| (x - y).powi(2)).sum::<f64>().sqrt()
    }

    #[test]
    fn vision_matrices_keep_white_white() {
        for (name, m) in &VISION {
            for row in m {
                assert!((row.iter().sum::<f64>() - 1.0).abs() < 2e-6, "{name} {row:?}");
            }
        }
    }

    #[test]
    fn calls_stay_apart_for_every_colour_vision() {
        // 20 units of CIE76 are about nine just-noticeable differences (2.3 units each).
        for theme in [Theme::Light, Theme::Dark] {
            let p = Palette::of(theme);
            for (name, m) in &VISION {
                let seen: Vec<(Call, [f64; 3])> =
                    CALLS.into_iter().map(|call| (call, lab(p.call(call), m))).collect();
                for (i, (one, a)) in seen.iter().enumerate() {
                    for (other, b) in &seen[i + 1..] {
                        let d = distance(a, b);
                        assert!(d > 20.0, "{theme:?} {name} {one:?} {other:?}: {d:.1}");
                    }
                }
                let d = distance(&lab(p.holds, m), &lab(p.asked, m));
                assert!(d > 40.0, "{theme:?} {name} holds/asked {d:.1}");
            }
        }
    }

    #[test]
    fn text_and_outlines_have_contrast() {
        for theme in [Theme::Light, Theme::Dark] {
            let p = Palette::of(theme);
            assert!(contrast(p.ink, p.ground) > 12.0);
            for c in [p.muted, p.holds, p.asked] {
                assert!(contrast(c, p.ground) >= 4.5, "{theme:?} {c:?} {:.2}", contrast(c, p.ground));
            }
            for (call, edge) in CALLS.iter().zip(p.edges) {
                assert!(
                    contrast(edge, p.ground) >= 3.0,
                    "{theme:?} {call:?} {:.2}",
                    contrast(edge, p.ground)
                );
            }
            for fill in p.calls {
                assert!(contrast(p.ink_on(fill), fill) >= 4.5, "{theme:?} {fill:?}");
            }
        }
    }

    #[test]
    fn contrast_of_black_and_white_is_21() {
        assert!((contrast(Rgb(0, 0, 0), Rgb(255, 255, 255)) - 21.0).abs() < 1e-9);
    }
}
