//! What is asked of a shape, in the baker's own words: a kind, and what was typed for each of its
//! fields. One table of fields serves the command line, the page and the sheet.

use super::cutouts::{CutOutsAsk, Cutter, cut_outs};
use super::fit::{FitAsk, Growing, Grows, Pieces, fit};
use super::lattice::{LatticeAsk, Strips, lattice};
use super::layers::{Between, LayersAsk, layers};
use super::rounds::{RingAsk, RingBy, RoundAsk, Share, ring, round, usual_growth};
use super::sheet::{SheetAsk, sheet};
use super::spiral::{Cut, Filling, RollAsk, roll};
use super::strands::{PlaitAsk, PlaitBy, plait};
use super::tin::{LiningAsk, Outline, Tin, lining};
use super::{Dough, ShapeError, Shaped, cautions, density, typed};
use density::practice;
use quantity::{Length, Mass, Quantity, Ratio, Spread};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Rolled out.
    Sheet,
    /// Rolled up.
    Roll,
    /// Plaited or twisted.
    Plait,
    /// Balls or discs.
    Round,
    /// Rings.
    Ring,
    /// Strips over a tart.
    Lattice,
    /// Cut from a sheet.
    CutOuts,
    /// A tin lined.
    Lining,
    /// A layered cake.
    Layers,
    /// A fit to a pan.
    Fit,
}

/// How a field is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Entry {
    /// A length; a bare figure is so many millimetres.
    Length(f64),
    /// A length that may be 0.
    LengthOrNone(f64),
    /// One side or more, up to so many.
    Sides(usize),
    /// A weight.
    Weight,
    /// A weight, a thickness, or grams on an area.
    Filling,
    /// A density.
    Density,
    /// A growth.
    Growth,
    /// A whole number from, to.
    Count(u32, u32),
    /// A figure from, to.
    Number(f64, f64),
    /// One of these words.
    Choice(&'static [(&'static str, &'static str)]),
}

/// A field of a shape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    /// Its key: an option on the command line, a field on the page and on the sheet.
    pub key: &'static str,
    /// Its name on screens.
    pub name: &'static str,
    /// What may be typed, and what holds where nothing is.
    pub hint: &'static str,
    /// How it is read.
    pub entry: Entry,
}

const fn field(key: &'static str, name: &'static str, hint: &'static str, entry: Entry) -> Field {
    Field {
        key,
        name,
        hint,
        entry,
    }
}

const CM: f64 = 10.0;
const MM: f64 = 1.0;
const GROWS: &[(&str, &str)] = &[
    ("wider", "wider, its height held"),
    ("all", "on all sides alike"),
];

const DOUGH: Field = field("dough", "Dough", "its weight: 600 g", Entry::Weight);
const DENSITY: Field = field(
    "density",
    "Density",
    "g/mL, '280 g in 250 ml', or a name like butter; by style or 1.1 without it",
    Entry::Density,
);
const LENGTH: Field = field("length", "Length", "40 cm or 16 in", Entry::Length(CM));
const WIDTH: Field = field("width", "Width", "30 cm or 12 in", Entry::Length(CM));
const THICK: Field = field(
    "thick",
    "Thickness",
    "5 mm or 1/4 in; follows from the weight without it",
    Entry::Length(MM),
);
const PIECES: Field = field("pieces", "Pieces", "how many", Entry::Count(1, 500));
const EACH: Field = field("each", "Each", "what a piece weighs: 60 g", Entry::Weight);
const GROWTH: Field = field(
    "growth",
    "Growth",
    "times its volume: 1.5 or 1.3-1.8, which holds without it",
    Entry::Growth,
);
const SPRING: Field = field(
    "spring",
    "Oven spring",
    "times its height in the oven; 1.05-1.2 without it",
    Entry::Growth,
);
const GROWS_FIELD: Field = field(
    "grows",
    "Grows",
    "wider: its height is held, which holds without it; all: on all sides",
    Entry::Choice(GROWS),
);
const FILLING: Field = field(
    "filling",
    "Filling",
    "250 g, 0.3 g/cm2 or 2 mm",
    Entry::Filling,
);
const FILLING_DENSITY: Field = field(
    "filling-density",
    "Filling density",
    "g/mL, '280 g in 250 ml', or a name like jam; 1.1 without it",
    Entry::Density,
);
const PAN: Field = field(
    "pan",
    "Pan",
    "inside: 23x5cm for a round, 30x20x5cm for an oblong",
    Entry::Sides(3),
);

impl Kind {
    /// All, in the order they are offered.
    pub const ALL: [Self; 10] = [
        Self::Sheet,
        Self::Roll,
        Self::Plait,
        Self::Round,
        Self::Ring,
        Self::Lattice,
        Self::CutOuts,
        Self::Lining,
        Self::Layers,
        Self::Fit,
    ];
    /// Its key on the sheet and its word on the command line.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Sheet => "sheet",
            Self::Roll => "roll",
            Self::Plait => "plait",
            Self::Round => "round",
            Self::Ring => "ring",
            Self::Lattice => "lattice",
            Self::CutOuts => "cut-outs",
            Self::Lining => "lining",
            Self::Layers => "layers",
            Self::Fit => "fit",
        }
    }
    /// Its name on screens.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Sheet => "sheet",
            Self::Roll => "filled roll, sliced",
            Self::Plait => "plait or twist",
            Self::Round => "balls or discs",
            Self::Ring => "rings",
            Self::Lattice => "lattice",
            Self::CutOuts => "cut-outs",
            Self::Lining => "lined tin",
            Self::Layers => "layers and filling",
            Self::Fit => "fit to a pan",
        }
    }
    /// What it works out, in a sentence.
    #[must_use]
    pub fn about(self) -> &'static str {
        match self {
            Self::Sheet => "Any one of weight, length, width and thickness of a rolled-out sheet",
            Self::Roll => {
                "A sheet filled and rolled up: turns, width, slices, filling; and slices in a pan"
            }
            Self::Plait => "Strands of a plait or twist: weight, length before, length lost",
            Self::Round => "Balls or discs from a weight, shaped and risen",
            Self::Ring => "Rings from a weight: strand, hole, and the hole when risen",
            Self::Lattice => "Strips over a tart: how many, how long, how much dough",
            Self::CutOuts => "Pieces from a sheet, and from its scrap rolled out again",
            Self::Lining => "Paper and dough that line a tin, straight or sloped",
            Self::Layers => "Cake split and filled: thickness, filling, coat, height",
            Self::Fit => "Pieces, or a dough as one, in a pan before and after they rise",
        }
    }
    /// The shape of a key.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|k| k.key() == key)
    }
    /// Its fields, the most wanted first.
    #[must_use]
    pub fn fields(self) -> &'static [Field] {
        const SHEET: &[Field] = &[DOUGH, LENGTH, WIDTH, THICK, DENSITY];
        const ROLL: &[Field] = &[
            DOUGH,
            field(
                "length",
                "Rolled up",
                "the side that is rolled up: 40 cm",
                Entry::Length(CM),
            ),
            field(
                "width",
                "Along the log",
                "the other side: 30 cm",
                Entry::Length(CM),
            ),
            THICK,
            FILLING,
            FILLING_DENSITY,
            field(
                "margin",
                "Bare margin",
                "along the edge that closes the roll; 20 mm without it",
                Entry::LengthOrNone(MM),
            ),
            field(
                "trim",
                "Trim each end",
                "cut off each end of the log; none without it",
                Entry::LengthOrNone(MM),
            ),
            field("slices", "Slices", "how many", Entry::Count(1, 200)),
            field(
                "slice",
                "Slice width",
                "in place of how many: 4 cm",
                Entry::Length(CM),
            ),
            field(
                "core",
                "Core",
                "radius of what it is rolled round; none without it",
                Entry::LengthOrNone(MM),
            ),
            PAN,
            GROWTH,
            SPRING,
            DENSITY,
        ];
        const PLAIT: &[Field] = &[
            DOUGH,
            field(
                "strands",
                "Strands",
                "2 for a twist, to 8; 3 without it",
                Entry::Count(2, 8),
            ),
            field(
                "strand",
                "Strand length",
                "before plaiting: 45 cm",
                Entry::Length(CM),
            ),
            field(
                "finished",
                "Plait length",
                "in place of the strand's: 30 cm",
                Entry::Length(CM),
            ),
            field(
                "crossing",
                "Crossing angle",
                "from the plait's length, degrees; 30–45 without it",
                Entry::Number(5.0, 60.0),
            ),
            DENSITY,
        ];
        const ROUND: &[Field] = &[
            DOUGH,
            PIECES,
            EACH,
            field(
                "thick",
                "Disc thickness",
                "8 mm; a ball without it",
                Entry::Length(MM),
            ),
            field(
                "across",
                "Disc width",
                "in place of its thickness: 9 cm",
                Entry::Length(CM),
            ),
            GROWTH,
            DENSITY,
        ];
        const RING: &[Field] = &[
            DOUGH,
            PIECES,
            EACH,
            field(
                "outer",
                "Across",
                "outside to outside: 10 cm",
                Entry::Length(CM),
            ),
            field("hole", "Hole", "in place of that: 3 cm", Entry::Length(CM)),
            field(
                "strand",
                "Strand length",
                "in place of both: 25 cm",
                Entry::Length(CM),
            ),
            GROWTH,
            DENSITY,
        ];
        const LATTICE: &[Field] = &[
            DOUGH,
            field(
                "over",
                "Over",
                "23 cm for a round, 30x20cm for an oblong",
                Entry::Sides(2),
            ),
            field("strip", "Strip width", "2 cm", Entry::Length(CM)),
            field("strips", "Strips each way", "how many", Entry::Count(1, 60)),
            field(
                "gap",
                "Gap",
                "in place of how many; as wide as a strip without either",
                Entry::LengthOrNone(MM),
            ),
            THICK,
            field(
                "overhang",
                "Overhang",
                "over the edge at each end; none without it",
                Entry::LengthOrNone(MM),
            ),
            DENSITY,
        ];
        const CUT_OUTS: &[Field] = &[
            DOUGH,
            LENGTH,
            WIDTH,
            THICK,
            field(
                "cutter",
                "Cutter",
                "6 cm for a round, 5x8cm for an oblong",
                Entry::Sides(2),
            ),
            field(
                "gap",
                "Gap",
                "dough between pieces; 2 mm without it",
                Entry::LengthOrNone(MM),
            ),
            field(
                "rounds",
                "Rolled out again",
                "how often scrap is rolled out; 2 without it",
                Entry::Count(0, 8),
            ),
            field(
                "lost",
                "Lost",
                "% of scrap lost each time; 10 without it",
                Entry::Number(0.0, 90.0),
            ),
            DENSITY,
        ];
        const LINING: &[Field] = &[
            DOUGH,
            field(
                "base",
                "Base",
                "20 cm for a round, 20x10cm for an oblong",
                Entry::Sides(2),
            ),
            field(
                "top",
                "Rim",
                "where it is wider than the base: 23 cm",
                Entry::Sides(2),
            ),
            field("deep", "Depth", "5 cm", Entry::Length(CM)),
            THICK,
            field(
                "overhang",
                "Overhang",
                "dough over the rim; 20 mm without it",
                Entry::LengthOrNone(MM),
            ),
            field(
                "overlap",
                "Overlap",
                "of the paper band; 20 mm without it",
                Entry::LengthOrNone(MM),
            ),
            field(
                "above",
                "Paper above",
                "over the rim; 20 mm without it",
                Entry::LengthOrNone(MM),
            ),
            DENSITY,
        ];
        const LAYERS: &[Field] = &[
            field(
                "across",
                "Cake",
                "20 cm for a round, 30x20cm for an oblong",
                Entry::Sides(2),
            ),
            field(
                "cake",
                "Cake height",
                "6 cm, or of all cakes together",
                Entry::Length(CM),
            ),
            field(
                "level",
                "Levelled off",
                "cut off the top; none without it",
                Entry::LengthOrNone(MM),
            ),
            field(
                "layers",
                "Layers",
                "of cake; 2 without it",
                Entry::Count(1, 30),
            ),
            field(
                "filling",
                "Filling",
                "5 mm each, or 300 g in all",
                Entry::Filling,
            ),
            FILLING_DENSITY,
            field(
                "coat",
                "Coat",
                "on top and sides: 4 mm; none without it",
                Entry::LengthOrNone(MM),
            ),
            field(
                "coat-density",
                "Coat density",
                "as that of the filling, which holds without it",
                Entry::Density,
            ),
            field(
                "tall",
                "Most height",
                "of box or shelf: 12 cm",
                Entry::Length(CM),
            ),
            field(
                "board",
                "Board",
                "that shows all round; 25 mm without it",
                Entry::LengthOrNone(MM),
            ),
        ];
        const FIT: &[Field] = &[
            DOUGH,
            PAN,
            field(
                "top",
                "Rim",
                "where it is wider than the base: 13x25cm",
                Entry::Sides(2),
            ),
            field(
                "pieces",
                "Pieces",
                "how many; the dough as one without it",
                Entry::Count(1, 200),
            ),
            field(
                "across",
                "Piece across",
                "4 cm; a ball of its weight without it",
                Entry::Length(CM),
            ),
            field(
                "high",
                "Piece height",
                "3 cm; follows from its weight without it",
                Entry::Length(CM),
            ),
            GROWTH,
            GROWS_FIELD,
            SPRING,
            DENSITY,
        ];
        match self {
            Self::Sheet => SHEET,
            Self::Roll => ROLL,
            Self::Plait => PLAIT,
            Self::Round => ROUND,
            Self::Ring => RING,
            Self::Lattice => LATTICE,
            Self::CutOuts => CUT_OUTS,
            Self::Lining => LINING,
            Self::Layers => LAYERS,
            Self::Fit => FIT,
        }
    }
    /// One of its fields.
    #[must_use]
    pub fn field(self, key: &str) -> Option<&'static Field> {
        self.fields().iter().find(|f| f.key == key)
    }
}

/// What is asked of a shape.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ShapeAsk {
    /// The kind, by its key.
    pub shape: String,
    /// What was typed, by the field's key.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub says: BTreeMap<String, String>,
}

impl Field {
    /// Whether words can be read as this field's value.
    ///
    /// # Errors
    /// [`ShapeError`] that names the field.
    pub fn check(&self, text: &str) -> Result<(), ShapeError> {
        let done = match self.entry {
            Entry::Length(bare) => typed::length(text, bare).map(|_| ()),
            Entry::LengthOrNone(bare) => typed::length_or_none(text, bare).map(|_| ()),
            Entry::Sides(most) => typed::sides(text, CM).and_then(|s| {
                if s.len() > most {
                    return Err(ShapeError::new(
                        format!("'{}' has {} sides", text.trim(), s.len()),
                        format!("write at most {most}: {}", self.hint),
                    ));
                }
                Ok(())
            }),
            Entry::Weight => typed::grams(text).map(|_| ()),
            Entry::Filling => filling(text).map(|_| ()),
            Entry::Density => typed::density(text).map(|_| ()),
            Entry::Growth => typed::growth(text).map(|_| ()),
            Entry::Count(least, most) => typed::count(text, least, most).map(|_| ()),
            Entry::Number(least, most) => typed::number(text, least, most).map(|_| ()),
            Entry::Choice(words) => {
                if words.iter().any(|w| w.0 == text.trim()) {
                    Ok(())
                } else {
                    let all: Vec<&str> = words.iter().map(|w| w.0).collect();
                    Err(ShapeError::new(
                        format!("'{}' is none of the choices", text.trim()),
                        format!("write one of: {}", all.join(", ")),
                    ))
                }
            }
        };
        done.map_err(|e| {
            ShapeError {
                what: format!("{}: {}", self.name.to_lowercase(), e.what),
                ..e
            }
            .of(self.key)
        })
    }
}

/// Grams, a thickness, or grams on an area.
fn filling(text: &str) -> Result<Filling, ShapeError> {
    let lower = text.trim().to_lowercase().replace('²', "2");
    let on_area = lower
        .strip_suffix("g/cm2")
        .or_else(|| lower.strip_suffix("g per cm2"));
    if let Some(number) = on_area {
        return match quantity::figure(number) {
            Some(n) if n > 0.0 && n <= 10.0 => Ok(Filling::OnArea(n)),
            _ => Err(ShapeError::new(
                format!("'{}' is no filling on an area", text.trim()),
                "give above 0 to 10 g/cm2, like 0.3 g/cm2",
            )),
        };
    }
    if typed::is_weight(text) {
        return typed::grams(text).map(Filling::Weight);
    }
    typed::length(text, MM).map(Filling::Thick).map_err(|_| {
        ShapeError::new(
            format!("'{}' is no filling", text.trim()),
            "write a weight like 250 g, a thickness like 2 mm, or 0.3 g/cm2",
        )
    })
}

impl ShapeAsk {
    /// A shape of which nothing is said.
    #[must_use]
    pub fn new(kind: Kind) -> Self {
        Self {
            shape: kind.key().to_owned(),
            says: BTreeMap::new(),
        }
    }
    /// Says a field.
    #[must_use]
    pub fn with(mut self, key: &str, text: &str) -> Self {
        self.says.insert(key.to_owned(), text.to_owned());
        self
    }
    /// What was typed in a field, where something was.
    #[must_use]
    pub fn says(&self, key: &str) -> Option<&str> {
        self.says
            .get(key)
            .map(|s| s.trim())
            .filter(|s| !s.is_empty())
    }
    /// The kind.
    ///
    /// # Errors
    /// [`ShapeError`] for a shape of a later program.
    pub fn kind(&self) -> Result<Kind, ShapeError> {
        Kind::from_key(&self.shape).ok_or_else(|| {
            let all: Vec<&str> = Kind::ALL.iter().map(|k| k.key()).collect();
            ShapeError::new(
                format!("no shape is called '{}'", self.shape),
                format!("the shapes are {}", all.join(", ")),
            )
        })
    }

    /// Works the shape out.
    ///
    /// # Inputs
    /// - `given`: the dough as the recipe makes it; a weight or density said in the ask goes
    ///   before it.
    ///
    /// # Errors
    /// [`ShapeError`]: what cannot be read, is missing, or cannot be made.
    ///
    /// # Example
    /// ```
    /// use recipe::shape::{Dough, Kind, ShapeAsk, density};
    /// let ask = ShapeAsk::new(Kind::Sheet)
    ///     .with("dough", "600 g")
    ///     .with("length", "40 cm")
    ///     .with("width", "30 cm")
    ///     .with("density", "1.1");
    /// let got = ask.shaped(&Dough::new(None, density::of_style(None).value))?;
    /// assert_eq!(got.measure("thick").map(|m| m.likely()).as_deref(), Some("4.5 mm"));
    /// # Ok::<(), recipe::shape::ShapeError>(())
    /// ```
    pub fn shaped(&self, given: &Dough) -> Result<Shaped, ShapeError> {
        let kind = self.kind()?;
        for f in kind.fields() {
            if let Some(text) = self.says(f.key) {
                f.check(text)?;
            }
        }
        let dough = Dough {
            grams: self.weight("dough")?.map(Spread::exact).or(given.grams),
            density: self.dense("density")?.unwrap_or(given.density),
        };
        let mut out = match kind {
            Kind::Sheet => sheet(&dough, &self.sheet()?)?.shaped(),
            Kind::Roll => self.roll(&dough)?,
            Kind::Plait => plait(&dough, &self.plait()?)?.shaped(),
            Kind::Round => round(&dough, &self.round()?)?.shaped(),
            Kind::Ring => ring(&dough, &self.ring()?)?.shaped(),
            Kind::Lattice => lattice(&dough, &self.lattice()?)?.shaped(),
            Kind::CutOuts => cut_outs(&dough, &self.cut_outs()?)?.shaped(),
            Kind::Lining => lining(&dough, &self.lining()?)?.shaped(),
            Kind::Layers => layers(&self.layers()?)?.shaped(),
            Kind::Fit => fit(&dough, &self.fit(&dough)?)?.shaped(),
        };
        cautions::add(self, &mut out);
        Ok(out)
    }

    fn wants(&self, key: &'static str) -> ShapeError {
        let f = self.kind().ok().and_then(|k| k.field(key));
        let (name, hint) = f.map_or((key, ""), |f| (f.name, f.hint));
        ShapeError::new(
            format!("{} is not known", name.to_lowercase()),
            format!("give it: {hint}"),
        )
        .of(key)
    }
    /// The length of a field, as the kind's table reads it.
    fn length(&self, key: &'static str) -> Result<Option<Length>, ShapeError> {
        let entry = self.kind()?.field(key).map(|f| f.entry);
        let of = |text: &str| match entry {
            Some(Entry::LengthOrNone(bare)) => typed::length_or_none(text, bare),
            Some(Entry::Length(bare)) => typed::length(text, bare),
            _ => typed::length(text, CM),
        };
        self.says(key).map(of).transpose().map_err(|e| e.of(key))
    }
    fn length_or(&self, key: &'static str, usual: f64) -> Result<Length, ShapeError> {
        Ok(self.length(key)?.unwrap_or(Length::of(usual)))
    }
    fn sides(&self, key: &'static str) -> Result<Option<Vec<Length>>, ShapeError> {
        let sides = self.says(key).map(|t| typed::sides(t, CM));
        sides.transpose().map_err(|e| e.of(key))
    }
    fn outline(&self, key: &'static str) -> Result<Option<Outline>, ShapeError> {
        let sides = self.sides(key)?;
        sides
            .map(|s| Outline::of(&s))
            .transpose()
            .map_err(|e| e.of(key))
    }
    fn weight(&self, key: &'static str) -> Result<Option<Mass>, ShapeError> {
        let read = self.says(key).map(typed::grams).transpose();
        read.map_err(|e| e.of(key))
    }
    fn dense(&self, key: &'static str) -> Result<Option<Spread<Ratio>>, ShapeError> {
        let read = self.says(key).map(typed::density).transpose();
        read.map_err(|e| e.of(key))
    }
    fn grown(&self, key: &'static str) -> Result<Option<Spread<Ratio>>, ShapeError> {
        let read = self.says(key).map(typed::growth).transpose();
        read.map_err(|e| e.of(key))
    }
    fn whole(&self, key: &'static str) -> Result<Option<u32>, ShapeError> {
        let Some(Entry::Count(least, most)) = self.kind()?.field(key).map(|f| f.entry) else {
            return Ok(None);
        };
        let read = self.says(key).map(|t| typed::count(t, least, most));
        read.transpose().map_err(|e| e.of(key))
    }
    fn one_of<T>(
        &self,
        a: (&'static str, Option<T>),
        b: (&'static str, Option<T>),
    ) -> Result<Option<T>, ShapeError> {
        match (a.1, b.1) {
            (Some(_), Some(_)) => Err(ShapeError::new(
                format!("both {} and {} are given", a.0, b.0),
                "one follows from the other: leave one empty",
            )
            .of(b.0)),
            (one, other) => Ok(one.or(other)),
        }
    }

    fn sheet(&self) -> Result<SheetAsk, ShapeError> {
        Ok(SheetAsk {
            length: self.length("length")?,
            width: self.length("width")?,
            thick: self.length("thick")?,
        })
    }
    fn fill_density(&self) -> Result<Spread<Ratio>, ShapeError> {
        let usual = density::named("filling").map(|d| d.value);
        let usual = usual.unwrap_or(Spread::exact(Ratio::new(1.1)));
        Ok(self.dense("filling-density")?.unwrap_or(usual))
    }
    fn roll(&self, dough: &Dough) -> Result<Shaped, ShapeError> {
        let filled = match self.says("filling") {
            Some(text) => filling(text).map_err(|e| e.of("filling"))?,
            None => Filling::None,
        };
        let margin = match (filled, self.length("margin")?) {
            (_, Some(m)) => m,
            (Filling::None, None) => Length::of(0.0),
            (_, None) => Length::of(practice("margin").value.likely().get()),
        };
        let slices = self.whole("slices")?.map(Cut::Slices);
        let wide = self.length("slice")?.map(Cut::Wide);
        let ask = RollAsk {
            sheet: self.sheet()?,
            filling: filled,
            filling_density: self.fill_density()?,
            margin,
            trim: self.length_or("trim", 0.0)?,
            core: self.length_or("core", 0.0)?,
            cut: self
                .one_of(("slices", slices), ("slice", wide))?
                .unwrap_or(Cut::Whole),
        };
        let made = roll(dough, &ask)?;
        let mut out = made.shaped();
        if let Some(pan) = self.pan()? {
            if ask.cut == Cut::Whole {
                return Err(ShapeError::new(
                    "how many slices go into the pan is not known",
                    "give slices or the width of one",
                )
                .of("slices"));
            }
            let fit = fit(
                dough,
                &FitAsk {
                    pan,
                    pieces: Some(Pieces {
                        count: made.slices,
                        across: made.across,
                        high: made.slice_wide,
                        full: 1.0,
                    }),
                    growing: self.growing()?,
                },
            )?;
            fit.put(&mut out);
        }
        Ok(out)
    }
    fn growing(&self) -> Result<Growing, ShapeError> {
        let usual = Growing::usual();
        Ok(Growing {
            proof: self.grown("growth")?.unwrap_or(usual.proof),
            spring: self.grown("spring")?.unwrap_or(usual.spring),
            grows: match self.says("grows") {
                Some("all") => Grows::AllSides,
                _ => Grows::Wider,
            },
        })
    }
    fn pan(&self) -> Result<Option<Tin>, ShapeError> {
        let Some(sides) = self.sides("pan")? else {
            return Ok(None);
        };
        let tin = match sides.as_slice() {
            [d, h] => Tin::straight(Outline::Round(*d), *h),
            [a, b, h] => Tin::straight(Outline::Sides(*a, *b), *h),
            _ => {
                return Err(ShapeError::new(
                    "the pan's depth is not given",
                    "write width and depth of a round, 23x5cm, or length, width and depth, 30x20x5cm",
                )
                .of("pan"));
            }
        };
        match self.outline("top")? {
            Some(rim) => Tin::sloped(tin.base, rim, tin.deep).map(Some),
            None => Ok(Some(tin)),
        }
    }
    fn plait(&self) -> Result<PlaitAsk, ShapeError> {
        let strand = self.length("strand")?.map(PlaitBy::Strand);
        let finished = self.length("finished")?.map(PlaitBy::Finished);
        let crossing = self
            .says("crossing")
            .map(|t| typed::number(t, 5.0, 60.0))
            .transpose()
            .map_err(|e| e.of("crossing"))?;
        Ok(PlaitAsk {
            strands: self.whole("strands")?.unwrap_or(3),
            by: self
                .one_of(("strand", strand), ("finished", finished))?
                .ok_or_else(|| self.wants("strand"))?,
            crossing,
        })
    }
    fn share(&self) -> Result<Share, ShapeError> {
        Ok(Share {
            pieces: self.whole("pieces")?,
            each: self.weight("each")?,
        })
    }
    fn round(&self) -> Result<RoundAsk, ShapeError> {
        Ok(RoundAsk {
            share: self.share()?,
            thick: self.length("thick")?,
            across: self.length("across")?,
            growth: self.grown("growth")?.unwrap_or(usual_growth()),
        })
    }
    fn ring(&self) -> Result<RingAsk, ShapeError> {
        let outer = self.length("outer")?.map(RingBy::Outer);
        let hole = self.length("hole")?.map(RingBy::Hole);
        let strand = self.length("strand")?.map(RingBy::Strand);
        let first = self.one_of(("outer", outer), ("hole", hole))?;
        Ok(RingAsk {
            share: self.share()?,
            by: self
                .one_of(("across or the hole", first), ("strand", strand))?
                .ok_or_else(|| self.wants("outer"))?,
            growth: self.grown("growth")?.unwrap_or(usual_growth()),
        })
    }
    fn lattice(&self) -> Result<LatticeAsk, ShapeError> {
        let strip = self.length("strip")?.ok_or_else(|| self.wants("strip"))?;
        let count = self.whole("strips")?.map(Strips::Count);
        let gap = self.length("gap")?.map(Strips::Gap);
        Ok(LatticeAsk {
            over: self.outline("over")?.ok_or_else(|| self.wants("over"))?,
            strip,
            strips: self
                .one_of(("strips", count), ("gap", gap))?
                .unwrap_or(Strips::Gap(strip)),
            thick: self.length("thick")?,
            overhang: self.length_or("overhang", 0.0)?,
        })
    }
    fn cut_outs(&self) -> Result<CutOutsAsk, ShapeError> {
        let cutter = match self
            .outline("cutter")?
            .ok_or_else(|| self.wants("cutter"))?
        {
            Outline::Round(d) => Cutter::Round(d),
            Outline::Sides(a, b) => Cutter::Sides(a, b),
        };
        let lost = self.says("lost").map(|t| typed::number(t, 0.0, 90.0));
        let lost = lost.transpose().map_err(|e| e.of("lost"))?;
        Ok(CutOutsAsk {
            sheet: self.sheet()?,
            cutter,
            gap: self.length_or("gap", 2.0)?,
            rounds: self.whole("rounds")?.unwrap_or(2),
            lost: lost.unwrap_or(practice("lost").value.likely().get()),
        })
    }
    fn lining(&self) -> Result<LiningAsk, ShapeError> {
        let base = self.outline("base")?.ok_or_else(|| self.wants("base"))?;
        let deep = self.length("deep")?.ok_or_else(|| self.wants("deep"))?;
        let usual = |key: &str| practice(key).value.likely().get();
        Ok(LiningAsk {
            tin: match self.outline("top")? {
                Some(rim) => Tin::sloped(base, rim, deep)?,
                None => Tin::straight(base, deep),
            },
            thick: self.length("thick")?,
            overhang: self.length_or("overhang", usual("overhang"))?,
            overlap: self.length_or("overlap", usual("overlap"))?,
            above: self.length_or("above", usual("above"))?,
        })
    }
    fn layers(&self) -> Result<LayersAsk, ShapeError> {
        let filling_density = self.fill_density()?;
        let filling = match self.says("filling").map(filling).transpose() {
            Ok(None) => Between::Thick(Length::of(0.0)),
            Ok(Some(Filling::Weight(w))) => Between::Weight(w),
            Ok(Some(Filling::Thick(t))) => Between::Thick(t),
            // g/cm² over g/mL is cm.
            Ok(Some(Filling::OnArea(on))) => {
                Between::Thick(Length::of(10.0 * on / filling_density.likely().get()))
            }
            Ok(Some(Filling::None)) => Between::Thick(Length::of(0.0)),
            Err(e) => return Err(e.of("filling")),
        };
        Ok(LayersAsk {
            across: self
                .outline("across")?
                .ok_or_else(|| self.wants("across"))?,
            cake: self.length("cake")?.ok_or_else(|| self.wants("cake"))?,
            level: self.length_or("level", 0.0)?,
            layers: self.whole("layers")?.unwrap_or(2),
            filling,
            filling_density,
            coat: self.length_or("coat", 0.0)?,
            coat_density: self.dense("coat-density")?.unwrap_or(filling_density),
            tall: self.length("tall")?,
            board: self.length_or("board", practice("board").value.likely().get())?,
        })
    }
    fn fit(&self, dough: &Dough) -> Result<FitAsk, ShapeError> {
        let pan = self.pan()?.ok_or_else(|| self.wants("pan"))?;
        let (across, high) = (self.length("across")?, self.length("high")?);
        let pieces = match self.whole("pieces")? {
            None => None,
            Some(count) => {
                let share = |thick, across| {
                    round(
                        dough,
                        &RoundAsk {
                            share: Share {
                                pieces: Some(count),
                                each: None,
                            },
                            thick,
                            across,
                            growth: usual_growth(),
                        },
                    )
                };
                Some(match (across, high) {
                    (Some(d), Some(h)) => Pieces {
                        count,
                        across: Spread::exact(d),
                        high: Spread::exact(h),
                        full: 1.0,
                    },
                    (d, h) => {
                        let r = share(h, d)?;
                        Pieces {
                            count,
                            across: r.across,
                            high: r.high,
                            full: if r.ball { 2.0 / 3.0 } else { 1.0 },
                        }
                    }
                })
            }
        };
        Ok(FitAsk {
            pan,
            pieces,
            growing: self.growing()?,
        })
    }
}
