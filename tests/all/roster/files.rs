//! The files of a class: hand-ins and assignments as bytes.

use bedplate::app::class::envelope::{
    Attached, FileFault, Sort, read_assignment, read_hand_in, sort_of, write_assignment, write_hand_in,
};
use bedplate::domain::ids::DeckId;
use bedplate::domain::outcome::Outcome;

use super::school::{NOW, assignment, hand_in, handed};

#[test]
fn a_hand_in_comes_back_as_it_was_and_one_turned_byte_is_refused() {
    let attempts = vec![
        handed("1", "a", NOW - 9_000, Outcome::Fluent, "the dim lamp"),
        handed("2", "b", NOW - 8_000, Outcome::Missed, ""),
    ];
    let given = hand_in("learner-one", "R. Halloran", 0, attempts);
    let bytes = write_hand_in(&given).expect("written");
    assert_eq!(sort_of(&bytes), Some(Sort::HandIn));
    assert_eq!(read_hand_in(&bytes), Ok(given));
    for at in 0..bytes.len() {
        for turn in [0x01, 0x20, 0xff] {
            let mut turned = bytes.clone();
            turned[at] ^= turn;
            let told = read_hand_in(&turned).expect_err("one byte is another");
            let is_head = at < "bedplate hand-in 1\n".len();
            assert!(is_head != (told == FileFault::Damaged), "byte {at}: {told:?}");
        }
    }
    for cut in [0, 1, 18, 19, 84, bytes.len() - 1] {
        assert!(read_hand_in(&bytes[..cut]).is_err(), "cut at {cut}");
    }
    let longer = [bytes.as_slice(), b"\n"].concat();
    assert_eq!(read_hand_in(&longer), Err(FileFault::Damaged));
}

#[test]
fn other_files_are_called_what_they_are() {
    assert_eq!(read_hand_in(b"PK\x03\x04"), Err(FileFault::NotOne("a hand-in")));
    assert_eq!(read_hand_in(b"bedplate hand-in 01\nsha256 \n"), Err(FileFault::NotOne("a hand-in")));
    assert_eq!(read_hand_in(b"bedplate hand-in 2\n"), Err(FileFault::Newer));
    let given = assignment("3A", &["a", "b"]);
    let decks =
        [b"one".as_slice(), b"and two"].map(|bytes| Attached { deck: DeckId("stage".into()), bytes: bytes.into() });
    let bytes = write_assignment(&given, &decks).expect("written");
    assert_eq!(read_hand_in(&bytes), Err(FileFault::NotOne("a hand-in")));
    assert_eq!(sort_of(&bytes), Some(Sort::Assignment));
    assert_eq!(read_assignment(&bytes), Ok((given, decks.to_vec())));
    let last = bytes.len() - 1;
    let mut turned = bytes;
    turned[last] ^= 1;
    assert_eq!(read_assignment(&turned), Err(FileFault::Damaged));
}

#[test]
fn a_whole_file_with_senseless_numbers_is_refused() {
    let good = hand_in("learner-one", "R. Halloran", 0, vec![handed("1", "a", NOW, Outcome::Fluent, "")]);
    let refused = |change: &dyn Fn(&mut bedplate::domain::roster::HandIn)| {
        let mut bad = good.clone();
        change(&mut bad);
        let bytes = write_hand_in(&bad).expect("written");
        matches!(read_hand_in(&bytes), Err(FileFault::Senseless(_)))
    };
    assert!(!refused(&|_| {}));
    assert!(refused(&|bad| bad.learner = "../elsewhere".into()));
    assert!(refused(&|bad| bad.learner = String::new()));
    assert!(refused(&|bad| bad.name = " ".into()));
    assert!(refused(&|bad| bad.name = "a\nb".into()));
    assert!(refused(&|bad| bad.attempts[0].seconds = -1.0));
    assert!(refused(&|bad| bad.attempts[0].at.0 = i64::MAX));
    assert!(refused(&|bad| bad.attempts[0].said = vec![0]));
    assert!(refused(&|bad| bad.attempts[0].id.0 = "x".repeat(65)));
    assert!(refused(&|bad| bad.orals.as_mut().unwrap()[0].share = 1.5));
    assert!(refused(&|bad| bad.assignment.cards[0].weight = 0));
    assert!(refused(&|bad| bad.made.0 = -1));
}
