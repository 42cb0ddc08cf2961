//! What all pictures share: the frame, text and how wide it is, numbers, hatches.

use maud::{Markup, html};

/// Width of a picture in its own units.
pub(super) const WIDTH: f64 = 360.0;

/// Size of names, as in `picture.css`.
pub(super) const NAME: f64 = 13.0;

/// Size of figures and small words, as in `picture.css`.
pub(super) const SMALL: f64 = 12.0;

/// What is a number and not below nothing; beyond reason counts as unknown.
pub(super) fn known(value: f64) -> Option<f64> {
    (value.is_finite() && value < 1e12).then_some(value.max(0.0))
}

/// A coordinate, to a tenth of a unit; never anything but a number.
pub(super) fn at(value: f64) -> String {
    let value = if value.is_finite() {
        (value * 10.0).round() / 10.0
    } else {
        0.0
    };
    // Nought has no sign.
    format!("{}", value + 0.0)
}

/// An id that can stand in a list of ids and behind `url(#`.
pub(super) fn clean(id: &str) -> String {
    id.chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() || c == '-' || c == '_' {
                c
            } else {
                '-'
            }
        })
        .collect()
}

/// A figure with the digits a scale can show: 1250, 96, 2.4, 0.15.
pub(super) fn figure(value: f64) -> String {
    let (places, step) = match value.abs() {
        v if !(0.0005..9.95).contains(&v) => (0, 1.0),
        v if v >= 0.095 => (1, 0.1),
        _ => (2, 0.01),
    };
    // Halves go up, as on a scale and in the tables.
    let text = format!("{:.places$}", (value / step).round() * step);
    match text.strip_suffix(".0") {
        Some(whole) => whole.to_owned(),
        None if text == "-0" => "0".to_owned(),
        None => text,
    }
}

/// Grams, kept on one line.
pub(super) fn grams(value: f64) -> String {
    format!("{}\u{a0}g", figure(value))
}

/// Percent with the digits that every page gives it, kept on one line.
pub(super) fn percent(value: f64) -> String {
    recipe::household::percent(value).replace(' ', "\u{a0}")
}

/// About how wide text in the reading face is, on the wide side.
pub(super) fn width(text: &str, size: f64) -> f64 {
    let ems: f64 = text
        .chars()
        .map(|c| match c {
            'i' | 'j' | 'l' | ' ' | '\u{a0}' | '.' | ',' | '\'' | ':' | ';' | '|' | '!' => 0.30,
            'f' | 'r' | 't' | '(' | ')' | '-' | 'I' => 0.39,
            'm' | 'w' | 'M' | 'W' | '%' | '@' => 0.90,
            'A'..='Z' | '0'..='9' | '&' => 0.67,
            c if c as u32 >= 0x2e80 => 1.05,
            _ => 0.57,
        })
        .sum();
    ems * size
}

/// How wide a figure in the face for figures is; its spaces are drawn narrow.
pub(super) fn figure_width(text: &str, size: f64) -> f64 {
    let ems: f64 = text
        .chars()
        .map(|c| {
            if c == ' ' || c == '\u{a0}' {
                0.38
            } else {
                0.635
            }
        })
        .sum();
    ems * size
}

/// The text cut with … to the room there is; `None` where all of it fits.
pub(super) fn cut(text: &str, size: f64, room: f64) -> Option<String> {
    if width(text, size) <= room {
        return None;
    }
    let room = room - width("…", size);
    let (mut short, mut used) = (String::new(), 0.0);
    for c in text.chars() {
        used += width(c.encode_utf8(&mut [0; 4]), size);
        if used > room {
            break;
        }
        short.push(c);
    }
    Some(format!("{}…", short.trim_end_matches([' ', ',', '-', '('])))
}

/// The text in lines of the room there is, each broken between words; a word longer than that is left to be cut.
pub(super) fn folded(text: &str, size: f64, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if width(&format!("{line} {word}"), size) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// How text hangs on its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Hang {
    Start,
    Middle,
    End,
}

impl Hang {
    pub(super) fn key(self) -> Option<&'static str> {
        match self {
            Self::Start => None,
            Self::Middle => Some("middle"),
            Self::End => Some("end"),
        }
    }
}

/// A line of text of a class.
pub(super) fn text(class: &str, x: f64, y: f64, hang: Hang, words: &str) -> Markup {
    html! { text class=(class) x=(at(x)) y=(at(y)) text-anchor=[hang.key()] { (words) } }
}

/// A name cut to the room, with the whole of it to be had by pointing at it.
pub(super) fn name(x: f64, y: f64, room: f64, words: &str) -> Markup {
    html! {
        text.pic-name x=(at(x)) y=(at(y)) {
            @match cut(words, NAME, room) {
                Some(short) => { title { (words) } (short) }
                None => (words),
            }
        }
    }
}

/// A straight line of a class.
pub(super) fn line(class: &str, from: (f64, f64), to: (f64, f64)) -> Markup {
    html! { line class=(class) x1=(at(from.0)) y1=(at(from.1)) x2=(at(to.0)) y2=(at(to.1)) {} }
}

/// A rectangle of a class.
pub(super) fn rect(class: &str, x: f64, y: f64, w: f64, h: f64) -> Markup {
    html! {
        rect class=(class) x=(at(x)) y=(at(y)) width=(at(w.max(0.0))) height=(at(h.max(0.0))) {}
    }
}

/// The frame round a picture with what it says.
pub(super) struct Frame<'a> {
    pub(super) id: &'a str,
    pub(super) kind: &'a str,
    pub(super) height: f64,
    pub(super) title: &'a str,
    pub(super) desc: &'a str,
}

impl Frame<'_> {
    /// The whole picture.
    pub(super) fn draw(&self, body: &Markup) -> Markup {
        let id = clean(self.id);
        html! {
            svg class={ "picture picture-" (self.kind) } role="img"
                aria-labelledby={ (id) "-t " (id) "-d" }
                viewBox={ "0 0 " (at(WIDTH)) " " (at(self.height)) }
                preserveAspectRatio="xMinYMin meet" {
                title id={ (id) "-t" } { (self.title) }
                desc id={ (id) "-d" } { (self.desc) }
                (body)
            }
        }
    }
}

/// How a piece of a bar is filled; told apart without colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Fill {
    Solid,
    Wash,
    Slant,
    Dots,
    Level,
    BackSlant,
    Bare,
}

impl Fill {
    /// Fills in the order in which they are given out; the last is for what is left.
    pub(super) const ORDER: [Self; 6] = [
        Self::Wash,
        Self::Slant,
        Self::Dots,
        Self::Level,
        Self::BackSlant,
        Self::Solid,
    ];

    fn key(self) -> &'static str {
        match self {
            Self::Solid => "solid",
            Self::Wash => "wash",
            Self::Slant => "slant",
            Self::Dots => "dots",
            Self::Level => "level",
            Self::BackSlant => "backslant",
            Self::Bare => "bare",
        }
    }

    fn hatched(self) -> bool {
        !matches!(self, Self::Solid | Self::Wash | Self::Bare)
    }
}

/// The hatches that the fills need, each once.
pub(super) fn hatches(id: &str, fills: impl IntoIterator<Item = Fill>) -> Markup {
    let mut fills: Vec<Fill> = fills.into_iter().filter(|f| f.hatched()).collect();
    fills.sort_unstable();
    fills.dedup();
    let id = clean(id);
    html! {
        @if !fills.is_empty() {
            defs {
                @for fill in fills {
                    pattern id={ (id) "-" (fill.key()) } width="6" height="6"
                        patternUnits="userSpaceOnUse"
                        patternTransform=[match fill {
                            Fill::Slant => Some("rotate(45)"),
                            Fill::BackSlant => Some("rotate(-45)"),
                            _ => None,
                        }] {
                        @match fill {
                            Fill::Dots => circle.pic-dot cx="3" cy="3" r="1.2" {},
                            Fill::Level => line.pic-hatch x1="0" y1="3" x2="6" y2="3" {},
                            _ => line.pic-hatch x1="3" y1="0" x2="3" y2="6" {},
                        }
                    }
                }
            }
        }
    }
}

/// A filled piece with its outline.
pub(super) fn filled(id: &str, fill: Fill, x: f64, y: f64, w: f64, h: f64) -> Markup {
    html! {
        @if fill.hatched() {
            rect.pic-piece fill={ "url(#" (clean(id)) "-" (fill.key()) ")" }
                x=(at(x)) y=(at(y)) width=(at(w.max(0.0))) height=(at(h)) {}
        } @else {
            (rect(&format!("pic-piece pic-{}", fill.key()), x, y, w, h))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_have_the_digits_that_a_scale_shows() {
        let shown: Vec<String> = [1250.4, 96.2, 9.96, 2.4, 2.0, 0.15, 0.04, 0.0, -0.0]
            .map(figure)
            .to_vec();
        assert_eq!(
            shown,
            ["1250", "96", "10", "2.4", "2", "0.1", "0.04", "0", "0"]
        );
        // The tables' rounding, recipe::household::Scale, has 183 and 2.3.
        assert_eq!([182.5, 2.25].map(figure), ["183", "2.3"]);
    }

    #[test]
    fn a_long_name_is_folded_between_words() {
        assert_eq!(folded("milk", NAME, 60.0), ["milk"]);
        let words = "Warm milk, mix yeast, mix to a paste (house soft dough)";
        let lines = folded(words, NAME, 200.0);
        assert!(
            lines.len() > 1 && lines.iter().all(|l| width(l, NAME) <= 200.0),
            "{lines:?}"
        );
        assert_eq!(lines.join(" "), words);
    }

    #[test]
    fn a_name_is_cut_only_where_it_must_be() {
        assert_eq!(cut("milk", NAME, 60.0), None);
        let short = cut("wholegrain buckwheat flour", NAME, 90.0).expect("it is too long");
        assert!(
            short.ends_with('…') && width(&short, NAME) <= 90.0,
            "{short}"
        );
    }

    #[test]
    fn ids_can_stand_in_a_list() {
        assert_eq!(clean("dough 1/water"), "dough-1-water");
    }

    #[test]
    fn coordinates_are_numbers() {
        assert_eq!(
            [at(1.26), at(-0.01), at(f64::NAN), at(f64::INFINITY)],
            ["1.3", "0", "0", "0"]
        );
    }
}
