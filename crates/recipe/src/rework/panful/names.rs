//! What a part's name, and how a step takes it up, say of its place in a pan.

use super::super::steps::{goes_on_a_bake, is_crumb};
use crate::recipe::Recipe;
use crate::sentences;

/// Whether a part's name says that it lies under a filling in a tin.
pub(super) fn is_base(name: &str) -> bool {
    matches!(
        last_word(name).as_str(),
        "base" | "crust" | "shortcrust" | "shell" | "case" | "pastry" | "bottom"
    )
}

/// Whether a name is that of a part which goes in or on another.
pub(super) fn inner(name: &str) -> bool {
    goes_on_a_bake(name) || is_crumb_of(name)
}

/// 'Crumb topping' is a crumb too, a crumb crust lies under the filling.
pub(super) fn is_crumb_of(name: &str) -> bool {
    name.split_whitespace().any(is_crumb) && !is_base(name)
}

/// Whether a step strews a part over another, whatever it is called: 'scatter the posypka over all'.
pub(super) fn is_strewn(recipe: &Recipe, name: &str) -> bool {
    let name = last_word(name);
    recipe.steps.iter().any(|s| {
        let said = sentences::words(&s.text);
        let strews = |w: &String| matches!(w.as_str(), "scatter" | "sprinkle" | "strew");
        let mut at = (0..said.len()).filter(|i| strews(&said[*i]));
        at.any(|i| said[i + 1..].iter().take(3).any(|w| *w == name))
    })
}

pub(super) fn last_word(name: &str) -> String {
    let last = name.split_whitespace().next_back();
    last.unwrap_or_default().to_lowercase()
}
