//! Days between dates of the calendar.

/// Days from a date to another, both `2026-11-29`; `None` where one is no date.
///
/// # Source
/// Count of days in the proleptic Gregorian calendar, after H. Hinnant, 'chrono-compatible
/// low-level date algorithms' (days_from_civil), from memory; checked against dates in the tests.
#[must_use]
pub fn age(date: &str, today: &str) -> Option<i64> {
    Some(number(today)? - number(date)?)
}

fn number(date: &str) -> Option<i64> {
    if !larder::is_day(date) {
        return None;
    }
    let part = |from: usize, to: usize| date.get(from..to)?.parse::<i64>().ok();
    let (y, m, d) = (part(0, 4)?, part(5, 7)?, part(8, 10)?);
    let y = if m <= 2 { y - 1 } else { y };
    let era = y.div_euclid(400);
    let of_era = y - era * 400;
    let of_year = (153 * (m + if m > 2 { -3 } else { 9 }) + 2) / 5 + d - 1;
    Some(era * 146_097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_of_the_calendar() {
        // Python's datetime.date, run 2026-11-29.
        for (from, to, days) in [
            ("2026-11-25", "2026-11-29", 4),
            ("2026-02-28", "2026-03-01", 1),
            ("2024-02-28", "2024-03-01", 2),
            ("2025-11-29", "2026-11-29", 365),
            ("2000-01-01", "2026-11-29", 9_829),
            ("2026-11-29", "2026-11-25", -4),
        ] {
            assert_eq!(age(from, to), Some(days), "{from} {to}");
        }
        assert_eq!(age("yesterday", "2026-11-29"), None);
    }
}
