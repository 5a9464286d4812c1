//! What a long run is doing, shown on the terminal while it does it, and gone when it is done.

use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::mpsc::{self, RecvTimeoutError, Sender};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::JoinHandle;
use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use super::arguments::General;
use super::terminal::Terminal;

/// A run that ends sooner shows nothing, so that nothing flickers.
const SHOWN_AFTER: Duration = Duration::from_millis(100);

/// How often the line is drawn again.
const REDRAWN: Duration = Duration::from_millis(100);

/// How far a run is, for somebody who watches it otherwise than on a terminal.
#[derive(Debug, Default)]
pub(super) struct Meter {
    what: Mutex<&'static str>,
    done: AtomicU64,
    /// 0 where nobody can say.
    of: AtomicU64,
}

impl Meter {
    /// What is being done, how many pieces of it are done, and of how many, where that is known.
    pub(super) fn read(&self) -> (&'static str, u64, Option<u64>) {
        let of = self.of.load(Ordering::Relaxed);
        let what = *self.what.lock().unwrap_or_else(PoisonError::into_inner);
        (what, self.done.load(Ordering::Relaxed), (of > 0).then_some(of))
    }

    fn begin(&self, what: &'static str, of: Option<u64>) {
        *self.what.lock().unwrap_or_else(PoisonError::into_inner) = what;
        self.done.store(0, Ordering::Relaxed);
        self.of.store(of.unwrap_or(0), Ordering::Relaxed);
    }
}

/// One line on the terminal; nothing where messages go to a file or a pipe, or where the run is quiet.
pub(super) struct Progress {
    bar: ProgressBar,
    meter: Option<Arc<Meter>>,
    /// Tells the thread that shows the line late that there is nothing more to show.
    shown: Option<(Sender<()>, JoinHandle<()>)>,
}

impl Progress {
    /// A line for what follows; it goes when this value does.
    pub(super) fn start(general: &General) -> Self {
        Self::on(Terminal::new(general), general.meter.clone())
    }

    /// The same on a terminal that is known already.
    pub(super) fn on(terminal: Terminal, meter: Option<Arc<Meter>>) -> Self {
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden());
        let shown = terminal.shows_progress().then(|| {
            let (done, wait) = mpsc::channel();
            let later = bar.clone();
            let thread = std::thread::spawn(move || {
                if wait.recv_timeout(SHOWN_AFTER) == Err(RecvTimeoutError::Timeout) {
                    later.set_draw_target(ProgressDrawTarget::stderr());
                    later.enable_steady_tick(REDRAWN);
                }
            });
            (done, thread)
        });
        Self { bar, meter, shown }
    }

    /// What is being done now, where nobody can say how much of it there is.
    pub(super) fn say(&self, what: &'static str) {
        self.begin(what, None);
    }

    /// What is being done now, and how many pieces of it there are.
    pub(super) fn count(&self, what: &'static str, of: usize) {
        self.begin(what, u64::try_from(of).ok());
    }

    /// So many pieces are done; may be said from any thread.
    pub(super) fn done(&self, pieces: usize) {
        let pieces = u64::try_from(pieces).unwrap_or(0);
        self.bar.inc(pieces);
        if let Some(meter) = &self.meter {
            meter.done.fetch_add(pieces, Ordering::Relaxed);
        }
    }

    fn begin(&self, what: &'static str, of: Option<u64>) {
        if let Some(meter) = &self.meter {
            meter.begin(what, of);
        }
        if self.shown.is_none() {
            return;
        }
        let form = if of.is_some() { "{msg}: {human_pos} of {human_len}" } else { "{msg} ..." };
        let style = ProgressStyle::with_template(form).unwrap_or_else(|_| ProgressStyle::default_spinner());
        self.bar.set_style(style);
        self.bar.set_position(0);
        match of {
            Some(of) => self.bar.set_length(of),
            None => self.bar.unset_length(),
        }
        self.bar.set_message(what);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some((done, thread)) = self.shown.take() {
            drop(done);
            // It shows a line at most; nothing it could fail in matters here.
            let _ = thread.join();
        }
        self.bar.finish_and_clear();
    }
}
