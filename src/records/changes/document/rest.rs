//! What changed on site, and the notices that are new, moved, withdrawn or cannot be judged, in tables.

use super::Against;
use crate::pages::texts::{body, mm, ruled, sentence, small, strong};
use crate::pages::{Block, Cell, Column};
use crate::records::Kind;
use crate::records::changes::{Change, Fate, SiteChange};

/// The title of the notices of one fate.
pub(super) const fn title(fate: Fate, against: Against) -> &'static str {
    match (fate, against) {
        (Fate::New, Against::Older) => "New notices",
        (Fate::New, Against::Fixed) => "Needed and not fixed",
        (Fate::Altered, _) => "False where they are, with none in their place",
        (Fate::NotFit, _) => "The same words, too small for their places or not made for them",
        (Fate::Moved, Against::Older) => "The same words, at another place",
        (Fate::Moved, Against::Fixed) => "Fixed elsewhere than they should be",
        (Fate::Withdrawn, Against::Older) => "Withdrawn notices",
        (Fate::Withdrawn, Against::Fixed) => "Fixed and no longer needed",
        (Fate::FalseCopy, _) => "Printed, never fixed, and not true: to be destroyed",
        (Fate::NotJudged, _) => "Not to be judged",
    }
}

/// Some of what changed on site.
pub(super) fn site(changes: &[SiteChange<'_>]) -> Vec<Block> {
    let row = |one: &SiteChange<'_>| -> Vec<Cell> {
        vec![
            strong(one.what.name()),
            strong(one.designation),
            body(one.from),
            body(one.to),
            body(one.makes_false.join(", ")),
        ]
    };
    let columns =
        vec![Column::Fixed(mm(32)), Column::Fitted(mm(40)), Column::Share(2), Column::Share(2), Column::Share(5)];
    vec![ruled(&["", "isolator", "old", "new", "makes false"], columns, changes.iter().map(row).collect())]
}

/// Some of the notices of one fate.
pub(super) fn table(changes: &[&Change<'_>]) -> Vec<Block> {
    let row = |change: &&Change<'_>| -> Vec<Cell> {
        let place = |version: Option<&super::super::Version<'_>>| version.map_or(String::new(), |one| one.place());
        let old = change.old.as_ref().map_or("", |old| old.revision);
        let says = change.version().map(|version| {
            let first = |kind: Kind| version.says.of_kind(kind).next().unwrap_or_default();
            // On a device's notice the headline is its designation.
            let headline = if first(Kind::Do) == version.designation { "" } else { first(Kind::Do) };
            [headline, first(Kind::Why)].into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(". ")
        });
        vec![
            strong(change.number),
            body(change.designation()),
            body(place(change.old.as_ref())),
            body(place(change.new.as_ref())),
            body(says.unwrap_or_default()),
            small(old),
            body(sentence(&change.note)),
        ]
    };
    let columns = vec![
        Column::Share(4),
        Column::Share(2),
        Column::Share(4),
        Column::Share(4),
        Column::Share(4),
        Column::Fixed(mm(16)),
        Column::Share(5),
    ];
    let head = ["notice", "on", "was at", "belongs at", "says", "revision", "note"];
    vec![ruled(&head, columns, changes.iter().map(row).collect())]
}
