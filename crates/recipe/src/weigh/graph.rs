//! Components that use one another: which item uses which, in what order they are weighed, and what
//! a share or a rest comes to.

use super::item::counted;
use super::{Basis, WeighError, Weighed};
use crate::line::{Item, Share};
use crate::read::same_part;
use crate::{Doubt, DoubtCode, Recipe};
use larder::{Larder, State};
use quantity::{Hold, Locale, Mass, Quantity, Spread};

/// What comes off a bake as it is cut or hollowed out.
const COMES_OFF: [&str; 13] = [
    "crumb",
    "crumbs",
    "cuttings",
    "lid",
    "lids",
    "middles",
    "off-cuts",
    "offcuts",
    "scraps",
    "top",
    "tops",
    "trimming",
    "trimmings",
];

/// Words before it; with any other, 'seeds for tops of the buns', a line is of a food.
const OF_NO_FOOD: [&str; 12] = [
    "all",
    "any",
    "baked",
    "cut",
    "cut-off",
    "hollowed-out",
    "leftover",
    "reserved",
    "saved",
    "some",
    "sliced-off",
    "the",
];

/// What a line takes off a bake: the buns of 'crumbs from the buns', the cake of 'the cut-off tops of the cake
/// above'.
fn taken_off(words: &str) -> Option<&str> {
    let (off, bake) = [" from the ", " of the ", " off the "]
        .iter()
        .find_map(|joint| words.split_once(joint))?;
    let mut off = off.split_whitespace().rev();
    let comes_off = COMES_OFF.contains(&off.next()?) && off.all(|w| OF_NO_FOOD.contains(&w));
    let bake = bake.trim();
    comes_off.then(|| bake.strip_suffix(" above").unwrap_or(bake))
}

/// Whether a line takes something off a bake and does not say how much.
fn is_taken_off_unweighed(item: &Item, words: &str) -> bool {
    item.amounts.is_empty() && taken_off(&plain(words)).is_some()
}

/// A name without what stands behind it, in small letters.
fn plain(words: &str) -> String {
    let name = words.split([',', '(']).next().unwrap_or(words);
    name.trim().to_lowercase()
}

/// The component an item uses: `Some(None)` when it asks for one that is not there.
pub(crate) fn uses(
    names: &[String],
    own: usize,
    item: &Item,
    words: &str,
) -> Option<Option<usize>> {
    let others =
        |f: &dyn Fn(&str) -> bool| (0..names.len()).find(|&i| !names[i].is_empty() && f(&names[i]));
    let plain = plain(words);
    if let Some(bake) = taken_off(&plain)
        && let Some(found) = others(&|n| same_part(n, bake)).filter(|c| *c != own)
    {
        return Some(Some(found));
    }
    if let Some(r) = &item.reference {
        let found = others(&|n| n == r.name).or_else(|| others(&|n| same_part(n, &r.name)));
        return Some(found);
    }
    // '50 g of the buns' is of the buns made here, whatever food is called so as well.
    let plain = plain
        .strip_prefix("of the ")
        .map_or(&*plain, |of| of.strip_suffix(" above").unwrap_or(of));
    let exact = (0..names.len()).find(|&i| i != own && !names[i].is_empty() && names[i] == plain);
    exact.map(Some)
}

/// Component places, each after those it uses.
pub(super) fn order(
    recipe: &Recipe,
    parts: &[Vec<Weighed>],
    names: &[String],
) -> Result<Vec<usize>, WeighError> {
    fn visit(
        c: usize,
        parts: &[Vec<Weighed>],
        state: &mut [u8],
        path: &mut Vec<usize>,
        out: &mut Vec<usize>,
    ) -> Result<(), (usize, usize)> {
        state[c] = 1;
        path.push(c);
        for w in &parts[c] {
            let Some(next) = w.component else { continue };
            match state[next] {
                0 => visit(next, parts, state, path, out)?,
                1 => {
                    path.push(next);
                    return Err((c, w.line));
                }
                _ => {}
            }
        }
        path.pop();
        state[c] = 2;
        out.push(c);
        Ok(())
    }
    let mut state = vec![0; parts.len()];
    let mut out = Vec::new();
    for c in 0..parts.len() {
        let mut path = Vec::new();
        if state[c] == 0
            && let Err((at, line)) = visit(c, parts, &mut state, &mut path, &mut out)
        {
            let last = path.last().copied().unwrap_or(at);
            let from = path.iter().position(|p| *p == last).unwrap_or(0);
            let text = &recipe.components[at].lines[line];
            let span = text
                .items
                .iter()
                .find_map(|i| i.reference.as_ref().map(|r| r.span.start))
                .unwrap_or_else(|| text.items.first().map_or(0, |i| i.name.start));
            let column = text.clean.get(..span).map_or(1, |s| s.chars().count() + 1);
            return Err(WeighError::Cycle {
                line: text.number,
                column,
                path: path[from..].iter().map(|&p| names[p].clone()).collect(),
            });
        }
    }
    Ok(out)
}

/// Gives uses by share their grams, once the used component is weighed.
pub(super) fn resolve_uses(
    c: usize,
    recipe: &Recipe,
    parts: &mut [Vec<Weighed>],
    makes: &[Spread<Mass>],
    larder: &Larder,
    locale: Locale,
) {
    for w in &mut parts[c] {
        let Some(other) = w.component else { continue };
        if w.basis == Some(Basis::Own) {
            continue;
        }
        let line = &recipe.components[c].lines[w.line];
        let item = &line.items[w.item];
        if is_taken_off_unweighed(item, line.words(&item.name)) {
            continue;
        }
        let share = match item.reference.as_ref().map(|r| r.share) {
            Some(Share::Part(p)) => Some(p),
            Some(Share::Rest) => None,
            None if item.whole_parts().is_some() => item.whole_parts(),
            Some(Share::Amount) | None if w.grams.is_none() && item.amounts.is_empty() => Some(1.0),
            _ => None,
        };
        if let Some(p) = share {
            w.grams = Some(makes[other].scaled(p));
            w.basis = Some(Basis::Component);
        } else if w.grams.is_none()
            && let Some(a) = item.amounts.first()
        {
            // '2 tbsp of the glaze': by the volume of water, a guess.
            if let Some(Hold::Volume(v)) = a.unit.map(|u| u.hold(a.locale.unwrap_or(locale))) {
                let water = larder
                    .by_key("water")
                    .and_then(|f| larder.weigh_volume(f, v, ["cup", "tbsp", "tsp"], State::Usual));
                w.grams = water.map(|x| {
                    let g = counted(x.grams, a);
                    Spread::new(g.low() * 0.6, g.likely(), g.high() * 1.4)
                });
                w.basis = Some(Basis::Guess(
                    "a volume of a component, weighed as water".to_owned(),
                ));
            }
        } else if w.grams.is_some() {
            w.basis = Some(Basis::Stated);
        }
    }
}

/// Gives 'the rest' what the other uses leave.
pub(super) fn resolve_rests(
    recipe: &Recipe,
    parts: &mut [Vec<Weighed>],
    makes: &[Spread<Mass>],
    doubts: &mut Vec<(usize, usize, Doubt)>,
) {
    let rest = |recipe: &Recipe, c: usize, w: &Weighed| {
        let item = &recipe.components[c].lines[w.line].items[w.item];
        w.component.is_some()
            && item
                .reference
                .as_ref()
                .is_some_and(|r| r.share == Share::Rest)
            && w.grams.is_none()
    };
    for c in 0..parts.len() {
        for i in 0..parts[c].len() {
            if !rest(recipe, c, &parts[c][i]) {
                continue;
            }
            let Some(other) = parts[c][i].component else {
                continue;
            };
            let used: Vec<Spread<Mass>> = parts
                .iter()
                .flatten()
                .filter(|w| w.component == Some(other))
                .filter_map(|w| w.grams)
                .collect();
            let used = Spread::sum_independent(used);
            let left = |a: Mass, b: Mass| Mass::grams((a - b).as_grams().max(0.0));
            let m = makes[other];
            parts[c][i].grams = Some(Spread::new(
                left(m.low(), used.high()),
                left(m.likely(), used.likely()),
                left(m.high(), used.low()),
            ));
            parts[c][i].basis = Some(Basis::Component);
            if m.likely().value() <= used.likely().value() {
                let line = parts[c][i].line;
                doubts.push((
                    c,
                    line,
                    Doubt::new(
                        DoubtCode::ComponentShort,
                        "nothing is left for this: the other uses take all of it",
                    ),
                ));
            }
        }
    }
}
