//! The recipe that a blend is worked out for: the way back to it, and the blend put into it.

use crate::web::app::App;
use crate::web::fault::Fault;
use crate::web::larder_page::typed::Typed;
use crate::web::page::back_to;
use crate::web::recipe::{Leaf, Open, component_name, open, versions};
use axum::response::Response;
use maud::{Markup, html};
use recipe::sheet::Change;

/// Its fields: the recipe, the component that wants a blend, and whether the blend is put in.
pub const FIELDS: [&str; 3] = ["recipe", "component", "use"];

/// A component of a recipe that wants a blend.
pub struct Wanted {
    open: Open,
    component: String,
}

impl Wanted {
    /// What a form or an address names; nothing where the recipe or its component is gone.
    pub fn of(app: &App, t: &Typed) -> Option<Self> {
        let open = open(app, t.get("recipe").parse().ok()?).ok()?;
        let component = t.get("component").to_owned();
        let w = open.worked().ok()?;
        let there = w.rework.components.iter().any(|c| c.name == component);
        there.then_some(Self { open, component })
    }

    /// Reads the fields from an address.
    pub fn asked(query: &str, t: &mut Typed) {
        for (k, v) in form_urlencoded::parse(query.as_bytes()) {
            if FIELDS.contains(&&*k) {
                t.put(&k, v);
            }
        }
    }

    /// What leads to working a blend out for it.
    pub fn query(open: &Open, component: &str) -> String {
        form_urlencoded::Serializer::new(String::new())
            .append_pair("recipe", &open.row.id.to_string())
            .append_pair("component", component)
            .finish()
    }

    /// The way back.
    pub fn back(&self) -> Markup {
        html! { a href=(self.open.at(Leaf::Rework)) { "Back to " (self.open.title()) } }
    }

    /// Its fields, so that the next page knows of it.
    pub fn hidden(&self) -> Markup {
        html! {
            input type="hidden" name="recipe" value=(self.open.row.id);
            input type="hidden" name="component" value=(self.component);
        }
    }

    /// What a blend that is kept will go into.
    pub fn words(&self) -> String {
        let title = self.open.title();
        if self.component.is_empty() {
            format!("Put it into {title}")
        } else {
            format!("Put it into {title}: {}", component_name(&self.component))
        }
    }

    /// Puts a blend in: one change of the draft, which undo takes back.
    pub fn put_in(&self, app: &App, blend: &str) -> Result<Response, Fault> {
        let change = Change::Blend {
            component: self.component.clone(),
            blend: Some(blend.to_owned()),
        };
        // The draft is taken anew: the larder has the blend now.
        let o = open(app, self.open.row.id)?;
        let mut sheet = o.draft.sheet.clone();
        let put = sheet.change(&change);
        put.map_err(|e| Fault::bad(e.to_string()))?;
        versions::put(app, &o, &sheet, &change.words(), &change.field())?;
        Ok(back_to(&o.at(Leaf::Rework)))
    }
}
