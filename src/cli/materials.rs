//! Materials of a run: whether they suit the places of the notices, and how much of each is needed.

use std::collections::{BTreeMap, BTreeSet};

use super::pipeline::Loaded;
use super::printing::Printable;
use crate::finding::Finding;
use crate::material::{self, Material, Place, Process};
use crate::notice::{Brief, Subject};
use crate::sheets::{self, Piece, Plan, Quantity};
use crate::survey::Column;

/// Everything in which the materials of a plan do not suit the places of its notices: each enclosure and each device once
/// a material, and plates that conduct once a material.
pub(super) fn findings(loaded: &Loaded, plan: &Plan, printable: &[Printable<'_>]) -> Vec<Finding> {
    let materials = loaded.job.materials();
    let (mut found, mut seen, mut plates) = (Vec::new(), BTreeSet::new(), BTreeMap::<&str, usize>::new());
    for part in plan.documents.iter().flat_map(|document| &document.parts) {
        let Some(class) = materials.find(&part.format.material) else { continue };
        let process = part.format.process;
        for label in part.labels() {
            let Some(one) = printable.get(*label) else { continue };
            let notice = one.brief();
            if class.conductive {
                *plates.entry(&class.name).or_default() += plan.run.copies;
            }
            let place = place(loaded, notice);
            let finding = material::suits(class, process, &place, || name(notice), &materials);
            let Some(finding) = finding else { continue };
            let whose = (notice.subject, notice.designation, own_place(notice), &class.name, process);
            if seen.insert(whose) {
                found.push(match notice.subject {
                    Subject::Enclosure => {
                        let finding = finding.about(notice.designation);
                        loaded.at_cell(finding, notice, column(class, process, &place))
                    }
                    Subject::Standing => loaded.at_cell(finding, notice, column(class, process, &place)),
                    Subject::Device => finding,
                });
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
        let place = place(loaded, one.brief());
        let environment_known = place.environment_is_known();
        Some(Piece { size: one.set.size, environment_known, surface_known: place.surface.is_some() })
    })
}

fn place(loaded: &Loaded, notice: Brief<'_>) -> Place {
    let wanted_years = loaded.job.notices.wanted_years;
    Place { environment: notice.environment, surface: notice.surface, wanted_years }
}

/// Two devices of one designation stand in two places.
fn own_place(notice: Brief<'_>) -> &str {
    match notice.subject {
        // A standing notice has a number of its own.
        Subject::Enclosure | Subject::Standing => "",
        Subject::Device => notice.area,
    }
}

/// Whose notice it is, after "the notice": `on CH3-JB2`, `at Q7 (Switchroom 1)`.
fn name(notice: Brief<'_>) -> String {
    match (notice.subject, notice.area) {
        (Subject::Enclosure, _) => format!("on `{}`", notice.designation),
        (Subject::Standing, _) => format!("`{}`", notice.number),
        (Subject::Device, "") => format!("at `{}`", notice.designation),
        (Subject::Device, area) => format!("at `{} ({area})`", notice.designation),
    }
}

/// The cell that speaks against the class: what the notice must stand up to, unless that is borne and the surface alone is
/// not.
fn column(class: &Material, process: Process, place: &Place) -> Column {
    let on_any = Place { surface: None, ..*place };
    if class.against(process, &on_any).is_empty() { Column::Surface } else { Column::Environment }
}
