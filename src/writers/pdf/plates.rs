//! What a document for a printing works needs for its plates: spot colours, what overprints, the layer of the contour.

use std::io::{self, Write};

use super::content::push_name;
use super::stream::{Id, Objects};
use crate::drawing::Ink;
use crate::sheets::{Colour, Palette};

/// Resources by name: spot colours, and the two states of overprinting.
pub(super) const CONTOUR: &str = "/Contour";
pub(super) const EVERY_PLATE: &str = "/All";
pub(super) const OVER: &[u8] = b"/Over gs\n";
pub(super) const OUT: &[u8] = b"/Out gs\n";

/// What stands before and after the marks of a layer.
pub(super) const LAYER: (&[u8], &[u8]) = (b"/OC/Cutting BDC\n", b"EMC\n");

/// The inks that are colour spaces of their own.
const SPOTS: [Ink; 2] = [Ink::Contour, Ink::Register];

/// Entries of the resources of all pages; nothing where a process knows no spot colours.
///
/// Overprinting follows the non-zero rule (ISO 32000-1, 8.6.7): an ink of which a mark has nothing stays as it is below.
pub(super) fn resources(palette: &Palette, layer: Option<Id>) -> Vec<u8> {
    let spaces: Vec<Vec<u8>> = SPOTS.into_iter().filter_map(|ink| space(&palette.colour(ink)?)).collect();
    if spaces.is_empty() {
        return Vec::new();
    }
    let mut entries = b"/ColorSpace<<".to_vec();
    entries.extend(spaces.concat());
    entries.extend_from_slice(b">>/ExtGState<</Over<</Type/ExtGState/OP true/op true/OPM 1>>");
    entries.extend_from_slice(b"/Out<</Type/ExtGState/OP false/op false/OPM 0>>>>");
    if let Some(layer) = layer {
        entries.extend_from_slice(format!("/Properties<</Cutting {}>>", layer.reference()).as_bytes());
    }
    entries
}

/// A spot colour as a colour space: its name, and the process colours that stand for it (ISO 32000-1, 8.6.6.4).
fn space(colour: &Colour) -> Option<Vec<u8>> {
    let (resource, name, instead) = match colour {
        Colour::Spot { name, instead } => (CONTOUR, name.as_bytes(), *instead),
        Colour::EveryPlate => (EVERY_PLATE, "All".as_bytes(), [10_000; 4]),
        Colour::Grey(_) | Colour::Rgb(_) | Colour::Cmyk(_) => return None,
    };
    let mut space = format!("{resource}[/Separation").into_bytes();
    push_name(&mut space, name);
    space.extend_from_slice(b"/DeviceCMYK<</FunctionType 2/Domain[0 1]/C0[0 0 0 0]/C1[");
    super::colour::shares(&mut space, &instead);
    space.extend_from_slice(b"]/N 1>>]");
    Some(space)
}

/// Writes the layer of the cutting contour, which says to machines what it is for.
///
/// `GTS_Metadata` with group and type of a processing step is that of ISO 19593-1, from secondary sources.
pub(super) fn write_layer<W: Write>(objects: &mut Objects<W>, layer: Id) -> io::Result<()> {
    let step = "/GTS_Metadata<</GTS_ProcStepsGroup/Structural/GTS_ProcStepsType/Cutting>>";
    objects.object(layer, format!("<</Type/OCG/Name(Cutting contour){step}>>").as_bytes())
}
