//! The pages of one enclosure.

use super::{Document, evidence, found, notice, sign};
use crate::length::Length;
use crate::pages::texts::{body, mm, ruled, strong};
use crate::pages::{Block, Cell, Column, Section, Style};
use crate::rules::{Decision, Explanation, enclosure_in_words};
use crate::survey::Enclosure;
use crate::typesetting::Setting;

/// A notice that is higher does not fit under the head of the first page; what it goes back to then comes first.
const HIGHEST_AT_FIRST: Length = mm(106);

/// The enclosure of a decision with the notices to approve.
pub(super) fn section(document: &Document<'_>, place: usize, indices: &[usize]) -> Section {
    let Some((decision, enclosure)) = document.prepared.decided(place) else { return Section::default() };
    let explanation = document.prepared.explanation(decision);
    let notices = notices(document, &explanation, indices);
    let mut evidence = evidence::blocks(document, decision, &explanation, enclosure);
    evidence.extend(found::table(document.names.findings(&enclosure.designation)));
    let first = indices.iter().find_map(|&index| document.prepared.set(index));
    let comes_first = first.is_some_and(|set| set.size.height <= HIGHEST_AT_FIRST);
    let follow = if comes_first { "" } else { ", shown on what follows" };
    evidence.push(sign::form(&format!("{}{follow}", title(enclosure, indices.len()))));
    let mut blocks = heading(decision, enclosure);
    blocks.extend(if comes_first { [notices, evidence] } else { [evidence, notices] }.into_iter().flatten());
    Section { head: enclosure.designation.clone(), blocks }
}

fn title(enclosure: &Enclosure, notices: usize) -> String {
    let word = if notices == 1 { "the notice".to_owned() } else { format!("the {notices} notices") };
    format!("{word} on {}", enclosure_in_words(&enclosure.designation, Some(enclosure)))
}

/// Designation, name, and what was decided at a glance.
fn heading(decision: &Decision, enclosure: &Enclosure) -> Vec<Block> {
    let said = |text: Option<&str>| text.unwrap_or("not said").to_owned();
    let points = match decision.points.len() {
        0 => "none declared".to_owned(),
        count => count.to_string(),
    };
    let cells: Vec<Cell> = vec![
        body(said(enclosure.name.as_deref())),
        body(said(enclosure.area.as_deref())),
        strong(decision.need.of_notice()),
        body(points),
        body(decision.voltages.in_words()),
        body(decision.proof.result.in_words()),
    ];
    let columns = vec![
        Column::Share(4),
        Column::Share(4),
        Column::Fixed(mm(20)),
        Column::Fixed(mm(28)),
        Column::Share(6),
        Column::Fixed(mm(28)),
    ];
    let head = ["name", "area", "a notice is", "points of isolation", "highest voltages", "proof"];
    vec![Block::text(Style::Title, &enclosure.designation), ruled(&head, columns, vec![cells])]
}

/// The notices, each beside the reasons; those that differ only in number, place and code are listed.
fn notices(document: &Document<'_>, explanation: &Explanation, indices: &[usize]) -> Vec<Block> {
    let mut shown: Vec<&Setting> = Vec::new();
    let mut blocks =
        vec![Block::heading(if indices.len() == 1 { "Notice and reasons" } else { "Notices and reasons" })];
    let mut like: Vec<Vec<Cell>> = Vec::new();
    for &index in indices {
        let (Some(one), Some(set)) = (document.prepared.notice(index), document.prepared.set(index)) else { continue };
        if shown.iter().any(|known| looks_like(known, set)) {
            let cells = [body(&one.position), body(notice::code(one, set)), body(one.fingerprint())];
            like.push(std::iter::once(strong(&one.number)).chain(cells).collect());
            continue;
        }
        let reasons = if shown.is_empty() { notice::reasons(&explanation.reasons) } else { Vec::new() };
        shown.push(set);
        blocks.push(notice::beside(document, one, set, reasons));
    }
    if !like.is_empty() {
        blocks.push(Block::heading("The same at further positions, but for number and code"));
        let columns = vec![Column::Fitted(mm(60)), Column::Share(1), Column::Share(1), Column::Fixed(mm(34))];
        blocks.push(ruled(&["number", "position", "code", "fingerprint"], columns, like));
    }
    blocks
}

/// Notices of one enclosure say the same; they may be set in other sizes.
fn looks_like(one: &Setting, other: &Setting) -> bool {
    one.size == other.size && one.letter_height == other.letter_height && one.sign_height == other.sign_height
}
