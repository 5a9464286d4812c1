//! A folder into which many files are written, and never beside it.

use std::io::{self, Read};
use std::path::{Component, Path, PathBuf};

use super::FileError;

/// Bytes of the beginning of a file in which a mark is looked for.
const BEGINNING: u64 = 512;

/// A folder that keeps what is written into it: no name leads out of it, and no link does.
#[derive(Debug)]
pub struct Folder {
    path: PathBuf,
}

impl Folder {
    /// A folder, whether or not it is there yet. A link may lead to the folder itself, since the user named it.
    #[must_use]
    pub fn named(path: &Path) -> Self {
        Self { path: path.to_owned() }
    }

    /// Where a file of it lies, and whether something is there already.
    ///
    /// # Errors
    /// [`FileError::Outside`] where a part of the name is none of its own or a link stands in the way;
    /// [`FileError::NoFolder`] where a file stands in the way; [`FileError::IsFolder`] where a folder has the file's name.
    pub fn look<S: AsRef<str>>(&self, parts: &[S]) -> Result<(PathBuf, bool), FileError> {
        let mut path = self.path.clone();
        let mut there = true;
        for (number, part) in parts.iter().enumerate() {
            path.push(plain(part.as_ref()).ok_or_else(|| self.outside(part.as_ref()))?);
            // What lies in a folder that is not there is not there either.
            if there {
                there = self.allows(&path, number + 1 == parts.len())?;
            }
        }
        Ok((path, there && !parts.is_empty()))
    }

    /// Makes the folders in which a file of it is to lie, as far as they are not there, and returns where it lies.
    ///
    /// # Errors
    /// Those of [`Folder::look`]; [`FileError::NoFolder`] where no folder can be made.
    pub fn make_room<S: AsRef<str>>(&self, parts: &[S]) -> Result<PathBuf, FileError> {
        super::make_folder(&self.path)?;
        let (path, _) = self.look(parts)?;
        if let Some(folder) = path.parent() {
            super::make_folder(folder)?;
        }
        Ok(path)
    }

    /// The folders below it, part by part, that hold a file of a name with a mark at its beginning; no link is followed, and
    /// what cannot be read is none. In the order of their names.
    #[must_use]
    pub fn holding(&self, name: &str, mark: &str) -> Vec<Vec<String>> {
        let mut found = Vec::new();
        let mut open = vec![Vec::new()];
        while let Some(parts) = open.pop() {
            let folder = parts.iter().fold(self.path.clone(), |path, part: &String| path.join(part));
            let Ok(entries) = folder.read_dir() else { continue };
            for entry in entries.flatten() {
                let (Ok(kind), Ok(entry_name)) = (entry.file_type(), entry.file_name().into_string()) else { continue };
                if kind.is_dir() {
                    open.push(parts.iter().cloned().chain([entry_name]).collect());
                } else if kind.is_file() && entry_name == name && begins_with(&entry.path(), mark) {
                    found.push(parts.clone());
                }
            }
        }
        found.sort();
        found
    }

    /// Whether something is there that may be: a folder, or a file at the end.
    fn allows(&self, path: &Path, is_file: bool) -> Result<bool, FileError> {
        let found = match path.symlink_metadata() {
            Ok(found) => found,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(false),
            Err(source) => return Err(FileError::NoFolder { folder: path.to_owned(), source }),
        };
        if found.is_symlink() {
            return Err(FileError::Outside { path: path.to_owned(), folder: self.path.clone() });
        }
        match (is_file, found.is_dir()) {
            (true, true) => Err(FileError::IsFolder { path: path.to_owned() }),
            (false, false) => {
                let source = io::Error::from(io::ErrorKind::NotADirectory);
                Err(FileError::NoFolder { folder: path.to_owned(), source })
            }
            (true, false) | (false, true) => Ok(true),
        }
    }

    fn outside(&self, part: &str) -> FileError {
        FileError::Outside { path: PathBuf::from(part), folder: self.path.clone() }
    }
}

/// Whether a mark stands at the beginning of a file.
fn begins_with(path: &Path, mark: &str) -> bool {
    #[expect(clippy::disallowed_methods, reason = "this is the door")]
    let file = std::fs::File::open(path);
    let mut beginning = Vec::new();
    let read = file.and_then(|file| file.take(BEGINNING).read_to_end(&mut beginning));
    read.is_ok() && beginning.windows(mark.len().max(1)).any(|part| part == mark.as_bytes())
}

/// A name of a file or folder that leads nowhere else.
fn plain(part: &str) -> Option<&str> {
    let mut components = Path::new(part).components();
    let is_one = matches!(components.next(), Some(Component::Normal(name)) if name == part);
    (is_one && components.next().is_none() && !part.contains(['\0', '\\'])).then_some(part)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_written_beside_a_folder() {
        let around = tempfile::tempdir().unwrap();
        let folder = Folder::named(&around.path().join("site"));
        for parts in [&["..", "x"][..], &["a/b"], &["/etc", "x"], &[""], &["."], &["a", "..", "x"], &["a\\b"], &["a\0"]]
        {
            assert!(matches!(folder.look(parts), Err(FileError::Outside { .. })), "{parts:?}");
            assert!(matches!(folder.make_room(parts), Err(FileError::Outside { .. })), "{parts:?}");
        }
        let path = around.path().join("site/CH1/1/index.html");
        let parts = ["CH1", "1", "index.html"];
        assert_eq!(folder.look(&parts).unwrap(), (path.clone(), false));
        assert_eq!(folder.make_room(&parts).unwrap(), path);
        #[expect(clippy::disallowed_methods, reason = "a file for the test")]
        std::fs::write(&path, "old").unwrap();
        assert_eq!(folder.look(&parts).unwrap(), (path, true));
        assert_eq!(folder.holding("index.html", "old"), [["CH1", "1"].map(str::to_owned).to_vec()]);
        assert!(folder.holding("index.html", "new").is_empty() && folder.holding("other", "old").is_empty());
        assert!(matches!(folder.look(&["CH1", "1"]), Err(FileError::IsFolder { .. })));
        assert!(matches!(folder.look(&["CH1", "1", "index.html", "x"]), Err(FileError::NoFolder { .. })));
    }

    #[cfg(unix)]
    #[test]
    fn no_link_leads_out_of_a_folder() {
        let around = tempfile::tempdir().unwrap();
        let site = around.path().join("site");
        super::super::make_folder(&site.join("CH2")).unwrap();
        std::os::unix::fs::symlink("..", site.join("CH1")).unwrap();
        std::os::unix::fs::symlink("../../secret", site.join("CH2/index.html")).unwrap();
        let folder = Folder::named(&site);
        #[expect(clippy::disallowed_methods, reason = "a file for the test")]
        std::fs::write(around.path().join("index.html"), "old").unwrap();
        assert!(folder.holding("index.html", "old").is_empty(), "no link is followed");
        for parts in [&["CH1", "index.html"][..], &["CH2", "index.html"], &["CH1", "1", "index.html"]] {
            assert!(matches!(folder.make_room(parts), Err(FileError::Outside { .. })), "{parts:?}");
        }
        assert!(!around.path().join("1").exists());
        std::os::unix::fs::symlink(&site, around.path().join("link")).unwrap();
        assert!(Folder::named(&around.path().join("link")).make_room(&["CH3", "index.html"]).is_ok());
    }
}
