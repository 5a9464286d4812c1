//! The tree keeps its own promises: layers, headers, lengths, findings that are provoked, a README that says all.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and reads the tree by itself"
)]

use std::fs;
use std::path::{Path, PathBuf};

/// The stages in the order in which a survey flows to paper: each may use only what stands before it.
const STAGES: [&str; 29] = [
    "length",
    "limits",
    "relay",
    "finding",
    "drawing",
    "table",
    "survey",
    "supplies",
    "standing",
    "network",
    "rules",
    "wording",
    "notice",
    "typesetting",
    "material",
    "sheets",
    "writers",
    "reading_back",
    "diagram",
    "pages",
    "prepared",
    "approval",
    "schedule",
    "cards",
    "fixing",
    "records",
    "files",
    "job",
    "cli",
];

/// Lines of one source file, tests not counted.
const LONGEST_FILE: usize = 500;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn files_below(folder: &Path, ending: &str, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files_below(&path, ending, found);
        } else if path.extension().or(path.file_name()).is_some_and(|extension| extension == ending) {
            found.push(path);
        }
    }
}

fn sources() -> Vec<(PathBuf, String)> {
    let mut paths = Vec::new();
    files_below(&root().join("src"), "rs", &mut paths);
    paths.sort();
    assert!(paths.len() > 20, "the sources were not found");
    paths.into_iter().map(|path| (path.clone(), fs::read_to_string(path).unwrap())).collect()
}

fn is_test_file(path: &Path) -> bool {
    path.file_name().is_some_and(|name| name == "tests.rs") || path.iter().any(|part| part == "tests")
}

/// The lines before the module of unit tests.
fn without_tests(text: &str) -> &str {
    text.split("#[cfg(test)]").next().unwrap_or(text)
}

fn stage_of(path: &Path) -> Option<usize> {
    let inside = path.strip_prefix(root().join("src")).ok()?;
    let first = inside.iter().next()?.to_str()?.trim_end_matches(".rs");
    STAGES.iter().position(|stage| *stage == first)
}

#[test]
fn a_stage_uses_only_what_stands_before_it() {
    let mut broken = Vec::new();
    for (path, text) in sources() {
        let Some(own) = stage_of(&path) else { continue };
        if is_test_file(&path) {
            continue;
        }
        for (later, stage) in STAGES.iter().enumerate().skip(own + 1) {
            if without_tests(&text).contains(&format!("crate::{stage}::")) {
                broken.push(format!("{}: {} uses {}", path.display(), STAGES[own], STAGES[later]));
            }
        }
    }
    assert!(broken.is_empty(), "{broken:#?}");
}

#[test]
fn every_file_says_what_it_is_and_is_one_thought() {
    let mut broken = Vec::new();
    for (path, text) in sources() {
        if !text.starts_with("//!") {
            broken.push(format!("{}: no module comment", path.display()));
        }
        let lines = without_tests(&text).lines().count();
        if lines > LONGEST_FILE && !is_test_file(&path) {
            broken.push(format!("{}: {lines} lines", path.display()));
        }
    }
    assert!(broken.is_empty(), "{broken:#?}");
}

/// Everything that only tests read: the folder `tests`, test files and test modules of the sources.
fn tests_text() -> String {
    let mut text = String::new();
    for ending in ["rs", "txt", "csv", "toml", "stdout", "stderr", "codes"] {
        let mut paths = Vec::new();
        files_below(&root().join("tests"), ending, &mut paths);
        for path in paths {
            text.push_str(&String::from_utf8_lossy(&read(&path)));
        }
    }
    for (path, source) in sources() {
        let from = if is_test_file(&path) || path.to_string_lossy().ends_with("_tests.rs") {
            0
        } else {
            without_tests(&source).len()
        };
        text.push_str(&source[from..]);
    }
    text
}

fn read(path: &Path) -> Vec<u8> {
    fs::read(path).unwrap()
}

#[test]
fn every_finding_is_provoked_by_a_test() {
    let text = tests_text();
    let unproved: Vec<&str> = noticewright::finding::table()
        .iter()
        .map(|code| code.name)
        .filter(|name| {
            let constant = name.replace('-', "_").to_uppercase();
            !text.contains(&format!("code::{constant}"))
                && !text.contains(&format!("\"{name}\""))
                && !text.contains(&format!("[{name}]"))
                && !text.contains(&format!(": {name} ["))
                && !text.contains(&format!(" {name}\n"))
        })
        .collect();
    assert!(unproved.is_empty(), "no test names {unproved:#?}");
}

#[test]
fn the_readme_names_every_column_and_every_command() {
    let readme = String::from_utf8(read(&root().join("README.md"))).unwrap();
    let of_survey = noticewright::survey::Column::ALL.iter().map(|column| column.name());
    let of_supplies = noticewright::supplies::SupplyColumn::ALL.iter().map(|column| column.name());
    let of_standing = noticewright::standing::StandingColumn::ALL.iter().map(|column| column.name());
    let of_record = noticewright::records::line::COLUMNS;
    let of_list = noticewright::records::list::ListColumn::ALL.iter().map(|column| column.name());
    let of_due = noticewright::records::due::columns();
    let of_files = of_survey.chain(of_supplies).chain(of_standing).chain(of_record);
    let all = of_files.chain(of_list).chain(of_due);
    let unnamed: Vec<&str> = all.filter(|name| !readme.contains(&format!("`{name}`"))).collect();
    assert!(unnamed.is_empty(), "README says nothing of the columns {unnamed:#?}");
    for command in [
        "new",
        "check",
        "why",
        "labels",
        "schedule",
        "cards",
        "fixing",
        "changes",
        "records",
        "notice",
        "sheets",
        "ruler",
        "completions",
        "man",
    ] {
        assert!(readme.contains(&format!("noticewright {command}")), "README says nothing of `{command}`");
    }
}

#[test]
fn every_fuzz_target_is_told_of_and_says_what_it_is() {
    let folder = root().join("fuzz");
    let told = |name: &str| String::from_utf8(read(&folder.join(name))).unwrap();
    let (readme, manifest, seeds) = (told("README.md"), told("Cargo.toml"), told("seeds.sh"));
    let mut targets = Vec::new();
    files_below(&folder.join("fuzz_targets"), "rs", &mut targets);
    assert!(targets.len() >= 8, "{targets:?}");
    files_below(&folder.join("src"), "rs", &mut targets);
    for path in targets {
        assert!(fs::read_to_string(&path).unwrap().starts_with("//!"), "{}: no module comment", path.display());
        let name = path.file_stem().unwrap().to_str().unwrap();
        if path.iter().any(|part| part == "fuzz_targets") {
            assert!(readme.contains(&format!("| `{name}` |")), "fuzz/README.md says nothing of `{name}`");
            assert!(manifest.contains(&format!("name = \"{name}\"")), "fuzz/Cargo.toml does not build `{name}`");
            assert!(
                seeds.contains(&format!("$into/{name}/")) || seeds.contains(&format!("lay {name} ")),
                "no seeds for `{name}`"
            );
        }
    }
}

/// The names under a heading of a TOML file.
fn names_under(text: &str, heading: &str) -> Vec<String> {
    let section = text.split(&format!("\n[{heading}]\n")).nth(1).unwrap().split("\n[").next().unwrap();
    let names = section.lines().filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once(" = "));
    names.map(|(name, _)| name.trim().to_owned()).collect()
}

/// Each direct dependency has its reason in DEVELOPERS.md, and nothing that is gone has one.
#[test]
fn every_dependency_has_its_reason() {
    let text = |name: &str| String::from_utf8(read(&root().join(name))).unwrap();
    let (manifest, developers) = (text("Cargo.toml"), text("DEVELOPERS.md"));
    let headings = ["dependencies", "target.'cfg(target_os = \"linux\")'.dependencies", "dev-dependencies"];
    let mut used: Vec<String> = headings.iter().flat_map(|heading| names_under(&manifest, heading)).collect();
    let part = developers.split("\n## Dependencies\n").nth(1).unwrap().split("\n## ").next().unwrap();
    let rows = part.lines().filter_map(|line| line.strip_prefix("| `")?.split_once(" | "));
    let mut named: Vec<String> =
        rows.flat_map(|(crates, _)| crates.split(", ")).map(|name| name.trim_matches('`').to_owned()).collect();
    used.sort();
    named.sort();
    assert!(used.len() > 30, "{used:?}");
    assert_eq!(named, used, "DEVELOPERS.md and Cargo.toml");
}

/// Named for their features alone, so that the program is compiled once for its tests and for its users.
const FOR_FEATURES: [&str; 2] = ["num-traits", "once_cell"];

/// A dependency that no source names does nothing.
#[test]
fn every_dependency_is_used() {
    let manifest = String::from_utf8(read(&root().join("Cargo.toml"))).unwrap();
    let code: String = sources().into_iter().map(|(_, text)| text).collect();
    for name in names_under(&manifest, "dependencies").iter().filter(|name| !FOR_FEATURES.contains(&name.as_str())) {
        let path = name.replace('-', "_");
        assert!(code.contains(&format!("{path}::")) || code.contains(&format!("use {path};")), "{name} is not used");
    }
}
