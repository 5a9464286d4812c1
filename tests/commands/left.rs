//! What a run leaves behind in a folder.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// Every file and folder below a folder, hidden ones too; a folder ends in `/` and holds nothing.
pub(crate) fn contents(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    fn walk(folder: &Path, name: &str, found: &mut BTreeMap<String, Vec<u8>>) {
        for entry in fs::read_dir(folder).unwrap() {
            let entry = entry.unwrap();
            let name = format!("{name}{}", entry.file_name().to_string_lossy());
            if entry.path().is_dir() {
                found.insert(format!("{name}/"), Vec::new());
                walk(&entry.path(), &format!("{name}/"), found);
            } else {
                found.insert(name, fs::read(entry.path()).unwrap());
            }
        }
    }
    let mut found = BTreeMap::new();
    walk(folder, "", &mut found);
    found
}
