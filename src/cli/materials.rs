//! Materials of a run: whether they suit the places of the notices, and how much of each is needed.

use std::collections::BTreeMap;

use super::pipeline::Loaded;
use super::printing::Printable;
use crate::finding::Finding;
use crate::material::{self, Place};
use crate::notice::{Notice, Subject};
use crate::sheets::{self, Piece, Plan, Quantity};
use crate::survey::Column;

/// Everything in which the materials of a plan do not suit the places of its notices: each enclosure and each device once
/// a material, and plates that conduct once a material.
pub(super) fn findings(loaded: &Loaded, plan: &Plan, printable: &[Printable<'_>]) -> Vec<Finding> {
    let materials = loaded.job.materials();
    let (mut found, mut seen, mut plates) = (Vec::new(), BTreeMap::new(), BTreeMap::<&str, usize>::new());
    for part in plan.documents.iter().flat_map(|document| &document.parts) {
        let Some(class) = materials.find(&part.format.material) else { continue };
        let process = part.format.process;
        for label in part.labels() {
            let Some(one) = printable.get(*label) else { continue };
            let notice = one.notice;
            if class.conductive {
                *plates.entry(&class.name).or_default() += plan.run.copies;
            }
            let whose = (notice.subject, &notice.designation, own_place(notice), &class.name, process);
            if seen.insert(whose, ()).is_none() {
                let finding = material::suits(class, process, &place(loaded, notice), &name(notice), &materials);
                found.extend(finding.map(|finding| loaded.about_place(finding, notice)));
            }
        }
    }
    let conducting = plates.iter().filter_map(|(name, notices)| material::conducts(materials.find(name)?, *notices));
    found.extend(conducting);
    found
}

/// How much of which material a plan needs.
pub(super) fn quantities(loaded: &Loaded, plan: &Plan, printable: &[Printable<'_>]) -> Vec<Quantity> {
    sheets::quantities(plan, &loaded.job.materials(), |label| {
        let one = printable.get(label)?;
        let place = place(loaded, one.notice);
        let environment_known = place.environment_is_known();
        Some(Piece { size: one.drawing.size, environment_known, surface_known: place.surface.is_some() })
    })
}

fn place(loaded: &Loaded, notice: &Notice) -> Place {
    let wanted_years = loaded.job.notices.wanted_years;
    Place { environment: notice.environment, surface: notice.surface, wanted_years }
}

/// Two devices of one designation stand in two places.
fn own_place(notice: &Notice) -> &str {
    match notice.subject {
        Subject::Enclosure => "",
        Subject::Device => &notice.area,
    }
}

/// Whose notice it is, after "the notice": `on CH3-JB2`, `at Q7 (Switchroom 1)`.
fn name(notice: &Notice) -> String {
    match (notice.subject, notice.area.as_str()) {
        (Subject::Enclosure, _) => format!("on `{}`", notice.designation),
        (Subject::Device, "") => format!("at `{}`", notice.designation),
        (Subject::Device, area) => format!("at `{} ({area})`", notice.designation),
    }
}

impl Loaded {
    /// The finding at the cell that says what an enclosure's notice must stand up to.
    fn about_place(&self, finding: Finding, notice: &Notice) -> Finding {
        match notice.subject {
            Subject::Enclosure => {
                let column = if notice.environment == crate::survey::value::Environment::default() {
                    Column::Surface
                } else {
                    Column::Environment
                };
                self.at_cell(finding.about(&notice.designation), notice, column)
            }
            Subject::Device => finding,
        }
    }
}
