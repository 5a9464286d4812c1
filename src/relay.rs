//! Work passed on: while what was made of some is taken, the next are made, so that no thread is left without work.

/// Makes something of each batch on as many threads as there are, and takes it on this one, in the order of the batches. At
/// any time what was made of two of them is held.
///
/// # Errors
/// The first error of `take`; what is being made meanwhile is finished and dropped.
pub(crate) fn relay<Batch: Send, Made: Send, E>(
    batches: impl IntoIterator<Item = Batch>,
    make: impl Fn(Batch) -> Made + Sync,
    mut take: impl FnMut(Made) -> Result<(), E>,
) -> Result<(), E> {
    let mut made = None;
    for batch in batches {
        let before = made.take();
        rayon::in_place_scope(|scope| {
            scope.spawn(|_| made = Some(make(batch)));
            before.map_or(Ok(()), &mut take)
        })?;
    }
    made.map_or(Ok(()), take)
}

/// The numbers from 0 to `count`, so many at a time.
pub(crate) fn batches(count: usize, at_a_time: usize) -> impl Iterator<Item = std::ops::Range<usize>> {
    (0..count).step_by(at_a_time).map(move |first| first..count.min(first.saturating_add(at_a_time)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everything_made_is_taken_in_its_order() {
        let mut taken = Vec::new();
        let take = |made: Vec<usize>| {
            taken.extend(made);
            Ok::<_, ()>(())
        };
        relay(batches(10, 3), |some| some.map(|number| number * number).collect(), take).unwrap();
        assert_eq!(taken, [0, 1, 4, 9, 16, 25, 36, 49, 64, 81]);
        relay(batches(0, 3), |_| panic!("there is nothing to make"), Ok::<_, ()>).unwrap();
    }

    #[test]
    fn the_first_error_ends_it() {
        let mut taken = Vec::new();
        let take = |made: usize| {
            taken.push(made);
            if made == 3 { Err("enough") } else { Ok(()) }
        };
        assert_eq!(relay(batches(10, 3), |some| some.start, take), Err("enough"));
        assert_eq!(taken, [0, 3]);
    }

    #[test]
    fn the_last_batch_has_what_is_left() {
        assert_eq!(batches(7, 3).collect::<Vec<_>>(), [0..3, 3..6, 6..7]);
        assert!(batches(usize::MAX, usize::MAX).eq(std::iter::once(0..usize::MAX)));
    }
}
