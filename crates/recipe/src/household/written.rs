//! The amount that a line was written in, said again.

use crate::Role;
use quantity::{Unit, UnitKind};

/// The household amount a line was written in, for lines that are kept as they were: `1 1/2 tsp`,
/// `3 large eggs`.
#[must_use]
pub fn as_written(line: &crate::Line, item: &crate::Item) -> Option<String> {
    words_of(line, item, kitchen_amount(item)?)
}

/// The amount a line was [written in](as_written) where the spoons and cups of any kitchen hold it
/// so and it is one: not `1 5/8 tsp`, nor `1-2 tbsp` of which the middle is weighed; these have to be
/// measured back. Nobody weighs `a few drops`.
pub(crate) fn as_spooned(line: &crate::Line, item: &crate::Item) -> Option<String> {
    let amount = kitchen_amount(item)?;
    let tiny = matches!(amount.unit, Some(Unit::Drop | Unit::Pinch | Unit::Dash));
    let held = tiny || amount.low >= amount.high && has_scoops(amount);
    if held {
        words_of(line, item, amount)
    } else {
        None
    }
}

/// Whether the part of a number behind its point has a scoop of the usual sets: quarters and
/// thirds of a cup, halves of a tablespoon, quarters of a teaspoon, and its eighth alone. Three teaspoons are measured
/// back: as a tablespoon, where that is three.
fn has_scoops(amount: &crate::Amount) -> bool {
    let parts: &[f64] = match amount.unit {
        Some(Unit::Cup) => &[0.25, 1.0 / 3.0, 0.5, 2.0 / 3.0, 0.75],
        Some(Unit::Tbsp) => &[0.5],
        Some(Unit::Tsp) if amount.low >= 3.0 && amount.low % 3.0 < 0.01 => return false,
        Some(Unit::Tsp) if amount.low < 0.2 => &[0.125],
        Some(Unit::Tsp) => &[0.25, 0.5, 0.75],
        _ => return true,
    };
    let holds = |n: f64| {
        let near = |p: f64| (n.fract() - p).abs() < 0.01;
        near(0.0) || near(1.0) || parts.iter().any(|p| near(*p))
    };
    holds(amount.low)
}

/// The one amount of an item in cups, spoons or pieces, the stated one before its twin.
fn kitchen_amount(item: &crate::Item) -> Option<&crate::Amount> {
    let of = |role| {
        let own = item.amounts.iter().filter(move |a| a.role == role);
        own.filter(|a| a.loose.is_none()).find(|a| {
            a.unit
                .is_some_and(|u| u.kind() != UnitKind::Mass && u != Unit::Ml && u != Unit::L)
        })
    };
    let found = of(Role::Main).or_else(|| of(Role::Twin))?;
    let summed = item.amounts.iter().any(|a| a.role == Role::Plus);
    (!summed).then_some(found)
}

/// An amount of an item in words: '3 large eggs', '1 tbsp'.
fn words_of(line: &crate::Line, item: &crate::Item, found: &crate::Amount) -> Option<String> {
    let words = quantity::signs(line.words(&found.span).trim());
    // '3 garlic cloves' is a count whose piece stands in the name.
    let count = found.unit == Some(Unit::Count)
        || found.unit.is_some_and(is_piece) && !words.contains(char::is_alphabetic);
    // A piece of what nobody sells by the piece says nothing.
    let says_nothing = |w: &str| {
        let mut letters = w
            .split(|c: char| !c.is_alphabetic())
            .filter(|x| !x.is_empty());
        letters.all(|x| matches!(x.to_lowercase().as_str(), "piece" | "pieces" | "a" | "one"))
    };
    if !count && says_nothing(&words) {
        return None;
    }
    // A count says what it counts: '3 large eggs'.
    if count {
        let span = &item.food.as_ref()?.span;
        let name = line.words(span).trim().to_owned();
        if span.start <= found.span.start && found.span.end <= span.end {
            // 'zest of ½ lemon' holds its own number.
            return Some(quantity::signs(&name));
        }
        // '4 large eggs, plus 1 for glazing'
        let one = found.high <= 1.0 && found.span.start >= span.end;
        let name = if one {
            super::piece::singular(&name)
        } else {
            name
        };
        let size = item
            .qualities
            .size
            .map_or(String::new(), |s| format!("{s} "));
        return Some(format!("{words} {size}{name}").replace(&format!("{size}{size}"), &size));
    }
    let words = usual_words(found, &words).unwrap_or(words);
    // '330 ml bottle' is one bottle, of which the line says no number.
    let bare = words.chars().all(char::is_alphabetic);
    let one = bare && matches!(found.unit, Some(Unit::Can | Unit::Packet));
    Some(if one {
        format!("1 {words}")
    } else {
        apart(&words)
    })
}

/// What a food is taken apart into: sprigs, slices, cloves, sticks of celery.
fn is_piece(unit: Unit) -> bool {
    matches!(
        unit,
        Unit::Sprig | Unit::Slice | Unit::Clove | Unit::Stick | Unit::Count
    )
}

/// The words of what a line counts behind its number: `celery sticks`. `None` where it counts no pieces.
pub(super) fn counted(line: &crate::Line, item: &crate::Item) -> Option<String> {
    let amount = kitchen_amount(item).filter(|a| a.unit.is_some_and(is_piece))?;
    let words = words_of(line, item, amount)?;
    let name = words.trim_start_matches(|c: char| !c.is_alphabetic());
    let plain = !name.is_empty() && !name.contains(char::is_numeric) && !name.contains("dozen");
    (plain && words.starts_with(char::is_numeric)).then(|| name.to_owned())
}

/// Number and unit apart: '5 fl oz' for '5fl oz'.
fn apart(words: &str) -> String {
    let mut out = String::with_capacity(words.len() + 1);
    for c in words.chars() {
        if c.is_alphabetic() && out.ends_with(|l: char| l.is_numeric()) {
            out.push(' ');
        }
        out.push(c);
    }
    out
}

/// An amount's words with its unit as it is usually written, if that is not how it stands: '1
/// dessertspoon' for '1 dsp', '1 level tbsp' for '1 level tablespoons'. 'T' and 't' are too
/// easily mistaken for each other to be written again.
fn usual_words(amount: &crate::Amount, words: &str) -> Option<String> {
    if amount.old_millilitres.is_some() {
        return None;
    }
    let (one, many): (&[&str], &[&str]) = match amount.unit? {
        Unit::Tbsp => (&["tbsp", "tablespoon"], &["tbsp", "tablespoons"]),
        Unit::Tsp => (&["tsp", "teaspoon"], &["tsp", "teaspoons"]),
        Unit::Dessertspoon => (&["dessertspoon"], &["dessertspoons"]),
        Unit::Cup => (&["cup"], &["cups"]),
        Unit::Pint => (&["pint"], &["pints"]),
        Unit::Quart => (&["quart"], &["quarts"]),
        Unit::Gill => (&["gill"], &["gills"]),
        Unit::Pinch => (&["pinch"], &["pinches"]),
        Unit::Dash => (&["dash"], &["dashes"]),
        Unit::Drop => (&["drop"], &["drops"]),
        Unit::Sprig => (&["sprig"], &["sprigs"]),
        Unit::Slice => (&["slice", "rasher"], &["slices", "rashers"]),
        Unit::Clove => (&["clove"], &["cloves"]),
        _ => return None,
    };
    let right = if amount.high > 1.0 { many } else { one };
    let stem = words.trim_end_matches('.');
    let cut = stem
        .char_indices()
        .rev()
        .take_while(|(_, c)| c.is_alphabetic())
        .last()
        .map(|(i, _)| i)?;
    let written = &stem[cut..];
    let lower = written.to_lowercase();
    let is = quantity::unit_words().any(|u| {
        u.unit == amount.unit && (u.word == written || written.len() > 1 && u.word == lower)
    });
    let number = stem[..cut].trim_end_matches([' ', '-', '\u{a0}']);
    if !is
        || number.is_empty()
        || right.contains(&written) && words.contains(' ') && stem.len() == words.len()
    {
        return None;
    }
    Some(format!("{number} {}", right.first()?))
}

#[cfg(test)]
mod tests {
    use super::as_spooned;
    use crate::read::Reader;
    use larder::Larder;
    use quantity::Locale;

    #[test]
    fn drops_and_pinches_stay_as_they_are_written() {
        let larder = Larder::built_in().expect("tables");
        let reader = Reader::new(&larder, Locale::Uk);
        for (text, want) in [
            ("a few drops almond essence", Some("a few drops")),
            ("2-3 drops peppermint oil", Some("2-3 drops")),
            ("a pinch of salt", Some("a pinch")),
            ("1-2 tbsp milk", None),
        ] {
            let line = reader.line(text);
            assert_eq!(as_spooned(&line, &line.items[0]).as_deref(), want, "{text}");
        }
    }
}
