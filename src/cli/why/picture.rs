//! `--svg`: the one-line diagram of an enclosure as a file.

use std::io::Write as _;
use std::path::Path;

use crate::cli::arguments::General;
use crate::cli::failure::Failure;
use crate::cli::outputs::Outputs;
use crate::cli::pipeline::Loaded;
use crate::cli::prepared;
use crate::cli::report::visible;
use crate::cli::terminal::Terminal;
use crate::diagram;
use crate::rules::Decision;
use crate::typesetting::{Misfit, Typesetter};
use crate::writers::svg;

/// Draws the enclosure of a decision into a file, and says so.
pub(super) fn write(
    loaded: &Loaded,
    decision: &Decision,
    path: &Path,
    survey: &Path,
    general: &General,
    terminal: Terminal,
) -> Result<(), Failure> {
    let keep = prepared::files_read(loaded, Some(survey), &[], None);
    let mut outputs = Outputs::check(&[path.to_owned()], &keep, general)?;
    let typesetter = Typesetter::new();
    let drawing = diagram::of(&loaded.survey, loaded.supplies.as_ref(), &loaded.network, decision, &typesetter);
    let drawing = drawing.map_err(|misfit| undrawable(&misfit))?;
    let name = loaded.survey.enclosures.get(decision.enclosure).map_or("", |one| one.designation.as_str());
    let text = svg::svg(&drawing, &format!("Supplies of {name}"));
    let (written, ()) = outputs.write(|out| out.write_all(text.as_bytes()))?;
    outputs.publish()?;
    terminal.say(&format!("{}: one-line diagram of {}, {}\n", visible(&written), visible(name), drawing.size));
    Ok(())
}

fn undrawable(misfit: &Misfit) -> Failure {
    match misfit {
        Misfit::MissingGlyph { character, text } => Failure::with_hint(
            format!("the diagram cannot be drawn: no typeface has the character `{character}` in `{text}`"),
            "write the name in Latin, Greek or Cyrillic letters",
        ),
        Misfit::TooLong { .. }
        | Misfit::BeyondSpace { .. }
        | Misfit::CodeTooLarge { .. }
        | Misfit::CodeTooLong { .. } => Failure::could_not_run("the diagram cannot be drawn"),
    }
}
