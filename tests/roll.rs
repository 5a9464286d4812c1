//! The demo site on label rolls: pictures dot by dot and documents, judged by readers and renderers that are not ours.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

mod judge;
#[path = "roll/picture.rs"]
mod picture;

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use rayon::prelude::*;
use serde_json::Value;

use noticewright::length::Dots;
use picture::{Code, Picture};

/// The demo on rolls of one density.
struct Printed {
    dots: Dots,
    folder: tempfile::TempDir,
    report: Value,
}

/// Rolls of every size that the demo's notices take, in the form of a sheet format of one's own.
const SIZES: [(&str, &str); 7] = [
    ("A8", "74x52"),
    ("A7", "105x74"),
    ("A6", "148x105"),
    ("A5", "210x148"),
    ("A4", "297x210"),
    // Two standing notices.
    ("150x100mm", "150x100"),
    ("100x26mm", "100x26"),
];

/// The notices of a run: all at the coarsest, and fewer of the larger pictures, which take their time.
fn wanted(dots: Dots) -> (&'static str, usize) {
    match dots {
        Dots::Dpi203 => ("*", 150),
        Dots::Dpi300 => ("CH*", 10),
        Dots::Dpi600 => ("CH3-JB*", 2),
    }
}

/// One run for each density.
fn printed() -> &'static [Printed] {
    static PRINTED: OnceLock<Vec<Printed>> = OnceLock::new();
    PRINTED.get_or_init(|| Dots::ALL.into_par_iter().map(print).collect())
}

fn print(dots: Dots) -> Printed {
    let folder = tempfile::tempdir().unwrap();
    let mut command = Command::new(env!("CARGO_BIN_EXE_noticewright"));
    command.args(["labels", "--report", "json", "--only", wanted(dots).0]);
    for (name, paper) in SIZES {
        let file = folder.path().join(format!("{name}.toml"));
        let (from, to) = ("paper = \"A7\"", format!("paper = \"{paper}\""));
        let text = include_str!("../label-layouts/roll-a7-203.toml").replace(from, &to);
        let text = text.replace("cell = \"A7\"", &format!("cell = \"{paper}\""));
        let text = text.replace("dots_per_inch = 203", &format!("dots_per_inch = {}", dots.per_inch()));
        assert!(text.contains(paper) && text.contains(&dots.per_inch().to_string()));
        std::fs::write(&file, text).unwrap();
        command.arg("--sheet").arg(file);
    }
    let survey = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/survey.csv");
    command.arg("-o").arg(folder.path().join("notices.pdf")).arg("--png").arg(folder.path().join("dots")).arg(survey);
    let output = command.output().unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    Printed { dots, report: serde_json::from_slice(&output.stdout).unwrap(), folder }
}

impl Printed {
    /// Every notice with its picture.
    fn notices(&self) -> Vec<(&Value, PathBuf)> {
        let notices = self.report["notices"].as_array().unwrap().iter().filter(|notice| notice["page"].is_u64());
        let path = |notice: &Value| {
            let name = noticewright::files::safe_name(notice["number"].as_str().unwrap());
            self.folder.path().join("dots").join(format!("{name}.png"))
        };
        let notices: Vec<_> = notices.map(|notice| (notice, path(notice))).collect();
        assert!(notices.len() >= wanted(self.dots).1, "{} notices", notices.len());
        notices
    }

    /// Every document, with the paper of its pages in millimetres.
    fn documents(&self) -> Vec<(PathBuf, [f64; 2])> {
        let there = SIZES.into_iter().filter_map(|(name, size)| {
            let path = self.folder.path().join(format!("notices-{}.pdf", name.to_lowercase()));
            let (width, height) = size.split_once('x').unwrap();
            path.exists().then(|| (path, [width.parse().unwrap(), height.parse().unwrap()]))
        });
        let there: Vec<_> = there.collect();
        if there.is_empty() {
            let [width, height] = [0, 1].map(|side| self.notices()[0].0["size_mm"][side].as_f64().unwrap());
            return vec![(self.folder.path().join("notices.pdf"), [width, height])];
        }
        there
    }

    /// The document in which a notice lies.
    fn document_of(&self, notice: &Value) -> PathBuf {
        let size = [0, 1].map(|side| notice["size_mm"][side].as_f64().unwrap());
        self.documents().into_iter().find(|(_, paper)| *paper == size).unwrap().0
    }
}

/// Dots an inch as a renderer wants them: 203 dpi is 8 dots a millimetre (common practice).
fn resolution(dots: Dots) -> f64 {
    dots.per_mm() * 25.4
}

#[test]
fn each_picture_is_its_label_in_whole_dots_and_its_code_is_read_at_them() {
    for run in printed() {
        run.notices().par_iter().for_each(|(notice, path)| {
            let (picture, name) = (Picture::read(path), path.display());
            let side = |index: usize| (notice["size_mm"][index].as_f64().unwrap() * run.dots.per_mm()).round() as u32;
            assert_eq!((picture.width, picture.height, picture.bits), (side(0), side(1), 1), "{name}");
            assert!((f64::from(picture.a_metre) - run.dots.per_mm() * 1_000.0).abs() < 0.5, "{}", picture.a_metre);
            let (code, wanted) = (Code::find(&picture), notice["qr"].as_str());
            assert_eq!(code.is_some(), wanted.is_some(), "{name}");
            let (Some(code), Some(wanted)) = (code, wanted) else { return };
            assert_eq!(code.text(&picture).as_deref(), Ok(wanted), "{name}");
            // 0.4 mm is the least that a telephone reads from a hand's breadth (common practice).
            assert!(f64::from(code.module) / run.dots.per_mm() >= 0.4, "{name}: {} dots", code.module);
            assert_eq!(code.uneven(&picture), None, "{name}");
        });
    }
}

#[test]
fn zbar_reads_each_code_at_its_own_dots() {
    for run in printed() {
        let (mut wanted, mut paths) = (Vec::new(), Vec::new());
        for (notice, path) in run.notices().into_iter().filter(|(notice, _)| notice["qr"].is_string()) {
            wanted.push(notice["qr"].as_str().unwrap().to_owned());
            paths.push(path.display().to_string());
        }
        let options = ["--quiet", "--raw", "-Sdisable", "-Sqrcode.enable"].map(str::to_owned);
        let arguments: Vec<String> = options.into_iter().chain(paths).collect();
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        let Some(said) = judge::run("zbarimg", &arguments, Path::new("")) else { return };
        // Builds of zbar that look for a message bus complain where there is none.
        let mut found: Vec<&str> = said.lines().filter(|line| !line.starts_with("Connection ")).collect();
        found.sort_unstable();
        wanted.sort_unstable();
        assert_eq!(found, wanted, "{:?}", run.dots);
    }
}

#[test]
fn each_page_is_one_label_and_nothing_is_wrong_with_the_document() {
    for run in printed() {
        let mut pages = 0;
        for (path, paper) in run.documents() {
            let Some(said) = judge::run("pdfinfo", &["-box", "-f", "1", "-l", "10000", "FILE"], &path) else { return };
            for line in said.lines().filter(|line| line.starts_with("Page ") && line.contains("MediaBox")) {
                let numbers: Vec<f64> = line.split_whitespace().skip(3).filter_map(|word| word.parse().ok()).collect();
                for (found, wanted) in numbers[2..].iter().zip(paper) {
                    // The nearest whole dot; the reader says hundredths of a point.
                    let (found, wanted) = (found / 72.0 * 25.4 * run.dots.per_mm(), wanted * run.dots.per_mm());
                    assert!((found - wanted.round()).abs() < 0.05, "{line}");
                }
                pages += 1;
            }
            if let Some(said) = judge::run("qpdf", &["--check", "FILE"], &path) {
                assert!(said.contains("No syntax or stream encoding errors") && !said.contains("WARNING"), "{said}");
            }
            let strict = ["-dPDFSTOPONERROR", "-dPDFSTOPONWARNING", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-q"];
            let arguments = [&strict[..], &["-sDEVICE=nullpage", "FILE"]].concat();
            if let Some(said) = judge::run("gs", &arguments, &path) {
                assert_eq!(said, "");
            }
            judge::run("mutool", &["draw", "-q", "-r", "18", "-o", "/dev/null", "FILE", "1"], &path);
        }
        assert_eq!(pages, run.notices().len(), "one page a notice");
    }
}

/// A renderer at the head's own density prints the same dots of a code as the picture has, from a document of vectors.
#[test]
fn a_renderer_puts_each_module_on_the_same_dots() {
    for run in printed() {
        let codes: Vec<_> = run.notices().into_iter().filter(|(notice, _)| notice["qr"].is_string()).collect();
        // Rendering takes its time; a few will do.
        codes.iter().step_by(codes.len().div_ceil(6)).collect::<Vec<_>>().into_par_iter().for_each(|(notice, path)| {
            let (picture, document) = (Picture::read(path), run.document_of(notice));
            let code = Code::find(&picture).unwrap();
            let page = usize::try_from(notice["page"].as_u64().unwrap()).unwrap();
            let rasters = [
                judge::poppler(&document, page, resolution(run.dots)),
                judge::ghostscript(&document, page, resolution(run.dots)),
            ];
            for (raster, by) in rasters.into_iter().zip(["poppler", "ghostscript"]) {
                let Some(raster) = raster else { continue };
                let rendered = Picture::of(&raster);
                assert_eq!(code.differs(&picture, &rendered), None, "{by}: {}", path.display());
                assert_eq!(
                    code.text(&rendered).as_deref(),
                    Ok(notice["qr"].as_str().unwrap()),
                    "{by}: {}",
                    path.display()
                );
            }
        });
    }
}
