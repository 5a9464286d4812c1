//! A journal on a disk that fails at any step, and among files that are none.

use std::io::Write as _;

use super::*;
use crate::records::{self, Entry, Event};
use crate::standing::Date;

/// A disk that fails at its n-th operation, once or ever after, takes so many bytes at a time, and forgets what was not
/// synced when the power goes.
#[derive(Clone, Debug)]
struct Disk {
    bytes: Vec<u8>,
    /// What a power cut leaves at least.
    lasting: Vec<u8>,
    position: usize,
    done: usize,
    fails_at: usize,
    ever_after: bool,
    at_once: usize,
}

impl Disk {
    fn holding(bytes: &[u8], at_once: usize) -> Self {
        let (bytes, lasting) = (bytes.to_vec(), bytes.to_vec());
        Self { bytes, lasting, position: 0, done: 0, fails_at: usize::MAX, ever_after: false, at_once }
    }

    /// Counts an operation, and says whether it fails.
    fn step(&mut self) -> io::Result<()> {
        self.done += 1;
        let fails = self.done == self.fails_at || (self.ever_after && self.done > self.fails_at);
        if fails { Err(io::Error::from(io::ErrorKind::StorageFull)) } else { Ok(()) }
    }

    fn put(&mut self, bytes: &[u8]) {
        self.bytes.resize(self.bytes.len().max(self.position + bytes.len()), 0);
        self.bytes[self.position..self.position + bytes.len()].copy_from_slice(bytes);
        self.position += bytes.len();
    }
}

impl Write for Disk {
    /// A write that fails may have written some of it.
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let taken = bytes.len().min(self.at_once);
        let step = self.step();
        let written = if step.is_err() { taken / 2 } else { taken };
        self.put(&bytes[..written]);
        step.map(|()| taken)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.step()
    }
}

impl Seek for Disk {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.step()?;
        let SeekFrom::Start(place) = to else { panic!("only from the start") };
        self.position = usize::try_from(place).unwrap();
        Ok(place)
    }
}

impl Medium for Disk {
    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.step()?;
        self.bytes.resize(usize::try_from(length).unwrap(), 0);
        Ok(())
    }

    fn sync(&mut self) -> io::Result<()> {
        self.step()?;
        self.lasting.clone_from(&self.bytes);
        Ok(())
    }
}

fn entry(number: usize) -> Entry {
    let date = Date::parse("2026-11-25").unwrap();
    Entry {
        note: "kept, ".repeat(number % 5).trim_end().to_owned(),
        ..Entry::new(date, Event::Fixed, format!("CH3-JB{number}/1"))
    }
}

/// Adds entries as a command does: by what is read.
fn append(disk: &mut Disk, entries: &[Entry]) -> io::Result<()> {
    let reading = records::read(&disk.bytes, "records.csv");
    let lines: String = entries.iter().map(records::line::written).collect();
    let text = reading.before_next + &lines;
    add(disk, disk.bytes.len() as u64, reading.complete, text.as_bytes())
}

fn entries(bytes: &[u8]) -> Vec<Entry> {
    let reading = records::read(bytes, "records.csv");
    let torn = |finding: &crate::finding::Finding| finding.code == crate::finding::code::RECORD_LINE_TORN;
    assert!(reading.findings.iter().all(torn), "{:?}", reading.findings);
    reading.entries
}

/// What a record may hold before: nothing, entries, a last line that was cut off, one whose line end was taken away.
fn before() -> Vec<(Vec<u8>, Vec<Entry>)> {
    let mut whole = Disk::holding(&[], usize::MAX);
    append(&mut whole, &[entry(1), entry(2)]).unwrap();
    let whole = whole.bytes;
    let torn = [&whole[..], &records::line::written(&entry(3)).as_bytes()[..40]].concat();
    let power_cut = [&torn[..], &[0; 90]].concat();
    let kept = vec![entry(1), entry(2)];
    vec![
        (Vec::new(), Vec::new()),
        (whole[..20].to_vec(), Vec::new()),
        (whole[..whole.len() - 1].to_vec(), kept.clone()),
        (whole, kept.clone()),
        (torn, kept.clone()),
        (power_cut, kept),
    ]
}

/// After a failure: what was kept is kept, what was not acknowledged is there by whole entries or not at all, and the next
/// command works.
fn must_bear(bytes: &[u8], kept: &[Entry], added: &[Entry], what: &str) {
    let found = entries(bytes);
    assert!(found.starts_with(kept), "{what}: {found:?}");
    assert!(added.starts_with(&found[kept.len()..]), "{what}: {found:?}");
    let mut next = Disk::holding(bytes, usize::MAX);
    append(&mut next, &[entry(9)]).unwrap();
    let all = [&found[..], &[entry(9)]].concat();
    assert_eq!(entries(&next.bytes), all, "{what}");
    assert_eq!(records::read(&next.bytes, "records.csv").findings, [], "{what}");
}

#[test]
fn a_disk_that_fails_at_any_step_loses_nothing_that_was_kept() {
    let added = [entry(4), entry(5)];
    let mut failures = 0;
    for ((bytes, kept), at_once, ever_after) in before()
        .into_iter()
        .flat_map(|before| [7, 64, usize::MAX].map(|at_once| (before.clone(), at_once)))
        .flat_map(|(before, at_once)| [false, true].map(|ever_after| (before.clone(), at_once, ever_after)))
    {
        for fails_at in 1.. {
            let mut disk = Disk { fails_at, ever_after, ..Disk::holding(&bytes, at_once) };
            let what =
                format!("{} bytes, {at_once} at once, failing at {fails_at}, ever after: {ever_after}", bytes.len());
            if append(&mut disk, &added).is_ok() {
                assert_eq!(entries(&disk.bytes), [&kept[..], &added].concat(), "{what}");
                assert_eq!(disk.lasting, disk.bytes, "{what}: acknowledged before it was lasting");
                assert!(disk.done < fails_at, "{what}: a failure was passed over");
                break;
            }
            failures += 1;
            must_bear(&disk.bytes, &kept, &added, &what);
            if !ever_after {
                assert_eq!(entries(&disk.bytes), kept, "{what}: all or none");
            }
        }
    }
    assert!(failures > 300, "only {failures} failures were tried");
}

#[test]
fn a_power_cut_at_any_step_loses_nothing_that_was_kept() {
    let added = [entry(4), entry(5)];
    for (bytes, kept) in before() {
        for fails_at in 1.. {
            let mut disk = Disk { fails_at, ever_after: true, ..Disk::holding(&bytes, 16) };
            let passed = append(&mut disk, &added).is_ok();
            // Nothing, all, or only the new length of what was not synced reached the disk; or its first part.
            let mut hollow = disk.bytes.clone();
            let same = hollow.iter().zip(&disk.lasting).take_while(|(new, old)| new == old).count();
            hollow[same..].fill(0);
            let mut partly = hollow.clone();
            let half = same + (hollow.len() - same) / 2;
            partly[same..half].copy_from_slice(&disk.bytes[same..half]);
            for (left, what) in
                [(&disk.lasting, "nothing"), (&disk.bytes, "all"), (&hollow, "the length"), (&partly, "a part")]
            {
                must_bear(left, &kept, &added, &format!("{} bytes, cut at {fails_at}, {what} of it", bytes.len()));
            }
            if passed {
                assert_eq!(entries(&disk.lasting), [&kept[..], &added].concat());
                break;
            }
        }
    }
}

#[test]
fn only_a_plain_file_is_a_journal() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    assert!(matches!(Journal::open(folder.path()), Err(FileError::IsFolder { .. })));
    assert!(matches!(look(folder.path(), 9), Err(FileError::IsFolder { .. })));
    assert!(matches!(Journal::open(&at("none/records.csv")), Err(FileError::NoFolder { .. })));
    assert!(matches!(look(&at("none/records.csv"), 9), Ok(None)));
    let mut journal = Journal::open(&at("records.csv")).unwrap();
    assert!(matches!(journal.append(5, b"behind nothing"), Err(FileError::Write { .. })));
    journal.append(0, b"first").unwrap();
    journal.append(5, b" second").unwrap();
    assert_eq!(journal.read(99).unwrap(), b"first second");
    assert!(matches!(journal.read(11), Err(FileError::TooLarge { limit: 11, .. })));
    drop(journal);
    assert_eq!(look(&at("records.csv"), 99).unwrap().unwrap(), b"first second");
}

#[test]
fn what_another_program_did_meanwhile_is_never_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("records.csv");
    Journal::open(&path).unwrap().append(0, b"first").unwrap();
    let mut journal = Journal::open(&path).unwrap();
    journal.read(99).unwrap();
    OpenOptions::new().append(true).open(&path).unwrap().write_all(b" and more").unwrap();
    let refused = journal.append(5, b" lost").unwrap_err();
    assert!(matches!(refused, FileError::Write { .. }), "{refused:?}");
    assert_eq!(journal.read(99).unwrap(), b"first and more");
    // Saved beside and renamed, as editors do.
    let other = folder.path().join("other");
    Journal::open(&other).unwrap().append(0, b"edited").unwrap();
    std::fs::rename(&other, &path).unwrap();
    if cfg!(unix) {
        assert!(matches!(journal.append(14, b" lost"), Err(FileError::Write { .. })));
    }
    drop(journal);
    assert_eq!(look(&path, 99).unwrap().unwrap(), b"edited");
}

#[cfg(unix)]
mod on_unix {
    use std::os::unix::fs::{PermissionsExt as _, symlink};

    use super::*;

    fn mode(path: &Path) -> u32 {
        path.metadata().unwrap().permissions().mode() & 0o777
    }

    #[test]
    fn a_link_is_followed_and_stays() {
        let folder = tempfile::tempdir().unwrap();
        let (real, link) = (folder.path().join("real.csv"), folder.path().join("link.csv"));
        symlink("real.csv", &link).unwrap();
        assert!(matches!(look(&link, 9), Ok(None)), "it leads nowhere yet");
        Journal::open(&link).unwrap().append(0, b"first").unwrap();
        assert!(link.is_symlink() && !real.is_symlink());
        assert_eq!(look(&real, 9).unwrap().unwrap(), b"first");
    }

    #[test]
    fn a_device_is_no_journal() {
        for refused in [Journal::open(Path::new("/dev/null")).err(), look(Path::new("/dev/zero"), 9).err()] {
            let source = std::error::Error::source(refused.as_ref().unwrap()).unwrap().to_string();
            assert_eq!(source, "it is no plain file");
        }
    }

    #[test]
    fn a_new_file_follows_the_umask_and_an_old_one_keeps_its_mode() {
        let folder = tempfile::tempdir().unwrap();
        let (beside, path) = (folder.path().join("beside"), folder.path().join("records.csv"));
        #[expect(clippy::disallowed_methods, reason = "a file for the test")]
        std::fs::write(&beside, "").unwrap();
        Journal::open(&path).unwrap().append(0, b"first").unwrap();
        assert_eq!(mode(&path), mode(&beside));
        std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o640)).unwrap();
        Journal::open(&path).unwrap().append(5, b" second").unwrap();
        assert_eq!((mode(&path), look(&path, 99).unwrap().unwrap().len()), (0o640, 12));
    }

    #[test]
    fn what_may_not_be_written_is_refused_and_may_be_read() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("records.csv");
        Journal::open(&path).unwrap().append(0, b"first").unwrap();
        std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o400)).unwrap();
        if OpenOptions::new().write(true).open(&path).is_ok() {
            eprintln!("SKIPPED: whoever runs this may write to everything");
            return;
        }
        assert!(matches!(Journal::open(&path), Err(FileError::Write { .. })));
        assert_eq!(look(&path, 9).unwrap().unwrap(), b"first");
        std::fs::set_permissions(folder.path(), std::fs::Permissions::from_mode(0o500)).unwrap();
        let refused = Journal::open(&folder.path().join("new.csv"));
        assert!(matches!(refused, Err(FileError::NoFolder { .. })));
    }
}
