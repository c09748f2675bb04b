//! Opening a file in the system's own program for it, where it can be looked at and printed.

use std::path::Path;
use std::process::{Command, Stdio};

#[cfg(target_os = "macos")]
const OPENERS: &[(&str, &[&str])] = &[("open", &[])];
#[cfg(target_os = "windows")]
const OPENERS: &[(&str, &[&str])] = &[("explorer", &[])];
#[cfg(not(any(target_os = "macos", target_os = "windows")))]
const OPENERS: &[(&str, &[&str])] = &[("xdg-open", &[]), ("gio", &["open"])];

/// Opens a file; true where a program was started for it.
pub fn open(file: &Path) -> bool {
    OPENERS.iter().any(|(program, arguments)| {
        let started = Command::new(program)
            .args(*arguments)
            .arg(file)
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn();
        match started {
            Ok(mut child) => {
                // The opener ends by itself; somebody has to take note of it.
                std::thread::spawn(move || child.wait());
                true
            }
            Err(_) => false,
        }
    })
}
