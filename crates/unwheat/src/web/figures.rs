//! The figures of a rework, kept with a version: what was true when it was saved.

use larder::{FoodId, Larder};
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
    /// The make-up of that blend: names of flours, then of binders, with their percent.
    #[serde(default)]
    pub made_of: Vec<(String, f64)>,
    /// Effective hydration of a dough or batter, %.
    #[serde(default)]
    pub hydration: Option<f64>,
    /// Key, name and grams of each line; grams to a thousandth, in old versions to a tenth.
    pub lines: Vec<(String, String, Option<f64>)>,
}

fn tenth(v: f64) -> f64 {
    (v * 10.0).round() / 10.0
}

/// A line of two states of a component.
pub struct Line<'a> {
    /// Its key.
    pub key: &'a str,
    /// Its name; both names where it changed.
    pub name: String,
    /// Its grams in each.
    pub grams: [Option<f64>; 2],
}

/// The figures of a worked sheet.
pub fn figures(w: &Worked, larder: &Larder) -> Figures {
    Figures {
        components: w
            .rework
            .components
            .iter()
            .map(|c| Part {
                name: c.name.clone(),
                style: c.style.map(|s| s.style.key().to_owned()),
                blend: c.blend.as_ref().map(|b| b.key.to_string()),
                made_of: c.blend.as_ref().map_or_else(Vec::new, |b| {
                    b.parts
                        .iter()
                        .chain(&b.binders)
                        .map(|(f, s)| (larder.food(*f).name.clone(), tenth(*s)))
                        .collect()
                }),
                hydration: c
                    .reworked
                    .hydration
                    .filter(|_| c.is_dough())
                    .map(|h| tenth(h.likely().get())),
                lines: c
                    .lines
                    .iter()
                    .filter(|l| l.kept != Kept::Dropped)
                    .map(|l| {
                        let grams = l.grams.map(|g| {
                            let g = g.likely().as_grams();
                            (g * 1000.0).round() / 1000.0
                        });
                        (l.key.clone(), l.name.clone(), grams)
                    })
                    .collect(),
            })
            .collect(),
    }
}

impl Figures {
    /// Whether both have the same grams, to a tenth, of the same lines.
    pub fn same(&self, other: &Self) -> bool {
        let pairs = || self.components.iter().zip(&other.components);
        // A food is the same by whatever name.
        let lines = |p: &Part| -> Vec<(String, Option<f64>)> {
            let shown = p.lines.iter();
            shown.map(|(k, _, g)| (k.clone(), g.map(tenth))).collect()
        };
        self.components.len() == other.components.len()
            && pairs().all(|(a, b)| a.name == b.name && lines(a) == lines(b))
    }

    /// The same figures with foods called as they are now: they may have been saved in the words
    /// of another country.
    pub fn in_words_of(mut self, larder: &Larder) -> Self {
        let called = |name: &mut String, food: Option<FoodId>| {
            if let Some(food) = food {
                name.clone_from(&larder.food(food).name);
            }
        };
        for c in &mut self.components {
            for (key, name, _) in &mut c.lines {
                let key = key.split('#').next().unwrap_or_default();
                called(name, larder.by_key(key));
            }
            for (name, _) in &mut c.made_of {
                let food = larder.named(name);
                called(name, food);
            }
        }
        self
    }

    /// The component of a name.
    pub fn component(&self, name: &str) -> Option<&Part> {
        self.components.iter().find(|c| c.name == name)
    }

    /// The lines of two states of a component, matched by key. A line whose name changed, as a
    /// blend's does, has both names.
    pub fn lines<'a>(a: Option<&'a Part>, b: Option<&'a Part>) -> Vec<Line<'a>> {
        let of = |p: Option<&'a Part>| p.map_or(&[][..], |p| p.lines.as_slice());
        let (a, b) = (of(a), of(b));
        let find = |key: &str| a.iter().find(|l| l.0 == key);
        let mut out: Vec<_> = b
            .iter()
            .map(|l| {
                let old = find(&l.0);
                let name = match old {
                    Some(o) if o.1 != l.1 => format!("{} → {}", o.1, l.1),
                    _ => l.1.clone(),
                };
                Line {
                    key: &l.0,
                    name,
                    grams: [old.and_then(|o| o.2), l.2],
                }
            })
            .collect();
        for l in a {
            if !b.iter().any(|x| x.0 == l.0) {
                out.push(Line {
                    key: &l.0,
                    name: l.1.clone(),
                    grams: [l.2, None],
                });
            }
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::figures;
    use larder::Larder;
    use quantity::Locale;
    use recipe::sheet::{Sheet, work};

    /// A version saved in one country's words is no other recipe in the next.
    #[test]
    fn figures_are_the_same_in_every_countrys_words() {
        let larder = Larder::built_in().expect("tables");
        let text =
            "Drops\n\n200 g plain flour\n1 tsp baking soda\n30 g maize starch\n90 g icing sugar\n";
        let of = |locale: Locale| {
            let there = larder.clone().in_words_of(locale);
            let w = work(&Sheet::new(text, Locale::Metric), &[], &there, &[]).expect("works");
            figures(&w, &there)
        };
        let (us, uk) = (of(Locale::Us), of(Locale::Uk));
        assert_ne!(us, uk);
        assert!(us.same(&uk));
        assert_eq!(us.in_words_of(&larder.clone().in_words_of(Locale::Uk)), uk);
    }
}
