//! Which pan and which oven heats what spoils.

use super::build::Build;
use super::step::Draft;
use super::task::Task;
use crate::aside::taking;
use crate::blind::{fills, since_empty};
use crate::recipe::{Activity, Fact, FactKind, Step};
use crate::rework::{Kept, ReworkedComponent, ReworkedLine};
use crate::sentences::{each, sentence, singular, words};

impl Build<'_> {
    /// Whether a pan on the stove or an oven heats what spoils in a part: a case that is baked blind
    /// holds no filling; and not where the sentence of a pan names
    /// other lines of the part and none of those, and not the part. It is called by what is in it then (common practice, no
    /// source).
    pub(super) fn over_heat(
        &self,
        of: &ReworkedComponent,
        step: &Step,
        mut d: Draft,
        end: usize,
    ) -> (Draft, bool) {
        let text = step.text.as_str();
        // 'Fry the leeks. Stir in the milk and simmer' is one stretch of two sentences.
        let several = d.name.contains(", ");
        let sentence = sentence(text, d.at);
        let stretch = text.get(d.at..end).filter(|_| several);
        let said = words(&taking(stretch.unwrap_or(sentence)));
        if d.what == "bake" {
            // 'Bake blind for 15 minutes. Remove the beans and bake 5 minutes more.'
            let since = since_empty(text.get(..d.at).unwrap_or_default());
            let empty = since.is_some_and(|s| !fills(s));
            let blind = !empty && said.iter().any(|w| w == "blind");
            // 'Take out the beans'.
            const COVERS: [&str; 6] = ["bean", "foil", "paper", "parchment", "rice", "weight"];
            let bare = since.is_some_and(|s| words(s).iter().any(|w| COVERS.contains(&w.as_str())));
            if d.name == "Bake" && empty && bare {
                "Bake blind, uncovered".clone_into(&mut d.name);
            } else if d.name == "Bake" && (empty || blind) {
                "Bake blind".clone_into(&mut d.name);
            }
            return (d, !empty && !blind);
        }
        if !matches!(d.what, "boil" | "fry") || !of.holds_egg_or_milk {
            return (d, true);
        }
        let named = |name: &str| named_in(name, &said);
        // 'Fry the doughnuts. Drain and toss in sugar': what was made is what is fried.
        if named(&of.name).is_some() || self.heats_what_is_made(step.number, &taking(sentence)) {
            return (d, true);
        }
        // It is fried in the oil.
        const FATS: [&str; 5] = ["dripping", "fat", "ghee", "lard", "oil"];
        let in_it = |l: &ReworkedLine| words(&l.name).iter().any(|w| FATS.contains(&w.as_str()));
        let mut other = None;
        for line in of
            .lines
            .iter()
            .filter(|l| l.kept != Kept::Dropped && !in_it(l))
        {
            let spoils = line.food.is_some_and(|f| of.spoils.contains(&f));
            match named(&line.name) {
                Some(_) if spoils => return (d, true),
                Some(word) if other.is_none() => other = Some(word),
                _ => {}
            }
        }
        // 'Fry the doughnuts and toss in the sugar': it is they that are fried.
        let title = self.recipe.title.as_deref().map(words).unwrap_or_default();
        let whole = title.last().is_some_and(|w| words(sentence).contains(w));
        if d.what == "fry" && whole {
            return (d, true);
        }
        let Some(word) = other else { return (d, true) };
        // As the text has it: 'the cherries'.
        let mut here = stretch
            .unwrap_or(sentence)
            .split(|c: char| !c.is_alphanumeric());
        let here = here.find(|w| singular(&w.to_lowercase()) == word);
        let word = here.map_or(word, str::to_lowercase);
        d.name = format!("Cook the {word}");
        (d, false)
    }

    /// Whether the words by which a step boils, steams or fries name no line and no part of the recipe, and
    /// nothing beside it: 'Fry for 5 minutes', 'Steam the parcels' where parcels are made; not 'Fry the ham',
    /// 'Bring the stock to the boil'.
    pub(super) fn is_bare(&self, t: &Task) -> bool {
        let step = t.step.and_then(|n| self.recipe.steps.get(n - 1));
        let heats = |f: &&Fact| f.does(Activity::Boil) || f.does(Activity::Fry);
        let Some((step, fact)) = step.and_then(|s| Some((s, s.facts.iter().find(heats)?))) else {
            return false;
        };
        let said = taking(sentence(&step.text, fact.span.start)).into_owned();
        let parts = &self.w.rework.components;
        let lines = parts.iter().flat_map(|p| p.lines.iter().map(|l| &l.name));
        let mut names = lines.chain(parts.iter().map(|p| &p.name));
        let here = words(&said);
        if names.any(|name| named_in(name, &here).is_some()) {
            return false;
        }
        heated(&said).is_empty() || self.heats_what_is_made(step.number, &said)
    }

    /// Whether a sentence of a step puts what was made of the batch on the stove.
    fn heats_what_is_made(&self, step: usize, said: &str) -> bool {
        let before = self.recipe.steps.iter().filter(|s| s.number < step);
        let before: Vec<&str> = before.map(|s| s.text.as_str()).collect();
        let title = words(self.recipe.title.as_deref().unwrap_or_default());
        let parts = &self.w.rework.components;
        let mut lines = parts.iter().flat_map(|p| &p.lines);
        let food = |thing: &String| {
            let thing = std::slice::from_ref(thing);
            lines.any(|l| named_in(&l.name, thing).is_some())
        };
        let made = |thing: &&String| title.contains(thing) || is_made(&before, thing);
        let mut things = heated(said);
        things.retain(|t| made(&t));
        !things.is_empty() && !things.iter().any(food)
    }
}

/// Whether a stretch that begins with other work heats the egg or milk of its part on the stove: it simmers what was
/// mixed, or thickens it over hot water. The milk alone that is boiled heats no yolks.
///
/// # Inputs
/// - `end`: where the next stretch of the step begins.
pub(super) fn simmers(of: &ReworkedComponent, text: &str, d: &Draft, end: usize) -> bool {
    const ALL: [&str; 4] = ["custard", "everything", "it", "mixture"];
    const THICK: [&str; 3] = ["thick", "thicken", "thickened"];
    if d.wait.is_some() || matches!(d.what, "boil" | "fry") || !of.holds_egg_or_milk {
        return false;
    }
    let name = words(&of.name).pop();
    let mut done = d.name.split(", ").skip(1).map(words);
    let boils = done.any(|said| match said.split_first() {
        Some((verb, on)) if matches!(verb.as_str(), "boil" | "cook" | "simmer") => on
            .iter()
            .all(|w| ALL.contains(&w.as_str()) || name.as_ref() == Some(w)),
        _ => false,
    });
    let lines = of.lines.iter().filter(|l| l.kept != Kept::Dropped);
    let spoils: Vec<&String> = lines
        .filter(|l| l.food.is_some_and(|f| of.spoils.contains(&f)))
        .map(|l| &l.name)
        .collect();
    let mut named = false;
    let stretch = text.get(d.at..end).unwrap_or_default();
    each(stretch).any(|said| {
        let said = words(&taking(said));
        named |= spoils.iter().any(|n| named_in(n, &said).is_some())
            || said.iter().any(|w| matches!(w.as_str(), "yolk" | "egg"));
        let over = said.iter().enumerate().any(|(i, w)| {
            let mut behind = said[i + 1..].iter().take(5);
            w == "over" && behind.any(|w| matches!(w.as_str(), "water" | "heat"))
        });
        let thick = said
            .iter()
            .any(|w| THICK.contains(&w.as_str()) || w == "coat");
        named && (over && thick || boils)
    })
}

/// The first word of a name that is among others, small ones aside.
fn named_in(name: &str, said: &[String]) -> Option<String> {
    const SMALL: [&str; 9] = [
        "the", "and", "for", "all", "big", "hot", "raw", "dry", "not",
    ];
    let mut words = words(name).into_iter();
    words.find(|w| w.len() > 2 && !SMALL.contains(&w.as_str()) && said.contains(w))
}

/// What a sentence puts on the stove, a word each: behind a verb and the article (common practice, no
/// source).
fn heated(said: &str) -> Vec<String> {
    const VERBS: [&str; 9] = [
        "boil", "bring", "brown", "cook", "fry", "poach", "sear", "simmer", "steam",
    ];
    const ENDS: [&str; 22] = [
        "about",
        "and",
        "as",
        "at",
        "before",
        "covered",
        "for",
        "from",
        "in",
        "into",
        "like",
        "on",
        "or",
        "over",
        "then",
        "to",
        "under",
        "uncovered",
        "until",
        "up",
        "while",
        "with",
    ];
    const NONE: [&str; 14] = [
        "a",
        "again",
        "all",
        "an",
        "both",
        "each",
        "everything",
        "it",
        "once",
        "side",
        "the",
        "them",
        "these",
        "twice",
    ];
    let mut out = Vec::new();
    for clause in said.split([',', ';', ':', '(']) {
        let words = words(clause);
        for (i, verb) in words.iter().enumerate() {
            // 'to the boil' is no verb.
            let noun = i > 0 && matches!(words[i - 1].as_str(), "the" | "a");
            if noun || !VERBS.contains(&verb.as_str()) {
                continue;
            }
            let behind = words[i + 1..].iter();
            let ends = |w: &&String| {
                !ENDS.contains(&w.as_str()) && !w.starts_with(|c: char| c.is_ascii_digit())
            };
            let thing = behind.take_while(ends);
            let named = |w: &&String| !NONE.contains(&w.as_str()) && !w.ends_with("ly");
            out.extend(thing.filter(named).last().cloned());
        }
    }
    out
}

/// Whether earlier steps make something of the batch: 'cut into parcels', 'seal the pasties'.
fn is_made(before: &[&str], thing: &String) -> bool {
    const CLOSES: [&str; 4] = ["fill", "pinch", "seal", "shape"];
    let sentences = before.iter().flat_map(|text| each(text));
    let mut all = sentences.map(words);
    all.any(|words| {
        let Some(at) = words.iter().position(|w| w == thing) else {
            return false;
        };
        let closes = words.iter().any(|w| CLOSES.contains(&w.as_str()));
        closes || words[..at].iter().any(|w| w == "into")
    })
}

/// The word by which a text heats something on the stove that does not boil: at a byte, or the last before it in its
/// sentence, where a time stands there.
pub(super) fn of_the_stove(text: &str, at: usize) -> Option<&'static str> {
    const WORDS: [&str; 7] = [
        "heat", "simmer", "scald", "poach", "soften", "steam", "sweat",
    ];
    const OTHER: [&str; 4] = ["boil", "boiling", "bubble", "cook"];
    let is = |w: &str, of: &[&'static str]| of.iter().find(|o| o.eq_ignore_ascii_case(w)).copied();
    let first = |t: &str| words(t).into_iter().next();
    if let Some(word) = first(&text[at..]).and_then(|w| is(&w, &WORDS)) {
        return Some(word);
    }
    let said = sentence(text, at);
    let from = said.as_ptr() as usize - text.as_ptr() as usize;
    let before = words(text.get(from..at)?);
    // 'Over a low heat' is where.
    let verb = |n: &usize| {
        let noun = *n > 0
            && matches!(
                before[n - 1].as_str(),
                "a" | "the" | "low" | "medium" | "high" | "gentle"
            );
        !noun && (is(&before[*n], &WORDS).is_some() || is(&before[*n], &OTHER).is_some())
    };
    let last = (0..before.len()).rev().find(verb)?;
    is(&before[last], &WORDS)
}

/// Whether a step only says how often what is on the stove is stirred: 'Simmer for 20 minutes. Stir often.'
pub(super) fn stirs_meanwhile(step: &Step, at: usize) -> bool {
    let said = sentence(&step.text, at);
    let from = at - (said.as_ptr() as usize - step.text.as_ptr() as usize);
    let behind: Vec<String> = words(&said[from.min(said.len())..])
        .into_iter()
        .take(7)
        .collect();
    let stirs = behind.first().is_some_and(|w| w == "stir");
    let often = |w: &String| OFTEN.iter().any(|o| w.starts_with(o));
    let pan = |f: &Fact| f.span.start < at && (f.does(Activity::Boil) || f.does(Activity::Fry));
    let adds = behind.get(1).is_some_and(|w| w == "in" || w == "into");
    stirs
        && !adds
        && (behind.iter().any(often) || now_and_then(&behind))
        && step.facts.iter().any(pan)
}

/// Words by which something is done again and again.
const OFTEN: [&str; 8] = [
    "always",
    "constant",
    "continu",
    "every",
    "frequent",
    "occasional",
    "often",
    "regular",
];

fn now_and_then(said: &[String]) -> bool {
    let joined = said.join(" ");
    ["now and then", "from time to time", "all the time"]
        .iter()
        .any(|w| joined.contains(w))
}

/// Whether a time is a share of one that its sentence gives before: 'for the last 5 minutes'.
pub(super) fn is_part_of_it(step: &Step, fact: &Fact) -> bool {
    let at = fact.span.start;
    let before = words(&step.text[..at]);
    let part = before
        .last()
        .is_some_and(|w| w == "last" || w == "first" || w == "final");
    let said = sentence(&step.text, at);
    let timed = |f: &&Fact| matches!(f.kind, FactKind::Duration { .. });
    let mut other = step
        .facts
        .iter()
        .filter(timed)
        .filter(|f| f.span.start < at);
    part && other.any(|f| sentence(&step.text, f.span.start) == said)
}
