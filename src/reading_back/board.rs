//! The pieces of text on one label, taken away one after the other as something asks for them.

use super::pieces::Piece;
use super::words::plain;

/// The pieces of a label, with those that are already accounted for.
pub(super) struct Board<'p> {
    pub(super) pieces: &'p [Piece],
    taken: Vec<bool>,
}

/// A paragraph's next line lies so far below the last one, in ems.
const LEADING: std::ops::Range<f64> = 0.7..2.3;

/// Lines of one paragraph are of one size, to this share.
const SAME_SIZE: f64 = 0.02;

impl<'p> Board<'p> {
    pub(super) fn new(pieces: &'p [Piece]) -> Self {
        Self { pieces, taken: vec![false; pieces.len()] }
    }

    /// Takes pieces away.
    pub(super) fn take(&mut self, pieces: &[usize]) {
        for index in pieces {
            if let Some(taken) = self.taken.get_mut(*index) {
                *taken = true;
            }
        }
    }

    /// The pieces that nothing has asked for.
    pub(super) fn left(&self) -> impl Iterator<Item = (usize, &'p Piece)> {
        self.pieces.iter().enumerate().filter(|(index, _)| self.is_free(*index))
    }

    fn is_free(&self, index: usize) -> bool {
        self.taken.get(index).is_some_and(|taken| !taken)
    }

    /// Free pieces that say a text whole, from the top down.
    pub(super) fn saying(&self, text: &str) -> Vec<usize> {
        let mut found: Vec<usize> =
            self.left().filter(|(_, piece)| piece.text == text).map(|(index, _)| index).collect();
        found.sort_by(|one, other| self.order(*one, *other));
        found
    }

    fn order(&self, one: usize, other: usize) -> std::cmp::Ordering {
        let at = |index: usize| self.pieces.get(index).map_or((0.0, 0.0), |piece| (piece.baseline, piece.left));
        let ((above, left), (below, right)) = (at(one), at(other));
        above.total_cmp(&below).then(left.total_cmp(&right))
    }

    /// The free lines, one below the other, that together say a text; `starts` are the pieces with which it may begin.
    pub(super) fn paragraph(&self, text: &str, starts: impl IntoIterator<Item = usize>) -> Option<Vec<usize>> {
        let text = plain(text);
        starts.into_iter().find_map(|start| {
            let mut lines = Vec::new();
            self.goes_on(&text, " ", start, &mut lines).then_some(lines)
        })
    }

    /// The same wherever it stands.
    pub(super) fn anywhere(&self, text: &str) -> Option<Vec<usize>> {
        self.paragraph(text, self.left().map(|(index, _)| index))
    }

    /// The same for a text of parts with a dot between: where a line ends between two parts, no dot is printed.
    pub(super) fn parts(&self, text: &str) -> Option<Vec<usize>> {
        self.anywhere(text).or_else(|| {
            let text = plain(text);
            self.left().map(|(index, _)| index).find_map(|start| {
                let mut lines = Vec::new();
                self.goes_on(&text, " · ", start, &mut lines).then_some(lines)
            })
        })
    }

    /// Whether a text begins with this line and ends with lines below it, which are added; `between` may be lost where
    /// a line ends.
    fn goes_on(&self, text: &str, between: &str, line: usize, lines: &mut Vec<usize>) -> bool {
        let piece = self.pieces.get(line).filter(|_| self.is_free(line) && !lines.contains(&line));
        let rest = piece.and_then(|piece| text.strip_prefix(piece.text.as_str()));
        let (Some(piece), Some(rest)) = (piece, rest) else { return false };
        lines.push(line);
        let rest = rest.strip_prefix(between).unwrap_or(rest).trim_start_matches(' ');
        if rest.is_empty() || self.below(piece).into_iter().any(|next| self.goes_on(rest, between, next, lines)) {
            return true;
        }
        lines.pop();
        false
    }

    /// The pieces that can be the next line of a paragraph, the nearest first.
    fn below(&self, piece: &Piece) -> Vec<usize> {
        let is_next = |other: &Piece| {
            let step = (other.baseline - piece.baseline) / piece.em;
            let same_size = (other.em - piece.em).abs() < SAME_SIZE * piece.em;
            same_size && LEADING.contains(&step) && other.is_aligned_with(piece)
        };
        let mut found: Vec<usize> = self.left().filter(|(_, other)| is_next(other)).map(|(index, _)| index).collect();
        found.sort_by(|one, other| self.order(*one, *other));
        found
    }

    /// What follows a piece when it is read as a row: the piece on its right, or the one below its beginning.
    pub(super) fn after(&self, index: usize) -> [Option<usize>; 2] {
        [self.right_of(index), self.under(index)]
    }

    /// The next piece on the right of one.
    pub(super) fn right_of(&self, index: usize) -> Option<usize> {
        let piece = self.pieces.get(index)?;
        self.nearest(|other| {
            (other.is_level_with(piece) && other.left > piece.right - 0.1).then_some(other.left - piece.right)
        })
    }

    /// The next piece on the left of one.
    pub(super) fn left_of(&self, index: usize) -> Option<usize> {
        let piece = self.pieces.get(index)?;
        self.nearest(|other| {
            (other.is_level_with(piece) && other.right < piece.left + 0.1).then_some(piece.left - other.right)
        })
    }

    /// The next piece below the beginning of one.
    pub(super) fn under(&self, index: usize) -> Option<usize> {
        let piece = self.pieces.get(index)?;
        self.nearest(|other| {
            let step = other.baseline - piece.baseline;
            (other.is_aligned_with(piece) && step > 0.5 * other.em).then_some(step)
        })
    }

    fn nearest(&self, distance: impl Fn(&Piece) -> Option<f64>) -> Option<usize> {
        let found = self.pieces.iter().enumerate().filter_map(|(index, piece)| Some((index, distance(piece)?)));
        found.min_by(|(_, one), (_, other)| one.total_cmp(other)).map(|(index, _)| index)
    }
}
