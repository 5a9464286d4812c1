//! The site as a whole: which survey, how far reading is, how much was found.

use std::collections::BTreeSet;

use serde::Serialize;

use super::shown::Shown;
use super::site::Site;
use super::state::{Now, State};
use super::work::FailureAnswer;
use crate::cli::records;
use crate::finding::Severity;

#[derive(Serialize)]
pub(super) struct SiteAnswer {
    v: u64,
    state: &'static str,
    failure: Option<FailureAnswer>,
    survey: SurveyAnswer,
    corrections: usize,
    last_correction: Option<String>,
    today: String,
    #[serde(flatten)]
    read: Option<ReadAnswer>,
}

#[derive(Serialize)]
struct SurveyAnswer {
    name: String,
    dropped: bool,
    correctable: bool,
    why_not: Option<String>,
    rows: usize,
}

/// What only a survey that could be read has.
#[derive(Serialize)]
struct ReadAnswer {
    site: String,
    title: String,
    edition: String,
    job: Option<String>,
    supplies: Option<String>,
    standing: Option<String>,
    record: Option<String>,
    totals: Totals,
    areas: Vec<String>,
    changed_on_disk: bool,
    printers: Vec<String>,
}

#[derive(Serialize)]
struct Totals {
    errors: usize,
    warnings: usize,
    advice: usize,
    enclosures: usize,
    notices: usize,
}

/// What the page stands at.
pub(super) fn answer(site: &Site) -> SiteAnswer {
    let state = site.state();
    let shown = if let Now::Ready(shown) = &state.now { Some(shown) } else { None };
    let (name, failure) = match &state.now {
        Now::Reading => ("reading", None),
        Now::Ready(_) => ("ready", None),
        Now::Failed(message, hint) => ("failed", Some(FailureAnswer { message: message.clone(), hint: hint.clone() })),
    };
    SiteAnswer {
        v: state.version,
        state: name,
        failure,
        survey: survey(&state, shown.map(AsRef::as_ref)),
        corrections: state.corrections.len(),
        last_correction: state.corrections.last().map(|last| last.words.clone()),
        today: records::day(None, "today").map(|day| day.to_string()).unwrap_or_default(),
        read: shown.map(|shown| read(shown)),
    }
}

fn survey(state: &State, shown: Option<&Shown>) -> SurveyAnswer {
    let why_not = match shown {
        None => Some("the survey is not read".to_owned()),
        Some(shown) if !shown.loaded.survey.is_text() => Some(crate::survey::Uncorrectable::Workbook.to_string()),
        Some(_) => None,
    };
    SurveyAnswer {
        name: state.origin.name.clone(),
        dropped: state.origin.dropped,
        correctable: why_not.is_none(),
        why_not,
        rows: shown.map_or(0, |shown| shown.loaded.survey.rows()),
    }
}

fn read(shown: &Shown) -> ReadAnswer {
    let loaded = &shown.loaded;
    let name = |path: &std::path::PathBuf| path.display().to_string();
    let count = |severity| shown.findings.iter().filter(|finding| finding.severity() == severity).count();
    ReadAnswer {
        site: loaded.job.job.site.clone(),
        title: loaded.job.job.title.clone(),
        edition: loaded.job.job.edition.clone(),
        job: loaded.job_file.as_ref().map(name),
        supplies: loaded.supplies_file.as_ref().map(name),
        standing: loaded.standing_file.as_ref().map(name),
        record: loaded.record.as_ref().map(|record| name(&record.path)),
        totals: Totals {
            errors: count(Severity::Error),
            warnings: count(Severity::Warning),
            advice: count(Severity::Advice),
            enclosures: loaded.survey.enclosures.len(),
            notices: loaded.packed.len(),
        },
        areas: areas(shown),
        changed_on_disk: shown.is_outdated(),
        printers: loaded.job.printers.keys().cloned().collect(),
    }
}

/// The areas of enclosures and notices, in the order in which people count.
fn areas(shown: &Shown) -> Vec<String> {
    let of_enclosures = shown.loaded.survey.enclosures.iter().filter_map(|one| one.area.as_deref());
    let of_notices = shown.loaded.notices().iter().map(|notice| notice.area.as_str());
    let areas: BTreeSet<&str> = of_enclosures.chain(of_notices).filter(|area| !area.is_empty()).collect();
    let mut areas: Vec<String> = areas.into_iter().map(str::to_owned).collect();
    areas.sort_by(|one, other| alphanumeric_sort::compare_str(one, other));
    areas
}
