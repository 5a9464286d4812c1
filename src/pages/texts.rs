//! Small ways to put words into blocks.

use super::{Block, Cell, Column, Style, Table, Text};
use crate::length::{Length, Size};
use crate::sheets::paper_name;

/// Lines, paths or gaps that are written out; further ones are counted.
pub const MOST_LINES: usize = 12;

/// A cell of running text.
#[must_use]
pub fn body(words: impl Into<String>) -> Cell {
    vec![Text::new(Style::Body, words).into()]
}

/// A cell that must be seen first.
#[must_use]
pub fn strong(words: impl Into<String>) -> Cell {
    vec![Text::new(Style::Strong, words).into()]
}

/// A cell of labels.
#[must_use]
pub fn small(words: impl Into<String>) -> Cell {
    vec![Text::new(Style::Small, words).into()]
}

/// The parts of a line that say something, with dots between.
#[must_use]
pub fn parts<'a>(parts: impl IntoIterator<Item = &'a str>) -> String {
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" · ")
}

/// A sentence with a capital at its start.
#[must_use]
pub fn sentence(words: &str) -> String {
    let mut characters = words.chars();
    characters.next().map(|first| first.to_uppercase().chain(characters).collect()).unwrap_or_default()
}

/// Words of a message for paper: what a terminal shows between two backticks stands in quotation marks.
#[must_use]
pub fn quoted(words: &str) -> String {
    let mut marks = ['\u{201C}', '\u{201D}'].into_iter().cycle();
    words
        .chars()
        .map(|character| if character == '`' { marks.next().unwrap_or(character) } else { character })
        .collect()
}

/// `1 notice`, `2 notices`.
#[must_use]
pub fn counted(count: usize, word: &str) -> String {
    format!("{count} {word}{}", if count == 1 { "" } else { "s" })
}

/// The first items of a list, and how many more there are.
#[must_use]
pub fn listed(items: impl IntoIterator<Item = String>, word: &str) -> Vec<String> {
    let mut items = items.into_iter();
    let mut shown: Vec<String> = items.by_ref().take(MOST_LINES).collect();
    let more = items.count();
    if more > 0 {
        shown.push(format!("and {} more; `check --report json` has them all", counted(more, word)));
    }
    shown
}

/// A table with a thin line under each row.
#[must_use]
pub fn ruled(head: &[&str], columns: Vec<Column>, rows: Vec<Vec<Cell>>) -> Block {
    let head = head.iter().map(|&name| name.to_owned()).collect();
    Block::Table(Table { columns, head, rows, ruled: true })
}

/// Terms and what is said of them; those without a word are left away.
#[must_use]
pub fn definitions(term: Length, rows: impl IntoIterator<Item = (&'static str, String)>) -> Block {
    let said = rows.into_iter().filter(|(_, words)| !words.is_empty());
    Block::Table(Table::definitions(term, said.map(|(term, words)| (term.to_owned(), body(words)))))
}

/// `105 x 74 mm, A7`
#[must_use]
pub fn named_size(size: Size) -> String {
    let name = paper_name(size);
    parts([size.to_string().as_str(), if name.starts_with('A') { &name } else { "" }])
}

/// Millimetres to a tenth, never more than there is.
#[must_use]
pub fn tenths(length: Length) -> f64 {
    f64::from(length.to_um() / 100) / 10.0
}

/// `0.7 m`
#[must_use]
pub fn metres(distance: Length) -> String {
    format!("{} m", distance.to_mm() / 1_000.0)
}

/// So many millimetres.
#[must_use]
pub const fn mm(millimetres: i32) -> Length {
    Length::um(millimetres * 1_000)
}
