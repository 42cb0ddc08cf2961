//! What a bake is by its size, and how long such a one cools.

use super::build::Placed;
use super::table::{self, Usual};
use super::task::Basis;
use crate::recipe::{Activity, FactKind, Recipe};
use crate::rework::ReworkedComponent;
use crate::sentences::words;

/// What a bake is, for how long it cools.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Piece {
    /// Thick through: a loaf.
    Loaf,
    /// In one piece on a tray: a plait, a wreath.
    Free,
    /// A piece or two to the hand.
    Small,
}

/// Bakes that are thick through.
const LOAVES: [&str; 5] = ["loaf", "loave", "bloomer", "bundt", "fruitcake"];

/// Doughs in one piece by their shape, where they are not counted: '8 twists' are small.
const SHAPED: [&str; 7] = [
    "babka", "braid", "crown", "plait", "ring", "twist", "wreath",
];

/// Bakes of a piece or two to the hand.
const SMALL: [&str; 12] = [
    "bagel",
    "biscuit",
    "bun",
    "cookie",
    "cupcake",
    "doughnut",
    "knot",
    "muffin",
    "roll",
    "scone",
    "shortbread",
    "tartlet",
];

impl Piece {
    /// What the title and the yield call it, if they do.
    pub fn of(recipe: &Recipe) -> Option<Self> {
        let makes = recipe.makes.as_ref();
        let counted = makes.and_then(|m| m.count).is_some_and(|(n, _)| n >= MANY);
        let made = makes.map_or_else(Vec::new, |m| words(&m.text));
        let title = words(recipe.title.as_deref().unwrap_or_default());
        let said = || title.iter().chain(&made);
        let says = |list: &[&str]| said().any(|w| list.contains(&w.as_str()));
        let shaped = said().find(|w| SHAPED.contains(&w.as_str()));
        let pieces = counted && made.iter().any(|w| SMALL.contains(&w.as_str()));
        if says(&LOAVES) {
            Some(Self::Loaf)
        } else if pieces {
            // 'Makes 12 rolls', whatever they are set into.
            Some(Self::Small)
        } else if let Some(word) = shaped {
            let many = counted && made.contains(word);
            Some(if many { Self::Small } else { Self::Free })
        } else {
            says(&SMALL).then_some(Self::Small)
        }
    }

    /// What its pans, its count and its shaping make it, where no name says.
    pub fn of_method(recipe: &Recipe) -> Option<Self> {
        let mut pans = Vec::new();
        for fact in recipe.steps.iter().flat_map(|s| &s.facts) {
            if let FactKind::Pan { words: w, .. } = &fact.kind {
                pans.extend(words(w));
            }
        }
        let says = |list: &[&str]| pans.iter().any(|w| list.contains(&w.as_str()));
        if says(&LOAVES) || says(&["tin"]) && !says(&SMALL) {
            return Some(Self::Loaf);
        }
        let makes = recipe.makes.as_ref();
        let pieces = makes.and_then(|m| m.count).is_some_and(|(n, _)| n >= MANY);
        let shaped = recipe.steps.iter().any(|s| {
            let shapes = s.facts.iter().any(|f| f.does(Activity::Shape));
            shapes && words(&s.text).iter().any(|w| w == "piece" || w == "ball")
        });
        (pieces || shaped || says(&SMALL)).then_some(Self::Small)
    }
}

/// So many pieces are small ones.
const MANY: f64 = 4.0;

/// Styles of what is a cake where no name or count says more.
pub(super) const CAKES: [&str; 3] = ["butter_cake", "sponge_cake", "muffin_quick_bread"];

/// How long a bake of this size and style cools where nobody says.
pub(super) fn usual(recipe: &Recipe, part: &ReworkedComponent) -> &'static Usual {
    let cake = |key: &str| CAKES.contains(&key);
    let style = part.style.map(|s| s.style.key());
    table::of(match Piece::of(recipe) {
        Some(Piece::Loaf | Piece::Free) => "cool_deep",
        Some(Piece::Small) => "cool_small",
        None if style.is_some_and(cake) => "cool_cake",
        None => "cool",
    })
}

/// A bake cools as long as is usual for its size where nobody says.
pub(super) fn by_size(recipe: &Recipe, part: &ReworkedComponent, out: &mut [Placed]) {
    let row = usual(recipe, part);
    // What is baked again is sliced first, not eaten.
    let last = out.iter().rposition(|p| p.draft.what == "bake");
    let again = |n: usize| last.is_some_and(|last| n < last) && row.key == "cool_cake";
    let mut baked = false;
    for (n, p) in out.iter_mut().enumerate() {
        match p.draft.what {
            "bake" => baked = true,
            "boil" | "fry" => baked = false,
            "cool" if baked && !again(n) && p.draft.wait_basis == Basis::Guess => {
                if let Some((wait, usual)) = p.draft.wait.as_mut().zip(row.wait) {
                    wait.span = usual.span;
                }
            }
            _ => {}
        }
    }
}
