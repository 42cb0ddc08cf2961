//! What a step names without taking it: what something is for, or waits for.

use crate::sentences::{each, words};

/// Behind these words of a clause stands what is wanted later: 'strength to hold the filling', 'ready for the
/// topping', 'cool before adding the filling'.
const LATER: [&[&str]; 20] = [
    &["to", "hold"],
    &["will", "hold"],
    &["can", "hold"],
    &["that", "hold"],
    &["which", "hold"],
    &["to", "support"],
    &["ready", "for"],
    &["ready", "to"],
    &["room", "for"],
    &["space", "for"],
    &["enough", "for"],
    &["aside", "for"],
    &["need", "it", "for"],
    &["need", "them", "for"],
    &["needed", "for"],
    &["required", "for"],
    &["before"],
    &["until"],
    &["till"],
    &["while"],
];

/// Verbs that leave something for later: 'reserve the rest for the glaze'.
const KEEPS: [&str; 5] = ["reserve", "keep", "save", "leave", "set"];

/// Whether a text names something, and only as what something else is for or waits for.
///
/// # Arguments
/// * `is` — whether a word names it.
pub(crate) fn only_later(text: &str, is: impl Fn(&str) -> bool) -> bool {
    let mut named = false;
    for sentence in each(text) {
        for clause in sentence.split([',', ';', ':', '(', ')']) {
            let said = words(clause);
            for at in (0..said.len()).filter(|&i| is(&said[i])) {
                named = true;
                if !later(&said, at) {
                    return false;
                }
            }
        }
    }
    named
}

/// Whether the word at a place of a clause is wanted later.
fn later(said: &[String], at: usize) -> bool {
    let before = &said[..at];
    let ends = |list: &[&str], to: usize| {
        let from = to.checked_sub(list.len());
        from.is_some_and(|f| before[f..to].iter().zip(list).all(|(a, b)| a == b))
    };
    let behind = (1..=at).any(|to| LATER.iter().any(|l| ends(l, to)));
    let keeps = before.first().is_some_and(|w| KEEPS.contains(&w.as_str()));
    let kept = keeps && before.iter().any(|w| w == "for");
    // 'Once the filling is ready'.
    let when = |w: &String| matches!(w.as_str(), "once" | "when");
    let is = said.get(at + 1).is_some_and(|w| w == "is" || w == "are");
    let ready = || said[at + 1..].iter().any(|w| w == "ready" || w == "made");
    behind || kept || before.iter().any(when) && is && ready()
}

#[cfg(test)]
mod tests {
    use super::only_later;

    #[test]
    fn what_something_is_for_is_not_taken() {
        let filling = |text: &str| only_later(text, |w| w == "filling");
        for text in [
            "This gives the pastry the strength that is needed to hold the filling.",
            "Keep it in the fridge until you need it for the filling.",
            "Leave to cool before adding the filling.",
            "Chill the case, ready for the filling.",
            "Reserve 2 tbsp of it for the filling.",
            "Once the filling is ready, roll the pastry out.",
            "Bake until the filling is set.",
        ] {
            assert!(filling(text), "{text}");
        }
        for text in [
            "Spoon the filling into the case.",
            "For the filling, fry the onion.",
            // A second time it is put in.
            "Cool before adding the filling. Pour the filling in.",
            "Keep the filling cold.",
            "When the case is cold, add the filling.",
            // It is not named.
            "Roll the pastry out.",
        ] {
            assert!(!filling(text), "{text}");
        }
    }
}
