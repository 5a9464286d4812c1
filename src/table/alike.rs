//! What much says alike, kept once.

use std::collections::HashSet;
use std::hash::Hash;
use std::sync::Arc;

use foldhash::fast::RandomState;

/// Things of which those that are alike are one.
#[derive(Debug)]
pub(crate) struct Alike<T: ?Sized> {
    all: HashSet<Arc<T>, RandomState>,
    /// The one asked for before: what comes next is mostly like it.
    last: Option<Arc<T>>,
}

impl<T: ?Sized> Default for Alike<T> {
    fn default() -> Self {
        Self { all: HashSet::default(), last: None }
    }
}

impl<T: Eq + Hash> Alike<T> {
    /// The thing, or the one that was there before and is alike.
    pub(crate) fn one(&mut self, thing: T) -> Arc<T> {
        if let Some(last) = self.last.as_ref().filter(|last| ***last == thing) {
            return Arc::clone(last);
        }
        let one = self.all.get(&thing).cloned().unwrap_or_else(|| {
            let thing = Arc::new(thing);
            self.all.insert(Arc::clone(&thing));
            thing
        });
        self.last = Some(Arc::clone(&one));
        one
    }
}

impl<T: ?Sized + Eq + Hash> Alike<T> {
    /// Replaces a thing by the one that was there before and is alike.
    pub(crate) fn share(&mut self, thing: &mut Arc<T>) {
        match self.all.get(&**thing) {
            Some(known) => thing.clone_from(known),
            None => _ = self.all.insert(Arc::clone(thing)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_alike_is_one() {
        let mut texts = Alike::<str>::default();
        let mut all: [Arc<str>; 3] = ["DB-1".into(), "DB-2".into(), "DB-1".into()];
        all.iter_mut().for_each(|text| texts.share(text));
        assert_eq!(all.each_ref().map(|text| &**text), ["DB-1", "DB-2", "DB-1"]);
        assert!(Arc::ptr_eq(&all[0], &all[2]) && !Arc::ptr_eq(&all[0], &all[1]));

        let mut figures = Alike::default();
        let [one, same, other, again] = [230, 230, 400, 230].map(|figure| figures.one(figure));
        assert_eq!((*one, *same, *other, *again), (230, 230, 400, 230));
        assert!(Arc::ptr_eq(&one, &same) && Arc::ptr_eq(&one, &again) && !Arc::ptr_eq(&one, &other));
    }
}
