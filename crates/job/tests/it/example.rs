//! The example jobs.

use crate::told;

const CABIN: &str = include_str!("../../../../jobs/cabin.toml");
const FLAT: &str = include_str!("../../../../jobs/flat.toml");

#[test]
fn examples_are_read_without_findings() {
    assert_eq!(told(CABIN), "");
    assert_eq!(told(FLAT), "");
}

#[test]
fn the_built_in_library_is_read_without_findings() {
    let read = |dir: &str| -> Vec<String> {
        let path = format!("{}/../../{dir}", env!("CARGO_MANIFEST_DIR"));
        let mut paths: Vec<_> =
            std::fs::read_dir(path).unwrap().map(|entry| entry.unwrap().path()).collect();
        paths.sort();
        paths.iter().map(|path| std::fs::read_to_string(path).unwrap()).collect()
    };
    let (catalogue, rules) = (read("catalogue"), read("rules"));
    let texts = |texts: &[String]| texts.iter().map(String::as_str).collect::<Vec<_>>().join("\n");
    let (library, findings) = job::Library::read(
        &[&texts(&catalogue)],
        &rules.iter().map(String::as_str).collect::<Vec<_>>(),
    );
    let told: Vec<_> = findings.iter().map(|f| format!("{}: {}", f.subject, f.message)).collect();
    assert_eq!(told, Vec::<String>::new());
    let built_in = job::Library::built_in();
    assert_eq!(library.rule_sets.len(), built_in.rule_sets.len());
    assert_eq!(library.catalogue.tubes.len(), built_in.catalogue.tubes.len());
    assert_eq!(library.catalogue.materials.len(), built_in.catalogue.materials.len());
    assert_eq!(library.catalogue.finishes.len(), built_in.catalogue.finishes.len());
}
