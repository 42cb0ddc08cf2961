//! Parts that no heading names: lines which the method makes by themselves, by the words it begins with ('for the
//! streusel, rub …') or when what was made before is in its tin.

use crate::line::{Item, Line, LineKind, Purpose};
use crate::recipe::{Activity, Component, Recipe, Step};
use crate::sentences::{sentences, singular, words};
use crate::{Doubt, DoubtCode};
use std::ops::Range;

/// Fewer foods than this are no part.
const LEAST: usize = 2;

/// Puts what is made into its tin.
const PUTS: [&str; 13] = [
    "divide", "drop", "fit", "pack", "pour", "press", "put", "scoop", "scrape", "spoon", "spread",
    "tip", "transfer",
];
const TINS: [&str; 13] = [
    "case", "dish", "liner", "mold", "mould", "muffin", "pan", "ramekin", "sheet", "shell",
    "skillet", "tin", "tray",
];

/// Makes something of several foods.
const MAKES: [&str; 23] = [
    "beat", "blend", "blitz", "boil", "combine", "cook", "cream", "cut", "dissolve", "heat",
    "melt", "mix", "poach", "process", "put", "roast", "rub", "sift", "simmer", "stew", "stir",
    "whip", "whisk",
];

/// Strews it over.
const STREWS: [&str; 3] = ["scatter", "sprinkle", "strew"];

/// Brings it to what was made before.
const JOINS: [&str; 8] = [
    "add", "beat", "combine", "fold", "mix", "pour", "stir", "whisk",
];

/// What goes on or into a bake, likeliest first where several are said.
const CALLED: [&str; 17] = [
    "streusel", "crumble", "topping", "icing", "frosting", "glaze", "drizzle", "ganache",
    "custard", "caramel", "compote", "meringue", "syrup", "sauce", "coating", "dressing",
    "filling",
];
/// What else a step may say that it makes.
const MADE: [&str; 34] = [
    "base",
    "batter",
    "bread",
    "brioche",
    "bun",
    "buttercream",
    "cake",
    "case",
    "choux",
    "cookie",
    "cream",
    "crumb",
    "crust",
    "curd",
    "dough",
    "dumpling",
    "frangipane",
    "jam",
    "jelly",
    "loaf",
    "muffin",
    "mousse",
    "paste",
    "pastry",
    "pie",
    "praline",
    "pudding",
    "roll",
    "roux",
    "scone",
    "shortbread",
    "sponge",
    "tart",
    "biscuit",
];

/// A sentence of the method.
struct Said {
    step: usize,
    words: Vec<String>,
    /// It bakes, lets rise or rolls out.
    ends: bool,
    /// What it says that it makes: 'for the sponge, beat …', 'make the streusel: …'.
    makes: Option<String>,
}

impl Said {
    fn has(&self, list: &[&str]) -> bool {
        self.words.iter().any(|w| list.contains(&w.as_str()))
    }

    /// Whether nothing more goes into what was made: it is in its tin, rises or is rolled out.
    fn ends_it(&self) -> bool {
        // 'Put the sugar and water in a pan and heat.'
        let stove = self.has(&["boil", "heat", "melt", "saucepan", "simmer"]);
        let is = |n: &usize, list: &[&str]| list.contains(&self.words[*n].as_str());
        let mut puts = (0..self.words.len()).filter(|n| is(n, &PUTS));
        let behind = |from: usize| (from..self.words.len()).take(8).any(|n| is(&n, &TINS));
        // 'Pour over the base', 'spread the curd on the cake'.
        let over = |n: &usize| is(n, &["on", "onto", "over"]);
        let made = |n: usize| {
            let noun = (n..self.words.len()).take(4);
            noun.into_iter()
                .any(|w| MADE.contains(&singular(&self.words[w])))
        };
        let covers = |from: usize| (from..self.words.len()).take(8).filter(over).any(made);
        self.ends || !stove && puts.any(|n| behind(n) || covers(n))
    }
}

/// A part without a heading.
#[derive(Debug, Clone, PartialEq)]
pub struct Apart {
    /// The number of its first line in the text, from 1; 0 where that is no text.
    pub line: usize,
    /// What it may be called.
    pub name: String,
    /// The words of its first and of its last line.
    pub lines: (String, String),
}

/// Asks of the first part that the method makes as several whether they are parts of their own.
///
/// # Arguments
/// * `owners` — the part that each step is about.
pub(in crate::read) fn doubt(recipe: &Recipe, owners: &[usize]) -> Option<Doubt> {
    let all = of_steps(recipe, owners);
    let told = |a: &Apart| format!("'For the {}' above '{}'", a.name, a.lines.0);
    let told: Vec<String> = all.iter().map(told).collect();
    let (last, before) = told.split_last()?;
    let told = if before.is_empty() {
        last.clone()
    } else {
        format!("{} and {last}", before.join(", "))
    };
    let one = |a: &Apart| a.lines.0 == a.lines.1;
    let lines = |a: &Apart| match one(a) {
        true => format!("'{}'", a.lines.0),
        false => format!("'{}' to '{}'", a.lines.0, a.lines.1),
    };
    let made: Vec<String> = all.iter().map(lines).collect();
    let (themselves, are, it) = match &all[..] {
        [a] if one(a) => ("by itself", "is it a part of its own", "above it"),
        [_] => ("by themselves", "are they parts of their own", "above them"),
        _ => (
            "each by themselves",
            "are they parts of their own",
            "above them",
        ),
    };
    let message = format!(
        "the method makes {} {themselves}: {are}? Then a heading belongs {it} in the text, {told}; without it all counts as one dough",
        made.join("; ")
    );
    let mut doubt = Doubt::new(DoubtCode::PartByMethod, message);
    doubt.meant = all.into_iter().map(|a| a.name).collect();
    Some(doubt)
}

/// The parts that no heading names, of the first component that has some, in the order of its lines.
#[must_use]
pub fn apart(recipe: &Recipe) -> Vec<Apart> {
    of_steps(recipe, &crate::rework::owners(recipe))
}

fn of_steps(recipe: &Recipe, owners: &[usize]) -> Vec<Apart> {
    let of = |(c, part): (usize, &Component)| {
        let steps = recipe.steps.iter().enumerate();
        let said = steps
            .filter(|(s, _)| owners[*s] == c)
            .flat_map(|(s, step)| said(s, step));
        let found = parts(part, &said.collect::<Vec<_>>(), recipe.title.as_deref());
        (!found.is_empty()).then_some(found)
    };
    let mut each = recipe.components.iter().enumerate();
    each.find_map(of).unwrap_or_default()
}

fn said(at: usize, step: &Step) -> Vec<Said> {
    let ends = [Activity::Bake, Activity::Rise, Activity::Roll];
    let of = |r: Range<usize>| Said {
        step: at,
        words: words(&step.text[r.clone()]),
        ends: step
            .facts
            .iter()
            .any(|f| r.contains(&f.span.start) && ends.iter().any(|a| f.does(*a))),
        makes: makes(&step.text[r]),
    };
    sentences(&step.text).into_iter().map(of).collect()
}

/// What a sentence says at its head that it makes.
pub(super) fn makes(sentence: &str) -> Option<String> {
    let lower = sentence.to_lowercase();
    let rest = lower.trim_start_matches(|c: char| !c.is_alphabetic());
    let rest = ["meanwhile, ", "meanwhile ", "next, ", "then ", "now "]
        .iter()
        .find_map(|w| rest.strip_prefix(w))
        .unwrap_or(rest);
    let rest = rest.strip_prefix("to ").unwrap_or(rest);
    let opens = [
        "for the ",
        "make the ",
        "make a ",
        "prepare the ",
        "for your ",
        "make your ",
    ];
    let rest = opens.iter().find_map(|w| rest.strip_prefix(w))?;
    let end = rest.find([',', ':', ';', '.', '(']).unwrap_or(rest.len());
    // 'Make the filling by beating …', 'make the icing in a bowl'.
    let by = |w: &&str| !matches!(*w, "by" | "in" | "with" | "while" | "and");
    let named: Vec<&str> = rest[..end].split_whitespace().take_while(by).collect();
    let last = singular(named.last().filter(|_| named.len() <= 3)?);
    let is = CALLED.contains(&last) || MADE.contains(&last);
    is.then(|| named.join(" "))
}

/// What the sentences make: one thing, of the lines that are first named in them.
struct Group {
    name: Option<String>,
    from: usize,
    /// The group whose lines these are where they are no part of their own.
    before: usize,
    lines: Vec<usize>,
}

/// A part's lines beside what the method says of them.
struct Seen<'a> {
    /// The lines that go into the formula or on the bake.
    lines: Vec<&'a Line>,
    said: &'a [Said],
    /// By line, the sentence that first names it.
    first: Vec<Option<usize>>,
}

fn parts(part: &Component, said: &[Said], title: Option<&str>) -> Vec<Apart> {
    let seen = Seen::of(part, said);
    let groups = groups(&seen.first, said, &words(&part.name));
    let of = seen.grouped(&groups);
    let runs = runs(&of);
    // Lines of one part stand together, and a recipe of one part needs no heading.
    let once = |g: usize| runs.iter().filter(|r| of[r.start] == g).count() == 1;
    if runs.len() < 2 || !runs.iter().all(|r| once(of[r.start])) {
        return Vec::new();
    }
    let words = |n: usize| seen.lines[n].clean.trim().to_owned();
    let headed = |r: &&Range<usize>| r.start > 0 || groups[of[0]].name.is_some();
    let apart = |r: &Range<usize>| Apart {
        line: seen.lines[r.start].number,
        name: seen.called(r, &groups[of[r.start]], title),
        lines: (words(r.start), words(r.end - 1)),
    };
    runs.iter().filter(headed).map(apart).collect()
}

impl<'a> Seen<'a> {
    fn of(part: &'a Component, said: &'a [Said]) -> Self {
        let goes_in = |p: Purpose| matches!(p, Purpose::Formula | Purpose::Finishing);
        let counts = |l: &&Line| {
            l.kind == LineKind::Ingredient && l.items.iter().any(|i| goes_in(i.purpose))
        };
        let lines: Vec<&Line> = part.lines.iter().filter(counts).collect();
        let first = first_uses(&lines, said);
        Self { lines, said, first }
    }

    /// The group of each line. One that is never named goes with the one before it; what is too little, or goes to
    /// what was made before, is no group of its own.
    fn grouped(&self, groups: &[Group]) -> Vec<usize> {
        let own = |n: usize| groups.iter().position(|g| g.lines.contains(&n));
        let mut last = (0..self.lines.len()).find_map(own).unwrap_or(0);
        let mut of: Vec<usize> = Vec::new();
        for n in 0..self.lines.len() {
            last = own(n).unwrap_or(last);
            of.push(last);
        }
        for (g, group) in groups.iter().enumerate().skip(1).rev() {
            if !self.stands_apart(&of, g, group) {
                of.iter_mut()
                    .filter(|o| **o == g)
                    .for_each(|o| *o = group.before);
            }
        }
        of
    }

    fn stands_apart(&self, of: &[usize], g: usize, group: &Group) -> bool {
        let mine: Vec<usize> = (0..of.len()).filter(|n| of[*n] == g).collect();
        let goes_on = |i: &Item| i.purpose == Purpose::Finishing;
        let finishes = |n: &usize| self.lines[*n].items.iter().all(goes_on);
        if mine.iter().all(finishes) {
            return false;
        }
        if self.fills(&mine) {
            return true;
        }
        if mine.len() < LEAST {
            return false;
        }
        if group.name.is_some() {
            return true;
        }
        let within = self.stretch(&mine);
        let makes = |at: usize| {
            // 'In a bowl, mix the sugar and flour. Cut in the butter.'
            let here = |n: &&usize| self.first[**n].is_some_and(|f| f == at || f == at + 1);
            let makes = self.said[at].has(&MAKES) || self.said[at].has(&STREWS);
            makes && mine.iter().filter(here).count() >= LEAST
        };
        let (late, early): (Vec<usize>, Vec<usize>) = (0..of.len()).partition(|n| of[*n] >= g);
        within.clone().any(makes)
            && !joined(&self.said[within], &self.words(&early), &self.words(&late))
    }

    /// Whether one line is all that something is filled with: 'fill with jam'. Pots are filled with water and oil.
    fn fills(&self, lines: &[usize]) -> bool {
        let [line] = lines else { return false };
        let Some(said) = self.first[*line].map(|at| &self.said[at].words) else {
            return false;
        };
        let own = line_words(self.lines[*line]);
        let pots = own.iter().any(|w| matches!(w.as_str(), "water" | "oil"));
        let fill = said
            .iter()
            .position(|w| matches!(w.as_str(), "fill" | "filled"));
        let with = fill.and_then(|at| Some(at + said[at..].iter().position(|w| w == "with")?));
        let named = |at: usize| said[at..].iter().skip(1).take(4).any(|w| own.contains(w));
        !pots && with.is_some_and(named)
    }

    /// What a run of lines may be called.
    fn called(&self, run: &Range<usize>, group: &Group, title: Option<&str>) -> String {
        if let Some(name) = &group.name {
            return name.clone();
        }
        if group.from == 0 {
            return title.and_then(head).unwrap_or_else(|| "base".to_owned());
        }
        let lines: Vec<usize> = run.clone().collect();
        let (foods, within) = (self.words(&lines), self.stretch(&lines));
        let pressed = self.said[..within.start].iter().any(|s| s.has(&["press"]));
        // What names itself is another part.
        let near: Vec<&Said> = self.said[within]
            .iter()
            .filter(|s| s.makes.is_none())
            .collect();
        // 'Dip in the icing' is no icing sugar.
        let named = |s: &Said, c: &str| {
            let sugar = |n: usize| s.words.get(n + 1).is_some_and(|w| w == "sugar");
            (0..s.words.len()).any(|n| s.words[n] == c && !sugar(n))
        };
        let says = |c: &&str| {
            let food = *c != "icing" && foods.iter().any(|w| w == c);
            !food && near.iter().any(|s| named(s, c))
        };
        let has = |list: &[&str]| near.iter().any(|s| s.has(list));
        let called = CALLED.into_iter().find(says).unwrap_or_else(|| {
            if self.fills(&lines) {
                "filling"
            } else if has(&["dip", "toss", "roll"]) {
                "coating"
            } else if has(&STREWS) {
                "topping"
            } else if pressed || has(&["fill", "filled", "plait", "sandwich", "spread", "wrap"]) {
                "filling"
            } else {
                "second part"
            }
        });
        called.to_owned()
    }

    /// The sentences in which lines are first named, and the one behind them.
    fn stretch(&self, lines: &[usize]) -> Range<usize> {
        let uses = || lines.iter().filter_map(|n| self.first[*n]);
        let from = uses().min().unwrap_or(0);
        from..uses()
            .max()
            .map_or(from, |to| (to + 2).min(self.said.len()))
    }

    fn words(&self, lines: &[usize]) -> Vec<String> {
        lines
            .iter()
            .flat_map(|n| line_words(self.lines[*n]))
            .collect()
    }
}

/// The last word of a title up to 'with' and the like, in small letters.
fn head(title: &str) -> Option<String> {
    let lower = title.to_lowercase();
    let up_to = [" with ", " and ", ", ", " in ", " on "];
    let end = up_to.iter().filter_map(|w| lower.find(w)).min();
    let last = lower[..end.unwrap_or(lower.len())]
        .split_whitespace()
        .last()?;
    let plain = last.chars().all(char::is_alphabetic);
    (plain && !last.is_empty()).then(|| last.to_owned())
}

/// What the method makes, in its order: what it begins with, then what a step says that it makes, or what is made
/// when the one before is done; what is called as the part's own heading is the part.
fn groups(first: &[Option<usize>], said: &[Said], heading: &[String]) -> Vec<Group> {
    let group = |name: Option<String>, from: usize, before: usize| Group {
        name,
        from,
        before,
        lines: Vec::new(),
    };
    let mut out = vec![group(None, 0, 0)];
    // Where unmarked sentences go, and the step and the group of the last mark.
    let (mut open, mut marked): (usize, Option<(usize, usize)>) = (0, None);
    for (at, s) in said.iter().enumerate() {
        marked = marked.filter(|(step, _)| *step == s.step);
        let head = |name: &String| words(name).pop().unwrap_or_default();
        if let Some(name) = s.makes.as_ref().filter(|n| !heading.contains(&head(n))) {
            let new = out.len();
            out.push(group(Some(name.clone()), at, new - 1));
            marked = Some((s.step, new));
            // 'Make the dough. …' begins what the steps behind it go on with, a streusel does not.
            if out[open].lines.is_empty() && !CALLED.contains(&head(name).as_str()) {
                open = new;
            }
        }
        let new: Vec<usize> = (0..first.len()).filter(|n| first[*n] == Some(at)).collect();
        if marked.is_none() && is_behind_another(&out, open, &new) {
            out.push(group(None, at, open));
            open = out.len() - 1;
        }
        let here = marked.map_or(open, |m| m.1);
        out[here].lines.extend(new);
        if s.ends_it() && out[here].lines.len() >= LEAST && (marked.is_none() || here == open) {
            open = out.len();
            out.push(group(None, at + 1, open - 1));
        }
    }
    out
}

/// Whether lines stand behind those of a part that the method names, and the open group's all before them: what
/// began before it does not go on behind it.
fn is_behind_another(groups: &[Group], open: usize, lines: &[usize]) -> bool {
    let (Some(from), Some(last)) = (lines.iter().min(), groups[open].lines.iter().max()) else {
        return false;
    };
    let between = |g: &Group| {
        let lines = &g.lines;
        g.name.is_some() && !lines.is_empty() && lines.iter().all(|n| last < n && n < from)
    };
    groups.iter().any(between)
}

/// Stretches of lines of one group.
fn runs(of: &[usize]) -> Vec<Range<usize>> {
    let mut out: Vec<Range<usize>> = Vec::new();
    for n in 0..of.len() {
        match out.last_mut() {
            Some(run) if of[run.start] == of[n] => run.end = n + 1,
            _ => out.push(n..n + 1),
        }
    }
    out
}

/// Whether sentences bring what they make to what was made before.
fn joined(within: &[Said], early: &[String], late: &[String]) -> bool {
    within.iter().any(|s| {
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
    })
}

/// The words of a line by which the method may call it.
pub(super) fn line_words(line: &Line) -> Vec<String> {
    let names = line.items.iter().map(|i| {
        let found = i.food.as_ref().map(|m| &m.span);
        line.words(found.unwrap_or(&i.name))
    });
    // 'Leave until cold' names no cold water.
    let says = |w: &String| w.len() > 2 && !WARMTHS.contains(&w.as_str());
    names.flat_map(words).filter(says).collect()
}

/// How warm a food is, which may be said of any other.
const WARMTHS: [&str; 8] = [
    "boiling", "cold", "cool", "hot", "iced", "lukewarm", "tepid", "warm",
];

/// The words of a line's amount: '225g', '1', '4', 'cup'.
fn amount_words(line: &Line) -> Vec<String> {
    let start = line.items.first().map_or(0, |i| i.name.start);
    let before = line.clean.get(..start).unwrap_or_default();
    words(before.split('(').next().unwrap_or_default())
}

/// The sentence that first names each of the counted lines. Of two that are called by one word it is the one whose
/// amount stands before it ('the 225g butter'), the one of its full name, else the next that no sentence has named.
fn first_uses(lines: &[&Line], said: &[Said]) -> Vec<Option<usize>> {
    let all = |of: fn(&Line) -> Vec<String>| -> Vec<Vec<String>> {
        lines.iter().map(|l| of(l)).collect()
    };
    let (names, amounts) = (all(line_words), all(amount_words));
    let full_words = all(|l| words(&l.clean));
    let mut first: Vec<Option<usize>> = vec![None; lines.len()];
    // 'Grease the tin and dust with flour.'
    let readies = |s: &Said| {
        let verb = s.words.first().map_or("", String::as_str);
        matches!(
            verb,
            "butter" | "dust" | "flour" | "grease" | "line" | "oil" | "preheat"
        )
    };
    for (at, s) in said.iter().enumerate().filter(|(_, s)| !readies(s)) {
        // 'The flour mixture' names no new flour.
        let mixed = |n: usize| {
            matches!(
                s.words.get(n + 1).map(String::as_str),
                Some("mixture" | "mix")
            )
        };
        // '25 g of the butter' leaves the rest for where the line belongs; 'the rest of the butter' is that.
        let part = |n: usize| {
            let said = |back: usize| n.checked_sub(back).map_or("", |b| s.words[b].as_str());
            let half = |w: &str| matches!(w, "half" | "third" | "quarter");
            let left = |w: &str| matches!(w, "rest" | "remainder" | "most" | "all");
            said(1) == "the" && (half(said(2)) || said(2) == "of" && !left(said(3)))
        };
        let whole = |n: usize| !mixed(n) && !part(n);
        for (n, word) in s.words.iter().enumerate().filter(|(n, _)| whole(*n)) {
            let all: Vec<usize> = (0..names.len())
                .filter(|l| names[*l].contains(word))
                .collect();
            let before = n.checked_sub(1).map(|b| &s.words[b]);
            // 'The cold butter', 'the brown sugar'.
            let full = |l: &usize| {
                before.is_some_and(|b| full_words[*l].contains(b) && !amounts[*l].contains(b))
            };
            let said = |l: &usize| !amounts[*l].is_empty() && s.words[..n].ends_with(&amounts[*l]);
            // '1/2 cup' ends in '2 cup'.
            let amount = all.iter().copied().filter(said);
            let amount = amount.max_by_key(|l| amounts[*l].len());
            let is = |f: &dyn Fn(&usize) -> bool| all.iter().copied().find(|l| f(l));
            let taken = amount
                .or_else(|| is(&full))
                .or_else(|| is(&|l| first[*l].is_none()));
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

    /// The lines that the asked parts begin with, and what they would be called.
    fn asked(lines: &str, method: &str) -> Vec<(String, String)> {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = Reader::new(&larder, Locale::Uk);
        let text = format!("Trial\n\n{lines}\n\nMethod\n{method}\n");
        let recipe = crate::read::recipe(&text, &reader).expect("reads");
        let found = super::apart(&recipe);
        let mut doubts = recipe.doubts.iter();
        let told = doubts.any(|d| d.code == DoubtCode::PartByMethod);
        assert_eq!(told, !found.is_empty());
        found.into_iter().map(|a| (a.lines.0, a.name)).collect()
    }

    const CAKE: &str = "150 g butter\n150 g caster sugar\n3 eggs\n150 g self-raising flour";
    const MIX: &str =
        "1. Beat the butter and sugar, then the eggs, fold in the flour. Spoon into a 20 cm tin.";

    #[test]
    fn a_stew_that_gets_cold_has_not_had_the_cold_water_of_its_crust() {
        let lines = "500 g braising steak\n1 onion\n150 ml beef stock\n300 g self-raising flour\n150 g suet\n200 ml cold water";
        let method = "1. Brown the steak and the onion, add the stock and simmer for 2 hours. Leave until quite cold.\n2. For the crust, stir the flour and suet and bring together with the water. Line a basin with it, spoon in the cold filling and steam for 2 hours.";
        let crust =
            |(line, name): &(String, String)| line == "300 g self-raising flour" && name == "crust";
        let found = asked(lines, method);
        assert!(found.iter().any(crust), "{found:?}");
    }

    #[test]
    fn what_is_made_when_the_first_is_in_its_tin_is_asked_about() {
        let top = "75 g plain flour\n50 g demerara sugar\n40 g butter";
        let method = format!(
            "{MIX}\n2. Rub the butter into the plain flour, stir in the demerara sugar. Scatter this topping over.\n3. Bake at 180 C for 40 minutes."
        );
        let is = |line: &str, name: &str| vec![(line.to_owned(), name.to_owned())];
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
    fn what_steps_say_they_make_is_told_apart() {
        let lines = "1/2 cup plain flour\n60 g brown sugar\n50 g cold butter\n2 cups plain flour\n2 tsp baking powder\n110 g butter, melted\n200 g granulated sugar\n2 eggs\n150 g icing sugar\n2 tbsp lemon juice";
        let method = "1. Make the streusel: stir together 1/2 cup flour and the brown sugar, rub in the cold butter.\n2. Make the muffins: whisk the 2 cups flour and baking powder. Whisk the melted butter, granulated sugar and eggs, fold into the dry.\n3. Divide among the cases, top with the streusel and bake at 190 C for 20 minutes. Cool.\n4. Make the glaze: whisk the icing sugar with the lemon juice. Drizzle over.";
        let is = |all: &[(&str, &str)]| -> Vec<(String, String)> {
            let owned = all.iter().map(|(l, n)| ((*l).to_owned(), (*n).to_owned()));
            owned.collect()
        };
        let parts = [
            ("1/2 cup plain flour", "streusel"),
            ("2 cups plain flour", "muffins"),
            ("150 g icing sugar", "glaze"),
        ];
        assert_eq!(asked(lines, method), is(&parts));
        // The pastry of a pie, behind the filling that the list begins with.
        let lines = "500 g stewing beef\n2 tbsp plain flour\n2 onions, chopped\n300 ml stock\n250 g plain flour\n125 g cold butter\n4 tbsp cold water";
        let method = "1. Toss the beef in the flour, brown it with the onions, add the stock and simmer for 2 hours.\n2. For the pastry, rub the butter into 250 g flour and add the water.\n3. Roll out and cover the pie. Bake at 200 C for 35 minutes.";
        assert_eq!(asked(lines, method), is(&[("250 g plain flour", "pastry")]));
        // What says nothing of what it makes, behind a part that does and has gone on the base.
        let lines = "225 g plain flour\n75 g caster sugar\n150 g cold butter\n400 g gooseberries\n120 g granulated sugar\n2 eggs\n40 g butter\n80 g rolled oats\n60 g demerara sugar\n50 g plain flour\n45 g butter, melted";
        let curd = "2. For the curd, simmer the gooseberries with the granulated sugar, then whisk in the eggs and butter over a low heat.";
        let oats = "3. Mix the oats, demerara sugar and plain flour, stir in the melted butter and scatter over. Bake for 25 minutes.";
        let parts = [
            ("400 g gooseberries", "curd"),
            ("80 g rolled oats", "topping"),
        ];
        let base = "1. Rub the cold butter into the flour and caster sugar,";
        let method = format!(
            "{base} press into a lined tin. Bake for 15 minutes.\n{curd} Pour over the base.\n{oats}"
        );
        assert_eq!(asked(lines, &method), is(&parts));
        // The same where no step says that the base is done.
        let method = format!("{base} chill.\n{curd}\n{oats}");
        assert_eq!(asked(lines, &method), is(&parts));
        // Fruit that is roasted and nuts that are strewn over are parts as well.
        let lines = "250 g plain flour\n90 g icing sugar\n200 g cold butter\n500 g rhubarb\n80 g caster sugar\n600 ml milk\n4 egg yolks\n100 g caster sugar\n40 g cornflour\n30 g flaked almonds\n1 tbsp demerara sugar";
        let method = "1. Blitz the flour, icing sugar and butter and press into a 20 x 30 cm tin. Bake for 20 minutes.\n2. Roast the rhubarb with the caster sugar for 15 minutes.\n3. For the custard, heat the milk. Whisk the yolks, sugar and cornflour, pour on the milk and cook until thick. Spread over the base.\n4. Scatter over the almonds and demerara and bake for 25 minutes more.";
        let parts = [
            ("500 g rhubarb", "filling"),
            ("600 ml milk", "custard"),
            ("30 g flaked almonds", "topping"),
        ];
        assert_eq!(asked(lines, method), is(&parts));
        // A filling and an icing, each made when the one before is done.
        let lines = "500 g strong flour\n7 g yeast\n75 g butter\n225 ml warm milk\n300 g mincemeat\n2 apples, grated\n100 g icing sugar\n1 tbsp lemon juice";
        let method = "1. Mix the flour, yeast, butter and milk, knead. Leave to rise for 2 hours.\n2. Roll out. Mix the mincemeat with the apples, spread down the middle and plait.\n3. Bake at 190 C for 30 minutes.\n4. Mix the icing sugar with the lemon juice and drizzle over.";
        let found: Vec<String> = asked(lines, method).into_iter().map(|a| a.0).collect();
        assert_eq!(found, ["300 g mincemeat"], "the icing is to finish");
    }

    /// What something is filled with is none of its dough, be it one line; water in a pot and what is kneaded in are.
    #[test]
    fn one_line_that_fills_is_a_part() {
        let lines = "200 g plain flour\n100 g butter\n3 tbsp water\n12 tsp jam";
        let rub = "1. Rub the butter into the flour, add the water and roll out. Cut 12 rounds,";
        for (method, want) in [
            (" line a bun tin and fill with jam.", true),
            (
                " line a bun tin. Each is filled with a teaspoon of jam.",
                true,
            ),
            (" fill a pan with water and boil them.", false),
            (" brush with water and stack.", false),
        ] {
            let found = asked(
                lines,
                &format!("{rub}{method}\n2. Bake at 200 C for 15 minutes."),
            );
            let want = want.then(|| ("12 tsp jam".to_owned(), "filling".to_owned()));
            assert_eq!(found, Vec::from_iter(want), "{method}");
        }
    }

    #[test]
    fn one_dough_is_one_part() {
        // Wet into dry.
        let wet = "1. Mix the flour and sugar in a bowl.\n2. In another bowl, whisk the eggs and butter. Stir into the flour mixture.\n3. Pour into a tin and bake at 180 C for 40 minutes.";
        assert_eq!(asked(CAKE, wet), Vec::new());
        // Off the stove and into the rest.
        let melted = "1. Melt the butter and sugar in a pan.\n2. Whisk the eggs and flour, pour in the butter.\n3. Pour into a tin and bake at 180 C for 40 minutes.";
        assert_eq!(asked(CAKE, melted), Vec::new());
        let pie = "2 tbsp olive oil\n1 onion, chopped\n800 g spinach\n200 g feta\n100 g ricotta\n3 eggs\n100 g plain flour";
        let mixed = "1. Heat the oil in a pan and soften the onion. Wilt the spinach in the pan, tip into a colander.\n2. Mix the spinach with the feta, ricotta, eggs and flour.\n3. Pour into a dish. Bake at 180 C for 40 minutes.";
        assert_eq!(asked(pie, mixed), Vec::new());
        // A dough that is made in two steps.
        let dough = "1. Make the dough: mix the flour, sugar and eggs.\n2. Add the butter and knead. Put in a tin and bake at 180 C for 40 minutes.";
        assert_eq!(asked(CAKE, dough), Vec::new());
        // A heading says it.
        let two = "150 g butter\n150 g caster sugar\n3 eggs\n150 g self-raising flour\n\nFor the sauce\n200 ml double cream\n100 g golden syrup";
        let method = format!(
            "{MIX} Bake at 180 C for 40 minutes.\n2. Meanwhile simmer the cream and syrup."
        );
        assert_eq!(asked(two, &method), Vec::new());
    }
}
