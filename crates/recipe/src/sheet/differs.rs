//! What was decided otherwise in one sheet than in another.

use super::{Change, Sheet, step_words};
use crate::own_method::{Differing, differing_lines, differing_steps, steps};
use crate::plan::{OwnStep, StepChange};

/// A field that two sheets hold otherwise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// The field, see [`Change::field`].
    pub field: String,
    /// The field in plain words: 'Weight of 1 cup milk'.
    pub name: String,
    /// What it was, in words; `None` where what it is says so, and where its lines do.
    pub from: Option<String>,
    /// What it is, in words; `None` where its lines do.
    pub to: Option<String>,
    /// Of a text, the lines that differ.
    pub lines: Vec<Differing>,
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
                seen.push(field.clone());
                let said = |name: String, from: Option<String>, to: String| Difference {
                    field: field.clone(),
                    name: capital(&name),
                    from,
                    to: Some(to),
                    lines: Vec::new(),
                };
                Some(match &c {
                    Change::Text { .. } => Difference {
                        to: None,
                        lines: differing_lines(&self.text, &later.text),
                        ..said(c.name(), None, String::new())
                    },
                    Change::Method { .. } => {
                        let method = |s: &Sheet| s.method.clone().unwrap_or_default();
                        let (old, new) = (method(self), method(later));
                        let is = match (old.trim(), new.trim()) {
                            ("", _) => Some("written".to_owned()),
                            (_, "") => Some("taken out".to_owned()),
                            _ => None,
                        };
                        Difference {
                            lines: is
                                .as_ref()
                                .map_or_else(|| differing_steps(&old, &new), |_| Vec::new()),
                            to: is,
                            ..said(c.name(), None, String::new())
                        }
                    }
                    Change::Pin {
                        component, line, ..
                    } => {
                        let held = |s: &Sheet| {
                            let hold = s.pin(component, line);
                            hold.map_or("reckoned".to_owned(), |h| format!("held at {h}"))
                        };
                        said(line_words(component, line), Some(held(self)), held(later))
                    }
                    Change::SetStep { step, to, .. } => {
                        let own = |s: &'_ Sheet| s.steps.iter().find(|o| o.step == *step).cloned();
                        let (was, is) = (own(self), own(later));
                        let words = is.as_ref().or(was.as_ref()).and_then(|o| o.words.clone());
                        let name = step_name(step, words.as_deref(), [later, self]);
                        match to {
                            StepChange::LeftOut(_) => {
                                let out = is.is_some_and(|o| o.left_out);
                                said(
                                    name,
                                    None,
                                    if out { "left out" } else { "put back" }.to_owned(),
                                )
                            }
                            StepChange::Added(_) => {
                                let added =
                                    is.as_ref().or(was.as_ref()).and_then(|o| o.added.as_ref());
                                let called = added.map_or("", |a| a.name.as_str());
                                let here = is.as_ref().is_some_and(|o| o.added.is_some());
                                said(
                                    format!("your step '{called}'"),
                                    None,
                                    if here { "put in" } else { "taken out" }.to_owned(),
                                )
                            }
                            to => said(
                                format!("{name}, {}", to.words().0),
                                Some(from),
                                c.value_in(later),
                            ),
                        }
                    }
                    _ => said(c.name(), Some(from), to),
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
            Change::Keeping { text: None },
            Change::Method { text: None },
            Change::Locale {
                locale: String::new(),
            },
            Change::Size { ask: None },
            Change::MethodSuits { size: None },
        ];
        for d in &self.lines {
            let line = || d.line.clone();
            all.push(Change::ReadAs {
                line: line(),
                text: None,
            });
            let places = std::iter::once(0).chain(d.foods.keys().copied());
            all.extend(places.map(|place| Change::Food {
                line: line(),
                place,
                food: None,
            }));
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

/// Of a line or figure that is held: 'water', 'whole milk of the dough'.
fn line_words(component: &str, line: &str) -> String {
    let line = line.strip_prefix("use:").unwrap_or(line).replace('_', " ");
    let line = match line.split_once('#') {
        Some((name, nth)) => format!("{name} (line {nth} of it)"),
        None => line,
    };
    if component.is_empty() {
        line
    } else {
        format!("{line} of the {component}")
    }
}

/// 'Step 4, Chill', where its words stand in the baker's own method of one of the sheets; else its
/// name with what it says.
fn step_name(key: &str, words: Option<&str>, sheets: [&Sheet; 2]) -> String {
    let number = |s: &&Sheet| {
        let all = steps(s.method.as_deref()?);
        let mut all = all.iter().flat_map(|s| &s.steps);
        Some(1 + all.position(|s| Some(s.as_str()) == words)?)
    };
    let number = sheets.iter().find_map(number);
    let what = key.rsplit(':').next().unwrap_or(key);
    let what = what.split('#').next().unwrap_or(what);
    let known = what != "other" && !key.starts_with("own:");
    match (number, words) {
        (Some(n), _) if known => format!("step {n}, {}", capital(&what.replace('_', " "))),
        (Some(n), Some(words)) => format!("step {n}, '{words}'"),
        (_, Some(words)) => format!("step {} ('{words}')", step_words(key)),
        _ => format!("step {}", step_words(key)),
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |c| {
        c.to_uppercase().collect::<String>() + letters.as_str()
    })
}
