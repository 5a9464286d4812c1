//! The first page: title block, revisions, contents, cautions.

use super::{Document, Part};
use crate::notice::Subject;
use crate::pages::texts::{body, counted, mm, ruled, small, strong};
use crate::pages::{Block, Cell, Column, Style, Table, Target, Text, cautions};
use crate::schedule::Made;

/// The first page.
pub(super) fn blocks(document: &Document<'_>, pages: &dyn Fn(usize) -> usize) -> Vec<Block> {
    let schedule = document.schedule;
    let site = schedule.identity.site;
    let title = ["Label schedule", site].into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ");
    let rows = schedule.title.iter().map(|row| (row.term.to_owned(), body(&row.words)));
    vec![
        Block::Anchor(Target::bookmarked("cover", 0, "Title block")),
        Block::text(Style::Title, title),
        Block::text(Style::Subtitle, "Every notice, where it goes and why; kept with the site's records"),
        Block::Columns(vec![vec![Block::Table(Table::definitions(mm(38), rows))], vec![contents(document, pages)]]),
        Block::heading("Revisions"),
        revisions(document),
        Block::heading("To bear in mind"),
        cautions::list(),
    ]
}

fn revisions(document: &Document<'_>) -> Block {
    let said = |text: &str| body(if text.is_empty() { "not said" } else { text });
    let rows = document.schedule.revisions.iter().map(|one| {
        vec![
            strong(if one.revision.is_empty() { "not said" } else { one.revision }),
            said(one.date),
            said(one.by),
            said(one.what),
        ]
    });
    let columns = vec![Column::Fixed(mm(24)), Column::Fixed(mm(28)), Column::Fixed(mm(44)), Column::Share(1)];
    ruled(&["revision", "date", "by", "what is new"], columns, rows.collect())
}

/// The parts with what they hold and their first pages.
fn contents(document: &Document<'_>, pages: &dyn Fn(usize) -> usize) -> Block {
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    let mut told = "";
    for (number, part) in document.parts.iter().enumerate() {
        if *part == Part::Cover || part.anchor() == told {
            continue;
        }
        told = part.anchor();
        let title = Text::new(Style::Strong, part.title()).leading_to(part.anchor());
        rows.push(vec![vec![title.into()], small(holds(document, part)), body(pages(number).to_string())]);
    }
    let columns = vec![Column::Share(5), Column::Share(6), Column::Fixed(mm(10))];
    ruled(&["part", "", "page"], columns, rows)
}

fn holds(document: &Document<'_>, part: &Part) -> String {
    let schedule = document.schedule;
    match part {
        Part::Cover | Part::Materials => String::new(),
        Part::Notices(_) => {
            let on = |subject| schedule.notices.iter().filter(|row| row.notice.subject == subject).count();
            format!(
                "{} on enclosures, {} on isolators, {} standing",
                on(Subject::Enclosure),
                on(Subject::Device),
                on(Subject::Standing)
            )
        }
        Part::Points(_) => counted(schedule.enclosures.len(), "enclosure"),
        Part::Isolators(_) => counted(schedule.isolators.len(), "isolator"),
        Part::Silent(_) => {
            let groups = schedule.silent.chunk_by(super::SilentRow::is_of_the_same);
            let mut counts = [0_usize; 3];
            for made in groups.filter_map(|group| Some(group.first()?.made)) {
                let slot = match made {
                    Made::None => 0,
                    Made::Printed => 1,
                    Made::LeftOut => 2,
                };
                counts.get_mut(slot).into_iter().for_each(|count| *count += 1);
            }
            let [none, printed, left_out] = counts;
            format!("{none} without a notice, {printed} beside one, {left_out} left out because of errors")
        }
        Part::Notes(_) => counted(schedule.notes.len(), "row"),
        Part::Findings(_) => counted(schedule.findings.len(), "finding"),
    }
}
