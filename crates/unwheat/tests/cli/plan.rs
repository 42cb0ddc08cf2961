//! `unwheat plan`: the day in 80 columns, as JSON, as a calendar file that another parser reads.

use crate::run::unwheat;
use std::path::Path;
use unicode_width::UnicodeWidthStr;

const BUNS: &str = "examples/apricot-almond-buns.txt";
const CAKE: &str = "examples/lemon-yoghurt-cake.txt";

#[test]
fn a_day_fits_80_columns_and_names_its_guesses() {
    for args in [
        vec![
            "plan",
            BUNS,
            "--serve",
            "2026-11-30 16:00",
            "--now",
            "2026-11-29 08:00",
        ],
        vec![
            "plan",
            BUNS,
            CAKE,
            "--serve",
            "2026-11-30 16:00",
            "--now",
            "2026-11-29 08:00",
        ],
        vec![
            "plan",
            CAKE,
            "--from-now",
            "--quiet",
            "none",
            "--now",
            "2026-11-29 08:00",
        ],
    ] {
        let out = unwheat(&args).done();
        assert!(out.lines().all(|l| l.width() <= 80), "{out}");
        assert!(out.contains("common practice, no source"), "{out}");
        assert!(out.contains("Bake"), "{out}");
    }
    let out = unwheat(&["plan", CAKE, "--from-now", "--now", "2026-11-29 08:00"]).done();
    assert!(out.contains("Begin Sun 29 Nov 08:00"), "{out}");
}

#[test]
fn json_has_every_step_in_order_and_ready_in_time() {
    let args = [
        "plan",
        BUNS,
        "--serve",
        "2026-11-30 16:00",
        "--now",
        "2026-11-29 08:00",
        "--json",
    ];
    let value: serde_json::Value = serde_json::from_str(&unwheat(&args).done()).expect("JSON");
    assert_eq!(value["recipes"][0]["ready"], "2026-11-30T16:00");
    assert_eq!(value["proven"], true);
    let steps = value["steps"].as_array().expect("steps");
    let begins: Vec<&str> = steps.iter().filter_map(|s| s["begins"].as_str()).collect();
    assert_eq!(begins.len(), steps.len());
    assert!(begins.is_sorted(), "{begins:?}");
    let bake = steps
        .iter()
        .find(|s| s["key"] == "dough:bake")
        .expect("a bake");
    assert_eq!(bake["oven_celsius"], 180.0);
    assert_eq!(bake["wait_basis"], "reworked");
    // Nobody works at night.
    for s in steps {
        let (from, to) = (
            s["begins"].as_str().expect("from"),
            s["work_ends"].as_str().expect("to"),
        );
        let hour = |t: &str| t[11..13].parse::<u32>().expect("an hour");
        assert!(from == to || (7..22).contains(&hour(from)), "{s}");
    }
}

/// The parser is `ical`; the same file was read by Python `icalendar` 7.3.2 on 30 November 2026: 22
/// events and 32 alarms, each event with a stamp, a start and an end, and no errors.
#[test]
fn the_calendar_is_one_that_another_parser_reads() {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join("plan.ics");
    let file = path.display().to_string();
    let args = [
        "plan",
        BUNS,
        "--serve",
        "2026-11-30 16:00",
        "--now",
        "2026-11-29 08:00",
        "--ics",
        &file,
        "--json",
    ];
    let json: serde_json::Value = serde_json::from_str(&unwheat(&args).done()).expect("JSON");
    let bytes = std::fs::read(&path).expect("the calendar");
    for line in bytes.split(|b| *b == b'\n').filter(|l| !l.is_empty()) {
        assert!(
            line.ends_with(b"\r") && line.len() <= 76,
            "{}",
            String::from_utf8_lossy(line)
        );
    }
    let mut calendars = ical::IcalParser::new(bytes.as_slice());
    let calendar = calendars.next().expect("a calendar").expect("a sound one");
    assert!(calendars.next().is_none());
    let steps = json["steps"].as_array().expect("steps");
    let alarms: usize = calendar.events.iter().map(|e| e.alarms.len()).sum();
    assert_eq!((calendar.events.len(), alarms), (22, 32));
    assert_eq!(calendar.events.len(), steps.len());
    let mut uids = Vec::new();
    for (event, step) in calendar.events.iter().zip(steps) {
        let value = |name: &str| {
            let found: Vec<_> = event.properties.iter().filter(|p| p.name == name).collect();
            assert_eq!(found.len(), 1, "{name} of {event:?}");
            found[0].value.clone().unwrap_or_default()
        };
        let plain = |t: &str| format!("{}00", t.replace(['-', ':'], ""));
        assert_eq!(
            value("DTSTART"),
            plain(step["begins"].as_str().expect("a start"))
        );
        assert!(value("DTSTAMP").ends_with('Z'));
        assert!(value("DTEND") > value("DTSTART"));
        uids.push(value("UID"));
        let works = step["begins"] != step["work_ends"];
        let waits = step["work_ends"] != step["ends"];
        assert_eq!(
            event.alarms.len(),
            usize::from(works) + usize::from(waits),
            "{step}"
        );
        for alarm in &event.alarms {
            let trigger = alarm.properties.iter().find(|p| p.name == "TRIGGER");
            assert!(trigger.is_some_and(|t| t.params.is_some()));
        }
    }
    let all = uids.len();
    uids.sort();
    uids.dedup();
    assert_eq!(uids.len(), all, "each event keeps a name of its own");
    // The same plan gives the same names.
    unwheat(&args).done();
    let again = std::fs::read_to_string(&path).expect("the calendar");
    assert!(uids.iter().all(|u| again.replace("\r\n ", "").contains(u)));
}

#[test]
fn what_cannot_be_is_explained() {
    let says = |args: &[&str], words: &[&str]| {
        let ran = unwheat(args);
        assert_eq!(ran.code, 1, "{} {}", ran.out, ran.err);
        let long = ran.err.lines().any(|l| l.width() > 80);
        assert!(!ran.err.contains("no plan") || !long, "{}", ran.err);
        let said = ran.err.split_whitespace().collect::<Vec<_>>().join(" ");
        for w in words {
            assert!(said.contains(w), "{w}: {said}");
        }
    };
    says(
        &[
            "plan",
            CAKE,
            "--serve",
            "2026-11-28 09:00",
            "--now",
            "2026-11-29 08:00",
        ],
        &["is 23 h ago", "Give a time to come"],
    );
    says(
        &[
            "plan",
            CAKE,
            "--serve",
            "2026-11-29 08:30",
            "--now",
            "2026-11-29 08:00",
        ],
        &["before now", "at the earliest"],
    );
    says(
        &[
            "plan",
            CAKE,
            "--serve",
            "2026-11-29 07:30",
            "--now",
            "2026-11-29 01:00",
        ],
        &["in your quiet hours", "Allow"],
    );
    says(
        &["plan", CAKE, "--serve", "soon", "--now", "2026-11-29 01:00"],
        &["'soon' is no time", "2026-11-30 09:00"],
    );
    says(
        &["plan", CAKE, "--from-now", "--ovens", "0"],
        &["needs an oven"],
    );
    says(
        &["plan", CAKE, "--from-now", "--hands", "0"],
        &["pairs of hands", "from 1"],
    );
    says(
        &["plan", "no-such-file.txt", "--from-now"],
        &["there is no such file"],
    );
    for wrong in [
        vec!["plan", CAKE],
        vec!["plan", "--from-now"],
        vec!["plan", CAKE, "--from-now", "--serve", "09:00"],
        vec!["plan", CAKE, "--from-now", "--quiet", "late"],
    ] {
        unwheat(&wrong).misused();
    }
}

/// A figure of one's own for a step, and a number of batches for each recipe.
#[test]
fn a_step_and_the_times_are_as_they_are_said() {
    let now = ["--from-now", "--now", "2026-11-29 08:00", "--json"];
    let plan = |more: &[&str]| -> serde_json::Value {
        let args: Vec<&str> = ["plan", CAKE, CAKE]
            .into_iter()
            .chain(now)
            .chain(more.iter().copied())
            .collect();
        serde_json::from_str(&unwheat(&args).done()).expect("JSON")
    };
    let value = plan(&["--times", "2,1"]);
    assert_eq!(value["recipes"][0]["factor"], 2.0);
    assert_eq!(value["recipes"][1]["factor"], 1.0);
    let steps = value["steps"].as_array().expect("steps");
    let bake = steps.iter().find(|s| s["name"] == "Bake").expect("a bake");
    let key = bake["key"].as_str().expect("a key");
    let value = plan(&[
        "--step",
        &format!("{key} work=7"),
        "--step",
        &format!("{key} longest=50"),
    ]);
    let steps = value["steps"].as_array().expect("steps");
    for bake in steps.iter().filter(|s| s["key"] == key) {
        assert_eq!(bake["work_minutes"]["usual"], 7.0);
        assert_eq!(bake["work_basis"], "own");
        assert_eq!(bake["wait_minutes"]["most"], 50.0);
    }
    for (step, says) in [
        ("nothing work=7", "no step is called 'nothing'"),
        ("bake", "is not understood"),
        (&format!("{key} work=much"), "is not understood"),
    ] {
        let err = unwheat(&["plan", CAKE, "--from-now", "--step", step]).refused();
        assert!(err.contains(says), "{step}: {err}");
    }
}

#[test]
fn meat_and_what_is_not_known_are_named_below_a_plan() {
    let dir = tempfile::tempdir().expect("a folder");
    let pie = dir.path().join("pie.txt");
    let text = "Pie\n\n300 g plain flour\n150 g butter\n80 g water\n500 g minced pork\n50 g zorbel root\n10 g salt\n\n1. Mix it all.\n2. Bake at 180 °C for 50 minutes.\n";
    std::fs::write(&pie, text).expect("a file");
    let pie = pie.display().to_string();
    let args = ["plan", &pie, "--from-now", "--quiet", "none", "--json"];
    let out = unwheat(&args).done();
    for words in [
        "not counted here for: minced pork. Keep them at 5 °C or below",
        "not counted for: zorbel root",
    ] {
        assert!(out.contains(words), "{words}: {out}");
    }
}

/// What stands warm past the usual limit is said before the steps, in JSON and at its events in the calendar.
#[test]
fn a_long_warm_dough_is_cautioned_first() {
    let dir = tempfile::tempdir().expect("a folder");
    let at = |name: &str| dir.path().join(name).display().to_string();
    let (rolls, ics) = (at("rolls.txt"), at("rolls.ics"));
    let text = "Milk rolls\n\n500 g strong flour\n7 g fast-action yeast\n9 g salt\n330 g milk\n\n1. Mix for 8 minutes.\n2. Shape into 12 rolls. Let rise for 75 minutes.\n3. Bake at 200 °C for 20 minutes.\n";
    std::fs::write(&rolls, text).expect("a file");
    let own = ["rise longest=90", "rise shortest=90"];
    let args = |last: &[&str]| {
        let all = ["plan", &rolls, "--from-now", "--now", "2026-11-29 08:00"];
        let all = all.iter().chain(own.iter().flat_map(|o| [&"--step", o]));
        let args: Vec<&str> = all.chain(last).copied().collect();
        unwheat(&args).done()
    };
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = "the usual limit for what holds egg or milk is 2 h";
    let out = plain(&args(&["--ics", &ics]));
    let (said, table) = (out.find(words), out.find("begin until what"));
    assert!(said.is_some() && said < table, "{out}");
    let json: serde_json::Value = serde_json::from_str(&args(&["--json"])).expect("JSON");
    let one = &json["cautions"][0];
    assert!(one["words"].as_str().is_some_and(|w| w.contains(words)));
    assert_eq!(one["keys"], serde_json::json!([":hydrate", ":rise"]));
    let events = std::fs::read_to_string(&ics).expect("a calendar");
    let events = events.replace("\r\n ", "");
    assert_eq!(events.matches(words).count(), 2, "{events}");
}

/// Two loaves in one tin: the second is filled when the first is turned out.
#[test]
fn bakes_that_share_a_tin_follow_each_other() {
    let loaf = Path::new(env!("CARGO_TARGET_TMPDIR")).join("tin-loaf.txt");
    let text = "Tin loaf\n\n500 g bread flour\n7 g yeast\n10 g salt\n330 g water\n\n1. Mix for 8 minutes. Scrape into a 23 x 13 cm loaf tin and let rise for 40 minutes.\n2. Bake at 200 °C for 40 minutes. Cool in the tin for 10 minutes, then turn out.\n";
    std::fs::write(&loaf, text).expect("a file");
    let loaf = loaf.display().to_string();
    let plan = |more: &[&str]| {
        let args = ["plan", &loaf, &loaf, "--now", "2026-11-29 08:00"];
        unwheat(&[&args[..], more].concat())
    };
    let said = plan(&["--serve", "2026-11-29 20:00"]).done();
    assert!(
        said.contains("there for every batch that wants one: 23 x 13 cm loaf"),
        "{said}"
    );
    let tin = ["--pan", "loaf tin 23 x 13 cm", "--json"];
    let one = plan(&[&tin[..], &["--serve", "2026-11-29 20:00"]].concat()).done();
    let one: serde_json::Value = serde_json::from_str(&one).expect("JSON");
    let mut full: Vec<(String, String)> = Vec::new();
    for recipe in 0..2 {
        let of = |key: &str| {
            let steps = one["steps"].as_array().expect("steps").iter();
            let mut mine = steps.filter(|s| s["recipe"] == recipe && s["key"] == key);
            mine.next().expect("a step").clone()
        };
        let text = |v: &serde_json::Value| v.as_str().expect("a time").to_owned();
        assert!(text(&of(":rise")["begin_from"]) <= text(&of(":rise")["begins"]));
        full.push((text(&of(":rise")["begins"]), text(&of(":cool")["ends"])));
    }
    full.sort();
    assert!(full[0].1 <= full[1].0, "{full:?}");
    let err = plan(&[
        "--pan",
        "loaf tin 23 x 13 cm",
        "--serve",
        "2026-11-29 15:00",
    ])
    .err;
    let err: String = err.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        err.contains("It is a pan that makes it impossible"),
        "{err}"
    );
    let err = plan(&["--pan", "0 x loaf tin", "--from-now"]).err;
    assert!(
        err.contains("--pan") && err.contains("from 1 to 20"),
        "{err}"
    );
}

/// The plan of a US recipe spoke °C alone.
#[test]
fn an_oven_is_in_the_scale_of_the_recipes_country() {
    let plan = |locale: &str| {
        let out = unwheat(&[
            "plan",
            CAKE,
            "--from-now",
            "--quiet",
            "none",
            "--now",
            "2026-11-29 08:00",
            "--locale",
            locale,
        ])
        .done();
        out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let (us, uk) = (plan("us"), plan("uk"));
    assert!(us.contains("°F / "), "{us}");
    assert!(uk.contains("°C") && !uk.contains("°F"), "{uk}");
}

/// No figure in °C stands alone in the US, and none in °F elsewhere: changes, notes, a rule's sums,
/// the water of a dough, heights.
#[test]
fn every_degree_is_in_the_scale_of_the_recipes_country() {
    for args in [
        vec!["rework", CAKE],
        vec!["rework", CAKE, "--why", "oven"],
        vec!["leaven", CAKE, "--altitude", "1800"],
        vec![
            "heat",
            "bake",
            CAKE,
            "--known-pan",
            "round 20x7cm",
            "--pan",
            "round 15x7cm",
        ],
        vec!["heat", "dough", "--flour", "500g", "--water", "450g"],
    ] {
        let told = |locale: &str| {
            let all: Vec<&str> = args.iter().copied().chain(["--locale", locale]).collect();
            let out = unwheat(&all).done();
            let words: Vec<String> = out.split_whitespace().map(str::to_owned).collect();
            words.join(" ")
        };
        let (us, uk) = (told("us"), told("uk"));
        assert!(uk.contains("°C") && !uk.contains("°F"), "{uk}");
        assert!(us.contains("°F"), "{us}");
        for (at, _) in us.match_indices("°C") {
            // '375 °F (190 °C) − 10 °C': a sum is told in the scale it was reckoned in.
            let before: Vec<char> = us[..at].chars().rev().take(40).collect();
            let before: String = before.into_iter().rev().collect();
            assert!(before.contains("°F"), "{args:?}: {before}°C");
        }
    }
}

/// In a recipe of one part without a name the step is called by what it is.
#[test]
fn a_step_of_the_only_part_needs_no_colon() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("loaf.txt");
    let text = "Plain Loaf\n\n500 g strong flour\n7 g dried yeast\n350 g water\n8 g salt\n\nMix. Leave to rise for 1 hour. Bake at 220 °C for 40 minutes.\n";
    std::fs::write(&file, text).expect("written");
    let path = file.to_str().expect("a path");
    let plan = |step: &str| {
        let now = "2026-11-29 08:00";
        unwheat(&["plan", path, "--from-now", "--now", now, "--step", step])
    };
    let bare = plan("rise longest=30").done();
    assert_eq!(bare, plan(":rise longest=30").done());
    let told = plan("prove longest=30").refused();
    assert!(told.contains("no step is called 'prove'"), "{told}");
}

/// What is next, from now: nothing begun, only what stands first can begin; with the bake begun it is under way, and
/// all before it is done.
#[test]
fn what_is_next_is_told_from_now() {
    let plan = |now: &str, more: &[&str]| {
        let args = ["plan", CAKE, "--from-now", "--quiet", "none", "--now", now];
        let args: Vec<&str> = args.iter().chain(more).copied().collect();
        unwheat(&args).done()
    };
    let json = |now: &str, more: &[&str]| -> serde_json::Value {
        let more: Vec<&str> = more.iter().chain(&["--json"]).copied().collect();
        serde_json::from_str(&plan(now, &more)).expect("JSON")
    };
    let first = json("2026-11-29 08:00", &[]);
    assert_eq!(first["now"], "2026-11-29T08:00");
    let steps = |of: &serde_json::Value| of["steps"].as_array().expect("steps").clone();
    let at = |of: &serde_json::Value, stage: &str| -> Vec<String> {
        let all = steps(of);
        let mine = all.iter().filter(|s| s["stage"] == stage);
        mine.map(|s| s["key"].as_str().unwrap_or_default().to_owned())
            .collect()
    };
    let open = at(&first, "can_begin");
    // By hand: the oven takes half an hour to be hot, weighing to dividing 29 minutes, so it comes first.
    assert_eq!(open, [":preheat"]);
    assert!(at(&first, "under_way").is_empty() && !at(&first, "waits").is_empty());
    // No step that can begin waits for another, and each that waits says for what.
    for s in steps(&first) {
        let for_none = s["waits_for"].as_array().is_some_and(Vec::is_empty);
        assert_eq!(s["stage"] == "waits", !for_none, "{s}");
    }
    let words = plan("2026-11-29 08:00", &[]);
    assert!(words.contains("What is next, at 08:00") && words.contains("Can begin now: "));
    // Begun at 08:05 the bake is under way at 08:10, and all before it is done.
    let bake = steps(&first)
        .iter()
        .filter_map(|s| s["key"].as_str().map(str::to_owned))
        .find(|k| k.ends_with(":bake"))
        .expect("a bake");
    let begun = format!("{bake}=08:05");
    let then = json("2026-11-29 08:10", &["--begun", &begun]);
    assert_eq!(at(&then, "under_way"), [bake.as_str()]);
    let words = plan("2026-11-29 08:10", &["--begun", &begun]);
    assert!(words.contains("Under way: Bake"), "{words}");
    // Its key alone: it is done, and what waited for it can begin.
    let done = json("2026-11-29 08:50", &["--begun", &bake]);
    assert!(at(&done, "over").contains(&bake) && !at(&done, "can_begin").is_empty());
    let refused = |more: &[&str]| {
        let args = [
            "plan",
            CAKE,
            CAKE,
            "--from-now",
            "--now",
            "2026-11-29 08:10",
        ];
        let args: Vec<&str> = args.iter().chain(more).copied().collect();
        unwheat(&args).refused()
    };
    assert!(refused(&["--begun", &bake]).contains("a step of several recipes"));
    assert!(refused(&["--begun", "sing=08:00"]).contains("no step is called 'sing'"));
    let late = format!("2/{bake}=2026-11-29 09:00");
    assert!(refused(&["--begun", &late]).contains("is to come"));
}

/// The bars of several recipes were called by the recipe alone, each like the next.
#[test]
fn the_bars_of_several_recipes_say_the_step_under_the_recipe() {
    let out = unwheat(&[
        "plan",
        BUNS,
        CAKE,
        "--serve",
        "2026-11-30 16:00",
        "--now",
        "2026-11-29 08:00",
    ])
    .done();
    let lines: Vec<&str> = out.lines().collect();
    let key = lines
        .iter()
        .position(|l| *l == "█ work  ─ wait")
        .expect("a picture");
    let bar = |l: &&&str| l.contains('█') || l.contains('─');
    for (title, step) in [
        ("Apricot Almond Crumb Buns", "  Rise (dough)"),
        ("Lemon Yoghurt Cake", "  Bake "),
    ] {
        let head = lines[..key]
            .iter()
            .rposition(|l| l.eq_ignore_ascii_case(title));
        let head = head.expect(title);
        let mut under = lines[head + 1..key].iter().take_while(bar);
        assert!(under.any(|l| l.starts_with(step)), "{out}");
    }
}
