//! Weighing one item: its amounts, twins and sizes, the state and filling it is measured in.

use super::shell::{is_carton, of_whole_egg, says_in_shell, without_shell};
use super::{Basis, Weighed, as_bought, blank};
use crate::line::{Amount, Filling, Item, Role};
use crate::read::is_measured;
use crate::{Doubt, DoubtCode};
use larder::{FoodId, Function, Larder, State};
use quantity::{Hold, Locale, Mass, Quantity, Ratio, Spread, Unit, UnitKind};

/// A weight found for part of an item.
pub(super) struct Found {
    pub grams: Spread<Mass>,
    pub basis: Basis,
}

pub(super) fn weigh_item(
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
    let mut extra: Vec<Weighed> = Vec::new();
    if item.own_grams.contains_key(&0) {
        // What the baker weighed stands over what is written; only a second food is still weighed.
        if food.is_some() {
            extra = others(line, index, item, text, larder, locale, doubts);
        }
        extra.insert(0, weighed);
        return extra;
    }
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
            let found = weigh_amount(a, size, food, item, state, text, larder, locale, doubts)?;
            let of_egg = size.and_then(|s| of_whole_egg(&found, food, s, text, larder));
            if of_egg.is_some() {
                return of_egg;
            }
            let Some(less) = without_shell(&found, food, larder) else {
                return Some(found);
            };
            // '2 eggs, 64 g each': only with its shell does an egg of its size weigh so.
            let class = || {
                let quiet = &mut Vec::new();
                let counted = size.is_some() && !is_measured(a);
                counted.then(|| {
                    weigh_amount(a, None, food, item, state, text, larder, locale, quiet)
                })?
            };
            let shell = says_in_shell(text)
                || size.is_some_and(|s| is_carton(s, item, locale))
                || class().is_some_and(|c| apart(&c, &found, TWINS) && !apart(&c, &less, TWINS));
            Some(if shell { less } else { found })
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
                    let mut found = weigh(mass, doubts);
                    // '2 eggs, 64 g each': only with its shell does an egg of its size weigh so.
                    if let Some(found) = &mut found
                        && let Some(less) = without_shell(found, food, larder)
                    {
                        let mut others = all.iter().filter(|a| !is_mass(a));
                        let eggs = others.find_map(|a| weigh(a, &mut Vec::new()));
                        if eggs.is_some_and(|e| apart(&e, found, TWINS) && !apart(&e, &less, TWINS))
                        {
                            *found = less;
                        }
                    }
                    if let Some(found) = &mut found
                        && let Some(trim) = as_bought::left(item, mass, text, food, larder)
                    {
                        let (grams, doubt) = as_bought::doubt(mass, text, found.grams, &trim);
                        found.grams = grams;
                        doubts.push(doubt);
                    }
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
                    // '2 1/4 tsp (1 packet)': a packet's own weight is printed on it.
                    let packet = twins.iter().copied().find(|t| {
                        let spoons = weigh(first, &mut Vec::new());
                        plus.is_empty()
                            && spoons.zip(packets(t, food, larder, locale)).is_some_and(
                                |(spoons, printed)| same_packet(printed.grams, spoons.grams),
                            )
                    });
                    let lead = packet.unwrap_or(first);
                    let found =
                        weigh(lead, doubts).or_else(|| twins.iter().find_map(|t| weigh(t, doubts)));
                    match found {
                        Some(f) => {
                            for t in all.iter().filter(|t| !std::ptr::eq(**t, lead)) {
                                let mut quiet = Vec::new();
                                if let Some(o) = weigh(t, &mut quiet) {
                                    twin_doubt(text, lead, &f, t, &o, doubts);
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
        extra = others(line, index, item, text, larder, locale, doubts);
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

/// The further foods of an item: the yolk of '3 eggs plus 1 yolk'.
fn others(
    line: usize,
    index: usize,
    item: &Item,
    text: &str,
    larder: &Larder,
    locale: Locale,
    doubts: &mut Vec<Doubt>,
) -> Vec<Weighed> {
    let mut out = Vec::new();
    for (i, (other, p)) in item.further().enumerate() {
        let part = i + 1;
        let got = match item.own_grams.get(&part) {
            Some(own) => Some(Found {
                grams: Spread::exact(*own),
                basis: Basis::Own,
            }),
            None => weigh_amount(
                p,
                None,
                other,
                item,
                State::Usual,
                text,
                larder,
                locale,
                doubts,
            ),
        };
        out.push(Weighed {
            part,
            food: Some(other),
            grams: got.as_ref().map(|f| f.grams),
            basis: got.map(|f| f.basis),
            ..blank(line, index, item)
        });
    }
    out
}

/// So many packets, where the larder knows what is printed on one.
fn packets(a: &Amount, food: FoodId, larder: &Larder, locale: Locale) -> Option<Found> {
    let locale = a.locale.unwrap_or(locale);
    let one = larder.measure_in(food, "packet", locale)?;
    (a.unit == Some(Unit::Packet)).then(|| Found {
        grams: counted(one.grams, a),
        basis: Basis::Piece(one.source.clone()),
    })
}

/// Whether spoons can be of packets so heavy: by spoon a powder may weigh a third more or less
/// (common practice, no source). Packets of another size lie further off.
fn same_packet(printed: Spread<Mass>, spoons: Spread<Mass>) -> bool {
    let ratio = spoons.likely() / printed.likely();
    (0.66..=1.5).contains(&ratio)
}

fn is_volume(a: &Amount) -> bool {
    a.unit.is_some_and(|u| u.kind() == UnitKind::Volume)
}

/// The stated weight of an item whose food is not known, or that is a component.
pub(super) fn stated(item: &Item, locale: Locale) -> Option<Spread<Mass>> {
    let mut sum: Option<Spread<Mass>> = None;
    // '8 zorpel fillets (about 100 g each)'
    let count = item.amounts.first().filter(|a| !is_measured(a) && !a.aside);
    let size = item.amounts.iter().find(|a| a.role == Role::Size);
    if let (Some(count), Some(size)) = (count, size)
        && let Some(Hold::Mass(one)) = size.unit.map(|u| u.hold(size.locale.unwrap_or(locale)))
    {
        sum = Some(counted(range(size, |n| one * n), count));
    }
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
    let sized = size.filter(|_| a.unit.is_none() && a.old_millilitres.is_none());
    let Some(unit) = a.unit.or(sized.map(|_| Unit::Count)) else {
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
    // Cans, packets and pieces of a stated size.
    if unit.kind() == UnitKind::Piece
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
        // '1 packet (2 1/4 tsp)': spoons say how much it holds, its print says what it weighs.
        let spoons = one.filter(|_| of.kind() == UnitKind::Volume);
        if let (Some(spoons), Some(printed)) = (spoons, packets(a, food, larder, locale)) {
            let each = counted(spoons, a);
            let agreed = [each, spoons]
                .into_iter()
                .find(|s| same_packet(printed.grams, *s));
            let spoons = |grams| Found {
                grams,
                basis: Basis::StatedSize,
            };
            return Some(match agreed {
                Some(grams) => {
                    twin_doubt(text, a, &printed, size, &spoons(grams), doubts);
                    printed
                }
                None => {
                    let spoons = spoons(each);
                    twin_doubt(text, size, &spoons, a, &printed, doubts);
                    spoons
                }
            });
        }
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
pub(crate) fn egg_size(said: Option<&'static str>, locale: Locale) -> &'static str {
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

pub(super) fn counted(one: Spread<Mass>, a: &Amount) -> Spread<Mass> {
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
        // As much above the rim as below it.
        Filling::Heaped => (1.3, 2.0, 2.6),
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

/// Two ways to say an amount may differ by so much (common practice, no source).
const TWINS: f64 = 0.03;

/// Whether two weights differ by more than a share.
fn apart(x: &Found, y: &Found, slack: f64) -> bool {
    x.grams.low().value() * (1.0 - slack) > y.grams.high().value()
        || x.grams.high().value() * (1.0 + slack) < y.grams.low().value()
}

fn twin_doubt(text: &str, a: &Amount, x: &Found, b: &Amount, y: &Found, doubts: &mut Vec<Doubt>) {
    let both_mass = [a, b]
        .iter()
        .all(|a| a.unit.is_some_and(|u| u.kind() == UnitKind::Mass));
    if !apart(x, y, if both_mass { ROUNDED_OUNCE } else { TWINS }) {
        return;
    }
    // A count says nothing without what it counts: '3 medium leeks'.
    let counted = |a: &Amount| {
        let rest = text.get(a.span.start..).unwrap_or("");
        let end = rest.find(['(', ',', ';', '/']).unwrap_or(rest.len());
        rest[..end].trim().to_owned()
    };
    let words = |a: &Amount| {
        let said = text.get(a.span.clone()).unwrap_or("").trim();
        if said.contains(char::is_alphabetic) {
            said.to_owned()
        } else {
            counted(a)
        }
    };
    doubts.push(
        Doubt::new(
            DoubtCode::TwinDisagrees,
            format!(
                "'{0}' is {1} and '{2}' is {3}: they do not agree; '{0}' is used",
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
