//! Title, sub-title and foot of a chart, and the style they share.

use crate::font::{self, LINE, Weight};
use crate::palette::{Palette, Theme};
use crate::scene::{Anchor, Area, Scene};
use units::UnitSystem;

/// How a chart is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Style {
    /// Light or dark.
    pub theme: Theme,
    /// Units of the reader.
    pub units: UnitSystem,
    /// Width of the picture.
    pub width: f64,
    /// Height of the picture.
    pub height: f64,
    /// Type size of labels; the foot is smaller.
    pub text: f64,
    /// Type size of the title.
    pub title: f64,
    /// Margin on all sides.
    pub margin: f64,
}

impl Style {
    /// For a wall: 1600 × 900, labels of 25.
    pub fn wall() -> Self {
        Self {
            theme: Theme::Light,
            units: UnitSystem::Metric,
            width: 1600.0,
            height: 900.0,
            text: 25.0,
            title: 39.0,
            margin: 38.0,
        }
    }

    /// For a printed page: `width` × `height` points, labels of 8.8 points, no margin.
    pub fn page(width: f64, height: f64) -> Self {
        Self {
            theme: Theme::Light,
            units: UnitSystem::Metric,
            width,
            height,
            text: 8.8,
            title: 11.5,
            margin: 0.0,
        }
    }

    /// The same in another theme.
    pub fn with_theme(mut self, theme: Theme) -> Self {
        self.theme = theme;
        self
    }

    /// The same in other units.
    pub fn with_units(mut self, units: UnitSystem) -> Self {
        self.units = units;
        self
    }

    /// Sizes held to what can be drawn.
    fn held(mut self) -> Self {
        let hold = |v: f64, low: f64, high: f64| if v.is_finite() { v.clamp(low, high) } else { low };
        self.text = hold(self.text, 4.0, 200.0);
        self.width = hold(self.width, self.text * 30.0, 20_000.0);
        self.height = hold(self.height, self.text * 16.0, 20_000.0);
        self.title = hold(self.title, self.text * 0.5, self.text * 3.0);
        self.margin = hold(self.margin, 0.0, self.text * 4.0);
        self
    }
}

/// A chart in the making.
pub(super) struct Frame {
    pub scene: Scene,
    pub palette: Palette,
    pub style: Style,
    /// What is left for the chart itself.
    pub plot: Area,
}

impl Frame {
    /// Lays out title, sub-title and foot.
    pub fn new(style: &Style, title: &str, subtitle: &str, foot: &str) -> Self {
        let style = style.held();
        let palette = Palette::of(style.theme);
        let mut scene = Scene::new(style.width, style.height, palette.ground);
        let t = style.text;
        let margin = style.margin;
        // a tenth is kept free: other typefaces run wider than the one measured with
        let room = (style.width - 2.0 * margin) * 0.88;
        let mut y = margin * 0.75;
        let size = style.title;
        for line in font::wrap_to(title, size, Weight::Bold, room, 3) {
            y += size * 1.22;
            scene.text(margin, y, line, size, Weight::Bold, palette.ink, Anchor::Start);
        }
        y += t * 0.25;
        for line in font::wrap_to(subtitle, t, Weight::Regular, room, 2) {
            y += t * LINE;
            scene.text(margin, y, line, t, Weight::Regular, palette.muted, Anchor::Start);
        }
        let small = t * 0.78;
        let foot_lines = font::wrap_to(foot, small, Weight::Regular, room, 3);
        let foot_top = style.height - margin * 0.7 - small * LINE * foot_lines.len() as f64;
        for (i, line) in foot_lines.iter().enumerate() {
            let base = foot_top + small * LINE * (i as f64 + 0.85);
            scene.text(margin, base, line, small, Weight::Regular, palette.muted, Anchor::Start);
        }
        let top = y + t * 1.0;
        let plot =
            Area { x: margin, y: top, w: style.width - 2.0 * margin, h: (foot_top - t * 0.6 - top).max(t) };
        scene.title = title.to_owned();
        scene.description = format!("{subtitle}. {foot}");
        Self { scene, palette, style, plot }
    }

    /// A text in label size.
    pub fn label(&mut self, x: f64, y: f64, text: impl AsRef<str>, anchor: Anchor) {
        let (size, color) = (self.style.text, self.palette.ink);
        self.scene.text(x, y, text, size, Weight::Regular, color, anchor);
    }

    /// A text in the secondary colour, a little smaller.
    pub fn note(&mut self, x: f64, y: f64, text: impl AsRef<str>, anchor: Anchor) {
        let (size, color) = (self.style.text * 0.84, self.palette.muted);
        self.scene.text(x, y, text, size, Weight::Regular, color, anchor);
    }

    /// A text on a patch of ground, so that lines behind it do not cross it; moved inwards if it would
    /// leave the plot's sides.
    pub fn patch(&mut self, x: f64, y: f64, text: &str, color: crate::palette::Rgb, anchor: Anchor) {
        let size = self.style.text * 0.92;
        let w = font::width(text, size, Weight::Bold) * 1.02;
        let left = match anchor {
            Anchor::Start => x,
            Anchor::Middle => x - w / 2.0,
            Anchor::End => x - w,
        };
        let left = left.min(self.plot.right() - w).max(self.plot.x);
        let pad = size * 0.2;
        let area = Area {
            x: left - pad,
            y: y - size * (font::CAP + 0.16),
            w: w + 2.0 * pad,
            h: size * (font::CAP + font::DESCENT + 0.14),
        };
        let ground = self.palette.ground;
        self.scene.fill_box(area, ground, 0.9);
        self.scene.text(left, y, text, size, Weight::Bold, color, Anchor::Start);
    }

    /// Says in the middle of the plot that there is nothing to draw.
    pub fn empty(&mut self, text: &str) {
        let (x, y) = (self.plot.x + self.plot.w / 2.0, self.plot.y + self.plot.h / 2.0);
        let size = self.style.text * 1.15;
        let lines = font::wrap(text, size, Weight::Regular, self.plot.w * 0.8);
        for (i, line) in lines.iter().enumerate() {
            let y = y + (i as f64 - (lines.len() - 1) as f64 / 2.0) * size * LINE;
            self.scene.text(x, y, line, size, Weight::Regular, self.palette.muted, Anchor::Middle);
        }
        self.scene.description.push(' ');
        self.scene.description.push_str(text);
    }
}
