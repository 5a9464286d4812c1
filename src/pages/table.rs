//! Tables into strips: the widths of the columns, the head that comes again, rows that are taller than a page.

use std::sync::Arc;

use super::block::{Cell, Column, Table};
use super::letters::Letters;
use super::strip::{FIRM, Strip, THIN};
use super::{Style, Text};
use crate::drawing::GlyphLine;
use crate::length::Length;

/// White between two columns.
const GAP: Length = Length::um(3_500);

/// White over and under the words of a row.
const PAD: Length = Length::um(700);

/// White before the table.
const BEFORE: Length = Length::um(1_500);

/// No column is narrower, whatever the others take.
const NARROWEST: Length = Length::um(8_000);

/// Lays tables within a width; rows higher than `most` are broken between their lines.
pub(super) struct Tables<'a> {
    pub(super) letters: Letters<'a>,
    pub(super) width: Length,
    pub(super) most: Length,
}

/// Left edge and width of a column.
type Slot = (Length, Length);

/// The lines of a cell, each with its style.
type CellLines = Vec<(Arc<GlyphLine>, Style)>;

impl Tables<'_> {
    /// The strips of a table.
    pub(super) fn strips(&self, table: &Table) -> Vec<Strip> {
        let slots = self.slots(table);
        let head = self.head(table, &slots);
        let room = self.most - head.as_ref().map_or(Length::ZERO, |head| head.height);
        let mut strips: Vec<Strip> = Vec::with_capacity(table.rows.len() + 1);
        strips.extend(head.as_deref().cloned());
        for row in &table.rows {
            let cells: Vec<CellLines> = row.iter().zip(&slots).map(|(cell, slot)| self.cell(cell, slot.1)).collect();
            let whole = self.row(&cells, &slots, table.ruled);
            if whole.height <= room {
                strips.push(whole);
            } else {
                strips.extend(self.broken(&cells, &slots, table.ruled));
            }
        }
        for (number, strip) in strips.iter_mut().enumerate() {
            if number == 0 {
                strip.before = BEFORE;
            } else {
                strip.head = head.clone();
            }
        }
        strips
    }

    fn slots(&self, table: &Table) -> Vec<Slot> {
        let gaps = GAP * i32::try_from(table.columns.len().saturating_sub(1)).unwrap_or(i32::MAX);
        let mut widths: Vec<Length> = table
            .columns
            .iter()
            .enumerate()
            .map(|(number, column)| match *column {
                Column::Fixed(width) => width,
                Column::Fitted(most) => self.widest(table, number).min(most).max(NARROWEST),
                Column::Share(_) => Length::ZERO,
            })
            .collect();
        let shares = table.columns.iter().map(|column| column.share()).sum::<i32>().max(1);
        let least = NARROWEST * shares;
        let left = (self.width - gaps - widths.iter().copied().sum()).max(least);
        for (width, column) in widths.iter_mut().zip(&table.columns) {
            if column.share() > 0 {
                *width = left * column.share() / shares;
            }
        }
        let mut at = Length::ZERO;
        let slot = |width: Length| {
            let left = at;
            at = at + width + GAP;
            (left, width)
        };
        widths.into_iter().map(slot).collect()
    }

    fn widest(&self, table: &Table, number: usize) -> Length {
        let head = table.head.get(number).map(|head| self.letters.width(Style::Small, head));
        let cells = table.rows.iter().filter_map(|row| row.get(number)).flatten();
        let widths = cells.map(|text| self.letters.width(text.style, &text.words));
        widths.chain(head).max().unwrap_or(Length::ZERO)
    }

    fn cell(&self, cell: &Cell, width: Length) -> CellLines {
        let lines = |text: &Text| {
            let style = text.style;
            self.letters.lines(style, &text.words, width).into_iter().map(move |line| (line, style))
        };
        cell.iter().flat_map(lines).collect()
    }

    fn head(&self, table: &Table, slots: &[Slot]) -> Option<Arc<Strip>> {
        if table.head.is_empty() {
            return None;
        }
        let name = |(name, slot): (&String, &Slot)| self.cell(&vec![Text::new(Style::Small, name)], slot.1);
        let cells: Vec<CellLines> = table.head.iter().zip(slots).map(name).collect();
        let mut strip = self.row(&cells, slots, false);
        strip.rule(Length::ZERO, strip.height, self.width, FIRM);
        strip.height = strip.height + FIRM;
        strip.leads = true;
        Some(Arc::new(strip))
    }

    fn row(&self, cells: &[CellLines], slots: &[Slot], ruled: bool) -> Strip {
        let mut strip = Strip::default();
        let mut bottom = PAD;
        for (cell, slot) in cells.iter().zip(slots) {
            let mut y = PAD;
            for (line, style) in cell {
                y = strip.lines(std::slice::from_ref(line), *style, slot.0, y);
            }
            bottom = bottom.max(y);
        }
        strip.height = bottom + if ruled { PAD } else { Length::ZERO };
        self.finished(strip, ruled)
    }

    /// A row that is taller than a page, a strip for each line.
    fn broken(&self, cells: &[CellLines], slots: &[Slot], ruled: bool) -> Vec<Strip> {
        let count = cells.iter().map(Vec::len).max().unwrap_or(0);
        let mut strips = Vec::with_capacity(count);
        for number in 0..count {
            let last = number + 1 == count;
            let mut strip = Strip::default();
            let mut bottom = Length::ZERO;
            for (cell, slot) in cells.iter().zip(slots) {
                let Some((line, style)) = cell.get(number) else { continue };
                let top = if number == 0 { PAD } else { Length::ZERO };
                bottom = bottom.max(strip.lines(std::slice::from_ref(line), *style, slot.0, top));
            }
            strip.height = bottom + if ruled && last { PAD } else { Length::ZERO };
            strips.push(self.finished(strip, ruled && last));
        }
        strips
    }

    fn finished(&self, mut strip: Strip, ruled: bool) -> Strip {
        if ruled {
            strip.rule(Length::ZERO, strip.height, self.width, THIN);
            strip.height = strip.height + THIN;
        }
        strip
    }
}

impl Column {
    fn share(self) -> i32 {
        match self {
            Self::Fixed(_) | Self::Fitted(_) => 0,
            Self::Share(share) => i32::from(share),
        }
    }
}
