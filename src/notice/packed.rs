//! Notices kept in few bytes. Most notices of a survey differ in names alone: what many have in common is kept once for all
//! of them, and of each only its own texts, behind each other in one. A notice that is kept so is made again whole, as often
//! as it is asked for.

use std::sync::Arc;

use super::{Notice, NoticePoint, Said, Subject, Tag};
use crate::survey::value::{Environment, Surface};

/// How many ways of being alike are held against the next notice.
const REMEMBERED: usize = 8;

/// A notice in few bytes.
#[derive(Clone, Debug)]
pub struct Packed {
    like: Arc<Like>,
    /// Its own texts in the order of [`visit`], each behind its length, and its fingerprint if it was asked for.
    texts: Box<str>,
}

/// What notices have in common.
#[derive(Debug, PartialEq)]
struct Like {
    /// A notice without texts of its own: what they all share is in its place.
    hollow: Notice,
    /// Of each thing that it says, whether the words are its own.
    own: Vec<bool>,
}

/// By which names a notice is chosen, sorted and found, and what its place asks of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Brief<'a> {
    /// Stable number.
    pub number: &'a str,
    /// What it is about.
    pub subject: Subject,
    /// Designation of the enclosure or device.
    pub designation: &'a str,
    /// Area of the enclosure, or location of the device.
    pub area: &'a str,
    /// What it must stand up to.
    pub environment: Environment,
    /// What it is fixed on; `None` where nobody says.
    pub surface: Option<Surface>,
}

impl Notice {
    /// What a notice is chosen, sorted and found by.
    #[must_use]
    pub fn brief(&self) -> Brief<'_> {
        Brief {
            number: &self.number,
            subject: self.subject,
            designation: &self.designation,
            area: &self.area,
            environment: self.environment,
            surface: self.surface,
        }
    }
}

impl Packed {
    /// What a notice is chosen, sorted and found by.
    #[must_use]
    pub fn brief(&self) -> Brief<'_> {
        let mut texts = Texts(&self.texts);
        let (number, designation, area) = (texts.take(), texts.take(), texts.take());
        let Notice { subject, environment, surface, .. } = self.like.hollow;
        Brief { number, subject, designation, area, environment, surface }
    }

    /// The notice.
    #[must_use]
    pub fn notice(&self) -> Notice {
        let mut notice = self.like.hollow.clone();
        let mut filling = Filling { texts: Texts(&self.texts), own: self.like.own.iter() };
        visit(&mut notice, &mut filling);
        notice.hashed.put(filling.texts.take());
        notice
    }
}

/// Packs notices one after the other, each held against those before it.
#[derive(Debug, Default)]
pub struct Packing {
    known: Vec<Arc<Like>>,
    /// What was taken out of the last one, for its room.
    emptying: Emptying,
}

impl Packing {
    /// Packs the next notice.
    pub fn pack(&mut self, mut notice: Notice) -> Packed {
        self.emptying.texts.clear();
        self.emptying.own.clear();
        visit(&mut notice, &mut self.emptying);
        self.emptying.text(&mut notice.hashed.take());
        Packed { like: self.like(notice), texts: self.emptying.texts.as_str().into() }
    }

    /// What a notice has in common with others, once its own texts are taken out.
    fn like(&mut self, hollow: Notice) -> Arc<Like> {
        let own = &self.emptying.own;
        if let Some(at) = self.known.iter().rposition(|known| known.own == *own && known.hollow == hollow) {
            let known = self.known.remove(at);
            self.known.push(Arc::clone(&known));
            return known;
        }
        if self.known.len() >= REMEMBERED {
            self.known.remove(0);
        }
        let like = Arc::new(Like { hollow, own: own.clone() });
        self.known.push(Arc::clone(&like));
        like
    }
}

/// What is done with the words of a notice, one after the other.
trait Visitor {
    fn text(&mut self, text: &mut String);
    fn said(&mut self, said: &mut Said);
}

/// Shows the words of a notice to a visitor, those of [`Brief`] first.
fn visit(notice: &mut Notice, visitor: &mut impl Visitor) {
    // Every field is named, so that a further one cannot be forgotten here.
    let Notice {
        number,
        subject: _,
        designation,
        name,
        area,
        position,
        rules: _,
        headline,
        statement,
        cautions,
        points,
        figures,
        closing,
        small_line,
        code_caption,
        code,
        tag,
        reading_distance: _,
        sign_distance: _,
        size: _,
        least: _,
        space: _,
        environment: _,
        surface: _,
        revision: _,
        hashed: _,
    } = notice;
    [number, designation, area, name, position, small_line].into_iter().for_each(|text| visitor.text(text));
    code.iter_mut().for_each(|text| visitor.text(text));
    [headline, statement, closing, code_caption].into_iter().for_each(|said| visitor.said(said));
    cautions.iter_mut().for_each(|said| visitor.said(said));
    for NoticePoint { designation, place, serves, remarks } in points {
        [designation, place, serves].into_iter().for_each(|text| visitor.text(text));
        remarks.iter_mut().for_each(|said| visitor.said(said));
    }
    figures.iter_mut().for_each(|figure| visitor.said(&mut figure.meaning));
    if let Some(Tag { cautions, small_line, reading_distance: _ }) = tag {
        cautions.iter_mut().for_each(|said| visitor.said(said));
        visitor.text(small_line);
    }
}

/// Takes the words that are a notice's own out of it.
#[derive(Debug, Default)]
struct Emptying {
    texts: String,
    own: Vec<bool>,
}

impl Visitor for Emptying {
    fn text(&mut self, text: &mut String) {
        push_length(&mut self.texts, text.len());
        self.texts.push_str(text);
        *text = String::new();
    }

    /// What nobody else holds is its own.
    fn said(&mut self, said: &mut Said) {
        let own = said.own().filter(|texts| !texts.is_empty());
        self.own.push(own.is_some());
        own.into_iter().flatten().for_each(|text| self.text(text));
    }
}

/// Puts them back.
struct Filling<'a> {
    texts: Texts<'a>,
    own: std::slice::Iter<'a, bool>,
}

impl Visitor for Filling<'_> {
    fn text(&mut self, text: &mut String) {
        *text = self.texts.take().to_owned();
    }

    fn said(&mut self, said: &mut Said) {
        if self.own.next() == Some(&true) {
            *said = (0..said.len()).map(|_| self.texts.take().to_owned()).collect();
        }
    }
}

/// Bits of a length in one character.
const BITS: u32 = 5;
/// Set in a character that another one of the same length follows.
const MORE: u8 = 1 << BITS;
/// The character of nothing.
const ZERO: u8 = b'@';

/// A length as characters from `@` on, five bits each, the lowest first.
fn push_length(texts: &mut String, mut length: usize) {
    loop {
        let digit = u8::try_from(length % usize::from(MORE)).unwrap_or_default();
        length >>= BITS;
        let more = if length > 0 { MORE } else { 0 };
        texts.push(char::from(ZERO + digit + more));
        if length == 0 {
            return;
        }
    }
}

/// Texts behind each other, each behind its length.
struct Texts<'a>(&'a str);

impl<'a> Texts<'a> {
    /// The next text; empty behind the last.
    fn take(&mut self) -> &'a str {
        let (mut length, mut shift, mut digits) = (0_usize, 0, 0);
        for byte in self.0.bytes() {
            let digit = byte.saturating_sub(ZERO);
            length |= usize::from(digit % MORE) << shift;
            shift += BITS;
            digits += 1;
            if digit < MORE {
                break;
            }
        }
        let behind = self.0.get(digits..).unwrap_or_default();
        let (text, rest) = behind.split_at_checked(length).unwrap_or_default();
        self.0 = rest;
        text
    }
}

#[cfg(test)]
mod tests;
