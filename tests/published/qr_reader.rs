//! The square code read back by a reader that is not ours (`rxing`), from a plain rasterisation.

use noticewright::typesetting::code::{Code, Level, QUIET_ZONE};
use rxing::BarcodeFormat;

use super::qr::dark;

/// Pixels a module.
const SCALE: u32 = 4;

fn read(code: &Code) -> String {
    let side = u32::from(code.side + 2 * QUIET_ZONE) * SCALE;
    let zone = u32::from(QUIET_ZONE);
    let symbol = zone..zone + u32::from(code.side);
    let mut pixels = Vec::new();
    for (y, x) in (0..side).flat_map(|y| (0..side).map(move |x| (y / SCALE, x / SCALE))) {
        let at = |place: u32| u16::try_from(place - zone).unwrap();
        let black = symbol.contains(&y) && symbol.contains(&x) && dark(code, at(y), at(x));
        pixels.push(if black { 0 } else { 255 });
    }
    let read = rxing::helpers::detect_in_luma(pixels, side, side, Some(BarcodeFormat::QR_CODE)).unwrap();
    read.getText().to_owned()
}

#[test]
fn links_of_every_length_come_back_as_they_were() {
    for level in [Level::Low, Level::Medium, Level::Quartile, Level::High] {
        for length in (0..260).step_by(23) {
            let tail: String = (0..length).map(|at| char::from(b'!' + u8::try_from(at * 7 % 94).unwrap())).collect();
            let link = format!("https://records.example/n/{tail}");
            assert_eq!(read(&Code::of(&link, level).unwrap()), link, "at {level:?}");
        }
    }
}

#[test]
fn record_numbers_come_back_as_they_were() {
    for number in ["CH3-JB2/1", "0001234", "SALTMERE 40 / REV B", "Q7@Switchroom 1, board C"] {
        assert_eq!(read(&Code::of(number, Level::Medium).unwrap()), number);
    }
}

/// Runs of UTF-8 whose bytes look like Shift JIS are the trap: left to themselves they are packed, and read, as kanji.
#[test]
fn text_beyond_ascii_comes_back_as_it_was() {
    for text in [
        "Łódź – 5 €",
        "Kälteraum 3 / Klemmenkasten Ä",
        "あいうえおかきくけこ",
        "点検点検点検点検",
        "Tŷ Gwyn – Ŵ",
        "Ω√½²",
    ] {
        for level in [Level::Low, Level::Medium, Level::Quartile, Level::High] {
            assert_eq!(read(&Code::of(text, level).unwrap()), text, "at {level:?}");
        }
    }
}
