//! Where the caution about oats comes from.

use super::of;

fn oats(ingredients: &str) -> Option<&'static str> {
    let cautions = of(ingredients).cautions;
    let mut found = cautions.iter().filter(|c| c.code == "oats");
    let first = found.next().map(|c| c.text);
    assert!(found.next().is_none(), "said once");
    first
}

#[test]
fn a_caution_about_oats_says_where_no_line_is_of_them() {
    let says = oats("50 g gluten-free biscuits\n100 g butter").expect("a caution");
    assert!(
        says.starts_with("No line is of oats, but biscuits"),
        "{says}"
    );
    assert!(says.contains("Australia and New Zealand"), "{says}");
    let says = oats("50 g gluten-free biscuits\n100 g gluten-free oats").expect("a caution");
    assert!(
        says.starts_with("Only oats labelled gluten-free."),
        "{says}"
    );
    assert_eq!(oats("100 g rice flour\n100 g butter"), None);
}

/// What Australia and New Zealand say of oats is said once: a food's own note has it, or the line's.
#[test]
fn a_line_of_labelled_oats_says_it_once() {
    for line in [
        "50 g gluten-free rolled oats",
        "50 g oats, labelled gluten-free",
    ] {
        let s = of(line);
        let said = format!("{:?}", s.findings);
        assert_eq!(said.matches("Australia").count(), 1, "{said}");
    }
}
