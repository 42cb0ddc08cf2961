//! How a plan is made of a worked sheet.

use super::{BatchSheet, Line, Note, Part, method, mind, tasks};
use crate::web::app::home;
use crate::web::kitchen::{drawer, scale};
use larder::Larder;
use quantity::{Mass, Spread};
use recipe::Step;
use recipe::household::{Drawer, PINCH, Scale, clean, household, is_fine};
use recipe::own_method;
use recipe::plan::{self, Tasks};
use recipe::rework::blend::Blend;
use recipe::rework::{Kept, ReworkedComponent, ReworkedLine, owners};
use recipe::sheet::{Sheet, Worked};
use recipe::size::Batch;
use recipe::size::pan::Said;
use store::Settings;

/// The pan that a batch is made in: that it is sized for; of the recipe once, in the words of the baker's own
/// method, else of the recipe's.
fn pan(w: &Worked, sheet: &Sheet, batch: &Batch) -> Option<String> {
    if let Some(asked) = &batch.pans {
        let pan = asked.pan.called();
        return Some(match asked.count {
            1 => pan,
            n => format!("{n} × {pan}"),
        });
    }
    if !batch.is_plain() {
        return None;
    }
    let own = own_method::steps(sheet.method.as_deref().unwrap_or_default());
    let said = Said::of_steps(&own).into_iter().next();
    said.map(|s| s.words)
        .or_else(|| w.rework.panful_round(batch.main).pan_words.clone())
}

/// The batch sheet of a worked sheet.
///
/// # Arguments
/// * `batch` — the size it is made in.
/// * `settings` — of the kitchen: its scales, its cups and spoons, its oven.
#[must_use]
pub fn batch_sheet(
    w: &Worked,
    sheet: &Sheet,
    larder: &Larder,
    settings: &Settings,
    batch: &Batch,
) -> BatchSheet {
    let owners = owners(&w.formula.recipe);
    let drawer = drawer(settings, sheet.locale()).beside(scale(settings));
    let loss = w.rework.bake_loss();
    let plan = plan::tasks(w, sheet, batch.factor);
    let places: Vec<usize> = w
        .formula
        .order
        .iter()
        .copied()
        .filter(|&c| {
            let listed = w.rework.components.get(c).is_some_and(|c| c.is_listed());
            listed && batch.factor_of(c) > 0.0
        })
        .collect();
    let components: Vec<Part> = places
        .iter()
        .filter_map(|&c| {
            Some(Maker {
                w,
                larder,
                scale: scale(settings),
                settings,
                drawer,
                batch,
                factor: batch.factor_of(c),
                place: c,
                plan: &plan,
                component: w.rework.components.get(c)?,
            })
        })
        .map(|m| m.part(&owners))
        .collect();
    BatchSheet {
        gluten: mind::gluten(w, larder),
        cautions: mind::of_no_part(w, &components),
        tasks: tasks::steps(w, sheet, &plan, &places, settings),
        serve: None,
        of_day: None,
        unplanned: Vec::new(),
        components,
        labels: Vec::new(),
        bake_loss: loss.map(|l| (l.low().get() * 100.0, l.high().get() * 100.0)),
        method: own_lines(sheet.method.as_deref().unwrap_or_default()),
        last_time: None,
        asked: batch.asked.clone(),
        size: None,
        pan: pan(w, sheet, batch),
        degrees: method::stated(&w.formula.recipe.steps).map(str::to_owned),
        measures: Some(home(settings, sheet.locale()).key().to_owned()),
    }
}

/// The baker's own method: headings end in a colon, steps in none.
fn own_lines(method: &str) -> Vec<String> {
    let sections = own_method::steps(method).into_iter();
    let lines = sections.flat_map(|s| {
        let heading = s.heading.map(|h| format!("{h}:"));
        let steps = s.steps.into_iter();
        let steps = steps.map(|t| t.strip_suffix(':').map_or(t.clone(), |t| format!("{t}.")));
        heading.into_iter().chain(steps)
    });
    lines.collect()
}

/// Makes the part of one component.
struct Maker<'a> {
    w: &'a Worked,
    larder: &'a Larder,
    scale: Scale,
    batch: &'a Batch,
    factor: f64,
    settings: &'a Settings,
    drawer: Drawer,
    place: usize,
    plan: &'a Tasks,
    component: &'a ReworkedComponent,
}

impl Maker<'_> {
    fn part(&self, owners: &[usize]) -> Part {
        let c = self.component;
        let whole = |m: Spread<Mass>| {
            let g = m.likely().as_grams() * self.factor;
            (g > 0.0).then(|| self.scale.rounded(Mass::grams(g), false))
        };
        let recipe = &self.w.formula.recipe;
        let steps: Vec<&Step> = recipe
            .steps
            .iter()
            .zip(owners)
            .filter(|(_, o)| **o == self.place)
            .map(|(s, _)| s)
            .collect();
        Part {
            name: c.name.clone(),
            makes: whole(c.makes),
            used: self.batch.components[self.place].used.and_then(|u| {
                let g = u.likely().as_grams();
                (g > 0.0).then(|| self.scale.rounded(Mass::grams(g), false))
            }),
            lines: c
                .lines
                .iter()
                .filter(|l| l.kept != Kept::Dropped)
                .map(|l| self.line(l))
                .collect(),
            cautions: mind::of_part(self.w, self.larder, self.place),
            labels: mind::labels(self.w, self.place),
            ours: Vec::new(),
            our_heat: method::our_heat(c, self.settings),
            warm: tasks::warm(self.plan, self.place),
            notes: self
                .no_step()
                .chain(method::notes(c, recipe, self.plan.own_method))
                .collect(),
            heat: method::heat(&recipe.steps, &steps, self.settings),
            timers: Vec::new(),
            steps: steps
                .iter()
                .map(|s| format!("{}. {}", recipe.step_label(s.number), s.text))
                .collect(),
        }
    }

    /// That the baker's own method leaves the part out.
    fn no_step(&self) -> impl Iterator<Item = Note> {
        let words = self.plan.unsaid.get(&self.place).cloned();
        words.into_iter().map(|text| Note {
            text,
            source: "your own method".to_owned(),
        })
    }

    fn line(&self, l: &ReworkedLine) -> Line {
        let item = format!("{}:{}", self.place, l.key);
        let exact = l
            .grams
            .map(|g| g.likely().as_grams() * self.factor)
            .filter(|g| *g > 0.0);
        let fine = l.food.is_some_and(|f| is_fine(self.larder, f));
        let (mut shown, finer) = exact.map_or((None, false), |g| {
            let (shown, finer) = self.scale.shows(Mass::grams(g), fine);
            (Some(shown).filter(|g| *g > 0.0), finer)
        });
        let pinch = exact.is_some() && shown.is_none();
        let mut parts = Vec::new();
        let blend = self.component.blend.as_ref().filter(|_| l.blend);
        // A blend of one flour is that flour: one line, one tick.
        let only = blend.and_then(|b| match (b.parts.as_slice(), b.binders.as_slice()) {
            ([(food, _)], []) => Some(&self.larder.food(*food).name),
            _ => None,
        });
        if let (None, Some(blend), Some(whole)) = (only, blend, shown) {
            parts = self.blend(blend, whole, &item);
            shown = Some(clean(parts.iter().filter_map(|p| p.grams).sum()));
        }
        let jar = shown.filter(|_| blend.is_some());
        let jar = jar.and_then(|g| self.component.from_jar(Mass::grams(g), self.larder));
        let notes: Vec<String> = l.note.iter().cloned().chain(jar).collect();
        let scaled = self.batch.scaled(self.place, l);
        let name = match l.component.and_then(|x| self.w.rework.components.get(x)) {
            Some(other) => format!("the {}", other.name),
            None => only.unwrap_or(&l.name).clone(),
        };
        let rework = &self.w.rework;
        let source = rework.source(self.place, l).filter(|_| exact.is_none());
        let written = source.map(|(read, _)| read.text.trim().to_owned());
        Line {
            item,
            name,
            grams: shown,
            exact: exact.map(clean),
            finer: finer && !pinch,
            household: exact
                .and_then(|_| {
                    self.w
                        .rework
                        .household(self.place, &scaled, self.larder, self.drawer)
                })
                .map(|h| h.shown()),
            words: written.or_else(|| pinch.then(|| PINCH.to_owned())),
            note: (!notes.is_empty()).then(|| notes.join("; ")),
            changed: l.kept != Kept::Same,
            aside: !l.in_formula,
            purpose: rework.beside(self.place, l).map(str::to_owned),
            made_here: l.component.is_some(),
            parts,
        }
    }

    /// The flours of a blend, on the scale, adding up to the blend.
    fn blend(&self, blend: &Blend, whole: f64, item: &str) -> Vec<Line> {
        let sum: f64 = blend.parts.iter().map(|p| p.1).sum();
        blend
            .weighed_out(&self.scale, whole)
            .into_iter()
            .map(|p| {
                let is = self.larder.food(p.food);
                let grams = Mass::grams(p.grams);
                Line {
                    item: format!("{item}/{}", is.key),
                    name: is.name.clone(),
                    grams: Some(p.grams),
                    exact: Some(clean(whole * p.percent / sum)),
                    finer: self.scale.shows(grams, false).1,
                    household: household(self.larder, p.food, grams, self.drawer)
                        .map(|h| h.shown()),
                    ..Line::default()
                }
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::example::{SCALE, buns, times, with, worked};
    use super::*;

    #[test]
    fn lines_add_up_to_what_the_component_makes() {
        let (w, sheet, larder) = buns();
        for factor in [0.5, 1.0, 2.0, 3.0, 7.25] {
            let plan = batch_sheet(
                &w,
                &sheet,
                &larder,
                &with(SCALE),
                &times(&w, &larder, factor),
            );
            assert_eq!(plan.components.len(), w.rework.components.len());
            for (part, &c) in plan.components.iter().zip(&w.formula.order) {
                let makes = w.rework.components[c].makes.likely().as_grams() * factor;
                let (exact, shown): (f64, f64) = part
                    .lines
                    .iter()
                    .filter(|l| !l.aside)
                    .map(|l| (l.exact.unwrap_or(0.0), l.grams.unwrap_or(0.0)))
                    .fold((0.0, 0.0), |s, l| (s.0 + l.0, s.1 + l.1));
                assert!(
                    (exact - makes).abs() < 0.01 * part.lines.len() as f64,
                    "{}",
                    part.name
                );
                let slack = 0.5 * SCALE.step * part.lines.len() as f64;
                assert!(
                    (shown - makes).abs() <= slack,
                    "{}: {shown} of {makes}",
                    part.name
                );
            }
        }
    }

    #[test]
    fn what_no_scale_shows_is_a_pinch() {
        let (w, sheet, larder) =
            worked("Buns\n\n500 g flour\n7 g yeast\n300 g water\n0.03 g saffron\n");
        let plan = batch_sheet(&w, &sheet, &larder, &with(SCALE), &times(&w, &larder, 1.0));
        let mut lines = plan.components.iter().flat_map(|c| &c.lines);
        let saffron = lines.find(|l| l.name == "saffron").expect("saffron");
        assert_eq!((saffron.grams, saffron.finer), (None, false));
        assert_eq!(saffron.words.as_deref(), Some(PINCH));
    }

    #[test]
    fn flours_add_up_to_their_blend_and_nothing_is_nothing() {
        let (w, sheet, larder) = buns();
        for scale in [
            SCALE,
            Scale {
                step: 5.0,
                fine: None,
            },
            Scale {
                step: 1.0,
                fine: None,
            },
        ] {
            for factor in [0.05, 0.5, 1.0, 3.0] {
                let plan = batch_sheet(
                    &w,
                    &sheet,
                    &larder,
                    &with(scale),
                    &times(&w, &larder, factor),
                );
                let mut blends = 0;
                for line in plan.components.iter().flat_map(|c| &c.lines) {
                    if !line.parts.is_empty() {
                        blends += 1;
                        let sum: f64 = line.parts.iter().filter_map(|p| p.grams).sum();
                        assert!((sum - line.grams.expect("grams")).abs() < 1e-6);
                    }
                }
                assert!(blends > 0);
                assert!(plan.items().all(|l| l.grams.is_none_or(|g| g > 0.0)));
            }
        }
    }

    #[test]
    fn a_blend_of_one_flour_is_one_line() {
        let (mut w, sheet, larder) = buns();
        let flour = larder.by_key("sorghum_flour").expect("sorghum");
        for blend in w
            .rework
            .components
            .iter_mut()
            .filter_map(|c| c.blend.as_mut())
        {
            blend.parts = vec![(flour, 100.0)];
            blend.binders.clear();
        }
        let plan = batch_sheet(&w, &sheet, &larder, &with(SCALE), &times(&w, &larder, 1.0));
        assert!(
            plan.items()
                .all(|l| l.parts.is_empty() && !l.item.contains('/'))
        );
        let dough = plan.components.iter().find(|c| c.name == "dough");
        let lines = &dough.expect("the dough").lines;
        let sorghum = lines.iter().filter(|l| l.name.contains("sorghum")).count();
        assert_eq!(sorghum, 1, "{lines:?}");
    }

    #[test]
    fn the_kitchens_own_scoops_and_oven_are_used() {
        let (w, sheet, larder) = buns();
        let mut settings = Settings {
            scoops: vec!["1/2 cup".to_owned()],
            oven: "fan".to_owned(),
            ..Settings::default()
        };
        let told = |settings: &Settings| {
            let plan = batch_sheet(&w, &sheet, &larder, settings, &times(&w, &larder, 2.0));
            let spoons = plan.items().filter_map(|l| l.household.clone());
            let spoons = spoons
                .filter(|h| h.contains("tsp") || h.contains("tbsp"))
                .count();
            let heat = plan.components.iter().flat_map(|c| c.heat.iter());
            (
                spoons,
                heat.map(|f| f.value.clone()).collect::<Vec<_>>().join("; "),
            )
        };
        let (spoons, heat) = told(&settings);
        assert!(heat.contains("in your fan oven 160 °C"), "{heat}");
        settings = Settings::default();
        let (usual, still) = told(&settings);
        assert!(spoons < usual, "{spoons} of {usual}");
        assert!(!still.contains("fan"));
    }

    /// A British kitchen has no cups: what is worked out of an American recipe is in spoons and grams there.
    #[test]
    fn a_kitchen_without_cups_is_told_none() {
        let (w, sheet, larder) = buns();
        assert_eq!(sheet.locale(), quantity::Locale::Us);
        let worked_out = |country: &str| {
            let settings = Settings {
                locale: country.to_owned(),
                ..Settings::default()
            };
            let plan = batch_sheet(&w, &sheet, &larder, &settings, &times(&w, &larder, 1.5));
            let lines: Vec<_> = plan.items().filter(|l| l.changed).cloned().collect();
            let told = lines.iter().filter_map(|l| l.household.clone());
            told.collect::<Vec<_>>().join("; ")
        };
        assert!(worked_out("us").contains("cup"), "{}", worked_out("us"));
        let british = worked_out("uk");
        assert!(!british.contains("cup"), "{british}");
        assert!(british.contains("tsp"), "{british}");
    }

    #[test]
    fn what_is_used_comes_first() {
        let (w, sheet, larder) = buns();
        let plan = batch_sheet(&w, &sheet, &larder, &with(SCALE), &times(&w, &larder, 1.0));
        let at = |name: &str| plan.components.iter().position(|c| c.name.contains(name));
        assert!(at("crumb").expect("crumb") < at("filling").expect("filling"));
        let mut keys: Vec<&str> = plan.items().map(|l| l.item.as_str()).collect();
        let all = keys.len();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), all, "every tick has a key of its own");
    }

    #[test]
    fn a_reworked_bake_takes_the_place_of_the_sources() {
        let (w, mut sheet, larder) = worked(
            "Tea cake\n\n200 g plain flour\n150 g butter\n150 g sugar\n3 eggs\n1 tsp baking powder\n\nMethod\n1. Mix.\n2. Bake at 180 °C for 35 minutes.\n",
        );
        let plan = batch_sheet(&w, &sheet, &larder, &with(SCALE), &times(&w, &larder, 1.0));
        let bakes: Vec<_> = plan.tasks.iter().filter(|t| t.what == "bake").collect();
        assert_eq!(bakes.len(), 1);
        assert_eq!(bakes[0].wait_rests.as_deref(), Some("reworked"));
        assert!(
            bakes[0].timers.iter().all(|o| o.minutes > 35.0),
            "{bakes:?}"
        );
        assert_eq!(bakes[0].was.as_deref(), Some("bake, 35 min"));
        // The baker's own method has the steps then.
        sheet.method =
            Some("The cake:\n1. Whisk it all.\n\n2) Bake so:\n100 g of it aside".to_owned());
        let plan = batch_sheet(&w, &sheet, &larder, &with(SCALE), &times(&w, &larder, 1.0));
        assert_eq!(
            plan.method,
            [
                "The cake:",
                "Whisk it all.",
                "Bake so.",
                "100 g of it aside"
            ]
        );
    }
}
