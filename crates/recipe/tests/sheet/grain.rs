//! A decision that makes one grain of gluten another.

use super::{change, key, of, worked};
use larder::Allergen::{self, Barley, Oats, Rye, Wheat};
use recipe::sheet::Change;

#[test]
fn one_grain_does_not_stand_for_another() {
    let lines: [(&str, &str, &str, Allergen); 4] = [
        (
            "200 g dark rye flour",
            "200 g plain flour",
            "all_purpose_flour",
            Rye,
        ),
        (
            "200 g barley flour",
            "200 g white spelt flour",
            "white_spelt_flour",
            Barley,
        ),
        (
            "200 g plain flour",
            "200 g light rye flour",
            "light_rye_flour",
            Wheat,
        ),
        ("100 g rolled oats", "100 g rye flakes", "rye_flakes", Oats),
    ];
    for (pasted, other, food, grain) in lines {
        let plain = of(&["100 g sugar", pasted]);
        let line = key(&plain, pasted);
        let read_as = Change::ReadAs {
            line: line.clone(),
            text: Some(other.to_owned()),
        };
        let named = Change::Food {
            line,
            place: 0,
            food: Some(food.to_owned()),
        };
        for c in [read_as, named] {
            let mut sheet = plain.clone();
            change(&mut sheet, c.clone());
            let w = worked(&sheet);
            let said = |s: &recipe::screen::Screening, a: Allergen| {
                s.allergens.iter().any(|f| f.allergen == a && f.certain)
            };
            // What was pasted stays said, beside the new flour's own.
            let new = if food.contains("rye") { Rye } else { Wheat };
            // Oats are told, but not as certain.
            assert_eq!(said(&w.screening, grain), grain != Oats, "{pasted}: {c:?}");
            assert!(
                w.screening.allergens.iter().any(|f| f.allergen == grain),
                "{pasted}: {c:?}"
            );
            assert!(said(&w.screening, new), "{pasted}: {c:?}");
            // The rework swaps flour for a blend and flakes for other flakes: both grains are gone.
            let blended = w.rework.components[0].lines.iter().any(|l| l.blend);
            assert_eq!(blended, grain != Oats, "{pasted}: {c:?}");
            // Sulphites are the potato starch's, in the plain blend of what nobody has named.
            let all = w.rework_screening.allergens.iter();
            let mut grains = all.filter(|f| f.allergen != Allergen::Sulphites);
            assert_eq!(grains.next(), None, "{pasted}: {c:?}");
        }
    }
}

/// What a line as pasted says is told once, of one of its foods; what its other foods are is theirs to say.
#[test]
fn words_under_a_decision_are_told_once_of_a_one_line_part() {
    let topping = "Topping: 80 g rolled oats, 20 g malt extract, 30 g flaked almonds, 40 g sugar";
    let mut sheet = of(&["200 g plain flour", "100 g butter", "", topping]);
    let line = key(&sheet, topping);
    let text = topping.replace("malt extract", "golden syrup");
    change(
        &mut sheet,
        Change::ReadAs {
            line,
            text: Some(text),
        },
    );
    let w = worked(&sheet);
    let of_pasted = |s: &recipe::screen::Screening| -> Vec<String> {
        let found = s.findings.iter().filter(|f| f.is_of_pasted_words());
        found.map(|f| f.words.clone()).collect()
    };
    assert_eq!(of_pasted(&w.rework_screening), ["malt extract"]);
}
