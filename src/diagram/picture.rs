//! The finished one-line diagram: title with the result of the proof, symbols and wires, the enclosure as a box.

use super::cells::{Cell, Cells, DISC, TO_LABEL, cells};
use super::facts::Case;
use super::layers::{CellKind, Layered, layered};
use super::lettering::{BODY, Lettering, PITCH, Words};
use super::order::untangle;
use super::outline::Outline;
use super::pen::{HEAVY, Pen, THIN};
use super::place::{Columns, Reach, columns, contact_of};
use super::route::{Net, Port, TO_BAR_END, nets};
use super::symbols::{self, HALF, Symbol, half_width};
use super::title::{Foot, Title};
use crate::drawing::{Drawing, Ink};
use crate::length::{Length, Size};
use crate::typesetting::{Misfit, Typesetter};

/// Free space around everything, in millimetres.
pub(super) const MARGIN: f64 = 8.0;

/// The narrowest diagram, so that the title has room.
const NARROWEST: f64 = 150.0;

/// Between two layers without, and for each level on which wires run across.
const BETWEEN_LAYERS: f64 = 5.0;
const LEVEL: f64 = 3.2;

/// How far an open end stands above its symbol.
const OPEN_END: f64 = 6.5;

/// From the side of the enclosure's box to its words.
const PADDING: f64 = 4.0;

/// Draws one enclosure.
pub(super) fn draw(case: &Case<'_>, typesetter: &Typesetter) -> Result<Drawing, Misfit> {
    let lettering = Lettering(typesetter);
    let outline = Outline::of(case.network, case.id(), &case.kept());
    let made = cells(case, &outline, lettering, label_width(outline.ends.len()))?;
    let plan = Plan::of(made);
    let width = (plan.right - plan.left).max(NARROWEST);
    let title = Title::of(case, lettering, width)?;
    let foot = Foot::of(case, &outline, lettering, width)?;
    let picture_height = plan.height();
    let height = title.height() + picture_height + foot.height() + MARGIN * 2.0;
    let mut drawing = Drawing::new(Size::new(Length::mm(width + MARGIN * 2.0), Length::mm(height)));
    title.draw(&mut Pen { drawing: &mut drawing, left: MARGIN }, MARGIN);
    let aside = (width - (plan.right - plan.left)) / 2.0;
    let name = title.box_name(case, lettering, plan.right - plan.left)?;
    plan.draw(&mut Pen { drawing: &mut drawing, left: MARGIN + aside - plan.left }, MARGIN + title.height(), &name);
    foot.draw(&mut Pen { drawing: &mut drawing, left: MARGIN }, MARGIN + title.height() + picture_height);
    Ok(drawing)
}

/// The more rows, the narrower their words.
const fn label_width(rows: usize) -> f64 {
    match rows {
        0..=4 => 32.0,
        5..=8 => 27.0,
        _ => 23.0,
    }
}

/// Cells with their places.
struct Plan {
    cells: Vec<Cell>,
    layered: Layered,
    columns: Columns,
    /// The nets below each layer.
    nets: Vec<Vec<Net>>,
    /// Top, middle and bottom of each layer, from the top of the picture.
    bands: Vec<Band>,
    left: f64,
    right: f64,
}

#[derive(Clone, Copy, Debug, Default)]
struct Band {
    top: f64,
    middle: f64,
    bottom: f64,
}

impl Plan {
    fn of(Cells { cells, wires }: Cells) -> Self {
        let mut layered = layered(cells.iter().map(|cell| cell.kind).collect(), &wires);
        untangle(&mut layered);
        let reach: Vec<Reach> = (0..layered.kinds.len()).map(|cell| reach_of(&cells, cell)).collect();
        let columns = columns(&layered, &reach, pitch(&cells, &layered));
        let nets: Vec<Vec<Net>> = (0..layered.layers.len()).map(|layer| nets(&layered, &columns, layer)).collect();
        let mut plan = Self { cells, layered, columns, nets, bands: Vec::new(), left: 0.0, right: 0.0 };
        plan.stack();
        plan.measure(&reach);
        plan
    }

    fn x(&self, cell: usize) -> f64 {
        self.columns.x.get(cell).copied().unwrap_or(0.0)
    }

    fn ends(&self, cell: usize) -> (f64, f64) {
        self.columns.ends.get(cell).copied().unwrap_or_default()
    }

    fn band(&self, layer: usize) -> Band {
        self.bands.get(layer).copied().unwrap_or_default()
    }

    fn nets(&self, layer: usize) -> &[Net] {
        self.nets.get(layer).map_or(&[], Vec::as_slice)
    }

    fn cells_of(&self, layer: usize) -> impl Iterator<Item = &Cell> {
        self.layered.layers.get(layer).into_iter().flatten().filter_map(|cell| self.cells.get(*cell))
    }

    /// Gives every layer its height.
    fn stack(&mut self) {
        let mut y = 0.0;
        let last = self.layered.layers.len().saturating_sub(1);
        for layer in 0..=last {
            let has_open_end = self.cells_of(layer).any(|cell| cell.open_end.is_some());
            let above = if has_open_end { OPEN_END } else { 0.0 };
            let depth = self.cells_of(layer).map(Cell::depth).fold(HALF, f64::max);
            let middle = if layer == last { y + above } else { y + above + HALF };
            let bottom = if layer == last { middle } else { middle + depth };
            self.bands.push(Band { top: y, middle, bottom });
            let levels = self.nets(layer).iter().filter_map(|net| net.level).max().map_or(0, |level| level + 1);
            y = bottom + BETWEEN_LAYERS + f64::from(u32::try_from(levels).unwrap_or(0)) * LEVEL;
        }
    }

    fn measure(&mut self, reach: &[Reach]) {
        let (mut left, mut right) = (f64::MAX, f64::MIN);
        for (cell, reach) in reach.iter().enumerate() {
            let (x, (from, to)) = (self.x(cell), self.ends(cell));
            let is_row = self.layered.kind(cell) == CellKind::Row;
            let padding = if is_row { PADDING } else { 0.0 };
            let is_bar = self.layered.kind(cell) == CellKind::Bar;
            let (from, to) = if is_bar { (from, to) } else { (x, x) };
            left = left.min(from - reach.left - padding);
            right = right.max(to + reach.right + padding);
        }
        (self.left, self.right) = if left < right { (left, right) } else { (0.0, 0.0) };
    }

    /// Height of the enclosure's box.
    fn box_height(&self) -> f64 {
        let last = self.layered.layers.len().saturating_sub(1);
        let lines =
            self.cells_of(last).map(|cell| cell.label.len() + usize::from(cell.tag.is_some())).max().unwrap_or(0);
        f64::from(u32::try_from(lines).unwrap_or(0)) * PITCH + PADDING * 2.0 + PITCH * 1.6
    }

    fn height(&self) -> f64 {
        self.bands.last().map_or(0.0, |band| band.bottom) + self.box_height() + 4.0
    }

    fn draw(&self, pen: &mut Pen<'_>, top: f64, name: &[Words]) {
        for layer in 0..self.bands.len() {
            for net in self.nets(layer) {
                self.net(pen, layer, net, top);
            }
        }
        for (layer, cells) in self.layered.layers.iter().enumerate() {
            for cell in cells {
                self.cell(pen, *cell, self.band(layer), top);
            }
        }
        self.enclosure(pen, top, name);
    }

    /// One conductor between two layers; the heavy parts last, so that they lie on top.
    fn net(&self, pen: &mut Pen<'_>, layer: usize, net: &Net, top: f64) {
        let level = net.level.map_or_else(
            || self.band(layer).bottom,
            |level| self.band(layer).bottom + 2.0 + f64::from(u32::try_from(level).unwrap_or(0)) * LEVEL,
        ) + top;
        let all_dashed = net.ports.iter().all(|port| port.manner.is_dashed);
        let xs = |wanted: &dyn Fn(&Port) -> bool| {
            let ports = net.ports.iter().filter(|port| wanted(port)).map(|port| port.x);
            ports.fold((f64::MAX, f64::MIN), |(least, most), x| (least.min(x), most.max(x)))
        };
        let all = xs(&|_| true);
        let live = xs(&|port| port.manner.is_live);
        if all.0 < all.1 {
            stroke(pen, (all.0, level), (all.1, level), all_dashed, THIN);
        }
        if live.0 < live.1 {
            pen.line(&[(live.0, level), (live.1, level)], HEAVY);
        }
        for port in &net.ports {
            let end = self.port_end(layer, port) + top;
            stroke(pen, (port.x, level), (port.x, end), port.manner.is_dashed, THIN);
            if port.manner.is_live {
                pen.line(&[(port.x, level), (port.x, end)], HEAVY);
            }
            if port.manner.is_neutral && !port.is_upper {
                let (x, y) = (port.x, end - 2.4);
                pen.line(&[(x - 1.0, y + 1.0), (x + 1.0, y - 1.0)], THIN);
                pen.disc((x + 1.0, y - 1.0), 0.5);
            }
        }
        self.junctions(pen, net, level);
    }

    /// A dot wherever three lines meet.
    fn junctions(&self, pen: &mut Pen<'_>, net: &Net, level: f64) {
        if net.ports.len() < 3 {
            return;
        }
        let (least, most) =
            net.ports.iter().fold((f64::MAX, f64::MIN), |(least, most), port| (least.min(port.x), most.max(port.x)));
        for port in &net.ports {
            let is_inside = port.x > least + 0.05 && port.x < most - 0.05;
            let same = net.ports.iter().filter(|other| (other.x - port.x).abs() < 0.05).count();
            if is_inside || same > 1 {
                pen.disc((port.x, level), 0.75);
            }
        }
    }

    /// Where a wire meets its cell, from the top of the picture.
    fn port_end(&self, layer: usize, port: &Port) -> f64 {
        let at = self.band(if port.is_upper { layer } else { layer + 1 });
        match (self.layered.kind(port.cell), port.is_upper) {
            (CellKind::Bar, _) | (CellKind::Row, _) => at.middle,
            (CellKind::Via, true) => at.bottom,
            (CellKind::Via, false) => at.top,
            (CellKind::Symbol | CellKind::Source | CellKind::Apart, true) => at.middle + HALF,
            (CellKind::Symbol | CellKind::Source | CellKind::Apart, false) => at.middle - HALF,
        }
    }

    fn cell(&self, pen: &mut Pen<'_>, number: usize, band: Band, top: f64) {
        let (x, y) = (self.x(number), band.middle + top);
        match self.layered.kind(number) {
            CellKind::Via => self.via(pen, number, band, top),
            CellKind::Row => {}
            CellKind::Bar => {
                let (left, right) = self.ends(number);
                pen.block((left, y - 0.8), right - left, 1.6);
                if let Some(cell) = self.cells.get(number) {
                    label(pen, &cell.label, (right + TO_LABEL, y));
                    points(pen, &cell.points, (left - DISC - 1.0, y));
                    open_end(pen, cell, (left + TO_BAR_END, y), top + band.top);
                }
            }
            CellKind::Symbol | CellKind::Source | CellKind::Apart => {
                self.symbol(pen, number, (x, y), top + band.top);
            }
        }
    }

    fn symbol(&self, pen: &mut Pen<'_>, number: usize, (x, y): (f64, f64), top: f64) {
        let Some(cell) = self.cells.get(number) else { return };
        let above = || self.layered.wires.iter().filter(|wire| wire.lower == number);
        let below = || self.layered.wires.iter().filter(|wire| wire.upper == number);
        let (live_above, live_below) =
            (above().any(|wire| wire.manner.is_live), below().any(|wire| wire.manner.is_live));
        match cell.shape {
            Some(shape) => {
                let from = symbols::leads_from(shape);
                for wire in above().filter(|wire| wire.manner.is_live) {
                    let contact = x + contact_of(&self.layered, wire.upper, number);
                    pen.line(&[(contact, y - HALF), (contact, y - from)], HEAVY);
                }
                if live_below {
                    pen.line(&[(x, y + from), (x, y + HALF)], HEAVY);
                }
                let is_live = live_above || live_below;
                let (feeds, feeds_on) = (above().count(), below().next().is_some());
                let letters = cell.letters.as_ref();
                symbols::draw(pen, Symbol { shape, feeds, feeds_on, letters, is_live }, (x, y));
            }
            None => dots(pen, (x, y)),
        }
        let side = cell.shape.map_or(2.0, half_width);
        label(pen, &cell.label, (x + side + TO_LABEL, y));
        points(pen, &cell.points, (x - cell.shape.map_or(2.0, symbols::left_of) - DISC - 0.6, y));
        open_end(pen, cell, (x, y - HALF), top);
    }

    fn via(&self, pen: &mut Pen<'_>, number: usize, band: Band, top: f64) {
        let x = self.x(number);
        let mut wires = self.layered.wires.iter().filter(|wire| wire.lower == number || wire.upper == number);
        let (is_live, is_dashed) = wires
            .by_ref()
            .fold((false, true), |(live, dashed), wire| (live || wire.manner.is_live, dashed && wire.manner.is_dashed));
        stroke(pen, (x, band.top + top), (x, band.bottom + top), is_dashed, if is_live { HEAVY } else { THIN });
    }

    /// The outlined box with a terminal and the words of every row.
    fn enclosure(&self, pen: &mut Pen<'_>, top: f64, name: &[Words]) {
        let last = self.layered.layers.len().saturating_sub(1);
        let y = self.band(last).middle + top;
        let rows: Vec<usize> = self.layered.layers.last().into_iter().flatten().copied().collect();
        let side = |cell: usize| self.cells.get(cell).map_or_else(Reach::default, Cell::reach);
        let left = rows.iter().map(|row| self.x(*row) - side(*row).left).fold(f64::MAX, f64::min) - PADDING;
        let right = rows.iter().map(|row| self.x(*row) + side(*row).right).fold(f64::MIN, f64::max) + PADDING;
        let name_width = name.iter().map(|words| words.width() + 2.0).sum::<f64>() + PADDING * 2.0;
        let right = right.max(left + name_width);
        pen.frame((left, y), right - left, self.box_height(), 1.6, 0.7);
        for row in rows {
            self.row(pen, row, y);
        }
        let mut x = left + PADDING;
        for words in name {
            pen.words(words, (x, y + self.box_height() - PADDING), Ink::Black);
            x += words.width() + 2.0;
        }
    }

    fn row(&self, pen: &mut Pen<'_>, row: usize, y: f64) {
        let Some(cell) = self.cells.get(row) else { return };
        let x = self.x(row);
        if let Some(words) = &cell.open_end {
            pen.dashed((x, y - OPEN_END), (x, y), THIN);
            pen.words(words, (x + TO_LABEL, y - OPEN_END + BODY), Ink::Black);
        }
        pen.ring((x, y), 1.1, THIN * 1.4);
        let mut baseline = y + PADDING + BODY;
        for words in &cell.label {
            pen.words(words, (x - 1.1, baseline), Ink::Black);
            baseline += PITCH;
        }
        if let Some(tag) = &cell.tag {
            pen.tag((x - 1.1, baseline - BODY - 0.8), tag.width() + 2.4, BODY + 1.6, 0.6);
            pen.words(tag, (x + 0.1, baseline), Ink::White);
        }
    }
}

fn reach_of(cells: &[Cell], cell: usize) -> Reach {
    cells.get(cell).map_or(Reach { left: 1.0, right: 1.0 }, Cell::reach)
}

/// The distance between rows: enough for their words, and for the symbols that stand over them.
fn pitch(cells: &[Cell], layered: &Layered) -> f64 {
    let is_row = |cell: usize| layered.kind(cell) == CellKind::Row;
    let rows = cells.iter().filter(|cell| cell.kind == CellKind::Row);
    let words = rows.map(|cell| cell.reach().right + cell.reach().left + 4.0).fold(24.0, f64::max);
    let over = layered.wires.iter().filter(|wire| is_row(wire.lower)).map(|wire| wire.upper);
    let symbols = over.filter(|cell| layered.kind(*cell) != CellKind::Bar).filter_map(|cell| cells.get(cell));
    symbols.map(|cell| cell.reach().left + cell.reach().right + 3.0).fold(words, f64::max)
}

fn stroke(pen: &mut Pen<'_>, from: (f64, f64), to: (f64, f64), is_dashed: bool, width: f64) {
    if is_dashed { pen.dashed(from, to, width) } else { pen.line(&[from, to], width) }
}

/// Words beside a symbol, the first line level with its middle.
fn label(pen: &mut Pen<'_>, words: &[Words], (x, y): (f64, f64)) {
    let mut baseline = y + BODY / 2.0;
    for words in words {
        pen.words(words, (x, baseline), Ink::Black);
        baseline += PITCH;
    }
}

/// Numbers in white on black discs, one over the other.
fn points(pen: &mut Pen<'_>, numbers: &[Words], (x, y): (f64, f64)) {
    let mut middle = y;
    for number in numbers {
        pen.disc((x, middle), DISC);
        pen.centred(number, (x, middle), Ink::White);
        middle += DISC * 2.0 + 0.6;
    }
}

/// A dashed line upwards that ends in words.
fn open_end(pen: &mut Pen<'_>, cell: &Cell, (x, y): (f64, f64), top: f64) {
    if let Some(words) = &cell.open_end {
        pen.dashed((x, top), (x, y), THIN);
        pen.words(words, (x + TO_LABEL, top + BODY), Ink::Black);
    }
}

/// What is only counted: a line that leaves something out.
fn dots(pen: &mut Pen<'_>, (x, y): (f64, f64)) {
    pen.line(&[(x, y - HALF), (x, y - 3.4)], THIN);
    pen.line(&[(x, y + 3.4), (x, y + HALF)], THIN);
    for dot in [-1.8, 0.0, 1.8] {
        pen.disc((x, y + dot), 0.5);
    }
}
