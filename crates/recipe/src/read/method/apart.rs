//! A part that no heading names: the last lines of a list, which the method makes by themselves when what the
//! lines before them make is in its tin.

use crate::line::{Line, LineKind, Purpose};
use crate::recipe::{Activity, Component, Recipe};
use crate::sentences::{sentences, words};
use crate::{Doubt, DoubtCode};
use std::ops::Range;

/// Fewer foods than this are no part.
const LEAST: usize = 2;

/// Puts what is made into its tin.
const PUTS: [&str; 12] = [
    "divide", "drop", "pack", "pour", "press", "put", "scoop", "scrape", "spoon", "spread", "tip",
    "transfer",
];
const TINS: [&str; 13] = [
    "case", "dish", "liner", "mold", "mould", "muffin", "pan", "ramekin", "sheet", "shell",
    "skillet", "tin", "tray",
];

/// Makes something of several foods.
const MAKES: [&str; 19] = [
    "beat", "blend", "blitz", "boil", "combine", "cook", "cream", "cut", "dissolve", "heat",
    "melt", "mix", "process", "put", "rub", "simmer", "stir", "whip", "whisk",
];

/// Brings it to what was made before.
const JOINS: [&str; 8] = [
    "add", "beat", "combine", "fold", "mix", "pour", "stir", "whisk",
];

/// What parts are called.
const CALLED: [&str; 17] = [
    "streusel", "crumble", "topping", "icing", "frosting", "glaze", "drizzle", "ganache",
    "custard", "caramel", "compote", "meringue", "syrup", "sauce", "coating", "dressing",
    "filling",
];

/// A sentence of the method.
struct Said {
    step: usize,
    words: Vec<String>,
    bakes: bool,
}

impl Said {
    fn has(&self, list: &[&str]) -> bool {
        self.words.iter().any(|w| list.contains(&w.as_str()))
    }

    /// Whether what was made is in its tin, rises or is rolled out: nothing more goes into it.
    fn ends_it(&self) -> bool {
        // 'Put the sugar and water in a pan and heat.'
        let stove = self.has(&["boil", "heat", "melt", "saucepan", "simmer"]);
        let is = |n: &usize, list: &[&str]| list.contains(&self.words[*n].as_str());
        let mut puts = (0..self.words.len()).filter(|n| is(n, &PUTS));
        let behind = |from: usize| (from..self.words.len()).take(8).any(|n| is(&n, &TINS));
        self.bakes || !stove && puts.any(behind)
    }
}

/// Asks of the first part whose last lines are made by themselves whether they are a part of their own. The
/// span of the doubt is where the first of these lines begins in the text, where it stands in one.
pub(in crate::read) fn doubt(recipe: &Recipe, text: &str) -> Option<Doubt> {
    let owners = crate::rework::owners(recipe);
    let found = recipe.components.iter().enumerate().find_map(|(c, part)| {
        let steps = recipe
            .steps
            .iter()
            .enumerate()
            .filter(|(s, _)| owners[*s] == c);
        let said: Vec<Said> = steps.flat_map(|(s, step)| said(s, step)).collect();
        Some((part, apart(part, &said)?))
    });
    let (part, Apart { lines, step, name }) = found?;
    let words = |l: usize| part.lines[l].clean.trim().to_owned();
    let (first, last) = (words(lines.start), words(lines.end - 1));
    let message = format!(
        "'{first}' to '{last}' are made by themselves in step {}: are they a part of their own? Then a heading belongs above them in the text, such as 'For the {name}'; without one they count as one dough",
        step + 1
    );
    let mut doubt = Doubt::new(DoubtCode::PartByMethod, message);
    doubt.meant = vec![name.to_owned()];
    doubt.span = place(text, part.lines[lines.start].number);
    Some(doubt)
}

/// Where a line of the text begins and ends.
fn place(text: &str, number: usize) -> Option<Range<usize>> {
    let mut from = 0;
    for (n, line) in text.split_inclusive('\n').enumerate() {
        if n + 1 == number {
            return Some(from..from + line.trim_end().len());
        }
        from += line.len();
    }
    None
}

fn said(at: usize, step: &crate::recipe::Step) -> Vec<Said> {
    let ends = [Activity::Bake, Activity::Rise, Activity::Roll];
    let of = |r: Range<usize>| Said {
        step: at,
        words: words(&step.text[r.clone()]),
        bakes: step
            .facts
            .iter()
            .any(|f| r.contains(&f.span.start) && ends.iter().any(|a| f.does(*a))),
    };
    sentences(&step.text).into_iter().map(of).collect()
}

/// Lines that are a part of their own.
struct Apart {
    lines: Range<usize>,
    step: usize,
    name: &'static str,
}

fn apart(part: &Component, said: &[Said]) -> Option<Apart> {
    let counts = |l: &usize| {
        let line = &part.lines[*l];
        let beside = line.items.iter().all(|i| i.purpose != Purpose::Formula);
        line.kind == LineKind::Ingredient && !beside
    };
    let counted: Vec<usize> = (0..part.lines.len()).filter(counts).collect();
    let first = first_uses(part, &counted, said);
    // The sentence that ends what the first lines make, and the first of the lines behind it.
    let (end, from) = said.iter().enumerate().find_map(|(end, s)| {
        let used = |n: usize| first[n].is_some_and(|at| at <= end);
        let before = (0..counted.len()).filter(|n| used(*n)).count();
        let from = (0..counted.len()).rev().take_while(|n| !used(*n)).last()?;
        let whole = (0..from).all(|n| used(n) || first[n].is_none());
        (s.ends_it() && before >= LEAST && whole).then_some((end, from))
    })?;
    let tail: Vec<usize> = (from..counted.len()).collect();
    let makes = said.iter().enumerate().skip(end + 1).find(|(at, s)| {
        // 'In a bowl, mix the sugar and flour. Cut in the butter.'
        let here = |n: &&usize| first[**n].is_some_and(|f| f == *at || f == at + 1);
        s.has(&MAKES) && tail.iter().filter(here).count() >= LEAST
    });
    let (makes, _) = makes?;
    let named = tail.iter().filter(|n| first[**n].is_some()).count();
    let early: Vec<String> = counted[..from]
        .iter()
        .flat_map(|l| line_words(&part.lines[*l]))
        .collect();
    let late: Vec<String> = tail
        .iter()
        .flat_map(|n| line_words(&part.lines[counted[*n]]))
        .collect();
    let joined = said[makes..].iter().any(|s| {
        let old = |n: usize| {
            let word = &s.words[n];
            let rest = n > 0 && matches!(s.words[n - 1].as_str(), "remaining" | "rest");
            !rest && early.contains(word) && !late.contains(word)
        };
        let made = |n: usize| matches!(s.words[n].as_str(), "batter" | "dough" | "mixture");
        let into = s.words.iter().position(|w| w == "into");
        let into = into.is_some_and(|at| (at..s.words.len()).any(|n| old(n) || made(n)));
        let new = s.words.iter().any(|w| late.contains(w));
        s.has(&JOINS) && (into || new && (0..s.words.len()).any(old))
    });
    if joined || named < LEAST || 2 * named <= tail.len() {
        return None;
    }
    let after = || said[makes..].iter().flat_map(|s| &s.words);
    let pressed = said[end].has(&["press"]);
    let is_food = |c: &&str| late.iter().any(|w| w == c);
    let mut called = CALLED.into_iter().filter(|c| !is_food(c));
    let name = called.find(|c| after().any(|w| w == c));
    Some(Apart {
        lines: counted[from]..counted.last()? + 1,
        step: said[makes].step,
        name: name.unwrap_or(if pressed { "filling" } else { "second part" }),
    })
}

/// The words of a line by which the method may call it.
fn line_words(line: &Line) -> Vec<String> {
    let names = line.items.iter().map(|i| {
        let found = i.food.as_ref().map(|m| &m.span);
        line.words(found.unwrap_or(&i.name))
    });
    names.flat_map(words).filter(|w| w.len() > 2).collect()
}

/// The sentence that first names each of the counted lines. Of two that are called by one word the first
/// sentence takes the first, the next the next: 'the remaining butter'.
fn first_uses(part: &Component, counted: &[usize], said: &[Said]) -> Vec<Option<usize>> {
    let names: Vec<Vec<String>> = counted
        .iter()
        .map(|l| line_words(&part.lines[*l]))
        .collect();
    let mut first: Vec<Option<usize>> = vec![None; counted.len()];
    for (at, s) in said.iter().enumerate() {
        // 'The flour mixture', 'the butter cream' name no new flour.
        let mixed = |n: usize| {
            matches!(
                s.words.get(n + 1).map(String::as_str),
                Some("mixture" | "mix")
            )
        };
        let heads = s.words.iter().enumerate().filter(|(n, _)| !mixed(*n));
        for (n, word) in heads {
            let before = n.checked_sub(1).map(|b| &s.words[b]);
            let called = |l: &usize| names[*l].contains(word);
            let all: Vec<usize> = (0..names.len()).filter(called).collect();
            // 'Brown sugar' is no white one.
            let full = all
                .iter()
                .copied()
                .find(|l| before.is_some_and(|b| names[*l].contains(b)));
            let next = all.iter().copied().find(|l| first[*l].is_none());
            let taken = match (full, all.as_slice()) {
                (Some(l), _) => Some(l),
                (None, [l]) => Some(*l),
                _ => next,
            };
            if let Some(l) = taken.filter(|l| first[*l].is_none()) {
                first[l] = Some(at);
            }
        }
    }
    first
}

#[cfg(test)]
mod tests {
    use crate::DoubtCode;
    use crate::read::Reader;
    use larder::Larder;
    use quantity::Locale;

    /// The line that the asked part begins with, and what it would be called.
    fn asked(lines: &str, method: &str) -> Option<(String, String)> {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = Reader::new(&larder, Locale::Uk);
        let text = format!("Trial\n\n{lines}\n\nMethod\n{method}\n");
        let recipe = crate::read::recipe(&text, &reader).expect("reads");
        let doubt = recipe
            .doubts
            .iter()
            .find(|d| d.code == DoubtCode::PartByMethod)?;
        let span = doubt.span.clone().expect("its place");
        Some((text[span].to_owned(), doubt.meant.join(" ")))
    }

    const CAKE: &str = "150 g butter\n150 g caster sugar\n3 eggs\n150 g self-raising flour";
    const MIX: &str =
        "1. Beat the butter and sugar, then the eggs, fold in the flour. Spoon into a 20 cm tin.";

    #[test]
    fn what_is_made_when_the_first_is_in_its_tin_is_asked_about() {
        let top = "75 g plain flour\n50 g demerara sugar\n40 g butter";
        let method = format!(
            "{MIX}\n2. Rub the butter into the plain flour, stir in the demerara sugar. Scatter this topping over.\n3. Bake at 180 C for 40 minutes."
        );
        let is = |line: &str, name: &str| Some((line.to_owned(), name.to_owned()));
        assert_eq!(
            asked(&format!("{CAKE}\n{top}"), &method),
            is("75 g plain flour", "topping")
        );
        let sauce = "200 ml double cream\n100 g golden syrup\n50 g butter";
        let method = format!(
            "{MIX} Bake at 180 C for 40 minutes.\n2. Meanwhile simmer the cream, syrup and remaining butter for 5 minutes. Serve the sauce with the cake."
        );
        assert_eq!(
            asked(&format!("{CAKE}\n{sauce}"), &method),
            is("200 ml double cream", "sauce")
        );
        let base = "250 g biscuits, crushed\n100 g butter, melted\n600 g cream cheese\n150 g caster sugar\n3 eggs";
        let method = "1. Mix the biscuits with the butter, press into a 20 cm tin.\n2. Beat the cream cheese with the sugar and eggs, pour in.\n3. Bake at 160 C for 40 minutes.";
        assert_eq!(asked(base, method), is("600 g cream cheese", "filling"));
    }

    #[test]
    fn one_dough_is_one_part() {
        // Wet into dry.
        let wet = "1. Mix the flour and sugar in a bowl.\n2. In another bowl, whisk the eggs and butter. Stir into the flour mixture.\n3. Pour into a tin and bake at 180 C for 40 minutes.";
        assert_eq!(asked(CAKE, wet), None);
        // Off the stove and into the rest.
        let melted = "1. Melt the butter and sugar in a pan.\n2. Whisk the eggs and flour, pour in the butter.\n3. Pour into a tin and bake at 180 C for 40 minutes.";
        assert_eq!(asked(CAKE, melted), None);
        let pie = "2 tbsp olive oil\n1 onion, chopped\n800 g spinach\n200 g feta\n100 g ricotta\n3 eggs\n100 g plain flour";
        let mixed = "1. Heat the oil in a pan and soften the onion. Wilt the spinach in the pan, tip into a colander.\n2. Mix the spinach with the feta, ricotta, eggs and flour.\n3. Pour into a dish. Bake at 180 C for 40 minutes.";
        assert_eq!(asked(pie, mixed), None);
        // A heading says it.
        let two = "150 g butter\n150 g caster sugar\n3 eggs\n150 g self-raising flour\n\nFor the sauce\n200 ml double cream\n100 g golden syrup";
        let method = format!(
            "{MIX} Bake at 180 C for 40 minutes.\n2. Meanwhile simmer the cream and syrup."
        );
        assert_eq!(asked(two, &method), None);
    }
}
