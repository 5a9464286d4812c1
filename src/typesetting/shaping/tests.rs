//! Shaping against a reference shaper that follows another version of the same algorithm.

use super::*;

/// Lines with kerning pairs, accents, Greek, Cyrillic, figures and no-break spaces.
const SAMPLES: [&str; 12] = [
    "Isolate at all 3 points",
    "AVATAR To Wa. Ty, LT 7.4 P, L’Avenue",
    "Switchroom 1, board C",
    "DB-00012-A",
    "230\u{a0}V to earth · 400\u{a0}V between conductors",
    "Łódź, Țara, Ŵyl, naïve café",
    "Αίθουσα ελέγχου, πίνακας Τ",
    "Щитовая 1, шкаф УГ",
    "office first floor, affix fly",
    "10–12 µF ± 5 % ≥ 60 V → Ω",
    "e\u{301}tage A\u{30a}",
    "",
];

fn reference(face: Face, text: &str) -> Vec<(u16, i32)> {
    let font = rustybuzz::Face::from_slice(fonts::bytes(face), 0).unwrap();
    let mut buffer = rustybuzz::UnicodeBuffer::new();
    buffer.push_str(text);
    buffer.guess_segment_properties();
    let off = |tag| rustybuzz::Feature::new(rustybuzz::ttf_parser::Tag::from_bytes(tag), 0, ..);
    let shaped = rustybuzz::shape(&font, &[off(b"liga"), off(b"clig")], buffer);
    let pairs = shaped.glyph_infos().iter().zip(shaped.glyph_positions());
    pairs.map(|(info, position)| (u16::try_from(info.glyph_id).unwrap(), position.x_advance)).collect()
}

#[test]
fn glyphs_and_widths_equal_those_of_rustybuzz() {
    for face in Face::ALL {
        for text in SAMPLES {
            let line = shaped(face, text).unwrap();
            let ours: Vec<_> = line.glyphs.iter().map(|glyph| (glyph.id, i32::from(glyph.advance))).collect();
            let theirs = reference(face, text);
            assert_eq!(ours, theirs, "{face:?} {text}");
            assert_eq!(line.width, theirs.iter().map(|(_, advance)| advance).sum::<i32>());
        }
    }
}

#[test]
fn kerning_is_applied() {
    for face in Face::ALL {
        let together = shaped(face, "AV").unwrap().width;
        let apart = shaped(face, "A").unwrap().width + shaped(face, "V").unwrap().width;
        assert!(together < apart, "{face:?}: {together} {apart}");
    }
}

#[test]
fn a_space_kerns_with_nothing_so_that_words_may_be_measured_alone() {
    for face in Face::ALL {
        let space = shaped(face, " ").unwrap().width;
        for letter in (' '..='~').chain('À'..='ž') {
            let width = |text: &str| shaped(face, text).unwrap().width;
            let alone = width(&letter.to_string());
            assert_eq!(width(&format!("{letter} ")), alone + space, "{face:?} {letter}");
            assert_eq!(width(&format!(" {letter}")), alone + space, "{face:?} {letter}");
        }
    }
}

#[test]
fn figures_are_tabular() {
    for face in Face::ALL {
        let one = shaped(face, "1").unwrap().width;
        assert!(('0'..='9').all(|digit| shaped(face, &digit.to_string()).unwrap().width == one));
    }
}

#[test]
fn every_character_keeps_a_glyph_of_its_own() {
    let line = shaped(Face::Regular, "office fly").unwrap();
    assert_eq!(line.glyphs.len(), "office fly".len());
    assert!(line.glyphs.iter().enumerate().all(|(index, glyph)| usize::from(glyph.cluster) == index));
}

#[test]
fn a_missing_glyph_is_named() {
    let misfit = line(Face::Bold, "Chamber 点 3").unwrap_err();
    assert_eq!(misfit, Misfit::MissingGlyph { character: '点', text: "Chamber 点 3".to_owned() });
}

#[test]
fn a_line_said_again_is_the_same_one_and_a_line_of_the_same_slot_is_not() {
    for text in ["Q7", "Αίθουσα"] {
        let first = line(Face::Bold, text).unwrap();
        assert!(Arc::ptr_eq(&first, &line(Face::Bold, text).unwrap()));
        for number in 0..5 * KEPT {
            let said = number.to_string();
            assert_eq!(*line(Face::Regular, &said).unwrap().text, *said);
        }
        assert_eq!(*line(Face::Bold, text).unwrap(), *first);
    }
}

/// What the shaper makes of a line as a whole.
fn whole(face: Face, text: &str) -> Vec<Glyph> {
    shape_with(ready(face).unwrap(), text).unwrap()
}

#[test]
fn lines_made_of_pairs_are_those_of_the_shaper() {
    let letters: Vec<char> = (' '..='~').chain('\u{A0}'..='\u{FF}').filter(|letter| *letter != '\u{AD}').collect();
    for face in Face::ALL {
        // Each letter between two others, so that each pair stands once in the middle of a longer line.
        for first in &letters {
            let text: String = letters.iter().flat_map(|second| [*first, *second]).collect();
            assert_eq!(pairs::glyphs(face, &text), Some(whole(face, &text)), "{face:?} {first}");
        }
    }
}

#[test]
fn what_is_more_than_pairs_is_left_to_the_shaper() {
    for face in Face::ALL {
        for text in ["e\u{301}tage", "Щит", "a\u{AD}b", "L’Avenue", "点"] {
            assert_eq!(pairs::glyphs(face, text), None, "{text}");
        }
    }
}

proptest::proptest! {
    #[test]
    fn any_line_is_that_of_the_shaper(text in "[ -~\u{A0}-\u{FF}fijlvAVTLW.,1/7]{0,60}") {
        for face in Face::ALL {
            assert_eq!(shaped(face, &text).unwrap().glyphs, whole(face, &text), "{face:?} {text}");
        }
    }
}

#[test]
fn threads_shape_beside_each_other() {
    std::thread::scope(|scope| {
        for _ in 0..4 {
            scope.spawn(|| {
                for number in 0..500 {
                    let text = format!("Q{}", number % 50);
                    assert_eq!(*line(Face::Medium, &text).unwrap().text, *text);
                }
            });
        }
    });
}
