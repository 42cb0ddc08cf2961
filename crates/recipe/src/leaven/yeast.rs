//! Yeast: one kind for another, and what sugar and salt do to it.

use quantity::Mass;

/// Active dry yeast for one of fresh (a bakery text, as read in project rule R8.3).
pub(super) const ACTIVE_DRY: f64 = 0.40;
/// Instant yeast for one of fresh (the same).
pub(super) const INSTANT: f64 = 0.33;
/// Water of fresh yeast, g per g (USDA SR28 18374).
const WATER_FRESH: f64 = 0.69;
/// Water of dry yeast, g per g (USDA SR28 18375).
const WATER_DRY: f64 = 0.0508;

/// Sugar above this, percent of the flour, slows yeast (project rule R8.4, common practice).
pub const SUGAR_SLOWS: f64 = 15.0;
/// From this on, a sweet dough wants osmotolerant yeast: it is used at 20–50 % of sugar on flour
/// (handbook chapter on yeast, figures 7–9, read as an excerpt).
pub const SWEET_DOUGH: f64 = 20.0;
/// Salt above this, percent of the flour, slows yeast (common practice, no source).
pub const SALT_SLOWS: f64 = 2.0;

/// A kind of baker's yeast.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum YeastKind {
    /// Fresh, in a block.
    Fresh,
    /// Active dry: woken in warm water.
    ActiveDry,
    /// Instant: mixed in dry.
    Instant,
}

impl YeastKind {
    /// Every kind.
    pub const ALL: [Self; 3] = [Self::Fresh, Self::ActiveDry, Self::Instant];

    /// The kind of a larder key.
    #[must_use]
    pub fn of(key: &str) -> Option<Self> {
        match key {
            "fresh_yeast" => Some(Self::Fresh),
            "active_dry_yeast" => Some(Self::ActiveDry),
            "instant_yeast" | "osmotolerant_yeast" => Some(Self::Instant),
            _ => None,
        }
    }
    /// Its key in the larder.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Fresh => "fresh_yeast",
            Self::ActiveDry => "active_dry_yeast",
            Self::Instant => "instant_yeast",
        }
    }
    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Fresh => "fresh yeast",
            Self::ActiveDry => "active dry yeast",
            Self::Instant => "instant yeast",
        }
    }
    /// Grams of it that do the work of one gram of fresh yeast.
    fn per_fresh(self) -> f64 {
        match self {
            Self::Fresh => 1.0,
            Self::ActiveDry => ACTIVE_DRY,
            Self::Instant => INSTANT,
        }
    }
    fn water(self) -> f64 {
        if self == Self::Fresh {
            WATER_FRESH
        } else {
            WATER_DRY
        }
    }
}

/// One kind of yeast for another.
///
/// # Returns
/// Grams of the other kind, and grams of water to add beside it (below 0: to leave out) so that
/// the dough's water stays as it was.
///
/// # Source
/// fresh : active dry : instant = 1 : 0.40 : 0.33, a bakery text (project rule R8.3, seen); water
/// USDA SR28 18374 and 18375.
///
/// # Example
/// ```
/// use quantity::Mass;
/// use recipe::leaven::{YeastKind, convert};
/// let (instant, water) = convert(Mass::grams(30.0), YeastKind::Fresh, YeastKind::Instant);
/// assert!((instant.as_grams() - 9.9).abs() < 0.05);
/// assert!((water.as_grams() - 20.2).abs() < 0.05);
/// ```
#[must_use]
pub fn convert(grams: Mass, from: YeastKind, to: YeastKind) -> (Mass, Mass) {
    let other = grams.as_grams() / from.per_fresh() * to.per_fresh();
    let water = grams.as_grams() * from.water() - other * to.water();
    (Mass::grams(other), Mass::grams(water))
}

/// The most instant yeast for a dough, percent of the flour: 2.5 lean, 3.5 rich (project rule
/// R8.2, common practice).
#[must_use]
pub fn cap(rich: bool) -> f64 {
    if rich { 3.5 } else { 2.5 }
}

/// What slows the yeast of a dough.
#[derive(Debug, Clone, PartialEq)]
pub struct YeastCaution {
    /// `sugar`, `salt` or `yeast`.
    pub what: &'static str,
    /// The sentence for the baker.
    pub words: String,
    /// Where the limit comes from.
    pub source: &'static str,
}

/// Cautions for a yeast dough.
///
/// # Inputs
/// - `sugar`, `salt`, `instant`: percent of the flour phase; yeast as instant.
/// - `rich`: with sugar and fat above 20 % together.
///
/// # Returns
/// None where there is no yeast.
#[must_use]
pub fn cautions(sugar: f64, salt: f64, instant: f64, rich: bool) -> Vec<YeastCaution> {
    let mut all = Vec::new();
    if instant <= 0.0 {
        return all;
    }
    if sugar > SWEET_DOUGH {
        all.push(YeastCaution {
            what: "sugar",
            words: format!(
                "sugar is {} % of the flour: above {SWEET_DOUGH} % common yeast works slowly. Take osmotolerant yeast, or a quarter more yeast and a longer rise",
                shown(sugar, SWEET_DOUGH)
            ),
            source: "handbook chapter on yeast: osmotolerant yeast at 20–50 % of sugar; a quarter more: common practice, no source",
        });
    } else if sugar > SUGAR_SLOWS {
        all.push(YeastCaution {
            what: "sugar",
            words: format!(
                "sugar is {} % of the flour: above {SUGAR_SLOWS} % it slows yeast. Take a quarter more yeast or osmotolerant yeast, or give it longer",
                shown(sugar, SUGAR_SLOWS)
            ),
            source: "common practice, no source",
        });
    }
    if salt > SALT_SLOWS {
        all.push(YeastCaution {
            what: "salt",
            words: format!(
                "salt is {} % of the flour: above {SALT_SLOWS} % it slows yeast. Weigh it, and give the dough longer",
                shown(salt, SALT_SLOWS)
            ),
            source: "common practice, no source",
        });
    }
    let most = cap(rich);
    if instant > most + 0.05 {
        all.push(YeastCaution {
            what: "yeast",
            words: format!(
                "yeast is {instant:.1} % of the flour as instant: above {most} % it tastes of yeast and outruns the dough"
            ),
            source: "common practice, no source",
        });
    }
    all
}

/// A percentage above a limit, with as many decimals as it takes to read as above it.
fn shown(value: f64, limit: f64) -> String {
    (0..=2)
        .map(|d| format!("{value:.d$}"))
        .find(|s| s.parse::<f64>().is_ok_and(|v| v > limit))
        .unwrap_or_else(|| format!("a trace over {limit}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grams(fresh: f64, to: YeastKind) -> f64 {
        convert(Mass::grams(fresh), YeastKind::Fresh, to)
            .0
            .as_grams()
    }

    /// Check B12: fresh 10 / 20 / 50 g; factors of a bread textbook.
    #[test]
    fn b12_fresh_to_dry() {
        for (fresh, active, instant) in [(10.0, 4.0, 3.3), (20.0, 8.0, 6.6), (50.0, 20.0, 16.5)] {
            assert!((grams(fresh, YeastKind::ActiveDry) - active).abs() < 0.1);
            assert!((grams(fresh, YeastKind::Instant) - instant).abs() < 0.1);
        }
    }

    /// Check B13: 30 g of fresh yeast are 9.9 g of instant and 20.2 g of water.
    #[test]
    fn b13_the_water_comes_with_it() {
        let (dry, water) = convert(Mass::grams(30.0), YeastKind::Fresh, YeastKind::Instant);
        assert!((dry.as_grams() - 9.9).abs() < 0.1 && (water.as_grams() - 20.2).abs() < 0.1);
        let (back, less) = convert(dry, YeastKind::Instant, YeastKind::Fresh);
        assert!((back.as_grams() - 30.0).abs() < 1e-9);
        assert!((less.as_grams() + water.as_grams()).abs() < 1e-9);
    }

    /// Project rules R8.2 and R8.4.
    #[test]
    fn sugar_and_salt_slow_yeast() {
        let what = |sugar, salt, yeast, rich| -> Vec<&'static str> {
            let all = cautions(sugar, salt, yeast, rich);
            all.iter().map(|c| c.what).collect()
        };
        assert!(what(8.0, 1.8, 1.5, false).is_empty());
        assert_eq!(what(16.0, 1.8, 1.5, false), ["sugar"]);
        assert_eq!(what(24.0, 2.4, 1.5, true), ["sugar", "salt"]);
        assert_eq!(what(0.0, 1.8, 3.0, false), ["yeast"]);
        assert!(what(0.0, 1.8, 3.0, true).is_empty());
        assert!(what(60.0, 5.0, 0.0, true).is_empty());
    }
}
