//! Where an output goes, checked before any work is done.

use std::collections::BTreeSet;
use std::io;
use std::path::{Path, PathBuf};

use super::{Draft, FileError, STANDARD};

/// A destination that may be written.
#[derive(Debug)]
pub struct Destination {
    /// As the user named it.
    pub(super) named: PathBuf,
    pub(super) kind: Kind,
    /// Whether an existing file may be replaced.
    pub(super) force: bool,
}

/// What stands behind the name.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// Standard output.
    Standard,
    /// A device or pipe: written straight through, since there is nothing in it to lose.
    Device(PathBuf),
    /// A file of its own or none yet, with symbolic links followed: the link stays, and its target is replaced.
    File(PathBuf),
}

/// More links than this are taken for a loop, as Linux itself does.
const MOST_LINKS: usize = 40;

impl Destination {
    /// Checks a destination: it does not exist unless `force`, is not write-protected, is no folder, lies in a folder that
    /// exists, and is none of the `inputs`.
    ///
    /// # Errors
    /// [`FileError::Exists`], [`FileError::Protected`], [`FileError::IsFolder`], [`FileError::NoFolder`] or
    /// [`FileError::IsInput`].
    pub fn check(path: &Path, inputs: &[&Path], force: bool) -> Result<Self, FileError> {
        Self::check_among(path, &places_of(inputs), force)
    }

    /// The same with the places of the inputs.
    fn check_among(path: &Path, inputs: &BTreeSet<PathBuf>, force: bool) -> Result<Self, FileError> {
        let named = path.to_owned();
        if path == Path::new(STANDARD) {
            return Ok(Self { named, kind: Kind::Standard, force });
        }
        // A pipe or device may bear a name that leads nowhere, such as `/dev/stdout` where that is a pipe.
        if let Some(found) = path.metadata().ok().filter(|found| !found.is_file() && !found.is_dir()) {
            if is_disk(&found) {
                let source = io::Error::new(io::ErrorKind::InvalidInput, "it is a disk");
                return Err(FileError::Write { path: named, source });
            }
            return Ok(Self { kind: Kind::Device(named.clone()), named, force });
        }
        let target = followed(path)?;
        let folder = folder_of(&target);
        let folder = folder.canonicalize().map_err(|source| FileError::NoFolder { folder: folder.clone(), source })?;
        let Some(name) = target.file_name() else {
            return Err(FileError::IsFolder { path: named });
        };
        let target = folder.join(name);
        if inputs.contains(&target) {
            return Err(FileError::IsInput { path: named });
        }
        let kind = match target.symlink_metadata() {
            Ok(found) if found.is_dir() => return Err(FileError::IsFolder { path: named }),
            Ok(_) if !force => return Err(FileError::Exists { path: named }),
            // A new file beside it would take its name whatever its mode says.
            Ok(found) if found.permissions().readonly() => return Err(FileError::Protected { path: named }),
            Ok(_) => Kind::File(target),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Kind::File(target),
            Err(source) => return Err(FileError::NoFolder { folder, source }),
        };
        Ok(Self { named, kind, force })
    }

    /// The destination as the user named it.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.named
    }

    /// Whether this is standard output.
    #[must_use]
    pub fn is_standard(&self) -> bool {
        self.kind == Kind::Standard
    }

    /// Opens a draft beside the destination.
    ///
    /// # Errors
    /// [`FileError::NoFolder`] if no file can be made there, [`FileError::Write`] for a device that cannot be opened.
    pub fn begin(self) -> Result<Draft, FileError> {
        Draft::open(self)
    }
}

/// Checks all outputs of one run against the inputs and against each other.
///
/// # Errors
/// Those of [`Destination::check`], and [`FileError::Twice`].
pub fn check_all(paths: &[&Path], inputs: &[&Path], force: bool) -> Result<Vec<Destination>, FileError> {
    let inputs = places_of(inputs);
    let mut checked: Vec<Destination> = Vec::with_capacity(paths.len());
    let mut taken = BTreeSet::new();
    for path in paths {
        let destination = Destination::check_among(path, &inputs, force)?;
        let place = match &destination.kind {
            Kind::Standard => Some(Path::new(STANDARD).to_owned()),
            Kind::File(target) => Some(target.clone()),
            Kind::Device(_) => None,
        };
        if place.is_some_and(|place| !taken.insert(place)) {
            return Err(FileError::Twice { path: (*path).to_owned() });
        }
        checked.push(destination);
    }
    Ok(checked)
}

/// Whether a whole disk would be written over.
#[cfg(unix)]
fn is_disk(found: &std::fs::Metadata) -> bool {
    std::os::unix::fs::FileTypeExt::is_block_device(&found.file_type())
}

/// Elsewhere disks have no such names.
#[cfg(not(unix))]
const fn is_disk(_: &std::fs::Metadata) -> bool {
    false
}

/// The place that a chain of symbolic links ends at, whether or not anything is there.
fn followed(path: &Path) -> Result<PathBuf, FileError> {
    let mut place = path.to_owned();
    for _ in 0..MOST_LINKS {
        match place.read_link() {
            Ok(target) => place = folder_of(&place).join(target),
            Err(_) => return Ok(place),
        }
    }
    let source = io::Error::other("too many symbolic links");
    Err(FileError::NoFolder { folder: folder_of(path), source })
}

fn places_of(inputs: &[&Path]) -> BTreeSet<PathBuf> {
    inputs.iter().filter_map(|input| place_of(input)).collect()
}

/// The place of an input, whether or not anything is there yet: a record is made with its first entry.
fn place_of(input: &Path) -> Option<PathBuf> {
    let there = || {
        let place = followed(input).ok()?;
        Some(folder_of(&place).canonicalize().ok()?.join(place.file_name()?))
    };
    input.canonicalize().ok().or_else(there)
}

fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(folder) if folder.as_os_str().is_empty() => PathBuf::from("."),
        Some(folder) => folder.to_owned(),
        None => path.to_owned(),
    }
}
