//! Changes as files: a document for approval, a table for spreadsheets.

use std::collections::{BTreeSet, HashMap};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::cli::arguments::General;
use crate::cli::failure::Failure;
use crate::cli::outputs::Outputs;
use crate::cli::pipeline::Loaded;
use crate::cli::progress::Progress;
use crate::cli::report::json::OutputEntry;
use crate::cli::report::{counted, visible};
use crate::cli::setting;
use crate::cli::sizes;
use crate::cli::{book, document, house};
use crate::drawing::Drawing;
use crate::pages::{Book, Identity, Revision, Stationery};
use crate::records::changes::{Against, Changes, Document, Fate, HEAD, Titles, rows};
use crate::schedule::csv;
use crate::sheets;
use crate::typesetting::Typesetter;

/// What is shown of changes, whatever the form.
pub(in crate::cli) struct Shown<'a> {
    /// What changed.
    pub changes: &'a Changes<'a>,
    /// What is held against what.
    pub against: Against,
    /// The new survey.
    pub loaded: &'a Loaded,
    /// The old file, as the user named it.
    pub old: &'a str,
    /// The new file, as the user named it.
    pub new: &'a str,
    /// What narrows what is shown, in words.
    pub selection: &'a str,
    /// Names or files of sheet formats; empty for those of the job.
    pub sheets: &'a [String],
}

/// What a file is, by the ending of its name.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(in crate::cli) enum Form {
    /// Pages.
    Pdf,
    /// A table.
    Csv,
}

/// What each file is to be.
///
/// # Errors
/// An ending that names no form; the document and a report on one stream.
pub(in crate::cli) fn forms(paths: &[PathBuf], general: &General) -> Result<Vec<Form>, Failure> {
    let form = |path: &PathBuf| {
        document::refuse_two_results(path, general)?;
        if path == Path::new("-") {
            let message = "the changes themselves go to standard output";
            return Err(Failure::with_hint(message, "give `-o` a file"));
        }
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_ascii_lowercase()).unwrap_or_default();
        match ending.as_str() {
            "pdf" => Ok(Form::Pdf),
            "csv" => Ok(Form::Csv),
            _ => {
                let message = format!("`{}` does not say what it is to be", path.display());
                Err(Failure::with_hint(message, "let its name end in .pdf or .csv"))
            }
        }
    };
    paths.iter().map(form).collect()
}

impl Shown<'_> {
    /// Writes every file, all of them or none; the answer is what was written, and what is said of it.
    ///
    /// # Errors
    /// Those of files and of documents.
    pub(in crate::cli) fn write(
        &self,
        forms: &[Form],
        mut outputs: Outputs,
        general: &General,
    ) -> Result<(Vec<OutputEntry>, String), Failure> {
        let (mut written, mut told) = (Vec::new(), String::new());
        let notices = self.changes.changed.len();
        for form in forms {
            let (path, pages, bytes) = match form {
                Form::Pdf => self.pdf(&mut outputs, general)?,
                Form::Csv => {
                    let (path, bytes) = outputs.write(|out| csv::write_cells(out, rows(self.changes, self.against)))?;
                    (path, 0, bytes)
                }
            };
            let on = if pages > 0 { format!(" on {}", counted(pages, "page")) } else { String::new() };
            told.push_str(&format!("{}: {}{on}\n", visible(&path), counted(notices, "change")));
            written.push(OutputEntry { path, pages, notices, bytes, read_back: None, packed: Vec::new() });
        }
        outputs.publish()?;
        Ok((written, told))
    }

    fn pdf(&self, outputs: &mut Outputs, general: &General) -> Result<(String, usize, u64), Failure> {
        let job = &self.loaded.job;
        let typesetter = Typesetter::new();
        let pictures = self.pictures(&typesetter, general)?;
        let revision = |one: &'_ crate::job::RevisionEntry| {
            (one.revision.clone(), one.date.clone(), one.by.clone(), one.what.clone())
        };
        let revisions: Vec<_> = job.revisions.iter().map(revision).collect();
        let revisions: Vec<Revision<'_>> =
            revisions.iter().map(|(revision, date, by, what)| Revision { revision, date, by, what }).collect();
        let identity = Identity {
            title: &job.job.title,
            site: &job.job.site,
            client: &job.job.client,
            revision: &job.job.revision,
            date: &job.job.date,
            prepared_by: &job.job.prepared_by,
            edition: &job.job.edition,
            survey: self.new,
            selection: self.selection,
            ..Identity::default()
        };
        let titles = Titles { identity, against: self.against, old: self.old, new: self.new, revisions: &revisions };
        let picture = |number: &str| pictures.get(number).cloned();
        let (foot, house) = (identity.foot(), house::of(self.loaded)?);
        let paper = sheets::parse_size("A4").unwrap_or_default().turned();
        let stationery = Stationery { paper, head: HEAD, foot: &foot, house: &house, typesetter: &typesetter };
        let book = Book::new(Document::new(titles, self.changes, &picture), stationery);
        let setup = document::kept(document::info(job, "changes of notices"));
        let (path, written) = book::write(&book, &setup, job.limits().pages, outputs)?;
        Ok((path, written.pages, written.bytes))
    }

    /// The new notices that are shown beside old words; one that cannot be set is shown without.
    fn pictures(&self, typesetter: &Typesetter, general: &General) -> Result<HashMap<&str, Arc<Drawing>>, Failure> {
        let shown = self.changes.changed.iter().filter(|change| matches!(change.fate, Fate::Altered | Fate::NotFit));
        let shown: BTreeSet<&str> = shown.map(|change| change.number).collect();
        if shown.is_empty() {
            return Ok(HashMap::new());
        }
        let sheets = sizes::Sheets::choose(self.sheets, self.loaded)?;
        let progress = Progress::start(general);
        let wanted = |notice: &crate::notice::Notice| shown.contains(notice.number.as_str());
        let set = setting::set_all(self.loaded, typesetter, &sheets, &progress, wanted);
        let pairs = self.loaded.notices().iter().zip(set.notices);
        Ok(pairs.filter_map(|(notice, set)| Some((notice.number.as_str(), typesetter.draw(notice, &*set?)))).collect())
    }
}
