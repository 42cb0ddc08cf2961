//! Pans that are measured with water: the grams that fill them to the rim.

use super::words::made;
use super::{ML_PER_GRAM_OF_WATER, Outline, OwnPan, Pan, disc};
use quantity::Mass;
use quantity::typed::{mass, volume};

/// What a pan is called and the grams of water it is said to hold: '1500 g water', '1.5 kg of
/// water', '1500 ml', and behind a name and a comma, 'blue tin, 1,5 l'.
pub(super) fn by_water(words: &str) -> Option<(&str, f64)> {
    let behind = words.match_indices([',', ':', '=']);
    let cuts = behind.map(|(at, _)| (&words[..at], &words[at + 1..]));
    std::iter::once(("", words))
        .chain(cuts)
        .find_map(|(name, amount)| Some((name.trim(), water_in(amount)?)))
}

/// Grams of an amount of water; a weight is one only where the word stands there.
fn water_in(amount: &str) -> Option<f64> {
    let plain = amount.trim().to_lowercase();
    let water = plain.strip_suffix("water").map(str::trim_end);
    let amount = water.map_or(&*plain, |w| w.strip_suffix("of").unwrap_or(w).trim_end());
    let grams = match volume(amount) {
        Some(ml) => ml.as_millilitres() / ML_PER_GRAM_OF_WATER,
        None => {
            let united = amount.ends_with(|c: char| c.is_alphabetic());
            mass(amount)
                .filter(|_| water.is_some() && united)?
                .as_grams()
        }
    };
    Some(grams).filter(|g| *g > 0.0)
}

impl OwnPan {
    /// A pan of the kitchen by its line in the settings: its name, and behind the last comma what it
    /// holds, `the blue tin, 1440 g water` or `the blue tin, 1,45 l`.
    #[must_use]
    pub fn read(line: &str) -> Self {
        match by_water(line).filter(|(name, _)| !name.is_empty()) {
            Some((name, grams)) => Self {
                name: name.to_owned(),
                water: Some(grams),
            },
            None => Self {
                name: line.trim().to_owned(),
                water: None,
            },
        }
    }
}

/// What a ring tin would hold without its tube, mL: π/4·d²·h.
pub(super) fn ring_holds(pan: &Pan) -> Option<f64> {
    let Outline::Ring { across, .. } = pan.outline else {
        return None;
    };
    let (across, deep) = (across.as_millimetres(), pan.depth?.as_millimetres());
    Some(disc(across) * deep / 1000.0)
}

/// A pan by its name, its size where that is known, and the grams of water it holds.
pub(super) fn with_water(name: &str, sized: Option<Pan>, water: Option<f64>) -> Pan {
    let found = sized.unwrap_or_else(|| Pan {
        outline: Outline::Basin,
        ..made("", false, (0.5, 0.6))
    });
    Pan {
        key: name.to_owned(),
        name: name.to_owned(),
        water: water.map(Mass::grams),
        ..found
    }
}
