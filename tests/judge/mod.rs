//! Judges that are not ours: programs on the machine, and a renderer and a code reader from other hands.
#![allow(dead_code, unreachable_pub, reason = "each test crate uses its own part of this")]

use std::path::Path;
use std::process::Command;

use hayro::hayro_interpret::InterpreterSettings;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings};

/// Runs a program that must succeed, and returns what it printed. A program that is not installed is skipped loudly, or
/// fails the test where `REQUIRE_OUTSIDE` is `1`.
pub fn run(program: &str, arguments: &[&str], file: &Path) -> Option<String> {
    let mut command = Command::new(program);
    command.args(arguments.iter().map(|argument| argument.replace("FILE", &file.display().to_string())));
    let output = match command.output() {
        Ok(output) => output,
        Err(error) => {
            assert!(std::env::var_os("REQUIRE_OUTSIDE").is_none_or(|value| value != "1"), "{program}: {error}");
            eprintln!("SKIPPED: {program} is not installed, so nobody outside judged this");
            return None;
        }
    };
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    let complaint = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{program} {arguments:?}: {}\n{text}\n{complaint}", output.status);
    Some(text + &complaint)
}

/// A file that lives as long as the value.
pub fn file(bytes: &[u8]) -> tempfile::NamedTempFile {
    let mut file = tempfile::Builder::new().suffix(".pdf").tempfile().unwrap();
    std::io::Write::write_all(&mut file, bytes).unwrap();
    file
}

/// A page drawn in red, green and blue.
pub struct Raster {
    pub width: usize,
    pub height: usize,
    pub pixels: Vec<[u8; 3]>,
    dots_a_mm: f64,
}

impl Raster {
    /// The colour at a place in millimetres.
    pub fn at(&self, x: f64, y: f64) -> [u8; 3] {
        self.pixels[(y * self.dots_a_mm) as usize * self.width + (x * self.dots_a_mm) as usize]
    }

    /// The part of a raster with its upper left corner and size in millimetres, in grey.
    pub fn grey(&self, [x, y, width, height]: [f64; 4]) -> (Vec<u8>, u32, u32) {
        let dots = |mm: f64| (mm * self.dots_a_mm).round() as usize;
        let (left, top, width, height) = (dots(x), dots(y), dots(width), dots(height));
        let rows = (top..top + height).map(|row| row * self.width);
        let pixels = rows.flat_map(|row| &self.pixels[row + left..row + left + width]);
        let grey = pixels.map(|pixel| (pixel.iter().map(|part| u32::from(*part)).sum::<u32>() / 3) as u8).collect();
        (grey, width as u32, height as u32)
    }

    /// Where dark runs start and end along a level line, in millimetres.
    pub fn dark_along(&self, y: f64) -> Vec<(f64, f64)> {
        let row = (y * self.dots_a_mm) as usize * self.width;
        let dark: Vec<bool> = self.pixels[row..row + self.width].iter().map(|pixel| pixel[0] < 128).collect();
        let mut runs = Vec::new();
        let mut start = None;
        for (x, dark) in dark.into_iter().chain([false]).enumerate() {
            match (dark, start) {
                (true, None) => start = Some(x),
                (false, Some(from)) => {
                    runs.push((from as f64 / self.dots_a_mm, x as f64 / self.dots_a_mm));
                    start = None;
                }
                (true, Some(_)) | (false, None) => {}
            }
        }
        runs
    }
}

/// A page, from 0, drawn by hayro.
pub fn hayro(bytes: &[u8], page: usize, dots_an_inch: f64) -> Raster {
    let pdf = hayro::hayro_syntax::Pdf::new(bytes.to_vec()).unwrap();
    let scale = (dots_an_inch / 72.0) as f32;
    let settings = PixmapSettings { x_scale: scale, y_scale: scale, bg_color: WHITE };
    let (cache, interpreter) = (RenderCache::new(), InterpreterSettings::default());
    let pixmap = hayro::render(&pdf.pages()[page], &cache, &interpreter, &RenderSettings::default(), &settings);
    let pixels = pixmap.data_as_u8_slice().chunks_exact(4).map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect();
    let (width, height) = (usize::from(pixmap.width()), usize::from(pixmap.height()));
    Raster { width, height, pixels, dots_a_mm: dots_an_inch / 25.4 }
}

/// A page, from 1, drawn by poppler; `None` where it is not installed.
pub fn poppler(file: &Path, page: usize, dots_an_inch: f64) -> Option<Raster> {
    let folder = tempfile::tempdir().unwrap();
    let stem = folder.path().join("page");
    let (page, dots) = (page.to_string(), dots_an_inch.to_string());
    let stem_text = stem.display().to_string();
    run("pdftoppm", &["-singlefile", "-f", &page, "-l", &page, "-r", &dots, "FILE", &stem_text], file)?;
    Some(ppm(&read(&stem.with_extension("ppm")), dots_an_inch))
}

/// A page, from 1, drawn by Ghostscript; `None` where it is not installed.
pub fn ghostscript(file: &Path, page: usize, dots_an_inch: f64) -> Option<Raster> {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("page.ppm");
    let (first, last) = (format!("-dFirstPage={page}"), format!("-dLastPage={page}"));
    let (dots, output) = (format!("-r{dots_an_inch}"), format!("-sOutputFile={}", out.display()));
    let antialias = ["-dTextAlphaBits=4", "-dGraphicsAlphaBits=4"];
    let mut arguments = vec!["-q", "-dBATCH", "-dNOPAUSE", "-dSAFER", "-sDEVICE=ppmraw", &dots, &first, &last, &output];
    arguments.extend(antialias);
    arguments.push("FILE");
    run("gs", &arguments, file)?;
    Some(ppm(&read(&out), dots_an_inch))
}

fn read(path: &Path) -> Vec<u8> {
    std::fs::read(path).unwrap()
}

/// A picture in the binary portable pixmap form.
fn ppm(bytes: &[u8], dots_an_inch: f64) -> Raster {
    let mut numbers = Vec::new();
    let mut at = 2;
    assert_eq!(&bytes[..2], b"P6");
    while numbers.len() < 3 {
        at += bytes[at..].iter().take_while(|byte| byte.is_ascii_whitespace()).count();
        if bytes[at] == b'#' {
            at += bytes[at..].iter().take_while(|byte| **byte != b'\n').count();
            continue;
        }
        let digits = bytes[at..].iter().take_while(|byte| byte.is_ascii_digit()).count();
        numbers.push(std::str::from_utf8(&bytes[at..at + digits]).unwrap().parse::<usize>().unwrap());
        at += digits;
    }
    let pixels = bytes[at + 1..].chunks_exact(3).map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect();
    Raster { width: numbers[0], height: numbers[1], pixels, dots_a_mm: dots_an_inch / 25.4 }
}

/// The text of a code in a part of a page, read by rxing.
pub fn decoded(raster: &Raster, part: [f64; 4]) -> Result<String, String> {
    let (grey, width, height) = raster.grey(part);
    let format = Some(rxing::BarcodeFormat::QR_CODE);
    let found = rxing::helpers::detect_in_luma_slice(&grey, width, height, format);
    found.map(|found| found.getText().to_owned()).map_err(|error| error.to_string())
}
