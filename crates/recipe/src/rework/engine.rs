//! The rework of a formula, component by component.

use super::balance::Balance;
use super::blend::{self, Blend};
use super::hydration;
use super::method::{About, MethodNote, notes};
use super::steps::steps_of;
use super::style::{Guess, Style, guess};
use crate::data::rows;
use crate::household::scale_grams;
use crate::recipe::Step;
use crate::weigh::{Formula, Weighed, WeighedComponent, is_preferment};
use crate::{Doubt, DoubtCode, read::same_part};
use larder::{FoodId, Function, Gluten, Larder};
use quantity::{Mass, Quantity, Ratio, Spread};
use std::sync::LazyLock;

/// What the baker asks for.
#[derive(Debug, Clone, Default)]
pub struct Options {
    /// Styles given by hand: component name and style. An empty name means every component.
    pub styles: Vec<(String, Style)>,
    /// A house blend for every component, by key.
    pub blend: Option<String>,
}

/// The style a component was reworked as.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StyleChoice {
    /// The style.
    pub style: Style,
    /// 0 to 1; 1 when given by hand.
    pub confidence: f64,
    /// The next best guess.
    pub next: Option<Style>,
}

/// One change, as data.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// What was changed: `flour`, `water`, `binder`, `yeast` …
    pub what: String,
    /// What it was.
    pub from: String,
    /// What it is.
    pub to: String,
    /// The range it may move in, where the style has one.
    pub range: Option<String>,
    /// The rule in one sentence.
    pub rule: String,
    /// Where the rule and its figures come from.
    pub source: String,
}

/// Whether a line is the original's or new.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kept {
    /// As it was.
    Same,
    /// Another food or another amount.
    Changed,
    /// Not in the original.
    New,
    /// In the original only: left out, or merged into another line.
    Dropped,
}

/// A line of the reworked component.
#[derive(Debug, Clone, PartialEq)]
pub struct ReworkedLine {
    /// The original line and item, where there is one.
    pub origin: Option<(usize, usize)>,
    /// What became of it.
    pub kept: Kept,
    /// Its name.
    pub name: String,
    /// The food; `None` for a blend, a component or what the larder does not know.
    pub food: Option<FoodId>,
    /// The component used.
    pub component: Option<usize>,
    /// The line is the house blend.
    pub blend: bool,
    /// Grams; `None` where the original could not be weighed.
    pub grams: Option<Spread<Mass>>,
    /// Percent of the flour phase.
    pub percent: Option<Spread<Ratio>>,
    /// Part of the formula, or only for the bench and the pan.
    pub in_formula: bool,
    /// Bought labelled gluten-free.
    pub labelled: bool,
    /// A remark for the baker.
    pub note: Option<String>,
}

/// A component, reworked.
#[derive(Debug, Clone, PartialEq)]
pub struct ReworkedComponent {
    /// Its name.
    pub name: String,
    /// Its style; `None` without flour.
    pub style: Option<StyleChoice>,
    /// The blend in it.
    pub blend: Option<Blend>,
    /// Its lines, dropped ones among them.
    pub lines: Vec<ReworkedLine>,
    /// The balance before.
    pub original: Balance,
    /// The balance after.
    pub reworked: Balance,
    /// What the fitted model expects, where there is flour.
    pub expected: Option<hydration::Expectation>,
    /// What was changed and why.
    pub changes: Vec<Change>,
    /// What to do differently.
    pub method_notes: Vec<MethodNote>,
    /// What it makes, raw.
    pub makes: Spread<Mass>,
    /// What other components use of it.
    pub used: Option<Spread<Mass>>,
    /// What is left over.
    pub left: Option<Spread<Mass>>,
    /// Doubts of this component's rework.
    pub doubts: Vec<Doubt>,
}

/// A recipe, reworked.
#[derive(Debug, Clone, PartialEq)]
pub struct Rework {
    /// The formula it started from.
    pub formula: Formula,
    /// Its components, in the recipe's order.
    pub components: Vec<ReworkedComponent>,
}

/// What stands in for a gluten-bearing food.
struct Replacement {
    to: Option<&'static str>,
    per: f64,
    note: &'static str,
    source: &'static str,
}

static REPLACEMENTS: LazyLock<Vec<(&'static str, Replacement)>> = LazyLock::new(|| {
    rows(include_str!("../../data/replacements.tsv"))
        .map(|r| {
            let to = r.get("to");
            let replacement = Replacement {
                to: (!to.is_empty()).then_some(to),
                per: r.number("per"),
                note: r.get("note"),
                source: r.get("source"),
            };
            (r.get("food"), replacement)
        })
        .collect()
});

/// Reworks a formula.
///
/// # Inputs
/// - `formula`: weighed, with or without flour.
/// - `options`: styles and blend given by hand.
///
/// # Returns
/// Every component with its lines, balance, changes, notes and doubts. Nothing is silently left
/// out: lines that were dropped or merged stay, marked so.
#[must_use]
pub fn rework(formula: Formula, larder: &Larder, options: &Options) -> Rework {
    let blends = blend::house(larder);
    let owners = steps_of(&formula.recipe);
    let mut done: Vec<Option<ReworkedComponent>> = vec![None; formula.components.len()];
    // Parts first: a dough counts the flour and water of its preferment.
    for &c in &formula.order {
        done[c] = Some(Work::new(c, &formula, larder, options, &blends, &owners, &done).run());
    }
    let mut components: Vec<ReworkedComponent> = done.into_iter().flatten().collect();
    flow(&formula, &mut components);
    Rework {
        formula,
        components,
    }
}

/// What each component uses of the others after the rework: parts of a changed whole change too.
fn flow(formula: &Formula, components: &mut [ReworkedComponent]) {
    for &c in &formula.order {
        for i in 0..components[c].lines.len() {
            let line = &components[c].lines[i];
            let (Some(other), Some(grams)) = (line.component, line.grams) else {
                continue;
            };
            let before = formula.components[other].makes.likely().as_grams();
            let after = components[other].makes.likely().as_grams();
            let stated = line
                .origin
                .map(|(l, n)| &formula.recipe.components[c].lines[l].items[n])
                .is_some_and(|item| item.amounts.iter().any(|a| a.unit.is_some()));
            if !stated && before > 0.0 {
                components[c].lines[i].grams = Some(grams.scaled(after / before));
            }
        }
        components[c].makes = Spread::sum_independent(
            components[c]
                .lines
                .iter()
                .filter(|l| l.in_formula && l.kept != Kept::Dropped)
                .filter_map(|l| l.grams),
        );
    }
    for c in 0..components.len() {
        let uses: Vec<Spread<Mass>> = components
            .iter()
            .flat_map(|x| &x.lines)
            .filter(|l| l.component == Some(c) && l.kept != Kept::Dropped)
            .filter_map(|l| l.grams)
            .collect();
        if uses.is_empty() {
            continue;
        }
        let used = Spread::sum_independent(uses);
        let makes = components[c].makes;
        let less = |a: Mass, b: Mass| Mass::grams((a - b).as_grams().max(0.0));
        components[c].left = Some(Spread::new(
            less(makes.low(), used.high()),
            less(makes.likely(), used.likely()),
            less(makes.high(), used.low()),
        ));
        components[c].used = Some(used);
    }
}

/// The rework of one component, under way.
pub(super) struct Work<'a> {
    pub(super) at: usize,
    pub(super) formula: &'a Formula,
    pub(super) weighed: &'a WeighedComponent,
    pub(super) larder: &'a Larder,
    pub(super) blend: Option<&'a Blend>,
    pub(super) style: Option<StyleChoice>,
    pub(super) lines: Vec<ReworkedLine>,
    pub(super) original: Balance,
    pub(super) changes: Vec<Change>,
    pub(super) doubts: Vec<Doubt>,
    /// Original flour over the flour that is in it: above 1 where self-raising flour held powder.
    pub(super) flour_scale: f64,
    /// Components reworked before this one.
    done: &'a [Option<ReworkedComponent>],
    pub(super) steps: Vec<&'a Step>,
}

/// Grams as the table beside shows them.
pub(super) fn grams(m: Mass) -> String {
    format!("{} g", scale_grams(m, m.as_grams() < 20.0))
}

/// The weighed foods of a component, those of its preferments among them.
fn foods(formula: &Formula, at: usize) -> Vec<(FoodId, Spread<Mass>)> {
    let mut all = Vec::new();
    for w in formula.components[at].items.iter().filter(|w| w.in_formula) {
        let Some(g) = w.grams else { continue };
        if let Some(food) = w.food {
            all.push((food, g));
        }
        if let Some(part) = w.component.map(|c| &formula.components[c])
            && is_preferment(&part.name)
            && part.makes.likely().value() > 0.0
        {
            let share = g.likely().value() / part.makes.likely().value();
            let foods = part.items.iter().filter(|x| x.in_formula);
            all.extend(foods.filter_map(|x| Some((x.food?, x.grams?.scaled(share)))));
        }
    }
    all
}

/// The foods of reworked lines, the blend taken apart. A binder of the blend is a line of its own.
fn foods_of(lines: &[ReworkedLine], blend: Option<&Blend>) -> Vec<(FoodId, Spread<Mass>)> {
    let mut all = Vec::new();
    for line in lines
        .iter()
        .filter(|l| l.kept != Kept::Dropped && l.in_formula)
    {
        let Some(g) = line.grams else { continue };
        match (line.blend, blend, line.food) {
            (true, Some(b), _) => {
                all.extend(b.parts.iter().map(|(f, s)| (*f, g.scaled(s / 100.0))))
            }
            (_, _, Some(f)) => all.push((f, g)),
            _ => {}
        }
    }
    all
}

impl<'a> Work<'a> {
    fn new(
        at: usize,
        formula: &'a Formula,
        larder: &'a Larder,
        options: &Options,
        blends: &'a [Blend],
        owners: &[usize],
        done: &'a [Option<ReworkedComponent>],
    ) -> Self {
        let weighed = &formula.components[at];
        let original = Balance::of(&foods(formula, at), larder);
        let recipe = &formula.recipe;
        let alone = recipe.components.len() == 1;
        let own: Vec<&Step> = recipe
            .steps
            .iter()
            .zip(owners)
            .filter(|(_, c)| **c == at)
            .map(|(s, _)| s)
            .collect();
        let mut work = Self {
            at,
            formula,
            weighed,
            larder,
            blend: None,
            style: None,
            lines: Vec::new(),
            original,
            changes: Vec::new(),
            doubts: Vec::new(),
            flour_scale: 1.0,
            done,
            steps: own,
        };
        if work.original.flour.likely().value() > 0.0 {
            let given = options.styles.iter().rev().find(|(name, _)| {
                name.is_empty() || *name == weighed.name || same_part(name, &weighed.name)
            });
            let choice = match given {
                Some((_, style)) => StyleChoice {
                    style: *style,
                    confidence: 1.0,
                    next: None,
                },
                None => {
                    let title = recipe.title.clone().unwrap_or_default();
                    let near = if weighed.name.is_empty() {
                        title.clone()
                    } else {
                        weighed.name.clone()
                    };
                    let about = if alone || at == 0 {
                        title
                    } else {
                        String::new()
                    };
                    let far: String = work
                        .steps
                        .iter()
                        .map(|s| s.text.as_str())
                        .collect::<Vec<_>>()
                        .join(" ")
                        + " "
                        + &about;
                    let Guess {
                        style,
                        confidence,
                        next,
                    } = guess(&work.original.ratios(), &near, &far);
                    StyleChoice {
                        style,
                        confidence,
                        next: Some(next),
                    }
                }
            };
            work.style = Some(choice);
            let whole = work.whole_grain_share() >= 0.4
                && !matches!(
                    choice.style.key(),
                    "sponge_cake" | "choux" | "roux_sauce" | "pasta"
                );
            let key = options.blend.as_deref().or(whole.then_some("wholegrain"));
            work.blend = match key {
                Some(key) => blends.iter().find(|b| b.key == key),
                None => Blend::for_style(blends, choice.style),
            };
        }
        work
    }

    fn run(mut self) -> ReworkedComponent {
        if let Some(choice) = self.style
            && choice.confidence < 0.6
            && let Some(next) = choice.next
        {
            self.doubts.push(Doubt::new(
                DoubtCode::StyleUnsure,
                format!(
                    "'{}' looks most like {}, perhaps {}: say which with --style",
                    self.name(),
                    choice.style.name(),
                    next.name()
                ),
            ));
        }
        let wheat = self.flours();
        self.others();
        let mut expected = None;
        if wheat > 0.0 && is_preferment(&self.weighed.name) {
            self.change(
                "preferment",
                "wheat flour".to_owned(),
                "the blend, with the water and time as they were".to_owned(),
                None,
                "a preferment takes no binder: that goes into the dough; it ripens sooner without gluten, so go by bubbles and smell",
                "common practice, no source",
            );
        } else if wheat > 0.0
            && let Some(choice) = self.style
        {
            self.binders(choice.style);
            self.leavening(choice.style);
            self.protein(choice.style);
            expected = self.water(choice.style);
            self.process(choice.style);
        } else if let Some(choice) = self.style {
            expected = self.expect(choice.style, None);
        }
        let reworked = self.balance();
        if let Some(choice) = self.style
            && wheat > 0.0
            && !is_preferment(&self.weighed.name)
        {
            self.check(choice.style, &reworked);
        }
        let flour = reworked.flour;
        for line in &mut self.lines {
            if line.kept != Kept::Dropped && line.in_formula {
                line.percent = line
                    .grams
                    .filter(|_| flour.likely().value() > 0.0)
                    .map(|g| g.scaled(100.0 / flour.likely().value()).map(|v| v));
            }
        }
        let perishable = self.lines.iter().filter_map(|l| l.food).any(|f| {
            matches!(
                self.larder.food(f).function(),
                Function::Egg | Function::Dairy
            )
        });
        let psyllium = self.holds("psyllium");
        let method_notes = match self.style {
            Some(choice) if wheat > 0.0 => notes(&About {
                recipe: &self.formula.recipe,
                component: self.at,
                steps: &self.steps,
                style: choice.style,
                psyllium,
                holds_egg_or_milk: perishable,
                before: self.weighed.makes.likely().as_grams(),
                after: self
                    .lines
                    .iter()
                    .filter(|l| l.in_formula && l.kept != Kept::Dropped)
                    .filter_map(|l| l.grams)
                    .map(|g| g.likely().as_grams())
                    .sum(),
            }),
            _ => Vec::new(),
        };
        let makes = Spread::sum_independent(
            self.lines
                .iter()
                .filter(|l| l.in_formula && l.kept != Kept::Dropped)
                .filter_map(|l| l.grams),
        );
        ReworkedComponent {
            name: self.weighed.name.clone(),
            style: self.style,
            blend: self.blend.filter(|_| wheat > 0.0).cloned(),
            lines: self.lines,
            original: self.original,
            reworked,
            expected,
            changes: self.changes,
            method_notes,
            makes,
            used: None,
            left: None,
            doubts: self.doubts,
        }
    }

    /// Share of the wheat flours that are whole grain: bran and all.
    fn whole_grain_share(&self) -> f64 {
        let (mut whole, mut all) = (0.0, 0.0);
        for w in self.weighed.items.iter().filter(|w| w.in_formula) {
            let (Some(food), Some(g)) = (w.food, w.grams) else {
                continue;
            };
            if self.larder.food(food).is_flour_phase()
                && self.larder.food(food).gluten == Gluten::Contains
            {
                let g = g.likely().as_grams();
                all += g;
                // Bran shows in the fibre: white flours have below 5 g in 100 g.
                if self.larder.composition(food).fibre.unwrap_or(0.0) > 7.0 {
                    whole += g;
                }
            }
        }
        if all > 0.0 { whole / all } else { 0.0 }
    }

    fn name(&self) -> &str {
        if self.weighed.name.is_empty() {
            "the recipe"
        } else {
            &self.weighed.name
        }
    }

    fn holds(&self, word: &str) -> bool {
        let in_line = self
            .lines
            .iter()
            .filter(|l| l.kept != Kept::Dropped)
            .filter_map(|l| l.food)
            .any(|f| self.larder.food(f).key.contains(word));
        in_line || self.has_blend() && self.blend.is_some_and(|b| b.holds(self.larder, word))
    }

    fn has_blend(&self) -> bool {
        self.lines
            .iter()
            .any(|l| l.blend && l.kept != Kept::Dropped)
    }

    fn words(&self, w: &Weighed) -> String {
        let line = &self.formula.recipe.components[self.at].lines[w.line];
        let item = &line.items[w.item];
        match w.food {
            Some(f) => self.larder.food(f).name.clone(),
            None => match &item.reference {
                Some(r) => r.name.clone(),
                None => line.words(&item.name).trim().to_owned(),
            },
        }
    }

    pub(super) fn change(
        &mut self,
        what: &str,
        from: String,
        to: String,
        range: Option<String>,
        rule: &str,
        source: &str,
    ) {
        self.changes.push(Change {
            what: what.to_owned(),
            from,
            to,
            range,
            rule: rule.to_owned(),
            source: source.to_owned(),
        });
    }

    /// Copies the lines; wheat flours of the formula become the blend. Returns grams replaced.
    fn flours(&mut self) -> f64 {
        let mut replaced: Vec<Spread<Mass>> = Vec::new();
        let mut powder: Vec<Spread<Mass>> = Vec::new();
        let mut salt: Vec<Spread<Mass>> = Vec::new();
        let mut water: Vec<Spread<Mass>> = Vec::new();
        let mut names: Vec<String> = Vec::new();
        let mut place = None;
        for w in &self.weighed.items {
            let _item = &self.formula.recipe.components[self.at].lines[w.line].items[w.item];
            let name = self.words(w);
            let mut line = ReworkedLine {
                origin: Some((w.line, w.item)),
                kept: Kept::Same,
                name: name.clone(),
                food: w.food,
                component: w.component,
                blend: false,
                grams: w.grams,
                percent: None,
                in_formula: w.in_formula,
                labelled: crate::screen::is_labelled(
                    &self.formula.recipe.components[self.at].lines[w.line],
                    w.item,
                ),
                note: None,
            };
            let food = w.food.map(|f| self.larder.food(f));
            let gluten = food.is_some_and(|f| f.gluten == Gluten::Contains) && !line.labelled;
            let starter = food.is_some_and(|f| f.key.ends_with("sourdough_starter"));
            let flour = food.is_some_and(larder::Food::is_flour_phase);
            if gluten && (flour || starter) && w.in_formula {
                match w.grams {
                    Some(g) => {
                        let key = food.map_or("", |f| f.key.as_str());
                        let (f, p, s) = if key.starts_with("self_raising") {
                            (0.95, 0.0475, 0.006)
                        } else {
                            (1.0, 0.0, 0.0)
                        };
                        // US self-rising flour holds salt, British self-raising none.
                        let said = self.formula.recipe.components[self.at].lines[w.line]
                            .clean
                            .to_lowercase();
                        let us = self.formula.locale == quantity::Locale::Us
                            && !said.contains("raising");
                        if p > 0.0 {
                            powder.push(g.scaled(p));
                            if us {
                                salt.push(g.scaled(s * 2.0));
                            }
                            self.change(
                                "self-raising flour",
                                format!("{} of {name}", grams(g.likely())),
                                format!("{} of flour and {} of baking powder", grams(g.likely() * f), grams(g.likely() * p)),
                                Some("4.5–5 g of baking powder in 100 g".to_owned()),
                                "self-raising flour is flour and baking powder: split before it is replaced",
                                "usual composition, from memory",
                            );
                        }
                        if starter {
                            replaced.push(g.scaled(0.5));
                            water.push(g.scaled(0.5));
                            line.note = Some("a wheat or rye starter can never be kept: build a new one from gluten-free flour".to_owned());
                            self.change(
                                "starter",
                                format!("{} of {name}", grams(g.likely())),
                                format!("half blend, half water: {} each", grams(g.likely() * 0.5)),
                                None,
                                "a starter is half flour, half water; one begun with wheat or rye stays gluten-bearing however often it is fed",
                                "common practice, no source",
                            );
                        } else {
                            replaced.push(g.scaled(f));
                        }
                        names.push(format!("{} {name}", grams(g.likely())));
                        line.kept = Kept::Dropped;
                        place.get_or_insert(self.lines.len());
                    }
                    None => {
                        line.kept = Kept::Changed;
                        self.doubts.push(Doubt::new(
                            DoubtCode::NoWeight,
                            format!("{name} has no weight: it cannot be replaced weight for weight; write its grams"),
                        ));
                        line.blend = true;
                        line.food = None;
                        line.name = self
                            .blend
                            .map_or("gluten-free blend".to_owned(), |b| b.name.to_owned());
                    }
                }
            }
            self.lines.push(line);
        }
        let Some(place) = place else { return 0.0 };
        let total = Spread::sum_independent(replaced);
        let powdered: f64 = powder.iter().map(|p| p.likely().as_grams()).sum();
        if powdered > 0.0 {
            let flour = self.original.flour.likely().as_grams();
            self.flour_scale = flour / (flour - 0.05 / 0.0475 * powdered).max(1.0);
        }
        let blend_name = self.blend.map_or("blend", |b| b.name);
        let first_origin = self.lines[place].origin;
        self.lines.insert(
            place,
            ReworkedLine {
                origin: first_origin,
                kept: Kept::Changed,
                name: blend_name.to_owned(),
                food: None,
                component: None,
                blend: true,
                grams: Some(total),
                percent: None,
                in_formula: true,
                labelled: false,
                note: None,
            },
        );
        let source = "weight for weight: common practice, no source; cups of 20 flours weigh 75–170 g (flour table)";
        self.change(
            "flour",
            names.join(" + "),
            format!("{} {blend_name}", grams(total.likely())),
            None,
            "flour is replaced weight for weight, never cup for cup",
            source,
        );
        let add = |this: &mut Self, key: &str, parts: Vec<Spread<Mass>>, note: &str| {
            if parts.is_empty() {
                return;
            }
            if let Some(food) = this.larder.by_key(key) {
                this.add(food, Spread::sum_independent(parts), Some(note.to_owned()));
            }
        };
        add(self, "baking_powder", powder, "from the self-raising flour");
        add(self, "table_salt", salt, "from the self-raising flour");
        add(self, "water", water, "from the starter");
        total.likely().as_grams()
    }

    /// Adds grams of a food to its line, or a new line.
    pub(super) fn add(&mut self, food: FoodId, more: Spread<Mass>, note: Option<String>) {
        let here = self.lines.iter_mut().find(|l| {
            l.food == Some(food) && l.in_formula && l.kept != Kept::Dropped && l.grams.is_some()
        });
        if let Some(line) = here {
            line.grams = line.grams.map(|g| Spread::sum_independent([g, more]));
            if line.kept == Kept::Same {
                line.kept = Kept::Changed;
            }
            line.note = note.or(line.note.take());
            return;
        }
        self.lines.push(ReworkedLine {
            origin: None,
            kept: Kept::New,
            name: self.larder.food(food).name.clone(),
            food: Some(food),
            component: None,
            blend: false,
            grams: Some(more),
            percent: None,
            in_formula: true,
            labelled: false,
            note,
        });
    }

    /// Gluten-bearing lines that are not flour of the formula.
    fn others(&mut self) {
        for i in 0..self.lines.len() {
            let line = &self.lines[i];
            if line.kept == Kept::Dropped || line.labelled {
                continue;
            }
            let Some(id) = line.food else { continue };
            let food = self.larder.food(id);
            let oats = food.key == "rolled_oats" || food.key == "quick_oats";
            if food.gluten != Gluten::Contains && !oats {
                continue;
            }
            let from = food.name.clone();
            if food.is_flour_phase() && food.gluten == Gluten::Contains && !line.in_formula {
                let rice = self.larder.by_key("white_rice_flour");
                let line = &mut self.lines[i];
                line.food = rice;
                line.name = rice.map_or("rice flour".to_owned(), |f| {
                    self.larder.food(f).name.clone()
                });
                line.kept = Kept::Changed;
                let to = line.name.clone();
                self.change(
                    "dusting",
                    from,
                    to,
                    None,
                    "dust with rice flour or oil the bench; never wheat flour",
                    "common practice, no source",
                );
                continue;
            }
            let key = if oats {
                "rolled_oats"
            } else {
                food.key.as_str()
            };
            let found = REPLACEMENTS.iter().find(|(k, _)| *k == key).map(|(_, r)| r);
            let wheat_gluten = food.key == "vital_wheat_gluten";
            if wheat_gluten {
                self.lines[i].kept = Kept::Dropped;
                self.change(
                    "gluten",
                    from,
                    "left out".to_owned(),
                    None,
                    "wheat gluten has no place here: the binder does its work",
                    "common practice, no source",
                );
                continue;
            }
            match found.and_then(|r| Some((r, self.larder.by_key(r.to?)?))) {
                Some((r, to)) => {
                    let line = &mut self.lines[i];
                    line.food = Some(to);
                    line.name = self.larder.food(to).name.clone();
                    line.grams = line.grams.map(|g| g.scaled(r.per));
                    line.kept = Kept::Changed;
                    line.labelled = line.name.contains("labelled gluten-free");
                    line.note = (!r.note.is_empty()).then(|| r.note.to_owned());
                    let to = line.name.clone();
                    let rule = if r.note.is_empty() {
                        "a product labelled gluten-free in its place".to_owned()
                    } else {
                        r.note.to_owned()
                    };
                    self.change("hidden gluten", from, to, None, &rule, r.source);
                }
                None => {
                    self.lines[i].note =
                        Some("contains gluten and no replacement is known".to_owned());
                    self.change(
                        "hidden gluten",
                        from.clone(),
                        "no replacement known".to_owned(),
                        None,
                        "leave it out, or find a version labelled gluten-free",
                        "common practice, no source",
                    );
                    self.doubts.push(Doubt::new(
                        DoubtCode::NoReplacement,
                        format!("{from} contains gluten and no gluten-free replacement is known here: leave it out, or find one labelled gluten-free"),
                    ));
                }
            }
        }
    }

    /// Foods of the reworked lines, the blend taken apart, preferments among them.
    pub(super) fn foods(&self) -> Vec<(FoodId, Spread<Mass>)> {
        let mut all = foods_of(&self.lines, self.blend);
        all.extend(self.begun());
        all
    }

    /// Foods of the preferments this component uses.
    fn begun(&self) -> Vec<(FoodId, Spread<Mass>)> {
        let mut all = Vec::new();
        for line in self.lines.iter().filter(|l| l.in_formula) {
            let (Some(c), Some(g)) = (line.component, line.grams) else {
                continue;
            };
            if let Some(part) = self.done.get(c).and_then(Option::as_ref)
                && is_preferment(&part.name)
                && part.makes.likely().value() > 0.0
            {
                let share = g.likely().value() / part.makes.likely().value();
                let foods = foods_of(&part.lines, part.blend.as_ref());
                all.extend(foods.into_iter().map(|(f, g)| (f, g.scaled(share))));
            }
        }
        all
    }

    pub(super) fn balance(&self) -> Balance {
        let mut b = Balance::of(&self.foods(), self.larder);
        // Parts of one blend do not vary apart: the flour phase is as sure as its one line.
        let flour = Spread::sum_independent(
            self.lines
                .iter()
                .filter(|l| l.in_formula && l.kept != Kept::Dropped)
                .filter(|l| l.blend || l.food.is_some_and(|f| self.larder.food(f).is_flour_phase()))
                .filter_map(|l| l.grams)
                .chain(
                    self.begun()
                        .into_iter()
                        .filter(|(f, _)| self.larder.food(*f).is_flour_phase())
                        .map(|(_, g)| g),
                ),
        );
        b.flour = flour;
        b
    }

    /// Doubts where the result leaves the style's published ranges.
    fn check(&mut self, style: Style, b: &Balance) {
        let mut out = |name: &str, value: f64, parameter: &str, unit: &str| {
            if let Some(r) = style.range(parameter)
                && !(r.value.low().get() - 1e-9..=r.value.high().get() + 1e-9).contains(&value)
            {
                self.doubts.push(Doubt::new(
                    DoubtCode::OutOfRange,
                    format!(
                        "{name} {value:.0} {unit} is outside the range for {}, {:.0}–{:.0} {unit} ({})",
                        style.name(),
                        r.value.low().get(),
                        r.value.high().get(),
                        r.cited()
                    ),
                ));
            }
        };
        out(
            "hydration",
            b.hydration.map_or(0.0, |h| h.likely().get()),
            "hydration_eff",
            "%",
        );
        out("starch share", b.starch_share, "starch_share", "%");
    }
}
