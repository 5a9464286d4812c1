//! The first pages: what is to be borne in mind while fixing, and where each area is found.

use super::Document;
use crate::notice::Subject;
use crate::pages::texts::{body, counted, definitions, mm, ruled};
use crate::pages::{Block, Cell, Column, Inside, Section, Style, Text};

/// How notices are fixed; common practice of the trade.
const HOW: [&str; 7] = [
    "Before a notice is fixed, operate each isolator that it names and prove dead as it says. If anything is found otherwise, \
     write it down here, fix nothing, and have the survey mended.",
    "Only persons who are allowed to isolate and to prove dead do so. Local rules and licensed practice come first.",
    "Fix it on the fixed part of the enclosure where it is read before anything is opened, not on a door or cover that can be \
     changed for another.",
    "The surface is clean, dry, free of grease and within the temperatures of the adhesive. Press it on from the middle.",
    "Use adhesive, or fixings that are there already. Drill nothing: a hole ends the enclosure's protection.",
    "Cover no ventilation, no rating plate and no other notice. Take the old notice off.",
    "Pictures here are for knowing a notice again. They are no durable notices.",
];

/// The first part.
pub(super) fn section(document: &Document<'_>) -> Section {
    let identity = document.prepared.identity;
    let mut blocks = vec![
        Block::text(Style::Title, "Fixing list"),
        Block::text(Style::Subtitle, counts(document)),
        definitions(
            mm(34),
            [
                ("Site", identity.site.to_owned()),
                ("Client", identity.client.to_owned()),
                ("Revision", identity.revision.to_owned()),
                ("Date", identity.date.to_owned()),
                ("Survey", identity.survey.to_owned()),
                ("Selection", identity.selection.to_owned()),
            ],
        ),
        Block::heading("How notices are fixed"),
        Block::List(HOW.map(str::to_owned).into()),
    ];
    if !document.prepared.left_out.is_empty() {
        let names = document.prepared.left_out.join(", ");
        blocks.push(Block::heading("Left out because of errors: no notice to fix until the survey is mended"));
        blocks.push(Block::body(names));
    }
    blocks.push(Block::heading("Areas in walking order"));
    blocks.push(areas(document));
    Section { head: "How to fix, and areas".to_owned(), blocks }
}

fn counts(document: &Document<'_>) -> String {
    let of = |subject: Subject| {
        let notices = document.prepared.chosen.iter().filter_map(|&index| document.prepared.notice(index));
        notices.filter(|notice| notice.subject == subject).count()
    };
    let standing = match of(Subject::Standing) {
        0 => String::new(),
        count => format!(", {count} standing"),
    };
    let places = document.areas.iter().filter(|area| !area.goes_on).count();
    let (enclosures, devices) = (counted(of(Subject::Enclosure), "notice"), of(Subject::Device));
    format!("{enclosures} on enclosures, {devices} on isolators{standing}, in {}", counted(places, "area"))
}

fn areas(document: &Document<'_>) -> Block {
    let row = |area: &super::Area<'_>| -> Vec<Cell> {
        let name = Text::new(Style::Strong, area.in_words()).leading_to(area.anchor());
        vec![vec![name.into()], body(area.of.to_string()), vec![Inside::PageOf(area.anchor().into())]]
    };
    let rows = document.areas.iter().filter(|area| !area.goes_on).map(row).collect();
    let columns = vec![Column::Share(1), Column::Fixed(mm(22)), Column::Fixed(mm(26))];
    ruled(&["area, or place of isolators", "notices", "page"], columns, rows)
}
