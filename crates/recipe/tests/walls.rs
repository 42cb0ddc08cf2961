//! The walls between crates: what the domain may depend on, and no more.

use std::collections::BTreeSet;
use std::process::Command;

/// Everything below `recipe`, the parsers' own helpers among it.
const ALLOWED: [&str; 79] = [
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
    "clarabel",
    "amd",
    "cfg-if",
    "either",
    "enum_dispatch",
    "itertools",
    "lazy_static",
    "num-traits",
    "once_cell",
    "serde-big-array",
    "thiserror",
    "thiserror-impl",
    "derive_builder",
    "derive_builder_core",
    "derive_builder_macro",
    "darling",
    "darling_core",
    "darling_macro",
    "ident_case",
    "strsim",
    "fnv", // convex programmes, in `numeric`
    "adler2",
    "bitfield",
    "bitfield-macros",
    "bitfield-struct",
    "chacha20",
    "convert_case",
    "cpufeatures",
    "crc32fast",
    "downcast-rs",
    "drcp-format",
    "dyn-clone",
    "enum-map",
    "enum-map-derive",
    "enumset",
    "enumset_derive",
    "equivalent",
    "flate2",
    "getrandom",
    "hashbrown",
    "indexmap",
    "libc",
    "log",
    "miniz_oxide",
    "num",
    "num-bigint",
    "num-complex",
    "num-integer",
    "num-iter",
    "num-rational",
    "pumpkin-checking",
    "pumpkin-conflict-resolvers",
    "pumpkin-constraints",
    "pumpkin-core",
    "pumpkin-propagators",
    "rand",
    "rand_core",
    "simd-adler32",
    "unicode-segmentation", // the search for schedules, in `numeric`
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
