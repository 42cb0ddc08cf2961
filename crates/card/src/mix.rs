//! A blend with the grams of this recipe.

use crate::view::{View, beside_wheat};
use larder::{FoodId, Gluten};
use quantity::{Mass, listed};
use recipe::household::clean;
use recipe::rework::ReworkedComponent;
use recipe::rework::blend::Portion;

/// A row of a blend's table.
pub(crate) struct Share {
    pub(crate) name: String,
    /// To be bought labelled gluten-free.
    pub(crate) check: bool,
    /// Its share of the blend.
    pub(crate) percent: f64,
    /// Grams for each component that uses the blend.
    pub(crate) grams: Vec<Option<String>>,
    /// Grams for the whole recipe.
    pub(crate) total: String,
}

/// A blend of the recipe.
pub(crate) struct Mix {
    pub(crate) name: String,
    why: String,
    own: bool,
    /// Whether a cup of it was weighed.
    pub(crate) measured: bool,
    /// Components that use it.
    pub(crate) uses: Vec<String>,
    pub(crate) flours: Vec<Share>,
    pub(crate) total: String,
    /// How to take it from a jar that was mixed with what binds, for each component: see
    /// [`ReworkedComponent::from_jar`].
    jar: Vec<String>,
}

impl Mix {
    /// Why it is made so, and whose it is.
    pub(crate) fn about(&self) -> String {
        match (self.own, self.why.is_empty()) {
            (false, _) => format!("{}. Our own design, not yet test-baked", self.why),
            (true, true) => "the kitchen’s own blend".to_owned(),
            (true, false) => format!("the kitchen’s own blend. {}", self.why),
        }
    }

    /// How to mix it, as a step.
    pub(crate) fn step(&self) -> String {
        let parts: Vec<String> = self
            .flours
            .iter()
            .map(|f| format!("{} g {}", f.total, f.name))
            .collect();
        let buy: Vec<String> = self
            .flours
            .iter()
            .filter(|f| f.check)
            .map(|f| f.name.clone())
            .collect();
        let buy = match buy.len() {
            0 => String::new(),
            n if n == parts.len() && n > 1 => " Buy all of them labelled gluten-free.".to_owned(),
            _ => format!(" Buy labelled gluten-free: {}.", listed(&buy)),
        };
        // One flour is nothing to mix.
        if let [only] = parts.as_slice() {
            return format!("Weigh {only}.{buy}");
        }
        format!(
            "Weigh and whisk until even: {}. Makes {} g.{buy}",
            parts.join(", "),
            self.total
        )
    }

    /// What it is for and how to mix it, beside its table.
    pub(crate) fn beside(&self) -> String {
        let how = if self.flours.len() == 1 {
            "One flour, nothing to mix."
        } else {
            "Weigh and whisk until even."
        };
        let parts: Vec<String> = self
            .uses
            .iter()
            .filter(|u| *u != "Ingredients")
            .map(|u| {
                let name = u.to_lowercase();
                if name.starts_with("the ") {
                    name
                } else {
                    format!("the {name}")
                }
            })
            .collect();
        let jar = match (self.jar.as_slice(), self.uses.as_slice()) {
            ([], _) => String::new(),
            ([one], [_]) => format!(" It is {one}."),
            (each, _) => format!(" {}.", each.join(". ")),
        };
        if parts.is_empty() {
            format!("{how}{jar}")
        } else {
            format!("For {}. {how}{jar}", listed(&parts))
        }
    }
}

impl<'a> View<'a> {
    /// Every blend of the recipe, once.
    pub(crate) fn mix(&self) -> Vec<Mix> {
        let mut keys: Vec<&str> = Vec::new();
        for key in self
            .rework
            .components
            .iter()
            .filter_map(|c| Some(&*c.blend.as_ref()?.key))
        {
            if !keys.contains(&key) {
                keys.push(key);
            }
        }
        keys.into_iter()
            .filter_map(|key| self.mix_of(key))
            .collect()
    }

    fn mix_of(&self, key: &str) -> Option<Mix> {
        let users: Vec<(usize, &ReworkedComponent)> = self
            .rework
            .components
            .iter()
            .enumerate()
            .filter(|(_, c)| c.blend.as_ref().is_some_and(|b| b.key == key))
            .filter(|(_, c)| c.lines.iter().any(|l| l.blend && l.grams.is_some()))
            .collect();
        let blend = users.first()?.1.blend.as_ref()?;
        let each: Vec<Vec<Portion>> = users
            .iter()
            .map(|(_, c)| c.blend_weighed(&self.options.scale))
            .collect();
        let row = |at: usize, food: FoodId, percent: f64| {
            let is = self.larder.food(food);
            let grams = |of: &Vec<Portion>| of.get(at).map_or(0.0, |p| p.grams);
            Share {
                name: is.name.clone(),
                check: is.gluten == Gluten::Check
                    || beside_wheat(is)
                    || self
                        .screening
                        .findings
                        .iter()
                        .any(|f| f.food == Some(food) && f.verdict == Gluten::Check),
                percent,
                total: clean(each.iter().map(grams).sum()).to_string(),
                grams: each
                    .iter()
                    .map(|of| Some(grams(of)).filter(|g| *g > 0.0).map(|g| g.to_string()))
                    .collect(),
            }
        };
        let parts = blend.parts.iter().enumerate();
        let flours = parts.map(|(at, &(f, s))| row(at, f, s)).collect();
        let all = each.iter().flatten().map(|p| p.grams).sum();
        let many = users.len() > 1;
        let jar = users.iter().zip(&each).filter_map(|((at, c), of)| {
            let flours = Mass::grams(of.iter().map(|p| p.grams).sum());
            let jar = c.from_jar(flours, self.larder)?;
            let whose = format!("For {}: ", self.name(*at).to_lowercase());
            Some(if many { format!("{whose}{jar}") } else { jar })
        });
        Some(Mix {
            name: blend.name.to_string(),
            why: blend.why.trim_end_matches('.').to_owned(),
            own: blend.own,
            measured: blend.cup_grams.is_some(),
            uses: users.iter().map(|(at, _)| self.name(*at)).collect(),
            flours,
            total: clean(all).to_string(),
            jar: jar.collect(),
        })
    }
}
