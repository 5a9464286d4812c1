//! Enclosures with their points of isolation.

use std::ops::Range;

use super::{Document, enclosure_anchor, isolator_anchor, notice_anchor};
use crate::pages::texts::{body, mm, parts, ruled, sentence};
use crate::pages::{Block, Cell, Column, Style, Table, Target, Text};
use crate::schedule::{EnclosureRow, PointRow};

/// Some of the enclosures.
pub(super) fn blocks(document: &Document<'_>, rows: Range<usize>) -> Vec<Block> {
    let first = rows.start;
    let enclosures = document.schedule.enclosures.get(rows).unwrap_or_default();
    if enclosures.is_empty() {
        return vec![Block::body("No enclosure is among what is asked for.")];
    }
    (first..).zip(enclosures).flat_map(|(at, row)| enclosure(document, at, row)).collect()
}

fn enclosure(document: &Document<'_>, at: usize, row: &EnclosureRow<'_>) -> Vec<Block> {
    let said = |text: Option<&str>| text.unwrap_or_default().to_owned();
    let designation = &row.enclosure.designation;
    let (name, area) = (said(row.enclosure.name.as_deref()), said(row.enclosure.area.as_deref()));
    vec![
        Block::Anchor(Target::bookmarked(enclosure_anchor(at), 1, designation)),
        Block::heading(parts([designation.as_str(), &name, &area])),
        facts(document, row),
        points(document, row),
    ]
}

/// Its notices, the need, the voltages, the proof, and what else its notice says.
fn facts(document: &Document<'_>, row: &EnclosureRow<'_>) -> Block {
    let numbers = row.notices.iter().filter_map(|&number| Some((number, document.schedule.notices.get(number)?)));
    let mut notices: Cell = numbers
        .map(|(number, one)| {
            let words = format!("notice {}", one.notice.number);
            Text::new(Style::Body, words).leading_to(notice_anchor(number)).into()
        })
        .collect();
    if notices.is_empty() {
        notices.push(Text::new(Style::Body, "no notice, on the survey's word").leading_to("silent").into());
    }
    let decision = row.decision;
    let whose = if row.notices.is_empty() { "A notice would also say" } else { "Also on the notice" };
    let facts = vec![
        Text::new(
            Style::Body,
            format!(
                "A notice is {}. Highest voltages: {}.",
                decision.need.of_notice().replace('-', " "),
                decision.voltages.in_words()
            ),
        )
        .into(),
        Text::new(Style::Body, format!("Proof: {}.", decision.proof_in_words())).into(),
        Text::new(Style::Body, format!("{whose}: {}", row.also_on_notice())).into(),
    ];
    Block::Table(Table {
        columns: vec![Column::Share(3), Column::Share(11)],
        rows: vec![vec![notices, facts]],
        ..Table::default()
    })
}

fn points(document: &Document<'_>, row: &EnclosureRow<'_>) -> Block {
    let columns = vec![
        Column::Fixed(mm(28)),
        Column::Share(4),
        Column::Share(6),
        Column::Share(4),
        Column::Share(4),
        Column::Share(6),
        Column::Share(7),
    ];
    // The head comes again on the next page, and with it whose points these are.
    let designation = row.enclosure.designation.as_str();
    let head = [designation, "device", "location", "kind", "locking", "circuits", "remarks"];
    let rows = row.lines().map(|point| cells(document, &point)).collect();
    ruled(&head, columns, rows)
}

fn cells(document: &Document<'_>, row: &PointRow<'_>) -> Vec<Cell> {
    let device = Text::new(Style::Strong, row.device());
    let at = row.point.and_then(|point| document.isolator_at.get(&(point.device.as_str(), point.location.as_str())));
    let device = match at {
        Some(&at) => device.leading_to(isolator_anchor(at)),
        None => device,
    };
    let remarks = row.remarks().iter().map(|remark| Text::new(Style::Body, sentence(remark)).into()).collect();
    let circuits = row.point.map(|point| point.circuits.join(", ")).unwrap_or_default();
    vec![
        body(row.point.map(|_| format!("point {}", row.number)).unwrap_or_default()),
        vec![device.into()],
        body(row.location()),
        body(row.kind()),
        body(row.locking()),
        body(circuits),
        remarks,
    ]
}
