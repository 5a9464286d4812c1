//! `new`: a starter job, survey and supplies file with every column explained.

use std::io::Write as _;

use super::arguments::{General, New};
use super::failure::Failure;
use super::outputs::Outputs;
use super::report::visible;
use super::terminal::Terminal;
use crate::files;

/// Name and text of each starter file.
const STARTER: [(&str, &str); 4] = [
    ("survey.csv", include_str!("starter/survey.csv")),
    ("supplies.csv", include_str!("starter/supplies.csv")),
    ("job.toml", include_str!("starter/job.toml")),
    ("columns.md", include_str!("starter/columns.md")),
];

/// Writes the starter files into a folder: all of them, or none.
pub(super) fn perform(new: &New, general: &General, terminal: Terminal) -> Result<(), Failure> {
    files::make_folder(&new.folder)?;
    let paths = STARTER.map(|(name, _)| new.folder.join(name));
    let mut outputs = Outputs::check(&paths, &[], general)?;
    for (_, text) in STARTER {
        outputs.write(|out| out.write_all(text.as_bytes()))?;
    }
    outputs.publish()?;
    let folder = visible(&new.folder.display().to_string());
    let survey = visible(&new.folder.join("survey.csv").display().to_string());
    let plain = survey.chars().all(|c| c.is_alphanumeric() || "/\\:._-".contains(c));
    let survey = if plain { survey } else { format!("'{survey}'") };
    terminal.say(&format!(
        "wrote survey.csv, supplies.csv, job.toml and columns.md to {folder}\n\
         next: fill in the survey and the supplies file, then\n  noticewright check {survey}\n"
    ));
    Ok(())
}
