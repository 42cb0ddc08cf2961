use super::{Reader, recipe};
use crate::DoubtCode;
use crate::recipe::Recipe;
use larder::Larder;
use quantity::Locale;
use std::sync::OnceLock;

mod front;
mod heads;
mod listed;
mod steps;

pub(super) fn read(text: &str) -> Recipe {
    static LARDER: OnceLock<Larder> = OnceLock::new();
    let larder = LARDER.get_or_init(|| Larder::built_in().expect("the built-in tables"));
    recipe(text, &Reader::new(larder, Locale::Us)).expect("reads")
}

/// Names of the components.
pub(super) fn parts(recipe: &Recipe) -> Vec<&str> {
    recipe.components.iter().map(|c| c.name.as_str()).collect()
}

pub(super) fn lines(recipe: &Recipe) -> Vec<&str> {
    let all = recipe.components.iter().flat_map(|c| &c.lines);
    all.map(|l| l.text.as_str()).collect()
}

#[test]
fn a_food_s_name_can_be_a_heading() {
    let r =
        read("# Tart\n\n## Ginger biscuits\n\n- 200 g flour\n\n**Peanut butter**\n100 g nuts\n");
    assert_eq!(parts(&r), ["ginger biscuits", "peanut butter"]);
    let r = read("TART\n\nSHORTCRUST PASTRY\n225 g plain flour\n\nLEEK FILLING\n3 leeks\n");
    assert_eq!(parts(&r), ["shortcrust pastry", "leek filling"]);
    let r = read(
        "Cake\n\n200 g flour\n\nGinger biscuits\n\n100 g sugar\n50 g butter\n\nTo fill\n100 g jam\n",
    );
    assert_eq!(parts(&r), ["", "ginger biscuits", "to fill"]);
}

#[test]
fn an_ingredient_without_amount_is_no_heading() {
    let r = read("Bread\n\nIngredients\n\nSalt\n500 g flour\n\nOlive oil\n350 g water\n");
    assert_eq!(parts(&r), [""]);
    let r = read("PIE\n\nSALT\n2 EGGS\n200 G FLOUR\n");
    assert_eq!(parts(&r), [""]);
    let r = read("Pie\n\n200 g flour\n\nShortcrust pastry\n\n2 eggs\n\n100 g sugar\n");
    assert_eq!(parts(&r), [""]);
}

#[test]
fn broken_lines_are_joined() {
    let r = read(
        "Bread\n\nIngredients\n\n300 g wholemeal flour, plus a spoon\n   or two for the top\n1 1/2 teaspoons bicarbonate of soda, pressed through a tea\n   strainer so that there are no lumps\n60 g mixed seeds (sunflower, pumpkin and linseed), of which\n   10 g are kept back\n400 ml buttermilk, or 200 ml plain yoghurt let down with\n   200 ml milk\n1 tbsp honey\n",
    );
    assert_eq!(lines(&r).len(), 5, "{:#?}", lines(&r));
    let r = read(
        "Bread\n\n1 cup sugar (white or\nbrown, packed)\n1 egg,\nbeaten\n250 g flour,\n100 g butter,\nplain yoghurt\nmilk\n",
    );
    assert_eq!(
        lines(&r),
        [
            "1 cup sugar (white or brown, packed)",
            "1 egg, beaten",
            "250 g flour,",
            "100 g butter,",
            "plain yoghurt",
            "milk"
        ]
    );
}

#[test]
fn made_things_alone_on_a_line_are_headings() {
    let r = read(
        "Lasagne\n\nPasta\n400g flour\n4 eggs\n\nBéchamel\n75g butter\n75g plain flour\n1 litre milk\n\nCrème pâtissière\n500 ml milk\n6 egg yolks\n",
    );
    assert_eq!(parts(&r), ["pasta", "béchamel", "crème pâtissière"]);
    let r = read(
        "Croissants\n\nDough\n500 g flour\n40 g butter\nButter block\n280 g cold butter\n\nPoolish\n100 g flour\n",
    );
    assert_eq!(parts(&r), ["dough", "butter block", "poolish"]);
    // What a shop sells is a heading only before a list of its own.
    for text in [
        "Bake\n\n500 g mince\n\nPasta\n2 eggs\n\n100 g cheese\n",
        "Bake\n\n500 g mince\nPasta\n2 eggs\n100 g cheese\n",
        "Bake\n\n500 g mince\nPasta\nsalt\n",
    ] {
        assert_eq!(parts(&read(text)), [""], "{text}");
    }
}

#[test]
fn a_part_of_a_dish_right_under_a_line_is_a_heading() {
    let text = "Pot\n\nBase\n100 g flour\n50 g butter\nMousse\n200 g dark chocolate\n3 eggs\nJelly\n100 g sugar\n200 ml orange juice\nLemon curd mousse\n100 g sugar\nSauce\n100 g sugar\n";
    let r = read(text);
    assert_eq!(parts(&r)[..3], ["base", "mousse", "jelly"]);
    assert!(parts(&r).contains(&"sauce"));
    let r = read("Pot\n\nMousse\n200 g dark chocolate\n\nParfait\n100 g cream\n\nMethod\nMix.\n");
    assert_eq!(parts(&r), ["mousse", "parfait"]);
    // What is bought, or stands where amounts are left out, is none.
    let r = read("Pot\n\n100 g flour\nSalt\n50 g sugar\nButter\n2 eggs\n3 tbsp milk\n");
    assert_eq!((parts(&r), lines(&r).len()), (vec![""], 6));
    let r = read("Trifle\n\n100 g sponge\nSherry\nJelly\n200 ml milk\n2 eggs\n");
    assert_eq!((parts(&r), lines(&r).len()), (vec![""], 5));
    let r = read("Trifle\n\n100 g sponge\nJelly\n200 ml milk\nSherry\n");
    assert_eq!((parts(&r), lines(&r).len()), (vec![""], 4));
    // The last line of a list heads nothing.
    let r = read("Pie\n\n200 g flour\n100 g sugar\nCream\n\nMethod\nMix it all.\n");
    assert_eq!(lines(&r), ["200 g flour", "100 g sugar", "Cream"]);
    assert!(r.notes.is_empty(), "{:?}", r.notes);
    let cream = &r.components[0].lines[2];
    assert_eq!(
        (cream.clean.as_str(), cream.kind),
        ("Cream", crate::LineKind::Ingredient)
    );
}

#[test]
fn an_amount_on_a_line_too_long_is_asked_about() {
    let long = format!("100 g plain flour {}", "lorem ipsum ".repeat(160));
    for text in [
        format!("Loaf\n\n{long}\n200 g sugar\n"),
        format!("Loaf\n\nIngredients\n200 g sugar\n{long}\n2 eggs\n"),
        format!("Loaf\n\n200 g sugar\n• {long}.\n"),
    ] {
        let r = read(&text);
        let asked = r.doubts.iter().filter(|d| d.code == DoubtCode::NotRead);
        let asked: Vec<_> = asked.map(|d| d.message.as_str()).collect();
        assert_eq!(asked.len(), 1, "{text}");
        assert!(asked[0].contains("'100 g plain flour"), "{asked:?}");
        assert_eq!(r.notes.len(), 1);
        assert!(lines(&r).iter().all(|l| l.len() < 50));
    }
    let prose = "A long tale of a loaf and of those who ate it. ".repeat(20);
    let r = read(&format!("Loaf\n\n{prose}\n\n200 g sugar\n"));
    assert!(r.doubts.is_empty());
}

#[test]
fn a_tin_on_a_line_of_its_own_is_no_food() {
    for tin in [
        "20 x 30cm traybake tin",
        "You will need a 23cm springform tin",
        "9-inch round cake pan",
    ] {
        let r = read(&format!(
            "Slices\nMakes 16\n{tin}\n\n225 g flour\n125 g butter\n\nRub in. Bake at 190C for 15 minutes.\n"
        ));
        assert_eq!(lines(&r), ["225 g flour", "125 g butter"], "{tin}");
        assert_eq!(r.notes, [tin]);
    }
    let r = read("Tart\n\n1 sheet puff pastry, 23 x 30cm\n1 9-inch pie crust\n2 eggs\n");
    assert_eq!(lines(&r).len(), 3);
}

#[test]
fn bread_under_the_title_of_what_holds_no_flour_goes_in() {
    for (bread, goes_in) in [
        ("One white baguette", true),
        ("One stale loaf", true),
        ("8 crackers", true),
        ("1 loaf", false),
        ("12 buns", false),
    ] {
        let text = |flour: &str| {
            format!(
                "Supper bake\n\n{bread}\n\n{flour}300 ml milk\n3 eggs\n\nMix and bake at 180C for 30 minutes.\n"
            )
        };
        let r = read(&text(""));
        assert_eq!(r.makes.is_none(), goes_in, "{bread}");
        assert_eq!(lines(&r).contains(&bread), goes_in, "{bread}");
        assert!(
            read(&text("200 g plain flour\n")).makes.is_some(),
            "{bread}"
        );
    }
}

#[test]
fn what_is_served_beside_is_a_part_where_its_list_follows() {
    let text = "Plum tart\n\nPastry\n200 g plain flour\n100 g butter\n\nCustard, to serve\n300 ml milk\n4 egg yolks\n\nMethod\nMix and bake.\n";
    let r = read(text);
    assert_eq!(r.components.len(), 2);
    assert_eq!(r.components[1].name, "custard");
    let last = read(&text.replace("to serve\n300 ml milk\n4 egg yolks", "to serve"));
    assert_eq!(last.components.len(), 1);
    assert_eq!(last.components[0].lines.len(), 3);
}

/// Without a list the refusal points at the sentences that tell how it is made, not at the title.
#[test]
fn a_recipe_in_prose_is_refused_at_its_sentences() {
    let larder = Larder::built_in().expect("the built-in tables");
    let reader = Reader::new(&larder, Locale::Uk);
    let said = |text: &str| recipe(text, &reader).expect_err(text).to_string();
    let cake = said(
        "Apple cake\n\nBeat the butter with the sugar until pale, then add the eggs and bake in a moderate oven.\n",
    );
    assert!(
        cake.starts_with("line 3, column 1: no ingredient found in 2 lines: this one is whole"),
        "{cake}"
    );
    let bare = said("Apple cake\n\nFor the cake\n");
    assert!(
        bare.starts_with("line 1, column 1: no ingredient"),
        "{bare}"
    );
}
