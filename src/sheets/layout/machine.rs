//! The part of a description that says what the sheet is made on: `[roll]`, `[press]` or `[engraving]`.

use std::ops::Range;

use serde::Deserialize;
use toml::Spanned;

use super::{Check, Description};
use crate::finding::code;
use crate::length::Length;
use crate::material::Process;
use crate::sheets::{Dots, Engraving, Press, Production, Ribbon, Roll, SheetFormat};

/// A label printer.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RollDescription {
    /// 203, 300 or 600.
    dots_per_inch: Dots,
    ribbon: Ribbon,
}

/// A printing works. Lengths are in millimetres.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PressDescription {
    bleed: Spanned<f64>,
    marks: Spanned<f64>,
    contour: Spanned<String>,
}

/// An engraving machine. Lengths are in millimetres.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct EngravingDescription {
    tool: Spanned<f64>,
}

/// No bleed is wider and no room for marks larger, in millimetres.
const WIDEST_EDGE: f64 = 30.0;

/// No tool is broader, in millimetres: a letter of 2 mm would be one blot.
const BROADEST_TOOL: f64 = 3.0;

/// Names of spot colours are at most this long (ISO 32000-1, annex C: a name has up to 127 bytes).
const LONGEST_NAME: usize = 100;

impl Check<'_> {
    /// What the sheet is made on; it must be what marks it.
    pub(super) fn production(&mut self, description: &Description) -> Option<Production> {
        let process = *description.process.get_ref();
        let roll = description.roll.as_ref().map(|part| ("roll", part.span()));
        let press = description.press.as_ref().map(|part| ("press", part.span()));
        let engraving = description.engraving.as_ref().map(|part| ("engraving", part.span()));
        let parts: Vec<_> = [roll, press, engraving].into_iter().flatten().collect();
        if let [(one, _), (other, span), ..] = parts.as_slice() {
            let message = format!("a sheet is made in one way, not by [{one}] and by [{other}]");
            self.report(code::LAYOUT_NOT_READABLE, span, other, message);
            return None;
        }
        let wanted = match process {
            Process::Press => Some("press"),
            Process::Engraving => Some("engraving"),
            Process::Laser | Process::Inkjet | Process::ThermalTransfer => None,
        };
        let given = parts.first().map(|(part, _)| *part);
        if given != wanted && !(given == Some("roll") && wanted.is_none()) {
            let span = parts.first().map_or(description.process.span(), |(_, span)| span.clone());
            return self.contradiction(process, given, &span);
        }
        if let Some(roll) = &description.roll {
            let RollDescription { dots_per_inch, ribbon } = *roll.get_ref();
            return Some(Production::Roll(Roll { dots: dots_per_inch, ribbon }));
        }
        match (&description.press, &description.engraving) {
            (Some(press), _) => self.press(press.get_ref()),
            (None, Some(engraving)) => self.engraving(engraving.get_ref()),
            (None, None) => Some(Production::Office),
        }
    }

    fn contradiction(&mut self, process: Process, given: Option<&str>, span: &Range<usize>) -> Option<Production> {
        let message = match given {
            Some(part) => format!("`[{part}]` does not go with `process = \"{process}\"`"),
            None => format!("`process = \"{process}\"` needs a part `[{process}]`"),
        };
        self.report(code::LAYOUT_NOT_READABLE, span, "process", message);
        None
    }

    fn press(&mut self, press: &PressDescription) -> Option<Production> {
        let bleed = self.between("bleed", &press.bleed, 0.0..WIDEST_EDGE);
        let marks = self.between("marks", &press.marks, 0.0..WIDEST_EDGE);
        let contour = press.contour.get_ref().trim();
        let plain = |c: char| c.is_ascii_graphic() || c == ' ';
        if contour.is_empty() || contour.len() > LONGEST_NAME || !contour.chars().all(plain) {
            let message =
                format!("`contour` names a spot colour in 1 to {LONGEST_NAME} plain letters, digits and signs");
            self.report(code::LAYOUT_VALUE, &press.contour.span(), "contour", message);
            return None;
        }
        Some(Production::Press(Press { bleed: bleed?, marks: marks?, contour: contour.to_owned() }))
    }

    /// What is printed beyond one label must not show on the next.
    pub(super) fn bleeds(&mut self, format: &SheetFormat, description: &Description) {
        let Production::Press(press) = &format.production else { return };
        let beside = format.cells.get(1).filter(|_| format.columns > 1);
        let between = [
            (beside.map(|cell| cell.origin.x - format.grid().origin.x - format.cell().width), &description.gap_across),
            (
                format
                    .cells
                    .get(format.columns)
                    .map(|cell| cell.origin.y - format.grid().origin.y - format.cell().height),
                &description.gap_down,
            ),
        ];
        let cells = between.into_iter().filter_map(|(gap, key)| Some((gap?, key.as_ref()?.span())));
        let packed = format.packing.zip(description.packing.as_ref());
        let packed = packed.map(|(packing, key)| (packing.gap, key.get_ref().gap.span()));
        if let Some((gap, span)) = cells.chain(packed).find(|(gap, _)| *gap < press.bleed * 2) {
            let bleed = press.bleed;
            let message = format!("labels lie {gap} mm apart, and the print of each goes on for {bleed} mm beyond it");
            self.report(code::BLEEDS_OVERLAP, &span, "bleed", message);
        }
    }

    fn engraving(&mut self, engraving: &EngravingDescription) -> Option<Production> {
        let tool = self.between("tool", &engraving.tool, 0.01..BROADEST_TOOL)?;
        Some(Production::Engraving(Engraving { tool }))
    }

    fn between(&mut self, key: &str, value: &Spanned<f64>, range: Range<f64>) -> Option<Length> {
        let millimetres = *value.get_ref();
        if (range.start..=range.end).contains(&millimetres) {
            return Some(Length::mm(millimetres));
        }
        let (least, most) = (range.start, range.end);
        let message = format!("`{key}` is {millimetres:?} mm and must lie between {least} and {most}");
        self.report(code::LAYOUT_VALUE, &value.span(), key, message);
        None
    }
}
