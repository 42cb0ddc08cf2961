//! Physical quantities as types. Each is a finite number in one stated unit.

use std::ops::{Add, Div, Mul, Sub};

/// A quantity that is a plain number in one unit, so that [`crate::Spread`] can carry it.
pub trait Quantity: Copy + PartialOrd + std::fmt::Debug {
    /// The number in the quantity's own unit.
    fn value(self) -> f64;
    /// The quantity of this number in its own unit. Not-a-number and infinities become zero in
    /// release builds and stop a debug build: callers check text before they get here.
    fn of(value: f64) -> Self;
}

macro_rules! quantity {
    ($(#[$meta:meta])* $name:ident, $ctor:ident, $getter:ident, $unit:literal) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            #[doc = concat!("A quantity of this many ", $unit, "; must be finite.")]
            #[must_use]
            pub fn $ctor(value: f64) -> Self {
                Quantity::of(value)
            }
            #[doc = concat!("The number of ", $unit, ".")]
            #[must_use]
            pub fn $getter(self) -> f64 {
                self.0
            }
        }

        impl Quantity for $name {
            fn value(self) -> f64 {
                self.0
            }
            fn of(value: f64) -> Self {
                debug_assert!(value.is_finite(), "a quantity must be finite, got {value}");
                Self(if value.is_finite() { value } else { 0.0 })
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self::of(self.0 + other.0)
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self::of(self.0 - other.0)
            }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self::of(self.0 * factor)
            }
        }
        impl Div<$name> for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
                iter.fold(Self(0.0), |a, b| a + b)
            }
        }
    };
}

quantity!(
    /// A mass in grams.
    Mass, grams, as_grams, "grams"
);
quantity!(
    /// A volume in millilitres.
    Volume, millilitres, as_millilitres, "millilitres"
);
quantity!(
    /// A length in millimetres.
    Length, millimetres, as_millimetres, "millimetres"
);
quantity!(
    /// A temperature in degrees Celsius.
    Temperature, celsius, as_celsius, "degrees Celsius"
);
quantity!(
    /// A stretch of time in minutes.
    Time, minutes, as_minutes, "minutes"
);
quantity!(
    /// A plain ratio or percentage; the holder says which.
    Ratio, new, get, "units"
);

/// Grams in one avoirdupois pound, exact (NIST Handbook 44, Appendix C).
const GRAMS_PER_POUND: f64 = 453.592_37;
/// Millimetres in one inch, exact (NIST SP 811).
const MILLIMETRES_PER_INCH: f64 = 25.4;

impl Mass {
    /// Avoirdupois pounds; 453.59237 g each, exact.
    #[must_use]
    pub fn pounds(pounds: f64) -> Self {
        Self::grams(pounds * GRAMS_PER_POUND)
    }
    /// Avoirdupois ounces; one sixteenth of a pound, exact.
    #[must_use]
    pub fn ounces(ounces: f64) -> Self {
        Self::grams(ounces * (GRAMS_PER_POUND / 16.0))
    }
}

impl Length {
    /// Inches; 25.4 mm each, exact.
    #[must_use]
    pub fn inches(inches: f64) -> Self {
        Self::millimetres(inches * MILLIMETRES_PER_INCH)
    }
}

impl Temperature {
    /// Degrees Fahrenheit; °C = (°F − 32) × 5/9, exact.
    #[must_use]
    pub fn fahrenheit(degrees: f64) -> Self {
        Self::celsius((degrees - 32.0) * 5.0 / 9.0)
    }
    /// The number of degrees Fahrenheit.
    #[must_use]
    pub fn as_fahrenheit(self) -> f64 {
        self.as_celsius() * 9.0 / 5.0 + 32.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn close(got: f64, want: f64) {
        assert!(
            (got - want).abs() < 1e-9 * want.abs().max(1.0),
            "{got} is not {want}"
        );
    }

    /// NIST SP 811 and Handbook 44 Appendix C: exact factors.
    #[test]
    fn nist_exact_factors() {
        close(Mass::pounds(1.0).as_grams(), 453.592_37);
        close(Mass::ounces(1.0).as_grams(), 28.349_523_125);
        close(Length::inches(1.0).as_millimetres(), 25.4);
        close(Temperature::fahrenheit(212.0).as_celsius(), 100.0);
        close(Temperature::celsius(-40.0).as_fahrenheit(), -40.0);
    }
}
