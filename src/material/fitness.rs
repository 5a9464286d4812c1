//! Whether a label's material, and the way it is marked, suit the place where it is fixed.

use super::{Material, Materials, Process};
use crate::finding::{Finding, code};
use crate::survey::value::{Environment, Surface};

/// What is known of the place of a label.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Place {
    /// What the label must stand up to; nothing named is nothing known.
    pub environment: Environment,
    /// What it is fixed on; `None` where nobody says.
    pub surface: Option<Surface>,
    /// How long it is to last, where the job says.
    pub wanted_years: Option<u16>,
}

impl Place {
    /// Whether anything is known of what it must stand up to.
    #[must_use]
    pub fn environment_is_known(&self) -> bool {
        self.environment != Environment::default()
    }

    const fn is_in_the_open(&self) -> bool {
        self.environment.outdoor || self.environment.sun
    }
}

impl Material {
    /// What in a place speaks against it, in words that follow "is not made for"; none if nothing known does.
    #[must_use]
    pub fn against(&self, process: Process, place: &Place) -> Vec<String> {
        let mut against: Vec<String> = self.short_life(place).into_iter().collect();
        let Environment { washdown, solvent, heat, cold, .. } = place.environment;
        if washdown && !self.washdown_marked_by.contains(&process) {
            against.push(with_open_mark("washing down", &self.washdown_marked_by));
        }
        if solvent && !self.solvent_marked_by.contains(&process) {
            against.push(with_open_mark("solvents", &self.solvent_marked_by));
        }
        if let Some(heat) = heat.filter(|heat| *heat > self.hottest) {
            against.push(format!("{heat} °C (at most {} °C)", self.hottest));
        }
        if let Some(cold) = cold.filter(|cold| *cold < self.coldest) {
            against.push(format!("{cold} °C (at least {} °C)", self.coldest));
        }
        if let Some(surface) = place.surface.filter(|surface| !self.surfaces.contains(surface)) {
            against.push(
                match surface {
                    Surface::PaintedMetal => "painted metal",
                    Surface::BareMetal => "bare metal",
                    Surface::Plastic => "plastic",
                    Surface::Textured => "a textured surface",
                    Surface::Curved => "a curved surface",
                }
                .to_owned(),
            );
        }
        against
    }

    /// A life that ends before it should. Indoors is the mildest that a place can be, so what is too short there is too
    /// short wherever nobody says.
    fn short_life(&self, place: &Place) -> Option<String> {
        let open = place.is_in_the_open();
        let (life, before) = if open { (self.outdoor_years, "the open air for ") } else { (self.indoor_years, "") };
        if open && !life.is_some() {
            return Some("the open air".to_owned());
        }
        let wanted = place.wanted_years.filter(|wanted| *wanted > life.least)?;
        Some(format!("{before}{wanted} years ({life} are usual)"))
    }
}

/// What is against a mark that lies open: `solvents (its mark lies open to them)`; without a remark where no way of
/// marking the class would help.
fn with_open_mark(what: &str, shielded: &[Process]) -> String {
    if shielded.is_empty() { what.to_owned() } else { format!("{what} (marked so, its mark lies open)") }
}

/// Why a class does not suit the place of a label, all reasons in one finding; `None` if nothing known speaks against it.
/// `label` says whose label it is, after "the notice".
#[must_use]
pub fn suits(
    material: &Material,
    process: Process,
    place: &Place,
    label: impl FnOnce() -> String,
    known: &Materials,
) -> Option<Finding> {
    let against = material.against(process, place);
    if against.is_empty() {
        return None;
    }
    let message = format!(
        "`{}` marked by `{process}`, for the notice {}, is not made for {}",
        material.name,
        label(),
        against.join("; ")
    );
    Some(Finding::new(code::MATERIAL_DOES_NOT_SUIT, message).help(remedy(material, process, place, known)))
}

/// A class that nothing known speaks against: one that is marked in the same way before any other.
fn remedy(material: &Material, process: Process, place: &Place, known: &Materials) -> String {
    let does = |class: &Material, process: Process| {
        class.marked_by.contains(&process) && class.against(process, place).is_empty()
    };
    let others = || known.iter().filter(|class| **class != *material);
    let same = others().find(|class| does(class, process)).map(|class| (class, process));
    let found = same.or_else(|| {
        others().find_map(|class| Some((class, *class.marked_by.iter().find(|other| does(class, **other))?)))
    });
    match found {
        Some((class, process)) => format!(
            "choose a sheet format of another material: nothing known speaks against `{}` marked by `{process}`",
            class.name
        ),
        None => {
            "no class at hand is made for all of it: fix the notice where it is sheltered and flat, or add a material \
                 from its maker's data sheet under [materials] in the job file"
                .to_owned()
        }
    }
}

/// The caution about plates that conduct, once a material.
#[must_use]
pub fn conducts(material: &Material, notices: usize) -> Option<Finding> {
    material.conductive.then(|| {
        let plural = if notices == 1 { "notice is a plate" } else { "notices are plates" };
        let message = format!("{notices} {plural} of `{}`, which conducts", material.name);
        Finding::new(code::CONDUCTIVE_PLATE, message)
            .help("keep plates and their screws off live parts and out of the enclosure's insulation")
    })
}
