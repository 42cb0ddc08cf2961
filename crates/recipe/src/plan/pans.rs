//! Pans: which one a bake needs, from which task to which, and how many of it the kitchen has.

use super::ask::{Ask, Kitchen, MOST_OF_ANY};
use super::build::{Build, NEARLY};
use super::order::reaches;
use super::step::racks;
use super::task::{Basis, Task};
use crate::read;
use crate::recipe::{Fact, FactKind};
use crate::sentences::words;
use crate::size::pan::{self, Outline, Said, how_many};
use crate::size::{Pans, Target};
use quantity::Length;

/// Pans of one kind that a kitchen has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnPans {
    /// What it is called: `20 cm sandwich tin`.
    pub name: String,
    /// How many there are.
    pub count: u32,
}

impl OwnPans {
    /// Reads `loaf tin 23 x 13 cm`, or `2 x 20 cm sandwich tin` where there are several.
    ///
    /// # Errors
    /// What was expected, in a sentence.
    pub fn read(text: &str) -> Result<Self, String> {
        let (count, name) = pan::counted(text, &[]).map_err(|e| e.to_string())?;
        if name.is_empty() {
            return Err("a pan has no name: write one like '2 x 20 cm sandwich tin'".to_owned());
        }
        if !(1..=MOST_OF_ANY).contains(&count) {
            return Err(format!(
                "{count} of '{name}': write a whole number from 1 to {MOST_OF_ANY}"
            ));
        }
        Ok(Self {
            name: name.to_owned(),
            count,
        })
    }

    /// Whether its name says that it is a pan: a kind, a noun of pans or a size. No recipe asks for a 'zork'.
    #[must_use]
    pub fn says_its_kind(&self) -> bool {
        let kind = kind_of(&self.name, &[]);
        let lower = self.name.to_lowercase();
        let mut words = lower.split(|c: char| !c.is_alphanumeric());
        let noun = |w: &str| {
            let one = w.strip_suffix('s').unwrap_or(w);
            NOUNS.iter().chain(&VESSELS).any(|n| one.ends_with(n))
        };
        kind.word.is_some() || !kind.sizes.is_empty() || words.any(noun)
    }
}

/// A pan in use, from the task that fills it to the one that turns it out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PanUse {
    /// Its words: the method's, or those of the pan the batch is sized for.
    pub name: String,
    /// How many.
    pub count: u32,
    /// The task that fills it, by place in the list.
    pub from: usize,
    /// The task that ends it.
    pub to: usize,
    /// It is empty when the work of that task is done, not only when its wait is over.
    pub turned_out: bool,
}

/// What tells one pan from another.
#[derive(Debug, Clone, PartialEq)]
struct Kind {
    word: Option<&'static str>,
    /// Across, or its two sides, longest first: cm.
    sizes: Vec<f64>,
}

impl Kind {
    fn is_round(&self) -> bool {
        let round = ["springform", "sandwich", "round", "tart", "pie"];
        self.word.is_some_and(|w| round.contains(&w))
    }

    /// Whether one may stand in for the other, for all that is said of them.
    fn fits(&self, other: &Self) -> bool {
        // 23 cm is 9 in, and not 24 cm.
        const NEAR: f64 = 0.6;
        let kinds = self.word.zip(other.word).map(|(a, b)| a == b);
        let mut sides = self.sizes.iter().zip(&other.sizes);
        let sized = !self.sizes.is_empty() && !other.sizes.is_empty();
        kinds != Some(false)
            && sides.all(|(a, b)| (a - b).abs() <= NEAR)
            && (kinds == Some(true) || sized)
    }
}

fn kind_of(words: &str, sizes: &[Length]) -> Kind {
    let word = pan::kind_word(words).map(|w| match w {
        "spring" => "springform",
        "cake" | "ø" => "round",
        "bread" => "loaf",
        "lidded" => "pullman",
        "rect" | "rectangular" => "oblong",
        "jelly" => "roll",
        "tray" => "sheet",
        other => other,
    });
    let cm = |l: &Length| l.as_millimetres() / 10.0;
    let mut sizes: Vec<f64> = sizes.iter().map(cm).collect();
    if sizes.is_empty() {
        sizes = match pan::find(words, &[]).map(|p| p.outline) {
            Ok(Outline::Round { across } | Outline::Ring { across, .. }) => vec![cm(&across)],
            Ok(Outline::Oblong { long, wide }) => vec![cm(&long), cm(&wide)],
            Ok(Outline::Basin) => Vec::new(),
            // As a method's own words are read: 'blue loaf tin, 23 x 13 cm'.
            Err(_) => {
                let digit = words.find(|c: char| c.is_ascii_digit()).unwrap_or(0);
                let (name, size) = words.split_at(digit);
                let tries = [words.to_owned(), format!("{} ({size})", name.trim_end())];
                let read = |text: &String| {
                    let step = read::step(1, &format!("Use a {text}."), None);
                    let mut pans = step.facts.into_iter().filter_map(|f| match f.kind {
                        FactKind::Pan { sizes, .. } if !sizes.is_empty() => Some(sizes),
                        _ => None,
                    });
                    pans.next()
                };
                let found = tries.iter().find_map(read).unwrap_or_default();
                found.iter().map(cm).collect()
            }
        };
    }
    // A depth says little.
    let mut kind = Kind { word, sizes };
    kind.sizes.truncate(if kind.is_round() { 1 } else { 2 });
    kind
}

/// Nouns of what is filled.
pub(super) const NOUNS: [&str; 10] = [
    "tin",
    "pan",
    "sheet",
    "tray",
    "dish",
    "mould",
    "mold",
    "case",
    "ring",
    "springform",
];

/// Nouns of what else is filled, and may be noted as a pan.
const VESSELS: [&str; 14] = [
    "basin",
    "bowl",
    "casserole",
    "skillet",
    "pot",
    "griddle",
    "terrine",
    "ramekin",
    "basket",
    "banneton",
    "plate",
    "stone",
    "wok",
    "cutter",
];

/// What stands on the stove is free again at once.
const STOVE: [&str; 4] = ["frying", "sauce", "skillet", "saute"];

/// The pans of a recipe's bakes.
pub(super) fn uses(build: &Build<'_>, list: &[Task], sized: Option<&Target>) -> Vec<PanUse> {
    let mut bakes: Vec<(usize, usize)> = (0..list.len())
        .filter(|&t| list[t].what == "bake" && !list[t].left_out)
        .filter_map(|t| Some((list[t].step?, t)))
        .collect();
    bakes.sort_unstable();
    let mut out: Vec<PanUse> = Vec::new();
    let mut before = 0;
    for (step, bake) in bakes {
        let steps = build.recipe.steps.iter();
        let between = steps.filter(|s| s.number > before && s.number <= step);
        let named = between.flat_map(|s| s.facts.iter().filter_map(|f| named(&s.text, f)));
        let mut named: Vec<(String, u32, bool)> = named.collect();
        // One with a size is the tin; another may be what it stands on.
        named.sort_by_key(|n| !n.2);
        let (to, turned_out) = release(build, list, bake);
        match named.into_iter().next() {
            Some((name, count, _)) => out.push(PanUse {
                name,
                count: more(count, build.factor),
                from: fill(build, list, bake, before),
                to,
                turned_out,
            }),
            // It goes back in.
            None => {
                if let Some(last) = out.last_mut().filter(|l| !l.turned_out || before == step) {
                    (last.to, last.turned_out) = (to, turned_out);
                }
            }
        }
        before = step;
    }
    if let (Some(pans), [one]) = (sized.and_then(tins), out.as_mut_slice()) {
        let Pans { pan, count, .. } = pans;
        one.name = pans.pan().map_or_else(|_| pan.clone(), |p| p.words());
        one.count = more(
            *count,
            build.factor / build.w.batch.factor.max(f64::EPSILON),
        );
    }
    out
}

/// The pans that a batch is sized for.
fn tins(target: &Target) -> Option<&Pans> {
    match target {
        Target::Pan(p) | Target::FromPan { to: p, .. } => Some(p),
        _ => None,
    }
}

/// How it is told that a batch is sized for another tin.
pub(super) const ANOTHER_TIN: &str = "The batch is sized for another tin than that of the recipe";

/// Says of a bake whose batch is sized for another pan than the method's that its minutes are the recipe's.
pub(super) fn other_tin(build: &Build<'_>, list: &mut [Task], sized: Option<&Target>) {
    let Some(to) = sized.and_then(tins) else {
        return;
    };
    let own = uses(build, list, None);
    let ([own], Ok(now)) = (own.as_slice(), to.pan()) else {
        return;
    };
    let steps = build.recipe.steps.iter();
    let mut said = steps.flat_map(|s| s.facts.iter().filter_map(|f| Said::of_fact(s, f)));
    if said.any(|s| s.pan.is_as_wide_as(&now)) {
        return;
    }
    let bakes = list.iter_mut();
    for bake in bakes.filter(|t| t.what == "bake" && t.wait_basis != Basis::Own) {
        bake.notes.push(format!(
            "{ANOTHER_TIN} ({}), whose minutes these are: the Heat page estimates yours.",
            own.name
        ));
    }
}

/// So many for so many times the recipe.
fn more(count: u32, factor: f64) -> u32 {
    (f64::from(count) * factor - NEARLY).ceil().max(1.0) as u32
}

/// A pan that a step names: its words, how many, and whether its size is said.
fn named(text: &str, fact: &Fact) -> Option<(String, u32, bool)> {
    let FactKind::Pan { words, sizes } = &fact.kind else {
        return None;
    };
    let lower = words.to_lowercase();
    if STOVE.iter().any(|s| lower.contains(s)) {
        return None;
    }
    let said = how_many(text, fact.span.clone());
    let sheet = matches!(kind_of(words, sizes).word, Some("sheet"));
    let count = said.unwrap_or(if sheet { racks(text) } else { 1 });
    let name = pan::counted(words, &[]).map_or(words.as_str(), |(_, one)| one);
    Some((name.to_owned(), count, !sizes.is_empty()))
}

fn mentions(build: &Build<'_>, step: usize) -> bool {
    let text = build.recipe.steps.get(step - 1).map(|s| words(&s.text));
    text.is_some_and(|w| w.iter().any(|w| NOUNS.contains(&w.as_str())))
}

/// The task that fills the pan of a bake: the first of the last step before it that speaks of one.
fn fill(build: &Build<'_>, list: &[Task], bake: usize, before: usize) -> usize {
    let ready = |t: &Task| {
        matches!(t.what, "preheat" | "grease" | "weigh" | "hydrate" | "bake") || t.left_out
    };
    let led: Vec<usize> = (0..list.len())
        .filter(|&t| !ready(&list[t]) && list[t].optional.is_none() && reaches(list, t, bake))
        .filter(|&t| list[t].step.is_some_and(|s| s > before))
        .collect();
    let told = led.iter().filter_map(|&t| list[t].step);
    let step = told.filter(|s| mentions(build, *s)).max();
    let first = led.iter().copied().find(|&t| list[t].step == step);
    let next = || led.iter().copied().find(|t| list[bake].after.contains(t));
    first
        .filter(|_| step.is_some())
        .or_else(next)
        .unwrap_or(bake)
}

/// The task after a bake at whose end the pan is empty, and whether its work empties it.
fn release(build: &Build<'_>, list: &[Task], bake: usize) -> (usize, bool) {
    let text = |t: usize| {
        let at = list[t].step.unwrap_or(0).checked_sub(1);
        let step = at.and_then(|i| build.recipe.steps.get(i));
        step.map_or(String::new(), |s| s.text.to_lowercase())
    };
    let has = |text: &str, all: &[&str]| all.iter().any(|w| text.contains(w));
    let inside = [
        "in the tin",
        "in the pan",
        "in its tin",
        "in their tin",
        "in the dish",
        "on the sheet",
        "on the tray",
        "in the mould",
    ];
    let out = [
        "turn out",
        "turn it out",
        "turn them out",
        "out of the tin",
        "out of the pan",
        "from the tin",
        "from the pan",
        "unmould",
        "unmold",
        "lift",
    ];
    let step = list[bake].step.unwrap_or(0);
    let waits = |t: usize| {
        let here = matches!(list[t].what, "cool" | "rest" | "chill" | "freeze");
        here && !list[t].left_out && list[t].optional.is_none()
    };
    let left_in = (0..list.len()).find(|&t| {
        let near = list[t].step.is_some_and(|s| (step..=step + 2).contains(&s));
        waits(t) && near && has(&text(t), &inside) && reaches(list, bake, t)
    });
    if let Some(t) = left_in {
        return (t, false);
    }
    let mut now = (bake, false);
    loop {
        let follows = |&t: &usize| list[t].after.contains(&now.0);
        let mut next = (0..list.len()).filter(follows);
        let Some(t) = next.find(|&t| waits(t) || list[t].what == "take_out") else {
            return now;
        };
        // Neither 'crack' nor 'cracker'.
        let racked = |text: &str| words(text).iter().any(|w| w == "rack");
        if list[t].what != "take_out" && (racked(&text(t)) || has(&text(t), &out)) {
            return (t, true);
        }
        now = (t, false);
    }
}

/// Uses that may want the same pans of a kitchen at one time.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shared {
    /// What they are called.
    pub name: String,
    /// How many there are.
    pub has: u32,
    /// Batch and use, by place.
    pub users: Vec<(usize, usize)>,
}

/// The pans that are shared, of those the kitchen says it has. What it says nothing of is taken to
/// be there for every batch.
pub(super) fn shared(ask: &Ask) -> Vec<Shared> {
    let own: Vec<Kind> = ask
        .kitchen
        .pans
        .iter()
        .map(|p| kind_of(&p.name, &[]))
        .collect();
    let fitting = |name: &str| -> Vec<usize> {
        let kind = kind_of(name, &[]);
        (0..own.len()).filter(|&i| own[i].fits(&kind)).collect()
    };
    let jobs = ask.jobs.iter().enumerate();
    let all: Vec<((usize, usize), Vec<usize>)> = jobs
        .flat_map(|(j, job)| {
            let uses = job.tasks.pans.iter().enumerate();
            uses.map(move |(u, p)| ((j, u), &p.name))
        })
        .map(|(at, name)| (at, fitting(name)))
        .filter(|(_, set)| !set.is_empty())
        .collect();
    let mut sets: Vec<&Vec<usize>> = all.iter().map(|(_, set)| set).collect();
    sets.sort_unstable();
    sets.dedup();
    let of = |set: &Vec<usize>| {
        let pans = set.iter().map(|i| &ask.kitchen.pans[*i]);
        let users = all
            .iter()
            .filter(|(_, s)| s.iter().all(|i| set.contains(i)));
        Shared {
            name: pans
                .clone()
                .map(|p| p.name.as_str())
                .collect::<Vec<_>>()
                .join(" or "),
            has: pans.map(|p| p.count).sum(),
            users: users.map(|(at, _)| *at).collect(),
        }
    };
    sets.into_iter().map(of).collect()
}

/// Pans that several batches want and the kitchen says nothing of, each once.
#[must_use]
pub fn uncounted(ask: &Ask) -> Vec<String> {
    let known = shared(ask);
    let jobs = ask.jobs.iter().enumerate();
    let all: Vec<(usize, &PanUse, Kind)> = jobs
        .flat_map(|(j, job)| {
            job.tasks
                .pans
                .iter()
                .enumerate()
                .map(move |(u, p)| (j, u, p))
        })
        .filter(|(j, u, _)| !known.iter().any(|s| s.users.contains(&(*j, *u))))
        .map(|(j, _, p)| (j, p, kind_of(&p.name, &[])))
        .collect();
    let mut out: Vec<String> = Vec::new();
    for (j, p, kind) in &all {
        let twice = all.iter().any(|(o, _, other)| o != j && other.fits(kind));
        if twice && !out.contains(&p.name) {
            out.push(p.name.clone());
        }
    }
    out
}

impl Kitchen {
    /// The pans it has, one to a line or word: `2 x 20 cm sandwich tin`.
    ///
    /// # Errors
    /// What is wrong with one of them, in a sentence.
    pub fn with_pans<'a>(mut self, lines: impl Iterator<Item = &'a str>) -> Result<Self, String> {
        self.pans = lines.map(OwnPans::read).collect::<Result<_, _>>()?;
        Ok(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pan_says_its_kind() {
        for (text, says) in [
            ("2 x 20 cm sandwich tin", true),
            ("saucepan", true),
            ("pudding basin", true),
            ("zork", false),
        ] {
            let pan = OwnPans::read(text).expect("a pan");
            assert_eq!(pan.says_its_kind(), says, "{text}");
        }
    }

    #[test]
    fn one_pan_is_another_where_kind_and_size_agree() {
        let fits = |a: &str, b: &str| kind_of(a, &[]).fits(&kind_of(b, &[]));
        for (a, b) in [
            ("9 x 13 inch pan", "33 x 23 cm tin"),
            ("20cm sandwich tins", "sandwich tin 20 cm"),
            ("baking sheets", "baking tray"),
            ("900 g loaf tin", "blue loaf tin 23 x 13 cm"),
            ("23 cm springform tin", "springform 9 in"),
        ] {
            assert!(
                fits(a, b) && fits(b, a),
                "{a}: {:?}, {b}: {:?}",
                kind_of(a, &[]),
                kind_of(b, &[])
            );
        }
        for (a, b) in [
            ("23 cm springform tin", "24 cm springform tin"),
            ("loaf tin", "baking sheet"),
            ("deep tin", "loaf tin"),
        ] {
            assert!(!fits(a, b), "{a} and {b}");
        }
    }

    #[test]
    fn how_many_there_are_stands_in_front() {
        let read = |text: &str| OwnPans::read(text).map(|p| (p.count, p.name));
        let of = |n: u32, name: &str| Ok((n, name.to_owned()));
        assert_eq!(read("2 x 20 cm sandwich tin"), of(2, "20 cm sandwich tin"));
        assert_eq!(read("3 × loaf tin"), of(3, "loaf tin"));
        assert_eq!(read("2 x 900 g loaf tin"), of(2, "900 g loaf tin"));
        assert_eq!(read("9 x 5 in loaf tin"), of(1, "9 x 5 in loaf tin"));
        assert_eq!(read("big tin"), of(1, "big tin"));
        assert!(read("0 x loaf tin").is_err());
        assert!(read(" ").is_err());
    }
}
