//! Reading a deck of 5,000 cards against a bare TOML parse of the same text: the aim is at most 6 times as long.
//!
//! Run with `cargo bench --bench deck_read`. After the two rows it prints the ratio of the medians of its own
//! paired runs, so that other work on the machine weighs on both alike.

use std::fmt::Write as _;
use std::fs;
use std::hint::black_box;
use std::path::PathBuf;
use std::sync::LazyLock;
use std::time::Instant;

use bedplate::deck::read_deck;

const CARDS: usize = 5_000;
const FILES: usize = 10;
const PAIRS: usize = 15;

struct Generated {
    folder: PathBuf,
    texts: Vec<String>,
    // Dropping it would remove the folder.
    _keep: tempfile::TempDir,
}

static DECK: LazyLock<Generated> = LazyLock::new(generate);

const HEAD: &str = "id = \"bench\"\ntitle = \"A large deck\"\nedition = 1\nlanguage = \"en\"\npublisher = \"Bench\"\n\
    licence = \"CC-BY-4.0\"\n\n[source.practice]\ntitle = \"common practice, no published source\"\nkind = \"practice\"\n";

fn generate() -> Generated {
    let keep = tempfile::tempdir().expect("a folder");
    let folder = keep.path().to_path_buf();
    fs::create_dir(folder.join("cards")).expect("a folder");
    fs::write(folder.join("deck.toml"), HEAD).expect("written");
    let mut texts = vec![HEAD.to_owned()];
    for file in 0..FILES {
        let cards: String = (0..CARDS / FILES).map(|n| card(file * (CARDS / FILES) + n)).collect();
        fs::write(folder.join(format!("cards/{file}.toml")), &cards).expect("written");
        texts.push(cards);
    }
    Generated { folder, texts, _keep: keep }
}

/// A card of the usual size: of ten, six are recall, three figure and one why.
fn card(n: usize) -> String {
    let part = ["pump", "cooler", "separator", "compressor", "breaker", "governor", "injector"][n % 7];
    let state = ["hot", "stopped", "leaking", "blocked", "flooded", "slow", "noisy", "dead", "open"][n % 9];
    let mut text = String::new();
    let kind =
        ["recall", "recall", "figure", "recall", "why", "recall", "figure", "recall", "figure", "recall"][n % 10];
    let _ = write!(
        text,
        "[[{kind}]]\nid = \"card-{n}\"\ntopic = \"A-III/1.1.4\"\nheading = \"Section {}\"\n\
         ask = \"On watch {n} you find the {part} number {} {state} beside tank {}. What do you look at?\"\n",
        n / 50,
        n * 31 % 977,
        n * 17 % 991,
    );
    text += &match kind {
        "recall" => format!(
            "points = [\n  {{ say = \"The {part} has lost its supply of water\", accept = [\"no water {n}\", \"lost supply\"], critical = true }},\n\
             \x20 {{ say = \"The alarm came before the trip\", accept = [\"alarm first\", \"before the trip\"], reject = [\"trip first\"] }},\n\
             \x20 {{ say = \"The strainer was cleaned on the last watch\", accept = [\"strainer cleaned\"] }},\n]\n"
        ),
        "figure" => format!("value = \"{} bar\"\nwithin = \"2 %\"\n", n % 40 + 1),
        _ => "links = [\"The strainer blocks\", \"The water grows hot\", \"The engine trips\"]\nfalse_links = [\"The fuel is cold\"]\n".to_owned(),
    };
    text += "because = \"\"\"\nThe first sign is seen on the alarm list, if it is read from the oldest alarm upwards. What follows is only\n\
             the plant looking after itself, and tells little of the cause.\n\"\"\"\n\
             sources = [\"practice\"]\nseconds = 30\nweight = 2\n\n";
    text
}

fn bare_parse() -> usize {
    DECK.texts.iter().map(|text| text.parse::<toml::Table>().expect("sound TOML").len()).sum()
}

fn read() -> usize {
    let reading = read_deck(&DECK.folder);
    let cards = reading.deck.expect("a sound deck").cards.len();
    assert_eq!(cards, CARDS, "{:?}", reading.problems.first());
    cards
}

#[divan::bench(sample_count = 15, sample_size = 1)]
fn toml_alone() {
    black_box(bare_parse());
}

#[divan::bench(sample_count = 15, sample_size = 1)]
fn read_and_check() {
    black_box(read());
}

fn main() {
    divan::main();
    let timed = |work: fn() -> usize| {
        let start = Instant::now();
        black_box(work());
        start.elapsed().as_secs_f64()
    };
    let mut ratios: Vec<f64> = (0..PAIRS)
        .map(|_| {
            let bare = timed(bare_parse);
            timed(read) / bare
        })
        .collect();
    ratios.sort_by(f64::total_cmp);
    println!(
        "reading and checking takes {:.2} times a bare TOML parse (median of {PAIRS} pairs; aim: 6)",
        ratios[PAIRS / 2]
    );
}
