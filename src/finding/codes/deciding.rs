//! What the rules find: voltages, points of isolation, what is not known.

use super::{Code, Severity};

codes! {
    /// Nobody knows yet what isolates a circuit.
    ///
    /// A notice without this isolator would leave a live part unnamed, so none is printed for the enclosure. Trace the
    /// circuit, or write `none` if it cannot be isolated.
    ISOLATOR_NOT_KNOWN = "isolator-not-known", Error;
    /// A circuit cannot be isolated.
    ///
    /// The notice says that it stays live. Make sure that this is true, and not only unknown: `?` is for unknown.
    CANNOT_BE_ISOLATED = "cannot-be-isolated", Warning;
    /// The network operator's cut-out is named as the point of isolation.
    ///
    /// It is not the user's to open, and its sealed fuse is no means of isolation for work. Name the device of the
    /// installation that isolates the circuit, or `none`.
    NETWORK_CUTOUT_AS_ISOLATOR = "network-cutout-as-isolator", Error;
    /// A device switches fewer lines than the circuit has.
    ///
    /// With it open, a line stays live. Correct `poles` or `conductors`, or name the device that switches every line.
    LINES_STAY_CONNECTED = "lines-stay-connected", Error;
    /// A device leaves the neutral connected where the neutral can be live.
    ///
    /// That is enough only in a TN system with the circuit's own neutral. In TT and IT systems, with a generator or UPS
    /// that can run alone, and with a shared or borrowed neutral, the neutral must be switched too. Name a device that
    /// switches it.
    NEUTRAL_STAYS_CONNECTED = "neutral-stays-connected", Error;
    /// A device switches the neutral of a circuit whose neutral is the protective conductor too.
    ///
    /// In TN-C one conductor, the PEN, is both. With it open, what it should keep at earth can become live, so it is neither
    /// isolated nor switched. Correct `poles`, or write `TN-S` or `TN-C-S` in `earthing` if the two are separate there. If it
    /// is so, the installation must be put right; the notice says nothing of it.
    PEN_SWITCHED = "pen-switched", Warning;
    /// It is not known which conductors a device switches, and here that matters.
    ///
    /// One device lifts a notice only if it switches every live conductor. Fill in `poles`, `conductors`, `earthing` and
    /// `source`; until then the notice is printed.
    SWITCHING_NOT_KNOWN = "switching-not-known", Warning;
    /// Nothing says how a device is secured in the off position.
    ///
    /// An isolator that cannot be locked off can be closed again while someone works. Fill in `locking`.
    ISOLATOR_WITHOUT_LOCKING = "isolator-without-locking", Warning;
    /// The name of an isolator is that of a contactor, a relay, a push-button or an emergency stop, and no row says its kind.
    ///
    /// Such a device switches a circuit, or asks another to, and leaves no gap that a person may rely on. Name the device that
    /// isolates the circuit. If this one does, say what it is in `device_kind`.
    ISOLATOR_PERHAPS_NOT_SUITABLE = "isolator-perhaps-not-suitable", Warning;
    /// One device has two places in the sequence of the same enclosure.
    ///
    /// The notice would number the points in a wrong order. Correct `order` in one of the rows.
    ORDER_CONTRADICTION = "order-contradiction", Error;
    /// The sequence of an enclosure's isolators leaves some of them out, or does not count from 1 without a gap.
    ///
    /// What must be opened first is then not known, and whoever opens the wrong one first may be hurt by the other. The notice
    /// claims no order but that of the numbers which are there. Number every isolator, or none; those of one number are opened
    /// in any order among themselves.
    ORDER_INCOMPLETE = "order-incomplete", Warning;
    /// An interlock that could lift a notice does not cover every row of the enclosure.
    ///
    /// It lifts a notice only if it isolates everything before access is possible. If it does, name it in every row.
    INTERLOCK_NOT_ON_EVERY_ROW = "interlock-not-on-every-row", Warning;
    /// Devices that one handle is said to open stand in different places.
    ///
    /// One handle opens devices that are built together. Until the places agree, the interlock is not taken for one device.
    COUPLED_DEVICES_APART = "coupled-devices-apart", Warning;
    /// The notice of an isolator would have the number of another notice.
    ///
    /// By its number a notice is found on site, recorded and printed again, so no two may have the same one. It is made of
    /// designation and place: `Q7@Switchroom 1`. A device whose place is only `inside` is another one in each enclosure:
    /// write which, `inside CH3-JB2`. Where an `@` in a name makes two numbers alike, write the name or the place otherwise.
    NOTICE_NUMBER_SHARED = "notice-number-shared", Error;
    /// Confusion of isolators is declared impossible, though two of them bear the same designation.
    ///
    /// The locations are printed all the same, because only they tell the two devices apart.
    CONFUSION_IS_POSSIBLE = "confusion-is-possible", Warning;
    /// Something stays live after the isolator is off, and nothing says where that is isolated.
    ///
    /// The notice can only warn of it. Fill in `upstream_isolator` and `upstream_location`.
    LINE_SIDE_ISOLATION_NOT_GIVEN = "line-side-isolation-not-given", Warning;
    /// Several parts stay live, several devices are said to isolate them, and nothing says which isolates which.
    ///
    /// The notice says that all of these devices must be opened, but the notice of each names the whole circuit, which it may not
    /// disconnect. A part that another circuit feeds is a further way into the enclosure: give it a row of its own.
    LINE_SIDE_PARTS_TOGETHER = "line-side-parts-together", Warning;
    /// With the device open that is said to isolate what stays live, the supplies file still shows a path to it.
    ///
    /// Whoever switches that device off and works on the incoming terminals works on live ones, so the notice does not name
    /// it. Name in `upstream_isolator` every device by whose opening those terminals are dead, or correct what the supplies
    /// file says of their feeds and of what the device switches.
    LINE_SIDE_STAYS_LIVE = "line-side-stays-live", Error;
    /// The supplies file does not describe enough to tell whether the device named upstream isolates what stays live.
    ///
    /// The notice names the device on the survey's word, unproved; where the file shows a path to those terminals and does
    /// not have the device, the notice says that nobody knows. Describe it and all that feeds those terminals in the
    /// supplies file, or write its designation and location alike in both files.
    LINE_SIDE_NOT_PROVED = "line-side-not-proved", Warning;
    /// There are two or more sources, and no enclosure has a role, or none is the origin.
    ///
    /// Notices of alternative sources belong at the origin, at a remote meter, at the board where the sources meet and
    /// at every point of isolation. Without roles nobody can tell which enclosures these are, and where some are given, all
    /// others count as none of these places. Fill in `role`, the `origin` first.
    ROLES_NOT_GIVEN = "roles-not-given", Warning;
    /// A board has the role `board`, where sources meet, and its rows do not name two sources.
    ///
    /// What can feed back to it, such as solar modules or a generator, is then missing from its notice, and with it the
    /// isolator. Add a row for each way by which a source reaches the board. Until then its notice names every source of
    /// the installation.
    BOARD_WITHOUT_SOURCES = "board-without-sources", Warning;
    /// A UPS feeds circuits, and no row tells which isolators feed the UPS.
    ///
    /// Those isolators need a notice, because the UPS can feed back to them. Survey the UPS as an enclosure of its own
    /// designation, or name it in `serves` of the circuits that feed it.
    UPS_INPUT_NOT_FOUND = "ups-input-not-found", Warning;
    /// A converter, UPS or capacitor has no figures for its stored charge.
    ///
    /// Nobody can then tell how long to wait. Fill in `stored_v` and `discharge_s` from the maker's documents.
    STORED_CHARGE_NOT_KNOWN = "stored-charge-not-known", Warning;
    /// An enclosure is a UPS by its designation or name, and no row lists its battery.
    ///
    /// With its feeders off a UPS is live from its battery, and a notice that names the feeders alone sends a person to live
    /// parts. Add a row for the battery, wherever it stands, with its isolator or `none`.
    UPS_BATTERY_NOT_LISTED = "ups-battery-not-listed", Warning;
    /// With every isolator open that the rows of an enclosure list, the supplies file still shows a path to a live part.
    ///
    /// The notice would send a person to points of isolation that are not all of them, so none is printed for the
    /// enclosure. Either a row is missing, such as a solar inverter or a generator that feeds back: add it with its
    /// isolator. Or a row, or the supplies file, names the wrong device or feed: correct it. `noticewright why SURVEY
    /// ENCLOSURE` shows the whole path.
    LIVE_WITH_EVERYTHING_OPEN = "live-with-everything-open", Error;
    /// A row names a device as its isolator that the supplies file describes as not suitable for isolation.
    ///
    /// A contactor, a semiconductor switch, or a changeover without an off position can leave its circuit connected, and
    /// a board, transformer or converter cannot be opened at all. Name the device that isolates the circuit, or correct
    /// `kind` or `off_position` in the supplies file.
    ISOLATOR_NOT_SUITABLE = "isolator-not-suitable", Error;
    /// A UPS can feed back to an enclosure with its isolators open, and no row of the enclosure names the UPS.
    ///
    /// A UPS may make its own supply terminals live when the supply is lost, and its description does not rule that out.
    /// Add a row for the UPS with the isolator between it and the enclosure. Until then the notice says that back-feed is
    /// possible.
    BACK_FEED_NOT_LISTED = "back-feed-not-listed", Warning;
    /// A supplies file is there, and it does not describe enough to tell whether an enclosure stays live.
    ///
    /// The notice lists what the survey declares, unproved. Describe in the supplies file what the finding names; other
    /// gaps may then show.
    PROOF_NOT_POSSIBLE = "proof-not-possible", Warning;
    /// The supplies file places a UPS, charger, drive or other converter in an enclosure of another name, or the survey spells
    /// its name otherwise, and energy may come to its output terminals.
    ///
    /// A bypass, a battery or another source can keep an output live with the input off. Only the output of an enclosure that
    /// bears the name of the device is proved. Let an enclosure of the survey bear that name, with a row for each way in and
    /// one for the output: in `isolator` what stands between the device and what it feeds, in `fed_from` what energy comes
    /// from there.
    OUTPUT_NOT_PROVED = "output-not-proved", Warning;
    /// A row of a UPS is held for its output terminals, and by its `serves` it is something else.
    ///
    /// The isolator of an output parts the terminals of the UPS from the bypass and from other sources beyond it. What hangs
    /// beyond it stays live from there. Say `output` in `serves` if the row is the output of the UPS; otherwise name the
    /// isolator between the circuit and the board that feeds it.
    PERHAPS_NOT_THE_OUTPUT = "perhaps-not-the-output", Warning;
    /// An isolator that a notice lists changes nothing while the other ones listed are open.
    ///
    /// It stays on the notice, because the survey declares it. Perhaps the supplies file lacks the feed that it parts, or
    /// the row names the wrong device.
    SURPLUS_ISOLATOR = "surplus-isolator", Advice;
    /// In the supplies file, fewer devices than a notice lists would leave no path to the enclosure.
    ///
    /// This is advice for whoever plans the work, and for a better arrangement of isolators. It never replaces what the
    /// survey declares, and a device far upstream lifts no notice.
    FEWER_DEVICES_WOULD_DO = "fewer-devices-would-do", Advice;
    /// A row names a source, and by the supplies file its circuit comes from another one.
    ///
    /// Whether a neutral can be live, whether something may start or stays live at any time goes by the source. Perhaps the
    /// survey has forgotten the row of a source. Correct `source` or `fed_from`, or add the row.
    SOURCE_CONTRADICTION = "source-contradiction", Warning;
    /// By the survey a circuit comes from a source that may start, and by the supplies file that source does not, or the other
    /// way round.
    ///
    /// A generator may start without warning unless somebody makes sure that it cannot, and the mains does not start. The
    /// notice warns as soon as one of the files does. Correct `starts_by_itself` in the supplies file, or `source`; of a
    /// generator that people start write `by hand` there.
    STARTING_CONTRADICTION = "starting-contradiction", Warning;
    /// The supplies file describes a source that no row of the survey names.
    ///
    /// The survey may have forgotten the ways by which it reaches enclosures, such as a generator or solar modules added
    /// later. Add their rows, or name the source in `source` of the rows that it feeds.
    SOURCE_NOT_NAMED = "source-not-named", Warning;
}
