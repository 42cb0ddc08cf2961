//! How long a bake takes in another pan, at another depth or heat, from one that is known.
//!
//! # Model
//! The body is a block, a cylinder, a ring or a ball as large as the baked piece; heat comes in by
//! [`numeric::heat`], with a crust held at the boiling point while its water leaves. Figures of
//! the body (from memory unless said; they cancel in part, because the known bake sets the clock):
//!
//! | figure | value | source |
//! | --- | --- | --- |
//! | diffusivity of crumb | exp(0.01 ε − 15.25) m²/s at ε = 65 % | J Food Eng 26:497 (1995), abstract seen |
//! | density of crumb | 979 − 9.9 ε kg/m³ | the same |
//! | heat capacity | 2.8 kJ/kg K, crust 1.7 | from memory |
//! | water that boils off | 0.34 kg in a kg, at 2,260 kJ/kg | from memory |
//! | conductivity of crust | 0.15 W/m K | from memory |
//! | air to top | 12–20–30 W/m² K, with radiation; fan × 1.3 | from memory; measured 20–48 on cakes at 186–225 °C in a tunnel oven, three quarters of it radiation (Baik et al., J Food Sci 64:688, 1999, abstract seen) |
//! | air to dough through a pan | 10–15–22 W/m² K; 9.5 for bread in tin cans, fitted by the authors of breadBakingFoam (documentation seen); dark × 1.0–1.4, glass × 1.0–1.3, silicone × 0.6–1.0 | from memory |
//!
//! # Fit
//! One unknown: how fast heat gets in. Conductivities and films multiplied by the same factor
//! give the same bake in that factor less time, so the factor is the model's time for the known
//! bake over the baker's. The new time is `t_new = l + (t_known − l) m_new / m_known`, `m` the
//! model's times and `l` 0–2–4 minutes until pan and oven are hot (our own judgement, no source): a
//! bun gains less by being small than conduction alone would have it.
//!
//! # Range
//! The widest of: the model with low, middle and high films, each fitted to the known bake; where
//! the thinnest way to the middle differs, `t_known × (d₂/d₁)^n` with n 1.3–1.7 (project rule
//! R11.4, common practice); the known bake's own range; and never less than ±8 %, or
//! ±15 % where shape, depth or pan are others, ±20 % where one of the pans slopes or is a ring (our
//! own judgement, no source).
//!
//! # Check
//! A recorded core of a bread (`checks/bread_core.tsv`): the fitted curve is within 10 °C of it, 4 °C on
//! the mean; late at first, as that bread lagged by one minute and not by two.
//!
//! # Pans that are no plain shape
//! A pan with sloped sides is a cylinder as wide as the mean of rim and base. A ring tin is a hollow
//! cylinder whose tube is as wide as leaves the volume it is charted to hold; its inner wall takes
//! the same film as the outer one.

use super::pan::{Make, Outline, Pan};
use super::{Advice, BELOW_BOILING, HeatError, PRACTICE, wrong};
use crate::leaven::{Altitude, boiling_celsius, pressure_kpa};
use crate::rework::style::Style;
use numeric::heat::{Body, Face, Faces, Fineness, Front, Material, Run, Shape, Until, heat};
use quantity::{Mass, Spread, Temperature, Time};

/// What every answer says first.
pub const PROBE: &str = "check with a probe: core";

/// What a dish with egg has to reach, °C: 160 °F, FDA and USDA (seen).
const EGG_DISH: f64 = 71.1;
/// What a dish with meat, poultry or fish has to reach, °C: 165 °F, foodsafety.gov (copies seen).
const MEAT_DISH: f64 = 73.9;
/// Hotter than this no bake of twenty minutes or more is (our own judgement, no source).
const SCORCHES: (f64, f64) = (275.0, 20.0);

/// Porosity of crumb, %.
const POROSITY: f64 = 65.0;
/// J/kg K.
const WET_HEAT: f64 = 2_800.0;
const DRY_HEAT: f64 = 1_700.0;
/// kg of water that can boil off a kg of crumb.
const BOILS_OFF: f64 = 0.34;
/// J/kg.
const LATENT: f64 = 2.26e6;
/// W/m K.
const CRUST: f64 = 0.15;
/// W/m² K: low, middle, high.
const TOP: [f64; 3] = [12.0, 20.0, 30.0];
const THROUGH_PAN: [f64; 3] = [10.0, 15.0, 22.0];
const FAN: f64 = 1.3;
/// The least half width of the range: in the same pan, and where shape, depth or pan are others
/// (our own judgement, no source).
const LEAST_RANGE: f64 = 0.08;
const LEAST_RANGE_ELSEWHERE: f64 = 0.15;
/// The same where a pan slopes or is a fluted ring, whose width is a mean (our own judgement, no
/// source).
const LEAST_RANGE_SLOPED: f64 = 0.2;
/// Project rule R11.4.
const EXPONENTS: (f64, f64) = (1.3, 1.7);
/// A baked piece stands at most this far above its pan, in depths of it.
const DOME: f64 = 1.2;
/// How much a dough rises in the oven, and a batter in all (common practice).
const SPRING: f64 = 1.1;
const BATTER: f64 = 1.5;
/// Before the heat comes in, minutes: the pan warms and the oven recovers from its door (our own
/// judgement, no source); at most this share of the known bake.
const LAGS: [f64; 3] = [0.0, 2.0, 4.0];
const LAG_SHARE: f64 = 0.25;
/// Cells of the runs that only give ratios.
const COARSE: (usize, usize) = (7, 11);
/// Most of a bake, s.
const MOST: f64 = 12.0 * 3600.0;

/// Thermal diffusivity of bread crumb by its porosity, %, in m²/s.
///
/// # Source
/// J Food Eng 26(4):497–510, 1995, abstract (Zanoni et al., authors from memory).
///
/// # Example
/// ```
/// assert!((recipe::heat::crumb_diffusivity(50.0) / 3.928e-7 - 1.0).abs() < 1e-3);
/// ```
#[must_use]
pub fn crumb_diffusivity(porosity: f64) -> f64 {
    (0.01 * porosity - 15.25).exp()
}

fn crumb_density(porosity: f64) -> f64 {
    979.0 - 9.9 * porosity
}

/// A bake to work out.
#[derive(Debug, Clone, PartialEq)]
pub struct Bake {
    /// The pan of the known bake.
    pub known_pan: Pan,
    /// Its oven, as a still oven's temperature.
    pub known_oven: Temperature,
    /// How long it took to its core temperature.
    pub known_time: Spread<Time>,
    /// Dough or batter in it; `None` fills the pan to its rim when baked.
    pub known_dough: Option<Mass>,
    /// The pan asked about.
    pub pan: Pan,
    /// Its oven.
    pub oven: Temperature,
    /// Dough in it; `None`, where that of the known bake is not known either, fills it as far.
    pub dough: Option<Mass>,
    /// The dough when it goes in.
    pub start: Temperature,
    /// The style, for core temperature and density.
    pub style: Option<Style>,
    /// A core temperature of the baker's own.
    pub core: Option<Temperature>,
    /// What bakes is no crumb: a filling with egg or milk that sets.
    pub sets: bool,
    /// There is meat, poultry or fish in what bakes.
    pub meat: bool,
    /// So many pans the method shares the batter over.
    pub pans: u32,
    /// Metres above the sea.
    pub metres: f64,
    /// A fan moves the air.
    pub fan: bool,
}

/// The core temperature that ends a bake, °C.
#[derive(Debug, Clone, PartialEq)]
pub struct CoreTarget {
    /// Low, likely, high.
    pub celsius: [f64; 3],
    /// Water boils at this height, °C.
    pub boiling: f64,
    /// What the style asks is more than can be reached here.
    pub capped: Option<f64>,
    /// Where the temperature comes from.
    pub source: String,
}

impl CoreTarget {
    /// Of a style, or the baker's own, at a height.
    ///
    /// # Errors
    /// [`HeatError`] for a height outside 0–6,000 m.
    pub fn of(
        style: Option<Style>,
        own: Option<Temperature>,
        metres: f64,
    ) -> Result<Self, HeatError> {
        let boiling = match Altitude::of(metres) {
            Ok(_) => boiling_celsius(pressure_kpa(metres)),
            Err(e) => return wrong(e.to_string()),
        };
        let range = style.and_then(|s| s.range("core_c"));
        let (asked, source) = match (own, range) {
            (Some(t), _) => ([t.as_celsius(); 3], "your own".to_owned()),
            (None, Some(r)) => (
                [r.value.low(), r.value.likely(), r.value.high()].map(quantity::Ratio::get),
                r.cited(),
            ),
            (None, None) => ([96.0, 97.0, 98.0], PRACTICE.to_owned()),
        };
        let most = boiling - BELOW_BOILING;
        let likely = asked[1];
        Ok(Self {
            celsius: asked.map(|t| t.min(most)),
            boiling,
            capped: (likely > most).then_some(likely),
            source,
        })
    }

    /// Of what bakes: the style's, or of a filling with egg or milk that sets the least that is safe
    /// and where it is set; with meat, poultry or fish in it no less than a dish of these.
    ///
    /// # Source
    /// 71 °C (160 °F): FDA and USDA table of key temperatures, egg dishes (seen). 74 °C (165 °F):
    /// foodsafety.gov, casseroles (copies seen). Set at 77, curdled above 82 °C: common practice, no
    /// source.
    ///
    /// # Errors
    /// As [`CoreTarget::of`].
    pub fn for_bake(
        (sets, meat): (bool, bool),
        style: Option<Style>,
        own: Option<Temperature>,
        metres: f64,
    ) -> Result<Self, HeatError> {
        let plain = Self::of(style.filter(|_| !sets), own, metres)?;
        if own.is_some() || !sets {
            return Ok(plain);
        }
        let (least, dish) = if meat {
            (
                MEAT_DISH,
                "74 °C (165 °F) for dishes with meat, poultry or fish: foodsafety.gov (copies seen)",
            )
        } else {
            (
                EGG_DISH,
                "71 °C (160 °F) for egg dishes: FDA and USDA (seen)",
            )
        };
        Ok(Self {
            celsius: [least, 77.0, 82.0],
            capped: None,
            source: format!(
                "{dish}; set at about 77 °C, curdled above 82 °C: common practice, no source"
            ),
            ..plain
        })
    }

    /// '96–98 °C (205–208 °F)', '93 °C (199 °F)'.
    #[must_use]
    pub fn words(&self) -> String {
        let f = |c: f64| Temperature::celsius(c).as_fahrenheit();
        let (low, high) = (self.celsius[0].floor(), self.celsius[2].floor());
        if low >= high {
            format!("{high:.0} °C ({:.0} °F)", f(high))
        } else {
            format!("{low:.0}–{high:.0} °C ({:.0}–{:.0} °F)", f(low), f(high))
        }
    }
}

/// Core temperature against time.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// Minutes and °C, from the oven's door.
    pub points: Vec<(f64, f64)>,
}

/// What follows.
#[derive(Debug, Clone, PartialEq)]
pub struct Baked {
    /// The core temperature that ends it.
    pub target: CoreTarget,
    /// How long.
    pub time: Spread<Time>,
    /// By the model alone, low, middle and high films.
    pub model: Spread<Time>,
    /// By the change of the thinnest way to the middle, R11.4; `None` where it is the same.
    pub by_thickness: Option<(Time, Time)>,
    /// How fast heat gets in, over the model's middle figures: the fit.
    pub speed: f64,
    /// Depth of the baked pieces, m: known and new.
    pub depths: (f64, f64),
    /// The new bake's core.
    pub curve: Curve,
    /// The known bake's.
    pub known_curve: Curve,
    /// What a piece of this dough weighs when baked, by the style's loss.
    pub weighs: Option<Spread<Mass>>,
    /// What to mind, with sources.
    pub advice: Vec<Advice>,
}

/// A piece in the oven.
#[derive(Clone, Copy)]
struct Piece {
    shape: Shape,
    depth: f64,
    /// The thinnest way through, m.
    thin: f64,
    over: bool,
}

fn expansion(style: Option<Style>) -> f64 {
    let rise = style
        .and_then(|s| s.range("proof_x"))
        .map_or(1.0, |r| r.value.likely().get());
    if style.is_none_or(Style::is_yeast_dough) {
        rise * SPRING
    } else {
        BATTER
    }
}

fn density(style: Option<Style>) -> f64 {
    crate::density::of_style(style).value.likely().get()
}

impl Piece {
    fn of(pan: &Pan, dough: Option<Mass>, fill: f64, style: Option<Style>) -> Self {
        // m³ when baked; a density of 1 g/mL is 1e-6 m³ for a gram.
        let baked = dough.map(|m| m.as_grams() * 1e-6 / density(style) * expansion(style));
        if let Outline::Free { across } = pan.outline {
            let radius = baked.map_or(across / 2.0, |v| {
                (3.0 * v / (4.0 * std::f64::consts::PI)).cbrt()
            });
            return Self {
                shape: Shape::Ball { radius },
                depth: 2.0 * radius,
                thin: 2.0 * radius,
                over: false,
            };
        }
        let asked = baked.map_or(fill * pan.depth, |v| v / pan.area());
        let depth = asked.min(DOME * pan.depth);
        let shape = match pan.outline {
            Outline::Round { across } | Outline::Free { across } => Shape::Cylinder {
                radius: across / 2.0,
                depth,
            },
            Outline::Ring { across, hole } => Shape::Ring {
                hole: hole / 2.0,
                radius: across / 2.0,
                depth,
            },
            Outline::Square { length, width } => Shape::Block {
                length,
                width,
                depth,
            },
        };
        Self {
            shape,
            depth,
            thin: depth.min(pan.width()),
            over: asked > DOME * pan.depth * 1.001,
        }
    }
}

fn times_of_make(make: Make) -> [f64; 3] {
    match make {
        Make::Light => [1.0, 1.0, 1.0],
        Make::Dark => [1.0, 1.15, 1.4],
        Make::Glass => [1.0, 1.1, 1.3],
        Make::Silicone => [0.6, 0.8, 1.0],
    }
}

/// Which figures a run takes: films and pan, 0 low, 1 middle, 2 high.
#[derive(Clone, Copy)]
struct Figures {
    films: usize,
    make: usize,
}

fn run(
    piece: Piece,
    make: Make,
    oven: f64,
    b: &Bake,
    target: &CoreTarget,
    f: Figures,
    about: f64,
) -> Result<Run, HeatError> {
    let rho = crumb_density(POROSITY);
    let capacity = rho * WET_HEAT;
    let fan = if b.fan { FAN } else { 1.0 };
    let film = |h: f64| Face::Film {
        conductance: h * fan,
        around: oven,
    };
    let top = film(TOP[f.films]);
    let pan = film(THROUGH_PAN[f.films] * times_of_make(make)[f.make]);
    let free = matches!(piece.shape, Shape::Ball { .. });
    let body = Body {
        shape: piece.shape,
        material: Material {
            conductivity: crumb_diffusivity(POROSITY) * capacity,
            capacity,
            front: Some(Front {
                boiling: target.boiling,
                latent: rho * BOILS_OFF * LATENT,
                dry_conductivity: CRUST,
                dry_capacity: rho * (1.0 - BOILS_OFF) * DRY_HEAT,
            }),
        },
        faces: Faces {
            bottom: pan,
            top,
            side: if free { top } else { pan },
        },
        start: b.start.as_celsius(),
    };
    // The curves are drawn from the middle figures; the others only give ratios, in which what a
    // coarser grid is off by cancels.
    let usual = Fineness::default();
    let (steps, across, down) = if (f.films, f.make) == (1, 1) {
        (100.0, usual.across, usual.down)
    } else {
        (50.0, COARSE.0, COARSE.1)
    };
    let longest = (about / steps).clamp(1.0, 120.0);
    let fine = Fineness {
        across,
        down,
        first_step: longest / 5.0,
        longest_step: longest,
        ..usual
    };
    heat(
        &body,
        &fine,
        Until::Core {
            celsius: target.celsius[1],
            at_most: MOST,
        },
    )
    .map_err(|e| HeatError(format!("this bake cannot be worked out: {e}")))
}

/// A guess at a run's length, s: a slab's with half the heat of the crust.
fn about(piece: Piece) -> f64 {
    let half = piece.thin / 2.0;
    (half * half / crumb_diffusivity(POROSITY) + half * 20_000.0).clamp(150.0, MOST)
}

/// Works a bake out.
///
/// # Errors
/// [`HeatError`]: an oven not hotter than the core is to be, a core outside 40–105 °C or not above the
/// dough's temperature, a height out of range, a bake that is not done within 12 hours.
pub fn bake(b: &Bake) -> Result<Baked, HeatError> {
    let target = CoreTarget::for_bake((b.sets, b.meat), b.style, b.core, b.metres)?;
    check(b, &target)?;
    goes_in(&b.known_pan, b.known_dough, b)?;
    goes_in(&b.pan, b.dough, b)?;
    let known = Piece::of(&b.known_pan, b.known_dough, 1.0, b.style);
    let fill = known.depth / b.known_pan.depth;
    let free = |p: &Pan| matches!(p.outline, Outline::Free { .. });
    let fill = if free(&b.known_pan) { 1.0 } else { fill };
    let new = Piece::of(&b.pan, b.dough, fill, b.style);
    let at = |piece: Piece,
              make: Make,
              oven: Temperature,
              f: Figures|
     -> Result<(f64, Run), HeatError> {
        let r = run(piece, make, oven.as_celsius(), b, &target, f, about(piece))?;
        match r.reached {
            Some(s) => Ok((s, r)),
            None => wrong(format!(
                "at {:.0} °C a piece of {:.0} mm does not reach a core of {:.0} °C within 12 hours: give a hotter oven or a thinner piece",
                oven.as_celsius(),
                piece.thin * 1000.0,
                target.celsius[1]
            )),
        }
    };
    let middle = Figures { films: 1, make: 1 };
    let known_t = b.known_time.likely().as_minutes();
    let (m_known, known_run) = at(known, b.known_pan.make, b.known_oven, middle)?;
    let (m_new, new_run) = at(new, b.pan.make, b.oven, middle)?;
    let lags = LAGS.map(|l| l.min(LAG_SHARE * known_t));
    let takes = |lag: f64, ratio: f64| lag + (known_t - lag) * ratio;
    let likely = takes(lags[1], m_new / m_known);
    let same = known.shape == new.shape && b.known_oven == b.oven && b.known_pan.make == b.pan.make;
    let mut ratios = vec![m_new / m_known];
    if !same {
        let mut others = vec![Figures { films: 0, make: 1 }, Figures { films: 2, make: 1 }];
        if b.pan.make != b.known_pan.make {
            others.push(Figures { films: 1, make: 0 });
            others.push(Figures { films: 1, make: 2 });
        }
        for f in others {
            let k = at(known, b.known_pan.make, b.known_oven, f)?.0;
            ratios.push(at(new, b.pan.make, b.oven, f)?.0 / k);
        }
    }
    let times: Vec<f64> = ratios
        .iter()
        .flat_map(|r| lags.map(|lag| takes(lag, *r)))
        .collect();
    let least = |v: &[f64]| v.iter().copied().fold(f64::INFINITY, f64::min);
    let most = |v: &[f64]| v.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let (model_low, model_high) = (least(&times), most(&times));
    let by = new.thin / known.thin;
    let by_thickness = if (by - 1.0).abs() > 0.02 {
        // What the oven and the pan change, at the known shape.
        let oven = if b.oven == b.known_oven && b.pan.make == b.known_pan.make {
            1.0
        } else {
            at(known, b.pan.make, b.oven, middle)?.0 / m_known
        };
        let t = |n: f64| known_t * oven * by.powf(n);
        let (a, c) = (t(EXPONENTS.0), t(EXPONENTS.1));
        Some((a.min(c), a.max(c)))
    } else {
        None
    };
    let least_range = if known.shape == new.shape && b.known_pan.make == b.pan.make {
        LEAST_RANGE
    } else if b.known_pan.slopes || b.pan.slopes {
        LEAST_RANGE_SLOPED
    } else {
        LEAST_RANGE_ELSEWHERE
    };
    let (own_low, own_high) = (
        b.known_time.low().as_minutes() / known_t,
        b.known_time.high().as_minutes() / known_t,
    );
    let low = model_low
        .min(by_thickness.map_or(f64::INFINITY, |t| t.0))
        .min(likely * (1.0 - least_range))
        * own_low;
    let high = model_high
        .max(by_thickness.map_or(0.0, |t| t.1))
        .max(likely * (1.0 + least_range))
        * own_high;
    let minutes = Time::minutes;
    let time = Spread::new(minutes(low), minutes(likely), minutes(high));
    let curve = |r: &Run, scale: f64| {
        let mut points = thin_out(&r.times, &r.core, r.reached, target.celsius[1], scale);
        for p in points.iter_mut().skip(1) {
            p.0 += lags[1];
        }
        Curve { points }
    };
    let scale = (known_t - lags[1]) / m_known;
    let mut out = Baked {
        curve: curve(&new_run, scale),
        known_curve: curve(&known_run, scale),
        model: Spread::new(minutes(model_low), minutes(likely), minutes(model_high)),
        by_thickness: by_thickness.map(|(a, c)| (minutes(a), minutes(c))),
        speed: m_known / 60.0 / (known_t - lags[1]),
        depths: (known.depth, new.depth),
        weighs: weighs(b),
        advice: Vec::new(),
        target,
        time,
    };
    out.advice = advice(b, &out, known, new);
    Ok(out)
}

impl Pan {
    /// Whether a dough does not go into it, even before it rises; never of a piece without a pan.
    #[must_use]
    pub fn overfull(&self, dough: Mass, style: Option<Style>) -> bool {
        self.holds
            .is_some_and(|h| dough.as_grams() > h.high().as_millilitres() * density(style))
    }
}

/// Refuses a dough that does not go into its pan, even before it rises.
fn goes_in(pan: &Pan, dough: Option<Mass>, b: &Bake) -> Result<(), HeatError> {
    let (Some(dough), Some(holds)) = (dough, pan.holds) else {
        return Ok(());
    };
    if !pan.overfull(dough, b.style) {
        return Ok(());
    }
    let density = density(b.style);
    let round = |g: f64| {
        if g < 1000.0 {
            g.round()
        } else {
            (g / 10.0).round() * 10.0
        }
    };
    wrong(format!(
        "{:.0} g do not go into one {}: it holds {:.0} mL to the rim, about {:.0} g of this before it rises. Give what goes into one pan, or a larger pan",
        dough.as_grams(),
        pan.read,
        holds.likely().as_millilitres(),
        round(holds.likely().as_millilitres() * density)
    ))
}

fn check(b: &Bake, target: &CoreTarget) -> Result<(), HeatError> {
    let core = b.core.map_or(target.celsius[1], Temperature::as_celsius);
    if !(40.0..=105.0).contains(&core) {
        return wrong(format!(
            "a core of {core:.0} °C: write 40–105 °C; breads end at 96–98 °C"
        ));
    }
    let start = b.start.as_celsius();
    if start >= core || !(-30.0..=60.0).contains(&start) {
        return wrong(format!(
            "a dough of {start:.0} °C: write from −30 °C to 60 °C, below the core of {core:.0} °C"
        ));
    }
    for (what, oven) in [("known", b.known_oven), ("new", b.oven)] {
        let t = oven.as_celsius();
        let minutes = b.known_time.likely().as_minutes();
        if t >= SCORCHES.0 && what == "known" && minutes >= SCORCHES.1 {
            return wrong(format!(
                "{t:.0} °C for {} burns: if {t:.0} °F ({:.0} °C) is meant: write {t:.0} F",
                clock(minutes),
                Temperature::fahrenheit(t).as_celsius()
            ));
        }
        if t < core + 5.0 {
            return wrong(format!(
                "the {what} oven, {t:.0} °C, is not hotter than the core is to be, {core:.0} °C: give a hotter oven"
            ));
        }
    }
    Ok(())
}

/// At most this many points of a curve.
const POINTS: usize = 48;

fn thin_out(
    times: &[f64],
    core: &[f64],
    reached: Option<f64>,
    goal: f64,
    scale: f64,
) -> Vec<(f64, f64)> {
    let end = reached.unwrap_or(f64::INFINITY);
    let all: Vec<(f64, f64)> = times
        .iter()
        .zip(core)
        .filter(|(t, _)| **t < end)
        .map(|(t, c)| (t * scale, *c))
        .collect();
    let every = all.len().div_ceil(POINTS).max(1);
    let mut out: Vec<(f64, f64)> = all.into_iter().step_by(every).collect();
    if let Some(t) = reached {
        out.push((t * scale, goal));
    }
    out
}

fn weighs(b: &Bake) -> Option<Spread<Mass>> {
    let dough = b.dough?;
    let loss = b.style?.range("bake_loss")?.value;
    let left = |p: f64| dough * (1.0 - p / 100.0);
    Some(Spread::new(
        left(loss.high().get()),
        left(loss.likely().get()),
        left(loss.low().get()),
    ))
}

/// A depth that changes by more than this asks for more than a new time (project rule R16.4).
const DEPTH_CHANGES: f64 = 0.25;
/// The fit is doubted outside these.
const SPEEDS: (f64, f64) = (0.4, 2.5);

fn advice(b: &Bake, out: &Baked, known: Piece, new: Piece) -> Vec<Advice> {
    let mut all = Vec::new();
    let t = &out.target;
    if new.over {
        all.push(Advice::new(
            format!("Over the rim: this much rises far above a {}. Use less, or a larger pan; the time counts only what stands in it", b.pan.read),
            "geometry, with the style's density and rise",
        ));
    }
    if b.pans > 1
        && let Some(dough) = b.dough.or(b.known_dough)
    {
        all.push(Advice::new(
            format!(
                "The method shares the batter over {} pans: {:.0} g in each. For another number give the dough of one pan",
                b.pans,
                dough.as_grams()
            ),
            "the recipe",
        ));
    }
    let least = if b.meat {
        "74 °C (165 °F)"
    } else {
        "71 °C (160 °F)"
    };
    if b.meat && !b.sets {
        all.push(Advice::new(
            format!("There is meat, poultry or fish in it: the middle of the filling reaches at least {least}, whatever the crumb beside it says. Local rules come first"),
            "foodsafety.gov, casseroles (copies seen)",
        ));
    }
    if b.sets {
        let own = b.core.map_or(String::new(), |c| {
            format!(" Your core of {:.0} °C ends the time.", c.as_celsius())
        });
        all.push(Advice::new(
            format!("A filling with egg or milk sets, it is no crumb: at least {least} in the middle, then by eye: the edge firm, the middle still trembling. From about 82 °C on it curdles and weeps.{own} Local rules come first"),
            t.source.clone(),
        ));
    }
    let mut probe = format!("Whatever the clock says, {PROBE} {}", t.words());
    if let Some(asked) = t.capped {
        probe.push_str(&format!(
            ". Water boils at {:.1} °C at {:.0} m: {asked:.0} °C cannot be reached here",
            t.boiling, b.metres
        ));
    }
    probe.push_str(
        ". Probe the middle, in the bottom third of a tall loaf; a wet, gummy core is not done.",
    );
    if !b.sets {
        all.push(Advice::new(probe, t.source.clone()));
    }
    if b.style.is_some_and(Style::is_done_by_colour) {
        all.push(Advice::new(
            "Colour and a set edge say when this style is done, before the core does: take the time as the latest",
            PRACTICE,
        ));
    }
    let look = out.time.low().as_minutes() * 0.9;
    all.push(Advice::new(
        format!("Look in from {} on", clock(look.floor().max(1.0))),
        PRACTICE,
    ));
    if b.sets {
        all.push(Advice::new(
            "The model is one of crumb: a filling in its pastry warms otherwise, so take this time as rough",
            "this model",
        ));
    } else if !(SPEEDS.0..=SPEEDS.1).contains(&out.speed) {
        all.push(Advice::new(
            format!(
                "The known bake does not fit a piece of its size: the model expected {} and was told {}. See that its pan, depth, grams, oven and time are of one bake",
                clock(out.speed * b.known_time.likely().as_minutes()),
                clock(b.known_time.likely().as_minutes())
            ),
            "this model",
        ));
    }
    let depth = new.depth / known.depth - 1.0;
    if depth.abs() > DEPTH_CHANGES {
        let oven = if depth > 0.0 {
            ": set the oven 10 °C (20 °F) lower if the top browns before the middle is done"
        } else {
            ": it may be done in the middle before it has browned"
        };
        all.push(Advice::new(
            format!(
                "It stands {:.0} mm deep, {:.0} mm before{oven}",
                new.depth * 1000.0,
                known.depth * 1000.0
            ),
            PRACTICE,
        ));
    }
    if b.pan.make != b.known_pan.make && matches!(b.pan.make, Make::Dark | Make::Glass) {
        all.push(Advice::new(
            format!(
                "A {} pan browns faster: set the oven 14 °C (25 °F) lower than for light metal",
                b.pan.make.word()
            ),
            PRACTICE,
        ));
    }
    let hotter = b.oven.as_celsius() - b.known_oven.as_celsius();
    if hotter > 15.0 {
        all.push(Advice::new(
            "Hotter, the crust colours sooner than the middle warms: have foil ready to cover it",
            PRACTICE,
        ));
    } else if hotter < -15.0 {
        all.push(Advice::new(
            "Cooler, the crust stays paler and thicker for the same core",
            PRACTICE,
        ));
    }
    if let (Some(dough), Some(w)) = (b.dough, out.weighs) {
        all.push(Advice::new(
            format!(
                "Baked, {:.0} g should weigh {:.0}–{:.0} g: heavier is under-baked",
                dough.as_grams(),
                w.low().as_grams(),
                w.high().as_grams()
            ),
            b.style
                .and_then(|s| s.range("bake_loss"))
                .map_or_else(String::new, |r| r.cited()),
        ));
    }
    all
}

/// Minutes in words, as exact as they are known: '35 min', '1 h 35 min', '12 h'.
#[must_use]
pub fn clock(minutes: f64) -> String {
    let whole = minutes.round();
    if whole < 90.0 {
        return format!("{whole:.0} min");
    }
    let step = if whole > 300.0 { 15.0 } else { 5.0 };
    let m = (whole / step).round() * step;
    let (h, m) = ((m / 60.0).floor(), m % 60.0);
    if m == 0.0 {
        format!("{h:.0} h")
    } else {
        format!("{h:.0} h {m:.0} min")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// F06: 50, 70 and 80 % porosity (abstract seen).
    #[test]
    fn f06_crumb() {
        for (p, alpha, rho) in [
            (50.0, 3.928e-7, 484.0),
            (70.0, 4.798e-7, 286.0),
            (80.0, 5.302e-7, 187.0),
        ] {
            assert!((crumb_diffusivity(p) / alpha - 1.0).abs() < 1e-3);
            assert!((crumb_density(p) - rho).abs() < 0.5);
        }
    }

    fn loaf() -> Bake {
        let pan = Pan::read("9x5x3 in").expect("a pan");
        Bake {
            known_pan: pan.clone(),
            known_oven: Temperature::celsius(175.0),
            known_time: Spread::exact(Time::minutes(55.0)),
            known_dough: None,
            pan,
            oven: Temperature::celsius(175.0),
            dough: None,
            start: Temperature::celsius(26.0),
            style: Style::from_key("lean_bread"),
            core: None,
            sets: false,
            meat: false,
            pans: 1,
            metres: 0.0,
            fan: false,
        }
    }

    #[test]
    fn the_same_bake_takes_the_same_time() {
        let out = bake(&loaf()).expect("a bake");
        assert!((out.time.likely().as_minutes() - 55.0).abs() < 1e-9);
        assert!((out.time.low().as_minutes() - 55.0 * 0.92).abs() < 1e-9);
        assert!(out.by_thickness.is_none());
        assert!((0.4..2.5).contains(&out.speed), "{}", out.speed);
        let end = out.curve.points.last().expect("points");
        assert!(
            (end.0 - 55.0).abs() < 1e-6 && (end.1 - 98.0).abs() < 1e-6,
            "{end:?}"
        );
        assert!(
            out.curve
                .points
                .windows(2)
                .all(|w| w[0].0 < w[1].0 && w[0].1 <= w[1].1 + 1e-3)
        );
    }

    /// More heat, thinner, smaller: sooner; and the other way round.
    #[test]
    fn it_moves_the_right_way() {
        let t = |change: &dyn Fn(&mut Bake)| {
            let mut b = loaf();
            change(&mut b);
            bake(&b).expect("a bake").time
        };
        let base = 55.0;
        assert!(
            t(&|b| b.oven = Temperature::celsius(200.0))
                .likely()
                .as_minutes()
                < base
        );
        assert!(
            t(&|b| b.oven = Temperature::celsius(150.0))
                .likely()
                .as_minutes()
                > base
        );
        assert!(
            t(&|b| b.pan = Pan::read("8x4x2.5 in").expect("a pan"))
                .likely()
                .as_minutes()
                < base
        );
        assert!(
            t(&|b| b.pan = Pan::read("13x4x4 in").expect("a pan"))
                .likely()
                .as_minutes()
                > base
        );
        assert!(
            t(&|b| b.pan = Pan::read("round 3x1.5 in").expect("a pan"))
                .high()
                .as_minutes()
                < 40.0
        );
        assert!(t(&|b| b.pan.make = Make::Silicone).high().as_minutes() > base * 1.15);
    }

    /// A ring of the same batter is done well before a round tin as wide and as deep: its middle is
    /// a third as far from a wall. Its tube leaves the 2.84 L it is charted to hold.
    #[test]
    fn a_ring_bakes_from_its_inside_too() {
        let mut b = loaf();
        b.known_pan = Pan::read("round 9x3 in").expect("a pan");
        b.pan = Pan::read("tube_9x3").expect("a ring");
        let Outline::Ring { across, hole } = b.pan.outline else {
            panic!("{:?}", b.pan);
        };
        assert!(
            (across - 0.2286).abs() < 1e-9 && (0.06..0.08).contains(&hole),
            "{hole}"
        );
        assert!((b.pan.volume() * 1e6 - 2839.0).abs() < 1.0);
        let out = bake(&b).expect("a bake");
        let ratio = out.time.likely().as_minutes() / 55.0;
        assert!((0.5..0.9).contains(&ratio), "{ratio}");
        let wide = out.time.high().as_minutes() / out.time.likely().as_minutes();
        assert!(wide >= 1.2, "{wide}");
        assert!(Pan::read(&b.pan.as_typed()).is_ok());
    }

    /// Where all measures grow alike by half, the model lies between its limits, films alone (1.5)
    /// and conduction alone (1.5²), and the range holds the exponents of practice (R11.4).
    #[test]
    fn scaling_agrees_with_practice() {
        let mut b = loaf();
        b.pan = Pan::read("13.5x7.5x4.5 in").expect("a pan");
        let out = bake(&b).expect("a bake");
        let ratio = out.model.likely().as_minutes() / 55.0;
        assert!((1.5..1.5 * 1.5).contains(&ratio), "{ratio}");
        let (a, c) = out.by_thickness.expect("thicker");
        assert!((a.as_minutes() / 55.0 - 1.5_f64.powf(1.3)).abs() < 1e-9);
        assert!((c.as_minutes() / 55.0 - 1.5_f64.powf(1.7)).abs() < 1e-9);
        assert!(out.time.low() <= a && out.time.high() >= c);
    }

    /// R11.1: at 1,609 m water boils at 94.7 °C and 98 °C cannot be reached.
    #[test]
    fn no_core_above_the_boiling_point() {
        let mut b = loaf();
        b.metres = 1609.0;
        let out = bake(&b).expect("a bake");
        assert!(
            (out.target.celsius[1] - 93.2).abs() < 0.3,
            "{:?}",
            out.target
        );
        assert_eq!(out.target.capped, Some(98.0));
        let first = &out.advice[0].words;
        assert!(
            first.contains(PROBE) && first.contains("cannot be reached"),
            "{first}"
        );
    }

    #[test]
    fn impossible_bakes_are_explained() {
        let says = |change: &dyn Fn(&mut Bake), part: &str| {
            let mut b = loaf();
            change(&mut b);
            let e = bake(&b).expect_err(part).to_string();
            assert!(e.contains(part), "{e}");
        };
        says(&|b| b.oven = Temperature::celsius(90.0), "hotter oven");
        says(&|b| b.core = Some(Temperature::celsius(20.0)), "40–105 °C");
        says(&|b| b.start = Temperature::celsius(99.0), "below the core");
        says(&|b| b.metres = 9000.0, "altitude");
    }

    #[test]
    fn a_known_bake_that_cannot_be_is_told() {
        let mut b = loaf();
        b.known_time = Spread::exact(Time::minutes(4.0));
        let out = bake(&b).expect("a bake");
        assert!(out.advice.iter().any(|a| a.words.contains("does not fit")));
    }

    #[test]
    fn hours_and_minutes() {
        assert_eq!(clock(34.6), "35 min");
        assert_eq!(clock(70.0), "70 min");
        assert_eq!(clock(122.0), "2 h");
        assert_eq!(clock(131.0), "2 h 10 min");
    }
}
