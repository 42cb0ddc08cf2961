//! Components of other recipes, looked up in the kitchen.

use crate::web::app::App;
use crate::web::fault::Fault;
use recipe::sheet::{Part, PartUse, Sheet};
use store::Row;

/// Components that a sheet takes in, as the kitchen has them.
#[derive(Default)]
pub struct Parts {
    /// Their sheets, each with those it takes in itself at its own versions, up to the first that is not
    /// there.
    pub sheets: Vec<Part>,
    /// Titles of all that are not there.
    pub lost: Vec<String>,
    /// The recipe and version of each that was looked up, and whether it was there.
    seen: Vec<(String, u32, bool)>,
}

impl Parts {
    /// Looks them up.
    pub fn of(app: &App, sheet: &Sheet) -> Result<Self, Fault> {
        let mut found = Self::default();
        found.sheets = found.within(app, sheet, &mut Vec::new())?;
        Ok(found)
    }

    /// Whether what was there is, and what was not is not: a version itself never changes.
    pub fn still(&self, app: &App) -> Result<bool, Fault> {
        for (recipe, version, there) in &self.seen {
            if app.kitchen.has_version(recipe, *version)? != *there {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// `above` are the recipes that the sheet is taken into: none of them is looked up again.
    fn within(
        &mut self,
        app: &App,
        sheet: &Sheet,
        above: &mut Vec<String>,
    ) -> Result<Vec<Part>, Fault> {
        let mut found = Vec::new();
        let mut whole = true;
        for part in &sheet.parts {
            let looped = above.contains(&part.recipe);
            let there = app.kitchen.part_sheet(&part.recipe, part.version)?;
            self.seen
                .push((part.recipe.clone(), part.version, there.is_some()));
            let Some(sheet) = there.filter(|_| !looped) else {
                if !looped {
                    self.lost.push(part.title.clone());
                }
                whole = false;
                continue;
            };
            above.push(part.recipe.clone());
            let parts = self.within(app, &sheet, above)?;
            above.pop();
            if whole {
                found.push(Part { sheet, parts });
            }
        }
        Ok(found)
    }
}

/// Refuses to take into a recipe what is made of that recipe.
pub fn refuse_ring(app: &App, into: &Row, part: &PartUse) -> Result<(), Fault> {
    let name = |title: &str| format!("'{title}'");
    if part.recipe == into.uid {
        return Err(Fault::bad(format!(
            "{} cannot take in itself",
            name(&into.title)
        )));
    }
    let Some(path) = path_to(app, part, &into.uid, 0)? else {
        return Ok(());
    };
    let through: Vec<String> = path.iter().map(|t| name(t)).collect();
    let through = match through.as_slice() {
        [] => String::new(),
        some => format!(", through {}", some.join(" and ")),
    };
    Err(Fault::bad(format!(
        "{}, version {}, takes in {} itself{through}: nothing is made of itself. Take it out there and save a version, or paste what you need as lines of this recipe",
        name(&part.title),
        part.version,
        name(&into.title),
    )))
}

/// Deeper than any recipe is made of others.
const DEEPEST: usize = 20;

/// The titles between a part and a recipe it is made of; `None` where it is not.
fn path_to(
    app: &App,
    part: &PartUse,
    uid: &str,
    depth: usize,
) -> Result<Option<Vec<String>>, Fault> {
    let sheet = app.kitchen.part_sheet(&part.recipe, part.version)?;
    for inner in sheet.iter().flat_map(|s| &s.parts) {
        if inner.recipe == uid {
            return Ok(Some(Vec::new()));
        }
        if depth < DEEPEST
            && let Some(mut path) = path_to(app, inner, uid, depth + 1)?
        {
            path.insert(0, inner.title.clone());
            return Ok(Some(path));
        }
    }
    Ok(None)
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;
    use quantity::Locale;
    use store::{Kitchen, Summary};

    /// A component that comes into the kitchen after a page was shown without it is seen by the next page.
    #[test]
    fn what_was_looked_up_is_looked_up_again_once_it_is_there() {
        let kitchen = Kitchen::in_memory().expect("a kitchen");
        let larder = Larder::built_in().expect("the built-in tables");
        let app = App::new(kitchen, larder, String::new(), Vec::new(), None).expect("an app");
        let mut sheet = Sheet::new("Knots\n\n500 g soft dough\n50 g chives\n", Locale::Uk);
        sheet.parts.push(PartUse {
            recipe: "soft".to_owned(),
            version: 1,
            title: "Soft dough".to_owned(),
        });
        let before = Parts::of(&app, &sheet).expect("looked up");
        assert_eq!(before.lost, ["Soft dough"]);
        assert!(before.still(&app).expect("asked"));
        let text = "Soft dough\n\n300 g bread flour\n200 g milk\n";
        let of = Sheet::new(text, Locale::Uk);
        let none = Summary::default();
        let id = app
            .kitchen
            .add_recipe("soft", text, &of, &none, "Dot", 1)
            .expect("kept");
        let rev = app.kitchen.draft(id).expect("a draft").rev;
        let figures = serde_json::json!({});
        app.kitchen
            .save_version(id, rev, "Dot", "first", &figures, "Dot", 2)
            .expect("saved");
        assert!(!before.still(&app).expect("asked"));
        let after = Parts::of(&app, &sheet).expect("looked up");
        assert!(after.lost.is_empty() && after.sheets.len() == 1);
        assert!(after.still(&app).expect("asked"));
    }
}
