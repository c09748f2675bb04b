//! The STCW competence tables that cards are filed under, read once from the file that is part of the program.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::domain::competence::{Competence, Competences, Function, Table};

const TEXT: &str = include_str!("../../assets/competences.toml");

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FileText {
    table: Vec<TableText>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct TableText {
    key: String,
    title: String,
    level: String,
    certificate: String,
    function: Vec<FunctionText>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FunctionText {
    key: String,
    title: String,
    competence: Vec<CompetenceText>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CompetenceText {
    key: String,
    title: String,
}

/// The tables A-III/1, A-III/2 and A-III/6 of the STCW Code.
pub fn competences() -> &'static Competences {
    static READ: OnceLock<Competences> = OnceLock::new();
    READ.get_or_init(|| {
        // The text is compiled in and a test reads it, so this cannot fail in a program that was built.
        parse(TEXT).expect("assets/competences.toml is part of the program and tested")
    })
}

fn parse(text: &str) -> Result<Competences, toml::de::Error> {
    let file: FileText = toml::from_str(text)?;
    Ok(Competences { tables: file.table.into_iter().map(TableText::into_table).collect() })
}

impl TableText {
    fn into_table(self) -> Table {
        Table {
            key: self.key,
            title: self.title,
            level: self.level,
            certificate: self.certificate,
            functions: self.function.into_iter().map(FunctionText::into_function).collect(),
        }
    }
}

impl FunctionText {
    fn into_function(self) -> Function {
        let competences = self.competence.into_iter().map(|c| Competence { key: c.key, title: c.title }).collect();
        Function { key: self.key, title: self.title, competences }
    }
}
