//! A held figure that is likely a slip of the pen.

use super::super::hold::HYDRATION;
use super::super::reworked::{ReworkedComponent, ReworkedLine};
use super::HeldFigure;
use crate::household::{is_fine, percent, weight};
use crate::{Doubt, DoubtCode};
use larder::Larder;
use quantity::Mass;

/// A digit too many makes ten times as much, a digit too few a tenth: so many times more or less than the
/// range of what it would be is asked about (common practice, no source).
const FAR: f64 = 5.0;

/// How far a figure is from the range it would be in, where it is [`FAR`] or more.
fn far(held: f64, low: f64, high: f64) -> Option<&'static str> {
    if held > FAR * high && high > 0.0 {
        Some("more")
    } else if held > 0.0 && held < low / FAR {
        Some("less")
    } else {
        None
    }
}

fn doubt(held: &str, way: &str, would: &str) -> Doubt {
    Doubt::new(
        DoubtCode::UnlikelyAmount,
        format!(
            "{held} is held, far {way} than the {would} it would be: if it is a slip of the pen, type it anew or let it go"
        ),
    )
}

/// The doubt that a line is held at what was not meant.
pub(in crate::rework) fn slip(line: &ReworkedLine, larder: &Larder) -> Option<Doubt> {
    let (held, would) = (line.grams?.likely(), line.pinned?);
    let (low, high) = (would.low().as_grams(), would.high().as_grams());
    let way = far(held.as_grams(), low, high)?;
    let fine = line.food.is_some_and(|f| is_fine(larder, f));
    let shown = |g: Mass| weight(g, fine);
    Some(doubt(
        &format!("{} of {}", shown(held), line.name),
        way,
        &shown(would.likely()),
    ))
}

/// The doubt that hydration or binder is held at what was not meant.
pub(in crate::rework) fn slip_of_figure(
    c: &ReworkedComponent,
    figure: &HeldFigure,
) -> Option<Doubt> {
    let (now, would) = match figure.what {
        HYDRATION => (c.reworked.hydration?.likely().get(), figure.would?),
        _ => (c.reworked.binder_percent(), figure.would?),
    };
    let way = far(now, would, would)?;
    Some(doubt(
        &format!("{} of {}", percent(now), figure.what),
        way,
        &percent(would),
    ))
}

#[cfg(test)]
mod tests {
    use super::far;

    /// Worked by hand: 5 × 517 is 2585, 261 ÷ 5 is 52.2.
    #[test]
    fn a_digit_too_many_or_too_few_is_far() {
        let milk = |held| far(held, 261.0, 517.0);
        assert_eq!(milk(99_999.0), Some("more"));
        assert_eq!(milk(2590.0), Some("more"));
        assert_eq!(milk(2580.0), None);
        assert_eq!(milk(60.0), None);
        assert_eq!(milk(37.0), Some("less"));
        // Left out is said by the baker in so many words.
        assert_eq!(milk(0.0), None);
        // What would not be there at all has no measure.
        assert_eq!(far(20.0, 0.0, 0.0), None);
    }
}
