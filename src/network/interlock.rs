//! Interlocks, by name and kind.

use std::collections::HashMap;

use super::device::{AtRow, Said};
use super::id::InterlockId;
use super::spelling;
use crate::finding::{Finding, code};
use crate::survey::value::InterlockKind;
use crate::survey::{Column, Row, Survey};

/// An interlock as the rows name it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Interlock {
    /// Its name, as first spelt.
    pub name: String,
    /// What it does; `None` where the survey does not say, and then it lifts nothing.
    pub kind: Option<InterlockKind>,
    /// The row that first names it.
    pub first: Said,
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
        let Some(name) = &row.interlock else {
            if row.interlock_kind.is_some() {
                let message =
                    format!("the interlock of circuit `{}` has a kind and no name, so it lifts nothing", row.circuit);
                findings.push(Finding::new(code::INTERLOCK_INCOMPLETE, message).at_row(
                    survey,
                    said,
                    Column::Interlock,
                ));
            }
            return None;
        };
        let name_key = spelling::key(name);
        let key = (name_key, row.interlock_kind);
        if let Some(id) = self.by_key.get(&key) {
            return Some(*id);
        }
        self.report(name, &key, said, survey, findings);
        let id = InterlockId::new(self.list.len());
        self.kind_by_name.entry(key.0.clone()).or_insert(row.interlock_kind);
        self.by_key.insert(key, id);
        self.list.push(Interlock { name: name.clone(), kind: row.interlock_kind, first: said });
        Some(id)
    }

    fn report(
        &self,
        name: &str,
        (name_key, kind): &(String, Option<InterlockKind>),
        said: Said,
        survey: &Survey,
        findings: &mut Vec<Finding>,
    ) {
        let message = match (self.kind_by_name.get(name_key), kind) {
            (Some(earlier), kind) if earlier != kind => {
                format!(
                    "interlock `{name}` has another kind here than in an earlier row, so the two are taken for two interlocks"
                )
            }
            (_, None) => format!("interlock `{name}` has no kind, so it lifts nothing"),
            (_, Some(_)) => return,
        };
        findings.push(
            Finding::new(code::INTERLOCK_INCOMPLETE, message)
                .help(
                    "`coupled`, `trapped-key`, `auxiliary-contact` or `no-parallel`, alike in every row that it covers",
                )
                .at_row(survey, said, Column::InterlockKind),
        );
    }
}
