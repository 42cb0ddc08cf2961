//! What makes what, and what is left over.

use maud::{Markup, html};
use quantity::{Mass, Spread, listed};

use super::svg::{
    Frame, Hang, NAME, SMALL, at, cut, figure_width, grams, known, name, rect, text, width,
};

/// A component and what it takes of the others.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Component {
    /// What it is called.
    pub name: String,
    /// Grams that it makes.
    pub makes: f64,
    /// What it takes of other components.
    pub uses: Vec<Use>,
}

impl Component {
    /// A component of a formula or of its rework: its lines by the component each uses, if any,
    /// and their grams.
    pub fn new(
        name: String,
        makes: Spread<Mass>,
        lines: impl Iterator<Item = (Option<usize>, Option<Spread<Mass>>)>,
    ) -> Self {
        let grams = |g: Spread<Mass>| g.likely().as_grams();
        let uses = lines.filter_map(|(of, taken)| {
            Some(Use {
                of: of?,
                grams: grams(taken?),
            })
        });
        Self {
            name,
            makes: grams(makes),
            uses: uses.collect(),
        }
    }
}

/// What one component takes of another.
#[derive(Debug, Clone, PartialEq)]
pub struct Use {
    /// The other's place in the list.
    pub of: usize,
    /// Grams taken.
    pub grams: f64,
}

/// The block of a component is this wide; bands run to the right of it.
const BLOCK: f64 = 150.0;
/// Words at a band begin here, and the bands' upright parts lie from here on.
const WORDS: f64 = BLOCK + 8.0;
const LANES: (f64, f64) = (272.0, 352.0);
/// Room for one outgoing band with its words.
const OUT: f64 = 24.0;
const GAP: f64 = 14.0;
/// A difference that no scale shows is none.
const TRIFLE: f64 = 0.5;

/// A band from one row to another.
struct Band {
    from: usize,
    to: usize,
    grams: Option<f64>,
    lane: usize,
}

/// What becomes of a component besides its uses.
#[derive(Clone, Copy)]
enum Rest {
    None,
    Over(f64),
    Short(f64),
}

impl Rest {
    fn words(self) -> Option<String> {
        match self {
            Self::None => None,
            Self::Over(g) => Some(format!("{} left over", grams(g))),
            Self::Short(g) => Some(format!("short by {}", grams(g))),
        }
    }
}

/// Components with what they are made of before them, a user right after its makers.
fn order(parts: &[Component]) -> Vec<usize> {
    fn visit(at: usize, parts: &[Component], seen: &mut [bool], out: &mut Vec<usize>) {
        if std::mem::replace(&mut seen[at], true) {
            return;
        }
        for with in parts[at].uses.iter().filter(|u| u.of < parts.len()) {
            visit(with.of, parts, seen, out);
        }
        out.push(at);
    }
    let used = |i: usize| parts.iter().any(|p| p.uses.iter().any(|u| u.of == i));
    let (mut seen, mut out) = (vec![false; parts.len()], Vec::new());
    // From what nobody uses; then what is left, which can only go in circles.
    for i in (0..parts.len()).filter(|i| !used(*i)).chain(0..parts.len()) {
        visit(i, parts, &mut seen, &mut out);
    }
    out
}

/// Bands between rows, and how many lanes they need: bands that run side by side get lanes of
/// their own, the shorter nearer to the blocks.
fn bands(parts: &[Component], order: &[usize]) -> (Vec<Band>, usize) {
    let row = |part: usize| order.iter().position(|o| *o == part).unwrap_or(0);
    let mut bands: Vec<Band> = Vec::new();
    for (to, part) in parts.iter().enumerate() {
        for with in &part.uses {
            if with.of == to || with.of >= parts.len() {
                continue;
            }
            let (from, to, grams) = (row(with.of), row(to), known(with.grams));
            match bands.iter_mut().find(|b| b.from == from && b.to == to) {
                Some(same) => same.grams = same.grams.zip(grams).map(|(a, b)| a + b),
                None => bands.push(Band {
                    from,
                    to,
                    grams,
                    lane: 0,
                }),
            }
        }
    }
    bands.sort_by_key(|b| (b.from.abs_diff(b.to), b.from, b.to));
    let mut lanes = 0;
    for i in 0..bands.len() {
        let (low, high) = (
            bands[i].from.min(bands[i].to),
            bands[i].from.max(bands[i].to),
        );
        let lane = bands[..i]
            .iter()
            .filter(|b| b.from.min(b.to) < high && low < b.from.max(b.to))
            .map(|b| b.lane + 1)
            .max()
            .unwrap_or(0);
        bands[i].lane = lane;
        lanes = lanes.max(lane + 1);
    }
    (bands, lanes)
}

/// What is left of each row, where something of it is used.
fn rests(parts: &[Component], order: &[usize], bands: &[Band]) -> Vec<Rest> {
    order
        .iter()
        .enumerate()
        .map(|(row, part)| {
            let taken: Vec<Option<f64>> = bands
                .iter()
                .filter(|b| b.from == row)
                .map(|b| b.grams)
                .collect();
            let all: Option<f64> = taken.iter().copied().sum();
            match (known(parts[*part].makes), all) {
                (Some(makes), Some(all)) if !taken.is_empty() => {
                    let trifle = TRIFLE.max(0.002 * makes);
                    if makes - all > trifle {
                        Rest::Over(makes - all)
                    } else if all - makes > trifle {
                        Rest::Short(all - makes)
                    } else {
                        Rest::None
                    }
                }
                _ => Rest::None,
            }
        })
        .collect()
}

/// What makes what: each component a block with its grams, bands to what uses it, what is left
/// over or short at its end. Makers stand above what is made of them.
pub fn flow(id: &str, parts: &[Component]) -> Markup {
    if parts.is_empty() {
        return html! {};
    }
    let order = order(parts);
    let (bands, lanes) = bands(parts, &order);
    let rests = rests(parts, &order, &bands);
    let most = parts
        .iter()
        .filter_map(|p| known(p.makes))
        .chain(bands.iter().filter_map(|b| b.grams))
        .fold(1.0, f64::max);
    let step = (LANES.1 - LANES.0) / f64::from(u32::try_from(lanes.max(1)).unwrap_or(1));
    let thickest = (step - 4.0).clamp(2.0, 12.0);
    let thick = |grams: Option<f64>| (thickest * grams.unwrap_or(0.0) / most).clamp(2.0, 12.0);
    let lane = |b: &Band| LANES.0 + step * (f64::from(u32::try_from(b.lane).unwrap_or(0)) + 0.5);

    // Rows: what comes in above, the nearest lane first; what goes out below, the nearest lane
    // last: so arcs lie inside each other and cross no more than they must.
    let ins = |row: usize| {
        let mut some: Vec<usize> = (0..bands.len()).filter(|i| bands[*i].to == row).collect();
        some.sort_by_key(|i| bands[*i].lane);
        some
    };
    let outs = |row: usize| {
        let mut some: Vec<usize> = (0..bands.len()).filter(|i| bands[*i].from == row).collect();
        some.sort_by_key(|i| std::cmp::Reverse(bands[*i].lane));
        some
    };
    let (mut enters, mut leaves) = (vec![0.0; bands.len()], vec![0.0; bands.len()]);
    let mut blocks = Vec::new();
    let mut ends = Vec::new();
    let mut y = 1.0;
    for (row, part) in order.iter().enumerate() {
        let top = y;
        y += 6.0;
        for i in ins(row) {
            let t = thick(bands[i].grams);
            enters[i] = y + t.max(4.0) / 2.0;
            y += t.max(4.0) + 6.0;
        }
        // What stays at the block is nearest to it.
        if let Some(words) = rests[row].words() {
            ends.push((rests[row], words, y + OUT / 2.0));
            y += OUT;
        }
        for i in outs(row) {
            leaves[i] = y + OUT - 7.0;
            y += OUT;
        }
        let lines = if wrapped(&parts[*part].name, BLOCK - 18.0).1.is_some() {
            15.0
        } else {
            0.0
        };
        y = (y + 4.0).max(top + 42.0 + lines);
        blocks.push((&parts[*part], top, y - top));
        y += GAP;
    }

    Frame {
        id,
        kind: "flow",
        height: y - GAP + 1.0,
        title: "What makes what",
        desc: &words(parts, &order, &bands, &rests),
    }
    .draw(&html! {
        // The widest arcs first, so that where two cross the shorter lies on top.
        @for (i, b) in bands.iter().enumerate().rev() {
            @let path = arc(leaves[i], enters[i], lane(b));
            path.pic-edge d=(path) stroke-width=(at(thick(b.grams) + 2.0)) {}
            path.pic-flow d=(path) stroke-width=(at(thick(b.grams))) {}
            path.pic-head d={
                "M" (at(BLOCK + 1.0)) " " (at(enters[i])) "l7 -4v8z"
            } {}
        }
        @for (i, b) in bands.iter().enumerate() {
            @let y = leaves[i] - thick(b.grams) / 2.0 - 4.0;
            @match b.grams {
                Some(g) => {
                    @let figure = grams(g);
                    (text("pic-figure", WORDS, y, Hang::Start, &figure))
                    // A band to the next block is seen; of a longer one it is said where it ends.
                    @if b.to != b.from + 1 && let Some(part) = order.get(b.to) {
                        (into(&parts[*part].name, WORDS + figure_width(&figure, SMALL) + 5.0, y))
                    }
                }
                None => (text("pic-small", WORDS, y, Hang::Start, "weight not known")),
            }
        }
        @for (rest, words, y) in &ends {
            @let class = if matches!(rest, Rest::Short(_)) { "pic-stub pic-stub-short" } else { "pic-stub" };
            path class=(class) d={
                "M" (at(BLOCK)) " " (at(*y)) "h14m0 -5v10"
            } {}
            (text(if matches!(rest, Rest::Short(_)) { "pic-warn" } else { "pic-small pic-strong" },
                BLOCK + 19.0, y + 4.0, Hang::Start, words))
        }
        @for (part, top, high) in &blocks {
            (rect("pic-block", 0.5, *top, BLOCK, *high))
            @let (first, second) = wrapped(&part.name, BLOCK - 18.0);
            @let base = top + 18.0;
            @match second {
                Some(second) => {
                    text.pic-name x="10" y=(at(base)) {
                        @if cut(&second, NAME, BLOCK - 18.0).is_some() { title { (part.name) } }
                        (first)
                        tspan x="10" dy="15" {
                            (cut(&second, NAME, BLOCK - 18.0).unwrap_or(second))
                        }
                    }
                    (makes(part, base + 32.0))
                }
                None => {
                    (name(10.0, base, BLOCK - 18.0, &part.name))
                    (makes(part, base + 16.0))
                }
            }
        }
    })
}

/// Where a band ends, as far as there is room before the lanes.
fn into(name: &str, x: f64, y: f64) -> Markup {
    let words = format!("→ {name}");
    html! {
        text.pic-small x=(at(x)) y=(at(y)) {
            @match cut(&words, SMALL, LANES.0 - 4.0 - x) {
                Some(short) => { title { (words) } (short) }
                None => (words),
            }
        }
    }
}

fn makes(part: &Component, y: f64) -> Markup {
    match known(part.makes) {
        Some(g) => text("pic-figure", 10.0, y, Hang::Start, &grams(g)),
        None => text("pic-small", 10.0, y, Hang::Start, "weight not known"),
    }
}

/// A name broken at a space where it is too long for one line.
fn wrapped(name: &str, room: f64) -> (String, Option<String>) {
    if width(name, NAME) <= room {
        return (name.to_owned(), None);
    }
    let mut breaks = name.match_indices(' ').map(|(i, _)| i);
    match breaks.rfind(|i| width(&name[..*i], NAME) <= room) {
        Some(i) => (name[..i].to_owned(), Some(name[i + 1..].to_owned())),
        None => (name.to_owned(), None),
    }
}

/// Out of a block, down its lane and back in.
fn arc(from: f64, to: f64, lane: f64) -> String {
    let way = (to - from).signum();
    let r = 8.0_f64.min((to - from).abs() / 2.0);
    let [start, lane_in, lane, back] = [BLOCK, lane - r, lane, BLOCK + 7.0].map(at);
    let [top, top_in, low_in, low] = [from, from + way * r, to - way * r, to].map(at);
    format!(
        "M{start} {top}H{lane_in}Q{lane} {top} {lane} {top_in}V{low_in}Q{lane} {low} {lane_in} {low}H{back}"
    )
}

/// All of it as sentences.
fn words(parts: &[Component], order: &[usize], bands: &[Band], rests: &[Rest]) -> String {
    let mut said = Vec::new();
    for (row, part) in order.iter().enumerate() {
        let part = &parts[*part];
        let makes = known(part.makes).map_or("weight not known".to_owned(), grams);
        let mut to: Vec<String> = bands
            .iter()
            .filter(|b| b.from == row)
            .map(|b| {
                let into = order.get(b.to).map_or("", |p| parts[*p].name.as_str());
                let grams = b.grams.map_or("an unknown weight".to_owned(), grams);
                format!("{grams} into {into}")
            })
            .collect();
        to.extend(rests[row].words());
        said.push(match to.is_empty() {
            true => format!("{}, {makes}.", part.name),
            false => format!("{}, {makes}: {}.", part.name, listed(&to)),
        });
    }
    said.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(name: &str, makes: f64, uses: &[(usize, f64)]) -> Component {
        let uses = uses.iter().map(|&(of, grams)| Use { of, grams }).collect();
        Component {
            name: name.to_owned(),
            makes,
            uses,
        }
    }

    #[test]
    fn says_what_goes_where_and_what_is_left() {
        let drawn = flow(
            "f",
            &[
                part("Buns", 900.0, &[(1, 120.0), (2, 90.0)]),
                part("Custard", 150.0, &[]),
                part("Glaze", 60.0, &[]),
            ],
        )
        .into_string();
        let said = "Custard, 150\u{a0}g: 120\u{a0}g into Buns and 30\u{a0}g left over. \
                    Glaze, 60\u{a0}g: 90\u{a0}g into Buns and short by 30\u{a0}g. \
                    Buns, 900\u{a0}g.";
        assert!(drawn.contains(said), "{drawn}");
    }

    #[test]
    fn makers_stand_above_what_is_made_of_them() {
        let parts = [
            part("cake", 1.0, &[(2, 1.0), (1, 1.0)]),
            part("cream", 1.0, &[(3, 1.0)]),
            part("sponge", 1.0, &[]),
            part("curd", 1.0, &[]),
        ];
        assert_eq!(order(&parts), [2, 3, 1, 0]);
        // The short one from curd to cream lies inside the long one from the sponge.
        let (bands, lanes) = bands(&parts, &order(&parts));
        assert_eq!(lanes, 2);
        assert!(bands.iter().all(|b| b.from < b.to));
    }

    #[test]
    fn circles_and_places_that_are_none_do_no_harm() {
        let parts = [
            part("a", 5.0, &[(1, 5.0), (0, 2.0), (7, 1.0)]),
            part("b", 5.0, &[(0, 5.0)]),
        ];
        let drawn = flow("f", &parts).into_string();
        assert_eq!(drawn.matches("pic-flow").count(), 2, "{drawn}");
    }

    #[test]
    fn what_no_scale_shows_is_not_left_over() {
        let drawn =
            flow("f", &[part("a", 100.3, &[]), part("b", 9.0, &[(0, 100.0)])]).into_string();
        assert!(!drawn.contains("left over"), "{drawn}");
    }

    #[test]
    fn an_unknown_weight_is_said() {
        let drawn = flow(
            "f",
            &[part("a", f64::NAN, &[]), part("b", 9.0, &[(0, f64::NAN)])],
        );
        let drawn = drawn.into_string();
        assert!(
            drawn.contains("a, weight not known: an unknown weight into b."),
            "{drawn}"
        );
    }
}
