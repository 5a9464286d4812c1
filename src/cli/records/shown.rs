//! What documents that were printed before show, held against what the survey says now.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::cli::failure::Failure;
use crate::cli::prepared::Prepared;
use crate::cli::printing;
use crate::cli::read_back::{self, Witness};
use crate::cli::report::visible;
use crate::cli::works;
use crate::files;
use crate::reading_back::What;

/// A larger document is not one of ours.
const LARGEST_DOCUMENT: u64 = 1 << 31;

/// Reads the documents of a plan that are still there, and tells of each what came of it.
///
/// # Errors
/// A document that shows something else than the plan, or that cannot be read.
pub(super) fn compare(
    prepared: &mut Prepared<'_>,
    documents: &[PathBuf],
    profile: Option<&Path>,
) -> Result<String, Failure> {
    let is_there = |path: &Path| path != Path::new(files::STANDARD) && files::exists(path);
    if documents.iter().any(|path| is_there(path)) {
        // Pages for a printing works say by which standard and profile they were made.
        works::standard(&mut prepared.plan, profile, prepared.loaded)?;
    }
    let mut told = String::new();
    for (index, path) in documents.iter().enumerate() {
        if is_there(path) {
            told.push_str(&document(prepared, index, path)?);
        } else {
            let name = visible(&path.display().to_string());
            told.push_str(&format!("`{name}` is not there, so nobody compared it with the survey\n"));
        }
    }
    Ok(told)
}

fn document(prepared: &Prepared<'_>, index: usize, path: &Path) -> Result<String, Failure> {
    let Prepared { plan, printable, typesetter, .. } = prepared;
    let Some(planned) = plan.documents.get(index) else {
        return Err(Failure::could_not_run("a document that was not planned"));
    };
    let drawing = printing::drawn(planned, printable);
    let page = |number| plan.page(index, number, typesetter, &drawing);
    let bytes = Arc::new(files::read(path, LARGEST_DOCUMENT)?);
    match Witness::new(prepared.loaded, &prepared.set).compare(bytes, (plan, index), printable, page)? {
        Ok(read) => {
            Ok(format!("{}: {}", visible(&path.display().to_string()), read_back::summary(&read_back::entry(&read))))
        }
        Err(mut read) => {
            // Where words differ, so do heights: the words come first.
            read.differences.sort_by_key(|one| (one.page, matches!(one.what, What::TooSmall { .. })));
            let message = format!(
                "`{}` does not show what the survey says now, so nothing was recorded:\n{}",
                path.display(),
                read_back::differences(&read)
            );
            let hint = "if the survey changed since the printing, print the notices again with `labels --record`; else \
                        give the options of the printing: notices, sheet, cells, copies, printer";
            Err(Failure::with_hint(message, hint))
        }
    }
}
