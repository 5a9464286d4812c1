//! Every message that a notice can say, with its arguments: a message that is not in this table cannot be said.

use fluent_bundle::FluentArgs;

/// What a message tells the checks about one of its arguments.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Argument {
    /// Text of the survey, or of another message.
    Text,
    /// A number that may choose a plural.
    Count,
}

/// What an argument of a message may be made of.
trait Value {
    /// Its value where it is a count.
    fn count(&self) -> Option<u32>;
    /// Its value where it is a text.
    fn text(&self) -> Option<&str>;
}

impl Value for &str {
    fn count(&self) -> Option<u32> {
        None
    }

    fn text(&self) -> Option<&str> {
        Some(self)
    }
}

impl Value for u32 {
    fn count(&self) -> Option<u32> {
        Some(*self)
    }

    fn text(&self) -> Option<&str> {
        None
    }
}

/// A message as a message file must give it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Entry {
    /// Its name in message files.
    pub(super) key: &'static str,
    /// Its arguments, in the order of the table.
    pub(super) arguments: &'static [(&'static str, Argument)],
}

/// The type of an argument of a kind.
macro_rules! argument {
    ($life:lifetime Text) => { &$life str };
    ($life:lifetime Count) => { u32 };
}

/// Declares the messages: each becomes a variant whose fields are its arguments.
macro_rules! messages {
    ($($(#[doc = $line:literal])+ $variant:ident = $key:literal { $($argument:ident: $kind:ident),* };)+) => {
        /// Something that a notice says, with what it says it of.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Message<'a> {
            $(
                $(#[doc = $line])+
                $variant {
                    $(#[doc = concat!("The argument `$", stringify!($argument), "`.")] $argument: argument!('a $kind)),*
                },
            )+
        }

        /// Every message, in the order of their numbers.
        pub(super) const TABLE: &[Entry] = &[
            $(Entry { key: $key, arguments: &[$((stringify!($argument), Argument::$kind)),*] }),+
        ];

        /// Places in the table, by name.
        #[derive(Clone, Copy)]
        enum Number { $($variant),+ }

        impl<'a> Message<'a> {
            /// Its place in the table.
            pub(super) const fn number(&self) -> usize {
                match self { $(Self::$variant { .. } => Number::$variant as usize),+ }
            }

            /// Its name in message files.
            pub(super) const fn key(&self) -> &'static str {
                match self { $(Self::$variant { .. } => $key),+ }
            }

            /// Its count if it has no other argument, 0 if it has none at all: what tells two of its kind apart.
            pub(super) fn only_count(&self) -> Option<usize> {
                let counts: &[Option<u32>] = match self {
                    $(Self::$variant { $($argument),* } => &[$(Value::count($argument)),*]),+
                };
                match counts {
                    [] => Some(0),
                    [Some(count)] => usize::try_from(*count).ok(),
                    [..] => None,
                }
            }

            /// Its argument at this place of its entry in the table, if that is a text.
            pub(super) fn text(&self, place: usize) -> Option<&str> {
                let texts: &[Option<&str>] = match self {
                    $(Self::$variant { $($argument),* } => &[$(Value::text($argument)),*]),+
                };
                texts.get(place).copied().flatten()
            }

            /// Its arguments under the names that message files use.
            pub(super) fn arguments(&self) -> FluentArgs<'a> {
                let mut arguments = FluentArgs::new();
                match *self {
                    $(Self::$variant { $($argument),* } => { $(arguments.set(stringify!($argument), $argument);)* })+
                }
                arguments
            }
        }
    };
}

messages! {
    // ---- what to do first
    /// One point of isolation.
    IsolateAtOne = "isolate-at-one" { device: Text };
    /// Several points of isolation.
    IsolateAtAll = "isolate-at-all" { count: Count };
    /// A circuit has no isolator; others have.
    CannotBeFullyIsolated = "cannot-be-fully-isolated" {};
    /// No circuit has an isolator.
    CannotBeIsolated = "cannot-be-isolated" {};
    /// The survey names no point of isolation and does not say that there is none.
    IsolationNotKnown = "isolation-not-known" {};
    /// The survey names points of isolation, but not for every circuit.
    IsolationNotFullyKnown = "isolation-not-fully-known" {};

    // ---- why
    /// Which circuits stay live because nothing isolates them.
    CircuitsStayLive = "circuits-stay-live" { count: Count, circuits: Text, enclosure: Text };
    /// Exactly two supplies, all of them known.
    TwoSupplies = "two-supplies" { enclosure: Text };
    /// More than one supply.
    SeveralSupplies = "several-supplies" { enclosure: Text };
    /// More than one supply cannot be ruled out.
    SeveralSuppliesPossible = "several-supplies-possible" { enclosure: Text };
    /// No one device makes it dead.
    SeveralIsolators = "several-isolators" { enclosure: Text };
    /// The isolators listed leave parts live.
    IsolatorsLeaveParts = "isolators-leave-parts" { count: Count, devices: Text, enclosure: Text };
    /// It is not known that one device is enough.
    SeveralIsolatorsPossible = "several-isolators-possible" { enclosure: Text };
    /// A voltage to earth that would not be expected.
    VoltageToEarth = "voltage-to-earth" { voltage: Text, enclosure: Text };
    /// The same where the survey gives no figure.
    VoltageNotKnown = "voltage-not-known" { enclosure: Text };
    /// The installation has several sources.
    SourcesSupply = "sources-supply" { enclosure: Text, sources: Text };
    /// Several sources meet in it.
    SourcesMeet = "sources-meet" { enclosure: Text, sources: Text };
    /// One source is isolated in it, and there are others.
    SourcePoint = "source-point" { enclosure: Text, sources: Text };
    /// Several sources cannot be ruled out.
    SourcesPossible = "sources-possible" { enclosure: Text };
    /// The d.c. side of a solar array.
    SolarInside = "solar-inside" { enclosure: Text };
    /// A store of energy inside.
    BatteryInside = "battery-inside" { enclosure: Text };
    /// Something stays live when the isolators are off.
    PartsStayLive = "parts-stay-live" { enclosure: Text };
    /// It is not known whether something stays live.
    PartsMayStayLive = "parts-may-stay-live" { enclosure: Text };
    /// A UPS can feed back.
    BackFeedAt = "back-feed-at" { enclosure: Text };
    /// A source may start.
    StartsAt = "starts-at" { enclosure: Text, source: Text };
    /// Charge stays after isolation.
    ChargeInside = "charge-inside" { enclosure: Text };
    /// The survey does not say enough.
    FeedNotKnown = "feed-not-known" { enclosure: Text };
    /// Nothing more particular is to be said.
    LivePartsInside = "live-parts-inside" { enclosure: Text };

    // ---- what else must be known
    /// More than one supply, beside a stronger statement.
    SeveralSuppliesAlso = "several-supplies-also" {};
    /// More than one supply cannot be ruled out, beside a stronger statement.
    SeveralSuppliesPossibleAlso = "several-supplies-possible-also" {};
    /// No one device makes it dead, beside a stronger statement.
    SeveralIsolatorsAlso = "several-isolators-also" {};
    /// It is not known that one device is enough, beside a stronger statement.
    SeveralIsolatorsPossibleAlso = "several-isolators-possible-also" {};
    /// Several sources cannot be ruled out, beside a stronger statement.
    SourcesPossibleAlso = "sources-possible-also" {};
    /// The sources that meet here, and where each is isolated.
    IsolateSources = "isolate-sources" { sources: Text };
    /// Every source of the installation, and where each is isolated.
    IsolateSourcesOfInstallation = "isolate-sources-of-installation" { sources: Text };
    /// The installation has several sources, beside a stronger statement.
    SeveralSources = "several-sources" { sources: Text };
    /// The sources that are not isolated here.
    OtherSources = "other-sources" { sources: Text };
    /// Rows do not say their source, so that there may be more.
    FurtherSourcesPossible = "further-sources-possible" {};
    /// Which circuits are the d.c. side of a solar array.
    SolarStaysLive = "solar-stays-live" { circuits: Text };
    /// Which circuits come from a store inside.
    BatteryStaysLive = "battery-stays-live" { circuits: Text };
    /// What stays live, and where that is isolated.
    PartStaysLive = "part-stays-live" { part: Text, devices: Text };
    /// It is not known what stays live.
    PartMayStayLive = "part-may-stay-live" {};
    /// What stays live, because nothing isolates it.
    PartCannotBeIsolated = "part-cannot-be-isolated" { part: Text };
    /// What stays live, nobody knows from where.
    PartStaysLiveUnknown = "part-stays-live-unknown" { part: Text };
    /// Which UPS can feed back, and what to do.
    BackFeed = "back-feed" { ups: Text };
    /// Which source may start, and what to do.
    Starts = "starts" { source: Text };
    /// What to do where the statement already names the source that may start.
    InhibitStarting = "inhibit-starting" {};
    /// How high the charge is and how long to wait.
    ChargeWait = "charge-wait" { voltage: Text, time: Text };
    /// How long to wait for a charge of unknown voltage.
    ChargeWaitVoltageUnknown = "charge-wait-voltage-unknown" { time: Text };
    /// How high the charge is; nobody knows for how long.
    ChargeWaitUnknown = "charge-wait-unknown" { voltage: Text };
    /// There may be a charge of which nothing more is known.
    ChargeUnknown = "charge-unknown" {};
    /// The points are listed in the order in which they must be opened.
    IsolateInOrder = "isolate-in-order" {};

    /// Above low voltage, where these notices alone are not enough.
    HighVoltage = "high-voltage" {};

    // ---- what belongs to one point
    /// The device must not be opened under load.
    NotUnderLoad = "not-under-load" {};
    /// What to do or warn of before it is opened.
    BeforeIsolating = "before-isolating" { text: Text };
    /// The device cannot be secured off.
    NoLocking = "no-locking" {};

    // ---- voltages
    /// An alternating voltage.
    FigureAc = "figure-ac" { volts: Text };
    /// A direct voltage.
    FigureDc = "figure-dc" { volts: Text };
    /// An upper bound.
    FigureUpTo = "figure-up-to" { figure: Text };
    /// What the first figure means.
    ToEarth = "to-earth" {};
    /// What the second figure means.
    BetweenConductors = "between-conductors" {};

    // ---- the last line
    /// For one point.
    LockOffOne = "lock-off-one" {};
    /// For several points.
    LockOffEach = "lock-off-each" {};
    /// For one point that cannot be locked.
    SecureOne = "secure-one" {};
    /// For several points, of which at least one cannot be locked.
    SecureEach = "secure-each" {};
    /// For one point that leaves live parts.
    LivePartsRemainOne = "live-parts-remain-one" {};
    /// For several points that leave live parts.
    LivePartsRemainEach = "live-parts-remain-each" {};
    /// For one point that cannot be locked and leaves live parts.
    LivePartsRemainSecureOne = "live-parts-remain-secure-one" {};
    /// For several points that leave live parts, of which at least one cannot be locked.
    LivePartsRemainSecureEach = "live-parts-remain-secure-each" {};
    /// Where nothing can be isolated.
    LivePartsRemain = "live-parts-remain" {};
    /// Where nobody knows what isolates.
    TreatAsLive = "treat-as-live" {};

    // ---- an isolator's own notice
    /// Above the list of circuits.
    Disconnects = "disconnects" { count: Count };
    /// What else must be opened for this circuit.
    AlsoOpen = "also-open" { devices: Text };
    /// What comes before it in the sequence of an enclosure.
    OpenFirst = "open-first" { devices: Text };
    /// The same where it is too much to be named, or not so for every circuit.
    OthersPerhapsFirst = "others-perhaps-first" {};
    /// A device as a point of isolation of a source, with the further points.
    PointOfSource = "point-of-source" { sources: Text, points: Text };
    /// Something of this circuit stays live in the enclosure.
    LivePartsMayRemain = "live-parts-may-remain" {};
    /// The enclosure of this circuit has other supplies.
    OtherSuppliesMayRemain = "other-supplies-may-remain" {};
    /// So has the enclosure of every circuit of the list.
    OtherSuppliesMayRemainInEach = "other-supplies-may-remain-in-each" {};

    // ---- standing notices
    /// BS 7671 514.12.1, prescribed (from texts that quote A4).
    StandingPeriodicInspection = "standing-periodic-inspection" {};
    /// BS 7671 514.12.2, prescribed (the words of A2, from memory; those of A4 are known only in part).
    StandingRcdTest = "standing-rcd-test" {};
    /// BS 7671 514.13.1, prescribed (from two texts that quote it).
    StandingEarthingConnection = "standing-earthing-connection" {};
    /// BS 7671 514.13.2, prescribed (from memory).
    StandingEarthFreeLocation = "standing-earth-free-location" {};
    /// BS 7671 514.16.1, words free.
    StandingSurgeProtection = "standing-surge-protection" {};
    /// BS 7671 537.4, prescribed (from a text that quotes it).
    StandingFirefightersSwitch = "standing-firefighters-switch" {};
    /// The deleted BS 7671 514.14.1 (from memory).
    StandingMixedColours = "standing-mixed-colours" {};
    /// What a date on a notice of periodic inspection is.
    DateLastInspection = "date-last-inspection" {};
    /// What the other date is.
    DateNextInspection = "date-next-inspection" {};
    /// A day of the calendar, short and with the month in letters.
    CalendarDay = "calendar-day" { day: Text, month: Count, year: Text };

    // ---- small words
    /// The public network, as one of several sources.
    SourceMains = "source-mains" {};
    /// A generating set.
    SourceGenerator = "source-generator" {};
    /// Solar modules.
    SourceSolar = "source-solar" {};
    /// A stationary battery.
    SourceBattery = "source-battery" {};
    /// An uninterruptible power supply.
    SourceUps = "source-ups" {};
    /// A vehicle that can export.
    SourceVehicle = "source-vehicle" {};
    /// A source that the survey does not name.
    SourceNotKnown = "source-not-known" {};
    /// A source with the devices that isolate it.
    SourceAt = "source-at" { source: Text, devices: Text };
    /// The same where they do not isolate all of it, and other devices do.
    SourceAtAndElsewhere = "source-at-and-elsewhere" { source: Text, devices: Text };
    /// The same where a part of it cannot be isolated.
    SourceAtInPart = "source-at-in-part" { source: Text, devices: Text };
    /// A source of which a part cannot be isolated, and nothing else isolates any of it.
    SourceInPart = "source-in-part" { source: Text };
    /// A source that is isolated elsewhere as well.
    SourceElsewhere = "source-elsewhere" { source: Text };
    /// A source that cannot be isolated.
    SourceCannotBeIsolated = "source-cannot-be-isolated" { source: Text };
    /// A source of which the survey does not say where it is isolated.
    SourceIsolationNotKnown = "source-isolation-not-known" { source: Text };
    /// A time of whole minutes.
    Minutes = "minutes" { count: Count };
    /// A time of whole seconds.
    Seconds = "seconds" { count: Count };
    /// A device with its location, within a sentence.
    DeviceAtPlace = "device-at-place" { device: Text, place: Text };
    /// The end of a list whose other members stand joined by commas.
    ListLast = "list-last" { others: Text, last: Text };
    /// The revision in the small line.
    Revision = "revision" { revision: Text };
    /// What the code is.
    CodeCaption = "code-caption" {};
    /// The same where it carries the notice's own words.
    CodeCaptionText = "code-caption-text" {};
    /// The first line of those words: a word before the number.
    CodeTextStart = "code-text-number" { number: Text };
}
