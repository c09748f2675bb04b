//! A class as columnar files.

use std::fs;

use bedplate::app::class::exporting::{CannotExport, Form, export};
use bedplate::domain::day::Instant;
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::domain::roster::{ClassRecord, HandedAttempt, LearnerRecord};
use bedplate::present::columns::{Values, tables};

use super::school::{assignment, class, handed};

/// Midnight of 1 December 2026 in UTC (`date -ud 2026-12-01 +%s`).
const DECEMBER: i64 = 1_796_083_200_000;

fn record() -> ClassRecord {
    let last_of_november = handed("1", "a", DECEMBER - 1, Outcome::Prompted, "");
    let notched = HandedAttempt { notch: Notch::Up, ..last_of_november };
    let attempts = vec![notched, handed("2", "b", DECEMBER, Outcome::Fluent, "")];
    let (orals, faults) = (Vec::new(), Vec::new());
    let learner =
        LearnerRecord { id: "one".into(), name: "Quill, F.".into(), last: Instant(DECEMBER), attempts, orals, faults };
    ClassRecord { class: class("3A"), assignments: vec![assignment("3A", &["a", "b"])], learners: vec![learner] }
}

#[test]
fn months_are_in_utc_and_each_form_has_the_same_files() {
    let folder = tempfile::tempdir().expect("a folder");
    for (form, ending) in [(Form::Parquet, "parquet"), (Form::Csv, "csv")] {
        let to = folder.path().join(ending).join("new");
        assert_eq!(export(&record(), &to, form).expect("written"), 4);
        for name in ["attempts/month=2026-11/attempts", "attempts/month=2026-12/attempts", "learners", "cards"] {
            let bytes = fs::read(to.join(format!("{name}.{ending}"))).expect("there");
            let is_parquet = bytes.starts_with(b"PAR1") && bytes.ends_with(b"PAR1");
            assert_eq!(is_parquet, form == Form::Parquet, "{name}");
        }
        assert!(matches!(export(&record(), &to, form), Err(CannotExport::Full(_))), "nothing is written over");
    }
    let csv = fs::read_to_string(folder.path().join("csv/new/attempts/month=2026-11/attempts.csv")).expect("there");
    let lines: Vec<&str> = csv.lines().collect();
    assert_eq!(
        lines[0],
        "class,learner,attempt,card,accepted,ship_minutes,outcome,marked,notch,seconds,edition,said,missed,denied,slip,voided"
    );
    assert_eq!(lines[1], "class-3a,one,1,stage/a,2026-11-30T23:59:59.999Z,0,3,2,1,12.5,1,1,2,,,false");
    let learners = fs::read_to_string(folder.path().join("csv/new/learners.csv")).expect("there");
    assert_eq!(learners.lines().nth(1), Some("class-3a,3A,one,\"Quill, F.\",2026-12-01T00:00:00Z"));
}

#[test]
fn columns_of_a_table_have_one_length() {
    let of = tables(&record());
    let all = of.attempts.values().chain([&of.learners, &of.cards]);
    for table in all {
        assert!(table.rows() > 0);
        for (name, values) in &table.columns {
            let length = match values {
                Values::Text(of) => of.len(),
                Values::MaybeText(of) => of.len(),
                Values::Whole(of) | Values::Time(of) => of.len(),
                Values::Real(of) => of.len(),
                Values::Flag(of) => of.len(),
            };
            assert_eq!(length, table.rows(), "{name}");
        }
    }
    assert_eq!(of.cards.rows(), 2);
}
