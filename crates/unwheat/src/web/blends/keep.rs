//! The form of a blend of the kitchen's own, and keeping it.

use super::label::{CUP, allergen_words, cup, protein, starches};
use super::one::{find, missing};
use super::{Wanted, form, page, work_out};
use crate::web::app::{App, Pantry, Shared, run};
use crate::web::fault::Fault;
use crate::web::larder_page::style;
use crate::web::larder_page::typed::{KEPT, Typed, UNSAVED, own_key, unsigned};
use crate::web::page::{self as frame, back_to};
use crate::web::post::Post;
use crate::web::recipe::rework::blend_picture;
use crate::web::recipe::screen::whole_verdict;
use axum::Json;
use axum::extract::{Path, RawQuery, State as Held};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use larder::{FoodId, Larder};
use maud::{Markup, html};
use recipe::rework::blend::{Blend, OwnBlend};
use serde_json::json;
use store::BlendRow;

/// The form of a new blend, empty or from another one.
pub(super) async fn fresh(Held(app): Held<Shared>, query: RawQuery) -> Result<Response, Fault> {
    run(app, move |app| {
        let pantry = app.pantry()?;
        let settings = app.settings()?;
        let query = query.0.unwrap_or_default();
        if let Some((own, why)) = work_out::kept(&query, &pantry) {
            let mut t = form::filled(Some(&own), &pantry.larder, &settings.baker, &why);
            Wanted::asked(&query, &mut t);
            t.put("use", "1");
            let main = form_main(app, &pantry, None, &mut t)?;
            let beside = Some(form::lists(&pantry.larder));
            return page(app, "A blend of your own", &main, beside);
        }
        let from = form_urlencoded::parse(query.as_bytes())
            .find(|(k, _)| k == "from")
            .map(|(_, v)| v.into_owned());
        let base = match &from {
            Some(key) => Some(find(app, &pantry, key)?.ok_or_else(missing)?.blend),
            None => None,
        };
        let own = base.as_ref().map(|b| OwnBlend {
            name: format!("our {}", b.name),
            cup_grams: None,
            ..form::own_of(b, &pantry.larder)
        });
        let why = base
            .as_ref()
            .map_or("first version".to_owned(), |b| format!("from {}", b.name));
        let mut t = form::filled(own.as_ref(), &pantry.larder, &settings.baker, &why);
        let main = form_main(app, &pantry, None, &mut t)?;
        page(
            app,
            "A blend of your own",
            &main,
            Some(form::lists(&pantry.larder)),
        )
    })
    .await
}

/// The form of a blend of the kitchen's own.
pub(super) async fn edit(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let pantry = app.pantry()?;
        let settings = app.settings()?;
        let row = app
            .kitchen
            .blend_history(&key)?
            .into_iter()
            .next()
            .ok_or_else(missing)?;
        let mut t = form::filled(Some(&row.blend), &pantry.larder, &settings.baker, "changed");
        t.put("base", row.version.to_string());
        form::said(&mut t, &pantry.larder, &key).check(&mut t, &pantry.larder);
        let main = form_main(app, &pantry, Some(&row), &mut t)?;
        page(
            app,
            &row.blend.name,
            &main,
            Some(form::lists(&pantry.larder)),
        )
    })
    .await
}

/// The form with what follows from what stands in it.
fn form_main(
    app: &App,
    pantry: &Pantry,
    row: Option<&BlendRow>,
    t: &mut Typed,
) -> Result<Markup, Fault> {
    let locale = app.settings()?.locale.clone();
    let larder = &pantry.larder;
    let mut quiet = t.clone();
    let said = form::said(&mut quiet, larder, "own_x");
    let sum = said.sum();
    let drawn = drawn(larder, &said.blend, &locale);
    let wanted = Wanted::of(app, t);
    let (action, back) = match row {
        Some(r) => (
            format!("/blends/{}/change", r.key),
            format!("/blends/{}", r.key),
        ),
        None => ("/blends/new".to_owned(), "/blends".to_owned()),
    };
    Ok(html! {
        (style())
        p { @match &wanted {
            Some(w) => (w.back()),
            None => a href=(back) { @if row.is_some() { "Back to the blend" } @else { "Blends" } },
        } }
        h1 { @match row { Some(r) => { "Change " (r.blend.name) } None => "A blend of your own" } }
        section.sheet {
            form.entry method="post" action={ (action) (UNSAVED) } data-blend data-keep data-typed[t.is_wrong()] {
                (frame::seal(app))
                input type="hidden" name="base" value=(t.get("base"));
                (form::fields(t, sum, &drawn, row.is_some(), wanted.as_ref()))
            }
        }
    })
}

/// The picture of what stands in the form, with its figures once it can be.
fn drawn(larder: &Larder, own: &OwnBlend, locale: &str) -> Markup {
    let known = |of: &[(String, f64)]| -> Vec<(FoodId, f64)> {
        of.iter()
            .filter_map(|(k, s)| Some((larder.by_key(k)?, *s)))
            .filter(|(_, s)| s.is_finite() && *s > 0.0)
            .collect()
    };
    let whole = OwnBlend {
        key: "own_x".to_owned(),
        name: "x".to_owned(),
        ..own.clone()
    }
    .blend(larder)
    .ok();
    let sketch = Blend {
        key: "sketch".into(),
        name: "sketch".into(),
        parts: known(&own.parts),
        binders: known(&own.binders),
        styles: Vec::new(),
        why: "".into(),
        cup_grams: None,
        own: true,
    };
    html! {
        h2 { "As it stands" }
        @if sketch.parts.is_empty() { p.hint { "The blend is drawn here as you write it." } }
        @else { (blend_picture("sketch", &sketch, larder)) }
        @if let Some(b) = &whole {
            @let s = b.screening(larder);
            dl.facts {
                dt { "Starches" } dd { span.n { (starches(larder, b)) } " %" }
                dt { "Protein" } dd { (protein(larder, b)) }
                dt { (CUP) } dd { (cup(larder, b, locale)) }
                dt { "Gluten" } dd { (whole_verdict(&s, larder)) }
                dt { "Allergens" } dd { (allergen_words(&s)) }
            }
        }
    }
}

fn sent(post: &Post) -> Typed {
    let names = form::names();
    Typed::sent(post, names.iter().map(String::as_str))
}

pub(super) async fn add(Held(app): Held<Shared>, post: Post) -> Result<Response, Fault> {
    run(app, move |app| keep(app, None, &post)).await
}

pub(super) async fn save(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let row = app
            .kitchen
            .blend_history(&key)?
            .into_iter()
            .next()
            .ok_or_else(missing)?;
        keep(app, Some(&row), &post)
    })
    .await
}

/// Answers a change of the form, or keeps the blend.
fn keep(app: &App, row: Option<&BlendRow>, post: &Post) -> Result<Response, Fault> {
    let pantry = app.pantry()?;
    let larder = &pantry.larder;
    let mut t = sent(post);
    if post.live {
        let said = form::said(&mut t, larder, "own_x");
        return Ok(Json(json!({
            "sum": form::sum_words(said.sum()),
            "drawn": drawn(larder, &said.blend, &app.settings()?.locale).into_string(),
        }))
        .into_response());
    }
    let taken: Vec<String> = app
        .kitchen
        .blends(false)?
        .into_iter()
        .chain(app.kitchen.blends(true)?)
        .map(|r| r.key)
        .collect();
    let key = match row {
        Some(r) => r.key.clone(),
        None => own_key(t.get("name"), |k| taken.iter().any(|x| x == k)),
    };
    let said = form::said(&mut t, larder, &key);
    said.check(&mut t, larder);
    unsigned(&mut t);
    if let Some(r) = row
        && t.get("base").parse() != Ok(r.version)
    {
        t.wrong(
            "why",
            format!(
                "another window saved version {} of this blend since you opened it ({}): look at it, then save again to put yours over it",
                r.version, r.why
            ),
        );
        t.put("base", r.version.to_string());
    }
    if t.is_wrong() {
        let main = form_main(app, &pantry, row, &mut t)?;
        let shown = page(app, "A blend of your own", &main, Some(form::lists(larder)))?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, shown).into_response());
    }
    app.kitchen
        .put_blend(&said.blend, t.get("who"), t.get("why"), app.now())?;
    app.signed_by(t.get("who"))?;
    match Wanted::of(app, &t).filter(|_| t.get("use") == "1") {
        Some(wanted) => wanted.put_in(app, &key),
        None => Ok(back_to(&format!("/blends/{key}{KEPT}"))),
    }
}

/// Into the bin, or out of it.
pub(super) async fn bin(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        if post.text("way") == "out" {
            app.kitchen.unbin_blend(&key, app.now())?;
            Ok(back_to(&format!("/blends/{key}")))
        } else {
            app.kitchen.bin_blend(&key, app.now())?;
            Ok(back_to("/blends"))
        }
    })
    .await
}
