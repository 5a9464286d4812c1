//! `labels --approval`: the pages on which notices are approved, instead of label sheets.

use std::path::Path;

use rayon::prelude::*;

use super::failure::Failure;
use super::outputs::Outputs;
use super::pipeline::{AllSet, Loaded};
use super::printing::Printing;
use super::report::json::OutputEntry;
use super::selection::{Selection, Wanted};
use super::sizes::Sheets;
use crate::approval::{self, Approval, Document, Identity};
use crate::finding::Finding;
use crate::pages::Stationery;
use crate::sheets::{self, Page, Palette};
use crate::typesetting::Typesetter;
use crate::writers::pdf::{PdfWriter, Setup, encode};

/// Parts that are laid and encoded together before they are written: enough for every core, few enough for memory.
const PARTS_AT_ONCE: usize = 64;

/// What the pages show.
pub(super) struct Shown<'a> {
    /// The survey and what follows from it.
    pub loaded: &'a Loaded,
    /// The notices as set.
    pub set: &'a AllSet,
    /// Which notices are asked for.
    pub wanted: &'a Wanted,
    /// Those to approve, and what is left out.
    pub selection: &'a Selection,
    /// Everything found.
    pub findings: &'a [Finding],
    /// The formats that serve each size.
    pub sheets: &'a Sheets,
    /// The survey as the user named it.
    pub survey: &'a Path,
    /// Shapes the words.
    pub typesetter: &'a Typesetter,
}

impl Shown<'_> {
    /// Writes the document: once laid to count its pages, once more to write them, so that no more than some parts are
    /// in memory.
    pub(super) fn print(&self, mut outputs: Outputs) -> Result<Printing, Failure> {
        let silent = self.wanted.without_notice(self.loaded);
        let supplies = self.loaded.supplies_file.as_ref().map(|path| path.display().to_string()).unwrap_or_default();
        let survey = self.survey.display().to_string();
        let document = Document::new(self.approval(&silent, &survey, &supplies));
        let foot = document.foot();
        let paper = sheets::parse_size("A4").unwrap_or_default().turned();
        let stationery = Stationery { paper, head: approval::CAUTION, foot: &foot, typesetter: self.typesetter };
        let book = Book::new(document, stationery);
        book.within(self.loaded.job.limits().pages)?;
        let mut info = self.loaded.job.document_info();
        info.title.push_str(", for approval");
        let (path, written) = outputs.write(|out| {
            let mut pdf = PdfWriter::begin(out, &Setup::plain(info, Palette::Office))?;
            for first in (0..book.document.parts()).step_by(PARTS_AT_ONCE) {
                let last = book.document.parts().min(first + PARTS_AT_ONCE);
                let encoded = (first..last).into_par_iter().map(|part| {
                    let pages = book.pages(part);
                    pages.iter().map(|page| encode(page, &Palette::Office)).collect::<Vec<_>>()
                });
                let encoded: Vec<_> = encoded.collect();
                encoded.iter().flatten().try_for_each(|page| pdf.add(page))?;
            }
            pdf.finish()
        })?;
        outputs.publish()?;
        let notices = self.selection.chosen.len();
        Ok(Printing::for_approval(OutputEntry {
            path,
            pages: written.pages,
            notices,
            bytes: written.bytes,
            read_back: None,
            packed: Vec::new(),
        }))
    }

    fn approval<'a>(&'a self, silent: &'a [usize], survey: &'a str, supplies: &'a str) -> Approval<'a> {
        let job = &self.loaded.job.job;
        Approval {
            identity: Identity {
                title: &job.title,
                site: &job.site,
                client: &job.client,
                revision: &job.revision,
                date: &job.date,
                prepared_by: &job.prepared_by,
                edition: &job.edition,
                survey,
                supplies,
            },
            survey: &self.loaded.survey,
            network: &self.loaded.network,
            decisions: &self.loaded.decisions,
            notices: &self.loaded.notices,
            set: &self.set.notices,
            chosen: &self.selection.chosen,
            silent,
            left_out: &self.selection.left_out,
            findings: self.findings,
            formats: &self.sheets.formats,
        }
    }
}

/// The document with the first page of each part.
struct Book<'a> {
    document: Document<'a>,
    stationery: Stationery<'a>,
    /// The first page of each part, from 1, and behind the last part the one that would follow.
    first_pages: Vec<usize>,
}

impl<'a> Book<'a> {
    fn new(document: Document<'a>, stationery: Stationery<'a>) -> Self {
        let count = |part: usize| stationery.lay(&document.section(part, |_| 0)).len();
        let counts: Vec<usize> = (0..document.parts()).into_par_iter().map(count).collect();
        let mut first_pages = vec![1];
        let mut next = 1;
        for count in counts {
            next += count;
            first_pages.push(next);
        }
        Self { document, stationery, first_pages }
    }

    fn first_page(&self, part: usize) -> usize {
        self.first_pages.get(part).copied().unwrap_or_default()
    }

    fn count(&self) -> usize {
        self.first_page(self.document.parts()).saturating_sub(1)
    }

    fn within(&self, most: usize) -> Result<(), Failure> {
        let pages = self.count();
        if pages <= most {
            return Ok(());
        }
        let message = format!("{pages} pages are needed, and {most} are accepted");
        Err(Failure::with_hint(message, "`pages` under [limits] in the job file says how many are accepted"))
    }

    fn pages(&self, part: usize) -> Vec<Page> {
        let section = self.document.section(part, |part| self.first_page(part));
        let leaves = self.stationery.lay(&section);
        let numbered = leaves.iter().zip(self.first_page(part)..);
        numbered.map(|(leaf, number)| self.stationery.page(leaf, number, self.count())).collect()
    }
}
