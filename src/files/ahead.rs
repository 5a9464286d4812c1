//! A file whose bytes are sent to the disk while further ones are made, so that little is left to wait for at its end.

use std::io::{self, Write};

use tempfile::NamedTempFile;

/// So many bytes are sent at a time: as many as a disk writes in about the time in which as many again are made.
const TOGETHER: u64 = 1 << 20;

/// A temporary file, with how far it is written and sent.
#[derive(Debug)]
pub(super) struct Ahead {
    file: NamedTempFile,
    written: u64,
    sent: u64,
}

impl Ahead {
    pub(super) const fn new(file: NamedTempFile) -> Self {
        Self { file, written: 0, sent: 0 }
    }

    /// The file, to be synced as a whole: that its bytes were sent promises nothing of them.
    pub(super) fn into_file(self) -> NamedTempFile {
        self.file
    }

    /// Opens it once more, to read what is written.
    pub(super) fn reopen(&self) -> io::Result<std::fs::File> {
        self.file.reopen()
    }

    fn send(&mut self) {
        advise(self.file.as_file(), self.sent, self.written - self.sent);
        self.sent = self.written;
    }
}

impl Write for Ahead {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let count = self.file.write(bytes)?;
        self.written += u64::try_from(count).unwrap_or(u64::MAX);
        if self.written - self.sent >= TOGETHER {
            self.send();
        }
        Ok(count)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.flush()
    }
}

/// Tells the system that these bytes are not needed in memory any more: Linux then begins to write them, and waits for
/// nothing (posix_fadvise(2), `POSIX_FADV_DONTNEED`). Advice that is not taken changes no byte, so a refusal is nobody's
/// concern.
#[cfg(target_os = "linux")]
fn advise(file: &std::fs::File, start: u64, length: u64) {
    let _ = rustix::fs::fadvise(file, start, std::num::NonZeroU64::new(length), rustix::fs::Advice::DontNeed);
}

/// Other systems are not asked.
#[cfg(not(target_os = "linux"))]
fn advise(_: &std::fs::File, _: u64, _: u64) {}
