//! Two model sittings, written out like plays: given these cards, this learner and this seed, the examiner asks, the
//! learner says, and so the examiner asks.

use bedplate::app::sitting::AskedNow;
use bedplate::domain::answer::Given;
use bedplate::domain::certificate::Certificate;
use bedplate::domain::deck::Deck;
use bedplate::domain::oral::{
    Blueprint, Candidate, Ended, Failing, Length, Manner, Next, Setup, Share, Sitting, Way, next, verdict,
};

use crate::support::cards::stage;
use crate::support::examiner::{What, answer, asked, mock};

const DECK: &str = r#"
[[recall]]
id = "dead-ship-first"
topic = "A-III/1.1.4"
ask = "Your ship is dead. What do you do first, and what must you not forget?"
points = [
    { say = "The emergency generator is started", accept = ["start the emergency generator", "emergency generator"] },
    { say = "The tie to the main switchboard is open", accept = ["tie breaker open", "bus tie open"], critical = true },
    { say = "The bridge is told", accept = ["tell the bridge", "inform the bridge", "call the bridge"] },
]
probes = [
    { after = "missed:3", ask = "Who outside the engine room is waiting to hear from you?", points = [
        { say = "The bridge", accept = ["bridge", "officer of the watch", "master"] },
    ] },
    { after = "all", ask = "How long may the emergency generator take to come in?", points = [
        { say = "45 seconds at most", accept = ["45 seconds", "45 s"] },
    ] },
]
because = "Without that opening the emergency set would feed the whole ship and trip."
sources = ["practice"]

[[recall]]
id = "oil-mist"
topic = "A-III/1.1.4"
ask = "The oil-mist alarm of the main engine sounds. Your first acts?"
points = [
    { say = "The engine is slowed and stopped in agreement with the bridge", accept = ["slow down", "stop the engine"] },
    { say = "Everyone keeps clear of the crankcase doors", accept = ["keep clear of the crankcase", "clear of the doors"], critical = true },
]
sources = ["practice"]

[[sequence]]
id = "cooling-before-air"
topic = "A-III/1.1.4"
ask = "Get the compressor running."
sources = ["practice"]
start = []
goal = ["running"]
[sequence.fact]
lined-up = "Cooling water lined up"
cooled = "Compressor cooled"
running = "Compressor running"
[[sequence.step]]
key = "open"
say = "Open the cooling-water valves"
gives = ["lined-up"]
[[sequence.step]]
key = "cool"
say = "Start the cooling pump"
needs = ["lined-up"]
gives = ["cooled"]
[[sequence.step.fault]]
without = "lined-up"
severity = "damage"
tell = "The pump runs dry."
[[sequence.step]]
key = "run"
say = "Start the compressor"
needs = ["cooled"]
gives = ["running"]
[[sequence.step.fault]]
without = "cooled"
severity = "damage"
tell = "The compressor overheats."
"#;

fn deck() -> Deck {
    stage(DECK)
}

fn candidates(deck: &Deck) -> Vec<Candidate<'_>> {
    let sources = |keys: &[String]| keys.iter().filter_map(|key| deck.sources.get(key)).collect();
    deck.cards.iter().map(|card| Candidate { card, sources: sources(&card.sources), recall: None }).collect()
}

fn setup(manner: Manner, leads: usize, seed: u64) -> Setup {
    let blueprint = Blueprint {
        shares: vec![Share { competence: "A-III/1.1.4".to_owned(), weight: 1.0 }],
        length: Length::Questions(leads),
        ..Blueprint::standard(Certificate::Watch)
    };
    Setup { blueprint, manner, ..mock(seed, leads) }
}

/// A sitting on the stage, typed.
struct Stage<'a> {
    cards: &'a [Candidate<'a>],
    sitting: Sitting,
    standing: Option<AskedNow>,
}

impl<'a> Stage<'a> {
    fn set(cards: &'a [Candidate<'a>], setup: Setup) -> Self {
        Self { cards, sitting: Sitting::begin(setup), standing: None }
    }

    /// The examiner says this, word for word, what comes first and the question.
    fn examiner(&mut self, words: &str) -> &mut Self {
        match next(&self.sitting, self.cards) {
            Next::Ask(question) => {
                let said = format!("{} {}", question.lead_in, question.ask);
                assert_eq!(said.trim(), words);
                let lead = self.cards.iter().find(|c| c.card.key == question.card).expect("its card").card;
                self.standing = Some(asked(Way::Write, *question, lead));
            }
            Next::End(ended) => panic!("the sitting is over ({ended:?}); expected: {words}"),
        }
        self
    }

    fn reply(&mut self, what: What) -> &mut Self {
        let asked = self.standing.take().expect("a question stands");
        self.sitting.turns.push(answer(asked, what, 20));
        self
    }

    fn learner(&mut self, words: &str) -> &mut Self {
        self.reply(What::Given(Given::Text(words.to_owned())))
    }

    fn learner_does(&mut self, steps: &[&str]) -> &mut Self {
        self.reply(What::Given(Given::Steps(steps.iter().map(|s| (*s).to_owned()).collect())))
    }

    fn learner_shrugs(&mut self) -> &mut Self {
        self.reply(What::Nothing)
    }

    fn curtain(&mut self, because: Ended) {
        assert_eq!(next(&self.sitting, self.cards), Next::End(because));
    }
}

#[test]
fn a_steady_examiner_prompts_for_what_was_missed_and_goes_deeper_after_a_full_answer() {
    let deck = deck();
    let cards = candidates(&deck);
    let mut stage = Stage::set(&cards, setup(Manner::Steady, 3, 12));
    stage
        .examiner("Your ship is dead. What do you do first, and what must you not forget?")
        .learner("I start the emergency generator.")
        .examiner("That is not yet safe. What else?")
        .learner("The bus tie must be open.")
        .examiner("Who outside the engine room is waiting to hear from you?")
        .learner("The bridge, of course.")
        .examiner("Get the compressor running.")
        .learner_does(&["open", "cool", "run"])
        .examiner(
            "Suppose this. You come to “Start the cooling pump”, but “Cooling water lined up” is not so. What happens?",
        )
        .learner("The pump runs dry.")
        .examiner("Suppose this. You come to “Start the compressor”, but “Compressor cooled” is not so. What happens?")
        .learner("Then the compressor overheats.")
        .examiner("The oil-mist alarm of the main engine sounds. Your first acts?")
        .learner_shrugs()
        .examiner("Something here is a matter of safety. What is it?")
        .learner("I open the doors and look.")
        .curtain(Ended::AllAsked);
    let verdict = verdict(&stage.sitting);
    // Dead ship: one point, and two after prompts at half: 2 of 3. Compressor: 4 of 4 and two what-ifs. Oil mist: 0 of 2.
    assert_eq!((verdict.earned, verdict.of), (8.0, 11.0));
    assert!(!verdict.passes, "whatever the share, a safety-critical miss fails");
    let keep_clear = "Everyone keeps clear of the crankcase doors".to_owned();
    assert_eq!(verdict.failings, vec![Failing::Critical(6, keep_clear)]);
}

#[test]
fn a_pressing_examiner_goes_on_asking() {
    let deck = deck();
    let cards = candidates(&deck);
    let mut stage = Stage::set(&cards, setup(Manner::Pressing, 1, 19));
    stage
        .examiner("Your ship is dead. What do you do first, and what must you not forget?")
        .learner("Bus tie open first.")
        .examiner("That is not all. What else belongs to a full answer?")
        .learner_shrugs()
        .examiner("Who outside the engine room is waiting to hear from you?")
        .learner("Nobody I know.")
        .curtain(Ended::AllAsked);
}
