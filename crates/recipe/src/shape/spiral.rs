//! A filled sheet rolled up: turns, diameter, slices.

use super::drawing::{Drawing, Look};
use super::sheet::{Sheet, SheetAsk, sheet};
use super::{
    Dough, Kind, Outcome, ShapeError, Shaped, Unit, Verdict, ends, mm, said, three, volume,
};
use quantity::{Length, Mass, Quantity, Ratio, Spread};
use std::f64::consts::PI;

/// How much filling is spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Filling {
    /// None.
    None,
    /// So much in all.
    Weight(Mass),
    /// Grams on each square centimetre.
    OnArea(f64),
    /// So thick.
    Thick(Length),
}

/// How the log is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cut {
    /// Not at all.
    Whole,
    /// Into so many slices.
    Slices(u32),
    /// Into slices so wide.
    Wide(Length),
}

/// What is known of a roll.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RollAsk {
    /// The sheet: `length` is rolled up, `width` is along the log.
    pub sheet: SheetAsk,
    /// What is spread on it.
    pub filling: Filling,
    /// Its density, g/mL.
    pub filling_density: Spread<Ratio>,
    /// Bare along the edge that closes the roll.
    pub margin: Length,
    /// Cut off at each end of the log.
    pub trim: Length,
    /// Radius of what it is rolled round; 0 for nothing.
    pub core: Length,
    /// How it is cut.
    pub cut: Cut,
}

/// A spiral: radius outside, and turns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spiral {
    /// Outer radius, mm.
    pub radius: f64,
    /// Turns.
    pub turns: f64,
}

/// A sheet rolled up, by area: the cut end of the sheet has the area of the ring it fills.
///
/// # Formula
/// R² = r₀² + ℓ p / π; turns N = (R − r₀) / p, with ℓ the length, p the pitch (sheet and filling),
/// r₀ the core. Exact in area, so in weight.
///
/// # Inputs
/// mm, above 0; `core` 0 or more.
#[must_use]
pub fn spiral_by_area(length: f64, pitch: f64, core: f64) -> Spiral {
    let radius = (core * core + length * pitch / PI).sqrt();
    Spiral {
        radius,
        turns: (radius - core) / pitch,
    }
}

/// A sheet rolled up, by arc length: an Archimedean spiral r = b θ, b = p / 2π, as long as the
/// sheet.
///
/// # Formula
/// ℓ = (b / 2) [u √(1 + u²) + asinh u] between u₀ = r₀ / b and u₁ = R / b, solved for u₁ by
/// Newton's method, which converges from above since ℓ is convex in u.
///
/// # Source
/// Arc length of the Archimedean spiral, a textbook integral; checked against SciPy quad.
#[must_use]
pub fn spiral_by_arc(length: f64, pitch: f64, core: f64) -> Spiral {
    let b = pitch / (2.0 * PI);
    let arc = |u: f64| b / 2.0 * (u * u.hypot(1.0) + u.asinh());
    let begin = core / b;
    let want = arc(begin) + length;
    let mut u = (begin * begin + 2.0 * length / b).sqrt();
    for _ in 0..50 {
        let step = (arc(u) - want) / (b * u.hypot(1.0));
        u -= step;
        if step.abs() < 1e-13 * u.max(1.0) {
            break;
        }
    }
    Spiral {
        radius: b * u,
        turns: (u - begin) / (2.0 * PI),
    }
}

/// A roll.
#[derive(Debug, Clone, PartialEq)]
pub struct Roll {
    /// The sheet it is made of.
    pub sheet: Sheet,
    /// What is spread on it in all.
    pub filling: Spread<Mass>,
    /// Filling on each square centimetre, g.
    pub on_area: Spread<Ratio>,
    /// How thick the filling lies.
    pub filling_thick: Spread<Length>,
    /// Diameter by area.
    pub across: Spread<Length>,
    /// Diameter by arc length, of the likely figures.
    pub across_by_arc: Length,
    /// Turns by area.
    pub turns: Spread<Ratio>,
    /// Turns by arc length, of the likely figures.
    pub turns_by_arc: f64,
    /// Slices; 1 for a whole log.
    pub slices: u32,
    /// Width of a slice.
    pub slice_wide: Spread<Length>,
    /// Weight of a slice.
    pub slice_weighs: Spread<Mass>,
    /// What is cut off: both ends, and what is too little for a slice.
    pub cut_off: Spread<Mass>,
    ask: RollAsk,
}

impl Roll {
    /// The volume of the log with its ends off, mm³: its width by area, along the sheet's width.
    pub(crate) fn log(&self) -> Spread<Ratio> {
        let (d, l) = (ends(self.across), ends(self.sheet.width));
        let trim = 2.0 * self.ask.trim.value();
        three([0, 1, 2].map(|i| PI / 4.0 * d[i] * d[i] * (l[i] - trim).max(0.0)))
    }
}

/// Rolls a sheet up with its filling.
///
/// # Formula
/// The filling lies on length − margin; there the pitch is sheet + filling, on the margin the sheet
/// alone. R² = r₀² + (ℓ t + (ℓ − m) f) / π. A slice weighs (dough + filling) × its width / the
/// log's.
///
/// # Source
/// Geometry. The filling is taken to stay as thick as it was spread.
///
/// # Errors
/// Those of [`sheet`], and [`ShapeError`] where margins or trims leave nothing, or slices are
/// under 3 mm.
pub fn roll(dough: &Dough, ask: &RollAsk) -> Result<Roll, ShapeError> {
    let sheet = sheet(dough, &ask.sheet)?;
    let (margin, trim, core) = (ask.margin.value(), ask.trim.value(), ask.core.value());
    let (l, w, t) = (ends(sheet.length), ends(sheet.width), ends(sheet.thick));
    if margin >= l[1] {
        return Err(ShapeError::new(
            format!(
                "a bare margin of {} leaves nothing of {} to fill",
                mm(margin),
                mm(l[1])
            ),
            "make the margin smaller or the sheet longer",
        )
        .of("margin"));
    }
    if 2.0 * trim >= w[1] {
        return Err(ShapeError::new(
            format!(
                "{} cut off at each end leaves nothing of a {} log",
                mm(trim),
                mm(w[1])
            ),
            "trim less",
        )
        .of("trim"));
    }
    let spread_on = |i: usize| (l[i] - margin).max(0.0) * w[i];
    let by_weight = |f: Spread<Mass>| {
        let v = ends(volume(f, ask.filling_density));
        three::<Length>([
            v[0] / spread_on(1),
            v[1] / spread_on(1),
            v[2] / spread_on(1),
        ])
    };
    // g/cm² over g/mL is cm.
    let by_area = |on: f64| by_weight(Spread::exact(Mass::grams(on * spread_on(1) / 100.0)));
    let (filling_thick, filling) = match ask.filling {
        Filling::None => (Spread::exact(Length::of(0.0)), Spread::exact(Mass::of(0.0))),
        Filling::Weight(f) => (by_weight(Spread::exact(f)), Spread::exact(f)),
        Filling::OnArea(on) => (
            by_area(on),
            three([0, 1, 2].map(|i| on * spread_on(i) / 100.0)),
        ),
        Filling::Thick(f) => (
            Spread::exact(f),
            Dough::new(None, ask.filling_density)
                .weight(three([0, 1, 2].map(|i| spread_on(i) * f.value()))),
        ),
    };
    let f = ends(filling_thick);
    if f[1] > 5.0 * t[1].max(4.0) {
        return Err(ShapeError::new(
            format!(
                "the filling would lie {} thick on a {} sheet",
                mm(f[1]),
                mm(t[1])
            ),
            "take less filling or a larger sheet",
        )
        .of("filling"));
    }
    let by = |make: fn(f64, f64, f64) -> Spiral, i: usize| {
        let filled = make(l[i] - margin, t[i] + f[i], core);
        if margin <= 0.0 {
            return filled;
        }
        let closed = make(margin, t[i], filled.radius);
        Spiral {
            radius: closed.radius,
            turns: filled.turns + closed.turns,
        }
    };
    let area = [0, 1, 2].map(|i| by(spiral_by_area, i));
    let arc = by(spiral_by_arc, 1);
    let usable = w[1] - 2.0 * trim;
    let (slices, slice_wide) = match ask.cut {
        Cut::Whole => (1, usable),
        Cut::Slices(n) => (n.max(1), usable / f64::from(n.max(1))),
        Cut::Wide(wide) => {
            let n = (usable / wide.value() + 1e-9).floor();
            if n < 1.0 {
                return Err(ShapeError::new(
                    format!(
                        "no slice {} wide comes of a log of {}",
                        mm(wide.value()),
                        mm(usable)
                    ),
                    "cut narrower slices or make the log longer",
                )
                .of("slice"));
            }
            (n as u32, wide.value())
        }
    };
    if slice_wide < 3.0 {
        return Err(ShapeError::new(
            format!(
                "{slices} slices of a log of {} are {} wide",
                mm(usable),
                mm(slice_wide)
            ),
            "cut fewer: under 3 mm no slice holds together",
        )
        .of("slices"));
    }
    let all = Spread::sum_independent([sheet.weighs, filling]);
    let share = slice_wide / w[1];
    let slice_weighs = all.scaled(share);
    let cut_off = all.scaled((1.0 - share * f64::from(slices)).max(0.0));
    let on_area = ends(filling).map(|g| 100.0 * g / spread_on(1).max(1e-9));
    Ok(Roll {
        sheet,
        filling,
        on_area: three(on_area),
        filling_thick,
        across: three(area.map(|s| 2.0 * s.radius)),
        across_by_arc: Length::millimetres(2.0 * arc.radius),
        turns: {
            // A thick sheet makes fewer turns: the ends come the other way round.
            Spread::new(
                Ratio::new(area[0].turns),
                Ratio::new(area[1].turns),
                Ratio::new(area[2].turns),
            )
        },
        turns_by_arc: arc.turns,
        slices,
        slice_wide: Spread::exact(Length::millimetres(slice_wide)),
        slice_weighs,
        cut_off,
        ask: *ask,
    })
}

impl Roll {
    /// Everything said of it.
    #[must_use]
    pub fn shaped(&self) -> Shaped {
        let mut out = Shaped::new(Kind::Roll);
        out.put("across", "Roll across", self.across, Unit::Millimetres);
        out.put("turns", "Turns", self.turns, Unit::Turns);
        if self.ask.cut != Cut::Whole {
            out.exact("slices", "Slices", f64::from(self.slices), Unit::Count);
            out.put(
                "slice_wide",
                "Slice wide",
                self.slice_wide,
                Unit::Millimetres,
            );
            out.put(
                "slice_weighs",
                "Slice weighs",
                self.slice_weighs,
                Unit::Grams,
            );
        }
        out.put("cut_off", "Cut off at the ends", self.cut_off, Unit::Grams);
        if self.ask.filling != Filling::None {
            out.put("filling", "Filling", self.filling, Unit::Grams);
            out.put(
                "filling_on",
                "Filling on the sheet",
                self.on_area,
                Unit::GramsPerSquareCentimetre,
            );
            out.put(
                "filling_thick",
                "Filling lies",
                self.filling_thick,
                Unit::Millimetres,
            );
        }
        self.sheet.measures(&mut out);
        out.exact(
            "across_by_arc",
            "Across, by the length",
            self.across_by_arc.value(),
            Unit::Millimetres,
        );
        out.exact(
            "turns_by_arc",
            "Turns, by the length",
            self.turns_by_arc,
            Unit::Turns,
        );
        if self.turns.likely().get() < 1.5 {
            out.verdicts.push(Verdict {
                outcome: Outcome::TooLittle,
                words: format!(
                    "It goes round {} only: roll it thinner, or a longer side up.",
                    said(self.turns.likely().get(), Unit::Turns)
                ),
            });
        }
        out.notes.push("Across is by the area of the cut end, which keeps the weight; by the sheet's length the same sheet is followed along its spiral, and the two part by under 1 % from four turns on. The filling is taken to stay as thick as it was spread: pressed out, it makes the roll thinner.".to_owned());
        out.drawings.push(self.flat());
        out.drawings.push(self.end_on());
        out
    }

    /// The flat sheet with filling, margin, trims and cuts.
    fn flat(&self) -> Drawing {
        let (l, w) = (
            self.sheet.length.likely().value(),
            self.sheet.width.likely().value(),
        );
        let (m, trim) = (self.ask.margin.value(), self.ask.trim.value());
        let mut d = Drawing::new("sheet", "The sheet, from above", w, l);
        d.rect(Look::Dough, 0.0, 0.0, w, l);
        if self.ask.filling != Filling::None {
            d.rect(Look::Filling, 0.0, m, w, l - m);
        }
        for x in [trim, w - trim] {
            if trim > 0.0 {
                d.line(Look::Cut, vec![(x, 0.0), (x, l)]);
            }
        }
        if self.slices > 1 {
            let wide = self.slice_wide.likely().value();
            let first = usize::from(trim <= 0.0);
            for i in first..=self.slices as usize {
                let x = trim + wide * i as f64;
                if x < w - 0.01 && (i > 0) {
                    d.line(Look::Cut, vec![(x, 0.0), (x, l)]);
                }
            }
        }
        d.side((0.0, 0.0), (w, 0.0), mm(w));
        d.side((0.0, l), (0.0, 0.0), format!("{}, rolled up", mm(l)));
        d.desc = format!(
            "A sheet {} along the log and {} in the direction it is rolled, from the near edge. {}{}{}",
            mm(w),
            mm(l),
            if self.ask.filling == Filling::None {
                String::new()
            } else if m > 0.0 {
                format!("Filling lies on all but {} at the far edge. ", mm(m))
            } else {
                "Filling lies on all of it. ".to_owned()
            },
            if trim > 0.0 {
                format!("{} is cut off at each end. ", mm(trim))
            } else {
                String::new()
            },
            if self.slices > 1 {
                format!(
                    "Cut into {} slices, {} wide.",
                    self.slices,
                    mm(self.slice_wide.likely().value())
                )
            } else {
                String::new()
            },
        );
        d
    }

    /// The end of the roll: filling and dough as bands of a spiral.
    fn end_on(&self) -> Drawing {
        let across = self.across.likely().value();
        let mut d = Drawing::new("end", "The roll, end on", across, across);
        let c = across / 2.0;
        let (t, f) = (
            self.sheet.thick.likely().value(),
            self.filling_thick.likely().value(),
        );
        let core = self.ask.core.value();
        let length = self.sheet.length.likely().value();
        d.circle(Look::Dough, (c, c), c);
        if core > 0.0 {
            d.circle(Look::Pan, (c, c), core);
        }
        // The seam between two turns: the outer face of the dough, where the filling lies.
        let filled = spiral_by_area(length - self.ask.margin.value(), t + f, core);
        let pitch = t + f;
        let points = |offset: f64, to: f64| -> Vec<(f64, f64)> {
            let turns = ((to - core - offset) / pitch).max(0.0);
            let steps = (turns * 48.0).ceil().max(1.0) as usize;
            (0..=steps)
                .map(|i| {
                    let turn = turns * i as f64 / steps as f64;
                    let r = core + offset + pitch * turn;
                    let a = 2.0 * PI * turn;
                    (c + r * a.cos(), c - r * a.sin())
                })
                .collect()
        };
        if f > 0.0 {
            d.marks.push(super::Mark::Band {
                points: points(t + f / 2.0, filled.radius),
                wide: f,
                look: Look::Filling,
            });
        } else {
            d.line(Look::Cut, points(t, c));
        }
        d.side((0.0, across), (across, across), mm(across));
        d.desc = format!(
            "A spiral of {}, {} across: dough {} thick{}.",
            said(self.turns.likely().get(), Unit::Turns),
            mm(across),
            mm(t),
            if f > 0.0 {
                format!(", filling {} thick", mm(f))
            } else {
                String::new()
            },
        );
        d
    }
}
