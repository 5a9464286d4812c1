//! What a run for a printing works needs beside the notices: a date, and the colours of its printing process.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::failure::Failure;
use super::pipeline::Loaded;
use super::report::visible;
use crate::files;
use crate::sheets::{Plan, Press, Production};
use crate::writers::pdf::{PrintingCondition, Profile, Standard};

/// A larger file is no profile of a printing process; those of four inks have up to some three million bytes.
const LARGEST_PROFILE: u64 = 16 << 20;

/// The profile that was named, or the one that the job names.
pub(super) fn profile_path(named: Option<&Path>, loaded: &Loaded) -> Option<PathBuf> {
    let of_job = &loaded.job.press.profile;
    let of_job = (!of_job.is_empty()).then(|| loaded.job_folder.join(of_job));
    named.map(Path::to_owned).or(of_job)
}

/// The standard for the documents of a plan that go to a printing works, whose pages then say it; plain if none does.
pub(super) fn standard(plan: &mut Plan, named: Option<&Path>, loaded: &Loaded) -> Result<Standard, Failure> {
    let goes_there = plan.documents.iter().any(|document| matches!(document.production, Production::Press(_)));
    if !goes_there {
        return match named {
            None => Ok(Standard::Plain),
            Some(_) => Err(Failure::with_hint(
                "--profile: no sheet of this run is for a printing works",
                "choose such a sheet format with `--sheet`; `noticewright sheets` lists them",
            )),
        };
    }
    if !plan.run.printer.is_empty() {
        let message = "--printer: a printing works prints true to size, and nothing is made good for it";
        return Err(Failure::with_hint(
            message,
            "leave `--printer` out, or choose a sheet format for an office printer",
        ));
    }
    let info = loaded.job.document_info();
    if info.created.is_none() {
        let message = "a document for a printing works needs a date, and the job has none";
        return Err(Failure::with_hint(
            message,
            "set `date` under [job] in the job file, such as `date = \"2026-11-24\"`",
        ));
    }
    let condition = loaded.job.press.condition();
    let standard = match profile_path(named, loaded) {
        Some(path) => {
            let of_job = |failure: Failure| match named {
                Some(_) => failure,
                None => failure.of_job("`profile` under [press]", "--profile"),
            };
            Standard::X4 { profile: Arc::new(profile(&path).map_err(of_job)?), condition }
        }
        None => Standard::X1a(usual(condition)?),
    };
    let name = standard.name().unwrap_or_default();
    plan.run.slug = vec![format!("{name}, {}", standard.colours()), loaded.job.job.date.clone(), info.title];
    Ok(standard)
}

fn usual(condition: Option<PrintingCondition>) -> Result<PrintingCondition, Failure> {
    let usual = || PrintingCondition::registered(PrintingCondition::USUAL);
    condition.or_else(usual).ok_or_else(|| Failure::could_not_run("no printing condition is known"))
}

fn profile(path: &Path) -> Result<Profile, Failure> {
    let bytes = files::read(path, LARGEST_PROFILE)?;
    Profile::read(bytes).map_err(|error| {
        let hint = "ask the printing works for the ICC profile of its printing process; without one, the document names \
                    a printing condition instead";
        Failure::with_hint(format!("{}: {error}", path.display()), hint)
    })
}

/// What the printing works is to be told.
pub(super) fn told(standard: &Standard, press: &Press) -> String {
    let why = match standard {
        Standard::Plain | Standard::Archive => String::new(),
        Standard::X1a(_) => {
            "no profile was given: `--profile FILE`, or `profile` under [press] in the job file, makes it PDF/X-4"
                .into()
        }
        Standard::X4 { .. } => "the profile given travels with it".to_owned(),
    };
    let (name, colours) = (standard.name().unwrap_or_default(), standard.colours());
    format!(
        "for the printing works: {name} for {}; {why}\n\
         tell it that the spot colour `{}` is the cutting contour and is not printed, that the bleed is {} mm, and that \
         black overprints\n",
        visible(&colours),
        visible(&press.contour),
        press.bleed
    )
}
