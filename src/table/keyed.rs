//! Things found by a key, without keeping the key: what a thing says tells it again. On a large survey the keys would take as
//! much room as the things, and leave holes in memory once they go.

use std::collections::HashMap;
use std::collections::hash_map::Entry;
use std::hash::BuildHasher;

use foldhash::fast::RandomState;

/// Things found by a key.
#[derive(Debug)]
pub(crate) struct Keyed<T, S = RandomState> {
    hasher: S,
    /// By the hash of its key, the first of those that share it.
    first: HashMap<u64, T, RandomState>,
    /// The others, by key: two keys hardly ever share a hash.
    others: HashMap<String, T, RandomState>,
}

impl<T, S: Default> Default for Keyed<T, S> {
    fn default() -> Self {
        Self { hasher: S::default(), first: HashMap::default(), others: HashMap::default() }
    }
}

impl<T: Copy, S: BuildHasher> Keyed<T, S> {
    /// Makes room for so many more.
    pub(crate) fn reserve(&mut self, more: usize) {
        self.first.reserve(more);
    }

    /// The thing with this key; `has` tells whether it is that of a thing.
    pub(crate) fn find(&self, key: &str, has: impl FnOnce(T) -> bool) -> Option<T> {
        let first = *self.first.get(&self.hasher.hash_one(key))?;
        if has(first) { Some(first) } else { self.others.get(key).copied() }
    }

    /// Adds a thing with a key that nothing has yet.
    pub(crate) fn insert(&mut self, key: &str, thing: T) {
        match self.first.entry(self.hasher.hash_one(key)) {
            Entry::Vacant(free) => _ = free.insert(thing),
            Entry::Occupied(_) => _ = self.others.insert(key.to_owned(), thing),
        }
    }

    /// Forgets all.
    pub(crate) fn clear(&mut self) {
        self.first.clear();
        self.others.clear();
    }
}

#[cfg(test)]
mod tests {
    use std::hash::{BuildHasher, Hasher};

    use super::*;

    /// Hashes everything alike, as nobody would.
    #[derive(Default)]
    struct Alike;

    impl Hasher for Alike {
        fn finish(&self) -> u64 {
            7
        }

        fn write(&mut self, _: &[u8]) {}
    }

    impl BuildHasher for Alike {
        type Hasher = Self;

        fn build_hasher(&self) -> Self {
            Self
        }
    }

    fn finds_each<S: BuildHasher + Default>() {
        let names = ["Q7", "Q8", "", "Q7 ", "\u{fc}"];
        let mut keyed = Keyed::<usize, S>::default();
        let find = |keyed: &Keyed<usize, S>, key: &str| keyed.find(key, |place| names[place] == key);
        for (place, name) in names.iter().enumerate() {
            assert_eq!(find(&keyed, name), None);
            keyed.insert(name, place);
        }
        for (place, name) in names.iter().enumerate() {
            assert_eq!(find(&keyed, name), Some(place));
        }
        assert_eq!(find(&keyed, "Q9"), None);
        keyed.clear();
        assert_eq!(find(&keyed, "Q7"), None);
    }

    #[test]
    fn each_is_found_whatever_the_hashes() {
        finds_each::<RandomState>();
        finds_each::<Alike>();
    }
}
