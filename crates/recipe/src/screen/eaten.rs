//! What a step serves, scatters, stirs in or takes of a jar, in words that the larder does not know:
//! 'serve with wobble sauce'. Only its label can tell what is in it.

use super::words::{Word, split};
use crate::read::{Held, is_clause, is_order, words as amount};
use larder::{FoodId, Larder};
use std::ops::Range;

/// Verbs before 'in': 'stir in', 'fold in'. 'Into' leads to what is there already.
const IN: [&str; 16] = [
    "stir", "fold", "mix", "beat", "whisk", "rub", "work", "blend", "swirl", "sprinkle", "drop",
    "pour", "toss", "dip", "roll", "tip",
];
/// Verbs before 'over' and 'on': 'spoon over', 'serve on'.
const OVER: [&str; 10] = [
    "serve", "served", "pour", "spoon", "scatter", "sprinkle", "drizzle", "strew", "ladle",
    "crumble",
];
/// Verbs whose object is eaten.
const EATS: [&str; 7] = [
    "sprinkle", "scatter", "strew", "drizzle", "crumble", "add", "adding",
];
/// Measures before 'of' that no amount of a list is made of.
const SOME_OF: [&str; 8] = [
    "dollop",
    "dollops",
    "drizzle",
    "sprinkling",
    "sprinkle",
    "scattering",
    "pot",
    "pots",
];

/// Words that end a phrase.
const ENDS: [&str; 92] = [
    "and", "or", "until", "till", "in", "into", "over", "then", "for", "with", "to", "on", "onto",
    "at", "if", "just", "plus", "from", "before", "after", "while", "as", "so", "but", "of",
    "about", "all", "around", "between", "by", "through", "when", "where", "which", "that", "it",
    "its", "is", "are", "was", "were", "will", "once", "using", "off", "up", "down", "out",
    "without", "during", "within", "per", "like", "than", "not", "no", "making", "being",
    "leaving", "under", "above", "below", "across", "along", "against", "towards", "toward",
    "inside", "outside", "near", "beside", "since", "unless", "because", "i", "we", "you", "they",
    "he", "she", "can", "should", "may", "must", "have", "has", "do", "does", "apart", "away",
    "back", "together",
];

/// Words before a name that say nothing of it.
const BEFORE: [&str; 26] = [
    "the",
    "some",
    "any",
    "your",
    "my",
    "our",
    "more",
    "extra",
    "lots",
    "plenty",
    "remaining",
    "rest",
    "reserved",
    "good",
    "generous",
    "enough",
    "further",
    "another",
    "own",
    "both",
    "this",
    "these",
    "those",
    "their",
    "favourite",
    "favorite",
];
/// Words behind a name that say nothing of it.
const BEHIND: [&str; 38] = [
    "instead",
    "too",
    "alongside",
    "overnight",
    "again",
    "well",
    "first",
    "last",
    "next",
    "there",
    "later",
    "now",
    "afterwards",
    "hot",
    "if",
    "dusted",
    "sprinkled",
    "scattered",
    "brushed",
    "covered",
    "secured",
    "closed",
    "sealed",
    "oiled",
    "greased",
    "floured",
    "lined",
    "open",
    "shut",
    "fitted",
    "facing",
    "running",
    "showing",
    "touching",
    "attached",
    "halfway",
    "beneath",
    "underneath",
];

/// The last words of phrases for what is not eaten, or is the bake itself: tools and papers, hands, parts of
/// a recipe and of its shapes, manners and times; and foods in general that hold no gluten of their own.
const NOT_EATEN: &str = "
    ajar alarm apparatus attachment bag basin beans beater bench blade blender blowtorch board bottle bowl box
    brush bubble can candle chopstick clingfilm cling clip cloth coin colander container cookware counter
    cover cup cutter dish doily drainer fan film fleece foil fork freezer fridge glass glove greaseproof
    griddle grid grill handle hob hook iron jar jug kettle knife knives ladle lame lid liner machine mallet
    mandoline mat mister mitt mixer motor mould mold muslin napkin needle nozzle oven pack packet paddle pan
    paper parchment peeler pencil pin pipe plastic plate platter pot probe processor prong punch rack
    radiator ramekin razor ribbon ring rod roller ruler saucepan saucer scale scissor scissors scoop scraper
    shears sheet shelf shelves sieve skewer skillet soap spatula spoon stand steel stick stone stove strainer
    straw string syringe table tea-towel teacloth terrine thermometer timer tin tine tissue tong toothpick
    torch towel tray trivet tube tub twine weight whisk wire wood worktop wrap wrapper zester

    finger fingertip fist forefinger hand hands heel knuckle palm thumb wrist friend guest family children
    attitude company crowd crunch kid love care patience confidence caution ease flourish fun gusto pride smile eye vigour

    ball base batch batter bits bubble bun cake case casserole coat coating crumb crust disc dough egg-wash filling
    frosting glaze glue icing ingredient ingredients layer liquid loaf loaves log mass meal meat-mixture
    mixture mix parcel part patty patties pastry patch piece pieces portion preferment recipe rest remainder
    reduction roll rolls rope round rounds row seed-mix seam shape shell slice sliver soaker sponge sponges
    starter streusel strip square star ends topping toppings triangle tier wedge half halves third quarter
    two three four five six one ones other others everything nothing all both none what whatever each most
    them it this that these those you me us

    addition vent air angle back border bottom burst centre center circle color colour corner crease crimp crosswise curl depth
    diagonal diameter direction door drip earnest edge end figure flame flat fold force gap goes hatch heat
    height hole hour inch inches increment interval lattice length light line lip margin measure method middle
    min minute moment moisture motion movement order overlap pattern pause peak pinch place plait pleat point
    position power pressure proof pulse quantity random relay ridge rim rise room season second sequence
    setting shake side sides situ size slash slashes slit slits space speed spiral splash stage state steam
    step stitch stream stretch stretches stroke style surface swirl temperature thickness time tip top
    trimming trimmings turn turns twist wall warmth way ways weekend well width wobble jiggle window
    windowsill yard year zigzag eve morning afternoon evening night day

    accompaniment breakfast brunch course dessert dinner lunch mains picnic supper tea teatime decoration
    garnish flavour flavor flavouring
    colouring coloring drop drops dusting spoonful dollop drizzle handful heap sprinkling sprinkle
    fruit fruits berry berries vegetable vegetables veg greens salad leaf leaves petal petals flower flowers
    herb herbs sprig sprigs stalk stalks zest rind juice shaving shavings wedges chunk chunks cube cubes
    segment segments ice water dry wet cold hot warm smooth thin
";

/// Whether a list of words has a word, in the singular or the plural.
fn is_in(list: &str, word: &str) -> bool {
    let stem = word.strip_suffix('s').unwrap_or(word);
    list.split_whitespace().any(|w| w == word || w == stem)
}

/// Whether the last word of a phrase, in small letters, is of what is not eaten.
pub(super) fn is_no_food(word: &str) -> bool {
    is_in(NOT_EATEN, word)
}

/// Whether the word at a place leads to a phrase behind it: 'with', the 'in' of 'stir in', 'add'.
fn leads(words: &[Word], at: usize) -> bool {
    let word = words[at].text.as_str();
    let before = at.checked_sub(1).filter(|_| !words[at].fresh);
    let before = before.map_or("", |b| words[b].text.as_str());
    let next = words.get(at + 1).map_or("", |w| w.text.as_str());
    match word {
        "with" => true,
        "in" => IN.contains(&before),
        "over" | "on" => OVER.contains(&before),
        "of" => SOME_OF.contains(&before) || measures(before),
        _ => {
            // 'For the crumble', 'an extra scattering': a part, a measure.
            let noun = BEFORE.contains(&before) || matches!(before, "a" | "an" | "with" | "of");
            EATS.contains(&word) && !noun && !["over", "on", "in", "with", "of"].contains(&next)
        }
    }
}

fn measures(word: &str) -> bool {
    let word = amount::Words::all().get(word);
    matches!(word, Some(amount::Word::Unit(_) | amount::Word::Loose))
}

/// Whether a comma or a sign like it stands before the word at a place.
fn is_parted(text: &str, words: &[Word], at: usize) -> bool {
    let from = at.checked_sub(1).map_or(0, |b| words[b].span.end);
    text[from..words[at].span.start].contains([',', '/', '+'])
}

/// Where what the word at a place leads to begins: behind it, or behind an aside between commas as in 'stir
/// in, a spoonful at a time, the milk'. `None` where another order follows: 'drizzle over, scatter with'.
fn object(text: &str, words: &[Word], at: usize) -> Option<usize> {
    let next = at + 1;
    let more = words.get(next).filter(|w| !w.fresh)?;
    if !is_parted(text, words, next) {
        return Some(next);
    }
    if is_order(&text[more.span.start..]) {
        return None;
    }
    let aside = words.iter().enumerate().skip(next + 1).take(8);
    let mut aside = aside.take_while(|(_, w)| !w.fresh);
    let (behind, w) = aside.find(|(n, _)| is_parted(text, words, *n))?;
    (!is_order(&text[w.span.start..])).then_some(behind)
}

/// The phrases of a step for what is eaten: each a run of words, without those that say nothing of it.
fn phrases(text: &str, words: &[Word]) -> Vec<Range<usize>> {
    let comma = |at: usize| is_parted(text, words, at);
    let mut out = Vec::new();
    for at in (0..words.len()).filter(|at| leads(words, *at)) {
        let Some(mut from) = object(text, words, at) else {
            continue;
        };
        loop {
            let mut to = from;
            while to < words.len() && to < from + 6 {
                let word = words[to].text.as_str();
                let article = matches!(word, "a" | "an" | "the") && to > from;
                let stops = words[to].fresh || to > from && comma(to) || article;
                if stops || ENDS.contains(&word) {
                    break;
                }
                to += 1;
            }
            out.extend((to > from).then_some(from..to));
            // 'With cream, hobnuts and zingo': the list goes on, unless it is another order.
            let goes_on = |w: &Word| !w.fresh && (w.text == "and" || w.text == "or");
            let listed = to < words.len() && !words[to].fresh && comma(to);
            let mut next = to;
            while words.get(next).is_some_and(goes_on) {
                next += 1;
            }
            let Some(word) = words.get(next).filter(|w| !w.fresh) else {
                break;
            };
            let article = matches!(word.text.as_str(), "the" | "a" | "an");
            // '... and sandwich.'
            let stop = words[next + 1..].iter().find(|w| w.fresh);
            let stop = stop.map_or(text.len(), |w| w.span.start);
            let clause =
                text[word.span.start..stop].trim_end_matches(|c: char| !c.is_alphanumeric());
            let ends = article || ENDS.contains(&word.text.as_str()) || word.text.ends_with("ly");
            if to == from
                || !listed && next == to
                || ends
                || is_order(&text[word.span.start..])
                || is_clause(clause)
            {
                break;
            }
            from = next;
        }
    }
    out
}

/// The names in a step of what is eaten and neither stands on a line nor is known.
///
/// # Arguments
/// * `mentions` — the foods of the larder that the text names.
pub(super) fn unknown(
    text: &str,
    mentions: &[(FoodId, Range<usize>)],
    held: &Held<'_>,
    larder: &Larder,
) -> Vec<Range<usize>> {
    let words = split(text);
    let silent = |w: &Word| {
        use amount::Word as A;
        let said = amount::Words::all().get(&w.text);
        let amount = matches!(
            said,
            Some(
                A::Number(_)
                    | A::Part(_)
                    | A::Few(..)
                    | A::Article
                    | A::Unit(_)
                    | A::Loose
                    | A::Filling(_)
                    | A::Manner
                    | A::Approx
                    | A::Each
            )
        );
        amount || BEFORE.contains(&w.text.as_str()) || w.text.starts_with(|c: char| c.is_numeric())
    };
    let manner = |w: &Word| {
        let word = w.text.as_str();
        BEHIND.contains(&word) || word.ends_with("ly") || larder.names().is_remark(word)
    };
    let known = |phrase: &[Word]| {
        let (Some(first), Some(last)) = (phrase.first(), phrase.last()) else {
            return true;
        };
        let within = first.span.start..last.span.end;
        let stem = last.text.strip_suffix('s').unwrap_or(&last.text);
        mentions
            .iter()
            .any(|(_, s)| s.end == within.end || within.contains(&s.start) && s.end > within.end)
            || is_no_food(&last.text)
            || first.text.ends_with("ing") && mentions.iter().all(|(_, s)| s.start != within.start)
            || last.text.len() < 3
            || held.says(stem)
            || held.is_part(stem)
            || stem.len() > 3 && held.begins(stem)
    };
    let mut out: Vec<Range<usize>> = Vec::new();
    for range in phrases(text, &words) {
        let mut phrase = &words[range];
        if let [the, made] = phrase
            && the.text == "the"
            && held.makes(&made.text)
        {
            continue;
        }
        while let Some((_, rest)) = phrase.split_first().filter(|(w, _)| silent(w)) {
            phrase = rest;
        }
        // 'Chopped hobnuts, finely': what stands whole as a food is known, with its manner or without.
        let mut whole = known(phrase);
        while let Some((_, rest)) = phrase.split_last().filter(|(w, _)| !whole && manner(w)) {
            phrase = rest;
            whole = known(phrase);
        }
        let [first, .., last] = phrase else {
            if let [only] = phrase
                && !whole
            {
                out.push(only.span.clone());
            }
            continue;
        };
        if !whole {
            out.push(first.span.start..last.span.end);
        }
    }
    out.sort_by_key(|r| r.start);
    out.dedup();
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::Locale;

    fn told(step: &str) -> Vec<String> {
        told_of("2 cauliflowers", step)
    }

    fn told_of(line: &str, step: &str) -> Vec<String> {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = crate::read::Reader::new(&larder, Locale::Uk);
        let text = format!("Trial\n\n200 g rice flour\n{line}\n\nMethod\n1. {step}\n");
        let recipe = crate::read::recipe(&text, &reader).expect("reads");
        let held = Held::of(&recipe, &larder);
        let mentions = larder.names().mentions(step, Locale::Uk);
        let found = unknown(step, &mentions, &held, &larder);
        found.into_iter().map(|r| step[r].to_owned()).collect()
    }

    #[test]
    fn what_is_eaten_and_not_known_is_told() {
        for (step, want) in [
            ("Serve with wobble sauce.", vec!["wobble sauce"]),
            (
                "Top with crumbled hobnuts and bake.",
                vec!["crumbled hobnuts"],
            ),
            (
                "Stir in a jar of zingo relish, then cool.",
                vec!["zingo relish"],
            ),
            ("Sprinkle generously with fairy dust.", vec!["fairy dust"]),
            ("Scatter the hobnuts over and grill.", vec!["hobnuts"]),
            ("Fold in some chopped fizzlets.", vec!["chopped fizzlets"]),
            ("Pour over the splodge.", vec!["splodge"]),
            (
                "Serve with cream, fizzlets and hobnuts.",
                vec!["fizzlets", "hobnuts"],
            ),
            ("Add 2 tbsp zingo.", vec!["zingo"]),
            // A food named later says nothing of it.
            (
                "Serve with wobble sauce. Sprinkle with sugar.",
                vec!["wobble sauce"],
            ),
            (
                "Stir in the zingo relish, then the butter.",
                vec!["zingo relish"],
            ),
            (
                "Top with hobnuts. Beat the eggs until pale.",
                vec!["hobnuts"],
            ),
        ] {
            assert_eq!(told(step), want, "{step}");
        }
    }

    /// The sabayon is made of the eggs of the list; 'sabayon' without the article is served beside it.
    #[test]
    fn what_the_method_makes_is_not_told() {
        let whisk = "Whisk in the sabayon a spoonful at a time.";
        assert_eq!(told_of("4 egg yolks", whisk), [""; 0]);
        assert_eq!(told_of("4 egg yolks", "Serve with sabayon."), ["sabayon"]);
        assert_eq!(told_of("100 g butter", whisk), ["sabayon"]);
    }

    /// Another order behind the comma, an aside, an object before its verb: no word of them is food, and
    /// what is food there is told.
    #[test]
    fn orders_and_asides_are_not_eaten() {
        assert!(told("Spread with the cauliflower and sandwich. Cut into squares.").is_empty());
        for (step, want) in [
            (
                "Melt the butter and drizzle over, scatter with the hobnuts.",
                vec!["hobnuts"],
            ),
            ("For the crumble, rub the butter in.", vec![]),
            ("Finish with an extra scattering, then bake.", vec![]),
            (
                "Turn out on a sheet of paper dusted with sugar and cool.",
                vec![],
            ),
            (
                "With a spatula, loosen and lift. Pour over, smooth and chill.",
                vec![],
            ),
            (
                "Cover with a cloth, prop up the lid, tilt the pan and wobble it.",
                vec![],
            ),
            (
                "With the mixer running, trickle in the milk, then scrape the bowl.",
                vec![],
            ),
            (
                "Stir in, a spoonful at a time, the zingo relish.",
                vec!["zingo relish"],
            ),
            (
                "Serve with, if you like, zingo relish.",
                vec!["zingo relish"],
            ),
            (
                "Top with cream, hobnuts and zingo the next day.",
                vec!["hobnuts", "zingo"],
            ),
            (
                "Serve with cream and zingo up to an hour later.",
                vec!["zingo"],
            ),
        ] {
            assert_eq!(told(step), want, "{step}");
        }
    }

    #[test]
    fn tools_hands_and_parts_are_not_eaten() {
        for step in [
            "Add a splash at a time, with caution, with the door shut and the light on.",
            "Prick with a tine, weigh down with coins, fold in with tongs and rest with the vent open.",
            "Serve with napkins, with attitude, with good company, at a picnic, with a smile. Whisk in short bursts.",
            "Pour in a thin stream, stir in the same direction, blend in pulses, fold in three goes.",
            "Stir with a wooden spoon, cover with foil and leave.",
            "Knead with wet hands, mix with care, then top with the rest of the dough.",
            "Prick with a fork. Cover with a clean tea towel. Serve with butter and enjoy.",
            "Beat in the eggs, one at a time, and bind with the water.",
            "Pour over the cauli. Add the soft rice flour a spoonful at a time.",
            "Sprinkle with water and bake. Roll in flour. Beat in two additions.",
            "Fill with the filling and top with another disc. Serve with a green salad.",
            "Mix in a large bowl with the paddle attachment at low speed.",
            "Serve on a warmed plate with family and friends.",
            "Bake with the door ajar. Serve with a flourish. Brush with egg, roll and seal.",
        ] {
            assert_eq!(told(step), [""; 0], "{step}");
        }
    }
}
