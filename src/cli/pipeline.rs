//! From a survey's path to everything decided and worded: what `check`, `why` and `labels` have in common.

use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock};

use rayon::prelude::*;

use super::arguments::{General, ReportForm};
use super::deciding::{self, Decided};
use super::failure::Failure;
use super::progress::Progress;
use super::records::{self, Record};
use super::report;
use super::report::json::Report;
use crate::files;
use crate::finding::{Finding, Severity, code};
use crate::job::{self, Job};
use crate::length::Size;
use crate::network::{Device, Network, NetworkOptions, spelling};
use crate::notice::{self, Brief, Composer, Notice, NoticeOptions, OwnLinks, Packed, Packing, Subject};
use crate::rules::{self, Assessor, Decision, Decisions, Installation, IsolatorEntry, StandingDecision, Verdict};
use crate::sheets::Label;
use crate::standing::{self, Standing, StandingColumn};
use crate::supplies::{self, Supplies, SupplyColumn};
use crate::survey::{self, Column, Survey};
use crate::typesetting::{self, Misfit, Setting};
use crate::wording::Wording;

/// A survey with everything that follows from it, up to the words.
pub(super) struct Loaded {
    /// What holds for the whole run, and the folder from which its paths are read.
    pub job: Job,
    /// The folder of the job file.
    pub job_folder: PathBuf,
    /// The job file, if there is one.
    pub job_file: Option<PathBuf>,
    /// The supplies file, if one was read.
    pub supplies_file: Option<PathBuf>,
    /// The list of standing notices, if one was read.
    pub standing_file: Option<PathBuf>,
    /// The record of what became of the notices, if one is named.
    pub record: Option<Arc<Record>>,
    /// What was read.
    pub survey: Survey,
    /// What was read of the network behind the isolators, if it is described.
    pub supplies: Option<Supplies>,
    /// The standing notices that are listed, if there is a list.
    pub standing: Option<Standing>,
    /// What feeds what, and what isolates what.
    pub network: Network,
    /// What the survey as a whole tells.
    pub installation: Installation,
    /// What was decided for each enclosure comes to.
    pub verdicts: Vec<Verdict>,
    /// How many isolators need a notice.
    pub to_label: usize,
    /// What was decided for each standing notice.
    pub decided_standing: Vec<StandingDecision>,
    /// What is to be said, in the survey's order: enclosures, then isolators; then standing notices in the order of their list.
    pub packed: Vec<Packed>,
    /// What was found on the way.
    pub findings: Vec<Finding>,
    /// Every decision, once one is asked for.
    decisions: OnceLock<Decisions>,
    /// Every notice, once all are asked for.
    notices: OnceLock<Vec<Notice>>,
}

/// A file of the user's, once in memory.
pub(super) struct Input {
    /// As the user named it.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
}

/// The files beside the survey, as far as there are any.
#[derive(Default)]
pub(super) struct Beside {
    supplies: Option<Input>,
    standing: Option<Input>,
}

/// Reads a survey, its job, its supplies file, its list of standing notices and its record, and decides and words everything.
pub(super) fn load(path: &Path, general: &General) -> Result<Loaded, Failure> {
    refuse_two_streams(path, general)?;
    let is_stream = path == Path::new(files::STANDARD);
    let beside = if is_stream { None } else { path.parent() };
    let (job, job_folder) = load_job(beside, general)?;
    let survey = input(path, job.limits().file_bytes)?;
    load_read(survey, (job, job_folder, job_path(beside, general)), general)
}

/// The same of a survey that was read already, for a job and its folder, with the file of the job, if there is one.
pub(super) fn load_read(
    survey: Input,
    (job, job_folder, job_file): (Job, PathBuf, Option<PathBuf>),
    general: &General,
) -> Result<Loaded, Failure> {
    let limit = job.limits().file_bytes;
    let supplies_file = path_beside(general.supplies.as_ref(), &job.job.supplies, &job_folder);
    let supplies = supplies_file.as_ref().map(|path| input(path, limit)).transpose();
    let supplies = supplies.map_err(|failure| {
        if general.supplies.is_some() { failure } else { failure.of_job("`supplies` under [job]", "--supplies") }
    })?;
    let standing_file = path_beside(general.standing.as_ref(), &job.job.standing, &job_folder);
    let standing = standing_file.as_ref().map(|path| input(path, limit)).transpose();
    let standing = standing.map_err(|failure| {
        if general.standing.is_some() { failure } else { failure.of_job("`standing` under [job]", "--standing") }
    })?;
    let record = Record::path(general, &job, &job_folder);
    // A record of years is as long to read as its survey is to decide.
    let (record, loaded) = rayon::join(
        || record.map(|path| Record::read(path, limit)).transpose(),
        || decide(survey, &Beside { supplies, standing }, general, job, job_folder),
    );
    let record = record.map_err(|failure| {
        if general.records.is_some() { failure } else { failure.of_job("`records` under [job]", "--records") }
    })?;
    let loaded = loaded?;
    let record = record.map(Arc::new);
    let mut loaded = Loaded { job_file, supplies_file, standing_file, record, ..loaded };
    records::issue(&mut loaded)?;
    Ok(loaded)
}

/// Leaves what a run no longer needs to the system, which takes back all memory at once when the program ends: to free a
/// large survey piece by piece takes as long as to read it.
pub(super) fn discard<T>(loaded: T) {
    std::mem::forget(loaded);
}

/// Standard input holds one file.
fn refuse_two_streams(survey: &Path, general: &General) -> Result<(), Failure> {
    let named = [
        ("the survey", Some(survey)),
        ("the supplies file", general.supplies.as_deref()),
        ("the list of standing notices", general.standing.as_deref()),
    ];
    let streams = named.into_iter().filter(|(_, path)| *path == Some(Path::new(files::STANDARD)));
    let streams: Vec<&str> = streams.map(|(what, _)| what).collect();
    let [one, other, ..] = streams.as_slice() else { return Ok(()) };
    let message = format!("{one} and {other} cannot both come from standard input");
    Err(Failure::with_hint(message, "name a file for one of them"))
}

/// A file of the user's, of at most so many bytes.
pub(super) fn input(path: &Path, limit: u64) -> Result<Input, Failure> {
    Ok(Input { name: path.display().to_string(), bytes: files::read(path, limit).map_err(Failure::of_input)? })
}

/// Decides and words a survey and what is listed beside it; without a supplies file, the network behind its isolators is not
/// described.
pub(super) fn decide(
    survey: Input,
    files: &Beside,
    general: &General,
    job: Job,
    job_folder: PathBuf,
) -> Result<Loaded, Failure> {
    let progress = Progress::start(general);
    progress.say("reading the survey");
    let encoding = general.encoding.as_deref().map(super::languages::encoding).transpose()?;
    let mut options = job.read_options(&survey.name, encoding).map_err(|fault| Failure::job("job file", &fault))?;
    let described =
        files.supplies.as_ref().map(|file| supplies::read(&file.bytes, &job.supplies_options(&file.name, encoding)));
    let (supplies, of_supplies) = described.map(|reading| (reading.supplies, reading.findings)).unzip();
    options.ones = supplies.as_ref().map(Supplies::ones).unwrap_or_default();
    let reading = survey::read(survey.bytes, &options);
    progress.say("joining what feeds what");
    let (survey, options, said) = (&reading.survey, job.rule_options(), job.notice_options());
    // Joining goes row after row on one thread; what asks for no network is made beside it.
    let ((network, of_network), (links, wording)) = rayon::join(
        || Network::join(survey, supplies.as_ref(), &NetworkOptions::default()),
        || (OwnLinks::of_enclosures(survey, &said), super::languages::wording(&job, &job_folder)),
    );
    progress.say("deciding");
    let (wording, of_wording) = wording?;
    let read = |file: &Input| standing::read(&file.bytes, &job.standing_options(&file.name, encoding));
    let (standing, of_list) = files.standing.as_ref().map(read).map(|read| (read.standing, read.findings)).unzip();
    // Both go through everything on one thread.
    let (installation, of_links) = rayon::join(
        || Installation::of(survey, &network),
        || links.crossed(network.devices().iter(), standing.as_ref()),
    );
    let assessor = Assessor { survey, network: &network, installation: &installation, options };
    let decided = deciding::decide(assessor, Composer { survey, wording: &wording, options: &said });
    let Decided { verdicts, to_label, notices: mut packed, of_rules, of_notices } = decided;
    let listed = standing.as_ref().map(|list| decide_standing(list, (survey, &network), (&wording, &said), &job));
    let (decided_standing, listed, of_standing) = listed.unwrap_or_default();
    packed.extend(listed);
    let (of_supplies, of_list) = (of_supplies.unwrap_or_default(), of_list.unwrap_or_default());
    let findings = [
        reading.findings,
        of_supplies,
        of_list,
        of_network,
        of_rules,
        of_standing,
        of_wording,
        said.findings(),
        of_links,
        of_notices,
    ]
    .concat();
    let survey = reading.survey;
    Ok(Loaded {
        job,
        job_folder,
        job_file: None,
        supplies_file: None,
        standing_file: None,
        record: None,
        survey,
        supplies,
        standing,
        network,
        installation,
        verdicts,
        to_label,
        decided_standing,
        packed,
        findings,
        decisions: OnceLock::new(),
        notices: OnceLock::new(),
    })
}

/// Decides and words the standing notices of a list.
fn decide_standing(
    standing: &Standing,
    (survey, network): (&Survey, &Network),
    (wording, options): (&Wording, &NoticeOptions),
    job: &Job,
) -> (Vec<StandingDecision>, Vec<Packed>, Vec<Finding>) {
    let (decided, mut findings) = rules::standing::decide(standing, survey, network, job.date());
    let (notices, of_notices) = notice::compose_standing(standing, &decided, wording, options);
    findings.extend(of_notices);
    let mut packing = Packing::default();
    (decided, notices.into_iter().map(|notice| packing.pack(notice)).collect(), findings)
}

/// The job file that was named, or the one beside the survey, or the usual job.
pub(super) fn load_job(beside: Option<&Path>, general: &General) -> Result<(Job, PathBuf), Failure> {
    let Some(path) = job_path(beside, general) else {
        return Ok((Job::default(), beside.unwrap_or(Path::new("")).to_owned()));
    };
    let name = path.display().to_string();
    let text = files::read_text(&path, job::LARGEST_FILE)?;
    let job = job::read(&text).map_err(|fault| Failure::job(&name, &fault))?;
    Ok((job, path.parent().unwrap_or(Path::new("")).to_owned()))
}

/// A survey from standard input lies beside nothing, and nothing is read that was not named.
pub(super) fn job_path(beside: Option<&Path>, general: &General) -> Option<PathBuf> {
    let usual = || beside.map(|folder| folder.join("job.toml")).filter(|path| files::exists(path));
    general.job.clone().or_else(usual)
}

/// The file that was named, or the one that the job names.
pub(super) fn path_beside(named: Option<&PathBuf>, of_job: &str, job_folder: &Path) -> Option<PathBuf> {
    let of_job = || (!of_job.is_empty()).then(|| job_folder.join(of_job));
    named.cloned().or_else(of_job)
}

impl Loaded {
    /// What every decision was held against; it explains each.
    pub(super) fn assessor(&self) -> Assessor<'_> {
        let Self { survey, network, installation, job, .. } = self;
        Assessor { survey, network, installation, options: job.rule_options() }
    }

    /// Everything that was decided: it is decided once more when it is first asked for, and then kept. Documents that show
    /// all of it do; sheets of notices are made without.
    pub(super) fn decisions(&self) -> &Decisions {
        self.decisions.get_or_init(|| {
            let (decisions, _) = self.assessor().all();
            Decisions { standing: self.decided_standing.clone(), ..decisions }
        })
    }

    /// Every notice, kept from when all of them are first asked for.
    pub(super) fn notices(&self) -> &[Notice] {
        self.notices.get_or_init(|| self.packed.par_iter().map(Packed::notice).collect())
    }

    /// What each notice is chosen, sorted and found by, in their order.
    pub(super) fn briefs(&self) -> impl Iterator<Item = Brief<'_>> {
        self.packed.iter().map(Packed::brief)
    }

    /// The isolator index.
    pub(super) fn isolators(&self) -> Vec<IsolatorEntry> {
        rules::isolators(&self.survey, &self.network, &self.decisions().enclosures)
    }

    /// What was decided for an enclosure by its designation.
    pub(super) fn decision(&self, designation: &str) -> Option<&Decision> {
        let index = self.survey.enclosures.iter().position(|enclosure| enclosure.designation == designation)?;
        self.decisions().enclosures.iter().find(|decision| decision.enclosure == index)
    }

    /// The notices of one enclosure.
    pub(super) fn notices_of(&self, decision: &Decision) -> impl Iterator<Item = Notice> {
        let designation =
            self.survey.enclosures.get(decision.enclosure).map(|enclosure| enclosure.designation.as_str());
        let is_of_it = move |packed: &&Packed| {
            let Brief { subject, designation: of_notice, .. } = packed.brief();
            subject == Subject::Enclosure && Some(of_notice) == designation
        };
        self.packed.iter().filter(is_of_it).map(Packed::notice)
    }

    /// The finding of a notice that no sheet holds, at its size.
    pub(super) fn without_sheet(&self, size: Size, notice: Brief<'_>) -> Finding {
        let finding = crate::sheets::without_sheet(&Label { size, enclosure: notice.designation });
        self.at_cell(finding, notice, Column::Size)
    }

    /// The finding of a notice that cannot be set, at the cell that decides it: its link, or its size.
    pub(super) fn located(&self, misfit: &Misfit, notice: &Notice) -> Finding {
        let column = match misfit {
            Misfit::CodeTooLarge { .. } | Misfit::CodeTooLong { .. } => Column::RecordLink,
            Misfit::TooLong { would_fit: Some(size), .. } if notice.space.is_some_and(|space| !size.fits_in(space)) => {
                Column::Space
            }
            Misfit::TooLong { .. } | Misfit::BeyondSpace { .. } => Column::Size,
            Misfit::MissingGlyph { .. } => Column::Enclosure,
        };
        self.at_cell(misfit.finding(notice), notice.brief(), column)
    }

    /// The same finding at a cell of the first row of the notice's enclosure or, for a device, of its own in the supplies file,
    /// else at the cell that first names it.
    pub(super) fn at_cell(&self, finding: Finding, notice: Brief<'_>, column: Column) -> Finding {
        let row = || self.survey.enclosure(notice.designation)?.rows.first();
        match (notice.subject, row()) {
            (Subject::Enclosure, Some(row)) => finding.at(self.survey.place(row.record, column)),
            (Subject::Standing, _) => self.at_standing_cell(finding, notice, column),
            (Subject::Device, _) => self.at_device_cell(finding, notice, column),
            (Subject::Enclosure, None) => finding,
        }
    }

    fn at_device_cell(&self, finding: Finding, notice: Brief<'_>, column: Column) -> Finding {
        let same = |one: &&Device| &*one.designation == notice.designation && &*one.location == notice.area;
        let Some(device) = self.network.devices().iter().find(same) else { return finding };
        let key = spelling::key(notice.designation);
        let own = self.supplies.as_ref().zip(SupplyColumn::named(column.name())).and_then(|(file, column)| {
            let described = file.devices.iter().find(|one| spelling::key(&one.designation) == key)?;
            Some(file.place(described.record, column))
        });
        finding.at(own.unwrap_or_else(|| self.survey.place(device.first.record, Column::Isolator)))
    }

    /// The same finding at the cell of the list that gives what a column of the survey would.
    fn at_standing_cell(&self, finding: Finding, notice: Brief<'_>, column: Column) -> Finding {
        let column = StandingColumn::named(column.name()).unwrap_or(StandingColumn::Words);
        let list = self.standing.as_ref();
        let found =
            list.and_then(|list| Some((list, list.entries.iter().find(|entry| entry.number == notice.number)?)));
        found.map_or(finding.clone(), |(list, entry)| finding.at(list.place(entry.record, column)))
    }

    /// Advice where a notice had to be larger than the survey asks for.
    pub(super) fn larger_than_wanted(&self, set: &Setting, notice: &Notice) -> Option<Finding> {
        let wanted = notice.size.filter(|wanted| *wanted != set.size && notice.least.allows(*wanted))?;
        let message = format!("notice `{}` does not fit into {wanted} and is {}", notice.number, set.size);
        let finding = Finding::new(code::LARGER_THAN_WANTED, message);
        let (finding, shorten) = match notice.subject {
            Subject::Enclosure | Subject::Device => {
                (finding.about(&notice.designation), typesetting::to_shorten(notice, wanted))
            }
            Subject::Standing => (finding, ""),
        };
        let finding = finding.help(format!("look whether there is room for it{shorten}"));
        Some(self.at_cell(finding, notice.brief(), Column::Size))
    }

    /// A machine-readable report of the findings.
    pub(super) fn json<'a>(&'a self, findings: &'a [Finding]) -> Report<'a> {
        Report::new(&self.job.job.edition, findings)
    }
}

/// The findings in the form of a report; as JSON they are part of a whole.
pub(super) fn render_findings(findings: &[Finding], form: ReportForm, colour: bool) -> String {
    let shown = || report::following::without_following(findings);
    match form {
        ReportForm::Text => report::text::render(&shown(), colour),
        ReportForm::Short => report::short::render(&shown()),
        ReportForm::Json => String::new(),
    }
}

/// Whether a finding stops the run.
pub(super) fn stops(finding: &Finding, strict: bool) -> bool {
    match finding.severity() {
        Severity::Error => true,
        Severity::Warning => strict,
        Severity::Advice => false,
    }
}

/// The end of a run that only looks.
pub(super) fn judge(findings: &[Finding], strict: bool) -> Result<(), Failure> {
    if findings.iter().any(|finding| stops(finding, strict)) { Err(Failure::Faulty) } else { Ok(()) }
}

/// The known name that is plainly meant by a misspelt one.
pub(super) fn nearest<'a>(name: &str, known: &[&'a str]) -> Option<&'a str> {
    let folded = name.to_lowercase();
    known
        .iter()
        .map(|known| (strsim::jaro_winkler(&folded, &known.to_lowercase()), *known))
        .filter(|(likeness, _)| *likeness > 0.85)
        .max_by(|(one, _), (other, _)| one.total_cmp(other))
        .map(|(_, known)| known)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::setting::set_all;
    use crate::cli::sizes::Sheets;
    use crate::drawing::Item;
    use crate::length::Dots;
    use crate::typesetting::Typesetter;

    const USUAL: General = General::USUAL;

    fn loaded(size: &str) -> Loaded {
        let header = "enclosure,circuit,voltage_to_earth,isolator,isolator_location,size";
        let survey = format!("{header}\nCH3-JB1,DB-C/7,400,Q7,Room 1,{size}\n");
        let survey = Input { name: "site.csv".to_owned(), bytes: survey.into_bytes() };
        decide(survey, &Beside::default(), &USUAL, Job::default(), PathBuf::new()).unwrap()
    }

    #[test]
    fn a_notice_larger_than_wanted_is_pointed_out_at_its_size() {
        let found = |size: &str| {
            let loaded = loaded(size);
            let sheets = Sheets::choose(&[], &loaded).unwrap();
            set_all(&loaded, &Typesetter::new(), &sheets, &Progress::start(&USUAL), |_| true).findings
        };
        let [finding] = &found("60x20")[..] else { panic!("one finding") };
        assert_eq!(finding.code, code::LARGER_THAN_WANTED);
        assert_eq!(finding.place.as_ref().unwrap().address, "F2");
        assert_eq!(finding.enclosure.as_deref(), Some("CH3-JB1"));
        assert_eq!((found(""), found("A6")), (Vec::new(), Vec::new()));
    }

    #[test]
    fn every_notice_of_the_demo_site_can_be_set_on_whole_dots_of_every_head() {
        let loaded = load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/survey.csv"), &USUAL).unwrap();
        let (sheets, typesetter) = (Sheets::choose(&[], &loaded).unwrap(), Typesetter::new());
        let (sizes, floor) = (|subject| sheets.sizes(subject), loaded.job.letter_floor());
        let mut codes = 0;
        for (dots, notice) in
            Dots::ALL.iter().flat_map(|dots| loaded.notices().iter().map(move |notice| (*dots, notice)))
        {
            let set = typesetter.set_on(notice, sizes(notice.subject), floor, |_| Some(dots));
            let set = set.unwrap_or_else(|misfit| panic!("{dots:?}: {misfit:?}"));
            assert_eq!(set.drawing.dots, Some(dots));
            for item in &set.drawing.items {
                let Item::Modules(modules) = item else { continue };
                let ([x, y], module) = modules.exact(Some(dots));
                for (exact, length) in [(x, modules.origin.x), (y, modules.origin.y), (module, modules.module)] {
                    let count = exact * dots.per_mm();
                    assert!((count - count.round()).abs() < 1e-9, "{dots:?} {}: {count}", notice.number);
                    assert!((exact - length.to_mm()).abs() <= 0.000_51, "{dots:?} {}: {exact}", notice.number);
                }
                assert!(module >= 0.4 && modules.module.to_mm() >= 0.4, "{dots:?} {}: {module}", notice.number);
                codes += 1;
            }
        }
        assert!(codes > 300, "{codes} codes");
    }
}
