//! The points of isolation in the order in which they are opened, each with boxes for whoever opens it; then what stays live
//! and where that is isolated.

use super::Card;
use crate::length::Length;
use crate::pages::texts::{mm, sentence};
use crate::pages::{Block, Cell, Column, Inside, Style, Table, Text};
use crate::rules::elsewhere::BackFeeding;
use crate::rules::sequence::Sequence;
use crate::rules::{Missing, PointOfIsolation, Statement, secured};
use crate::survey::value::DeviceKind;

/// Height of a box to write in: common practice for handwriting is 8 mm and more.
const BOX: Length = Length::um(8_500);

/// Both tables.
pub(super) fn blocks(card: &Card<'_>) -> Vec<Block> {
    let count = card.decision.points.len();
    let title = match count {
        0 => "No point of isolation is declared",
        1 => "Isolate, secure and tag",
        _ if Sequence::of(&card.decision.points) == Sequence::Whole => {
            "Isolate, secure and tag each, in the order shown"
        }
        _ => "Isolate, secure and tag each",
    };
    let mut blocks = vec![Block::heading(title)];
    if count > 0 {
        let remarks = |index: usize| card.told.remarks.get(index).map_or(&[][..], Vec::as_slice);
        let rows = card.decision.points.iter().enumerate();
        blocks.push(table(rows.map(|(index, point)| row(index + 1, point, remarks(index))).collect()));
    }
    blocks.extend(stays_live(card));
    blocks
}

fn table(rows: Vec<Vec<Cell>>) -> Block {
    let columns = vec![
        Column::Fixed(mm(5)),
        Column::Share(1),
        Column::Fixed(mm(17)),
        Column::Fixed(mm(15)),
        Column::Fixed(mm(15)),
    ];
    let head = ["", "device, and where it is", "done", "initials", "tag no."].map(str::to_owned).into();
    Block::Table(Table { columns, head, rows, ruled: true })
}

fn row(number: usize, point: &PointOfIsolation, remarks: &[String]) -> Vec<Cell> {
    let location = if point.location.is_empty() { "location not known: find it first" } else { &point.location };
    let mut words: Cell =
        vec![Text::new(Style::Heading, &point.device).into(), Text::new(Style::Strong, location).into()];
    words.extend(remarks.iter().map(|remark| Text::new(Style::Strong, remark).into()));
    words.push(Text::new(Style::Small, how(point)).into());
    let mut row = vec![vec![Inside::Number(number)], words];
    row.extend(boxes());
    row
}

/// To tick that it is off and secured, to initial, and for the number of the tag.
fn boxes() -> [Cell; 3] {
    let ticks = ["off", "secured"].map(|words| Inside::Tick(words.to_owned())).into();
    [ticks, vec![Inside::Field(BOX)], vec![Inside::Field(BOX)]]
}

/// `breaker, secured by padlock; circuit DB-C/7 for fan`
fn how(point: &PointOfIsolation) -> String {
    let kind = point.kind.map(DeviceKind::name);
    let locking = secured(point.locking.as_deref());
    let device: Vec<String> = kind.map(str::to_owned).into_iter().chain([locking]).collect();
    let word = if point.circuits.len() == 1 { "circuit" } else { "circuits" };
    let serves = if point.serves.is_empty() { String::new() } else { format!(" for {}", point.serves.join(", ")) };
    format!("{}; {word} {}{serves}", device.join(", "), point.circuits.join(", "))
}

/// What stays live with all points open: what can be isolated elsewhere with boxes, what cannot in words.
fn stays_live(card: &Card<'_>) -> Vec<Block> {
    let (mut rows, mut words) = (Vec::new(), Vec::new());
    for statement in &card.decision.statements {
        remaining(card, statement, &mut rows, &mut words);
    }
    rows.extend(card.decision.back_feeding().iter().flat_map(feeding_back));
    if rows.is_empty() && words.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![Block::heading("Stays live with the points above open")];
    blocks.extend((!words.is_empty()).then_some(Block::List(words)));
    blocks.extend((!rows.is_empty()).then(|| table(rows)));
    blocks
}

/// What a statement says of parts that stay live.
fn remaining(card: &Card<'_>, statement: &Statement, rows: &mut Vec<Vec<Cell>>, words: &mut Vec<String>) {
    match statement {
        Statement::LineSideLive { part, isolated_at, missing } => {
            line_side_rows(card, part, isolated_at, rows, words);
            words.extend(line_side(part, *missing, isolated_at.is_empty()));
        }
        Statement::CannotBeIsolated { circuit } => words.push(format!("Circuit {circuit}: nothing isolates it")),
        Statement::LiveAtAnyTime { circuit, solar } => {
            let what = if *solar { "Solar d.c." } else { "Battery" };
            words.push(format!("{what}, circuit {circuit}: live at any time, whatever is switched off elsewhere"));
        }
        Statement::SeveralSupplies { .. }
        | Statement::SeveralIsolators
        | Statement::IsolatorsLeaveParts
        | Statement::UnexpectedVoltage
        | Statement::StartsByItself { .. }
        | Statement::StoredCharge { .. }
        | Statement::AlternativeSource { .. }
        | Statement::BackFeed { .. } => {}
    }
}

/// What isolates a part: each device to be ticked off once, and of several together none as if it did so alone.
fn line_side_rows(
    card: &Card<'_>,
    part: &str,
    isolated_at: &[(String, String)],
    rows: &mut Vec<Vec<Cell>>,
    words: &mut Vec<String>,
) {
    let is_point = |(device, location): &(String, String)| {
        card.decision.points.iter().any(|point| (&point.device, &point.location) == (device, location))
    };
    let named = |it: &(String, String)| if is_point(it) { format!("{} above", it.0) } else { it.0.clone() };
    if !isolated_at.is_empty() && isolated_at.iter().all(is_point) {
        let points: Vec<String> = isolated_at.iter().map(named).collect();
        words.push(format!("{}: isolated at {}", sentence(part), points.join(" and ")));
    }
    for it in isolated_at.iter().filter(|it| !is_point(it)) {
        let others: Vec<String> = isolated_at.iter().filter(|other| *other != it).map(named).collect();
        let why = match others.as_slice() {
            [] => format!("isolates {part}"),
            others => format!("together with {}, isolates {part}", others.join(" and ")),
        };
        rows.push(elsewhere(&why, &it.0, &it.1));
    }
}

/// A part that another device isolates, to be ticked off like a point.
fn elsewhere(why: &str, device: &str, location: &str) -> Vec<Cell> {
    let location = if location.is_empty() { "location not known: find it first" } else { location };
    let words: Cell = vec![
        Text::new(Style::Heading, device).into(),
        Text::new(Style::Strong, location).into(),
        Text::new(Style::Small, why).into(),
    ];
    let mut row = vec![Vec::new(), words];
    row.extend(boxes());
    row
}

/// A UPS that may feed back, to be isolated too: at its isolators, or wherever they are found.
fn feeding_back(feeding: &BackFeeding<'_>) -> Vec<Vec<Cell>> {
    let why = format!("back-feed from {} is possible: isolate it as well, then check for voltage", feeding.ups);
    if feeding.isolated_at.is_empty() {
        let device = format!("Isolator of {}", feeding.ups);
        return vec![elsewhere(&why, &device, "where: not known, find it first")];
    }
    feeding.isolated_at.iter().map(|(device, location)| elsewhere(&why, device, location)).collect()
}

fn line_side(part: &str, missing: Option<Missing>, nowhere: bool) -> Option<String> {
    if part.is_empty() {
        return Some("What stays live after isolation is not known".to_owned());
    }
    let why = match missing {
        Some(Missing::CannotBeIsolated | Missing::RestCannotBeIsolated) => "nothing isolates it",
        Some(Missing::Elsewhere) => "a part of it is isolated elsewhere",
        Some(Missing::NotKnown) => "where it is isolated is not known",
        None if nowhere => "where it is isolated is not known",
        None => return None,
    };
    Some(format!("{}: {why}", sentence(part)))
}
