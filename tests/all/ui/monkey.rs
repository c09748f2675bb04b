//! A monkey at the keyboard and the mouse of the real program: whatever it does, nothing panics, no sitting ends without its
//! question, and every answer that was shown as kept is in the store.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;
use std::time::Duration;

use assert_cmd::Command as Process;
use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command, OralCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::stage::Stage;
use bedplate::present::{ShellView, View};
use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers, PointerButton, Pos2, Vec2};
use egui_kittest::kittest::Queryable;
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::support::home::started;
use crate::ui::support::Bench;

/// The program, which counts the answers that it says are kept, and opens nothing outside of its window.
struct Watched {
    app: App,
    log: Rc<RefCell<Vec<Command>>>,
    kept: Rc<RefCell<usize>>,
}

/// The marked answer that stands, as far as accepting it makes an attempt.
fn marked(view: &View) -> Option<String> {
    let (card, lead, turns) = match view {
        View::WatchCard(card) => (&**card, true, 0),
        View::Oral(oral) => (&oral.card, oral.asked == "Lead question", oral.thread.len()),
        _ => return None,
    };
    let shown = !card.stage.is_asked() && !matches!(card.stage, Stage::Remedy(_));
    (shown && lead).then(|| format!("{} {turns}", card.key.card))
}

/// The lead question that stands unanswered in a sitting.
fn lead(view: &View) -> Option<(String, usize)> {
    match view {
        View::Oral(oral) if oral.asked == "Lead question" => Some((oral.card.key.card.clone(), oral.thread.len())),
        _ => None,
    }
}

impl Program for Watched {
    fn view(&mut self) -> Arc<ShellView> {
        self.app.view()
    }

    fn command(&mut self, command: Command) {
        let name = format!("{command:?}");
        if ["OpenProfile", "NewProfile", "WriteProgress", "WriteReport"].iter().any(|outside| name.starts_with(outside))
        {
            return;
        }
        self.log.borrow_mut().push(command.clone());
        let before = self.app.view();
        self.app.command(command.clone());
        self.app.settle();
        let after = self.app.view();
        let gone = match command {
            Command::Card(CardCommand::Accept) => {
                marked(&before.view).is_some_and(|was| marked(&after.view) != Some(was))
            }
            Command::Oral(OralCommand::NothingToSay) => {
                lead(&before.view).is_some_and(|was| lead(&after.view) != Some(was))
            }
            _ => false,
        };
        *self.kept.borrow_mut() += usize::from(gone);
    }

    fn tick(&mut self) -> Option<Duration> {
        self.app.tick()
    }

    fn theme(&self) -> ThemeChoice {
        self.app.theme()
    }

    fn scale_percent(&self) -> u32 {
        self.app.scale_percent()
    }

    fn still(&self) -> bool {
        true
    }
}

const OFTEN: &[Key] = &[Key::Enter, Key::Space, Key::Enter, Key::Num1, Key::Num2, Key::ArrowDown, Key::Tab, Key::K];
const PLAIN: &[Key] = &[
    Key::A,
    Key::B,
    Key::C,
    Key::D,
    Key::E,
    Key::F,
    Key::G,
    Key::H,
    Key::L,
    Key::M,
    Key::N,
    Key::O,
    Key::P,
    Key::R,
    Key::S,
    Key::T,
    Key::U,
    Key::V,
    Key::W,
    Key::X,
    Key::Y,
    Key::Z,
    Key::Num3,
    Key::Num4,
    Key::Num5,
    Key::ArrowUp,
    Key::ArrowLeft,
    Key::ArrowRight,
    Key::Backspace,
    Key::PageDown,
    Key::PageUp,
    Key::Plus,
    Key::Minus,
    Key::Slash,
    Key::Questionmark,
    Key::F1,
    Key::F2,
    Key::F5,
    Key::F6,
    Key::F7,
];

struct Monkey {
    random: StdRng,
    window: Vec2,
}

impl Monkey {
    fn below(&mut self, n: usize) -> usize {
        self.random.random_range(0..n)
    }

    /// One stroke, one click, a word, or back to where there is most to do.
    fn act(&mut self, bench: &mut Bench) -> String {
        match self.below(23) {
            20.. => self.lead_back(bench),
            0..=8 => self.stroke(bench, OFTEN),
            9..=13 => self.stroke(bench, PLAIN),
            14..=15 => {
                let word = ["the pump stops ", "30 bar", "emergency ", "stop the engine ", "440 V"][self.below(5)];
                bench.harness.event(Event::Text(word.to_owned()));
                format!("types {word}")
            }
            _ => {
                let (x, y) = (self.below(self.window.x as usize), self.below(self.window.y as usize));
                let pos = Pos2::new(x as f32, y as f32);
                bench.harness.event(Event::PointerMoved(pos));
                for pressed in [true, false] {
                    let button = PointerButton::Primary;
                    bench.harness.event(Event::PointerButton { pos, button, pressed, modifiers: Modifiers::NONE });
                }
                format!("clicks at {pos}")
            }
        }
    }

    /// Back to the watch or the oral, where there is most to break: a monkey of its own will sits in the library.
    fn lead_back(&mut self, bench: &mut Bench) -> String {
        let page = ["Watch", "Oral"][self.below(2)];
        if let Some(item) = bench.harness.query_by_role_and_label(Role::Button, page) {
            item.click();
        }
        bench.harness.run_steps(2);
        // A new sitting or a watch begins, or the one that stands goes on.
        let go_on = [Key::Enter, Key::Space][self.below(2)];
        self.stroke(bench, &[go_on]) + " on " + page
    }

    fn stroke(&mut self, bench: &mut Bench, keys: &[Key]) -> String {
        let key = keys[self.below(keys.len())];
        let modifiers = match self.below(12) {
            0 => Modifiers::COMMAND | Modifiers::CTRL,
            1 => Modifiers::SHIFT,
            _ => Modifiers::NONE,
        };
        for pressed in [true, false] {
            let event = Event::Key { key, physical_key: None, pressed, repeat: false, modifiers };
            bench.harness.event_modifiers(event, modifiers);
        }
        format!("{modifiers:?} {key:?}")
    }
}

fn let_loose(seed: u64, window: Vec2, acts: usize) {
    let home = tempfile::tempdir().unwrap();
    let mut app = started(home.path());
    app.handle(Command::Go(if seed.is_multiple_of(2) { Route::Watch } else { Route::OralFront }));
    app.settle();
    let (log, kept) = (Rc::new(RefCell::new(Vec::new())), Rc::new(RefCell::new(0)));
    let program = Watched { app, log: Rc::clone(&log), kept: Rc::clone(&kept) };
    let mut bench = Bench::driving(Box::new(program), Rc::clone(&log), window, 0.25);
    let mut monkey = Monkey { random: StdRng::seed_from_u64(seed), window };
    for n in 0..acts {
        let asked = bench.shows("End the sitting here?");
        let did = monkey.act(&mut bench);
        bench.harness.run_steps(2);
        let ended = bench.commands().contains(&Command::Oral(OralCommand::BreakOff));
        assert!(!ended || asked, "seed {seed}, act {n}, {did}: a sitting has ended without its question");
    }
    assert!(*kept.borrow() >= acts / 200, "seed {seed}: it has answered {} cards in {acts} acts", kept.borrow());
    drop(bench);
    let mut export = Process::cargo_bin("bedplate").unwrap();
    export.env("BEDPLATE_HOME", home.path()).args(["export", "attempts", "--json"]);
    let out = export.output().unwrap();
    let lines = String::from_utf8_lossy(&out.stdout).lines().count();
    assert_eq!(
        lines,
        *kept.borrow(),
        "seed {seed}: every answer shown as kept is there{}",
        String::from_utf8_lossy(&out.stderr)
    );
}

const WINDOWS: [Vec2; 4] =
    [Vec2::new(1280.0, 800.0), Vec2::new(1024.0, 640.0), Vec2::new(1400.0, 1650.0), Vec2::new(512.0, 320.0)];

#[test]
fn a_monkey_breaks_nothing() {
    for (seed, window) in (0..).zip(WINDOWS) {
        let_loose(seed, window, 150);
    }
}

/// The same for 20,000 acts; `.ci/run` lets it loose.
#[test]
#[ignore = "takes minutes; .ci/run runs it"]
fn twenty_thousand_acts_of_a_monkey_break_nothing() {
    std::thread::scope(|scope| {
        for half in 0..2_u64 {
            scope.spawn(move || {
                for (n, window) in (0..).zip(WINDOWS) {
                    let_loose(100 + half + 2 * n, window, 2500);
                }
            });
        }
    });
}
