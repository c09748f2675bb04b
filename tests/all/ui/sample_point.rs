//! A sample point card for the window: a small drawing of the ship *Marram Light*, read and drawn by the program's own
//! reader of drawings, so that what is shown is true. The marking is done by its engine too.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;
use std::time::Duration;

use bedplate::app::command::Command;
use bedplate::app::program::Program;
use bedplate::domain::answer::{Answer, Given};
use bedplate::domain::card::{Body, Card, Kind};
use bedplate::domain::day::StudyDay;
use bedplate::domain::drawing::{Drawing, Pointing};
use bedplate::domain::ids::CardKey;
use bedplate::domain::marking::{Detail, mark};
use bedplate::domain::outcome::Notch;
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::drawing::{DrawingPlace, DrawingState, DrawingView, Drawn, PartMark, PartShown};
use bedplate::present::point::{PointAskedView, PointMarkedView};
use bedplate::present::shell::RailView;
use bedplate::present::watch::{RemedyPart, ResultView, Stage};
use bedplate::present::{Image, Place, ShellView, TitleBlock, View, WatchCardView};
use bedplate::svg;

/// The drawing.
pub const FUEL_LINE: &str = include_str!("../../drawings/fuel-line.svg");

/// A drawing that cannot be shown, in its sentence.
pub const FAILED: &str =
    "The drawing pictures/fuel-line.svg has changed since its deck was read; have the decks read again in the library.";

/// The drawing's parts.
pub fn drawing() -> Arc<Drawing> {
    Arc::new(svg::outline(FUEL_LINE.as_bytes(), None).expect("a sound drawing").drawing)
}

/// A card that asks for a part of it.
pub fn card(part: &str) -> Card {
    Card {
        key: CardKey::new("marram-light", "find-it"),
        topic: "A-III/1.1.5".to_owned(),
        heading: None,
        ask: "Point to the valve that shuts the tank from outside the space.".to_owned(),
        because_points: Vec::new(),
        because: Some("A burning space is left at once, and its fuel must be shut off from outside.".to_owned()),
        caution: None,
        sources: vec![],
        picture: None,
        seconds: Some(8.0),
        weight: 2,
        probes: vec![],
        body: Body::Point(Pointing {
            path: "pictures/fuel-line.svg".to_owned(),
            part: part.to_owned(),
            drawing: drawing(),
        }),
    }
}

/// Draws it as the program would.
pub fn drawn(place: DrawingPlace) -> Drawn {
    let size = (place.width, place.height);
    let (dots, marks) = svg::draw_with_marks(FUEL_LINE.as_bytes(), &drawing(), size, place.rim).expect("a drawing");
    let mut image = Image { width: dots.width, height: dots.height, rgba: dots.rgba };
    if let Some(tint) = place.tint {
        tint.apply(&mut image.rgba);
    }
    let mark =
        |m: svg::Mark| PartMark { place: m.place, width: m.width, height: m.height, rim: m.rim, inside: m.inside };
    Drawn { place, image, marks: marks.into_iter().map(|one| one.map(mark)).collect() }
}

/// A program with this one card.
pub struct PointProgram {
    /// Every command so far.
    pub log: Rc<RefCell<Vec<Command>>>,
    /// The answer.
    pub given: Option<Given>,
    /// Where the drawing goes; it is drawn at once.
    pub drawn: Option<Arc<Drawn>>,
    /// It cannot be shown.
    pub failed: Option<String>,
    /// In its remedy.
    pub remedy: bool,
    /// The learner’s notch.
    pub notch: Notch,
    /// Its theme.
    pub theme: ThemeChoice,
    /// Its scale.
    pub scale: u32,
    /// The card.
    pub card: Card,
}

impl Default for PointProgram {
    fn default() -> Self {
        Self {
            log: Rc::default(),
            given: None,
            drawn: None,
            failed: None,
            remedy: false,
            notch: Notch::None,
            theme: ThemeChoice::Sheet,
            scale: 100,
            card: card("quick-closing-valve"),
        }
    }
}

impl PointProgram {
    /// With this part asked for and this answer given.
    pub fn after(part: &str, given: Given) -> Self {
        Self { given: Some(given), card: card(part), ..Self::default() }
    }

    fn drawing(&self) -> DrawingView {
        let state = match (&self.failed, &self.drawn) {
            (Some(sentence), _) => DrawingState::Failed(sentence.clone()),
            (None, Some(drawn)) => DrawingState::Ready(Arc::clone(drawn)),
            (None, None) => DrawingState::Loading,
        };
        DrawingView { name: "pictures/fuel-line.svg".to_owned(), drawing: drawing(), state }
    }

    fn stage(&self) -> Stage {
        if self.remedy {
            let part = |label: &str, text: &str| RemedyPart { label: label.into(), text: text.into(), critical: false };
            let parts = vec![part("The part", "Quick-closing valve"), part("Where it comes from", "Common practice")];
            return Stage::Remedy { intro: "Missed four times in a row.".to_owned(), parts, shown: 1 };
        }
        let Some(given) = &self.given else {
            return Stage::PointAsked(Box::new(PointAskedView { drawing: self.drawing(), choice: vec![] }));
        };
        let marking = mark(&self.card, &Answer { given: given.clone(), seconds: Some(6.0) }).expect("an answer");
        let Detail::Point { hit, part } = &marking.detail else { panic!("a point") };
        let Body::Point(pointing) = &self.card.body else { panic!("a point") };
        Stage::PointMarked(Box::new(PointMarkedView {
            drawing: self.drawing(),
            target: pointing.target().expect("it is there"),
            pointed: part.as_ref().and_then(|part| pointing.drawing.part(part)),
            hit: *hit,
            reason: marking.reason.clone(),
            result: ResultView {
                outcome: marking.outcome.notched(self.notch),
                detail: "6 s. Next in 9 days.".to_owned(),
                worked_out: marking.outcome,
                notch: self.notch,
                rule: "All said: Answered. Fewer: Missed.".to_owned(),
                withheld: false,
                fixed: false,
                because: self.card.because.clone(),
            },
        }))
    }
}

impl Program for PointProgram {
    fn view(&mut self) -> Arc<ShellView> {
        let stage = self.stage();
        let card = WatchCardView {
            picture: None,
            shown: self.remedy.then(|| PartShown { drawing: self.drawing(), part: 3 }),
            key: self.card.key.clone(),
            kind: Kind::Point,
            place: "Fuel, shutting off".to_owned(),
            ask: self.card.ask.clone(),
            caution: None,
            seconds: 6,
            limit: None,
            clock_runs: false,
            today: StudyDay(20_782),
            in_oral: false,
            keeping: false,
            can_take_back: false,
            stage,
            block: TitleBlock::of([
                ["Deck", "Marram Light, our own plant", "Card", "31 of 138"],
                ["Topic", "Shutting off fuel", "Edition", "3"],
                ["Source", "Common practice", "Seen", "2 times"],
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
            Command::Submit(given) => self.given = Some(given),
            Command::DrawFor(place) => self.drawn = Some(Arc::new(drawn(place))),
            Command::SetNotch(notch) => self.notch = notch,
            Command::SetTheme(theme) => self.theme = theme,
            Command::SetScale(scale) => self.scale = scale,
            Command::Accept => self.given = None,
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
        self.scale
    }

    fn still(&self) -> bool {
        true
    }
}
