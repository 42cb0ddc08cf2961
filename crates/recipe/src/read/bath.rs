//! The water that pretzels, bagels and noodles are boiled in, listed among the dough's own lines.

use super::{IN_THE_DOUGH, Reader};
use crate::line::{Item, Purpose};
use crate::recipe::{Activity, Component, Recipe};
use larder::{Food, FoodId, Function, State};
use quantity::Unit;

/// So much water over the flour is no dough's nor batter's: a bath.
///
/// # Source
/// Common practice, no source. Choux and crêpes of `style_ranges.tsv` reach it with their eggs and milk, by
/// water alone they do not (choux has 2 of water to 1 of flour); sauces and porridge pass it, but nobody
/// kneads, rolls or shapes them.
const OVER_FLOUR: f64 = 3.0;

/// The least water that is boiled in, grams.
const LEAST: f64 = 900.0;

/// The least water of the dough's other lines, of its flour; the driest dough that is boiled, pasta, has
/// 0.42 (`style_ranges.tsv`).
const WETS: f64 = 0.2;

/// Words of a clause that boils.
const BOILS: [&str; 6] = [
    "boil",
    "simmer",
    "poach",
    "bath",
    "blanch",
    "cook in the water",
];

/// Water that is poured in, unless one of [`IN_IT`] stands before it.
const BOILING_WATER: &str = "boiling water";
const IN_IT: [&str; 4] = ["in ", "into ", "in the ", "into the "];

/// What is boiled piece by piece, behind a word that boils.
const PIECES: [&str; 5] = [
    " each",
    " them",
    " the pieces",
    " in batches",
    " one by one",
];

/// What parts are called that hold what others are cooked in.
const BOILED_IN: [&str; 7] = [
    "boiling",
    "boiling water",
    "boiling liquid",
    "boiling bath",
    "water bath",
    "bath",
    "soda bath",
];
const FRIED_IN: [&str; 7] = [
    "frying",
    "deep frying",
    "deep-frying",
    "shallow frying",
    "shallow-frying",
    "frying oil",
    "to fry",
];

/// Takes out of the formula what stands under 'For boiling' and is a bath, or under 'For frying' and is fat: none
/// of it is a part of each piece.
fn mark_named(part: &mut Component, reader: &Reader<'_>) {
    let food = |i: &Item| Some(reader.larder.food(i.food.as_ref()?.food));
    let all = |is: &dyn Fn(&Item) -> bool| part.lines.iter().flat_map(|l| &l.items).all(is);
    let name = part.name.as_str();
    let boils = || {
        let listed = listed(part, reader);
        let waters = || listed.iter().filter(|l| l.food.key == "water");
        waters().map(|l| l.grams).sum::<f64>() >= LEAST
            && listed.iter().all(|l| !l.kept)
            && all(&|i| reader.is_of_a_bath(i))
    };
    let fries = || all(&|i| food(i).is_some_and(|f| f.does(Function::Fat)));
    let what = if BOILED_IN.contains(&name) && boils() {
        "boiled"
    } else if FRIED_IN.contains(&name) && fries() {
        "fried"
    } else {
        return;
    };
    for line in &mut part.lines {
        for i in 0..line.items.len() {
            if line.items[i].purpose == Purpose::Formula {
                let named = line.words(&line.items[i].name);
                let says = format!(
                    "'{named}' is taken for what the rest is {what} in: screened, but not counted in the formula"
                );
                line.set_aside(i..i + 1, Purpose::Pan, says);
            }
        }
    }
}

/// Takes the water out of the formula that a dough is boiled in, with the soda that the same clause names,
/// and says so. Only where the dough is kneaded, rolled or shaped and has another liquid of its own.
pub(super) fn mark(recipe: &mut Recipe, owners: &[usize], reader: &Reader<'_>) {
    for part in &mut recipe.components {
        mark_named(part, reader);
    }
    let texts = recipe.steps.iter().map(|s| s.text.to_lowercase());
    let clauses: Vec<Vec<String>> = texts
        .map(|t| t.split([',', ';', '.', '!']).map(boiling_clause).collect())
        .collect();
    let all: Vec<&str> = clauses.iter().flatten().map(|c| c.trim()).collect();
    if !all.iter().any(|c| boils(c)) {
        return;
    }
    let soda = |c: &str| c.contains("soda") || c.contains("bicarb");
    // 'Bring it to the boil, add the soda.'
    let added = |c: &str| c.starts_with("add ") && soda(c);
    let soda = all.iter().any(|c| boils(c) && soda(c))
        || all.windows(2).any(|two| boils(two[0]) && added(two[1]));
    let shaped: Vec<usize> = (recipe.steps.iter().zip(&clauses).zip(owners))
        .filter(|((step, clauses), _)| {
            let worked = [Activity::Knead, Activity::Roll, Activity::Shape];
            let worked = step.facts.iter().any(|f| worked.iter().any(|a| f.does(*a)));
            worked || clauses.iter().any(|c| boils_pieces(c))
        })
        .map(|(_, owner)| *owner)
        .collect();
    for (c, part) in recipe.components.iter_mut().enumerate() {
        if shaped.contains(&c) {
            mark_part(part, soda, reader);
        }
    }
}

/// A clause without the boiling water that is poured in: '250 g boiling water'.
fn boiling_clause(clause: &str) -> String {
    match clause.split_once(BOILING_WATER) {
        Some((before, after)) if !IN_IT.iter().any(|w| before.ends_with(w)) => {
            format!("{before}{after}")
        }
        _ => clause.to_owned(),
    }
}

fn boils(clause: &str) -> bool {
    BOILS.iter().any(|w| clause.contains(w))
}

fn boils_pieces(clause: &str) -> bool {
    let mut after = BOILS.iter().filter_map(|w| Some(clause.split_once(w)?.1));
    after.any(|rest| PIECES.iter().any(|p| rest.starts_with(p)))
}

/// An item of the formula.
struct Listed<'a> {
    at: (usize, usize),
    food: &'a Food,
    grams: f64,
    /// The water in it, grams.
    water: f64,
    /// The baker says that it goes into the dough.
    kept: bool,
}

impl Listed<'_> {
    fn is_bath(&self, flour: f64) -> bool {
        let much = self.grams >= LEAST && self.grams >= OVER_FLOUR * flour;
        self.food.key == "water" && much && !self.kept
    }
}

/// Marks the water of a part that is boiled in, and its most soda where the bath has some.
fn mark_part(part: &mut Component, soda: bool, reader: &Reader<'_>) {
    let (flours, others): (Vec<_>, Vec<_>) = listed(part, reader)
        .into_iter()
        .partition(|l| l.food.is_flour_phase());
    // What starch alone sets is a sauce or a jelly.
    let flour: f64 = flours.iter().map(|l| l.grams).sum();
    if flour <= 0.0 || flours.iter().all(|l| l.food.function() == Function::Starch) {
        return;
    }
    let (mut aside, others): (Vec<_>, Vec<_>) = others.into_iter().partition(|l| l.is_bath(flour));
    let water: f64 = others.iter().map(|l| l.water).sum();
    if aside.is_empty() || water < WETS * flour {
        return;
    }
    let sodas = others
        .into_iter()
        .filter(|l| soda && l.food.key == "baking_soda");
    aside.extend(sodas.max_by(|a, b| a.grams.total_cmp(&b.grams)));
    for (l, i) in aside.into_iter().map(|l| l.at) {
        let line = &mut part.lines[l];
        let named = line.words(&line.items[i].name);
        let says = format!(
            "'{named}' is taken for what the dough is boiled in: not counted in the formula"
        );
        line.set_aside(i..i + 1, Purpose::Pan, says);
    }
}

/// The items of a part's formula that the larder knows.
fn listed<'a>(part: &Component, reader: &Reader<'a>) -> Vec<Listed<'a>> {
    let mut out = Vec::new();
    for (l, line) in part.lines.iter().enumerate() {
        let kept = line.clean.to_lowercase().contains(IN_THE_DOUGH);
        for (i, item) in line.items.iter().enumerate() {
            let Some(found) = &item.food else { continue };
            if item.purpose != Purpose::Formula {
                continue;
            }
            let grams = grams(item, found.food, reader);
            let share = reader.larder.composition(found.food).water.unwrap_or(0.0);
            out.push(Listed {
                at: (l, i),
                food: reader.larder.food(found.food),
                grams,
                water: grams * share / 100.0,
                kept,
            });
        }
    }
    out
}

/// The grams of an item's first amount.
fn grams(item: &Item, food: FoodId, reader: &Reader<'_>) -> f64 {
    let weighed = item.amounts.first().and_then(|a| {
        let locale = a.locale.unwrap_or(reader.locale);
        let unit = a.unit.unwrap_or(Unit::Count);
        let one = reader
            .larder
            .weigh(food, unit, None, State::Usual, locale)?;
        Some(one.grams.likely().as_grams() * a.middle())
    });
    weighed.unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;
    use quantity::Locale;

    fn out(lines: &str, method: &str) -> Vec<String> {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = Reader::new(&larder, Locale::Uk);
        let text = format!("Trial\n\n{lines}\n\nMethod\n{method}\n");
        let recipe = crate::read::recipe(&text, &reader).expect("reads");
        let lines = recipe.components.iter().flat_map(|c| &c.lines);
        let aside = lines.filter(|l| l.items.iter().any(|i| i.purpose == Purpose::Pan));
        aside.map(|l| l.text.clone()).collect()
    }

    #[test]
    fn water_to_boil_in_is_not_of_the_dough() {
        let pretzels =
            "500 g strong flour\n280 g water\n7 g yeast\n2 litres water\n60 g bicarbonate of soda";
        let got = out(
            pretzels,
            "1. Knead and rise.\n2. Boil each in the water and soda for 30 seconds.\n3. Bake.",
        );
        assert_eq!(got, ["2 litres water", "60 g bicarbonate of soda"]);
        let noodles = "200 g flour\n2 eggs\n3 litres water";
        assert_eq!(
            out(noodles, "1. Knead, roll and cut.\n2. Boil for 3 minutes."),
            ["3 litres water"]
        );
        let wet = "500 g flour\n250 ml buttermilk\n2 litres water";
        assert_eq!(
            out(wet, "1. Knead, roll into ropes and cut. Boil."),
            ["2 litres water"]
        );
        // A soup, a dough without a boil, a big dough.
        assert!(out("50 g flour\n1 litre water\n500 g leeks", "1. Simmer.").is_empty());
        assert!(out("500 g flour\n1.6 litres water\n2 eggs", "1. Mix and bake.").is_empty());
        assert!(out("2 kg flour\n1.3 litres water\n2 eggs", "1. Knead. Boil.").is_empty());
        // Nor is a sauce, a jelly or a porridge a dough.
        let sauce = "80 g flour\n1 litre water\n200 ml milk";
        assert!(out(sauce, "1. Whisk together and simmer for 10 minutes.").is_empty());
        let custard = "80 g cornflour\n1 litre water\n5 egg yolks";
        assert!(out(custard, "1. Boil, stirring. Shape into a mound.").is_empty());
        let porridge = "200 g semolina\n1 litre water\n200 ml milk";
        assert!(out(porridge, "1. Boil, raining in the semolina.").is_empty());
    }

    /// Under a heading that says so the whole list is the bath, whatever flour stands elsewhere; a syrup that is boiled
    /// is none, nor is what is eaten of a poaching.
    #[test]
    fn what_stands_under_for_boiling_is_the_bath() {
        let dough = "Dough\n600 g strong flour\n360 g water\n5 g dried yeast\n\n";
        let steps = "1. Mix, shape 10 rings.\n2. Boil the rings. Bake.";
        let under = |part: &str| out(&format!("{dough}{part}"), steps);
        assert_eq!(
            under("For boiling\n2 litres water\n2 tbsp barley malt syrup"),
            ["2 litres water", "2 tbsp barley malt syrup"]
        );
        assert_eq!(
            under("For frying\n1 litre sunflower oil"),
            ["1 litre sunflower oil"]
        );
        assert_eq!(
            under("To fry\n1 litre sunflower oil"),
            ["1 litre sunflower oil"]
        );
        assert!(under("For boiling\n200 g water\n300 g sugar").is_empty());
        assert!(under("For boiling\n1 litre water\n6 eggs").is_empty());
        assert!(under("For frying\n50 g butter\n400 g mushrooms").is_empty());
    }

    #[test]
    fn the_soda_of_the_bath_is_what_the_clause_that_boils_names() {
        let rings =
            "500 g flour\n280 g water\n1/4 tsp baking soda\n2.5 litres water\n2 tbsp baking soda";
        assert_eq!(
            out(rings, "1. Knead, shape. Boil each in the water and soda."),
            ["2.5 litres water", "2 tbsp baking soda"]
        );
        let sifted = "500 g flour\n1 tsp baking soda\n250 g water\n2.5 litres water";
        assert_eq!(
            out(
                sifted,
                "1. Sift flour and soda with 250 g boiling water, knead, roll and cut, then boil them."
            ),
            ["2.5 litres water"]
        );
    }
}
