//! What a house puts on every page of the documents that are read.

use serde::Deserialize;

use super::{JobFault, fault, one_line_each};
use crate::files::STANDARD;

/// A longer line has no room on any page.
const LONGEST_LINE: usize = 160;

/// What stands on every page of a document that is read.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Documents {
    /// The logo, PNG or JPEG: a path in the folder of the job file; empty for none.
    pub logo: String,
    /// A line over the running head; empty for none.
    pub header: String,
    /// A line under the foot; empty for none.
    pub footer: String,
}

impl Documents {
    /// Every text can be printed on one line.
    ///
    /// # Errors
    /// The first value that cannot be used.
    pub(super) fn check(&self) -> Result<(), JobFault> {
        one_line_each(&[("logo", &self.logo), ("header", &self.header), ("footer", &self.footer)])?;
        let lines = [("header", &self.header), ("footer", &self.footer)];
        for (key, line) in lines {
            let characters = line.chars().count();
            if characters > LONGEST_LINE {
                return Err(fault(format!("`{key}` has {characters} characters; a page has room for {LONGEST_LINE}")));
            }
        }
        if self.logo == STANDARD {
            return Err(fault("`logo` is `-`; it names a file beside the job file".to_owned()));
        }
        Ok(())
    }
}
