//! Pans: what they hold, what of that a gluten-free batter fills, and finding one by its words.

mod count;
mod error;
mod holds;
mod hollows;
mod said;
mod tube;
mod typed;
mod vocabulary;
mod water;
mod words;

use crate::data::rows;
use larder::Status;
use quantity::{Length, Mass, Ratio, Spread, Volume};
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;
use std::sync::LazyLock;

pub use count::counted;
pub(crate) use count::how_many;
pub use error::PanError;
pub use said::{Depth, Said};
pub(crate) use vocabulary::is_flat;
pub use vocabulary::kind_word;
pub use words::find;

/// A charted pan holds about so much of its geometric volume: it slopes, its corners and rim are
/// rounded. Median of the pans that have both; 0.72 to 1.02 is their range.
const OF_GEOMETRIC: (f64, f64, f64) = (0.72, 0.88, 1.02);
/// Grams of gluten-free yeast dough to a millilitre of pan, before proof (common practice, no
/// source; a wheat class example is 0.33, H03 of the checks).
const DOUGH_PER_ML: (f64, f64, f64) = (0.45, 0.525, 0.60);
/// Measures that differ by less are of one pan.
const SAME_PAN: f64 = 0.03;
/// Millilitres that a gram of water takes at 20 °C: density 0.9982 g/mL (CRC handbook, from
/// memory).
const ML_PER_GRAM_OF_WATER: f64 = 1.0 / 0.9982;

/// The shape of a pan's opening.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Outline {
    /// A circle.
    Round {
        /// Inside, at the rim.
        across: Length,
    },
    /// A square or an oblong.
    Oblong {
        /// The longer side, inside.
        long: Length,
        /// The other side.
        wide: Length,
    },
    /// A ring around a tube: its volume is charted, measured, or follows from the tube.
    Ring {
        /// Inside, at the rim.
        across: Length,
        /// The tube, across, where the baker says it.
        tube: Option<Length>,
    },
    /// Sold by what it holds: no measures.
    Basin,
}

/// What a pan's volume rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The baker filled it with water and weighed that.
    Water,
    /// A chart of pans, or the capacity it is sold by.
    Charted,
    /// What the recipe says it holds: '2 litre pie dish'.
    Stated,
    /// Arithmetic on its measures, less what slopes and rounded corners take.
    Geometric,
}

impl Basis {
    /// The words on screens.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Water => "measured with water",
            Self::Charted => "charted",
            Self::Stated => "as stated",
            Self::Geometric => "worked out from its size",
        }
    }
}

/// A pan, tin or tray.
#[derive(Debug, Clone, PartialEq)]
pub struct Pan {
    /// Its key, or the words it was asked for by.
    pub key: String,
    /// What it is called: `round tin`.
    pub name: String,
    /// Its opening.
    pub outline: Outline,
    /// Its base where it is smaller than the opening, across.
    pub base: Option<Length>,
    /// How deep it is inside; none where it is only sold by what it holds.
    pub depth: Option<Length>,
    /// How many hollows: 12 of a muffin tin, 1 of a cake tin.
    pub hollows: u32,
    /// What one hollow is charted or sold to hold.
    pub charted: Option<Spread<Volume>>,
    /// The chart is doubted.
    pub doubtful: bool,
    /// Water that it holds, weighed by the baker.
    pub water: Option<Mass>,
    /// Share of it that a gluten-free batter fills; of pies and tarts, a filling.
    pub fill: Spread<Ratio>,
    /// Written in inches.
    pub inches: bool,
    /// Countries it is usual in: `us`, `uk`, `au`, `metric`.
    pub usual_in: &'static str,
    /// Where the figures come from.
    pub source: &'static str,
    /// What they rest on.
    pub status: Status,
    /// A remark.
    pub note: &'static str,
}

/// A pan of a kitchen's own, measured with water.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OwnPan {
    /// What it is called.
    pub name: String,
    /// Grams of water that it holds to the rim; none where it was not measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water: Option<f64>,
}

static PANS: LazyLock<Vec<Pan>> = LazyLock::new(|| {
    rows(include_str!("../../data/pans.tsv"))
        .map(|r| {
            let inches = r.get("unit") == "in";
            let length = |text: &str| -> Option<Length> {
                let n: f64 = text.parse().ok()?;
                Some(if inches {
                    Length::inches(n)
                } else {
                    Length::millimetres(n * 10.0)
                })
            };
            let top: Vec<Length> = r.get("top").split('x').filter_map(length).collect();
            let outline = match (r.get("shape"), top.as_slice()) {
                ("round", [across]) => Outline::Round { across: *across },
                ("ring", [across]) => Outline::Ring {
                    across: *across,
                    tube: None,
                },
                ("rect", [long, wide]) => Outline::Oblong {
                    long: *long,
                    wide: *wide,
                },
                _ => Outline::Basin,
            };
            let ml = |column| r.get(column).parse().ok().map(Volume::millilitres);
            let charted = ml("low_ml").zip(ml("high_ml")).map(|(low, high)| {
                let mid =
                    Volume::millilitres(f64::midpoint(low.as_millilitres(), high.as_millilitres()));
                Spread::new(low, mid, high)
            });
            Pan {
                key: r.get("key").to_owned(),
                name: r.get("name").to_owned(),
                outline,
                base: length(r.get("base")),
                depth: length(r.get("depth")),
                hollows: r.get("hollows").parse().unwrap_or(1),
                charted,
                doubtful: r.get("status") == "doubtful",
                water: None,
                fill: share(r.number("fill_low"), r.number("fill_high")),
                inches,
                usual_in: r.get("where"),
                source: r.get("source"),
                status: match r.get("status") {
                    "seen" | "doubtful" => Status::Seen,
                    "from memory" => Status::FromMemory,
                    _ => Status::CommonPractice,
                },
                note: r.get("note"),
            }
        })
        .collect()
});

fn share(low: f64, high: f64) -> Spread<Ratio> {
    Spread::new(
        Ratio::new(low),
        Ratio::new(f64::midpoint(low, high)),
        Ratio::new(high),
    )
}

/// The standard pans, in the table's order.
#[must_use]
pub fn all() -> &'static [Pan] {
    &PANS
}

/// The standard pan of a key.
#[must_use]
pub fn by_key(key: &str) -> Option<&'static Pan> {
    all().iter().find(|p| p.key == key)
}

/// Square millimetres of a circle.
fn disc(across: f64) -> f64 {
    PI / 4.0 * across * across
}

impl Pan {
    /// The opening's area of all hollows, cm²; `None` where the pan has no measures. Of a ring,
    /// what is round its tube.
    #[must_use]
    pub fn area(&self) -> Option<f64> {
        let mm2 = match self.outline {
            Outline::Round { across } => disc(across.as_millimetres()),
            Outline::Ring { across, .. } => {
                let hole = self.tube().map_or(0.0, Length::as_millimetres);
                disc(across.as_millimetres()) - disc(hole)
            }
            Outline::Oblong { long, wide } => long.as_millimetres() * wide.as_millimetres(),
            Outline::Basin => return None,
        };
        Some(mm2 / 100.0 * f64::from(self.hollows))
    }

    /// The volume of all hollows by arithmetic on the measures: cylinder, box, or the part of a
    /// cone where the base is smaller, h/3·(A₁ + A₂ + √(A₁·A₂)); of a ring whose tube is said, less that.
    /// `None` for other rings and basins.
    ///
    /// # Source
    /// Solid geometry; rows H01 of the checks.
    #[must_use]
    pub fn geometric(&self) -> Option<Volume> {
        let depth = self.depth?.as_millimetres();
        let top = match self.outline {
            Outline::Round { across } => disc(across.as_millimetres()),
            Outline::Oblong { long, wide } => long.as_millimetres() * wide.as_millimetres(),
            Outline::Ring {
                across,
                tube: Some(tube),
            } => disc(across.as_millimetres()) - disc(tube.as_millimetres()),
            Outline::Ring { .. } | Outline::Basin => return None,
        };
        let base = self.base.map_or(top, |b| disc(b.as_millimetres()));
        let mm3 = depth / 3.0 * (top + base + (top * base).sqrt());
        Some(Volume::millilitres(mm3 / 1000.0 * f64::from(self.hollows)))
    }

    /// The tube of a ring, across, as it is said; else, with upright walls as wide, it holds what the ring is charted or
    /// measured to hold; a tenth of its width at least. `None` of other pans and without a depth.
    #[must_use]
    pub fn tube(&self) -> Option<Length> {
        let Outline::Ring { across, tube } = self.outline else {
            return None;
        };
        if tube.is_some() {
            return tube;
        }
        let across = across.as_millimetres();
        let holds = self.volume().likely().as_millilitres() * 1000.0;
        let ring = holds / self.depth?.as_millimetres() / (PI / 4.0);
        let hole = (across * across - ring).max(across * across / 100.0).sqrt();
        Some(Length::millimetres(hole))
    }

    /// How high it stands in one hollow, mm, where so much of the pan's volume is filled; of a base that is
    /// smaller than the rim the height of a part of a cone. `None` without a depth.
    #[must_use]
    pub fn height_of(&self, filled: f64) -> Option<f64> {
        let deep = self.depth?.as_millimetres();
        Some(match (self.base, self.outline) {
            (Some(base), Outline::Round { across }) if base < across => {
                let (b, t) = (base.as_millimetres(), across.as_millimetres());
                let wide = (b.powi(3) + filled * (t.powi(3) - b.powi(3))).cbrt();
                deep * (wide - b) / (t - b)
            }
            _ => filled * deep,
        })
    }

    /// What its volume rests on.
    #[must_use]
    pub fn basis(&self) -> Basis {
        match (self.water, self.charted) {
            (Some(_), _) => Basis::Water,
            (None, Some(_)) if self.source == holds::STATED => Basis::Stated,
            (None, Some(_)) if !self.doubtful => Basis::Charted,
            _ => Basis::Geometric,
        }
    }

    /// What all its hollows hold to the rim.
    ///
    /// # Returns
    /// As measured with water; else as charted, the arithmetic inside the range; else 0.88
    /// (0.72–1.02) of the arithmetic. Charts and arithmetic differ by 5 to 25 %.
    #[must_use]
    pub fn volume(&self) -> Spread<Volume> {
        self.volume_of(self.geometric())
    }

    /// What a pan of a geometric volume holds, where nothing more is known of it: as
    /// [`Pan::volume`].
    #[must_use]
    pub fn usual_volume(geometric: Volume) -> Spread<Volume> {
        let (low, likely, high) = OF_GEOMETRIC;
        Spread::new(geometric * low, geometric * likely, geometric * high)
    }

    fn volume_of(&self, geometric: Option<Volume>) -> Spread<Volume> {
        let ml = Volume::millilitres;
        if let Some(water) = self.water {
            return Spread::exact(ml(water.as_grams() * ML_PER_GRAM_OF_WATER));
        }
        let all = self.charted.map(|c| c.scaled(f64::from(self.hollows)));
        let geometric = geometric.map(Volume::as_millilitres);
        match (all, geometric) {
            (Some(c), None) => c,
            (Some(c), Some(g)) if !self.doubtful => {
                let (low, high) = (c.low().as_millilitres(), c.high().as_millilitres());
                Spread::new(ml(low.min(g)), c.likely(), ml(high.max(g)))
            }
            (charted, Some(g)) => {
                let (low, likely, high) = OF_GEOMETRIC;
                let chart = charted.map_or(g * low, |c| c.low().as_millilitres());
                Spread::new(ml(chart.min(g * low)), ml(g * likely), ml(g * high))
            }
            (None, None) => Spread::exact(ml(0.0)),
        }
    }

    /// Grams of a batter or dough that suit it, all hollows.
    ///
    /// # Inputs
    /// - `yeast`: a dough that yeast raises: 0.45–0.60 g to the mL of pan, whatever its density.
    /// - `density`: of a batter, g/mL as it goes into the pan.
    ///
    /// # Returns
    /// Likely: the likely volume, fill and density. Low and high: the outer fills, times the
    /// density; the doubt of the volume is that of [`Pan::volume`].
    ///
    /// # Source
    /// Mass = volume × fill × density; fills and 0.45–0.60 g/mL common practice, no source.
    #[must_use]
    pub fn takes(&self, yeast: bool, density: Spread<Ratio>) -> Spread<Mass> {
        let v = self.volume().likely().as_millilitres();
        if yeast {
            let (low, likely, high) = DOUGH_PER_ML;
            return Spread::new(
                Mass::grams(v * low),
                Mass::grams(v * likely),
                Mass::grams(v * high),
            );
        }
        let d = density.likely().get();
        self.fill.map(|fill| v * fill * d)
    }

    /// Whether another pan is as good as this one: the same of the table, or of the same measures and not
    /// measured with water.
    #[must_use]
    pub fn is_as(&self, other: &Pan) -> bool {
        let near = |a: Option<f64>, b: Option<f64>| matches!((a, b), (Some(a), Some(b)) if (a / b - 1.0).abs() < SAME_PAN);
        let deep = |p: &Pan| p.depth.map(Length::as_millimetres);
        self.key == other.key
            || other.water.is_none()
                && self.hollows == other.hollows
                && near(self.area(), other.area())
                && near(deep(self), deep(other))
    }

    /// Whether its opening has another's shape and measures, whatever their depths: 23 cm is 9 in.
    #[must_use]
    pub fn is_as_wide_as(&self, other: &Pan) -> bool {
        use std::mem::discriminant;
        let (mine, theirs): (Vec<f64>, Vec<f64>) =
            (self.sides().collect(), other.sides().collect());
        let mut pairs = mine.iter().zip(&theirs);
        self.hollows == other.hollows
            && discriminant(&self.outline) == discriminant(&other.outline)
            && mine.len() == theirs.len()
            && pairs.all(|(a, b)| (a / b - 1.0).abs() < SAME_PAN)
    }

    /// Its measures in words, both units: `9 × 2 in (23 × 5 cm)`, `23 × 13 × 7 cm`.
    #[must_use]
    pub fn size(&self) -> String {
        self.measures(&self.sides().collect::<Vec<_>>())
    }

    /// The measures of its opening, without the depth: `23 cm`, `9 × 5 in (23 × 13 cm)`; empty where it has
    /// none.
    #[must_use]
    pub fn opening(&self) -> String {
        let sides: Vec<f64> = self.sides().collect();
        let depth = usize::from(self.depth.is_some());
        self.measures(&sides[..sides.len() - depth])
    }

    /// The measures of its opening for readers of any country: of one in centimetres the nearest half inches behind
    /// them, where those are the same pan: `23 cm (9 in)`, `22 cm (8½ in)`.
    #[must_use]
    pub fn opening_for_all(&self) -> String {
        let said = self.opening();
        let sides: Vec<f64> = self.sides().collect();
        let sides = &sides[..sides.len() - usize::from(self.depth.is_some())];
        let halves: Vec<f64> = sides.iter().map(|mm| (mm / 25.4 * 2.0).round()).collect();
        let mut pairs = sides.iter().zip(&halves);
        let same = pairs.all(|(mm, n)| (n / 2.0 * 25.4 / mm - 1.0).abs() < SAME_PAN);
        if self.inches || sides.is_empty() || !same {
            return said;
        }
        let half = |n: &f64| if n % 2.0 == 0.0 { "" } else { "½" };
        let inches = halves
            .iter()
            .map(|n| format!("{}{}", (n / 2.0).floor(), half(n)));
        let inches: Vec<String> = inches.collect();
        format!("{said} ({} in)", inches.join(" × "))
    }

    fn measures(&self, mm: &[f64]) -> String {
        if mm.is_empty() {
            return String::new();
        }
        let joined = |unit: f64, decimals: u8| -> String {
            let words = mm.iter().map(|v| rounded(v / unit, decimals));
            words.collect::<Vec<_>>().join(" × ")
        };
        if self.inches {
            format!("{} in ({} cm)", joined(25.4, 3), joined(10.0, 1))
        } else {
            format!("{} cm", joined(10.0, 2))
        }
    }

    /// What it can be typed by: its name and measures in its own unit, `round tin, 9 × 2 in`.
    #[must_use]
    pub fn called(&self) -> String {
        let words = self.without_tube();
        let words = words.split(" (").next().unwrap_or(&words);
        format!("{words}{}", self.tube_words())
    }

    /// What [`find`] reads as the same pan: its key, the name of an own one, what it holds where it has no
    /// measures, else its kind and measures.
    #[must_use]
    pub fn typed(&self) -> String {
        let basin = self.outline == Outline::Basin;
        if self.water.is_some() || basin || by_key(&self.key).is_some() {
            return self.key.clone();
        }
        let (unit, per) = if self.inches {
            ("in", 25.4)
        } else {
            ("cm", 10.0)
        };
        let sides = self.sides().map(|mm| rounded(mm / per, 4));
        let sides: Vec<String> = sides.collect();
        let tube = self.tube_words();
        format!("{} {} {unit}{tube}", self.name, sides.join("x"))
    }

    /// Its measures, mm, the depth last.
    fn sides(&self) -> impl Iterator<Item = f64> {
        let (one, two) = match self.outline {
            Outline::Round { across } | Outline::Ring { across, .. } => (Some(across), None),
            Outline::Oblong { long, wide } => (Some(long), Some(wide)),
            Outline::Basin => (None, None),
        };
        let all = one.into_iter().chain(two).chain(self.depth);
        all.map(Length::as_millimetres)
    }

    /// Name and measures: `round tin, 9 × 2 in (23 × 5 cm)`.
    #[must_use]
    pub fn words(&self) -> String {
        format!("{}{}", self.without_tube(), self.tube_words())
    }

    fn without_tube(&self) -> String {
        match self.size() {
            size if size.is_empty() => self.name.clone(),
            size => format!("{}, {size}", self.name),
        }
    }

    /// The tube of a ring where it is said: `, tube 6 cm`.
    fn tube_words(&self) -> String {
        let Outline::Ring {
            tube: Some(tube), ..
        } = self.outline
        else {
            return String::new();
        };
        format!(", tube {} cm", rounded(tube.as_millimetres() / 10.0, 4))
    }
}

/// A length without useless digits: with one decimal whole above 10, else to a half, for what is written in
/// another unit; with two to a tenth; otherwise to four.
fn rounded(value: f64, decimals: u8) -> String {
    let value = match decimals {
        1 if value >= 10.0 => value.round(),
        1 => (value * 2.0).round() / 2.0,
        2 => (value * 10.0).round() / 10.0,
        _ => (value * 1e4).round() / 1e4,
    };
    value.to_string()
}

#[cfg(test)]
mod tests;
