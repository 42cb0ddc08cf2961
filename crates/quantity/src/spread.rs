//! Low–likely–high of a quantity.

use crate::Quantity;

/// What is known of a quantity: a low, a likely and a high value, in that order.
///
/// Invariant: `low ≤ likely ≤ high`, all finite.
///
/// # Example
/// ```
/// use quantity::{Mass, Spread};
/// let cup = Spread::new(Mass::grams(120.0), Mass::grams(125.0), Mass::grams(145.0));
/// assert_eq!(cup.scaled(2.0).likely().as_grams(), 250.0);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread<Q> {
    low: Q,
    likely: Q,
    high: Q,
}

impl<Q: Quantity> Spread<Q> {
    /// Puts three values in order: the smaller outer one is low, and a likely value outside the
    /// outer two widens them rather than being moved.
    #[must_use]
    pub fn new(low: Q, likely: Q, high: Q) -> Self {
        let (a, b, m) = (low.value(), high.value(), likely.value());
        let (mut lo, mut hi) = if a <= b { (low, high) } else { (high, low) };
        if m < lo.value() {
            lo = likely;
        }
        if m > hi.value() {
            hi = likely;
        }
        Self {
            low: lo,
            likely,
            high: hi,
        }
    }
    /// A value known without doubt.
    #[must_use]
    pub fn exact(value: Q) -> Self {
        Self {
            low: value,
            likely: value,
            high: value,
        }
    }
    /// A value with the same relative doubt on both sides; `share` 0.05 is ±5 %.
    #[must_use]
    pub fn within(likely: Q, share: f64) -> Self {
        Self::new(
            Q::of(likely.value() * (1.0 - share)),
            likely,
            Q::of(likely.value() * (1.0 + share)),
        )
    }
    /// The low value.
    #[must_use]
    pub fn low(self) -> Q {
        self.low
    }
    /// The likely value.
    #[must_use]
    pub fn likely(self) -> Q {
        self.likely
    }
    /// The high value.
    #[must_use]
    pub fn high(self) -> Q {
        self.high
    }
    /// Every value times `factor`; a negative factor swaps low and high.
    #[must_use]
    pub fn scaled(self, factor: f64) -> Self {
        self.map(|v| v * factor)
    }
    /// Every value through a monotone function.
    #[must_use]
    pub fn map<R: Quantity>(self, f: impl Fn(f64) -> f64) -> Spread<R> {
        Spread::new(
            R::of(f(self.low.value())),
            R::of(f(self.likely.value())),
            R::of(f(self.high.value())),
        )
    }
    /// The product with an independent factor, outer values multiplied (both not negative).
    #[must_use]
    pub fn times<F: Quantity>(self, factor: Spread<F>) -> Self {
        Self::new(
            Q::of(self.low.value() * factor.low.value()),
            Q::of(self.likely.value() * factor.likely.value()),
            Q::of(self.high.value() * factor.high.value()),
        )
    }
    /// The sum with the outer values added: the worst case on both sides.
    #[must_use]
    pub fn plus_worst(self, other: Self) -> Self {
        Self::new(
            Q::of(self.low.value() + other.low.value()),
            Q::of(self.likely.value() + other.likely.value()),
            Q::of(self.high.value() + other.high.value()),
        )
    }
    /// The sum of independent doubts: likely values add, distances to low and to high add as the
    /// root of the sum of squares, because errors of separate lines rarely all lean one way.
    #[must_use]
    pub fn sum_independent(parts: impl IntoIterator<Item = Self>) -> Self {
        let (mut likely, mut down, mut up) = (0.0, 0.0, 0.0);
        for part in parts {
            likely += part.likely.value();
            down += (part.likely.value() - part.low.value()).powi(2);
            up += (part.high.value() - part.likely.value()).powi(2);
        }
        Self::new(
            Q::of(likely - down.sqrt()),
            Q::of(likely),
            Q::of(likely + up.sqrt()),
        )
    }
    /// The quotient of two independent spreads as a ratio, relative doubts combined as the root
    /// of the sum of squares. `None` when the divisor's likely value is not positive.
    #[must_use]
    pub fn ratio_independent<R: Quantity>(
        self,
        divisor: Spread<R>,
    ) -> Option<Spread<crate::Ratio>> {
        let (n, d) = (self.likely.value(), divisor.likely.value());
        if d <= 0.0 {
            return None;
        }
        let ratio = n / d;
        if n <= 0.0 {
            return Some(Spread::exact(crate::Ratio::new(0.0)));
        }
        let rel = |a: f64, b: f64| ((a / n).powi(2) + (b / d).powi(2)).sqrt();
        let down = rel(n - self.low.value(), divisor.high.value() - d);
        let up = rel(self.high.value() - n, d - divisor.low.value());
        Some(Spread::new(
            crate::Ratio::new(ratio * (1.0 - down).max(0.0)),
            crate::Ratio::new(ratio),
            crate::Ratio::new(ratio * (1.0 + up)),
        ))
    }
    /// Half the distance from low to high over the likely value; 0 for a likely value of zero.
    #[must_use]
    pub fn relative_half_width(self) -> f64 {
        if self.likely.value() == 0.0 {
            return 0.0;
        }
        (self.high.value() - self.low.value()) / (2.0 * self.likely.value())
    }
    /// Whether the value lies inside low–high, ends included.
    #[must_use]
    pub fn holds(self, value: Q) -> bool {
        self.low.value() <= value.value() && value.value() <= self.high.value()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Mass, Ratio};
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn low_likely_high_stay_in_order(a in 0.0..1e6f64, b in 0.0..1e6f64, c in 0.0..1e6f64,
                                         d in 1.0..1e6f64, k in 0.0..50.0f64) {
            let x = Spread::new(Mass::grams(a), Mass::grams(b), Mass::grams(c));
            let y = Spread::within(Mass::grams(d), 0.3);
            let sum = Spread::sum_independent([x, y]);
            let ratio = x.ratio_independent(y).expect("positive divisor");
            for (lo, mid, hi) in [
                (x.low().as_grams(), x.likely().as_grams(), x.high().as_grams()),
                (sum.low().as_grams(), sum.likely().as_grams(), sum.high().as_grams()),
                (x.scaled(k).low().as_grams(), x.scaled(k).likely().as_grams(), x.scaled(k).high().as_grams()),
                (ratio.low().get(), ratio.likely().get(), ratio.high().get()),
            ] {
                prop_assert!(lo <= mid && mid <= hi, "{lo} {mid} {hi}");
            }
        }
    }

    /// Independent errors: ±3 and ±4 make ±5 (Pythagoras), not ±7.
    #[test]
    fn independent_doubts_add_as_squares() {
        let s = Spread::sum_independent([
            Spread::new(Ratio::new(97.0), Ratio::new(100.0), Ratio::new(103.0)),
            Spread::new(Ratio::new(46.0), Ratio::new(50.0), Ratio::new(54.0)),
        ]);
        assert_eq!(
            (s.low().get(), s.likely().get(), s.high().get()),
            (145.0, 150.0, 155.0)
        );
    }
}
