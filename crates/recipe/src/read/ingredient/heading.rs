//! Headings: which line names a component.

use super::Reader;
use crate::beforehand::is_begun;
use larder::{FoodId, Function};

/// Nouns a component is called by; a line of nothing but such a name is a heading, and 'the
/// crumbs' is one of them rather than a food.
const COMPONENT_NOUNS: [&str; 38] = [
    "dough",
    "filling",
    "topping",
    "glaze",
    "crumbs",
    "crumb",
    "crust",
    "pastry",
    "batter",
    "frosting",
    "icing",
    "streusel",
    "syrup",
    "sauce",
    "custard",
    "ganache",
    "sponge",
    "base",
    "cake",
    "caramel",
    "mixture",
    "wash",
    "drizzle",
    "layer",
    "assembly",
    "decoration",
    "garnish",
    "shell",
    "case",
    "crumble",
    "compote",
    "brine",
    "marinade",
    "dressing",
    "cream",
    "roux",
    "meringue",
    "biscuits",
];

/// Whether a word, in small letters, is what parts of a recipe are called.
pub(crate) fn is_part_noun(word: &str) -> bool {
    COMPONENT_NOUNS.contains(&word) || is_begun(word)
}

impl Reader<'_> {
    /// The component a line names, if it is a heading.
    pub(super) fn heading(&self, text: &str, marked: bool) -> Option<String> {
        let bare = text.trim_end_matches([':', ' ']);
        let colon = bare.len() < text.trim_end().len();
        let words = bare.split_whitespace().count();
        if words == 0 || words > 9 {
            return None;
        }
        let lower = bare.to_lowercase();
        let for_the = lower.starts_with("for the ") || lower.starts_with("to make the ");
        let digit_first = bare.starts_with(|c: char| c.is_numeric());
        if digit_first {
            return None;
        }
        let amount = bare.contains(|c: char| c.is_numeric()) && !is_numbered_name(bare);
        let without = bare.split('(').next().unwrap_or(bare);
        let amount =
            amount && without.contains(|c: char| c.is_numeric()) && !is_numbered_name(without);
        if amount {
            return None;
        }
        let prose = bare.ends_with(['.', '!', '?'])
            || lower.starts_with("makes ")
            || lower.starts_with("serves ");
        if prose {
            return None;
        }
        let letters = bare.chars().filter(|c| c.is_alphabetic()).count();
        let capitals = letters >= 3 && !bare.chars().any(char::is_lowercase);
        let food = self.larder.names().is_name(bare, self.locale);
        let last = lower
            .split(|c: char| !c.is_alphabetic())
            .rfind(|w| !w.is_empty())
            .unwrap_or("");
        let noun = is_part_noun(last);
        let single = is_part_noun(&lower);
        let whole = matches!(
            lower.as_str(),
            "to finish" | "to serve" | "to assemble" | "to decorate" | "to glaze"
        ) || last == "ingredients" && words <= 3;
        let for_purpose = lower.starts_with("for ") && colon;
        let amountless = !lower.contains(" to taste") && !lower.contains(',');
        let is = whole
            || (colon && !bare.contains(": "))
            || for_the && (words <= 6 || noun) && amountless
            || for_purpose
            || (marked && !food)
            || (capitals && (!food || single) && amountless && words <= 5)
            || (noun
                && words <= 4
                && (!food || single)
                && amountless
                && !lower.starts_with("the ")
                && !self.refers(&lower));
        is.then(|| component_name(bare))
    }

    /// 'Egg wash: 1 egg', 'Dough - 3 cups flour, 1 egg': the label that names a component, and what
    /// is in it. 'Flour: 500 g' names the food itself; 'BUNS: 450 g flour, 1 egg' what is made.
    pub(super) fn part_of_one_line<'t>(&self, text: &'t str) -> Option<(&'t str, &'t str)> {
        let dashes = [" - ", " – ", " — "];
        let dash = || dashes.iter().find_map(|d| text.split_once(d));
        let (colon, (label, rest)) = match text.split_once(':') {
            Some(cut) => (true, cut),
            None => (false, dash()?),
        };
        let named = !label.contains(|c: char| c.is_ascii_digit())
            && label.split_whitespace().count() <= 5
            && rest.chars().any(char::is_alphanumeric)
            && self.starts_with_amount(rest);
        if !named {
            return None;
        }
        let foods = rest.split([',', ';']).filter(|piece| {
            self.starts_with_amount(piece) && self.larder.find(piece, self.locale).is_some()
        });
        let foods: Vec<&str> = foods.collect();
        let is = if self.larder.names().is_name(label, self.locale) {
            let food = self.larder.find(label, self.locale);
            // 'Cherries: 400 g cherries, 2 tbsp kirsch, 1 tbsp cornflour'; the rye of 'Flour: …' is one of it.
            let head = crate::sentences::words(label).pop();
            let other = |piece: &&&str| {
                let said = crate::sentences::words(piece);
                head.as_ref().is_some_and(|h| !said.contains(h))
            };
            let mixed = foods.iter().filter(other).count() >= 2;
            foods.len() >= 2 && (mixed || food.is_some_and(|m| self.is_made(m.food)))
        } else {
            let last = label.split_whitespace().next_back().unwrap_or("");
            let part = is_part_noun(&last.to_lowercase());
            colon || foods.len() >= 2 || part && foods.len() == 1
        };
        is.then_some((label, rest))
    }

    /// 'Dry mix (200 g plain flour, 50 g sugar)': the foods in the brackets, each with its amount.
    pub(super) fn listed_in_brackets<'t>(&self, text: &'t str) -> Option<&'t str> {
        let (label, rest) = text.split_once('(')?;
        let inside = rest.strip_suffix(')').filter(|r| !r.contains(['(', ')']))?;
        let food = |piece: &str| {
            self.starts_with_amount(piece) && self.larder.find(piece, self.locale).is_some()
        };
        let named = label.starts_with(char::is_alphabetic)
            && !label.contains(|c: char| c.is_numeric())
            && self.larder.find(label, self.locale).is_none();
        let pieces = || inside.split([',', ';']);
        (named && pieces().count() > 1 && pieces().all(food)).then_some(rest)
    }

    /// Whether a food is made from others: bread, biscuits, pasta.
    pub(crate) fn is_made(&self, food: FoodId) -> bool {
        let food = self.larder.food(food);
        food.does(Function::Prepared) || food.does(Function::Pasta)
    }

    /// Whether words use a component rather than name one: 'half the dough'.
    pub(super) fn refers(&self, lower: &str) -> bool {
        [
            "half ",
            "remaining ",
            "rest ",
            "reserved ",
            "all ",
            "leftover ",
            "a ",
            "one ",
            "of ",
        ]
        .iter()
        .any(|w| lower.starts_with(w))
            || lower.contains(" the ")
            || lower.contains(" of ")
    }
}

/// Whether bare words name what is sold as well as made: 'peanut sauce', 'tempura batter'; no
/// colon, mark or 'for the' says that a part begins.
pub(crate) fn may_be_bought(text: &str) -> bool {
    const SOLD: [&str; 7] = [
        "sauce", "dressing", "batter", "syrup", "custard", "icing", "marinade",
    ];
    let lower = text.to_lowercase();
    let plain = |c: char| c.is_alphabetic() || matches!(c, ' ' | '-' | '\'' | '’');
    let (head, last) = lower.rsplit_once(' ').unwrap_or(("", &lower));
    !head.is_empty()
        && SOLD.contains(&last)
        && text.chars().all(plain)
        && text.chars().any(char::is_lowercase)
        && !["for ", "to ", "the "].iter().any(|w| lower.starts_with(w))
}

/// 'Layer 2', 'Part 1': a name with a number that is no amount.
pub(super) fn is_numbered_name(text: &str) -> bool {
    let mut words = text.split_whitespace().rev();
    let number = words
        .next()
        .is_some_and(|w| w.chars().all(|c| c.is_ascii_digit()));
    number
        && words.next().is_some_and(|w| {
            matches!(
                w.to_ascii_lowercase().as_str(),
                "layer" | "part" | "step" | "stage" | "day"
            )
        })
}

/// The name of a component from its heading: 'For the Lemon glaze (optional):' is 'lemon glaze'.
pub(crate) fn component_name(heading: &str) -> String {
    let mut name = heading
        .split('(')
        .next()
        .unwrap_or(heading)
        .trim()
        .trim_end_matches([':', '-', ' '])
        .to_lowercase();
    for lead in ["for the ", "for ", "to make the ", "to make ", "the "] {
        if let Some(rest) = name.strip_prefix(lead) {
            name = rest.to_owned();
            break;
        }
    }
    for tail in [" ingredients", " mixture"] {
        if let Some(rest) = name.strip_suffix(tail)
            && !rest.is_empty()
        {
            name = rest.to_owned();
        }
    }
    name.trim().to_owned()
}
