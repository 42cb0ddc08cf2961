//! What takes a change back.

use super::Change;
use crate::heat::HeatField;
use crate::sheet::{LineKey, PartUse, Sheet};

impl Change {
    /// The changes that take this one back, in a sheet that it has not been made to yet. One,
    /// except where it lets go several pins, or what was said of the method it changes.
    #[must_use]
    pub fn inverse(&self, sheet: &Sheet) -> Vec<Self> {
        let decision = |line: &LineKey| sheet.decision(line);
        // A decision that has followed its line goes back under the words it was made with.
        let made = |line: &LineKey| decision(line).map_or(line, |d| &d.line).clone();
        let one = match self {
            Self::Text { .. } => Self::Text {
                text: sheet.text.clone(),
            },
            Self::Title { .. } => Self::Title {
                title: sheet.title.clone(),
            },
            Self::Credit { .. } => Self::Credit {
                text: sheet.credit.clone(),
            },
            Self::Makes { .. } => Self::Makes {
                text: sheet.makes.clone(),
            },
            Self::Keeping { .. } => Self::Keeping {
                text: sheet.keeping.clone(),
            },
            Self::Method { text } => {
                let mut back = vec![Self::Method {
                    text: sheet.method.clone(),
                }];
                // Said of the words that were there before.
                if sheet.method_suits.is_some() && sheet.method != *text {
                    back.push(Self::MethodSuits {
                        size: sheet.method_suits.clone(),
                    });
                }
                return back;
            }
            Self::MethodSuits { .. } => Self::MethodSuits {
                size: sheet.method_suits.clone(),
            },
            Self::Locale { .. } => Self::Locale {
                locale: sheet.locale.clone(),
            },
            Self::ReadAs { line, .. } => Self::ReadAs {
                line: made(line),
                text: decision(line).and_then(|d| d.read_as.clone()),
            },
            Self::Food { line, place, .. } => Self::Food {
                line: made(line),
                place: *place,
                food: decision(line).and_then(|d| d.food_at(*place).cloned()),
            },
            Self::Grams { line, place, .. } => Self::Grams {
                line: made(line),
                place: *place,
                grams: decision(line).and_then(|d| d.grams_at(*place)),
            },
            Self::Accept { line, code, .. } => Self::Accept {
                line: made(line),
                code: code.clone(),
                yes: decision(line).is_some_and(|d| d.accepted.contains(code)),
            },
            Self::AcceptWhole { code, .. } => Self::AcceptWhole {
                code: code.clone(),
                yes: sheet.accepted.contains(code),
            },
            Self::Style { component, .. } => Self::Style {
                component: component.clone(),
                style: sheet.styles.get(component).cloned(),
            },
            Self::Blend { component, .. } => Self::Blend {
                component: component.clone(),
                blend: sheet.blends.get(component).cloned(),
            },
            Self::Pin {
                component, line, ..
            } => Self::Pin {
                component: component.clone(),
                line: line.clone(),
                hold: sheet.pin(component, line).cloned(),
            },
            Self::LeaveOut { what, .. } => Self::LeaveOut {
                what: what.clone(),
                yes: sheet.left_out.contains(what),
            },
            Self::Size { .. } => Self::Size {
                ask: sheet.size.clone(),
            },
            Self::SetHeat { what, .. } => Self::SetHeat {
                what: what.clone(),
                text: sheet.heat.get(what).cloned(),
            },
            Self::KnownBake { .. } => Self::KnownBake {
                says: sheet
                    .heat
                    .iter()
                    .filter(|(k, _)| HeatField::KNOWN.iter().any(|f| f.key() == *k))
                    .map(|(k, v)| (k.clone(), v.clone()))
                    .collect(),
            },
            Self::SetShape { component, .. } => return sheet.shape_again(component),
            Self::ShapeSays {
                component, what, ..
            } => Self::ShapeSays {
                component: component.clone(),
                what: what.clone(),
                text: sheet.shape_says(component, what).map(str::to_owned),
            },
            Self::SetStep { step, words, to } => {
                let here = sheet.steps.iter().find(|s| s.step == *step);
                let all = here.is_some_and(|h| h.is_of_another(words.as_deref()));
                let back = to.back(here, all).into_iter().map(|to| Self::SetStep {
                    step: step.clone(),
                    words: here.map_or_else(|| words.clone(), |h| h.words.clone()),
                    to,
                });
                return back.collect();
            }
            Self::Unpin => {
                let pins = sheet.pins.iter().map(|p| Self::Pin {
                    component: p.component.clone(),
                    line: p.line.clone(),
                    hold: Some(p.hold.clone()),
                });
                return pins.collect();
            }
            Self::TakePart {
                part: PartUse { recipe, .. },
            }
            | Self::LeavePart { recipe } => {
                match sheet.parts.iter().find(|p| p.recipe == *recipe) {
                    Some(p) => Self::TakePart { part: p.clone() },
                    None => Self::LeavePart {
                        recipe: recipe.clone(),
                    },
                }
            }
        };
        vec![one]
    }
}
