//! What a step puts on something, and what it only makes or serves beside that.

use super::build::Build;
use super::deed::verbs;
use crate::aside::{beside, taking};
use crate::read;
use crate::recipe::Step;
use crate::rework::Whose;
use crate::sentences::{each, words};

/// Words for what something is put on or into.
pub(super) const ON_TOP: [&str; 7] = ["top", "over", "tin", "pan", "dish", "case", "base"];

/// Verbs that put something on a bake.
pub(super) const PUTS_ON: [&str; 18] = [
    "brush", "coat", "cover", "decorate", "dip", "drizzle", "dust", "fill", "frost", "glaze",
    "ice", "ladle", "pipe", "pour", "sandwich", "scatter", "spoon", "spread",
];

/// Whether words put something on what stands in a tin: 'on top', 'into the tin'; not 'into a 20 cm tin', which is
/// another.
pub(super) fn is_on_top(text: &[String]) -> bool {
    let new = |i: usize| {
        let before = text[..i].iter().rev().take(5);
        before
            .take_while(|w| !matches!(w.as_str(), "the" | "over" | "and"))
            .any(|w| w == "a" || w == "an")
    };
    let put = |i: usize| match ON_TOP.iter().position(|w| text[i] == *w) {
        // 'Stir over a low heat', 'over simmering water'.
        Some(_) if is_over_heat(&text[i..]) => false,
        // 'Top' and 'over' are no tins.
        Some(0 | 1) => true,
        Some(_) => !new(i),
        None => false,
    };
    (0..text.len()).any(put)
}

/// Whether words begin with the heat that something stands over: 'over a low heat', 'over simmering water'.
pub(super) fn is_over_heat(words: &[String]) -> bool {
    const HEAT: [&str; 3] = ["heat", "flame", "water"];
    let over = words.first().is_some_and(|w| w == "over");
    over && words
        .iter()
        .skip(1)
        .take(3)
        .any(|w| HEAT.contains(&w.as_str()))
}

/// Whether a step begins beside what waits, and puts nothing on that: 'Meanwhile, stir the flour into the fat'.
pub(super) fn is_meanwhile(text: &str) -> bool {
    let begins = beside(text).is_some_and(|b| text[..b.clause.start].trim().is_empty());
    let said = words(text);
    begins && !said.iter().any(|w| PUTS_ON.contains(&w.as_str()))
}

/// Whether a step says that it makes its part, which goes on later, and puts nothing on anything: 'For the compote,
/// roast the rhubarb' waits for no cheesecake.
pub(super) fn only_makes(build: &Build<'_>, c: usize, step: &Step) -> bool {
    let later = build.chains.iter().skip(step.number);
    let whose = Whose::of(build.recipe);
    let makes = |s: &str| whose.made(&read::step(step.number, s, None)) == Some(c);
    let said = words(&step.text);
    later.into_iter().any(|&o| o == c)
        && each(&step.text).next().is_some_and(makes)
        && !said.iter().any(|w| PUTS_ON.contains(&w.as_str()))
}

/// Whether a step makes what is served beside a bake, and puts nothing on it: 'Custard, to serve'; 'Pour on
/// the milk, stir until thick. Serve cold' with milk of its own.
pub(super) fn served_beside(build: &Build<'_>, c: usize, text: &str) -> bool {
    let lines = own_lines(build, c);
    let puts = text.split(['.', ',', ';', '!']).any(|said| {
        // 'Until it coats a spoon' is no work.
        let said = words(said.split(" until ").next().unwrap_or(said));
        let says = |list: &[&str]| said.iter().any(|w| list.contains(&w.as_str()));
        let own = said.iter().any(|w| lines.contains(w));
        says(&PUTS_ON) && (!own || says(&ON_TOP))
    });
    let named = words(&build.w.rework.components[c].name);
    let to_serve = named.iter().any(|w| w == "serve" || w == "serving");
    !puts && (to_serve || each(text).any(serves))
}

/// The last word of each line of a part.
pub(super) fn own_lines(build: &Build<'_>, c: usize) -> Vec<String> {
    let lines = build.w.rework.components[c].lines.iter();
    lines.filter_map(|l| words(&l.name).pop()).collect()
}

/// Whether a sentence says how the whole is eaten: 'Serve warm or cold'.
fn serves(sentence: &str) -> bool {
    words(sentence).first().is_some_and(|w| w == "serve")
}

/// Whether a step wants something hot or warm: not where all that it says is 'warm the jam', or how it is
/// served.
pub(super) fn wants_warm(text: &str) -> bool {
    let work: Vec<&str> = each(text).filter(|s| !serves(s)).collect();
    let work = work.join(". ");
    let said = words(&taking(&work));
    let said = said.iter().filter(|w| matches!(w.as_str(), "hot" | "warm"));
    said.count() > verbs(&work).iter().filter(|v| v.1 == "warm").count()
}
