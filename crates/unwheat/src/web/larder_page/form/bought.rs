//! What is bought of a food: packs with their prices, what there is, what is thrown away.

use super::super::typed::{Typed, date, number, words};
use super::short;
use larder::{FoodId, Larder, OwnEntry, Price, Stock};
use maud::{Markup, html};
use recipe::shop::read_pack;
use store::Settings;

/// Packs beside the usual one.
const MORE: usize = 5;
/// Fields of a pack.
const PACK: [&str; 4] = ["pack_grams", "amount", "currency", "date"];

/// Where packs stand in the form, the usual one first.
fn places() -> impl Iterator<Item = String> {
    std::iter::once("price".to_owned()).chain((0..MORE).map(|i| format!("packs.{i}")))
}

/// The fields of all packs.
pub fn names() -> Vec<String> {
    places()
        .flat_map(|at| PACK.map(|f| format!("{at}.{f}")))
        .collect()
}

/// Puts what an entry says into the form.
pub fn fill(t: &mut Typed, e: &OwnEntry, settings: &Settings, today: &str) {
    let packs: Vec<&Price> = e.price.iter().chain(&e.packs).collect();
    for (i, at) in places().enumerate() {
        let mut put = |field: &str, value: String| t.put(&format!("{at}.{field}"), value);
        match packs.get(i) {
            Some(p) => {
                let size = if p.pack.is_empty() {
                    p.pack_grams.to_string()
                } else {
                    p.pack.clone()
                };
                put("pack_grams", size);
                put("amount", p.amount.to_string());
                put("currency", p.currency.clone());
                put("date", p.date.clone());
            }
            None => {
                put("currency", settings.currency.clone());
                put("date", today.to_owned());
            }
        }
    }
    t.put("stock.date", today);
    if let Some(s) = &e.stock {
        // With its unit: a bare figure could be a count.
        t.put("stock.grams", format!("{} g", s.grams));
        t.put("stock.date", s.date.clone());
    }
    if let Some(trim) = e.trim {
        t.put("trim", trim.to_string());
    }
}

/// Reads it back; what cannot be read is noted in the form.
pub fn read(t: &mut Typed, e: &mut OwnEntry, larder: &Larder) {
    let food = larder.by_key(&e.key);
    let mut packs = Vec::new();
    for at in places() {
        packs.extend(pack(t, &at, food, larder));
    }
    let mut packs = packs.into_iter();
    e.price = packs.next();
    e.packs = packs.collect();
    let field = "stock.grams";
    if t.some(field).is_some()
        && let Some((grams, _)) = grams(t, field, food, larder)
    {
        e.stock = Some(Stock {
            // To a tenth, as scales show it.
            grams: (grams * 10.0).round() / 10.0,
            date: t.get("stock.date").to_owned(),
        });
    }
    e.trim = t.figure("trim", "what is thrown away, in percent");
}

/// The pack whose fields begin with these words; what is wrong with it is noted in the form.
pub fn pack(t: &mut Typed, at: &str, food: Option<FoodId>, larder: &Larder) -> Option<Price> {
    let field = |f: &str| format!("{at}.{f}");
    let (size, amount) = (field("pack_grams"), field("amount"));
    let money = t.figure(&amount, "the price");
    if t.some(&size).is_none() {
        if money.is_some() {
            t.wrong(&size, "write what the pack holds");
        }
        return None;
    }
    let grams = grams(t, &size, food, larder);
    if money.is_none() && t.get(&amount).is_empty() {
        t.wrong(&amount, "write what the pack costs");
    }
    let (pack_grams, pack) = grams?;
    Some(Price {
        pack_grams,
        amount: money?,
        currency: t.get(&field("currency")).to_uppercase(),
        date: t.get(&field("date")).to_owned(),
        pack,
    })
}

/// Grams of a figure, or of a pack in words with these words.
fn grams(
    t: &mut Typed,
    field: &str,
    food: Option<FoodId>,
    larder: &Larder,
) -> Option<(f64, String)> {
    let text = t.get(field).to_owned();
    let plain = text.strip_suffix('g').unwrap_or(&text).trim();
    let figure = quantity::figure(plain);
    if let Some(grams) = figure.filter(|_| plain != text) {
        return Some((grams, String::new()));
    }
    match read_pack(&text, food, larder, larder.locale()) {
        Ok(size) => Some((size.grams, figure.map_or(text, |_| String::new()))),
        Err(e) => {
            let mend = crate::web::page::sentence(&e.mend);
            t.wrong(
                field,
                format!("{} {mend}", crate::web::page::sentence(&e.what)),
            );
            None
        }
    }
}

/// The fields, to stand in a form: the packs there are and one more.
pub fn fields(t: &Typed, larder: &Larder, food: Option<FoodId>) -> Markup {
    let filled = |at: &String| {
        let some = |f: &str| t.some(&format!("{at}.{f}")).is_some();
        some("pack_grams") || some("amount")
    };
    let places: Vec<String> = places().collect();
    let shown = places
        .iter()
        .rposition(filled)
        .map_or(1, |last| last + 2)
        .min(places.len());
    let table = food.and_then(|f| larder.trim(f));
    let trim = table.map_or_else(
        || "peel, shells, cores: the larder takes it as bought ready to use".to_owned(),
        |t| format!("table: {} % {} ({})", short(t.percent), t.lost, t.source),
    );
    html! {
        fieldset #bought {
            legend { "What packs cost" }
            p.hint { "As on the pack: 500 g, 5 lb bag, 12 eggs, 1 L, 2 x 500 g. The first pack is the one you usually buy: recipes are reckoned with it. The shopping list takes the cheapest of all." }
            @for (i, at) in places.iter().take(shown).enumerate() {
                div.figures.packing role="group" aria-label=(if i == 0 { "The usual pack".to_owned() } else { format!("Pack {}", i + 1) }) {
                    (words(t, &format!("{at}.pack_grams"), if i == 0 { "Pack" } else { "Another pack" }, ""))
                    (number(t, &format!("{at}.amount"), "Price", "", ""))
                    (words(t, &format!("{at}.currency"), "Currency", ""))
                    (date(t, &format!("{at}.date"), "Day"))
                }
            }
            @for at in places.iter().skip(shown) {
                @for f in ["currency", "date"] { input type="hidden" name={ (at) "." (f) } value=(t.get(&format!("{at}.{f}"))); }
            }
        }
        fieldset {
            legend { "What there is, and what is thrown away" }
            div.figures {
                (words(t, "stock.grams", "In stock", "grams, or words as on a pack"))
                (date(t, "stock.date", "Counted on"))
                (number(t, "trim", "Thrown away", "%", &trim))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packs_in_words_are_weighed_and_kept_as_words() {
        let larder = Larder::built_in().expect("tables");
        let mut t = Typed::default();
        fill(
            &mut t,
            &OwnEntry::default(),
            &Settings::default(),
            "2026-11-29",
        );
        t.put("price.pack_grams", "12 eggs");
        t.put("price.amount", "3.20");
        t.put("packs.0.pack_grams", "360 g");
        t.put("packs.0.amount", "1,85");
        t.put("stock.grams", "4 eggs");
        let mut e = OwnEntry {
            key: "egg".to_owned(),
            ..OwnEntry::default()
        };
        read(&mut t, &mut e, &larder);
        assert!(!t.is_wrong(), "{:?}", t.troubles().collect::<Vec<_>>());
        let price = e.price.as_ref().expect("a price");
        assert_eq!(price.pack, "12 eggs");
        // 50 g of egg each, over 88 % that is not shell.
        assert!((price.pack_grams - 600.0 / 0.88).abs() < 1e-6);
        assert_eq!(e.packs.len(), 1);
        assert!((e.packs[0].amount - 1.85).abs() < 1e-12 && e.packs[0].pack.is_empty());
        let stock = e.stock.as_ref().expect("stock");
        assert_eq!(stock.grams, 227.3);
        e.check(&larder).expect("it can be");
        for (field, text) in [("price.pack_grams", "3 bags"), ("stock.grams", "some")] {
            t.put(field, text);
            read(&mut t, &mut e, &larder);
            assert!(t.trouble(field).is_some(), "{field}");
        }
    }

    /// '2' in stock of eggs was 2 g of egg, without a word.
    #[test]
    fn a_bare_figure_of_what_is_counted_is_asked_about() {
        let larder = Larder::built_in().expect("tables");
        let asks = |key: &str, text: &str| {
            let mut t = Typed::default();
            t.put("stock.grams", text);
            let mut e = OwnEntry {
                key: key.to_owned(),
                ..OwnEntry::default()
            };
            read(&mut t, &mut e, &larder);
            t.trouble("stock.grams").map(str::to_owned)
        };
        let asked = asks("egg", "2").expect("which of them");
        assert_eq!(asked, "2 eggs, or 2 g? Write '2 eggs' or '2 g'.");
        // So is any figure lighter than one of them.
        let dozen = asks("egg", "12").expect("no egg weighs 12 g");
        assert_eq!(dozen, "12 eggs, or 12 g? Write '12 eggs' or '12 g'.");
        assert!(asks("lemon", "3").is_some_and(|a| a.contains("'3 lemons' or '3 g'")));
        for (key, text) in [
            ("egg", "2 eggs"),
            ("egg", "12 eggs"),
            ("egg", "2 g"),
            ("egg", "120"),
            ("instant_yeast", "7"),
        ] {
            assert_eq!(asks(key, text), None, "{key} {text}");
        }
        // What is kept is not asked about when the form is opened again.
        let mut t = Typed::default();
        let few = Stock {
            grams: 4.5,
            date: "2026-11-29".to_owned(),
        };
        let mut e = OwnEntry {
            key: "egg".to_owned(),
            stock: Some(few),
            ..OwnEntry::default()
        };
        fill(&mut t, &e, &Settings::default(), "2026-11-29");
        read(&mut t, &mut e, &larder);
        assert!(t.trouble("stock.grams").is_none());
    }

    #[test]
    fn a_price_without_a_pack_and_a_pack_without_a_price_are_told() {
        let larder = Larder::built_in().expect("tables");
        let mut t = Typed::default();
        t.put("packs.1.amount", "3");
        t.put("packs.2.pack_grams", "500");
        let mut e = OwnEntry::default();
        read(&mut t, &mut e, &larder);
        assert!(t.trouble("packs.1.pack_grams").is_some());
        assert!(t.trouble("packs.2.amount").is_some());
        assert!(e.price.is_none() && e.packs.is_empty());
    }
}
