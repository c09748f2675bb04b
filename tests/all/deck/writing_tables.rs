//! Cards that are made of tables, sequences and line-ups, changed table by table.

use std::fs;

use bedplate::deck::read_deck;
use bedplate::deck::writing::{Place, blank_form, form_of, with_card, with_new_card};
use bedplate::domain::form::{CardForm, Holds};
use bedplate::domain::kinds::Kind;
use bedplate::domain::network_form::{DemandForm, NetworkForm, PipeForm};
use bedplate::domain::plant_form::{Cell, Effect, FaultForm, Need, PlantForm};

use crate::deck::writing::{CARDS, differences, sound, text};
use crate::support::window::ship_deck;

fn plant(form: &CardForm) -> PlantForm {
    match form.part("step") {
        Some(Holds::Plant(plant)) => plant.clone(),
        other => panic!("no plant: {other:?}"),
    }
}

#[test]
fn facts_and_steps_are_changed_where_they_stand() {
    let cards = fs::read_to_string(ship_deck().join("sequence.toml")).expect("readable");
    let place = Place { kind: Kind::Sequence, nth: 0, id: "dead-ship".to_owned() };
    let mut form = form_of(&cards, &place).expect("a form");
    let before = plant(&form);
    let fact = |key: &str| before.facts.iter().position(|fact| fact.key == key).expect("a fact");
    let step = |key: &str| before.steps.iter().position(|step| step.key == key).expect("a step");
    assert_eq!(before.steps[step("compressor")].cells[fact("cooled")].need, Need::Holds);
    assert_eq!(before.steps[step("fans")].cells[fact("fans")].effect, Effect::Gives);
    assert!(before.facts[fact("board")].at_start && before.facts[fact("main")].goal == Need::Holds);
    let mut after = before.clone();
    after.steps[step("fans")].cells[fact("board")].need = Need::Holds;
    after.facts[fact("fans")].name = "Supply fans turning".to_owned();
    after.facts[fact("fans")].goal = Need::Holds;
    let fault =
        FaultForm { without: "board".to_owned(), severity: "no-effect".to_owned(), tell: "Nothing turns.".to_owned() };
    after.steps[step("fans")].faults.push(fault);
    form.set("step", Holds::Plant(after));
    let changed = with_card(&cards, &place, &form).expect("written");
    let (gone, new) = differences(&cards, &changed);
    assert_eq!(gone, ["goal = [\"main\"]", "fans = \"Supply fans running\""]);
    let news = [
        "goal = [\"main\", \"fans\"]",
        "fans = \"Supply fans turning\"",
        "needs = [\"board\"]",
        "without = \"board\"",
        "tell = \"Nothing turns.\"",
    ];
    for line in news {
        assert!(new.iter().any(|one| one == line), "{line} in {new:#?}");
    }
    // A need that goes takes what was said of it with it.
    let mut fewer = plant(&form_of(&cards, &place).expect("a form"));
    fewer.steps[step("compressor")].cells[fact("cooled")].need = Need::Nothing;
    form.set("step", Holds::Plant(fewer));
    let less = with_card(&cards, &place, &form).expect("written");
    assert!(!less.contains("The compressor runs hot: no cooling water."), "{less}");
    assert_eq!(less.matches("[[sequence.step]]").count(), cards.matches("[[sequence.step]]").count());
}

#[test]
fn a_new_sequence_is_written_with_its_tables_and_works() {
    let mut form = blank_form(Kind::Sequence).expect("it has a form");
    form.id = "start-pump".to_owned();
    for (key, words) in
        [("topic", "A-III/1.1.4"), ("ask", "Start the pump."), ("because", "Dry, it wears."), ("seconds", "30")]
    {
        form.set(key, text(words));
    }
    form.set("sources", Holds::List(vec!["practice".to_owned()]));
    let mut plant = PlantForm::default();
    plant.add_fact("open".to_owned());
    plant.add_fact("running".to_owned());
    plant.facts[0].name = "Suction open".to_owned();
    (plant.facts[1].name, plant.facts[1].goal) = ("Pump running".to_owned(), Need::Holds);
    plant.add_step("open-suction".to_owned());
    plant.add_step("start".to_owned());
    plant.steps[0].say = "Open the suction".to_owned();
    plant.steps[0].cells[0].effect = Effect::Gives;
    plant.steps[1].say = "Start the pump".to_owned();
    plant.steps[1].cells =
        vec![Cell { need: Need::Holds, ..Cell::default() }, Cell { effect: Effect::Gives, ..Cell::default() }];
    let fault =
        FaultForm { without: "open".to_owned(), severity: "damage".to_owned(), tell: "It runs dry.".to_owned() };
    plant.steps[1].faults.push(fault);
    form.set("step", Holds::Plant(plant));
    let changed = with_new_card(CARDS, &form).expect("written");
    assert!(changed.starts_with(CARDS), "{changed}");
    let place = Place { kind: Kind::Sequence, nth: 0, id: form.id.clone() };
    assert!(form_of(&changed, &place).expect("a form").says_as(&form), "{changed}");
    sound(&changed);
}

fn network(form: &CardForm) -> NetworkForm {
    match form.part("node") {
        Some(Holds::Network(network)) => network.clone(),
        other => panic!("no network: {other:?}"),
    }
}

#[test]
fn a_line_up_is_changed_where_it_stands() {
    let cards = fs::read_to_string(ship_deck().join("lineup.toml")).expect("readable");
    let reading = read_deck(ship_deck());
    let card = reading.written.iter().find(|card| card.kind == Kind::Lineup).expect("a line-up");
    let place = Place { kind: card.kind, nth: card.nth, id: card.id.clone().unwrap_or_default() };
    let mut form = form_of(&cards, &place).expect("a form");
    let before = network(&form);
    let mut after = before.clone();
    let (key, [column, row]) = (after.nodes[0].key.clone(), after.nodes[0].at);
    after.nodes[0].name = "Tank by another name".to_owned();
    after.place("valve", "Trial valve".to_owned(), [column, row + 90]);
    after.pipes.push(PipeForm { was: None, from: key, to: "valve-1".to_owned(), via: vec![[column, row + 80]] });
    form.set("node", Holds::Network(after));
    let changed = with_card(&cards, &place, &form).expect("written");
    let (gone, new) = differences(&cards, &changed);
    assert!(gone.len() == 1 && gone[0].contains("Distillate service tank"), "{gone:?}");
    assert_eq!(new.len(), 3, "{new:?}");
    for words in
        ["Tank by another name", "key = \"valve-1\", kind = \"valve\", name = \"Trial valve\"", "to = \"valve-1\""]
    {
        assert!(new.iter().any(|line| line.contains(words)), "{words} in {new:#?}");
    }
    assert!(form_of(&changed, &place).expect("a form").says_as(&form));
    // What is left out takes its pipes with it.
    let mut less = before.clone();
    let gone = less.nodes[0].key.clone();
    less.leave_out(0);
    assert!(
        less.pipes.iter().all(|pipe| pipe.from != gone && pipe.to != gone) && less.pipes.len() < before.pipes.len()
    );
    form.set("node", Holds::Network(less.clone()));
    let changed = with_card(&cards, &place, &form).expect("written");
    assert!(network(&form_of(&changed, &place).expect("a form")).nodes.iter().all(|node| node.key != gone));
}

#[test]
fn a_new_line_up_is_written_and_works() {
    let mut form = blank_form(Kind::Lineup).expect("it has a form");
    form.id = "fill-tank".to_owned();
    for (key, words) in [
        ("topic", "A-III/1.1.5"),
        ("ask", "Let the sea into the tank."),
        ("because", "It is ballast."),
        ("seconds", "30"),
    ] {
        form.set(key, text(words));
    }
    form.set("sources", Holds::List(vec!["practice".to_owned()]));
    let mut drawn = NetworkForm::default();
    drawn.place("sea-chest", "Sea chest".to_owned(), [1, 1]);
    drawn.place("valve", "Filling valve".to_owned(), [3, 1]);
    drawn.place("tank", "Ballast tank".to_owned(), [5, 1]);
    drawn.nodes[0].medium = "sea-water".to_owned();
    for (from, to) in [("sea-chest-1", "valve-1"), ("valve-1", "tank-1")] {
        drawn.pipes.push(PipeForm { from: from.to_owned(), to: to.to_owned(), ..PipeForm::default() });
    }
    let stops = vec!["sea-chest-1".to_owned(), "tank-1".to_owned()];
    drawn.demands.push(DemandForm { was: None, name: "Sea to tank".to_owned(), never: false, stops });
    form.set("node", Holds::Network(drawn));
    let changed = with_new_card(CARDS, &form).expect("written");
    assert!(changed.starts_with(CARDS), "{changed}");
    let place = Place { kind: Kind::Lineup, nth: 0, id: form.id.clone() };
    assert!(form_of(&changed, &place).expect("a form").says_as(&form), "{changed}");
    sound(&changed);
}
