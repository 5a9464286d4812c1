//! What printing and every document beside it have in common: which notices are asked for, set, chosen and planned onto
//! sheets, and whether anything may be written.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use super::arguments::{Choice, General, SubjectChoice};
use super::failure::Failure;
use super::pipeline::{self, Loaded};
use super::printing::{self, Printable};
use super::progress::Progress;
use super::selection::{self, Selection, Wanted};
use super::setting::{self, AllSet};
use super::sizes::Sheets;
use super::{materials, works};
use crate::finding::Finding;
use crate::notice::Subject;
use crate::pages::Identity;
use crate::prepared;
use crate::sheets::{Place, Plan, Quantity, Run};
use crate::typesetting::Typesetter;

/// What is asked for of a survey.
#[derive(Clone, Debug, Default)]
pub(super) struct Asked<'a> {
    /// Names or files of sheet formats; empty for those of the job.
    pub sheets: &'a [String],
    /// Patterns of designations, areas and numbers; empty for all.
    pub only: &'a [String],
    /// One kind of notice, or both.
    pub subject: Option<Subject>,
    /// The numbers of the notices, where they are chosen otherwise than by a pattern; `None` for all.
    pub numbers: Option<&'a BTreeSet<String>>,
    /// Whether the rest is taken where enclosures have errors.
    pub leave_out_faulty: bool,
    /// Copies, used cells, the printer.
    pub run: Run,
}

impl<'a> Asked<'a> {
    /// What options choose.
    pub(super) fn of(choice: &'a Choice, run: Run) -> Self {
        Self {
            sheets: &choice.sheet,
            only: &choice.only,
            subject: choice.subject.map(SubjectChoice::subject),
            numbers: None,
            leave_out_faulty: choice.leave_out_faulty,
            run,
        }
    }
}

/// Notices that are asked for, with their sheets.
pub(super) struct Prepared<'a> {
    /// The survey and what follows from it.
    pub loaded: &'a Loaded,
    /// Which notices are asked for.
    pub wanted: Wanted,
    /// The formats that serve each size.
    pub sheets: Sheets,
    /// Shapes the words.
    pub typesetter: Typesetter,
    /// The notices as set.
    pub set: AllSet,
    /// Those to print, and what is left out.
    pub selection: Selection,
    /// Those to print with their drawings, those of the largest sheets first.
    pub printable: Vec<Printable<'a>>,
    /// The sheet and cell of each of them.
    pub plan: Plan,
    /// Everything found.
    pub findings: Vec<Finding>,
}

/// How far preparing came.
pub(super) enum Outcome<'a> {
    /// Everything may be written.
    Ready(Box<Prepared<'a>>),
    /// Errors are in the way; these are the findings, and what was set.
    Faulty(Vec<Finding>, AllSet),
    /// Everything that is asked for has errors.
    NothingLeft(Vec<Finding>, AllSet),
}

impl SubjectChoice {
    /// The kind of notice.
    pub(super) const fn subject(self) -> Subject {
        match self {
            Self::Enclosure => Subject::Enclosure,
            Self::Device => Subject::Device,
            Self::Standing => Subject::Standing,
        }
    }
}

/// Sets, chooses and plans what is asked for. Where `may_be_none`, a survey that needs no notice is no failure.
///
/// # Errors
/// A failure of the arguments or of a file; what is wrong with the survey is an [`Outcome`].
pub(super) fn prepare<'a>(
    loaded: &'a Loaded,
    mut asked: Asked<'_>,
    general: &General,
    may_be_none: bool,
) -> Result<Outcome<'a>, Failure> {
    let wanted = Wanted::new(asked.only, asked.subject)?.among(asked.numbers);
    let sheets = Sheets::choose(asked.sheets, loaded)?;
    let typesetter = Typesetter::new();
    let progress = Progress::start(general);
    let set = setting::set_all(loaded, &typesetter, &sheets, &progress, |notice| wanted.asks_for(notice.brief()));
    let mut findings = [loaded.findings.as_slice(), &sheets.findings, &set.findings].concat();
    let Some(selection) = select(&asked, &wanted, loaded, &set, general, may_be_none)? else {
        return Ok(Outcome::Faulty(findings, set));
    };
    if selection.chosen.is_empty() && !selection.left_out.is_empty() {
        return Ok(Outcome::NothingLeft(findings, set));
    }
    asked.run.left_out.clone_from(&selection.left_out);
    let mut printable = printing::printable(loaded, &set, &selection.chosen);
    printing::largest_first(&mut printable);
    progress.say("laying out sheets");
    let (plan, of_plan) = printing::plan(&printable, &sheets.formats, asked.run, &loaded.job.limits())?;
    findings.extend(of_plan);
    findings.extend(materials::findings(loaded, &plan, &printable));
    let judged = pipeline::judge(&findings, general.strict);
    if !plan.is_complete() || (!asked.leave_out_faulty && judged.is_err()) {
        return Ok(Outcome::Faulty(findings, set));
    }
    let prepared = Prepared { loaded, wanted, sheets, typesetter, set, selection, printable, plan, findings };
    Ok(Outcome::Ready(Box::new(prepared)))
}

/// The notices to print; `None` if errors are in the way: any of them, or, where the faulty may be left out, one that
/// cannot be laid to an enclosure or a notice.
fn select(
    asked: &Asked<'_>,
    wanted: &Wanted,
    loaded: &Loaded,
    set: &AllSet,
    general: &General,
    may_be_none: bool,
) -> Result<Option<Selection>, Failure> {
    let stops = |finding: &&Finding| pipeline::stops(finding, general.strict);
    let stopping: Vec<&Finding> = loaded.findings.iter().filter(stops).collect();
    let in_the_way = if asked.leave_out_faulty {
        stopping.iter().any(|finding| finding.enclosure.is_none())
    } else {
        !stopping.is_empty() || set.findings.iter().any(|finding| stops(&finding))
    };
    if in_the_way {
        return Ok(None);
    }
    selection::all_met(wanted, loaded)?;
    let selection = selection::select(loaded, set, wanted, &stopping);
    if selection.chosen.is_empty() && selection.left_out.is_empty() && !may_be_none {
        return Err(selection::nothing(wanted, loaded));
    }
    Ok(Some(selection))
}

/// What the documents show that is not kept anywhere else.
pub(super) struct Facts {
    survey: String,
    supplies: String,
    standing: String,
    selection: String,
    silent: Vec<usize>,
    places: BTreeMap<usize, Place>,
    quantities: Vec<Quantity>,
}

impl<'a> Prepared<'a> {
    /// Works out what documents show beside the notices; `survey` is the file as the user named it.
    pub(super) fn facts(&self, survey: &Path) -> Facts {
        let place = |(label, one): (usize, &Printable<'_>)| Some((one.index, *self.plan.places(label).first()?));
        Facts {
            survey: survey.display().to_string(),
            supplies: self.loaded.supplies_file.as_ref().map(|path| path.display().to_string()).unwrap_or_default(),
            standing: self.loaded.standing_file.as_ref().map(|path| path.display().to_string()).unwrap_or_default(),
            selection: self.wanted.in_words(),
            silent: self.wanted.without_notice(self.loaded),
            places: self.printable.iter().enumerate().filter_map(place).collect(),
            quantities: self.quantities(),
        }
    }

    /// How much of which material is needed.
    pub(super) fn quantities(&self) -> Vec<Quantity> {
        materials::quantities(self.loaded, &self.plan, &self.printable)
    }

    /// Everything as the documents take it.
    pub(super) fn shown(&'a self, facts: &'a Facts) -> prepared::Prepared<'a> {
        let (loaded, job) = (self.loaded, &self.loaded.job.job);
        prepared::Prepared {
            identity: Identity {
                title: &job.title,
                site: &job.site,
                client: &job.client,
                revision: &job.revision,
                date: &job.date,
                prepared_by: &job.prepared_by,
                edition: &job.edition,
                survey: &facts.survey,
                supplies: &facts.supplies,
                standing: &facts.standing,
                selection: &facts.selection,
            },
            survey: &loaded.survey,
            supplies: loaded.supplies.as_ref(),
            standing: loaded.standing.as_ref(),
            network: &loaded.network,
            assessor: loaded.assessor(),
            decisions: loaded.decisions(),
            notices: loaded.notices(),
            set: &self.set.notices,
            chosen: &self.selection.chosen,
            silent: &facts.silent,
            left_out: &self.selection.left_out,
            findings: &self.findings,
            formats: &self.sheets.formats,
            places: &facts.places,
            quantities: &facts.quantities,
        }
    }
}

/// The files that a run has read, as far as they are there: none of them may be overwritten.
pub(super) fn files_read(
    loaded: &Loaded,
    survey: Option<&Path>,
    sheets: &[String],
    profile: Option<&Path>,
) -> Vec<PathBuf> {
    let of_job = loaded.job.sheets.values().chain(loaded.job.notices.messages.values());
    let logo = Some(&loaded.job.documents.logo).filter(|logo| !logo.is_empty());
    let of_job = of_job.chain(logo).map(|name| loaded.job_folder.join(name)).chain(loaded.job_file.clone());
    let of_job = of_job
        .chain(loaded.supplies_file.clone())
        .chain(loaded.standing_file.clone())
        .chain(loaded.record.as_ref().map(|record| record.path.clone()))
        .chain(works::profile_path(profile, loaded));
    let named = survey.into_iter().chain(sheets.iter().map(Path::new)).map(Path::to_owned);
    named.chain(of_job).collect()
}
