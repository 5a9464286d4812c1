//! The rows of a filled list held against the record: what can be so becomes an entry, what cannot is a finding at its cell.

use std::collections::BTreeMap;

use super::reader::{Filled, Reading};
use super::{ListColumn, headers};
use crate::finding::{Code, Finding, code};
use crate::records::{Condition, Deed, Entry, Event, Known, Ledger, Mark, Marking, Refusal, Standing};
use crate::standing::Date;
use crate::table::cell::{closest, is_not_known};

/// Unknown numbers for which a known one that looks alike is looked for; each look goes over the whole record.
const GUESSES: usize = 20;

/// What holds where a row does not say.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Usual {
    /// The day.
    pub date: Option<Date>,
    /// Who.
    pub by: String,
}

/// What a list comes to.
#[derive(Debug, Default)]
pub struct Taken {
    /// The entries in the order of the list.
    pub entries: Vec<Entry>,
    /// Rows that the record, or a row before, tells already.
    pub known: usize,
    /// What cannot be so, and what must be pointed out, row by row.
    pub findings: Vec<Finding>,
}

/// Holds each row against the record and the rows before it. Nothing is to be recorded if one of the findings, those of the
/// reading among them, is an error.
#[must_use]
pub fn take(reading: &Reading, ledger: &Ledger<'_>, usual: &Usual, today: Date) -> Taken {
    let mut marking = Marking::new(ledger, today);
    let mut taken = Taken::default();
    let mut guesses = GUESSES;
    let for_all = [(ListColumn::Date, usual.date.is_some()), (ListColumn::By, !usual.by.is_empty())];
    for (column, _) in for_all.into_iter().filter(|(_, is_given)| *is_given && !reading.rows.is_empty()) {
        let can_be = |cell: &&usize| headers::can_be(&reading.source, **cell, column);
        if let Some(cell) = reading.unread.iter().find(can_be).filter(|_| reading.source.cell_of(column).is_none()) {
            taken.findings.push(headers::not_believed(&reading.source, *cell, column));
        }
    }
    let marks: Vec<Option<Mark>> =
        reading.rows.iter().map(|row| mark(row, row.date.or(usual.date)?, usual, ledger)).collect();
    let before = told_before(&marks, &marking);
    for ((row, mark), before) in reading.rows.iter().zip(&marks).zip(before) {
        let at = |column: ListColumn, finding: Finding| finding.at(reading.source.place(row.record, column));
        if row.date.or(usual.date).is_none() {
            let finding = Finding::new(code::LIST_DATE_MISSING, format!("`{}`: the row has no day", row.number));
            let help = "write it, or name one for all rows without one with `--date`";
            taken.findings.push(at(ListColumn::Date, finding.help(help)));
            continue;
        }
        let Some(mark) = mark else { continue };
        match before {
            Before::Told => {
                taken.known += 1;
                continue;
            }
            Before::InDoubt => {
                taken.findings.push(at(ListColumn::Event, in_doubt(mark)));
                continue;
            }
            Before::New => (),
        }
        match marking.mark(mark) {
            Ok(marked) => {
                taken.known += usize::from(marked.was_there);
                let findings = marked.findings.into_iter();
                let pointed = findings.map(|finding| at(column_of(&finding), in_a_list(finding, &mark.note)));
                taken.findings.extend(pointed);
            }
            Err(refusal) => {
                let (code, column) = of_refusal(&refusal);
                let near = (column == ListColumn::Number && guesses > 0).then(|| near(&row.number, ledger)).flatten();
                guesses = guesses.saturating_sub(usize::from(column == ListColumn::Number));
                let help = match near {
                    _ if column == ListColumn::Number && row.number.contains('*') => {
                        "a list takes numbers, not patterns: write a row for each notice".to_owned()
                    }
                    Some(near) => format!("did you mean `{near}`?"),
                    None => refusal.hint().to_owned(),
                };
                taken.findings.push(at(column, Finding::new(code, refusal.message()).help(help)));
            }
        }
    }
    taken.entries = marking.entries();
    taken
}

/// What the record has of a row.
#[derive(Clone, Copy)]
enum Before {
    New,
    Told,
    /// It has the same, and something else of that day after it.
    InDoubt,
}

/// Holds the rows of each notice and day, in their order, against what the record has of that day: a list that is told again
/// adds nothing, and what happened twice on one day is not taken for the same.
fn told_before(marks: &[Option<Mark>], marking: &Marking<'_>) -> Vec<Before> {
    let mut days: BTreeMap<(&str, Date), Vec<(usize, &Mark)>> = BTreeMap::new();
    for (row, mark) in marks.iter().enumerate().filter_map(|(row, mark)| Some((row, mark.as_ref()?))) {
        days.entry((&mark.number, mark.date)).or_default().push((row, mark));
    }
    let mut before = vec![Before::New; marks.len()];
    for rows in days.into_values() {
        let told = marking.told(&rows.iter().map(|(_, mark)| *mark).collect::<Vec<_>>());
        for (number, (row, mark)) in rows.into_iter().enumerate() {
            let found = match number < told.first {
                true => Before::Told,
                false if !told.is_whole_day && marking.has(mark) => Before::InDoubt,
                false => Before::New,
            };
            before.iter_mut().skip(row).take(1).for_each(|before| *before = found);
        }
    }
    before
}

fn in_doubt(mark: &Mark) -> Finding {
    let (number, event, date) = (&mark.number, mark.deed.event().name(), mark.date);
    let message = format!("`{number}`: {event} on {date} is recorded already, and something else of that day after it");
    let help = "take the row out if it is the same; if it happened again, say so under `note`";
    Finding::new(code::LIST_ROW_TOLD_BEFORE, message).help(help)
}

/// What a row says; `None` for what no list records.
fn mark(row: &Filled, date: Date, usual: &Usual, ledger: &Ledger<'_>) -> Option<Mark> {
    let deed = match (row.event, row.condition) {
        (Event::Inspected, Some(condition)) => Deed::Inspected(condition),
        (Event::Fixed, _) => Deed::Fixed,
        (Event::Replaced, _) => Deed::Replaced,
        (Event::Withdrawn, _) => Deed::Withdrawn,
        (Event::Inspected, None) | (Event::Printed | Event::Destroyed, _) => return None,
    };
    let by = if row.by.is_empty() { usual.by.clone() } else { row.by.clone() };
    let revision = found(row, date, ledger).unwrap_or_default().to_owned();
    let (number, place, photo, note) = (row.number.clone(), row.place.clone(), row.photo.clone(), row.note.clone());
    Some(Mark { date, deed, number, revision, by, place, photo, note })
}

/// The revision that an inspection found, where somebody wrote another one over that of the record. Beside any other event
/// the cell has the revision of the copy before.
fn found<'r>(row: &'r Filled, date: Date, ledger: &Ledger<'_>) -> Option<&'r str> {
    let is_told = !row.revision.is_empty() && !is_not_known(&row.revision);
    if row.event != Event::Inspected || row.condition == Some(Condition::Missing) || !is_told {
        return None;
    }
    let known = ledger.find(&row.number)?;
    let count = known.entries.partition_point(|entry| entry.date <= date);
    let then = Known { number: known.number, entries: known.entries.get(..count)?.to_vec() };
    let recorded = match then.standing() {
        Standing::Fixed { print: Some(print), .. } => print.revision.as_str(),
        Standing::Fixed { by, print: None, inspected } => &inspected.unwrap_or(by).revision,
        Standing::NotFixed | Standing::Missing(_) | Standing::Withdrawn(_) => "",
    };
    (recorded != row.revision).then_some(&row.revision)
}

/// The code of a refusal, and the cell that it is about.
const fn of_refusal(refusal: &Refusal) -> (Code, ListColumn) {
    use ListColumn as C;
    match refusal {
        Refusal::Unknown { .. } => (code::LIST_NUMBER_UNKNOWN, C::Number),
        Refusal::NotPrinted { printed: None, .. } => (code::LIST_NOT_POSSIBLE, C::Number),
        Refusal::NotPrinted { .. } | Refusal::Future { .. } | Refusal::Disagrees { .. } => {
            (code::LIST_DATE_NOT_POSSIBLE, C::Date)
        }
        Refusal::NoSuchRevision { .. } | Refusal::NotKnownThere { .. } => (code::LIST_NOT_POSSIBLE, C::Revision),
        Refusal::FixedAlready { .. }
        | Refusal::FoundThere { .. }
        | Refusal::NoneStands { .. }
        | Refusal::WithdrawnAlready { .. }
        | Refusal::Destroyed { .. }
        | Refusal::NoneLies { .. }
        | Refusal::SeveralLie { .. }
        | Refusal::TakenAway { .. } => (code::LIST_NOT_POSSIBLE, C::Event),
        Refusal::NeverThere { .. } => (code::LIST_NOT_POSSIBLE, C::Condition),
    }
}

fn near<'a>(number: &str, ledger: &Ledger<'a>) -> Option<&'a str> {
    closest(number, ledger.notices.iter().map(|known| known.number))
}

/// The cell that something pointed out is about.
fn column_of(finding: &Finding) -> ListColumn {
    let is_condition = [code::FOUND_OTHERWISE_THAT_DAY, code::WRONG_TAKEN_BACK].contains(&finding.code);
    if is_condition { ListColumn::Condition } else { ListColumn::Revision }
}

/// A list has a cell where the command line has an option. `note` is that of the row.
fn in_a_list(finding: Finding, note: &str) -> Finding {
    if finding.code == code::COPY_NOT_KNOWN {
        return finding.help("read the revision on its small line, and write it under `revision`");
    }
    if finding.code == code::OTHER_COPY_READY {
        // Beside a fixing the cell has the copy before.
        return finding
            .help("read the revision on its small line; without the row, `records fixed --revision` names it");
    }
    // On the command line the later word corrects the earlier one; rows of a list are all meant.
    if finding.code == code::FOUND_OTHERWISE_THAT_DAY && note.is_empty() {
        let help = "leave the row that is so, of several copies the worst; if something was done in between, say what under `note`";
        return Finding::new(code::LIST_FOUND_OTHERWISE, finding.message).help(help);
    }
    finding
}
