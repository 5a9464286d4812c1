//! What a workbook holds, read back by a reader that is not ours (calamine).

use std::io::{Cursor, Read as _};

use calamine::{Data, Reader, Xlsx};

use super::super::NoteRow;
use super::*;

/// A schedule of nothing but notes.
fn schedule<'a>(notes: &[&'a str]) -> Schedule<'a> {
    let note = |&note: &&'a str| NoteRow { file: "survey", designation: "JB", name: "", area: "", drawing: "", note };
    Schedule { notes: notes.iter().map(note).collect(), ..Schedule::of_nothing() }
}

fn info() -> DocumentInfo {
    DocumentInfo { title: "Fish & \"chips\" <&P>".into(), ..DocumentInfo::default() }
}

fn made(notes: &[&str]) -> Made {
    make(&schedule(notes), &info()).unwrap()
}

/// The cells of a sheet as words; numbers as such.
fn cells(bytes: &[u8], sheet: &str) -> Vec<Vec<Data>> {
    let mut workbook: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).unwrap();
    workbook.worksheet_range(sheet).unwrap().rows().map(<[Data]>::to_vec).collect()
}

fn notes_of(bytes: &[u8]) -> Vec<String> {
    cells(bytes, NoteRow::SHEET).iter().skip(1).map(|row| row[5].to_string()).collect()
}

/// The text of one file inside the workbook.
fn inside(bytes: &[u8], name: &str) -> String {
    let mut text = String::new();
    zip::ZipArchive::new(Cursor::new(bytes)).unwrap().by_name(name).unwrap().read_to_string(&mut text).unwrap();
    text
}

#[test]
fn hostile_words_stay_words() {
    let hostile = [
        "=1+1",
        "=A1+B2-Q3",
        "'=1",
        "+1",
        "-2",
        "@SUM(A1)",
        "007",
        "1e5",
        "TRUE",
        "{=1}",
        "http://example.example/",
        "<r>bold</r>",
        "<r><t>x</t></r>",
        "]]>&amp;<!--",
        "_x0041_",
        " blanks at both ends ",
        "Łódź – 400\u{a0}V \u{1f50c}",
    ];
    let made = made(&hostile);
    assert_eq!((notes_of(&made.bytes), made.shortened), (hostile.map(str::to_owned).to_vec(), 0));
    let text = inside(&made.bytes, "xl/worksheets/sheet6.xml");
    assert!(!text.contains("<f>") && !text.contains("hyperlink"), "a formula or a link was made of words");
}

#[test]
fn what_no_markup_may_hold_breaks_none() {
    // XML 1.0, 2.2: none of these characters may stand in a document; ISO/IEC 29500-1, 22.9.2.19 (from memory) writes them
    // by number.
    let hostile: Vec<String> = ['\u{0}', '\u{1}', '\u{8}', '\u{b}', '\u{1f}', '\u{fffe}', '\u{ffff}']
        .iter()
        .map(|character| format!("a{character}b"))
        .collect();
    let words: Vec<&str> = hostile.iter().map(String::as_str).collect();
    let bytes = made(&words).bytes;
    let text = inside(&bytes, "xl/sharedStrings.xml");
    let allowed =
        |c: char| matches!(c, '\t' | '\n' | '\r' | ' '..='\u{d7ff}' | '\u{e000}'..='\u{fffd}' | '\u{10000}'..);
    assert!(text.chars().all(allowed));
    assert!(text.contains("a_x0001_b") && text.contains("a_xFFFF_b"), "{text}");
    assert_eq!(notes_of(&bytes).len(), hostile.len());
}

#[test]
fn a_cell_that_is_too_long_says_so() {
    // 32 767 characters a cell, in 16-bit units: ISO/IEC 29500 leaves it open, the figure is common practice.
    for (character, count) in [("x", LONGEST_CELL), ("\u{1f50c}", LONGEST_CELL / 2)] {
        let (fits, too_long) = (character.repeat(count), character.repeat(count + 1));
        let made = made(&[&fits, &too_long]);
        let notes = notes_of(&made.bytes);
        assert!(notes[0] == fits && made.shortened == 1);
        assert!(notes[1].encode_utf16().count() <= LONGEST_CELL);
        let length = too_long.encode_utf16().count();
        assert!(notes[1].ends_with(&format!("[cut off here: {length} characters are more than a workbook's cell holds; the schedule as PDF has all of them]")));
        assert!(notes[1].starts_with(&character.repeat(1_000)));
    }
}

#[test]
fn sheets_are_tables_with_filter_frozen_head_and_print_set_up() {
    let bytes = made(&["a note"]).bytes;
    let mut workbook: Xlsx<_> = Xlsx::new(Cursor::new(&bytes)).unwrap();
    workbook.load_tables().unwrap();
    let names = workbook.sheet_names();
    assert_eq!(names.len(), 8);
    // ISO/IEC 29500-1, 18.2.19 (from memory): at most 31 characters, none of these.
    assert!(names.iter().all(|name| name.len() <= 31 && !name.contains(['[', ']', ':', '*', '?', '/', '\\'])));
    let mut tables: Vec<String> = workbook.table_names().into_iter().cloned().collect();
    tables.sort();
    let expected =
        ["cautions", "drawings_and_notes", "findings", "isolator_index", "materials", "no_notice", "notices"];
    assert_eq!(tables[..7], expected);
    assert_eq!(tables[7..], ["points_of_isolation", "revisions", "title_block"]);
    for number in 2..=8 {
        let sheet = inside(&bytes, &format!("xl/worksheets/sheet{number}.xml"));
        for part in
            ["state=\"frozen\"", "paperSize=\"9\"", "orientation=\"landscape\"", "fitToHeight=\"0\"", "<fitToPage"]
        {
            let part = part.replace("<fitToPage", "fitToPage=\"1\"");
            assert!(sheet.contains(&part), "sheet {number}: {part}");
        }
        // `&` begins a mark of the foot, so that one of the user's own is doubled.
        let foot = "&amp;LFish &amp;&amp; \"chips\" &lt;&amp;&amp;P&gt;&amp;C&amp;A&amp;Rpage &amp;P of &amp;N";
        assert!(sheet.contains(foot), "{sheet}");
        let table = inside(&bytes, &format!("xl/tables/table{}.xml", number + 2));
        assert!(table.contains("<autoFilter"), "{table}");
    }
    let notices = inside(&bytes, "xl/worksheets/sheet2.xml");
    assert!(["2", "3"].iter().any(|pages| notices.contains(&format!("fitToWidth=\"{pages}\""))), "{notices}");
    let workbook = inside(&bytes, "xl/workbook.xml");
    assert_eq!(workbook.matches("_xlnm.Print_Titles").count(), 7, "{workbook}");
}

#[test]
fn a_table_without_rows_says_so() {
    let bytes = made(&[]).bytes;
    for sheet in [NoteRow::SHEET, NoticeRow::SHEET, PointRow::SHEET, SilentRow::SHEET, FindingRow::SHEET] {
        let rows = cells(&bytes, sheet);
        assert_eq!((rows.len(), rows[1][0].to_string().as_str()), (2, "none"), "{sheet}");
    }
}

#[test]
fn the_day_is_that_of_the_job_or_a_fixed_one_and_two_runs_give_the_same_bytes() {
    assert_eq!(made(&["a"]).bytes, made(&["a"]).bytes);
    let of = |created| {
        let info = DocumentInfo { created, ..info() };
        inside(&make(&schedule(&[]), &info).unwrap().bytes, "docProps/core.xml")
    };
    let day = crate::writers::pdf::Moment::day(2026, 11, 24);
    assert!(of(day).contains("2026-11-24T00:00:00Z"), "{}", of(day));
    assert!(of(None).contains("2000-01-01T00:00:00Z"), "{}", of(None));
    // Before the days that the form counts.
    assert!(of(crate::writers::pdf::Moment::day(1066, 10, 14)).contains("2000-01-01T00:00:00Z"));
}

#[test]
fn rows_are_as_high_as_their_words_need() {
    assert_eq!(lines("", 10), 1);
    assert_eq!(lines("one two", 10), 1);
    assert_eq!(lines("one two three", 10), 2);
    assert!(lines(&"x".repeat(35), 10) >= 4);
    assert!(height([("x".repeat(100_000).as_str(), 10)].into_iter()) <= HIGHEST_ROW);
}
