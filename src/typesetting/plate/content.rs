//! A notice's words, each shaped once, in the groups in which a plate shows them.

use std::borrow::Cow;
use std::sync::Arc;

use crate::drawing::{Face, GlyphLine};
use crate::notice::{Notice, NoticeFigure, NoticePoint, Said, Subject};
use crate::typesetting::Misfit;
use crate::typesetting::breaking::Paragraph;
use crate::typesetting::code::{Code, Make, level_for};
use crate::typesetting::shaping;

/// Everything that a plate shows.
pub(in crate::typesetting) struct Content {
    pub(super) subject: Subject,
    /// What to do, one paragraph a language.
    pub(super) headline: Vec<Paragraph>,
    /// Why, with the designation.
    pub(super) statement: Vec<Paragraph>,
    pub(super) name: Option<Paragraph>,
    pub(super) points: Vec<PointText>,
    pub(super) figures: Vec<FigureText>,
    /// Sentence by sentence, and in each language by language.
    pub(super) cautions: Vec<Vec<Paragraph>>,
    pub(super) closing: Vec<Paragraph>,
    pub(super) caption: Vec<Paragraph>,
    pub(super) small_line: Option<Paragraph>,
    pub(super) code: Option<(Code, String)>,
}

/// One row of the list.
pub(super) struct PointText {
    /// White on its disc; a lone point and a device's rows have none.
    pub(super) number: Option<Arc<GlyphLine>>,
    pub(super) designation: Arc<GlyphLine>,
    pub(super) place: Option<Paragraph>,
    pub(super) serves: Option<Arc<GlyphLine>>,
    pub(super) remarks: Vec<Paragraph>,
}

/// A voltage and what it is.
pub(super) struct FigureText {
    pub(super) figure: Arc<GlyphLine>,
    pub(super) meaning: Vec<Paragraph>,
}

impl Content {
    /// The content of a notice, its code made so.
    pub(in crate::typesetting) fn shaped(notice: &Notice, make: Make) -> Result<Self, Misfit> {
        let maker = Maker::of(notice);
        let cautions = notice.cautions.iter().map(|caution| maker.said(Face::Medium, caution));
        Ok(Self {
            subject: notice.subject,
            headline: maker.said(Face::Bold, &notice.headline)?,
            statement: maker.said(Face::Medium, &notice.statement)?,
            name: maker.paragraph(Face::Regular, &notice.name)?,
            points: maker.points(notice)?,
            figures: notice.figures.iter().map(|figure| maker.figure(figure)).collect::<Result<_, _>>()?,
            cautions: cautions.collect::<Result<_, _>>()?,
            closing: maker.said(Face::Bold, &notice.closing)?,
            caption: if notice.code.is_some() { maker.said(Face::Regular, &notice.code_caption)? } else { Vec::new() },
            small_line: maker.parts(&notice.small_line)?,
            code: notice.code.as_deref().map(|payload| code(payload, notice, make)).transpose()?,
        })
    }

    /// Side of the code without its quiet zone, in modules.
    pub(super) fn code_side(&self) -> Option<u16> {
        self.code.as_ref().map(|(code, _)| code.side)
    }

    /// The same words with a blank code of so many modules, or with none: to find out whether the code is what does not fit.
    pub(super) fn set_code_side(&mut self, side: Option<u16>) {
        self.code = side.map(|side| (Code { side, rows: Vec::new() }, String::new()));
    }
}

pub(super) fn code(payload: &str, notice: &Notice, make: Make) -> Result<(Code, String), Misfit> {
    let code = make(payload, level_for(&notice.environment));
    let code = code.map_err(|_| Misfit::CodeTooLong { characters: payload.chars().count() })?;
    Ok((code, payload.to_owned()))
}

pub(super) struct Maker {
    /// A designation that no line may be broken in.
    keep: Arc<str>,
}

impl Maker {
    pub(super) fn of(notice: &Notice) -> Self {
        Self { keep: notice.designation.as_str().into() }
    }

    pub(super) fn line(&self, face: Face, text: &str) -> Result<Arc<GlyphLine>, Misfit> {
        shaping::line(face, &on_one_line(text))
    }

    /// Nothing for an empty text.
    pub(super) fn paragraph(&self, face: Face, text: &str) -> Result<Option<Paragraph>, Misfit> {
        if text.trim().is_empty() {
            return Ok(None);
        }
        Ok(Some(Paragraph::new(self.line(face, text)?, &self.keep)))
    }

    /// The small line, which ends its lines between its parts; nothing for an empty text.
    pub(super) fn parts(&self, text: &str) -> Result<Option<Paragraph>, Misfit> {
        if text.trim().is_empty() {
            return Ok(None);
        }
        Ok(Some(Paragraph::of_parts(self.line(Face::Regular, text)?, &self.keep)))
    }

    /// One paragraph a language; a language that says the same as an earlier one says nothing new.
    pub(super) fn said(&self, face: Face, said: &Said) -> Result<Vec<Paragraph>, Misfit> {
        let mut paragraphs = Vec::with_capacity(said.len());
        for (language, text) in said.iter().enumerate() {
            if said.iter().take(language).any(|earlier| earlier == text) {
                continue;
            }
            let face = if language == 0 { face } else { Face::Medium.min(face) };
            paragraphs.extend(self.paragraph(face, text)?);
        }
        Ok(paragraphs)
    }

    fn points(&self, notice: &Notice) -> Result<Vec<PointText>, Misfit> {
        let numbered = notice.subject == Subject::Enclosure && notice.points.len() > 1;
        let points = notice.points.iter().enumerate();
        points.map(|(index, point)| self.point(numbered.then_some(index + 1), point)).collect()
    }

    fn point(&self, number: Option<usize>, point: &NoticePoint) -> Result<PointText, Misfit> {
        let serves = (!point.serves.trim().is_empty()).then(|| self.line(Face::Regular, &point.serves));
        let mut remarks = Vec::new();
        for remark in &point.remarks {
            remarks.extend(self.said(Face::Medium, remark)?);
        }
        Ok(PointText {
            number: number.map(|number| self.line(Face::Bold, &number.to_string())).transpose()?,
            designation: self.line(Face::Bold, &point.designation)?,
            place: self.paragraph(Face::Medium, &point.place)?,
            serves: serves.transpose()?,
            remarks,
        })
    }

    fn figure(&self, figure: &NoticeFigure) -> Result<FigureText, Misfit> {
        Ok(FigureText {
            figure: self.line(Face::Bold, &figure.figure)?,
            meaning: self.said(Face::Medium, &figure.meaning)?,
        })
    }
}

/// A line feed or tab inside a cell is a space on a notice.
fn on_one_line(text: &str) -> Cow<'_, str> {
    let text = text.trim();
    if text.bytes().all(|byte| matches!(byte, b' '..=b'~')) {
        return Cow::Borrowed(text);
    }
    if text.contains(|character: char| character.is_control() && character.is_whitespace()) {
        return Cow::Owned(text.split(char::is_control).filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" "));
    }
    Cow::Borrowed(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cell_of_several_lines_is_one_line() {
        for (cell, line) in [
            (" Switchroom 0, board 0 ", "Switchroom 0, board 0"),
            ("Room 1\r\n\r\nBay 2", "Room 1 Bay 2"),
            ("Room\t1", "Room 1"),
            ("R\u{E9}gie\n1", "R\u{E9}gie 1"),
            ("R\u{E9}gie  1", "R\u{E9}gie  1"),
            ("Room~1", "Room~1"),
            ("\n", ""),
        ] {
            assert_eq!(on_one_line(cell), line, "{cell:?}");
        }
    }
}
