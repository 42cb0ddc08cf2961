//! `unwheat weigh`.

use super::{Failure, Input, json};
use crate::show;
use clap::Args;
use larder::Larder;
use recipe::read::Reader;

/// Weigh every line, with its basis and range
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  unwheat weigh examples/lemon-yoghurt-cake.txt --locale uk\n  echo '2 sticks butter' | unwheat weigh --lines --json"
)]
pub struct Weigh {
    #[command(flatten)]
    input: Input,
    /// Take the input as separate ingredient lines, one a line, not as a recipe
    #[arg(long)]
    lines: bool,
}

impl Weigh {
    pub fn run(self, larder: Larder) -> Result<String, Failure> {
        let larder = &larder.in_words_of(self.input.locale);
        if !self.lines {
            let formula = self.input.formula(larder)?;
            return Ok(if self.input.json {
                json(&show::json::formula(&formula, larder))
            } else {
                show::text::weigh(&formula, larder, &show::Style::of_terminal())
            });
        }
        let bytes = self.input.bytes()?;
        let text = String::from_utf8_lossy(&bytes);
        let reader = Reader::new(larder, self.input.locale);
        let mut out = String::new();
        for line in text.lines() {
            let read = reader.line(line);
            let (weighed, doubts) = recipe::weigh::line(&read, larder, self.input.locale);
            if self.input.json {
                let object = show::json::line(&read, &weighed, &doubts, larder);
                out.push_str(&serde_json::to_string(&object).unwrap_or_default());
                out.push('\n');
            } else {
                out.push_str(&show::text::line(&read, &weighed, &doubts, larder));
            }
        }
        Ok(out)
    }
}
