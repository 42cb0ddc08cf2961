//! `unwheat read`.

use super::{Failure, Input, json};
use crate::show;
use clap::Args;
use larder::Larder;

/// Read a recipe: components, lines, method, and what is doubtful
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  unwheat read examples/apricot-almond-buns.txt")]
pub struct Read {
    #[command(flatten)]
    input: Input,
}

impl Read {
    pub fn run(self, larder: Larder) -> Result<String, Failure> {
        let larder = &larder.in_words_of(self.input.locale);
        let recipe = self.input.recipe(larder)?;
        Ok(if self.input.json {
            json(&show::json::recipe(&recipe, larder))
        } else {
            show::text::read(&recipe, larder, &show::Style::of_terminal())
        })
    }
}
