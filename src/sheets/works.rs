//! A sheet for a printing works: the trimmed sheet with its bleed in the middle of a larger page, the marks and a line of
//! text round it, and above everything the contours along which a plotter cuts the labels out.
//!
//! Crop marks outside the bleed, register marks in the middle of the sides and hairlines of a quarter of a point are
//! common practice; the form of the marks is our own.

use super::furniture::left_out;
use super::measure::{CAPITALS, Pen, Piece, Slot, baselines};
use super::{Page, Placed, Press, Run, SheetFormat, contours, paper_name};
use crate::drawing::{Drawing, Face, Ink, Path};
use crate::length::{Length, Point, Rect, Size};
use crate::typesetting::Typesetter;

/// Width of marks and contours.
const HAIRLINE: Length = contours::QUARTER_POINT;

/// Kept clear between the bleed and what stands outside it, and along the edge of the page.
const CLEAR: Length = Length::um(750);

/// Length of a crop mark where there is room.
const CROP_MARK: Length = Length::um(5_000);

/// Radius of a register mark where there is room.
const REGISTER: Length = Length::um(1_800);

/// With less room than this outside the bleed there are crop marks alone.
const LEAST_ROOM: Length = Length::um(4_500);

/// Kept clear between text and the marks beside it.
const BESIDE_MARKS: Length = Length::um(3_000);

/// Side of a patch of ink.
const PATCH: Length = Length::um(3_000);

/// Names of enclosures that a page is tried with at most.
const MOST_NAMES: usize = 40;

/// A format of a printing works, with what its pages are drawn with.
pub(super) struct Works<'a> {
    pub(super) format: &'a SheetFormat,
    pub(super) press: &'a Press,
    pub(super) typesetter: &'a Typesetter,
}

impl Works<'_> {
    /// The page for labels whose places are those on the trimmed sheet.
    pub(super) fn page(&self, mut placed: Vec<Placed>, run: &Run, number: usize, of: usize) -> Page {
        let trim = self.trim();
        let size = self.size();
        for one in &mut placed {
            one.corner = one.corner + trim.origin;
        }
        let contours = contours::around(&placed, size, self.format.corner_radius, HAIRLINE);
        let furniture = self.surround(run, number, of);
        Page { placed, contours, trim, bleed: self.press.bleed, ..Page::bare(size, furniture) }
    }

    /// Whether the names of all enclosures left out find room on a page.
    pub(super) fn has_room_for_names(&self, run: &Run) -> bool {
        // Sheet numbers of a very long run are the widest that can stand before the names.
        self.lines(&self.pen(), run, 99_999, 99_999).1
    }

    fn edge(&self) -> Length {
        self.press.bleed + self.press.marks
    }

    /// The whole page.
    fn size(&self) -> Size {
        let (paper, edges) = (self.format.paper, self.edge() * 2);
        Size::new(paper.width + edges, paper.height + edges)
    }

    /// The trimmed sheet on the page.
    fn trim(&self) -> Rect {
        Rect::new(Point::new(self.edge(), self.edge()), self.format.paper)
    }

    fn pen(&self) -> Pen<'_> {
        Pen { drawing: Drawing::new(self.size()), typesetter: self.typesetter }
    }

    /// Everything outside the bleed.
    fn surround(&self, run: &Run, number: usize, of: usize) -> Drawing {
        let mut pen = self.pen();
        self.crop_marks(&mut pen.drawing);
        if self.press.marks >= LEAST_ROOM {
            self.register_marks(&mut pen.drawing);
            self.patches(&mut pen.drawing);
        }
        for (start, line) in self.lines(&pen, run, number, of).0 {
            pen.text(Face::Regular, &line, CAPITALS, start);
        }
        pen.drawing
    }

    /// Two lines at each corner, in line with the edges of the trimmed sheet.
    fn crop_marks(&self, drawing: &mut Drawing) {
        let long = CROP_MARK.min(self.press.marks - CLEAR * 2);
        if long <= Length::ZERO {
            return;
        }
        let (trim, near) = (self.trim(), self.press.bleed + CLEAR);
        let (left, top, right, bottom) = (trim.origin.x, trim.origin.y, trim.right(), trim.bottom());
        let mut path = Path::new();
        let mut mark = |from: Point, to: Point| path.segments.extend(Path::line(from, to).segments);
        for y in [top, bottom] {
            mark(Point::new(left - near - long, y), Point::new(left - near, y));
            mark(Point::new(right + near, y), Point::new(right + near + long, y));
        }
        for x in [left, right] {
            mark(Point::new(x, top - near - long), Point::new(x, top - near));
            mark(Point::new(x, bottom + near), Point::new(x, bottom + near + long));
        }
        drawing.stroke(path, Ink::Register, HAIRLINE);
    }

    /// A cross in a circle in the middle of each side.
    fn register_marks(&self, drawing: &mut Drawing) {
        let (size, out) = (self.size(), self.press.marks / 2);
        let radius = REGISTER.min(out - CLEAR * 2);
        let arm = radius + CLEAR;
        let (across, down) = (size.width / 2, size.height / 2);
        for centre in [
            Point::new(across, out),
            Point::new(size.width - out, down),
            Point::new(across, size.height - out),
            Point::new(out, down),
        ] {
            let cross = Path::line(Point::new(centre.x - arm, centre.y), Point::new(centre.x + arm, centre.y));
            let cross = cross.move_to(Point::new(centre.x, centre.y - arm));
            drawing.stroke(cross.line_to(Point::new(centre.x, centre.y + arm)), Ink::Register, HAIRLINE);
            drawing.stroke(Path::circle(centre, radius), Ink::Register, HAIRLINE);
        }
    }

    /// Each printed ink by itself, one under the other on the left side.
    fn patches(&self, drawing: &mut Drawing) {
        let left = (self.press.marks - PATCH) / 2;
        let mut top = self.trim().origin.y + BESIDE_MARKS * 2;
        for ink in [Ink::Black, Ink::SignalYellow] {
            let patch = Rect::new(Point::new(left, top), Size::new(PATCH, PATCH));
            if patch.bottom() + REGISTER * 3 > self.size().height / 2 {
                return;
            }
            drawing.fill(Path::rectangle(patch), ink);
            top = patch.bottom();
        }
    }

    /// The pieces of text with the left ends of their baselines, and whether everything found room.
    fn lines(&self, pen: &Pen<'_>, run: &Run, number: usize, of: usize) -> (Vec<(Point, String)>, bool) {
        let (mut facts, slots) = (self.facts(run, number, of), self.slots());
        let wanted = facts.len();
        let mut lines = loop {
            match pen.flow(slots.iter(), &facts) {
                Some(lines) => break lines,
                None => facts.pop(),
            };
        };
        // Whoever was left out begins a line of its own, behind the last slot that the facts took.
        let last = lines.iter().filter_map(|(start, _)| slots.iter().rposition(|(slot, _)| slot.y == start.y)).max();
        let free: Vec<Slot> = slots.into_iter().skip(last.map_or(0, |last| last + 1)).collect();
        let names = &run.left_out;
        let most = names.len().min(MOST_NAMES);
        let fitting = (0..=most).rev().find_map(|named| Some((named, pen.flow(free.iter(), &left_out(names, named))?)));
        let (named, found) = fitting.unwrap_or_default();
        lines.extend(found);
        (lines, facts.len() == wanted && named == names.len())
    }

    /// What every page says, the most useful first.
    fn facts(&self, run: &Run, number: usize, of: usize) -> Vec<Piece> {
        let (format, press) = (self.format, self.press);
        let trimmed = format!("trimmed to {} {}, bleed {} mm", paper_name(format.paper), format.paper, press.bleed);
        let mut facts = vec![
            format!("Sheet {number} of {of}"),
            format!("cut along the spot colour {}, which is not printed", press.contour),
            trimmed,
            format.name.clone(),
        ];
        facts.extend(run.slug.iter().cloned());
        facts.into_iter().map(|text| Piece { before: "  ·  ", text }).collect()
    }

    /// Lines for text: under the sheet, then over it, on both sides of the register marks.
    fn slots(&self) -> Vec<Slot> {
        if self.press.marks < LEAST_ROOM {
            return Vec::new();
        }
        let (size, trim) = (self.size(), self.trim());
        let band = |top: Length, bottom: Length| {
            let (top, bottom) = (top + CLEAR, bottom - CLEAR);
            Rect::new(Point::new(trim.origin.x, top), Size::new(trim.size.width, bottom - top))
        };
        let under = band(size.height - self.press.marks, size.height);
        let over = band(Length::ZERO, self.press.marks);
        let middle = REGISTER + BESIDE_MARKS;
        let halves = [
            (trim.origin.x + BESIDE_MARKS, size.width / 2 - middle),
            (size.width / 2 + middle, trim.right() - BESIDE_MARKS),
        ];
        let lines = baselines(under).chain(baselines(over));
        let slots = lines.flat_map(|y| halves.map(|(left, right)| (Point::new(left, y), right - left)));
        slots.filter(|(_, width)| *width > Length::ZERO).collect()
    }
}
