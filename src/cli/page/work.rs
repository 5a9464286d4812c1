//! What takes long: begun by one request, looked at by others, fetched when it is done.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

use serde::Serialize;

use super::answer::Refused;
use super::findings::FindingAnswer;
use crate::cli::progress::Meter;
use crate::files::Temporary;

/// So many works are kept with their files; the oldest goes when there are more.
const KEPT: usize = 16;

/// Everything that was begun.
#[derive(Default)]
pub(super) struct Works(Mutex<BTreeMap<u64, Arc<Work>>>);

/// One work.
pub(super) struct Work {
    /// How far it is.
    pub meter: Arc<Meter>,
    ended: Mutex<Option<Ended>>,
}

/// What became of it.
pub(super) struct Ended {
    /// What is said of it.
    pub message: String,
    /// What was in its way, and what to do about it.
    pub failure: Option<(String, Option<String>)>,
    /// What was found.
    pub findings: Vec<FindingAnswer>,
    /// The files.
    pub files: Vec<MadeFile>,
    /// How many notices the record keeps as printed.
    pub recorded: Option<usize>,
    /// Where the files lie, as long as somebody may fetch them.
    pub _folder: Option<Temporary>,
}

/// A file that was made.
#[derive(Clone, Debug)]
pub(super) struct MadeFile {
    /// Where it lies.
    pub path: PathBuf,
    /// What the browser calls it.
    pub name: String,
    /// Its length in bytes.
    pub bytes: u64,
    /// Its pages; 0 for a table.
    pub pages: usize,
}

#[derive(Serialize)]
pub(super) struct WorkAnswer {
    state: &'static str,
    what: &'static str,
    done: u64,
    of: Option<u64>,
    message: String,
    failure: Option<FailureAnswer>,
    findings: Vec<FindingAnswer>,
    results: Vec<ResultAnswer>,
    recorded: Option<usize>,
}

#[derive(Clone, Serialize)]
pub(super) struct FailureAnswer {
    pub message: String,
    pub hint: Option<String>,
}

#[derive(Serialize)]
struct ResultAnswer {
    name: String,
    url: String,
    bytes: u64,
    pages: usize,
}

impl Works {
    /// Begins a work; the answer is its number, and where its end is told.
    pub(super) fn begin(&self) -> (u64, Arc<Work>) {
        let mut works = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let number = works.last_key_value().map_or(1, |(last, _)| last + 1);
        let work = Arc::new(Work { meter: Arc::default(), ended: Mutex::new(None) });
        works.insert(number, Arc::clone(&work));
        while works.len() > KEPT {
            works.pop_first();
        }
        (number, work)
    }

    fn find(&self, number: u64) -> Result<Arc<Work>, Refused> {
        let works = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        works.get(&number).map(Arc::clone).ok_or_else(Refused::not_found)
    }

    /// How far a work is.
    pub(super) fn answer(&self, number: u64) -> Result<WorkAnswer, Refused> {
        let work = self.find(number)?;
        let (what, done, of) = work.meter.read();
        let ended = work.ended.lock().unwrap_or_else(PoisonError::into_inner);
        let Some(ended) = &*ended else {
            let (message, findings, results) = (String::new(), Vec::new(), Vec::new());
            return Ok(WorkAnswer {
                state: "running",
                what,
                done,
                of,
                message,
                failure: None,
                findings,
                results,
                recorded: None,
            });
        };
        let url = |(place, file): (usize, &MadeFile)| ResultAnswer {
            name: file.name.clone(),
            url: format!("/result/{number}/{place}/{}", in_an_address(&file.name)),
            bytes: file.bytes,
            pages: file.pages,
        };
        let failure = ended.failure.clone().map(|(message, hint)| FailureAnswer { message, hint });
        Ok(WorkAnswer {
            state: if failure.is_some() { "failed" } else { "done" },
            what,
            done,
            of,
            message: ended.message.clone(),
            failure,
            findings: ended.findings.clone(),
            results: ended.files.iter().enumerate().map(url).collect(),
            recorded: ended.recorded,
        })
    }

    /// A file of a work.
    pub(super) fn file(&self, number: u64, place: usize) -> Result<MadeFile, Refused> {
        let work = self.find(number)?;
        let ended = work.ended.lock().unwrap_or_else(PoisonError::into_inner);
        let file = ended.as_ref().and_then(|ended| ended.files.get(place)).cloned();
        file.ok_or_else(Refused::not_found)
    }
}

impl Work {
    /// It has ended.
    pub(super) fn end(&self, ended: Ended) {
        *self.ended.lock().unwrap_or_else(PoisonError::into_inner) = Some(ended);
    }
}

/// A name as a part of an address: everything but the plainest characters by its bytes.
fn in_an_address(name: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-._".contains(&byte);
    name.bytes().map(|byte| if plain(byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") }).collect()
}
