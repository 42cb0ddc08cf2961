//! Measures that stand beside a part of a fruit, or in a table's cell.

use super::{foods, line};

/// Each part of one fruit has the measure before it, else the fruits that are counted: by hand from the words.
#[test]
fn a_measured_part_is_of_the_fruit_of_its_line() {
    for (text, want) in [
        (
            "finely grated zest and 100ml juice of 2 lemons",
            "2 count lemon_zest, 100 ml lemon_juice",
        ),
        (
            "2 limes, zest and 60 ml juice",
            "2 count lime_zest, 60 ml lime_juice",
        ),
        (
            "60 ml juice of 2 limes, zest finely grated",
            "60 ml lime_juice, 2 count lime_zest",
        ),
        (
            "zest of 1 lemon and 2 tbsp of its juice",
            "1 count lemon_zest, 2 tbsp lemon_juice",
        ),
        (
            "2 tsp zest and 60 ml (4 tbsp) juice from 2 limes",
            "2 tsp lime_zest, 60 ml lime_juice",
        ),
        (
            "1 large lemon (2 tsp zest and 3 tbsp juice)",
            "2 tsp lemon_zest, 3 tbsp lemon_juice",
        ),
        (
            "1 tbsp lemon zest plus 2 tbsp juice",
            "1 tbsp lemon_zest, 2 tbsp lemon_juice",
        ),
        (
            "3 tbsp lemon juice and zest of 1 lemon",
            "3 tbsp lemon_juice, 1 count lemon_zest",
        ),
        (
            "1 lemon, zested, plus 30 ml juice",
            "1 count lemon_zest, 30 ml lemon_juice",
        ),
        // Two fruits are no one.
        (
            "2 tbsp lemon juice and zest of 1 orange",
            "2 tbsp lemon_juice, orange_zest",
        ),
    ] {
        let read = line(text);
        let shown = read.items.iter().zip(foods(&read)).map(|(i, food)| {
            let amount = i.amounts.first();
            amount.map_or(food.to_owned(), |a| {
                let unit = a.unit.map_or("bare", quantity::Unit::code);
                format!("{} {unit} {food}", a.low)
            })
        });
        assert_eq!(shown.collect::<Vec<_>>().join(", "), want, "{text}");
    }
}

/// A table's cell that counts is an amount, as one that measures is.
#[test]
fn a_cell_of_a_table_counts() {
    for (text, low, high, food) in [
        ("| Onion, chopped | 1 large |", 1.0, 1.0, "onion"),
        ("| Carrots, diced | 2–3 |", 2.0, 3.0, "carrot"),
        ("| Egg | 1, beaten |", 1.0, 1.0, "egg"),
        ("| Plain flour | 40 g |", 40.0, 40.0, "all_purpose_flour"),
    ] {
        let read = line(text);
        assert_eq!(foods(&read), [food], "{text}");
        let a = &read.items[0].amounts[0];
        assert_eq!((a.low, a.high), (low, high), "{text}");
    }
    assert_eq!(
        line("| Pastry | 1 x 320 g sheet |").items[0].amounts.len(),
        2
    );
}
