//! How the wires run between two layers: straight where they can, else over a level of their own.

use super::layers::{CellKind, Layered, Manner};
use super::place::{Columns, contact_of, spread};

/// Two places closer than this are one, in millimetres.
const SAME: f64 = 0.05;

/// Free space between two runs on one level.
const BETWEEN: f64 = 2.0;

/// The least distance between two wires on one side of a bar, and from a wire to the end of the bar.
pub(super) const TAPS_APART: f64 = 3.0;
pub(super) const TO_BAR_END: f64 = 1.5;

/// How firmly a straight wire keeps its place on a bar, and how firmly the bar's ends keep theirs: a wire that met a bar
/// beyond its end would run through its name.
const FIRM: f64 = 1e6;
const FIXED: f64 = 1e12;

/// How far the neutral of a row stands from its lines.
pub(super) const NEUTRAL_ASIDE: f64 = 3.5;

/// How far the outermost contacts of a changeover or a UPS stand from its middle.
pub(super) const CONTACTS_ASIDE: f64 = 4.0;

/// One end of a net.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Port {
    /// The cell whose connection it is.
    pub(super) cell: usize,
    /// Where, in millimetres.
    pub(super) x: f64,
    /// Whether it belongs to the upper layer.
    pub(super) is_upper: bool,
    /// How the wire to it is drawn.
    pub(super) manner: Manner,
}

/// Connections that are one conductor between two layers.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Net {
    /// What it connects; upper ends first.
    pub(super) ports: Vec<Port>,
    /// Its level, counted from the upper layer; `None` where it runs straight down.
    pub(super) level: Option<usize>,
}

impl Net {
    fn span(&self) -> (f64, f64) {
        self.ports.iter().fold((f64::MAX, f64::MIN), |(least, most), port| (least.min(port.x), most.max(port.x)))
    }

    fn is_straight(&self) -> bool {
        let (least, most) = self.span();
        most - least < SAME
    }
}

/// The nets below a layer.
pub(super) fn nets(layered: &Layered, columns: &Columns, layer: usize) -> Vec<Net> {
    let mut nets = gathered(layered, columns, layer);
    let mut levels: Vec<Vec<usize>> = Vec::new();
    let mut waiting: Vec<usize> =
        (0..nets.len()).filter(|net| nets.get(*net).is_some_and(|net| !net.is_straight())).collect();
    while !waiting.is_empty() {
        let is_free = |net: &usize| waiting.iter().all(|other| !must_be_above(&nets, *other, *net));
        let place = waiting.iter().position(is_free).unwrap_or(0);
        let chosen = waiting.remove(place);
        let over = |level: &Vec<usize>| level.iter().any(|other| must_be_above(&nets, *other, chosen));
        let first = levels.iter().rposition(over).map_or(0, |level| level + 1);
        let fits = |level: &Vec<usize>| level.iter().all(|other| !overlap(&nets, *other, chosen));
        let level =
            (first..levels.len()).find(|level| levels.get(*level).is_some_and(fits)).unwrap_or(levels.len().max(first));
        levels.resize_with(levels.len().max(level + 1), Vec::new);
        levels.get_mut(level).into_iter().for_each(|level| level.push(chosen));
        nets.get_mut(chosen).into_iter().for_each(|net| net.level = Some(level));
    }
    nets
}

/// Whether a net comes down where another one goes down, so that it must turn aside before.
fn must_be_above(nets: &[Net], one: usize, other: usize) -> bool {
    let (Some(above), Some(below)) = (nets.get(one), nets.get(other)) else { return false };
    let uppers = above.ports.iter().filter(|port| port.is_upper);
    let lowers = |x: f64| below.ports.iter().any(|port| !port.is_upper && (port.x - x).abs() < BETWEEN / 2.0);
    one != other && uppers.map(|port| port.x).any(lowers)
}

fn overlap(nets: &[Net], one: usize, other: usize) -> bool {
    let (Some(one), Some(other)) = (nets.get(one), nets.get(other)) else { return false };
    let ((left, right), (other_left, other_right)) = (one.span(), other.span());
    left < other_right + BETWEEN && other_left < right + BETWEEN
}

/// The wires below a layer, those that share a connection together.
fn gathered(layered: &Layered, columns: &Columns, layer: usize) -> Vec<Net> {
    let mut nets: Vec<Net> = Vec::new();
    let wires = layered.wires.iter().filter(|wire| layered.layer(wire.upper) == layer);
    let mut pairs: Vec<[Port; 2]> =
        wires.map(|wire| ends(layered, columns, wire.upper, wire.lower, wire.manner)).collect();
    set_apart(layered, columns, &mut pairs);
    for [upper, lower] in pairs {
        let joins = |net: &Net| net.ports.iter().any(|port| same(layered, port, &upper) || same(layered, port, &lower));
        let (joined, others): (Vec<Net>, Vec<Net>) = nets.into_iter().partition(joins);
        nets = others;
        let mut ports: Vec<Port> = joined.into_iter().flat_map(|net| net.ports).collect();
        for port in [upper, lower] {
            match ports.iter_mut().find(|other| same(layered, other, &port)) {
                Some(known) => known.manner = known.manner.with(port.manner),
                None => ports.push(port),
            }
        }
        ports.sort_by(|one, other| other.is_upper.cmp(&one.is_upper).then(one.x.total_cmp(&other.x)));
        nets.push(Net { ports, level: None });
    }
    nets
}

/// Gives the wires on one side of a bar places of their own; those that run straight keep theirs.
fn set_apart(layered: &Layered, columns: &Columns, pairs: &mut [[Port; 2]]) {
    let bars = pairs.iter().flatten().filter(|port| layered.kind(port.cell) == CellKind::Bar);
    let mut sides: Vec<(usize, bool)> = bars.map(|port| (port.cell, port.is_upper)).collect();
    sides.sort_unstable();
    sides.dedup();
    for (bar, is_upper) in sides {
        let is_on = |port: &Port| port.cell == bar && port.is_upper == is_upper;
        let mut wires: Vec<usize> =
            (0..pairs.len()).filter(|wire| pairs.get(*wire).is_some_and(|ports| ports.iter().any(is_on))).collect();
        let at = |wire: usize, of_bar: bool| {
            let ports = pairs.get(wire).into_iter().flatten();
            ports.filter(|port| is_on(port) == of_bar).map(|port| port.x).next().unwrap_or(0.0)
        };
        wires.sort_by(|one, other| at(*one, false).total_cmp(&at(*other, false)));
        let (left, right) = columns.ends.get(bar).copied().unwrap_or_default();
        let mut wishes = vec![(left, FIXED)];
        wishes.extend(wires.iter().map(|wire| {
            let (x, far) = (at(*wire, true), at(*wire, false));
            (x, if (x - far).abs() < SAME { FIRM } else { 1.0 })
        }));
        wishes.push((right, FIXED));
        let mut gaps = vec![TAPS_APART; wires.len() + 1];
        gaps.first_mut().into_iter().for_each(|gap| *gap = TO_BAR_END);
        gaps.last_mut().into_iter().for_each(|gap| *gap = TO_BAR_END);
        let places = spread(&wishes, &gaps);
        for (wire, x) in wires.iter().zip(places.iter().skip(1)) {
            let ports = pairs.get_mut(*wire).into_iter().flatten();
            ports.filter(|port| is_on(port)).for_each(|port| port.x = *x);
        }
    }
}

/// Whether two ends are one connection. A bar has as many as there are wires on it.
fn same(layered: &Layered, one: &Port, other: &Port) -> bool {
    let is_bar = layered.kind(one.cell) == CellKind::Bar;
    one.cell == other.cell && one.is_upper == other.is_upper && !is_bar && (one.x - other.x).abs() < SAME
}

/// Both ends of a wire.
fn ends(layered: &Layered, columns: &Columns, upper: usize, lower: usize, manner: Manner) -> [Port; 2] {
    let x = |cell: usize| columns.x.get(cell).copied().unwrap_or(0.0);
    let bar = |cell: usize| columns.ends.get(cell).copied().unwrap_or_default();
    let mut from = x(upper);
    let mut to = x(lower)
        + match layered.kind(lower) {
            CellKind::Apart => contact_of(layered, upper, lower),
            CellKind::Row if manner.is_neutral => NEUTRAL_ASIDE,
            CellKind::Row | CellKind::Symbol | CellKind::Source | CellKind::Bar | CellKind::Via => 0.0,
        };
    let within =
        |x: f64, (left, right): (f64, f64)| x.clamp(left + TO_BAR_END, (right - TO_BAR_END).max(left + TO_BAR_END));
    match (layered.kind(upper) == CellKind::Bar, layered.kind(lower) == CellKind::Bar) {
        (true, true) => {
            let ((left, right), (other_left, other_right)) = (bar(upper), bar(lower));
            let middle = (left.max(other_left) + right.min(other_right)) / 2.0;
            (from, to) = (within(middle, bar(upper)), within(middle, bar(lower)));
        }
        (true, false) => from = within(to, bar(upper)),
        (false, true) => to = within(from, bar(lower)),
        (false, false) => {}
    }
    [Port { cell: upper, x: from, is_upper: true, manner }, Port { cell: lower, x: to, is_upper: false, manner }]
}

/// Where the contact of one of several feeds stands, from the middle of its changeover.
pub(super) fn contact_aside(place: usize, count: usize) -> f64 {
    let number = |count: usize| f64::from(u32::try_from(count).unwrap_or(0));
    match count {
        0 | 1 => 0.0,
        _ => (number(place) / number(count - 1) * 2.0 - 1.0) * CONTACTS_ASIDE,
    }
}

#[cfg(test)]
mod tests {
    use super::super::layers::Wire;
    use super::*;

    #[test]
    fn wires_on_a_bar_keep_apart_and_straight_ones_their_place() {
        let wire = |upper| Wire { upper, lower: 0, manner: Manner::default() };
        let layered = Layered {
            kinds: vec![CellKind::Bar, CellKind::Symbol, CellKind::Symbol],
            layer_of: vec![1, 0, 0],
            layers: vec![vec![1, 2], vec![0]],
            wires: vec![wire(1), wire(2)],
        };
        let taps = |right: f64| {
            let ends = vec![(-8.0, right), (5.8, 5.8), (30.0, 30.0)];
            let nets = nets(&layered, &Columns { x: vec![0.0, 5.8, 30.0], ends }, 0);
            let ports = nets.iter().flat_map(|net| net.ports.iter().filter(|port| port.cell == 0));
            ports.map(|port| port.x).collect::<Vec<f64>>()
        };
        let [straight, other] = taps(11.0)[..] else { panic!("two wires") };
        assert!((straight - 5.8).abs() < SAME, "{straight}");
        assert!(other - straight >= TAPS_APART - SAME, "{other}");
        // On a bar that is too short for that, even a straight wire gives way before one meets the bar beyond its end.
        let [straight, other] = taps(8.0)[..] else { panic!("two wires") };
        assert!(other - straight >= TAPS_APART - SAME && other <= 8.0 - TO_BAR_END + SAME, "{straight} {other}");
    }
}
