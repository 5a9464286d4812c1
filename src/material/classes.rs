//! The classes that come with the program, and those of one run.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Change, Material, Refusal};
use crate::finding::{Finding, code};

/// Names less alike than this are not taken for one another.
const ALIKE: f64 = 0.85;

/// The classes of material of a run, in order: the program's own, then those of the job file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Materials {
    classes: Vec<Material>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    class: Vec<Material>,
}

/// The classes that come with the program, from the plainest to the most durable.
#[must_use]
pub fn built_in() -> &'static Materials {
    static BUILT_IN: LazyLock<Materials> = LazyLock::new(|| {
        let file: File = toml::from_str(include_str!("classes.toml")).unwrap_or_default();
        Materials { classes: file.class }
    });
    &BUILT_IN
}

impl Default for Materials {
    fn default() -> Self {
        built_in().clone()
    }
}

impl Materials {
    /// All of them, in order.
    pub fn iter(&self) -> impl Iterator<Item = &Material> {
        self.classes.iter()
    }

    /// The class with this name.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<&Material> {
        self.classes.iter().find(|class| class.name == name)
    }

    /// The classes with one more, or with one that is altered.
    ///
    /// # Errors
    /// [`Refusal`] for a change that cannot be used.
    pub fn with(mut self, name: &str, change: &Change) -> Result<Self, Refusal> {
        let class = change.applied(name, &self)?;
        match self.classes.iter_mut().find(|known| known.name == name) {
            Some(known) => *known = class,
            None => self.classes.push(class),
        }
        Ok(self)
    }

    /// What to do about a name that is none of them: the one that is plainly meant, or all.
    #[must_use]
    pub fn hint(&self, name: &str) -> String {
        let folded = name.to_lowercase();
        let likeness = |class: &Material| strsim::jaro_winkler(&folded, &class.name);
        let near = self.classes.iter().max_by(|one, other| likeness(one).total_cmp(&likeness(other)));
        match near.filter(|class| likeness(class) > ALIKE) {
            Some(class) => format!("did you mean `{}`?", class.name),
            None => {
                let names: Vec<&str> = self.classes.iter().map(|class| class.name.as_str()).collect();
                format!("there are {}; the job file adds more under [materials]", names.join(", "))
            }
        }
    }

    /// The finding of a name that is no class; without a place.
    #[must_use]
    pub fn not_known(&self, name: &str) -> Finding {
        Finding::new(code::MATERIAL_NOT_KNOWN, format!("`{name}` is no class of material")).help(self.hint(name))
    }
}
