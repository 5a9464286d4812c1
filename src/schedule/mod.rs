//! The label schedule: every notice with where it goes and why, the points of isolation, the isolator index, what needs no
//! notice and on whose word, materials, findings and cautions.
//!
//! A [`Schedule`] is data first: typed rows, of which PDF ([`Document`]), CSV ([`csv`]) and workbook ([`workbook`]) say
//! the same. A row's columns stand in one place ([`Listed`]), from which CSV and workbook are written.

mod column;
mod declared;

mod found;
mod isolators;
mod materials;
mod notes;
mod notices;
mod points;
mod silent;
mod title;

pub mod csv;
pub mod workbook;

mod document;

use std::collections::{HashMap, HashSet};

pub use column::{Column, Listed, Value};
pub use declared::Declared;
pub use document::{Document, HEAD};
pub use found::FindingRow;
pub use isolators::{Isolated, IsolatorLine, IsolatorRow};
pub use materials::MaterialRow;
pub use notes::NoteRow;
pub use notices::NoticeRow;
pub use points::{EnclosureRow, PointRow};
pub use silent::{Made, SilentRow};
pub use title::{CautionRow, TitleRow};

use notices::StandingIndex;

use crate::notice::Subject;
use crate::pages::{Identity, Revision};
use crate::prepared::{Names, Prepared};
use crate::rules::DeviceDecision;
use crate::wording::Wording;

/// Everything that a schedule says, row by row.
#[derive(Clone, Debug)]
pub struct Schedule<'a> {
    /// The title block, for running heads.
    pub identity: Identity<'a>,
    /// The title block, line by line.
    pub title: Vec<TitleRow>,
    /// The revisions, never empty.
    pub revisions: Vec<Revision<'a>>,
    /// What must be borne in mind.
    pub cautions: Vec<CautionRow>,
    /// The notices in walking order.
    pub notices: Vec<NoticeRow<'a>>,
    /// The enclosures with their points of isolation, in walking order.
    pub enclosures: Vec<EnclosureRow<'a>>,
    /// The isolators by location and designation.
    pub isolators: Vec<IsolatorRow<'a>>,
    /// What needs no notice, and rules that are lifted or unknown.
    pub silent: Vec<SilentRow<'a>>,
    /// Drawings and notes.
    pub notes: Vec<NoteRow<'a>>,
    /// Materials and quantities.
    pub materials: Vec<MaterialRow<'a>>,
    /// What was found.
    pub findings: Vec<FindingRow<'a>>,
    /// The row of an enclosure, by its place in the survey.
    enclosure_at: HashMap<usize, usize>,
}

impl<'a> Schedule<'a> {
    /// The schedule of what is prepared, with the revisions that the job lists.
    #[must_use]
    pub fn of(prepared: &Prepared<'a>, listed: &[Revision<'a>]) -> Self {
        let names = Names::of(prepared);
        let standing = StandingIndex::of(prepared);
        let notices: Vec<NoticeRow<'a>> =
            prepared.chosen.iter().filter_map(|&index| NoticeRow::of(prepared, &names, &standing, index)).collect();
        let enclosures = enclosures(prepared, &names, &notices);
        let enclosure_at: HashMap<usize, usize> =
            (0..).zip(&enclosures).map(|(row, one)| (one.decision.enclosure, row)).collect();
        let isolators = isolators(prepared, &names, &notices, &enclosure_at);
        Self {
            identity: prepared.identity,
            title: title::rows(&prepared.identity),
            revisions: title::revisions(&prepared.identity, listed),
            cautions: title::cautions(),
            silent: silent(prepared, &names, &enclosures, &isolators),
            notes: notes(prepared, &names, &enclosures),
            materials: prepared.quantities.iter().map(|quantity| MaterialRow { quantity }).collect(),
            findings: prepared.findings.iter().map(|finding| FindingRow { finding }).collect(),
            notices,
            enclosures,
            isolators,
            enclosure_at,
        }
    }

    /// A schedule of nothing, to be filled by tests.
    #[cfg(test)]
    fn of_nothing() -> Self {
        Self {
            identity: Identity::default(),
            title: title::rows(&Identity::default()),
            revisions: title::revisions(&Identity::default(), &[]),
            cautions: title::cautions(),
            notices: Vec::new(),
            enclosures: Vec::new(),
            isolators: Vec::new(),
            silent: Vec::new(),
            notes: Vec::new(),
            materials: Vec::new(),
            findings: Vec::new(),
            enclosure_at: HashMap::new(),
        }
    }

    /// The points of isolation of all enclosures, one a row.
    pub fn points(&self) -> impl Iterator<Item = PointRow<'_>> {
        self.enclosures.iter().flat_map(EnclosureRow::lines)
    }

    /// The isolator index, one enclosure of one isolator a row.
    pub fn index(&self) -> impl Iterator<Item = IsolatorLine<'_>> {
        self.isolators.iter().flat_map(IsolatorRow::lines)
    }

    /// The row of an enclosure, by its place in the survey; `None` if it is not asked for or left out.
    #[must_use]
    pub fn enclosure_at(&self, place: usize) -> Option<usize> {
        self.enclosure_at.get(&place).copied()
    }
}

/// Numbers within names count as numbers, so that CH2 comes before CH10.
fn sort_by_names<T>(rows: &mut [T], names: impl for<'r> Fn(&'r T) -> (&'r str, &'r str)) {
    rows.sort_by(|one, other| {
        let (one, other) = (names(one), names(other));
        alphanumeric_sort::compare_str(one.0, other.0).then_with(|| alphanumeric_sort::compare_str(one.1, other.1))
    });
}

/// The enclosures with notices and those without, in walking order.
fn enclosures<'a>(prepared: &Prepared<'a>, names: &Names<'a>, notices: &[NoticeRow<'a>]) -> Vec<EnclosureRow<'a>> {
    let english = Wording::english();
    let mut rows: Vec<EnclosureRow<'a>> = Vec::new();
    let mut row_of: HashMap<usize, usize> = HashMap::new();
    let with_notices = (0..).zip(notices).filter(|(_, row)| row.notice.subject == Subject::Enclosure);
    for (number, row) in with_notices {
        let Some(place) = names.enclosure(&row.notice.designation) else { continue };
        let at = *row_of.entry(place).or_insert_with(|| {
            rows.extend(EnclosureRow::of(prepared, place, &english));
            rows.len().saturating_sub(1)
        });
        rows.get_mut(at).into_iter().for_each(|enclosure| enclosure.notices.push(number));
    }
    rows.extend(prepared.silent.iter().filter_map(|&place| EnclosureRow::of(prepared, place, &english)));
    sort_by_names(&mut rows, |row| (row.enclosure.area.as_deref().unwrap_or_default(), &row.enclosure.designation));
    rows
}

/// The isolators of the enclosures of the schedule, and those whose own notice it holds.
fn isolators<'a>(
    prepared: &Prepared<'a>,
    names: &Names<'a>,
    notices: &[NoticeRow<'a>],
    enclosure_at: &HashMap<usize, usize>,
) -> Vec<IsolatorRow<'a>> {
    let own = (0..).zip(notices).filter(|(_, row)| row.notice.subject == Subject::Device);
    let own: HashMap<(&str, &str), (usize, &'a str)> = own
        .map(|(number, row)| {
            ((row.notice.designation.as_str(), row.notice.area.as_str()), (number, row.notice.number.as_str()))
        })
        .collect();
    let made: HashSet<(&str, &str)> = prepared
        .notices
        .iter()
        .filter(|notice| notice.subject == Subject::Device)
        .map(|notice| (notice.designation.as_str(), notice.area.as_str()))
        .collect();
    let index = isolators::Index::of(prepared);
    let row = |device: &'a DeviceDecision| {
        let notice = own.get(&(device.device.as_str(), device.location.as_str()));
        let mut row = IsolatorRow::of(prepared, names, &index, device);
        let is_asked_for = row.enclosures.iter().any(|one| enclosure_at.contains_key(&one.place));
        if let Some(&(number, name)) = notice {
            (row.notice, row.number) = (Some(number), name);
        } else if made.contains(&(device.device.as_str(), device.location.as_str())) {
            row.number = if prepared.identity.selection.is_empty() {
                "left out because of errors"
            } else {
                isolators::NOT_SELECTED
            };
        }
        (is_asked_for || notice.is_some()).then_some(row)
    };
    let mut rows: Vec<IsolatorRow<'a>> = prepared.decisions.devices.iter().filter_map(row).collect();
    sort_by_names(&mut rows, |row| (&row.device.location, &row.device.device));
    rows
}

/// What is left out, what needs no notice, and what is lifted or unknown beside one.
fn silent<'a>(
    prepared: &Prepared<'a>,
    names: &Names<'a>,
    enclosures: &[EnclosureRow<'a>],
    isolators: &[IsolatorRow<'a>],
) -> Vec<SilentRow<'a>> {
    let left_out = prepared.left_out.iter().map(|name| SilentRow::left_out(prepared, names, name));
    let explained = |row: &EnclosureRow<'a>| prepared.explanation(row.decision).reasons;
    let prints = |row: &&EnclosureRow<'a>| row.decision.need.prints();
    let without = enclosures.iter().filter(|row| !prints(row));
    let without = without.flat_map(|row| SilentRow::without(&explained(row), row.enclosure));
    let beside = enclosures.iter().filter(prints);
    let beside = beside.flat_map(|row| SilentRow::beside(&explained(row), row.decision, row.enclosure));
    let of_isolators = isolators.iter().flat_map(|row| SilentRow::of_isolator(prepared, names, row.device));
    left_out.chain(without).chain(beside).chain(of_isolators).collect()
}

/// What survey and supplies file note of what is asked for or left out.
fn notes<'a>(prepared: &Prepared<'a>, names: &Names<'a>, enclosures: &[EnclosureRow<'a>]) -> Vec<NoteRow<'a>> {
    let of_rows = enclosures.iter().map(|row| row.enclosure);
    let left_out = prepared.left_out.iter().filter_map(|name| prepared.decided(names.enclosure(name)?));
    let mut told: HashSet<&str> = HashSet::new();
    let mut rows: Vec<NoteRow<'a>> = of_rows
        .chain(left_out.map(|(_, enclosure)| enclosure))
        .filter(|enclosure| told.insert(&enclosure.designation))
        .filter_map(NoteRow::of_enclosure)
        .collect();
    rows.extend(prepared.supplies.into_iter().flat_map(NoteRow::of_supplies));
    rows.extend(prepared.standing.into_iter().flat_map(NoteRow::of_standing));
    rows
}
