//! What the diagram holds before it has places: a cell with its words for every spot and every row, and the wires.

use super::facts::{Case, Facts, Shape, nominal_in_words};
use super::layers::{CellKind, Manner, Wire};
use super::lettering::{BODY, Lettering, PITCH, Words};
use super::outline::{End, Outline, Spot};
use super::place::{Reach, SHORTEST};
use super::route::TO_BAR_END;
use super::symbols;
use crate::drawing::Face;
use crate::network::{Carrier, Gap, Isolated, LivePath, Network, NodeId, Side, Terminal};
use crate::survey::Row;
use crate::typesetting::Misfit;

/// Width of the discs with the numbers of points, and their distance from the symbol.
pub(super) const DISC: f64 = 2.5;

/// From the side of a symbol to its label.
pub(super) const TO_LABEL: f64 = 1.6;

/// What stands at one place of the diagram.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Cell {
    /// What it is to the layout.
    pub(super) kind: CellKind,
    /// Its symbol; `None` for rows and for what is only counted.
    pub(super) shape: Option<Shape>,
    /// The words inside the symbol.
    pub(super) letters: Option<Words>,
    /// The words beside it, or in a row's box.
    pub(super) label: Vec<Words>,
    /// The numbers of its points of isolation.
    pub(super) points: Vec<Words>,
    /// What is said at its open upper end; nothing where what feeds it is drawn.
    pub(super) open_end: Option<Words>,
    /// A tag in white on black: still live.
    pub(super) tag: Option<Words>,
}

impl Cell {
    /// How far it reaches to either side of its line.
    pub(super) fn reach(&self) -> Reach {
        let widest = |words: &[Words]| words.iter().map(Words::width).fold(0.0, f64::max);
        let label = widest(&self.label).max(self.tag.as_ref().map_or(0.0, |tag| tag.width() + 2.4));
        let side = self.shape.map_or(2.0, symbols::half_width);
        let end = self.open_end.as_ref().map_or(0.0, |words| words.width() + TO_LABEL);
        match self.kind {
            CellKind::Row => Reach { left: 1.1, right: label.max(end) },
            CellKind::Bar => {
                let beyond = (end + TO_BAR_END - SHORTEST).max(0.0);
                Reach { left: self.disc_room(), right: (label + TO_LABEL).max(beyond) }
            }
            CellKind::Symbol | CellKind::Source | CellKind::Apart | CellKind::Via => {
                let left = self.shape.map_or(2.0, symbols::left_of) + self.disc_room();
                Reach { left, right: (side + TO_LABEL + label).max(end) }
            }
        }
    }

    fn disc_room(&self) -> f64 {
        if self.points.is_empty() { 0.0 } else { 2.0 * DISC + 1.0 }
    }

    /// How far its words reach below its middle.
    pub(super) fn depth(&self) -> f64 {
        let lines = u32::try_from(self.label.len().max(1)).unwrap_or(1);
        BODY / 2.0 + f64::from(lines - 1) * PITCH + 0.8
    }
}

/// Cells and wires of one enclosure.
pub(super) struct Cells {
    /// Those of the spots, then those of the rows.
    pub(super) cells: Vec<Cell>,
    /// How they are connected.
    pub(super) wires: Vec<Wire>,
}

/// Writes the words of every spot and row within the widths given, in millimetres.
pub(super) fn cells(case: &Case<'_>, outline: &Outline, lettering: Lettering<'_>, width: f64) -> Result<Cells, Misfit> {
    let making = Making { case, outline, lettering, width };
    let spots = (0..outline.spots.len()).map(|spot| making.spot(spot));
    let rows = outline.ends.iter().enumerate().map(|(place, end)| making.row(place, end));
    let cells = spots.chain(rows).collect::<Result<Vec<_>, _>>()?;
    Ok(Cells { cells, wires: making.wires() })
}

struct Making<'a> {
    case: &'a Case<'a>,
    outline: &'a Outline,
    lettering: Lettering<'a>,
    width: f64,
}

impl Making<'_> {
    fn network(&self) -> &Network {
        self.case.network
    }

    fn spot(&self, spot: usize) -> Result<Cell, Misfit> {
        match self.outline.spots.get(spot) {
            Some(Spot::Node(node)) => self.node(spot, *node),
            Some(Spot::More(count)) => self.counted(&format!("{count} devices more")),
            Some(Spot::Beyond(count)) => self.counted(&format!("{count} devices and boards more, not shown")),
            None => self.counted(""),
        }
    }

    fn counted(&self, text: &str) -> Result<Cell, Misfit> {
        Ok(Cell {
            kind: CellKind::Symbol,
            shape: None,
            letters: None,
            label: self.lettering.body(Face::Regular, text, self.width)?,
            points: Vec::new(),
            open_end: None,
            tag: None,
        })
    }

    fn node(&self, spot: usize, node: NodeId) -> Result<Cell, Misfit> {
        let facts = self.case.facts(node);
        let is_fed = self.outline.above(spot).next().is_some();
        let is_source = matches!(facts.shape, Shape::Source(_));
        let is_described = !self.network().graph().into_node(node).is_empty();
        let unsaid = if is_described { "feed not shown" } else { "not described" };
        let open_end = (!is_fed && !is_source).then(|| self.lettering.line(Face::Medium, BODY, unsaid));
        let numbers = facts.points.iter().map(|number| self.number(*number));
        let letters = symbols::letters(facts.shape).map(|text| self.lettering.line(Face::Medium, 2.2, text));
        Ok(Cell {
            kind: match facts.shape {
                Shape::Board => CellKind::Bar,
                Shape::Source(_) => CellKind::Source,
                Shape::Changeover { .. } | Shape::Ups { .. } => CellKind::Apart,
                Shape::Isolator(_)
                | Shape::Cutout
                | Shape::Switch
                | Shape::Transformer
                | Shape::Converter
                | Shape::NotKnown => CellKind::Symbol,
            },
            shape: Some(facts.shape),
            letters: letters.transpose()?,
            label: self.label(&facts)?,
            points: numbers.collect::<Result<_, _>>()?,
            open_end: open_end.transpose()?,
            tag: None,
        })
    }

    fn number(&self, number: usize) -> Result<Words, Misfit> {
        let capital = if number < 10 { 2.5 } else { 2.1 };
        self.lettering.line(Face::Bold, capital, &number.to_string())
    }

    fn label(&self, facts: &Facts) -> Result<Vec<Words>, Misfit> {
        let mut lines = self.lettering.body(Face::Bold, &facts.name, self.width)?;
        lines.extend(self.lettering.body(Face::Medium, &facts.place, self.width)?);
        lines.extend(self.lettering.body(Face::Regular, &facts.system, self.width)?);
        let source_alone = matches!(facts.shape, Shape::Source(_)) && facts.is_open_end();
        let remark = match facts.shape {
            Shape::Cutout | Shape::Switch | Shape::Changeover { .. } | Shape::Converter => facts.remark(),
            Shape::Source(_) if source_alone => Some("by the survey alone"),
            Shape::Source(_)
            | Shape::Isolator(_)
            | Shape::Transformer
            | Shape::Ups { .. }
            | Shape::Board
            | Shape::NotKnown => None,
        };
        lines.extend(self.lettering.body(Face::Regular, remark.unwrap_or_default(), self.width)?);
        Ok(lines)
    }

    fn row(&self, place: usize, end: &End) -> Result<Cell, Misfit> {
        let row = self.case.enclosure().and_then(|enclosure| enclosure.rows.get(place));
        let mut label = Vec::new();
        for (face, text) in row.map(row_in_words).unwrap_or_default() {
            label.extend(self.lettering.body(face, &text, self.width)?);
        }
        for remark in self.row_remarks(place, end, row) {
            label.extend(self.lettering.body(Face::Medium, &remark, self.width)?);
        }
        let is_live = self.case.proof().paths.iter().any(|path| path.way == end.way);
        let impossible = self.isolated(place) == Some(&Isolated::Impossible);
        let tag = (is_live || impossible).then(|| self.lettering.line(Face::Bold, BODY, "still live"));
        let hangs_nowhere = end.hangs.is_empty() && end.lenders.is_empty();
        let open_end = hangs_nowhere.then(|| self.lettering.line(Face::Medium, BODY, "not described"));
        Ok(Cell {
            kind: CellKind::Row,
            shape: None,
            letters: None,
            label,
            points: Vec::new(),
            open_end: open_end.transpose()?,
            tag: tag.transpose()?,
        })
    }

    fn isolated(&self, place: usize) -> Option<&Isolated> {
        self.network().ways(self.case.id()).get(place).map(|way| &way.isolated)
    }

    fn row_remarks(&self, place: usize, end: &End, row: Option<&Row>) -> Vec<String> {
        let mut remarks = Vec::new();
        match self.isolated(place) {
            Some(Isolated::Impossible) => remarks.push("cannot be isolated".to_owned()),
            Some(Isolated::Unknown) => remarks.push("isolator not known".to_owned()),
            Some(Isolated::By(_)) | None => {}
        }
        if let Some(lender) = row.and_then(|row| row.further().neutral_from.as_ref()) {
            remarks.push(format!("shares the neutral of {lender}"));
        }
        let is_live = self.case.proof().paths.iter().any(|path| path.way == end.way);
        if !is_live && self.case.proof().gaps.iter().any(|gap| concerns(gap, end)) {
            remarks.push("not known".to_owned());
        }
        remarks
    }

    fn wires(&self) -> Vec<Wire> {
        let mut wires = Vec::new();
        for link in &self.outline.links {
            let (upper, lower) = link.nodes;
            let is_dashed = self.case.facts(lower).is_open_end() || self.case.facts(upper).is_open_end();
            let manner = Manner { is_live: self.case.is_live(upper, lower), is_dashed, is_neutral: false };
            wires.push(Wire { upper: link.upper, lower: link.lower, manner });
        }
        for (place, end) in self.outline.ends.iter().enumerate() {
            let lower = self.outline.spots.len() + place;
            let lines = end.hangs.iter().map(|spot| (*spot, false));
            for (upper, is_neutral) in lines.chain(end.lenders.iter().map(|spot| (*spot, true))) {
                let is_live = self.reaches(end, upper, is_neutral);
                wires.push(Wire { upper, lower, manner: Manner { is_live, is_dashed: false, is_neutral } });
            }
        }
        wires
    }

    /// Whether a live path ends at this row by way of a spot.
    fn reaches(&self, end: &End, spot: usize, is_neutral: bool) -> bool {
        let node = match self.outline.spots.get(spot) {
            Some(Spot::Node(node)) => *node,
            Some(Spot::More(_) | Spot::Beyond(_)) | None => return false,
        };
        let mut paths = self.case.proof().paths.iter();
        paths.any(|path| {
            // Of an output of which no row speaks, none is drawn.
            let is_it = path.way == end.way
                && path.carrier != Carrier::Output
                && (path.carrier == Carrier::SharedNeutral) == is_neutral;
            is_it && self.last_drawn(path) == Some(node)
        })
    }

    /// The last node of a path that its row is drawn to hang on. Where live parts are connected to the supply side of a
    /// node, a path that comes from what feeds that node does not pass it.
    fn last_drawn(&self, path: &LivePath) -> Option<NodeId> {
        let [.., before, last] = path.nodes.as_slice() else { return path.nodes.last().copied() };
        let at_supply_side = Terminal { node: *last, side: Side::Supply };
        let hangs_there = self.network().live_parts(path.way).contains(&at_supply_side);
        let feeds = self.network().graph().into_node(*last).iter().any(|feed| feed.from == *before);
        Some(if hangs_there && feeds { *before } else { *last })
    }
}

/// Whether a gap is one of this row itself, which no dashed line shows.
fn concerns(gap: &Gap, end: &End) -> bool {
    match gap {
        Gap::NothingSaid(way)
        | Gap::PolesNotSaid(_, way)
        | Gap::SwitchedNotSaid(_, way)
        | Gap::ConductorsNotSaid(way)
        | Gap::NeutralNotSaid(_, way)
        | Gap::LenderNotFound(way)
        | Gap::AcrossNotSaid(_, way)
        | Gap::BackFeed(way, _) => *way == end.way,
        Gap::OutputNotProved(_) | Gap::NotDescribed(_) | Gap::FeedNotSaid(_) | Gap::LinesTogetherNotSaid(_) => false,
    }
}

fn row_in_words(row: &Row) -> Vec<(Face, String)> {
    let voltage = row.nominal.map(nominal_in_words).filter(|words| !words.is_empty());
    let to_earth = || row.voltage_to_earth.map(|volts| format!("{volts} V to earth"));
    let parts = [
        (Face::Bold, Some(row.circuit.to_string())),
        (Face::Regular, row.serves.as_deref().map(str::to_owned)),
        (Face::Medium, voltage.or_else(to_earth)),
    ];
    parts.into_iter().filter_map(|(face, text)| Some((face, text?))).collect()
}
