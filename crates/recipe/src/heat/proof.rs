//! How long a dough proofs along a temperature history, from one proof that is known.
//!
//! Growth of yeast by [`numeric::growth`]: the known proof's growth is what the new one has to
//! reach. The dough follows the temperature around it by Newton's law.
//!
//! | figure | value | source |
//! | --- | --- | --- |
//! | best and highest temperature | 32.3, 45.4 °C | Salvadó et al. 2011, AEM 77:2292 (seen) |
//! | lowest temperature | 1.3–2.0–2.8 °C | assumed within their 1.3–4.3 °C of the genus |
//! | time constant of a dough | m c / (h A), c 2.9 kJ/kg K, h 6–8–15 W/m² K, A of a ball × 1.2 | from memory |
//!
//! It is growth, not gas: below 8 °C it understates what the dough does, and nobody has measured
//! doughs without gluten. So no time in the fridge is ever worked out from it alone.

use super::{Advice, HeatError, PRACTICE, clock, wrong};
use crate::plan::{FRIDGE_WORDS, WARM_LIMIT, WARM_WORDS};
use crate::rework::style::Style;
use numeric::growth::{Cardinal, Stay, along, until};
use quantity::{Mass, Spread, Temperature, Time};

/// What is said of every fridge.
pub const FRIDGE: &str = "No fridge time comes out of this: between likely lowest temperatures of yeast, the rate at 4 °C differs fourfold. Go by the volume; 8–18 h at 3–5 °C with half to 0.7 of the yeast is usual";

/// Where a proof ends.
pub const VOLUME: &str = "times its volume, a soft dent that half comes back, tiny pinholes on top: bake now. Never wait for it to double";

/// °C.
const OPT: f64 = 32.3;
const MAX: f64 = 45.4;
const MIN: [f64; 3] = [1.3, 2.0, 2.8];
/// Below this the model understates, °C (project rule R10.4).
const COLD: f64 = 8.0;
/// The model is not asked outside these, °C (R10.4).
const CLAMP: (f64, f64) = (4.0, 38.0);
/// Hotter, yeast suffers, °C.
const HOT: f64 = 40.0;
/// Above this, what spoils counts hours, °C (R10.6).
const SPOILS: f64 = 5.0;
/// A dough so near to a fridge at 5 °C, °C, has its temperature.
const NEAR: f64 = 0.5;
/// Above this, °C, the limit is half as long.
const SPOILS_HOT: f64 = 32.0;
/// J/kg K, W/m² K.
const HEAT: f64 = 2_900.0;
const FILM: [f64; 3] = [15.0, 8.0, 6.0];
/// How much more surface than a ball.
const SURFACE: f64 = 1.2;
/// The longest last stay, h.
const MOST: f64 = 72.0;

/// A stay of the dough.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leg {
    /// h; `None` until it is ready, for the last one.
    pub hours: Option<f64>,
    /// Around, °C.
    pub celsius: f64,
    /// The place named in its stead, whose temperature is the usual one.
    pub place: Option<&'static str>,
}

/// A proof that is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KnownProof {
    /// How long to the volume wanted.
    pub time: Spread<Time>,
    /// The dough's temperature while it proofed.
    pub at: Temperature,
}

/// A proof to work out.
#[derive(Debug, Clone, PartialEq)]
pub struct Proof {
    /// From this.
    pub known: KnownProof,
    /// The dough after mixing.
    pub dough: Temperature,
    /// Its weight, for how slowly it warms and cools.
    pub weight: Mass,
    /// Where it stands, one after another.
    pub legs: Vec<Leg>,
    /// The style, for the volume.
    pub style: Option<Style>,
    /// Whether it holds egg or milk; `None` where that is not known.
    pub perishable: Option<bool>,
    /// Mixing and shaping, which count towards the limit too, as the plan counts them; `None` where
    /// they are not known.
    pub work: Option<Time>,
}

/// What a stay gives.
#[derive(Debug, Clone, PartialEq)]
pub struct LegOut {
    /// As asked.
    pub leg: Leg,
    /// Percent of the proof done here, low and high.
    pub share: (f64, f64),
    /// The dough at its end, °C, low and high.
    pub ends_at: (f64, f64),
    /// The model understates it.
    pub cold: bool,
}

/// How long the last stay is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Wait {
    /// Low, likely, high.
    For(Spread<Time>),
    /// All stays have their times: percent of the proof done at the end, low, likely, high.
    Done(f64, f64, f64),
    /// It is in the fridge: not answered.
    Fridge,
    /// Not ready within 72 h.
    TooCold,
}

/// What follows.
#[derive(Debug, Clone, PartialEq)]
pub struct Proofed {
    /// Per stay.
    pub legs: Vec<LegOut>,
    /// The last one.
    pub wait: Wait,
    /// Volume at the end, low and high, times what went in.
    pub volume: (f64, f64),
    /// h in places above 5 °C, and the work where it is known: what the plan, too, counts against the
    /// limit for egg and milk.
    pub warm: f64,
    /// h that the dough itself is above 5 °C in all by Newton's law, its slow cooling in the fridge with
    /// them: of one that cools fast, likely, slowly. A fridge nearer than half a degree to 5 °C has cooled it
    /// half a degree from its own.
    pub above_5: [f64; 3],
    /// Time constants of the dough, h: fast, likely, slow.
    pub lags: [f64; 3],
    /// The likely history: hours, the dough's °C, percent of the proof done.
    pub points: Vec<(f64, f64, f64)>,
    /// What to mind, with sources.
    pub advice: Vec<Advice>,
}

/// The model's yeast: low, likely and high for the lowest temperature.
///
/// # Errors
/// Never in practice: the figures are in order.
pub fn cardinal_range() -> Result<[Cardinal; 3], HeatError> {
    let of = |min| {
        Cardinal::new(min, OPT, MAX)
            .map_err(|e| HeatError(format!("this proof cannot be worked out: {e}")))
    };
    Ok([of(MIN[0])?, of(MIN[1])?, of(MIN[2])?])
}

/// Time constants of a dough, h: fast, likely, slow.
fn lags(weight: Mass) -> [f64; 3] {
    let kg = weight.as_grams() / 1000.0;
    // A ball of 1,050 kg/m³.
    let radius = (3.0 * kg / (4.0 * std::f64::consts::PI * 1_050.0)).cbrt();
    let area = SURFACE * 4.0 * std::f64::consts::PI * radius * radius;
    FILM.map(|h| kg * HEAT / (h * area) / 3600.0)
}

/// h of a stay that a dough of `start` °C is above 5 °C: T(t) = A + (T₀ − A) e^(−t/lag) crosses it once.
fn above(stay: &Stay, start: f64) -> f64 {
    let around = stay.around;
    let bound = if around > SPOILS {
        SPOILS
    } else {
        SPOILS.max(around + NEAR)
    };
    let (from, to) = (start > bound, around > bound);
    let crosses = stay.lag * ((start - around) / (bound - around)).ln();
    match (from, to) {
        (true, true) => stay.hours,
        (false, false) => 0.0,
        (true, false) => crosses.min(stay.hours),
        (false, true) => (stay.hours - crosses).max(0.0),
    }
}

fn stay(leg: &Leg, lag: f64) -> Stay {
    Stay {
        hours: leg.hours.unwrap_or(MOST),
        around: leg.celsius.clamp(CLAMP.0, CLAMP.1),
        lag,
    }
}

/// Works a proof out.
///
/// # Errors
/// [`HeatError`]: no stays, a temperature at which yeast suffers or does not grow in the known
/// proof, a weight outside 20 g to 50 kg.
pub fn proof(p: &Proof) -> Result<Proofed, HeatError> {
    check(p)?;
    let yeasts = cardinal_range()?;
    let lags = lags(p.weight);
    let known_h = p.known.time.likely().as_minutes() / 60.0;
    let known_at = p.known.at.as_celsius();
    let start = p.dough.as_celsius().clamp(CLAMP.0, CLAMP.1);
    let open = p.legs.last().is_some_and(|l| l.hours.is_none());
    let fixed = if open {
        &p.legs[..p.legs.len() - 1]
    } else {
        &p.legs[..]
    };
    let fails =
        |e: numeric::NumericError| HeatError(format!("this proof cannot be worked out: {e}"));

    let mut shares: Vec<(f64, f64)> = vec![(f64::INFINITY, f64::NEG_INFINITY); fixed.len()];
    let mut ends = shares.clone();
    let (mut dones, mut waits): (Vec<f64>, Vec<Option<f64>>) = (Vec::new(), Vec::new());
    let mut likely = (0.0, None);
    for (y, yeast) in yeasts.iter().enumerate() {
        for (l, lag) in lags.iter().enumerate() {
            let wanted = known_h * yeast.rate(known_at);
            let before: Vec<Stay> = fixed.iter().map(|g| stay(g, *lag)).collect();
            let mut done = 0.0;
            if !before.is_empty() {
                let grown = along(yeast, start, &before).map_err(fails)?;
                for (i, (g, end)) in grown.stays.iter().enumerate() {
                    let share = 100.0 * g / wanted;
                    shares[i] = (shares[i].0.min(share), shares[i].1.max(share));
                    ends[i] = (ends[i].0.min(*end), ends[i].1.max(*end));
                }
                done = 100.0 * grown.total() / wanted;
            }
            let wait = match p.legs.last().filter(|_| open) {
                Some(last) => {
                    until(yeast, start, &before, &stay(last, *lag), wanted).map_err(fails)?
                }
                None => None,
            };
            dones.push(done);
            waits.push(wait);
            if (y, l) == (1, 1) {
                likely = (done, wait);
            }
        }
    }
    let least = |v: &[f64]| v.iter().copied().fold(f64::INFINITY, f64::min);
    let most = |v: &[f64]| v.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let own = (
        p.known.time.low().as_minutes() / 60.0 / known_h,
        p.known.time.high().as_minutes() / 60.0 / known_h,
    );
    let last_is_cold = p.legs.last().is_some_and(|l| l.celsius < COLD);
    let wait = if !open {
        Wait::Done(least(&dones) / own.1, likely.0, most(&dones) / own.0)
    } else if last_is_cold {
        Wait::Fridge
    } else {
        match (
            likely.1,
            waits.iter().copied().collect::<Option<Vec<f64>>>(),
        ) {
            (Some(mid), Some(all)) => {
                let of = |h: f64| Time::minutes(60.0 * h);
                // Growth is the measure of time here; a dough's own pace varies by as much again.
                let low = (least(&all) * own.0).min(mid * (1.0 - OWN_PACE));
                let high = (most(&all) * own.1).max(mid * (1.0 + OWN_PACE));
                Wait::For(Spread::new(of(low), of(mid), of(high)))
            }
            _ => Wait::TooCold,
        }
    };
    let mut legs: Vec<LegOut> = fixed
        .iter()
        .enumerate()
        .map(|(i, leg)| LegOut {
            leg: *leg,
            share: shares[i],
            ends_at: ends[i],
            cold: leg.celsius < COLD,
        })
        .collect();
    if let Some(last) = p.legs.last().filter(|_| open) {
        let rest = |d: f64| (100.0 - d).max(0.0);
        legs.push(LegOut {
            leg: *last,
            share: (rest(most(&dones)), rest(least(&dones))),
            ends_at: (last.celsius, last.celsius),
            cold: last_is_cold,
        });
    }
    let last_hours = match wait {
        Wait::For(t) => t.likely().as_minutes() / 60.0,
        _ => 0.0,
    };
    let wanted = known_h * yeasts[1].rate(known_at);
    let points = points(p, &yeasts[1], lags[1], start, last_hours, wanted);
    let volume = p
        .style
        .filter(|s| s.is_yeast_dough())
        .and_then(|s| s.range("proof_x"))
        .map_or((1.3, 1.8), |r| {
            (r.value.low().get(), r.value.high().get().min(1.8))
        });
    let stands: f64 = p
        .legs
        .iter()
        .filter(|l| l.celsius > SPOILS)
        .map(|l| l.hours.unwrap_or(last_hours))
        .sum();
    let above_5 = lags.map(|lag| {
        let mut at = p.dough.as_celsius();
        p.legs.iter().fold(0.0, |sum, leg| {
            let stay = Stay {
                hours: leg.hours.unwrap_or(last_hours),
                around: leg.celsius,
                lag,
            };
            let hours = above(&stay, at);
            at = stay.after(at, stay.hours);
            sum + hours
        })
    });
    let warm = stands + p.work.map_or(0.0, Time::as_minutes) / 60.0;
    let mut out = Proofed {
        legs,
        wait,
        volume,
        warm,
        above_5,
        lags,
        points,
        advice: Vec::new(),
    };
    out.advice = advice(p, &out);
    Ok(out)
}

/// A dough's own pace differs by this from one batch to the next (common practice, no source).
const OWN_PACE: f64 = 0.15;

fn check(p: &Proof) -> Result<(), HeatError> {
    if p.legs.is_empty() {
        return wrong(
            "no stay is given: write, for example, 1 h at 22 °C, 12 h in the fridge, then 27 °C",
        );
    }
    if !(20.0..=50_000.0).contains(&p.weight.as_grams()) {
        return wrong(format!(
            "a dough of {:.0} g: write from 20 g to 50 kg",
            p.weight.as_grams()
        ));
    }
    let known = p.known.at.as_celsius();
    if !(COLD..=HOT).contains(&known) {
        return wrong(format!(
            "a known proof at {known:.0} °C says nothing of others: give one at {COLD:.0}–{HOT:.0} °C"
        ));
    }
    let dough = p.dough.as_celsius();
    if !(0.0..=HOT).contains(&dough) {
        return wrong(format!(
            "a dough of {dough:.0} °C after mixing: write 0–{HOT:.0} °C; hotter, yeast suffers"
        ));
    }
    for (i, leg) in p.legs.iter().enumerate() {
        if leg.celsius > HOT {
            return wrong(format!(
                "stay {}: at {:.0} °C yeast suffers; proof below {HOT:.0} °C",
                i + 1,
                leg.celsius
            ));
        }
    }
    Ok(())
}

/// Points per stay.
const POINTS: usize = 24;

fn points(
    p: &Proof,
    yeast: &Cardinal,
    lag: f64,
    start: f64,
    last_hours: f64,
    wanted: f64,
) -> Vec<(f64, f64, f64)> {
    let mut out = vec![(0.0, start, 0.0)];
    let (mut now, mut at, mut done) = (0.0, start, 0.0);
    for leg in &p.legs {
        let mut s = stay(leg, lag);
        s.hours = leg.hours.unwrap_or(last_hours);
        if s.hours <= 0.0 {
            continue;
        }
        let (t0, d0) = (at, done);
        for i in 1..=POINTS {
            // Closer together at the beginning, where the temperature moves.
            let u = i as f64 / POINTS as f64;
            let part = Stay {
                hours: s.hours * u * u,
                ..s
            };
            let grown = along(yeast, t0, &[part]).map_or(0.0, |g| g.total());
            at = s.after(t0, part.hours);
            done = d0 + 100.0 * grown / wanted;
            out.push((now + part.hours, at, done));
        }
        now += s.hours;
    }
    out
}

fn advice(p: &Proof, out: &Proofed) -> Vec<Advice> {
    let mut all = vec![Advice::new(
        format!(
            "The volume ends a proof, not the clock: {:.1}–{:.1} {VOLUME}",
            out.volume.0, out.volume.1
        ),
        PRACTICE,
    )];
    if out.legs.iter().any(|l| l.cold) {
        all.push(Advice::new(
            FRIDGE,
            "rates: Salvadó et al. 2011 with an assumed lowest temperature of 1.3–2.8 °C; hours: common practice, no source",
        ));
        if out.lags[2] > 0.5 {
            all.push(Advice::new(
                format!(
                    "It goes on rising until it is cold: of the difference to the fridge, {:.0} g still have a third after {}–{}. Chill it flat or in pieces",
                    p.weight.as_grams(),
                    clock(60.0 * out.lags[0]),
                    clock(60.0 * out.lags[2])
                ),
                "Newton's law of cooling; films from memory",
            ));
        }
    }
    if p.legs.iter().any(|l| l.celsius > 30.0) {
        all.push(Advice::new(
            "Above 30 °C growth hardly quickens, and butter runs: nothing is won",
            "the growth model, Salvadó et al. 2011; butter: common practice, no source",
        ));
    }
    if p.perishable != Some(false) {
        let who = if p.perishable == Some(true) {
            "It holds egg or milk"
        } else {
            "If it holds egg or milk"
        };
        let hot = p.legs.iter().any(|l| l.celsius > SPOILS_HOT);
        let limit = if hot { WARM_LIMIT / 2.0 } else { WARM_LIMIT };
        let sum = 60.0 * out.warm;
        let stands = match p.work.map(Time::as_minutes) {
            Some(work) => format!(
                "{} where it stands and {} of work",
                clock(sum - work),
                clock(work)
            ),
            None => "where it stands, its work not counted".to_owned(),
        };
        let past = if sum > limit {
            ", which is past it: use less time, a cooler place or the fridge"
        } else {
            ""
        };
        all.push(Advice::new(
            format!(
                "{who}: {WARM_WORDS}. Counted so, this dough comes to {} ({stands}){past}. {FRIDGE_WORDS}. Taste no raw dough",
                clock(sum)
            ),
            "USDA consumer advice (seen): two hours, one above 32 °C; fridge: common practice, no source",
        ));
        if p.legs.iter().any(|l| l.celsius <= SPOILS) {
            let [fast, likely, slow] = out.above_5.map(|h| 60.0 * h);
            all.push(Advice::new(
                format!(
                    "By the model the dough itself is above 5 °C for {} to {}, likely {}, in all: what it takes to cool in the fridge is in that",
                    clock(fast),
                    clock(slow),
                    clock(likely)
                ),
                "Newton's law of cooling; films from memory",
            ));
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(minutes: f64, at: f64, legs: &[(Option<f64>, f64)]) -> Proof {
        Proof {
            known: KnownProof {
                time: Spread::exact(Time::minutes(minutes)),
                at: Temperature::celsius(at),
            },
            dough: Temperature::celsius(at),
            weight: Mass::grams(900.0),
            legs: legs
                .iter()
                .map(|(hours, celsius)| Leg {
                    hours: *hours,
                    celsius: *celsius,
                    place: None,
                })
                .collect(),
            style: None,
            perishable: None,
            work: None,
        }
    }

    /// E06: 60 min at 30 °C are 74.2 min at 24 °C; a dough that is at 24 °C from the beginning.
    #[test]
    fn e06_an_hour_at_30_is_74_minutes_at_24() {
        let mut p = plain(60.0, 30.0, &[(None, 24.0)]);
        p.dough = Temperature::celsius(24.0);
        let Wait::For(t) = proof(&p).expect("a proof").wait else {
            panic!("no time");
        };
        assert!((t.likely().as_minutes() - 74.2).abs() < 0.1, "{t:?}");
        assert!(t.low().as_minutes() < 66.0 && t.high().as_minutes() > 82.0);
    }

    /// The same history takes the same time.
    #[test]
    fn the_same_proof_takes_the_same_time() {
        let Wait::For(t) = proof(&plain(75.0, 26.0, &[(None, 26.0)]))
            .expect("a proof")
            .wait
        else {
            panic!("no time");
        };
        assert!((t.likely().as_minutes() - 75.0).abs() < 1e-6);
    }

    /// E08: a fridge time is never printed.
    #[test]
    fn e08_no_time_in_the_fridge() {
        let out = proof(&plain(60.0, 27.0, &[(None, 4.0)])).expect("a proof");
        assert_eq!(out.wait, Wait::Fridge);
        assert!(out.advice.iter().any(|a| a.words == FRIDGE));
        let out = proof(&plain(60.0, 27.0, &[(Some(12.0), 4.0), (None, 27.0)])).expect("a proof");
        let fridge = &out.legs[0];
        assert!(
            fridge.cold && fridge.share.1 > 1.3 * fridge.share.0,
            "{fridge:?}"
        );
        assert!(out.advice.iter().any(|a| a.words == FRIDGE));
        assert!(fridge.ends_at.0 < 4.2);
    }

    /// A large dough is cold much later than a small one, so the fridge does more of the work.
    #[test]
    fn a_large_dough_cools_slowly() {
        let share = |g: f64| {
            let mut p = plain(60.0, 27.0, &[(Some(12.0), 4.0), (None, 27.0)]);
            p.weight = Mass::grams(g);
            proof(&p).expect("a proof").legs[0].share
        };
        assert!(share(5_000.0).0 > 1.5 * share(200.0).0);
        let l = lags(Mass::grams(1000.0));
        assert!(
            (0.5..4.0).contains(&l[1]) && l[0] < l[1] && l[1] < l[2],
            "{l:?}"
        );
    }

    /// Finding 5: a night in the fridge is no night out of it; the plan counts the same hours.
    #[test]
    fn the_fridge_is_not_counted_as_warm() {
        let mut p = plain(75.0, 27.0, &[(Some(12.0), 4.0)]);
        p.perishable = Some(true);
        p.weight = Mass::grams(1400.0);
        let out = proof(&p).expect("a proof");
        assert!(out.warm < 1e-9, "{}", out.warm);
        let said = |what: &str| out.advice.iter().any(|a| a.words.contains(what));
        assert!(!said("past it"), "{:?}", out.advice);
        assert!(said(FRIDGE_WORDS) && said(WARM_WORDS));
    }

    /// Summed by hand: an hour at 22 °C and 15 minutes of work are 75 minutes, the night in the fridge
    /// none; with 65 minutes of work they are past the two hours.
    #[test]
    fn work_and_places_are_one_sum() {
        let mut p = plain(75.0, 27.0, &[(Some(1.0), 22.0), (Some(12.0), 4.0)]);
        p.perishable = Some(true);
        for (work, sum, past) in [
            (15.0, "comes to 75 min (60 min", false),
            (65.0, "comes to 2 h 5 min (60 min", true),
        ] {
            p.work = Some(Time::minutes(work));
            let out = proof(&p).expect("a proof");
            let told: Vec<&Advice> = out
                .advice
                .iter()
                .filter(|a| a.words.contains(WARM_WORDS))
                .collect();
            assert_eq!(told.len(), 1, "{told:?}");
            assert!(told[0].words.contains(sum), "{told:?}");
            assert_eq!(told[0].words.contains("past it"), past);
        }
    }

    /// The temperature stepped by Euler's rule, a second at a time, apart from the closed form: an hour at
    /// 22 °C, a night at 4 °C, two hours at 27 °C; and in a fridge of 5 °C, which a dough never quite reaches.
    #[test]
    fn the_doughs_own_hours_above_5_are_those_stepped_through() {
        for fridge in [4.0, 5.0] {
            let mut p = plain(
                60.0,
                27.0,
                &[(Some(1.0), 22.0), (Some(12.0), fridge), (Some(2.0), 27.0)],
            );
            p.perishable = Some(true);
            let out = proof(&p).expect("a proof");
            for (lag, told) in out.lags.iter().zip(out.above_5) {
                let (mut at, mut sum) = (27.0, 0.0);
                for leg in &p.legs {
                    let bound = if leg.celsius == 5.0 { 5.5 } else { 5.0 };
                    for _ in 0..(3600.0 * leg.hours.expect("a time")) as usize {
                        at += (leg.celsius - at) / (lag * 3600.0);
                        sum += if at > bound { 1.0 / 3600.0 } else { 0.0 };
                    }
                }
                assert!((told - sum).abs() < 0.03, "{fridge}: {told} {sum}");
            }
            let [fast, likely, slow] = out.above_5;
            assert!(
                fast < likely && likely < slow && fast > 3.0,
                "{:?}",
                out.above_5
            );
            let said = |a: &&Advice| a.words.contains("the dough itself is above 5 °C");
            assert_eq!(out.advice.iter().filter(said).count(), 1);
        }
        // Nowhere cold: the places say it all.
        let p = plain(60.0, 27.0, &[(Some(3.0), 22.0)]);
        let out = proof(&p).expect("a proof");
        assert_eq!(out.above_5, [3.0; 3]);
        assert!(
            !out.advice
                .iter()
                .any(|a| a.words.contains("the dough itself"))
        );
    }

    #[test]
    fn hours_above_5_are_counted() {
        let mut p = plain(60.0, 27.0, &[(Some(3.0), 22.0), (None, 27.0)]);
        p.perishable = Some(true);
        let out = proof(&p).expect("a proof");
        assert!(out.warm > 3.0 - 1e-9);
        assert!(
            out.advice.iter().any(|a| a.words.contains("past it")),
            "{out:?}"
        );
        p.perishable = Some(false);
        let out = proof(&p).expect("a proof");
        assert!(!out.advice.iter().any(|a| a.words.contains("egg")));
    }

    #[test]
    fn all_times_given_says_how_far_it_is() {
        let out = proof(&plain(60.0, 27.0, &[(Some(0.5), 27.0)])).expect("a proof");
        let Wait::Done(low, mid, high) = out.wait else {
            panic!("a time");
        };
        assert!(
            low <= mid && mid <= high && (mid - 50.0).abs() < 1.0,
            "{mid}"
        );
    }

    #[test]
    fn impossible_proofs_are_explained() {
        for (p, part) in [
            (plain(60.0, 4.0, &[(None, 27.0)]), "says nothing"),
            (plain(60.0, 27.0, &[(None, 48.0)]), "suffers"),
            (plain(60.0, 27.0, &[]), "no stay"),
        ] {
            let e = proof(&p).expect_err(part).to_string();
            assert!(e.contains(part), "{e}");
        }
        let mut heavy = plain(60.0, 27.0, &[(None, 27.0)]);
        heavy.weight = Mass::grams(1.0);
        assert!(proof(&heavy).is_err());
    }
}
