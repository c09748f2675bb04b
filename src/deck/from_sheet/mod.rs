//! Cards from a spreadsheet: one row a card. The deck as it would be is checked before a byte of it is written, and what is
//! wrong is told by row and column. Nothing here writes; whoever asks is given the files with their new bytes.

mod complaint;
mod edits;
mod error;
mod header;
mod place;
mod rows;
mod texts;
mod written;

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::path::Path;

pub use complaint::Complaint;
pub use error::DraftError;

use self::edits::Edit;
use self::header::{Column, Header};
use self::place::Places;
use self::rows::RowCard;
use self::texts::{Becomes, Cards, DeckText};
use super::check::Severity;
use super::folding::folded;
use super::kinds::{self, InRow};
use super::problem::Problem;
use super::reading::{Reading, read_deck_with};
use crate::domain::marking::Marker;
use crate::sheets::{Row, Sheet, Template};

/// Rows that spoil one another are left out round by round, so often at most.
const MOST_ROUNDS: usize = 20;

/// What comes of a sheet.
#[derive(Debug, Default)]
pub struct Drafted {
    /// What is wrong, in the order of the rows.
    pub complaints: Vec<Complaint>,
    /// Cards that are new, by id.
    pub added: Vec<String>,
    /// Cards that stood there and are changed.
    pub changed: Vec<String>,
    /// Cards that stood there and are as the sheet has them.
    pub same: usize,
    /// Of cards that are changed: what their writer may want to know.
    pub notes: Vec<String>,
    /// The files to write, relative to the deck's folder with `/`, each with all of its bytes.
    pub files: Vec<(String, Vec<u8>)>,
    /// Pieces of advice about the cards of the sheet.
    pub advice: usize,
}

impl Drafted {
    /// The rows, or other things, with an error.
    pub fn errors(&self) -> usize {
        let errors = self.complaints.iter().filter(|complaint| complaint.severity == Severity::Error);
        errors.map(|complaint| (complaint.row, &complaint.place)).collect::<BTreeSet<_>>().len()
    }
}

/// Works out what the cards of `sheet` make of the deck in `folder`: new ones go into the card file `cards/STEM.toml`.
/// Where a row has an error nothing is to be written, unless `keep_good`: then the other rows are. Samples are marked by
/// `marker`.
///
/// # Errors
/// Where there is no deck, or a file of it cannot be read.
pub fn draft(
    folder: &Path,
    sheet: &Sheet,
    stem: &str,
    keep_good: bool,
    marker: Marker<'_>,
) -> Result<Drafted, DraftError> {
    let texts = texts::read(folder)?;
    let cards = Cards::find(&texts)?;
    let mut drafted = Drafted::default();
    let (header, mut good) = match sheet.rows.split_first() {
        Some((first, rows)) if first.number == 1 => good_rows(first, rows, &mut drafted.complaints),
        _ => {
            let mend = "write the headings into row 1; `bedplate draft --template FILE` writes a sheet with them";
            drafted.complaints.push(Complaint::at(1, None, "the first row has no headings".to_owned(), mend));
            return Ok(drafted);
        }
    };
    without_doubles(&header, &cards, &mut good, &mut drafted.complaints);
    let before = read_deck_with(folder, &BTreeMap::new(), marker);
    let mut soft = Vec::new();
    for round in 1.. {
        let made = Made::of(&texts, &cards, &header, &good, stem);
        let bad = made.bad_rows(folder, &header, &before, marker, &mut soft);
        if round == 1 || keep_good {
            drafted.complaints.extend(bad.iter().cloned());
        }
        let rows: BTreeSet<usize> = bad.iter().filter_map(|complaint| complaint.row).collect();
        let is_whole = bad.iter().any(|complaint| complaint.row.is_none());
        if bad.is_empty() || !keep_good || is_whole || round == MOST_ROUNDS {
            let may_write = bad.is_empty() && (keep_good || drafted.errors() == 0);
            made.into(&mut drafted, may_write);
            break;
        }
        good.retain(|card| !rows.contains(&card.row));
    }
    drafted.advice = soft.iter().filter(|complaint| complaint.severity == Severity::Advice).count();
    drafted.complaints.extend(soft.into_iter().filter(|complaint| complaint.severity == Severity::Warning));
    drafted.complaints.sort_by_key(|complaint| (complaint.row.is_none(), complaint.row));
    Ok(drafted)
}

/// The sheet that `--template` writes: every heading, and an example of each kind that fits in a row.
pub fn template() -> Template {
    let columns = Column::template();
    let headings: Vec<String> = columns.iter().map(|column| column.heading()).collect();
    let row = |(kind, in_row): (&str, &InRow)| {
        let cell = |heading: &String| match heading.as_str() {
            "kind" => kind.to_owned(),
            heading => in_row.example.iter().find(|(of, _)| *of == heading).map_or("", |(_, text)| text).to_owned(),
        };
        headings.iter().map(cell).collect()
    };
    let rows = kinds::in_row().into_iter().map(row).collect();
    Template { headings, rows }
}

/// The cards of the rows that are sound by themselves.
fn good_rows(first: &Row, rows: &[Row], complaints: &mut Vec<Complaint>) -> (Header, Vec<RowCard>) {
    let (header, faults) = Header::read(first);
    let is_readable = faults.is_empty();
    for (at, message, mend) in faults {
        let column = at.map(|at| (at, "heading".to_owned()));
        complaints.push(Complaint::at(1, column, message, mend));
    }
    let mut good = Vec::new();
    // Under headings that are not understood every row would be wrong.
    for row in rows.iter().filter(|row| is_readable && row.cells.keys().any(|at| !header.is_remark(*at))) {
        match rows::card(&header, row) {
            Ok(card) => good.push(card),
            Err(faults) => complaints.extend(faults),
        }
    }
    (header, good)
}

/// Leaves out rows that stand in each other's way, or in that of a card of the deck.
fn without_doubles(header: &Header, cards: &Cards<'_>, good: &mut Vec<RowCard>, complaints: &mut Vec<Complaint>) {
    let (mut ids, mut asks): (HashMap<String, usize>, HashMap<String, usize>) = (HashMap::new(), HashMap::new());
    let place = |column: Column| header.place(column).map(|at| (at, column.heading()));
    // What another row makes of its card is not known yet; the check of the whole deck tells.
    let rows: BTreeSet<String> = good.iter().map(|card| card.id.clone()).collect();
    good.retain(|card| {
        let ask = folded(card.text("ask").unwrap_or_default());
        let fault = if let Some(first) = ids.get(&card.id) {
            Some((
                Column::Id,
                format!("the id `{}` stands in row {first} already", card.id),
                "give each card its own id",
            ))
        } else if let Some(first) = asks.get(&ask) {
            let mend = "make one card of the two, or say in the question what is different";
            Some((Column::Question, format!("this asks the same as row {first}"), mend))
        } else if let Some(other) = cards.asking_the_same(card).filter(|other| !rows.contains(*other)) {
            let mend = "give this row the id of that card, or ask something else";
            Some((Column::Question, format!("the card `{other}` of the deck asks the same"), mend))
        } else {
            None
        };
        ids.entry(card.id.clone()).or_insert(card.row);
        asks.entry(ask).or_insert(card.row);
        let is_good = fault.is_none();
        complaints.extend(fault.map(|(column, message, mend)| Complaint::at(card.row, place(column), message, mend)));
        is_good
    });
}

/// The deck as it would be.
struct Made<'t> {
    texts: &'t [DeckText],
    rows: HashMap<String, usize>,
    refused: Vec<Complaint>,
    added: Vec<String>,
    changed: Vec<String>,
    same: usize,
    notes: Vec<String>,
    /// Files that are other than they stand, by name.
    files: BTreeMap<String, String>,
}

impl<'t> Made<'t> {
    fn of(texts: &'t [DeckText], cards: &Cards<'t>, header: &Header, good: &[RowCard], stem: &str) -> Self {
        let mut made = Self {
            texts,
            rows: good.iter().map(|card| (card.id.clone(), card.row)).collect(),
            refused: Vec::new(),
            added: Vec::new(),
            changed: Vec::new(),
            same: 0,
            notes: Vec::new(),
            files: BTreeMap::new(),
        };
        let mut edits: BTreeMap<usize, Vec<Edit>> = BTreeMap::new();
        let mut new = Vec::new();
        for card in good {
            match cards.becomes(card) {
                Becomes::New => {
                    new.push(written::card(card.kind.word, &card.wanted));
                    made.added.push(card.id.clone());
                }
                Becomes::Changed(_, own, _) if own.is_empty() => made.same += 1,
                Becomes::Changed(file, own, notes) => {
                    edits.entry(file).or_default().extend(own);
                    made.notes.extend(notes.into_iter().map(|note| format!("{}: {note}", card.id)));
                    made.changed.push(card.id.clone());
                }
                Becomes::Refused(key, message, mend) => {
                    let column = if key.is_some() { Column::Id } else { Column::Kind };
                    let place = header.place(column).map(|at| (at, column.heading()));
                    made.refused.push(Complaint::at(card.row, place, message, mend));
                }
            }
        }
        // Where capital and small letters are one, a file of this name in other letters is this file.
        let file_of_new = format!("cards/{}.toml", file_name(stem));
        let standing = texts.iter().find(|text| text.name.eq_ignore_ascii_case(&file_of_new));
        let file_of_new = standing.map_or(file_of_new, |standing| standing.name.clone());
        for (file, own) in edits {
            made.files.insert(texts[file].name.clone(), texts[file].with(own, ""));
        }
        if !new.is_empty() {
            let added = new.join("\n");
            let text = match (made.files.get(&file_of_new), standing) {
                // Its changes have been carried out already.
                (Some(changed), Some(_)) => DeckText::of(&file_of_new, changed).with(Vec::new(), &added),
                (_, Some(standing)) => standing.with(Vec::new(), &added),
                _ => added,
            };
            made.files.insert(file_of_new, text);
        }
        made
    }

    /// What is wrong with rows, and errors elsewhere that the sheet would bring about; what is no error goes to `soft`.
    fn bad_rows(
        &self,
        folder: &Path,
        header: &Header,
        before: &Reading,
        marker: Marker<'_>,
        soft: &mut Vec<Complaint>,
    ) -> Vec<Complaint> {
        let mut bad = self.refused.clone();
        soft.clear();
        let overlay = self.files.iter().map(|(name, text)| (name.clone(), text.clone().into_bytes())).collect();
        let after = read_deck_with(folder, &overlay, marker);
        let places: HashMap<&str, Places> =
            after.texts.iter().map(|text| (text.name.as_str(), Places::find(&text.text))).collect();
        let mut elsewhere: BTreeMap<(&str, &str), Vec<&Problem>> = BTreeMap::new();
        for problem in &after.problems {
            let card = places.get(problem.file.as_str()).and_then(|places| places.of(problem.span.start));
            let row = card.and_then(|(id, column)| Some((*self.rows.get(id)?, column)));
            let Some((row, column)) = row else {
                if problem.severity == Severity::Error {
                    elsewhere.entry((&problem.file, problem.code)).or_default().push(problem);
                }
                continue;
            };
            let place = column.and_then(|column| Some((header.place(column)?, column.heading())));
            let mut complaint = Complaint::at(row, place, problem.message.clone(), problem.mend.clone());
            complaint.severity = problem.severity;
            if complaint.column.is_none() {
                complaint.place = Some(format!("{}, line {}", problem.file, problem.line));
            }
            if problem.severity == Severity::Error { bad.push(complaint) } else { soft.push(complaint) }
        }
        for ((file, code), problems) in elsewhere {
            let was = before.problems.iter().filter(|problem| problem.file == file && problem.code == code).count();
            bad.extend(problems.into_iter().skip(was).map(|problem| Complaint {
                row: None,
                column: None,
                place: Some(format!("the deck would have an error in {}, line {}", problem.file, problem.line)),
                severity: Severity::Error,
                message: problem.message.clone(),
                mend: problem.mend.clone(),
            }));
        }
        bad
    }

    /// Puts together what comes of it.
    fn into(self, drafted: &mut Drafted, may_write: bool) {
        if !may_write {
            return;
        }
        let bytes = |(name, text): (String, String)| {
            let standing = self.texts.iter().find(|standing| standing.name == name);
            let bytes = standing.map_or_else(|| text.clone().into_bytes(), |standing| standing.bytes(&text));
            (name, bytes)
        };
        drafted.files = self.files.into_iter().map(bytes).collect();
        (drafted.added, drafted.changed, drafted.same, drafted.notes) =
            (self.added, self.changed, self.same, self.notes);
    }
}

/// The name of the file of new cards: that of the sheet, in letters, digits and hyphens.
fn file_name(stem: &str) -> String {
    let lower = stem.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty()).collect();
    match words.join("-") {
        name if name.is_empty() => "sheet".to_owned(),
        name => name.chars().take(60).collect(),
    }
}
