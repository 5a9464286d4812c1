//! What the notice of an enclosure says.

use super::compose::{NoticeOptions, rules_of};
use super::figure::figures;
use super::fingerprint::Fingerprint;
use super::{Notice, NoticePoint, Said, Subject};
use crate::rules::sequence::{self, Sequence};
use crate::rules::{Decision, LeastPlate, Missing, PointOfIsolation, Statement, is_no_means};
use crate::survey::Enclosure;
use crate::survey::value::Isolation;
use crate::wording::{Message, Wording, one_line};

/// One enclosure's decision, about to be said.
pub(super) struct EnclosureNotice<'a> {
    pub(super) wording: &'a Wording,
    pub(super) decision: &'a Decision,
    pub(super) enclosure: &'a Enclosure,
}

/// How far the points listed isolate the enclosure.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Reach {
    /// As far as the survey goes, they isolate everything.
    Everything,
    /// The survey does not say of every row, or of a part that stays live, what isolates it.
    NotKnown,
    /// Something cannot be isolated.
    LeavesLive,
}

/// What a notice of an enclosure would say in one language, for papers that go with it: said also of an enclosure that
/// needs no notice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// What to do: `Isolate at all 3 points`.
    pub headline: String,
    /// Why, with the designation.
    pub statement: String,
    /// What else must be known, one sentence each.
    pub cautions: Vec<String>,
    /// What must be read with each point of isolation, in their order.
    pub remarks: Vec<Vec<String>>,
    /// The last line.
    pub closing: String,
    /// Whether something cannot be isolated, or it is not known what isolates it.
    pub stops: bool,
    /// Whether a part stays live with every point open that no isolator is known to make dead.
    pub leaves_parts: bool,
    /// Whether something stays live with every point open, or may: such a part, or what a UPS feeds back to.
    pub leaves_live: bool,
}

impl Told {
    /// What must be read before anything else where the points of isolation are not all that there is, and what to do about
    /// it; `None` where as far as survey and proof go they are.
    #[must_use]
    pub fn stop(&self, decision: &Decision) -> Option<(String, &str)> {
        let live = !decision.proof.paths.is_empty();
        let elsewhere = isolated_elsewhere(decision);
        let first = match (live, self.stops) {
            (true, _) => "A live path was found with all points open".to_owned(),
            (false, true) => self.headline.clone(),
            (false, false) if self.leaves_parts => "Parts stay live with every point open".to_owned(),
            (false, false) if !elsewhere.is_empty() => {
                format!("Parts stay live with every point open: isolate {elsewhere} as well")
            }
            (false, false) if self.leaves_live => {
                "Parts may stay live with every point open: a UPS may feed back".to_owned()
            }
            (false, false) => return None,
        };
        Some((format!("STOP. {first}"), if live { "Treat as live." } else { &self.closing }))
    }
}

/// So many isolators of parts that stay live are named before anything else; the others are counted, and stand below.
const NAMED: usize = 3;

/// The isolators of parts that stay live with every point open, each once: `Q99 (Switchroom 2)`.
fn elsewhere(decision: &Decision) -> Vec<String> {
    let of_part = |statement: &'_ Statement| {
        if let Statement::LineSideLive { isolated_at, .. } = statement { isolated_at.clone() } else { Vec::new() }
    };
    let is_point = |(device, location): &(String, String)| {
        decision.points.iter().any(|point| (&point.device, &point.location) == (device, location))
    };
    let mut named: Vec<String> = Vec::new();
    for (device, location) in decision.statements.iter().flat_map(of_part).filter(|it| !is_point(it)) {
        let place = if location.is_empty() { String::new() } else { format!(" ({location})") };
        let name = one_line(&format!("{device}{place}")).into_owned();
        named.extend((!named.contains(&name)).then_some(name));
    }
    named
}

/// The same in words, the first of them by name: `Q99 (Switchroom 2) and Q98 (Switchroom 2)`.
fn isolated_elsewhere(decision: &Decision) -> String {
    let mut named = elsewhere(decision);
    let more = named.len().saturating_sub(NAMED);
    named.truncate(NAMED);
    if more > 0 {
        return format!("{} and {more} more below", named.join(", "));
    }
    let last = named.pop().unwrap_or_default();
    if named.is_empty() { last } else { format!("{} and {last}", named.join(", ")) }
}

/// What the notice of a decision says in the main language of a wording.
#[must_use]
pub fn told(decision: &Decision, enclosure: &Enclosure, wording: &Wording) -> Told {
    let notice = EnclosureNotice { wording, decision, enclosure };
    let once = |said: Said| said.main().to_owned();
    let remarks = |point: &PointOfIsolation| notice.remarks(point).into_iter().map(once).collect();
    let nowhere =
        |one: &Statement| matches!(one, Statement::LineSideLive { isolated_at, .. } if isolated_at.is_empty());
    let leaves_parts = notice.leaves_parts() || decision.statements.iter().any(nowhere);
    Told {
        headline: once(notice.headline()),
        statement: once(notice.statement()),
        cautions: notice.cautions().into_iter().map(once).collect(),
        remarks: decision.points.iter().map(remarks).collect(),
        closing: once(notice.closing()),
        stops: notice.reach() != Reach::Everything || decision.points.is_empty() || !decision.proof.paths.is_empty(),
        leaves_parts,
        leaves_live: leaves_parts || notice.is_fed_back(),
    }
}

impl EnclosureNotice<'_> {
    /// The notice without what depends on its position.
    pub(super) fn body(&self, options: &NoticeOptions) -> Notice {
        let Enclosure { name, area, .. } = self.enclosure;
        let particulars = self.enclosure.particulars();
        let reading_distance = particulars.reading_distance.unwrap_or(options.reading_distance);
        let in_one_line = |text: Option<&str>| one_line(text.unwrap_or_default()).into_owned();
        Notice {
            number: String::new(),
            subject: Subject::Enclosure,
            designation: self.designation(),
            name: in_one_line(name.as_deref()),
            area: in_one_line(area.as_deref()),
            position: String::new(),
            rules: rules_of(&self.decision.reasons),
            headline: self.headline(),
            statement: self.statement(),
            cautions: self.cautions(),
            points: self.decision.points.iter().map(|point| self.point(point)).collect(),
            figures: figures(&self.decision.voltages, self.wording),
            closing: self.closing(),
            small_line: String::new(),
            code_caption: Said::new(),
            code: None,
            tag: None,
            reading_distance,
            sign_distance: particulars.sign_distance.unwrap_or(reading_distance),
            size: particulars.size.map(|size| size.0),
            least: LeastPlate::default(),
            space: particulars.space,
            environment: particulars.environment.unwrap_or(options.environment),
            surface: particulars.surface,
            revision: options.revision.clone(),
            hashed: Fingerprint::at(&options.site),
        }
    }

    pub(super) fn designation(&self) -> String {
        one_line(&self.enclosure.designation).into_owned()
    }

    fn headline(&self) -> Said {
        let device = self.decision.points.first().map(|point| one_line(&point.device)).unwrap_or_default();
        // Without a point there is nothing but the rows to go by.
        let reach = if self.count() == 0 { self.reach() } else { self.reach().max(self.reach_of_parts()) };
        // What isolates the parts that stay live is a point like those that are listed: the largest letters count it.
        let further = if self.count() > 0 { elsewhere(self.decision).len() } else { 0 };
        let all = self.count().saturating_add(u32::try_from(further).unwrap_or(u32::MAX));
        self.wording.say(match (reach, all) {
            (Reach::LeavesLive, 0) => Message::CannotBeIsolated {},
            (Reach::LeavesLive, _) => Message::CannotBeFullyIsolated {},
            (Reach::NotKnown | Reach::Everything, 0) => Message::IsolationNotKnown {},
            (Reach::NotKnown, _) => Message::IsolationNotFullyKnown {},
            (Reach::Everything, 1) => Message::IsolateAtOne { device: &device },
            (Reach::Everything, count) => Message::IsolateAtAll { count },
        })
    }

    fn closing(&self) -> Said {
        let is_one = self.count() == 1 && isolated_elsewhere(self.decision).is_empty();
        let are_lockable = !self.decision.points.iter().any(cannot_be_locked);
        let off = match (is_one, are_lockable) {
            (true, true) => Message::LockOffOne {},
            (true, false) => Message::SecureOne {},
            (false, true) => Message::LockOffEach {},
            (false, false) => Message::SecureEach {},
        };
        let off_with_live_parts = match (is_one, are_lockable) {
            (true, true) => Message::LivePartsRemainOne {},
            (true, false) => Message::LivePartsRemainSecureOne {},
            (false, true) => Message::LivePartsRemainEach {},
            (false, false) => Message::LivePartsRemainSecureEach {},
        };
        self.wording.say(match (self.reach(), self.count()) {
            (Reach::LeavesLive, 0) => Message::LivePartsRemain {},
            (Reach::NotKnown, _) | (Reach::Everything, 0) => Message::TreatAsLive {},
            (Reach::LeavesLive, _) => off_with_live_parts,
            (Reach::Everything, _) if self.leaves_parts() => off_with_live_parts,
            (Reach::Everything, _) => off,
        })
    }

    fn count(&self) -> u32 {
        u32::try_from(self.decision.points.len()).unwrap_or(u32::MAX)
    }

    fn reach(&self) -> Reach {
        let lives_on = |statement: &Statement| matches!(statement, Statement::CannotBeIsolated { .. });
        let not_known = |isolation: &Option<Isolation>| matches!(isolation, None | Some(Isolation::Unknown));
        if self.decision.statements.iter().any(lives_on) {
            Reach::LeavesLive
        } else if self.enclosure.rows.iter().any(|row| not_known(&row.isolation)) {
            Reach::NotKnown
        } else {
            Reach::Everything
        }
    }

    /// How far the parts are isolated that stay live with every point open: the largest letters must not send a person to
    /// points alone that leave something live.
    fn reach_of_parts(&self) -> Reach {
        let reaches = self.decision.statements.iter().filter_map(|statement| {
            let Statement::LineSideLive { missing: Some(missing), .. } = statement else { return None };
            Some(if *missing == Missing::CannotBeIsolated { Reach::LeavesLive } else { Reach::NotKnown })
        });
        reaches.max().unwrap_or(Reach::Everything)
    }

    /// Whether a part stays live that no isolator is known to make dead.
    fn leaves_parts(&self) -> bool {
        self.decision.statements.iter().any(|statement| {
            matches!(statement, Statement::LineSideLive { missing: Some(_), .. } | Statement::LiveAtAnyTime { .. })
        })
    }

    /// Whether a UPS may feed back with every point open.
    fn is_fed_back(&self) -> bool {
        self.decision.statements.iter().any(|statement| matches!(statement, Statement::BackFeed { .. }))
            || self.decision.proof.gaps.iter().any(|gap| gap.back_feed().is_some())
    }

    fn point(&self, point: &PointOfIsolation) -> NoticePoint {
        let place = if self.decision.locations_left_out { "" } else { &point.location };
        let serves: Vec<_> = point.serves.iter().map(|serves| one_line(serves)).collect();
        NoticePoint {
            designation: one_line(&point.device).into_owned(),
            place: one_line(place).into_owned(),
            serves: serves.join(", "),
            remarks: self.remarks(point),
        }
    }

    /// What must be read with a point, in the order in which it is needed.
    fn remarks(&self, point: &PointOfIsolation) -> Vec<Said> {
        let before = point.before.as_deref().map(one_line);
        let before = before.iter().map(|text| Message::BeforeIsolating { text });
        let load = point.not_under_load.then_some(Message::NotUnderLoad {});
        let locking = cannot_be_locked(point).then_some(Message::NoLocking {});
        let others = self.opened_before(point).into_iter();
        others.chain(before.chain(load).chain(locking).map(|message| self.wording.say(message))).collect()
    }

    /// What is opened before a point, where the list as a whole is in no order.
    fn opened_before(&self, point: &PointOfIsolation) -> Option<Said> {
        let points = &self.decision.points;
        if Sequence::of(points) != Sequence::InPart {
            return None;
        }
        let bears = |one: &PointOfIsolation, other: &PointOfIsolation| one.device == other.device;
        let name = |one: &PointOfIsolation| match points.iter().filter(|other| bears(one, other)).count() {
            0 | 1 => self.wording.repeat(&one_line(&one.device)),
            _ => self.device_at(&one.device, &one.location),
        };
        let before: Vec<Said> = sequence::before(points, point).into_iter().map(name).collect();
        open_first(self.wording, &before)
    }
}

/// So many devices are named that must be opened before another; of more it is said that there are some.
const MOST_BEFORE: usize = 4;

/// That other devices are opened before one.
pub(super) fn open_first(wording: &Wording, devices: &[Said]) -> Option<Said> {
    if devices.is_empty() {
        return None;
    }
    if devices.len() > MOST_BEFORE {
        return Some(wording.say(Message::OthersPerhapsFirst {}));
    }
    let devices = wording.list(devices);
    Some(wording.say_each(|language| Message::OpenFirst { devices: devices.in_language(language) }))
}

fn cannot_be_locked(point: &PointOfIsolation) -> bool {
    point.locking.as_deref().is_some_and(is_no_means)
}
