//! What labels are made of and how they are printed, and what each material stands up to.

use std::fmt;

use serde::Deserialize;

use crate::finding::{Finding, code};
use crate::survey::value::Environment;

/// Class of a label's material.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Material {
    /// Uncoated paper: for trial prints.
    Paper,
    /// Calendered vinyl film.
    VinylMonomeric,
    /// Polymeric vinyl film.
    VinylPolymeric,
    /// Cast vinyl film.
    VinylCast,
    /// Polyester film with its print open to the air.
    Polyester,
    /// Polyester film with a clear film over the print.
    PolyesterLaminated,
    /// Polyimide film.
    Polyimide,
    /// Engraved laminate of two colours.
    EngravedLaminate,
    /// Anodised aluminium with the image sealed in the oxide.
    AnodisedAluminium,
    /// Etched or engraved stainless steel.
    Stainless,
}

/// How a label is marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Process {
    /// Toner.
    Laser,
    /// Ink drops.
    Inkjet,
    /// A ribbon melted on.
    ThermalTransfer,
    /// Cut or burnt into the material.
    Engraving,
    /// A printing works.
    Press,
}

/// Highest service temperature in degrees Celsius, and whether the class is meant for the open air.
///
/// Ranges of the trade, from memory; no standard fixes them.
struct Endurance {
    hottest: i16,
    outdoor: bool,
}

impl Material {
    /// The class as sheet formats spell it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Paper => "paper",
            Self::VinylMonomeric => "vinyl-monomeric",
            Self::VinylPolymeric => "vinyl-polymeric",
            Self::VinylCast => "vinyl-cast",
            Self::Polyester => "polyester",
            Self::PolyesterLaminated => "polyester-laminated",
            Self::Polyimide => "polyimide",
            Self::EngravedLaminate => "engraved-laminate",
            Self::AnodisedAluminium => "anodised-aluminium",
            Self::Stainless => "stainless",
        }
    }

    const fn endurance(self) -> Endurance {
        let (hottest, outdoor) = match self {
            Self::Paper => (60, false),
            Self::VinylMonomeric => (70, false),
            Self::VinylPolymeric | Self::EngravedLaminate => (80, true),
            Self::VinylCast => (90, true),
            Self::Polyester => (120, false),
            Self::PolyesterLaminated => (120, true),
            Self::Polyimide => (260, false),
            Self::AnodisedAluminium => (200, true),
            Self::Stainless => (400, true),
        };
        Endurance { hottest, outdoor }
    }

    /// Whether the mark lies under or in the material, out of reach of water and spirit.
    ///
    /// Moulded, pressed and engraved marks are exempt from the rub test of IEC 61439-1 10.2.7 (from memory); toner and
    /// ink need a film over them to pass it (common practice).
    const fn shields_its_mark(self, process: Process) -> bool {
        match self {
            Self::PolyesterLaminated | Self::EngravedLaminate | Self::AnodisedAluminium | Self::Stainless => true,
            Self::Paper => false,
            Self::VinylMonomeric | Self::VinylPolymeric | Self::VinylCast | Self::Polyester | Self::Polyimide => {
                matches!(process, Process::Engraving)
            }
        }
    }
}

impl Process {
    /// The process as sheet formats spell it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Laser => "laser",
            Self::Inkjet => "inkjet",
            Self::ThermalTransfer => "thermal-transfer",
            Self::Engraving => "engraving",
            Self::Press => "press",
        }
    }
}

impl fmt::Display for Material {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl fmt::Display for Process {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// What in an enclosure's environment the material and process of its label would not stand up to; `None` if nothing
/// is known to speak against them.
#[must_use]
pub fn suits(material: Material, process: Process, environment: Environment, enclosure: &str) -> Option<Finding> {
    let endurance = material.endurance();
    let mut against = Vec::new();
    if (environment.outdoor || environment.sun) && !endurance.outdoor {
        against.push("the open air".to_owned());
    }
    if (environment.washdown || environment.solvent) && !material.shields_its_mark(process) {
        against.push("washing down or solvents".to_owned());
    }
    if let Some(heat) = environment.heat.filter(|heat| *heat > endurance.hottest) {
        against.push(format!("{heat} °C"));
    }
    (!against.is_empty()).then(|| {
        let message = format!("`{material}` marked by `{process}` is not made for {}", against.join(" and "));
        Finding::new(code::MATERIAL_DOES_NOT_SUIT, message)
            .help("choose a sheet format of another material, or protect the notice from it")
            .about(enclosure)
    })
}
