//! A file being written beside its destination, and the moment at which it takes its name.

use std::fmt;
use std::io::{self, BufWriter, Read, Stdout, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::ahead::Ahead;
use super::destination::Kind;
use super::{Destination, FileError};

/// Bytes gathered before they go to the disk.
const BUFFER: usize = 1 << 18;

/// An output under way. Dropped before [`publish`], it leaves the destination as it was.
#[derive(Debug)]
pub struct Draft {
    destination: Destination,
    body: Body,
}

#[derive(Debug)]
enum Body {
    Standard(BufWriter<Stdout>),
    Device(BufWriter<std::fs::File>),
    Beside { file: BufWriter<Ahead>, target: PathBuf },
}

/// One output that is in place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Published {
    /// As the user named it.
    pub path: PathBuf,
}

/// Some output could not be put in place.
#[derive(Debug)]
pub struct PublishError {
    /// The outputs of the run that are in place nevertheless.
    pub published: Vec<Published>,
    /// The first failure.
    pub failure: FileError,
}

impl fmt::Display for PublishError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.failure.fmt(f)?;
        if self.published.is_empty() {
            return f.write_str("; nothing was written");
        }
        let paths: Vec<_> = self.published.iter().map(|published| published.path.display().to_string()).collect();
        write!(f, "; these are written: `{}`", paths.join("`, `"))
    }
}

impl std::error::Error for PublishError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        self.failure.source()
    }
}

/// Puts all outputs of a run in place: first every draft is flushed and synced, then each takes its name and
/// its folder is synced. A failure before the first rename leaves every destination as it was.
///
/// # Errors
/// [`PublishError`], which says what is in place all the same.
pub fn publish(drafts: Vec<Draft>) -> Result<Vec<Published>, PublishError> {
    let mut published = Vec::with_capacity(drafts.len());
    let fail = |published: &mut Vec<Published>, failure| PublishError { published: std::mem::take(published), failure };
    let mut ready = Vec::with_capacity(drafts.len());
    // Standard output comes last: it cannot be taken back.
    let (standard, others): (Vec<_>, Vec<_>) = drafts.into_iter().partition(|draft| draft.destination.is_standard());
    for draft in others.into_iter().chain(standard) {
        ready.push(draft.settle().map_err(|failure| fail(&mut published, failure))?);
    }
    for settled in ready {
        let path = settled.destination.named.clone();
        let target = settled.rename().map_err(|failure| fail(&mut published, failure))?;
        published.push(Published { path: path.clone() });
        let synced = target.map_or(Ok(()), |target| sync_folder(&target));
        synced.map_err(|source| fail(&mut published, FileError::Write { path, source }))?;
    }
    Ok(published)
}

/// A draft whose bytes are all on the disk.
struct Settled {
    destination: Destination,
    beside: Option<(NamedTempFile, PathBuf)>,
}

impl Draft {
    /// Opens the draft of a destination.
    pub(super) fn open(destination: Destination) -> Result<Self, FileError> {
        let body = match &destination.kind {
            Kind::Standard => Body::Standard(BufWriter::with_capacity(BUFFER, io::stdout())),
            Kind::Device(path) => {
                let failed = |source| FileError::Write { path: destination.named.clone(), source };
                let file = std::fs::OpenOptions::new().write(true).open(path).map_err(failed)?;
                Body::Device(BufWriter::with_capacity(BUFFER, file))
            }
            Kind::File(target) => {
                let file = Ahead::new(beside(target)?);
                Body::Beside { file: BufWriter::with_capacity(BUFFER, file), target: target.clone() }
            }
        };
        Ok(Self { destination, body })
    }

    /// The destination as the user named it.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.destination.named
    }

    /// The error of a write to this draft, with its name.
    #[must_use]
    pub fn failed(&self, source: io::Error) -> FileError {
        FileError::Write { path: self.destination.named.clone(), source: of_the_system(source) }
    }

    /// What is written so far, read again from the disk; `None` of standard output or a device, which give nothing back.
    ///
    /// # Errors
    /// [`FileError::Write`] if the rest cannot be written out, [`FileError::Read`] if it cannot be read.
    pub fn written(&mut self) -> Result<Option<Vec<u8>>, FileError> {
        let Body::Beside { file, .. } = &mut self.body else { return Ok(None) };
        let path = || self.destination.named.clone();
        file.flush().map_err(|source| FileError::Write { path: path(), source })?;
        let mut bytes = Vec::new();
        let mut again = file.get_ref().reopen().map_err(|source| FileError::Read { path: path(), source })?;
        again.read_to_end(&mut bytes).map_err(|source| FileError::Read { path: path(), source })?;
        Ok(Some(bytes))
    }

    /// Whether what is written to it can be read again before it is in place.
    #[must_use]
    pub const fn can_be_read(&self) -> bool {
        matches!(self.body, Body::Beside { .. })
    }

    /// Flushes and syncs.
    fn settle(self) -> Result<Settled, FileError> {
        let Self { destination, body } = self;
        let failed = |source| FileError::Write { path: destination.named.clone(), source };
        let beside = match body {
            Body::Standard(mut out) => out.flush().map(|()| None),
            Body::Device(mut device) => device.flush().map(|()| None),
            Body::Beside { file, target } => {
                file.into_inner().map_err(io::IntoInnerError::into_error).map(Ahead::into_file).and_then(|file| {
                    keep_mode(&file, &target)?;
                    file.as_file().sync_all()?;
                    Ok(Some((file, target)))
                })
            }
        };
        beside.map_err(|source| failed(of_the_system(source))).map(|beside| Settled { destination, beside })
    }
}

impl Write for Draft {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        match &mut self.body {
            Body::Standard(out) => out.write(bytes),
            Body::Device(file) => file.write(bytes),
            Body::Beside { file, .. } => file.write(bytes),
        }
    }

    fn flush(&mut self) -> io::Result<()> {
        match &mut self.body {
            Body::Standard(out) => out.flush(),
            Body::Device(file) => file.flush(),
            Body::Beside { file, .. } => file.flush(),
        }
    }
}

impl Settled {
    /// Gives the file its name, and returns where it now lies. A file that appeared since the check is not overwritten
    /// unless that was asked for.
    fn rename(self) -> Result<Option<PathBuf>, FileError> {
        let named = self.destination.named;
        let Some((file, target)) = self.beside else {
            return Ok(None);
        };
        let renamed = if self.destination.force { file.persist(&target) } else { file.persist_noclobber(&target) };
        match renamed {
            Ok(_) => Ok(Some(target)),
            Err(error) if error.error.kind() == io::ErrorKind::AlreadyExists => Err(FileError::Exists { path: named }),
            Err(error) => Err(FileError::Rename { path: named, source: error.error }),
        }
    }
}

/// A temporary file in the folder of a destination, whose name tells what it was to become.
fn beside(target: &Path) -> Result<NamedTempFile, FileError> {
    let folder = target.parent().unwrap_or(Path::new("."));
    // A name too long for the disk would fail; what identifies it is the start.
    let name: String = target.file_name().unwrap_or_default().to_string_lossy().chars().take(40).collect();
    let prefix = format!(".noticewright-{name}-");
    let mut builder = tempfile::Builder::new();
    builder.prefix(&prefix).suffix(".part");
    // A private mode would stay with the file after it takes its name; the system takes the umask from this one.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let failed = |source| FileError::NoFolder { folder: folder.to_owned(), source: of_the_system(source) };
    builder.tempfile_in(folder).map_err(failed)
}

/// What the system says, without the name of the temporary file, which is no concern of the user's.
fn of_the_system(error: io::Error) -> io::Error {
    let said = error.to_string();
    match said.split_once(" at path \"") {
        Some((said, _)) => io::Error::new(error.kind(), said),
        None => error,
    }
}

/// A file that is replaced passes on who may read and write it.
fn keep_mode(file: &NamedTempFile, target: &Path) -> io::Result<()> {
    match target.metadata() {
        Ok(old) => file.as_file().set_permissions(old.permissions()),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
        Err(error) => Err(error),
    }
}

/// The new name is lasting only when the folder itself is synced. Some file systems have no such step, and say so.
pub(super) fn sync_folder(target: &Path) -> io::Result<()> {
    if !cfg!(unix) {
        return Ok(());
    }
    let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    #[expect(clippy::disallowed_methods, reason = "this is the door")]
    let folder = std::fs::File::open(folder)?;
    match folder.sync_all() {
        Err(error) if matches!(error.kind(), io::ErrorKind::InvalidInput | io::ErrorKind::Unsupported) => Ok(()),
        synced => synced,
    }
}
