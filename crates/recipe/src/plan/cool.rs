//! What cools before it is cut, or before something goes on it.

use super::build::{Build, Placed};
use super::join::{PUTS_ON, order, reaches, soon_within, wants_warm};
use super::step::{COOLS_ON, SHORT_COOL};
use super::stretch::when_cold;
use super::table::{self, Usual};
use super::task::{Basis, Place, Span, Task, Wait};
use crate::recipe::{Activity, FactKind, Recipe};
use crate::rework::ReworkedComponent;
use crate::sentences::{each, words};

/// What a bake is, for how long it cools.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Piece {
    /// Thick through: a loaf.
    Loaf,
    /// In one piece on a tray: a plait, a wreath.
    Free,
    /// A piece or two to the hand.
    Small,
}

/// Bakes that are thick through.
const LOAVES: [&str; 5] = ["loaf", "loave", "bloomer", "bundt", "fruitcake"];

/// Doughs in one piece by their shape, where they are not counted: '8 twists' are small.
const SHAPED: [&str; 7] = [
    "babka", "braid", "crown", "plait", "ring", "twist", "wreath",
];

/// Bakes of a piece or two to the hand.
const SMALL: [&str; 12] = [
    "bagel",
    "biscuit",
    "bun",
    "cookie",
    "cupcake",
    "doughnut",
    "knot",
    "muffin",
    "roll",
    "scone",
    "shortbread",
    "tartlet",
];

impl Piece {
    /// What the title and the yield call it, if they do.
    fn of(recipe: &Recipe) -> Option<Self> {
        let makes = recipe.makes.as_ref();
        let counted = makes.and_then(|m| m.count).is_some_and(|(n, _)| n >= MANY);
        let made = makes.map_or_else(Vec::new, |m| words(&m.text));
        let title = words(recipe.title.as_deref().unwrap_or_default());
        let said = || title.iter().chain(&made);
        let says = |list: &[&str]| said().any(|w| list.contains(&w.as_str()));
        let shaped = said().find(|w| SHAPED.contains(&w.as_str()));
        let pieces = counted && made.iter().any(|w| SMALL.contains(&w.as_str()));
        if says(&LOAVES) {
            Some(Self::Loaf)
        } else if pieces {
            // 'Makes 12 rolls', whatever they are set into.
            Some(Self::Small)
        } else if let Some(word) = shaped {
            let many = counted && made.contains(word);
            Some(if many { Self::Small } else { Self::Free })
        } else {
            says(&SMALL).then_some(Self::Small)
        }
    }

    /// What its pans, its count and its shaping make it, where no name says.
    fn of_method(recipe: &Recipe) -> Option<Self> {
        let mut pans = Vec::new();
        for fact in recipe.steps.iter().flat_map(|s| &s.facts) {
            if let FactKind::Pan { words: w, .. } = &fact.kind {
                pans.extend(words(w));
            }
        }
        let says = |list: &[&str]| pans.iter().any(|w| list.contains(&w.as_str()));
        if says(&LOAVES) || says(&["tin"]) && !says(&SMALL) {
            return Some(Self::Loaf);
        }
        let makes = recipe.makes.as_ref();
        let pieces = makes.and_then(|m| m.count).is_some_and(|(n, _)| n >= MANY);
        let shaped = recipe.steps.iter().any(|s| {
            let shapes = s.facts.iter().any(|f| f.does(Activity::Shape));
            shapes && words(&s.text).iter().any(|w| w == "piece" || w == "ball")
        });
        (pieces || shaped || says(&SMALL)).then_some(Self::Small)
    }
}

/// So many pieces are small ones.
const MANY: f64 = 4.0;

/// Styles of what is a cake where no name or count says more.
pub(super) const CAKES: [&str; 3] = ["butter_cake", "sponge_cake", "muffin_quick_bread"];

/// How long a bake of this size and style cools where nobody says.
fn usual(recipe: &Recipe, part: &ReworkedComponent) -> &'static Usual {
    let cake = |key: &str| CAKES.contains(&key);
    let style = part.style.map(|s| s.style.key());
    table::of(match Piece::of(recipe) {
        Some(Piece::Loaf | Piece::Free) => "cool_deep",
        Some(Piece::Small) => "cool_small",
        None if style.is_some_and(cake) => "cool_cake",
        None => "cool",
    })
}

/// A bake cools as long as is usual for its size where nobody says.
pub(super) fn by_size(recipe: &Recipe, part: &ReworkedComponent, out: &mut [Placed]) {
    let row = usual(recipe, part);
    // What is baked again is sliced first, not eaten.
    let last = out.iter().rposition(|p| p.draft.what == "bake");
    let again = |n: usize| last.is_some_and(|last| n < last) && row.key == "cool_cake";
    let mut baked = false;
    for (n, p) in out.iter_mut().enumerate() {
        match p.draft.what {
            "bake" => baked = true,
            "boil" | "fry" => baked = false,
            "cool" if baked && !again(n) && p.draft.wait_basis == Basis::Guess => {
                if let Some((wait, usual)) = p.draft.wait.as_mut().zip(row.wait) {
                    wait.span = usual.span;
                }
            }
            _ => {}
        }
    }
}

/// Verbs of what goes on or into a bake that is cold.
const ON_COLD: [&str; 8] = [
    "assemble", "cover", "decorate", "frost", "ice", "layer", "pipe", "sandwich",
];

/// Verbs by which a filling comes to a raw dough.
const ON_DOUGH: [&str; 7] = ["fill", "layer", "line", "roll", "shape", "spoon", "spread"];

/// What a bake is called where it is said to be cold.
pub(super) const BAKES: [&str; 14] = [
    "biscuit", "bread", "bun", "cake", "case", "cookie", "crust", "layer", "loaf", "loave", "roll",
    "sponge", "tart", "tray",
];

/// Styles of a dough that a hot filling spoils: those with yeast, and these.
const BUTTERY: [&str; 3] = ["laminated", "pie_pastry", "rolled_cookie"];

/// Frosting and fillings go on what is cool; a boiled filling is cool before it goes on a raw dough.
pub(super) fn before_it_goes_on(build: &Build<'_>, list: &mut Vec<Task>, chains: &[Vec<usize>]) {
    for on in 0..list.len() {
        let Some(step) = list[on].step.and_then(|s| build.recipe.steps.get(s - 1)) else {
            continue;
        };
        // A bake comes out of the oven hot.
        if list[on].what == "take_out" || goes_on_warm(&step.text) {
            continue;
        }
        let name = words(&list[on].name);
        let does = |verbs: &[&str]| name.iter().any(|w| verbs.contains(&w.as_str()));
        let baked_after = (0..list.len()).any(|t| list[t].what == "bake" && reaches(list, on, t));
        if (does(&ON_COLD) || wants_cold(&step.text, &name)) && !baked_after {
            cool_bake(build, list, on);
        }
        let dough = build.w.rework.components[list[on].component].style;
        let raw =
            dough.is_some_and(|s| s.style.is_yeast_dough() || BUTTERY.contains(&s.style.key()));
        if raw && does(&ON_DOUGH) && baked_after {
            for chain in chains {
                cool_filling(list, chain, on);
            }
        }
    }
}

/// Whether the sentence of a step that speaks of a task by its name wants what it is done to cold: 'Glaze when
/// cool', 'Cut the cooled loaf'.
fn wants_cold(text: &str, name: &[String]) -> bool {
    each(text).map(words).any(|said| {
        // 'Pour over the cold loaf', not 'rub in the cold butter'.
        let baked = said
            .windows(2)
            .any(|w| w[0] == "cold" && BAKES.iter().any(|b| w[1] == *b));
        let cold = baked || when_cold(&said);
        cold && name.iter().any(|w| said.contains(w))
    })
}

/// Whether the method wants it put on hot or warm: the words stand in the clause that puts it on, and
/// are not of the place or the water beside it.
fn goes_on_warm(text: &str) -> bool {
    text.split(['.', ';', ',']).any(|clause| {
        let said = words(clause);
        let says = |list: &[&str]| said.iter().any(|w| list.contains(&w.as_str()));
        says(&["hot", "warm"])
            && (says(&ON_COLD) || says(&ON_DOUGH))
            && !says(&["place", "spot", "room", "oven", "water", "knife"])
    })
}

/// Whether a task leaves what it holds cold.
fn cools(t: &Task) -> bool {
    let long = t.wait.is_some_and(|w| w.span.least >= SHORT_COOL);
    matches!(
        t.what,
        "cool" | "cool_rolls" | "cool_loaf" | "chill" | "freeze"
    ) && long
}

/// What goes on a bake waits until that is cool.
fn cool_bake(build: &Build<'_>, list: &mut Vec<Task>, on: usize) {
    let bakes = (0..list.len()).filter(|&t| list[t].what == "bake" && reaches(list, t, on));
    let bakes: Vec<usize> = bakes.collect();
    for bake in bakes {
        let cold = |t: usize| cools(&list[t]) && reaches(list, bake, t);
        if (0..list.len()).any(|t| cold(t) && reaches(list, t, on)) {
            continue;
        }
        if let Some(t) = (0..list.len()).find(|&t| cold(t) && !reaches(list, on, t)) {
            order(list, t, on);
            continue;
        }
        let baked = list[on].after.iter().copied();
        let after: Vec<usize> = baked
            .filter(|&a| a == bake || reaches(list, bake, a))
            .collect();
        for &a in &after {
            list[a].stands = list[a].stands.min(COOLS_ON);
        }
        let why = "The method does not say how long: what goes on a warm bake melts and slides. Ready when no warmth is felt underneath.";
        let row = usual(
            build.recipe,
            &build.w.rework.components[list[bake].component],
        );
        // By this name, whatever its size.
        let usual = Usual {
            wait: row.wait,
            ..table::of("cool").clone()
        };
        insert(list, (bake, &usual, "Cool completely"), after, on, why);
    }
}

/// Whether a task leaves what it holds hot: 'Mix flour, boil milk' is mixed first.
fn is_hot(t: &Task) -> bool {
    let says = |w: &String| matches!(w.as_str(), "boil" | "fry" | "simmer");
    matches!(t.what, "boil" | "fry") || t.wait.is_none() && words(&t.name).iter().any(says)
}

/// A boiled filling waits until it is cool, if it goes on a raw dough next.
fn cool_filling(list: &mut Vec<Task>, chain: &[usize], on: usize) {
    let Some(hot) = chain.iter().rposition(|&t| is_hot(&list[t])) else {
        return;
    };
    let end = chain.last().copied().unwrap_or_default();
    if chain.contains(&on)
        || chain[hot..].iter().any(|&t| cools(&list[t]))
        || !list[on].after.contains(&end)
    {
        return;
    }
    let why = "The method does not say so: hot, it melts the butter of the dough and wakes its yeast too soon, or kills it. Spread it thin to cool; ready when it is cool to the touch.";
    let row = table::of("cool_filling");
    insert(list, (end, row, "Cool"), vec![end], on, why);
}

/// Puts a cooling between what was made and what it goes on or under.
fn insert(
    list: &mut Vec<Task>,
    (of, usual, name): (usize, &Usual, &str),
    after: Vec<usize>,
    on: usize,
    why: &str,
) {
    let task = Task {
        after,
        notes: vec![why.to_owned()],
        ..Task::usual((list[of].component, &list[of].of), usual, name)
    };
    let new = list.len();
    list[on].after.retain(|a| !task.after.contains(a));
    list[on].after.push(new);
    list.push(task);
}

/// A bread of this kind cools to the middle before it is cut.
pub(super) fn before_cutting(build: &Build<'_>, list: &mut Vec<Task>, chains: &[Vec<usize>]) {
    for c in 0..chains.len() {
        let component = &build.w.rework.components[c];
        // Its bake may stand with the part that uses it.
        let stands = build.owners.iter().zip(build.chains).rev();
        let mut with = stands.filter(|(o, _)| **o == c).map(|(_, s)| *s);
        let chain = with
            .find(|&s| chains[s].iter().any(|&t| list[t].what == "bake"))
            .map_or(&chains[c], |s| &chains[s]);
        let asked = component
            .method_notes
            .iter()
            .any(|n| n.rule == "cool before cutting");
        let Some(baked) = chain.iter().rposition(|&t| list[t].what == "bake") else {
            continue;
        };
        let mut out = chain[baked..].iter().copied();
        let after = out.find(|&t| matches!(list[t].what, "cool" | "take_out"));
        let out = after.unwrap_or(chain[baked]);
        let hot = goes_on_hot(build, list, out, asked);
        if !asked {
            continue;
        }
        let by_method = || Piece::of_method(build.recipe);
        let piece = match Piece::of(build.recipe) {
            Some(Piece::Free) => by_method().filter(|p| *p == Piece::Loaf),
            named => named.or_else(by_method),
        };
        let (small, loaf) = (table::of("cool_rolls"), table::of("cool_loaf"));
        let usual = if piece == Some(Piece::Small) {
            small
        } else {
            loaf
        };
        let Some(mut wait) = usual.wait else { continue };
        if let (None, Some(bake), Some(least)) = (piece, list[baked].wait, small.wait) {
            wait.span = as_thick(bake.span, least.span, wait.span);
        }
        let cools = |t: usize| list[t].what == "cool";
        let wait_least = wait.span.least;
        let long = |t: usize| {
            let wait = list[t].wait;
            wait.is_some_and(|x| x.span.least >= wait_least)
        };
        let last = chain[baked..].iter().copied().rev().find(|&t| cools(t));
        if last.is_some_and(long) {
            continue;
        }
        // The method's own cooling is this one; not where it is brief and something goes on warm.
        let goes_on = |t: usize| list.iter().any(|o| o.after.contains(&t) && !o.left_out);
        let brief = |t: usize| {
            let wait = list[t].wait.filter(|_| list[t].wait_basis != Basis::Guess);
            wait.is_some_and(|w| w.span.least < SHORT_COOL)
        };
        let is_it = |t: &usize| {
            list[*t].wait.is_some_and(|w| w.place == Place::Bench) && !(brief(*t) && goes_on(*t))
        };
        if let Some(cool) = last.filter(is_it) {
            same(&mut list[cool], usual, wait);
            continue;
        }
        let mut task = Task {
            hands: Span::one(0.0),
            hands_basis: Basis::Reworked,
            wait: Some(wait),
            wait_basis: Basis::Reworked,
            notes: vec![CUT_AT.to_owned()],
            ..Task::usual((c, &component.name), usual, BEFORE_CUTTING)
        };
        task.after = if hot.is_empty() { vec![out] } else { hot };
        task.soon.clone_from(&task.after);
        list.push(task);
    }
}

/// How long a bake of unknown thickness cools, between small pieces and a loaf: what bakes longer is thicker, and
/// cools longer by as much (trade: bake times go with the thickness to a power, and so does heat on its way out; that
/// the power is one is common practice, no source).
fn as_thick(bake: Span, small: Span, loaf: Span) -> Span {
    /// A loaf that cools for the whole of its time is baked for so many minutes.
    const OF_A_LOAF: f64 = 45.0;
    let share = bake.usual / OF_A_LOAF;
    let five = |m: f64| (m / 5.0).round() * 5.0;
    let of = |small: f64, loaf: f64| five(loaf * share).clamp(small, loaf);
    Span::of(
        of(small.least, loaf.least),
        of(small.usual, loaf.usual),
        loaf.most,
    )
}

/// Verbs of what soaks into a bake, or melts on it, and goes on while it is hot unless the method wants it cold
/// (common practice, no source).
const ON_HOT: [&str; 3] = ["brush", "soak", "prick"];
/// Verbs of what goes on hot where the method says so.
const SAID_HOT: [&str; 6] = ["dip", "drizzle", "glaze", "pour", "spoon", "toss"];
/// What is to be done as soon as a bake is out is done within so many minutes (common practice, no source).
const AT_ONCE: f64 = 5.0;

/// What goes on a bake that is out of the oven at `out`, before it cools: each is done soon. On a bread that is brushed
/// it does so unsaid.
fn goes_on_hot(build: &Build<'_>, list: &mut [Task], out: usize, bread: bool) -> Vec<usize> {
    let puts = |t: &Task| {
        let step = t.step.and_then(|s| build.recipe.steps.get(s - 1));
        let name = words(&t.name);
        let does = |verbs: &[&str]| name.iter().any(|w| verbs.contains(&w.as_str()));
        step.is_some_and(|s| {
            let said = |when: fn(&str) -> bool| {
                each(&s.text).any(|said| when(said) && name_in(&name, said))
            };
            t.wait.is_none()
                && !wants_cold(&s.text, &name)
                && (bread && does(&ON_HOT)
                    || (does(&ON_HOT) || does(&SAID_HOT)) && said(at_once)
                    || (does(&PUTS_ON) || does(&["sprinkle"])) && said(while_hot))
        })
    };
    before_it_is_cold(list, out, &puts);
    // An empty case is cold again when the tart is baked.
    let between = |c: usize| {
        let what = list[c].what;
        what.starts_with("cool") || what == "bake" && c != out
    };
    let between: Vec<usize> = (0..list.len()).filter(|&c| between(c)).collect();
    let cools = |list: &[Task], t: usize| {
        let mut all = between.iter();
        all.any(|&c| reaches(list, out, c) && reaches(list, c, t))
    };
    let all = 0..list.len();
    let hot: Vec<usize> = all
        .filter(|&t| t != out && reaches(list, out, t) && puts(&list[t]) && !cools(list, t))
        .collect();
    for &t in &hot {
        let before: Vec<usize> = list[t].after.clone();
        let before = before.into_iter().filter(|&b| reaches(list, out, b));
        let before: Vec<usize> = before.collect();
        let step = list[t].step.and_then(|s| build.recipe.steps.get(s - 1));
        let name = words(&list[t].name);
        if step.is_some_and(|s| each(&s.text).any(|said| is_soon(said) && name_in(&name, said))) {
            for &b in &before {
                list[b].stands = list[b].stands.min(AT_ONCE);
            }
        }
        if list[t].soon.is_empty()
            && let Some(s) = step
        {
            list[t].soon_within = soon_within(&s.text);
        }
        list[t].soon.extend(before);
    }
    let last = |&t: &usize| !hot.iter().any(|&o| o != t && reaches(list, t, o));
    hot.iter().copied().filter(last).collect()
}

/// Whether a sentence speaks of one of these words.
fn name_in(name: &[String], said: &str) -> bool {
    let said = words(said);
    name.iter().any(|w| said.contains(w))
}

/// What a step puts on a bake that is warm yet goes on before that cools right through, where no one says for how
/// long: 'Cool in the tin 10 minutes, then on a rack. Boil the syrup; brush it over while still warm.'
fn before_it_is_cold(list: &mut [Task], out: usize, puts: &dyn Fn(&Task) -> bool) {
    let of = list[out].component;
    for t in 0..list.len() {
        // 'Brush while hot. Cool, then brush again.'
        if t == out || !puts(&list[t]) || words(&list[t].name).contains(&"again".to_owned()) {
            continue;
        }
        let through = |l: &usize| {
            let cool = &list[*l];
            let long = cool.wait.is_some_and(|w| w.span.least >= SHORT_COOL);
            let guess = cool.wait_basis == Basis::Guess && cool.what.starts_with("cool");
            let between = reaches(list, out, *l) && reaches(list, *l, t);
            *l != out && cool.component == of && long && guess && between
        };
        let Some(cool) = (0..list.len()).find(through) else {
            continue;
        };
        let before = list[cool].after.clone();
        let next: Vec<usize> = (0..list.len())
            .filter(|&x| list[x].after.contains(&cool) && reaches(list, x, t))
            .collect();
        for x in next {
            list[x].after.retain(|a| *a != cool);
            if list[x].component == of {
                list[x].after.extend(&before);
            }
        }
        for b in before {
            order(list, b, t);
            list[t].soon.push(b);
        }
        order(list, t, cool);
    }
}

/// Whether a sentence wants it done while the bake is hot: 'as soon as they come out', 'over the hot loaf'.
fn at_once(said: &str) -> bool {
    let oven = words(said)
        .windows(2)
        .any(|w| w[0] == "hot" && w[1] == "oven");
    is_soon(said) || !oven && wants_warm(said)
}

/// Whether a sentence wants it done with no delay.
pub(super) fn is_soon(said: &str) -> bool {
    const SOON: [&str; 5] = [
        "as soon as",
        "straight away",
        "straightaway",
        "immediately",
        "at once",
    ];
    let lower = said.to_lowercase();
    SOON.iter().any(|w| lower.contains(w))
}

/// Whether a sentence says of the bake that it is hot or warm yet: 'while still warm', 'while the cake is hot'.
fn while_hot(said: &str) -> bool {
    /// Words from the one to the other.
    const NEAR: usize = 5;
    let said = words(said);
    let mut whiles = (0..said.len()).filter(|&at| matches!(said[at].as_str(), "while" | "whilst"));
    whiles.any(|at| {
        let mut behind = said[at + 1..].iter().take(NEAR);
        behind.any(|w| matches!(w.as_str(), "hot" | "warm"))
    })
}

/// Makes the cooling that a method asks for the one that a bread without gluten needs.
fn same(cool: &mut Task, usual: &'static Usual, wait: Wait) {
    if let Some(theirs) = cool.wait.filter(|_| cool.wait_basis != Basis::Guess) {
        let theirs = super::own::minutes_words(theirs.span.usual);
        cool.was = Some(format!("cool, {theirs}"));
    }
    cool.name = BEFORE_CUTTING.to_owned();
    cool.wait = Some(wait);
    (cool.wait_basis, cool.longest_ours) = (Basis::Reworked, false);
    cool.stands = usual.stands;
    cool.notes.push(CUT_AT.to_owned());
    usual.source.clone_into(&mut cool.source);
}

/// How the cooling of a bread is called.
pub(super) const BEFORE_CUTTING: &str = "Cool before cutting";

/// When a bread may be cut.
pub(super) const CUT_AT: &str = "Ready when the middle is below 35 °C.";

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a bake of 30 minutes is two thirds of a loaf's 45; no shorter than rolls, no longer than a loaf.
    #[test]
    fn a_bake_cools_as_long_as_it_is_thick() {
        let span = |what: &str| table::of(what).wait.expect("a wait").span;
        let (small, loaf) = (span("cool_rolls"), span("cool_loaf"));
        for (bake, least, usual) in [
            (30.0, 120.0, 160.0),
            (8.0, 45.0, 60.0),
            (60.0, 180.0, 240.0),
        ] {
            let cool = as_thick(Span::one(bake), small, loaf);
            assert_eq!((cool.least, cool.usual), (least, usual), "{bake}");
        }
    }

    #[test]
    fn only_what_is_put_on_warm_goes_on_warm() {
        for text in [
            "Spread the hot filling over the dough.",
            "Pour the glaze over while warm; spread the warm jam.",
        ] {
            assert!(goes_on_warm(text), "{text}");
        }
        for text in [
            "Spread with the filling, roll up. Leave in a warm place for 1 hour.",
            "Roll out the dough and spread the filling, then let it rise somewhere warm.",
            "Fill the cake and cut it with a hot knife.",
            "Frost the cooled cake.",
        ] {
            assert!(!goes_on_warm(text), "{text}");
        }
    }
}
