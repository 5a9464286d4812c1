//! What is refused, how it is said, and which size is taken.

use noticewright::finding::code;
use noticewright::length::Length;
use noticewright::notice::Notice;
use noticewright::typesetting::{LetterFloor, Misfit, SetNotice, Typesetter};

use crate::sample::{A3, A5, A6, A7, long_points, mm, notice, said, with_cautions, without_code};

fn set(notice: &Notice, sizes: &[(f64, f64)]) -> Result<SetNotice, Misfit> {
    let sizes: Vec<_> = sizes.iter().map(|size| mm(size.0, size.1)).collect();
    Typesetter::new().set(notice, &sizes, LetterFloor::default())
}

#[test]
fn the_first_size_that_is_large_enough_is_taken() {
    let sizes = [A7, A6, A5];
    let taken = |notice: &Notice| set(notice, &sizes).unwrap().drawing.size;
    assert_eq!(taken(&notice(2)), mm(A7.0, A7.1));
    assert_eq!(taken(&notice(5)), mm(A6.0, A6.1));
    assert_eq!(taken(&notice(12)), mm(A5.0, A5.1));
}

#[test]
fn the_wished_size_comes_first_and_only_larger_ones_after_it() {
    let wished = Notice { size: Some(mm(A6.0, A6.1)), ..notice(2) };
    assert_eq!(set(&wished, &[A7, A5]).unwrap().drawing.size, mm(A6.0, A6.1));
    let too_small = Notice { size: Some(mm(A6.0, A6.1)), ..notice(12) };
    assert_eq!(set(&too_small, &[A7, A5]).unwrap().drawing.size, mm(A5.0, A5.1));
}

#[test]
fn a_crowded_size_is_taken_only_if_asked_for_or_the_last() {
    let taken = |notice: &Notice, sizes: &[(f64, f64)]| set(notice, sizes).unwrap().drawing.size;
    assert_eq!(taken(&notice(3), &[A7, A6]), mm(A6.0, A6.1));
    assert_eq!(taken(&notice(3), &[A7]), mm(A7.0, A7.1));
    assert_eq!(taken(&Notice { size: Some(mm(A7.0, A7.1)), ..notice(3) }, &[A6]), mm(A7.0, A7.1));
    assert_eq!(taken(&Notice { space: Some(mm(110.0, 80.0)), ..notice(3) }, &[A7, A6]), mm(A7.0, A7.1));
}

#[test]
fn what_to_do_is_as_large_as_a_sign_seen_from_afar_lets_it_be() {
    let afar = Notice { sign_distance: Length::mm(1_400.0), ..with_cautions(notice(2), 4) };
    let set = set(&afar, &[A5]).unwrap();
    let headline = crate::look::lines(&set.drawing).into_iter().find(|line| line.text == "Isolate at both points");
    assert!(headline.unwrap().capitals * 2 >= set.setting.letter_height * 4);
}

#[test]
fn a_wish_that_is_larger_than_the_free_area_is_told_by_both() {
    let at = |space: (f64, f64), points: usize| {
        let notice = Notice { size: Some(mm(A6.0, A6.1)), space: Some(mm(space.0, space.1)), ..notice(points) };
        let misfit = set(&notice, &[A7, A6, A5]).unwrap_err();
        assert!(matches!(misfit, Misfit::BeyondSpace { .. }), "{misfit:?}");
        let finding = misfit.finding(&notice);
        assert_eq!(finding.code, code::NOTICE_DOES_NOT_FIT);
        (finding.message, finding.help.unwrap())
    };
    let (message, help) = at((80.0, 60.0), 5);
    assert_eq!(
        message,
        "notice `CH3-JB2/1` is wished for as 148 x 105 mm, and the free area there is 80 x 60 mm: nothing was tried"
    );
    assert!(help.contains("it needs 148 x 105 mm, so fix it where there is as much room"), "{help}");
    let (_, help) = at((120.0, 80.0), 2);
    assert!(help.starts_with("correct one of the two; 105 x 74 mm would hold it"), "{help}");
}

#[test]
fn the_space_is_never_exceeded_and_what_would_fit_is_named() {
    let limited = Notice { space: Some(mm(150.0, 110.0)), ..notice(12) };
    let misfit = set(&limited, &[A7, A6, A5]).unwrap_err();
    assert_eq!(misfit, Misfit::TooLong { tried: mm(A6.0, A6.1), would_fit: Some(mm(A5.0, A5.1)) });
    let finding = misfit.finding(&limited);
    assert_eq!(finding.code, code::NOTICE_DOES_NOT_FIT);
    assert_eq!(
        finding.message,
        "notice `CH3-JB2/1` does not fit into 148 x 105 mm with letters that can be read from 0.7 m"
    );
    assert_eq!(
        finding.help.as_deref(),
        Some(
            "it fits into 210 x 148 mm, and the free area there is 150 x 110 mm: fix it where there is room, or shorten the \
             place names"
        )
    );
    assert_eq!(finding.enclosure.as_deref(), Some("CH3-JB2"));
}

#[test]
fn what_fits_nowhere_says_so() {
    let distant = Notice { reading_distance: Length::mm(20_000.0), points: long_points(), ..notice(3) };
    let misfit = set(&distant, &[A7, A3]).unwrap_err();
    assert_eq!(misfit, Misfit::TooLong { tried: mm(A3.0, A3.1), would_fit: None });
    let help = misfit.finding(&distant).help.unwrap();
    let place = &distant.points.iter().max_by_key(|point| point.place.chars().count()).unwrap().place;
    assert!(help.starts_with("not even A3, 420 x 297 mm, is large enough: divide the enclosure"), "{help}");
    assert!(help.contains("; its longest text is `"), "{help}");
    let begin: String = place.chars().take(20).collect();
    assert!(help.contains(&begin), "{help}");
}

#[test]
fn a_size_that_is_said_to_fit_does_fit() {
    for (points, cautions) in [(2, 0), (4, 2), (5, 6), (9, 1), (12, 6)] {
        let notice = with_cautions(notice(points), cautions);
        let Err(Misfit::TooLong { would_fit: Some(size), .. }) = set(&notice, &[(40.0, 30.0)]) else { panic!() };
        assert!(set(&notice, &[(size.width.to_mm(), size.height.to_mm())]).is_ok());
    }
}

#[test]
fn a_word_is_never_broken_to_fit() {
    let designation = "DB-00012-A/".repeat(12);
    let mut notice = without_code(notice(2));
    notice.points[0].designation = designation.clone();
    assert!(matches!(set(&notice, &[A5]), Err(Misfit::TooLong { .. })));
    let set = set(&notice, &[(600.0, 300.0)]).unwrap();
    assert!(crate::look::lines(&set.drawing).iter().any(|line| line.text == designation));
}

#[test]
fn a_missing_glyph_is_named_with_its_text() {
    let foreign = Notice { statement: said("Two supplies inside 冷凍庫"), ..notice(2) };
    let misfit = set(&foreign, &[A6]).unwrap_err();
    let finding = misfit.finding(&foreign);
    assert_eq!(finding.code, code::MISSING_GLYPH);
    assert_eq!(
        finding.message,
        "the fonts have no `冷` (U+51B7), which notice `CH3-JB2/1` needs for `Two supplies inside 冷凍庫`"
    );
}

#[test]
fn a_code_that_alone_is_too_large_is_named() {
    let link = format!("https://records.example/{}", "Ab9-".repeat(110));
    let misfit = set(&Notice { code: Some(link), ..notice(2) }, &[A7]).unwrap_err();
    let Misfit::CodeTooLarge { needed, room } = misfit else { panic!("{misfit:?}") };
    assert!(needed > room && room > Length::ZERO, "{needed} {room}");
    // ISO/IEC 18004, table 7: 464 bytes at level M need version 17 (450 bytes fit version 16, 504 version 17): 85 modules and a
    // quiet zone of 4 on either side, at 0.4 mm each.
    assert_eq!(needed, Length::mm(93.0 * 0.4));
    assert_eq!(misfit.finding(&notice(2)).code, code::CODE_TOO_LARGE);
}

#[test]
fn a_code_that_nothing_can_carry_is_named() {
    let misfit = set(&Notice { code: Some("x".repeat(3_000)), ..notice(2) }, &[A7]).unwrap_err();
    assert_eq!(misfit, Misfit::CodeTooLong { characters: 3_000 });
    assert_eq!(misfit.finding(&notice(2)).code, code::CODE_TOO_LONG);
}

#[test]
fn what_points_serve_goes_before_the_name_and_neither_before_the_words() {
    let drawn = |size| crate::look::words(&set(&notice(3), &[size]).unwrap().drawing);
    assert!(drawn(A6).contains("defrost heater") && drawn(A6).contains("Evaporator junction box"));
    let narrow = drawn((100.0, 110.0));
    assert!(!narrow.contains("defrost heater") && narrow.contains("Chamber 3 lobby, board D"), "{narrow}");
}

#[test]
fn line_feeds_in_a_cell_become_spaces() {
    let mut notice = notice(2);
    notice.points[0].place = "Switchroom 1\r\nboard C".into();
    let set = set(&notice, &[A6]).unwrap();
    assert!(crate::look::words(&set.drawing).contains("Q7 Switchroom 1 board C"));
}
