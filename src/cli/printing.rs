//! Notices onto paper: the plan of their sheets, the documents, the drawings of single notices.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::arguments::General;
use super::document;
use super::drawings::Drawings;
use super::failure::Failure;
use super::outputs::Outputs;
use super::pictures::Pictures;
use super::pipeline::Loaded;
use super::read_back::{self, Witness};
use super::records::{Recorded, Recording};
use super::report::json::{OutputEntry, PackedEntry, Printed};
use super::report::{counted, quantities, visible};
use super::setting::AllSet;
use super::{texts, works};
use crate::drawing::Drawing;
use crate::finding::Finding;
use crate::job::Job;
use crate::limits::Limits;
use crate::notice::{Brief, Notice, Packed};
use crate::sheets::{self, Document, Formats, Label, Palette, Plan, PlanError, Production, Quantity, Run, Usage};
use crate::typesetting::{Setting, Typesetter};
use crate::writers::engraving;
use crate::writers::pdf::{PdfWriter, Setup, Standard};

/// One notice that goes onto a sheet.
pub(super) struct Printable<'a> {
    /// Its place in the list of all notices.
    pub index: usize,
    /// Its words, in few bytes.
    pub packed: &'a Packed,
    /// How it is set.
    pub set: Arc<Setting>,
}

impl<'a> Printable<'a> {
    /// What it is chosen, sorted and found by.
    pub(super) fn brief(&self) -> Brief<'a> {
        self.packed.brief()
    }

    /// Its words, made whole each time: of a large survey nobody keeps them all.
    pub(super) fn notice(&self) -> Notice {
        self.packed.notice()
    }

    /// Its picture, drawn anew each time as well.
    pub(super) fn drawing(&self) -> Arc<Drawing> {
        Typesetter::new().draw(&self.notice(), &self.set)
    }
}

/// What was printed.
#[derive(Debug, Default)]
pub(super) struct Printing {
    /// The files written.
    pub outputs: Vec<OutputEntry>,
    /// Where each notice lies first, by its place in the list of all notices.
    pub places: BTreeMap<usize, Printed>,
    /// How much of which material it takes.
    pub quantities: Vec<Quantity>,
    sheets: Vec<String>,
    /// What is to be done with each kind of document.
    advice: Vec<String>,
    /// Pages to be read and signed instead of sheets.
    is_for_approval: bool,
    /// Drawings of single notices, and of sheets of plates.
    drawings: (usize, usize),
    /// Pictures of single notices.
    pictures: usize,
    /// The table of texts, if one was written.
    texts: Option<String>,
    usage: Vec<Usage>,
    /// What the record keeps of it.
    pub recorded: Option<Recorded>,
}

/// The chosen notices that could be set, in the order of the choice.
pub(super) fn printable<'a>(loaded: &'a Loaded, set: &AllSet, chosen: &[usize]) -> Vec<Printable<'a>> {
    let one = |&index: &usize| {
        Some(Printable { index, packed: loaded.packed.get(index)?, set: set.notices.get(index).cloned().flatten()? })
    };
    let mut printable = Vec::with_capacity(chosen.len());
    printable.extend(chosen.iter().filter_map(one));
    printable
}

/// Puts the sheets of large notices first; those of one size stay in walking order.
pub(super) fn largest_first(printable: &mut [Printable<'_>]) {
    printable.sort_by_key(|one| {
        let size = one.set.size;
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
    let labels: Vec<Label<'_>> =
        printable.iter().map(|one| Label { size: one.set.size, enclosure: one.brief().designation }).collect();
    let (plan, mut findings) = sheets::plan(&labels, formats, run, limits).map_err(unplanned)?;
    findings.extend(too_fine(printable, &plan));
    findings.extend(without_yellow(printable, &plan));
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
        PlanError::OnRoll { .. } => {
            Failure::with_hint(message, "leave out `--start-at` and `--used-cells`; `--only` prints some labels again")
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

/// What is finer than the tool that engraves it.
fn too_fine(printable: &[Printable<'_>], plan: &Plan) -> Vec<Finding> {
    let of_one = |(label, one): (usize, &Printable<'_>)| match plan.format(label).map(|format| &format.production) {
        Some(Production::Engraving(engraving)) => {
            let Brief { number, designation, .. } = one.brief();
            sheets::finer_than_tool(&one.drawing(), engraving.tool, number, designation)
        }
        Some(Production::Office | Production::Roll(_) | Production::Press(_)) | None => Vec::new(),
    };
    printable.iter().enumerate().flat_map(of_one).collect()
}

/// The files that a run is to make.
pub(super) struct Wished<'a> {
    /// The document; several papers make several documents of this name.
    pub output: &'a Path,
    /// A folder for drawings.
    pub drawings: Option<&'a Path>,
    /// A folder for pictures.
    pub pictures: Option<&'a Path>,
    /// A table of the lines of text.
    pub texts: Option<&'a Path>,
    /// Where it is kept what was printed, if that is asked for.
    pub recording: Option<&'a Recording<'a>>,
}

/// The formats on which the warning sign comes out without its yellow, each once.
fn without_yellow(printable: &[Printable<'_>], plan: &Plan) -> Vec<Finding> {
    let parts = plan.documents.iter().flat_map(|document| &document.parts);
    let drawing = |label: &usize| printable.get(*label).map(Printable::drawing);
    parts.filter_map(|part| sheets::without_yellow(&part.format, part.labels().iter().filter_map(drawing))).collect()
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
    /// What documents for a printing works keep to.
    pub standard: &'a Standard,
    /// What every document is held against once it is written, if that is asked for.
    pub witness: Option<Witness<'a>>,
}

impl Press<'_> {
    /// Writes one document for each paper and the table of texts, all of them or none, keeps in the record that they
    /// were printed, and then writes drawings and pictures if folders are given. No work is begun before all of them have a place to go to.
    pub(super) fn print(
        &self,
        plan: &Plan,
        printable: &[Printable<'_>],
        wished: &Wished<'_>,
    ) -> Result<Printing, Failure> {
        let printed = self.printed(plan, printable, wished);
        let more = wished.drawings.is_some() || wished.pictures.is_some() || wished.recording.is_some();
        printed.map_err(|failure| if more { failure.with_more_to_do() } else { failure })
    }

    fn printed(&self, plan: &Plan, printable: &[Printable<'_>], wished: &Wished<'_>) -> Result<Printing, Failure> {
        let documents = document_paths(wished.output, plan)?;
        let paths: Vec<PathBuf> = documents.iter().cloned().chain(wished.texts.map(Path::to_owned)).collect();
        let mut outputs = Outputs::check(&paths, self.keep, self.general)?;
        document::refuse_foreign_ending(wished.output)?;
        let drawings = wished.drawings.map(|to| Drawings::check(self, plan, printable, (to, &paths))).transpose()?;
        let pictures = wished.pictures.map(|to| Pictures::check(self, plan, printable, (to, &paths))).transpose()?;
        let mut printing = Printing::default();
        for (index, document) in plan.documents.iter().enumerate() {
            printing.outputs.push(self.document(&mut outputs, plan, index, printable)?);
            printing.advise(self.advice(document));
            printing.sheets.extend(
                document
                    .parts
                    .iter()
                    .map(|part| format!("{} x {} ({})", part.pages, part.format.name, document.paper_name())),
            );
        }
        if wished.texts.is_some() {
            let (path, bytes) = outputs.write(|out| texts::write(out, plan, printable, &documents))?;
            printing.texts = Some(path.clone());
            printing.outputs.push(OutputEntry {
                path,
                pages: 0,
                notices: printable.len(),
                bytes,
                read_back: None,
                packed: Vec::new(),
            });
        }
        let held = wished.recording.map(|recording| Ok::<_, Failure>((recording, recording.hold(printable)?)));
        let held = held.transpose()?;
        // Until the documents are on the disk, nothing else would be done.
        let (published, places) = rayon::join(|| outputs.publish(), || places(plan, printable));
        published?;
        printing.places = places;
        let kept = held.map(|(recording, adding)| recording.keep(adding, plan, printable, &documents));
        printing.recorded = kept.transpose()?;
        if let Some(drawings) = drawings {
            printing.drawings = drawings.count();
            let drawn = drawings.write(self, plan, printable, &mut printing.outputs);
            drawn.map_err(|failure| printing.cut_short(failure))?;
        }
        if let Some(pictures) = pictures {
            printing.pictures = pictures.count();
            let drawn = pictures.write(self, &mut printing.outputs);
            drawn.map_err(|failure| printing.cut_short(failure))?;
        }
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
        let Some(document) = plan.documents.get(index) else {
            return Err(Failure::could_not_run("a document that was not planned"));
        };
        let notices = document.parts.iter().map(|part| part.labels().len()).sum();
        let (pages, setup) = (document.pages(), self.setup(document));
        let drawing = drawn(document, printable);
        let progress = outputs.progress();
        progress.count("writing sheets", pages);
        let page = |number| {
            progress.done(1);
            Ok(plan.page(index, number, self.typesetter, &drawing)?)
        };
        let content = |out: &mut dyn Write| {
            let mut pdf = PdfWriter::begin(out, &setup)?;
            pdf.add_all(pages, page)?;
            pdf.finish()
        };
        let (path, written, read_back) = match &self.witness {
            None => {
                let (path, written) = outputs.write(|out| content(out))?;
                (path, written, None)
            }
            Some(witness) => {
                let planned = |number| plan.page(index, number, self.typesetter, &drawing);
                let examine = |bytes| {
                    progress.say("reading back");
                    witness.examine(bytes, (plan, index), printable, planned)
                };
                let (path, written, read) = outputs.write_checked(content, examine)?;
                (path, written, Some(read_back::entry(&read)))
            }
        };
        let packed = document.usage().map(PackedEntry::from).collect();
        Ok(OutputEntry { path, pages: written.pages, notices, bytes: written.bytes, read_back, packed })
    }

    /// What is settled of a document before its first page.
    fn setup(&self, document: &Document) -> Setup {
        let standard = match document.production {
            Production::Press(_) => self.standard.clone(),
            Production::Office | Production::Roll(_) | Production::Engraving(_) => Standard::Plain,
        };
        Setup { info: self.job.document_info(), palette: Palette::of(&document.production), standard }
    }

    /// What is to be done with a document.
    fn advice(&self, document: &Document) -> String {
        match &document.production {
            Production::Press(press) => works::told(self.standard, press),
            Production::Engraving(_) => FOR_ENGRAVERS.to_owned(),
            Production::Roll(_) => FOR_ROLLS.to_owned(),
            Production::Office => AT_HAND.to_owned(),
        }
    }
}

/// The names of the documents of a plan.
pub(super) fn document_paths(output: &Path, plan: &Plan) -> Result<Vec<PathBuf>, Failure> {
    plan.documents.iter().map(|document| document_path(output, plan, document)).collect()
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
    // A paper without a name is called by its size, `297 x 105 mm`, and a file's name has no spaces.
    let paper = document.paper_name().to_lowercase().replace(' ', "");
    Ok(output.with_file_name(format!("{stem}-{paper}{kind}{ending}")))
}

/// The pictures of labels as a document shows them: outlines where they are engraved.
pub(super) fn drawn<'p>(
    document: &Document,
    printable: &'p [Printable<'_>],
) -> impl Fn(usize) -> Option<Arc<Drawing>> + Sync + 'p {
    let engraved = is_engraved(document);
    move |label| {
        let drawing = printable.get(label)?.drawing();
        Some(if engraved { Arc::new(engraving::engraved(&drawing)) } else { drawing })
    }
}

/// Whether a document is outlines to engrave.
pub(super) const fn is_engraved(document: &Document) -> bool {
    matches!(document.production, Production::Engraving(_))
}

fn places(plan: &Plan, printable: &[Printable<'_>]) -> BTreeMap<usize, Printed> {
    let first = |(label, one): (usize, &Printable<'_>)| {
        let place = plan.places(label).first().copied()?;
        Some((one.index, Printed { page: place.page, cell: place.cell }))
    };
    printable.iter().enumerate().filter_map(first).collect()
}

/// How sheets for a printer at hand are printed.
const AT_HAND: &str =
    "print at 100 % (actual size), single-sided, and measure the 100 mm ruler in the margin before use\n";

/// How labels on a roll are printed.
const FOR_ROLLS: &str = "print the roll at 100 % (actual size), every page is one label, and measure the first\n";

/// How plates are engraved.
const FOR_ENGRAVERS: &str = "engrave at 100 % (actual size): black is engraved, the thin magenta line is the edge of a plate; \
                             measure the first plate before the others are made\n";
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
    /// Keeps an advice, once.
    fn advise(&mut self, advice: String) {
        if !self.advice.contains(&advice) {
            self.advice.push(advice);
        }
    }

    /// A failure among the drawings or pictures, when documents and record are in place.
    fn cut_short(&self, failure: Failure) -> Failure {
        let written: Vec<String> = self.outputs.iter().map(|output| output.path.clone()).collect();
        let failure = failure.leaving(&written);
        match &self.recorded {
            Some(recorded) => failure.and_also(recorded.summary().trim_end()),
            None => failure,
        }
    }

    /// A document for approval.
    pub(super) fn for_approval(output: OutputEntry) -> Self {
        Self { outputs: vec![output], is_for_approval: true, ..Self::default() }
    }

    /// Documents that are read.
    pub(super) fn of_documents(outputs: Vec<OutputEntry>) -> Self {
        Self { outputs, ..Self::default() }
    }

    /// A printing made before, of which the record now knows.
    pub(super) fn only_recorded(recorded: Recorded) -> Self {
        Self { recorded: Some(recorded), ..Self::default() }
    }

    /// What was made, and how it is printed.
    pub(super) fn summary(&self) -> String {
        if self.is_for_approval {
            return self.outputs.iter().map(approval_summary).collect();
        }
        let mut text = String::new();
        for output in self.outputs.iter().filter(|output| output.pages > 0) {
            let (notices, pages) = (counted(output.notices, "notice"), counted(output.pages, "sheet"));
            text.push_str(&format!("{}: {notices} on {pages}\n", visible(&output.path)));
            text.extend(output.read_back.as_ref().map(read_back::summary));
        }
        let (notices, sheets) = self.drawings;
        if notices > 0 {
            text.push_str(&format!("{} of single notices\n", counted(notices, "drawing")));
        }
        if sheets > 0 {
            text.push_str(&format!("{} of sheets of plates\n", counted(sheets, "drawing")));
        }
        if self.pictures > 0 {
            text.push_str(&format!("{} of single notices\n", counted(self.pictures, "picture")));
        }
        if let Some(path) = &self.texts {
            text.push_str(&format!("{}: the lines of text\n", visible(path)));
        }
        text.extend(self.usage.iter().map(used));
        format!(
            "{text}sheets in order: {}\n{}{}",
            self.sheets.join(", "),
            quantities::text(&self.quantities),
            self.advice.concat()
        ) + &self.recorded.as_ref().map(Recorded::summary).unwrap_or_default()
    }
}

fn approval_summary(output: &OutputEntry) -> String {
    let (notices, pages) = (counted(output.notices, "notice"), counted(output.pages, "page"));
    format!("{}: {notices} for approval on {pages}; nothing is ready to be fixed yet\n", visible(&output.path))
}
