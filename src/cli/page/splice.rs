//! What differs between two states of a file, small enough to keep, to take a correction back byte for byte.

/// A piece of a file that was replaced.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Splice {
    start: usize,
    old: Vec<u8>,
    new: Vec<u8>,
}

impl Splice {
    /// What turned one state into the other.
    pub(super) fn between(old: &[u8], new: &[u8]) -> Self {
        let same = |(one, other): &(&u8, &u8)| one == other;
        let start = old.iter().zip(new).take_while(same).count();
        let (old, new) = (old.get(start..).unwrap_or_default(), new.get(start..).unwrap_or_default());
        let end = old.iter().rev().zip(new.iter().rev()).take_while(same).count();
        let without_end = |bytes: &[u8]| bytes.get(..bytes.len() - end).unwrap_or_default().to_vec();
        Self { start, old: without_end(old), new: without_end(new) }
    }

    /// The state before; `None` if these bytes are not the state after.
    pub(super) fn undone(&self, bytes: &[u8]) -> Option<Vec<u8>> {
        let end = self.start + self.new.len();
        if bytes.get(self.start..end)? != self.new {
            return None;
        }
        Some([bytes.get(..self.start)?, &self.old, bytes.get(end..)?].concat())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_correction_is_taken_back_byte_for_byte(old in "[ab]{0,12}", new in "[ab]{0,12}") {
            let splice = Splice::between(old.as_bytes(), new.as_bytes());
            prop_assert_eq!(splice.undone(new.as_bytes()), Some(old.into_bytes()));
        }
    }

    #[test]
    fn what_was_changed_since_is_not_taken_back() {
        let splice = Splice::between(b"a,Q1,b", b"a,Q2,b");
        assert_eq!(splice, Splice { start: 3, old: b"1".to_vec(), new: b"2".to_vec() });
        assert_eq!(splice.undone(b"a,Q3,b"), None);
        assert_eq!(splice.undone(b"a"), None);
    }
}
