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
    /// The file has more bytes than are accepted.
    ///
    /// What is too large is not read at all, so that a wrong file cannot fill the memory. Split the survey, or raise
    /// the limit in the job file.
    FILE_TOO_LARGE = "file-too-large", Error;
    /// The file is of a kind that holds no survey: a picture, a PDF, an old binary spreadsheet.
    ///
    /// Nothing in it can be read. Save the survey as CSV in UTF-8, or as `.xlsx` or `.ods`.
    FOREIGN_FILE = "foreign-file", Error;
    /// The workbook cannot be opened.
    ///
    /// It is damaged, protected by a password, or larger inside than is accepted. Open it in a spreadsheet program and
    /// save it again, or save it as CSV in UTF-8.
    WORKBOOK_UNREADABLE = "workbook-unreadable", Error;
    /// The workbook has more than one sheet that looks like a survey, and one of them is read.
    ///
    /// What stands on the others would be missing from the notices. Put everything on one sheet, or save the wanted
    /// sheet on its own.
    SEVERAL_SHEETS = "several-sheets", Warning;
    /// The file is empty.
    ///
    /// Perhaps the wrong file was named, or saving it failed. `noticewright new` writes a starter survey.
    EMPTY_FILE = "empty-file", Error;
    /// The first line names no column of a survey.
    ///
    /// Without column names no cell can be understood. Begin with a line of column names; lines of title above it must
    /// go.
    NO_HEADER = "no-header", Error;
    /// The survey has a header and no rows.
    ///
    /// There is nothing to print. Add one row for each way in which energy can reach or remain in an enclosure.
    NO_ROWS = "no-rows", Error;
    /// The encoding of the file is not known, and this cell depends on it.
    ///
    /// The file is neither UTF-8 nor UTF-16, so it is read as Windows-1252. Another encoding would give other letters,
    /// and a designation on a notice must be right. Look at the cells shown; save the file as UTF-8, or name its
    /// encoding with `--encoding`.
    ASSUMED_ENCODING = "assumed-encoding", Warning;
    /// A character of this cell was lost when the file was converted.
    ///
    /// The cell holds the sign that stands for a lost character, or a byte that the encoding does not have. Type the
    /// cell again, or name the right encoding with `--encoding`.
    CHARACTER_LOST = "character-lost", Error;
    /// The cell holds a character that cannot be seen: a control character, a change of writing direction, a blank of
    /// no width.
    ///
    /// Two designations that look alike could differ, or a text could read otherwise than it is stored. Delete the
    /// character, or type the cell again.
    HIDDEN_CHARACTER = "hidden-character", Error;
    /// Lines end with a lone carriage return, as on very old computers.
    ///
    /// The rows are read, yet some programs take the whole file for one line. Save it again with usual line endings.
    OLD_LINE_ENDINGS = "old-line-endings", Warning;
    /// A quotation mark opens a cell and none closes it: everything to the end of the file is one cell.
    ///
    /// Rows would be lost without a word. The place shown is where the mark opened. Close it, or double it if it
    /// belongs to the text.
    UNCLOSED_QUOTE = "unclosed-quote", Error;
    /// Text follows the quotation mark that closes a cell.
    ///
    /// Programs differ in what they make of it. Quote the whole cell, and double the quotation marks that belong to
    /// the text.
    TEXT_AFTER_QUOTE = "text-after-quote", Error;
    /// A blank stands before a quotation mark, so the mark does not open the cell.
    ///
    /// A separator within such quotation marks splits the cell, and the row is displaced. Take the blank away.
    SPACE_BEFORE_QUOTE = "space-before-quote", Error;
    /// The row has more cells than the header.
    ///
    /// Most often a text holds the separator and is not quoted, so that every cell after it is displaced. Put such a
    /// text in quotation marks.
    ROW_TOO_LONG = "row-too-long", Error;
    /// The row ends before a needed cell.
    ///
    /// What is missing cannot be guessed. Add the missing cells, empty ones too.
    ROW_TOO_SHORT = "row-too-short", Error;
    /// The row is the same as an earlier one in every cell.
    ///
    /// It adds nothing, unless one cell of it should differ: then a supply is missing. Delete or correct it.
    ROW_REPEATED = "row-repeated", Warning;
    /// A needed column is missing.
    ///
    /// Five columns are needed: `enclosure`, `circuit`, `voltage_to_earth`, `isolator` and `isolator_location`. Without
    /// one of them no notice can say what a person must know. A house's own header can be mapped in the job file.
    MISSING_COLUMN = "missing-column", Error;
    /// Two columns of the file mean the same column of the survey.
    ///
    /// Only one of them can be read. Delete or rename the other.
    DUPLICATE_COLUMN = "duplicate-column", Error;
    /// A column of the file is none of the survey's, and nothing in it is read.
    ///
    /// That is right for notes of your own. If it was meant as a column of the survey, correct its header or map it in
    /// the job file.
    UNKNOWN_COLUMN = "unknown-column", Warning;
    /// A column of the file is named almost like one of the survey's, and nothing in it is read.
    ///
    /// What it says, such as a stored charge, would be missing from the notices. Correct the header, or give the column
    /// a name that is less alike.
    MISSPELT_COLUMN = "misspelt-column", Error;
    /// The file has more columns than are accepted.
    ///
    /// Leave out what the notices do not need, or raise the limit in the job file.
    TOO_MANY_COLUMNS = "too-many-columns", Error;
    /// The survey has more rows than are accepted.
    ///
    /// The rows beyond the limit are not read. Split the survey, or raise the limit in the job file.
    TOO_MANY_ROWS = "too-many-rows", Error;
    /// The survey has more enclosures than are accepted.
    ///
    /// The rows from there on are not read. Split the survey, or raise the limit in the job file.
    TOO_MANY_ENCLOSURES = "too-many-enclosures", Error;
    /// The cell has more characters than are accepted.
    ///
    /// No notice has room for so much, and most often a quotation mark is not closed where it should be.
    CELL_TOO_LONG = "cell-too-long", Error;
    /// More devices are named in one row than are accepted.
    ///
    /// A notice could not list them legibly. Raise the limit in the job file if there really are so many.
    TOO_MANY_DEVICES = "too-many-devices", Error;
    /// More positions are named for an enclosure than are accepted.
    ///
    /// Each position means one more notice. Split the enclosure, or raise the limit in the job file.
    TOO_MANY_POSITIONS = "too-many-positions", Error;
    /// More was found than is shown.
    ///
    /// Mend what is shown, then check again. The limit can be raised in the job file.
    FINDINGS_LEFT_OUT = "findings-left-out", Warning;
    /// A needed cell is empty, or says that it is not known.
    ///
    /// Without it the notice would say less than a person must know. Fill it in; for an isolator that is not known
    /// write `?`, and `none` where the circuit cannot be isolated.
    NEEDED_CELL_EMPTY = "needed-cell-empty", Error;
    /// The cell says that something is not known, where an empty cell would say that there is nothing.
    ///
    /// The notice cannot speak of it. Find it out before the notice is relied on.
    VALUE_NOT_KNOWN = "value-not-known", Warning;
    /// A further row of an enclosure says something else about the enclosure than an earlier one.
    ///
    /// Only one can be true, and the notice would show one of them. Say the same on every row, or leave the further
    /// cells empty.
    CELLS_CONTRADICT = "cells-contradict", Error;
    /// Two designations differ only in case, blanks or hyphens, and so are two enclosures.
    ///
    /// If they are one, each notice would list only a part of the supplies. Write the designation alike on every row.
    ENCLOSURES_ALIKE = "enclosures-alike", Warning;
    /// The cell holds none of the words that the column knows.
    ///
    /// What is not understood cannot be taken into account. Write one of the words listed.
    UNKNOWN_WORD = "unknown-word", Error;
    /// The name of a source is almost the word for a kind of source.
    ///
    /// Misspelt, it would count as one more source. Correct it, or leave it if the source really is called so.
    SOURCE_LIKE_A_KIND = "source-like-a-kind", Warning;
    /// The cell does not hold a number.
    ///
    /// Write figures with a decimal point and without a thousands separator; the usual unit may follow.
    NOT_A_NUMBER = "not-a-number", Error;
    /// The number is beyond everything that can be meant.
    ///
    /// Most often a decimal point is lost or the unit is another one. Correct the figure.
    OUT_OF_RANGE = "out-of-range", Error;
    /// The number is unusual for this column.
    ///
    /// It may be right. Check the figure and its unit.
    UNUSUAL_VALUE = "unusual-value", Warning;
    /// The cell is not a nominal voltage.
    ///
    /// Write line to neutral and between lines, `230/400`; line to neutral alone, `230`; or a direct voltage, `600 dc`.
    NOMINAL_NOT_UNDERSTOOD = "nominal-not-understood", Error;
    /// The two voltages of a nominal voltage do not belong to one system.
    ///
    /// Between lines there is the square root of three times the voltage to neutral, or twice the voltage to a centre
    /// tap. Check both figures.
    NOMINAL_PAIR_UNLIKELY = "nominal-pair-unlikely", Error;
    /// An old or bare nominal voltage is read as a pair of IEC 60038.
    ///
    /// `240`, `415` and a bare `400` are read as `230/400`. Write the pair, so that nobody has to guess.
    NOMINAL_READ_AS_PAIR = "nominal-read-as-pair", Advice;
    /// A bare `110` does not say how high the voltage to earth is.
    ///
    /// With a centre tap it is 55 V, from a star point 63.5 V, with one line earthed 110 V. Write `55/110` or
    /// `63.5/110`, or fill in `earthing`.
    VOLTAGE_NEEDS_EARTHING = "voltage-needs-earthing", Error;
    /// The cell names something that is no live conductor, or mixes conductors of a.c. and d.c.
    ///
    /// The voltage between conductors follows from it. Name live conductors only, neutral among them; a row for each
    /// circuit.
    CONDUCTORS_NOT_UNDERSTOOD = "conductors-not-understood", Error;
    /// The cell does not say which line it is.
    ///
    /// Between two different lines there is a higher voltage than to earth. Until the line is known, so long is the
    /// voltage between circuits unknown. Write `L1`, `L2` or `L3`.
    LINE_NOT_NAMED = "line-not-named", Warning;
    /// A declaration gives no reason, or not the name of who makes it.
    ///
    /// It would lift a requirement, so somebody must stand for it. Write the reason and, after a comma, the name; until
    /// then it counts as no.
    DECLARATION_INCOMPLETE = "declaration-incomplete", Error;
    /// The cell is not a size.
    ///
    /// Write a name from `A8` to `A3`, with `portrait` where it stands upright, or width x height in millimetres.
    SIZE_NOT_UNDERSTOOD = "size-not-understood", Error;
    /// Heat is named without a temperature.
    ///
    /// Whether a label lasts depends on it. Write the surface temperature in degrees Celsius: `heat 70`.
    HEAT_WITHOUT_TEMPERATURE = "heat-without-temperature", Error;
    /// The number of locations is neither one nor that of the devices.
    ///
    /// A person would be sent to the wrong place. Give one location for all devices, or one for each in the same order.
    LOCATIONS_DO_NOT_MATCH = "locations-do-not-match", Error;
    /// A location is given, and no device that is there.
    ///
    /// Either the device is missing or the location is a remnant. Name the device, or empty the cell.
    LOCATION_WITHOUT_DEVICE = "location-without-device", Warning;
    /// A list of devices leaves one of them open.
    ///
    /// A notice must name every device. If one is not known write `?` alone; if the circuit cannot be isolated `none`.
    ISOLATOR_LIST_INCOMPLETE = "isolator-list-incomplete", Error;
    /// A cell may mean several devices and is read as fewer.
    ///
    /// The notice would count too few points of isolation. Write ` + ` with a blank on either side between devices that
    /// must all be opened.
    ISOLATOR_LIST_UNCLEAR = "isolator-list-unclear", Warning;
    /// The cell holds what a spreadsheet shows for a formula that failed.
    ///
    /// What stood there is lost. Mend the formula in the spreadsheet, or type the value itself.
    SPREADSHEET_ERROR = "spreadsheet-error", Error;
    /// The cell holds a formula whose result is not stored in the workbook.
    ///
    /// Nothing calculates it here, and a zero would be printed in its place. Open the workbook in a spreadsheet program
    /// and save it, or type the value itself.
    FORMULA_WITHOUT_VALUE = "formula-without-value", Error;
    /// The cell holds a date, where a date has no sense.
    ///
    /// Spreadsheets take designations such as `1-7` for dates, and a notice would name a device that does not exist.
    /// Format the column as text, then type the cell again.
    TURNED_INTO_DATE = "turned-into-date", Error;
    /// The cell could be a date that a spreadsheet made of a designation.
    ///
    /// If it is the designation, leave it. If not, format the column as text, then type the cell again.
    PERHAPS_A_DATE = "perhaps-a-date", Warning;
    /// The cell holds a number with an exponent, as spreadsheets make of long numbers and of designations such as
    /// `12E4`.
    ///
    /// The figures of the designation are lost. Format the column as text, then type the cell again.
    TURNED_INTO_EXPONENT = "turned-into-exponent", Error;
    /// Some designations of the column begin with zeros and this one is shorter.
    ///
    /// Spreadsheets take the leading zeros from numbers, and the notice would name another designation than the device
    /// carries. Format the column as text, then type the zeros again.
    LEADING_ZEROS_LOST = "leading-zeros-lost", Warning;

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
    /// The job asks for a language for which there are no messages.
    ///
    /// English is built in; every other language is a message file that the job names beside its tag. Check the
    /// spelling of the tag (`cy`, `de-AT`) and give the file.
    LANGUAGE_UNKNOWN = "language-unknown", Error;
    /// A message file is not written in Fluent syntax at this line.
    ///
    /// What cannot be read cannot be said. A message is `name = text` from the first character of a line; what it goes
    /// on with is indented.
    MESSAGE_FILE_SYNTAX = "message-file-syntax", Error;
    /// A message file does not give a message that notices say.
    ///
    /// A notice that is silent in one of its languages misleads whoever reads that one. Add the message.
    MESSAGE_MISSING = "message-missing", Error;
    /// A message file gives the same message twice.
    ///
    /// Only one of them can be said, and it may not be the one that was checked. Remove the other.
    MESSAGE_REPEATED = "message-repeated", Error;
    /// A message file gives a message that no notice says.
    ///
    /// It is probably a misspelling of one that is missing. Correct or remove it.
    MESSAGE_UNKNOWN = "message-unknown", Warning;
    /// A message leaves out one of its arguments, at least in one of its plural variants.
    ///
    /// The notice would lose a place, a device or a figure in that language. Name the argument, `{ $device }`, in every
    /// variant.
    MESSAGE_ARGUMENT_MISSING = "message-argument-missing", Error;
    /// A message names an argument that it does not have.
    ///
    /// It would be printed as a name in braces. The arguments are those that the
    /// English message has.
    MESSAGE_ARGUMENT_UNKNOWN = "message-argument-unknown", Error;
    /// A message refers to something that cannot be resolved: a term or message that is not there, a function, itself.
    ///
    /// Write the words out instead.
    MESSAGE_UNRESOLVED = "message-unresolved", Error;
    /// A message file does not name who checked its translation.
    ///
    /// A word that is wrong on a warning notice can kill. Let an electrician who speaks the language read every
    /// message, then add the name: `translation-checked-by = NAME`.
    TRANSLATION_UNCHECKED = "translation-unchecked", Advice;
    /// A record link begins with a scheme that is not allowed, names no plain host, or holds a character that is not
    /// seen.
    ///
    /// Whoever scans a notice's code must get a record, never a call, a message or a program. Give a whole link that
    /// begins with `https://`, or a plain record number without a colon; `-` stands for no code.
    RECORD_LINK_REFUSED = "record-link-refused", Error;
    /// A record link, or the job's link base with the notice's number, is longer than a code may carry.
    ///
    /// The longer the text, the larger the code, and it is never printed smaller than can be read. Shorten the link or
    /// use the record's number alone.
    RECORD_LINK_TOO_LONG = "record-link-too-long", Error;

    /// The embedded fonts have no glyph for a character of the notice.
    ///
    /// An empty box in place of a letter could change what the notice says, so nothing is printed. Latin, Greek and
    /// Cyrillic letters, figures and the usual signs are there; write the text with those.
    MISSING_GLYPH = "missing-glyph", Error;

    /// The code needs more room than the notice has.
    ///
    /// A module is never smaller than 0.4 mm and four modules around the code stay white, or a telephone may fail to read
    /// it. A shorter record link makes a smaller code; a larger notice has more room; `-` leaves the code out.
    CODE_TOO_LARGE = "code-too-large", Error;

    /// The record link is longer than the largest code can carry.
    ///
    /// A code holds at most some two thousand characters, and far fewer at a size that fits a notice. Give a short link.
    CODE_TOO_LONG = "code-too-long", Error;

    // ---- laying it on sheets ------------------------------------------------------------------------------------
    /// No sheet format at hand has a cell of the size that the notice needs.
    ///
    /// `noticewright sheets` lists the formats; a format of your own is one small file in the same form.
    NO_SHEET_FOR_SIZE = "no-sheet-for-size", Error;

    /// The description of a sheet format is not what it should be: a key is missing, misspelt or of the wrong kind.
    ///
    /// Nothing is guessed, since a label printed beside its cell is a label lost. The form stands in the README of
    /// `label-layouts`, and `noticewright sheets` shows formats to start from.
    LAYOUT_NOT_READABLE = "layout-not-readable", Error;

    /// A value in the description of a sheet format cannot be used.
    ///
    /// The message says what was read and what is accepted. All measures are in millimetres.
    LAYOUT_VALUE = "layout-value", Error;

    /// The cells of a sheet format do not lie on its paper.
    ///
    /// Labels would be printed beyond the edge and lost. Measure a sheet, and check the orientation of the paper.
    CELLS_OUTSIDE_PAPER = "cells-outside-paper", Error;

    /// The cells of a sheet format lie over each other.
    ///
    /// One label would be printed on the next. A gap is never less than nothing.
    CELLS_OVERLAP = "cells-overlap", Error;

    /// Cells of a sheet format reach into the border that the printer cannot reach.
    ///
    /// What lies there may be missing from the label. Try one sheet on plain paper, or state a smaller border if the
    /// ruler page shows that the printer reaches further.
    CELLS_IN_UNPRINTABLE_BORDER = "cells-in-unprintable-border", Warning;

    /// The material of the sheet format, or the way it is marked, does not stand up to the enclosure's environment.
    ///
    /// A notice that fades or peels is no notice. Print it on a format of another material, or fix it where it is
    /// sheltered and say so in the survey.
    MATERIAL_DOES_NOT_SUIT = "material-does-not-suit", Warning;

    /// The margin of a sheet has no room for the names of the enclosures that were left out.
    ///
    /// Whoever holds the sheets cannot see that some notices are missing. Pass the list on with them, or use a format
    /// with a wider margin.
    MARGIN_TOO_NARROW = "margin-too-narrow", Warning;

    /// A sheet from which labels were already taken goes through the printer again.
    ///
    /// In a laser printer the bare backing may catch and labels may come off on hot rollers. A whole sheet is safer for
    /// the printer; ask its maker before you use a part-used one.
    PART_USED_SHEET = "part-used-sheet", Advice;

    /// A printer's scale is corrected by more than one part in a hundred.
    ///
    /// A printer is seldom so wrong. More often the ruler page was printed with "fit to page": print it again at 100 %
    /// and measure again.
    LARGE_CORRECTION = "large-correction", Warning;
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
