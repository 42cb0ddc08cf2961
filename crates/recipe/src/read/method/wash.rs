//! Egg that the method only brushes on, where its line does not say so: '1 egg, beaten'.

use crate::line::{Item, Purpose};
use crate::read::Reader;
use crate::recipe::{Component, Recipe, Step};
use quantity::UnitKind;

/// Written behind an egg that goes into the dough after all.
pub(crate) const IN_THE_DOUGH: &str = "for the dough";

const EGGS: [&str; 8] = [
    "egg", "eggs", "yolk", "yolks", "white", "whites", "eggwash", "egg-wash",
];
const BRUSHES: [&str; 9] = [
    "brush", "brushed", "brushing", "glaze", "glazed", "paint", "wash", "eggwash", "egg-wash",
];
/// A wash is stirred before it is brushed on.
const STIRS: [&str; 4] = ["beat", "whisk", "mix", "stir"];
/// With these an egg may go in without its name.
pub(super) const ALL: [&str; 9] = [
    "ingredients",
    "everything",
    "it all",
    "mix all",
    "all the",
    "all of",
    "the rest of",
    "remaining",
    "the wet",
];
/// What else is brushed, and what else is brushed on.
const OTHER: [&str; 11] = [
    "tin", "tins", "pan", "pans", "dish", "tray", "sheet", "butter", "oil", "milk", "cream",
];

/// Sets the one egg of a floury part beside the formula where all the method does with it is to brush it
/// on: its water is then none of the dough's. The line is asked about.
pub(crate) fn set_aside(recipe: &mut Recipe, reader: &Reader<'_>) {
    let found: Vec<(usize, usize)> = (0..recipe.components.len())
        .filter_map(|c| Some((c, egg(&recipe.components[c], reader)?)))
        .filter(|&(c, _)| only_brushes(recipe, c, reader))
        .collect();
    for (c, l) in found {
        let line = &mut recipe.components[c].lines[l];
        let shown = line.named();
        let purpose = Purpose::Brushing.words().unwrap_or_default();
        let says = format!(
            "'{shown}' is {purpose}, as the method does nothing else with it: screened, but not counted in the formula"
        );
        line.set_aside(0..line.items.len(), Purpose::Brushing, says);
    }
}

/// The line of the only egg of a part with flour.
fn egg(part: &Component, reader: &Reader<'_>) -> Option<usize> {
    let foods = |l: usize| part.lines[l].items.iter().filter_map(|i| i.food.as_ref());
    let all = 0..part.lines.len();
    let flour = |l: usize| foods(l).any(|m| reader.larder.food(m.food).is_flour_phase());
    let mut eggs = all
        .clone()
        .filter(|&l| foods(l).any(|m| reader.is_egg(m.food)));
    let (only, None) = (eggs.next()?, eggs.next()) else {
        return None;
    };
    let line = &part.lines[only];
    let of_a_wash = |i: &Item| {
        i.purpose == Purpose::Formula && i.further().next().is_none() && reader.may_wash(i)
    };
    let egg = line
        .items
        .first()
        .filter(|i| i.food.as_ref().is_some_and(|m| reader.is_egg(m.food)))?;
    // Two eggs are hardly brushed on.
    let one = egg
        .amounts
        .first()
        .is_none_or(|a| a.high <= 1.0 || a.unit.is_some_and(|u| u.kind() != UnitKind::Piece));
    let fits = one
        && line.items.iter().all(of_a_wash)
        && !line.clean.to_lowercase().contains(IN_THE_DOUGH);
    (fits && all.clone().any(flour)).then_some(only)
}

/// Whether the method brushes with egg and does nothing else with that of a part.
fn only_brushes(recipe: &Recipe, c: usize, reader: &Reader<'_>) -> bool {
    let others = (0..recipe.components.len()).filter(|&o| o != c);
    let with_egg: Vec<usize> = others
        .filter(|&o| {
            let items = recipe.components[o].lines.iter().flat_map(|l| &l.items);
            let mut foods = items.filter_map(|i| i.food.as_ref());
            foods.any(|m| reader.is_egg(m.food))
        })
        .collect();
    let anothers = |s: &Step| s.component.is_some_and(|o| with_egg.contains(&o));
    let mut brushed = false;
    for step in recipe.steps.iter().filter(|s| !anothers(s)) {
        let says = |clause: &[String], all: &[&str]| clause.iter().any(|w| all.contains(&&**w));
        let mut clauses = clauses(&step.text).into_iter().peekable();
        while let Some(clause) = clauses.next() {
            let said = format!(" {} ", clause.join(" "));
            if ALL.iter().any(|w| said.contains(&format!(" {w} "))) {
                return false;
            }
            if !says(&clause, &EGGS) {
                continue;
            }
            // 'Beat the egg with a little milk and brush it over.'
            let stirred = clause.first().is_some_and(|w| STIRS.contains(&&**w));
            let into = clause.get(1).is_some_and(|w| w == "in");
            let mut next = || {
                clauses
                    .peek()
                    .is_some_and(|c| says(c, &BRUSHES) && !says(c, &OTHER))
            };
            brushed = says(&clause, &BRUSHES) || stirred && !into && next();
            if !brushed {
                return false;
            }
        }
    }
    brushed
}

/// The clauses of a text as words in small letters.
fn clauses(text: &str) -> Vec<Vec<String>> {
    let text = text
        .to_lowercase()
        .replace(" and ", ", ")
        .replace(" then ", ", ");
    text.split([',', ';', '.', '!', '\n'])
        .map(|c| {
            let words = c.split(|c: char| !c.is_alphanumeric() && c != '-');
            words.filter(|w| !w.is_empty()).map(str::to_owned).collect()
        })
        .filter(|c: &Vec<String>| !c.is_empty())
        .collect()
}
