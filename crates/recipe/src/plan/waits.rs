//! How long what waits in a step waits, and where: as the method says, as the rework has it, or as is usual.

use super::cool::BAKES;
use super::ovens::turned_for_the_last;
use super::step::{COLD_LIMIT, Cut, Draft, NIGHT, capital, has};
use super::stretch::goes_on_cooling;
use super::task::{Basis, Place, Span, Wait};
use super::warm::{NO_HARM, WARM_LIMIT};
use crate::recipe::{Activity, Step};
use crate::rework::{in_the_cold, names_no_longest};
use crate::sentences::{each, sentence, singular, words};
use quantity::number_word;

/// What a wait in the fridge is called that thaws.
pub(super) const THAW: &str = "Thaw";

/// What a wait in an oven is called that is switched off.
const COOLS_INSIDE: &str = "Cool in the oven";

/// A night in the fridge may last so long: 8–18 hours (common practice, no source).
const LONGEST_NIGHT: f64 = 1080.0;
/// What is said of what stands over or in boiling water.
const TOP_UP: &str = "Look in now and then, and top up what boils away with boiling water (common practice, no source).";
/// What is said of what simmers.
const LOOK_IN: &str = "Look in now and then (common practice, no source).";

impl Cut<'_> {
    /// 'Steam for 2 hours' is a wait with a glance now and then; what is stirred or boiled down is work.
    pub(super) fn left_on_the_stove(&self, d: &mut Draft, step: &Step, span: Span) {
        if is_stood_over(&step.text, d.at) {
            (d.hands, d.hands_basis) = (span, Basis::Said);
            return;
        }
        d.hands = Span::of(3.0, 5.0, 10.0);
        d.wait = Some(Wait {
            span,
            may: false,
            place: Place::Stove,
            oven: None,
        });
        d.wait_basis = Basis::Said;
        const WATER: [&str; 5] = ["steam", "bain", "water bath", "basin", "pudding cloth"];
        let water = has(sentence(&step.text, d.at), &WATER);
        d.notes
            .push(if water { TOP_UP } else { LOOK_IN }.to_owned());
    }

    /// The time of a method is that of one panful, of one side where it says so: how many panfuls it takes,
    /// it seldom says.
    pub(super) fn fry(&self, d: &mut Draft, said: &str, span: Span) {
        const SEVERAL: [&str; 4] = ["batches", "at a time", "at once", "each batch"];
        let two = has(said, &SIDES);
        let one = of_both_sides(said, span);
        if let Some((all, words)) = self.in_panfuls(said, one) {
            (d.hands, d.hands_basis) = (all, Basis::Said);
            d.notes.push(words);
            return;
        }
        let how_long = super::own::span_words(one);
        let grown = d.hands.times(self.factor.max(0.5));
        if (two || has(said, &SEVERAL)) && one.most < grown.most {
            // Small things, a few at a time.
            d.hands = Span::of(
                one.least.min(grown.least),
                one.usual.max(grown.usual),
                grown.most,
            );
            d.notes.push(format!("One panful takes {how_long}; how many it takes the method does not say: if you know, give a time of your own."));
            return;
        }
        (d.hands, d.hands_basis) = (one, Basis::Said);
        // The leeks for the filling are one panful.
        if d.name.contains(' ') {
            return;
        }
        d.notes.push(format!(
            "{} is one panful: where it takes more, give a time of your own.",
            capital(&how_long)
        ));
    }

    /// The time of all panfuls on the stove, where the method says how many there are, and the words for it.
    pub(super) fn in_panfuls(&self, said: &str, one: Span) -> Option<(Span, String)> {
        let n = (panfuls(said, self.pieces)? * self.factor).ceil();
        let each = super::own::span_words(one);
        let words = match n {
            1.0 => format!("One panful: {each}."),
            n => format!("{n:.0} panfuls, {each} each."),
        };
        Some((one.times(n), words))
    }

    pub(super) fn rise(&self, d: &mut Draft, step: &Step, stated: Option<Span>) {
        let cold = in_the_cold(&step.text, d.at);
        let Some(wait) = &mut d.wait else { return };
        let mut says = stated;
        // The rise before it is left out.
        if let Some(one) = self.one_rise(step.number).filter(|_| stated.is_some()) {
            wait.span = one;
            says = Some(one);
        }
        let long = wait.span.most >= NIGHT;
        if cold || long && self.perishable {
            wait.place = Place::Fridge;
        }
        if !cold && long && self.perishable {
            let hours = super::own::span_words(wait.span);
            d.notes.push(format!(
                "The method does not put this rise of {hours} in the fridge; with egg or milk in it that is too long in the room, so it is planned in the fridge, where it rises more slowly."
            ));
            d.was = Some(format!("rise, {hours} out of the fridge"));
        }
        if long {
            wait.may = true;
            // The text's own longest stands.
            let own = stated.is_some_and(|s| s.most > s.least);
            let own = own && !names_no_longest(&step.text, d.at);
            if wait.place.is_cold() && !own {
                wait.span.most = wait.span.most.max(LONGEST_NIGHT);
            }
            return;
        }
        if !self.yeast_dough() {
            return;
        }
        // It is to grow about half as far as one of wheat: somebody looks from half the time.
        if let Some(s) = stated {
            d.was = Some(format!("rise, {}", super::own::span_words(s)));
        }
        if let Some(s) = says {
            wait.span = Span::of(s.least / 2.0, s.usual * 0.75, s.most);
            d.wait_basis = Basis::Reworked;
        }
        d.notes.push(format!(
            "{} ready at 1.3–1.8 times the volume, when a dent half returns.",
            super::warm::look_from(wait.span.least)
        ));
    }

    pub(super) fn rest(
        &self,
        d: &mut Draft,
        step: &Step,
        a: Activity,
        stated: Option<Span>,
        said: &str,
    ) {
        let (text, at, step) = (&step.text, d.at, step.number);
        let Some(wait) = &mut d.wait else { return };
        // Fish, meat and yolks are cured in the cold, whether it is said or not.
        let cures = says_cure(said) && wait.span.most > WARM_LIMIT;
        if a == Activity::Rest && (in_the_cold(text, at) || cures) {
            wait.place = Place::Fridge;
        }
        if a == Activity::Rest && (says_in_the_oven(said) || was_turned_off(text, at)) {
            wait.place = Place::Oven;
            // What was baked in it is left to cool there.
            let baked = self.bakes.iter().any(|b| (b.step, b.at) < (step, at));
            if baked && (cools_inside(said) || was_turned_off(text, at)) {
                COOLS_INSIDE.clone_into(&mut d.name);
            }
        }
        if a == Activity::Rest
            && let Some(verb) = soaks(text, at)
        {
            d.name = capital(verb);
        }
        // 'At least 30 minutes, or overnight' with egg or milk: in the fridge.
        if a == Activity::Rest
            && self.perishable
            && stated.is_some_and(to_a_night)
            && wait.place == Place::Bench
        {
            wait.place = Place::Fridge;
        }
        let rework = self.reworked.and_then(|c| c.rest.as_ref());
        if let Some(rest) = rework.filter(|r| !r.kept && r.step == Some(step))
            && stated.is_none_or(|s| s.most >= 10.0)
            && !stated.is_some_and(|s| to_a_night(s) && s.least >= Span::from(rest.minutes).least)
        {
            d.was = stated.map(|s| format!("{}, {}", a.word(), super::own::span_words(s)));
            wait.span = Span::from(rest.minutes);
            if rest.is_cold() && wait.place == Place::Bench {
                wait.place = Place::Fridge;
            }
            d.wait_basis = Basis::Reworked;
            d.source.clone_from(&rest.source);
            d.notes.push(format!("{}.", capital(rest.why)));
            return;
        }
        let Some(s) = stated else { return };
        if wait.place == Place::Fridge && is_chilled_up_to(text, at) {
            wait.span = Span::of(0.0, 0.0, s.most.min(COLD_LIMIT));
            d.optional = Some("nothing: it goes on at once".to_owned());
            return;
        }
        if wait.place == Place::Fridge && has(said, &["thaw", "defrost"]) {
            THAW.clone_into(&mut d.name);
        }
        let open = names_no_longest(text, at);
        // A little longer does no harm; in the fridge, a day does none.
        let most = match (wait.place, self.yeast_dough() && s.most >= NIGHT) {
            // The text's own longest stands.
            (Place::Fridge, _) if !open && s.most > s.least => s.most,
            (Place::Fridge, true) => LONGEST_NIGHT,
            (Place::Fridge, false) => COLD_LIMIT,
            (Place::Freezer, _) => s.most * 2.0,
            (Place::Oven | Place::Stove, _) => s.most,
            (Place::Bench, _) if !open => s.most,
            (Place::Bench, _) => (s.most * 1.5).max(s.most + 5.0),
        };
        wait.span.most = most.max(s.most);
        wait.span.usual = s.usual;
        d.longest_ours = most > s.most;
        if wait.place == Place::Fridge && most > s.most && !open {
            d.notes.push(format!(
                "The method says {}; up to {} {NO_HARM} (common practice, no source).",
                super::own::span_words(s),
                super::own::minutes_words(most)
            ));
        }
    }

    pub(super) fn cool(&self, d: &mut Draft, step: &Step, stated: Option<Span>, said: &str) {
        let cold = in_the_cold(&step.text, d.at);
        let Some(wait) = &mut d.wait else { return };
        if cold {
            wait.place = Place::Fridge;
        } else if cools_inside(said) {
            wait.place = Place::Oven;
        }
        if let Some(s) = stated {
            wait.span.most = if goes_on_cooling(&step.text, d.at).is_some() {
                s.most
            } else if has(said, &["warm", "hot"]) {
                s.most + 15.0
            } else {
                s.most.max(720.0)
            };
            d.longest_ours = wait.span.most > s.most;
        }
    }

    pub(super) fn bake(&self, d: &mut Draft, step: &Step, at: usize) {
        let Some(wait) = &mut d.wait else { return };
        let found = self
            .bakes
            .iter()
            .find(|b| b.step == step.number && b.at == at);
        wait.oven = found.and_then(|b| b.oven).map(|t| t.as_celsius());
        // 'Bake as above'.
        if let Some(said) = found.and_then(|b| b.stated) {
            (wait.span, d.wait_basis) = (Span::from(said), Basis::Said);
        }
        let reworked = self
            .reworked
            .filter(|c| c.changes.iter().any(|x| x.what == "oven"));
        let here = words(sentence(&step.text, at));
        let says = |verb: &str| here.iter().any(|w| w == verb);
        // A stew in the oven takes as long as it did; not the rounds that are laid 'over the stew' and baked.
        let stews = has(sentence(&step.text, at), &STEWS) && !says("bake");
        if let (Some(_), Some(b)) = (reworked.filter(|_| !stews), found)
            && let (Some(ours), Some(theirs)) = (b.reworked, b.stated)
        {
            wait.span = Span::from(ours);
            d.wait_basis = Basis::Reworked;
            d.was = Some(format!(
                "bake, {}",
                super::own::span_words(Span::from(theirs))
            ));
        }
        let verb = if says("roast") && !says("bake") {
            "Roast"
        } else {
            "Bake"
        };
        d.name = match baked_for(step, at) {
            Some(what) => format!("{verb} {what}"),
            None => verb.to_owned(),
        };
        if let Some(said) = turned_for_the_last(&step.text)
            && step.timed_bakes().nth(1).is_none()
        {
            d.notes.push(format!("The method says: '{}.'", said.trim()));
        }
        if has(&step.text, &LOADS) {
            d.notes.push(MORE_LOADS.to_owned());
        }
    }
}

/// What a time is for where a step has several: 'the loaf for 45 minutes and the muffins for 20 minutes'.
fn baked_for(step: &Step, at: usize) -> Option<&str> {
    let before = step.text.get(..at)?.trim_end().strip_suffix(" for")?;
    let what = before.rsplit(|c: char| !c.is_alphabetic()).next()?;
    let one = singular(what);
    let bake = BAKES.contains(&one) || matches!(one, "muffin" | "cupcake" | "scone");
    (bake && step.timed_bakes().nth(1).is_some()).then_some(what)
}

/// Words of a time that is one side's.
const SIDES: [&str; 5] = [
    "a side",
    "each side",
    "per side",
    "both sides",
    "other side",
];

/// The time of both sides, where a sentence gives that of one.
pub(super) fn of_both_sides(said: &str, span: Span) -> Span {
    if has(said, &SIDES) {
        span.times(2.0)
    } else {
        span
    }
}

/// How many panfuls a sentence makes of so many pieces, a part of one too: 'in two batches', '3 at a time'.
fn panfuls(said: &str, pieces: Option<f64>) -> Option<f64> {
    let words = words(said);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let number = |w: &str| number_word(w).or_else(|| w.parse().ok()).map(f64::from);
    // 'Batches' as [`words`] has it.
    let batches = words.windows(3).find_map(|w| match w {
        ["in", n, "batche" | "lot"] => number(n),
        _ => None,
    });
    // 'Boil for 1 minute, then beat in the eggs one at a time' is one panful.
    const PUTS_IN: [&str; 8] = [
        "add", "adding", "beat", "beating", "egg", "stir", "stirring", "yolk",
    ];
    let at_a_time = || {
        let one = words.iter().any(|w| PUTS_IN.contains(w));
        words.windows(4).find_map(|w| match w {
            [n, "at", "a", "time"] if !one => number(n),
            _ => None,
        })
    };
    batches.or_else(|| Some(pieces? / at_a_time().filter(|n| *n > 0.0)?))
}

/// Words of what cooks in the oven and is no bake.
const STEWS: [&str; 4] = ["cook in the oven", "braise", "casserole", "stew"];

/// Words of a bake that comes again with the rest.
const LOADS: [&str; 6] = [
    "repeat with the",
    "bake in batches",
    "tray at a time",
    "sheet at a time",
    "bake the rest",
    "bake the second",
];
/// What is said of it.
const MORE_LOADS: &str = "The method bakes it in more than one load, and one is planned: where it does not all go in at once, give this step the time of all.";

/// Whether a sentence leaves something in the oven, where that is a place: 'while the oven heats' is none.
fn says_in_the_oven(said: &str) -> bool {
    const KINDS: [&str; 14] = [
        "a", "an", "closed", "cold", "cool", "cooling", "low", "off", "open", "switched", "the",
        "turned", "warm", "your",
    ];
    let all = words(said);
    let place = |at: usize| {
        let mut before = all[..at].iter().rev().map(String::as_str);
        let first = before.find(|w| !KINDS.contains(w));
        let off = at > 0 && all[at - 1] == "off";
        matches!(first, Some("in" | "into" | "inside")) || off && first == Some("to")
    };
    let oven = |at: &usize| all[*at] == "oven";
    let mut ovens = (0..all.len()).filter(oven);
    // 'Turn the oven off and leave it inside.'
    let off = ovens.clone().next().is_some() && all.iter().any(|w| w == "off");
    // 'Switch off the oven and leave for 1 hour.'
    let within = has(said, &["inside", " in it", "door", "leave"]) && !has(said, &OUT_OF_IT);
    ovens.any(place) || off && within
}

/// Whether the sentence before turns the oven off, and what is left for a time stays in it: 'Turn the oven off. Leave
/// for 1 hour.'
fn was_turned_off(text: &str, at: usize) -> bool {
    let all: Vec<&str> = each(text).collect();
    let mine = sentence(text, at);
    let here = all.iter().position(|s| s.as_ptr() == mine.as_ptr());
    let before = here.and_then(|n| n.checked_sub(1)).map_or("", |n| all[n]);
    let off = words(before).iter().any(|w| w == "off") && has(before, &["oven"]);
    off && has(mine, &["leave"]) && !has(before, &OUT_OF_IT) && !has(mine, &OUT_OF_IT)
}

/// The verb by which the clause before a byte, or the word there, steeps something: 'Soak the fruit in the tea
/// overnight' is a wait of that name.
fn soaks(text: &str, at: usize) -> Option<&'static str> {
    const SOAKS: [&str; 4] = ["soak", "steep", "macerate", "infuse"];
    let said = sentence(text, at);
    let from = at - (said.as_ptr() as usize - text.as_ptr() as usize);
    let before = said.get(..from)?.rsplit([',', ';']).next()?;
    let here = words(said.get(from..)?).into_iter().take(1);
    let mut all = words(before).into_iter().chain(here);
    all.find_map(|w| SOAKS.into_iter().find(|s| *s == w))
}

/// Words of what no longer stands in its oven.
const OUT_OF_IT: [&str; 8] = [
    "rack",
    "out of",
    "from the oven",
    "remove",
    "take ",
    "lift",
    "turn out",
    "bench",
];

/// Whether somebody stands over what a step has on the stove at a byte of its text: it is stirred, in its sentence
/// or the next, or it is boiled down.
fn is_stood_over(text: &str, at: usize) -> bool {
    const LEFT: [&str; 4] = ["without stirring", "not stir", "n't stir", "no stirring"];
    const OFTEN: [&str; 8] = [
        "all the time",
        "always",
        "constant",
        "every",
        "from time to time",
        "now and then",
        "occasional",
        "often",
    ];
    const LEFT_ALONE: [&str; 4] = ["poach", "steam", "basin", "pudding"];
    const DOWN: [&str; 7] = [
        "jam",
        "marmalade",
        "chutney",
        "caramel",
        "syrup",
        "reduc",
        "thicken",
    ];
    const HEAT: [&str; 4] = [
        "reduce the heat",
        "reduce heat",
        "reduce to a",
        "reduce to low",
    ];
    let stirs = |said: &str| has(said, &["stir", "whisk"]) && !has(said, &LEFT);
    let said = sentence(text, at);
    let end = said.as_ptr() as usize - text.as_ptr() as usize + said.len();
    let next = text.get(end..).and_then(|t| each(t).next());
    let mut down = said.to_lowercase();
    for heat in HEAT {
        down = down.replace(heat, "");
    }
    // 'Poach in the syrup', 'steam the syrup pudding' boil nothing down.
    let until = down.split_once("until ").map_or("", |(_, until)| until);
    let down = has(until, &["thick"]) || has(&down, &DOWN) && !has(&down, &LEFT_ALONE);
    stirs(said) || next.is_some_and(|n| stirs(n) && has(n, &OFTEN)) || down
}

/// Whether a time goes from some minutes to a night.
fn to_a_night(s: Span) -> bool {
    s.least < NIGHT && s.most >= NIGHT
}

/// Whether a sentence leaves a bake to cool in its oven: not 'switch it off, cool on a rack'.
fn cools_inside(said: &str) -> bool {
    let off = |w: &String| matches!(w.as_str(), "off" | "ajar" | "door");
    says_in_the_oven(said) && words(said).iter().any(off) && !has(said, &OUT_OF_IT)
}

/// Whether a sentence cures something: not 'Secure the lid'.
fn says_cure(said: &str) -> bool {
    let mut words = words(said).into_iter();
    words.any(|w| matches!(w.as_str(), "cure" | "curing"))
}

/// Whether a time at a byte is how long something may be chilled on the way: 'turn out and chill for up to 24 hours',
/// not 'it can be chilled for up to 3 days'.
pub(super) fn is_chilled_up_to(text: &str, at: usize) -> bool {
    const KEPT: [&str; 9] = [
        "can",
        "could",
        "fridge",
        "if",
        "keep",
        "leftovers",
        "may",
        "store",
        "will",
    ];
    let said = sentence(text, at);
    let from = said.as_ptr() as usize - text.as_ptr() as usize;
    let before = text.get(from..at).map(words).unwrap_or_default();
    let orders = |w: &String| w == "chill" || w == "refrigerate";
    before.ends_with(&["up".to_owned(), "to".to_owned()])
        && before.iter().any(orders)
        && !before.iter().any(|w| KEPT.contains(&w.as_str()))
}
