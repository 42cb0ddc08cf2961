//! Properties that hold for every recipe: reading, weighing and reworking, on recipes that are
//! made up from foods and units the larder knows, and on arbitrary text.

mod common;

use common::larder;
use proptest::prelude::*;
use proptest::sample::select;
use quantity::{Locale, Quantity, Spread};
use recipe::read::Reader;
use recipe::rework::{Kept, Options, Rework};
use recipe::weigh::Formula;
use recipe::{Amount, Doubt, Item, Line, LineKind, Recipe, Step};
use std::ops::Range;

fn read(text: &str, locale: Locale) -> Recipe {
    recipe::read::recipe(text, &Reader::new(larder(), locale))
        .map_err(|e| format!("{e}\n{text}"))
        .expect("a recipe")
}

fn weigh(text: &str, locale: Locale) -> Formula {
    recipe::weigh::formula(read(text, locale), larder(), locale)
        .map_err(|e| format!("{e}\n{text}"))
        .expect("a formula")
}

fn rework(text: &str, locale: Locale) -> Rework {
    recipe::rework::rework(weigh(text, locale), larder(), &Options::default())
}

/// Foods with the units in which the larder knows their weight.
const FOODS: &[(&str, &[&str])] = &[
    ("plain flour", &["g", "oz", "cup", "tbsp"]),
    ("bread flour", &["g", "cup"]),
    ("wholemeal flour", &["g", "cup"]),
    ("white sugar", &["g", "oz", "cup", "tbsp", "tsp"]),
    ("brown sugar", &["g", "cup"]),
    ("unsalted butter", &["g", "oz", "cup", "tbsp", "stick"]),
    ("vegetable oil", &["ml", "cup", "tbsp"]),
    ("whole milk", &["g", "ml", "cup", "tbsp"]),
    ("water", &["g", "ml", "cup", "fl oz"]),
    ("buttermilk", &["ml", "cup"]),
    ("honey", &["g", "tbsp", "cup"]),
    ("cocoa powder", &["g", "cup", "tbsp"]),
    ("table salt", &["g", "tsp"]),
    ("baking powder", &["g", "tsp"]),
    ("baking soda", &["g", "tsp"]),
    ("instant yeast", &["g", "tsp"]),
    ("corn starch", &["g", "tbsp"]),
    ("raisins", &["g", "cup"]),
    ("eggs", &[""]),
    ("rolled oats", &["g", "cup"]),
];

/// One ingredient: quarters of a unit of a food.
#[derive(Debug, Clone)]
struct Made {
    quarters: u32,
    unit: &'static str,
    food: &'static str,
}

impl Made {
    /// The line a person would write, the amount times `k`.
    fn line(&self, k: u32) -> String {
        let quarters = self.quarters * k;
        let part = ["", "1/4", "1/2", "3/4"][quarters as usize % 4];
        let number = match (quarters / 4, part) {
            (0, part) => part.to_owned(),
            (whole, "") => whole.to_string(),
            (whole, part) => format!("{whole} {part}"),
        };
        match self.unit {
            "" => format!("{number} {}", self.food),
            unit => format!("{number} {unit} {}", self.food),
        }
    }
}

prop_compose! {
    fn made()(
        (food, units) in select(FOODS),
        unit in 0usize..5,
        size in 1u32..=40,
    ) -> Made {
        let unit = units[unit % units.len()];
        // Grams and millilitres come in whole tens, spoons and cups in quarters, eggs whole.
        let quarters = match unit {
            "g" | "ml" => 40 * size,
            "" => 4 * (1 + size % 12),
            _ => size,
        };
        Made { quarters, unit, food }
    }
}

/// A recipe of one or two parts, the first of them with flour enough to be a dough.
fn parts() -> impl Strategy<Value = Vec<Vec<Made>>> {
    let dough =
        (20u32..80, proptest::collection::vec(made(), 1..8)).prop_map(|(size, mut rest)| {
            rest.insert(
                0,
                Made {
                    quarters: 40 * size,
                    unit: "g",
                    food: "plain flour",
                },
            );
            rest
        });
    (
        dough,
        proptest::option::of(proptest::collection::vec(made(), 1..5)),
    )
        .prop_map(|(dough, more)| std::iter::once(dough).chain(more).collect())
}

fn text(parts: &[Vec<Made>], k: u32) -> String {
    let names = ["For the dough:", "For the filling:"];
    let mut out = "Harrow Lane buns\n\nIngredients\n".to_owned();
    for (name, part) in names.iter().zip(parts) {
        out.push_str(&format!("\n{name}\n"));
        for made in part {
            out.push_str(&made.line(k));
            out.push('\n');
        }
    }
    out.push_str("\nMethod\n1. Mix everything to a dough.\n2. Bake for 30 minutes at 180 °C.\n");
    out
}

fn locales() -> impl Strategy<Value = Locale> {
    select(&Locale::ALL[..])
}

fn values<Q: Quantity>(s: Spread<Q>) -> [f64; 3] {
    [s.low().value(), s.likely().value(), s.high().value()]
}

/// In order, finite, not negative.
fn sound<Q: Quantity>(what: &str, s: Spread<Q>) -> Result<(), TestCaseError> {
    let [low, likely, high] = values(s);
    prop_assert!(
        0.0 <= low && low <= likely && likely <= high && high.is_finite(),
        "{what}: {low} {likely} {high}"
    );
    Ok(())
}

fn sound_formula(f: &Formula) -> Result<(), TestCaseError> {
    for c in &f.components {
        for w in &c.items {
            if let Some(g) = w.grams {
                sound("grams", g)?;
            }
            if let Some(p) = w.percent {
                sound("percent", p)?;
            }
            prop_assert_eq!(w.grams.is_some(), w.basis.is_some());
        }
        sound("flour", c.flour)?;
        sound("water", c.water)?;
        sound("makes", c.makes)?;
        for s in [c.used, c.left].into_iter().flatten() {
            sound("used or left", s)?;
        }
        if let Some(h) = c.hydration {
            sound("hydration", h)?;
        }
    }
    Ok(())
}

fn sound_rework(r: &Rework) -> Result<(), TestCaseError> {
    for c in &r.components {
        for line in &c.lines {
            if let Some(g) = line.grams {
                sound(&line.name, g)?;
            }
            if let Some(p) = line.percent {
                sound(&line.name, p)?;
            }
        }
        for s in [Some(c.makes), c.used, c.left].into_iter().flatten() {
            sound("makes, used or left", s)?;
        }
        for b in [&c.original, &c.reworked] {
            sound("flour", b.flour)?;
            sound("total", b.total)?;
            if let Some(h) = b.hydration {
                sound("hydration", h)?;
            }
            let shares = [
                b.free_liquid,
                b.starch_share,
                b.flour_protein,
                b.fat,
                b.sugar,
                b.egg,
                b.salt,
                b.yeast,
                b.leavening,
                b.absorption,
            ];
            for share in shares {
                prop_assert!(share >= 0.0 && share.is_finite(), "{b:?}");
            }
            prop_assert!(b.binders.iter().all(|(_, p)| *p >= 0.0));
        }
        if let Some(e) = c.expected {
            let h = e.hydration;
            prop_assert!(
                0.0 < h.low && h.low <= h.likely && h.likely <= h.high,
                "{h:?}"
            );
        }
        if let Some(s) = c.style {
            prop_assert!((0.0..=1.0).contains(&s.confidence));
        }
    }
    Ok(())
}

fn inside(span: &Range<usize>, text: &str, what: &str) -> Result<(), TestCaseError> {
    prop_assert!(
        span.start <= span.end && text.get(span.clone()).is_some(),
        "{what}: {span:?} is no part of {text:?}"
    );
    Ok(())
}

fn spans_of_doubts(doubts: &[Doubt], text: &str) -> Result<(), TestCaseError> {
    for span in doubts.iter().filter_map(|d| d.span.as_ref()) {
        inside(span, text, "doubt")?;
    }
    Ok(())
}

fn spans_of_line(line: &Line) -> Result<(), TestCaseError> {
    let text = &line.clean;
    spans_of_doubts(&line.doubts, text)?;
    for item in &line.items {
        inside(&item.name, text, "name")?;
        for amount in &item.amounts {
            inside(&amount.span, text, "amount")?;
        }
        if let Some(food) = &item.food {
            inside(&food.span, text, "food")?;
        }
        if let Some(reference) = &item.reference {
            inside(&reference.span, text, "reference")?;
        }
    }
    Ok(())
}

/// Every span of a recipe lies in its text, on the bounds of characters.
fn spans(r: &Recipe) -> Result<(), TestCaseError> {
    for line in r.components.iter().flat_map(|c| &c.lines) {
        spans_of_line(line)?;
    }
    for step in &r.steps {
        for fact in &step.facts {
            inside(&fact.span, &step.text, "fact")?;
        }
        spans_of_doubts(&step.doubts, &step.text)?;
    }
    Ok(())
}

/// An amount without its place.
fn amount(a: &Amount) -> String {
    let a = Amount {
        span: 0..0,
        ..a.clone()
    };
    format!("{a:?}")
}

/// What an item says, without places.
fn item(i: &Item, line: &Line) -> String {
    format!(
        "{:?} {} {:?} {:?} {:?} {:?} {:?} {}",
        i.amounts.iter().map(amount).collect::<Vec<_>>(),
        line.words(&i.name).trim(),
        i.food.as_ref().map(|m| (m.food, m.certainty)),
        i.alternatives,
        i.qualities,
        i.purpose,
        i.reference.as_ref().map(|r| (&r.name, r.share)),
        i.optional
    )
}

/// What a step says.
fn step(s: &Step) -> String {
    let facts: Vec<String> = s.facts.iter().map(|f| format!("{:?}", f.kind)).collect();
    format!("{} {} {:?} {facts:?}", s.number, s.text, s.component)
}

/// A recipe's content, one thing an entry, without places and doubts.
fn content(r: &Recipe) -> Vec<String> {
    let mut all = vec![format!("{:?} {:?}", r.title, r.makes)];
    for c in &r.components {
        all.push(format!("[{}]", c.name));
        for line in &c.lines {
            all.push(format!("{:?} {}", line.kind, line.text.trim()));
            all.extend(line.items.iter().map(|i| item(i, line)));
        }
    }
    all.extend(r.steps.iter().map(step));
    all.extend(r.notes.iter().map(|n| format!("note: {}", n.trim())));
    all
}

/// The totals of each component.
fn totals(f: &Formula) -> Vec<[f64; 9]> {
    f.components
        .iter()
        .map(|c| {
            let mut all = [0.0; 9];
            for (i, s) in [c.flour, c.water, c.makes].into_iter().enumerate() {
                all[3 * i..3 * i + 3].copy_from_slice(&values(s));
            }
            all
        })
        .collect()
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    /// Known foods in known units are always weighed, without a negative or unordered figure.
    #[test]
    fn made_up_recipes_are_weighed_and_reworked_soundly(parts in parts(), locale in locales()) {
        let text = text(&parts, 1);
        let rework = rework(&text, locale);
        for (c, part) in rework.formula.components.iter().zip(&parts) {
            prop_assert_eq!(c.items.len(), part.len(), "{}", text);
            prop_assert_eq!(c.unweighed, 0, "{}", text);
            prop_assert!(c.items.iter().all(|w| w.grams.is_some()), "{}", text);
        }
        sound_formula(&rework.formula)?;
        sound_rework(&rework)?;
        spans(&rework.formula.recipe)?;
    }

    /// Scaling: every amount times k is every gram times k.
    #[test]
    fn scaling_a_recipe_scales_every_gram(parts in parts(), k in 2u32..6, locale in locales()) {
        let one = weigh(&text(&parts, 1), locale);
        let many = weigh(&text(&parts, k), locale);
        for (a, b) in one.components.iter().zip(&many.components) {
            prop_assert_eq!(a.items.len(), b.items.len());
            for (x, y) in a.items.iter().zip(&b.items) {
                prop_assert_eq!(x.food, y.food);
                prop_assert_eq!(x.grams.is_some(), y.grams.is_some());
                let (Some(x), Some(y)) = (x.grams, y.grams) else { continue };
                for (x, y) in values(x).into_iter().zip(values(y)) {
                    prop_assert!(near(x * f64::from(k), y), "{x} times {k} is not {y}");
                }
            }
        }
    }

    /// Scaling composes with the rework: the larger recipe gives the larger rework.
    #[test]
    fn scaling_composes_with_the_rework(parts in parts(), k in 2u32..4) {
        let one = rework(&text(&parts, 1), Locale::Us);
        let many = rework(&text(&parts, k), Locale::Us);
        for (a, b) in one.components.iter().zip(&many.components) {
            prop_assert_eq!(a.style.map(|s| s.style.key()), b.style.map(|s| s.style.key()));
            // A dose that a bench scale cannot weigh is left out of the small recipe, and the
            // water with it.
            if a.lines.len() != b.lines.len() {
                let flour = a.reworked.flour.likely().as_grams();
                prop_assert!(flour < 310.0, "{:#?} {:#?}", a.lines, b.lines);
                continue;
            }
            for (x, y) in a.lines.iter().zip(&b.lines) {
                prop_assert_eq!(&x.name, &y.name);
                let (Some(gx), Some(gy)) = (x.grams, y.grams) else { continue };
                let (gx, gy) = (gx.likely().as_grams(), gy.likely().as_grams());
                prop_assert!(
                    (gx * f64::from(k) - gy).abs() <= 1e-6 * gy.max(1.0),
                    "{}: {gx} times {k} is not {gy}", x.name
                );
            }
        }
    }

    /// The order in which ingredients are listed does not change what a part holds.
    #[test]
    fn the_order_of_lines_does_not_change_the_totals(
        (parts, shuffled) in parts().prop_flat_map(|parts| {
            let shuffled: Vec<_> = parts.iter().map(|p| Just(p.clone()).prop_shuffle()).collect();
            (Just(parts), shuffled)
        }),
        locale in locales(),
    ) {
        let (a, b) = (weigh(&text(&parts, 1), locale), weigh(&text(&shuffled, 1), locale));
        for (x, y) in totals(&a).iter().zip(&totals(&b)) {
            for (x, y) in x.iter().zip(y) {
                prop_assert!(near(*x, *y), "{x} is not {y}");
            }
        }
        let (a, b) = (rework(&text(&parts, 1), locale), rework(&text(&shuffled, 1), locale));
        for (x, y) in a.components.iter().zip(&b.components) {
            let flour = |c: &recipe::rework::ReworkedComponent| c.reworked.flour.likely().as_grams();
            prop_assert!(near(flour(x), flour(y)), "{} is not {}", flour(x), flour(y));
        }
    }

    /// Mass is conserved: parts of a blend make the blend, lines make the component.
    #[test]
    fn mass_is_conserved(parts in parts(), locale in locales()) {
        let rework = rework(&text(&parts, 1), locale);
        for c in &rework.components {
            let kept = || c.lines.iter().filter(|l| l.kept != Kept::Dropped && l.in_formula);
            let sum: f64 = kept().filter_map(|l| l.grams).map(|g| g.likely().as_grams()).sum();
            prop_assert!(near(sum, c.makes.likely().as_grams()), "{sum} is not {:?}", c.makes);
            let flour: f64 = kept()
                .filter(|l| l.blend || l.food.is_some_and(|f| larder().food(f).is_flour_phase()))
                .filter_map(|l| l.grams)
                .map(|g| g.likely().as_grams())
                .sum();
            prop_assert!(
                near(flour, c.reworked.flour.likely().as_grams()),
                "flour {flour} is not {:?}", c.reworked.flour
            );
            let Some(blend) = &c.blend else { continue };
            let shares: f64 = blend.parts.iter().map(|p| p.1).sum();
            prop_assert!((shares - 100.0).abs() < 1e-9, "{} adds up to {shares} %", blend.key);
            for line in kept().filter(|l| l.blend) {
                let whole = line.grams.map_or(0.0, |g| g.likely().as_grams());
                let of_parts: f64 = blend.parts.iter().map(|p| whole * p.1 / 100.0).sum();
                prop_assert!(near(of_parts, whole), "{of_parts} is not {whole}");
            }
        }
    }

    /// Nothing with gluten is left in a rework of foods whose replacement is known.
    #[test]
    fn no_line_of_a_rework_holds_gluten(parts in parts()) {
        let rework = rework(&text(&parts, 1), Locale::Us);
        let screening = rework.screen(larder());
        prop_assert_ne!(screening.verdict, larder::Gluten::Contains, "{:?}", screening.findings);
    }

    /// Printing and reading again gives the same recipe.
    #[test]
    fn a_printed_recipe_reads_back(parts in parts(), locale in locales()) {
        let once = read(&text(&parts, 1), locale);
        let twice = read(&once.to_text(), locale);
        prop_assert_eq!(content(&once), content(&twice), "{}", once.to_text());
    }
}

/// Pieces that recipes are made of, put together without sense.
const PIECES: &[&str] = &[
    "1",
    "2 1/2",
    "½",
    "1/0",
    "0",
    "-3",
    "1e300",
    "99999",
    "3–4",
    "1,5",
    "200",
    "g",
    "cup",
    "cups",
    "tbsp",
    "T",
    "oz",
    "fl oz",
    "lb",
    "stick",
    "pinch of",
    "x",
    "×",
    "(",
    ")",
    "[",
    "]",
    ",",
    ";",
    ":",
    "/",
    "|",
    "-",
    "–",
    "•",
    "*",
    "#",
    "##",
    "flour",
    "butter",
    "eggs",
    "egg",
    "sugar",
    "plain",
    "self-raising",
    "gluten-free",
    "or",
    "and",
    "plus",
    "+",
    "minus",
    "of the",
    "half the",
    "remaining",
    "dough",
    "glaze",
    "For the dough:",
    "For the glaze:",
    "Ingredients",
    "Method",
    "Notes",
    "\n",
    "\n\n",
    "\r\n",
    "\t",
    "1.",
    "2)",
    "Bake",
    "at",
    "350°F",
    "180",
    "°C",
    "for",
    "30 minutes",
    "1 hour",
    "until golden",
    "Serves",
    "Makes 12",
    "By",
    "Source:",
    "½½",
    "é",
    "🥚",
    "&frac12;",
    "&amp;",
    "&#189;",
    "&#x110000;",
    "<b>",
    "</b>",
    "\u{a0}",
    "\u{200b}",
    "\u{feff}",
    "ﬂour",
    "١٢",
    "½ cup",
    "to taste",
    "for dusting",
    "divided",
    "each",
    "melted",
    "juice of",
    "zest of",
    "tin",
    "9-inch",
    "20 cm",
    "gas mark 4",
    "\u{0301}",
    "İ",
    "ẞ",
    "Ⅳ",
    "㎏",
];

fn soup() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        12 => select(PIECES).prop_map(str::to_owned),
        1 => "\\PC{0,6}",
    ];
    (proptest::collection::vec(piece, 0..60), any::<bool>())
        .prop_map(|(pieces, spaced)| pieces.join(if spaced { " " } else { "" }))
}

/// Reads, weighs, screens and reworks any text; whatever comes out is sound.
fn through(text: &str, locale: Locale) -> Result<(), TestCaseError> {
    let reader = Reader::new(larder(), locale);
    let Ok(read) = recipe::read::recipe(text, &reader) else {
        return Ok(());
    };
    spans(&read)?;
    let Ok(formula) = recipe::weigh::formula(read, larder(), locale) else {
        return Ok(());
    };
    sound_formula(&formula)?;
    let _ = recipe::screen::screen(&formula, larder(), None);
    let rework = recipe::rework::rework(formula, larder(), &Options::default());
    sound_rework(&rework)?;
    let _ = rework.screen(larder());
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_goes_through(text in soup(), locale in locales()) {
        through(&text, locale)?;
    }

    #[test]
    fn any_characters_go_through(text in "(\\PC|\\n){0,300}", locale in locales()) {
        through(&text, locale)?;
    }

    #[test]
    fn any_line_is_read_with_sound_spans(text in soup(), locale in locales()) {
        let text = text.replace('\n', " ");
        let line = Reader::new(larder(), locale).line(&text);
        prop_assert_eq!(&line.text, &text);
        spans_of_line(&line)?;
        if line.kind != LineKind::Ingredient {
            prop_assert!(line.items.is_empty());
        }
        let (weighed, _) = recipe::weigh::line(&line, larder(), locale);
        for w in weighed {
            if let Some(g) = w.grams {
                sound("grams", g)?;
            }
        }
    }

    #[test]
    fn any_step_is_read_with_sound_spans(text in soup()) {
        let step = recipe::read::step(1, &text, None);
        for fact in &step.facts {
            inside(&fact.span, &step.text, "fact")?;
        }
        spans_of_doubts(&step.doubts, &step.text)?;
    }

    #[test]
    fn any_bytes_are_answered(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        let _ = recipe::read::bytes(&bytes, &Reader::new(larder(), Locale::Us));
    }
}

/// The text recipes of the project, each in its own words.
const RECIPES: &[(&str, &str)] = &[
    (
        "apricot-almond-buns",
        include_str!("../../../examples/apricot-almond-buns.txt"),
    ),
    (
        "ginger-crumb-cheesecake",
        include_str!("../../../examples/ginger-crumb-cheesecake.txt"),
    ),
    (
        "leek-and-cheddar-tart",
        include_str!("../../../examples/leek-and-cheddar-tart.txt"),
    ),
    (
        "lemon-yoghurt-cake",
        include_str!("../../../examples/lemon-yoghurt-cake.txt"),
    ),
    (
        "mushroom-stout-sauce",
        include_str!("../../../examples/mushroom-stout-sauce.txt"),
    ),
    (
        "sunday-pancakes",
        include_str!("../../../examples/sunday-pancakes.txt"),
    ),
    ("old-book", include_str!("../../../cases/good/old-book.txt")),
    (
        "one-line-typing",
        include_str!("../../../cases/good/one-line-typing.txt"),
    ),
    (
        "wrapped-lines",
        include_str!("../../../cases/good/wrapped-lines.txt"),
    ),
];

#[test]
fn the_recipes_of_the_project_read_back_from_print() {
    let mut wrong = String::new();
    for (name, text) in RECIPES {
        let once = read(text, Locale::Uk);
        let twice = read(&once.to_text(), Locale::Uk);
        let (a, b) = (content(&once), content(&twice));
        let gone: Vec<_> = a.iter().filter(|x| !b.contains(x)).collect();
        let new: Vec<_> = b.iter().filter(|x| !a.contains(x)).collect();
        if a != b {
            wrong.push_str(&format!("{name}: lost {gone:#?}, new {new:#?}\n"));
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn the_recipes_of_the_project_go_through_soundly() {
    for (name, text) in RECIPES {
        for locale in Locale::ALL {
            let went = through(text, locale);
            assert!(went.is_ok(), "{name}: {went:?}");
        }
    }
}

/// Each prefix of a recipe is a text a person may paste.
#[test]
fn every_prefix_goes_through() {
    for (name, text) in RECIPES {
        for (end, _) in text.char_indices().step_by(97) {
            let went = through(&text[..end], Locale::Uk);
            assert!(went.is_ok(), "{name} to {end}: {went:?}");
        }
    }
}
