//! Limited reads.

use std::fs::Metadata;
use std::io::{self, Read};
use std::path::{Component, Path};

use super::FileError;

/// The name that stands for standard input or output.
pub const STANDARD: &str = "-";

/// Reads a whole file, or standard input for `-`, of at most `limit` bytes.
///
/// # Errors
/// [`FileError::Read`], [`FileError::IsFolder`], [`FileError::TooLarge`], or [`FileError::Changing`] where somebody writes to it
/// meanwhile.
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
    let bytes = limited(&file, path, limit, metadata.len())?;
    // Half of a survey that is being saved would look like a whole one.
    if metadata.is_file() && is_altered(&metadata, &file.metadata().map_err(failed)?) {
        return Err(FileError::Changing { path: path.to_owned() });
    }
    Ok(bytes)
}

/// Whether a file was written to between two looks at it.
fn is_altered(before: &Metadata, after: &Metadata) -> bool {
    before.len() != after.len() || before.modified().ok() != after.modified().ok()
}

/// The first bytes of a plain file, at most so many; none of a pipe, a device or standard input, which can be read only once.
///
/// # Errors
/// [`FileError::Read`].
pub fn beginning(path: &Path, most: u64) -> Result<Vec<u8>, FileError> {
    let failed = |source| FileError::Read { path: path.to_owned(), source };
    let mut bytes = Vec::new();
    if path == Path::new(STANDARD) || !path.metadata().map_err(failed)?.is_file() {
        return Ok(bytes);
    }
    #[expect(clippy::disallowed_methods, reason = "this is the door")]
    let file = std::fs::File::open(path).map_err(failed)?;
    file.take(most).read_to_end(&mut bytes).map_err(failed)?;
    Ok(bytes)
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

/// Reads a whole file of a folder, of at most `limit` bytes; `name` must not lead out of the folder, by itself or by a link.
///
/// # Errors
/// [`FileError::Outside`] and those of [`read`].
pub fn read_within(folder: &Path, name: &Path, limit: u64) -> Result<Vec<u8>, FileError> {
    let outside = || FileError::Outside { path: name.to_owned(), folder: folder.to_owned() };
    if !name.components().all(|part| matches!(part, Component::Normal(_) | Component::CurDir)) {
        return Err(outside());
    }
    let path = folder.join(name);
    let real = |path: &Path| path.canonicalize().map_err(|source| FileError::Read { path: path.to_owned(), source });
    // An empty path is the folder from which the program was started.
    let folder = real(if folder.as_os_str().is_empty() { Path::new(".") } else { folder })?;
    let file = real(&path)?;
    if !file.starts_with(&folder) {
        return Err(outside());
    }
    read(&file, limit).map_err(|error| error.named(&path))
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

pub(super) fn limited(input: impl Read, path: &Path, limit: u64, expected: u64) -> Result<Vec<u8>, FileError> {
    let mut bytes = Vec::new();
    let expected = usize::try_from(expected.min(limit)).unwrap_or_default();
    let too_large = || FileError::TooLarge { path: path.to_owned(), limit };
    let failed = |source| FileError::Read { path: path.to_owned(), source };
    bytes.try_reserve(expected).map_err(|_| too_large())?;
    // One byte more than the limit tells a file of exactly the limit from a larger one.
    input.take(limit.saturating_add(1)).read_to_end(&mut bytes).map_err(failed)?;
    if bytes.len() as u64 > limit { Err(too_large()) } else { Ok(bytes) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_read_from_outside_a_folder() {
        let around = tempfile::tempdir().unwrap();
        let folder = around.path().join("job");
        make_folder(&folder.join("marks")).unwrap();
        for (file, text) in [("secret.png", "secret"), ("job/own.png", "own"), ("job/marks/deep.png", "deep")] {
            #[expect(clippy::disallowed_methods, reason = "a file for the test")]
            std::fs::write(around.path().join(file), text).unwrap();
        }
        let read = |name: &str, limit| read_within(&folder, Path::new(name), limit);
        assert_eq!(read("own.png", 3).unwrap(), b"own");
        assert_eq!(read("./marks/deep.png", 9).unwrap(), b"deep");
        let whole = folder.join("own.png");
        for name in ["../secret.png", "marks/../../secret.png", "marks/../own.png", whole.to_str().unwrap()] {
            let refused = read(name, 99).unwrap_err();
            assert!(matches!(refused, FileError::Outside { .. }), "{name}: {refused}");
        }
        #[cfg(unix)]
        for (link, to) in [("link.png", "../secret.png"), ("out", ".."), ("within.png", "marks/deep.png")] {
            std::os::unix::fs::symlink(to, folder.join(link)).unwrap();
        }
        if cfg!(unix) {
            assert!(matches!(read("link.png", 99).unwrap_err(), FileError::Outside { .. }));
            assert!(matches!(read("out/secret.png", 99).unwrap_err(), FileError::Outside { .. }));
            assert_eq!(read("within.png", 99).unwrap(), b"deep", "a link that stays in the folder");
        }
        let refused = read("own.png", 2).unwrap_err().to_string();
        assert!(refused.ends_with("job/own.png` is larger than 2 bytes, the most that is accepted"), "{refused}");
        assert!(matches!(read("none.png", 9).unwrap_err(), FileError::Read { .. }));
        assert!(matches!(read("marks", 9).unwrap_err(), FileError::IsFolder { .. }));
    }
}
