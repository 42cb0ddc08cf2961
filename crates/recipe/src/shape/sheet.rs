//! A rolled-out sheet: any one of weight, length, width and thickness from the others.

use super::drawing::{Drawing, Look};
use super::{Dough, Kind, ShapeError, Shaped, Unit, ends, g, left_of, mm, three};
use quantity::{Length, Mass, Quantity, Ratio, Spread};

/// The thinnest sheet that can be rolled, mm: common practice, no source.
pub const THINNEST: f64 = 0.5;

/// The thickest sheet, mm: our own judgement, no source. Thicker is a block, and a slip of a unit.
pub const THICKEST: f64 = 50.0;

/// What is known of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SheetAsk {
    /// Side to side one way.
    pub length: Option<Length>,
    /// The other way.
    pub width: Option<Length>,
    /// How thick.
    pub thick: Option<Length>,
}

/// A sheet with all its sides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sheet {
    /// One side.
    pub length: Spread<Length>,
    /// The other.
    pub width: Spread<Length>,
    /// How thick.
    pub thick: Spread<Length>,
    /// What it weighs.
    pub weighs: Spread<Mass>,
    /// What is over of the dough; less than nothing where it is short. `None` where no weight is
    /// known or all of it is rolled out.
    pub left: Option<Spread<Mass>>,
    /// Which of the four followed from the others: `length`, `width`, `thick` or `weighs`; empty
    /// where all were given.
    pub found: &'static str,
}

/// Rolls a dough out.
///
/// # Formula
/// weight = density × length × width × thickness; whichever one is not given follows. With all
/// four given, what is left over follows.
///
/// # Errors
/// [`ShapeError`] where two or more are missing, or the sheet would be thinner than
/// [`THINNEST`] or thicker than `THICKEST`.
///
/// # Example
/// ```
/// use quantity::{Length, Mass, Ratio, Spread};
/// use recipe::shape::{Dough, SheetAsk, sheet};
/// let dough = Dough::new(
///     Some(Spread::exact(Mass::grams(600.0))),
///     Spread::exact(Ratio::new(1.10)),
/// );
/// let cm = |n: f64| Some(Length::millimetres(10.0 * n));
/// let got = sheet(&dough, &SheetAsk { length: cm(40.0), width: cm(30.0), thick: None })?;
/// assert!((got.thick.likely().as_millimetres() - 4.545).abs() < 0.001);
/// # Ok::<(), recipe::shape::ShapeError>(())
/// ```
pub fn sheet(dough: &Dough, ask: &SheetAsk) -> Result<Sheet, ShapeError> {
    let given = |l: Option<Length>| l.map(Length::as_millimetres);
    let (length, width, thick) = (given(ask.length), given(ask.width), given(ask.thick));
    for (value, field) in [(length, "length"), (width, "width"), (thick, "thick")] {
        if value.is_some_and(|v| v <= 0.0) {
            return Err(
                ShapeError::new("a side of 0 mm is no side", "give a length above 0").of(field),
            );
        }
    }
    let exact = |v: f64| Spread::exact(Length::millimetres(v));
    let volume = dough.volume();
    let over = |divisor: f64| volume.map(|v| v.map::<Length>(|v| v / divisor));
    let (l, w, t, found) = match (length, width, thick) {
        (Some(l), Some(w), Some(t)) => {
            let found = if volume.is_some() { "" } else { "weighs" };
            (exact(l), exact(w), exact(t), found)
        }
        (Some(l), Some(w), None) => (exact(l), exact(w), need(over(l * w), "thick")?, "thick"),
        (Some(l), None, Some(t)) => (exact(l), need(over(l * t), "width")?, exact(t), "width"),
        (None, Some(w), Some(t)) => (need(over(w * t), "length")?, exact(w), exact(t), "length"),
        _ => return Err(too_few(volume, thick, length.or(width).is_some())),
    };
    let thin = t.likely().as_millimetres();
    if thin < THINNEST {
        return Err(too_thin(dough, thin, (l.likely(), w.likely())));
    }
    if thin > THICKEST {
        return Err(ShapeError::new(
            format!(
                "the sheet would be {} thick on {} × {}: a sheet is at most {}",
                mm(thin),
                mm(l.likely().as_millimetres()),
                mm(w.likely().as_millimetres()),
                mm(THICKEST)
            ),
            "look at the units of its sides, or make it larger",
        )
        .of("thick"));
    }
    for (side, field) in [(l, "length"), (w, "width")] {
        if side.likely().as_millimetres() > super::typed::LONGEST {
            return Err(ShapeError::new(
                format!("the {field} would be {}", mm(side.likely().value())),
                "make it thicker or the other side longer",
            )
            .of("thick"));
        }
    }
    let weighs = match (found, dough.grams) {
        ("" | "weighs", _) | (_, None) => {
            let product = |i: usize| ends(l)[i] * ends(w)[i] * ends(t)[i];
            dough.weight(three([product(0), product(1), product(2)]))
        }
        (_, Some(all)) => all,
    };
    let left = dough
        .grams
        .filter(|_| found.is_empty())
        .map(|has| left_of(has, weighs));
    Ok(Sheet {
        length: l,
        width: w,
        thick: t,
        weighs,
        left,
        found,
    })
}

fn need(side: Option<Spread<Length>>, field: &'static str) -> Result<Spread<Length>, ShapeError> {
    side.ok_or_else(|| {
        ShapeError::new(
            format!(
                "the {} does not follow without the dough's weight",
                name(field)
            ),
            format!("give the dough's weight, or the {}", name(field)),
        )
        .of("dough")
    })
}

fn name(field: &str) -> &str {
    if field == "thick" { "thickness" } else { field }
}

fn too_few(volume: Option<Spread<Ratio>>, thick: Option<f64>, side: bool) -> ShapeError {
    let (what, mend) = match (volume, thick) {
        (Some(v), Some(t)) => {
            let area = v.likely().get() / t / 100.0;
            (
                format!(
                    "at {} the dough covers {}",
                    mm(t),
                    super::said(area, Unit::SquareCentimetres)
                ),
                "give one side, and the other follows",
            )
        }
        (Some(_), None) if side => (
            "one side alone makes no sheet".to_owned(),
            "give two of length, width and thickness, and the third follows",
        ),
        (Some(_), None) => (
            "neither a side nor the thickness of the sheet is said".to_owned(),
            "give two of length, width and thickness, and the third follows",
        ),
        _ => (
            "too little is known of the sheet".to_owned(),
            "give length, width and thickness, or two of them and the dough's weight",
        ),
    };
    ShapeError::new(what, mend).of("length")
}

fn too_thin(dough: &Dough, thin: f64, sides: (Length, Length)) -> ShapeError {
    let area = dough.volume().map(|v| v.likely().get() / THINNEST / 100.0);
    let what = format!(
        "the sheet would be {thin:.2} mm thick on {} × {}: thinner than {THINNEST} mm no dough is rolled",
        mm(sides.0.as_millimetres()),
        mm(sides.1.as_millimetres()),
    );
    let mend = match (dough.grams, area) {
        (Some(grams), Some(area)) => format!(
            "make it smaller, or take more dough: {} covers {} at {THINNEST} mm",
            g(grams.likely().as_grams()),
            super::said(area, Unit::SquareCentimetres)
        ),
        _ => format!("give a thickness of {THINNEST} mm or more"),
    };
    ShapeError::new(what, mend).of("thick")
}

impl Sheet {
    /// Its area, cm².
    #[must_use]
    pub fn area(&self) -> Spread<Ratio> {
        let of = |i: usize| ends(self.length)[i] * ends(self.width)[i] / 100.0;
        three([of(0), of(1), of(2)])
    }
    pub(crate) fn measures(&self, shaped: &mut Shaped) {
        shaped.put("thick", "Thickness", self.thick, Unit::Millimetres);
        shaped.put("length", "Length", self.length, Unit::Millimetres);
        shaped.put("width", "Width", self.width, Unit::Millimetres);
        shaped.put("area", "Area", self.area(), Unit::SquareCentimetres);
        shaped.put("weighs", "Sheet weighs", self.weighs, Unit::Grams);
        if let Some(left) = self.left {
            shaped.put_left(left);
        }
    }
    /// The sheet from above with its thickness edge-on below, to one scale.
    pub(crate) fn plan(&self) -> Drawing {
        let (l, w, t) = (
            self.length.likely().value(),
            self.width.likely().value(),
            self.thick.likely().value(),
        );
        let gap = (w * 0.12).max(l * 0.06);
        let mut d = Drawing::new("sheet", "The sheet, from above and edge-on", l, w + gap + t);
        d.desc = format!("A sheet {} by {}, {} thick.", mm(l), mm(w), mm(t));
        d.rect(Look::Dough, 0.0, 0.0, l, w);
        d.side((0.0, 0.0), (l, 0.0), mm(l));
        d.side((0.0, w), (0.0, 0.0), mm(w));
        d.rect(Look::Dough, 0.0, w + gap, l, t);
        d.side((l, w + gap), (l, w + gap + t), mm(t));
        d
    }
    /// Everything said of it.
    #[must_use]
    pub fn shaped(&self) -> Shaped {
        let mut out = Shaped::new(Kind::Sheet);
        self.measures(&mut out);
        out.notes.push(
            "Thickness is weight over density and area; the range is that of weight and density."
                .to_owned(),
        );
        out.drawings.push(self.plan());
        out
    }
}
