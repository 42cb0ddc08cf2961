//! The Shop page of a recipe: what it costs, against the wheat original, and its list.

use super::size::of_size;
use super::{Leaf, Open, component_name, prices};
use crate::show::shop::{at_least, cost_words, missing, old_prices};
use crate::web::app::App;
use crate::web::kitchen::scale;
use crate::web::larder_page::typed::Typed;
use crate::web::page;
use crate::web::picture::{self, Paid};
use crate::web::shop::{list, shelf, style};
use larder::{FoodId, Larder};
use maud::{Markup, html};
use recipe::household::{is_fine, percent, weight};
use recipe::sheet::Worked;
use recipe::shop::{Conversion, Cost, CostLine, NOT_COUNTED, Order, conversion, made};

/// The order of the batch.
fn order<'a>(o: &'a Open, w: &'a Worked) -> Order<'a> {
    Order::sized(o.title(), &w.rework, &w.rework_screening, &w.batch, 1.0).on(scale(&o.settings))
}

/// What the batch costs, beside the wheat original.
pub fn costs(app: &App, o: &Open, w: &Worked) -> Conversion {
    conversion(&order(o, w), &o.pantry.larder, &page::day(app.now()))
}

/// The page's body.
///
/// # Arguments
/// * `typed` — the form of prices as it was sent and not taken.
pub fn body(app: &App, o: &Open, w: &Worked, typed: Option<&Typed>) -> Markup {
    let larder = &o.pantry.larder;
    let order = order(o, w);
    let today = page::day(app.now());
    let c = conversion(&order, larder, &today);
    let m = made(&order);
    let l = recipe::shop::list(std::slice::from_ref(&order), larder, &shelf(&o.settings));
    let title = [o.title()];
    let query = format!("r={}", o.row.id);
    html! {
        (style())
        (of_size(o))
        div.spread.even {
            section.sheet aria-labelledby="cost" {
                div.between { h2 #cost { "What it costs" } p.pay { strong { (at_least(&c.reworked.total, c.reworked.is_floor())) } } }
                @if c.reworked.total.is_empty() {
                    p { "No price is known of anything in it. " a href="#prices" { "Note what packs cost" } "." }
                } @else {
                    @for words in cost_words(&c, &m, larder) { p { (words) } }
                    @let old = old_prices(&c.reworked);
                    @if !old.is_empty() { p.trouble { "Old price: " (old.join(", ")) ". Note the price of the next pack." } }
                }
                p.hint { (NOT_COUNTED) }
                @if (w.batch.factor - 1.0).abs() > 1e-9 { p.hint { "For the batch: × " (recipe::size::times(w.batch.factor)) " the recipe." } }
            }
            section.sheet aria-labelledby="made-of" {
                h2 #made-of { "What the sum is made of" @if let Some((c, _)) = c.reworked.total.amounts().next().filter(|_| !c.reworked.total.is_mixed()) { ", " (c) } }
                (bars(&c))
                (unpriced(&c.reworked, larder, o))
            }
        }
        (prices::form(app, o, &c, typed))
        section.sheet aria-labelledby="lines" {
            h2 #lines { "Ingredient by ingredient" }
            (ledger(&c, larder, o))
        }
        p.no-print { a.button.do href={ "/shop?" (query) } { "Shop for it with a list to tick" } }
        (list::sheet(&l, &list::On { larder, titles: &title, got: None, query: &query, day: &today }))
    }
}

/// What packs of a food cost, in the larder, with the way back here.
fn at_larder(o: &Open, larder: &Larder, food: FoodId) -> String {
    format!(
        "/larder/{}?back={}#bought",
        larder.food(food).key,
        o.at(Leaf::Shop)
    )
}

fn bars(c: &Conversion) -> Markup {
    let total = &c.reworked.total;
    html! {
        @for (currency, _) in total.amounts() {
            @let parts: Vec<Paid> = c.reworked.lines.iter().filter_map(|l| Some(Paid {
                name: l.name.clone(),
                amount: l.money.get(currency)?.likely().get(),
                share: l.share?,
            })).collect();
            @if total.is_mixed() { h3.part { (currency) } }
            (picture::cost(&format!("cost-{currency}"), &parts, &format!("What the sum is made of, in {currency}"), |v| recipe::shop::money::figure(currency, v)))
        }
    }
}

/// What the sums lack, each with why, and a food with the way to note its price.
fn unpriced(c: &Cost, larder: &Larder, o: &Open) -> Markup {
    let lines = missing(c);
    let food = |name: &str| c.lines.iter().find(|l| l.name == name)?.food;
    html! {
        @if !lines.is_empty() {
            h3.part { "Not in the sums" }
            ul.plain { @for (name, why) in lines {
                li {
                    @match food(name) { Some(f) => a href=(at_larder(o, larder, f)) { (name) }, None => (name) }
                    " " small { (why) }
                }
            } }
            p.hint { a href="#prices" { "Note what a pack costs" } ", and the sums are more than a floor." }
        }
    }
}

fn ledger(c: &Conversion, larder: &Larder, o: &Open) -> Markup {
    let before = |l: &CostLine| {
        let same = |x: &&CostLine| x.food == l.food && x.name == l.name;
        c.original.lines.iter().find(same)
    };
    let only: Vec<&CostLine> = c
        .original
        .lines
        .iter()
        .filter(|l| {
            !c.reworked
                .lines
                .iter()
                .any(|x| x.food == l.food && x.name == l.name)
        })
        .collect();
    let grams = |l: &CostLine| -> String {
        l.grams.map_or_else(
            || "no weight".to_owned(),
            |g| weight(g.likely(), l.food.is_some_and(|f| is_fine(larder, f))),
        )
    };
    let money = |l: &CostLine| -> String {
        if l.money.is_empty() {
            "no price".to_owned()
        } else {
            l.money.words()
        }
    };
    html! {
        table.ledger.stack.costs {
            thead { tr {
                th scope="col" { "Ingredient" } th.f scope="col" { "Used" } th.f scope="col" { "Costs" } th.f scope="col" { "Share" }
                th scope="col" { "Pack" } th.f scope="col" { "In the wheat original" }
            } }
            tbody {
                @for l in &c.reworked.lines {
                    tr {
                        td.full { @match l.food { Some(f) => a href=(at_larder(o, larder, f)) { (l.name) }, None => (l.name) } }
                        td.f data-h="used" { (grams(l)) }
                        td.f data-h="costs" { (money(l)) }
                        td.f data-h="share" { @if let Some(s) = l.share { (percent(100.0 * s)) } }
                        td data-h="pack" { @if let Some(p) = &l.price { (recipe::shop::money::amount(&p.currency, p.amount)) " for " (crate::show::shop::pack(p)) br; small { (p.date) @if l.old.is_some() { " " span.tag.warn { "old" } } } } }
                        td.f data-h="wheat" { @match before(l) { Some(b) => { (grams(b)) br; small { (money(b)) } }, None => "–" } }
                    }
                }
                @for l in only {
                    tr {
                        td.full { @match l.food { Some(f) => a href=(at_larder(o, larder, f)) { (l.name) }, None => (l.name) } " " small { "in the original only" } }
                        td.f data-h="used" { "–" } td.f data-h="costs" { "–" } td.f data-h="share" {}
                        td data-h="pack" { @if let Some(p) = &l.price { (recipe::shop::money::amount(&p.currency, p.amount)) " for " (crate::show::shop::pack(p)) br; small { (p.date) } } }
                        td.f data-h="wheat" { (grams(l)) br; small { (money(l)) } }
                    }
                }
                tr.sum {
                    td.full { "All of it" } td.f {} td.f data-h="costs" { (at_least(&c.reworked.total, c.reworked.is_floor())) } td {} td {}
                    td.f data-h="wheat" { (at_least(&c.original.total, c.original.is_floor())) }
                }
            }
        }
        @if c.reworked.components.len() > 1 {
            h3.part { "By component" }
            table.ledger.costs {
                thead { tr { th scope="col" { "Component" } th.f scope="col" { "Its own ingredients" } } }
                tbody { @for p in &c.reworked.components { tr { td { (component_name(&p.name)) } td.f { (at_least(&p.money, p.is_floor)) } } } }
            }
            p.hint { "A component that another one uses is counted once, where it is made." }
        }
    }
}
