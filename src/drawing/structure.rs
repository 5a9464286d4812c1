//! What a document is to somebody who hears it: headings, tables, figures, in the order in which they are read.

/// What a part of a document is (ISO 32000-1, 14.8.4).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// A part with a heading of its own.
    Section,
    /// A heading, from 1 for the highest.
    Heading(u8),
    /// A paragraph.
    Paragraph,
    /// A list.
    List,
    /// One item of a list, mark and text.
    ListItem,
    /// What stands before an item: its dash or number.
    ListMark,
    /// The text of an item.
    ListText,
    /// A table.
    Table,
    /// A row of a table.
    Row,
    /// The name of a column.
    ColumnHead,
    /// What a row is about, in its first cell.
    RowHead,
    /// Any other cell.
    Cell,
    /// A picture; says what it shows.
    Figure,
    /// Words that lead elsewhere.
    Link,
}

/// One part, within another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Element {
    /// What it is.
    pub role: Role,
    /// The part that it belongs to, by its number in the same structure, which is smaller than its own; `None` for the
    /// highest.
    pub parent: Option<usize>,
    /// What it says to somebody who cannot see it; empty where its own words say it.
    pub alternative: String,
}

/// The parts of a document or of one of its sections, parents before children, in the order of reading.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Structure {
    /// The parts.
    pub elements: Vec<Element>,
}

impl Structure {
    /// Adds a part after those added before; the answer is its number.
    pub fn add(&mut self, role: Role, parent: Option<usize>) -> usize {
        self.elements.push(Element { role, parent, alternative: String::new() });
        self.elements.len() - 1
    }

    /// Says what a part shows.
    pub fn describe(&mut self, element: usize, alternative: impl Into<String>) {
        if let Some(element) = self.elements.get_mut(element) {
            element.alternative = alternative.into();
        }
    }
}
