//! The paper with its margins, its running head and foot; sections onto it.

use std::cell::RefCell;
use std::sync::Arc;

use super::Style;
use super::block::Section;
use super::flow::{Layout, Placed, paginate};
use super::letters::Letters;
use super::strip::{FIRM, Mark, Sense, Strip, THIN};
use crate::drawing::{Drawing, GlyphLine, Raster, Role, Structure};
use crate::length::{Length, Point, Rect, Size};
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

/// How high and how wide a logo stands over the running head, and the white under it.
pub(super) const LOGO: Size = Size::new(Length::um(50_000), Length::um(9_000));
const UNDER_LOGO: Length = Length::um(1_500);

/// What all pages of a document have in common.
#[derive(Clone, Copy)]
pub struct Stationery<'a> {
    /// The paper, upright or lying.
    pub paper: Size,
    /// What the running head says at the left of every page.
    pub head: &'a str,
    /// What the foot says at the left of every page.
    pub foot: &'a str,
    /// What the user's own house puts on every page.
    pub house: &'a House,
    /// Shapes the words.
    pub typesetter: &'a Typesetter,
}

/// What a user's own house puts on every page of a document: logo, a line over the running head, a line under the foot.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct House {
    /// The logo, over the running head at the right.
    pub logo: Option<Arc<Raster>>,
    /// A line over the running head; empty for none.
    pub header: String,
    /// A line under the foot; empty for none.
    pub footer: String,
}

/// A section on its leaves, with what its parts are to a reader.
#[derive(Clone, Debug)]
pub struct Laid {
    /// Its pages, at least one.
    pub leaves: Vec<Leaf>,
    /// Its parts.
    pub structure: Structure,
}

/// A page without its number.
#[derive(Clone, Debug)]
pub struct Leaf {
    head: Arc<str>,
    strips: Vec<Placed>,
}

impl Leaf {
    /// The anchors on it.
    pub(super) fn anchors(&self) -> impl Iterator<Item = &Arc<str>> {
        let marks = self.strips.iter().flat_map(|(_, strip)| &strip.marks);
        marks.filter_map(|mark| if let Mark::Anchor(target, _) = mark { Some(&target.name) } else { None })
    }
}

impl Stationery<'_> {
    /// The width for text.
    #[must_use]
    pub fn width(&self) -> Length {
        self.paper.width - self.left() - SIDE
    }

    /// Lays a section onto as many leaves as it needs, at least one.
    #[must_use]
    pub fn lay(&self, section: &Section) -> Laid {
        self.lay_knowing(section, &|_| None)
    }

    /// The same where the pages of anchors are known; how many leaves there are does not change with it.
    #[must_use]
    pub fn lay_knowing(&self, section: &Section, page_of: &dyn Fn(&str) -> Option<usize>) -> Laid {
        let structure = RefCell::new(Structure::default());
        let whole = structure.borrow_mut().add(Role::Section, None);
        let letters = Letters(self.typesetter);
        let (width, most) = (self.width(), self.height());
        let layout = Layout { letters, width, most, structure: &structure, parent: Some(whole), page_of };
        let head: Arc<str> = section.head.as_str().into();
        let pages = paginate(layout.strips(&section.blocks), most);
        let leaves = pages.into_iter().map(|strips| Leaf { head: Arc::clone(&head), strips }).collect();
        Laid { leaves, structure: structure.into_inner() }
    }

    /// A leaf as page `number` of `of`.
    #[must_use]
    pub fn page(&self, leaf: &Leaf, number: usize, of: usize) -> Page {
        let mut page = Page::plain(Drawing::new(self.paper));
        let mut draw = |strip: &Strip, top: Length| {
            strip.marks.iter().for_each(|mark| mark.draw(&mut page, Point::new(self.left(), top)));
        };
        draw(&self.own_head(), self.top());
        draw(&self.running_head(&leaf.head), self.top() + self.own_head_height());
        for (top, strip) in &leaf.strips {
            draw(strip, self.text_top() + *top);
        }
        draw(&self.running_foot(number, of), self.foot_top());
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
        self.top() + self.own_head_height() + Style::Strong.pitch() + TO_RULE + UNDER_HEAD
    }

    fn foot_top(&self) -> Length {
        let own = if self.house.footer.is_empty() { Length::ZERO } else { Style::Small.pitch() };
        self.paper.height - END - own - Style::Small.pitch() - TO_RULE
    }

    fn height(&self) -> Length {
        self.foot_top() - OVER_FOOT - self.text_top()
    }

    /// The size of the logo, in its own proportions; nothing without one.
    fn logo_size(&self) -> Size {
        let Some(logo) = &self.house.logo else { return Size::default() };
        let (width, height) = (f64::from(logo.width.max(1)), f64::from(logo.height.max(1)));
        let scale = (LOGO.width.to_mm() / width).min(LOGO.height.to_mm() / height);
        Size::new(Length::mm(width * scale), Length::mm(height * scale))
    }

    fn own_head_height(&self) -> Length {
        let line = if self.house.header.is_empty() { Length::ZERO } else { Style::Small.pitch() };
        let logo = if self.house.logo.is_some() { LOGO.height + UNDER_LOGO } else { Length::ZERO };
        line.max(logo)
    }

    /// The user's own line and logo, standing on one level.
    fn own_head(&self) -> Strip {
        let mut strip = Strip::default();
        let size = self.logo_size();
        let level = self.own_head_height();
        if !self.house.header.is_empty() {
            let top = (level - UNDER_LOGO - Style::Small.pitch()).max(Length::ZERO);
            let words = (self.house.header.as_str(), "");
            self.two_ends(&mut strip, Style::Small, words, (top, self.width() - size.width));
        }
        if let Some(logo) = &self.house.logo {
            let corner = Point::new(self.width() - size.width, level - UNDER_LOGO - size.height);
            strip.marks.push(Mark::Raster(Arc::clone(logo), Rect::new(corner, size)));
        }
        strip
    }

    fn running_head(&self, about: &str) -> Strip {
        let mut strip = Strip::default();
        let bottom = self.two_ends(&mut strip, Style::Strong, (self.head, about), (Length::ZERO, self.width()));
        strip.rule(Length::ZERO, bottom + TO_RULE, self.width(), FIRM);
        strip
    }

    fn running_foot(&self, number: usize, of: usize) -> Strip {
        let mut strip = Strip::default();
        strip.rule(Length::ZERO, Length::ZERO, self.width(), THIN);
        let number = format!("page {number} of {of}");
        let bottom = self.two_ends(&mut strip, Style::Small, (self.foot, &number), (TO_RULE, self.width()));
        if !self.house.footer.is_empty() {
            self.two_ends(&mut strip, Style::Small, (&self.house.footer, ""), (bottom, self.width()));
        }
        strip
    }

    /// Words at both ends of a line so wide: the left ones are told whole, the right ones as far as there is room, unless
    /// they are short.
    fn two_ends(
        &self,
        strip: &mut Strip,
        style: Style,
        (left, right): (&str, &str),
        (top, width): (Length, Length),
    ) -> Length {
        let (letters, gap) = (Letters(self.typesetter), Length::um(5_000));
        let room = letters.width(style, left).min(width - gap - letters.width(style, right).min(width / 2));
        let mut put = |line: Arc<GlyphLine>, at: Length| {
            let corner = Point::new(at, top + style.baseline());
            strip.marks.push(Mark::Line(line, style, corner, Sense::none()));
        };
        if let Some(line) = letters.shortened(style, left, room) {
            put(line, Length::ZERO);
        }
        if let Some(line) = letters.shortened(style, right, width - gap - room.max(Length::ZERO)) {
            let at = width - style.width(line.width);
            put(line, at);
        }
        top + style.pitch()
    }
}
