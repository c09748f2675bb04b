//! Which profile a command works on.

use std::path::PathBuf;
use std::sync::{Arc, OnceLock};
use std::time::{SystemTime, UNIX_EPOCH};

use crate::app::program::setup::{Clock, Setup};
use crate::app::reader::{self, Load};
use crate::cli::say::printable;
use crate::domain::day::{Instant, ShipOffset};
use crate::store::{StoreError, home, profiles};

/// The home folder that was named on the command line.
static NAMED: OnceLock<PathBuf> = OnceLock::new();

/// Has all that this run does done in this home folder.
pub fn use_home(home: PathBuf) {
    // Called once, before anything else; a second call would be the same run's.
    let _ = NAMED.set(home);
}

/// The home folder of this run.
///
/// # Errors
/// Where none is named and the system does not say where a program's data belongs.
pub fn home() -> Result<PathBuf, StoreError> {
    home::resolve(NAMED.get().map(PathBuf::as_path))
}

/// The setup for a profile: the folder given, or else the profile used last, or else a new one.
///
/// # Errors
/// Where the home folder cannot be found, read or written.
pub fn setup(dir: Option<PathBuf>, clock: Clock) -> Result<Setup, StoreError> {
    setup_at(home()?, dir, clock)
}

/// What the window goes by while the profile's place cannot be found.
pub fn unfound(clock: Clock) -> Setup {
    let home = home().unwrap_or_else(|_| PathBuf::from("no-home"));
    let dir = home::profiles_dir(&home);
    let wake: crate::store::Wake = Arc::new(|| {});
    Setup { home, dir, learner: None, ship: local_time(&clock), clock, wake, reader: None }
}

fn setup_at(home: PathBuf, dir: Option<PathBuf>, clock: Clock) -> Result<Setup, StoreError> {
    let wake: crate::store::Wake = Arc::new(|| {});
    if let Some(dir) = dir {
        let (learner, ship) = (given_name(), local_time(&clock));
        return Ok(Setup { home, dir, learner, ship, clock, wake, reader: None });
    }
    let folder = match profiles::last(&home) {
        Some(folder) => Some(folder),
        None => profiles::list(&home)?.into_iter().next().map(|p| p.folder),
    };
    let (folder, learner) = match folder {
        Some(folder) => (folder, None),
        None => {
            let given = given_name();
            let info = match &given {
                Some(name) => profiles::create(&home, name)?,
                None => profiles::create_unnamed(&home, &user_name())?,
            };
            (info.folder, given)
        }
    };
    // Which profile comes first at the next start is no reason to open none now.
    let _ = profiles::remember_last(&home, &folder);
    let dir = home::profile_dir(&home, &folder).unwrap_or_else(|| home::profiles_dir(&home).join(&folder));
    Ok(Setup { home, dir, learner, ship: local_time(&clock), clock, wake, reader: None })
}

/// Says on the error output what the store had to say of its own work, such as a backup that could not be made.
pub fn tell(notices: &[String]) {
    for notice in notices {
        eprintln!("bedplate: {}", printable(notice));
    }
}

/// The computer's clock.
pub fn system_clock() -> Clock {
    Arc::new(|| {
        let ms = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| d.as_millis());
        Instant(i64::try_from(ms).unwrap_or(i64::MAX))
    })
}

/// A count of milliseconds that goes on evenly, while the computer sleeps, too, and that nobody can set. Only Linux
/// says one without being asked through its C library: the first number of `/proc/uptime` is the time since it was
/// started, sleep included (`man 5 proc_uptime`).
pub fn steady_clock() -> Option<Clock> {
    let read = || {
        let text = std::fs::read_to_string("/proc/uptime").ok()?;
        let seconds: f64 = text.split_whitespace().next()?.parse().ok()?;
        Some((seconds * 1_000.0) as i64)
    };
    let first = read()?;
    let last = std::sync::atomic::AtomicI64::new(first);
    Some(Arc::new(move || {
        // Should it fail later on, time stands still for it, and the learner is asked once too often.
        let now = read().unwrap_or_else(|| last.load(std::sync::atomic::Ordering::Relaxed));
        last.store(now, std::sync::atomic::Ordering::Relaxed);
        Instant(now)
    }))
}

/// The clock of a command: one that starts at the time given, or else the computer's.
///
/// # Errors
/// Where the text is no time, with what would be one.
pub fn clock(now: Option<&str>) -> Result<Clock, String> {
    now.map_or_else(|| Ok(system_clock()), clock_from)
}

/// A clock that starts at a given time and goes on from there.
///
/// # Errors
/// Where the text is no time, with what would be one.
fn clock_from(text: &str) -> Result<Clock, String> {
    let at: jiff::Timestamp = text
        .parse()
        .map_err(|_| format!("`{text}` is no time. Write it as 2026-11-25T08:00:00Z or 2026-11-25T08:00:00+03:00"))?;
    let start = at.as_millisecond();
    let began = std::time::Instant::now();
    Ok(Arc::new(move || Instant(start.saturating_add(i64::try_from(began.elapsed().as_millis()).unwrap_or(i64::MAX)))))
}

/// The trained reader that lies beside the program; none for a run with `--plain`.
pub fn second_reader(plain: bool) -> Option<Load> {
    (!plain).then(|| -> Load { Arc::new(|| reader::load().map(Arc::new)) })
}

/// The computer's own zone, as a first ship's time.
fn local_time(clock: &Clock) -> ShipOffset {
    let seconds = jiff::Timestamp::from_millisecond(clock().0)
        .map_or(0, |at| jiff::tz::TimeZone::system().to_offset(at).seconds());
    // Ship's time moves in steps of half an hour.
    ShipOffset::from_minutes((seconds / 1_800) * 30).unwrap_or_default()
}

/// The learner's name where it was given to the program; what the computer calls its user is no name for a report.
fn given_name() -> Option<String> {
    variable("BEDPLATE_LEARNER")
}

/// What the computer calls its user: what the folder of a learner without a name is called after.
fn user_name() -> String {
    let known = ["USER", "USERNAME"].into_iter().filter_map(variable);
    known.into_iter().find(|name| name != "root").unwrap_or_else(|| "engineer".to_owned())
}

fn variable(name: &str) -> Option<String> {
    std::env::var(name).ok().map(|value| value.trim().to_owned()).filter(|value| !value.is_empty())
}
