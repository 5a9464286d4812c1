//! A folder for files that nobody keeps.

use super::FileError;

/// A folder that goes, with all that is in it, when this is dropped.
pub type Temporary = tempfile::TempDir;

/// Makes a folder of its own among those that the system keeps for a while, for nobody but this user.
///
/// # Errors
/// [`FileError::NoFolder`].
pub fn temporary() -> Result<Temporary, FileError> {
    let made = tempfile::Builder::new().prefix("noticewright-").tempdir();
    made.map_err(|source| FileError::NoFolder { folder: std::env::temp_dir(), source })
}
