//! What is begun beforehand and belongs to the dough that takes it: preferments, scalded flour,
//! soakers. Many recipes mix it in by the method alone, and no line of the dough names it.

use crate::read::{self, Reader};
use crate::recipe::{Component, Recipe};
use crate::rework::{goes_on_a_bake, is_crumb};
use crate::weigh::uses;
use crate::{Doubt, DoubtCode, Item, Line, LineKind, sentences};
use larder::Function;

/// What is begun beforehand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beforehand {
    /// Flour and water that ripen: poolish, biga, levain, the sponge of a dough.
    Ferment,
    /// Flour cooked or steeped in water or milk: tangzhong, yudane, soaker.
    Paste,
}

/// Words of what ripens.
const FERMENTS: [&str; 10] = [
    "poolish",
    "biga",
    "preferment",
    "pre-ferment",
    "ferment",
    "fermentée",
    "fermentee",
    "levain",
    "leaven",
    "old dough",
];
/// The same, where they stand last: a 'sourdough bread' is the bread itself, 'sour cream' none.
const FERMENTS_LAST: [&str; 3] = ["starter", "sour", "sourdough"];

/// Words of flour that is cooked or steeped.
const PASTES: [&str; 7] = [
    "tangzhong",
    "yudane",
    "yukone",
    "soaker",
    "scald",
    "water roux",
    "milk roux",
];

/// Whether a word, in small letters, is of what a dough is begun with: 'levain', 'soaker'.
pub(crate) fn is_begun(word: &str) -> bool {
    ripens(word) || PASTES.contains(&word)
}

/// Whether a word, in small letters, is of what ripens; a sourdough may be the bread itself.
pub(crate) fn ripens(word: &str) -> bool {
    FERMENTS.contains(&word) || matches!(word, "starter" | "sour")
}

impl Beforehand {
    /// By the words of a name or a line.
    fn of_words(text: &str) -> Option<Self> {
        let text = text.to_lowercase();
        let words = text.split(|c: char| !c.is_alphanumeric() && c != '-');
        let words: Vec<&str> = words.filter(|w| !w.is_empty()).collect();
        let text = format!(" {} ", words.join(" "));
        let has = |w: &str| text.contains(&format!(" {w} ")) || text.contains(&format!(" {w}s "));
        let any = |words: &[&str]| words.iter().any(|w| has(w));
        let last = |words: &[&str]| words.iter().any(|w| text.ends_with(&format!(" {w} ")));
        if any(&PASTES) {
            Some(Self::Paste)
        } else if any(&FERMENTS) || last(&FERMENTS_LAST) && !text.ends_with(" and sour ") {
            Some(Self::Ferment)
        } else {
            None
        }
    }
}

impl Line {
    /// What of a dough its food may be, by its name.
    fn of_beforehand(&self) -> Option<Beforehand> {
        self.items
            .iter()
            .find_map(|i| Beforehand::of_words(self.words(&i.name)))
    }
}

impl Component {
    /// Whether it is begun beforehand, to go into a dough. A sponge with yeast in it is one; a
    /// sponge without is a cake.
    #[must_use]
    pub fn beforehand(&self) -> Option<Beforehand> {
        let sponge = || {
            let last = self.name.split_whitespace().next_back();
            last == Some("sponge") && self.names("yeast")
        };
        // With salt in it, 'sourdough' is the dough.
        let whole = self.name == "sourdough" && self.names("salt");
        Beforehand::of_words(&self.name)
            .filter(|_| !whole)
            .or_else(|| sponge().then_some(Beforehand::Ferment))
    }

    /// Whether a line of it has a word.
    fn names(&self, word: &str) -> bool {
        self.lines
            .iter()
            .any(|l| l.clean.to_lowercase().contains(word))
    }

    /// Whether a line of it is flour.
    fn has_flour(&self, reader: &Reader<'_>) -> bool {
        let mut items = self.lines.iter().flat_map(|l| &l.items);
        items.any(|i| {
            let food = i.food.as_ref().map(|m| reader.larder.food(m.food));
            food.is_some_and(|f| f.is_flour_phase())
        })
    }
}

/// Whether a line or a part is what is begun beforehand.
fn is_listed(recipe: &Recipe) -> bool {
    let begun = |l: &Line| l.of_beforehand().is_some();
    let mut parts = recipe.components.iter();
    parts.any(|c| c.beforehand().is_some() || c.lines.iter().any(begun))
}

/// Makes a part of what only the method begins, with amounts of its own: 'make the levain: mix 30 g
/// starter with 60 g flour and 60 g water'. Only where no line and no part is begun beforehand.
fn of_the_method(recipe: &mut Recipe, reader: &Reader<'_>) {
    if is_listed(recipe) {
        return;
    }
    let sentences: Vec<&str> = (recipe.steps.iter())
        .flat_map(|s| sentences(&s.text).into_iter().map(|r| &s.text[r]))
        .collect();
    // 'The remaining flour': what was taken before is of the list.
    if sentences.iter().any(|s| says_remaining_flour(s)) {
        return;
    }
    let flour = only_flour(recipe, reader);
    let number = recipe.components.iter().flat_map(|c| &c.lines);
    let number = number.map(|l| l.number).max().unwrap_or(0);
    let mut begun: Vec<Component> = Vec::new();
    for sentence in sentences {
        let lower = sentence.to_lowercase();
        let makes = |w: &&&str| MAKES.iter().any(|m| lower.contains(&format!("{m} {w}")));
        let Some(name) = FERMENTS.iter().find(makes) else {
            continue;
        };
        let amounts = read::amounts(sentence);
        // '60 g of the flour' is some of the list's.
        let listed = |a: &String| a.contains(" of the ") || a.contains(" of your ");
        if amounts.iter().any(listed) || begun.iter().any(|c| c.name == *name) {
            continue;
        }
        let lines = amounts.iter().map(|a| {
            let mut line = own_flour(reader.line(a), flour.as_deref(), reader);
            line.number = number;
            line
        });
        let part = Component {
            name: (*name).to_owned(),
            heading: None,
            // One food to a line.
            lines: lines
                .filter(|l| matches!(&l.items[..], [one] if one.is_measured()))
                .collect(),
        };
        if part.lines.len() >= 2 && part.has_flour(reader) {
            begun.push(part);
        }
    }
    recipe.components.extend(begun);
}

/// 'The remaining flour', 'the rest of the strong flour', 'the remaining 350 g flour'.
fn says_remaining_flour(sentence: &str) -> bool {
    let lower = sentence.to_lowercase();
    let mut behind = ["remaining", "rest of", "remainder of"]
        .iter()
        .flat_map(|w| lower.split(w).skip(1));
    behind.any(|text| {
        let clause = text.split([',', ';', '(']).next().unwrap_or_default();
        // Not 'the remaining water into the flour'.
        let of_it = |w: &&str| !["in", "into", "to", "with", "add"].contains(w);
        let mut words = clause.split_whitespace().take(6).take_while(of_it);
        words.any(|w| w.starts_with("flour"))
    })
}

/// The words of the one kind of flour that a recipe lists.
fn only_flour(recipe: &Recipe, reader: &Reader<'_>) -> Option<String> {
    let lines = recipe.components.iter().flat_map(|c| &c.lines);
    let items = lines.flat_map(|l| l.items.iter().map(move |i| (l, i)));
    let mut flours = items.filter_map(|(line, item)| {
        let food = item.food.as_ref()?.food;
        let is_flour = reader.larder.food(food).function() == Function::Flour;
        is_flour.then(|| (food, line.words(&item.name).trim().to_owned()))
    });
    let (food, words) = flours.next()?;
    flours.all(|(other, _)| other == food).then_some(words)
}

/// A line of bare 'flour' as one of the dough's own kind.
fn own_flour(line: Line, flour: Option<&str>, reader: &Reader<'_>) -> Line {
    let (Some(flour), [item]) = (flour, line.items.as_slice()) else {
        return line;
    };
    let name = item.name.clone();
    if !line.words(&name).trim().eq_ignore_ascii_case("flour") {
        return line;
    }
    let mut text = line.clean.clone();
    text.replace_range(name, flour);
    reader.line(&text)
}

/// How a method begins it.
const MAKES: [&str; 8] = [
    "make the",
    "make a",
    "build the",
    "build a",
    "prepare the",
    "mix the",
    "for the",
    "start the",
];

/// What a part is called that is only named by when it is mixed.
const BEFORE: [&str; 7] = [
    "night before",
    "evening before",
    "day before",
    "previous day",
    "day 1",
    "day one",
    "overnight",
];

/// Calls a part by what the method calls it: flour and water without salt under 'The night before' are 'the starter'
/// where a step says so and nothing else of the recipe is called that.
fn name_by_the_method(recipe: &mut Recipe, reader: &Reader<'_>) {
    if is_listed(recipe) {
        return;
    }
    let is = |c: &Component| {
        BEFORE.contains(&c.name.trim_start_matches("the "))
            && c.has_flour(reader)
            && c.names("water")
            && !c.names("salt")
    };
    let mut parts = (0..recipe.components.len()).filter(|c| is(&recipe.components[*c]));
    let (Some(part), None) = (parts.next(), parts.next()) else {
        return;
    };
    let said: Vec<String> = recipe.steps.iter().map(|s| s.text.to_lowercase()).collect();
    let called = |w: &&&str| said.iter().any(|t| t.contains(&format!("the {w}")));
    let mut words = FERMENTS.iter().chain(&["starter"]).filter(called);
    if let (Some(word), None) = (words.next(), words.next()) {
        recipe.components[part].name = (*word).to_owned();
    }
}

/// Writes a line into the dough for each part that is begun beforehand and stands on no line: it is
/// taken whole, and asked about.
pub(crate) fn list(recipe: &mut Recipe, reader: &Reader<'_>) {
    name_by_the_method(recipe, reader);
    of_the_method(recipe, reader);
    let parts = 0..recipe.components.len();
    let takers: Vec<Option<usize>> = parts.map(|c| taker(recipe, c, reader)).collect();
    for (begun, dough) in takers.into_iter().enumerate() {
        let Some(dough) = dough else { continue };
        let name = recipe.components[begun].name.clone();
        let part = &mut recipe.components[dough];
        let mut line = reader.line(&format!("all of the {name}"));
        line.number = part.lines.iter().map(|l| l.number).max().unwrap_or(0);
        let whose = match part.name.as_str() {
            "" => "the list".to_owned(),
            dough => format!("the list of the {dough}"),
        };
        line.doubts.push(Doubt::new(
            DoubtCode::ComponentUnlisted,
            format!(
                "{whose} does not name the {name}: all of it is taken in, its flour and water counted"
            ),
        ));
        part.lines.push(line);
    }
}

/// The dough that takes what is begun, where no line says so: the one other part with flour that is
/// no crumb and goes on no bake; of several the next below.
fn taker(recipe: &Recipe, begun: usize, reader: &Reader<'_>) -> Option<usize> {
    let parts = &recipe.components;
    let part = &parts[begun];
    let own = recipe.own_components.unwrap_or(parts.len());
    let filled = part.lines.iter().any(|l| l.kind == LineKind::Ingredient);
    if part.beforehand().is_none() || !filled || begun >= own {
        return None;
    }
    let names: Vec<String> = parts.iter().map(|c| c.name.clone()).collect();
    // It may stand on a line by another name: '100 g ripe starter' for the levain.
    let is_used = parts.iter().enumerate().any(|(c, other)| {
        let named = |l: &Line| {
            let used = |i: &Item| uses(&names, c, i, l.words(&i.name)).flatten();
            let mut used = l.items.iter().filter_map(used).peekable();
            let another = || other.beforehand().is_none() && l.of_beforehand() == part.beforehand();
            if used.peek().is_some() {
                used.any(|u| u == begun)
            } else {
                another()
            }
        };
        c != begun && other.lines.iter().any(named)
    });
    let is_dough = |c: &usize| {
        let other = &parts[*c];
        other.beforehand().is_none()
            && !goes_on_a_bake(&other.name)
            && !is_crumb(&other.name)
            && other.has_flour(reader)
    };
    if is_used {
        return None;
    }
    let below = (begun + 1..own).find(is_dough);
    below.or_else(|| (0..begun).rev().find(is_dough))
}
