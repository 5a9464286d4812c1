//! What a document is made of, before it has a place: texts, lists, tables, pictures, forms.

use std::sync::Arc;

use super::Style;
use crate::drawing::Drawing;
use crate::length::Length;
use crate::sheets::Bookmark;

/// A part of a document that starts on a page of its own.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    /// What it is about, at the right of the running head.
    pub head: String,
    /// What it holds, in order.
    pub blocks: Vec<Block>,
}

/// One block of a section.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading or a paragraph.
    Text(Text),
    /// A place that links and bookmarks lead to: the top of what follows.
    Anchor(Target),
    /// Short texts, each behind a dash.
    List(Vec<String>),
    /// Rows in columns.
    Table(Table),
    /// A picture, with its scale under it.
    Picture(Picture),
    /// A picture with blocks at its right, as many as there is room for; the others stand below it.
    Beside(Picture, Vec<Block>),
    /// Columns of blocks, equally wide, that start side by side; below each other where one would be higher than half a
    /// page.
    Columns(Vec<Vec<Block>>),
    /// Texts in a heavy frame, which must be seen first; never broken.
    Framed(Vec<Text>),
    /// A box to be filled in by hand; never broken.
    Form(Form),
}

impl Block {
    /// A text in a style.
    #[must_use]
    pub fn text(style: Style, words: impl Into<String>) -> Self {
        Self::Text(Text::new(style, words))
    }

    /// The head of a part.
    #[must_use]
    pub fn heading(words: impl Into<String>) -> Self {
        Self::text(Style::Heading, words)
    }

    /// Running text.
    #[must_use]
    pub fn body(words: impl Into<String>) -> Self {
        Self::text(Style::Body, words)
    }
}

/// Words in one style, broken into lines where they need several.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Text {
    /// The style.
    pub style: Style,
    /// The words; a line end is a blank.
    pub words: String,
    /// The anchor to which they lead, if any.
    pub link: Option<Arc<str>>,
}

impl Text {
    /// Words in a style.
    #[must_use]
    pub fn new(style: Style, words: impl Into<String>) -> Self {
        Self { style, words: words.into(), link: None }
    }

    /// The same words, leading to an anchor.
    #[must_use]
    pub fn leading_to(mut self, anchor: impl Into<Arc<str>>) -> Self {
        self.link = Some(anchor.into());
        self
    }
}

/// A place that links lead to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Target {
    /// Its name, unique in the document.
    pub name: Arc<str>,
    /// The bookmark that leads there, if any.
    pub bookmark: Option<Bookmark>,
}

impl Target {
    /// A place for links alone.
    #[must_use]
    pub fn new(name: impl Into<Arc<str>>) -> Self {
        Self { name: name.into(), bookmark: None }
    }

    /// A place with a bookmark so deep, from 0.
    #[must_use]
    pub fn bookmarked(name: impl Into<Arc<str>>, depth: u8, title: impl Into<String>) -> Self {
        Self { name: name.into(), bookmark: Some(Bookmark { depth, title: title.into() }) }
    }
}

/// One thing in a cell of a table.
#[derive(Clone, Debug, PartialEq)]
pub enum Inside {
    /// Words.
    Text(Text),
    /// A picture in its own size, no wider than the column, with what it says to somebody who cannot see it.
    Picture(Arc<Drawing>, String),
    /// A box to tick, with what it is for at its right.
    Tick(String),
    /// So much room to write in.
    Room(Length),
    /// A box to write in, as wide as the column and so high.
    Field(Length),
    /// The number of a point of isolation, white on a black disc as on its notice.
    Number(usize),
    /// A place that links lead to: the top of the row.
    Anchor(Target),
    /// The number of the page on which an anchor stands.
    PageOf(Arc<str>),
}

impl From<Text> for Inside {
    fn from(text: Text) -> Self {
        Self::Text(text)
    }
}

/// What stands in one column of a row, one below the other.
pub type Cell = Vec<Inside>;

/// Rows in columns. A row is never broken unless it is taller than a page; the head comes again on the next page.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// The columns from left to right.
    pub columns: Vec<Column>,
    /// Names of the columns; empty for none.
    pub head: Vec<String>,
    /// The rows; a row may have fewer cells than there are columns.
    pub rows: Vec<Vec<Cell>>,
    /// Whether a thin line stands under each row.
    pub ruled: bool,
}

/// How wide a column is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Column {
    /// So wide.
    Fixed(Length),
    /// As wide as its widest text, and no wider than this.
    Fitted(Length),
    /// So many shares of what the others leave.
    Share(u16),
}

impl Table {
    /// Terms and what is to be said of each, without lines.
    #[must_use]
    pub fn definitions(term: Length, rows: impl IntoIterator<Item = (String, Cell)>) -> Self {
        let row = |(term, cell)| vec![vec![Text::new(Style::Small, term).into()], cell];
        Self {
            columns: vec![Column::Fixed(term), Column::Share(1)],
            head: Vec::new(),
            rows: rows.into_iter().map(row).collect(),
            ruled: false,
        }
    }
}

/// A picture at its own size where there is room, else reduced to a whole percentage, which is stated.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// What it shows.
    pub drawing: Arc<Drawing>,
    /// What stands under it, before its scale.
    pub caption: String,
}

/// A box with what a person ticks, writes and signs.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Form {
    /// What it is for.
    pub title: String,
    /// Of which one is ticked.
    pub choices: Vec<String>,
    /// What the free room is for; empty for no room.
    pub remarks: String,
    /// Least height of the free room.
    pub room: Length,
    /// What is written at the foot, side by side.
    pub fields: Vec<Field>,
}

/// A line to write on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Field {
    /// What is written there.
    pub label: String,
    /// Its share of the width.
    pub share: u16,
}
