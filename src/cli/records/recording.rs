//! What was printed, on its way into the record: looked at before any work, held while the documents take their names, and
//! added to once they have them.

use std::path::{Path, PathBuf};

use super::issued::issued;
use super::kept::{Adding, BEGUN, nowhere};
use super::today;
use crate::cli::failure::Failure;
use crate::cli::pipeline::{self, Loaded};
use crate::cli::printing::Printable;
use crate::cli::report::{counted, visible};
use crate::files::{self, Destination, Journal};
use crate::material::{Life, Materials};
use crate::notice::Notice;
use crate::records::{Entry, Event, Lasts, Ledger, Print, Statement, as_one_run};
use crate::sheets::{Plan, SheetFormat};
use crate::standing::Date;
use crate::typesetting::Setting;

/// A printing that is to be kept.
pub(in crate::cli) struct Recording<'a> {
    loaded: &'a Loaded,
    path: &'a Path,
    day: Date,
    by: &'a str,
    /// The command that records the same once it is printed.
    later: String,
    /// Where the documents lie for the time being, which is nothing to keep.
    passing: Option<PathBuf>,
    /// Whether there is no record yet.
    begins: bool,
}

/// What was kept.
#[derive(Clone, Debug)]
pub(in crate::cli) struct Recorded {
    /// The record.
    pub path: String,
    /// How many notices.
    pub notices: usize,
    day: Date,
    /// Whether the record was made for them.
    begun: bool,
}

/// What helps where a record cannot be written.
const NOT_KEPT: &str = "nothing was printed yet: the record is looked at first; whoever prints must be allowed to write it \
                        and its folder, or `--records` names another";

/// What to do about a day that cannot be.
const EARLIER: &str = "look at the day, and at `date` under [job] in the job file";

/// The first day that a date of issue can mean: `2026-11` is the whole month.
fn first_day(issued: &str) -> Option<Date> {
    Date::span(issued).map(|(first, _)| first).filter(|_| !Date::is_ambiguous(issued))
}

impl<'a> Recording<'a> {
    /// Looks whether the record of a survey can be written, so that nobody waits for a document that cannot be recorded. What
    /// is wrong inside it is among the findings of the survey.
    ///
    /// # Errors
    /// No record named; one that cannot be written; a day that has not come yet.
    pub(in crate::cli) fn begin(
        loaded: &'a Loaded,
        (day, by): (Date, Option<&'a str>),
        later: String,
    ) -> Result<Self, Failure> {
        // Nothing could be recorded of such a copy before that day came, and an entry cannot be taken back.
        if today::today().is_ok_and(|today| day > today) {
            return Err(Failure::with_hint(format!("--date: {day} has not come yet"), "look at the day"));
        }
        let path = loaded.record.as_ref().map(|record| record.path.as_path()).ok_or_else(nowhere)?;
        let begins = !files::exists(path);
        let can_be_kept = || {
            if !begins {
                drop(Journal::open(path)?);
            } else {
                drop(Destination::check(path, &[], true)?.begin()?);
            }
            Ok::<_, Failure>(())
        };
        can_be_kept().map_err(|failure| failure.hinted(NOT_KEPT))?;
        Ok(Self { loaded, path, day, by: by.unwrap_or_default(), later, passing: None, begins })
    }

    /// The same of documents that lie in a folder for the time being alone: their names are kept without it.
    pub(in crate::cli) fn passing(self, folder: &Path) -> Self {
        Self { passing: Some(folder.to_owned()), ..self }
    }

    /// What the record calls a document.
    fn named(&self, document: &Path) -> String {
        let without = self.passing.as_ref().and_then(|folder| document.strip_prefix(folder).ok());
        without.unwrap_or(document).display().to_string()
    }

    /// Keeps everybody else out of the record, and looks whether the revisions that are on the notices still are theirs.
    ///
    /// # Errors
    /// A record that is damaged, or that has grown so that a notice would bear another revision.
    pub(in crate::cli) fn hold(&self, printable: &[Printable<'_>]) -> Result<Adding, Failure> {
        let adding = Adding::locked(self.path.to_owned(), self.loaded.job.limits().file_bytes)?;
        let now = &adding.record.reading;
        if pipeline::judge(&now.findings, false).is_err() {
            let message = format!("`{}` was damaged while this run went on; nothing was written", self.path.display());
            return Err(Failure::with_hint(message, "run it again to see what is wrong with it"));
        }
        let after = Ledger::of(&now.entries);
        printable.iter().try_for_each(|one| self.refuse_earlier(&after, &one.notice()))?;
        if now.entries.len() == self.before().len() {
            return Ok(adding);
        }
        let before = Ledger::of(self.before());
        let job = &self.loaded.job.job;
        let changed = |notice: &Notice| issued(&before, notice, job) != issued(&after, notice, job);
        match printable.iter().map(Printable::notice).find(changed) {
            None => Ok(adding),
            Some(notice) => {
                let (revision, _) = issued(&after, &notice, job);
                let message = format!(
                    "another run recorded `{}` while this one went on, and it is revision `{revision}` now; nothing was \
                     written",
                    notice.number
                );
                Err(Failure::with_hint(message, "run the same again: the notices get their new revisions"))
            }
        }
    }

    /// Refuses a day on which this copy cannot have been printed: before its own date of issue, or before a copy that says
    /// something else and would be taken for the last one. Today is the day, whatever date a job is given ahead.
    fn refuse_earlier(&self, ledger: &Ledger<'_>, notice: &Notice) -> Result<(), Failure> {
        let (number, day) = (&notice.number, self.day);
        let (_, issued) = issued(ledger, notice, &self.loaded.job.job);
        let refused =
            |message: String| Err(Failure::with_hint(format!("--date: {message}; nothing was written"), EARLIER));
        if first_day(&issued).is_some_and(|first| day < first) && today::today().is_ok_and(|today| day != today) {
            return refused(format!("`{number}` bears {issued} as its date of issue, and {day} is before it"));
        }
        let other =
            |one: &&&Entry| one.event == Event::Printed && one.date > day && one.fingerprint != notice.fingerprint();
        let later = ledger.find(number).and_then(|known| known.entries.iter().find(other));
        let Some(later) = later else { return Ok(()) };
        let revision = if later.revision.is_empty() { String::new() } else { format!("rev {}, ", later.revision) };
        let says = "which says something else and would still count as the last";
        refused(format!("{day} is before {}, on which `{number}` was printed as {revision}{says}", later.date))
    }

    /// Adds an entry for every notice of a plan. `documents` are the files of its documents, none where they are not known:
    /// then page and cell are not either.
    ///
    /// # Errors
    /// A record that cannot be written: what is printed stays, and the message says how it is recorded.
    pub(in crate::cli) fn keep(
        &self,
        adding: Adding,
        plan: &Plan,
        printable: &[Printable<'_>],
        documents: &[PathBuf],
    ) -> Result<Recorded, Failure> {
        let entries = self.entries(plan, printable, documents);
        let notices = entries.len();
        // Told again after a failure, some of it may be there already.
        let entries = as_one_run(&adding.record.reading.entries, entries);
        adding.add(&entries).map_err(|failure| self.not_kept(failure, documents))?;
        Ok(Recorded { path: self.path.display().to_string(), notices, day: self.day, begun: self.begins })
    }

    fn not_kept(&self, failure: Failure, documents: &[PathBuf]) -> Failure {
        let Failure::CouldNotRun { message, .. } = failure else { return failure };
        if documents.is_empty() {
            return Failure::could_not_run(message);
        }
        let named: Vec<String> = documents.iter().map(|path| format!("`{}`", path.display())).collect();
        let message = format!("{} is written, but its notices are not recorded: {message}", named.join(", "));
        Failure::with_hint(message, format!("once the record can be written, record them with\n  {}", self.later))
    }

    fn before(&self) -> &'a [Entry] {
        self.loaded.record.as_ref().map_or(&[], |record| &record.reading.entries)
    }

    fn entries(&self, plan: &Plan, printable: &[Printable<'_>], documents: &[PathBuf]) -> Vec<Entry> {
        let (ledger, materials) = (Ledger::of(self.before()), self.loaded.job.materials());
        let entry = |(label, one): (usize, &Printable<'_>)| {
            let notice = one.notice();
            let (revision, issued) = issued(&ledger, &notice, &self.loaded.job.job);
            let place = plan.places(label).first().copied();
            let file = place.and_then(|place| Some((documents.get(place.document)?, place)));
            let number = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
            let print = Print {
                issued,
                file: file.map(|(path, _)| self.named(path)).unwrap_or_default(),
                page: file.map_or(0, |(_, place)| number(place.page)),
                cell: file.map_or(0, |(_, place)| number(place.cell)),
                copies: number(plan.run.copies),
                ..print((&notice, &one.set), plan.format(label)?, &materials)
            };
            Some(Entry {
                revision,
                fingerprint: notice.fingerprint().to_owned(),
                by: self.by.to_owned(),
                print: Some(Box::new(print)),
                ..Entry::new(self.day, Event::Printed, &notice.number)
            })
        };
        printable.iter().enumerate().filter_map(entry).collect()
    }
}

impl Recorded {
    /// `records.csv: 6 notices recorded as printed on 2026-11-24`
    pub(in crate::cli) fn summary(&self) -> String {
        let notices = counted(self.notices, "notice");
        let begun = if self.begun { format!("{BEGUN}\n") } else { String::new() };
        format!("{}: {notices} recorded as printed on {}\n{begun}", visible(&self.path), self.day)
    }
}

/// What is printed of a notice on a format, without what belongs to one run.
fn print((notice, set): (&Notice, &Setting), format: &SheetFormat, materials: &Materials) -> Print {
    Print {
        subject: notice.subject,
        designation: notice.designation.clone(),
        area: notice.area.clone(),
        position: notice.position.clone(),
        issued: String::new(),
        size: set.size,
        letters: Some(set.letter_height),
        sign: set.sign_height,
        format: format.name.clone(),
        material: format.material.to_string(),
        process: format.process.name().to_owned(),
        environment: notice.environment.in_words(),
        lasts: Lasts(lasts(notice, format, materials)),
        file: String::new(),
        page: 0,
        cell: 0,
        copies: 1,
        run: 1,
        says: Statement::printed(notice, &set.printed(notice)),
    }
}

/// Where nothing is said of a place it is taken for indoors, the mildest.
fn lasts(notice: &Notice, format: &SheetFormat, materials: &Materials) -> Option<Life> {
    let class = materials.find(&format.material)?;
    let in_the_open = notice.environment.outdoor || notice.environment.sun;
    Some(if in_the_open { class.outdoor_years } else { class.indoor_years })
}

#[cfg(test)]
mod tests;
