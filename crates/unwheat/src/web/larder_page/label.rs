//! What a label said, noted from the page where it was asked, and taken back.

use super::{checked, entry_now, form};
use crate::web::app::{App, Shared, run};
use crate::web::fault::Fault;
use crate::web::page::{self, back_to, day, own_path};
use crate::web::post::Post;
use axum::extract::{Path, State as Held};

use axum::response::Response;
use larder::{Allergen, Evidence, EvidenceKind, FoodId, Larder, OwnEntry, ReadThrough};

/// Why an entry changed, where a label was read.
const LABEL_READ: &str = "label read";

/// Grains that a label can name.
pub const GRAINS: [&str; 4] = ["wheat", "rye", "barley", "oats"];

/// What the label of a food said, from the page where it was asked.
pub async fn label(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let mut note = post.text("note").to_owned();
        let grains: Vec<&str> = GRAINS
            .into_iter()
            .filter(|g| post.all("grain").contains(g))
            .collect();
        let kind = match post.text("kind") {
            _ if !grains.is_empty() && post.text("kind") != "names_gluten" => {
                return Err(Fault::bad(format!(
                    "{} is ticked: choose 'It names gluten, or traces of it', or tick no grain",
                    grains.join(" and ")
                )));
            }
            "labelled" => Some(EvidenceKind::Labelled),
            "names_gluten" => Some(EvidenceKind::NamesGluten),
            "neither" => None,
            _ => {
                return Err(Fault::bad(
                    "choose what the label says: that it is gluten-free, that it names gluten or traces, or neither",
                ));
            }
        };
        let mut entry = entry_now(app, &key)?.unwrap_or_else(|| OwnEntry {
            key: key.clone(),
            ..OwnEntry::default()
        });
        if !grains.is_empty() {
            note = format!("{note}; names {}", grains.join(", "));
        }
        let date = day(app.now());
        let settings = app.settings()?;
        for named in Allergen::ALL.iter().map(|a| a.word()) {
            if post.all("allergen").contains(&named) && !entry.allergens.iter().any(|a| a == named) {
                entry.allergens.push(named.to_owned());
            }
        }
        let who = Some(post.text("who")).filter(|w| !w.is_empty());
        // What was read through before was another pack's.
        entry.read_through = (post.text("all") == "1").then(|| ReadThrough {
            date: date.clone(),
            who: who.unwrap_or(&settings.baker).to_owned(),
            law: settings.regime.clone(),
        });
        // What was read last stands; the rest is in the entry's history.
        let earlier = entry.note.lines().filter(|l| !l.starts_with(READ_ON));
        entry.note = earlier.collect::<Vec<_>>().join("\n");
        match kind {
            Some(kind) => entry.gluten = Some(Evidence { kind, date, note }),
            // It settles nothing: noted, and the label stays to be asked about.
            None => {
                let line = format!(
                    "{READ_ON}{date}: neither gluten-free nor gluten named ({note}). Ask the maker, or take one labelled gluten-free."
                );
                entry.note = format!("{}\n{line}", entry.note).trim().to_owned();
            }
        }
        checked(app, &entry)?.map_err(|e| {
            Fault::bad(page::sentence(&form::told(&e)))
        })?;
        app.kitchen
            .put_own(&entry, &settings.baker, LABEL_READ, app.now())?;
        Ok(back_to(own_path(post.text("back"))))
    })
    .await
}

/// What begins the line of a food's note that its label was read and settles nothing.
const READ_ON: &str = "Label read on ";

/// Whether the label of a food was read, and said neither that it is gluten-free nor that it names gluten.
pub fn says_neither(larder: &Larder, food: FoodId) -> bool {
    let own = larder.own(food);
    own.is_some_and(|e| e.note.lines().any(|l| l.starts_with(READ_ON)))
}

/// The state of a food's history in which a label that was read is the newest thing in it, and can
/// be taken back there and then.
pub fn last_label(app: &App, key: &str) -> Option<usize> {
    let past = app.kitchen.own_history(key).ok()?;
    (past.first()?.why == LABEL_READ).then_some(past.len())
}

/// What was said of a label a moment ago, taken back: the entry is what it was before.
pub async fn label_back(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        if last_label(app, &key).map(|n| n.to_string()) != Some(post.text("seen").to_owned()) {
            return Err(Fault::bad(format!(
                "this food was changed since: open it in the Larder and change what it says (/larder/{key})"
            )));
        }
        let past = app.kitchen.own_history(&key)?;
        let before = past.get(1).and_then(|c| c.entry.as_ref());
        let (who, why) = (&app.settings()?.baker, "label taken back");
        match before {
            Some(entry) => app.kitchen.put_own(entry, who, why, app.now())?,
            None => app.kitchen.drop_own(&key, who, why, app.now())?,
        }
        Ok(back_to(own_path(post.text("back"))))
    })
    .await
}
