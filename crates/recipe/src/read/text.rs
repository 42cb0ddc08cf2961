//! Reading pasted text: title, components, ingredient lines, method, notes.

mod around;
mod below;
mod bought;
mod country;
mod front;
mod headed;
mod pasted;
mod verbs;
mod wrap;

use super::ingredient::component_name;
use super::{Reader, web};
use crate::DoubtCode;
use crate::line::LineKind;
use crate::recipe::Recipe;
pub(crate) use around::{is_made_part, makes as is_made_in};
pub(crate) use front::{count_in, count_of_yield, says_yield};
pub use headed::may_head;
use pasted::Pasted;
use std::fmt;
pub(crate) use verbs::{is_clause, is_order};

/// Bytes a recipe may have; far above any recipe, far below a book.
pub const MOST_BYTES: usize = 1_000_000;
/// Ingredient lines a recipe may have.
pub const MOST_LINES: usize = 2_000;
/// Steps a recipe may have.
pub const MOST_STEPS: usize = 5_000;
/// Bytes a saved page may have.
pub const MOST_PAGE_BYTES: usize = 20_000_000;

/// Why a text could not be read as a recipe.
#[derive(Debug, Clone, PartialEq)]
pub enum ReadError {
    /// Nothing but spaces.
    Empty,
    /// Not text: a picture, a document.
    Binary {
        /// Line, from 1.
        line: usize,
        /// Column in characters, from 1.
        column: usize,
    },
    /// Not UTF-8.
    NotUtf8 {
        /// Line, from 1.
        line: usize,
        /// Column in characters, from 1.
        column: usize,
    },
    /// Larger than a recipe can be.
    TooLarge {
        /// Bytes found.
        bytes: usize,
        /// Bytes allowed.
        most: usize,
    },
    /// More ingredient lines or steps than a recipe has: a book, perhaps.
    TooLong {
        /// Line where the limit is passed, from 1; 0 inside a data block.
        line: usize,
        /// `ingredient lines` or `steps`.
        what: &'static str,
        /// How many there may be.
        most: usize,
    },
    /// No line reads as an ingredient.
    NoIngredients {
        /// The first line that tells how it is made in whole sentences, else the first, from 1.
        line: usize,
        /// Whether there is such a line.
        prose: bool,
        /// Lines of text found.
        lines: usize,
    },
    /// A number that cannot be an amount.
    ImpossibleNumber {
        /// Line, from 1; 0 inside a data block.
        line: usize,
        /// Column in characters, from 1.
        column: usize,
        /// The words.
        text: String,
    },
    /// A saved page without usable recipe data.
    Page(web::PageError),
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("line 1, column 1: the text is empty\n  paste or type a recipe: a title, its ingredients one a line, then the method"),
            Self::Binary { line, column } => write!(f, "line {line}, column {column}: this is not text\n  save the recipe as plain text (.txt) or as a web page (.html)"),
            Self::NotUtf8 { line, column } => write!(f, "line {line}, column {column}: the text is not in UTF-8\n  save it again with the encoding UTF-8"),
            Self::TooLarge { bytes, most } => write!(
                f,
                "line 1, column 1: {:.1} MB is more than a recipe can be (at most {:.0} MB)\n  cut out the one recipe and save it alone",
                *bytes as f64 / 1e6,
                *most as f64 / 1e6
            ),
            Self::TooLong { line, what, most } => write!(
                f,
                "line {line}, column 1: more than {most} {what} are no one recipe\n  cut out the one recipe and save it alone"
            ),
            Self::NoIngredients { line, prose, lines } => write!(
                f,
                "line {line}, column 1: no ingredient found in {lines} {}{}\n  write one ingredient a line, amount first: 250 g flour",
                if *lines == 1 { "line" } else { "lines" },
                if *prose {
                    ": this one is whole sentences, no list"
                } else {
                    ""
                }
            ),
            Self::ImpossibleNumber { line, column, text } => write!(
                f,
                "line {line}, column {column}: '{text}' is no amount that can be measured\n  write a number above 0 and below 100,000"
            ),
            Self::Page(e) => e.fmt(f),
        }
    }
}
impl std::error::Error for ReadError {}

/// Reads a recipe from the bytes of a file: plain text, or a saved web page with recipe data.
///
/// # Errors
/// [`ReadError`], with line and column and what to do.
pub fn bytes(bytes: &[u8], reader: &Reader<'_>) -> Result<Recipe, ReadError> {
    let page_like = bytes.len() > MOST_BYTES && bytes.iter().take(2000).any(|b| *b == b'<');
    let most = if page_like {
        MOST_PAGE_BYTES
    } else {
        MOST_BYTES
    };
    if bytes.len() > most {
        return Err(ReadError::TooLarge {
            bytes: bytes.len(),
            most,
        });
    }
    if let Some(at) = bytes.iter().position(|b| *b == 0) {
        let (line, column) = place(bytes, at);
        return Err(ReadError::Binary { line, column });
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => recipe(text, reader),
        Err(e) => {
            let (line, column) = place(bytes, e.valid_up_to());
            let strange = bytes.iter().filter(|b| **b < 9).count();
            Err(if strange > 0 {
                ReadError::Binary { line, column }
            } else {
                ReadError::NotUtf8 { line, column }
            })
        }
    }
}

fn place(bytes: &[u8], at: usize) -> (usize, usize) {
    let before = &bytes[..at];
    let line = before.iter().filter(|b| **b == b'\n').count() + 1;
    let start = before
        .iter()
        .rposition(|b| *b == b'\n')
        .map_or(0, |i| i + 1);
    (
        line,
        String::from_utf8_lossy(&before[start..]).chars().count() + 1,
    )
}

/// Reads a recipe from text.
///
/// # Errors
/// [`ReadError`], with line and column and what to do.
pub fn recipe(text: &str, reader: &Reader<'_>) -> Result<Recipe, ReadError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(ReadError::Empty);
    }
    let recipe = if web::is_page(text) {
        web::page(text, reader).map_err(ReadError::Page)?
    } else {
        if text.len() > MOST_BYTES {
            return Err(ReadError::TooLarge {
                bytes: text.len(),
                most: MOST_BYTES,
            });
        }
        Pasted::new(reader).read(text)
    };
    let mut recipe = check(recipe, text)?;
    super::method::of_one_method(&mut recipe.steps);
    bought::list(&mut recipe, reader);
    let lines = |r: &Recipe| r.components.iter().map(|c| c.lines.len()).sum::<usize>();
    let (mut owners, before) = (crate::rework::owners(&recipe), lines(&recipe));
    super::beside_the_dough(&mut recipe, &owners, reader);
    crate::beforehand::list(&mut recipe, reader);
    if lines(&recipe) != before {
        owners = crate::rework::owners(&recipe);
    }
    recipe.doubts.extend(country::doubt(&recipe, reader.locale));
    let unlisted = super::method::unlisted_doubt(&recipe, reader);
    recipe.doubts.extend(unlisted);
    let portions = super::method::portions_doubt(&recipe, reader);
    recipe.doubts.extend(portions);
    let apart = super::method::apart_doubt(&recipe, &owners);
    recipe.doubts.extend(apart);
    Ok(recipe)
}

/// A line of so many words is no title and no list.
const PROSE: usize = 12;

/// Refuses what cannot be worked with.
fn check(recipe: Recipe, text: &str) -> Result<Recipe, ReadError> {
    let lines = recipe.components.iter().flat_map(|c| &c.lines);
    if let Some(line) = lines.clone().nth(MOST_LINES) {
        return Err(ReadError::TooLong {
            line: line.number,
            what: "ingredient lines",
            most: MOST_LINES,
        });
    }
    if recipe.steps.len() > MOST_STEPS {
        return Err(ReadError::TooLong {
            line: lines.map(|l| l.number).max().unwrap_or(0) + 1,
            what: "steps",
            most: MOST_STEPS,
        });
    }
    for line in recipe.components.iter().flat_map(|c| &c.lines) {
        if let Some(doubt) = line
            .doubts
            .iter()
            .find(|d| d.code == DoubtCode::ImpossibleNumber)
        {
            let span = doubt.span.clone().unwrap_or_default();
            let column = line
                .clean
                .get(..span.start)
                .map_or(1, |s| s.chars().count() + 1);
            return Err(ReadError::ImpossibleNumber {
                line: line.number,
                column,
                text: line.words(&span).trim().to_owned(),
            });
        }
    }
    if !recipe
        .components
        .iter()
        .flat_map(|c| &c.lines)
        .any(|l| l.kind == LineKind::Ingredient)
    {
        let is_prose = |l: &str| l.split_whitespace().count() >= PROSE;
        let prose = text.lines().position(is_prose);
        return Err(ReadError::NoIngredients {
            line: prose.map_or(1, |n| n + 1),
            prose: prose.is_some(),
            lines: text.lines().filter(|l| !l.trim().is_empty()).count(),
        });
    }
    Ok(recipe)
}

/// Whether two names mean one part: one holds the other's last word.
pub(crate) fn same_part(a: &str, b: &str) -> bool {
    let (a, b) = (component_name(a), component_name(b));
    let head = |s: &str| {
        s.split_whitespace()
            .next_back()
            .map(|w| w.trim_end_matches('s').to_owned())
    };
    !a.is_empty()
        && !b.is_empty()
        && (a == b
            || head(&a) == head(&b)
                && (a.ends_with(&*b) || b.ends_with(&*a) || !a.contains(' ') || !b.contains(' ')))
}

#[cfg(test)]
mod tests;
