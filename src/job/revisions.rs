//! The revision table: what each issue of the documents brought.

use serde::Deserialize;

use super::identity::is_date;
use super::{Identity, JobFault, fault, one_line};

/// One line of the revision table.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct RevisionEntry {
    /// The revision.
    pub revision: String,
    /// When it was issued, `2026-11-24` or `2026-11`.
    pub date: String,
    /// By whom.
    pub by: String,
    /// What is new in it.
    pub what: String,
}

/// Every text can be printed, every date is one, every line has its own revision, and that of the title block is among
/// them.
///
/// # Errors
/// The first value that cannot be used.
pub(super) fn check(revisions: &[RevisionEntry], job: &Identity) -> Result<(), JobFault> {
    for (number, one) in revisions.iter().enumerate() {
        let texts = [("revision", &one.revision), ("date", &one.date), ("by", &one.by), ("what", &one.what)];
        texts.into_iter().try_for_each(|(key, text)| one_line(&format!("{key}` of `[[revisions]]"), text))?;
        is_date("date` of `[[revisions]]", &one.date)?;
        if one.revision.is_empty() {
            return Err(fault(format!("the [[revisions]] number {} has no `revision`", number + 1)));
        }
        if revisions.iter().take(number).any(|other| other.revision == one.revision) {
            return Err(fault(format!("[[revisions]] has `{}` twice; each has its own line", one.revision)));
        }
    }
    if !revisions.is_empty() && !revisions.iter().any(|one| one.revision == job.revision) {
        return Err(fault(format!(
            "`revision` under [job] is `{}`, and none of the [[revisions]] is; add its line",
            job.revision
        )));
    }
    let own = revisions.iter().find(|one| one.revision == job.revision && !one.date.is_empty());
    match own.filter(|one| !job.date.is_empty() && one.date != job.date) {
        None => Ok(()),
        Some(one) => Err(fault(format!(
            "revision `{}` is of {} under [job] and of {} under [[revisions]]; one of the two dates is wrong",
            job.revision, job.date, one.date
        ))),
    }
}
