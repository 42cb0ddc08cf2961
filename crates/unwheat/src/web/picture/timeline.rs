//! A timeline: a bar for each step, its work solid, its wait washed, over the hours.

use super::svg::{
    Fill, Frame, Hang, NAME, SMALL, WIDTH, filled, folded, hatches, line, name, rect, text,
};
use maud::{Markup, html};
use quantity::listed;

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
    /// The recipe it is of, where there are several.
    pub of: String,
}

/// What several recipes share: when it is in use.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lane {
    /// What: the hands, the oven, the mixer.
    pub name: String,
    /// From, to.
    pub used: Vec<(i32, i32)>,
    /// It is the oven.
    pub hot: bool,
    /// It is the cold.
    pub cold: bool,
}

/// Height of a step.
const ROW: f64 = 30.0;
/// A further line of a step's name.
const FOLD: f64 = 15.0;
/// Room for the names of steps, beside their hours.
const NAMES: f64 = WIDTH - 48.0;
/// Height of its bar.
const THICK: f64 = 10.0;
/// Above the first step.
const HEAD: f64 = 24.0;
/// Hours without work that are longer than this are drawn shorter, in minutes.
const LONG: i32 = 180;
/// So long are they drawn.
const SHORT: f64 = 60.0;

/// A label of an hour takes so much of the width.
const LABEL: f64 = 42.0;
/// Hours are named every so many minutes.
const EVERY: [i32; 7] = [15, 30, 60, 120, 180, 360, 720];

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

    /// The middle of a stretch that is drawn short, where its hours can be named.
    fn middle(&self, (from, to): (i32, i32)) -> Option<f64> {
        let middle = f64::midpoint(self.x(from), self.x(to));
        (60.0..WIDTH - 60.0).contains(&middle).then_some(middle)
    }

    /// Round hours to name between the first minute and the last, as close as they can be read;
    /// none within what is drawn short, where the hours do not stand even.
    fn hours(&self, last: i32) -> Vec<i32> {
        let short = |m: i32| {
            self.breaks
                .iter()
                .any(|(from, to)| (*from..*to).contains(&m))
        };
        let apart = f64::from(LABEL as i32) / self.scale;
        let every = EVERY.into_iter().find(|e| f64::from(*e) >= apart);
        let every = every.unwrap_or(1440);
        let middles: Vec<f64> = self.breaks.iter().filter_map(|b| self.middle(*b)).collect();
        let from = self.start.div_euclid(every) + 1;
        let mut out: Vec<i32> = Vec::new();
        let mut taken = LABEL - LABEL / 2.0;
        for m in (from..).map(|n| n * every).take_while(|m| *m < last) {
            let x = self.x(m);
            let clear = x - taken >= LABEL && WIDTH - LABEL / 2.0 - x >= LABEL;
            if !short(m) && clear && middles.iter().all(|b| (b - x).abs() >= LABEL * 0.8) {
                out.push(m);
                taken = x;
            }
        }
        out
    }
}

/// A line of the drawing.
enum Drawn<'a> {
    Head(&'a str),
    Step(&'a Bar),
    Lane(&'a Lane),
}

impl Drawn<'_> {
    fn height(&self) -> f64 {
        match self {
            Self::Head(_) => 26.0,
            Self::Step(b) => ROW + FOLD * (folded(&b.name, NAME, NAMES).len().max(1) - 1) as f64,
            Self::Lane(_) => ROW,
        }
    }
}

/// What a stretch is filled with: hot, cold, or what is plain.
fn shade(hot: bool, cold: bool, plain: Fill) -> Fill {
    if hot {
        Fill::Slant
    } else if cold {
        Fill::Dots
    } else {
        plain
    }
}

/// The timeline: the steps, by recipe where they are of several, and what these share.
///
/// # Arguments
/// * `bars` — those of one recipe together.
/// * `now` — the minute it is, marked where it falls within.
/// * `clock` — a minute as people say it: `09:00`.
pub fn timeline(
    id: &str,
    bars: &[Bar],
    lanes: &[Lane],
    now: Option<i32>,
    clock: &dyn Fn(i32) -> String,
) -> Markup {
    let (Some(first), Some(last)) = (
        bars.iter().map(|b| b.start).min(),
        bars.iter().map(|b| b.end).max(),
    ) else {
        return html! {};
    };
    let axis = Axis::of(bars);
    let mut drawn = Vec::new();
    let mut of = "";
    for b in bars {
        if b.of != of {
            of = &b.of;
            drawn.push(Drawn::Head(of));
        }
        drawn.push(Drawn::Step(b));
    }
    let lanes: Vec<&Lane> = lanes.iter().filter(|l| !l.used.is_empty()).collect();
    if !lanes.is_empty() {
        drawn.push(Drawn::Head("Shared by all"));
        drawn.extend(lanes.iter().map(|l| Drawn::Lane(l)));
    }
    let height = HEAD + drawn.iter().map(Drawn::height).sum::<f64>() + 4.0;
    let named = |b: &Bar| {
        if b.of.is_empty() {
            b.name.clone()
        } else {
            format!("{}: {}", b.of, b.name)
        }
    };
    let between = |from: &str, a: i32, b: i32| match (clock(a), clock(b)) {
        (a, b) if a == b => format!("at {a}"),
        (a, b) => format!("{from}{a} to {b}"),
    };
    let mut desc: Vec<String> = bars
        .iter()
        .map(|b| format!("{} {}", named(b), between("from ", b.start, b.end)))
        .collect();
    for l in &lanes {
        let used: Vec<String> = l.used.iter().map(|(a, b)| between("", *a, *b)).collect();
        desc.push(format!("{} in use {}", l.name, listed(&used)));
    }
    let now = now.filter(|n| (first..=last).contains(n));
    let mut at = HEAD;
    let placed: Vec<(f64, &Drawn<'_>)> = drawn
        .iter()
        .map(|d| {
            let y = at;
            at += d.height();
            (y, d)
        })
        .collect();
    let fills = [Fill::Solid, Fill::Wash, Fill::Slant, Fill::Dots];
    let body = html! {
        (hatches(id, fills))
        (text("pic-figure", 0.0, SMALL, Hang::Start, &clock(first)))
        (text("pic-figure", WIDTH, SMALL, Hang::End, &clock(last)))
        @for (from, to) in &axis.breaks {
            (rect("pic-band", axis.x(*from), HEAD - 4.0, axis.x(*to) - axis.x(*from), height - HEAD))
            @if let Some(middle) = axis.middle((*from, *to)) {
                (text("pic-small", middle, SMALL, Hang::Middle, &format!("{} h", (to - from + 30) / 60)))
            }
        }
        @for hour in axis.hours(last) {
            (text("pic-figure", axis.x(hour), SMALL, Hang::Middle, &clock(hour)))
            (line("pic-rule", (axis.x(hour), HEAD - 6.0), (axis.x(hour), height)))
        }
        @for (y, d) in placed {
            @match d {
                Drawn::Head(words) => (text("pic-part", 0.0, y + 17.0, Hang::Start, words)),
                Drawn::Step(b) => {
                    @let (a, w, e) = (axis.x(b.start), axis.x(b.work_end), axis.x(b.end));
                    text.pic-name {
                        @for (n, words) in folded(&b.name, NAME, NAMES).iter().enumerate() {
                            @if n > 0 { " " }
                            tspan x="0" y=(super::svg::at(y + 12.0 + FOLD * n as f64)) { (words) }
                        }
                    }
                    (text("pic-figure", WIDTH, y + 12.0, Hang::End, &clock(b.start)))
                    @let y = y + d.height() - ROW;
                    @if e - w > 0.2 {
                        (filled(id, shade(b.hot, b.cold, Fill::Wash), w, y + 16.0, e - w, THICK))
                    }
                    @if b.work_end > b.start {
                        (filled(id, Fill::Solid, a, y + 16.0, (w - a).max(1.5), THICK))
                    }
                }
                Drawn::Lane(l) => {
                    @let fill = shade(l.hot, l.cold, Fill::Solid);
                    (name(0.0, y + 12.0, WIDTH, &l.name))
                    @for (a, b) in &l.used {
                        (filled(id, fill, axis.x(*a), y + 16.0, (axis.x(*b) - axis.x(*a)).max(1.5), THICK))
                    }
                }
            }
        }
        @if let Some(n) = now {
            (line("pic-now", (axis.x(n), HEAD - 6.0), (axis.x(n), height)))
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
            of: String::new(),
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
        let drawn = timeline("t", &bars, &[], None, &|m| format!("{m}")).into_string();
        for b in &bars {
            assert!(drawn.contains(&b.name));
        }
        assert!(drawn.contains("<title") && drawn.contains("<desc"));
        assert!(!drawn.contains("NaN"));
        assert_eq!(
            timeline("t", &[], &[], None, &|m| m.to_string()).into_string(),
            ""
        );
    }

    /// Worked by hand: 6 h 40 min on 360 units are 0.9 a minute, so that an hour takes 54 and is
    /// named every hour, but not upon the first or last label: 16:00 is at 360 and takes from 324 on.
    #[test]
    fn hours_are_named_where_they_can_be_read() {
        let day = [bar("Mix", 560, 760, 760), bar("Bake", 760, 960, 960)];
        assert_eq!(Axis::of(&day).hours(960), [660, 720, 780, 840]);
        let night = [bar("Mix", 1275, 1300, 1300), bar("Shape", 2100, 2400, 2400)];
        let axis = Axis::of(&night);
        let hours = axis.hours(2400);
        assert!(!hours.is_empty());
        for pair in hours.windows(2) {
            assert!(axis.x(pair[1]) - axis.x(pair[0]) >= LABEL, "{hours:?}");
        }
        let short = |m: &i32| axis.breaks.iter().any(|(a, b)| (a..b).contains(&m));
        assert!(hours.iter().all(|m| m % 60 == 0 && !short(m)), "{hours:?}");
        let drawn = timeline("t", &day, &[], None, &|m| {
            format!("{:02}:{:02}", m / 60, m % 60)
        });
        assert!(drawn.into_string().contains(">12:00<"));
    }

    #[test]
    fn recipes_stand_apart_and_what_they_share_below() {
        let of = |name: &str, recipe: &str, start| Bar {
            of: recipe.to_owned(),
            ..bar(name, start, start + 10, start + 40)
        };
        let bars = [
            of("Mix", "Buns", 0),
            of("Bake", "Buns", 40),
            of("Mix", "Cake", 20),
        ];
        let oven = Lane {
            name: "Oven".to_owned(),
            used: vec![(50, 80)],
            hot: true,
            cold: false,
        };
        let idle = Lane {
            name: "Mixer".to_owned(),
            ..Lane::default()
        };
        let drawn = timeline("t", &bars, &[oven, idle], Some(30), &|m| m.to_string());
        let drawn = drawn.into_string();
        assert_eq!(drawn.matches("pic-part").count(), 3);
        assert!(drawn.contains("Cake: Mix from 20 to 60"), "{drawn}");
        assert!(drawn.contains("Oven in use 50 to 80"), "{drawn}");
        assert!(
            drawn.contains("pic-now") && !drawn.contains("Mixer"),
            "{drawn}"
        );
        let later = timeline("t", &bars, &[], Some(300), &|m| m.to_string());
        assert!(!later.into_string().contains("pic-now"));
    }
}
