//! The Rework page's steps: words that only wheat needs are marked, the answer stands beside.

use crate::harness::{browser, example};
use serde_json::json;

#[test]
fn words_of_a_step_are_marked_and_answered_beside() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        w.go(&format!("/recipe/{id}/rework"));
        let steps = w.js(
            "return [...document.querySelectorAll('.steps > li')].map((s) => ({
                marks: [...s.querySelectorAll('mark')].map((m) => m.textContent),
                notes: s.querySelector('ul').textContent,
            }));",
            json!([]),
        );
        let steps = steps.as_array().expect("steps with notes");
        let marks: Vec<&str> = steps
            .iter()
            .flat_map(|s| s["marks"].as_array().into_iter().flatten())
            .filter_map(|m| m.as_str())
            .collect();
        for words in ["knead1", "Punch down1", "floured counter2"] {
            assert!(marks.contains(&words), "{words} in {marks:?}");
        }
        for s in steps {
            for mark in s["marks"].as_array().into_iter().flatten() {
                let words = mark.as_str().unwrap_or_default();
                let words = words.trim_end_matches(|c: char| c.is_ascii_digit());
                let notes = s["notes"].as_str().unwrap_or_default();
                assert!(notes.contains(&format!("‘{words}’")), "{words}: {notes}");
                assert!(notes.contains("Look for "), "{notes}");
            }
        }
        let found = w.axe();
        assert!(found.is_empty(), "{found:?}");
        // Their words stay off the card.
        let card = house.get(&format!("/recipe/{id}/card.html")).text();
        assert!(!card.contains("Punch down") && card.contains("knocks the dough back"));
    });
}
