//! Days: several recipes for one time, what is next, the rest from now, the bench and the bin.

use crate::harness::{House, Window, browser, example, key};
use serde_json::{Value, json};

/// Now, by this machine's clock.
fn now() -> jiff::civil::DateTime {
    let zone = jiff::tz::TimeZone::system();
    jiff::Timestamp::now().to_zoned_datetime(zone).datetime()
}

/// A time two days from now at noon, as a field has it.
fn noon() -> String {
    let day = now().date().saturating_add(jiff::Span::new().days(2));
    format!("{day}T12:00")
}

fn three(house: &House) -> [u32; 3] {
    [
        "apricot-almond-buns.txt",
        "lemon-yoghurt-cake.txt",
        "leek-and-cheddar-tart.txt",
    ]
    .map(|name| house.recipe(&example(name)))
}

/// A day made by its form; its address.
fn day(house: &House, fields: &[(&str, &str)]) -> String {
    let answer = house.post("/days", fields);
    assert_eq!(answer.status, 303, "{}", answer.text());
    answer.header("location").expect("a day").to_owned()
}

fn rev(house: &House, at: &str) -> String {
    let page = house.get(at).text();
    let found = page.split("name=\"rev\" value=\"").nth(1);
    let found = found.and_then(|r| r.split('"').next());
    found.expect("a rev").to_owned()
}

/// Steps that can be ticked, and whether they are.
fn steps(page: &str) -> Vec<(String, bool)> {
    page.split("name=\"begun\" value=\"")
        .skip(1)
        .map(|r| {
            let (value, rest) = r.split_once('"').expect("a value");
            (value.to_owned(), rest.starts_with(" checked"))
        })
        .collect()
}

/// Whether a step that was begun stands under what is next: a minute after the oven was lit it is
/// no longer at work on it.
fn under_way(page: &str) -> bool {
    page.contains("at work since") || page.contains("in the oven until")
}

#[test]
fn three_recipes_are_ready_at_noon() {
    browser(|house, w| {
        let [buns, cake, tart] = three(house).map(|id| id.to_string());
        w.go("/days");
        assert_eq!(w.axe(), Vec::<String>::new());
        w.fill("What it is for", "Saturday stall");
        w.js(
            "document.getElementById('serve').value = arguments[0];",
            json!([noon()]),
        );
        for id in [&buns, &cake, &tart] {
            w.js(
                "document.querySelector(`[name=add][value='${arguments[0]}']`).checked = true;",
                json!([id]),
            );
        }
        w.press("Plan the day");
        w.arrive("/days/1");
        w.see("Saturday stall");
        w.see("It cannot begin later.");
        w.see("Shared by all");
        let drawn = w.js(
            "return document.querySelectorAll('.picture-timeline .pic-part').length;",
            json!([]),
        );
        assert_eq!(drawn, 4, "three recipes and what they share");
        assert_eq!(w.axe(), Vec::<String>::new());
        for width in [1280, 820, 390] {
            w.narrow(width);
            assert_eq!(w.overhang(), None, "{width}");
        }
        w.narrow(1280);
        // Twice the cake takes longer.
        w.fill("Times Lemon Yoghurt Cake", "2");
        w.key(&[], key::ENTER);
        w.see("× 2 the recipe");
        w.press("Undo or redo the last change");
        w.gone("× 2 the recipe");
        // The bench of a recipe of it.
        w.press("Start the batch of Leek And Cheddar Tart");
        w.arrive("/bench/1");
        w.go("/days/1");
        w.see("Go on");
        w.press("Put it in the bin");
        w.see("In the bin");
        w.press("Take it out: Saturday stall");
        w.see("What is next");
    });
}

#[test]
fn without_scripts_a_day_that_cannot_be_is_explained() {
    browser(|house, w| {
        let [_, cake, _] = three(house);
        w.scripts(false);
        w.go(&format!("/recipe/{cake}/plan"));
        w.press("Plan it with other recipes");
        // Asked first which others: no day is kept before.
        w.see("which others are made that day?");
        assert!(!house.get("/days").text().contains("id=\"planned\""));
        w.press("Plan the day");
        w.see("Recipes and times");
        w.fill("Quiet hours", "late");
        w.press("Plan it so");
        w.see("are no hours");
        w.fill("Quiet hours", "00:00-23:59");
        w.press("Plan it so");
        w.see("in your quiet hours");
        w.see("Change the times, the recipes or the quiet hours below.");
        w.press("Undo or redo the last change");
        w.see("Begin ");
    });
}

#[test]
fn what_is_typed_and_cannot_be_used_is_told_and_stays() {
    let house = House::open();
    let id = house.recipe(&example("lemon-yoghurt-cake.txt")).to_string();
    let answer = house.post("/days", &[("title", "Stall")]);
    assert_eq!(answer.status, 422);
    assert!(answer.text().contains("Tick at least one recipe"));
    let n = format!("n.{id}");
    let answer = house.post("/days", &[("title", "Stall"), ("add", &id), (&n, "many")]);
    let page = answer.text();
    assert_eq!(answer.status, 422);
    assert!(
        page.contains("value=\"Stall\"") && page.contains("value=\"many\""),
        "{page}"
    );
    assert!(page.contains(&format!("value=\"{id}\" checked")), "{page}");
    for (name, value) in [("serve", "soon"), ("quiet", "22-7"), (n.as_str(), "0")] {
        let answer = house.post("/days", &[("add", &id), (name, value)]);
        assert_eq!(answer.status, 422, "{name}");
    }
    assert_eq!(house.get("/days/9").status, 404);
    assert_eq!(house.post("/days", &[("add", "99")]).status, 404);
    let at = day(
        &house,
        &[("title", "Stall"), ("add", &id), ("serve", &noon())],
    );
    let old = [("rev", "1"), ("keep", "0"), ("title", "Market")];
    assert_eq!(house.post(&at, &old).status, 303);
    let answer = house.post(&at, &[("rev", "1"), ("keep", "0"), ("title", "Fair")]);
    assert_eq!(answer.status, 422);
    assert!(answer.text().contains("another window"));
    house.must_be_sound();
}

#[test]
fn what_is_begun_is_not_forgotten_by_a_change_that_cannot_be() {
    let house = House::open();
    let id = house.recipe(&example("lemon-yoghurt-cake.txt")).to_string();
    let at = day(&house, &[("title", "Now"), ("add", &id), ("quiet", "none")]);
    let page = house.get(&at).text();
    let before = steps(&page);
    assert!(before[0].1, "{before:?}");
    // Ready in 20 minutes: it cannot be.
    let soon = now().saturating_add(jiff::Span::new().minutes(20));
    let soon = soon.strftime("%Y-%m-%dT%H:%M").to_string();
    let ask = |serve: &str, title: &str| {
        let r = rev(&house, &at);
        let fields = [
            ("rev", r.as_str()),
            ("keep", "0"),
            ("title", title),
            ("quiet", "none"),
            ("serve", serve),
        ];
        assert_eq!(house.post(&at, &fields).status, 303);
        house.get(&at).text()
    };
    for title in ["Now", "Still now"] {
        let page = ask(&soon, title);
        assert!(steps(&page).contains(&before[0]), "{:?}", steps(&page));
        assert!(under_way(&page), "{page}");
        assert!(page.contains("at the earliest"), "{page}");
    }
    // Without that time all of it is planned again, round what is begun.
    let page = ask("", "Now");
    assert_eq!(steps(&page), before);
    assert!(!page.contains("has no time"), "{page}");
    house.must_be_sound();
}

#[test]
fn a_day_under_way_stays_and_the_rest_is_planned_from_now() {
    let house = House::open();
    let id = house.recipe(&example("lemon-yoghurt-cake.txt"));
    let add = id.to_string();
    let at = day(
        &house,
        &[("title", "Now"), ("add", &add), ("quiet", "none")],
    );
    let page = house.get(&at).text();
    assert!(under_way(&page), "{page}");
    let before = steps(&page);
    assert!(
        before[0].1 && before.iter().skip(1).any(|s| !s.1),
        "{before:?}"
    );
    // The recipe changes: the day's times stay, and what is new is told.
    let change = r#"{"field":"set_step","step":"own:1","what":"added","value":{"name":"Film the batter","after":":mix"}}"#;
    house.post(
        &format!("/recipe/{id}/change"),
        &[("over", "1"), ("change", change)],
    );
    let page = house.get(&at).text();
    assert_eq!(steps(&page), before);
    assert!(
        page.contains("has no time: the recipe has changed"),
        "{page}"
    );
    // From now: what is ticked stays, the new step comes in.
    let first = before[0].0.clone();
    let r = rev(&house, &at);
    let fields = [("rev", r.as_str()), ("way", "rest"), ("begun", &first)];
    assert_eq!(house.post(&format!("{at}/rest"), &fields).status, 303);
    let page = house.get(&at).text();
    assert!(
        page.contains("Film the batter") && !page.contains("has no time"),
        "{page}"
    );
    assert_eq!(steps(&page)[0], before[0]);
    // A time that cannot be kept is explained, and the times of before stand.
    let r = rev(&house, &at);
    let soon = now().saturating_add(jiff::Span::new().minutes(20));
    let soon = soon.strftime("%Y-%m-%dT%H:%M").to_string();
    let fields = [("rev", r.as_str()), ("begun", &first), ("serve", &soon)];
    let answer = house.post(&format!("{at}/rest"), &fields);
    assert_eq!(answer.status, 422);
    assert!(
        answer.text().contains("at the earliest"),
        "{}",
        answer.text()
    );
    assert_eq!(steps(&house.get(&at).text()), steps(&page));
    // What is next comes alone too, and the calendar is one file.
    assert!(
        house
            .get(&format!("{at}/next"))
            .text()
            .starts_with("<section")
    );
    let file = house.get(&format!("{at}/day.ics")).text();
    assert!(file.contains("BEGIN:VALARM") && file.contains("Film the batter"));
    house.must_be_sound();
}

#[test]
fn a_batch_of_a_day_has_the_days_size() {
    let house = House::open();
    let id = house.recipe(&example("lemon-yoghurt-cake.txt")).to_string();
    let n = format!("n.{id}");
    let at = day(&house, &[("add", &id), (&n, "3"), ("serve", &noon())]);
    let answer = house.post(&format!("{at}/start"), &[("place", "0")]);
    let bench = answer.header("location").expect("a batch").to_owned();
    let page = house.get(&bench).text();
    assert!(page.contains("× 3"), "{page}");
    // Its hours are the day's.
    let answer = house.get(&at).text();
    let begin = answer.split("data-h=\"begin\">").nth(1).expect("a step");
    assert!(page.contains(&begin[..5]), "{} {page}", &begin[..5]);
    assert!(house.get(&at).text().contains(&bench));
    assert_eq!(
        house.post(&format!("{at}/start"), &[("place", "7")]).status,
        422
    );
}

#[test]
fn the_serving_time_of_a_recipe_outlives_the_workbench() {
    let house = House::open();
    let id = house.recipe(&example("lemon-yoghurt-cake.txt"));
    let (at, serve) = (format!("/recipe/{id}/plan"), noon());
    let answer = house.post(&format!("/recipe/{id}/serve"), &[("serve", &serve)]);
    let to = answer.header("location").unwrap_or_default();
    assert!(to.starts_with(&at), "{to}");
    house.stop();
    house.start_again();
    let page = house.get(&at).text();
    assert!(page.contains(&format!("value=\"{serve}\"")), "{page}");
    house.must_be_sound();
}

/// A step ticked at the bench is done on the day, and the other way round; both say what is next.
#[test]
fn what_is_ticked_at_the_bench_is_done_on_the_day() {
    browser(|house, w| {
        let [_, cake, tart] = three(house).map(|id| id.to_string());
        let serve = noon();
        let fields = [
            ("serve", serve.as_str()),
            ("add", &cake),
            ("add", &tart),
            ("who", "Dot"),
        ];
        let at = day(house, &fields);
        w.go(&at);
        w.press("Start the batch of Lemon Yoghurt Cake");
        w.arrive("/bench/1");
        let first = "Weigh out";
        let next = |w: &mut Window, of: &str| -> String {
            let js = "const all = [...document.querySelectorAll(arguments[0])].filter(e => !e.hidden); return all.map(e => e.textContent).join(' | ');";
            w.js(js, json!([of]))
                .as_str()
                .unwrap_or_default()
                .to_owned()
        };
        assert!(next(w, "#next li").contains(first));
        let tick = |item: &str, ticked: &str| {
            let answer = house.post("/bench/1/mark", &[("item", item), ("ticked", ticked)]);
            assert_eq!(answer.status, 303, "{}", answer.text());
        };
        tick("step::weigh", "1");
        w.go(&at);
        w.see("Done last: Lemon Yoghurt Cake: Weigh out.");
        let day_next = next(w, "[data-next] li");
        assert!(
            !day_next.contains("Lemon Yoghurt Cake: Weigh out"),
            "{day_next}"
        );
        w.go("/bench/1");
        let bench_next = next(w, "#next li");
        w.go(&at);
        // Whatever the day has first of the cake, the bench has too.
        let of_cake = day_next
            .split(" | ")
            .find_map(|s| s.split("Lemon Yoghurt Cake: ").nth(1).map(str::to_owned));
        if let Some(name) = of_cake {
            let word = name
                .split_whitespace()
                .next()
                .unwrap_or_default()
                .to_owned();
            assert!(bench_next.contains(&word), "{name}: {bench_next}");
        }
        assert_eq!(w.axe(), Vec::<String>::new());
        w.press("Not done yet: Lemon Yoghurt Cake: Weigh out");
        w.arrive(&at);
        w.gone("Done last");
        let state = house.get("/bench/1/state").text();
        let state: Value = serde_json::from_str(&state).expect("JSON");
        assert_eq!(state["marks"]["step::weigh"]["ticked"], false, "{state}");
        // Started by who planned the day.
        assert!(
            house
                .get(&format!("/recipe/{cake}/bench"))
                .text()
                .contains("by Dot")
        );
    });
}
