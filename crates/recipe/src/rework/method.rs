//! Notes for the method: what to do differently at which step, in our words.

mod aids;
mod bake;
mod baked_in;
mod bench;
mod facts;
mod gel;
mod note;
mod oven;
pub(super) mod rest;
mod rises;
mod say;
pub(super) mod shape;
#[cfg(test)]
mod tests;

use baked_in::NotedBake;
pub(crate) use baked_in::{BY_HEAT, ChosenBake, SAME_OVEN};
pub(super) use facts::{does, last_of};
pub(crate) use facts::{in_the_cold, longer, names_no_longest, sets_a_custard};
pub use gel::Gel;
pub use note::{Aid, MethodNote};
pub use oven::gas_mark;
pub(crate) use oven::{Setting, of_bake, settings};
pub(super) use oven::{Stage, stages};
pub(super) use say::{all_minutes, others};
pub(crate) use shape::sides as sheet_sides;

use crate::Line;
use crate::recipe::{Recipe, Step};
use crate::rework::style::Style;

const PRACTICE: &str = "common practice, no source";
/// A rework that weighs this much more than the original wants a larger pan.
pub(super) const GROWN: f64 = 1.15;
/// The rule of a note on more dough or batter for a pan.
pub(super) const MORE_IN_PAN: &str = "more in the pan";
/// Words of ingredients that raise.
const YEASTS: &[&str] = &[
    "yeast",
    "starter",
    "sourdough",
    "levain",
    "leaven",
    "poolish",
    "biga",
    "preferment",
    "sponge",
];

/// What the notes of one component are made from.
pub(crate) struct About<'a> {
    /// The whole recipe: the oven is set in any step of it.
    pub recipe: &'a Recipe,
    /// The component's place in it.
    pub component: usize,
    /// The steps that are about this component.
    pub steps: &'a [&'a Step],
    /// Its style.
    pub style: Style,
    /// Whether its steps stay as they are until the baker has said its style.
    pub left_alone: bool,
    /// How the psyllium of the reworked component gels, where it has some.
    pub gel: Option<Gel>,
    /// The liquid a tenth of which can be held back, where there is one.
    pub held_back: Option<String>,
    /// Whether yolk is in it.
    pub holds_yolk: bool,
    /// Whether egg sets it in the oven, with hardly any flour.
    pub set_by_egg: bool,
    /// Whether any binder is.
    pub binder: bool,
    /// Its hydration as reworked, %, where it has flour.
    pub hydration: Option<f64>,
    /// What raises it at once, as reworked.
    pub(in crate::rework) raised: rest::Raised,
    /// Whether the raw dough is perishable.
    pub holds_egg_or_milk: bool,
    /// Whether meat, poultry or fish bakes in it or with it.
    pub meat: bool,
    /// Grams before.
    pub before: f64,
    /// Grams after.
    pub after: f64,
}

/// The notes so far; none is said twice.
struct Notes<'a> {
    about: &'a About<'a>,
    list: Vec<MethodNote>,
    /// The oven through the whole method.
    ovens: Vec<oven::Setting>,
    /// The boiling point has been spoken of.
    boiling: bool,
}

/// The notes for a component's steps.
#[must_use]
pub(crate) fn notes(about: &About) -> Vec<MethodNote> {
    let mut notes = Notes {
        about,
        list: Vec::new(),
        ovens: oven::settings(about.recipe),
        boiling: false,
    };
    if notes.beforehand() {
        return notes.list;
    }
    if about.left_alone {
        for step in about.steps {
            notes.aids(step);
            notes.dusting(step);
        }
        return notes.list;
    }
    notes.before_mixing();
    notes.rises();
    for (i, step) in about.steps.iter().enumerate() {
        notes.aids(step);
        notes.dusting(step);
        notes.balls(step);
        notes.bake(step);
        notes.stated_core(step);
        notes.yeast_liquid(i, step);
    }
    notes.rest(true);
    notes.list.sort_by_key(|n| n.step.unwrap_or(0));
    notes.bench_lines();
    notes.rest(false);
    notes.end();
    notes.grown();
    notes.handling();
    notes.list
}

impl<'a> Notes<'a> {
    /// Adds a note, unless its rule has been said of this step, or, for one about the whole, of
    /// any.
    fn say(&mut self, step: Option<usize>, rule: &'static str, source: &str, text: String) {
        let said = self
            .list
            .iter()
            .any(|n| n.text == text || n.rule == rule && (n.step == step || step.is_none()));
        if !said {
            self.list.push(MethodNote {
                step,
                text,
                rule,
                source: source.to_owned(),
                aid: None,
                ovens: Vec::new(),
                leaves_out: None,
                one_rise: None,
                bake: None,
            });
        }
    }

    /// Adds a note about words of a step: `Step 2 kneads: …`.
    fn answer(&mut self, n: usize, does: &str, rule: &'static str, source: &str, aid: Aid) {
        let text = format!(
            "Step {n} {does}: {} Look for {}.",
            aid.instead, aid.look_for
        );
        let before = self.list.len();
        self.say(Some(n), rule, source, text);
        if let Some(note) = self.list.get_mut(before) {
            note.aid = Some(aid);
        }
    }

    fn style(&self) -> &'static str {
        self.about.style.key()
    }

    /// How to handle what no other note is of: neither dough nor batter of wheat is like it.
    fn handling(&mut self) {
        if matches!(self.style(), "frangipane" | "potato_dough") {
            let all = self.about.style.cautions();
            self.say(None, "handling", PRACTICE, all.join(" "));
        }
    }

    /// The component's ingredient lines.
    fn lines(&self) -> &'a [Line] {
        let component = self.about.recipe.components.get(self.about.component);
        component.map_or(&[], |c| &c.lines)
    }

    /// Whether an ingredient line's text has one of these words.
    fn names(&self, words: &[&str]) -> bool {
        self.lines().iter().any(|l| {
            let text = l.clean.to_lowercase();
            words.iter().any(|w| text.contains(w))
        })
    }

    /// Whether a step's text has one of these words.
    fn steps_say(&self, words: &[&str]) -> bool {
        self.about.steps.iter().any(|s| {
            let text = s.text.to_lowercase();
            words.iter().any(|w| text.contains(w))
        })
    }

    /// A yeast dough with yeast in it: a flatbread may have none.
    fn yeasted(&self) -> bool {
        self.about.style.is_yeast_dough() && self.names(YEASTS)
    }

    fn before_mixing(&mut self) {
        let about = self.about;
        let by_feel = about.style.is_yeast_dough() || about.style.key() == "pie_pastry";
        let held_back = about.held_back.as_ref().filter(|_| by_feel);
        if let Some(gel) = about.gel {
            let less = match held_back {
                Some(_) => " (less the tenth you hold back)",
                None => "",
            };
            self.say(None, "hydrate the psyllium", PRACTICE, gel.words(less));
        }
        if let Some(liquid) = held_back {
            self.say(
                None,
                "hold back a tenth",
                PRACTICE,
                format!(
                    "Hold back a tenth of the {liquid}; add it by feel and write down what went in."
                ),
            );
        }
    }

    /// The rest: with its step where a stated one stays, else among the notes about the whole.
    fn rest(&mut self, kept: bool) {
        let about = self.about;
        let Some(rest) = rest::of(
            about.recipe,
            about.component,
            about.steps,
            about.style,
            about.binder,
            about.raised,
            about.holds_egg_or_milk,
        ) else {
            return;
        };
        if rest.kept != kept {
            return;
        }
        let firm = self.yeasted()
            || matches!(
                self.style(),
                "pie_pastry"
                    | "rolled_cookie"
                    | "drop_cookie"
                    | "cracker"
                    | "pasta"
                    | "potato_dough"
            );
        let said = self.steps_say(&["dough", "into a round"]) && !self.steps_say(&["batter"]);
        let what = if firm || said { "dough" } else { "batter" };
        if let Some(text) = rest.note(what) {
            let step = rest.stated.filter(|_| kept).map(|(n, ..)| n);
            self.say(step, "rest", &rest.source, text);
        }
    }

    /// More dough than the pan was meant for.
    fn grown(&mut self) {
        let (before, after) = (self.about.before, self.about.after);
        if before <= 0.0 || after <= before * GROWN {
            return;
        }
        let more = (after / before - 1.0) * 100.0;
        let free = matches!(self.style(), "pizza_flatbread" | "choux");
        let panned = self.about.style.is_baked() && !self.by_colour() && !free;
        let then = if free {
            "the pieces grow heavier, or there is one more of them"
        } else if panned {
            "fill a pan no more than half to two thirds"
        } else {
            "expect more of it"
        };
        self.say(
            None,
            if panned { MORE_IN_PAN } else { "more dough" },
            "calculated from the weights; filling: common practice, no source",
            format!(
                "The conversion makes {more:.0} % more than the original, at any size: {then}."
            ),
        );
    }
}
