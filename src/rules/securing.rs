//! Whether each isolator can be secured in its off position.

use crate::finding::{Finding, code};
use crate::network::device::AtRow;
use crate::network::{Device, Network};
use crate::survey::{Column, Survey};

/// Reports each isolator without a means of securing it, once; where no row speaks of it, all in one.
pub(super) fn report(survey: &Survey, network: &Network, findings: &mut Vec<Finding>) {
    let isolators = || network.devices().iter().filter(|device| device.isolates);
    let count = isolators().count();
    if count > 1 && isolators().all(|device| device.locking.is_none()) {
        let message = format!("no row says how any of the {count} isolators is secured off");
        findings.push(Finding::new(code::ISOLATOR_WITHOUT_LOCKING, message).help("fill in `locking`"));
        return;
    }
    findings.extend(isolators().filter(|device| !is_secured(device)).map(|device| unsecured(survey, device)));
}

fn is_secured(device: &Device) -> bool {
    const NO_MEANS: [&str; 4] = ["none", "no", "-", "not lockable"];
    device
        .locking
        .as_ref()
        .is_some_and(|told| !NO_MEANS.iter().any(|word| told.value.trim().eq_ignore_ascii_case(word)))
}

fn unsecured(survey: &Survey, device: &Device) -> Finding {
    let (message, said) = match &device.locking {
        Some(told) => (format!("`{}` has no means of being secured off", device.phrase()), told.said),
        None => (format!("nothing says how `{}` is secured off", device.phrase()), device.first),
    };
    Finding::new(code::ISOLATOR_WITHOUT_LOCKING, message)
        .help("say how it is secured off, such as `padlock`; what cannot be secured can be closed by anyone")
        .at_row(survey, said, Column::Locking)
}
