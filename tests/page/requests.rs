//! What the page answers, and whom it refuses.

use serde_json::{Value, json};

use crate::served::{Page, SURVEY, command, demo, folder};

#[test]
fn only_the_browser_that_came_by_the_address_is_answered() {
    let page = Page::closed(folder(SURVEY), &[]);
    let origin = format!("http://{}", page.host());
    for path in ["/", "/start.js", "/api/site", "/open/", "/open/0123456789abcdef0123456789abcdef"] {
        let reply = page.ask("GET", path, &[], b"");
        assert_eq!(reply.status, 403, "{path}");
        assert!(!reply.text().contains("CH1"), "{path}");
    }
    // A name of somebody else's that leads to this machine.
    let entrance = page.entrance.clone();
    assert_eq!(page.ask_as("page.example", "GET", &entrance, &[], b"").status, 403);
    let entered = page.ask("GET", &entrance, &[], b"");
    let cookie = entered.header("set-cookie").unwrap().to_owned();
    assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"), "{cookie}");
    assert_eq!(page.ask("GET", &entrance, &[], b"").status, 403, "the address holds twice");
    let cookie = ("Cookie", cookie.split(';').next().unwrap());
    for (headers, expected) in [
        (&[cookie][..], 200),
        (&[cookie, ("Origin", &origin)], 200),
        (&[cookie, ("Sec-Fetch-Site", "cross-site")], 403),
        (&[cookie, ("Origin", "http://page.example")], 403),
        (&[cookie, ("Origin", "null")], 403),
    ] {
        assert_eq!(page.ask("GET", "/api/site", headers, b"").status, expected, "{headers:?}");
    }
    // What is done needs the page's own origin, and nothing is done without.
    for headers in [&[cookie][..], &[cookie, ("Origin", "http://127.0.0.1:1")], &[("Origin", &origin)]] {
        let asked = json!({ "v": 1, "row": 0, "cell": 4, "before": "Q1", "after": "Q9" }).to_string();
        assert_eq!(page.ask("POST", "/api/correct", headers, asked.as_bytes()).status, 403, "{headers:?}");
    }
    assert_eq!(page.file("survey.csv"), SURVEY.as_bytes());
    assert_eq!(page.ask("DELETE", "/api/site", &[cookie, ("Origin", &origin)], b"").status, 405);
    assert_eq!(page.ask("GET", "/../job.toml", &[cookie], b"").status, 404);
}

#[test]
fn every_answer_has_its_policy() {
    let page = Page::open(demo(), &[]);
    let v = page.version();
    for (path, policy) in [
        ("/".to_owned(), "default-src 'none'; script-src 'self'"),
        ("/api/site".to_owned(), "default-src 'none'"),
        ("/nothing".to_owned(), "default-src 'none'"),
        (format!("/picture/notice/0.svg?v={v}"), "sandbox"),
        (format!("/picture/enclosure/2.svg?v={v}"), "sandbox"),
    ] {
        let reply = page.get(&path);
        let said = reply.header("content-security-policy").unwrap();
        assert!(said.contains(policy) && said.contains("frame-ancestors 'none'"), "{path}: {said}");
        assert_eq!(reply.header("x-content-type-options"), Some("nosniff"), "{path}");
        assert_eq!(reply.header("cache-control"), Some("no-store"), "{path}");
    }
}

/// The findings at a cell of a row.
fn at(page: &Page, row: u32, cell: usize) -> Vec<String> {
    let found = page.json(&format!("/api/row/{row}?v={}", page.version()));
    let findings = found["findings"].as_array().unwrap().iter().filter(|one| one["cell"] == cell);
    findings.map(|one| one["code"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn a_corrected_cell_loses_its_finding_and_every_other_byte_stays() {
    let page = Page::open(folder(SURVEY), &[]);
    assert_eq!(page.site()["totals"]["errors"], 1);
    assert_eq!(at(&page, 2, 5), ["isolator-without-location"]);
    let (status, site) = page.correct(2, 5, "", "Room 2, right");
    assert_eq!((status, &site["totals"]["errors"], &site["corrections"]), (200, &json!(0), &json!(1)), "{site}");
    assert_eq!(site["last_correction"], "F4: `` → `Room 2, right`");
    assert!(at(&page, 2, 5).is_empty());
    let corrected = SURVEY.replace("Q3,,", "Q3,\"Room 2, right\",");
    assert_eq!(String::from_utf8(page.file("survey.csv")).unwrap(), corrected);
    let (status, site) = page.correct(3, 4, "Q4", "Q5");
    assert_eq!((status, &site["corrections"]), (200, &json!(2)));
    assert_eq!(String::from_utf8(page.file("survey.csv")).unwrap(), corrected.replace("\"Q4\"", "\"Q5\""));
    for left in [1, 0] {
        let (status, site) = page.post("/api/undo", &json!({ "v": page.version() }));
        assert_eq!((status, &site["corrections"]), (200, &json!(left)));
    }
    assert_eq!(page.file("survey.csv"), SURVEY.as_bytes(), "not taken back byte for byte");
    let (status, refused) = page.post("/api/undo", &json!({ "v": page.version() }));
    assert_eq!((status, &refused["kind"]), (422, &json!("refused")));
}

#[test]
fn what_another_program_wrote_is_noticed_and_never_overwritten() {
    let page = Page::open(folder(SURVEY), &[]);
    assert_eq!(page.site()["changed_on_disk"], false);
    assert_eq!(page.correct(2, 5, "", "Room 2").0, 200);
    let others = SURVEY.replace("Room 1", "Hall 1");
    std::fs::write(page.path("survey.csv"), &others).unwrap();
    assert_eq!(page.site()["changed_on_disk"], true);
    let (status, refused) = page.correct(0, 4, "Q1", "Q9");
    assert_eq!((status, &refused["kind"]), (409, &json!("changed-on-disk")), "{refused}");
    let (status, refused) = page.post("/api/undo", &json!({ "v": page.version() }));
    assert_eq!((status, &refused["kind"]), (409, &json!("changed-on-disk")), "{refused}");
    assert_eq!(page.file("survey.csv"), others.as_bytes());
    let (_, site) = page.post("/api/read-again", &json!({}));
    // What another program made of the file is not taken back by "Undo".
    assert_eq!((&site["changed_on_disk"], &site["corrections"]), (&json!(false), &json!(0)));
    let version = site["v"].as_u64().unwrap();
    let stale = json!({ "v": version - 1, "row": 0, "cell": 4, "before": "Q1", "after": "Q9" });
    let (status, refused) = page.post("/api/correct", &stale);
    assert_eq!((status, &refused["kind"]), (409, &json!("stale")));
    assert_eq!(page.correct(0, 5, "Hall 1", "Hall 2").0, 200);
}

#[test]
fn of_two_who_correct_the_same_reading_one_is_told_to_look_again() {
    let page = Page::open(folder(SURVEY), &[]);
    let v = page.version();
    let asked = |after: &str| json!({ "v": v, "row": 0, "cell": 4, "before": "Q1", "after": after });
    let answers: Vec<(u16, Value)> = std::thread::scope(|scope| {
        let begun: Vec<_> = ["Q8", "Q9"]
            .map(asked)
            .into_iter()
            .map(|body| {
                let page = &page;
                scope.spawn(move || page.post("/api/correct", &body))
            })
            .collect();
        begun.into_iter().map(|one| one.join().unwrap()).collect()
    });
    let mut statuses: Vec<u16> = answers.iter().map(|(status, _)| *status).collect();
    statuses.sort_unstable();
    assert_eq!(statuses, [200, 409], "{answers:?}");
}

#[test]
fn a_workbook_is_only_looked_at_and_a_survey_that_is_dropped_is_a_copy() {
    let page = Page::open(folder(SURVEY), &[]);
    let workbook = include_bytes!("../survey_forms/survey.xlsx");
    let reply = page.send("/api/survey?name=site.xlsx", workbook);
    let site = reply.json();
    assert_eq!((&site["survey"]["dropped"], &site["survey"]["correctable"]), (&json!(true), &json!(false)), "{site}");
    let table = page.json(&format!("/api/table?v={}", site["v"]));
    let first = table["rows"][0]["cells"][0].as_str().unwrap().to_owned();
    let (status, refused) = page.correct(0, 0, &first, "x");
    assert_eq!((status, &refused["kind"]), (422, &json!("read-only")));
    // A CSV file is corrected in the copy, which can be fetched; its headers are told what they mean.
    let foreign = SURVEY.replace("isolator_location", "Ort").replace("enclosure,", "Dose,");
    let site = page.send("/api/survey?name=..%2Fsite.csv", foreign.as_bytes()).json();
    assert_eq!((&site["survey"]["name"], &site["survey"]["correctable"]), (&json!("site.csv"), &json!(true)));
    let (status, site) = page.post(
        "/api/headers",
        &json!({ "v": site["v"], "headers": { "Ort": "isolator_location", "Dose": "enclosure" } }),
    );
    assert_eq!((status, &site["totals"]["enclosures"]), (200, &json!(2)), "{site}");
    let headers = page.json(&format!("/api/headers?v={}", site["v"]));
    assert_eq!(headers["lines"], "[headers]\n\"Dose\" = \"enclosure\"\n\"Ort\" = \"isolator_location\"\n");
    assert_eq!(page.correct(2, 5, "", "Room 2").0, 200);
    let fetched = page.get(&format!("/api/survey-file?v={}", page.version()));
    assert_eq!(String::from_utf8(fetched.body).unwrap(), foreign.replace("Q3,,", "Q3,Room 2,"));
    assert_eq!(page.file("survey.csv"), SURVEY.as_bytes(), "the file of the command line was written to");
    let (status, refused) =
        page.post("/api/headers", &json!({ "v": page.version(), "headers": { "Ort": "nonsense" } }));
    assert_eq!(status, 422, "{refused}");
    let (_, site) = page.post("/api/own-survey", &json!({}));
    assert_eq!((&site["survey"]["dropped"], &site["survey"]["name"]), (&json!(false), &json!("survey.csv")));
}

#[test]
fn a_survey_that_is_too_large_is_not_taken() {
    let folder = folder(SURVEY);
    std::fs::write(folder.path().join("job.toml"), "[limits]\nfile_bytes = 1000\n").unwrap();
    let page = Page::open(folder, &[]);
    page.site();
    assert_eq!(page.send("/api/survey?name=a.csv", &[b'x'; 1_000]).status, 200);
    let reply = page.send("/api/survey?name=a.csv", &[b'x'; 1_001]);
    assert_eq!((reply.status, &reply.json()["kind"]), (413, &json!("refused")));
    assert!(reply.json()["hint"].as_str().unwrap().contains("file_bytes"));
}

#[test]
fn what_is_made_is_byte_for_byte_what_the_command_makes() {
    let page = Page::open(demo(), &[]);
    let sheets = ["--sheet", "a4-a6-2", "--only", "CH3-*", "--subject", "enclosure", "--used-cells", "1"];
    let chosen = json!({ "sheets": ["a4-a6-2"], "only": "CH3-*", "kind": "enclosure", "used_cells": "1" });
    let with = |what: &str, chosen: &Value| {
        let mut chosen = chosen.clone();
        chosen["what"] = what.into();
        page.made(chosen)
    };
    let all = json!({});
    for (what, chosen, command) in [
        ("labels", &chosen, [&["labels"][..], &sheets].concat()),
        (
            "labels",
            &json!({ "only": "CH3-*, Q7*", "kind": "enclosure", "copies": 2 }),
            vec!["labels", "--only", "CH3-*", "--only", "Q7*", "--subject", "enclosure", "--copies", "2"],
        ),
        (
            "labels",
            &json!({ "sheets": ["a4-a7-4"], "only": "QL*", "kind": "device", "used_cells": "1,3-4" }),
            vec!["labels", "--sheet", "a4-a7-4", "--only", "QL*", "--subject", "device", "--used-cells", "1,3-4"],
        ),
        ("approval", &json!({ "only": "CH3-*" }), vec!["labels", "--approval", "--only", "CH3-*"]),
        ("schedule", &all, vec!["schedule"]),
        ("schedule-csv", &all, vec!["schedule"]),
        ("schedule-xlsx", &all, vec!["schedule"]),
        ("cards", &json!({ "only": "CH3-*" }), vec!["cards", "--only", "CH3-*"]),
        ("fixing", &json!({ "area": "Chamber 3" }), vec!["fixing", "--only", "Chamber 3"]),
    ] {
        let work = with(what, chosen);
        assert_eq!((&work["state"], &work["results"][1]), (&json!("done"), &Value::Null), "{what}: {work}");
        let result = &work["results"][0];
        let name = result["name"].as_str().unwrap();
        let fetched = page.get(result["url"].as_str().unwrap());
        let output = format!("by-command-{name}");
        let run = page.run(&[&command[..1], &["survey.csv"], &command[1..], &["-o", &output, "--force"]].concat());
        assert!(run.status.success(), "{command:?}: {}", String::from_utf8_lossy(&run.stderr));
        assert!(fetched.body == page.file(&output), "{what}: not the bytes of {command:?}");
        assert_eq!(result["bytes"], fetched.body.len(), "{what}");
        let said = work["message"].as_str().unwrap();
        assert!(said.contains(name) && !said.contains("/tmp"), "{what}: {said}");
    }
}

#[test]
fn a_plan_shows_the_cells_that_are_printed_and_the_command_that_prints_them() {
    let page = Page::open(demo(), &[]);
    let asked =
        json!({ "v": page.version(), "sheets": ["a4-a7-4"], "only": "QL*", "kind": "device", "used_cells": "2" });
    let (status, plan) = page.post("/api/plan", &asked);
    assert_eq!((status, &plan["ready"]), (200, &json!(true)), "{plan}");
    let cells = plan["documents"][0]["pages"][0]["cells"].as_array().unwrap();
    let taken: Vec<bool> = cells.iter().map(|cell| !cell["notice"].is_null()).collect();
    assert_eq!((taken[0], taken[1], taken[2], cells.len()), (true, false, true, 4));
    assert_eq!((&cells[0]["w"], &cells[0]["h"]), (&json!(105.0), &json!(74.0)));
    let command = plan["command"].as_str().unwrap();
    assert_eq!(
        command,
        "noticewright labels survey.csv -o notices.pdf --sheet a4-a7-4 --only 'QL*' --subject device --used-cells 2"
    );
    let words: Vec<&str> = [
        "labels",
        "survey.csv",
        "-o",
        "notices.pdf",
        "--report",
        "json",
        "--sheet",
        "a4-a7-4",
        "--only",
        "QL*",
        "--subject",
        "device",
        "--used-cells",
        "2",
    ]
    .to_vec();
    let report: Value = serde_json::from_slice(&page.run(&words).stdout).unwrap();
    let printed = report["notices"].as_array().unwrap().iter().filter(|one| one["page"] == 1);
    let mut printed: Vec<(u64, &str)> =
        printed.map(|one| (one["sheet_cell"].as_u64().unwrap(), one["number"].as_str().unwrap())).collect();
    printed.sort_unstable();
    let planned: Vec<(u64, &str)> = cells
        .iter()
        .filter(|cell| !cell["notice"].is_null())
        .map(|cell| (cell["cell"].as_u64().unwrap(), cell["number"].as_str().unwrap()))
        .collect();
    assert_eq!(planned, printed);
    for (more, said) in [("used_cells", "9"), ("used_cells", "x"), ("printer", "nobody"), ("only", "NOTHING-*")] {
        let mut asked = asked.clone();
        asked[more] = said.into();
        let (status, plan) = page.post("/api/plan", &asked);
        assert_eq!((status, &plan["ready"]), (200, &json!(false)), "{more} {said}");
        assert!(!plan["message"].as_str().unwrap().is_empty(), "{plan}");
    }
}

#[test]
fn errors_are_in_the_way_of_printing_unless_they_are_left_out() {
    let page = Page::open(folder(SURVEY), &[]);
    let work = page.made(json!({ "what": "labels" }));
    assert_eq!((&work["state"], work["results"].as_array().unwrap().len()), (&json!("failed"), 0), "{work}");
    assert_eq!(work["findings"][0]["code"], "isolator-without-location");
    let work = page.made(json!({ "what": "labels", "leave_out_faulty": true }));
    assert_eq!(work["state"], "done");
    assert!(work["message"].as_str().unwrap().contains("left out because of errors: CH2"), "{work}");
}

#[test]
fn what_was_printed_and_done_on_site_goes_into_the_record() {
    let survey = SURVEY.replace("Q3,,", "Q3,Room 2,");
    let page = Page::open(folder(&survey), &["--records", "records.csv"]);
    let v = page.version();
    let mark = |deed: &str, v: &Value| {
        page.post("/api/mark", &json!({ "v": v, "deed": deed, "numbers": ["CH1/1"], "by": "JD", "condition": "faded" }))
    };
    assert_eq!(mark("fixed", &v).0, 422, "nothing is printed yet");
    let work = page.made(json!({ "what": "labels", "kind": "enclosure", "record": true, "by": "JD" }));
    assert_eq!((&work["state"], &work["recorded"]), (&json!("done"), &json!(2)), "{work}");
    // Where the document lay until it was fetched is nothing to keep.
    let kept = String::from_utf8(page.file("records.csv")).unwrap();
    assert!(kept.contains(",notices.pdf,") && !kept.contains("noticewright-"), "{kept}");
    let (status, answer) = mark("fixed", &page.version());
    assert_eq!(status, 200, "{answer}");
    assert!(answer["message"].as_str().unwrap().contains("1 notice fixed on 2026-11-30"), "{answer}");
    let (status, answer) = mark("inspected", &answer["site"]["v"]);
    assert_eq!(status, 200, "{answer}");
    let record = page.json(&format!("/api/record?v={}", page.version()));
    let known = &record["notices"][0];
    assert_eq!(
        (&known["number"], &known["state"], &known["condition"]),
        (&json!("CH1/1"), &json!("fixed"), &json!("faded"))
    );
    // It is what the commands keep and tell.
    let history = page.run(&["records", "history", "CH1/1", "--records", "records.csv"]);
    let history = String::from_utf8(history.stdout).unwrap();
    assert!(history.contains("inspected") && history.contains("faded") && history.contains("JD"), "{history}");
    // A notice that is altered is no longer true, the most dangerous first.
    assert_eq!(page.correct(0, 4, "Q1", "Q7").0, 200);
    let record = page.json(&format!("/api/record?v={}", page.version()));
    assert_eq!(
        (&record["changes"][0]["number"], &record["changes"][0]["change"]),
        (&json!("CH1/1"), &json!("no longer true"))
    );
    let (status, answer) = page.post(
        "/api/mark",
        &json!({ "v": page.version(), "deed": "printed", "numbers": ["CH1/1"], "date": "2026-11-30" }),
    );
    assert_eq!(status, 200, "{answer}");
    let unknown = json!({ "v": page.version(), "deed": "printed", "numbers": ["NO/1"] });
    assert_eq!(page.post("/api/mark", &unknown).0, 422);
}

#[test]
fn what_is_shown_of_an_enclosure_is_what_why_tells() {
    let page = Page::open(demo(), &[]);
    let v = page.version();
    let all = page.json(&format!("/api/enclosures?v={v}"));
    let all = all["enclosures"].as_array().unwrap();
    let index = all.iter().position(|one| one["designation"] == "CH3-JB1").unwrap();
    let shown = page.json(&format!("/api/enclosure/{index}?v={v}"));
    let why: Value =
        serde_json::from_slice(&page.run(&["why", "survey.csv", "CH3-JB1", "--report", "json"]).stdout).unwrap();
    let told = &why["enclosures"][0];
    assert_eq!(shown["need"], told["notice"]);
    let of = |list: &Value, field: &str| -> Vec<Value> {
        list.as_array().unwrap().iter().map(|one| one[field].clone()).collect()
    };
    for field in ["rule", "outcome", "because"] {
        assert_eq!(of(&shown["reasons"], field), of(&told["reasons"], field), "{field}");
    }
    for field in ["device", "location"] {
        assert_eq!(of(&shown["points"], field), of(&told["points_of_isolation"], field), "{field}");
    }
    assert_eq!(shown["voltages"], told["voltages"]["because"]);
    page.run(&["why", "survey.csv", "CH3-JB1", "--svg", "path.svg"]);
    assert_eq!(page.get(&format!("/picture/enclosure/{index}.svg?v={v}")).body, page.file("path.svg"));
    let notice = &shown["notices"][0];
    page.run(&["labels", "survey.csv", "-o", "one.pdf", "--only", notice["number"].as_str().unwrap(), "--svg", "svg"]);
    let drawn = std::fs::read_dir(page.path("svg")).unwrap().next().unwrap().unwrap().path();
    let picture = page.get(&format!("/picture/notice/{}.svg?v={v}", notice["index"]));
    assert_eq!(picture.body, std::fs::read(drawn).unwrap());
}

#[test]
fn hostile_names_stay_text_in_every_answer() {
    let name = "</script><img src=x onerror=alert(1)>";
    let survey = SURVEY.replace("CH1", &format!("\"{name}\"")).replace("Chamber 1", name);
    let page = Page::open(folder(&survey), &[]);
    let v = page.version();
    for path in [format!("/api/table?v={v}"), format!("/api/enclosures?v={v}"), format!("/api/findings?v={v}")] {
        let reply = page.get(&path);
        assert_eq!(reply.header("content-type"), Some("application/json; charset=utf-8"), "{path}");
        assert!(reply.json().is_object());
    }
    let table = page.json(&format!("/api/table?v={v}"));
    assert_eq!(table["rows"][0]["cells"][0], name);
    let picture = page.get(&format!("/picture/notice/0.svg?v={v}")).text();
    assert!(!picture.contains("<img") && !picture.contains("</script"), "{picture}");
    let site = page.send("/api/survey?name=%3Cb%3E%0D%0AX:%20y.csv", survey.as_bytes()).json();
    let v = site["v"].clone();
    let reply = page.get(&format!("/api/survey-file?v={v}"));
    assert!(reply.header("x").is_none() && reply.status == 200);
}

#[test]
fn what_is_asked_for_and_is_not_there_is_refused_in_words() {
    let page = Page::open(folder(SURVEY), &[]);
    let v = page.version();
    for path in [
        "/nothing".to_owned(),
        "/api/work/99".to_owned(),
        "/result/99/0/notices.pdf".to_owned(),
        "/api/code/nothing".to_owned(),
        format!("/api/enclosure/99?v={v}"),
        format!("/api/row/99?v={v}"),
        format!("/picture/notice/99.svg?v={v}"),
        format!("/picture/notice/x.svg?v={v}"),
    ] {
        let reply = page.get(&path);
        assert_eq!((reply.status, &reply.json()["kind"]), (404, &json!("not-found")), "{path}");
    }
    for (path, body) in
        [("/api/plan", "{"), ("/api/print", "{\"what\":\"all\"}"), ("/api/correct", "{}"), ("/api/plan", "{\"x\":1}")]
    {
        let reply = page.send(path, body.as_bytes());
        assert!([400, 409].contains(&reply.status), "{path} {body}: {}", reply.status);
        assert!(!reply.json()["message"].as_str().unwrap().is_empty());
    }
}

#[test]
fn a_survey_that_cannot_be_read_any_more_is_said_and_comes_back() {
    let page = Page::open(folder(SURVEY), &[]);
    page.site();
    std::fs::rename(page.path("survey.csv"), page.path("away.csv")).unwrap();
    let (status, site) = page.post("/api/read-again", &json!({}));
    assert_eq!((status, &site["state"]), (200, &json!("failed")), "{site}");
    assert!(site["failure"]["message"].as_str().unwrap().contains("survey.csv"), "{site}");
    std::fs::rename(page.path("away.csv"), page.path("survey.csv")).unwrap();
    let (_, site) = page.post("/api/read-again", &json!({}));
    assert_eq!(site["state"], "ready");
}

#[test]
fn what_cannot_be_served_is_said_at_once() {
    let folder = folder(SURVEY);
    let said = |arguments: &[&str]| {
        let output = command(folder.path()).args(arguments).output().unwrap();
        (output.status.code(), String::from_utf8(output.stderr).unwrap())
    };
    let (code, text) = said(&["page", "-", "--no-browser"]);
    assert!(code == Some(2) && text.contains("standard input"), "{text}");
    let (code, text) = said(&["page", "nothing.csv", "--no-browser"]);
    assert!(code == Some(2) && text.contains("nothing.csv"), "{text}");
    let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let port = taken.local_addr().unwrap().port().to_string();
    let (code, text) = said(&["page", "survey.csv", "--no-browser", "--port", &port]);
    assert!(code == Some(2) && text.contains(&port) && text.contains("leave out `--port`"), "{text}");
}

#[cfg(unix)]
#[test]
fn it_ends_when_it_is_told_to_and_leaves_nothing_behind() {
    let page = Page::open(folder(SURVEY), &[]);
    page.send("/api/survey?name=other.csv", SURVEY.as_bytes());
    page.made(json!({ "what": "labels", "leave_out_faulty": true }));
    assert!(std::fs::read_dir(page.path("tmp")).unwrap().count() > 0);
    let (code, folder) = page.ended_by("-TERM");
    assert_eq!(code, Some(0));
    assert_eq!(std::fs::read_dir(folder.path().join("tmp")).unwrap().count(), 0);
}

/// What the system is asked for, as `strace` of another origin sees it: one socket that listens to this machine, and no
/// connection to anywhere.
#[cfg(target_os = "linux")]
#[test]
fn nothing_is_ever_connected_to() {
    use std::io::BufRead as _;
    use std::os::unix::process::CommandExt as _;
    use std::process::Stdio;
    if crate::judge::run("strace", &["--version"], std::path::Path::new("")).is_none() {
        return;
    }
    let folder = folder(SURVEY);
    let log = folder.path().join("calls");
    let mut command = std::process::Command::new("strace");
    command.args(["-f", "-qq", "-e", "trace=connect,bind,sendto,sendmsg,execve", "-o"]).arg(&log);
    command.arg(env!("CARGO_BIN_EXE_noticewright")).args(["page", "survey.csv", "--no-browser"]);
    command.current_dir(folder.path()).stdout(Stdio::piped()).stderr(Stdio::null()).process_group(0);
    let mut child = command.spawn().unwrap();
    let mut address = String::new();
    std::io::BufReader::new(child.stdout.take().unwrap()).read_line(&mut address).unwrap();
    let page = Page::of(child, folder, address.trim());
    page.made(json!({ "what": "labels", "leave_out_faulty": true }));
    let (_, folder) = page.ended_by("-TERM");
    let calls = std::fs::read_to_string(folder.path().join("calls")).unwrap();
    let calls: Vec<&str> = calls.lines().collect();
    let of = |name: &str| calls.iter().filter(|call| call.contains(&format!(" {name}("))).collect::<Vec<_>>();
    let bound = of("bind");
    assert_eq!(bound.len(), 1, "{bound:?}");
    assert!(bound[0].contains("inet_addr(\"127.0.0.1\")"), "{bound:?}");
    assert_eq!((of("connect").len(), of("execve").len()), (0, 1), "{calls:?}");
}

/// The thread that serves the page is none of those that work, so that one is enough for them.
#[test]
fn a_page_works_on_one_thread() {
    use std::io::BufRead as _;
    use std::process::Stdio;
    let folder = folder(SURVEY);
    let mut command = command(folder.path());
    command.args(["page", "survey.csv", "--no-browser"]).env("RAYON_NUM_THREADS", "1");
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().unwrap();
    let mut address = String::new();
    std::io::BufReader::new(child.stdout.take().unwrap()).read_line(&mut address).unwrap();
    let page = Page::of(child, folder, address.trim());
    assert_eq!(page.site()["state"], "ready");
    let work = page.made(json!({ "what": "labels", "leave_out_faulty": true }));
    assert_eq!(work["state"], "done", "{work}");
}

#[cfg(target_os = "linux")]
#[test]
fn the_browser_is_opened_at_the_address_that_is_printed() {
    use std::io::BufRead as _;
    use std::os::unix::fs::PermissionsExt as _;
    use std::process::Stdio;
    let folder = folder(SURVEY);
    // The desktop's own way to open an address, here a script that writes down what it is asked to open.
    let opener = folder.path().join("xdg-open");
    std::fs::write(&opener, "#!/bin/sh\nprintf %s \"$1\" > \"$0.asked\"\n").unwrap();
    std::fs::set_permissions(&opener, std::fs::Permissions::from_mode(0o755)).unwrap();
    let path = std::env::join_paths([folder.path(), "/usr/bin".as_ref(), "/bin".as_ref()]).unwrap();
    let mut command = command(folder.path());
    command.args(["page", "survey.csv"]).env("PATH", path).stdout(Stdio::piped()).stderr(Stdio::null());
    let mut child = command.spawn().unwrap();
    let mut address = String::new();
    std::io::BufReader::new(child.stdout.take().unwrap()).read_line(&mut address).unwrap();
    let asked = folder.path().join("xdg-open.asked");
    let opened = (0..200).find_map(|_| {
        std::thread::sleep(std::time::Duration::from_millis(50));
        std::fs::read_to_string(&asked).ok().filter(|text| !text.is_empty())
    });
    let page = Page::of(child, folder, address.trim());
    assert_eq!(opened.as_deref(), Some(address.trim()));
    assert_eq!(page.site()["state"], "ready");
}
