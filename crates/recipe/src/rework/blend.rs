//! House blends: what stands in for wheat flour, weight for weight.

mod label;
mod weighed;

pub use label::Labels;
pub use weighed::Portion;

use crate::data::rows;
use crate::rework::style::Style;
use larder::{FoodId, Function, Gluten, Larder, State};
use quantity::{Mass, Ratio, Spread};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::error::Error;
use std::fmt;

/// How closely a cup weighed in one kitchen comes out again, as a share: common practice, no
/// source.
const CUP_AGAIN: f64 = 0.02;
/// What shares may miss 100 % by.
const SHARES: f64 = 0.5;
/// What a cup of flour can weigh, g.
const CUPS: std::ops::RangeInclusive<f64> = 60.0..=250.0;

/// A blend of flours and starches.
#[derive(Debug, Clone, PartialEq)]
pub struct Blend {
    /// Its key.
    pub key: Cow<'static, str>,
    /// Its name on screens.
    pub name: Cow<'static, str>,
    /// Flours and starches, percent of the flour phase, adding up to 100.
    pub parts: Vec<(FoodId, f64)>,
    /// Binders already in it, percent of the flour phase on top.
    pub binders: Vec<(FoodId, f64)>,
    /// Styles it is chosen for first.
    pub styles: Vec<Style>,
    /// Why it is made so.
    pub why: Cow<'static, str>,
    /// A US cup of it, weighed.
    pub cup_grams: Option<Mass>,
    /// The kitchen's own, not a house blend.
    pub own: bool,
}

/// The house blends.
///
/// # Returns
/// All blends of the table whose parts the larder knows.
#[must_use]
pub fn house(larder: &Larder) -> Vec<Blend> {
    rows(include_str!("../../data/blends.tsv"))
        .map(|r| Blend {
            key: r.get("key").into(),
            name: called(larder, r.get("name")),
            parts: shares(larder, r.get("parts")),
            binders: shares(larder, r.get("binder")),
            styles: r
                .get("styles")
                .split(' ')
                .filter_map(Style::from_key)
                .collect(),
            why: called(larder, r.get("why")),
            cup_grams: None,
            own: false,
        })
        .collect()
}

/// Words of the table with foods called as the larder calls them.
fn called(larder: &Larder, words: &'static str) -> Cow<'static, str> {
    let food = words.split_once('{').and_then(|(before, rest)| {
        let (key, after) = rest.split_once('}')?;
        let name = &larder.food(larder.by_key(key)?).name;
        Some(format!("{before}{name}{after}"))
    });
    food.map_or(Cow::Borrowed(words), Cow::Owned)
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

    /// A US cup of the blend: as measured, give or take 2 %; else worked out from its parts:
    /// volumes add, so the densities' harmonic mean by weight.
    ///
    /// # Returns
    /// Grams, low–likely–high; `None` where a part has no cup weight.
    #[must_use]
    pub fn cup(&self, larder: &Larder) -> Option<Spread<Mass>> {
        if let Some(grams) = self.cup_grams {
            return Some(Spread::within(grams, CUP_AGAIN));
        }
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

    /// What its cup rests on, in words.
    #[must_use]
    pub fn cup_basis(&self) -> &'static str {
        if self.cup_grams.is_some() {
            "measured in this kitchen"
        } else {
            "calculated from its parts, not measured"
        }
    }

    /// Share of starch ingredients in the flour phase, percent. Starch inside flours not counted.
    #[must_use]
    pub fn starch_share(&self, larder: &Larder) -> f64 {
        self.parts
            .iter()
            .filter(|(f, _)| larder.food(*f).function() == Function::Starch)
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

/// A blend of the kitchen's own, as it is saved.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct OwnBlend {
    /// Its key; begins with `own_`.
    pub key: String,
    /// Its name on screens.
    pub name: String,
    /// Flours and starches by larder key, percent of the flour phase, adding up to 100.
    pub parts: Vec<(String, f64)>,
    /// Binders already in it by larder key, percent of the flour phase on top.
    pub binders: Vec<(String, f64)>,
    /// A US cup of it, weighed, g.
    pub cup_grams: Option<f64>,
    /// Keys of the styles it is chosen for first.
    pub styles: Vec<String>,
    /// Why it is made so.
    pub note: String,
}

/// Why an own blend cannot be used.
#[derive(Debug, Clone, PartialEq)]
pub enum BlendError {
    /// The key does not begin with `own_`, or the name is empty.
    Name {
        /// The key.
        key: String,
        /// The name.
        name: String,
    },
    /// No food has the key.
    Unknown {
        /// What was given.
        part: String,
        /// The key and name of the nearest food.
        near: Option<(String, String)>,
    },
    /// No flour or starch.
    Empty,
    /// A share is below 0, or no number.
    Share {
        /// The food's name.
        part: String,
        /// The share.
        percent: f64,
    },
    /// The shares do not add up to 100.
    Sum {
        /// What they add up to.
        percent: f64,
    },
    /// A part contains gluten.
    Gluten {
        /// The food's name.
        part: String,
    },
    /// A part is neither flour nor starch.
    NoFlour {
        /// The food's name.
        part: String,
        /// A flour or starch of the same plant, by name.
        near: Option<String>,
    },
    /// A binder is none.
    NoBinder {
        /// The food's name.
        part: String,
    },
    /// The cup weighs what no flour does.
    Cup {
        /// The weight, g.
        grams: f64,
    },
    /// No style has the key.
    Style {
        /// What was given.
        style: String,
    },
}

impl fmt::Display for BlendError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Name { key, name } => write!(
                f,
                "a blend of your own needs a name and a key that begins with 'own_', found '{name}' and '{key}'"
            ),
            Self::Unknown { part, near } => {
                write!(f, "no flour of the larder is called '{part}'")?;
                match near {
                    Some((key, name)) => write!(f, ": did you mean {name} ('{key}')?"),
                    None => write!(f, ": give the key of a flour, a starch or a binder"),
                }
            }
            Self::Empty => write!(
                f,
                "the blend has no parts: give at least one flour or starch"
            ),
            Self::Share { part, percent } => write!(
                f,
                "the share of {part} is {percent} %: give a number from 0 to 100"
            ),
            Self::Sum { percent } => write!(
                f,
                "the shares add up to {percent:.1} %: flours and starches make 100, binders come on top"
            ),
            Self::Gluten { part } => write!(
                f,
                "{part} contains gluten: every part must be a flour or starch without it"
            ),
            Self::NoFlour {
                part,
                near: Some(near),
            } => write!(
                f,
                "{part} is neither flour nor starch: for its flour or starch write '{near}'"
            ),
            Self::NoFlour { part, near: None } => write!(
                f,
                "{part} is neither flour nor starch: parts are flours and starches, binders are given on their own"
            ),
            Self::NoBinder { part } => write!(
                f,
                "{part} is no binder: give psyllium, a gum or the like, and flours among the parts"
            ),
            Self::Cup { grams } => write!(
                f,
                "a cup of {grams} g cannot be: a US cup of flour weighs {} to {} g",
                CUPS.start(),
                CUPS.end()
            ),
            Self::Style { style } => {
                let keys: Vec<&str> = Style::all().map(Style::key).collect();
                write!(
                    f,
                    "no style is called '{style}': the styles are {}",
                    keys.join(", ")
                )
            }
        }
    }
}

impl Error for BlendError {}

impl OwnBlend {
    /// The blend, its shares brought to 100 where they miss it by no more than 0.5.
    ///
    /// # Errors
    /// [`BlendError`]: an unknown food, one with gluten, a share, sum or cup that cannot be.
    pub fn blend(&self, larder: &Larder) -> Result<Blend, BlendError> {
        if !self.key.starts_with("own_") || self.name.trim().is_empty() {
            return Err(BlendError::Name {
                key: self.key.clone(),
                name: self.name.clone(),
            });
        }
        let mut parts = known(larder, &self.parts)?;
        let binders = known(larder, &self.binders)?;
        let name = |f: FoodId| larder.food(f).name.clone();
        for &(f, _) in parts.iter().chain(&binders) {
            if larder.food(f).gluten == Gluten::Contains {
                return Err(BlendError::Gluten { part: name(f) });
            }
        }
        if let Some(&(f, _)) = parts
            .iter()
            .find(|(f, _)| !larder.food(*f).is_flour_phase())
        {
            let part = name(f);
            let plant = part.split(' ').next().unwrap_or_default();
            let called = [" starch", " flour"].map(|kind| format!("{plant}{kind}"));
            let of_plant = |f: &FoodId| {
                let food = larder.food(*f);
                called.contains(&food.name)
                    && food.is_flour_phase()
                    && food.gluten != Gluten::Contains
            };
            let near = larder.ids().find(of_plant).map(name);
            return Err(BlendError::NoFlour { part, near });
        }
        let binds = |f: FoodId| larder.food(f).function() == Function::Binder;
        if let Some(&(f, _)) = binders.iter().find(|(f, _)| !binds(*f)) {
            return Err(BlendError::NoBinder { part: name(f) });
        }
        parts.retain(|(_, share)| *share > 0.0);
        if parts.is_empty() {
            return Err(BlendError::Empty);
        }
        let percent: f64 = parts.iter().map(|p| p.1).sum();
        if (percent - 100.0).abs() > SHARES + 1e-9 {
            return Err(BlendError::Sum { percent });
        }
        parts.iter_mut().for_each(|p| p.1 *= 100.0 / percent);
        if let Some(grams) = self.cup_grams.filter(|g| !CUPS.contains(g)) {
            return Err(BlendError::Cup { grams });
        }
        let styles = self
            .styles
            .iter()
            .map(|s| Style::from_key(s).ok_or_else(|| BlendError::Style { style: s.clone() }))
            .collect::<Result<_, _>>()?;
        Ok(Blend {
            key: self.key.clone().into(),
            name: self.name.trim().to_owned().into(),
            parts,
            binders: binders.into_iter().filter(|b| b.1 > 0.0).collect(),
            styles,
            why: self.note.clone().into(),
            cup_grams: self.cup_grams.map(Mass::grams),
            own: true,
        })
    }
}

/// The foods of larder keys, one of each, with shares that can be.
fn known(larder: &Larder, given: &[(String, f64)]) -> Result<Vec<(FoodId, f64)>, BlendError> {
    let mut out: Vec<(FoodId, f64)> = Vec::new();
    for (key, percent) in given {
        let food = larder.by_key(key).ok_or_else(|| BlendError::Unknown {
            part: key.clone(),
            near: near(larder, key),
        })?;
        if !(0.0..=100.0 + SHARES).contains(percent) {
            return Err(BlendError::Share {
                part: larder.food(food).name.clone(),
                percent: *percent,
            });
        }
        match out.iter_mut().find(|p| p.0 == food) {
            Some(part) => part.1 += percent,
            None => out.push((food, *percent)),
        }
    }
    Ok(out)
}

/// The nearest flour, starch or binder to a word: the one it names, else that with most of its
/// pairs of letters (Dice's coefficient).
pub(crate) fn near(larder: &Larder, key: &str) -> Option<(String, String)> {
    let fits = |f: FoodId| {
        let food = larder.food(f);
        food.gluten != Gluten::Contains
            && (food.is_flour_phase() || food.function() == Function::Binder)
    };
    let words = key.replace('_', " ").to_lowercase();
    let named = larder
        .find(&words, larder.locale())
        .map(|m| m.food)
        .filter(|f| fits(*f));
    let food = named.or_else(|| {
        larder
            .ids()
            .filter(|f| fits(*f))
            .map(|f| {
                let food = larder.food(f);
                let by_key = alike(&words, &food.key.replace('_', " "));
                (by_key.max(alike(&words, &food.name.to_lowercase())), f)
            })
            .filter(|(score, _)| *score >= 0.5)
            .max_by(|a, b| a.0.total_cmp(&b.0))
            .map(|x| x.1)
    })?;
    let food = larder.food(food);
    Some((food.key.clone(), food.name.clone()))
}

/// How alike two words are, 0 to 1.
fn alike(a: &str, b: &str) -> f64 {
    let pairs = |s: &str| -> Vec<(char, char)> { s.chars().zip(s.chars().skip(1)).collect() };
    let (a, mut b) = (pairs(a), pairs(b));
    let all = a.len() + b.len();
    let mut same = 0;
    for pair in a {
        if let Some(at) = b.iter().position(|p| *p == pair) {
            b.swap_remove(at);
            same += 1;
        }
    }
    if all == 0 {
        0.0
    } else {
        2.0 * f64::from(same) / all as f64
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
                    .all(|(f, _)| larder.food(*f).gluten != Gluten::Contains)
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
            key: "x".into(),
            name: "x".into(),
            parts: shares(
                &larder,
                "white_rice_flour 40, tapioca_starch 30, sorghum_flour 30",
            ),
            binders: Vec::new(),
            styles: Vec::new(),
            why: "".into(),
            cup_grams: None,
            own: false,
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

    fn own(parts: &[(&str, f64)], binders: &[(&str, f64)]) -> OwnBlend {
        let list = |of: &[(&str, f64)]| of.iter().map(|(k, p)| ((*k).to_owned(), *p)).collect();
        OwnBlend {
            key: "own_shop".to_owned(),
            name: "shop blend".to_owned(),
            parts: list(parts),
            binders: list(binders),
            cup_grams: Some(132.0),
            styles: vec!["butter_cake".to_owned()],
            note: String::new(),
        }
    }

    #[test]
    fn an_own_blend_is_brought_to_100() {
        let larder = larder();
        let blend = own(
            &[("white_rice_flour", 66.9), ("tapioca_starch", 33.3)],
            &[("xanthan_gum", 0.8)],
        )
        .blend(&larder)
        .expect("a blend");
        let sum: f64 = blend.parts.iter().map(|p| p.1).sum();
        assert!((sum - 100.0).abs() < 1e-9, "{sum}");
        assert!(blend.own && blend.binders.len() == 1);
        let cup = blend.cup(&larder).expect("a cup");
        assert_eq!(cup.likely().as_grams(), 132.0);
        assert!(cup.relative_half_width() < 0.03);
        assert!(blend.cup_basis().starts_with("measured"));
    }

    #[test]
    fn what_is_wrong_with_an_own_blend_is_said() {
        let larder = larder();
        let said = |b: OwnBlend| {
            b.blend(&larder)
                .map_err(|e| e.to_string())
                .expect_err("refused")
        };
        let rice = ("white_rice_flour", 70.0);
        for (blend, words) in [
            (own(&[], &[]), "no parts"),
            (own(&[rice], &[]), "add up to 70.0 %"),
            (own(&[rice, ("tapioca_starch", -30.0)], &[]), "-30 %"),
            (own(&[rice, ("tapioca_starch", f64::NAN)], &[]), "NaN"),
            (
                own(&[rice, ("all_purpose_flour", 30.0)], &[]),
                "contains gluten",
            ),
            (
                own(&[rice, ("white_sugar", 30.0)], &[]),
                "neither flour nor starch: parts are",
            ),
            (
                own(&[rice, ("tapioca_pearls", 30.0)], &[]),
                "for its flour or starch write 'tapioca starch'",
            ),
            (
                own(&[rice, ("tapioca_starch", 30.0)], &[("potato_starch", 2.0)]),
                "no binder",
            ),
            (own(&[rice, ("tapioca_stach", 30.0)], &[]), "tapioca_starch"),
            (own(&[rice, ("qqqq", 30.0)], &[]), "give the key"),
            (
                OwnBlend {
                    cup_grams: Some(12.0),
                    ..own(&[("white_rice_flour", 100.0)], &[])
                },
                "60 to 250",
            ),
            (
                OwnBlend {
                    styles: vec!["x".to_owned()],
                    ..own(&[("white_rice_flour", 100.0)], &[])
                },
                "lean_bread",
            ),
            (
                OwnBlend {
                    key: "plain".to_owned(),
                    ..own(&[("white_rice_flour", 100.0)], &[])
                },
                "own_",
            ),
        ] {
            let error = said(blend);
            assert!(error.contains(words), "{error}");
        }
    }
}
