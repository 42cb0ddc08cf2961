//! `unwheat screen`.

use super::{Failure, Input, json};
use crate::show;
use clap::Args;
use larder::Larder;

/// Find what carries gluten, hidden sources too, and allergens
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  unwheat screen examples/mushroom-stout-sauce.txt --locale uk")]
pub struct Screen {
    #[command(flatten)]
    input: Input,
}

impl Screen {
    pub fn run(self, larder: Larder) -> Result<String, Failure> {
        let larder = &larder.in_words_of(self.input.locale);
        let formula = self.input.formula(larder)?;
        let screening = recipe::screen::screen(&formula, larder, None);
        Ok(if self.input.json {
            json(&show::json::screening(&screening, larder))
        } else {
            let names: Vec<&str> = formula.components.iter().map(|c| c.name.as_str()).collect();
            show::text::screening(
                &screening,
                &names,
                formula.recipe.title.as_deref(),
                larder,
                self.input.locale,
                &show::Style::of_terminal(),
            )
        })
    }
}
