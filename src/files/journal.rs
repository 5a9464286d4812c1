//! A file that only grows: locked from looking to adding, so that of two writers one waits for the other, and synced before
//! an entry counts as kept.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{self, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

use super::FileError;

/// How long one writer waits for another, in tries of [`PAUSE`] each: ten seconds.
const TRIES: u32 = 500;

/// How often a file may be saved under its name while we wait for the one before it.
const MOVED: u32 = 20;

/// Between two tries.
const PAUSE: Duration = Duration::from_millis(20);

/// A journal that nobody else can write or look at until it is dropped.
#[derive(Debug)]
pub struct Journal {
    file: File,
    path: PathBuf,
    /// How long it is, once it was read.
    length: Option<u64>,
}

impl Journal {
    /// Opens a journal for looking and adding, and makes it if it is not there.
    ///
    /// # Errors
    /// [`FileError::IsFolder`], [`FileError::NoFolder`], [`FileError::Write`] where it cannot be opened or is no plain file,
    /// [`FileError::Busy`] where another writer does not let go.
    pub fn open(path: &Path) -> Result<Self, FileError> {
        for _ in 0..MOVED {
            let file = open_to_add(path)?;
            wait(path, || file.try_lock())?;
            // Whoever saved the file under its name while we waited left us with one that nobody will find again.
            if is_still(&file, path) {
                return Ok(Self { file, path: path.to_owned(), length: None });
            }
        }
        Err(FileError::Busy { path: path.to_owned() })
    }

    /// What it holds, of at most `limit` bytes.
    ///
    /// # Errors
    /// [`FileError::Read`] or [`FileError::TooLarge`].
    pub fn read(&mut self, limit: u64) -> Result<Vec<u8>, FileError> {
        let path = || self.path.clone();
        self.file.seek(SeekFrom::Start(0)).map_err(|source| FileError::Read { path: path(), source })?;
        let bytes = limited(&mut self.file, &self.path, limit)?;
        self.length = u64::try_from(bytes.len()).ok();
        Ok(bytes)
    }

    /// Adds bytes behind the first `complete` ones, which stay; what stands behind them, a line cut off, goes. On return
    /// they are on the disk; after a failure the file ends at `complete` again, as far as the disk still answers.
    ///
    /// # Errors
    /// [`FileError::Write`], also where a program that knows no locks has changed the file since it was read.
    pub fn append(&mut self, complete: u64, bytes: &[u8]) -> Result<(), FileError> {
        let failed = |source| FileError::Write { path: self.path.clone(), source };
        let length = self.file.metadata().map_err(failed)?.len();
        if self.length.is_some_and(|read| read != length) || length < complete || !is_still(&self.file, &self.path) {
            return Err(failed(io::Error::other("another program has changed it meanwhile")));
        }
        // The name must be lasting before anything is acknowledged, whoever made the file. Done first, so that what is
        // reported as failed is not there.
        sync_folder(&self.path).map_err(failed)?;
        self.length = None;
        add(&mut self.file, length, complete, bytes).map_err(failed)?;
        self.length = u64::try_from(bytes.len()).ok().map(|added| complete + added);
        Ok(())
    }
}

/// What a journal holds, while nobody is writing to it; `None` if it is not there.
///
/// # Errors
/// [`FileError::Read`], [`FileError::IsFolder`], [`FileError::TooLarge`], [`FileError::Busy`].
pub fn look(path: &Path, limit: u64) -> Result<Option<Vec<u8>>, FileError> {
    let failed = |source| FileError::Read { path: path.to_owned(), source };
    match kind(path) {
        Ok(Kind::Nothing) => return Ok(None),
        Ok(Kind::File) => (),
        Ok(Kind::Folder) => return Err(FileError::IsFolder { path: path.to_owned() }),
        // Opening a pipe would wait for whoever writes to it.
        Ok(Kind::Other) => return Err(failed(no_plain_file())),
        Err(source) => return Err(failed(source)),
    }
    #[expect(clippy::disallowed_methods, reason = "this is the door")]
    let opened = File::open(path);
    let mut file = match opened {
        Ok(file) => file,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(source) => return Err(failed(source)),
    };
    wait(path, || file.try_lock_shared())?;
    limited(&mut file, path, limit).map(Some)
}

/// What stands under a name, links followed.
enum Kind {
    Nothing,
    File,
    Folder,
    Other,
}

fn kind(path: &Path) -> io::Result<Kind> {
    match path.metadata() {
        Ok(metadata) if metadata.is_file() => Ok(Kind::File),
        Ok(metadata) if metadata.is_dir() => Ok(Kind::Folder),
        Ok(_) => Ok(Kind::Other),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Kind::Nothing),
        Err(error) => Err(error),
    }
}

fn no_plain_file() -> io::Error {
    io::Error::new(io::ErrorKind::InvalidInput, "it is no plain file")
}

fn open_to_add(path: &Path) -> Result<File, FileError> {
    let failed = |source| FileError::Write { path: path.to_owned(), source };
    let is_new = match kind(path).map_err(failed)? {
        Kind::Nothing => true,
        Kind::File => false,
        Kind::Folder => return Err(FileError::IsFolder { path: path.to_owned() }),
        Kind::Other => return Err(failed(no_plain_file())),
    };
    let opened = OpenOptions::new().read(true).write(true).create(true).truncate(false).open(path);
    opened.map_err(|source| {
        let of_folder = matches!(source.kind(), io::ErrorKind::NotFound | io::ErrorKind::PermissionDenied);
        if is_new && of_folder {
            FileError::NoFolder { folder: folder_of(path).to_owned(), source }
        } else {
            failed(source)
        }
    })
}

fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// Whether a file still bears its name.
#[cfg(unix)]
fn is_still(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    let named = |metadata: &std::fs::Metadata| (metadata.dev(), metadata.ino());
    matches!((file.metadata(), path.metadata()), (Ok(ref file), Ok(ref path)) if named(file) == named(path))
}

/// Elsewhere an open file keeps its name.
#[cfg(not(unix))]
const fn is_still(_: &File, _: &Path) -> bool {
    true
}

/// Makes the name of a file lasting, in the folder where it really lies. A folder that may not be looked into can have no
/// new name from us either.
fn sync_folder(path: &Path) -> io::Result<()> {
    match super::draft::sync_folder(&path.canonicalize()?) {
        Err(error) if error.kind() == io::ErrorKind::PermissionDenied => Ok(()),
        synced => synced,
    }
}

/// What a journal must be able to do.
trait Medium: Write + Seek {
    fn cut(&mut self, length: u64) -> io::Result<()>;
    fn sync(&mut self) -> io::Result<()>;
}

impl Medium for File {
    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.set_len(length)
    }

    fn sync(&mut self) -> io::Result<()> {
        self.sync_all()
    }
}

/// Puts bytes behind the first `complete` ones of a medium that is `length` long.
fn add(medium: &mut impl Medium, length: u64, complete: u64, bytes: &[u8]) -> io::Result<()> {
    if length > complete {
        // A line cut off goes for good before anything takes its place: a power cut must not leave half of the one and half
        // of the other.
        medium.cut(complete)?;
        medium.sync()?;
    }
    let added = medium
        .seek(SeekFrom::Start(complete))
        .and_then(|_| medium.write_all(bytes))
        .and_then(|()| medium.flush())
        .and_then(|()| medium.sync());
    if added.is_err() {
        // Half of it would look like a kept entry or like a torn one. If this fails too, the next reader sees a torn line.
        let _ = medium.cut(complete).and_then(|()| medium.sync());
    }
    added
}

fn limited(file: &mut File, path: &Path, limit: u64) -> Result<Vec<u8>, FileError> {
    super::read::limited(file, path, limit, 0)
}

fn wait(path: &Path, lock: impl Fn() -> Result<(), TryLockError>) -> Result<(), FileError> {
    for _ in 0..TRIES {
        match lock() {
            Ok(()) => return Ok(()),
            Err(TryLockError::WouldBlock) => std::thread::sleep(PAUSE),
            // A disk that knows no locks, such as some network folders, has no second writer to wait for either.
            Err(TryLockError::Error(error)) if error.kind() == io::ErrorKind::Unsupported => return Ok(()),
            Err(TryLockError::Error(source)) => return Err(FileError::Read { path: path.to_owned(), source }),
        }
    }
    Err(FileError::Busy { path: path.to_owned() })
}

#[cfg(test)]
mod tests;
