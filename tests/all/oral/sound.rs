//! Voice, microphone and loudspeaker: against a real sound server where that is asked for, and with stand-ins in the
//! program.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant as Clock};

use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, ClockCommand, Command, OralCommand, SettingsCommand};
use bedplate::devices::voice::Spawned;
use bedplate::devices::{Devices, Doing, Sound, Voice};
use bedplate::domain::oral::Way;
use bedplate::present::View;

use crate::support::home::{begin_mock, started};

/// Waits for something that is on its way; false where it does not come in ten seconds.
fn comes(mut what: impl FnMut() -> bool) -> bool {
    let begun = Clock::now();
    while begun.elapsed() < Duration::from_secs(10) {
        if what() {
            return true;
        }
        std::thread::sleep(Duration::from_millis(10));
    }
    false
}

#[cfg(unix)]
#[test]
fn a_voice_reads_ends_is_silenced_and_says_once_that_there_is_none() {
    let woken = Arc::new(Mutex::new(0));
    let count = Arc::clone(&woken);
    let wake: bedplate::devices::Wake = Arc::new(move || *count.lock().unwrap() += 1);
    let mut none = Spawned::of(&[("no-such-voice-here", &[])], wake.clone());
    none.say("What do you do?");
    assert!(!none.is_speaking());
    let trouble = none.trouble().expect("it is said");
    assert!(trouble.contains("no voice") && trouble.contains("no-such-voice-here"), "{trouble}");
    assert_eq!(none.trouble(), None, "once");
    // `cat` takes the text in and ends; `sleep` goes on until it is silenced.
    let mut brief = Spawned::of(&[("no-such-voice-here", &[]), ("cat", &[])], wake.clone());
    brief.say("What do you do?");
    assert!(brief.is_speaking());
    assert!(comes(|| !brief.is_speaking()), "it ends by itself");
    assert!(comes(|| *woken.lock().unwrap() > 0), "and wakes the window");
    assert_eq!(brief.trouble(), None);
    let mut long = Spawned::of(&[("sleep", &["60"])], wake.clone());
    long.say("What do you do?");
    assert!(long.is_speaking());
    long.hush();
    assert!(!long.is_speaking(), "silenced at once");
    let mut failing = Spawned::of(&[("false", &[])], wake);
    failing.say("What do you do?");
    assert!(comes(|| failing.trouble().is_some()), "a voice that fails says so");
}

/// A stand-in for `spd-say --pipe-mode`: as its manual says, "lines starting with !-! are commands" for the server; here
/// they are written into a file, and so is what would be read. It cuts lines at 16,383 bytes, as the C library's `fgets`
/// does with the buffer of spd-say (from memory).
#[cfg(unix)]
#[test]
fn a_text_is_never_a_command_of_the_speech_server() {
    let dir = tempfile::tempdir().unwrap();
    let script = dir.path().join("stand-in");
    let heard = dir.path().join("heard");
    let lines = format!(
        "fold -b -w 16383 > {0}/lines; grep '^!-!' {0}/lines > {0}/orders; mv {0}/lines {0}/heard",
        dir.path().display()
    );
    std::fs::write(&script, lines).unwrap();
    let script: &'static str = Box::leak(script.display().to_string().into_boxed_str());
    let arguments: &'static [&'static str] = Box::leak(vec![script].into_boxed_slice());
    let speakers: &'static [(&str, &[&str])] = Box::leak(vec![("sh", arguments)].into_boxed_slice());
    let mut voice = Spawned::of(speakers, Arc::new(|| {}));
    let at_the_cut = format!("{}!-!SET SELF RATE 100", "x".repeat(16_383));
    for text in [
        "!-!STOP ALL",
        "First.\n!-!SET SELF VOLUME -100\r\nLast.",
        "!!-!STOP",
        &at_the_cut,
        "\u{0}!-!STOP",
        "[[slnc 9000]] a",
    ] {
        voice.say(text);
        assert!(comes(|| heard.exists() && !voice.is_speaking()), "{:?}", voice.trouble());
        assert_eq!(std::fs::read_to_string(dir.path().join("orders")).unwrap(), "", "{text:.40}");
        let read = std::fs::read_to_string(&heard).unwrap();
        assert!(!read.contains("!-!") && !read.contains("[["), "{read:.60}");
        let letters = |text: &str| text.chars().filter(|c| c.is_alphanumeric()).collect::<String>();
        assert_eq!(letters(&read), letters(text), "every word is read");
        std::fs::remove_file(&heard).unwrap();
    }
    voice.say("Is it at 3 - 4 bar? Yes!");
    assert!(comes(|| heard.exists()));
    assert_eq!(std::fs::read_to_string(&heard).unwrap(), "Is it at 3 - 4 bar? Yes!", "what is no order stays as it is");
}

#[cfg(target_os = "linux")]
#[test]
fn without_a_sound_server_it_says_so_and_goes_on() {
    let dir = tempfile::tempdir().unwrap();
    let mut sound = bedplate::devices::pulse::Pulse::start(Some(dir.path().join("nobody")), Arc::new(|| {}));
    sound.record(&dir.path().join("a.wav"));
    let mut told = None;
    assert!(comes(|| {
        told = told.take().or_else(|| sound.trouble());
        told.is_some()
    }));
    assert!(told.as_ref().is_some_and(|t| t.contains("no sound server answers")), "{told:?}");
    assert_eq!(sound.doing(), Doing::Nothing);
}

/// A PulseAudio server of its own, with a sink that leads nowhere and the sink's monitor as the microphone.
#[cfg(target_os = "linux")]
struct Server {
    child: std::process::Child,
    socket: PathBuf,
}

#[cfg(target_os = "linux")]
impl Server {
    fn start(dir: &Path) -> Self {
        let socket = dir.join("native");
        let child = std::process::Command::new("pulseaudio")
            .args(["-n", "--daemonize=no", "--exit-idle-time=-1", "--disallow-exit", "--use-pid-file=no"])
            .arg("-L")
            .arg(format!("module-native-protocol-unix auth-anonymous=1 socket={}", socket.display()))
            .args(["-L", "module-null-sink sink_name=nowhere rate=16000 channels=1"])
            .env("HOME", dir)
            .env("XDG_RUNTIME_DIR", dir)
            .stderr(std::process::Stdio::null())
            .spawn()
            .expect("pulseaudio is installed (see .ci/run)");
        let server = Self { child, socket };
        assert!(comes(|| server.socket.exists()), "the server listens");
        server
    }
}

#[cfg(target_os = "linux")]
impl Drop for Server {
    fn drop(&mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }
}

/// Samples of a WAV file of ours.
#[cfg(target_os = "linux")]
fn samples(file: &Path) -> Vec<f64> {
    hound::WavReader::open(file).unwrap().samples::<i16>().map(|s| f64::from(s.unwrap())).collect()
}

/// The strength of one frequency in the middle of a recording, against all that is there, 0 to 1: the correlation with
/// sine and cosine (a single bin of the discrete Fourier transform).
#[cfg(target_os = "linux")]
fn share_of(samples: &[f64], hertz: f64) -> f64 {
    let (mut re, mut im, mut all) = (0.0, 0.0, 0.0);
    for (at, s) in samples.iter().enumerate() {
        let angle = std::f64::consts::TAU * hertz * at as f64 / 16_000.0;
        re += s * angle.cos();
        im += s * angle.sin();
        all += s * s;
    }
    if all == 0.0 { 0.0 } else { 2.0 * (re * re + im * im) / (samples.len() as f64 * all) }
}

/// A tone that is played in is the tone that is recorded. Needs `pulseaudio`; `.ci/run` asks for it by name.
#[cfg(target_os = "linux")]
#[test]
#[ignore = "needs the pulseaudio program; .ci/run runs it"]
fn a_tone_through_a_real_server_is_the_tone_recorded() {
    let dir = tempfile::tempdir().unwrap();
    let server = Server::start(dir.path());
    let start = || bedplate::devices::pulse::Pulse::start(Some(server.socket.clone()), Arc::new(|| {}));
    let (mut player, mut recorder) = (start(), start());
    let tone = dir.path().join("tone.wav");
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: 16_000,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut writer = hound::WavWriter::create(&tone, spec).unwrap();
    for at in 0..32_000 {
        let s = (std::f64::consts::TAU * 440.0 * f64::from(at) / 16_000.0).sin() * 12_000.0;
        writer.write_sample(s as i16).unwrap();
    }
    writer.finalize().unwrap();
    let heard = dir.path().join("recordings/heard.wav");
    recorder.record(&heard);
    assert!(comes(|| heard.is_file()), "{:?}", recorder.trouble());
    std::thread::sleep(Duration::from_millis(400));
    player.play(&tone);
    assert!(comes(|| player.doing() == Doing::Nothing), "it is played to its end");
    assert_eq!(player.trouble(), None);
    recorder.stop();
    assert!(comes(|| recorder.doing() == Doing::Nothing), "the recording is ended");
    assert_eq!(recorder.trouble(), None);
    let all = samples(&heard);
    let loud: Vec<usize> = (0..all.len()).filter(|at| all[*at].abs() > 1_000.0).collect();
    let (first, last) = (loud[0], loud[loud.len() - 1]);
    let seconds = (last - first) as f64 / 16_000.0;
    // The null sink swallows its first 100 ms: `paplay` and `parec` of the server itself gave 1.900 s for the same tone.
    assert!((1.85..2.05).contains(&seconds), "two seconds were played, {seconds} came");
    let middle = &all[first + 3_200..last - 3_200];
    let (right, wrong) = (share_of(middle, 440.0), share_of(middle, 523.0));
    assert!(right > 0.98 && wrong < 0.01, "440 Hz {right}, 523 Hz {wrong}");
    // After a pause the same recording goes on.
    recorder.record(&heard);
    std::thread::sleep(Duration::from_millis(700));
    recorder.stop();
    assert!(comes(|| recorder.doing() == Doing::Nothing));
    assert!(samples(&heard).len() > all.len() + 8_000, "more was recorded after it");
}

/// A microphone that writes a few bytes, and tells what was asked of it.
#[derive(Default)]
struct Told {
    doing: Doing,
    asked: Vec<String>,
    trouble: Option<String>,
}

struct StandIn(Arc<Mutex<Told>>);

impl Sound for StandIn {
    fn record(&mut self, file: &Path) {
        let mut told = self.0.lock().unwrap();
        std::fs::create_dir_all(file.parent().unwrap()).unwrap();
        std::fs::write(file, b"RIFF").unwrap();
        told.doing = Doing::Recording;
        told.asked.push(format!("record {}", file.file_name().unwrap().to_string_lossy()));
    }

    fn play(&mut self, file: &Path) {
        let mut told = self.0.lock().unwrap();
        told.doing = Doing::Playing;
        told.asked.push(format!("play {}", file.file_name().unwrap().to_string_lossy()));
    }

    fn stop(&mut self) {
        self.0.lock().unwrap().doing = Doing::Nothing;
    }

    fn doing(&self) -> Doing {
        self.0.lock().unwrap().doing
    }

    fn trouble(&mut self) -> Option<String> {
        self.0.lock().unwrap().trouble.take()
    }
}

struct Reader(Read);

impl Voice for Reader {
    fn say(&mut self, text: &str) {
        let mut state = self.0.lock().unwrap();
        state.0.push(text.to_owned());
        state.1 = true;
    }

    fn hush(&mut self) {
        self.0.lock().unwrap().1 = false;
    }

    fn is_speaking(&mut self) -> bool {
        self.0.lock().unwrap().1
    }

    fn trouble(&mut self) -> Option<String> {
        None
    }
}

/// What was read, and whether something is being read.
type Read = Arc<Mutex<(Vec<String>, bool)>>;

fn spoken(home: &Path) -> (App, Arc<Mutex<Told>>, Read) {
    let told = Arc::new(Mutex::new(Told::default()));
    let read = Arc::new(Mutex::new((Vec::new(), false)));
    let devices = Devices {
        voice: Box::new(Reader(Arc::clone(&read))),
        sound: Box::new(StandIn(Arc::clone(&told))),
        open: |_| true,
        edit: |_, _| bedplate::devices::Edited::Nothing,
    };
    let mut app = started(home).with_devices(devices);
    app.handle(Command::Settings(SettingsCommand::SetReadAloud(true)));
    app.handle(Command::Settings(SettingsCommand::SetRecord(true)));
    app.settle();
    begin_mock(&mut app, 2, Way::Speak, 7);
    (app, told, read)
}

fn sound_of(app: &mut App) -> bedplate::present::oral::SoundView {
    match &app.view().view {
        View::Oral(view) => view.sound,
        other => panic!("no sitting: {other:?}"),
    }
}

#[test]
fn a_spoken_answer_is_recorded_after_the_question_is_read_and_heard_again_beside_its_points() {
    let home = tempfile::tempdir().unwrap();
    let (mut app, told, read) = spoken(home.path());
    assert_eq!(read.lock().unwrap().0.len(), 1, "the question is read");
    let sound = sound_of(&mut app);
    assert!(sound.reading && !sound.recording, "the examiner's voice is not recorded: {sound:?}");
    read.lock().unwrap().1 = false;
    app.tick();
    let sound = sound_of(&mut app);
    assert!(!sound.reading && sound.recording, "{sound:?}");
    // A pause ends it; the same file goes on afterwards.
    app.handle(Command::Oral(OralCommand::Pause(true)));
    app.tick();
    assert_eq!(told.lock().unwrap().doing, Doing::Nothing);
    app.handle(Command::Oral(OralCommand::Pause(false)));
    app.tick();
    let asked = told.lock().unwrap().asked.clone();
    assert_eq!((asked.len(), &asked[0]), (2, &asked[1]), "one recording for one answer");
    app.handle(Command::Oral(OralCommand::FinishSpeaking));
    app.tick();
    assert_eq!(told.lock().unwrap().doing, Doing::Nothing, "the answer is said");
    let points = read.lock().unwrap().0.last().cloned().unwrap_or_default();
    assert!(points.starts_with("A full answer says: 1:"), "{points}");
    assert!(sound_of(&mut app).recorded);
    app.handle(Command::Oral(OralCommand::HearAgain));
    assert!(told.lock().unwrap().asked.last().is_some_and(|last| last.starts_with("play ")));
    app.handle(Command::Oral(OralCommand::HearAgain));
    assert_eq!(told.lock().unwrap().doing, Doing::Nothing, "the same key ends it");
    app.handle(Command::Card(CardCommand::Accept));
    app.settle();
    // The rest is not answered; the debrief can play the first answer.
    while matches!(app.view().view, View::Oral(_)) {
        app.handle(Command::Oral(OralCommand::NothingToSay));
        app.settle();
    }
    let shell = app.view();
    let View::Debrief(debrief) = &shell.view else { panic!("no debrief: {:?}", shell.view) };
    assert!(debrief.turns[0].recorded);
    let last = read.lock().unwrap().0.last().cloned().unwrap_or_default();
    assert!(last.starts_with("The sitting is over.") && last.contains(&debrief.headline), "{last}");
    drop(shell);
    app.handle(Command::Oral(OralCommand::HearTurn(0)));
    assert!(told.lock().unwrap().asked.last().is_some_and(|last| last == &asked[0].replace("record", "play")));
}

#[test]
fn a_microphone_that_fails_is_told_once_and_the_sitting_goes_on() {
    let home = tempfile::tempdir().unwrap();
    let (mut app, told, read) = spoken(home.path());
    read.lock().unwrap().1 = false;
    {
        let mut told = told.lock().unwrap();
        (told.trouble, told.doing) = (Some("No sound server answers.".to_owned()), Doing::Nothing);
    }
    app.tick();
    assert!(app.view().notice.as_ref().is_some_and(|n| n.text.contains("No sound server")));
    assert!(!sound_of(&mut app).recording);
    let before = told.lock().unwrap().asked.len();
    app.handle(Command::DismissNotice);
    app.handle(Command::Oral(OralCommand::FinishSpeaking));
    app.handle(Command::Card(CardCommand::Accept));
    app.settle();
    read.lock().unwrap().1 = false;
    told.lock().unwrap().trouble = Some("No sound server answers.".to_owned());
    app.tick();
    assert_eq!(app.view().notice, None, "said once");
    assert_eq!(told.lock().unwrap().asked.len(), before, "and not tried again at every question");
}

/// Sits a sitting of two questions with a recorded first answer; gives the folder of recordings and the file's name.
fn recorded(home: &Path) -> (PathBuf, String) {
    let (mut app, told, read) = spoken(home);
    read.lock().unwrap().1 = false;
    app.tick();
    app.handle(Command::Oral(OralCommand::FinishSpeaking));
    app.handle(Command::Card(CardCommand::Accept));
    app.settle();
    app.handle(Command::Oral(OralCommand::BreakOff));
    app.settle();
    let asked = told.lock().unwrap().asked[0].clone();
    (home.join("profiles/a/recordings"), asked.strip_prefix("record ").expect("it was recorded").to_owned())
}

fn files(folder: &Path) -> Vec<String> {
    let all = std::fs::read_dir(folder).unwrap().map(|f| f.unwrap().file_name().to_string_lossy().into_owned());
    let mut all: Vec<String> = all.collect();
    all.sort();
    all
}

const DAY_MS: i64 = 86_400_000;

#[test]
fn only_recordings_that_the_program_made_are_deleted_after_their_time() {
    let home = tempfile::tempdir().unwrap();
    let (folder, ours) = recorded(home.path());
    // The clock of these tests stands at 1 800 000 000 000 ms; recordings are kept for 14 days.
    let old = 1_800_000_000_000 - 100 * DAY_MS;
    let own =
        [format!("{old:013}-abc-1.wav"), format!("{old:013}.wav"), "2024-interview.wav".into(), "notes.wav".into()];
    for file in &own {
        std::fs::write(folder.join(file), b"x").unwrap();
    }
    let mut all: Vec<String> = own.iter().cloned().chain([ours.clone()]).collect();
    all.sort();
    drop(crate::support::home::started_at(home.path(), 1_800_000_000_000 + 13 * DAY_MS));
    assert_eq!(files(&folder), all, "its time is not over");
    drop(crate::support::home::started_at(home.path(), 1_800_000_000_000 + 15 * DAY_MS));
    all.retain(|file| *file != ours);
    assert_eq!(files(&folder), all, "a learner's own files stay");
}

#[test]
fn a_clock_that_has_leapt_deletes_no_recording() {
    let home = tempfile::tempdir().unwrap();
    let (folder, ours) = recorded(home.path());
    let in_ten_years = 1_800_000_000_000 + 3_650 * DAY_MS;
    let mut app = crate::support::home::started_at(home.path(), in_ten_years);
    assert!(matches!(app.view().view, View::Clock(_)));
    assert_eq!(files(&folder), [ours.as_str()]);
    app.handle(Command::Clock(ClockCommand::DateIsRight));
    app.settle();
    assert_eq!(files(&folder), [""; 0], "the learner says that the date is right");
}
