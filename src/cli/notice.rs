//! `notice`: one notice from the command line. It passes through the same stages as a survey of one enclosure.

use super::arguments::{General, Notice};
use super::failure::Failure;
use super::labels;
use super::pipeline::{self, Beside, Input, Loaded};
use super::prepared::Asked;
use super::report::counted;
use super::terminal::Terminal;
use crate::notice::Subject;
use crate::sheets::Run;
use crate::survey::Column;

/// What findings call the survey that the arguments make.
const NAME: &str = "command line";

/// Makes one notice, and says that it was not checked against a survey.
pub(super) fn perform(notice: &Notice, general: &General, terminal: Terminal) -> Result<(), Failure> {
    if general.standing.is_some() {
        let message = "`notice` makes one notice of an enclosure, so it takes no list of standing notices";
        return Err(Failure::with_hint(message, "leave out `--standing`, or make a survey and use `labels`"));
    }
    if general.supplies.is_some() {
        let message = "`notice` is checked against nothing, so it takes no supplies file";
        return Err(Failure::with_hint(message, "write a survey, and give it to `labels`"));
    }
    let mut loaded = decided(notice, general, Basis::AsGiven)?;
    let says_nothing = loaded.briefs().all(|notice| notice.subject != Subject::Enclosure);
    if says_nothing && pipeline::judge(&loaded.findings, general.strict).is_ok() {
        // However fully its one row is described: whether another supply reaches the enclosure is what a survey tells.
        loaded = decided(notice, general, Basis::Assumed)?;
    }
    let start_at = labels::first_cell(notice.start_at)?;
    let run = Run { start_at, ..labels::run_for(&loaded.job, notice.printer.as_deref())? };
    let order = labels::Order {
        asked: Asked {
            sheets: notice.sheet.as_slice(),
            only: &[],
            subject: Some(Subject::Enclosure),
            numbers: None,
            leave_out_faulty: false,
            run,
        },
        output: &notice.output,
        drawings: None,
        texts: None,
        pictures: None,
        read_back: notice.read_back,
        approval: false,
        survey: None,
        profile: notice.profile.as_deref(),
        recording: None,
    };
    labels::fulfil(&loaded, order, general, terminal)?;
    terminal.say("not checked against a survey: other supplies may reach this enclosure\n");
    Ok(())
}

/// On what the rows stand.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Basis {
    /// On what the arguments say.
    AsGiven,
    /// On an assumption, by which no notice is unnecessary.
    Assumed,
}

/// The arguments decided and worded.
fn decided(notice: &Notice, general: &General, basis: Basis) -> Result<Loaded, Failure> {
    let (mut job, folder) = pipeline::load_job(None, general)?;
    if let Some(site) = &notice.site {
        job.job.site.clone_from(site);
        job.job.check().map_err(|fault| Failure::job(NAME, &fault))?;
    }
    pipeline::decide(survey(notice, basis)?, &Beside::default(), general, job, folder)
}

/// The arguments as the text of a survey with one enclosure: a row for each isolator.
fn survey(notice: &Notice, basis: Basis) -> Result<Input, Failure> {
    supplies_match(notice)?;
    let mut further = notice.column.iter().map(|pair| column_and_value(pair)).collect::<Result<Vec<_>, _>>()?;
    if basis == Basis::Assumed {
        further.retain(|(column, _)| *column != Column::Basis);
        further.push((Column::Basis, "assumed"));
    }
    let mut table = csv::Writer::from_writer(Vec::new());
    for (index, isolator) in notice.isolator.iter().enumerate() {
        let row = row(notice, index, isolator)?;
        if let Some((column, _)) = further.iter().find(|(column, _)| row.iter().any(|(named, _)| named == column)) {
            let message = format!("--column: `{}` follows from the other options", column.name());
            return Err(Failure::with_hint(message, "`noticewright notice --help` lists them"));
        }
        let cells = || row.iter().map(|(column, text)| (*column, text.as_str())).chain(further.iter().copied());
        if index == 0 {
            table.write_record(cells().map(|(column, _)| column.name())).map_err(unwritable)?;
        }
        table.write_record(cells().map(|(_, text)| text)).map_err(unwritable)?;
    }
    let bytes = table.into_inner().map_err(|error| Failure::could_not_run(error.to_string()))?;
    Ok(Input { name: NAME.to_owned(), bytes })
}

fn row(notice: &Notice, index: usize, isolator: &str) -> Result<[(Column, String); 10], Failure> {
    let (device, place) = device_and_place(isolator)?;
    let optional = |value: &Option<String>| value.clone().unwrap_or_default();
    Ok([
        (Column::Enclosure, notice.enclosure.clone()),
        (Column::Circuit, circuit(device, notice.fed_from.get(index))),
        (Column::FedFrom, notice.fed_from.get(index).cloned().unwrap_or_default()),
        (Column::Nominal, optional(&notice.nominal)),
        (Column::VoltageToEarth, notice.to_earth.clone()),
        (Column::Isolator, device.to_owned()),
        (Column::IsolatorLocation, place.to_owned()),
        (Column::Size, optional(&notice.size)),
        (Column::ReadingDistance, optional(&notice.reading_distance)),
        (Column::RecordLink, optional(&notice.record_link)),
    ])
}

/// What the notice calls a circuit whose designation nobody gave; on what cannot be isolated it is printed, and begins a
/// sentence.
fn circuit(device: &str, supply: Option<&String>) -> String {
    match (device, supply) {
        ("none", Some(supply)) => format!("The supply from {supply}"),
        ("none", None) => "One circuit".to_owned(),
        (device, _) => format!("circuit of {device}"),
    }
}

/// A supply that belongs to no isolator would be lost, and one that is missing would be guessed.
fn supplies_match(notice: &Notice) -> Result<(), Failure> {
    let (supplies, isolators) = (notice.fed_from.len(), notice.isolator.len());
    if supplies == 0 || supplies == isolators {
        return Ok(());
    }
    let message =
        format!("--fed-from is given {} and --isolator {}", counted(supplies, "time"), counted(isolators, "time"));
    Err(Failure::with_hint(message, "give one --fed-from for each --isolator, in the same order, or none"))
}

fn column_and_value(pair: &str) -> Result<(Column, &str), Failure> {
    let named = pair.split_once('=').and_then(|(name, value)| Some((Column::named(name)?, value)));
    named.ok_or_else(|| {
        let message = format!("--column `{pair}` is not a column of a survey and its value");
        Failure::with_hint(message, "write it as `locking=padlock`; `noticewright new` explains the columns")
    })
}

/// The device and its place; `none`, for what cannot be isolated, has no place.
fn device_and_place(isolator: &str) -> Result<(&str, &str), Failure> {
    let (device, place) = isolator.split_once('@').unwrap_or((isolator, ""));
    let (device, place) = (device.trim(), place.trim());
    if device == "none" && place.is_empty() || !(device.is_empty() || place.is_empty()) {
        return Ok((device, place));
    }
    let message = format!("--isolator `{isolator}` does not say where the device is");
    Err(Failure::with_hint(message, "write it as `Q7 @ Switchroom 1, board C`, or `none` if nothing isolates it"))
}

fn unwritable(error: csv::Error) -> Failure {
    Failure::could_not_run(error.to_string())
}
