//! Interlocks, by name and kind.

use std::collections::HashMap;

use super::describing::AtRecord;
use super::device::{AtRow, Said};
use super::id::InterlockId;
use super::spelling;
use crate::finding::{Finding, code};
use crate::supplies::{DescribedDevice, Supplies, SupplyColumn};
use crate::survey::value::InterlockKind;
use crate::survey::{Column, Row, Survey};

/// An interlock as the rows of either file name it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Interlock {
    /// Its name, as first spelt.
    pub name: String,
    /// What it does; `None` where the file does not say, and then it lifts nothing.
    pub kind: Option<InterlockKind>,
    /// The row of the survey that first names it; `None` where only the supplies file does.
    pub first: Option<Said>,
}

/// The interlocks met so far.
#[derive(Default)]
pub(super) struct Interlocks {
    pub(super) list: Vec<Interlock>,
    by_key: HashMap<(String, Option<InterlockKind>), InterlockId>,
    kind_by_name: HashMap<String, Option<InterlockKind>>,
}

impl Interlocks {
    /// The interlock of a row. A kind without a name ties no rows together, so it is none.
    pub(super) fn intern(
        &mut self,
        row: &Row,
        said: Said,
        survey: &Survey,
        findings: &mut Vec<Finding>,
    ) -> Option<InterlockId> {
        let Some(name) = &row.further().interlock else {
            if row.further().interlock_kind.is_some() {
                let message =
                    format!("the interlock of circuit `{}` has a kind and no name, so it lifts nothing", row.circuit);
                let finding = Finding::new(code::INTERLOCK_INCOMPLETE, message);
                findings.push(finding.at_row(survey, said, Column::Interlock));
            }
            return None;
        };
        let (id, incomplete) = self.named(name, row.further().interlock_kind, Some(said));
        findings.extend(incomplete.map(|finding| finding.at_row(survey, said, Column::InterlockKind)));
        Some(id)
    }

    /// The interlock of a row of the supplies file; that its name or kind is missing was reported when it was read.
    pub(super) fn intern_described(
        &mut self,
        device: &DescribedDevice,
        supplies: &Supplies,
        findings: &mut Vec<Finding>,
    ) -> Option<InterlockId> {
        let (id, incomplete) = self.named(device.interlock.as_deref()?, device.interlock_kind, None);
        let differing = incomplete.filter(|_| device.interlock_kind.is_some());
        findings.extend(differing.map(|it| it.at_record(supplies, device.record, SupplyColumn::InterlockKind)));
        Some(id)
    }

    /// The interlock of this name and kind, and what is wrong with it where it is a new one.
    fn named(
        &mut self,
        name: &str,
        kind: Option<InterlockKind>,
        first: Option<Said>,
    ) -> (InterlockId, Option<Finding>) {
        let key = (spelling::key(name), kind);
        if let Some(id) = self.by_key.get(&key) {
            return (*id, None);
        }
        let incomplete = self.incomplete(name, &key);
        let id = InterlockId::new(self.list.len());
        self.kind_by_name.entry(key.0.clone()).or_insert(kind);
        self.by_key.insert(key, id);
        self.list.push(Interlock { name: name.to_owned(), kind, first });
        (id, incomplete)
    }

    fn incomplete(&self, name: &str, (name_key, kind): &(String, Option<InterlockKind>)) -> Option<Finding> {
        let message = match (self.kind_by_name.get(name_key), kind) {
            (Some(earlier), kind) if earlier != kind => {
                format!(
                    "interlock `{name}` has another kind here than in an earlier row, so the two are taken for two interlocks"
                )
            }
            (_, None) => format!("interlock `{name}` has no kind, so it lifts nothing"),
            (_, Some(_)) => return None,
        };
        let help = "`coupled`, `trapped-key`, `auxiliary-contact` or `no-parallel`, alike in every row that it covers";
        Some(Finding::new(code::INTERLOCK_INCOMPLETE, message).help(help))
    }
}
