//! Single notices as pictures: the pixels of each, in a folder of their own.

use std::io::Write as _;
use std::path::{Path, PathBuf};

use rayon::prelude::*;

use super::failure::Failure;
use super::outputs::Outputs;
use super::printing::{Press, Printable};
use super::progress::Progress;
use super::report::json::OutputEntry;
use crate::files;
use crate::relay::{batches, relay};
use crate::sheets::{Palette, Plan, SheetFormat};
use crate::writers::png::{self, PictureError};

/// Pictures drawn together; they are written while the next are drawn.
const AT_A_TIME: usize = 32;

/// The pictures of a run, each with a place that was checked.
pub(super) struct Pictures<'a> {
    plan: &'a Plan,
    printable: &'a [Printable<'a>],
    most: usize,
    paths: Vec<PathBuf>,
}

impl<'a> Pictures<'a> {
    /// Checks every place and every size before anything is written; none of the places is that of one of the `documents`.
    pub(super) fn check(
        press: &Press<'_>,
        plan: &'a Plan,
        printable: &'a [Printable<'a>],
        (folder, documents): (&Path, &[PathBuf]),
    ) -> Result<Self, Failure> {
        let most = press.job.limits().picture_pixels;
        for one in printable {
            png::pixels(&one.drawing(), most).map_err(|error| undrawn(&error, one.brief().number))?;
        }
        files::make_folder(folder)?;
        let path = |one: &Printable<'_>| folder.join(format!("{}.png", files::safe_name(one.brief().number)));
        let paths: Vec<PathBuf> = printable.iter().map(path).collect();
        Outputs::check(&[documents, &paths].concat(), press.keep, press.general)?;
        Ok(Self { plan, printable, most, paths })
    }

    /// How many there are.
    pub(super) fn count(&self) -> usize {
        self.paths.len()
    }

    /// Draws and writes them, and adds each to what is `written`. Each is whole by itself, so it takes its name as soon as it
    /// is written.
    pub(super) fn write(self, press: &Press<'_>, written: &mut Vec<OutputEntry>) -> Result<(), Failure> {
        let progress = Progress::start(press.general);
        progress.count("drawing pictures", self.paths.len());
        let mut paths = self.paths.iter();
        relay(
            batches(self.paths.len(), AT_A_TIME),
            |some| some.into_par_iter().map(|index| self.drawn(index)).collect::<Vec<_>>(),
            |drawn| {
                for (bytes, path) in drawn.into_iter().zip(&mut paths) {
                    written.push(put(press, path, &bytes?)?);
                    progress.done(1);
                }
                Ok(())
            },
        )
    }

    fn drawn(&self, index: usize) -> Result<Vec<u8>, Failure> {
        let Some(one) = self.printable.get(index) else { return Ok(Vec::new()) };
        let (palette, stock) = self.plan.format(index).map(|format| colours(format)).unwrap_or_default();
        png::png(&one.drawing(), &palette, stock, self.most).map_err(|error| undrawn(&error, one.brief().number))
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
    outputs.publish_after(&mut Vec::new())?;
    Ok(OutputEntry {
        path,
        pages: 0,
        notices: 1,
        bytes: u64::try_from(bytes.len()).unwrap_or(u64::MAX),
        read_back: None,
        packed: Vec::new(),
    })
}
