//! Hours that a method counts back from the bake: 'take the dough out 2 hours before baking'.

use super::build::Placed;
use super::task::{Basis, Span};
use crate::recipe::Recipe;
use crate::sentences::sentence;

/// Words behind such hours.
const BEFORE: [&str; 6] = [
    "before baking",
    "before you bake",
    "before you want to bake",
    "before you plan to bake",
    "before you intend to bake",
    "before it goes in the oven",
];
/// What rises or rests for less than this is told by the method itself, min (common practice, no source).
const SHORTEST: f64 = 15.0;

/// Where a rise or rest whose length is a guess stands between such hours and the bake, the hours are for all
/// of it: nothing waits before the shaping.
pub(super) fn counted_back(recipe: &Recipe, out: &mut [Placed]) {
    let counted = |p: &Placed| {
        let step = p.step.and_then(|s| recipe.steps.get(s - 1));
        let said = step.map(|s| sentence(&s.text, p.draft.at).to_lowercase());
        let said = said.is_some_and(|s| BEFORE.iter().any(|b| s.contains(b)));
        said && p.draft.wait_basis == Basis::Said && p.draft.wait.is_some()
    };
    let Some(from) = out.iter().position(counted) else {
        return;
    };
    let later = out[from + 1..].iter();
    let bake = later.take_while(|p| p.draft.what != "bake").count() + from + 1;
    let guess = |p: &Placed| {
        matches!(p.draft.what, "rise" | "rest")
            && p.draft.wait.is_some()
            && p.draft.wait_basis == Basis::Guess
    };
    let Some(rise) = (from + 1..bake).rev().find(|&n| guess(&out[n])) else {
        return;
    };
    let Some(said) = out[from].draft.wait.take().map(|w| w.span) else {
        return;
    };
    let between = out[from + 1..=rise].iter();
    let between: f64 = between
        .map(|p| {
            p.draft.hands.usual
                + p.draft
                    .wait
                    .filter(|_| !guess(p))
                    .map_or(0.0, |w| w.span.usual)
        })
        .sum();
    let left = |minutes: f64| (minutes - between).max(SHORTEST);
    let d = &mut out[rise].draft;
    if let Some(wait) = d.wait.as_mut() {
        wait.span = Span::of(left(said.least), left(said.usual), left(said.most));
    }
    d.wait_basis = Basis::Said;
    d.notes.push(format!(
        "The method counts {} from the cold to the oven, shaping and this among it.",
        super::own::span_words(said)
    ));
    let wait = &mut out[from].draft;
    wait.name = "Take out of the cold".to_owned();
}
