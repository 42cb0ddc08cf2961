//! Tells of some words of a step whose they are.

use super::about;
use super::named::{labelled, made, made_for, object};
use super::part::{Part, Parts};
use crate::aside::taking;
use crate::recipe::{Recipe, Step};
use crate::sentences::words;

/// Tells which component some words of a step are about.
pub(crate) struct Whose(Parts);

impl Whose {
    pub fn of(recipe: &Recipe) -> Self {
        Self(Parts::of(&recipe.components))
    }
    /// The component that some words are about, where what stands before is about `now`.
    pub fn about(&self, words: &Step, now: usize) -> usize {
        match self.0.known.len() {
            0 | 1 => 0,
            _ => about(words, &self.0, now),
        }
    }
    /// The component that a sentence says it makes: 'Make the streusel', 'rub in the butter for the streusel'.
    pub fn made(&self, sentence: &Step) -> Option<usize> {
        let said = words(&taking(&sentence.text));
        let known = &self.0.known;
        let label = || labelled(&sentence.text, known);
        let one = || (!said.is_empty()).then(|| made(&said, &self.0)).flatten();
        let made_for = || made_for(sentence, &said, &self.0);
        (known.len() > 1).then(|| label().or_else(one).or_else(made_for))?
    }
    /// The component that the first words of a text do something to by its name: 'Toss the filling'.
    pub fn named(&self, text: &str) -> Option<usize> {
        let said = words(&taking(text));
        object(&said[..said.len().min(5)], &self.0)
    }
    /// The component that 'glaze' and 'drizzle' mean, where none is called so.
    pub fn poured(&self) -> Option<usize> {
        self.0.poured()
    }
    /// The dough or batter, where a component is what goes on or into it: a topping, a filling, a glaze.
    pub fn under(&self, c: usize) -> Option<usize> {
        let inner = matches!(
            self.0.known.get(c)?.part,
            Part::Topping | Part::Filling | Part::Glaze
        );
        self.0.main.filter(|m| inner && *m != c)
    }
}
