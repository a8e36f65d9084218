//! A picture as SVG.

use crate::font::{self, Weight};
use crate::palette::Rgb;
use crate::scene::{Anchor, Item, Line, Outline, Scene};
use std::fmt::Write;

const FAMILY: &str = "'Noto Sans','Segoe UI','Helvetica Neue',Arial,'DejaVu Sans',sans-serif";

impl Scene {
    /// The picture as an SVG document (SVG 1.1, UTF-8). The same picture gives the same bytes.
    pub fn to_svg(&self) -> String {
        let mut out = String::with_capacity(4096 + self.items.len() * 120);
        let (w, h) = (number(self.width), number(self.height));
        let _ = write!(
            out,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w} {h}\" width=\"{w}\" height=\"{h}\" \
             role=\"img\" font-family=\"{FAMILY}\">\n\
             <title>{}</title>\n<desc>{}</desc>\n\
             <rect width=\"{w}\" height=\"{h}\" fill=\"{}\"/>\n",
            escape(&self.title),
            escape(&self.description),
            self.ground.hex(),
        );
        for item in &self.items {
            write_item(&mut out, item);
        }
        out.push_str("</svg>\n");
        out
    }
}

fn write_item(out: &mut String, item: &Item) {
    // Writing to a String cannot fail.
    let _ = match item {
        Item::Shape { outline, fill, line } => {
            let paint = paint(*fill, *line);
            match outline {
                Outline::Box(a, r) => {
                    let round = if *r > 0.0 { format!(" rx=\"{}\"", number(*r)) } else { String::new() };
                    writeln!(
                        out,
                        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{round}{paint}/>",
                        number(a.x),
                        number(a.y),
                        number(a.w),
                        number(a.h)
                    )
                }
                Outline::Circle(c, r) => writeln!(
                    out,
                    "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{paint}/>",
                    number(c.x),
                    number(c.y),
                    number(*r)
                ),
                Outline::Path(points, closed) => {
                    let mut d = String::with_capacity(points.len() * 12);
                    for (i, p) in points.iter().enumerate() {
                        d.push(if i == 0 { 'M' } else { 'L' });
                        let _ = write!(d, "{} {}", number(p.x), number(p.y));
                    }
                    if *closed {
                        d.push('Z');
                    }
                    writeln!(out, "<path d=\"{d}\"{paint}/>")
                }
            }
        }
        Item::Text { at, text, size, weight, color, anchor } => {
            let anchor = match anchor {
                Anchor::Start => "",
                Anchor::Middle => " text-anchor=\"middle\"",
                Anchor::End => " text-anchor=\"end\"",
            };
            let bold = if *weight == Weight::Bold { " font-weight=\"700\"" } else { "" };
            writeln!(
                out,
                "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{bold}{anchor} textLength=\"{}\" \
                 lengthAdjust=\"spacingAndGlyphs\" fill=\"{}\">{}</text>",
                number(at.x),
                number(at.y),
                number(*size),
                number(font::width(text, *size, *weight)),
                color.hex(),
                escape(text)
            )
        }
    };
}

fn paint(fill: Option<(Rgb, f64)>, line: Option<Line>) -> String {
    let mut s = String::new();
    match fill {
        Some((color, opacity)) => {
            let _ = write!(s, " fill=\"{}\"", color.hex());
            if opacity < 1.0 {
                let _ = write!(s, " fill-opacity=\"{}\"", number(opacity));
            }
        }
        None => s.push_str(" fill=\"none\""),
    }
    if let Some(line) = line {
        let _ = write!(s, " stroke=\"{}\" stroke-width=\"{}\"", line.color.hex(), number(line.width));
        if let Some(dash) = line.dash {
            let _ = write!(s, " stroke-dasharray=\"{} {}\"", number(dash), number(dash * 0.7));
        } else {
            s.push_str(" stroke-linejoin=\"round\"");
        }
    }
    s
}

/// A number with at most two decimals and no trailing zeros.
fn number(v: f64) -> String {
    let mut s = format!("{v:.2}");
    while s.ends_with('0') {
        s.pop();
    }
    if s.ends_with('.') {
        s.pop();
    }
    if s == "-0" { "0".to_owned() } else { s }
}

fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in font::clean(text).chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c => out.push(c),
        }
    }
    out
}
