//! Blocks into strips, and strips onto pages: what leads stays with what follows, and a table's head comes again.

use std::cell::RefCell;
use std::sync::Arc;

use super::block::{Block, Text};
use super::letters::Letters;
use super::strip::{Mark, Sense, Strip};
use super::table::Tables;
use super::{Style, form, picture};
use crate::drawing::{GlyphLine, Role, Structure};
use crate::length::{Length, Point};

/// White before a list and between its items, and the room of a dash.
const ITEM: Length = Length::um(700);
const DASH: Length = Length::um(4_000);

/// White between columns of blocks.
const BETWEEN: Length = Length::um(8_000);

/// The room for text: its width, and how high a page is; and what the text is to a reader.
#[derive(Clone, Copy)]
pub(super) struct Layout<'a> {
    pub(super) letters: Letters<'a>,
    pub(super) width: Length,
    pub(super) most: Length,
    /// The parts of the section so far.
    pub(super) structure: &'a RefCell<Structure>,
    /// The part to which what comes next belongs.
    pub(super) parent: Option<usize>,
    /// The page of an anchor, as far as that is known.
    pub(super) page_of: &'a dyn Fn(&str) -> Option<usize>,
}

impl Layout<'_> {
    /// A new part after those so far.
    pub(super) fn part(&self, role: Role) -> usize {
        self.structure.borrow_mut().add(role, self.parent)
    }

    /// The same room, where what comes next belongs to a part.
    pub(super) const fn within(&self, parent: usize) -> Self {
        Self { parent: Some(parent), ..*self }
    }

    /// A picture as a part that says what it shows.
    pub(super) fn figure(&self, alternative: &str) -> usize {
        let figure = self.part(Role::Figure);
        self.structure.borrow_mut().describe(figure, alternative);
        figure
    }

    /// What the lines of a text are to a reader, as a part of this role, or as a link within it.
    pub(super) fn sense(&self, text: &Text, role: Role) -> Sense {
        let part = self.part(role);
        self.within(part).inner_sense(text, part)
    }

    /// The same where the part is there already.
    pub(super) fn inner_sense(&self, text: &Text, part: usize) -> Sense {
        match &text.link {
            None => Sense::of(part),
            Some(to) => Sense { element: Some(self.within(part).part(Role::Link)), link: Some(Arc::clone(to)) },
        }
    }

    /// The strips of blocks in order.
    ///
    /// A form is filled in for what stands before it, so that at least the last of that stays with it.
    pub(super) fn strips(&self, blocks: &[Block]) -> Vec<Strip> {
        let mut strips = Vec::new();
        for block in blocks {
            let last = strips.last_mut().filter(|_| matches!(block, Block::Form(_)));
            last.into_iter().for_each(|last: &mut Strip| last.leads = true);
            strips.extend(self.block(block));
        }
        strips
    }

    pub(super) fn block(&self, block: &Block) -> Vec<Strip> {
        match block {
            Block::Text(text) => self.text(text),
            Block::Anchor(target) => vec![Strip {
                leads: true,
                marks: vec![Mark::Anchor(target.clone(), Point::default())],
                ..Strip::default()
            }],
            Block::List(items) => {
                let list = self.within(self.part(Role::List));
                items.iter().flat_map(|item| list.item(item)).collect()
            }
            Block::Table(table) => Tables(*self).strips(table),
            Block::Picture(picture) => vec![picture::strip(self, picture)],
            Block::Beside(picture, blocks) => picture::beside(self, picture, blocks),
            Block::Columns(columns) => self.columns(columns),
            Block::Framed(texts) => vec![form::framed(self, texts)],
            Block::Form(form) => vec![form::strip(self, form)],
        }
    }

    fn columns(&self, columns: &[Vec<Block>]) -> Vec<Strip> {
        let count = i32::try_from(columns.len().max(1)).unwrap_or(1);
        let width = (self.width - BETWEEN * (count - 1)) / count;
        let narrow = Layout { width, ..*self };
        let mut whole = Strip::default();
        let mut left = Length::ZERO;
        for blocks in columns {
            let column = column(narrow.strips(blocks));
            if column.height > self.most / 2 {
                return columns.iter().flat_map(|blocks| self.strips(blocks)).collect();
            }
            whole.height = whole.height.max(column.height);
            whole.before = whole.before.max(column.before);
            whole.take(column, Point::new(left, Length::ZERO));
            left = left + width + BETWEEN;
        }
        vec![whole]
    }

    fn text(&self, text: &Text) -> Vec<Strip> {
        let style = text.style;
        let lines = self.letters.lines(style, &text.words, self.width);
        let sense = self.sense(text, style.role());
        let mut strips: Vec<Strip> = lines.iter().map(|line| one_line(line, style, Length::ZERO, &sense)).collect();
        together(&mut strips, style.before(), style.leads());
        strips
    }

    fn item(&self, words: &str) -> Vec<Strip> {
        let style = Style::Body;
        let lines = self.letters.lines(style, words, self.width - DASH);
        let item = self.within(self.part(Role::ListItem));
        let (mark, words) = (Sense::of(item.part(Role::ListMark)), Sense::of(item.part(Role::ListText)));
        let mut strips: Vec<Strip> = lines.iter().map(|line| one_line(line, style, DASH, &words)).collect();
        if let Some(first) = strips.first_mut() {
            first.lines(&self.letters.lines(style, "–", DASH), style, (Length::ZERO, Length::ZERO), &mark);
        }
        together(&mut strips, ITEM, false);
        strips
    }
}

/// Strips one below the other as one, with the white before the first.
pub(super) fn column(strips: Vec<Strip>) -> Strip {
    let mut whole = Strip { before: strips.first().map_or(Length::ZERO, |first| first.before), ..Strip::default() };
    for (number, strip) in strips.into_iter().enumerate() {
        let top = whole.height + if number == 0 { Length::ZERO } else { strip.before };
        whole.height = top + strip.height;
        whole.take(strip, Point::new(Length::ZERO, top));
    }
    whole
}

fn one_line(line: &Arc<GlyphLine>, style: Style, left: Length, sense: &Sense) -> Strip {
    let mut strip = Strip::default();
    strip.height = strip.lines(std::slice::from_ref(line), style, (left, Length::ZERO), sense);
    strip
}

/// The lines of one paragraph: its first and its last two are not parted.
fn together(strips: &mut [Strip], before: Length, leads: bool) {
    let count = strips.len();
    for (number, strip) in strips.iter_mut().enumerate() {
        let last = number + 1 == count;
        strip.leads = if last { leads } else { leads || number == 0 || number + 2 == count };
        if number == 0 {
            strip.before = before;
        }
    }
}

/// A strip with its upper edge, from the top of the text.
pub(super) type Placed = (Length, Strip);

/// The strips of each page, where a page is `most` high.
pub(super) fn paginate(strips: Vec<Strip>, most: Length) -> Vec<Vec<Placed>> {
    let mut book = Book { pages: vec![Vec::new()], y: Length::ZERO, most };
    let mut group = Vec::new();
    for strip in strips {
        let leads = strip.leads;
        group.push(strip);
        if !leads {
            book.add(std::mem::take(&mut group));
        }
    }
    book.add(group);
    book.pages
}

struct Book {
    pages: Vec<Vec<Placed>>,
    y: Length,
    most: Length,
}

impl Book {
    /// Adds strips that should stay together; where even a whole page is too small for them, they are parted.
    fn add(&mut self, group: Vec<Strip>) {
        let Some(first) = group.first() else { return };
        let height: Length = group.iter().map(|strip| strip.before + strip.height).sum();
        let repeated = first.head.as_ref().map_or(Length::ZERO, |head| head.height);
        let fits_a_page = repeated + height - first.before <= self.most;
        if fits_a_page && self.y + height > self.most {
            self.turn();
        }
        group.into_iter().for_each(|strip| self.put(strip));
    }

    fn put(&mut self, strip: Strip) {
        if self.y + strip.before + strip.height > self.most {
            self.turn();
        }
        let is_first = self.y == Length::ZERO;
        if let Some(head) = strip.head.as_deref().filter(|_| is_first) {
            self.set(head.clone(), Length::ZERO);
        }
        let before = if self.y == Length::ZERO { Length::ZERO } else { strip.before };
        self.set(strip, before);
    }

    fn set(&mut self, strip: Strip, before: Length) {
        let top = self.y + before;
        self.y = top + strip.height;
        if let Some(page) = self.pages.last_mut() {
            page.push((top, strip));
        }
    }

    /// Goes on on the next page, unless this one is still empty.
    fn turn(&mut self) {
        if self.y > Length::ZERO {
            self.pages.push(Vec::new());
            self.y = Length::ZERO;
        }
    }
}
