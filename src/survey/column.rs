//! The columns of a survey: name, level, whether needed, what it means, an example.

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

/// Declares the columns; the meaning of each is also its documentation.
macro_rules! columns {
    ($($column:ident $name:literal $level:ident $needed:literal $example:literal $meaning:literal;)+) => {
        /// A column of the survey. The order is the order in which `noticewright new` writes them.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Column {
            $(#[doc = $meaning] $column,)+
        }

        impl Column {
            /// Every column, in order.
            pub const ALL: &'static [Self] = &[$(Self::$column),+];

            /// How many columns there are.
            pub const COUNT: usize = Self::ALL.len();

            /// The header as a survey spells it: `fed_from`.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $(Self::$column => $name,)+ }
            }

            /// Whether it speaks of the enclosure or of one row.
            #[must_use]
            pub const fn level(self) -> Level {
                match self { $(Self::$column => Level::$level,)+ }
            }

            /// Whether a survey must have it.
            #[must_use]
            pub const fn needed(self) -> bool {
                match self { $(Self::$column => $needed,)+ }
            }

            /// What its cells mean, in a sentence or two.
            #[must_use]
            pub const fn meaning(self) -> &'static str {
                match self { $(Self::$column => $meaning,)+ }
            }

            /// One cell as a practitioner would fill it; empty where an example would not help.
            #[must_use]
            pub const fn example(self) -> &'static str {
                match self { $(Self::$column => $example,)+ }
            }
        }
    };
}

columns! {
    Enclosure "enclosure" Enclosure true "CH3-JB2" "Designation of the enclosure; groups the rows.";
    Name "name" Enclosure false "Evaporator junction box" "What the enclosure is, in words.";
    Area "area" Enclosure false "Chamber 3" "Building, floor or room; for the order of the notices and for filters.";
    Role "role" Enclosure false "board"
        "What it is in the installation, `;` between: `origin` `meter` `board` (where sources meet) `isolating-point`.";
    Positions "positions" Enclosure false "left of the door; rear panel"
        "Where notices are fixed, `;` between, one notice each; blank is a fixed part seen before opening.";
    Circuit "circuit" Row true "DB-C/7" "Designation of the circuit.";
    Serves "serves" Row false "defrost heater" "What the circuit does here.";
    FedFrom "fed_from" Row false "DB-C"
        "The board, transformer or source it comes from; different ones are different supplies.";
    Source "source" Row false "mains"
        "Where its energy comes from in the end: `mains` `generator` `solar` `battery` `ups` `vehicle` or a name; blank is unknown, never mains.";
    Nominal "nominal" Row false "230/400"
        "Nominal voltage: `230/400` (line to neutral / between lines), `230` (to neutral), `55/110`, `63.5/110`, `600 dc`; a bare `110` must state `earthing`.";
    Conductors "conductors" Row false "L2 N" "Live conductors present: `L1`, `L1 L2 L3 N`, `+ -`.";
    Earthing "earthing" Row false "TN-S"
        "`TN-S` `TN-C-S` `TT` `IT` `line-earthed` `midpoint` `pole-earthed` `unearthed` `SELV` `PELV` `FELV`.";
    VoltageToEarth "voltage_to_earth" Row true "230" "Highest nominal voltage to earth, volts.";
    Expected "expected" Row false "no"
        "Would a person expect this voltage here? `yes` or `no`; blank is no where above 230 V.";
    Isolator "isolator" Row true "Q7"
        "Device that isolates it; ` + ` where several must be opened; `none` if it cannot be isolated; `?` if not known.";
    IsolatorLocation "isolator_location" Row true "Switchroom 1, board C"
        "Where that device is; ` + ` in the same order. Designation and location together identify a device.";
    DeviceKind "device_kind" Row false "breaker"
        "`switch-disconnector` `disconnector` `breaker` `fuse` `link` `plug-socket` `network-cutout` (the network operator's: never the user's point of isolation).";
    Poles "poles" Row false "3+N" "What the device switches: `1` `2` `3` `1+N` `3+N`.";
    OnLoad "on_load" Row false "no" "May it be opened under load? `yes` or `no`; `no` is printed.";
    Order "order" Row false "1" "Sequence number where the order of isolation matters; printed.";
    BeforeIsolating "before_isolating" Row false "tell the lift users" "What to do or warn of first; printed.";
    Locking "locking" Row false "padlock" "How the device is secured off.";
    Interlock "interlock" Row false "IL-2" "Name of the interlock that the device belongs to.";
    InterlockKind "interlock_kind" Row false "trapped-key"
        "`coupled` (one handle opens every row) `trapped-key` (every row isolated before access) `auxiliary-contact` `no-parallel`; blank lifts nothing.";
    LiveAfter "live_after" Row false "incoming terminals of Q7"
        "What stays live inside when the isolator is off.";
    UpstreamIsolator "upstream_isolator" Row false "Q1" "The device that makes those parts dead; ` + ` between several.";
    UpstreamLocation "upstream_location" Row false "Switchroom 1" "Where that device is.";
    NeutralFrom "neutral_from" Row false "DB-C/9" "A circuit whose neutral this one shares or borrows.";
    StoredV "stored_v" Row false "565" "Stored voltage at the moment of isolation, volts d.c.";
    DischargeS "discharge_s" Row false "300" "Seconds until the stored voltage is below the limit.";
    PvSeries "pv_series" Row false "12" "Solar modules in series.";
    PvVoc "pv_voc" Row false "49.5" "Open-circuit volts of one module at standard test conditions.";
    PvBeta "pv_beta" Row false "-0.27" "Temperature coefficient of the open-circuit voltage, per cent per degree Celsius.";
    PvTmin "pv_tmin" Row false "-10" "Lowest module temperature, degrees Celsius.";
    NoConfusion "no_confusion" Enclosure false "one isolator beside the other, JD"
        "Why isolator locations may be left out and, after a comma, who says so; blank is no.";
    PurposeObvious "purpose_obvious" Enclosure false "the only switch in the room, JD"
        "Why the isolators need no label and, after a comma, who says so; blank is no.";
    Space "space" Enclosure false "120x80" "Free flat area for a notice, width x height in millimetres.";
    Size "size" Enclosure false "A7" "Wanted size of the notice: `A8` to `A3` (lying, or `A7 portrait`) or millimetres, `120x80`.";
    ReadingDistance "reading_distance" Enclosure false "1.5" "From how far the words are read, metres.";
    SignDistance "sign_distance" Enclosure false "3" "From how far the sign is seen, metres; blank is the reading distance.";
    Environment "environment" Enclosure false "outdoor; sun"
        "What the notice must stand up to: `indoor` `outdoor` `sun` `washdown` `solvent` `heat 70` (degrees Celsius), `;` between.";
    Surface "surface" Enclosure false "plastic"
        "What it is fixed on: `painted-metal` `bare-metal` `plastic` `textured` `curved`.";
    RecordLink "record_link" Enclosure false "" "Record number or link for the code; `-` for none.";
    Basis "basis" Row false "traced"
        "How the row is known: `proved` `traced` `drawing` `assumed`; `assumed` never yields \"not needed\".";
    Drawing "drawing" Enclosure false "CS-E-104" "Reference of a drawing; on the schedule only.";
    Note "note" Enclosure false "" "Free text; on the schedule only.";
}

impl Column {
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

    /// The column whose header reads alike, without regard to case, spaces, `_` and `-`.
    #[must_use]
    pub fn named(header: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|column| same_name(column.name(), header))
    }
}

/// A name without what is not looked at when names are compared: case, spaces, `_` and `-`.
#[must_use]
pub fn folded(name: &str) -> String {
    significant(name).collect()
}

/// Whether two names are the same without regard to case, spaces, `_` and `-`.
#[must_use]
pub fn same_name(one: &str, other: &str) -> bool {
    significant(one).eq(significant(other))
}

fn significant(name: &str) -> impl Iterator<Item = char> + '_ {
    name.chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '_' | '-' | '\u{2010}'..='\u{2015}'))
        .flat_map(char::to_lowercase)
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
