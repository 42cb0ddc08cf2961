//! The shapes there are, and the fields of each: one table for the command line, the page and the
//! sheet.

use super::spiral::Filling;
use super::{ShapeError, typed};

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
    /// A pan: two or three sides, or one of [`crate::size::pan`] by its name.
    Pan,
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

pub(super) const CM: f64 = 10.0;
pub(super) const MM: f64 = 1.0;
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
    "5 mm or ¼ in; follows from the weight without it",
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
    "inside: 23x5cm for a round, 30x20x5cm for an oblong, or a name like loaf 9x5",
    Entry::Pan,
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
            Entry::Pan => super::ask::pan_of(text, &[]).map(|_| ()),
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
pub(super) fn filling(text: &str) -> Result<Filling, ShapeError> {
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
