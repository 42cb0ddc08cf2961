//! Reading the method: temperatures, times, pans, thicknesses, rises, chills.
//!
//! One walk over a step's words. What is done for a time is the nearest order before it in its
//! sentence, else the next one after it. Every look ahead or back is bounded, so a step costs
//! time in proportion to its length.

mod apart;
mod dust;
mod finish;
mod heat;
mod held;
mod named;
mod number;
mod order;
mod portions;
mod size;
#[cfg(test)]
mod tests;
mod time;
mod unlisted;
mod wash;
mod words;

use super::lex::{Kind, Token, lex};
use crate::recipe::{Activity, Fact, FactKind, Heat, Step};
use crate::{Doubt, DoubtCode};
pub(super) use apart::doubt as apart_doubt;
pub use apart::{Apart, apart};
pub(super) use finish::set_aside as set_finish_aside;
pub(crate) use held::Held;
pub(crate) use named::{Original, is_baked, named_only, no_food, only_compares};
pub(super) use portions::doubt as portions_doubt;
pub use portions::{Portion, To, divided, portions};
use quantity::Locale;
pub(crate) use unlisted::amounts;
pub(super) use unlisted::doubt as unlisted_doubt;
pub use unlisted::{Unlisted, unlisted};
pub(crate) use wash::IN_THE_DOUGH;
pub(super) use wash::set_aside as set_wash_aside;
use words::{Tag, tag};

/// Two readings of one temperature may differ by this many °C: dials round.
const SAME_HEAT: f64 = 15.0;

/// Reads the facts of a step's text.
///
/// Spans are bytes of `text`; facts stand in the order of the text. An activity with a time is
/// a [`FactKind::Duration`]; one without is a [`FactKind::Doing`], once a step.
#[must_use]
pub fn step(number: usize, text: &str, component: Option<usize>) -> Step {
    let tokens = tokens(text);
    let mut scan = Scan::new(text, &tokens);
    scan.run();
    let (facts, doubts) = (scan.facts, scan.doubts);
    Step {
        number,
        on_page: None,
        text: text.to_owned(),
        component,
        facts,
        doubts,
    }
}

/// What steps take from one another as steps of one method.
pub(crate) fn of_one_method(steps: &mut [Step]) {
    one_scale(steps);
    heats_said_once(steps);
}

/// '200° oven' is in Fahrenheit where every temperature of the method that says its scale is, likewise in Celsius.
fn one_scale(steps: &mut [Step]) {
    let unsure = |s: &Step| {
        s.doubts
            .iter()
            .any(|d| d.code == DoubtCode::TemperatureScale)
    };
    if !steps.iter().any(unsure) {
        return;
    }
    let said = |s: &Step| {
        let heats = (s.facts.iter()).filter(|f| matches!(f.kind, FactKind::Temperature { .. }));
        let words: Vec<String> = heats
            .filter_map(|f| Some(s.text.get(f.span.clone())?.to_lowercase()))
            .collect();
        let says = |sign: char, name: &str| {
            let mut letters = words
                .iter()
                .flat_map(|w| w.split(|c: char| !c.is_alphabetic()));
            letters.any(|l| l.len() == 1 && l.starts_with(sign) || l == name)
        };
        (says('f', "fahrenheit"), says('c', "celsius"))
    };
    let all: Vec<_> = steps.iter().map(said).collect();
    let scale = match (all.iter().any(|s| s.0), all.iter().any(|s| s.1)) {
        (true, false) => Scale::F,
        (false, true) => Scale::C,
        _ => return,
    };
    for step in steps.iter_mut().filter(|s| unsure(s)) {
        let tokens = tokens(&step.text);
        let mut scan = Scan::new(&step.text, &tokens);
        scan.scale = Some(scale);
        scan.run();
        let (facts, doubts) = (scan.facts, scan.doubts);
        step.facts = facts;
        step.doubts
            .retain(|d| d.code != DoubtCode::TemperatureScale);
        let still = doubts
            .into_iter()
            .filter(|d| d.code == DoubtCode::TemperatureScale);
        step.doubts.extend(still);
    }
}

/// 'While they bake, boil the syrup' orders no bake where a step before says that bake.
fn heats_said_once(steps: &mut [Step]) {
    const HEATS: [Activity; 3] = [Activity::Bake, Activity::Boil, Activity::Fry];
    for n in 1..steps.len() {
        let (before, rest) = steps.split_at_mut(n);
        let Some(clause) = crate::aside::beside(&rest[0].text).map(|b| b.clause) else {
            continue;
        };
        let said = |a: Activity| {
            let heats = |s: &Step| s.facts.iter().any(|f| f.does(a));
            let oven = |s: &Step| s.text.to_lowercase().contains("oven");
            let last = before.iter().rposition(heats);
            last.is_some_and(|at| !before[at + 1..].iter().any(oven))
        };
        rest[0].facts.retain(|f| match f.kind {
            FactKind::Doing(a) => {
                !(clause.contains(&f.span.start) && HEATS.contains(&a) && said(a))
            }
            _ => true,
        });
    }
}

/// Words that may stand round a pan on a line of its own.
const BESIDE_A_PAN: [&str; 39] = [
    "for",
    "this",
    "these",
    "recipe",
    "also",
    "you’ll",
    "you",
    "will",
    "you'll",
    "need",
    "a",
    "an",
    "the",
    "one",
    "two",
    "special",
    "equipment",
    "use",
    "greased",
    "lined",
    "and",
    "pan",
    "tin",
    "size",
    "floured",
    "buttered",
    "oiled",
    "well",
    "lightly",
    "with",
    "baking",
    "parchment",
    "paper",
    "round",
    "square",
    "deep",
    "springform",
    "nonstick",
    "non-stick",
];

/// Whether a line names a pan and nothing else: '20 x 30cm traybake tin'.
pub(crate) fn is_pan(line: &str) -> bool {
    let step = step(1, line, None);
    // With its size, or by what is baked in it; '1 tin' may be of tomatoes.
    let kind = |f: &Fact| line[f.span.clone()].split_whitespace().count() > 1;
    let pan =
        |f: &&Fact| matches!(&f.kind, FactKind::Pan { sizes, .. } if !sizes.is_empty() || kind(f));
    step.facts.iter().find(pan).is_some_and(|f| {
        let (before, after) = (&line[..f.span.start], &line[f.span.end..]);
        let words = before
            .split_whitespace()
            .chain(after.split_whitespace())
            .map(|w| w.trim_matches(|c: char| !c.is_alphabetic()).to_lowercase());
        words
            .filter(|w| !w.is_empty())
            .all(|w| BESIDE_A_PAN.contains(&w.as_str()))
    })
}

/// A token of the line and what its word may mean.
#[derive(Debug, Clone, Copy)]
struct Piece {
    kind: Kind,
    tag: Tag,
    start: usize,
    end: usize,
}

/// Cuts a text into pieces; `350/180` is two numbers, not a fraction.
fn tokens(text: &str) -> Vec<Piece> {
    let mut cut = Vec::with_capacity(text.len() / 4 + 4);
    lex(text, Locale::Us, &mut cut);
    let mut out = Vec::with_capacity(cut.len() + 4);
    for Token { kind, start, end } in cut {
        let word = &text[start..end];
        if let Kind::Fraction(_) = kind
            && let Some((n, d)) = word.split_once('/')
            && let (Ok(a), Ok(b)) = (n.trim().parse::<u32>(), d.trim().parse::<u32>())
            && (a > 99 || b > 16)
        {
            let slash = start + n.len();
            let whole = |n: u32| Kind::Whole(f64::from(n));
            let tag = Tag::None;
            out.push(Piece {
                kind: whole(a),
                tag,
                start,
                end: slash,
            });
            out.push(Piece {
                kind: Kind::Sign('/'),
                tag,
                start: slash,
                end: slash + 1,
            });
            out.push(Piece {
                kind: whole(b),
                tag,
                start: slash + 1,
                end,
            });
            continue;
        }
        let tag = match kind {
            Kind::Word => match word {
                "oF" => Tag::Fahrenheit,
                "oC" => Tag::Celsius,
                _ => tag(word),
            },
            Kind::Sign('°' | '˚') => Tag::Degree,
            Kind::Sign('℃') => Tag::Celsius,
            Kind::Sign('℉') => Tag::Fahrenheit,
            Kind::Sign('&') => Tag::And,
            Kind::Sign('×') => Tag::X,
            Kind::Sign('"' | '″' | '”') => Tag::Length(25.4),
            Kind::Sign('%') => Tag::Percent,
            Kind::Sign('~') => Tag::About,
            _ => Tag::None,
        };
        out.push(Piece {
            kind,
            tag,
            start,
            end,
        });
    }
    // 'Chill another hour': one more.
    for i in 1..out.len() {
        let more = &mut out[i - 1..=i];
        if matches!(more[1].tag, Tag::Time(..))
            && text[more[0].start..more[0].end].eq_ignore_ascii_case("another")
        {
            more[0].tag = Tag::Article;
        }
    }
    out
}

/// A number or range as written, and the piece behind it.
#[derive(Debug, Clone, Copy)]
struct Number {
    first: f64,
    likely: f64,
    last: f64,
    next: usize,
}

impl Number {
    fn one(n: f64, next: usize) -> Self {
        Self {
            first: n,
            likely: n,
            last: n,
            next,
        }
    }
    /// In order, each value times `factor`; `None` when absurd.
    fn spread(self, factor: f64, top: f64) -> Option<(f64, f64, f64)> {
        let (a, b) = (
            self.first.min(self.last) * factor,
            self.first.max(self.last) * factor,
        );
        (b.is_finite() && (0.0..=top).contains(&a) && b <= top).then_some((
            a,
            self.likely * factor,
            b,
        ))
    }
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Scale {
    F,
    C,
    Gas,
}

/// Temperatures standing together: `350°F/180°C/gas 4`.
#[derive(Debug, Clone, Copy)]
struct Group {
    /// Its first fact.
    from: usize,
    /// The piece behind its last temperature.
    end: usize,
    scale: Scale,
}

struct Scan<'a> {
    text: &'a str,
    t: &'a [Piece],
    facts: Vec<Fact>,
    doubts: Vec<Doubt>,
    /// Orders without a time so far, and where.
    doing: Vec<(Activity, usize, usize)>,
    /// Bits of activities already ordered, and of those with a time.
    seen: u32,
    timed: u32,
    /// The nearest order before, in this sentence.
    last: Option<Activity>,
    /// Whether that is only 'leave' or 'set aside'.
    weak: bool,
    /// The order of this clause.
    clause: Option<Activity>,
    /// Times still without an order.
    waiting: Vec<usize>,
    /// The last time after a weak order, and whether its clause still runs.
    resting: Option<(usize, bool)>,
    /// What temperatures here are of.
    heat: Option<Heat>,
    /// The step speaks of growing.
    grow: bool,
    /// The step speaks of a skillet or of frying.
    frying: bool,
    /// Fat was melted or heated, and nothing wet has come to it.
    hot_fat: bool,
    /// Where 'fan' stands before a temperature.
    fan: Option<usize>,
    group: Option<Group>,
    /// The last scale written out in this step.
    scale: Option<Scale>,
    /// Pieces before this belong to a fact or an earlier sentence.
    floor: usize,
    /// The first piece of the clause.
    begin: usize,
    /// Where the sentence begins: its first fact, and its first piece.
    opens: (usize, usize),
}

fn bit(a: Activity) -> u32 {
    1 << (a as u32)
}

impl<'a> Scan<'a> {
    fn new(text: &'a str, t: &'a [Piece]) -> Self {
        Self {
            text,
            t,
            facts: Vec::new(),
            doubts: Vec::new(),
            doing: Vec::new(),
            seen: 0,
            timed: 0,
            last: None,
            weak: false,
            clause: None,
            waiting: Vec::new(),
            resting: None,
            heat: None,
            grow: false,
            frying: false,
            hot_fat: false,
            fan: None,
            group: None,
            scale: None,
            floor: 0,
            begin: 0,
            opens: (0, 0),
        }
    }

    /// A sentence ends.
    fn sentence(&mut self, next: usize) {
        // 'Oven 220 °C, 25 minutes.'
        let hot = |f: &Fact| {
            matches!(
                f.kind,
                FactKind::Temperature {
                    of: Heat::Oven | Heat::FanOven,
                    ..
                }
            )
        };
        // 'Reduce to 150 °C for half an hour.'
        let baked = self.heat == Some(Heat::Oven) || self.facts[self.opens.0..].iter().any(hot);
        for at in std::mem::take(&mut self.waiting) {
            if baked {
                self.name_time(at, Activity::Bake);
            } else if self.is_long(at) && self.is_over_heat(next) {
                self.name_time(at, Activity::Boil);
            }
        }
        self.bakes_by_its_heat();
        self.opens = (self.facts.len(), next);
        self.last = None;
        self.weak = false;
        self.resting = None;
        self.heat = None;
        self.grow = false;
        self.floor = self.floor.max(next);
        self.clause(next);
    }
    fn clause(&mut self, next: usize) {
        self.clause = None;
        self.begin = next;
        if let Some((_, open)) = &mut self.resting {
            *open = false;
        }
    }

    fn run(&mut self) {
        self.frying = (0..self.t.len()).any(|i| self.is_frying_pan(i));
        let mut i = 0;
        while i < self.t.len() {
            let gap = i.checked_sub(1).map_or(0, |j| self.t[j].end)..self.t[i].start;
            if i > 0 && self.text.as_bytes()[gap].contains(&b'\n') {
                self.sentence(i);
            }
            i = self.read(i).max(i + 1);
        }
        self.sentence(self.t.len());
        for f in &self.facts {
            if let FactKind::Duration { doing: Some(a), .. } = f.kind {
                self.timed |= bit(a);
            }
        }
        for (a, from, to) in std::mem::take(&mut self.doing) {
            if self.timed & bit(a) == 0 {
                let span = self.span(from, to);
                let kind = self.of_the_night(a, from).unwrap_or(FactKind::Doing(a));
                self.facts.push(Fact { kind, span });
            }
        }
        self.facts.sort_by_key(|f| f.span.start);
    }

    /// Reads at piece `i`; the piece to go on with.
    fn read(&mut self, i: usize) -> usize {
        self.note_fat(i);
        if self.stops(i) {
            self.sentence(i + 1);
            return i + 1;
        }
        if let Some(',' | ';' | ':' | '(' | ')') = self.sign(i) {
            self.clause(i + 1);
            return i + 1;
        }
        if self.is_number(i) || matches!(self.tag(i), Tag::Number(_) | Tag::Tens(_)) {
            let read = self
                .temperature(i)
                .or_else(|| self.duration(i))
                .or_else(|| self.growth(i))
                .or_else(|| self.thickness(i));
            return read.unwrap_or(i + 1);
        }
        if let Some((a, order)) = self.order(i) {
            self.act(i, a, order);
            return i + 1;
        }
        match self.tag(i) {
            Tag::Few(..) | Tag::Overnight => return self.duration(i).unwrap_or(i + 1),
            Tag::Article | Tag::Half | Tag::Quarter | Tag::Third => {
                return self
                    .duration(i)
                    .or_else(|| self.growth(i))
                    .or_else(|| self.thickness(i))
                    .unwrap_or(i + 1);
            }
            Tag::Gas | Tag::Mark if self.tag(i) == Tag::Gas || self.heat == Some(Heat::Oven) => {
                return self.gas(i).unwrap_or(i + 1);
            }
            Tag::Double | Tag::Doubled | Tag::Triple | Tag::Twice => return self.doubling(i),
            Tag::Puffy => self.puffing(i),
            Tag::Pan | Tag::PanAlone => return self.pan(i),
            Tag::And | Tag::Then => self.clause(i + 1),
            Tag::Weak => {
                self.last = Some(Activity::Rest);
                self.weak = true;
                self.clause = None;
                self.resting = None;
            }
            Tag::Fan => {
                self.fan = Some(i);
                self.heat = Some(Heat::Oven);
            }
            Tag::Oven => {
                self.place(i, Activity::Bake);
                if !matches!(self.back(i, 1), Tag::PanKind) {
                    self.heat = Some(Heat::Oven);
                    self.oven_word(i);
                }
            }
            Tag::Cold(a) => {
                self.place(i, a);
                self.heat = Some(Heat::Other);
            }
            Tag::Core => self.heat = Some(Heat::Core),
            Tag::Reads if self.heat != Some(Heat::Other) => self.heat = Some(Heat::Core),
            Tag::Liquid if self.heat.is_none() => self.heat = Some(Heat::Other),
            Tag::Grow => self.grow = true,
            Tag::Size => self.grow = true,
            Tag::Reduce => self.grow = false,
            _ => {}
        }
        i + 1
    }
}
