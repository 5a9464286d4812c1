//! What a page shows that it should not, or does not show that it should, in words with its place.

use std::fmt;

/// One difference between a document and what it was to say.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// Page, from 1; 0 where it is about the whole document.
    pub page: usize,
    /// Number of the notice, if it lies on a label.
    pub notice: Option<String>,
    /// What differs.
    pub what: What,
}

/// What differs.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// No PDF reader makes sense of the document, or of the page.
    Unreadable,
    /// There are more or fewer pages, or labels on a page, than were planned.
    Count {
        /// `pages`, `labels`
        of: &'static str,
        /// How many there are.
        seen: usize,
        /// How many were planned.
        wanted: usize,
    },
    /// A box of a page is not the one that was asked for.
    Box {
        /// `TrimBox`
        name: &'static str,
        /// Left, top, right, bottom in mm from the upper left corner of the page; `None` if there is none.
        seen: Option<[f64; 4]>,
        /// The same as it was asked for.
        wanted: [f64; 4],
    },
    /// A text that must stand there does not.
    Missing(String),
    /// A text stands there that nothing asks for.
    Surplus(String),
    /// A text stands there in place of another.
    Instead {
        /// What stands there.
        seen: String,
        /// What should.
        wanted: String,
    },
    /// A point of isolation is not in one row with what belongs to it.
    Row {
        /// The designation.
        designation: String,
        /// What should stand with it.
        lacks: String,
        /// What stands there instead, if anything.
        seen: Option<String>,
    },
    /// A row of the survey declares a device that the notice does not name.
    NotNamed {
        /// What the survey declares: a device for an enclosure's notice, a circuit for a device's.
        declared: String,
        /// Where it is, or what it feeds.
        place: String,
        /// Number of the record in the survey, from 1.
        record: u32,
    },
    /// Letters lower than the notice claims.
    TooSmall {
        /// The text.
        text: String,
        /// Height of its capitals in mm.
        seen: f64,
        /// The least that was claimed.
        least: f64,
    },
    /// Letters that are narrower or wider than the font.
    Stretched(String),
    /// Text that does not run level on its label.
    NotLevel(String),
    /// Text that leaves its label.
    Outside(String),
    /// Glyphs whose shapes are not the characters that they tell.
    Misdrawn {
        /// The text.
        text: String,
        /// What it tells there.
        told: String,
        /// What is drawn.
        drawn: String,
    },
    /// The code is not there.
    NoCode,
    /// A code that nothing asks for.
    SurplusCode(String),
    /// A code that no reader decodes.
    UnreadableCode,
    /// The code carries another text.
    OtherCode {
        /// What it carries.
        seen: String,
        /// What it should.
        wanted: String,
    },
    /// The warning sign is not there, or not as large as claimed.
    NoSign,
    /// A picture made of dots, which no notice has.
    Picture,
}

/// Texts are taken for one another's misprint from this likeness on.
const ALIKE: f64 = 0.6;

impl What {
    /// Texts that are missing and texts that are left over, in pairs where they are alike.
    pub(super) fn of_texts(missing: Vec<String>, mut left: Vec<String>) -> Vec<Self> {
        let mut found = Vec::with_capacity(missing.len() + left.len());
        for wanted in missing {
            let alike = |text: &String| strsim::normalized_levenshtein(text, &wanted);
            let best = left.iter().enumerate().map(|(index, text)| (index, alike(text)));
            let best = best.filter(|(_, alike)| *alike > ALIKE).max_by(|(_, one), (_, other)| one.total_cmp(other));
            found.push(match best {
                Some((index, _)) => Self::Instead { seen: left.remove(index), wanted },
                None => Self::Missing(wanted),
            });
        }
        found.extend(left.into_iter().map(Self::Surplus));
        found
    }
}

impl fmt::Display for Difference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.page, &self.notice) {
            (0, _) => {}
            (page, None) => write!(f, "page {page}: ")?,
            (page, Some(notice)) => write!(f, "page {page}, notice `{notice}`: ")?,
        }
        self.what.fmt(f)
    }
}

impl fmt::Display for What {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable => f.write_str("no reader makes sense of it"),
            Self::Count { of, seen, wanted } => write!(f, "{seen} {of} where {wanted} were planned"),
            Self::Box { name, seen: None, wanted } => {
                write!(f, "there is no {name}, which should be {}", corners(wanted))
            }
            Self::Box { name, seen: Some(seen), wanted } => {
                write!(f, "the {name} is {} and should be {}", corners(seen), corners(wanted))
            }
            Self::Missing(text) => write!(f, "`{text}` is missing"),
            Self::Surplus(text) => write!(f, "`{text}` stands there, and nothing asks for it"),
            Self::Instead { seen, wanted } => write!(f, "`{seen}` stands where `{wanted}` should"),
            Self::Row { designation, lacks, seen: None } => {
                write!(f, "`{designation}` does not stand in one row with `{lacks}`")
            }
            Self::Row { designation, lacks, seen: Some(seen) } => {
                write!(f, "`{designation}` stands in one row with `{seen}` and not with `{lacks}`")
            }
            Self::NotNamed { declared, place, record } if place.is_empty() => {
                write!(f, "row {record} of the survey declares `{declared}`, which is not named")
            }
            Self::NotNamed { declared, place, record } => {
                write!(
                    f,
                    "row {record} of the survey declares `{declared}` with `{place}`, which are not named together"
                )
            }
            Self::TooSmall { text, seen, least } => {
                write!(f, "the capitals of `{text}` are {seen:.2} mm high, and {least:.2} mm are claimed")
            }
            Self::Stretched(text) => write!(f, "the letters of `{text}` are not as wide as the font's"),
            Self::NotLevel(text) => write!(f, "`{text}` does not run level"),
            Self::Outside(text) => write!(f, "`{text}` leaves its label"),
            Self::Misdrawn { text, told, drawn } => {
                write!(f, "`{text}` tells `{told}` where `{drawn}` is drawn")
            }
            Self::NoCode => f.write_str("the code is missing"),
            Self::SurplusCode(text) => write!(f, "a code with `{text}` stands there, and nothing asks for it"),
            Self::UnreadableCode => f.write_str("the code cannot be decoded"),
            Self::OtherCode { seen, wanted } => write!(f, "the code carries `{seen}` and should carry `{wanted}`"),
            Self::NoSign => f.write_str("the warning sign is missing, or not as large as claimed"),
            Self::Picture => f.write_str("a picture stands there, which cannot be read"),
        }
    }
}

/// `0, 0, 210, 297 mm`
fn corners(corners: &[f64; 4]) -> String {
    let numbers = corners.map(|corner| {
        let text = format!("{corner:.3}");
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    });
    format!("{} mm", numbers.join(", "))
}
