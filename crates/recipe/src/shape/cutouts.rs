//! Pieces cut from a sheet, and from what is left of it, rolled out again.

use super::drawing::{Drawing, Look};
use super::packing::{Rows, circles, oblongs};
use super::sheet::{Sheet, SheetAsk, sheet};
use super::{Dough, Kind, Outcome, ShapeError, Shaped, Unit, Verdict, g, mm};
use quantity::{Length, Mass, Quantity, Spread};
use std::f64::consts::PI;

/// A cutter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cutter {
    /// Round, so wide.
    Round(Length),
    /// An oblong.
    Sides(Length, Length),
}

impl Cutter {
    fn area(self) -> f64 {
        match self {
            Self::Round(d) => PI / 4.0 * d.value().powi(2),
            Self::Sides(a, b) => a.value() * b.value(),
        }
    }
    fn words(self) -> String {
        match self {
            Self::Round(d) => format!("a {} round", mm(d.value())),
            Self::Sides(a, b) => format!("an oblong of {} × {}", mm(a.value()), mm(b.value())),
        }
    }
}

/// What is known of cut-outs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CutOutsAsk {
    /// The sheet.
    pub sheet: SheetAsk,
    /// The cutter.
    pub cutter: Cutter,
    /// Dough between two pieces.
    pub gap: Length,
    /// How often scrap is rolled out again, at most 8 times.
    pub rounds: u32,
    /// What is lost of scrap each time, percent.
    pub lost: f64,
}

/// One rolling out.
#[derive(Debug, Clone, PartialEq)]
pub struct Rolling {
    /// Sides of the sheet, mm.
    pub sides: (f64, f64),
    /// Pieces cut.
    pub pieces: u32,
    /// What is left of the sheet, g.
    pub scrap: f64,
    /// What was lost before it was rolled out, g.
    pub lost: f64,
}

/// Cut-outs.
#[derive(Debug, Clone, PartialEq)]
pub struct CutOuts {
    /// The first sheet.
    pub sheet: Sheet,
    /// Each rolling out, the first sheet first.
    pub rollings: Vec<Rolling>,
    /// Pieces in all.
    pub pieces: u32,
    /// What a piece weighs.
    pub each: Spread<Mass>,
    /// Scrap left at the end, g.
    pub scrap: f64,
    /// Lost in all, g.
    pub lost: f64,
    ask: CutOutsAsk,
    rows: Rows,
    places: Vec<(f64, f64)>,
    turned: bool,
}

/// Cuts pieces, rolls scrap out again, and cuts more.
///
/// # Formula
/// Round pieces lie in straight or staggered rows, whichever gives more; oblongs in straight rows,
/// laid one way or the other. Scrap less what is lost is rolled out to the same thickness and the
/// first sheet's proportions. Weight is kept: pieces + lost + scrap = sheet.
///
/// # Source
/// Geometry; counts of round pieces are bounded by the densest packings known (OEIS A337020). What
/// is lost is common practice without a source.
///
/// # Errors
/// Those of [`sheet`]; [`ShapeError`] where the cutter is larger than the sheet.
pub fn cut_outs(dough: &Dough, ask: &CutOutsAsk) -> Result<CutOuts, ShapeError> {
    let sheet = sheet(dough, &ask.sheet)?;
    let (l, w) = (sheet.length.likely().value(), sheet.width.likely().value());
    if ask.gap.value() > 100.0 {
        return Err(ShapeError::new(
            format!("a gap of {} between pieces", mm(ask.gap.value())),
            "give at most 10 cm",
        )
        .of("gap"));
    }
    if l * w / ask.cutter.area() > 20_000.0 {
        return Err(ShapeError::new(
            format!(
                "{} is very small on {} × {}",
                ask.cutter.words(),
                mm(l),
                mm(w)
            ),
            "look at the units of sheet and cutter",
        )
        .of("cutter"));
    }
    let lay = |l: f64, w: f64| match ask.cutter {
        Cutter::Round(d) => {
            let (places, rows) = circles(l, w, d.value(), ask.gap.value());
            (places, rows, false)
        }
        Cutter::Sides(a, b) => {
            let (places, turned) = oblongs(l, w, a.value(), b.value(), ask.gap.value());
            (places, Rows::Square, turned)
        }
    };
    let (places, rows, turned) = lay(l, w);
    if places.is_empty() {
        return Err(ShapeError::new(
            format!(
                "{} does not fit on a sheet of {} × {}",
                ask.cutter.words(),
                mm(l),
                mm(w)
            ),
            "take a smaller cutter or a larger sheet",
        )
        .of("cutter"));
    }
    // Grams on a square millimetre: of the likely weight.
    let on = sheet.weighs.likely().value() / (l * w);
    let piece = ask.cutter.area() * on;
    let mut rollings = vec![Rolling {
        sides: (l, w),
        pieces: places.len() as u32,
        scrap: (l * w * on - places.len() as f64 * piece).max(0.0),
        lost: 0.0,
    }];
    let share = (ask.lost / 100.0).clamp(0.0, 1.0);
    for _ in 0..ask.rounds.min(8) {
        let before = rollings.last().map_or(0.0, |r| r.scrap);
        let lost = before * share;
        let rolled = before - lost;
        let scale = (rolled / on / (l * w)).sqrt();
        let (l2, w2) = (l * scale, w * scale);
        let n = lay(l2, w2).0.len();
        if n == 0 {
            break;
        }
        rollings.push(Rolling {
            sides: (l2, w2),
            pieces: n as u32,
            scrap: (rolled - n as f64 * piece).max(0.0),
            lost,
        });
    }
    let each = sheet.weighs.scaled(ask.cutter.area() / (l * w));
    Ok(CutOuts {
        sheet,
        pieces: rollings.iter().map(|r| r.pieces).sum(),
        scrap: rollings.last().map_or(0.0, |r| r.scrap),
        lost: rollings.iter().map(|r| r.lost).sum(),
        rollings,
        each,
        ask: *ask,
        rows,
        places,
        turned,
    })
}

impl CutOuts {
    /// Everything said of them.
    #[must_use]
    pub fn shaped(&self) -> Shaped {
        let mut out = Shaped::new(Kind::CutOuts);
        out.exact("pieces", "Pieces", f64::from(self.pieces), Unit::Count);
        out.put("each", "Piece weighs", self.each, Unit::Grams);
        let first = self.rollings.first().map_or(0, |r| r.pieces);
        out.exact(
            "first",
            "From the first sheet",
            f64::from(first),
            Unit::Count,
        );
        for (i, r) in self.rollings.iter().enumerate().skip(1) {
            let (key, name) = match i {
                1 => ("again_1", "Rolled out again"),
                2 => ("again_2", "A second time"),
                3 => ("again_3", "A third time"),
                _ => ("again_more", "Once more"),
            };
            out.exact(key, name, f64::from(r.pieces), Unit::Count);
        }
        out.exact("scrap", "Scrap left", self.scrap, Unit::Grams);
        if self.ask.rounds > 0 {
            out.exact("lost", "Lost in re-rolling", self.lost, Unit::Grams);
        }
        self.sheet.measures(&mut out);
        if self.rollings.len() > 1 && self.rollings.len() as u32 <= self.ask.rounds {
            out.verdicts.push(Verdict {
                outcome: Outcome::Fits,
                words: format!(
                    "After rolling out {} times the scrap, {}, is too little for another piece.",
                    self.rollings.len(),
                    g(self.scrap)
                ),
            });
        }
        let again = match (self.ask.rounds, self.ask.lost) {
            (0, _) => String::new(),
            (_, lost) => format!(
                " Scrap is rolled out to the same thickness and proportions; {lost:.0} % of it is taken as lost each time{}.",
                if (lost - 10.0).abs() < 1e-9 {
                    ", common practice without a source"
                } else {
                    ""
                }
            ),
        };
        out.notes
            .push(format!("Pieces lie {}.{again}", self.rows.words()));
        let (l, w) = (
            self.sheet.length.likely().value(),
            self.sheet.width.likely().value(),
        );
        let mut d = Drawing::new("sheet", "The first sheet with its cuts", l, w);
        d.rect(Look::Scrap, 0.0, 0.0, l, w);
        for (x, y) in self.places.iter().take(400) {
            match self.ask.cutter {
                Cutter::Round(c) => d.circle(Look::Dough, (*x, *y), c.value() / 2.0),
                Cutter::Sides(a, b) => {
                    let (a, b) = if self.turned {
                        (b.value(), a.value())
                    } else {
                        (a.value(), b.value())
                    };
                    d.rect(Look::Dough, x - a / 2.0, y - b / 2.0, a, b);
                }
            }
        }
        d.side((0.0, 0.0), (l, 0.0), mm(l));
        d.side((0.0, w), (0.0, 0.0), mm(w));
        d.desc = format!(
            "{} pieces of {} on a sheet of {} by {}, {}.",
            first,
            self.ask.cutter.words(),
            mm(l),
            mm(w),
            self.rows.words()
        );
        out.drawings.push(d);
        out
    }
}
