//! Which pan and which oven heats what spoils.

use super::build::Build;
use super::join;
use super::step::{Draft, sentence};
use super::task::Task;
use crate::aside::taking;
use crate::recipe::{Activity, Fact};
use crate::rework::{Kept, ReworkedComponent};

impl Build<'_> {
    /// Whether a pan on the stove or an oven heats what spoils in a part: a case that is baked blind
    /// holds no filling; and not where the sentence of a pan names
    /// other lines of the part and none of those, and not the part. It is called by what is in it then.
    pub(super) fn over_heat(
        &self,
        of: &ReworkedComponent,
        text: &str,
        mut d: Draft,
        end: usize,
    ) -> (Draft, bool) {
        // 'Fry the leeks. Stir in the milk and simmer' is one stretch of two sentences.
        let several = d.name.contains(", ");
        let sentence = sentence(text, d.at);
        let stretch = text.get(d.at..end).filter(|_| several);
        let said = join::words(&taking(stretch.unwrap_or(sentence)));
        if d.what == "bake" {
            // 'Bake blind for 15 minutes. Remove the beans and bake 5 minutes more.'
            const FILLS: [&str; 6] = ["add", "fill", "filling", "pour", "spoon", "spread"];
            let before = text.get(..d.at).unwrap_or_default().to_lowercase();
            let since = before
                .rsplit_once("blind")
                .map(|(_, since)| join::words(since));
            let empty = since.is_some_and(|s| !s.iter().any(|w| FILLS.contains(&w.as_str())));
            return (d, !empty && !said.iter().any(|w| w == "blind"));
        }
        if !matches!(d.what, "boil" | "fry") || !of.holds_egg_or_milk {
            return (d, true);
        }
        let named = |name: &str| {
            let mut words = join::words(name).into_iter();
            words.find(|w| w.len() > 3 && said.contains(w))
        };
        if named(&of.name).is_some() {
            return (d, true);
        }
        let mut other = None;
        for line in of.lines.iter().filter(|l| l.kept != Kept::Dropped) {
            let spoils = line.food.is_some_and(|f| of.spoils.contains(&f));
            match named(&line.name) {
                Some(_) if spoils => return (d, true),
                Some(word) if other.is_none() => other = Some(word),
                _ => {}
            }
        }
        let Some(word) = other else { return (d, true) };
        d.name = format!("Cook the {word}");
        (d, false)
    }

    /// Whether the words by which a step boils, steams or fries name no line and no part of the recipe.
    pub(super) fn is_bare(&self, t: &Task) -> bool {
        let step = t.step.and_then(|n| self.recipe.steps.get(n - 1));
        let heats = |f: &&Fact| f.does(Activity::Boil) || f.does(Activity::Fry);
        let Some((step, fact)) = step.and_then(|s| Some((s, s.facts.iter().find(heats)?))) else {
            return false;
        };
        let said = sentence(&step.text, fact.span.start);
        let said = join::words(&taking(said));
        let parts = &self.w.rework.components;
        let lines = parts.iter().flat_map(|p| p.lines.iter().map(|l| &l.name));
        let mut names = lines.chain(parts.iter().map(|p| &p.name));
        let named = |name: &String| {
            let mut words = join::words(name).into_iter();
            words.any(|w| w.len() > 3 && said.contains(&w))
        };
        !names.any(named)
    }
}
