//! The laid-out pages as PDF.

use super::ReportError;
use super::flow::Pages;
use super::tags::{Role, Tree};
use crate::font::{self, Weight};
use crate::format;
use crate::palette::Rgb;
use crate::scene::{Anchor, Item, Line, Outline};
use crate::view::CragReport;
use krilla::Document;
use krilla::SerializeSettings;
use krilla::color::rgb;
use krilla::configure::{Accessibility, Configuration, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Rect};
use krilla::metadata::{DateTime, Metadata};
use krilla::num::NormalizedF32;
use krilla::outline::{Outline as Bookmarks, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, ListNumbering, SpanTag, TableHeaderScope, Tag, TagGroup,
    TagKind, TagTree,
};
use krilla::text::{Font, TextDirection};
use std::num::NonZeroU16;

struct Faces {
    regular: Font,
    bold: Font,
}

impl Faces {
    fn load() -> Option<Self> {
        let load = |w: Weight| Font::new(w.bytes().into(), 0);
        Some(Self { regular: load(Weight::Regular)?, bold: load(Weight::Bold)? })
    }
    fn of(&self, weight: Weight) -> Font {
        match weight {
            Weight::Regular => self.regular.clone(),
            Weight::Bold => self.bold.clone(),
        }
    }
}

/// Writes the document.
pub(super) fn pdf(pages: &Pages, report: &CragReport) -> Result<Vec<u8>, ReportError> {
    let fail = |what: &str| ReportError::Pdf(what.to_owned());
    let faces = Faces::load().ok_or_else(|| fail("the built-in typeface cannot be read"))?;
    let mut document = Document::new_with(SerializeSettings {
        configuration: accessible()?,
        enable_tagging: true,
        ..SerializeSettings::default()
    });
    let mut content: Vec<Vec<Identifier>> = vec![Vec::new(); pages.tree.nodes.len()];
    let size = PageSettings::from_wh(pages.width as f32, pages.height as f32)
        .ok_or_else(|| fail("the page has no size"))?;
    for page in &pages.pages {
        let mut sheet = document.start_page_with(size.clone());
        let mut surface = sheet.surface();
        for run in page.items.chunk_by(|a, b| a.0 == b.0) {
            let mark = run.first().map(|(mark, _)| *mark).unwrap_or_default();
            let tag = mark.tag;
            let id = match tag.and_then(|t| pages.tree.nodes.get(t)).map(|n| &n.role) {
                None => surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout))),
                Some(Role::Figure(_)) => surface.start_tagged(ContentTag::Other),
                Some(_) => {
                    surface.start_tagged(ContentTag::Span(SpanTag::empty().with_alt_text(mark.spoken)))
                }
            };
            for (_, item) in run {
                draw(&mut surface, &faces, item);
            }
            surface.end_tagged();
            if let Some(list) = tag.and_then(|t| content.get_mut(t)) {
                list.push(id);
            }
        }
        surface.finish();
        sheet.finish();
    }
    let mut tree = TagTree::new().with_lang(Some("en".to_owned()));
    for root in &pages.tree.roots {
        tree.push(group(&pages.tree, *root, &mut content));
    }
    document.set_tag_tree(tree);
    document.set_outline(bookmarks(pages));
    document.set_metadata(metadata(report));
    document.finish().map_err(|e| ReportError::Pdf(format!("{e:?}")))
}

fn accessible() -> Result<Configuration, ReportError> {
    ConfigurationBuilder::new()
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(|e| ReportError::Pdf(format!("{e:?}")))
}

fn metadata(report: &CragReport) -> Metadata {
    let d = report.date;
    let part = |v: i8| u8::try_from(v).unwrap_or(1);
    let date = DateTime::new(u16::try_from(d.year()).unwrap_or(0))
        .month(part(d.month()))
        .day(part(d.day()))
        .hour(0)
        .minute(0)
        .second(0)
        .utc_offset_hour(0)
        .utc_offset_minute(0);
    Metadata::new()
        .title(format!("{}: condition of the fixed anchors, {}", font::clean(&report.crag), format::date(d)))
        .description("Judged strength of placements, what to do first, and what is not known".to_owned())
        .keywords(vec!["climbing".to_owned(), "fixed anchors".to_owned(), font::clean(&report.crag)])
        .authors(vec![font::clean(&report.group)])
        .creator("Holdproof".to_owned())
        .language("en".to_owned())
        .creation_date(date)
        .document_id(format!("{} {} {d}", report.group, report.crag))
}

fn bookmarks(pages: &Pages) -> Bookmarks {
    let mut out = Bookmarks::new();
    let node = |i: usize| {
        let b = &pages.bookmarks[i];
        let point = Point::from_xy(0.0, (b.y - 6.0).max(0.0) as f32);
        OutlineNode::new(font::clean(&b.text), XyzDestination::new(b.page, point))
    };
    let mut open: Option<OutlineNode> = None;
    for (i, b) in pages.bookmarks.iter().enumerate() {
        if b.level <= 2 {
            if let Some(done) = open.replace(node(i)) {
                out.push_child(done);
            }
        } else if let Some(parent) = &mut open {
            parent.push_child(node(i));
        }
    }
    if let Some(done) = open {
        out.push_child(done);
    }
    out
}

fn group(tree: &Tree, id: usize, content: &mut [Vec<Identifier>]) -> TagGroup {
    let node = &tree.nodes[id];
    let kind: TagKind = match &node.role {
        Role::Heading(level, text) => {
            let level = NonZeroU16::new(u16::from(*level)).unwrap_or(NonZeroU16::MIN);
            Tag::Hn(level, Some(font::clean(text))).into()
        }
        Role::Paragraph => Tag::P.into(),
        Role::List => Tag::L(ListNumbering::None).into(),
        Role::Item => Tag::LI.into(),
        Role::Body => Tag::LBody.into(),
        Role::Figure(alt) => Tag::Figure(Some(font::clean(alt))).into(),
        Role::Table(summary) => Tag::Table.with_summary(Some(font::clean(summary))).into(),
        Role::Row => Tag::TR.into(),
        Role::Head => Tag::TH(TableHeaderScope::Column).into(),
        Role::Cell => Tag::TD.into(),
    };
    let mut out = TagGroup::new(kind);
    for id in std::mem::take(&mut content[id]) {
        out.push(id);
    }
    for child in &node.children {
        out.push(group(tree, *child, content));
    }
    out
}

fn draw(surface: &mut Surface<'_>, faces: &Faces, item: &Item) {
    match item {
        Item::Shape { outline, fill, line } => {
            let Some(path) = path(outline) else { return };
            surface.set_fill(fill.map(|(color, opacity)| paint(color, opacity)));
            surface.set_stroke(line.map(stroke));
            surface.draw_path(&path);
        }
        Item::Text { at, text, size, weight, color, anchor } => {
            let text = font::printable(text, *weight);
            let w = font::width(&text, *size, *weight);
            let x = match anchor {
                Anchor::Start => at.x,
                Anchor::Middle => at.x - w / 2.0,
                Anchor::End => at.x - w,
            };
            surface.set_fill(Some(paint(*color, 1.0)));
            surface.set_stroke(None);
            let start = Point::from_xy(x as f32, at.y as f32);
            surface.draw_text(
                start,
                faces.of(*weight),
                *size as f32,
                &text,
                false,
                TextDirection::LeftToRight,
            );
        }
    }
}

fn paint(color: Rgb, opacity: f64) -> Fill {
    Fill {
        paint: rgb::Color::new(color.0, color.1, color.2).into(),
        opacity: NormalizedF32::new(opacity as f32).unwrap_or(NormalizedF32::ONE),
        rule: FillRule::NonZero,
    }
}

fn stroke(line: Line) -> Stroke {
    Stroke {
        paint: rgb::Color::new(line.color.0, line.color.1, line.color.2).into(),
        width: line.width as f32,
        line_join: LineJoin::Round,
        dash: line.dash.map(|d| StrokeDash { array: vec![d as f32, (d * 0.7) as f32], offset: 0.0 }),
        ..Stroke::default()
    }
}

fn path(outline: &Outline) -> Option<Path> {
    let mut b = PathBuilder::new();
    match outline {
        Outline::Box(a, _) => {
            let rect = Rect::from_xywh(a.x as f32, a.y as f32, a.w as f32, a.h as f32)?;
            b.push_rect(rect);
        }
        Outline::Circle(c, r) => {
            // Four cubic arcs; k = 4/3 (√2 − 1) keeps the radius within 0.03 %.
            let (x, y, r) = (c.x as f32, c.y as f32, *r as f32);
            let k = 0.552_284_8 * r;
            b.move_to(x + r, y);
            b.cubic_to(x + r, y + k, x + k, y + r, x, y + r);
            b.cubic_to(x - k, y + r, x - r, y + k, x - r, y);
            b.cubic_to(x - r, y - k, x - k, y - r, x, y - r);
            b.cubic_to(x + k, y - r, x + r, y - k, x + r, y);
            b.close();
        }
        Outline::Path(points, closed) => {
            for (i, p) in points.iter().enumerate() {
                if i == 0 {
                    b.move_to(p.x as f32, p.y as f32);
                } else {
                    b.line_to(p.x as f32, p.y as f32);
                }
            }
            if *closed {
                b.close();
            }
        }
    }
    b.finish()
}
