//! What a step says is done while something waits: 'While the dough rises, make the filling.'

use crate::sentences;
use std::ops::Range;

/// Work beside a wait, in bytes of the step's text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Beside {
    /// The words that say so: 'Meanwhile', 'While the dough rises'.
    pub clause: Range<usize>,
    /// The work, to where the step comes back to what waits.
    pub work: Range<usize>,
}

/// How what waits is said to wait.
const WAITS: [&str; 20] = [
    "rise", "rest", "prove", "proof", "bake", "chill", "cool", "cook", "soak", "freeze", "set",
    "simmer", "boil", "stand", "heat", "ferment", "infuse", "oven", "fridge", "freezer",
];

/// Words that say how warm something is while it is worked with.
const IS: [&str; 4] = ["still", "warm", "hot", "cold"];

/// How a sentence begins that comes back to what waited.
const BACK: [&str; 10] = [
    "when ", "once ", "after ", "remove ", "take ", "turn ", "bake ", "return ", "as soon",
    "brush ",
];

/// How a sentence begins that goes back to a dough or pastry.
const SHAPES: [&str; 5] = ["roll ", "knead ", "shape ", "divide ", "cut "];

/// What a sentence says that puts the work on what waited.
const ON: [&str; 5] = [" over the ", " on top", " over it", " onto ", "over them"];

/// What a sentence says that is done when the bake is out: 'Brush on the syrup as soon as they come out'.
const OUT: [&str; 5] = [
    "come out",
    "comes out",
    "out of the oven",
    "from the oven",
    "are baked",
];

/// The work that a step does beside a wait, if it does any: the first that it names.
pub(crate) fn beside(text: &str) -> Option<Beside> {
    let lower = text.to_ascii_lowercase();
    let mut all = sentences(&lower).into_iter();
    while let Some(at) = all.next() {
        let Some(clause) = clause(&lower, &at) else {
            continue;
        };
        let mut end = at.end;
        for next in all {
            let said = lower[next.clone()].trim_start();
            let dough = said.contains(" dough") || said.contains(" pastry");
            if dough && SHAPES.iter().any(|w| said.starts_with(w)) {
                break;
            }
            let out = OUT.iter().any(|w| said.contains(w));
            if out
                || BACK.iter().any(|w| said.starts_with(w))
                || ON.iter().any(|w| said.contains(w))
            {
                break;
            }
            end = next.end;
        }
        // 'Heat the oven in the meantime' is the work before those words; else it is behind them.
        let behind = lower[clause.end..at.end].contains(char::is_alphabetic);
        let from = if behind { clause.end } else { at.start };
        return Some(Beside {
            clause,
            work: from..end,
        });
    }
    None
}

/// Where a text names what waits meanwhile, or what is made meanwhile: nothing is taken of that.
pub(super) fn waiting(text: &str) -> Option<Range<usize>> {
    let lower = text.to_ascii_lowercase();
    sentences(&lower).into_iter().find_map(|at| {
        let made = ["while you make", "while you prepare", "while making"];
        let made = made.iter().find_map(|w| lower[at.clone()].find(w));
        if let Some(n) = made {
            let from = at.start + n;
            let to = lower[from..at.end].find([',', '.', ';', '!']);
            return Some(from..to.map_or(at.end, |n| from + n));
        }
        let said = lower[at.clone()].trim_start();
        said.starts_with("whil").then(|| clause(&lower, &at))?
    })
}

/// The words of a sentence that say that something waits.
fn clause(lower: &str, at: &Range<usize>) -> Option<Range<usize>> {
    let said = &lower[at.clone()];
    for word in ["meanwhile", "in the meantime"] {
        if let Some(n) = said.find(word) {
            return Some(at.start + n..at.start + n + word.len());
        }
    }
    let rest = said
        .strip_prefix("while ")
        .or_else(|| said.strip_prefix("whilst "))?;
    let long = rest.find(',')?;
    let mut words = rest[..long].split(|c: char| !c.is_alphanumeric());
    let stem = |w: &str| {
        WAITS.iter().any(|v| {
            let short = v.strip_suffix('e').unwrap_or(v);
            let end = w.strip_prefix(short);
            end.is_some_and(|e| matches!(e, "" | "e" | "s" | "es" | "ing" | "ting" | "ning"))
        })
    };
    let is = rest[..long].split(' ').any(|w| IS.contains(&w));
    let waits = words.any(stem) && !is;
    waits.then(|| at.start..at.start + (said.len() - rest.len()) + long)
}

#[cfg(test)]
mod tests {
    use super::beside;

    /// The work beside a wait, as it stands in the text.
    fn work(text: &str) -> Option<&str> {
        beside(text).map(|b| text[b.work].trim_start_matches([',', ' ']))
    }

    #[test]
    fn work_beside_a_wait_goes_to_where_the_step_comes_back() {
        for (text, want) in [
            (
                "Bake for 45 minutes. Meanwhile, boil the juice. Pour over the cake.",
                Some("boil the juice."),
            ),
            (
                "Let it rise for 1.5 hours. In the meantime, melt the butter. Stir in the sugar. When the dough is up, roll it out.",
                Some("melt the butter. Stir in the sugar."),
            ),
            (
                "Bake for 20 minutes. Meanwhile, boil the water. Brush on the syrup as soon as they come out.",
                Some("boil the water."),
            ),
            (
                "Bake for 20 minutes. Meanwhile, boil the water. Brush with the syrup.",
                Some("boil the water."),
            ),
            (
                "While the buns bake, stir the icing.",
                Some("stir the icing."),
            ),
            ("Whilst it is proving, grease a tin.", Some("grease a tin.")),
            (
                "Leave to rise; heat the oven in the meantime.",
                Some("heat the oven in the meantime."),
            ),
            ("While the cake is still warm, brush with jam.", None),
            ("While stirring, add the milk.", None),
            ("Bake for 20 minutes.", None),
        ] {
            assert_eq!(work(text), want, "{text}");
        }
    }
}
