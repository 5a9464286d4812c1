//! Where the page of a notice lies: at its number, as a plain web server takes the link of its code apart; elsewhere where a
//! disk or a server could not keep to that.

use std::collections::{HashMap, HashSet};

/// The file that a server shows for a folder.
pub(super) const FILE: &str = "index.html";

/// The folder of the pages that cannot lie at the number of their notice. No number makes it its own.
pub(super) const ELSEWHERE: &str = "by-name";

/// Most bytes of a part of a number: most disks accept 255 (POSIX `NAME_MAX`, common practice).
const LONGEST_PART: usize = 200;

/// Most bytes of a number, so that folder and file fit a path: Linux takes 4096, older Windows 260 (common practice).
const LONGEST: usize = 1_000;

/// Where a page lies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Address {
    /// The folders below the whole, without the file.
    pub(super) folders: Vec<String>,
    /// Why it does not lie at the number of its notice, if it does not.
    pub(super) elsewhere: Option<&'static str>,
}

/// Makes a name of a file of any words, another one of other words.
pub type Naming = fn(&str) -> String;

/// The address of every number, those that come first having the first choice.
pub(super) fn addresses<'a>(numbers: impl IntoIterator<Item = &'a str>, naming: Naming) -> HashMap<String, Address> {
    let mut taken = HashSet::new();
    let mut addresses = HashMap::new();
    for number in numbers {
        if !addresses.contains_key(number) {
            addresses.insert(number.to_owned(), address(number, naming, &mut taken));
        }
    }
    addresses
}

fn address(number: &str, naming: Naming, taken: &mut HashSet<String>) -> Address {
    let why = match unfit(number) {
        None if taken.insert(number.to_lowercase()) => {
            let folders = number.split('/').map(str::to_owned).collect();
            return Address { folders, elsewhere: None };
        }
        None => "another notice has the same number but for capitals, and some disks tell no difference",
        Some(why) => why,
    };
    let name = naming(number);
    // The names of different numbers may still differ by capitals alone.
    let free = (1..).map(|count| if count == 1 { name.clone() } else { format!("{name}~{count}") });
    let name = free.into_iter().find(|name| taken.insert(format!("{ELSEWHERE}/{}", name.to_lowercase())));
    Address { folders: vec![ELSEWHERE.to_owned(), name.unwrap_or_default()], elsewhere: Some(why) }
}

/// Why a number cannot be a folder in a folder.
fn unfit(number: &str) -> Option<&'static str> {
    if number.len() > LONGEST {
        return Some("it is too long for the path of a file");
    }
    if number.split('/').next().is_some_and(|first| first.eq_ignore_ascii_case(ELSEWHERE)) {
        return Some("its first part is the name of a folder that is kept for other pages");
    }
    number.split('/').find_map(|part| match part {
        "" => Some("a part of it between slashes is empty"),
        "." | ".." => Some("a part of it is dots alone, which a server takes for another folder"),
        part if part.len() > LONGEST_PART => Some("a part of it is too long for the name of a folder"),
        part if part.eq_ignore_ascii_case(FILE) => Some("a part of it has the name of the page itself"),
        part if part.contains('\\') => Some("it holds a `\\`, which some servers take for a slash"),
        part if part.contains(char::is_control) => Some("it holds a control character"),
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lies(numbers: &[&str]) -> Vec<(String, bool)> {
        let addresses = addresses(numbers.iter().copied(), crate::files::safe_name);
        let lies = |number: &&str| (addresses[*number].folders.join("/"), addresses[*number].elsewhere.is_none());
        numbers.iter().map(lies).collect()
    }

    #[test]
    fn a_page_lies_at_the_number_of_its_notice() {
        let numbers = ["CH3-JB2/1", "Q7@Switchroom 1, board C", "STN-1", "a%2Fb/1", "<script>/1", "...", "ü?#/1"];
        for (number, (folder, by_number)) in numbers.iter().zip(lies(&numbers)) {
            assert_eq!((*number, true), (folder.as_str(), by_number));
        }
    }

    #[test]
    fn what_could_lead_elsewhere_gets_a_folder_of_its_own() {
        let long = "W".repeat(201);
        let deep = "W/".repeat(600);
        let numbers = [
            "",
            "/absolute/1",
            "A/",
            "A//1",
            "../../etc/passwd/1",
            "./1",
            "..",
            "a\\b/1",
            "a\0/1",
            "a\u{85}b",
            "index.html",
            "CH1/INDEX.html",
            "by-name/CH1_1",
            "By-Name/x",
            &long,
            &deep,
        ];
        let lies = lies(&numbers);
        for (number, (folder, by_number)) in numbers.iter().zip(&lies) {
            let name = folder.strip_prefix("by-name/").unwrap_or_else(|| panic!("{number:?} lies in {folder}"));
            assert!(
                !by_number && !name.contains(['/', '\\', '\0']) && name != "." && name != "..",
                "{number:?} {folder}"
            );
            assert!(name.len() <= 210, "{number:?}");
        }
        let folders: HashSet<&String> = lies.iter().map(|(folder, _)| folder).collect();
        assert_eq!(folders.len(), numbers.len());
    }

    #[test]
    fn numbers_that_differ_by_capitals_alone_do_not_share_a_page() {
        let lies = lies(&["ch3/1", "CH3/1", "Ch3/1", "CH3/2"]);
        let lies: Vec<(&str, bool)> = lies.iter().map(|(folder, by_number)| (folder.as_str(), *by_number)).collect();
        assert_eq!(lies, [("ch3/1", true), ("by-name/CH3_1", false), ("by-name/Ch3_1~2", false), ("CH3/2", true)]);
    }
}
