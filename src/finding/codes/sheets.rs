//! What can be wrong with sheet formats, sheets and printers.

use super::{Code, Severity};

codes! {
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

    /// Labels on a sheet for a printing works lie closer together than twice the bleed.
    ///
    /// A cut that is a little off then shows the neighbour's print along the edge of a label. Keep at least twice the bleed
    /// between two labels, or state a smaller bleed if the works agrees to it.
    BLEEDS_OVERLAP = "bleeds-overlap", Warning;

    /// The material of the sheet format, or the way it is marked, does not suit the place of a notice: what it must stand
    /// up to, what it is fixed on, or how long the job wants it to last.
    ///
    /// A notice that fades or peels is no notice. Print it on a format of another material, or fix it where it is
    /// sheltered and say so in the survey. The figures are ranges of the trade; where a maker's data sheet says better, the
    /// job file states it under `[materials]`.
    MATERIAL_DOES_NOT_SUIT = "material-does-not-suit", Warning;

    /// A sheet format is made of a class of material that nobody knows.
    ///
    /// Whether a label lasts cannot be judged without its material. Correct the spelling, or add the class from its maker's
    /// data sheet under `[materials]` in the job file. `noticewright sheets NAME` shows what is known of a format's material.
    MATERIAL_NOT_KNOWN = "material-not-known", Error;

    /// Notices of this run are plates that conduct electricity.
    ///
    /// A loose plate on live parts is a short circuit, and a screw through an insulating enclosure may end its insulation.
    /// Fix it outside, where it can fall on nothing live, and follow the local rules for exposed metal.
    CONDUCTIVE_PLATE = "conductive-plate", Advice;

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

    /// A printer's scale is corrected by more than one part in a hundred, or its skew by more than 2 mm in a metre.
    ///
    /// A printer is seldom so wrong. More often the ruler page was printed with "fit to page", or its paper lay askew in the
    /// tray: set the guides, print it again at 100 % and measure again.
    LARGE_CORRECTION = "large-correction", Warning;

    /// The strokes of the smallest letters on a notice are finer than the line that the engraving tool cuts.
    ///
    /// The tool makes them broader than they are drawn: counters close up and letters run together. Use a finer tool,
    /// state its width in the sheet format, or make the notice larger.
    FINER_THAN_TOOL = "finer-than-tool", Warning;

    /// The modules of a notice's code are smaller than the line that the engraving tool cuts.
    ///
    /// The light modules between dark ones would be cut away, and no telephone could read the code. Use a finer tool, a
    /// larger notice or a shorter record link; `-` leaves the code out.
    CODE_FINER_THAN_TOOL = "code-finer-than-tool", Warning;

    /// A line of text in the table for engraving machines begins with a sign that spreadsheets take for a formula.
    ///
    /// The table gives the text as it must be engraved, so nothing is put before it. A spreadsheet that opens the file by
    /// itself would calculate instead of showing it: import the file and set the columns `notice` and `text` to text, or
    /// do not open it in a spreadsheet at all.
    TEXT_LIKE_FORMULA = "text-like-formula", Warning;
    /// A printer's scale is measured, but the labels are printed dot by dot.
    ///
    /// Labels for such a printer are moved by whole dots and never stretched: a code or a fine rule that lost a dot here
    /// and there would be worse than a label a little too long. Correct the scale at the printer itself, where its maker
    /// provides for that.
    DOTS_ARE_NOT_SCALED = "dots-are-not-scaled", Advice;

    /// The warning sign has no yellow field, because neither the material nor the print brings any yellow.
    ///
    /// The Safety Signs Regulations 1996 (schedule 1, part II) ask for yellow over at least half of a warning sign, and a
    /// sign in black alone is easily overlooked. Choose a sheet format whose `stock` is yellow, or one that prints black
    /// and yellow.
    SIGN_WITHOUT_YELLOW = "sign-without-yellow", Warning;
}
