//! What is asked for, and how it is said.

use super::error::{SizeError, check_factor, positive, whole};
use super::pan::{OwnPan, Pan, PanError, Said, counted, find};
use larder::{Function, Larder};
use quantity::typed::{length, lengths, mass};
use quantity::{Length, Locale, Mass, Quantity, Spread, figure};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fmt;

/// Longest name of a component, a line, a pan or a food, in bytes.
const LONGEST: usize = 400;

/// How much is wanted: one figure that everything else follows from.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Ask {
    /// The figure.
    #[serde(default)]
    pub target: Target,
    /// The component the figure is of, by name; the main dough or batter where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub part: Option<String>,
    /// Only that component, and exactly enough of what goes into it.
    #[serde(default, skip_serializing_if = "is_false")]
    pub only: bool,
    /// Components that are not made in the same measure as the rest, by name.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub parts: BTreeMap<String, PartSize>,
    /// Moved to the nearest size that takes whole eggs.
    #[serde(default, skip_serializing_if = "is_false")]
    pub whole_eggs: bool,
}

fn is_false(yes: &bool) -> bool {
    !yes
}

/// How much of one component is made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PartSize {
    /// Exactly as much as the others use of it.
    Enough,
    /// So many times what the recipe has of it, whatever the size of the rest.
    Times(f64),
}

/// The figure that a batch's size follows from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Target {
    /// So many times the recipe.
    Times(f64),
    /// Pieces of a weight; see [`Pieces`].
    Pieces(Pieces),
    /// So many servings, by what the recipe says it serves.
    Servings(f64),
    /// Grams of a component, raw.
    Makes(f64),
    /// Grams of a component's flour phase.
    Flour(f64),
    /// Grams of a line.
    Line {
        /// The line's key, see [`crate::rework::ReworkedLine::key`].
        line: String,
        /// Grams.
        grams: f64,
    },
    /// As much as suits pans.
    Pan(Pans),
    /// From one pan to another.
    FromPan {
        /// What the recipe is made in.
        from: Pans,
        /// What it is to be made in.
        to: Pans,
        /// Keep the depth: by the area, not by the volume.
        #[serde(default, skip_serializing_if = "is_false")]
        keep_depth: bool,
    },
    /// A sheet to roll out.
    Sheet {
        /// Length, cm.
        long: f64,
        /// Width, cm.
        wide: f64,
        /// Thickness, mm.
        thick: f64,
        /// The words it was typed in, where these have inches: `12 x 18 in, 1/4 in`.
        #[serde(default, skip_serializing_if = "String::is_empty")]
        typed: String,
    },
    /// As much as can be made of what is at hand.
    Have(Vec<Have>),
}

/// Pieces to divide a dough into.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Pieces {
    /// How many; where nothing is said, as many as one time the recipe gives.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<f64>,
    /// Grams of each; where nothing is said, as heavy as the recipe's own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub each: Option<f64>,
    /// The grams are those out of the oven, not on the bench.
    #[serde(default, skip_serializing_if = "is_false")]
    pub baked: bool,
}

/// So many of a pan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Pans {
    /// The pan's key, or its words, see [`find`].
    pub pan: String,
    /// Grams of water that it holds, of a pan of the kitchen's own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water: Option<f64>,
    /// How many.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub count: u32,
    /// Share of its volume that is filled, in place of what is usual.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fill: Option<f64>,
    /// As full as suits it, and not as full as the pan that the method names.
    #[serde(default, skip_serializing_if = "is_false")]
    pub full: bool,
}

fn one() -> u32 {
    1
}

fn is_one(count: &u32) -> bool {
    *count == 1
}

impl Pans {
    /// One pan, by its words; an own pan takes its water along.
    ///
    /// # Errors
    /// [`PanError`] when the words mean no pan.
    pub fn of(words: &str, own: &[OwnPan]) -> Result<Self, PanError> {
        let pan = find(words, own).or_else(|e| Said::shallow(words).map(|s| s.pan).ok_or(e))?;
        Ok(Self {
            pan: pan.key,
            water: pan.water.map(Mass::as_grams),
            count: 1,
            fill: None,
            full: false,
        })
    }

    /// Pans by their words: `round 9x2`, `2 x loaf_9x5x3`, `two 23 cm sandwich tins`.
    ///
    /// # Errors
    /// [`PanError`] when the words mean no pan.
    pub fn read(words: &str, own: &[OwnPan]) -> Result<Self, PanError> {
        let (count, one) = counted(words, own)?;
        Ok(Self {
            count,
            ..Self::of(one, own).map_err(|e| e.of_many(count))?
        })
    }

    /// The pan.
    ///
    /// # Errors
    /// [`PanError`] when its words mean none.
    pub fn pan(&self) -> Result<Pan, PanError> {
        let own = OwnPan {
            name: self.pan.clone(),
            water: self.water,
        };
        match self.water {
            Some(_) => find(&self.pan, &[own]),
            None => find(&self.pan, &[]).or_else(|e| self.assumed().map(|s| s.pan).ok_or(e)),
        }
    }

    /// The pan as it is taken, where its depth is not said and that of a usual one is.
    pub(super) fn assumed(&self) -> Option<Said> {
        let said = self.water.is_none().then(|| Said::shallow(&self.pan));
        said.flatten()
    }

    fn words(&self) -> String {
        let name = self.pan().map_or(self.pan.clone(), |p| p.words());
        let fill = self.fill.map_or(String::new(), |f| {
            format!(" filled to {} %", plain(f * 100.0))
        });
        // A pan that is called by its water has said it.
        let water = self.water.filter(|_| !name.contains("water"));
        let water = water.map_or(String::new(), |g| format!(" ({} g of water)", plain(g)));
        match self.count {
            1 => format!("{name}{water}{fill}"),
            n => format!("{n} × {name}{water}{fill}"),
        }
    }
}

/// What is at hand of one food.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Have {
    /// The food, in words or by its larder key.
    pub what: String,
    /// Grams.
    pub grams: f64,
    /// How many eggs of no size: they are the recipe's own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<f64>,
}

impl Ask {
    /// So many times the recipe.
    #[must_use]
    pub fn times(factor: f64) -> Self {
        Target::Times(factor).into()
    }

    /// Whether its figures are figures. What the recipe makes of them is another matter.
    ///
    /// # Errors
    /// [`SizeError`] for what is zero, negative or no number, for a pan that is none, and for more
    /// words than anybody writes.
    pub fn check(&self) -> Result<(), SizeError> {
        for (name, size) in &self.parts {
            short(name)?;
            if let PartSize::Times(times) = size {
                check_factor(*times)?;
            }
        }
        self.part.as_deref().map_or(Ok(()), short)?;
        let pans = |pans: &Pans| -> Result<(), SizeError> {
            short(&pans.pan)?;
            positive("number of pans", f64::from(pans.count), "2")?;
            for share in [pans.fill, pans.water].into_iter().flatten() {
                positive("share or weight of a pan", share, "55 %")?;
            }
            pans.pan().map(|_| ()).map_err(SizeError::from)
        };
        match &self.target {
            Target::Times(times) => check_factor(*times),
            Target::Pieces(p) => {
                if let Some(count) = p.count {
                    whole("number of pieces", count, "12, a whole number")?;
                }
                let each = p.each.map(|g| positive("weight of a piece", g, "60 g"));
                each.transpose().map(|_| ())
            }
            Target::Servings(n) => positive("number of servings", *n, "8").map(|_| ()),
            Target::Makes(g) | Target::Flour(g) => positive("weight", *g, "900 g").map(|_| ()),
            Target::Line { line, grams } => {
                short(line)?;
                positive("weight of a line", *grams, "210 g").map(|_| ())
            }
            Target::Pan(to) => pans(to),
            Target::FromPan { from, to, .. } => pans(from).and_then(|()| pans(to)),
            Target::Sheet {
                long,
                wide,
                thick,
                typed,
            } => {
                short(typed)?;
                for value in [*long, *wide, *thick] {
                    positive("measure of a sheet", value, "40 cm")?;
                }
                Ok(())
            }
            Target::Have(list) => {
                for have in list {
                    short(&have.what)?;
                    positive("weight at hand", have.grams, "210 g")?;
                }
                let many = list.len() as f64;
                if (1.0..=200.0).contains(&many) {
                    return Ok(());
                }
                Err(SizeError::Figure {
                    what: "number of things at hand",
                    value: many,
                    such_as: "210 g butter, 3 eggs",
                })
            }
        }
    }

    /// This ask with its figure typed anew: a form's words in place of the one figure that is 0 or
    /// empty in it.
    ///
    /// # Inputs
    /// - `own`: the kitchen's own pans.
    ///
    /// # Returns
    /// `None` where nothing is typed: the recipe once.
    ///
    /// # Errors
    /// [`SizeError`] where the words are no such figure.
    pub fn typed(
        &self,
        words: &str,
        larder: &Larder,
        locale: Locale,
        own: &[OwnPan],
    ) -> Result<Option<Self>, SizeError> {
        let words = words.trim();
        if words.is_empty() {
            return Ok(None);
        }
        let wrong = |such_as| SizeError::Words {
            words: words.to_owned(),
            such_as,
        };
        let number = |such_as| {
            let plain = words.trim_start_matches(['×', 'x']).trim_start();
            figure(plain).ok_or_else(|| wrong(such_as))
        };
        let weight = |such_as| {
            let grams = mass(words).map(Mass::as_grams);
            grams.ok_or_else(|| wrong(such_as))
        };
        let pans = || Pans::read(words, own).map_err(SizeError::from);
        let target = match &self.target {
            Target::Times(_) => Target::Times(number("1.5 or 1/2")?),
            Target::Servings(_) => Target::Servings(number("8")?),
            Target::Makes(_) => Target::Makes(weight("900 g")?),
            Target::Flour(_) => Target::Flour(weight("400 g")?),
            Target::Line { line, .. } => Target::Line {
                line: line.clone(),
                grams: weight("210 g")?,
            },
            Target::Pieces(p) if p.each == Some(0.0) => Target::Pieces(Pieces {
                each: Some(weight("60 g")?),
                ..*p
            }),
            Target::Pieces(p) => Target::Pieces(Pieces {
                count: Some(number("12")?),
                ..*p
            }),
            Target::Pan(_) => Target::Pan(pans()?),
            Target::FromPan {
                to,
                keep_depth,
                from,
            } if from.pan.is_empty() => {
                let from = pans()?;
                // Where the new pan is still to be named, it is the same: once the recipe.
                let same = to.pan.is_empty();
                Target::FromPan {
                    to: if same { from.clone() } else { to.clone() },
                    from,
                    keep_depth: *keep_depth,
                }
            }
            Target::FromPan {
                from, keep_depth, ..
            } => Target::FromPan {
                from: from.clone(),
                to: pans()?,
                keep_depth: *keep_depth,
            },
            Target::Sheet { .. } => Target::sheet_of(words)?,
            Target::Have(_) => {
                let list = words
                    .split([',', ';', '\n'])
                    .filter(|w| !w.trim().is_empty());
                let list = list.map(|w| Have::read(w, larder, locale));
                Target::Have(list.collect::<Result<_, _>>()?)
            }
        };
        Ok(Some(Self {
            target,
            ..self.clone()
        }))
    }

    /// Whether it is the recipe as it stands.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        *self == Self::default()
    }
}

/// Names are a few words.
fn short(words: &str) -> Result<(), SizeError> {
    if words.len() <= LONGEST {
        return Ok(());
    }
    Err(SizeError::Figure {
        what: "length of a name, in letters",
        value: words.chars().count() as f64,
        such_as: "20",
    })
}

impl Target {
    /// A sheet by all its words: `40 x 30 cm, 5 mm`, `40x30cm 6mm`, `40 x 30 cm at 6 mm`.
    fn sheet_of(words: &str) -> Result<Self, SizeError> {
        let plain = words.trim().trim_end_matches("thick");
        // Without a word between, the last figure is the thickness: of '2,5 mm' all of it.
        let figures = plain.rmatch_indices(' ').map(|(at, _)| plain.split_at(at));
        let mut figures = figures.map(|(size, thick)| (size, thick.trim_start()));
        let last = figures.find(|(_, thick)| thick.starts_with(|c: char| c.is_ascii_digit()));
        let cuts = [", ", " at ", " and ", ","].map(|cut| plain.rsplit_once(cut));
        let mut read = cuts.into_iter().chain([last]).flatten();
        read.find_map(|(size, thick)| Self::sheet(size.trim_end_matches(','), thick).ok())
            .ok_or_else(|| SizeError::Words {
                words: words.trim().to_owned(),
                such_as: "40 x 30 cm, 5 mm",
            })
    }

    /// A sheet by its words: `40 x 30 cm` and `5 mm`; without a unit centimetres, and millimetres
    /// for the thickness.
    ///
    /// # Errors
    /// [`SizeError::Words`] when these are no measures.
    pub fn sheet(size: &str, thick_words: &str) -> Result<Self, SizeError> {
        let wrong = |words: &str, such_as| SizeError::Words {
            words: words.trim().to_owned(),
            such_as,
        };
        let sides = lengths(size, Length::millimetres(10.0)).filter(|s| s.len() == 2);
        let sides = sides.ok_or_else(|| wrong(size, "40 x 30 cm"))?;
        let thick = length(thick_words, Length::millimetres(1.0))
            .ok_or_else(|| wrong(thick_words, "5 mm"))?;
        let inches = |words: &str| words.contains("in") || words.contains(['"', '″', '”']);
        let typed = if inches(&size.to_lowercase()) || inches(&thick_words.to_lowercase()) {
            format!("{}, {}", size.trim(), thick_words.trim())
        } else {
            String::new()
        };
        Ok(Self::Sheet {
            typed,
            long: sides[0].as_millimetres() / 10.0,
            wide: sides[1].as_millimetres() / 10.0,
            thick: thick.as_millimetres(),
        })
    }
}

impl Have {
    /// As it is typed: `210 g butter`, `3 eggs`.
    #[must_use]
    pub fn words(&self) -> String {
        self.said(as_typed)
    }

    fn said(&self, grams: fn(f64) -> String) -> String {
        let what = self.what.replace('_', " ");
        match self.count {
            Some(n) => format!("{} {what}", as_typed(n)),
            None => format!("{} g {what}", grams(self.grams)),
        }
    }

    /// What is at hand, by its words: `210 g butter`, `3 eggs`, `1 cup milk`.
    ///
    /// # Errors
    /// [`SizeError::Words`] when no weight comes of them.
    pub fn read(words: &str, larder: &Larder, locale: Locale) -> Result<Self, SizeError> {
        let wrong = || SizeError::Words {
            words: words.trim().to_owned(),
            such_as: "210 g butter, 3 eggs or 1 cup milk",
        };
        // A stroke right before a figure is no bullet.
        let below = words.trim_start().strip_prefix(['-', '−']);
        if below.is_some_and(|w| w.starts_with(|c: char| c.is_ascii_digit())) {
            return Err(wrong());
        }
        let line = crate::read::Reader::new(larder, locale).line(words);
        let item = line.items.first().ok_or_else(wrong)?;
        if item.amounts.first().is_some_and(|a| a.high <= 0.0) {
            positive("weight at hand", 0.0, "210 g")?;
        }
        let (weighed, _) = crate::weigh::line(&line, larder, locale);
        let first = weighed.first().ok_or_else(wrong)?;
        let stated = first.grams.or_else(|| {
            // Of what the larder does not know, a weight as it is written.
            let amount = item.amounts.first()?;
            match amount.unit?.hold(locale) {
                quantity::Hold::Mass(one) => Some(Spread::exact(one * amount.high)),
                _ => None,
            }
        });
        let what = line.words(&item.name).trim().to_owned();
        if !what.contains(char::is_alphabetic) {
            return Err(wrong());
        }
        let is_egg = first
            .food
            .is_some_and(|f| larder.food(f).function() == Function::Egg);
        let plain = item.qualities.size.is_none() && is_egg;
        let count = match item.amounts.as_slice() {
            [n] if plain && n.unit == Some(quantity::Unit::Count) => Some(n.middle()),
            _ => None,
        };
        match stated {
            Some(grams) if !what.is_empty() => Ok(Self {
                count,
                what,
                grams: likely(grams),
            }),
            // '2 cups of something': the measure is understood, the food is not.
            None if !what.is_empty() && !item.amounts.is_empty() => Err(SizeError::NoWeight {
                words: words.trim().to_owned(),
                what,
            }),
            _ => Err(wrong()),
        }
    }
}

impl From<Target> for Ask {
    fn from(target: Target) -> Self {
        Self {
            target,
            ..Self::default()
        }
    }
}

impl Default for Target {
    fn default() -> Self {
        Self::Times(1.0)
    }
}

/// A figure without useless digits: to a thousandth.
pub(super) fn plain(value: f64) -> String {
    ((value * 1000.0).round() / 1000.0).to_string()
}

/// A figure as it was typed, but for digits that nobody types: four figures, or all whole ones;
/// of huge and tiny ones how huge and tiny.
pub(super) fn as_typed(value: f64) -> String {
    let size = value.abs();
    if !value.is_finite() || size == 0.0 {
        return value.to_string();
    }
    if size >= 1e9 {
        return "over 1000 million".to_owned();
    }
    if size < 1e-6 {
        return "under a millionth".to_owned();
    }
    let decimals = (3.0 - size.log10().floor()).max(1.0) as i32;
    let unit = 10f64.powi(decimals);
    ((value * unit).round() / unit).to_string()
}

/// Grams as they were typed; what came of pounds or cups, with digits that nobody typed, as a scale shows it.
fn weighed(grams: f64) -> String {
    let typed = (grams * 10.0 - (grams * 10.0).round()).abs() < 1e-6;
    if typed || grams < 100.0 || !grams.is_finite() {
        return as_typed(grams);
    }
    as_typed(grams.round())
}

impl fmt::Display for Target {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Times(n) => write!(f, "× {}", as_typed(*n)),
            Self::Pieces(p) => {
                let baked = if p.baked { " baked" } else { "" };
                match (p.count, p.each) {
                    (Some(n), Some(g)) => {
                        write!(f, "{} pieces of {} g{baked}", as_typed(n), as_typed(g))
                    }
                    (Some(n), None) => write!(f, "{} pieces", as_typed(n)),
                    (None, Some(g)) => write!(f, "pieces of {} g{baked}", as_typed(g)),
                    (None, None) => f.write_str("pieces"),
                }
            }
            Self::Servings(n) => write!(f, "{} servings", as_typed(*n)),
            Self::Makes(g) => write!(f, "{} g", weighed(*g)),
            Self::Flour(g) => write!(f, "{} g of flour", weighed(*g)),
            Self::Line { line, grams } => {
                write!(f, "{} g of {}", weighed(*grams), line.replace('_', " "))
            }
            Self::Pan(pans) if pans.full => write!(f, "as much as suits {}", pans.words()),
            Self::Pan(pans) => f.write_str(&pans.words()),
            Self::FromPan {
                from,
                to,
                keep_depth,
            } => {
                let depth = if *keep_depth { ", as deep" } else { "" };
                write!(f, "{} in place of {}{depth}", to.words(), from.words())
            }
            Self::Sheet { typed, .. } if !typed.is_empty() => write!(f, "a sheet of {typed} thick"),
            Self::Sheet {
                long, wide, thick, ..
            } => write!(
                f,
                "a sheet of {} × {} cm, {} mm thick",
                as_typed(*long),
                as_typed(*wide),
                as_typed(*thick)
            ),
            Self::Have(list) => {
                let words = list.iter().map(|have| have.said(weighed));
                write!(f, "what there is: {}", words.collect::<Vec<_>>().join(", "))
            }
        }
    }
}

impl fmt::Display for Ask {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.target.fmt(f)?;
        match (&self.part, self.only) {
            (Some(part), true) => write!(f, ", the {part} alone")?,
            (Some(part), false) => write!(f, ", by the {part}")?,
            (None, true) => f.write_str(", that part alone")?,
            (None, false) => {}
        }
        for (name, size) in &self.parts {
            match size {
                PartSize::Enough => write!(f, ", exactly enough {name}")?,
                PartSize::Times(n) => write!(f, ", {name} × {}", as_typed(*n))?,
            }
        }
        if self.whole_eggs {
            f.write_str(", whole eggs")?;
        }
        Ok(())
    }
}

/// The number a spread of a quantity is most likely.
pub(super) fn likely<Q: Quantity>(of: Spread<Q>) -> f64 {
    of.likely().value()
}

#[cfg(test)]
mod tests {
    use super::{Have, Pans, Target, as_typed};

    /// 2 lb are 907.18 g, and 500 mL of whole milk 515.7: no scale in a kitchen shows the last digit of either.
    #[test]
    fn what_is_asked_for_has_no_digits_that_nobody_typed() {
        let have = Have {
            what: "milk".to_owned(),
            grams: 515.659,
            count: None,
        };
        for (target, want) in [
            (Target::Makes(907.184_74), "907 g"),
            (Target::Makes(907.5), "907.5 g"),
            (Target::Flour(56.699), "56.7 g of flour"),
            (Target::Have(vec![have]), "what there is: 516 g milk"),
            (
                Target::Pan(Pans::of("1500 g water", &[]).expect("a pan")),
                "1500 g water",
            ),
        ] {
            assert_eq!(target.to_string(), want);
        }
    }

    #[test]
    fn no_figure_is_in_powers_of_ten() {
        for (value, want) in [
            (1e9, "over 1000 million"),
            (1e299, "over 1000 million"),
            (1e-9, "under a millionth"),
            (5_714_285.7, "5714285.7"),
            (0.000_12, "0.00012"),
        ] {
            assert_eq!(as_typed(value), want);
        }
    }
}
