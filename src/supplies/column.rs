//! The columns of a supplies file: name, whether needed, what it means, an example.

macro_rules! columns {
    ($($column:ident $name:literal $needed:literal $example:literal $meaning:literal;)+) => {
        /// A column of the supplies file. The order is the order in which `noticewright new` writes them.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum SupplyColumn {
            $(#[doc = $meaning] $column,)+
        }

        impl SupplyColumn {
            /// Every column, in order.
            pub const ALL: &'static [Self] = &[$(Self::$column),+];

            /// How many columns there are.
            pub const COUNT: usize = Self::ALL.len();

            /// The header as a file spells it: `fed_from`.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $(Self::$column => $name,)+ }
            }

            /// Whether a supplies file must have it.
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
    Device "device" true "Q7" "Designation of the source, device or board.";
    Kind "kind" true "breaker"
        "`source` `isolator` (any suitable device) `switch-disconnector` `disconnector` `breaker` `fuse` `link` `plug-socket` `network-cutout` `switch` (not suitable for isolation) `changeover` `transformer` `ups` `converter` `busbar`.";
    FedFrom "fed_from" false "DB-C"
        "What feeds it; ` + ` between where energy may flow from any of several. Empty for a source only.";
    Location "location" false "Switchroom 1, board C"
        "Where it is; designation and location together identify a device.";
    Locking "locking" false "padlock" "How it is secured off.";
    Interlock "interlock" false "IL-2" "Name of the interlock that it belongs to.";
    InterlockKind "interlock_kind" false "coupled"
        "`coupled` (one handle opens all) `trapped-key` `auxiliary-contact` `no-parallel`.";
    Poles "poles" false "3+N" "What it switches: `1` `2` `3` `1+N` `3+N`.";
    Nominal "nominal" false "230/400"
        "Nominal voltage of a source, and of the output of a transformer, UPS or converter.";
    Earthing "earthing" false "TN-S" "Earthing of a source, and of the output of a transformer, UPS or converter.";
    InStepWith "in_step_with" false "Network"
        "Sources that it is held in step with, ` + ` between; blank is not in step.";
    Phasing "phasing" false "proved"
        "`proved` where line 1 is line 1 of what feeds it; for a transformer its vector group, such as `Dyn11`.";
    StartsByItself "starts_by_itself" false "yes" "May it start without warning? `yes` or `no`.";
    OffPosition "off_position" false "no"
        "Has a changeover a position in which nothing is connected? `yes` or `no`; it isolates only then.";
    Size "size" false "A8" "Wanted size of its notice: an ISO 216 name or mm.";
    ReadingDistance "reading_distance" false "0.7" "From how far its notice is read, metres.";
    Environment "environment" false "indoor"
        "Any of `indoor` `outdoor` `sun` `washdown` `solvent` `heat` (with °C), `;` between.";
    Surface "surface" false "painted-metal" "`painted-metal` `bare-metal` `plastic` `textured` `curved`.";
    RecordLink "record_link" false "SCS-D-007" "Record number or link for the code of its notice; `-` for none.";
    Note "note" false "" "Free text, printed on the schedule only.";
}
