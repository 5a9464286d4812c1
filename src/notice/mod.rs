//! What a notice says, line by line, in every language asked for. No millimetre in here but the distances and sizes
//! that the survey itself declares.

mod caution;
mod code_text;
mod compose;
mod crossed_links;
mod device;
mod enclosure;
mod figure;
mod fingerprint;
mod issue;
mod packed;
mod record_link;
mod source;
mod standing;
mod statement;

use crate::length::{Length, Size};
use crate::rules::{LeastPlate, Rule};
use crate::survey::value::{Environment, Surface};

pub use crate::wording::Said;
pub use code_text::Carries;
pub use compose::{Composer, NoticeOptions, TEXT_CHARS, compose};
pub use crossed_links::OwnLinks;
pub use device::{before_opening, part_in_two};
pub use enclosure::{Told, told};
pub use fingerprint::Fingerprint;
pub use issue::issue;
pub use packed::{Brief, Packed, Packing};
pub use record_link::link_to;
pub use standing::compose_standing;

/// What a notice is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Subject {
    /// An enclosure that must be made dead: carries the warning sign.
    Enclosure,
    /// An isolator: says what it disconnects, never that something is dead; carries no sign.
    Device,
    /// Words that stand whatever the survey says, from the designer's list: carries no sign, and says nothing of voltages
    /// or isolation.
    Standing,
}

/// One numbered point of a notice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoticePoint {
    /// The device, or for a device's notice the circuit: never split between lines.
    pub designation: String,
    /// Where it is, or for a device's notice the enclosure that the circuit feeds; empty if left out by declaration.
    pub place: String,
    /// What it serves; may be left away from a small notice first, empty if not said.
    pub serves: String,
    /// What belongs to this point and must be read with it: not under load, what to do first, what else to open.
    pub remarks: Vec<Said>,
}

/// A large figure with its meaning.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoticeFigure {
    /// `400 V`, with a no-break space; `600 V d.c.`; on a standing notice a date, empty for a line to write it on.
    pub figure: String,
    /// `between conductors`
    pub meaning: Said,
}

/// What a tag says: a strip fixed to an isolator, too low for all that its notice says. It says the same in fewer words
/// and never less of what must be done before or beside opening the device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tag {
    /// What else must be known: that something may remain stands here in a few words, not device by device. The last is
    /// where the device is.
    pub cautions: Vec<Said>,
    /// Revision and date; empty without either.
    pub small_line: String,
    /// From how far it is read.
    pub reading_distance: Length,
}

/// A finished text, ready to be set. A standing notice has its heading in `headline`, which may be empty, and the rest of its
/// words in `statement`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// Stable number: enclosure and position, `CH3-JB2/1`; device and location, `Q7@Switchroom 1, board C`; that of its list.
    pub number: String,
    /// What it is about.
    pub subject: Subject,
    /// Designation of the enclosure or device: set large. Of a standing notice its number.
    pub designation: String,
    /// What it is in words; may be left away.
    pub name: String,
    /// Area of the enclosure, or location of the device: for order and filters.
    pub area: String,
    /// Where it is fixed, in words; empty for the usual place.
    pub position: String,
    /// The rules that it answers.
    pub rules: Vec<Rule>,
    /// What to do: `Isolate at all 3 points`.
    pub headline: Said,
    /// Why: `More than one supply inside CH3-JB2`, with the designation; on a device's notice what the rows are.
    pub statement: Said,
    /// What else must be known, one sentence each: stored charge, what stays live.
    pub cautions: Vec<Said>,
    /// Every point of isolation.
    pub points: Vec<NoticePoint>,
    /// The voltages; on a standing notice the dates.
    pub figures: Vec<NoticeFigure>,
    /// The last line in large letters: `Lock off each. Prove dead before work.` Empty on a device's notice.
    pub closing: Said,
    /// Number, revision, date and site: the small line.
    pub small_line: String,
    /// Caption of the code; empty without one.
    pub code_caption: Said,
    /// What the code carries: a link or a record number on one line, or the notice's own words on several.
    pub code: Option<String>,
    /// What it says on a tag; `None` for an enclosure, whose sign and points no tag holds.
    pub tag: Option<Tag>,
    /// From how far the words are read.
    pub reading_distance: Length,
    /// From how far the sign is seen.
    pub sign_distance: Length,
    /// The size wished for.
    pub size: Option<Size>,
    /// The least that is published for its plate.
    pub least: LeastPlate,
    /// The free area that the notice must not exceed.
    pub space: Option<Size>,
    /// What it must stand up to.
    pub environment: Environment,
    /// What it is fixed on; `None` where nobody says.
    pub surface: Option<Surface>,
    /// Revision, from the job.
    pub revision: String,
    /// What [`Notice::fingerprint`] is made from, beside the rest.
    pub hashed: Fingerprint,
}

impl Notice {
    /// Everything that the notice says, line by line in the order of reading, each in every language. What a plate may
    /// leave away for want of room (the name, what a point serves) is included.
    #[must_use]
    pub fn lines(&self) -> Vec<String> {
        let mut lines: Vec<String> = self.headline.iter().chain(&self.statement).cloned().collect();
        lines.push(self.name.clone());
        let numbered = self.subject == Subject::Enclosure && self.points.len() > 1;
        for (number, point) in (1..).zip(&self.points) {
            lines.push(point.line(numbered.then_some(number)));
            lines.extend(point.remarks.iter().flatten().cloned());
        }
        for figure in &self.figures {
            let said = |meaning: &String| format!("{} {meaning}", figure.figure).trim_start().to_owned();
            lines.extend(figure.meaning.iter().map(said));
        }
        lines.extend(self.cautions.iter().flatten().cloned());
        lines.extend(self.closing.iter().cloned());
        lines.push(self.small_line.clone());
        lines.extend(self.code_caption.iter().cloned());
        lines.retain(|line| !line.is_empty());
        lines
    }
}

impl Notice {
    /// The notice as its tag says it, without code; what a point serves may be left away. `None` if it has no tag.
    #[must_use]
    pub fn on_a_tag(&self) -> Option<Self> {
        let tag = self.tag.as_ref()?;
        let bare = |point: &NoticePoint| NoticePoint { remarks: Vec::new(), ..point.clone() };
        Some(Self {
            points: self.points.iter().map(bare).collect(),
            cautions: tag.cautions.clone(),
            small_line: tag.small_line.clone(),
            reading_distance: tag.reading_distance,
            code: None,
            code_caption: Said::new(),
            tag: None,
            ..self.clone()
        })
    }
}

impl Notice {
    /// Whether the code carries the notice's own words.
    #[must_use]
    pub fn carries_text(&self) -> bool {
        self.code.as_deref().is_some_and(|code| code.contains('\n'))
    }
}

impl NoticePoint {
    /// `2 Q12 Chamber 3 lobby, board D defrost heater`
    fn line(&self, number: Option<usize>) -> String {
        let number = number.map(|number| number.to_string()).unwrap_or_default();
        let parts = [&number, &self.designation, &self.place, &self.serves];
        parts.into_iter().filter(|part| !part.is_empty()).map(String::as_str).collect::<Vec<_>>().join(" ")
    }
}

#[cfg(test)]
mod tests;
