//! What holds a dough or batter together: what is in it already, what is wanted, what is missing.
//!
//! Strengths are grams of xanthan that one gram stands for (`data/binders.tsv`). Nearly all are
//! common practice without a source, so every one has its low and high.

mod count;
mod words;

pub(super) use count::{Aim, GUM_BESIDE_PSYLLIUM, MOST_GUM, MUCH_PSYLLIUM, counted};
pub use words::does_gum_say;

use crate::data::rows;
use larder::{FoodId, Larder, Status};
use quantity::{Mass, Ratio, Spread};
use std::sync::LazyLock;

/// What kind of binder a food is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Xanthan, guar and other gums.
    Gum,
    /// Psyllium, whole or powder.
    Psyllium,
    /// HPMC, methylcellulose.
    Cellulose,
    /// Flax, chia.
    Seed,
    /// Flours cooked and dried.
    CookedStarch,
    /// Egg, fresh and dried.
    Egg,
    /// Milk solids without fat.
    Milk,
    /// A binder without a figure for its strength.
    Other,
    /// A bought mix whose label has to say whether gum is in it.
    Mix,
}

impl Kind {
    /// The word in the table and in JSON.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Gum => "gum",
            Self::Psyllium => "psyllium",
            Self::Cellulose => "cellulose",
            Self::Seed => "seed",
            Self::CookedStarch => "cooked starch",
            Self::Egg => "egg",
            Self::Milk => "milk",
            Self::Other => "other",
            Self::Mix => "mix",
        }
    }
    fn from_word(word: &str) -> Self {
        [
            Self::Gum,
            Self::Psyllium,
            Self::Cellulose,
            Self::Seed,
            Self::CookedStarch,
            Self::Egg,
            Self::Milk,
            Self::Mix,
        ]
        .into_iter()
        .find(|k| k.word() == word)
        .unwrap_or(Self::Other)
    }
}

/// A row of the table of binders.
#[derive(Debug, Clone, PartialEq)]
pub struct Binder {
    /// The larder's key; `milk_solids` for what milk brings.
    pub food: &'static str,
    /// What kind it is.
    pub kind: Kind,
    /// Grams of xanthan that one gram stands for; `None` where no figure was found.
    pub worth: Option<Spread<Ratio>>,
    /// Grams of water one gram takes up in dough.
    pub water: Option<Spread<Ratio>>,
    /// The most that is used, percent of the flour phase.
    pub cap: Option<f64>,
    /// How to wet it.
    pub hydrate: &'static str,
    /// Where the strength comes from.
    pub source: &'static str,
    /// What the strength rests on.
    pub status: Status,
    /// A remark.
    pub note: &'static str,
}

static BINDERS: LazyLock<Vec<Binder>> = LazyLock::new(|| {
    rows(include_str!("../../data/binders.tsv"))
        .map(|r| {
            let three = |low, likely, high| {
                let of = |c| Ratio::new(r.number(c));
                (!r.get(likely).is_empty()).then(|| Spread::new(of(low), of(likely), of(high)))
            };
            Binder {
                food: r.get("food"),
                kind: Kind::from_word(r.get("kind")),
                worth: three("worth_low", "worth", "worth_high"),
                water: three("water_low", "water", "water_high"),
                cap: r.get("cap").parse().ok(),
                hydrate: r.get("hydrate"),
                source: r.get("source"),
                status: match r.get("status") {
                    "seen" => Status::Seen,
                    "from memory" => Status::FromMemory,
                    _ => Status::CommonPractice,
                },
                note: r.get("note"),
            }
        })
        .collect()
});

/// The row of a food, by its key in the larder; `milk_solids` is a row too.
///
/// # Example
/// ```
/// use recipe::rework::binder::{Kind, binder};
/// let husk = binder("psyllium_husk").expect("a row");
/// assert_eq!(husk.kind, Kind::Psyllium);
/// assert!(binder("white_rice_flour").is_none());
/// ```
#[must_use]
pub fn binder(key: &str) -> Option<&'static Binder> {
    BINDERS.iter().find(|b| b.food == key)
}

/// Every row.
pub fn binders() -> impl Iterator<Item = &'static Binder> {
    BINDERS.iter()
}

/// How many published formulas of a style hold a binder.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Published {
    /// Formulas with a binder.
    pub with: usize,
    /// Formulas counted.
    pub of: usize,
}

/// How many published formulas of a style hold a binder; `None` where none is known.
///
/// # Source
/// Counted into `data/evidence.tsv` by `cargo run -p evidence -- report --write`.
#[must_use]
pub fn published(style: &str) -> Option<Published> {
    let style = crate::evidence::shipped()
        .styles
        .iter()
        .find(|s| s.style.key() == style)?;
    let (with, of) = (style.binder.with, style.binder.formulas);
    (of > 0).then_some(Published { with, of })
}

impl Published {
    /// Whether fewer than one in four has a binder.
    #[must_use]
    pub fn is_rare(self) -> bool {
        self.with * 4 < self.of
    }

    /// In words: `2 of 12 published formulas (muffin) have a binder`.
    #[must_use]
    pub fn words(self, style: &str) -> String {
        let (has, with) = match self.with {
            0 => ("has", "none".to_owned()),
            1 => ("has", "1".to_owned()),
            n => ("have", n.to_string()),
        };
        format!(
            "{with} of {} published formulas ({style}) {has} a binder",
            self.of
        )
    }
}

/// The food all strengths of a component are given in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lead {
    /// Xanthan gum.
    Xanthan,
    /// Psyllium husk powder.
    Psyllium,
}

impl Lead {
    /// The name on screens.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Xanthan => "xanthan",
            Self::Psyllium => "psyllium",
        }
    }
    /// Grams of it for one gram of xanthan.
    #[must_use]
    pub fn for_xanthan(self) -> f64 {
        match self {
            Self::Xanthan => 1.0,
            Self::Psyllium => super::pins::XANTHAN_IN_PSYLLIUM,
        }
    }
}

/// Where a binder comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum From {
    /// It stands in the recipe.
    Recipe,
    /// The rework adds it, or the blend brings it.
    Added,
}

/// What a bought mix holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InMix {
    /// Not known: its label has to be read.
    Unknown,
    /// Gum, says the line.
    Gum,
    /// None, says the line.
    None,
}

/// What one food gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Gives {
    /// Its name.
    pub name: String,
    /// The food; `None` for milk solids.
    pub food: Option<FoodId>,
    /// What kind of binder it is.
    pub kind: Kind,
    /// Where it comes from.
    pub from: From,
    /// How much of it there is, percent of the flour phase.
    pub percent: f64,
    /// What it is worth, percent of the flour phase in the leading binder; `None` without a
    /// figure.
    pub worth: Option<Spread<Ratio>>,
    /// As much of that as is counted.
    pub counted: Spread<Ratio>,
    /// Water it takes up.
    pub water: Option<Spread<Mass>>,
    /// Of a bought mix: whether gum is in it.
    pub mix: Option<InMix>,
    /// The reworked line of a bought mix.
    pub line: Option<usize>,
    /// Where the strength comes from, with its status.
    pub source: String,
}

/// What holds a component together.
#[derive(Debug, Clone, PartialEq)]
pub struct Binding {
    /// What all figures are given in.
    pub lead: Lead,
    /// What each food gives, the recipe's own first.
    pub gives: Vec<Gives>,
    /// All that is counted, percent of the flour phase.
    pub sum: Spread<Ratio>,
    /// The style's range, percent of the flour phase.
    pub range: Spread<Ratio>,
    /// Where the range comes from.
    pub range_source: String,
    /// What is aimed at.
    pub wanted: f64,
    /// What is missing of it after the rework.
    pub missing: f64,
    /// Whether that is too little to weigh, and none is added.
    pub is_slight: bool,
    /// How many published formulas of the style hold a binder.
    pub published: Option<Published>,
}

impl Binding {
    /// The bought mix whose label has to be read next: its place in [`Binding::gives`].
    #[must_use]
    pub fn asks(&self) -> Option<&Gives> {
        self.gives.iter().find(|g| g.mix == Some(InMix::Unknown))
    }

    /// Water that psyllium, gums, seeds and the like take up.
    #[must_use]
    pub fn water(&self) -> Option<Spread<Mass>> {
        let all: Vec<_> = self.gives.iter().filter_map(|g| g.water).collect();
        (!all.is_empty()).then(|| Spread::sum_independent(all))
    }
}

/// The row of a food, where it has one.
pub(super) fn row(food: FoodId, larder: &Larder) -> Option<&'static Binder> {
    binder(&larder.food(food).key)
}

#[cfg(test)]
mod tests;
