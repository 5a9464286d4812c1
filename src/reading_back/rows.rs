//! The rows of a notice: a number, what is to be opened, where it is, and what belongs to it must be read together.

use super::board::Board;
use super::difference::What;
use super::pieces::Piece;
use super::words::plain;

/// What stands together on a notice.
pub(super) struct Row<'a> {
    pub(super) number: Option<usize>,
    pub(super) designation: &'a str,
    /// Paragraphs that follow, one after the other: the place; a figure's meanings.
    pub(super) follow: Vec<&'a str>,
    /// Paragraphs further below that belong to it.
    pub(super) remarks: Vec<&'a str>,
    /// What may stand on the right of it.
    pub(super) aside: &'a str,
    /// What every row of the list begins with, as texts are compared.
    pub(super) designations: &'a [String],
}

/// A row once found.
pub(super) struct FoundRow {
    /// What must be legible from the reading distance.
    pub(super) main: Vec<usize>,
    /// What may be smaller.
    pub(super) aside: Option<usize>,
}

impl Row<'_> {
    /// Finds the row among what is left on the board.
    pub(super) fn find(&self, board: &Board<'_>) -> Result<FoundRow, What> {
        let wanted = plain(self.designation);
        let starts = board.saying(&wanted);
        let mut nearest = None;
        for start in starts {
            match self.find_at(board, start) {
                Ok(found) => return Ok(found),
                Err(what) => nearest = nearest.or(Some(what)),
            }
        }
        Err(nearest.unwrap_or_else(|| What::Missing(self.whole())))
    }

    /// `2 Q12 Chamber 3 lobby`
    fn whole(&self) -> String {
        let number = self.number.map(|number| number.to_string());
        let parts = number.as_deref().into_iter().chain([self.designation]).chain(self.follow.iter().copied());
        plain(&parts.collect::<Vec<_>>().join(" "))
    }

    fn find_at(&self, board: &Board<'_>, start: usize) -> Result<FoundRow, What> {
        let text =
            |index: Option<usize>| index.and_then(|index| board.pieces.get(index)).map(|piece| piece.text.clone());
        let lacks = |lacks: &str, seen: Option<String>| What::Row {
            designation: plain(self.designation),
            lacks: plain(lacks),
            seen,
        };
        let mut main = vec![start];
        if let Some(number) = self.number {
            let left = board.left_of(start);
            let number = number.to_string();
            match left.filter(|_| text(left).as_deref() == Some(&number)) {
                Some(left) => main.push(left),
                None => return Err(lacks(&number, text(left))),
            }
        }
        let mut last = start;
        for (index, follow) in self.follow.iter().enumerate() {
            let starts = if index == 0 { self.after(board, start) } else { [board.under(last), None] };
            let Some(lines) = board.paragraph(follow, starts.into_iter().flatten()) else {
                return Err(lacks(follow, starts.into_iter().find_map(text)));
            };
            last = lines.last().copied().unwrap_or(last);
            main.extend(lines);
        }
        for remark in &self.remarks {
            let lines = self.remark(board, start, &main, remark).ok_or_else(|| lacks(remark, None))?;
            main.extend(lines);
        }
        let aside = self.find_aside(board, start, &main);
        Ok(FoundRow { main, aside })
    }

    /// Where what follows may begin: on the right or below. Where what may stand on the right says the same, below first, so
    /// that neither is taken for the other.
    fn after(&self, board: &Board<'_>, start: usize) -> [Option<usize>; 2] {
        let [right, below] = board.after(start);
        let is_alike = self.follow.first().is_some_and(|follow| plain(follow) == plain(self.aside));
        if is_alike { [below, right] } else { [right, below] }
    }

    /// A remark stands below its row, above the next row of its column and left of the next column. What the row itself
    /// says, its `main` pieces, begins no other: a place may bear the name of what is there.
    fn remark(&self, board: &Board<'_>, start: usize, main: &[usize], remark: &str) -> Option<Vec<usize>> {
        let row = board.pieces.get(start)?;
        let others = || {
            let begins =
                |(index, piece): &(usize, &Piece)| !main.contains(index) && self.begins_row(board, *index, piece);
            board.pieces.iter().enumerate().filter(begins).map(|(_, piece)| piece)
        };
        let below = others().filter(|piece| piece.is_aligned_with(row) && piece.baseline > row.baseline);
        let bottom = below.map(|piece| piece.baseline - 0.5 * piece.em).fold(f64::INFINITY, f64::min);
        let beside = others().filter(|piece| piece.left > row.right && piece.is_level_with(row));
        let right = beside.map(|piece| piece.left).fold(f64::INFINITY, f64::min);
        let belongs = |piece: &Piece| {
            let is_below = piece.baseline > row.baseline + 0.5 * row.em && piece.baseline < bottom;
            is_below && piece.left > row.left - 0.1 && piece.left < right
        };
        let mut starts: Vec<_> = board.left().filter(|(_, piece)| belongs(piece)).collect();
        starts.sort_by(|(_, one), (_, other)| one.baseline.total_cmp(&other.baseline));
        board.paragraph(remark, starts.into_iter().map(|(index, _)| index))
    }

    /// Whether a row of this list begins with a piece; where rows are numbered, only if a number stands before it.
    fn begins_row(&self, board: &Board<'_>, index: usize, piece: &Piece) -> bool {
        let is_number =
            |index: usize| board.pieces.get(index).is_some_and(|before| before.text.parse::<usize>().is_ok());
        self.designations.contains(&piece.text)
            && (self.number.is_none() || board.left_of(index).is_some_and(is_number))
    }

    fn find_aside(&self, board: &Board<'_>, start: usize, main: &[usize]) -> Option<usize> {
        let (row, wanted) = (board.pieces.get(start)?, plain(self.aside));
        let fits = |index: &usize| {
            let piece = board.pieces.get(*index);
            piece.is_some_and(|piece| piece.is_level_with(row) && piece.left > row.right)
        };
        board.saying(&wanted).into_iter().filter(|index| !main.contains(index)).find(fits)
    }
}
