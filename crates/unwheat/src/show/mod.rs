//! Showing: what the domain says, as text for an 80-column terminal and as JSON.

pub mod heat;
pub mod json;
pub mod leaven;
pub mod shape;
pub mod shop;
pub mod size;
pub mod table;
pub mod text;

pub use table::{Side, paragraph, table};

use std::io::IsTerminal;

/// How the terminal is written to. Colour is only a help: every word stands without it.
#[derive(Debug, Clone, Copy)]
pub struct Style {
    colour: bool,
}

impl Style {
    /// Colour on a terminal, unless NO_COLOR is set to anything (no-color.org, an informal
    /// standard) or the terminal says it is dumb.
    pub fn of_terminal() -> Self {
        let off = std::env::var_os("NO_COLOR").is_some_and(|v| !v.is_empty())
            || std::env::var_os("TERM").is_some_and(|t| t == "dumb");
        Self {
            colour: !off && std::io::stdout().is_terminal(),
        }
    }
    fn wrap(self, code: &str, text: &str) -> String {
        let text = &plain(text);
        if self.colour {
            format!("\u{1b}[{code}m{text}\u{1b}[0m")
        } else {
            text.to_owned()
        }
    }
    /// A heading.
    pub fn heading(self, text: &str) -> String {
        self.wrap("1", text)
    }
    /// Something to look at.
    pub fn mark(self, text: &str) -> String {
        self.wrap("33", text)
    }
}

/// Text without control characters: a pasted recipe must not drive the terminal.
pub fn plain(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() && c != '\n' { ' ' } else { c })
        .collect()
}
