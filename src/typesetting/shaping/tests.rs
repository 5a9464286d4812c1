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
    let misfit = Shaper::new().line(Face::Bold, "Chamber 点 3").unwrap_err();
    assert_eq!(misfit, Misfit::MissingGlyph { character: '点', text: "Chamber 点 3".to_owned() });
}

#[test]
fn the_cache_gives_the_same_line_again_and_keeps_within_its_bounds() {
    let shaper = Shaper::new();
    let first = shaper.line(Face::Bold, "Q7").unwrap();
    assert!(Arc::ptr_eq(&first, &shaper.line(Face::Bold, "Q7").unwrap()));
    for number in 0..(SHARDS * LINES + 5_000) {
        shaper.line(Face::Regular, &number.to_string()).unwrap();
    }
    assert!(shaper.shards.iter().all(|shard| shard.read().unwrap().len() <= LINES));
    assert_eq!(*shaper.line(Face::Bold, "Q7").unwrap(), *first);
}

#[test]
fn many_threads_may_share_one_shaper() {
    let shaper = Shaper::new();
    std::thread::scope(|scope| {
        for _ in 0..4 {
            scope.spawn(|| {
                for number in 0..500 {
                    let text = format!("Q{}", number % 50);
                    assert_eq!(*shaper.line(Face::Medium, &text).unwrap().text, *text);
                }
            });
        }
    });
}
