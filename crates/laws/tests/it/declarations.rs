//! Every declaration is complete, named apart from all others, and readable.

use laws::{Held, Kind};
use std::collections::BTreeSet;

#[test]
fn names_are_unique_and_found() {
    let mut names = BTreeSet::new();
    for law in laws::all() {
        assert!(names.insert(law.name), "{} is declared twice", law.name);
        assert!(std::ptr::eq(laws::Law::find(law.name).unwrap(), *law), "{}", law.name);
        assert!(law.name.bytes().all(|b| b.is_ascii_lowercase() || b == b'_'), "{}", law.name);
    }
    assert!(laws::Law::find("no such law").is_none());
}

#[test]
fn inputs_and_outputs_are_told_apart_by_name_and_symbol() {
    for law in laws::all() {
        let (mut names, mut symbols) = (BTreeSet::new(), BTreeSet::new());
        for input in law.inputs {
            assert!(names.insert(input.name), "{}: {} twice", law.name, input.name);
            assert!(symbols.insert(input.symbol), "{}: {} twice", law.name, input.symbol);
        }
        let outputs: BTreeSet<_> = law.outputs.iter().map(|output| output.name).collect();
        assert_eq!(outputs.len(), law.outputs.len(), "{}", law.name);
        assert!(!law.inputs.is_empty() && !law.outputs.is_empty(), "{}", law.name);
    }
}

#[test]
fn sentences_are_short_and_ranges_hold_something() {
    for law in laws::all() {
        let words = law.sentence.split_whitespace().count();
        assert!(words < 12 && law.sentence.ends_with('.'), "{}: {}", law.name, law.sentence);
        assert!(!law.formula.is_empty() && !law.source.standard.is_empty(), "{}", law.name);
        for input in law.inputs {
            let wide = input.range.start() < input.range.end();
            assert!(wide || matches!(input.kind, Kind::Choice(_)), "{}: {}", law.name, input.name);
            assert!(!input.meaning.is_empty() && !input.meaning.ends_with('.'), "{}", input.name);
        }
    }
}

/// A formula that names none of its inputs explains nothing.
#[test]
fn formulas_speak_of_their_symbols() {
    let mut unspoken = Vec::new();
    for law in laws::all() {
        let plain_table = law.formula.contains("table") || law.formula.starts_with("Rsi = 0.10");
        for input in law.inputs {
            let base = input.symbol.trim_start_matches('Σ');
            let named = law.formula.contains(base) || plain_table;
            // IF97 hides temperature and pressure in its reduced numbers.
            let reduced = law.source.standard == "IAPWS-IF97";
            if !(named || reduced) {
                unspoken.push(format!("{}: {} is not in {}", law.name, input.symbol, law.formula));
            }
        }
    }
    assert!(unspoken.is_empty(), "{unspoken:#?}");
}

#[test]
fn the_reference_lists_every_law_once() {
    let reference = laws::reference();
    for law in laws::all() {
        let heading = format!("### {}\n", law.name);
        assert_eq!(reference.matches(&heading).count(), 1, "{}", law.name);
    }
    let from_memory = laws::all().iter().filter(|law| law.source.held == Held::Memory).count();
    assert_eq!(reference.matches("(from memory)").count(), from_memory);
}
