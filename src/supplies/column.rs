//! The columns of a supplies file: name, whether needed, what it means, an example.

use crate::table::{OtherFile, columns};

columns! {
    /// A column of the supplies file. The order is the order in which `noticewright new` writes them.
    pub enum SupplyColumn;
    Device "device" true "Q7" "Designation of the source, device or board.";
    Kind "kind" true "breaker"
        "`source` `isolator` (any suitable device) `switch-disconnector` `disconnector` `breaker` `fuse` `link` `plug-socket` `network-cutout` `switch` (not suitable for isolation) `changeover` `transformer` `ups` `converter` `busbar`.";
    FedFrom "fed_from" false "DB-C"
        "What feeds it; ` + ` between where energy may flow from any of several, `@` and the location behind a designation that several devices bear. Empty for a source only.";
    Location "location" false "Switchroom 1, board C"
        "Where it is; designation and location together identify a device.";
    Locking "locking" false "padlock" "How it is secured off.";
    Interlock "interlock" false "IL-2" "Name of the interlock that it belongs to.";
    InterlockKind "interlock_kind" false "coupled"
        "`coupled` (one handle opens all) `trapped-key` `auxiliary-contact` `no-parallel`.";
    Poles "poles" false "3+N"
        "What it switches: `1` `2` `3` `1+N` `3+N`. A changeover without `+N` leaves the neutrals of its feeds joined.";
    Nominal "nominal" false "230/400"
        "Nominal voltage of a source, and of the output of a transformer, UPS or converter.";
    Earthing "earthing" false "TN-S" "Earthing of a source, and of the output of a transformer, UPS or converter.";
    InStepWith "in_step_with" false "Network"
        "Sources that it is held in step with, ` + ` between; blank is not in step.";
    Phasing "phasing" false "proved"
        "`proved` where line 1 is line 1 of what feeds it; for a transformer its vector group, such as `Dyn11`.";
    StartsByItself "starts_by_itself" false "yes" "May it start without warning? `yes`, `by hand` (people start it) or `no`.";
    OffPosition "off_position" false "no"
        "Has a changeover a position in which nothing is connected? `yes` or `no`; it isolates only then.";
    Size "size" false "A8" "Wanted size of its notice: an ISO 216 name or mm.";
    ReadingDistance "reading_distance" false "0.7" "From how far its notice is read, metres.";
    Environment "environment" false "indoor"
        "Any of `indoor` `outdoor` `sun` `washdown` `solvent` `heat` and `cold` (with °C), `;` between.";
    Surface "surface" false "painted-metal" "`painted-metal` `bare-metal` `plastic` `textured` `curved`.";
    RecordLink "record_link" false "SCS-D-007" "Record number or link for the code of its notice; `-` for none.";
    Note "note" false "" "Free text, printed on the schedule only.";
}

impl SupplyColumn {
    pub(super) const KEY: Self = Self::Device;
    pub(super) const KEY_IS_ENCLOSURE: bool = false;
    pub(super) const FILE: &'static str = "supplies file";
    pub(super) const ROW: &'static str = "each source, device and board";
    pub(super) const OTHER: OtherFile = OtherFile {
        file: "survey",
        columns: &["enclosure", "circuit", "isolator"],
        help: "name the supplies file with `--supplies`, and this file as the survey",
    };

    /// Whether the column holds the name of a thing, which a spreadsheet likes to turn into something else.
    #[must_use]
    pub const fn is_designation(self) -> bool {
        matches!(self, Self::Device | Self::FedFrom | Self::Interlock | Self::InStepWith)
    }

    /// Whether the column holds free text, in which even a date has its sense.
    pub(super) const fn is_free(self) -> bool {
        matches!(self, Self::Note)
    }

    /// Whether the column holds words that are printed or compared, so that a figure nought alone has no sense.
    pub(super) const fn is_worded(self) -> bool {
        use SupplyColumn as C;
        matches!(self, C::FedFrom | C::Location | C::Locking | C::Interlock | C::InStepWith)
    }

    /// Whether a blank cell already says that nobody knows.
    pub(super) const fn blank_is_unknown(self) -> bool {
        use SupplyColumn as C;
        match self {
            C::FedFrom | C::Location | C::Locking | C::Poles | C::Nominal | C::Earthing | C::Phasing => true,
            C::OffPosition | C::Environment | C::Surface | C::Note => true,
            C::Device | C::Kind | C::Interlock | C::InterlockKind | C::InStepWith | C::StartsByItself => false,
            C::Size | C::ReadingDistance | C::RecordLink => false,
        }
    }

    /// What to do where a needed cell is empty.
    pub(super) const fn if_empty(self) -> &'static str {
        if matches!(self, Self::Kind) {
            "say what it is: `source`, `isolator`, `breaker`, `busbar` or another word of this column"
        } else {
            "write its designation: what has none cannot feed anything"
        }
    }
}
