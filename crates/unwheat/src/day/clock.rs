//! Minutes of a plan and times of day. Minute 0 is the midnight before now, by this machine's
//! clock; hours are those a kitchen clock shows.

use jiff::Span;
use jiff::civil::{Date, DateTime, Time};
use jiff::tz::TimeZone;

/// A day has so many minutes.
pub const DAY: i32 = 1440;

/// The clock of a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Clock {
    today: Date,
    now: i32,
}

/// Quiet hours: minutes after midnight, from and to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Night {
    /// From.
    pub from: i32,
    /// To; before `from` where they pass midnight, equal where there are none.
    pub to: i32,
}

impl Night {
    /// As settings keep it: `22:00-07:00`, or empty for none.
    pub fn words(self) -> String {
        if self.from == self.to {
            return "none".to_owned();
        }
        let of = |m: i32| format!("{:02}:{:02}", m / 60, m % 60);
        format!("{}-{}", of(self.from), of(self.to))
    }

    /// Reads `22:00-07:00`; `none` for no quiet hours.
    ///
    /// # Errors
    /// What was expected.
    pub fn read(text: &str) -> Result<Self, String> {
        let text = text.trim();
        if text.is_empty() || text.eq_ignore_ascii_case("none") {
            return Ok(Self { from: 0, to: 0 });
        }
        let parts = text.split_once(['-', '–']);
        let both = parts.and_then(|(a, b)| Some((of_day(a)?, of_day(b)?)));
        both.map(|(from, to)| Self { from, to }).ok_or_else(|| {
            format!("'{text}' are no hours: write them as in 22:00-07:00, or 'none'")
        })
    }
}

/// Minutes after midnight of `9:00`, `09.00`, `21:30`.
pub fn of_day(text: &str) -> Option<i32> {
    let (h, m) = text.trim().split_once([':', '.'])?;
    let (h, m): (i32, i32) = (h.parse().ok()?, m.parse().ok()?);
    ((0..24).contains(&h) && (0..60).contains(&m) && !text.trim().starts_with('-'))
        .then_some(h * 60 + m)
}

/// What is said of a day that is written well and that no calendar has: 'February 2026 has 28 days'.
fn no_such_day(text: &str) -> Option<String> {
    let date = text.split_whitespace().next()?;
    let figures: Vec<i16> = date.split('-').map_while(|f| f.parse().ok()).collect();
    let [year, month, day] = figures[..] else {
        return None;
    };
    let month_has = |month: i16| {
        let first = jiff::civil::Date::new(year, i8::try_from(month).ok()?, 1).ok()?;
        Some((first.strftime("%B %Y").to_string(), first.days_in_month()))
    };
    match month_has(month) {
        None => Some(format!("there is no day {date}: months are 01 to 12")),
        Some((name, days)) if !(1..=i16::from(days)).contains(&day) => {
            Some(format!("there is no day {date}: {name} has {days} days"))
        }
        Some(_) => None,
    }
}

impl Clock {
    /// At a moment of this machine, in seconds of Unix time.
    pub fn at(seconds: i64) -> Self {
        let time = jiff::Timestamp::from_second(seconds).unwrap_or(jiff::Timestamp::UNIX_EPOCH);
        Self::civil(time.to_zoned_datetime(TimeZone::system()).datetime())
    }

    /// At a time on the kitchen's clock.
    pub fn civil(now: DateTime) -> Self {
        Self {
            today: now.date(),
            now: i32::from(now.hour()) * 60 + i32::from(now.minute()),
        }
    }

    /// The minute it is.
    pub fn now(&self) -> i32 {
        self.now
    }

    /// The date and time of a minute.
    pub fn time(&self, minute: i32) -> DateTime {
        let start = self.today.to_datetime(Time::midnight());
        start
            .checked_add(Span::new().minutes(i64::from(minute)))
            .unwrap_or(start)
    }

    /// A minute as Unix seconds, by this machine's zone.
    pub fn unix(&self, minute: i32) -> i64 {
        let at = TimeZone::system().to_ambiguous_zoned_datetime(self.time(minute));
        at.compatible().map_or(0, |z| z.timestamp().as_second())
    }

    /// The minute of a date and time; `None` where it is too far off to plan.
    pub fn minute(&self, at: DateTime) -> Option<i32> {
        let start = self.today.to_datetime(Time::midnight());
        let span = at.since((jiff::Unit::Minute, start)).ok()?;
        i32::try_from(span.get_minutes())
            .ok()
            .filter(|m| m.abs() < 40 * DAY)
    }

    /// Reads a serving time: `2026-11-30 09:00`, also with a `T`; `09:00` alone is the next one to
    /// come.
    ///
    /// # Errors
    /// What was expected.
    pub fn read(&self, text: &str) -> Result<i32, String> {
        let text = text.trim();
        if let Some(m) = of_day(text) {
            return Ok(if m > self.now { m } else { m + DAY });
        }
        let plain = text.replace('T', " ");
        let read = DateTime::strptime("%Y-%m-%d %H:%M", &plain)
            .or_else(|_| DateTime::strptime("%Y-%m-%d %H:%M:%S", &plain));
        let at = read.map_err(|_| match no_such_day(&plain) {
            Some(why) => why,
            None => format!(
                "'{text}' is no time: write it as in 2026-11-30 09:00, or 09:00 for the next one"
            ),
        })?;
        self.minute(at).ok_or_else(|| {
            if at < self.time(self.now) {
                format!("{text} is past: give a time to come")
            } else {
                format!("{text} is more than a month away: plan it nearer the day")
            }
        })
    }

    /// Reads when something began: `2026-11-30 09:00`, also with a `T`; `09:00` alone is the last one, but not
    /// where that is most of a day ago: then it may be meant to come.
    ///
    /// # Errors
    /// What was expected; a time to come.
    pub fn since(&self, text: &str) -> Result<i32, String> {
        /// An hour that comes within so many minutes is not taken for yesterday's.
        const SOON: i32 = 6 * 60;
        if let Some(m) = of_day(text) {
            if (self.now + 1..=self.now + SOON).contains(&m) {
                return Err(format!(
                    "{} is to come: it is {} now\n  give an hour that is past; if yesterday's is meant, write '{}'",
                    text.trim(),
                    self.hour(self.now),
                    self.field(m - DAY).replace('T', " ")
                ));
            }
            return Ok(if m <= self.now { m } else { m - DAY });
        }
        let at = self.read(text)?;
        if at > self.now {
            return Err(format!(
                "{} is to come\n  say when the step began",
                text.trim()
            ));
        }
        Ok(at)
    }

    /// The minute of a time that was kept, as [`Clock::field`] writes it, however long ago.
    pub fn kept(&self, text: &str) -> Option<i32> {
        let at = DateTime::strptime("%Y-%m-%dT%H:%M", text).ok()?;
        let start = self.today.to_datetime(Time::midnight());
        let span = at.since((jiff::Unit::Minute, start)).ok()?;
        i32::try_from(span.get_minutes()).ok()
    }

    /// A minute as people say it: `Mon 30 Nov 09:00`.
    pub fn words(&self, minute: i32) -> String {
        self.time(minute).strftime("%a %-d %b %H:%M").to_string()
    }

    /// The hour alone: `09:00`.
    pub fn hour(&self, minute: i32) -> String {
        self.time(minute).strftime("%H:%M").to_string()
    }

    /// The hour of a minute, with its day where that is another than that of the minute beside it.
    pub fn beside(&self, minute: i32, other: i32) -> String {
        if self.day(minute) == self.day(other) {
            self.hour(minute)
        } else {
            self.words(minute)
        }
    }

    /// The day alone: `Monday 30 November 2026`.
    pub fn day(&self, minute: i32) -> String {
        self.time(minute).strftime("%A %-d %B %Y").to_string()
    }

    /// As a form's `datetime-local` field has it.
    pub fn field(&self, minute: i32) -> String {
        self.time(minute).strftime("%Y-%m-%dT%H:%M").to_string()
    }

    /// That clocks are changed between two minutes, in this machine's zone.
    pub fn changes(&self, from: i32, to: i32) -> bool {
        let zone = TimeZone::system();
        let offset = |m: i32| {
            zone.to_ambiguous_zoned_datetime(self.time(m))
                .compatible()
                .map(|z| z.offset())
                .ok()
        };
        offset(from) != offset(to)
    }
}

/// What is said where clocks are changed within a plan.
pub const CHANGED: &str = "The clocks are changed within this plan. Times are those of the kitchen clock: a wait that runs through the change is an hour longer or shorter than it says.";

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn times_are_read_as_people_write_them() {
        let clock = Clock::civil(date(2026, 11, 29).at(16, 56, 0, 0));
        for (text, want) in [
            ("2026-11-30 09:00", 1440 + 540),
            ("2026-11-30T09:00", 1440 + 540),
            ("2026-11-30T09:00:00", 1440 + 540),
            ("09:00", 1440 + 540),
            ("17:00", 17 * 60),
            ("9.30", 1440 + 570),
            ("2026-11-28 12:00", -720),
        ] {
            assert_eq!(clock.read(text), Ok(want), "{text}");
        }
        for bad in [
            "",
            "soon",
            "25:00",
            "09:60",
            "-1:00",
            "2026-13-01 09:00",
            "2030-01-01 09:00",
        ] {
            assert!(clock.read(bad).is_err(), "{bad}");
        }
        for (text, why) in [
            ("2025-11-30 09:00", "is past"),
            ("2027-11-30 09:00", "more than a month away"),
            (
                "2026-02-31 18:00",
                "there is no day 2026-02-31: February 2026 has 28 days",
            ),
            ("2026-04-00T18:00", "April 2026 has 30 days"),
            ("2026-13-01 09:00", "months are 01 to 12"),
        ] {
            let told = clock.read(text).expect_err("too far");
            assert!(told.contains(why), "{told}");
        }
        for (text, want) in [
            ("09:00", 540),
            ("16:56", 16 * 60 + 56),
            ("23:00", 23 * 60 - 1440),
            ("2026-11-29 09:00", 540),
        ] {
            assert_eq!(clock.since(text), Ok(want), "{text}");
        }
        let told = clock.since("2026-11-30 09:00").expect_err("to come");
        assert!(told.contains("is to come"), "{told}");
        // At 16:56 a step is not begun at 17:00; yesterday's is written with its day.
        let told = clock.since("17:00").expect_err("in four minutes");
        assert!(
            told.contains("it is 16:56 now") && told.contains("'2026-11-28 17:00'"),
            "{told}"
        );
        assert_eq!(clock.since("2026-11-28 17:00"), Ok(17 * 60 - 1440));
        assert_eq!(clock.words(1440 + 540), "Mon 30 Nov 09:00");
        assert_eq!(clock.field(-720), "2026-11-28T12:00");
        for minute in [-720, 0, 1980, -900_000] {
            assert_eq!(clock.kept(&clock.field(minute)), Some(minute));
        }
        assert_eq!(clock.kept("soon"), None);
    }

    #[test]
    fn quiet_hours_are_read() {
        let night = |t: &str| Night::read(t).map(|n| (n.from, n.to));
        assert_eq!(night("22:00-07:00"), Ok((1320, 420)));
        assert_eq!(night("1:00 – 5:30"), Ok((60, 330)));
        assert_eq!(night("none"), Ok((0, 0)));
        for bad in ["22-7", "22:00", "late", "22:00-24:30"] {
            assert!(night(bad).is_err(), "{bad}");
        }
        assert_eq!(
            Night::read("22:00-07:00").expect("hours").words(),
            "22:00-07:00"
        );
    }
}
