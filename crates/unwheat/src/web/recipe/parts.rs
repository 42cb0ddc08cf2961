//! Components of other recipes, looked up in the kitchen.

use crate::web::app::App;
use crate::web::fault::Fault;
use recipe::sheet::{Part, PartUse, Sheet};
use store::Row;

/// Sheets of the components a sheet takes in, each with those it takes in itself at its own
/// versions, up to the first that is not there; titles of all that are not.
pub fn parts_of(app: &App, sheet: &Sheet) -> Result<(Vec<Part>, Vec<String>), Fault> {
    let mut lost = Vec::new();
    let found = within(app, sheet, &mut Vec::new(), &mut lost)?;
    Ok((found, lost))
}

/// `above` are the recipes that the sheet is taken into: none of them is looked up again.
fn within(
    app: &App,
    sheet: &Sheet,
    above: &mut Vec<String>,
    lost: &mut Vec<String>,
) -> Result<Vec<Part>, Fault> {
    let mut found = Vec::new();
    let mut whole = true;
    for part in &sheet.parts {
        let looped = above.contains(&part.recipe);
        let there = app.kitchen.part_sheet(&part.recipe, part.version)?;
        let Some(sheet) = there.filter(|_| !looped) else {
            if !looped {
                lost.push(part.title.clone());
            }
            whole = false;
            continue;
        };
        above.push(part.recipe.clone());
        let parts = within(app, &sheet, above, lost)?;
        above.pop();
        if whole {
            found.push(Part { sheet, parts });
        }
    }
    Ok(found)
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
