//! Picking recipes: the whole question stands in the address.

use super::Chosen;
use crate::web::app::App;
use crate::web::fault::Fault;
use maud::{Markup, html};
use quantity::figure;
use store::{Query, Row};

/// Recipes that are offered at once.
const OFFERED: u32 = 40;
/// Recipes on one list.
const MOST: usize = 60;

/// What the address asks for.
#[derive(Debug, Default, Clone, PartialEq)]
pub struct Asked {
    /// Recipes with how many times each, in the address's order.
    pub recipes: Vec<(i64, f64)>,
    /// What is ticked off.
    pub got: Vec<String>,
    /// Words to find recipes by.
    pub words: String,
    /// What cannot be.
    pub troubles: Vec<String>,
}

impl Asked {
    /// Reads an address's query: `r=ID` for each recipe, `n.ID=2` for its times, `got=KEY`.
    pub fn of(query: &str) -> Self {
        let mut out = Self::default();
        let mut times: Vec<(i64, String)> = Vec::new();
        for (k, v) in form_urlencoded::parse(query.as_bytes()) {
            match (&*k, k.strip_prefix("n.")) {
                ("r", _) => {
                    if let Ok(id) = v.parse()
                        && !out.recipes.iter().any(|r| r.0 == id)
                    {
                        out.recipes.push((id, 1.0));
                    }
                }
                ("got", _) => out.got.push(v.into_owned()),
                ("words", _) => out.words = v.trim().to_owned(),
                (_, Some(id)) => {
                    if let Ok(id) = id.parse() {
                        times.push((id, v.into_owned()));
                    }
                }
                _ => {}
            }
        }
        if out.recipes.len() > MOST {
            out.troubles.push(format!(
                "At most {MOST} recipes stand on one list: the first {MOST} are taken."
            ));
            out.recipes.truncate(MOST);
        }
        for (id, n) in &mut out.recipes {
            let Some((_, text)) = times.iter().find(|t| t.0 == *id) else {
                continue;
            };
            let text = text.trim().trim_start_matches('×').trim();
            match figure(text).filter(|v| v.is_finite() && *v > 0.0 && *v <= 1000.0) {
                Some(v) => *n = v,
                None if text.is_empty() => {}
                None => out.troubles.push(format!(
                    "'{text}' is no number of times: write one above 0 and up to 1000, such as 2 or 0.5. Once is taken."
                )),
            }
        }
        out
    }

    /// The question again, for an address.
    pub fn query(&self) -> String {
        let mut q = form_urlencoded::Serializer::new(String::new());
        for (id, n) in &self.recipes {
            q.append_pair("r", &id.to_string());
            if (*n - 1.0).abs() > 1e-9 {
                q.append_pair(&format!("n.{id}"), &n.to_string());
            }
        }
        q.finish()
    }
}

/// The form that picks recipes.
pub fn form(app: &App, asked: &Asked, chosen: &Chosen) -> Result<Markup, Fault> {
    let found = app.kitchen.list(&Query {
        words: asked.words.clone(),
        limit: OFFERED,
        ..Query::default()
    })?;
    let is_chosen = |id: i64| asked.recipes.iter().any(|r| r.0 == id);
    let others: Vec<&Row> = found.rows.iter().filter(|r| !is_chosen(r.id)).collect();
    let open = asked.recipes.is_empty() || !asked.words.is_empty();
    let none = found.total == 0 && asked.words.is_empty() && asked.recipes.is_empty();
    Ok(html! {
        form.sheet.pick.no-print #pick method="get" action="/shop" {
            h2 { "What will you bake?" }
            @if none { p { "No recipes yet. " a href="/" { "Paste one first" } "." } }
            @if !chosen.opened.is_empty() {
                ul.picked {
                    @for (o, times) in &chosen.opened {
                        @let id = o.row.id;
                        li {
                            label.tick { input type="checkbox" name="r" value=(id) checked; span { (o.title()) } }
                            span.of { label.unseen for={ "n-" (id) } { "Times " (o.title()) } "× " input.f id={ "n-" (id) } name={ "n." (id) } inputmode="decimal" maxlength="8" autocomplete="off" value=(times); }
                            @if let Ok(w) = o.worked() { @if (w.batch.factor - 1.0).abs() > 1e-9 { small { "of its batch, × " (recipe::size::times(w.batch.factor)) " the recipe" } } }
                        }
                    }
                }
            }
            @if found.total > 0 || !asked.words.is_empty() {
                details open[open] {
                    summary { @if asked.recipes.is_empty() { "Recipes" } @else { "Other recipes" } }
                    div.row {
                        div.grow { label for="words" { "Find a recipe" } input #words type="search" name="words" value=(asked.words) maxlength="120" autocomplete="off"; }
                        button { "Find" }
                    }
                    @if others.is_empty() { p.hint { "No other recipe fits." } }
                    ul.picked {
                        @for r in &others {
                            li {
                                label.tick { input type="checkbox" name="r" value=(r.id); span { (r.title) } }
                                span.of { label.unseen for={ "n-" (r.id) } { "Times " (r.title) } "× " input.f id={ "n-" (r.id) } name={ "n." (r.id) } inputmode="decimal" maxlength="8" autocomplete="off" value="1"; }
                            }
                        }
                    }
                    @if found.total as usize > found.rows.len() { p.hint { "and " (found.total as usize - found.rows.len()) " more: find them by a few letters" } }
                }
            }
            @if !none { div.row { button.do { "Make the list" } @if !asked.recipes.is_empty() { a.button href="/shop" { "Start anew" } } } }
        }
    })
}
