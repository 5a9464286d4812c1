//! The isolators at one place: each notice beside its facts, and what the isolator disconnects.

use super::{Document, anchors, notice, sign};
use crate::pages::texts::{body, counted, ruled, sentence};
use crate::pages::{Block, Cell, Column, Section, Style, Text};
use crate::rules::{DeviceDecision, Disconnects, enclosure_in_words};

/// The place with the notices to approve.
pub(super) fn section(document: &Document<'_>, location: &str, indices: &[usize]) -> Section {
    let place = if location.is_empty() { "location not known" } else { location };
    let mut blocks = vec![
        Block::text(Style::Title, sentence(place)),
        Block::text(Style::Subtitle, format!("{} on isolators", counted(indices.len(), "notice"))),
    ];
    for &index in indices {
        blocks.extend(device(document, index));
    }
    blocks.push(sign::form(&format!("{} on isolators, {place}", counted(indices.len(), "notice"))));
    Section { head: place.to_owned(), blocks }
}

fn device(document: &Document<'_>, index: usize) -> Vec<Block> {
    let (Some(one), Some(set)) = (document.prepared.notice(index), document.prepared.set(index)) else {
        return Vec::new();
    };
    let mut blocks = vec![Block::heading(&one.designation)];
    let Some(decision) = document.device(one) else {
        blocks.push(notice::beside(document, one, set, Vec::new()));
        return blocks;
    };
    let mut further = vec![Block::List(decision.handling().iter().map(|line| sentence(line)).collect())];
    further.extend(notice::reasons(&decision.explained()));
    blocks.push(notice::beside(document, one, set, further));
    blocks.push(disconnects(document, decision));
    let back_feed = decision.back_feed.iter().map(|ups| format!("{ups} can feed back to its load side."));
    blocks.extend(back_feed.map(Block::body));
    blocks.push(Block::body(
        "Opening it makes nothing dead by itself. Isolate all points of the enclosure, then prove dead.",
    ));
    blocks
}

/// What it disconnects, enclosure by enclosure, and what stays live there.
fn disconnects(document: &Document<'_>, device: &DeviceDecision) -> Block {
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    // They are sorted by enclosure.
    for mine in device.disconnects.chunk_by(|one, other| one.enclosure == other.enclosure) {
        let Some(first) = mine.first() else { continue };
        let decided = document.decision(&first.enclosure);
        for (number, one) in mine.iter().enumerate() {
            let remains = match decided {
                Some((decision, _)) if number == 0 => {
                    let all: Vec<&Disconnects> = mine.iter().collect();
                    device.remains_in(decision, &all)
                }
                Some(_) | None => Vec::new(),
            };
            let enclosure = if number == 0 {
                let words = enclosure_in_words(&one.enclosure, decided.map(|(_, enclosure)| enclosure));
                vec![Text::new(Style::Strong, words).leading_to(anchors::of_enclosure(&one.enclosure)).into()]
            } else {
                body(&one.enclosure)
            };
            let remains = remains.iter().map(|line| Text::new(Style::Body, sentence(line)).into()).collect();
            rows.push(vec![enclosure, body(sentence(&one.in_words())), remains]);
        }
    }
    let columns = vec![Column::Share(4), Column::Share(4), Column::Share(5)];
    ruled(&["disconnects in", "", "what stays live there"], columns, rows)
}
