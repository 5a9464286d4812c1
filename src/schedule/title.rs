//! Title block, revisions and cautions of a schedule.

use super::column::{Column, Listed, Value};
use crate::pages::{Identity, Revision, cautions};

/// One line of the title block.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TitleRow {
    /// What is told.
    pub term: &'static str,
    /// What is told of it.
    pub words: String,
}

/// The lines of the title block; what nobody said is called that.
pub(super) fn rows(identity: &Identity<'_>) -> Vec<TitleRow> {
    let named = |text: &str| if text.is_empty() { "not said".to_owned() } else { text.to_owned() };
    let supplies = match identity.supplies {
        "" => "none: nothing is proved about the network behind the isolators".to_owned(),
        supplies => supplies.to_owned(),
    };
    let standing = if identity.standing.is_empty() { "none" } else { identity.standing };
    let rows = [
        ("Title", named(identity.title)),
        ("Site", named(identity.site)),
        ("Client", named(identity.client)),
        ("Revision", named(identity.revision)),
        ("Date", named(identity.date)),
        ("Prepared by", named(identity.prepared_by)),
        ("Survey", named(identity.survey)),
        ("Supplies file", supplies),
        ("List of standing notices", standing.to_owned()),
        ("Decided by", identity.edition.to_owned()),
        ("Clauses", cautions::CLAUSES.to_owned()),
    ];
    let selection = (!identity.selection.is_empty())
        .then(|| ("Selection", format!("{}: an extract, not the whole schedule", identity.selection)));
    selection.into_iter().chain(rows).map(|(term, words)| TitleRow { term, words }).collect()
}

/// The revisions; without any, that of the title block.
pub(super) fn revisions<'a>(identity: &Identity<'a>, listed: &[Revision<'a>]) -> Vec<Revision<'a>> {
    if !listed.is_empty() {
        return listed.to_vec();
    }
    vec![Revision { revision: identity.revision, date: identity.date, by: identity.prepared_by, what: identity.title }]
}

/// One caution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CautionRow {
    /// Its number, from 1.
    pub number: usize,
    /// What is to be borne in mind.
    pub words: &'static str,
}

/// The cautions.
pub(super) fn cautions() -> Vec<CautionRow> {
    (1..).zip(cautions::CAUTIONS).map(|(number, words)| CautionRow { number, words }).collect()
}

impl Listed for TitleRow {
    const SHEET: &'static str = "Title and cautions";
    const TABLE: &'static str = "title_block";

    fn columns() -> Vec<Column<Self>> {
        vec![
            Column::new("title block", 16, |row| Value::text(row.term)),
            Column::new("of this schedule", 90, |row| Value::text(&row.words)),
        ]
    }
}

impl Listed for Revision<'_> {
    const SHEET: &'static str = TitleRow::SHEET;
    const TABLE: &'static str = "revisions";

    fn columns() -> Vec<Column<Self>> {
        vec![
            Column::new("revision", 16, |row| Value::text(row.revision)),
            Column::new("what is new", 90, |row| Value::text(row.what)),
            Column::new("date", 14, |row| Value::text(row.date)),
            Column::new("by", 18, |row| Value::text(row.by)),
        ]
    }
}

impl Listed for CautionRow {
    const SHEET: &'static str = TitleRow::SHEET;
    const TABLE: &'static str = "cautions";

    fn columns() -> Vec<Column<Self>> {
        vec![
            Column::new("caution", 16, |row| Value::count(row.number)),
            Column::new("to bear in mind", 90, |row| Value::text(row.words)),
        ]
    }
}
