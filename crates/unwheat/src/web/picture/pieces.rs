//! A bar cut in pieces, and a label at each.

use maud::{Markup, html};

use super::svg::{
    Fill, Hang, NAME, SMALL, WIDTH, at, cut, figure_width, filled, line, text, width,
};

/// Height of a row of labels.
const ROW: f64 = 16.0;

/// A piece of a bar.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    pub(super) name: String,
    /// What stands behind its name.
    pub(super) figure: String,
    pub(super) fill: Fill,
    /// Its left end and its length.
    pub(super) x: f64,
    pub(super) w: f64,
}

/// The bar itself.
pub(super) fn bar(id: &str, pieces: &[Piece], y: f64, h: f64) -> Markup {
    html! {
        @for p in pieces { (filled(id, p.fill, p.x, y, p.w, h)) }
    }
}

/// Where a label goes: its rows, and from where to where.
struct Place {
    rows: std::ops::RangeInclusive<usize>,
    from: f64,
    to: f64,
    /// Where its leader comes down, for a label that is not under its own piece.
    leader: Option<f64>,
}

impl Place {
    fn covers(&self, x: f64) -> bool {
        self.from - 3.0 < x && x < self.to + 3.0
    }

    fn overlaps(&self, other: &Self) -> bool {
        self.from < other.to + 8.0 && other.from < self.to + 8.0
    }

    /// Whether the two can stand in one picture without running through each other.
    fn apart(&self, other: &Self) -> bool {
        let crossed = |by: &Self, text: &Self| {
            by.leader
                .is_some_and(|x| text.covers(x) && by.rows.start() >= text.rows.start())
        };
        let same = self.rows.start() <= other.rows.end() && other.rows.start() <= self.rows.end();
        !(same && self.overlaps(other) || crossed(self, other) || crossed(other, self))
    }
}

/// The lines of a label that stands under its own piece, if it fits there: its name broken at
/// spaces, then its figure, broken at the dot where it must be.
fn under(p: &Piece) -> Option<(Vec<String>, Vec<&str>)> {
    let room = p.w - 10.0;
    let mut names: Vec<String> = Vec::new();
    for word in p.name.split_whitespace() {
        if width(word, NAME) > room {
            return None;
        }
        match names.last_mut() {
            Some(last) if width(&format!("{last} {word}"), NAME) <= room => {
                last.push(' ');
                last.push_str(word);
            }
            _ => names.push(word.to_owned()),
        }
    }
    let figures: Vec<&str> = if figure_width(&p.figure, SMALL) <= room {
        vec![&p.figure]
    } else {
        p.figure.split(" · ").collect()
    };
    let fits = figures.iter().all(|f| figure_width(f, SMALL) <= room);
    (fits && names.len() + figures.len() <= 4).then_some((names, figures))
}

/// A label at each piece: under it where it fits, else on a leader in a row of its own.
/// Gives the height that the labels take from `y`, the lower edge of the bar.
pub(super) fn labels(pieces: &[Piece], y: f64) -> (Markup, f64) {
    let mut places: Vec<Place> = Vec::new();
    let mut drawn = Vec::new();
    let mut asides = Vec::new();
    for p in pieces {
        let Some((names, figures)) = under(p) else {
            asides.push(Aside::of(p));
            continue;
        };
        let long = |widths: f64, next: f64| widths.max(next);
        let w = names.iter().map(|n| width(n, NAME)).fold(0.0, long);
        let w = figures.iter().map(|f| figure_width(f, SMALL)).fold(w, long);
        let rows = names.len() + figures.len();
        places.push(Place {
            rows: 0..=rows - 1,
            from: p.x,
            to: p.x + w,
            leader: None,
        });
        let base = |row: usize| y + at_row(row) + ROW - 2.0;
        drawn.push(html! {
            @for (i, words) in names.iter().enumerate() {
                (text("pic-name", p.x, base(i), Hang::Start, words))
            }
            @for (i, words) in figures.iter().enumerate() {
                (text("pic-figure", p.x, base(names.len() + i), Hang::Start, words))
            }
        });
    }
    // Words before their leaders as far as there is room, or all after them: as it comes out
    // clearer, then shorter.
    let before: Vec<bool> = asides.iter().map(|a| a.before() >= 0.0).collect();
    let after: Vec<bool> = asides.iter().map(|a| a.after() + a.long > WIDTH).collect();
    let (set, _) = [before, after]
        .iter()
        .map(|sides| arranged(&asides, sides, &places))
        .min_by_key(|(set, faults)| (*faults, set.iter().map(|(_, p)| *p.rows.end()).max()))
        .unwrap_or_default();
    for (aside, place) in set {
        drawn.push(aside.draw(&place, y));
        places.push(place);
    }
    let rows = places.iter().map(|p| p.rows.end() + 1).max().unwrap_or(0);
    (html! { @for d in drawn { (d) } }, at_row(rows) + 4.0)
}

/// Places for labels on leaders, those that stand before their leaders from left to right, then
/// the others from right to left: so leaders keep clear of earlier words. With how many found no
/// clear place.
fn arranged<'a>(
    asides: &'a [Aside<'a>],
    before: &[bool],
    taken: &[Place],
) -> (Vec<(&'a Aside<'a>, Place)>, usize) {
    let (left, right): (Vec<_>, Vec<_>) = asides.iter().zip(before).partition(|(_, b)| **b);
    let (mut set, mut faults) = (Vec::<(&Aside, Place)>::new(), 0);
    for (aside, before) in left.into_iter().chain(right.into_iter().rev()) {
        let others: Vec<&Place> = taken.iter().chain(set.iter().map(|(_, p)| p)).collect();
        let place = aside.place(*before, &others).unwrap_or_else(|| {
            faults += 1;
            aside.below(&others)
        });
        set.push((aside, place));
    }
    (set, faults)
}

/// A label that does not fit under its piece.
struct Aside<'a> {
    piece: &'a Piece,
    middle: f64,
    /// The name where it had to be cut.
    short: Option<String>,
    long: f64,
}

impl<'a> Aside<'a> {
    fn of(piece: &'a Piece) -> Self {
        let middle = piece.x + piece.w / 2.0;
        let figure = figure_width(&piece.figure, SMALL) + 9.0;
        // Cut to the side of its leader that has more room.
        let room = (middle - 7.0).max(WIDTH - middle - 6.0);
        let short = cut(&piece.name, NAME, room - figure);
        let long = width(short.as_deref().unwrap_or(&piece.name), NAME) + figure;
        Self {
            piece,
            middle: piece.x + piece.w / 2.0,
            short,
            long,
        }
    }

    /// Where the words begin that stand before their leader.
    fn before(&self) -> f64 {
        self.middle - 7.0 - self.long
    }

    /// Where the words begin that stand after it.
    fn after(&self) -> f64 {
        self.middle + 6.0
    }

    /// Where they begin when they lie across it.
    fn across(&self) -> f64 {
        (self.middle - self.long / 2.0).clamp(0.0, (WIDTH - self.long).max(0.0))
    }

    fn at(&self, row: usize, from: f64) -> Place {
        Place {
            rows: row..=row,
            from,
            to: from + self.long,
            leader: Some(self.middle),
        }
    }

    /// The first place that keeps clear of all others.
    fn place(&self, before: bool, others: &[&Place]) -> Option<Place> {
        let (one, two) = match before {
            true => (self.before(), self.after()),
            false => (self.after(), self.before()),
        };
        [one, two, self.across()]
            .into_iter()
            .filter(|from| *from >= 0.0 && from + self.long <= WIDTH)
            .flat_map(|from| (0..12).map(move |row| self.at(row, from)))
            .find(|place| others.iter().all(|other| place.apart(other)))
    }

    /// A place below all others.
    fn below(&self, others: &[&Place]) -> Place {
        self.at(
            others.iter().map(|p| p.rows.end() + 1).max().unwrap_or(0),
            self.across(),
        )
    }

    fn draw(&self, place: &Place, y: f64) -> Markup {
        let base = y + at_row(*place.rows.start()) + ROW - 2.0;
        let level = base - 4.0;
        // The leader ends beside its words, or above them where they lie across it.
        let (down, side) = if place.to < self.middle {
            (level, Some(place.to + 3.0))
        } else if place.from > self.middle {
            (level, Some(place.from - 2.0))
        } else {
            (base - 12.0, None)
        };
        let end = Hang::End;
        let (hang, x) = match side {
            Some(_) if place.to < self.middle => (end.key(), place.to),
            _ => (None, place.from),
        };
        html! {
            (line("pic-leader", (self.middle, y + 1.0), (self.middle, down)))
            @if let Some(side) = side {
                (line("pic-leader", (self.middle, down), (side, down)))
            }
            text.pic-name text-anchor=[hang] x=(at(x)) y=(at(base)) {
                @if self.short.is_some() { title { (self.piece.name) } }
                (self.short.as_deref().unwrap_or(&self.piece.name)) " "
                tspan.pic-figure dx="3" { (self.piece.figure) }
            }
        }
    }
}

/// How far down a row of labels begins.
fn at_row(row: usize) -> f64 {
    f64::from(u32::try_from(row).unwrap_or(u32::MAX)) * ROW
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(name: &str, x: f64, w: f64) -> Piece {
        let (name, figure) = (name.to_owned(), "12\u{a0}g".to_owned());
        Piece {
            name,
            figure,
            fill: Fill::Wash,
            x,
            w,
        }
    }

    #[test]
    fn a_label_stands_under_its_piece_where_it_fits() {
        let (drawn, height) = labels(
            &[piece("milk", 0.0, 200.0), piece("egg", 200.0, 160.0)],
            20.0,
        );
        assert!(!drawn.into_string().contains("pic-leader"));
        assert!((height - 2.0 * ROW - 4.0).abs() < 1e-9);
    }

    #[test]
    fn small_pieces_get_leaders_and_rows_of_their_own() {
        let pieces: Vec<Piece> = (0..6)
            .map(|i| piece("a rather long name of a flour", f64::from(i) * 60.0, 60.0))
            .collect();
        let (drawn, height) = labels(&pieces, 20.0);
        assert_eq!(drawn.into_string().matches("<text").count(), 6);
        assert!(height >= 4.0 * ROW, "{height}");
    }
}
