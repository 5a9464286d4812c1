//! From bytes to the described network.

use std::borrow::Cow;

use super::column::SupplyColumn;
use super::devices::Devices;
use super::record::Supplies;
use crate::finding::Finding;
use crate::table;

/// How the bytes of a supplies file are to be read.
pub type ReadOptions = table::ReadOptions<SupplyColumn>;

/// A supplies file once read, with what was wrong or doubtful in it, in the order of the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reading {
    /// What could be understood.
    pub supplies: Supplies,
    /// What was found on the way.
    pub findings: Vec<Finding>,
}

/// Reads a supplies file, in every form in which a survey may come. Never fails: with errors among the findings, there
/// is what could be understood.
#[must_use]
pub fn read<'a>(bytes: impl Into<Cow<'a, [u8]>>, options: &ReadOptions) -> Reading {
    let (devices, source, findings) = table::read::<Devices>(bytes.into(), options);
    Reading { supplies: Supplies { devices, source }, findings }
}
