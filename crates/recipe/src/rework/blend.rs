//! House blends: what stands in for wheat flour, weight for weight.

use crate::data::rows;
use crate::rework::style::Style;
use larder::{FoodId, Larder, State};
use quantity::{Mass, Ratio, Spread};

/// A blend of flours and starches.
#[derive(Debug, Clone, PartialEq)]
pub struct Blend {
    /// Its key.
    pub key: &'static str,
    /// Its name on screens.
    pub name: &'static str,
    /// Flours and starches, percent of the flour phase, adding up to 100.
    pub parts: Vec<(FoodId, f64)>,
    /// Binders already in it, percent of the flour phase on top.
    pub binders: Vec<(FoodId, f64)>,
    /// Styles it is chosen for first.
    pub styles: Vec<Style>,
    /// Why it is made so.
    pub why: &'static str,
}

/// The house blends.
///
/// # Returns
/// All blends of the table whose parts the larder knows.
#[must_use]
pub fn house(larder: &Larder) -> Vec<Blend> {
    rows(include_str!("../../data/blends.tsv"))
        .map(|r| Blend {
            key: r.get("key"),
            name: r.get("name"),
            parts: shares(larder, r.get("parts")),
            binders: shares(larder, r.get("binder")),
            styles: r
                .get("styles")
                .split(' ')
                .filter_map(Style::from_key)
                .collect(),
            why: r.get("why"),
        })
        .collect()
}

fn shares(larder: &Larder, cell: &str) -> Vec<(FoodId, f64)> {
    cell.split(',')
        .filter_map(|part| {
            let (key, share) = part.trim().rsplit_once(' ')?;
            Some((larder.by_key(key)?, share.parse().ok()?))
        })
        .collect()
}

impl Blend {
    /// The blend chosen first for a style.
    #[must_use]
    pub fn for_style(blends: &[Self], style: Style) -> Option<&Self> {
        blends
            .iter()
            .find(|b| b.styles.contains(&style))
            .or_else(|| blends.first())
    }

    /// Whether it holds rice, oats and the like, by a word in its parts' keys.
    #[must_use]
    pub fn holds(&self, larder: &Larder, word: &str) -> bool {
        self.parts
            .iter()
            .chain(&self.binders)
            .any(|(f, _)| larder.food(*f).key.contains(word))
    }

    /// A US cup of the blend, worked out from its parts: volumes add, so the densities' harmonic
    /// mean by weight. Calculated, not measured: a measured cup replaces it.
    ///
    /// # Returns
    /// Grams, low–likely–high; `None` where a part has no cup weight.
    #[must_use]
    pub fn cup(&self, larder: &Larder) -> Option<Spread<Mass>> {
        let total: f64 = self.parts.iter().chain(&self.binders).map(|(_, s)| s).sum();
        let mut volume = [0.0; 3];
        for (food, share) in self.parts.iter().chain(&self.binders) {
            let cup = larder.measure(*food, "cup", State::Usual)?.grams;
            for (v, g) in volume.iter_mut().zip([cup.low(), cup.likely(), cup.high()]) {
                *v += share / g.as_grams();
            }
        }
        // Not every part is packed loosest at once: half the way to the worst case.
        let likely = total / volume[1];
        let half = |v: f64| likely + 0.5 * (total / v - likely);
        Some(Spread::new(
            Mass::grams(half(volume[0])),
            Mass::grams(likely),
            Mass::grams(half(volume[2])),
        ))
    }

    /// Share of starch ingredients in the flour phase, percent. Starch inside flours not counted.
    #[must_use]
    pub fn starch_share(&self, larder: &Larder) -> f64 {
        self.parts
            .iter()
            .filter(|(f, _)| larder.food(*f).function() == larder::Function::Starch)
            .map(|(_, s)| s)
            .sum()
    }

    /// A part of the composition, g per 100 g of blend flour, by weighted mean.
    #[must_use]
    pub fn mean(&self, larder: &Larder, of: impl Fn(&larder::Composition) -> Option<f64>) -> f64 {
        self.parts
            .iter()
            .map(|(f, s)| s / 100.0 * of(larder.composition(*f)).unwrap_or(0.0))
            .sum()
    }

    /// Water taken up at dough consistency, g per g, binders left out.
    #[must_use]
    pub fn absorption(&self, larder: &Larder) -> Spread<Ratio> {
        Spread::sum_independent(
            self.parts
                .iter()
                .filter_map(|(f, s)| Some(larder.absorption(*f)?.water.scaled(s / 100.0))),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn larder() -> Larder {
        Larder::built_in().expect("the built-in tables")
    }

    #[test]
    fn blends_are_whole_and_free_of_what_they_say() {
        let larder = larder();
        let blends = house(&larder);
        assert!(blends.len() >= 6);
        for b in &blends {
            let sum: f64 = b.parts.iter().map(|p| p.1).sum();
            assert!((sum - 100.0).abs() < 1e-9, "{} adds up to {sum}", b.key);
            assert!(
                b.parts
                    .iter()
                    .all(|(f, _)| larder.food(*f).gluten != larder::Gluten::Contains)
            );
            assert!(b.cup(&larder).is_some(), "{} has no cup", b.key);
            assert!(!b.holds(&larder, "oat"), "{}", b.key);
        }
        let by = |k: &str| blends.iter().find(|b| b.key == k).expect("a house blend");
        assert!(!by("rice_free").holds(&larder, "rice"));
        for gum in ["xanthan", "guar", "gum"] {
            assert!(!by("gum_free").holds(&larder, gum));
        }
        for style in Style::all() {
            assert!(
                Blend::for_style(&blends, style).is_some_and(|b| b.styles.contains(&style)),
                "{}",
                style.key()
            );
        }
    }

    /// Weighted mean of protein: 40 % white rice flour (5.95), 30 % tapioca (0.19) and 30 %
    /// sorghum (8.43) hold 4.966 g per 100 g. USDA SR28 20061, 20068, 20648.
    #[test]
    fn protein_is_the_weighted_mean() {
        let larder = larder();
        let blend = Blend {
            key: "x",
            name: "x",
            parts: shares(
                &larder,
                "white_rice_flour 40, tapioca_starch 30, sorghum_flour 30",
            ),
            binders: Vec::new(),
            styles: Vec::new(),
            why: "",
        };
        assert!((blend.mean(&larder, |c| c.protein) - 4.966).abs() < 1e-3);
    }

    /// A cup of equal weights of two flours of 100 and 150 g a cup holds 120 g: volumes add
    /// (harmonic mean), weights per cup do not.
    #[test]
    fn volumes_add() {
        let larder = larder();
        let blend = &house(&larder)[0];
        let cup = blend.cup(&larder).expect("a cup").likely().as_grams();
        let by_hand: f64 = blend
            .parts
            .iter()
            .map(|(f, s)| {
                s / 100.0
                    / larder
                        .measure(*f, "cup", State::Usual)
                        .expect("a cup")
                        .grams
                        .likely()
                        .as_grams()
            })
            .sum();
        assert!((cup - 1.0 / by_hand).abs() < 1e-9);
        // Common practice, no source: a gluten-free plain blend weighs 140 g a cup, within 7 %.
        assert!((cup / 140.0 - 1.0).abs() < 0.07, "{cup}");
    }
}
