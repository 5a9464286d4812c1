//! Whether a copy that says what it should can still be read from where a person stands, and is made for its place.

use std::collections::{BTreeSet, HashMap};
use std::sync::Arc;

use super::points::{name, points};
use super::{Version, What};
use crate::length::{Length, Size};
use crate::material::{Materials, Place, Process};
use crate::notice::{Notice, Subject};
use crate::records::Print;
use crate::rules::DeviceDecision;
use crate::typesetting::{LetterFloor, Misfit, Needed, Typesetter};
use crate::wording::one_line;

/// By what it is judged whether copies are fit.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Measure {
    /// How small letters may be.
    pub floor: LetterFloor,
    /// The materials of the run.
    pub materials: Arc<Materials>,
    /// The isolators of the survey, those that need no notice too.
    pub devices: Arc<Devices>,
    /// The sizes on which notices are printed, smallest first; none where nobody says.
    pub sizes: Arc<Sizes>,
}

/// The sizes at hand for notices on enclosures, on isolators and standing ones.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sizes {
    /// On enclosures.
    pub enclosures: Vec<Size>,
    /// On isolators.
    pub devices: Vec<Size>,
    /// Standing ones.
    pub standing: Vec<Size>,
}

impl Sizes {
    fn of(&self, subject: Subject) -> &[Size] {
        match subject {
            Subject::Enclosure => &self.enclosures,
            Subject::Device => &self.devices,
            Subject::Standing => &self.standing,
        }
    }
}

/// Isolators by designation and place, each with the circuits that it disconnects, by enclosure.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Devices(HashMap<String, BTreeSet<(String, String)>>);

impl Devices {
    /// Those of a survey.
    #[must_use]
    pub fn of(decisions: &[DeviceDecision]) -> Self {
        let of_one = |device: &DeviceDecision| {
            let circuits = device.disconnects.iter().map(|one| (one_line(&one.circuit), one_line(&one.enclosure)));
            let circuits = circuits.map(|(circuit, enclosure)| (circuit.into_owned(), enclosure.into_owned()));
            (key(&one_line(&device.device), &one_line(&device.location)), circuits.collect())
        };
        Self(decisions.iter().map(of_one).collect())
    }

    /// Whether there is one of this designation at this place.
    pub(super) fn has(&self, designation: &str, place: &str) -> bool {
        self.0.contains_key(&key(designation, place))
    }

    /// Whether there is one that disconnects at least these circuits.
    pub(super) fn disconnects<'p>(
        &self,
        (designation, place): (&str, &str),
        mut circuits: impl Iterator<Item = (&'p str, &'p str)>,
    ) -> bool {
        let Some(all) = self.0.get(&key(designation, place)) else { return false };
        circuits.all(|(circuit, enclosure)| all.contains(&(circuit.to_owned(), enclosure.to_owned())))
    }
}

/// No designation holds a line break.
fn key(designation: &str, place: &str) -> String {
    format!("{designation}\n{place}")
}

/// What a survey tells of a notice beside its words: what its place asks of its copies, and which isolators there are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Needs<'a> {
    notice: &'a Notice,
    measure: Measure,
}

/// Something in which a copy is not fit: what, how it is, what is needed.
pub(super) type Unfit = (What, String, String);

/// Letters and signs that differ by so little are rounded otherwise.
const HAIR: Length = Length::um(2);

impl<'a> Needs<'a> {
    /// What the place of a notice of a survey asks.
    #[must_use]
    pub fn of(notice: &'a Notice, measure: &Measure) -> Self {
        Self { notice, measure: measure.clone() }
    }

    /// The isolators of the survey.
    pub(super) fn devices(&self) -> &Arc<Devices> {
        &self.measure.devices
    }

    /// Whether a printed copy that says what the notice says can be read there, and is made for it, as far as is known.
    #[must_use]
    pub fn are_met_by(&self, copy: &Print) -> bool {
        self.unmet_by(copy, true).is_empty()
    }

    /// Whether a copy of this fingerprint shows what the notice would on a plate of its size: both say the same but for words
    /// that neither print has room for.
    #[must_use]
    pub fn would_print_as(&self, copy: &Print, fingerprint: &str) -> bool {
        let old = points(&copy.says);
        let serves = old.iter().map(|point| (point.serves, point.is_left_off));
        let words = Words { name: name(&copy.says), serves: serves.collect() };
        if !self.differs_by_words_alone(&words, fingerprint) {
            return false;
        }
        let on_its_size = Notice { size: Some(copy.size), space: None, ..self.notice.clone() };
        let set = Typesetter::new().fit_on(&on_its_size, &[], self.measure.floor, |_| None);
        set.is_ok_and(|set| self.shows_none(&set.printed(self.notice), &words))
    }

    /// Whether the notice of another survey is printed alike on the sizes at hand, though not all of its words are the same.
    pub(super) fn prints_as(&self, before: &Self) -> bool {
        let old = before.notice;
        let serves = old.points.iter().map(|point| (&*point.serves, false)).collect();
        let mut words = Words { name: (&old.name, false), serves };
        if !self.differs_by_words_alone(&words, old.fingerprint()) {
            return false;
        }
        let set = |needs: &Self| {
            let sizes = self.measure.sizes.of(needs.notice.subject);
            Typesetter::new().fit_on(needs.notice, sizes, needs.measure.floor, |_| None).ok()
        };
        let (Some(old_set), Some(new_set)) = (set(before), set(self)) else { return false };
        let old_print = old_set.printed(old);
        words.name.1 = old_print.name.is_empty();
        words.serves.iter_mut().zip(&old_print.points).for_each(|(old, print)| old.1 = print.serves.is_empty());
        new_set.size == old_set.size && self.shows_none(&new_set.printed(self.notice), &words)
    }

    /// Whether the notice is another than one of this fingerprint by these words alone: with them that comes out, so that
    /// nothing else can differ.
    fn differs_by_words_alone(&self, old: &Words<'_>, fingerprint: &str) -> bool {
        if fingerprint.is_empty() || old.serves.len() != self.notice.points.len() {
            return false;
        }
        let mut then = self.notice.clone();
        old.name.0.clone_into(&mut then.name);
        then.points.iter_mut().zip(&old.serves).for_each(|(point, (words, _))| (*words).clone_into(&mut point.serves));
        then.fingerprint() == fingerprint
    }

    /// Whether, where the words differ, neither this print of the notice nor the old one shows them.
    fn shows_none(&self, print: &Notice, old: &Words<'_>) -> bool {
        let same = |now: &str, print: &str, (old, is_left_off): (&str, bool)| {
            now == old || (print.is_empty() && (is_left_off || old.is_empty()))
        };
        let mut of_points = self.notice.points.iter().zip(&print.points).zip(&old.serves);
        same(&self.notice.name, &print.name, old.name)
            && of_points.all(|((now, print), old)| same(&now.serves, &print.serves, *old))
    }

    /// In what a printed copy is not fit. Which letters a copy has that says something else is known only if it was kept.
    fn unmet_by(&self, copy: &Print, says_the_same: bool) -> Vec<Unfit> {
        let needed = Needed::of(self.notice, copy.size, self.measure.floor);
        let mut unmet = Vec::new();
        let wanted = read_from(needed.letters, needed.distance);
        match copy.letters {
            Some(letters) if letters + HAIR < needed.letters => {
                unmet.push((What::Letters, format!("capitals of {letters} mm"), wanted));
            }
            None if says_the_same && self.does_not_fit(copy) => {
                unmet.push((What::Letters, format!("less on {}", copy.size), wanted));
            }
            Some(_) | None => {}
        }
        if let (Some(sign), Some(least)) = (copy.sign, needed.sign)
            && sign + HAIR < least
        {
            let wanted = format!("at least {least} mm, seen from {}", metres(self.notice.sign_distance));
            unmet.push((What::Sign, format!("{sign} mm high"), wanted));
        }
        let class = self.measure.materials.find(&copy.material).zip(Process::named(&copy.process));
        let against = class.map(|(class, process)| class.against(process, &self.place())).unwrap_or_default();
        if !against.is_empty() {
            let made = format!("{}, marked by {}", copy.material, copy.process);
            unmet.push((What::Material, made, format!("{}: not made for {}", self.in_words(), against.join("; "))));
        }
        unmet
    }

    /// Whether no letters that could be read fit on a copy of its size: then its own are smaller.
    fn does_not_fit(&self, copy: &Print) -> bool {
        let notice = Notice { size: Some(copy.size), space: None, ..self.notice.clone() };
        let fitted = Typesetter::new().fit_on(&notice, &[], self.measure.floor, |_| None);
        matches!(fitted, Err(Misfit::TooLong { .. }))
    }

    /// In what a copy made for another place is perhaps not fit here, where nobody says what it is.
    fn beyond(&self, before: &Self) -> Vec<Unfit> {
        let mut beyond = Vec::new();
        let plate = Size::whole_mm(105, 74);
        let [old, new] = [before, self].map(|one| Needed::of(one.notice, plate, one.measure.floor));
        if old.letters < new.letters {
            let [was, is] = [old, new].map(|one| read_from(one.letters, one.distance));
            beyond.push((What::Letters, was, is));
        }
        if old.sign < new.sign {
            let [was, is] = [before, self].map(|one| format!("seen from {}", metres(one.notice.sign_distance)));
            beyond.push((What::Sign, was, is));
        }
        let (was, is) = (before.place(), self.place());
        let is_lost = |class: &crate::material::Material| {
            let holds = |process: &Process, place| class.against(*process, place).is_empty();
            class.marked_by.iter().any(|process| holds(process, &was) && !holds(process, &is))
        };
        if self.measure.materials.iter().any(is_lost) {
            beyond.push((What::Material, before.in_words(), self.in_words()));
        }
        beyond
    }

    /// How long it is wished to last is no matter here: when a copy has lasted so long, it is due.
    fn place(&self) -> Place {
        Place { environment: self.notice.environment, surface: self.notice.surface, wanted_years: None }
    }

    /// `outdoor, sun, on plastic`
    fn in_words(&self) -> String {
        let surface = self.notice.surface.map(|surface| format!("on {}", surface.name()));
        let words = [Some(self.notice.environment.in_words()).filter(|words| !words.is_empty()), surface];
        let words: Vec<String> = words.into_iter().flatten().collect();
        if words.is_empty() { "not said what it must stand up to".to_owned() } else { words.join(", ") }
    }
}

/// The words that a print may leave off, each with whether the old one did.
struct Words<'a> {
    name: (&'a str, bool),
    serves: Vec<(&'a str, bool)>,
}

/// In what the old copy is not fit for the place of the new version; nothing where neither side tells.
pub(super) fn unfit(old: &Version<'_>, new: &Version<'_>) -> Vec<Unfit> {
    match (&new.needs, old.made, &old.needs) {
        (Some(needs), Some(copy), _) => needs.unmet_by(copy, old.says_the_same(new)),
        (Some(needs), None, Some(before)) => needs.beyond(before),
        (Some(_), None, None) | (None, ..) => Vec::new(),
    }
}

/// `at least 15 mm, read from 3 m`
fn read_from(letters: Length, distance: Length) -> String {
    format!("at least {letters} mm, read from {}", metres(distance))
}

fn metres(distance: Length) -> String {
    format!("{} m", distance.to_mm() / 1_000.0)
}
