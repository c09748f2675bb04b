//! `bedplate` with no command: the window.

use std::process::ExitCode;
use std::sync::Arc;

use crate::app::profile::demo;
use crate::app::profile::opening::Find;
use crate::app::program::app::App;
use crate::app::program::setup::Setup;
use crate::cli::out::cannot;
use crate::cli::{clock, profile};
use crate::devices::Devices;
use crate::ui;

/// Opens the window; where there is no display, says so in one line. `plain` is without the trained reader.
pub fn run(demo: bool, plain: bool) -> ExitCode {
    if !has_display() {
        return cannot("there is no display for a window here; `bedplate watch` stands a watch in the terminal");
    }
    let wake = ui::Wake::default();
    let devices = Devices::of_machine(wake.callback());
    let callback = wake.callback();
    let find: Find = Arc::new(move || {
        let setup = profile::setup(None, profile::system_clock())?;
        let setup = Setup { wake: callback.clone(), reader: profile::second_reader(plain), ..setup };
        Ok(if demo { Setup { dir: demo::make(&setup)?, learner: None, ..setup } } else { setup })
    });
    let app = match find() {
        Ok(setup) => clock::minded(App::start(setup), false),
        // A full disk or a folder that may not be written: the window says so, as whoever starts it sees no other output.
        Err(failure) => {
            let reader = profile::second_reader(plain);
            let setup = Setup { wake: wake.callback(), reader, ..profile::unfound(profile::system_clock()) };
            App::in_trouble(setup, &failure, find)
        }
    }
    .with_devices(devices);
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
