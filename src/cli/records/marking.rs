//! `records fixed`, `replaced`, `inspected`, `withdrawn`, `destroyed`: what was done with notices goes into the record.

use std::path::PathBuf;

use super::kept::{self, Adding, Record};
use super::numbers::{self, Meant};
use super::today;
use crate::cli::arguments::{
    ConditionChoice, General, MarkDestroyed, MarkFixed, MarkInspected, MarkNumbers, MarkSeen, MarkWithdrawn, ReportForm,
};
use crate::cli::failure::Failure;
use crate::cli::pipeline;
use crate::cli::report::{counted, marks, visible};
use crate::cli::terminal::Terminal;
use crate::finding::Finding;
use crate::records::{Condition, Deed, Entry, Ledger, Mark, Marking, Refusal};
use crate::table::is_hidden;

/// How many notices a message names before it counts the rest.
const NAMED: usize = 6;

pub(super) fn fixed(fixed: &MarkFixed, general: &General, terminal: Terminal) -> Result<(), Failure> {
    Asked { deed: Deed::Fixed, mark: &fixed.mark, seen: Some(&fixed.seen) }.perform(general, terminal)
}

pub(super) fn replaced(replaced: &MarkFixed, general: &General, terminal: Terminal) -> Result<(), Failure> {
    Asked { deed: Deed::Replaced, mark: &replaced.mark, seen: Some(&replaced.seen) }.perform(general, terminal)
}

pub(super) fn inspected(inspected: &MarkInspected, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let deed = Deed::Inspected(inspected.condition.condition());
    Asked { deed, mark: &inspected.mark, seen: Some(&inspected.seen) }.perform(general, terminal)
}

pub(super) fn withdrawn(withdrawn: &MarkWithdrawn, general: &General, terminal: Terminal) -> Result<(), Failure> {
    Asked { deed: Deed::Withdrawn, mark: &withdrawn.mark, seen: None }.perform(general, terminal)
}

pub(super) fn destroyed(destroyed: &MarkDestroyed, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let revision = destroyed.revision.clone();
    let seen = MarkSeen { revision, place: String::new(), photo: String::new() };
    Asked { deed: Deed::Destroyed, mark: &destroyed.mark, seen: Some(&seen) }.perform(general, terminal)
}

impl ConditionChoice {
    /// The condition.
    pub(super) const fn condition(self) -> Condition {
        match self {
            Self::Good => Condition::Good,
            Self::Faded => Condition::Faded,
            Self::Damaged => Condition::Damaged,
            Self::Missing => Condition::Missing,
            Self::Wrong => Condition::Wrong,
        }
    }
}

/// What is told of notices on site.
pub(in crate::cli) struct Asked<'a> {
    /// What was done.
    pub deed: Deed,
    /// With which, when, and by whom.
    pub mark: &'a MarkNumbers,
    /// What was seen there.
    pub seen: Option<&'a MarkSeen>,
}

/// What the marks of a run came to.
#[derive(Default)]
struct Taken {
    entries: Vec<Entry>,
    already: usize,
    passed_over: Vec<Refusal>,
    findings: Vec<Finding>,
}

impl Asked<'_> {
    fn perform(&self, general: &General, terminal: Terminal) -> Result<(), Failure> {
        self.refuse_hidden()?;
        let usual = self.usual()?;
        let (path, job) = Record::path_here(general)?;
        kept::must_be_there(&path)?;
        let adding = Adding::open(path, job.limits().file_bytes, general, terminal)?;
        let taken = self.taken(&adding, &usual)?;
        kept::judge(&taken.findings, general, terminal)?;
        let findings = [adding.record.reading.findings.as_slice(), &taken.findings].concat();
        let file = adding.record.path.display().to_string();
        adding.add(&taken.entries)?;
        terminal.say(&self.said(&taken, &usual, &file));
        if general.report == ReportForm::Json {
            terminal.stream(|out| marks::write(&findings, &taken.report(file), out))?;
        }
        Ok(())
    }

    /// Keeps it in a record of at most so many bytes, and returns what is said of it, for somebody without a terminal. What
    /// must be pointed out is said too.
    ///
    /// # Errors
    /// What cannot be so; a record that is not there, damaged, or cannot be written.
    pub(in crate::cli) fn keep(&self, path: PathBuf, limit: u64, strict: bool) -> Result<String, Failure> {
        self.refuse_hidden()?;
        let usual = self.usual()?;
        kept::must_be_there(&path)?;
        let adding = Adding::locked(path, limit)?;
        let taken = self.taken(&adding, &usual)?;
        let findings = adding.record.reading.findings.iter().chain(&taken.findings);
        if let Some(finding) = findings.clone().find(|finding| pipeline::stops(finding, strict)) {
            return Err(Failure::with_hint(finding.message.clone(), finding.help.clone().unwrap_or_default()));
        }
        let pointed_out: String = taken.findings.iter().map(|finding| format!("{}\n", finding.message)).collect();
        let said = self.said(&taken, &usual, &adding.record.path.display().to_string());
        adding.add(&taken.entries)?;
        Ok(said + &pointed_out)
    }

    /// What holds for every notice.
    fn usual(&self) -> Result<Mark, Failure> {
        Ok(Mark {
            date: today::day(self.mark.date.as_deref(), "--date")?,
            deed: self.deed,
            number: String::new(),
            revision: self.seen(|seen| &seen.revision),
            by: self.mark.by.clone(),
            place: self.seen(|seen| &seen.place),
            photo: self.seen(|seen| &seen.photo),
            note: self.mark.note.clone(),
        })
    }

    /// What of it can be so by a record.
    fn taken(&self, adding: &Adding, usual: &Mark) -> Result<Taken, Failure> {
        let ledger = Ledger::of(&adding.record.reading.entries);
        let mut marking = Marking::new(&ledger, today::today()?);
        let meant = numbers::meant(&self.mark.numbers, &ledger)?;
        let taken = taken(&mut marking, &meant, usual, &ledger)?;
        Ok(Taken { entries: marking.entries(), ..taken })
    }

    fn seen(&self, text: fn(&MarkSeen) -> &String) -> String {
        self.seen.map(text).cloned().unwrap_or_default()
    }

    /// Refuses texts that would not come back from the file as they were typed, or that nobody can see.
    fn refuse_hidden(&self) -> Result<(), Failure> {
        let own = [("--by", &self.mark.by), ("--note", &self.mark.note)];
        let seen = self.seen.map(|s| [("--place", &s.place), ("--photo", &s.photo), ("--revision", &s.revision)]);
        let texts = own.into_iter().chain(seen.into_iter().flatten());
        let numbers = self.mark.numbers.iter().map(|number| ("NOTICE", number));
        for (option, text) in numbers.chain(texts) {
            if let Some(found) = text.chars().find(|c| c.is_control() || is_hidden(*c)) {
                let message = format!("{option} `{text}` holds the hidden character U+{:04X}", u32::from(found));
                return Err(Failure::with_hint(message, "leave it out; an entry is one line of text that can be seen"));
            }
        }
        Ok(())
    }

    /// `records.csv: 2 notices fixed on 2026-11-25 (today by UTC): CH3-JB2/1 rev B, CH3-JB2/2 rev B`
    fn said(&self, taken: &Taken, usual: &Mark, file: &str) -> String {
        let condition = match self.deed {
            Deed::Inspected(condition) => format!(" and found {}", condition.name()),
            Deed::Fixed | Deed::Replaced | Deed::Withdrawn | Deed::Destroyed => String::new(),
        };
        let today = if self.mark.date.is_none() { " (today by UTC)" } else { "" };
        let already = match taken.already {
            0 => String::new(),
            1 => "; 1 was recorded already".to_owned(),
            more => format!("; {more} were recorded already"),
        };
        let entry = |entry: &Entry| match entry.revision.as_str() {
            "" => entry.number.clone(),
            revision => format!("{} rev {revision}", entry.number),
        };
        let first = if taken.entries.is_empty() {
            format!("{file}: nothing new on {}{today}{already}", usual.date)
        } else {
            let count = counted(taken.entries.len(), "notice");
            let event = self.deed.event().name();
            let list = listed(taken.entries.iter().map(entry), ", ");
            format!("{file}: {count} {event}{condition} on {}{today}: {list}{already}", usual.date)
        };
        let passed = match taken.passed_over.len() {
            0 => String::new(),
            count => {
                let because = listed(taken.passed_over.iter().map(Refusal::message), "\n  ");
                format!("passed over, {} of the pattern:\n  {because}\n", counted(count, "notice"))
            }
        };
        format!("{}\n{passed}", visible(&first)).split_inclusive('\n').map(line_visible).collect()
    }
}

fn line_visible(line: &str) -> String {
    line.strip_suffix('\n').map_or_else(|| visible(line), |line| visible(line) + "\n")
}

/// The first few, and how many more there are.
fn listed(all: impl ExactSizeIterator<Item = String>, between: &str) -> String {
    let count = all.len();
    let mut list = all.take(NAMED).collect::<Vec<_>>().join(between);
    if count > NAMED {
        list.push_str(&format!("{between}and {} more", count - NAMED));
    }
    list
}

/// Takes the marks of every notice that is meant: all of those that are named, and those of a pattern that can be so.
fn taken(marking: &mut Marking<'_>, meant: &[Meant<'_>], usual: &Mark, ledger: &Ledger<'_>) -> Result<Taken, Failure> {
    let (mut taken, mut refused) = (Taken::default(), Vec::new());
    for one in meant {
        let mark = Mark { number: one.number.to_owned(), ..usual.clone() };
        match if one.by_pattern { marking.mark_one_of_many(&mark) } else { marking.mark(&mark) } {
            Ok(marked) => {
                taken.already += usize::from(marked.was_there);
                taken.findings.extend(marked.findings);
            }
            Err(refusal) if one.by_pattern => taken.passed_over.push(refusal),
            Err(refusal) => refused.push(refusal),
        }
    }
    let nothing = refused.is_empty() && taken.passed_over.len() == meant.len();
    let refused = if nothing { std::mem::take(&mut taken.passed_over) } else { refused };
    if refused.is_empty() { Ok(taken) } else { Err(not_recorded(&refused, ledger)) }
}

/// Why nothing is recorded.
fn not_recorded(refused: &[Refusal], ledger: &Ledger<'_>) -> Failure {
    let is_unknown = |refusal: &Refusal| matches!(refusal, Refusal::Unknown { .. });
    let near = |refusal: &Refusal| is_unknown(refusal).then(|| numbers::nearest(refusal.number(), ledger)).flatten();
    let hint = |refusal: &Refusal| match near(refusal) {
        Some(near) => format!("is it {near}? else {}", refusal.hint()),
        None => refusal.hint().to_owned(),
    };
    if let [refusal] = refused {
        return Failure::with_hint(refusal.message(), hint(refusal));
    }
    let mut hints: Vec<String> = Vec::new();
    for hint in refused.iter().take(NAMED).map(hint) {
        if !hints.contains(&hint) {
            hints.push(hint);
        }
    }
    let messages = listed(refused.iter().map(Refusal::message), "\n  ");
    Failure::with_hint(format!("nothing was recorded:\n  {messages}"), hints.join("\n  "))
}

impl Taken {
    fn report(&self, file: String) -> marks::Recorded<'_> {
        marks::Recorded {
            file,
            recorded: self.entries.iter().map(Into::into).collect(),
            already: self.already,
            passed_over: self.passed_over.iter().map(Into::into).collect(),
        }
    }
}
