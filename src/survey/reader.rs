//! From bytes to a survey.

use std::borrow::Cow;

use super::column::Column;
use super::enclosures::Enclosures;
use super::record::Survey;
use crate::finding::Finding;
use crate::table;

/// How the bytes of a survey are to be read.
pub type ReadOptions = table::ReadOptions<Column>;

/// A survey once read, with what was wrong or doubtful in it, in the order of the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reading {
    /// What could be understood.
    pub survey: Survey,
    /// What was found on the way.
    pub findings: Vec<Finding>,
}

/// Reads a survey. Never fails: with errors among the findings, the survey holds what could be understood.
#[must_use]
pub fn read<'a>(bytes: impl Into<Cow<'a, [u8]>>, options: &ReadOptions) -> Reading {
    let (enclosures, source, findings) = table::read::<Enclosures>(bytes.into(), options);
    Reading { survey: Survey { enclosures, source, ..Survey::default() }, findings }
}
