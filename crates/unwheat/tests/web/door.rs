//! Knocks at the door over plain HTTP: who is let in, and what every answer carries.

use crate::harness::{House, encode, example};

const FORM: &str = "Content-Type: application/x-www-form-urlencoded\r\n";

/// A form that adds a recipe, sent with these headers.
fn add(house: &House, headers: &str, seal: Option<&str>) -> u16 {
    let text = example("sunday-pancakes.txt");
    let mut fields = vec![("text", text.as_str()), ("locale", "us")];
    if let Some(seal) = seal {
        fields.push(("seal", seal));
    }
    let headers = format!("{headers}{FORM}");
    house
        .send("POST", "/recipes", &headers, encode(&fields).as_bytes())
        .status
}

#[test]
fn a_foreign_host_is_refused() {
    let house = House::open();
    for host in ["example.com", "127.0.0.1", "127.0.0.1:1", ""] {
        let answer = house.send("GET", "/", &format!("Host: {host}\r\n"), b"");
        assert_eq!(answer.status, 403, "host '{host}'");
    }
    assert_eq!(house.get("/").status, 200);
    house.must_be_sound();
}

#[test]
fn a_form_of_another_site_is_refused() {
    let house = House::open();
    let host = format!("Host: {}\r\n", house.host);
    let seal = house.seal();
    for origin in [
        "http://example.com",
        "https://127.0.0.1",
        "null",
        "http://127.0.0.1:1",
    ] {
        let headers = format!("{host}Origin: {origin}\r\n");
        assert_eq!(add(&house, &headers, Some(&seal)), 403, "origin {origin}");
    }
    let cross = format!("{host}Sec-Fetch-Site: cross-site\r\n");
    assert_eq!(add(&house, &cross, Some(&seal)), 403, "cross-site");
    let own = format!("{host}Origin: http://{}\r\n", house.host);
    assert_eq!(add(&house, &own, Some(&seal)), 303);
    house.must_be_sound();
}

#[test]
fn a_form_without_the_seal_is_refused() {
    let house = House::open();
    let own = format!("Host: {0}\r\nOrigin: http://{0}\r\n", house.host);
    assert_eq!(add(&house, &own, None), 403, "no seal");
    assert_eq!(add(&house, &own, Some("")), 403, "an empty seal");
    assert_eq!(
        add(&house, &own, Some("0123456789abcdef0123456789abcdef")),
        403,
        "another seal"
    );
    let list = house.get("/").text();
    assert!(!list.contains("Sunday"), "nothing was added");
    house.must_be_sound();
}

#[test]
fn every_answer_carries_the_policy() {
    let house = House::open();
    let id = house.recipe(&example("sunday-pancakes.txt"));
    let card = format!("/recipe/{id}/card.html");
    for path in [
        "/",
        "/bin",
        "/days",
        "/assets/live.js",
        "/nothing",
        "/recipe/999/read",
        &card,
    ] {
        let answer = house.get(path);
        let policy = answer.header("content-security-policy").unwrap_or_default();
        assert!(policy.contains("default-src 'none'"), "{path}: {policy}");
        assert!(!policy.contains("unsafe"), "{path}: {policy}");
        assert!(!policy.contains('*'), "{path}: {policy}");
        assert_eq!(
            answer.header("x-content-type-options"),
            Some("nosniff"),
            "{path}"
        );
        assert!(answer.header("referrer-policy").is_some(), "{path}");
    }
    house.must_be_sound();
}

#[test]
fn no_page_has_inline_code_or_style() {
    let house = House::open();
    let id = house.recipe(&example("sunday-pancakes.txt"));
    for leaf in [
        "read",
        "weigh",
        "screen",
        "rework",
        "size",
        "heat",
        "shop",
        "bench",
        "bakes",
        "card",
        "versions",
        "card.html",
    ] {
        let page = house.get(&format!("/recipe/{id}/{leaf}")).text();
        for forbidden in [
            " style=\"",
            "<style",
            " onclick=",
            "javascript:",
            "<script>",
        ] {
            assert!(!page.contains(forbidden), "{leaf}: {forbidden}");
        }
    }
}

#[test]
fn no_path_leads_out_of_the_assets() {
    let house = House::open();
    for path in [
        "/assets/../Cargo.toml",
        "/assets/..%2f..%2fCargo.toml",
        "/assets/%2e%2e/%2e%2e/etc/passwd",
        "/assets//etc/passwd",
        "/assets/..\\seal",
        "/assets/",
        "/assets/live.js%00.css",
    ] {
        let answer = house.get(path);
        assert!(
            answer.status == 404 || answer.status == 400,
            "{path}: {}",
            answer.status
        );
        assert!(!answer.text().contains("root:"), "{path}");
    }
    house.must_be_sound();
}

#[test]
fn what_goes_wrong_shows_no_insides() {
    let house = House::open();
    let id = house.recipe(&example("sunday-pancakes.txt"));
    let answers = vec![
        ("a bad number", house.get("/recipe/abc/read")),
        ("a huge number", house.get("/recipe/99999999999999999999/read")),
        ("no such recipe", house.get("/recipe/4711/read")),
        ("no such page", house.get(&format!("/recipe/{id}/nothing"))),
        ("no such version", house.get(&format!("/recipe/{id}/compare?a=7&b=9"))),
        ("no choice", house.get(&format!("/recipe/{id}/compare"))),
        ("a change that is none", house.post(&format!("/recipe/{id}/change"), &[("change", "{")])),
        ("a change of nothing", house.post("/recipe/4711/change", &[("change", "\"Unpin\"")])),
        ("a return to nothing", house.post(&format!("/recipe/{id}/return"), &[("number", "9")])),
        ("a part of nothing", house.post(&format!("/recipe/{id}/part"), &[("part", "x")])),
        ("the wrong way", house.send("PUT", "/", &format!("Host: {0}\r\nOrigin: http://{0}\r\n", house.host), b"")),
        ("a query of odd signs", house.get("/?words=%22%27%3B--%28%2A&page=-1&stage=%00")),
        ("half a form", house.send("POST", "/recipes", &format!("Host: {0}\r\nOrigin: http://{0}\r\nContent-Type: multipart/form-data; boundary=x\r\n", house.host), b"--x\r\nContent-Disp")),
    ];
    for (what, answer) in answers {
        let text = answer.text();
        shows_no_insides(what, &text);
        assert!(answer.status != 500, "{what}: {text}");
    }
    house.must_be_sound();
}

#[track_caller]
fn shows_no_insides(what: &str, text: &str) {
    for inside in [
        ".rs:",
        "panicked",
        "SELECT",
        "sqlite",
        "SQL",
        "/tmp/",
        "/home/",
        "Deserialize",
        "Error(",
        "Cannot parse",
        "i64",
        "Invalid URL",
        "malformed",
        "disk image",
    ] {
        assert!(!text.contains(inside), "{what}: shows '{inside}': {text}");
    }
}

#[test]
fn a_broken_kitchen_shows_no_insides() {
    let house = House::open();
    let id = house.recipe(&example("sunday-pancakes.txt"));
    // The disk fails under the running workbench: everything behind the files' heads is noise.
    for name in ["kitchen.db", "kitchen.db-wal"] {
        let path = house.kitchen().join(name);
        let mut bytes = std::fs::read(&path).expect("the kitchen's file");
        for b in bytes.iter_mut().skip(100) {
            *b = 0xA5;
        }
        std::fs::write(&path, bytes).expect("the file is written");
    }
    let mut failed = 0;
    for leaf in ["", "/read", "/weigh", "/rework", "/versions", "/card.html"] {
        let answer = house.get(&format!("/recipe/{id}{leaf}"));
        shows_no_insides(leaf, &answer.text());
        failed += u32::from(answer.status == 500);
    }
    let answer = house.post(
        &format!("/recipe/{id}/save"),
        &[("why", "x"), ("who", "y"), ("rev", "0")],
    );
    shows_no_insides("saving", &answer.text());
    failed += u32::from(answer.status == 500);
    assert!(failed > 0, "the broken kitchen was not noticed");
}

/// From the home network only past the passphrase. Left out on a machine without a network.
#[test]
fn the_home_network_comes_in_by_the_passphrase_alone() {
    let house = match House::open_with(&["--share"]) {
        Ok(house) => house,
        Err(log) => {
            assert!(log.contains("on no network"), "{log}");
            return;
        }
    };
    let after = |what: &str| {
        let line = house.said.iter().find_map(|l| l.trim().strip_prefix(what));
        line.unwrap_or_else(|| panic!("{what}: {:?}", house.said))
            .trim()
            .to_owned()
    };
    let away = after("Address     http://");
    let words = after("Passphrase  ");
    let ask = |method: &str, path: &str, headers: &str, body: &str| {
        let headers = format!("Host: {away}\r\nOrigin: http://{away}\r\n{headers}");
        let within = std::time::Duration::from_secs(20);
        crate::harness::send(&away, method, path, &headers, body.as_bytes(), within)
            .unwrap_or_else(|e| panic!("{method} {path}: {e}"))
    };
    for path in [
        "/",
        "/kitchen",
        "/kitchen/export",
        "/recipe/1/read",
        "/bench/1/state",
    ] {
        let answer = ask("GET", path, "", "");
        assert_eq!(
            answer.header("location"),
            Some("/open"),
            "{path}: {}",
            answer.status
        );
        assert!(!answer.text().contains("seal"), "{path}");
    }
    // The door's own page carries a seal, but a seal alone does not open.
    let seal = house.seal();
    let text = example("sunday-pancakes.txt");
    let recipe = encode(&[("seal", &seal), ("text", &text), ("locale", "us")]);
    assert_eq!(
        ask("POST", "/recipes", FORM, &recipe).header("location"),
        Some("/open")
    );
    let wrong = encode(&[("seal", &seal), ("passphrase", "not the words at all")]);
    let answer = ask("POST", "/open", FORM, &wrong);
    assert_eq!((answer.status, answer.header("set-cookie")), (403, None));
    let right = encode(&[("seal", &seal), ("passphrase", &words)]);
    let answer = ask("POST", "/open", FORM, &right);
    let cookie = answer.header("set-cookie").expect("a cookie").to_owned();
    for part in ["HttpOnly", "SameSite=Strict"] {
        assert!(cookie.contains(part), "{cookie}");
    }
    let pair = cookie.split(';').next().unwrap_or_default();
    let answer = ask("GET", "/", &format!("Cookie: {pair}\r\n"), "");
    assert_eq!(answer.status, 200);
    let answer = ask("GET", "/", "Cookie: unwheat_door=0123456789\r\n", "");
    assert_eq!(answer.header("location"), Some("/open"));
    // Guessing is slow: after a few wrong words even the right ones must wait.
    for _ in 0..8 {
        ask("POST", "/open", FORM, &wrong);
    }
    assert_eq!(
        ask("POST", "/open", FORM, &right).header("set-cookie"),
        None
    );
    // On the laptop itself nothing is asked.
    assert_eq!(house.get("/").status, 200);
    house.must_be_sound();
}
