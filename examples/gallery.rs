//! Opens the real window on the sample program, at a screen given by name: for looking at it.
//!
//! `cargo run --example gallery -- NAME [night] [SCALE]`

#[allow(dead_code)]
#[path = "../tests/all/ui/sample.rs"]
mod sample;

#[allow(dead_code)]
#[path = "../tests/all/ui/sample_sequence.rs"]
mod sequence;

#[allow(dead_code)]
#[path = "../tests/all/ui/sample_lineup.rs"]
mod lineup;

#[allow(dead_code)]
#[path = "../tests/all/ui/sample_working.rs"]
mod working;

#[allow(dead_code)]
#[path = "../tests/all/ui/sample_point.rs"]
mod point;

use bedplate::app::command::Command;
use bedplate::app::program::Program;
use bedplate::app::route::Route;
use bedplate::domain::answer::{Given, Pointed};
use bedplate::domain::ids::DeckId;
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::Notice;
use bedplate::present::pages::TroubleKind;
use bedplate::present::watch::FrontState;
use bedplate::ui;
use lineup::LineupProgram;
use point::PointProgram;
use sample::{SampleProgram, Watch};
use sequence::SequenceProgram;
use working::WorkingProgram;

fn program(name: &str) -> Option<SampleProgram> {
    let mut p = SampleProgram::default();
    let give = |n: usize, given: Given, said: &[usize]| {
        let mut p = SampleProgram::on(n);
        p.on_card.given = Some(given);
        p.on_card.said = said.to_vec();
        p
    };
    Some(match name {
        "front" => p,
        "go-on" | "nothing" | "done" | "no-decks" => {
            p.sample.front = match name {
                "go-on" => FrontState::GoOn,
                "nothing" => FrontState::NothingDue,
                "done" => FrontState::Done,
                _ => FrontState::NoDecks,
            };
            p
        }
        "recall" => SampleProgram::on(0),
        "shown" => give(0, Given::Said(vec![]), &[1, 2, 4, 5]),
        "typed" => give(0, Given::Text("the gear pump takes over and someone switches it off".to_owned()), &[1]),
        "figure" => SampleProgram::on(1),
        "figure-marked" => give(1, Given::Text("3 bar".to_owned()), &[]),
        "why" => SampleProgram::on(2),
        "why-marked" => give(2, Given::Links(vec![1, 5, 3, 2]), &[]),
        "remedy" => {
            p = SampleProgram::on(3);
            p.on_card.shown = 3;
            p
        }
        "end" => {
            p.sample.watch = Watch::End;
            p
        }
        "first-run" => SampleProgram::at(Route::FirstRun),
        "library" => SampleProgram::at(Route::Library),
        "search" => {
            p = SampleProgram::at(Route::Library);
            p.sample.search = "suction".to_owned();
            p
        }
        "deck" => SampleProgram::at(Route::Deck(DeckId("marram-light".to_owned()))),
        "card" => SampleProgram::at(Route::Card(sample::key("sea-suctions"))),
        "profiles" => SampleProgram::at(Route::Profiles),
        "settings" => SampleProgram::at(Route::Settings),
        "about" => SampleProgram::at(Route::About),
        "in-use" | "damaged" => {
            p = SampleProgram::at(Route::StoreTrouble);
            if name == "damaged" {
                let backup = Some("Tuesday 24 November, 20:42, 310 attempts".to_owned());
                p.sample.trouble = TroubleKind::Damaged { backup };
            }
            p
        }
        "notice" => {
            p = SampleProgram::at(Route::Library);
            p.sample.notice = Some(Notice::failed(
                "The disk is full: the last answer could not be kept. Free some room and accept it again.",
            ));
            p
        }
        _ => return None,
    })
}

/// The sequence, at a stage.
fn of_sequence(name: &str) -> Option<SequenceProgram> {
    Some(match name {
        "sequence" => SequenceProgram::default(),
        "sequence-run" => SequenceProgram::after("fans line-cooling compressor cooling-pump line-fuel fuel-pump prime"),
        "sequence-trap" => SequenceProgram::after("fans line-cooling back-feed compressor fuel-pump start"),
        "sequence-short" => SequenceProgram::after("fans line-cooling cooling-pump compressor"),
        "sequence-works" | "sequence-playing" => SequenceProgram {
            runs: vec![sequence::right_order()],
            moving: name == "sequence-playing",
            ..SequenceProgram::default()
        },
        _ => return None,
    })
}

/// A line-up, at a stage; `lineup:FILE:N` is the line-up number N (from 0) of a deck's file.
fn of_lineup(name: &str) -> Option<LineupProgram> {
    let of = |text: &str| LineupProgram::of(lineup::network(text));
    Some(match name {
        "lineup" => of(lineup::FUEL),
        "lineup-blocked" => LineupProgram::checked(lineup::network(lineup::FUEL), "qcv inlet", lineup::FILTER_ONE),
        "lineup-leak" => {
            LineupProgram::checked(lineup::network(lineup::FUEL), "qcv inlet return cross", lineup::FILTER_ONE)
        }
        "lineup-works" | "lineup-playing" => {
            let network = lineup::network(lineup::FUEL);
            let program = LineupProgram::checked(network, "qcv inlet return", lineup::FILTER_ONE);
            LineupProgram { moving: name == "lineup-playing", ..program }
        }
        "lineup-small" => of(lineup::BILGE),
        "lineup-large" => of(&lineup::large()),
        _ => {
            let (file, number) = name.strip_prefix("lineup:")?.split_once(':')?;
            let table: toml::Table = std::fs::read_to_string(file).ok()?.parse().ok()?;
            let card = table.get("lineup")?.get(number.parse::<usize>().ok()?)?.as_table()?;
            let mut program = LineupProgram::of(lineup::network_of(card));
            program.ask = card.get("ask")?.as_str()?.to_owned();
            program
        }
    })
}

/// The working, at a stage.
fn of_working(name: &str) -> Option<WorkingProgram> {
    let (first, second): (&[&str], &[&str]) = (&working::FIRST, &working::SECOND);
    Some(match name {
        "working" => WorkingProgram::default(),
        "working-lines" => WorkingProgram { answer: "3752 kW".to_owned(), ..WorkingProgram::with(first) },
        "working-wrong" => WorkingProgram::with(&["A = pi/4 * D^2", "V = A * stroke", "W = p + V", "P = W *"]),
        "working-missed" => WorkingProgram::after(&[(first, "3752 kW")]),
        "working-again" => WorkingProgram { again: true, ..WorkingProgram::after(&[(first, "3752 kW")]) },
        "working-second" => WorkingProgram::after(&[(first, "3752 kW"), (second, "1876 kW")]),
        "working-model" => {
            WorkingProgram { shown: true, ..WorkingProgram::after(&[(first, "3752 kW"), (second, "1876 kW")]) }
        }
        "working-long" => WorkingProgram { long: true, ..WorkingProgram::with(&[first, second].concat()) },
        "worksheet" => {
            WorkingProgram::page(&["D = 320 mm", "A = pi/4 * D^2", "F = 16.2 bar * A", "dT = 85 degC - 20 degC"])
        }
        _ => return None,
    })
}

/// The point card, at a stage.
fn of_point(name: &str) -> Option<PointProgram> {
    let after = |part: &str, id: &str| PointProgram::after(part, Given::Pointed(Pointed::Part(id.to_owned())));
    Some(match name {
        "point" => PointProgram::default(),
        "point-right" => after("quick-closing-valve", "quick-closing-valve"),
        "point-wrong" => after("quick-closing-valve", "drain-cock"),
        "point-piece" => after("duplex-filter", "left-chamber"),
        "point-whole" => after("left-chamber", "duplex-filter"),
        "point-failed" => PointProgram { failed: Some(point::FAILED.to_owned()), ..PointProgram::default() },
        "point-remedy" => PointProgram { remedy: true, ..PointProgram::default() },
        _ => return None,
    })
}

fn main() -> Result<(), String> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let name = args.first().map_or("front", String::as_str);
    let mut program: Box<dyn Program> = match (of_sequence(name), of_lineup(name), of_working(name), of_point(name)) {
        (Some(program), ..) => Box::new(program),
        (_, Some(program), ..) => Box::new(program),
        (_, _, Some(program), _) => Box::new(program),
        (.., Some(program)) => Box::new(program),
        _ => Box::new(program(name).ok_or_else(|| format!("there is no screen `{name}`"))?),
    };
    for arg in args.iter().skip(1) {
        match arg.as_str() {
            "night" => program.command(Command::SetTheme(ThemeChoice::Night)),
            scale => program.command(Command::SetScale(scale.parse().map_err(|_| format!("`{scale}` is no scale"))?)),
        }
    }
    ui::run(program, &ui::Wake::default())
}
