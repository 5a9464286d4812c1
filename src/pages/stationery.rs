//! The paper with its margins, its running head and foot; sections onto it.

use std::sync::Arc;

use super::Style;
use super::block::Section;
use super::flow::{Layout, Placed, paginate};
use super::letters::Letters;
use super::strip::{FIRM, Mark, Strip, THIN};
use crate::drawing::Drawing;
use crate::length::{Length, Point, Size};
use crate::sheets;
use crate::sheets::Page;
use crate::typesetting::Typesetter;

/// White at the edge that is filed, the left of an upright page and the top of a lying one, with room for holes (ISO 838:
/// their middles 12 mm from the edge); and at the other edges.
const FILED: Length = Length::um(19_000);
const SIDE: Length = Length::um(14_000);
const END: Length = Length::um(11_000);

/// From the running head's rule to the text, and from the text to the foot's rule.
const UNDER_HEAD: Length = Length::um(6_000);
const OVER_FOOT: Length = Length::um(3_000);

/// From words to their rule.
const TO_RULE: Length = Length::um(1_200);

/// What all pages of a document have in common.
#[derive(Clone, Copy)]
pub struct Stationery<'a> {
    /// The paper, upright or lying.
    pub paper: Size,
    /// What the running head says at the left of every page.
    pub head: &'a str,
    /// What the foot says at the left of every page.
    pub foot: &'a str,
    /// Shapes the words.
    pub typesetter: &'a Typesetter,
}

/// A page without its number.
#[derive(Clone, Debug)]
pub struct Leaf {
    head: Arc<str>,
    strips: Vec<Placed>,
}

impl Stationery<'_> {
    /// The width for text.
    #[must_use]
    pub fn width(&self) -> Length {
        self.paper.width - self.left() - SIDE
    }

    /// Lays a section onto as many leaves as it needs, at least one.
    #[must_use]
    pub fn lay(&self, section: &Section) -> Vec<Leaf> {
        let layout = Layout { letters: Letters(self.typesetter), width: self.width(), most: self.height() };
        let head: Arc<str> = section.head.as_str().into();
        let pages = paginate(layout.strips(&section.blocks), self.height());
        pages.into_iter().map(|strips| Leaf { head: Arc::clone(&head), strips }).collect()
    }

    /// A leaf as page `number` of `of`.
    #[must_use]
    pub fn page(&self, leaf: &Leaf, number: usize, of: usize) -> Page {
        let mut drawing = Drawing::new(self.paper);
        let mut placed = Vec::new();
        let mut draw = |strip: &Strip, corner: Point| {
            for mark in &strip.marks {
                if let Some((picture, corner)) = mark.draw(&mut drawing, corner) {
                    placed.push(sheets::Placed { corner, turned: false, drawing: picture });
                }
            }
        };
        draw(&self.running_head(&leaf.head), Point::new(self.left(), self.top()));
        for (top, strip) in &leaf.strips {
            draw(strip, Point::new(self.left(), self.text_top() + *top));
        }
        draw(&self.running_foot(number, of), Point::new(self.left(), self.foot_top()));
        let mut page = Page::plain(drawing);
        page.placed = placed;
        page
    }

    fn is_upright(&self) -> bool {
        self.paper.height > self.paper.width
    }

    fn left(&self) -> Length {
        if self.is_upright() { FILED } else { SIDE }
    }

    fn top(&self) -> Length {
        if self.is_upright() { END } else { FILED }
    }

    fn text_top(&self) -> Length {
        self.top() + Style::Strong.pitch() + TO_RULE + UNDER_HEAD
    }

    fn foot_top(&self) -> Length {
        self.paper.height - END - Style::Small.pitch() - TO_RULE
    }

    fn height(&self) -> Length {
        self.foot_top() - OVER_FOOT - self.text_top()
    }

    fn running_head(&self, about: &str) -> Strip {
        let mut strip = Strip::default();
        let bottom = self.two_ends(&mut strip, Style::Strong, (self.head, about), Length::ZERO);
        strip.rule(Length::ZERO, bottom + TO_RULE, self.width(), FIRM);
        strip
    }

    fn running_foot(&self, number: usize, of: usize) -> Strip {
        let mut strip = Strip::default();
        strip.rule(Length::ZERO, Length::ZERO, self.width(), THIN);
        let number = format!("page {number} of {of}");
        self.two_ends(&mut strip, Style::Small, (self.foot, &number), TO_RULE);
        strip
    }

    /// Words at both ends of a line: the left ones are told whole, the right ones as far as there is room, unless they
    /// are short.
    fn two_ends(&self, strip: &mut Strip, style: Style, (left, right): (&str, &str), top: Length) -> Length {
        let (letters, gap) = (Letters(self.typesetter), Length::um(5_000));
        let half = self.width() / 2;
        let room = letters.width(style, left).min(self.width() - gap - letters.width(style, right).min(half));
        if let Some(line) = letters.shortened(style, left, room) {
            strip.marks.push(Mark::Line(line, style, Point::new(Length::ZERO, top + style.baseline())));
        }
        if let Some(line) = letters.shortened(style, right, self.width() - gap - room.max(Length::ZERO)) {
            let at = self.width() - style.width(line.width);
            strip.marks.push(Mark::Line(line, style, Point::new(at, top + style.baseline())));
        }
        top + style.pitch()
    }
}
