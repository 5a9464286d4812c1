//! The code at the lower right, its caption, and the small line beside it.

use noticewright::length::Length;
use noticewright::notice::Notice;
use noticewright::survey::value::Environment;
use noticewright::typesetting::{LetterFloor, SetNotice, Typesetter};

use crate::look::{Line, lines};
use crate::sample::{A5, A6, A7, A8, bilingual, device, mm, notice, said, with_cautions};

fn set(notice: &Notice, size: (f64, f64)) -> SetNotice {
    Typesetter::new().set(notice, &[mm(size.0, size.1)], LetterFloor::default()).unwrap()
}

/// A notice that is washed down, so that its code is of level Q: 29 modules for this link.
fn washed_down(points: usize) -> Notice {
    let environment = Environment { washdown: true, ..Environment::default() };
    Notice { environment, code: Some("HTTPS://SALTMERE.EXAMPLE/CH3-JB1/1".into()), ..notice(points) }
}

#[test]
fn a7_with_two_points_carries_a_code_of_29_modules() {
    let set = set(&washed_down(2), A7);
    assert!(set.setting.code_module.unwrap() >= Length::mm(0.5), "{:?}", set.setting.code_module);
    assert_eq!(set.setting.letter_height, Length::mm(3.5));
}

#[test]
fn modules_are_half_a_millimetre_or_more_where_there_is_room() {
    for (points, size) in [(2, A6), (3, A6), (5, A6), (2, A5), (5, A5), (12, A5)] {
        let module = set(&washed_down(points), size).setting.code_module.unwrap();
        assert!(module >= Length::mm(0.5) && module <= Length::mm(0.7), "{points} points on {size:?}: {module}");
        assert_eq!(module.to_um() % 10, 0, "whole hundredths of a millimetre");
    }
}

#[test]
fn a_code_never_takes_letters_below_what_they_are_without_one() {
    for points in [2, 3, 5] {
        let without = set(&crate::sample::without_code(notice(points)), A6).setting.letter_height;
        let with = set(&notice(points), A6).setting.letter_height;
        assert!(with >= without.scaled(0.93), "{points} points: {with} with, {without} without");
    }
}

/// Notices with a caption, each with its drawing.
fn captioned() -> Vec<(Notice, Vec<Line>)> {
    let long = Notice {
        small_line: "F1@Switchroom 1, control supply 1 · rev B · 2026-11-24 · Saltmere cold store".into(),
        code: Some("HTTPS://SALTMERE.EXAMPLE/F1".into()),
        code_caption: said("Record"),
        ..device(3)
    };
    let one = Notice { points: long.points[..1].to_vec(), ..long.clone() };
    let cases = [
        (one, A8),
        (long.clone(), A7),
        (long, A6),
        (notice(1), A7),
        (notice(2), A7),
        (notice(3), (200.0, 60.0)),
        (notice(2), (150.0, 50.0)),
        (bilingual(notice(3)), A6),
        (with_cautions(notice(5), 6), A5),
    ];
    cases.into_iter().map(|(notice, size)| (notice.clone(), lines(&set(&notice, size).drawing))).collect()
}

#[test]
fn a_small_line_ends_between_its_parts() {
    for (notice, lines) in captioned() {
        let parts: Vec<&str> = notice.small_line.split(" · ").collect();
        let small = lines.iter().filter(|line| line.text.split(" · ").all(|part| parts.contains(&part)));
        let found: Vec<&str> = small.flat_map(|line| line.text.split(" · ")).collect();
        assert_eq!(found, parts);
    }
}

#[test]
fn a_caption_keeps_a_clear_gap_from_the_words_beside_it() {
    let mut seen = 0;
    for (notice, lines) in captioned() {
        let Some(caption) = lines.iter().find(|line| notice.code_caption.contains(&line.text)) else { continue };
        seen += 1;
        let baseline = |line: &Line| line.area.origin.y + line.capitals;
        let beside = lines.iter().filter(|line| line.text != caption.text && baseline(line) == baseline(caption));
        for line in beside.filter(|line| line.area.right() <= caption.area.origin.x) {
            assert!(caption.area.origin.x - line.area.right() >= caption.capitals * 2, "{line:?} and {caption:?}");
        }
    }
    assert!(seen >= 5, "captions are shown where there is room: {seen}");
}
