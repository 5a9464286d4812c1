//! The code held against the crate's own whole call, ISO/IEC 18004 and a reader that is not ours.

use proptest::prelude::*;
use qrcode::QrCode;

use super::*;

const LEVELS: [Level; 4] = [Level::Low, Level::Medium, Level::Quartile, Level::High];

/// The crate's whole call: the same bits, its own drawing and its own choice of mask.
fn whole(payload: &str, level: Level) -> Code {
    let bits = encode(payload, level.correction()).unwrap();
    let code = QrCode::with_bits(bits, level.correction()).unwrap();
    if payload.is_ascii() {
        let direct = QrCode::with_error_correction_level(payload, level.correction()).unwrap();
        assert!(direct.to_colors() == code.to_colors());
    }
    let side = code.width();
    let mut rows = Vec::new();
    for row in code.to_colors().chunks(side) {
        for part in row.chunks(64) {
            rows.push(part.iter().rev().fold(0, |word, color| word << 1 | u64::from(*color == Color::Dark)));
        }
    }
    Code { side: u16::try_from(side).unwrap(), rows }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(250))]

    #[test]
    fn the_choice_is_the_crates_own(payload in "(https://[a-z]{1,12}\\.example/)?[ -~]{0,200}", level in 0_usize..4) {
        let code = Code::of(&payload, LEVELS[level]).unwrap();
        prop_assert_eq!(Code::blank(&payload, LEVELS[level]).unwrap().side, code.side);
        prop_assert_eq!(code, whole(&payload, LEVELS[level]));
    }

    #[test]
    fn the_choice_is_the_crates_own_beyond_ascii(payload in "\\PC{0,60}", level in 0_usize..4) {
        prop_assert_eq!(Code::of(&payload, LEVELS[level]).unwrap(), whole(&payload, LEVELS[level]));
    }
}

/// Record links as a job gives them: the case that is printed thousands of times over.
#[test]
fn the_choice_is_the_crates_own_for_hundreds_of_links() {
    for number in 0..400 {
        let link = format!("https://records.example/saltmere/{:x}/CH3-JB{number}/1", number * 7_919);
        let level = LEVELS[number % 4];
        assert_eq!(Code::of(&link, level).unwrap(), whole(&link, level), "{link}");
    }
}

/// One payload for every version, so that every stencil and the drawing beyond them is compared.
#[test]
fn the_choice_is_the_crates_own_in_every_version() {
    for level in LEVELS {
        let (mut sides, mut length, mut begun, mut step) = (Vec::new(), 0_usize, 0, 4);
        loop {
            let payload: String = (0..length).map(|at| char::from(b'a' + (at * at % 26) as u8)).collect();
            let Ok(code) = Code::of(&payload, level) else { break };
            if sides.last() == Some(&code.side) {
                length += (step / 4).max(1);
                continue;
            }
            sides.push(code.side);
            assert_eq!(code, whole(&payload, level), "{length} bytes at {level:?}");
            // Each version holds a little more than the one before: most of that step leads to the next, none is missed.
            step = ((length - begun) * 3 / 4).max(2);
            begun = length;
            length += step;
        }
        assert_eq!(sides, (1..=40).map(|version| 17 + 4 * version).collect::<Vec<u16>>(), "at {level:?}");
    }
}

#[test]
fn beyond_version_40_is_refused() {
    // ISO/IEC 18004, table of capacities: 40-L holds 2,953 bytes, 40-H 1,273.
    assert_eq!(Code::of(&"a".repeat(2_953), Level::Low).unwrap().side, 177);
    assert_eq!(Code::of(&"a".repeat(2_954), Level::Low), Err(TooLong { bytes: 2_954 }));
    assert_eq!(Code::of(&"a".repeat(1_274), Level::High), Err(TooLong { bytes: 1_274 }));
    assert_eq!(Code::of(&"é".repeat(1_500), Level::Low), Err(TooLong { bytes: 3_000 }));
}

#[test]
fn level_follows_what_wears_the_print() {
    let indoor = Environment { indoor: true, ..Environment::default() };
    assert_eq!(level_for(&indoor), Level::Medium);
    assert_eq!(level_for(&Environment::default()), Level::Medium);
    assert_eq!(level_for(&Environment { outdoor: true, ..indoor }), Level::Quartile);
    assert_eq!(level_for(&Environment { sun: true, ..indoor }), Level::Quartile);
    assert_eq!(level_for(&Environment { washdown: true, ..indoor }), Level::Quartile);
    assert_eq!(level_for(&Environment { solvent: true, ..indoor }), Level::Quartile);
    assert_eq!(level_for(&Environment { heat: Some(90), ..indoor }), Level::Quartile);
    assert_eq!(level_for(&Environment { cold: Some(-28), ..indoor }), Level::Quartile);
}
