//! Record pages on a plain web server: every code leads to its page, every link answers, nothing lies outside the folder, and
//! what a record knows is told.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

#[path = "record_pages/browser.rs"]
mod browser;
mod judge;
#[path = "record_pages/server.rs"]
mod server;
#[path = "record_pages/site.rs"]
mod site;

use std::fs;

use noticewright::records::{Condition, Entry, Event};
use noticewright::standing::Date;

use server::Server;
use site::{Site, between, payload, plain};

/// Names that mean something to a program that reads carelessly, as in `tests/commands/hostile_names.rs`; those of the second
/// half cannot be folders in a folder on every disk.
const NAMES: [&str; 8] = [
    "=cmd|' /C calc'!A0",
    "<script>alert(1)</script>",
    "]]>&amp;<!--",
    "%s%n${HOME}$(id)`id`",
    "quote\"quote",
    "Kühlraum 5 µ?#x",
    "a%2Fb",
    "CH1",
];
const NO_FOLDERS: [&str; 6] = ["../../etc/passwd", "..", "/absolute", "a\\b) Tj ET (c", "index.html", "a//b"];

const BASE: &str = "https://records.example/";

const JOB: &str = "[job]\ntitle = \"Notices\"\nsite = \"Saltmere <cold> store\"\nrevision = \"B\"\ndate = \"2026-11-24\"\n\
                   [notices]\nrecord_link_base = \"https://records.example/\"\n";

fn hostile() -> Site {
    let cell = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
    let rows = NAMES.iter().chain(&NO_FOLDERS).map(|name| {
        let name = cell(name);
        format!("{name},DB/1,230,{name},{name}\n{name},DB/2,230,Q8,Room 2\n")
    });
    let rows: String = rows.collect();
    // Many disks take two names that differ in case alone for one.
    let alike = "CH1,DB/3,230,q8,Room 2\n";
    let survey = format!("enclosure,circuit,voltage_to_earth,isolator,isolator_location\n{rows}{alike}");
    Site::new(&survey, JOB)
}

fn entry(date: &str, event: Event, number: &str) -> Entry {
    Entry { by: "JD".into(), ..Entry::new(Date::parse(date).unwrap(), event, number) }
}

/// A small site with a record: one notice fixed in another form, one that the survey has no more, one withdrawn.
fn recorded() -> Site {
    let survey = "enclosure,area,circuit,voltage_to_earth,isolator,isolator_location\n\
                  CH1,Chamber 1,A/1,230,Q7,Room 1\nCH1,,A/2,230,Q8,Room 2\nCH2,Chamber 2,A/3,230,Q9,Room 1\nCH2,,A/4,230,Q8,Room 2\n";
    let fixed =
        Entry { revision: "A".into(), fingerprint: "another".into(), ..entry("2026-01-02", Event::Fixed, "CH1/1") };
    let found = Entry {
        condition: Some(Condition::Faded),
        photo: "photos/<b>.jpg".into(),
        note: "sun \u{202e}on it".into(),
        ..entry("2026-06-01", Event::Inspected, "CH1/1")
    };
    let gone = [entry("2026-01-02", Event::Fixed, "CH9/1"), entry("2026-01-02", Event::Fixed, "CH8/1")];
    let entries: Vec<Entry> =
        [fixed, found].into_iter().chain(gone).chain([entry("2026-03-01", Event::Withdrawn, "CH8/1")]).collect();
    Site::new(survey, JOB).recorded(&entries)
}

#[test]
fn every_code_leads_to_the_page_of_its_notice() {
    for (site, base, least) in [(hostile(), BASE, 16), (Site::demo(), "HTTPS://SALTMERE.EXAMPLE/", 180)] {
        site.made(&[]);
        let server = Server::of(&site.folder(), "");
        let mut led = 0;
        for page in site.pages() {
            let Some(payload) = payload(&page.text) else { continue };
            let Some(path) = payload.strip_prefix(base).filter(|_| !page.path.starts_with("by-name/")) else {
                continue;
            };
            let answer = server.follow(&format!("/{path}"));
            assert_eq!((answer.status, answer.body == page.text), (200, true), "{path}");
            led += 1;
        }
        assert!(led >= least, "{led}");
    }
}

#[test]
fn every_link_answers() {
    for site in [hostile(), recorded(), Site::demo()] {
        site.made(&[]);
        let server = Server::of(&site.folder(), "");
        let (mut followed, pages) = (0, site.pages());
        for page in &pages {
            let folders: Vec<&str> = page.path.split('/').collect();
            for link in between(&page.text, "href=\"", "\"").into_iter().map(plain) {
                if link == "data:," || link == "#main" {
                    continue;
                }
                let (mut rest, mut up) = (link.as_str(), 0);
                while let Some(above) = rest.strip_prefix("../") {
                    (rest, up) = (above, up + 1);
                }
                assert!(up < folders.len(), "{link} on {} leads out of the site", page.path);
                let above = folders[..folders.len() - 1 - up].iter().map(|part| format!("{}/", encoded(part)));
                let path = format!("/{}{}", above.collect::<String>(), rest);
                assert_eq!(server.get(&path).status, 200, "{link} on {}", page.path);
                followed += 1;
            }
        }
        let listed = site.page("index.html").matches("<a href=").count();
        assert_eq!(listed, pages.len() - 1, "the index lists every page once");
        assert!(followed > pages.len(), "{followed}");
    }
}

fn encoded(part: &str) -> String {
    part.bytes().map(|byte| format!("%{byte:02X}")).collect()
}

#[test]
fn hostile_words_stay_words_and_nothing_lies_outside() {
    let site = hostile();
    let said = site.made(&[]);
    let mut beside: Vec<_> = fs::read_dir(site.at("")).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    beside.sort();
    assert_eq!(beside, ["job.toml", "site", "survey.csv"]);
    // Of an enclosure and of the isolator that is called like it; `..@..` and `index.html@index.html` are names like others. And
    // of `q8`.
    assert_eq!(said.matches("record-page-elsewhere").count(), 2 * NO_FOLDERS.len() - 2 + 1, "{said}");
    let pages = site.pages();
    assert_eq!(pages.len(), 2 * (NAMES.len() + NO_FOLDERS.len()) + 3, "a page each, Q8, q8 and the index");
    for page in &pages {
        let programs = usize::from(page.path == "index.html");
        assert_eq!(page.text.matches("<script").count(), programs, "{}", page.path);
        assert!(!page.text.contains("<!--") && !page.text.contains("<cold>"), "{}", page.path);
        assert!(page.text.contains("default-src 'none'"), "{}", page.path);
    }
    let text: String = pages.iter().map(|page| plain(&page.text)).collect();
    for name in NAMES.iter().chain(&NO_FOLDERS) {
        assert!(text.contains(&format!("<h1>{name}</h1>")), "{name} stands nowhere as it is in the survey");
    }
}

#[test]
fn what_the_record_knows_is_told() {
    let site = recorded();
    let said = site.made(&[]);
    assert!(said.contains("2 of them: do not rely on the notice, which is no more"), "{said}");
    let page = site.page("CH1/1/index.html");
    let (first, rest) = page.split_once("<h1>").unwrap();
    assert!(first.contains("says something else than this page: it is revision A, this page revision B"), "{first}");
    assert!(
        rest.contains("faded") && rest.contains("photo photos/&lt;b&gt;.jpg") && rest.contains("sun \\u{202e}on it")
    );
    assert!(!page.contains("src=\"photos"), "a photograph is never loaded");
    for (path, words) in
        [("CH9/1/index.html", "one still stands on site"), ("CH8/1/index.html", "Withdrawn on 2026-03-01")]
    {
        let page = site.page(path);
        let (first, _) = page.split_once("<h1>").unwrap();
        assert!(first.contains("do not rely on it") && first.contains(words), "{first}");
    }
    assert!(site.page("CH2/1/index.html").contains("The record has no entry of this notice"));
    let index = site.page("index.html");
    for words in ["not true on site, faded", "not fixed by the record", "withdrawn", "yet on site by the record"] {
        assert!(index.contains(words), "{words}");
    }
}

#[test]
fn a_page_becomes_one_of_a_notice_that_is_no_more() {
    let site = recorded();
    site.made(&[]);
    let survey = "enclosure,area,circuit,voltage_to_earth,isolator,isolator_location\n\
                  CH2,Chamber 2,A/3,230,Q9,Room 1\nCH2,,A/4,230,Q8,Room 2\n";
    fs::write(site.at("survey.csv"), survey).unwrap();
    let refused = site.run(&[]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&refused.stderr).contains("exists and is left alone"));
    site.made(&["--force"]);
    assert!(site.page("CH1/1/index.html").contains("The survey has no such notice any more: do not rely on it"));
}

#[test]
fn no_old_page_of_what_has_errors_stays_as_it_was() {
    let site = recorded();
    site.made(&[]);
    assert!(site.page("CH1/1/index.html").contains("Isolate at both points"));
    // Nobody knows any more what isolates CH1; Q7, of its other circuit, is left out with it.
    let survey =
        fs::read_to_string(site.at("survey.csv")).unwrap().replace("CH1,,A/2,230,Q8,Room 2", "CH1,,A/2,230,?,");
    fs::write(site.at("survey.csv"), survey).unwrap();
    fs::create_dir_all(site.at("site/notes")).unwrap();
    fs::write(site.at("site/notes/index.html"), "somebody else's").unwrap();
    fs::create_dir_all(site.at("site/OLD/1")).unwrap();
    fs::copy(site.at("site/CH2/1/index.html"), site.at("site/OLD/1/index.html")).unwrap();
    let output = site.run(&["--force", "--leave-out-faulty"]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(1), "{said}");
    for path in ["CH1/1/index.html", "Q7@Room 1/index.html", "CH9/1/index.html"] {
        let page = site.page(path);
        let (first, rest) = page.split_once("<h1>").unwrap();
        assert!(first.contains("Cannot be judged: the survey has errors here"), "{path}: {first}");
        assert!(!rest.contains("Isolate at both points"), "{path}");
    }
    assert!(site.page("OLD/1/index.html").contains("Neither survey nor record knows such a notice"));
    assert!(site.page("CH8/1/index.html").contains("Withdrawn on 2026-03-01"));
    assert_eq!(site.page("notes/index.html"), "somebody else's");
    assert!(site.page("index.html").contains("Cannot be judged, because of errors in the survey"));
}

#[test]
fn some_pages_leave_the_index_that_is_there() {
    let site = recorded();
    site.made(&[]);
    let (index, other) = (site.page("index.html"), site.page("CH2/1/index.html"));
    let said = site.made(&["--only", "CH1", "--force"]);
    assert!(said.contains("1 record page beside the index that was there"), "{said}");
    assert_eq!((site.page("index.html"), site.page("CH2/1/index.html")), (index.clone(), other));
    site.made(&["--force"]);
    assert_eq!(site.page("index.html"), index, "same input, same bytes");
}

#[cfg(unix)]
#[test]
fn no_link_in_the_folder_leads_a_page_out_of_it() {
    let site = recorded();
    fs::create_dir_all(site.at("site/CH1")).unwrap();
    fs::create_dir_all(site.at("outside")).unwrap();
    std::os::unix::fs::symlink(site.at("outside"), site.at("site/CH1/1")).unwrap();
    let output = site.run(&["--force"]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains("a link stands there"), "{said}");
    assert_eq!(fs::read_dir(site.at("outside")).unwrap().count(), 0);
    assert!(!site.at("site/index.html").exists(), "nothing was written at all");
}

#[test]
fn pages_are_small() {
    let site = Site::demo();
    site.made(&[]);
    let (mut whole, mut bare): (Vec<usize>, Vec<usize>) = (Vec::new(), Vec::new());
    for page in site.pages().iter().filter(|page| page.path != "index.html") {
        let pictures: usize = between(&page.text, "src=\"data:", "\"").iter().map(|picture| picture.len()).sum();
        bare.push(page.text.len() - pictures);
        whole.push(page.text.len());
    }
    for (mut bytes, typical, most) in [(whole, 100_000, 250_000), (bare, 12_000, 24_000)] {
        bytes.sort_unstable();
        let (middle, largest) = (bytes[bytes.len() / 2], bytes[bytes.len() - 1]);
        assert!(middle < typical && largest < most, "{middle} typical, {largest} the largest");
    }
}
