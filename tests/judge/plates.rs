//! The plates of a page, one for each ink, as Ghostscript parts them.
#![allow(dead_code, unreachable_pub, reason = "each test crate uses its own part of this")]

use std::collections::BTreeMap;
use std::path::Path;

/// How much of each ink stands where.
pub struct Plates {
    plates: BTreeMap<String, Plate>,
    dots_a_mm: f64,
}

struct Plate {
    width: usize,
    dots: Vec<u8>,
    /// Whether 255 is all of the ink, or none of it.
    dark_is_high: bool,
}

impl Plates {
    /// The plates of the first page; `None` where Ghostscript is not installed.
    pub fn of(file: &Path, dots_an_inch: f64) -> Option<Self> {
        let folder = tempfile::tempdir().unwrap();
        let (dots, out) =
            (format!("-r{dots_an_inch}"), format!("-sOutputFile={}", folder.path().join("p.tif").display()));
        let usual = ["-q", "-dBATCH", "-dNOPAUSE", "-dSAFER", "-sDEVICE=tiffsep", "-sCompression=none", "-dLastPage=1"];
        crate::judge::run("gs", &[&usual[..], &[dots.as_str(), &out, "FILE"]].concat(), file)?;
        let mut plates = BTreeMap::new();
        for entry in std::fs::read_dir(folder.path()).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            // The composite picture has no ink's name in brackets.
            if let Some(ink) = name.split_once('(').and_then(|(_, rest)| rest.split_once(')')) {
                plates.insert(ink.0.to_owned(), plate(&std::fs::read(&path).unwrap()));
            }
        }
        Some(Self { plates, dots_a_mm: dots_an_inch / 25.4 })
    }

    /// The inks in alphabetical order.
    pub fn names(&self) -> Vec<&str> {
        self.plates.keys().map(String::as_str).collect()
    }

    /// The most of an ink in a part of the page: left, top, right and bottom in millimetres. 1 is all of it.
    pub fn most(&self, ink: &str, part: [f64; 4]) -> f64 {
        f64::from(self.dots(ink, part).max().unwrap()) / 255.0
    }

    /// The least of an ink in a part of the page.
    pub fn least(&self, ink: &str, part: [f64; 4]) -> f64 {
        f64::from(self.dots(ink, part).min().unwrap()) / 255.0
    }

    fn dots<'a>(&'a self, ink: &str, part: [f64; 4]) -> impl Iterator<Item = u8> + 'a {
        let plate = &self.plates[ink];
        let [left, top, right, bottom] = part.map(|mm| (mm * self.dots_a_mm).round() as usize);
        let row = move |row: usize| &plate.dots[row * plate.width + left..row * plate.width + right];
        (top..bottom).flat_map(row).map(|dot| if plate.dark_is_high { *dot } else { 255 - dot })
    }
}

/// An uncompressed picture of one byte a dot in the tagged form (TIFF 6.0), lowest byte first.
fn plate(bytes: &[u8]) -> Plate {
    let two = |at: usize| usize::from(u16::from_le_bytes(bytes[at..at + 2].try_into().unwrap()));
    let four = |at: usize| u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap()) as usize;
    assert_eq!(&bytes[..4], b"II*\0");
    let directory = four(4);
    let entries: BTreeMap<usize, usize> =
        (0..two(directory)).map(|n| directory + 2 + n * 12).map(|at| (two(at), at)).collect();
    let list = |tag: usize| -> Vec<usize> {
        let at = entries[&tag];
        let (wide, count) = (two(at + 2) == 4, four(at + 4));
        let size = if wide { 4 } else { 2 };
        let start = if count * size <= 4 { at + 8 } else { four(at + 8) };
        (0..count).map(|n| start + n * size).map(|at| if wide { four(at) } else { two(at) }).collect()
    };
    assert_eq!((list(258), list(259)), (vec![8], vec![1]), "eight bits a dot, no compression");
    let mut dots = Vec::new();
    for (start, size) in list(273).into_iter().zip(list(279)) {
        dots.extend_from_slice(&bytes[start..start + size]);
    }
    Plate { width: list(256)[0], dots, dark_is_high: list(262) == [0] }
}
