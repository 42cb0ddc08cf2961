//! `blend`: formulating a blend.

use crate::run::unwheat;

/// The parts of a blend as key and percent.
fn parts(blend: &serde_json::Value) -> Vec<(String, f64)> {
    let each = blend["parts"].as_array().into_iter().flatten();
    each.map(|p| {
        (
            p["key"].as_str().unwrap_or_default().to_owned(),
            p["percent"].as_f64().unwrap_or(f64::NAN),
        )
    })
    .collect()
}

#[test]
fn three_blends_for_a_style() {
    let json = unwheat(&["blend", "--style", "muffin", "--flours", "3", "--json"]).json();
    let blends = json["blends"].as_array().expect("a list");
    assert_eq!(blends.len(), 3);
    for blend in blends {
        let parts = parts(blend);
        assert!(parts.len() <= 3);
        assert_eq!(parts.iter().map(|p| p.1).sum::<f64>(), 100.0, "{blend}");
        assert_eq!(blend["make_up"].as_array().map(Vec::len), Some(6));
    }
    let words = unwheat(&["blend", "--style", "muffin", "--flours", "3"]).done();
    assert!(
        words.contains("12 published gluten-free formulas"),
        "{words}"
    );
    assert!(words.contains("starting point for a test bake"), "{words}");
    assert!(words.lines().all(|l| l.chars().count() <= 80), "{words}");
}

#[test]
fn a_blend_is_rebuilt_without_a_flour_and_weighed_out() {
    let call = [
        "blend",
        "--like",
        "bread",
        "--not",
        "millet flour",
        "--batch",
        "2000",
    ];
    let json = unwheat(&[&call[..], &["--json"]].concat()).json();
    let best = &json["blends"][0];
    assert!(parts(best).iter().all(|p| p.0 != "millet_flour"));
    let grams: f64 = best["parts"]
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(|p| p["grams"].as_f64())
        .sum();
    assert!((grams - 2000.0).abs() < 1e-6, "{best}");
}

#[test]
fn why_a_flour_is_not_used() {
    let words = unwheat(&[
        "blend",
        "--style",
        "lean_bread",
        "--without",
        "corn",
        "--why",
        "corn starch",
    ])
    .done();
    assert!(
        words.contains("why corn starch: not used: corn is left out"),
        "{words}"
    );
}

#[test]
fn what_cannot_be_is_said_with_both_sides() {
    for (call, said) in [
        (
            &[
                "--style",
                "lean_bread",
                "--least",
                "sorghum flour=60,millet flour=50",
            ][..],
            "sorghum flour at least 60 %; millet flour at least 50 %",
        ),
        (
            &["--style", "lean_bread", "--like", "bread"],
            "give one of them",
        ),
        (
            &["--style", "lean_bread", "--most", "sorghum flour"],
            "has no number",
        ),
        (
            &["--style", "lean_bread", "--starch", "half"],
            "'half' is no range",
        ),
        (
            &["--style", "lean_bread", "--stock", "sorghum flour=100"],
            "the size of the batch too",
        ),
        (
            &["--style", "lean_bread", "--without", "gluten"],
            "nothing that can be left out",
        ),
        (&[], "nothing to come near to"),
    ] {
        let ran = unwheat(&[&["blend"], call].concat());
        assert_eq!(ran.code, 1, "{call:?}");
        assert!(ran.err.contains(said), "{call:?}: {}", ran.err);
        assert_eq!(ran.out, "");
    }
}
