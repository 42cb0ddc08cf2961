//! Why figures cannot be held as asked.

use super::super::hold::{Hold, HoldError};
use crate::household::percent;
use quantity::listed;
use std::error::Error;
use std::fmt;

/// Why figures cannot be held as asked. Each names both sides of the clash.
#[derive(Debug, Clone, PartialEq)]
pub enum PinError {
    /// One figure is held at two.
    Twice {
        /// The component.
        component: String,
        /// The line's key.
        line: String,
        /// The one.
        first: Hold,
        /// The other.
        second: Hold,
    },
    /// The figure cannot be.
    Value {
        /// The component.
        component: String,
        /// The line's key.
        line: String,
        /// What was expected.
        error: HoldError,
    },
    /// Percent of a flour phase that the line itself is part of.
    OfItself {
        /// The component.
        component: String,
        /// The line's name.
        line: String,
        /// What it is held at.
        hold: Hold,
    },
    /// Pieces of what the line is not, or that the larder has no weight of.
    Pieces {
        /// The component.
        component: String,
        /// The line's name.
        line: String,
        /// What it is held at.
        hold: Hold,
    },
    /// A percentage of flour where there is no flour.
    NoFlour {
        /// The component.
        component: String,
        /// The line's key.
        line: String,
        /// What it is held at.
        hold: Hold,
    },
    /// The hydration is held, and so is every liquid.
    Liquids {
        /// The component.
        component: String,
        /// What hydration is held at.
        hydration: Hold,
        /// The liquids: name, and what each is held at.
        liquids: Vec<(String, Hold)>,
        /// The hydration they give, percent.
        gives: f64,
    },
    /// The lines that stay bring more water than the hydration that is held.
    TooWet {
        /// The component.
        component: String,
        /// What hydration is held at.
        hydration: Hold,
        /// What brings the water.
        from: Vec<String>,
        /// The hydration that it gives alone, percent.
        gives: f64,
    },
    /// All binders are held at one figure, and single ones at others.
    Binders {
        /// The component.
        component: String,
        /// What all are held at.
        all: Hold,
        /// Each held one: name, and what it is held at.
        lines: Vec<(String, Hold)>,
        /// What those come to, percent of the flour phase.
        gives: f64,
    },
}

fn place(component: &str, line: &str) -> String {
    if component.is_empty() {
        format!("'{line}'")
    } else {
        format!("'{line}' of '{component}'")
    }
}

fn of(component: &str) -> String {
    if component.is_empty() {
        String::new()
    } else {
        format!(" of '{component}'")
    }
}

/// `whole milk at 310 g and water at 60 g`.
fn each(lines: &[(String, Hold)]) -> String {
    let all: Vec<String> = lines.iter().map(|(n, h)| format!("{n} at {h}")).collect();
    listed(&all)
}

impl fmt::Display for PinError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Twice {
                component,
                line,
                first,
                second,
            } => write!(
                f,
                "{} is held at {first} and at {second}: hold it at one of them",
                place(component, line)
            ),
            Self::Value {
                component,
                line,
                error,
            } => write!(f, "{}: {error}", place(component, line)),
            Self::OfItself {
                component,
                line,
                hold,
            } => write!(
                f,
                "{} cannot be held at {hold} of the flour: it is itself part of that flour; hold it in grams, or choose a blend with it",
                place(component, line)
            ),
            Self::Pieces {
                component,
                line,
                hold,
            } => write!(
                f,
                "{} cannot be held at {hold}: the larder knows no such piece of it; hold it in grams or percent of the flour",
                place(component, line)
            ),
            Self::NoFlour {
                component,
                line,
                hold,
            } => write!(
                f,
                "{} is held at {hold}, but there is no flour for a percentage to be of: hold grams, or let it go",
                place(component, line)
            ),
            Self::Liquids {
                component,
                hydration,
                liquids,
                gives,
            } => write!(
                f,
                "hydration{} is held at {hydration}, and so is every liquid ({}), which gives {}: let one of them go",
                of(component),
                each(liquids),
                percent(*gives)
            ),
            Self::TooWet {
                component,
                hydration,
                from,
                gives,
            } => write!(
                f,
                "hydration{} is held at {hydration}, but {} give {} without any liquid: hold at least that, or less of those",
                of(component),
                listed(from),
                percent(*gives)
            ),
            Self::Binders {
                component,
                all,
                lines,
                gives,
            } => write!(
                f,
                "the binder{} is held at {all}, and {}, which comes to {} of the flour: let one of them go",
                of(component),
                each(lines),
                percent(*gives)
            ),
        }
    }
}

impl Error for PinError {}
