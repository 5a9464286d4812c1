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
