//! The views of the sample program. Ship, people, decks and figures are invented.

use bedplate::domain::answer::Given;
use bedplate::domain::card::Kind;
use bedplate::domain::ids::{CardKey, DeckId};
use bedplate::domain::outcome::Outcome;
use bedplate::domain::settings::{Certificate, Settings};
use bedplate::present::library::{
    AnswerView, CardRow, DeckRow, FaultRow, HistoryRow, Hit, ProblemRow, SearchView, Severity, SnippetPart, SourceRow,
    Standing,
};
use bedplate::present::pages::{LicenceRow, ProfileRow, TroubleKind};
use bedplate::present::watch::{
    BarPart, BarView, FrontState, GivenLink, LinkStanding, LinkView, PointRow, RemedyPart, ResultView, SlippedRow,
    Stage, WeakArea,
};
use bedplate::present::{
    AboutView, CardPageView, DeckView, FirstRunView, LibraryView, ProfilesView, SettingsView, TitleBlock, Tone,
    TroubleView, WatchCardView, WatchEndView, WatchFrontView, words,
};

use super::{OnCard, TODAY, key, outcome};

/// How many cards the sample's watch has: a recall, a figure, a why, a remedy.
pub const CARDS: usize = 4;

/// The three questions.
pub fn first_run() -> FirstRunView {
    FirstRunView {
        today: TODAY,
        name: String::new(),
        certificate: Certificate::Watch,
        minutes: 30,
        seconds_a_card: 37.5,
        block: TitleBlock::of([
            ["Profile", "E. Dunmore, this computer only", "Theme", "Sheet"],
            ["Decks with the program", "Two, checked", "Program", "0.1.0"],
            ["In them", "184 cards, none of them due yet", "Watches", "none"],
        ]),
    }
}

/// The front page in one of its states.
pub fn front(state: FrontState) -> WatchFrontView {
    let none = matches!(state, FrontState::NothingDue | FrontState::Done | FrontState::NoDecks);
    let part = |label: &str, count, weak| BarPart { label: label.to_owned(), count, weak };
    let bar = BarView {
        whole: "46 cards due today".to_owned(),
        parts: vec![
            part("Auxiliary engines", 12, true),
            part("Fuel and lubrication", 9, false),
            part("Electrical protection", 8, true),
            part("Pollution prevention", 7, true),
            part("Fire fighting", 6, false),
            part("Watch duties", 4, false),
        ],
    };
    let area = |name: &str, recall, slipped, in_watch| WeakArea {
        name: name.to_owned(),
        recall,
        asked: 21,
        cards: 34,
        slipped,
        in_watch,
    };
    let (headline, sentence) = match state {
        FrontState::Ready => (
            "46 cards, about 28 minutes",
            "Forty come back for recall, six are not yet asked. Two were missed yesterday; both are here.",
        ),
        FrontState::GoOn => {
            ("29 cards left, about 18 minutes", "You left this watch at card 17. Nothing accepted is lost.")
        }
        FrontState::NothingDue => {
            ("Nothing is due today", "The next cards come back tomorrow: twelve, about seven minutes.")
        }
        FrontState::Done => {
            ("Today’s watch is done", "46 cards in 27 minutes. Tomorrow 31 come back, about 19 minutes.")
        }
        FrontState::NoDecks => ("There are no decks to study", "No deck could be read from the deck folders."),
    };
    WatchFrontView {
        date: words::day(TODAY),
        headline: headline.to_owned(),
        sentence: sentence.to_owned(),
        state,
        bar: (!none).then_some(bar),
        weak: if none {
            vec![]
        } else {
            vec![
                area("Earth faults on insulated systems", 0.58, 3, 4),
                area("Oil record entries and the 15 ppm monitor", 0.64, 2, 5),
                area("First start after a dead ship", 0.69, 2, 3),
            ]
        },
        target_percent: 90,
        block: TitleBlock::of([
            ["For", "E. Dunmore", "Watch", "57"],
            ["Made of", "Five decks, six topics", "Minutes", "30 a day"],
            ["Basis", "Recall worked out today at 20:40", "Target", "90 %"],
        ]),
    }
}

const POINTS: [(&str, bool); 5] = [
    ("The engine’s own gear pump is up to speed and now feeds the bearings.", false),
    ("A pressure switch sees running pressure and stops the electric pump.", false),
    ("The electric pump is not switched off: it stays in automatic.", false),
    ("It starts again by itself when the engine stops or the pressure is lost.", false),
    ("If pressure does not build in the maker’s time, stop the engine at once.", true),
];

/// Which points the sample finds in typed words: the first by `gear pump`, the fifth by `stop the engine`.
pub fn found(text: &str) -> Vec<usize> {
    [(1, "gear pump"), (2, "pressure switch"), (5, "stop the engine")]
        .into_iter()
        .filter(|(_, words)| text.contains(words))
        .map(|(n, _)| n)
        .collect()
}

const LINKS: [&str; 4] = [
    "The fuel filter of the generator engine blocks",
    "The engine loses power and slows down",
    "Frequency falls and the under-frequency relay acts",
    "The generator breaker opens and the ship blacks out",
];
const FALSE_LINKS: [&str; 1] = ["The governor shuts the fuel because of overspeed"];

/// A card of the watch.
pub fn card(n: usize, on: &OnCard) -> WatchCardView {
    let (kind, place, ask, stage) = match n {
        0 => (
            Kind::Recall,
            "Auxiliary engines, lubrication before start",
            "Why does the pre-lubricating pump stop soon after an auxiliary engine fires?",
            recall(on),
        ),
        1 => (
            Kind::Figure,
            "Compressed air, starting air",
            "To what pressure are the starting-air receivers of *Marram Light* filled?",
            figure(on),
        ),
        2 => (
            Kind::Why,
            "Electrical power, blackout",
            "*Marram Light* blacks out at sea. Put the causes in order, from the first to what you saw.",
            why(on),
        ),
        _ => (
            Kind::Recall,
            "Electrical protection, earth faults",
            "An earth-fault lamp on the main switchboard goes dim. What do you do?",
            remedy(on),
        ),
    };
    let asked = matches!(stage, Stage::RecallAsked | Stage::FigureAsked { .. } | Stage::WhyAsked { .. });
    WatchCardView {
        key: key(["priming-pump", "full-air", "blackout", "earth-lamp"][n.min(3)]),
        kind,
        place: place.to_owned(),
        ask: ask.to_owned(),
        caution: (n == 1).then(|| "Open receiver valves slowly; a fast opening can burst the line.".to_owned()),
        picture: None,
        shown: None,
        seconds: if asked { 12 } else { 38 },
        limit: None,
        clock_runs: false,
        today: TODAY,
        in_oral: false,
        keeping: false,
        can_take_back: false,
        stage,
        block: block(n),
    }
}

fn block(n: usize) -> TitleBlock {
    let source = if n == 2 {
        "SOLAS 1974 as amended, chapter II-1, regulation 43; IACS Unified Requirement M9 (the blackout and what comes \
         before it, quoted from memory)"
    } else {
        "Makers’ instructions; common practice"
    };
    TitleBlock::of([
        ["Deck", "Auxiliary engines and first start", "Card", "14 of 138"],
        ["Topic", "Lubrication before start", "Edition", "3"],
        ["Source", source, "Seen", "6 times"],
    ])
}

fn result(worked_out: Outcome, on: &OnCard, detail: String, because: Option<&str>) -> ResultView {
    ResultView {
        outcome: worked_out.notched(on.notch),
        detail,
        worked_out,
        notch: on.notch,
        rule: "All said: Answered. Fewer: Missed.".to_owned(),
        withheld: false,
        fixed: false,
        because: because.map(str::to_owned),
    }
}

fn recall(on: &OnCard) -> Stage {
    let Some(given) = &on.given else { return Stage::RecallAsked };
    let typed = if let Given::Text(text) = given { Some(text.clone()) } else { None };
    let evidence = |n: usize| match n {
        1 => Some("the gear pump takes over"),
        5 => Some("stop the engine"),
        _ => None,
    };
    let points = POINTS.iter().enumerate().map(|(i, (text, critical))| PointRow {
        number: i + 1,
        text: (*text).to_owned(),
        said: on.said.contains(&(i + 1)),
        contradicted: typed.is_some() && i == 2,
        critical: *critical,
        evidence: match (&typed, i) {
            (Some(_), 2) => Some("someone switches it off".to_owned()),
            (Some(_), _) if on.said.contains(&(i + 1)) => evidence(i + 1).map(str::to_owned),
            _ => None,
        },
    });
    let worked_out = outcome(&on.said, POINTS.len(), &[5]);
    let next = if worked_out == Outcome::Missed { "Back in this watch." } else { "Next in 9 days." };
    let detail = format!("{} of 5 points, 38 s. {next}", on.said.len());
    Stage::RecallShown { points: points.collect(), typed, result: result(worked_out, on, detail, None) }
}

fn figure(on: &OnCard) -> Stage {
    let Some(Given::Text(given)) = &on.given else {
        return Stage::FigureAsked { hint: "Any unit of pressure.".to_owned() };
    };
    let (worked_out, error, tell, tone) = match given.as_str() {
        "30 bar" => (Outcome::Answered, "within 1 bar", None, Tone::Good),
        "30" => (Outcome::Prompted, "", Some("The number is right; its unit is missing."), Tone::Weak),
        _ => (Outcome::Missed, "90 % too low", Some("You are out by a power of ten."), Tone::Bad),
    };
    Stage::FigureMarked {
        given: given.clone(),
        expected: "30 bar".to_owned(),
        error: error.to_owned(),
        tell: tell.map(str::to_owned),
        tone,
        result: result(
            worked_out,
            on,
            "11 s. Next in 12 days.".to_owned(),
            Some(
                "Class rules ask for **six starts** of a non-reversing engine without refilling; 30 bar gives it with the receivers fitted.",
            ),
        ),
    }
}

fn why(on: &OnCard) -> Stage {
    let text = |position: usize| -> String {
        let all: Vec<&str> = LINKS.iter().chain(&FALSE_LINKS).copied().collect();
        all.get(position - 1).copied().unwrap_or_default().to_owned()
    };
    let Some(Given::Links(given)) = &on.given else {
        let order = [3, 5, 1, 4, 2];
        return Stage::WhyAsked { links: order.map(|p| LinkView { position: p, text: text(p) }).to_vec() };
    };
    let standing = |i: usize, p: usize| match p {
        5 => LinkStanding::False,
        p if p == i + 1 => LinkStanding::InOrder,
        _ => LinkStanding::OutOfPlace,
    };
    let right = given.iter().enumerate().filter(|(i, p)| standing(*i, **p) == LinkStanding::InOrder).count();
    let worked_out = Outcome::from_share(right as f64, 4.0, false);
    Stage::WhyMarked {
        given: given.iter().enumerate().map(|(i, p)| GivenLink { text: text(*p), standing: standing(i, *p) }).collect(),
        right: LINKS.iter().map(|l| (*l).to_owned()).collect(),
        result: result(worked_out, on, format!("{right} of 4 links in order, 52 s. Next in 6 days."), None),
    }
}

fn remedy(on: &OnCard) -> Stage {
    let part =
        |label: &str, text: &str, critical| RemedyPart { label: label.to_owned(), text: text.to_owned(), critical };
    Stage::Remedy {
        intro: "Missed four times in a row. Take it apart before it is asked again.".to_owned(),
        parts: vec![
            part("Point 1 of 2", "Find which phase it is: the dim lamp is the earthed one.", false),
            part(
                "Point 2 of 2",
                "Isolate circuits one by one, essential ones last and with leave from the bridge.",
                true,
            ),
            part(
                "The reason",
                "One earth trips nothing on an insulated system; a **second** is a short circuit.",
                false,
            ),
            part("Where it comes from", "SOLAS 1974 as amended, chapter II-1, regulation 45", false),
        ],
        shown: on.shown.max(1),
    }
}

/// The end of the watch.
pub fn end() -> WatchEndView {
    let row = |card: &str, ask: &str, why: &str, next: &str| SlippedRow {
        key: key(card),
        ask: ask.to_owned(),
        why: why.to_owned(),
        next: next.to_owned(),
    };
    WatchEndView {
        headline: "46 cards in 27 minutes".to_owned(),
        sentence: "Thirty-nine held. Seven needed a prompt or slipped, and all seven were answered before the end."
            .to_owned(),
        counts: Outcome::ALL.into_iter().zip([2, 5, 31, 8]).collect(),
        slipped: vec![
            row(
                "earth-lamp",
                "An earth-fault lamp on the main switchboard goes dim. What do you do?",
                "Missed point 2, safety-critical: isolate circuits one by one, essential ones last.",
                "tomorrow",
            ),
            row(
                "ppm",
                "At what oil content must the 15 ppm alarm act?",
                "Typed 150 ppm: out by a power of ten.",
                "tomorrow",
            ),
        ],
        can_take_back: false,
        tomorrow: "Tomorrow 31 cards come back, about 19 minutes; both that slipped are among them.".to_owned(),
        block: TitleBlock::of([
            ["For", "E. Dunmore", "Watch", "57"],
            ["Made of", "Five decks, six topics", "Minutes", "27"],
            ["Kept", "All 48 attempts", "Held", "85 %"],
        ]),
    }
}

/// The library; with a search, the one card that speaks of suctions.
pub fn library(search: &str) -> LibraryView {
    let deck = |id: &str, title: &str, edition: &str, publisher: &str, cards, problems, worst| DeckRow {
        id: DeckId(id.to_owned()),
        title: title.to_owned(),
        edition: edition.to_owned(),
        publisher: publisher.to_owned(),
        cards,
        problems,
        worst,
    };
    let part = |text: &str, marked| SnippetPart { text: text.to_owned(), marked };
    let hit = Hit {
        key: key("sea-suctions"),
        deck: "Marram Light, our own plant".to_owned(),
        ask: "When do we change from the low to the high sea suction, and why?".to_owned(),
        snippet: vec![
            part("The low ", false),
            part("suction", true),
            part(" then draws silt, which chokes filters and coolers.", false),
        ],
    };
    let query = search.trim();
    let hits = if "suction".starts_with(query) { vec![hit] } else { vec![] };
    LibraryView {
        decks: vec![
            deck("auxiliary-power", "Auxiliary power", "1", "Bedplate contributors", 92, 0, None),
            deck("air-fuel-oil", "Compressed air, fuel and lubrication", "1", "Bedplate contributors", 92, 0, None),
            deck("marram-light", "Marram Light, our own plant", "2", "E. Dunmore", 17, 2, Some(Severity::Warning)),
            deck("broken", "bilge-draft", "–", "", 0, 3, Some(Severity::Error)),
        ],
        folders: vec!["/home/dunmore/decks".to_owned()],
        search: (!query.is_empty()).then(|| SearchView { query: query.to_owned(), hits, more: 0 }),
    }
}

fn sources() -> Vec<SourceRow> {
    vec![
        SourceRow {
            title: "SOLAS 1974 as amended, chapter II-1, regulation 45".to_owned(),
            kind: "Convention".to_owned(),
        },
        SourceRow { title: "Common practice, no published source".to_owned(), kind: "Practice".to_owned() },
    ]
}

/// One deck.
pub fn deck() -> DeckView {
    let row = |card: &str, kind, ask: &str, standing, next: &str| CardRow {
        key: key(card),
        kind,
        ask: ask.to_owned(),
        heading: "Sea-water cooling".to_owned(),
        standing,
        next: next.to_owned(),
    };
    let fact = |name: &str, value: &str| (name.to_owned(), value.to_owned());
    DeckView {
        id: DeckId("marram-light".to_owned()),
        title: "Marram Light, our own plant".to_owned(),
        facts: vec![
            fact("Edition", "2"),
            fact("Publisher", "E. Dunmore"),
            fact("Licence", "CC-BY-4.0"),
            fact("Language", "en"),
        ],
        about: Some(
            "What a new joiner must know of the plant of *Marram Light* before the first watch alone.".to_owned(),
        ),
        caution: Some("Trains memory and reasoning only. The ship’s safety management system comes first.".to_owned()),
        sources: sources(),
        cards: vec![
            row(
                "sea-suctions",
                Kind::Recall,
                "When do we change from the low to the high sea suction, and why?",
                Standing::Holding,
                "in 23 days",
            ),
            row(
                "full-air",
                Kind::Figure,
                "To what pressure are the starting-air receivers filled?",
                Standing::WorkingUp,
                "tomorrow",
            ),
            row("blackout", Kind::Why, "Put the causes of the blackout in order.", Standing::Slipped, "today"),
            row(
                "priming-pump",
                Kind::Recall,
                "Why does the pre-lubricating pump stop soon after the engine fires?",
                Standing::Unseen,
                "",
            ),
            row(
                "bilge-wells",
                Kind::Recall,
                "Which bilge wells have a high-level alarm of their own?",
                Standing::SetAside,
                "",
            ),
        ],
        problems: vec![
            ProblemRow {
                code: "point-unmatchable".to_owned(),
                severity: Severity::Warning,
                place: "cards/cooling.toml:41:9".to_owned(),
                message: "No accepted phrase of point 4 can match: every word of it is a stop word.".to_owned(),
                mend: "Add a phrase with a noun, such as “both suctions shut”.".to_owned(),
            },
            ProblemRow {
                code: "heading-once".to_owned(),
                severity: Severity::Advice,
                place: "cards/cooling.toml:60:1".to_owned(),
                message: "Only one card has the heading “Fresh water”.".to_owned(),
                mend: String::new(),
            },
        ],
    }
}

/// The deck with so many cards, or with its own five where that is none.
pub fn deck_of(many: usize) -> DeckView {
    let mut view = deck();
    if many > 0 {
        let card = |n: usize| CardRow {
            key: key(&format!("many-{n}")),
            ask: format!("Question {n} of many"),
            ..view.cards[0].clone()
        };
        view.cards = (0..many).map(card).collect();
    }
    view
}

/// One card in the library.
pub fn card_page(key: &CardKey, aside: bool) -> CardPageView {
    let point = |text: &str, critical| (text.to_owned(), critical);
    CardPageView {
        key: key.clone(),
        kind: Kind::Recall,
        place: "Sea-water cooling, Marram Light".to_owned(),
        ask: "When do we change from the low to the high sea suction, and why?".to_owned(),
        picture: None,
        shown: None,
        answer: AnswerView::Points(vec![
            point("In shallow or muddy water, before the pilot boards.", false),
            point("The low suction then draws silt, which chokes filters and coolers.", false),
            point("High suction open before low is shut.", false),
            point("Never both shut with the pump running.", true),
        ]),
        because: Some("A pump with no suction runs hot within a minute.".to_owned()),
        caution: None,
        sources: sources(),
        standing: if aside { Standing::SetAside } else { Standing::Holding },
        standing_detail: if aside {
            "Left out of the watch for good.".to_owned()
        } else {
            "Next on Friday 18 December. Recall today 94 %.".to_owned()
        },
        history: vec![
            HistoryRow {
                day: "Wednesday 18 November".to_owned(),
                outcome: Outcome::Answered,
                detail: "4 of 4 points, 31 s.".to_owned(),
            },
            HistoryRow {
                day: "Monday 9 November".to_owned(),
                outcome: Outcome::Prompted,
                detail: "3 of 4 points, 44 s.".to_owned(),
            },
        ],
        faults: vec![FaultRow {
            day: "Monday 9 November".to_owned(),
            note: "Point 3 could say which valve is which.".to_owned(),
        }],
        today: TODAY,
        block: TitleBlock::of([
            ["Deck", "Marram Light, our own plant", "Card", "9 of 17"],
            ["Topic", "Operate pumping systems", "Edition", "2"],
            ["Source", "Common practice, no published source", "Seen", "4 times"],
        ]),
    }
}

/// Two learners.
pub fn profiles() -> ProfilesView {
    let row = |folder: &str, learner: &str, certificate: Certificate, last: &str, open| ProfileRow {
        folder: folder.to_owned(),
        learner: learner.to_owned(),
        certificate: certificate.title().to_owned(),
        last: last.to_owned(),
        open,
    };
    ProfilesView {
        profiles: vec![
            row("e-dunmore", "E. Dunmore", Certificate::Watch, "Tuesday 24 November", true),
            row("t-varga", "T. Varga", Certificate::ElectroTechnical, "no watch yet", false),
        ],
    }
}

/// The settings as they stand.
pub fn settings(s: &Settings) -> SettingsView {
    SettingsView {
        learner: s.learner.clone(),
        certificate: s.certificate,
        oral: s.oral,
        today: TODAY,
        minutes: s.minutes,
        seconds_a_card: 37.5,
        recall_target: s.recall_target,
        ship: s.ship,
        clock: "20:42".to_owned(),
        theme: s.theme,
        scale_percent: s.scale_percent,
        still: s.still,
        keep_recordings_days: s.keep_recordings_days,
    }
}

/// What the program is.
pub fn about() -> AboutView {
    let row = |what: &str, licence: &str, whose: &str| LicenceRow {
        what: what.to_owned(),
        licence: licence.to_owned(),
        whose: whose.to_owned(),
    };
    AboutView {
        version: "0.1.0".to_owned(),
        what: vec![
            "A trainer for marine engineering officers before their oral examination. It works with no connection."
                .to_owned(),
        ],
        folder: "/home/dunmore/.local/share/bedplate/e-dunmore".to_owned(),
        licences: vec![
            row("Bedplate", "MIT OR Apache-2.0", "Bedplate contributors"),
            row("Auxiliary power", "CC-BY-4.0", "Bedplate contributors"),
            row("Source Sans 3, Source Code Pro", "OFL-1.1", "Adobe"),
        ],
    }
}

/// A trouble with the store.
pub fn trouble(kind: TroubleKind) -> TroubleView {
    let what = match kind {
        TroubleKind::InUse => "Another window of Bedplate has these records open. Close it, then try again.",
        TroubleKind::Damaged { .. } => {
            "The file could not be read as a store: some of its pages are not what they should be."
        }
        TroubleKind::Newer => "Version 0.3 wrote this file. Version 0.1.0 leaves it as it is, so that nothing is lost.",
        TroubleKind::Folder => "The folder cannot be written: there is no room left on the disk.",
    };
    TroubleView {
        kind,
        what: what.to_owned(),
        detail: "/home/dunmore/.local/share/bedplate/e-dunmore/store.db".to_owned(),
    }
}
