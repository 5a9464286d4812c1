//! Pages of a survey, made by the program as a person makes them.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use noticewright::records::{Entry, MARK, line};

/// A folder with a survey, a job and perhaps a record, and the pages in `site` below it.
pub(crate) struct Site {
    place: tempfile::TempDir,
}

/// A page as it lies on the disk.
pub(crate) struct Page {
    /// Folders and file below the site.
    pub(crate) path: String,
    pub(crate) text: String,
}

impl Site {
    pub(crate) fn new(survey: &str, job: &str) -> Self {
        let place = tempfile::tempdir().unwrap();
        fs::write(place.path().join("survey.csv"), survey).unwrap();
        fs::write(place.path().join("job.toml"), job).unwrap();
        Self { place }
    }

    /// The demo, with every file that its job names.
    pub(crate) fn demo() -> Self {
        let place = tempfile::tempdir().unwrap();
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
        for name in ["survey.csv", "supplies.csv", "standing.csv", "job.toml", "mark.png", "records.csv"] {
            fs::copy(demo.join(name), place.path().join(name)).unwrap();
        }
        Self { place }
    }

    /// The same with a record of these entries.
    pub(crate) fn recorded(self, entries: &[Entry]) -> Self {
        let lines: String = entries.iter().map(line::written).collect();
        fs::write(self.place.path().join("records.csv"), format!("{MARK}{}{lines}", line::header())).unwrap();
        self
    }

    pub(crate) fn at(&self, name: &str) -> PathBuf {
        self.place.path().join(name)
    }

    pub(crate) fn folder(&self) -> PathBuf {
        self.at("site")
    }

    pub(crate) fn run(&self, further: &[&str]) -> Output {
        let mut words = vec!["records", "pages", "survey.csv", "-o", "site", "--report", "short"];
        if self.at("records.csv").exists() {
            words.extend(["--records", "records.csv"]);
        }
        Command::new(env!("CARGO_BIN_EXE_noticewright"))
            .current_dir(self.place.path())
            .args(words)
            .args(further)
            .output()
            .unwrap()
    }

    /// Makes the pages, and returns what was said.
    pub(crate) fn made(&self, further: &[&str]) -> String {
        let output = self.run(further);
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(0), "{said}");
        said
    }

    /// Every page, the index among them.
    pub(crate) fn pages(&self) -> Vec<Page> {
        let mut pages = Vec::new();
        gather(&self.folder(), "", &mut pages);
        pages.sort_by(|one, other| one.path.cmp(&other.path));
        pages
    }

    pub(crate) fn page(&self, path: &str) -> String {
        fs::read_to_string(self.folder().join(path)).unwrap()
    }
}

fn gather(folder: &Path, below: &str, pages: &mut Vec<Page>) {
    for entry in fs::read_dir(folder).unwrap() {
        let entry = entry.unwrap();
        let path = format!("{below}{}", entry.file_name().to_str().unwrap());
        if entry.path().is_dir() {
            gather(&entry.path(), &format!("{path}/"), pages);
        } else {
            pages.push(Page { path, text: fs::read_to_string(entry.path()).unwrap() });
        }
    }
}

/// What stands between two marks, everywhere.
pub(crate) fn between<'a>(text: &'a str, before: &str, after: &str) -> Vec<&'a str> {
    text.split(before).skip(1).map(|rest| rest.split(after).next().unwrap()).collect()
}

/// Words of a page as they were before they were made harmless.
pub(crate) fn plain(text: &str) -> String {
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

/// What the code of a page's notice carries, by the page.
pub(crate) fn payload(page: &str) -> Option<String> {
    let (_, rest) = page.split_once("<dt>Code carries</dt>\n<dd>")?;
    Some(plain(rest.split_once("</dd>")?.0)).filter(|payload| payload != "no code")
}
