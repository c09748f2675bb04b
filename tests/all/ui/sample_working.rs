//! A sample working for the window: the indicated power of a training engine of the ship *Marram Light*, with the lines
//! worked out as the program does it and a marking by simple comparison.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;
use std::time::Duration;

use bedplate::app::command::{Command, Work};
use bedplate::app::program::Program;
use bedplate::app::reckoner::{Question, work_out};
use bedplate::app::route::Route;
use bedplate::domain::answer::{Given, Worked};
use bedplate::domain::card::Kind;
use bedplate::domain::day::StudyDay;
use bedplate::domain::ids::CardKey;
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::domain::quantity::Quantity;
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::shell::RailView;
use bedplate::present::watch::{ResultView, Stage};
use bedplate::present::working::{
    GivenRow, MarkedLine, MethodLine, Round, TryView, ValueView, WorkLine, WorkingAskedView, WorkingMarkedView,
    WorksheetView,
};
use bedplate::present::{PictureView, Place, ShellView, TitleBlock, Tone, View, WatchCardView};

const GIVENS: [(&str, &str, &str, &str); 5] = [
    ("Bore", "D", "320", "mm"),
    ("Stroke", "L", "400", "mm"),
    ("Mean indicated pressure", "p", "16.2", "bar"),
    ("Speed", "N", "720", "rpm"),
    ("Cylinders", "z", "6", ""),
];

const METHOD: [(&str, &str, &str); 3] = [
    ("area = pi * D^2 / 4", "0.08042", "m²"),
    ("cycles = N / 2", "6.000", "s⁻¹"),
    ("power = p * L * area * cycles * z", "1876", "kW"),
];

/// The lines as one would write them, with the slip of the first try.
pub const FIRST: [&str; 5] = ["A = pi/4 * D^2", "V = A * L", "n = N", "W = p * V", "P = W * n * z"];
/// The same mended.
pub const SECOND: [&str; 5] = ["A = pi/4 * D^2", "V = A * L", "n = N / 2", "W = p * V", "P = W * n * z"];

/// A program with this one card.
#[derive(Default)]
pub struct WorkingProgram {
    /// Every command so far.
    pub log: Rc<RefCell<Vec<Command>>>,
    /// Where one is.
    pub route: Route,
    /// The lines as they stand.
    pub lines: Vec<String>,
    /// The answer as it stands.
    pub answer: String,
    /// What was handed in, the first try first.
    pub tries: Vec<Worked>,
    /// A second try is open.
    pub again: bool,
    /// The method is shown.
    pub shown: bool,
    /// The card was accepted.
    pub accepted: bool,
    /// The learner’s notch.
    pub notch: Notch,
    /// Its theme.
    pub theme: ThemeChoice,
    /// Its scale.
    pub scale: u32,
    /// A picture beside the worksheet.
    pub picture: Option<PictureView>,
    /// More figures and longer words than usual.
    pub long: bool,
}

fn strings(lines: &[&str]) -> Vec<String> {
    lines.iter().map(|l| (*l).to_owned()).collect()
}

impl WorkingProgram {
    /// With these lines on the sheet.
    pub fn with(lines: &[&str]) -> Self {
        Self { lines: strings(lines), ..Self::default() }
    }

    /// After these tries, each with its lines.
    pub fn after(tries: &[(&[&str], &str)]) -> Self {
        let worked = |(lines, text): &(&[&str], &str)| Worked {
            text: (*text).to_owned(),
            lines: strings(lines),
            ..Worked::default()
        };
        Self { tries: tries.iter().map(worked).collect(), ..Self::default() }
    }

    /// On the page of its own.
    pub fn page(lines: &[&str]) -> Self {
        Self { route: Route::Worksheet, ..Self::with(lines) }
    }

    fn figures(&self) -> Vec<(String, Quantity)> {
        let figure = |g: &(&str, &str, &str, &str)| {
            (g.1.to_owned(), Quantity::parse(&format!("{} {}", g.2, g.3)).expect("a figure"))
        };
        if self.route == Route::Worksheet { vec![] } else { GIVENS.iter().map(figure).collect() }
    }

    /// The worksheet, worked out.
    pub fn sheet(&self) -> WorksheetView {
        let mut lines = self.lines.clone();
        if lines.is_empty() {
            lines.push(String::new());
        }
        let told = work_out(&Question {
            givens: self.figures(),
            unit: Some("kW".to_owned()),
            lines: lines.clone(),
            ..Question::default()
        });
        let line = |(text, (result, note))| WorkLine { text, result, note };
        WorksheetView {
            lines: lines.into_iter().zip(told).map(line).collect(),
            earlier: Arc::new(strings(&["Q = 40 m3/h", "eta = 0.62"])),
        }
    }

    fn givens(&self) -> Vec<GivenRow> {
        let row = |g: &(&str, &str, &str, &str)| GivenRow {
            name: g.0.to_owned(),
            symbol: g.1.to_owned(),
            number: g.2.to_owned(),
            unit: g.3.to_owned(),
        };
        let mut rows: Vec<GivenRow> = GIVENS.iter().map(row).collect();
        if self.long {
            rows.push(row(&("Lower calorific value of the fuel", "calorific_value", "42.70", "MJ/kg")));
            rows.push(row(&("Temperature of the jacket water at the outlet", "t_out", "82.5", "°C")));
            rows.push(row(&("Thermal conductivity", "lambda", "0.045", "W/(m K)")));
        }
        rows
    }

    fn value(text: &str) -> ValueView {
        let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
        ValueView { number: number.to_owned(), unit: unit.to_owned(), taken: text.to_owned() }
    }

    fn is_right(worked: &Worked) -> bool {
        worked.text.starts_with("187")
    }

    fn try_of(which: &str, worked: &Worked) -> TryView {
        let right = Self::is_right(worked);
        TryView {
            tone: if right { Tone::Good } else { Tone::Bad },
            words: match right {
                true => format!("{which}{}: right, within 1 % of 1876 kW.", worked.text),
                false => format!("{which}{}. A four-stroke fires every second revolution.", worked.text),
            },
            note: if right { String::new() } else { "Line 3: counts every revolution.".to_owned() },
        }
    }

    fn marked(&self) -> WorkingMarkedView {
        let last = self.tries.last().expect("a try");
        let first = &self.tries[0];
        let question = Question {
            givens: self.figures(),
            unit: Some("kW".to_owned()),
            lines: last.lines.clone(),
            ..Question::default()
        };
        let line = |(n, (text, told)): (usize, (&String, (_, String)))| {
            let result: bedplate::present::working::LineResult = told.0;
            let wrong = text == "n = N";
            let good = [0, 4].contains(&n) && Self::is_right(last) || n == 0;
            MarkedLine {
                text: text.clone(),
                value: result.value().cloned(),
                tone: if wrong {
                    Tone::Bad
                } else if good {
                    Tone::Good
                } else {
                    Tone::Plain
                },
                words: match (wrong, n) {
                    (true, _) => "It counts every revolution; a four-stroke works on every second one.".to_owned(),
                    (_, 0) => "As the method’s area.".to_owned(),
                    _ => String::new(),
                },
            }
        };
        let lines = last.lines.iter().zip(work_out(&question)).enumerate().map(line).collect();
        let may_try_again = self.tries.len() == 1 && !self.shown && !Self::is_right(first);
        let worked_out = match (Self::is_right(first), Self::is_right(last)) {
            (true, _) => Outcome::Answered,
            (false, true) => Outcome::Prompted,
            (false, false) => Outcome::Missed,
        };
        let tries = match self.tries.as_slice() {
            [one] => vec![Self::try_of("", one)],
            [one, two, ..] => vec![Self::try_of("First try, ", one), Self::try_of("Second try, ", two)],
            [] => vec![],
        };
        let method = METHOD.iter().enumerate().map(|(n, (text, number, unit))| MethodLine {
            text: (*text).to_owned(),
            value: Self::value(&format!("{number} {unit}")),
            yours: if n == 0 { "Your line 1.".to_owned() } else { String::new() },
        });
        let second = if self.tries.len() > 1 { "right at the second try, " } else { "" };
        WorkingMarkedView {
            givens: self.givens(),
            lines,
            answer: Self::value(&last.text),
            tries,
            expected: (!may_try_again).then(|| "1876 kW, within 1 %".to_owned()),
            method: self.shown.then(|| method.collect()),
            may_try_again,
            practice: false,
            result: ResultView {
                outcome: worked_out.notched(self.notch),
                detail: format!("{second}3 min 12 s. Next in 3 days."),
                worked_out,
                notch: self.notch,
                rule: "All said: Answered. Fewer: Missed.".to_owned(),
                withheld: false,
                fixed: false,
                because: (!may_try_again).then(|| "Two revolutions make one working cycle.".to_owned()),
            },
        }
    }

    /// The card at its stage.
    pub fn stage_of_card(&self) -> Stage {
        if self.tries.is_empty() || self.again {
            let second = self.again;
            return Stage::WorkingAsked(Box::new(WorkingAskedView {
                givens: self.givens(),
                sheet: self.sheet(),
                answer: self.answer.clone(),
                hint: "In kW, or in any other unit of the kind.".to_owned(),
                round: if second { Round::Second } else { Round::First },
                before: self.tries.iter().map(|t| Self::try_of("First try, ", t)).collect(),
            }));
        }
        Stage::WorkingMarked(Box::new(self.marked()))
    }

    fn view_of_card(&self) -> View {
        let ask = if self.long {
            "The training engine of *Marram Light* is a four-stroke of {z} cylinders. From the figures beside it, \
             which were read at the indicator cocks during the morning watch after the fuel pumps had been set, work \
             out the indicated power that it develops, and give it with its unit."
        } else {
            "What indicated power does this four-stroke training engine develop?"
        };
        View::WatchCard(Box::new(WatchCardView {
            picture: self.picture.clone(),
            shown: None,
            key: CardKey::new("marram-light", "indicated-power"),
            kind: Kind::Working,
            place: "Engine performance, indicated power".to_owned(),
            ask: ask.to_owned(),
            caution: None,
            seconds: 192,
            limit: None,
            clock_runs: false,
            today: StudyDay(20_782),
            in_oral: false,
            keeping: false,
            can_take_back: false,
            stage: self.stage_of_card(),
            block: TitleBlock::of([
                ["Deck", "Engine performance and working", "Card", "8 of 126"],
                ["Topic", "Power from indicator figures", "Edition", "2"],
                ["Source", "First principles: P = p · L · A · n · cylinders", "Seen", "3 times"],
            ]),
        }))
    }
}

impl Program for WorkingProgram {
    fn view(&mut self) -> Arc<ShellView> {
        let on_page = self.route == Route::Worksheet;
        let (title, context, view) = if on_page {
            let page = bedplate::app::views::working::page(self.sheet());
            ("Worksheet", "Outside of any card", View::Worksheet(Box::new(page)))
        } else {
            ("Watch", "Card 31 of 46", self.view_of_card())
        };
        let rail = RailView {
            place: Some(if on_page { Place::Worksheet } else { Place::Watch }),
            learner: "E. Dunmore".to_owned(),
            clock: "20:42".to_owned(),
            offset: "UTC+3".to_owned(),
            oral: Some("Oral in 41 days".to_owned()),
        };
        Arc::new(ShellView {
            rail,
            title: title.to_owned(),
            context: context.to_owned(),
            notice: None,
            progress: (!on_page).then_some(0.67),
            view,
        })
    }

    fn command(&mut self, command: Command) {
        self.log.borrow_mut().push(command.clone());
        match command {
            Command::Go(route) => self.route = route,
            Command::Work(Work { lines, answer, .. }) => (self.lines, self.answer) = (lines, answer),
            Command::Submit(Given::Worked(worked)) => {
                self.lines.clone_from(&worked.lines);
                self.tries.push(worked);
                self.again = false;
            }
            Command::TryAgain => (self.again, self.answer) = (true, String::new()),
            Command::BackToMarking => self.again = false,
            Command::ShowMethod => self.shown = true,
            Command::Accept => self.accepted = true,
            Command::SetNotch(notch) => self.notch = notch,
            Command::SetTheme(theme) => self.theme = theme,
            Command::SetScale(scale) => self.scale = scale,
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
        true
    }
}
