//! Shapes on a sheet: one for a component, each field of it a decision of its own.

use super::{Change, ChangeError, Sheet};
use crate::shape::{Entry, Kind, ShapeAsk};

/// The field of any shape that goes by a key, as its name is said.
pub(super) fn name_of(what: &str) -> String {
    Kind::ALL
        .iter()
        .find_map(|k| k.field(what))
        .map_or_else(|| what.replace('-', " "), |f| f.name.to_lowercase())
}

/// The name of a shape by its key.
pub(super) fn shape_name(shape: Option<&str>) -> String {
    shape.map_or_else(
        || "none".to_owned(),
        |s| Kind::from_key(s).map_or_else(|| s.to_owned(), |k| k.name().to_owned()),
    )
}

/// What was typed, in words.
pub(super) fn typed(text: Option<&str>) -> String {
    text.map_or_else(|| "nothing typed".to_owned(), str::to_owned)
}

/// Whether a shape is known.
pub(super) fn check_shape(shape: &str) -> Result<(), ChangeError> {
    if Kind::from_key(shape).is_some() {
        return Ok(());
    }
    let all: Vec<&str> = Kind::ALL.iter().map(|k| k.key()).collect();
    Err(ChangeError(format!(
        "no shape is called '{shape}': the shapes are {}",
        all.join(", ")
    )))
}

/// Longest words for a field, in bytes.
const LONGEST: usize = 80;

/// Whether some shape has the field, and can read the words.
pub(super) fn check_says(what: &str, text: Option<&str>) -> Result<(), ChangeError> {
    let mut refused = None;
    for f in Kind::ALL.iter().filter_map(|k| k.field(what)) {
        let own = f.entry == Entry::Pan && text.is_some_and(crate::heat::Pan::may_be_named);
        match text.filter(|_| !own).map(|t| f.check(t)) {
            Some(Err(e)) => refused = Some(format!("{}: {}", e.what, e.mend)),
            _ if text.is_some_and(|t| t.len() > LONGEST) => {
                refused = Some(format!("write at most {LONGEST} letters"));
            }
            _ => return Ok(()),
        }
    }
    Err(ChangeError(refused.unwrap_or_else(|| {
        format!("no shape has a field '{what}': load the page again")
    })))
}

impl Sheet {
    /// Chooses a component's shape; what was typed in fields that the new one has too is kept.
    pub(super) fn set_shape(&mut self, component: &str, shape: Option<&str>) {
        match shape {
            None => {
                self.shapes.remove(component);
            }
            Some(shape) => {
                let mut says = self
                    .shapes
                    .remove(component)
                    .map_or_else(Default::default, |a| a.says);
                let kind = Kind::from_key(shape);
                says.retain(|what, text| {
                    let field = kind.and_then(|k| k.field(what));
                    field.is_some_and(|f| f.entry == Entry::Pan || f.check(text).is_ok())
                });
                let ask = ShapeAsk {
                    shape: shape.to_owned(),
                    says,
                };
                self.shapes.insert(component.to_owned(), ask);
            }
        }
    }

    /// Types a field of a component's shape.
    ///
    /// # Errors
    /// [`ChangeError`] where the component has no shape, or a shape without the field.
    pub(super) fn say_shape(
        &mut self,
        component: &str,
        what: &str,
        text: Option<&str>,
    ) -> Result<(), ChangeError> {
        let Some(ask) = self.shapes.get_mut(component) else {
            return match text {
                None => Ok(()),
                Some(_) => Err(ChangeError(
                    "no shape is chosen here: choose one first".to_owned(),
                )),
            };
        };
        let Some(text) = text else {
            ask.says.remove(what);
            return Ok(());
        };
        let field = Kind::from_key(&ask.shape).and_then(|k| k.field(what));
        let Some(field) = field else {
            return Err(ChangeError(format!(
                "a {} has no field '{what}': load the page again",
                shape_name(Some(&ask.shape))
            )));
        };
        field
            .check(text)
            .map_err(|e| ChangeError(format!("{}: {}", e.what, e.mend)))?;
        ask.says.insert(what.to_owned(), text.trim().to_owned());
        Ok(())
    }

    /// What was typed in a field of a component's shape.
    pub(super) fn shape_says(&self, component: &str, what: &str) -> Option<&str> {
        let ask = self.shapes.get(component)?;
        ask.says.get(what).map(String::as_str)
    }

    /// The changes that bring a component's shape back as it is now.
    pub(super) fn shape_again(&self, component: &str) -> Vec<Change> {
        let ask = self.shapes.get(component);
        let mut out = vec![Change::SetShape {
            component: component.to_owned(),
            shape: ask.map(|a| a.shape.clone()),
        }];
        out.extend(
            ask.into_iter()
                .flat_map(|a| &a.says)
                .map(|(what, text)| Change::ShapeSays {
                    component: component.to_owned(),
                    what: what.clone(),
                    text: Some(text.clone()),
                }),
        );
        out
    }
}
