//! What a picture consists of, before it becomes SVG or PDF.

use crate::font::{self, Weight};
use crate::palette::Rgb;

/// A point, y downwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Downwards.
    pub y: f64,
}

/// A box with sides along the axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Left edge.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// Width.
    pub w: f64,
    /// Height.
    pub h: f64,
}

impl Area {
    /// Right edge.
    pub fn right(self) -> f64 {
        self.x + self.w
    }
    /// Lower edge.
    pub fn bottom(self) -> f64 {
        self.y + self.h
    }
    /// True where the two have more than an edge in common.
    pub fn overlaps(self, other: Area) -> bool {
        self.x < other.right() && other.x < self.right() && self.y < other.bottom() && other.y < self.bottom()
    }
}

/// The outline of a shape.
#[derive(Clone, Debug, PartialEq)]
pub enum Outline {
    /// A box, with the radius of its corners.
    Box(Area, f64),
    /// A circle by centre and radius.
    Circle(Point, f64),
    /// Straight lines through points, closed or not.
    Path(Vec<Point>, bool),
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Colour.
    pub color: Rgb,
    /// Width.
    pub width: f64,
    /// Length of dashes and of the gaps between them.
    pub dash: Option<f64>,
}

impl Line {
    /// An unbroken line.
    pub fn new(color: Rgb, width: f64) -> Self {
        Self { color, width, dash: None }
    }
    /// A dashed line.
    pub fn dashed(color: Rgb, width: f64, dash: f64) -> Self {
        Self { color, width, dash: Some(dash) }
    }
}

/// Which end of a text lies at its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The text begins there.
    Start,
    /// The text is centred there.
    Middle,
    /// The text ends there.
    End,
}

/// A piece of a picture.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// A filled or outlined shape.
    Shape {
        /// Its outline.
        outline: Outline,
        /// Fill and its opacity 0..1.
        fill: Option<(Rgb, f64)>,
        /// Outline stroke.
        line: Option<Line>,
    },
    /// A line of text.
    Text {
        /// Where it stands, on the baseline.
        at: Point,
        /// What it says.
        text: String,
        /// Type size.
        size: f64,
        /// Weight.
        weight: Weight,
        /// Colour.
        color: Rgb,
        /// Which end is at the point.
        anchor: Anchor,
    },
}

/// A finished picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// What it shows, one sentence.
    pub title: String,
    /// The same for people who cannot see it: the numbers in words.
    pub description: String,
    /// Background.
    pub ground: Rgb,
    /// Pieces, hindmost first.
    pub items: Vec<Item>,
}

/// Last guard: no coordinate leaves the crate that a viewer could not read.
fn finite(v: f64) -> f64 {
    if v.is_finite() { v.clamp(-1e6, 1e6) } else { 0.0 }
}

impl Point {
    /// A point.
    pub fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }
    fn guarded(self) -> Self {
        Self { x: finite(self.x), y: finite(self.y) }
    }
}

impl Scene {
    /// An empty picture.
    pub fn new(width: f64, height: f64, ground: Rgb) -> Self {
        Self { width, height, title: String::new(), description: String::new(), ground, items: Vec::new() }
    }

    /// Adds a shape.
    pub fn shape(&mut self, outline: Outline, fill: Option<(Rgb, f64)>, line: Option<Line>) {
        let outline = match outline {
            Outline::Box(a, r) => Outline::Box(
                Area { x: finite(a.x), y: finite(a.y), w: finite(a.w).max(0.0), h: finite(a.h).max(0.0) },
                finite(r).max(0.0),
            ),
            Outline::Circle(c, r) => Outline::Circle(c.guarded(), finite(r).max(0.0)),
            Outline::Path(points, closed) => {
                Outline::Path(points.into_iter().map(Point::guarded).collect(), closed)
            }
        };
        self.items.push(Item::Shape { outline, fill, line });
    }

    /// Adds a filled box.
    pub fn fill_box(&mut self, area: Area, color: Rgb, opacity: f64) {
        self.shape(Outline::Box(area, 0.0), Some((color, opacity)), None);
    }

    /// Adds a straight line.
    pub fn line(&mut self, x1: f64, y1: f64, x2: f64, y2: f64, line: Line) {
        self.shape(Outline::Path(vec![Point::new(x1, y1), Point::new(x2, y2)], false), None, Some(line));
    }

    /// Adds a text. Blank text adds nothing.
    #[allow(clippy::too_many_arguments)]
    pub fn text(
        &mut self,
        x: f64,
        y: f64,
        text: impl AsRef<str>,
        size: f64,
        weight: Weight,
        color: Rgb,
        anchor: Anchor,
    ) {
        let text = font::clean(text.as_ref());
        if !text.trim().is_empty() {
            self.items.push(Item::Text { at: Point::new(x, y).guarded(), text, size, weight, color, anchor });
        }
    }
}

impl Item {
    /// The box a text takes, `None` for shapes.
    pub fn text_area(&self) -> Option<Area> {
        let Item::Text { at, text, size, weight, anchor, .. } = self else { return None };
        let w = font::width(text, *size, *weight);
        let x = match anchor {
            Anchor::Start => at.x,
            Anchor::Middle => at.x - w / 2.0,
            Anchor::End => at.x - w,
        };
        Some(Area { x, y: at.y - font::CAP * size, w, h: (font::CAP + font::DESCENT) * size })
    }
}
