//! What can go wrong between this program and the disk, always with the name of the file.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use super::STANDARD;

/// One failure at a file.
#[derive(Debug)]
pub enum FileError {
    /// A file cannot be read.
    Read {
        /// As the user named it.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// A file is larger than is accepted.
    TooLarge {
        /// As the user named it.
        path: PathBuf,
        /// The most bytes that are accepted.
        limit: u64,
    },
    /// Somebody wrote to a file while it was read.
    Changing {
        /// As the user named it.
        path: PathBuf,
    },
    /// Another program wrote to a file since it was read.
    Changed {
        /// As the user named it.
        path: PathBuf,
    },
    /// A folder stands where a file is meant.
    IsFolder {
        /// As the user named it.
        path: PathBuf,
    },
    /// A file that must lie in a folder does not.
    Outside {
        /// As the user named it.
        path: PathBuf,
        /// The folder.
        folder: PathBuf,
    },
    /// The destination exists, and overwriting it was not asked for.
    Exists {
        /// As the user named it.
        path: PathBuf,
    },
    /// The destination exists, and its mode says that nobody may write it.
    Protected {
        /// As the user named it.
        path: PathBuf,
    },
    /// The destination is one of the files that are read.
    IsInput {
        /// As the user named it.
        path: PathBuf,
    },
    /// Two outputs of one run have the same destination.
    Twice {
        /// As the user named it.
        path: PathBuf,
    },
    /// The folder of the destination is missing, or no file can be made in it.
    NoFolder {
        /// The folder.
        folder: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// Another run of this program writes to it and does not come to an end.
    Busy {
        /// As the user named it.
        path: PathBuf,
    },
    /// Writing failed: a full disk, a device gone.
    Write {
        /// As the user named it.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// What was written could not take the destination's name.
    Rename {
        /// As the user named it.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
}

impl FileError {
    /// Whether the reader of our standard output went away, which is no mistake of anybody.
    #[must_use]
    pub fn is_broken_pipe(&self) -> bool {
        let Self::Write { path, source } = self else { return false };
        path == Path::new(STANDARD) && source.kind() == io::ErrorKind::BrokenPipe
    }

    /// The same about a file that the user named otherwise.
    pub(super) fn named(self, named: &Path) -> Self {
        let path = named.to_owned();
        match self {
            Self::Read { source, .. } => Self::Read { path, source },
            Self::TooLarge { limit, .. } => Self::TooLarge { path, limit },
            Self::Changing { .. } => Self::Changing { path },
            Self::IsFolder { .. } => Self::IsFolder { path },
            Self::Changed { .. }
            | Self::Outside { .. }
            | Self::Exists { .. }
            | Self::Protected { .. }
            | Self::IsInput { .. }
            | Self::Twice { .. }
            | Self::Busy { .. }
            | Self::NoFolder { .. }
            | Self::Write { .. }
            | Self::Rename { .. } => self,
        }
    }

    fn io(&self) -> Option<&io::Error> {
        match self {
            Self::Read { source, .. }
            | Self::NoFolder { source, .. }
            | Self::Write { source, .. }
            | Self::Rename { source, .. } => Some(source),
            Self::TooLarge { .. }
            | Self::Changing { .. }
            | Self::Changed { .. }
            | Self::IsFolder { .. }
            | Self::Outside { .. }
            | Self::Exists { .. }
            | Self::Protected { .. }
            | Self::IsInput { .. }
            | Self::Twice { .. }
            | Self::Busy { .. } => None,
        }
    }
}

/// A file as messages call it.
fn called(path: &Path) -> String {
    if path == Path::new(STANDARD) { "the standard stream `-`".to_owned() } else { format!("`{}`", path.display()) }
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Read { path, .. } => write!(f, "cannot read {}", called(path)),
            Self::TooLarge { path, limit } => {
                write!(f, "{} is larger than {limit} bytes, the most that is accepted", called(path))
            }
            Self::Changing { path } => write!(f, "{} was written to while it was read", called(path)),
            Self::Changed { path } => {
                write!(f, "{} was changed by another program since it was read, and is left alone", called(path))
            }
            Self::IsFolder { path } => write!(f, "`{}` is a folder, and a file is needed", path.display()),
            Self::Outside { path, folder } => {
                let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
                write!(f, "`{}` does not lie in the folder `{}`", path.display(), folder.display())
            }
            Self::Exists { path } => write!(f, "`{}` exists and is left alone", path.display()),
            Self::Protected { path } => write!(f, "`{}` is write-protected and is left alone", path.display()),
            Self::IsInput { path } => write!(f, "`{}` is read by this run and cannot be its output", path.display()),
            Self::Twice { path } => write!(f, "`{}` is named for two outputs of one run", path.display()),
            Self::Busy { path } => {
                write!(f, "another run is writing to `{}` and does not come to an end", path.display())
            }
            Self::NoFolder { folder, .. } => write!(f, "cannot write into the folder `{}`", folder.display()),
            Self::Write { path, .. } => write!(f, "cannot write {}", called(path)),
            Self::Rename { path, .. } => write!(f, "`{}` was written but could not be put in place", path.display()),
        }
    }
}

impl std::error::Error for FileError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        self.io().map(|source| source as _)
    }
}
