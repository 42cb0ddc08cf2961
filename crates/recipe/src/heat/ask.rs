//! From figures as typed, and what the recipe says, to what is worked out.

mod filled;

use super::bake::Bake;
use super::dough::{DoughAsk, Friction};
use super::given::Given;
use super::notes::{HeatField, HeatNotes};
use super::pan::Pan;
use super::proof::{KnownProof, Proof};
use super::typed::{
    apart, degrees_words, difference, grams, legs, minutes, oven_temperature, oven_words,
    temperature,
};
use super::{Advice, HeatError, PRACTICE, wrong};
use crate::rework::style::Style;
use crate::size::pan::{self, OwnPan};
use filled::{OF_THE_BATCH, made_once};
use quantity::{Mass, Spread, Temperature, Time};
use std::fmt;

/// Where a figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// The baker typed it.
    Typed,
    /// The recipe says it.
    Recipe,
    /// Worked out from what the recipe says, or assumed where it does not say.
    Worked,
    /// As in the known bake.
    Known,
    /// The usual one: common practice, no source.
    Usual,
}

impl Origin {
    /// The words on screens.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Typed => "typed",
            Self::Recipe => "from the recipe",
            Self::Worked => "worked out",
            Self::Known => "as in the known bake",
            Self::Usual => "usual (practice)",
        }
    }
}

/// A figure in use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Value {
    /// Which.
    pub field: HeatField,
    /// As it is typed.
    pub words: String,
    /// Where it comes from.
    pub origin: Origin,
    /// What it rests on, where its origin does not say all.
    pub why: Option<String>,
}

impl Value {
    /// What it rests on, else its origin, in words.
    #[must_use]
    pub fn from(&self) -> &str {
        self.why.as_deref().unwrap_or_else(|| self.origin.words())
    }

    /// As it is shown: a pan by its name and measures, not by its key; but as typed, where the baker
    /// typed measures.
    #[must_use]
    pub fn shown(&self) -> String {
        if !matches!(self.field, HeatField::KnownPan | HeatField::Pan) {
            return self.words.clone();
        }
        let key = self.words.split(',').next().unwrap_or_default();
        let as_typed = self.origin == Origin::Typed && pan::by_key(key).is_none();
        match Pan::read(&self.words) {
            Ok(pan) if !as_typed => pan.named(),
            _ => self.words.clone(),
        }
    }
}

/// Why nothing is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AskError {
    /// Figures without which there is no answer.
    Missing(Vec<HeatField>),
    /// Thin pieces without a pan, or pressed thin into a tin, of a style that is done by its colour.
    ByColour(Style),
    /// A figure that cannot be read.
    Wrong {
        /// Which.
        field: HeatField,
        /// Why.
        error: HeatError,
    },
}

impl fmt::Display for AskError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing(fields) => {
                let all: Vec<String> = fields
                    .iter()
                    .map(|f| format!("{} ({})", f.words(), f.example()))
                    .collect();
                write!(f, "still needed: {}", all.join("; "))
            }
            Self::ByColour(style) => write!(
                f,
                "{}, on a sheet or thin in a tin, is done by its colour and crispness, not by the heat of its middle: no time is worked out for another oven or thickness. Begin with the method's time, look at two thirds of it and every minute or two from there, and write down what it took. For a thicker bake in a tin give its measures and what goes into it",
                style.name()
            ),
            Self::Wrong { field, error } => write!(f, "{}: {error}", field.words()),
        }
    }
}
impl std::error::Error for AskError {}

/// The kitchen, as far as heat asks.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Place {
    /// Metres above the sea.
    pub metres: f64,
    /// Its oven moves the air.
    pub fan: bool,
    /// It reads °F.
    pub fahrenheit: bool,
}

/// °C.
const USUAL_DOUGH: f64 = 26.0;
const USUAL_ROOM: f64 = 21.0;
const USUAL_TAP: f64 = 12.0;

/// Figures as typed over what the recipe says over what is usual.
#[derive(Debug, Clone, Copy)]
pub struct Figures<'a> {
    /// As typed.
    pub notes: &'a HeatNotes,
    /// What the recipe says; `None` without one.
    pub given: Option<&'a Given>,
    /// The kitchen.
    pub place: Place,
    /// A style in place of the recipe's.
    pub style: Option<Style>,
    /// The kitchen's own pans, by name.
    pub pans: &'a [OwnPan],
}

impl Figures<'_> {
    /// A figure, and where it comes from.
    #[must_use]
    pub fn value(&self, field: HeatField) -> Option<Value> {
        let because = |words: String, origin, why: Option<String>| {
            Some(Value {
                field,
                words,
                origin,
                why,
            })
        };
        let of = |words, origin| because(words, origin, None);
        if let Some(words) = self.notes.get(field.key()) {
            return of(words.clone(), Origin::Typed);
        }
        let g = self.given;
        // Grams that lack a line are not offered as the whole.
        let in_own_pan = g.filter(|g| g.once_unweighed == 0);
        let of_dough = g.filter(|g| g.dough_unweighed == 0);
        match field {
            HeatField::KnownPan => {
                if let Some((g, pan)) = g.and_then(|g| Some((g, g.pan.as_ref()?))) {
                    let why = g
                        .pan_assumed
                        .as_ref()
                        .map(|what| format!("from the recipe, but {what}"));
                    return because(pan.as_typed(), Origin::Recipe, why);
                }
            }
            HeatField::KnownTime => {
                if let Some((time, written)) = g.and_then(|g| Some((g.time?, g.written?))) {
                    if g.is_some_and(|g| g.custard) {
                        let why = "from the recipe: no longer, for egg sets it".to_owned();
                        return because(minutes_words(time), Origin::Recipe, Some(why));
                    }
                    let why = format!(
                        "ours: the recipe's {} for wheat, a tenth to a quarter longer",
                        minutes_words(written)
                    );
                    return because(minutes_words(time), Origin::Worked, Some(why));
                }
            }
            HeatField::Pan | HeatField::Oven => {
                let of_known = match field {
                    HeatField::Pan => HeatField::KnownPan,
                    _ => HeatField::KnownOven,
                };
                if let (HeatField::Pan, Some((pan, count))) = (field, self.sized()) {
                    let why = match count {
                        1 => "the pan of the Size page".to_owned(),
                        n => format!("of the Size page, one of {n} {}", pan.are()),
                    };
                    return because(pan.as_typed(), Origin::Worked, Some(why));
                }
                return of(self.value(of_known)?.words, Origin::Known);
            }
            HeatField::PanDough => {
                let (words, origin, why) = self.kept_dough()?;
                return because(words, origin, why);
            }
            HeatField::ProofTime => {
                if let Some(rise) = g.and_then(|g| g.rise) {
                    let why = "the recipe's longest rise, for wheat".to_owned();
                    return because(minutes_words(rise), Origin::Recipe, Some(why));
                }
            }
            HeatField::KnownOven => {
                if let Some(oven) = g.and_then(|g| g.oven) {
                    let words = oven_words(oven, self.place.fahrenheit);
                    return of(words, Origin::Recipe);
                }
            }
            _ => {}
        }
        let weight = match field {
            HeatField::KnownDough => {
                in_own_pan.and_then(|g| Some((self.fitting(g)?, made_once(g, self.known_pans()))))
            }
            HeatField::ProofPiece => of_dough.map(|g| (g.dough, OF_THE_BATCH.to_owned())),
            HeatField::FlourMass => of_dough.map(|g| (g.flour, OF_THE_BATCH.to_owned())),
            HeatField::WaterMass => of_dough.map(|g| (g.water, OF_THE_BATCH.to_owned())),
            HeatField::OtherMass => of_dough.map(|g| (g.other, OF_THE_BATCH.to_owned())),
            _ => None,
        };
        if let Some((grams, why)) = weight.filter(|w| some(&w.0)) {
            return because(grams_words(grams), Origin::Worked, Some(why));
        }
        let usual = match field {
            HeatField::ProofAt | HeatField::DoughWanted | HeatField::Start => USUAL_DOUGH,
            HeatField::Room => USUAL_ROOM,
            HeatField::Flour | HeatField::Other => {
                let room = self.value(HeatField::Room)?;
                return of(room.words, Origin::Usual);
            }
            HeatField::Tap => USUAL_TAP,
            HeatField::ProofPiece => return of("900 g".to_owned(), Origin::Usual),
            _ => return None,
        };
        of(degrees_words(usual, self.place.fahrenheit), Origin::Usual)
    }

    /// Whether a figure is of use: what else goes in has no temperature without a weight.
    #[must_use]
    pub fn counts(&self, field: HeatField) -> bool {
        field != HeatField::Other || self.value(HeatField::OtherMass).is_some()
    }

    /// What is to know of the figures of the known bake.
    ///
    /// # Inputs
    /// - `on_record`: a bake on record that says how long it took is offered beside it.
    #[must_use]
    pub fn remarks(&self, on_record: bool) -> Vec<Advice> {
        let time = self.value(HeatField::KnownTime);
        let mut all = Vec::new();
        if let Some(time) = time.filter(|t| t.origin == Origin::Worked) {
            let instead = if on_record {
                "take the bake on record above in its place"
            } else {
                "put in what your bake took, once you have baked it"
            };
            all.push(Advice::new(
                format!("The known time is {}: {instead}", time.from()),
                PRACTICE,
            ));
            if let Some(words) = self.given.and_then(Given::staged) {
                all.push(Advice::new(
                    format!("The method bakes {words}: taken as one bake at the mean of its ovens by time, which is only near"),
                    "follows from the recipe",
                ));
            }
            if let Some(g) = self.given.filter(|g| g.stages > 1) {
                all.push(Advice::new(
                    format!(
                        "The method bakes {} times: the longest is taken as the known bake. Put in the one you mean",
                        g.stages
                    ),
                    "follows from the recipe",
                ));
            }
        }
        if self.value(HeatField::KnownDough).is_none() {
            if let Some(other) = self.given.and_then(|g| g.rest_in.as_ref()) {
                all.push(Advice::new(
                    format!("The method puts a part of it into another pan, '{other}': how much goes into this one no one says. For that one type its pan, its dough and its time as the known bake"),
                    "follows from the recipe",
                ));
            }
            all.extend(self.too_much());
            let which = if self.value(HeatField::PanDough).is_none() {
                "both pans are"
            } else {
                "the known pan is"
            };
            all.push(Advice::new(
                format!("Without the weight of the known dough {which} taken as full to the rim when baked: put it in for a nearer time"),
                PRACTICE,
            ));
        }
        all
    }

    fn get<T>(
        &self,
        field: HeatField,
        read: impl Fn(&str) -> Result<T, HeatError>,
    ) -> Result<Option<T>, AskError> {
        self.value(field)
            .map(|v| read(&v.words).map_err(|error| AskError::Wrong { field, error }))
            .transpose()
    }

    fn pan(&self, field: HeatField) -> Result<Option<Pan>, AskError> {
        self.get(field, |words| Pan::read_in(words, self.pans))
    }

    fn style(&self) -> Option<Style> {
        self.style.or(self.given.and_then(|g| g.style))
    }

    /// The style of a recipe that is done by colour, with nothing in it that must get hot.
    fn by_colour(&self) -> Option<Style> {
        let g = self
            .given
            .filter(|g| !g.sets && !g.meat && (g.pan_words.is_none() || self.is_thin(g)))?;
        let own = self
            .value(HeatField::Core)
            .is_some_and(|v| v.origin == Origin::Typed);
        self.style
            .or(g.style)
            .filter(|s| s.is_done_by_colour() && !own)
    }

    /// The bake asked about; nothing where no new pan, oven or dough is typed.
    ///
    /// # Errors
    /// [`AskError`]: what is missing or cannot be read.
    pub fn bake(&self) -> Result<Option<Bake>, AskError> {
        let new = [HeatField::Pan, HeatField::Oven, HeatField::PanDough];
        let typed = new.iter().any(|f| self.notes.contains_key(f.key()));
        if !typed && self.sized().is_none() {
            return Ok(None);
        }
        let pan = self.pan(HeatField::KnownPan)?;
        let oven = self.get(HeatField::KnownOven, oven_temperature)?;
        let time = self.get(HeatField::KnownTime, minutes)?;
        if let Some(style) = self.by_colour()
            && self.given.is_some_and(|g| self.is_thin(g))
        {
            return Err(AskError::ByColour(style));
        }
        let (Some(known_pan), Some(known_oven), Some(known_time)) = (&pan, oven, time) else {
            if let Some(style) = self.by_colour().filter(|_| pan.is_none()) {
                return Err(AskError::ByColour(style));
            }
            let mut missing = Vec::new();
            for (field, is) in [
                (HeatField::KnownPan, pan.is_some()),
                (HeatField::KnownOven, oven.is_some()),
                (HeatField::KnownTime, time.is_some()),
            ] {
                if !is {
                    missing.push(field);
                }
            }
            return Err(AskError::Missing(missing));
        };
        let new_pan = self
            .pan(HeatField::Pan)?
            .unwrap_or_else(|| known_pan.clone());
        let new_dough = self.get(HeatField::PanDough, grams)?;
        Ok(Some(Bake {
            known_pan: known_pan.clone(),
            known_oven,
            known_time,
            known_dough: self.get(HeatField::KnownDough, grams)?,
            pan: new_pan,
            oven: self
                .get(HeatField::Oven, oven_temperature)?
                .unwrap_or(known_oven),
            dough: new_dough,
            start: self
                .get(HeatField::Start, temperature)?
                .unwrap_or(Temperature::celsius(26.0)),
            style: self.style(),
            core: self.get(HeatField::Core, temperature)?,
            sets: self.style.is_none() && self.given.is_some_and(|g| g.sets),
            meat: self.given.is_some_and(|g| g.meat),
            body: self.body(new_dough),
            pans: self.known_pans(),
            metres: self.place.metres,
            fan: self.place.fan,
        }))
    }

    /// The proof asked about; nothing where no history is typed.
    ///
    /// # Errors
    /// [`AskError`]: what is missing or cannot be read.
    pub fn proof(&self) -> Result<Option<Proof>, AskError> {
        let Some(legs) = self.get(HeatField::Stays, legs)? else {
            return Ok(None);
        };
        let time = self.get(HeatField::ProofTime, minutes)?;
        let at = self.get(HeatField::ProofAt, temperature)?;
        let (Some(time), Some(at)) = (time, at) else {
            return Err(AskError::Missing(vec![HeatField::ProofTime]));
        };
        Ok(Some(Proof {
            known: KnownProof { time, at },
            dough: self.get(HeatField::DoughWanted, temperature)?.unwrap_or(at),
            weight: self
                .get(HeatField::ProofPiece, grams)?
                .unwrap_or(Mass::grams(900.0)),
            legs,
            style: self.style(),
            perishable: self.given.and_then(|g| g.perishable),
            work: self.given.and_then(|g| g.work),
        }))
    }

    /// The dough asked about.
    ///
    /// # Errors
    /// [`AskError`]: what is missing or cannot be read.
    pub fn dough(&self) -> Result<DoughAsk, AskError> {
        let flour_mass = self.get(HeatField::FlourMass, grams)?;
        let water_mass = self.get(HeatField::WaterMass, grams)?;
        let (Some(flour_mass), Some(water_mass)) = (flour_mass, water_mass) else {
            let mut missing = Vec::new();
            if flour_mass.is_none() {
                missing.push(HeatField::FlourMass);
            }
            if water_mass.is_none() {
                missing.push(HeatField::WaterMass);
            }
            return Err(AskError::Missing(missing));
        };
        let t = |f| {
            self.get(f, temperature)?
                .ok_or_else(|| AskError::Missing(vec![f]))
        };
        let friction = match (
            self.get(HeatField::Measured, four)?,
            self.get(HeatField::Friction, difference)?,
        ) {
            (Some([dough, room, flour, water]), _) => Friction::Measured {
                dough,
                room,
                flour,
                water,
            },
            (None, Some(k)) => Friction::Factor(k),
            (None, None) => Friction::Usual,
        };
        let other = match self.get(HeatField::OtherMass, grams)? {
            Some(m) => {
                let water = self.given.map_or(OTHER_WATER, |g| g.other_water);
                Some((m, water, t(HeatField::Other)?))
            }
            None => None,
        };
        Ok(DoughAsk {
            wanted: t(HeatField::DoughWanted)?,
            room: t(HeatField::Room)?,
            flour: t(HeatField::Flour)?,
            preferment: self.get(HeatField::Preferment, temperature)?,
            friction,
            flour_mass,
            water_mass,
            other,
            tap: t(HeatField::Tap)?,
            chilled: self.given.is_some_and(|g| !g.liquid_is_water)
                && !self.notes.contains_key(HeatField::WaterMass.key()),
        })
    }
}

/// Water of what else goes in where no recipe says (from memory).
const OTHER_WATER: f64 = 0.5;

fn some(m: &Mass) -> bool {
    m.as_grams() >= 1.0
}

fn grams_words(m: Mass) -> String {
    format!("{:.0} g", m.as_grams())
}

fn minutes_words(t: Spread<Time>) -> String {
    let m = |t: Time| format!("{:.0}", t.as_minutes());
    if m(t.low()) == m(t.high()) {
        format!("{} min", m(t.low()))
    } else {
        format!("{}–{} min", m(t.low()), m(t.high()))
    }
}

/// Four temperatures: a dough of before, its room, flour and water.
pub(super) fn four(text: &str) -> Result<[Temperature; 4], HeatError> {
    let all: Vec<Temperature> = apart(text)
        .into_iter()
        .map(temperature)
        .collect::<Result<_, _>>()?;
    match all.as_slice() {
        [a, b, c, d] => Ok([*a, *b, *c, *d]),
        _ => wrong(format!(
            "'{}' has {} temperatures: write four, of the dough after mixing, the room, the flour and the water, as in {}",
            text.trim(),
            all.len(),
            HeatField::Measured.example()
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::super::pan::Outline;
    use super::*;

    fn notes(all: &[(&str, &str)]) -> HeatNotes {
        all.iter()
            .map(|(k, v)| ((*k).to_owned(), (*v).to_owned()))
            .collect()
    }

    fn figures(notes: &HeatNotes) -> Figures<'_> {
        Figures {
            notes,
            given: None,
            place: Place::default(),
            style: None,
            pans: &[],
        }
    }

    #[test]
    fn what_is_missing_is_named() {
        let n = notes(&[("pan", "20x10x6 cm"), ("known_oven", "175 C")]);
        let e = figures(&n).bake().expect_err("missing");
        assert_eq!(
            e,
            AskError::Missing(vec![HeatField::KnownPan, HeatField::KnownTime])
        );
        assert!(e.to_string().contains("23x13x7 cm"), "{e}");
        assert_eq!(figures(&notes(&[])).bake(), Ok(None));
        assert!(figures(&notes(&[])).dough().is_err());
    }

    #[test]
    fn typed_over_usual() {
        let n = notes(&[
            ("flour_mass", "500 g"),
            ("water_mass", "400 g"),
            ("room", "70 F"),
        ]);
        let ask = figures(&n).dough().expect("enough");
        assert!(
            (ask.flour.as_celsius() - 21.1).abs() < 0.1,
            "flour is as warm as the room"
        );
        assert_eq!(ask.friction, Friction::Usual);
        let n = notes(&[
            ("flour_mass", "500 g"),
            ("water_mass", "400 g"),
            ("measured", "27 C, 22 C, 21 C, 18 C"),
        ]);
        let ask = figures(&n).dough().expect("enough");
        assert!(matches!(ask.friction, Friction::Measured { .. }));
        assert!(four("27 C, 22 C").is_err());
    }

    /// A pan asked for twice is one tin, with its share of all that is made.
    #[test]
    fn several_pans_share_what_is_made() {
        let n = notes(&[
            ("known_pan", "round 23x5 cm"),
            ("known_dough", "1000 g"),
            ("known_time", "40 min"),
            ("known_oven", "175 C"),
            ("pan", "2 x 20x5 cm round tin"),
        ]);
        let bake = figures(&n).bake().expect("read").expect("a new pan");
        assert!(
            matches!(bake.pan.outline, Outline::Round { across } if (across - 0.2).abs() < 0.005)
        );
        let dough = figures(&n).value(HeatField::PanDough).expect("worked out");
        assert_eq!(dough.words, "500 g");
        assert_eq!(dough.why.as_deref(), Some("1000 g over 2 pans"));
        // Two known tins of 800 g fill one tin with 1600 g; where so much does not go in, that is told.
        let known = [
            ("known_pan", "2 x 20cm round x 4.5cm"),
            ("known_dough", "800 g"),
            ("known_time", "25 min"),
            ("known_oven", "180 C"),
        ];
        for (pan, grams, why) in [
            (
                "23 x 9 cm round tin",
                "1600 g",
                "what goes into 2 known pans",
            ),
            (
                "20 x 4.5 cm round tin",
                "800 g",
                "since 1600 g do not go into this one",
            ),
        ] {
            let n = notes(&[&known[..], &[("pan", pan)]].concat());
            let bake = figures(&n).bake().expect("read").expect("a new pan");
            assert_eq!(bake.pans, 2);
            let dough = figures(&n).value(HeatField::PanDough).expect("worked out");
            assert_eq!(dough.words, grams, "{dough:?}");
            assert!(
                dough.why.as_ref().is_some_and(|w| w.ends_with(why)),
                "{dough:?}"
            );
        }
    }
}
