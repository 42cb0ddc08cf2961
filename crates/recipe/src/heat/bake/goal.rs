//! The core temperature that ends a bake.

use crate::heat::{BELOW_BOILING, HeatError, PRACTICE, wrong};
use crate::leaven::{Altitude, boiling_celsius, pressure_kpa};
use crate::rework::style::Style;
use quantity::Temperature;

/// What a dish with egg has to reach, °C: 160 °F, FDA and USDA (seen).
const EGG_DISH: f64 = 71.1;
/// What a dish with meat, poultry or fish has to reach, °C: 165 °F, foodsafety.gov (copies seen).
const MEAT_DISH: f64 = 73.9;

/// The core temperature that ends a bake, °C.
#[derive(Debug, Clone, PartialEq)]
pub struct CoreTarget {
    /// Low, likely, high.
    pub celsius: [f64; 3],
    /// Water boils at this height, °C.
    pub boiling: f64,
    /// What the style asks is more than can be reached here.
    pub capped: Option<f64>,
    /// Where the temperature comes from.
    pub source: String,
}

impl CoreTarget {
    /// Of a style, or the baker's own, at a height.
    ///
    /// # Errors
    /// [`HeatError`] for a height outside 0–6,000 m.
    pub fn of(
        style: Option<Style>,
        own: Option<Temperature>,
        metres: f64,
    ) -> Result<Self, HeatError> {
        let boiling = match Altitude::of(metres) {
            Ok(_) => boiling_celsius(pressure_kpa(metres)),
            Err(e) => return wrong(e.to_string()),
        };
        let range = style.and_then(|s| s.range("core_c"));
        let (asked, source) = match (own, range) {
            (Some(t), _) => ([t.as_celsius(); 3], "your own".to_owned()),
            (None, Some(r)) => (
                [r.value.low(), r.value.likely(), r.value.high()].map(quantity::Ratio::get),
                r.cited(),
            ),
            (None, None) => ([96.0, 97.0, 98.0], PRACTICE.to_owned()),
        };
        let most = boiling - BELOW_BOILING;
        let likely = asked[1];
        Ok(Self {
            celsius: asked.map(|t| t.min(most)),
            boiling,
            capped: (likely > most).then_some(likely),
            source,
        })
    }

    /// Of what bakes: the style's, or of a filling with egg or milk that sets the least that is safe
    /// and where it is set; with meat, poultry or fish in it no less than a dish of these.
    ///
    /// # Source
    /// 71 °C (160 °F): FDA and USDA table of key temperatures, egg dishes (seen). 74 °C (165 °F):
    /// foodsafety.gov, casseroles (copies seen). Set at 77, curdled above 82 °C: common practice, no
    /// source.
    ///
    /// # Errors
    /// As [`CoreTarget::of`].
    pub fn for_bake(
        (sets, meat): (bool, bool),
        style: Option<Style>,
        own: Option<Temperature>,
        metres: f64,
    ) -> Result<Self, HeatError> {
        let plain = Self::of(style.filter(|_| !sets), own, metres)?;
        if own.is_some() || !sets {
            return Ok(plain);
        }
        let (least, dish) = if meat {
            (
                MEAT_DISH,
                "74 °C (165 °F) for dishes with meat, poultry or fish: foodsafety.gov (copies seen)",
            )
        } else {
            (
                EGG_DISH,
                "71 °C (160 °F) for egg dishes: FDA and USDA (seen)",
            )
        };
        Ok(Self {
            celsius: [least, 77.0, 82.0],
            capped: None,
            source: format!(
                "{dish}; set at about 77 °C (170 °F), curdled above 82 °C (180 °F): common practice, no source"
            ),
            ..plain
        })
    }

    /// '96–98 °C (205–208 °F)', '93 °C (199 °F)'.
    #[must_use]
    pub fn words(&self) -> String {
        let f = |c: f64| Temperature::celsius(c).as_fahrenheit();
        // 73.9 °C is 74: what a dish of meat has to reach is not said below it.
        let high = self.celsius[2].floor();
        let low = self.celsius[0].round().min(high);
        if low >= high {
            format!("{high:.0} °C ({:.0} °F)", f(high))
        } else {
            format!("{low:.0}–{high:.0} °C ({:.0}–{:.0} °F)", f(low), f(high))
        }
    }
}
