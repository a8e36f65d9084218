//! Plain text tables.

use std::io::{self, Write};

/// How a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Text.
    Left,
    /// Numbers.
    Right,
}

/// Rows of cells under a heading. Cells may hold colour codes: they do not count as width.
pub struct Table {
    columns: Vec<(&'static str, Side)>,
    rows: Vec<Vec<String>>,
}

impl Table {
    /// An empty table.
    pub fn new(columns: &[(&'static str, Side)]) -> Self {
        Self { columns: columns.to_vec(), rows: Vec::new() }
    }

    /// Adds a row; missing cells are empty, cells beyond the columns are dropped.
    pub fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        self.rows.push(cells.into_iter().take(self.columns.len()).collect());
    }

    /// True where no row was added.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// Writes heading and rows, two blanks between columns, none at the end of a line.
    pub fn write(&self, out: &mut dyn Write) -> io::Result<()> {
        let mut widths: Vec<usize> = self.columns.iter().map(|(head, _)| width(head)).collect();
        for row in &self.rows {
            for (at, cell) in row.iter().enumerate() {
                widths[at] = widths[at].max(width(cell));
            }
        }
        let heading: Vec<String> = self.columns.iter().map(|(head, _)| (*head).to_owned()).collect();
        for row in std::iter::once(&heading).chain(&self.rows) {
            let mut line = String::new();
            for (at, cell) in row.iter().enumerate() {
                let blanks = " ".repeat(widths[at] - width(cell));
                if at > 0 {
                    line.push_str("  ");
                }
                match self.columns[at].1 {
                    Side::Left => line.extend([cell.as_str(), &blanks]),
                    Side::Right => line.extend([blanks.as_str(), cell]),
                }
            }
            writeln!(out, "{}", line.trim_end())?;
        }
        Ok(())
    }
}

/// Characters on the screen, escape sequences (`ESC [ ... m`) left out.
fn width(cell: &str) -> usize {
    let mut count = 0;
    let mut inside = false;
    for c in cell.chars() {
        match c {
            '\u{1b}' => inside = true,
            'm' if inside => inside = false,
            _ if inside => {}
            _ => count += 1,
        }
    }
    count
}

/// Units that no line begins with.
const UNITS: [&str; 8] = ["%", "kN", "lbf", "mm", "m", "MPa", "h", "N·m"];

/// Breaks text into lines of at most `columns` characters at blanks, each begun with `indent`.
pub fn wrap(text: &str, columns: usize, indent: &str) -> String {
    let mut out = String::new();
    let mut line = indent.to_owned();
    let mut empty = true;
    let mut words = text.split_whitespace().peekable();
    while let Some(word) = words.next() {
        let mut word = word.to_owned();
        // a unit stays with its number
        while let Some(unit) =
            words.next_if(|next| UNITS.contains(&next.trim_end_matches(['.', ',', ')', ';'])))
        {
            word.push(' ');
            word.push_str(unit);
        }
        if !empty && width(&line) + 1 + width(&word) > columns {
            out.push_str(&line);
            out.push('\n');
            line = indent.to_owned();
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(&word);
        empty = false;
    }
    out.push_str(&line);
    out
}

/// Text broken like [`wrap`], with `lead` before its first line and blanks before the others.
pub fn hanging(lead: &str, text: &str, columns: usize) -> String {
    let lines = wrap(text, columns, &" ".repeat(width(lead)));
    format!("{lead}{}", lines.trim_start())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_line_up_and_colours_do_not_count() {
        let mut table = Table::new(&[("name", Side::Left), ("kN", Side::Right)]);
        table.row(["\u{1b}[1mab\u{1b}[0m".into(), "7".into()]);
        table.row(["abcdef".into(), "12.5".into()]);
        let mut out = Vec::new();
        table.write(&mut out).unwrap();
        let text = String::from_utf8(out).unwrap();
        assert_eq!(text, "name      kN\n\u{1b}[1mab\u{1b}[0m         7\nabcdef  12.5\n");
    }

    #[test]
    fn long_text_is_broken_at_blanks() {
        assert_eq!(wrap("one two three", 9, "  "), "  one two\n  three");
        assert_eq!(wrap("incomprehensible", 4, ""), "incomprehensible");
        assert_eq!(wrap("below 90.0 %, so", 10, ""), "below\n90.0 %, so");
        assert_eq!(hanging("- ", "one two three", 9), "- one two\n  three");
    }
}
