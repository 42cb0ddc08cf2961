//! Names of makers in a method, a note, or beside a line's food: 'a can of …', 'serve with …', 'mince, …'. The larder has none of them, and
//! what is sold under one is known by its label alone.

use super::core::core_cautions;
use super::eaten;
use super::eaten::is_no_food;
use super::words::{Word, split};
use crate::pieces::PIECES;
use crate::read::words::Words;
use larder::Larder;
use std::ops::Range;

/// Capital words in the midst of a sentence that are no maker's: of countries and feasts, units, ovens
/// and tins, parts of a page.
const NO_MAKER: [&str; 115] = [
    "advent",
    "american",
    "april",
    "asian",
    "august",
    "australian",
    "austrian",
    "bain",
    "bake",
    "belgian",
    "british",
    "bundt",
    "burns",
    "celsius",
    "chinese",
    "christmas",
    "creole",
    "cup",
    "cups",
    "danish",
    "day",
    "december",
    "diwali",
    "dough",
    "dutch",
    "easter",
    "eid",
    "english",
    "epiphany",
    "european",
    "eve",
    "fahrenheit",
    "fan",
    "february",
    "filling",
    "finnish",
    "french",
    "friday",
    "gas",
    "german",
    "glaze",
    "greek",
    "halloween",
    "hanukkah",
    "icing",
    "indian",
    "ingredients",
    "irish",
    "italian",
    "january",
    "japanese",
    "jewish",
    "july",
    "june",
    "kingdom",
    "korean",
    "lammas",
    "lebanese",
    "lent",
    "maillard",
    "march",
    "mark",
    "may",
    "mediterranean",
    "method",
    "mexican",
    "michaelmas",
    "middle",
    "monday",
    "moroccan",
    "new",
    "nordic",
    "norwegian",
    "note",
    "november",
    "october",
    "oven",
    "part",
    "passover",
    "persian",
    "polish",
    "portuguese",
    "ramadan",
    "recipe",
    "russian",
    "saturday",
    "scandinavian",
    "scottish",
    "see",
    "september",
    "shrove",
    "south",
    "spanish",
    "states",
    "step",
    "sunday",
    "swedish",
    "swiss",
    "syrian",
    "tablespoon",
    "tablespoons",
    "tbsp",
    "teaspoon",
    "teaspoons",
    "thai",
    "thanksgiving",
    "thursday",
    "topping",
    "tsp",
    "tuesday",
    "turkish",
    "united",
    "valentine",
    "wednesday",
    "zealand",
];

/// Words behind which a note names food and no person.
const BEFORE_FOOD: [&str; 10] = [
    "with", "of", "some", "add", "and", "or", "like", "use", "using", "crushed",
];

/// More capital words than this share of a text, and capitals say nothing in it.
const TITLE_CASE: f64 = 0.4;

/// The words of a text that may be a maker's name, as it writes them.
///
/// # Arguments
/// * `note` — a note also names people and places: only behind words that lead to food.
pub(super) fn names(text: &str, note: bool) -> Vec<Range<usize>> {
    let mut out = Vec::new();
    let (mut words, mut capitals) = (0_u32, 0_u32);
    let (mut begins, mut before) = (true, String::new());
    let mut at = 0;
    for piece in text.split_inclusive(|c: char| !c.is_alphanumeric() && !matches!(c, '\'' | '’'))
    {
        let word = piece.trim_end_matches(|c: char| !c.is_alphanumeric());
        let from = at;
        at += piece.len();
        if !word.is_empty() {
            let bare = word.split(['\'', '’']).next().unwrap_or(word);
            let lower = bare.to_lowercase();
            let mut letters = bare.chars();
            let capital = letters.next().is_some_and(char::is_uppercase);
            let rest = letters.as_str();
            words += 1;
            capitals += u32::from(capital);
            let named = capital && bare.len() > 2 && rest.chars().any(char::is_lowercase);
            let leads = !note || BEFORE_FOOD.contains(&before.as_str());
            if named && !begins && leads && !NO_MAKER.contains(&lower.as_str()) {
                out.push(from..from + word.len());
            }
            begins = false;
            before = lower;
        }
        begins |= piece.ends_with(['.', '!', '?', ':', ';', '\n', '(', '•', '–', '"', '“']);
    }
    if f64::from(capitals) > TITLE_CASE * f64::from(words) && words > 4 {
        out.clear();
    }
    out
}

/// Words of titles that only praise or excuse the bake.
const PRAISE: &str = "
    best better cheat cheaty classic clean easy everyday everything express fakeaway famous fancy favourite
    free girl guilt healthy healthier heavenly instant just lazy lighter lovely mac magic mock naked nearly
    not perfect posh proper quick real secret simple skinny special sweet the trashy ugly ultimate";

/// The words of a title that may be a maker's name: in quotes, or joined to a food by 'and' as in 'Zingo and
/// Cheese Swirls', 'Cheese & Zingo Swirls'. 'Grandma's Apple Cake' names nobody who sells.
pub(super) fn in_title(title: &str, larder: &Larder) -> Vec<Range<usize>> {
    let mentions = larder.names().mentions(title, larder.locale());
    let words = split(title);
    let food = |w: &Word| {
        mentions
            .iter()
            .any(|(_, s)| s.start < w.span.end && w.span.start < s.end)
    };
    let strange = |w: &Word| {
        let word = w.text.as_str();
        word.len() > 2
            && !["ed", "ing", "y", "less"].iter().any(|e| word.ends_with(e))
            && !NO_MAKER.contains(&word)
            && !KINDS.contains(&word)
            && !PRAISE.split_whitespace().any(|p| p == word)
            && !eaten::is_no_food(word)
            && !PIECES.contains(&word)
            && !larder.names().is_remark(word)
            && Words::all().get(word).is_none()
            && larder.find(word, larder.locale()).is_none()
            && core_cautions(None, word).is_empty()
            && !food(w)
    };
    let mut out = Vec::new();
    for (open, close) in [('"', '"'), ('“', '”'), ('‘', '’')] {
        let inside = title.find(open).map(|at| at + open.len_utf8());
        let inside = inside.and_then(|at| Some(at..at + title[at..].find(close)?));
        let Some(inside) = inside else { continue };
        let within = |w: &&Word| inside.start <= w.span.start && w.span.end <= inside.end;
        let count = words.iter().filter(within).count();
        if (1..=3).contains(&count) && words.iter().filter(within).all(strange) {
            out.push(inside);
        }
    }
    let signs = |from: usize, to: usize| &title[words[from].span.end..words[to].span.start];
    for at in 1..words.len() {
        let joined = match words[at].text.as_str() {
            "and" => words.get(at + 1).map(|_| at + 1),
            _ => signs(at - 1, at).contains('&').then_some(at),
        };
        let Some(next) = joined else { continue };
        let (before, behind) = (&words[at - 1], &words[next]);
        if at == 1 && strange(before) && food(behind) {
            out.push(before.span.clone());
        } else if food(before) && strange(behind) && words.get(next + 1).is_some_and(|w| !w.fresh) {
            out.push(behind.span.clone());
        }
    }
    out
}

/// Names of kinds of fruit, roots and grains.
const KINDS: [&str; 12] = [
    "arborio",
    "bramley",
    "braeburn",
    "carnaroli",
    "conference",
    "desiree",
    "edward",
    "king",
    "maris",
    "piper",
    "victoria",
    "yukon",
];

/// The words behind a comma or in brackets of an ingredient line that may be a maker's name: 'mince,
/// Quixo', 'cocoa (I use Zingo)'. Before them the larder's own look at the name tells.
pub(super) fn beside(text: &str, larder: &Larder) -> Vec<Range<usize>> {
    let Some(from) = text.find([',', '(', '[', ';']) else {
        return Vec::new();
    };
    let word = |c: char| c.is_alphanumeric() || matches!(c, '\'' | '’');
    let opens = |at: &usize| {
        let before = text[..*at].trim_end();
        let rest = &text[*at..];
        let inside = &rest[..rest.find([')', ']']).unwrap_or(rest.len())];
        before.ends_with(['(', '[']) && inside.split_whitespace().count() > 2
    };
    // 'Butter, Softened': capitals say nothing where the food itself has one.
    let name = &text[..from];
    let capital = |w: &str| w.len() > 2 && w.starts_with(char::is_uppercase);
    let titled = name.split_whitespace().filter(|w| capital(w)).count() > 1;
    let mut out = Vec::new();
    let mut at = from;
    for piece in text[from..].split_inclusive(|c: char| !word(c)) {
        let named = piece.trim_end_matches(|c: char| !word(c));
        let span = at..at + named.len();
        at += piece.len();
        let bare = named.split(['\'', '’']).next().unwrap_or(named);
        let small = bare.chars().skip(1).any(char::is_lowercase);
        let lower = bare.to_lowercase();
        if capital(bare)
            && small
            && !titled
            && !opens(&span.start)
            && !NO_MAKER.contains(&lower.as_str())
            && !KINDS.contains(&lower.as_str())
            && Words::all().get(&lower).is_none()
            && larder.names().unexplained(bare).is_some()
            && larder.names().mentions(&lower, larder.locale()).is_empty()
        {
            out.push(span);
        }
    }
    out.extend(strangers(text, larder));
    out
}

/// Words in small letters behind a comma that nobody knows and that say nothing of the food before: the 'zorkle' of
/// '100 g swede, zorkle'.
fn strangers(text: &str, larder: &Larder) -> Vec<Range<usize>> {
    let names = larder.names();
    let mut out = Vec::new();
    let mut at = 0;
    for (place, piece) in text.split(',').enumerate() {
        let from = at + piece.len() - piece.trim_start().len();
        at += piece.len() + 1;
        let named = piece.trim();
        let open = text[..from].matches(['(', '[']).count();
        let closed = text[..from].matches([')', ']']).count();
        let plain = named.chars().all(|c| c.is_lowercase() || c == ' ');
        let strange = |w: &str| {
            let says_how = ["ed", "en", "ing", "ly", "wise", "style"];
            !names.is_remark(w)
                && Words::all().get(w).is_none()
                && !is_no_food(w)
                && !says_how.iter().any(|e| w.ends_with(e))
        };
        if place > 0
            && open == closed
            && plain
            && (1..=2).contains(&named.split(' ').count())
            && named.split(' ').all(|w| w.len() > 3 && strange(w))
            && names.mentions(named, larder.locale()).is_empty()
        {
            out.push(from..from + named.len());
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{in_title, names};

    #[test]
    fn a_title_names_a_maker_beside_a_food_or_in_quotes() {
        let larder = larder::Larder::built_in().expect("the built-in tables");
        let told = |t: &str| -> Vec<String> {
            let found = in_title(t, &larder);
            found.into_iter().map(|r| t[r].to_owned()).collect()
        };
        for (title, want) in [
            ("Zingo and Cheese Swirls", "Zingo"),
            ("Cheese & Zingo Swirls", "Zingo"),
            ("“Millbix” Squares", "Millbix"),
            ("No-Bake \"Tim Wafle\" Slice", "Tim Wafle"),
        ] {
            assert_eq!(told(title), [want], "{title}");
        }
        for title in [
            "Grandma's Apple Cake",
            "Anna's Chocolate Brownies",
            "The \"Best\" Carrot Cake",
            "Quick and Easy Soda Bread",
            "Sticky and Sweet Potato Buns",
            "Lemon and Poppy Seed Loaf",
            "Beef and Ale Pie",
            "Mac and Cheese",
            "Cheese and Chive Scones",
            "Rich and Buttery Shortbread",
            "Apple and Blackberry Crumble",
            "Ham & Egg Pie",
            "Yorkshire Puddings",
            "Chelsea Buns",
            "Cheese and Onion",
            "Oat and Raisin Bars",
        ] {
            assert_eq!(told(title), [""; 0], "{title}");
        }
    }

    #[test]
    fn a_capital_in_the_midst_of_a_sentence_may_be_a_makers() {
        fn told(text: &str, note: bool) -> Vec<&str> {
            names(text, note).into_iter().map(|r| &text[r]).collect()
        }
        assert_eq!(
            told(
                "Stir in a can of Harrowgate and 50 g crushed Millbix.",
                false
            ),
            ["Harrowgate", "Millbix"]
        );
        assert_eq!(told("Serve with Fenn's custard.", false), ["Fenn's"]);
        assert_eq!(told("Lovely with Fennmite.", true), ["Fennmite"]);
        for none in [
            "Bake at 180C in a Dutch oven. Turn out and cool. Dust with sugar.",
            "Bake at Gas Mark 4 (See the note). MIX WELL.",
            "Mix The Flour And Water And Knead For Ten Minutes.",
            "Beat the egg. Add 2 Tbsp milk; I do.",
        ] {
            assert_eq!(told(none, false), [""; 0], "{none}");
        }
        assert_eq!(told("My aunt Ada gave it to me.", true), [""; 0]);
    }
}
