//! What a long run is doing, shown on the terminal while it does it, and gone when it is done.

use std::sync::mpsc::{self, RecvTimeoutError, Sender};
use std::thread::JoinHandle;
use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use super::arguments::General;
use super::terminal::Terminal;

/// A run that ends sooner shows nothing, so that nothing flickers.
const SHOWN_AFTER: Duration = Duration::from_millis(100);

/// How often the line is drawn again.
const REDRAWN: Duration = Duration::from_millis(100);

/// One line on the terminal; nothing where messages go to a file or a pipe, or where the run is quiet.
pub(super) struct Progress {
    bar: ProgressBar,
    /// Tells the thread that shows the line late that there is nothing more to show.
    shown: Option<(Sender<()>, JoinHandle<()>)>,
}

impl Progress {
    /// A line for what follows; it goes when this value does.
    pub(super) fn start(general: &General) -> Self {
        Self::on(Terminal::new(general))
    }

    /// The same on a terminal that is known already.
    pub(super) fn on(terminal: Terminal) -> Self {
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
        Self { bar, shown }
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
        self.bar.inc(u64::try_from(pieces).unwrap_or(0));
    }

    fn begin(&self, what: &'static str, of: Option<u64>) {
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
