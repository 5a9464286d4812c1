//! The columns of a list of standing notices: name, whether needed, what it means, an example.

use crate::table::{OtherFile, columns};

columns! {
    /// A column of the list of standing notices, in the order in which a person would fill them in.
    pub enum StandingColumn;
    Number "number" true "STN-1"
        "Designation of the notice, its own on the whole site: it stands in the small line and finds the notice again.";
    Kind "kind" true "periodic-inspection"
        "`periodic-inspection` `rcd-test` `earthing-connection` `earth-free-location` `surge-protection` `firefighters-switch` `mixed-colours`.";
    Area "area" false "Switchroom 1" "Building, floor or room: for order and filters.";
    Position "position" false "inside the door of DB-A" "Where it is fixed.";
    LastInspection "last_inspection" false "2026-05-14"
        "Date of the last inspection, year-month-day or day month year; empty leaves a line to write on.";
    NextInspection "next_inspection" false "2031-05-14"
        "Recommended date of the next inspection; empty leaves a line to write on.";
    Words "words" false ""
        "The words as your own copy of the standard gives them; they take the place of ours. A dash with blanks round it parts the heading from the rest.";
    Size "size" false "A7" "Wanted size: an ISO 216 name or mm.";
    ReadingDistance "reading_distance" false "0.7" "From how far it is read, metres.";
    Environment "environment" false "indoor"
        "Any of `indoor` `outdoor` `sun` `washdown` `solvent` `heat` and `cold` (with °C), `;` between.";
    Surface "surface" false "painted-metal" "`painted-metal` `bare-metal` `plastic` `textured` `curved`.";
    RecordLink "record_link" false "SCS-S-001" "Record number or link for a code; without one the notice has none.";
    Note "note" false "" "Free text; never on a notice.";
}

impl StandingColumn {
    pub(super) const KEY: Self = Self::Number;
    pub(super) const KEY_IS_ENCLOSURE: bool = false;
    pub(super) const FILE: &'static str = "list of standing notices";
    pub(super) const ROW: &'static str = "each standing notice";
    pub(super) const OTHER: OtherFile = OtherFile {
        file: "survey",
        columns: &["enclosure", "circuit", "isolator"],
        help: "name the list with `--standing`, and this file as the survey",
    };

    /// Whether the column holds the name of a thing, which a spreadsheet likes to turn into something else.
    #[must_use]
    pub const fn is_designation(self) -> bool {
        matches!(self, Self::Number)
    }

    /// Whether a date has its sense in the column: free text, and the dates themselves.
    pub(super) const fn is_free(self) -> bool {
        matches!(self, Self::Note | Self::Words | Self::Position | Self::LastInspection | Self::NextInspection)
    }

    /// Whether the column holds words that are printed or compared, so that a figure nought alone has no sense.
    pub(super) const fn is_worded(self) -> bool {
        matches!(self, Self::Area | Self::Position | Self::Words)
    }

    /// Whether a blank cell already says that nobody knows: a date that is not known is written by hand later.
    pub(super) const fn blank_is_unknown(self) -> bool {
        use StandingColumn as C;
        match self {
            C::Area | C::Position | C::LastInspection | C::NextInspection => true,
            C::Environment | C::Surface | C::Note => true,
            C::Number | C::Kind | C::Words | C::Size | C::ReadingDistance | C::RecordLink => false,
        }
    }

    /// What to do where a needed cell is empty.
    pub(super) const fn if_empty(self) -> &'static str {
        if matches!(self, Self::Kind) {
            "say what it is: `periodic-inspection`, `rcd-test`, `earthing-connection` or another word of this column"
        } else {
            "write a designation of its own, such as `STN-1`: by it the notice is found and replaced"
        }
    }
}
