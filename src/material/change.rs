//! A class that a job file adds or alters from a maker's data sheet.

use std::ops::Range;

use serde::Deserialize;
use toml::Spanned;

use super::{Life, Material, Materials, Process};
use crate::survey::is_hidden;
use crate::survey::value::Surface;

/// No service temperature lies outside, in degrees Celsius: the cold of liquid air, the softening of steel.
const TEMPERATURES: Range<i16> = -200..1_001;

/// What a data sheet says that differs from a class at hand. What it does not say stays as it is there.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Change {
    /// The class from which the rest is taken; the altered one itself where nothing is said.
    pub like: Option<Spanned<String>>,
    /// Where the figures come from: the data sheet.
    pub source: Spanned<String>,
    /// What it is.
    pub words: Option<String>,
    /// Lowest service temperature, degrees Celsius.
    pub coldest: Option<i16>,
    /// Highest service temperature, degrees Celsius.
    pub hottest: Option<i16>,
    /// How long it lasts indoors.
    pub indoor_years: Option<Life>,
    /// How long it lasts in the open.
    pub outdoor_years: Option<Life>,
    /// The usual ways of marking it.
    pub marked_by: Option<Vec<Process>>,
    /// The ways whose mark stays when it is washed down.
    pub washdown_marked_by: Option<Vec<Process>>,
    /// The ways whose mark stands up to solvents.
    pub solvent_marked_by: Option<Vec<Process>>,
    /// Whether a plate of it must be kept off live parts.
    pub conductive: Option<bool>,
    /// What it may be fixed on.
    pub surfaces: Option<Vec<Surface>>,
    /// What else must be known of it.
    pub notes: Option<String>,
}

/// Why a change cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// What is wrong and what to do, in one sentence without a full stop.
    pub message: String,
    /// The bytes of the file that show it.
    pub span: Range<usize>,
}

impl Change {
    /// The class that comes of it.
    ///
    /// # Errors
    /// [`Refusal`] for a class to be like that is none, an empty source, figures that contradict each other.
    pub(super) fn applied(&self, name: &str, known: &Materials) -> Result<Material, Refusal> {
        let refused = |message: String| Refusal { message, span: self.source.span() };
        let printable = |text: &str| !text.trim().is_empty() && !text.chars().any(|c| is_hidden(c) || c.is_control());
        if !printable(name) {
            return Err(refused("a class under [materials] needs a name that can be printed".to_owned()));
        }
        if !printable(self.source.get_ref()) {
            let message = format!("material `{name}`: `source` names the data sheet that the figures come from");
            return Err(refused(message));
        }
        let like = self.like.as_ref().map_or(name, |like| like.get_ref().as_str());
        let base = known.find(like).ok_or_else(|| match &self.like {
            Some(like) => Refusal {
                message: format!(
                    "material `{name}`: `{like}` is no class of material; {}",
                    known.hint(like.get_ref()),
                    like = like.get_ref()
                ),
                span: like.span(),
            },
            None => refused(format!(
                "material `{name}` is new, so `like` must name the class that it is closest to; {}",
                known.hint(name)
            )),
        })?;
        let class = self.over(base, name);
        class.contradiction().map_or(Ok(()), |fault| Err(refused(format!("material `{name}`: {fault}"))))?;
        Ok(class)
    }

    fn over(&self, base: &Material, name: &str) -> Material {
        let taken = |own: &Option<Vec<Process>>, base: &Vec<Process>| own.as_ref().unwrap_or(base).clone();
        let base = base.clone();
        Material {
            name: name.to_owned(),
            words: self.words.clone().unwrap_or(base.words),
            coldest: self.coldest.unwrap_or(base.coldest),
            hottest: self.hottest.unwrap_or(base.hottest),
            indoor_years: self.indoor_years.unwrap_or(base.indoor_years),
            outdoor_years: self.outdoor_years.unwrap_or(base.outdoor_years),
            marked_by: taken(&self.marked_by, &base.marked_by),
            washdown_marked_by: taken(&self.washdown_marked_by, &base.washdown_marked_by),
            solvent_marked_by: taken(&self.solvent_marked_by, &base.solvent_marked_by),
            conductive: self.conductive.unwrap_or(base.conductive),
            surfaces: self.surfaces.clone().unwrap_or(base.surfaces),
            notes: self.notes.clone().unwrap_or(base.notes),
            basis: self.source.get_ref().trim().to_owned(),
        }
    }
}

impl Material {
    /// What in its figures cannot be true; `None` if nothing is.
    pub(super) fn contradiction(&self) -> Option<String> {
        let Self { coldest, hottest, .. } = *self;
        if !(TEMPERATURES.contains(&coldest) && TEMPERATURES.contains(&hottest)) {
            let (least, most) = (TEMPERATURES.start, TEMPERATURES.end - 1);
            return Some(format!("a service temperature lies between {least} and {most} °C"));
        }
        if coldest >= hottest {
            return Some(format!("`coldest` is {coldest} °C and `hottest` {hottest} °C"));
        }
        if !self.indoor_years.is_some() {
            return Some("`indoor_years` is empty; every label lasts some time indoors".to_owned());
        }
        let lists = [("washdown_marked_by", &self.washdown_marked_by), ("solvent_marked_by", &self.solvent_marked_by)];
        lists.into_iter().find_map(|(key, list)| {
            let stray = list.iter().find(|process| !self.marked_by.contains(process))?;
            Some(format!("`{key}` names `{stray}`, and `marked_by` does not"))
        })
    }
}
