//! Tables into strips: the widths of the columns, the head that comes again, rows that are taller than a page.

use std::sync::Arc;

use super::block::{Cell, Column, Inside, Table, Target};
use super::flow::Layout;
use super::strip::{DISC, FIRM, Mark, Sense, Strip, THIN};
use super::{Style, Text};
use crate::drawing::{Drawing, GlyphLine, Ink, Role};
use crate::length::{Length, Point, Rect, Size};

/// White between two columns.
const GAP: Length = Length::um(3_500);

/// White over and under the words of a row.
const PAD: Length = Length::um(700);

/// White before the table.
const BEFORE: Length = Length::um(1_500);

/// White under a box to write in.
const UNDER_FIELD: Length = Length::um(700);

/// No column is narrower, whatever the others take.
const NARROWEST: Length = Length::um(8_000);

/// Side of a box to tick, and the white behind it.
const TICK: Length = Length::um(3_200);
const AFTER_TICK: Length = Length::um(1_500);

/// No page number is wider.
const WIDEST_PAGE: &str = "000000";

/// White under a picture in a cell.
const UNDER_PICTURE: Length = Length::um(900);

/// Lays tables within the room of a layout; rows higher than a page are broken between their pieces.
pub(super) struct Tables<'a>(pub(super) Layout<'a>);

/// Left edge and width of a column.
type Slot = (Length, Length);

/// What a cell is made of, one piece below the other.
enum Piece {
    Line(Arc<GlyphLine>, Style, Sense),
    Picture(Arc<Drawing>, usize),
    /// A box to tick with the first line of what it is for.
    Tick(Option<Arc<GlyphLine>>, Sense),
    /// A further line of what a box is for.
    AfterTick(Arc<GlyphLine>, Sense),
    Room(Length),
    /// A box to write in, so wide and so high.
    Field(Size),
    /// A number on a disc.
    Number(Arc<GlyphLine>, Sense),
    Anchor(Target),
}

impl Tables<'_> {
    /// The strips of a table.
    pub(super) fn strips(&self, table: &Table) -> Vec<Strip> {
        let slots = self.slots(table);
        let inside = Self(self.0.within(self.0.part(Role::Table)));
        let head = inside.head(table, &slots);
        let room = self.0.most - head.as_ref().map_or(Length::ZERO, |head| head.height);
        let mut strips: Vec<Strip> = Vec::with_capacity(table.rows.len() + 1);
        strips.extend(head.clone());
        for row in &table.rows {
            let cells = inside.cells(row, &slots);
            let whole = self.row(&cells, &slots, table.ruled);
            if whole.height <= room {
                strips.push(whole);
            } else {
                strips.extend(self.broken(&cells, &slots, table.ruled));
            }
        }
        let head = head.map(|head| Arc::new(head.silent()));
        for (number, strip) in strips.iter_mut().enumerate() {
            if number == 0 {
                strip.before = BEFORE;
            } else {
                strip.head.clone_from(&head);
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
        let sharing = table.columns.iter().filter(|column| column.share() > 0).count();
        let least = NARROWEST * i32::try_from(sharing).unwrap_or(i32::MAX);
        let left = (self.0.width - gaps - widths.iter().copied().sum()).max(least);
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
        let letters = self.0.letters;
        let head = table.head.get(number).map(|head| letters.width(Style::Small, head));
        let cells = table.rows.iter().filter_map(|row| row.get(number)).flatten();
        let widths = cells.map(|inside| match inside {
            Inside::Text(text) => letters.width(text.style, &text.words),
            Inside::Picture(drawing, _) => drawing.size.width,
            Inside::Tick(words) => TICK + AFTER_TICK + letters.width(Style::Body, words),
            Inside::Number(_) => DISC,
            Inside::PageOf(_) => letters.width(Style::Body, WIDEST_PAGE),
            Inside::Room(_) | Inside::Field(_) | Inside::Anchor(_) => Length::ZERO,
        });
        widths.chain(head).max().unwrap_or(Length::ZERO)
    }

    /// The pieces of every cell of a row; what stands first in it is what the row is about.
    fn cells(&self, row: &[Cell], slots: &[Slot]) -> Vec<Vec<Piece>> {
        let inside = Self(self.0.within(self.0.part(Role::Row)));
        let role = |number: usize| if number == 0 { Role::RowHead } else { Role::Cell };
        let numbered = row.iter().zip(slots).enumerate();
        numbered.map(|(number, (cell, slot))| inside.cell(cell, slot.1, role(number))).collect()
    }

    fn cell(&self, cell: &Cell, width: Length, role: Role) -> Vec<Piece> {
        let part = self.0.part(role);
        cell.iter().flat_map(|inside| self.pieces(inside, width, part)).collect()
    }

    fn pieces(&self, inside: &Inside, width: Length, part: usize) -> Vec<Piece> {
        let letters = self.0.letters;
        match inside {
            Inside::Text(text) => {
                let lines = letters.lines(text.style, &text.words, width);
                let sense = self.0.inner_sense(text, part);
                lines.into_iter().map(|line| Piece::Line(line, text.style, sense.clone())).collect()
            }
            Inside::Picture(drawing, alternative) => {
                vec![Piece::Picture(no_wider(drawing, width), self.0.within(part).figure(alternative))]
            }
            Inside::Tick(words) => {
                let lines = letters.lines(Style::Body, words, width - TICK - AFTER_TICK);
                let mut lines = lines.into_iter();
                let first = Piece::Tick(lines.next(), Sense::of(part));
                let further = lines.map(|line| Piece::AfterTick(line, Sense::of(part)));
                std::iter::once(first).chain(further).collect()
            }
            Inside::Room(height) => vec![Piece::Room(*height)],
            Inside::Field(height) => vec![Piece::Field(Size::new(width, *height))],
            Inside::Number(number) => {
                let lines = letters.lines(Style::Strong, &number.to_string(), width);
                lines.into_iter().map(|line| Piece::Number(line, Sense::of(part))).collect()
            }
            Inside::Anchor(target) => vec![Piece::Anchor(target.clone())],
            Inside::PageOf(anchor) => {
                // One line, whether the page is known yet or not.
                let page = (self.0.page_of)(anchor).unwrap_or_default().to_string();
                let line = letters.lines(Style::Body, &page, width).into_iter().next();
                line.map(|line| Piece::Line(line, Style::Body, Sense::of(part))).into_iter().collect()
            }
        }
    }

    fn head(&self, table: &Table, slots: &[Slot]) -> Option<Strip> {
        if table.head.is_empty() {
            return None;
        }
        let inside = Self(self.0.within(self.0.part(Role::Row)));
        let name = |(name, slot): (&String, &Slot)| {
            inside.cell(&vec![Text::new(Style::Small, name).into()], slot.1, Role::ColumnHead)
        };
        let cells: Vec<Vec<Piece>> = table.head.iter().zip(slots).map(name).collect();
        let mut strip = self.row(&cells, slots, false);
        strip.rule(Length::ZERO, strip.height, self.0.width, FIRM);
        strip.height = strip.height + FIRM;
        strip.leads = true;
        Some(strip)
    }

    fn row(&self, cells: &[Vec<Piece>], slots: &[Slot], ruled: bool) -> Strip {
        let mut strip = Strip::default();
        let mut bottom = PAD;
        for (cell, slot) in cells.iter().zip(slots) {
            let mut y = PAD;
            for piece in cell {
                y = piece.put(&mut strip, slot.0, y);
            }
            bottom = bottom.max(y);
        }
        strip.height = bottom + if ruled { PAD } else { Length::ZERO };
        self.finished(strip, ruled)
    }

    /// A row that is taller than a page, a strip for each piece.
    fn broken(&self, cells: &[Vec<Piece>], slots: &[Slot], ruled: bool) -> Vec<Strip> {
        let count = cells.iter().map(Vec::len).max().unwrap_or(0);
        let mut strips = Vec::with_capacity(count);
        for number in 0..count {
            let last = number + 1 == count;
            let mut strip = Strip::default();
            let mut bottom = Length::ZERO;
            for (cell, slot) in cells.iter().zip(slots) {
                let Some(piece) = cell.get(number) else { continue };
                let top = if number == 0 { PAD } else { Length::ZERO };
                bottom = bottom.max(piece.put(&mut strip, slot.0, top));
            }
            strip.height = bottom + if ruled && last { PAD } else { Length::ZERO };
            strips.push(self.finished(strip, ruled && last));
        }
        strips
    }

    fn finished(&self, mut strip: Strip, ruled: bool) -> Strip {
        if ruled {
            strip.rule(Length::ZERO, strip.height, self.0.width, THIN);
            strip.height = strip.height + THIN;
        }
        strip
    }
}

impl Piece {
    /// Puts it into a strip with its upper left corner at a place; the answer is where it ends.
    fn put(&self, strip: &mut Strip, left: Length, top: Length) -> Length {
        let after_tick = left + TICK + AFTER_TICK;
        let mut line = |line: &Arc<GlyphLine>, style: Style, left: Length, sense: &Sense| {
            strip.lines(std::slice::from_ref(line), style, (left, top), sense)
        };
        match self {
            Self::Line(words, style, sense) => line(words, *style, left, sense),
            Self::AfterTick(words, sense) => line(words, Style::Body, after_tick, sense),
            Self::Tick(words, sense) => {
                if let Some(words) = words {
                    line(words, Style::Body, after_tick, sense);
                }
                let corner = Point::new(left, top + (Style::Body.pitch() - TICK) / 2);
                strip.marks.push(Mark::Frame(Rect::new(corner, Size::new(TICK, TICK)), Ink::Black, THIN * 2));
                top + Style::Body.pitch()
            }
            Self::Picture(drawing, element) => {
                strip.marks.push(Mark::Picture(Arc::clone(drawing), Point::new(left, top), Some(*element)));
                let frame = Rect::new(Point::new(left, top), drawing.size);
                strip.marks.push(Mark::Frame(frame, Ink::Grey, THIN));
                top + drawing.size.height + UNDER_PICTURE
            }
            Self::Room(height) => top + *height,
            Self::Field(size) => {
                let frame = Rect::new(Point::new(left, top), *size).inset(THIN);
                strip.marks.push(Mark::Frame(frame, Ink::Black, THIN * 2));
                top + size.height + UNDER_FIELD
            }
            Self::Number(number, sense) => {
                strip.marks.push(Mark::Disc(Arc::clone(number), Point::new(left, top), sense.clone()));
                top + DISC
            }
            Self::Anchor(target) => {
                strip.marks.push(Mark::Anchor(target.clone(), Point::new(left, top)));
                top
            }
        }
    }
}

/// A picture reduced to a width, unless it is narrower.
fn no_wider(drawing: &Arc<Drawing>, width: Length) -> Arc<Drawing> {
    let own = drawing.size.width;
    if own <= width {
        return Arc::clone(drawing);
    }
    Arc::new(drawing.scaled(f64::from(width.to_um().max(1) - 1) / f64::from(own.to_um().max(1))))
}

impl Column {
    fn share(self) -> i32 {
        match self {
            Self::Fixed(_) | Self::Fitted(_) => 0,
            Self::Share(share) => i32::from(share),
        }
    }
}
