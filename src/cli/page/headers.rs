//! Which column each header of the survey means, and what the job file needs so that it stays so.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::answer::{Answer, Kind, Refused, json};
use super::correcting;
use super::shown::Shown;
use super::site::Site;
use super::state::State;
use crate::survey::Column;
use crate::table::column::same_name;

#[derive(Serialize)]
struct HeadersAnswer<'a> {
    columns: Vec<ColumnAnswer>,
    headers: Vec<HeaderAnswer<'a>>,
    lines: String,
}

#[derive(Serialize)]
struct ColumnAnswer {
    column: &'static str,
    needed: bool,
    meaning: &'static str,
}

#[derive(Serialize)]
struct HeaderAnswer<'a> {
    cell: usize,
    text: &'a str,
    column: Option<&'static str>,
    own: bool,
}

/// What headers are to mean: a column by its name, or nothing.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Meant {
    v: u64,
    headers: BTreeMap<String, String>,
}

/// What the headers mean now.
pub(super) fn answer(site: &Site, shown: &Shown) -> Answer {
    let survey = &shown.loaded.survey;
    let column = |cell: usize| Column::ALL.iter().find(|column| survey.cell_of(**column) == Some(cell));
    let own = &shown.loaded.job.headers;
    let header =
        |(cell, text): (usize, &'_ String)| (cell, column(cell).map(|column| column.name()), is_own(own, text));
    let headers = survey.headers().iter().enumerate().map(|(cell, text)| {
        let (cell, column, own) = header((cell, text));
        HeaderAnswer { cell, text, column, own }
    });
    let columns = Column::ALL.iter().map(|column| ColumnAnswer {
        column: column.name(),
        needed: column.needed(),
        meaning: column.meaning(),
    });
    let lines = lines(&site.state().headers);
    Ok(json(&HeadersAnswer { columns: columns.collect(), headers: headers.collect(), lines }))
}

fn is_own(own: &BTreeMap<String, String>, header: &str) -> bool {
    own.keys().any(|name| same_name(name, header))
}

/// The lines of a job file that say the same; nothing where nothing was said.
fn lines(headers: &BTreeMap<String, String>) -> String {
    if headers.is_empty() {
        return String::new();
    }
    let quoted = |text: &String| toml::Value::String(text.clone()).to_string();
    let line = |(own, column): (&String, &String)| format!("{} = {}\n", quoted(own), quoted(column));
    format!("[headers]\n{}", headers.iter().map(line).collect::<String>())
}

/// Reads the survey again with what its headers are said to mean.
pub(super) fn set(site: &Site, meant: Meant) -> Answer {
    let change = site.change();
    let shown = site.shown(meant.v)?;
    let known = |name: &String| Column::named(name).is_some();
    if let Some(other) = meant.headers.values().find(|name| !known(name)) {
        return Err(Refused::impossible(Kind::Refused, format!("`{other}` is no column of the survey")));
    }
    let there = |header: &String| shown.loaded.survey.headers().iter().any(|known| same_name(known, header));
    if let Some(other) = meant.headers.keys().find(|header| !there(header)) {
        return Err(Refused::impossible(Kind::Refused, format!("the survey has no header `{other}`")));
    }
    let state = State { headers: meant.headers, ..change.before.clone() };
    correcting::read(site, change, state)
}
