//! Which part each step stands with in the order of work, and what it does beside that.

use crate::aside::{Beside, beside};
use crate::own_method;
use crate::read;
use crate::recipe::{Recipe, Step};
use crate::rework::about_words;
use crate::sentences::{sentences, words};
use crate::sheet::{Sheet, Worked};
use std::ops::Range;

/// The recipe with the baker's own method in place of the page's, where there is one, and whether there is.
#[must_use]
pub fn by_own_method(w: &Worked, sheet: &Sheet) -> (Recipe, bool) {
    let own = own_steps(w, sheet.method.as_deref().unwrap_or_default());
    let own_method = !own.is_empty();
    let mut recipe = w.formula.recipe.clone();
    if own_method {
        recipe.methods.clear();
        recipe.steps = own;
    }
    (recipe, own_method)
}

/// The component each step stands with in the order of work.
pub(super) fn chains(w: &Worked, recipe: &Recipe, owners: &[usize]) -> Vec<usize> {
    recipe.in_order_of_work(owners, |taken, own| {
        let mut mine = w.rework.components.iter().take(own);
        mine.position(|c| c.lines.iter().any(|l| l.component == Some(taken)))
    })
}

/// Work that a step does beside its own: beside a wait, or on another part begun beforehand.
pub(super) struct Strand {
    pub beside: Beside,
    /// The component it is about.
    pub of: usize,
}

/// By step, the work beside its own, where it does any.
pub(super) fn strands(recipe: &Recipe, chains: &[usize]) -> Vec<Option<Strand>> {
    let about = |step: &Step, work: &Range<usize>, chain: usize| {
        let inside = |f: &&crate::recipe::Fact| work.contains(&f.span.start);
        let alone = Step {
            text: step.text[work.clone()].to_owned(),
            facts: step.facts.iter().filter(inside).cloned().collect(),
            ..step.clone()
        };
        about_words(recipe, &alone, chain)
    };
    let steps = recipe.steps.iter().zip(chains);
    let of = |(step, &chain): (&Step, &usize)| {
        if let Some(beside) = beside(&step.text) {
            let of = about(step, &beside.work, chain);
            return Some(Strand { beside, of });
        }
        // 'Mix the poolish and leave overnight. Pour the water over the seeds for the soaker.'
        let begun = |c: usize| {
            let part = recipe.components.get(c);
            part.is_some_and(|p| p.beforehand().is_some())
        };
        let mut sentences = sentences(&step.text).into_iter();
        let other = sentences.find_map(|work| {
            let of = about(step, &work, chain);
            (of != chain && begun(of)).then_some((work, of))
        });
        let (work, of) = other.filter(|_| begun(chain) && step.component.is_none())?;
        let clause = work.start..work.start;
        Some(Strand {
            beside: Beside { clause, work },
            of,
        })
    };
    steps.map(of).collect()
}

/// The baker's own steps as steps of a recipe, each with the part that its heading names.
fn own_steps(w: &Worked, method: &str) -> Vec<Step> {
    let names: Vec<_> = w.rework.components.iter().map(|c| words(&c.name)).collect();
    let mut out: Vec<Step> = Vec::new();
    for section in own_method::steps(method) {
        let heading = section.heading.as_deref().map(words).unwrap_or_default();
        let shared = |c: &usize| names[*c].iter().filter(|n| heading.contains(n)).count();
        let named = (0..names.len()).filter(|c| shared(c) > 0).rev();
        let part = named.max_by_key(shared);
        for text in &section.steps {
            out.push(read::step(out.len() + 1, text, part));
        }
    }
    out
}
