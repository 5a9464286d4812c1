//! What must hold of this stage, provoked case by case.

use super::*;
use crate::finding::{Severity, code};
use crate::survey::value::Environment;

fn class(name: &str) -> &'static Material {
    built_in().find(name).unwrap()
}

fn indoors() -> Environment {
    Environment { indoor: true, ..Environment::default() }
}

fn place(environment: Environment) -> Place {
    Place { environment, ..Place::default() }
}

fn message(material: &str, process: Process, place: &Place) -> Option<(String, String)> {
    let finding = suits(class(material), process, place, || "on `CH3-JB2`".to_owned(), built_in())?;
    assert_eq!(finding.code, code::MATERIAL_DOES_NOT_SUIT);
    Some((finding.message, finding.help.unwrap()))
}

/// The table of the trade (common practice, from memory; no standard fixes it): hottest service temperature in degrees
/// Celsius, then least and most years indoors and in the open, 0 for "and more".
const TRADE: [(&str, i16, &[u16], &[u16]); 10] = [
    ("paper", 60, &[1, 2], &[]),
    ("vinyl-monomeric", 70, &[5], &[2, 4]),
    ("vinyl-polymeric", 80, &[7, 10], &[5, 7]),
    ("vinyl-cast", 90, &[10], &[7, 10]),
    ("polyester", 120, &[5, 10], &[]),
    ("polyester-laminated", 120, &[10], &[5, 10]),
    ("polyimide", 260, &[10], &[]),
    ("engraved-laminate", 80, &[20], &[10]),
    ("anodised-aluminium", 200, &[20], &[15, 20]),
    ("stainless", 400, &[25], &[25]),
];

#[test]
fn the_classes_are_those_of_the_trade() {
    let names: Vec<&str> = built_in().iter().map(|class| class.name.as_str()).collect();
    assert_eq!(names, TRADE.map(|(name, ..)| name));
    for (name, hottest, indoors, outdoors) in TRADE {
        let class = class(name);
        assert_eq!(class.hottest, hottest, "{name}");
        assert_eq!(class.indoor_years.numbers(), indoors, "{name}");
        assert_eq!(class.outdoor_years.numbers(), outdoors, "{name}");
    }
}

#[test]
fn every_class_says_everything_and_contradicts_itself_nowhere() {
    // A key that is missing or misspelt leaves the whole file unread, and the list above empty.
    for class in built_in().iter() {
        let name = &class.name;
        assert!(!class.words.is_empty() && !class.notes.is_empty() && !class.surfaces.is_empty(), "{name}");
        assert!(!class.marked_by.is_empty(), "{name}");
        assert!(class.basis.contains("from memory"), "{name}");
        assert_eq!(class.contradiction(), None, "{name}");
        // What lasts in the open lasts at least as long indoors.
        assert!(class.indoor_years.least >= class.outdoor_years.least, "{name}");
    }
    let conducting: Vec<&str> = built_in().iter().filter(|class| class.conductive).map(|class| &*class.name).collect();
    assert_eq!(conducting, ["anodised-aluminium", "stainless"]);
}

#[test]
fn all_reasons_stand_in_one_finding() {
    let environment = Environment { outdoor: true, washdown: true, solvent: true, heat: Some(90), ..indoors() };
    let place = Place { environment, surface: Some(Surface::Textured), wanted_years: Some(5) };
    let (said, help) = message("paper", Process::Laser, &place).unwrap();
    assert_eq!(
        said,
        "`paper` marked by `laser`, for the notice on `CH3-JB2`, is not made for the open air; washing down; solvents; \
         90 °C (at most 60 °C); a textured surface"
    );
    assert!(help.contains("`anodised-aluminium` marked by `press`"), "{help}");
}

#[test]
fn each_condition_speaks_by_itself() {
    let said = |material: &str, environment: Environment| message(material, Process::Laser, &place(environment));
    let nothing = Environment::default();
    for (name, environment, expected) in [
        ("vinyl-cast", Environment { washdown: true, ..nothing }, "washing down"),
        ("polyester", Environment { washdown: true, ..nothing }, "washing down (marked so, its mark lies open)"),
        ("polyester", Environment { solvent: true, ..nothing }, "solvents (marked so, its mark lies open)"),
        ("polyester", Environment { sun: true, ..nothing }, "the open air"),
        ("polyester-laminated", Environment { heat: Some(121), ..nothing }, "121 °C (at most 120 °C)"),
        ("vinyl-monomeric", Environment { cold: Some(-28), ..nothing }, "-28 °C (at least -20 °C)"),
    ] {
        let (said, _) = said(name, environment).unwrap();
        assert!(said.ends_with(&format!("is not made for {expected}")), "{said}");
    }
    assert_eq!(
        said("polyester-laminated", Environment { heat: Some(120), washdown: true, solvent: true, ..nothing }),
        None
    );
    for surface in [Surface::Textured, Surface::Curved] {
        let place = Place { surface: Some(surface), ..Place::default() };
        let (said, help) = message("polyester-laminated", Process::Laser, &place).unwrap();
        assert!(said.ends_with(&format!("is not made for a {} surface", surface.name())), "{said}");
        let expected = if surface == Surface::Textured { "vinyl-cast" } else { "vinyl-polymeric" };
        assert!(help.contains(&format!("`{expected}` marked by `laser`")), "{help}");
    }
}

#[test]
fn what_nobody_says_is_held_against_no_material() {
    for class in built_in().iter() {
        for process in class.marked_by.iter().copied() {
            assert_eq!(suits(class, process, &Place::default(), String::new, built_in()), None);
        }
    }
    assert!(!Place::default().environment_is_known() && place(indoors()).environment_is_known());
}

#[test]
fn a_life_is_held_against_the_wish() {
    let wanted = |environment, years| Place { environment, wanted_years: Some(years), ..Place::default() };
    let open = Environment { outdoor: true, ..Environment::default() };
    let said = |place: &Place| message("polyester-laminated", Process::Laser, place).map(|(said, _)| said);
    let (found, help) = message("polyester-laminated", Process::Laser, &wanted(open, 10)).unwrap();
    assert!(found.ends_with("is not made for the open air for 10 years (5 to 10 years are usual)"), "{found}");
    assert!(help.contains("`engraved-laminate` marked by `engraving`"), "{help}");
    assert_eq!(said(&wanted(open, 5)), None);
    assert_eq!(said(&wanted(indoors(), 10)), None);
    // Nowhere does it last longer than indoors.
    let found = said(&wanted(Environment::default(), 11)).unwrap();
    assert!(found.ends_with("is not made for 11 years (10 years and more are usual)"), "{found}");
    let (_, help) = message("stainless", Process::Engraving, &wanted(open, 26)).unwrap();
    assert!(help.contains("no class at hand"), "{help}");
}

#[test]
fn the_remedy_itself_suits() {
    let flags = |bits: u32| Environment {
        indoor: false,
        outdoor: bits & 1 != 0,
        sun: bits & 2 != 0,
        washdown: bits & 4 != 0,
        solvent: bits & 8 != 0,
        heat: [None, Some(75), Some(150), Some(300)][(bits >> 4) as usize & 3],
        cold: [None, Some(-28), Some(-41)][(bits >> 6) as usize],
    };
    let surfaces = [None, Some(Surface::Textured), Some(Surface::Curved), Some(Surface::Plastic)];
    let mut remedied = 0;
    for (bits, surface) in (0..192).flat_map(|bits| surfaces.map(|surface| (bits, surface))) {
        let place = Place { environment: flags(bits), surface, wanted_years: None };
        let Some((_, help)) = message("paper", Process::Laser, &place) else { continue };
        let mut quoted = help.split('`').skip(1).step_by(2);
        let Some(other) = quoted.next().and_then(|name| built_in().find(name)) else {
            let all = built_in().iter().flat_map(|class| class.marked_by.iter().map(move |process| (class, *process)));
            assert!(all.into_iter().all(|(class, process)| !class.against(process, &place).is_empty()), "{help}");
            continue;
        };
        let process = other.marked_by.iter().find(|process| Some(process.name()) == quoted.clone().next()).unwrap();
        assert_eq!(other.against(*process, &place), Vec::<String>::new(), "{help}");
        remedied += 1;
    }
    assert!(remedied > 100, "{remedied}");
}

/// What is engraved is cut into the face of a plate: there is none under a film that lies over the print.
#[test]
fn no_mark_under_a_film_is_engraved() {
    assert!(!class("polyester-laminated").marked_by.contains(&Process::Engraving));
    let (_, help) =
        message("engraved-laminate", Process::Engraving, &place(Environment { heat: Some(90), ..indoors() })).unwrap();
    assert!(help.contains("`polyester` marked by `engraving`"), "{help}");
}

#[test]
fn the_coldest_that_a_class_stands_is_no_fault() {
    let cold = |degrees| place(Environment { cold: Some(degrees), ..indoors() });
    assert_eq!(message("vinyl-monomeric", Process::Laser, &cold(-20)), None);
    let (_, help) = message("vinyl-monomeric", Process::Laser, &cold(-28)).unwrap();
    assert!(help.contains("`vinyl-polymeric` marked by `laser`"), "{help}");
    let (_, help) = message("paper", Process::Laser, &cold(-41)).unwrap();
    assert!(help.contains("no class at hand"), "{help}");
}

#[test]
fn plates_that_conduct_are_pointed_out() {
    let finding = conducts(class("stainless"), 3).unwrap();
    assert_eq!((finding.code, finding.severity()), (code::CONDUCTIVE_PLATE, Severity::Advice));
    assert_eq!(finding.message, "3 notices are plates of `stainless`, which conducts");
    assert_eq!(conducts(class("engraved-laminate"), 3), None);
}

/// IEC 61439-1 10.2.7 (from memory), IEC 60335-1 7.14, IEC 61008-1 9.3: moulded, pressed and engraved marks are exempt, all
/// others are rubbed for 15 s with water and 15 s with petroleum spirit. What toner and ink need is common practice.
#[test]
fn the_rub_test_follows_the_way_of_marking() {
    use Expectation as E;
    let expected = [
        ("paper", Process::Laser, E::Fails),
        ("paper", Process::ThermalTransfer, E::NotKnown),
        ("vinyl-cast", Process::Inkjet, E::Fails),
        ("polyester", Process::Laser, E::Fails),
        ("polyester", Process::ThermalTransfer, E::NotKnown),
        ("polyester", Process::Press, E::NotKnown),
        ("polyester-laminated", Process::Laser, E::Passes),
        ("polyester-laminated", Process::Press, E::Passes),
        ("anodised-aluminium", Process::Press, E::Passes),
        // Not a usual way of marking it.
        ("stainless", Process::Laser, E::NotKnown),
        ("paper", Process::Engraving, E::NotKnown),
    ];
    for (name, process, expectation) in expected {
        let test = rub_test(class(name), process);
        assert_eq!(test, RubTest { requirement: Requirement::WaterThenSpirit, expectation }, "{name} {process}");
        let said = test.to_string();
        assert!(said.starts_with("15 s with water, then 15 s with petroleum spirit; "), "{said}");
        assert_eq!(test.is_doubtful(), expectation != E::Passes);
    }
    for name in ["polyester", "engraved-laminate", "anodised-aluminium", "stainless"] {
        let test = rub_test(class(name), Process::Engraving);
        assert_eq!(test, RubTest { requirement: Requirement::Exempt, expectation: E::NotRubbed }, "{name}");
        assert_eq!(test.to_string(), "exempt, since the mark is engraved");
    }
}

#[test]
fn a_life_is_read_and_said() {
    let life = |numbers: &[u16]| Life::try_from(numbers.to_vec());
    assert_eq!(life(&[5, 7]).unwrap().to_string(), "5 to 7 years");
    assert_eq!(life(&[7, 7]).unwrap().to_string(), "7 years");
    assert_eq!(life(&[10]).unwrap().to_string(), "10 years and more");
    assert_eq!((life(&[]), Life::NONE.to_string()), (Ok(Life::NONE), "none".to_owned()));
    for wrong in [&[7_u16, 5][..], &[0], &[0, 5], &[101], &[1, 2, 3]] {
        assert!(life(wrong).is_err(), "{wrong:?}");
    }
}

#[test]
fn a_name_that_is_no_class_gets_the_one_that_is_meant() {
    let finding = built_in().not_known("polyester-laminate");
    assert_eq!(finding.code, code::MATERIAL_NOT_KNOWN);
    assert_eq!(finding.help.as_deref(), Some("did you mean `polyester-laminated`?"));
    let help = built_in().not_known("house film").help.unwrap();
    assert!(help.starts_with("there are paper, vinyl-monomeric, ") && help.contains("[materials]"), "{help}");
}

fn changed(text: &str) -> Result<Materials, String> {
    let changes: std::collections::BTreeMap<String, Change> =
        toml::from_str(text).map_err(|e| e.message().to_owned())?;
    let add = |known: Materials, (name, change): (&String, &Change)| known.with(name, change);
    changes.iter().try_fold(Materials::default(), add).map_err(|refusal| refusal.message)
}

#[test]
fn a_data_sheet_adds_and_alters() {
    let known = changed(
        "[\"house film\"]\nlike = \"polyester-laminated\"\nhottest = 150\noutdoor_years = [7, 10]\nsource = \"data sheet 7\"\n\
         [paper]\ncoldest = -5\nsource = \"data sheet 8\"\n",
    )
    .unwrap();
    let film = known.find("house film").unwrap();
    let like = class("polyester-laminated");
    assert_eq!((film.hottest, film.outdoor_years.numbers(), film.basis.as_str()), (150, vec![7, 10], "data sheet 7"));
    assert_eq!(
        (film.coldest, &film.solvent_marked_by, &film.surfaces),
        (like.coldest, &like.solvent_marked_by, &like.surfaces)
    );
    assert_eq!(known.find("paper").unwrap().coldest, -5);
    assert_eq!(known.iter().count(), TRADE.len() + 1);
    assert_eq!(
        suits(film, Process::Laser, &place(Environment { heat: Some(150), ..indoors() }), String::new, &known),
        None
    );
}

#[test]
fn a_change_that_cannot_be_used_is_refused() {
    let refused = |text: &str| changed(text).unwrap_err();
    assert!(refused("[new]\nlike = \"polyster\"\nsource = \"s\"\n").contains("did you mean `polyester`?"));
    assert!(refused("[new]\nsource = \"s\"\n").contains("`like` must name the class"));
    assert!(refused("[paper]\nhottest = 70\n").contains("missing field `source`"));
    assert!(refused("[paper]\nsource = \" \"\n").contains("names the data sheet"));
    assert!(refused("[paper]\nsource = \"s\"\nhottest = -30\n").contains("`coldest` is -20 °C and `hottest` -30 °C"));
    assert!(refused("[paper]\nsource = \"s\"\nhottest = 1001\n").contains("between -200 and 1000 °C"));
    assert!(refused("[paper]\nsource = \"s\"\nindoor_years = []\n").contains("`indoor_years` is empty"));
    assert!(refused("[paper]\nsource = \"s\"\noutdoor_years = [5, 2]\n").contains("[least, most]"));
    assert!(refused("[paper]\nsource = \"s\"\nsolvent_marked_by = [\"engraving\"]\n").contains("`marked_by` does not"));
    assert!(refused("[paper]\nsource = \"s\"\nhotest = 70\n").contains("hotest"));
    assert!(refused("[\"a\\u202Eb\"]\nlike = \"paper\"\nsource = \"s\"\n").contains("can be printed"));
}
