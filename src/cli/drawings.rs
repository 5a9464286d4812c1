//! The drawings of a run, one a notice; where plates are engraved, as outlines, and one a sheet too.

use std::io::Write as _;
use std::path::{Path, PathBuf};

use rayon::prelude::*;

use super::failure::Failure;
use super::outputs::Outputs;
use super::printing::{Press, Printable, is_engraved};
use super::progress::Progress;
use super::report::counted;
use super::report::json::OutputEntry;
use crate::files;
use crate::sheets::{Page, Plan, Production, SheetFormat};
use crate::writers::svg;

/// Drawings made together before they are written: enough for every core, few enough for memory.
const AT_ONCE: usize = 64;

/// What the outlines say about themselves to people.
const DESCRIPTION: &str = "One-colour outlines in millimetres. Group `engrave`: the black areas are engraved, everything \
                           else is left standing. Group `cut`: the edge of each plate.";

/// Where the drawings go.
pub(super) struct Drawings {
    notices: Vec<PathBuf>,
    sheets: Vec<Sheet>,
}

/// A sheet of plates: page, from 0, of a document.
struct Sheet {
    document: usize,
    page: usize,
    path: PathBuf,
}

impl Drawings {
    /// Finds a place for every drawing, all of them checked before anything is written, and none of them that of one of
    /// the `documents`.
    ///
    /// The number of a notice holds a `/` or `@`, so that none is called like a sheet.
    pub(super) fn check(
        press: &Press<'_>,
        plan: &Plan,
        printable: &[Printable<'_>],
        (folder, documents): (&Path, &[PathBuf]),
    ) -> Result<Self, Failure> {
        files::make_folder(folder)?;
        let path = |one: &Printable<'_>| folder.join(format!("{}.svg", files::safe_name(one.brief().number)));
        let notices: Vec<PathBuf> = printable.iter().map(path).collect();
        let sheets = sheets(plan, folder);
        let drawn = notices.iter().chain(sheets.iter().map(|sheet| &sheet.path));
        let all: Vec<PathBuf> = documents.iter().chain(drawn).cloned().collect();
        Outputs::check(&all, press.keep, press.general)?;
        Ok(Self { notices, sheets })
    }

    /// How many there are of notices and of sheets.
    pub(super) fn count(&self) -> (usize, usize) {
        (self.notices.len(), self.sheets.len())
    }

    /// Writes them, and adds each to what is `written`. A drawing is whole by itself, so it takes its name as soon as it is
    /// written.
    pub(super) fn write(
        &self,
        press: &Press<'_>,
        plan: &Plan,
        printable: &[Printable<'_>],
        written: &mut Vec<OutputEntry>,
    ) -> Result<(), Failure> {
        let progress = Progress::start(press.general);
        progress.count("writing drawings", self.notices.len() + self.sheets.len());
        let numbered: Vec<usize> = (0..printable.len().min(self.notices.len())).collect();
        for labels in numbered.chunks(AT_ONCE) {
            let texts: Vec<_> = labels.par_iter().map(|label| of_notice(plan, printable, *label)).collect();
            for (text, path) in texts.iter().zip(self.notices.iter().skip(labels.first().copied().unwrap_or(0))) {
                written.push(put(press, path, text, 1)?);
                progress.done(1);
            }
        }
        for sheet in &self.sheets {
            let (text, notices) = sheet.drawn(press, plan, printable)?;
            written.push(put(press, &sheet.path, &text, notices)?);
            progress.done(1);
        }
        Ok(())
    }
}

/// `sheet-1.svg`, or `sheet-2-1.svg` for the first sheet of the second document where a run makes several.
fn sheets(plan: &Plan, folder: &Path) -> Vec<Sheet> {
    let several = plan.documents.len() > 1;
    let engraved = plan.documents.iter().enumerate().filter(|(_, document)| is_engraved(document));
    let of_document = |(document, pages): (usize, usize)| {
        (0..pages).map(move |page| {
            let document_number = if several { format!("{}-", document + 1) } else { String::new() };
            Sheet { document, page, path: folder.join(format!("sheet-{document_number}{}.svg", page + 1)) }
        })
    };
    engraved.map(|(index, document)| (index, document.pages())).flat_map(of_document).collect()
}

/// A notice as it is printed, or as it is engraved.
fn of_notice(plan: &Plan, printable: &[Printable<'_>], label: usize) -> String {
    let Some(one) = printable.get(label) else { return String::new() };
    let number = one.brief().number;
    match plan.format(label).map(AsRef::as_ref) {
        Some(SheetFormat { production: Production::Engraving(_), corner_radius, .. }) => {
            svg::to_engrave(&Page::plate(one.drawing(), *corner_radius), number, DESCRIPTION)
        }
        _ => svg::svg(&one.drawing(), number),
    }
}

impl Sheet {
    /// Its outlines, and how many notices lie on it.
    fn drawn(&self, press: &Press<'_>, plan: &Plan, printable: &[Printable<'_>]) -> Result<(String, usize), Failure> {
        let drawing = |label: usize| printable.get(label).map(|one| one.drawing());
        let page = plan.page(self.document, self.page, press.typesetter, drawing);
        let page = page.map_err(|error| Failure::could_not_run(error.to_string()))?;
        let document = plan.documents.get(self.document);
        let of = document.map_or(0, crate::sheets::Document::pages);
        let format = document.and_then(|document| document.format_of(self.page)).map(|format| format.name.as_str());
        let title = format!("Sheet {} of {of}: {}", self.page + 1, format.unwrap_or_default());
        let notices = page.placed.len();
        let description = format!("{} on it. {DESCRIPTION}", counted(notices, "plate"));
        Ok((svg::to_engrave(&page, &title, &description), notices))
    }
}

fn put(press: &Press<'_>, path: &PathBuf, text: &str, notices: usize) -> Result<OutputEntry, Failure> {
    let mut outputs = Outputs::check(std::slice::from_ref(path), press.keep, press.general)?;
    let (path, ()) = outputs.write(|out| out.write_all(text.as_bytes()))?;
    outputs.publish_after(&mut Vec::new())?;
    Ok(OutputEntry {
        path,
        pages: 0,
        notices,
        bytes: u64::try_from(text.len()).unwrap_or(u64::MAX),
        read_back: None,
        packed: Vec::new(),
    })
}
