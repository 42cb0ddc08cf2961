//! Tins: their outline, volume, depth of a filling, and how they are lined with paper or dough.

use super::drawing::{Drawing, Hang, Look};
use super::{Dough, Kind, ShapeError, Shaped, Unit, left_of, mm};
use quantity::{Length, Mass, Ratio, Spread, Volume};
use std::f64::consts::PI;

/// The outline of a base or a rim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Outline {
    /// A circle, by its diameter.
    Round(Length),
    /// An oblong, by its sides.
    Sides(Length, Length),
}

impl Outline {
    /// From one side or two.
    ///
    /// # Errors
    /// [`ShapeError`] for none or more than two.
    pub fn of(sides: &[Length]) -> Result<Self, ShapeError> {
        match sides {
            [across] => Ok(Self::Round(*across)),
            [a, b] => Ok(Self::Sides(*a, *b)),
            _ => Err(ShapeError::new(
                format!("{} sides are no outline", sides.len()),
                "give one for a round, like 23 cm, or two, like 30x20cm",
            )),
        }
    }
    /// Its area, mm².
    #[must_use]
    pub fn area(self) -> f64 {
        match self {
            Self::Round(d) => PI / 4.0 * d.as_millimetres().powi(2),
            Self::Sides(a, b) => a.as_millimetres() * b.as_millimetres(),
        }
    }
    /// Its length round, mm.
    #[must_use]
    pub fn round(self) -> f64 {
        match self {
            Self::Round(d) => PI * d.as_millimetres(),
            Self::Sides(a, b) => 2.0 * (a.as_millimetres() + b.as_millimetres()),
        }
    }
    /// Its two sides, mm; the diameter twice.
    #[must_use]
    pub fn sides(self) -> (f64, f64) {
        match self {
            Self::Round(d) => (d.as_millimetres(), d.as_millimetres()),
            Self::Sides(a, b) => (a.as_millimetres(), b.as_millimetres()),
        }
    }
    /// An outline larger on every side by `by` mm.
    #[must_use]
    pub fn wider(self, by: f64) -> Self {
        let more = |l: Length| Length::millimetres(l.as_millimetres() + 2.0 * by);
        match self {
            Self::Round(d) => Self::Round(more(d)),
            Self::Sides(a, b) => Self::Sides(more(a), more(b)),
        }
    }
    /// In words: `23 cm round`, `30 cm × 20 cm`.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Round(d) => format!("{} round", mm(d.as_millimetres())),
            Self::Sides(a, b) => {
                format!("{} × {}", mm(a.as_millimetres()), mm(b.as_millimetres()))
            }
        }
    }
    pub(crate) fn draw(self, d: &mut Drawing, look: Look, middle: (f64, f64)) {
        let (a, b) = self.sides();
        match self {
            Self::Round(_) => d.circle(look, middle, a / 2.0),
            Self::Sides(..) => d.rect(look, middle.0 - a / 2.0, middle.1 - b / 2.0, a, b),
        }
    }
}

/// A tin inside: base, rim, depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tin {
    /// The base.
    pub base: Outline,
    /// The rim; as the base for straight sides.
    pub rim: Outline,
    /// How deep.
    pub deep: Length,
    /// The tube of a ring tin, across: upright in the middle.
    pub tube: Option<Length>,
}

impl Tin {
    /// A tin with straight sides.
    #[must_use]
    pub fn straight(base: Outline, deep: Length) -> Self {
        Self {
            base,
            rim: base,
            deep,
            tube: None,
        }
    }
    /// The same round an upright tube.
    #[must_use]
    pub fn round_a_tube(self, tube: Length) -> Self {
        Self {
            tube: Some(tube),
            ..self
        }
    }
    /// Of a ring tin the width between tube and wall, and the radius of the line midway, mm.
    #[must_use]
    pub fn channel(&self) -> Option<(f64, f64)> {
        let (across, tube) = (self.base.sides().0, self.tube?.as_millimetres());
        Some(((across - tube) / 2.0, (across + tube) / 4.0))
    }
    /// A tin whose rim is not its base.
    ///
    /// # Errors
    /// [`ShapeError`] for a round base under an oblong rim, or a rim smaller than the base.
    pub fn sloped(base: Outline, rim: Outline, deep: Length) -> Result<Self, ShapeError> {
        let same = matches!(
            (base, rim),
            (Outline::Round(_), Outline::Round(_)) | (Outline::Sides(..), Outline::Sides(..))
        );
        let ((a, b), (c, d)) = (base.sides(), rim.sides());
        if !same || c < a || d < b {
            return Err(ShapeError::new(
                format!("a rim of {} over a base of {}", rim.words(), base.words()),
                "give the rim as the base is given, and not smaller",
            )
            .of("top"));
        }
        Ok(Self {
            base,
            rim,
            deep,
            tube: None,
        })
    }
    /// The outline at a height, mm.
    #[must_use]
    pub fn at(&self, high: f64) -> Outline {
        let share = high / self.deep.as_millimetres();
        let between = |a: Length, b: Length| {
            let (a, b) = (a.as_millimetres(), b.as_millimetres());
            Length::millimetres(a + (b - a) * share)
        };
        match (self.base, self.rim) {
            (Outline::Round(a), Outline::Round(b)) => Outline::Round(between(a, b)),
            (Outline::Sides(a, b), Outline::Sides(c, d)) => {
                Outline::Sides(between(a, c), between(b, d))
            }
            (base, _) => base,
        }
    }
    /// Volume up to a height, mm³.
    ///
    /// # Formula
    /// h / 6 (A₀ + 4 A½ + A₁): exact for a cone's and a wedge's sides, whose area is of the second
    /// degree in height. What a tube takes goes off.
    #[must_use]
    pub fn volume_to(&self, high: f64) -> f64 {
        let tube = self.tube.map_or(0.0, |d| Outline::Round(d).area());
        let area = |h: f64| self.at(h).area() - tube;
        high / 6.0 * (area(0.0) + 4.0 * area(high / 2.0) + area(high))
    }
    /// Volume to the rim, mL.
    #[must_use]
    pub fn millilitres(&self) -> f64 {
        self.volume_to(self.deep.as_millimetres()) / 1000.0
    }
    /// How high a volume in mm³ stands, the sides taken on above the rim where it is more.
    #[must_use]
    pub fn height_of(&self, volume: f64) -> f64 {
        let (mut low, mut high) = (0.0, self.deep.as_millimetres());
        while self.volume_to(high) < volume && high < 1e5 {
            high *= 2.0;
        }
        for _ in 0..60 {
            let h = f64::midpoint(low, high);
            if self.volume_to(h) < volume {
                low = h
            } else {
                high = h
            }
        }
        f64::midpoint(low, high)
    }
    /// Length of the sides up the slope, mm: of a round one figure twice, of an oblong those of
    /// its short and of its long faces.
    #[must_use]
    pub fn slants(&self) -> (f64, f64) {
        let ((a, b), (c, d)) = (self.base.sides(), self.rim.sides());
        let h = self.deep.as_millimetres();
        (h.hypot((c - a) / 2.0), h.hypot((d - b) / 2.0))
    }
    /// Area of the sides, mm².
    ///
    /// # Formula
    /// Round: π (R + r) s, the side of a frustum of a cone. Oblong: four trapezia.
    #[must_use]
    pub fn side_area(&self) -> f64 {
        let (short, long) = self.slants();
        let ((a, b), (c, d)) = (self.base.sides(), self.rim.sides());
        match self.base {
            Outline::Round(_) => PI * (a + c) / 2.0 * short,
            // The faces along `a` lean by (d − b) / 2, those along `b` by (c − a) / 2.
            Outline::Sides(..) => (a + c) * long + (b + d) * short,
        }
    }
}

/// The side of a round tin, unrolled: a part of a ring, or a straight band.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sector {
    /// Radius of the lower edge, mm; endless for straight sides, given as 0.
    pub inner: f64,
    /// Radius of the upper edge, mm.
    pub outer: f64,
    /// Angle, degrees.
    pub angle: f64,
    /// Length of the upper edge, mm.
    pub upper: f64,
    /// Height of the band, mm.
    pub high: f64,
}

/// What is known of a lining.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LiningAsk {
    /// The tin.
    pub tin: Tin,
    /// How thick the dough lies; `None` where the dough's weight says it.
    pub thick: Option<Length>,
    /// Dough over the rim.
    pub overhang: Length,
    /// Where the ends of the band lie over one another.
    pub overlap: Length,
    /// Paper above the rim.
    pub above: Length,
}

/// A lined tin.
#[derive(Debug, Clone, PartialEq)]
pub struct Lining {
    /// The tin.
    pub tin: Tin,
    /// The tin's side as a band of paper, for a round.
    pub band: Option<Sector>,
    /// Sides of one sheet of paper for an oblong, its corners cut; for a round the disc twice.
    pub paper: (f64, f64),
    /// Dough: how thick.
    pub thick: Option<Spread<Length>>,
    /// Dough: what the lining weighs, overhang included.
    pub weighs: Option<Spread<Mass>>,
    /// Dough: how large it is rolled out to lie in the tin and over its rim, mm.
    pub rolled: Outline,
    /// Dough: what the sheet rolled out weighs.
    pub rolled_weighs: Option<Spread<Mass>>,
    /// What is over of the dough after rolling out, less than nothing where it is short.
    pub left: Option<Spread<Mass>>,
    ask: LiningAsk,
}

/// The side of a frustum of a cone, unrolled.
///
/// # Formula
/// Slant s = √(h² + (R − r)²); the ring's radii are r s / (R − r) and R s / (R − r), its angle
/// 2π (R − r) / s. `above` mm of paper above the rim go on up the slope.
pub(crate) fn sector(base: f64, rim: f64, deep: f64, above: f64) -> Sector {
    let (r, big) = (base / 2.0, rim / 2.0);
    let slant = deep.hypot(big - r);
    let lean = (big - r) / slant;
    let top = big + above * lean;
    if lean < 1e-4 {
        return Sector {
            inner: 0.0,
            outer: 0.0,
            angle: 0.0,
            upper: PI * base,
            high: slant + above,
        };
    }
    Sector {
        inner: r / lean,
        outer: top / lean,
        angle: 360.0 * lean,
        upper: 2.0 * PI * top,
        high: slant + above,
    }
}

/// Lines a tin.
///
/// # Formula
/// Paper: a disc as large as the base and a band round the side, the frustum unrolled (see
/// [`Sector`]), with an overlap; an oblong is one sheet, base and sides folded up. Dough: (base +
/// sides + overhang) × thickness × density; it is rolled out to base + both slopes + both
/// overhangs.
///
/// # Source
/// Geometry; the side's area checked against SciPy quad. Overlap, overhang and the paper above the
/// rim are common practice without a source.
///
/// # Errors
/// [`ShapeError`] for a dough thinner than 0.5 mm.
pub fn lining(dough: &Dough, ask: &LiningAsk) -> Result<Lining, ShapeError> {
    let tin = ask.tin;
    let (above, over) = (ask.above.as_millimetres(), ask.overhang.as_millimetres());
    let ((a, b), (short, long)) = (tin.base.sides(), tin.slants());
    let band = match (tin.base, tin.rim) {
        (Outline::Round(base), Outline::Round(rim)) => Some(sector(
            base.as_millimetres(),
            rim.as_millimetres(),
            tin.deep.as_millimetres(),
            above,
        )),
        _ => None,
    };
    let paper = match band {
        Some(_) => (a, a),
        None => (a + 2.0 * (short + above), b + 2.0 * (long + above)),
    };
    let rolled = match tin.base {
        Outline::Round(_) => Outline::Round(Length::millimetres(a + 2.0 * (short + over))),
        Outline::Sides(..) => Outline::Sides(
            Length::millimetres(a + 2.0 * (short + over)),
            Length::millimetres(b + 2.0 * (long + over)),
        ),
    };
    let rim_band = tin.rim.wider(over).area() - tin.rim.area();
    let area = tin.base.area() + tin.side_area() + rim_band;
    // The dough is rolled out whole: its thickness follows from that sheet.
    let thick = match (ask.thick, dough.volume()) {
        (Some(t), _) => Some(Spread::exact(t)),
        (None, Some(v)) => Some(v.map(|v| v / rolled.area())),
        (None, None) => None,
    };
    if let Some(t) = thick.map(|t| t.likely().as_millimetres())
        && t < super::THINNEST
    {
        return Err(ShapeError::new(
            format!("the dough would lie {t:.2} mm thick"),
            format!(
                "take more dough: under {} mm no dough is rolled",
                super::THINNEST
            ),
        )
        .of("thick"));
    }
    let weigh = |area: f64| thick.map(|t| dough.weight(t.map::<Ratio>(|t| t * area)));
    let by_weight = ask.thick.is_none() && dough.grams.is_some();
    let rolled_weighs = if by_weight {
        dough.grams
    } else {
        weigh(rolled.area())
    };
    let weighs = match (by_weight, dough.grams) {
        // Its share of the sheet, whatever the dough's density.
        (true, Some(all)) => Some(all.scaled(area / rolled.area())),
        _ => weigh(area),
    };
    let left = match (dough.grams, rolled_weighs, by_weight) {
        (Some(has), Some(takes), false) => Some(left_of(has, takes)),
        _ => None,
    };
    Ok(Lining {
        tin,
        band,
        paper,
        thick,
        weighs,
        rolled,
        rolled_weighs,
        left,
        ask: *ask,
    })
}

impl Lining {
    /// Everything said of it.
    #[must_use]
    pub fn shaped(&self) -> Shaped {
        let mut out = Shaped::new(Kind::Lining);
        if let (Some(t), Some(w)) = (self.thick, self.weighs) {
            out.put("thick", "Dough thick", t, Unit::Millimetres);
            out.put("weighs", "Lining weighs", w, Unit::Grams);
            match self.rolled {
                Outline::Round(d) => out.exact(
                    "rolled",
                    "Roll out to",
                    d.as_millimetres(),
                    Unit::Millimetres,
                ),
                Outline::Sides(a, b) => {
                    out.exact(
                        "rolled_long",
                        "Roll out to",
                        a.as_millimetres(),
                        Unit::Millimetres,
                    );
                    out.exact("rolled_wide", "by", b.as_millimetres(), Unit::Millimetres);
                }
            }
            if let Some(sheet) = self.rolled_weighs {
                out.put("rolled_weighs", "Sheet weighs", sheet, Unit::Grams);
                // What is trimmed is of the same sheet: as thick and as dense as the lining.
                let lines = w.likely().as_grams() / sheet.likely().as_grams();
                let trimmed = sheet.scaled((1.0 - lines).max(0.0));
                out.put("trimmed", "Trimmed off", trimmed, Unit::Grams);
            }
            if let Some(left) = self.left {
                out.put_left(left);
            }
        }
        match self.band {
            Some(s) => {
                out.exact("disc", "Paper disc", self.paper.0, Unit::Millimetres);
                out.exact(
                    "band",
                    "Paper band long",
                    s.upper + self.ask.overlap.as_millimetres(),
                    Unit::Millimetres,
                );
                out.exact("band_high", "Paper band high", s.high, Unit::Millimetres);
                if s.angle > 0.0 {
                    out.exact(
                        "band_inner",
                        "Band, radius of the lower edge",
                        s.inner,
                        Unit::Millimetres,
                    );
                    out.exact(
                        "band_outer",
                        "Band, radius of the upper edge",
                        s.outer,
                        Unit::Millimetres,
                    );
                    out.exact(
                        "band_angle",
                        "Band, angle with the overlap",
                        self.band_angle(s),
                        Unit::Degrees,
                    );
                }
            }
            None => {
                out.exact("paper_long", "Paper long", self.paper.0, Unit::Millimetres);
                out.exact("paper_wide", "Paper wide", self.paper.1, Unit::Millimetres);
            }
        }
        out.put(
            "holds",
            "Tin holds",
            crate::size::pan::Pan::usual_volume(Volume::millilitres(self.tin.millilitres())),
            Unit::Millilitres,
        );
        out.exact(
            "by_measures",
            "By its measures",
            self.tin.millilitres(),
            Unit::Millilitres,
        );
        out.notes.push("Charted pans hold 0.72–1.02 times what their measures say: corners and a rolled rim make it less. Fill the tin with water on a scale to know.".to_owned());
        out.drawings.push(self.side());
        out.drawings.push(self.flat());
        out
    }

    /// The angle of a sloped tin's band, its overlap at the upper edge with it, degrees.
    fn band_angle(&self, s: Sector) -> f64 {
        let overlap = self.ask.overlap.as_millimetres() / s.outer.max(1.0);
        s.angle + overlap.to_degrees()
    }

    /// The tin from the side.
    fn side(&self) -> Drawing {
        let (a, c) = (self.tin.base.sides().0, self.tin.rim.sides().0);
        let h = self.tin.deep.as_millimetres();
        let mut d = Drawing::new("side", "The tin, cut through", c, h);
        let lean = (c - a) / 2.0;
        if let Some(t) = self.thick.map(|t| t.likely().as_millimetres()) {
            d.area(
                Look::Dough,
                vec![
                    (0.0, 0.0),
                    (lean, h),
                    (c - lean, h),
                    (c, 0.0),
                    (c - t, 0.0),
                    (c - lean - t, h - t),
                    (lean + t, h - t),
                    (t, 0.0),
                ],
            );
        }
        d.line(
            Look::Pan,
            vec![(0.0, 0.0), (lean, h), (c - lean, h), (c, 0.0)],
        );
        d.side((0.0, 0.0), (c, 0.0), mm(c));
        d.side((c, 0.0), (c, h), mm(h));
        d.side((lean, h), (c - lean, h), mm(a));
        d.desc = format!(
            "A tin {} at the rim, {} at the base, {} deep.",
            mm(c),
            mm(a),
            mm(h)
        );
        d
    }

    /// The paper, laid flat.
    fn flat(&self) -> Drawing {
        let Some(s) = self.band else {
            let (w, h) = self.paper;
            let mut d = Drawing::new("paper", "The paper, one sheet", w, h);
            d.rect(Look::Paper, 0.0, 0.0, w, h);
            let (a, b) = self.tin.base.sides();
            let (x, y) = ((w - a) / 2.0, (h - b) / 2.0);
            d.rect(Look::Guide, x, y, a, b);
            for (from, to) in [
                ((0.0, 0.0), (x, y)),
                ((w, 0.0), (w - x, y)),
                ((0.0, h), (x, h - y)),
                ((w, h), (w - x, h - y)),
            ] {
                d.line(Look::Cut, vec![from, to]);
            }
            d.side((0.0, 0.0), (w, 0.0), mm(w));
            d.side((0.0, h), (0.0, 0.0), mm(h));
            d.desc = format!(
                "A sheet {} by {}, cut in from each corner to the base of {}.",
                mm(w),
                mm(h),
                self.tin.base.words()
            );
            return d;
        };
        let overlap = self.ask.overlap.as_millimetres();
        if s.angle <= 0.0 {
            let long = s.upper + overlap;
            let high = s.high + 1.15 * self.paper.0;
            let mut d = Drawing::new("paper", "The paper band and disc", long, high);
            d.rect(Look::Paper, 0.0, 0.0, long, s.high);
            d.line(
                Look::Guide,
                vec![(long - overlap, 0.0), (long - overlap, s.high)],
            );
            let r = self.paper.0 / 2.0;
            d.circle(Look::Paper, (r, s.high + 0.15 * self.paper.0 + r), r);
            d.words(
                (r, s.high + 0.15 * self.paper.0 + r),
                Hang::Middle,
                format!("disc {}", mm(self.paper.0)),
            );
            d.side((0.0, 0.0), (long, 0.0), mm(long));
            d.side((long, 0.0), (long, s.high), mm(s.high));
            d.desc = format!(
                "A band {} long and {} high, and a disc {} across.",
                mm(long),
                mm(s.high),
                mm(self.paper.0)
            );
            return d;
        }
        // A part of a ring, the opening down; drawn in two halves where it is wide.
        let angle = self.band_angle(s).to_radians();
        let arc = |r: f64| -> Vec<(f64, f64)> {
            (0..=48)
                .map(|i| {
                    let a = -PI / 2.0 - angle / 2.0 + angle * f64::from(i) / 48.0;
                    (r * a.cos(), r * a.sin())
                })
                .collect()
        };
        let mut points = arc(s.outer);
        points.extend(arc(s.inner).into_iter().rev());
        let (mut x0, mut y0, mut x1, mut y1) = (f64::MAX, f64::MAX, f64::MIN, f64::MIN);
        for (x, y) in &points {
            (x0, y0, x1, y1) = (x0.min(*x), y0.min(*y), x1.max(*x), y1.max(*y));
        }
        let mut d = Drawing::new("paper", "The paper band, laid flat", x1 - x0, y1 - y0);
        d.area(
            Look::Paper,
            points.iter().map(|(x, y)| (x - x0, y - y0)).collect(),
        );
        d.side((0.0, y1 - y0), (x1 - x0, y1 - y0), mm(x1 - x0));
        d.desc = format!(
            "A part of a ring: lower edge at a radius of {}, upper edge at {}, {:.0} degrees with the overlap; a disc of {} goes on the base.",
            mm(s.inner),
            mm(s.outer),
            angle.to_degrees(),
            mm(self.paper.0)
        );
        d
    }
}
