//! What was decided otherwise in one sheet than in another.

use super::{Change, Sheet};
use crate::plan::{OwnStep, StepChange};

/// A field that two sheets hold otherwise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// The field in plain words: 'weight of 1 cup milk'.
    pub name: String,
    /// What it was, in words; `None` where it is too long to be quoted.
    pub from: Option<String>,
    /// What it is, in words; `None` likewise.
    pub to: Option<String>,
}

impl Sheet {
    /// What a later sheet of the same recipe holds otherwise, field by field; empty where both say
    /// the same.
    #[must_use]
    pub fn differences(&self, later: &Sheet) -> Vec<Difference> {
        let mut seen = Vec::new();
        let fields = self.fields().into_iter().chain(later.fields());
        fields
            .filter_map(|c| {
                let (from, to) = (c.value_in(self), c.value_in(later));
                let field = c.field();
                if from == to || seen.contains(&field) {
                    return None;
                }
                seen.push(field);
                let long = matches!(c, Change::Text { .. } | Change::Method { .. });
                Some(Difference {
                    name: c.name(),
                    from: (!long).then_some(from),
                    to: (!long).then_some(to),
                })
            })
            .collect()
    }

    /// A change for each field that something stands in, whatever its value.
    fn fields(&self) -> Vec<Change> {
        let mut all = vec![
            Change::Text {
                text: String::new(),
            },
            Change::Title { title: None },
            Change::Credit { text: None },
            Change::Makes { text: None },
            Change::Method { text: None },
            Change::Locale {
                locale: String::new(),
            },
            Change::Size { ask: None },
        ];
        for d in &self.lines {
            let line = || d.line.clone();
            all.push(Change::ReadAs {
                line: line(),
                text: None,
            });
            all.push(Change::Food {
                line: line(),
                food: None,
            });
            let places = std::iter::once(0).chain(d.also.keys().copied());
            all.extend(places.map(|place| Change::Grams {
                line: line(),
                place,
                grams: None,
            }));
            all.extend(d.accepted.iter().map(|code| Change::Accept {
                line: line(),
                code: code.clone(),
                yes: true,
            }));
        }
        let whole = self.accepted.iter();
        all.extend(whole.map(|code| Change::AcceptWhole {
            code: code.clone(),
            yes: true,
        }));
        all.extend(self.styles.keys().map(|component| Change::Style {
            component: component.clone(),
            style: None,
        }));
        all.extend(self.blends.keys().map(|component| Change::Blend {
            component: component.clone(),
            blend: None,
        }));
        all.extend(self.pins.iter().map(|p| Change::Pin {
            component: p.component.clone(),
            line: p.line.clone(),
            hold: None,
        }));
        all.extend(self.left_out.iter().map(|what| Change::LeaveOut {
            what: what.clone(),
            yes: true,
        }));
        for (component, ask) in &self.shapes {
            all.push(Change::SetShape {
                component: component.clone(),
                shape: None,
            });
            all.extend(ask.says.keys().map(|what| Change::ShapeSays {
                component: component.clone(),
                what: what.clone(),
                text: None,
            }));
        }
        all.extend(self.heat.keys().map(|what| Change::SetHeat {
            what: what.clone(),
            text: None,
        }));
        for own in &self.steps {
            let figures = StepChange::none().into_iter();
            let set = figures.filter(|c| c.words_in(Some(own)) != c.words_in(None::<&OwnStep>));
            all.extend(set.map(|to| Change::SetStep {
                step: own.step.clone(),
                words: own.words.clone(),
                to,
            }));
        }
        all.extend(
            self.parts
                .iter()
                .map(|p| Change::TakePart { part: p.clone() }),
        );
        all
    }
}
