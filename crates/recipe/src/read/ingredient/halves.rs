//! Two foods of one amount, half of each: 'half white and half wholemeal flour', 'flour (half white, half
//! rye)'.

use super::Reader;
use super::kinds::{MIXED, part};
use super::list::trim_name;
use crate::line::{Amount, Item, Line};
use crate::{Doubt, DoubtCode};
use larder::{Certainty, Match};
use std::ops::Range;

/// Nouns that stand once, with both kinds.
const NOUNS: [&str; 7] = [
    "flour",
    "flours",
    "sugar",
    "sugars",
    "chocolate",
    "milk",
    "oil",
];

/// Foods that are no kind of sugar, milk or oil: 'half milk, half sugar' is not half lactose.
const WHOLE: [&str; 5] = ["milk", "cream", "butter", "water", "juice"];

/// Where the two kinds of halves stand, and the noun that both share.
#[derive(Debug, PartialEq)]
struct Halves<'a> {
    kinds: [Range<usize>; 2],
    noun: Option<&'a str>,
}

/// Words before two kinds that say 'half of each' once for both: '50/50 plain and wholemeal flour'.
const EVEN: [&str; 6] = [
    "50/50 ",
    "50:50 ",
    "50-50 ",
    "half-and-half ",
    "half & half ",
    "half and half ",
];

/// Whether a text says 'half' twice, before a word each, or once for both.
pub(super) fn says_halves(text: &str) -> bool {
    places(text).is_some() || even(text).is_some()
}

/// 'Half-and-half plain and wholemeal flour': the two kinds, with no comma or bracket between.
fn even(name: &str) -> Option<Halves<'_>> {
    let lower = name.to_ascii_lowercase();
    let from = EVEN.iter().find_map(|w| Some(lower.find(w)? + w.len()))?;
    let mixed = MIXED.iter().find(|w| lower[from..].starts_with(**w));
    let from = from + mixed.map_or(0, |w| w.len());
    let end = lower[from..].find([',', ';', '(', ')', '[', ']', ':']);
    let end = end.map_or(lower.len(), |n| from + n);
    let joint = [" and ", " & ", "/", " to "];
    let (at, joint) = joint
        .iter()
        .find_map(|j| Some((lower[from..end].find(j)? + from, j)))?;
    let kinds = [from..at, trim_name(name, at + joint.len()..end)];
    let words = |range: Range<usize>| name[range].split(|c: char| !c.is_alphabetic());
    let noun = words(kinds[1].clone()).rfind(|w| !w.is_empty());
    let noun = noun.filter(|w| NOUNS.iter().any(|n| w.eq_ignore_ascii_case(n)));
    kinds
        .iter()
        .all(|k| !k.is_empty())
        .then_some(Halves { kinds, noun })
}

/// Where the first two 'half ' stand.
fn places(text: &str) -> Option<(usize, usize)> {
    let is = |w: &[u8]| w.eq_ignore_ascii_case(b"half ");
    let whole = |at: &usize| !text[..*at].ends_with(|c: char| c.is_alphanumeric() || c == '-');
    let all = text.as_bytes().windows(5).enumerate();
    let mut all = all.filter(|(_, w)| is(w)).map(|(at, _)| at).filter(whole);
    Some((all.next()?, all.next()?))
}

/// 'Shortening (half butter)': half of the amount is what the bracket says.
fn in_bracket(name: &str) -> Option<Halves<'_>> {
    const SAYS: &str = "(half ";
    let open = name.to_ascii_lowercase().find(SAYS)?;
    let inside = open + SAYS.len();
    let end = inside + name[inside..].find(')').unwrap_or(name.len() - inside);
    let kinds = [trim_name(name, 0..open), trim_name(name, inside..end)];
    let plain = |c: char| c.is_alphabetic() || matches!(c, ' ' | '-');
    let foods = kinds.iter().all(|k| !k.is_empty()) && name[inside..end].chars().all(plain);
    let noun = name[kinds[0].clone()].rsplit(' ').next();
    let noun = noun.filter(|w| NOUNS.iter().any(|n| w.eq_ignore_ascii_case(n)));
    foods.then_some(Halves { kinds, noun })
}

/// Finds 'half … half …' in a name.
fn halves(name: &str) -> Option<Halves<'_>> {
    let Some((first, second)) = places(name) else {
        return even(name).or_else(|| in_bracket(name));
    };
    let lower = name.to_ascii_lowercase();
    let one = first + 5..second;
    let joint = [" and ", " & ", ", and ", ", ", ",", "/", " + ", "; ", " "];
    let joint = joint.iter().find(|j| lower[one.clone()].ends_with(**j))?;
    let one = one.start..one.end - joint.len();
    let other = second + 5..name.len();
    let end = lower[other.clone()].find([',', ';', '(', ')', '[', ']', ':']);
    let other = other.start..end.map_or(other.end, |n| other.start + n);
    let other = trim_name(name, other);
    let noun = |text: &'_ str| NOUNS.iter().any(|n| text.eq_ignore_ascii_case(n));
    // 'Flour, half white and half rye', 'half white and half rye flour'.
    let words = |range: Range<usize>| name[range].split(|c: char| !c.is_alphabetic());
    let before = words(0..first).rfind(|w| !w.is_empty());
    let behind = words(other.clone()).rfind(|w| !w.is_empty());
    let noun = before.filter(|w| noun(w)).or(behind.filter(|w| noun(w)));
    let some = !one.is_empty() && !other.is_empty();
    some.then_some(Halves {
        kinds: [one, other],
        noun,
    })
}

impl Reader<'_> {
    /// The two items of a name that has half of each of two foods, each with half the amount.
    ///
    /// # Returns
    /// `None` of other names, and where one of the foods is not known for sure.
    pub(super) fn half_of_each(
        &self,
        text: &str,
        scratch: &str,
        name: &Range<usize>,
        amounts: &[Amount],
        line: &mut Line,
    ) -> Option<[Item; 2]> {
        let found = halves(scratch)?;
        let each = found.kinds.map(|kind| {
            let alone = &scratch[kind.clone()];
            let last = alone.split(' ').next_back().unwrap_or_default();
            let whole = WHOLE.iter().any(|w| last.eq_ignore_ascii_case(w));
            let noun = found
                .noun
                .filter(|n| !whole || n.eq_ignore_ascii_case("chocolate"));
            let with_noun = noun.map(|n| format!("{alone} {n}"));
            let has_noun = |n: &str| {
                alone
                    .to_ascii_lowercase()
                    .ends_with(&n.to_ascii_lowercase())
            };
            let words = match with_noun {
                Some(words) if !noun.is_some_and(has_noun) => words,
                _ => alone.to_owned(),
            };
            let food = self.larder.find(&words, self.locale);
            let food = food.filter(|m| m.certainty == Certainty::Sure && m.unknown.is_empty());
            (kind, words, food)
        });
        let [(a, _, Some(first)), (b, _, Some(second))] = &each else {
            return None;
        };
        if first.food == second.food {
            return None;
        }
        line.doubts.push(
            Doubt::new(
                DoubtCode::SharedAmount,
                format!(
                    "half of the amount is counted for '{}' and half for '{}'",
                    self.larder.food(first.food).name,
                    self.larder.food(second.food).name
                ),
            )
            .at(name.start + a.start..name.start + b.end),
        );
        let halved = part(amounts, 2.0);
        Some(each.map(|(kind, words, food)| {
            let at = name.start + kind.start..name.start + kind.end;
            let mut item = self.item(text, &words, at.clone(), halved.clone(), line);
            // The noun stands elsewhere.
            item.food = food.map(|m| Match { span: at, ..m });
            item
        }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;
    use quantity::Locale;

    /// Worked by hand: half of what stands there, of each.
    #[test]
    fn half_of_each_is_two_foods() {
        let larder = Larder::built_in().expect("tables");
        let reader = Reader::new(&larder, Locale::Uk);
        for (text, want) in [
            (
                "500 g flour, half white and half wholemeal",
                [("all_purpose_flour", 250.0), ("whole_wheat_flour", 250.0)],
            ),
            (
                "300 g flour (half white, half rye)",
                [("all_purpose_flour", 150.0), ("rye_flour", 150.0)],
            ),
            (
                "400 g half white flour and half wholemeal flour, sifted",
                [("all_purpose_flour", 200.0), ("whole_wheat_flour", 200.0)],
            ),
            (
                "2 cups half plain and half wholemeal flour",
                [("all_purpose_flour", 1.0), ("whole_wheat_flour", 1.0)],
            ),
            (
                "200 g flour, half rye, half spelt",
                [("rye_flour", 100.0), ("spelt_flour", 100.0)],
            ),
            (
                "400 g 50/50 plain and wholemeal flour",
                [("all_purpose_flour", 200.0), ("whole_wheat_flour", 200.0)],
            ),
            (
                "400 g 50/50 mix of plain and rice flour",
                [("all_purpose_flour", 200.0), ("white_rice_flour", 200.0)],
            ),
            // A bracket names one half.
            (
                "100 g shortening (half butter)",
                [("shortening", 50.0), ("unsalted_butter", 50.0)],
            ),
            (
                "500 g plain flour (half wholemeal), sifted",
                [("all_purpose_flour", 250.0), ("whole_wheat_flour", 250.0)],
            ),
            // Nobody says how much of each: asked about, and no wheat is lost.
            (
                "400 g plain and rice flour, sifted",
                [("all_purpose_flour", 200.0), ("white_rice_flour", 200.0)],
            ),
            (
                "400 g plain + rice flour",
                [("all_purpose_flour", 200.0), ("white_rice_flour", 200.0)],
            ),
            (
                "400 g white and/or rice flour",
                [("all_purpose_flour", 200.0), ("white_rice_flour", 200.0)],
            ),
            (
                "400 g plain, rice flour",
                [("all_purpose_flour", 200.0), ("white_rice_flour", 200.0)],
            ),
            (
                "400 g mix of strong & white rice flour",
                [("bread_flour", 200.0), ("white_rice_flour", 200.0)],
            ),
            (
                "200 g brown and white rice flour",
                [("brown_rice_flour", 100.0), ("white_rice_flour", 100.0)],
            ),
            (
                "200 g half-and-half white and rye flour",
                [("all_purpose_flour", 100.0), ("rye_flour", 100.0)],
            ),
            (
                "300 ml half milk and half water",
                [("whole_milk", 150.0), ("water", 150.0)],
            ),
            (
                "300 ml liquid (half milk, half water)",
                [("whole_milk", 150.0), ("water", 150.0)],
            ),
            (
                "200 g flour, half rye and half spelt",
                [("rye_flour", 100.0), ("spelt_flour", 100.0)],
            ),
            (
                "100 g half-and-half milk and sugar",
                [("whole_milk", 50.0), ("white_sugar", 50.0)],
            ),
            (
                "100 g half butter, half sugar",
                [("unsalted_butter", 50.0), ("white_sugar", 50.0)],
            ),
            (
                "100 ml half water and half oil",
                [("water", 50.0), ("vegetable_oil", 50.0)],
            ),
            (
                "100 g half dark and half milk chocolate, chopped",
                [("dark_chocolate", 50.0), ("milk_chocolate", 50.0)],
            ),
        ] {
            let line = reader.line(text);
            let got: Vec<(&str, f64)> = line
                .items
                .iter()
                .map(|i| {
                    let food = i.food.as_ref().map(|m| larder.food(m.food).key.as_str());
                    (
                        food.unwrap_or("?"),
                        i.amounts.first().map_or(0.0, Amount::middle),
                    )
                })
                .collect();
            assert_eq!(got, want, "{text}");
            assert!(line.doubts(DoubtCode::SharedAmount), "{text}");
        }
        for text in [
            "250 ml half and half",
            "2 onions (half chopped)",
            "1 lemon (half juiced)",
            "100 g butter (half for the tin)",
            "100 g butter (half melted)",
            "250 ml half-and-half, cold",
            "1 cup half and half or milk and water",
            "1 half lemon",
            "2 egg halves and half an onion",
            "100 g flour, half of it for dusting",
            "100 g sifted and measured rice flour",
            "100 g organic and fine rice flour",
            "100 g strong, white flour",
            "100 g white, glutinous rice flour",
            "100 g plain, gluten-free flour",
            "100 g rice flour, sifted and mixed with plain flour",
        ] {
            let line = reader.line(text);
            assert!(!line.doubts(DoubtCode::SharedAmount), "{text}: {line:?}");
        }
    }
}
