//! What cools before it is cut, or before something goes on it.

use super::build::Build;
use super::on_hot::goes_on_hot;
use super::order::{order, reaches};
use super::piece::{Piece, usual};
use super::step::{COOLS_ON, SHORT_COOL};
use super::stretch::when_cold;
use super::table::{self, Usual};
use super::task::{Basis, Place, Span, Task, Wait};
use super::warm::WARM_LIMIT;
use crate::sentences::{each, words};

/// Verbs of what goes on or into a bake that is cold.
const ON_COLD: [&str; 8] = [
    "assemble", "cover", "decorate", "frost", "ice", "layer", "pipe", "sandwich",
];

/// Verbs by which a filling comes to a raw dough.
const ON_DOUGH: [&str; 7] = ["fill", "layer", "line", "roll", "shape", "spoon", "spread"];

/// What a bake is called where it is said to be cold.
pub(super) const BAKES: [&str; 14] = [
    "biscuit", "bread", "bun", "cake", "case", "cookie", "crust", "layer", "loaf", "loave", "roll",
    "sponge", "tart", "tray",
];

/// Styles of a dough that a hot filling spoils: those with yeast, and these.
const BUTTERY: [&str; 3] = ["laminated", "pie_pastry", "rolled_cookie"];

/// Frosting and fillings go on what is cool; a boiled filling is cool before it goes on a raw dough.
pub(super) fn before_it_goes_on(build: &Build<'_>, list: &mut Vec<Task>, chains: &[Vec<usize>]) {
    for on in 0..list.len() {
        let Some(step) = list[on].step.and_then(|s| build.recipe.steps.get(s - 1)) else {
            continue;
        };
        // A bake comes out of the oven hot.
        if list[on].what == "take_out" || goes_on_warm(&step.text) {
            continue;
        }
        let name = words(&list[on].name);
        let does = |verbs: &[&str]| name.iter().any(|w| verbs.contains(&w.as_str()));
        let baked_after = (0..list.len()).any(|t| list[t].what == "bake" && reaches(list, on, t));
        if (does(&ON_COLD) || wants_cold(&step.text, &name)) && !baked_after {
            cool_bake(build, list, on);
        }
        let dough = build.w.rework.components[list[on].component].style;
        let raw =
            dough.is_some_and(|s| s.style.is_yeast_dough() || BUTTERY.contains(&s.style.key()));
        if raw && does(&ON_DOUGH) && baked_after {
            for chain in chains {
                cool_filling(list, chain, on);
            }
        }
    }
}

/// Whether the sentence of a step that speaks of a task by its name wants what it is done to cold: 'Glaze when
/// cool', 'Cut the cooled loaf'.
pub(super) fn wants_cold(text: &str, name: &[String]) -> bool {
    each(text).map(words).any(|said| {
        // 'Pour over the cold loaf', not 'rub in the cold butter'.
        let baked = said
            .windows(2)
            .any(|w| w[0] == "cold" && BAKES.iter().any(|b| w[1] == *b));
        let cold = baked || when_cold(&said);
        cold && name.iter().any(|w| said.contains(w))
    })
}

/// Whether the method wants it put on hot or warm: the words stand in the clause that puts it on, and
/// are not of the place or the water beside it.
fn goes_on_warm(text: &str) -> bool {
    text.split(['.', ';', ',']).any(|clause| {
        let said = words(clause);
        let says = |list: &[&str]| said.iter().any(|w| list.contains(&w.as_str()));
        says(&["hot", "warm"])
            && (says(&ON_COLD) || says(&ON_DOUGH))
            && !says(&["place", "spot", "room", "oven", "water", "knife"])
    })
}

/// Whether a task leaves what it holds cold.
fn cools(t: &Task) -> bool {
    let least = t.wait.map_or(0.0, |w| w.span.least);
    let long = least >= SHORT_COOL;
    // 'Leave overnight' off the heat.
    t.what == "rest" && least >= WARM_LIMIT
        || matches!(
            t.what,
            "cool" | "cool_rolls" | "cool_loaf" | "chill" | "freeze"
        ) && long
}

/// What goes on a bake waits until that is cool.
fn cool_bake(build: &Build<'_>, list: &mut Vec<Task>, on: usize) {
    let bakes = (0..list.len()).filter(|&t| list[t].what == "bake" && reaches(list, t, on));
    let bakes: Vec<usize> = bakes.collect();
    for bake in bakes {
        let cold = |t: usize| cools(&list[t]) && reaches(list, bake, t);
        if (0..list.len()).any(|t| cold(t) && reaches(list, t, on)) {
            continue;
        }
        if let Some(t) = (0..list.len()).find(|&t| cold(t) && !reaches(list, on, t)) {
            order(list, t, on);
            continue;
        }
        let baked = list[on].after.iter().copied();
        let after: Vec<usize> = baked
            .filter(|&a| a == bake || reaches(list, bake, a))
            .collect();
        for &a in &after {
            list[a].stands = list[a].stands.min(COOLS_ON);
        }
        let why = "The method does not say how long: what goes on a warm bake melts and slides. Ready when no warmth is felt underneath.";
        let row = usual(
            build.recipe,
            &build.w.rework.components[list[bake].component],
        );
        // By this name, whatever its size.
        let usual = Usual {
            wait: row.wait,
            ..table::of("cool").clone()
        };
        insert(list, (bake, &usual, "Cool completely"), after, on, why);
    }
}

/// Whether a task leaves what it holds hot: 'Mix flour, boil milk' is mixed first.
fn is_hot(t: &Task) -> bool {
    let says = |w: &String| matches!(w.as_str(), "boil" | "fry" | "simmer");
    t.simmers
        || matches!(t.what, "boil" | "fry")
        || t.wait.is_none() && words(&t.name).iter().any(says)
}

/// A boiled filling waits until it is cool, if it goes on a raw dough next.
fn cool_filling(list: &mut Vec<Task>, chain: &[usize], on: usize) {
    let Some(hot) = chain.iter().rposition(|&t| is_hot(&list[t])) else {
        return;
    };
    let end = chain.last().copied().unwrap_or_default();
    if chain.contains(&on)
        || chain[hot..].iter().any(|&t| cools(&list[t]))
        || !list[on].after.contains(&end)
    {
        return;
    }
    let why = "The method does not say so: hot, it melts the butter of the dough and wakes its yeast too soon, or kills it. Spread it thin to cool; ready when it is cool to the touch.";
    let row = table::of("cool_filling");
    insert(list, (end, row, "Cool"), vec![end], on, why);
}

/// Puts a cooling between what was made and what it goes on or under.
fn insert(
    list: &mut Vec<Task>,
    (of, usual, name): (usize, &Usual, &str),
    after: Vec<usize>,
    on: usize,
    why: &str,
) {
    let task = Task {
        after,
        notes: vec![why.to_owned()],
        ..Task::usual((list[of].component, &list[of].of), usual, name)
    };
    let new = list.len();
    list[on].after.retain(|a| !task.after.contains(a));
    list[on].after.push(new);
    list.push(task);
}

/// A bread of this kind cools to the middle before it is cut.
pub(super) fn before_cutting(build: &Build<'_>, list: &mut Vec<Task>, chains: &[Vec<usize>]) {
    for c in 0..chains.len() {
        let component = &build.w.rework.components[c];
        // Its bake may stand with the part that uses it.
        let stands = build.owners.iter().zip(build.chains).rev();
        let mut with = stands.filter(|(o, _)| **o == c).map(|(_, s)| *s);
        let chain = with
            .find(|&s| chains[s].iter().any(|&t| list[t].what == "bake"))
            .map_or(&chains[c], |s| &chains[s]);
        let asked = component
            .method_notes
            .iter()
            .any(|n| n.rule == "cool before cutting");
        let Some(baked) = chain.iter().rposition(|&t| list[t].what == "bake") else {
            continue;
        };
        let mut out = chain[baked..].iter().copied();
        let after = out.find(|&t| matches!(list[t].what, "cool" | "take_out"));
        let out = after.unwrap_or(chain[baked]);
        let hot = goes_on_hot(build, list, out, asked);
        if !asked {
            continue;
        }
        let by_method = || Piece::of_method(build.recipe);
        let piece = match Piece::of(build.recipe) {
            Some(Piece::Free) => by_method().filter(|p| *p == Piece::Loaf),
            named => named.or_else(by_method),
        };
        let (small, loaf) = (table::of("cool_rolls"), table::of("cool_loaf"));
        let usual = if piece == Some(Piece::Small) {
            small
        } else {
            loaf
        };
        let Some(mut wait) = usual.wait else { continue };
        if let (None, Some(bake), Some(least)) = (piece, list[baked].wait, small.wait) {
            wait.span = as_thick(bake.span, least.span, wait.span);
        }
        let cools = |t: usize| list[t].what == "cool";
        let wait_least = wait.span.least;
        let long = |t: usize| {
            let wait = list[t].wait;
            wait.is_some_and(|x| x.span.least >= wait_least)
        };
        let last = chain[baked..].iter().copied().rev().find(|&t| cools(t));
        if last.is_some_and(long) {
            continue;
        }
        // The method's own cooling is this one; not where it is brief and something goes on warm.
        let goes_on = |t: usize| list.iter().any(|o| o.after.contains(&t) && !o.left_out);
        let brief = |t: usize| {
            let wait = list[t].wait.filter(|_| list[t].wait_basis != Basis::Guess);
            wait.is_some_and(|w| w.span.least < SHORT_COOL)
        };
        let is_it = |t: &usize| {
            list[*t].wait.is_some_and(|w| w.place == Place::Bench) && !(brief(*t) && goes_on(*t))
        };
        if let Some(cool) = last.filter(is_it) {
            same(&mut list[cool], usual, wait);
            continue;
        }
        let mut task = Task {
            hands: Span::one(0.0),
            hands_basis: Basis::Reworked,
            wait: Some(wait),
            wait_basis: Basis::Reworked,
            notes: vec![CUT_AT.to_owned()],
            ..Task::usual((c, &component.name), usual, BEFORE_CUTTING)
        };
        task.after = if hot.is_empty() { vec![out] } else { hot };
        task.soon.clone_from(&task.after);
        list.push(task);
    }
}

/// How long a bake of unknown thickness cools, between small pieces and a loaf: what bakes longer is thicker, and
/// cools longer by as much (trade: bake times go with the thickness to a power, and so does heat on its way out; that
/// the power is one is common practice, no source).
fn as_thick(bake: Span, small: Span, loaf: Span) -> Span {
    /// A loaf that cools for the whole of its time is baked for so many minutes.
    const OF_A_LOAF: f64 = 45.0;
    let share = bake.usual / OF_A_LOAF;
    let five = |m: f64| (m / 5.0).round() * 5.0;
    let of = |small: f64, loaf: f64| five(loaf * share).clamp(small, loaf);
    Span::of(
        of(small.least, loaf.least),
        of(small.usual, loaf.usual),
        loaf.most,
    )
}

/// Makes the cooling that a method asks for the one that a bread without gluten needs.
fn same(cool: &mut Task, usual: &'static Usual, wait: Wait) {
    if let Some(theirs) = cool.wait.filter(|_| cool.wait_basis != Basis::Guess) {
        let theirs = super::own::minutes_words(theirs.span.usual);
        cool.was = Some(format!("cool, {theirs}"));
    }
    cool.name = BEFORE_CUTTING.to_owned();
    cool.wait = Some(wait);
    (cool.wait_basis, cool.longest_ours) = (Basis::Reworked, false);
    cool.stands = usual.stands;
    cool.notes.push(CUT_AT.to_owned());
    usual.source.clone_into(&mut cool.source);
}

/// How the cooling of a bread is called.
pub(super) const BEFORE_CUTTING: &str = "Cool before cutting";

/// When a bread may be cut.
pub(super) const CUT_AT: &str = "Ready when the middle is below 35 °C.";

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a bake of 30 minutes is two thirds of a loaf's 45; no shorter than rolls, no longer than a loaf.
    #[test]
    fn a_bake_cools_as_long_as_it_is_thick() {
        let span = |what: &str| table::of(what).wait.expect("a wait").span;
        let (small, loaf) = (span("cool_rolls"), span("cool_loaf"));
        for (bake, least, usual) in [
            (30.0, 120.0, 160.0),
            (8.0, 45.0, 60.0),
            (60.0, 180.0, 240.0),
        ] {
            let cool = as_thick(Span::one(bake), small, loaf);
            assert_eq!((cool.least, cool.usual), (least, usual), "{bake}");
        }
    }

    #[test]
    fn only_what_is_put_on_warm_goes_on_warm() {
        for text in [
            "Spread the hot filling over the dough.",
            "Pour the glaze over while warm; spread the warm jam.",
        ] {
            assert!(goes_on_warm(text), "{text}");
        }
        for text in [
            "Spread with the filling, roll up. Leave in a warm place for 1 hour.",
            "Roll out the dough and spread the filling, then let it rise somewhere warm.",
            "Fill the cake and cut it with a hot knife.",
            "Frost the cooled cake.",
        ] {
            assert!(!goes_on_warm(text), "{text}");
        }
    }
}
