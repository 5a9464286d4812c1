//! A file that only grows: locked from looking to adding, so that of two writers one waits for the other, and synced before
//! an entry counts as kept.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{self, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

use super::FileError;

/// How long one writer waits for another, in tries of [`PAUSE`] each: ten seconds.
const TRIES: u32 = 500;

/// Between two tries.
const PAUSE: Duration = Duration::from_millis(20);

/// A journal that nobody else can write or look at until it is dropped.
#[derive(Debug)]
pub struct Journal {
    file: File,
    path: PathBuf,
    /// Whether the file was made just now, so that its name is not lasting yet.
    is_new: bool,
}

impl Journal {
    /// Opens a journal for looking and adding, and makes it if it is not there.
    ///
    /// # Errors
    /// [`FileError::IsFolder`], [`FileError::NoFolder`], [`FileError::Write`] where it cannot be opened or is no plain file,
    /// [`FileError::Busy`] where another writer does not let go.
    pub fn open(path: &Path) -> Result<Self, FileError> {
        let failed = |source| FileError::Write { path: path.to_owned(), source };
        let opened = OpenOptions::new().read(true).write(true).create_new(true).open(path);
        let (file, is_new) = match opened {
            Ok(file) => (file, true),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
                (OpenOptions::new().read(true).write(true).open(path).map_err(|error| refused(path, error))?, false)
            }
            Err(source) if source.kind() == io::ErrorKind::NotFound => {
                return Err(FileError::NoFolder { folder: path.parent().unwrap_or(Path::new(".")).to_owned(), source });
            }
            Err(source) => return Err(failed(source)),
        };
        let kind = file.metadata().map_err(failed)?;
        if !kind.is_file() {
            return Err(failed(io::Error::new(io::ErrorKind::InvalidInput, "it is no plain file")));
        }
        wait(path, || file.try_lock())?;
        Ok(Self { file, path: path.to_owned(), is_new })
    }

    /// What it holds, of at most `limit` bytes.
    ///
    /// # Errors
    /// [`FileError::Read`] or [`FileError::TooLarge`].
    pub fn read(&mut self, limit: u64) -> Result<Vec<u8>, FileError> {
        let path = || self.path.clone();
        self.file.seek(SeekFrom::Start(0)).map_err(|source| FileError::Read { path: path(), source })?;
        limited(&mut self.file, &self.path, limit)
    }

    /// Adds bytes behind the first `complete` ones, which stay; what stands behind them, a line cut off, goes. On return
    /// they are on the disk; after a failure the file ends at `complete` again, as far as the disk still answers.
    ///
    /// # Errors
    /// [`FileError::Write`].
    pub fn append(&mut self, complete: u64, bytes: &[u8]) -> Result<(), FileError> {
        let path = self.path.clone();
        add(&mut self.file, complete, bytes).map_err(|source| FileError::Write { path: path.clone(), source })?;
        if self.is_new {
            super::draft::sync_folder(&self.path).map_err(|source| FileError::Write { path, source })?;
            self.is_new = false;
        }
        Ok(())
    }
}

/// What a journal holds, while nobody is writing to it; `None` if it is not there.
///
/// # Errors
/// [`FileError::Read`], [`FileError::IsFolder`], [`FileError::TooLarge`], [`FileError::Busy`].
pub fn look(path: &Path, limit: u64) -> Result<Option<Vec<u8>>, FileError> {
    #[expect(clippy::disallowed_methods, reason = "this is the door")]
    let opened = File::open(path);
    let mut file = match opened {
        Ok(file) => file,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(source) => return Err(FileError::Read { path: path.to_owned(), source }),
    };
    let metadata = file.metadata().map_err(|source| FileError::Read { path: path.to_owned(), source })?;
    if metadata.is_dir() {
        return Err(FileError::IsFolder { path: path.to_owned() });
    }
    if metadata.is_file() {
        wait(path, || file.try_lock_shared())?;
    }
    limited(&mut file, path, limit).map(Some)
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

fn add(medium: &mut impl Medium, complete: u64, bytes: &[u8]) -> io::Result<()> {
    medium.cut(complete)?;
    medium.seek(SeekFrom::Start(complete))?;
    let added = medium.write_all(bytes).and_then(|()| medium.flush()).and_then(|()| medium.sync());
    if added.is_err() {
        // Half of it would look like a kept entry or like a torn one. If this fails too, the next reader sees a torn line.
        let _ = medium.cut(complete).and_then(|()| medium.sync());
    }
    added
}

fn limited(file: &mut File, path: &Path, limit: u64) -> Result<Vec<u8>, FileError> {
    super::read::limited(file, path, limit, 0)
}

fn refused(path: &Path, source: io::Error) -> FileError {
    if path.is_dir() {
        FileError::IsFolder { path: path.to_owned() }
    } else {
        FileError::Write { path: path.to_owned(), source }
    }
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
