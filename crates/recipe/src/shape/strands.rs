//! Plaits and twists: strand weight, length before, loss of length.

use super::drawing::{Drawing, Look, Mark};
use super::practice::practice;
use super::{Dough, Kind, ShapeError, Shaped, Unit, ends, mm, three};
use quantity::{Length, Mass, Quantity, Ratio, Spread};
use std::f64::consts::PI;

/// Which length of a plait is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PlaitBy {
    /// A strand before it is plaited.
    Strand(Length),
    /// The plait when it is done.
    Finished(Length),
}

/// What is known of a plait.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlaitAsk {
    /// Strands, 2 to 8; two make a twist.
    pub strands: u32,
    /// The length known.
    pub by: PlaitBy,
    /// Angle between a strand and the plait's length, degrees; by practice where `None`.
    pub crossing: Option<f64>,
}

/// A plait.
#[derive(Debug, Clone, PartialEq)]
pub struct Plait {
    /// Strands.
    pub strands: u32,
    /// What one weighs; `None` without the dough's weight.
    pub strand_weighs: Option<Spread<Mass>>,
    /// How long one is before.
    pub strand_long: Spread<Length>,
    /// How thick one is, rolled evenly.
    pub strand_across: Option<Spread<Length>>,
    /// How long the plait is.
    pub long: Spread<Length>,
    /// How wide it is, strands touching.
    pub wide: Option<Spread<Length>>,
    /// How much of its length a strand loses, percent.
    pub loss: Spread<Ratio>,
    /// The angle taken, degrees.
    pub crossing: Spread<Ratio>,
}

/// Plaits strands.
///
/// # Formula
/// A strand lies at an angle α to the plait's length, so a length s of it makes s cos α of plait:
/// loss = 1 − cos α. Two strands are a double helix whose lines run on a cylinder as wide as one
/// strand; unrolled it is the same right triangle. More are a flat plait whose
/// strands run in straight lines from edge to edge and back. With strands of one direction
/// touching, the plait is d (1 + n / (2 cos α)) wide for n ≥ 3 and 2 d for a twist. A strand is an
/// even cylinder of its volume: d = √(4 V / (π s)).
///
/// # Source
/// Geometry; how tight it is, α = 30–45°, is common practice without a source. A path rounded at
/// the edges instead (a sine of the same width and crossings) is 2–4 % longer (SciPy quad).
///
/// # Errors
/// [`ShapeError`] for fewer than 2 or more than 8 strands, or an angle outside 5–60°.
pub fn plait(dough: &Dough, ask: &PlaitAsk) -> Result<Plait, ShapeError> {
    let n = f64::from(ask.strands);
    if !(2..=8).contains(&ask.strands) {
        return Err(ShapeError::new(
            format!("{} strands make no plait", ask.strands),
            "give 2 (a twist) to 8",
        )
        .of("strands"));
    }
    let crossing = match ask.crossing {
        Some(a) if (5.0..=60.0).contains(&a) => Spread::exact(Ratio::new(a)),
        Some(a) => {
            return Err(ShapeError::new(
                format!("strands cannot cross at {a:.0}°"),
                "give 5 to 60 degrees from the plait's length; 45 is tight",
            )
            .of("crossing"));
        }
        None => practice("crossing").value,
    };
    let cos = ends(crossing).map(|a| a.to_radians().cos());
    let (strand, long) = match ask.by {
        PlaitBy::Strand(s) => (Spread::exact(s), three(cos.map(|c| s.value() * c))),
        PlaitBy::Finished(l) => (three(cos.map(|c| l.value() / c)), Spread::exact(l)),
    };
    let volume = dough.volume().map(|v| v.scaled(1.0 / n));
    let across = volume.map(|v| {
        let (v, s) = (ends(v), ends(strand));
        // The longer a strand, the thinner.
        three::<Length>([
            (4.0 * v[0] / (PI * s[2])).sqrt(),
            (4.0 * v[1] / (PI * s[1])).sqrt(),
            (4.0 * v[2] / (PI * s[0])).sqrt(),
        ])
    });
    let wide = across.map(|d| {
        let d = ends(d);
        three([0, 1, 2].map(|i| {
            if ask.strands == 2 {
                2.0 * d[i]
            } else {
                d[i] * (1.0 + n / (2.0 * cos[i]))
            }
        }))
    });
    if let Some(d) = across
        && d.likely().value() > 0.4 * ends(strand)[1]
    {
        return Err(ShapeError::new(
            format!(
                "a strand would be {} thick and {} long",
                mm(d.likely().value()),
                mm(ends(strand)[1])
            ),
            "make strands longer, or take less dough: so short they do not plait",
        )
        .of("strand"));
    }
    if let Some(d) = across
        && d.likely().value() < 4.0
    {
        return Err(ShapeError::new(
            format!(
                "a strand would be {} thick over {}",
                mm(d.likely().value()),
                mm(ends(strand)[1])
            ),
            "make strands shorter: under 4 mm they break",
        )
        .of("strand"));
    }
    Ok(Plait {
        strands: ask.strands,
        strand_weighs: dough.grams.map(|g| g.scaled(1.0 / n)),
        strand_long: strand,
        strand_across: across,
        long,
        wide,
        loss: three(cos.map(|c| 100.0 * (1.0 - c))),
        crossing,
    })
}

impl Plait {
    /// Everything said of it.
    #[must_use]
    pub fn shaped(&self) -> Shaped {
        let mut out = Shaped::new(Kind::Plait);
        if let Some(w) = self.strand_weighs {
            out.put("strand_weighs", "Strand weighs", w, Unit::Grams);
        }
        out.put(
            "strand",
            "Strand before plaiting",
            self.strand_long,
            Unit::Millimetres,
        );
        if let Some(d) = self.strand_across {
            out.put("strand_across", "Strand thick", d, Unit::Millimetres);
        }
        let name = if self.strands == 2 { "Twist" } else { "Plait" };
        out.put("long", format!("{name} long"), self.long, Unit::Millimetres);
        if let Some(w) = self.wide {
            out.put("wide", format!("{name} wide"), w, Unit::Millimetres);
        }
        out.put("loss", "Length lost", self.loss, Unit::Percent);
        out.put("crossing", "Strands cross at", self.crossing, Unit::Degrees);
        let told = self.crossing.low().get() < self.crossing.high().get();
        out.notes.push(format!(
            "A strand at an angle to the plait loses 1 − cos of it in length{}. Strands are taken as even and round, and touching. To have your own figure: plaited length over strand length is that cosine.",
            if told { "; how tight it is plaited, 30–45°, is common practice without a source" } else { "" }
        ));
        out.drawings.push(self.above());
        out
    }

    /// Strands over and under one another.
    fn above(&self) -> Drawing {
        let long = self.long.likely().value();
        let d = self
            .strand_across
            .map_or(long / 12.0, |d| d.likely().value());
        let n = self.strands;
        let cos = self.crossing.likely().get().to_radians().cos();
        let tan = self.crossing.likely().get().to_radians().tan();
        let wide = self.wide.map_or(
            if n == 2 {
                2.0 * d
            } else {
                d * (1.0 + f64::from(n) / (2.0 * cos))
            },
            |w| w.likely().value(),
        );
        // Side to side of a strand's middle, and the length of plait in which it goes over and
        // back; a twist is seen as a sine.
        let swing = wide - d;
        let period = if n == 2 {
            PI * d / tan
        } else {
            2.0 * swing / tan
        };
        let mut out = Drawing::new(
            "above",
            if n == 2 {
                "The twist, from above"
            } else {
                "The plait, from above"
            },
            long,
            wide,
        );
        let at = |strand: u32, x: f64| {
            let phase = x / period + f64::from(strand) / f64::from(n);
            let y = if n == 2 {
                (2.0 * PI * phase).cos() / 2.0
            } else {
                let p = phase.rem_euclid(1.0);
                // From edge to edge in straight lines.
                if p < 0.5 {
                    0.5 - 2.0 * p
                } else {
                    2.0 * p - 1.5
                }
            };
            (x, wide / 2.0 + swing * y)
        };
        // A strand is cut half-way between two crossings, so that each lies in one piece. Strands
        // meet at every 2n-th of the period but the edges; a twist's strand is over from one edge
        // to the other.
        let mut pieces: Vec<(bool, Vec<(f64, f64)>)> = Vec::new();
        let count = i64::from(n);
        let (step, half) = match n {
            2 => (period / 2.0, 0.0),
            _ => (period / (2.0 * f64::from(n)), 0.5),
        };
        for strand in 0..n {
            let shift = f64::from(strand) / f64::from(n) * period;
            let first = (shift / step).floor() as i64 - 1;
            let last = ((long + shift) / step).ceil() as i64 + 1;
            for k in first..=last {
                let from = ((k as f64 - half) * step - shift).max(0.0);
                let to = ((k as f64 + 1.0 - half) * step - shift).min(long);
                if to - from < 1e-6 {
                    continue;
                }
                let points = (0..=8)
                    .map(|i| at(strand, from + (to - from) * f64::from(i) / 8.0))
                    .collect();
                let over = match n {
                    2 => k.rem_euclid(2) == 0,
                    _ => {
                        // The how-manieth crossing since the edge; one way odd ones are over, the
                        // other way those that are left.
                        let j = k.rem_euclid(2 * count);
                        let i = j % count;
                        i != 0 && (i % 2 == 1) == (j < count || count % 2 == 1)
                    }
                };
                pieces.push((over, points));
            }
        }
        pieces.sort_by_key(|p| p.0);
        for (_, points) in pieces {
            out.marks.push(Mark::Band {
                points,
                wide: d,
                look: Look::Dough,
            });
        }
        out.side((0.0, 0.0), (long, 0.0), mm(long));
        out.side((0.0, wide), (0.0, 0.0), mm(wide));
        out.desc = format!(
            "{} strands, each {} thick, in a {} {} long and about {} wide.",
            n,
            mm(d),
            if n == 2 { "twist" } else { "plait" },
            mm(long),
            mm(wide)
        );
        out
    }
}
