//! What a person has chosen on the page, as the options of `labels`.

use std::collections::BTreeSet;
use std::path::PathBuf;

use serde::Deserialize;

use super::answer::Refused;
use super::shown::Shown;
use crate::cli::arguments::{Cells, Choice, OnPaper, SubjectChoice};
use crate::cli::failure::Failure;
use crate::cli::labels;
use crate::cli::prepared::Asked;
use crate::cli::selection::Wanted;

/// What is chosen. Fields that are not given are as on a command line without them.
#[derive(Clone, Debug, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct Chosen {
    /// The reading that was looked at.
    pub v: u64,
    pub sheets: Vec<String>,
    /// One area, by its name.
    pub area: String,
    /// Patterns of designations, areas or numbers, commas between.
    pub only: String,
    /// One kind of notice.
    pub kind: String,
    pub used_cells: String,
    pub copies: usize,
    pub printer: String,
    pub leave_out_faulty: bool,
    /// What is made of it; empty for a plan alone.
    pub what: String,
    pub record: bool,
    pub date: String,
    pub by: String,
}

impl Default for Chosen {
    fn default() -> Self {
        let [area, only, kind, used_cells, printer, what, date, by] = [(); 8].map(|()| String::new());
        let (sheets, record, leave_out_faulty) = (Vec::new(), false, false);
        Self {
            v: 0,
            sheets,
            area,
            only,
            kind,
            used_cells,
            copies: 1,
            printer,
            leave_out_faulty,
            what,
            record,
            date,
            by,
        }
    }
}

/// The same as the options of a command line, and the numbers of the notices where no option says as much.
pub(super) struct Options {
    pub choice: Choice,
    pub paper: OnPaper,
    pub numbers: Option<BTreeSet<String>>,
}

impl Chosen {
    /// The options that choose the same.
    ///
    /// # Errors
    /// A kind that is none, or a pattern that is none.
    pub(super) fn options(&self, shown: &Shown) -> Result<Options, Refused> {
        let subject = match self.kind.as_str() {
            "" => None,
            "enclosure" => Some(SubjectChoice::Enclosure),
            "device" => Some(SubjectChoice::Device),
            "standing" => Some(SubjectChoice::Standing),
            other => return Err(Refused::not_understood(format!("`{other}` is no kind of notice"))),
        };
        let patterns: Vec<String> =
            self.only.split(',').map(str::trim).filter(|one| !one.is_empty()).map(str::to_owned).collect();
        let area = (!self.area.is_empty()).then(|| glob::Pattern::escape(&self.area));
        let (only, numbers) = match (patterns.is_empty(), area) {
            (false, Some(_)) => (Vec::new(), Some(self.of_area(shown, &patterns, subject)?)),
            (_, area) => (patterns.into_iter().chain(area).collect(), None),
        };
        let text = |text: &String| (!text.trim().is_empty()).then(|| text.trim().to_owned());
        let cells = Cells { start_at: None, used_cells: text(&self.used_cells), copies: self.copies };
        Ok(Options {
            choice: Choice { sheet: self.sheets.clone(), only, subject, leave_out_faulty: self.leave_out_faulty },
            paper: OnPaper { cells, printer: text(&self.printer), profile: None::<PathBuf>, read_back: false },
            numbers,
        })
    }

    /// The notices of an area that match a pattern too; options of a command line say either, not both.
    fn of_area(
        &self,
        shown: &Shown,
        patterns: &[String],
        subject: Option<SubjectChoice>,
    ) -> Result<BTreeSet<String>, Failure> {
        let wanted = Wanted::new(patterns, subject.map(SubjectChoice::subject))?;
        let notices =
            shown.loaded.notices().iter().filter(|notice| notice.area == self.area && wanted.asks_for(notice.brief()));
        Ok(notices.map(|notice| notice.number.clone()).collect())
    }
}

impl Options {
    /// What is asked for of the survey.
    ///
    /// # Errors
    /// Cells that are none, or a printer that the job does not name.
    pub(super) fn asked<'a>(&'a self, shown: &Shown) -> Result<Asked<'a>, Failure> {
        let run = labels::run(&self.paper.cells, self.paper.printer.as_deref(), &shown.loaded.job)?;
        Ok(Asked { numbers: self.numbers.as_ref(), ..Asked::of(&self.choice, run) })
    }
}
