//! The notices as pictures and words.

use serde::{Deserialize, Serialize};

use super::answer::{Answer, Refused, json};
use super::reply;
use super::shown::Shown;
use crate::length::{ISO_216, Size};
use crate::notice::{Notice, Subject};
use crate::typesetting::{Setting, Typesetter};
use crate::writers::svg;

/// So many notices are given at once.
const MOST: usize = 500;

/// Which notices are asked for.
#[derive(Debug, Deserialize)]
pub(super) struct Window {
    /// The reading.
    pub v: u64,
    #[serde(default)]
    from: usize,
    #[serde(default = "usual_count")]
    count: usize,
    #[serde(default)]
    find: String,
    #[serde(default)]
    area: String,
    #[serde(default)]
    kind: String,
}

const fn usual_count() -> usize {
    100
}

#[derive(Serialize)]
struct NoticesAnswer<'a> {
    total: usize,
    notices: Vec<NoticeAnswer<'a>>,
}

#[derive(Serialize)]
struct NoticeAnswer<'a> {
    index: usize,
    number: &'a str,
    kind: &'static str,
    designation: &'a str,
    area: &'a str,
    position: &'a str,
    size: Option<String>,
    width_mm: Option<f64>,
    height_mm: Option<f64>,
    text: Vec<String>,
}

/// A notice in short.
#[derive(Serialize)]
pub(super) struct Short<'a> {
    index: usize,
    number: &'a str,
    size: Option<String>,
    misfit: Option<&'static str>,
    text: Vec<String>,
}

/// The notices of a window.
pub(super) fn window(shown: &Shown, window: &Window) -> Answer {
    let find = window.find.to_lowercase();
    let shows = |notice: &Notice| {
        (window.kind.is_empty() || kind(notice.subject) == window.kind)
            && (window.area.is_empty() || notice.area == window.area)
            && (find.is_empty()
                || [&notice.number, &notice.name, &notice.area].iter().any(|text| text.to_lowercase().contains(&find)))
    };
    let all: Vec<usize> =
        shown.loaded.notices().iter().enumerate().filter(|(_, notice)| shows(notice)).map(|(at, _)| at).collect();
    let notices = all.iter().skip(window.from).take(window.count.min(MOST)).filter_map(|at| one(shown, *at)).collect();
    Ok(json(&NoticesAnswer { total: all.len(), notices }))
}

fn one(shown: &Shown, index: usize) -> Option<NoticeAnswer<'_>> {
    let notice = shown.loaded.notices().get(index)?;
    let set = setting(shown, index);
    Some(NoticeAnswer {
        index,
        number: &notice.number,
        kind: kind(notice.subject),
        designation: &notice.designation,
        area: &notice.area,
        position: &notice.position,
        size: set.map(|set| size_in_words(set.size)),
        width_mm: set.map(|set| set.size.width.to_mm()),
        height_mm: set.map(|set| set.size.height.to_mm()),
        text: set.map_or_else(|| notice.lines(), |set| set.lines(notice)),
    })
}

/// A notice in short.
pub(super) fn short(shown: &Shown, index: usize) -> Option<Short<'_>> {
    let notice = shown.loaded.notices().get(index)?;
    let set = setting(shown, index);
    Some(Short {
        index,
        number: &notice.number,
        size: set.map(|set| size_in_words(set.size)),
        misfit: set.is_none().then_some("it cannot be set; the findings say why"),
        text: set.map_or_else(|| notice.lines(), |set| set.lines(notice)),
    })
}

fn setting(shown: &Shown, index: usize) -> Option<&Setting> {
    shown.set.notices.get(index)?.as_deref()
}

/// The word for what a notice is fixed to, as `--subject` has it.
pub(super) const fn kind(subject: Subject) -> &'static str {
    match subject {
        Subject::Enclosure => "enclosure",
        Subject::Device => "device",
        Subject::Standing => "standing",
    }
}

/// `A7, 105 x 74 mm`
fn size_in_words(size: Size) -> String {
    let named = ISO_216.into_iter().find(|(_, known)| *known == size || known.turned() == size);
    named.map_or_else(|| size.to_string(), |(name, _)| format!("{name}, {size}"))
}

/// A notice as it is printed.
pub(super) fn picture(shown: &Shown, index: usize) -> Answer {
    let notice = shown.loaded.notices().get(index).ok_or_else(Refused::not_found)?;
    let set = setting(shown, index).ok_or_else(Refused::not_found)?;
    Ok(reply::picture(svg::svg(&Typesetter::new().draw(notice, set), &notice.number)))
}
