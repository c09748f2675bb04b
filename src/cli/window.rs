//! `bedplate` with no command: the window.

use std::process::ExitCode;

use crate::app::demo;
use crate::app::state::{App, Setup};
use crate::cli::{cannot, clock, profile};
use crate::devices::Devices;
use crate::ui;

/// Opens the window; where there is no display, says so in one line.
pub fn run(demo: bool) -> ExitCode {
    if !has_display() {
        return cannot("there is no display for a window here; `bedplate watch` stands a watch in the terminal");
    }
    let setup = match profile::setup(None, profile::system_clock()) {
        Ok(setup) => setup,
        Err(error) => return cannot(error),
    };
    let setup = if demo {
        match demo::make(&setup) {
            Ok(dir) => Setup { dir, learner: None, ..setup },
            Err(error) => return cannot(error),
        }
    } else {
        setup
    };
    let wake = ui::Wake::default();
    let devices = Devices::of_machine(wake.callback());
    let app = clock::minded(App::start(Setup { wake: wake.callback(), ..setup }), false).with_devices(devices);
    match ui::run(Box::new(app), &wake) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            cannot(format!("the window could not be opened ({error}); `bedplate watch` stands a watch in the terminal"))
        }
    }
}

/// Only X11 and Wayland say beforehand whether there is a display.
fn has_display() -> bool {
    let set = |name: &str| std::env::var_os(name).is_some_and(|v| !v.is_empty());
    !cfg!(target_os = "linux") || set("DISPLAY") || set("WAYLAND_DISPLAY") || set("WAYLAND_SOCKET")
}
