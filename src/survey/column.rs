//! The columns of a survey: name, level, whether needed, what it means, an example.

use crate::table::{OtherFile, columns};

/// Whether a column speaks of the enclosure or of one row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Level {
    /// The same for every row of an enclosure; further rows may leave it empty.
    Enclosure,
    /// Each row has its own.
    Row,
}

impl Level {
    /// The word that column tables show.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Enclosure => "enclosure",
            Self::Row => "row",
        }
    }
}

columns! {
    /// A column of the survey. The order is the order in which `noticewright new` writes them.
    pub enum Column;
    Enclosure "enclosure" true "CH3-JB2" "Designation of the enclosure; groups the rows.";
    Name "name" false "Evaporator junction box" "What the enclosure is, in words.";
    Area "area" false "Chamber 3" "Building, floor or room; for the order of the notices and for filters.";
    Role "role" false "board"
        "What it is in the installation, `;` between: `origin` `meter` `board` (where sources meet) `isolating-point`.";
    Positions "positions" false "left of the door; rear panel"
        "Where notices are fixed, `;` between, one notice each; blank is a fixed part seen before opening.";
    Circuit "circuit" true "DB-C/7" "Designation of the circuit.";
    Serves "serves" false "defrost heater" "What the circuit does here.";
    FedFrom "fed_from" false "DB-C"
        "The board, transformer or source it comes from; different ones are different supplies.";
    Source "source" false "mains"
        "Where its energy comes from in the end: `mains` `generator` `solar` `battery` `ups` `vehicle` or a name; blank is unknown, never mains.";
    Nominal "nominal" false "230/400"
        "Nominal voltage: `230/400` (line to neutral / between lines), `230` (to neutral), `55/110`, `63.5/110`, `600 dc`; a bare `110` must state `earthing`.";
    Conductors "conductors" false "L2 N" "Live conductors present: `L1`, `L1 L2 L3 N`, `+ -`.";
    Earthing "earthing" false "TN-S"
        "`TN-S` `TN-C-S` `TN-C` `TT` `IT` `line-earthed` `midpoint` `pole-earthed` `positive-earthed` `negative-earthed` `unearthed` `SELV` `PELV` `FELV`.";
    VoltageToEarth "voltage_to_earth" true "230" "Highest nominal voltage to earth, volts.";
    Expected "expected" false "no"
        "Would a person expect this voltage here? `yes` or `no`; blank is no where above 230 V.";
    Isolator "isolator" true "Q7"
        "Device that isolates it; ` + ` where several must be opened; `none` if it cannot be isolated; `?` if not known.";
    IsolatorLocation "isolator_location" true "Switchroom 1, board C"
        "Where that device is; ` + ` in the same order. Designation and location together identify a device.";
    DeviceKind "device_kind" false "breaker"
        "`switch-disconnector` `disconnector` `breaker` `fuse` `link` `plug-socket` `network-cutout` (the network operator's: never the user's point of isolation).";
    Poles "poles" false "3+N" "What the device switches: `1` `2` `3` `1+N` `3+N`.";
    OnLoad "on_load" false "no" "May it be opened under load? `yes` or `no`; `no` is printed.";
    Order "order" false "1" "Sequence number where the order of isolation matters; printed.";
    BeforeIsolating "before_isolating" false "tell the lift users" "What to do or warn of first; printed.";
    Locking "locking" false "padlock" "How the device is secured off.";
    Interlock "interlock" false "IL-2" "Name of the interlock that the device belongs to.";
    InterlockKind "interlock_kind" false "trapped-key"
        "`coupled` (one handle opens every row) `trapped-key` (every row isolated before access) `auxiliary-contact` `no-parallel`; blank lifts nothing.";
    LiveAfter "live_after" false "incoming terminals of Q7"
        "What stays live inside when the isolator is off.";
    UpstreamIsolator "upstream_isolator" false "Q1" "The device that makes those parts dead; ` + ` between several.";
    UpstreamLocation "upstream_location" false "Switchroom 1" "Where that device is.";
    NeutralFrom "neutral_from" false "DB-C/9" "A circuit whose neutral this one shares or borrows.";
    StoredV "stored_v" false "565" "Stored voltage at the moment of isolation, volts d.c.";
    DischargeS "discharge_s" false "300" "Seconds until the stored voltage is below the limit.";
    PvSeries "pv_series" false "12" "Solar modules in series.";
    PvVoc "pv_voc" false "49.5" "Open-circuit volts of one module at standard test conditions.";
    PvBeta "pv_beta" false "-0.27" "Temperature coefficient of the open-circuit voltage, per cent per degree Celsius.";
    PvTmin "pv_tmin" false "-10" "Lowest module temperature, degrees Celsius.";
    NoConfusion "no_confusion" false "one isolator beside the other, JD"
        "Why isolator locations may be left out and, after a comma, who says so; blank is no.";
    PurposeObvious "purpose_obvious" false "the only switch in the room, JD"
        "Why the isolators need no label and, after a comma, who says so; blank is no.";
    Space "space" false "120x80" "Free flat area for a notice, width x height in millimetres.";
    Size "size" false "A7" "Wanted size of the notice: `A8` to `A3` (lying, or `A7 portrait`) or millimetres, `120x80`.";
    ReadingDistance "reading_distance" false "1.5" "From how far the words are read, metres.";
    SignDistance "sign_distance" false "3" "From how far the sign is seen, metres; blank is the reading distance.";
    Environment "environment" false "outdoor; sun"
        "What the notice must stand up to: `indoor` `outdoor` `sun` `washdown` `solvent` `heat 70` `cold -28` (degrees Celsius), `;` between.";
    Surface "surface" false "plastic"
        "What it is fixed on: `painted-metal` `bare-metal` `plastic` `textured` `curved`.";
    RecordLink "record_link" false "" "Record number or link for the code; `-` for none.";
    Basis "basis" false "traced"
        "How the row is known: `proved` `traced` `drawing` `assumed`; `assumed` never yields \"not needed\".";
    Drawing "drawing" false "CS-E-104" "Reference of a drawing; on the schedule only.";
    Note "note" false "" "Free text; on the schedule only.";
}

impl Column {
    pub(super) const KEY: Self = Self::Enclosure;
    pub(super) const KEY_IS_ENCLOSURE: bool = true;
    pub(super) const FILE: &'static str = "survey";
    pub(super) const ROW: &'static str = "each way in which energy can reach an enclosure";
    pub(super) const OTHER: OtherFile = OtherFile {
        file: "supplies file",
        columns: &["device", "kind"],
        help: "name the survey in its place, and this file with `--supplies`",
    };

    /// Whether it speaks of the enclosure or of one row.
    #[must_use]
    pub const fn level(self) -> Level {
        use Column as C;
        match self {
            C::Enclosure
            | C::Name
            | C::Area
            | C::Role
            | C::Positions
            | C::NoConfusion
            | C::PurposeObvious
            | C::Space
            | C::Size
            | C::ReadingDistance
            | C::SignDistance
            | C::Environment
            | C::Surface
            | C::RecordLink
            | C::Drawing
            | C::Note => Level::Enclosure,
            C::Circuit
            | C::Serves
            | C::FedFrom
            | C::Source
            | C::Nominal
            | C::Conductors
            | C::Earthing
            | C::VoltageToEarth
            | C::Expected
            | C::Isolator
            | C::IsolatorLocation
            | C::DeviceKind
            | C::Poles
            | C::OnLoad
            | C::Order
            | C::BeforeIsolating
            | C::Locking
            | C::Interlock
            | C::InterlockKind
            | C::LiveAfter
            | C::UpstreamIsolator
            | C::UpstreamLocation
            | C::NeutralFrom
            | C::StoredV
            | C::DischargeS
            | C::PvSeries
            | C::PvVoc
            | C::PvBeta
            | C::PvTmin
            | C::Basis => Level::Row,
        }
    }

    /// Whether the column holds the name of a thing, which a spreadsheet likes to turn into something else.
    #[must_use]
    pub const fn is_designation(self) -> bool {
        matches!(
            self,
            Self::Enclosure
                | Self::Circuit
                | Self::FedFrom
                | Self::Isolator
                | Self::UpstreamIsolator
                | Self::NeutralFrom
                | Self::Interlock
        )
    }

    /// Whether the column holds free text, in which even a date has its sense.
    pub(super) const fn is_free(self) -> bool {
        matches!(self, Self::Note | Self::Drawing)
    }

    /// Whether the column holds words that are printed or compared, so that a figure nought alone has no sense.
    pub(super) const fn is_worded(self) -> bool {
        use Column as C;
        matches!(
            self,
            C::Name
                | C::Area
                | C::Positions
                | C::Serves
                | C::FedFrom
                | C::Source
                | C::IsolatorLocation
                | C::BeforeIsolating
                | C::Locking
                | C::Interlock
                | C::LiveAfter
                | C::UpstreamLocation
                | C::NeutralFrom
        )
    }

    /// Whether a blank cell already says that nobody knows.
    pub(super) const fn blank_is_unknown(self) -> bool {
        use Column as C;
        match self {
            C::Name | C::Area | C::Role | C::Serves | C::FedFrom | C::Source | C::Nominal | C::Conductors => true,
            C::Earthing | C::DeviceKind | C::Poles | C::Locking | C::Space | C::Environment | C::Surface => true,
            C::Basis | C::Drawing | C::Note | C::UpstreamIsolator | C::UpstreamLocation => true,
            C::Enclosure | C::Positions | C::Circuit | C::VoltageToEarth | C::Expected | C::Isolator => false,
            C::IsolatorLocation | C::OnLoad | C::Order | C::BeforeIsolating | C::Interlock => false,
            C::InterlockKind | C::LiveAfter | C::NeutralFrom | C::StoredV | C::DischargeS | C::PvSeries => false,
            C::PvVoc | C::PvBeta | C::PvTmin | C::NoConfusion | C::PurposeObvious | C::Size => false,
            C::ReadingDistance | C::SignDistance | C::RecordLink => false,
        }
    }

    /// What to do where a needed cell is empty.
    pub(super) const fn if_empty(self) -> &'static str {
        if matches!(self, Self::Isolator) {
            "name the device; write `none` if it cannot be isolated, `?` if it is not known"
        } else if matches!(self, Self::Enclosure) {
            "write the designation on every row of the enclosure"
        } else {
            "fill it in: without it the notice would say less than a person must know"
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_found_without_regard_to_case_and_joints() {
        for &column in Column::ALL {
            assert_eq!(Column::named(column.name()), Some(column));
            assert_eq!(Column::named(&column.name().to_uppercase().replace('_', " ")), Some(column));
            assert_eq!(Column::named(&column.name().replace('_', "-")), Some(column));
        }
        assert_eq!(Column::named("isolater"), None);
    }

    #[test]
    fn five_columns_are_needed() {
        let needed: Vec<_> = Column::ALL.iter().filter(|c| c.needed()).map(|c| c.name()).collect();
        assert_eq!(needed, ["enclosure", "circuit", "voltage_to_earth", "isolator", "isolator_location"]);
    }
}
