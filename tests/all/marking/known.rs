//! Answers to the bundled cards that were once marked wrongly, and answers that give up, which make no point of any card.

use crate::marking::decks::{asked, bundled, marked};

/// What an answer does with one point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Does {
    Says,
    /// Contradicts it.
    Denies,
    /// Neither.
    Nothing,
    NotSay,
}

use Does::{Denies, NotSay, Nothing, Says};

/// Card, answer, point (from 1), and what the answer does with it.
const KNOWN: &[(&str, &str, usize, Does)] = &[
    ("extra-for-high-voltage", "test dead, then earth", 4, Says),
    ("extra-for-high-voltage", "first I test that it is dead, then the earth is applied", 4, Says),
    ("extra-for-high-voltage", "I apply the earth, then I prove it dead", 4, Denies),
    ("extra-for-high-voltage", "earth it first and prove dead later", 4, Denies),
    ("extra-for-high-voltage", "test dead, then earth", 3, NotSay),
    ("locks-for-three-gangs", "one lock for all three gangs", 3, Denies),
    ("locks-for-three-gangs", "one shared lock for everybody", 3, Denies),
    ("locks-for-three-gangs", "every gang has its own lock", 3, Says),
    ("locks-for-three-gangs", "every gang has its own lock", 4, NotSay),
    ("before-the-eca", "we flush after we have entered", 2, Denies),
    ("before-the-eca", "we enter the area and then flush the system", 2, Denies),
    ("before-the-eca", "flush the whole system before we enter", 2, Says),
    ("burning-in-the-yard", "the fire watch goes home as soon as welding stops", 2, Denies),
    ("burning-in-the-yard", "the fire watch goes home as soon as welding stops", 5, NotSay),
    ("burning-in-the-yard", "the fire watch of our own stays after they leave", 2, Says),
    ("burning-in-the-yard", "gas hoses stay on board with the bottles open over night", 5, Denies),
    ("spares-with-less-money", "I would never cut on safety gear", 1, Says),
    ("spares-with-less-money", "safety gear is cut first", 1, Denies),
    ("low-sulphur-liner", "too hot, so lower the jacket water temperature", 1, NotSay),
    ("low-sulphur-liner", "too hot, so lower the jacket water temperature", 2, NotSay),
    ("low-sulphur-liner", "too hot, so lower the jacket water temperature", 3, Denies),
    ("low-sulphur-liner", "too hot, so lower the jacket water temperature", 4, NotSay),
    ("immersion-suit-engine", "suit", 1, Nothing),
    ("immersion-suit-engine", "jacket", 2, Nothing),
    ("immersion-suit-engine", "immersion suit", 1, Says),
    ("immersion-suit-engine", "life jacket", 2, Says),
    ("outside-stops", "keep the fans running", 5, Denies),
    ("outside-stops", "stop the fans", 5, Says),
    ("near-miss-worth", "what we cannot repair ourselves goes to the office", 4, Says),
    ("near-miss-worth", "things the ship can't mend go to the company", 4, Says),
    ("harmless-gas-kills", "it takes away the oxygen", 1, Says),
    ("high-pressure-pipes", "the pipe is shrouded", 1, Says),
    ("what-is-dead-ship", "no stored energy such as starting air or batteries", 2, Says),
    ("what-is-dead-ship", "there is no stored energy, for example air in the receivers", 2, Says),
    ("what-the-blown-glass-says", "if it does not drop the steam side is choked", 4, Says),
    ("where-the-emergency-set-stands", "a fire in the engine room does not put it out", 4, Says),
    ("where-the-emergency-set-stands", "a fire in the engine room does not put it out", 1, Nothing),
    ("expansion-tank-what-for", "gives room for the water to expand", 1, Says),
    ("expansion-tank-what-for", "gives room for the water to expand", 4, Nothing),
    ("governor-and-voltage-trimmer", "voltage trimmer changes the voltage when alone", 3, Says),
    ("blackout-first-actions", "I do not start the emergency generator", 3, NotSay),
    ("what-is-dead-ship", "I do not start the emergency generator", 3, NotSay),
    ("water-gains-on-the-pumps", "I do not start the emergency generator", 3, NotSay),
    ("someone-elses-padlock", "If the man is not there I cut his padlock off, the breaker has to go in", 1, NotSay),
    (
        "bunker-change-tank",
        "I shut the valve of the full tank completely, and only when it is shut do I go and open the valve of the next tank",
        1,
        Denies,
    ),
    ("bunker-change-tank", "only when the next tank is open do I shut the full one", 1, Says),
    ("bunker-change-tank", "I shut the full tank only when the next one is open", 1, Says),
];

#[test]
fn answers_once_marked_wrongly_are_marked_rightly() {
    let cards = bundled();
    let mut wrong = Vec::new();
    for (id, answer, point, wanted) in KNOWN {
        let of = cards.iter().find(|c| c.id == *id).unwrap_or_else(|| panic!("no card {id}"));
        let mark = &marked(&asked(of), answer)[point - 1];
        let right = match wanted {
            Says => mark.said,
            Denies => mark.contradicted,
            Nothing => !mark.said && !mark.contradicted,
            NotSay => !mark.said,
        };
        if !right {
            wrong.push(format!("{id} point {point}: {answer:?} should be {wanted:?}: {mark:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Answers that give up.
const GIVEN_UP: &[&str] = &[
    "I do not know",
    "I don't know",
    "no idea",
    "not sure",
    "I cannot remember",
    "I can't remember",
    "I forgot",
    "I have forgotten this one",
    "I do not remember",
    "don't know",
    "sorry, I do not know this",
    "I am not sure",
    "no clue",
    "I have no idea about this",
    "I don't know the answer",
    "I would have to look it up",
    "pass",
    "I do not know, sir",
    "nothing to say",
    "I cannot say",
    "I cant recall",
    "I am not sure about that one",
    "dunno",
    "?",
    "next question please",
    "skip",
    "I really do not know this one, sir",
    "this I do not remember any more",
    "I can not recall the answer",
    "honestly I am not sure at all",
    "I never heard of this",
    "I could not say",
    "I did not learn this in school",
    "i dont know how it works",
    "I do not know which valve it is",
    "I am not sure which pump to start",
    "I have forgotten the procedure",
    "I do not recall the pressure",
    "please repeat the question",
    "let us go on to the next one",
    "I can't tell you",
    "what do you mean?",
    "unfortunately I do not know the answer to this question",
    "I do not know the emergency generator",
    "",
];

#[test]
fn answers_that_give_up_make_no_point_of_any_card() {
    let cards = bundled();
    assert!(cards.len() > 400, "{} cards", cards.len());
    let mut wrong = Vec::new();
    for of in &cards {
        let card = asked(of);
        for answer in GIVEN_UP {
            for (at, mark) in marked(&card, answer).iter().enumerate() {
                if mark.said || mark.contradicted {
                    wrong.push(format!("{} point {}: {answer:?}: {mark:?}", of.id, at + 1));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn what_is_not_known_makes_no_point_and_the_rest_of_the_answer_does() {
    let cards = bundled();
    let of = cards.iter().find(|c| c.id == "outside-stops").expect("the card");
    let said = |text: &str| marked(&asked(of), text).iter().map(|m| m.said).collect::<Vec<_>>();
    assert_eq!(said("I do not know about the fans, but I stop the fuel pumps"), [false, true, false, false, false]);
    assert_eq!(said("not sure, maybe the purifiers"), [false, false, true, false, false]);
    let of = cards.iter().find(|c| c.id == "call-chief-when").expect("the card");
    assert!(marked(&asked(of), "I call him when not sure")[1].said);
}

#[test]
fn one_bare_word_makes_a_point_only_where_the_deck_takes_it_alone() {
    for word in ["check", "watch", "look", "open", "stop", "pass", "start", "keep"] {
        let mut wrong = Vec::new();
        for of in &bundled() {
            let own = |at: usize| of.points[at].accept.iter().any(|a| a.split(' ').count() == 1);
            for (at, mark) in marked(&asked(of), word).iter().enumerate() {
                if mark.said && !own(at) {
                    wrong.push(format!("{} point {}: {word:?}: {mark:?}", of.id, at + 1));
                }
            }
        }
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }
    let check = |of: &crate::marking::decks::RecallCard| marked(&asked(of), "check").iter().any(|m| m.said);
    assert_eq!(bundled().iter().filter(|of| check(of)).count(), 0);
}
