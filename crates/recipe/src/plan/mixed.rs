//! What mixes or ripens a part where the method's words alone make no task of it.

use super::build::{Build, Placed, placed};
use super::puts::own_lines;
use super::step::Draft;
use super::table;
use super::taken;
use super::task::{Basis, Place, Span, Wait};
use crate::beforehand::Beforehand;
use crate::keeping::how_it_keeps;
use crate::recipe::{FactKind, Step};
use crate::rework::{ReworkedComponent, in_the_cold, is_folded_in, owners};
use crate::sentences::{each, sentence, words};

/// Kinds of work after which a mixed dough or batter rests.
pub(super) const MIXING: [&str; 8] = [
    "mix", "paste", "knead", "cream", "fold", "whip", "rub_in", "other",
];

/// What ripens takes so many minutes at least; less is another wait (common practice, no source).
const RIPENS: f64 = 120.0;

impl Build<'_> {
    /// A poolish that is left 'until it bubbles' ripens as long as another step of it says, or the page's
    /// method where the steps are the baker's own.
    pub(super) fn ripens(&self, c: usize, out: &mut Vec<Placed>) {
        let part = self.recipe.components.get(c);
        let Some(part) = part.filter(|p| p.beforehand() == Some(Beforehand::Ferment)) else {
            return;
        };
        let waits = |p: &Placed| matches!(p.draft.what, "rest" | "rise" | "chill");
        let told = |p: &Placed| waits(p) && p.draft.wait_basis != Basis::Guess;
        let mixed = out.iter().rposition(|p| p.step.is_some());
        let Some(mixed) = mixed.filter(|_| !out.iter().any(told)) else {
            return;
        };
        let name = words(&part.name);
        let page = &self.w.formula.recipe;
        let theirs = page.steps.iter().zip(owners(page));
        let steps = self.recipe.steps.iter().zip(self.owners.iter().copied());
        let steps = steps.chain(theirs).filter(|(_, owner)| *owner == c);
        let said = steps.flat_map(|(s, _)| s.facts.iter().map(move |f| (s, f)));
        let mut hours = said.filter_map(|(s, f)| {
            let FactKind::Duration { value, .. } = &f.kind else {
                return None;
            };
            let (span, at) = (Span::from(*value), f.span.start);
            let words = words(sentence(&s.text, at));
            let named = name.last().is_some_and(|n| words.contains(n));
            let ripens = span.least >= RIPENS && !how_it_keeps(&s.text, at, Some(span.most));
            (named && ripens).then_some((span, in_the_cold(&s.text, at)))
        });
        let Some((span, cold)) = hours.next() else {
            if !out.iter().any(waits) {
                let words = "The method does not say how long it ripens: no time is planned for that, give it a step of your own.";
                out[mixed].draft.notes.push(words.to_owned());
            }
            return;
        };
        let at = out.iter().position(waits).unwrap_or_else(|| {
            let rest = placed(out[mixed].step, Draft::usual(table::of("rest"), "Rest"));
            out.insert(mixed + 1, rest);
            mixed + 1
        });
        let d = &mut out[at].draft;
        let place = if cold { Place::Fridge } else { Place::Bench };
        d.wait = d.wait.map(|w| Wait { span, place, ..w });
        d.wait_basis = Basis::Said;
    }

    /// Where a part is made that a step only tells to make, and that step: 'Make the batter and spread it in the tin'.
    pub(super) fn only_told(&self, c: usize, out: &[Placed]) -> Option<(usize, usize)> {
        let works = |p: &Placed| {
            let d = &p.draft;
            is_heat(d) && d.what != "bake" || mixes(p) && d.what != "other" && d.is_work()
        };
        let tells = |s: &&Step| {
            let said = words(&s.text);
            let is =
                |n: usize, any: &[&str]| said.get(n).is_some_and(|w| any.contains(&w.as_str()));
            let told = each(&s.text).next().is_some_and(|s| s.contains(':'));
            let make = !told && is(0, &["make", "prepare"]) && is(1, &["the", "a", "your"]);
            make && self.chains[s.number - 1] == c
        };
        let step = self.recipe.steps.iter().find(tells)?.number;
        let many = self.w.rework.components[c].lines.len() > 1;
        let at = out.iter().position(|p| p.step >= Some(step))?;
        // 'Make the custard just before' is told by these words already.
        let told = out[at].draft.name.starts_with("Make ");
        (many && !told && !out.iter().any(works)).then_some((at, step))
    }

    /// Whether a part is a list, each line of which the method takes by its name: 'To finish' with an egg and pearl
    /// sugar.
    fn is_a_list(&self, c: usize) -> bool {
        let name = words(&self.w.rework.components[c].name);
        let said: Vec<String> = self
            .recipe
            .steps
            .iter()
            .flat_map(|s| words(&s.text))
            .collect();
        let lines = own_lines(self, c);
        name.first().is_some_and(|w| w == "to") && lines.iter().all(|l| said.contains(l))
    }

    /// What a component needs that no step speaks of.
    pub(super) fn without_method(
        &self,
        c: usize,
        component: &ReworkedComponent,
        out: &mut Vec<Placed>,
    ) {
        let guess = |what: &str, name: &str| placed(None, Draft::usual(table::of(what), name));
        if is_folded_in(self.recipe, &component.name) {
            out.push(guess("roll", "Beat the butter flat"));
            return;
        }
        // 'Press in the plums': as they are.
        let as_it_is = component.style.is_none() && taken::is_taken(self, c);
        // Flowers and biscuits to finish with: nothing of them is weighed, so nothing is mixed.
        let nothing = component.reworked.total.likely().as_grams() <= 0.0;
        if as_it_is || nothing || taken::is_mixed(self, c) || self.is_a_list(c) {
            return;
        }
        out.push(guess("mix", "Mix"));
        let style = component.style.map(|s| s.style);
        let baked = style.is_some_and(|s| s.is_baked());
        if baked && self.recipe.steps.is_empty() {
            if style.is_some_and(|s| s.is_yeast_dough()) {
                out.push(guess("shape", "Shape"));
                out.push(guess("rise", "Rise"));
            }
            out.push(guess("bake", "Bake"));
        }
    }
}

fn is_heat(d: &Draft) -> bool {
    matches!(d.what, "bake" | "boil" | "fry")
}

/// Whether a stretch mixes: 'Boil, mix' and 'Line pan, whip whites' do.
fn mixes(p: &Placed) -> bool {
    const VERBS: [&str; 7] = ["mix", "whip", "cream", "fold", "knead", "rub", "toss"];
    let verbs = p
        .draft
        .name
        .split(", ")
        .filter_map(|n| words(n).into_iter().next());
    MIXING.contains(&p.draft.what) || verbs.into_iter().any(|v| VERBS.contains(&v.as_str()))
}

/// Whether no step says when a part is mixed: one whose eggs and milk come together before the next takes
/// it in, or a dough that is rolled or shaped.
///
/// # Inputs
/// - `elsewhere`: whether a step of another part mixes it: 'Whisk the cream and eggs with the leeks, pour into the case'.
pub(super) fn goes_unmixed(
    part: &ReworkedComponent,
    all: &[Placed],
    elsewhere: impl Fn() -> bool,
) -> bool {
    let mixed = |all: &[Placed]| all.iter().any(mixes);
    let shaped = |p: &Placed| matches!(p.draft.what, "roll" | "shape" | "rise");
    let flour = part.reworked.flour.likely().as_grams() > 0.0;
    // 'Make the pastry and chill'.
    let begins = |p: &Placed| !matches!(p.draft.what, "weigh" | "hydrate");
    let chilled = all.iter().position(begins);
    let chilled = chilled.filter(|&at| all[at].draft.what == "chill");
    match chilled
        .or_else(|| all.iter().position(shaped))
        .filter(|_| flour)
    {
        Some(at) => part.lines.len() > 1 && !mixed(&all[..at]),
        None => {
            let cooked = all.iter().any(|p| is_heat(&p.draft) && p.cooks);
            part.spoils.len() > 1 && !mixed(all) && !cooked && !elsewhere()
        }
    }
}
