//! Stretches that the rework puts between those of a method: its rest, the chill of a soft dough, taking a bake out.

use super::build::{Placed, placed};
use super::mixed::MIXING;
use super::step::{Draft, capital};
use super::table;
use super::task::{Basis, Place, Span, Wait};
use crate::aside::taking;
use crate::recipe::Recipe;
use crate::rework::ReworkedComponent;
use quantity::{Spread, Time};

/// Behind the yeast that a step stands in the liquid: its rest, else its first work.
pub(super) fn yeast_stood(out: &[Placed], step: usize, weighed: usize) -> usize {
    let mine = |p: &Placed| p.step == Some(step);
    let is = |what: &str| {
        out.iter()
            .position(|p| mine(p) && p.draft.what.starts_with(what))
    };
    // Milk that was heated cools first.
    let place = is("rest")
        .or_else(|| is("cool"))
        .or_else(|| out.iter().position(mine));
    place.map_or(weighed, |at| at + 1)
}

/// The rest of the rework, where no step of the original has it.
pub(super) fn rest_after_mixing(
    component: &ReworkedComponent,
    recipe: &Recipe,
    out: &mut Vec<Placed>,
) {
    let Some(rest) = component
        .rest
        .as_ref()
        .filter(|r| !r.kept && r.step.is_none())
    else {
        return;
    };
    let span = Span::from(rest.minutes);
    let why = format!("{}.", capital(rest.why));
    if component.style.is_some_and(|s| s.style.key() == "choux")
        && cools_paste(recipe, out, (span, &why))
    {
        return;
    }
    let mixed = |p: &Placed| p.draft.is_work() && MIXING.contains(&p.draft.what);
    // Not the butter that is browned first.
    let first = out.iter().position(|p| mixed(p) && p.draft.what != "other");
    let first = first.or_else(|| out.iter().position(mixed));
    let Some(first) = first else { return };
    // Yeast stands and psyllium gels between two mixings.
    let goes_on = |p: &Placed| mixed(p) || matches!(p.draft.what, "rest" | "hydrate");
    let run =
        |from: usize, out: &[Placed]| from + out[from..].iter().take_while(|p| goes_on(p)).count();
    let mut stop = run(first, out);
    // Flour or liquid comes to it behind what is melted or boiled meanwhile.
    loop {
        let melts = |p: &&Placed| matches!(p.draft.what, "melt" | "boil");
        let next = stop + out[stop..].iter().take_while(melts).count();
        let brings = |n: usize| mixed(&out[n]) && names(recipe, out, n, &BRINGS);
        let more = run(next, out);
        if next == stop || !(next..more).any(brings) {
            break;
        }
        stop = more;
    }
    // The method rests it already, only not so long: there, not again once it is spread.
    let spread = |p: &Placed| p.draft.what == "other";
    let end = stop
        - out[first..stop]
            .iter()
            .rev()
            .take_while(|p| spread(p))
            .count();
    let rests = out[first..end]
        .last()
        .is_some_and(|p| p.draft.what == "rest");
    // 'Rub in the butter. Chill': it rests there.
    let chills = |p: &Placed| p.draft.what == "chill";
    let at = if rests {
        Some(end - 1)
    } else {
        Some(stop).filter(|&n| out.get(n).is_some_and(chills))
    };
    if let Some(d) = at.map(|at| &mut out[at].draft)
        && let Some(wait) = &mut d.wait
    {
        if wait.span.least < span.least {
            let was = super::own::span_words(wait.span);
            d.was = Some(format!("{}, {was}", d.what));
            let most = if d.what == "chill" {
                wait.span.most.max(span.most)
            } else {
                span.most
            };
            wait.span = Span { most, ..span };
            if rest.is_cold() {
                wait.place = Place::Fridge;
            }
            (d.wait_basis, d.longest_ours) = (Basis::Reworked, false);
            d.source.clone_from(&rest.source);
            d.notes.push(why);
        }
        return;
    }
    // A crumble rests before a later step scatters it.
    // It is whole when it rests: 'Mix. Pat out and cut into 8 wedges.'
    let cuts = |p: &Placed| {
        let verb = p.draft.name.split([' ', ',']).next();
        matches!(verb, Some("Cut" | "Slice"))
    };
    let later = end > first
        && end < stop
        && (out[end].step != out[end - 1].step || out[end..stop].iter().any(cuts));
    let stop = if later { end } else { stop };
    let step = out[stop - 1].step;
    let mut d = Draft::usual(table::of("rest"), "Rest");
    d.wait = Some(Wait {
        span,
        may: true,
        place: if rest.is_cold() {
            Place::Fridge
        } else {
            Place::Bench
        },
        oven: None,
    });
    d.wait_basis = Basis::Reworked;
    d.source.clone_from(&rest.source);
    d.notes = vec![why];
    out.insert(stop, placed(step, d));
}

/// What makes a dough or batter of what is mixed already, when it comes to it.
const BRINGS: [&str; 14] = [
    "flour",
    "oatmeal",
    "cornmeal",
    "polenta",
    "semolina",
    "dry",
    "wet",
    "liquid",
    "milk",
    "buttermilk",
    "water",
    "egg",
    "syrup",
    "batter",
];

/// Whether the words of a stretch, up to the next of its step, name one of these.
fn names(recipe: &Recipe, out: &[Placed], n: usize, words: &[&str]) -> bool {
    let Some(step) = out[n].step.and_then(|s| recipe.steps.get(s - 1)) else {
        return false;
    };
    let from = out[n].draft.at;
    let mine = out.iter().filter(|p| p.step == out[n].step);
    let next = mine.map(|p| p.draft.at).filter(|at| *at > from).min();
    let said = step.text.get(from..next.unwrap_or(step.text.len()));
    crate::sentences::words(&taking(said.unwrap_or_default()))
        .iter()
        .any(|w| words.contains(&w.as_str()))
}

/// A choux paste cools before the eggs come to it: where the method cools it, else behind the flour. Whether it
/// is told so.
fn cools_paste(recipe: &Recipe, out: &mut Vec<Placed>, (span, why): (Span, &str)) -> bool {
    let has = |out: &[Placed], n: usize, word: &str| {
        out[n].draft.is_work() && names(recipe, out, n, &[word])
    };
    let Some(paste) =
        (0..out.len()).find(|&n| out[n].draft.what != "weigh" && has(out, n, "flour"))
    else {
        return false;
    };
    if let Some(p) = out
        .get_mut(paste + 1)
        .filter(|p| p.draft.what.starts_with("cool") || p.draft.what == "rest")
        && let Some(wait) = &mut p.draft.wait
    {
        wait.span.most = wait.span.least.max(span.most);
        p.draft.notes.push(why.to_owned());
        return true;
    }
    if has(out, paste, "egg") {
        let words = super::own::span_words(span);
        let note = format!("Let the paste cool {words} before the eggs go in. {why}");
        out[paste].draft.notes.push(note);
        return true;
    }
    let mut d = Draft::usual(table::of("cool_filling"), "Cool the paste");
    d.wait = d.wait.map(|w| Wait { span, ..w });
    d.wait_basis = Basis::Reworked;
    d.notes = vec![why.to_owned()];
    let step = out[paste].step;
    out.insert(paste + 1, placed(step, d));
    true
}

/// The flat sheet of a soft dough is chilled before it is filled.
pub(super) fn chill_flat(component: &ReworkedComponent, out: &mut Vec<Placed>) {
    let style = component.style.map(|s| s.style.key());
    if style != Some("enriched_dough") {
        return;
    }
    let steps: Vec<usize> = component
        .method_notes
        .iter()
        .filter(|n| n.rule == "roll cold")
        .filter_map(|n| n.step)
        .collect();
    for step in steps {
        let rolled = |p: &Placed| {
            p.step == Some(step)
                && p.draft.is_work()
                && p.draft.name.to_lowercase().contains("roll")
        };
        let Some(at) = out.iter().position(rolled) else {
            continue;
        };
        // The method chills it itself.
        if out.get(at + 1).is_some_and(|p| p.draft.what == "chill") {
            continue;
        }
        let mut d = Draft::usual(table::of("chill"), "Chill the flat sheet");
        d.wait = d.wait.map(|w| Wait {
            span: Span::from(Spread::new(
                Time::minutes(15.0),
                Time::minutes(20.0),
                Time::minutes(30.0),
            )),
            ..w
        });
        d.wait_basis = Basis::Reworked;
        d.stands = 15.0;
        out.insert(at + 1, placed(Some(step), d));
    }
}

/// What is made on the stove to go on a hot bake is made while that bakes.
pub(super) fn ready_for_the_bake(out: &mut [Placed]) {
    for n in 2..out.len() {
        let (made, bakes) = (&out[n - 1].draft, &out[n - 2].draft);
        if out[n].draft.on_hot && made.is_work() && bakes.what == "bake" {
            out[n - 1].draft.beside = true;
        }
    }
}

/// Oil gets hot while what is fried in it rises or rests.
pub(super) fn hot_for_frying(out: &mut [Placed]) {
    for n in 1..out.len() {
        if out[n].draft.what == "heat_oil" && !out[n - 1].draft.is_work() {
            out[n].draft.beside = true;
        }
    }
}

/// Somebody takes a bake out when it is done.
pub(super) fn take_out(out: &mut Vec<Placed>) {
    let mut at = 0;
    while at < out.len() {
        let step = out[at].step;
        let near = |p: &Placed| p.step.zip(step).is_some_and(|(b, a)| b <= a + 1);
        // What is done while it bakes stands before.
        let beside = out[at + 1..].iter().take_while(|p| p.draft.beside).count();
        let next = at + 1 + beside;
        let what = out.get(next).filter(|p| p.draft.what != "bake" || near(p));
        let what = what.map(|p| p.draft.what);
        if out[at].draft.what == "bake" && !matches!(what, Some("bake" | "cool" | "rest")) {
            let d = Draft::usual(table::of("take_out"), "Take out of the oven");
            out.insert(next, placed(step, d));
        }
        at += 1;
    }
}
