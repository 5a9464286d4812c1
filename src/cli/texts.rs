//! The table of the lines of text: which plate lies where, and what in it a spreadsheet would not show.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::printing::Printable;
use crate::finding::{Finding, code};
use crate::sheets::Plan;
use crate::writers::texts::{self, Plate};

/// Writes the table; each notice stands in it once, with its first place. Returns the bytes written.
pub(super) fn write(
    out: &mut impl Write,
    plan: &Plan,
    printable: &[Printable<'_>],
    documents: &[PathBuf],
) -> io::Result<u64> {
    let names: Vec<String> = documents.iter().map(|path| named(path)).collect();
    let plates = printable.iter().enumerate().filter_map(|(label, one)| {
        let place = plan.places(label).first().copied()?;
        let document = names.get(place.document).map(String::as_str).unwrap_or_default();
        let (notice, drawing) = (one.brief().number, one.drawing());
        Some(Plate { notice, drawing, document, sheet: place.page, cell: place.cell })
    });
    texts::write(out, plates)
}

/// The file's own name; `-` for standard output.
fn named(path: &Path) -> String {
    path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
}

/// The notices with a number or a line that a spreadsheet would take for a formula, each once.
pub(super) fn like_formulas(printable: &[Printable<'_>]) -> Vec<Finding> {
    let of_one = |one: &Printable<'_>| {
        let number = Some(one.brief().number).filter(|number| texts::is_like_a_formula(number));
        let drawing = one.drawing();
        let lines = texts::lines(&drawing);
        let line = lines.iter().map(|line| &*line.line.text).find(|text| texts::is_like_a_formula(text));
        let text = line.or(number)?;
        let message = format!("`{text}` on notice `{}` looks like a formula to a spreadsheet", one.brief().number);
        let finding = Finding::new(code::TEXT_LIKE_FORMULA, message);
        Some(
            finding
                .help("import the table with the columns `notice` and `text` as text")
                .about(one.brief().designation),
        )
    };
    printable.iter().filter_map(of_one).collect()
}
