//! What the job file says of the printing works: under which printing condition it prints.

use serde::Deserialize;

use super::{JobFault, fault};
use crate::files::STANDARD;
use crate::writers::pdf::PrintingCondition;

/// The printing works of a job. Without any of it, the usual printing condition is named.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct PressWorks {
    /// The reference name of a registered printing condition; empty if none is chosen.
    pub printing_condition: String,
    /// The ICC profile of its printing process: a path beside the job file; empty for none.
    pub profile: String,
}

impl PressWorks {
    /// The printing condition that the job chooses.
    #[must_use]
    pub fn condition(&self) -> Option<PrintingCondition> {
        PrintingCondition::registered(&self.printing_condition)
    }

    /// The condition is a registered one, and the profile a file.
    ///
    /// # Errors
    /// The first value that cannot be used.
    pub(super) fn check(&self) -> Result<(), JobFault> {
        let name = &self.printing_condition;
        if !name.is_empty() && self.condition().is_none() {
            let known = PrintingCondition::names().join(", ");
            return Err(fault(format!(
                "`printing_condition` is `{name}`, and the registered ones known here are {known}; for any other, give \
                 the `profile` of the printing works instead"
            )));
        }
        if self.profile == STANDARD {
            return Err(fault("`profile` is `-`, and a profile is a file beside the job file".to_owned()));
        }
        Ok(())
    }
}
