//! The figures of a rework, kept with a version: what was true when it was saved.

use recipe::rework::Kept;
use recipe::sheet::Worked;
use serde::{Deserialize, Serialize};

/// The figures of a recipe.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Figures {
    /// Its components.
    pub components: Vec<Part>,
}

/// The figures of a component.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// Its style's key.
    #[serde(default)]
    pub style: Option<String>,
    /// Its blend's key.
    #[serde(default)]
    pub blend: Option<String>,
    /// Effective hydration, %.
    #[serde(default)]
    pub hydration: Option<f64>,
    /// Key, name and grams of each line; grams with one decimal.
    pub lines: Vec<(String, String, Option<f64>)>,
}

/// The figures of a worked sheet.
pub fn figures(w: &Worked) -> Figures {
    let tenth = |v: f64| (v * 10.0).round() / 10.0;
    Figures {
        components: w
            .rework
            .components
            .iter()
            .map(|c| Part {
                name: c.name.clone(),
                style: c.style.map(|s| s.style.key().to_owned()),
                blend: c.blend.as_ref().map(|b| b.key.to_string()),
                hydration: c.reworked.hydration.map(|h| tenth(h.likely().get())),
                lines: c
                    .lines
                    .iter()
                    .filter(|l| l.kept != Kept::Dropped)
                    .map(|l| {
                        let grams = l.grams.map(|g| tenth(g.likely().as_grams()));
                        (l.key.clone(), l.name.clone(), grams)
                    })
                    .collect(),
            })
            .collect(),
    }
}

impl Figures {
    /// The component of a name.
    pub fn component(&self, name: &str) -> Option<&Part> {
        self.components.iter().find(|c| c.name == name)
    }

    /// The lines of two states of a component, matched by key: name, grams in each.
    pub fn lines(a: Option<&Part>, b: Option<&Part>) -> Vec<(String, Option<f64>, Option<f64>)> {
        let empty = Part::default();
        let (a, b) = (a.unwrap_or(&empty), b.unwrap_or(&empty));
        let find = |p: &Part, key: &str| p.lines.iter().find(|l| l.0 == key).and_then(|l| l.2);
        let mut out: Vec<_> = b
            .lines
            .iter()
            .map(|l| (l.1.clone(), find(a, &l.0), l.2))
            .collect();
        for l in &a.lines {
            if !b.lines.iter().any(|x| x.0 == l.0) {
                out.push((l.1.clone(), l.2, None));
            }
        }
        out
    }
}
