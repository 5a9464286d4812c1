//! A file that is read and written again: replaced only if nobody else has written to it meanwhile.

use std::io::Write as _;
use std::path::Path;

use super::{Destination, FileError, publish, read};

/// Replaces a file that was read as `before`. The new bytes are beside it on the disk when it is read once more, so that
/// between that look and the moment at which they take its name there is nothing but syncing and one renaming.
///
/// # Errors
/// [`FileError::Changed`] if it holds anything else by now; those of reading and writing. The file is as it was then.
pub fn exchange(path: &Path, before: &[u8], after: &[u8]) -> Result<(), FileError> {
    let mut draft = Destination::check(path, &[], true)?.begin()?;
    draft.write_all(after).and_then(|()| draft.flush()).map_err(|source| draft.failed(source))?;
    // One byte more than there was is enough to see that it is another file.
    let limit = u64::try_from(before.len()).unwrap_or(u64::MAX).saturating_add(1);
    let changed = || FileError::Changed { path: path.to_owned() };
    match read(path, limit) {
        Ok(now) if now == before => {}
        Ok(_) | Err(FileError::TooLarge { .. } | FileError::Changing { .. }) => return Err(changed()),
        Err(error) => return Err(error),
    }
    publish(vec![draft]).map(|_| ()).map_err(|error| error.failure)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[expect(clippy::disallowed_methods, reason = "this is the door")]
    fn put(path: &Path, text: &str) {
        std::fs::write(path, text).unwrap();
    }

    fn holds(path: &Path) -> Vec<u8> {
        read(path, 1_000).unwrap()
    }

    #[test]
    fn only_the_file_that_was_read_is_replaced() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("survey.csv");
        put(&path, "one");
        exchange(&path, b"one", b"two").unwrap();
        assert_eq!(holds(&path), b"two");
        for other in ["three", "tw", "", "a much longer file than there was"] {
            put(&path, other);
            let refused = exchange(&path, b"two", b"lost").unwrap_err();
            assert!(matches!(refused, FileError::Changed { .. }), "{refused:?}");
            assert_eq!(holds(&path), other.as_bytes());
        }
        std::fs::remove_file(&path).unwrap();
        exchange(&path, b"two", b"lost").unwrap_err();
        assert!(!path.exists());
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0, "a draft was left behind");
    }

    #[cfg(unix)]
    #[test]
    fn links_and_modes_stay_as_they_were() {
        use std::os::unix::fs::PermissionsExt as _;
        let folder = tempfile::tempdir().unwrap();
        let (path, link) = (folder.path().join("survey.csv"), folder.path().join("link.csv"));
        put(&path, "one");
        std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o640)).unwrap();
        std::os::unix::fs::symlink("survey.csv", &link).unwrap();
        exchange(&link, b"one", b"two").unwrap();
        assert_eq!(holds(&path), b"two");
        assert!(link.symlink_metadata().unwrap().is_symlink());
        assert_eq!(path.metadata().unwrap().permissions().mode() & 0o777, 0o640);
        std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o440)).unwrap();
        let refused = exchange(&link, b"two", b"three").unwrap_err();
        assert!(matches!(refused, FileError::Protected { .. }), "{refused:?}");
    }
}
