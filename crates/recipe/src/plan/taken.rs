//! What a step takes of a part: an egg wash is weighed before it is brushed on.

use super::build::Build;
use super::order::order;
use super::pans::NOUNS;
use super::takes::{calls_for, first_of, first_taking};
use super::task::Task;
use crate::aside::taking;
use crate::recipe::{Activity as A, Step};
use crate::rework::{Kept, ReworkedComponent, Whose};
use crate::sentences::{each, words};

/// The words by which a part's lines are told from those of all others: the last of each name, ours and
/// the page's.
pub(super) fn own_words(build: &Build<'_>, c: usize) -> Vec<String> {
    let parts = &build.w.rework.components;
    let pages = |c: usize| {
        let lines = build.recipe.components.get(c).map(|c| &c.lines);
        let lines = lines.into_iter().flatten();
        // 'damsons, halved and stoned'.
        let items = lines.flat_map(|l| l.items.iter().map(|i| l.words(&i.name)));
        let names = items.filter_map(|n| words(n.split([',', '(']).next()?).pop());
        names.collect::<Vec<_>>()
    };
    let mine = parts[c].lines.iter().filter(|l| l.kept != Kept::Dropped);
    let mine = mine.filter_map(|l| words(&l.name).pop()).chain(pages(c));
    let mut mine: Vec<String> = mine.filter(|w| w.len() > 2 && w != "water").collect();
    for (o, other) in parts.iter().enumerate().filter(|(o, _)| *o != c) {
        // The method still says 'flour' where a blend takes its place.
        let lines = other.lines.iter().filter_map(|l| words(&l.name).pop());
        let lines = lines.chain(pages(o));
        let theirs: Vec<String> = lines.chain(words(&other.name)).collect();
        mine.retain(|w| !theirs.contains(w));
    }
    mine
}

/// Whether a step of another part takes something of a part by its own words.
pub(super) fn is_taken(build: &Build<'_>, c: usize) -> bool {
    let mine = own_words(build, c);
    build.recipe.steps.iter().any(|s| {
        let said = words(&taking(&s.text));
        build.chains[s.number - 1] != c && mine.iter().any(|w| said.contains(w))
    })
}

/// Verbs that pour a part over a bake without its name.
const POURS: [&str; 4] = ["drizzle", "frost", "glaze", "ice"];

/// The step that pours a part over by a verb alone, and that: 'Glaze when cool' where the one glaze is a syrup.
pub(super) fn poured<'a>(build: &Build<'a>, c: usize) -> Option<(&'a Step, &'static str)> {
    let parts = &build.recipe.components;
    let whose = || Whose::of(build.recipe).poured();
    let called = |verb: &str| {
        let mut names = parts.iter().map(|p| words(&p.name));
        names.any(|n| n.last().is_some_and(|n| calls_for(verb, n)))
    };
    let says = |s: &Step| {
        let said = words(&taking(&s.text));
        let mut verbs = POURS.into_iter().filter(|v| said.iter().any(|w| w == v));
        verbs.find(|v| !called(v))
    };
    let name = words(&parts.get(c)?.name);
    let named = |s: &Step| {
        name.last()
            .is_some_and(|n| words(&taking(&s.text)).contains(n))
    };
    let steps = &build.recipe.steps;
    let found = steps.iter().find_map(|s| Some((s, says(s)?)))?;
    let other = build.chains[found.0.number - 1] != c;
    (other && !steps.iter().any(named) && whose() == Some(c)).then_some(found)
}

/// Whether a step of another part mixes a part, by words of its own or by its name.
pub(super) fn is_mixed(build: &Build<'_>, c: usize) -> bool {
    let mine = own_words(build, c);
    let all = words(&build.w.rework.components[c].name);
    let name = all.last();
    build.recipe.steps.iter().any(|s| {
        let text = taking(&s.text);
        let said = words(&text);
        let mixes = [A::Mix, A::Whip, A::Boil, A::Melt]
            .iter()
            .any(|a| s.facts.iter().any(|f| f.does(*a)));
        let foods = mine.iter().filter(|w| said.contains(w)).count();
        let named = name.is_some_and(|n| said.contains(n));
        let told = || each(&text).any(|said| mixes_it(said, &all));
        build.chains[s.number - 1] != c
            && mixes
            && (foods > 1 || named && (said.iter().any(|w| w == "for") || told()))
    })
}

/// Whether a sentence mixes a part by its name: 'Mix the garlic filling', not 'stir the filling into the cream'.
fn mixes_it(said: &str, name: &[String]) -> bool {
    const MIXES: [&str; 10] = [
        "beat", "blend", "boil", "make", "melt", "mix", "simmer", "stir", "whip", "whisk",
    ];
    const INTO: [&str; 5] = ["in", "into", "over", "through", "under"];
    let between = |w: &String| matches!(w.as_str(), "the" | "your" | "up") || name.contains(w);
    said.split(',').map(words).any(|clause| {
        let verb = clause.iter().position(|w| MIXES.contains(&w.as_str()));
        verb.is_some_and(|at| {
            let behind = &clause[at + 1..];
            let called = behind.iter().take_while(|w| between(w)).count();
            let next = behind.get(called).map(String::as_str);
            let whole = behind[..called]
                .last()
                .is_some_and(|w| name.last() == Some(w));
            whole && next.is_none_or(|w| !INTO.contains(&w))
        })
    })
}

/// Words for what a wash is made of, beside those of a part's own lines.
const WASH_WORDS: [&str; 9] = [
    "egg",
    "yolk",
    "white",
    "milk",
    "cream",
    "buttermilk",
    "eggwash",
    "wash",
    "glaze",
];

/// The names, a word each, of what spoils in a part.
fn spoiling(part: &ReworkedComponent) -> Vec<String> {
    let lines = part.lines.iter().filter(|l| l.kept != Kept::Dropped);
    let spoils = lines.filter(|l| l.food.is_some_and(|f| part.spoils.contains(&f)));
    spoils.filter_map(|l| words(&l.name).pop()).collect()
}

/// Whether words take all there is: 'mix all', not 'puree them skin and all', 'prick it all over'.
pub(super) fn takes_all(said: &[String]) -> bool {
    const AROUND: [&str; 4] = ["around", "over", "round", "way"];
    let is = |n: usize, list: &[&str]| said.get(n).is_some_and(|w| list.contains(&w.as_str()));
    (0..said.len())
        .filter(|&n| said[n] == "all")
        .any(|n| !(is(n + 1, &AROUND) || n > 0 && is(n - 1, &["and", "at"])))
}

/// The step that first takes egg or milk of a part, where the method names each of them, and what is mixed
/// before it: 'Soak the cherries in the kirsch for 3 hours' is done before the batter.
pub(super) fn spoils_from(build: &Build<'_>, c: usize) -> Option<usize> {
    // Behind these an egg may be that is not named.
    const ANY: [&str; 6] = [
        "batter",
        "everything",
        "ingredient",
        "liquid",
        "remaining",
        "wet",
    ];
    let part = &build.w.rework.components[c];
    let spoils = spoiling(part);
    let is = |name: &String, word: &String| {
        name == word || name == "egg" && matches!(word.as_str(), "yolk" | "white")
    };
    let steps: Vec<_> = build.recipe.steps.iter().collect();
    let said: Vec<Vec<String>> = steps.iter().map(|s| words(&taking(&s.text))).collect();
    // 'Mix in the egg' of the pastry takes none of the filling's.
    let mine = own_words(build, c);
    let others = |n: usize| {
        let of = |c: &usize| build.chains[n] == *c || build.owners[n] == *c;
        !of(&c) && !said[n].iter().any(|w| mine.contains(w))
    };
    let takes = |name: &String| {
        let mut all = (0..said.len()).filter(|&n| !others(n));
        all.find(|&n| said[n].iter().any(|w| is(name, w)))
    };
    let first: Option<Vec<usize>> = spoils.iter().map(takes).collect();
    let first = first?.into_iter().min()?;
    let lines = part.lines.iter().filter_map(|l| words(&l.name).pop());
    let lines: Vec<String> = lines.chain(["flour".to_owned()]).collect();
    let plain = |n: usize| {
        let names = said[n].iter().any(|w| lines.contains(w));
        // 'Soak', 'rest' and the like stand beside nothing that is mixed.
        let mixes = steps[n].facts.iter().any(|f| {
            [A::Mix, A::Knead, A::Whip, A::Cream, A::RubIn, A::Fold]
                .iter()
                .any(|a| f.does(*a))
        });
        let any = said[n].iter().any(|w| ANY.contains(&w.as_str()))
            || takes_all(&said[n])
            || said[n]
                .windows(2)
                .any(|w| w[1] == "rest" && matches!(w[0].as_str(), "the" | "in"));
        let thaws = said[n].iter().any(|w| w == "thaw" || w == "defrost");
        !any && (names || (n > 0 || thaws) && !mixes)
    };
    let before = (0..first).all(|n| others(n) || plain(n));
    before.then(|| steps[first].number)
}

/// Whether a step puts a wash or glaze on, and of which part: one that holds egg or milk and no flour,
/// where the words behind 'with' name what spoils of it or the part itself; or such a food, and no other
/// part has that; or there are none. A tin is brushed with what it is greased with.
fn brushes(parts: &[ReworkedComponent], c: usize, text: &str) -> bool {
    let part = &parts[c];
    let floury = part.reworked.flour.likely().as_grams() > 0.0;
    if part.spoils.is_empty() || floury {
        return false;
    }
    let names = |p: &ReworkedComponent, on: &[String]| {
        let named = words(&p.name).into_iter().filter(|w| w.len() > 3);
        spoiling(p)
            .into_iter()
            .chain(named)
            .any(|w| on.contains(&w))
    };
    each(text).any(|said| {
        let (object, on) = said.split_once(" with ").unwrap_or((said, ""));
        let (object, on) = (words(object), words(on));
        // 'Warm the jam and brush over' is for the part that has jam.
        let jam = |p: &ReworkedComponent| {
            let lines = p.lines.iter().filter_map(|l| words(&l.name).pop());
            lines.filter(|w| object.contains(w)).count()
        };
        if on.is_empty() && jam(part) == 0 && parts.iter().any(|p| jam(p) > 0) {
            return false;
        }
        if !washes(&object) {
            return false;
        }
        // 'Boil the syrup and brush it on' puts the syrup on.
        let verb = object.iter().position(|w| WASHES.contains(&w.as_str()));
        let before = &object[..verb.unwrap_or(0)];
        let other =
            |p: &ReworkedComponent| words(&p.name).pop().is_some_and(|n| before.contains(&n));
        if on.is_empty() && !other(part) && parts.iter().any(other) {
            return false;
        }
        // 'Glaze when cool' is for the part called so, and no egg goes on what is baked.
        let called = |p: &ReworkedComponent| {
            let name = words(&p.name);
            name.iter()
                .any(|w| WASHES.contains(&w.as_str()) && object.contains(w))
        };
        let cold = object
            .iter()
            .any(|w| matches!(w.as_str(), "cool" | "cooled" | "cold"));
        if on.is_empty() && !called(part) && (cold || parts.iter().any(called)) {
            return false;
        }
        let wash = on.is_empty() || on.iter().any(|w| WASH_WORDS.contains(&w.as_str()));
        names(part, &on) || wash && !parts.iter().any(|p| names(p, &on))
    })
}

/// The step that puts a part on as a wash.
pub(super) fn brushed<'a>(build: &Build<'a>, c: usize) -> Option<&'a Step> {
    let parts = &build.w.rework.components;
    let mut steps = build.recipe.steps.iter();
    steps.find(|s| brushes(parts, c, &taking(&s.text)))
}

/// Verbs by which a wash or glaze is put on.
const WASHES: [&str; 4] = ["brush", "glaze", "wash", "eggwash"];

/// Whether words brush something that is no pan: 'brush the rolls in the tin' does.
fn washes(object: &[String]) -> bool {
    let Some(verb) = object.iter().position(|w| WASHES.contains(&w.as_str())) else {
        return false;
    };
    let object = object[verb..].iter().map(String::as_str);
    let mut object = object.take_while(|w| !matches!(*w, "in" | "on" | "of" | "over" | "around"));
    // A case is of pastry, a ring of dough.
    !object.any(|w| NOUNS.contains(&w) && !matches!(w, "case" | "ring"))
}

/// Whether a later step takes more of what spoils in a part: milk for the icing behind the egg that is
/// brushed on.
fn takes_more(build: &Build<'_>, c: usize, step: usize) -> bool {
    let names = spoiling(&build.w.rework.components[c]);
    let parts = &build.w.rework.components;
    let mut later = build.recipe.steps.iter().filter(|s| s.number > step);
    later.any(|s| {
        let text = taking(&s.text);
        let said = words(&text);
        // 'Brush again with the egg': on the same.
        names.iter().any(|w| said.contains(w)) && !brushes(parts, c, &text)
    })
}

/// Each part is weighed before the first step of another that takes of it; and a wash that is put on by a
/// step of its own is on before the next step of the part it is put on. Gives the task by which each
/// part's egg and milk go on with another, where it is a wash.
pub(super) fn before_it_is_taken(
    build: &Build<'_>,
    list: &mut [Task],
    chains: &[Vec<usize>],
) -> Vec<Option<usize>> {
    let mut out = vec![None; chains.len()];
    for c in 0..chains.len() {
        let Some(&weigh) = chains[c].first() else {
            continue;
        };
        let mine = own_words(build, c);
        let own_steps = || chains[c].iter().filter_map(|&t| list[t].step);
        let first_own = own_steps().min().unwrap_or(usize::MAX);
        let brushed = brushed(build, c);
        // By a step of another part, before any of its own.
        let taken = build.recipe.steps.iter().find(|s| {
            let text = taking(&s.text);
            let said = words(&text);
            build.chains[s.number - 1] != c
                && s.number < first_own
                && (mine.iter().any(|w| said.contains(w))
                    || brushed.is_some_and(|b| b.number == s.number))
        });
        let end = if first_own == usize::MAX {
            chains[c].last().copied().unwrap_or(weigh)
        } else {
            weigh
        };
        if let Some(s) = taken {
            let chain = &chains[build.chains[s.number - 1]];
            let puts = brushed.filter(|b| b.number == s.number);
            let to = match puts {
                Some(_) => puts_on(list, chain, s.number),
                None => first_taking(list, chain, s, &mine),
            };
            if let Some(to) = to {
                order(list, end, to);
            }
        }
        let Some(s) = brushed else { continue };
        let Some(puts) = puts_on(list, &chains[build.chains[s.number - 1]], s.number) else {
            continue;
        };
        out[c] = Some(puts).filter(|_| !takes_more(build, c, s.number));
        // Its own step: the other part goes on behind it.
        if build.chains[s.number - 1] == c {
            let next = build.recipe.steps.iter().filter(|n| n.number >= s.number);
            let next = next.filter_map(|n| {
                let owner = build.chains[n.number - 1];
                first_of(list, chains.get(owner).filter(|_| owner != c)?, n.number)
            });
            if let Some(next) = next.into_iter().next() {
                order(list, puts, next);
            }
        }
    }
    out
}

/// The task of a step that brushes, else its first.
fn puts_on(list: &[Task], chain: &[usize], step: usize) -> Option<usize> {
    let mut mine = chain
        .iter()
        .copied()
        .filter(|&t| list[t].step == Some(step));
    let brush = mine.clone().find(|&t| list[t].what == "brush");
    brush.or_else(|| mine.next())
}
