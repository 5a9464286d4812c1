//! The page as a person uses it: with keys and clicks, in a browser.

use serde_json::{Value, json};

use crate::browser::{Browser, is_there};
use crate::served::{Page, SURVEY, demo, folder};

/// A laptop's screen.
const LAPTOP: (u32, u32) = (1280, 900);

fn opened(page: &Page) -> Browser {
    let mut browser = Browser::open(&page.address(), LAPTOP);
    browser.until("document.querySelector('#view-survey [role=rowheader]')");
    browser
}

/// The cell of the survey's table at an address such as `F4`, as an expression.
fn cell(address: &str) -> String {
    let (column, row) = address.split_at(1);
    let column = u32::from(column.as_bytes()[0]) - u32::from(b'A') + 2;
    format!(
        "[...document.querySelectorAll('#view-survey tbody tr')].find((row) => row.cells[0]?.textContent === '{row}')\
         ?.querySelector('[aria-colindex=\"{column}\"]')"
    )
}

/// Goes to a cell as soon as it is there to be gone to.
fn focus(browser: &mut Browser, cell: &str) {
    browser
        .until(&format!("(() => {{ const it = {cell}; it?.focus(); return it && document.activeElement === it; }})()"));
}

fn nothing_wrong(browser: &mut Browser) {
    browser.value("1");
    assert_eq!(browser.wrong, Vec::<String>::new());
}

#[test]
fn a_cell_is_corrected_with_the_keyboard_and_its_finding_goes() {
    if !is_there() {
        return;
    }
    let page = Page::closed(folder(SURVEY), &[]);
    let mut browser = opened(&page);
    let faulty = cell("F4");
    browser.until(&format!("({faulty})?.dataset.found === 'error'"));
    browser.until("/1\\s*error/.test(document.querySelector('#totals').textContent)");
    focus(&mut browser, &faulty);
    browser.key("Enter");
    browser.until("document.activeElement.tagName === 'INPUT'");
    browser.write("Room 2, right");
    browser.key("Enter");
    browser.until(&format!("({faulty})?.textContent.includes('Room 2, right') && !({faulty})?.dataset.found"));
    browser.until("/0\\s*errors/.test(document.querySelector('#totals').textContent)");
    assert_eq!(page.file("survey.csv"), SURVEY.replace("Q3,,", "Q3,\"Room 2, right\",").as_bytes());
    // The focus is where it was, and a reload shows the same to the same browser.
    browser.until(&format!("document.activeElement === ({faulty})"));
    browser.value("window.old = true");
    browser.told("Page.reload", json!({}));
    browser.until("!window.old");
    browser.until(&format!("({faulty})?.textContent.includes('Room 2, right')"));
    focus(&mut browser, &faulty);
    browser.key_with("z", 2);
    browser.until(&format!("({faulty})?.dataset.found === 'error'"));
    assert_eq!(page.file("survey.csv"), SURVEY.as_bytes());
    nothing_wrong(&mut browser);
}

#[test]
fn what_is_typed_is_kept_where_another_program_wrote_to_the_file() {
    if !is_there() {
        return;
    }
    let page = Page::closed(folder(SURVEY), &[]);
    let mut browser = opened(&page);
    let target = cell("E2");
    browser.click(&target, 2);
    browser.until("document.activeElement.tagName === 'INPUT'");
    let others = SURVEY.replace("Room 1", "Hall 1");
    std::fs::write(page.path("survey.csv"), &others).unwrap();
    browser.value("document.activeElement.select()");
    browser.write("Q77");
    browser.key("Enter");
    browser.until("document.querySelector('#banners').textContent.includes('changed by another program')");
    assert_eq!(page.file("survey.csv"), others.as_bytes());
    assert_eq!(browser.value("document.activeElement.value"), "Q77", "what was typed is lost");
    browser.key("Escape");
    let again =
        "[...document.querySelectorAll('#banners button')].find((one) => one.textContent.includes('Read it again'))";
    // The page looks after the file by itself every few seconds.
    browser.click(again, 1);
    browser.until(&format!("({})?.textContent.includes('Hall 1')", cell("F2")));
    nothing_wrong(&mut browser);
}

#[test]
fn cells_are_marked_by_a_click_and_what_is_printed_is_what_the_command_prints() {
    if !is_there() {
        return;
    }
    let page = Page::closed(demo(), &[]);
    let mut browser = opened(&page);
    browser.value("location.hash = '#sheets?only=CH3-*&kind=enclosure&sheets=a4-a6-2'");
    let first = "document.querySelector('#view-sheets .plan [data-cell=\"1\"]')";
    browser.until(first);
    browser.click(first, 1);
    browser.until("document.querySelector('#view-sheets .command').textContent.includes('--used-cells 1')");
    browser.until(&format!("({first})?.getAttribute('aria-pressed') === 'true'"));
    let command = browser.value("document.querySelector('#view-sheets .command').textContent");
    let command = command.as_str().unwrap().to_owned();
    let make =
        "[...document.querySelectorAll('#view-sheets .make')].find((one) => one.textContent.startsWith('Notices'))";
    browser.click(make, 1);
    browser.until("document.querySelector('#view-sheets a[download]')");
    let printed = browser.value(
        "fetch(document.querySelector('#view-sheets a[download]').href).then((answer) => answer.arrayBuffer())\
         .then((bytes) => [...new Uint8Array(bytes)])",
    );
    let printed: Vec<u8> = serde_json::from_value(printed).unwrap();
    let words: Vec<String> = command.split(' ').skip(1).map(|word| word.replace('\'', "")).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let run = page.run(&words);
    assert!(run.status.success(), "{command}: {}", String::from_utf8_lossy(&run.stderr));
    assert!(printed == page.file("notices.pdf"), "not the bytes of {command}");
    nothing_wrong(&mut browser);
}

#[test]
fn hostile_names_are_shown_and_do_nothing() {
    if !is_there() {
        return;
    }
    let name = "<img src=x onerror=document.title='taken'>";
    let survey = SURVEY.replace("CH1", name).replace("Chamber 1", "</script><script>document.title='taken'</script>");
    let page = Page::closed(folder(&survey), &["--records", "records.csv"]);
    let mut browser = opened(&page);
    for view in ["survey", "findings", "enclosures", "notices", "sheets", "record"] {
        browser.value(&format!("location.hash = '#{view}'"));
        browser.until(&format!("!document.querySelector('#view-{view}').hidden"));
        std::thread::sleep(std::time::Duration::from_millis(400));
    }
    browser.value(
        "location.hash = '#enclosures?show=' + encodeURIComponent(\"<img src=x onerror=document.title='taken'>\")",
    );
    browser.until("document.querySelector('#view-enclosures').textContent.includes('onerror=document.title')");
    assert_ne!(browser.value("document.title"), "taken");
    assert_eq!(browser.value("document.querySelectorAll('img[src=\"x\"], main script').length"), 0);
    nothing_wrong(&mut browser);
}

/// A survey of so many enclosures, none faulty.
fn estate(count: u32) -> String {
    let mut survey = "enclosure,area,circuit,voltage_to_earth,isolator,isolator_location\n".to_owned();
    for number in 1..=count {
        let row =
            |way: u32| format!("E{number},Floor {},C{number}/{way},230,Q{number}-{way},Room {number}\n", number / 100);
        survey += &row(1);
        survey += &row(2);
    }
    survey
}

#[test]
fn an_estate_is_a_table_of_the_rows_in_sight() {
    if !is_there() {
        return;
    }
    let page = Page::closed(folder(&estate(2_000)), &[]);
    let mut browser = opened(&page);
    browser.until("document.querySelector('#view-survey [role=grid]').getAttribute('aria-rowcount') === '4001'");
    focus(&mut browser, &cell("A2"));
    browser.key_with("End", 2);
    browser.until("document.activeElement.closest('tr')?.getAttribute('aria-rowindex') === '4001'");
    browser.until("document.activeElement.closest('tr').textContent.includes('E2000')");
    let drawn = browser.value("document.querySelectorAll('#view-survey tbody tr').length").as_u64().unwrap();
    assert!(drawn < 200, "{drawn} rows are drawn");
    // Paper that does not hold all of it says so.
    let cut = browser.value("document.querySelector('#view-survey .table-roll .paper-note').textContent");
    assert_eq!(cut, "At most the first 2\u{202F}000 rows of 4000 are on this print.", "{cut}");
    for view in ["findings", "enclosures?show=E1500", "notices", "sheets", "record"] {
        browser.value(&format!("location.hash = '#{view}'"));
        browser.until("!document.querySelector('[aria-busy=true]')");
        std::thread::sleep(std::time::Duration::from_millis(400));
        let drawn = browser.value("document.querySelectorAll('main *').length").as_u64().unwrap();
        assert!(drawn < 20_000, "{view}: {drawn} elements");
    }
    nothing_wrong(&mut browser);
}

#[test]
fn a_survey_is_dropped_and_its_headers_told() {
    if !is_there() {
        return;
    }
    let page = Page::closed(folder(SURVEY), &[]);
    let mut browser = opened(&page);
    let foreign = SURVEY.replace("isolator_location", "Ort");
    let drop = format!(
        "(() => {{ const data = new DataTransfer(); data.items.add(new File([{}], 'other.csv')); \
         for (const kind of ['dragenter', 'dragover', 'drop']) document.body.dispatchEvent(new DragEvent(kind, \
         {{ dataTransfer: data, bubbles: true, cancelable: true }})); }})()",
        json!(foreign)
    );
    browser.value(&drop);
    browser.until("document.querySelector('#survey-name').textContent.includes('other.csv')");
    let headers =
        "[...document.querySelectorAll('#view-survey button')].find((one) => one.textContent.startsWith('Headers'))";
    browser.click(headers, 1);
    browser.until("document.querySelector('dialog[open] select')");
    let chosen = browser.value(
        "(() => { const select = [...document.querySelectorAll('dialog[open] select')].find((one) => \
         one.getAttribute('aria-label')?.includes('Ort') || one.labels[0]?.textContent.includes('Ort')); \
         select.value = 'isolator_location'; select.dispatchEvent(new Event('change', { bubbles: true })); return select.value; })()",
    );
    assert_eq!(chosen, "isolator_location");
    let apply = "document.querySelector('dialog[open] button.main')";
    browser.click(apply, 1);
    browser.until("/1\\s*error/.test(document.querySelector('#totals').textContent)");
    assert_eq!(page.file("survey.csv"), SURVEY.as_bytes());
    nothing_wrong(&mut browser);
}

/// What every view must be, as far as a program can see it (WCAG 2.2): names of what can be used (4.1.2), size of targets
/// (2.5.8), contrast of text (1.4.3), one level of headings after the other (1.3.1), no sideways scrolling (1.4.10).
const LOOKED_AT: &str = r#"(() => {
  const seen = (one) => one.checkVisibility({ checkOpacity: true, checkVisibilityCSS: true }) && one.getClientRects().length > 0;
  const words = (one) => one.getAttribute('aria-label') || [...(one.labels ?? [])].map((label) => label.textContent).join(' ').trim()
    || one.getAttribute('title') || one.textContent.trim() || one.querySelector('img')?.alt || '';
  const used = [...document.querySelectorAll('a[href], button, input, select, textarea, [tabindex="0"]')].filter((one) => seen(one) && one.tabIndex >= 0);
  const colour = (text) => (text.match(/[\d.]+/g) ?? []).map(Number);
  const paper = (one) => { for (let at = one; at; at = at.parentElement) { const [r, g, b, a = 1] = colour(getComputedStyle(at).backgroundColor); if (a === 1) return [r, g, b]; } return [255, 255, 255]; };
  const light = ([r, g, b]) => { const part = (x) => { x /= 255; return x <= 0.04045 ? x / 12.92 : ((x + 0.055) / 1.055) ** 2.4; }; return 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b); };
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const pale = new Set();
  while (texts.nextNode()) {
    const text = texts.currentNode.textContent.trim(); const one = texts.currentNode.parentElement;
    if (!text || !seen(one) || one.closest('svg, [disabled], [hidden], .unseen')) continue;
    const [ink, back] = [colour(getComputedStyle(one).color).slice(0, 3), paper(one)].map(light).sort((a, b) => b - a);
    const contrast = (ink + 0.05) / (back + 0.05);
    if (contrast < 4.5) pale.add(`${contrast.toFixed(2)} ${one.tagName}.${one.className}: ${text.slice(0, 40)}`);
  }
  const small = used.filter((one) => { const r = one.getBoundingClientRect(); return (r.width < 24 || r.height < 24) && one.querySelector('img')?.complete !== false && !one.closest('p, li, td, th, label, .prose') && getComputedStyle(one).display !== 'inline' && r.width > 1; });
  const levels = [...document.querySelectorAll('h1, h2, h3, h4, h5')].filter(seen).map((one) => Number(one.tagName[1]));
  return {
    lang: document.documentElement.lang, title: document.title,
    unnamed: used.filter((one) => !words(one)).map((one) => one.outerHTML.slice(0, 120)),
    small: small.map((one) => one.outerHTML.slice(0, 120)), pale: [...pale],
    skipped: levels.filter((level, at) => at > 0 && level > levels[at - 1] + 1),
    first: levels[0], mains: document.querySelectorAll('main').length,
    doubled: [...document.querySelectorAll('[id]')].map((one) => one.id).filter((id, at, all) => all.indexOf(id) !== at),
    pictures: [...document.images].filter((one) => !one.alt).length,
    sideways: document.documentElement.scrollWidth - document.documentElement.clientWidth,
    caution: document.body.innerText.includes('does not make anything dead'),
  };
})()"#;

#[test]
fn every_view_can_be_used_and_read_light_dark_and_narrow() {
    if !is_there() {
        return;
    }
    let page = Page::closed(demo(), &[]);
    let mut browser = opened(&page);
    let views = ["survey", "findings", "enclosures", "enclosures?show=CH3-JB1", "notices", "sheets", "record"];
    for (width, dark) in [(1280, false), (1280, true), (820, false), (320, false), (320, true)] {
        browser.resize(width, 900);
        browser.media("screen", dark);
        for view in views {
            browser.value(&format!("location.hash = '#{view}'"));
            browser.until("!document.querySelector('[aria-busy=true]')");
            std::thread::sleep(std::time::Duration::from_millis(400));
            let found = browser.value(LOOKED_AT);
            let place = format!("{view} at {width}, dark {dark}");
            for nothing in ["unnamed", "small", "pale", "skipped", "doubled"] {
                assert_eq!(found[nothing], json!([]), "{place}: {nothing}");
            }
            assert_eq!(
                (&found["pictures"], &found["sideways"], &found["mains"], &found["first"]),
                (&json!(0), &json!(0), &json!(1), &json!(1)),
                "{place}"
            );
            assert_eq!((&found["lang"], &found["caution"]), (&json!("en-GB"), &json!(true)), "{place}");
            assert!(!found["title"].as_str().unwrap().is_empty());
        }
    }
    nothing_wrong(&mut browser);
}

#[test]
fn the_keyboard_reaches_everything_and_the_focus_is_seen() {
    if !is_there() {
        return;
    }
    let page = Page::closed(demo(), &[]);
    let mut browser = opened(&page);
    browser.value("document.activeElement.blur()");
    let mut reached: Vec<Value> = Vec::new();
    for _ in 0..40 {
        browser.key("Tab");
        let at = browser.value(
            "(() => { const it = document.activeElement; const style = getComputedStyle(it); const r = it.getBoundingClientRect(); \
             const top = document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2); \
             return [it.tagName + ' ' + (it.getAttribute('aria-label') || it.textContent.trim().slice(0, 30)), \
             it === document.body || (style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2), \
             it === document.body || it.contains(top) || top?.contains(it) || false]; })()",
        );
        assert_eq!((&at[1], &at[2]), (&json!(true), &json!(true)), "the focus is not seen at {}", at[0]);
        reached.push(at[0].clone());
    }
    let reached = serde_json::to_string(&reached).unwrap();
    for words in ["Skip to the work", "Survey", "Record", "Headers", "Open a survey"] {
        assert!(reached.contains(words), "{words} is never reached: {reached}");
    }
    nothing_wrong(&mut browser);
}

#[test]
fn what_is_printed_of_the_page_is_dark_on_white() {
    if !is_there() {
        return;
    }
    let page = Page::closed(demo(), &[]);
    let mut browser = opened(&page);
    browser.media("print", true);
    browser.value("location.hash = '#enclosures?show=CH3-JB1'");
    browser.until("document.querySelector('#view-enclosures').textContent.includes('Points of isolation')");
    let paper = browser.value("getComputedStyle(document.body).backgroundColor");
    assert!(["rgb(255, 255, 255)", "rgba(0, 0, 0, 0)"].contains(&paper.as_str().unwrap()), "{paper}");
    let ink =
        browser.value("getComputedStyle(document.querySelector('#view-enclosures h2, #view-enclosures h3')).color");
    let darkest = ink.as_str().unwrap().trim_start_matches("rgb(").split([',', ')']).next().unwrap().parse::<u32>();
    assert!(darkest.unwrap() < 80, "{ink}");
    assert!(!browser.picture().is_empty());
    let pdf = browser.told("Page.printToPDF", json!({ "printBackground": false }));
    assert!(pdf["data"].as_str().unwrap().len() > 10_000);
    nothing_wrong(&mut browser);
}
