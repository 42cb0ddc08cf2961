//! Title, yield, credit and remarks.

use super::super::{count_in, says_yield};
use super::{lines, read};
use crate::DoubtCode;

#[test]
fn times_credit_and_yield_are_taken_from_the_head() {
    let r = read(
        "Pancakes\n\nPrep: 10 min | Rest: 10 min | Cook: 15 min\n*by Wilf Amory*\n12 pancakes\n\n200 g flour\n",
    );
    let minutes = |t: Option<quantity::Time>| t.map(quantity::Time::as_minutes);
    assert_eq!(minutes(r.times.prep), Some(10.0));
    assert_eq!(minutes(r.times.cook), Some(15.0));
    assert_eq!(minutes(r.times.total), Some(35.0));
    assert_eq!(r.source.author.as_deref(), Some("Wilf Amory"));
    assert_eq!(r.makes.and_then(|m| m.count), Some((12.0, 12.0)));
    let r = read(
        "Buns\nFrom the Harrow Lane test kitchen, Maud Ferris's weekend book\nCuts into 12 slices\n200 g flour\n",
    );
    assert!(
        r.source
            .publisher
            .is_some_and(|p| p.contains("Harrow Lane"))
    );
    assert_eq!(
        r.makes.map(|m| m.text).as_deref(),
        Some("Cuts into 12 slices")
    );
    let r = read(
        "Tart\n*Ines Okoro for the Harrow Lane test kitchen. Best cold. Cuts into 8 slices.*\n200 g flour\n",
    );
    assert_eq!(r.source.author.as_deref(), Some("Ines Okoro"));
    assert_eq!(r.makes.and_then(|m| m.count), Some((8.0, 8.0)));
    assert!(r.notes.iter().all(|n| !n.contains('*')), "{:?}", r.notes);
    let r = read(
        "Sauce\n\nA loaf for the week. Makes\none round loaf of about 900 g.\n\n200 g flour\n",
    );
    assert_eq!(r.makes.and_then(|m| m.count), Some((1.0, 1.0)));
}

/// The whole line had been quoted as what the recipe makes.
#[test]
fn times_behind_a_yield_are_none_of_it() {
    let r = read("Pudding\nServes 9. Prep 25 mins, cooks 35–40 mins.\n\n200 g flour\n");
    let makes = r.makes.expect("a yield");
    assert_eq!(
        (makes.text.as_str(), makes.count),
        ("Serves 9", Some((9.0, 9.0)))
    );
    let minutes = |t: Option<quantity::Time>| t.map(quantity::Time::as_minutes);
    assert_eq!(minutes(r.times.prep), Some(25.0));
    assert!(minutes(r.times.cook).is_some_and(|m| (35.0..=40.0).contains(&m)));
    // What is no time stays with it.
    let text = "Makes 12. Serve with cream.";
    let r = read(&format!("Buns\n{text}\n\n200 g flour\n"));
    assert_eq!(r.makes.map(|m| m.text).as_deref(), Some(text));
}

#[test]
fn a_second_yield_is_a_remark() {
    let r = read("Rolls\nServes 4\n\n200 g flour\n\nFor 6 people\n100 g sugar\n");
    assert_eq!(r.makes.and_then(|m| m.count), Some((4.0, 4.0)));
    assert_eq!(r.notes, ["For 6 people"]);
}

#[test]
fn a_size_is_no_number_of_servings() {
    for (text, count) in [
        ("9-inch cake", None),
        ("one 9-inch cake", Some((1.0, 1.0))),
        ("a 20 cm tart", None),
        ("about 900 g", None),
        ("2 dozen", Some((24.0, 24.0))),
        ("a dozen rolls", Some((12.0, 12.0))),
        ("Serves 4–6", Some((4.0, 6.0))),
        ("Serves 4 to 6", Some((4.0, 6.0))),
        ("Enough for four", Some((4.0, 4.0))),
        ("12", Some((12.0, 12.0))),
        ("Yield: about 12 pancakes", Some((12.0, 12.0))),
        ("two 9 x 13 inch pans", Some((2.0, 2.0))),
        ("", None),
    ] {
        assert_eq!(count_in(text), count, "{text}");
    }
}

#[test]
fn a_bare_yield_survives_printing() {
    let mut r = read("Rolls\n\n200 g flour\n");
    r.makes = Some(crate::recipe::Yield {
        text: "12 rolls".to_owned(),
        count: Some((12.0, 12.0)),
    });
    let again = read(&r.to_text());
    assert_eq!(again.makes.and_then(|m| m.count), Some((12.0, 12.0)));
    assert_eq!(again.components[0].lines.len(), 1);
}

#[test]
fn heads_of_any_script_are_read() {
    for text in [
        "İ\nby ẞ\n1 cup flour",
        "ẞ of\nİİ\n1 cup flour\nſet 1 é\n",
        "T\nＡdapted from\n2 é\n1 g salt",
    ] {
        let _ = read(text);
    }
}

#[test]
fn a_title_can_hold_a_number() {
    let r = read("Choux buns with pastry cream (about 20)\n\n125 ml water\n110 g butter\n");
    assert_eq!(
        r.title.as_deref(),
        Some("Choux buns with pastry cream (about 20)")
    );
    assert_eq!(r.makes.and_then(|m| m.count), Some((20.0, 20.0)));
    assert_eq!(r.components[0].lines.len(), 2);
    for text in [
        "500 g flour\n300 g water\n",
        "Flour 500 g\nWater 300 g\n",
        "juice of 1 lemon\n2 eggs\n",
    ] {
        let r = read(text);
        assert_eq!((r.title, r.components[0].lines.len()), (None, 2), "{text}");
    }
}

#[test]
fn british_words_with_american_measures_are_a_doubt() {
    let unsure = |text: &str| {
        let r = read(text);
        let doubt = r
            .doubts
            .into_iter()
            .find(|d| d.code == DoubtCode::LocaleUnsure);
        doubt.map(|d| d.message)
    };
    let uk = unsure("Cake\n\n1 cup plain flour\n50 g caster sugar\n").expect("British");
    assert!(uk.contains("looks British"), "{uk}");
    let au = unsure("Cake\n\n2 tbsp thickened cream\n50 g caster sugar\n").expect("Australian");
    assert!(au.contains("looks Australian"), "{au}");
    assert_eq!(unsure("Cake\n\n1 cup flour\n50 g caster sugar\n"), None);
    assert_eq!(
        unsure("Cake\n\n200 g plain flour\n50 g caster sugar\n"),
        None
    );
    assert!(unsure("Pie\n\n1 pint milk\n4 fl oz cream\n\nBake at Gas 4.\n").is_some());
    // Cornflour is another food there.
    let tart = "Tart\n\n200 g plums\n1 tbsp cornflour\n2 c sugar\n\nBake at ";
    assert!(unsure(&format!("{tart}190C.\n")).is_some());
    assert_eq!(unsure(&format!("{tart}375F (190C).\n")), None);
    assert_eq!(unsure(&format!("{tart}375 degrees.\n")), None);
}

#[test]
fn a_remark_beside_the_list_is_a_note() {
    let said = "This keeps well in a tin for three days and is better on the second";
    let broken = "This keeps well in a tin for\nthree days and is better on the second";
    for text in [
        format!("Gingerbread\n\n200 g flour\n2 eggs\n\n{broken}\n\nMethod\nMix it all.\n"),
        format!("Gingerbread\n\n200 g flour\n2 eggs\n{broken}\n"),
        format!("Gingerbread\n\n200 g flour\n2 eggs\n\nMethod\nMix it all.\n\n{broken}\n"),
        format!("Gingerbread\n\n200 g flour\n2 eggs\n\nMix it all.\n\n{said}\n"),
    ] {
        let r = read(&text);
        assert_eq!(lines(&r), ["200 g flour", "2 eggs"], "{text}");
        assert_eq!(r.notes, [said], "{text}");
        assert_eq!(r.makes, None, "{text}");
        assert!(r.steps.len() <= 1, "{text}");
    }
    let r = read(
        "Gingerbread\n\n200 g flour\n2 eggs\n\nthree days and is better on the second\n\nMix it all.\n",
    );
    assert_eq!(lines(&r), ["200 g flour", "2 eggs"]);
    let r = read(
        "Gingerbread\n\n200 g flour\n\nMethod\n1. Mix it all.\n\nKeeps three days.\nFreezes well.\n",
    );
    assert_eq!((r.steps.len(), r.notes.len()), (1, 1));
    assert_eq!(r.notes, ["Keeps three days. Freezes well."]);
    // A word before the colon says so; the method goes on behind it.
    let r = read(
        "Gingerbread\n\n200 g flour\n\nMethod\n1. Mix it all.\nTip: malted flour is good too.\n2. Bake it for 20 minutes.\n\nNotes: They keep 2 days.\n",
    );
    assert_eq!(r.steps.len(), 2);
    let notes = ["Tip: malted flour is good too.", "Notes: They keep 2 days."];
    assert_eq!(r.notes, notes);
    let r = read(
        "Loaf\n\n200 g flour\n\nMethod\nMix it all.\nNote: let the dough rise for 2 hours at 24 C.\n20 minutes before the end heat the oven.\nBake for 15 minutes at 220 C.\n",
    );
    assert_eq!((r.steps.len(), r.notes.len()), (4, 0));
    // A step may speak of the dough.
    let r = read("Bread\n\n200 g flour\n\nMethod\nMix it all.\n\nThis will take ten minutes.\n");
    assert_eq!((r.steps.len(), r.notes.len()), (2, 0));
}

#[test]
fn a_yield_looks_like_one() {
    for text in [
        "Makes 12 rolls",
        "Makes about a dozen",
        "Makes one large loaf",
        "Makes a small loaf",
        "Makes enough for two 20 cm tins",
        "Serves 4–6",
        "Serves: a family",
        "Yield: one 9-inch cake",
        "Yields 12",
        "Quantity: 1 tray (30 x 40 cm) and 2 small loaf tins",
        "Enough for four",
        "For 6 people",
        "Servings 4",
    ] {
        assert!(says_yield(text), "{text}");
    }
    for text in [
        "Makes the most of three ripe bananas",
        "Makes a lovely change from bread",
        "Serves as a pudding or with coffee for 4 days",
        "Portions freeze for three months",
        "For three days",
    ] {
        assert!(!says_yield(text), "{text}");
    }
}

#[test]
fn who_wrote_it_and_where_is_credit() {
    for (line, author, publisher, count) in [
        (
            "Tobin Vale, 'Tea at Four'",
            Some("Tobin Vale"),
            "'Tea at Four'",
            None,
        ),
        (
            "Harrow Lane test kitchen, card 4",
            None,
            "Harrow Lane test kitchen, card 4",
            None,
        ),
        (
            "Card 4, Harrow Lane test kitchen",
            None,
            "Card 4, Harrow Lane test kitchen",
            None,
        ),
        (
            "Maud Ferris, from 'The Long Table'. Makes 12.",
            Some("Maud Ferris"),
            "'The Long Table'",
            Some((12.0, 12.0)),
        ),
        (
            "“Bread and Butter” by Ines Okoro; serves 4",
            Some("Ines Okoro"),
            "“Bread and Butter”",
            Some((4.0, 4.0)),
        ),
        (
            "Wilf Amory, ‘Rye for Everyone’, page 12",
            Some("Wilf Amory"),
            "‘Rye for Everyone’, page 12",
            None,
        ),
        (
            "From \"The Sunday Tin\" by Maud Ferris, p. 112",
            Some("Maud Ferris"),
            "\"The Sunday Tin\", p. 112",
            None,
        ),
        (
            "Adapted from ‘Crumb’ by Ines Okoro",
            Some("Ines Okoro"),
            "‘Crumb’",
            None,
        ),
    ] {
        for gap in ["", "\n"] {
            let r = read(&format!("Tea loaf\n{gap}{line}\n200 g flour\n2 eggs\n"));
            assert_eq!(lines(&r), ["200 g flour", "2 eggs"], "{line}");
            assert_eq!(r.source.author.as_deref(), author, "{line}");
            assert_eq!(r.source.publisher.as_deref(), Some(publisher), "{line}");
            assert_eq!(r.makes.and_then(|m| m.count), count, "{line}");
            assert!(r.notes.is_empty(), "{line}: {:?}", r.notes);
        }
    }
    let r = read("Tea loaf\n\nPlain Flour, 'strong', 200 g\nGround Ginger, page 4\n2 eggs\n");
    assert_eq!((lines(&r).len(), r.source.author), (3, None));
}

/// A number in a title is none of an ingredient.
#[test]
fn a_title_may_begin_with_a_number() {
    for (text, title) in [
        (
            "Two Crumb Pear Slice\nMakes 16 bars\n\n200 g flour\n",
            Some("Two Crumb Pear Slice"),
        ),
        (
            "Three Cheese Potato Bake\n\n200 g flour\n100 g cheddar\n",
            Some("Three Cheese Potato Bake"),
        ),
        (
            "Two-day country loaf\n\nMakes 1 loaf\n\n200 g flour\n",
            Some("Two-day country loaf"),
        ),
        (
            "2-ingredient bread rolls\nMakes 4\n\n200 g flour\n",
            Some("2-ingredient bread rolls"),
        ),
        ("Twenty-four eggs\n\n200 g flour\n", None),
        ("One-half lemon\n\n200 g flour\n", None),
        ("2-3 eggs\nMakes 4\n\n200 g flour\n", None),
        ("2 large eggs\n200 g flour\n", None),
        ("One Cup Brown Sugar\n\n200 g flour\n", None),
        ("3 Ripe Bananas\n200 g flour\n", None),
    ] {
        let r = read(text);
        assert_eq!(r.title.as_deref(), title, "{text}");
    }
}

#[test]
fn a_count_and_its_servings_are_a_yield() {
    for line in [
        "1 (9-inch) pie, 8 servings",
        "2 loaves; 24 slices",
        "1 large loaf",
    ] {
        let r = read(&format!("Plain pie\n{line}\n\n200 g flour\n2 eggs\n"));
        assert_eq!(lines(&r), ["200 g flour", "2 eggs"], "{line}");
        assert_eq!(r.makes.map(|m| m.text).as_deref(), Some(line));
    }
    let r = read("Plain pie\n\n1 tart apple\n1 cake, crumbled\n200 g flour\n");
    assert_eq!(lines(&r).len(), 3);
}

/// Told by hand from the lines: tins that are needed are no food.
#[test]
fn a_tin_that_is_needed_is_a_remark() {
    for line in [
        "For this you will need two 20cm/8in sandwich tins",
        "For this recipe you'll also need a 23 cm springform tin, greased",
    ] {
        let r = read(&format!(
            "Lemon layers\n\n{line}\n\nFor the sponge\n225 g butter\n4 eggs\n\nFor the curd\n2 lemons\n"
        ));
        let names: Vec<&str> = r.components.iter().map(|c| c.name.as_str()).collect();
        assert_eq!(names, ["sponge", "curd"], "{line}");
        assert_eq!(r.notes, [line]);
    }
}

/// What a page prints around its list is no food, and its yield and times are read.
#[test]
fn a_pages_buttons_are_no_food() {
    let r = read(
        "Coffee cake\n\nPrep: 20 mins | Cook: 50 mins | Serves: 12-16\n★★★★★ 4.8 (212 ratings)   Print   Pin\nJump to Recipe\n\nIngredients\nUS Customary – Metric\n1x 2x 3x\n2 cups flour\n1 cup sugar\n\nInstructions\n1. Bake.\n",
    );
    assert_eq!(lines(&r).len(), 2, "{:?}", lines(&r));
    assert_eq!(r.makes.map(|m| m.text).as_deref(), Some("Serves: 12-16"));
    assert!(r.times.prep.is_some() && r.times.cook.is_some());
}
