//! A batch at the bench: started, weighed, timed, left alone by the laptop, finished, compared.

use crate::harness::{House, Theme, Window, browser, example};
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
        json!({ "ticked": false, "actual": 380.0 })
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
        json!({ "ticked": true, "actual": 380.0 })
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
fn a_finished_batch_is_a_bake() {
    let house = House::open();
    let (recipe, id) = batch(&house, "1");
    let finish = format!("/bench/{id}/finish");
    let wrong = house.post(
        &finish,
        &[
            ("raw_g", "100"),
            ("baked_g", "200"),
            ("verdict", "Kept words."),
        ],
    );
    assert_eq!(wrong.status, 422);
    assert!(wrong.text().contains("Kept words."), "what was typed stays");
    send(
        &house,
        id,
        &json!([{ "do": "actual", "item": "0:whole_milk", "actual": 400.0, "at": 1 }]),
    );
    let done = house.post(
        &finish,
        &[
            ("made", "1"),
            ("oven_c", "350 F"),
            ("oven", "fan"),
            ("raw_g", "1000"),
            ("baked_g", "880"),
            ("verdict", "Fine crumb."),
        ],
    );
    assert_eq!(
        done.header("location"),
        Some(format!("/recipe/{recipe}/bakes#b{id}").as_str())
    );
    let page = house.get(&format!("/recipe/{recipe}/bakes")).text();
    for words in ["177 °C (350 °F)", "12 %", "Fine crumb.", "400"] {
        assert!(page.contains(words), "{words}");
    }
    // Late words of another device are told that it is over, and a second finish changes nothing.
    let late = send(
        &house,
        id,
        &json!([{ "do": "tick", "item": "0:whole_milk", "ticked": true, "at": 9 }]),
    );
    assert_eq!(
        (&late["finished"], &late["lost"]),
        (&json!(true), &json!(1))
    );
    house.post(&finish, &[("made", "1"), ("verdict", "Another.")]);
    assert!(
        !house
            .get(&format!("/recipe/{recipe}/bakes"))
            .text()
            .contains("Another.")
    );
    assert_eq!(house.get(&format!("/bench/{id}")).status, 303);
    // One put away is no bake.
    let other = another(&house, recipe, "1");
    house.post(&format!("/bench/{other}/finish"), &[("unmade", "1")]);
    let page = house.get(&format!("/recipe/{recipe}/bakes")).text();
    assert!(page.contains("One batch was put away"));
    assert_eq!(
        house
            .get(&format!("/recipe/{recipe}/bakes/compare?a={id}&b={other}"))
            .status,
        404
    );
    house.must_be_sound();
}

#[test]
fn nothing_is_finished_unasked_and_a_mistake_is_taken_back() {
    let house = House::open();
    let (recipe, id) = batch(&house, "1");
    let finish = format!("/bench/{id}/finish");
    let open = || state(&house, id)["finished"] == false;
    // Enter in a field sends what it holds, with the form's first button or none.
    for ask in [
        &[("minutes", "35")][..],
        &[("minutes", "35"), ("ask", "made")],
    ] {
        let asked = house.post(&finish, ask);
        assert_eq!(asked.status, 200);
        let page = asked.text();
        for words in [
            "Nothing was weighed or ticked: finish all the same?",
            "35 min",
            "name=\"minutes\" value=\"35\"",
            "Finish and keep the record",
        ] {
            assert!(page.contains(words), "{words}");
        }
        assert!(!page.contains("<input type=\"text\"") && open());
    }
    let back = house
        .post(&finish, &[("minutes", "35"), ("again", "1")])
        .text();
    assert!(back.contains("id=\"minutes\"") && back.contains("value=\"35\"") && open());
    let away = house.post(&finish, &[("ask", "unmade")]).text();
    assert!(away.contains("Put the batch away?") && open());
    let tick = json!([{ "do": "tick", "item": "0:whole_milk", "ticked": true, "at": 1 }]);
    send(&house, id, &tick);
    let asked = house.post(&finish, &[("ask", "made")]).text();
    assert!(!asked.contains("Nothing was weighed"));
    for words in [
        "Not all of it is done: finish all the same?",
        "lines are not ticked: ",
        "\u{a0}g; ",
        "steps are not ticked: ",
        "of rest and oven",
        "the batch was begun just now",
    ] {
        assert!(asked.contains(words), "{words}");
    }
    // Once asked it is kept.
    house.post(&finish, &[("made", "1"), ("verdict", "Oh.")]);
    assert!(!open());
    let bakes = || {
        let card = house.get(&format!("/recipe/{recipe}/card")).text();
        u32::from(!card.contains("Not baked yet"))
    };
    assert_eq!(bakes(), 1);
    // By mistake: out of the counts, its record stays.
    let bake = format!("/recipe/{recipe}/bakes/{id}");
    assert_eq!(
        house
            .post(&format!("{bake}/mistake"), &[("counts", "0")])
            .status,
        303
    );
    assert_eq!(bakes(), 0);
    let page = house.get(&bake).text();
    for words in [
        "Finished by mistake: it counts as no bake.",
        "Oh.",
        "It was a bake after all",
    ] {
        assert!(page.contains(words), "{words}");
    }
    let all = house.get(&format!("/recipe/{recipe}/bakes")).text();
    assert!(all.contains("finished by mistake, counted as no bake"));
    house.post(&format!("{bake}/mistake"), &[("counts", "1")]);
    assert_eq!(bakes(), 1);
    house.must_be_sound();
}

#[test]
fn a_fahrenheit_kitchen_is_not_kept_as_celsius() {
    let house = House::open();
    let bake = |degrees: &str| {
        let recipe = house.recipe(&format!(
            "Tea cake\n\n200 g plain flour\n100 g butter\n100 g sugar\n2 eggs\n\nMethod\n1. Mix.\n2. Bake at {degrees} for 30 minutes.\n"
        ));
        (recipe, another(&house, recipe, "1"))
    };
    let typed = [
        ("made", "1"),
        ("oven_c", "350"),
        ("core_c", "203"),
        ("verdict", "Kept words."),
    ];
    // Of a recipe in °F a bare figure is °F.
    let (recipe, id) = bake("350°F");
    let form = house.get(&format!("/bench/{id}/finish")).text();
    assert!(form.contains("°F, or write 177 C"));
    assert_eq!(
        house.post(&format!("/bench/{id}/finish"), &typed).status,
        303
    );
    let page = house.get(&format!("/recipe/{recipe}/bakes")).text();
    for words in ["177 °C (350 °F)", "95 °C (203 °F)"] {
        assert!(page.contains(words), "{words}");
    }
    // Of one in °C it is asked back, and what was typed stays.
    let (_, id) = bake("180 °C");
    let asked = house.post(&format!("/bench/{id}/finish"), &typed);
    assert_eq!(asked.status, 422);
    for words in [
        "is 350 in °F? Write 350 F; or 177 for °C.",
        "is 203 in °F? Write 203 F; or 95 for °C.",
        "value=\"350\"",
        "value=\"203\"",
        "Kept words.",
    ] {
        assert!(asked.text().contains(words), "{words}");
    }
    house.must_be_sound();
}

#[test]
fn what_to_change_next_time_is_told_at_the_next_batch() {
    let house = House::open();
    let (recipe, first) = batch(&house, "1");
    let finish = |id: u32, next: &str| {
        let done = house.post(
            &format!("/bench/{id}/finish"),
            &[("made", "1"), ("verdict", "Good."), ("next", next)],
        );
        assert_eq!(done.status, 303);
    };
    finish(first, "Ten grams less milk.");
    let words = "Ten grams less milk.";
    let start = house.get(&format!("/recipe/{recipe}/bench")).text();
    assert!(start.contains("Last time you wrote: ") && start.contains(words));
    let (second, third) = (another(&house, recipe, "0.5"), another(&house, recipe, "1"));
    finish(third, "");
    // The plan keeps it as it was at the start.
    assert!(
        house
            .get(&format!("/bench/{second}"))
            .text()
            .contains(words)
    );
    finish(second, "A wider tin.");
    // Bakes of one minute are told apart.
    let page = house.get(&format!("/recipe/{recipe}/bakes")).text();
    for n in 1..=3 {
        assert!(page.contains(&format!("Bake {n}<")), "bake {n}");
    }
    assert!(page.contains(", × ½"));
    let pair = house
        .get(&format!(
            "/recipe/{recipe}/bakes/compare?a={first}&b={third}"
        ))
        .text();
    assert!(pair.contains("Bake 1<"));
    house.must_be_sound();
}

#[test]
fn more_can_be_added_to_a_bake_and_its_record_stays() {
    let house = House::open();
    let (recipe, first) = batch(&house, "1");
    let page = format!("/recipe/{recipe}/bakes/{first}");
    assert_eq!(house.get(&page).status, 404, "it is not finished");
    let record = [
        ("made", "1"),
        ("verdict", "Fine crumb."),
        ("raw_g", "1000"),
        ("oven_c", "170 C"),
    ];
    house.post(&format!("/bench/{first}/finish"), &record);
    let bare = house.get(&page).text();
    for words in ["Bake 1<", "Fine crumb.", "1000 g", "170 °C (340 °F)"] {
        assert!(bare.contains(words), "{words}");
    }
    assert!(!bare.contains("Added later"));
    // Nothing is no note; what was typed stays, and nothing is kept.
    let refused = house.post(&page, &[("text", " \r\n "), ("who", "Bram & Ivo")]);
    assert_eq!(refused.status, 422);
    for words in ["Nothing was added", "value=\"Bram &amp; Ivo\""] {
        assert!(refused.text().contains(words), "{words}");
    }
    let long = "é".repeat(4001);
    let refused = house.post(&page, &[("text", &long), ("who", "Bram")]);
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains(&long), "what was typed stays");
    assert!(!house.get(&page).text().contains("Added later"));
    // A form sent twice is one note.
    for text in [
        "Day 2: dry at the edge.",
        "Day 2: dry at the edge.",
        "Core was 96 °C, forgotten.",
    ] {
        let kept = house.post(&page, &[("text", text), ("who", "Bram")]);
        assert_eq!(
            kept.header("location"),
            Some(format!("{page}#later").as_str())
        );
    }
    let second = another(&house, recipe, "2");
    house.post(
        &format!("/bench/{second}/finish"),
        &[("made", "1"), ("verdict", "Good too.")],
    );
    let notes = ["Day 2: dry at the edge.", "Core was 96 °C, forgotten."];
    for shown in [
        page.clone(),
        format!("/recipe/{recipe}/bakes"),
        format!("/recipe/{recipe}/bakes/compare?a={first}&b={second}"),
    ] {
        let text = house.get(&shown).text();
        for note in notes {
            assert_eq!(text.matches(note).count(), 1, "{shown}: {note}");
        }
        assert!(text.contains(", Bram: </strong>"), "{shown}: who");
        assert!(text.contains("Fine crumb."), "{shown}: the record");
    }
    // The bench tells what came to the last bake.
    let bench = format!("/recipe/{recipe}/bench");
    assert!(!house.get(&bench).text().contains("Froze well."));
    let other = format!("/recipe/{recipe}/bakes/{second}");
    house.post(&other, &[("text", "Froze well."), ("who", "")]);
    assert!(house.get(&bench).text().contains("Froze well."));
    // A bake of another recipe, one put away, one that never was.
    let elsewhere = house.recipe(&example("sunday-pancakes.txt"));
    let away = another(&house, recipe, "1");
    house.post(&format!("/bench/{away}/finish"), &[("unmade", "1")]);
    for path in [
        format!("/recipe/{elsewhere}/bakes/{first}"),
        format!("/recipe/{recipe}/bakes/{away}"),
        format!("/recipe/{recipe}/bakes/999"),
    ] {
        let answer = house.post(&path, &[("text", "Nowhere."), ("who", "Bram")]);
        assert_eq!(answer.status, 404, "{path}");
    }
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

/// Minutes from now as a form's field for a date and time has them.
fn in_minutes(minutes: i64) -> String {
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    let now = since.expect("after 1970").as_secs();
    let seconds = i64::try_from(now).expect("seconds") + minutes * 60;
    let at = jiff::Timestamp::from_second(seconds).expect("a time");
    let at = at.to_zoned_datetime(jiff::tz::TimeZone::system());
    at.strftime("%Y-%m-%dT%H:%M").to_string()
}

/// What the page says is next: names and words of the steps that stand open.
fn open_steps(page: &str) -> Vec<String> {
    let from = page.find("<ol id=\"next\">").expect("what is next");
    let to = page[from..].find("</ol>").expect("its end") + from;
    page[from..to]
        .split("<li ")
        .skip(1)
        .filter(|li| !li.split('>').next().is_some_and(|t| t.contains(" hidden")))
        .map(|li| {
            let name = li.split("<strong>").nth(1).unwrap_or_default();
            name.split('<').next().unwrap_or_default().to_owned()
        })
        .collect()
}

#[test]
fn steps_are_ticked_and_what_is_next_follows() {
    let house = House::open();
    let recipe = house.recipe(&example("sunday-pancakes.txt"));
    let id = another(&house, recipe, "1");
    let bench = format!("/bench/{id}");
    let page = house.get(&bench).text();
    assert_eq!(open_steps(&page), ["Weigh out"]);
    for words in ["a guess", "Their words: ", "data-item=\"step::rest\""] {
        assert!(page.contains(words), "{words}");
    }
    // Without a time to be ready there are no hours.
    assert!(!page.contains("to serve at"));
    let tick =
        |item: &str, at: i64| json!({ "do": "tick", "item": item, "ticked": true, "at": at });
    let got = send(
        &house,
        id,
        &json!([tick("step::weigh", 1), tick("step::nothing", 1)]),
    );
    assert_eq!(got["lost"], 1);
    assert_eq!(got["marks"]["step::weigh"]["ticked"], true);
    assert_eq!(
        open_steps(&house.get(&bench).text()),
        ["Mix flour and sugar …"]
    );
    // A step has no grams.
    let wrong = json!([{ "do": "actual", "item": "step::mix", "actual": 5.0, "at": 2 }]);
    assert_eq!(send(&house, id, &wrong)["lost"], 1);
    // What is forgotten before a step that is done is done.
    send(&house, id, &json!([tick("step::mix#2", 1_700_000_000_000)]));
    assert_eq!(open_steps(&house.get(&bench).text()), ["Rest"]);
    // Steps are no lines, neither on the way nor on the front page.
    assert!(house.get("/").text().contains("0 weighed"));
    house.post(
        &format!("{bench}/finish"),
        &[("made", "1"), ("verdict", "Good.")],
    );
    let bake = house.get(&format!("/recipe/{recipe}/bakes/{id}")).text();
    for words in ["When the steps were ticked", "14 Nov 2023"] {
        assert!(bake.contains(words), "{words}");
    }
    house.must_be_sound();
}

#[test]
fn a_batch_for_a_time_says_when_each_step_must_begin() {
    let house = House::open();
    let recipe = house.recipe(&example("sunday-pancakes.txt"));
    let begin = |serve: &str| {
        let answer = house.post(
            &format!("/recipe/{recipe}/batch"),
            &[("of", "draft"), ("who", "Maud Ferris"), ("serve", serve)],
        );
        (
            answer.status,
            answer.header("location").unwrap_or_default().to_owned(),
        )
    };
    // At four in the afternoon, two days on: far from quiet hours, whenever this runs.
    let serve = format!("{}T16:00", &in_minutes(2 * 24 * 60)[..10]);
    let (_, bench) = begin(&serve);
    let page = house.get(&bench).text();
    let hour = &serve[11..];
    for words in ["To be ready at ", "tart by "] {
        assert!(page.contains(words), "{words}");
    }
    assert!(
        page.contains(" to serve at ") && page.contains(hour),
        "{hour}"
    );
    assert!(!page.contains("min late."));
    // Too late for it: why, by how much, and the steps all the same.
    let (_, bench) = begin(&in_minutes(5));
    let page = house.get(&bench).text();
    assert!(page.contains("There is no plan for ") && page.contains("at the earliest"));
    assert_eq!(open_steps(&page), ["Weigh out"]);
    // No time at all, and one that is none.
    let (_, bench) = begin("");
    assert!(!house.get(&bench).text().contains("To be ready at "));
    assert_eq!(begin("soon").0, 422);
    // The time of the Plan page counts where nothing else is said.
    house.post(&format!("/recipe/{recipe}/serve"), &[("serve", &serve)]);
    assert!(
        house
            .get(&format!("/recipe/{recipe}/bench"))
            .text()
            .contains(&format!("value=\"{serve}\""))
    );
    let answer = house.post(&format!("/recipe/{recipe}/batch"), &[("of", "draft")]);
    let bench = answer.header("location").unwrap_or_default().to_owned();
    assert!(house.get(&bench).text().contains("To be ready at "));
    house.must_be_sound();
}

/// The second of two of one recipe is begun first, with its own time and amount; the first is then taken
/// off the day.
#[test]
fn twins_of_a_day_keep_their_batches() {
    let house = House::open();
    let cake = house.recipe(&example("lemon-yoghurt-cake.txt")).to_string();
    let date = in_minutes(2 * 24 * 60)[..10].to_owned();
    let (serve, sooner) = (format!("{date}T17:00"), format!("{date}T14:00"));
    let amount = format!("n.{cake}");
    let add = |to: &str, more: &[(&str, &str)]| {
        let mut fields = vec![
            ("title", "Two"),
            ("serve", serve.as_str()),
            ("add", cake.as_str()),
            (amount.as_str(), "1"),
        ];
        fields.extend_from_slice(more);
        let answer = house.post(to, &fields);
        assert_eq!(answer.status, 303, "{}", answer.text());
        answer.header("location").unwrap_or_default().to_owned()
    };
    let day = add("/days", &[]);
    add(
        &day,
        &[
            ("rev", "1"),
            ("keep", "0"),
            ("times.0", "1"),
            ("serve.0", sooner.as_str()),
        ],
    );
    assert_eq!(house.get(&day).status, 200);
    let begun = house.post(&format!("{day}/start"), &[("place", "1")]);
    let bench = begun.header("location").unwrap_or_default().to_owned();
    // It is to be ready with the day, not when its twin is.
    let ready = |bench: &str| {
        let page = house.get(bench).text();
        let after = page
            .split("To be ready at ")
            .nth(1)
            .unwrap_or_default()
            .to_owned();
        after[..after.find("</p>").unwrap_or_default()].contains("17:00")
    };
    assert!(ready(&bench));
    let page = house.get(&day).text();
    let (start, go_on) = (
        page.find("name=\"place\" value=\"0\""),
        page.find(&format!("href=\"{bench}\"")),
    );
    assert!(
        start.is_some() && go_on.is_some() && !page.contains("name=\"place\" value=\"1\""),
        "{page}"
    );
    // Without the first it is the only one, and still begun.
    let rev = page
        .split("name=\"rev\" value=\"")
        .nth(1)
        .and_then(|r| r.split('"').next())
        .unwrap_or_default()
        .to_owned();
    let kept = house.post(
        &day,
        &[
            ("title", "Two"),
            ("serve", serve.as_str()),
            ("rev", rev.as_str()),
            ("keep", "1"),
            ("times.1", "1"),
        ],
    );
    assert_eq!(kept.status, 303, "{}", kept.text());
    let page = house.get(&day).text();
    assert!(
        page.contains(&format!("href=\"{bench}\"")) && !page.contains("name=\"place\" value=\"0\"")
    );
    assert!(ready(&bench));
    house.must_be_sound();
}

#[test]
fn a_batch_of_a_day_follows_the_day() {
    let house = House::open();
    let cake = house.recipe(&example("lemon-yoghurt-cake.txt"));
    let pancakes = house.recipe(&example("sunday-pancakes.txt"));
    let date = in_minutes(2 * 24 * 60)[..10].to_owned();
    let (first, second) = (cake.to_string(), pancakes.to_string());
    let (one, other) = (format!("n.{cake}"), format!("n.{pancakes}"));
    let serve = format!("{date}T16:00");
    let made = house.post(
        "/days",
        &[
            ("title", "Saturday"),
            ("serve", serve.as_str()),
            ("add", first.as_str()),
            (one.as_str(), "1"),
            ("add", second.as_str()),
            (other.as_str(), "2"),
        ],
    );
    assert_eq!(made.status, 303, "{}", made.text());
    let day = made.header("location").unwrap_or_default().to_owned();
    assert_eq!(house.get(&day).status, 200);
    let begun = house.post(&format!("{day}/start"), &[("place", "1")]);
    let bench = begun.header("location").unwrap_or_default().to_owned();
    let page = house.get(&bench).text();
    assert!(
        page.contains("× 2, draft") && page.contains("Sunday"),
        "{bench}"
    );
    let begins = |page: &str| {
        let by = page.split("data-by=\"").nth(1).unwrap_or_default();
        by.split('"')
            .next()
            .unwrap_or_default()
            .parse::<i64>()
            .expect("when it begins")
    };
    let before = begins(&page);
    // The day is to be ready an hour later: so is the batch.
    let later = format!("{date}T17:00");
    let moved = house.post(
        &day,
        &[
            ("title", "Saturday"),
            ("serve", later.as_str()),
            ("rev", "1"),
            ("keep", "0"),
            ("times.0", "1"),
            ("keep", "1"),
            ("times.1", "2"),
        ],
    );
    assert_eq!(moved.status, 303, "{}", moved.text());
    assert_eq!(house.get(&day).status, 200);
    let page = house.get(&bench).text();
    assert!(page.contains("17:00"), "the day's new time");
    assert_eq!(begins(&page) - before, 3600);
    house.must_be_sound();
}

#[test]
fn a_step_is_ticked_by_a_tap_and_survives_a_sleeping_laptop() {
    browser(|house, w| {
        let recipe = house.recipe(&example("sunday-pancakes.txt"));
        let id = another(house, recipe, "1");
        w.go(&format!("/bench/{id}"));
        w.see("New timer");
        let next = |w: &Window| {
            let open = "return [...document.querySelectorAll('#next li')].filter((l) => l.checkVisibility()).map((l) => l.dataset.next);";
            w.js(open, json!([]))
        };
        assert_eq!(next(w), json!(["step::weigh"]));
        // Every line ticked is the weighing done.
        w.js(
            "for (const b of document.querySelectorAll('li.item:not(.step) input[type=checkbox]')) if (!b.checked) b.click();",
            json!([]),
        );
        assert_eq!(next(w), json!(["step::mix"]));
        tap(w, "Rest");
        w.until("the laptop knows", |_| {
            (state(house, id)["marks"]["step::rest"]["ticked"] == true).then_some(())
        });
        assert_eq!(next(w), json!(["step::grease"]));
        // The way to it puts the cursor there.
        w.js(
            "document.querySelector('#next li:not([hidden]) a').click();",
            json!([]),
        );
        w.holds(
            "the cursor at the step",
            "document.activeElement.closest('li')?.dataset.item === 'step::grease'",
        );
        house.stop();
        w.key(&[], ' ');
        w.see("Every step is done.");
        w.see("Kept on this tablet, sent when the laptop answers");
        house.start_again();
        w.js("dispatchEvent(new Event('online'));", json!([]));
        w.gone("Kept on this tablet");
        assert_eq!(state(house, id)["marks"]["step::grease"]["ticked"], true);
        w.reload();
        w.see("Every step is done.");
        // A timer with one tap, called by its step.
        w.js(
            "document.querySelector('li.step[data-item=\"step::rest\"] button').click();",
            json!([]),
        );
        w.until("the timer", |w| w.find("#running li", "Rest", None));
        // Without scripts a form ticks it.
        w.scripts(false);
        w.go(&format!("/bench/{id}"));
        w.press("Undo: Grease, fry is done");
        w.until("the form to be taken", |_| {
            (state(house, id)["marks"]["step::grease"]["ticked"] == false).then_some(())
        });
        w.see("Grease, fry");
        w.scripts(true);
        // The step of another component opens it.
        let (_, id) = batch(house, "1");
        w.go(&format!("/bench/{id}"));
        w.see("New timer");
        w.js(
            "document.querySelector('#next li[data-next=\"step:filling:weigh\"] a').click();",
            json!([]),
        );
        w.holds(
            "the filling alone",
            "[...document.querySelectorAll('section.work')].filter((p) => p.checkVisibility()).map((p) => p.querySelector('h2').textContent).join() === 'Filling'",
        );
    });
}

/// Taps a line by its name.
fn tap(w: &Window, name: &str) {
    w.js(
        "const l = [...document.querySelectorAll('li.item')].find((l) => l.dataset.name === arguments[0] && l.offsetParent);
         l.querySelector('.name').click();",
        json!([name]),
    );
}

#[test]
fn the_bench_goes_on_while_the_laptop_sleeps() {
    browser(|house, w| {
        let (_, id) = batch(house, "1");
        w.size(820, 1180, 1);
        w.go(&format!("/bench/{id}"));
        w.see("New timer");
        tap(w, "whole milk");
        w.until("the laptop knows", |_| {
            (state(house, id)["marks"]["0:whole_milk"]["ticked"] == true).then_some(())
        });
        w.press("New timer");
        w.fill("Minutes", "0.02");
        w.fill("What for", "second tray");
        w.press("Start");
        w.see("second tray: time is up");
        w.until("the laptop knows of the timer", |_| {
            (state(house, id)["timers"][0]["label"] == "second tray").then_some(())
        });
        w.reload();
        w.see("second tray: time is up");
        house.stop();
        tap(w, "instant yeast");
        w.see("Kept on this tablet, sent when the laptop answers");
        house.start_again();
        w.js("dispatchEvent(new Event('online'));", json!([]));
        w.gone("Kept on this tablet");
        assert_eq!(state(house, id)["marks"]["0:instant_yeast"]["ticked"], true);
        w.press("Stop: second tray");
        w.gone("time is up");
    });
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
        w.see("Timers need scripts");
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
