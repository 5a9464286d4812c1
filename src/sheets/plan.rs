//! Gives every label its sheet and cell, from sizes alone.

use std::fmt;
use std::sync::{Arc, OnceLock};

use super::packed::{Packed, Slot, Usage};
use super::packing::Pattern;
use super::{Formats, Production, Run, SheetFormat, formats, furniture, paper_name};
use crate::drawing::Drawing;
use crate::finding::{Finding, code};
use crate::length::Size;
use crate::limits::Limits;
use crate::material::Process;
use crate::typesetting::Typesetter;

/// What the plan must know of a label.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Label<'a> {
    /// Its size.
    pub size: Size,
    /// Designation of its enclosure, for findings.
    pub enclosure: &'a str,
}

/// Which label lies where.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// One document for each size of paper and way of making, since a machine cannot change paper within one.
    pub documents: Vec<Document>,
    /// For each label, its part and its number among the labels of that part; `None` without a format.
    spots: Vec<Option<Spot>>,
    /// What the run asks for.
    pub run: Run,
}

/// The sheets of one paper, in order.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    /// The paper, as it is looked at in its first format.
    pub paper: Size,
    /// What all of it is made on.
    pub production: Production,
    /// Runs of sheets of one format each.
    pub parts: Vec<Part>,
}

/// The sheets of one format.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// The format.
    pub format: Arc<SheetFormat>,
    /// Its first page in the document, from 0.
    pub first_page: usize,
    /// Its pages.
    pub pages: usize,
    /// Its labels by their index, each standing for all its copies.
    labels: Vec<usize>,
    /// Where they lie if the format has no cells.
    packed: Option<Packed>,
    /// Cells of its first sheet that are free, from 0.
    free: Vec<usize>,
    copies: usize,
    /// What the margins of all its pages show, once a page was made.
    margin_marks: OnceLock<Arc<Drawing>>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Spot {
    document: usize,
    part: usize,
    number: usize,
}

/// Where one copy of a label lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// Index of the document.
    pub document: usize,
    /// Page of that document, from 1.
    pub page: usize,
    /// Cell of that sheet, from 1.
    pub cell: usize,
}

/// Why nothing can be planned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PlanError {
    /// A start or used cell is not on the sheet.
    NoSuchCell {
        /// The cell, from 1.
        cell: usize,
        /// Name of the format.
        format: String,
        /// Cells of the format.
        cells: usize,
    },
    /// Printing is to start at cell 0.
    CellZero,
    /// No cell of the first sheet is left.
    NoCellLeft {
        /// Name of the format.
        format: String,
    },
    /// Cells of the first sheet are named, but labels come from a roll.
    OnRoll {
        /// Name of the format.
        format: String,
    },
    /// Cells of a sheet are named, but the format has none.
    NoCells {
        /// Name of the format.
        format: String,
    },
    /// A label is larger than the room of the format chosen for it.
    TooLarge {
        /// Name of the format.
        format: String,
    },
    /// Cells of one sheet are named, but the run needs sheets of several formats.
    SeveralFormats {
        /// The names of the formats.
        formats: Vec<String>,
    },
    /// More copies than the limit, or none.
    Copies {
        /// Copies asked for.
        copies: usize,
        /// The most that are accepted.
        most: usize,
    },
    /// More pages than the limit.
    TooManyPages {
        /// Pages needed.
        pages: usize,
        /// The most that are accepted.
        most: usize,
    },
}

impl fmt::Display for PlanError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSuchCell { cell, format, cells } => {
                write!(f, "there is no cell {cell} on a sheet `{format}`, which has {cells}")
            }
            Self::CellZero => f.write_str("there is no cell 0: cells are numbered from 1"),
            Self::NoCellLeft { format } => write!(f, "every cell of the first sheet `{format}` is used"),
            Self::OnRoll { format } => write!(
                f,
                "labels of `{format}` come from a roll one after the other: there is no sheet with used cells"
            ),
            Self::NoCells { format } => write!(
                f,
                "a sheet `{format}` has no cells to start at or to leave out: its labels are packed anew in every run"
            ),
            Self::TooLarge { format } => write!(f, "a label is larger than the room on a sheet `{format}`"),
            Self::SeveralFormats { formats } => write!(
                f,
                "used cells are those of one sheet, but this run needs the sheets `{}`: print one format at a time",
                formats.join("`, `")
            ),
            Self::Copies { copies, most } => write!(f, "{copies} copies are asked for, and 1 to {most} are accepted"),
            Self::TooManyPages { pages, most } => write!(f, "{pages} pages are needed, and {most} are accepted"),
        }
    }
}

impl std::error::Error for PlanError {}

/// Plans the labels in their order. A label for which no format is at hand is reported and left out.
///
/// # Errors
/// [`PlanError`] if what the run asks for cannot be done.
pub fn plan(
    labels: &[Label<'_>],
    formats: &Formats,
    run: Run,
    limits: &Limits,
) -> Result<(Plan, Vec<Finding>), PlanError> {
    if run.start_at == 0 {
        return Err(PlanError::CellZero);
    }
    if !(1..=limits.copies).contains(&run.copies) {
        return Err(PlanError::Copies { copies: run.copies, most: limits.copies });
    }
    let mut plan = Plan { documents: Vec::new(), spots: Vec::with_capacity(labels.len()), run };
    let mut findings = Vec::new();
    let mut known: Vec<(Size, Option<Arc<SheetFormat>>)> = Vec::new();
    for (index, label) in labels.iter().enumerate() {
        let format = match known.iter().find(|(size, _)| *size == label.size) {
            Some((_, format)) => format.clone(),
            None => {
                let format = formats.for_size(label.size);
                known.push((label.size, format.clone()));
                format
            }
        };
        match format {
            Some(format) => plan.take(index, &format),
            None => {
                plan.spots.push(None);
                findings.push(without_sheet(label));
            }
        }
    }
    plan.keep_used_cells_free()?;
    plan.pack(labels)?;
    plan.count_pages(limits)?;
    findings.extend(plan.cautions());
    Ok((plan, findings))
}

impl Plan {
    /// The places of a label, one for each copy; none if it has no format.
    #[must_use]
    pub fn places(&self, label: usize) -> Vec<Place> {
        let spot = self.spots.get(label).copied().flatten();
        let Some((spot, part)) = spot.and_then(|spot| Some((spot, self.part(spot)?))) else {
            return Vec::new();
        };
        let first = spot.number * part.copies;
        let place = |copy| {
            let (page, cell) = part.position(first + copy);
            Place { document: spot.document, page: part.first_page + page + 1, cell: cell + 1 }
        };
        (0..part.copies).map(place).collect()
    }

    /// The format on which a label lies; `None` if it has no place.
    #[must_use]
    pub fn format(&self, label: usize) -> Option<&Arc<SheetFormat>> {
        let spot = self.spots.get(label).copied().flatten()?;
        Some(&self.part(spot)?.format)
    }

    /// Whether every label got a place.
    #[must_use]
    pub fn is_complete(&self) -> bool {
        self.spots.iter().all(Option::is_some)
    }

    fn part(&self, spot: Spot) -> Option<&Part> {
        self.documents.get(spot.document)?.parts.get(spot.part)
    }

    /// Gives a label the next spot of its format.
    fn take(&mut self, label: usize, format: &Arc<SheetFormat>) {
        let document = self.documents.iter().position(|document| document.takes(format));
        let document = document.unwrap_or_else(|| {
            self.documents.push(Document {
                paper: format.paper,
                production: format.production.clone(),
                parts: Vec::new(),
            });
            self.documents.len() - 1
        });
        let copies = self.run.copies;
        let Some(parts) = self.documents.get_mut(document).map(|document| &mut document.parts) else {
            return;
        };
        // Two files of one name in different folders are two formats.
        let same = |part: &Part| Arc::ptr_eq(&part.format, format) || part.format == *format;
        let part = parts.iter().position(same).unwrap_or_else(|| {
            parts.push(Part::new(Arc::clone(format), copies));
            parts.len() - 1
        });
        if let Some(labels) = parts.get_mut(part).map(|part| &mut part.labels) {
            self.spots.push(Some(Spot { document, part, number: labels.len() }));
            labels.push(label);
        }
    }

    /// Packs the labels of formats without cells.
    fn pack(&mut self, labels: &[Label<'_>]) -> Result<(), PlanError> {
        for part in self.documents.iter_mut().flat_map(|document| &mut document.parts) {
            if part.format.packing.is_some() {
                let sizes: Vec<Size> = part.labels.iter().filter_map(|label| Some(labels.get(*label)?.size)).collect();
                let packed = Packed::new(&part.format, &sizes, part.copies);
                part.packed = Some(packed.ok_or_else(|| PlanError::TooLarge { format: part.format.name.clone() })?);
            }
        }
        Ok(())
    }

    /// How well the sheets of packed formats are used.
    pub fn usage(&self) -> impl Iterator<Item = &Usage> {
        self.documents.iter().flat_map(Document::usage)
    }

    /// Leaves out the cells of the first sheet that are gone.
    fn keep_used_cells_free(&mut self) -> Result<(), PlanError> {
        if self.run.start_at <= 1 && self.run.used_cells.is_empty() {
            return Ok(());
        }
        let mut parts: Vec<&mut Part> = self.documents.iter_mut().flat_map(|document| &mut document.parts).collect();
        if let Some(packed) = parts.iter().find(|part| part.format.packing.is_some()) {
            return Err(PlanError::NoCells { format: packed.format.name.clone() });
        }
        if let [part] = parts.as_mut_slice() {
            return part.leave_out(&self.run);
        }
        let formats: Vec<_> = parts.iter().map(|part| part.format.name.clone()).collect();
        if formats.is_empty() { Ok(()) } else { Err(PlanError::SeveralFormats { formats }) }
    }

    fn count_pages(&mut self, limits: &Limits) -> Result<(), PlanError> {
        for document in &mut self.documents {
            let mut pages = 0;
            for part in &mut document.parts {
                part.first_page = pages;
                part.pages = part.sheets();
                pages += part.pages;
            }
            if pages > limits.pages {
                return Err(PlanError::TooManyPages { pages, most: limits.pages });
            }
        }
        Ok(())
    }

    /// What a person should know before printing.
    fn cautions(&self) -> Vec<Finding> {
        let mut cautions = Vec::new();
        cautions.extend(self.run.correction.check(&self.run.printer));
        for part in self.documents.iter().flat_map(|document| &document.parts) {
            let name = &part.format.name;
            if part.format.production.dots().is_some() && self.run.correction.asks_beyond_dots() {
                let message = format!("on `{name}` only the offset of printer `{}` is corrected", self.run.printer);
                cautions.push(Finding::new(code::DOTS_ARE_NOT_SCALED, message));
            }
            if part.free.len() < part.format.cells.len() && part.format.process == Process::Laser {
                let message = format!("the first sheet `{name}` has already been through the printer");
                cautions.push(Finding::new(code::PART_USED_SHEET, message));
            }
            if !self.run.left_out.is_empty()
                && !furniture::has_room_for_names(&part.format, &self.run, &Typesetter::new())
            {
                let message = format!("the margin of `{name}` has no room for the enclosures left out");
                cautions.push(Finding::new(code::MARGIN_TOO_NARROW, message));
            }
        }
        cautions
    }
}

impl Document {
    /// Whether sheets of a format can go through the same machine.
    fn takes(&self, format: &SheetFormat) -> bool {
        same_paper(self.paper, format.paper) && self.production == format.production
    }

    /// Pages of the document.
    #[must_use]
    pub fn pages(&self) -> usize {
        self.parts.iter().map(|part| part.pages).sum()
    }

    /// The paper by name: `A4`.
    #[must_use]
    pub fn paper_name(&self) -> String {
        paper_name(self.paper)
    }

    /// The format of a page, from 0.
    #[must_use]
    pub fn format_of(&self, page: usize) -> Option<&Arc<SheetFormat>> {
        self.part_of(page).map(|part| &part.format)
    }

    /// How well its packed sheets are used, format by format.
    pub fn usage(&self) -> impl Iterator<Item = &Usage> {
        self.parts.iter().filter_map(|part| Some(part.packed.as_ref()?.usage()))
    }

    /// The part to which a page belongs, from 0.
    pub(super) fn part_of(&self, page: usize) -> Option<&Part> {
        self.parts.iter().find(|part| (part.first_page..part.first_page + part.pages).contains(&page))
    }
}

impl Part {
    fn new(format: Arc<SheetFormat>, copies: usize) -> Self {
        let free = (0..format.cells.len()).collect();
        Self {
            format,
            first_page: 0,
            pages: 0,
            labels: Vec::new(),
            packed: None,
            free,
            copies,
            margin_marks: OnceLock::new(),
        }
    }

    /// The labels, each standing for all its copies.
    #[must_use]
    pub fn labels(&self) -> &[usize] {
        &self.labels
    }

    /// The format of one of its pages, from 0: where a roll is cut off, the paper is shorter.
    pub(super) fn format_of(&self, page: usize) -> Arc<SheetFormat> {
        match self.pattern(page) {
            Some(pattern) if self.format.is_web() => Arc::new(self.format.cut_off(pattern.used.height)),
            _ => Arc::clone(&self.format),
        }
    }

    /// What the margin of a page of this format shows; that of a roll is as long as its page and drawn for each.
    pub(super) fn margin_marks(&self, format: &SheetFormat, typesetter: &Typesetter) -> Arc<Drawing> {
        let drawn = || Arc::new(furniture::margin_marks(format, typesetter));
        if self.format.is_web() { drawn() } else { Arc::clone(self.margin_marks.get_or_init(drawn)) }
    }

    /// The cuts of one of its pages, from 0, if it is packed.
    pub(super) fn pattern(&self, page: usize) -> Option<&Pattern> {
        self.packed.as_ref()?.pattern(page)
    }

    /// The labels of one of its pages, from 0, with their slots.
    pub(super) fn on_page(&self, page: usize) -> Vec<(usize, Slot)> {
        let label = |number: usize| self.labels.get(number / self.copies.max(1)).copied();
        if let (Some(packed), Some(packing)) = (&self.packed, self.format.packing) {
            let slots = packed.slots(page, packing.area.origin);
            return slots.filter_map(|(number, slot)| Some((label(number)?, slot))).collect();
        }
        let cells = self.format.cells.len();
        let (first, count) = match page.checked_sub(1) {
            None => (0, self.free.len()),
            Some(full) => (self.free.len() + full * cells, cells),
        };
        let last = self.labels.len().saturating_mul(self.copies).min(first + count);
        let slot = |number: usize| {
            let room = self.format.cells.get(self.position(number).1).copied()?;
            Some((label(number)?, Slot { room, turned: false }))
        };
        (first..last).filter_map(slot).collect()
    }

    /// Page and cell of the label of this number, all from 0; on a packed page the cells are those that labels take.
    fn position(&self, number: usize) -> (usize, usize) {
        if let Some(packed) = &self.packed {
            return packed.position(number).unwrap_or_default();
        }
        match self.free.get(number) {
            Some(cell) => (0, *cell),
            None => {
                let (after, cells) = (number - self.free.len(), self.format.cells.len().max(1));
                (1 + after / cells, after % cells)
            }
        }
    }

    fn sheets(&self) -> usize {
        if let Some(packed) = &self.packed {
            return packed.sheets();
        }
        let labels = self.labels.len().saturating_mul(self.copies);
        labels.checked_sub(1).map_or(0, |last| self.position(last).0 + 1)
    }

    fn leave_out(&mut self, run: &Run) -> Result<(), PlanError> {
        let (cells, format) = (self.format.cells.len(), self.format.name.clone());
        if self.format.production.dots().is_some() {
            return Err(PlanError::OnRoll { format });
        }
        let named = run.used_cells.iter().copied().chain([run.start_at]);
        if let Some(cell) = named.max().filter(|cell| *cell > cells) {
            return Err(PlanError::NoSuchCell { cell, format, cells });
        }
        self.free.retain(|cell| cell + 1 >= run.start_at && !run.used_cells.contains(&(cell + 1)));
        if self.free.is_empty() { Err(PlanError::NoCellLeft { format }) } else { Ok(()) }
    }
}

/// The same paper, however it lies.
fn same_paper(one: Size, other: Size) -> bool {
    one == other || one == other.turned()
}

/// The finding of a label that no sheet format holds.
#[must_use]
pub fn without_sheet(label: &Label<'_>) -> Finding {
    let message = format!("no sheet format has a cell for a notice of {}", label.size);
    Finding::new(code::NO_SHEET_FOR_SIZE, message).help(formats::help_to_hold(label.size)).about(label.enclosure)
}
