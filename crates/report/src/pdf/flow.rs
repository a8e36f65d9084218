//! Blocks set one below the other on pages.

use super::rich::{self, Ink, Run};
use super::tags::{Role, Tree};
use crate::font::{self, LINE, Weight};
use crate::palette::{Palette, Theme};
use crate::scene::{Anchor, Area, Item, Outline, Point, Scene};
use crate::symbol;
use crate::view::Paper;

/// Points to the millimetre.
const MM: f64 = 72.0 / 25.4;

/// Size of running text in points.
pub(crate) const TEXT: f64 = 9.5;

/// Which part of the structure a piece belongs to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Mark {
    /// The part; `None` = decoration.
    pub tag: Option<usize>,
    /// What is to be said instead of a symbol.
    pub spoken: Option<&'static str>,
}

/// A page: what is drawn, each piece with its mark.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Page {
    pub items: Vec<(Mark, Item)>,
}

/// A heading in the bookmarks.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Bookmark {
    pub level: u8,
    pub text: String,
    pub page: usize,
    pub y: f64,
}

/// The finished layout.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Pages {
    pub width: f64,
    pub height: f64,
    pub pages: Vec<Page>,
    pub tree: Tree,
    pub bookmarks: Vec<Bookmark>,
}

/// Sets blocks on pages.
pub(crate) struct Flow {
    pub palette: Palette,
    /// Left edge of the text.
    pub left: f64,
    /// Width of the text.
    pub width: f64,
    top: f64,
    bottom: f64,
    y: f64,
    out: Pages,
}

impl Flow {
    pub fn new(paper: Paper) -> Self {
        let (width, height) = match paper {
            Paper::A4 => (210.0 * MM, 297.0 * MM),
            Paper::Letter => (612.0, 792.0),
        };
        let side = 18.0 * MM;
        let (top, bottom) = (22.0 * MM, height - 20.0 * MM);
        let out = Pages {
            width,
            height,
            pages: vec![Page::default()],
            tree: Tree::default(),
            bookmarks: Vec::new(),
        };
        let palette = Palette::of(Theme::Light);
        Self { palette, left: side, width: width - 2.0 * side, top, bottom, y: top, out }
    }

    /// Height of the text of a page.
    pub fn body(&self) -> f64 {
        self.bottom - self.top
    }

    /// Room left on this page.
    pub fn room(&self) -> f64 {
        self.bottom - self.y
    }

    /// Where the next block begins.
    pub fn y(&self) -> f64 {
        self.y
    }

    /// Adds a part to the structure.
    pub fn tag(&mut self, role: Role, parent: Option<usize>) -> usize {
        self.out.tree.add(role, parent)
    }

    /// Leaves a gap, unless the page has just begun.
    pub fn gap(&mut self, points: f64) {
        if self.y > self.top {
            self.y += points;
        }
    }

    /// Moves down without drawing.
    pub fn advance(&mut self, points: f64) {
        self.y += points;
    }

    /// Begins a new page, unless this one is empty.
    pub fn new_page(&mut self) {
        if self.y > self.top {
            self.out.pages.push(Page::default());
            self.y = self.top;
        }
    }

    /// Begins a new page if less than `points` are left on this one.
    pub fn need(&mut self, points: f64) {
        if self.room() < points.min(self.body()) {
            self.new_page();
        }
    }

    /// Draws on the current page.
    pub fn put(&mut self, tag: Option<usize>, draw: impl FnOnce(&mut Scene)) {
        self.put_spoken(Mark { tag, spoken: None }, draw);
    }

    fn put_spoken(&mut self, mark: Mark, draw: impl FnOnce(&mut Scene)) {
        let mut scene = Scene::new(self.out.width, self.out.height, self.palette.ground);
        draw(&mut scene);
        if let Some(page) = self.out.pages.last_mut() {
            page.items.extend(scene.items.into_iter().map(|item| (mark, item)));
        }
    }

    /// Sets a wrapped line with its top at `y`.
    pub fn set_line(&mut self, tag: Option<usize>, line: &rich::Line, x: f64, y: f64, size: f64) {
        let palette = self.palette;
        let base = y + size * (LINE - 0.32);
        for piece in &line.pieces {
            let at = x + piece.x;
            match &piece.what {
                Run::Text(text, weight, ink) => {
                    let color = match ink {
                        Ink::Plain => palette.ink,
                        Ink::Muted => palette.muted,
                    };
                    self.put(tag, |s| s.text(at, base, text, size, *weight, color, Anchor::Start));
                }
                Run::Symbol { call, spoken } => {
                    let spoken = spoken.then(|| (*call).name());
                    self.put_spoken(Mark { tag, spoken }, |s| {
                        symbol::draw(s, &palette, *call, at + size * 0.5, base - size * 0.34, size * 0.42);
                    });
                }
                Run::Break => {}
            }
        }
    }

    /// A heading, kept with what follows.
    pub fn heading(&mut self, level: u8, text: &str) {
        let size = match level {
            1 => 24.0,
            2 => 14.5,
            _ => 11.0,
        };
        let lines = font::wrap(&font::clean(text), size, Weight::Bold, self.width);
        let height = size * 1.25 * lines.len() as f64;
        self.gap(if level == 2 { 18.0 } else { 10.0 });
        self.need(height + 72.0);
        let tag = self.tag(Role::Heading(level, text.to_owned()), None);
        let (page, y) = (self.out.pages.len() - 1, self.y);
        self.out.bookmarks.push(Bookmark { level, text: text.to_owned(), page, y });
        let ink = self.palette.ink;
        for line in &lines {
            let (x, base) = (self.left, self.y + size * 0.98);
            self.put(Some(tag), |s| s.text(x, base, line, size, Weight::Bold, ink, Anchor::Start));
            self.y += size * 1.25;
        }
        self.y += if level == 1 { 2.0 } else { 4.0 };
    }

    /// A paragraph.
    pub fn paragraph(&mut self, runs: &[Run], size: f64) {
        let tag = self.tag(Role::Paragraph, None);
        self.runs(tag, runs, size, self.left, self.width);
        self.y += size * 0.5;
    }

    /// Lines of text at the current place, broken over pages; no single first line is left behind.
    fn runs(&mut self, tag: usize, runs: &[Run], size: f64, x: f64, width: f64) {
        let lines = rich::wrap(runs, size, width);
        self.need(size * LINE * lines.len().min(2) as f64);
        for line in &lines {
            self.need(size * LINE);
            self.set_line(Some(tag), line, x, self.y, size);
            self.y += size * LINE;
        }
    }

    /// Height that a numbered item of a list takes.
    pub fn list_item_height(&self, runs: &[Run], size: f64) -> f64 {
        rich::wrap(runs, size, self.width - size * 2.0).len() as f64 * size * LINE + size * 0.4
    }

    /// A list; with `numbered` the items are counted.
    pub fn list(&mut self, items: &[Vec<Run>], numbered: bool, size: f64) {
        let list = self.tag(Role::List, None);
        let indent = if numbered { size * 2.0 } else { size * 1.3 };
        let palette = self.palette;
        for (i, runs) in items.iter().enumerate() {
            let item = self.tag(Role::Item, Some(list));
            let body = self.tag(Role::Body, Some(item));
            self.need(size * LINE * 2.0);
            let (x, base) = (self.left, self.y + size * (LINE - 0.32));
            self.put(None, |s| {
                if numbered {
                    let n = (i + 1).to_string();
                    s.text(x + size * 1.4, base, n, size, Weight::Bold, palette.muted, Anchor::End);
                } else {
                    let dot = Point::new(x + size * 0.5, base - size * 0.28);
                    s.shape(Outline::Circle(dot, size * 0.16), Some((palette.muted, 1.0)), None);
                }
            });
            self.runs(body, runs, size, self.left + indent, self.width - indent);
            self.y += size * 0.4;
        }
        self.y += size * 0.2;
    }

    /// A chart of the page's width.
    pub fn figure(&mut self, scene: &Scene) {
        let k = self.width / scene.width.max(1.0);
        let height = scene.height * k;
        self.need(height);
        let alt = format!("{}. {}", scene.title, scene.description);
        let tag = self.tag(Role::Figure(alt), None);
        let (dx, dy) = (self.left, self.y);
        self.put(Some(tag), |s| {
            s.items.extend(scene.items.iter().map(|item| moved(item, dx, dy, k)));
        });
        self.y += height + 6.0;
    }

    /// A box with text on a tinted ground and a bar at its left.
    pub fn callout(&mut self, runs: &[Run], size: f64) {
        let pad = 8.0;
        let lines = rich::wrap(runs, size, self.width - 2.0 * pad - 4.0);
        let height = size * LINE * lines.len() as f64 + 2.0 * pad;
        self.need(height);
        let tag = self.tag(Role::Paragraph, None);
        let palette = self.palette;
        let area = Area { x: self.left, y: self.y, w: self.width, h: height };
        self.put(None, |s| {
            s.fill_box(area, palette.calls[1], 0.3);
            s.fill_box(Area { w: 4.0, ..area }, palette.edges[1], 1.0);
        });
        for (i, line) in lines.iter().enumerate() {
            let y = area.y + pad + size * LINE * i as f64;
            self.set_line(Some(tag), line, area.x + pad + 4.0, y, size);
        }
        self.y += height + 8.0;
    }

    /// Adds head and foot to every page and gives the layout out.
    pub fn finish(mut self, head: [&str; 2], foot: &str) -> Pages {
        let (left, right) = (self.left, self.left + self.width);
        let (palette, size) = (self.palette, 8.0);
        let (height, total) = (self.out.height, self.out.pages.len());
        for (i, page) in self.out.pages.iter_mut().enumerate() {
            let mut s = Scene::new(self.out.width, height, palette.ground);
            let rule = crate::scene::Line::new(palette.grid, 0.7);
            let room = self.width - font::width(head[1], size, Weight::Regular) - 12.0;
            let name = font::shorten(&font::clean(head[0]), size, Weight::Regular, room);
            s.text(left, 14.0 * MM, name, size, Weight::Regular, palette.muted, Anchor::Start);
            s.text(right, 14.0 * MM, head[1], size, Weight::Regular, palette.muted, Anchor::End);
            s.line(left, 16.0 * MM, right, 16.0 * MM, rule);
            let base = height - 11.0 * MM;
            s.line(left, base - 11.0, right, base - 11.0, rule);
            s.text(left, base, foot, size, Weight::Regular, palette.muted, Anchor::Start);
            let number = format!("page {} of {total}", i + 1);
            s.text(right, base, number, size, Weight::Regular, palette.muted, Anchor::End);
            page.items.extend(s.items.into_iter().map(|item| (Mark::default(), item)));
        }
        self.out
    }
}

/// An item of a picture at its place and scale on a page.
fn moved(item: &Item, dx: f64, dy: f64, k: f64) -> Item {
    let at = |p: Point| Point::new(dx + p.x * k, dy + p.y * k);
    match item {
        Item::Shape { outline, fill, line } => Item::Shape {
            outline: match outline {
                Outline::Box(a, r) => {
                    Outline::Box(Area { x: dx + a.x * k, y: dy + a.y * k, w: a.w * k, h: a.h * k }, r * k)
                }
                Outline::Circle(c, r) => Outline::Circle(at(*c), r * k),
                Outline::Path(points, closed) => {
                    Outline::Path(points.iter().map(|p| at(*p)).collect(), *closed)
                }
            },
            fill: *fill,
            line: line.map(|l| crate::scene::Line { width: l.width * k, dash: l.dash.map(|d| d * k), ..l }),
        },
        Item::Text { at: p, text, size, weight, color, anchor } => Item::Text {
            at: at(*p),
            text: text.clone(),
            size: size * k,
            weight: *weight,
            color: *color,
            anchor: *anchor,
        },
    }
}
