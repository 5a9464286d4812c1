//! A small site with every kind of file, and the built program in it.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

pub(crate) const SURVEY: &str = "enclosure,area,circuit,voltage_to_earth,isolator,isolator_location,poles,locking\n\
                                 CH1,Chamber 1,DB/1,400,Q1,Room 1,3+N,padlock\n\
                                 CH1,Chamber 1,DB/2,400,Q1,Room 1,3+N,padlock\n";

const OLDER: &str = "enclosure,area,circuit,voltage_to_earth,isolator,isolator_location,poles,locking\n\
                     CH1,Chamber 1,DB/1,400,Q7,Room 1,3+N,padlock\n";

const JOB: &str =
    "[job]\nsite = \"Saltmere cold store\"\nrevision = \"A\"\ndate = \"2026-11-24\"\nrecords = \"records.csv\"\n";

/// The program, without the settings of whoever runs the tests; the day of a run is 2028-01-01.
pub(crate) fn noticewright(folder: &Path, words: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_noticewright"));
    set(command.args(words), folder);
    command
}

/// The same settings for a program that starts ours.
pub(crate) fn set(command: &mut Command, folder: &Path) {
    command.current_dir(folder).stdin(Stdio::null()).env_remove("NO_COLOR");
    command.env("COLUMNS", "100").env("SOURCE_DATE_EPOCH", "1830297600");
}

/// A folder with a survey, an older one, a job file, and a record in which the notices were printed and one was fixed.
pub(crate) fn site() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    fs::create_dir(at("before")).unwrap();
    fs::write(at("survey.csv"), SURVEY).unwrap();
    fs::write(at("before/survey.csv"), OLDER).unwrap();
    fs::write(at("job.toml"), JOB).unwrap();
    for words in [
        &["labels", "survey.csv", "-o", "first.pdf", "--record", "--date", "2026-11-24"][..],
        &["records", "fixed", "CH1/1", "--date", "2026-11-25"],
    ] {
        let output = noticewright(folder.path(), words).output().unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    }
    folder
}

/// Every file below a folder, hidden ones too.
pub(crate) fn contents(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = crate::left::contents(folder);
    found.retain(|name, _| !name.ends_with('/'));
    found
}

/// Makes the files of a folder these and no others.
pub(crate) fn restore(folder: &Path, files: &BTreeMap<String, Vec<u8>>) {
    for name in contents(folder).keys().filter(|name| !files.contains_key(*name)) {
        fs::remove_file(folder.join(name)).unwrap();
    }
    for (name, bytes) in files {
        let path = folder.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }
}
