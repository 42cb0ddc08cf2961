//! The screen of a reworked recipe.

use super::reworked::{Kept, Rework};
use crate::own_method::Steps;
use crate::read::{self, Held};
use crate::screen::{Entry, Screening, What, lines, pasted};
use larder::{Certainty, FoodId, Larder};

impl Rework {
    /// Screens what the rework made of the recipe: blend parts one by one, kept lines with all
    /// their words, new and changed lines by their names.
    #[must_use]
    pub fn screen(&self, larder: &Larder) -> Screening {
        let mut screening = self.lines_screened(larder);
        screening.mind_the_rest(&self.formula, None, larder);
        screening
    }

    /// As [`Rework::screen`], with a method of the baker's own in place of the original's: what it
    /// names and no line holds counts.
    ///
    /// # Arguments
    /// * `own` — as [`own_method::steps`](crate::own_method::steps) reads it; without any, the
    ///   original's method counts.
    #[must_use]
    pub fn screen_by(&self, own: &[Steps], larder: &Larder) -> Screening {
        if own.is_empty() {
            return self.screen(larder);
        }
        let mut formula = self.formula.clone();
        let steps = own.iter().flat_map(|s| &s.steps).enumerate();
        formula.recipe.steps = steps.map(|(i, t)| read::step(i + 1, t, None)).collect();
        formula.recipe.notes.clear();
        let mut screening = self.lines_screened(larder);
        screening.mind_the_rest(&formula, Some(&self.held(larder)), larder);
        screening
    }

    /// What the reworked lines hold. What was replaced is held no longer.
    fn held<'a>(&self, larder: &'a Larder) -> Held<'a> {
        let mut lines: Vec<(Option<FoodId>, String)> = Vec::new();
        for (c, component) in self.components.iter().enumerate() {
            let read = &self.formula.recipe.components[c];
            for line in component.lines.iter().filter(|l| l.kept != Kept::Dropped) {
                let as_read = line.origin.filter(|_| line.kept == Kept::Same);
                if let Some(read) = as_read.and_then(|(l, _)| read.lines.get(l)) {
                    lines.push((line.food, read.clean.clone()));
                }
                lines.push((line.food, line.name.clone()));
                let blend = component.blend.iter().filter(|_| line.blend);
                let flours = blend.flat_map(|b| b.parts.iter().chain(&b.binders));
                lines.extend(flours.map(|(f, _)| (Some(*f), larder.food(*f).name.clone())));
            }
        }
        let parts = self.components.iter().map(|c| c.name.clone()).collect();
        Held::of_lines(lines.into_iter(), parts, larder)
    }

    fn lines_screened(&self, larder: &Larder) -> Screening {
        let mut entries: Vec<Entry<'_>> = Vec::new();
        for (c, component) in self.components.iter().enumerate() {
            let read = &self.formula.recipe.components[c];
            // Lines whose words as pasted are looked at already: once, however many foods they have.
            let mut searched: Vec<usize> = Vec::new();
            for (place, line) in component.lines.iter().enumerate() {
                if line.kept == Kept::Dropped {
                    continue;
                }
                let plain = Entry {
                    component: c,
                    line: place,
                    text: &line.name,
                    span: 0..line.name.len(),
                    what: line.food.map_or(What::Unknown, What::Food),
                    certainty: Certainty::Sure,
                    rivals: Vec::new(),
                    labelled_gluten_free: line.labelled,
                    grams: line.grams,
                    in_formula: line.in_formula,
                    optional: false,
                    alternatives: &[],
                    strangers: Vec::new(),
                };
                if line.blend {
                    match &component.blend {
                        Some(blend) => {
                            entries.extend(blend.parts.iter().map(|(food, share)| Entry {
                                text: larder.food(*food).name.as_str(),
                                span: 0..larder.food(*food).name.len(),
                                what: What::Food(*food),
                                grams: line.grams.map(|g| g.scaled(share / 100.0)),
                                ..plain.clone()
                            }))
                        }
                        None => entries.push(plain),
                    }
                    continue;
                }
                if line.component.is_some() {
                    entries.push(Entry {
                        what: What::Part,
                        ..plain
                    });
                    continue;
                }
                let origin = line
                    .origin
                    .filter(|_| line.kept == Kept::Same || line.note.is_some());
                let unchanged = origin.and_then(|(l, i)| {
                    let read = read.lines.get(l)?;
                    let item = read.items.get(i)?;
                    // Words of another food on the same line are not this one's.
                    let (reach, end) = (read.reach(i), read.clean.len());
                    let reach = reach.start.min(end)..reach.end.min(end);
                    let same = item.food.as_ref().map(|m| m.food) == line.food;
                    same.then_some((l, read, item, reach))
                });
                // A line that holds a second food ('water + 1 tbsp malt') speaks of both.
                let unchanged =
                    unchanged.filter(|(_, _, item, _)| item.amounts.iter().all(|a| a.of.is_none()));
                if let Some((l, read, ..)) = unchanged
                    && !searched.contains(&l)
                {
                    searched.push(l);
                    entries.extend(pasted(c, place, read));
                }
                match unchanged {
                    Some((_, read, item, reach)) => entries.push(Entry {
                        text: read.words(&reach),
                        span: {
                            let food = item.food.as_ref().map(|m| &m.span);
                            let named = food.unwrap_or(&item.name);
                            let from = reach.start;
                            named.start.saturating_sub(from)..named.end.saturating_sub(from)
                        },
                        certainty: item.food.as_ref().map_or(Certainty::Sure, |m| m.certainty),
                        rivals: item
                            .food
                            .as_ref()
                            .map_or_else(Vec::new, |m| m.rivals.clone()),
                        optional: item.optional,
                        alternatives: &item.alternatives,
                        strangers: item.strangers.iter().map(|s| read.words(s)).collect(),
                        ..plain
                    }),
                    None => entries.push(plain),
                }
            }
        }
        lines(entries, larder, self.bake_loss())
    }
}
