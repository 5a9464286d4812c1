//! What joining costs grows with the rows, not with their square: the names compared are counted.

use crate::network::testing::surveyed;
use crate::network::{Network, NetworkOptions};
use crate::table::spelling::counting::keys_made;

const HEADER: &str = "enclosure,circuit,fed_from,voltage_to_earth,isolator,isolator_location,neutral_from";

#[test]
fn rows_of_one_enclosure_that_borrow_neutrals_are_not_looked_through_for_each() {
    let made = |count: usize| {
        let row = |row: usize| format!("E1,C/{row},DB-C,230,Q{row},Board C,C/{}", count - row - 1);
        let rows: Vec<String> = (0..count).map(row).collect();
        let survey = surveyed(HEADER, &rows.iter().map(String::as_str).collect::<Vec<_>>());
        assert_eq!(survey.enclosures[0].rows.len(), count);
        keys_made(|| drop(Network::join(&survey, None, &NetworkOptions::default())))
    };
    let (some, twice) = (made(200), made(400));
    assert!(some >= 400 && twice <= 2 * some + 10, "{some} names of 200 rows, {twice} of 400");
}
