//! A sheet format as a drawing of its paper: every cell with its number, and the measures.

use super::measure::{CAPITALS, HAIRLINE, Pen};
use super::{Packing, SheetFormat, paper_name};
use crate::drawing::{Drawing, Face, Ink, Path};
use crate::length::{Length, Point, Rect, Size};
use crate::typesetting::Typesetter;

/// Draws a format as large as its paper.
#[must_use]
pub fn picture(format: &SheetFormat, typesetter: &Typesetter) -> Drawing {
    let mut pen = Pen { drawing: Drawing::new(format.paper), typesetter };
    let paper = Rect::new(Point::default(), format.paper);
    pen.drawing.stroke(Path::rectangle(paper.inset(HAIRLINE / 2)), Ink::Black, HAIRLINE);
    pen.drawing.stroke(Path::rectangle(format.printable()), Ink::Grey, HAIRLINE);
    for (number, cell) in format.cells.iter().enumerate() {
        pen.drawing.stroke(Path::rounded(*cell, format.corner_radius), Ink::Black, HAIRLINE * 2);
        cell_number(&mut pen, number + 1, *cell);
    }
    match format.packing {
        Some(packing) => room(&mut pen, packing),
        None => measures(&mut pen, format),
    }
    heading(&mut pen, format);
    pen.drawing
}

/// The room for packed labels: its measures, the way from the paper's edges to it, and the gap between two labels.
fn room(pen: &mut Pen<'_>, Packing { area, gap }: Packing) {
    pen.drawing.stroke(Path::rectangle(area), Ink::Black, HAIRLINE * 2);
    let (x, y, inside) = (area.origin.x, area.origin.y, Length::um(3_500));
    let across = y + area.size.height / 4;
    let down = x + area.size.width / 5;
    dimension(pen, Point::new(Length::ZERO, across), Point::new(x, across));
    dimension(pen, Point::new(x, y + inside), Point::new(area.right(), y + inside));
    dimension(pen, Point::new(down, Length::ZERO), Point::new(down, y));
    dimension(pen, Point::new(x + inside, y), Point::new(x + inside, area.bottom()));
    // Two labels side by side, as far apart as they are kept.
    let side = area.size.width.min(area.size.height) / 5;
    let middle = Point::new(x + area.size.width / 2, y + area.size.height / 2);
    let left = Rect::new(Point::new(middle.x - gap / 2 - side, middle.y - side / 2), Size::new(side, side));
    let right = Rect::new(Point::new(left.right() + gap, left.origin.y), left.size);
    for label in [left, right] {
        pen.drawing.stroke(Path::rectangle(label), Ink::Grey, HAIRLINE);
    }
    let level = left.origin.y - Length::um(1_500);
    dimension(pen, Point::new(left.right(), level), Point::new(right.origin.x, level));
}

/// The number in the middle of a cell, a third as high as the cell.
fn cell_number(pen: &mut Pen<'_>, number: usize, cell: Rect) {
    let capitals = (cell.size.height / 3).min(Length::um(14_000));
    let middle = Point::new(cell.origin.x + cell.size.width / 2, cell.origin.y + (cell.size.height + capitals) / 2);
    pen.centred(Face::Medium, &number.to_string(), capitals, middle);
}

/// Width and height along the first cell, the gaps after it, and the way from the paper's edges to it.
fn measures(pen: &mut Pen<'_>, format: &SheetFormat) {
    let Some(first) = format.cells.first().copied() else { return };
    let inside = Length::um(3_500);
    let (x, y) = (first.origin.x, first.origin.y);
    let across = y + first.size.height / 4;
    let down = x + first.size.width / 5;
    dimension(pen, Point::new(Length::ZERO, across), Point::new(x, across));
    dimension(pen, Point::new(x, y + inside), Point::new(first.right(), y + inside));
    dimension(pen, Point::new(down, Length::ZERO), Point::new(down, y));
    dimension(pen, Point::new(x + inside, y), Point::new(x + inside, first.bottom()));
    if let Some(right) = format.cells.get(1).filter(|_| format.columns > 1) {
        dimension(pen, Point::new(first.right(), across), Point::new(right.origin.x, across));
    }
    if let Some(below) = format.cells.get(format.columns) {
        dimension(pen, Point::new(down, first.bottom()), Point::new(down, below.origin.y));
    }
}

/// A line between two places with a short stroke across each end, and its length beside its middle.
fn dimension(pen: &mut Pen<'_>, from: Point, to: Point) {
    let level = from.y == to.y;
    let length = if level { to.x - from.x } else { to.y - from.y };
    if length <= Length::ZERO {
        return;
    }
    let end = Length::um(800);
    let across = if level { Point::new(Length::ZERO, end) } else { Point::new(end, Length::ZERO) };
    let mut path = Path::line(from, to);
    for place in [from, to] {
        let (one, other) = (Point::new(place.x - across.x, place.y - across.y), place + across);
        path = path.move_to(one).line_to(other);
    }
    pen.drawing.stroke(path, Ink::Black, HAIRLINE);
    let middle = Point::new((from.x + to.x) / 2, (from.y + to.y) / 2);
    let text = length.to_string();
    if level {
        pen.centred(Face::Regular, &text, CAPITALS, Point::new(middle.x, middle.y - Length::um(900)));
    } else {
        pen.text(Face::Regular, &text, CAPITALS, Point::new(middle.x + Length::um(1_700), middle.y + CAPITALS / 2));
    }
}

/// Name, title, paper and material under the cells if there is room, else within the last cell.
fn heading(pen: &mut Pen<'_>, format: &SheetFormat) {
    let text = format!(
        "{}  ·  {}  ·  {} {}  ·  {}, {}",
        format.name,
        format.title,
        paper_name(format.paper),
        format.paper,
        format.material,
        format.process
    );
    let grid = format.grid();
    let under = format.printable().bottom() - grid.bottom();
    let last = format.cells.last().copied().unwrap_or(grid);
    let baseline =
        if under >= CAPITALS * 3 { grid.bottom() + under / 2 + CAPITALS / 2 } else { last.bottom() - CAPITALS };
    pen.centred(Face::Regular, &text, CAPITALS, Point::new(format.paper.width / 2, baseline));
}
