//! What the kitchen has learnt since a batch began: its grams stay as they were, what a label says does not.

use super::Bench;
use crate::web::app::{App, locale};
use crate::web::fault::Fault;
use crate::web::recipe::Leaf;
use larder::{Gluten, Larder};
use maud::{Markup, html};

/// That something in the batch is known by now to contain gluten, in a sentence; empty where nothing is, or
/// where it was known when the batch began.
pub fn stop(app: &App, b: &Bench) -> Result<String, Fault> {
    let home = b.plan.measures.as_deref().and_then(|m| m.parse().ok());
    let home = home.unwrap_or(locale(&*app.settings()?));
    Ok(stop_for(b, &app.pantry_in(home)?.larder))
}

/// A batch goes by what was weighed into it: the recipe may have changed what is called for since.
fn stop_for(b: &Bench, larder: &Larder) -> String {
    let contains = |name: &str| {
        let mut all = larder.ids().map(|id| larder.food(id));
        all.any(|f| f.name == name && f.gluten == Gluten::Contains)
    };
    let mut news: Vec<&str> = Vec::new();
    for line in b.plan.items() {
        let name = line.name.as_str();
        let known = b.plan.gluten.iter().any(|g| g == name) || news.contains(&name);
        if !known && contains(name) {
            news.push(name);
        }
    }
    if news.is_empty() {
        return String::new();
    }
    format!(
        "Stop. Known since this batch began to contain gluten: {}. Serve it to nobody who avoids gluten, and wash what it touched.",
        news.join(", ")
    )
}

/// The sentence as a page shows it, with the way to its reason; the bench's script fills it when it comes later.
pub fn told(b: &Bench, stop: &str) -> Markup {
    html! {
        p #stop.trouble.gluten role="alert" hidden[stop.is_empty()] {
            strong { (stop) } " "
            a href={ "/recipe/" (b.batch.recipe) "/" (Leaf::Screen.slug()) } { "Screen says why" }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::batch_sheet::{BatchSheet, Line, Part};
    use super::*;
    use larder::{Evidence, EvidenceKind, OwnEntry};

    /// Batches began with a stock of which only the label can tell, with orzo known to be wheat, with rice flour.
    #[test]
    fn what_a_label_says_stops_a_batch_under_way() {
        let line = |name: &str| Line {
            name: name.to_owned(),
            ..Line::default()
        };
        let batch = Bench {
            plan: BatchSheet {
                gluten: vec!["orzo".to_owned()],
                components: vec![Part {
                    lines: ["beef stock", "orzo", "white rice flour"]
                        .map(line)
                        .to_vec(),
                    ..Part::default()
                }],
                ..BatchSheet::default()
            },
            ..Bench::default()
        };
        let built_in = Larder::built_in().expect("the built-in tables");
        assert_eq!(stop_for(&batch, &built_in), "");
        let read = [OwnEntry {
            key: "beef_stock".to_owned(),
            gluten: Some(Evidence {
                kind: EvidenceKind::NamesGluten,
                date: "2026-12-01".to_owned(),
                note: String::new(),
            }),
            ..OwnEntry::default()
        }];
        let read = built_in.with_own(&read).expect("a reading");
        let told = stop_for(&batch, &read);
        assert!(told.contains("gluten: beef stock."), "{told}");
    }
}
