//! What is kept of a batch: the bake.

use super::{another, batch, send, state};
use crate::harness::{House, example};
use serde_json::json;

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
    for words in ["350 °F (177 °C)", "12 %", "Fine crumb.", "400"] {
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
        " g; ",
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
    for words in ["350 °F (177 °C)", "203 °F (95 °C)"] {
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
    assert!(page.contains(", × 0.5"));
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
    for words in ["Bake 1<", "Fine crumb.", "1000 g", "340 °F (170 °C)"] {
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

/// What was noted to change leads to Rework, and the bake to the version that was baked.
#[test]
fn after_a_bake_the_work_goes_on() {
    let house = House::open();
    let (recipe, id) = batch(&house, "1");
    let made = [("made", "1"), ("next", "A little less milk.")];
    house.post(&format!("/bench/{id}/finish"), &made);
    let bakes = format!("/recipe/{recipe}/bakes");
    let onward = || {
        let page = house.get(&bakes).text();
        let from = page.find("id=\"onward\"").expect("what comes next");
        let end = page[from..].find("</section>").expect("its end");
        page[from..from + end].to_owned()
    };
    let next = onward();
    for words in [
        "After bake 1",
        "A little less milk.",
        "in no version yet and is still as it was baked",
        &format!("href=\"/recipe/{recipe}/versions#save\""),
        &format!("href=\"/recipe/{recipe}/rework\""),
        &format!("href=\"/recipe/{recipe}/read#text\""),
    ] {
        assert!(next.contains(words), "{words}: {next}");
    }
    // It stands where it is done, until a bake has followed.
    let told = |leaf: &str| {
        let page = house.get(&format!("/recipe/{recipe}/{leaf}")).text();
        page.contains("A little less milk.")
    };
    assert!(told("read") && told("rework") && !told("weigh"));
    let fields = |rev: &'static str| {
        [
            ("who", "Maud Ferris"),
            ("why", "as baked"),
            ("rev", rev),
            ("leaf", "versions"),
        ]
    };
    let rev = house.get(&format!("/recipe/{recipe}/versions")).text();
    let rev = rev.split("name=\"rev\" value=\"").nth(1).expect("a number");
    let rev: &'static str = rev.split('"').next().unwrap_or_default().to_owned().leak();
    let saved = house.post(&format!("/recipe/{recipe}/save"), &fields(rev));
    assert_eq!(saved.status, 303, "{}", saved.text());
    assert!(onward().contains("version 1 weighs the same"));
    // Changed since: the version that was baked is compared with the draft.
    let change = json!({ "field": "method", "text": "Mix it.\nBake it." });
    let change = change.to_string();
    let kept = house.post(
        &format!("/recipe/{recipe}/change"),
        &[
            ("change", change.as_str()),
            ("over", "1"),
            ("leaf", "rework"),
        ],
    );
    assert_eq!(kept.status, 303, "{}", kept.text());
    let next = onward();
    assert!(next.contains("/compare?a=1&amp;b=draft"), "{next}");
    assert!(next.contains("Save a version") && !next.contains("Compare bakes"));
    let second = another(&house, recipe, "1");
    house.post(&format!("/bench/{second}/finish"), &[("made", "1")]);
    assert!(!told("read") && !told("rework"));
    let next = onward();
    assert!(next.contains("Compare bakes 1 and 2"), "{next}");
    // The card says the way to what changed since that version; two bakes of two versions, to what
    // changed between them.
    let card = house.get(&format!("/recipe/{recipe}/card")).text();
    let since = format!(
        "<a href=\"/recipe/{recipe}/compare?a=1&amp;b=draft\">What changed since version 1"
    );
    assert!(card.contains(&since));
    let rev = house.get(&format!("/recipe/{recipe}/versions")).text();
    let rev = rev.split("name=\"rev\" value=\"").nth(1).expect("a number");
    let rev: &'static str = rev.split('"').next().unwrap_or_default().to_owned().leak();
    house.post(&format!("/recipe/{recipe}/save"), &fields(rev));
    let bake_of = |version: &str| {
        let fields = [("of", version), ("who", "Maud")];
        let begun = house.post(&format!("/recipe/{recipe}/batch"), &fields);
        let at = begun.header("location").and_then(|l| l.rsplit('/').next());
        let id = at.expect("a batch").to_owned();
        house.post(&format!("/bench/{id}/finish"), &[("made", "1")]);
        id
    };
    let (a, b) = (bake_of("1"), bake_of("2"));
    let pair = house.get(&format!("/recipe/{recipe}/bakes/compare?a={a}&b={b}"));
    let pair = pair.text();
    assert!(
        pair.contains("What changed from version 1 to version 2"),
        "{pair}"
    );
    // Other figures now: the card counts them as their record does, the first of the draft as version 1's.
    let change = json!({ "field": "pin", "component": "dough", "line": "whole_milk", "hold": { "grams": 100.0 } });
    let change = change.to_string();
    let fields = [
        ("change", change.as_str()),
        ("over", "1"),
        ("leaf", "rework"),
    ];
    house.post(&format!("/recipe/{recipe}/change"), &fields);
    let card = house.get(&format!("/recipe/{recipe}/card.html")).text();
    assert!(card.contains("of version 1") && !card.contains("unsaved draft"));
    house.must_be_sound();
}
