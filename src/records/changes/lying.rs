//! Copies that lie printed and were never fixed: whoever fixes one that is false by now hangs up a lie, and the record alone,
//! which knows no survey, may tell to.

use super::{Change, Danger, Fate, Version};
use crate::records::{Entry, Event, Known, Standing, due};

/// The copies of a notice that lie printed, the last one first; those before it that were never fixed either.
#[derive(Clone, Debug, Default)]
pub(super) struct Lying<'a> {
    copies: Vec<&'a Entry>,
}

impl<'a> Lying<'a> {
    /// What lies printed of a notice by the record.
    pub(super) fn of(known: &Known<'a>, standing: Standing<'a>) -> Self {
        let after = |entry: &Entry| {
            let place = known.entries.iter().position(|one| std::ptr::eq(*one, entry)).unwrap_or(0);
            known.entries.get(place + 1..).unwrap_or_default()
        };
        let last = due::ready(known, standing).filter(|copy| match standing {
            // What was printed before it was taken away is no longer meant for anything.
            Standing::Withdrawn(gone) => after(gone).iter().any(|one| std::ptr::eq(*one, *copy)),
            // It was found there, whatever is recorded of its fixing.
            Standing::Fixed { print: Some(print), .. } => !std::ptr::eq(print, *copy),
            Standing::Fixed { .. } | Standing::NotFixed | Standing::Missing(_) => true,
        });
        let Some(last) = last else { return Self::default() };
        let is_fixing = |entry: &Entry| matches!(entry.event, Event::Fixed | Event::Replaced);
        let was_fixed = |copy: &Entry| {
            let same = |one: &Entry| one.fingerprint == copy.fingerprint && one.revision == copy.revision;
            after(copy).iter().any(|one| is_fixing(one) && same(one))
        };
        let before = known.entries.iter().rev().skip_while(|one| !std::ptr::eq(**one, last)).skip(1);
        let before = before.take_while(|one| one.event != Event::Withdrawn && !is_fixing(one));
        let before =
            before.filter(|one| one.event == Event::Printed && !was_fixed(one) && known.destroyed(one).is_none());
        Self { copies: std::iter::once(last).chain(before.copied()).collect() }
    }

    /// Whether any lies printed.
    pub(super) fn is_there(&self) -> bool {
        !self.copies.is_empty()
    }

    /// Those that are false beside what a survey says now. What was printed before a copy that is true was superseded by it,
    /// and is pointed out when one is fixed.
    pub(super) fn but(&self, new: Option<&Version<'_>>) -> Self {
        let shows = |copy: &Entry, new: &Version<'_>| {
            copy.fingerprint == new.fingerprint
                || copy.print.as_deref().is_some_and(|print| Version::printed(copy, print).says_the_same(new))
        };
        let is_true = |copy: &&&Entry| new.is_some_and(|new| shows(copy, new));
        Self { copies: self.copies.iter().take_while(|copy| !is_true(copy)).copied().collect() }
    }

    /// A change of the copy on site, with what lies beside it.
    pub(super) fn beside(&self, change: Change<'a>) -> Change<'a> {
        if self.copies.is_empty() || change.fate == Fate::NotJudged {
            return change;
        }
        let between = if change.note.is_empty() { "" } else { "; " };
        let note = format!("{}{between}also false is {}: destroy it", change.note, self.in_words());
        Change { note, ..change }
    }

    /// The change of copies that are false, where the one on site is true.
    pub(super) fn beside_a_true_one(&self) -> Option<Change<'a>> {
        let note = format!("{} says something else than the survey, and the copy on site is true", self.in_words());
        self.alone(Fate::FalseCopy, Danger::CopyFalse, note)
    }

    /// The change of copies of a notice that the survey does not have, of which none is on site. `is_another` tells that the
    /// survey seems to be that of another record, and `reason` why it tells nothing of a notice.
    pub(super) fn of_none(
        &self,
        is_another: bool,
        reason: impl Fn(&Version<'_>) -> Option<String>,
    ) -> Option<Change<'a>> {
        let copies = self.in_words();
        let not_judged = |why: String| self.alone(Fate::NotJudged, Danger::CannotBeJudged, why);
        if is_another {
            return not_judged(format!("{copies} was never fixed, and the survey seems to be that of another record"));
        }
        if let Some(why) = self.version().and_then(|version| reason(&version)) {
            return not_judged(format!("{why}; {copies} was never fixed"));
        }
        self.alone(Fate::FalseCopy, Danger::CopyFalse, format!("{copies} is of no notice that the survey has"))
    }

    fn alone(&self, fate: Fate, danger: Danger, note: String) -> Option<Change<'a>> {
        let number = self.copies.first()?.number.as_str();
        Some(Change::alone(fate, danger, number, (self.version(), None), note))
    }

    /// The last of them.
    fn version(&self) -> Option<Version<'a>> {
        let last = self.copies.first()?;
        Some(Version::printed(last, last.print.as_deref()?))
    }

    /// `rev C printed on 2026-12-02, rev B printed on 2026-12-01`
    fn in_words(&self) -> String {
        let one = |entry: &&Entry| {
            let revision = if entry.revision.is_empty() { "a copy" } else { "rev " };
            format!("{revision}{} printed on {}", entry.revision, entry.date)
        };
        self.copies.iter().map(one).collect::<Vec<_>>().join(", ")
    }
}
