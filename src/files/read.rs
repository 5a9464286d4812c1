//! Limited reads.

use std::io::{self, Read};
use std::path::Path;

use super::FileError;

/// The name that stands for standard input or output.
pub const STANDARD: &str = "-";

/// Reads a whole file, or standard input for `-`, of at most `limit` bytes.
///
/// # Errors
/// [`FileError::Read`], [`FileError::IsFolder`] or [`FileError::TooLarge`].
pub fn read(path: &Path, limit: u64) -> Result<Vec<u8>, FileError> {
    if path == Path::new(STANDARD) {
        return limited(io::stdin().lock(), path, limit, 0);
    }
    let failed = |source| FileError::Read { path: path.to_owned(), source };
    #[expect(clippy::disallowed_methods, reason = "this is the door")]
    let file = std::fs::File::open(path).map_err(failed)?;
    let metadata = file.metadata().map_err(failed)?;
    if metadata.is_dir() {
        return Err(FileError::IsFolder { path: path.to_owned() });
    }
    limited(file, path, limit, metadata.len())
}

/// Reads a whole text file in UTF-8, or standard input for `-`, of at most `limit` bytes.
///
/// # Errors
/// Those of [`read`]; [`FileError::Read`] if it is not UTF-8.
pub fn read_text(path: &Path, limit: u64) -> Result<String, FileError> {
    String::from_utf8(read(path, limit)?).map_err(|error| {
        let source = io::Error::new(io::ErrorKind::InvalidData, error.utf8_error());
        FileError::Read { path: path.to_owned(), source }
    })
}

/// Whether something of this name exists. What cannot be looked at counts as existing, so that it is reported when read.
#[must_use]
pub fn exists(path: &Path) -> bool {
    path.try_exists().unwrap_or(true)
}

/// Makes a folder and those above it; one that exists is left as it is.
///
/// # Errors
/// [`FileError::NoFolder`].
pub fn make_folder(path: &Path) -> Result<(), FileError> {
    std::fs::create_dir_all(path).map_err(|source| FileError::NoFolder { folder: path.to_owned(), source })
}

fn limited(input: impl Read, path: &Path, limit: u64, expected: u64) -> Result<Vec<u8>, FileError> {
    let mut bytes = Vec::new();
    let expected = usize::try_from(expected.min(limit)).unwrap_or_default();
    let too_large = || FileError::TooLarge { path: path.to_owned(), limit };
    let failed = |source| FileError::Read { path: path.to_owned(), source };
    bytes.try_reserve(expected).map_err(|_| too_large())?;
    // One byte more than the limit tells a file of exactly the limit from a larger one.
    input.take(limit.saturating_add(1)).read_to_end(&mut bytes).map_err(failed)?;
    if bytes.len() as u64 > limit { Err(too_large()) } else { Ok(bytes) }
}
