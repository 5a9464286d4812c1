//! Each byte chooses a cell of a small site, so that networks rather than spellings are tried: what must hold of every
//! decision, and that neither a further circuit nor a further source ever reassures.
#![no_main]

use libfuzzer_sys::fuzz_target;
use noticewright::network::ProofResult;
use noticewright::rules::{Decision, Outcome};
use noticewright_fuzz::safety::{self, Decided};

const SURVEY: &str = "enclosure,role,circuit,serves,fed_from,source,nominal,conductors,earthing,voltage_to_earth,\
    expected,isolator,isolator_location,poles,locking,interlock,interlock_kind,live_after,neutral_from,stored_v,discharge_s,basis";

const SUPPLIES: &str = "device,kind,fed_from,location,poles,nominal,earthing,in_step_with,phasing,interlock,\
    interlock_kind,starts_by_itself,off_position";

/// What each cell of a survey's row may be, in the order of the header from `fed_from` on; some stand for several.
const OF_ROW: [&[&str]; 12] = [
    &["DB1", "DB2", "T1", "", "G1"],
    &["mains", "", "generator", "solar", "ups"],
    &[
        "230,L1 N,TN-S,230",
        "230,L2 N,TN-S,230",
        "230/400,L1 L2 L3,IT,400",
        ",,,230",
        "400/690,,TN-S,400",
        "600 dc,+ -,unearthed,600",
    ],
    &["", "yes", "no"],
    &["Q1,Room 1", "Q2,Room 1", "Q3,Room 2", "Q1 + Q2,Room 1 + Room 1", "none,", "?,", "Q4,Room 2"],
    &["1", "", "1+N", "3+N", "3"],
    &["padlock", ""],
    &[",", "IL1,coupled", "IL1,trapped-key", "IL2,"],
    &["", "terminals"],
    &["", "C/0", "C/1"],
    &[",", "565,300", "565,4", "20,0"],
    &["proved", "", "assumed"],
];

const DEVICES: [&str; 10] = ["Q1", "Q2", "Q3", "Q4", "DB1", "DB2", "T1", "G1", "Network", "U1"];
const KINDS: [&str; 11] = [
    "breaker",
    "busbar",
    "source",
    "switch-disconnector",
    "fuse",
    "isolator",
    "switch",
    "changeover",
    "transformer",
    "ups",
    "converter",
];
const FEEDS: [&str; 16] = [
    "DB1",
    "DB2",
    "Network",
    "T1",
    "G1",
    "Q1",
    "Q2",
    "Q3",
    "Q4",
    "U1",
    "",
    "?",
    "DB1 + DB2",
    "Network + G1",
    "Q1 + Q3",
    "T1 + U1",
];
const OF_DEVICE: [&[&str]; 7] = [
    &["3+N", "1", "", "1+N", "3"],
    &["230/400,TN-S", ",", "230/400,IT", "400/690,TT", "600 dc,unearthed"],
    &["", "Network", "G1"],
    &["proved", "", "Dyn11"],
    &[",", "IL1,coupled", "IL2,no-parallel"],
    &["", "yes", "no"],
    &["", "yes", "no"],
];

/// Bytes that choose; when they are used up, the first choice is taken.
struct Choice<'a>(std::slice::Iter<'a, u8>);

impl Choice<'_> {
    fn of(&mut self, choices: &'static [&'static str]) -> &'static str {
        choices[usize::from(self.0.next().copied().unwrap_or_default()) % choices.len()]
    }

    fn count(&mut self, most: usize) -> usize {
        usize::from(self.0.next().copied().unwrap_or_default()) % (most + 1)
    }
}

/// A row of the supplies file.
struct Device {
    name: &'static str,
    kind: &'static str,
    fed_from: &'static str,
    rest: String,
}

impl Device {
    fn line(&self, further: &str) -> String {
        let place = ["Room 1", "Room 1", "Room 2", "Room 2"];
        let place = DEVICES.iter().position(|name| *name == self.name).and_then(|number| place.get(number));
        format!("{},{},{}{further},{},{}\n", self.name, self.kind, self.fed_from, place.unwrap_or(&""), self.rest)
    }
}

struct Site {
    rows: Vec<String>,
    devices: Vec<Device>,
}

impl Site {
    fn chosen(bytes: &[u8]) -> Self {
        let mut choice = Choice(bytes.iter());
        let role = choice.of(&["", "board", "origin", "isolating-point"]);
        let rows = (0..=choice.count(4)).map(|number| row(&mut choice, number, role)).collect();
        let names = DEVICES.iter().take(choice.count(DEVICES.len()));
        let devices = names.map(|name| Device {
            name,
            kind: choice.of(&KINDS),
            fed_from: choice.of(&FEEDS),
            rest: OF_DEVICE.map(|cells| choice.of(cells)).join(","),
        });
        Self { devices: devices.collect(), rows }
    }

    /// Whether all that feeds a device, and all that feeds that, is fed by each other: then nothing is said of its supply.
    fn is_fed_in_a_circle(&self, device: &Device) -> bool {
        let mut known = vec![device.name];
        let mut next = 0;
        while let Some(name) = known.get(next).copied() {
            let Some(device) = self.devices.iter().find(|device| device.name == name) else { return false };
            if device.kind == "source" || matches!(device.fed_from, "" | "?") {
                return false;
            }
            let above: Vec<_> = device.fed_from.split(" + ").filter(|name| !known.contains(name)).collect();
            known.extend(above);
            next += 1;
        }
        true
    }

    /// Decides it with a further row, and with a further source that feeds one of the devices.
    fn decided(&self, further: Option<&str>, source_at: Option<usize>) -> Decided {
        let rows: Vec<&str> = self.rows.iter().map(String::as_str).chain(further).collect();
        let survey = format!("{SURVEY}\n{}\n", rows.join("\n"));
        let line =
            |(number, device): (usize, &Device)| device.line(if source_at == Some(number) { " + X9" } else { "" });
        let mut supplies = format!("{SUPPLIES}\n");
        supplies.extend(self.devices.iter().enumerate().map(line));
        if source_at.is_some() {
            supplies.push_str("X9,source,,,,230/400,TN-S,,,,,,\n");
        }
        let supplies = (!self.devices.is_empty()).then_some(supplies);
        safety::decide(survey.as_bytes(), supplies.as_deref().map(str::as_bytes))
    }
}

fn row(choice: &mut Choice<'_>, number: usize, role: &str) -> String {
    let enclosure = if number > 0 { choice.of(&["E1", "E1", "E2"]) } else { "E1" };
    let role = if number == 0 { role } else { "" };
    let cells = OF_ROW.map(|cells| choice.of(cells)).join(",");
    format!("{enclosure},{role},C/{number},fan,{cells}")
}

fuzz_target!(|bytes: &[u8]| {
    let site = Site::chosen(bytes);
    let before = site.decided(None, None);
    safety::holds(&before);

    let further = "E1,,C/9,fan,DB9,mains,230,L1 N,TN-S,230,,Q9,Room 9,1+N,padlock,,,,,,,proved";
    let after = site.decided(Some(further), None);
    safety::holds(&after);
    assert!(after.decisions.enclosures[0].need.prints(), "two supplies must ask for a notice");
    no_better(&before.decisions.enclosures[0], &after.decisions.enclosures[0], "a further circuit");

    for (number, device) in site.devices.iter().enumerate() {
        // A cell that says nothing says more once a source stands in it, so only what is said already is added to.
        let is_plain = matches!(device.kind, "breaker" | "busbar" | "switch-disconnector" | "fuse" | "isolator");
        if is_plain && !matches!(device.fed_from, "" | "?") && !site.is_fed_in_a_circle(device) {
            let after = site.decided(None, Some(number));
            safety::holds(&after);
            let pairs = before.decisions.enclosures.iter().zip(&after.decisions.enclosures);
            pairs.for_each(|(before, after)| proved_no_better(before, after, "a further source"));
        }
    }
});

fn no_better(before: &Decision, after: &Decision, what: &str) {
    proved_no_better(before, after, what);
    for (before, after) in before.reasons.iter().zip(&after.reasons) {
        let is_kept = !before.outcome.prints() || after.outcome > Outcome::Lifted;
        assert!(is_kept, "{what} takes a need away: {before:?}, {after:?}");
    }
    for voltage in &before.voltages.to_earth {
        let of_kind = after.voltages.to_earth.iter().find(|other| other.current == voltage.current);
        assert!(of_kind.is_some_and(|other| other.value >= voltage.value), "{what} lowers a voltage");
    }
}

fn proved_no_better(before: &Decision, after: &Decision, what: &str) {
    let (before, after) = (before.proof.result, after.proof.result);
    let is_no_better = match before {
        ProofResult::NoPathFound => true,
        ProofResult::Unknown => after != ProofResult::NoPathFound,
        ProofResult::Live => after == ProofResult::Live,
    };
    assert!(is_no_better, "{what} turns {before:?} into {after:?}");
}
