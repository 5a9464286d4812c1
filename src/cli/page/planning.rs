//! What would be printed: which notice in which cell of which sheet.

use std::path::Path;

use serde::Serialize;

use super::answer::{Answer, Refused, json};
use super::choice::Chosen;
use super::findings::{self, FindingAnswer};
use super::shown::Shown;
use super::site::Site;
use crate::cli::labels::Made;
use crate::cli::prepared::{self, Prepared};
use crate::cli::printing;
use crate::cli::records;
use crate::cli::report::quantities;
use crate::finding::Finding;
use crate::length::Rect;
use crate::sheets::{self, Document, Production};

#[derive(Serialize, Default)]
struct PlanAnswer {
    ready: bool,
    message: Option<String>,
    hint: Option<String>,
    findings: Vec<FindingAnswer>,
    left_out: Vec<String>,
    command: Option<String>,
    notices: usize,
    quantities: Vec<String>,
    documents: Vec<DocumentAnswer>,
}

#[derive(Serialize)]
struct DocumentAnswer {
    name: String,
    paper: String,
    made: &'static str,
    width_mm: f64,
    height_mm: f64,
    markable: bool,
    pages: Vec<PageAnswer>,
}

#[derive(Serialize)]
struct PageAnswer {
    format: String,
    /// As the sheet is looked at: formats of one paper may lie otherwise.
    width_mm: f64,
    height_mm: f64,
    cells: Vec<CellAnswer>,
}

#[derive(Serialize)]
struct CellAnswer {
    cell: usize,
    x: f64,
    y: f64,
    w: f64,
    h: f64,
    turned: bool,
    notice: Option<usize>,
    number: Option<String>,
}

/// The sheets of what is chosen, or why there are none.
pub(super) fn plan(site: &Site, shown: &Shown, chosen: &Chosen) -> Answer {
    let options = chosen.options(shown)?;
    let output = Path::new("notices.pdf");
    let survey = shown.origin.path.as_path();
    let command = (options.numbers.is_none() && !shown.origin.dropped)
        .then(|| records::labels_command(&site.general, (survey, output), (&options.choice, &options.paper)));
    let unready = |message: String, hint: Option<String>, findings: Vec<FindingAnswer>| {
        json(&PlanAnswer { message: Some(message), hint, findings, command: command.clone(), ..PlanAnswer::default() })
    };
    let made = options.asked(shown).and_then(|asked| prepared::prepare(&shown.loaded, asked, &site.general, false));
    let found = |findings: &[Finding]| findings::several(shown, findings);
    let prepared = match made.map(Made::of) {
        Ok(Made::Done(prepared)) => prepared,
        Ok(Made::Faulty { findings, nothing_left, .. }) => {
            let message = if nothing_left { "every notice asked for has errors" } else { "errors are in the way" };
            return Ok(unready(message.to_owned(), None, found(&findings)));
        }
        Err(failure) => {
            let (message, hint) = failure.told();
            return Ok(unready(message, hint, Vec::new()));
        }
    };
    Ok(json(&PlanAnswer {
        ready: true,
        findings: found(&prepared.findings),
        left_out: prepared.selection.left_out.clone(),
        notices: prepared.selection.chosen.len(),
        quantities: quantities::text(&prepared.quantities()).lines().map(str::to_owned).collect(),
        documents: documents(&prepared, output)?,
        command,
        ..PlanAnswer::default()
    }))
}

fn documents(prepared: &Prepared<'_>, output: &Path) -> Result<Vec<DocumentAnswer>, Refused> {
    let names = printing::document_paths(output, &prepared.plan)?;
    Ok(prepared.plan.documents.iter().zip(names).map(|(one, name)| document(prepared, one, &name)).collect())
}

fn document(prepared: &Prepared<'_>, document: &Document, name: &Path) -> DocumentAnswer {
    let has_cells = document.parts.iter().all(|part| !part.format.cells.is_empty());
    DocumentAnswer {
        name: name.display().to_string(),
        paper: document.paper_name(),
        made: made(&document.production),
        width_mm: document.paper.width.to_mm(),
        height_mm: document.paper.height.to_mm(),
        markable: has_cells && document.production.dots().is_none(),
        pages: (0..document.pages()).map(|page| page_answer(prepared, document, page)).collect(),
    }
}

fn page_answer(prepared: &Prepared<'_>, document: &Document, page: usize) -> PageAnswer {
    let Some(format) = document.format_of(page) else {
        return PageAnswer { format: String::new(), width_mm: 0.0, height_mm: 0.0, cells: Vec::new() };
    };
    let laid = document.laid(page);
    let label = |cell: usize, laid: Option<&sheets::Laid>, room: Rect| {
        let one = laid.and_then(|laid| prepared.printable.get(laid.label));
        CellAnswer {
            cell,
            x: room.origin.x.to_mm(),
            y: room.origin.y.to_mm(),
            w: room.size.width.to_mm(),
            h: room.size.height.to_mm(),
            turned: laid.is_some_and(|laid| laid.turned),
            notice: one.map(|one| one.index),
            number: one.map(|one| one.brief().number.to_owned()),
        }
    };
    let cells = if format.cells.is_empty() {
        (1..).zip(&laid).map(|(cell, one)| label(cell, Some(one), one.room)).collect()
    } else {
        let in_cell = |room: &Rect| laid.iter().find(|one| one.room == *room);
        (1..).zip(&format.cells).map(|(cell, room)| label(cell, in_cell(room), *room)).collect()
    };
    let (width_mm, height_mm) = (format.paper.width.to_mm(), format.paper.height.to_mm());
    PageAnswer { format: format.name.clone(), width_mm, height_mm, cells }
}

const fn made(production: &Production) -> &'static str {
    match production {
        Production::Office => "a printer at hand",
        Production::Roll(_) => "a label printer",
        Production::Press(_) => "a printing works",
        Production::Engraving(_) => "an engraver",
    }
}

#[derive(Serialize)]
struct FormatsAnswer {
    formats: Vec<FormatAnswer>,
}

#[derive(Serialize)]
struct FormatAnswer {
    name: String,
    title: String,
    paper: String,
    cell: String,
    cells: usize,
    made: &'static str,
    usual: bool,
}

/// The sheet formats at hand.
pub(super) fn formats() -> Answer {
    let formats = sheets::built_in().iter().map(|format| FormatAnswer {
        name: format.name.clone(),
        title: format.title.clone(),
        paper: sheets::paper_name(format.paper),
        cell: if format.packing.is_some() { "packed".to_owned() } else { format.cell().to_string() },
        cells: format.cells.len(),
        made: made(&format.production),
        usual: format.is_usual(),
    });
    Ok(json(&FormatsAnswer { formats: formats.collect() }))
}
