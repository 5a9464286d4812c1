//! What is made on the page: label sheets and every document beside them, by the functions of the commands.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde::Serialize;

use super::answer::{Answer, Kind, Refused, json};
use super::choice::{Chosen, Options};
use super::findings;
use super::shown::Shown;
use super::site::Site;
use super::work::{Ended, MadeFile};
use crate::cli::arguments::{CardSize, General, Kept};
use crate::cli::cards::{self, Cards, Done};
use crate::cli::failure::Failure;
use crate::cli::labels::{self, Made, Order};
use crate::cli::outputs::Outputs;
use crate::cli::prepared::{self, Prepared};
use crate::cli::report::json::OutputEntry;
use crate::cli::selection::{self, Wanted};
use crate::cli::{fixing, schedule};
use crate::files;
use crate::finding::Finding;
use crate::notice::Subject;

#[derive(Serialize)]
struct Begun {
    work: u64,
}

/// What is made, and what its file is called.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum What {
    Labels,
    Approval,
    Schedule(&'static str),
    Cards,
    Fixing,
}

impl What {
    fn named(name: &str) -> Option<Self> {
        Some(match name {
            "labels" => Self::Labels,
            "approval" => Self::Approval,
            "schedule" => Self::Schedule("schedule.pdf"),
            "schedule-csv" => Self::Schedule("schedule.csv"),
            "schedule-xlsx" => Self::Schedule("schedule.xlsx"),
            "cards" => Self::Cards,
            "fixing" => Self::Fixing,
            _ => return None,
        })
    }

    const fn file(self) -> &'static str {
        match self {
            Self::Labels => "notices.pdf",
            Self::Approval => "approval.pdf",
            Self::Schedule(file) => file,
            Self::Cards => "cards.pdf",
            Self::Fixing => "fixing.pdf",
        }
    }
}

/// What was made.
#[derive(Default)]
struct Told {
    outputs: Vec<OutputEntry>,
    findings: Vec<Finding>,
    message: String,
    recorded: Option<usize>,
    /// Why nothing was made.
    refused: Option<&'static str>,
}

/// Begins to make what is chosen; the answer is the number of the work.
pub(super) fn begin(site: &Arc<Site>, shown: Arc<Shown>, chosen: Chosen) -> Answer {
    let what = What::named(&chosen.what).ok_or_else(|| Refused::not_understood("what is to be made?"))?;
    let options = chosen.options(&shown)?;
    // Nobody waits for what is refused at once.
    options.asked(&shown)?;
    if chosen.record && what != What::Labels {
        return Err(Refused::impossible(Kind::Refused, "only label sheets are recorded as printed"));
    }
    let (number, work) = site.works.begin();
    let site = Arc::clone(site);
    std::thread::spawn(move || {
        let general = General { meter: Some(Arc::clone(&work.meter)), ..site.general.clone() };
        work.end(made(&site, &shown, (what, &chosen, &options), &general));
    });
    Ok(json(&Begun { work: number }))
}

fn made(site: &Site, shown: &Shown, order: (What, &Chosen, &Options), general: &General) -> Ended {
    let folder = match files::temporary() {
        Ok(folder) => folder,
        Err(error) => return ended(shown, Err(error.into())),
    };
    let (what, chosen, _) = order;
    let output = folder.path().join(what.file());
    // What is recorded must not be recorded of a survey that another change has overtaken.
    let change = chosen.record.then(|| site.change());
    let told = match &change {
        Some(change) if change.before.version != shown.version => {
            Err(Failure::with_hint("the survey was read again meanwhile; nothing was made", "look at it first"))
        }
        Some(_) | None => make(shown, order, &output, general),
    };
    let recorded = told.as_ref().is_ok_and(|told| told.recorded.is_some());
    let ended = Ended { _folder: Some(folder), ..ended(shown, told) };
    if let Some(change) = change.filter(|_| recorded) {
        // The record has grown, and revisions with it; if it cannot be read now, the page says so.
        let state = change.before.clone();
        let _ = change.read(state);
    }
    ended
}

fn ended(shown: &Shown, told: Result<Told, Failure>) -> Ended {
    let told = match told {
        Ok(told) => told,
        Err(failure) => {
            let (message, hint) = failure.told();
            return Ended {
                message: String::new(),
                failure: Some((message, hint)),
                findings: Vec::new(),
                files: Vec::new(),
                recorded: None,
                _folder: None,
            };
        }
    };
    let file = |output: &OutputEntry| {
        let path = PathBuf::from(&output.path);
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        MadeFile { path, name, bytes: output.bytes, pages: output.pages }
    };
    Ended {
        message: told.message,
        failure: told.refused.map(|why| (why.to_owned(), Some("the findings say what is wrong".to_owned()))),
        findings: findings::several(shown, &told.findings),
        files: told.outputs.iter().map(file).collect(),
        recorded: told.recorded,
        _folder: None,
    }
}

fn make(
    shown: &Shown,
    (what, chosen, options): (What, &Chosen, &Options),
    output: &Path,
    general: &General,
) -> Result<Told, Failure> {
    let told = match what {
        What::Labels | What::Approval => of_labels(shown, (what, chosen, options), output, general)?,
        What::Schedule(_) => of_schedule(shown, options, output, general)?,
        What::Fixing => of_fixing(shown, options, output, general)?,
        What::Cards => of_cards(shown, options, output, general)?,
    };
    // Nobody but this program knows where the files lie.
    let folder = output.parent().map(|folder| format!("{}{}", folder.display(), std::path::MAIN_SEPARATOR));
    let message = folder.map_or_else(|| told.message.clone(), |folder| told.message.replace(&folder, ""));
    Ok(Told { message, ..told })
}

fn of_labels(
    shown: &Shown,
    (what, chosen, options): (What, &Chosen, &Options),
    output: &Path,
    general: &General,
) -> Result<Told, Failure> {
    let (loaded, survey) = (&shown.loaded, shown.origin.path.as_path());
    let text = |text: &String| (!text.is_empty()).then(|| text.clone());
    let kept = Kept { record: chosen.record, date: text(&chosen.date), by: text(&chosen.by) };
    let numbers = options.numbers.as_ref().map(|numbers| numbers.iter().cloned());
    let paper = (&options.choice, &options.paper);
    let recording = labels::recording(&kept, loaded, general, (survey, Path::new(what.file())), paper, numbers)?;
    let recording = recording.map(|recording| recording.passing(output.parent().unwrap_or(Path::new(""))));
    let order = Order {
        asked: options.asked(shown)?,
        approval: what == What::Approval,
        recording: recording.as_ref(),
        ..Order::of(&options.choice, &options.paper, (survey, output), &loaded.job)?
    };
    Ok(match labels::made(loaded, order, general)? {
        Made::Done((prepared, printing)) => Told {
            message: labels::summary(&printing, &prepared.selection),
            recorded: printing.recorded.as_ref().map(|recorded| recorded.notices),
            outputs: printing.outputs,
            findings: prepared.findings.clone(),
            refused: None,
        },
        Made::Faulty { findings, nothing_left, .. } => refused(findings, nothing_left),
    })
}

fn refused(findings: Vec<Finding>, nothing_left: bool) -> Told {
    let why =
        if nothing_left { "every notice asked for has errors" } else { "errors are in the way; nothing was made" };
    Told { findings, refused: Some(why), ..Told::default() }
}

/// Everything that is prepared of what is chosen, or what is in its way.
fn prepared<'a>(
    shown: &'a Shown,
    options: &Options,
    general: &General,
    may_be_none: bool,
) -> Result<Made<Box<Prepared<'a>>>, Failure> {
    let asked = options.asked(shown)?;
    Ok(Made::of(prepared::prepare(&shown.loaded, asked, general, may_be_none)?))
}

fn of_schedule(shown: &Shown, options: &Options, output: &Path, general: &General) -> Result<Told, Failure> {
    let prepared = match prepared(shown, options, general, true)? {
        Made::Done(prepared) => prepared,
        Made::Faulty { findings, nothing_left, .. } => return Ok(refused(findings, nothing_left)),
    };
    if prepared.printable.is_empty() && prepared.wanted.without_notice(&shown.loaded).is_empty() {
        return Err(selection::nothing(&prepared.wanted, &shown.loaded));
    }
    let output = [output.to_owned()];
    let outputs = Outputs::check(&output, &[], general)?;
    let (outputs, message) = schedule::write(&prepared, &shown.origin.path, &schedule::forms(&output)?, outputs)?;
    Ok(done(&prepared, outputs, message))
}

fn of_fixing(shown: &Shown, options: &Options, output: &Path, general: &General) -> Result<Told, Failure> {
    let prepared = match prepared(shown, options, general, false)? {
        Made::Done(prepared) => prepared,
        Made::Faulty { findings, nothing_left, .. } => return Ok(refused(findings, nothing_left)),
    };
    let paths = (shown.origin.path.as_path(), output);
    let (entry, message) = fixing::make(&prepared, &options.choice.sheet, paths, general)?;
    Ok(done(&prepared, vec![entry], message))
}

fn done(prepared: &Prepared<'_>, outputs: Vec<OutputEntry>, message: String) -> Told {
    let left_out = left_out(&prepared.selection.left_out);
    Told { outputs, findings: prepared.findings.clone(), message: message + &left_out, ..Told::default() }
}

fn left_out(names: &[String]) -> String {
    if names.is_empty() { String::new() } else { format!("left out because of errors: {}\n", names.join(", ")) }
}

fn of_cards(shown: &Shown, options: &Options, output: &Path, general: &General) -> Result<Told, Failure> {
    let wanted = Wanted::new(&options.choice.only, Some(Subject::Enclosure))?.among(options.numbers.as_ref());
    let order = (CardSize::A5, shown.origin.path.as_path(), output);
    let findings = shown.loaded.findings.clone();
    Ok(match cards::made(&shown.loaded, (&wanted, options.choice.leave_out_faulty), order, general)? {
        Cards::Made(Done { entry, said, left_out: names }) => {
            Told { outputs: vec![entry], findings, message: said + &left_out(&names), ..Told::default() }
        }
        Cards::Faulty => refused(findings, false),
        Cards::NothingLeft => refused(findings, true),
        Cards::None => return Err(cards::none(&options.choice.only)),
    })
}
