//! Every notice set at the first size that is large enough.

use std::sync::Arc;

use rayon::prelude::*;

use super::pipeline::Loaded;
use super::progress::Progress;
use super::sizes::Sheets;
use crate::finding::Finding;
use crate::notice::{Notice, Packed};
use crate::typesetting::{Setting, Typesetter};

/// No more are set in one go, so that in the end no thread waits while another has many left.
const MOST_TOGETHER: usize = 256;

/// The notices once set.
pub(super) struct AllSet {
    /// In the order of the notices; `None` where one cannot be set or is not wanted.
    pub notices: Vec<Option<Arc<Setting>>>,
    /// Why some cannot be set.
    pub findings: Vec<Finding>,
}

/// Sets every notice that is wanted at the first size that is large enough, on as many threads as there are. What does
/// not fit and is not wanted is in nobody's way.
pub(super) fn set_all(
    loaded: &Loaded,
    typesetter: &Typesetter,
    sheets: &Sheets,
    progress: &Progress,
    wanted: impl Fn(&Notice) -> bool + Sync,
) -> AllSet {
    progress.count("setting notices", loaded.packed.len());
    let floor = loaded.job.letter_floor();
    let set_one = |known: &mut Known, packed: &Packed| {
        let notice = packed.notice();
        let set = wanted(&notice)
            .then(|| typesetter.fit_on(&notice, sheets.sizes(notice.subject), floor, |size| sheets.serve(size).dots));
        progress.done(1);
        match set {
            None => Fitted::Unwanted,
            Some(Ok(set)) if !sheets.serve(set.size).is_held => {
                let grown = loaded.larger_than_wanted(&set, &notice).map(Box::new);
                Fitted::Not(grown, Box::new(loaded.without_sheet(set.size, notice.brief())))
            }
            Some(Ok(set)) => Fitted::Well(loaded.larger_than_wanted(&set, &notice).map(Box::new), known.shared(set)),
            Some(Err(misfit)) => Fitted::Not(None, Box::new(loaded.located(&misfit, &notice))),
        }
    };
    let results: Vec<Fitted> =
        loaded.packed.par_iter().with_max_len(MOST_TOGETHER).map_init(Known::default, set_one).collect();
    let (mut grown, mut not) = (Vec::new(), Vec::new());
    let notices = results
        .into_iter()
        .map(|one| match one {
            Fitted::Unwanted => None,
            Fitted::Well(larger, set) => {
                grown.extend(larger.map(|finding| *finding));
                Some(set)
            }
            Fitted::Not(larger, finding) => {
                grown.extend(larger.map(|finding| *finding));
                not.push(*finding);
                None
            }
        })
        .collect();
    grown.append(&mut not);
    AllSet { notices, findings: grown }
}

/// How one notice fits. Findings are rare, and large.
enum Fitted {
    /// It is not wanted.
    Unwanted,
    /// So, perhaps larger than the survey wishes.
    Well(Option<Box<Finding>>, Arc<Setting>),
    /// Not at all, or on no sheet; perhaps it was larger than the survey wishes.
    Not(Option<Box<Finding>>, Box<Finding>),
}

/// How the last notices were set: those after them are mostly set alike, and share it.
#[derive(Default)]
struct Known(Vec<Arc<Setting>>);

/// How many of them are remembered.
const REMEMBERED: usize = 8;

impl Known {
    fn shared(&mut self, set: Setting) -> Arc<Setting> {
        if let Some(known) = self.0.iter().rev().find(|known| ***known == set) {
            return Arc::clone(known);
        }
        if self.0.len() >= REMEMBERED {
            self.0.remove(0);
        }
        let set = Arc::new(set);
        self.0.push(Arc::clone(&set));
        set
    }
}
