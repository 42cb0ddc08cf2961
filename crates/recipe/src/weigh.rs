//! Weighing: from a recipe as read to a formula in grams.
//!
//! Every weight carries its basis and a low–likely–high range. A stated weight wins over a
//! volume; components that use one another are resolved into a graph of what each makes, uses
//! and leaves over.

use crate::line::{Amount, Filling, Item, LineKind, Purpose, Role, Share};
use crate::read::same_part;
use crate::{Doubt, DoubtCode, Recipe};
use larder::{FoodId, Function, Larder, State};
use quantity::{Hold, Locale, Mass, Quantity, Ratio, Spread, Unit, UnitKind};
use std::fmt;

/// What a weight rests on.
#[derive(Debug, Clone, PartialEq)]
pub enum Basis {
    /// The recipe states a weight.
    Stated,
    /// A volume, by a household weight; its source.
    Household(String),
    /// Pieces, by a weight per piece; its source.
    Piece(String),
    /// Pieces of egg by their size class; its source.
    EggClass(String),
    /// Packets or cans of a stated size.
    StatedSize,
    /// A part of another component.
    Component,
    /// A guess; how it was made.
    Guess(String),
}

impl Basis {
    /// The words on screens and in machine-readable output.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Stated => "stated weight".to_owned(),
            Self::Household(s) => format!("household weight, {s}"),
            Self::Piece(s) => format!("weight per piece, {s}"),
            Self::EggClass(s) => format!("egg class, {s}"),
            Self::StatedSize => "stated size".to_owned(),
            Self::Component => "part of another component".to_owned(),
            Self::Guess(s) => format!("guess: {s}"),
        }
    }
}

/// One weighed ingredient.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// Place of the line in its component.
    pub line: usize,
    /// Place of the item on its line.
    pub item: usize,
    /// The food; `None` when unknown or a component.
    pub food: Option<FoodId>,
    /// The component used, by place.
    pub component: Option<usize>,
    /// Grams; `None` when it cannot be weighed.
    pub grams: Option<Spread<Mass>>,
    /// What the grams rest on.
    pub basis: Option<Basis>,
    /// Whether it is part of the formula (not dusting, greasing, serving).
    pub in_formula: bool,
    /// Percent of the component's flour phase.
    pub percent: Option<Spread<Ratio>>,
}

/// A component, weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct WeighedComponent {
    /// Its name.
    pub name: String,
    /// Its ingredients.
    pub items: Vec<Weighed>,
    /// Flours and starches (with nut and pulse flours used as flour).
    pub flour: Spread<Mass>,
    /// Water in every line outside the flour phase.
    pub water: Spread<Mass>,
    /// What it makes, raw: the sum of all lines.
    pub makes: Spread<Mass>,
    /// Effective hydration, percent of the flour phase; `None` without flour.
    pub hydration: Option<Spread<Ratio>>,
    /// What other components use of it.
    pub used: Option<Spread<Mass>>,
    /// What is left over after they did.
    pub left: Option<Spread<Mass>>,
    /// Lines of the formula that could not be weighed.
    pub unweighed: usize,
}

/// A recipe in grams.
#[derive(Debug, Clone, PartialEq)]
pub struct Formula {
    /// The recipe it was weighed from.
    pub recipe: Recipe,
    /// Whose cups and spoons were read.
    pub locale: Locale,
    /// Its components, in the recipe's order.
    pub components: Vec<WeighedComponent>,
    /// Component places, each after those it uses.
    pub order: Vec<usize>,
    /// Doubts that came up in weighing, with component and line.
    pub doubts: Vec<(usize, usize, Doubt)>,
}

/// Why a recipe cannot be weighed.
#[derive(Debug, Clone, PartialEq)]
pub enum WeighError {
    /// Components use one another in a ring.
    Cycle {
        /// Line of the use that closes the ring.
        line: usize,
        /// Column of that use.
        column: usize,
        /// The components' names, first again at the end.
        path: Vec<String>,
    },
}

impl fmt::Display for WeighError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Cycle { line, column, path } => write!(
                f,
                "line {line}, column {column}: components use one another in a ring: {}\n  take one of these uses out, or give the part that is made first a name of its own",
                path.join(" → ")
            ),
        }
    }
}
impl std::error::Error for WeighError {}

/// The whole weight of one line's items, for callers that have a line and no recipe.
///
/// # Returns
/// The items, and the doubts that weighing adds to those of reading.
#[must_use]
pub fn line(line: &crate::Line, larder: &Larder, locale: Locale) -> (Vec<Weighed>, Vec<Doubt>) {
    let (mut all, mut doubts) = (Vec::new(), Vec::new());
    if line.kind != LineKind::Ingredient || line.doubts(DoubtCode::ImpossibleNumber) {
        for i in 0..line.items.len() {
            all.push(blank(0, i, &line.items[i]));
        }
        return (all, doubts);
    }
    for (i, item) in line.items.iter().enumerate() {
        let text = &line.clean;
        all.extend(weigh_item(0, i, item, text, larder, locale, &mut doubts));
    }
    (all, doubts)
}

fn blank(line: usize, item: usize, read: &Item) -> Weighed {
    Weighed {
        line,
        item,
        food: read.food.as_ref().map(|m| m.food),
        component: None,
        grams: None,
        basis: None,
        in_formula: read.purpose == Purpose::Formula,
        percent: None,
    }
}

/// A weight found for part of an item.
struct Found {
    grams: Spread<Mass>,
    basis: Basis,
}

fn weigh_item(
    line: usize,
    index: usize,
    item: &Item,
    text: &str,
    larder: &Larder,
    locale: Locale,
    doubts: &mut Vec<Doubt>,
) -> Vec<Weighed> {
    let mut weighed = blank(line, index, item);
    let food = weighed.food;
    let mut extra = Vec::new();
    if food.is_none() && item.reference.is_none() {
        // Unknown food: a stated weight is still a weight.
        weighed.grams = stated(item, locale);
        weighed.basis = weighed.grams.map(|_| Basis::Stated);
        return vec![weighed];
    }
    if let Some(food) = food {
        let mut parts: Vec<Found> = Vec::new();
        let mut failed = item.amounts.is_empty();
        let state = state_of(item, text, larder);
        let main: Vec<&Amount> = item
            .amounts
            .iter()
            .filter(|a| a.role == Role::Main)
            .collect();
        let twins: Vec<&Amount> = item
            .amounts
            .iter()
            .filter(|a| a.role == Role::Twin)
            .collect();
        let size = item.amounts.iter().find(|a| a.role == Role::Size);
        let plus: Vec<&Amount> = item
            .amounts
            .iter()
            .filter(|a| a.role == Role::Plus && !a.aside)
            .collect();
        let weigh = |a: &Amount, doubts: &mut Vec<Doubt>| {
            weigh_amount(a, size, food, item, state, text, larder, locale, doubts)
        };
        if let Some(first) = main.first() {
            let is_mass = |a: &&&Amount| a.unit.is_some_and(|u| u.kind() == UnitKind::Mass);
            let all: Vec<&Amount> = main.iter().chain(&twins).copied().collect();
            // A stated weight wins; grams before ounces, because the ounces were rounded.
            let metric = |a: &&&Amount| matches!(a.unit, Some(Unit::G | Unit::Kg));
            let chosen = all
                .iter()
                .find(metric)
                .or_else(|| all.iter().find(is_mass))
                .copied();
            match chosen {
                Some(mass) => {
                    let found = weigh(mass, doubts);
                    if let Some(found) = &found {
                        for other in all.iter().filter(|a| !std::ptr::eq(**a, mass)) {
                            let mut quiet = Vec::new();
                            let plus_there =
                                plus.iter().filter(|p| is_volume(p) == is_volume(other));
                            let both = weigh(other, &mut quiet).map(|mut o| {
                                if other.role == Role::Main {
                                    for p in plus_there {
                                        if let Some(w) = weigh(p, &mut quiet) {
                                            o.grams = o.grams.plus_worst(w.grams);
                                        }
                                    }
                                }
                                o
                            });
                            if let Some(o) = both {
                                twin_doubt(text, mass, found, other, &o, doubts);
                            }
                        }
                        // '1 cup plus 2 tbsp (140 g)': the weight is of the whole.
                        let whole = mass.role == Role::Twin
                            && !first.unit.is_some_and(|u| u.kind() == UnitKind::Mass);
                        parts.push(Found {
                            grams: found.grams,
                            basis: found.basis.clone(),
                        });
                        if !whole {
                            for p in plus.iter().filter(|p| p.of.is_none()) {
                                match weigh(p, doubts) {
                                    Some(f) => parts.push(f),
                                    None => failed = true,
                                }
                            }
                        }
                    }
                }
                None => {
                    let found = weigh(first, doubts)
                        .or_else(|| twins.iter().find_map(|t| weigh(t, doubts)));
                    match found {
                        Some(f) => {
                            for t in &twins {
                                let mut quiet = Vec::new();
                                if let Some(o) = weigh(t, &mut quiet) {
                                    twin_doubt(text, first, &f, t, &o, doubts);
                                }
                            }
                            parts.push(f);
                        }
                        None => failed = true,
                    }
                    for p in plus.iter().filter(|p| p.of.is_none()) {
                        match weigh(p, doubts) {
                            Some(f) => parts.push(f),
                            None => failed = true,
                        }
                    }
                }
            }
        } else if let Some(size_of) = size_guess(text) {
            parts.push(size_of);
            failed = false;
            doubts.push(Doubt::new(
                DoubtCode::OldMeasure,
                "an old way to say an amount, weighed as a guess: put grams in its place",
            ));
        }
        for p in plus.iter().filter(|p| p.of.is_some()) {
            let Some(other) = p.of else { continue };
            let got = weigh_amount(
                p,
                None,
                other,
                item,
                State::Usual,
                text,
                larder,
                locale,
                doubts,
            );
            extra.push(Weighed {
                food: Some(other),
                grams: got.as_ref().map(|f| f.grams),
                basis: got.map(|f| f.basis),
                ..blank(line, index, item)
            });
        }
        if !failed && !parts.is_empty() {
            weighed.basis = parts.first().map(|p| p.basis.clone());
            weighed.grams = Some(Spread::sum_independent(parts.iter().map(|p| p.grams)));
        }
    } else {
        weighed.grams = stated(item, locale);
        weighed.basis = weighed.grams.map(|_| Basis::Stated);
    }
    let mut all = vec![weighed];
    all.extend(extra);
    all
}

fn is_volume(a: &Amount) -> bool {
    a.unit.is_some_and(|u| u.kind() == UnitKind::Volume)
}

/// The stated weight of an item whose food is not known, or that is a component.
fn stated(item: &Item, locale: Locale) -> Option<Spread<Mass>> {
    let mut sum: Option<Spread<Mass>> = None;
    for a in item
        .amounts
        .iter()
        .filter(|a| !a.aside && matches!(a.role, Role::Main | Role::Plus | Role::Twin))
    {
        let Some(Hold::Mass(one)) = a.unit.map(|u| u.hold(a.locale.unwrap_or(locale))) else {
            continue;
        };
        let this = range(a, |n| one * n);
        match (a.role, sum) {
            (Role::Twin, Some(_)) => {}
            (_, Some(s)) => sum = Some(s.plus_worst(this)),
            (_, None) => sum = Some(this),
        }
    }
    sum
}

/// The amount's numbers through a function of one number.
fn range(a: &Amount, f: impl Fn(f64) -> Mass) -> Spread<Mass> {
    Spread::new(f(a.low), f(a.middle()), f(a.high))
}

/// The state that counts for the weight. 'Flour, sifted' is measured first and sifted then, so
/// only a state before the name sifts what is measured; likewise for whole nuts.
fn state_of(item: &Item, text: &str, larder: &Larder) -> State {
    let state = item.qualities.state;
    let Some(m) = &item.food else { return state };
    if let State::Is(word @ ("sifted" | "whole" | "halves")) = state {
        // The name itself may hold the word: 'sifted icing sugar' is known as a whole.
        let before = text.get(..m.span.end).unwrap_or("").to_lowercase();
        let said = match word {
            "sifted" => before.contains("sifted") || before.contains("sieved"),
            _ => text
                .get(item.name.start..m.span.end)
                .is_some_and(|t| t.to_lowercase().contains(word)),
        };
        let nut = larder.food(m.food).function() == Function::Nut;
        if !said && (word == "sifted" || !nut) {
            return State::Usual;
        }
    }
    state
}

#[allow(
    clippy::too_many_arguments,
    reason = "one call site each; a struct would only rename them"
)]
fn weigh_amount(
    a: &Amount,
    size: Option<&Amount>,
    food: FoodId,
    item: &Item,
    state: State,
    text: &str,
    larder: &Larder,
    locale: Locale,
    doubts: &mut Vec<Doubt>,
) -> Option<Found> {
    let locale = a.locale.unwrap_or(locale);
    let words = text.get(a.span.clone()).unwrap_or("").trim();
    let name = || larder.food(food).name.as_str();
    if let Some(ml) = a.old_millilitres {
        let volume = Spread::within(quantity::Volume::millilitres(ml), 0.25);
        let w = larder.weigh_volume(food, volume, ["cup", "tbsp", "tsp"], state)?;
        let grams = Spread::new(
            w.grams.low() * a.low,
            w.grams.likely() * a.middle(),
            w.grams.high() * a.high,
        );
        return Some(Found {
            grams: filled(grams, a.filling),
            basis: Basis::Guess(format!("old measure of about {ml} mL; {}", w.source)),
        });
    }
    let Some(unit) = a.unit else {
        let loose = a.loose.as_deref().map(|l| l.trim_end_matches('s'));
        if let Some(word) = loose
            && let Some(m) = larder.measure(food, word, State::Usual)
        {
            return Some(Found {
                grams: counted(m.grams, a),
                basis: Basis::Piece(m.source.clone()),
            });
        }
        if loose.is_some() {
            doubts.push(
                Doubt::new(
                    DoubtCode::NoWeight,
                    format!(
                        "'{words}' of {} has no weight in the larder: weigh it and write the grams",
                        name()
                    ),
                )
                .at(a.span.clone()),
            );
        }
        return None;
    };
    // Cans and packets of a stated size.
    if matches!(unit, Unit::Can | Unit::Packet | Unit::Count)
        && let Some(size) = size
        && let Some(of) = size.unit
    {
        let one = match of.hold(size.locale.unwrap_or(locale)) {
            Hold::Mass(m) => Some(range(size, |n| m * n)),
            Hold::Volume(v) => larder
                .weigh_volume(food, v, ["cup", "tbsp", "tsp"], State::Usual)
                .map(|w| w.grams.scaled(size.middle())),
            Hold::Piece => None,
        };
        // '2 packets (14 g) yeast': both together, where the larder's own packet says so.
        let packets = larder.weigh(food, Unit::Packet, None, State::Usual, locale);
        if let (Some(all), Some(packet)) = (one, packets)
            && a.low > 1.0
            && size.span.start >= a.span.end
            && !text.to_ascii_lowercase().contains("each")
            && (all.likely() / (packet.grams.likely() * a.middle()) - 1.0).abs() < 0.2
        {
            return Some(Found {
                grams: all,
                basis: Basis::StatedSize,
            });
        }
        if let Some(one) = one {
            return Some(Found {
                grams: counted(one, a),
                basis: Basis::StatedSize,
            });
        }
    }
    match unit.hold(locale) {
        Hold::Mass(one) => {
            let grams = range(a, |n| one * n);
            if unit == Unit::Oz && larder.food(food).density.is_some() && a.role == Role::Main {
                let fluid = larder.weigh(food, Unit::FlOz, None, State::Usual, locale);
                let wider = fluid.map_or(grams, |w| {
                    let f = counted(w.grams, a);
                    Spread::new(
                        if f.low().value() < grams.low().value() {
                            f.low()
                        } else {
                            grams.low()
                        },
                        grams.likely(),
                        if f.high().value() > grams.high().value() {
                            f.high()
                        } else {
                            grams.high()
                        },
                    )
                });
                return Some(Found {
                    grams: wider,
                    basis: Basis::Stated,
                });
            }
            Some(Found {
                grams,
                basis: Basis::Stated,
            })
        }
        Hold::Volume(_) => {
            let w = larder.weigh(food, unit, None, state, locale);
            let Some(w) = w else {
                doubts.push(
                    Doubt::new(
                        DoubtCode::NoWeight,
                        format!(
                            "the larder has no weight for a {} of {}: weigh it and write the grams",
                            unit.label(),
                            name()
                        ),
                    )
                    .at(a.span.clone()),
                );
                return None;
            };
            let mut grams = filled(counted(w.grams, a), a.filling);
            // Chopped after measuring or before? Where the words leave it open, both count.
            if let State::Is("chopped") = state
                && let Some(m) = &item.food
                && text
                    .get(m.span.end..)
                    .is_some_and(|t| t.to_lowercase().contains("chopped"))
                && let Some(usual) = larder.weigh(food, unit, None, State::Usual, locale)
            {
                let u = counted(usual.grams, a);
                grams = Spread::new(
                    lower(u.low(), grams.low()),
                    grams.likely(),
                    higher(u.high(), grams.high()),
                );
            }
            Some(Found {
                grams,
                basis: Basis::Household(w.source),
            })
        }
        Hold::Piece => {
            let egg = larder.measure(food, "large", State::Usual).is_some()
                && larder.food(food).does(Function::Egg);
            let piece = if egg {
                Some(egg_size(item.qualities.size, locale))
            } else {
                item.qualities.size
            };
            let Some(w) = larder.weigh(food, unit, piece, State::Usual, locale) else {
                if unit == Unit::Stick && larder.food(food).function() == Function::Fat {
                    let one = Spread::exact(Mass::ounces(4.0));
                    return Some(Found {
                        grams: counted(one, a),
                        basis: Basis::Piece("a stick is 4 oz".to_owned()),
                    });
                }
                if !matches!(unit, Unit::Can | Unit::Packet) {
                    let what = match unit {
                        Unit::Count => "one".to_owned(),
                        u => format!("a {}", u.label()),
                    };
                    doubts.push(
                        Doubt::new(DoubtCode::NoWeight, format!("the larder has no weight for {what} of {}: weigh it and write the grams", name()))
                            .at(a.span.clone()),
                    );
                }
                return None;
            };
            let mut one = w.grams;
            if egg && item.qualities.size.is_none() && piece != Some("medium") {
                // Size not said: from a medium to an extra large one.
                let at = |size: &str| {
                    larder
                        .measure(food, size, State::Usual)
                        .map(|m| m.grams.likely())
                };
                if let (Some(low), Some(high)) = (at("medium"), at("xl")) {
                    one = Spread::new(low, one.likely(), high);
                }
            }
            let basis = if egg {
                Basis::EggClass(w.source)
            } else {
                Basis::Piece(w.source)
            };
            Some(Found {
                grams: counted(one, a),
                basis,
            })
        }
    }
}

/// The US size class that weighs what a word for size means in a locale.
///
/// # Source
/// USDA AMS 56 and EU 589/2008 shell weights (seen): an EU medium egg (53–63 g in shell) is a US
/// large (56.7 g). Australian classes were not verified: taken as US.
fn egg_size(said: Option<&'static str>, locale: Locale) -> &'static str {
    let european = matches!(locale, Locale::Uk | Locale::Metric);
    match (said, european) {
        (Some("small"), true) => "medium",
        (Some("medium") | None, true) => "large",
        (Some("large"), true) => "xl",
        (Some("xl"), true) => "jumbo",
        (Some(s), _) => s,
        (None, false) => "large",
    }
}

fn counted(one: Spread<Mass>, a: &Amount) -> Spread<Mass> {
    Spread::new(
        one.low() * a.low,
        one.likely() * a.middle(),
        one.high() * a.high,
    )
}

fn lower(a: Mass, b: Mass) -> Mass {
    if a.value() < b.value() { a } else { b }
}
fn higher(a: Mass, b: Mass) -> Mass {
    if a.value() > b.value() { a } else { b }
}

/// Scant and heaped measures: factors of common practice, no source.
fn filled(grams: Spread<Mass>, filling: Filling) -> Spread<Mass> {
    let (low, likely, high) = match filling {
        Filling::Level => return grams,
        Filling::Scant => (0.88, 0.94, 1.0),
        Filling::Generous => (1.0, 1.05, 1.15),
        Filling::Rounded => (1.1, 1.4, 1.8),
        Filling::Heaped => (1.1, 1.4, 2.0),
    };
    grams.times(Spread::new(
        Ratio::new(low),
        Ratio::new(likely),
        Ratio::new(high),
    ))
}

/// 'Butter the size of an egg': old books, from memory.
fn size_guess(text: &str) -> Option<Found> {
    let lower = text.to_lowercase();
    let of = lower.split("size of").nth(1)?;
    let (low, likely, high, what) = if of.contains("egg") {
        (40.0, 57.0, 65.0, "egg")
    } else if of.contains("walnut") {
        (14.0, 28.0, 32.0, "walnut")
    } else if of.contains("hazel") || of.contains("nut") {
        (5.0, 8.0, 14.0, "nut")
    } else {
        return None;
    };
    Some(Found {
        grams: Spread::new(Mass::grams(low), Mass::grams(likely), Mass::grams(high)),
        basis: Basis::Guess(
            format!("a lump the size of an {what}, from memory")
                .replace("an walnut", "a walnut")
                .replace("an nut", "a nut"),
        ),
    })
}

/// Books round an ounce to 25 g: 12 % between two stated weights is no contradiction.
const ROUNDED_OUNCE: f64 = 0.12;

fn twin_doubt(text: &str, a: &Amount, x: &Found, b: &Amount, y: &Found, doubts: &mut Vec<Doubt>) {
    let both_mass = [a, b]
        .iter()
        .all(|a| a.unit.is_some_and(|u| u.kind() == UnitKind::Mass));
    let slack = if both_mass { ROUNDED_OUNCE } else { 0.03 };
    let apart = x.grams.low().value() * (1.0 - slack) > y.grams.high().value()
        || x.grams.high().value() * (1.0 + slack) < y.grams.low().value();
    if !apart {
        return;
    }
    let words = |a: &Amount| text.get(a.span.clone()).unwrap_or("").trim().to_owned();
    doubts.push(
        Doubt::new(
            DoubtCode::TwinDisagrees,
            format!(
                "'{}' is {} and '{}' is {}: they do not agree; the stated weight is used",
                words(a),
                grams_words(x.grams),
                words(b),
                grams_words(y.grams)
            ),
        )
        .at(b.span.clone()),
    );
}

/// `120 g`, or `113–145 g` when it is not exact.
fn grams_words(g: Spread<Mass>) -> String {
    let (l, h) = (g.low().as_grams(), g.high().as_grams());
    if h - l < 0.02 * h {
        format!("{:.0} g", g.likely().as_grams())
    } else {
        format!("{l:.0}–{h:.0} g")
    }
}

/// Whether a food's water counts in effective hydration: liquids, eggs, dairy, fats, syrups,
/// fruit and the like, as published formulas count it. Pieces of vegetable, cheese, nut or
/// chocolate, flavourings, spices and binders do not.
#[must_use]
pub fn counts_as_wet(larder: &Larder, food: FoodId) -> bool {
    use Function as F;
    let main = larder.food(food).function();
    matches!(
        main,
        F::Liquid
            | F::Water
            | F::Egg
            | F::Dairy
            | F::Fat
            | F::Sugar
            | F::Syrup
            | F::Fruit
            | F::Yeast
            | F::Alcohol
            | F::Acid
            | F::Protein
    )
}

/// Water in 100 g, counted or not; `None` where only the label can tell.
fn water_share(larder: &Larder, food: FoodId) -> Option<f64> {
    larder.composition(food).water.map(|w| w / 100.0)
}

/// Weighs a recipe.
///
/// # Errors
/// [`WeighError::Cycle`] when components use one another in a ring.
pub fn formula(recipe: Recipe, larder: &Larder, locale: Locale) -> Result<Formula, WeighError> {
    let mut doubts: Vec<(usize, usize, Doubt)> = Vec::new();
    let names: Vec<String> = recipe.components.iter().map(|c| c.name.clone()).collect();
    let mut parts: Vec<Vec<Weighed>> = Vec::new();
    for (c, component) in recipe.components.iter().enumerate() {
        let mut items = Vec::new();
        for (l, line) in component.lines.iter().enumerate() {
            if line.kind != LineKind::Ingredient {
                continue;
            }
            if line.doubts(DoubtCode::ImpossibleNumber) {
                // No weight comes of a number that cannot be: the line stays, unweighed.
                items.extend(
                    line.items
                        .iter()
                        .enumerate()
                        .map(|(i, item)| blank(l, i, item)),
                );
                continue;
            }
            for (i, item) in line.items.iter().enumerate() {
                let mut found = Vec::new();
                let mut weighed = weigh_item(l, i, item, &line.clean, larder, locale, &mut found);
                let used = uses(&names, c, item, line.words(&item.name));
                match used {
                    Some(Some(other)) => {
                        weighed.truncate(1);
                        weighed[0].component = Some(other);
                        weighed[0].food = None;
                        if item.reference.is_none() && weighed[0].grams.is_none() {
                            weighed[0].grams = stated(item, locale);
                        }
                        found.retain(|d| d.code != DoubtCode::NoWeight);
                    }
                    Some(None) => {
                        let name = item.reference.as_ref().map_or("", |r| r.name.as_str());
                        found.push(Doubt::new(
                            DoubtCode::ComponentMissing,
                            format!("no component here is called '{name}': name one so, or give its ingredients"),
                        ));
                    }
                    None => {
                        let words = line.words(&item.name).to_lowercase();
                        if let (Some(noun), Some(food)) =
                            (words.strip_prefix("of the "), weighed[0].food)
                        {
                            found.push(Doubt::new(
                                DoubtCode::ComponentMissing,
                                format!(
                                    "no component here is called '{}': read as the food {}",
                                    noun.trim(),
                                    larder.food(food).name
                                ),
                            ));
                        }
                    }
                }
                doubts.extend(found.into_iter().map(|d| (c, l, d)));
                items.extend(weighed);
            }
        }
        parts.push(items);
    }
    let order = order(&recipe, &parts, &names)?;
    // Parts first, so that a use of half the dough knows what the dough makes.
    let mut makes: Vec<Spread<Mass>> = vec![Spread::exact(Mass::grams(0.0)); parts.len()];
    for &c in &order {
        resolve_uses(c, &recipe, &mut parts, &makes, larder, locale);
        makes[c] = Spread::sum_independent(
            parts[c]
                .iter()
                .filter(|w| w.in_formula)
                .filter_map(|w| w.grams),
        );
    }
    resolve_rests(&recipe, &mut parts, &makes, &mut doubts);
    let mut components = Vec::new();
    for (c, items) in parts.iter().enumerate() {
        components.push(component(&names[c], items, larder, &components));
    }
    // Water of used components needs them all: a second pass in order.
    for &c in &order {
        let done = component(&names[c], &parts[c], larder, &components);
        components[c] = done;
    }
    for c in 0..components.len() {
        let uses: Vec<Spread<Mass>> = parts
            .iter()
            .flatten()
            .filter(|w| w.component == Some(c))
            .filter_map(|w| w.grams)
            .collect();
        if !uses.is_empty() {
            let used = Spread::sum_independent(uses);
            let left = (components[c].makes.likely() - used.likely()).as_grams();
            if left < -0.03 * components[c].makes.likely().as_grams() {
                let line = 0;
                doubts.push((
                    c,
                    line,
                    Doubt::new(
                        DoubtCode::ComponentShort,
                        format!(
                            "'{}' makes {:.0} g but {:.0} g of it is used: make more of it or use less",
                            names[c],
                            components[c].makes.likely().as_grams(),
                            used.likely().as_grams()
                        ),
                    ),
                ));
            }
            components[c].left = Some(Spread::new(
                Mass::grams(
                    (components[c].makes.low() - used.high())
                        .as_grams()
                        .max(0.0),
                ),
                Mass::grams(left.max(0.0)),
                Mass::grams(
                    (components[c].makes.high() - used.low())
                        .as_grams()
                        .max(0.0),
                ),
            ));
            components[c].used = Some(used);
        }
    }
    for c in &mut components {
        for w in &mut c.items {
            w.percent = w
                .grams
                .filter(|_| w.in_formula)
                .and_then(|g| g.ratio_independent(c.flour).map(|r| r.scaled(100.0)));
            // The flour phase's own share of itself is not made doubtful by itself.
            if let (Some(p), Some(f)) = (w.percent, w.food)
                && larder.food(f).is_flour_phase()
            {
                let likely = p.likely().get();
                let spread = w.grams.map_or(0.0, Spread::relative_half_width).min(0.3);
                w.percent = Some(Spread::within(
                    Ratio::new(likely),
                    if (likely - 100.0).abs() < 1e-9 {
                        0.0
                    } else {
                        spread
                    },
                ));
            }
        }
    }
    Ok(Formula {
        recipe,
        locale,
        components,
        order,
        doubts,
    })
}

/// The component an item uses: `Some(None)` when it asks for one that is not there.
fn uses(names: &[String], own: usize, item: &Item, words: &str) -> Option<Option<usize>> {
    let others =
        |f: &dyn Fn(&str) -> bool| (0..names.len()).find(|&i| !names[i].is_empty() && f(&names[i]));
    if let Some(r) = &item.reference {
        let found = others(&|n| n == r.name).or_else(|| others(&|n| same_part(n, &r.name)));
        return Some(found);
    }
    let plain = words
        .split([',', '('])
        .next()
        .unwrap_or(words)
        .trim()
        .to_lowercase();
    let exact = (0..names.len()).find(|&i| i != own && !names[i].is_empty() && names[i] == plain);
    exact.map(Some)
}

/// Component places, each after those it uses.
fn order(
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
fn resolve_uses(
    c: usize,
    recipe: &Recipe,
    parts: &mut [Vec<Weighed>],
    makes: &[Spread<Mass>],
    larder: &Larder,
    locale: Locale,
) {
    for w in &mut parts[c] {
        let Some(other) = w.component else { continue };
        let item = &recipe.components[c].lines[w.line].items[w.item];
        let share = match item.reference.as_ref().map(|r| r.share) {
            Some(Share::Part(p)) => Some(p),
            Some(Share::Rest) => None,
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
fn resolve_rests(
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

/// Words of a dough begun beforehand, which belongs to the dough that uses it.
const PREFERMENTS: [&str; 11] = [
    "poolish",
    "biga",
    "preferment",
    "pre-ferment",
    "levain",
    "starter",
    "tangzhong",
    "yudane",
    "old dough",
    "soaker",
    "sourdough",
];

/// Whether a component is a preferment or scalded flour: its flour and water are the dough's.
pub(crate) fn is_preferment(name: &str) -> bool {
    PREFERMENTS.iter().any(|w| name.contains(w))
}

fn component(
    name: &str,
    items: &[Weighed],
    larder: &Larder,
    others: &[WeighedComponent],
) -> WeighedComponent {
    let counted: Vec<&Weighed> = items.iter().filter(|w| w.in_formula).collect();
    // Share of a used preferment that is flour, and that is water.
    let of_part = |w: &Weighed, what: fn(&WeighedComponent) -> Spread<Mass>| {
        let part = others
            .get(w.component?)
            .filter(|p| is_preferment(&p.name))?;
        let made = part.makes.likely().value();
        (made > 0.0).then(|| what(part).likely().value() / made)
    };
    let flour = Spread::sum_independent(counted.iter().filter_map(|w| {
        let share = match w.food {
            Some(f) => larder.food(f).flour_share(),
            None => of_part(w, |p| p.flour)?,
        };
        (share > 0.0).then(|| w.grams.map(|g| g.scaled(share)))?
    }));
    let water = Spread::sum_independent(counted.iter().filter_map(|w| {
        let share = match w.food {
            Some(f) => {
                let flour = larder.food(f).flour_share();
                if flour >= 1.0 || flour == 0.0 && !counts_as_wet(larder, f) {
                    return None;
                }
                if flour > 0.0 {
                    1.0 - flour
                } else {
                    water_share(larder, f)?
                }
            }
            None => of_part(w, |p| p.water)?,
        };
        Some(w.grams?.scaled(share))
    }));
    let hydration = water.ratio_independent(flour).map(|r| r.scaled(100.0));
    WeighedComponent {
        name: name.to_owned(),
        items: items.to_vec(),
        flour,
        water,
        makes: Spread::sum_independent(counted.iter().filter_map(|w| w.grams)),
        hydration: hydration.filter(|_| flour.likely().value() > 0.0),
        used: None,
        left: None,
        unweighed: counted.iter().filter(|w| w.grams.is_none()).count(),
    }
}
