//! Line breaking against the published test data, and our own glue.

use super::*;
use crate::drawing::Face;
use crate::typesetting::Typesetter;

fn paragraph(text: &str) -> Paragraph {
    Paragraph::new(Typesetter::new().line(Face::Medium, text).unwrap(), &"CH3 JB 2".into())
}

fn lines(text: &str, room: i32) -> Option<Vec<String>> {
    let paragraph = paragraph(text);
    let lines = paragraph.broken(room)?;
    assert_eq!(paragraph.lines(room), Some(lines.len()));
    Some(lines.into_iter().map(|line| text.get(line).unwrap().to_owned()).collect())
}

/// Lines of `LineBreakTest-13.0.0.txt` (Unicode Character Database, UAX 14) whose breaks all lie at spaces, so that our glue leaves
/// them alone: `×` no break, `÷` a break.
const PUBLISHED: [&str; 18] = [
    "× 0023 × 0023 ÷",
    "× 0023 × 0020 ÷ 0023 ÷",
    "× 0023 × 0308 × 0020 ÷ 0023 ÷",
    "× 0023 × 0020 ÷ 2014 ÷",
    "× 0023 × 0020 ÷ 00B4 ÷",
    "× 0023 × 0020 × 007D ÷",
    "× 0023 × 0020 × 0021 ÷",
    "× 0023 × 00A0 ÷",
    "× 0023 × 0308 × 0020 × 002C ÷",
    "× 0023 × 0020 ÷ 05D0 ÷",
    "× 0023 × 0020 ÷ 002D ÷",
    "× 0023 × 0020 ÷ 0030 ÷",
    "× 0023 × 0020 ÷ 0024 ÷",
    "× 8CA8 × 0029 × 0020 ÷ 002D × 0020 ÷ 0028 × 0070 × 006F ÷",
    "× 91CF × 0029 × 0020 × 301C × 0020 ÷ 0028 × 0070 × 006F ÷",
    "× 0064 × 006F × 0067 × 0022 × 0020 ÷ 3092 ÷",
    "× 0039 × 0030 × 0022 × 0020 ÷ 3068 ÷",
    "× 672C × 003A × 0020 ÷ 30AF ÷",
];

#[test]
fn breaks_at_spaces_are_those_of_the_published_test_data() {
    for case in PUBLISHED {
        let (mut text, mut expected) = (String::new(), Vec::new());
        for token in case.split_whitespace() {
            match token {
                "×" => {}
                "÷" => expected.push(text.len()),
                code => text.push(char::from_u32(u32::from_str_radix(code, 16).unwrap()).unwrap()),
            }
        }
        assert_eq!(expected.pop(), Some(text.len()));
        let found: Vec<usize> = breaks(&text, "").map(|(at, _)| at).collect();
        assert_eq!(found, expected, "{case}");
    }
}

#[test]
fn designations_ranges_and_quantities_are_not_split() {
    for whole in ["DB-00012-A", "10–12", "12/wall", "400 V", "600 V d.c.", "5 min", "CH3 JB 2", "63.5 V,", "(10 mm)"]
    {
        assert_eq!(breaks(whole, "CH3 JB 2").next(), None, "{whole}");
    }
    // The published algorithm alone would split these.
    assert!(linebreaks("DB-00012-A").count() > 1 && linebreaks("400 V").count() > 1);
}

#[test]
fn lines_are_even_and_no_more_than_needed() {
    let text = "Roof plant room by the north stair at board MCC-3";
    let whole = paragraph(text).line.width;
    assert_eq!(lines(text, whole).unwrap().len(), 1);
    let two = lines(text, whole - 1).unwrap();
    assert_eq!(two, ["Roof plant room by the", "north stair at board MCC-3"]);
}

#[test]
fn lines_end_where_sense_does_if_that_costs_no_line() {
    let room = paragraph("Prove dead before work.").line.width;
    let lines = |text| lines(text, room).unwrap();
    assert_eq!(lines("Lock off each. Prove dead before work."), ["Lock off each.", "Prove dead before work."]);
    assert_eq!(lines("Chamber 3 lobby, board D there"), ["Chamber 3 lobby,", "board D there"]);
    assert_eq!(lines("One. Two. Three. Four. Five. Six. Seven."), ["One. Two. Three.", "Four. Five. Six. Seven."]);
}

#[test]
fn no_line_is_left_very_short_for_the_sake_of_sense() {
    let text = "Isolate all: mains, generator, solar, battery, UPS, vehicle and estate network";
    let room = paragraph("mains, generator, solar, battery, UPS, vehicle and estate network").line.width;
    assert_eq!(
        lines(text, room).unwrap(),
        ["Isolate all: mains, generator, solar,", "battery, UPS, vehicle and estate network"]
    );
    let text = "Stays live after isolation: string side of QD1 in daylight. Where that is isolated is not known";
    let room = paragraph(text).line.width * 4 / 5;
    assert_eq!(
        lines(text, room).unwrap(),
        ["Stays live after isolation: string side of QD1 in daylight.", "Where that is isolated is not known"]
    );
}

#[test]
fn a_small_line_breaks_between_its_parts_and_shows_no_dot_there() {
    let text = "Q2@Plant room, board F · rev B · 2026-11-24 · Saltmere cold store";
    let small = Paragraph::of_parts(Typesetter::new().line(Face::Regular, text).unwrap(), &"Q2".into());
    let lines = |share: f64| {
        let room = (f64::from(small.line.width) * share) as i32;
        let lines = small.broken(room).unwrap();
        assert_eq!(small.lines(room), Some(lines.len()));
        lines.into_iter().map(|line| text.get(line).unwrap()).collect::<Vec<_>>()
    };
    assert_eq!(lines(1.01), [text]);
    assert_eq!(lines(0.7), ["Q2@Plant room, board F · rev B", "2026-11-24 · Saltmere cold store"]);
    assert_eq!(lines(0.4), ["Q2@Plant room, board F", "rev B · 2026-11-24", "Saltmere cold store"]);
    // Only where a part alone is too wide does a line end inside it.
    assert_eq!(lines(0.3)[..2], ["Q2@Plant room,", "board F"]);
    assert!(lines(0.3).iter().all(|line| !line.starts_with('·') && !line.ends_with('·')));
}

#[test]
fn a_line_does_not_start_with_a_lone_letter_if_it_need_not() {
    assert_eq!(lines("Switchroom 1, board C", 8_000).unwrap(), ["Switchroom 1,", "board C"]);
    let narrow = paragraph("Switchroom").line.width;
    assert_eq!(lines("Switchroom 1", narrow).unwrap(), ["Switchroom", "1"]);
}

#[test]
fn a_word_wider_than_the_room_is_not_broken() {
    let wide = paragraph("DB-00012-A").line.width;
    assert_eq!(lines("at DB-00012-A", wide - 1), None);
    assert_eq!(lines("at DB-00012-A", wide).unwrap(), ["at", "DB-00012-A"]);
}

#[test]
fn the_narrowest_room_holds_the_lines_and_nothing_narrower_does() {
    let paragraph = paragraph("Isolate at all 12 points before this cover is opened");
    for count in 1..6 {
        let narrowest = paragraph.narrowest(count);
        assert!(paragraph.lines(narrowest).unwrap() <= count);
        assert!(paragraph.lines(narrowest - 1).is_none_or(|lines| lines > count));
    }
}

#[test]
fn pieces_measured_on_the_whole_line_are_as_wide_as_when_shaped_alone() {
    let typesetter = Typesetter::new();
    let paragraph = paragraph("AV Tower, To VAT Ly: 7.4 kW at Ţ. Wall");
    for piece in paragraph.words() {
        let alone = typesetter.line(Face::Medium, paragraph.line.text.get(piece.bytes.clone()).unwrap()).unwrap();
        assert_eq!(piece.right - piece.left, alone.width, "{piece:?}");
    }
}

#[test]
fn a_line_split_before_is_split_anew_for_a_name_in_it() {
    let line = Typesetter::new().line(Face::Medium, "Isolate CH3 JB 2 and CH4 JB 7 at both ends of it").unwrap();
    let words = |keep: &str| {
        let paragraph = Paragraph::new(Arc::clone(&line), &keep.into());
        paragraph.words().iter().map(|piece| line.text.get(piece.bytes.clone()).unwrap().to_owned()).collect::<Vec<_>>()
    };
    let alone = words("DB-A");
    assert!(alone.iter().all(|word| !word.contains("CH3 ")), "{alone:?}");
    for keep in ["CH3 JB 2", "CH4 JB 7"] {
        let kept = words(keep);
        assert!(kept.iter().any(|word| word.starts_with(keep)), "{kept:?}");
        assert_eq!((words("DB-A"), words("")), (alone.clone(), alone.clone()));
    }
    let lines = (0..600).map(|number| Typesetter::new().line(Face::Medium, &format!("Word {number} of all")).unwrap());
    for line in lines.collect::<Vec<_>>().iter().flat_map(|line| [line, line]) {
        assert_eq!(*words_again(line), *super::words(line, ""));
    }
}
