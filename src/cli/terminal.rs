//! The two streams of a run: results on standard output, messages on standard error, each with or without colour.

use std::io::{self, BufWriter, IsTerminal, StdoutLock, Write};

use super::arguments::General;

/// Where a run speaks to a person.
#[derive(Clone, Copy, Debug)]
pub(super) struct Terminal {
    quiet: bool,
    colour: Colour,
}

#[derive(Clone, Copy, Debug)]
struct Colour {
    output: bool,
    messages: bool,
}

impl Terminal {
    /// Decides on colour and quiet from the options and the environment.
    #[must_use]
    pub(super) fn new(general: &General) -> Self {
        let wanted = !general.no_color && environment_allows_colour();
        Self {
            quiet: general.quiet,
            colour: Colour {
                output: wanted && io::stdout().is_terminal(),
                messages: wanted && io::stderr().is_terminal(),
            },
        }
    }

    /// Whether somebody is there who wants to see how far a long run is.
    #[must_use]
    pub(super) fn shows_progress(self) -> bool {
        !self.quiet && io::stderr().is_terminal()
    }

    /// Whether results may be coloured.
    #[must_use]
    pub(super) const fn output_colour(self) -> bool {
        self.colour.output
    }

    /// Whether messages may be coloured.
    #[must_use]
    pub(super) const fn message_colour(self) -> bool {
        self.colour.messages
    }

    /// Columns of the terminal: what `COLUMNS` says, else those of a terminal on standard output, else 100.
    #[must_use]
    #[expect(clippy::disallowed_methods, reason = "the command line is where the environment is read")]
    pub(super) fn width(self) -> usize {
        let said = std::env::var("COLUMNS").ok().and_then(|columns| columns.trim().parse().ok());
        let seen = || terminal_size::terminal_size_of(io::stdout()).map(|(width, _)| usize::from(width.0));
        said.or_else(seen).map_or(100, |columns: usize| columns.clamp(60, 200))
    }

    /// Writes a result to standard output.
    ///
    /// # Errors
    /// The stream's own error; a closed pipe is none, since the reader has seen enough.
    pub(super) fn print(self, text: &str) -> io::Result<()> {
        pipe_may_close(io::stdout().lock().write_all(text.as_bytes()))
    }

    /// Writes a result to standard output piece by piece, so that a large one never lies in memory as a whole.
    ///
    /// # Errors
    /// The stream's own error; a closed pipe is none.
    pub(super) fn stream(self, write: impl FnOnce(&mut BufWriter<StdoutLock<'_>>) -> io::Result<()>) -> io::Result<()> {
        let mut out = BufWriter::new(io::stdout().lock());
        pipe_may_close(write(&mut out).and_then(|()| out.flush()))
    }

    /// Writes findings and errors to standard error, quiet or not.
    pub(super) fn complain(self, text: &str) {
        // Nobody is left to be told if the message stream itself fails.
        let _ = io::stderr().lock().write_all(text.as_bytes());
    }

    /// Writes a message to standard error unless the run is quiet.
    pub(super) fn say(self, text: &str) {
        if !self.quiet {
            self.complain(text);
        }
    }
}

fn pipe_may_close(result: io::Result<()>) -> io::Result<()> {
    match result {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        other => other,
    }
}

/// `NO_COLOR` set to anything but nothing, or a dumb terminal, switch colour off.
#[expect(clippy::disallowed_methods, reason = "the command line is where the environment is read")]
fn environment_allows_colour() -> bool {
    let asked_for_none = std::env::var("NO_COLOR").is_ok_and(|value| !value.is_empty());
    let dumb = std::env::var("TERM").is_ok_and(|value| value == "dumb");
    !asked_for_none && !dumb
}
