//! One label: what its pieces of text, its code and its sign say, against what its notice must say.

use kurbo::{Affine, Rect};

use super::board::Board;
use super::code::{self, Found};
use super::declared::Declared;
use super::difference::What;
use super::gather::Mark;
use super::pieces::Piece;
use super::rows::Row;
use super::words::{plain, unspaced};
use super::{Claim, Texts};
use crate::network::spelling;
use crate::notice::{Notice, NoticeFigure, NoticePoint, Said, Subject};
use crate::typesetting::sign;

/// What lies on one label.
pub(super) struct Label<'a> {
    pub(super) claim: &'a Claim<'a>,
    /// Its room, with its own corner as the origin.
    pub(super) room: Rect,
    pub(super) pieces: &'a [Piece],
    pub(super) marks: &'a [&'a Mark],
    pub(super) to_label: Affine,
}

/// The least capitals of what is read from near (common practice), in mm.
const SMALL: f64 = 2.0;

/// Rounding of a height, in mm.
const ROUNDING: f64 = 0.01;

impl Label<'_> {
    /// Everything that differs, and the codes that were read.
    pub(super) fn differences(&self, texts: Texts) -> (Vec<What>, usize) {
        let mut found = Vec::new();
        if texts == Texts::Letters {
            self.texts(&mut found);
            self.declared(&mut found);
            found.extend(self.pieces.iter().filter_map(|piece| self.shape(piece)));
        } else {
            // United outlines hold letters, code and sign in one path: nothing of them can be told apart.
            found.extend(self.pieces.iter().map(|piece| What::Surplus(piece.text.clone())));
            return (found, 0);
        }
        let codes = self.code(&mut found);
        found.extend(self.sign());
        (found, codes)
    }

    /// Every text of the notice in its place, and no other.
    fn texts(&self, found: &mut Vec<What>) {
        let notice = self.claim.notice;
        let mut reading = Reading { board: Board::new(self.pieces), missing: Vec::new(), found };
        let least = self.claim.letter_height.to_mm();
        reading.points(notice, least);
        reading.figures(notice, least);
        reading.paragraphs(notice, least);
        reading.asides(notice);
        reading.finish();
    }

    /// Whether what the survey's rows declare stands there, whatever the notice says that it says.
    fn declared(&self, found: &mut Vec<What>) {
        let board = Board::new(self.pieces);
        for declared in self.claim.declared.iter().filter(|declared| !stands(&board, declared)) {
            let what = What::NotNamed {
                declared: declared.name.clone(),
                place: declared.place.clone(),
                record: declared.record,
            };
            if !found.contains(&what) {
                found.push(what);
            }
        }
    }

    /// What is wrong with how a piece is drawn.
    fn shape(&self, piece: &Piece) -> Option<What> {
        let text = || piece.text.clone();
        if let Some(drawn) = &piece.misdrawn {
            let (told, drawn) = (drawn.told.to_string(), drawn.shape.to_string());
            return Some(What::Misdrawn { text: text(), told, drawn });
        }
        if let Some(drawn) = &piece.contradicts {
            return Some(What::Misdrawn { text: text(), told: text(), drawn: drawn.clone() });
        }
        if !piece.is_level {
            return Some(What::NotLevel(text()));
        }
        if (piece.stretch - 1.0).abs() > 0.005 {
            return Some(What::Stretched(text()));
        }
        let bounds = piece.bounds();
        (self.room.union(bounds) != self.room).then(|| What::Outside(text()))
    }

    /// The code with the text that it should carry, or none.
    fn code(&self, found: &mut Vec<What>) -> usize {
        let codes = code::codes(self.marks.iter().copied(), self.to_label);
        let mut wanted = self.claim.notice.code.as_deref();
        for Found { text } in &codes {
            match (text, wanted.take()) {
                (None, _) => found.push(What::UnreadableCode),
                (Some(text), None) => found.push(What::SurplusCode(text.clone())),
                (Some(text), Some(wanted)) if text != wanted => {
                    found.push(What::OtherCode { seen: text.clone(), wanted: wanted.to_owned() });
                }
                (Some(_), Some(_)) => {}
            }
        }
        if wanted.is_some() {
            found.push(What::NoCode);
        }
        codes.len()
    }

    /// The warning sign as large as it is claimed to be.
    fn sign(&self) -> Option<What> {
        let height = self.claim.sign_height?;
        let (width, height) = (sign::width(height).to_mm(), height.to_mm());
        let is_sign = |mark: &&&Mark| {
            let bounds = self.to_label.transform_rect_bbox(mark.bounds);
            let inside = self.room.union(bounds) == self.room;
            inside && (bounds.width() - width).abs() < 0.1 && (bounds.height() - height).abs() < 0.1
        };
        self.marks.iter().find(is_sign).is_none().then_some(What::NoSign)
    }
}

/// Whether two names stand together: the second on the right of the first or below its beginning.
fn stands(board: &Board<'_>, declared: &Declared) -> bool {
    let starts = board.saying(&plain(&declared.name));
    let place = place_key(&declared.place);
    starts.into_iter().any(|start| {
        place.is_empty() || board.after(start).into_iter().flatten().any(|next| reads_on(board, next, &place))
    })
}

/// Places are the same whatever their case and spaces.
fn place_key(place: &str) -> String {
    unspaced(&spelling::key(&plain(place)))
}

/// Whether this piece and those below it say a place.
fn reads_on(board: &Board<'_>, piece: usize, place: &str) -> bool {
    let text = board.pieces.get(piece).map(|piece| place_key(&piece.text));
    let Some(rest) = text.filter(|text| !text.is_empty()).and_then(|text| place.strip_prefix(&text).map(str::to_owned))
    else {
        return false;
    };
    rest.is_empty() || board.under(piece).is_some_and(|next| reads_on(board, next, &rest))
}

/// The texts of a notice on their way from the board.
struct Reading<'p, 'f> {
    board: Board<'p>,
    missing: Vec<String>,
    found: &'f mut Vec<What>,
}

impl Reading<'_, '_> {
    fn points(&mut self, notice: &Notice, least: f64) {
        let numbered = notice.subject == Subject::Enclosure && notice.points.len() > 1;
        let designations: Vec<String> = notice.points.iter().map(|point| plain(&point.designation)).collect();
        for (index, point) in notice.points.iter().enumerate() {
            let NoticePoint { designation, place, serves, remarks } = point;
            let row = Row {
                number: numbered.then_some(index + 1),
                designation,
                follow: Some(place.as_str()).filter(|place| !plain(place).is_empty()).into_iter().collect(),
                remarks: remarks.iter().flat_map(distinct).collect(),
                aside: serves,
                designations: &designations,
            };
            self.row(&row, least);
        }
    }

    fn figures(&mut self, notice: &Notice, least: f64) {
        for NoticeFigure { figure, meaning } in notice.figures.iter().filter(|figure| !plain(&figure.figure).is_empty())
        {
            let follow = distinct(meaning).collect();
            let row =
                Row { number: None, designation: figure, follow, remarks: Vec::new(), aside: "", designations: &[] };
            self.row(&row, least);
        }
    }

    fn row(&mut self, row: &Row<'_>, least: f64) {
        match row.find(&self.board) {
            Ok(found) => {
                self.take(&found.main, least);
                self.take(found.aside.as_slice(), SMALL);
            }
            Err(What::Missing(text)) => self.missing.push(text),
            Err(what) => {
                self.found.push(what);
                // What stands there is known by the row's name, so that it is not complained of again.
                let name = self.board.saying(&plain(row.designation));
                self.take(name.get(..1).unwrap_or_default(), least);
            }
        }
    }

    /// Sentences, the longest first, so that none loses a line to a shorter one.
    fn paragraphs(&mut self, notice: &Notice, least: f64) {
        let spoken = [&notice.headline, &notice.statement, &notice.closing].into_iter().chain(&notice.cautions);
        // A date that is left to be written by hand has no figure, only what it is.
        let unwritten = notice.figures.iter().filter(|figure| plain(&figure.figure).is_empty());
        let spoken = spoken.chain(unwritten.map(|figure| &figure.meaning));
        let mut wanted: Vec<(String, f64)> = spoken.flat_map(distinct).map(|text| (plain(text), least)).collect();
        wanted.retain(|(text, _)| !text.is_empty());
        wanted.sort_by_key(|(text, _)| std::cmp::Reverse(text.len()));
        for (text, least) in wanted {
            match self.board.anywhere(&text) {
                Some(lines) => self.take(&lines, least),
                None => self.missing.push(text),
            }
        }
        let small = plain(&notice.small_line);
        match self.board.parts(&small) {
            Some(lines) => self.take(&lines, SMALL),
            None if small.is_empty() => {}
            None => self.missing.push(small),
        }
    }

    /// What may be left away for want of room: the name, and the caption of a code in one of its languages.
    fn asides(&mut self, notice: &Notice) {
        if let Some(lines) = self.board.anywhere(&notice.name) {
            self.take(&lines, SMALL);
        }
        let caption = notice
            .code
            .as_ref()
            .and_then(|_| distinct(&notice.code_caption).find_map(|caption| self.board.anywhere(caption)));
        if let Some(lines) = caption {
            self.take(&lines, SMALL);
        }
    }

    /// Takes pieces away, and looks whether their letters are high enough.
    fn take(&mut self, pieces: &[usize], least: f64) {
        self.board.take(pieces);
        for piece in pieces.iter().filter_map(|index| self.board.pieces.get(*index)) {
            let seen = piece.capital();
            if seen < least - ROUNDING {
                self.found.push(What::TooSmall { text: piece.text.clone(), seen, least });
            }
        }
    }

    /// What is missing and what is left over.
    fn finish(mut self) {
        let left = self.board.left().map(|(_, piece)| piece.text.clone()).collect();
        self.found.extend(What::of_texts(std::mem::take(&mut self.missing), left));
    }
}

/// What is said in several languages, each text once.
fn distinct(said: &Said) -> impl Iterator<Item = &str> {
    let texts = said.iter().enumerate();
    let first = texts.filter(|(index, text)| !said.iter().take(*index).any(|earlier| earlier == *text));
    first.map(|(_, text)| text.as_str()).filter(|text| !plain(text).is_empty())
}
