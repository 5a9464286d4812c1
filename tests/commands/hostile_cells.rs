//! Hostile words in every column of every file, sent through every command to every output: each is refused by a finding, or
//! it stays text and adds no element, operator, name, formula or file that harmless words do not bring.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::Read as _;
use std::path::{Path, PathBuf};

use noticewright::records::line;
use noticewright::records::list::ListColumn;
use noticewright::standing::StandingColumn;
use noticewright::supplies::SupplyColumn;
use noticewright::survey::Column;

use crate::case::noticewright;

/// What would act if it got out of its text; each also holds a sign of combining, an accent or another script.
const PAYLOADS: [&str; 9] = [
    "<b>&amp;]]>",
    "<!--<script>",
    ") Tj (x\\",
    "%PDF endobj",
    "=1+2|'A'!A1",
    "../..\\é",
    "@{$x}`id`",
    "\"/><a b='",
    "-+%0A%n\u{0301}",
];

/// A file of rows: its name, and its columns with what stands where words are refused.
struct Table {
    name: &'static str,
    cells: Vec<(&'static str, &'static str)>,
}

/// The words of a column by its number.
type Words = fn(usize) -> String;

fn hostile(number: usize) -> String {
    format!("{} {number}", PAYLOADS[number % PAYLOADS.len()])
}

fn harmless(number: usize) -> String {
    format!("words {number}")
}

/// File and column.
type Columns = BTreeSet<(String, String)>;

impl Table {
    fn new(name: &'static str, columns: Vec<&'static str>, harmless: &[(&'static str, &'static str)]) -> Self {
        let usual = |column: &str| harmless.iter().find(|(name, _)| *name == column).map_or("", |(_, cell)| cell);
        Self { name, cells: columns.into_iter().map(|column| (column, usual(column))).collect() }
    }

    fn key(&self, column: &str) -> (String, String) {
        (self.name.to_owned(), column.to_owned())
    }

    /// The file with these words in all columns but those that refuse them.
    fn text(&self, words: Words, refused: &Columns) -> String {
        let quoted = |cell: &str| format!("\"{}\"", cell.replace('"', "\"\""));
        // A source of the supplies file that bears the enclosure's name would be live inside that.
        let first = if self.name == "supplies.csv" { 100 } else { 0 };
        let header: Vec<&str> = self.cells.iter().map(|(column, _)| *column).collect();
        let row = self.cells.iter().enumerate().map(|(number, (column, usual))| {
            if refused.contains(&self.key(column)) { quoted(usual) } else { quoted(&words(first + number)) }
        });
        format!("{}\n{}\n", header.join(","), row.collect::<Vec<_>>().join(","))
    }
}

fn tables() -> [Table; 3] {
    let survey = Column::ALL.iter().map(|column| column.name()).collect();
    let supplies = SupplyColumn::ALL.iter().map(|column| column.name()).collect();
    let standing = StandingColumn::ALL.iter().map(|column| column.name()).collect();
    let of_survey = [
        ("enclosure", "CH1"),
        ("circuit", "DB/1"),
        ("voltage_to_earth", "400"),
        ("isolator", "Q1"),
        ("isolator_location", "Room 1"),
    ];
    [
        Table::new("survey.csv", survey, &of_survey),
        Table::new("supplies.csv", supplies, &[("device", "S1"), ("kind", "source")]),
        Table::new("standing.csv", standing, &[("number", "STN-1"), ("kind", "surge-protection")]),
    ]
}

const JOB: &str = "[job]\nrevision = \"A\"\ndate = \"2026-11-24\"\nsupplies = \"supplies.csv\"\nstanding = \"standing.csv\"\n\
                   records = \"records.csv\"\n";

/// An older survey, so that there are changes.
const BEFORE: &str = "enclosure,circuit,voltage_to_earth,isolator,isolator_location\nX1,DB/9,400,Q9,Room 9\n";

/// Stands for the designation of the enclosure among a command's words.
const ENCLOSURE: &str = "ENCLOSURE";
/// Stands for the number of its notice.
const NUMBER: &str = "NUMBER";

/// Every command that says or writes something about a site; the last ones read what the first ones wrote.
const COMMANDS: [&[&str]; 20] = [
    &["check", "survey.csv"],
    &["check", "survey.csv", "--report", "short"],
    &["check", "survey.csv", "--report", "json"],
    &[
        "labels",
        "survey.csv",
        "-o",
        "out/n.pdf",
        "--texts",
        "out/t.csv",
        "--svg",
        "out/svg",
        "--sheet",
        "a3-a4-1",
        "--record",
    ],
    &["labels", "survey.csv", "-o", "out/r.pdf", "--sheet", "a3-a4-1", "--report", "json"],
    &["labels", "survey.csv", "-o", "out/a.pdf", "--sheet", "a3-a4-1", "--approval"],
    &["labels", "survey.csv", "-o", "out/e.pdf", "--sheet", "a3-a4-1", "--read-back"],
    &["labels", "survey.csv", "-o", "out/g.pdf", "--sheet", "a3-a4-1", "--png", "out/png"],
    &["why", "survey.csv", ENCLOSURE, "--svg", "out/why.svg"],
    &["records", "history", NUMBER],
    &["schedule", "survey.csv", "--sheet", "a3-a4-1", "-o", "out/s.pdf", "-o", "out/s.csv", "-o", "out/s.xlsx"],
    &["cards", "survey.csv", "-o", "out/c.pdf"],
    &["fixing", "survey.csv", "--sheet", "a3-a4-1", "-o", "out/f.pdf"],
    &["records", "pages", "survey.csv", "--sheet", "a3-a4-1", "-o", "out/pages"],
    &["records", "due", "-o", "out/due.csv", "--on", "2040-01-01"],
    &["records", "due", "--on", "2040-01-01"],
    &["records", "list", "-o", "out/list.csv"],
    &["records", "list", "-o", "out/list.xlsx"],
    &["changes", "before/survey.csv", "survey.csv", "-o", "out/ch.pdf", "-o", "out/ch.csv"],
    &["records", "check", "survey.csv", "-o", "out/k.pdf", "-o", "out/k.csv"],
];

/// A site with these refused, and what the commands said.
fn made(words: Words, refused: &Columns) -> (tempfile::TempDir, String) {
    let place = tempfile::tempdir().unwrap();
    let at = |name: &str| place.path().join(name);
    ["out", "before"].iter().for_each(|folder| fs::create_dir(at(folder)).unwrap());
    fs::write(at("before/survey.csv"), BEFORE).unwrap();
    fs::write(place.path().join("job.toml"), JOB).unwrap();
    for table in tables() {
        fs::write(place.path().join(table.name), table.text(words, refused)).unwrap();
    }
    let mut said = String::new();
    let column = Column::ALL.iter().position(|column| *column == Column::Enclosure).unwrap();
    let designation = words(column);
    let number = format!("{designation}/1");
    for words in COMMANDS {
        let named = |word: &&'static str| match *word {
            ENCLOSURE => designation.as_str(),
            NUMBER => number.as_str(),
            other => other,
        };
        let words: Vec<&str> = words.iter().map(named).collect();
        let output = noticewright().current_dir(place.path()).args(&words).output().unwrap();
        if words.contains(&"json") {
            assert!(serde_json::from_slice::<serde_json::Value>(&output.stdout).is_ok(), "{words:?}");
        }
        let now = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
        let code = output.status.code().unwrap();
        assert!(code == 0 || (code == 1 && words[..2] == ["records", "check"]), "{words:?} {code}: {now}");
        said.push_str(&now);
    }
    (place, said)
}

/// The columns in which the hostile words are an error, found by taking them out until there is none.
fn refused() -> Columns {
    let place = tempfile::tempdir().unwrap();
    fs::write(place.path().join("job.toml"), JOB).unwrap();
    let mut refused = BTreeSet::new();
    for _ in 0..12 {
        for table in tables() {
            fs::write(place.path().join(table.name), table.text(hostile, &refused)).unwrap();
        }
        let words = ["labels", "survey.csv", "-o", "n.pdf", "--sheet", "a3-a4-1", "--report", "json"];
        let output = noticewright().current_dir(place.path()).args(words).output().unwrap();
        if output.status.success() {
            return refused;
        }
        let report: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
        let before = refused.len();
        for finding in report["findings"].as_array().unwrap().iter().filter(|finding| finding["severity"] == "error") {
            let [file, column] =
                ["file", "column_name"].map(|key| finding[key].as_str().unwrap_or_default().to_owned());
            refused.insert((file, column));
        }
        assert!(refused.len() > before, "an error that is at no column: {report:#}");
    }
    panic!("errors without end: {refused:?}");
}

#[test]
fn whatever_a_cell_holds_it_stays_text_in_every_output() {
    let refused = refused();
    let keys = |table: &Table| table.cells.iter().map(|(column, _)| table.key(column)).collect::<Vec<_>>();
    let every: Columns = tables().iter().flat_map(keys).collect();
    assert!(refused.is_subset(&every), "{refused:?}");
    let free =
        ["enclosure", "name", "area", "circuit", "serves", "isolator_location", "before_isolating", "locking", "note"];
    let taken = |column: &&str| !refused.contains(&("survey.csv".to_owned(), (**column).to_owned()));
    assert_eq!(free.iter().filter(|column| !taken(column)).collect::<Vec<_>>(), [&""; 0], "{refused:?}");
    assert!(every.len() - refused.len() >= 25, "only {} columns take words", every.len() - refused.len());

    let (place, said) = made(hostile, &refused);
    let (usual_place, _) = made(harmless, &refused);
    let acts = |c: char| c != '\n' && c.is_control();
    assert!(!said.contains(acts), "{said}");
    assert_eq!(top(place.path()), top(usual_place.path()), "a file was written beside the folder");
    let (found, usual) = (Traits::of(place.path()), Traits::of(usual_place.path()));
    for (what, names) in &found.0 {
        let unusual: Vec<&String> = names.difference(&usual.0[what]).collect();
        assert!(unusual.is_empty(), "{what}: {unusual:?}");
    }
    assert!(found.0.values().map(BTreeSet::len).sum::<usize>() > 60, "{:?}", found.0);
}

fn top(folder: &Path) -> BTreeSet<PathBuf> {
    let names = |folder: PathBuf| fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into());
    names(folder.to_owned()).chain(names(folder.join("out"))).collect()
}

/// By kind of file, what its reader would act on: elements and attributes, operators and names, formulas.
#[derive(Debug, Default)]
struct Traits(BTreeMap<&'static str, BTreeSet<String>>);

impl Traits {
    fn of(folder: &Path) -> Self {
        let mut traits = Self::default();
        traits.walk(folder);
        traits
    }

    fn walk(&mut self, folder: &Path) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                self.walk(&path);
                continue;
            }
            let name = path.to_string_lossy().into_owned();
            let bytes = fs::read(&path).unwrap();
            match path.extension().and_then(|ending| ending.to_str()).unwrap_or_default() {
                "svg" => self.markup("svg", &String::from_utf8(bytes).unwrap()),
                "html" => self.markup("html", &String::from_utf8(bytes).unwrap()),
                "pdf" => self.document(&bytes, &name),
                "xlsx" => self.workbook(&bytes),
                "png" => assert!(image::load_from_memory(&bytes).is_ok(), "{name}"),
                "csv" if name.contains("/out/") => Self::table(&bytes, &name),
                _ => {}
            }
        }
    }

    fn add(&mut self, kind: &'static str, what: impl Into<String>) {
        self.0.entry(kind).or_default().insert(what.into());
    }

    /// Elements with the names of their attributes; what stands between quotation marks is no name.
    fn markup(&mut self, kind: &'static str, text: &str) {
        for tag in text.split('<').skip(1) {
            let inside = tag.split('>').next().unwrap();
            for (number, part) in inside.split('"').enumerate().filter(|(number, _)| number % 2 == 0) {
                for word in part.split_whitespace() {
                    self.add(kind, format!("{} {word}", if number == 0 { "<" } else { "" }));
                }
            }
        }
    }

    fn document(&mut self, bytes: &[u8], name: &str) {
        let document = lopdf::Document::load_mem(bytes).unwrap_or_else(|error| panic!("{name}: {error}"));
        for object in document.objects.values() {
            self.object(object);
        }
        for page in document.get_pages().values() {
            let content = lopdf::content::Content::decode(&document.get_page_content(*page)).unwrap();
            content.operations.iter().for_each(|operation| self.add("operators", &operation.operator));
        }
    }

    fn object(&mut self, object: &lopdf::Object) {
        match object {
            lopdf::Object::Array(items) => items.iter().for_each(|item| self.object(item)),
            lopdf::Object::Dictionary(dictionary) => self.entries(dictionary),
            lopdf::Object::Stream(stream) => self.entries(&stream.dict),
            _ => {}
        }
    }

    fn entries(&mut self, dictionary: &lopdf::Dictionary) {
        for (key, value) in dictionary {
            // Resources are numbered, and a small document has fewer of them.
            let key = String::from_utf8_lossy(key);
            self.add("keys", key.trim_end_matches(|c: char| c.is_ascii_digit()));
            if let lopdf::Object::Name(name) = value {
                let name = String::from_utf8_lossy(name).into_owned();
                self.add("names", name.split('+').next_back().unwrap_or_default());
            }
            self.object(value);
        }
    }

    fn workbook(&mut self, bytes: &[u8]) {
        let mut archive = zip::ZipArchive::new(std::io::Cursor::new(bytes)).unwrap();
        for number in 0..archive.len() {
            let mut entry = archive.by_index(number).unwrap();
            let name = entry.name().unwrap().into_owned();
            assert!(!name.contains("..") && !name.starts_with('/'), "{name}");
            let mut text = String::new();
            entry.read_to_string(&mut text).unwrap();
            assert!(!text.contains("<f>") && !text.contains("<f "), "a formula in {name}");
            self.markup("workbook", &text);
        }
    }

    /// As many cells a row as the header, none of which a spreadsheet would calculate unless the README warns of it.
    fn table(bytes: &[u8], name: &str) {
        let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(bytes);
        let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.unwrap()).collect();
        assert!(rows.len() > 1, "{name} is empty");
        for cell in rows.iter().flatten().filter(|_| !name.ends_with("/t.csv")) {
            let begins = cell.trim_start_matches([' ', '\u{FEFF}']);
            assert!(!begins.starts_with(['=', '+', '-', '@', '\t', '\r']), "{name}: a spreadsheet calculates {cell}");
        }
    }
}

/// What acts on whatever shows it, in every column at once: each cell is refused where it stands, and shown without acting.
#[test]
fn in_every_column_of_every_file_a_character_that_acts_is_refused() {
    const ACTING: &str = "a\u{1B}[31m\u{202E}b";
    let place = tempfile::tempdir().unwrap();
    let file = |name: &str, columns: &[&str]| {
        let row = vec![ACTING; columns.len()].join(",");
        fs::write(place.path().join(name), format!("{}\n{row}\n", columns.join(","))).unwrap();
    };
    let survey: Vec<&str> = Column::ALL.iter().map(|column| column.name()).collect();
    let supplies: Vec<&str> = SupplyColumn::ALL.iter().map(|column| column.name()).collect();
    let standing: Vec<&str> = StandingColumn::ALL.iter().map(|column| column.name()).collect();
    let list: Vec<&str> = ListColumn::ALL.iter().map(|column| column.name()).collect();
    file("survey.csv", &survey);
    file("supplies.csv", &supplies);
    file("standing.csv", &standing);
    file("list.csv", &list);
    file("records.csv", &line::COLUMNS);
    fs::write(place.path().join("job.toml"), JOB).unwrap();
    let check = ["check", "survey.csv", "--report", "json"];
    let report = noticewright().current_dir(place.path()).args(check).output().unwrap();
    let report: serde_json::Value = serde_json::from_slice(&report.stdout).unwrap();
    let findings = report["findings"].as_array().unwrap();
    for (name, columns) in [("survey.csv", &survey), ("supplies.csv", &supplies), ("standing.csv", &standing)] {
        for column in columns {
            let at = |finding: &&serde_json::Value| finding["file"] == name && finding["column_name"] == **column;
            let found: Vec<_> = findings.iter().filter(at).map(|finding| &finding["code"]).collect();
            assert!(found.iter().any(|code| *code == "hidden-character"), "{name} {column}: {found:?}");
        }
    }
    assert!(findings.iter().any(|finding| finding["file"] == "records.csv" && finding["severity"] == "error"));
    for words in [
        &["check", "survey.csv"][..],
        &["check", "survey.csv", "--report", "short"],
        &check,
        &["labels", "survey.csv", "-o", "n.pdf"],
        &["why", "survey.csv", ACTING],
        &["records", "check", "survey.csv"],
        &["records", "import", "list.csv", "--date", "2027-06-01"],
        &["records", "due"],
        &["records", "history", ACTING],
        &["changes", "records.csv", "survey.csv"],
    ] {
        let output = noticewright().current_dir(place.path()).args(words).output().unwrap();
        assert!(matches!(output.status.code(), Some(1 | 2)), "{words:?}: {output:?}");
        let said = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
        let acts = |c: char| c != '\n' && (c.is_control() || c == '\u{202E}');
        assert!(!said.contains(acts), "{words:?}: {said}");
    }
}
