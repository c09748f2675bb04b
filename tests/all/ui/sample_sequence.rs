//! A sample sequence for the window: a procedure of the ship *Marram Light* on a very small plant of its own. It
//! is there to have something true to draw; the program's own engine is not asked.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;
use std::time::Duration;

use bedplate::app::command::Command;
use bedplate::app::program::Program;
use bedplate::domain::answer::Given;
use bedplate::domain::card::Kind;
use bedplate::domain::day::StudyDay;
use bedplate::domain::ids::CardKey;
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::sequence::{
    EffectView, FactView, FailureView, GiverView, How, MissingView, ReflexView, RightOrder, RunLine, SequenceAskedView,
    SequenceRunView, Severity, Stands, StepView,
};
use bedplate::present::shell::RailView;
use bedplate::present::watch::{LinkView, ResultView, Stage};
use bedplate::present::{Place, ShellView, TitleBlock, View, WatchCardView};

const FACTS: [(&str, &str); 13] = [
    ("board", "Emergency switchboard live"),
    ("fans", "Supply fans running"),
    ("cooling-line", "Cooling line of the compressor open"),
    ("cooled", "Compressor cooled"),
    ("air", "Starting air in one receiver"),
    ("fuel-line", "Distillate line open"),
    ("fuel", "Fuel at the engine"),
    ("jacket", "Jacket water circulating"),
    ("priming", "Priming pump running"),
    ("oil", "Oil pressure held"),
    ("blown", "Cylinders blown through"),
    ("running", "Auxiliary engine running"),
    ("main", "Main switchboard live"),
];

struct Step {
    key: &'static str,
    words: &'static str,
    needs: &'static [(&'static str, Severity, &'static str)],
    gives: &'static [&'static str],
}

const NOTHING: &str = "Nothing happens: the step cannot be done yet.";

/// In an order that works; the last two are traps.
const STEPS: [Step; 13] = [
    Step { key: "fans", words: "Start the supply fans of the engine space", needs: &[], gives: &["fans"] },
    Step {
        key: "line-cooling",
        words: "Line up the compressor’s sea-water cooling from the high suction",
        needs: &[],
        gives: &["cooling-line"],
    },
    Step {
        key: "cooling-pump",
        words: "Start the compressor’s cooling pump",
        needs: &[("cooling-line", Severity::Damage, "The pump runs dry against a shut suction.")],
        gives: &["cooled"],
    },
    Step {
        key: "compressor",
        words: "Line the compressor up to one receiver and start it unloaded",
        needs: &[
            ("cooled", Severity::Damage, "The compressor runs hot: no cooling water."),
            ("fans", Severity::NoEffect, NOTHING),
        ],
        gives: &["air"],
    },
    Step {
        key: "line-fuel",
        words: "Distillate: open quick-closing valve, filter and return",
        needs: &[],
        gives: &["fuel-line"],
    },
    Step {
        key: "fuel-pump",
        words: "Start the fuel supply pump",
        needs: &[("fuel-line", Severity::Trip, "The supply pump trips: no flow.")],
        gives: &["fuel"],
    },
    Step { key: "jacket", words: "Start the jacket-water pump", needs: &[], gives: &["jacket"] },
    Step {
        key: "prime",
        words: "Put pre-lubrication in automatic and see it run",
        needs: &[],
        gives: &["priming", "oil"],
    },
    Step {
        key: "blow",
        words: "Blow the engine through, indicator cocks open",
        needs: &[
            ("air", Severity::NoEffect, "Nothing turns: there is no starting air."),
            ("oil", Severity::Damage, "The shaft turns in dry bearings."),
        ],
        gives: &["blown"],
    },
    Step {
        key: "start",
        words: "Shut the cocks and start the engine",
        needs: &[
            ("blown", Severity::Injury, "Water in a cylinder breaks its head: people are hurt."),
            ("fuel", Severity::NoEffect, "The engine turns on air and does not fire."),
            ("jacket", Severity::Damage, "A cylinder head cracks: no jacket water."),
        ],
        gives: &["running"],
    },
    Step {
        key: "breaker",
        words: "Close the generator breaker to the dead busbar",
        needs: &[("running", Severity::NoEffect, "The breaker does not close: there is no voltage.")],
        gives: &["main"],
    },
    Step { key: "back-feed", words: "Close the tie breaker from the emergency side", needs: &[], gives: &[] },
    Step { key: "synchronise", words: "Synchronise with the emergency generator", needs: &[], gives: &[] },
];
const TRAPS: usize = 2;

/// The random order ashore, by position in `STEPS`.
const SHUFFLED: [usize; 13] = [10, 4, 8, 11, 0, 12, 2, 9, 7, 3, 6, 1, 5];

/// Keys of an order that works.
pub fn right_order() -> Vec<String> {
    STEPS[..STEPS.len() - TRAPS].iter().map(|s| s.key.to_owned()).collect()
}

/// A list from keys between spaces.
pub fn list(keys: &str) -> Vec<String> {
    keys.split_whitespace().map(str::to_owned).collect()
}

fn name(fact: &str) -> String {
    FACTS.iter().find(|f| f.0 == fact).map_or_else(String::new, |f| f.1.to_owned())
}

fn effect(fact: &str, holds: bool) -> EffectView {
    EffectView { name: name(fact), holds }
}

fn fact(key: &str, holding: &[&str]) -> FactView {
    FactView { key: key.to_owned(), name: name(key), holds: holding.contains(&key) }
}

/// The card as it is asked.
pub fn asked() -> SequenceAskedView {
    let step = |n: usize| StepView { key: STEPS[n].key.to_owned(), words: STEPS[n].words.to_owned() };
    SequenceAskedView {
        facts: ["board", "main", "air", "fuel", "running"].map(|f| fact(f, &["board"])).to_vec(),
        steps: SHUFFLED.into_iter().map(step).collect(),
    }
}

fn missing(fact: &str, list: &[String]) -> MissingView {
    let giver = |s: &Step| GiverView {
        words: s.words.to_owned(),
        stands: list.iter().position(|k| k == s.key).map_or(Stands::Ashore, |n| Stands::Line(n + 1)),
    };
    MissingView {
        key: fact.to_owned(),
        name: name(fact),
        must_not: false,
        undone_at: None,
        givers: STEPS.iter().filter(|s| s.gives.contains(&fact)).map(giver).collect(),
    }
}

fn failure(step: &Step, line: usize, holding: &[&str], list: &[String]) -> Option<FailureView> {
    if STEPS[STEPS.len() - TRAPS..].iter().any(|t| t.key == step.key) {
        let cause = "The emergency switchboard trips: it is not made to carry the ship.".to_owned();
        return Some(FailureView { line, cause, severity: Severity::Trip, missing: vec![] });
    }
    let unmet: Vec<_> = step.needs.iter().filter(|n| !holding.contains(&n.0)).collect();
    let first = unmet.first()?;
    let missing = unmet.iter().map(|n| missing(n.0, list)).collect();
    Some(FailureView { line, cause: first.2.to_owned(), severity: first.1, missing })
}

/// The list run against the small plant. Broken steps are passed over.
pub fn run(list: &[String], number: usize, right: bool, notch: Notch) -> SequenceRunView {
    let mut holding = vec!["board"];
    let mut lines: Vec<RunLine> = Vec::new();
    let mut failures: Vec<FailureView> = Vec::new();
    for (n, key) in list.iter().enumerate() {
        let Some(step) = STEPS.iter().find(|s| s.key == key) else { continue };
        let failed = failure(step, n + 1, &holding, list);
        let (mut effects, mut reflexes) = (vec![], vec![]);
        if failed.is_none() {
            effects = step.gives.iter().map(|f| effect(f, true)).collect();
            holding.extend(step.gives);
            if holding.contains(&"running") && holding.contains(&"priming") {
                holding.retain(|f| *f != "priming");
                let tell = "The engine’s own pump has taken over; the electric one stops.".to_owned();
                reflexes.push(ReflexView { tell, effects: vec![effect("priming", false)] });
            }
        }
        let how = match (&failed, failures.is_empty()) {
            (_, false) => How::NotRun,
            (Some(f), true) if f.missing.is_empty() => How::Trap,
            (Some(_), true) => How::Broken,
            (None, true) => How::Done,
        };
        failures.extend(failed);
        let facts_after = FACTS.iter().map(|f| holding.contains(&f.0)).collect();
        lines.push(RunLine { key: key.clone(), words: step.words.to_owned(), how, effects, reflexes, facts_after });
    }
    let reached = holding.contains(&"main");
    let worked_out = match (failures.is_empty() && reached, failures.iter().any(|f| f.severity > Severity::Trip)) {
        (true, _) => Outcome::Answered,
        (false, true) => Outcome::Missed,
        (false, false) => Outcome::Prompted,
    };
    SequenceRunView {
        asked: asked(),
        run: number,
        facts: FACTS.iter().map(|f| fact(f.0, &["board"])).collect(),
        begun: vec![],
        lines,
        failures,
        unmet: if reached { vec![] } else { vec![missing("main", list)] },
        right_order: right.then(|| RightOrder {
            words: STEPS[..STEPS.len() - TRAPS].iter().map(|s| s.words.to_owned()).collect(),
            note: "One of several that work.".to_owned(),
        }),
        explain: true,
        result: ResultView {
            outcome: worked_out.notched(notch),
            detail: format!("{} lines, 6 min 41 s. Next tomorrow.", list.len()),
            worked_out,
            notch,
            rule: "All said: Answered. Fewer: Missed.".to_owned(),
            withheld: false,
            fixed: false,
            because: Some("Air comes before oil, and oil before the first turn.".to_owned()),
        },
    }
}

/// A program with this one card.
#[derive(Default)]
pub struct SequenceProgram {
    /// Every command so far.
    pub log: Rc<RefCell<Vec<Command>>>,
    /// The runs so far, the first one first.
    pub runs: Vec<Vec<String>>,
    /// A right order was asked for.
    pub right: bool,
    /// The card was accepted: it is asked again.
    pub accepted: bool,
    /// Lines are played one after the other.
    pub moving: bool,
    /// Its theme.
    pub theme: ThemeChoice,
    /// Its scale.
    pub scale: u32,
    /// A why is asked about the run.
    pub explaining: bool,
    /// The learner’s notch.
    pub notch: Notch,
}

impl SequenceProgram {
    /// With one list run already.
    pub fn after(keys: &str) -> Self {
        Self { runs: vec![list(keys)], ..Self::default() }
    }

    fn stage(&self) -> Stage {
        if self.explaining {
            let link = |position, text: &str| LinkView { position, text: text.to_owned() };
            return Stage::WhyAsked {
                links: vec![
                    link(2, "The pump on the engine holds the oil pressure"),
                    link(1, "The engine runs"),
                    link(3, "The fuel filter blocks"),
                ],
            };
        }
        match self.runs.last() {
            None => Stage::SequenceAsked(Box::new(asked())),
            Some(list) => {
                let mut view = run(list, self.runs.len(), self.right, self.notch);
                // The first run counts, whatever was mended since.
                view.result = run(&self.runs[0], 1, false, self.notch).result;
                Stage::SequenceRun(Box::new(view))
            }
        }
    }
}

impl Program for SequenceProgram {
    fn view(&mut self) -> Arc<ShellView> {
        let card = WatchCardView {
            picture: None,
            shown: None,
            key: CardKey::new("marram-light", if self.explaining { "dead-ship-why" } else { "dead-ship" }),
            kind: if self.explaining { Kind::Why } else { Kind::Sequence },
            place: "Auxiliary engines, first start".to_owned(),
            ask: if self.explaining {
                "The priming pump has stopped. Put the causes in order.".to_owned()
            } else {
                "*Marram Light* lies dead. Bring her to a live main switchboard".to_owned()
            },
            caution: None,
            seconds: if self.runs.is_empty() { 134 } else { 401 },
            limit: None,
            clock_runs: false,
            today: StudyDay(20_782),
            in_oral: false,
            keeping: false,
            can_take_back: false,
            stage: self.stage(),
            block: TitleBlock::of([
                ["Deck", "Marram Light, our own plant", "Card", "31 of 138"],
                ["Topic", "From dead ship to live board", "Edition", "3"],
                ["Source", "Common practice; SOLAS II-1 for the limits", "Seen", "2 times"],
            ]),
        };
        let rail = RailView {
            place: Some(Place::Watch),
            learner: "E. Dunmore".to_owned(),
            clock: "20:42".to_owned(),
            offset: "UTC+3".to_owned(),
            oral: Some("Oral in 41 days".to_owned()),
        };
        Arc::new(ShellView {
            rail,
            title: "Watch".to_owned(),
            context: "Card 18 of 46".to_owned(),
            notice: None,
            progress: Some(0.39),
            view: View::WatchCard(Box::new(card)),
        })
    }

    fn command(&mut self, command: Command) {
        self.log.borrow_mut().push(command.clone());
        match command {
            Command::Submit(Given::Steps(steps)) | Command::RunAgain(steps) => self.runs.push(steps),
            Command::ShowRightOrder => self.right = true,
            Command::SetNotch(notch) => self.notch = notch,
            Command::SetTheme(theme) => self.theme = theme,
            Command::SetScale(scale) => self.scale = scale,
            Command::Explain => self.explaining = true,
            Command::Submit(Given::Links(_)) => self.explaining = false,
            Command::Accept => {
                (self.runs, self.right, self.notch, self.accepted) = (vec![], false, Notch::None, true);
            }
            _ => {}
        }
    }

    fn tick(&mut self) -> Option<Duration> {
        None
    }

    fn theme(&self) -> ThemeChoice {
        self.theme
    }

    fn scale_percent(&self) -> u32 {
        if self.scale == 0 { 100 } else { self.scale }
    }

    fn still(&self) -> bool {
        !self.moving
    }
}
