//! How dangerous a notice that is no longer true is to a person who trusts it.

/// What a notice on the wall does to a person who trusts it, the most dangerous first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Danger {
    /// It does not name a point of isolation that is needed now: added, moved or renamed.
    PointLacking,
    /// On an isolator: it says that the device disconnects what it does not, or not alone.
    DisconnectsLess,
    /// Nobody can tell: errors, a live path, or a copy of which no printing is recorded.
    CannotBeJudged,
    /// It shows a lower voltage than there can be, or none where one is needed.
    VoltageTooLow,
    /// It lacks what must be known: what stays live or charged, an order, what is not opened under load.
    CautionLacking,
    /// A notice is needed, and none is fixed.
    NoneFixed,
    /// It cannot be read from where a person stands, or is not made for its place.
    NotFit,
    /// It names a point of isolation that is there no more.
    PointGone,
    /// It is fixed elsewhere than it should be.
    FixedElsewhere,
    /// It is on nobody's wall yet: a copy that lies printed says what is not so.
    CopyFalse,
    /// It says the same in other words, or something besides.
    OtherWords,
    /// It is no longer needed.
    NotNeeded,
}

impl Danger {
    /// Every danger, the greatest first.
    pub const ALL: [Self; 12] = [
        Self::PointLacking,
        Self::DisconnectsLess,
        Self::CannotBeJudged,
        Self::VoltageTooLow,
        Self::CautionLacking,
        Self::NoneFixed,
        Self::NotFit,
        Self::PointGone,
        Self::FixedElsewhere,
        Self::CopyFalse,
        Self::OtherWords,
        Self::NotNeeded,
    ];

    /// Its name in reports.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::PointLacking => "point-lacking",
            Self::DisconnectsLess => "disconnects-less",
            Self::CannotBeJudged => "cannot-be-judged",
            Self::VoltageTooLow => "voltage-too-low",
            Self::CautionLacking => "caution-lacking",
            Self::NoneFixed => "none-fixed",
            Self::NotFit => "not-fit",
            Self::PointGone => "point-gone",
            Self::FixedElsewhere => "fixed-elsewhere",
            Self::CopyFalse => "copy-false",
            Self::OtherWords => "other-words",
            Self::NotNeeded => "not-needed",
        }
    }

    /// Its place in the order, from 1.
    #[must_use]
    pub fn rank(self) -> usize {
        Self::ALL.into_iter().take_while(|danger| *danger != self).count() + 1
    }

    /// What is wrong, behind the number of the notice.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::PointLacking => "does not name a point of isolation that is needed now",
            Self::DisconnectsLess => "says that its device disconnects what it does not, or not alone",
            Self::CannotBeJudged => "cannot be judged",
            Self::VoltageTooLow => "shows a lower voltage than there can be, or none where one is needed",
            Self::CautionLacking => "lacks a caution or a reason that is needed now",
            Self::NoneFixed => "is needed where none is fixed",
            Self::NotFit => "may be too small to be read from where a person stands, or is not made for its place",
            Self::PointGone => "names a point of isolation that is there no more",
            Self::FixedElsewhere => "is fixed elsewhere than it should be",
            Self::CopyFalse => "lies printed, was never fixed, and is not true",
            Self::OtherWords => "says something in other words",
            Self::NotNeeded => "is no longer needed",
        }
    }

    /// What could happen, and what to do.
    #[must_use]
    pub const fn advice(self) -> &'static str {
        match self {
            Self::PointLacking => {
                "Whoever isolates by the old notice can leave live parts inside. Cover it or take it down first; follow \
                 the safe isolation procedure and prove dead at the point of work; then fix the new one."
            }
            Self::DisconnectsLess => {
                "Whoever opens the device by the old notice can find a circuit live that it names. Cover it or take it \
                 down first; follow the safe isolation procedure; then fix the new one."
            }
            Self::CannotBeJudged => {
                "It may be false and nobody knows. Treat it as false: cover it, treat what it is about as live, follow \
                 the safe isolation procedure, and clear up what is named here."
            }
            Self::VoltageTooLow => {
                "Whoever chooses tester, tools or protection by the old notice can choose them too weak. Cover it or \
                 take it down first; follow the safe isolation procedure; then fix the new one."
            }
            Self::CautionLacking => {
                "Whoever works by the old notice can meet unwarned what stays live or charged, what starts, or what \
                 must come first. Cover it or take it down first; follow the safe isolation procedure; then fix the \
                 new one."
            }
            Self::NoneFixed => {
                "Nobody is warned before opening. Fix the notice; until then treat it as live and follow the safe \
                 isolation procedure."
            }
            Self::NotFit => {
                "Whoever stands before it may not be able to read it, now or before anybody looks again. Look at it; until \
                 one is fixed that is large enough and made for the place, follow the safe isolation procedure as if none \
                 were there."
            }
            Self::PointGone => {
                "Whoever looks for a point that is not there can take another for it. Take the old notice down, follow \
                 the safe isolation procedure, and fix the new one."
            }
            Self::FixedElsewhere => {
                "It can be missed where it is needed, or be read as meaning something else where it hangs. Take it \
                 down there and fix it where it belongs."
            }
            Self::CopyFalse => {
                "Whoever fixes that copy hangs up what is not so, and `records due`, which knows no survey, may tell to fix \
                 it. Destroy it, and record that with `records destroyed`; where none is fixed and none is needed, with \
                 `records withdrawn`."
            }
            Self::OtherWords => {
                "The old notice is not what was decided. Replace it with the new one; follow the safe isolation \
                 procedure as always."
            }
            Self::NotNeeded => {
                "On the survey's word alone. Look on site whether what it warns of is really gone, then take it down: \
                 a notice about nothing makes people trust the others less."
            }
        }
    }
}
