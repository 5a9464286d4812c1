//! One case: a folder with a command, what it starts from, and what is expected of it.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::left::contents;

/// What a case starts from unless it has a folder `in` of its own.
const USUAL_SITE: &str = "usual-site";

/// Keys of the JSON report whose values follow from layout, wording or version, which other tests hold.
const NOT_HELD_HERE: [&str; 8] =
    ["fingerprint", "letter_height_mm", "sign_height_mm", "size_mm", "bytes", "because", "text", "tool"];

/// A case of the folder `tests/commands`.
pub(crate) struct Case {
    folder: PathBuf,
}

/// What the commands of a case did.
pub(crate) struct Outcome {
    files: BTreeMap<&'static str, String>,
}

/// The program, without the settings of whoever runs the tests.
pub(crate) fn noticewright() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_noticewright"));
    command.env_remove("NO_COLOR").env("COLUMNS", "100").env("TERM", "xterm").stdin(Stdio::null());
    // The day of a run is 2028-01-01, whatever the clock says.
    command.env("SOURCE_DATE_EPOCH", "1830297600");
    command
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/commands")
}

impl Case {
    /// All cases, by name.
    pub(crate) fn all() -> Vec<Self> {
        let folders = fs::read_dir(root()).unwrap().map(|entry| entry.unwrap().path());
        let mut folders: Vec<_> = folders.filter(|path| path.join("command").is_file()).collect();
        folders.sort();
        folders.into_iter().map(|folder| Self { folder }).collect()
    }

    /// The command lines, split as a shell would; lines that begin with `#` say what the case shows.
    fn commands(&self) -> Vec<Vec<String>> {
        let text = fs::read_to_string(self.folder.join("command")).unwrap();
        let lines = text.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty());
        let commands: Vec<_> = lines.map(split).collect();
        let ours = commands.iter().all(|words| words.first().is_some_and(|word| word == "noticewright"));
        assert!(ours && !commands.is_empty(), "{}: a command begins with `noticewright`", self.folder.display());
        commands
    }

    /// Every word typed, options without their values.
    pub(crate) fn words(&self) -> Vec<String> {
        let words = self.commands().into_iter().flatten();
        words.map(|word| word.split('=').next().unwrap_or_default().to_owned()).collect()
    }

    /// The exit codes expected.
    pub(crate) fn expected_exits(&self) -> Vec<String> {
        let end = self.expected("end");
        end.lines().filter_map(|line| line.strip_prefix("exit ")).map(str::to_owned).collect()
    }

    /// Runs the commands one after the other in a folder of their own.
    pub(crate) fn run(&self) -> Outcome {
        let place = tempfile::tempdir().unwrap();
        let own = self.folder.join("in");
        copy(&if own.is_dir() { own } else { root().join(USUAL_SITE) }, place.path());
        let before = contents(place.path());
        let (mut stdout, mut stderr, mut end) = (String::new(), String::new(), String::new());
        for words in self.commands() {
            let mut command = noticewright();
            command.current_dir(place.path());
            let mut words = words[1..].iter();
            while let Some(word) = words.next() {
                if word == "<" {
                    command.stdin(fs::File::open(place.path().join(words.next().unwrap())).unwrap());
                } else {
                    command.arg(word);
                }
            }
            let output = command.output().unwrap();
            stdout.push_str(&readable(&output.stdout));
            stderr.push_str(&readable(&output.stderr));
            end.push_str(&format!(
                "exit {}\n",
                output.status.code().map_or("by a signal".into(), |code| code.to_string())
            ));
        }
        end.push_str(&changes(&before, &contents(place.path())));
        Outcome { files: BTreeMap::from([("stdout", stdout), ("stderr", stderr), ("end", end)]) }
    }

    /// What is not as expected; with `update`, expectations are written anew instead.
    pub(crate) fn differences(&self, outcome: &Outcome, update: bool) -> Vec<String> {
        let mut wrong = Vec::new();
        for (name, actual) in &outcome.files {
            let expected = self.expected(name);
            if matches(&expected, actual) {
                continue;
            }
            let path = self.folder.join(name);
            if !update {
                let case = self.folder.file_name().unwrap().to_string_lossy();
                wrong.push(format!("---- {case}/{name} expected\n{expected}---- {case}/{name} now\n{actual}"));
            } else if actual.is_empty() {
                fs::remove_file(path).unwrap();
            } else {
                fs::write(path, actual).unwrap();
            }
        }
        wrong
    }

    /// An expectation that is not there expects nothing.
    fn expected(&self, name: &str) -> String {
        fs::read_to_string(self.folder.join(name)).unwrap_or_default()
    }
}

/// Words by blanks; single and double quotation marks hold words together.
fn split(line: &str) -> Vec<String> {
    let mut words = Vec::new();
    let (mut word, mut quote, mut begun) = (String::new(), None, false);
    for c in line.chars() {
        match (c, quote) {
            (c, Some(mark)) if c == mark => quote = None,
            ('\'' | '"', None) => (quote, begun) = (Some(c), true),
            (' ', None) if begun => (words.push(std::mem::take(&mut word)), begun = false).0,
            (' ', None) => {}
            (c, _) => (word.push(c), begun = true).0,
        }
    }
    assert!(quote.is_none(), "a quotation mark is not closed: {line}");
    words.extend(begun.then_some(word));
    words
}

/// Text as it came, a PDF as what it is, and JSON without the values that are not held here.
fn readable(bytes: &[u8]) -> String {
    if bytes.starts_with(b"%PDF-") {
        return "(a PDF)\n".to_owned();
    }
    let text = String::from_utf8(bytes.to_vec()).unwrap();
    let text = text.replace(env!("CARGO_PKG_VERSION"), "[VERSION]");
    if !text.starts_with('{') {
        return text;
    }
    let mut report: serde_json::Value = serde_json::from_str(&text).unwrap();
    blank(&mut report);
    serde_json::to_string_pretty(&report).unwrap() + "\n"
}

fn blank(value: &mut serde_json::Value) {
    match value {
        serde_json::Value::Object(members) => {
            for (key, member) in members {
                let held = !NOT_HELD_HERE.contains(&key.as_str()) || member.is_null();
                if held { blank(member) } else { *member = "[..]".into() }
            }
        }
        serde_json::Value::Array(items) => items.iter_mut().for_each(blank),
        serde_json::Value::Null
        | serde_json::Value::Bool(_)
        | serde_json::Value::Number(_)
        | serde_json::Value::String(_) => {}
    }
}

/// Line by line; a line `...` stands for any number of lines.
fn matches(expected: &str, actual: &str) -> bool {
    fn lines(expected: &[&str], actual: &[&str]) -> bool {
        match expected {
            [] => actual.is_empty(),
            ["...", rest @ ..] => (0..=actual.len()).any(|skipped| lines(rest, &actual[skipped..])),
            [line, rest @ ..] => actual.first() == Some(line) && lines(rest, &actual[1..]),
        }
    }
    let split = |text: &str| -> Vec<String> { text.split('\n').map(str::to_owned).collect() };
    let (expected, actual) = (split(expected), split(actual));
    lines(
        &expected.iter().map(String::as_str).collect::<Vec<_>>(),
        &actual.iter().map(String::as_str).collect::<Vec<_>>(),
    )
}

fn copy(from: &Path, to: &Path) {
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            fs::create_dir(&target).unwrap();
            copy(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}

fn changes(before: &BTreeMap<String, Vec<u8>>, after: &BTreeMap<String, Vec<u8>>) -> String {
    let mut said = String::new();
    for (name, bytes) in after {
        let kind = if bytes.starts_with(b"%PDF-") { " (a PDF)" } else { "" };
        match before.get(name) {
            Some(old) if old == bytes => {}
            Some(_) => said.push_str(&format!("replaced {name}{kind}\n")),
            None => said.push_str(&format!("written {name}{kind}\n")),
        }
    }
    let lost = before.keys().filter(|name| !after.contains_key(*name));
    lost.for_each(|name| said.push_str(&format!("lost {name}\n")));
    if said.is_empty() { "nothing written\n".to_owned() } else { said }
}
