//! What stands in for wheat: the blend for flour, other foods for hidden gluten.

use super::engine::Work;
use super::reworked::{Kept, ReworkedLine};
use crate::data::rows;
use crate::weigh::{Weighed, is_butter};
use crate::{Doubt, DoubtCode};
use larder::{FoodId, Function, Gluten};
use quantity::{Mass, Quantity, Spread};
use std::sync::LazyLock;

/// What stands in for a gluten-bearing food.
struct Replacement {
    to: Option<&'static str>,
    per: f64,
    note: &'static str,
    /// What to begin with, and of what: `own` is the food itself, `butter` all butter.
    advice: &'static str,
    about: &'static str,
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
                advice: r.get("advice"),
                about: r.get("about"),
                source: r.get("source"),
            };
            (r.get("food"), replacement)
        })
        .collect()
});

impl Work<'_> {
    /// Copies the lines; wheat flours of the formula become the blend. Returns grams replaced.
    pub(super) fn flours(&mut self) -> f64 {
        let mut replaced: Vec<Spread<Mass>> = Vec::new();
        let mut powder: Vec<Spread<Mass>> = Vec::new();
        let mut salt: Vec<Spread<Mass>> = Vec::new();
        let mut water: Vec<Spread<Mass>> = Vec::new();
        let mut names: Vec<String> = Vec::new();
        let mut parts: Vec<(String, f64, f64)> = Vec::new();
        let mut place = None;
        let powder_food = self.larder.by_key("baking_powder");
        for w in &self.weighed.items {
            let name = self.words(w);
            let mut line = ReworkedLine {
                key: String::new(),
                origin: Some((w.line, w.item)),
                kept: Kept::Same,
                name: name.clone(),
                food: w.food,
                component: w.component,
                blend: false,
                grams: self.weight(w),
                held: false,
                pinned: None,
                times: 1.0,
                percent: None,
                in_formula: w.in_formula,
                labelled: crate::screen::is_bought_labelled(
                    &self.formula.recipe.components[self.at].lines[w.line],
                    w.item,
                    self.larder,
                ),
                note: None,
                counts_as: w.counts_as,
            };
            let food = w.food.map(|f| self.larder.food(f));
            // Of what holds gluten by its pack alone another pack is bought; it is no wheat flour.
            let gluten = food.is_some_and(|f| f.gluten == Gluten::Contains)
                && !line.labelled
                && !w.food.is_some_and(|f| self.larder.is_by_pack(f));
            let starter = food.is_some_and(larder::Food::is_starter);
            let flour = food.is_some_and(larder::Food::is_flour_phase);
            // In a meringue starch stands by itself: [`Self::others`].
            let alone =
                self.style.is_none() && food.is_some_and(|f| f.function() == Function::Starch);
            if gluten && (flour || starter) && w.in_formula && !alone {
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
                                format!("{} of {name}", self.grams(w.food, g.likely())),
                                format!("{} of flour and {} of baking powder", self.grams(w.food, g.likely() * f), self.grams(powder_food, g.likely() * p)),
                                Some("4.5–5 g of baking powder in 100 g".to_owned()),
                                "self-raising flour is flour and baking powder: split before it is replaced",
                                "usual composition, from memory",
                            );
                        }
                        if starter {
                            replaced.push(g.scaled(0.5));
                            parts.push((name.clone(), g.likely().as_grams(), 0.5));
                            water.push(g.scaled(0.5));
                            line.note = Some("a wheat or rye starter can never be kept: build a new one from gluten-free flour".to_owned());
                            self.change(
                                "starter",
                                format!("{} of {name}", self.grams(w.food, g.likely())),
                                format!("half blend, half water: {} each", self.grams(None, g.likely() * 0.5)),
                                None,
                                "a starter is half flour, half water; one begun with wheat or rye stays gluten-bearing however often it is fed",
                                "common practice, no source",
                            );
                        } else {
                            replaced.push(g.scaled(f));
                            parts.push((name.clone(), g.likely().as_grams(), f));
                        }
                        names.push(format!("{} {name}", self.grams(w.food, g.likely())));
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
                            .map_or("gluten-free blend".to_owned(), |b| b.name.to_string());
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
        let blend_name = self.blend.map_or("blend", |b| &b.name);
        let first_origin = self.lines[place].origin;
        self.lines.insert(
            place,
            ReworkedLine {
                key: String::new(),
                origin: first_origin,
                kept: Kept::Changed,
                name: blend_name.to_owned(),
                food: None,
                component: None,
                blend: true,
                grams: Some(total),
                held: false,
                pinned: None,
                times: 1.0,
                percent: None,
                in_formula: true,
                labelled: false,
                note: None,
                counts_as: None,
            },
        );
        let shown = self.pins.blend().unwrap_or(total.likely());
        let arithmetic = self.flour_sums(&parts, total.likely().as_grams());
        let source = "weight for weight: common practice, no source; cups of 20 flours weigh 75–170 g (flour table)";
        self.change(
            "flour",
            names.join(" + "),
            format!("{} {blend_name}", self.grams(None, shown)),
            None,
            "flour is replaced weight for weight, never cup for cup",
            source,
        )
        .sums(arithmetic);
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
    ///
    /// # Returns
    /// Whether they went in: a held line takes nothing.
    pub(super) fn add(&mut self, food: FoodId, more: Spread<Mass>, note: Option<String>) -> bool {
        let here = self.lines.iter_mut().find(|l| {
            l.food == Some(food)
                && l.in_formula
                && l.kept != Kept::Dropped
                && l.grams.is_some()
                && !l.held
        });
        if let Some(line) = here {
            line.grams = line.grams.map(|g| Spread::sum_independent([g, more]));
            line.was_changed();
            line.note = note.or(line.note.take());
            return true;
        }
        if self.is_held(food) {
            return false;
        }
        self.push(ReworkedLine {
            note,
            ..ReworkedLine::added(food, Some(more), self.larder)
        })
    }

    /// What the original weighs; of a part that weighs something else now, as much of the whole.
    fn weight(&self, w: &Weighed) -> Option<Spread<Mass>> {
        let grams = w.grams?;
        let Some((c, part)) = w
            .component
            .and_then(|c| Some((c, self.done.get(c)?.as_ref()?)))
        else {
            return Some(grams);
        };
        let item = &self.formula.recipe.components[self.at].lines[w.line].items[w.item];
        let stated = item.amounts.iter().any(|a| a.unit.is_some());
        let before = self.formula.components[c].makes.likely().value();
        let after = part.makes.likely().value();
        Some(if stated || before <= 0.0 {
            grams
        } else {
            grams.scaled(after / before)
        })
    }

    /// What is said of a replacement. How much to begin with is not said of what the baker holds.
    fn noted(&self, r: &Replacement, to: FoodId) -> Option<String> {
        let key = &self.larder.food(to).key;
        let held = match r.about {
            "own" => self.pins.get(key).is_some(),
            "butter" => self.pins.holds(|k| {
                let food = self.larder.by_key(k.split('#').next().unwrap_or(k));
                food.is_some_and(|f| is_butter(self.larder, f))
            }),
            _ => true,
        };
        let advice = (!held).then_some(r.advice);
        let said = [Some(r.note), advice];
        let said: Vec<&str> = said
            .into_iter()
            .flatten()
            .filter(|s| !s.is_empty())
            .collect();
        (!said.is_empty()).then(|| said.join(": "))
    }

    /// Gluten-bearing lines that are not flour of the formula.
    pub(super) fn others(&mut self) {
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
            if self.larder.is_by_pack(id) {
                let why = food.gluten_reason.clone();
                self.lines[i].note = Some(format!("buy another pack: {why}"));
                self.doubts.push(Doubt::new(
                    DoubtCode::NoReplacement,
                    format!("{from} holds gluten by the pack you have ({why}): buy another, read its label, and change what the larder says of it"),
                ));
                continue;
            }
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
                    let note = self.noted(r, to);
                    let line = &mut self.lines[i];
                    line.food = Some(to);
                    line.name = self.larder.food(to).name.clone();
                    line.grams = line.grams.map(|g| g.scaled(r.per));
                    line.kept = Kept::Changed;
                    line.labelled = line.name.contains("labelled gluten-free");
                    line.note.clone_from(&note);
                    let to = line.name.clone();
                    let rule = note.unwrap_or_else(|| {
                        "a product labelled gluten-free in its place".to_owned()
                    });
                    self.change("hidden gluten", from, to, None, &rule, r.source);
                }
                None => {
                    let (way, source) = found.map_or(
                        (
                            "leave it out, or find a version labelled gluten-free",
                            "common practice, no source",
                        ),
                        |r| (r.note, r.source),
                    );
                    self.lines[i].note = Some(format!("contains gluten: {way}"));
                    self.change(
                        "hidden gluten",
                        from.clone(),
                        "no replacement known".to_owned(),
                        None,
                        way,
                        source,
                    );
                    self.doubts.push(Doubt::new(
                        DoubtCode::NoReplacement,
                        format!("{from} contains gluten and nothing stands in for it weight for weight: {way}"),
                    ));
                }
            }
        }
    }
}
