//! What an archive brought.

/// What an archive brought.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Imported {
    /// Recipes that were not here.
    pub recipes_added: u32,
    /// Recipes that were here, with all that the archive holds of them.
    pub recipes_same: u32,
    /// Recipes that were here and differ: they came in as second recipes.
    pub recipes_kept_both: u32,
    /// Own larder entries that were not here.
    pub entries_added: u32,
    /// Own larder entries that differ from the ones here: those here stay.
    pub entries_kept: u32,
    /// Blends that were not here.
    pub blends_added: u32,
    /// Blends that were here and differ: they came in as second blends.
    pub blends_kept_both: u32,
    /// Batches that were not here.
    pub batches_added: u32,
    /// Days that were not here, or that came in as second ones.
    pub days_added: u32,
    /// The settings were taken over.
    pub settings: bool,
    /// What is to know, a sentence each.
    pub notes: Vec<String>,
}
