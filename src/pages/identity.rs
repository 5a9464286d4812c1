//! The title block of a document, and its revisions.

use super::texts;

/// The title block.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Identity<'a> {
    /// Title of the job.
    pub title: &'a str,
    /// The site.
    pub site: &'a str,
    /// For whom.
    pub client: &'a str,
    /// Revision of the notices.
    pub revision: &'a str,
    /// Date of issue.
    pub date: &'a str,
    /// By whom.
    pub prepared_by: &'a str,
    /// Edition of the wiring rules.
    pub edition: &'a str,
    /// The survey, as the user named it.
    pub survey: &'a str,
    /// The supplies file, as the user named it; empty without one.
    pub supplies: &'a str,
    /// The list of standing notices, as the user named it; empty without one.
    pub standing: &'a str,
    /// What narrows what is shown: `only CH3-*; isolators only`; empty where nothing does.
    pub selection: &'a str,
}

impl Identity<'_> {
    /// What stands at the foot of every page: title, site, client, revision, date, edition of the rules.
    #[must_use]
    pub fn foot(&self) -> String {
        let revision = if self.revision.is_empty() { String::new() } else { format!("rev {}", self.revision) };
        texts::parts([self.title, self.site, self.client, &revision, self.date, self.edition])
    }
}

/// One line of a revision table.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Revision<'a> {
    /// The revision.
    pub revision: &'a str,
    /// When it was issued.
    pub date: &'a str,
    /// By whom.
    pub by: &'a str,
    /// What is new in it.
    pub what: &'a str,
}
