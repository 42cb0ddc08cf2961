//! A shape drawn to scale, from data in millimetres.

use super::svg::{Fill, Frame, Hang, SMALL, WIDTH, at, clean, filled, hatches, line, text, width};
use maud::{Markup, PreEscaped, html};
use recipe::shape::{Drawing, Hang as Hung, Look, Mark};

/// Most height of what is drawn, and most units for a millimetre.
const HIGH: f64 = 300.0;
const LARGEST: f64 = 3.0;
/// Room for a line of words along an edge.
const EDGE: f64 = 26.0;
/// Least room at an edge.
const BARE: f64 = 6.0;

/// A drawing on its way: where the first millimetre lies, and how large one is.
struct Paper {
    left: f64,
    top: f64,
    scale: f64,
}

impl Paper {
    fn x(&self, mm: f64) -> f64 {
        self.left + mm * self.scale
    }
    fn y(&self, mm: f64) -> f64 {
        self.top + mm * self.scale
    }
    fn path(&self, points: &[(f64, f64)], closed: bool) -> String {
        let mut out = String::new();
        for (i, (x, y)) in points.iter().enumerate() {
            out.push_str(if i == 0 { "M" } else { "L" });
            out.push_str(&format!("{} {}", at(self.x(*x)), at(self.y(*y))));
        }
        if closed {
            out.push('Z');
        }
        out
    }
}

/// An edge that a measured side stands at.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Edge {
    Top,
    Bottom,
    Left,
    Right,
}

fn edge(d: &Drawing, from: (f64, f64), to: (f64, f64)) -> Edge {
    let level = (from.1 - to.1).abs() < (from.0 - to.0).abs();
    match level {
        true if from.1 + to.1 <= d.high => Edge::Top,
        true => Edge::Bottom,
        false if from.0 + to.0 <= d.wide => Edge::Left,
        false => Edge::Right,
    }
}

fn sides(d: &Drawing) -> impl Iterator<Item = (Edge, f64, &str)> {
    d.marks.iter().filter_map(|m| match m {
        Mark::Side { from, to, words } => Some((
            edge(d, *from, *to),
            (from.0 - to.0).hypot(from.1 - to.1),
            words.as_str(),
        )),
        _ => None,
    })
}

/// Whether words along a short upright side lie level beside it.
fn beside(long: f64, scale: f64, words: &str) -> bool {
    long * scale < width(words, SMALL) + 6.0
}

fn lay_out(d: &Drawing) -> Paper {
    let room = |want: Edge, scale: f64| {
        sides(d)
            .filter(|s| s.0 == want)
            .map(|(e, long, words)| match e {
                Edge::Left | Edge::Right if beside(long, scale, words) => {
                    width(words, SMALL) + 16.0
                }
                _ => EDGE,
            })
            .fold(BARE, f64::max)
    };
    // Words that lie level take room, which makes the scale smaller and may lay others level.
    let (mut scale, mut left, mut right) = (LARGEST, 0.0, 0.0);
    for _ in 0..=d.marks.len() {
        (left, right) = (room(Edge::Left, scale), room(Edge::Right, scale));
        let fits = ((WIDTH - left - right) / d.wide.max(1e-6)).min(HIGH / d.high.max(1e-6));
        if fits >= scale {
            break;
        }
        scale = fits;
    }
    let top = room(Edge::Top, scale);
    let spare = WIDTH - left - right - d.wide * scale;
    Paper {
        left: left + spare.max(0.0) / 2.0,
        top,
        scale,
    }
}

/// The class of an area, a circle or a line of a look.
fn class(look: Look) -> &'static str {
    match look {
        Look::Dough | Look::Cake => "pic-piece pic-wash",
        Look::Filling | Look::Scrap => "pic-piece",
        Look::Risen => "pic-risen",
        Look::Pan => "pic-pan",
        Look::Cut => "pic-cut",
        Look::Paper | Look::Board => "pic-piece pic-bare",
        Look::Guide => "pic-guide",
    }
}

fn hatch(look: Look) -> Option<Fill> {
    match look {
        Look::Filling => Some(Fill::Slant),
        Look::Scrap => Some(Fill::Dots),
        _ => None,
    }
}

fn paint(id: &str, look: Look) -> Option<String> {
    hatch(look).map(|f| match f {
        Fill::Dots => format!("url(#{id}-dots)"),
        _ => format!("url(#{id}-slant)"),
    })
}

fn mark(id: &str, p: &Paper, m: &Mark) -> Markup {
    match m {
        Mark::Area { points, look } => html! {
            path class=(class(*look)) fill=[paint(id, *look)] d=(p.path(points, true)) {}
        },
        Mark::Circle {
            at: c,
            radius,
            look,
        } => html! {
            circle class=(class(*look)) fill=[paint(id, *look)] cx=(at(p.x(c.0))) cy=(at(p.y(c.1))) r=(at((radius * p.scale).max(0.0))) {}
        },
        Mark::Line { points, look } => html! {
            path class={ "pic-open-line " (class(*look)) } d=(p.path(points, false)) {}
        },
        Mark::Band { points, wide, look } => {
            let wide = (wide * p.scale).max(1.0);
            let d = p.path(points, false);
            html! {
                @if *look == Look::Filling {
                    path.pic-band-filling stroke-width=(at(wide)) d=(d) {}
                } @else {
                    path.pic-band-edge stroke-width=(at(wide + 2.0)) d=(d) {}
                    path.pic-band-dough stroke-width=(at((wide - 0.5).max(0.5))) d=(d) {}
                }
            }
        }
        Mark::Words { at: c, words, hang } => {
            let hang = match hang {
                Hung::Start => Hang::Start,
                Hung::Middle => Hang::Middle,
                Hung::End => Hang::End,
            };
            text("pic-figure", p.x(c.0), p.y(c.1) + 4.0, hang, words)
        }
        Mark::Side { .. } => html! {},
    }
}

/// A measured side: its line outside the shape, ends, words.
fn side(d: &Drawing, p: &Paper, from: (f64, f64), to: (f64, f64), words: &str) -> Markup {
    let (x1, y1, x2, y2) = (p.x(from.0), p.y(from.1), p.x(to.0), p.y(to.1));
    let (l, r) = (x1.min(x2), x1.max(x2));
    let (t, b) = (y1.min(y2), y1.max(y2));
    let e = edge(d, from, to);
    match e {
        Edge::Top | Edge::Bottom => {
            let (y, words_y) = if e == Edge::Top {
                (t - 7.0, t - 12.0)
            } else {
                (b + 7.0, b + 20.0)
            };
            let middle = f64::midpoint(l, r);
            let half = width(words, SMALL) / 2.0;
            let x = middle.clamp(half + 1.0, (WIDTH - half - 1.0).max(half + 1.0));
            html! {
                (line("pic-brace", (l, y), (r, y)))
                (line("pic-brace", (l, y - 3.0), (l, y + 3.0)))
                (line("pic-brace", (r, y - 3.0), (r, y + 3.0)))
                (text("pic-figure", x, words_y, Hang::Middle, words))
            }
        }
        Edge::Left | Edge::Right => {
            let left = e == Edge::Left;
            let x = if left { l - 7.0 } else { r + 7.0 };
            let middle = f64::midpoint(t, b);
            let level = b - t < width(words, SMALL) + 6.0;
            html! {
                (line("pic-brace", (x, t), (x, b)))
                (line("pic-brace", (x - 3.0, t), (x + 3.0, t)))
                (line("pic-brace", (x - 3.0, b), (x + 3.0, b)))
                @if level {
                    (text("pic-figure", if left { x - 6.0 } else { x + 6.0 }, middle + 4.0, if left { Hang::End } else { Hang::Start }, words))
                } @else {
                    @let (tx, ty) = (if left { x - 6.0 } else { x + 15.0 }, middle);
                    text.pic-figure x=(at(tx)) y=(at(ty)) text-anchor="middle" transform={ "rotate(-90 " (at(tx)) " " (at(ty)) ")" } { (words) }
                }
            }
        }
    }
}

/// Looks that a key is drawn for, in the order they come.
fn looks(d: &Drawing) -> Vec<Look> {
    let mut seen = Vec::new();
    for m in &d.marks {
        let look = match m {
            Mark::Area { look, .. }
            | Mark::Circle { look, .. }
            | Mark::Line { look, .. }
            | Mark::Band { look, .. } => *look,
            _ => continue,
        };
        if look != Look::Guide && !seen.contains(&look) {
            seen.push(look);
        }
    }
    seen.sort_unstable();
    seen
}

/// A look in a key; a filling that is drawn as a band, as a band.
fn key(id: &str, look: Look, band: bool, x: f64, y: f64) -> Markup {
    const W: f64 = 18.0;
    const H: f64 = 10.0;
    html! {
        @match look {
            Look::Cut => (line("pic-cut", (x, y + H / 2.0), (x + W, y + H / 2.0))),
            Look::Pan => (line("pic-pan", (x, y + H / 2.0), (x + W, y + H / 2.0))),
            Look::Risen => rect.pic-risen x=(at(x)) y=(at(y)) width=(at(W)) height=(at(H)) {},
            Look::Filling if band => path.pic-band-filling stroke-width="4" d={ "M" (at(x)) " " (at(y + H / 2.0)) "L" (at(x + W)) " " (at(y + H / 2.0)) } {},
            Look::Filling => (filled(id, Fill::Slant, x, y, W, H)),
            Look::Scrap => (filled(id, Fill::Dots, x, y, W, H)),
            Look::Paper | Look::Board => rect class="pic-piece pic-bare" x=(at(x)) y=(at(y)) width=(at(W)) height=(at(H)) {},
            Look::Dough | Look::Cake | Look::Guide => rect class="pic-piece pic-wash" x=(at(x)) y=(at(y)) width=(at(W)) height=(at(H)) {},
        }
        (text("pic-small", x + W + 5.0, y + H - 1.0, Hang::Start, look.word()))
    }
}

/// Millimetres of an inch.
const INCH: f64 = 25.4;

/// A round length for the scale bar, mm, and its words: about a fifth of the width, in inches where the sides are.
fn bar(scale: f64, inches: bool) -> (f64, String) {
    let aim = 70.0 / scale;
    if inches && aim < INCH {
        let parts = [(0.5, "½ in"), (0.25, "¼ in"), (0.125, "⅛ in")];
        let found = parts.into_iter().find(|p| p.0 * INCH <= aim);
        let (n, words) = found.unwrap_or((0.0625, "1/16 in"));
        return (n * INCH, words.to_owned());
    }
    let one = if inches { INCH } else { 1.0 };
    let ten = 10f64.powf((aim / one).log10().floor());
    let round = [5.0, 2.0, 1.0].into_iter().map(|n| n * ten);
    let n = round.into_iter().find(|n| n * one <= aim).unwrap_or(ten);
    let words = match n {
        _ if inches => format!("{n} in"),
        n if n >= 10.0 => format!("{} cm", n / 10.0),
        n => format!("{n} mm"),
    };
    (n * one, words)
}

/// What is drawn, and how high it is.
fn draw(id: &str, d: &Drawing) -> (Markup, f64) {
    let p = lay_out(d);
    let id = &clean(id);
    let looks = looks(d);
    let under = sides(d).any(|s| s.0 == Edge::Bottom);
    let mut y = p.y(d.high) + if under { EDGE } else { BARE } + 6.0;
    let inches = sides(d).any(|s| s.2.ends_with(" in"));
    let (long, words) = bar(p.scale, inches);
    let scale_y = y + 4.0;
    let bar_end = 8.0 + long * p.scale;
    // The key goes on after the scale bar, and into more rows where it must.
    let mut x = bar_end + 8.0 + width(&words, SMALL) + 14.0;
    let mut keys = Vec::new();
    for look in &looks {
        let wide = 18.0 + 5.0 + width(look.word(), SMALL) + 12.0;
        if x + wide > WIDTH {
            x = 8.0;
            y += 20.0;
        }
        let band = d.marks.iter().any(|m| {
            matches!(
                m,
                Mark::Band {
                    look: Look::Filling,
                    ..
                }
            )
        });
        keys.push(key(id, *look, band, x, y));
        x += wide;
    }
    let height = y + 20.0;
    let body = html! {
        (hatches(id, looks.iter().filter_map(|l| hatch(*l))))
        @for m in &d.marks { (mark(id, &p, m)) }
        @for m in &d.marks {
            @if let Mark::Side { from, to, words } = m { (side(d, &p, *from, *to, words)) }
        }
        (line("pic-brace", (8.0, scale_y), (bar_end, scale_y)))
        (line("pic-brace", (8.0, scale_y - 4.0), (8.0, scale_y + 4.0)))
        (line("pic-brace", (bar_end, scale_y - 4.0), (bar_end, scale_y + 4.0)))
        (text("pic-small", bar_end + 6.0, scale_y + 4.0, Hang::Start, &words))
        @for k in keys { (k) }
    };
    (body, height)
}

fn sound(d: &Drawing) -> bool {
    d.wide.is_finite() && d.high.is_finite() && d.wide > 0.0 && d.high > 0.0
}

/// A drawing to scale, with a scale bar and a key.
pub fn shape(id: &str, d: &Drawing) -> Markup {
    if !sound(d) {
        return html! {};
    }
    let (body, height) = draw(id, d);
    Frame {
        id,
        kind: "shape",
        height,
        title: &d.title,
        desc: &d.desc,
    }
    .draw(&body)
}

/// The colours of a file of its own: those of the workbench, light or dark as its reader has it.
const PALETTE: &str = "
.picture{--paper:#f4f7fb;--enamel:#fff;--ink:#14213a;--soft:#4f5b74;--rim:#1d4fa8;--line:#cfd8e6;--wash:#e6eefb;--warn:#8a4b00;font-family:system-ui,sans-serif}
@media (prefers-color-scheme:dark){.picture{--paper:#0b1220;--enamel:#121c30;--ink:#e8eef8;--soft:#a9b6cd;--rim:#8db4ff;--line:#2c3a55;--wash:#1b2b4a;--warn:#ffbf73}}
.picture .ground{fill:var(--enamel)}
";

/// All drawings of a shape as one SVG file, one under the other.
pub fn shape_file(drawings: &[Drawing]) -> String {
    let mut body = Vec::new();
    let mut y = 10.0;
    for (i, d) in drawings.iter().filter(|d| sound(d)).enumerate() {
        let (drawn, height) = draw(&format!("d{i}"), d);
        body.push(html! {
            g transform={ "translate(10 " (at(y)) ")" } role="img" aria-labelledby={ "d" (i) "-t d" (i) "-d" } {
                title id={ "d" (i) "-t" } { (d.title) }
                desc id={ "d" (i) "-d" } { (d.desc) }
                (text("pic-heading", 0.0, 14.0, Hang::Start, &d.title))
                g transform="translate(0 24)" { (drawn) }
            }
        });
        y += height + 40.0;
    }
    let wide = WIDTH + 20.0;
    let style = format!("{PALETTE}{}", include_str!("../../../assets/picture.css"));
    let file = html! {
        svg.picture xmlns="http://www.w3.org/2000/svg" viewBox={ "0 0 " (at(wide)) " " (at(y)) } width=(at(2.0 * wide)) height=(at(2.0 * y)) {
            style { (PreEscaped(style)) }
            rect.ground width=(at(wide)) height=(at(y)) {}
            @for b in &body { (b) }
        }
    };
    file.into_string() + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::{Ratio, Spread};
    use recipe::shape::{Dough, Kind, ShapeAsk};

    fn drawings(kind: Kind, says: &[(&str, &str)]) -> Vec<Drawing> {
        let ask = says
            .iter()
            .fold(ShapeAsk::new(kind), |ask, (k, v)| ask.with(k, v));
        let dough = Dough::new(None, Spread::exact(Ratio::new(1.1)));
        ask.shaped(&dough).expect("shape").drawings
    }

    fn roll() -> Vec<Drawing> {
        drawings(
            Kind::Roll,
            &[
                ("dough", "600 g"),
                ("length", "40 cm"),
                ("width", "30 cm"),
                ("filling", "250 g"),
                ("slices", "12"),
                ("pan", "33x23x5cm"),
            ],
        )
    }

    /// The attribute of the first element that has a class.
    fn attribute(svg: &str, class: &str, name: &str) -> f64 {
        let from = svg.find(&format!("class=\"{class}\"")).expect("the class");
        let rest = &svg[from..];
        let at = rest.find(&format!(" {name}=\"")).expect("the attribute") + name.len() + 3;
        rest[at..]
            .split('"')
            .next()
            .and_then(|v| v.parse().ok())
            .expect("a number")
    }

    /// A bar of the scale is as long as so many millimetres of the roll.
    #[test]
    fn the_scale_bar_is_to_the_drawings_scale() {
        let d = &roll()[1];
        let svg = shape("r", d).into_string();
        let radius = attribute(&svg, "pic-piece pic-wash", "r");
        let scale = radius / (d.wide / 2.0);
        let (_, words) = bar(scale, false);
        assert!(svg.contains(&format!(">{words}<")), "{words}: {svg}");
        let p = lay_out(d);
        assert!((p.scale - scale).abs() < 0.01);
    }

    /// 70 units at 0.5 of them for a millimetre are 140 mm, 5.5 inches; at 3, 23 mm; at 12, 5.8 mm.
    #[test]
    fn the_scale_bar_is_in_inches_where_the_sides_are() {
        for (scale, long, words) in [
            (0.5, 127.0, "5 in"),
            (3.0, 12.7, "½ in"),
            (12.0, 3.175, "⅛ in"),
        ] {
            let (mm, told) = bar(scale, true);
            assert!(
                (mm - long).abs() < 1e-9 && told == words,
                "{scale}: {mm} {told}"
            );
        }
        assert_eq!(bar(0.5, false), (100.0, "10 cm".to_owned()));
        let mut d = roll().swap_remove(0);
        assert!(shape("r", &d).into_string().contains(" cm</text>"));
        d.marks.iter_mut().for_each(|m| {
            if let Mark::Side { words, .. } = m {
                *words = "12 in".to_owned();
            }
        });
        assert!(!shape("r", &d).into_string().contains(" cm</text>"));
    }

    /// Words that lie level beside a low side have room at its edge.
    #[test]
    fn words_beside_a_low_side_are_in_the_picture() {
        let all = roll();
        let side = all
            .iter()
            .find(|d| d.key == "side")
            .expect("the pan from the side");
        let p = lay_out(side);
        for (e, long, words) in sides(side).filter(|s| matches!(s.0, Edge::Left | Edge::Right)) {
            if beside(long, p.scale, words) {
                let room = match e {
                    Edge::Left => p.left,
                    _ => WIDTH - p.x(side.wide),
                };
                assert!(room >= width(words, SMALL) + 13.0, "{words}: {room}");
            }
        }
    }

    #[test]
    fn it_is_read_as_well_as_seen() {
        for (i, d) in roll().iter().enumerate() {
            let svg = shape(&format!("r{i}"), d).into_string();
            assert!(
                svg.contains(&format!(r#"aria-labelledby="r{i}-t r{i}-d""#)),
                "{svg}"
            );
            assert!(svg.contains("<desc") && !svg.contains("style="), "{svg}");
            assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
            assert!(svg.contains(">dough<"), "{svg}");
        }
    }

    /// A file of its own is well-formed XML with all drawings in it.
    #[test]
    fn a_file_is_one_well_formed_picture() {
        let file = shape_file(&roll());
        assert!(file.starts_with("<svg") && file.matches("<title").count() == 4);
        let (mut open, mut rest) = (Vec::new(), file.as_str());
        while let Some(from) = rest.find('<') {
            let to = from + rest[from..].find('>').expect("a tag ends");
            let tag = &rest[from + 1..to];
            match tag.strip_prefix('/') {
                Some(name) => assert_eq!(open.pop(), Some(name)),
                None => {
                    let mut names: Vec<&str> = tag.split("=\"").collect();
                    names.pop();
                    let mut names: Vec<&str> = names
                        .into_iter()
                        .filter_map(|n| n.rsplit(' ').next())
                        .collect();
                    let all = names.len();
                    names.sort_unstable();
                    names.dedup();
                    assert_eq!(names.len(), all, "an attribute stands twice: {tag}");
                    open.push(tag.split_whitespace().next().expect("a name"));
                }
            }
            rest = &rest[to + 1..];
        }
        assert!(open.is_empty(), "{open:?}");
    }
}
