//! A code that carries the notice's own words: all of what must be known, and nothing that a reader would act on.

use super::*;
use crate::finding::code;
use crate::length::Size;
use crate::typesetting::Misfit;
use crate::typesetting::code::{Code, Level};

fn situation(designation: &str, points: Vec<PointOfIsolation>) -> Situation {
    let mut situation = Situation::new(designation, points);
    situation.options.carries = Carries::Text;
    situation.options.record_link_base = "https://records.example/".to_owned();
    situation
}

fn two_points() -> Vec<PointOfIsolation> {
    let mut second = point("Q12", "Chamber 3 lobby,\nboard D", &["defrost heater"]);
    second.not_under_load = true;
    vec![point("Q7", "Switchroom 1, board C", &["fan"]), second]
}

#[test]
fn all_that_must_be_known_is_carried_line_by_line() {
    let notice = situation("CH3-JB2", two_points()).states([two_supplies()]).notice();
    let expected = "Notice CH3-JB2/1\nIsolate at both points\nTwo supplies inside CH3-JB2\n\
                    1. Q7 @ Switchroom 1, board C\n2. Q12 @ Chamber 3 lobby, board D; Do not open under load\n230 V to earth\n\
                    Lock off each. Prove dead before work.";
    assert_eq!(notice.code.as_deref(), Some(expected));
    assert_eq!(notice.code_caption, ["Text of this notice"]);
    assert!(notice.carries_text());
}

#[test]
fn the_main_language_alone_is_carried() {
    let wording = Wording::new(&["de".to_owned(), "en".to_owned()], &[]).unwrap().0;
    let notice = situation("CH3-JB2", two_points()).composed_in(&wording).0.remove(0);
    let text = notice.code.unwrap();
    assert!(text.starts_with("Hinweis CH3-JB2/1\n") && !text.contains("Isolate"), "{text}");
    assert_eq!(notice.code_caption, ["Text dieses Hinweises", "Text of this notice"]);
}

#[test]
fn a_link_of_its_own_still_counts() {
    let mut situation = situation("CH3-JB2", two_points());
    situation.enclosure.record_link = RecordLink::Given("https://records.example/n/4711".to_owned());
    let notice = situation.notice();
    assert_eq!(notice.code.as_deref(), Some("https://records.example/n/4711"));
    assert_eq!((notice.code_caption.clone(), notice.carries_text()), (vec!["Record".to_owned()].into(), false));
    situation.enclosure.record_link = RecordLink::None;
    assert_eq!(situation.notice().code, None);
}

/// Whatever the survey calls an enclosure, no line but ours is the first, and none breaks out of its line.
#[test]
fn no_name_makes_a_code_that_a_reader_would_act_on() {
    for name in
        ["https://x.example", "tel:1", "WIFI:S:x;;", "BEGIN:VCARD", "MATMSG:TO:a;;", "a\nhttps://x", "\u{2028}x"]
    {
        let (notices, findings) = situation(name, two_points()).composed();
        match notices[0].code.as_deref() {
            Some(text) => {
                assert!(text.starts_with("Notice "), "{text}");
                assert_eq!(text.lines().count(), 7, "{text}");
            }
            None => assert_eq!(findings[0].code, code::RECORD_LINK_REFUSED, "{name:?}"),
        }
    }
}

#[test]
fn a_message_file_cannot_put_a_scheme_first() {
    let english = include_str!("../../wording/messages/en.ftl");
    let text = english.replace("code-text-number = Notice", "code-text-number = tel:1");
    let file = crate::wording::MessageFile { language: "en", file: "en.ftl", text: &text };
    let wording = Wording::new(&["en".to_owned()], &[file]).unwrap().0;
    let (notices, findings) = situation("CH3-JB2", two_points()).composed_in(&wording);
    assert_eq!((notices[0].code.clone(), notices[0].code_caption.len()), (None, 0));
    let help = findings[0].help.as_deref().unwrap_or_default();
    assert_eq!(
        (findings[0].code, help),
        (code::RECORD_LINK_REFUSED, "begin the message `code-text-number` with a plain word")
    );
}

#[test]
fn what_is_too_long_is_an_error_and_never_shortened() {
    let mut situation = situation("CH3-JB2", two_points());
    let long = situation.notice().code.unwrap().chars().count();
    situation.options.text_chars = long;
    assert!(situation.notice().code.is_some());
    situation.options.text_chars = long - 1;
    let (notices, findings) = situation.composed();
    assert_eq!((notices[0].code.clone(), findings[0].code), (None, code::RECORD_LINK_TOO_LONG));
    assert_eq!(findings[0].enclosure.as_deref(), Some("CH3-JB2"));
    assert_eq!(findings[0].message, format!("the words of `CH3-JB2/1` for its code have {long} characters"));
}

#[test]
fn where_there_is_no_room_the_help_speaks_of_the_words() {
    let notice = situation("CH3-JB2", two_points()).notice();
    let side = crate::length::Length::mm(40.0);
    let help = Misfit::CodeTooLarge { needed: side, room: side }.finding(&notice).help.unwrap();
    assert!(
        help.starts_with("give a larger size, a record link instead") && help.contains("`qr = \"link\"`"),
        "{help}"
    );
    let too_long = Misfit::CodeTooLong { characters: 3_000 }.finding(&notice);
    assert!(too_long.message.contains("the text of notice `CH3-JB2/1` has 3000 characters"), "{}", too_long.message);
}

/// Read by rqrr, which is not ours: with letters beyond ASCII (declared as UTF-8, extended channel interpretation 26 of
/// ISO/IEC 18004) as without.
#[test]
fn a_reader_that_is_not_ours_reads_the_words() {
    for place in ["Switchroom 1, board C", "Kühlraum Łódź – Δ/Y"] {
        let text = situation("CH3-JB2", vec![point("Q7", place, &[])]).notice().code.unwrap();
        for level in [Level::Medium, Level::Quartile] {
            let code = Code::of(&text, level).unwrap();
            let side = usize::from(code.side);
            let words = side.div_ceil(64);
            let dark = |x: usize, y: usize| code.rows[y * words + x / 64] >> (x % 64) & 1 == 1;
            let grid = rqrr::Grid::new(rqrr::SimpleGrid::from_func(side, dark));
            assert_eq!(grid.decode().unwrap().1, text);
        }
    }
}

#[test]
fn a_code_of_the_most_words_stays_smaller_than_the_plate_that_holds_them() {
    // 1,000 characters at 0.4 mm a module with its quiet zone, on a plate of A5: the most that the default lets through.
    for (level, most) in [(Level::Medium, 52.0), (Level::Quartile, 62.0)] {
        let side = f64::from(Code::of(&"a".repeat(crate::notice::TEXT_CHARS), level).unwrap().side + 8) * 0.4;
        assert!(side < most && side < Size::whole_mm(210, 148).height.to_mm() / 2.0, "{side}");
    }
}
