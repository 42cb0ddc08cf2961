//! What a blend is made of, and what is wanted of it.

use crate::data::rows;
use crate::rework::style::Style;
use larder::{FoodId, Larder};
use std::sync::LazyLock;

/// What a blend is measured by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Property {
    /// Protein, g in 100 g.
    Protein,
    /// Starch, that inside flours too, g in 100 g.
    Starch,
    /// Fibre, g in 100 g.
    Fibre,
    /// Fat, g in 100 g.
    Fat,
    /// Water taken up at dough consistency, g by 100 g.
    Absorption,
    /// Strength of flavour, 0 (neutral) to 3 (strong).
    Flavour,
}

impl Property {
    /// Every property, in order.
    pub const ALL: [Self; 6] = [
        Self::Protein,
        Self::Starch,
        Self::Fibre,
        Self::Fat,
        Self::Absorption,
        Self::Flavour,
    ];

    /// Its word, on screens and in tables.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Protein => "protein",
            Self::Starch => "starch",
            Self::Fibre => "fibre",
            Self::Fat => "fat",
            Self::Absorption => "absorption",
            Self::Flavour => "flavour",
        }
    }

    /// Its unit, on screens.
    #[must_use]
    pub fn unit(self) -> &'static str {
        match self {
            Self::Absorption => "g water to 100 g",
            Self::Flavour => "of 3",
            _ => "g in 100 g",
        }
    }

    /// What a food has of it; `None` where that is not known.
    #[must_use]
    pub fn of(self, food: FoodId, larder: &Larder) -> Option<f64> {
        let c = larder.composition(food);
        let takes = larder.absorption(food);
        match self {
            Self::Protein => c.protein,
            Self::Starch => c.starch,
            Self::Fibre => c.fibre,
            Self::Fat => c.fat,
            Self::Absorption => takes.map(|a| 100.0 * a.water.likely().get()),
            Self::Flavour => takes.map(|a| f64::from(a.flavour)),
        }
    }
}

/// What a blend is made of, by [`Property::ALL`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MakeUp(pub [f64; 6]);

impl MakeUp {
    /// The weighted mean of parts: foods and percent, which need not add up to 100.
    ///
    /// # Errors
    /// The first part of which something is not known, and what.
    ///
    /// # Example
    /// ```
    /// use recipe::formulate::{MakeUp, Property};
    /// let larder = larder::Larder::built_in()?;
    /// let part = |key: &str, percent| (larder.by_key(key).expect("a flour"), percent);
    /// let blend = [
    ///     part("white_rice_flour", 40.0),
    ///     part("tapioca_starch", 30.0),
    ///     part("sorghum_flour", 30.0),
    /// ];
    /// // USDA SR28 20061, 20068, 20648: 4.966 g protein in 100 g.
    /// let protein = MakeUp::of(&blend, &larder).expect("known").get(Property::Protein);
    /// assert!((protein - 4.966).abs() < 1e-3);
    /// # Ok::<(), larder::TableError>(())
    /// ```
    pub fn of(parts: &[(FoodId, f64)], larder: &Larder) -> Result<Self, (FoodId, Property)> {
        let total: f64 = parts.iter().map(|p| p.1).sum();
        let mut out = [0.0; 6];
        for (value, property) in out.iter_mut().zip(Property::ALL) {
            for (food, percent) in parts {
                let has = property.of(*food, larder).ok_or((*food, property))?;
                *value += has * percent / total;
            }
        }
        Ok(Self(out))
    }

    /// One property.
    #[must_use]
    pub fn get(&self, property: Property) -> f64 {
        self.0[property as usize]
    }
}

/// What is wanted of a blend, and how grave a miss is.
#[derive(Debug, Clone, PartialEq)]
pub struct Target {
    /// What it should have.
    pub middle: MakeUp,
    /// What a usual blend of published formulas misses that by, property by property.
    pub spread: MakeUp,
    /// How many published blends stand behind the middle; 0 where it is borrowed or is one of
    /// the baker's own.
    pub formulas: usize,
}

impl Target {
    /// The middle and spread of the blends in published gluten-free formulas of a style.
    ///
    /// # Source
    /// `cargo run -p evidence -- makeup --write`, from 129 published formulas.
    #[must_use]
    pub fn of_style(style: Style) -> Self {
        named(style.key())
    }

    /// A make-up to come near to, with the spread that all styles share.
    #[must_use]
    pub fn near(middle: MakeUp) -> Self {
        Self {
            middle,
            formulas: 0,
            ..named("all")
        }
    }

    /// How far a make-up is: the root of the mean squared miss, in spreads. 1 is as far as a
    /// usual published blend of the style is from its middle.
    #[must_use]
    pub fn distance(&self, has: &MakeUp) -> f64 {
        let missed = (0..6).map(|i| (has.0[i] - self.middle.0[i]) / self.spread.0[i]);
        (missed.map(|m| m * m).sum::<f64>() / 6.0).sqrt()
    }
}

static TARGETS: LazyLock<Vec<(&str, Target)>> = LazyLock::new(|| {
    let mut out: Vec<(&str, Target)> = Vec::new();
    for row in rows(include_str!("../../data/blend_targets.tsv")) {
        let style = row.get("style");
        if out.last().is_none_or(|(s, _)| *s != style) {
            out.push((
                style,
                Target {
                    middle: MakeUp([0.0; 6]),
                    spread: MakeUp([1.0; 6]),
                    formulas: row.number("formulas") as usize,
                },
            ));
        }
        let at = Property::ALL
            .iter()
            .position(|p| p.word() == row.get("property"));
        if let (Some((_, target)), Some(at)) = (out.last_mut(), at) {
            target.middle.0[at] = row.number("middle");
            target.spread.0[at] = row.number("spread");
        }
    }
    out
});

fn named(key: &str) -> Target {
    let found = TARGETS.iter().find(|(style, _)| *style == key);
    // Every style has its rows: a test sees to it.
    found.or(TARGETS.first()).map_or(
        Target {
            middle: MakeUp([0.0; 6]),
            spread: MakeUp([1.0; 6]),
            formulas: 0,
        },
        |(_, target)| target.clone(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_style_has_a_target_that_a_flour_phase_can_have() {
        // What no ratios tell has no formulas: it aims at the make-up of all.
        let doughs = Style::all().filter(|s| s.range("hydration_eff").is_some());
        for style in doughs {
            let target = Target::of_style(style);
            assert!(
                TARGETS.iter().any(|(s, _)| *s == style.key()),
                "{}",
                style.key()
            );
            let grams: f64 = target.middle.0[..4].iter().sum();
            assert!((40.0..100.0).contains(&grams), "{}: {grams}", style.key());
            assert!(target.spread.0.iter().all(|s| *s > 0.0));
        }
        assert_ne!(Target::of_style(Style::all().next().unwrap()), named("all"));
    }
}
