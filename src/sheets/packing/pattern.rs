//! A finished sheet: where each label lies, and the cuts that part them, first cuts first.

use super::board::{Board, Content};
use super::{Room, Shop};
use crate::length::{Length, Point, Rect, Size};

/// Which way a cut runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// From left to right.
    Across,
    /// From top to bottom.
    Down,
}

/// Where one label lies, measured from the upper left corner of the room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// Index of its demand.
    pub demand: usize,
    /// The room that it takes, as it lies.
    pub room: Rect,
    /// Whether it is turned by a quarter.
    pub turned: bool,
}

/// One cut in the middle of a gap, from edge to edge of a piece that earlier cuts have left. The outermost cuts lie half a
/// gap outside the room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Which way it runs.
    pub axis: Axis,
    /// The side of the room from which it is measured away: its y if it runs across, its x if it runs down.
    pub at: Length,
    /// Where it begins along its way.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// 1 for cuts through the whole sheet; others go through a piece that cuts of the stages before have left.
    pub stage: usize,
}

/// The labels and cuts of one sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pattern {
    /// The labels in reading order: from the top, and from the left where tops are level.
    pub spots: Vec<Spot>,
    /// The cuts, stage by stage.
    pub cuts: Vec<Cut>,
    /// The smallest room from the upper left corner that holds all labels.
    pub used: Size,
}

/// A piece with all cuts of one direction in one list, waste at its end.
enum Node {
    Waste,
    Label { kind: usize, turned: bool },
    Cut { axis: Axis, parts: Vec<(i32, Node)> },
}

impl Pattern {
    pub(super) fn of(room: &Room, shop: &Shop, board: &Board) -> Self {
        let mut pen = Pen { gap: room.gap, shop, pattern: Self::default() };
        let whole = Rect::new(Point::default(), Size::new(Length::um(shop.width), Length::um(shop.height)));
        pen.node(&node(board, 0), whole, 1);
        if !shop.is_roll {
            pen.rim(whole);
        }
        let mut pattern = pen.pattern;
        pattern.spots.sort_by_key(|spot| (spot.room.origin.y, spot.room.origin.x));
        pattern.cuts.sort_by_key(|cut| cut.stage);
        let ends = |end: fn(Rect) -> Length| pattern.spots.iter().map(|spot| end(spot.room)).max().unwrap_or_default();
        pattern.used = Size::new(ends(Rect::right), ends(Rect::bottom));
        pattern
    }
}

/// The piece of a board as a node: neighbours of one direction joined, the broadest first, waste last.
fn node(board: &Board, number: usize) -> Node {
    let Some(piece) = board.piece(number) else { return Node::Waste };
    let (axis, parts) = match piece.content {
        Content::Free => return Node::Waste,
        Content::Label { kind, turned } => return Node::Label { kind, turned },
        Content::Cut { axis, parts } => (axis, parts),
    };
    let mut joined = Vec::new();
    for part in [parts.0, parts.1] {
        let Some(piece) = board.piece(part) else { continue };
        let side = if axis == Axis::Down { piece.width } else { piece.height };
        match node(board, part) {
            Node::Cut { axis: same, parts } if same == axis => joined.extend(parts),
            other @ (Node::Waste | Node::Label { .. } | Node::Cut { .. }) => joined.push((side, other)),
        }
    }
    let is_waste = |(_, part): &(i32, Node)| matches!(part, Node::Waste);
    let waste: i32 = joined.iter().filter(|part| is_waste(part)).map(|(side, _)| *side).sum();
    joined.retain(|part| !is_waste(part));
    if joined.is_empty() {
        return Node::Waste;
    }
    joined.sort_by_key(|(side, _)| std::cmp::Reverse(*side));
    if waste > 0 {
        joined.push((waste, Node::Waste));
    }
    Node::Cut { axis, parts: joined }
}

/// Writes a pattern from a tree whose measures are a gap larger than those of the labels.
struct Pen<'a> {
    gap: Length,
    shop: &'a Shop,
    pattern: Pattern,
}

impl Pen<'_> {
    fn node(&mut self, node: &Node, at: Rect, stage: usize) {
        match node {
            Node::Waste => {}
            Node::Label { kind, turned } => {
                let kind_of = self.shop.kind(*kind);
                let size = Size::new(Length::um(kind_of.width), Length::um(kind_of.height));
                let size = if *turned { size.turned() } else { size };
                let size = Size::new(size.width - self.gap, size.height - self.gap);
                let spot = Spot { demand: *kind, room: Rect::new(at.origin, size), turned: *turned };
                self.pattern.spots.push(spot);
            }
            Node::Cut { axis, parts } => {
                let mut rest = at;
                for (number, (side, part)) in parts.iter().enumerate() {
                    let (piece, after) = divided(rest, *axis, Length::um(*side));
                    self.node(part, piece, stage + 1);
                    if number + 1 < parts.len() {
                        self.cut(*axis, after, at, stage);
                    }
                    rest = after;
                }
            }
        }
    }

    /// The cut through a piece where a part of it begins.
    fn cut(&mut self, axis: Axis, part: Rect, through: Rect, stage: usize) {
        match axis {
            Axis::Down => self.line(axis, part.origin.x, (through.origin.y, through.bottom()), stage),
            Axis::Across => self.line(axis, part.origin.y, (through.origin.x, through.right()), stage),
        }
    }

    fn line(&mut self, axis: Axis, at: Length, (from, to): (Length, Length), stage: usize) {
        let half = self.gap / 2;
        self.pattern.cuts.push(Cut { axis, at: at - half, from: from - half, to: to - half, stage });
    }

    /// The cuts along those edges of the room that labels reach.
    fn rim(&mut self, whole: Rect) {
        let reached = |reaches: &dyn Fn(Rect) -> bool| self.pattern.spots.iter().any(|spot| reaches(spot.room));
        let (right, bottom) = (whole.right(), whole.bottom());
        let edges = [
            (Axis::Down, Length::ZERO, reached(&|room| room.origin.x == Length::ZERO)),
            (Axis::Down, right, reached(&|room| room.right() + self.gap == right)),
            (Axis::Across, Length::ZERO, reached(&|room| room.origin.y == Length::ZERO)),
            (Axis::Across, bottom, reached(&|room| room.bottom() + self.gap == bottom)),
        ];
        for (axis, at, _) in edges.into_iter().filter(|(_, _, reached)| *reached) {
            let end = if axis == Axis::Down { bottom } else { right };
            self.line(axis, at, (Length::ZERO, end), 1);
        }
    }
}

/// A piece from the beginning of another, and what is left of it.
fn divided(piece: Rect, axis: Axis, side: Length) -> (Rect, Rect) {
    let (origin, size) = (piece.origin, piece.size);
    match axis {
        Axis::Down => (
            Rect::new(origin, Size::new(side, size.height)),
            Rect::new(Point::new(origin.x + side, origin.y), Size::new(size.width - side, size.height)),
        ),
        Axis::Across => (
            Rect::new(origin, Size::new(size.width, side)),
            Rect::new(Point::new(origin.x, origin.y + side), Size::new(size.width, size.height - side)),
        ),
    }
}
