//! A batch at the bench: started, weighed, timed, left alone by the laptop, finished, compared.

mod bake;
mod steps;
use steps::tap;

use crate::harness::{House, Theme, Window, browser, example, key};
use serde_json::{Value, json};

/// Starts a batch of the buns and gives its number.
fn batch(house: &House, factor: &str) -> (u32, u32) {
    let recipe = house.recipe(&example("apricot-almond-buns.txt"));
    (recipe, another(house, recipe, factor))
}

fn another(house: &House, recipe: u32, factor: &str) -> u32 {
    let sized = house.size(recipe, factor);
    assert_eq!(sized.status, 303, "{}", sized.text());
    let answer = house.post(
        &format!("/recipe/{recipe}/batch"),
        &[("of", "draft"), ("who", "Maud Ferris")],
    );
    let to = answer.header("location").unwrap_or_default();
    to.rsplit('/')
        .next()
        .and_then(|n| n.parse().ok())
        .unwrap_or_else(|| panic!("a batch starts: {} {}", answer.status, answer.text()))
}

fn state(house: &House, id: u32) -> Value {
    let text = house.get(&format!("/bench/{id}/state")).text();
    serde_json::from_str(&text).unwrap_or_else(|e| panic!("{e}: {text}"))
}

fn send(house: &House, id: u32, done: &Value) -> Value {
    let answer = house.post(&format!("/bench/{id}/send"), &[("done", &done.to_string())]);
    assert_eq!(answer.status, 200, "{}", answer.text());
    serde_json::from_str(&answer.text()).expect("JSON")
}

#[test]
fn a_plan_stays_as_it_was_at_the_start() {
    let house = House::open();
    let (recipe, id) = batch(&house, "2");
    let before = house.get(&format!("/bench/{id}")).text();
    assert!(before.contains("746"), "milk for two times");
    let change =
        json!({ "field": "pin", "component": "dough", "line": "whole_milk", "grams": 100.0 });
    let kept = house.post(
        &format!("/recipe/{recipe}/change"),
        &[
            ("change", &change.to_string()),
            ("over", "1"),
            ("leaf", "rework"),
        ],
    );
    assert_eq!(kept.status, 303, "{}", kept.text());
    let after = house.get(&format!("/bench/{id}")).text();
    let lines = |page: &str| {
        page.split("data-plan=")
            .map(|l| l[..8].to_owned())
            .collect::<Vec<_>>()
    };
    assert_eq!(lines(&before), lines(&after));
    house.must_be_sound();
}

#[test]
fn sizes_out_of_reach_are_refused() {
    let house = House::open();
    let recipe = house.recipe(&example("sunday-pancakes.txt"));
    for factor in ["0", "-1", "1001", "much", "NaN"] {
        let answer = house.size(recipe, factor);
        assert_eq!(answer.status, 422, "{factor}");
    }
    let answer = house.post(&format!("/recipe/{recipe}/batch"), &[("of", "9")]);
    assert_eq!(answer.status, 404, "a version that is not there");
    house.must_be_sound();
}

#[test]
fn two_devices_agree_on_the_later_word() {
    let house = House::open();
    let (_, id) = batch(&house, "1");
    let tick = |ticked: bool, at: i64| json!({ "do": "tick", "item": "0:whole_milk", "ticked": ticked, "at": at });
    let weigh =
        |g: f64, at: i64| json!({ "do": "actual", "item": "0:whole_milk", "actual": g, "at": at });
    // The tablet's older word comes in after the laptop's newer one.
    send(&house, id, &json!([tick(false, 2000), weigh(380.0, 2000)]));
    let got = send(&house, id, &json!([tick(true, 1000), weigh(370.0, 1000)]));
    assert_eq!(
        got["marks"]["0:whole_milk"],
        json!({ "ticked": false, "actual": 380.0, "at": 2000 })
    );
    // Sent twice it does no harm, and what cannot be is passed over and counted.
    let odd = json!([
        tick(true, 3000),
        tick(true, 3000),
        { "do": "tick", "item": "no such", "ticked": true, "at": 1 },
        { "do": "actual", "item": "0:whole_milk", "actual": -5.0, "at": 4000 },
        { "do": "dance" }
    ]);
    let got = send(&house, id, &odd);
    assert_eq!(got["lost"], 3);
    assert_eq!(
        got["marks"]["0:whole_milk"],
        json!({ "ticked": true, "actual": 380.0, "at": 3000 })
    );
    // A clock far ahead does not hold a line for ever.
    send(&house, id, &json!([tick(false, 99_999_999_999_999i64)]));
    let now = state(&house, id)["now"].as_i64().expect("the time");
    let got = send(&house, id, &json!([tick(true, now + 1)]));
    assert_eq!(got["marks"]["0:whole_milk"]["ticked"], true);
    house.must_be_sound();
}

#[test]
fn a_stopped_timer_stays_stopped() {
    let house = House::open();
    let (_, id) = batch(&house, "1");
    let timer = |done: bool| {
        let ends = (!done).then_some(5_000_000_000_000i64);
        json!([{ "do": "timer", "timer": { "uid": "a", "label": "Bake", "seconds": 60.0, "ends": ends, "left": null, "done": done } }])
    };
    send(&house, id, &timer(false));
    send(&house, id, &timer(true));
    let got = send(&house, id, &timer(false));
    assert_eq!(got["timers"][0]["done"], true);
    house.must_be_sound();
}

#[test]
fn the_bakers_own_method_stands_open_at_the_bench() {
    let house = House::open();
    let recipe = house.recipe(&example("sunday-pancakes.txt"));
    let change = json!({ "field": "method", "text": "Whisk the batter.\nRest it.\nFry." });
    let kept = house.post(
        &format!("/recipe/{recipe}/change"),
        &[
            ("change", &change.to_string()),
            ("rev", "1"),
            ("leaf", "card"),
        ],
    );
    let id = another(&house, recipe, "1");
    let page = house.get(&format!("/bench/{id}")).text();
    let own = page.find("Your method");
    assert!(own.is_some(), "{} {}", kept.status, kept.text());
    assert!(page.contains("<li>1. Whisk the batter.</li>"));
    assert!(own < page.find("Their method, for your eyes"));
    house.must_be_sound();
}

#[test]
fn gluten_that_is_left_is_said_before_a_batch_and_at_it() {
    let house = House::open();
    let recipe = house.recipe(
        "Flapjack\n\n200 g malted milk balls\n100 g butter\n80 g sugar\n\n1. Bake for 20 minutes.\n",
    );
    let words = "This version still contains gluten: malted milk balls.";
    let page = house.get(&format!("/recipe/{recipe}/bench")).text();
    assert!(page.contains(words) && page.contains("the rework as it stands now"));
    assert!(!page.contains("gluten-free version as it stands"));
    let id = another(&house, recipe, "1");
    assert!(house.get(&format!("/bench/{id}")).text().contains(words));
    house.post(
        &format!("/bench/{id}/finish"),
        &[("made", "1"), ("verdict", "Sticky.")],
    );
    let page = house.get(&format!("/recipe/{recipe}/bakes")).text();
    assert!(page.contains("contains gluten"));
    house.post(
        &format!("/recipe/{recipe}/save"),
        &[
            ("who", "Maud Ferris"),
            ("why", "first"),
            ("rev", "1"),
            ("leaf", "versions"),
        ],
    );
    let page = house.get(&format!("/recipe/{recipe}/bench")).text();
    assert!(page.contains(&format!("{words} So does version 1.")));
    // Where nothing of it is left, nothing of it is said.
    let (buns, _) = batch(&house, "1");
    let page = house.get(&format!("/recipe/{buns}/bench")).text();
    assert!(!page.contains("still contains gluten"));
    house.must_be_sound();
}

#[test]
fn a_version_whose_figures_moved_with_the_larder_says_so() {
    let house = House::open();
    let recipe = house.recipe(
        "Biscuits\n\n2 cups plain flour\n100 g butter\n1 cup sugar\n\n1. Bake for 12 minutes.\n",
    );
    let saved = house.post(
        &format!("/recipe/{recipe}/save"),
        &[
            ("who", "Maud Ferris"),
            ("why", "first"),
            ("rev", "1"),
            ("leaf", "versions"),
        ],
    );
    assert_eq!(saved.status, 303, "{}", saved.text());
    let words = "figures have changed with the larder since it was saved";
    let start = format!("/recipe/{recipe}/bench");
    let page = house.get(&start).text();
    assert!(page.contains("version 1: first") && !page.contains(words));
    let kept = house.post(
        "/larder/white_sugar",
        &[
            ("weights.cup", "212"),
            ("who", "Maud Ferris"),
            ("why", "weighed anew"),
            ("base", "0"),
        ],
    );
    assert_eq!(kept.status, 303, "{}", kept.text());
    let page = house.get(&start).text();
    assert!(page.contains(&format!("Version 1's {words}")));
    house.must_be_sound();
}

#[test]
fn a_blend_and_its_flours_are_ticked_together() {
    browser(|house, w| {
        let (_, id) = batch(house, "1");
        w.go(&format!("/bench/{id}"));
        w.see("New timer");
        tap(w, "bread blend with psyllium");
        w.holds(
            "every flour is ticked",
            "[...document.querySelectorAll('#part-0 li.item.flour input[type=checkbox]')].every((b) => b.checked)",
        );
        tap(w, "sorghum flour");
        w.until("the blend is not whole any more", |_| {
            (state(house, id)["marks"]["0:blend"]["ticked"] == false).then_some(())
        });
        // The whole of it ticked by mistake and taken back: its flours are as they were.
        let ticked = |w: &Window| {
            w.js(
                "return [...document.querySelectorAll('#part-0 li.item.flour input[type=checkbox]')].filter((b) => b.checked).length;",
                json!([]),
            )
        };
        let before = ticked(w);
        tap(w, "bread blend with psyllium");
        assert_ne!(ticked(w), before);
        tap(w, "bread blend with psyllium");
        assert_eq!(ticked(w), before);
        w.until("the laptop knows", |_| {
            let marks = &state(house, id)["marks"];
            (marks["0:blend"]["ticked"] == false
                && marks["0:blend/sorghum_flour"]["ticked"] == false
                && marks["0:blend/tapioca_starch"]["ticked"] == true)
                .then_some(())
        });
    });
}

#[test]
fn every_tick_works_without_scripts() {
    browser(|house, w| {
        let (_, id) = batch(house, "1");
        w.scripts(false);
        w.go(&format!("/bench/{id}"));
        w.press("Tick whole milk");
        w.until("the form to be taken", |_| {
            (state(house, id)["marks"]["0:whole_milk"]["ticked"] == true).then_some(())
        });
        for grams in ["300", "30"] {
            w.press("What was really weighed: whole milk");
            w.fill("Really weighed, grams", grams);
            w.press("Keep");
            w.see(&format!("really {grams} g"));
        }
        w.press("Back to 300 g: whole milk");
        w.see("really 300 g");
        w.press("Back to 30 g: whole milk");
        w.see("really 30 g");
        w.press("Undo: whole milk");
        w.until("the form to be taken", |_| {
            (state(house, id)["marks"]["0:whole_milk"]["ticked"] == false).then_some(())
        });
        w.see("Scripts are off in this browser");
        w.see("No timer yet.");
        w.press("Start a timer: ");
        w.see(", look at ");
        let timers = state(house, id)["timers"].clone();
        let (ends, long) = (timers[0]["ends"].as_i64(), timers[0]["seconds"].as_f64());
        let now = state(house, id)["now"].as_i64().expect("a clock");
        let left = (ends.expect("it runs") - now) as f64 / 1000.0;
        let long = long.expect("a length");
        assert!((long - 60.0..=long).contains(&left), "{left} of {long} s");
        w.press("Stop: ");
        w.see("stopped");
        w.scripts(true);
    });
}

#[test]
fn bench_pages_are_plain_to_all() {
    browser(|house, w| {
        let (recipe, first) = batch(house, "1");
        for id in [first, another(house, recipe, "2")] {
            send(
                house,
                id,
                &json!([{ "do": "actual", "item": "0:whole_milk", "actual": 400.0, "at": 1 }]),
            );
            house.post(
                &format!("/bench/{id}/finish"),
                &[
                    ("made", "1"),
                    ("verdict", "Good."),
                    ("next", "Less milk."),
                    ("oven_c", "170 C"),
                    ("oven", "fan"),
                    ("pan", "ring tin, 24 cm"),
                ],
            );
        }
        let bake = format!("/recipe/{recipe}/bakes/{first}");
        w.scripts(false);
        w.go(&bake);
        w.press("Add to this bake");
        w.see("Nothing was added");
        w.fill("What to add", "Day 2: dry at the edge.");
        w.press("Add to this bake");
        w.see("Added later");
        w.scripts(true);
        let open = another(house, recipe, "0.5");
        let pages = [
            ("bench-start", format!("/recipe/{recipe}/bench")),
            ("bench", format!("/bench/{open}")),
            ("bench-finish", format!("/bench/{open}/finish")),
            ("bakes", format!("/recipe/{recipe}/bakes")),
            ("bake", bake),
            (
                "bakes-compare",
                format!("/recipe/{recipe}/bakes/compare?a={first}&b={}", first + 1),
            ),
        ];
        for theme in [Theme::Light, Theme::Dark] {
            w.theme(theme);
            for width in [390, 820] {
                w.size(width, 1180, 1);
                for (name, path) in &pages {
                    w.go(path);
                    w.picture(&format!("{name}-{width}-{}", theme.word()));
                    assert_eq!(w.overhang(), None, "{path} at {width}");
                    let found = w.axe();
                    assert!(
                        found.is_empty(),
                        "{path} at {width}, {}: {found:?}",
                        theme.word()
                    );
                }
            }
        }
        w.go(&pages[5].1);
        w.see("fan oven");
        w.see("ring tin, 24 cm");
        w.holds(
            "one rule under each line of the two bakes",
            "[...document.querySelectorAll('table.pair tbody tr')].every((r) => new Set([...r.cells].map((c) => getComputedStyle(c).borderBottomColor)).size === 1)",
        );
        w.go(&format!("/bench/{open}"));
        w.holds(
            "targets of 44 px and more",
            "[...document.querySelectorAll('a, button, summary, label.tap, input:not([type=hidden], [type=checkbox])')]
               .filter((e) => e.offsetParent && !e.matches('.skip'))
               .every((e) => { const r = e.getBoundingClientRect(); return r.height >= 44 && r.width >= 44; })",
        );
    });
}

/// What stands in the rows of a blend's form.
fn rows(w: &Window) -> Value {
    w.js(
        "return [...document.querySelectorAll('.rows input')].map((i) => i.value).filter((v) => v);",
        json!([]),
    )
}

#[test]
fn a_blend_refused_and_corrected_stays_while_a_binder_is_typed() {
    browser(|house, w| {
        w.go("/blends/new");
        w.fill("Name", "Weekend bread");
        w.fill("flour 1", "sorghum flour");
        w.fill("percent of flour 1", "60");
        w.fill("flour 2", "tapioca starch");
        w.fill("percent of flour 2", "50");
        // Who keeps it is needed before anything is sent.
        w.fill("Who", "Maud Ferris");
        w.press("Keep this blend");
        // Told at the top, in sight and under the cursor, with a way to the field.
        w.see("Not saved yet");
        w.holds(
            "the summary in sight and in focus",
            "document.activeElement?.matches('.unsaved') && (() => { const r = document.activeElement.getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight; })()",
        );
        w.fill("percent of flour 2", "40");
        w.see("100 %: it is whole");
        let before = rows(w);
        assert_eq!(
            before,
            json!(["sorghum flour", "60", "tapioca starch", "40"])
        );
        for (letter, so_far) in [("x", "x"), ("a", "xa"), ("n", "xan")] {
            w.enter("binder 1");
            w.write(letter);
            std::thread::sleep(std::time::Duration::from_millis(300));
            assert_eq!(
                rows(w),
                json!(["sorghum flour", "60", "tapioca starch", "40", so_far])
            );
        }
        w.fill("binder 1", "xanthan gum");
        w.fill("percent of binder 1", "0.5");
        w.fill("Who", "Maud Ferris");
        w.press("Keep this blend");
        w.see("Kept.");
        w.see("Weekend bread");
        assert!(w.path().starts_with("/blends/own_weekend_bread"));
        house.must_be_sound();
    });
}

/// What the scale showed was weighed, ticked or not; of a batch for a tin, Finish has the tin.
#[test]
fn a_noted_weight_counts_and_the_tin_is_known_at_the_end() {
    browser(|house, w| {
        let text = "Seed cake\n\nServes 8\n\nCake\n250 g plain flour\n150 g butter\n150 g sugar\n3 eggs\n2 tsp baking powder\n\nIcing\n80 g icing sugar\n1 tbsp lemon juice\n\n1. Mix the cake, fill a 20 cm round tin and bake at 180 C for 40 minutes.\n2. Mix the icing and spoon it over.\n";
        let recipe = house.recipe_in(text, "uk");
        let id = another(house, recipe, "1");
        w.go(&format!("/bench/{id}"));
        w.see("0 of ");
        w.press("What was really weighed: unsalted butter");
        w.write("151");
        w.key(&[], key::ENTER);
        w.see("really 151 g");
        w.see("1 of ");
        // As the laptop has it, too.
        w.reload();
        w.see("1 of ");
        w.go(&format!("/bench/{id}/finish"));
        w.holds(
            "the tin",
            "document.getElementById('pan').value === '20 cm round tin'",
        );
    });
}
