//! At the bench in the hands of a baker: ticking, weighing, timers, a second device, finishing.

use crate::harness::{House, Window, browser, example, key};
use serde_json::{Value, json};

/// Starts a batch of pancakes and gives the path of its bench.
fn begin(house: &House, w: &mut Window) -> String {
    let id = house.recipe(&example("sunday-pancakes.txt"));
    w.go(&format!("/recipe/{id}/bench"));
    w.fill("Who", "Maud Ferris");
    w.press("Start the batch");
    w.until("the bench", |w| {
        w.path().starts_with("/bench/").then_some(())
    });
    w.see("Timers");
    w.path()
}

/// The lines shown, by item and name.
fn lines(w: &Window) -> Vec<(String, String)> {
    let got = w.js(
        "return [...document.querySelectorAll('li.item')].filter((l) => l.checkVisibility()).map((l) => [l.dataset.item, l.dataset.name]);",
        json!([]),
    );
    let word = |v: &Value| v.as_str().unwrap_or_default().to_owned();
    got.as_array()
        .into_iter()
        .flatten()
        .map(|l| (word(&l[0]), word(&l[1])))
        .collect()
}

fn state(house: &House, bench: &str) -> Value {
    let bench = bench.split('?').next().unwrap_or(bench);
    let answer = house.get(&format!("{bench}/state"));
    serde_json::from_slice(&answer.body).expect("the state is JSON")
}

fn is_done(w: &Window, item: &str) -> bool {
    w.js(
        "return [...document.querySelectorAll('li.item')].find((l) => l.dataset.item === arguments[0])?.querySelector('input').checked ?? false;",
        json!([item]),
    ) == Value::Bool(true)
}

/// Opens a line's field for what was really weighed. The page puts the cursor into it a moment after
/// it opens; keys struck before would go to the line.
fn open_really(w: &Window, name: &str) {
    w.press(&format!("What was really weighed: {name}"));
    w.holds(
        "the cursor in the field",
        "document.activeElement.name === 'actual'",
    );
}

#[test]
fn a_line_is_ticked_by_a_tap_and_weighed_really() {
    browser(|house, w| {
        let bench = begin(house, w);
        let all = lines(w);
        assert!(all.len() > 5, "{all:?}");
        let (item, name) = all
            .iter()
            .find(|l| l.1.contains("buttermilk"))
            .expect("buttermilk is weighed");
        // Anywhere on the line: here on its figure.
        w.tap("label.tap", name, "span.grams");
        w.until("the tick to be kept", |_| {
            (state(house, &bench)["marks"][item]["ticked"] == true).then_some(())
        });
        assert!(is_done(w, item));
        open_really(w, name);
        w.write("450");
        w.key(&[], key::ENTER);
        w.see("really 450 g");
        w.until("the weight to be kept", |_| {
            (state(house, &bench)["marks"][item]["actual"] == 450.0).then_some(())
        });
        // A figure that is none is told and not sent.
        open_really(w, name);
        w.key(&[key::CONTROL], 'a');
        w.write("45o");
        w.key(&[], key::ENTER);
        w.see("Write grams, like 310 or 2.5.");
        assert_eq!(state(house, &bench)["marks"][item]["actual"], 450.0);
        // Typed over by mistake: what stood there before is one press away, and is spoken.
        w.key(&[key::CONTROL], 'a');
        w.write("45");
        w.key(&[], key::ENTER);
        w.see("really 45 g");
        w.holds(
            "it is spoken",
            "document.getElementById('bench-said').textContent.endsWith('; before 450 g')",
        );
        w.reload();
        w.press(&format!("Back to 450 g: {name}"));
        w.see("really 450 g");
        w.holds(
            "it is spoken",
            "document.getElementById('bench-said').textContent.includes('really 450 g')",
        );
        w.until("the weight to be kept", |_| {
            (state(house, &bench)["marks"][item]["actual"] == 450.0).then_some(())
        });
        w.see("Back to 45 g");
        w.reload();
        assert!(is_done(w, item), "it stays ticked");
        w.see("really 450 g");
        w.tap("label.tap", name, "span.name");
        w.until("the tick to be taken back", |_| {
            (state(house, &bench)["marks"][item]["ticked"] == false).then_some(())
        });
    });
}

fn timer(w: &Window, minutes: &str, label: &str) {
    w.press("New timer");
    w.fill("Minutes", minutes);
    w.fill("What for", label);
    w.press("Start");
    w.until(&format!("the timer {label}"), |w| {
        w.find("#running li", label, None)
    });
}

/// Seconds left on a timer's face.
fn left(w: &Window, label: &str) -> f64 {
    let got = w.js(
        "return [...document.querySelectorAll('#running li')].find((l) => l.textContent.includes(arguments[0]))?.querySelector('.face').textContent ?? '';",
        json!([label]),
    );
    let words = got.as_str().unwrap_or_default().to_owned();
    words
        .split(':')
        .fold(0.0, |sum, p| sum * 60.0 + p.parse::<f64>().unwrap_or(0.0))
}

#[test]
fn timers_run_side_by_side_and_survive_a_reload() {
    browser(|house, w| {
        begin(house, w);
        timer(w, "20", "second tray");
        timer(w, "2,5", "batter rests");
        let before = left(w, "second tray");
        assert!((1150.0..=1200.0).contains(&before), "{before}");
        assert!((120.0..=150.0).contains(&left(w, "batter rests")));
        w.reload();
        w.until("the timers to be back", |w| {
            w.find("#running li", "second tray", None)
        });
        let after = left(w, "second tray");
        assert!(after > 1100.0 && after <= before, "{before} then {after}");
        assert!(left(w, "batter rests") > 100.0);
        // Held, it stands still; another minute is a minute.
        w.press("Pause: second tray");
        w.see("second tray, held");
        let held = left(w, "second tray");
        w.press("+ 1 min: second tray");
        w.until("a minute more", |w| {
            (left(w, "second tray") - held - 60.0)
                .abs()
                .lt(&1.5)
                .then_some(())
        });
        // One that ends rings and says so, in the title too.
        timer(w, "0.03", "flip");
        w.see("Time is up: flip");
        w.see("flip: time is up");
        w.holds("the title to tell", "document.title.includes('flip')");
        w.press("Stop: flip");
        w.gone("flip: time is up");
        assert!(w.find("#running li", "flip", None).is_none(), "it has rung");
        // Stopped by mistake, it goes on as if it had not been.
        let was = left(w, "batter rests");
        w.press("Stop: batter rests");
        w.see("batter rests, stopped");
        w.press("Take back: batter rests");
        w.gone("batter rests, stopped");
        let now = left(w, "batter rests");
        assert!(now > was - 60.0 && now <= was, "{was} then {now}");
        assert!(w.find("#running li", "batter rests", None).is_some());
    });
}

#[test]
fn a_second_device_sees_what_is_done() {
    browser(|house, w| {
        let bench = begin(house, w);
        let all = lines(w);
        let ((one, name), (two, second_name)) = (&all[0], &all[all.len() - 1]);
        let (first, second) = w.second();
        w.go(&bench);
        w.see("Timers");
        w.turn_to(&first);
        w.tap("label.tap", name, "span.name");
        timer(w, "9", "second tray");
        w.turn_to(&second);
        w.until("the tick of the other device", |w| {
            is_done(w, one).then_some(())
        });
        w.until("the timer of the other device", |w| {
            w.find("#running li", "second tray", None)
        });
        w.tap("label.tap", second_name, "span.name");
        w.turn_to(&first);
        w.until("the tick of the second device", |w| {
            is_done(w, two).then_some(())
        });
    });
}

#[test]
fn a_finished_batch_stands_among_the_bakes() {
    browser(|house, w| {
        begin(house, w);
        let all = lines(w);
        for (_, name) in all.iter().take(3) {
            w.tap("label.tap", name, "span.name");
        }
        w.press("Finish the batch");
        w.until("the form", |w| w.path().ends_with("/finish").then_some(()));
        w.see("What is not done yet");
        w.fill("How long", "15");
        w.fill("Before the oven", "900");
        w.fill("After cooling", "950");
        w.fill("How it came out", "even and soft");
        w.press("Look it over and finish");
        w.see("it cannot weigh more");
        assert_eq!(
            w.value("How it came out"),
            "even and soft",
            "nothing is lost"
        );
        w.fill("After cooling", "810");
        w.press("Look it over and finish");
        w.see("What will be kept");
        w.see("lines are not ticked");
        w.press("Finish and keep the record");
        w.until("the bakes", |w| w.path().contains("/bakes").then_some(()));
        w.see("even and soft");
        w.see("10 %");
    });
}

#[test]
fn everything_at_the_bench_is_big_enough_for_floury_hands() {
    browser(|house, w| {
        let bench = begin(house, w);
        for (path, width) in [
            (bench.clone(), 820),
            (bench.clone(), 390),
            (format!("{bench}/finish"), 390),
        ] {
            w.narrow(width);
            w.go(&path);
            let small = w.js(
                r#"return [...document.querySelectorAll("button, a, summary, input, select, textarea, label.tap")]
                .filter((e) => e.checkVisibility() && e.type !== "hidden" && !e.closest(".skip, label.tap *") && !e.matches(".skip, label.tap input") && !e.closest("p:not(.ends)"))
                .map((e) => [e, e.getBoundingClientRect()])
                .filter(([e, r]) => r.height < 43.5 || r.width < 43.5)
                .map(([e, r]) => `${e.outerHTML.slice(0, 90)}: ${r.width.toFixed(0)} by ${r.height.toFixed(0)}`);"#,
                json!([]),
            );
            assert_eq!(small, json!([]), "{path} at {width} px");
        }
    });
}

/// A finger's tap lets the timers sound, and a page that was put to sleep by the tablet rings when it wakes, with
/// the time that has gone by.
#[test]
fn a_tap_lets_timers_sound_and_a_sleep_takes_no_time_from_them() {
    browser(|house, w| {
        let id = house.recipe(&example("sunday-pancakes.txt"));
        let batch = house.post(&format!("/recipe/{id}/batch"), &[("of", "draft")]);
        w.go(batch.header("location").expect("a batch"));
        w.see("New timer");
        w.js(
            "window.tones = 0; const make = AudioContext.prototype.createOscillator;
             AudioContext.prototype.createOscillator = function () { window.tones += 1; return make.call(this); };",
            json!([]),
        );
        // Begun on another device: nothing was pressed here.
        let now = w
            .js("return Date.now();", json!([]))
            .as_i64()
            .expect("a time");
        let timer = json!([{ "do": "timer", "timer": { "uid": "a", "label": "flip", "seconds": 9.0, "ends": now + 9000, "left": null, "done": false } }]);
        let path = w.path();
        house.post(&format!("{path}/send"), &[("done", &timer.to_string())]);
        w.see("flip");
        w.see("Tap anywhere once");
        w.cdp(
            "Emulation.setTouchEmulationEnabled",
            json!({ "enabled": true }),
        );
        let place = w.js(
            "const r = document.querySelector('h1').getBoundingClientRect(); return [r.x + 4, r.y + 4];",
            json!([]),
        );
        let point = json!([{ "x": place[0], "y": place[1] }]);
        w.cdp(
            "Input.dispatchTouchEvent",
            json!({ "type": "touchStart", "touchPoints": point }),
        );
        w.cdp(
            "Input.dispatchTouchEvent",
            json!({ "type": "touchEnd", "touchPoints": [] }),
        );
        w.cdp(
            "Emulation.setTouchEmulationEnabled",
            json!({ "enabled": false }),
        );
        w.gone("Tap anywhere once");
        w.cdp("Page.setWebLifecycleState", json!({ "state": "frozen" }));
        std::thread::sleep(std::time::Duration::from_secs(7));
        w.cdp("Page.setWebLifecycleState", json!({ "state": "active" }));
        w.see("flip: time is up");
        w.holds("three tones", "window.tones >= 3");
    });
}
