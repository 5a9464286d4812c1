//! When a file was last written to, to see that somebody has done so since it was read.

use std::path::Path;
use std::time::SystemTime;

/// What tells one state of a file from another without reading it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stamp {
    bytes: u64,
    written: Option<SystemTime>,
}

/// The stamp of a file as it is now; `None` where there is none.
#[must_use]
pub fn stamp(path: &Path) -> Option<Stamp> {
    let found = path.metadata().ok()?;
    Some(Stamp { bytes: found.len(), written: found.modified().ok() })
}
