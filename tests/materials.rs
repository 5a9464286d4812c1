//! The table of materials for people says what the data say.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test reads the tree by itself"
)]

use noticewright::material::{Life, Process, built_in};

fn years(life: Life) -> String {
    match life.numbers().as_slice() {
        [] => "no".to_owned(),
        [least] => format!("{least} and more"),
        [least, most, ..] => format!("{least} to {most}"),
    }
}

#[test]
fn the_readme_of_the_formats_has_every_class_with_its_figures() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/label-layouts/README.md");
    let readme = std::fs::read_to_string(path).unwrap();
    for class in built_in().iter() {
        let ways = |ways: &[Process]| match ways {
            [] => "no".to_owned(),
            ways if ways.len() == class.marked_by.len() => "yes".to_owned(),
            ways => ways.iter().map(|way| way.name()).collect::<Vec<_>>().join(", "),
        };
        let surfaces: Vec<&str> = class.surfaces.iter().map(|surface| surface.name()).collect();
        let row = format!(
            "| `{}` | {} to {} | {} | {} | {} | {} | {} | {} |",
            class.name,
            class.coldest,
            class.hottest,
            years(class.indoor_years),
            years(class.outdoor_years),
            ways(&class.washdown_marked_by),
            ways(&class.solvent_marked_by),
            surfaces.join(", "),
            if class.conductive { "yes" } else { "no" }
        );
        assert!(readme.contains(&row), "no row {row}");
    }
}
