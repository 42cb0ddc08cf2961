//! What is done, in our words: the verb of a step and what it is done to.

use super::cool::BAKES;
use super::pans::NOUNS;
use super::puts::ON_TOP;
use super::step::has;
use crate::aside::taking;
use crate::rework::ReworkedComponent;
use crate::sentences::{sentence, sentences, words};

/// Work that no activity stands for, by the verb that begins its clause.
const VERBS: [&str; 57] = [
    "arrange", "assemble", "brown", "chop", "coat", "core", "cover", "crimp", "crush", "cut",
    "decorate", "dip", "dissolve", "dot", "drain", "dredge", "drizzle", "dust", "fill", "frost",
    "glaze", "grate", "grill", "grind", "ice", "ladle", "lay", "layer", "lock", "mash", "peel",
    "pipe", "place", "pour", "press", "prick", "sandwich", "scatter", "score", "seal", "sift",
    "slash", "slice", "smooth", "soak", "spoon", "spread", "sprinkle", "squeeze", "strain",
    "toast", "toss", "trim", "tuck", "warm", "wrap", "zest",
];

/// Those that are foods too, or of one: work behind a comma or 'and' only with what it is done to, 'and zest the
/// lemon'; 'brown sugar' is none.
const EATEN: [&str; 5] = ["brown", "glaze", "ice", "toast", "zest"];

/// What may follow such a verb.
const DONE_TO: [&str; 9] = [
    "the", "a", "an", "your", "it", "them", "both", "two", "under",
];

/// Verbs that put a bake together: said also where nothing known is said with them.
pub(super) const TOGETHER: [&str; 9] = [
    "assemble", "cover", "crimp", "fill", "frost", "glaze", "ice", "sandwich", "seal",
];

/// Verbs that say behind 'with' what is put on.
const WITH: [&str; 10] = [
    "cover", "dredge", "dust", "fill", "frost", "glaze", "ice", "line", "sandwich", "seal",
];

/// Foods whose last word alone names none, or another: 'baking powder', 'sour cream', 'egg white'.
const NOT_ALONE: [&str; 8] = [
    "powder", "soda", "cream", "cheese", "extract", "essence", "white", "yolk",
];

/// Before what something is put on: no more of what is done.
const ONTO: [&str; 3] = ["on", "onto", "over"];

/// Words that may stand before a verb at the beginning of its clause.
const BEFORE: [&str; 11] = [
    "and",
    "then",
    "meanwhile",
    "immediately",
    "gently",
    "carefully",
    "lightly",
    "now",
    "finally",
    "next",
    "or",
];

/// Names of what is worked with, a word each: the lines of a part by their last word, and the parts.
pub(super) struct Objects {
    all: Vec<String>,
    /// The part's own name, said where nothing else is.
    own: Option<String>,
    /// Parts and foods whose names are several words that name one thing: 'egg wash', 'sour cream'.
    whole: Vec<Vec<String>>,
}

impl Objects {
    pub fn of(part: &ReworkedComponent, parts: &[ReworkedComponent]) -> Self {
        let last = |name: &str| words(name).pop();
        // 'Spread the jam over the pastry' is said where the frangipane is made.
        let lines = || parts.iter().flat_map(|c| &c.lines);
        let pair = |name: &String| {
            let w = words(name);
            let [.., a, b] = w.as_slice() else {
                return None;
            };
            NOT_ALONE
                .contains(&b.as_str())
                .then(|| vec![a.clone(), b.clone()])
        };
        let mut whole: Vec<Vec<String>> = lines().filter_map(|l| pair(&l.name)).collect();
        // 'To serve' is no thing.
        let things = || {
            parts
                .iter()
                .filter(|c| words(&c.name).first().is_some_and(|w| w != "to"))
        };
        let named = things().map(|c| words(&c.name));
        whole.extend(named.filter(|w| w.len() > 1));
        whole.push(["icing", "sugar"].map(str::to_owned).to_vec());
        let lines = lines().filter_map(|l| last(&l.name));
        let parts = parts.iter().filter_map(|c| last(&c.name));
        let parts = parts.filter(|w| !ON_TOP.contains(&w.as_str()));
        let mut all: Vec<String> = lines.chain(parts).filter(|w| w.len() > 2).collect();
        all.extend(["flour", "icing", "glaze"].map(str::to_owned));
        // In 'honey butter' the butter is a line, said with the others.
        let line = |name: &String| {
            part.lines
                .iter()
                .any(|l| last(&l.name).as_ref() == Some(name))
        };
        let own = last(&part.name).filter(|n| !line(n));
        Self { all, own, whole }
    }

    /// Whether a verb's name has no more than the part itself: 'place dough'.
    pub fn is_own(&self, name: &str) -> bool {
        let object = name.split_once(' ').map(|(_, o)| words(o));
        object.is_some_and(|o| o.len() == 1 && self.own.as_ref() == o.first())
    }

    /// What is greased or lined.
    pub fn pans() -> Self {
        let nouns = NOUNS
            .iter()
            .filter(|n| !matches!(**n, "springform" | "ring"));
        let all = nouns.map(|n| (*n).to_owned()).collect();
        let (own, whole) = (None, Vec::new());
        Self { all, own, whole }
    }

    /// A verb with what of these a text names: `Mix`, `Mix butter`, `Mix butter and sugar`.
    pub fn with(&self, verb: &str, text: &str) -> String {
        let taken = taking(text);
        // 'FILLING: melt the butter'.
        let text = taken.as_ref();
        let text = text.split_once(": ").map_or(text, |(_, rest)| rest);
        let bare = verb.to_lowercase();
        // 'Cover with frosting', 'line the dish with two thirds of the pastry'; 'brush the buns with the egg'.
        let (with, text) = match text.split_once(" with ") {
            Some((_, on)) if bare == "brush" => (" with", on),
            Some((_, on)) if WITH.contains(&bare.as_str()) => {
                (" with", on.split([',', ';']).next().unwrap_or(on))
            }
            _ => ("", text),
        };
        let mut found: Vec<(String, bool)> = Vec::new();
        let mut before: Option<String> = None;
        // The verb stands right before 'over'.
        let mut onto = false;
        let mut serves = false;
        for word in text.split(|c: char| !c.is_alphanumeric() && c != '-') {
            let at = word.as_ptr() as usize - text.as_ptr() as usize + word.len();
            let word = word.to_lowercase();
            // 'Cut and serve with the sauce': what is served with it is no part of the work.
            if word == "serve" && before.is_some() {
                let with = |w: &String| self.all.contains(w);
                serves = found.is_empty() && (with(&word) || words(&text[at..]).iter().any(with));
                break;
            }
            if ONTO.contains(&word.as_str()) {
                if !found.is_empty() {
                    break;
                }
                onto = before.as_deref() == Some(&*bare);
            }
            // 'Brush with the egg wash': one thing.
            let last = before.replace(word.clone());
            // 'The sour cream', 'baking powder'.
            if let Some(one) = last.as_ref().filter(|l| found.iter().all(|f| f.0 != **l))
                && self.whole.contains(&words(&format!("{one} {word}")))
            {
                found.push((format!("{one} {word}"), false));
                continue;
            }
            if let Some((one, own)) = found.last_mut()
                && Some(&*one) == last.as_ref()
                && self.whole.contains(&words(&format!("{one} {word}")))
            {
                (*one, *own) = (format!("{one} {word}"), false);
                continue;
            }
            let plain = words(&word);
            let known = plain.len() == 1 && self.all.contains(&plain[0]);
            // 'Cream the butter'.
            let itself = found.is_empty() && word == bare;
            if known && !itself && found.iter().all(|f| f.0 != word) {
                found.push((word, self.own.as_ref() == plain.first()));
            }
        }
        if found.iter().any(|f| !f.1) {
            found.retain(|f| !f.1);
        }
        // 'Pour over the cold loaf' pours no loaf; 'sift over the flour' sifts it.
        let bake = |one: &str| words(one).iter().all(|w| BAKES.contains(&w.as_str()));
        match found.as_slice() {
            [(one, _), ..] if onto && bake(one) => format!("{verb} over {one}"),
            // 'Pour over the hot tea'.
            [(one, _)] if onto => format!("{verb} {one} over"),
            [] if !with.is_empty() && text.starts_with("the rest") => {
                format!("{verb} with the rest")
            }
            [] if serves => format!("{verb} and serve"),
            [] => done_to(verb, text),
            // 'Spread the frosting' is to frost.
            [(one, _)] if with.is_empty() && is_named_after(one, &bare) => done_to(verb, text),
            [(one, _)] if text.contains(&format!("each {one}")) => format!("{verb} each {one}"),
            [(one, _)] => format!("{verb}{with} {one}"),
            [(one, _), (two, _)] => format!("{verb}{with} {one} and {two}"),
            [(one, _), (two, _), ..] => format!("{verb}{with} {one} and {two} …"),
        }
    }
}

/// A verb with the bake that stands right behind it: 'Frost the cake', 'Cut the buns'.
fn done_to(verb: &str, text: &str) -> String {
    let mut said = text.split(|c: char| !c.is_alphanumeric());
    let begins = said.next().is_some_and(|w| w.eq_ignore_ascii_case(verb));
    let article = said
        .next()
        .filter(|w| matches!(*w, "the" | "each" | "both"));
    // 'The cold loaf'.
    let mut behind = said.take(2);
    let bake = |w: &&str| words(w).iter().any(|w| BAKES.contains(&w.as_str()));
    match (article.filter(|_| begins), behind.find(bake)) {
        (Some(article), Some(bake)) => format!("{verb} {article} {bake}"),
        _ => verb.to_owned(),
    }
}

/// Whether what is put on is called by the verb that does it: to frost is with a frosting, to ice with an icing.
fn is_named_after(thing: &str, verb: &str) -> bool {
    let stem = verb.strip_suffix('e').unwrap_or(verb);
    thing.strip_suffix("ing") == Some(stem)
}

/// Verbs of a text that begin a clause and that no activity stands for, with the bytes they stand at.
pub(crate) fn verbs(text: &str) -> Vec<(usize, String)> {
    begin_clauses(text, &VERBS, &EATEN)
}

/// Verbs of a list that begin a clause of a text, with the bytes they stand at.
///
/// # Arguments
/// * `things` — those of them that are things too: verbs behind a comma or 'and' only with what it is done to.
pub(super) fn begin_clauses(text: &str, list: &[&str], things: &[&str]) -> Vec<(usize, String)> {
    let mut out: Vec<(usize, String)> = Vec::new();
    let (mut begins, mut listed) = (true, false);
    let mut at = 0;
    for piece in text.split_inclusive(|c: char| !c.is_alphanumeric()) {
        let word = piece.trim_end_matches(|c: char| !c.is_alphanumeric());
        let lower = word.to_lowercase();
        let done = || {
            let next = words(&text[at + piece.len()..]).into_iter().next();
            next.is_some_and(|w| DONE_TO.contains(&w.as_str()) || w.starts_with(char::is_numeric))
        };
        // 'When cold, ice and leave'.
        let when = || {
            let said = sentence(text, at).to_lowercase();
            ["when ", "once "].iter().any(|w| said.starts_with(w))
        };
        let noun = listed && things.contains(&lower.as_str()) && !done() && !when();
        if begins && !noun && list.contains(&lower.as_str()) {
            out.push((at, lower.clone()));
        }
        let joins = piece.contains(',') || BEFORE.contains(&lower.as_str());
        let stops = piece.contains(['.', ';', ':', '!', '\n', '–']);
        let goes_on = begins && word.is_empty();
        listed = joins || listed && goes_on;
        begins = stops || joins || goes_on;
        at += piece.len();
    }
    out
}

/// What a step adds to what is being mixed: 'With the mixer on low, add the flour'. Not what is laid on
/// top.
pub(super) fn added(text: &str) -> Option<&str> {
    sentences(text).into_iter().find_map(|r| {
        let said = &text[r];
        let begins = |at: &usize| *at == 0 || said[..*at].trim_end().ends_with(',');
        let at = said.to_ascii_lowercase().find("add ").filter(begins)?;
        let said = &said[at..];
        let on = words(said)
            .iter()
            .any(|w| w == "top" || ONTO.contains(&w.as_str()));
        (!on).then_some(said)
    })
}

/// 'Cut into 16 squares': what it is cut into tells more than the verb.
pub(super) fn cut_into(name: &str, clause: &str) -> Option<String> {
    let (_, into) = clause
        .split_once(" into ")
        .filter(|_| matches!(name, "cut" | "slice"))?;
    let into = into.split([',', '.', ';', ':', '(']).next()?;
    let stop = |w: &&str| !matches!(*w, "and" | "then" | "with" | "while" | "when" | "to");
    let all: Vec<&str> = into.split_whitespace().take_while(stop).take(4).collect();
    (!all.is_empty()).then(|| format!("{name} into {}", all.join(" ")))
}

/// What is cooked on an iron or a griddle is called so, not fried.
pub(super) fn on_what(name: &str, said: &str) -> String {
    const ON: [(&str, &str); 6] = [
        ("iron", "Cook in the iron"),
        ("irons", "Cook in the iron"),
        ("griddle", "Cook on the griddle"),
        ("girdle", "Cook on the girdle"),
        ("bakestone", "Cook on the bakestone"),
        ("maker", "Cook in the waffle maker"),
    ];
    let words = words(said);
    let cast = words.windows(2).any(|w| w[0] == "cast" && w[1] == "iron");
    let on = ON
        .iter()
        .find(|(w, _)| words.iter().any(|s| s == w))
        .filter(|_| !cast);
    match on {
        Some((_, cook)) if name == "Fry" => (*cook).to_owned(),
        Some((_, cook)) => name.replace(", fry", &format!(", {}", cook.replacen('C', "c", 1))),
        None => name.to_owned(),
    }
}

/// 'Grease tins', 'Line tin': what is lined stands before 'with', what it is lined with behind.
pub(super) fn greases(text: &str, at: usize, clause: &str) -> String {
    let lines = text
        .get(at..)
        .is_some_and(|t| has(t.get(..4).unwrap_or(t), &["line"]));
    if lines {
        let what = clause.split(" with ").next().unwrap_or(clause);
        return Objects::pans().with("Line", what);
    }
    Objects::pans().with("Grease", clause)
}

#[cfg(test)]
mod tests {
    use super::super::step::clause_at;
    use super::*;

    #[test]
    fn a_clause_gives_its_verb_and_what_it_is_done_to() {
        let all = ["pear", "jam", "butter", "sugar", "egg", "batter", "cake"];
        let objects = Objects {
            all: all.map(str::to_owned).to_vec(),
            own: Some("cake".to_owned()),
            whole: [["egg", "wash"], ["sour", "cream"]]
                .map(|w| w.map(str::to_owned).to_vec())
                .to_vec(),
        };
        let deeds = |text: &str| {
            let all = verbs(text);
            let starts: Vec<usize> = all.iter().map(|v| v.0).collect();
            let named = all.iter().map(|(at, verb)| {
                let (from, to) = clause_at(text, *at, (&starts, &starts));
                objects.with(verb, &text[from..to])
            });
            named.collect::<Vec<_>>().join("; ")
        };
        assert_eq!(
            deeds("Arrange the pears in the tin, pour the batter over and bake."),
            "arrange pears; pour batter"
        );
        assert_eq!(deeds("Meanwhile, warm the apricot jam."), "warm jam");
        assert_eq!(
            deeds("CAKE: slice the cake, spread with jam"),
            "slice cake; spread jam"
        );
        assert_eq!(
            deeds("Fill, cover with the batter, crimp. Brown the butter."),
            "fill; cover with batter; crimp; brown butter"
        );
        assert_eq!(objects.with("Cream", "Cream the butter"), "Cream butter");
        assert_eq!(
            objects.with("Brush", "Brush with the egg wash and butter"),
            "Brush with egg wash and butter"
        );
        // What is brushed with stands behind 'with'; to frost is with a frosting.
        assert_eq!(
            objects.with("Brush", "Brush the cake with the egg"),
            "Brush with egg"
        );
        let white = Objects {
            all: ["egg", "white"].map(str::to_owned).to_vec(),
            own: None,
            whole: vec![["egg", "white"].map(str::to_owned).to_vec()],
        };
        assert_eq!(
            white.with("Brush", "Brush with the egg white"),
            "Brush with egg white"
        );
        assert_eq!(
            white.with("Whisk", "Whisk the egg whites to peaks"),
            "Whisk egg whites"
        );
        assert!(is_named_after("frosting", "frost") && is_named_after("icing", "ice"));
        assert!(!is_named_after("pudding", "pour"));
        assert_eq!(
            objects.with("Mix", "Beat in the eggs and the sour cream."),
            "Mix eggs and sour cream"
        );
        assert_eq!(deeds("Spread the jam over the cake."), "spread jam");
        assert_eq!(deeds("Spread over the cake."), "spread over cake");
        assert_eq!(deeds("Pour over the egg."), "pour egg over");
        assert_eq!(
            deeds("Cut into squares and serve with the jam."),
            "cut and serve"
        );
        assert_eq!(deeds("Cut into squares and serve."), "cut");
        // 'Sugar and zest' is no work.
        assert_eq!(deeds("Cream the butter, sugar and zest for 3 minutes."), "");
        assert_eq!(deeds("Melt the jam and ice the cake."), "ice cake");
        assert_eq!(deeds("Zest and juice the lemon, toast."), "zest");
        // No work of its own: a noun, another's verb.
        assert_eq!(deeds("Keep in a warm place. Leave to rise."), "");
        assert_eq!(
            objects.with(
                "Mix",
                "For the cake, beat the butter, caster sugar and the eggs."
            ),
            "Mix butter and sugar …"
        );
        assert_eq!(
            Objects::pans().with("Grease", "Butter two 20cm tins"),
            "Grease tins"
        );
    }
}
