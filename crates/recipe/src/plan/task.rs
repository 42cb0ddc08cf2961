//! A task: a stretch of work at the bench, and the wait that follows it.

use super::noted::Handwork;
use super::table::Usual;
use std::fmt;

/// Minutes: least, usual, most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Least.
    pub least: f64,
    /// Usual.
    pub usual: f64,
    /// Most.
    pub most: f64,
}

impl Span {
    /// One figure.
    #[must_use]
    pub fn one(minutes: f64) -> Self {
        Self {
            least: minutes,
            usual: minutes,
            most: minutes,
        }
    }
    /// From least to most, usual in the middle.
    #[must_use]
    pub fn of(least: f64, usual: f64, most: f64) -> Self {
        Self { least, usual, most }
    }
    /// So many times as long.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self {
            least: self.least * factor,
            usual: self.usual * factor,
            most: self.most * factor,
        }
    }
    /// One after the other.
    #[must_use]
    pub fn then(self, next: Self) -> Self {
        Self {
            least: self.least + next.least,
            usual: self.usual + next.usual,
            most: self.most + next.most,
        }
    }
}

impl From<quantity::Spread<quantity::Time>> for Span {
    fn from(t: quantity::Spread<quantity::Time>) -> Self {
        Self {
            least: t.low().as_minutes(),
            usual: t.likely().as_minutes(),
            most: t.high().as_minutes(),
        }
    }
}

/// Where a wait is spent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    /// In the room: rests, rises, cools.
    Bench,
    /// In the fridge, a shelf of it.
    Fridge,
    /// In the freezer.
    Freezer,
    /// In the oven, a rack of it.
    Oven,
    /// On the stove, looked at now and then.
    Stove,
}

impl Place {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Bench,
        Self::Fridge,
        Self::Freezer,
        Self::Oven,
        Self::Stove,
    ];

    /// Its key: `bench`, `fridge`, `freezer`, `oven`, `stove`.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Bench => "bench",
            Self::Fridge => "fridge",
            Self::Freezer => "freezer",
            Self::Oven => "oven",
            Self::Stove => "stove",
        }
    }
    /// The place of a key.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|p| p.key() == key)
    }
    /// Whether it takes no rack and no shelf.
    #[must_use]
    pub fn is_open(self) -> bool {
        matches!(self, Self::Bench | Self::Stove)
    }
    /// Whether what stands there is at 5 °C or below.
    #[must_use]
    pub fn is_cold(self) -> bool {
        matches!(self, Self::Fridge | Self::Freezer)
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Bench => "in the room",
            Self::Fridge => "in the fridge",
            Self::Freezer => "in the freezer",
            Self::Oven => "in the oven",
            Self::Stove => "on the stove",
        })
    }
}

/// Time that passes without anybody.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wait {
    /// Minutes.
    pub span: Span,
    /// Any length within the span will do: a chill, a rest. Otherwise it takes as long as it
    /// takes, and is planned at its longest: a rise, a bake.
    pub may: bool,
    /// Where.
    pub place: Place,
    /// °C on the still oven's dial, where it is in the oven and the method says.
    pub oven: Option<f64>,
}

/// What a figure rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The method says so.
    Said,
    /// The rework has its own figure.
    Reworked,
    /// The table of practice: a guess.
    Guess,
    /// The baker's own figure.
    Own,
}

impl Basis {
    /// Its word: `said`, `reworked`, `guess`, `own`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Said => "said",
            Self::Reworked => "reworked",
            Self::Guess => "guess",
            Self::Own => "own",
        }
    }
}

/// A stretch of work, and the wait that follows it without a gap.
#[derive(Debug, Clone, PartialEq)]
pub struct Task {
    /// Its key, the same however the recipe is worked: `COMPONENT:WHAT`, a later one of the same
    /// ends in `#2`; `own:N` where the baker added it.
    pub key: String,
    /// The component it is about, by place in the recipe.
    pub component: usize,
    /// That component's name; empty where the recipe has one part.
    pub of: String,
    /// What is done: `Mix`, `Rise`, `Heat the oven`.
    pub name: String,
    /// Its first activity's row in the table of practice.
    pub what: &'static str,
    /// The step of the method, from 1; `None` where the method does not have it.
    pub step: Option<usize>,
    /// Bytes of that step's text where it begins.
    pub at: usize,
    /// Minutes at work. Planned at the most.
    pub hands: Span,
    /// What that rests on.
    pub hands_basis: Basis,
    /// The wait, where it has one.
    pub wait: Option<Wait>,
    /// What that rests on.
    pub wait_basis: Basis,
    /// The longest of it is ours, a guess, where the method says only how long it takes.
    pub longest_ours: bool,
    /// The mixer is in use while the work lasts.
    pub mixer: bool,
    /// Racks or shelves it takes while it waits.
    pub racks: u32,
    /// Tasks that come before it, by place in the list.
    pub after: Vec<usize>,
    /// Those of them that it follows while they are still warm.
    pub soon: Vec<usize>,
    /// Most minutes that it follows those by.
    pub soon_within: f64,
    /// It heats what spoils in its part; not so where only onions fry beside the cream.
    pub cooks: bool,
    /// It is heated on the stove, whatever its first work is: 'Whisk the yolks, pour the milk over, simmer'.
    pub simmers: bool,
    /// Most minutes that what it makes may stand before the next task begins.
    pub stands: f64,
    /// The task that meat in it goes on with, of whatever part: it may not stand longer before that.
    pub spoils: Option<usize>,
    /// What leaving it out costs, where it may be left out.
    pub optional: Option<String>,
    /// The baker leaves it out.
    pub left_out: bool,
    /// What is to know: a limit that shortened it, what to look for.
    pub notes: Vec<String>,
    /// Where the figures come from that are not the method's own.
    pub source: String,
    /// What was read that the rework has changed: `Rise, 90 min in the original`.
    pub was: Option<String>,
    /// What hands do in it beside what its name says.
    pub handwork: Handwork,
}

/// An oven that is hot waits so many minutes at most: common practice, no source.
const KEPT_HOT: i64 = 30;

impl Task {
    /// One as practice has it: minutes and source of a row of the table, after nothing yet.
    pub(super) fn usual((component, of): (usize, &str), usual: &Usual, name: &str) -> Self {
        Self {
            key: String::new(),
            component,
            of: of.to_owned(),
            name: name.to_owned(),
            what: usual.key,
            step: None,
            at: 0,
            hands: usual.hands,
            hands_basis: Basis::Guess,
            wait: usual.wait,
            wait_basis: Basis::Guess,
            longest_ours: false,
            mixer: false,
            racks: 1,
            after: Vec::new(),
            soon: Vec::new(),
            soon_within: super::join::HOT,
            cooks: true,
            simmers: false,
            stands: usual.stands,
            spoils: None,
            optional: None,
            left_out: false,
            notes: Vec::new(),
            source: usual.source.to_owned(),
            was: None,
            handwork: Handwork::default(),
        }
    }
    /// Its name with the component's: `Rise (dough)`.
    #[must_use]
    pub fn title(&self) -> String {
        if self.of.is_empty() {
            self.name.clone()
        } else {
            format!("{} ({})", self.name, self.of)
        }
    }
    /// Whether it heats on the stove what spoils in its part.
    #[must_use]
    pub fn is_cooked_on_the_stove(&self) -> bool {
        self.simmers || matches!(self.what, "boil" | "fry") && self.cooks
    }
    /// Minutes of work that are planned.
    #[must_use]
    pub fn hands_planned(&self) -> i64 {
        self.hands.usual.ceil().max(0.0) as i64
    }
    /// Where it is when its work began at a minute, as it is planned: when its work ends, and its wait.
    #[must_use]
    pub fn begun_at(&self, start: super::Minute) -> (super::Minute, super::Minute) {
        let to = |m: i64| super::Minute::try_from(m).unwrap_or(super::Minute::MAX / 4);
        let work_end = start.saturating_add(to(self.hands_planned()));
        (work_end, work_end.saturating_add(to(self.wait_planned().0)))
    }
    /// The wait as planned, minutes from and to: one length where it takes as long as it takes.
    #[must_use]
    pub fn wait_planned(&self) -> (i64, i64) {
        self.wait.map_or((0, 0), |w| {
            let most = w.span.most.floor().max(w.span.least.ceil()) as i64;
            if self.what == "preheat" {
                // Hot for certain, and kept hot until it is wanted.
                (most, most + KEPT_HOT)
            } else if w.may {
                (w.span.least.ceil() as i64, most)
            } else {
                (w.span.most.ceil() as i64, w.span.most.ceil() as i64)
            }
        })
    }
    /// What its wait rests on, in words: `said`; `shortest said, longest a guess`.
    #[must_use]
    pub fn wait_rests(&self) -> String {
        match self.wait {
            Some(w) if self.longest_ours && w.span.most > w.span.least => {
                format!("shortest {}, longest a guess", self.wait_basis.word())
            }
            _ => self.wait_basis.word().to_owned(),
        }
    }
    /// Whether any of its figures is a guess.
    #[must_use]
    pub fn guessed(&self) -> bool {
        self.hands_basis == Basis::Guess && self.hands.most > 0.0
            || self.wait.is_some() && self.wait_basis == Basis::Guess
    }
}

/// Where what a task makes is kept until the next takes it, where that is more than an hour: in the
/// cold it waited in, covered in the room for a bake, else in the fridge. `None` for what is weighed
/// out, a hot oven, or what is in the oven still.
#[must_use]
pub fn kept_in(task: &Task) -> Option<Place> {
    kept_after(task.what, task.wait.map(|w| w.place))
}

/// The same of a row of the table of practice, and where it waits.
#[must_use]
pub fn kept_after(what: &str, waits: Option<Place>) -> Option<Place> {
    let cold = waits.filter(|p| p.is_cold());
    match what {
        "weigh" | "preheat" | "heat_fat" | "bake" => None,
        _ if cold.is_some() => cold,
        "take_out" | "cool" | "cool_rolls" | "cool_loaf" => Some(Place::Bench),
        _ => Some(Place::Fridge),
    }
}
