//! The arrows between the crates, as `ARCHITECTURE.md` draws them.

use std::collections::BTreeMap;
use std::process::Command;

/// What each crate of the house may import of the others.
const ARROWS: &[(&str, &[&str])] = &[
    ("quantity", &[]),
    ("plane", &[]),
    ("laws", &["quantity"]),
    ("solve", &[]),
    ("job", &["quantity", "plane"]),
    ("design", &["quantity", "plane", "laws", "solve", "job"]),
    ("sheets", &["quantity", "plane", "laws", "job", "design"]),
    ("firstheat", &["quantity", "plane", "laws", "job", "design", "sheets"]),
];

/// Libraries that one crate alone may import.
const OWNERS: &[(&str, &str)] = &[
    ("uom", "quantity"),
    ("geo", "plane"),
    ("toml", "job"),
    ("axum", "firstheat"),
    ("tokio", "firstheat"),
    ("maud", "firstheat"),
    ("clap", "firstheat"),
];

/// Direct dependencies of each crate of the workspace, those of tests and benches aside.
fn dependencies() -> BTreeMap<String, Vec<String>> {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--no-deps", "--offline"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("cargo runs");
    let metadata: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let packages = metadata["packages"].as_array().expect("packages");
    packages
        .iter()
        .map(|package| {
            let plain = |dependency: &&serde_json::Value| dependency["kind"].is_null();
            let all = package["dependencies"].as_array().expect("dependencies").iter();
            let names = all.filter(plain).map(|d| d["name"].as_str().unwrap_or("").to_owned());
            (package["name"].as_str().unwrap_or("").to_owned(), names.collect())
        })
        .collect()
}

#[test]
fn crates_import_only_what_they_may() {
    let found = dependencies();
    let known: Vec<&str> = ARROWS.iter().map(|(name, _)| *name).collect();
    for (name, imports) in &found {
        let (_, allowed) = ARROWS.iter().find(|(known, _)| known == name).unwrap_or_else(|| {
            panic!("{name} is a new room: draw its arrows here and in ARCHITECTURE.md")
        });
        for import in imports.iter().filter(|import| known.contains(&import.as_str())) {
            assert!(allowed.contains(&import.as_str()), "{name} must not import {import}");
        }
    }
    assert_eq!(found.len(), ARROWS.len());
}

#[test]
fn each_library_has_its_owner() {
    for (name, imports) in dependencies() {
        for import in imports {
            if let Some((library, owner)) = OWNERS.iter().find(|(library, _)| *library == import) {
                assert_eq!(name, *owner, "{library} belongs to {owner} alone");
            }
        }
    }
}
