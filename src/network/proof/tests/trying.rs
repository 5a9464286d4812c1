//! The search for a cut path by path, held against the one that tries every choice.

use proptest::prelude::*;

use super::super::cut::smallest;
use super::super::declared::Declared;
use super::super::fitness::{starts_of, unfit};
use super::super::operations::Operations;
use super::super::region::Region;
use super::super::trying::{Trial, smaller};
use super::brute::Brute;
use super::fixture::Site;
use super::random::{cases, random_site};

/// What an enclosure declares, with its region and the operations that part it.
fn with_region<T>(site: &Site, look: impl FnOnce(&Declared<'_>, &Region, &Operations) -> T) -> T {
    let declared = site.declared();
    let region = Region::of(&declared.groundwork.lines, &starts_of(&declared, |_| true));
    let operations = Operations::of(&declared, &region, &unfit(&declared));
    look(&declared, &region, &operations)
}

proptest! {
    #![proptest_config(cases(4_000))]

    #[test]
    fn it_finds_a_cut_as_small_as_the_smallest_and_none_that_is_smaller((nodes, rows) in random_site(12)) {
        let site = Site::of(&format!("{nodes}\n{rows}"));
        let (fewest, found, further) = with_region(&site, |declared, region, operations| {
            let Some(cut) = smallest(declared) else { return (None, None, None) };
            let found = smaller(region, operations, cut.operations + 1);
            let opened = if let Trial::Found(done) = &found {
                let devices = done.iter().flat_map(|number| operations.devices(declared, *number));
                Some((done.len(), devices.collect::<Vec<_>>()))
            } else {
                None
            };
            (Some(cut.operations), Some(opened), Some(smaller(region, operations, cut.operations)))
        });
        let Some(fewest) = fewest else { return Ok(()) };
        let opened = found.flatten();
        prop_assert_eq!(opened.as_ref().map(|(count, _)| *count), Some(fewest), "{}", site.told());
        let does = opened.is_some_and(|(_, devices)| Brute::of(&site.network).does(&devices));
        prop_assert!(does, "does not do: {}", site.told());
        prop_assert!(matches!(further, Some(Trial::NoneIsSmaller)), "{:?}: {}", further, site.told());
    }
}

/// A board with so many pairs of feeders, each behind two isolators: the lower ones of a pair have one handle.
fn pairs_of_feeders(pairs: usize, upper: &str) -> String {
    let feeder =
        |number: usize| format!("x{number} isolator < N{upper}\ny{number} isolator < x{number} il=IL{}", number / 2);
    let feeders: Vec<String> = (0..pairs * 2).map(feeder).collect();
    let lower: Vec<String> = (0..pairs * 2).map(|number| format!("y{number}")).collect();
    format!("N source\n{}\nB busbar < {}\nrow y0 at B.load", feeders.join("\n"), lower.join(" + "))
}

/// What the search comes to that looks for fewer operations than this.
fn smaller_than(site: &Site, than: usize) -> Option<usize> {
    with_region(site, |_, region, operations| match smaller(region, operations, than) {
        Trial::Found(done) => Some(done.len()),
        Trial::NoneIsSmaller => None,
        Trial::GivenUp => panic!("given up"),
    })
}

#[test]
fn one_handle_that_opens_all_is_found_before_those_that_open_a_pair() {
    let site = Site::of(&pairs_of_feeders(4, " il=IL99"));
    assert_eq!(smaller_than(&site, 4), Some(1));
    assert_eq!(smaller_than(&site, 1), None);
}

#[test]
fn handles_that_open_a_pair_are_all_needed_where_none_opens_more() {
    let site = Site::of(&pairs_of_feeders(4, ""));
    assert_eq!(smaller_than(&site, 9), Some(4));
    assert_eq!(smaller_than(&site, 4), None);
}
