//! Which devices are advised where a rule of their own decides between several sets.

use super::super::cut::smallest;
use super::super::declared::Declared;
use super::fixture::Site;
use crate::network::id::{EnclosureId, WayId};

/// The devices advised.
fn advised(text: &str) -> Option<Vec<String>> {
    let site = Site::of(text);
    let ways: Vec<WayId> = site.network.way_ids(EnclosureId::new(0)).collect();
    let cut = smallest(&Declared::of(&site.network, &ways))?;
    Some(cut.devices.iter().map(|node| site.names[node.index()].clone()).collect())
}

fn named<const N: usize>(names: [&str; N]) -> Option<Vec<String>> {
    Some(names.map(str::to_owned).to_vec())
}

/// With `n1` open the neutral of `n5` comes to its load side by the changeover, which parts nothing where it moves with `n1`,
/// because it has no off position.
#[test]
fn a_neutral_that_is_not_known_to_be_earthed_speaks_against_a_cut() {
    let of = |neutral: &str, coupled: &str| {
        advised(&format!(
            "n0 source neutral=earthed\nn1 isolator < n0 poles=3+N{coupled}\nn2 changeover < n0 + n1 poles=3+N{coupled}\n\
             n5 busbar < n2 neutral={neutral}\nn6 isolator < n2 + n5 poles=3+N\nrow n1 neutral=yes"
        ))
    };
    for coupled in ["", " il=IL1"] {
        assert_eq!(of("earthed", coupled), named(["n1"]), "{coupled}");
        assert_eq!(of("live", coupled), None, "{coupled}");
    }
}

/// Also where a row is live in two places, and such a neutral comes to one of them alone.
#[test]
fn such_a_neutral_speaks_against_a_cut_wherever_it_comes_to() {
    let of = |neutral: &str, places: &str| {
        advised(&format!(
            "m0 source neutral=earthed\nm1 isolator < m0 poles=3+N\nn0 source neutral=earthed\n\
             n1 isolator < n0 poles=3+N\nn2 changeover < n0 + n1 poles=3+N\nn5 busbar < n2 neutral={neutral}\n\
             n6 isolator < n2 + n5 poles=3+N\nrow {places} neutral=yes"
        ))
    };
    for places in ["n1 + m1", "m1 + n1"] {
        assert!(of("earthed", places).is_some_and(|devices| devices.len() == 2), "{places}");
        assert_eq!(of("live", places), None, "{places}");
    }
}

/// The same of the neutral of a transformer, which may not be known at all.
#[test]
fn a_neutral_of_which_nothing_is_said_speaks_against_a_cut() {
    let of = |neutral: &str, row: &str| {
        advised(&format!(
            "n0 source neutral=earthed\nn1 isolator < n0 poles=3+N\nn2 changeover < n0 + n1 poles=3+N\n\
             n5 transformer < n2 neutral={neutral}\nn6 isolator < n2 + n5 poles=3+N\nrow n1 neutral={row}"
        ))
    };
    assert_eq!((of("earthed", "yes"), of("earthed", "?")), (named(["n1"]), named(["n1"])));
    assert_eq!((of("unknown", "yes"), of("live", "yes")), (None, None));
    // Nor where the row does not say whether it has one.
    assert_eq!((of("unknown", "?"), of("live", "?")), (None, None));
}

/// Of two cuts as small, `c` is nearer to the live parts than `m`, and `a` is as far away.
#[test]
fn of_an_interlock_the_device_next_to_the_live_parts_counts() {
    let cut = advised(
        "s source\nm isolator < s\nb busbar < m\na isolator < b il=IL1\nc isolator < b il=IL1\nx busbar < a\n\
         y isolator < x\nrow y\nrow c",
    );
    assert_eq!(cut, named(["a", "c"]));
}

/// `qy` parts one line of the three that come to the output `o`, of which no row speaks.
#[test]
fn what_is_too_small_for_the_output_of_a_ups_is_no_cut() {
    let of = |poles: u8| {
        advised(&format!(
            "s source\nqm isolator < s poles=3\nqy isolator < qm poles={poles}\nu ups-with-battery-apart system=3\n\
             o busbar < u + qy\nqx isolator < u poles=1\nrow qx lines=1 ups=u further=o"
        ))
    };
    assert_eq!(of(1), named(["qm"]));
    assert_eq!(of(3), named(["qy"]));
}
