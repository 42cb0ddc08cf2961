//! The calendar file of a plan: RFC 5545, an event for each task, with an alarm before its work
//! and one when its wait is over. Times are floating (section 3.3.5, form 1): those of the kitchen
//! clock, wherever the calendar is opened.
//!
//! Written here and not with a library: the one at hand folds lines at 76 octets where the
//! standard says 75, and counts letters where it means bytes.

use super::clock::Clock;
use super::words;
use jiff::Timestamp;
use quantity::{Locale, degrees_in};
use recipe::plan::{Ask, Plan, Row};

/// Minutes before work begins that an alarm goes.
const BEFORE: i32 = 5;
/// Octets of a line, its end left out (section 3.1).
const FOLD: usize = 75;

/// What the calendar of a plan is made of.
pub struct Calendar<'a> {
    /// What was planned.
    pub ask: &'a Ask,
    /// The plan.
    pub plan: &'a Plan,
    /// The kitchen's clock.
    pub clock: &'a Clock,
    /// What the calendar is called.
    pub name: &'a str,
    /// What keeps an event's identity from one export to the next, by batch: a day's or a recipe's
    /// own letters.
    pub of: &'a dyn Fn(usize) -> String,
    /// In whose degrees its words are.
    pub locale: Locale,
    /// The kitchen's own oven.
    pub oven: words::OwnOven<'a>,
}

impl Calendar<'_> {
    /// The file's text.
    ///
    /// # Arguments
    /// * `stamp` — when it is made.
    pub fn text(&self, stamp: Timestamp) -> String {
        let stamp = stamp.strftime("%Y%m%dT%H%M%SZ").to_string();
        let mut out = Lines(String::new());
        out.put("BEGIN", "VCALENDAR");
        out.put("VERSION", "2.0");
        out.put("PRODID", "-//unwheat//plan//EN");
        out.put("CALSCALE", "GREGORIAN");
        out.text("NAME", self.name);
        out.text("X-WR-CALNAME", self.name);
        for row in &self.plan.rows {
            self.event(&mut out, row, &stamp);
        }
        out.put("END", "VCALENDAR");
        out.0
    }

    fn event(&self, out: &mut Lines, row: &Row, stamp: &str) {
        let (ask, clock) = (self.ask, self.clock);
        let task = &ask.jobs[row.job].tasks.list[row.task];
        let at = |m: i32| clock.time(m).strftime("%Y%m%dT%H%M%S").to_string();
        let title = words::title(ask, row);
        let told = words::described(ask, self.plan, clock, row, self.oven);
        out.put("BEGIN", "VEVENT");
        out.put(
            "UID",
            &format!(
                "{}-{}-{}-{}@unwheat",
                plain(&(self.of)(row.job)),
                clock.time(self.plan.ready[row.job]).strftime("%Y%m%d"),
                row.job + 1,
                plain(&task.key)
            ),
        );
        out.put("DTSTAMP", stamp);
        out.put("DTSTART", &at(row.start));
        out.put("DTEND", &at(row.end.max(row.start + 1)));
        out.text("SUMMARY", &title);
        out.text("DESCRIPTION", &degrees_in(&told, self.locale));
        // Nobody is busy while a dough rises.
        let busy = row.work_end - row.start >= row.end - row.work_end;
        out.put("TRANSP", if busy { "OPAQUE" } else { "TRANSPARENT" });
        if row.work_end > row.start {
            // Nobody is woken: in quiet hours the alarm goes when the work begins.
            let asleep = |m: i32| ask.quiet.iter().any(|q| q.from <= m && m < q.to);
            if asleep(row.start - BEFORE) {
                alarm(out, &format!("{title}: begins"), "PT0M", "START");
            } else {
                let begin = format!("{title}: begins in {BEFORE} minutes");
                alarm(out, &begin, &format!("-PT{BEFORE}M"), "START");
            }
        }
        if row.end > row.work_end {
            alarm(out, &format!("{title}: time is up"), "PT0M", "END");
        }
        out.put("END", "VEVENT");
    }
}

fn alarm(out: &mut Lines, words: &str, trigger: &str, related: &str) {
    out.put("BEGIN", "VALARM");
    out.put("ACTION", "DISPLAY");
    out.put(&format!("TRIGGER;RELATED={related}"), trigger);
    out.text("DESCRIPTION", words);
    out.put("END", "VALARM");
}

/// A key with letters, digits and hyphens only.
fn plain(key: &str) -> String {
    key.chars()
        .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
        .collect()
}

/// Content lines, folded.
struct Lines(String);

impl Lines {
    /// A value of text, escaped (section 3.3.11).
    fn text(&mut self, name: &str, value: &str) {
        let mut escaped = String::with_capacity(value.len() + 8);
        for c in value.chars() {
            match c {
                '\\' => escaped.push_str("\\\\"),
                ';' => escaped.push_str("\\;"),
                ',' => escaped.push_str("\\,"),
                '\n' => escaped.push_str("\\n"),
                c if c.is_control() => {}
                c => escaped.push(c),
            }
        }
        self.put(name, &escaped);
    }

    /// A line as it is, folded at 75 octets, never within a letter (section 3.1).
    fn put(&mut self, name: &str, value: &str) {
        let mut used = 0;
        for c in name.chars().chain([':']).chain(value.chars()) {
            if used + c.len_utf8() > FOLD {
                self.0.push_str("\r\n ");
                used = 1;
            }
            self.0.push(c);
            used += c.len_utf8();
        }
        self.0.push_str("\r\n");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 5545, sections 3.1 and 3.3.11.
    #[test]
    fn lines_are_folded_and_text_is_escaped() {
        let mut lines = Lines(String::new());
        let words = "Crème fraîche, œufs; \\ and\nso on ".repeat(9);
        lines.text("DESCRIPTION", &words);
        let folded = lines.0;
        for line in folded.split("\r\n") {
            assert!(line.len() <= FOLD, "{}: {line}", line.len());
        }
        let whole = folded.replace("\r\n ", "");
        assert!(whole.starts_with("DESCRIPTION:Crème fraîche\\, œufs\\; \\\\ and\\nso on"));
        assert!(whole.ends_with("\r\n") && !whole.trim_end().contains('\n'));
    }
}
