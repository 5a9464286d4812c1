//! The page itself, as the browser gets it: part of the program, so that nothing has to be installed beside it.

/// Address, kind and bytes of each piece of the page.
pub(super) const PIECES: [(&str, &str, &[u8]); 38] = [
    ("/", HTML, include_bytes!("face/index.html")),
    ("/page.css", STYLE, include_bytes!("face/page.css")),
    ("/icon.svg", PICTURE, include_bytes!("face/icon.svg")),
    ("/face/regular.ttf", FONT, include_bytes!("../../../fonts/IBMPlexSans-Regular.ttf")),
    ("/face/medium.ttf", FONT, include_bytes!("../../../fonts/IBMPlexSans-Medium.ttf")),
    ("/face/bold.ttf", FONT, include_bytes!("../../../fonts/IBMPlexSans-Bold.ttf")),
    ("/ask.js", SCRIPT, include_bytes!("face/ask.js")),
    ("/cell.js", SCRIPT, include_bytes!("face/cell.js")),
    ("/changes.js", SCRIPT, include_bytes!("face/changes.js")),
    ("/correcting.js", SCRIPT, include_bytes!("face/correcting.js")),
    ("/dialog.js", SCRIPT, include_bytes!("face/dialog.js")),
    ("/dropping.js", SCRIPT, include_bytes!("face/dropping.js")),
    ("/element.js", SCRIPT, include_bytes!("face/element.js")),
    ("/enclosure.js", SCRIPT, include_bytes!("face/enclosure.js")),
    ("/enclosures.js", SCRIPT, include_bytes!("face/enclosures.js")),
    ("/filter.js", SCRIPT, include_bytes!("face/filter.js")),
    ("/finding.js", SCRIPT, include_bytes!("face/finding.js")),
    ("/findings.js", SCRIPT, include_bytes!("face/findings.js")),
    ("/formats.js", SCRIPT, include_bytes!("face/formats.js")),
    ("/grid.js", SCRIPT, include_bytes!("face/grid.js")),
    ("/head.js", SCRIPT, include_bytes!("face/head.js")),
    ("/headers.js", SCRIPT, include_bytes!("face/headers.js")),
    ("/marking.js", SCRIPT, include_bytes!("face/marking.js")),
    ("/marks.js", SCRIPT, include_bytes!("face/marks.js")),
    ("/notices.js", SCRIPT, include_bytes!("face/notices.js")),
    ("/pages.js", SCRIPT, include_bytes!("face/pages.js")),
    ("/picture.js", SCRIPT, include_bytes!("face/picture.js")),
    ("/place.js", SCRIPT, include_bytes!("face/place.js")),
    ("/plan.js", SCRIPT, include_bytes!("face/plan.js")),
    ("/printing.js", SCRIPT, include_bytes!("face/printing.js")),
    ("/record.js", SCRIPT, include_bytes!("face/record.js")),
    ("/rolling.js", SCRIPT, include_bytes!("face/rolling.js")),
    ("/say.js", SCRIPT, include_bytes!("face/say.js")),
    ("/sheets.js", SCRIPT, include_bytes!("face/sheets.js")),
    ("/site.js", SCRIPT, include_bytes!("face/site.js")),
    ("/start.js", SCRIPT, include_bytes!("face/start.js")),
    ("/survey.js", SCRIPT, include_bytes!("face/survey.js")),
    ("/theme.js", SCRIPT, include_bytes!("face/theme.js")),
];

const HTML: &str = "text/html; charset=utf-8";
const STYLE: &str = "text/css; charset=utf-8";
const SCRIPT: &str = "text/javascript; charset=utf-8";
const PICTURE: &str = "image/svg+xml; charset=utf-8";
const FONT: &str = "font/ttf";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_piece_is_served_under_its_own_name() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/cli/page/face");
        let mut there: Vec<(String, Vec<u8>)> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .map(|path| {
                (path.file_name().unwrap().to_str().unwrap().to_owned(), crate::files::read(&path, 1 << 20).unwrap())
            })
            .collect();
        there.sort();
        let name = |address: &str| if address == "/" { "index.html".to_owned() } else { address.replace('/', "") };
        let pieces = PIECES.iter().filter(|(_, kind, _)| *kind != FONT);
        let mut served: Vec<_> = pieces.map(|(address, _, bytes)| (name(address), bytes.to_vec())).collect();
        served.sort();
        assert_eq!(served, there);
    }

    /// The policy of the page lets nothing run or look otherwise than from its own files.
    #[test]
    fn nothing_stands_in_the_page_that_its_policy_forbids() {
        let text = |address: &str| {
            let bytes = PIECES.iter().find(|(known, ..)| *known == address).unwrap().2;
            std::str::from_utf8(bytes).unwrap()
        };
        let html = text("/").to_lowercase();
        for forbidden in [" style=", "<style", " onclick=", " onload=", "javascript:", "http://", "https://"] {
            assert!(!html.contains(forbidden), "{forbidden}");
        }
        assert!(
            html.matches("<script").count()
                == html.matches("<script src=\"/").count() + html.matches("<script type=\"module\" src=\"/").count()
        );
        for (address, ..) in PIECES.iter().filter(|(_, kind, _)| *kind == SCRIPT) {
            for forbidden in ["innerHTML", "outerHTML", "insertAdjacentHTML", "document.write", "eval(", "new Function"]
            {
                assert!(!text(address).contains(forbidden), "{address}: {forbidden}");
            }
        }
    }
}
