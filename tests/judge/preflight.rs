//! The validator of PDFBox: whether a document is PDF/A-1b.
#![allow(dead_code, unreachable_pub, reason = "each test crate uses its own part of this")]

use std::path::Path;

/// Where Debian and its kin put the libraries of Java programs, and those of the validator with what it stands on.
const FOLDER: &str = "/usr/share/java";
const JARS: [&str; 8] = [
    "preflight.jar",
    "pdfbox2.jar",
    "fontbox2.jar",
    "xmpbox.jar",
    "commons-logging.jar",
    "commons-io.jar",
    "javax.activation.jar",
    "jaxb-api.jar",
];

/// What the validator says of a document; `None` where it is not installed, which fails the test where `REQUIRE_OUTSIDE`
/// is `1`.
pub fn said(file: &Path) -> Option<String> {
    let jars = JARS.map(|jar| format!("{FOLDER}/{jar}"));
    if let Some(wanting) = jars.iter().find(|jar| !Path::new(jar).exists()) {
        assert!(std::env::var_os("REQUIRE_OUTSIDE").is_none_or(|value| value != "1"), "{wanting} is not there");
        eprintln!("SKIPPED: {wanting} is not installed, so nobody outside judged this");
        return None;
    }
    // It ends with an exit code of its own for a document that is not valid, and then says why.
    let jars = jars.join(":");
    let judge = ["-c", "java -cp \"$1\" org.apache.pdfbox.preflight.Validator_A1b \"$2\" 2>&1 || true", "sh"];
    super::judge::run("java", &["-version"], file)?;
    super::judge::run("sh", &[&judge[..], &[jars.as_str(), "FILE"]].concat(), file)
}

/// Fails unless the document is valid.
pub fn accepts(file: &Path) {
    if let Some(said) = said(file) {
        assert!(said.contains("is a valid PDF/A-1b file"), "{said}");
    }
}
