//! What holds for every pair of surveys.

use std::collections::BTreeMap;

use proptest::collection::vec;
use proptest::prelude::*;

use super::*;

/// One row: enclosure, circuit, supply, isolator, its place, volts to earth, what is done before, charge.
type Row = (u8, u8, u8, u8, u8, u8, bool, bool);

fn any_rows() -> impl Strategy<Value = Vec<Row>> {
    vec((0_u8..5, 0_u8..6, 0_u8..3, 0_u8..6, 0_u8..3, 0_u8..3, any::<bool>(), any::<bool>()), 1..14)
}

fn survey(rows: &[Row]) -> String {
    let mut text =
        "enclosure,area,positions,circuit,fed_from,voltage_to_earth,isolator,isolator_location,before_isolating,\
                    stored_v,discharge_s\n"
            .to_owned();
    for (number, (enclosure, circuit, supply, device, place, volts, before, charge)) in rows.iter().enumerate() {
        let volts = [230, 277, 400][usize::from(*volts)];
        let before = if *before { "stop the fan" } else { "" };
        let charge = if *charge { "700,300" } else { "," };
        let positions = if enclosure % 2 == 0 { "left; right" } else { "" };
        text.push_str(&format!(
            "JB{enclosure},Chamber {enclosure},{positions},C{circuit}-{number},DB-{supply},{volts},Q{device},Room {place},\
             {before},{charge}\n"
        ));
    }
    text
}

fn by_number(notices: &[Notice]) -> BTreeMap<&str, &Notice> {
    notices.iter().map(|notice| (notice.number.as_str(), notice)).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn nothing_changes_between_a_survey_and_itself(rows in any_rows()) {
        let notices = notices(&survey(&rows));
        let changes = compare(versions(&notices), versions(&notices), &Doubt::default(), &|_, _, _| true);
        prop_assert_eq!((changes.changed.len(), changes.unchanged), (0, notices.len()));
        prop_assert!(changes.to_print().is_empty());
    }

    #[test]
    fn what_is_new_from_one_side_is_withdrawn_from_the_other(one in any_rows(), other in any_rows()) {
        let (one, other) = (notices(&survey(&one)), notices(&survey(&other)));
        let there = compare(versions(&one), versions(&other), &Doubt::default(), &|_, _, _| true);
        let back = compare(versions(&other), versions(&one), &Doubt::default(), &|_, _, _| true);
        let of = |changes: &Changes<'_>, fate: Fate| {
            let mut numbers: Vec<String> = changes.changed.iter().filter(|change| change.fate == fate)
                .map(|change| change.number.to_owned()).collect();
            numbers.sort();
            numbers
        };
        prop_assert_eq!(of(&there, Fate::New), of(&back, Fate::Withdrawn));
        prop_assert_eq!(of(&there, Fate::Withdrawn), of(&back, Fate::New));
        prop_assert_eq!(of(&there, Fate::Altered), of(&back, Fate::Altered));
        prop_assert_eq!(there.unchanged, back.unchanged);
    }

    /// Judged by the notices themselves: their lines, their points.
    #[test]
    fn what_is_printed_again_is_what_says_something_else(one in any_rows(), other in any_rows()) {
        let (old, new) = (notices(&survey(&one)), notices(&survey(&other)));
        let changes = compare(versions(&old), versions(&new), &Doubt::default(), &|_, _, _| true);
        let printed = changes.to_print();
        let before = by_number(&old);
        for (number, notice) in by_number(&new) {
            let same = before.get(number).is_some_and(|old| old.lines() == notice.lines());
            prop_assert_eq!(printed.contains(number), !same, "{}", number);
        }
        prop_assert!(printed.iter().all(|number| by_number(&new).contains_key(number.as_str())));
    }

    #[test]
    fn no_point_that_is_lacking_is_ranked_low(one in any_rows(), other in any_rows()) {
        let (old, new) = (notices(&survey(&one)), notices(&survey(&other)));
        let changes = compare(versions(&old), versions(&new), &Doubt::default(), &|_, _, _| true);
        let (before, after) = (by_number(&old), by_number(&new));
        for change in changes.changed.iter().filter(|change| change.fate == Fate::Altered) {
            let points = |notice: &Notice| notice.points.iter()
                .map(|point| (point.designation.clone(), point.place.clone())).collect::<Vec<_>>();
            let (is, was) = (points(after[change.number]), points(before[change.number]));
            match after[change.number].subject {
                Subject::Device if was.iter().any(|point| !is.contains(point)) =>
                    prop_assert!(change.danger <= Danger::DisconnectsLess, "{}", change.number),
                Subject::Enclosure if is.iter().any(|point| !was.contains(point)) =>
                    prop_assert_eq!(change.danger, Danger::PointLacking),
                Subject::Device | Subject::Enclosure | Subject::Standing => {}
            }
        }
    }

    #[test]
    fn danger_never_falls_with_a_further_point(one in any_rows(), other in any_rows(), at in 0_usize..4, device in "Q[0-9]{1,2}") {
        let (old, new) = (notices(&survey(&one)), notices(&survey(&other)));
        for notice in new.iter().filter(|notice| notice.subject == Subject::Enclosure) {
            let Some(old) = old.iter().find(|old| old.number == notice.number) else { continue };
            let mut more = notice.clone();
            let point = crate::notice::NoticePoint {
                designation: device.clone(), place: "Roof".into(), serves: String::new(), remarks: Vec::new(),
            };
            more.points.insert(at.min(more.points.len()), point);
            let danger = |new: &Notice| differences(&Version::of(old), &Version::of(new)).iter().map(|one| one.danger).min();
            let (less, more) = (danger(notice), danger(&more));
            prop_assert!(more.is_some() && less.is_none_or(|less| more <= Some(less)), "{more:?} {less:?}");
        }
    }

    /// Read downwards, each side of the words is the notice itself.
    #[test]
    fn both_sides_are_whole_beside_each_other(one in any_rows(), other in any_rows()) {
        let (old, new) = (notices(&survey(&one)), notices(&survey(&other)));
        for (old, new) in old.iter().zip(&new) {
            let (old, new) = (Statement::of(old), Statement::of(new));
            let lines = beside(&old, &new);
            let alone = |says: &Statement| beside(says, says).into_iter().filter_map(|line| line.old).collect::<Vec<_>>();
            let side = |of: fn(&Line) -> &Option<String>| lines.iter().filter_map(|line| of(line).clone()).collect::<Vec<_>>();
            prop_assert_eq!(side(|line| &line.old), alone(&old));
            prop_assert_eq!(side(|line| &line.new), alone(&new));
        }
    }
}
