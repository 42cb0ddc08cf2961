//! Lines that hold what is left out, and what comes in their place.

use super::NONE_KNOWN;
use super::role::{MUCH_EGG, Role};
use super::table::{Much, Row, Way, ways};
use crate::rework::engine::Work;
use crate::rework::reworked::{Kept, ReworkedLine};
use crate::{Holds, LeftOut};
use larder::{Allergen, FoodId, Function, allergen};
use quantity::{Mass, Spread, listed};

/// A food for which there was no way.
#[derive(Debug, Clone)]
pub(in crate::rework) struct NoWay {
    pub(super) origin: Option<(usize, usize)>,
    pub(super) food: FoodId,
    pub(super) what: LeftOut,
    pub(super) why: String,
    /// Its line is gone, yet what it did is still wanted: a starter that is built anew.
    pub(super) dropped: bool,
}

/// A row that can be used here.
struct Usable {
    row: &'static Row,
    foods: Vec<(FoodId, Much)>,
    /// Allergens that it surely brings and the food in its place had not.
    brings: Vec<Allergen>,
    /// Left out as well, if its label says so.
    checks: bool,
}

impl Work<'_> {
    /// Puts other foods in the place of what is left out, line by line.
    pub(in crate::rework) fn leave_out(&mut self) {
        if self.left_out.is_empty() {
            return;
        }
        // Roles are of the recipe as it was: one line's swap does not change another's.
        let roles: Vec<Role> = (0..self.lines.len()).map(|i| self.role(i)).collect();
        for (i, role) in roles.into_iter().enumerate() {
            self.leave_out_of(i, role);
        }
        if self.leaves_out(LeftOut::Yeast) {
            self.starters();
        }
    }

    fn leave_out_of(&mut self, i: usize, role: Role) {
        let line = &self.lines[i];
        if line.kept == Kept::Dropped || line.blend {
            return;
        }
        let Some(food) = line.food else { return };
        for &what in self.left_out {
            if what.in_food(food, self.larder) != Holds::Yes {
                continue;
            }
            match self.way(what, food, role) {
                Ok(usable) => {
                    self.swap(i, food, what, role, &usable);
                    return;
                }
                Err(why) => {
                    let from = self.amount(i, role);
                    self.change(
                        &without(what),
                        from.clone(),
                        format!("{from}, as it was"),
                        None,
                        &why.0,
                        why.1,
                    );
                    self.no_way.push(NoWay {
                        origin: self.lines[i].origin,
                        food,
                        what,
                        why: why.0,
                        dropped: false,
                    });
                }
            }
        }
    }

    /// The first way that brings in nothing else that is left out and no new allergen.
    fn way(
        &self,
        what: LeftOut,
        food: FoodId,
        role: Role,
    ) -> Result<Usable, (String, &'static str)> {
        let key = &self.larder.food(food).key;
        let mut usable: Vec<Usable> = ways(what, key, role)
            .filter_map(|r| self.usable(r, food))
            .collect();
        usable.sort_by_key(|u| (!u.brings.is_empty(), u.checks));
        if !usable.is_empty() {
            return Ok(usable.remove(0));
        }
        let mut rows = ways(what, key, role).peekable();
        let tried = rows.peek().is_some();
        match rows.find(|r| r.way == Way::None) {
            Some(r) => Err((r.note.to_owned(), r.source)),
            None if tried => Err((
                "no good substitute: what would do holds something else that is left out"
                    .to_owned(),
                "common practice, no source",
            )),
            None => Err((NONE_KNOWN.to_owned(), "common practice, no source")),
        }
    }

    fn usable(&self, row: &'static Row, old: FoodId) -> Option<Usable> {
        let foods: Vec<(FoodId, Much)> = match &row.way {
            Way::None => return None,
            Way::Omit => Vec::new(),
            Way::Foods(foods) => foods
                .iter()
                .map(|(key, much)| Some((self.larder.by_key(key)?, *much)))
                .collect::<Option<_>>()?,
        };
        let held = |f: &(FoodId, Much)| {
            let all = self.left_out.iter().map(|w| w.in_food(f.0, self.larder));
            all.max().unwrap_or(Holds::No)
        };
        let worst = foods.iter().map(held).max().unwrap_or(Holds::No);
        if worst == Holds::Yes {
            return None;
        }
        let had = &self.larder.food(old).allergens;
        let mut brings: Vec<Allergen> = foods
            .iter()
            .flat_map(|(f, _)| &self.larder.food(*f).allergens)
            .filter(|(a, check)| !check && !had.iter().any(|h| h.0 == *a))
            .map(|(a, _)| *a)
            .collect();
        brings.dedup();
        Some(Usable {
            row,
            foods,
            brings,
            checks: worst == Holds::Check,
        })
    }

    fn amount(&self, i: usize, role: Role) -> String {
        let line = &self.lines[i];
        let name = format!("{}{}", line.name, role.words());
        match line.grams {
            Some(g) => format!("{} {name}", self.grams(line.food, g.likely())),
            None => name,
        }
    }

    fn swap(&mut self, i: usize, old: FoodId, what: LeftOut, role: Role, way: &Usable) {
        let from = self.amount(i, role);
        let g = self.lines[i].grams;
        let flour = self.balance().flour;
        let much = |m: Much| match m {
            Much::ToGram(n) => g.map(|g| g.scaled(n)),
            Much::OfFlour(p) => {
                Some(flour.scaled(p / 100.0)).filter(|f| f.likely().as_grams() > 0.0)
            }
        };
        let water = self.larder.by_key("water").filter(|_| way.row.water > 0.0);
        let extra: Vec<(FoodId, Option<Spread<Mass>>)> = way
            .foods
            .iter()
            .skip(1)
            .map(|(f, m)| (*f, much(*m)))
            .chain(water.map(|w| (w, g.map(|g| g.scaled(way.row.water)))))
            .collect();
        let first = way.foods.first().map(|(f, m)| (*f, much(*m)));
        let all: Vec<(FoodId, Option<Spread<Mass>>)> =
            first.into_iter().chain(extra.iter().copied()).collect();
        let to = if all.is_empty() {
            "left out".to_owned()
        } else {
            let shown = all.iter().map(|(f, m)| {
                let name = &self.larder.food(*f).name;
                match m {
                    Some(m) => format!("{} {name}", self.grams(*f, m.likely())),
                    None => name.clone(),
                }
            });
            listed(&shown.collect::<Vec<_>>())
        };
        let mut note = way.row.note.to_owned();
        if !way.brings.is_empty() {
            let names: Vec<&str> = way.brings.iter().map(|a| allergen::plain(*a)).collect();
            note.push_str(&format!("; this brings {} as an allergen", listed(&names)));
        }
        let egg = self.larder.food(old).does(Function::Egg);
        if egg && self.lines[i].in_formula && self.original.egg > MUCH_EGG {
            note.push_str(
                "; more than 2 eggs to 250 g flour: without them the crumb is another, bake a test",
            );
        }
        if g.is_none() && !extra.is_empty() {
            note.push_str(
                "; write the weight of the original: what comes in its place is weighed by it",
            );
        }
        let rule = [
            Some(note.clone()),
            self.goes_and_comes(i, old, &all),
            self.labels(&all),
        ];
        let rule: Vec<String> = rule.into_iter().flatten().collect();
        let line = &mut self.lines[i];
        let in_formula = line.in_formula;
        line.note = Some(note);
        line.labelled = false;
        match first {
            Some((food, grams)) => {
                line.kept = Kept::Changed;
                line.food = Some(food);
                line.name = self.larder.food(food).name.clone();
                line.grams = grams;
            }
            None => line.kept = Kept::Dropped,
        }
        let old_name = self.larder.food(old).name.clone();
        for (food, grams) in extra {
            let why = Some(format!("with what replaces the {old_name}"));
            match grams {
                Some(more) if in_formula => {
                    self.add(food, more, why);
                }
                _ => {
                    self.push(ReworkedLine {
                        in_formula,
                        note: why,
                        ..ReworkedLine::added(food, grams, self.larder)
                    });
                }
            }
        }
        self.change(
            &without(what),
            from,
            to,
            None,
            &rule.join("; "),
            way.row.source,
        );
    }

    /// Water, protein and fat that go with a food and come with others.
    fn goes_and_comes(
        &self,
        i: usize,
        old: FoodId,
        new: &[(FoodId, Option<Spread<Mass>>)],
    ) -> Option<String> {
        let gone = self.lines[i].grams.filter(|_| self.lines[i].in_formula)?;
        let of = |foods: &[(FoodId, f64)]| -> [f64; 3] {
            let mut sum = [0.0; 3];
            for (food, grams) in foods {
                let c = self.larder.composition(*food);
                let parts = [c.water, c.protein, c.fat];
                for (s, p) in sum.iter_mut().zip(parts) {
                    *s += p.unwrap_or(0.0) / 100.0 * grams;
                }
            }
            sum
        };
        let said = |x: [f64; 3]| {
            let [w, p, f] = x.map(|v| format!("{v:.1}").trim_end_matches(".0").to_owned());
            format!("{w} g water, {p} g protein and {f} g fat")
        };
        let new: Vec<(FoodId, f64)> = new
            .iter()
            .map(|(f, g)| Some((*f, (*g)?.likely().as_grams())))
            .collect::<Option<_>>()?;
        let goes = said(of(&[(old, gone.likely().as_grams())]));
        Some(match new.is_empty() {
            true => format!("{goes} go"),
            false => format!("{goes} go, {} come", said(of(&new))),
        })
    }

    /// The allergens that the label of what comes in has to be read for.
    fn labels(&self, new: &[(FoodId, Option<Spread<Mass>>)]) -> Option<String> {
        let mut names: Vec<&str> = new
            .iter()
            .flat_map(|(f, _)| self.larder.food(*f).allergens.iter().map(|a| (*f, *a)))
            .filter(|(f, (a, check))| *check && !self.larder.is_not_named(*f, *a))
            .map(|(_, (a, _))| allergen::plain(a))
            .collect();
        names.sort_unstable();
        names.dedup();
        (!names.is_empty()).then(|| format!("check its label for {}", listed(&names)))
    }

    /// Starters that became flour and water are raised by yeast all the same.
    fn starters(&mut self) {
        for i in 0..self.lines.len() {
            let line = &self.lines[i];
            let Some(food) = line.food else { continue };
            if line.kept == Kept::Dropped && self.larder.food(food).is_starter() {
                self.no_way.push(NoWay {
                    origin: line.origin,
                    food,
                    what: LeftOut::Yeast,
                    why: "no good substitute: a starter is yeast, one of gluten-free flour too"
                        .to_owned(),
                    dropped: true,
                });
            }
        }
    }
}

/// 'without milk'.
fn without(what: LeftOut) -> String {
    format!("without {}", what.plain())
}
