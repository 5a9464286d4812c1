//! Disks that fill, folders that refuse, files in the way: nothing is lost and nothing half done.
#![cfg(unix)]
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

mod judge;
mod sample;

#[path = "faults/ends.rs"]
mod ends;
#[path = "faults/failing.rs"]
mod failing;
#[path = "commands/left.rs"]
mod left;
#[path = "faults/memory.rs"]
mod memory;
#[path = "faults/site.rs"]
mod site;
#[path = "faults/stopped.rs"]
mod stopped;

use std::fs;
use std::io::{self, Write};
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::{Path, PathBuf};

use noticewright::files::{self, Destination, FileError, PublishError, Published, check_all, publish};
use noticewright::sheets::{Palette, Run};
use noticewright::writers::pdf::{PdfWriter, Setup, encode};

/// A writer that fails at its n-th write, or takes only part of what it is given.
struct Faulty {
    writes: usize,
    fails_at: usize,
    short: bool,
}

impl Write for Faulty {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.writes += 1;
        if self.writes == self.fails_at {
            return Err(io::Error::from(io::ErrorKind::StorageFull));
        }
        Ok(if self.short { bytes.len().div_ceil(2) } else { bytes.len() })
    }

    fn flush(&mut self) -> io::Result<()> {
        self.writes += 1;
        if self.writes == self.fails_at { Err(io::Error::from(io::ErrorKind::StorageFull)) } else { Ok(()) }
    }
}

fn write_document(out: impl Write) -> io::Result<u64> {
    let plan = sample::plan(5, sample::A7, Run::default());
    let mut writer = PdfWriter::begin(out, &Setup::plain(sample::info(), Palette::Office))?;
    for number in 0..2 {
        writer.add(&encode(&sample::page(&plan, number), &Palette::Office))?;
    }
    writer.finish().map(|written| written.bytes)
}

#[test]
fn every_failing_write_is_reported() {
    let mut fails_at = 1;
    loop {
        let mut out = Faulty { writes: 0, fails_at, short: false };
        match write_document(&mut out) {
            Err(error) => assert_eq!(error.kind(), io::ErrorKind::StorageFull, "at write {fails_at}"),
            Ok(_) => break,
        }
        assert_eq!(out.writes, fails_at, "writing went on after a failure");
        fails_at += 1;
    }
    assert!(fails_at > 30, "only {fails_at} writes were tried");
}

#[test]
fn short_writes_lose_nothing() {
    struct Short(Vec<u8>);
    impl Write for Short {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            let taken = bytes.len().div_ceil(2);
            self.0.extend_from_slice(&bytes[..taken]);
            Ok(taken)
        }
        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }
    let (mut short, mut whole) = (Short(Vec::new()), Vec::new());
    write_document(&mut short).unwrap();
    write_document(&mut whole).unwrap();
    assert!(short.0 == whole);
}

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

fn put(path: &Path, bytes: &str) {
    fs::File::options()
        .create(true)
        .truncate(true)
        .write(true)
        .open(path)
        .unwrap()
        .write_all(bytes.as_bytes())
        .unwrap();
}

fn get(path: &Path) -> String {
    String::from_utf8(files::read(path, 1 << 20).unwrap()).unwrap()
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<_> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

fn write(path: &Path, force: bool, bytes: &str) -> Result<Vec<Published>, PublishError> {
    let none = |failure| PublishError { published: Vec::new(), failure };
    let mut draft = Destination::check(path, &[], force).map_err(none)?.begin().map_err(none)?;
    draft.write_all(bytes.as_bytes()).map_err(|error| none(draft.failed(error)))?;
    publish(vec![draft])
}

fn mode(path: &Path) -> u32 {
    fs::metadata(path).unwrap().permissions().mode() & 0o777
}

#[test]
fn a_full_disk_is_reported_with_the_name() {
    // The device that is always full; every write of more than the buffer, or else the flush, fails.
    let full = Path::new("/dev/full");
    let error = write(full, false, "x").unwrap_err();
    assert!(matches!(error.failure, FileError::Write { .. }), "{error:?}");
    assert_eq!(error.to_string(), "cannot write `/dev/full`; nothing was written");
    let draft = Destination::check(full, &[], false).unwrap().begin().unwrap();
    assert_eq!(write_document(draft).unwrap_err().kind(), io::ErrorKind::StorageFull);
}

#[test]
fn an_existing_file_is_overwritten_only_when_asked() {
    let folder = folder();
    let path = folder.path().join("labels.pdf");
    put(&path, "old");
    let error = Destination::check(&path, &[], false).unwrap_err();
    assert!(matches!(error, FileError::Exists { .. }));
    assert!(error.to_string().ends_with("labels.pdf` exists and is left alone"), "{error}");
    assert_eq!(get(&path), "old");
    write(&path, true, "new").unwrap();
    assert_eq!(get(&path), "new");
}

#[test]
fn a_file_that_appears_meanwhile_is_not_overwritten() {
    let folder = folder();
    let path = folder.path().join("labels.pdf");
    let mut draft = Destination::check(&path, &[], false).unwrap().begin().unwrap();
    draft.write_all(b"ours").unwrap();
    put(&path, "theirs");
    let error = publish(vec![draft]).unwrap_err();
    assert!(matches!(error.failure, FileError::Exists { .. }), "{error:?}");
    assert_eq!(get(&path), "theirs");
    assert_eq!(names(folder.path()), ["labels.pdf"]);
}

#[test]
fn a_run_that_stops_leaves_the_old_file() {
    let folder = folder();
    let path = folder.path().join("labels.pdf");
    put(&path, "old");
    let mut draft = Destination::check(&path, &[], true).unwrap().begin().unwrap();
    draft.write_all(b"half").unwrap();
    drop(draft);
    assert_eq!(get(&path), "old");
    assert_eq!(names(folder.path()), ["labels.pdf"]);
}

#[test]
fn an_input_is_never_the_output() {
    let folder = folder();
    let survey = folder.path().join("survey.csv");
    put(&survey, "enclosure");
    let link = folder.path().join("link.csv");
    symlink(&survey, &link).unwrap();
    let roundabout = folder.path().join(".").join("survey.csv");
    for output in [&survey, &link, &roundabout] {
        for input in [&survey, &link] {
            let error = Destination::check(output, &[input], true).unwrap_err();
            assert!(matches!(error, FileError::IsInput { .. }), "{error:?}");
        }
    }
}

#[test]
fn two_outputs_never_share_a_file() {
    let folder = folder();
    let path = folder.path().join("out.pdf");
    let link = folder.path().join("link.pdf");
    symlink(&path, &link).unwrap();
    let error = check_all(&[&path, &link], &[], false).unwrap_err();
    assert!(matches!(error, FileError::Twice { .. }), "{error:?}");
    assert_eq!(check_all(&[&path, Path::new("/dev/null"), Path::new("/dev/null")], &[], false).unwrap().len(), 3);
}

#[test]
fn a_link_stays_and_its_target_is_written() {
    let folder = folder();
    let real = folder.path().join("real.pdf");
    let link = folder.path().join("link.pdf");
    // The link leads to nothing yet, and is relative: it counts from its own folder.
    symlink("real.pdf", &link).unwrap();
    write(&link, false, "first").unwrap();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(get(&real), "first");
    assert!(matches!(Destination::check(&link, &[], false), Err(FileError::Exists { .. })));
    write(&link, true, "second").unwrap();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(get(&real), "second");
    let (one, other) = (folder.path().join("one"), folder.path().join("other"));
    symlink(&one, &other).unwrap();
    symlink(&other, &one).unwrap();
    assert!(matches!(Destination::check(&one, &[], true), Err(FileError::NoFolder { .. })));
}

#[test]
fn a_new_file_gets_the_usual_mode_and_a_replaced_one_keeps_its_own() {
    let folder = folder();
    let usual = folder.path().join("usual");
    put(&usual, "");
    let path = folder.path().join("labels.pdf");
    write(&path, false, "new").unwrap();
    assert_eq!(mode(&path), mode(&usual));
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
    write(&path, true, "newer").unwrap();
    assert_eq!((mode(&path), get(&path).as_str()), (0o640, "newer"));
}

#[test]
fn a_folder_that_refuses_is_named() {
    let folder = folder();
    let missing = folder.path().join("no such folder").join("labels.pdf");
    let error = Destination::check(&missing, &[], false).unwrap_err();
    assert!(error.to_string().ends_with("no such folder`"), "{error}");
    assert!(matches!(Destination::check(folder.path(), &[], true), Err(FileError::IsFolder { .. })));
    // Whoever may do everything is not stopped by a mode, so the folder here is one that nobody can write into.
    let proc = Path::new("/proc/self/labels.pdf");
    let error = Destination::check(proc, &[], false).unwrap().begin().unwrap_err();
    assert!(matches!(error, FileError::NoFolder { .. }), "{error:?}");
    assert!(std::error::Error::source(&error).is_some());
}

#[test]
fn a_read_only_folder_keeps_what_it_has() {
    let folder = folder();
    let path = folder.path().join("labels.pdf");
    put(&path, "old");
    fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o555)).unwrap();
    let written = write(&path, true, "new");
    fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o755)).unwrap();
    match written {
        Err(error) => {
            assert!(matches!(error.failure, FileError::NoFolder { .. }), "{error:?}");
            assert_eq!(get(&path), "old");
        }
        // An administrator is not stopped by the mode; then the whole new text is there.
        Ok(_) => assert_eq!(get(&path), "new"),
    }
}

#[test]
fn all_outputs_are_whole_before_the_first_takes_its_name() {
    let folder = folder();
    let [labels, schedule] = ["labels.pdf", "schedule.csv"].map(|name| folder.path().join(name));
    put(&labels, "old");
    let destinations = check_all(&[&labels, Path::new("/dev/full"), &schedule], &[], true).unwrap();
    let mut drafts: Vec<_> = destinations.into_iter().map(|destination| destination.begin().unwrap()).collect();
    drafts.iter_mut().for_each(|draft| draft.write_all(b"new").unwrap());
    let error = publish(drafts).unwrap_err();
    assert_eq!(error.published, []);
    assert_eq!(get(&labels), "old");
    assert_eq!(names(folder.path()), ["labels.pdf"]);
}

#[test]
fn what_is_in_place_is_said_when_a_later_output_fails() {
    let folder = folder();
    let [labels, schedule] = ["labels.pdf", "schedule.csv"].map(|name| folder.path().join(name));
    let destinations = check_all(&[&labels, &schedule], &[], false).unwrap();
    let mut drafts: Vec<_> = destinations.into_iter().map(|destination| destination.begin().unwrap()).collect();
    drafts.iter_mut().for_each(|draft| draft.write_all(b"new").unwrap());
    put(&schedule, "in the way");
    let error = publish(drafts).unwrap_err();
    assert_eq!(error.published, [Published { path: labels.clone() }]);
    assert!(error.to_string().contains("these are written: `") && error.to_string().contains("labels.pdf"), "{error}");
    assert_eq!((get(&labels).as_str(), get(&schedule).as_str()), ("new", "in the way"));
    assert_eq!(names(folder.path()), ["labels.pdf", "schedule.csv"]);
}

#[test]
fn reads_are_limited_and_name_the_file() {
    let folder = folder();
    let path = folder.path().join("survey.csv");
    put(&path, "12345");
    assert_eq!(files::read(&path, 5).unwrap(), b"12345");
    let error = files::read(&path, 4).unwrap_err();
    assert!(error.to_string().ends_with("survey.csv` is larger than 4 bytes, the most that is accepted"), "{error}");
    // A device without end is stopped at the limit.
    assert!(matches!(files::read(Path::new("/dev/zero"), 1_000), Err(FileError::TooLarge { limit: 1_000, .. })));
    assert!(matches!(files::read(folder.path(), 10), Err(FileError::IsFolder { .. })));
    let error = files::read(&folder.path().join("none.csv"), 10).unwrap_err();
    assert!(std::error::Error::source(&error).unwrap().to_string().contains("No such file"), "{error:?}");
}

/// Where the child of the next test writes.
const CHILD: &str = "NOTICEWRIGHT_TEST_CHILD";

/// Not a test by itself: the process that the next one kills in the middle of writing.
#[test]
fn child_that_writes_until_it_is_killed() {
    let Some(path) = std::env::var_os(CHILD).map(PathBuf::from) else { return };
    let mut draft = Destination::check(&path, &[], true).unwrap().begin().unwrap();
    loop {
        draft.write_all(&[b'x'; 4_096]).unwrap();
        draft.flush().unwrap();
        std::thread::sleep(std::time::Duration::from_millis(1));
    }
}

#[test]
fn a_kill_leaves_the_old_file_and_a_leftover_that_tells_its_name() {
    let folder = folder();
    let path = folder.path().join("labels.pdf");
    put(&path, "old");
    let mut child = std::process::Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "child_that_writes_until_it_is_killed", "--nocapture"])
        .env(CHILD, &path)
        .stdout(std::process::Stdio::null())
        .spawn()
        .unwrap();
    while names(folder.path()).len() < 2 {
        assert!(child.try_wait().unwrap().is_none(), "the child ended by itself");
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    child.kill().unwrap();
    child.wait().unwrap();
    let left = names(folder.path());
    assert_eq!(get(&path), "old");
    assert!(left[0].starts_with(".noticewright-labels.pdf-") && left[0].ends_with(".part"), "{left:?}");
    // A leftover is harmless: the next run takes no notice of it.
    write(&path, true, "new").unwrap();
    assert_eq!(get(&path), "new");
}
