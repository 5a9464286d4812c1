//! One altered notice: what it does to a person who trusts the old one, what changed, old and new words, the new picture.

use super::Pictures;
use crate::notice::Subject;
use crate::pages::texts::{body, mm, parts, ruled, sentence, strong};
use crate::pages::{Block, Cell, Column, Picture, Style, Target, Text};
use crate::records::changes::{Change, beside};

/// One altered notice; `at` is its place among them.
pub(super) fn blocks(change: &Change<'_>, at: usize, picture: Pictures<'_>) -> Vec<Block> {
    let name = change.version().map_or(String::new(), |version| parts([version.designation, &version.place()]));
    let mut said = vec![
        Block::text(Style::Strong, format!("It {}.", change.danger.in_words())),
        Block::body(change.danger.advice()),
    ];
    if !change.note.is_empty() {
        said.push(Block::body(sentence(&change.note) + "."));
    }
    said.extend([differences(change), words(change)]);
    let mut blocks = vec![
        Block::Anchor(Target::bookmarked(format!("altered-{at}"), 1, change.number)),
        Block::heading(parts([change.number, &name])),
    ];
    match picture(change.number) {
        Some(drawing) => {
            let picture = Picture { drawing, caption: "The new notice, for reading".to_owned() };
            blocks.push(Block::Beside(picture, said));
        }
        None => blocks.extend(said),
    }
    blocks
}

fn differences(change: &Change<'_>) -> Block {
    let subject = change.subject().unwrap_or(Subject::Enclosure);
    let row = |one: &super::super::Difference| -> Vec<Cell> {
        vec![strong(one.what.on(subject)), body(&one.at), body(&one.old), body(&one.new)]
    };
    let columns = vec![Column::Fixed(mm(34)), Column::Fitted(mm(40)), Column::Share(1), Column::Share(1)];
    ruled(&["what changed", "point", "old", "new"], columns, change.differences.iter().map(row).collect())
}

/// The words of both, line for line; what differs is heavier.
fn words(change: &Change<'_>) -> Block {
    let (Some(old), Some(new)) = (&change.old, &change.new) else { return Block::body("") };
    let row = |line: &super::super::Line| -> Vec<Cell> {
        let style = if line.is_same() { Style::Body } else { Style::Strong };
        let cell = |text: &Option<String>| -> Cell { text.iter().map(|text| Text::new(style, text).into()).collect() };
        vec![cell(&line.old), cell(&line.new)]
    };
    let rows = beside(&old.says, &new.says).iter().map(row).collect();
    ruled(
        &[&revision("old words", old.revision), &revision("new words", new.revision)],
        vec![Column::Share(1); 2],
        rows,
    )
}

fn revision(what: &str, revision: &str) -> String {
    if revision.is_empty() { what.to_owned() } else { format!("{what}, revision {revision}") }
}
