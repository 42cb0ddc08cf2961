//! A blend without what is left out.

use crate::formulate::{Aim, Ask, MakeUp, Target, formulate};
use crate::rework::blend::Blend;
use crate::rework::engine::Work;
use crate::{Holds, LeftOut};
use larder::{Allergen, FoodId};
use quantity::listed;
use std::cell::OnceCell;

/// A blend of the house or the kitchen no further than this from the one it stands in for is
/// taken as it is, in spreads of published blends. Common practice, no source.
const NEAR: f64 = 1.5;

impl<'a> Work<'a> {
    /// The blend, or the one nearest to it that holds nothing that is left out: the house's or
    /// the kitchen's, else one that is formulated.
    pub(in crate::rework) fn fitting(
        &mut self,
        blend: &'a Blend,
        blends: &'a [Blend],
        made: &'a OnceCell<Option<Blend>>,
    ) -> &'a Blend {
        let (parts, binders) = (self.barred(&blend.parts), self.barred(&blend.binders));
        if parts.is_empty() && binders.is_empty() {
            return blend;
        }
        let names: Vec<&str> = parts
            .iter()
            .chain(&binders)
            .map(|f| self.larder.food(*f).name.as_str())
            .collect();
        let holds = listed(&names);
        let other = if parts.is_empty() {
            Some(blend)
        } else {
            self.nearest(blend, blends)
        };
        let found = match other {
            Some(b) if self.barred(&b.binders).is_empty() => Some(b),
            _ => made
                .get_or_init(|| match other {
                    Some(b) => Some(self.stripped(b)),
                    None => self.formulated(blend),
                })
                .as_ref(),
        };
        let left_out = self.matters(blend);
        let rule = match (found, other) {
            (None, _) => format!(
                "it holds {holds}, and no flours of the larder make one without {}: it stays",
                listed(&left_out)
            ),
            (_, None) => format!(
                "it holds {holds}: formulated from the usual flours as near to it as can be, without {}",
                listed(&left_out)
            ),
            (_, Some(_)) if parts.is_empty() => {
                format!("it holds {holds}, which is left out; the flours stay")
            }
            (_, Some(_)) => format!(
                "it holds {holds}: the blend nearest to it without {}",
                listed(&left_out)
            ),
        };
        let to = found.unwrap_or(blend).name.to_string();
        self.change(
            "blend",
            blend.name.to_string(),
            to,
            None,
            &rule,
            "make-up of flours: SR28 and the larder; nearness: published blends",
        );
        found.unwrap_or(blend)
    }

    /// Parts that hold, or may hold, what is left out.
    fn barred(&self, parts: &[(FoodId, f64)]) -> Vec<FoodId> {
        let bad = |f: FoodId| {
            let mut all = self
                .left_out
                .iter()
                .map(|w: &LeftOut| w.in_food(f, self.larder));
            all.any(|h| h != Holds::No)
        };
        parts.iter().map(|p| p.0).filter(|f| bad(*f)).collect()
    }

    /// What is left out and in the blend.
    fn matters(&self, blend: &Blend) -> Vec<&'static str> {
        let in_it = |w: &&LeftOut| {
            let mut foods = blend.parts.iter().chain(&blend.binders);
            foods.any(|(f, _)| w.in_food(*f, self.larder) != Holds::No)
        };
        self.left_out
            .iter()
            .filter(in_it)
            .map(|w| w.plain())
            .collect()
    }

    fn nearest(&self, like: &Blend, blends: &'a [Blend]) -> Option<&'a Blend> {
        let aim = Target::near(MakeUp::of(&like.parts, self.larder).ok()?);
        let allergens = |b: &Blend| -> Vec<Allergen> {
            let foods = b.parts.iter().map(|p| self.larder.food(p.0));
            foods
                .flat_map(|f| f.allergens.iter().map(|a| a.0))
                .collect()
        };
        let had = allergens(like);
        blends
            .iter()
            .filter(|b| self.barred(&b.parts).is_empty())
            .filter(|b| b.parts.len() > 1 || like.parts.len() == 1)
            .filter(|b| allergens(b).iter().all(|a| had.contains(a)))
            .filter_map(|b| Some((aim.distance(&MakeUp::of(&b.parts, self.larder).ok()?), b)))
            .filter(|(d, _)| *d <= NEAR)
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|x| x.1)
    }

    /// The same without binders that are left out.
    fn stripped(&self, blend: &Blend) -> Blend {
        let bad = self.barred(&blend.binders);
        let gone: Vec<&str> = bad
            .iter()
            .map(|f| self.larder.food(*f).name.as_str())
            .collect();
        // 'bread blend with psyllium' without it.
        let name = blend.name.split(" with ").next().unwrap_or_default();
        Blend {
            name: format!("{name} without {}", listed(&gone)).into(),
            binders: blend
                .binders
                .iter()
                .filter(|b| !bad.contains(&b.0))
                .copied()
                .collect(),
            ..blend.clone()
        }
    }

    fn formulated(&self, like: &Blend) -> Option<Blend> {
        let ask = Ask {
            left_out: self.left_out.to_vec(),
            count: 1,
            ..Ask::new(Aim::Blend(like.parts.clone()), self.larder)
        };
        let best = formulate(&ask, self.larder)
            .ok()?
            .blends
            .into_iter()
            .next()?;
        let left_out = self.matters(like);
        Some(Blend {
            key: "made".into(),
            name: format!("blend made without {}", listed(&left_out)).into(),
            parts: best.parts,
            binders: Vec::new(),
            styles: Vec::new(),
            why: format!("as near to the {} as can be", like.name).into(),
            cup_grams: None,
            own: false,
        })
    }
}
