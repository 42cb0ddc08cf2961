//! What is to be scheduled.

/// A stretch of time, half open: `from` is in it, `to` is not. Minutes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Span {
    /// The first minute.
    pub from: i32,
    /// The minute after the last; more than `from`.
    pub to: i32,
}

/// The place of an activity in its problem, in order of adding, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ActivityId(pub usize);

/// The place of a lag in its problem, in order of adding, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct LagId(pub usize);

/// The place of a resource in its problem, in order of adding, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ResourceId(pub usize);

/// The place of a calendar in its problem, in order of adding, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct CalendarId(pub usize);

/// The place of a choice in its problem, in order of adding, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ChoiceId(pub usize);

/// The place of a [`Follow`] in its problem, in order of adding, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FollowId(pub usize);

/// Whether a rule may give way when the problem is impossible, and how dearly. Only an explanation
/// of a clash looks at this: a solution keeps every rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Give {
    /// Never: a fact, not a wish.
    Never,
    /// At this price for each minute (for each unit, where it is a capacity); 1 or more.
    At(u32),
}

/// How long an activity lasts, minutes. The schedule chooses between the two.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Length {
    /// The shortest, 0 or more.
    pub least: i32,
    /// The longest, not less than `least`.
    pub most: i32,
}

impl Length {
    /// Neither shorter nor longer.
    #[must_use]
    pub const fn fixed(minutes: i32) -> Self {
        Self {
            least: minutes,
            most: minutes,
        }
    }
}

/// When something may be at the earliest and at the latest, both included; `None` is no bound.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Window {
    /// Not before this minute.
    pub earliest: Option<i32>,
    /// Not after this minute.
    pub latest: Option<i32>,
}

/// Units of a resource that an activity holds from its start to its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Need {
    /// Which resource.
    pub resource: ResourceId,
    /// How many units, 0 or more.
    pub amount: u32,
    /// The state the resource must be in meanwhile, such as a temperature, counted from 0.
    /// `None`: any. Two activities that need different states never hold it at the same time.
    pub state: Option<usize>,
    /// It brings the resource into that state itself: no change is waited for before it.
    pub brings: bool,
}

/// What of an activity must keep out of a calendar's closed spans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kept {
    /// No minute of it may be in one: attended work.
    Whole,
    /// It may not start in one, but may run through it.
    Start,
    /// It may not end in one, but may run through it; it may end on the minute one begins.
    End,
}

/// An activity keeps out of a calendar's closed spans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Avoid {
    /// Which calendar.
    pub calendar: CalendarId,
    /// What of the activity keeps out.
    pub kept: Kept,
}

/// Something that takes time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Activity {
    /// How long it lasts.
    pub length: Length,
    /// When it may start.
    pub start: Window,
    /// When it may end.
    pub end: Window,
    /// Whether the two windows may give way in an explanation.
    pub give: Give,
    /// What it holds while it lasts; a resource at most once.
    pub needs: Vec<Need>,
    /// The calendars it keeps out of.
    pub avoids: Vec<Avoid>,
    /// Whether it may be left out. Rules on an activity that is left out do not bind.
    pub optional: bool,
}

impl Activity {
    /// An activity that is always there, needs nothing and may be at any time; its windows, once
    /// set, give way at a price of 1.
    #[must_use]
    pub const fn new(length: Length) -> Self {
        Self {
            length,
            start: Window {
                earliest: None,
                latest: None,
            },
            end: Window {
                earliest: None,
                latest: None,
            },
            give: Give::At(1),
            needs: Vec::new(),
            avoids: Vec::new(),
            optional: false,
        }
    }
}

/// One of the two ends of an activity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Edge {
    /// Its start.
    Start,
    /// Its end.
    End,
}

/// A moment of an activity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Point {
    /// Which activity.
    pub activity: ActivityId,
    /// Which end of it.
    pub edge: Edge,
}

impl Point {
    /// The start of an activity.
    #[must_use]
    pub const fn start(activity: ActivityId) -> Self {
        Self {
            activity,
            edge: Edge::Start,
        }
    }

    /// The end of an activity.
    #[must_use]
    pub const fn end(activity: ActivityId) -> Self {
        Self {
            activity,
            edge: Edge::End,
        }
    }
}

/// The time from one moment to another: `least ≤ to − from ≤ most`, minutes, either may be
/// negative. It binds only when both activities are there: where a middle step may be left out,
/// give the lag past it too.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Lag {
    /// From here.
    pub from: Point,
    /// To here.
    pub to: Point,
    /// The shortest, if there is one.
    pub least: Option<i32>,
    /// The longest, if there is one.
    pub most: Option<i32>,
    /// Whether it may give way in an explanation.
    pub give: Give,
}

impl Lag {
    /// `after` starts at least `least` minutes after `before` ends, and at most `most` minutes
    /// after if that is given. A fact: it never gives way.
    #[must_use]
    pub const fn after(
        before: ActivityId,
        after: ActivityId,
        least: i32,
        most: Option<i32>,
    ) -> Self {
        Self {
            from: Point::end(before),
            to: Point::start(after),
            least: Some(least),
            most,
            give: Give::Never,
        }
    }
}

/// How long a resource takes from one state to another, minutes. It lies between any two
/// activities that need different states, in the order they come.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Changeover {
    /// The same between any two states.
    Same(i32),
    /// `table[from][to]`; the diagonal is not looked at. A way round through a third state should
    /// not be shorter than the way straight.
    Table(Vec<Vec<i32>>),
}

/// Units of a resource that are spoken for already.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Taken {
    /// When.
    pub span: Span,
    /// How many units.
    pub amount: u32,
}

/// Something of which there are so many, and which is free again afterwards.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Resource {
    /// How many units there are.
    pub capacity: u32,
    /// How long a change of state takes.
    pub changeover: Changeover,
    /// What is spoken for already.
    pub taken: Vec<Taken>,
    /// Whether more units may be had in an explanation, at a price for each.
    pub give: Give,
}

impl Resource {
    /// So many units, all free, with changes of state that take no time; no more to be had.
    #[must_use]
    pub const fn new(capacity: u32) -> Self {
        Self {
            capacity,
            changeover: Changeover::Same(0),
            taken: Vec::new(),
            give: Give::Never,
        }
    }
}

/// Hours that are closed to the activities that avoid them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Calendar {
    /// The closed spans, ascending and apart.
    pub closed: Vec<Span>,
    /// Whether closed spans may be cut short at either end in an explanation, at a price for each
    /// minute, however many activities then use it.
    pub give: Give,
}

/// How many of some optional activities are there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// Which, each at most once.
    pub among: Vec<ActivityId>,
    /// At least so many.
    pub least: usize,
    /// At most so many.
    pub most: usize,
}

/// Where one activity is there, the other is too.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Follow {
    /// If this is there,
    pub when: ActivityId,
    /// so is this.
    pub then: ActivityId,
}

/// Something to be counted in a goal. Of an activity that is left out every count but
/// [`Term::Skipped`] is 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Term {
    /// The earliest start of all activities that are there; the beginning of the span if none is.
    FirstStart,
    /// The latest end of all activities that are there; the beginning of the span if none is.
    LastEnd,
    /// The minute an activity starts.
    Start(ActivityId),
    /// The minute an activity ends.
    End(ActivityId),
    /// 1 if an activity is left out, else 0.
    Skipped(ActivityId),
    /// By how many minutes the time between a lag's two moments is more than this.
    LagOver(LagId, i32),
    /// By how many minutes an activity is longer than this.
    LongerThan(ActivityId, i32),
    /// By how many minutes an activity is shorter than this.
    ShorterThan(ActivityId, i32),
    /// By how many minutes an activity ends before this.
    EndsBefore(ActivityId, i32),
    /// By how many minutes an activity ends after this.
    EndsAfter(ActivityId, i32),
    /// By how many minutes an activity starts before this.
    StartsBefore(ActivityId, i32),
    /// By how many minutes an activity starts after this.
    StartsAfter(ActivityId, i32),
}

/// A sum that is to be as small as can be: each term times its weight, which may be negative.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Goal {
    /// Weights and terms.
    pub terms: Vec<(i32, Term)>,
}

impl Goal {
    /// The last end as early as can be: forward from now.
    #[must_use]
    pub fn soonest() -> Self {
        Self {
            terms: vec![(1, Term::LastEnd)],
        }
    }

    /// The first start as late as can be: backwards from a fixed end.
    #[must_use]
    pub fn latest_start() -> Self {
        Self {
            terms: vec![(-1, Term::FirstStart)],
        }
    }

    /// The time from the first start to the last end as short as can be.
    #[must_use]
    pub fn shortest() -> Self {
        Self {
            terms: vec![(1, Term::LastEnd), (-1, Term::FirstStart)],
        }
    }
}

/// What is to be scheduled: filled by adding, each addition giving the index that later ones use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Everything starts and ends within this, both ends included.
    pub span: Span,
    /// Whether the span may begin sooner in an explanation, at a price for each minute, however
    /// many activities then use it. Closed spans should reach as far as it may be stretched.
    pub sooner: Give,
    /// Whether the span may end later in an explanation, likewise.
    pub later: Give,
    /// The activities.
    pub activities: Vec<Activity>,
    /// The lags.
    pub lags: Vec<Lag>,
    /// The resources.
    pub resources: Vec<Resource>,
    /// The calendars.
    pub calendars: Vec<Calendar>,
    /// The choices.
    pub choices: Vec<Choice>,
    /// What follows from what.
    pub follows: Vec<Follow>,
    /// What is minimised: the first goal above all, each further one among the schedules that are
    /// best in those before it. None: any schedule will do.
    pub goals: Vec<Goal>,
}

impl Problem {
    /// Nothing yet, within a span that never gives way.
    #[must_use]
    pub const fn new(span: Span) -> Self {
        Self {
            span,
            sooner: Give::Never,
            later: Give::Never,
            activities: Vec::new(),
            lags: Vec::new(),
            resources: Vec::new(),
            calendars: Vec::new(),
            choices: Vec::new(),
            follows: Vec::new(),
            goals: Vec::new(),
        }
    }

    /// Adds an activity.
    pub fn activity(&mut self, activity: Activity) -> ActivityId {
        self.activities.push(activity);
        ActivityId(self.activities.len() - 1)
    }

    /// Adds a lag.
    pub fn lag(&mut self, lag: Lag) -> LagId {
        self.lags.push(lag);
        LagId(self.lags.len() - 1)
    }

    /// Adds a resource.
    pub fn resource(&mut self, resource: Resource) -> ResourceId {
        self.resources.push(resource);
        ResourceId(self.resources.len() - 1)
    }

    /// Adds a calendar.
    pub fn calendar(&mut self, calendar: Calendar) -> CalendarId {
        self.calendars.push(calendar);
        CalendarId(self.calendars.len() - 1)
    }

    /// Adds a choice.
    pub fn choice(&mut self, choice: Choice) -> ChoiceId {
        self.choices.push(choice);
        ChoiceId(self.choices.len() - 1)
    }

    /// Adds that one activity's being there follows from another's.
    pub fn follow(&mut self, when: ActivityId, then: ActivityId) -> FollowId {
        self.follows.push(Follow { when, then });
        FollowId(self.follows.len() - 1)
    }

    /// Adds a goal, after those there are.
    pub fn goal(&mut self, goal: Goal) {
        self.goals.push(goal);
    }
}
