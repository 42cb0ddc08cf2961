//! The walls between crates: what the domain may depend on, and no more.

use std::collections::BTreeSet;
use std::process::Command;

/// Everything below `recipe`, the parsers' own helpers among it.
const ALLOWED: [&str; 20] = [
    "recipe",
    "larder",
    "numeric",
    "quantity", // ours
    "html5gum",
    "jetscii",
    "smallvec", // cutting pages into tags
    "serde_json",
    "serde",
    "serde_core",
    "itoa",
    "memchr",
    "zmij", // JSON
    "unicode-normalization",
    "tinyvec",
    "serde_derive",
    "proc-macro2",
    "quote",
    "syn",
    "unicode-ident", // derives, at build time
];

#[test]
fn the_domain_depends_on_nothing_else() {
    let out = Command::new(env!("CARGO"))
        .args([
            "tree",
            "-p",
            "recipe",
            "-e",
            "normal",
            "--prefix",
            "none",
            "--offline",
            "--no-dedupe",
        ])
        .output()
        .expect("cargo runs");
    assert!(
        out.status.success(),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
    let text = String::from_utf8_lossy(&out.stdout);
    let found: BTreeSet<&str> = text
        .lines()
        .filter_map(|l| l.split(' ').next())
        .filter(|l| !l.is_empty())
        .collect();
    let strange: Vec<&&str> = found
        .iter()
        .filter(|name| !ALLOWED.contains(name) && **name != "tinyvec_macros" && **name != "ryu")
        .collect();
    assert!(
        strange.is_empty(),
        "new dependencies of the domain: {strange:?}"
    );
    assert!(found.contains("larder"));
}
