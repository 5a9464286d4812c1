//! Which sizes a notice may have, and which sheet format serves each: from `--sheet`, else the job file, else the usual.

use std::path::Path;
use std::sync::Arc;

use super::failure::Failure;
use super::pipeline::{self, Loaded};
use super::report;
use crate::files;
use crate::finding::Finding;
use crate::job::Job;
use crate::length::{Dots, ISO_216, Size};
use crate::notice::Subject;
use crate::sheets::{self, Formats, SheetFormat};

/// The sheet formats of a run and the sizes that they offer.
pub(super) struct Sheets {
    /// Which format serves which size.
    pub formats: Formats,
    /// What is doubtful about formats of the user's own.
    pub findings: Vec<Finding>,
    enclosures: Vec<Size>,
    devices: Vec<Size>,
    standing: Vec<Size>,
    /// How the sizes above are served: almost all that are asked about.
    served: Vec<(Size, Served)>,
}

/// How a size is served.
#[derive(Clone, Copy)]
pub(super) struct Served {
    /// Whether a format holds it.
    pub is_held: bool,
    /// The dots in which it is printed, if it is.
    pub dots: Option<Dots>,
}

/// Sizes for an enclosure's notice where none is wished for, smallest first.
const ENCLOSURE_SIZES: [&str; 4] = ["A7", "A6", "A5", "A4"];
/// Sizes for an isolator's notice, smallest first: in two languages one that opens many circuits needs as much as an enclosure.
const DEVICE_SIZES: [&str; 5] = ["A8", "A7", "A6", "A5", "A4"];
/// Sizes for a standing notice, smallest first.
const STANDING_SIZES: [&str; 5] = DEVICE_SIZES;

fn iso_216(names: &[&str]) -> Vec<Size> {
    let size = |name| ISO_216.into_iter().find(|(known, _)| *known == name).map(|(_, size)| size);
    names.iter().copied().filter_map(size).collect()
}

impl Sheets {
    /// The formats named on the command line, or those of the job with the usual ones behind them.
    pub(super) fn choose(named: &[String], loaded: &Loaded) -> Result<Self, Failure> {
        if named.is_empty() { Self::of_job(loaded) } else { Self::named(named, loaded) }
    }

    /// The sizes that a notice may have, smallest first.
    pub(super) fn sizes(&self, subject: Subject) -> &[Size] {
        match subject {
            Subject::Enclosure => &self.enclosures,
            Subject::Device => &self.devices,
            Subject::Standing => &self.standing,
        }
    }

    /// How a size is served.
    pub(super) fn serve(&self, size: Size) -> Served {
        let known = self.served.iter().find(|(known, _)| *known == size);
        known.map_or_else(|| self.look_up(size), |(_, served)| *served)
    }

    fn named(named: &[String], loaded: &Loaded) -> Result<Self, Failure> {
        let mut findings = Vec::new();
        let formats = named
            .iter()
            .map(|name| format(name, Path::new(""), &loaded.job, &mut findings))
            .collect::<Result<Vec<_>, _>>()?;
        let offered = |usual: &[&str]| {
            let mut sizes: Vec<Size> = formats.iter().flat_map(|format| offered(format, &iso_216(usual))).collect();
            sort(&mut sizes);
            sizes
        };
        let usual: [&[&str]; 3] = [&ENCLOSURE_SIZES, &DEVICE_SIZES, &STANDING_SIZES];
        let [enclosures, devices, standing] = usual.map(offered);
        let formats = match formats.as_slice() {
            [only] => Formats::only(Arc::clone(only)),
            several => several.iter().fold(Formats::default(), |all, one| match one.packing {
                Some(_) => all.with_packed(Arc::clone(one)),
                None => all.with(one.cell(), Arc::clone(one)),
            }),
        };
        Ok(Self { formats, findings, enclosures, devices, standing, served: Vec::new() }.looked_up())
    }

    fn of_job(loaded: &Loaded) -> Result<Self, Failure> {
        let mut sheets = Self {
            formats: Formats::default(),
            findings: Vec::new(),
            enclosures: iso_216(&ENCLOSURE_SIZES),
            devices: iso_216(&DEVICE_SIZES),
            standing: iso_216(&STANDING_SIZES),
            served: Vec::new(),
        };
        for (size, name) in &loaded.job.sheets {
            let Some(parsed) = notice_size(size) else {
                return Err(Failure::could_not_run(format!("job file: `{size}` under [sheets] is not a size")));
            };
            let format = format(name, &loaded.job_folder, &loaded.job, &mut sheets.findings)?;
            if !format.holds(parsed) {
                let cell = format.cell();
                return Err(Failure::could_not_run(format!(
                    "job file: the cells of `{name}` are {cell}, too small for {size}"
                )));
            }
            sheets.formats = sheets.formats.with(parsed, format);
        }
        Ok(sheets.looked_up())
    }

    /// The same, with the formats of its sizes looked up once for all notices.
    fn looked_up(mut self) -> Self {
        let sizes = [&self.enclosures, &self.devices, &self.standing].into_iter().flatten();
        self.served = sizes.map(|size| (*size, self.look_up(*size))).collect();
        self
    }

    fn look_up(&self, size: Size) -> Served {
        let format = self.formats.for_size(size);
        Served { is_held: format.is_some(), dots: format.and_then(|format| format.production.dots()) }
    }
}

/// A named size lies, as notices do; millimetres are width by height as they stand.
fn notice_size(text: &str) -> Option<Size> {
    let size = sheets::parse_size(text)?;
    let named = !text.trim().starts_with(|character: char| character.is_ascii_digit());
    Some(if named { size.turned() } else { size })
}

/// The sizes that a format offers: that of its cells, or every usual one that its room holds.
fn offered(format: &SheetFormat, usual: &[Size]) -> Vec<Size> {
    match format.packing {
        Some(_) => usual.iter().copied().filter(|size| format.holds(*size)).collect(),
        None => vec![format.cell()],
    }
}

fn sort(sizes: &mut Vec<Size>) {
    sizes.sort_by_key(|size| (i64::from(size.width.to_um()) * i64::from(size.height.to_um()), size.width));
    sizes.dedup();
}

/// A format by the name of a built-in one, else by the path of a file in the same form. What is doubtful about it goes
/// to the findings; what is wrong with it ends the run.
pub(super) fn format(
    name: &str,
    folder: &Path,
    job: &Job,
    findings: &mut Vec<Finding>,
) -> Result<Arc<SheetFormat>, Failure> {
    if let Some(format) = sheets::find(name) {
        return Ok(format);
    }
    let path = folder.join(name);
    if !files::exists(&path) {
        let known: Vec<&str> = sheets::built_in().iter().map(|format| format.name.as_str()).collect();
        let hint = match pipeline::nearest(name, &known) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("there are {}; or name a file in the same form", known.join(", ")),
        };
        return Err(Failure::with_hint(format!("no sheet format `{name}`"), hint));
    }
    read(&path, job, findings)
}

fn read(path: &Path, job: &Job, findings: &mut Vec<Finding>) -> Result<Arc<SheetFormat>, Failure> {
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let text = files::read_text(path, crate::job::LARGEST_FILE)?;
    let (format, found) =
        sheets::read_knowing(&job.materials(), &stem, &path.display().to_string(), &text, &job.limits());
    let Some(format) = format else {
        let rendered = report::text::render(&found, false);
        return Err(Failure::could_not_run(format!("the sheet format cannot be used\n{rendered}")));
    };
    findings.extend(found);
    Ok(Arc::new(format))
}
