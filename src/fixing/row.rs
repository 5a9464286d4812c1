//! One notice of the list.

use super::printed::Printed;
use super::{small, strong_text, tried};
use crate::length::Length;
use crate::notice::{Notice, Subject, Told};
use crate::pages::texts::{named_size, parts};
use crate::pages::{Cell, Inside, Style, Text};
use crate::prepared::Prepared;
use crate::rules::{Decision, DeviceDecision};
use crate::sheets::paper_name;
use crate::survey::value::Surface;
use crate::typesetting::{Setting, Typesetter};

/// Height of the box for initials, and of that for what is found otherwise.
const INITIALS: Length = Length::um(9_000);
const AS_FOUND: Length = Length::um(19_000);

/// A notice with what its row is made from.
pub(super) struct Row<'a> {
    pub(super) prepared: &'a Prepared<'a>,
    pub(super) index: usize,
    pub(super) notice: &'a Notice,
    pub(super) set: &'a Setting,
    /// What was decided and is said of its enclosure; `None` for others.
    pub(super) told: Option<(&'a Decision, Told)>,
    /// What was decided of its isolator, with what must be read before that is opened; `None` for others.
    pub(super) device: Option<(&'a DeviceDecision, Vec<String>)>,
    /// What the record tells of its printing; `None` where none is kept.
    pub(super) printed: Option<&'a Printed<'a>>,
}

impl Row<'_> {
    pub(super) fn cells(&self) -> Vec<Cell> {
        let picture = Inside::Picture(
            small(&Typesetter::new().draw(self.notice, self.set)),
            format!("Notice {}", self.notice.number),
        );
        let mut done: Cell = ["old notice removed", "notice fixed"].map(|words| Inside::Tick(words.to_owned())).into();
        done.push(Inside::Text(Text::new(Style::Small, "initials, date")));
        done.push(Inside::Field(INITIALS));
        vec![self.what(), vec![picture], self.how(), tried::cell(self), done, vec![Inside::Field(AS_FOUND)]]
    }

    /// Number, what it is on and where there, and on which sheet it lies.
    fn what(&self) -> Cell {
        let notice = self.notice;
        let mut cell = vec![strong_text(&notice.number)];
        let on = match notice.subject {
            Subject::Enclosure => parts([notice.designation.as_str(), &notice.name]),
            Subject::Device => format!("isolator {}", notice.designation),
            Subject::Standing => parts(["standing notice", &notice.name]),
        };
        cell.push(Text::new(Style::Body, on).into());
        cell.push(Text::new(Style::Body, position(notice)).into());
        cell.push(Text::new(Style::Small, self.sheet()).into());
        cell
    }

    /// `printed: A4, page 3, cell 2 (a4-a7-4)`: by the record, else by the options, which are those of the printing.
    fn sheet(&self) -> String {
        let format = self.prepared.format(self.index);
        let planned = match (self.prepared.places.get(&self.index), format) {
            (Some(place), Some(format)) => {
                let paper = paper_name(format.paper);
                format!("{paper}, page {}, cell {} ({})", place.page, place.cell, format.name)
            }
            (_, Some(format)) => format.name.clone(),
            (_, None) => return "on no sheet".to_owned(),
        };
        self.printed.map_or_else(|| format!("printed: {planned}"), |printed| printed.in_words(&planned))
    }

    fn how(&self) -> Cell {
        let mut cell = vec![Text::new(Style::Body, named_size(self.set.size)).into()];
        let material =
            self.prepared.format(self.index).map(|format| format!("{}, {}", format.material, format.process));
        cell.extend(material.map(|words| Text::new(Style::Body, words).into()));
        let environment = match self.notice.environment.in_words() {
            said if said.is_empty() => "environment not known".to_owned(),
            said => said,
        };
        cell.push(Text::new(Style::Body, surface(self.notice.surface)).into());
        cell.push(Text::new(Style::Body, environment).into());
        cell
    }
}

/// Where it is fixed.
fn position(notice: &Notice) -> String {
    match notice.subject {
        Subject::Enclosure if notice.position.is_empty() => {
            "position not said: where it is read before opening".to_owned()
        }
        Subject::Standing if notice.position.is_empty() => "position not said by the list".to_owned(),
        Subject::Enclosure | Subject::Standing => notice.position.clone(),
        Subject::Device => "at the isolator".to_owned(),
    }
}

/// What it is fixed on, and by what; common practice.
fn surface(surface: Option<Surface>) -> &'static str {
    match surface {
        Some(Surface::PaintedMetal) => "on painted metal: adhesive, or fixings already there",
        Some(Surface::BareMetal) => "on bare metal: adhesive, or fixings already there",
        Some(Surface::Plastic) => "on plastic: try whether the adhesive holds, or fixings already there",
        Some(Surface::Textured) => {
            "on a textured surface: adhesive may not hold; fixings already there, or a smooth carrier"
        }
        Some(Surface::Curved) => "on a curved surface: a film that follows it, or a flat carrier",
        None => "surface not known: look before fixing",
    }
}
