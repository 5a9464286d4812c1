//! The only door to the disk: limited reads, safe writes.

use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

/// Why a file cannot be read or written.
#[derive(Debug)]
pub struct FileError {
    /// The file as the user named it.
    pub path: PathBuf,
    /// What was tried.
    pub doing: &'static str,
    /// The cause.
    pub cause: io::Error,
}

impl std::fmt::Display for FileError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "cannot {} `{}`: {}", self.doing, self.path.display(), self.cause)
    }
}

impl std::error::Error for FileError {}

/// Reads a file, or standard input for `-`, up to so many bytes.
pub fn read(path: &Path, most: u64) -> Result<Vec<u8>, FileError> {
    let fail = |cause| FileError { path: path.to_owned(), doing: "read", cause };
    let mut bytes = Vec::new();
    #[expect(clippy::disallowed_methods, reason = "this is the door")]
    if path == Path::new("-") {
        io::stdin().lock().take(most + 1).read_to_end(&mut bytes).map_err(fail)?;
    } else {
        std::fs::File::open(path).and_then(|file| file.take(most + 1).read_to_end(&mut bytes)).map_err(fail)?;
    }
    Ok(bytes)
}

/// Reads a text file.
pub fn read_text(path: &Path, most: u64) -> Result<String, FileError> {
    let fail = |cause| FileError { path: path.to_owned(), doing: "read", cause };
    String::from_utf8(read(path, most)?).map_err(|error| fail(io::Error::new(io::ErrorKind::InvalidData, error)))
}

/// Whether there is a file.
pub fn exists(path: &Path) -> bool {
    path.exists()
}

/// Files written together: all or none.
pub struct Outputs {
    force: bool,
    pending: Vec<(PathBuf, Option<NamedTempFile>)>,
}

impl Outputs {
    /// Nothing yet.
    pub fn new(force: bool) -> Self {
        Self { force, pending: Vec::new() }
    }

    /// Writes one file by a function.
    pub fn write<T>(
        &mut self,
        path: &Path,
        content: impl FnOnce(&mut dyn Write) -> io::Result<T>,
    ) -> Result<T, FileError> {
        let fail = |cause| FileError { path: path.to_owned(), doing: "write", cause };
        if path == Path::new("-") {
            let done = content(&mut io::stdout().lock()).map_err(fail)?;
            self.pending.push((path.to_owned(), None));
            return Ok(done);
        }
        if path.exists() && !self.force {
            return Err(fail(io::Error::from(io::ErrorKind::AlreadyExists)));
        }
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let mut file = NamedTempFile::new_in(folder).map_err(fail)?;
        let mut buffered = io::BufWriter::new(&mut file);
        let done = content(&mut buffered).map_err(fail)?;
        buffered.flush().map_err(fail)?;
        drop(buffered);
        self.pending.push((path.to_owned(), Some(file)));
        Ok(done)
    }

    /// Puts all files in place.
    pub fn commit(self) -> Result<(), FileError> {
        for (path, file) in self.pending {
            let Some(file) = file else { continue };
            file.persist(&path).map_err(|error| FileError { path, doing: "write", cause: error.error })?;
        }
        Ok(())
    }
}

/// Makes a folder unless it is there.
pub fn make_folder(path: &Path) -> Result<(), FileError> {
    std::fs::create_dir_all(path).map_err(|cause| FileError { path: path.to_owned(), doing: "make", cause })
}

/// A file name that says a text of the user and cannot leave its folder: letters, digits, `-` and `.` stay, `/` becomes
/// `_`, all else its bytes as `%2F`. Different texts get different names.
pub fn safe_name(text: &str) -> String {
    let mut name = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '/' => name.push('_'),
            '.' if name.is_empty() => name.push_str("%2E"),
            '-' | '.' => name.push(character),
            letter if letter.is_alphanumeric() => name.push(letter),
            other => {
                let mut bytes = [0; 4];
                name.extend(other.encode_utf8(&mut bytes).bytes().map(|byte| format!("%{byte:02X}")));
            }
        }
    }
    name
}
