//! Single notices as pictures: a drawing or the pixels of each, in folders of their own.

use std::io::Write as _;
use std::path::{Path, PathBuf};

use rayon::prelude::*;

use super::failure::Failure;
use super::outputs::Outputs;
use super::printing::{Press, Printable};
use super::report::json::OutputEntry;
use crate::files;
use crate::limits::Limits;
use crate::sheets::{Palette, Plan, SheetFormat};
use crate::writers::png::{self, PictureError};
use crate::writers::svg;

/// Where pictures of the single notices go, if they are wanted.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Folders<'a> {
    /// For drawings.
    pub svg: Option<&'a Path>,
    /// For pixels.
    pub png: Option<&'a Path>,
}

/// What a picture is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Form {
    Svg,
    Png,
}

impl Form {
    const fn ending(self) -> &'static str {
        match self {
            Self::Svg => "svg",
            Self::Png => "png",
        }
    }
}

/// Pictures drawn at the same time, and held in memory until they are written.
const AT_A_TIME: usize = 64;

/// The pictures of a run, each with a place that was checked.
pub(super) struct Pictures<'a> {
    plan: &'a Plan,
    printable: &'a [Printable<'a>],
    most: usize,
    wanted: Vec<(Form, Vec<PathBuf>)>,
}

impl<'a> Pictures<'a> {
    /// Checks every place and every size before anything is written.
    pub(super) fn check(
        folders: Folders<'_>,
        (plan, printable): (&'a Plan, &'a [Printable<'a>]),
        press: &Press<'_>,
        limits: &Limits,
    ) -> Result<Self, Failure> {
        let mut pictures = Self { plan, printable, most: limits.picture_pixels, wanted: Vec::new() };
        for (form, folder) in [(Form::Svg, folders.svg), (Form::Png, folders.png)] {
            let Some(folder) = folder else { continue };
            if form == Form::Png {
                pictures.check_pixels()?;
            }
            files::make_folder(folder)?;
            let path = |one: &Printable<'_>| {
                folder.join(format!("{}.{}", files::safe_name(&one.notice.number), form.ending()))
            };
            let paths: Vec<PathBuf> = printable.iter().map(path).collect();
            for path in &paths {
                Outputs::check(std::slice::from_ref(path), press.keep, press.general)?;
            }
            pictures.wanted.push((form, paths));
        }
        Ok(pictures)
    }

    fn check_pixels(&self) -> Result<(), Failure> {
        self.printable.iter().try_for_each(|one| {
            png::pixels(&one.drawing, self.most).map(|_| ()).map_err(|error| undrawn(&error, &one.notice.number))
        })
    }

    /// Draws and writes them. Each is whole by itself, so it takes its name as soon as it is written.
    pub(super) fn write(self, press: &Press<'_>) -> Result<Vec<OutputEntry>, Failure> {
        let mut written = Vec::new();
        for (form, paths) in &self.wanted {
            for first in (0..paths.len()).step_by(AT_A_TIME) {
                let paths = paths.iter().skip(first).take(AT_A_TIME);
                let last = self.printable.len().min(first + AT_A_TIME);
                let drawn: Vec<_> = (first..last).into_par_iter().map(|index| self.drawn(*form, index)).collect();
                for (path, bytes) in paths.zip(drawn) {
                    written.push(put(press, path, &bytes?)?);
                }
            }
        }
        Ok(written)
    }

    fn drawn(&self, form: Form, index: usize) -> Result<Vec<u8>, Failure> {
        let Some(one) = self.printable.get(index) else { return Ok(Vec::new()) };
        match form {
            Form::Svg => Ok(svg::svg(&one.drawing, &one.notice.number).into_bytes()),
            Form::Png => {
                let format = self.plan.format_of(index).map(|format| &**format);
                let (palette, stock) = format.map(colours).unwrap_or_default();
                png::png(&one.drawing, &palette, stock, self.most).map_err(|error| undrawn(&error, &one.notice.number))
            }
        }
    }
}

fn colours(format: &SheetFormat) -> (Palette, crate::sheets::Stock) {
    (Palette::of(&format.production), format.stock)
}

fn undrawn(error: &PictureError, number: &str) -> Failure {
    let message = format!("notice `{number}`: {error}");
    match error {
        PictureError::TooLarge { .. } => {
            Failure::with_hint(message, "`picture_pixels` under [limits] in the job file says how many are accepted")
        }
        PictureError::Form(_) => Failure::could_not_run(message),
    }
}

fn put(press: &Press<'_>, path: &Path, bytes: &[u8]) -> Result<OutputEntry, Failure> {
    let mut outputs = Outputs::check(&[path.to_owned()], press.keep, press.general)?;
    let (path, ()) = outputs.write(|out| out.write_all(bytes))?;
    outputs.publish()?;
    Ok(OutputEntry { path, pages: 0, notices: 1, bytes: u64::try_from(bytes.len()).unwrap_or(u64::MAX) })
}
