//! `records again`: prints notices again that are spoiled, faded, altered or named, onto part-used sheets.

use std::collections::{BTreeMap, BTreeSet};

use glob::Pattern;

use super::kept::{self, Record, nowhere};
use super::recording::Recording;
use super::{later, today};
use crate::cli::arguments::{Again, ConditionChoice, General};
use crate::cli::changes;
use crate::cli::failure::Failure;
use crate::cli::labels::{self, Order};
use crate::cli::pipeline::{self, Loaded};
use crate::cli::prepared::Asked;
use crate::cli::report::visible;
use crate::cli::selection;
use crate::cli::terminal::Terminal;
use crate::notice::Notice;
use crate::records::changes::{Measure, Needs};
use crate::records::{Condition, Known, Ledger, PrintedFile, Spot, due};

/// Lacking notices that a message names; the others are counted.
const SHOWN: usize = 12;

/// Prints what is chosen as the survey says it now.
pub(super) fn perform(again: &Again, general: &General, terminal: Terminal) -> Result<(), Failure> {
    refuse_nothing(again)?;
    let loaded = pipeline::load(&again.survey, general)?;
    let record = loaded.record.as_ref().ok_or_else(nowhere)?;
    kept::say_if_not_there(&record.path, terminal);
    // Nothing is chosen by a record that is not understood: its findings stop the run below.
    let is_damaged = pipeline::judge(&record.reading.findings, false).is_err();
    let chosen = if is_damaged { Chosen::default() } else { Chooser::new(again, &loaded, record)?.chosen()? };
    let for_lacking = [("-o", "lacking.pdf"), ("--lacking", ""), ("--record", "")];
    chosen.name_the_rest(&later::next(general, &["records", "again"], &again.survey, &for_lacking), terminal);
    if chosen.numbers.is_empty() && !is_damaged {
        return Err(chosen.nothing());
    }
    let Again { survey, output, choice, paper, kept, .. } = again;
    let recording = if kept.record {
        let (day, by) = (today::day(kept.date.as_deref(), "--date")?, kept.by.as_deref());
        let numbers = Some(chosen.numbers.iter().cloned());
        let command = later::command(general, (survey, output), (choice, paper), numbers, (day, by));
        Some(Recording::begin(&loaded, (day, by), command)?)
    } else {
        None
    };
    let order = Order::of(choice, paper, (survey, output), &loaded.job)?;
    let asked = Asked { only: &[], numbers: Some(&chosen.numbers), ..order.asked };
    labels::fulfil(&loaded, Order { asked, recording: recording.as_ref(), ..order }, general, terminal)?;
    let is_whole = !chosen.gone_by_number;
    drop(recording);
    pipeline::discard(loaded);
    if is_whole { Ok(()) } else { Err(Failure::PartlyWritten) }
}

fn refuse_nothing(again: &Again) -> Result<(), Failure> {
    let Again { number, condition, area, spoiled, altered, lacking, due, choice, .. } = again;
    let says_none = number.is_empty() && condition.is_empty() && area.is_empty() && spoiled.is_none();
    if says_none && !altered && !lacking && !due && choice.only.is_empty() {
        let message = "nothing says which notices are to be printed again";
        let hint = "choose them by `--number`, `--only`, `--condition`, `--area`, `--spoiled`, `--altered`, `--lacking` or \
                    `--due`; \
                    `labels` prints all of them";
        return Err(Failure::with_hint(message, hint));
    }
    Ok(())
}

/// The notices to print again, and those that are not.
#[derive(Default)]
struct Chosen {
    /// Their numbers.
    numbers: BTreeSet<String>,
    /// Numbers that the record has and the survey no more: printed, they would lie.
    gone: Vec<String>,
    /// Whether one of those was asked for by number.
    gone_by_number: bool,
    /// Numbers of notices on site of which nobody knows what they say.
    unknown: Vec<String>,
    /// Numbers of notices that the survey needs, of which no copy is on site or lies ready: no altered ones.
    lacking: Vec<String>,
}

impl Chosen {
    /// `for_lacking` is the command that prints those that lack.
    fn name_the_rest(&self, for_lacking: &str, terminal: Terminal) {
        let mut text = String::new();
        if !self.gone.is_empty() {
            let gone = visible(&self.gone.join(", "));
            text.push_str(&format!("not printed, because the survey has no such notice any more: {gone}\n"));
        }
        if !self.unknown.is_empty() {
            let unknown = visible(&self.unknown.join(", "));
            text.push_str(&format!(
                "not known whether altered, because the record does not say what the fixed copy says: {unknown}\n"
            ));
        }
        if !self.lacking.is_empty() {
            let shown = self.lacking.iter().take(SHOWN).map(String::as_str).collect::<Vec<_>>().join(", ");
            let more = self.lacking.len().saturating_sub(SHOWN);
            let more = if more > 0 { format!(" and {more} more") } else { String::new() };
            text.push_str(&format!(
                "needed by the survey, and no copy is on site or lies ready: {}{more}; these are no altered ones, and are \
                 printed with\n  {}\n",
                visible(&shown),
                visible(for_lacking)
            ));
        }
        terminal.complain(&text);
    }

    /// Why nothing at all is printed.
    fn nothing(&self) -> Failure {
        if self.gone_by_number {
            return Failure::Faulty;
        }
        let message = "no notice of this survey is to be printed again by these options; nothing was written";
        Failure::with_hint(message, "`noticewright records history NUMBER` shows what the record has of a notice")
    }
}

/// What the options ask for.
struct Chooser<'a> {
    again: &'a Again,
    only: Vec<Pattern>,
    area: Vec<Pattern>,
    conditions: Vec<Condition>,
    /// Numbers of the notices at spoiled cells.
    spoiled: BTreeSet<&'a str>,
    /// Numbers of the notices that are due.
    due: BTreeSet<&'a str>,
    notices: BTreeMap<&'a str, &'a Notice>,
    measure: Measure,
    ledger: Ledger<'a>,
}

impl<'a> Chooser<'a> {
    fn new(again: &'a Again, loaded: &'a Loaded, record: &'a Record) -> Result<Self, Failure> {
        let patterns = |option: &str, texts: &[String]| {
            texts.iter().map(|text| selection::pattern(option, text)).collect::<Result<Vec<_>, _>>()
        };
        let ledger = Ledger::of(&record.reading.entries);
        Ok(Self {
            again,
            only: patterns("--only", &again.choice.only)?,
            area: patterns("--area", &again.area)?,
            conditions: again.condition.iter().map(|choice: &ConditionChoice| choice.condition()).collect(),
            spoiled: spoiled(again, record)?,
            due: due(again, &ledger, loaded)?,
            notices: loaded.notices().iter().map(|notice| (notice.number.as_str(), notice)).collect(),
            measure: changes::measure(loaded, &[]),
            ledger,
        })
    }

    fn chosen(&self) -> Result<Chosen, Failure> {
        let mut chosen = Chosen::default();
        for number in &self.again.number {
            if !self.notices.contains_key(number.as_str()) && self.ledger.find(number).is_none() {
                let known: Vec<&str> = self.notices.keys().copied().collect();
                return Err(selection::no_such_number(number, &known));
            }
        }
        self.refuse_unmet()?;
        let subject = self.again.choice.subject.map(crate::cli::arguments::SubjectChoice::subject);
        for (number, notice) in &self.notices {
            let known = self.ledger.find(number);
            if subject.is_some_and(|subject| notice.subject != subject) {
                continue;
            }
            let is_altered = self.is_altered(known, Some(notice));
            let names = [notice.designation.as_str(), &notice.area, number];
            let is_lacking = self.again.lacking && known.is_none_or(Known::is_lacking);
            if is_lacking || is_altered == Some(true) || self.picks(number, names, known) {
                chosen.numbers.insert((*number).to_owned());
            } else if is_altered.is_none() {
                chosen.unknown.push((*number).to_owned());
            } else if self.again.altered && known.is_none_or(Known::is_lacking) {
                chosen.lacking.push((*number).to_owned());
            }
        }
        for known in self.ledger.notices.iter().filter(|known| !self.notices.contains_key(known.number)) {
            let print = known.printed().map(|(_, print)| print);
            let (designation, area) = print.map_or(("", ""), |print| (print.designation.as_str(), print.area.as_str()));
            let is_other = subject.is_some_and(|subject| print.is_some_and(|print| print.subject != subject));
            let picked = self.picks(known.number, [designation, area, known.number], Some(known));
            if !is_other && (picked || self.is_altered(Some(known), None) == Some(true)) {
                chosen.gone.push(known.number.to_owned());
                chosen.gone_by_number |= self.again.number.iter().any(|number| number == known.number);
            }
        }
        Ok(chosen)
    }

    /// Refuses patterns that meet no notice of survey or record.
    fn refuse_unmet(&self) -> Result<(), Failure> {
        let said = |known: &Known<'a>| {
            let print = known.printed().map(|(_, print)| print);
            print.map_or(["", "", known.number], |print| [&print.designation, &print.area, known.number])
        };
        let standing = self.notices.values().map(|it| [it.designation.as_str(), &it.area, &it.number]);
        let names: Vec<[&str; 3]> = standing.chain(self.ledger.notices.iter().map(said)).collect();
        let areas = names.iter().map(|[_, area, _]| [*area]);
        let unmet = [selection::unmet(&self.only, names.iter().copied()), selection::unmet(&self.area, areas)].concat();
        selection::refuse(&unmet)
    }

    /// Whether a notice is asked for otherwise than as an altered one. `names` are designation, area and number.
    fn picks(&self, number: &str, names: [&str; 3], known: Option<&Known<'_>>) -> bool {
        let [_, area, _] = names;
        self.again.number.iter().any(|asked| asked == number)
            || (!self.only.is_empty() && selection::matches(names, &self.only))
            || (!self.area.is_empty() && selection::matches([area], &self.area))
            || self.spoiled.contains(number)
            || self.due.contains(number)
            || known.and_then(Known::found).is_some_and(|found| self.conditions.contains(&found))
    }

    fn is_altered(&self, known: Option<&Known<'_>>, notice: Option<&Notice>) -> Option<bool> {
        let Some(known) = known.filter(|_| self.again.altered) else { return Some(false) };
        let unfit = notice
            .zip(known.copy_shown())
            .is_some_and(|(notice, (copy, _))| !Needs::of(notice, &self.measure).are_met_by(copy));
        let shows_the_same = || {
            notice.zip(known.copy_shown()).is_some_and(|(notice, (copy, fingerprint))| {
                Needs::of(notice, &self.measure).would_print_as(copy, fingerprint)
            })
        };
        let is_altered = known.is_altered(notice.map(Notice::fingerprint));
        is_altered.map(|is_altered| unfit || (is_altered && !shows_the_same()))
    }
}

/// The numbers of the notices of which a new copy is due.
fn due<'a>(again: &Again, ledger: &Ledger<'a>, loaded: &Loaded) -> Result<BTreeSet<&'a str>, Failure> {
    if !again.due {
        return Ok(BTreeSet::new());
    }
    let on = today::day(again.on.as_deref(), "--on")?;
    let asked = due::Asked { on, until: on, interval: loaded.job.notices.inspection_months };
    Ok(due::Due::of(ledger, asked).to_print().collect())
}

/// The numbers of the notices that the record has at the spoiled cells.
fn spoiled<'a>(again: &Again, record: &'a Record) -> Result<BTreeSet<&'a str>, Failure> {
    let Some(text) = &again.spoiled else { return Ok(BTreeSet::new()) };
    let spots = Spot::list(text).map_err(|part| {
        let message = format!("--spoiled: `{part}` is no page and cell");
        Failure::with_hint(message, "write the page, a colon and the cell, both counted from 1, such as `1:4,2:1`")
    })?;
    let of = again.of.as_deref();
    let printed = PrintedFile::last(&record.reading.entries, of).ok_or_else(|| {
        let what = of.map_or("no printing with its cells".to_owned(), |file| format!("no cells of `{file}`"));
        let hint = "cells are kept by `labels --record`; choose the notices by `--number` instead";
        Failure::with_hint(format!("the record has {what}"), hint)
    })?;
    let number = |spot: &Spot| {
        printed.spots.get(spot).copied().ok_or_else(|| {
            let message = format!("the record has no notice at {}:{} of `{}`", spot.page, spot.cell, printed.file);
            let hint =
                "`--of` names another document; of several copies the record has the first alone: choose by `--number`";
            Failure::with_hint(message, hint)
        })
    };
    spots.iter().map(number).collect()
}
