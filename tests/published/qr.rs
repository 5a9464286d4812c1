//! The square code against ISO/IEC 18004: capacities, codewords, format and version information.

use noticewright::typesetting::code::{Code, Level, QUIET_ZONE, TooLong};

const LEVELS: [Level; 4] = [Level::Low, Level::Medium, Level::Quartile, Level::High];

/// Most characters of each kind (numeric, alphanumeric, byte) that a version holds at each level from Low to High. The
/// table of capacities of ISO/IEC 18004, recomputed by exhaustive search with an independent library.
const CAPACITIES: [(u16, [[usize; 3]; 4]); 11] = [
    (1, [[41, 25, 17], [34, 20, 14], [27, 16, 11], [17, 10, 7]]),
    (2, [[77, 47, 32], [63, 38, 26], [48, 29, 20], [34, 20, 14]]),
    (3, [[127, 77, 53], [101, 61, 42], [77, 47, 32], [58, 35, 24]]),
    (4, [[187, 114, 78], [149, 90, 62], [111, 67, 46], [82, 50, 34]]),
    (5, [[255, 154, 106], [202, 122, 84], [144, 87, 60], [106, 64, 44]]),
    (6, [[322, 195, 134], [255, 154, 106], [178, 108, 74], [139, 84, 58]]),
    (7, [[370, 224, 154], [293, 178, 122], [207, 125, 86], [154, 93, 64]]),
    (8, [[461, 279, 192], [365, 221, 152], [259, 157, 108], [202, 122, 84]]),
    (9, [[552, 335, 230], [432, 262, 180], [312, 189, 130], [235, 143, 98]]),
    (10, [[652, 395, 271], [513, 311, 213], [364, 221, 151], [288, 174, 119]]),
    (40, [[7_089, 4_296, 2_953], [5_596, 3_391, 2_331], [3_993, 2_420, 1_663], [3_057, 1_852, 1_273]]),
];

#[test]
fn every_capacity_is_reached_and_one_more_is_not_held() {
    for (version, by_level) in CAPACITIES {
        for (level, by_kind) in LEVELS.into_iter().zip(by_level) {
            for (character, most) in ["7", "K", "k"].into_iter().zip(by_kind) {
                let fits = Code::of(&character.repeat(most), level).unwrap();
                assert_eq!(fits.side, 17 + 4 * version, "{most} of `{character}` at {level:?}");
                let more = Code::of(&character.repeat(most + 1), level);
                if version == 40 {
                    assert_eq!(more, Err(TooLong { bytes: most + 1 }));
                } else {
                    assert_eq!(more.unwrap().side, 17 + 4 * (version + 1), "{most} and one `{character}` at {level:?}");
                }
            }
        }
    }
}

/// ISO/IEC 18004 Annex I, the worked example `01234567` in 1-M, as recalled; its error correction was recomputed with
/// Reed-Solomon code of another origin.
#[test]
fn the_worked_example_has_its_published_codewords() {
    let code = Code::of("01234567", Level::Medium).unwrap();
    let expected = [
        0x10, 0x20, 0x0C, 0x56, 0x61, 0x80, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, // data
        0xA5, 0x24, 0xD4, 0xC1, 0xED, 0x36, 0xC7, 0x87, 0x2C, 0x55, // error correction
    ];
    assert_eq!(codewords_of_version_1(&code), expected);
}

/// Printable text without a pattern, so that every mask is the best one for some of it.
fn scattered(seed: u64) -> String {
    let mut state = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
    let mut next = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        char::from(b' ' + u8::try_from((state >> 40) % 95).unwrap())
    };
    (0..10 + seed % 30).map(|_| next()).collect()
}

/// ISO/IEC 18004 Annex C, worked example: level M under mask 101, as recalled and recomputed.
#[test]
fn level_m_under_mask_101_has_its_published_format_information() {
    let codes = (0..2_000).map(|seed| Code::of(&scattered(seed), Level::Medium).unwrap());
    let under_mask_5 = codes.filter(|code| mask_of(code) == 0b101).map(|code| format_information(&code));
    let found: Vec<[u16; 2]> = under_mask_5.collect();
    assert!(!found.is_empty());
    assert!(found.iter().all(|copies| *copies == [0b100_0000_1100_1110; 2]), "{found:?}");
}

/// Every level and mask: the BCH code (15, 5) with generator 10100110111 and mask 101010000010010 of ISO/IEC 18004
/// (format information), worked out here.
#[test]
fn format_information_names_level_and_mask_in_both_places() {
    let mut seen = std::collections::BTreeSet::new();
    for (level, indicator) in LEVELS.into_iter().zip([0b01_u16, 0b00, 0b11, 0b10]) {
        for seed in 0..2_000 {
            let code = Code::of(&scattered(seed), level).unwrap();
            let data = indicator << 3 | mask_of(&code);
            let remainder = (0..5).rev().fold(data << 10, |rest, bit| {
                if rest >> (bit + 10) & 1 == 1 { rest ^ 0b101_0011_0111 << bit } else { rest }
            });
            assert_eq!(format_information(&code), [(data << 10 | remainder) ^ 0b101_0100_0001_0010; 2]);
            seen.insert(data);
        }
    }
    assert_eq!(seen.len(), 32, "every level met every mask");
}

/// ISO/IEC 18004 Annex D, worked example: version 7, as recalled and recomputed.
#[test]
fn version_7_has_its_published_version_information() {
    let code = Code::of(&"k".repeat(122), Level::Medium).unwrap();
    assert_eq!(code.side, 45);
    let read = |module: &dyn Fn(u16, u16) -> bool| {
        (0..18).rev().fold(0_u32, |bits, bit| bits << 1 | u32::from(module(bit / 3, 45 - 11 + bit % 3)))
    };
    let upper_right = read(&|row, column| dark(&code, row, column));
    let lower_left = read(&|row, column| dark(&code, column, row));
    assert_eq!((upper_right, lower_left), (0b00_0111_1100_1001_0100, 0b00_0111_1100_1001_0100));
}

/// The quiet zone of four modules (the originator's page on code area).
#[test]
fn quiet_zone_is_four_modules() {
    assert_eq!(QUIET_ZONE, 4);
}

pub(crate) fn dark(code: &Code, row: u16, column: u16) -> bool {
    let words = usize::from(code.side.div_ceil(64));
    code.rows[usize::from(row) * words + usize::from(column / 64)] >> (column % 64) & 1 == 1
}

/// The two copies of the format information, most significant bit first, read where the standard's figure puts them.
fn format_information(code: &Code) -> [u16; 2] {
    let last = code.side - 1;
    let beside_upper_left = (0..15).map(|bit| match bit {
        0..=5 => (8, bit),
        6 => (8, 7),
        7 => (8, 8),
        8 => (7, 8),
        _ => (14 - bit, 8),
    });
    let along_the_others = (0..15).map(|bit| if bit < 7 { (last - bit, 8) } else { (8, last - (14 - bit)) });
    let read = |modules: &mut dyn Iterator<Item = (u16, u16)>| {
        modules.fold(0, |bits, (row, column)| bits << 1 | u16::from(dark(code, row, column)))
    };
    [read(&mut { beside_upper_left }), read(&mut { along_the_others })]
}

fn mask_of(code: &Code) -> u16 {
    (format_information(code)[0] ^ 0b101_0100_0001_0010) >> 10 & 0b111
}

/// The standard's eight conditions, of row and column, under which a module is inverted.
fn inverted(mask: u16, row: u16, column: u16) -> bool {
    let (i, j) = (row, column);
    match mask {
        0 => (i + j) % 2 == 0,
        1 => i % 2 == 0,
        2 => j % 3 == 0,
        3 => (i + j) % 3 == 0,
        4 => (i / 2 + j / 3) % 2 == 0,
        5 => (i * j) % 2 + (i * j) % 3 == 0,
        6 => ((i * j) % 2 + (i * j) % 3) % 2 == 0,
        _ => ((i + j) % 2 + (i * j) % 3) % 2 == 0,
    }
}

/// The 26 codewords of a version 1 symbol: columns two by two from the right, upwards and downwards in turn, leaving
/// out finder patterns, their separators, format information and timing.
fn codewords_of_version_1(code: &Code) -> Vec<u8> {
    let taken = |row: u16, column: u16| {
        row == 6 || column == 6 || (row < 9 && column < 9) || (row < 9 && column > 12) || (row > 12 && column < 9)
    };
    let mut bits = Vec::new();
    let mut upwards = true;
    for right in [20, 18, 16, 14, 12, 10, 8, 5, 3, 1] {
        let rows: Vec<u16> = if upwards { (0..21).rev().collect() } else { (0..21).collect() };
        for (row, column) in rows.into_iter().flat_map(|row| [(row, right), (row, right - 1)]) {
            if !taken(row, column) {
                bits.push(dark(code, row, column) != inverted(mask_of(code), row, column));
            }
        }
        upwards = !upwards;
    }
    bits.chunks(8).map(|word| word.iter().fold(0, |byte, bit| byte << 1 | u8::from(*bit))).collect()
}
