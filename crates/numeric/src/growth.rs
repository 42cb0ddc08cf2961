//! Growth along a temperature history: the cardinal temperature model with inflection, and bodies
//! that follow the temperature around them.
//!
//! # Formula
//! The rate at `T` over that at `T_opt`, 0–1, between `T_min` and `T_max` (all °C):
//!
//! `γ(T) = (T − T_max)(T − T_min)² / {(T_opt − T_min)[(T_opt − T_min)(T − T_opt) −
//! (T_opt − T_max)(T_opt + T_min − 2T)]}`, 0 outside.
//!
//! Work done is `∫ γ(T(t)) dt`, in hours at the optimum. A body follows what is around it by
//! Newton's law, `dT/dt = (T_around − T) / τ`, `τ` its time constant (h).
//!
//! # Source
//! Rosso, Lobry and Flandrois 1993, Journal of Theoretical Biology 162:447–463 (from memory);
//! values of a published implementation in `tests/growth.rs`.

use crate::NumericError;

/// The cardinal temperatures of an organism, °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cardinal {
    min: f64,
    opt: f64,
    max: f64,
}

impl Cardinal {
    /// From the lowest, best and highest temperature of growth, °C.
    ///
    /// # Errors
    /// [`NumericError::Value`] unless `min < opt < max`, all finite, and the best temperature lies
    /// in the upper half of the range, which the model needs.
    pub fn new(min: f64, opt: f64, max: f64) -> Result<Self, NumericError> {
        crate::finite("cardinal temperatures", &[min, opt, max])?;
        let wrong = |index, found| NumericError::Value {
            what: "cardinal temperatures (lowest, best, highest)",
            index,
            found,
        };
        if opt <= min || 2.0 * opt <= min + max {
            return Err(wrong(1, opt));
        }
        if max <= opt {
            return Err(wrong(2, max));
        }
        Ok(Self { min, opt, max })
    }

    /// The rate at a temperature over that at the best one, 0–1; not-a-number gives 0.
    ///
    /// # Example
    /// ```
    /// use numeric::growth::Cardinal;
    /// let c = Cardinal::new(5.0, 20.0, 30.0)?;
    /// assert!((c.rate(22.0) - 0.963_333_3).abs() < 1e-6);
    /// assert_eq!(c.rate(1.0), 0.0);
    /// # Ok::<(), numeric::NumericError>(())
    /// ```
    #[must_use]
    pub fn rate(&self, t: f64) -> f64 {
        let Self { min, opt, max } = *self;
        if !(t > min && t < max) {
            return 0.0;
        }
        let below = (opt - min) * ((opt - min) * (t - opt) - (opt - max) * (opt + min - 2.0 * t));
        ((t - max) * (t - min) * (t - min) / below).clamp(0.0, 1.0)
    }
}

/// Some time in one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stay {
    /// Hours, 0 and more.
    pub hours: f64,
    /// Temperature around, °C.
    pub around: f64,
    /// The body's time constant there, h: after it 63 % of the difference is gone. 0 takes the
    /// temperature at once.
    pub lag: f64,
}

/// Most hours of a stay.
const MOST_HOURS: f64 = 1_000.0;
/// Points of the integral in a stay: Simpson's rule on this many intervals.
const INTERVALS: usize = 240;

impl Stay {
    /// The body's temperature after `hours` here, °C.
    #[must_use]
    pub fn after(&self, start: f64, hours: f64) -> f64 {
        if self.lag > 0.0 {
            self.around + (start - self.around) * (-hours / self.lag).exp()
        } else {
            self.around
        }
    }

    fn check(&self) -> Result<(), NumericError> {
        crate::not_negative("hours and lag of a stay", &[self.hours, self.lag])?;
        crate::finite("temperature around", &[self.around])?;
        if self.hours > MOST_HOURS {
            return Err(NumericError::Value {
                what: "hours of a stay",
                index: 0,
                found: self.hours,
            });
        }
        Ok(())
    }

    /// Growth in the first `hours` here, h at the optimum. With a lag the points lie closer at the
    /// beginning, where the temperature moves.
    fn growth(&self, cardinal: &Cardinal, start: f64, hours: f64) -> f64 {
        if hours <= 0.0 {
            return 0.0;
        }
        if self.lag == 0.0 {
            return hours * cardinal.rate(self.around);
        }
        // t = hours · u², dt = 2 hours u du.
        let value = |i: usize| {
            let u = i as f64 / INTERVALS as f64;
            2.0 * hours * u * cardinal.rate(self.after(start, hours * u * u))
        };
        let mut sum = value(0) + value(INTERVALS);
        for i in 1..INTERVALS {
            sum += if i % 2 == 1 { 4.0 } else { 2.0 } * value(i);
        }
        sum / (3 * INTERVALS) as f64
    }
}

/// What each stay gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Grown {
    /// Per stay: growth, h at the optimum, and the body's temperature at its end, °C.
    pub stays: Vec<(f64, f64)>,
}

impl Grown {
    /// All of it, h at the optimum.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.stays.iter().map(|s| s.0).sum()
    }
}

/// Growth along stays, one after another.
///
/// # Inputs
/// - `start`: the body's temperature at the beginning, °C.
/// - `stays`: at least one.
///
/// # Errors
/// - [`NumericError::Empty`], [`NumericError::Value`]: no stays, or hours and lags below zero or
///   beyond 1,000 h.
pub fn along(cardinal: &Cardinal, start: f64, stays: &[Stay]) -> Result<Grown, NumericError> {
    if stays.is_empty() {
        return Err(NumericError::Empty { what: "stays" });
    }
    crate::finite("start", &[start])?;
    let mut at = start;
    let mut out = Vec::with_capacity(stays.len());
    for stay in stays {
        stay.check()?;
        let grown = stay.growth(cardinal, at, stay.hours);
        at = stay.after(at, stay.hours);
        out.push((grown, at));
    }
    Ok(Grown { stays: out })
}

/// How long in the last place until so much has grown in all.
///
/// # Inputs
/// - `wanted`: h at the optimum, above 0.
/// - `last`: its `hours` are the longest looked at.
///
/// # Returns
/// Hours in `last`; 0 where the stays before give enough; `None` where its hours do not suffice.
///
/// # Errors
/// As [`along`].
pub fn until(
    cardinal: &Cardinal,
    start: f64,
    before: &[Stay],
    last: &Stay,
    wanted: f64,
) -> Result<Option<f64>, NumericError> {
    crate::not_negative("wanted growth", &[wanted])?;
    last.check()?;
    let (had, at) = if before.is_empty() {
        crate::finite("start", &[start])?;
        (0.0, start)
    } else {
        let grown = along(cardinal, start, before)?;
        let at = grown.stays.last().map_or(start, |s| s.1);
        (grown.total(), at)
    };
    let left = wanted - had;
    if left <= 0.0 {
        return Ok(Some(0.0));
    }
    if last.growth(cardinal, at, last.hours) < left {
        return Ok(None);
    }
    let (mut low, mut high) = (0.0, last.hours);
    for _ in 0..60 {
        let mid = f64::midpoint(low, high);
        if last.growth(cardinal, at, mid) < left {
            low = mid;
        } else {
            high = mid;
        }
    }
    Ok(Some(high))
}
