//! Methods of few words. Worked by hand from the texts.

use super::{at, comes_after, of, sheet};

/// What no step mixes is mixed before it is rolled.
#[test]
fn what_no_step_mixes_is_mixed_first() {
    let text = "Nutmeg Rings\nMakes 14\n\n2 cups all-purpose flour\n2 tsp baking powder\n1/2 tsp nutmeg\n1/2 cup buttermilk\n1/2 cup sugar\n1 egg\n2 Tbsp butter, melted\n\nRoll out 1/2 inch thick, cut with a 3-inch cutter and fry at 365°F for 1 minute a side.\nDust with sugar while warm.\n";
    let t = of(&sheet(text), 1.0);
    assert!(comes_after(&t, at(&t, ":roll"), at(&t, ":mix")));
}
