//! Pages through HTTP on loopback.

use crate::program::{Answer, CABIN, Pages, folder};

fn broken() -> String {
    CABIN.replace("design = -5 ", "design = \"-5 ")
}

/// The value of the first mend button, and what it says.
fn first_mend(page: &str) -> (String, String) {
    let button = page.split("name=\"mend\" value=\"").nth(1).expect("a mend is offered");
    let (value, rest) = button.split_once("\">").expect("a value");
    (value.to_owned(), rest.split('<').next().unwrap_or_default().to_owned())
}

/// The text in the text area of a page.
fn area(answer: &Answer) -> String {
    let start = answer.body.find("<textarea").expect("a text area");
    let rest = &answer.body[start..];
    let open = rest.find('>').expect("its end") + 1;
    let inside = &rest[open..rest.find("</textarea>").expect("closed")];
    let inside = inside.strip_prefix('\n').unwrap_or(inside);
    inside.replace("&quot;", "\"").replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")
}

#[test]
fn the_page_stands_under_a_strict_policy() {
    let pages = Pages::of(None);
    let answer = pages.get("/");
    assert_eq!(answer.status, 200);
    let policy = answer.header("content-security-policy").expect("a policy");
    for part in [
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
        "connect-src 'self'",
    ] {
        assert!(policy.contains(part), "{policy}");
    }
    assert!(!policy.contains("unsafe"));
    for inline in ["style=\"", "<style", "onclick", "javascript:"] {
        assert!(!answer.body.contains(inline), "{inline} would not pass the policy");
    }
    assert_eq!(area(&answer), CABIN);
    for asset in ["page.css", "paper.css", "main.js", "parts.js", "editor.js", "working.js"] {
        assert_eq!(pages.get(&format!("/assets/{asset}")).status, 200, "{asset}");
    }
}

#[test]
fn an_edit_gives_back_the_parts_that_change() {
    let pages = Pages::of(None);
    let colder = CABIN.replace("design = -5 ", "design = -25 ");
    let answer = pages.post("/design", &[("text", &colder), ("part", "1")]);
    assert_eq!(answer.status, 200);
    assert!(
        answer.body.starts_with("<div id=\"parts\" data-good=\"true\">"),
        "{}",
        &answer.body[..80]
    );
    for part in ["gutter", "problems", "status", "summary", "plans", "findings", "tables", "rest"] {
        assert!(answer.body.contains(&format!("id=\"{part}\" data-part")), "{part}");
    }
    assert!(answer.body.contains("-25.0"), "the new outdoor temperature is shown");
    assert!(!answer.body.contains("<textarea"), "the text stays as it was typed");
}

#[test]
fn line_ends_of_forms_change_nothing() {
    let pages = Pages::of(None);
    let answer = pages.post("/design", &[("text", &CABIN.replace('\n', "\r\n"))]);
    assert_eq!(area(&answer), CABIN);
}

#[test]
fn a_bad_edit_keeps_the_last_good_result_and_says_so() {
    let pages = Pages::of(None);
    let (bad, line) = (broken(), CABIN.lines().position(|it| it.starts_with("design = ")));
    let says = format!("Line {} has a problem", line.expect("a line") + 1);
    let with_script = pages.post("/design", &[("text", &bad), ("part", "1"), ("good", "1")]);
    assert!(with_script.body.contains("data-good=\"false\""));
    assert!(with_script.body.contains(&says));
    assert!(!with_script.body.contains("id=\"tables\""), "the results on the page stay");
    let without = pages.post("/design", &[("text", &bad), ("good", CABIN)]);
    assert!(without.body.contains(&says) && without.body.contains("class=\"stale\""));
    assert!(without.body.contains("great/1"), "the last good loops are shown");
    assert_eq!(area(&without), bad, "what was typed is not lost");
}

#[test]
fn a_mend_changes_the_text_and_can_be_taken_back() {
    let pages = Pages::of(None);
    let (mend, words) = first_mend(&pages.get("/").body);
    let mended = pages.post("/mend", &[("text", CABIN), ("mend", &mend)]);
    assert_eq!(mended.status, 200);
    assert!(mended.body.contains(&format!("Applied: {words}")), "{words}");
    let new = area(&mended);
    assert_ne!(new, CABIN);
    let changed = new.lines().filter(|line| !CABIN.lines().any(|old| old == *line)).count();
    assert!((1..=3).contains(&changed), "{changed} lines changed");
    let back = pages.post("/undo", &[("text", &new), ("before", CABIN)]);
    assert_eq!(area(&back), CABIN);
}

#[test]
fn a_mend_of_another_text_is_not_applied_blindly() {
    let pages = Pages::of(None);
    let (mend, _) = first_mend(&pages.get("/").body);
    let other = "[room.shed]\nindoor = 60\n";
    let answer = pages.post("/mend", &[("text", other), ("mend", &mend)]);
    assert!(answer.body.contains("The text has changed since"), "{}", answer.status);
    assert_eq!(area(&answer), other);
    for nonsense in ["", "a.b.c", "0.0", "999999999999999999999.0.0", "ä.0.0"] {
        assert_eq!(pages.post("/mend", &[("text", CABIN), ("mend", nonsense)]).status, 200);
    }
}

#[test]
fn numbers_lead_to_their_working() {
    let pages = Pages::of(None);
    let page = pages.get("/").body;
    let link = page.split("href=\"/explain?").find(|it| it.contains("path=room.bath.loss\""));
    let link = link.expect("the loss of the bath is a link").split('"').next().expect("its end");
    let working = pages.get(&format!("/explain?{}", link.replace("&amp;", "&")));
    assert_eq!(working.status, 200);
    assert!(working.body.contains("sum of"), "{}", working.body);
    let unknown = pages.get("/explain?path=room.bath.los");
    assert_eq!(unknown.status, 404);
    assert!(unknown.body.contains("room.bath.loss"), "the nearest is offered");
    assert_eq!(pages.get("/explain?of=0123456789abcdef&path=x").status, 410);
}

#[test]
fn papers_can_be_kept() {
    let pages = Pages::of(None);
    for (name, kind) in [
        ("loops.csv", "text/csv"),
        ("plan.svg", "image/svg+xml"),
        ("design.json", "application/json"),
        ("sheet.txt", "text/plain"),
    ] {
        let answer = pages.get(&format!("/files/{name}"));
        assert_eq!(answer.status, 200, "{name}");
        assert!(answer.header("content-type").is_some_and(|it| it.starts_with(kind)), "{name}");
    }
    assert_eq!(pages.get("/files/..%2f..%2fetc%2fpasswd").status, 404);
}

#[test]
fn floors_stand_beside_pictures_of_ones_own() {
    let pages = Pages::of(None);
    let answer = pages.get("/floors");
    assert_eq!(answer.status, 200);
    assert!(answer.body.contains("id=\"picked\"") && answer.body.contains("id=\"floor-warmth\""));
    assert!(answer.body.contains("data-design=\""), "readings can be compared");
    let policy = answer.header("content-security-policy").expect("a policy");
    assert!(!policy.contains("blob:"), "pictures are painted, not addressed: {policy}");
    for inline in ["style=\"", "<style", "onclick", "onchange"] {
        assert!(!answer.body.contains(inline), "{inline} would not pass the policy");
    }
    assert_eq!(pages.get("/assets/floors.js").status, 200);
    let asked = pages.get("/floors?outdoor=40%20F").body;
    assert!(asked.contains("at 40.0 °F (4.4 °C) outdoors") && asked.contains("floor-asked"));
    let wrong = pages.get("/floors?outdoor=warm");
    assert!(wrong.status == 200 && wrong.body.contains("id=\"outdoor-trouble\""));
    let working = pages.get("/explain?path=mild.room.bath.mean");
    assert!(working.status == 200 && working.body.contains("marched"), "{}", working.body);
    let paper = pages.get("/sheet?paper=floor-temperatures&outdoor=40").body;
    assert!(paper.contains("at 40.0 °F (4.4 °C) outdoors") && !paper.contains("<script"));
}

#[test]
fn another_finish_is_asked_for_and_answered() {
    let pages = Pages::of(None);
    let asks = pages.get("/floors").body;
    assert!(asks.contains("action=\"/finish\"") && asks.contains("value=\"thick-carpet\""));
    let answer = pages.get("/finish?room=great&finish=thick-carpet");
    assert_eq!(answer.status, 200);
    assert!(answer.body.contains("less under thick carpet on pad"), "{}", answer.body);
    for wrong in ["room=attic&finish=tile", "room=great&finish=straw", ""] {
        let answer = pages.get(&format!("/finish?{wrong}"));
        assert_eq!(answer.status, 404, "{wrong}");
    }
}

#[test]
fn foreign_hosts_and_pages_are_turned_away() {
    let pages = Pages::of(None);
    assert_eq!(pages.get_as("/", "evil.example:80").status, 403);
    assert_eq!(pages.get_as("/", "127.0.0.1.evil.example").status, 403);
    let port = pages.host.rsplit(':').next().expect("a port").to_owned();
    assert_eq!(pages.get_as("/", &format!("localhost:{port}")).status, 200);
    let text = [("text", CABIN), ("part", "1")];
    for origin in ["http://evil.example", "null", "http://127.0.0.1:1"] {
        assert_eq!(pages.post_from("/design", &text, origin).status, 403, "{origin}");
    }
    assert_eq!(pages.post("/design", &text).status, 200);
}

#[test]
fn wrong_addresses_lead_back() {
    let pages = Pages::of(None);
    for (answer, status) in [
        (pages.get("/nowhere"), 404),
        (pages.get("/save"), 405),
        (pages.get("/assets/none.js"), 404),
    ] {
        assert_eq!(answer.status, status);
        assert!(answer.body.contains("href=\"/\""), "{status} has a way out");
        assert!(answer.header("content-security-policy").is_some());
    }
}

#[test]
fn a_body_that_is_too_large_is_refused_and_the_server_lives() {
    let pages = Pages::of(None);
    let head = format!(
        "POST /design HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\
         Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 9000000\r\n\r\ntext=",
        pages.host
    );
    let answer = pages.raw(head.as_bytes());
    assert_eq!(answer.status, 413);
    assert!(answer.body.contains("Nothing was changed"));
    let nonsense = format!(
        "POST /design HTTP/1.1\r\nHost: {}\r\nConnection: close\r\nContent-Length: 4\r\n\r\n%%%%",
        pages.host
    );
    assert_eq!(pages.raw(nonsense.as_bytes()).status, 400);
    assert_eq!(pages.get("/").status, 200);
}

/// The key of what is on disk, as the page carries it.
fn disk(page: &str) -> String {
    let rest = page.split("name=\"disk\" data-field value=\"").nth(1).expect("a key");
    rest.split('"').next().unwrap_or_default().to_owned()
}

#[test]
fn saving_writes_the_file_and_keeps_its_line_ends() {
    let file = folder("save").join("job.toml");
    std::fs::write(&file, CABIN.replace('\n', "\r\n")).expect("written");
    let pages = Pages::of(Some(&file.display().to_string()));
    let page = pages.get("/").body;
    let new = CABIN.replace("design = -5 ", "design = -7 ");
    let saved = pages.post("/save", &[("text", &new), ("disk", &disk(&page))]);
    assert!(saved.body.contains("Saved to"), "{}", saved.status);
    assert_eq!(std::fs::read_to_string(&file).expect("read"), new.replace('\n', "\r\n"));
    let again = pages.post("/save", &[("text", CABIN), ("disk", &disk(&saved.body))]);
    assert!(again.body.contains("Saved to"), "the key went on with the save");
}

#[test]
fn a_file_that_changed_meanwhile_is_not_lost() {
    let folder = folder("conflict");
    let file = folder.join("job.toml");
    std::fs::write(&file, CABIN).expect("written");
    let pages = Pages::of(Some(&file.display().to_string()));
    let key = disk(&pages.get("/").body);
    std::fs::write(&file, "# theirs\n").expect("written");
    let mine = CABIN.replace("design = -5 ", "design = -9 ");
    let refused = pages.post("/save", &[("text", &mine), ("disk", &key)]);
    assert!(refused.body.contains("Not saved"));
    assert_eq!(area(&refused), mine);
    assert_eq!(std::fs::read_to_string(&file).expect("read"), "# theirs\n");
    let over = pages.post("/save", &[("text", &mine), ("disk", &key), ("over", "1")]);
    assert!(over.body.contains("Saved to"));
    assert_eq!(std::fs::read_to_string(&file).expect("read"), mine);
    let kept = std::fs::read_to_string(folder.join("job.toml.before-1")).expect("the copy");
    assert_eq!(kept, "# theirs\n");
}

#[test]
fn hostile_texts_are_shown_as_text() {
    let pages = Pages::of(None);
    let name = "</textarea><script>alert(1)</script>";
    let text = format!("[job]\nname = '{name}'\n[room.'a\"><b>']\narea = \"100 sqft\"\n");
    let answer = pages.post("/design", &[("text", &text)]);
    assert_eq!(answer.status, 200);
    assert!(!answer.body.contains("<script>alert") && !answer.body.contains("\"><b>"));
    assert_eq!(area(&answer), text);
}
