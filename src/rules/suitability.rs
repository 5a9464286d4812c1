//! Whether an isolator is, by its own name, something that is not made to isolate.
//!
//! A contactor, a relay or a push-button switches a circuit and leaves no safe gap; an emergency stop mostly acts on such a
//! device alone. Where a row says in `device_kind` what the device is, that counts and not its name: the disconnector of a
//! machine may well serve as its emergency stop (IEC 60204-1 5.3 and 10.7, BS 7671 537.2 and table 537.4, from memory).

use crate::finding::{Finding, code};
use crate::network::device::AtRow;
use crate::network::{DescribedBy, Device, Network, spelling};
use crate::survey::{Column, Survey};
use crate::table::WordList;

/// Reports each isolator of no stated kind whose name speaks against it.
pub(super) fn report(survey: &Survey, network: &Network, findings: &mut Vec<Finding>) {
    let isolators = network.devices().iter().filter(|device| device.isolates && is_of_unknown_kind(device));
    findings.extend(isolators.filter(|device| is_doubtful(&device.designation)).map(|device| doubtful(survey, device)));
}

fn is_of_unknown_kind(device: &Device) -> bool {
    device.kind.is_none() && device.described_by == DescribedBy::Survey
}

fn is_doubtful(designation: &str) -> bool {
    // KM is the usual letter code of a contactor in circuit diagrams (common practice).
    static ALONE: WordList = WordList::new(&[
        "contactor",
        "contactors",
        "km",
        "relay",
        "relays",
        "pushbutton",
        "thyristor",
        "thyristors",
        "estop",
        "thermostat",
        "thermostats",
        "photocell",
        "photocells",
        "dimmer",
        "dimmers",
        "plc",
        "sto",
        "cutout",
    ]);
    static TOGETHER: [[WordList; 2]; 9] = [
        [WordList::new(&["emergency"]), WordList::new(&["stop"])],
        [WordList::new(&["e"]), WordList::new(&["stop"])],
        [WordList::new(&["stop"]), WordList::new(&["button"])],
        [WordList::new(&["push"]), WordList::new(&["button"])],
        [WordList::new(&["soft"]), WordList::new(&["starter"])],
        [WordList::new(&["light"]), WordList::new(&["switch"])],
        [WordList::new(&["time"]), WordList::new(&["switch"])],
        [WordList::new(&["cut"]), WordList::new(&["out"])],
        [WordList::new(&["dno"]), WordList::new(&["fuse"])],
    ];
    static LAST: WordList = WordList::new(&["stop", "button", "starter", "switch", "out", "fuse"]);
    let both = |pair: &[WordList; 2]| pair.iter().all(|word| spelling::has_word(designation, word));
    spelling::has_word(designation, &ALONE) || spelling::has_word(designation, &LAST) && TOGETHER.iter().any(both)
}

fn doubtful(survey: &Survey, device: &Device) -> Finding {
    let message = format!("`{}` is, by its name, not made to isolate", device.phrase());
    Finding::new(code::ISOLATOR_PERHAPS_NOT_SUITABLE, message)
        .help("name the device that isolates the circuit, or say in `device_kind` what this one is")
        .at_row(survey, device.first, Column::Isolator)
}

#[cfg(test)]
mod tests {
    use super::is_doubtful;

    #[test]
    fn a_name_can_speak_against_a_device() {
        for name in ["KM1", "Thermostat T1", "Soft starter 2", "Cut-out", "DNO fuse", "Time switch", "Stop button"] {
            assert!(is_doubtful(name), "{name}");
        }
        for name in ["Contactor K1", "K1 (contactor)", "Emergency stop S1", "E-stop 2", "Push-button S3", "RELAY"] {
            assert!(is_doubtful(name), "{name}");
        }
        for name in ["Q1", "Stop tap 3", "Emergency lighting board", "E1", "Relaying room switch", "Push rod"] {
            assert!(!is_doubtful(name), "{name}");
        }
    }
}
