//! A notice and a size into a finished drawing: fonts, shaping, line breaking, fitting, the sign and the code.

mod breaking;
pub mod code;
pub mod fonts;
mod misfit;
mod needed;
mod plate;
mod shaping;
pub mod sign;

use std::sync::Arc;

use crate::drawing::{Drawing, Face, GlyphLine};
use crate::length::{Dots, ISO_216, Length, Size};
use crate::notice::{Notice, Subject};
use code::Code;
use plate::words::{CLOSE, OPEN, Words};
use plate::{Content, Fitted, Floors, Likeness, Plate};

pub use breaking::pieces;
pub use misfit::{Misfit, to_shorten};
pub use needed::Needed;

/// How small the capitals of warning, places and voltages may be, as a share of the reading distance.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LetterFloor {
    /// One two-hundredth of the distance (the published advice of 1/200).
    #[default]
    TwoHundredth,
    /// Sixteen minutes of arc, about distance / 215 (the ergonomic minimum of ISO 9241-3).
    SixteenMinutes,
}

/// How a notice is set, without its picture: on which size, how large.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// The size of the plate.
    pub size: Size,
    /// Height of the capitals of the smallest text that must be read from the reading distance.
    pub letter_height: Length,
    /// Height of the warning sign; `None` where the notice carries none.
    pub sign_height: Option<Length>,
    /// Side of one module of the code; `None` without a code.
    pub code_module: Option<Length>,
    /// Whether it is a tag, which says `Notice::on_a_tag` and carries no code.
    pub is_tag: bool,
    /// The dots that it is printed in, if it is.
    dots: Option<Dots>,
    floor: LetterFloor,
    arrangement: Arrangement,
}

/// Where everything stands on a plate: all that a picture is drawn from beside the words.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Arrangement {
    Plate(Fitted),
    /// A tag, and whether it shows what the circuits serve.
    Tag {
        serves: bool,
    },
    /// A plate of words, as open as this.
    Words(f64),
}

/// A notice once set, with its picture.
#[derive(Clone, Debug, PartialEq)]
pub struct SetNotice {
    /// How it is set.
    pub setting: Setting,
    /// The finished picture, as large as the notice.
    pub drawing: Arc<Drawing>,
}

impl Setting {
    /// The notice as it is drawn: what a plate or tag leaves away for want of room is not there.
    #[must_use]
    pub fn printed(&self, notice: &Notice) -> Notice {
        let mut printed = notice.on_a_tag().filter(|_| self.is_tag).unwrap_or_else(|| notice.clone());
        let (serves, name) = match self.arrangement {
            Arrangement::Plate(fitted) => fitted.shows(),
            Arrangement::Tag { serves } => (serves, false),
            // A standing notice has neither.
            Arrangement::Words(_) => (true, true),
        };
        if !serves {
            printed.points.iter_mut().for_each(|point| point.serves.clear());
        }
        if !name {
            printed.name.clear();
        }
        printed
    }

    /// What the drawing says of its notice, in the order of reading.
    #[must_use]
    pub fn lines(&self, notice: &Notice) -> Vec<String> {
        self.printed(notice).lines()
    }
}

/// Sets notices. May be shared between threads, and a new one costs nothing: what is worth keeping, each thread keeps.
pub struct Typesetter;

impl Default for Typesetter {
    fn default() -> Self {
        Self::new()
    }
}

impl Typesetter {
    /// A typesetter; all are alike.
    #[must_use]
    pub fn new() -> Self {
        Self
    }

    /// One line of text, kerned; its width is in font units, `fonts::heights(face).units_per_em` to the em.
    ///
    /// # Errors
    /// [`Misfit::MissingGlyph`] for the first character that the face does not have.
    pub fn line(&self, face: Face, text: &str) -> Result<Arc<GlyphLine>, Misfit> {
        shaping::line(face, text)
    }

    /// Sets one notice at its own size or at the first of `sizes` (smallest first) that is large enough and not larger than its
    /// space, at the largest letters that fit. A size that was not asked for and would be crowded is taken only if no larger one
    /// is at hand.
    ///
    /// # Errors
    /// A [`Misfit`] that says what is in the way and what would fit.
    pub fn set(&self, notice: &Notice, sizes: &[Size], floor: LetterFloor) -> Result<SetNotice, Misfit> {
        self.set_on(notice, sizes, floor, |_| None)
    }

    /// The same, where a size may be printed in dots: `dots` says in which. The modules of its code are then whole dots,
    /// never below their least size, and code, rules, discs and baselines lie on the dots.
    ///
    /// # Errors
    /// A [`Misfit`] that says what is in the way and what would fit.
    pub fn set_on(
        &self,
        notice: &Notice,
        sizes: &[Size],
        floor: LetterFloor,
        dots: impl Fn(Size) -> Option<Dots>,
    ) -> Result<SetNotice, Misfit> {
        let setting = self.fit_on(notice, sizes, floor, dots)?;
        Ok(SetNotice { setting, drawing: self.draw(notice, &setting) })
    }

    /// How a notice is set, found without drawing it: see [`Typesetter::set_on`].
    ///
    /// # Errors
    /// A [`Misfit`] that says what is in the way and what would fit.
    pub fn fit_on(
        &self,
        notice: &Notice,
        sizes: &[Size],
        floor: LetterFloor,
        dots: impl Fn(Size) -> Option<Dots>,
    ) -> Result<Setting, Misfit> {
        if notice.subject == Subject::Standing {
            return fit_words(notice, sizes, floor, dots);
        }
        let content = Content::shaped(notice, Code::blank)?;
        let likeness = Likeness::of(&content, &notice.designation);
        let floors = Floors::of(notice, floor);
        let mut tried = notice.size.or(notice.space).unwrap_or_default();
        let mut crowded = None;
        for size in candidates(notice, sizes) {
            tried = size;
            let on = (size, dots(size));
            if plate::tag::is_tag(notice, size) {
                match plate::tag::fit(notice, on, floor)? {
                    Some(setting) => return Ok(setting),
                    None => continue,
                }
            }
            let plate = Plate::new(&content, on, floors);
            let Some(fitted) = likeness.fitted(on, floors, || plate.fit()) else { continue };
            if fitted.is_crowded() && notice.size != Some(size) {
                crowded = crowded.or(Some((plate, fitted)));
            } else {
                return Ok(plate.setting(fitted, floor));
            }
        }
        match crowded {
            Some((plate, fitted)) => Ok(plate.setting(fitted, floor)),
            None => Err(misfit(content, floors, (notice, tried), dots)),
        }
    }

    /// The picture of a notice that is set so.
    ///
    /// # Panics
    /// If it is another notice than the one that was fitted: better no picture than one that says something else.
    #[must_use]
    pub fn draw(&self, notice: &Notice, setting: &Setting) -> Arc<Drawing> {
        match drawn(notice, setting) {
            Ok(Some(drawing)) => Arc::new(drawing),
            Ok(None) | Err(_) => unreachable!("notice `{}` is drawn as another one was fitted", notice.number),
        }
    }
}

/// The picture of a notice that is set so; `None` if it does not fit so.
fn drawn(notice: &Notice, setting: &Setting) -> Result<Option<Drawing>, Misfit> {
    let on = (setting.size, setting.dots);
    match setting.arrangement {
        Arrangement::Plate(fitted) => {
            let content = Content::shaped(notice, Code::of)?;
            Plate::new(&content, on, Floors::of(notice, setting.floor)).draw(fitted)
        }
        Arrangement::Tag { .. } => plate::tag::draw(notice, on, setting.floor),
        Arrangement::Words(open) => Words::shaped(notice, setting.floor, Code::of)?.draw(on, open),
    }
}

/// Fits a plate of words at its own size or the first that is large enough, with comfortable white space unless that size
/// is wished for or no larger one is at hand.
fn fit_words(
    notice: &Notice,
    sizes: &[Size],
    floor: LetterFloor,
    dots: impl Fn(Size) -> Option<Dots>,
) -> Result<Setting, Misfit> {
    let mut words = Words::shaped(notice, floor, Code::blank)?;
    let (mut tried, mut crowded) = (notice.size.or(sizes.last().copied()).unwrap_or_default(), None);
    for size in candidates(notice, sizes).filter(|size| notice.least.allows(*size)) {
        tried = size;
        let on = (size, dots(size));
        if let Some(setting) = words.setting(on, OPEN, floor) {
            return Ok(setting);
        }
        match words.setting(on, CLOSE, floor) {
            Some(setting) if notice.size == Some(size) => return Ok(setting),
            close => crowded = crowded.or(close),
        }
    }
    if let Some(setting) = crowded {
        return Ok(setting);
    }
    if !misfit::is_beyond_space(notice)
        && let Some((needed, room)) = words.code_and_room((tried, dots(tried)))
    {
        return Err(Misfit::CodeTooLarge { needed, room });
    }
    let fits = |size: &Size| notice.least.allows(*size) && words.fits((*size, dots(*size)));
    let would_fit = ISO_216.into_iter().map(|(_, size)| size).skip(1).find(fits);
    Err(Misfit::TooLong { tried, would_fit }.beyond_space(notice))
}

/// The sizes to try in order: the one wished for, then the larger ones that are at hand; none beyond the space.
fn candidates<'a>(notice: &'a Notice, sizes: &'a [Size]) -> impl Iterator<Item = Size> + 'a {
    let area = |size: Size| i64::from(size.width.to_um()) * i64::from(size.height.to_um());
    let larger = move |size: &Size| notice.size.is_none_or(|wished| area(*size) > area(wished));
    let others = sizes.iter().copied().filter(larger);
    notice.size.into_iter().chain(others).filter(|size| notice.space.is_none_or(|space| size.fits_in(space)))
}

/// What is in the way: the code alone, or the words; neither where nothing was tried.
fn misfit(
    mut content: Content,
    floors: Floors,
    (notice, tried): (&Notice, Size),
    dots: impl Fn(Size) -> Option<Dots>,
) -> Misfit {
    if !misfit::is_beyond_space(notice)
        && let Some((needed, room)) = plate::code_and_room(&mut content, (tried, dots(tried)), floors)
    {
        return Misfit::CodeTooLarge { needed, room };
    }
    // Nothing smaller than A8 is a notice, and trying costs time.
    let series = ISO_216.into_iter().map(|(_, size)| size).skip(1);
    let would_fit = series.into_iter().find(|size| Plate::new(&content, (*size, dots(*size)), floors).fits());
    Misfit::TooLong { tried, would_fit }.beyond_space(notice)
}
