//! How many codes of notices lead to their pages, and why the others do not.

use super::{Of, Site};
use crate::finding::{Finding, code};
use crate::notice::link_to;

/// Where the codes of notices lead.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Links {
    /// Notices whose code leads to their page.
    pub here: usize,
    /// A notice of these with its link, to try.
    pub example: Option<(String, String)>,
    /// Notices whose number cannot be the place of a page.
    pub elsewhere: usize,
    /// Notices whose code carries another link, a plain record number or a text.
    pub other: usize,
    /// Notices without a code.
    pub without: usize,
    /// What is wrong with the base; empty if nothing is.
    pub base: &'static str,
}

impl Site<'_> {
    /// Where the codes lead, those of notices that only the record has not counted.
    #[must_use]
    pub fn links(&self) -> Links {
        let base = match self.options.record_link_base.as_str() {
            "" => "the job gives no `record_link_base` under [notices]",
            base if base.contains(['?', '#']) => {
                "`record_link_base` holds a `?` or `#`, behind which a plain server looks for no folder"
            }
            base if !base.ends_with('/') => "`record_link_base` does not end in `/`, so that no folder answers to it",
            _ => "",
        };
        let mut links = Links { base, ..Links::default() };
        for page in &self.pages {
            let Of::Notice(notice, set) = &page.of else { continue };
            let carried = notice.code.as_ref().filter(|_| set.code_module.is_some());
            match carried {
                None => links.without += 1,
                Some(carried) if link_to(&notice.number, self.options).as_ref() != Some(carried) => links.other += 1,
                Some(_) if page.address.elsewhere.is_some() => links.elsewhere += 1,
                Some(_) if !base.is_empty() => links.other += 1,
                Some(carried) => {
                    links.here += 1;
                    links.example.get_or_insert_with(|| (notice.number.clone(), carried.clone()));
                }
            }
        }
        links
    }

    /// What a person must know of pages that do not lie where the code of their notice leads.
    #[must_use]
    pub fn findings(&self) -> Vec<Finding> {
        let finding = |number: &str, folder: &str, why: &str| {
            let message = format!("the code of `{number}` does not lead to its page: {why}");
            let help =
                format!("its page lies in `{folder}` and the index leads to it; another number makes another code");
            Finding::new(code::RECORD_PAGE_ELSEWHERE, message).help(help)
        };
        let found = self.pages.iter().filter_map(|page| {
            let carries = matches!(page.of, Of::Notice(notice, set) if set.code_module.is_some()
                && notice.code.is_some() && notice.code == link_to(&notice.number, self.options));
            let why = page.address.elsewhere.filter(|_| carries)?;
            Some(finding(page.number(), &page.address.folders.join("/"), why))
        });
        found.collect()
    }
}
