//! What a notice says, part by part, as it is kept beside its printing: on one line, and read back without loss.

use crate::notice::{Notice, Said};
use crate::wording::one_line;

/// What a part of a notice is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// What to do: the headline.
    Do,
    /// Why.
    Why,
    /// What the enclosure or device is, in words.
    Name,
    /// A point of isolation by designation; on a device's notice a circuit. `At`, `Serves` and `With` after it belong to it.
    Point,
    /// Where the point is; on a device's notice the enclosure that the circuit feeds.
    At,
    /// What the point serves.
    Serves,
    /// What the point serves, or the name where no point stands before it, left off by the print for want of room.
    LeftOff,
    /// What must be read with the point.
    With,
    /// A figure with its meaning: a voltage, a date.
    Shows,
    /// What else must be known: stored charge, what stays live.
    Heed,
    /// The last line.
    Last,
    /// What the code carries.
    Code,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 12] = [
        Self::Do,
        Self::Why,
        Self::Name,
        Self::Point,
        Self::At,
        Self::Serves,
        Self::LeftOff,
        Self::With,
        Self::Shows,
        Self::Heed,
        Self::Last,
        Self::Code,
    ];

    /// The word before the part.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Do => "do",
            Self::Why => "why",
            Self::Name => "name",
            Self::Point => "point",
            Self::At => "at",
            Self::Serves => "serves",
            Self::LeftOff => "left off",
            Self::With => "with",
            Self::Shows => "shows",
            Self::Heed => "heed",
            Self::Last => "last",
            Self::Code => "code",
        }
    }
}

/// One part of a notice, in one language.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Part {
    /// What it is.
    pub kind: Kind,
    /// Its words, on one line.
    pub text: String,
}

/// What a notice says, in the order of reading, each language of a part after the other. Revision and date are no part of it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Statement(pub Vec<Part>);

/// Between two parts of a cell.
const BETWEEN: &str = " | ";

impl Statement {
    /// What a notice says. Empty texts are left away.
    #[must_use]
    pub fn of(notice: &Notice) -> Self {
        Self::printed(notice, notice)
    }

    /// What a notice says, with what its print leaves off marked so; `print` is the notice as it is drawn.
    #[must_use]
    pub fn printed(notice: &Notice, print: &Notice) -> Self {
        let kind = |kind: Kind, shown: &str| if shown.is_empty() { Kind::LeftOff } else { kind };
        let shown = |place: usize| print.points.get(place).map_or("", |point| point.serves.as_str());
        let mut parts = Parts(Vec::with_capacity(8 + 4 * notice.points.len()));
        parts.said(Kind::Do, &notice.headline);
        parts.said(Kind::Why, &notice.statement);
        parts.text(kind(Kind::Name, &print.name), &notice.name);
        for (place, point) in notice.points.iter().enumerate() {
            parts.text(Kind::Point, &point.designation);
            parts.text(Kind::At, &point.place);
            parts.text(kind(Kind::Serves, shown(place)), &point.serves);
            point.remarks.iter().for_each(|remark| parts.said(Kind::With, remark));
        }
        for figure in &notice.figures {
            figure.meaning.iter().for_each(|meaning| parts.text(Kind::Shows, &format!("{} {meaning}", figure.figure)));
        }
        notice.cautions.iter().for_each(|caution| parts.said(Kind::Heed, caution));
        parts.said(Kind::Last, &notice.closing);
        // The words of a code that carries the notice's own are above.
        let code = notice.code.as_deref().map(|code| if notice.carries_text() { "its own words" } else { code });
        code.iter().for_each(|code| parts.text(Kind::Code, code));
        Self(parts.0)
    }

    /// All of it on one line: `do: Isolate at both points | point: Q7 | at: Switchroom 1`. A `|` or `\` of a text has a `\`
    /// before it.
    #[must_use]
    pub fn cell(&self) -> String {
        let part = |part: &Part| format!("{}: {}", part.kind.name(), escaped(&part.text));
        self.0.iter().map(part).collect::<Vec<_>>().join(BETWEEN)
    }

    /// What [`Statement::cell`] wrote; `None` for anything else.
    #[must_use]
    pub fn parse(cell: &str) -> Option<Self> {
        if cell.is_empty() {
            return Some(Self::default());
        }
        let part = |written: &str| {
            let (name, text) = written.split_once(": ")?;
            let kind = Kind::ALL.into_iter().find(|kind| kind.name() == name)?;
            // A part that says nothing is not written, and at the end of a cell it would be read otherwise the next time.
            let text = plain(text)?;
            (!text.trim().is_empty()).then_some(Part { kind, text })
        };
        let mut parts = Vec::with_capacity(cell.matches(BETWEEN).count() + 1);
        for written in cell.split(BETWEEN) {
            parts.push(part(written)?);
        }
        Some(Self(parts))
    }

    /// The parts of one kind.
    pub fn of_kind(&self, kind: Kind) -> impl Iterator<Item = &str> {
        self.0.iter().filter(move |part| part.kind == kind).map(|part| part.text.as_str())
    }

    /// Every point with its place, as designation and place; an empty place is one that was left away by declaration.
    #[must_use]
    pub fn points(&self) -> Vec<(&str, &str)> {
        let mut points: Vec<(&str, &str)> = Vec::new();
        for part in &self.0 {
            match (part.kind, points.last_mut()) {
                (Kind::Point, _) => points.push((&part.text, "")),
                (Kind::At, Some((_, place))) => *place = &part.text,
                _ => {}
            }
        }
        points
    }
}

struct Parts(Vec<Part>);

impl Parts {
    fn text(&mut self, kind: Kind, text: &str) {
        let text = one_line(text).trim().to_owned();
        if !text.is_empty() {
            self.0.push(Part { kind, text });
        }
    }

    fn said(&mut self, kind: Kind, said: &Said) {
        said.iter().for_each(|text| self.text(kind, text));
    }
}

fn escaped(text: &str) -> String {
    text.replace('\\', "\\\\").replace('|', "\\|")
}

fn plain(text: &str) -> Option<String> {
    let mut plain = String::with_capacity(text.len());
    let mut characters = text.chars();
    while let Some(character) = characters.next() {
        match character {
            '\\' => plain.push(characters.next().filter(|next| matches!(next, '\\' | '|'))?),
            '|' => return None,
            other => plain.push(other),
        }
    }
    Some(plain)
}
