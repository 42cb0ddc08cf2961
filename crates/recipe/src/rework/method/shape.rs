//! Stretching and dividing: what a dough without gluten does instead.

use super::{Notes, PRACTICE};
use crate::recipe::Step;

/// What a step does to the dough by hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::rework) enum Hands {
    /// 'Stretch and fold.'
    Folds,
    /// 'Stretch by hand to 11 inches.'
    Stretches,
    /// 'Divide in 8 balls.'
    Balls,
}

/// What the hands do in a step, each once.
pub(in crate::rework) fn hands(text: &str) -> Vec<Hands> {
    const NO: &[&str] = &[
        "not", "don't", "don’t", "dont", "never", "without", "no", "avoid",
    ];
    let mut out = Vec::new();
    let mut add = |what| {
        if !out.contains(&what) {
            out.push(what);
        }
    };
    for sentence in text.to_lowercase().split(['.', ';', '!']) {
        let words: Vec<&str> = sentence
            .split(|c: char| !c.is_alphanumeric() && !matches!(c, '\'' | '’'))
            .filter(|w| !w.is_empty())
            .collect();
        let is = |i: usize, stem: &str| words.get(i).is_some_and(|w| w.starts_with(stem));
        let has = |list: &[&str]| words.iter().any(|w| list.contains(w));
        for i in 0..words.len() {
            let refused = words[i.saturating_sub(3)..i].iter().any(|w| NO.contains(w));
            if is(i, "coil") && is(i + 1, "fold") {
                add(Hands::Folds);
            }
            // Not 'stretchy'.
            let stretch = matches!(words[i], "stretch" | "stretches" | "stretching");
            if refused || !stretch {
                continue;
            }
            if (i + 1..i + 4).any(|j| is(j, "fold")) {
                add(Hands::Folds);
            } else if !has(&["clingfilm", "cling", "film", "wrap", "bacon", "until"]) {
                add(Hands::Stretches);
            }
        }
        let parts = has(&[
            "divide", "split", "portion", "shape", "roll", "form", "cut", "make",
        ]);
        if parts && has(&["ball", "balls"]) {
            add(Hands::Balls);
        }
    }
    out
}

impl Notes<'_> {
    /// Stretching, folding and balls of a yeast dough.
    pub(super) fn shaping(&mut self, step: &Step) {
        if !self.about.style.is_yeast_dough() || self.style() == "laminated" {
            return;
        }
        let n = step.number;
        for what in hands(&step.text) {
            let (rule, text) = match what {
                Hands::Folds => (
                    "no stretch and fold",
                    format!(
                        "Step {n} stretches and folds: there is no gluten to stretch. Leave it out; smooth the top with wet hands instead."
                    ),
                ),
                Hands::Stretches => (
                    "press, do not stretch",
                    format!(
                        "Step {n} stretches the dough: it will not stretch, it tears. Press it out with oiled or wet hands on baking paper."
                    ),
                ),
                Hands::Balls => (
                    "scoop wet dough",
                    format!(
                        "Step {n} makes balls: where the dough is too soft to roll, as it is above about 90 % hydration, weigh out the pieces, scoop them with oiled hands and smooth them with wet ones."
                    ),
                ),
            };
            self.say(Some(n), rule, PRACTICE, text);
        }
    }
}
