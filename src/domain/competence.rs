//! The STCW competence tables as plain data: table, function, competence.

/// All tables the program knows.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Competences {
    /// In the order of the Code.
    pub tables: Vec<Table>,
}

/// One table of the Code, such as A-III/1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// `A-III/1`.
    pub key: String,
    /// Our short title.
    pub title: String,
    /// `operational` or `management`.
    pub level: String,
    /// The certificate's regulation, `STCW III/1`.
    pub certificate: String,
    /// Functions of the table.
    pub functions: Vec<Function>,
}

/// One function of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Function {
    /// `A-III/1.2`.
    pub key: String,
    /// Our short title.
    pub title: String,
    /// Competences of the function.
    pub competences: Vec<Competence>,
}

/// One competence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Competence {
    /// `A-III/1.2.1`.
    pub key: String,
    /// Our short title.
    pub title: String,
}

impl Competences {
    /// Every competence, in order.
    pub fn all(&self) -> impl Iterator<Item = &Competence> {
        self.tables.iter().flat_map(|t| &t.functions).flat_map(|f| &f.competences)
    }

    /// The competence of this key.
    pub fn get(&self, key: &str) -> Option<&Competence> {
        self.all().find(|c| c.key == key)
    }

    /// The table of this key.
    pub fn table(&self, key: &str) -> Option<&Table> {
        self.tables.iter().find(|t| t.key == key)
    }
}
