//! Pictures of a recipe, drawn as SVG that is read as well as seen.
//!
//! Plain figures in, markup out: nothing here knows a recipe, a page or a file. Every picture
//! has a title and a description that says in words what it shows, its words are text, and no
//! meaning hangs on colour alone. Colours and faces come from `picture.css` through classes.
//! All but the small bar for a table row are 360 units wide, so on a narrow screen a unit is
//! about a pixel; the style sheet lets them grow a little.
//!
//! Every picture takes an id that must be its own on the page: title, description and hatches
//! are found by it. Where there is nothing to draw, the markup is empty.

mod balance;
mod binding;
mod blend;
mod cost;
mod doubt;
mod flow;
mod held;
mod makeup;
mod pieces;
mod shape;
mod svg;
mod timeline;
mod warming;
mod water;

pub use balance::{Range, balance};
pub use binding::{Bound, binding};
pub use blend::{Kind, Part, blend};
pub use cost::{Paid, cost};
pub use doubt::{Doubted, doubt, doubts};
pub use flow::{Component, Use, flow};
pub use held::{Held, held};
pub use makeup::{Has, makeup};
pub use shape::{shape, shape_file};
pub use timeline::{Bar, Lane, timeline};
pub use warming::{Warming, rising, warming};
pub use water::{Water, water};

/// Something with a name and how much of it there is.
#[derive(Debug, Clone, PartialEq)]
pub struct Share {
    /// What it is, as the page calls it.
    pub name: String,
    /// How much: grams, or percent of the flour phase; the picture says which.
    pub amount: f64,
}

impl Share {
    /// An amount with a name.
    pub fn new(name: impl Into<String>, amount: f64) -> Self {
        Self {
            name: name.into(),
            amount,
        }
    }
}

/// A component's make-up, each share in percent of its flours and starches.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Parts {
    /// Water, fat, sugar, egg, binder and so on, in the order of the rows.
    pub shares: Vec<Share>,
}

#[cfg(test)]
mod tests {
    use super::Use;
    use super::*;

    const LONG: &str =
        "Stoneground wholegrain buckwheat flour from the second sack, sieved & <rested>";
    const BAD: [f64; 6] = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -3.0, 0.0, 1e300];

    fn share(name: &str, amount: f64) -> Share {
        Share::new(name, amount)
    }

    /// Every picture, from a few figures.
    fn all(a: f64, b: f64, c: f64) -> Vec<String> {
        let before = Parts {
            shares: vec![share("water", a), share(LONG, b)],
        };
        let after = Parts {
            shares: vec![share("water", b), share("binder", c)],
        };
        let range = Range {
            part: "water".to_owned(),
            low: c,
            high: a,
        };
        let water_of = |x: f64, y: f64| Water {
            flour: c,
            sources: vec![share("milk", x), share(LONG, y), share("egg", c)],
        };
        let part = |name: &str, share, kind| Part {
            name: name.to_owned(),
            share,
            kind,
        };
        let component = |name: &str, makes, uses| Component {
            name: name.to_owned(),
            makes,
            uses,
        };
        vec![
            balance("p", &before, &after, &[range]),
            water("p", &water_of(a, b), &water_of(b, a)),
            binding(
                "p",
                &Bound {
                    of: "xanthan".to_owned(),
                    gives: vec![share("egg", a), share(LONG, b), share("gum", c)],
                    sum: (a, c),
                    range: (b, c),
                    wanted: a,
                },
            ),
            blend(
                "p",
                &[
                    part("rice flour", a, Kind::Flour),
                    part(LONG, b, Kind::Starch),
                    part("psyllium", c, Kind::Binder),
                ],
            ),
            doubt("p", a, b, c, 100.0, "g"),
            doubt("p", 1.0, 2.0, 3.0, a, "g"),
            doubts(
                "p",
                &[
                    Doubted {
                        name: LONG.to_owned(),
                        low: a,
                        likely: b,
                        high: c,
                    },
                    Doubted {
                        name: "milk".to_owned(),
                        low: 1.0,
                        likely: 2.0,
                        high: a,
                    },
                ],
            ),
            held(
                "p",
                &[
                    Held {
                        name: LONG.to_owned(),
                        behind: "3 formulas: thin".to_owned(),
                        thin: true,
                        off: a,
                        held: b,
                    },
                    Held {
                        name: "bread".to_owned(),
                        behind: "18 formulas".to_owned(),
                        thin: false,
                        off: b,
                        held: c,
                    },
                ],
                90.0,
            ),
            flow(
                "p",
                &[
                    component(LONG, a, vec![]),
                    component(
                        "Dough",
                        b,
                        vec![Use { of: 0, grams: c }, Use { of: 9, grams: a }],
                    ),
                    component(
                        "Loaf",
                        c,
                        vec![Use { of: 1, grams: a }, Use { of: 2, grams: b }],
                    ),
                ],
            ),
        ]
        .into_iter()
        .map(maud::Markup::into_string)
        .collect()
    }

    /// The values of all attributes, without the text between tags.
    fn tags(svg: &str) -> String {
        svg.split('<')
            .filter_map(|part| part.split('>').next())
            .collect::<Vec<_>>()
            .join("\n")
    }

    #[test]
    fn no_figure_however_odd_spoils_an_attribute() {
        for a in BAD.into_iter().chain([12.5]) {
            for b in BAD.into_iter().chain([60.0]) {
                for c in BAD.into_iter().chain([100.0]) {
                    for picture in all(a, b, c) {
                        let tags = tags(&picture);
                        assert!(!tags.contains("NaN"), "{a} {b} {c}: {picture}");
                        assert!(!tags.contains("inf"), "{a} {b} {c}: {picture}");
                        assert!(!tags.contains("width=\"-"), "{a} {b} {c}: {picture}");
                        assert!(
                            !picture.contains("NaN") && !picture.contains("inf g"),
                            "{picture}"
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn every_picture_has_a_role_a_title_a_description_and_no_inline_style() {
        for picture in all(40.0, 60.0, 2.0) {
            assert!(picture.starts_with("<svg"), "{picture}");
            assert!(
                picture.contains(r#"role="img" aria-labelledby="p-t p-d""#),
                "{picture}"
            );
            assert!(picture.contains(r#"<title id="p-t">"#), "{picture}");
            assert!(picture.contains(r#"<desc id="p-d">"#), "{picture}");
            assert!(!picture.contains("style="), "{picture}");
            assert!(
                picture.contains("&lt;rested&gt;") || !picture.contains("rested"),
                "{picture}"
            );
        }
    }

    #[test]
    fn every_element_is_closed() {
        for picture in all(40.0, 60.0, 2.0) {
            let closed = picture.matches("</").count();
            assert_eq!(picture.matches('<').count(), 2 * closed, "{picture}");
        }
    }

    #[test]
    fn ids_are_used_once_and_hatches_point_to_one_of_them() {
        for picture in all(40.0, 60.0, 2.0) {
            let mut ids: Vec<&str> = picture
                .split(" id=\"")
                .skip(1)
                .filter_map(|rest| rest.split('"').next())
                .collect();
            let found = ids.len();
            ids.sort_unstable();
            ids.dedup();
            assert_eq!(ids.len(), found, "{picture}");
            for to in picture
                .split("url(#")
                .skip(1)
                .filter_map(|rest| rest.split(')').next())
            {
                assert!(ids.contains(&to), "{to} in {picture}");
            }
        }
    }

    #[test]
    fn a_long_name_is_cut_where_it_stands_and_whole_in_the_description() {
        for picture in all(40.0, 60.0, 2.0) {
            if picture.contains('…') {
                let whole = "second sack, sieved &amp; &lt;rested&gt;";
                assert!(picture.contains(whole), "{picture}");
            }
        }
    }

    #[test]
    fn nothing_gives_nothing() {
        let none = Parts::default();
        let dry = Water {
            flour: 100.0,
            sources: vec![],
        };
        assert_eq!(balance("p", &none, &none, &[]).into_string(), "");
        assert_eq!(water("p", &dry, &dry).into_string(), "");
        assert_eq!(blend("p", &[]).into_string(), "");
        assert_eq!(binding("p", &Bound::default()).into_string(), "");
        assert_eq!(
            doubt("p", f64::NAN, f64::NAN, f64::NAN, 10.0, "g").into_string(),
            ""
        );
        assert_eq!(doubts("p", &[]).into_string(), "");
        assert_eq!(flow("p", &[]).into_string(), "");
        assert_eq!(held("p", &[], 90.0).into_string(), "");
    }
}
