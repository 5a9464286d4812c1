//! Everything that happened to a notice, as a table.

use super::points::scrolled;
use crate::records::{Condition, Entry, Kind, Known, Statement};
use crate::writers::html::Html;

/// The columns.
const COLUMNS: [&str; 6] = ["day", "what happened", "revision", "condition", "by", "note"];

/// The history of a notice; that there is none where no record is kept, or where it has no entry.
pub(super) fn table(html: &mut Html, known: Option<&Known<'_>>, kept: bool) {
    let Some(known) = known.filter(|known| !known.entries.is_empty()) else {
        let nothing = if kept { "The record has no entry of this notice." } else { "No record is kept." };
        html.line("p", &[], nothing);
        return;
    };
    let name = format!("History of {}", known.number);
    scrolled(html, &name, |html| {
        html.element("table", &[], |html| {
            html.line("caption", &[], "By the record, the oldest entry first");
            html.element("thead", &[], |html| {
                html.element("tr", &[], |html| {
                    COLUMNS.iter().for_each(|column| html.line("th", &[("scope", "col")], column));
                });
            });
            html.element("tbody", &[], |html| known.entries.iter().for_each(|entry| row(html, entry)));
        });
    });
    html.new_line();
}

fn row(html: &mut Html, entry: &Entry) {
    html.element("tr", &[], |html| {
        html.line("th", &[("scope", "row")], &entry.date.to_string());
        let condition = entry.condition.map_or("", Condition::name);
        let note = note(entry);
        for words in [entry.event.name(), &entry.revision, condition, &entry.by, &note] {
            html.line("td", &[], words);
        }
    });
}

/// Where, what was noted, which photograph: a path is told and never loaded.
fn note(entry: &Entry) -> String {
    let photo = if entry.photo.is_empty() { String::new() } else { format!("photo {}", entry.photo) };
    let parts = [entry.place.as_str(), &entry.note, &photo];
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("; ")
}

/// What a copy says, as the record keeps it, each point with what belongs to it.
pub(super) fn statement(html: &mut Html, says: &Statement) {
    let mut lines: Vec<String> = Vec::new();
    for part in says.0.iter().filter(|part| !matches!(part.kind, Kind::Code | Kind::LeftOff)) {
        match (part.kind, lines.last_mut()) {
            (Kind::At | Kind::Serves | Kind::With, Some(point)) => point.push_str(&format!(", {}", part.text)),
            _ => lines.push(part.text.clone()),
        }
    }
    html.element("div", &[("class", "says")], |html| lines.iter().for_each(|line| html.line("p", &[], line)));
    html.new_line();
}
