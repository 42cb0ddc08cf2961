//! A lattice of strips over a tart or pie.

use super::drawing::{Drawing, Look};
use super::tin::Outline;
use super::{Dough, Kind, ShapeError, Shaped, Unit, left_of, mm};
use quantity::{Length, Mass, Ratio, Spread};

/// How many strips lie each way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Strips {
    /// So many; the gap follows.
    Count(u32),
    /// As many as a gap allows.
    Gap(Length),
}

/// What is known of a lattice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LatticeAsk {
    /// What it covers.
    pub over: Outline,
    /// Width of a strip.
    pub strip: Length,
    /// How many, or how far apart.
    pub strips: Strips,
    /// How thick; `None` where the dough's weight says it.
    pub thick: Option<Length>,
    /// How far a strip goes over the edge at each end.
    pub overhang: Length,
}

/// A lattice.
#[derive(Debug, Clone, PartialEq)]
pub struct Lattice {
    /// Strips along the first side, and along the second.
    pub counts: (u32, u32),
    /// Gap between strips that lie along the first side, and along the second.
    pub gaps: (Length, Length),
    /// The strips' lengths along the first side, then along the second, mm.
    pub lengths: (Vec<f64>, Vec<f64>),
    /// All strips end to end.
    pub total: Length,
    /// Area of dough, cm².
    pub area: f64,
    /// How much of the surface shows through, percent.
    pub open: f64,
    /// How thick.
    pub thick: Option<Spread<Length>>,
    /// What the strips weigh.
    pub weighs: Option<Spread<Mass>>,
    /// What is over of the dough.
    pub left: Option<Spread<Mass>>,
    ask: LatticeAsk,
}

/// Lays strips both ways.
///
/// # Formula
/// n strips w wide with gaps g fill n w + (n − 1) g, set in the middle. With a count given, the
/// gaps are the same between strips and at both edges: g = (D − n w) / (n + 1). Over a round a
/// strip is as long as the longest chord it covers, 2 √(R² − x²) with x its side nearest the
/// middle, and the overhang twice.
///
/// # Source
/// Geometry; chords checked against a fine grid in NumPy.
///
/// # Errors
/// [`ShapeError`] where strips are wider than what they cover.
pub fn lattice(dough: &Dough, ask: &LatticeAsk) -> Result<Lattice, ShapeError> {
    let (a, b) = ask.over.sides();
    let w = ask.strip.as_millimetres();
    let (first, second) = (place(b, w, ask.strips)?, place(a, w, ask.strips)?);
    let over = 2.0 * ask.overhang.as_millimetres();
    let long = |starts: &[f64], side: f64, across: f64| -> Vec<f64> {
        starts
            .iter()
            .map(|s| {
                over + match ask.over {
                    Outline::Round(_) => {
                        // The strip from s to s + w; the middle of the round is at across / 2.
                        let (near, far) = (s - across / 2.0, s + w - across / 2.0);
                        let x = if near <= 0.0 && far >= 0.0 {
                            0.0
                        } else {
                            near.abs().min(far.abs())
                        };
                        2.0 * ((side / 2.0).powi(2) - x * x).max(0.0).sqrt()
                    }
                    Outline::Sides(..) => side,
                }
            })
            .collect()
    };
    let lengths = (long(&first.starts, a, b), long(&second.starts, b, a));
    let total: f64 = lengths.0.iter().chain(&lengths.1).sum();
    let area = total * w;
    let thick = match (ask.thick, dough.volume()) {
        (Some(t), _) => Some(Spread::exact(t)),
        (None, Some(v)) => Some(v.map(|v| v / area)),
        (None, None) => None,
    };
    if let Some(t) = thick.map(|t| t.likely().as_millimetres())
        && t < super::THINNEST
    {
        return Err(ShapeError::new(
            format!("the strips would be {t:.2} mm thick"),
            "take more dough, or fewer or narrower strips",
        )
        .of("thick"));
    }
    let by_weight = ask.thick.is_none() && dough.grams.is_some();
    let weighs = if by_weight {
        dough.grams
    } else {
        thick.map(|t| dough.weight(t.map::<Ratio>(|t| t * area)))
    };
    let left = match (dough.grams, weighs, by_weight) {
        (Some(has), Some(takes), false) => Some(left_of(has, takes)),
        _ => None,
    };
    Ok(Lattice {
        counts: (first.starts.len() as u32, second.starts.len() as u32),
        gaps: (
            Length::millimetres(first.gap),
            Length::millimetres(second.gap),
        ),
        open: open(ask.over, w, &first.starts, &second.starts),
        lengths,
        total: Length::millimetres(total),
        area: area / 100.0,
        thick,
        weighs,
        left,
        ask: *ask,
    })
}

struct Placed {
    starts: Vec<f64>,
    gap: f64,
}

/// Where strips begin across a side.
fn place(side: f64, w: f64, strips: Strips) -> Result<Placed, ShapeError> {
    let too_wide = |n: f64| {
        let (wide, side) = (mm(w), mm(side));
        let what = if n > 1.0 {
            format!("{n:.0} strips {wide} wide do not lie side by side on {side}")
        } else {
            format!("a strip {wide} wide does not lie on {side}")
        };
        let mend = if n > 1.0 {
            "take fewer or narrower strips"
        } else {
            "take narrower strips"
        };
        ShapeError::new(what, mend).of("strip")
    };
    let (n, gap, first) = match strips {
        Strips::Count(n) => {
            let n = f64::from(n.max(1));
            let gap = (side - n * w) / (n + 1.0);
            if gap < 0.0 {
                return Err(too_wide(n));
            }
            (n, gap, gap)
        }
        Strips::Gap(gap) => {
            let gap = gap.as_millimetres();
            let n = ((side + gap + 1e-6) / (w + gap)).floor();
            if n < 1.0 {
                return Err(too_wide(1.0));
            }
            (n, gap, (side - n * w - (n - 1.0) * gap) / 2.0)
        }
    };
    Ok(Placed {
        starts: (0..n as usize)
            .map(|i| first + i as f64 * (w + gap))
            .collect(),
        gap,
    })
}

/// Share of the surface that no strip covers, percent, on a grid of 400 × 400.
fn open(over: Outline, w: f64, along: &[f64], across: &[f64]) -> f64 {
    let (a, b) = over.sides();
    let covered = |starts: &[f64], x: f64| starts.iter().any(|s| (*s..=s + w).contains(&x));
    const FINE: usize = 400;
    let grid = |side: f64, starts: &[f64]| -> Vec<(f64, bool)> {
        (0..FINE)
            .map(|i| {
                let x = side * (i as f64 + 0.5) / FINE as f64;
                (x, covered(starts, x))
            })
            .collect()
    };
    let (xs, ys) = (grid(a, across), grid(b, along));
    let (mut inside, mut bare) = (0u32, 0u32);
    for (x, cx) in &xs {
        for (y, cy) in &ys {
            let within = match over {
                Outline::Round(_) => (x - a / 2.0).hypot(y - b / 2.0) <= a / 2.0,
                Outline::Sides(..) => true,
            };
            inside += u32::from(within);
            bare += u32::from(within && !cx && !cy);
        }
    }
    100.0 * f64::from(bare) / f64::from(inside.max(1))
}

impl Lattice {
    /// Everything said of it.
    #[must_use]
    pub fn shaped(&self) -> Shaped {
        let mut out = Shaped::new(Kind::Lattice);
        out.exact(
            "strips",
            "Strips",
            f64::from(self.counts.0 + self.counts.1),
            Unit::Count,
        );
        let same = self.counts.0 == self.counts.1;
        if !same {
            out.exact(
                "strips_long",
                "Strips the long way",
                f64::from(self.counts.0),
                Unit::Count,
            );
        }
        out.exact(
            "gap",
            "Gap",
            self.gaps.0.as_millimetres(),
            Unit::Millimetres,
        );
        if (self.gaps.0.as_millimetres() - self.gaps.1.as_millimetres()).abs() > 0.05 {
            out.exact(
                "gap_other",
                "Gap the other way",
                self.gaps.1.as_millimetres(),
                Unit::Millimetres,
            );
        }
        let all = || self.lengths.0.iter().chain(&self.lengths.1).copied();
        out.exact(
            "longest",
            "Longest strip",
            all().fold(0.0, f64::max),
            Unit::Millimetres,
        );
        out.exact(
            "shortest",
            "Shortest strip",
            all().fold(f64::MAX, f64::min),
            Unit::Millimetres,
        );
        out.exact(
            "total",
            "Strips end to end",
            self.total.as_millimetres(),
            Unit::Millimetres,
        );
        out.exact("area", "Area of dough", self.area, Unit::SquareCentimetres);
        out.exact("open", "Shows through", self.open, Unit::Percent);
        if let (Some(t), Some(w)) = (self.thick, self.weighs) {
            out.put("thick", "Thickness", t, Unit::Millimetres);
            out.put("weighs", "Strips weigh", w, Unit::Grams);
        }
        if let Some(left) = self.left {
            out.put_left(left);
        }
        out.notes.push("Strips are counted whole, both ways; where they are cut from a sheet, its trimmings come on top.".to_owned());
        let (a, b) = self.ask.over.sides();
        let w = self.ask.strip.as_millimetres();
        let over = self.ask.overhang.as_millimetres();
        let mut d = Drawing::new(
            "above",
            "The lattice, from above",
            a + 2.0 * over,
            b + 2.0 * over,
        );
        let middle = (over + a / 2.0, over + b / 2.0);
        self.ask.over.draw(&mut d, Look::Pan, middle);
        let starts = |side| {
            place(side, w, self.ask.strips)
                .map(|p| p.starts)
                .unwrap_or_default()
        };
        for (s, l) in starts(b).into_iter().zip(&self.lengths.0) {
            d.rect(Look::Dough, middle.0 - l / 2.0, over + s, *l, w);
        }
        for (s, l) in starts(a).into_iter().zip(&self.lengths.1) {
            d.rect(Look::Dough, over + s, middle.1 - l / 2.0, w, *l);
        }
        d.side((over, 0.0), (over + a, 0.0), mm(a));
        d.desc = format!(
            "{} strips one way and {} the other, {} wide, over {}.",
            self.counts.0,
            self.counts.1,
            mm(w),
            self.ask.over.words()
        );
        out.drawings.push(d);
        out
    }
}
