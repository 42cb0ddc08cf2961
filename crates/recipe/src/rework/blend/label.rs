//! Which labels of a blend's parts have to be read.

use super::Blend;
use crate::screen::{self, Entry, Screening};
use larder::{FoodId, Gluten, Larder, PpmBasis};

/// Parts of a blend whose packs have to be looked at.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Labels {
    /// Only the label can tell whether there is gluten in them.
    pub check: Vec<FoodId>,
    /// Free by nature, but milled or packed beside wheat: to be bought labelled gluten-free.
    pub labelled: Vec<FoodId>,
}

impl Blend {
    /// Its parts and binders, screened with what the kitchen has seen of them.
    #[must_use]
    pub fn screening(&self, larder: &Larder) -> Screening {
        let parts = self.parts.iter().chain(&self.binders).enumerate();
        screen::lines(
            parts.map(|(i, (f, _))| Entry::new(&larder.food(*f).name, *f, None).at(0, i)),
            larder,
            None,
        )
    }

    /// Which of its parts' labels have to be read, by its [`Blend::screening`].
    ///
    /// # Example
    /// ```
    /// let larder = larder::Larder::built_in()?;
    /// let blend = &recipe::rework::blend::house(&larder)[0];
    /// let labels = blend.labels(&larder, &blend.screening(&larder));
    /// let rice = larder.by_key("white_rice_flour").expect("a flour");
    /// // Rice is free by nature, and milled where wheat is.
    /// assert!(labels.labelled.contains(&rice));
    /// # Ok::<(), larder::TableError>(())
    /// ```
    #[must_use]
    pub fn labels(&self, larder: &Larder, screening: &Screening) -> Labels {
        let mut out = Labels::default();
        for (food, _) in self.parts.iter().chain(&self.binders) {
            let found = screening.findings.iter().filter(|x| x.food == Some(*food));
            match found.map(|x| x.verdict).min() {
                Some(Gluten::Check | Gluten::Contains) => out.check.push(*food),
                _ if matches!(larder.food(*food).ppm, PpmBasis::Grain { .. }) => {
                    out.labelled.push(*food);
                }
                _ => {}
            }
        }
        out
    }
}
