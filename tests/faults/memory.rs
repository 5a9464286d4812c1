//! Small inputs that would fill the memory, and a run that is given too little: a finding or a plain error, and no file harmed.

use std::fs;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Output};

use crate::site;

/// Kilobytes of address space that a run may use here; each thread's stack and the program itself are among them.
const ROOM: u32 = 600_000;

const HEADER: &str = "enclosure,circuit,voltage_to_earth,isolator,isolator_location\n";

/// The program with so many kilobytes of address space (`setrlimit`, POSIX.1).
fn within(room: u32, folder: &Path, words: &[&str]) -> Output {
    let mut shell = Command::new("bash");
    shell.args(["-c", "ulimit -c 0; ulimit -v \"$1\"; shift; exec \"$0\" \"$@\"", env!("CARGO_BIN_EXE_noticewright")]);
    shell.arg(room.to_string()).args(words);
    site::set(&mut shell, folder);
    shell.output().unwrap()
}

/// A workbook, or what claims to be one, whose entries inflate to so much.
fn archive(path: &Path, entries: &[(&str, &[u8], usize)]) {
    let mut zip = zip::ZipWriter::new(fs::File::create(path).unwrap());
    for (name, part, times) in entries {
        zip.start_file(*name, zip::write::SimpleFileOptions::default()).unwrap();
        (0..*times).for_each(|_| zip.write_all(part).unwrap());
    }
    zip.finish().unwrap();
}

/// One cell that says it stands in every place of a large sheet (ODF 1.3, 19.675 and 19.676, from memory).
fn repeated(rows: u32, columns: u32) -> String {
    format!(
        "<office:document-content xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" \
         xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" \
         xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"><office:body><office:spreadsheet>\
         <table:table table:name=\"s\"><table:table-row table:number-rows-repeated=\"{rows}\">\
         <table:table-cell table:number-columns-repeated=\"{columns}\" office:value-type=\"string\">\
         <text:p>enclosure</text:p></table:table-cell></table:table-row></table:table></office:spreadsheet></office:body>\
         </office:document-content>"
    )
}

fn document(path: &Path, content: &str) {
    let kind = b"application/vnd.oasis.opendocument.spreadsheet";
    archive(path, &[("mimetype", kind, 1), ("content.xml", content.as_bytes(), 1)]);
}

/// A picture that says it has so many dots and brings few (PNG, RFC 2083): 8 bits of red, green, blue and cover each.
fn picture(width: u32, height: u32) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(png::ColorType::Rgba);
    let mut writer = encoder.write_header().unwrap();
    // A stored block of one byte (zlib, RFC 1950).
    writer.write_chunk(png::chunk::IDAT, &[0x78, 1, 1, 1, 0, 0xFE, 0xFF, 0, 0, 0, 0, 1]).unwrap();
    drop(writer);
    bytes
}

#[test]
fn what_would_fill_the_memory_ends_with_a_finding_or_an_error() {
    let site = site::site();
    let at = |name: &str| site.path().join(name);
    let put = |name: &str, text: String| fs::write(at(name), text).unwrap();
    put("quote.csv", format!("{HEADER}CH1,D/1,400,Q1,\"Room 1\n{}", "CH2,D/2,400,Q2,Room 2\n".repeat(100_000)));
    put("cell.csv", format!("{HEADER}CH1,D/1,400,Q1,{}\n", "x".repeat(1_000_000)));
    put("commas.csv", format!("{HEADER}{}\n", ",".repeat(2_000_000)));
    let devices = (0..24).map(|device| format!("Q{device}")).collect::<Vec<_>>().join(" + ");
    let rows = (0..20).map(|row| format!("CH{row},D/{row},400,{devices} + Q24,Room {row}\n"));
    put("devices.csv", HEADER.to_owned() + &rows.collect::<String>());
    let blanks = [b' '; 1 << 20];
    archive(&at("bomb.xlsx"), &[("[Content_Types].xml", b"<Types/>", 1), ("xl/workbook.xml", &blanks, 1_100)]);
    document(&at("cells.ods"), &repeated(1_048_576, 16_384));
    fs::write(at("logo.png"), picture(100_000, 100_000)).unwrap();
    fs::write(at("large.png"), picture(3_999, 4_000)).unwrap();
    put("logo.toml", "[documents]\nlogo = \"logo.png\"\n".to_owned());
    put("large.toml", "[documents]\nlogo = \"large.png\"\n".to_owned());
    put("line.csv", "x".repeat(3_000_000));
    put("deep.ftl", format!("do-what = {}\n", "{".repeat(400_000)));
    put("brackets.ftl", format!("do-what = {{ {}\n", "A(".repeat(400_000)));
    let languages = |file: &str| format!("[notices]\nlanguages = [\"xx\"]\n[notices.messages]\nxx = \"{file}\"\n");
    put("deep.toml", languages("deep.ftl"));
    put("brackets.toml", languages("brackets.ftl"));
    put("tables.toml", format!("x = {}\n", "[".repeat(300_000)));
    let schedule = |job| ["schedule", "survey.csv", "-o", "s.pdf", "--job", job, "--records", "none.csv"];
    let cases: [(&[&str], i32, &str); 13] = [
        (&["check", "quote.csv"], 1, "error[unclosed-quote]"),
        (&["check", "cell.csv"], 1, "error[cell-too-long]"),
        (&["check", "commas.csv"], 1, "error["),
        (&["check", "devices.csv"], 1, "error[too-many-devices]"),
        (&["check", "bomb.xlsx"], 1, "error[workbook-unreadable]"),
        (&["check", "cells.ods"], 1, "error[workbook-unreadable]"),
        (&schedule("logo.toml"), 2, "100000 x 100000"),
        (&schedule("large.toml"), 2, "logo"),
        (
            &["labels", "survey.csv", "-o", "l.pdf", "--records", "line.csv", "--record", "--date", "2026-12-01"],
            1,
            "line.csv",
        ),
        (&["check", "survey.csv", "--job", "deep.toml"], 2, "lie within each other too deeply"),
        (&["check", "survey.csv", "--job", "brackets.toml"], 2, "lie within each other too deeply"),
        (&["check", "survey.csv", "--job", "tables.toml"], 2, "tables.toml:1"),
        (&["check", "/dev/zero", "--job", "/dev/null"], 2, "cannot read `/dev/zero`"),
    ];
    let before = site::contents(site.path());
    for (words, code, told) in cases {
        let output = within(ROOM, site.path(), &[words, &["--report", "short"]].concat());
        let said = String::from_utf8([output.stderr, output.stdout].concat()).unwrap();
        assert_eq!(output.status.code(), Some(code), "{words:?}: {said}");
        assert!(said.contains(told), "{words:?}: {said}");
        assert!(said.len() < 100_000, "{words:?} says {} bytes", said.len());
    }
    assert_eq!(site::contents(site.path()).into_keys().collect::<Vec<_>>(), before.into_keys().collect::<Vec<_>>());
}

/// Where the memory itself runs out, the run is cut off, and nothing is half written.
#[test]
fn a_run_that_gets_too_little_memory_harms_no_file() {
    let folder = tempfile::tempdir().unwrap();
    let rows = (0..150).map(|number| format!("CH{number},DB/{number},400,Q{number},Room 1\n"));
    fs::write(folder.path().join("survey.csv"), HEADER.to_owned() + &rows.collect::<String>()).unwrap();
    let words = ["labels", "survey.csv", "-o", "n.pdf", "--force", "--quiet"];
    let target = folder.path().join("n.pdf");
    assert!(within(4_000_000, folder.path(), &words).status.success());
    let new = fs::read(&target).unwrap();
    let mut cut_off = 0;
    for room in (40_000..=200_000).step_by(12_000) {
        fs::write(&target, "old").unwrap();
        let ended = within(room, folder.path(), &words).status;
        let now = fs::read(&target).unwrap();
        if ended.success() {
            assert!(now == new, "{room}");
        } else {
            assert!(now == b"old", "{room}: {ended}");
            cut_off += 1;
        }
    }
    assert!(cut_off > 0, "there was always room enough");
}
