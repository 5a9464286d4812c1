//! The one table of everything that can be found: code, severity, and the text that explains it.

use super::Severity;

/// A kind of finding. Two codes are the same if their names are.
#[derive(Clone, Copy, Debug)]
pub struct Code {
    /// What is found, in words joined by hyphens: stable from version to version.
    pub name: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// What it means, why it matters and how to mend it.
    pub explanation: &'static str,
}

impl PartialEq for Code {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

impl Eq for Code {}

/// Declares the codes: the doc text of each is what `noticewright why CODE` prints.
macro_rules! codes {
    ($($(#[doc = $line:literal])+ $constant:ident = $name:literal, $severity:ident;)+) => {
        pub(super) mod names {
            use super::{Code, Severity};
            $(
                $(#[doc = $line])+
                pub const $constant: Code = Code {
                    name: $name,
                    severity: Severity::$severity,
                    explanation: concat!($($line, "\n"),+),
                };
            )+
        }

        /// Every kind of finding there is, in the order of the stages that report it.
        #[must_use]
        pub const fn table() -> &'static [Code] {
            &[$(names::$constant),+]
        }
    };
}

/// The kind of finding with this name.
#[must_use]
pub fn find(name: &str) -> Option<Code> {
    table().iter().copied().find(|code| code.name == name)
}

codes! {
    // ---- reading the survey -------------------------------------------------------------------------------------
    /// A quotation mark opens a field and none closes it: everything to the end of the file is one field.
    ///
    /// Rows would be lost without a word. The place shown is where the mark opened. Close it, or double it if it
    /// belongs to the text.
    UNCLOSED_QUOTE = "unclosed-quote", Error;

    // ---- joining the rows into a network ------------------------------------------------------------------------
    /// A device is named but not where it is.
    ///
    /// A notice that names an isolator without its place sends a person looking while the enclosure is live. Give the
    /// location in the same order as the devices.
    ISOLATOR_WITHOUT_LOCATION = "isolator-without-location", Error;
    /// Two rows name the same device, and say different things of its kind, poles, use under load or locking.
    ///
    /// One of the rows is wrong, or two devices bear the same designation in the same place. Either way the notice could
    /// send a person to the wrong device. Correct the row, or tell the two devices apart by designation or location.
    DEVICE_CONTRADICTION = "device-contradiction", Error;
    /// Two devices differ only in the punctuation or case of their designation or location.
    ///
    /// They are taken for two devices, so that a notice may ask for two isolators where there is one. If one device is
    /// meant, write it alike in every row.
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

    // ---- deciding which notices are needed ----------------------------------------------------------------------
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
    /// It is not known which conductors a device switches, and here that matters.
    ///
    /// One device lifts a notice only if it switches every live conductor. Fill in `poles`, `conductors`, `earthing` and
    /// `source`; until then the notice is printed.
    SWITCHING_NOT_KNOWN = "switching-not-known", Warning;
    /// Nothing says how a device is secured in the off position.
    ///
    /// An isolator that cannot be locked off can be closed again while someone works. Fill in `locking`.
    ISOLATOR_WITHOUT_LOCKING = "isolator-without-locking", Warning;
    /// One device has two places in the sequence of the same enclosure.
    ///
    /// The notice would number the points in a wrong order. Correct `order` in one of the rows.
    ORDER_CONTRADICTION = "order-contradiction", Error;
    /// An interlock that could lift a notice does not cover every row of the enclosure.
    ///
    /// It lifts a notice only if it isolates everything before access is possible. If it does, name it in every row.
    INTERLOCK_NOT_ON_EVERY_ROW = "interlock-not-on-every-row", Warning;
    /// Devices that one handle is said to open stand in different places.
    ///
    /// One handle opens devices that are built together. Until the places agree, the interlock is not taken for one device.
    COUPLED_DEVICES_APART = "coupled-devices-apart", Warning;
    /// Confusion of isolators is declared impossible, though two of them bear the same designation.
    ///
    /// The locations are printed all the same, because only they tell the two devices apart.
    CONFUSION_IS_POSSIBLE = "confusion-is-possible", Warning;
    /// Something stays live after the isolator is off, and nothing says where that is isolated.
    ///
    /// The notice can only warn of it. Fill in `upstream_isolator` and `upstream_location`.
    LINE_SIDE_ISOLATION_NOT_GIVEN = "line-side-isolation-not-given", Warning;
    /// The survey names two or more sources, and no enclosure has a role.
    ///
    /// Notices of alternative sources belong at the origin, at a remote meter, at the board where the sources meet and
    /// at every point of isolation. Without roles nobody can tell which enclosures these are. Fill in `role`.
    ROLES_NOT_GIVEN = "roles-not-given", Warning;
    /// A UPS feeds circuits, and no row tells which isolators feed the UPS.
    ///
    /// Those isolators need a notice, because the UPS can feed back to them. Survey the UPS as an enclosure of its own
    /// designation, or name it in `serves` of the circuits that feed it.
    UPS_INPUT_NOT_FOUND = "ups-input-not-found", Warning;
    /// A converter, UPS or capacitor has no figures for its stored charge.
    ///
    /// Nobody can then tell how long to wait. Fill in `stored_v` and `discharge_s` from the maker's documents.
    STORED_CHARGE_NOT_KNOWN = "stored-charge-not-known", Warning;

    // ---- saying and setting it ----------------------------------------------------------------------------------
    /// The notice does not fit at the smallest letters that can be read from the reading distance.
    ///
    /// Text is never cut or shrunk below that. Give the enclosure more space, a larger size, shorter place names or a
    /// shorter reading distance.
    NOTICE_DOES_NOT_FIT = "notice-does-not-fit", Error;

    // ---- laying it on sheets ------------------------------------------------------------------------------------
    /// No sheet format at hand has a cell of the size that the notice needs.
    ///
    /// `noticewright sheets` lists the formats; a format of your own is one small file in the same form.
    NO_SHEET_FOR_SIZE = "no-sheet-for-size", Error;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_unique_and_explained() {
        let mut names: Vec<_> = table().iter().map(|code| code.name).collect();
        names.sort_unstable();
        let count = names.len();
        names.dedup();
        assert_eq!(names.len(), count);
        assert!(table().iter().all(|code| code.explanation.trim().len() > 40));
    }
}
