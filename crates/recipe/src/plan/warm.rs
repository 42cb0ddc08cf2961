//! How long what holds egg or milk may stand warm.

use super::order::reaches;
use super::own::minutes_words;
use super::stands::{Breach, shorten_words, shorter};
use super::step::{COLD_LIMIT, capital};
use super::task::{Basis, Place, Span, Task, Wait};

/// So many minutes above 5 °C, all told, are the limit for raw dough or batter with egg or milk.
///
/// # Source
/// USDA consumer advice on perishable food (seen): 2 hours, 1 above 32 °C. Local rules come first.
pub const WARM_LIMIT: f64 = 120.0;

/// Past so many minutes there is no plan for a raw dough or batter that is baked or fried through either.
///
/// # Source
/// 2-hour/4-hour rule, Food Standards Australia New Zealand (seen): after 4 hours between 5 and 60 °C it is
/// thrown away. Local rules come first.
pub const WARM_WALL: f64 = 240.0;

/// Minutes kept free in each warm stretch, where there are any: common practice, no source.
const PLAY: f64 = 5.0;

/// What is said where a limit counts.
pub const WARM_WORDS: &str = "with egg or milk in it, time above 5 °C counts towards a limit of 2 hours, mixing and shaping included (1 hour above 32 °C; your local rules come first)";

/// What is said of the cold hours beside [`WARM_WORDS`].
pub const FRIDGE_WORDS: &str = "Keep the fridge at 5 °C or below; there it stays 24 hours at most in all until it is cooked (common practice, no source; your local rules come first); those hours do not count as warm, but a thick piece takes hours to get cold: flatten it, or make smaller pieces";

/// Longest time from one task to the wait of another, or until it is eaten.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limit {
    /// The task that begins it.
    pub from: usize,
    /// It is counted from that task's end: what spoils is weighed out last, or leaves the heat or
    /// the cold then. Otherwise from the start of its work.
    pub after: bool,
    /// The task whose wait ends it: it goes into the cold, or into the oven. Where that task has
    /// no wait, its end. `None`: it is eaten.
    pub to: Option<usize>,
    /// That task boils it in a pan: its start ends it.
    pub boils: bool,
    /// Minutes that the plan keeps to where it can: a slow baker has room in them.
    pub most: i64,
    /// Minutes past which there is no plan.
    pub wall: i64,
    /// Minutes that slow work adds between the two.
    pub slower: i64,
    /// What it is of: the component, and the heats that this has come from. The limits of one are summed.
    pub leg: (usize, usize),
}

impl Limit {
    /// One that has nothing beside it, and is a wall.
    #[must_use]
    pub const fn of(from: usize, after: bool, to: Option<usize>, most: i64) -> Self {
        Self {
            from,
            after,
            to,
            boils: false,
            most,
            wall: most,
            slower: 0,
            leg: (0, 0),
        }
    }
    /// When it begins to count, of where its first task lies.
    pub(super) fn begins<T: Copy>(&self, start: T, end: T) -> T {
        if self.after { end } else { start }
    }
    /// When it ends, of where its last task lies: the start of its work, and the end.
    #[must_use]
    pub fn ends<T: Copy>(&self, start: T, work_end: T) -> T {
        if self.boils { start } else { work_end }
    }
}

/// How long a part with egg or milk stands above 5 °C from its weighing out to the heat, or until it
/// is eaten or chilled for good, all told, work included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Warm {
    /// The component, by place in the recipe.
    pub component: usize,
    /// Minutes of work in it, as a slow baker works.
    pub work: f64,
    /// Minutes at such work, its waits at their shortest.
    pub least: f64,
    /// Minutes at such work, as it is planned: what takes as long as it takes at its longest.
    pub most: f64,
    /// It waits in the room; otherwise it is all work.
    pub waits: bool,
    /// It comes to the heat; otherwise it is eaten raw.
    pub heated: bool,
}

/// What the hours of egg and milk come to.
#[derive(Debug, Default)]
pub(super) struct Hours {
    pub limits: Vec<Limit>,
    pub breaches: Vec<Breach>,
    pub warm: Vec<Warm>,
}

/// What is said of a part that stays moist when it is cooked.
const COOKED_WORDS: &str = "it holds egg or milk and stays moist, so after cooking 2 hours in the room is the limit, cooling and serving included (1 hour above 32 °C; your local rules come first); after that it belongs in the fridge";

/// What is left in an oven that is off comes out so much sooner that the hours out of the fridge suffice, where that
/// is no half of its time.
fn out_of_the_oven_sooner(list: &mut [Task], raw: &[usize], by: f64) -> bool {
    let oven = |t: &Task| {
        let wait = t
            .wait
            .filter(|w| w.place == Place::Oven && t.what != "bake");
        wait.is_some_and(|w| w.span.least - by >= w.span.least / 2.0)
    };
    let Some(&at) = raw.iter().find(|&&t| oven(&list[t])) else {
        return false;
    };
    let t = &mut list[at];
    let Some(wait) = &mut t.wait else {
        return false;
    };
    let said = minutes_words(wait.span.least);
    let to = ((wait.span.least - by) / 5.0).floor() * 5.0;
    wait.span = Span::one(to);
    t.notes.push(format!(
        "The method leaves it there for {said}; with that it would be above 5 °C for more than 2 hours in all, so it is planned for {} (your local rules come first).",
        minutes_words(to)
    ));
    t.was = Some(format!("{}, {said}", t.what));
    true
}

/// Finds the limits of each part with egg or milk, and shortens what takes as long as it takes so
/// that it fits them.
///
/// `before`:
/// whether a task is done before the egg and milk of its part are taken. `bare`: whether a step's heat on the stove is of no food that its words name. `moist`: a part that spoils cooked as well, such as a custard; not a bread or a cake. `dough`: what
/// holds them is a dough or batter. `given`: where the egg and milk of each part go on with another.
pub(super) fn limits(
    list: &mut [Task],
    perishable: impl Fn(usize) -> bool,
    moist: impl Fn(usize) -> bool,
    dough: impl Fn(usize) -> bool,
    before: impl Fn(&Task) -> bool,
    bare: impl Fn(&Task) -> bool,
    given: &[Option<usize>],
) -> Hours {
    let mut out = Hours::default();
    let mut parts: Vec<usize> = list.iter().map(|t| t.component).collect();
    parts.sort_unstable();
    parts.dedup();
    for c in parts.into_iter().filter(|c| perishable(*c)) {
        for t in list.iter_mut().filter(|t| t.component == c && !t.left_out) {
            if t.wait.is_some_and(|w| w.place == Place::Fridge) {
                shorten(t, COLD_LIMIT);
            }
        }
        let path = path(list, c, given.get(c).copied().flatten());
        // 'Fill and pinch shut. Steam for 8 minutes': in the pan of the part that took it in before.
        let inside = |t: usize| {
            let mut before = path.iter().take_while(|b| **b != t);
            before.any(|&b| list[b].component == list[t].component)
        };
        let on_the_stove = |t: usize| {
            let task = &list[t];
            matches!(task.what, "boil" | "fry") && task.cooks && inside(t) && bare(task)
        };
        let heated = |t: usize| heats(&list[t], c) || on_the_stove(t);
        let mut legs: Vec<Leg> = Vec::new();
        let mut from = None;
        for part in path.split_inclusive(|&t| heated(t)) {
            let hot = part.last().copied().filter(|&t| heated(t));
            legs.push(Leg {
                from,
                tasks: part.to_vec(),
                hot: hot.is_some(),
                through: from.is_none() && hot.is_some() && dough(c),
                of: (c, legs.len()),
            });
            from = hot;
        }
        if !moist(c) {
            // Bread and cake do not spoil in hours.
            let heated = legs.iter().position(|l| l.hot);
            legs.truncate(heated.map_or(legs.len(), |first| first + 1));
        } else if from.is_some() {
            legs.push(Leg {
                from,
                tasks: Vec::new(),
                hot: false,
                through: false,
                of: (c, legs.len()),
            });
        }
        for leg in &legs {
            fridge(list, c, leg, &mut out.breaches);
            one(list, c, leg, &before, &mut out);
        }
    }
    out
}

/// What keeps once it is mixed, such as a sugar glaze with milk, does not before: from its weighing out to
/// the work that mixes it.
pub(super) fn until_mixed(list: &[Task], c: usize, given: Option<usize>) -> Option<Limit> {
    match path(list, c, given)[..] {
        [from, to, ..] if list[from].what == "weigh" => Some(Limit {
            leg: (c, 0),
            ..Limit::of(from, true, Some(to), WARM_LIMIT as i64)
        }),
        _ => None,
    }
}

/// The longest of a cold wait is given in half hours, min; a rise is not cut shorter than one (common practice, no
/// source).
const HALF_HOUR: f64 = 30.0;
/// Words of a wait that may be longer than the method says.
pub(super) const NO_HARM: &str = "in the fridge does no harm";

/// Tasks of a part up to its next heat, or to its end.
struct Leg {
    /// The heat it comes from.
    from: Option<usize>,
    tasks: Vec<usize>,
    /// Its last task heats it.
    hot: bool,
    /// A raw dough or batter that is baked or fried through at its end.
    through: bool,
    /// See [`Limit::leg`].
    of: (usize, usize),
}

/// Whether a task heats what spoils in a part. A pan on the stove is that of its own part.
fn heats(t: &Task, c: usize) -> bool {
    t.what == "bake" && (t.cooks || t.component == c)
        || t.is_cooked_on_the_stove() && t.component == c
}

/// The tasks of a part from its weighing to the end, through the parts that take it in: by the task
/// that it is given to, where that is known.
pub(super) fn path(list: &[Task], c: usize, given: Option<usize>) -> Vec<usize> {
    let begins = |t: &Task| t.component == c && !t.left_out && t.what != "preheat";
    let inside = |&i: &usize| begins(&list[i]);
    let mut now = (0..list.len())
        .filter(inside)
        .find(|&i| !list[i].after.iter().any(|a| begins(&list[*a])));
    let mut out: Vec<usize> = Vec::new();
    while let Some(t) = now.filter(|t| !out.contains(t)) {
        out.push(t);
        // What comes first of those that follow.
        let next = |same: bool| {
            let follows = |&i: &usize| {
                !list[i].left_out
                    && list[i].after.contains(&t)
                    && (list[i].component == list[t].component) == same
            };
            let all: Vec<usize> = (0..list.len()).filter(follows).collect();
            let first = |i: &usize| !all.iter().any(|&o| o != *i && reaches(list, o, *i));
            all.iter().copied().find(first)
        };
        let to = given.filter(|&g| list[g].after.contains(&t) && !list[g].left_out);
        now = if given == Some(t) {
            next(list[t].component != c).or_else(|| next(list[t].component == c))
        } else {
            to.or_else(|| next(true)).or_else(|| next(false))
        };
    }
    out
}

/// Keeps the hours that a leg spends in the fridge within their limit, all told.
fn fridge(list: &mut [Task], c: usize, leg: &Leg, breaches: &mut Vec<Breach>) {
    let span = |t: &Task| {
        let wait = t.wait.filter(|w| w.place == Place::Fridge);
        wait.map(|w| w.span)
    };
    let waits: Vec<usize> = leg
        .tasks
        .iter()
        .copied()
        .filter(|&t| span(&list[t]).is_some())
        .collect();
    let spans = || waits.iter().filter_map(|&t| span(&list[t]));
    let least: f64 = spans().map(|s| s.least).sum();
    let wanted: f64 = spans().map(|s| s.most - s.least).sum();
    let longest = waits.iter().copied().max_by(|&a, &b| {
        let of = |t: usize| span(&list[t]).map_or(0.0, |s| s.least);
        of(a).total_cmp(&of(b))
    });
    let Some(longest) = longest else { return };
    if least > COLD_LIMIT {
        if leg.from.is_some() {
            let words = format!(
                "{} in the fridge once it is cooked, longer than a day: how long it keeps is for your local rules.",
                minutes_words(least)
            );
            if !list[longest].notes.contains(&words) {
                list[longest].notes.push(words);
            }
            return;
        }
        let part = list.iter().find(|t| t.component == c);
        breaches.push(Breach {
            of: part.map_or_else(String::new, |t| t.of.clone()),
            cold: true,
            least,
            most: COLD_LIMIT,
            longest,
            told: false,
            ways: shorter(
                &waits
                    .iter()
                    .filter_map(|&t| Some((t, span(&list[t])?.least)))
                    .collect::<Vec<_>>(),
                least - COLD_LIMIT,
            ),
            leg: leg.of,
        });
        return;
    }
    if least + wanted <= COLD_LIMIT {
        return;
    }
    for (t, most) in shared(list, &waits, COLD_LIMIT - least) {
        // Not to the minute.
        let half_hours = (most / HALF_HOUR).floor() * HALF_HOUR;
        let cut = list[t].wait.is_some_and(|w| most < w.span.most);
        if cut && shorten(&mut list[t], half_hours) {
            no_longer(
                &mut list[t],
                "with egg or milk in it, 24 h in the fridge is the limit, all its waits there together (common practice, no source; your local rules come first)",
            );
        }
    }
}

/// How long each of some waits may be, where so many minutes are free above their shortest: the baker's
/// own longest first, then what is said, and guesses last; alike ones by what each wants.
fn shared(list: &[Task], waits: &[usize], mut free: f64) -> Vec<(usize, f64)> {
    let own = |t: &Task| match t.wait_basis {
        _ if t.longest_ours => 0,
        Basis::Guess => 0,
        Basis::Own => 2,
        Basis::Said | Basis::Reworked => 1,
    };
    let mut out = Vec::new();
    for rank in [2, 1, 0] {
        let alike = waits.iter().filter(|&&t| own(&list[t]) == rank);
        let spans = alike.filter_map(|&t| Some((t, list[t].wait?.span)));
        let wanted: f64 = spans.clone().map(|(_, s)| s.most - s.least).sum();
        let share = if wanted > free { free / wanted } else { 1.0 };
        out.extend(spans.map(|(t, s)| (t, s.least + (s.most - s.least) * share)));
        free = (free - wanted).max(0.0);
    }
    out
}

/// Makes a task's wait no longer than this, and never shorter than its shortest; whether it was longer.
fn shorten(t: &mut Task, most: f64) -> bool {
    let Some(w) = t.wait.as_mut() else {
        return false;
    };
    let most = most.max(w.span.least);
    let longer = most < w.span.most;
    if longer {
        w.span.most = most;
        w.span.usual = w.span.usual.min(most);
    }
    longer
}

/// Says how long a task's wait may be at the most, and why. Where that is its least as well there is one
/// time to look.
pub(super) fn no_longer(t: &mut Task, why: &str) {
    let Some(span) = t.wait.map(|w| w.span) else {
        return;
    };
    let (least, most) = (minutes_words(span.least), minutes_words(span.most));
    if least == most {
        let (from, at) = (look_from(span.least), format!("Look at {least}:"));
        for note in &mut t.notes {
            *note = note.replacen(&from, &at, 1);
        }
    }
    // What the wait alone would stand is not said beside it.
    for note in &mut t.notes {
        if let Some((said, _)) = note
            .split_once("; up to ")
            .filter(|(_, n)| n.contains(NO_HARM))
        {
            *note = format!("{said}.");
        }
    }
    t.notes.push(format!("No longer than {most}: {why}."));
}

/// When to look at what rises, as the beginning of a sentence.
pub(super) fn look_from(least: f64) -> String {
    format!("Look from {} on:", minutes_words(least))
}

/// One leg: up to a bake, a boil or the end.
fn one(list: &mut [Task], c: usize, leg: &Leg, before: &dyn Fn(&Task) -> bool, out: &mut Hours) {
    let cold = |t: &Task| t.wait.is_some_and(|w| w.place.is_cold());
    // An oven that is turned off cools like the room; what stands beside another pan is warm.
    let heat = leg.tasks.last().filter(|_| leg.hot);
    let heat = heat.map(|&t| list[t].key.clone());
    let warm_wait = |t: &Task| {
        t.wait.filter(|w| match w.place {
            Place::Bench => true,
            Place::Oven => t.what != "bake",
            Place::Stove => heat.as_ref() != Some(&t.key),
            Place::Fridge | Place::Freezer => false,
        })
    };
    let mut clock = leg.from;
    let mut raw: &[usize] = &leg.tasks;
    // What spoils is weighed out last.
    if let Some((&first, rest)) = raw.split_first()
        && clock.is_none()
        && list[first].what == "weigh"
        && !rest.is_empty()
    {
        (clock, raw) = (Some(first), rest);
    }
    // A pan is hot soon; what is fried in turns stands until it is done.
    let boils = |list: &[Task], t: usize| {
        let last = leg.hot && Some(&t) == leg.tasks.last();
        last && list[t].wait.is_none() && list[t].what == "boil"
    };
    // Work as it is planned and as a slow baker does it, and the waits at their shortest.
    let length = |list: &[Task], raw: &[usize]| {
        let hands = |&&t: &&usize| !boils(list, t);
        let worked = || raw.iter().filter(hands).map(|&t| list[t].hands);
        let waits = raw.iter().filter_map(|&t| warm_wait(&list[t]));
        let (work, slow) = (
            worked().map(|h| h.usual).sum(),
            worked().map(|h| h.most).sum(),
        );
        (work, slow, waits.map(|w| w.span.least).sum())
    };
    let (mut work, mut slow, mut least): (f64, f64, f64) = length(list, raw);
    let longest = |w: &Wait| if w.may { w.span.least } else { w.span.most };
    let waits = raw.iter().filter_map(|&t| warm_wait(&list[t]));
    let longest: f64 = waits.map(|w| longest(&w)).sum();
    if leg.through && slow + longest > WARM_LIMIT {
        // Within a quarter of an hour nothing rises: the usual length, or half an hour of it, stays, and is told.
        for &t in raw {
            let rises = list[t].what == "rise";
            if let Some(wait) = list[t].wait.as_mut().filter(|w| rises && !w.may) {
                wait.span.least = wait.span.least.max(wait.span.usual.min(HALF_HOUR));
            }
        }
        (work, slow, least) = length(list, raw);
    }
    // Onions that fry for long: the cream stays in the fridge until they are done.
    let pans = |t: &Task| {
        let other = matches!(t.what, "boil" | "fry") && !t.cooks || t.what == "hydrate";
        t.component == c && (other || before(t))
    };
    let first_pans = raw.iter().take_while(|&&t| pans(&list[t])).count();
    if work + least > WARM_LIMIT && leg.from.is_none() && first_pans > 0 && first_pans < raw.len() {
        let (pan, rest) = (raw[first_pans - 1], &raw[first_pans..]);
        // Whoever does not weigh is told at the first pan: the shorter time rests on it.
        let words = format!(
            "Leave egg or milk in the fridge until '{}' is done.",
            list[pan].name
        );
        list[clock.unwrap_or(raw[0])].notes.push(words);
        (clock, raw) = (Some(pan), rest);
        (work, slow, least) = length(list, raw);
    }
    if work + least > WARM_LIMIT && out_of_the_oven_sooner(list, raw, slow + least - WARM_LIMIT) {
        (work, slow, least) = length(list, raw);
    }
    let waits = |list: &[Task]| -> Vec<(usize, f64)> {
        let waits = raw.iter().filter(|&&t| list[t].what != "hydrate");
        let waits = waits.map(|&t| (t, warm_wait(&list[t])));
        waits
            .filter_map(|(t, w)| Some((t, w?.span.least)))
            .collect()
    };
    let stands = !waits(list).is_empty();
    let mut told = |least: f64, most: f64| {
        if leg.from.is_none() {
            let component = c;
            out.warm.push(Warm {
                component,
                work: slow,
                least,
                most,
                waits: stands,
                heated: leg.hot,
            });
        }
    };
    if work + least > WARM_LIMIT {
        let longest = raw.iter().copied().max_by(|a, b| {
            let of = |t: &usize| {
                let t = &list[*t];
                warm_wait(t).map_or(0.0, |w| w.span.least) + t.hands.usual
            };
            of(a).total_cmp(&of(b))
        });
        let first = clock.or(raw.first().copied()).unwrap_or_default();
        let part = list.iter().find(|t| t.component == c);
        let total = work + least;
        let walled = leg.through && total > WARM_WALL;
        out.breaches.push(Breach {
            of: part.map_or_else(String::new, |t| t.of.clone()),
            cold: false,
            least: total,
            most: if walled { WARM_WALL } else { WARM_LIMIT },
            longest: longest.unwrap_or(first),
            told: leg.through && !walled,
            ways: shorter(&waits(list), total - WARM_LIMIT),
            leg: leg.of,
        });
        if !leg.through || walled {
            told(slow + least, slow + least);
            return;
        }
    } else if slow + least > WARM_LIMIT
        && let Some(&first) = raw.first()
    {
        let over = slow + least - WARM_LIMIT;
        let first_do = match shorter(&waits(list), over).as_slice() {
            [] => "Cool it in between".to_owned(),
            ways => {
                let named = |t: usize| format!("'{}'", list[t].name);
                let shorten = capital(&shorten_words(list, ways, &named));
                format!("{shorten}, or cool it in between,")
            }
        };
        list[first].notes.push(format!(
            "At slow work it stands above 5 °C for {} from here to {}, waits at their shortest: {} longer than 2 hours. {first_do} if the work takes you longer than planned.",
            minutes_words((slow + least).ceil()),
            if leg.hot { "the heat" } else { "its end" },
            minutes_words(over.ceil()),
        ));
    }
    let spare = (WARM_LIMIT - slow - least).max(0.0);
    let takes = |t: &&usize| warm_wait(&list[**t]).is_some_and(|w| !w.may);
    let takes: Vec<usize> = raw.iter().filter(takes).copied().collect();
    // Nobody works to the minute: a little of it is kept for each stretch.
    let ends = raw
        .iter()
        .filter(|&&t| cold(&list[t]) || Some(&t) == raw.last())
        .count();
    let free = (spare - PLAY * ends as f64).max(0.0);
    for (t, most) in shared(list, &takes, free) {
        let whole = list[t].wait.is_some_and(|w| most < w.span.most);
        if whole && shorten(&mut list[t], most.floor()) {
            no_longer(&mut list[t], WARM_WORDS);
        }
    }
    // A wait that may be of any length is none the longer for it.
    for &t in raw {
        let Some(wait) = list[t].wait.filter(|w| w.place == Place::Bench) else {
            continue;
        };
        if wait.may && wait.span.most > WARM_LIMIT {
            shorten(&mut list[t], WARM_LIMIT);
            let words = if leg.from.is_some() {
                COOKED_WORDS
            } else {
                WARM_WORDS
            };
            no_longer(&mut list[t], words);
        }
    }
    // What is left to play with is shared by the stretches between the cold hours.
    let mut stretches: Vec<Stretch> = Vec::new();
    let begin = |from: usize, after: bool| Stretch {
        limit: Limit {
            leg: leg.of,
            ..Limit::of(from, after, None, 0)
        },
        usual: 0.0,
        slower: 0.0,
    };
    let mut open = clock.map(|t| begin(t, true));
    for &t in raw {
        let mut now = open.take().unwrap_or_else(|| begin(t, false));
        let wait =
            warm_wait(&list[t]).map_or(0.0, |w| if w.may { w.span.least } else { w.span.most });
        let hands = list[t].hands;
        if !boils(list, t) {
            now.usual += hands.usual.ceil() + wait.ceil();
            now.slower += (hands.most - hands.usual.ceil()).max(0.0);
        }
        if cold(&list[t]) {
            now.limit.to = Some(t);
            stretches.push(now);
            open = Some(begin(t, true));
        } else if leg.hot && Some(&t) == raw.last() {
            (now.limit.to, now.limit.boils) = (Some(t), boils(list, t));
            stretches.push(now);
        } else {
            open = Some(now);
        }
    }
    stretches.extend(open);
    let planned: f64 = stretches.iter().map(|s| s.usual).sum();
    let slower: f64 = stretches.iter().map(|s| s.slower).sum();
    told(slow + least, (planned + slow - work).max(slow + least));
    let each = |limit: f64, taken: f64| ((limit - taken) / stretches.len().max(1) as f64).max(0.0);
    // A slow baker has room where there is any; work at its usual length is what there is no plan past.
    let room = each(WARM_LIMIT, planned + slower);
    let wall = each(if leg.through { WARM_WALL } else { WARM_LIMIT }, planned);
    out.limits.extend(stretches.iter().map(|s| Limit {
        most: (s.usual + room).floor() as i64,
        wall: (s.usual + wall).floor() as i64,
        slower: s.slower.ceil() as i64,
        ..s.limit
    }));
}

/// A warm stretch between two cold waits, and its minutes.
struct Stretch {
    limit: Limit,
    /// As planned.
    usual: f64,
    /// More at slow work.
    slower: f64,
}
