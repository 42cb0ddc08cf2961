//! Answers to doubts about the whole recipe, and to those of the rework.

use super::Answer;
use crate::rework::style::Style;
use crate::rework::{ReworkedComponent, is_crumb};
use crate::sheet::{Change, key_of};
use crate::{Doubt, DoubtCode, Recipe};
use quantity::Locale;

/// Answers to a doubt about the whole recipe, or about a step of it.
#[must_use]
pub fn answers_whole(doubt: &Doubt, recipe: &Recipe, locale: Locale) -> Vec<Answer> {
    let mut out = Vec::new();
    // A doubt about a part is not settled by this recipe's measures.
    let own = !doubt.message.starts_with("in '");
    if doubt.code == DoubtCode::LocaleUnsure && own {
        let looks = if doubt.message.contains("Australian") {
            Locale::Au
        } else {
            Locale::Uk
        };
        out.push(Answer {
            words: format!("read it in {} measures", country(looks)),
            change: Change::Locale {
                locale: looks.key().to_owned(),
            },
            why: Some(format!(
                "cups, spoons and pints differ; {} are used now",
                country(locale)
            )),
        });
    }
    let words = match doubt.code {
        DoubtCode::LocaleUnsure => format!("keep {} measures", country(locale)),
        DoubtCode::MaybeMethod => "it is no step".to_owned(),
        DoubtCode::PartByMethod => "they are one dough".to_owned(),
        DoubtCode::LineInTwo => "all of it counts where it is listed".to_owned(),
        DoubtCode::InMethodOnly => "it is not part of the food".to_owned(),
        DoubtCode::ComponentTwice => {
            let last = recipe.components.last().map_or("", |c| c.name.as_str());
            if last.is_empty() {
                "keep both".to_owned()
            } else {
                "keep both, numbered".to_owned()
            }
        }
        _ => "take it as read".to_owned(),
    };
    out.push(Answer {
        words,
        change: Change::AcceptWhole {
            code: doubt.code.code().to_owned(),
            yes: true,
        },
        why: None,
    });
    out
}

/// Answers to a doubt that came up in the rework of a component.
#[must_use]
pub fn answers_rework(doubt: &Doubt, component: &ReworkedComponent) -> Vec<Answer> {
    let mut out = Vec::new();
    if doubt.code == DoubtCode::StyleUnsure
        && let Some(choice) = component.style
    {
        let is = |style: Style| Answer {
            words: style.name().to_owned(),
            change: Change::Style {
                component: component.name.clone(),
                style: Some(style.key().to_owned()),
            },
            why: None,
        };
        let filling = Style::from_key("filling");
        let guessed = [Some(choice.style), choice.next].into_iter().flatten();
        out.extend(guessed.filter(|s| Some(*s) != filling).map(is));
        // The likely answer first: what is called so, or has hardly any flour. What is called a
        // crumb and looks like one has a style of its own.
        let crumb = choice.style.key() == "crumb_streusel" && is_crumb(&component.name);
        let likely = !crumb && (!component.is_dough() || component.goes_on_a_bake());
        if let Some(filling) = filling {
            let at = if likely { 0 } else { out.len() };
            out.insert(
                at,
                Answer {
                    why: Some(
                        "nothing of it is baked as dough: hidden gluten and what thickens it are swapped, the rest stays"
                            .to_owned(),
                    ),
                    ..is(filling)
                },
            );
        }
    }
    let (words, why) = match doubt.code {
        DoubtCode::StyleUnsure => ("leave it a guess", None),
        DoubtCode::NoWeight => (
            "leave it unweighed",
            Some("it is not replaced weight for weight"),
        ),
        DoubtCode::GumInMix => ("leave it so", None),
        DoubtCode::NoReplacement => (
            "I will see to it",
            Some("the line stays, and the screen goes on saying what is in it"),
        ),
        _ => ("take it as it is", None),
    };
    out.push(Answer {
        words: words.to_owned(),
        change: Change::AcceptWhole {
            code: doubt.code.code().to_owned(),
            yes: true,
        },
        why: why.map(str::to_owned),
    });
    out
}

/// Answers to whether a bought mix holds gum: what its label says is written behind it.
///
/// # Arguments
/// * `recipe` — the recipe as worked: of [`crate::sheet::Worked::formula`].
/// * `at` — the component's place in it.
#[must_use]
pub fn answers_gum(
    doubt: &Doubt,
    recipe: &Recipe,
    at: usize,
    component: &ReworkedComponent,
) -> Vec<Answer> {
    let mix = component.binding.as_ref().and_then(|b| b.asks());
    let line = mix
        .and_then(|m| component.lines.get(m.line?)?.origin)
        .and_then(|(l, _)| Some((l, recipe.components.get(at)?.lines.get(l)?)))
        .filter(|(_, line)| line.items.len() == 1);
    let mut out = Vec::new();
    if let Some((l, line)) = line {
        let says = |words: &str, behind: &str, why: &str| Answer {
            words: words.to_owned(),
            change: Change::ReadAs {
                line: key_of(recipe, at, l),
                text: Some(format!("{}, {behind}", line.clean.trim())),
            },
            why: Some(why.to_owned()),
        };
        out.push(says(
            "it holds gum",
            "with gum in it",
            "no gum is added for its share of the flour",
        ));
        out.push(says(
            "it holds none",
            "without gum",
            "the binder is worked out on all of the flour",
        ));
    }
    out.extend(answers_rework(doubt, component));
    out
}

pub(in crate::sheet) fn country(locale: Locale) -> &'static str {
    match locale {
        Locale::Us => "US",
        Locale::Metric => "metric",
        Locale::Uk => "British",
        Locale::Au => "Australian",
    }
}
