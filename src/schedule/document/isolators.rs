//! The isolator index as pages.

use std::ops::Range;

use super::{Document, enclosure_anchor, isolator_anchor, notice_anchor};
use crate::pages::texts::{body, mm, ruled};
use crate::pages::{Block, Cell, Column, Inside, Style, Target, Text};
use crate::rules::enclosure_in_words;
use crate::schedule::{IsolatorLine, IsolatorRow};

/// Some lines of the index.
pub(super) fn blocks(document: &Document<'_>, lines: &[(usize, Range<usize>)]) -> Vec<Block> {
    let rows: Vec<Vec<Cell>> = lines.iter().flat_map(|(at, lines)| isolator(document, *at, lines.clone())).collect();
    if rows.is_empty() {
        return vec![Block::body("No isolator is among what is asked for.")];
    }
    let columns = vec![
        Column::Fixed(mm(24)),
        Column::Share(9),
        Column::Share(9),
        Column::Share(13),
        Column::Share(7),
        Column::Share(15),
    ];
    let head = ["isolator", "location", "its notice", "disconnects in", "circuits", "alone, or what to open as well"];
    vec![ruled(&head, columns, rows)]
}

fn isolator(document: &Document<'_>, at: usize, lines: Range<usize>) -> Vec<Vec<Cell>> {
    let Some(row) = document.schedule.isolators.get(at) else { return Vec::new() };
    let asked = row.lines().enumerate().skip(lines.start).take(lines.len());
    asked.map(|(number, line)| cells(document, at, row, number, &line)).collect()
}

/// A line of the index. The isolator stands in full on its first line, with the anchor, and plainer on the others.
fn cells(
    document: &Document<'_>,
    at: usize,
    row: &IsolatorRow<'_>,
    number: usize,
    line: &IsolatorLine<'_>,
) -> Vec<Cell> {
    let is_first = number == 0;
    let style = if is_first { Style::Strong } else { Style::Small };
    let mut device: Cell = is_first.then(|| Inside::Anchor(Target::new(isolator_anchor(at)))).into_iter().collect();
    device.push(Text::new(style, &row.device.device).into());
    let plain = if is_first { Style::Body } else { Style::Small };
    let notice = Text::new(plain, row.number);
    let notice = match row.notice {
        Some(number) => notice.leading_to(notice_anchor(number)),
        None => notice,
    };
    let enclosure = line.isolated.enclosure;
    let name = Text::new(Style::Body, enclosure_in_words(&enclosure.designation, Some(enclosure)));
    let name = match document.schedule.enclosure_at(line.isolated.place) {
        Some(at) => name.leading_to(enclosure_anchor(at)),
        None => name,
    };
    vec![
        device,
        vec![Text::new(plain, row.device.place_in_words()).into()],
        vec![notice.into()],
        vec![name.into()],
        body(line.isolated.circuits.join(", ")),
        body(&line.isolated.alone),
    ]
}
