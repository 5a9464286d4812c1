//! The standing notices: each beside what asks for it, how surely that is known, and whose words it bears.

use super::{Document, notice, sign};
use crate::pages::texts::{counted, parts, sentence};
use crate::pages::{Block, Section, Style};

/// What the part is called, in its head and in the contents.
pub(super) const TITLE: &str = "Standing notices";

/// All standing notices to approve.
pub(super) fn section(document: &Document<'_>, indices: &[usize]) -> Section {
    let count = format!("{} of the designer's list", counted(indices.len(), "notice"));
    let mut blocks = vec![
        Block::text(Style::Title, TITLE),
        Block::text(Style::Subtitle, count),
        Block::body(
            "Where a clause prescribes the words, compare them with your own copy of the standard before you sign.",
        ),
    ];
    for &index in indices {
        blocks.extend(one(document, index));
    }
    blocks.push(sign::form(&format!("{} with words of their own", counted(indices.len(), "standing notice"))));
    Section { head: TITLE.to_owned(), blocks }
}

fn one(document: &Document<'_>, index: usize) -> Vec<Block> {
    let prepared = &document.prepared;
    let (Some(notice), Some(set)) = (prepared.notice(index), prepared.set(index)) else { return Vec::new() };
    let title = parts([notice.number.as_str(), notice.area.as_str()]);
    let mut further = Vec::new();
    if let Some((decision, entry)) = prepared.standing_of(notice) {
        let words = format!("words: {}", decision.words.in_words());
        further.push(Block::List(vec![sentence(&format!("kind: {}", entry.kind.name())), sentence(&words)]));
        further.extend(notice::reasons(&[decision.explained()]));
    }
    vec![Block::heading(title), notice::beside(document, notice, set, further)]
}
