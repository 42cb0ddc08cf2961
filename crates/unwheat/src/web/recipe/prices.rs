//! What packs cost, noted for all foods of a recipe at once on its Shop page.

use super::{Leaf, Open, around, head, open, shop};
use crate::web::app::{App, Shared, run};
use crate::web::fault::Fault;
use crate::web::larder_page::form::bought::pack;
use crate::web::larder_page::typed::{Typed, beside, date, id, words};
use crate::web::larder_page::{checked, entry_now, form as larder_form};
use crate::web::page::{self, back_to};
use crate::web::post::Post;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use larder::{FoodId, OwnEntry};
use maud::{Markup, html};
use recipe::shop::Conversion;

/// Why an entry changed, where its price was noted here.
const WHY: &str = "price noted while shopping";

/// Foods without a price, once each: those of the gluten-free version, then of the wheat original alone.
fn unpriced(c: &Conversion) -> Vec<(FoodId, &str, bool)> {
    let mut out: Vec<(FoodId, &str, bool)> = Vec::new();
    for (cost, original) in [(&c.reworked, false), (&c.original, true)] {
        for l in &cost.lines {
            if let (Some(food), None) = (l.food, &l.price)
                && !out.iter().any(|o| o.0 == food)
            {
                out.push((food, &l.name, original));
            }
        }
    }
    out
}

/// Where the fields of a food's pack begin.
fn at(key: &str) -> String {
    format!("pack.{key}")
}

/// The form: pack and price of each food that has none.
pub fn form(app: &App, o: &Open, c: &Conversion, typed: Option<&Typed>) -> Markup {
    let larder = &o.pantry.larder;
    let foods = unpriced(c);
    let mut fresh = Typed::default();
    fresh.put("currency", o.settings.currency.as_str());
    fresh.put("date", page::day(app.now()));
    let t = typed.unwrap_or(&fresh);
    let field = |name: &str, label: &str, figure: bool| {
        html! {
            label.unseen for=(id(name)) { (label) }
            input.f[figure] id=(id(name)) name=(name) value=(t.get(name)) autocomplete="off" maxlength="60"
                inputmode=[figure.then_some("decimal")]
                aria-invalid=[t.trouble(name).map(|_| "true")]
                aria-describedby=[t.trouble(name).map(|_| format!("{}-wrong", id(name)))];
            (beside(t, name))
        }
    };
    html! {
        @if !foods.is_empty() {
            details.sheet open[typed.is_some() || c.reworked.total.is_empty()] {
                summary { "Note what packs cost (" (foods.len()) " without a price)" }
                (t.told())
                p.hint { "As on the pack: 500 g, 5 lb bag, 12 eggs, 1 L. Leave out what you do not know. It is kept in the larder, for every recipe." }
                form #prices method="post" action={ "/recipe/" (o.row.id) "/prices#prices" } {
                    (page::seal(app))
                    table.ledger.stack.noting {
                        thead { tr { th scope="col" { "Food" } th scope="col" { "Pack" } th scope="col" { "Price" } } }
                        tbody { @for (food, name, original) in &foods {
                            @let at = at(&larder.food(*food).key);
                            tr {
                                td.full { (name) @if *original { " " small { "in the wheat original only" } } }
                                td data-h="pack" { (field(&format!("{at}.pack_grams"), &format!("Pack of {name}"), false)) }
                                td data-h="price" { (field(&format!("{at}.amount"), &format!("Price of {name}"), true)) }
                            }
                        } }
                    }
                    div.figures {
                        (words(t, "currency", "Currency", ""))
                        (date(t, "date", "Day"))
                    }
                    button.do { "Keep these prices" }
                }
            }
        }
    }
}

/// Keeps the prices of a form, all or none of them.
pub async fn keep(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let o = open(app, id)?;
        let larder = &o.pantry.larder;
        let w = o.worked().map_err(|e| Fault::bad(e.to_string()))?;
        let c = shop::costs(app, &o, w);
        let keys: Vec<&str> = unpriced(&c)
            .iter()
            .map(|f| &*larder.food(f.0).key)
            .collect();
        let names = keys
            .iter()
            .flat_map(|k| ["pack_grams", "amount"].map(|f| format!("{}.{f}", at(k))));
        let names: Vec<String> = names
            .chain(["currency", "date"].map(str::to_owned))
            .collect();
        let mut t = Typed::sent(&post, names.iter().map(String::as_str));
        let mut entries = Vec::new();
        for key in keys {
            let at = at(key);
            for field in ["currency", "date"] {
                let value = t.get(field).to_owned();
                t.put(&format!("{at}.{field}"), value);
            }
            let Some(price) = pack(&mut t, &at, larder.by_key(key), larder) else {
                continue;
            };
            let mut entry = entry_now(app, key)?.unwrap_or_else(|| OwnEntry {
                key: key.to_owned(),
                ..OwnEntry::default()
            });
            entry.price = Some(price);
            if let Err(e) = checked(app, &entry)? {
                t.wrong(&format!("{at}.pack_grams"), larder_form::told(&e));
            }
            entries.push(entry);
        }
        if entries.is_empty() && !t.is_wrong() {
            let first = names.first().map_or("date", String::as_str);
            t.wrong(
                first,
                "nothing is written yet: write what a pack holds and what it costs",
            );
        }
        if t.is_wrong() {
            let main = html! { (head(app, &o, Leaf::Shop)) (shop::body(app, &o, w, Some(&t))) };
            let page = around(app, &o, Leaf::Shop, &main)?;
            return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
        }
        for entry in &entries {
            app.kitchen
                .put_own(entry, &o.settings.baker, WHY, app.now())?;
        }
        Ok(back_to(&format!("{}#cost", o.at(Leaf::Shop))))
    })
    .await
}
