//! One reading of a survey with everything that follows from it, and what the page looks up in it.

use std::collections::HashMap;
use std::path::PathBuf;

use foldhash::fast::RandomState;

use super::state::Origin;
use crate::cli::arguments::General;
use crate::cli::check::{self, Whole};
use crate::cli::failure::Failure;
use crate::cli::pipeline::{self, Input, Loaded};
use crate::cli::prepared;
use crate::cli::setting::AllSet;
use crate::files::{self, Stamp};
use crate::finding::{Finding, Place};
use crate::job::Job;
use crate::notice::Subject;

/// One reading.
pub(super) struct Shown {
    /// Which one.
    pub version: u64,
    /// The survey.
    pub origin: Origin,
    /// The bytes that the survey was read from.
    pub bytes: Vec<u8>,
    /// What follows from it.
    pub loaded: Loaded,
    /// The notices as set on the sheets of the job.
    pub set: AllSet,
    /// Everything found, the worst first.
    pub findings: Vec<Finding>,
    /// The notices of each enclosure, by its place in the survey.
    pub notices: Vec<Vec<usize>>,
    /// The enclosure of each row.
    pub enclosures: Vec<Option<usize>>,
    /// The findings of each row, by their places.
    pub of_row: HashMap<u32, Vec<usize>, RandomState>,
    /// The row that a spreadsheet shows for each row, the other way round.
    by_shown_row: HashMap<u32, u32, RandomState>,
    /// The files that were read, each as it was.
    stamps: Vec<(PathBuf, Option<Stamp>)>,
}

/// Where a finding stands in the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Spot {
    /// The row; `None` for the header.
    pub row: Option<u32>,
    /// The cell, from 0.
    pub cell: usize,
}

impl Shown {
    /// Decides and words what was read of a survey, for a job with its folder and file.
    pub(super) fn of(
        version: u64,
        (origin, bytes): (Origin, Vec<u8>),
        job: (Job, PathBuf, Option<PathBuf>),
        general: &General,
    ) -> Result<Self, Failure> {
        let input = Input { name: origin.name.clone(), bytes: bytes.clone() };
        let loaded = pipeline::load_read(input, job, general)?;
        let Whole { set, mut findings, .. } = check::whole(&loaded, general)?;
        findings.sort_by_key(super::findings::badness);
        let files = prepared::files_read(&loaded, Some(&origin.path), &[], None);
        let stamps = files.into_iter().map(|path| (path.clone(), files::stamp(&path))).collect();
        let mut shown = Self {
            version,
            origin,
            bytes,
            notices: Vec::new(),
            enclosures: Vec::new(),
            of_row: HashMap::default(),
            by_shown_row: HashMap::default(),
            loaded,
            set,
            findings,
            stamps,
        };
        shown.look_up();
        Ok(shown)
    }

    fn look_up(&mut self) {
        let survey = &self.loaded.survey;
        self.enclosures = vec![None; survey.rows()];
        let mut by_name: HashMap<&str, usize, RandomState> = HashMap::default();
        for (place, enclosure) in survey.enclosures.iter().enumerate() {
            by_name.insert(&enclosure.designation, place);
            for record in enclosure.rows.iter().filter_map(|row| usize::try_from(row.record).ok()) {
                self.enclosures.iter_mut().skip(record).take(1).for_each(|slot| *slot = Some(place));
            }
        }
        self.notices = vec![Vec::new(); survey.enclosures.len()];
        for (place, notice) in self.loaded.notices().iter().enumerate() {
            let of = by_name.get(notice.designation.as_str()).filter(|_| notice.subject == Subject::Enclosure);
            of.and_then(|of| self.notices.get_mut(*of)).into_iter().for_each(|notices| notices.push(place));
        }
        let rows = (0..survey.rows()).filter_map(|row| u32::try_from(row).ok());
        self.by_shown_row = rows.map(|row| (survey.shown_row(row), row)).collect();
        let rows: Vec<Option<u32>> = self.findings.iter().map(|finding| self.spot(finding)?.row).collect();
        for (number, row) in rows.into_iter().enumerate().filter_map(|(number, row)| Some((number, row?))) {
            self.of_row.entry(row).or_default().push(number);
        }
    }

    /// Where a finding stands in the table; `None` where it is about no cell of the survey.
    pub(super) fn spot(&self, finding: &Finding) -> Option<Spot> {
        let (cell, shown) = self.of_survey(finding.place.as_ref()?)?;
        Some(Spot { row: self.by_shown_row.get(&shown).copied(), cell })
    }

    /// The cell, and the row that a spreadsheet shows, of a place in the survey.
    fn of_survey(&self, place: &Place) -> Option<(usize, u32)> {
        (*place.file == *self.origin.name).then(|| address(&place.address)).flatten()
    }

    /// Whether another program wrote to one of the files since they were read.
    pub(super) fn is_outdated(&self) -> bool {
        self.stamps.iter().any(|(path, stamp)| files::stamp(path) != *stamp)
    }

    /// How many bytes a file may have.
    pub(super) fn limit(&self) -> u64 {
        self.loaded.job.limits().file_bytes
    }
}

/// Cell, from 0, and row of an address: `F14`.
fn address(text: &str) -> Option<(usize, u32)> {
    let digits = text.find(|c: char| c.is_ascii_digit())?;
    let (letters, row) = text.split_at_checked(digits)?;
    let letter = |all: usize, c: char| Some(all * 26 + usize::try_from(u32::from(c).checked_sub(64)?).ok()?);
    let cell = letters.chars().try_fold(0, letter)?;
    Some((cell.checked_sub(1)?, row.parse().ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_are_those_of_a_spreadsheet() {
        assert_eq!(address("A1"), Some((0, 1)));
        assert_eq!(address("F14"), Some((5, 14)));
        assert_eq!(address("AA3"), Some((26, 3)));
        assert_eq!(address("14"), None);
        assert_eq!(address(""), None);
    }
}
