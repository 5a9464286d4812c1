//! A sheet while labels are laid on it: pieces, each free, a label, or cut in two.

use super::pattern::Axis;
use super::{Kind, Shop};

/// A piece of the sheet, its measures in micrometres and each label a gap larger than it is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece {
    pub(super) x: i32,
    pub(super) y: i32,
    pub(super) width: i32,
    pub(super) height: i32,
    pub(super) content: Content,
}

/// What a piece is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Content {
    Free,
    Label {
        kind: usize,
        turned: bool,
    },
    /// Cut in two; the numbers of the parts.
    Cut {
        axis: Axis,
        parts: (usize, usize),
    },
}

/// All pieces of one sheet; the first is the whole.
#[derive(Clone, Debug)]
pub(super) struct Board {
    pub(super) pieces: Vec<Piece>,
    /// The area of its labels.
    pub(super) area: i64,
}

impl Board {
    pub(super) fn new(shop: &Shop) -> Self {
        Self::of(shop.width, shop.height)
    }

    pub(super) fn of(width: i32, height: i32) -> Self {
        Self { pieces: vec![Piece { x: 0, y: 0, width, height, content: Content::Free }], area: 0 }
    }

    pub(super) fn piece(&self, number: usize) -> Option<Piece> {
        self.pieces.get(number).copied()
    }

    /// Cuts a free piece at a distance from its left or upper edge; the numbers of both parts.
    pub(super) fn cut(&mut self, number: usize, axis: Axis, at: i32) -> (usize, usize) {
        let parts = (self.pieces.len(), self.pieces.len() + 1);
        let Some(piece) = self.pieces.get_mut(number) else { return parts };
        let whole = *piece;
        piece.content = Content::Cut { axis, parts };
        let (mut one, mut other) = (whole, whole);
        match axis {
            Axis::Down => {
                one.width = at;
                other.x += at;
                other.width -= at;
            }
            Axis::Across => {
                one.height = at;
                other.y += at;
                other.height -= at;
            }
        }
        self.pieces.extend([one, other]);
        parts
    }

    /// Lays a label into the upper left corner of a free piece, and cuts off what is left by a first cut along `axis`
    /// and a second one; the numbers of what is left.
    pub(super) fn lay(
        &mut self,
        number: usize,
        (kind, turned, width, height): (usize, bool, i32, i32),
        axis: Axis,
    ) -> [Option<usize>; 2] {
        let mut left = [None, None];
        let mut number = number;
        let order = match axis {
            Axis::Across => [Axis::Across, Axis::Down],
            Axis::Down => [Axis::Down, Axis::Across],
        };
        for (axis, rest) in order.into_iter().zip(&mut left) {
            let Some(piece) = self.piece(number) else { continue };
            let (side, whole) = match axis {
                Axis::Across => (height, piece.height),
                Axis::Down => (width, piece.width),
            };
            if side < whole {
                let (one, other) = self.cut(number, axis, side);
                *rest = Some(other);
                number = one;
            }
        }
        if let Some(piece) = self.pieces.get_mut(number) {
            piece.content = Content::Label { kind, turned };
            self.area += i64::from(width) * i64::from(height);
        }
        left
    }

    /// How many labels of each of `kinds` sizes it holds.
    pub(super) fn counts(&self, kinds: usize) -> Vec<u32> {
        let mut counts = vec![0; kinds];
        for kind in self.labels() {
            if let Some(count) = counts.get_mut(kind) {
                *count += 1;
            }
        }
        counts
    }

    /// The sizes of its labels, one by one.
    pub(super) fn labels(&self) -> impl Iterator<Item = usize> {
        self.pieces.iter().filter_map(|piece| match piece.content {
            Content::Label { kind, .. } => Some(kind),
            Content::Free | Content::Cut { .. } => None,
        })
    }

    /// The same cuts with no more labels of each size than are left.
    pub(super) fn only(&self, shop: &Shop, left: &[u32]) -> Self {
        let (mut board, mut left) = (self.clone(), left.to_vec());
        for piece in &mut board.pieces {
            let Content::Label { kind, .. } = piece.content else { continue };
            match left.get_mut(kind) {
                Some(count) if *count > 0 => *count -= 1,
                _ => {
                    piece.content = Content::Free;
                    board.area -= Kind::area(shop.kind(kind));
                }
            }
        }
        board
    }

    /// The lower edge of its lowest label.
    pub(super) fn lowest(&self) -> i32 {
        let labels = self.pieces.iter().filter(|piece| matches!(piece.content, Content::Label { .. }));
        labels.map(|piece| piece.y + piece.height).max().unwrap_or(0)
    }
}
