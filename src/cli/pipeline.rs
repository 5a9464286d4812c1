//! From a survey's path to everything decided and worded: what `check`, `why` and `labels` have in common.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rayon::prelude::*;

use super::arguments::{General, ReportForm};
use super::failure::Failure;
use super::report;
use crate::finding::{Finding, Severity};
use crate::job::{self, Job};
use crate::length::Size;
use crate::network::{Network, NetworkOptions};
use crate::notice::{self, Notice, NoticeOptions};
use crate::rules::{self, Decision, Decisions, RuleOptions};
use crate::survey::{self, ReadOptions, Survey};
use crate::typesetting::{SetNotice, Typesetter};
use crate::wording::Wording;
use crate::{files, sheets};

/// A survey with everything that follows from it, up to the words.
pub struct Loaded {
    /// What holds for the whole run.
    pub job: Job,
    /// The folder of the job file, from which its own paths are read.
    pub job_folder: PathBuf,
    /// What was read.
    pub survey: Survey,
    /// What was decided.
    pub decisions: Decisions,
    /// What is to be said, in the survey's order: enclosures, then isolators.
    pub notices: Vec<Notice>,
    /// What was found on the way.
    pub findings: Vec<Finding>,
}

/// The notices once set.
pub struct AllSet {
    /// In the order of the notices; `None` where it does not fit.
    pub notices: Vec<Option<SetNotice>>,
    /// Why some do not fit.
    pub findings: Vec<Finding>,
}

/// Reads a survey and its job, and decides and words everything.
pub fn load(path: &Path, general: &General) -> Result<Loaded, Failure> {
    let (job, job_folder) = load_job(path, general)?;
    let limits = job.limits();
    let bytes = files::read(path, limits.file_bytes)?;
    let options = read_options(path, &job, general)?;
    Ok(decide(&bytes, &options, job, job_folder)?)
}
