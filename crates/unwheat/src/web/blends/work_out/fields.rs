//! The fields of the form: the aim, the limits, the flours to choose from.

use super::asked::{Asked, MOST, OF_FLOUR, Row, can_be_left_out, pack_price};
use crate::web::app::Pantry;
use crate::web::larder_page::typed::{beside, choice, id, number, words};
use larder::{Function, Gluten, Larder};
use maud::{Markup, html};
use recipe::formulate::{MakeUp, is_fibre};
use recipe::rework::blend::Blend;
use recipe::rework::style::Style;
use store::Settings;

/// What the blend should come near to.
fn aim(asked: &Asked, pantry: &Pantry, blends: &[Blend]) -> Markup {
    let larder = &pantry.larder;
    let known = |f: &larder::FoodId| {
        larder.food(*f).is_flour_phase() && MakeUp::of(&[(*f, 100.0)], larder).is_ok()
    };
    let mut flours: Vec<(&str, &str, bool)> = larder
        .ids()
        .filter(known)
        .map(|f| larder.food(f))
        .map(|f| {
            (
                f.key.as_str(),
                f.name.as_str(),
                f.gluten == Gluten::Contains,
            )
        })
        .collect();
    flours.sort_by_key(|f| f.1);
    let like = |key: &str, name: &str| {
        html! { option value={ "like." (key) } selected[asked.like == key] { (name) } }
    };
    html! {
        div.field {
            label for="f-aim" { "Come near to" }
            select #f-aim name="aim" aria-invalid=[asked.t.trouble("aim").map(|_| "true")]
                aria-describedby=[asked.t.trouble("aim").map(|_| "f-aim-wrong")] {
                @if !asked.has_aim() { option value="" selected { "choose a style, a blend or a flour" } }
                optgroup label="Published formulas of a style" {
                    @for s in Style::all() { option value={ "style." (s.key()) } selected[asked.style == Some(s)] { (s.name()) } }
                }
                @if blends.iter().any(|b| b.own) {
                    optgroup label="A blend of your own" { @for b in blends.iter().filter(|b| b.own) { (like(&b.key, &b.name)) } }
                }
                optgroup label="A house blend" { @for b in blends.iter().filter(|b| !b.own) { (like(&b.key, &b.name)) } }
                optgroup label="A flour with gluten" { @for f in flours.iter().filter(|f| f.2) { (like(f.0, f.1)) } }
                optgroup label="A flour or starch" { @for f in flours.iter().filter(|f| !f.2) { (like(f.0, f.1)) } }
            }
            (beside(&asked.t, "aim"))
        }
    }
}

/// The head of the form: the aim, how many flours, how much.
pub fn head(asked: &Asked, pantry: &Pantry, blends: &[Blend]) -> Markup {
    let counts: Vec<String> = (1..=MOST).map(|n| n.to_string()).collect();
    let counts: Vec<(&str, &str)> = counts.iter().map(|n| (n.as_str(), n.as_str())).collect();
    html! {
        input type="hidden" name="asked" value="1";
        div.row.aim {
            (aim(asked, pantry, blends))
            (choice(&asked.t, "flours", "Flours and starches at most", &counts))
            div.row { (number(&asked.t, "batch", "Batch", "g", "")) button.do { "Work it out" } }
        }
    }
}

/// What is left out, and the limits on the whole blend.
pub fn limits(
    asked: &Asked,
    larder: &Larder,
    settings: &Settings,
    starch: Option<(f64, f64)>,
) -> Markup {
    let t = &asked.t;
    let usual = starch.map_or(String::new(), |(a, b)| {
        format!("Where empty: {a:.0} and {b:.0}. Starch inside flours is not counted.")
    });
    html! {
        fieldset {
            legend { "Leave out" }
            div.ticks {
                @for l in can_be_left_out(larder) {
                    label.tick { input type="checkbox" name="without" value=(l.word()) checked[asked.left_out.contains(&l)]; (l.name()) }
                }
            }
        }
        p { a href="#choose" { "The flours to choose from" } " stand below the blends." }
        fieldset {
            legend { "Limits on the whole blend" }
            div.figures {
                (number(t, "starch_least", "Starches at least", "%", ""))
                (number(t, "starch_most", "Starches at most", "%", &usual))
                (number(t, "strong", "Strong flavours at most", "%", "Where empty: 20."))
                (number(t, "cost", "A kilogram costs at most", &settings.currency, ""))
                (number(t, "within", "Cheapest no further off than", "", "Where empty: the nearest, whatever it costs. 1: a usual published blend."))
            }
        }
    }
}

/// The flours to choose from.
pub fn ledger(asked: &Asked, larder: &Larder, settings: &Settings) -> Markup {
    let starch = |r: &&Row| larder.food(r.food).function() == Function::Starch;
    let (fibres, rest): (Vec<&Row>, Vec<&Row>) =
        asked.rows.iter().partition(|r| is_fibre(r.food, larder));
    let (starches, flours): (Vec<&Row>, Vec<&Row>) = rest.into_iter().partition(starch);
    html! {
        h2 #choose { "Flours to choose from" }
        p.hint { "Those ticked may be used, in their usual shares where you write nothing. A figure under ‘at least’ has the flour used." }
        div #f-use { (beside(&asked.t, "use")) }
        table.ledger.stack.choose {
            thead { tr {
                th scope="col" { "Flour or starch" } th.f scope="col" { "Usual %" } th.f scope="col" { "At least %" } th.f scope="col" { "At most %" }
                th.f scope="col" { "There are, g" } th.f scope="col" { "Price a kg, " (settings.currency) }
            } }
            @for (name, rows) in [("Flours", flours), ("Starches", starches), ("Fibres", fibres)] {
                @if !rows.is_empty() { tbody data-k=(name) {
                    @for r in rows { (row(asked, larder, settings, r)) }
                } }
            }
        }
        @for r in asked.rows.iter().filter(|r| r.added) { input type="hidden" name="row" value=(larder.food(r.food).key) data-k={ "h" (larder.food(r.food).key) }; }
        div.row.more {
            (words(&asked.t, "also", "Another flour, starch or fibre", "Nut, soy, lupin and oat flours are used only where you name them. A fibre (oat, apple, citrus, inulin) comes on top of the flours."))
            button { "Add it" }
        }
    }
}

fn row(asked: &Asked, larder: &Larder, settings: &Settings, r: &Row) -> Markup {
    let t = &asked.t;
    let f = larder.food(r.food);
    let name = |kind: &str| format!("{kind}.{}", f.key);
    let field = |kind: &str, head: &str, what: &str| {
        let name = name(kind);
        html! {
            td.f data-h=(head) {
                input.f id=(id(&name)) name=(name) value=(t.get(&name)) inputmode="decimal" autocomplete="off" maxlength="12" aria-label={ (what) " " (f.name) }
                    aria-invalid=[t.trouble(&name).map(|_| "true")] aria-describedby=[t.trouble(&name).map(|_| format!("{}-wrong", id(&name)))];
                @if kind == "price" { (pack(larder, settings, r)) }
            }
        }
    };
    let wrong = || {
        OF_FLOUR
            .iter()
            .map(|o| name(o.0))
            .filter(|n| t.trouble(n).is_some())
    };
    html! {
        tr data-k=(f.key) {
            td.full.first { label.tick { input type="checkbox" name="use" value=(f.key) checked[r.used]; (f.name) @if is_fibre(r.food, larder) { " " small { "on top" } } } }
            td.f data-h="usual %" { span.range { (format!("{:.0}–{:.0}", r.share.0, r.share.1)) } }
            (field("least", "at least %", "Least percent of"))
            (field("most", "at most %", "Greatest percent of"))
            (field("stock", "there are, g", "Grams there are of"))
            (field("price", "price a kg", "Price of a kilogram of"))
        }
        @if wrong().next().is_some() {
            tr.said data-k={ "said-" (f.key) } { td.full colspan="6" { @for n in wrong() { (beside(t, &n)) } } }
        }
    }
}

/// What a kilogram costs by the pack in the larder.
fn pack(larder: &Larder, settings: &Settings, r: &Row) -> Markup {
    html! {
        @match (pack_price(larder, r.food, &settings.currency), larder.price(r.food)) {
            (Some((per_kg, p)), _) => small.pack { "by the pack of " span.n { (p.date) } ": " span.n { (format!("{per_kg:.2}")) } },
            (None, Some(p)) => small.pack { "pack of " span.n { (p.date) } " in " (p.currency) ": not counted" },
            (None, None) => {}
        }
    }
}

/// The flour that is asked about.
pub fn why(asked: &Asked, larder: &Larder) -> Markup {
    let mut others: Vec<(&str, &str, bool)> = larder
        .ids()
        .filter(|f| larder.food(*f).is_flour_phase() && !asked.rows.iter().any(|r| r.food == *f))
        .map(|f| {
            (
                larder.food(f).key.as_str(),
                larder.food(f).name.as_str(),
                asked.why == Some(f),
            )
        })
        .collect();
    others.sort_by_key(|o| o.1);
    html! {
        div.field {
            label for="f-why" { "Why no …?" }
            select #f-why name="why" {
                option value="" { "choose a flour" }
                optgroup label="To choose from" {
                    @for r in &asked.rows { option value=(larder.food(r.food).key) selected[asked.why == Some(r.food)] { (larder.food(r.food).name) } }
                }
                optgroup label="Others" { @for o in &others { option value=(o.0) selected[o.2] { (o.1) } } }
            }
        }
        noscript { button { "Tell me" } }
    }
}
