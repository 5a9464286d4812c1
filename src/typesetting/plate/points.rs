//! The list of points: number, device, place and what it serves, in columns that align.

use super::choice::{Beside, Choice};
use super::content::{Content, PointText};
use super::pen::{LEADING, Pen, depth, room, width};
use super::scale::Scale;
use crate::drawing::{Ink, Path};
use crate::length::{Length, Point, Rect, Size};
use crate::notice::Subject;
use crate::typesetting::Misfit;

/// A list once measured, in mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct List {
    /// From the top of the first row's capitals to the last baseline, with the least gaps between rows.
    pub(super) height: f64,
    pub(super) lines: usize,
    /// Rows in a column.
    pub(super) rows: usize,
    grid: Grid,
}

/// Where the columns stand.
#[derive(Clone, Copy, Debug)]
struct Grid {
    /// Width of one column of rows, and from one to the next.
    column: f64,
    pitch: f64,
    /// From a row's left end to its device, and to its place.
    device: f64,
    place: f64,
    gap: f64,
}

/// Measures the list; `None` if something is wider than its room.
pub(super) fn measure(content: &Content, choice: Choice, scale: &Scale, width: f64) -> Option<List> {
    let points = &content.points;
    let rows = points.len().div_ceil(choice.columns);
    let grid = Grid::of(content, choice, scale, width)?;
    let (mut height, mut lines) = (0.0, 0);
    for row in 0..rows {
        let mut deepest = 0.0_f64;
        for point in points.iter().skip(row).step_by(rows.max(1)) {
            let (depth, count) = row_depth(point, choice, scale, grid)?;
            deepest = deepest.max(depth);
            lines += count;
        }
        height += deepest;
    }
    let gaps = u32::try_from(rows.saturating_sub(1)).unwrap_or(u32::MAX);
    Some(List { height: height + f64::from(gaps) * row_gap(scale), lines, rows, grid })
}

/// From a row's last baseline to the next row's capitals: 2.4 capital heights from baseline to baseline where there is room.
fn row_gap(scale: &Scale) -> f64 {
    scale.letter * (0.55 + 0.85 * scale.open)
}

impl Grid {
    fn of(content: &Content, choice: Choice, scale: &Scale, room: f64) -> Option<Self> {
        let letter = scale.letter;
        let gutter = if choice.columns > 1 { 2.1 * letter } else { 0.0 };
        let columns = if choice.columns > 1 { 2.0 } else { 1.0 };
        let column = (room - gutter * (columns - 1.0)) / columns;
        let numbered = content.points.iter().any(|point| point.number.is_some());
        let device = if numbered { marker(content, scale) + letter * (0.45 + 0.45 * scale.open) } else { 0.0 };
        let widest = content.points.iter().map(|point| width(&point.designation, letter)).fold(0.0, f64::max);
        let gap = match content.subject {
            Subject::Enclosure => letter * (0.7 + 0.6 * scale.open),
            Subject::Device | Subject::Standing => letter * (2.0 + 0.8 * scale.open),
        };
        let place = match choice.places {
            Beside::Right => device + widest + gap,
            Beside::Under => device,
        };
        (device + widest <= column).then_some(Self { column, pitch: column + gutter, device, place, gap })
    }
}

/// Width of the black behind a number: a disc, or where any number has two figures an oval as high as the disc would be.
fn marker(content: &Content, scale: &Scale) -> f64 {
    if content.points.len() > 9 { scale.disc + scale.letter * 0.86 } else { scale.disc }
}

/// From the top of a row's capitals to its last baseline, and its lines.
fn row_depth(point: &PointText, choice: Choice, scale: &Scale, grid: Grid) -> Option<(f64, usize)> {
    let letter = scale.letter;
    let mut first = match choice.places {
        Beside::Right => grid.place - grid.gap,
        Beside::Under => grid.device + width(&point.designation, letter),
    };
    let (mut bottom, mut lines) = (letter, 1);
    if let Some(place) = &point.place {
        let count = place.lines(room(grid.column - grid.place, letter))?;
        match choice.places {
            Beside::Right => {
                bottom = depth(count, letter);
                first = if count == 1 { grid.place + width(&place.line, letter) } else { grid.column };
            }
            Beside::Under => bottom += letter * (LEADING - 1.0) + depth(count, letter),
        }
        lines += count - 1;
    }
    if let Some(serves) = point.serves.as_ref().filter(|_| choice.serves)
        && first + letter + width(serves, scale.aside) > grid.column
    {
        return None;
    }
    for remark in &point.remarks {
        let count = remark.lines(room(grid.column - grid.place, letter))?;
        bottom += letter * (LEADING - 1.0) + depth(count, letter);
        lines += count;
    }
    Some((bottom, lines))
}

impl List {
    /// Draws the list with its first capitals at `top` and `extra` mm more between rows.
    pub(super) fn draw(
        &self,
        content: &Content,
        choice: Choice,
        scale: &Scale,
        pen: &mut Pen,
        (top, extra): (f64, f64),
    ) -> Result<(), Misfit> {
        let tops = self.tops(content, choice, scale, (top, extra));
        for (index, point) in content.points.iter().enumerate() {
            let column = index / self.rows.max(1);
            let left = if column == 0 { 0.0 } else { self.grid.pitch };
            let top = tops.get(index % self.rows.max(1)).copied().unwrap_or(top);
            Row { point, choice, scale, grid: self.grid, left, top }.draw(content, pen)?;
        }
        Ok(())
    }

    /// The top of every row's capitals; rows side by side share it.
    fn tops(&self, content: &Content, choice: Choice, scale: &Scale, (top, extra): (f64, f64)) -> Vec<f64> {
        let mut next = top;
        let tops = (0..self.rows).map(|row| {
            let at = next;
            let depths = content.points.iter().skip(row).step_by(self.rows.max(1));
            let depths = depths.filter_map(|point| row_depth(point, choice, scale, self.grid));
            next += depths.map(|(depth, _)| depth).fold(0.0, f64::max) + row_gap(scale) + extra;
            at
        });
        tops.collect()
    }
}

/// One row in its place.
struct Row<'a> {
    point: &'a PointText,
    choice: Choice,
    scale: &'a Scale,
    grid: Grid,
    left: f64,
    top: f64,
}

impl Row<'_> {
    fn draw(&self, content: &Content, pen: &mut Pen) -> Result<(), Misfit> {
        let (point, letter, grid) = (self.point, self.scale.letter, self.grid);
        let baseline = self.top + letter;
        self.number(content, pen);
        pen.line(&point.designation, self.left + grid.device, baseline, letter, Ink::Black);
        let (x, mut below) = (self.left + grid.place, baseline);
        if let Some(place) = &point.place {
            let top = match self.choice.places {
                Beside::Right => self.top,
                Beside::Under => baseline + letter * (LEADING - 1.0),
            };
            if content.subject == Subject::Device && self.choice.places == Beside::Right {
                pen.arrow(self.left + self.grid.place - letter * 0.7, self.top + letter / 2.0, letter);
            }
            below = pen.paragraph(place, (x, top), letter, grid.column - grid.place)?;
        }
        if let Some(serves) = point.serves.as_ref().filter(|_| self.choice.serves) {
            let capital = self.scale.aside;
            pen.line(serves, self.left + grid.column - width(serves, capital) - 0.02, baseline, capital, Ink::Black);
        }
        for remark in &point.remarks {
            below = pen.paragraph(remark, (x, below + letter * (LEADING - 1.0)), letter, grid.column - grid.place)?;
        }
        Ok(())
    }

    /// The number, white on a black disc or oval whose middle is that of the capitals.
    fn number(&self, content: &Content, pen: &mut Pen) {
        let Some(number) = &self.point.number else { return };
        let (marker, disc, letter) = (marker(content, self.scale), self.scale.disc, self.scale.letter);
        let (x, y) = (self.left + marker / 2.0, self.top + letter / 2.0);
        let radius = Length::mm(disc / 2.0);
        let area = if content.points.len() > 9 {
            pen.area(self.left, y - disc / 2.0, marker, disc)
        } else {
            let (centre, side) = (pen.at(x, y), radius * 2);
            Rect::new(Point::new(centre.x - radius, centre.y - radius), Size::new(side, side))
        };
        let on_dots = pen.on_dots(area);
        let radius = if on_dots == area { radius } else { on_dots.size.height / 2 };
        pen.drawing().fill(Path::rounded(on_dots, radius), Ink::Black);
        pen.line(number, x - width(number, letter) / 2.0, y + letter / 2.0, letter, Ink::White);
    }
}
