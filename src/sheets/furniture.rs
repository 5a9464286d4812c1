//! What stands in the margin of a sheet, where there is room: which edge was up, the first cell, sheet number, format,
//! how to print, a 100 mm check ruler, the correction, cutting marks, and who was left out. Nothing enters a cell.

use super::measure::{Along, CAPITALS, HAIRLINE, LINE, Pen, Piece, Slot, baselines};
use super::works::Works;
use super::{Production, Run, SheetFormat, cutting, paper_name};
use crate::drawing::{Drawing, Face, Ink, Path};
use crate::length::{Length, Point, Rect, Size};
use crate::typesetting::Typesetter;

/// Kept clear around the cells.
const CLEAR: Length = Length::um(1_500);

/// Kept clear inside the border that the printer cannot reach.
const INDENT: Length = Length::um(500);

/// Length of a cutting mark.
const CUT_MARK: Length = Length::um(3_000);

/// Room of the mark that shows which edge was up.
const EDGE_MARK: Length = Length::um(4_000);

/// Length of the check ruler in millimetres, and its short, middle and long ticks.
const RULER: i32 = 100;
const RULER_TICKS: [Length; 3] = [Length::um(700), Length::um(1_200), Length::um(2_000)];

/// Room of the ruler with the numbers over its ticks, and with the numbers beside its ends.
const RULER_ROOM: Size = Size::new(Length::um(112_000), Length::um(5_000));

/// Lines of text that are shorter would break after every word.
const NARROWEST: Length = Length::um(15_000);

/// Names of enclosures that a margin is tried with at most.
const MOST_NAMES: usize = 60;

/// What the margin of every sheet of a format shows.
pub(super) fn margin_marks(format: &SheetFormat, typesetter: &Typesetter) -> Drawing {
    let mut margin = Margin::new(format, typesetter);
    if !is_left_blank(format) {
        margin.cut_marks();
        margin.first_cell_mark();
        margin.edge_mark();
        margin.check_ruler();
    }
    margin.pen.drawing
}

/// What the margin of page `number` of `of` of a document says.
pub(super) fn margin_text(
    format: &SheetFormat,
    run: &Run,
    number: usize,
    of: usize,
    typesetter: &Typesetter,
) -> Drawing {
    let mut margin = Margin::new(format, typesetter);
    if is_left_blank(format) {
        return margin.pen.drawing;
    }
    for (start, line) in margin.lines(run, number, of).0 {
        margin.pen.text(Face::Regular, &line, CAPITALS, start);
    }
    margin.pen.drawing
}

/// Whether the names of all enclosures left out find room in the margin of a format.
pub(super) fn has_room_for_names(format: &SheetFormat, run: &Run, typesetter: &Typesetter) -> bool {
    if let Production::Press(press) = &format.production {
        return Works { format, press, typesetter }.has_room_for_names(run);
    }
    // Sheet numbers of a very long run are the widest that can stand before the names.
    !is_left_blank(format) && Margin::new(format, typesetter).lines(run, 99_999, 99_999).1
}

/// Whether nothing stands in the margin: laminate is not engraved where it is thrown away.
const fn is_left_blank(format: &SheetFormat) -> bool {
    matches!(format.production, Production::Engraving(_))
}

struct Margin<'a> {
    pen: Pen<'a>,
    format: &'a SheetFormat,
    /// Free room over and under the cells.
    top: Rect,
    bottom: Rect,
    /// Kept clear around the cells, cutting marks included.
    clear: Length,
    has_ruler: bool,
}

impl<'a> Margin<'a> {
    fn new(format: &'a SheetFormat, typesetter: &'a Typesetter) -> Self {
        let (grid, printable) = (format.grid(), format.printable().inset(INDENT));
        let clear = match format.packing.filter(|_| format.cut_marks) {
            Some(packing) => cutting::reach(packing.gap) + INDENT,
            None if format.cut_marks => CLEAR + CUT_MARK + INDENT,
            None => CLEAR,
        };
        let band = |top: Length, bottom: Length| {
            let size = Size::new(printable.size.width, (bottom - top).max(Length::ZERO));
            Rect::new(Point::new(printable.origin.x, top), size)
        };
        let bottom = band(grid.bottom() + clear, printable.bottom());
        Self {
            pen: Pen { drawing: Drawing::new(format.paper), typesetter },
            format,
            top: band(printable.origin.y, grid.origin.y - clear),
            bottom,
            clear,
            has_ruler: RULER_ROOM.fits_in(bottom.size),
        }
    }

    /// Short lines in the margin in line with the edges of the cells.
    fn cut_marks(&mut self) {
        // A packed sheet has cuts of its own.
        if !self.format.cut_marks || self.format.packing.is_some() {
            return;
        }
        let (grid, paper) = (self.format.grid(), self.format.printable());
        let mut path = Path::new();
        let mut mark = |from: Point, to: Point| {
            if from.x >= paper.origin.x && from.y >= paper.origin.y && to.x <= paper.right() && to.y <= paper.bottom() {
                path.segments.extend(Path::line(from, to).segments);
            }
        };
        for x in edges(self.format.cells.iter().flat_map(|cell| [cell.origin.x, cell.right()])) {
            let (top, bottom) = (grid.origin.y - CLEAR, grid.bottom() + CLEAR);
            mark(Point::new(x, top - CUT_MARK), Point::new(x, top));
            mark(Point::new(x, bottom), Point::new(x, bottom + CUT_MARK));
        }
        for y in edges(self.format.cells.iter().flat_map(|cell| [cell.origin.y, cell.bottom()])) {
            let (left, right) = (grid.origin.x - CLEAR, grid.right() + CLEAR);
            mark(Point::new(left - CUT_MARK, y), Point::new(left, y));
            mark(Point::new(right, y), Point::new(right + CUT_MARK, y));
        }
        self.pen.drawing.stroke(path, Ink::Black, HAIRLINE);
    }

    /// A 1 and a small triangle beside the cell from which cells are numbered.
    fn first_cell_mark(&mut self) {
        if self.format.packing.is_some() {
            return;
        }
        let grid = self.format.grid();
        let tip = Point::new(grid.origin.x - CLEAR, grid.origin.y + Length::um(4_500));
        let side = Length::um(1_400);
        if tip.x - side * 3 < self.format.printable().origin.x || grid.bottom() < tip.y + side {
            return;
        }
        let back = tip.x - side;
        let triangle = Path::new().move_to(tip);
        let triangle = triangle.line_to(Point::new(back, tip.y - side / 2)).line_to(Point::new(back, tip.y + side / 2));
        self.pen.drawing.fill(triangle.close(), Ink::Black);
        self.pen.right(Face::Medium, "1", CAPITALS, Point::new(back - Length::um(500), tip.y + CAPITALS / 2));
    }

    /// A triangle that points to the edge that was up.
    fn edge_mark(&mut self) {
        if self.top.size.height < LINE {
            return;
        }
        let (left, top) = (self.text_left(), self.top.origin.y);
        let (wide, base) = (Length::um(2_600), top + CAPITALS);
        let triangle = Path::new().move_to(Point::new(left + wide / 2, top));
        let triangle = triangle.line_to(Point::new(left + wide, base)).line_to(Point::new(left, base));
        self.pen.drawing.fill(triangle.close(), Ink::Black);
    }

    fn check_ruler(&mut self) {
        if !self.has_ruler {
            return;
        }
        let from = Point::new(self.text_left(), self.bottom.bottom());
        self.pen.ruler(from, Along::Across, RULER, RULER_TICKS, &[0, 50, 100]);
        for mm in [0, 50, 100] {
            let at = Point::new(from.x + Length::um(mm * 1_000), from.y - Length::um(2_600));
            self.pen.centred(Face::Regular, &mm.to_string(), CAPITALS, at);
        }
        let after = Point::new(from.x + Length::um(RULER * 1_000 + 3_400), from.y - Length::um(2_600));
        self.pen.text(Face::Regular, "mm", CAPITALS, after);
    }

    /// The left edge of all that is not beside the cells: in line with them, unless that leaves too little room.
    fn text_left(&self) -> Length {
        let grid = self.format.grid().origin.x;
        let room = self.bottom.right() - grid;
        if room >= RULER_ROOM.width + EDGE_MARK { grid.max(self.bottom.origin.x) } else { self.bottom.origin.x }
    }

    /// The pieces of text with the left ends of their baselines, and whether everything found room.
    fn lines(&self, run: &Run, number: usize, of: usize) -> (Vec<(Point, String)>, bool) {
        let [mut over, mut under, beside] = self.slots();
        let mut facts = self.facts(run, number, of);
        let wanted = facts.len();
        let mut lines = loop {
            match self.pen.flow(over.iter().chain(&under), &facts) {
                Some(lines) => break lines,
                None => facts.pop(),
            };
        };
        // Whoever was left out begins a line of its own, behind the last line of facts.
        let last = lines.last().map(|(start, _)| start.y);
        for band in [&mut over, &mut under] {
            band.retain(|(start, _)| last.is_none_or(|last| start.y > last));
        }
        let (names, all_named) = self.left_out(&run.left_out, [&over, &under, &beside]);
        lines.extend(names);
        (lines, all_named && facts.len() == wanted)
    }

    /// The names of enclosures left out, in the first place that has room for all, else as many as fit over, under and
    /// beside the cells; and whether all are named.
    fn left_out(&self, enclosures: &[String], places: [&Vec<Slot>; 3]) -> (Vec<(Point, String)>, bool) {
        let all = left_out(enclosures, enclosures.len().min(MOST_NAMES));
        let complete = enclosures.len() <= MOST_NAMES;
        if let Some(lines) = places.iter().find_map(|place| self.pen.flow(place.iter(), &all)) {
            return (lines, complete);
        }
        for names in (0..=enclosures.len().min(MOST_NAMES)).rev() {
            if let Some(lines) = self.pen.flow(places.into_iter().flatten(), &left_out(enclosures, names)) {
                return (lines, names == enclosures.len());
            }
        }
        (Vec::new(), enclosures.is_empty())
    }

    /// Lines for text: those over the cells, those right of the ruler or, without one, under the cells, and short ones
    /// on the right of the cells where the margin is wide.
    fn slots(&self) -> [Vec<Slot>; 3] {
        let left = self.text_left();
        let over = baselines(self.top).enumerate().map(|(number, y)| {
            let left = if number == 0 { left + EDGE_MARK } else { left };
            (Point::new(left, y), self.top.right() - left)
        });
        let left = if self.has_ruler { left + RULER_ROOM.width } else { left };
        let under = baselines(self.bottom).map(|y| (Point::new(left, y), self.bottom.right() - left));
        let grid = self.format.grid();
        let left = grid.right() + self.clear;
        let beside = Rect::new(Point::new(left, grid.origin.y), Size::new(self.top.right() - left, grid.size.height));
        let beside = baselines(beside).map(|y| (Point::new(left, y), beside.size.width));
        let wide = |(_, room): &Slot| *room >= NARROWEST;
        [over.filter(wide).collect(), under.filter(wide).collect(), beside.filter(wide).collect()]
    }

    /// What every sheet says, the most useful first.
    fn facts(&self, run: &Run, number: usize, of: usize) -> Vec<Piece> {
        let format = self.format;
        let mut facts = vec![format!("Sheet {number} of {of}"), "print at 100 % (actual size), single-sided".into()];
        if self.has_ruler {
            facts.push("the ruler is then 100 mm long".into());
        }
        facts.push(format!("{}, {} {}", format.name, paper_name(format.paper), format.paper));
        if format.packing.is_some() && format.cut_marks {
            facts.push("cut first where the margin is marked, then along the grey lines".into());
        }
        if !run.correction.is_none() {
            facts.push(run.correction.stated(&run.printer));
        }
        facts.into_iter().map(|text| Piece { before: "  ·  ", text }).collect()
    }
}

/// The first `named` of the enclosures left out, and how many more there are.
pub(super) fn left_out(enclosures: &[String], named: usize) -> Vec<Piece> {
    if enclosures.is_empty() {
        return Vec::new();
    }
    let words = ["Left out", "because", "of errors:"];
    let mut pieces: Vec<_> = words.map(|text| Piece { before: " ", text: text.into() }).into();
    for (number, enclosure) in enclosures.iter().take(named).enumerate() {
        let comma = if number + 1 < enclosures.len() { "," } else { "" };
        pieces.push(Piece { before: " ", text: format!("{enclosure}{comma}") });
    }
    if named < enclosures.len() {
        let word = if named == 0 { "enclosures" } else { "more" };
        pieces.push(Piece { before: " ", text: format!("{} {word}", enclosures.len() - named) });
    }
    pieces
}

/// Each place once, in order.
fn edges(places: impl Iterator<Item = Length>) -> Vec<Length> {
    let mut places: Vec<_> = places.collect();
    places.sort_unstable();
    places.dedup();
    places
}
