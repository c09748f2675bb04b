//! The competence tables against the counts of the STCW Code.
//!
//! Source: STCW Code, part A, chapter III, tables A-III/1, A-III/2 and A-III/6, as amended at Manila in 2010.
//! A-III/1 has 17 competences in 4 functions, A-III/2 has 14 in 4, A-III/6 has 18 in 3.

use std::collections::HashSet;

use bedplate::deck::competences;

#[test]
fn the_counts_are_those_of_the_code() {
    let expected: [(&str, &[usize]); 3] =
        [("A-III/1", &[5, 2, 2, 8]), ("A-III/2", &[4, 2, 3, 5]), ("A-III/6", &[7, 5, 6])];
    let all = competences();
    assert_eq!(all.tables.len(), expected.len());
    for (key, counts) in expected {
        let table = all.table(key).unwrap_or_else(|| panic!("no table {key}"));
        let found: Vec<usize> = table.functions.iter().map(|function| function.competences.len()).collect();
        assert_eq!(found, counts, "{key}");
    }
    assert_eq!(all.all().count(), 17 + 14 + 18);
}

#[test]
fn keys_follow_table_function_and_competence() {
    let mut seen = HashSet::new();
    for table in &competences().tables {
        assert!(["operational", "management"].contains(&table.level.as_str()), "{}", table.key);
        assert_eq!(table.certificate, format!("STCW {}", table.key.trim_start_matches("A-")));
        for (f, function) in table.functions.iter().enumerate() {
            assert_eq!(function.key, format!("{}.{}", table.key, f + 1));
            for (c, competence) in function.competences.iter().enumerate() {
                assert_eq!(competence.key, format!("{}.{}", function.key, c + 1));
                assert!(!competence.title.trim().is_empty());
                assert!(seen.insert(&competence.key));
            }
        }
    }
    assert!(competences().get("A-III/1.2.1").is_some());
    assert!(competences().get("A-III/1.2").is_none());
}
