//! Corrections of the survey: one cell written anew, taken back, or the whole file read again.

use axum::http::StatusCode;
use serde::Deserialize;

use super::answer::{Answer, Kind, Refused, json};
use super::looking;
use super::site::{Change, Site};
use super::splice::Splice;
use super::state::{Corrected, Now, State};
use crate::cli::failure::Failure;
use crate::cli::languages;
use crate::files::{self, FileError};
use crate::survey::{Correction, Uncorrectable};

/// A cell that is to say something else.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Asked {
    v: u64,
    row: u32,
    cell: usize,
    before: String,
    after: String,
}

/// Something that is done with what is looked at.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Looked {
    v: u64,
}

/// Writes a cell anew, and reads the survey again.
pub(super) fn correct(site: &Site, asked: Asked) -> Answer {
    let change = site.change();
    let shown = site.shown(asked.v)?;
    let Asked { row, cell, before, after, .. } = asked;
    let survey = &shown.loaded.survey;
    let encoding = site.general.encoding.as_deref().map(languages::encoding).transpose()?;
    let correction = Correction { row, cell, before, after };
    if correction.before == correction.after {
        return Ok(json(&looking::answer(site)));
    }
    let bytes = survey.corrected(&shown.bytes, encoding, &correction).map_err(|why| uncorrectable(&why))?;
    written(&shown.origin.path, &shown.bytes, &bytes)?;
    let place = survey.cell_place(row, cell);
    let words = format!("{}: `{}` → `{}`", place.address, correction.before, correction.after);
    let mut state = change.before.clone();
    state.corrections.push(Corrected { splice: Splice::between(&shown.bytes, &bytes), words });
    read(site, change, state)
}

/// Takes the last correction back.
pub(super) fn undo(site: &Site, looked: &Looked) -> Answer {
    let change = site.change();
    let shown = site.shown(looked.v)?;
    let mut state = change.before.clone();
    let nothing = || Refused::impossible(Kind::Refused, "there is no correction to take back");
    let last = state.corrections.pop().ok_or_else(nothing)?;
    let bytes = last.splice.undone(&shown.bytes).ok_or_else(|| changed(&shown.origin.path))?;
    written(&shown.origin.path, &shown.bytes, &bytes)?;
    read(site, change, state)
}

/// Reads everything again, as it is now.
pub(super) fn read_again(site: &Site) -> Answer {
    let change = site.change();
    let mut state = change.before.clone();
    // What another program has made of the file is not ours to take back.
    let same = if let Now::Ready(shown) = &state.now {
        files::read(&state.origin.path, shown.limit()).is_ok_and(|bytes| bytes == shown.bytes)
    } else {
        false
    };
    if !same {
        state.corrections.clear();
    }
    read(site, change, state)
}

/// Looks at a survey that was dropped onto the page: a copy, which nobody else has.
pub(super) fn dropped(site: &Site, name: &str, bytes: &[u8]) -> Answer {
    let change = site.change();
    let origin = site.dropped(name);
    let draft = files::Destination::check(&origin.path, &[], true).and_then(files::Destination::begin);
    let put = |mut draft: files::Draft| {
        std::io::Write::write_all(&mut draft, bytes).map_err(|error| draft.failed(error))?;
        files::publish(vec![draft]).map_err(|error| error.failure)
    };
    draft.and_then(put).map_err(Failure::from)?;
    let state = State { origin, headers: Default::default(), corrections: Vec::new(), ..change.before.clone() };
    read(site, change, state)
}

/// A survey that is not taken, because it has more bytes than this, or because it did not come whole.
pub(super) fn too_large(most: u64) -> Refused {
    let message = format!("the file is larger than {most} bytes, the most that is accepted, or it did not come whole");
    Refused::new(StatusCode::PAYLOAD_TOO_LARGE, Kind::Refused, message)
        .hint("`file_bytes` under [limits] in the job file says how many are accepted")
}

/// Looks at the survey of the command line again.
pub(super) fn own(site: &Site) -> Answer {
    let change = site.change();
    let state =
        State { origin: site.own(), headers: Default::default(), corrections: Vec::new(), ..change.before.clone() };
    read(site, change, state)
}

/// Reads the survey of a state. That it cannot be read is what the page then shows, and no refusal.
pub(super) fn read(site: &Site, change: Change<'_>, state: State) -> Answer {
    let _ = change.read(state);
    Ok(json(&looking::answer(site)))
}

fn written(path: &std::path::Path, before: &[u8], after: &[u8]) -> Result<(), Refused> {
    files::exchange(path, before, after).map_err(|error| {
        if matches!(error, FileError::Changed { .. }) { changed(path) } else { Failure::from(error).into() }
    })
}

fn changed(path: &std::path::Path) -> Refused {
    let (message, hint) = Failure::from(FileError::Changed { path: path.to_owned() }).told();
    Refused::new(StatusCode::CONFLICT, Kind::ChangedOnDisk, message).hint(hint.unwrap_or_default())
}

fn uncorrectable(why: &Uncorrectable) -> Refused {
    let kind = match why {
        Uncorrectable::Workbook => Kind::ReadOnly,
        Uncorrectable::NoRow
        | Uncorrectable::NoCell
        | Uncorrectable::Quotes
        | Uncorrectable::Other { .. }
        | Uncorrectable::Hidden(_)
        | Uncorrectable::NotInEncoding(_)
        | Uncorrectable::Bytes
        | Uncorrectable::NotReadBack => Kind::Refused,
    };
    let refused = Refused::impossible(kind, why.to_string());
    match why {
        Uncorrectable::Other { .. } => refused.hint("look at the cell again, and correct what it says now"),
        Uncorrectable::Quotes | Uncorrectable::Bytes => refused.hint("mend it in an editor for text"),
        Uncorrectable::Hidden(_) => refused.hint("type it again without that character"),
        Uncorrectable::NotInEncoding(_) => refused.hint("save the survey as UTF-8 first"),
        Uncorrectable::Workbook | Uncorrectable::NoRow | Uncorrectable::NoCell | Uncorrectable::NotReadBack => refused,
    }
}
