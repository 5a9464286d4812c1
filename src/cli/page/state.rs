//! What the page stands at: which survey, which reading of it, and what was corrected in it.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

use super::shown::Shown;
use super::splice::Splice;

/// Which survey is looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Origin {
    /// The file. Of a survey that was dropped onto the page it is a copy.
    pub path: PathBuf,
    /// What documents and messages call it.
    pub name: String,
    /// Whether it was dropped onto the page.
    pub dropped: bool,
}

/// A correction that can be taken back.
#[derive(Clone, Debug)]
pub(super) struct Corrected {
    /// What was done to the file.
    pub splice: Splice,
    /// The same in words: ``F14: `Q7` → `Q8` ``.
    pub words: String,
}

/// How far reading is.
#[derive(Clone)]
pub(super) enum Now {
    /// Under way.
    Reading,
    /// Done.
    Ready(Arc<Shown>),
    /// It cannot be read, and what to do about it.
    Failed(String, Option<String>),
}

/// All of it.
#[derive(Clone)]
pub(super) struct State {
    /// Counts the readings: what a browser shows belongs to one of them.
    pub version: u64,
    /// The survey.
    pub origin: Origin,
    /// What the user said that headers of the survey mean, beside the job.
    pub headers: BTreeMap<String, String>,
    /// The corrections since the file was read as another program left it.
    pub corrections: Vec<Corrected>,
    /// The last reading.
    pub now: Now,
}
