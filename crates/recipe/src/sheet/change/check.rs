//! Whether a change's value is one that its field can have, and what was expected where not.

use super::{Change, ChangeError, wrong};
use crate::data::rows;
use crate::heat::HeatField;
use crate::read::MOST_PAGE_BYTES;
use crate::rework::style::Style;
use crate::sheet::shapes;
use crate::sheet::work::{MOST_GRAMS, sound};
use crate::{DoubtCode, LeftOut};
use quantity::{Locale, UnknownLocale};

/// More ingredients than any line has.
const MOST_ON_A_LINE: usize = 1_000;

/// Longest title, and longest words for one line, in bytes.
const LONGEST: usize = 400;

/// Longest method of one's own, in bytes.
const LONGEST_METHOD: usize = 40_000;

fn check_grams(grams: Option<f64>) -> Result<(), ChangeError> {
    match grams {
        Some(g) if !sound(g) => wrong(format!(
            "{g} g cannot be weighed: write grams from 0 to {MOST_GRAMS:.0}"
        )),
        _ => Ok(()),
    }
}

fn check_code(code: &str) -> Result<(), ChangeError> {
    if DoubtCode::from_code(code).is_some() {
        return Ok(());
    }
    wrong(format!(
        "no doubt is called '{code}': the codes are {}",
        DoubtCode::ALL
            .iter()
            .map(|c| c.code())
            .collect::<Vec<_>>()
            .join(", ")
    ))
}

/// Keys of foods and blends: small letters, digits and '_'.
fn is_key(key: &str) -> bool {
    !key.is_empty()
        && key.len() <= 80
        && key
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
}

fn check_blend(key: &str) -> Result<(), ChangeError> {
    let house: Vec<&str> = rows(include_str!("../../../data/blends.tsv"))
        .map(|r| r.get("key"))
        .collect();
    if house.contains(&key) || is_key(key) && key.starts_with("own_") {
        return Ok(());
    }
    wrong(format!(
        "no blend is called '{key}': write {} or the key of a blend of your own",
        house.join(", ")
    ))
}

/// One line of words: neither empty nor too long.
fn check_words(words: Option<&str>, what: &str) -> Result<(), ChangeError> {
    match words {
        Some(w) if w.trim().is_empty() => wrong(format!(
            "{what} has no words: write some, or take the decision back"
        )),
        Some(w) if w.len() > LONGEST => wrong(format!(
            "{what} is {} letters long: write at most {LONGEST}",
            w.chars().count()
        )),
        Some(w) if w.contains(['\n', '\r']) => {
            wrong(format!("{what} runs over two lines: write one line"))
        }
        _ => Ok(()),
    }
}

/// A figure of heat: a known key, and words that it can be read from.
fn check_heat(what: &str, words: Option<&str>) -> Result<(), ChangeError> {
    let Some(field) = HeatField::from_key(what) else {
        return wrong(format!(
            "no figure of heat is called '{what}': the keys are {}",
            HeatField::ALL
                .iter()
                .map(|f| f.key())
                .collect::<Vec<_>>()
                .join(", ")
        ));
    };
    check_words(words, field.words())?;
    // A pan of the kitchen's own goes by any name: what is none is said where it is worked out.
    if matches!(field, HeatField::KnownPan | HeatField::Pan)
        && words.is_some_and(crate::heat::Pan::may_be_named)
    {
        return Ok(());
    }
    match words.map(|w| field.check(w)) {
        Some(Err(e)) => wrong(format!("{}: {e}", field.words())),
        _ => Ok(()),
    }
}

/// A method: neither empty nor too long; it may run over many lines.
fn check_method(words: Option<&str>) -> Result<(), ChangeError> {
    match words {
        Some(w) if w.trim().is_empty() => {
            wrong("the method has no words: write some, or take it back")
        }
        Some(w) if w.len() > LONGEST_METHOD => wrong(format!(
            "the method is {} letters long: write at most {LONGEST_METHOD}",
            w.chars().count()
        )),
        _ => Ok(()),
    }
}

impl Change {
    /// Whether the value is one that the field can have.
    ///
    /// # Errors
    /// [`ChangeError`], with what was expected.
    pub fn check(&self) -> Result<(), ChangeError> {
        match self {
            Self::Text { text } if text.len() > MOST_PAGE_BYTES => wrong(format!(
                "{:.0} MB is more than a recipe can be: cut out the one recipe",
                text.len() as f64 / 1e6
            )),
            Self::Title { title } => check_words(title.as_deref(), "the title"),
            Self::Credit { text } => check_words(text.as_deref(), "the credit"),
            Self::Makes { text } => check_words(text.as_deref(), "what it makes"),
            Self::Keeping { text } => check_words(text.as_deref(), "how it keeps"),
            Self::Method { text } => check_method(text.as_deref()),
            Self::Locale { locale } => match Locale::ALL.iter().any(|l| l.key() == locale) {
                true => Ok(()),
                false => wrong(UnknownLocale(locale.clone()).to_string()),
            },
            // No words at all: the line is no ingredient.
            Self::ReadAs { text, .. } => {
                let words = text.as_deref().filter(|t| !t.trim().is_empty());
                check_words(words, "the line")
            }
            Self::Food { food: Some(f), .. } if !is_key(f) => wrong(format!(
                "'{f}' is no key of a food: choose one of the larder"
            )),
            Self::Pin {
                line,
                hold: Some(hold),
                ..
            } => hold.check(line).map_err(|e| ChangeError(e.to_string())),
            Self::Grams { place, .. } | Self::Food { place, .. } if *place >= MOST_ON_A_LINE => {
                wrong("no line has so many ingredients")
            }
            Self::Grams { grams, .. } => check_grams(*grams),
            Self::Accept { code, .. } | Self::AcceptWhole { code, .. } => check_code(code),
            Self::LeaveOut { what, .. } if !LeftOut::ALL.iter().any(|l| l.word() == what) => {
                wrong(format!(
                    "nothing that can be left out is called '{what}': the words are {}",
                    LeftOut::ALL.map(LeftOut::word).join(", ")
                ))
            }
            Self::SetHeat { what, text } => check_heat(what, text.as_deref()),
            Self::KnownBake { says } => {
                if let Some(other) = says
                    .keys()
                    .find(|k| HeatField::KNOWN.iter().all(|f| f.key() != **k))
                {
                    return wrong(format!("'{other}' is no figure of a known bake"));
                }
                says.iter()
                    .try_for_each(|(what, words)| check_heat(what, Some(words)))
            }
            Self::Style { style: Some(s), .. } if Style::from_key(s).is_none() => wrong(format!(
                "no style is called '{s}': the styles are {}",
                Style::all().map(Style::key).collect::<Vec<_>>().join(", ")
            )),
            Self::Blend { blend: Some(b), .. } => check_blend(b),
            Self::SetShape { shape: Some(s), .. } => shapes::check_shape(s),
            Self::ShapeSays { what, text, .. } => shapes::check_says(what, text.as_deref()),
            Self::Size { ask: Some(ask) } | Self::MethodSuits { size: Some(ask) } => {
                ask.check().map_err(|e| ChangeError(e.to_string()))
            }
            Self::SetStep { step, .. } if step.is_empty() || step.len() > LONGEST => {
                wrong("the change names no step of the plan")
            }
            Self::SetStep { to, .. } => to.check().map_err(ChangeError),
            Self::TakePart { part } if part.recipe.is_empty() || part.version == 0 => {
                wrong("a part needs a saved recipe and one of its versions, from 1")
            }
            _ => Ok(()),
        }
    }
}
