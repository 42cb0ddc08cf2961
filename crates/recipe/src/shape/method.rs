//! What a recipe's method says of a shape: the fields it fills where nothing is typed.

use super::each::{count_of, is_in_pans, said as plaits};
use super::named::{cutter, strand, strip_width};
use super::offer::layers_of;
use super::{Dough, Kind, Raised, ShapeAsk};
use crate::household::scale_grams;
use crate::recipe::{FactKind, Recipe, Step};
use crate::rework::{Rework, is_filling, is_folded_in, owners, sheet_sides};
use crate::sentences::each;
use crate::size::Batch;
use crate::size::pan::{self, Outline, Pan};
use quantity::{Length, Mass, Spread, number_word};
use std::collections::BTreeMap;

/// A figure of the method, as it would be typed.
#[derive(Debug, Clone, PartialEq)]
pub struct Said {
    /// As it is typed: `40 cm`.
    pub text: String,
    /// The step's number; none of what the batch says.
    pub step: Option<usize>,
    /// How many times what the method says, for a batch of another size; none as it stands there.
    pub times: Option<f64>,
    /// It is a depth, or of a pan whose depth, that no one says: as deep as such tins are.
    pub assumed: bool,
    /// That step is the recipe's, of which the baker's own method says nothing.
    pub of_recipe: bool,
}

impl Said {
    /// A figure of the batch.
    fn of_batch(text: String, assumed: bool) -> Self {
        Self {
            text,
            step: None,
            times: None,
            assumed,
            of_recipe: false,
        }
    }
}

/// What is known of the fields of a component's shape where nothing is typed: the pan that the batch is sized
/// for, else what the method says, else the pan that the recipe names.
///
/// # Arguments
/// * `recipe` — with the steps it is made by, the baker's own where there are some.
#[must_use]
pub fn known(
    rework: &Rework,
    batch: &Batch,
    recipe: &Recipe,
    component: usize,
    kind: Kind,
) -> BTreeMap<&'static str, Said> {
    let mut out = batch_says(rework, batch, component, kind);
    let round = rework.panful_round(component);
    if let Some(said) = &round.said
        && kind != Kind::Roll
    {
        out.extend(pan_says(&said.pan, kind, said.assumed().is_some()));
    }
    let mut says = method_says(recipe, component, kind);
    // An own method that only says 'roll up' leaves the sheet as large as the recipe has it.
    if says.is_empty() {
        says = method_says(&rework.formula.recipe, component, kind);
        let own = *recipe.steps != *rework.formula.recipe.steps;
        says.values_mut().for_each(|s| s.of_recipe = own);
    }
    out.extend(at_size(says, kind, batch.factor_of(component)));
    let sized = batch.pans.as_ref();
    if let Some(sized) = sized.filter(|_| is_in_pans(rework, batch, component)) {
        out.extend(pan_says(&sized.pan, kind, false));
    }
    out
}

/// What a pan says of the fields of a shape: itself, its sides from above, or as a tin to be lined.
fn pan_says(pan: &Pan, kind: Kind, assumed: bool) -> Vec<(&'static str, Said)> {
    let mut out = Vec::new();
    let mut put = |key, text: Option<String>, assumed| {
        out.extend(text.map(|t| (key, Said::of_batch(t, assumed))));
    };
    let side = |l: Length| in_unit_of(pan, l);
    match kind {
        Kind::Fit | Kind::Roll => put("pan", Some(pan.key.clone()), assumed),
        Kind::Layers => put("across", from_above(pan), false),
        Kind::Lattice => put("over", from_above(pan), false),
        Kind::Lining => {
            let rim = from_above(pan);
            match pan.base.map(side) {
                Some(base) => {
                    put("base", Some(base), false);
                    put("top", rim, false);
                }
                None => put("base", rim, false),
            }
            put("deep", pan.depth.map(side), assumed);
        }
        _ => {}
    }
    out
}

/// The same for a batch of another size, at the method's thickness and the method's slices or pieces: more
/// or fewer of them, and the sheet longer or shorter on the side that does not tell how often it is rolled.
#[must_use]
pub fn at_size(
    mut says: BTreeMap<&'static str, Said>,
    kind: Kind,
    factor: f64,
) -> BTreeMap<&'static str, Said> {
    if (factor - 1.0).abs() < NEARLY_ONE || !factor.is_finite() {
        return says;
    }
    let grows = if kind == Kind::Roll {
        "width"
    } else {
        "length"
    };
    for (key, said) in &mut says {
        if said.step.is_none() {
            continue;
        }
        let text = match *key {
            "slices" | "pieces" => said.text.parse::<f64>().ok().map(|n| {
                let n = (n * factor).round().max(1.0);
                format!("{n}")
            }),
            key if key == grows && matches!(kind, Kind::Roll | Kind::Sheet) => {
                let (n, unit) = quantity::typed::front(&said.text);
                n.map(|n| format!("{} {unit}", (n * factor * 2.0).round() / 2.0))
            }
            _ => None,
        };
        if let Some(text) = text {
            (said.text, said.times) = (text, Some(factor));
        }
    }
    says
}

/// Verbs that make a dough a sheet.
const ROLLS: &[&str] = &[
    "roll",
    "rolled",
    "pat",
    "press",
    "stretch",
    "spread",
    "rectangle",
];
/// Verbs that make pieces.
const DIVIDES: &[&str] = &[
    "cut", "divide", "slice", "split", "shape", "form", "portion", "make",
];
/// Words of time, weight and length: a number before one counts no pieces.
const MEASURES: &[&str] = &[
    "cm", "mm", "in", "inch", "inches", "g", "kg", "oz", "lb", "minutes", "minute", "min", "hours",
    "hour", "times", "c", "f", "degrees", "percent",
];
/// Most pieces of one dough.
const MOST: u32 = 200;
/// A batch so near the recipe's own size is of that size.
const NEARLY_ONE: f64 = 0.005;

/// What the method of a component says of the fields of a shape: the sheet it rolls out ('to a 40 × 30
/// cm rectangle'), how thick, into how many it cuts, in which pan it goes.
///
/// # Returns
/// By the field's key; of figures that stand twice the first, of sheets the one that is rolled up.
///
/// # Example
/// ```
/// # use quantity::Locale;
/// # let larder = larder::Larder::built_in().expect("the built-in tables");
/// # use recipe::shape::{Kind, method_says};
/// let text = "Rolls\n\n500 g flour\n300 g water\n7 g yeast\n\n1. Roll to a 40 x 30 cm rectangle, roll up and cut into 12.\n";
/// let reader = recipe::read::Reader::new(&larder, Locale::Metric);
/// let recipe = recipe::read::recipe(text, &reader).expect("a recipe");
/// let says = method_says(&recipe, 0, Kind::Roll);
/// assert_eq!(says["slices"].text, "12");
/// ```
#[must_use]
pub fn method_says(recipe: &Recipe, component: usize, kind: Kind) -> BTreeMap<&'static str, Said> {
    let mut out = BTreeMap::new();
    let owners = owners(recipe);
    let mine = recipe.steps.iter().zip(&owners);
    let mine = mine.filter(|(_, owner)| **owner == component);
    let mine: Vec<&Step> = mine.map(|(step, _)| step).collect();
    // The sheet that is rolled up, not the one that is folded before it.
    let rolled_up = (kind == Kind::Roll)
        .then(|| mine.iter().position(|s| rolls_up(&s.text)))
        .flatten();
    let up_to = |at: usize| mine[..=at].iter().rposition(|s| sheet(s, kind).is_some());
    let last = rolled_up.and_then(up_to);
    for (i, step) in mine.iter().enumerate() {
        let mut put = |key: &'static str, text: String| {
            if kind.field(key).is_some() {
                out.entry(key).or_insert(Said {
                    step: Some(step.number),
                    ..Said::of_batch(text, false)
                });
            }
        };
        if let Some((a, b)) = sheet(step, kind).filter(|_| last.is_none_or(|last| last == i)) {
            let (long, short) = if a.parse_mm() >= b.parse_mm() {
                (&a, &b)
            } else {
                (&b, &a)
            };
            // It is rolled up from the long side, so that the log is as long as that, unless the short
            // one is named.
            let from_short = step.text.to_lowercase().contains("short");
            let (up, along) = match (kind, from_short) {
                (Kind::Roll, false) => (short, long),
                _ => (long, short),
            };
            put("length", up.0.clone());
            put("width", along.0.clone());
        }
        if let Some(n) = layers_of(step).filter(|_| kind == Kind::Layers) {
            put("layers", n.to_string());
        }
        if let Some(n) = pieces(&step.text) {
            put(
                if kind == Kind::Roll {
                    "slices"
                } else {
                    "pieces"
                },
                n.to_string(),
            );
        }
        if let Some(long) = strand(&step.text) {
            put("strand", long);
        }
        if let Some(cutter) = cutter(&step.text) {
            put("cutter", cutter);
        }
        if let Some(wide) = strip_width(&step.text).filter(|_| kind == Kind::Lattice) {
            put("strip", wide);
        }
        // '1 large plait, cuts into 12' is one plait.
        let one = recipe.makes.as_ref().is_none_or(|m| {
            m.count.is_none_or(|n| n == (1.0, 1.0)) || plaits(&m.text) == Some(1.0)
        });
        if let Some(n) = pieces(&step.text).filter(|n| one && (2..=8).contains(n)) {
            put("strands", n.to_string());
        }
        for fact in &step.facts {
            match &fact.kind {
                FactKind::Pan { .. } => {
                    let said = pan::Said::of_fact(step, fact);
                    if let Some(said) = &said
                        && kind == Kind::Layers
                        && let Some(across) = from_above(&said.pan)
                    {
                        put("across", across);
                    }
                    if let Some(said) = said.filter(|p| p.depth.is_known()) {
                        put("pan", said.pan.key);
                    }
                }
                FactKind::Thickness(thick) => {
                    put("thick", format!("{} mm", plain(thick.likely())));
                }
                _ => {}
            }
        }
    }
    // Both sides and the weight give the thickness, which is not a wheat dough's.
    if out.contains_key("length") && out.contains_key("width") {
        out.remove("thick");
    }
    out
}

/// What a shape of a component is made of: what the batch makes of it, of a plait its share ([`count_of`]); for
/// a pan to be filled with the filling and crumbs that are baked with it, as on the Size page. A butter that is
/// folded in is of the dough.
///
/// # Returns
/// Without a weight where something of it could not be weighed.
#[must_use]
pub fn dough_of(rework: &Rework, batch: &Batch, component: usize, kind: Kind) -> Dough {
    let mut panful = rework.panful(component).clone();
    if kind != Kind::Fit {
        // A butter that is folded in is rolled out with the dough.
        let recipe = &rework.formula.recipe;
        let rolled = |c: usize| is_folded_in(recipe, &rework.components[c].name);
        panful.parts.retain(|c| *c == component || rolled(*c));
    }
    let parts = &panful.parts;
    let whole = (kind != Kind::Fit || panful.rest_in.is_none())
        && parts.iter().all(|c| rework.components[*c].unweighed() == 0);
    let all = Spread::sum_independent(parts.iter().map(|c| {
        let share = panful.share(*c);
        batch.components[*c].makes.scaled(share)
    }));
    let factors: Vec<f64> = batch.components.iter().map(|c| c.factor).collect();
    // Each plait is one of so many, and so is each tin.
    let all = all.scaled(1.0 / count_of(rework, batch, component, kind));
    let style = rework.components[component].style.map(|s| s.style);
    // What goes in with a batter has its own weight and about its density.
    let own = batch.components[component].makes.likely().as_grams();
    let grams = all.likely().as_grams();
    let rising = if kind == Kind::Fit && grams > 0.0 {
        (own / grams).min(1.0)
    } else {
        1.0
    };
    Dough {
        raised: Raised::of(style, rework.sets(component)),
        rising,
        ..Dough::new(
            Some(all).filter(|g| whole && g.likely().as_grams() > 0.0),
            panful.density(rework, &factors),
        )
    }
}

/// What the batch says of the fields of a component's shape: the filling that is rolled in it.
#[must_use]
pub fn batch_says(
    rework: &Rework,
    batch: &Batch,
    component: usize,
    kind: Kind,
) -> BTreeMap<&'static str, Said> {
    let parts = rework.panful(component).parts.iter().skip(1);
    let grams: Mass = parts
        .filter(|c| is_filling(&rework.components[**c].name))
        .map(|c| batch.components[*c].makes.likely())
        .sum();
    let text = format!("{} g", scale_grams(grams, false));
    let filling = (kind == Kind::Roll && grams.as_grams() > 0.0)
        .then_some(("filling", Said::of_batch(text, false)));
    filling.into_iter().collect()
}

impl ShapeAsk {
    /// The same with what the method says in the fields where nothing is typed.
    #[must_use]
    pub fn over(&self, method: &BTreeMap<&'static str, Said>) -> Self {
        // Of these one is given: what is typed goes before what the method says.
        const ONE_OF: [&str; 4] = ["strand", "outer", "hole", "finished"];
        let typed = ONE_OF.iter().any(|k| self.says(k).is_some());
        let mut all = self.clone();
        for (key, said) in method {
            let instead = typed && ONE_OF.contains(key);
            if self.says(key).is_none() && !instead {
                all.says.insert((*key).to_owned(), said.text.clone());
            }
        }
        all
    }
}

/// A side as it is typed.
pub(super) struct Side(String);

impl Side {
    fn parse_mm(&self) -> f64 {
        let bare = Length::millimetres(1.0);
        quantity::typed::length(&self.0, bare).map_or(0.0, Length::as_millimetres)
    }
}

fn plain(length: Length) -> f64 {
    (length.as_millimetres() * 10.0).round() / 10.0
}

/// A length in the unit that a pan is written in, as it is typed: `9 in`.
fn in_unit_of(pan: &Pan, length: Length) -> String {
    let (unit, mm) = if pan.inches {
        ("in", 25.4)
    } else {
        ("cm", 10.0)
    };
    format!(
        "{} {unit}",
        (length.as_millimetres() / mm * 100.0).round() / 100.0
    )
}

/// A pan's sides from above, as they are typed; none of rings and basins.
fn from_above(pan: &Pan) -> Option<String> {
    let side = |l: Length| in_unit_of(pan, l);
    match pan.outline {
        Outline::Round { across } => Some(side(across)),
        Outline::Oblong { long, wide } => {
            let (long, wide) = (side(long), side(wide));
            let (long, _) = long.split_once(' ')?;
            Some(format!("{long} x {wide}"))
        }
        Outline::Ring { .. } | Outline::Basin => None,
    }
}

/// The two sides of a sheet that a step rolls out; those of a pan are none.
/// That of a roll is the last one before the step rolls it up.
pub(super) fn sheet(step: &Step, kind: Kind) -> Option<(Side, Side)> {
    let up = step.text.to_lowercase().find("roll up");
    let up = up.filter(|_| kind == Kind::Roll);
    let (mut at, mut a, mut b, mut unit, _) = sheet_sides(&step.text)?;
    let mut from = at;
    while let Some((i, c)) = step.text[from..]
        .char_indices()
        .find(|(_, c)| ".;,".contains(*c))
    {
        from += i + c.len_utf8();
        match step.text.get(from..up.unwrap_or(0)).and_then(sheet_sides) {
            Some((next, long, wide, of, _)) => {
                (at, a, b, unit) = (from + next, long, wide, of);
                from = at;
            }
            None => break,
        }
    }
    let of_pan =
        |f: &crate::recipe::Fact| matches!(f.kind, FactKind::Pan { .. }) && f.span.contains(&at);
    let before = step.text.get(..at)?.to_lowercase();
    let rolls = before
        .split(|c: char| !c.is_alphabetic())
        .any(|w| ROLLS.contains(&w));
    (rolls && !step.facts.iter().any(of_pan))
        .then(|| (Side(format!("{a} {unit}")), Side(format!("{b} {unit}"))))
}

pub(crate) fn rolls_up(text: &str) -> bool {
    let text = text.to_lowercase();
    let up = [
        "roll up",
        "roll it up",
        "roll the dough up",
        "roll tightly",
        "rolled up",
        "into a log",
        "into a roll",
    ];
    up.iter().any(|w| text.contains(w))
}

/// Into how many a step cuts: 'cut into 12', 'shape into eight balls', 'cut 12 slices'.
fn pieces(text: &str) -> Option<u32> {
    let lower = text.to_lowercase();
    each(&lower).find_map(|sentence| {
        let words: Vec<&str> = sentence
            .split(|c: char| !c.is_alphanumeric())
            .filter(|w| !w.is_empty())
            .collect();
        let verb = words.iter().position(|w| DIVIDES.contains(w))?;
        let number = |w: &str| {
            number_word(w)
                .or_else(|| w.parse().ok())
                .filter(|n| (2..=MOST).contains(n))
        };
        (verb + 1..words.len()).find_map(|i| {
            let n = number(words[i])?;
            let led = i == verb + 1 || matches!(words[i - 1], "into" | "in");
            let measures = words.get(i + 1).is_some_and(|w| {
                MEASURES.contains(w) || *w == "x" || *w == "by" || w.parse::<f64>().is_ok()
            });
            (led && !measures).then_some(n)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;
    use quantity::Locale;

    fn says(method: &str, kind: Kind) -> Vec<(&'static str, String, Option<usize>)> {
        let larder = Larder::built_in().expect("the built-in tables");
        let text =
            format!("Rolls\n\n500 g bread flour\n300 g water\n7 g yeast\n\nMethod\n{method}\n");
        let reader = crate::read::Reader::new(&larder, Locale::Metric);
        let recipe = crate::read::recipe(&text, &reader).expect("a recipe");
        let all = method_says(&recipe, 0, kind);
        all.into_iter().map(|(k, s)| (k, s.text, s.step)).collect()
    }

    fn said(key: &'static str, text: &str, step: usize) -> (&'static str, String, Option<usize>) {
        (key, text.to_owned(), Some(step))
    }

    /// Worked by hand from the texts.
    #[test]
    fn a_typed_ring_goes_before_the_methods_strand() {
        let said = |text: &str| Said {
            text: text.to_owned(),
            step: Some(2),
            times: None,
            assumed: false,
            of_recipe: false,
        };
        let method = BTreeMap::from([("strand", said("40 cm")), ("pieces", said("8"))]);
        let typed = ShapeAsk::new(Kind::Ring)
            .with("outer", "12 cm")
            .over(&method);
        assert_eq!(
            (typed.says("strand"), typed.says("pieces")),
            (None, Some("8"))
        );
        let plain = ShapeAsk::new(Kind::Ring).over(&method);
        assert_eq!(plain.says("strand"), Some("40 cm"));
    }

    #[test]
    fn the_method_fills_the_fields() {
        const ROLLS: &str = "1. Knead for 10 minutes and let it rise for 1 hour.\n2. Roll out to a 40 x 30 cm rectangle, spread with the filling and roll up from a long side.\n3. Cut into 12 slices and set them in a 23 x 33 x 5 cm tin.\n4. Bake for 25 minutes at 180 C.";
        let got = says(ROLLS, Kind::Roll);
        assert!(got.contains(&said("length", "30 cm", 2)), "{got:?}");
        assert!(got.contains(&said("width", "40 cm", 2)), "{got:?}");
        assert!(got.contains(&said("slices", "12", 3)), "{got:?}");
        assert!(
            got.iter().any(|g| g.0 == "pan" && g.2 == Some(3)),
            "{got:?}"
        );
        let sheet = says(ROLLS, Kind::Sheet);
        assert_eq!(
            sheet,
            [said("length", "40 cm", 2), said("width", "30 cm", 2)]
        );
        // The sheet that is folded is not the one that is rolled up.
        for folded in [
            "1. Roll to 8 x 16 in, lock in the butter and give three folds.\n2. Roll to 12 x 24 in, spread the cream, roll up and cut into 12.",
            "1. Mix.\n2. Roll to 8 x 16 in, give three folds. Roll to 12 x 24 in, spread the cream, roll up and cut into 12.",
        ] {
            let got = says(folded, Kind::Roll);
            assert!(got.contains(&said("length", "12 in", 2)), "{got:?}");
            assert!(got.contains(&said("width", "24 in", 2)), "{got:?}");
        }
        let balls = says(
            "1. Divide the dough into eight balls of 60 g. Bake for 20 minutes.",
            Kind::Round,
        );
        assert_eq!(balls, [said("pieces", "8", 1)]);
        let thin = says(
            "1. Roll out 5 mm thick and cut into 10 rounds.",
            Kind::CutOuts,
        );
        assert_eq!(thin, [said("thick", "5 mm", 1)]);
    }

    /// 40 cm × 1.25 = 50 cm and 12 × 1.25 = 15 slices of the same width; the rolled-up side stays.
    #[test]
    fn a_batch_of_another_size_is_longer_with_more_slices() {
        let text = "Rolls\n\n500 g bread flour\n300 g water\n7 g yeast\n\nMethod\n1. Roll out to a 40 x 30 cm rectangle, spread with jam and roll up from a long side.\n2. Cut into 12 slices.\n";
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = crate::read::Reader::new(&larder, Locale::Metric);
        let recipe = crate::read::recipe(text, &reader).expect("a recipe");
        let at = |factor: f64, key: &str| {
            let says = method_says(&recipe, 0, Kind::Roll);
            at_size(says, Kind::Roll, factor)[key].clone()
        };
        for (factor, length, width, slices) in [
            (1.0, "30 cm", "40 cm", "12"),
            (1.25, "30 cm", "50 cm", "15"),
            (0.5, "30 cm", "20 cm", "6"),
        ] {
            assert_eq!(at(factor, "length").text, length);
            assert_eq!(at(factor, "width").text, width);
            assert_eq!(at(factor, "slices").text, slices);
            let times = (factor != 1.0).then_some(factor);
            assert_eq!(at(factor, "slices").times, times);
        }
    }

    #[test]
    fn measures_count_no_pieces_and_pans_are_no_sheets() {
        for text in [
            "1. Cut into 3 cm squares.",
            "1. Shape and bake in 20 minutes.",
            "1. Cut in 4 x 4 cm pieces.",
        ] {
            assert_eq!(says(text, Kind::Round), [], "{text}");
        }
        assert_eq!(says("1. Press into a 33 x 23 cm tin.", Kind::Sheet), []);
    }
}
