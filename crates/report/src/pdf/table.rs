//! Tables that break across pages, with their head on every page.

use super::flow::Flow;
use super::rich::{self, Line, Run, bold};
use super::tags::Role;
use crate::font::LINE;
use crate::scene::{self, Area};

/// A column.
pub(crate) struct Column {
    /// Its head.
    pub head: &'static str,
    /// Its share of the width that the columns of numbers leave.
    pub share: f64,
    /// Numbers stand at the right.
    pub right: bool,
}

/// A column of text.
pub(crate) const fn left(head: &'static str, share: f64) -> Column {
    Column { head, share, right: false }
}

/// A column of numbers.
pub(crate) const fn right(head: &'static str) -> Column {
    Column { head, share: 0.0, right: true }
}

const PAD_X: f64 = 4.0;
const PAD_Y: f64 = 3.0;

struct Grid<'a> {
    columns: &'a [Column],
    edges: Vec<f64>,
    size: f64,
}

impl Grid<'_> {
    /// The lines of each cell of a row.
    fn lines(&self, cells: &[Vec<Run>]) -> Vec<Vec<Line>> {
        (0..self.columns.len())
            .map(|i| {
                let width = self.edges[i + 1] - self.edges[i] - 2.0 * PAD_X;
                rich::wrap(cells.get(i).map_or(&[], Vec::as_slice), self.size, width)
            })
            .collect()
    }

    fn height(&self, lines: &[Vec<Line>]) -> f64 {
        let most = lines.iter().map(Vec::len).max().unwrap_or(1);
        most as f64 * self.size * LINE + 2.0 * PAD_Y
    }
}

impl Flow {
    /// A table. Rows stay whole; a row taller than a page is broken between lines. A row whose first cell
    /// is empty opens a group and stays with the row after it.
    pub fn table(&mut self, columns: &[Column], rows: &[Vec<Vec<Run>>], size: f64, summary: &str) {
        let heads: Vec<Vec<Run>> = columns.iter().map(|c| vec![bold(c.head)]).collect();
        let grid = Grid { columns, edges: self.edges(columns, rows, size), size };
        let head = grid.lines(&heads);
        let head_height = grid.height(&head);
        let table = self.tag(Role::Table(summary.to_owned()), None);

        let first = rows.first().map_or(0.0, |r| grid.height(&grid.lines(r)));
        self.need(head_height + first.min(120.0));
        let row = self.tag(Role::Row, Some(table));
        let tags: Vec<usize> = columns.iter().map(|_| self.tag(Role::Head, Some(row))).collect();
        self.head(&grid, &head, Some(&tags));

        for (i, cells) in rows.iter().enumerate() {
            let mut lines = grid.lines(cells);
            if cells.first().is_some_and(Vec::is_empty)
                && let Some(next) = rows.get(i + 1)
            {
                let both = grid.height(&lines) + grid.height(&grid.lines(next));
                if both > self.room() && both <= self.body() - head_height {
                    self.new_page();
                    self.head(&grid, &head, None);
                }
            }
            let row = self.tag(Role::Row, Some(table));
            let tags: Vec<usize> = columns.iter().map(|_| self.tag(Role::Cell, Some(row))).collect();
            let full = self.body() - head_height;
            loop {
                let height = grid.height(&lines);
                if height <= self.room() {
                    self.cells(&grid, &lines, &tags);
                    break;
                }
                if height > full {
                    // Taller than any page: set what fits and go on overleaf.
                    let fit = ((self.room() - 2.0 * PAD_Y) / (size * LINE)).floor().max(0.0) as usize;
                    if fit >= 2 {
                        let now: Vec<Vec<Line>> =
                            lines.iter_mut().map(|c| c.drain(..fit.min(c.len())).collect()).collect();
                        self.cells(&grid, &now, &tags);
                    }
                }
                self.new_page();
                self.head(&grid, &head, None);
            }
        }
        self.advance(8.0);
    }

    /// Edges of the columns: numbers get what they need (no more than a quarter of the width), text
    /// shares the rest.
    fn edges(&self, columns: &[Column], rows: &[Vec<Vec<Run>>], size: f64) -> Vec<f64> {
        let widest = |runs: &[Run]| {
            rich::wrap(runs, size, f64::INFINITY).iter().map(|l| l.width).fold(0.0, f64::max)
                + 2.0 * PAD_X
                + 0.5
        };
        let need: Vec<f64> = columns
            .iter()
            .enumerate()
            .map(|(i, c)| {
                if !c.right {
                    return 0.0;
                }
                let head = widest(&[bold(c.head)]);
                let cells = rows.iter().filter_map(|r| r.get(i)).map(|cell| widest(cell));
                cells.fold(head, f64::max).min(self.width / 4.0)
            })
            .collect();
        let rest = (self.width - need.iter().sum::<f64>()).max(self.width / 4.0);
        let shares: f64 = columns.iter().map(|c| c.share).sum();
        let mut edges = vec![self.left];
        let mut at = self.left;
        for (c, need) in columns.iter().zip(need) {
            at += if c.right { need } else { rest * c.share / shares.max(1e-9) };
            edges.push(at);
        }
        edges
    }

    /// The head row; on later pages it is a repetition and no part of the structure.
    fn head(&mut self, grid: &Grid<'_>, lines: &[Vec<Line>], tags: Option<&[usize]>) {
        let area = Area { x: self.left, y: self.y(), w: self.width, h: grid.height(lines) };
        let fill = self.palette.grid;
        self.put(None, |s| s.fill_box(area, fill, 0.6));
        self.row(grid, lines, tags, area);
    }

    fn cells(&mut self, grid: &Grid<'_>, lines: &[Vec<Line>], tags: &[usize]) {
        let area = Area { x: self.left, y: self.y(), w: self.width, h: grid.height(lines) };
        self.row(grid, lines, Some(tags), area);
        let (y, rule) = (area.bottom(), scene::Line::new(self.palette.grid, 0.6));
        self.put(None, |s| s.line(area.x, y, area.right(), y, rule));
    }

    fn row(&mut self, grid: &Grid<'_>, lines: &[Vec<Line>], tags: Option<&[usize]>, area: Area) {
        for (i, cell) in lines.iter().enumerate() {
            let tag = tags.map(|t| t[i]);
            for (k, line) in cell.iter().enumerate() {
                let y = area.y + PAD_Y + grid.size * LINE * k as f64;
                let x = if grid.columns[i].right {
                    grid.edges[i + 1] - PAD_X - line.width
                } else {
                    grid.edges[i] + PAD_X
                };
                self.set_line(tag, line, x, y, grid.size);
            }
        }
        self.advance(area.h);
    }
}
