//! Foods of one line before or behind one amount: 'cinnamon, cloves and mace', the last of them known or not.

use super::super::words::Word;
use super::Reader;
use super::list::{split_and, split_list};
use super::parts::is_part_of_a_food;
use crate::line::{Amount, Item, Line, Purpose};
use crate::{Doubt, DoubtCode};
use larder::Certainty;
use std::ops::Range;

/// Stands once, before all spices of a list.
const GROUND: &str = "ground ";

/// Most words of a food that nobody knows.
const MOST_WORDS: usize = 3;

/// Words that no name of a food begins with, and that tell more of the one before.
const TELLS_MORE: [&str; 16] = [
    "about", "any", "as", "at", "for", "from", "if", "in", "into", "like", "or", "plus", "such",
    "to", "until", "with",
];

/// What a piece of a list is.
#[derive(Debug, PartialEq)]
enum Piece {
    Food,
    /// Words nobody knows that stand as a name does.
    Unknown,
    /// More of the piece before: 'softened', 'to serve'.
    Remark,
    /// Words that are no part of a list.
    Other,
}

impl Reader<'_> {
    fn piece(&self, words: &str) -> Piece {
        let names = self.larder.names();
        let said = crate::sentences::words(words);
        let first = said.first().map_or("", String::as_str);
        if TELLS_MORE.contains(&first) || names.is_remark(words) {
            return Piece::Remark;
        }
        let alone = !is_part_of_a_food(first);
        let found = self.larder.find(words, self.locale);
        if let Some(m) = found {
            // 'Thyme sprig', 'a knob of butter': a measure tells of no other food.
            let measure = |at: &Range<usize>| {
                let said = words.get(at.clone()).unwrap_or("").to_lowercase();
                let unit = self.words.get(&said);
                matches!(unit, Some(Word::Unit(_) | Word::Loose | Word::Article))
            };
            let whole = m.certainty == Certainty::Sure && m.unknown.is_empty()
                || !m.unknown.is_empty() && m.unknown.iter().all(measure);
            return if whole && alone {
                Piece::Food
            } else {
                Piece::Other
            };
        }
        let plain = words
            .chars()
            .all(|c| c.is_alphabetic() || " '-".contains(c));
        let name =
            said.len() <= MOST_WORDS && !said.iter().any(|w| TELLS_MORE.contains(&w.as_str()));
        let unexplained = names.unexplained(words).is_some();
        if plain && name && alone && unexplained {
            Piece::Unknown
        } else {
            Piece::Other
        }
    }

    /// The foods that a name lists, each with what is said of it; `None` where it lists no two, or says something
    /// that is no list.
    ///
    /// # Arguments
    /// * `each` — the amount stands for each of them: two are enough, and none is a kind of another.
    fn foods_of_list(&self, words: &str, each: bool) -> Option<Vec<Range<usize>>> {
        let split = split_list(words);
        let mut foods: Vec<Range<usize>> = Vec::new();
        let mut known = 0;
        for at in split {
            let said = &words[at.clone()];
            let piece = self.piece(said);
            match (piece, foods.last_mut()) {
                (Piece::Remark, Some(before)) => before.end = at.end,
                (Piece::Food, Some(before)) => {
                    // 'Chocolate, milk and dark' lists kinds.
                    let kind = format!("{said} {}", words[before.clone()].trim());
                    if !each && self.larder.names().is_name(&kind, self.locale) && self.one(&kind) {
                        return None;
                    }
                    known += 1;
                    foods.push(at);
                }
                (Piece::Food, None) => {
                    known += 1;
                    foods.push(at);
                }
                (Piece::Unknown, Some(_)) => foods.push(at),
                // What is known in part stays a name of a list that says 'each'.
                (Piece::Other, _) if each && self.larder.find(said, self.locale).is_some() => {
                    known += 1;
                    foods.push(at);
                }
                _ => return None,
            }
        }
        let enough = if each { 2 } else { 3 };
        let listed = foods.len() >= enough && known > usize::from(!each);
        (listed && (each || split_and(words).is_some())).then_some(foods)
    }

    /// Whether words are one name from end to end.
    fn one(&self, words: &str) -> bool {
        let found = self.larder.find(words, self.locale);
        found.is_some_and(|m| m.span == (0..words.len()))
    }

    /// An item for each of the foods that a name lists, known or not. An amount that stands for each is given to
    /// each; another is the first's, and the line is asked about.
    pub(super) fn several(
        &self,
        text: &str,
        scratch: &str,
        name: &Range<usize>,
        amounts: &[Amount],
        each: bool,
        line: &mut Line,
    ) -> Option<Vec<Item>> {
        let foods = self.foods_of_list(scratch, each)?;
        // 'Ground cinnamon, ginger and cloves' are all ground.
        let ground = scratch[foods[0].clone()].to_ascii_lowercase();
        let ground = ground.starts_with(GROUND);
        let mut items: Vec<Item> = Vec::new();
        for at in foods {
            let piece = name.start + at.start..name.start + at.end;
            let own = &scratch[at];
            let powder = format!("{GROUND}{own}");
            let ground = ground && self.larder.names().is_name(&powder, self.locale);
            let words = if ground { &powder } else { own };
            let amounts = if each || items.is_empty() {
                amounts
            } else {
                &[]
            };
            let mut item = self.item(text, words, piece.clone(), amounts.to_vec(), line);
            // The word stands before the first alone.
            if let Some(m) = item.food.as_mut().filter(|_| ground) {
                m.span = piece.start..m.span.end - GROUND.len();
            }
            items.push(item);
        }
        if amounts.is_empty() {
            // 'Tartare sauce, salad and lemon wedges, to serve'
            if items.last().is_some_and(|i| i.purpose == Purpose::Serving) {
                for item in &mut items {
                    item.purpose = Purpose::Serving;
                }
            }
        } else if !each {
            let shown: Vec<String> = items
                .iter()
                .map(|i| format!("'{}'", &text[i.name.clone()]))
                .collect();
            let (last, before) = shown.split_last()?;
            let says = format!(
                "one amount stands before {} and {last}: it is counted for the first; give each its own",
                before.join(", ")
            );
            line.doubts
                .push(Doubt::new(DoubtCode::SharedAmount, says).at(name.clone()));
        }
        Some(items)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;
    use quantity::Locale;

    /// The foods of a line by key ('?' where nobody knows them), with '*' where an amount is counted.
    fn foods(text: &str) -> (Vec<String>, bool) {
        let larder = Larder::built_in().expect("tables");
        let line = Reader::new(&larder, Locale::Uk).line(text);
        let shown = line.items.iter().map(|i| {
            let food = i.food.as_ref().map(|m| larder.food(m.food).key.as_str());
            let star = if i.amounts.is_empty() { "" } else { "*" };
            format!("{}{star}", food.unwrap_or("?"))
        });
        (shown.collect(), line.doubts(DoubtCode::SharedAmount))
    }

    /// Told by hand from the lines: no food of a list is lost, known or not.
    #[test]
    fn each_food_of_a_list_is_an_item() {
        for (text, want, asked) in [
            (
                "1/2 tsp each cinnamon, nutmeg and zorpel",
                "cinnamon* nutmeg* ?*",
                false,
            ),
            (
                "2 tbsp each butter, flour and zorp",
                "unsalted_butter* all_purpose_flour* ?*",
                false,
            ),
            (
                "1 tbsp each butter, softened, and zorp",
                "unsalted_butter* ?*",
                false,
            ),
            (
                "50 g raisins, currants and zorp",
                "raisins* currants ?",
                true,
            ),
            (
                "1 tbsp honey, barley malt extract and zorp",
                "honey* malt_syrup ?",
                true,
            ),
            (
                "1 bay leaf, beer and salt",
                "bay_leaf* beer table_salt",
                true,
            ),
            // The measure is no second food.
            (
                "1 bay leaf, thyme sprig and salt",
                "bay_leaf* thyme table_salt",
                true,
            ),
            (
                "1 bay leaf, a thyme sprig and salt",
                "bay_leaf* thyme table_salt",
                true,
            ),
            (
                "50 g raisins, zorp and currants",
                "raisins* ? currants",
                true,
            ),
        ] {
            let (got, doubt) = foods(text);
            assert_eq!(got.join(" "), want, "{text}");
            assert_eq!(doubt, asked, "{text}");
        }
        for text in [
            "1 onion, peeled and chopped",
            "2 chillies, seeds and membranes removed",
            "200 g chocolate, milk and dark",
            "100 g butter, at room temperature and soft",
            "1 egg, beaten and mixed with milk",
            "3 peppers, red and yellow, sliced",
            "1 chicken, giblets and fat removed",
        ] {
            assert_eq!(foods(text).0.len(), 1, "{text}: {:?}", foods(text));
        }
    }
}
