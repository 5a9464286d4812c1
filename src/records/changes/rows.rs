//! Changes as rows of cells, one row a difference, for spreadsheets.

use super::{Against, Change, Changes, Difference};
use crate::notice::Subject;

/// The columns.
const COLUMNS: [&str; 13] = [
    "rank",
    "danger",
    "number",
    "change",
    "on",
    "designation",
    "area",
    "position",
    "what",
    "point",
    "old",
    "new",
    "note",
];

/// The rows, the first with the names of the columns, the most dangerous first. A change without a difference has one row.
#[must_use]
pub fn rows(changes: &Changes<'_>, against: Against) -> Vec<Vec<String>> {
    let names = COLUMNS.iter().map(|&name| name.to_owned()).collect();
    let of_one = |change: &Change<'_>| {
        if change.differences.is_empty() {
            return vec![row(change, None, against)];
        }
        change.differences.iter().map(|difference| row(change, Some(difference), against)).collect::<Vec<_>>()
    };
    std::iter::once(names).chain(changes.changed.iter().flat_map(of_one)).collect()
}

fn row(change: &Change<'_>, difference: Option<&Difference>, against: Against) -> Vec<String> {
    let danger = difference.map_or(change.danger, |one| one.danger);
    let on = change.subject().map_or("", |subject| match subject {
        Subject::Enclosure => "enclosure",
        Subject::Device => "isolator",
        Subject::Standing => "standing notice",
    });
    let subject = change.subject().unwrap_or(Subject::Enclosure);
    let position = change.version().map_or("", |version| version.position);
    let of = |text: fn(&Difference) -> &str| difference.map(text).unwrap_or_default().to_owned();
    vec![
        change.danger.rank().to_string(),
        danger.name().to_owned(),
        change.number.to_owned(),
        against.word(change.fate).to_owned(),
        on.to_owned(),
        change.designation().to_owned(),
        change.area().to_owned(),
        position.to_owned(),
        difference.map_or(String::new(), |one| one.what.on(subject).to_owned()),
        of(|one| &one.at),
        of(|one| &one.old),
        of(|one| &one.new),
        change.note.clone(),
    ]
}
