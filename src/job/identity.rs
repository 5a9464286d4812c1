//! The title block: what the job is, for whom, and by which edition of the rules it decides.

use serde::Deserialize;

use super::{JobFault, fault, moment, one_line_each};
use crate::files::STANDARD;
use crate::rules::Edition;

/// The rule edition by which the rules decide.
pub const EDITION: &str = Edition::Bs7671A4.name();

/// The title block.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Identity {
    /// Title of the documents.
    pub title: String,
    /// The site, as the small line of each notice names it.
    pub site: String,
    /// For whom.
    pub client: String,
    /// Revision of the notices.
    pub revision: String,
    /// Date of issue, `2026-11-24` or `2026-11`.
    pub date: String,
    /// By whom.
    pub prepared_by: String,
    /// The supplies file, which describes the network behind the isolators: a path beside the job file; empty for none.
    pub supplies: String,
    /// The list of standing notices: a path beside the job file; empty for none.
    pub standing: String,
    /// The record of what became of the notices: a path beside the job file; empty for none.
    pub records: String,
    /// Edition of the wiring rules: [`EDITION`], stated so that a later version cannot decide by another unnoticed.
    pub edition: String,
}

impl Default for Identity {
    fn default() -> Self {
        Self {
            title: String::new(),
            site: String::new(),
            client: String::new(),
            revision: String::new(),
            date: String::new(),
            prepared_by: String::new(),
            supplies: String::new(),
            standing: String::new(),
            records: String::new(),
            edition: EDITION.to_owned(),
        }
    }
}

impl Identity {
    /// Every text can be printed, the date is one, and the edition is the one by which the rules decide.
    ///
    /// # Errors
    /// The first value that cannot be used.
    pub fn check(&self) -> Result<(), JobFault> {
        let texts = [
            ("title", &self.title),
            ("site", &self.site),
            ("client", &self.client),
            ("revision", &self.revision),
            ("date", &self.date),
            ("prepared_by", &self.prepared_by),
            ("supplies", &self.supplies),
            ("standing", &self.standing),
            ("records", &self.records),
            ("edition", &self.edition),
        ];
        one_line_each(&texts)?;
        for (key, file) in [("supplies", &self.supplies), ("standing", &self.standing)] {
            if file == STANDARD {
                return Err(fault(format!("`{key}` is `-`; only `--{key} -` reads standard input")));
            }
        }
        if self.records == STANDARD {
            return Err(fault("`records` is `-`; a record is a file that grows".to_owned()));
        }
        is_date("date", &self.date)?;
        if self.edition != EDITION {
            return Err(fault(format!("`edition` is `{}`; the rules at hand are those of {EDITION}", self.edition)));
        }
        Ok(())
    }
}

/// A date is one, or nothing is said.
pub(super) fn is_date(key: &str, date: &str) -> Result<(), JobFault> {
    if date.is_empty() || moment(date).is_some() {
        return Ok(());
    }
    Err(fault(format!("`{key}` is `{date}`; write year-month-day, such as 2026-11-24")))
}
