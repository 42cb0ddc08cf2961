//! Which law names which allergen, and how.
//!
//! One set of atomic tags per food; each regime's wording is derived from it.
//!
//! # Source
//! US: FD&C Act 201(qq), FASTER Act 2021, FDA allergen guidance edition 5 (January 2025; seen).
//! EU and UK: Regulation 1169/2011 Annex II (seen). Canada: FDR B.01.010.1 (seen).
//! Australia and New Zealand: Standard 1.2.3, Schedule 9 (seen).

use crate::food::{Allergen, words};
use quantity::Locale;

words! {
    /// A body of label law.
    Regime { Us = "us", Eu = "eu", Ca = "ca", Anz = "anz" }
}

impl Regime {
    /// The law of the country whose measures a text is in. Metric ones are of many countries:
    /// the EU's, as the nearest to a common one.
    #[must_use]
    pub fn usual(locale: Locale) -> Self {
        match locale {
            Locale::Us => Self::Us,
            Locale::Uk | Locale::Metric => Self::Eu,
            Locale::Au => Self::Anz,
        }
    }
    /// What another law wants named and this one does not: a label that follows this one says nothing of it.
    #[must_use]
    pub fn leaves_out(self, other: Self) -> Vec<Allergen> {
        let all = Allergen::ALL.iter().copied();
        all.filter(|a| declared(*a, other).is_some() && declared(*a, self).is_none())
            .collect()
    }
    /// The name on screens.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Us => "United States",
            Self::Eu => "EU and UK",
            Self::Ca => "Canada",
            Self::Anz => "Australia and New Zealand",
        }
    }
}

/// The word a regime declares an allergen by, or `None` where it does not list it.
#[must_use]
pub fn declared(allergen: Allergen, regime: Regime) -> Option<&'static str> {
    use Allergen as A;
    use Regime::{Anz, Ca, Eu, Us};
    match (allergen, regime) {
        (A::Wheat, Us) => Some("wheat"),
        (A::Wheat, Eu) => Some("cereals containing gluten: wheat"),
        (A::Wheat, Ca) => Some("wheat"),
        (A::Wheat, Anz) => Some("wheat; gluten"),
        (A::Rye | A::Barley | A::Oats, Us) => None,
        (A::Rye, Eu) => Some("cereals containing gluten: rye"),
        (A::Barley, Eu) => Some("cereals containing gluten: barley"),
        (A::Oats, Eu) => Some("cereals containing gluten: oats"),
        (A::Rye, Ca) => Some("gluten (rye)"),
        (A::Barley, Ca) => Some("gluten (barley)"),
        (A::Oats, Ca) => Some("gluten (oats)"),
        (A::Rye, Anz) => Some("rye; gluten"),
        (A::Barley, Anz) => Some("barley; gluten"),
        (A::Oats, Anz) => Some("oats; gluten"),
        (A::Milk, _) => Some("milk"),
        (A::Egg, _) => Some("egg"),
        (A::Soy, Us) => Some("soybean"),
        (A::Soy, _) => Some("soy"),
        (A::Peanut, _) => Some("peanut"),
        (A::Almond, _) => Some("almond"),
        (A::Hazelnut, _) => Some("hazelnut"),
        (A::Walnut, _) => Some("walnut"),
        (A::Cashew, _) => Some("cashew"),
        (A::Pecan, _) => Some("pecan"),
        (A::BrazilNut, _) => Some("Brazil nut"),
        (A::Pistachio, _) => Some("pistachio"),
        (A::Macadamia, _) => Some("macadamia"),
        (A::PineNut, Eu) => None,
        (A::PineNut, _) => Some("pine nut"),
        (A::Coconut | A::Chestnut, _) => None,
        (A::Sesame, _) => Some("sesame"),
        (A::Mustard, Eu | Ca) => Some("mustard"),
        (A::Celery, Eu) => Some("celery"),
        (A::Lupin, Eu | Anz) => Some("lupin"),
        (A::Sulphites, _) => Some("sulphites (10 mg/kg or more)"),
        (A::Fish, _) => Some("fish"),
        (A::Crustacean, _) => Some("crustacean"),
        (A::Mollusc, Eu | Ca | Anz) => Some("mollusc"),
        (A::Mustard | A::Celery | A::Lupin | A::Mollusc, _) => None,
    }
}

/// The plain word for an allergen.
#[must_use]
pub fn plain(allergen: Allergen) -> &'static str {
    match allergen {
        Allergen::BrazilNut => "Brazil nut",
        Allergen::PineNut => "pine nut",
        other => other.word(),
    }
}

/// Whether the allergen is a nut that grows on a tree, as readers understand it: coconut and
/// chestnut are named though no list of the four regimes holds them.
#[must_use]
pub fn is_tree_nut(allergen: Allergen) -> bool {
    use Allergen as A;
    matches!(
        allergen,
        A::Almond
            | A::Hazelnut
            | A::Walnut
            | A::Cashew
            | A::Pecan
            | A::BrazilNut
            | A::Pistachio
            | A::Macadamia
            | A::PineNut
            | A::Coconut
            | A::Chestnut
    )
}
