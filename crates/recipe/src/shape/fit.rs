//! Whether pieces, or a dough as one mass, fit a pan before and after they rise.

use super::drawing::{Drawing, Look};
use super::packing::{Places, Rows, largest_in_oblong, largest_in_round, largest_round_tube};
use super::practice::practice;
use super::ring_tin::{Laid, laid_round};
use super::tin::{Outline, Tin};
use super::{Dough, Kind, Outcome, Raised, ShapeError, Shaped, Unit, Verdict, ends, mm, three};
use quantity::{Length, Quantity, Ratio, Spread, Volume};

/// How a piece grows while it has room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grows {
    /// On all sides alike: ∛x wider and higher.
    AllSides,
    /// Only wider, its height held: √x wider.
    Wider,
}

/// How much a dough grows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Growing {
    /// Times its volume when proofed.
    pub proof: Spread<Ratio>,
    /// Times its height in the oven after that.
    pub spring: Spread<Ratio>,
    /// How it grows while it has room.
    pub grows: Grows,
    /// What raises it: without yeast nothing rises before the oven.
    pub raised: Raised,
}

impl Growing {
    /// Practice: with yeast 1.3–1.8 × volume, then 1.05–1.2 × height, its height held; a batter 1.3–1.6 ×
    /// height in the oven alone; a custard not at all.
    #[must_use]
    pub fn usual(raised: Raised) -> Self {
        let none = Spread::exact(Ratio::new(1.0));
        let (proof, spring) = match raised {
            Raised::Yeast => (practice("proof").value, practice("spring").value),
            Raised::Oven => (none, practice("rise_oven").value),
            Raised::Not => (none, none),
        };
        Self {
            proof,
            spring,
            grows: Grows::Wider,
            raised,
        }
    }
}

impl Growing {
    /// Where only a share of the volume rises in the oven.
    #[must_use]
    pub fn of_share(mut self, share: f64) -> Self {
        if self.raised == Raised::Oven {
            let of = |s: Ratio| Ratio::new(1.0 + (s.get() - 1.0) * share);
            let s = self.spring;
            self.spring = Spread::new(of(s.low()), of(s.likely()), of(s.high()));
        }
        self
    }
}

/// Pieces of one size: rounds, or slices lying flat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pieces {
    /// How many.
    pub count: u32,
    /// Across.
    pub across: Spread<Length>,
    /// How high.
    pub high: Spread<Length>,
    /// Share of the cylinder around a piece that it fills: 1 for a slice, 2/3 for a ball.
    pub full: f64,
}

/// A pan to fit into.
#[derive(Debug, Clone, PartialEq)]
pub struct FitPan {
    /// Its inside.
    pub tin: Tin,
    /// What it holds to the rim: as charted or measured with water, the geometry in the range.
    pub holds: Spread<Volume>,
    /// How its words were read: `loaf tin, 9 × 5 × 3 in (23 × 13 × 7.5 cm)`.
    pub words: String,
}

impl FitPan {
    /// A tin of which base, rim and depth are known: what it holds is geometry.
    #[must_use]
    pub fn of(tin: Tin) -> Self {
        Self {
            tin,
            holds: Spread::exact(Volume::millilitres(tin.millilitres())),
            words: format!(
                "{}, {} deep",
                tin.rim.words(),
                mm(tin.deep.as_millimetres())
            ),
        }
    }
    /// mm³: least, likely, most.
    fn cubic(&self) -> [f64; 3] {
        let h = self.holds;
        [h.low(), h.likely(), h.high()].map(|v| v.as_millilitres() * 1000.0)
    }
}

/// What is known of a fit.
#[derive(Debug, Clone, PartialEq)]
pub struct FitAsk {
    /// The pan.
    pub pan: FitPan,
    /// The pieces; `None` for the dough as one mass.
    pub pieces: Option<Pieces>,
    /// How much it grows.
    pub growing: Growing,
}

/// A fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// One mass in a ring tin, as a roll round its tube.
    pub laid: Option<Laid>,
    /// The widest that so many pieces can be in this pan.
    pub widest: Option<Length>,
    /// How they lie.
    pub rows: Option<Rows>,
    /// Gap between pieces as they are laid, and when proofed; less than nothing where they touch.
    pub gap: Option<(Spread<Length>, Spread<Length>)>,
    /// Height before, proofed, and baked.
    pub high: [Spread<Length>; 3],
    /// Room under the rim when proofed.
    pub headroom: Spread<Length>,
    /// How many times the pan is full before, and proofed, percent.
    pub filled: [Spread<Ratio>; 2],
    /// In words, the worst first.
    pub verdicts: Vec<Verdict>,
    ask: FitAsk,
    places: Vec<(f64, f64)>,
}

/// Fits pieces into a pan, or a dough as one mass.
///
/// # Formula
/// So many pieces can be as wide as the largest circles in rows (or rings, in a round). Growing by
/// a factor x of its volume, a piece is √x wider with its height held, ∛x wider and higher when it
/// is free. Once pieces touch they can only rise: height = h x (d₀ / d)², which keeps the volume.
/// The oven lifts it by the spring. One mass stands as high as its volume in the pan.
///
/// # Source
/// Geometry; growth and spring: common practice without a source.
///
/// # Errors
/// [`ShapeError`] without pieces or a weight, or for a pan without depth.
pub fn fit(dough: &Dough, ask: &FitAsk) -> Result<Fit, ShapeError> {
    if ask.pan.tin.deep.value() <= 0.0 {
        return Err(
            ShapeError::new("a pan 0 mm deep holds nothing", "give its inside depth").of("pan"),
        );
    }
    match ask.pieces {
        // One piece in a ring tin is a roll round the tube.
        Some(pieces) if pieces.count > 1 || ask.pan.tin.tube.is_none() => {
            Ok(in_pieces(ask, &pieces))
        }
        _ => as_one(
            dough,
            &FitAsk {
                pieces: None,
                ..ask.clone()
            },
        ),
    }
}

fn in_pieces(ask: &FitAsk, p: &Pieces) -> Fit {
    // Pieces stand on the base.
    let moved = |places: Places, d: Length| {
        let half = d.value() / 2.0;
        let places = places.into_iter();
        places.map(|(x, y)| (x + half, y + half)).collect()
    };
    let tin = &ask.pan.tin;
    let (widest, rows, places) = match (tin.base, tin.channel()) {
        (Outline::Round(d), Some(channel)) => {
            let (w, places) = largest_round_tube(p.count, channel);
            (w, Rows::RoundTube, moved(places, d))
        }
        (Outline::Round(d), None) => {
            let (w, places) = largest_in_round(p.count, d.value());
            (w, Rows::Rings, moved(places, d))
        }
        (Outline::Sides(a, b), _) => largest_in_oblong(p.count, a.value(), b.value()),
    };
    let (d, h) = (ends(p.across), ends(p.high));
    let (x, s) = (ends(ask.growing.proof), ends(ask.growing.spring));
    let power = match ask.growing.grows {
        Grows::AllSides => 1.0 / 3.0,
        Grows::Wider => 0.5,
    };
    let free = [0, 1, 2].map(|i| d[i] * x[i].powf(power));
    let risen = [0, 1, 2].map(|i| {
        let room = widest.max(d[i]);
        if free[i] > room {
            h[i] * x[i] * (d[i] / room).powi(2)
        } else {
            match ask.growing.grows {
                Grows::AllSides => h[i] * x[i].cbrt(),
                Grows::Wider => h[i],
            }
        }
    });
    let baked = [0, 1, 2].map(|i| risen[i] * s[i]);
    let deep = ask.pan.tin.deep.value();
    let pan = ask.pan.cubic();
    let volume =
        |i: usize| f64::from(p.count) * p.full * std::f64::consts::PI / 4.0 * d[i] * d[i] * h[i];
    let filled: [Spread<Ratio>; 2] = [
        three([0, 1, 2].map(|i| 100.0 * volume(i) / pan[2 - i])),
        three([0, 1, 2].map(|i| 100.0 * volume(i) * x[i] / pan[2 - i])),
    ];
    let gap = (
        three([2, 1, 0].map(|i| widest - d[i])),
        three([2, 1, 0].map(|i| widest - free[i])),
    );
    let mut verdicts = Vec::new();
    if d[1] > widest + 0.05 {
        verdicts.push(Verdict {
            outcome: Outcome::TooMuch,
            words: format!(
                "Too many: {0} pieces {1} across do not go in; {0} pieces fit up to {2} across.",
                p.count,
                mm(d[1]),
                mm(widest)
            ),
        });
    }
    if risen[2] > deep && filled[1].likely().get() <= 100.0 {
        verdicts.push(above_rim(deep, risen, &filled[1], p.full < 1.0));
    } else {
        verdicts.extend(height_verdict(deep, risen, baked));
    }
    if d[1] <= widest + 0.05 {
        let at = |i: usize| widest - free[i] <= 0.0;
        verdicts.push(match (at(0), at(1), at(2)) {
            (sure, true, _) => Verdict {
                outcome: Outcome::Touches,
                words: format!(
                    "They {} when proofed, {} apart as they are laid: then they hold one another up and rise.",
                    if sure { "touch" } else { "most likely touch" },
                    mm((widest - d[1]).max(0.0))
                ),
            },
            (_, false, true) => Verdict {
                outcome: Outcome::Touches,
                words: format!(
                    "They touch only where they grow most; at {:.1} times their volume {} is left between them.",
                    x[1],
                    mm(widest - free[1])
                ),
            },
            _ => Verdict {
                outcome: Outcome::Fits,
                words: format!(
                    "They fit with {} between them when proofed, and do not hold one another up.",
                    mm(widest - free[1])
                ),
            },
        });
    }
    verdicts.sort_by_key(|v| std::cmp::Reverse(v.outcome));
    Fit {
        laid: None,
        widest: Some(Length::millimetres(widest)),
        rows: Some(rows),
        gap: Some(gap),
        high: [p.high, three(risen), three(baked)],
        headroom: three([2, 1, 0].map(|i| deep - risen[i])),
        filled,
        verdicts,
        ask: ask.clone(),
        places,
    }
}

fn as_one(dough: &Dough, ask: &FitAsk) -> Result<Fit, ShapeError> {
    let v = dough.volume().ok_or_else(|| {
        ShapeError::new(
            "how much goes into the pan is not known",
            "give the dough's weight, or a number of pieces with their width and height",
        )
        .of("dough")
    })?;
    Ok(fit_volume(v, ask))
}

/// Fits a volume of dough in mm³ into a pan as one mass.
pub(crate) fn fit_volume(volume: Spread<Ratio>, ask: &FitAsk) -> Fit {
    let pan = ask.pan.cubic();
    // A tin that holds less than its geometry is filled as much higher.
    let geometric = ask.pan.tin.millilitres() * 1000.0;
    let more = [geometric / pan[2], geometric / pan[1], geometric / pan[0]];
    let (x, s) = (ends(ask.growing.proof), ends(ask.growing.spring));
    let v = ends(volume);
    let before = [0, 1, 2].map(|i| ask.pan.tin.height_of(v[i] * more[i]));
    let risen = [0, 1, 2].map(|i| ask.pan.tin.height_of(v[i] * x[i] * more[i]));
    let baked = [0, 1, 2].map(|i| risen[i] * s[i]);
    let deep = ask.pan.tin.deep.value();
    let mut verdicts = Vec::new();
    if v[1] > pan[1] {
        let before = match ask.growing.raised {
            Raised::Not => "",
            _ => " before it rises",
        };
        verdicts.push(Verdict {
            outcome: Outcome::TooMuch,
            words: format!(
                "Too much: it fills the pan {:.1} times{before}.",
                v[1] / pan[1]
            ),
        });
    }
    if ask.growing.raised == Raised::Yeast {
        verdicts.extend(height_verdict(deep, risen, baked));
    } else if v[1] <= pan[1] {
        verdicts.push(oven_verdict(deep, baked[1], risen[1] * s[2]));
    }
    verdicts.sort_by_key(|v| std::cmp::Reverse(v.outcome));
    let rolled = ask.growing.raised == Raised::Yeast;
    Fit {
        laid: laid_round(volume, &ask.pan.tin, &ask.growing).filter(|_| rolled),
        widest: None,
        rows: None,
        gap: None,
        high: [three(before), three(risen), three(baked)],
        headroom: three([2, 1, 0].map(|i| deep - risen[i])),
        filled: [
            three([0, 1, 2].map(|i| 100.0 * v[i] / pan[2 - i])),
            three([0, 1, 2].map(|i| 100.0 * v[i] * x[i] / pan[2 - i])),
        ],
        verdicts,
        ask: ask.clone(),
        places: Vec::new(),
    }
}

/// How a dough in a pan as one mass comes to stand against its rim, where that is to be minded: it does not go
/// in, or comes up to the rim or above it. Growth by practice.
#[must_use]
pub fn against_rim(dough: &Dough, pan: &FitPan) -> Option<Verdict> {
    let ask = FitAsk {
        pan: pan.clone(),
        pieces: None,
        growing: Growing::usual(dough.raised).of_share(dough.rising),
    };
    let verdicts = fit_volume(dough.volume()?, &ask).verdicts;
    verdicts.into_iter().find(|v| v.outcome > Outcome::Fits)
}

/// Pieces that stand above the rim of a pan that is not full: nothing runs over.
fn above_rim(deep: f64, risen: [f64; 3], filled: &Spread<Ratio>, balls: bool) -> Verdict {
    let slump = if balls {
        "; balls slump and spread, so they stand lower"
    } else {
        ""
    };
    if filled.high().get() > 100.0 {
        return Verdict {
            outcome: Outcome::Overflows,
            words: format!(
                "It may overflow where it grows most: proofed, the pan is {} % full, up to {} %.",
                figures(filled.likely().get()),
                figures(filled.high().get())
            ),
        };
    }
    let (most, when) = if risen[1] > deep {
        (risen[1], "")
    } else {
        (risen[2], " where they grow most")
    };
    Verdict {
        outcome: Outcome::Touches,
        words: format!(
            "Proofed they stand up to {} above the rim{when}{slump}. The pan is then {} % full: nothing runs over.",
            mm(most - deep),
            figures(if when.is_empty() {
                filled.likely().get()
            } else {
                filled.high().get()
            })
        ),
    }
}

fn figures(percent: f64) -> String {
    format!("{percent:.0}")
}

/// How high it comes to stand against the rim.
fn height_verdict(deep: f64, risen: [f64; 3], baked: [f64; 3]) -> Vec<Verdict> {
    let one = |outcome, words| vec![Verdict { outcome, words }];
    if risen[1] > deep {
        one(
            Outcome::Overflows,
            format!(
                "It overflows: proofed it stands {} above the rim.",
                mm(risen[1] - deep)
            ),
        )
    } else if risen[2] > deep {
        one(
            Outcome::Overflows,
            "It may overflow where it grows most: put it in the oven before it reaches the rim."
                .to_owned(),
        )
    } else if baked[1] > deep {
        one(
            Outcome::Fits,
            format!(
                "Proofed it stands {} under the rim; in the oven it comes about {} above it.",
                mm(deep - risen[1]),
                mm(baked[1] - deep)
            ),
        )
    } else {
        one(
            Outcome::Fits,
            format!(
                "The rim is high enough: {} are left above it proofed, {} baked.",
                mm(deep - risen[1]),
                mm(deep - baked[1])
            ),
        )
    }
}

/// How high what rises in the oven alone comes against the rim: likely, and where it rises most.
fn oven_verdict(deep: f64, baked: f64, most: f64) -> Verdict {
    let (outcome, words) = if baked > deep {
        let words = format!(
            "It may run over: in the oven it comes about {} above the rim.",
            mm(baked - deep)
        );
        (Outcome::Overflows, words)
    } else if most > deep {
        (
            Outcome::Touches,
            "In the oven it comes up to the rim where it rises most: stand the pan on a tray."
                .to_owned(),
        )
    } else {
        let words = format!(
            "The rim is high enough: about {} are left above it baked.",
            mm(deep - baked)
        );
        (Outcome::Fits, words)
    };
    Verdict { outcome, words }
}

impl Fit {
    /// It rises before the oven.
    fn is_proofed(&self) -> bool {
        self.ask.growing.raised == Raised::Yeast || self.ask.growing.proof.likely().get() > 1.0
    }
    /// The figures and drawings, put to those of another shape or to its own.
    pub(crate) fn put(&self, out: &mut Shaped) {
        if let (Some(widest), Some((before, after))) = (self.widest, self.gap) {
            out.exact(
                "widest",
                format!("Widest that {} fit", self.ask.pieces.map_or(0, |p| p.count)),
                widest.value(),
                Unit::Millimetres,
            );
            out.put("gap", "Gap as laid", before, Unit::Millimetres);
            out.put("gap_risen", "Gap proofed", after, Unit::Millimetres);
        }
        let proofed = self.is_proofed();
        out.put("high", "High as laid", self.high[0], Unit::Millimetres);
        if proofed {
            out.put(
                "high_risen",
                "High proofed",
                self.high[1],
                Unit::Millimetres,
            );
        }
        out.put("high_baked", "High baked", self.high[2], Unit::Millimetres);
        let room = if proofed {
            "Under the rim proofed"
        } else {
            "Under the rim before the oven"
        };
        out.put("headroom", room, self.headroom, Unit::Millimetres);
        out.put("filled", "Pan filled", self.filled[0], Unit::Percent);
        if proofed {
            out.put(
                "filled_risen",
                "Filled proofed",
                self.filled[1],
                Unit::Percent,
            );
        }
        out.verdicts.extend(self.verdicts.iter().cloned());
        out.put("holds", "Pan holds", self.ask.pan.holds, Unit::Millilitres);
        out.notes
            .push(format!("The pan was read as: {}.", self.ask.pan.words));
        if let Some(rows) = self.rows {
            let how = match self.ask.growing.grows {
                Grows::Wider => "wider at the same height until they touch, then only up",
                Grows::AllSides => "on all sides alike until they touch, then only up",
            };
            out.notes.push(format!(
                "Pieces stand {}; they are taken to grow {how}. The pan is taken by its inside base.",
                rows.words()
            ));
            out.drawings.push(self.above());
        }
        if let Some(laid) = &self.laid {
            laid.put(out);
            out.notes.push("The heights are those of a batter, or of a dough that has filled the tin level; a roll stands as high as it is thick until it touches.".to_owned());
            out.drawings.push(laid.above(&self.ask.pan.tin));
        }
        out.drawings.push(self.side());
    }
    /// Everything said of it.
    #[must_use]
    pub fn shaped(&self) -> Shaped {
        let mut out = Shaped::new(Kind::Fit);
        self.put(&mut out);
        out
    }

    fn risen_across(&self) -> f64 {
        let (Some(p), Some(widest)) = (self.ask.pieces, self.widest) else {
            return 0.0;
        };
        let (d, x) = (
            p.across.likely().value(),
            self.ask.growing.proof.likely().get(),
        );
        let free = match self.ask.growing.grows {
            Grows::AllSides => d * x.cbrt(),
            Grows::Wider => d * x.sqrt(),
        };
        free.min(widest.value().max(d))
    }

    fn above(&self) -> Drawing {
        let (a, b) = self.ask.pan.tin.base.sides();
        let mut d = Drawing::new("above", "The pan, from above", a, b);
        self.ask
            .pan
            .tin
            .base
            .draw(&mut d, Look::Pan, (a / 2.0, b / 2.0));
        if let Some(tube) = self.ask.pan.tin.tube {
            d.circle(Look::Pan, (a / 2.0, b / 2.0), tube.value() / 2.0);
        }
        if let Some(p) = self.ask.pieces {
            let risen = self.risen_across();
            let across = p.across.likely().value();
            for at in self.places.iter().take(200) {
                d.circle(Look::Risen, *at, risen / 2.0);
            }
            for at in self.places.iter().take(200) {
                d.circle(Look::Dough, *at, across / 2.0);
            }
            d.desc = format!(
                "{} pieces {} across in a pan of {}; proofed {} across.",
                p.count,
                mm(across),
                self.ask.pan.tin.base.words(),
                mm(risen)
            );
        }
        d.side((0.0, 0.0), (a, 0.0), mm(a));
        if let Outline::Sides(..) = self.ask.pan.tin.base {
            d.side((0.0, b), (0.0, 0.0), mm(b));
        }
        d
    }

    fn side(&self) -> Drawing {
        let (a, c) = (
            self.ask.pan.tin.base.sides().0,
            self.ask.pan.tin.rim.sides().0,
        );
        let deep = self.ask.pan.tin.deep.value();
        let [before, risen, baked] = self.high.map(|h| h.likely().value());
        // What rises in the oven alone is drawn as it is when baked.
        let risen = if self.is_proofed() { risen } else { baked };
        let over = (risen.max(baked) - deep).max(0.0);
        let floor = deep + over;
        let lean = (c - a) / 2.0;
        let mut d = Drawing::new("side", "The pan, from the side", c, floor);
        let at = |h: f64| lean * h / deep;
        match self.ask.pieces {
            Some(p) => {
                // The pieces of the front row, spread as they lie; of a ring tin those cut through.
                let front = self.places.iter().map(|p| p.1).fold(0.0, f64::max);
                let row: Vec<f64> = match self.ask.pan.tin.channel() {
                    Some((wide, _)) => vec![wide / 2.0, c - wide / 2.0],
                    None => {
                        let row = self.places.iter().filter(|p| front - p.1 < 1.0);
                        row.map(|p| p.0).collect()
                    }
                };
                let (wide, wider) = (p.across.likely().value(), self.risen_across());
                for x in &row {
                    d.rect(
                        Look::Risen,
                        lean + x - wider / 2.0,
                        floor - risen,
                        wider,
                        risen,
                    );
                }
                for x in &row {
                    d.rect(
                        Look::Dough,
                        lean + x - wide / 2.0,
                        floor - before,
                        wide,
                        before,
                    );
                }
            }
            None => {
                for (h, look) in [(risen, Look::Risen), (before, Look::Dough)] {
                    let x = at(h);
                    if let Some((wide, _)) = self.ask.pan.tin.channel() {
                        d.rect(look, 0.0, floor - h, wide, h);
                        d.rect(look, c - wide, floor - h, wide, h);
                        continue;
                    }
                    d.area(
                        look,
                        vec![
                            (lean - x, floor - h),
                            (lean, floor),
                            (c - lean, floor),
                            (c - lean + x, floor - h),
                        ],
                    );
                }
            }
        }
        if let Some((wide, _)) = self.ask.pan.tin.channel() {
            for x in [wide, c - wide] {
                d.line(Look::Pan, vec![(x, floor), (x, over)]);
            }
        }
        d.line(
            Look::Pan,
            vec![(0.0, over), (lean, floor), (c - lean, floor), (c, over)],
        );
        d.side((c, over), (c, floor), format!("pan {}", mm(deep)));
        d.side((0.0, floor), (0.0, floor - before), mm(before));
        let proofed = if self.is_proofed() {
            format!(", {} proofed", mm(risen))
        } else {
            String::new()
        };
        d.desc = format!(
            "The pan is {} deep; it stands {} high as laid{proofed} and about {} baked.",
            mm(deep),
            mm(before),
            mm(baked)
        );
        d
    }
}
