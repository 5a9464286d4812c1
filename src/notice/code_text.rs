//! A code that carries the notice's own words, for sites where a link leads nowhere: whoever scans it reads them on the
//! telephone, without a network.

use super::compose::NoticeOptions;
use super::record_link::{self, Payload, Refusal};
use super::{Notice, NoticePoint, Said, Subject};
use crate::survey::value::RecordLink;
use crate::wording::{Message, Wording, one_line};

/// What the codes of notices carry where no link of their own is given.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Carries {
    /// The job's link base with the notice's number, if there is a base.
    #[default]
    Link,
    /// What the notice says, in its main language.
    Text,
}

/// Gives a finished notice its code and the caption of it: `link` as its file gives it, else what the job's codes carry.
///
/// # Errors
/// [`Refusal`] for what cannot stand in a code; the notice has none then.
pub(super) fn give(
    notice: &mut Notice,
    link: &RecordLink,
    wording: &Wording,
    options: &NoticeOptions,
) -> Result<(), Refusal> {
    let (payload, caption): (Payload, _) = match (link, options.carries) {
        (RecordLink::Unset, Carries::Text) => (text(notice, wording, options).map(Some), Message::CodeCaptionText {}),
        // A link helps nobody who reads a prescribed text, so only one of its own makes a code.
        (RecordLink::Unset, Carries::Link) if notice.subject == Subject::Standing => {
            (Ok(None), Message::CodeCaption {})
        }
        (link, _) => (record_link::payload(link, &notice.number, options), Message::CodeCaption {}),
    };
    notice.code = payload?;
    notice.code_caption = if notice.code.is_some() { wording.say(caption) } else { Said::new() };
    Ok(())
}

/// The words, line by line, in the main language alone, so that the code stays small enough to be read: the number first,
/// behind a word, so that nothing that a reader would act on can stand at its beginning. What a plate may leave away is left
/// away; so are revision and date, which change while the notice says the same.
fn text(notice: &Notice, wording: &Wording, options: &NoticeOptions) -> Result<String, Refusal> {
    let main = |said: &Said| said.main().to_owned();
    let mut lines = vec![wording.say_once(Message::CodeTextStart { number: &notice.number })];
    // A device's headline is its designation, with which its number begins.
    lines.extend((notice.subject != Subject::Device).then(|| main(&notice.headline)));
    lines.push(main(&notice.statement));
    let numbered = notice.subject == Subject::Enclosure && notice.points.len() > 1;
    let point = |(number, point): (usize, &NoticePoint)| {
        let number = if numbered { format!("{number}. ") } else { String::new() };
        format!("{number}{}", point_text(point, notice.subject))
    };
    lines.extend((1..).zip(&notice.points).map(point));
    let figures = notice.figures.iter().filter(|figure| !figure.figure.is_empty());
    lines.extend(figures.map(|figure| format!("{} {}", figure.figure, main(&figure.meaning))));
    lines.extend(notice.cautions.iter().map(main));
    lines.push(main(&notice.closing));
    // A no-break space would make the whole code one of bytes, and holds nothing together on a telephone.
    let lines = lines.iter().map(|line| one_line(line).replace('\u{a0}', " ").trim().to_owned());
    let lines: Vec<String> = lines.filter(|line| !line.is_empty()).collect();
    if let Some(unseen) = lines.iter().flat_map(|line| line.chars()).find(|c| record_link::is_unseen(*c)) {
        return Err(Refusal::UnseenInText(unseen));
    }
    let text = lines.join("\n");
    if let Some((scheme, _)) = record_link::scheme(&text) {
        return Err(Refusal::TextLikeLink(scheme.to_owned()));
    }
    match text.chars().count() {
        long if long > options.text_chars => Err(Refusal::LongText(long)),
        _ => Ok(text),
    }
}

/// `Q7 @ Switchroom 1, board C; not under load`, on a device's notice `DB-C/7 > CH3-JB1`
fn point_text(point: &NoticePoint, subject: Subject) -> String {
    let between = if subject == Subject::Device { " > " } else { " @ " };
    let place = if point.place.is_empty() { String::new() } else { format!("{between}{}", point.place) };
    let remarks = point.remarks.iter().filter_map(|remark| remark.first());
    std::iter::once(format!("{}{place}", point.designation)).chain(remarks.cloned()).collect::<Vec<_>>().join("; ")
}
