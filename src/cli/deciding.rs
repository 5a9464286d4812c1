//! Every enclosure and every isolator decided and worded, a few at a time: of a decision only what it comes to is kept, and
//! of a notice no more than makes it whole again, so that a large survey takes little room.

use std::convert::Infallible;

use rayon::prelude::*;

use crate::finding::Finding;
use crate::network::DeviceId;
use crate::notice::{Composer, Notice, Packed, Packing};
use crate::relay::{batches, relay};
use crate::rules::{Assessed, Assessor, Devices, Outcome, Share, Together, Verdict};

/// How many are decided together, before what they come to is added up.
const AT_A_TIME: usize = 2_048;

/// Fewer enclosures or isolators than this are not worth a thread of their own.
const FEWEST_TOGETHER: usize = 16;

/// No more are decided in one go, so that at the end of a batch no thread waits while another has many left.
const MOST_TOGETHER: usize = 64;

/// What a survey comes to.
#[derive(Default)]
pub(super) struct Decided {
    /// One for every enclosure, in the survey's order.
    pub verdicts: Vec<Verdict>,
    /// How many isolators need a notice.
    pub to_label: usize,
    /// What is to be said, enclosures in the survey's order, then isolators by location and designation.
    pub notices: Vec<Packed>,
    /// What the rules found.
    pub of_rules: Vec<Finding>,
    /// What is wrong with what the notices say.
    pub of_notices: Vec<Finding>,
}

/// Notices with what is wrong with what they say.
type Worded = (Vec<Packed>, Vec<Finding>);

/// One enclosure, decided and worded.
struct One {
    verdict: Verdict,
    found: Vec<Finding>,
    share: Share,
    worded: Worded,
}

/// Decides and words every enclosure and every isolator.
pub(super) fn decide(assessor: Assessor<'_>, composer: Composer<'_>) -> Decided {
    let mut decided = Decided { of_rules: assessor.of_installation(), ..Decided::default() };
    let mut together = Together::default();
    let enclosures = assessor.survey.enclosures.len();
    decided.verdicts.reserve_exact(enclosures);
    let one = |packing: &mut Packing, index| Some(enclosure(assessor.enclosure(index)?, composer, packing));
    let Ok(()) = relay(
        batches(enclosures, AT_A_TIME),
        |some| {
            let some = some.into_par_iter().with_min_len(FEWEST_TOGETHER).with_max_len(MOST_TOGETHER);
            some.map_init(Packing::default, one).collect::<Vec<Option<One>>>()
        },
        |some| {
            some.into_iter().flatten().for_each(|one| decided.add(one, &mut together));
            Ok::<_, Infallible>(())
        },
    );
    together.report(&assessor, &mut decided.of_rules);
    let devices = assessor.devices(&together);
    let one = |packing: &mut Packing, id: &DeviceId| device(&devices, *id, composer, packing);
    let Ok(()) = relay(
        devices.order().chunks(AT_A_TIME),
        |some| {
            let some = some.par_iter().with_min_len(FEWEST_TOGETHER).with_max_len(MOST_TOGETHER);
            some.map_init(Packing::default, one).collect::<Vec<Option<(Outcome, Worded)>>>()
        },
        |some| {
            for (need, worded) in some.into_iter().flatten() {
                decided.to_label += usize::from(need > Outcome::Lifted);
                decided.say(worded);
            }
            Ok::<_, Infallible>(())
        },
    );
    decided.notices.shrink_to_fit();
    decided
}

fn enclosure(assessed: Assessed, composer: Composer<'_>, packing: &mut Packing) -> One {
    let Assessed { decision, findings, share } = assessed;
    let worded = packed(composer.enclosure(&decision), packing);
    One { verdict: Verdict::of(&decision), found: findings, share, worded }
}

fn device(
    devices: &Devices<'_>,
    id: DeviceId,
    composer: Composer<'_>,
    packing: &mut Packing,
) -> Option<(Outcome, Worded)> {
    let decision = devices.one(id)?;
    Some((decision.need, packed(composer.device(&decision), packing)))
}

fn packed((notices, found): (Vec<Notice>, Vec<Finding>), packing: &mut Packing) -> Worded {
    (notices.into_iter().map(|notice| packing.pack(notice)).collect(), found)
}

impl Decided {
    fn add(&mut self, one: One, together: &mut Together) {
        together.add(one.share);
        self.verdicts.push(one.verdict);
        self.of_rules.extend(one.found);
        self.say(one.worded);
    }

    fn say(&mut self, (notices, found): Worded) {
        self.notices.extend(notices);
        self.of_notices.extend(found);
    }
}
