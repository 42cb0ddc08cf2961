//! Shape: from a weight of dough to what lies on the board: sheets, rolls, plaits, rounds, rings,
//! lattices, cut-outs, linings, layers, and how they sit in a pan.
//!
//! Pure geometry on volumes. A dough's volume is its weight over its density; both are ranges, so
//! every result is one. Lengths are millimetres, areas cm², weights grams, densities g/mL. A
//! drawing is data in millimetres; nothing here knows a page.
//!
//! Where geometry leaves something open (how tight a plait is, how much a dough grows), the figure
//! comes from `data/shape_practice.tsv`, with its source or 'common practice, no source'.

mod ask;
mod cautions;
mod cutouts;
mod drawing;
mod each;
mod fit;
mod kind;
mod lattice;
mod layers;
mod method;
mod named;
mod offer;
pub mod packing;
mod practice;
mod ring_tin;
mod rounds;
mod sheet;
mod spiral;
mod strands;
mod tin;
pub mod typed;

pub use ask::ShapeAsk;
pub(crate) use ask::tin_of;
pub use cutouts::{CutOuts, CutOutsAsk, Cutter, Rolling, cut_outs};
pub use drawing::{Drawing, Hang, Look, Mark};
pub use each::{count_of, is_in_pans, one_of};
pub use fit::{Fit, FitAsk, FitPan, Growing, Grows, Pieces, against_rim, fit};
pub use kind::{Entry, Field, Kind};
pub use lattice::{Lattice, LatticeAsk, Strips, lattice};
pub use layers::{Layers, LayersAsk, layers};
pub(crate) use method::rolls_up;
pub use method::{Said, batch_says, dough_of, known, method_says};
pub use offer::{Offer, offers};
pub use ring_tin::{Laid, laid_round};
pub use rounds::{Ring, RingAsk, RingBy, Round, RoundAsk, Share, ring, round};
pub use sheet::{Sheet, SheetAsk, THICKEST, THINNEST, sheet};
pub use spiral::{Cut, Filling, Roll, RollAsk, Spiral, roll, spiral_by_arc, spiral_by_area};
pub use strands::{Plait, PlaitAsk, PlaitBy, plait};
pub use tin::{Lining, LiningAsk, Outline, Sector, Tin, lining};

use crate::rework::style::Style;
use quantity::{Mass, Quantity, Ratio, Spread};
use std::fmt;

/// Why a shape cannot be. Says what was expected and how to mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShapeError {
    /// The field it is about, by its key, where it is about one.
    pub field: Option<&'static str>,
    /// What is wrong.
    pub what: String,
    /// What to do.
    pub mend: String,
}

impl ShapeError {
    /// An error that is about no one field.
    pub fn new(what: impl Into<String>, mend: impl Into<String>) -> Self {
        Self {
            field: None,
            what: what.into(),
            mend: mend.into(),
        }
    }
    /// The same, about a field.
    #[must_use]
    pub fn of(mut self, field: &'static str) -> Self {
        self.field.get_or_insert(field);
        self
    }
}

impl fmt::Display for ShapeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}\n  {}", self.what, self.mend)
    }
}
impl std::error::Error for ShapeError {}

/// A dough, batter or paste to be shaped.
#[derive(Debug, Clone, PartialEq)]
pub struct Dough {
    /// Its weight, where one is known.
    pub grams: Option<Spread<Mass>>,
    /// g/mL.
    pub density: Spread<Ratio>,
    /// What raises it.
    pub raised: Raised,
    /// Share of its volume that rises: a filling and crumbs baked with a batter do not.
    pub rising: f64,
}

/// What raises a dough or batter, and so where it rises.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Raised {
    /// Yeast: before the oven, and a little in it.
    #[default]
    Yeast,
    /// Powder, soda or air: in the oven alone.
    Oven,
    /// Nothing: a custard sets as high as it is poured.
    Not,
}

impl Raised {
    /// What raises a dough of a style; `sets`: what bakes is a filling that sets.
    #[must_use]
    pub fn of(style: Option<Style>, sets: bool) -> Self {
        match style {
            _ if sets => Self::Not,
            Some(s) if !s.is_yeast_dough() => Self::Oven,
            _ => Self::Yeast,
        }
    }
}

impl Dough {
    /// A dough of a weight and a density, raised by yeast.
    #[must_use]
    pub fn new(grams: Option<Spread<Mass>>, density: Spread<Ratio>) -> Self {
        Self {
            grams,
            density,
            raised: Raised::Yeast,
            rising: 1.0,
        }
    }
    /// A dough or batter of a style, of a weight.
    #[must_use]
    pub fn of_style(style: Option<Style>, grams: Option<Spread<Mass>>) -> Self {
        Self {
            raised: Raised::of(style, false),
            ..Self::new(grams, crate::density::of_style(style).value)
        }
    }
    /// Its volume in mm³, the doubts of weight and density taken as independent.
    #[must_use]
    pub fn volume(&self) -> Option<Spread<Ratio>> {
        Some(volume(self.grams?, self.density))
    }
    /// The weight of a volume in mm³.
    #[must_use]
    pub fn weight(&self, mm3: Spread<Ratio>) -> Spread<Mass> {
        let share = |s: Spread<Ratio>| (s.likely().get(), s.low().get(), s.high().get());
        let ((v, vl, vh), (d, dl, dh)) = (share(mm3), share(self.density));
        let likely = v * d / 1000.0;
        let side = |a: f64, b: f64| {
            let relative = |end: f64, mid: f64| if mid > 0.0 { end / mid - 1.0 } else { 0.0 };
            relative(a, v).hypot(relative(b, d))
        };
        Spread::new(
            Mass::grams(likely * (1.0 - side(vl, dl)).max(0.0)),
            Mass::grams(likely),
            Mass::grams(likely * (1.0 + side(vh, dh))),
        )
    }
}

/// mm³ of a weight.
pub(crate) fn volume(grams: Spread<Mass>, density: Spread<Ratio>) -> Spread<Ratio> {
    grams
        .ratio_independent(density)
        .map_or(Spread::exact(Ratio::new(0.0)), |v| v.scaled(1000.0))
}

/// What is over of one weight after another, the doubts independent.
pub(crate) fn left_of(has: Spread<Mass>, takes: Spread<Mass>) -> Spread<Mass> {
    Spread::sum_independent([has, takes.scaled(-1.0)])
}

/// The unit of a measure, and with it the digits it is shown with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres; shown as centimetres from 100 mm.
    Millimetres,
    /// Square centimetres.
    SquareCentimetres,
    /// Grams.
    Grams,
    /// Millilitres.
    Millilitres,
    /// Grams on a square centimetre.
    GramsPerSquareCentimetre,
    /// A count.
    Count,
    /// Turns of a roll.
    Turns,
    /// Percent.
    Percent,
    /// Degrees of an angle.
    Degrees,
}

impl Unit {
    /// Its word in JSON.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Millimetres => "mm",
            Self::SquareCentimetres => "cm2",
            Self::Grams => "g",
            Self::Millilitres => "ml",
            Self::GramsPerSquareCentimetre => "g/cm2",
            Self::Count => "count",
            Self::Turns => "turns",
            Self::Percent => "percent",
            Self::Degrees => "degrees",
        }
    }
    fn digits(self, value: f64) -> (String, &'static str) {
        let v = value.abs();
        let fixed = |value: f64, places: usize| {
            let text = format!("{value:.places$}");
            let text = match text.strip_suffix(".0") {
                Some(whole) => whole.to_owned(),
                None => text,
            };
            minus(text)
        };
        match self {
            Self::Millimetres if v >= 99.5 => (fixed(value / 10.0, 1), "cm"),
            Self::Millimetres if v < 9.95 => (fixed(value, 1), "mm"),
            Self::Millimetres => (fixed(value, 0), "mm"),
            Self::SquareCentimetres => (fixed(value, usize::from(v < 9.95)), "cm²"),
            Self::Grams => (fixed(value, usize::from(v < 9.95)), "g"),
            Self::Millilitres => (fixed(value, usize::from(v < 9.95)), "mL"),
            Self::GramsPerSquareCentimetre => (fixed(value, 2), "g/cm²"),
            Self::Count => (fixed(value, 0), ""),
            Self::Turns => (fixed(value, 1), "turns"),
            Self::Percent => (fixed(value, 0), "%"),
            Self::Degrees => (fixed(value, 0), "°"),
        }
    }
}

/// One figure of a shape.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// Its key in JSON.
    pub key: &'static str,
    /// Its name on screens.
    pub name: String,
    /// Low, likely, high, in the unit.
    pub value: Spread<Ratio>,
    /// The unit.
    pub unit: Unit,
}

impl Measure {
    /// A measure of any quantity, whose own number is in `unit`.
    pub fn new<Q: Quantity>(
        key: &'static str,
        name: impl Into<String>,
        value: Spread<Q>,
        unit: Unit,
    ) -> Self {
        Self {
            key,
            name: name.into(),
            value: value.map(|v| v),
            unit,
        }
    }
    /// The likely figure with its unit: `4.5 mm`.
    #[must_use]
    pub fn likely(&self) -> String {
        said(self.value.likely().get(), self.unit)
    }
    /// Low to high in the unit and with the digits of the likely figure; `None` where what is shown
    /// does not differ.
    #[must_use]
    pub fn range(&self) -> Option<String> {
        let (likely, word) = self.unit.digits(self.value.likely().get());
        let scale = if word == "cm" { 10.0 } else { 1.0 };
        let ends = [self.value.low().get(), self.value.high().get()];
        let places = match likely.split_once('.') {
            Some((_, after)) => after.len(),
            // A likely figure that is just whole has the places of its neighbours.
            None => ends
                .iter()
                .map(|v| self.unit.digits(*v))
                .filter(|(_, w)| *w == word)
                .filter_map(|(t, _)| t.split_once('.').map(|(_, after)| after.len()))
                .max()
                .unwrap_or(0)
                .min(usize::from(self.unit != Unit::GramsPerSquareCentimetre) + 1),
        };
        let [l, h] = ends.map(|v| minus(format!("{:.places$}", v / scale)));
        let to = if l.starts_with('−') { " to " } else { "–" };
        (l != h).then(|| format!("{l}{to}{h}"))
    }
    /// `4.5 mm (4.2–4.9)`.
    #[must_use]
    pub fn shown(&self) -> String {
        match self.range() {
            Some(range) => format!("{} ({range})", self.likely()),
            None => self.likely(),
        }
    }
}

/// A figure with a minus sign in place of a hyphen, and no sign before nothing.
fn minus(text: String) -> String {
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
        Some(rest) => format!("−{rest}"),
        None => text,
    }
}

/// A figure in words: `4.5 mm`, `30 cm`.
#[must_use]
pub fn said(value: f64, unit: Unit) -> String {
    let (digits, word) = unit.digits(value);
    match word {
        "" => digits,
        "°" => format!("{digits}°"),
        _ => format!("{digits} {word}"),
    }
}

pub(crate) fn mm(value: f64) -> String {
    said(value, Unit::Millimetres)
}

pub(crate) fn g(value: f64) -> String {
    said(value, Unit::Grams)
}

/// How something comes out, from best to worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// There is room.
    Fits,
    /// Pieces come to touch, or a hole closes.
    Touches,
    /// It comes to stand above the rim or the limit.
    Overflows,
    /// The pieces do not go in.
    TooMuch,
    /// There is not enough dough, or it does not go round.
    TooLittle,
}

impl Outcome {
    /// Its word in JSON.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Fits => "fits",
            Self::Touches => "touches",
            Self::Overflows => "overflows",
            Self::TooMuch => "too_much",
            Self::TooLittle => "too_little",
        }
    }
    /// Its word on screens.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Fits => "fits",
            Self::Touches => "touches",
            Self::Overflows => "overflows",
            Self::TooMuch => "too much",
            Self::TooLittle => "too little",
        }
    }
}

/// A verdict in words.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// How it comes out.
    pub outcome: Outcome,
    /// A sentence.
    pub words: String,
}

/// A caution with its source.
#[derive(Debug, Clone, PartialEq)]
pub struct Caution {
    /// A sentence.
    pub words: String,
    /// Where it comes from.
    pub source: String,
}

impl Caution {
    pub(crate) fn of(key: &str) -> Self {
        let p = practice::practice(key);
        Self {
            words: p.words.to_owned(),
            source: p.source.clone(),
        }
    }
}

/// Everything that is said of a shape.
#[derive(Debug, Clone, PartialEq)]
pub struct Shaped {
    /// What shape.
    pub kind: Kind,
    /// The figures, the most wanted first.
    pub measures: Vec<Measure>,
    /// How it comes out.
    pub verdicts: Vec<Verdict>,
    /// What was taken for granted, in sentences.
    pub notes: Vec<String>,
    /// What to mind.
    pub cautions: Vec<Caution>,
    /// Drawings to scale.
    pub drawings: Vec<Drawing>,
}

impl Shaped {
    pub(crate) fn new(kind: Kind) -> Self {
        Self {
            kind,
            measures: Vec::new(),
            verdicts: Vec::new(),
            notes: Vec::new(),
            cautions: Vec::new(),
            drawings: Vec::new(),
        }
    }
    pub(crate) fn put<Q: Quantity>(
        &mut self,
        key: &'static str,
        name: impl Into<String>,
        value: Spread<Q>,
        unit: Unit,
    ) {
        self.measures.push(Measure::new(key, name, value, unit));
    }
    pub(crate) fn exact(
        &mut self,
        key: &'static str,
        name: impl Into<String>,
        value: f64,
        unit: Unit,
    ) {
        self.put(key, name, Spread::exact(Ratio::new(value)), unit);
    }
    /// What is over, or short, of the dough there is.
    pub(crate) fn put_left(&mut self, left: Spread<Mass>) {
        let likely = left.likely().as_grams();
        self.put("left", "Dough left over", left, Unit::Grams);
        if likely < -0.5 {
            self.verdicts.push(Verdict {
                outcome: Outcome::TooLittle,
                words: format!("There is not enough dough: {} more is wanted.", g(-likely)),
            });
        }
    }
    /// A measure by its key.
    #[must_use]
    pub fn measure(&self, key: &str) -> Option<&Measure> {
        self.measures.iter().find(|m| m.key == key)
    }
}

/// Low, likely, high as a spread of any quantity.
pub(crate) fn three<Q: Quantity>(v: [f64; 3]) -> Spread<Q> {
    Spread::new(Q::of(v[0]), Q::of(v[1]), Q::of(v[2]))
}

/// Low, likely and high of a spread.
pub(crate) fn ends<Q: Quantity>(s: Spread<Q>) -> [f64; 3] {
    [s.low().value(), s.likely().value(), s.high().value()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_and_ranges_have_the_same_digits() {
        let m = |l, k, h, unit| Measure::new("x", "x", three::<Ratio>([l, k, h]), unit).shown();
        assert_eq!(m(4.12, 4.54, 5.01, Unit::Millimetres), "4.5 mm (4.1–5.0)");
        assert_eq!(
            m(275.0, 303.0, 331.0, Unit::Millimetres),
            "30.3 cm (27.5–33.1)"
        );
        assert_eq!(
            m(-21.6, -7.42, 3.7, Unit::Millimetres),
            "−7.4 mm (−21.6 to 3.7)"
        );
        assert_eq!(m(96.0, 99.9, 104.0, Unit::Millimetres), "10 cm (9.6–10.4)");
        assert_eq!(m(600.0, 600.0, 600.0, Unit::Grams), "600 g");
        assert_eq!(m(-0.2, 0.01, 0.3, Unit::Grams), "0 g (−0.2 to 0.3)");
        assert_eq!(m(1082.0, 1195.4, 1360.0, Unit::Grams), "1195 g (1082–1360)");
        assert_eq!(
            m(0.15, 0.171, 0.2, Unit::GramsPerSquareCentimetre),
            "0.17 g/cm² (0.15–0.20)"
        );
        assert_eq!(m(1.0, 2.0, 3.0, Unit::Count), "2 (1–3)");
    }
}
