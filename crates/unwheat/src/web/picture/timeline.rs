//! A timeline: a bar for each step, its work solid, its wait washed, over the hours.

use super::svg::{
    Fill, Frame, Hang, SMALL, WIDTH, filled, hatches, line, listed, name, rect, text,
};
use maud::{Markup, html};

/// A step on a timeline, minutes on any axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// What is done.
    pub name: String,
    /// Its work begins.
    pub start: i32,
    /// Its work ends.
    pub work_end: i32,
    /// Its wait ends.
    pub end: i32,
    /// It waits in the oven.
    pub hot: bool,
    /// It waits in the cold.
    pub cold: bool,
}

/// Height of a step.
const ROW: f64 = 30.0;
/// Height of its bar.
const THICK: f64 = 10.0;
/// Above the first step.
const HEAD: f64 = 24.0;
/// Hours without work that are longer than this are drawn shorter, in minutes.
const LONG: i32 = 180;
/// So long are they drawn.
const SHORT: f64 = 60.0;

/// Minutes of the axis, with long stretches in which nobody works and nothing bakes drawn short.
struct Axis {
    /// Breaks: from, to.
    breaks: Vec<(i32, i32)>,
    start: i32,
    scale: f64,
}

impl Axis {
    fn of(bars: &[Bar]) -> Self {
        let mut busy: Vec<(i32, i32)> = bars
            .iter()
            .flat_map(|b| {
                let hot = (b.work_end, if b.hot { b.end } else { b.work_end });
                [(b.start, b.work_end), hot, (b.end, b.end)]
            })
            .collect();
        busy.sort_unstable();
        let start = busy.first().map_or(0, |b| b.0);
        let (mut until, mut breaks) = (start, Vec::new());
        for (from, to) in busy {
            if from - until > LONG {
                breaks.push((until + 30, from - 30));
            }
            until = until.max(to);
        }
        let mut axis = Self {
            breaks,
            start,
            scale: 1.0,
        };
        let whole = axis.along(until).max(1.0);
        axis.scale = WIDTH / whole;
        axis
    }

    /// Minutes along the drawing.
    fn along(&self, minute: i32) -> f64 {
        let mut sum = f64::from(minute - self.start);
        for &(from, to) in &self.breaks {
            let inside = f64::from((minute.min(to) - from).max(0));
            let whole = f64::from(to - from);
            sum -= inside * (1.0 - SHORT / whole);
        }
        sum
    }

    fn x(&self, minute: i32) -> f64 {
        self.along(minute) * self.scale
    }
}

/// The timeline.
///
/// # Arguments
/// * `clock` — a minute as people say it: `09:00`.
pub fn timeline(id: &str, bars: &[Bar], clock: &dyn Fn(i32) -> String) -> Markup {
    let (Some(first), Some(last)) = (
        bars.iter().map(|b| b.start).min(),
        bars.iter().map(|b| b.end).max(),
    ) else {
        return html! {};
    };
    let axis = Axis::of(bars);
    let height = HEAD + ROW * bars.len() as f64 + 4.0;
    let desc: Vec<String> = bars
        .iter()
        .map(|b| format!("{} from {} to {}", b.name, clock(b.start), clock(b.end)))
        .collect();
    let fills = [Fill::Solid, Fill::Wash, Fill::Slant, Fill::Dots];
    let body = html! {
        (hatches(id, fills))
        (text("pic-figure", 0.0, SMALL, Hang::Start, &clock(first)))
        (text("pic-figure", WIDTH, SMALL, Hang::End, &clock(last)))
        @for (from, to) in &axis.breaks {
            @let middle = f64::midpoint(axis.x(*from), axis.x(*to));
            (rect("pic-band", axis.x(*from), HEAD - 4.0, axis.x(*to) - axis.x(*from), height - HEAD))
            @if middle > 60.0 && middle < WIDTH - 60.0 {
                (text("pic-small", middle, SMALL, Hang::Middle, &format!("{} h", (to - from + 30) / 60)))
            }
        }
        @for (i, b) in bars.iter().enumerate() {
            @let y = HEAD + ROW * i as f64;
            @let (a, w, e) = (axis.x(b.start), axis.x(b.work_end), axis.x(b.end));
            (name(0.0, y + 12.0, WIDTH - 48.0, &b.name))
            (text("pic-figure", WIDTH, y + 12.0, Hang::End, &clock(b.start)))
            @if e - w > 0.2 {
                @let fill = if b.hot { Fill::Slant } else if b.cold { Fill::Dots } else { Fill::Wash };
                (filled(id, fill, w, y + 16.0, e - w, THICK))
            }
            @if b.work_end > b.start {
                (filled(id, Fill::Solid, a, y + 16.0, (w - a).max(1.5), THICK))
            }
        }
        (line("pic-axis", (0.0, HEAD - 6.0), (WIDTH, HEAD - 6.0)))
    };
    Frame {
        id,
        kind: "timeline",
        height,
        title: &format!("The steps from {} to {}", clock(first), clock(last)),
        desc: &format!("{}.", listed(&desc)),
    }
    .draw(&body)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bar(name: &str, start: i32, work_end: i32, end: i32) -> Bar {
        Bar {
            name: name.to_owned(),
            start,
            work_end,
            end,
            hot: false,
            cold: false,
        }
    }

    #[test]
    fn a_night_is_drawn_short_and_order_stays() {
        let bars = [
            bar("Mix", 0, 10, 10),
            bar("Chill", 10, 12, 700),
            bar("Shape", 700, 715, 715),
        ];
        let axis = Axis::of(&bars);
        assert_eq!(axis.breaks.len(), 1);
        let mut last = -1.0;
        for m in (0..=715).step_by(5) {
            let x = axis.x(m);
            assert!(x > last && (0.0..=WIDTH + 0.01).contains(&x), "{m}: {x}");
            last = x;
        }
        let drawn = timeline("t", &bars, &|m| format!("{m}")).into_string();
        for b in &bars {
            assert!(drawn.contains(&b.name));
        }
        assert!(drawn.contains("<title") && drawn.contains("<desc"));
        assert!(!drawn.contains("NaN"));
        assert_eq!(timeline("t", &[], &|m| m.to_string()).into_string(), "");
    }
}
