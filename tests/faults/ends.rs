//! What a run reads from and writes to when that is no plain file of its own: links, pipes, devices, what changes meanwhile.

use std::fs;
use std::io::{Read as _, Write as _};
use std::os::unix::fs::{PermissionsExt as _, symlink};
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};

use noticewright::files::{self, Destination, FileError};

use crate::site::{SURVEY, noticewright, site};

fn run(folder: &Path, words: &[&str]) -> Output {
    noticewright(folder, words).output().unwrap()
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// A shell that runs a script in a folder; `$0` is the program.
fn shell(folder: &Path, script: &str) -> Output {
    let mut command = Command::new("sh");
    command.args(["-c", script, env!("CARGO_BIN_EXE_noticewright")]);
    crate::site::set(&mut command, folder);
    command.output().unwrap()
}

#[test]
fn a_write_protected_file_is_left_alone_even_by_force() {
    let site = site();
    let path = site.path().join("kept.pdf");
    fs::write(&path, "approved").unwrap();
    fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).unwrap();
    let output = run(site.path(), &["labels", "survey.csv", "-o", "kept.pdf", "--force", "--quiet"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(said(&output).contains("error: `kept.pdf` is write-protected and is left alone"), "{}", said(&output));
    let pages = site.path().join("pages/CH1/1");
    fs::create_dir_all(&pages).unwrap();
    fs::copy(&path, pages.join("index.html")).unwrap();
    let output = run(site.path(), &["records", "pages", "survey.csv", "-o", "pages", "--force", "--quiet"]);
    assert!(said(&output).contains("index.html` is write-protected"), "{}", said(&output));
    assert_eq!(
        (fs::read(&path).unwrap(), fs::read(pages.join("index.html")).unwrap()),
        (b"approved".into(), b"approved".into())
    );
    assert!(!site.path().join("pages/index.html").exists(), "looked at before anything was written");
}

#[test]
fn nothing_that_is_read_is_written_over_by_any_command() {
    let site = site();
    let standing = "number,kind\nSTN-1,rcd-test\n";
    fs::write(site.path().join("standing.csv"), standing).unwrap();
    for (words, output) in [
        (&["why", "survey.csv", "CH1", "--svg"][..], "records.csv"),
        (&["why", "survey.csv", "CH1", "--standing", "standing.csv", "--svg"], "standing.csv"),
        (&["why", "survey.csv", "CH1", "--svg"], "survey.csv"),
        (&["why", "survey.csv", "CH1", "--svg"], "job.toml"),
        (&["records", "due", "-o"], "records.csv"),
        (&["schedule", "survey.csv", "-o"], "records.csv"),
        (&["changes", "before/survey.csv", "survey.csv", "-o"], "before/survey.csv"),
    ] {
        let before = fs::read(site.path().join(output)).unwrap();
        let ran = run(site.path(), &[words, &[output, "--force"]].concat());
        assert_eq!(ran.status.code(), Some(2), "{words:?} {}", said(&ran));
        assert!(said(&ran).contains("is read by this run and cannot be its output"), "{words:?} {}", said(&ran));
        assert_eq!(fs::read(site.path().join(output)).unwrap(), before, "{words:?}");
    }
}

#[test]
fn a_hard_link_of_the_survey_is_parted_from_it_and_the_survey_stays() {
    let site = site();
    fs::hard_link(site.path().join("survey.csv"), site.path().join("hard.pdf")).unwrap();
    assert_eq!(run(site.path(), &["labels", "survey.csv", "-o", "hard.pdf"]).status.code(), Some(2));
    assert_eq!(run(site.path(), &["labels", "survey.csv", "-o", "hard.pdf", "--force"]).status.code(), Some(0));
    assert_eq!(fs::read_to_string(site.path().join("survey.csv")).unwrap(), SURVEY);
    assert!(fs::read(site.path().join("hard.pdf")).unwrap().starts_with(b"%PDF-"));
}

#[test]
fn the_document_never_takes_the_name_of_a_drawing() {
    let site = site();
    fs::create_dir(site.path().join("d")).unwrap();
    for (folder, name) in [("--svg", "d/CH1_1.svg"), ("--png", "d/CH1_1.png")] {
        let words = ["labels", "survey.csv", "-o", name, folder, "d", "--sheet", "roll-a7-203", "--force"];
        let output = run(site.path(), &words);
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        assert!(said(&output).contains("does not say that it is to be a PDF"), "{}", said(&output));
        assert!(!site.path().join(name).exists());
    }
}

#[test]
fn pipes_and_devices_are_read_and_written_as_they_are() {
    let site = site();
    let whole = run(site.path(), &["labels", "survey.csv", "-o", "-"]).stdout;
    for script in [
        "\"$0\" labels survey.csv -o /dev/stdout --quiet | cat",
        "mkfifo in.csv; cat survey.csv >in.csv & \"$0\" labels in.csv -o - --quiet",
        "mkfifo out.pdf; cat out.pdf & \"$0\" labels survey.csv -o out.pdf --quiet; wait",
        "\"$0\" labels - --job job.toml -o - --quiet <survey.csv",
    ] {
        let output = shell(site.path(), script);
        assert!(output.stdout == whole, "{script}: {} bytes, {}", output.stdout.len(), said(&output));
    }
    fs::write(site.path().join("small.toml"), "[limits]\nfile_bytes = 100000\n").unwrap();
    for (input, told) in [
        ("/dev/zero", "is larger than 100000 bytes, the most that is accepted"),
        (".", "is a folder, and a file is needed"),
    ] {
        let output = run(site.path(), &["check", input, "--job", "small.toml"]);
        assert_eq!((output.status.code(), said(&output).contains(told)), (Some(2), true), "{}", said(&output));
    }
    let output =
        shell(site.path(), "mkfifo gone.pdf; head -c 1 gone.pdf >/dev/null & \"$0\" labels survey.csv -o gone.pdf");
    assert!(output.status.code() == Some(0) || said(&output).contains("cannot write `gone.pdf`: Broken pipe"));
}

#[test]
fn a_reader_that_goes_away_is_no_mistake_unless_more_was_to_be_made() {
    let site = site();
    let gone = |more: &str| {
        let script = format!("(sleep 0.2; \"$0\" labels survey.csv -o - {more} --quiet; echo $? >&2) | true");
        said(&shell(site.path(), &script))
    };
    assert!(gone("").ends_with("\n0\n") || gone("").trim() == "0", "{}", gone(""));
    let record = fs::read(site.path().join("records.csv")).unwrap();
    for more in ["--texts texts.csv", "--svg drawings", "--record --date 2026-12-01"] {
        let said = gone(more);
        assert!(said.contains("whoever read standard output went away") && said.ends_with("2\n"), "{more}: {said}");
    }
    assert!(!site.path().join("texts.csv").exists());
    assert_eq!(fs::read(site.path().join("records.csv")).unwrap(), record, "recorded, and nobody has it");
}

#[test]
fn messages_that_nobody_can_read_change_nothing() {
    let site = site();
    for (script, code) in [
        ("\"$0\" labels survey.csv -o one.pdf 2>/dev/full", 0),
        ("\"$0\" labels survey.csv -o two.pdf 2>&-", 0),
        ("\"$0\" check survey.csv >/dev/full 2>/dev/full", 2),
        ("\"$0\" labels none.csv -o three.pdf 2>/dev/full", 2),
        ("\"$0\" --help >/dev/full", 2),
        ("\"$0\" man >/dev/full", 2),
        ("\"$0\" completions bash >/dev/full", 2),
    ] {
        assert_eq!(shell(site.path(), script).status.code(), Some(code), "{script}");
    }
    assert_eq!(fs::read(site.path().join("one.pdf")).unwrap(), fs::read(site.path().join("two.pdf")).unwrap());
    // A person who closes the window of messages.
    let mut child =
        noticewright(site.path(), &["labels", "survey.csv", "-o", "four.pdf"]).stderr(Stdio::piped()).spawn().unwrap();
    drop(child.stderr.take());
    assert!(child.wait().unwrap().success());
}

#[test]
fn new_files_obey_the_umask() {
    let site = site();
    let output = shell(site.path(), "umask 077; \"$0\" labels survey.csv -o own.pdf --svg drawings --quiet");
    assert!(output.status.success(), "{}", said(&output));
    let mode = |name: &str| fs::metadata(site.path().join(name)).unwrap().permissions().mode() & 0o777;
    assert_eq!((mode("own.pdf"), mode("drawings"), mode("drawings/CH1_1.svg")), (0o600, 0o700, 0o600));
}

#[test]
fn a_link_to_nowhere_is_followed_only_into_a_folder_that_is_there() {
    let site = site();
    symlink("nowhere/else.pdf", site.path().join("link.pdf")).unwrap();
    let output = run(site.path(), &["labels", "survey.csv", "-o", "link.pdf", "--force", "--quiet"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(said(&output).contains("cannot write into the folder `./nowhere`"), "{}", said(&output));
}

/// Half a survey that is being saved would look like a whole one.
#[test]
fn a_file_that_is_written_to_while_it_is_read_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("survey.csv");
    fs::write(&path, vec![b'x'; 4 << 20]).unwrap();
    assert_eq!(files::read(&path, 1 << 30).unwrap().len(), 4 << 20);
    let ended = AtomicBool::new(false);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            let mut file = fs::File::options().append(true).open(&path).unwrap();
            while !ended.load(Ordering::Relaxed) {
                file.write_all(b"y").unwrap();
            }
        });
        while path.metadata().unwrap().len() == 4 << 20 {}
        // Where the machine is busy, nobody may write during one look.
        let error = (0..10_000).find_map(|_| files::read(&path, 1 << 30).err());
        ended.store(true, Ordering::Relaxed);
        let error = error.unwrap();
        assert!(matches!(error, FileError::Changing { .. }), "{error:?}");
        assert!(error.to_string().ends_with("survey.csv` was written to while it was read"), "{error}");
    });
    let mut file = fs::File::open(&path).unwrap();
    assert!(file.read(&mut [0; 8]).is_ok());
}

#[test]
fn a_whole_disk_is_never_an_output() {
    let disks = fs::read_dir("/sys/class/block").into_iter().flatten().flatten();
    let disk = disks.map(|entry| Path::new("/dev").join(entry.file_name())).find(|path| path.exists());
    let Some(disk) = disk else {
        eprintln!("SKIPPED: this machine shows no disk, so nobody tried to write over one");
        return;
    };
    let error = Destination::check(&disk, &[], true).unwrap_err();
    assert!(matches!(error, FileError::Write { .. }), "{error:?}");
}

/// A disk that is really full, in a space of our own where that is allowed.
#[test]
fn on_a_full_disk_nothing_is_half_written() {
    let site = site();
    fs::create_dir(site.path().join("small")).unwrap();
    let words = "labels survey.csv -o small/n.pdf --texts small/t.csv --svg small/drawings --quiet";
    for room in [8, 40, 64, 100] {
        let script = format!(
            "mount -t tmpfs -o size={room}k none small || exit 77\n\"$0\" {words}\necho \"exit $?\"; cd small; find . -type f -exec sha256sum {{}} +"
        );
        let mut command = Command::new("unshare");
        command.args(["-rm", "sh", "-c", &script, env!("CARGO_BIN_EXE_noticewright")]);
        crate::site::set(&mut command, site.path());
        let Some(output) = command.output().ok().filter(|output| output.stdout.starts_with(b"exit")) else {
            eprintln!("SKIPPED: no space of our own may be made here, so nobody filled a disk");
            return;
        };
        let whole =
            shell(site.path(), &format!("\"$0\" {words} --force; cd small; find . -type f -exec sha256sum {{}} +"));
        let whole = String::from_utf8(whole.stdout).unwrap();
        let found = String::from_utf8(output.stdout.clone()).unwrap();
        assert!(found.starts_with("exit 2\n"), "{room}: {found}");
        assert!(said(&output).contains("No space left on device"), "{}", said(&output));
        for line in found.lines().skip(1) {
            assert!(whole.lines().any(|one| one == line), "{room}: half written: {line}\n{whole}");
        }
    }
}
