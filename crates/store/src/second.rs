//! Second names: what an archive brings that is here already and differs.

use crate::archive::RecipeFile;
use recipe::sheet::Sheet;
use std::collections::BTreeMap;

/// Second names: of recipes, of blends, of days.
#[derive(Default)]
pub(crate) struct Names {
    pub(crate) recipes: BTreeMap<String, String>,
    pub(crate) blends: BTreeMap<String, String>,
    pub(crate) days: BTreeMap<String, String>,
}

impl Names {
    fn rename(&self, sheet: &mut Sheet) {
        for part in &mut sheet.parts {
            if let Some(second) = self.recipes.get(&part.recipe) {
                part.recipe.clone_from(second);
            }
        }
        for blend in sheet.blends.values_mut() {
            if let Some(second) = self.blends.get(blend) {
                blend.clone_from(second);
            }
        }
    }
    pub(crate) fn rename_all(&self, recipe: &mut RecipeFile) {
        self.rename(&mut recipe.draft);
        for version in &mut recipe.versions {
            self.rename(&mut version.sheet);
        }
    }
}
