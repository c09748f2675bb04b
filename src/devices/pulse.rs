//! Recording and playing through the sound server of a Linux desktop, over its own socket (the protocol that PulseAudio
//! made and PipeWire speaks as well).
//!
//! One thread owns the connection and the files; what it is told and what it hears come to it by one queue.

use std::collections::VecDeque;
use std::fs::File;
use std::io::BufWriter;
use std::os::unix::net::UnixStream;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

use futures_executor::block_on;
use hound::{SampleFormat, WavReader, WavSpec, WavWriter};
use pulseaudio::{AsPlaybackSource, Client, PlaybackStream, RecordStream, protocol};

use super::device::{Doing, Sound, Wake};

/// Samples a second of a recording: speech.
const RATE: u32 = 16_000;
/// Bytes of a packet: 100 ms. Left to itself the server sends the first after two seconds.
const PACKET: u32 = RATE / 10 * 2;
/// After it is stopped, what is still on its way is waited for.
const TAIL: Duration = Duration::from_millis(250);
/// A recording ends by itself after so many samples: half an hour.
const MOST_SAMPLES: u32 = RATE * 60 * 30;

/// Bytes of the key by which a server knows its own user.
const COOKIE: usize = 256;

type Writer = WavWriter<BufWriter<File>>;

enum Message {
    Record(PathBuf),
    Play(PathBuf),
    Stop,
    /// Bytes of the recording with this number.
    Heard(u64, Vec<u8>),
    /// The file with this number is played.
    Played(u64),
}

#[derive(Default)]
struct Told {
    doing: Doing,
    trouble: Option<String>,
}

/// The sound server.
pub struct Pulse {
    queue: Sender<Message>,
    told: Arc<Mutex<Told>>,
}

impl Pulse {
    /// Starts the thread. `socket` is the server's; none for the session's own. Nothing is connected before it is needed.
    pub fn start(socket: Option<PathBuf>, wake: Wake) -> Self {
        let (queue, orders) = channel();
        let told = Arc::new(Mutex::new(Told::default()));
        let worker = Worker { socket, orders, own: queue.clone(), told: Arc::clone(&told), wake, number: 0 };
        thread::spawn(move || worker.run());
        Self { queue, told }
    }

    fn send(&self, message: Message, doing: Doing) {
        // Held meanwhile: the thread tells of what failed at once only after this has been told.
        let mut told = locked(&self.told);
        match self.queue.send(message) {
            Ok(()) if doing != Doing::Nothing => told.doing = doing,
            Ok(()) => {}
            Err(_) => told.trouble = Some("Recording has ended by a fault; begin the program again.".to_owned()),
        }
    }
}

fn locked(told: &Mutex<Told>) -> MutexGuard<'_, Told> {
    told.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Sound for Pulse {
    fn record(&mut self, file: &Path) {
        self.send(Message::Record(file.to_owned()), Doing::Recording);
    }

    fn play(&mut self, file: &Path) {
        self.send(Message::Play(file.to_owned()), Doing::Playing);
    }

    fn stop(&mut self) {
        self.send(Message::Stop, Doing::Nothing);
    }

    fn doing(&self) -> Doing {
        locked(&self.told).doing
    }

    fn trouble(&mut self) -> Option<String> {
        locked(&self.told).trouble.take()
    }
}

/// What the thread is at.
enum Work {
    Nothing,
    Recording(u64, RecordStream, Writer, u32),
    Playing(u64, PlaybackStream),
}

struct Worker {
    socket: Option<PathBuf>,
    orders: Receiver<Message>,
    own: Sender<Message>,
    told: Arc<Mutex<Told>>,
    wake: Wake,
    number: u64,
}

impl Worker {
    fn run(mut self) {
        let mut work = Work::Nothing;
        // The program's end of the queue is never the last: the thread ends with the program.
        while let Ok(message) = self.orders.recv() {
            work = match message {
                Message::Record(file) => {
                    self.finish(work);
                    self.begin(|worker| worker.record(&file), "recorded", &file)
                }
                Message::Play(file) => {
                    self.finish(work);
                    self.begin(|worker| worker.play(&file), "played", &file)
                }
                Message::Stop => {
                    self.finish(work);
                    self.say(Doing::Nothing, None);
                    Work::Nothing
                }
                Message::Heard(number, bytes) => self.heard(work, number, &bytes),
                Message::Played(number) => match work {
                    Work::Playing(now, _) if now == number => {
                        self.say(Doing::Nothing, None);
                        Work::Nothing
                    }
                    work => work,
                },
            };
        }
    }

    fn say(&self, doing: Doing, trouble: Option<String>) {
        {
            let mut told = locked(&self.told);
            told.doing = doing;
            if trouble.is_some() {
                told.trouble = trouble;
            }
        }
        (self.wake)();
    }

    fn begin(&mut self, work: impl FnOnce(&mut Self) -> Result<Work, String>, what: &str, file: &Path) -> Work {
        self.number += 1;
        match work(self) {
            Ok(work) => {
                let doing = match work {
                    Work::Recording(..) => Doing::Recording,
                    Work::Playing(..) => Doing::Playing,
                    Work::Nothing => Doing::Nothing,
                };
                self.say(doing, None);
                work
            }
            Err(why) => {
                let name = file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
                let subject =
                    if what == "recorded" { "What you say".to_owned() } else { format!("The recording {name}") };
                self.say(Doing::Nothing, Some(format!("{subject} cannot be {what}: {why}")));
                Work::Nothing
            }
        }
    }

    fn client(&self) -> Result<Client, String> {
        const NONE: &str =
            "no sound server answers. Start PipeWire or PulseAudio; until then the sitting goes on without sound.";
        let socket = self.socket.clone().or_else(pulseaudio::socket_path_from_env).ok_or(NONE)?;
        let cookie = pulseaudio::cookie_path_from_env().and_then(|path| std::fs::read(path).ok());
        // A server that asks for none still wants its length.
        let cookie = cookie.filter(|cookie| cookie.len() == COOKIE).unwrap_or_else(|| vec![0; COOKIE]);
        let stream = UnixStream::connect(socket).map_err(|_| NONE)?;
        Client::new_unix(c"Bedplate", stream, Some(cookie)).map_err(|_| NONE.to_owned())
    }

    fn record(&mut self, file: &Path) -> Result<Work, String> {
        let client = self.client()?;
        let spec = WavSpec { channels: 1, sample_rate: RATE, bits_per_sample: 16, sample_format: SampleFormat::Int };
        if let Some(folder) = file.parent() {
            std::fs::create_dir_all(folder).map_err(|why| in_folder(folder, &why))?;
        }
        let writer = match WavWriter::append(file) {
            Ok(writer) if writer.spec() == spec => writer,
            _ => WavWriter::create(file, spec).map_err(|why| in_folder(file, &why))?,
        };
        let mut params = protocol::RecordStreamParams {
            sample_spec: speech(RATE),
            channel_map: protocol::ChannelMap::mono(),
            source_name: Some(protocol::DEFAULT_SOURCE.to_owned()),
            buffer_attr: protocol::stream::BufferAttr { fragment_size: PACKET, ..Default::default() },
            cvolume: Some(protocol::ChannelVolume::norm(1)),
            ..Default::default()
        };
        params.flags.adjust_latency = true;
        let (own, number) = (self.own.clone(), self.number);
        let heard = move |bytes: &[u8]| {
            // The thread may have gone; then nothing listens.
            let _ = own.send(Message::Heard(number, bytes.to_vec()));
        };
        let stream = block_on(client.create_record_stream(params, heard)).map_err(|why| {
            format!("the microphone cannot be used ({why}). Look whether one is chosen in the system’s sound settings.")
        })?;
        Ok(Work::Recording(self.number, stream, writer, 0))
    }

    fn heard(&mut self, work: Work, number: u64, bytes: &[u8]) -> Work {
        match work {
            Work::Recording(now, stream, mut writer, mut count) if now == number => {
                let before = count;
                for pair in bytes.chunks_exact(2) {
                    if let Err(why) = writer.write_sample(i16::from_le_bytes([pair[0], pair[1]])) {
                        self.say(Doing::Nothing, Some(format!("The recording was broken off ({why}). Free the disk.")));
                        drop_stream(stream);
                        return Work::Nothing;
                    }
                    count += 1;
                }
                if before / RATE != count / RATE {
                    // So that the file can be played though the program should die; a failure shows at the next sample.
                    let _ = writer.flush();
                }
                if count >= MOST_SAMPLES {
                    self.finish(Work::Recording(now, stream, writer, count));
                    self.say(Doing::Nothing, Some("The recording was ended after half an hour.".to_owned()));
                    return Work::Nothing;
                }
                Work::Recording(now, stream, writer, count)
            }
            work => work,
        }
    }

    fn play(&mut self, file: &Path) -> Result<Work, String> {
        let mut reader = WavReader::open(file).map_err(|why| format!("it cannot be read ({why})."))?;
        let spec = reader.spec();
        if (spec.channels, spec.bits_per_sample, spec.sample_format) != (1, 16, SampleFormat::Int) {
            return Err("it is no recording of this program (one channel, 16 bit).".to_owned());
        }
        let bytes: Vec<u8> = reader.samples::<i16>().map_while(Result::ok).flat_map(i16::to_le_bytes).collect();
        let client = self.client()?;
        let params = protocol::PlaybackStreamParams {
            sample_spec: speech(spec.sample_rate),
            channel_map: protocol::ChannelMap::mono(),
            cvolume: Some(protocol::ChannelVolume::norm(1)),
            sink_name: Some(protocol::DEFAULT_SINK.to_owned()),
            ..Default::default()
        };
        let mut at = 0;
        let source = move |buffer: &mut [u8]| {
            let n = buffer.len().min(bytes.len() - at);
            buffer[..n].copy_from_slice(&bytes[at..at + n]);
            at += n;
            n
        };
        let stream = block_on(client.create_playback_stream(params, source.as_playback_source()))
            .map_err(|why| format!("the loudspeaker cannot be used ({why})."))?;
        let (own, number, played) = (self.own.clone(), self.number, stream.clone());
        thread::spawn(move || {
            // Ended or broken off: either way it is over. The client lives as long as its stream is played.
            let _ = block_on(played.play_all());
            drop(client);
            let _ = own.send(Message::Played(number));
        });
        Ok(Work::Playing(self.number, stream))
    }

    /// Brings what is at work to its end; of a recording, what is still on its way is taken in first.
    fn finish(&mut self, work: Work) {
        match work {
            Work::Nothing => {}
            Work::Playing(_, stream) => {
                // It may have ended by itself in this moment.
                let _ = block_on(stream.delete());
            }
            Work::Recording(number, stream, mut writer, _) => {
                let mut later = VecDeque::new();
                let until = Instant::now() + TAIL;
                loop {
                    match self.orders.recv_timeout(until.saturating_duration_since(Instant::now())) {
                        Ok(Message::Heard(of, bytes)) if of == number => {
                            for pair in bytes.chunks_exact(2) {
                                // What cannot be written now shows when the file is ended.
                                let _ = writer.write_sample(i16::from_le_bytes([pair[0], pair[1]]));
                            }
                        }
                        Ok(message) => later.push_back(message),
                        Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => break,
                    }
                }
                drop_stream(stream);
                if let Err(why) = writer.finalize() {
                    self.say(Doing::Nothing, Some(format!("The recording could not be kept ({why}). Free the disk.")));
                }
                for message in later {
                    // The own end of the queue is open as long as this thread runs.
                    let _ = self.own.send(message);
                }
            }
        }
    }
}

fn drop_stream(stream: RecordStream) {
    // A server that has gone has ended it already.
    let _ = block_on(stream.delete());
}

fn speech(rate: u32) -> protocol::SampleSpec {
    protocol::SampleSpec { format: protocol::SampleFormat::S16Le, channels: 1, sample_rate: rate }
}

fn in_folder(path: &Path, why: &dyn std::fmt::Display) -> String {
    format!("{} cannot be written ({why}). Free the disk or allow writing there.", path.display())
}
