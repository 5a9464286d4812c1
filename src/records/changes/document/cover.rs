//! The first page: both files, counts, dangers, contents, what to bear in mind.

use super::{Against, Document, Part, anchor};
use crate::notice::Subject;
use crate::pages::texts::{body, counted, definitions, mm, ruled, strong};
use crate::pages::{Block, Cell, Column, Inside, Style, Text, cautions};
use crate::records::changes::{Danger, Fate};

/// The first page.
pub(super) fn blocks(document: &Document<'_>) -> Vec<Block> {
    let (identity, titles) = (document.titles.identity, &document.titles);
    let title = document.title(&Part::Cover);
    let named = [title, identity.site].into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ");
    let subtitle = match titles.against {
        Against::Older => "What is new, altered, moved or withdrawn, the most dangerous first; for approval",
        Against::Fixed => "Which fixed notices are no longer true, the most dangerous first; what is lacking",
    };
    let said = |text: &str| if text.is_empty() { "not said".to_owned() } else { text.to_owned() };
    let (old, new) = match titles.against {
        Against::Older => ("Old", "New"),
        Against::Fixed => ("Record", "Survey"),
    };
    let block = definitions(
        mm(22),
        [
            (old, said(titles.old)),
            (new, said(titles.new)),
            ("Title", identity.title.to_owned()),
            ("Client", identity.client.to_owned()),
            ("Revision", said(identity.revision)),
            ("Date", said(identity.date)),
            ("Prepared by", said(identity.prepared_by)),
            ("Shown", identity.selection.to_owned()),
        ],
    );
    let mut blocks = vec![
        Block::text(Style::Title, named),
        Block::text(Style::Subtitle, subtitle),
        Block::Columns(vec![vec![block], vec![counts(document)], vec![contents(document)]]),
    ];
    blocks.extend(dangers(document));
    blocks.extend(revisions(document));
    blocks.extend([Block::heading("To bear in mind"), cautions::list()]);
    blocks
}

fn counts(document: &Document<'_>) -> Block {
    let is_told = |fate: &Fate| !matches!(fate, Fate::NotFit | Fate::FalseCopy) || document.changes.count(*fate) > 0;
    let rows = Fate::ALL.into_iter().filter(is_told).map(|fate| {
        let of = |subject: Subject| {
            let changed = document.changes.changed.iter().filter(|change| change.fate == fate);
            changed.filter(|change| change.subject() == Some(subject)).count()
        };
        let count = document.changes.count(fate);
        let counts = [count, of(Subject::Enclosure), of(Subject::Device)];
        let cells = counts.map(|count| body(count.to_string()));
        std::iter::once(strong(document.titles.against.word(fate))).chain(cells).collect()
    });
    let unchanged = vec![strong(document.titles.against.unchanged()), body(document.changes.unchanged.to_string())];
    let rows: Vec<Vec<Cell>> = rows.chain([unchanged]).collect();
    let columns = vec![Column::Share(1), Column::Fixed(mm(9)), Column::Fixed(mm(17)), Column::Fixed(mm(14))];
    ruled(&["notices", "all", "enclosures", "isolators"], columns, rows)
}

/// How many notices there are of each danger, the greatest first, and what to do.
fn dangers(document: &Document<'_>) -> Vec<Block> {
    let rows: Vec<Vec<Cell>> = Danger::ALL
        .into_iter()
        .filter_map(|danger| {
            let count = document.changes.changed.iter().filter(|change| change.danger == danger).count();
            (count > 0).then(|| vec![strong(counted(count, "notice")), body(danger.in_words()), body(danger.advice())])
        })
        .collect();
    if rows.is_empty() {
        return vec![Block::body("Nothing changed.")];
    }
    let columns = vec![Column::Fixed(mm(24)), Column::Share(2), Column::Share(5)];
    vec![
        Block::heading("To a person who trusts the old notice"),
        ruled(&["", "it", "what could happen, and what to do"], columns, rows),
    ]
}

fn revisions(document: &Document<'_>) -> Vec<Block> {
    if document.titles.revisions.is_empty() {
        return Vec::new();
    }
    let rows = document
        .titles
        .revisions
        .iter()
        .map(|one| vec![strong(one.revision), body(one.date), body(one.by), body(one.what)]);
    let columns = vec![Column::Fixed(mm(24)), Column::Fixed(mm(28)), Column::Fixed(mm(44)), Column::Share(1)];
    vec![Block::heading("Revisions"), ruled(&["revision", "date", "by", "what is new"], columns, rows.collect())]
}

/// The parts with their first pages.
fn contents(document: &Document<'_>) -> Block {
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    let mut told = "";
    for part in document.parts() {
        let title = document.title(part);
        if *part == Part::Cover || title == told {
            continue;
        }
        told = title;
        let title = Text::new(Style::Strong, title).leading_to(anchor(part));
        rows.push(vec![vec![title.into()], vec![Inside::PageOf(anchor(part).into())]]);
    }
    ruled(&["part", "page"], vec![Column::Share(1), Column::Fixed(mm(10))], rows)
}
