//! What differs between two versions of one notice, part by part, and how dangerous each difference is.

use super::fit::unfit;
use super::points::{Pairs, Point, name, points};
use super::speech::Speech;
use super::voltages::{Covered, covered};
use super::{Danger, Version};
use crate::notice::Subject;
use crate::records::Kind;

/// What kind of difference it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum What {
    /// A point is named that was not; its place is new.
    PointAdded,
    /// A point is somewhere else.
    PointMoved,
    /// Its place is said no more, and it is where it was: it was declared that nobody can mistake it.
    PlaceLeftOut,
    /// Its place is said now, and it is where it was.
    PlaceSaid,
    /// What is at a place has another designation.
    PointRenamed,
    /// A point is named no more.
    PointGone,
    /// The points stand in another order.
    PointOrder,
    /// A voltage is higher.
    VoltageHigher,
    /// A voltage is shown of a kind that was not.
    VoltageAdded,
    /// A voltage is lower.
    VoltageLower,
    /// A voltage is shown no more.
    VoltageGone,
    /// A point has something more to be read with it.
    RemarkAdded,
    /// A point has something less to be read with it.
    RemarkGone,
    /// A caution was added, or an old one says something else.
    CautionAdded,
    /// A caution is gone.
    CautionGone,
    /// What to do first: the headline.
    Headline,
    /// Why the notice is there.
    Reason,
    /// The last line.
    Closing,
    /// What it is, in words.
    Name,
    /// What a point serves.
    Serves,
    /// Dates of a standing notice.
    Date,
    /// What the code carries.
    Code,
    /// How many languages it speaks.
    Languages,
    /// It is about something else under the same number.
    Subject,
    /// It hangs where it belongs, and bears the number of another position.
    Number,
    /// Where it is fixed.
    Place,
    /// Its letters are too small to be read from there.
    Letters,
    /// Its sign is too small to be seen from there.
    Sign,
    /// What it is made of is not made for the place.
    Material,
    /// The order of its lines, the site, the size asked for, the caption of the code: what is not kept part by part.
    Rest,
}

impl What {
    /// Its name in reports.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::PointAdded => "point added",
            Self::PointMoved => "point moved",
            Self::PlaceLeftOut => "place no longer said",
            Self::PlaceSaid => "place said now",
            Self::PointRenamed => "point renamed",
            Self::PointGone => "point gone",
            Self::PointOrder => "order of points",
            Self::VoltageHigher => "voltage higher",
            Self::VoltageAdded => "voltage added",
            Self::VoltageLower => "voltage lower",
            Self::VoltageGone => "voltage gone",
            Self::RemarkAdded => "remark added",
            Self::RemarkGone => "remark gone",
            Self::CautionAdded => "caution added",
            Self::CautionGone => "caution gone",
            Self::Headline => "headline",
            Self::Reason => "reason",
            Self::Closing => "last line",
            Self::Name => "name",
            Self::Serves => "what a point serves",
            Self::Date => "date",
            Self::Code => "code",
            Self::Languages => "languages",
            Self::Subject => "what it is about",
            Self::Number => "number",
            Self::Place => "place",
            Self::Letters => "height of letters",
            Self::Sign => "height of the sign",
            Self::Material => "material at its place",
            Self::Rest => "order of lines, site, size or caption",
        }
    }

    /// Whether what the notice says is another matter.
    #[must_use]
    pub const fn is_of_fitness(self) -> bool {
        matches!(self, Self::Letters | Self::Sign | Self::Material)
    }

    /// Its name on a notice about a subject: a device's notice lists circuits.
    #[must_use]
    pub const fn on(self, subject: Subject) -> &'static str {
        match (self, subject) {
            (Self::PointAdded, Subject::Device) => "circuit added",
            (Self::PointMoved, Subject::Device) => "circuit in another enclosure",
            (Self::PointRenamed, Subject::Device) => "circuit renamed",
            (Self::PointGone, Subject::Device) => "circuit gone",
            (Self::PointOrder, Subject::Device) => "order of circuits",
            (Self::Serves, Subject::Device) => "what a circuit serves",
            (what, _) => what.name(),
        }
    }
}

/// One difference.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// Which.
    pub what: What,
    /// The point that it is about; of a renamed one its place. Empty where it is about no single point.
    pub at: String,
    /// How it was; empty for nothing.
    pub old: String,
    /// How it is; empty for nothing.
    pub new: String,
    /// What it does to a person who trusts the old version.
    pub danger: Danger,
}

impl Difference {
    /// `Q7: Switchroom 1 -> Switchroom 2`, `Q12, Lobby`
    #[must_use]
    pub fn in_words(&self) -> String {
        let named = |text: &str| if text.is_empty() { "no place named".to_owned() } else { text.to_owned() };
        let turned = |old: &str, new: &str| match (old, new) {
            ("", "") => String::new(),
            (one, "") | ("", one) => one.to_owned(),
            (old, new) => format!("{old} -> {new}"),
        };
        let is_at = matches!(self.what, What::PointAdded | What::PointGone);
        let words = turned(&self.old, &self.new);
        if self.what == What::PointMoved {
            format!("{}: {} -> {}", self.at, named(&self.old), named(&self.new))
        } else if self.at.is_empty() {
            words
        } else if is_at && words.is_empty() {
            self.at.clone()
        } else {
            format!("{}{} {words}", self.at, if is_at { "," } else { ":" })
        }
    }
}

/// What differs between an old and a new version of a notice, the most dangerous first; nothing only if both say the same
/// by their fingerprints, belong at the same place, and nothing known speaks against the old copy there.
#[must_use]
pub fn differences(old: &Version<'_>, new: &Version<'_>) -> Vec<Difference> {
    let mut held = Held { old, new, speech: Speech::of(&old.says, &new.says), found: Vec::new() };
    if old.number != new.number {
        held.add(What::Number, "", (old.number, new.number), Danger::OtherWords);
    }
    if !old.says_the_same(new) {
        held.subject();
        held.points();
        held.figures();
        held.cautions();
        held.frame();
        held.singles();
        if held.found.is_empty() {
            held.add(What::Rest, "", ("", ""), Danger::OtherWords);
        }
    }
    if !old.is_at_the_place_of(new) {
        held.add(What::Place, "", (&old.place(), &new.place()), Danger::FixedElsewhere);
    }
    for (what, is, needed) in unfit(old, new) {
        held.add(what, "", (&is, &needed), Danger::NotFit);
    }
    held.found.sort_by_key(|difference| difference.danger);
    held.found
}

/// Two versions held against each other.
struct Held<'a> {
    old: &'a Version<'a>,
    new: &'a Version<'a>,
    speech: Speech,
    found: Vec<Difference>,
}

impl<'a> Held<'a> {
    fn add(&mut self, what: What, at: &str, (old, new): (&str, &str), danger: Danger) {
        let (at, old, new) = (at.to_owned(), old.to_owned(), new.to_owned());
        self.found.push(Difference { what, at, old, new, danger });
    }

    /// Of two subjects the one that more depends on.
    fn is_on_device(&self) -> bool {
        self.old.subject == Subject::Device && self.new.subject == Subject::Device
    }

    fn is_standing(&self) -> bool {
        self.old.subject == Subject::Standing && self.new.subject == Subject::Standing
    }

    fn subject(&mut self) {
        let about = |version: &Version<'_>| {
            let kind = match version.subject {
                Subject::Enclosure => "enclosure",
                Subject::Device => "isolator",
                Subject::Standing => "standing notice",
            };
            format!("{kind} {}", version.designation)
        };
        let (old, new) = (about(self.old), about(self.new));
        if old != new {
            self.add(What::Subject, "", (&old, &new), Danger::CannotBeJudged);
        }
    }

    fn points(&mut self) {
        let (old, new) = (points(&self.old.says), points(&self.new.says));
        let pairs = Pairs::of(&old, &new);
        let on_device = self.is_on_device();
        let lost = if on_device { Danger::DisconnectsLess } else { Danger::PointLacking };
        let (added, gone) = if on_device {
            (Danger::OtherWords, Danger::DisconnectsLess)
        } else {
            (Danger::PointLacking, Danger::PointGone)
        };
        let at = |list: &[Point<'a>], place: usize| list.get(place).cloned().unwrap_or_default();
        for point in pairs.added.iter().map(|&place| at(&new, place)) {
            self.add(What::PointAdded, point.designation, ("", point.place), added);
        }
        for (old, new) in pairs.moved.iter().map(|&(one, other)| (at(&old, one), at(&new, other))) {
            let (what, danger) = match (old.place, new.place) {
                (place, "") if self.new.has_device(old.designation, place) => (What::PlaceLeftOut, Danger::OtherWords),
                ("", place) if self.old.has_device(old.designation, place) => (What::PlaceSaid, Danger::CautionLacking),
                _ => (What::PointMoved, lost),
            };
            self.add(what, old.designation, (old.place, new.place), danger);
        }
        for (old, new) in pairs.renamed.iter().map(|&(one, other)| (at(&old, one), at(&new, other))) {
            self.add(What::PointRenamed, old.place, (old.designation, new.designation), lost);
        }
        for point in pairs.gone.iter().map(|&place| at(&old, place)) {
            self.add(What::PointGone, point.designation, (point.place, ""), gone);
        }
        let paired = pairs.kept.iter().chain(&pairs.moved).chain(&pairs.renamed);
        paired.for_each(|&(one, other)| self.beside_point(&at(&old, one), &at(&new, other)));
        if pairs.is_reordered() {
            // That an order must be kept is said in a caution, in whatever language: without any, there is none to keep.
            let may_matter = !on_device && self.new.says.of_kind(Kind::Heed).next().is_some();
            let danger = if may_matter { Danger::CautionLacking } else { Danger::OtherWords };
            let order =
                |points: &[Point<'_>]| points.iter().map(|point| point.designation).collect::<Vec<_>>().join(", ");
            self.add(What::PointOrder, "", (&order(&old), &order(&new)), danger);
        }
    }

    /// What stands with one point: a remark that was moved to another point is missing at this one.
    fn beside_point(&mut self, old: &Point<'_>, new: &Point<'_>) {
        let lacking = if self.is_on_device() { Danger::DisconnectsLess } else { Danger::CautionLacking };
        for text in self.speech.lacking(&old.with, &new.with) {
            self.add(What::RemarkAdded, new.designation, ("", text), lacking);
        }
        for text in self.speech.reversed().lacking(&new.with, &old.with) {
            self.add(What::RemarkGone, new.designation, (text, ""), Danger::OtherWords);
        }
        if old.serves != new.serves {
            let was = if old.is_left_off { "" } else { old.serves };
            self.add(What::Serves, new.designation, (was, new.serves), Danger::OtherWords);
        }
    }

    fn figures(&mut self) {
        let shown = |version: &'a Version<'a>| version.says.of_kind(Kind::Shows).collect::<Vec<_>>();
        let (old, new) = (shown(self.old), shown(self.new));
        if self.is_standing() {
            self.come_and_gone(Kind::Shows, What::Date, Danger::OtherWords);
            return;
        }
        for (text, covered) in self.speech.covered(&old, &new) {
            let (what, before, danger) = match covered {
                Covered::Same => continue,
                Covered::Enough(before) => (What::VoltageLower, before, Danger::OtherWords),
                Covered::TooLow(before) => (What::VoltageHigher, before, Danger::VoltageTooLow),
                Covered::No => (What::VoltageAdded, "", Danger::VoltageTooLow),
            };
            self.add(what, "", (before, text), danger);
        }
        // With no voltage left, none is known: what the old notice shows may be too low. Else another one stands for it.
        let danger = if new.is_empty() { Danger::VoltageTooLow } else { Danger::OtherWords };
        for (text, _) in self.speech.reversed().covered(&new, &old).into_iter().filter(|(_, c)| *c == Covered::No) {
            if covered(text, &new) == Covered::No {
                self.add(What::VoltageGone, "", (text, ""), danger);
            }
        }
    }

    fn cautions(&mut self) {
        let (added, gone) = self.changed(Kind::Heed);
        let lacking = if self.is_standing() { Danger::OtherWords } else { Danger::CautionLacking };
        added.into_iter().for_each(|text| self.add(What::CautionAdded, "", ("", text), lacking));
        gone.into_iter().for_each(|text| self.add(What::CautionGone, "", (text, ""), Danger::OtherWords));
    }

    /// Headline, reason and last line. On an enclosure they say what stays live or cannot be isolated, in words that nobody
    /// weighs here: what is new among them is taken for a caution. That a headline counts other points is not.
    fn frame(&mut self) {
        let is_new = |kind: Kind, held: &Self| !held.changed(kind).0.is_empty();
        let weighs = !self.is_on_device() && !self.is_standing();
        let counts = points(&self.old.says).len() != points(&self.new.says).len();
        let only_counts = counts && !is_new(Kind::Why, self) && !is_new(Kind::Last, self);
        for (kind, what) in [(Kind::Do, What::Headline), (Kind::Why, What::Reason), (Kind::Last, What::Closing)] {
            let is_harmless = !weighs || !is_new(kind, self) || (kind == Kind::Do && only_counts);
            self.come_and_gone(kind, what, if is_harmless { Danger::OtherWords } else { Danger::CautionLacking });
        }
    }

    /// What is said once, whatever the languages.
    fn singles(&mut self) {
        let code = |version: &'a Version<'a>| version.says.of_kind(Kind::Code).next().unwrap_or_default();
        let names = (name(&self.old.says).0, name(&self.new.says).0);
        for (what, (old, new)) in [(What::Name, names), (What::Code, (code(self.old), code(self.new)))] {
            if old != new {
                self.add(what, "", (old, new), Danger::OtherWords);
            }
        }
        let (old, new) = self.speech.languages();
        if old != new && !self.is_standing() {
            self.add(What::Languages, "", (&old.to_string(), &new.to_string()), Danger::OtherWords);
        }
    }

    /// The texts of a kind that the new version alone has, and those that the old one alone has.
    fn changed(&self, kind: Kind) -> (Vec<&'a str>, Vec<&'a str>) {
        let texts = |version: &'a Version<'a>| version.says.of_kind(kind).collect::<Vec<_>>();
        let (old, new) = (texts(self.old), texts(self.new));
        (self.speech.lacking(&old, &new), self.speech.reversed().lacking(&new, &old))
    }

    /// The texts of a kind that changed, old beside new as far as there are both.
    fn come_and_gone(&mut self, kind: Kind, what: What, danger: Danger) {
        let (added, gone) = self.changed(kind);
        for place in 0..added.len().max(gone.len()) {
            let text = |texts: &[&'a str]| texts.get(place).copied().unwrap_or_default();
            self.add(what, "", (text(&gone), text(&added)), danger);
        }
    }
}
