//! From bytes to the list of standing notices.

use std::borrow::Cow;

use super::column::StandingColumn;
use super::entries::Entries;
use super::record::Standing;
use crate::finding::Finding;
use crate::table;

/// How the bytes of a list are to be read.
pub type ReadOptions = table::ReadOptions<StandingColumn>;

/// A list once read, with what was wrong or doubtful in it, in the order of the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reading {
    /// What could be understood.
    pub standing: Standing,
    /// What was found on the way.
    pub findings: Vec<Finding>,
}

/// Reads a list of standing notices, in every form in which a survey may come. Never fails: with errors among the
/// findings, there is what could be understood.
#[must_use]
pub fn read<'a>(bytes: impl Into<Cow<'a, [u8]>>, options: &ReadOptions) -> Reading {
    let (entries, source, findings) = table::read::<Entries>(bytes.into(), options);
    Reading { standing: Standing { entries, source }, findings }
}
