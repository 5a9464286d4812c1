//! A colour profile of four inks made up for tests (ICC.1:2001-04, tables of one byte): nobody's printing process, no
//! measured data.
#![allow(dead_code, unreachable_pub, reason = "each test crate uses its own part of this")]

/// What the profile calls itself.
pub const NAME: &str = "Invented four-ink printer for tests";

/// The profile as a file.
pub fn profile() -> Vec<u8> {
    let inks = table(4, 3, &inks_to_colours());
    let colours = table(3, 4, &colours_to_inks());
    let gamut = table(3, 1, &[0; 8]);
    let parts: [(Vec<u8>, &[&[u8; 4]]); 6] = [
        (description(), &[b"desc"]),
        (text("Made up for tests; no rights are claimed."), &[b"cprt"]),
        (white(), &[b"wtpt"]),
        (inks, &[b"A2B0", b"A2B1", b"A2B2"]),
        (colours, &[b"B2A0", b"B2A1", b"B2A2"]),
        (gamut, &[b"gamt"]),
    ];
    let entries: usize = parts.iter().map(|(_, tags)| tags.len()).sum();
    let mut at = 128 + 4 + entries * 12;
    let (mut contents, mut data) = (four(entries).to_vec(), Vec::new());
    for (part, tags) in &parts {
        for tag in *tags {
            contents.extend([&tag[..], &four(at), &four(part.len())].concat());
        }
        data.extend_from_slice(part);
        data.resize(data.len().next_multiple_of(4), 0);
        at += part.len().next_multiple_of(4);
    }
    [header(at), contents, data].concat()
}

fn four(number: usize) -> [u8; 4] {
    u32::try_from(number).unwrap().to_be_bytes()
}

/// The header of 128 bytes: a printer of four inks, seen through Lab under D50.
fn header(size: usize) -> Vec<u8> {
    let mut header = vec![0; 128];
    let mut put = |at: usize, bytes: &[u8]| header[at..at + bytes.len()].copy_from_slice(bytes);
    put(0, &four(size));
    put(8, &[2, 0x40, 0, 0]);
    put(12, b"prtrCMYKLab ");
    put(24, &[0x07, 0xEA, 0, 11, 0, 24]);
    put(36, b"acsp");
    put(68, &d50());
    header
}

fn d50() -> Vec<u8> {
    [0xF6D6, 0x1_0000, 0xD32D].into_iter().flat_map(four).collect()
}

fn white() -> Vec<u8> {
    [b"XYZ \0\0\0\0".to_vec(), d50()].concat()
}

fn text(words: &str) -> Vec<u8> {
    [b"text\0\0\0\0", words.as_bytes(), b"\0"].concat()
}

fn description() -> Vec<u8> {
    let plain = [NAME.as_bytes(), b"\0"].concat();
    [b"desc\0\0\0\0", &four(plain.len())[..], &plain, &[0; 4 + 4 + 2 + 1 + 67]].concat()
}

/// A table of the type `mft1` with two steps to each input.
fn table(inputs: u8, outputs: u8, grid: &[u8]) -> Vec<u8> {
    let ramp = |channels: u8| (0..channels).flat_map(|_| 0..=255_u8).collect::<Vec<u8>>();
    let matrix: Vec<u8> = (0..9).flat_map(|place| four(if place % 4 == 0 { 0x1_0000 } else { 0 })).collect();
    [b"mft1\0\0\0\0".to_vec(), vec![inputs, outputs, 2, 0], matrix, ramp(inputs), grid.to_vec(), ramp(outputs)].concat()
}

/// Lab of every mixture of full inks, cyan varying slowest.
fn inks_to_colours() -> Vec<u8> {
    let lab = |inks: u8| {
        let [c, m, y, k] = [3, 2, 1, 0].map(|bit| f64::from(inks >> bit & 1));
        let light = (1.0 - k) * (1.0 - 0.35 * c - 0.4 * m - 0.08 * y);
        let (a, b) = ((1.0 - k) * (70.0 * m - 35.0 * c), (1.0 - k) * (90.0 * y - 50.0 * c));
        [light * 255.0, 128.0 + a, 128.0 + b].map(|value| value.clamp(0.0, 255.0) as u8)
    };
    (0..16).flat_map(lab).collect()
}

/// Inks for the corners of Lab: black alone, by lightness.
fn colours_to_inks() -> Vec<u8> {
    (0..8).flat_map(|corner: u8| [0, 0, 0, if corner >> 2 == 0 { 255 } else { 0 }]).collect()
}
