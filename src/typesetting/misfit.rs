//! Why a notice cannot be set, and the finding that says so.

use super::plate::tag::is_tag;
use crate::finding::{Finding, code};
use crate::length::{Length, Size};
use crate::notice::{Notice, NoticePoint, Subject};
use crate::wording::Said;

/// Why a notice cannot be set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Misfit {
    /// It does not fit at the legible minimum into any size allowed.
    TooLong {
        /// The largest size that was tried.
        tried: Size,
        /// The smallest size of the ISO 216 series at which it would fit, if any up to A3 does.
        would_fit: Option<Size>,
    },
    /// The size wished for is larger than the free area, and no size was tried.
    BeyondSpace {
        /// The size wished for.
        wished: Size,
        /// The free area.
        space: Size,
        /// The smallest size of the ISO 216 series at which it would fit, if any up to A3 does.
        would_fit: Option<Size>,
    },
    /// A face has no glyph for a character.
    MissingGlyph {
        /// The character.
        character: char,
        /// The text that holds it.
        text: String,
    },
    /// The code has more modules than fit at the smallest module size.
    CodeTooLarge {
        /// Side of the code with its quiet zone at the smallest module.
        needed: Length,
        /// The room that the largest size allowed leaves for it.
        room: Length,
    },
    /// The code's text is longer than any code can carry.
    CodeTooLong {
        /// Characters of the text.
        characters: usize,
    },
}

/// Whether the size wished for is larger than the free area, so that nothing is tried.
pub(super) fn is_beyond_space(notice: &Notice) -> bool {
    notice.size.zip(notice.space).is_some_and(|(wished, space)| !wished.fits_in(space))
}

/// What could be done about a notice that is too large for a size, beside taking a larger one: what takes most of the room
/// is named, for nobody finds it by shortening something else. What follows on `it fits into 105 x 74 mm`.
#[must_use]
pub fn to_shorten(notice: &Notice, tried: Size) -> &'static str {
    match (is_in_several_languages(notice), cautions_lead(notice, tried)) {
        (false, false) => ", or shorten the place names",
        (false, true) => "; its cautions take most of the room, and are never left away",
        (true, false) => ", or print it in fewer languages, or shorten the place names",
        (true, true) => ", or print it in fewer languages; its cautions take most of the room, and are never left away",
    }
}

fn is_in_several_languages(notice: &Notice) -> bool {
    notice.statement.len().max(notice.headline.len()) > 1
}

/// Whether cautions and remarks have more letters than all that tells devices and places.
fn cautions_lead(notice: &Notice, tried: Size) -> bool {
    let letters = |all: &[Said]| all.iter().map(|said| said.main().chars().count()).sum::<usize>();
    let of_point = |point: &NoticePoint| {
        [&point.designation, &point.place, &point.serves].into_iter().map(|part| part.chars().count()).sum::<usize>()
    };
    let points = notice.points.iter().map(of_point).sum::<usize>();
    let (cautions, places) = match &notice.tag {
        // The last line of a tag says where the device is.
        Some(tag) if is_tag(notice, tried) => match tag.cautions.split_last() {
            Some((place, cautions)) => (letters(cautions), letters(std::slice::from_ref(place)) + points),
            None => (0, points),
        },
        _ => (letters(&notice.cautions), points),
    };
    cautions + notice.points.iter().map(|point| letters(&point.remarks)).sum::<usize>() > places
}

/// The longest of its texts, which mostly is what somebody would shorten.
fn longest_text(notice: &Notice) -> Option<&str> {
    let remarks = notice.points.iter().flat_map(|point| &point.remarks);
    let said = notice.cautions.iter().chain(remarks).map(Said::main);
    let points = notice.points.iter().flat_map(|point| [&*point.designation, &*point.place, &*point.serves]);
    said.chain(points).chain([&*notice.designation, &*notice.name]).max_by_key(|text| text.chars().count())
}

/// So much of a text is shown as tells it from others.
const SHOWN: usize = 60;

fn begin_of(text: &str) -> String {
    match text.char_indices().nth(SHOWN) {
        Some((at, _)) => format!("{}…", text.get(..at).unwrap_or_default()),
        None => text.to_owned(),
    }
}

impl Misfit {
    /// The same, where the free area and the size wished for contradict each other: then the words are not to blame.
    pub(super) fn beyond_space(self, notice: &Notice) -> Self {
        match (self, notice.size, notice.space) {
            (Self::TooLong { would_fit, .. }, Some(wished), Some(space)) if !wished.fits_in(space) => {
                Self::BeyondSpace { wished, space, would_fit }
            }
            (other, ..) => other,
        }
    }

    /// The finding about the notice that could not be set.
    #[must_use]
    pub fn finding(&self, notice: &Notice) -> Finding {
        let shorten = match self {
            Self::TooLong { tried, would_fit } => {
                let beyond = notice.space.filter(|space| would_fit.is_some_and(|size| !size.fits_in(*space)));
                let beyond =
                    beyond.map(|space| format!(", and the free area there is {space}: fix it where there is room"));
                let longest = longest_text(notice).filter(|_| would_fit.is_none());
                let longest = longest.map(|text| format!("; its longest text is `{}`", begin_of(text).escape_debug()));
                beyond.unwrap_or_default() + to_shorten(notice, *tried) + longest.as_deref().unwrap_or_default()
            }
            Self::BeyondSpace { .. }
            | Self::MissingGlyph { .. }
            | Self::CodeTooLarge { .. }
            | Self::CodeTooLong { .. } => String::new(),
        };
        // Only an enclosure can be divided.
        let divide = if notice.subject == Subject::Enclosure { "divide the enclosure" } else { "say less on it" };
        let finding = self.said(&notice.number, &self.letters(notice), (divide, &shorten));
        let finding = if self.is_of_tag(notice) { self.of_tag(finding, notice) } else { finding };
        let finding = if notice.carries_text() { self.of_text(finding) } else { finding };
        match notice.subject {
            Subject::Enclosure => finding.about(&notice.designation),
            Subject::Device | Subject::Standing => finding,
        }
    }

    /// The least letters of what was tried: those that can be read from a distance, or that are published.
    fn letters(&self, notice: &Notice) -> String {
        if let Some(capitals) = notice.least.capitals {
            return format!("capitals of {capitals} mm, the least that is published for it");
        }
        let tag = notice.tag.as_ref().filter(|_| self.is_of_tag(notice));
        let distance = tag.map_or(notice.reading_distance, |tag| tag.reading_distance);
        format!("letters that can be read from {} m", distance.to_mm() / 1_000.0)
    }

    /// Whether the largest size that was tried shows the notice as a tag.
    fn is_of_tag(&self, notice: &Notice) -> bool {
        matches!(self, Self::TooLong { tried, .. } if is_tag(notice, *tried))
    }

    /// What is to be done about a tag: every text of it stands in one line, and the designation beside all others.
    fn of_tag(&self, finding: Finding, notice: &Notice) -> Finding {
        let fits = match self {
            Self::TooLong { tried, .. } if cautions_lead(notice, *tried) => return finding,
            Self::TooLong { would_fit: Some(size), .. } if is_in_several_languages(notice) => {
                format!("it fits into {size}, or print it in fewer languages; ")
            }
            Self::TooLong { would_fit: Some(size), .. } => format!("it fits into {size}; "),
            Self::TooLong { would_fit: None, .. }
            | Self::BeyondSpace { .. }
            | Self::MissingGlyph { .. }
            | Self::CodeTooLarge { .. }
            | Self::CodeTooLong { .. } => String::new(),
        };
        let help = "a tag has room for a designation of some letters, beside what the device disconnects and its place in one \
                    line each";
        finding.help(format!("{fits}{help}"))
    }

    /// What is to be done about a code that carries the notice's own words, and no link.
    fn of_text(&self, finding: Finding) -> Finding {
        let help = "give a larger size, a record link instead, or `-` for no code; `qr = \"link\"` under [notices] in the job \
                    file does so for all";
        match self {
            Self::CodeTooLarge { .. } => finding.help(help),
            Self::CodeTooLong { .. } => {
                Finding { message: finding.message.replace("record link", "text"), ..finding }.help(help)
            }
            Self::TooLong { .. } | Self::BeyondSpace { .. } | Self::MissingGlyph { .. } => finding,
        }
    }

    fn said(&self, number: &str, letters: &str, (divide, shorten): (&str, &str)) -> Finding {
        match self {
            Self::TooLong { tried, would_fit } => {
                let message = format!("notice `{number}` does not fit into {tried} with {letters}");
                let finding = Finding::new(code::NOTICE_DOES_NOT_FIT, message);
                match would_fit {
                    // Only sheets with cells beyond the enclosure's space were at hand.
                    Some(size) if size.fits_in(*tried) => {
                        finding.help(format!("it fits into {size}; choose a sheet format with cells of that size"))
                    }
                    Some(size) => finding.help(format!("it fits into {size}{shorten}")),
                    None => finding.help(format!("not even A3, 420 x 297 mm, is large enough: {divide}{shorten}")),
                }
            }
            Self::BeyondSpace { wished, space, would_fit } => {
                let message = format!(
                    "notice `{number}` is wished for as {wished}, and the free area there is {space}: nothing was tried"
                );
                let finding = Finding::new(code::NOTICE_DOES_NOT_FIT, message);
                match would_fit {
                    Some(size) if size.fits_in(*space) => {
                        finding.help(format!("correct one of the two; {size} would hold it with {letters}"))
                    }
                    Some(size) => finding.help(format!(
                        "correct one of the two; with {letters} it needs {size}, so fix it where there is as much room"
                    )),
                    None => finding.help("correct one of the two; not even A3 would hold it: divide the enclosure"),
                }
            }
            Self::MissingGlyph { character, text } => Finding::new(
                code::MISSING_GLYPH,
                format!(
                    "the fonts have no `{}` (U+{:04X}), which notice `{number}` needs for `{}`",
                    character.escape_debug(),
                    u32::from(*character),
                    text.escape_debug()
                ),
            )
            .help("write it with other characters"),
            Self::CodeTooLarge { needed, room } => Finding::new(
                code::CODE_TOO_LARGE,
                format!("the code of notice `{number}` needs a square of {needed} mm, and there is room for {room} mm"),
            )
            .help("give a shorter record link, a larger size, or `-` for no code"),
            Self::CodeTooLong { characters } => Finding::new(
                code::CODE_TOO_LONG,
                format!(
                    "the record link of notice `{number}` has {characters} characters, more than any code can carry"
                ),
            )
            .help("give a shorter record link, or `-` for no code"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_notice_that_would_fit_a_smaller_sheet_is_sent_there() {
        let (tried, smaller) = (Size::whole_mm(160, 115), Size::whole_mm(105, 74));
        let help = |would_fit| {
            Misfit::TooLong { tried, would_fit }
                .said("CH3-JB1/1", "letters", ("divide the enclosure", ", or shorten the place names"))
                .help
        };
        let sent = help(Some(smaller)).unwrap();
        assert!(sent.contains("105 x 74 mm") && sent.contains("sheet format"), "{sent}");
        assert!(help(Some(Size::whole_mm(210, 148))).unwrap().contains("shorten the place names"));
    }
}
