//! A component's make-up before and after.

use maud::{Markup, html};
use recipe::household::percent_figure;

use super::Parts;
use super::svg::{
    Frame, Hang, SMALL, WIDTH, at, figure_width, known, line, name, percent, rect, text, width,
};

/// The range that a style gives for one part, percent of the flour phase.
#[derive(Debug, Clone, PartialEq)]
pub struct Range {
    /// The part's name, as in [`Parts`].
    pub part: String,
    /// Its lower end.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
}

/// From where to where marks are drawn; names to the left, figures to the right.
const TRACK: (f64, f64) = (96.0, 262.0);
const BEFORE: f64 = 310.0;
const HEAD: f64 = 26.0;
const ROW: f64 = 44.0;

struct Row<'a> {
    name: &'a str,
    before: Option<f64>,
    after: Option<f64>,
    range: Option<(f64, f64)>,
}

impl Row<'_> {
    /// The end of the row's own scale.
    fn top(&self) -> f64 {
        let ends = [self.before, self.after, self.range.map(|r| r.1)];
        ends.into_iter().flatten().fold(0.0, f64::max).max(0.01) * 1.06
    }

    fn x(&self, value: f64) -> f64 {
        TRACK.0 + (TRACK.1 - TRACK.0) * (value / self.top()).clamp(0.0, 1.0)
    }

    /// Where the new figure lies outside its range.
    fn outside(&self) -> Option<&'static str> {
        let (after, (low, high)) = (self.after?, self.range?);
        if after < low - 0.05 {
            Some("below range")
        } else if after > high + 0.05 {
            Some("above range")
        } else {
            None
        }
    }

    fn words(&self) -> String {
        let value = |v: Option<f64>| v.map_or("not known".to_owned(), percent);
        let mut words = format!(
            "{}: before {}, after {}",
            self.name,
            value(self.before),
            value(self.after)
        );
        if let Some((low, high)) = self.range {
            words += &format!(", range {} to {}", percent_figure(low), percent(high));
        }
        if let Some(outside) = self.outside() {
            words += &format!(" ({outside})");
        }
        words
    }
}

fn rows<'a>(before: &'a Parts, after: &'a Parts, ranges: &[Range]) -> Vec<Row<'a>> {
    let mut names: Vec<&str> = Vec::new();
    for share in before.shares.iter().chain(&after.shares) {
        if !names.contains(&share.name.as_str()) {
            names.push(&share.name);
        }
    }
    let value = |of: &Parts, name: &str| match of.shares.iter().find(|s| s.name == name) {
        Some(share) => known(share.amount),
        None => Some(0.0),
    };
    names
        .into_iter()
        .map(|name| Row {
            name,
            before: value(before, name),
            after: value(after, name),
            range: ranges.iter().find(|r| r.part == name).and_then(|r| {
                let (low, high) = (known(r.low)?, known(r.high)?);
                (high >= low && high > 0.0).then_some((low, high))
            }),
        })
        .filter(|row| {
            let some = |v: Option<f64>| v.is_some_and(|v| v >= 0.005);
            some(row.before) || some(row.after) || row.range.is_some()
        })
        .collect()
}

/// A component's make-up before (open mark) and after (filled), in percent of its flours and
/// starches: a row for each part, each on its own scale from nothing, with the style's range.
pub fn balance(id: &str, before: &Parts, after: &Parts, ranges: &[Range]) -> Markup {
    let rows = rows(before, after, ranges);
    if rows.is_empty() {
        return html! {};
    }
    let said: Vec<String> = rows.iter().map(Row::words).collect();
    let desc = format!(
        "In percent of the flours and starches. {}.",
        said.join("; ")
    );
    let first_range = rows.iter().position(|r| r.range.is_some());
    let mut y = HEAD;
    let mut body = Vec::new();
    for (i, row) in rows.iter().enumerate() {
        let middle = y + 16.0;
        body.push(html! {
            (line("pic-rule", (0.0, y), (WIDTH, y)))
            (name(0.0, middle + 4.5, TRACK.0 - 12.0, row.name))
            (line("pic-axis", (TRACK.0, middle), (TRACK.1, middle)))
            (line("pic-leader", (TRACK.0, middle - 4.0), (TRACK.0, middle + 4.0)))
            @if let Some(range) = row.range { (band(row, range, middle, first_range == Some(i))) }
            (marks(row, middle))
            (value(row.before, BEFORE, middle + 4.5, "pic-figure"))
            (value(row.after, WIDTH, middle + 4.5, "pic-figure pic-strong"))
            @if let Some(outside) = row.outside() {
                (text("pic-warn", WIDTH, middle + 20.0, Hang::End, outside))
            }
        });
        y += if row.range.is_some() { ROW } else { ROW - 12.0 };
    }
    Frame {
        id,
        kind: "balance",
        height: y + 22.0,
        title: "Make-up before and after",
        desc: &desc,
    }
    .draw(&html! {
        (text("pic-small", 0.0, 14.0, Hang::Start, "% of flours and starches"))
        circle.pic-open cx=(at(BEFORE - 44.0)) cy="10" r="4" {}
        (text("pic-small", BEFORE, 14.0, Hang::End, "before"))
        circle.pic-full cx=(at(WIDTH - 33.0)) cy="10" r="4" {}
        (text("pic-small", WIDTH, 14.0, Hang::End, "after"))
        @for row in body { (row) }
        (line("pic-rule", (0.0, y), (WIDTH, y)))
        (text("pic-small", 0.0, y + 17.0, Hang::Start, "each row from 0, on its own scale"))
    })
}

fn value(of: Option<f64>, x: f64, y: f64, class: &str) -> Markup {
    text(
        class,
        x,
        y,
        Hang::End,
        &of.map_or("?".to_owned(), percent_figure),
    )
}

/// The style's range: a pale band with its ends, and their figures under them.
fn band(row: &Row, (low, high): (f64, f64), middle: f64, first: bool) -> Markup {
    let (from, to) = (row.x(low), row.x(high));
    let base = middle + 20.0;
    let (lows, highs) = (percent_figure(low), percent_figure(high));
    let (wl, wh) = (figure_width(&lows, SMALL), figure_width(&highs, SMALL));
    let apart = to - from > (wl + wh) / 2.0 + 10.0;
    let (left, right) = if apart {
        (from - wl / 2.0, to + wh / 2.0)
    } else {
        let half = figure_width(&format!("{lows}–{highs}"), SMALL) / 2.0;
        let centre = ((from + to) / 2.0).max(TRACK.0 + half);
        (centre - half, centre + half)
    };
    let word = "range";
    let long = width(word, SMALL);
    let room = WIDTH - row.outside().map_or(0.0, |o| width(o, SMALL) + 8.0);
    html! {
        (rect("pic-band", from, middle - 8.0, to - from, 16.0))
        (line("pic-end", (from, middle - 8.0), (from, middle + 8.0)))
        (line("pic-end", (to, middle - 8.0), (to, middle + 8.0)))
        @if apart {
            (text("pic-figure pic-soft", from, base, Hang::Middle, &lows))
            (text("pic-figure pic-soft", to, base, Hang::Middle, &highs))
        } @else {
            (text("pic-figure pic-soft", (left + right) / 2.0, base, Hang::Middle,
                &format!("{lows}–{highs}")))
        }
        @if first {
            @if apart && to - from > (wl + wh) / 2.0 + long + 12.0 {
                (text("pic-small", (left + wl + right - wh) / 2.0, base, Hang::Middle, word))
            } @else if right + 6.0 + long < room {
                (text("pic-small", right + 6.0, base, Hang::Start, word))
            } @else {
                (text("pic-small", left - 6.0, base, Hang::End, word))
            }
        }
    }
}

/// Open mark, arrow, filled mark.
fn marks(row: &Row, middle: f64) -> Markup {
    let (before, after) = (row.before.map(|v| row.x(v)), row.after.map(|v| row.x(v)));
    html! {
        @if let (Some(b), Some(a)) = (before, after) {
            @let way = (a - b).signum();
            @if (a - b).abs() > 11.0 {
                (line("pic-arrow", (b + way * 4.5, middle), (a - way * 6.0, middle)))
            }
            @if (a - b).abs() > 16.0 {
                @let tip = a - way * 5.0;
                path.pic-head d={
                    "M" (at(tip)) " " (at(middle)) "l" (at(-way * 6.0)) " -3.5v7z"
                } {}
            }
        }
        // Drawn last, the open mark is seen round the filled one where both are the same.
        @if let Some(a) = after { circle.pic-full cx=(at(a)) cy=(at(middle)) r="4" {} }
        @if let Some(b) = before {
            @let same = after.is_some_and(|a| (a - b).abs() < 5.0);
            circle class=(if same { "pic-ring" } else { "pic-open" })
                cx=(at(b)) cy=(at(middle)) r=(if same { "6.5" } else { "4" }) {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::Share;
    use super::*;

    fn parts(shares: &[(&str, f64)]) -> Parts {
        Parts {
            shares: shares.iter().map(|&(n, a)| Share::new(n, a)).collect(),
        }
    }

    fn range(part: &str, low: f64, high: f64) -> Range {
        Range {
            part: part.to_owned(),
            low,
            high,
        }
    }

    #[test]
    fn says_both_figures_and_the_range() {
        let (before, after) = (
            parts(&[("water", 62.0)]),
            parts(&[("water", 96.4), ("binder", 4.5)]),
        );
        let drawn = balance("b", &before, &after, &[range("water", 85.0, 105.0)]).into_string();
        let said = "water: before 62\u{a0}%, after 96\u{a0}%, range 85 to 105\u{a0}%; \
                    binder: before 0\u{a0}%, after 4.5\u{a0}%.";
        assert!(drawn.contains(said), "{drawn}");
        assert_eq!(drawn.matches("pic-full").count(), 3, "{drawn}");
    }

    #[test]
    fn says_in_words_where_a_figure_is_outside_its_range() {
        let after = parts(&[("water", 120.0)]);
        let drawn = balance("b", &after, &after, &[range("water", 85.0, 105.0)]).into_string();
        assert_eq!(drawn.matches("above range").count(), 2, "{drawn}");
    }

    #[test]
    fn an_unknown_figure_has_no_mark() {
        let (before, after) = (parts(&[("fat", f64::NAN)]), parts(&[("fat", 8.0)]));
        let drawn = balance("b", &before, &after, &[]).into_string();
        assert!(
            drawn.contains("fat: before not known, after 8\u{a0}%"),
            "{drawn}"
        );
        assert_eq!(
            drawn.matches("pic-open").count(),
            1,
            "only the one in the head: {drawn}"
        );
    }

    #[test]
    fn a_range_that_is_none_is_left_out() {
        let p = parts(&[("fat", 8.0)]);
        for (low, high) in [(f64::NAN, 3.0), (9.0, 3.0), (0.0, 0.0)] {
            let drawn = balance("b", &p, &p, &[range("fat", low, high)]).into_string();
            assert!(!drawn.contains("pic-band"), "{drawn}");
        }
    }
}
