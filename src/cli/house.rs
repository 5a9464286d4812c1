//! What the user's own house puts on documents: lines and logo, as the job file names them.

use std::path::Path;
use std::sync::Arc;

use super::failure::Failure;
use super::pipeline::Loaded;
use crate::drawing::Raster;
use crate::files::{self, FileError};
use crate::pages::{self, House, LogoFault};

/// Where a logo is looked for.
const BESIDE: &str = "put the picture beside the job file, or into a folder there";

/// What the job puts on every page.
///
/// # Errors
/// A logo that is not there, lies outside the job's folder, is too large or is no picture.
pub(super) fn of(loaded: &Loaded) -> Result<House, Failure> {
    let documents = &loaded.job.documents;
    let logo = (!documents.logo.is_empty()).then(|| logo(loaded, &documents.logo)).transpose()?;
    Ok(House { logo: logo.map(Arc::new), header: documents.header.clone(), footer: documents.footer.clone() })
}

fn logo(loaded: &Loaded, name: &str) -> Result<Raster, Failure> {
    let limits = loaded.job.limits();
    let named = |failure: Failure, what_to_do: &str| {
        let Failure::CouldNotRun { message, .. } = failure else { return failure };
        Failure::with_hint(message, format!("the job file names it: `logo` under [documents]; {what_to_do}"))
    };
    let file = files::read_within(&loaded.job_folder, Path::new(name), limits.logo_bytes).map_err(|error| {
        let too_large = matches!(error, FileError::TooLarge { .. });
        let what_to_do = if too_large { "`logo_bytes` under [limits] says how many are accepted" } else { BESIDE };
        named(error.into(), what_to_do)
    })?;
    let job = &loaded.job.job;
    let alternative = [job.client.as_str(), &job.site, "logo"].into_iter().find(|name| !name.is_empty());
    pages::logo(&file, limits.logo_pixels, alternative.unwrap_or_default()).map_err(|fault| {
        let what_to_do = match fault {
            LogoFault::TooLarge { .. } => "`logo_pixels` under [limits] says how many are accepted",
            LogoFault::NoPicture | LogoFault::Broken(_) => "save it as PNG or JPEG",
        };
        named(Failure::could_not_run(format!("{}: {fault}", loaded.job_folder.join(name).display())), what_to_do)
    })
}
