//! Notices as rows with their pictures.

use std::ops::Range;

use super::{Document, enclosure_anchor, isolator_anchor, notice_anchor};
use crate::length::Length;
use crate::notice::Subject;
use crate::pages::texts::{metres, mm, named_size, parts, ruled, sentence, tenths};
use crate::pages::{Block, Cell, Column, Inside, Style, Target, Text, cautions};
use crate::rules::Reason;
use crate::schedule::NoticeRow;

/// How wide the picture of a notice is, and how high at most.
const PICTURE: Length = mm(22);
const HIGHEST: Length = mm(32);

/// Some of the notices.
pub(super) fn blocks(document: &Document<'_>, rows: Range<usize>) -> Vec<Block> {
    let first = rows.start;
    let notices = document.schedule.notices.get(rows).unwrap_or_default();
    if notices.is_empty() {
        return vec![Block::body("No notice is made of what is asked for, on the survey's word.")];
    }
    let legend = Block::text(Style::Small, cautions::CLAUSE_WORDS);
    vec![legend, table((first..).zip(notices).map(|(number, row)| cells(document, number, row)).collect())]
}

fn table(rows: Vec<Vec<Cell>>) -> Block {
    let columns = vec![
        Column::Fixed(PICTURE),
        Column::Share(1),
        Column::Fixed(mm(80)),
        Column::Fixed(mm(36)),
        Column::Fixed(mm(36)),
        Column::Fixed(mm(39)),
    ];
    let head =
        ["picture, reduced", "number, on, position", "rules, clauses", "size and heights", "made on, for", "record"];
    ruled(&head, columns, rows)
}

fn cells(document: &Document<'_>, number: usize, row: &NoticeRow<'_>) -> Vec<Cell> {
    vec![picture(document, number, row), what(document, row), rules(row), size(row), made(row), record(row)]
}

fn small(words: impl Into<String>) -> Inside {
    Text::new(Style::Small, words).into()
}

/// The picture, small but true, with how far it is reduced.
fn picture(document: &Document<'_>, number: usize, row: &NoticeRow<'_>) -> Cell {
    let mut cell = vec![Inside::Anchor(Target::new(notice_anchor(number)))];
    let Some(drawing) = (document.picture)(row.index) else { return cell };
    let share = |room: Length, own: Length| f64::from(room.to_um()) / f64::from(own.to_um().max(1));
    let exact = share(PICTURE, drawing.size.width).min(share(HIGHEST, drawing.size.height)).min(1.0);
    let percent = (exact * 100.0).floor().max(1.0);
    let alternative = format!("Notice {}, reduced to {percent} % of its size", row.notice.number);
    cell.push(Inside::Picture(drawing.scaled(percent / 100.0).into(), alternative));
    cell
}

/// Number, which leads to its enclosure's points or its isolator's entry; what it is on; where it is fixed.
fn what(document: &Document<'_>, row: &NoticeRow<'_>) -> Cell {
    let number = Text::new(Style::Strong, &row.notice.number);
    let number = match document.target(row) {
        Some(anchor) => number.leading_to(anchor),
        None => number,
    };
    let name = if row.name().is_empty() { row.kind() } else { row.name() };
    let area = match row.notice.subject {
        Subject::Enclosure | Subject::Standing => row.notice.area.as_str(),
        // It stands in the number.
        Subject::Device => "",
    };
    vec![number.into(), Text::new(Style::Body, sentence(name)).into(), small(sentence(&parts([area, row.position()])))]
}

fn rules(row: &NoticeRow<'_>) -> Cell {
    let rule = |reason: &&Reason| {
        let rule = sentence(&reason.rule.in_words());
        Text::new(Style::Body, format!("{rule}: {}, {}", reason.outcome.name(), reason.clause_in_short())).into()
    };
    let mut cell: Cell = row.reasons.iter().map(rule).collect();
    let words = row.words();
    cell.extend((!words.is_empty()).then(|| small(format!("words: {words}"))));
    let (last, next) = row.inspections();
    let dates = [("last inspection", last), ("next inspection", next)];
    cell.extend(
        dates.into_iter().filter(|(_, date)| !date.is_empty()).map(|(what, date)| small(format!("{what} {date}"))),
    );
    cell
}

fn size(row: &NoticeRow<'_>) -> Cell {
    let letters = format!("letters {} mm, from {}", tenths(row.letter_height), metres(row.notice.reading_distance));
    let sign = row.sign_height.map_or_else(
        || "no sign".to_owned(),
        |height| format!("sign {} mm, from {}", tenths(height), metres(row.notice.sign_distance)),
    );
    vec![Text::new(Style::Body, named_size(row.size)).into(), small(letters), small(sign)]
}

fn made(row: &NoticeRow<'_>) -> Cell {
    let said = |what: &str, words: String| if words == "not said" { format!("{what} not said") } else { words };
    vec![
        Text::new(Style::Body, &row.format).into(),
        small(format!("{}, {}", row.material, row.process)),
        small(said("environment", row.environment())),
        small(said("surface", row.surface().to_owned())),
    ]
}

fn record(row: &NoticeRow<'_>) -> Cell {
    let revision = if row.notice.revision.is_empty() { "not said" } else { &row.notice.revision };
    vec![
        small(format!("code: {}", row.carried_in_short())),
        small(format!("revision {revision}")),
        small(format!("fingerprint {}", row.fingerprint())),
    ]
}

impl Document<'_> {
    /// Where a notice's number leads.
    fn target(&self, row: &NoticeRow<'_>) -> Option<String> {
        match row.notice.subject {
            Subject::Enclosure => self.enclosure_of.get(&row.index).map(|&at| enclosure_anchor(at)),
            Subject::Device => self.isolator_of.get(&row.index).map(|&at| isolator_anchor(at)),
            Subject::Standing => None,
        }
    }
}
