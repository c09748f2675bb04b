//! From the start of the process to the first drawn frame, against a bare eframe window in the same run.
//!
//! Each sample is a process of its own, since a window can be opened once in a process. Needs a display (in CI, Xvfb);
//! without one it says so and measures nothing.

use std::process::Command;
use std::sync::Arc;
use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::Command as Request;
use bedplate::app::program::setup::Setup;
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::{ShellView, View};
use bedplate::ui;

const SAMPLES: usize = 12;
const MODE: &str = "BEDPLATE_BENCH_WINDOW";

fn main() {
    match std::env::var(MODE).as_deref() {
        Ok("bare") => bare(),
        Ok("bedplate") => bedplate_window(),
        _ if std::env::var_os("DISPLAY").is_none() => println!("start: no display, nothing measured"),
        _ => measure(),
    }
}

fn measure() {
    let home = tempfile::tempdir().expect("a folder");
    let mut medians = Vec::new();
    for mode in ["bare", "bedplate"] {
        let mut times: Vec<f64> = (0..=SAMPLES).map(|_| sample(mode, home.path())).collect();
        // The first of each warms caches and makes the profile.
        times.remove(0);
        times.sort_by(f64::total_cmp);
        medians.push(times[times.len() / 2]);
        println!("start to first frame, {mode}: median {:.0} ms of {SAMPLES}", times[times.len() / 2]);
    }
    println!("ratio bedplate / bare: {:.2}", medians[1] / medians[0]);
}

fn sample(mode: &str, home: &std::path::Path) -> f64 {
    let began = Instant::now();
    let status = Command::new(std::env::current_exe().expect("this program"))
        .env(MODE, mode)
        .env("BEDPLATE_HOME", home)
        .status()
        .expect("it starts");
    assert!(status.success(), "{mode}");
    began.elapsed().as_secs_f64() * 1_000.0
}

/// Ends the process once a first frame has been drawn and handed over.
struct Bare(u32);

impl eframe::App for Bare {
    fn ui(&mut self, ui: &mut eframe::egui::Ui, _frame: &mut eframe::Frame) {
        ui.label("Bedplate");
        self.0 += 1;
        if self.0 > 1 {
            std::process::exit(0);
        }
        ui.ctx().request_repaint();
    }
}

fn bare() {
    let options = eframe::NativeOptions::default();
    eframe::run_native("bare", options, Box::new(|_| Ok(Box::new(Bare(0))))).expect("a window");
}

/// The program, which ends the process after the first frame that shows a page.
struct Once {
    app: App,
    pages: u32,
}

impl Program for Once {
    fn view(&mut self) -> Arc<ShellView> {
        let view = self.app.view();
        self.pages += u32::from(!matches!(view.view, View::Opening));
        if self.pages > 1 {
            std::process::exit(0);
        }
        view
    }
    fn command(&mut self, request: Request) {
        self.app.command(request);
    }
    fn tick(&mut self) -> Option<Duration> {
        self.app.tick();
        Some(Duration::ZERO)
    }
    fn theme(&self) -> ThemeChoice {
        self.app.theme()
    }
    fn scale_percent(&self) -> u32 {
        self.app.scale_percent()
    }
    fn still(&self) -> bool {
        self.app.still()
    }
}

fn bedplate_window() {
    let home = std::path::PathBuf::from(std::env::var_os("BEDPLATE_HOME").expect("a home"));
    let wake = ui::Wake::default();
    let app = App::start(Setup {
        dir: home.join("profiles/bench"),
        home,
        learner: None,
        ship: Default::default(),
        clock: Arc::new(|| {
            let ms = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| d.as_millis() as i64);
            bedplate::domain::day::Instant(ms)
        }),
        wake: wake.callback(),
        reader: None,
    });
    ui::run(Box::new(Once { app, pages: 0 }), &wake).expect("a window");
}
