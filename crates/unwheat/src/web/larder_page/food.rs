//! What the larder knows of a food, each figure with what it rests on.

use super::form::{does, short};
use super::history::{changes, price};
use super::measure::measure_words;
use super::plain;
use crate::web::Leaf;
use crate::web::page::{moment, sentence};
use crate::web::recipe::screen::{allergens, whole_verdict};
use larder::allergen::Regime;
use larder::{CompositionRow, FoodId, Label, Larder, State, Status, sr28};
use maud::{Markup, html};
use quantity::Locale;
use recipe::screen::{Entry, Screening};
use recipe::shop::money;
use store::{OwnChange, Row};

/// A food by itself, screened with what the kitchen has seen of it.
pub fn screened(larder: &Larder, id: FoodId) -> Screening {
    recipe::screen::lines([Entry::new(&larder.food(id).name, id, None)], larder, None)
}

/// What a figure rests on: its source, and whether it was seen.
pub fn rests_on(source: &str, status: Status) -> String {
    let words = match status {
        Status::Seen => "looked up",
        Status::FromMemory => "from memory, not looked up",
        Status::CommonPractice => "common practice, no source",
    };
    let source = &plain::source(source);
    if source.is_empty() || words == source {
        words.to_owned()
    } else if status == Status::CommonPractice && source.contains("common practice") {
        source.clone()
    } else if source.ends_with(" from memory") {
        format!("{source}, not looked up")
    } else {
        format!("{source} ({words})")
    }
}

/// Why its verdict is what it is, a sentence or two each.
fn reasons(s: &Screening) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for f in &s.findings {
        let mut words = sentence(&f.reason);
        if let Some(n) = &f.note {
            words = format!("{words} {}", sentence(n));
        }
        if !out.contains(&words) {
            out.push(words);
        }
    }
    out
}

/// Gluten and allergens.
pub fn gluten(larder: &Larder, id: FoodId, regime: Regime) -> Markup {
    let food = larder.food(id);
    let s = screened(larder, id);
    let reasons = reasons(&s);
    html! {
        section.sheet aria-labelledby="gluten" {
            div.between { h2 #gluten { "Gluten" } (whole_verdict(&s, larder)) }
            @for r in &reasons { p { (r) } }
            @if let Some(e) = larder.own(id).and_then(|e| e.gluten.as_ref()) {
                @let seen = e.words();
                @if !reasons.iter().any(|r| r.to_lowercase().contains(&seen.to_lowercase())) {
                    p { span.tag { "seen in this kitchen" } " " (sentence(&seen)) }
                }
            }
            p.hint { "The larder's judgement rests on " (rests_on(&food.source, food.status)) "." " Read the label again on each new pack." }
            h3.part { "Allergens, " (regime.name()) }
            (allergens(&s, regime))
            @if let Some(read) = larder.own(id).and_then(|e| e.read_through.as_ref()) {
                p { span.tag { "seen in this kitchen" } " " (sentence(&read.words())) }
            }
        }
    }
}

/// Water, protein and so on, per 100 g.
pub fn composition(larder: &Larder, built_in: &Larder, id: FoodId) -> Markup {
    let food = larder.food(id);
    let now = larder.composition(id);
    let before = built_in
        .by_key(&food.key)
        .map(|b| *built_in.composition(b))
        .unwrap_or_default();
    let label = larder.own(id).and_then(|e| e.label);
    let own = label.unwrap_or_default();
    let rows = [
        ("Water", now.water, before.water, own.water),
        ("Protein", now.protein, before.protein, own.protein),
        ("Fat", now.fat, before.fat, own.fat),
        (
            "Carbohydrate, with fibre",
            now.carbohydrate,
            before.carbohydrate,
            own.carbohydrate,
        ),
        ("of it fibre", now.fibre, before.fibre, own.fibre),
        ("of it sugars", now.sugars, before.sugars, own.sugars),
        ("of it starch", now.starch, before.starch, None),
        ("Ash", now.ash, before.ash, None),
    ];
    html! {
        section.sheet aria-labelledby="composition" {
            h2 #composition { "In 100 g" }
            table.ledger {
                thead { tr { th scope="col" { "Part" } th.f scope="col" { "Grams" } th scope="col" { span.unseen { "Where from" } } } }
                tbody {
                    @for (name, value, built, said) in rows {
                        tr {
                            td { (name) }
                            td.f { @match value { Some(v) => (tenth(v)), None => span.range { "not known" } } }
                            td {
                                @if said.is_some() {
                                    span.tag { "from your label" }
                                    @if name.starts_with("Carb") && !own.with_fibre && value != said { " " small { "fibre added" } }
                                } @else if label.is_some() && value != built { span.tag.line { "worked out from your label" } }
                            }
                        }
                    }
                }
            }
            p.hint { (composition_source(food.composition.clone(), label)) }
        }
    }
}

/// Grams of 100 g with one digit, so that they line up.
fn tenth(grams: f64) -> String {
    if grams > 0.0 && grams < 0.05 {
        "trace".to_owned()
    } else {
        format!("{grams:.1}")
    }
}

fn composition_source(row: CompositionRow, label: Option<Label>) -> String {
    let table = match row {
        CompositionRow::Sr28(ndb) => {
            let name = sr28::food(ndb).map_or("", |f| f.description());
            format!(
                "USDA National Nutrient Database for Standard Reference, release 28, food {ndb:05}: {name} (looked up)"
            )
        }
        CompositionRow::Own(key) if key.starts_with("own_") => {
            return "From the label this kitchen read.".to_owned();
        }
        CompositionRow::Own(_) => {
            "the larder's own table: typical figures, from memory or worked out".to_owned()
        }
        CompositionRow::Label => {
            return if label.is_some() {
                "From the label this kitchen read.".to_owned()
            } else {
                "Only its label can tell. Put the label's figures in below.".to_owned()
            };
        }
    };
    let head = if label.is_some() {
        "What is not from your label: "
    } else {
        "From "
    };
    sentence(&format!("{head}{table}"))
}

/// What a cup, a spoon, a piece weighs.
pub fn weights(larder: &Larder, id: FoodId, locale: &str) -> Markup {
    let rows = larder.measures(id);
    let cup = plain::own_cup(locale);
    let food = larder.food(id);
    html! {
        section.sheet aria-labelledby="weights" {
            h2 #weights { "What measures of it weigh" }
            @if rows.is_empty() {
                p { "No cup, spoon or piece has been weighed. "
                    @if let Some(d) = food.density { "A millilitre weighs " (short(d.likely().get())) " g." }
                    @else { "Weigh one and write it below: until then lines in cups of it cannot be weighed." } }
            } @else {
                table.ledger.stack {
                    thead { tr { th scope="col" { "Measure" } th.f scope="col" { "Grams" } th.f scope="col" { "Range" } th scope="col" { "Rests on" } } }
                    tbody {
                        @for m in rows {
                            @let own = m.source.contains("in this kitchen");
                            tr {
                                td { (measure_words(&m.measure, Locale::Us)) @if m.measure == "cup" { ", 237 mL" } @if let State::Is(s) = m.state { ", " (s) } }
                                td.f { strong { (short(m.grams.likely().as_grams())) } }
                                td.f data-h="range" { span.range { (short(m.grams.low().as_grams())) "–" (short(m.grams.high().as_grams())) } }
                                td.full {
                                    @if own { span.tag { @if !m.source.starts_with("weighed") || (cup.is_some() && m.measure == "cup") { "follows your cup" } @else { "weighed in this kitchen" } } " " small { "range: common practice, no source" } }
                                    @else { small { (rests_on(&m.source, m.status)) } }
                                }
                            }
                            @if let Some((name, times)) = cup.filter(|_| m.measure == "cup") {
                                @let of = |g: quantity::Mass| short(g.as_grams() * times);
                                tr {
                                    td { (super::super::recipe::component_name(name)) @if let State::Is(s) = m.state { ", " (s) } }
                                    td.f { strong { (of(m.grams.likely())) } }
                                    td.f data-h="range" { span.range { (of(m.grams.low())) "–" (of(m.grams.high())) } }
                                    td.full { @if own { span.tag { "weighed in this kitchen" } } @else { small { "worked out from the US cup" } } }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// How it behaves in a dough, where that is known.
pub fn behaves(larder: &Larder, id: FoodId) -> Markup {
    let Some(a) = larder.absorption(id) else {
        return html! {};
    };
    let taste = match a.flavour {
        0 => "neutral",
        1 => "mild",
        2 => "clear",
        _ => "strong",
    };
    html! {
        section.sheet aria-labelledby="behaves" {
            h2 #behaves { "In a dough" }
            dl.facts {
                dt { "Water it takes up" }
                dd { span.n { (format!("{:.2}", a.water.likely().get())) } " g per g " span.range { (format!("{:.2}–{:.2}", a.water.low().get(), a.water.high().get())) } br; small { (rests_on(&a.source, a.status)) } }
                dt { "Flavour" } dd { (taste) }
                dt { "Usual share of a blend" } dd { span.n { (a.share.0) "–" (a.share.1) " %" } br; small { "common practice, no source" } }
                @if !a.texture.is_empty() { dt { "Crumb" } dd { (plain::texture(&a.texture)) } }
            }
        }
    }
}

/// Names, note, price.
pub fn head(larder: &Larder, id: FoodId, own_food: bool) -> Markup {
    let food = larder.food(id);
    let also = larder.also(id);
    let first = also.iter().take(8).copied().collect::<Vec<_>>().join(", ");
    let rest = also.iter().skip(8).copied().collect::<Vec<_>>().join(", ");
    let s = screened(larder, id);
    // What the verdict says already is not said twice.
    let note = Some(food.note.as_str()).filter(|n| {
        let n = n.to_lowercase();
        !n.is_empty() && !reasons(&s).iter().any(|r| r.to_lowercase().contains(&n))
    });
    let functions: Vec<&str> = food.functions.iter().map(|f| does(*f)).collect();
    html! {
        header.food-head {
            div.between {
                h1 { (super::super::recipe::component_name(&food.name)) }
                @if own_food { span.tag { "your own food" } } @else if larder.is_own(id) { span.tag { "with your own figures" } }
            }
            p { (sentence(&functions.join(", "))) @if let Some(n) = note { " " (sentence(n)) } }
            @if !first.is_empty() { p.hint { "Also written: " (first) @if rest.is_empty() { "." } @else { " …" } } }
            @if !rest.is_empty() { details { summary { "All its names" } p { (rest) } } }
            @for (i, p) in larder.packs(id).enumerate() {
                p { span.tag { @if i == 0 { "your price" } @else { "another pack" } } " " (price(p)) ", " span.n { (money::amount(&p.currency, p.amount / p.pack_grams * 1000.0)) } " a kilogram as bought." }
            }
            @if let Some(s) = larder.stock(id) { p { span.tag { "in stock" } " " (short(s.grams)) " g on " (s.date) "." } }
            @if let Some(t) = larder.trim(id) { p.hint { (short(t.percent)) " % of what is bought is thrown away: " (t.lost) " (" (t.source) ")." } }
        }
    }
}

/// Recipes whose words or foods name it.
pub fn recipes(rows: &[Row], total: u32) -> Markup {
    html! {
        @if !rows.is_empty() {
            section.sheet aria-labelledby="recipes" {
                h2 #recipes { "Recipes that name it" }
                ul { @for r in rows { li { a href={ "/recipe/" (r.id) "/" (Leaf::of_stage(&r.stage).slug()) } { (r.title) } } } }
                @if total as usize > rows.len() { p.hint { "and " (total as usize - rows.len()) " more" } }
            }
        }
    }
}

/// Who changed the entry, when, why and what.
pub fn history(changed: &[OwnChange], home: Locale) -> Markup {
    html! {
        @if !changed.is_empty() {
            section.sheet aria-labelledby="history" {
                h2 #history { "What was changed here" }
                ol.changes.past {
                    @for (i, c) in changed.iter().enumerate() {
                        @let before = changed.get(i + 1).and_then(|b| b.entry.as_ref());
                        @let what = changes(before, c.entry.as_ref(), home);
                        li {
                            span.what { (c.why) } br;
                            small { @if !c.who.is_empty() { (c.who) ", " } (moment(c.at)) }
                            @if what.is_empty() { p.hint { "No figure changed." } }
                            ul { @for w in what { li { (w) } } }
                        }
                    }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_figure_rests_on_is_said_once() {
        let none = "common practice, no source";
        assert_eq!(rests_on(none, Status::CommonPractice), none);
        assert_eq!(rests_on("", Status::CommonPractice), none);
        assert_eq!(
            rests_on("USDA SR28 20481", Status::Seen),
            "USDA SR28 20481 (looked up)"
        );
        assert_eq!(
            rests_on("typical labels", Status::FromMemory),
            "typical labels (from memory, not looked up)"
        );
    }

    #[test]
    fn no_page_of_a_food_says_it_is_safe() {
        let larder = Larder::built_in().expect("tables");
        for id in larder.ids() {
            let page = html! { (head(&larder, id, false)) (gluten(&larder, id, Regime::Eu)) (weights(&larder, id, "uk")) (behaves(&larder, id)) }
                .into_string()
                .to_lowercase();
            // Nor in the words of a laboratory or of the tables.
            for word in ["farinograph", "flour phase", "(seen)", "&gt;"] {
                assert!(!page.contains(word), "{}: {word}", larder.food(id).name);
            }
            for word in ["safe for", "is free of gluten", "none of the lines"] {
                assert!(!page.contains(word), "{}: {word}", larder.food(id).name);
            }
        }
    }
}
