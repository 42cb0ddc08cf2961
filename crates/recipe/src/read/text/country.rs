//! Whose measures a text is likely written in, by its words for foods and ovens.

use crate::recipe::Recipe;
use crate::{Doubt, DoubtCode};
use quantity::{Locale, Unit};

/// Words of British and Australian kitchens alike; the forms of one row count once.
const BRITISH: [&[&str]; 18] = [
    &["caster sugar", "castor sugar"],
    &["icing sugar"],
    &["self-raising", "self raising"],
    &["plain flour"],
    &["bicarbonate of soda", "bicarb", "bicarbonate"],
    &["gas mark", "gas no"],
    &["sultanas", "sultana"],
    &["double cream", "single cream"],
    &["courgette", "courgettes"],
    &["aubergine", "aubergines"],
    &["cornflour"],
    &["treacle"],
    &["tins"],
    &[
        "strong flour",
        "strong white flour",
        "strong white bread flour",
    ],
    &["wholemeal"],
    &["gill", "gills"],
    &["dessertspoon", "dessertspoons", "dsp"],
    &["gram flour"],
];

/// Words of Australian kitchens only.
const AUSTRALIAN: [&[&str]; 6] = [
    &["thickened cream"],
    &["bicarb soda"],
    &["copha"],
    &["pure icing sugar", "icing sugar mixture"],
    &["20 ml tablespoon", "20 ml tablespoons"],
    &["wholemeal plain flour"],
];

/// A doubt when the measures of the United States were used for a text with two or more words
/// of another country, and any of its measures differ there.
pub(super) fn doubt(recipe: &Recipe, locale: Locale) -> Option<Doubt> {
    if locale != Locale::Us || !has_measures(recipe) {
        return None;
    }
    let text = words(recipe);
    let count = |rows: &[&[&str]]| {
        rows.iter()
            .filter(|r| r.iter().any(|w| text.contains(&format!(" {w} "))))
            .count()
    };
    let ounces = text.contains(" fl oz ") && (text.contains(" pint ") || text.contains(" pints "));
    let british = count(&BRITISH)
        + usize::from(gas(&text))
        + usize::from(ounces)
        + usize::from(celsius_alone(&text));
    let australian = count(&AUSTRALIAN);
    if british + australian < 2 {
        return None;
    }
    let looks = if australian > 0 {
        "Australian"
    } else {
        "British"
    };
    Some(Doubt::new(
        DoubtCode::LocaleUnsure,
        format!("this looks {looks}, but US cups, spoons and pints were used: say whose they are"),
    ))
}

/// Whether any amount is in a measure that countries differ about.
fn has_measures(recipe: &Recipe) -> bool {
    let lines = recipe.components.iter().flat_map(|c| &c.lines);
    lines
        .flat_map(|l| &l.items)
        .flat_map(|i| &i.amounts)
        .filter(|a| a.locale.is_none() && a.old_millilitres.is_none())
        .any(|a| a.unit.is_some_and(differs))
}

fn differs(unit: Unit) -> bool {
    unit.hold(Locale::Us) != unit.hold(Locale::Uk)
}

/// All words of the recipe, lower case, one space around each; numbers stand apart.
fn words(recipe: &Recipe) -> String {
    let lines = recipe
        .components
        .iter()
        .flat_map(|c| &c.lines)
        .map(|l| l.clean.as_str());
    let steps = recipe.steps.iter().map(|s| s.text.as_str());
    let notes = recipe.notes.iter().map(String::as_str);
    let mut out = String::from(" ");
    for text in lines.chain(steps).chain(notes) {
        let mut digit = false;
        for c in text.chars() {
            if c.is_alphanumeric() || c == '-' {
                if c.is_ascii_digit() != digit && !out.ends_with(' ') {
                    out.push(' ');
                }
                digit = c.is_ascii_digit();
                out.extend(c.to_lowercase());
            } else if !out.ends_with(' ') {
                out.push(' ');
            }
        }
        // What stands on two lines is no phrase.
        out.push_str(if out.ends_with(' ') { ". " } else { " . " });
    }
    out
}

/// 'Bake at 190 C' and no degree in Fahrenheit.
fn celsius_alone(text: &str) -> bool {
    // Three figures: '2 c flour' is cups.
    let figures = |before: &str| before.bytes().rev().take_while(u8::is_ascii_digit).count();
    let degree = |scale: &str| {
        let mut places = text.match_indices(scale);
        places.any(|(at, _)| figures(&text[..at]) == 3)
    };
    degree(" c ") && !degree(" f ")
}

/// 'Gas 4', 'gas 7'.
fn gas(text: &str) -> bool {
    text.match_indices(" gas ").any(|(at, found)| {
        text[at + found.len()..].starts_with(|c: char| c.is_ascii_digit() && c != '0')
    })
}
