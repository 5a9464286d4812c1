//! Pictures of dots: each stored once, whatever the number of pages that show it.

use std::collections::BTreeMap;
use std::io::{self, Write};
use std::sync::Arc;

use sha2::{Digest, Sha256};

use super::content::{deflated, push_length};
use super::marked::{self, Marks};
use super::stream::{Id, Objects};
use crate::drawing::Raster;

/// The pictures stored so far.
#[derive(Default)]
pub(super) struct Rasters {
    /// The number of each picture by its content.
    numbers: BTreeMap<[u8; 32], usize>,
    /// Those that were met first, so that the same one again is known without reading its dots.
    met: Vec<(Arc<Raster>, usize)>,
    /// Where each is stored, by its number.
    ids: Vec<Id>,
}

impl Rasters {
    /// The operators that draw the pictures of a page, each of which is stored at its first showing.
    ///
    /// # Errors
    /// The error of the writer below; `InvalidData` for a picture that has not as many dots as it says.
    pub(super) fn draw<W: Write>(&mut self, objects: &mut Objects<W>, marks: &Marks) -> io::Result<Vec<u8>> {
        let mut bytes = Vec::new();
        for (placed, number) in &marks.rasters {
            let picture = self.number(objects, &placed.raster)?;
            match number {
                Some(number) => marked::push_opening(&mut bytes, *number),
                None => bytes.extend_from_slice(marked::ARTIFACT),
            }
            bytes.extend_from_slice(b"q\n");
            // A picture fills the unit square, upright, from its lower left corner.
            push_length(&mut bytes, placed.at.size.width);
            bytes.extend_from_slice(b" 0 0 ");
            for length in [placed.at.size.height, placed.at.origin.x, -placed.at.bottom()] {
                push_length(&mut bytes, length);
                bytes.push(b' ');
            }
            bytes.extend_from_slice(format!("cm {} Do\nQ\n", name(picture)).as_bytes());
            bytes.extend_from_slice(marked::END);
        }
        Ok(bytes)
    }

    /// Entries among the resources of all pages.
    pub(super) fn resources(&self) -> Vec<u8> {
        let entry = |(number, id): (usize, &Id)| format!("{} {}", name(number), id.reference());
        self.ids.iter().enumerate().map(entry).collect::<String>().into_bytes()
    }

    fn number<W: Write>(&mut self, objects: &mut Objects<W>, raster: &Arc<Raster>) -> io::Result<usize> {
        if let Some((_, number)) = self.met.iter().find(|(met, _)| Arc::ptr_eq(met, raster)) {
            return Ok(*number);
        }
        let content = identity(raster);
        if let Some(number) = self.numbers.get(&content) {
            return Ok(*number);
        }
        let number = self.ids.len();
        self.ids.push(store(objects, raster)?);
        self.numbers.insert(content, number);
        self.met.push((Arc::clone(raster), number));
        Ok(number)
    }
}

fn name(number: usize) -> String {
    format!("/Dots{number}")
}

fn identity(raster: &Raster) -> [u8; 32] {
    let mut digest = Sha256::new();
    digest.update(raster.width.to_be_bytes());
    digest.update(raster.height.to_be_bytes());
    digest.update(&raster.rgb);
    digest.finalize().into()
}

/// Eight bits each of red, green and blue (ISO 32000-1, 8.9.5), not smoothed: the archive's standard forbids to ask for it.
fn store<W: Write>(objects: &mut Objects<W>, raster: &Raster) -> io::Result<Id> {
    let Raster { width, height, rgb, .. } = raster;
    let wanted = u64::from(*width) * u64::from(*height) * 3;
    if wanted == 0 || u64::try_from(rgb.len()) != Ok(wanted) {
        let message = format!("a picture of {width} x {height} dots has {} bytes, not {wanted}", rgb.len());
        return Err(io::Error::new(io::ErrorKind::InvalidData, message));
    }
    let id = objects.reserve();
    let entries =
        format!("/Type/XObject/Subtype/Image/Width {width}/Height {height}/ColorSpace/DeviceRGB/BitsPerComponent 8");
    objects.deflated_stream(id, &entries, &deflated(rgb))?;
    Ok(id)
}
