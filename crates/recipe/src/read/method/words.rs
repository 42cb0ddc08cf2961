//! The words of a method and what they may mean.

use crate::recipe::Activity;
use quantity::number_word;

/// What a word may mean inside a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Tag {
    /// No meaning here.
    None,
    /// An order: 'knead'.
    Verb(Activity),
    /// An order only where a clause begins: 'heat', 'blend'.
    Start(Activity),
    /// '-ing': names what a time is for, orders nothing.
    Ing(Activity),
    /// '-ed', 'rises': names what a time is for, when it stands right before it.
    Done(Activity),
    /// 'beat', 'whisk': mix, whip or cream by what follows.
    Beat,
    /// 'leave', 'aside', 'wait': a rest, unless a better word follows.
    Weak,
    /// Words that are orders only with others beside them.
    Cream,
    Roll,
    Line,
    Cut,
    Form,
    Work,
    Knock,
    Fat,
    Flour,
    /// 'a floured board'.
    Floured,
    Wash,
    Window,
    Pane,
    /// A unit of time in minutes, and whether it is written in the singular.
    Time(f64, bool),
    /// 'm': minutes behind hours only.
    M,
    Overnight,
    /// 'one' … 'twelve' and the teens.
    Number(f64),
    /// 'twenty' … 'ninety'.
    Tens(f64),
    Article,
    The,
    Half,
    Quarter,
    Third,
    /// 'few', 'couple', 'several': low, likely, high.
    Few(f64, f64, f64),
    /// 'more', 'additional' between a number and its unit.
    Filler,
    To,
    Up,
    At,
    Or,
    And,
    Then,
    Of,
    By,
    X,
    Between,
    From,
    Into,
    Every,
    Interval,
    /// 'until', 'for', 'while': what follows is another matter.
    Until,
    Before,
    Degree,
    Fahrenheit,
    Celsius,
    /// 'F', 'C' as letters.
    LetterF,
    LetterC,
    Gas,
    Mark,
    Fan,
    /// 'conventional', 'forced': fillers between temperatures.
    OvenKind,
    Oven,
    Core,
    /// 'reads', 'thermometer', 'reaches'.
    Reads,
    Liquid,
    Cold(Activity),
    /// 'stretch each ball to a circle' shapes it; 'stretch and fold' folds.
    Stretch,
    /// 'cold': what is left until it is so cools.
    GoneCold,
    /// 'tin', 'pan', 'dish': a pan with a size or kind before it.
    Pan,
    /// 'springform', 'skillet': a pan by itself.
    PanAlone,
    /// 'loaf', 'muffin': a kind of pan.
    PanKind,
    /// 'deep', 'large', 'metal': the look of a pan.
    PanLook,
    /// 'cup', 'hole': counts of a pan.
    Hole,
    /// Millimetres.
    Length(f64),
    /// 'in': inches, or a place.
    In,
    Mass,
    Thick,
    /// 'circle', 'long', 'wide': a length that is no thickness.
    Outline,
    /// 'about', 'roughly'.
    About,
    /// 'grow', 'increase', 'volume'.
    Grow,
    Size,
    Reduce,
    Double,
    Doubled,
    /// 'puffy', 'puff up'.
    Puffy,
    Triple,
    Twice,
    Times,
    Percent,
    /// Things named after an activity: 'powder', 'bowl', 'rack'.
    Thing,
    /// 'whites', 'peaks', 'stiff'.
    Foam,
    /// 'continue', 'keep'.
    Keep,
}

use Activity as A;
use Tag as T;

/// Sorted by their first byte.
#[rustfmt::skip]
const TABLE: &[(&str, Tag)] = &[
    ("a", T::Article), ("an", T::Article), ("about", T::About), ("around", T::About), ("approximately", T::About),
    ("approx", T::About), ("additional", T::Filler), ("and", T::And), ("at", T::At), ("aside", T::Weak),
    ("after", T::Before), ("assisted", T::OvenKind), ("across", T::Outline), ("autolyse", T::Verb(A::Rest)),
    ("autolyze", T::Verb(A::Rest)), ("angel", T::PanKind),
    ("bake", T::Verb(A::Bake)), ("baking", T::Ing(A::Bake)), ("bakes", T::Done(A::Bake)), ("baked", T::Done(A::Bake)),
    ("beat", T::Beat), ("beating", T::Ing(A::Mix)), ("beaten", T::Done(A::Mix)), ("blend", T::Start(A::Mix)),
    ("blending", T::Ing(A::Mix)), ("bloom", T::Verb(A::Rest)), ("boil", T::Verb(A::Boil)), ("boiling", T::Ing(A::Boil)),
    ("boiled", T::Done(A::Boil)), ("braid", T::Start(A::Shape)), ("brush", T::Verb(A::Brush)), ("brushing", T::Ing(A::Brush)),
    ("bulk", T::Size), ("butter", T::Fat), ("by", T::By), ("between", T::Between), ("before", T::Before),
    ("braise", T::Verb(A::Boil)), ("bursts", T::Interval), ("bottomed", T::PanLook), ("bottom", T::PanLook), ("based", T::PanLook), ("bowl", T::Thing),
    ("bowls", T::Thing), ("basket", T::Thing), ("bag", T::Thing), ("board", T::Thing), ("beans", T::Thing),
    ("bundt", T::PanAlone), ("bread", T::PanKind), ("brownie", T::PanKind), ("bun", T::PanKind), ("basin", T::Pan), ("basins", T::Pan), ("baguette", T::PanKind),
    ("balls", T::Outline),
    ("c", T::LetterC), ("celsius", T::Celsius), ("centigrade", T::Celsius), ("centre", T::Core), ("center", T::Core),
    ("core", T::Core), ("cm", T::Length(10.0)), ("centimetre", T::Length(10.0)), ("centimetres", T::Length(10.0)),
    ("centimeter", T::Length(10.0)), ("centimeters", T::Length(10.0)), ("chill", T::Verb(A::Chill)),
    ("chilling", T::Ing(A::Chill)), ("chilled", T::Done(A::Chill)), ("chills", T::Done(A::Chill)), ("cook", T::Verb(A::Boil)), ("cooking", T::Ing(A::Boil)),
    ("cooked", T::Done(A::Boil)), ("cool", T::Verb(A::Cool)), ("cooling", T::Ing(A::Cool)), ("cooled", T::Done(A::Cool)), ("cools", T::Done(A::Cool)),
    ("cold", T::GoneCold), ("combine", T::Verb(A::Mix)), ("combining", T::Ing(A::Mix)), ("cream", T::Cream), ("creaming", T::Ing(A::Cream)),
    ("cut", T::Cut), ("circle", T::Outline), ("convection", T::Fan), ("conventional", T::OvenKind), ("continue", T::Keep),
    ("couple", T::Few(2.0, 2.0, 3.0)), ("cure", T::Start(A::Rest)), ("curing", T::Ing(A::Rest)), ("cup", T::Hole), ("cups", T::Hole), ("cavity", T::Hole), ("count", T::Hole),
    ("capacity", T::PanLook), ("cake", T::PanKind), ("cookie", T::PanKind), ("cupcake", T::PanKind), ("casserole", T::PanKind),
    ("cast", T::PanLook), ("ceramic", T::PanLook), ("caramel", T::Liquid), ("custard", T::Liquid), ("chocolate", T::Liquid),
    ("day", T::Time(1440.0, true)), ("days", T::Time(1440.0, false)), ("deg", T::Degree), ("degree", T::Degree),
    ("degrees", T::Degree), ("deflate", T::Verb(A::KnockBack)), ("defrost", T::Weak), ("degas", T::Verb(A::KnockBack)), ("divide", T::Verb(A::Shape)),
    ("double", T::Double), ("doubled", T::Doubled), ("doubles", T::Doubled), ("doubling", T::Doubled),
    ("dust", T::Verb(A::Dust)), ("dusting", T::Ing(A::Dust)), ("deep", T::PanLook), ("dark", T::PanLook), ("dish", T::Pan),
    ("dishes", T::Pan), ("disc", T::Outline), ("disk", T::Outline), ("diameter", T::Outline), ("dutch", T::PanKind), ("dariole", T::PanKind),
    ("every", T::Every), ("extra", T::Filler), ("electric", T::OvenKind),
    ("eggwash", T::Verb(A::Brush)), ("expand", T::Grow), ("expanded", T::Grow), ("edged", T::PanLook),
    ("f", T::LetterF), ("fahrenheit", T::Fahrenheit), ("fan", T::Fan), ("few", T::Few(2.0, 3.0, 5.0)),
    ("fifty", T::Tens(50.0)), ("forty", T::Tens(40.0)), ("for", T::Until),
    ("from", T::From), ("full", T::Filler), ("further", T::Filler), ("ferment", T::Verb(A::Rise)),
    ("fermenting", T::Ing(A::Rise)), ("fermented", T::Done(A::Rise)), ("fermentation", T::Ing(A::Rise)), ("fold", T::Verb(A::Fold)),
    ("folding", T::Ing(A::Fold)), ("form", T::Form), ("forced", T::OvenKind), ("freeze", T::Verb(A::Freeze)),
    ("freezing", T::Ing(A::Freeze)), ("frozen", T::Done(A::Freeze)), ("freezes", T::Done(A::Freeze)), ("freezer", T::Cold(A::Freeze)), ("fridge", T::Cold(A::Chill)),
    ("fry", T::Verb(A::Fry)), ("frying", T::Ing(A::Fry)), ("fried", T::Done(A::Fry)), ("flour", T::Flour), ("floured", T::Floured), ("fluted", T::PanKind), ("friand", T::PanKind),
    ("foamy", T::Foam), ("foam", T::Foam), ("frothy", T::Foam), ("fluffy", T::Foam),
    ("g", T::Mass), ("gram", T::Mass), ("grams", T::Mass), ("gas", T::Gas), ("grease", T::Verb(A::Grease)),
    ("greasing", T::Ing(A::Grease)), ("greased", T::Done(A::Grease)), ("glaze", T::Start(A::Brush)), ("griddle", T::Start(A::Fry)),
    ("grow", T::Grow), ("grown", T::Grow), ("grows", T::Grow), ("glass", T::PanLook), ("gratin", T::PanKind), ("good", T::Filler),
    ("gm", T::Gas),
    ("h", T::Time(60.0, false)), ("hour", T::Time(60.0, true)), ("hours", T::Time(60.0, false)), ("hr", T::Time(60.0, true)),
    ("hrs", T::Time(60.0, false)), ("half", T::Half), ("heat", T::Start(A::Boil)), ("heating", T::Ing(A::Boil)), ("heavy", T::PanLook),
    ("hole", T::Hole), ("holes", T::Hole), ("hydrate", T::Verb(A::Rest)),
    ("in", T::In), ("inch", T::Length(25.4)), ("inches", T::Length(25.4)), ("internal", T::Core), ("internally", T::Core),
    ("inside", T::Core), ("into", T::Into), ("intervals", T::Interval), ("increments", T::Interval), ("increase", T::Grow),
    ("increased", T::Grow), ("increases", T::Grow), ("incorporate", T::Verb(A::Mix)), ("infuse", T::Verb(A::Rest)), ("iron", T::PanLook),
    ("jelly", T::PanKind),
    ("kg", T::Mass), ("knead", T::Verb(A::Knead)), ("kneading", T::Ing(A::Knead)), ("kneaded", T::Done(A::Knead)), ("knock", T::Knock),
    ("keep", T::Keep),
    ("l", T::Mass), ("lb", T::Mass), ("lbs", T::Mass), ("litre", T::Mass), ("liter", T::Mass), ("leave", T::Weak), ("left", T::Weak),
    ("line", T::Line), ("lined", T::Done(A::Grease)), ("liquid", T::Liquid), ("lukewarm", T::Liquid), ("loaf", T::PanKind), ("lamington", T::PanKind),
    ("large", T::PanLook), ("long", T::Outline), ("log", T::Outline), ("loose", T::PanLook), ("light", T::PanLook), ("lattice", T::Thing),
    ("m", T::M), ("mm", T::Length(1.0)), ("millimetre", T::Length(1.0)), ("millimetres", T::Length(1.0)), ("millimeter", T::Length(1.0)),
    ("millimeters", T::Length(1.0)), ("mark", T::Mark), ("min", T::Time(1.0, true)), ("mins", T::Time(1.0, false)),
    ("minute", T::Time(1.0, true)), ("minutes", T::Time(1.0, false)), ("minutes'", T::Time(1.0, true)), ("ml", T::Mass), ("more", T::Filler),
    ("middle", T::Core), ("milk", T::Liquid), ("mix", T::Verb(A::Mix)), ("mixing", T::Ing(A::Mix)), ("mixed", T::Done(A::Mix)),
    ("melt", T::Verb(A::Melt)), ("melting", T::Ing(A::Melt)), ("melted", T::Done(A::Melt)), ("mixer", T::Thing), ("mat", T::Thing),
    ("muffin", T::PanKind), ("metal", T::PanLook), ("medium", T::PanLook), ("mini", T::PanLook), ("mould", T::Pan), ("moulds", T::Pan),
    ("mold", T::Pan), ("molds", T::Pan), ("madeleine", T::PanKind), ("meringue", T::Foam), ("measuring", T::About),
    ("ninety", T::Tens(90.0)), ("nonstick", T::PanLook), ("non", T::PanLook),
    ("of", T::Of), ("or", T::Or), ("oven", T::Oven), ("ovens", T::Oven), ("overnight", T::Overnight), ("oz", T::Mass),
    ("oil", T::Fat), ("oval", T::PanKind), ("ounce", T::Mass),
    ("preheat", T::Verb(A::Preheat)), ("preheating", T::Ing(A::Preheat)), ("preheated", T::Done(A::Preheat)), ("pan", T::Pan), ("pans", T::Pan),
    ("plate", T::Pan), ("pane", T::Pane), ("percent", T::Percent), ("proof", T::Verb(A::Rise)), ("proofing", T::Ing(A::Rise)),
    ("proofed", T::Done(A::Rise)), ("prove", T::Verb(A::Rise)), ("proving", T::Ing(A::Rise)), ("proved", T::Done(A::Rise)), ("proves", T::Done(A::Rise)),
    ("punch", T::Knock), ("pipe", T::Verb(A::Shape)), ("piping", T::Ing(A::Shape)), ("plait", T::Start(A::Shape)), ("poach", T::Verb(A::Boil)),
    ("probe", T::Core), ("pulse", T::Start(A::Mix)), ("powder", T::Thing), ("paper", T::Thing), ("parchment", T::Thing), ("pin", T::Thing),
    ("pie", T::PanKind), ("pizza", T::PanKind), ("pullman", T::PanKind), ("pound", T::Mass), ("pint", T::Mass), ("peaks", T::Foam),
    ("pale", T::Foam), ("place", T::Thing), ("prior", T::Before), ("pudding", T::PanKind),
    ("puff", T::Puffy), ("puffed", T::Puffy), ("puffs", T::Puffy), ("puffy", T::Puffy),
    ("quarter", T::Quarter), ("quarters", T::Quarter), ("quart", T::Mass), ("qt", T::Mass), ("quiche", T::PanKind),
    ("rest", T::Verb(A::Rest)), ("resting", T::Ing(A::Rest)), ("rested", T::Done(A::Rest)), ("rests", T::Done(A::Rest)),
    ("relax", T::Verb(A::Rest)), ("rise", T::Verb(A::Rise)), ("rising", T::Ing(A::Rise)), ("risen", T::Done(A::Rise)), ("rises", T::Done(A::Rise)),
    ("retard", T::Verb(A::Rise)), ("refrigerate", T::Verb(A::Chill)), ("refrigerator", T::Cold(A::Chill)), ("roll", T::Roll), ("rolling", T::Ing(A::Roll)),
    ("rolled", T::Done(A::Roll)), ("roast", T::Verb(A::Bake)), ("roasting", T::Ing(A::Bake)), ("rub", T::Verb(A::RubIn)),
    ("rubbing", T::Ing(A::RubIn)), ("reads", T::Reads), ("read", T::Reads), ("registers", T::Reads), ("reaches", T::Reads), ("reach", T::Reads),
    ("register", T::Reads), ("reduce", T::Reduce), ("reduced", T::Reduce), ("roughly", T::About), ("round", T::PanKind),
    ("rectangular", T::PanKind), ("rectangle", T::Outline), ("rope", T::Outline), ("ramekin", T::PanAlone), ("ramekins", T::PanAlone),
    ("removable", T::PanLook), ("rimmed", T::PanLook), ("rack", T::Thing), ("ring", T::Pan), ("rings", T::Pan),
    ("second", T::Time(1.0 / 60.0, true)), ("seconds", T::Time(1.0 / 60.0, false)), ("sec", T::Time(1.0 / 60.0, true)),
    ("secs", T::Time(1.0 / 60.0, false)), ("seventy", T::Tens(70.0)), ("several", T::Few(3.0, 5.0, 7.0)),
    ("sixty", T::Tens(60.0)), ("size", T::Size), ("simmer", T::Verb(A::Boil)),
    ("simmering", T::Ing(A::Boil)), ("scald", T::Verb(A::Boil)), ("steam", T::Start(A::Boil)), ("stir", T::Verb(A::Mix)), ("stretch", T::Stretch),
    ("stirring", T::Ing(A::Mix)), ("stirred", T::Done(A::Mix)), ("stand", T::Verb(A::Rest)), ("standing", T::Ing(A::Rest)), ("sit", T::Verb(A::Rest)),
    ("soak", T::Verb(A::Rest)), ("soaking", T::Ing(A::Rest)), ("steep", T::Verb(A::Rest)), ("shape", T::Verb(A::Shape)),
    ("shaping", T::Ing(A::Shape)), ("shaped", T::Done(A::Shape)), ("sauté", T::Verb(A::Fry)), ("saute", T::Verb(A::Fry)), ("sear", T::Verb(A::Fry)),
    ("spray", T::Thing), ("soda", T::Thing), ("stone", T::Thing), ("steel", T::Thing), ("syrup", T::Liquid), ("sugar", T::Liquid),
    ("sheet", T::Pan), ("sheets", T::Pan), ("springform", T::PanAlone), ("skillet", T::PanAlone), ("skillets", T::PanAlone), ("square", T::PanKind),
    ("sandwich", T::PanKind), ("savarin", T::PanKind), ("swiss", T::PanKind), ("small", T::PanLook), ("shallow", T::PanLook), ("sided", T::PanLook), ("stick", T::PanLook), ("stew", T::Start(A::Boil)),
    ("solid", T::Filler), ("strip", T::Outline), ("strips", T::Outline), ("stiff", T::Foam), ("soft", T::Foam), ("static", T::OvenKind), ("start", T::Keep),
    ("the", T::The), ("their", T::The), ("this", T::The), ("thirty", T::Tens(30.0)),
    ("twenty", T::Tens(20.0)), ("to", T::To), ("then", T::Then), ("third", T::Third), ("times", T::Times),
    ("thaw", T::Weak), ("till", T::Until), ("triple", T::Triple), ("tripled", T::Triple), ("triples", T::Triple), ("twice", T::Twice), ("thick", T::Thick),
    ("thickness", T::Thick), ("thermometer", T::Reads), ("toast", T::Start(A::Bake)), ("tin", T::Pan), ("tins", T::Pan), ("tray", T::Pan),
    ("traybake", T::PanKind), ("tartlet", T::PanKind), ("trays", T::Pan), ("tart", T::PanKind), ("tube", T::PanKind), ("towel", T::Thing),
    ("until", T::Until), ("up", T::Up),
    ("volume", T::Size),
    ("week", T::Time(10080.0, true)), ("weeks", T::Time(10080.0, false)), ("whip", T::Verb(A::Whip)), ("whipping", T::Ing(A::Whip)),
    ("whipped", T::Done(A::Whip)), ("whisk", T::Beat), ("whisking", T::Ing(A::Mix)), ("wait", T::Weak), ("water", T::Liquid), ("work", T::Work),
    ("window", T::Window), ("windowpane", T::Verb(A::Windowpane)), ("wash", T::Wash), ("wide", T::Outline), ("whites", T::Foam),
    ("whole", T::Filler), ("while", T::Until), ("well", T::Hole), ("when", T::Before),
    ("x", T::X),
    ("yorkshire", T::PanKind), ("yeast", T::Liquid), ("your", T::The),
    ("º", T::Degree), ("ºc", T::Celsius), ("ºf", T::Fahrenheit),
];

/// Where each first byte begins in the table.
static INDEX: [u16; 257] = index();

const fn index() -> [u16; 257] {
    let mut out = [0; 257];
    let (mut row, mut byte) = (0, 0);
    while byte < 257 {
        while row < TABLE.len() && (TABLE[row].0.as_bytes()[0] as usize) < byte {
            row += 1;
        }
        out[byte] = row as u16;
        byte += 1;
    }
    out
}

/// What a word may mean; case does not matter.
pub(super) fn tag(word: &str) -> Tag {
    let Some(&first) = word.as_bytes().first() else {
        return Tag::None;
    };
    let first = first.to_ascii_lowercase() as usize;
    let rows = &TABLE[INDEX[first] as usize..INDEX[first + 1] as usize];
    rows.iter()
        .find(|(w, _)| w.eq_ignore_ascii_case(word))
        .map(|(_, t)| *t)
        .or_else(|| number_word(word).map(|n| Tag::Number(f64::from(n))))
        .unwrap_or(Tag::None)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn table_is_in_order_and_every_word_is_found() {
        assert!(
            TABLE
                .windows(2)
                .all(|w| w[0].0.as_bytes()[0] <= w[1].0.as_bytes()[0])
        );
        for (word, t) in TABLE {
            assert_eq!(tag(word), *t, "{word}");
        }
        assert_eq!(tag("KNEAD"), Tag::Verb(Activity::Knead));
        assert_eq!(tag("spoon"), Tag::None);
    }
}
