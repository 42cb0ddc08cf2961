//! Gluten that the method or a note names and no ingredient line holds.

use super::beside::names_a_tool;
use super::words::{self, Force};
use super::{eaten, heads, maker};
use crate::DoubtCode;
use crate::Recipe;
use crate::read::{Held, Original, is_baked, is_made_part, is_pan, only_compares};
use crate::weigh::Formula;
use larder::{Allergen, Gluten, Larder};
use quantity::Locale;
use std::ops::Range;

/// Gluten named outside the lines.
#[derive(Debug, PartialEq)]
pub(super) struct Elsewhere {
    /// Where, and what is named there.
    pub says: String,
    /// A name that the larder does not know: perhaps no food at all.
    pub unknown: bool,
    /// The same in the words of an allergen's origin.
    pub from: String,
    /// The grains it may bring, with whatever else is in the food.
    pub allergens: Vec<Allergen>,
}

/// Lines and steps that were not read, as sentences. A doubt the baker took as read counts too:
/// what it holds is no better known for that.
pub(super) fn unread(formula: &Formula) -> Vec<String> {
    let recipe = &formula.recipe;
    let lines = recipe.components.iter().flat_map(|c| &c.lines);
    let not_read = |d: &&crate::Doubt| d.code == DoubtCode::NotRead && d.span.is_none();
    // Times, and data beside the recipe, hold no food.
    let holds_food = |d: &&crate::Doubt| {
        ["ingredient", "step", "method", "component"]
            .iter()
            .any(|w| d.message.contains(w))
    };
    let whole = recipe.doubts.iter().chain(&recipe.settled);
    let mut out: Vec<String> = lines
        .flat_map(|l| l.doubts.iter().chain(&l.settled))
        .filter(not_read)
        .chain(whole.filter(not_read).filter(holds_food))
        .map(|d| format!("not all was read: {}", d.message))
        .collect();
    out.dedup();
    out
}

/// Words by which 'flour' is strewn, or is the verb itself.
const DUSTS: [&str; 8] = [
    "dust",
    "sprinkl",
    "coat",
    "greas",
    "dredg",
    "flour the ",
    "flour a ",
    "flour your ",
];

/// What kind of text is looked through.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Text {
    /// A step.
    Told,
    /// A long note.
    Note,
    /// A short note, whose 'flour' is strewn.
    Remark,
    /// The title: a name of the bake itself.
    Title,
    /// The yield, another.
    Yield,
}

/// What is baked or boiled of wheat as a rule and is no food of the larder, of one.
const BAKES: [&str; 26] = [
    "bagel",
    "biscotti",
    "blini",
    "breadstick",
    "brownie",
    "calzone",
    "crepe",
    "cupcake",
    "doughnut",
    "donut",
    "dumpling",
    "eclair",
    "éclair",
    "empanada",
    "flapjack",
    "gingerbread",
    "kvas",
    "lebkuchen",
    "panettone",
    "pierogi",
    "profiterole",
    "ravioli",
    "scone",
    "stollen",
    "waffle",
    "yorkshire",
];

/// What a name of a bake holds, of things sold gluten-free as well.
const DRINKS: [&str; 4] = ["beer", "ale", "lager", "stout"];

/// Steps, notes, title and yield that name gluten which no ingredient line holds.
pub(super) fn elsewhere(
    recipe: &Recipe,
    held: &Held<'_>,
    original: &Original<'_>,
    larder: &Larder,
    locale: Locale,
) -> Vec<Elsewhere> {
    let baked = &original.baked;
    let mut out: Vec<Elsewhere> = Vec::new();
    let mut search = |held: &Held<'_>, place: &str, text: &str, kind: Text| {
        let lower = text.to_lowercase();
        let compares = |at: usize| only_compares(lower.get(..at).unwrap_or(""));
        let dusts = kind == Text::Remark || DUSTS.iter().any(|w| lower.contains(w));
        let name = matches!(kind, Text::Title | Text::Yield);
        let names_the_bake = |at: &Range<usize>| {
            kind == Text::Yield || kind == Text::Title && held.names_the_bake(text, at)
        };
        let mut said: Vec<String> = Vec::new();
        let mut tell = |named: &str, says: String, allergens: Vec<Allergen>| {
            out.push(Elsewhere {
                says: format!("{place} {says}"),
                unknown: false,
                from: format!("'{named}' named in {place}, on no line"),
                allergens,
            });
        };
        for hit in words::scan(text) {
            let made = hit.sold_free && hit.force == Force::Contains;
            if made && names_a_tool(text, &hit.span) {
                continue;
            }
            let stem = hit.word.trim_end_matches('s').to_lowercase();
            let says = match hit.force {
                Force::BareFlour if dusts && !held.flour => {
                    "speaks of 'flour': say which, or it is taken for wheat".to_owned()
                }
                // A pan's own line says 'floured' of no flour of the list.
                Force::Check if hit.word == "floured" && (!held.flour || is_pan(text)) => {
                    "speaks of 'floured': say with which flour, or it is taken for wheat".to_owned()
                }
                Force::Contains | Force::Check
                    if !(held.says(&stem)
                        || stem == "malt" && held.says("malted")
                        || name && held.says(stem.trim_end_matches("ed"))
                        || hit.sold_free && baked.is_called(&stem)
                        || names_the_bake(&hit.span)
                            && hit.sold_free
                            && !DRINKS.contains(&stem.as_str())
                        || (name && DRINKS.contains(&stem.as_str()) || stem == "beer")
                            && DRINKS.iter().any(|d| held.says(d))
                        || compares(hit.span.start)
                        || words::COATED.contains(&hit.word.as_str())
                            && (hit.word != "tempura" || held.flour)
                        || matches!(hit.word.as_str(), "floured" | "gluten" | "bulk")) =>
                {
                    format!("names '{}', which no ingredient line holds", hit.word)
                }
                _ => continue,
            };
            said.push(stem);
            tell(&hit.word, says, hit.allergen.into_iter().collect());
        }
        let mentions = larder.names().mentions(text, locale);
        for (food, span) in &mentions {
            let (food, is) = (*food, larder.food(*food));
            let words = text.get(span.clone()).unwrap_or("").to_lowercase();
            let bake = baked.is(food, (text, span), held.has_flour(), larder)
                || held.is_part(&words)
                || names_the_bake(span) && is_baked(is);
            // 'Add the flour': that of the list.
            let flour = held.is_its_flour(is, &words);
            // 'Beer-battered fish' is battered here.
            let coated = words::COATED.iter().any(|w| words.contains(w));
            let coated = name && coated && held.flour;
            if is.gluten != Gluten::Contains
                || bake
                || flour
                || coated
                || held.is_listed(is)
                || held.is_kind_of_line(text, span)
                || held.says(&words)
                || compares(span.start)
                || is_baked(is) && names_a_tool(text, span)
                || said.iter().any(|s| words.contains(s.as_str()))
                || words::labelled(text, span, &words::breath(text, span))
            {
                continue;
            }
            let says = format!(
                "names '{words}' ({}), which no ingredient line holds",
                is.name
            );
            tell(&words, says, is.allergens.iter().map(|a| a.0).collect());
            said.push(words.trim_end_matches('s').to_owned());
        }
        // With flour in the list they are most likely made of it.
        for w in words::split(text).iter().filter(|_| !name && !held.flour) {
            let stem = w.text.strip_suffix('s').unwrap_or(&w.text);
            let known = mentions
                .iter()
                .any(|(_, s)| s.start < w.span.end && w.span.start < s.end);
            if BAKES.contains(&stem)
                && !known
                && !baked.is_titled(stem)
                && !held.says(stem)
                && !held.is_part(stem)
                && !compares(w.span.start)
                && !names_a_tool(text, &w.span)
                && !words::labelled(text, &w.span, &words::breath(text, &w.span))
            {
                let says = format!("names '{}', which no ingredient line holds", w.text);
                tell(&w.text, says, vec![Allergen::Wheat]);
                said.push(stem.to_owned());
            }
        }
        let names = match kind {
            Text::Yield => Vec::new(),
            Text::Title => {
                let mut names = maker::in_title(text, larder);
                names.extend(eaten::unknown(text, &mentions, held, larder));
                // 'With Buttercream' and 'Tart' are made here.
                names.retain(|n| !is_made_part(&text[n.clone()]));
                names
            }
            Text::Told => {
                let mut names = maker::names(text, false);
                let eaten = eaten::unknown(text, &mentions, held, larder);
                let told =
                    |r: &Range<usize>| names.iter().any(|n| n.start < r.end && r.start < n.end);
                let eaten: Vec<_> = eaten.into_iter().filter(|r| !told(r)).collect();
                names.extend(eaten);
                names
            }
            Text::Remark | Text::Note => maker::names(text, true),
        };
        for span in names {
            let name = &text[span.clone()];
            let lower = name.to_lowercase();
            let lower = lower
                .split(['\'', '’'])
                .next()
                .unwrap_or_default()
                .to_owned();
            let of_food = mentions
                .iter()
                .any(|(_, s)| s.start < span.end && span.start < s.end);
            // 'A greased 8½ × 4½ in tin' is a measure.
            let figure =
                |w: &str| w.starts_with(char::is_numeric) && !w.contains(char::is_alphabetic);
            if of_food
                || lower.split_whitespace().any(figure)
                || held.says(&lower)
                || held.is_part(&lower)
                || held.has_of_kind(&lower)
                || heads::makes(recipe, &lower)
                || said.iter().any(|s| lower.starts_with(s.as_str()))
            {
                continue;
            }
            out.push(unknown(place, name));
            said.push(lower);
        }
    };
    for step in &recipe.steps {
        search(
            held,
            &format!("step {}", step.number),
            &step.text,
            Text::Told,
        );
    }
    // What title and yield promise counts where no line of the original holds it, whatever became of
    // that; a bake that they name is this one.
    let makes = recipe.makes.as_ref().map(|m| m.text.as_str());
    for (place, text, kind) in [
        ("the title", recipe.title.as_deref(), Text::Title),
        ("the yield", makes, Text::Yield),
    ] {
        search(&original.held, place, text.unwrap_or_default(), kind);
    }
    for note in &recipe.notes {
        let words = note.split_whitespace().count();
        let head: Vec<&str> = note.split_whitespace().take(6).collect();
        let kind = if words <= 10 {
            Text::Remark
        } else {
            Text::Note
        };
        search(held, &format!("the note '{}'", head.join(" ")), note, kind);
    }
    let headings = heads::unknown(recipe, larder, locale);
    out.extend(headings.iter().map(|name| unknown("a heading", name)));
    out.dedup();
    out
}

/// A name that nobody knows.
fn unknown(place: &str, name: &str) -> Elsewhere {
    Elsewhere {
        says: format!(
            "{place} names '{name}', which no ingredient line holds and the larder does not know: if it is eaten, read its label"
        ),
        unknown: true,
        from: String::new(),
        allergens: Vec::new(),
    }
}
