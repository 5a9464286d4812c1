//! `records due`: what must be done, the most urgent first.

use std::path::{Path, PathBuf};

use super::asked;
use super::kept::{self, Record};
use crate::cli::arguments::{Due as Arguments, General, ReportForm};
use crate::cli::document;
use crate::cli::failure::Failure;
use crate::cli::outputs::Outputs;
use crate::cli::report::due::DueReport;
use crate::cli::report::json::{OutputEntry, Report};
use crate::cli::report::{counted, visible};
use crate::cli::terminal::Terminal;
use crate::records::Ledger;
use crate::records::due::{Asked, Due, Reason, Row};
use crate::schedule::csv;

/// A record knows no survey: what was printed may be false by now, and whoever fixes it would hang up a lie.
pub(super) const CHECK_FIRST: &str =
    "`noticewright records check SURVEY` tells which printed copies are not true any more, before one is fixed";

/// Shows it, and writes it where a file is named.
pub(super) fn perform(arguments: &Arguments, general: &General, terminal: Terminal) -> Result<(), Failure> {
    if let Some(output) = &arguments.output {
        refuse_other_endings(output)?;
        document::refuse_two_results(output, general)?;
    }
    let (path, job) = Record::path_here(general)?;
    let asked = asked::by(&arguments.by, &job)?;
    kept::must_be_there(&path)?;
    let record = Record::read(path, job.limits().file_bytes)?;
    let judged = record.judge(general, terminal);
    let mut report = Report::new(&job.job.edition, &record.reading.findings);
    if judged.is_err() {
        if general.report == ReportForm::Json {
            terminal.stream(|out| report.write(out))?;
        }
        return judged;
    }
    let (_, due) = asked::due(Ledger::of(&record.reading.entries), &arguments.which, asked)?;
    let written =
        arguments.output.as_ref().map(|output| write(output, &record.path, &due.rows, general)).transpose()?;
    if general.report == ReportForm::Json {
        report.due(DueReport::new(asked, &due));
        report.outputs(written.into_iter().collect());
        return Ok(terminal.stream(|out| report.write(out))?);
    }
    if arguments.output.as_deref() != Some(Path::new("-")) {
        terminal.print(&told(&due, asked))?;
    }
    Ok(())
}

/// What is written is a CSV whatever its name: another ending would promise another file.
fn refuse_other_endings(output: &Path) -> Result<(), Failure> {
    if output == Path::new("-") || output.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv")) {
        return Ok(());
    }
    let message = format!("`{}` does not say that it is to be a CSV", output.display());
    Err(Failure::with_hint(message, "let its name end in .csv"))
}

fn write(output: &Path, record: &Path, rows: &[Row<'_>], general: &General) -> Result<OutputEntry, Failure> {
    let mut outputs = Outputs::check(&[output.to_owned()], &[PathBuf::from(record)], general)?;
    let notices = rows.len();
    let (path, bytes) = outputs.write(|out| csv::write(out, rows.iter().cloned()))?;
    outputs.publish()?;
    Ok(OutputEntry { path, pages: 0, notices, bytes, read_back: None, packed: Vec::new() })
}

/// What is due, group by group, then what is coming, and what to do next.
fn told(due: &Due<'_>, asked: Asked) -> String {
    let mut text = String::new();
    let (coming, now): (Vec<&Row<'_>>, Vec<&Row<'_>>) = due.rows.iter().partition(|row| row.is_coming);
    text.push_str(&summary(due, now.len(), asked));
    text.push_str(&groups(&now));
    if asked.until > asked.on {
        let count =
            if coming.is_empty() { "nothing by the record".to_owned() } else { counted(coming.len(), "notice") };
        text.push_str(&format!("\ncoming until {}: {count}\n", asked.until));
        text.push_str(&groups(&coming));
    }
    text.push_str(&next(due, &now));
    text
}

/// How many of how many, and what was not looked at. A record that tells nothing reassures nobody.
fn summary(due: &Due<'_>, now: usize, asked: Asked) -> String {
    if due.notices == 0 {
        let on = asked.on;
        return format!("on {on} the record knew no notice, so nobody can say what is due\n{}", later(due, asked));
    }
    let count = if now == 0 { "nothing by the record,".to_owned() } else { now.to_string() };
    let withdrawn = if due.withdrawn == 0 { String::new() } else { format!(", {} withdrawn", due.withdrawn) };
    let (all, months) = (counted(due.notices, "notice"), counted(usize::from(asked.interval), "month"));
    format!("due on {}: {count} of {all}{withdrawn}; an inspection every {months}\n{}", asked.on, later(due, asked))
}

fn later(due: &Due<'_>, asked: Asked) -> String {
    match due.later {
        0 => String::new(),
        1 => format!("1 entry is dated after {} and is not looked at\n", asked.on),
        later => format!("{later} entries are dated after {} and are not looked at\n", asked.on),
    }
}

/// Rows by their most urgent reason, each group under its heading.
fn groups(rows: &[&Row<'_>]) -> String {
    let of = |reason: Reason| {
        rows.iter().copied().filter(move |row| row.first().is_some_and(|cause| cause.reason == reason))
    };
    let widths = widths(rows);
    let mut text = String::new();
    for reason in Reason::ALL {
        let count = of(reason).count();
        if count > 0 {
            text.push_str(&format!("\n{} ({count})\n", reason.heading()));
            of(reason).for_each(|row| text.push_str(&line(row, widths)));
        }
    }
    text
}

/// Number, area and what to do as they are seen.
fn cells(row: &Row<'_>) -> [String; 3] {
    let area = if row.area().is_empty() { "area not known" } else { row.area() };
    [visible(row.number), visible(area), visible(&row.to_do())]
}

fn widths(rows: &[&Row<'_>]) -> [usize; 3] {
    rows.iter()
        .map(|row| cells(row).map(|cell| cell.chars().count()))
        .fold([0; 3], |[a, b, c], [x, y, z]| [a.max(x), b.max(y), c.max(z)])
}

/// `  CH3-JB2/1  Chamber 3  print it again and fix it  2027-03-01  found faded on ...`, and a line for each further cause.
fn line(row: &Row<'_>, [of_number, of_area, of_doing]: [usize; 3]) -> String {
    let [number, area, doing] = cells(row);
    let mut text = format!("  {number:of_number$}  {area:of_area$}  {doing:of_doing$}");
    for (place, cause) in row.causes.iter().enumerate() {
        let why = visible(&cause.why);
        if place == 0 {
            text.push_str(&format!("  {}  {why}\n", cause.day));
        } else {
            let before = of_number + of_area + of_doing + 6;
            text.push_str(&format!("{:before$}  {}  also {}: {why}\n", "", cause.day, cause.reason.name()));
        }
    }
    text
}

/// What to do next.
fn next(due: &Due<'_>, now: &[&Row<'_>]) -> String {
    if due.notices == 0 {
        return "\nnext: `noticewright labels SURVEY --record` records what it prints\n".to_owned();
    }
    let is = |reason: Reason| now.iter().any(|row| row.first().is_some_and(|cause| cause.reason == reason));
    let mut steps = Vec::new();
    if is(Reason::Wrong) {
        steps.push("go to what is wrong first".to_owned());
    }
    let to_print = due.to_print().count();
    if to_print > 0 {
        let count = counted(to_print, "notice");
        steps.push(format!(
            "`noticewright records again SURVEY -o again.pdf --due` prints what needs a new copy ({count})"
        ));
    }
    if now.iter().any(|row| row.is_to_fix()) {
        steps.push(CHECK_FIRST.to_owned());
    }
    if !now.is_empty() {
        steps.push("`noticewright records list -o list.xlsx --due` writes the list to go round with".to_owned());
    }
    let caution =
        "what is not in the record, and whether a notice, fixed or printed, is still true, is not known from it";
    let steps = if steps.is_empty() { String::new() } else { format!("next: {}\n", steps.join(";\n      ")) };
    format!("\n{steps}{caution}\n")
}
