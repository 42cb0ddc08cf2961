//! A name over the measured foods that it is made of: 'Butter' over '100 g butter', 'Brandy butter'.

use super::around::is_made_part;
use super::pasted::Pasted;
use crate::sentences::words;
use larder::Gluten;

/// What is done to a food to make a part of it: nobody buys it so, nor lists it twice.
const DONE: [&str; 8] = [
    "whipped",
    "candied",
    "caramelised",
    "caramelized",
    "poached",
    "stewed",
    "pickled",
    "sugared",
];

impl Pasted<'_, '_, '_> {
    /// Whether a name stands over measured lines that hold all it says, so that as a heading nothing of it is
    /// lost: the same food in the next line ('Chicken' over '4 chicken breasts'), or each word of a longer name
    /// ('Brandy butter' over butter, sugar and brandy) but for what parts are called ('Lemon curd').
    pub(super) fn is_over_its_foods(&self, bare: &str, food: bool) -> bool {
        let Some(next) = self.next.filter(|n| !n.blank) else {
            return false;
        };
        let plain = |c: char| c.is_alphabetic() || matches!(c, ' ' | '-' | '&');
        if !self.has_ingredients() || !bare.chars().all(plain) {
            return false;
        }
        if !self.blank && !self.is_in_a_measured_list(false) {
            return false;
        }
        let (reader, larder) = (self.reader, self.reader.larder);
        let below = self.text.lines().skip(next.number - 1);
        let below = below.take_while(|l| !l.trim().is_empty() && reader.begins_with_amount(l));
        let below: Vec<_> = below.map(|l| reader.line(l)).collect();
        let foods = |n: usize| {
            let items = below.iter().take(n).flat_map(|l| &l.items);
            items.filter_map(|i| i.food.as_ref()).map(|m| m.food)
        };
        let sold = larder.find(bare, reader.locale).map(|m| m.food);
        let named = words(bare);
        if let [_] = named.as_slice() {
            return food && sold.is_some_and(|f| foods(1).any(|other| other == f));
        }
        let gluten = |f| larder.food(f).gluten == Gluten::Contains;
        let said: Vec<String> = below.iter().flat_map(|l| words(&l.clean)).collect();
        let stands = |w: &String| {
            let one = w.strip_suffix('s').unwrap_or(w);
            said.iter().any(|s| s.starts_with(one))
        };
        let joins = |w: &String| matches!(w.as_str(), "and" | "with");
        // 'Whipped cream' over the cream.
        let done = |w: &String| DONE.contains(&w.as_str());
        let told = named.iter().filter(|w| stands(w)).count();
        let last = named.len() - 1;
        let whole = |(n, w): (usize, &String)| {
            stands(w)
                || joins(w)
                || n == 0 && self.blank && done(w)
                || is_made_part(w) && (n == last || named.get(n + 1).is_some_and(joins))
        };
        below.len() > 1
            && told > 0
            && named.iter().enumerate().all(whole)
            && sold.is_none_or(|f| !gluten(f) || foods(below.len()).any(gluten))
    }
}
