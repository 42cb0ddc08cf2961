//! Dividing: what a dough too soft to roll does instead.

use super::{Notes, PRACTICE};
use crate::recipe::Step;

/// Whether a step makes balls: 'divide in 8 balls'.
pub(in crate::rework) fn makes_balls(text: &str) -> bool {
    let text = text.to_lowercase();
    text.split(['.', ';', '!']).any(|sentence| {
        let has = |list: &[&str]| {
            sentence
                .split(|c: char| !c.is_alphanumeric())
                .any(|w| list.contains(&w))
        };
        has(&[
            "divide", "split", "portion", "shape", "roll", "form", "cut", "make",
        ]) && has(&["ball", "balls"])
    })
}

impl Notes<'_> {
    /// Balls of a yeast dough.
    pub(super) fn balls(&mut self, step: &Step) {
        let style = self.about.style;
        if !style.is_yeast_dough() || style.key() == "laminated" || !makes_balls(&step.text) {
            return;
        }
        let n = step.number;
        self.say(
            Some(n),
            "scoop wet dough",
            PRACTICE,
            format!(
                "Step {n} makes balls: where the dough is too soft to roll, as it is above about 90 % hydration, weigh out the pieces, scoop them with oiled hands and smooth them with wet ones."
            ),
        );
    }
}
