//! What is asked of a blend.

use super::makeup::{MakeUp, Target};
use crate::LeftOut;
use crate::left_out::Holds;
use crate::rework::style::Style;
use larder::{FoodId, Gluten, Larder};
use quantity::Mass;

/// What a blend should come near to.
#[derive(Debug, Clone, PartialEq)]
pub enum Aim {
    /// The published formulas of a style.
    Style(Style),
    /// The make-up of a flour, of wheat too.
    Flour(FoodId),
    /// A blend, foods and percent: its make-up, and the shares of its flours where they can stay.
    Blend(Vec<(FoodId, f64)>),
}

/// What is best.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Wish {
    /// The nearest to the aim.
    Nearest,
    /// The cheapest of those no further from the aim than this; see [`Target::distance`].
    Cheapest {
        /// The greatest distance.
        within: f64,
    },
}

/// A flour, starch or fibre that may be used.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// The food.
    pub food: FoodId,
    /// The least percent of the blend, where it is used.
    pub low: f64,
    /// The greatest percent.
    pub high: f64,
    /// It must be used.
    pub must: bool,
    /// What there is of it.
    pub stock: Option<Mass>,
    /// What a kilogram costs, in any one currency.
    pub price_per_kg: Option<f64>,
}

impl Candidate {
    /// A food within the usual shares of a blend.
    ///
    /// # Source
    /// `larder`'s absorption table, common practice, no source.
    ///
    /// # Returns
    /// `None` for a food without a usual share.
    #[must_use]
    pub fn of(food: FoodId, larder: &Larder) -> Option<Self> {
        let (low, high) = larder.absorption(food)?.share;
        Some(Self {
            food,
            low,
            high,
            must: false,
            stock: None,
            price_per_kg: None,
        })
    }
}

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct Ask {
    /// What it should come near to.
    pub aim: Aim,
    /// What is best.
    pub wish: Wish,
    /// What may be used; see [`usual`].
    pub candidates: Vec<Candidate>,
    /// Flours at most, 1 to 8.
    pub most: usize,
    /// What must not be in it. A food whose label has to tell is not used either.
    pub left_out: Vec<LeftOut>,
    /// Starch ingredients, least and most percent; starch inside flours is not counted.
    pub starch: (f64, f64),
    /// Flours of strong flavour (3 of 3) together, percent at most.
    pub strong: f64,
    /// Cost of a kilogram at most.
    pub cost_at_most: Option<f64>,
    /// How much is to be mixed; needed where stock is given.
    pub batch: Option<Mass>,
    /// How many different blends are wanted.
    pub count: usize,
}

impl Ask {
    /// The usual question: at most four of the usual flours, the nearest and two different ones.
    #[must_use]
    pub fn new(aim: Aim, larder: &Larder) -> Self {
        let starch = match &aim {
            Aim::Style(style) => style
                .range("starch_share")
                .map_or((0.0, 60.0), |r| (r.value.low().get(), r.value.high().get())),
            _ => (0.0, 60.0),
        };
        Self {
            aim,
            wish: Wish::Nearest,
            candidates: usual(larder),
            most: 4,
            left_out: Vec::new(),
            starch,
            // 'Any strong-flavour flour ≤ 20 % unless wanted': common practice, no source.
            strong: 20.0,
            cost_at_most: None,
            batch: None,
            count: 3,
        }
    }

    /// What is wanted of the blend.
    pub(super) fn target(&self, larder: &Larder) -> Result<Target, (FoodId, super::Property)> {
        Ok(match &self.aim {
            Aim::Style(style) => Target::of_style(*style),
            Aim::Flour(food) => Target::near(MakeUp::of(&[(*food, 100.0)], larder)?),
            Aim::Blend(parts) => Target::near(MakeUp::of(parts, larder)?),
        })
    }
}

/// Flours and starches that a good shop sells and published formulas use. Common practice, no
/// source.
const USUAL: [&str; 19] = [
    "white_rice_flour",
    "brown_rice_flour",
    "sweet_rice_flour",
    "sorghum_flour",
    "millet_flour",
    "teff_flour",
    "buckwheat_flour",
    "amaranth_flour",
    "quinoa_flour",
    "corn_flour",
    "masa_harina",
    "chickpea_flour",
    "cassava_flour",
    "tapioca_starch",
    "potato_starch",
    "potato_flour",
    "corn_starch",
    "arrowroot",
    "sweet_potato_starch",
];

/// What is chosen from where nothing else is said: the flours of a good shop, without gluten and
/// without an allergen that a label law names. Nut, soy, lupin and oat flours, and starch made
/// from wheat, are used only where the baker names them.
#[must_use]
pub fn usual(larder: &Larder) -> Vec<Candidate> {
    USUAL
        .iter()
        .filter_map(|key| Candidate::of(larder.by_key(key)?, larder))
        .collect()
}

/// Fibres that are mixed in a little on top of the flours. Common practice, no source.
const FIBRES: [&str; 4] = ["oat_fibre", "apple_fibre", "citrus_fibre", "inulin"];

/// Whether a food is a fibre: no flour of the flour phase, and given on top of it.
#[must_use]
pub fn is_fibre(food: FoodId, larder: &Larder) -> bool {
    FIBRES.contains(&larder.food(food).key.as_str())
}

/// Everything in the larder that can be mixed: flours, starches and fibres without gluten and with a
/// known make-up, ready blends left out. At most 64, those with the greatest usual shares first.
#[must_use]
pub fn whole_larder(larder: &Larder) -> Vec<Candidate> {
    let ready = |key: &str| key.contains("blend") || key.contains("mix") || key.contains("self_");
    let mut all: Vec<Candidate> = larder
        .ids()
        .filter(|f| {
            let food = larder.food(*f);
            (food.is_flour_phase() || is_fibre(*f, larder))
                && food.gluten != Gluten::Contains
                && !ready(&food.key)
        })
        .filter(|f| MakeUp::of(&[(*f, 100.0)], larder).is_ok())
        .filter_map(|f| Candidate::of(f, larder))
        .filter(|c| c.high > 0.0)
        .collect();
    all.sort_by(|a, b| b.high.total_cmp(&a.high));
    all.truncate(64);
    all
}

/// Why a candidate is not used, before anything is worked out.
pub(super) fn barred(c: &Candidate, ask: &Ask, larder: &Larder) -> Option<String> {
    let food = larder.food(c.food);
    if food.gluten == Gluten::Contains {
        return Some("it contains gluten".to_owned());
    }
    for what in &ask.left_out {
        match what.in_food(c.food, larder) {
            Holds::No => {}
            Holds::Yes => return Some(format!("{what} is left out")),
            Holds::Check => {
                return Some(format!(
                    "{what} is left out, and only its label can say whether it holds any"
                ));
            }
        }
    }
    if let Err((_, property)) = MakeUp::of(&[(c.food, 100.0)], larder) {
        return Some(format!("its {} is not known", property.word()));
    }
    if matches!(ask.wish, Wish::Cheapest { .. }) && c.price_per_kg.is_none() {
        return Some("it has no price".to_owned());
    }
    if ask.cost_at_most.is_some() && c.price_per_kg.is_none() {
        return Some("it has no price, and the cost is limited".to_owned());
    }
    None
}
