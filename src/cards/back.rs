//! What is read before the work: cautions, the proof and what is not known, the diagram of the supplies.

use std::sync::Arc;

use super::Card;
use crate::diagram;
use crate::pages::texts::{listed, sentence};
use crate::pages::{Block, Picture, Style};

/// What whoever isolates must bear in mind; common practice of the trade.
const CAUTIONS: [&str; 4] = [
    "This card makes nothing dead, and is no permit to work. Prove dead at the point of work before anything is touched.",
    "Local rules, the standard's own text and licensed practice come before anything printed here.",
    "What the survey does not say is unknown. A feed that neither file names is on no card.",
    "\u{201C}No path found\u{201D} is on the word of survey and supplies file. It never says that something is dead.",
];

/// What stands behind the boxes.
pub(super) fn blocks(card: &Card<'_>) -> Vec<Block> {
    let mut blocks = Vec::new();
    if !card.told.cautions.is_empty() {
        blocks.push(Block::heading("What its notice warns of, or would"));
        blocks.push(Block::List(card.told.cautions.clone()));
    }
    blocks.push(Block::heading("To bear in mind"));
    // Without a supplies file there was no search for a path that could mislead.
    let count = if card.surveyed.network.is_described() { CAUTIONS.len() } else { CAUTIONS.len() - 1 };
    blocks.push(Block::List(CAUTIONS.iter().take(count).map(|&words| words.to_owned()).collect()));
    blocks.extend(proof(card));
    blocks.push(Block::heading("Supplies, with the points of isolation"));
    blocks.push(picture(card));
    blocks
}

fn proof(card: &Card<'_>) -> Vec<Block> {
    let (network, survey, decision) = (card.surveyed.network, card.surveyed.survey, card.decision);
    let mut blocks = vec![Block::heading("Proof"), Block::body(format!("{}.", sentence(&decision.proof_in_words())))];
    let paths = decision.proof.paths.iter().map(|path| format!("Live: {}", network.path_in_words(survey, path)));
    let gaps = network.gaps_in_words(survey, &decision.proof.gaps);
    let gaps = gaps.iter().map(|gap| sentence(gap));
    let lines = if network.is_described() {
        [listed(paths, "live path"), listed(gaps, "gap")].concat()
    } else {
        vec!["No supplies file describes the network behind the isolators: nothing is proved".to_owned()]
    };
    blocks.extend((!lines.is_empty()).then_some(Block::List(lines)));
    blocks
}

fn picture(card: &Card<'_>) -> Block {
    let surveyed = card.surveyed;
    let drawn = diagram::of(surveyed.survey, surveyed.supplies, surveyed.network, card.decision, card.typesetter);
    match drawn {
        Ok(drawing) => Block::Picture(Picture {
            drawing: Arc::new(drawing),
            caption: format!(
                "One-line diagram of {name}; where it is too small, \u{201C}noticewright why SURVEY {name} --svg FILE\u{201D} \
                 draws it large",
                name = card.enclosure.designation
            ),
        }),
        Err(_) => Block::text(Style::Body, "Not drawn: a name holds a character that the typeface lacks."),
    }
}
