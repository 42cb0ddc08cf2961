use super::*;
use larder::Larder;
use quantity::Locale;

/// Each item's food, its first amount, and what may be taken instead.
fn read(text: &str) -> Vec<String> {
    let larder = Larder::built_in().expect("tables");
    let reader = Reader::new(&larder, Locale::Uk);
    let line = reader.line(text);
    let key = |f: FoodId| larder.food(f).key.clone();
    let told = |i: &Item| {
        let food = i.food.as_ref().map_or("?".to_owned(), |m| key(m.food));
        let grams = i.amounts.first().map_or(0.0, Amount::middle);
        let others: Vec<String> = i.alternatives.iter().map(|f| key(*f)).collect();
        format!("{food} {grams} {}", others.join(" "))
            .trim()
            .to_owned()
    };
    line.items.iter().map(told).collect()
}

/// Worked by hand: the first of a choice is weighed, the others stand beside it.
#[test]
fn each_adjective_of_a_choice_names_a_flour() {
    for (text, want) in [
        (
            "400 g plain, rice or maize flour",
            "all_purpose_flour 400 white_rice_flour corn_flour",
        ),
        (
            "300 g white or wholemeal, spelt or rye flour",
            "all_purpose_flour 300 whole_wheat_flour spelt_flour rye_flour",
        ),
        (
            "300 g rice, maize or plain flour",
            "white_rice_flour 300 corn_flour all_purpose_flour",
        ),
        (
            "200 g plain (or rice) flour",
            "all_purpose_flour 200 white_rice_flour",
        ),
        (
            "200 g chickpea or plain flour, sifted",
            "chickpea_flour 200 all_purpose_flour",
        ),
        (
            "2 tbsp plain or cornflour",
            "all_purpose_flour 2 corn_starch",
        ),
        ("150 g rye/plain flour", "rye_flour 150 all_purpose_flour"),
        (
            "100 g either spelt, einkorn, or emmer flour",
            "spelt_flour 100 einkorn_flour emmer_flour",
        ),
        ("50 g potato or corn starch", "potato_starch 50 corn_starch"),
        (
            "200 g gluten-free plain or strong flour",
            "gluten_free_flour_blend 200",
        ),
        (
            "200 g gluten-free plain or wheat flour",
            "gluten_free_flour_blend 200 all_purpose_flour",
        ),
        (
            "200 g gluten-free plain or spelt flour",
            "gluten_free_flour_blend 200 spelt_flour",
        ),
        // What stands before a mix is the first choice.
        (
            "200 g plain flour, or a mix of rice and buckwheat flour",
            "all_purpose_flour 200 white_rice_flour buckwheat_flour",
        ),
        (
            "200 g rice flour, or a blend of plain and maize flour",
            "white_rice_flour 200 all_purpose_flour corn_flour",
        ),
        (
            "200 g rice, maize or plain flour of any brand",
            "white_rice_flour 200 corn_flour all_purpose_flour",
        ),
        (
            "200 g mix of rye or spelt flour",
            "rye_flour 200 spelt_flour",
        ),
        (
            "80 g brown or white rice flour",
            "brown_rice_flour 80 white_rice_flour",
        ),
        (
            "80 g white, rye or brown rice flour",
            "all_purpose_flour 80 rye_flour brown_rice_flour",
        ),
    ] {
        assert_eq!(read(text), [want], "{text}");
    }
}

/// Worked by hand: a third of 300 g is 100 g.
#[test]
fn flours_of_one_amount_share_it() {
    for (text, want) in [
        (
            "300 g plain, rye and rice flour",
            vec![
                "all_purpose_flour 100",
                "rye_flour 100",
                "white_rice_flour 100",
            ],
        ),
        (
            "300 g strong, white and rye flour",
            vec!["bread_flour 150", "rye_flour 150"],
        ),
        (
            "200 g gluten-free plain and rice flour",
            vec!["gluten_free_flour_blend 100", "white_rice_flour 100"],
        ),
        (
            "200 g rye and rice flour",
            vec!["rye_flour 100", "white_rice_flour 100"],
        ),
        (
            "200 g flour (a mix of rye and rice flour)",
            vec!["rye_flour 100", "white_rice_flour 100"],
        ),
        (
            "50 g each rice, potato and plain flour",
            vec![
                "white_rice_flour 50",
                "potato_flour 50",
                "all_purpose_flour 50",
            ],
        ),
        (
            "300 g plain flour, rye and rice flour",
            vec![
                "all_purpose_flour 100",
                "rye_flour 100",
                "white_rice_flour 100",
            ],
        ),
        (
            "90 g rice flour, potato starch and tapioca starch",
            vec![
                "white_rice_flour 30",
                "potato_starch 30",
                "tapioca_starch 30",
            ],
        ),
    ] {
        assert_eq!(read(text), want, "{text}");
    }
}

#[test]
fn other_names_are_no_list_of_flours() {
    for (text, want) in [
        ("100 g plain (all-purpose) flour", "all_purpose_flour 100"),
        (
            "100 g organic, stoneground wholemeal flour",
            "whole_wheat_flour 100",
        ),
        (
            "100 g plain, gluten-free flour",
            "gluten_free_flour_blend 100",
        ),
        ("100 g strong, white flour", "bread_flour 100"),
    ] {
        assert_eq!(read(text), [want], "{text}");
    }
    assert_eq!(
        read("50 g oats and plain flour")
            .first()
            .map(String::as_str),
        Some("rolled_oats 50")
    );
}

#[test]
fn what_a_list_of_flours_is_for_stands_behind_it() {
    let larder = Larder::built_in().expect("tables");
    let reader = Reader::new(&larder, Locale::Uk);
    let line = reader.line("plain or rice flour, for dusting");
    assert_eq!(line.items[0].purpose, crate::line::Purpose::Dusting);
}
