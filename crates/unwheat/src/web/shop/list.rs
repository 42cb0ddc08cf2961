//! The list itself, for the shop and for a recipe's page.

use crate::show::shop::{at_least, beside, needed, remarks, stock_words, to_buy};
use larder::Larder;
use maud::{Markup, html};
use recipe::household::{is_fine, weight};
use recipe::shop::{List, ListLine, Reminder, Section};

/// What the list is shown on.
pub struct On<'a> {
    /// The larder, for names and scales.
    pub larder: &'a Larder,
    /// Titles of the recipes, by their place in the orders.
    pub titles: &'a [&'a str],
    /// What is ticked off; `None` where there is nothing to tick.
    pub got: Option<&'a [String]>,
    /// The question in the address.
    pub query: &'a str,
    /// The day stock is judged old by.
    pub day: &'a str,
}

/// The list in a sheet of its own.
pub fn sheet(l: &List, on: &On<'_>) -> Markup {
    html! {
        section.sheet.shopping aria-labelledby="list" {
            div.between {
                h2 #list { "To buy" }
                p.pay { "To pay: " strong { (at_least(&l.pay, l.is_floor())) } }
            }
            @if on.got.is_some() {
                div.row.no-print {
                    a.button.small href={ "/shop/list.csv?" (on.query) } download { "Table (CSV)" }
                    a.button.small href={ "/shop/list.txt?" (on.query) } download { "Text" }
                    button.small type="button" data-copy={ "/shop/list.txt?" (on.query) } hidden { "Copy as text" }
                    button.small type="button" data-print hidden { "Print" }
                    button.small type="button" data-untick hidden { "Take all ticks off" }
                }
            }
            @if on.got.is_some() {
                form method="get" action="/shop" data-got=(on.query) {
                    @for (k, v) in form_urlencoded::parse(on.query.as_bytes()) { input type="hidden" name=(k) value=(v); }
                    (sections(l, on))
                    p.no-print.ticks-kept { button.small { "Keep the ticks in the address" } }
                }
            } @else {
                (sections(l, on))
            }
            (below(l, on))
        }
    }
}

fn sections(l: &List, on: &On<'_>) -> Markup {
    html! {
        @for section in Section::ALL {
            @let lines: Vec<&ListLine> = l.section(section).collect();
            @if !lines.is_empty() {
                h3.part { (section.words()) }
                ul.buy { @for x in lines { (line(x, on)) } }
            }
        }
    }
}

fn line(x: &ListLine, on: &On<'_>) -> Markup {
    let ticked = on.got.is_some_and(|g| g.contains(&x.key));
    let nothing = x.needed.is_some() && x.to_buy.as_grams() <= 0.0;
    let body = html! {
        span.what {
            strong { (x.name) }
            " " span.need { (needed(x, on.larder)) }
        }
        span.packs { (to_buy(x, on.larder)) }
        span.money {
            @if !x.pay.is_empty() { (x.pay.likely_words()) }
            @else if x.no_price() { span.range { "no price" } }
        }
    };
    let said = remarks(x, on.larder);
    html! {
        li.done[nothing] data-k={ "b-" (x.key) } {
            @if on.got.is_some() {
                label.item { input type="checkbox" name="got" value=(x.key) checked[ticked]; (body) }
            } @else {
                div.item { (body) }
            }
            @if !x.reminders.is_empty() {
                p.labels { @for (reminder, reason) in &x.reminders {
                    span class=(verdict(*reminder)) { (reminder.words()) } " "
                    @if *reminder != Reminder::BuyLabelled { small { (reason) } " " }
                } }
            }
            @if !said.is_empty() { p.hint { (said.join("; ")) } }
            @if on.titles.len() > 1 || x.uses.len() > 1 {
                details.uses { summary { "What for" span.unseen { ": " (x.name) } } p.hint { (uses(x, on)) } }
            }
        }
    }
}

/// How a reminder looks: as the screen's verdicts do.
fn verdict(reminder: Reminder) -> &'static str {
    match reminder {
        Reminder::HoldsGluten => "verdict contains",
        Reminder::CheckLabel => "verdict check",
        Reminder::BuyLabelled => "tag",
    }
}

/// What a line is for, with the grams of each.
pub fn uses(x: &ListLine, on: &On<'_>) -> String {
    let fine = x.food.is_some_and(|f| is_fine(on.larder, f));
    let mut parts: Vec<String> = Vec::new();
    for u in &x.uses {
        let title = on.titles.get(u.order).copied().unwrap_or_default();
        let place = match (on.titles.len() > 1, u.component.is_empty()) {
            (true, false) => format!("{title}, {}", u.component),
            (true, true) => title.to_owned(),
            (false, false) => u.component.clone(),
            (false, true) => "the recipe".to_owned(),
        };
        let grams = u
            .grams
            .map_or_else(|| "no weight".to_owned(), |g| weight(g.likely(), fine));
        parts.push(format!("{place} {grams}"));
    }
    parts.join("; ")
}

/// What stands below the list: old stock, blends, what is not bought, what is missing in the sum.
fn below(l: &List, on: &On<'_>) -> Markup {
    html! {
        @for words in stock_words(l, on.day) { p.trouble { (words) } }
        @for words in beside(l) { p { (words) } }
        // The page of a recipe says it beside its cost.
        @if l.is_floor() && on.got.is_some() { p.hint { "Not in the sum, for want of a price or a weight: " (l.unpriced.join("; ")) "." } }
    }
}
