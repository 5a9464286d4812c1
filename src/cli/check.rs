//! `check`: all findings, and what was decided for every enclosure; writes nothing.

use std::io::{self, Write};

use super::arguments::{Check, General, ReportForm};
use super::failure::Failure;
use super::materials;
use super::pipeline::{self, Loaded};
use super::printing::{self, Printable};
use super::progress::Progress;
use super::report::counted;
use super::setting::{self, AllSet};
use super::sizes::Sheets;
use super::terminal::Terminal;
use crate::finding::Finding;
use crate::network::ProofResult;
use crate::rules::{Outcome, Rule, Verdict};
use crate::sheets::{Plan, Run};
use crate::survey::Enclosure;
use crate::typesetting::Typesetter;

/// A survey looked at as a whole, up to the sheets that its notices would take.
pub(super) struct Whole<'a> {
    /// The notices as set.
    pub set: AllSet,
    /// Those that could be set.
    pub printable: Vec<Printable<'a>>,
    /// Their sheets.
    pub plan: Plan,
    /// Everything found.
    pub findings: Vec<Finding>,
}

/// Sets and plans every notice of a survey, to see what is in the way.
///
/// # Errors
/// A sheet format or limit that cannot be used; what is wrong with the survey is found.
pub(super) fn whole<'a>(loaded: &'a Loaded, general: &General) -> Result<Whole<'a>, Failure> {
    let sheets = Sheets::choose(&[], loaded)?;
    let progress = Progress::start(general);
    let set = setting::set_all(loaded, &Typesetter::new(), &sheets, &progress, |_| true);
    progress.say("laying out sheets");
    let all: Vec<usize> = (0..loaded.packed.len()).collect();
    let printable = printing::printable(loaded, &set, &all);
    let (plan, of_plan) = printing::plan(&printable, &sheets.formats, Run::default(), &loaded.job.limits())?;
    let findings = [loaded.findings.as_slice(), &sheets.findings, &set.findings, &of_plan].concat();
    let findings = [findings, materials::findings(loaded, &plan, &printable)].concat();
    Ok(Whole { set, printable, plan, findings })
}

/// Shows what was found and decided.
pub(super) fn perform(check: &Check, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let loaded = pipeline::load(&check.survey, general)?;
    let Whole { set, printable, plan, findings, .. } = whole(&loaded, general)?;
    match general.report {
        ReportForm::Text if !loaded.verdicts.is_empty() => {
            terminal.stream(|out| {
                write_decisions(&loaded, out)?;
                out.write_all(standing_as_text(&loaded).as_bytes())
            })?;
        }
        ReportForm::Text | ReportForm::Short => (),
        ReportForm::Json => {
            let isolators = loaded.isolators();
            let mut report = loaded.json(&findings);
            report.decisions(loaded.assessor(), &loaded.decisions().enclosures);
            report.isolators(&loaded.survey, &loaded.network, &isolators);
            report.standing(loaded.standing.as_ref(), &loaded.decided_standing);
            for (notice, set) in loaded.notices().iter().zip(&set.notices) {
                report.notice(notice, set.as_deref(), None);
            }
            report.quantities(&materials::quantities(&loaded, &plan, &printable));
            terminal.stream(|out| report.write(out))?;
        }
    }
    if general.report != ReportForm::Json {
        let rendered = pipeline::render_findings(&findings, general.report, terminal.output_colour());
        terminal.print(&rendered)?;
    }
    pipeline::discard(loaded);
    pipeline::judge(&findings, general.strict)
}

/// What the mark behind a rule means.
const UNDECIDED: &str = "A rule with `?` is not decided, because the survey does not say enough; \
    `noticewright why SURVEY ENCLOSURE` says what is missing\n";

/// Writes a line for each enclosure and their totals; nothing if there are none, since the findings then say why.
fn write_decisions(loaded: &Loaded, out: &mut impl Write) -> io::Result<()> {
    if loaded.verdicts.is_empty() {
        return Ok(());
    }
    let mut lines = Lines::default();
    let all = loaded.survey.enclosures.iter().zip(&loaded.verdicts);
    all.for_each(|(enclosure, verdict)| add_verdict(loaded, (enclosure, verdict), &mut lines));
    lines.write(out)?;
    write!(out, "\n{}\n", totals(loaded))
}

/// The lines of a table, cell after cell in one text.
#[derive(Default)]
struct Lines {
    text: String,
    /// Where each cell ends.
    ends: Vec<usize>,
    widths: [usize; CELLS],
}

impl Lines {
    /// Adds the next cell.
    fn cell(&mut self, add: impl FnOnce(&mut String)) {
        let start = self.text.len();
        add(&mut self.text);
        let width = self.text.get(start..).unwrap_or_default().chars().count();
        if let Some(widest) = self.widths.get_mut(self.ends.len() % CELLS) {
            *widest = width.max(*widest);
        }
        self.ends.push(self.text.len());
    }

    fn write(&self, out: &mut impl Write) -> io::Result<()> {
        let mut start = 0;
        for line in self.ends.chunks(CELLS) {
            let mut blanks = 0;
            for (end, width) in line.iter().zip(self.widths) {
                let cell = self.text.get(start..*end).unwrap_or_default();
                start = *end;
                if !cell.is_empty() {
                    write!(out, "{:blanks$}{cell}", "")?;
                    blanks = 0;
                }
                blanks += if width > 0 { width + 2 - cell.chars().count() } else { 0 };
            }
            writeln!(out)?;
        }
        Ok(())
    }
}

/// A line for each standing notice, and whose words they bear; nothing without a list.
fn standing_as_text(loaded: &Loaded) -> String {
    let entries = loaded.standing.as_ref().map_or(&[][..], |list| &list.entries);
    let decided = loaded.decided_standing.iter().filter_map(|one| Some((entries.get(one.entry)?, one)));
    let decided: Vec<_> = decided.collect();
    if decided.is_empty() {
        return String::new();
    }
    let numbers = decided.iter().map(|(entry, _)| super::report::visible(&entry.number));
    let widest = numbers.map(|number| number.chars().count()).max().unwrap_or_default();
    let mut text = String::new();
    for (entry, one) in &decided {
        let (number, rule) = (super::report::visible(&entry.number), one.reason.rule.name());
        let (need, words) = (one.reason.outcome.name(), one.words.name());
        text.push_str(&format!("{number:widest$}  {need:8}  {rule}, words {words}\n"));
    }
    let total = counted(decided.len(), "standing notice");
    format!("{text}\n{total}, as listed; `noticewright why SURVEY NUMBER` says what asks for one\n\n")
}

/// How many cells a line has; a column without a word is left out.
const CELLS: usize = 6;

/// Designation, need, points, the proof where a supplies file allows one, voltages, rules.
fn add_verdict(loaded: &Loaded, (enclosure, verdict): (&Enclosure, &Verdict), lines: &mut Lines) {
    lines.cell(|text| text.push_str(&super::report::visible(&enclosure.designation)));
    lines.cell(|text| text.push_str(verdict.need.of_notice()));
    lines.cell(|text| text.push_str(&counted(verdict.points, "point")));
    lines.cell(|text| text.push_str(if loaded.network.is_described() { verdict.proof.in_words() } else { "" }));
    lines.cell(|text| text.push_str(&verdict.voltages().in_words()));
    lines.cell(|text| {
        for (place, (name, mark)) in verdict.outcomes().filter_map(rule).enumerate() {
            text.push_str(if place > 0 { " " } else { "" });
            text.push_str(name);
            text.push_str(mark);
        }
    });
}

/// The name of a rule that asks for a notice, with a mark where the survey does not say enough to know.
fn rule((rule, outcome): (Rule, Outcome)) -> Option<(&'static str, &'static str)> {
    match outcome {
        Outcome::Required | Outcome::Advised => Some((rule.name(), "")),
        Outcome::Unknown => Some((rule.name(), "?")),
        Outcome::Lifted | Outcome::NotNeeded => None,
    }
}

fn totals(loaded: &Loaded) -> String {
    let verdicts = &loaded.verdicts;
    let count = |needs: &[Outcome]| verdicts.iter().filter(|verdict| needs.contains(&verdict.need)).count();
    let undecided = verdicts.iter().flat_map(Verdict::outcomes).any(|(_, outcome)| outcome == Outcome::Unknown);
    let mark = if undecided { UNDECIDED } else { "" };
    format!(
        "{}: {} required, {} advised, {} unknown, {} not needed on the survey's word; {} to label\n{mark}{}",
        counted(verdicts.len(), "enclosure"),
        count(&[Outcome::Required]),
        count(&[Outcome::Advised]),
        count(&[Outcome::Unknown]),
        count(&[Outcome::Lifted, Outcome::NotNeeded]),
        counted(loaded.to_label, "isolator"),
        proofs(loaded),
    )
}

/// What the proofs come to. A path that was not found is one that the files do not show, and no more.
fn proofs(loaded: &Loaded) -> String {
    if !loaded.network.is_described() {
        return "Without a description of the supply network it is not proved that opening the isolators leaves nothing live"
            .to_owned();
    }
    let count = |result| loaded.verdicts.iter().filter(|verdict| verdict.proof == result).count();
    format!(
        "With every listed isolator open, by survey and supplies file: no path found for {}, live {}, unknown {}; \
         what the files do not show is not proved",
        counted(count(ProofResult::NoPathFound), "enclosure"),
        count(ProofResult::Live),
        count(ProofResult::Unknown)
    )
}
