//! Notices onto paper: the plan of their sheets, the documents, the drawings of single notices.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::arguments::General;
use super::failure::Failure;
use super::outputs::Outputs;
use super::pipeline::{AllSet, Loaded};
use super::report::json::{OutputEntry, PackedEntry, Printed};
use super::report::{counted, visible};
use crate::drawing::Drawing;
use crate::files;
use crate::finding::Finding;
use crate::job::Job;
use crate::limits::Limits;
use crate::notice::{Notice, Subject};
use crate::sheets::{self, Document, Formats, Label, Palette, Plan, PlanError, Run, Usage};
use crate::typesetting::Typesetter;
use crate::writers::pdf::PdfWriter;
use crate::writers::svg;

/// One notice that goes onto a sheet.
pub(super) struct Printable<'a> {
    /// Its place in the list of all notices.
    pub index: usize,
    /// Its words.
    pub notice: &'a Notice,
    /// Its picture.
    pub drawing: Arc<Drawing>,
}

/// What was printed.
#[derive(Debug, Default)]
pub(super) struct Printing {
    /// The files written.
    pub outputs: Vec<OutputEntry>,
    /// Where each notice lies first, by its place in the list of all notices.
    pub places: BTreeMap<usize, Printed>,
    sheets: Vec<String>,
    usage: Vec<Usage>,
}

/// The chosen notices that could be set, in the order of the choice.
pub(super) fn printable<'a>(loaded: &'a Loaded, set: &AllSet, chosen: &[usize]) -> Vec<Printable<'a>> {
    let one = |&index: &usize| {
        let drawing = Arc::clone(&set.notices.get(index)?.as_ref()?.drawing);
        Some(Printable { index, notice: loaded.notices.get(index)?, drawing })
    };
    chosen.iter().filter_map(one).collect()
}

/// Puts the sheets of large notices first; those of one size stay in walking order.
pub(super) fn largest_first(printable: &mut [Printable<'_>]) {
    printable.sort_by_key(|one| {
        let size = one.drawing.size;
        std::cmp::Reverse(i64::from(size.width.to_um()) * i64::from(size.height.to_um()))
    });
}

/// Gives every notice its sheet and cell.
pub(super) fn plan(
    printable: &[Printable<'_>],
    formats: &Formats,
    run: Run,
    limits: &Limits,
) -> Result<(Plan, Vec<Finding>), Failure> {
    let labels: Vec<Label<'_>> = printable
        .iter()
        .map(|one| Label { size: one.drawing.size, enclosure: one.notice.designation.as_str() })
        .collect();
    let (plan, mut findings) = sheets::plan(&labels, formats, run, limits).map_err(unplanned)?;
    findings.extend(unsuitable(printable, formats));
    Ok((plan, findings))
}

fn unplanned(error: PlanError) -> Failure {
    let message = error.to_string();
    match error {
        PlanError::SeveralFormats { .. } => {
            Failure::with_hint(message, "`--subject`, `--only` and `--sheet` narrow a run down to one format")
        }
        PlanError::Copies { .. } | PlanError::TooManyPages { .. } => {
            Failure::with_hint(message, "`copies` and `pages` under [limits] in the job file say how many are accepted")
        }
        PlanError::NoCells { .. } => Failure::with_hint(
            message,
            "leave `--start-at` and `--used-cells` out, or choose a format with cells for a part-used sheet",
        ),
        PlanError::NoSuchCell { .. }
        | PlanError::CellZero
        | PlanError::NoCellLeft { .. }
        | PlanError::TooLarge { .. } => Failure::could_not_run(message),
    }
}

/// The enclosures whose environment the material of their sheet would not stand up to, each once.
fn unsuitable(printable: &[Printable<'_>], formats: &Formats) -> Vec<Finding> {
    let mut seen = BTreeSet::new();
    let on_enclosures = printable.iter().filter(|one| one.notice.subject == Subject::Enclosure);
    on_enclosures
        .filter(|one| seen.insert(one.notice.designation.as_str()))
        .filter_map(|one| {
            let format = formats.for_size(one.drawing.size)?;
            sheets::suits(format.material, format.process, one.notice.environment, &one.notice.designation)
        })
        .collect()
}

/// What every document of a run is made with.
pub(super) struct Press<'a> {
    /// What the documents say about themselves.
    pub job: &'a Job,
    /// For the text in the margins.
    pub typesetter: &'a Typesetter,
    /// Whether files may be replaced.
    pub general: &'a General,
    /// The files that are read and must not be overwritten.
    pub keep: &'a [PathBuf],
}

impl Press<'_> {
    /// Writes one document for each paper, all of them or none, and then the drawings if a folder is given. No work is
    /// begun before all of them have a place to go to.
    pub(super) fn print(
        &self,
        plan: &Plan,
        printable: &[Printable<'_>],
        output: &Path,
        drawings: Option<&Path>,
    ) -> Result<Printing, Failure> {
        let paths = plan
            .documents
            .iter()
            .map(|document| document_path(output, plan, document))
            .collect::<Result<Vec<_>, _>>()?;
        let mut outputs = Outputs::check(&paths, self.keep, self.general)?;
        let drawings = drawings.map(|folder| self.drawing_paths(printable, folder)).transpose()?;
        let mut printing = Printing::default();
        for (index, document) in plan.documents.iter().enumerate() {
            printing.outputs.push(self.document(&mut outputs, plan, index, printable)?);
            printing.sheets.extend(
                document
                    .parts
                    .iter()
                    .map(|part| format!("{} x {} ({})", part.pages, part.format.name, document.paper_name())),
            );
        }
        outputs.publish()?;
        for (one, path) in printable.iter().zip(drawings.unwrap_or_default()) {
            printing.outputs.push(self.drawing(one, path)?);
        }
        printing.places = places(plan, printable);
        printing.usage = plan.usage().cloned().collect();
        Ok(printing)
    }

    fn document(
        &self,
        outputs: &mut Outputs,
        plan: &Plan,
        index: usize,
        printable: &[Printable<'_>],
    ) -> Result<OutputEntry, Failure> {
        let info = self.job.document_info();
        let Some(document) = plan.documents.get(index) else {
            return Err(Failure::could_not_run("a document that was not planned"));
        };
        let notices = document.parts.iter().map(|part| part.labels().len()).sum();
        let (pages, palette) = (document.pages(), Palette::of(&document.production));
        let drawing = |label: usize| printable.get(label).map(|one| Arc::clone(&one.drawing));
        let page = |number| Ok(plan.page(index, number, self.typesetter, drawing)?);
        let (path, written) = outputs.write(|out| {
            let mut pdf = PdfWriter::begin(out, &info, &palette)?;
            pdf.add_all(pages, page)?;
            pdf.finish()
        })?;
        let packed = document.usage().map(PackedEntry::from).collect();
        Ok(OutputEntry { path, pages: written.pages, notices, bytes: written.bytes, packed })
    }

    /// Where the drawings go, all of them checked before anything is written.
    fn drawing_paths(&self, printable: &[Printable<'_>], folder: &Path) -> Result<Vec<PathBuf>, Failure> {
        files::make_folder(folder)?;
        let path = |one: &Printable<'_>| folder.join(format!("{}.svg", files::safe_name(&one.notice.number)));
        let paths: Vec<PathBuf> = printable.iter().map(path).collect();
        for path in &paths {
            Outputs::check(std::slice::from_ref(path), self.keep, self.general)?;
        }
        Ok(paths)
    }

    /// A drawing is whole by itself, so it takes its name as soon as it is written.
    fn drawing(&self, one: &Printable<'_>, path: PathBuf) -> Result<OutputEntry, Failure> {
        let text = svg::svg(&one.drawing, &one.notice.number);
        let mut outputs = Outputs::check(&[path], self.keep, self.general)?;
        let (path, ()) = outputs.write(|out| out.write_all(text.as_bytes()))?;
        outputs.publish()?;
        let bytes = u64::try_from(text.len()).unwrap_or(u64::MAX);
        Ok(OutputEntry { path, pages: 0, notices: 1, bytes, packed: Vec::new() })
    }
}

/// The name of a document: the one asked for, with the paper's name behind it where a run needs several papers, and the
/// way of making where one paper is made in several ways.
fn document_path(output: &Path, plan: &Plan, document: &Document) -> Result<PathBuf, Failure> {
    if plan.documents.len() == 1 {
        return Ok(output.to_owned());
    }
    if output == Path::new("-") {
        let message = "this run needs several papers, and standard output holds one document";
        return Err(Failure::with_hint(message, "choose one format with `--sheet`, or give `-o` a file"));
    }
    let alike = plan.documents.iter().filter(|other| other.paper_name() == document.paper_name()).count();
    let kind = if alike > 1 { format!("-{}", document.production.name()) } else { String::new() };
    let stem = output.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let ending = output.extension().map(|ending| format!(".{}", ending.to_string_lossy())).unwrap_or_default();
    Ok(output.with_file_name(format!("{stem}-{}{kind}{ending}", document.paper_name().to_lowercase())))
}

fn places(plan: &Plan, printable: &[Printable<'_>]) -> BTreeMap<usize, Printed> {
    let first = |(label, one): (usize, &Printable<'_>)| {
        let place = plan.places(label).first().copied()?;
        Some((one.index, Printed { page: place.page, cell: place.cell }))
    };
    printable.iter().enumerate().filter_map(first).collect()
}

/// How well packed sheets are used, and how few there could be at best.
fn used(usage: &Usage) -> String {
    let sheets = counted(usage.sheets, "sheet");
    let length = usage.length.map(|length| format!(", {:.2} m long", length.to_mm() / 1_000.0)).unwrap_or_default();
    let fewest = if usage.fewest < usage.sheets {
        format!("no packing needs fewer than {} (by area)", usage.fewest)
    } else {
        "no packing needs fewer".to_owned()
    };
    let share = (usage.share * 100.0).floor();
    format!("{}: {sheets}{length}, {share} % of the room used; {fewest}\n", visible(&usage.format))
}

impl Printing {
    /// What was made, and how it is printed.
    pub(super) fn summary(&self) -> String {
        let mut text = String::new();
        for output in self.outputs.iter().filter(|output| output.pages > 0) {
            let (notices, pages) = (counted(output.notices, "notice"), counted(output.pages, "sheet"));
            text.push_str(&format!("{}: {notices} on {pages}\n", visible(&output.path)));
        }
        text.extend(self.usage.iter().map(used));
        let drawings = self.outputs.iter().filter(|output| output.pages == 0).count();
        if drawings > 0 {
            text.push_str(&format!("{} of single notices\n", counted(drawings, "drawing")));
        }
        format!(
            "{text}sheets in order: {}\n\
             print at 100 % (actual size), single-sided, and measure the 100 mm ruler in the margin before use\n",
            self.sheets.join(", ")
        )
    }
}
