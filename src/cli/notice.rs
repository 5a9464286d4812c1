//! `notice`: one notice from the command line. It passes through the same stages as a survey of one enclosure.

use super::arguments::{General, Notice};
use super::failure::Failure;
use super::labels;
use super::pipeline;
use super::terminal::Terminal;
use crate::sheets::Run;
use crate::survey::Column;

/// What findings call the survey that the arguments make.
const NAME: &str = "command line";

/// Makes one notice, and says that it was not checked against a survey.
pub(super) fn perform(notice: &Notice, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let (mut job, folder) = pipeline::load_job(None, general)?;
    if let Some(site) = &notice.site {
        job.job.site.clone_from(site);
    }
    let loaded = pipeline::decide(survey(notice)?.as_bytes(), NAME, general, job, folder)?;
    let start_at = labels::first_cell(notice.start_at)?;
    let run = Run { start_at, ..labels::run_for(&loaded.job, notice.printer.as_deref())? };
    let order = labels::Order {
        sheets: notice.sheet.as_slice(),
        only: &[],
        subject: Some(crate::notice::Subject::Enclosure),
        output: &notice.output,
        drawings: None,
        leave_out_faulty: false,
        reads: Vec::new(),
        run,
    };
    labels::fulfil(&loaded, order, general, terminal)?;
    terminal.say("not checked against a survey: other supplies may reach this enclosure\n");
    Ok(())
}

/// The arguments as the text of a survey with one enclosure.
fn survey(notice: &Notice) -> Result<String, Failure> {
    let columns = [
        Column::Enclosure,
        Column::Circuit,
        Column::FedFrom,
        Column::Nominal,
        Column::VoltageToEarth,
        Column::Isolator,
        Column::IsolatorLocation,
        Column::Size,
        Column::ReadingDistance,
        Column::RecordLink,
    ];
    let mut table = csv::Writer::from_writer(Vec::new());
    table.write_record(columns.map(Column::name)).map_err(unwritable)?;
    for (index, isolator) in notice.isolator.iter().enumerate() {
        let (device, place) = device_and_place(isolator)?;
        let supply = notice.fed_from.get(index).or(notice.fed_from.last()).map_or("", String::as_str);
        let optional = |value: &Option<String>| value.clone().unwrap_or_default();
        table
            .write_record([
                notice.enclosure.clone(),
                format!("circuit of {device}"),
                supply.to_owned(),
                optional(&notice.nominal),
                notice.to_earth.clone(),
                device.to_owned(),
                place.to_owned(),
                optional(&notice.size),
                optional(&notice.reading_distance),
                optional(&notice.record_link),
            ])
            .map_err(unwritable)?;
    }
    let bytes = table.into_inner().map_err(|error| Failure::could_not_run(error.to_string()))?;
    String::from_utf8(bytes).map_err(|error| Failure::could_not_run(error.to_string()))
}

fn device_and_place(isolator: &str) -> Result<(&str, &str), Failure> {
    isolator
        .split_once('@')
        .map(|(device, place)| (device.trim(), place.trim()))
        .filter(|(device, place)| !device.is_empty() && !place.is_empty())
        .ok_or_else(|| {
            let message = format!("--isolator `{isolator}` does not say where the device is");
            Failure::with_hint(message, "write it as `Q7 @ Switchroom 1, board C`")
        })
}

fn unwritable(error: csv::Error) -> Failure {
    Failure::could_not_run(error.to_string())
}
