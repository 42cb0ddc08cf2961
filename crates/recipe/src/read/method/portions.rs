//! Amounts that the method takes out of a line for one thing, where the rest of it is for another: '25 g of the
//! butter' into the streusel, 'the rest is for spreading'.

use super::apart::{line_words, makes};
use super::unlisted::{amounts, last_word};
use crate::doubt::{Doubt, DoubtCode};
use crate::line::{Item, Line, Purpose};
use crate::read::Reader;
use crate::read::text::same_part;
use crate::recipe::Recipe;
use crate::rework::Whose;
use crate::sentences::{each, singular, words};
use crate::weigh;
use quantity::Unit;

/// Words for what is left of a food; the food follows.
const REST: [&str; 4] = [
    "rest of the ",
    "remaining ",
    "remainder of the ",
    "leftover ",
];
/// Words that put it on the table. 'Spread the remaining butter over the dough' does not.
const TABLE: [&str; 6] = [
    "for spreading",
    "for the table",
    "for serving",
    "to serve",
    "serve with",
    "slice and spread",
];
/// Words that keep something for later.
const KEEPS: [&str; 5] = ["reserve", "reserving", "aside", "back", "save"];
/// Words that put something on a part: what is put on it is none of its lines.
const PUTS_ON: [&str; 10] = [
    "brush", "dot", "drizzle", "dust", "scatter", "spoon", "spread", "sprinkle", "strew", "top",
];
/// Shares of a line in words; 'the' or 'of the' and the food follow.
const SHARES: [(&[&str], f64); 8] = [
    (&["two", "third"], 2.0 / 3.0),
    (&["2/3"], 2.0 / 3.0),
    (&["three", "quarter"], 0.75),
    (&["3/4"], 0.75),
    (&["half"], 0.5),
    (&["1/2"], 0.5),
    (&["third"], 1.0 / 3.0),
    (&["quarter"], 0.25),
];
/// A share of the line from which it is all of it.
const ALL: f64 = 0.95;

/// Where what is taken out of a line goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum To {
    /// Into the line's own part; what is left does not.
    Own,
    /// Into another part, by its place.
    Part(usize),
    /// Into a part that no heading names.
    New(String),
}

/// An amount that is taken out of a line.
#[derive(Debug, Clone, PartialEq)]
pub struct Portion {
    /// The step's number, see [`crate::Step::number`].
    pub step: usize,
    /// The number of the line in the text, from 1; 0 where that is no text.
    pub line: usize,
    /// Where what is taken goes.
    pub to: To,
    /// A line for what is taken: '25 g butter'.
    pub taken: String,
    /// The line for what is left: '60 g butter, to serve'.
    pub left: String,
    /// '25 g of the butter'.
    says: String,
    /// '85 g'.
    all: String,
    /// The part of the line.
    part: usize,
}

/// One doubt for all that goes to the same place.
pub(in crate::read) fn doubt(recipe: &Recipe, reader: &Reader<'_>) -> Option<Doubt> {
    let found = portions(recipe, reader);
    let first = found.first()?;
    let named = |c: usize| match recipe.components[c].name.as_str() {
        "" => "the list without a name".to_owned(),
        name => format!("the {name}"),
    };
    let (where_to, here) = match &first.to {
        To::Own => (String::new(), "its part".to_owned()),
        To::Part(c) => (format!(" for {}", named(*c)), named(*c)),
        To::New(name) => (format!(" for the {name}"), format!("a part called {name}")),
    };
    let takes: Vec<&str> = found.iter().map(|p| p.says.as_str()).collect();
    let counted: Vec<&str> = found.iter().map(|p| p.all.as_str()).collect();
    let taken: Vec<String> = found.iter().map(|p| format!("'{}'", p.taken)).collect();
    let left: Vec<String> = found.iter().map(|p| format!("'{}'", p.left)).collect();
    let whose = if found.len() == 1 {
        "its line"
    } else {
        "their lines"
    };
    let there = if first.to == To::Own || recipe.components[first.part].name.is_empty() {
        "their place".to_owned()
    } else {
        named(first.part)
    };
    Some(Doubt::new(
        DoubtCode::LineInTwo,
        format!(
            "step {} takes {}{where_to}, and all {} of {whose} are counted in one place: write {} in {here}, and {} in {there}",
            recipe.step_label(first.step),
            takes.join(", "),
            counted.join(", "),
            taken.join(", "),
            left.join(", "),
        ),
    ))
}

/// What the method takes out of lines for one place, of the first place that there is.
#[must_use]
pub fn portions(recipe: &Recipe, reader: &Reader<'_>) -> Vec<Portion> {
    let whose = Whose::of(recipe);
    let owners = crate::rework::owners(recipe);
    let mut all: Vec<Portion> = Vec::new();
    for (step, owner) in recipe.steps.iter().zip(&owners) {
        for sentence in each(&step.text) {
            let taken = taken(sentence, reader);
            if taken.is_empty() {
                continue;
            }
            let named = makes(sentence);
            let is = |name: &String| recipe.components.iter().any(|c| same_part(&c.name, name));
            let own = whose
                .made(&super::step(1, sentence, None))
                .unwrap_or(*owner);
            let to = match named.filter(|n| !is(n)) {
                Some(name) => To::New(name),
                None => To::Part(own),
            };
            for taken in taken {
                let portion = taken.of(recipe, reader, step.number, sentence, &to);
                let new = |p: &Portion| all.iter().all(|a| a.line != p.line || a.part != p.part);
                all.extend(portion.filter(new));
            }
        }
    }
    let Some(first) = all.first().map(|p| p.to.clone()) else {
        return Vec::new();
    };
    all.retain(|p| p.to == first);
    // 'For the glaze, whisk 20 ml of the milk': one food is no part.
    if matches!(first, To::New(_)) && all.len() < 2 {
        return Vec::new();
    }
    if first == To::Own {
        all.truncate(1);
    }
    all
}

/// The text with those portions on lines of their own; `None` where a line does not stand in it as it was read.
#[must_use]
pub fn divided(text: &str, recipe: &Recipe, portions: &[Portion]) -> Option<String> {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let read = || recipe.components.iter().flat_map(|c| &c.lines);
    for p in portions {
        let own = lines.get_mut(p.line.checked_sub(1)?)?;
        let line = read().find(|l| l.number == p.line)?;
        if own.trim() != line.text.trim() {
            return None;
        }
        own.clone_from(&p.left);
    }
    let first = portions.first()?;
    let last = |c: usize| recipe.components[c].lines.iter().map(|l| l.number).max();
    let (at, heading) = match &first.to {
        To::Own => (first.line, None),
        To::Part(c) => (last(*c).filter(|n| *n > 0)?, None),
        To::New(name) => (last(first.part)?, Some(name)),
    };
    let head = heading
        .into_iter()
        .flat_map(|name| [String::new(), format!("For the {name}")]);
    let new = head.chain(portions.iter().map(|p| p.taken.clone()));
    let at = at.min(lines.len());
    lines.splice(at..at, new);
    let mut with = lines.join("\n");
    if text.ends_with('\n') {
        with.push('\n');
    }
    Some(with)
}

/// How much a sentence takes of a food.
enum Much {
    Grams(f64),
    Count(f64),
    Share(f64),
}

struct Taken {
    /// As it is said: '25 g of the butter'.
    says: String,
    /// The last word of the food.
    name: String,
    much: Much,
    /// All but this.
    but: bool,
}

/// What a sentence takes out of lines.
fn taken(sentence: &str, reader: &Reader<'_>) -> Vec<Taken> {
    let lower = sentence.to_lowercase();
    let mut out = Vec::new();
    for said in amounts(sentence)
        .into_iter()
        .filter(|w| w.contains(" of the "))
    {
        let line = reader.line(&said.replacen(" of the ", " ", 1));
        let ([item], Some(name)) = (line.items.as_slice(), last_word(&said)) else {
            continue;
        };
        let counted = item.amounts.first().filter(|a| a.unit == Some(Unit::Count));
        let much = match (counted, grams(&line, reader)) {
            (Some(a), _) => Much::Count(a.middle()),
            (None, Some(g)) => Much::Grams(g),
            _ => continue,
        };
        let but = lower.contains(&format!("all but {}", said.to_lowercase()));
        out.push(Taken {
            says: if but { format!("all but {said}") } else { said },
            name,
            much,
            but,
        });
    }
    let all: Vec<&str> = lower.split_whitespace().collect();
    for n in (0..all.len()).filter(|n| all[*n] == "the") {
        let before = if n > 0 && all[n - 1] == "of" {
            n - 1
        } else {
            n
        };
        let share = SHARES.iter().find(|(said, _)| {
            let said_here = all[..before].iter().rev().zip(said.iter().rev());
            before >= said.len() && said_here.into_iter().all(|(a, b)| singular(a) == *b)
        });
        let (Some((said, share)), Some(food)) = (share, all.get(n + 1)) else {
            continue;
        };
        let from = before - said.len();
        // The food is the next word or the one behind it: 'half the caster sugar'.
        let ends = food.ends_with([',', ';', '.', ':', ')']);
        for end in n + 1..if ends { n + 2 } else { (n + 3).min(all.len()) } {
            let name = all[end].trim_matches(|c: char| !c.is_alphabetic());
            out.push(Taken {
                says: all[from..=end]
                    .join(" ")
                    .trim_end_matches([',', ';', '.', ':', ')'])
                    .to_owned(),
                name: name.to_owned(),
                much: Much::Share(*share),
                but: false,
            });
        }
    }
    out
}

fn grams(line: &Line, reader: &Reader<'_>) -> Option<f64> {
    let (weighed, _) = weigh::line(line, reader.larder, reader.locale);
    Some(weighed.first()?.grams?.likely().as_grams())
}

impl Taken {
    /// The portion, where the line's rest goes to another place.
    fn of(
        &self,
        recipe: &Recipe,
        reader: &Reader<'_>,
        step: usize,
        sentence: &str,
        to: &To,
    ) -> Option<Portion> {
        let name = singular(&self.name);
        let is = |l: &Line| {
            l.items.len() == 1
                && l.items[0].purpose == Purpose::Formula
                && l.items[0].reference.is_none()
                && line_words(l).last().is_some_and(|w| w == name)
        };
        let lines = || {
            let parts = recipe.components.iter().enumerate();
            parts.flat_map(|(c, p)| p.lines.iter().map(move |l| (c, l)))
        };
        // Of two lines of butter nobody knows which is meant; one in the part that takes it is its own.
        let mut named = lines().filter(|(_, l)| is(l));
        let ((part, line), None) = (named.next()?, named.next()) else {
            return None;
        };
        let item = &line.items[0];
        let (all, all_said) = self.whole(line, item, reader)?;
        let some = match self.much {
            Much::Grams(n) | Much::Count(n) => n,
            Much::Share(s) => s * all,
        };
        let some = if self.but { all - some } else { some };
        if some <= 0.0 || some >= ALL * all {
            return None;
        }
        let food = item.food.as_ref().map_or(&item.name, |m| &m.span);
        let food = line.words(food).trim();
        let counted = is_counted(item);
        let put = |n: f64| {
            if counted {
                format!("{n:.0} {food}")
            } else {
                format!("{n:.0} g {food}")
            }
        };
        let (mut taken, mut left) = (put(some), line_of(line, item, all - some, counted));
        let to = match to {
            To::Part(c) if *c == part => To::Own,
            other => other.clone(),
        };
        let on_table = for_table(recipe, &self.name);
        let puts_on = words(sentence)
            .iter()
            .any(|w| PUTS_ON.contains(&w.as_str()));
        if puts_on && to != To::Own && !on_table {
            return None;
        }
        if on_table {
            left = format!("{}, to serve", put(all - some));
        } else if to == To::Own {
            let tail = kept_for(sentence, &self.name)?;
            taken = format!("{taken}, {tail}");
            let read = reader.line(&taken);
            let aside = read
                .items
                .first()
                .is_some_and(|i| i.purpose != Purpose::Formula);
            if !aside {
                return None;
            }
        }
        Some(Portion {
            step,
            line: line.number,
            to,
            taken,
            left,
            says: self.says.clone(),
            all: all_said,
            part,
        })
    }

    /// How much the line has, in the measure that is taken of it.
    fn whole(&self, line: &Line, item: &Item, reader: &Reader<'_>) -> Option<(f64, String)> {
        let count = item.amounts.first().map(crate::line::Amount::middle);
        match (&self.much, is_counted(item)) {
            (Much::Grams(_) | Much::Share(_), false) => {
                let g = grams(line, reader)?;
                Some((g, format!("{g:.0} g")))
            }
            // Half of three eggs is written by the baker.
            (Much::Share(s), true) => {
                let n = count?;
                ((n * s).fract() == 0.0).then(|| (n, format!("{n:.0}")))
            }
            (Much::Count(_), true) => count.map(|n| (n, format!("{n:.0}"))),
            _ => None,
        }
    }
}

fn is_counted(item: &Item) -> bool {
    item.amounts
        .first()
        .is_some_and(|a| a.unit == Some(Unit::Count))
}

/// The line with what is left of it in place of its amount.
fn line_of(line: &Line, item: &Item, left: f64, counted: bool) -> String {
    let unit = if counted { "" } else { " g" };
    let before = item.amounts.iter().all(|a| a.span.end <= item.name.start);
    let from = if before {
        item.name.start
    } else {
        item.food.as_ref().map_or(item.name.start, |m| m.span.start)
    };
    let name = if before {
        line.clean.get(from..)
    } else {
        item.food.as_ref().map(|m| line.words(&m.span))
    };
    format!("{left:.0}{unit} {}", name.unwrap_or_default().trim())
}

/// Whether the method puts what is left of a food on the table.
fn for_table(recipe: &Recipe, food: &str) -> bool {
    recipe.steps.iter().flat_map(|s| each(&s.text)).any(|s| {
        let said = s.to_lowercase();
        let left = REST.iter().any(|r| said.contains(&format!("{r}{food}")));
        left && TABLE.iter().any(|t| said.contains(t))
    })
}

/// What a sentence keeps a food for: 'for dusting' of 'reserve 50 g of the sugar for dusting'.
fn kept_for(sentence: &str, food: &str) -> Option<String> {
    let lower = sentence.to_lowercase();
    let keeps = words(&lower).iter().any(|w| KEEPS.contains(&w.as_str()));
    let at = lower.find(food)? + food.len();
    let tail = lower.get(at..)?.trim_start();
    let tail = tail.split([',', ';', '(']).next()?.trim();
    (keeps && (tail.starts_with("for ") || tail.starts_with("to "))).then(|| tail.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;
    use quantity::Locale;

    fn asked_of(text: &str) -> Option<(String, Vec<Portion>)> {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = Reader::new(&larder, Locale::Uk);
        let recipe = crate::read::recipe(text, &reader).expect("a recipe");
        let found = portions(&recipe, &reader);
        let mut doubts = recipe.doubts.into_iter();
        let doubt = doubts.find(|d| d.code == DoubtCode::LineInTwo);
        assert_eq!(doubt.is_some(), !found.is_empty());
        doubt.map(|d| (d.message, found))
    }

    fn asked(method: &str) -> Option<String> {
        let text = format!(
            "Tea loaf\n\n250 g self-raising flour\n85g butter, softened, plus extra for the tin\n30 g plain flour\n\nMethod\n{method}\n"
        );
        asked_of(&text).map(|a| a.0)
    }

    /// 85 g less 25 g is 60 g.
    #[test]
    fn the_rest_for_the_table_is_asked_about() {
        for method in [
            "1. Rub 25g of the butter into the plain flour. The rest of the butter is for spreading.",
            "1. Rub 25 g of the butter into the plain flour and bake.\n2. Slice and spread with the remaining butter.",
        ] {
            let said = asked(method).expect(method);
            assert!(
                said.contains("step 1 takes 25")
                    && said.contains("all 85 g")
                    && said.contains("'60 g butter, to serve'"),
                "{said}"
            );
        }
        for method in [
            "1. Rub 25g of the butter into the flour. Spread the remaining butter over the dough.",
            "1. Rub 85g of the butter into the flour. Serve with the remaining butter.",
            "1. Rub in the butter. Serve with more butter.",
        ] {
            assert_eq!(asked(method), None, "{method}");
        }
    }

    /// Each line's taken and left: 85 g less 25 g, half of 150 g, 225 g less 50 g; of 4 eggs 2.
    #[test]
    fn what_is_taken_for_another_part_is_asked_about() {
        let of = |head: &str, lines: &str, method: &str| {
            let text = format!(
                "Plum loaf\n\n225 g plain flour\n2 tsp baking powder\n85 g butter, softened\n150 g caster sugar\n4 eggs\n150 ml milk\n{head}{lines}\nMethod\n{method}\n"
            );
            let (_, found) = asked_of(&text)?;
            let pairs = found.into_iter().map(|p| (p.to, p.taken, p.left));
            Some(pairs.collect::<Vec<_>>())
        };
        let owned = |to: To, all: &[(&str, &str)]| {
            let of = |(a, b): &(&str, &str)| (to.clone(), (*a).to_owned(), (*b).to_owned());
            Some(all.iter().map(of).collect::<Vec<_>>())
        };
        let rest = "\n2. Beat the eggs, milk and remaining sugar into the rest of the flour and butter. Bake at 180C for 50 minutes.";
        let streusel = "1. For the streusel, rub 25 g of the butter into 50 g of the flour with half the sugar.";
        let lines = [
            ("25 g butter", "60 g butter, softened"),
            ("50 g plain flour", "175 g plain flour"),
            ("75 g caster sugar", "75 g caster sugar"),
        ];
        assert_eq!(
            of("", "", &format!("{streusel}{rest}")),
            owned(To::New("streusel".to_owned()), &lines)
        );
        let headed = "\nFor the streusel\n30 g oats\n";
        assert_eq!(
            of(headed, "", &format!("{streusel}{rest}")),
            owned(To::Part(1), &lines)
        );
        assert_eq!(
            of(
                headed,
                "",
                &format!("1. For the streusel, beat 2 of the eggs with the oats.{rest}")
            ),
            owned(To::Part(1), &[("2 eggs", "2 eggs")])
        );
        // The answer leaves nothing to ask, and no gram is lost.
        let text = "Plum loaf\n\n225 g plain flour\n85 g butter, softened\n150 g caster sugar\n\nMethod\n1. For the streusel, rub 25 g of the butter into half the sugar.\n2. Mix the rest.\n";
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = Reader::new(&larder, Locale::Uk);
        let recipe = crate::read::recipe(text, &reader).expect("a recipe");
        let with = divided(text, &recipe, &portions(&recipe, &reader)).expect("a text");
        assert!(
            with.contains("60 g butter, softened\n75 g caster sugar\n\nFor the streusel\n25 g butter\n75 g caster sugar\n\nMethod"),
            "{with}"
        );
        assert_eq!(asked_of(&with), None);
        // What it has a line of its own for is none of another line's.
        assert_eq!(
            of(
                headed,
                "25 g butter\n50 g plain flour\n75 g sugar\n",
                &format!("{streusel}{rest}")
            ),
            None
        );
        // What is put on the streusel is none of its lines.
        assert_eq!(
            of(
                headed,
                "",
                &format!(
                    "1. Make the streusel: rub the oats. Sprinkle the streusel with half the sugar.{rest}"
                )
            ),
            None
        );
        // In one dough all of it counts.
        assert_eq!(
            of(
                "",
                "",
                "1. Beat half the sugar with the butter. Add the remaining sugar, eggs, milk and flour; bake at 180C."
            ),
            None
        );
        assert_eq!(
            of(
                "",
                "",
                "1. Mix all but 2 tbsp of the milk with the rest. Add the last of it; bake at 180C."
            ),
            None
        );
        assert_eq!(
            of(
                "",
                "",
                "1. Reserve 50 g of the sugar for dusting. Mix everything else and bake at 180C."
            ),
            owned(
                To::Own,
                &[("50 g caster sugar, for dusting", "100 g caster sugar")]
            )
        );
    }
}
