//! Text with bold runs and call symbols, and its wrapping into lines.

use crate::font::{self, Weight};
use judgement::Call;

/// A stretch of text of one look, or a call's symbol.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Run {
    /// Text.
    Text(String, Weight, Ink),
    /// A call's symbol, kept together with what follows. Without its word beside it, it has to be spoken
    /// by readers that do not see it.
    Symbol {
        /// The call.
        call: Call,
        /// True where the word does not follow.
        spoken: bool,
    },
    /// Starts a new line.
    Break,
}

/// Which ink.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ink {
    /// Main text.
    Plain,
    /// Secondary text.
    Muted,
}

/// Plain text.
pub(crate) fn plain(text: impl Into<String>) -> Run {
    Run::Text(text.into(), Weight::Regular, Ink::Plain)
}

/// Bold text.
pub(crate) fn bold(text: impl Into<String>) -> Run {
    Run::Text(text.into(), Weight::Bold, Ink::Plain)
}

/// Secondary text.
pub(crate) fn muted(text: impl Into<String>) -> Run {
    Run::Text(text.into(), Weight::Regular, Ink::Muted)
}

/// Symbol and word of a call.
pub(crate) fn call(call: Call) -> [Run; 2] {
    [Run::Symbol { call, spoken: false }, bold(call.name())]
}

/// A piece of a line at its offset from the line's start.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Piece {
    pub x: f64,
    pub what: Run,
}

/// A wrapped line.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Line {
    pub pieces: Vec<Piece>,
    pub width: f64,
}

/// Room a symbol takes as a multiple of the type size.
const SYMBOL: f64 = 1.25;

struct Token {
    run: Run,
    width: f64,
    space: bool,
}

/// Wraps runs into lines no wider than `max`. Never empty.
pub(crate) fn wrap(runs: &[Run], size: f64, max: f64) -> Vec<Line> {
    let mut lines = vec![Line::default()];
    for group in runs.split(|r| *r == Run::Break) {
        if let Some(line) = lines.last_mut().filter(|l| !l.pieces.is_empty()) {
            end_word(line);
            lines.push(Line::default());
        }
        for token in tokens(group, size, max) {
            let gap = match (token.space, &token.run) {
                (true, Run::Text(_, weight, _)) => font::width(" ", size, *weight),
                (true, _) => size * 0.35,
                _ => 0.0,
            };
            let Some(line) = lines.last_mut() else { continue };
            if line.pieces.is_empty() {
                push(line, token, 0.0);
            } else if line.width + gap + token.width <= max {
                push(line, token, gap);
            } else {
                end_word(line);
                let mut next = Line::default();
                // A symbol is never left alone at the end of a line.
                let after_symbol =
                    matches!(line.pieces.last(), Some(p) if matches!(p.what, Run::Symbol { .. }));
                if after_symbol
                    && line.pieces.len() > 1
                    && let Some(symbol) = line.pieces.pop()
                {
                    line.width = symbol.x;
                    next.pieces.push(Piece { x: 0.0, what: symbol.what });
                    next.width = size * SYMBOL;
                }
                push(&mut next, token, 0.0);
                lines.push(next);
            }
        }
    }
    lines
}

fn push(line: &mut Line, token: Token, gap: f64) {
    let Token { run, width, .. } = token;
    if let (Run::Text(text, weight, ink), Some(Piece { what: Run::Text(before, w, i), .. })) =
        (&run, line.pieces.last_mut())
    {
        if gap > 0.0 {
            before.push(' ');
        }
        if (weight, ink) == (&*w, &*i) {
            before.push_str(text);
            line.width += gap + width;
            return;
        }
    }
    if matches!(run, Run::Symbol { .. }) && gap > 0.0 {
        end_word(line);
    }
    line.pieces.push(Piece { x: line.width + gap, what: run });
    line.width += gap + width;
}

/// Ends the last text with a space, so that copied and spoken text keeps its words apart.
fn end_word(line: &mut Line) {
    if let Some(Piece { what: Run::Text(text, ..), .. }) = line.pieces.last_mut()
        && !text.ends_with(' ')
    {
        text.push(' ');
    }
}

fn tokens(runs: &[Run], size: f64, max: f64) -> Vec<Token> {
    let mut out = Vec::new();
    let mut space = false;
    for run in runs {
        match run {
            Run::Text(text, weight, ink) => {
                let text = font::clean(text);
                space |= text.starts_with(char::is_whitespace);
                for word in text.split_whitespace() {
                    for (i, piece) in font::pieces(word, size, *weight, max).into_iter().enumerate() {
                        let width = font::width(&piece, size, *weight);
                        out.push(Token {
                            run: Run::Text(piece, *weight, *ink),
                            width,
                            space: space && i == 0,
                        });
                    }
                    space = true;
                }
                space = text.ends_with(char::is_whitespace);
            }
            Run::Symbol { .. } => {
                out.push(Token { run: run.clone(), width: size * SYMBOL, space });
                space = false;
            }
            Run::Break => {}
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(lines: &[Line]) -> String {
        lines
            .iter()
            .flat_map(|l| &l.pieces)
            .map(|p| if let Run::Text(t, ..) = &p.what { t.as_str() } else { "*" })
            .collect()
    }

    #[test]
    fn lines_fit_and_words_keep_their_spaces() {
        let runs = [
            Run::Symbol { call: Call::Tend, spoken: false },
            bold("tend"),
            plain(" tighten the nut, "),
            bold("then"),
            plain(" look."),
        ];
        for max in [40.0, 60.0, 90.0, 400.0] {
            let lines = wrap(&runs, 9.0, max);
            assert!(lines.iter().all(|l| l.width <= max + 1e-9), "{max}");
            assert_eq!(text(&lines), "*tend tighten the nut, then look.");
        }
    }

    #[test]
    fn a_break_starts_a_line() {
        assert_eq!(wrap(&[plain("a"), Run::Break, plain("b")], 9.0, 100.0).len(), 2);
        assert_eq!(wrap(&[], 9.0, 100.0).len(), 1);
    }
}
