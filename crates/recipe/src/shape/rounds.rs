//! Rounds and rings: balls, discs, and strands closed to a ring.

use super::drawing::{Drawing, Hang, Look, Mark};
use super::practice::practice;
use super::{
    Dough, Kind, Outcome, ShapeError, Shaped, Unit, Verdict, ends, g, left_of, mm, three, volume,
};
use quantity::{Length, Mass, Quantity, Ratio, Spread};
use std::f64::consts::PI;

/// How a dough is divided.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Share {
    /// Into so many pieces.
    pub pieces: Option<u32>,
    /// Into pieces of so much.
    pub each: Option<Mass>,
}

/// A dough divided.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Divided {
    pub pieces: u32,
    pub each: Spread<Mass>,
    pub left: Option<Spread<Mass>>,
}

impl Share {
    /// Divides a dough. One piece where nothing is said.
    pub(crate) fn of(&self, dough: &Dough) -> Result<Divided, ShapeError> {
        let one = |g: Mass| Spread::exact(g);
        match (self.pieces, self.each, dough.grams) {
            (pieces, None, Some(all)) => {
                let n = pieces.unwrap_or(1).max(1);
                Ok(Divided {
                    pieces: n,
                    each: all.scaled(1.0 / f64::from(n)),
                    left: None,
                })
            }
            (Some(n), Some(each), Some(all)) => Ok(Divided {
                pieces: n.max(1),
                each: one(each),
                left: Some(left_of(all, one(each * f64::from(n)))),
            }),
            (None, Some(each), Some(all)) => {
                let n = (all.likely() / each + 1e-9).floor();
                if n < 1.0 {
                    return Err(ShapeError::new(
                        format!(
                            "a piece of {} is more than the {} of dough",
                            g(each.value()),
                            g(all.likely().value())
                        ),
                        "make pieces smaller, or more dough",
                    )
                    .of("each"));
                }
                let n = n.min(10_000.0);
                Ok(Divided {
                    pieces: n as u32,
                    each: one(each),
                    left: Some(left_of(all, one(each * n))),
                })
            }
            (n, Some(each), None) => Ok(Divided {
                pieces: n.unwrap_or(1).max(1),
                each: one(each),
                left: None,
            }),
            (_, None, None) => Err(ShapeError::new(
                "the weight of a piece is not known",
                "give the dough's weight, or what one piece weighs",
            )
            .of("each")),
        }
    }
}

/// What is known of rounds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoundAsk {
    /// How the dough is divided.
    pub share: Share,
    /// Rolled or pressed so thick; a ball without this and without `across`.
    pub thick: Option<Length>,
    /// Rolled or pressed so wide.
    pub across: Option<Length>,
    /// How many times its volume it grows.
    pub growth: Spread<Ratio>,
}

/// Rounds.
#[derive(Debug, Clone, PartialEq)]
pub struct Round {
    /// How many.
    pub pieces: u32,
    /// What one weighs.
    pub each: Spread<Mass>,
    /// What is over.
    pub left: Option<Spread<Mass>>,
    /// Diameter.
    pub across: Spread<Length>,
    /// Height: of a ball its diameter.
    pub high: Spread<Length>,
    /// Whether it is a ball.
    pub ball: bool,
    /// Diameter after the rise, growing alike on all sides.
    pub risen: Spread<Length>,
    /// Diameter after the rise where its height is held and it only spreads.
    pub risen_flat: Spread<Length>,
}

/// Divides into balls or discs.
///
/// # Formula
/// Ball: d = ∛(6 V / π). Disc: d = √(4 V / (π t)). Risen by a factor x of the volume: d ∛x free on
/// all sides, d √x with the height held.
///
/// # Source
/// Geometry; growth 1.3–1.8, common practice without a source.
///
/// # Errors
/// [`ShapeError`] without a weight, or for a disc thinner than 0.5 mm.
pub fn round(dough: &Dough, ask: &RoundAsk) -> Result<Round, ShapeError> {
    let divided = ask.share.of(dough)?;
    let v = volume(divided.each, dough.density);
    let (across, high, ball): (Spread<Length>, Spread<Length>, bool) = match (ask.thick, ask.across)
    {
        (None, None) => {
            let d = v.map(|v| (6.0 * v / PI).cbrt());
            (d, d, true)
        }
        (Some(t), None) => (
            v.map(|v| (4.0 * v / (PI * t.value())).sqrt()),
            Spread::exact(t),
            false,
        ),
        (None, Some(d)) => (
            Spread::exact(d),
            v.map(|v| 4.0 * v / (PI * d.value().powi(2))),
            false,
        ),
        (Some(_), Some(_)) => {
            return Err(ShapeError::new(
                "thickness and width of a piece both follow from its weight",
                "give one of the two",
            )
            .of("across"));
        }
    };
    let thin = high.likely().value();
    if thin < super::THINNEST {
        return Err(ShapeError::new(
            format!(
                "a piece would be {thin:.2} mm thick, {} across",
                mm(across.likely().value())
            ),
            format!(
                "make it smaller: under {} mm no dough is rolled",
                super::THINNEST
            ),
        )
        .of("across"));
    }
    let grown = |power: f64| {
        let (d, x) = (ends(across), ends(ask.growth));
        three([0, 1, 2].map(|i| d[i] * x[i].powf(power)))
    };
    Ok(Round {
        pieces: divided.pieces,
        each: divided.each,
        left: divided.left,
        across,
        high,
        ball,
        risen: grown(1.0 / 3.0),
        risen_flat: grown(0.5),
    })
}

impl Round {
    /// Everything said of them.
    #[must_use]
    pub fn shaped(&self) -> Shaped {
        let mut out = Shaped::new(Kind::Round);
        out.put(
            "across",
            if self.ball {
                "Ball across"
            } else {
                "Disc across"
            },
            self.across,
            Unit::Millimetres,
        );
        if !self.ball {
            out.put("thick", "Thickness", self.high, Unit::Millimetres);
        }
        out.exact("pieces", "Pieces", f64::from(self.pieces), Unit::Count);
        out.put("each", "Piece weighs", self.each, Unit::Grams);
        if let Some(left) = self.left {
            out.put_left(left);
        }
        out.put("risen", "Across when risen", self.risen, Unit::Millimetres);
        out.put(
            "risen_flat",
            "If it only spreads",
            self.risen_flat,
            Unit::Millimetres,
        );
        out.notes.push("A ball is taken as a sphere: a soft dough settles and is wider and lower. Risen alike on all sides it is the cube root of its growth wider; spreading at one height, the square root.".to_owned());
        let (d, h, r) = (
            self.across.likely().value(),
            self.high.likely().value(),
            self.risen.likely().value(),
        );
        let rise = h * r / d;
        let mut side = Drawing::new("side", "One piece from the side, shaped and risen", r, rise);
        let floor = rise;
        if self.ball {
            side.circle(Look::Risen, (r / 2.0, floor - r / 2.0), r / 2.0);
            side.circle(Look::Dough, (r / 2.0, floor - d / 2.0), d / 2.0);
        } else {
            side.rect(Look::Risen, 0.0, 0.0, r, rise);
            side.rect(Look::Dough, (r - d) / 2.0, floor - h, d, h);
        }
        side.side((0.0, 0.0), (r, 0.0), format!("risen {}", mm(r)));
        side.side(((r - d) / 2.0, floor), ((r + d) / 2.0, floor), mm(d));
        side.desc = format!(
            "{} {} across, risen {}.",
            if self.ball { "A ball" } else { "A disc" },
            mm(d),
            mm(r)
        );
        out.drawings.push(side);
        out
    }
}

/// Which size of a ring is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RingBy {
    /// Outside to outside.
    Outer(Length),
    /// The hole.
    Hole(Length),
    /// The strand before it is closed.
    Strand(Length),
}

/// What is known of rings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RingAsk {
    /// How the dough is divided.
    pub share: Share,
    /// The size known.
    pub by: RingBy,
    /// How many times its volume it grows.
    pub growth: Spread<Ratio>,
}

/// Rings.
#[derive(Debug, Clone, PartialEq)]
pub struct Ring {
    /// How many.
    pub pieces: u32,
    /// What one weighs.
    pub each: Spread<Mass>,
    /// What is over.
    pub left: Option<Spread<Mass>>,
    /// How thick the strand is.
    pub thick: Spread<Length>,
    /// How long the strand is: the ring's middle line.
    pub strand: Spread<Length>,
    /// Outside to outside.
    pub outer: Spread<Length>,
    /// The hole.
    pub hole: Spread<Length>,
    /// The hole after the rise; 0 where it closes.
    pub hole_risen: Spread<Length>,
    /// Outside to outside after the rise.
    pub outer_risen: Spread<Length>,
}

/// Closes strands to rings.
///
/// # Formula
/// A torus: V = (π d² / 4) π c, d the strand, c its middle circle's diameter; outer = c + d, hole
/// = c − d; the strand is π c long. Risen by a factor x the middle circle stays and the strand is
/// d √x thick: a ring that lies on its tray does not slide.
///
/// # Source
/// Pappus' theorem for the volume, checked against SciPy quad; growth as for [`round`].
///
/// # Errors
/// [`ShapeError`] without a weight, or where the strand is too thick for a hole.
pub fn ring(dough: &Dough, ask: &RingAsk) -> Result<Ring, ShapeError> {
    let divided = ask.share.of(dough)?;
    let v = volume(divided.each, dough.density);
    let torus = |d: f64, c: f64| PI * PI / 4.0 * d * d * c;
    // The strand of a volume, by halving: the volume grows with it.
    let solve = |v: f64, most: f64, c_of: &dyn Fn(f64) -> f64| {
        let (mut low, mut high) = (0.0, most);
        for _ in 0..80 {
            let d = f64::midpoint(low, high);
            if torus(d, c_of(d)) < v {
                low = d
            } else {
                high = d
            }
        }
        f64::midpoint(low, high)
    };
    let mut strands = [0.0; 3];
    let mut middles = [0.0; 3];
    for (i, v) in ends(v).into_iter().enumerate() {
        let (d, c) = match ask.by {
            RingBy::Outer(outer) => {
                let o = outer.value();
                // At half the outside the hole is gone.
                if torus(o / 2.0, o / 2.0) < v {
                    return Err(no_hole(o, divided.each.likely()));
                }
                let d = solve(v, o / 2.0, &|d| o - d);
                (d, o - d)
            }
            RingBy::Hole(hole) => {
                let h = hole.value();
                let d = solve(v, v.cbrt() + h, &|d| h + d);
                (d, h + d)
            }
            RingBy::Strand(long) => {
                let d = (4.0 * v / (PI * long.value())).sqrt();
                let c = long.value() / PI;
                if d > c {
                    return Err(no_hole(c + d, divided.each.likely()));
                }
                (d, c)
            }
        };
        strands[i] = d;
        middles[i] = c;
    }
    let grown = ends(ask.growth).map(f64::sqrt);
    Ok(Ring {
        pieces: divided.pieces,
        each: divided.each,
        left: divided.left,
        thick: three(strands),
        strand: three(middles.map(|c| PI * c)),
        outer: three([0, 1, 2].map(|i| middles[i] + strands[i])),
        hole: three([0, 1, 2].map(|i| middles[i] - strands[i])),
        hole_risen: three([0, 1, 2].map(|i| (middles[i] - strands[i] * grown[i]).max(0.0))),
        outer_risen: three([0, 1, 2].map(|i| middles[i] + strands[i] * grown[i])),
    })
}

fn no_hole(outer: f64, each: Mass) -> ShapeError {
    ShapeError::new(
        format!(
            "{} of dough leaves no hole in a ring {} across",
            g(each.value()),
            mm(outer)
        ),
        "make it wider, or the piece lighter",
    )
    .of("outer")
}

impl Ring {
    /// Everything said of them.
    #[must_use]
    pub fn shaped(&self) -> Shaped {
        let mut out = Shaped::new(Kind::Ring);
        out.put("outer", "Ring across", self.outer, Unit::Millimetres);
        out.put("hole", "Hole", self.hole, Unit::Millimetres);
        out.put("ring_thick", "Strand thick", self.thick, Unit::Millimetres);
        out.put("strand", "Strand long", self.strand, Unit::Millimetres);
        out.exact("pieces", "Pieces", f64::from(self.pieces), Unit::Count);
        out.put("each", "Piece weighs", self.each, Unit::Grams);
        if let Some(left) = self.left {
            out.put_left(left);
        }
        out.put(
            "hole_risen",
            "Hole when risen",
            self.hole_risen,
            Unit::Millimetres,
        );
        out.put(
            "outer_risen",
            "Across when risen",
            self.outer_risen,
            Unit::Millimetres,
        );
        let [low, likely, high] = ends(self.hole_risen);
        let outcome = if high <= 0.0 || likely <= 0.0 {
            Some("The hole closes as it rises: make the ring wider.")
        } else if low <= 0.0 {
            Some("The hole may close where it rises most: make the ring a little wider.")
        } else {
            None
        };
        out.verdicts.push(match outcome {
            Some(words) => Verdict {
                outcome: Outcome::Touches,
                words: words.to_owned(),
            },
            None => Verdict {
                outcome: Outcome::Fits,
                words: format!("The hole stays open: about {} when risen.", mm(likely)),
            },
        });
        out.notes.push("The middle line of the strand is taken to stay where it lies, and the strand to grow round it.".to_owned());
        let (o, h, or, hr) = (
            self.outer.likely().value(),
            self.hole.likely().value(),
            self.outer_risen.likely().value(),
            likely,
        );
        let c = or / 2.0;
        let mut above = Drawing::new("above", "One ring from above, shaped and risen", or, or);
        above.marks.push(Mark::Circle {
            at: (c, c),
            radius: or / 2.0,
            look: Look::Risen,
        });
        let middle = f64::midpoint(o, h) / 2.0;
        above.marks.push(Mark::Band {
            points: (0..=73)
                .map(|i| (PI * f64::from(i) / 36.0).sin_cos())
                .map(|(s, k)| (c + middle * k, c + middle * s))
                .collect(),
            wide: (o - h) / 2.0,
            look: Look::Dough,
        });
        if hr > 0.0 {
            above.circle(Look::Risen, (c, c), hr / 2.0);
        }
        above.side((0.0, 0.0), (or, 0.0), format!("risen {}", mm(or)));
        above.side((c - o / 2.0, or), (c + o / 2.0, or), mm(o));
        above.words((c, c), Hang::Middle, format!("hole {}", mm(h)));
        above.desc = format!(
            "A ring {} across with a hole of {}; risen {} across, the hole {}.",
            mm(o),
            mm(h),
            mm(or),
            mm(hr)
        );
        out.drawings.push(above);
        out
    }
}

/// The growth by practice.
pub(crate) fn usual_growth() -> Spread<Ratio> {
    practice("proof").value
}
