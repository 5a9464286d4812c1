//! From bytes to the described network.

use std::borrow::Cow;

use super::column::SupplyColumn;
use super::devices::Devices;
use super::record::Supplies;
use crate::finding::{Finding, code};
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
    let bytes = bytes.into();
    let once = |options: &ReadOptions| {
        let (devices, source, findings) = table::read::<Devices>(Cow::Borrowed(&*bytes), options);
        Reading { supplies: Supplies { devices, source }, findings }
    };
    let reading = once(options);
    // A row further down may mark a name that another one names as a feed.
    let is_asked = reading.findings.iter().any(|finding| finding.code == code::PERHAPS_SEVERAL_DEVICES);
    match Some(reading.supplies.ones()).filter(|ones| is_asked && !ones.is_empty()) {
        Some(ones) => once(&ReadOptions { ones, ..options.clone() }),
        None => reading,
    }
}
