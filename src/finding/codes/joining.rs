//! What can be wrong when rows are joined: devices, locations, interlocks, feeds.

use super::{Code, Severity};

codes! {
    /// A device is named but not where it is.
    ///
    /// A notice that names an isolator without its place sends a person looking while the enclosure is live. Give the
    /// location in the same order as the devices.
    ISOLATOR_WITHOUT_LOCATION = "isolator-without-location", Error;
    /// Two rows, of one file or of two, say different things of the kind, poles, use under load or locking of one device.
    ///
    /// One of the rows is wrong, or two devices bear the same designation in the same place. Either way the notice could
    /// send a person to the wrong device. Correct the row, or tell the two devices apart by designation or location.
    DEVICE_CONTRADICTION = "device-contradiction", Error;
    /// Two devices differ only in the punctuation or case of their designation or location, or in one letter of a location.
    ///
    /// They are taken for two devices, so that a notice may ask for two isolators where there is one, and the notice of the
    /// isolator lists a part of its circuits. If one device is meant, write it alike in every row.
    DEVICE_SPELT_TWO_WAYS = "device-spelt-two-ways", Warning;
    /// Two supplies differ only in punctuation.
    ///
    /// They are taken for two supplies, so that a notice may ask to isolate from several supplies where there is one. If
    /// one supply is meant, write `fed_from` alike in every row.
    SUPPLY_SPELT_TWO_WAYS = "supply-spelt-two-ways", Warning;
    /// An interlock lacks its name or its kind, or bears one name with two kinds.
    ///
    /// An interlock lifts a notice only where it is known what it does and that it covers every row. One that is not
    /// fully described lifts nothing.
    INTERLOCK_INCOMPLETE = "interlock-incomplete", Warning;
    /// A circuit shares or borrows the neutral of another circuit that is not among the rows of the enclosure.
    ///
    /// The shared neutral can stay live through the circuit that lends it, and the notice would not list that circuit's
    /// isolator. Add a row for it.
    NEUTRAL_LENDER_NOT_LISTED = "neutral-lender-not-listed", Warning;
    /// A declared voltage to earth is lower than the one that follows from the nominal voltage and the earthing.
    ///
    /// A notice that understates the voltage can kill. Correct the cell, or the nominal voltage or earthing beside it.
    VOLTAGE_UNDERSTATED = "voltage-understated", Error;
    /// A circuit of an unearthed system gives one nominal figure, and declares less than may stand to earth.
    ///
    /// At a first fault the voltage between lines stands to earth. A bare `230` may be that voltage, or the one to a neutral
    /// beside 400 V between lines. Write the pair: `230/400`, or `133/230` where 230 V is between three lines, `115/230` where
    /// it is between two.
    UNEARTHED_VOLTAGE_NOT_TOLD = "unearthed-voltage-not-told", Error;
    /// A declared voltage to earth is higher than the one that follows from the nominal voltage and the earthing.
    ///
    /// Often the voltage between lines was given instead of the one to earth. The higher value is used until the cell,
    /// the nominal voltage or the earthing is corrected.
    VOLTAGE_OVERSTATED = "voltage-overstated", Warning;
    /// A declared voltage to earth looks like a measured value or an old nominal one.
    ///
    /// The rules go by nominal voltage: 253 V measured on a 230 V supply is 230 V, and so is the old 240 V. Give the
    /// nominal value.
    VOLTAGE_LOOKS_MEASURED = "voltage-looks-measured", Warning;
    /// A circuit that is said to be SELV, PELV or FELV has more than 50 V a.c. or 120 V d.c.
    ///
    /// Nobody expects to be hurt by such a circuit, and one pole of it may be left connected. Either the voltage is wrong, or
    /// the system is earthed in another way: correct the cell.
    EXTRA_LOW_VOLTAGE_EXCEEDED = "extra-low-voltage-exceeded", Warning;
    /// Solar modules feed a d.c. circuit, and their figures are missing.
    ///
    /// The open-circuit voltage rises as the modules cool: it is modules in series x open-circuit volts x (1 + coefficient
    /// x (25 - lowest temperature)). Without these figures the notice carries what is declared, which may be too low.
    SOLAR_FIGURES_MISSING = "solar-figures-missing", Warning;
    /// A row has figures of solar modules, and its nominal voltage or its conductors are those of alternating current.
    ///
    /// One of them belongs to another circuit: modules give direct current, mostly of several times the voltage behind
    /// their inverter, and what feeds an inverter is switched otherwise than what it feeds. Give each its own row, or take
    /// the figures out.
    SOLAR_FIGURES_ON_AC = "solar-figures-on-ac", Error;
    /// An isolator of the survey, or a device that is said to isolate what stays live, is not described in the supplies file.
    ///
    /// What feeds it is then not known, and so it is not known whether opening it makes those parts dead. Give it a row
    /// of the supplies file, or write designation and location alike in both files.
    ISOLATOR_NOT_DESCRIBED = "isolator-not-described", Warning;
    /// A board, transformer or source from which the survey says that circuits come is not described in the supplies file.
    ///
    /// What else feeds it is then not known, and so it is not known whether the isolators listed make the enclosure dead.
    /// Give it a row of the supplies file, or write the designation alike in both files.
    SUPPLY_NOT_DESCRIBED = "supply-not-described", Warning;
    /// The supplies file has the designation of a device, and only at another location.
    ///
    /// Designation and location together identify a device, so it is taken for another one, and the one that the survey
    /// means is not described. Write the location alike in both files if one device is meant.
    DEVICE_AT_ANOTHER_LOCATION = "device-at-another-location", Warning;
    /// A designation alone is given where the supplies file describes several devices of that designation.
    ///
    /// Which of them is meant cannot be told, and taking the wrong one could leave a path unseen. Of an
    /// isolator give the location; in `fed_from` write designation, `@` and location: `Q13@Plant room, board F`.
    DESIGNATION_MEANS_SEVERAL = "designation-means-several", Warning;
    /// A row of the supplies file names what feeds it, or a source that it is in step with, and no row describes that.
    ///
    /// What lies behind it is then not known, and nothing that it feeds is proved. Give it a row, or correct the name.
    FEED_NOT_DESCRIBED = "feed-not-described", Warning;
    /// Devices of the supplies file feed each other in a circle, or one feeds itself.
    ///
    /// A ring that can be closed is described so and is searched in full. Mostly a row names the wrong device in
    /// `fed_from`. What names itself is left out, since no device is connected round itself.
    FED_IN_A_CIRCLE = "fed-in-a-circle", Warning;
    /// A device of the supplies file is no source, and nothing is said to feed it.
    ///
    /// What feeds it is then not known, and nothing that it feeds is proved. Fill in `fed_from`; if it is where energy
    /// comes from, its kind is `source`.
    DEVICE_NOT_FED = "device-not-fed", Warning;
    /// A device of the supplies file feeds nothing and is named by no row of the survey.
    ///
    /// It bears on no enclosure. It may be spelt otherwise where it is meant, or a row that it feeds may be missing.
    DEVICE_FEEDS_NOTHING = "device-feeds-nothing", Advice;
    /// The nominal voltage, the earthing or the kind of current of a row is another than what feeds it.
    ///
    /// In the survey: one of the two files is wrong, or the row hangs somewhere else than they say, and then its isolators
    /// are in doubt as well. In the supplies file: a row gives another nominal voltage than what feeds it, and is nothing
    /// that could change it. The higher voltage is used until a cell, or the way between the two, is corrected.
    SYSTEM_CONTRADICTION = "system-contradiction", Warning;
    /// A source does not say how it is earthed, and another one that feeds the same circuit does.
    ///
    /// A generator or an inverter that runs alone may be unearthed. At a first fault the full voltage between lines can then
    /// stand to earth, and nothing trips. Until `earthing` is filled in the circuit's own `earthing` is taken for it.
    SOURCE_EARTHING_NOT_TOLD = "source-earthing-not-told", Warning;
}
