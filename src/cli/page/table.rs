//! The survey as a table: the rows of a window of it, each cell as its author wrote it.

use serde::{Deserialize, Serialize};

use super::answer::{Answer, Refused, json};
use super::findings::{self, FindingAnswer};
use super::shown::Shown;
use crate::finding::Severity;
use crate::survey::Column;

/// So many rows are given at once.
const MOST_ROWS: usize = 1_000;

/// Which rows are asked for.
#[derive(Debug, Deserialize)]
pub(super) struct Window {
    /// The reading.
    pub v: u64,
    /// The first of those that match.
    #[serde(default)]
    from: usize,
    /// How many.
    #[serde(default = "usual_count")]
    count: usize,
    /// What one of its cells holds.
    #[serde(default)]
    find: String,
    /// The area of its enclosure.
    #[serde(default)]
    area: String,
    /// 1 for rows with findings alone.
    #[serde(default)]
    faulty: u8,
}

const fn usual_count() -> usize {
    200
}

#[derive(Serialize)]
struct TableAnswer<'a> {
    header: Vec<HeaderAnswer<'a>>,
    total: usize,
    from: usize,
    rows: Vec<RowAnswer>,
}

#[derive(Serialize)]
struct HeaderAnswer<'a> {
    text: &'a str,
    column: Option<&'static str>,
}

#[derive(Serialize)]
struct RowAnswer {
    row: u32,
    address: u32,
    enclosure: Option<usize>,
    cells: Vec<String>,
    marks: Vec<(usize, &'static str)>,
}

#[derive(Serialize)]
struct FindingsAnswer {
    row: u32,
    findings: Vec<FindingAnswer>,
}

/// The rows of a window.
pub(super) fn window(shown: &Shown, window: &Window) -> Answer {
    let survey = &shown.loaded.survey;
    let matching: Vec<u32> =
        (0..survey.rows()).filter_map(|row| u32::try_from(row).ok()).filter(|row| window.shows(shown, *row)).collect();
    let rows = matching.iter().skip(window.from).take(window.count.min(MOST_ROWS)).map(|row| one(shown, *row));
    let column = |cell: usize| Column::ALL.iter().find(|column| survey.cell_of(**column) == Some(cell));
    let header = survey.headers().iter().enumerate();
    let header = header.map(|(cell, text)| HeaderAnswer { text, column: column(cell).map(|column| column.name()) });
    Ok(json(&TableAnswer { header: header.collect(), total: matching.len(), from: window.from, rows: rows.collect() }))
}

impl Window {
    fn shows(&self, shown: &Shown, row: u32) -> bool {
        (self.faulty == 0 || shown.of_row.contains_key(&row))
            && (self.area.is_empty() || area(shown, row) == Some(&self.area))
            && (self.find.is_empty() || holds(shown, row, &self.find))
    }
}

fn holds(shown: &Shown, row: u32, text: &str) -> bool {
    let text = text.to_lowercase();
    shown.loaded.survey.cells(row).iter().any(|cell| cell.to_lowercase().contains(&text))
}

fn area(shown: &Shown, row: u32) -> Option<&str> {
    let enclosure = shown.enclosures.get(usize::try_from(row).ok()?).copied().flatten()?;
    shown.loaded.survey.enclosures.get(enclosure)?.area.as_deref()
}

fn one(shown: &Shown, row: u32) -> RowAnswer {
    let found = shown.of_row.get(&row).into_iter().flatten().filter_map(|number| shown.findings.get(*number));
    let mut marks: Vec<(usize, &'static str)> = Vec::new();
    // The worst of a cell comes first, and one mark a cell is enough.
    for (cell, severity) in found.filter_map(|finding| Some((shown.spot(finding)?.cell, finding.severity()))) {
        if marks.iter().all(|(marked, _)| *marked != cell) {
            marks.push((cell, Severity::name(severity)));
        }
    }
    RowAnswer {
        row,
        address: shown.loaded.survey.shown_row(row),
        enclosure: usize::try_from(row).ok().and_then(|row| shown.enclosures.get(row).copied().flatten()),
        cells: shown.loaded.survey.cells(row),
        marks,
    }
}

/// The findings of one row.
pub(super) fn findings_of(shown: &Shown, row: u32) -> Answer {
    if usize::try_from(row).map_or(true, |row| row >= shown.loaded.survey.rows()) {
        return Err(Refused::not_found());
    }
    let found = shown.of_row.get(&row).into_iter().flatten().filter_map(|number| shown.findings.get(*number));
    Ok(json(&FindingsAnswer { row, findings: found.map(|finding| findings::one(shown, finding)).collect() }))
}
