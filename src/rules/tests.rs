//! Every code of the network and of the rules is provoked; every rule explains itself; the options are obeyed.

mod both_files;

use super::testing::{PLAIN, codes, decided, decided_with, explained, outcome_in};
use super::{Explained, Outcome, Rule, RuleOptions};
use crate::survey::value::Volts;

fn found(further_columns: &str, rows: &[&str]) -> Vec<&'static str> {
    codes(&decided(further_columns, rows).1)
}

#[test]
fn a_plain_row_is_faultless() {
    let (decisions, findings) = decided("", &[PLAIN]);
    assert_eq!(codes(&findings), [""; 0]);
    assert_eq!(decisions.enclosures[0].need, Outcome::NotNeeded);
    assert_eq!(decisions.enclosures[0].single_device.as_deref(), Some("Q1"));
}

#[test]
fn codes_of_the_network() {
    let second = "E1,C/2,DB-C,mains,230,L1 N,TN-S,230,Q1,Board C,1,padlock";
    let differing = |row: &str| found("", &[PLAIN, row]);
    assert_eq!(found("", &["E1,C/1,DB-C,mains,230,L1 N,TN-S,230,Q1,,1,padlock"]), ["isolator-without-location"]);
    assert_eq!(
        found("no_confusion", &[r#"E1,C/1,DB-C,mains,230,L1 N,TN-S,230,Q1,,1,padlock,"side by side, JD""#]),
        [""; 0]
    );
    assert_eq!(
        found("live_after,upstream_isolator", &[&format!("{PLAIN},terminals,Q0")]),
        ["isolator-without-location"]
    );
    assert_eq!(differing(&second.replace(",1,padlock", ",1+N,padlock")), ["device-contradiction"]);
    assert_eq!(differing(&second.replace("padlock", "key")), ["device-contradiction"]);
    assert_eq!(differing(&second.replace("Board C", "Board-C")), ["device-spelt-two-ways"]);
    assert_eq!(differing(&second.replace("DB-C", "DB C")), ["supply-spelt-two-ways"]);
    assert_eq!(found("interlock", &[&format!("{PLAIN},IL-1")]), ["interlock-incomplete"]);
    assert_eq!(found("interlock_kind", &[&format!("{PLAIN},coupled")]), ["interlock-incomplete"]);
    let borrowed = PLAIN.replace(",1,padlock", ",1+N,padlock");
    assert_eq!(found("neutral_from", &[&format!("{borrowed},C/9")]), ["neutral-lender-not-listed"]);
}

#[test]
fn codes_of_voltages() {
    let declared = |volts: &str| found("", &[&PLAIN.replace("TN-S,230", &format!("TN-S,{volts}"))]);
    assert_eq!(declared("229"), ["voltage-understated"]);
    assert_eq!(declared("253"), ["voltage-looks-measured"]);
    assert_eq!(declared("240"), ["voltage-looks-measured"]);
    assert_eq!(declared("254"), ["voltage-overstated"]);
    assert_eq!(declared("230"), [""; 0]);
    let small = |volts: &str, rest: &str| found("", &[&PLAIN.replace("230,L1 N,TN-S,230", &format!("{volts},{rest}"))]);
    assert_eq!(small("50", "L1 N,SELV,50"), [""; 0]);
    assert_eq!(small("51", "L1 N,SELV,51"), ["extra-low-voltage-exceeded"]);
    let solar = PLAIN.replace("mains,230,L1 N,TN-S,230", "solar,600 dc,+ -,unearthed,600").replace(",1,", ",2,");
    assert_eq!(found("", &[&solar]), ["solar-figures-missing"]);
    let with = |figures: &str| found("pv_series,pv_voc,pv_beta,pv_tmin", &[&format!("{solar},{figures}")]);
    assert_eq!(with("12,49.5,,-10"), ["solar-figures-missing"]);
    assert_eq!(with("12,50,-0.3,25"), [""; 0]);
}

#[test]
fn two_poles_of_a_line_and_its_neutral_may_be_meant() {
    let help = |poles: &str| {
        let row = PLAIN.replace("TN-S", "TT").replace(",1,padlock", &format!(",{poles},padlock"));
        decided("", &[&row]).1.remove(0).help.unwrap_or_default()
    };
    assert!(help("2").contains("write `1+N`"), "{}", help("2"));
    assert!(help("1").contains("switches the neutral too, or correct `poles`"), "{}", help("1"));
    assert_eq!(found("", &[&PLAIN.replace("TN-S", "TT").replace(",1,padlock", ",1+N,padlock")]), [""; 0]);
}

#[test]
fn codes_of_isolation() {
    let isolated = |cells: &str| found("", &[&PLAIN.replace("Q1,Board C", cells)]);
    assert_eq!(isolated("?,"), ["isolator-not-known"]);
    assert_eq!(isolated("none,"), ["cannot-be-isolated"]);
    assert_eq!(found("device_kind", &[&format!("{PLAIN},network-cutout")]), ["network-cutout-as-isolator"]);
    assert_eq!(isolated("Contactor K1,Board C"), ["isolator-perhaps-not-suitable"]);
    let stop = PLAIN.replace("Q1", "Emergency stop S1");
    assert_eq!(found("device_kind", &[&format!("{stop},")]), ["isolator-perhaps-not-suitable"]);
    assert_eq!(found("device_kind", &[&format!("{stop},switch-disconnector")]), [""; 0]);
    assert_eq!(found("", &[&PLAIN.replace("230,L1 N", "230/400,L1 L2 N")]), ["lines-stay-connected"]);
    assert_eq!(found("", &[&PLAIN.replace("TN-S", "TT")]), ["neutral-stays-connected"]);
    assert_eq!(found("", &[&PLAIN.replace("mains", "")]), ["switching-not-known"]);
    assert_eq!(found("", &[&PLAIN.replace("padlock", "none")]), ["isolator-without-locking"]);
    assert_eq!(found("live_after", &[&format!("{PLAIN},heater")]), ["line-side-isolation-not-given"]);
    let twice = [&format!("{PLAIN},1"), &*format!("{},2", PLAIN.replace("C/1", "C/2"))];
    assert_eq!(found("order", &twice), ["order-contradiction"]);
}

#[test]
fn codes_of_interlocks_and_declarations() {
    let other = PLAIN.replace("C/1", "C/2").replace("Q1", "Q2");
    let locked = format!("{PLAIN},IL-1,coupled");
    assert_eq!(found("interlock,interlock_kind", &[&locked, &format!("{other},,")]), ["interlock-not-on-every-row"]);
    let elsewhere = format!("{},IL-1,coupled", other.replace("Board C", "Yard"));
    assert_eq!(found("interlock,interlock_kind", &[&locked, &elsewhere]), ["coupled-devices-apart"]);
    let twin = PLAIN.replace("C/1", "C/2").replace("Board C", "Yard");
    let declared = format!(r#"{PLAIN},"side by side, JD""#);
    assert_eq!(found("no_confusion", &[&declared, &format!("{twin},")]), ["confusion-is-possible"]);
}

#[test]
fn codes_of_sources_and_charge() {
    let solar = PLAIN.replace("E1", "E2").replace("mains", "solar");
    assert_eq!(found("", &[PLAIN, &solar]), ["roles-not-given"]);
    // A role on one enclosure makes all others none of these places: at least the origin must be among those given.
    let point = format!("{solar},isolating-point");
    assert_eq!(found("role", &[&format!("{PLAIN},"), &point]), ["roles-not-given"]);
    assert_eq!(found("role", &[&format!("{PLAIN},origin"), &point]), [""; 0]);
    let ups = "E2,U/1,UPS-1,ups,230,L1 N,TN-S,230,QU1,Comms room,1+N,padlock";
    assert_eq!(found("role", &[&format!("{PLAIN},origin"), &format!("{ups},")]), ["ups-input-not-found"]);
    let fed = [&*format!("{PLAIN},origin,input of UPS-1"), &*format!("{ups},,")];
    assert_eq!(found("role,serves", &fed), [""; 0]);
    assert_eq!(found("serves", &[&format!("{PLAIN},fan inverter")]), ["stored-charge-not-known"]);
}

#[test]
fn columns_that_no_row_fills_are_reported_once() {
    let bare = "E1,C/1,,,,,,230,Q1,Board C,,";
    let rows = [bare, &*bare.replace("E1", "E2").replace("Q1", "Q2"), &*bare.replace("E1", "E3").replace("Q1", "Q3")];
    assert_eq!(found("", &rows), ["switching-not-known", "isolator-without-locking"]);
}

#[test]
fn every_rule_explains_itself() {
    for rule in Rule::ALL {
        let explanation = rule.explanation();
        for part in ["Reason:", "Reference:", "Example:"] {
            assert!(explanation.contains(part), "{} lacks `{part}`", rule.name());
        }
        assert!(!explanation.contains("//!"));
        assert_eq!(Rule::find(rule.name()), Some(rule));
    }
    assert_eq!(Rule::find("no-such-rule"), None);
}

#[test]
fn the_limit_of_stored_charge_can_be_chosen() {
    // BS 7671 416.2.5 has 120 V d.c. (from memory), IEC 60204-1 6.2.4 has 60 V, both after 5 s.
    let row = format!("{PLAIN},100,300");
    let higher = RuleOptions { stored_charge_limit: Volts::whole(120), ..RuleOptions::default() };
    let with = |options: &RuleOptions| decided_with("stored_v,discharge_s", &[&row], options).0;
    assert_eq!(outcome_in(&with(&RuleOptions::default()), Rule::StoredCharge), Outcome::Required);
    let decisions = with(&higher);
    assert_eq!(outcome_in(&decisions, Rule::StoredCharge), Outcome::NotNeeded);
    let clause =
        decisions.enclosures[0].reasons.iter().find(|reason| reason.rule == Rule::StoredCharge).unwrap().clause;
    assert_eq!(clause.unwrap().reference, "BS 7671 416.2.5");
}

#[test]
fn nothing_ever_reassures() {
    let said = explained("note", &[&format!("{PLAIN},")]).reasons;
    assert_eq!(said.len(), 9);
    for Explained { because, .. } in said {
        assert!(!because.is_empty());
        assert!(!because.contains("safe") && !because.contains("dead"), "`{because}` reassures");
    }
}
