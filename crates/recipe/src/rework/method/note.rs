//! What a note for the method holds, and how it calls the steps.

use super::NotedBake;
use crate::recipe::Recipe;
use quantity::{Spread, Temperature, Time};
use std::ops::Range;

/// A note for the method.
#[derive(Debug, Clone, PartialEq)]
pub struct MethodNote {
    /// The step of the original it is about.
    pub step: Option<usize>,
    /// What to do.
    pub text: String,
    /// The rule it follows.
    pub rule: &'static str,
    /// Where the rule comes from.
    pub source: String,
    /// The words of the step it answers, where it answers words.
    pub aid: Option<Aid>,
    /// The still oven it asks for, from coolest to hottest, stage by stage.
    pub ovens: Vec<(Temperature, Temperature)>,
    /// The step whose first rise is not had any more: one rise is enough.
    pub leaves_out: Option<usize>,
    /// How long the one rise that is left takes as the original has it, where the one left out was longer: its
    /// step is this note's.
    pub one_rise: Option<Spread<Time>>,
    /// The bake it is about, where it says how long that takes.
    pub(in crate::rework) bake: Option<NotedBake>,
}

/// What a step says that only wheat needs, and what takes its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Aid {
    /// What is found: `knead`, `windowpane`, `second_rise` …, a key of `method_aids.tsv`.
    pub found: &'static str,
    /// The bytes of the step's text that say it.
    pub span: Range<usize>,
    /// What to do instead.
    pub instead: String,
    /// How to know that it is right.
    pub look_for: String,
}

impl MethodNote {
    /// The words of the original's step that the note answers: for the developer's eyes, never
    /// printed on a card.
    ///
    /// # Inputs
    /// - `recipe`: the recipe the note was made for.
    #[must_use]
    pub fn words<'a>(&self, recipe: &'a Recipe) -> Option<&'a str> {
        let step = recipe.steps.iter().find(|s| Some(s.number) == self.step)?;
        step.text.get(self.aid.as_ref()?.span.clone())
    }

    /// Its words, with each step called as its page calls it.
    #[must_use]
    pub fn shown(&self, recipe: &Recipe) -> String {
        renumbered(&self.text, |step, n| {
            format!("{step} {}", recipe.step_label(n))
        })
    }

    /// Whose step it is of, in front of its words, where the notes of its part are of steps of two methods:
    /// `In this recipe: `, `In ‘Puff pastry’: `; empty elsewhere.
    ///
    /// # Inputs
    /// - `all`: the notes of its part.
    #[must_use]
    pub fn whose(&self, all: &[Self], recipe: &Recipe) -> String {
        let of = |n: &Self| Some(recipe.step_in_method(n.step?).1);
        let Some(mine) = of(self) else {
            return String::new();
        };
        if all.iter().filter_map(of).all(|other| other == mine) {
            return String::new();
        }
        match mine {
            Some(title) => format!("In ‘{}’: ", one_line(title)),
            None => "In this recipe: ".to_owned(),
        }
    }

    /// What is said of it everywhere: [whose](Self::whose) step, then its words.
    ///
    /// # Inputs
    /// - `all`: the notes of its part.
    /// - `own`: beside the baker's own method, with other numbers.
    #[must_use]
    pub fn told(&self, all: &[Self], recipe: &Recipe, own: bool) -> String {
        let words = match own {
            true => self.of_original(recipe),
            false => self.shown(recipe),
        };
        format!("{}{words}", self.whose(all, recipe))
    }

    /// Its words beside the baker's own method, whose steps have numbers of their own: `The original’s step 2
    /// chills …`.
    #[must_use]
    pub fn of_original(&self, recipe: &Recipe) -> String {
        renumbered(&self.text, |step, n| {
            let the = if step == "Step" { "The" } else { "the" };
            format!("{the} original’s step {}", recipe.step_label(n))
        })
    }
}

/// A title without line breaks.
fn one_line(title: &str) -> String {
    let words = title.split(|c: char| c.is_control() || c.is_whitespace());
    let words: Vec<&str> = words.filter(|w| !w.is_empty()).collect();
    words.join(" ")
}

/// A note's steps, called otherwise: `Step 4 rolls …, as in step 2`.
///
/// # Arguments
/// * `to` — from `Step` or `step` and the number to the words for them.
pub(super) fn renumbered(text: &str, to: impl Fn(&str, usize) -> String) -> String {
    let mut out = String::with_capacity(text.len());
    let mut from = 0;
    let all = ["Step", "step"].into_iter();
    let mut found: Vec<_> = all.flat_map(|word| text.match_indices(word)).collect();
    found.sort_unstable();
    for (at, word) in found {
        let Some(rest) = text[at + word.len()..].strip_prefix(' ') else {
            continue;
        };
        let digits = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        if let Ok(number) = rest[..digits].parse() {
            out.push_str(&text[from..at]);
            out.push_str(&to(word, number));
            from = at + word.len() + 1 + digits;
        }
    }
    out.push_str(&text[from..]);
    out
}
