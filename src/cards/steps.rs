//! What is done once everything is open: waiting for a stored charge, proving dead, signing.

use super::Card;
use crate::length::Length;
use crate::pages::texts::{body, mm};
use crate::pages::{Block, Cell, Column, Inside, Style, Table, Text};
use crate::rules::{Outcome, Reason, Rule, Statement};

/// Height of a box to write in.
const BOX: Length = Length::um(7_500);

/// Height of the box beside the steps of proving.
const PROVING: Length = Length::um(20_000);

/// The steps of proving dead; common practice of the trade.
const STEPS: [&str; 4] = [
    "Indicator proved on a known source",
    "Tested dead at the point of work: between all conductors, and each to earth",
    "Indicator proved again on the known source",
    "Earthed and short-circuited, only where local rules ask for it",
];

/// Waiting, proving, signing.
pub(super) fn blocks(card: &Card<'_>) -> Vec<Block> {
    // One column of blocks is never broken: a step or a box alone on the next page would belong to nothing.
    let signed = Block::Columns(vec![vec![Block::heading("Signed"), signatures()]]);
    let proved = Block::Columns(vec![vec![Block::heading("Wait, then prove dead"), steps(card)]]);
    vec![proved, signed]
}

fn steps(card: &Card<'_>) -> Block {
    let proving = vec![STEPS.map(|step| Inside::Tick(step.to_owned())).into(), vec![Inside::Field(PROVING)]];
    let rows = vec![wait(card), proving];
    let head = ["", "time, initials"].map(str::to_owned).into();
    Block::Table(Table { columns: vec![Column::Share(1), Column::Fixed(mm(30))], head, rows, ruled: true })
}

/// How long to wait for a stored charge, or that nobody knows, or that the survey declares none.
fn wait(card: &Card<'_>) -> Vec<Cell> {
    let charge = card.decision.statements.iter().find_map(|statement| {
        let Statement::StoredCharge { volts, seconds } = statement else { return None };
        Some((*volts, *seconds))
    });
    let Some((volts, seconds)) = charge else { return no_charge(card) };
    let of = volts.map(|volts| format!(" of {volts} V d.c.")).unwrap_or_default();
    let words = match seconds {
        Some(seconds) => format!("Stored charge{of}: wait {} after the last point is open", waiting(seconds)),
        None => format!("Stored charge{of}: waiting time NOT KNOWN, prove discharged before touching"),
    };
    waited(&words)
}

/// Words on a wait, with a box to tick and room for the times.
fn waited(words: &str) -> Vec<Cell> {
    let ticked = vec![Text::new(Style::Strong, words).into(), Inside::Tick("waited, from and to".to_owned())];
    vec![ticked, vec![Inside::Field(BOX)]]
}

/// Whole minutes, never fewer than the survey says; seconds below a minute.
fn waiting(seconds: u32) -> String {
    match seconds {
        0..60 => format!("{} s", seconds.max(1)),
        60.. => format!("{} min", seconds.div_ceil(60)),
    }
}

/// On whose word no charge is waited for: a survey that says nothing gives none.
fn no_charge(card: &Card<'_>) -> Vec<Cell> {
    const NOT_KNOWN: &str = "Stored charge: NOT KNOWN, prove discharged before touching";
    let of_charge = |reason: &&Reason| reason.rule == Rule::StoredCharge;
    let rows = &card.enclosure.rows;
    match card.decision.reasons.iter().find(of_charge).map(|reason| reason.outcome) {
        Some(Outcome::Lifted) => match rows.iter().filter_map(|row| row.further().discharge_seconds).max() {
            Some(seconds) => waited(&format!(
                "Stored charge: below the limit {} after isolating, on the survey's word: wait that long",
                waiting(seconds)
            )),
            None => vec![body(NOT_KNOWN)],
        },
        Some(Outcome::NotNeeded) => {
            vec![body(match rows.iter().filter(|row| row.further().stored.is_some()).count() {
                0 => "Stored charge: the survey names none. Prove discharged.",
                count if count == rows.len() => "Stored charge: none to wait for, on the survey's word",
                _ => {
                    "Stored charge: none to wait for in circuits of which the survey gives it, none named in the others. Prove discharged."
                }
            })]
        }
        Some(Outcome::Unknown | Outcome::Advised | Outcome::Required) | None => vec![body(NOT_KNOWN)],
    }
}

fn signatures() -> Block {
    let field = || -> Cell { vec![Inside::Field(BOX)] };
    let row = |words: &str| -> Vec<Cell> { vec![vec![Text::new(Style::Strong, words).into()], field(), field()] };
    let rows = ["Isolated by", "Proved dead by", "Returned to service by", "Permit number"].map(row).into();
    let columns = vec![Column::Fixed(mm(34)), Column::Share(1), Column::Fixed(mm(34))];
    let head = ["", "name and signature", "date and time"].map(str::to_owned).into();
    Block::Table(Table { columns, head, rows, ruled: false })
}
