//! What a workbook holds, read back by a reader that is not ours.
