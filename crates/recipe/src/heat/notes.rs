//! What the baker says of heat, kept on the sheet in the words typed.

use super::typed::{difference, grams, legs, minutes, oven_temperature, temperature};
use super::{HeatError, Pan};
use std::collections::BTreeMap;

/// Field → words typed.
pub type HeatNotes = BTreeMap<String, String>;

macro_rules! fields {
    ($($variant:ident, $key:literal, $words:literal, $example:literal;)*) => {
        /// A figure of the Heat page.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum HeatField { $(#[doc = $words] $variant),* }

        impl HeatField {
            /// All, in the order of the page.
            pub const ALL: &'static [Self] = &[$(Self::$variant),*];
            /// Its key on a sheet.
            #[must_use]
            pub fn key(self) -> &'static str {
                match self { $(Self::$variant => $key),* }
            }
            /// What it is called.
            #[must_use]
            pub fn words(self) -> &'static str {
                match self { $(Self::$variant => $words),* }
            }
            /// How it is typed.
            #[must_use]
            pub fn example(self) -> &'static str {
                match self { $(Self::$variant => $example),* }
            }
        }
    };
}

fields! {
    Part, "part", "part that is baked", "dough";
    KnownPan, "known_pan", "pan of the known bake", "23x13x7 cm";
    KnownOven, "known_oven", "oven of the known bake", "175 °C";
    KnownTime, "known_time", "time of the known bake", "55–60 min";
    KnownDough, "known_dough", "dough in the known pan", "900 g";
    Pan, "pan", "new pan", "20x10x6 cm, dark";
    Oven, "oven", "new oven", "170 °C";
    PanDough, "pan_dough", "dough in the new pan", "650 g";
    Core, "core", "core temperature", "97 °C";
    Start, "start", "dough when it goes in", "26 °C";
    ProofTime, "proof_time", "time of the known proof", "75 min";
    ProofAt, "proof_at", "dough in the known proof", "27 °C";
    ProofPiece, "proof_piece", "weight that proofs in one piece", "900 g";
    Stays, "stays", "where the dough stands", "1 h at 22 °C, 12 h in the fridge, then 27 °C";
    DoughWanted, "dough_wanted", "dough after mixing", "26 °C";
    FlourMass, "flour_mass", "weight of flour and starch", "500 g";
    WaterMass, "water_mass", "weight of water", "400 g";
    OtherMass, "other_mass", "weight of eggs, fat and the rest", "150 g";
    Room, "room", "temperature of the room", "22 °C";
    Flour, "flour", "temperature of the flour", "20 °C";
    Other, "other", "temperature of eggs, fat and the rest", "8 °C";
    Preferment, "preferment", "temperature of a preferment", "24 °C";
    Tap, "tap", "tap water", "12 °C";
    Friction, "friction", "friction, three times the warming by mixing", "6 °C";
    Measured, "measured", "a measured dough: itself, room, flour, water", "27 °C, 22 °C, 21 °C, 18 °C";
}

impl HeatField {
    /// The figures of a known bake, with the core it was taken out at.
    pub const KNOWN: [Self; 5] = [
        Self::KnownPan,
        Self::KnownOven,
        Self::KnownTime,
        Self::KnownDough,
        Self::Core,
    ];

    /// The field of a key.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|f| f.key() == key)
    }

    /// How it is typed in a kitchen that reads °F.
    #[must_use]
    pub fn example_in(self, fahrenheit: bool) -> String {
        match (self, fahrenheit) {
            (Self::Friction, true) => "10 °F".to_owned(),
            (_, true) => super::typed::in_fahrenheit(self.example()),
            (_, false) => self.example().to_owned(),
        }
    }

    /// Whether words are this field's.
    ///
    /// # Errors
    /// [`HeatError`] as the field's own reading.
    pub fn check(self, words: &str) -> Result<(), HeatError> {
        match self {
            // A component of the recipe, which is looked up there.
            Self::Part => Ok(()),
            Self::KnownPan | Self::Pan => Pan::read(words).map(drop),
            Self::KnownOven | Self::Oven => oven_temperature(words).map(drop),
            Self::KnownTime | Self::ProofTime => minutes(words).map(drop),
            Self::KnownDough
            | Self::PanDough
            | Self::ProofPiece
            | Self::FlourMass
            | Self::WaterMass
            | Self::OtherMass => grams(words).map(drop),
            Self::Stays => legs(words).map(drop),
            Self::Measured => super::ask::four(words).map(drop),
            Self::Friction => difference(words).map(drop),
            _ => temperature(words).map(drop),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_example_is_right_and_keys_are_found() {
        for f in HeatField::ALL {
            assert_eq!(f.check(f.example()), Ok(()), "{f:?}");
            let us = f.example_in(true);
            assert_eq!(f.check(&us), Ok(()), "{f:?}");
            assert!(!us.contains("°C"), "{us}");
            assert_eq!(HeatField::from_key(f.key()), Some(*f));
            let any = *f == HeatField::Part;
            assert_eq!(f.check("no such thing").is_err(), !any, "{f:?}");
        }
    }
}
