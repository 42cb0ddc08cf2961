//! Steps at the bench: ticked, next, by the clock and by a day.

use super::{another, batch, send, state};
use crate::harness::{House, Window, browser, example};
use serde_json::json;

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
            let open = "return [...document.querySelectorAll('#next [data-next]')].filter((l) => l.checkVisibility()).map((l) => l.dataset.next);";
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
        tap(w, "Fry");
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
        w.press("Undo: Grease is done");
        w.until("the form to be taken", |_| {
            (state(house, id)["marks"]["step::grease"]["ticked"] == false).then_some(())
        });
        w.see("Grease");
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
pub(super) fn tap(w: &Window, name: &str) {
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
