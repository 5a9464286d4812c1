//! What can be wrong with a survey or a supplies file as a file, and with its cells.

use super::{Code, Severity};

codes! {
    /// The file has more bytes than are accepted.
    ///
    /// What is too large is not read at all, so that a wrong file cannot fill the memory. Split it, or raise the
    /// limit in the job file.
    FILE_TOO_LARGE = "file-too-large", Error;
    /// The file is of a kind that holds no rows: a picture, a PDF, an old binary spreadsheet.
    ///
    /// Nothing in it can be read. Save the table as CSV in UTF-8, or as `.xlsx` or `.ods`.
    FOREIGN_FILE = "foreign-file", Error;
    /// The workbook cannot be opened.
    ///
    /// It is damaged, protected by a password, or larger inside than is accepted. Open it in a spreadsheet program and
    /// save it again, or save it as CSV in UTF-8.
    WORKBOOK_UNREADABLE = "workbook-unreadable", Error;
    /// The workbook has more than one sheet that looks like what is read.
    ///
    /// Nobody can tell which of them holds today: a sheet of an earlier year would give notices that are no longer true. Put
    /// everything on one sheet, or save the wanted sheet on its own.
    SEVERAL_SHEETS = "several-sheets", Error;
    /// A sheet that looks like what is read is hidden in the workbook, and is not read.
    ///
    /// Nobody who opens the workbook sees what would be printed from it. Show the sheet if it is the one that is meant, and
    /// delete it if not.
    HIDDEN_SHEET = "hidden-sheet", Warning;
    /// A sheet of the workbook has nearly all the columns that are needed, and is not read.
    ///
    /// What its rows tell would be missing from the notices. Give it the column that it lacks, or take away what stands above
    /// its line of column names, and put all rows on one sheet. If it holds something else, save the sheet that is meant alone.
    SHEET_NOT_READ = "sheet-not-read", Warning;
    /// The file is empty.
    ///
    /// Perhaps the wrong file was named, or saving it failed. `noticewright new` writes a starter survey.
    EMPTY_FILE = "empty-file", Error;
    /// The first line names no column of a survey, or of a supplies file where that is read.
    ///
    /// Without column names no cell can be understood. Begin with a line of column names; lines of title above it must
    /// go.
    NO_HEADER = "no-header", Error;
    /// A supplies file was given where the survey is read, or the survey where the supplies file is read; or a record or a
    /// list of inspections where another file is read.
    ///
    /// Nothing in it is read. A survey has a column `enclosure`, a supplies file the columns `device` and `kind`. Name the
    /// survey first and the supplies file with `--supplies` or in the job file. A record is named with `--records`, and a list
    /// of inspections is read by `records import`.
    OTHER_FILE = "other-file", Error;
    /// The file has a header and no rows.
    ///
    /// A survey has one row for each way in which energy can reach or remain in an enclosure, a supplies file one for each
    /// source, device and board.
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
    /// A survey needs five: `enclosure`, `circuit`, `voltage_to_earth`, `isolator` and `isolator_location`. Without one of
    /// them no notice can say what a person must know. A supplies file needs `device` and `kind`. A house's own header can
    /// be mapped in the job file.
    MISSING_COLUMN = "missing-column", Error;
    /// Two columns of the file mean the same.
    ///
    /// Only one of them can be read. Delete or rename the other.
    DUPLICATE_COLUMN = "duplicate-column", Error;
    /// A column of the file is none that is known, and nothing in it is read.
    ///
    /// That is right for notes of your own. If it was meant as one of those that are read, correct its header or map it in
    /// the job file.
    UNKNOWN_COLUMN = "unknown-column", Warning;
    /// Something stands in a column that has no name in the header, and nothing in it is read.
    ///
    /// A remark such as a further supply would be missing from the notices. Name the column, or move what it says to where it
    /// belongs. Only the first such cell is shown.
    COLUMN_WITHOUT_NAME = "column-without-name", Warning;
    /// A column of the file is named almost like one that is known, and nothing in it is read.
    ///
    /// What it says, such as a stored charge, would be missing from the notices. Correct the header, or give the column
    /// a name that is less alike.
    MISSPELT_COLUMN = "misspelt-column", Error;
    /// The file has more columns than are accepted.
    ///
    /// Leave out what the notices do not need, or raise the limit in the job file.
    TOO_MANY_COLUMNS = "too-many-columns", Error;
    /// The file has more rows than are accepted.
    ///
    /// The rows beyond the limit are not read. Split the file, or raise the limit in the job file.
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
    /// Without it the notice would say less than a person must know, or the network would lack a device. Fill it in; for an
    /// isolator that is not known write `?`, and `none` where the circuit cannot be isolated.
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
    /// Two rows of an enclosure bear one circuit and the same feed, and name other isolators.
    ///
    /// Mostly one of them was surveyed earlier and is no longer true, so that a notice sends a person to a device that isolates
    /// nothing. Delete it. If both devices must be opened, write them in one row with ` + ` between; if each isolates another
    /// thing that the circuit feeds, say in `serves` which.
    CIRCUIT_LISTED_TWICE = "circuit-listed-twice", Warning;
    /// Two rows of an enclosure are fed from ways of one board, as if these were boards.
    ///
    /// They count as two supplies, and the notice says so where there may be one. Write the board alone in `fed_from`, and the
    /// way in `circuit`. Two boards that are called so are two supplies: then all is right.
    WAY_AS_SUPPLY = "way-as-supply", Warning;
    /// Two designations of enclosures differ only in case or blanks, or in hyphens or accents that look alike.
    ///
    /// Each notice would list only a part of the supplies, or, with one supply each, none would be asked for. Write the
    /// designation alike on every row. If there really are two enclosures, tell them apart by more than that: people who
    /// read a notice, `--only`, and many disks take the two for one.
    ENCLOSURE_SPELT_TWO_WAYS = "enclosure-spelt-two-ways", Error;
    /// Two designations differ only in hyphens, or in case and blanks too, and so are two enclosures.
    ///
    /// If they are one, each notice would list only a part of the supplies. Write the designation alike on every row.
    ENCLOSURES_ALIKE = "enclosures-alike", Warning;
    /// The cell holds none of the words that the column knows.
    ///
    /// What is not understood cannot be taken into account. Write one of the words listed.
    UNKNOWN_WORD = "unknown-word", Error;
    /// The name of a source is almost the word for a kind of source, or another word for one: `grid`, `genset`.
    ///
    /// It counts as one more source. Correct it, or leave it if the source really is called so.
    SOURCE_LIKE_A_KIND = "source-like-a-kind", Warning;
    /// The cell does not hold a number.
    ///
    /// Write figures with a decimal point and without a thousands separator; the usual unit may follow.
    NOT_A_NUMBER = "not-a-number", Error;
    /// The point of the number may stand between thousands, or before decimals.
    ///
    /// `1.500` is 1.5 V to one reader and 1500 V to another, and a notice would show one of them. Write `1500` or `1.5`.
    PERHAPS_THOUSANDS = "perhaps-thousands", Error;
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
    /// A nominal voltage of two lines and the midpoint between them stands beside three lines.
    ///
    /// One of them is farther from earth than half the voltage, and the notice would state too little. Where it is the high
    /// leg of a delta whose midpoint is earthed, `midpoint` in `earthing` counts it. Three lines of reduced low voltage are
    /// `63.5/110`.
    NOMINAL_PAIR_OF_TWO_LINES = "nominal-pair-of-two-lines", Error;
    /// An old or bare nominal voltage is read as a pair of IEC 60038.
    ///
    /// `240`, `415` and a bare `400` are read as `230/400`. Write the pair, so that nobody has to guess.
    NOMINAL_READ_AS_PAIR = "nominal-read-as-pair", Advice;
    /// A bare `110` does not say how high the voltage to earth is.
    ///
    /// With a centre tap it is 55 V, from a star point 63.5 V, with one line earthed 110 V. Write `55/110` or
    /// `63.5/110`, or fill in `earthing`.
    VOLTAGE_NEEDS_EARTHING = "voltage-needs-earthing", Error;
    /// The cell names something that is no live conductor, or one twice, or mixes conductors of a.c. and d.c.
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
    /// Cold is named without a temperature.
    ///
    /// Whether a label and its adhesive hold depends on it. Write the lowest surface temperature in degrees Celsius, with its
    /// sign: `cold -28`.
    COLD_WITHOUT_TEMPERATURE = "cold-without-temperature", Error;
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
    /// A notice must name every device, and the network everything that feeds one. If one is not known write `?` alone; if a
    /// circuit cannot be isolated `none`.
    ISOLATOR_LIST_INCOMPLETE = "isolator-list-incomplete", Error;
    /// A cell may mean several devices and is read as fewer.
    ///
    /// The notice would count too few points of isolation, or the network would lack a feed. Write ` + ` with a blank on
    /// either side between devices. If one device bears the name, say so behind it: `Heater, fan (one device)`.
    ISOLATOR_LIST_UNCLEAR = "isolator-list-unclear", Warning;
    /// What may be one name may as well be those of several devices or boards: `Q1/Q2`, `Q1-Q4`, two lines in one cell.
    ///
    /// Read as one, the notice would leave out points of isolation or a supply. Write ` + ` with a blank on either side
    /// between several names. If one device bears the name, say so behind it: `Q1/Q2 (one device)`, `F1-F3 (one set)`.
    PERHAPS_SEVERAL_DEVICES = "perhaps-several-devices", Error;
    /// The cell answers `yes`, or says where to read, or that nothing is live, where the column asks what.
    ///
    /// The notice would print the answer, or two interlocks of the name `yes` count as one. Write what it is, or `none`.
    ANSWER_WITHOUT_WORDS = "answer-without-words", Error;
    /// The cell says only that it is like another cell, as `ditto` and inverted commas do.
    ///
    /// Every row is read by itself, so that the word would become a name: an enclosure of its own, a device, a place on a
    /// notice. Write out what is meant. Cells that speak of the enclosure may stay empty on its further rows.
    CELL_REPEATS_ANOTHER = "cell-repeats-another", Error;
    /// The cell holds what a spreadsheet shows for a formula that failed.
    ///
    /// What stood there is lost. Mend the formula in the spreadsheet, or type the value itself.
    SPREADSHEET_ERROR = "spreadsheet-error", Error;
    /// The cell holds `0`, where words belong.
    ///
    /// That is what a spreadsheet shows for a reference to an empty cell, and the notice would print it. Empty the cell, or
    /// write what is meant.
    ZERO_FOR_WORDS = "zero-for-words", Error;
    /// The cell holds a formula whose result is not stored in the workbook.
    ///
    /// Nothing calculates it here, and a zero would be printed in its place. Open the workbook in a spreadsheet program
    /// and save it, or type the value itself.
    FORMULA_WITHOUT_VALUE = "formula-without-value", Error;
    /// A number format shows letters that are not stored in the cell.
    ///
    /// Who looks at the sheet sees `Q7`, and the notice would name `7`. Format the column as text, then type the cell again.
    SHOWN_OTHERWISE = "shown-otherwise", Error;
    /// Words of the cell are struck through.
    ///
    /// Read as the others, they would stand on the notice as if they held. Delete what no longer holds.
    STRUCK_THROUGH = "struck-through", Error;
    /// The cell holds a date, where a date has no sense.
    ///
    /// Spreadsheets take designations such as `1-7` for dates, and a notice would name a device that does not exist.
    /// Format the column as text, then type the cell again.
    TURNED_INTO_DATE = "turned-into-date", Error;
    /// The cell could be a date that a spreadsheet made of a designation.
    ///
    /// If it is the designation, leave it. If not, format the column as text, then type the cell again. A workbook that
    /// stores the cell as text is believed.
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
}
