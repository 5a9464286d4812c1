//! The survey behind the page: read, read again, corrected, one change at a time.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError, RwLock};

use super::answer::{Kind, Refused};
use super::shown::Shown;
use super::state::{Now, Origin, State};
use super::work::Works;
use crate::cli::arguments::General;
use crate::cli::failure::Failure;
use crate::cli::pipeline;
use crate::files::{self, Temporary};
use crate::job::Job;

/// All that requests share.
pub(super) struct Site {
    /// How the page was started; its messages go to nobody.
    pub general: General,
    /// What was made, and what is being made.
    pub works: Works,
    /// How many bytes a survey may have that is dropped onto the page.
    pub most_bytes: u64,
    /// The survey of the command line.
    own: Origin,
    /// The job of that survey, which holds for one that is dropped, too.
    own_job: Option<PathBuf>,
    /// Where a survey lies that was dropped.
    folder: Temporary,
    state: RwLock<State>,
    changing: Mutex<()>,
}

/// A change to what is looked at, which nobody else can make meanwhile.
pub(super) struct Change<'a> {
    site: &'a Site,
    /// What was looked at before.
    pub before: State,
    _alone: MutexGuard<'a, ()>,
}

impl Site {
    /// Looks whether the survey and its job can be read at all.
    ///
    /// # Errors
    /// Those of reading them.
    pub(super) fn open(survey: &Path, general: &General) -> Result<Self, Failure> {
        let general = General { quiet: true, force: true, ..general.clone() };
        let (job, _) = pipeline::load_job(survey.parent(), &general)?;
        let most_bytes = job.limits().file_bytes;
        pipeline::input(survey, most_bytes)?;
        let own = Origin { path: survey.to_owned(), name: survey.display().to_string(), dropped: false };
        let state = State {
            version: 0,
            origin: own.clone(),
            headers: Default::default(),
            corrections: Vec::new(),
            now: Now::Reading,
        };
        Ok(Self {
            own_job: pipeline::job_path(survey.parent(), &general),
            works: Works::default(),
            most_bytes,
            folder: files::temporary()?,
            state: RwLock::new(state),
            changing: Mutex::new(()),
            own,
            general,
        })
    }

    /// Reads the survey for the first time, beside whatever else goes on.
    pub(super) fn read_first(self: &Arc<Self>) {
        let site = Arc::clone(self);
        rayon::spawn(move || site.read_unless_read());
    }

    /// Reads the survey, unless a change that came before the first reading has read it: what a browser shows of that
    /// change would be out of date at once.
    fn read_unless_read(&self) {
        let change = self.change();
        if matches!(change.before.now, Now::Reading) {
            let before = change.before.clone();
            // The page shows what went wrong.
            let _ = change.read(before);
        }
    }

    /// What the page stands at.
    pub(super) fn state(&self) -> State {
        self.state.read().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// The reading that a browser looks at.
    ///
    /// # Errors
    /// Another reading is the last one by now; or none is there.
    pub(super) fn shown(&self, version: u64) -> Result<Arc<Shown>, Refused> {
        let state = self.state();
        match state.now {
            Now::Ready(shown) if state.version == version => Ok(shown),
            Now::Ready(_) => Err(Refused::stale()),
            Now::Reading => Err(Refused::new(axum::http::StatusCode::CONFLICT, Kind::Busy, "the survey is being read")),
            Now::Failed(message, hint) => Err(Refused::impossible(Kind::Refused, message).perhaps(hint)),
        }
    }

    /// Begins a change, as soon as nobody else makes one.
    pub(super) fn change(&self) -> Change<'_> {
        let alone = self.changing.lock().unwrap_or_else(PoisonError::into_inner);
        Change { site: self, before: self.state(), _alone: alone }
    }

    /// The survey of the command line.
    pub(super) fn own(&self) -> Origin {
        self.own.clone()
    }

    /// A file of its own for a survey that was dropped, by the name that it had.
    pub(super) fn dropped(&self, name: &str) -> Origin {
        let shown = name.rsplit(['/', '\\']).next().unwrap_or_default();
        let name = if shown.is_empty() { "survey" } else { shown };
        Origin { path: self.folder.path().join(files::safe_name(name)), name: name.to_owned(), dropped: true }
    }

    fn set(&self, state: State) {
        *self.state.write().unwrap_or_else(PoisonError::into_inner) = state;
    }

    /// How a survey is read: by the job beside it; one that was dropped by the job of the survey of the command line.
    fn general_of(&self, origin: &Origin) -> General {
        if origin.dropped {
            General { job: self.own_job.clone(), ..self.general.clone() }
        } else {
            self.general.clone()
        }
    }

    fn job_of(&self, origin: &Origin, general: &General) -> Result<(Job, PathBuf, Option<PathBuf>), Failure> {
        let beside = origin.path.parent();
        let (job, folder) = pipeline::load_job(beside, general)?;
        Ok((job, folder, pipeline::job_path(beside, general)))
    }
}

impl Change<'_> {
    /// Reads the survey of a state, which the page then stands at, whether or not it can be read.
    ///
    /// # Errors
    /// Why it cannot be read.
    pub(super) fn read(self, state: State) -> Result<(), Failure> {
        let site = self.site;
        let version = self.before.version + 1;
        let general = site.general_of(&state.origin);
        let read = || {
            let (mut job, folder, file) = site.job_of(&state.origin, &general)?;
            job.headers.extend(state.headers.clone());
            let bytes = pipeline::input(&state.origin.path, job.limits().file_bytes)?.bytes;
            Shown::of(version, (state.origin.clone(), bytes), (job, folder, file), &general)
        };
        match read() {
            Ok(shown) => {
                site.set(State { version, now: Now::Ready(Arc::new(shown)), ..state });
                Ok(())
            }
            Err(failure) => {
                let (message, hint) = failure.told();
                site.set(State { version, now: Now::Failed(message, hint), ..state });
                Err(failure)
            }
        }
    }
}

#[cfg(test)]
#[expect(clippy::disallowed_methods, reason = "a test writes the survey that is read")]
mod tests {
    use super::*;

    #[test]
    fn a_change_that_comes_before_the_first_reading_is_not_read_a_second_time() {
        let folder = files::temporary().unwrap();
        let survey = folder.path().join("survey.csv");
        let text = "enclosure,circuit,fed_from,isolator,isolator_location,voltage_to_earth\nJB1,c,DB1,Q1,Hall,230\n";
        std::fs::write(&survey, text).unwrap();
        let site = Site::open(&survey, &General::USUAL).unwrap();
        let change = site.change();
        let before = change.before.clone();
        change.read(before).unwrap();
        site.read_unless_read();
        assert_eq!(site.state().version, 1);
        assert!(site.shown(1).is_ok());
    }

    #[test]
    fn the_first_reading_is_made_once() {
        let folder = files::temporary().unwrap();
        let survey = folder.path().join("survey.csv");
        std::fs::write(&survey, "enclosure\nJB1\n").unwrap();
        let site = Site::open(&survey, &General::USUAL).unwrap();
        assert!(matches!(site.state().now, Now::Reading));
        site.read_unless_read();
        site.read_unless_read();
        assert_eq!(site.state().version, 1);
    }
}
