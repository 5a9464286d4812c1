//! The head of a card: what must be seen first, which enclosure it is, what it serves, its voltages, its record.

use super::{Card, record};
use crate::network::ProofResult;
use crate::pages::texts::{parts, sentence};
use crate::pages::{Block, Cell, Column, Inside, Style, Table, Text};
use crate::rules::{Outcome, Statement};

/// What stands over the points of isolation.
pub(super) fn blocks(card: &Card<'_>) -> Vec<Block> {
    let mut blocks = Vec::new();
    blocks.extend(stop(card));
    blocks.push(Block::text(Style::Title, &card.enclosure.designation));
    let said = |text: Option<&str>| text.unwrap_or_default().to_owned();
    let about = parts([said(card.enclosure.name.as_deref()).as_str(), said(card.enclosure.area.as_deref()).as_str()]);
    blocks.extend((!about.is_empty()).then(|| Block::text(Style::Subtitle, about)));
    blocks.push(facts(card));
    blocks
}

/// That the points below are not all that there is.
fn stop(card: &Card<'_>) -> Option<Block> {
    let (first, last) = card.told.stop(card.decision)?;
    Some(Block::Framed(vec![Text::new(Style::Heading, first), Text::new(Style::Strong, last)]))
}

fn facts(card: &Card<'_>) -> Block {
    let mut words: Cell = vec![
        Text::new(Style::Strong, &card.told.headline).into(),
        Text::new(Style::Body, &card.told.statement).into(),
        Text::new(Style::Strong, format!("Highest voltages: {}", card.decision.voltages.in_words())).into(),
    ];
    words.extend(proof(card).map(|line| Text::new(Style::Strong, line).into()));
    let serves = serves(card);
    words.extend((!serves.is_empty()).then(|| Text::new(Style::Body, format!("Serves: {serves}")).into()));
    words.push(Text::new(Style::Body, notice(card)).into());
    words
        .extend(card.decision.statements.iter().filter_map(starting).map(|line| Text::new(Style::Strong, line).into()));
    let Some((notice, code)) = card.notice.and_then(|notice| Some((notice, record::code(notice)?))) else {
        return Block::Table(Table { columns: vec![Column::Share(1)], rows: vec![vec![words]], ..Table::default() });
    };
    let width = code.size.width;
    let code = vec![
        Inside::Picture(code, format!("Code that leads to the record of notice {}", notice.number)),
        Text::new(Style::Small, format!("Record {}", notice.number)).into(),
    ];
    let columns = vec![Column::Share(1), Column::Fixed(width)];
    Block::Table(Table { columns, rows: vec![vec![words, code]], ..Table::default() })
}

/// What the proof came to, wherever it did not find that no path is left.
fn proof(card: &Card<'_>) -> Option<String> {
    let decision = card.decision;
    match decision.proof.result {
        ProofResult::NoPathFound => None,
        ProofResult::Live => Some(format!("{}.", sentence(&decision.proof_in_words()))),
        ProofResult::Unknown => {
            let why = decision.proof_in_words();
            let why = why.strip_prefix("unknown. ").unwrap_or(&why);
            let last = if why.contains("Treat as live") { "" } else { " Treat as live until proved dead." };
            Some(format!("Not proved: {why}.{last}"))
        }
    }
}

/// What must be done before anything is opened.
fn starting(statement: &Statement) -> Option<String> {
    let Statement::StartsByItself { source } = statement else { return None };
    let source = if source.is_empty() { "A source not known" } else { source };
    Some(format!("Before isolating, inhibit starting: {source} may start without warning"))
}

/// What the ways into it serve, each once.
fn serves(card: &Card<'_>) -> String {
    let mut serves: Vec<&str> = Vec::new();
    for row in &card.enclosure.rows {
        serves.extend(row.serves.as_deref().filter(|one| !serves.contains(one)));
    }
    serves.join(", ")
}

/// Whether a notice is on it, and on whose word there is none.
fn notice(card: &Card<'_>) -> String {
    match (card.notice, card.decision.need) {
        (Some(notice), need) => {
            let place = if notice.position.is_empty() { String::new() } else { format!(", {}", notice.position) };
            format!("A notice belongs on it ({}): {}{place}", need.of_notice(), notice.number)
        }
        (None, Outcome::Lifted | Outcome::NotNeeded) => {
            "It carries no notice: none is needed, on the survey's word".to_owned()
        }
        (None, Outcome::Advised | Outcome::Unknown | Outcome::Required) => "No notice could be made for it".to_owned(),
    }
}
