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
    device.locking.as_ref().is_some_and(|told| !is_no_means(&told.value))
}

/// Whether a survey's words on locking say that there is no means of it.
#[must_use]
pub fn is_no_means(locking: &str) -> bool {
    const WHOLE: [&str; 17] = [
        "none",
        "no",
        "n",
        "-",
        "--",
        "\u{2013}",
        "\u{2014}",
        "nil",
        "n/a",
        "n.a.",
        "not applicable",
        "not possible",
        "not fitted",
        "not locked",
        "unlockable",
        "no key",
        "lost key",
    ];
    const FIRST: [&str; 11] = [
        "cannot be",
        "can't be",
        "can not be",
        "not lockable",
        "no provision",
        "no means",
        "no facility",
        "no lock",
        "no padlock",
        "none fitted",
        "key lost",
    ];
    let locking = locking.trim();
    let begins = |with: &&str| locking.get(..with.len()).is_some_and(|start| start.eq_ignore_ascii_case(with));
    WHOLE.iter().any(|word| locking.eq_ignore_ascii_case(word)) || FIRST.iter().any(begins)
}

/// How a device is secured off, in words: `secured by padlock`, or that it cannot be.
#[must_use]
pub fn secured(locking: Option<&str>) -> String {
    match locking {
        None => "locking not said".to_owned(),
        Some(words) if is_no_means(words) => "no means of locking off".to_owned(),
        Some(words) => format!("secured by {words}"),
    }
}

fn unsecured(survey: &Survey, device: &Device) -> Finding {
    let (message, said) = match &device.locking {
        Some(told) => {
            (format!("`{}` has no means of being secured off", device.phrase()), told.said.unwrap_or(device.first))
        }
        None => (format!("nothing says how `{}` is secured off", device.phrase()), device.first),
    };
    Finding::new(code::ISOLATOR_WITHOUT_LOCKING, message)
        .help("say how it is secured off, such as `padlock`; what cannot be secured can be closed by anyone")
        .at_row(survey, said, Column::Locking)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_locked_is_not_secured_by_that() {
        for words in
            ["no", "N/A", "-", "cannot be locked", "Unlockable", "no means", "key lost", "no lock fitted", "none"]
        {
            assert!(is_no_means(words), "{words}");
            assert_eq!(secured(Some(words)), "no means of locking off", "{words}");
        }
        for words in ["padlock", "key", "nut and bolt", "note on the door", "lockable handle", "lock"] {
            assert_eq!(secured(Some(words)), format!("secured by {words}"), "{words}");
        }
        assert_eq!(secured(None), "locking not said");
    }
}
