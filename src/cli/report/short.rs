//! One line a finding, for editors and filters: `file:line:column: severity[code] message`.

use super::escape_for_terminal;
use crate::finding::Finding;

/// The findings in their own order, one line each. A finding without a place begins with its severity.
#[must_use]
pub fn render(findings: &[Finding]) -> String {
    findings.iter().map(line).collect()
}

fn line(finding: &Finding) -> String {
    let place = match &finding.place {
        Some(place) => format!("{}:{}:{}: ", escape_for_terminal(&place.file), place.line, place.column),
        None => String::new(),
    };
    let (severity, code) = (finding.severity().name(), finding.code.name);
    format!("{place}{severity}[{code}] {}\n", escape_for_terminal(&finding.message))
}

#[cfg(test)]
mod tests {
    use crate::finding::{Finding, code};
    use crate::survey::{ReadOptions, read};

    #[test]
    fn one_line_a_finding() {
        let bytes = b"enclosure,circuit,voltage_to_earth,isolator,isolator_location\nCH1,C1,x\x1B[1m,Q7,Room 1\n";
        let reading = read(bytes, &ReadOptions::new("site.csv"));
        let mut findings = reading.findings;
        findings.push(Finding::new(code::NO_SHEET_FOR_SIZE, "no sheet"));
        assert_eq!(
            super::render(&findings),
            "site.csv:2:8: error[hidden-character] the cell holds the hidden character U+001B\n\
             error[no-sheet-for-size] no sheet\n"
        );
    }
}
