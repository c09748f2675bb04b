//! No circle of files: where one file uses an item of another, nothing leads back. The finder is held to small sources.

use std::collections::BTreeMap;

use super::BEDPLATE;
use super::source::{Crate, tokens};
use super::uses::circles;

#[test]
fn no_files_go_round_in_a_circle() {
    let edges = BEDPLATE.edges();
    let mut told = String::new();
    for circle in circles(&edges) {
        told += &format!("\na circle of {} files:\n", circle.len());
        for from in &circle {
            for (to, items) in edges.get(*from).into_iter().flatten().filter(|(to, _)| circle.contains(&to.as_str())) {
                let items: Vec<&str> = items.iter().map(String::as_str).collect();
                told += &format!("  {from} -> {to}: {}\n", items.join(", "));
            }
        }
    }
    assert!(told.is_empty(), "move what both need to a file of its own:\n{told}");
}

/// The circles of a crate made up of these files.
fn found(files: &[(&str, &str)]) -> Vec<Vec<String>> {
    let files: BTreeMap<String, String> =
        files.iter().map(|(name, text)| (format!("src/{name}.rs"), (*text).to_owned())).collect();
    let edges = Crate::read(&files).edges();
    let plain = |file: &&str| file.trim_start_matches("src/").trim_end_matches(".rs").to_owned();
    circles(&edges).iter().map(|circle| circle.iter().map(plain).collect()).collect()
}

/// As [`found`], where there is one circle.
fn one(files: &[(&str, &str)]) -> Vec<String> {
    let mut found = found(files);
    assert_eq!(found.len(), 1, "{found:?}");
    found.remove(0)
}

#[test]
fn two_files_that_use_each_other_by_super_are_a_circle() {
    let a = "use super::b::B; pub struct A(B);";
    let b = "use super::a::A; pub struct B(Box<A>);";
    assert_eq!(one(&[("lib", "mod a; mod b;"), ("a", a), ("b", b)]), ["a", "b"]);
}

#[test]
fn a_mod_line_alone_is_no_use() {
    let parent = "mod child; pub struct Shared;";
    let child = "use super::Shared; pub fn f(_: Shared) {}";
    assert!(found(&[("lib", "mod parent;"), ("parent/mod", parent), ("parent/child", child)]).is_empty());
    let parent = "mod child; pub struct Shared; pub fn g() { child::f(Shared) }";
    assert_eq!(
        one(&[("lib", "mod parent;"), ("parent/mod", parent), ("parent/child", child)]),
        ["parent/child", "parent/mod"]
    );
}

#[test]
fn a_re_export_leads_to_the_file_that_defines() {
    // The room's door only points at the child; the circle is between the two children.
    let door = "mod one; mod two; pub use one::{First as Named}; pub use two::Second;";
    let one_file = "use super::Second; pub struct First(Second);";
    let two_file = "use crate::room::Named; pub struct Second(Box<Named>);";
    assert_eq!(
        one(&[("lib", "pub mod room;"), ("room/mod", door), ("room/one", one_file), ("room/two", two_file)]),
        ["room/one", "room/two"]
    );
    // Where the door's own code uses what it lets out, the door uses it.
    let door = "mod one; pub use one::First; pub struct Shared; fn f(_: First) {}";
    let one_file = "use super::Shared; pub struct First(Shared);";
    assert_eq!(one(&[("lib", "pub mod room;"), ("room/mod", door), ("room/one", one_file)]), ["room/mod", "room/one"]);
}

#[test]
fn a_path_in_the_code_is_a_use() {
    let a = "pub fn a() { super::b::b(); } pub struct A;";
    let b = "pub fn b() {} fn c(_: &crate::a::A) {}";
    assert_eq!(one(&[("lib", "mod a; mod b;"), ("a", a), ("b", b)]), ["a", "b"]);
    // By a module that was brought in, under another name.
    let a = "use super::{b as other, c::{self}}; pub fn a() { other::b(); c::c(); }";
    let b = "pub fn b() { crate::a::a() }";
    assert_eq!(one(&[("lib", "mod a; mod b; mod c;"), ("a", a), ("b", b), ("c", "pub fn c() {}")]), ["a", "b"]);
    // A module that is only brought in is none.
    let a = "use super::b; pub fn a() {}";
    assert!(found(&[("lib", "mod a; mod b;"), ("a", a), ("b", b)]).is_empty());
}

#[test]
fn groups_over_lines_and_longer_ways_are_seen() {
    let a = "use crate::{\n    b::{\n        B,\n        Other as Another,\n    },\n};\npub struct A;";
    let b = "use crate::c::C; pub struct B; pub struct Other;";
    let c = "fn f() -> Option<crate::a::A> { None } pub struct C;";
    assert_eq!(one(&[("lib", "mod a; mod b; mod c;"), ("a", a), ("b", b), ("c", c)]), ["a", "b", "c"]);
    let all = "use super::a::*; pub struct B;";
    assert_eq!(one(&[("lib", "mod a; mod b;"), ("a", "use super::b::B; pub struct A;"), ("b", all)]), ["a", "b"]);
}

#[test]
fn tests_comments_and_texts_are_no_uses() {
    let a = "use super::b::B; pub struct A(B);";
    let b = r##"
        pub struct B; // crate::a::A
        /* use super::a::A; /* crate::a::A */ */
        const TEXT: &str = "crate::a::A \" super::a::A"; const RAW: &str = r#" " crate::a::A "#;
        const SIGN: char = '"'; fn life<'a>(x: &'a str) -> &'a str { x }
        #[cfg(test)] use super::a::{A};
        #[cfg(test)] #[expect(unused)] fn t() { let _: crate::a::A; }
        #[cfg(test)] mod tests { use super::super::a::A; }
    "##;
    assert!(found(&[("lib", "mod a; mod b;"), ("a", a), ("b", b)]).is_empty());
    let whole = format!("//! Tests.\n#![cfg(test)]\n{a}");
    assert!(found(&[("lib", "mod a; mod b;"), ("a", &whole), ("b", "use super::a::A; pub struct B;")]).is_empty());
    let after = format!("{b} pub fn f(_: &crate::a::A) {{}}");
    assert_eq!(one(&[("lib", "mod a; mod b;"), ("a", a), ("b", &after)]), ["a", "b"], "what follows them is read");
    assert_eq!(
        tokens("a::b<'c>(1.5, '\\'', b\"x\")"),
        ["a", "::", "b", "<", "'", "c", ">", "(", "\"\"", ".", "\"\"", ",", "\"\"", ",", "\"\"", ")"]
    );
}

#[test]
fn files_that_the_list_of_kinds_names_are_read() {
    let list = "macro_rules! each_kind { ($make:ident) => { $make! { /// A.\n One(One): one; Two(Two): two; } }; }";
    let room = "macro_rules! kinds { ($($name:ident($held:ty): $file:ident;)+) => { $(pub mod $file;)+ \
                const ALL: [u8; 2] = [$($file::FACTS),+]; } } each_kind!(kinds); pub struct Shared;";
    let first = "pub const FACTS: u8 = 1; fn f(_: super::two::Two) {}";
    let second = "pub const FACTS: u8 = 2; pub struct Two; fn f(_: super::Shared) {}";
    let files =
        [("lib", "mod list; mod room;"), ("list", list), ("room/mod", room), ("room/one", first), ("room/two", second)];
    assert_eq!(one(&files), ["room/mod", "room/one", "room/two"]);
}

#[test]
fn a_way_that_does_not_come_back_is_no_circle() {
    let files = [
        ("lib", "mod a; mod b; mod c;"),
        ("a", "use super::b::B; use super::c::C; pub struct A(B, C);"),
        ("b", "use super::c::C; pub struct B(C);"),
        ("c", "pub struct C;"),
    ];
    assert!(found(&files).is_empty());
}

#[test]
fn crates_are_told_from_modules_however_they_are_brought_in() {
    let files = [
        ("lib", "mod a; mod b; mod c;"),
        (
            "a",
            "use std::{fs, io::{self}}; use super::b; fn f() { fs::read(\"\"); io::empty(); b::f(); toml::from_str(); }",
        ),
        ("b", "use rusqlite::{self as db, Row}; pub fn f() { db::open(); Row::get(); u8::from(1); }"),
        ("c", "use png::all::*; pub fn f() { zip::open(); }"),
    ];
    let files: BTreeMap<String, String> =
        files.iter().map(|(name, text)| (format!("src/{name}.rs"), (*text).to_owned())).collect();
    let all = Crate::read(&files);
    let outside: Vec<String> = all.outside().iter().map(|(file, path)| format!("{file} {}", path.join("::"))).collect();
    assert_eq!(
        outside,
        [
            "src/a.rs std::fs",
            "src/a.rs std::fs::read",
            "src/a.rs std::io",
            "src/a.rs std::io::empty",
            "src/a.rs toml::from_str",
            "src/b.rs rusqlite",
            "src/b.rs rusqlite::Row",
            "src/b.rs rusqlite::Row::get",
            "src/b.rs rusqlite::open",
            "src/b.rs u8::from",
            "src/c.rs png::all",
            "src/c.rs zip::open",
        ]
    );
}
