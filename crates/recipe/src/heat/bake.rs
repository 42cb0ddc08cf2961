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
//! # Lids
//! Under a lid the top takes its heat through metal, as the sides do, in place of the oven's air (our own
//! judgement, no source): by 15 in place of 20 W/m² K, so that it stays near boiling for longer. Steam that
//! condenses on the top in the first minutes is not in the model, nor a lid or foil that comes off half way.
//!
//! # Pans that are no plain shape
//! A pan with sloped sides is a cylinder as wide as the mean of rim and base. A ring tin is a hollow
//! cylinder whose tube is as wide as is said, else as leaves the volume it is charted to hold; its inner wall takes
//! the same film as the outer one.

mod advice;
mod crumb;
mod goal;
mod piece;
mod refuse;
mod run;

pub use advice::PROBE;
pub use crumb::crumb_diffusivity;
pub use goal::CoreTarget;

use super::pan::{Outline, Pan};
use super::{Advice, HeatError, wrong};
use crate::rework::style::Style;
use numeric::heat::Run;
use piece::Piece;
use quantity::{Mass, Spread, Temperature, Time};
use refuse::check;
use run::{Figures, about, run, thin_out};

/// The least half width of the range: in the same pan, and where shape, depth or pan are others
/// (our own judgement, no source).
const LEAST_RANGE: f64 = 0.08;
const LEAST_RANGE_ELSEWHERE: f64 = 0.15;
/// The same where a pan slopes or is a fluted ring, whose width is a mean (our own judgement, no
/// source).
const LEAST_RANGE_SLOPED: f64 = 0.2;
/// Project rule R11.4.
const EXPONENTS: (f64, f64) = (1.3, 1.7);
/// Before the heat comes in, minutes: the pan warms and the oven recovers from its door (our own
/// judgement, no source); at most this share of the known bake.
const LAGS: [f64; 3] = [0.0, 2.0, 4.0];
const LAG_SHARE: f64 = 0.25;

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
    /// What goes into the pan asked about, as it comes to stand against its rim.
    pub body: crate::shape::Dough,
    /// So many pans the method shares the batter over.
    pub pans: u32,
    /// Metres above the sea.
    pub metres: f64,
    /// A fan moves the air.
    pub fan: bool,
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

/// Works a bake out.
///
/// # Errors
/// [`HeatError`]: an oven not hotter than the core is to be, a core outside 40–105 °C or not above the
/// dough's temperature, a height out of range, a bake that is not done within 12 hours.
pub fn bake(b: &Bake) -> Result<Baked, HeatError> {
    let target = CoreTarget::for_bake((b.sets, b.meat), b.style, b.core, b.metres)?;
    check(b, &target)?;
    refuse::goes_in(b)?;
    let of = (b.style, b.body.density);
    let known = Piece::of(&b.known_pan, b.known_dough, 1.0, of);
    let fill = known.depth / b.known_pan.depth;
    let free = |p: &Pan| matches!(p.outline, Outline::Free { .. });
    let fill = if free(&b.known_pan) { 1.0 } else { fill };
    let new = Piece::of(&b.pan, b.dough, fill, of);
    let at = |piece: Piece,
              pan: &Pan,
              oven: Temperature,
              f: Figures|
     -> Result<(f64, Run), HeatError> {
        let r = run(piece, pan, oven.as_celsius(), b, &target, f, about(piece))?;
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
    let (m_known, known_run) = at(known, &b.known_pan, b.known_oven, middle)?;
    let lags = LAGS.map(|l| l.min(LAG_SHARE * known_t));
    let speed = m_known / 60.0 / (known_t - lags[1]);
    refuse::fits(b, speed)?;
    let (m_new, new_run) = at(new, &b.pan, b.oven, middle)?;
    let takes = |lag: f64, ratio: f64| lag + (known_t - lag) * ratio;
    let likely = takes(lags[1], m_new / m_known);
    let as_made = b.known_pan.make == b.pan.make && b.known_pan.lid == b.pan.lid;
    let same = known.shape == new.shape && b.known_oven == b.oven && as_made;
    let mut ratios = vec![m_new / m_known];
    if !same {
        let mut others = vec![Figures { films: 0, make: 1 }, Figures { films: 2, make: 1 }];
        if b.pan.make != b.known_pan.make {
            others.push(Figures { films: 1, make: 0 });
            others.push(Figures { films: 1, make: 2 });
        }
        for f in others {
            let k = at(known, &b.known_pan, b.known_oven, f)?.0;
            ratios.push(at(new, &b.pan, b.oven, f)?.0 / k);
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
        let oven = if b.oven == b.known_oven && as_made {
            1.0
        } else {
            at(known, &b.pan, b.oven, middle)?.0 / m_known
        };
        let t = |n: f64| known_t * oven * by.powf(n);
        let (a, c) = (t(EXPONENTS.0), t(EXPONENTS.1));
        Some((a.min(c), a.max(c)))
    } else {
        None
    };
    let least_range = if known.shape == new.shape && as_made {
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
        speed,
        depths: (known.depth, new.depth),
        weighs: advice::weighs(b),
        advice: Vec::new(),
        target,
        time,
    };
    out.advice = advice::advice(b, &out, known, new);
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::super::pan::Make;
    use super::*;

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
            body: crate::shape::Dough::of_style(Style::from_key("lean_bread"), None),
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

    /// A lid keeps the oven's air from the top: it takes longer. Written apart from this program, in C: explicit
    /// steps of the enthalpy of a quarter of the block, 22.86 × 12.7 × 7.62 cm, in cells of 5, 3.5, 2.5, 2 and
    /// 1.6 mm, with the figures of the table above and 15 in place of 20 W/m² K on top, to 98 °C from 26 °C at
    /// 175 °C: 1.042, 1.023, 1.031, 1.028 and 1.028 times as long; of 55 minutes 2 are until the pan is hot.
    #[test]
    fn under_a_lid_it_takes_longer() {
        let mut b = loaf();
        b.pan = Pan::read("9x5x3 in, with a lid").expect("a pan");
        assert!(b.pan.lid && !b.known_pan.lid);
        let out = bake(&b).expect("a bake");
        let ratio = out.time.likely().as_minutes() / 55.0;
        let want = (2.0 + 53.0 * 1.028) / 55.0;
        assert!((ratio - want).abs() < 0.01, "{ratio}, not {want}");
        assert!(
            out.advice
                .iter()
                .any(|a| a.words.starts_with("Under a lid"))
        );
        assert_eq!(Pan::read(&b.pan.as_typed()).map(|p| p.lid), Ok(true));
        let open = Pan::read("pullman 9x4x4 in without its lid").expect("a pan");
        assert!(!open.lid && Pan::read("pullman 9x4x4 in").expect("a pan").lid);
        assert_eq!(Pan::read(&open.as_typed()).map(|p| p.lid), Ok(false));
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
        says(
            &|b| b.oven = Temperature::celsius(400.0),
            "If 400 °F (204 °C) is meant, write 400 F",
        );
        says(&|b| b.core = Some(Temperature::celsius(20.0)), "40–105 °C");
        says(&|b| b.start = Temperature::celsius(99.0), "below the core");
        says(&|b| b.metres = 9000.0, "altitude");
    }

    #[test]
    fn a_known_bake_that_cannot_be_is_told() {
        let mut b = loaf();
        b.known_time = Spread::exact(Time::minutes(15.0));
        let out = bake(&b).expect("a bake");
        assert!(out.advice.iter().any(|a| a.words.contains("does not fit")));
        // No tin of 60 × 40 × 20 cm bakes in a minute: it was taken, as '68.89 times as fast'.
        b.known_time = Spread::exact(Time::minutes(1.0));
        b.known_pan = Pan::read("60x40x20cm").expect("a pan");
        let told = bake(&b).expect_err("no bake").to_string();
        assert!(told.starts_with("the known bake, 1 min in a "), "{told}");
    }
}
