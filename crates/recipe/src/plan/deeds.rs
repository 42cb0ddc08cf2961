//! What hands do in a task, clause by clause with every food: the method in note form.
//!
//! The plan's names are short. Where its words stand for a method, no clause and no food of the step may be
//! lost: each is the verb that begins a clause, and the lines of the list that the clause names, as the rework
//! has them.

use super::deed::begin_clauses;
use super::step::capital;
use super::task::Task;
use super::tasks::Tasks;
use crate::aside::taking;
use crate::recipe::{Activity, FactKind, Step};
use crate::rework::{Kept, Rework, ReworkedLine};
use crate::sentences::{sentence, words};
use std::collections::BTreeSet;
use std::ops::Range;

/// What is done in a kitchen, by the verb that begins its clause. Kneading is not among them: the rework has
/// its own work for it, which the task's name says.
const VERBS: [&str; 119] = [
    "add",
    "arrange",
    "assemble",
    "baste",
    "beat",
    "bind",
    "blend",
    "boil",
    "braid",
    "bring",
    "brown",
    "brush",
    "bubble",
    "chop",
    "coat",
    "combine",
    "cook",
    "core",
    "cover",
    "cream",
    "crimp",
    "crumble",
    "crush",
    "cut",
    "decorate",
    "dip",
    "dissolve",
    "divide",
    "dock",
    "dot",
    "drain",
    "dredge",
    "drizzle",
    "drop",
    "dust",
    "fill",
    "flatten",
    "flip",
    "fold",
    "frost",
    "fry",
    "glaze",
    "grate",
    "grease",
    "grill",
    "grind",
    "halve",
    "heat",
    "ice",
    "incorporate",
    "invert",
    "knot",
    "ladle",
    "lay",
    "layer",
    "lift",
    "line",
    "lock",
    "mash",
    "melt",
    "mix",
    "pat",
    "peel",
    "pinch",
    "pipe",
    "place",
    "plait",
    "poach",
    "pour",
    "press",
    "prick",
    "punch",
    "put",
    "quarter",
    "reduce",
    "remove",
    "return",
    "roll",
    "rub",
    "sandwich",
    "scald",
    "scatter",
    "score",
    "seal",
    "season",
    "serve",
    "set",
    "shape",
    "sift",
    "simmer",
    "slash",
    "slice",
    "smear",
    "smooth",
    "snip",
    "soak",
    "soften",
    "spoon",
    "spread",
    "sprinkle",
    "squeeze",
    "stamp",
    "stir",
    "strain",
    "stuff",
    "tie",
    "tip",
    "toast",
    "top",
    "toss",
    "trim",
    "tuck",
    "turn",
    "twist",
    "unmould",
    "unroll",
    "warm",
    "whisk",
    "wrap",
];

/// Those that are as often a thing: work behind a comma or 'and' only with what it is done to.
const THINGS: [&str; 12] = [
    "brown", "core", "cream", "drop", "glaze", "ice", "pinch", "set", "toast", "top", "quarter",
    "blend",
];

/// Work and waits that have words of their own: a clause ends where one begins.
const STOPS: [&str; 12] = [
    "allow",
    "bake",
    "chill",
    "cool",
    "freeze",
    "knead",
    "leave",
    "let",
    "prove",
    "refrigerate",
    "rest",
    "rise",
];

/// What may stand right behind a verb and belong to it.
const PARTICLES: [&str; 6] = ["in", "out", "off", "over", "together", "up"];

/// Verbs that say behind 'with' what is put on.
const WITH: [&str; 13] = [
    "brush", "coat", "cover", "dredge", "dust", "fill", "frost", "glaze", "line", "sandwich",
    "spread", "sprinkle", "top",
];

/// Foods whose last word alone names none, or another.
const NOT_ALONE: [&str; 10] = [
    "powder", "soda", "extract", "essence", "white", "yolk", "seed", "sauce", "cream", "syrup",
];

/// Words of a line that name no food of it.
const NO_FOOD: [&str; 32] = [
    "and",
    "black",
    "brewed",
    "brown",
    "caster",
    "cold",
    "dark",
    "dried",
    "fine",
    "for",
    "free",
    "fresh",
    "gluten",
    "golden",
    "granulated",
    "green",
    "ground",
    "hot",
    "labelled",
    "large",
    "light",
    "plain",
    "raw",
    "red",
    "self",
    "small",
    "strong",
    "weigh",
    "white",
    "whole",
    "with",
    "without",
];

/// What is done in a task, in notes.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Deeds {
    /// Before it, where it is a wait.
    pub first: Vec<String>,
    /// In place of its name, where it is work.
    pub name: Option<String>,
    /// When its wait is over.
    pub then: Vec<String>,
}

/// A verb that begins a clause, and what stands behind it up to the next.
struct Clause {
    at: usize,
    verb: String,
    foods: Vec<String>,
    /// Parts whose flour it takes.
    floured: Vec<usize>,
    time: Option<String>,
}

/// A line of the list, with the words that name it in a method.
struct Named<'a> {
    component: usize,
    line: &'a ReworkedLine,
    /// The original's words, and those of what it became.
    spoken: Vec<Vec<String>>,
    meat: bool,
    /// No other line and no part ends in its last word: that alone names it.
    only: bool,
}

fn lines(rework: &Rework) -> Vec<Named<'_>> {
    let mut out: Vec<Named<'_>> = Vec::new();
    for (component, c) in rework.components.iter().enumerate() {
        for line in c.lines.iter().filter(|l| l.kept != Kept::Dropped) {
            // Every flour of a part goes into its blend, whatever that is called.
            let mut spoken = if line.blend {
                vec![vec!["flour".to_owned()], vec!["blend".to_owned()]]
            } else {
                vec![words(&line.name)]
            };
            // '1 egg plus 1 yolk' are two lines of one item: its words are the first's.
            let another = |n: &Named<'_>| n.component == component && n.line.origin == line.origin;
            let first = line.origin.is_some() && !out.iter().any(another);
            if let Some((read, item)) = rework.source(component, line).filter(|_| first) {
                spoken.extend(read.text.get(item.name.clone()).map(words));
                let food = item.food.as_ref();
                spoken.extend(food.and_then(|m| read.text.get(m.span.clone())).map(words));
            }
            spoken.retain(|s| !s.is_empty());
            out.push(Named {
                component,
                line,
                spoken,
                meat: c.meat.contains(&line.name),
                only: false,
            });
        }
    }
    let ends = |n: &Named<'_>| -> BTreeSet<String> {
        let last = n.spoken.iter().filter_map(|s| s.last().cloned());
        last.collect()
    };
    let all: Vec<BTreeSet<String>> = out.iter().map(ends).collect();
    for (at, n) in out.iter_mut().enumerate() {
        let other = |w: &String| {
            let lines = all.iter().enumerate();
            let line = lines.filter(|(o, _)| *o != at).any(|(_, e)| e.contains(w));
            let part = |c: &crate::rework::ReworkedComponent| words(&c.name).last() == Some(w);
            line || rework.components.iter().any(part)
        };
        n.only = !all[at].iter().any(other);
    }
    out
}

impl Named<'_> {
    /// How many words in a row, up to one of a text, name it, whether they end its name ('beef' of 'stewing beef',
    /// not of 'beef stock') and whether they are all of it; 0 where they do not.
    fn run(&self, said: &[String], at: usize) -> (usize, bool, bool) {
        if self.meat && said[at] == "meat" {
            return (1, true, true);
        }
        let run = |name: &Vec<String>| {
            let end = name.iter().rposition(|w| *w == said[at])?;
            let mut n = 1;
            while n <= end && n <= at && name[end - n] == said[at - n] {
                n += 1;
            }
            let telling = !NO_FOOD.contains(&said[at].as_str()) && said[at].len() > 2;
            let alone = !self.only && n == 1 && end > 0 && NOT_ALONE.contains(&said[at].as_str());
            // A word inside a name says it only with the one before: 'cheese' of 'cream cheese' is its last.
            let inside = end + 1 < name.len() && n == 1 && end > 0;
            (telling && !alone && !inside).then_some((n, end + 1 == name.len(), n == name.len()))
        };
        let all = self.spoken.iter().filter_map(run);
        all.max().unwrap_or_default()
    }
}

/// The lines that words name, those of a part before others of the same name.
fn named<'a, 'b>(all: &'b [Named<'a>], said: &[String], of: usize) -> Vec<&'b Named<'a>> {
    let mut out: Vec<(usize, &Named<'_>)> = Vec::new();
    for at in 0..said.len() {
        let runs = all.iter().map(|n| (n.run(said, at), n));
        let best = runs
            .filter(|((run, ..), _)| *run > 0)
            .max_by_key(|((run, ends, whole), n)| (*run, *ends, n.component == of, *whole));
        let Some(((run, ..), best)) = best else {
            continue;
        };
        // 'Cream cheese' takes back what 'cream' had named.
        out.retain(|(end, _)| end + run <= at || *end == at);
        if out.iter().all(|(_, o)| !std::ptr::eq(*o, best)) {
            out.push((at, best));
        }
    }
    out.into_iter().map(|o| o.1).collect()
}

/// A line as notes call it: without what is said of buying it.
fn called(line: &ReworkedLine) -> String {
    let name = line.name.split(',').next().unwrap_or_default();
    name.trim_end_matches(" for sauces").to_owned()
}

/// The method in note form, from the tasks of the method that was read.
pub struct InNotes<'a> {
    tasks: &'a Tasks,
    rework: &'a Rework,
    lines: Vec<Named<'a>>,
    /// By component, the step and the place in it of the clause that first takes its flour.
    flour: Vec<Option<(usize, usize)>>,
}

impl<'a> InNotes<'a> {
    /// Of the tasks of a rework.
    #[must_use]
    pub fn of(tasks: &'a Tasks, rework: &'a Rework) -> Self {
        let lines = lines(rework);
        let parts = rework.components.len();
        let mut notes = Self {
            tasks,
            rework,
            lines,
            flour: vec![None; parts],
        };
        for task in tasks.as_noted() {
            let Some((step, range)) = notes.stretch(task) else {
                continue;
            };
            for clause in notes.clauses(step, range, task.component) {
                for c in clause.floured {
                    notes.flour[c].get_or_insert((step.number, clause.at));
                }
            }
        }
        notes
    }

    /// The step that a task is of and the bytes of it that are the task's; `None` for one of our own words.
    fn stretch(&self, task: &Task) -> Option<(&'a Step, Range<usize>)> {
        let ours = |t: &Task| matches!(t.what, "weigh" | "preheat" | "take_out" | "hydrate");
        let steps = &self.rework.formula.recipe.steps;
        let step = steps.iter().find(|s| Some(s.number) == task.step)?;
        if ours(task) || self.tasks.own_method {
            return None;
        }
        let done = || {
            self.tasks
                .done()
                .map(|(_, t)| t)
                .filter(|t| t.step == task.step && !ours(t))
        };
        // Of two that begin at one place the first has its words.
        let first = done().find(|t| t.at == task.at);
        if first.is_some_and(|t| t.key != task.key) {
            return None;
        }
        let mut starts: Vec<usize> = done().map(|t| t.at).collect();
        starts.sort_unstable();
        let first = starts.first() == Some(&task.at);
        let next = starts.into_iter().find(|s| *s > task.at);
        let from = if first { 0 } else { task.at };
        Some((step, from..next.unwrap_or(step.text.len()).max(from)))
    }

    /// What the rework adds to a part that is dry and goes in with its flour: what a task of its own takes does not.
    fn with_flour(&self, c: usize) -> Vec<String> {
        const WET: [&str; 8] = [
            "water", "milk", "vinegar", "juice", "egg", "oil", "butter", "yogurt",
        ];
        let own = |word: &String| {
            let gels = self.tasks.list.iter().filter(|t| t.what == "hydrate");
            gels.into_iter().any(|t| words(&t.name).contains(word))
        };
        let added = self.lines.iter().filter(|n| {
            let name = words(&n.line.name);
            let dry = !name.iter().any(|w| WET.contains(&w.as_str()) || own(w));
            n.component == c
                && n.line.kept == Kept::New
                && n.line.in_formula
                && !n.line.blend
                && dry
        });
        added.map(|n| called(n.line)).collect()
    }

    /// Foods of the list that no line of a method names, by their names; none where it takes 'everything else'.
    #[must_use]
    pub fn not_named(&self, method: &str) -> Vec<String> {
        const ALL: [&str; 4] = [
            "everything",
            "all the ingredients",
            "all ingredients",
            "dry ingredients",
        ];
        let lower = method.to_lowercase();
        let alone = |all: &str| lower.contains(all);
        let rest = words(method);
        let mut ends = lower
            .match_indices("the rest")
            .map(|(at, w)| &lower[at + w.len()..]);
        let takes_rest = ends.any(|e| !e.trim_start().starts_with("of "));
        if rest.is_empty() || takes_rest || ALL.into_iter().any(alone) {
            return Vec::new();
        }
        let named: BTreeSet<*const ReworkedLine> = method
            .lines()
            .filter(|l| !l.trim_end().ends_with(':'))
            .flat_map(|l| self.named_by(l))
            .collect();
        let listed = self.lines.iter().filter(|n| n.line.component.is_none());
        let missing = listed.filter(|n| !named.contains(&std::ptr::from_ref(n.line)));
        super::tasks::once(missing.map(|n| called(n.line)))
    }

    /// Lines that words name, of whatever part: with one name, all of them.
    fn named_by(&self, text: &str) -> Vec<*const ReworkedLine> {
        let parts = 0..self.rework.components.len();
        let said = words(&taking(text));
        let all = parts.flat_map(|c| named(&self.lines, &said, c));
        all.map(|n| std::ptr::from_ref(n.line)).collect()
    }

    /// What is done in a task.
    #[must_use]
    pub fn deeds(&self, task: &Task) -> Deeds {
        let own = |all: &[String]| -> Vec<String> { all.to_vec() };
        let plain = Deeds {
            first: own(&task.handwork.first),
            name: task.wait.is_none().then(|| task.in_full().to_owned()),
            then: own(&task.handwork.then),
        };
        // A mix that no step speaks of: what no other task takes.
        let bare = task.what == "mix" && task.name == "Mix" && !self.tasks.own_method;
        let Some((step, range)) = self.stretch(task) else {
            return if bare {
                self.unspoken_mix(task, plain)
            } else {
                plain
            };
        };
        let clauses = self.clauses(step, range, task.component);
        if task.wait.is_some() {
            let side = |before: bool, own: Vec<String>| -> Vec<String> {
                let here = clauses.iter().filter(|c| (c.at < task.at) == before);
                let said = here.filter(|c| !c.foods.is_empty() || own.contains(&c.verb));
                let said: Vec<String> = said.map(Clause::words).collect();
                if said.is_empty() { own } else { said }
            };
            return Deeds {
                first: side(true, plain.first),
                name: None,
                then: side(false, plain.then),
            };
        }
        if clauses.is_empty() {
            return plain;
        }
        let name = self.in_place(step, task, &clauses);
        Deeds {
            name: Some(name),
            ..Deeds::default()
        }
    }

    /// A mix that no step has: with what no step takes, and nothing where that is nothing.
    fn unspoken_mix(&self, task: &Task, plain: Deeds) -> Deeds {
        let steps = &self.rework.formula.recipe.steps;
        let taken: BTreeSet<*const ReworkedLine> =
            steps.iter().flat_map(|s| self.named_by(&s.text)).collect();
        let mine = || self.lines.iter().filter(|n| n.component == task.component);
        let left: Vec<String> = mine()
            .filter(|n| !taken.contains(&std::ptr::from_ref(n.line)))
            .map(|n| called(n.line))
            .collect();
        let name = match left.len() {
            0 if mine().count() > 0 => None,
            0 => plain.name,
            _ => Some(format!("{} {}", task.name, quantity::listed(&left))),
        };
        Deeds { name, ..plain }
    }

    /// The clauses in place of the parts of a task's name that say them; what the name has of the rework stands where
    /// the kneading stood.
    fn in_place(&self, step: &Step, task: &Task, clauses: &[Clause]) -> String {
        let (from, to) = (clauses[0].at, clauses.last().map_or(0, |c| c.at + 1));
        let first_word = |name: &str| words(name).into_iter().next().unwrap_or_default();
        let mut kneads = step
            .facts
            .iter()
            .filter(|f| f.does(Activity::Knead))
            .map(|f| f.span.start);
        let mut out: Vec<(usize, String)> = clauses.iter().map(|c| (c.at, c.words())).collect();
        let place = |verb: &str| {
            let doing = step.facts.iter().find(|f| {
                let is = match f.kind {
                    FactKind::Doing(a) | FactKind::Duration { doing: Some(a), .. } => {
                        first_word(a.word()) == verb
                    }
                    _ => false,
                };
                is && (from..to).contains(&f.span.start)
            });
            doing.is_some() || clauses.iter().any(|c| c.verb == verb)
        };
        let mut seen: Vec<String> = Vec::new();
        for part in task.name.split(", ") {
            let verb = first_word(part);
            let said = place(&verb) && !seen.contains(&verb);
            seen.push(verb);
            let foods = named(&self.lines, &words(part), task.component);
            let covered = !foods.is_empty()
                && foods.iter().all(|n| {
                    let name = called(n.line);
                    clauses.iter().any(|c| c.foods.contains(&name))
                });
            if said || covered {
                continue;
            }
            if let Some(at) = kneads.next() {
                out.push((at, lower(part)));
            }
        }
        out.sort_by_key(|o| o.0);
        let all: Vec<String> = out.into_iter().map(|o| o.1).collect();
        capital(&all.join("; "))
    }

    /// The clauses of a stretch of a step that hands do.
    fn clauses(&self, step: &Step, range: Range<usize>, of: usize) -> Vec<Clause> {
        let text = &step.text;
        let mut found = begin_clauses(text, &VERBS, &THINGS);
        let stops = begin_clauses(text, &STOPS, &[]);
        // 'Let it bubble for 2 minutes'.
        found.extend(stops.iter().filter(|s| s.1 == "let").filter_map(|(at, _)| {
            let behind = text[at + 3..].trim_start();
            let behind = ["it ", "them "]
                .iter()
                .find_map(|p| behind.strip_prefix(p))?;
            let verb = [
                "bubble", "simmer", "boil", "reduce", "soften", "brown", "melt",
            ]
            .into_iter()
            .find(|v| behind.starts_with(v))?;
            let at = behind.as_ptr() as usize - text.as_ptr() as usize;
            Some((at, verb.to_owned()))
        }));
        found.sort_unstable();
        let all = || found.iter().chain(&stops).map(|f| f.0);
        let ends: Vec<usize> = found
            .iter()
            .map(|f| all().filter(|e| *e > f.0).min().unwrap_or(text.len()))
            .collect();
        let noted = self.rework.components.iter().flat_map(|c| &c.method_notes);
        let dusts = noted
            .filter(|n| n.step == Some(step.number))
            .any(|n| n.rule == "no bench flour");
        let mut out: Vec<Clause> = Vec::new();
        for (n, (at, verb)) in found.into_iter().enumerate() {
            if !range.contains(&at) {
                continue;
            }
            let whole = sentence(text, at);
            let stop = whole.as_ptr() as usize - text.as_ptr() as usize + whole.len();
            let end = ends[n].min(stop).max(at + verb.len());
            let behind = text.get(at + verb.len()..end).unwrap_or_default();
            let mut said = words(&taking(behind));
            // The oven is heated by itself; 'set aside' is nothing done.
            let oven = said
                .iter()
                .any(|w| matches!(w.as_str(), "oven" | "broiler"));
            let heats = matches!(
                verb.as_str(),
                "heat" | "turn" | "reduce" | "warm" | "set" | "cook" | "put" | "return"
            );
            if oven && heats || verb == "set" && said.first().is_some_and(|w| w == "aside") {
                continue;
            }
            let bench = ["counter", "surface", "board", "bench", "worktop", "table"];
            if dusts && verb == "dust" && said.iter().any(|w| bench.contains(&w.as_str())) {
                out.push(Clause {
                    at,
                    verb: "oil the bench, pin and hands".to_owned(),
                    foods: Vec::new(),
                    floured: Vec::new(),
                    time: None,
                });
                continue;
            }
            let particle = said
                .first()
                .filter(|w| PARTICLES.contains(&w.as_str()))
                .cloned();
            // 'Brush with the egg wash', 'line the tin with the pastry'.
            let with = WITH.contains(&verb.as_str()) && behind.contains("with ");
            let top = said.last().is_some_and(|w| w == "top");
            let heat = [("boil", "the boil"), ("simmer", "a simmer")]
                .into_iter()
                .find(|h| verb == "bring" && said.iter().any(|w| w == h.0))
                .map(|h| h.1);
            let mut foods = self.parts(&mut said);
            let lines = named(&self.lines, &said, of);
            let floured: Vec<usize> = lines
                .iter()
                .filter(|n| n.line.blend)
                .map(|n| n.component)
                .collect();
            let mut at_first = Vec::new();
            for c in &floured {
                if self.flour[*c] == Some((step.number, at)) {
                    at_first.extend(self.with_flour(*c));
                }
            }
            for food in lines.iter().map(|n| called(n.line)).chain(at_first) {
                if !foods.contains(&food) {
                    foods.push(food);
                }
            }
            let time = step.facts.iter().find_map(|f| {
                use Activity::{Bake, Chill, Cool, Freeze, Knead, Rest, Rise};
                let waits =
                    |a: Activity| matches!(a, Bake | Chill | Cool | Freeze | Knead | Rest | Rise);
                let is = match f.kind {
                    FactKind::Duration { doing, .. } => !doing.is_some_and(waits),
                    _ => false,
                };
                (is && (at..end).contains(&f.span.start)).then(|| text.get(f.span.clone()))?
            });
            out.push(Clause {
                at,
                verb: match (particle, heat) {
                    (_, Some(heat)) => format!("bring to {heat}"),
                    (Some(p), _) => format!("{verb} {p}"),
                    (None, _) if with && !foods.is_empty() => format!("{verb} with"),
                    (None, _) if top => format!("{verb} on top"),
                    (None, _) => verb,
                },
                foods,
                floured,
                time: time.map(str::to_owned),
            });
        }
        out
    }

    /// Parts that words name: 'spread with the custard', 'brush with the egg wash'; their words are taken out.
    fn parts(&self, said: &mut Vec<String>) -> Vec<String> {
        let mut out = Vec::new();
        for c in &self.rework.components {
            let name = words(&c.name);
            let Some(last) = name.last().filter(|_| name[0] != "to") else {
                continue;
            };
            if let Some(at) = said.windows(name.len()).position(|w| w == name) {
                said.drain(at..at + name.len());
                out.push(c.name.clone());
            } else if let Some(at) = said.iter().position(|w| w == last) {
                said.remove(at);
                out.push(last.clone());
            }
        }
        out
    }
}

impl Clause {
    fn words(&self) -> String {
        let foods = quantity::listed(&self.foods);
        let mut out = self.verb.clone();
        if !foods.is_empty() {
            out = format!("{out} {foods}");
        }
        match &self.time {
            Some(time) => format!("{out}, {time}"),
            None => out,
        }
    }
}

fn lower(name: &str) -> String {
    let mut letters = name.chars();
    let first = letters.next().map(char::to_lowercase);
    first.into_iter().flatten().chain(letters).collect()
}
