//! Sample line-ups for the window, of the ship *Marram Light*: a small one, one as large as most, one that is larger
//! than the sheet; and a program with one of them on a card.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::Arc;
use std::time::Duration;

use bedplate::app::command::Command;
use bedplate::app::program::Program;
use bedplate::app::views::lineup;
use bedplate::domain::answer::{Given, LinedUp};
use bedplate::domain::card::Kind;
use bedplate::domain::day::StudyDay;
use bedplate::domain::ids::CardKey;
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::domain::piping::{Demand, Medium, Network, Node, NodeKind, Pipe, Want};
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::shell::RailView;
use bedplate::present::watch::{ResultView, Stage};
use bedplate::present::{Place, ShellView, TitleBlock, View, WatchCardView};
use toml::{Table, Value};

/// As large as most: distillate to one engine, its return, and what must stay apart from it.
pub const FUEL: &str = r#"
node = [
  { key = "service-tank", kind = "tank", name = "Distillate service tank", at = [1, 3], medium = "fuel-oil" },
  { key = "drain", kind = "valve", name = "Drain to sludge", at = [1, 4] },
  { key = "sludge", kind = "junction", name = "to the sludge tank", at = [1, 5] },
  { key = "qcv", kind = "quick-closing", name = "Quick-closing valve", at = [3, 3], open = true },
  { key = "tee", kind = "junction", name = "Tee", at = [4, 3] },
  { key = "inlet-cock", kind = "three-way", name = "Inlet cock", at = [5, 3], ways = ["filter-one", "filter-two"] },
  { key = "filter-one", kind = "filter", name = "Filter 1", at = [6, 2] },
  { key = "filter-two", kind = "filter", name = "Filter 2", at = [6, 4] },
  { key = "outlet-cock", kind = "three-way", name = "Outlet cock", at = [7, 3], ways = ["filter-one", "filter-two"] },
  { key = "pump", kind = "pump", name = "Supply pump", at = [8, 3] },
  { key = "inlet", kind = "valve", name = "Inlet valve", at = [9, 3], open = true },
  { key = "engine", kind = "engine", name = "Auxiliary engine 2", at = [11, 3] },
  { key = "return", kind = "valve", name = "Return valve", at = [8, 1] },
  { key = "cross", kind = "valve", name = "Cross-connection", at = [4, 5] },
  { key = "residual-tank", kind = "tank", name = "Residual service tank", at = [1, 6], medium = "fuel-oil" },
  { key = "residual-qcv", kind = "quick-closing", name = "Quick-closing valve", at = [3, 6], open = true, fixed = true },
  { key = "residual-tee", kind = "junction", name = "Tee", at = [4, 6] },
  { key = "booster", kind = "junction", name = "to the main engine’s booster unit", at = [8, 6] },
]
pipe = [
  { from = "service-tank", to = "drain" },
  { from = "drain", to = "sludge" },
  { from = "service-tank", to = "qcv" },
  { from = "qcv", to = "tee" },
  { from = "tee", to = "inlet-cock" },
  { from = "inlet-cock", to = "filter-one", via = [[5, 2]] },
  { from = "inlet-cock", to = "filter-two", via = [[5, 4]] },
  { from = "filter-one", to = "outlet-cock", via = [[7, 2]] },
  { from = "filter-two", to = "outlet-cock", via = [[7, 4]] },
  { from = "outlet-cock", to = "pump" },
  { from = "pump", to = "inlet" },
  { from = "inlet", to = "engine" },
  { from = "engine", to = "return", via = [[11, 1]] },
  { from = "return", to = "service-tank", via = [[1, 1]] },
  { from = "residual-tank", to = "residual-qcv" },
  { from = "residual-qcv", to = "residual-tee" },
  { from = "residual-tee", to = "booster" },
  { from = "cross", to = "residual-tee" },
  { from = "tee", to = "cross" },
]
demand = [
  { name = "Service tank to supply pump", flow = ["service-tank", "pump"] },
  { name = "Supply pump to engine", flow = ["pump", "engine"] },
  { name = "Return to service tank", flow = ["engine", "service-tank"] },
  { name = "Nothing to or from the residual tank", never = ["service-tank", "booster"] },
]
"#;

/// The ways of its cocks to the first filter.
pub const FILTER_ONE: &[(&str, &str)] = &[("inlet-cock", "filter-one"), ("outlet-cock", "filter-one")];

/// A small one: an emergency bilge suction.
pub const BILGE: &str = r#"
node = [
  { key = "chest", kind = "sea-chest", name = "Sea chest", at = [1, 1], medium = "sea-water" },
  { key = "sea-suction", kind = "valve", name = "Sea suction", at = [2, 1], open = true },
  { key = "well", kind = "tank", name = "Bilge well", at = [1, 2], medium = "bilge-water" },
  { key = "bilge-suction", kind = "screw-down-non-return", name = "Emergency bilge suction", at = [2, 2] },
  { key = "pump", kind = "pump", name = "Main sea-water pump", at = [4, 1] },
  { key = "overboard", kind = "overboard", name = "Overboard", at = [6, 1] },
]
pipe = [
  { from = "chest", to = "sea-suction" },
  { from = "sea-suction", to = "pump" },
  { from = "well", to = "bilge-suction" },
  { from = "bilge-suction", to = "pump" },
  { from = "pump", to = "overboard" },
]
demand = [
  { name = "Bilge well overboard", flow = ["well", "overboard"] },
  { name = "The sea stays out of the pump", never = ["chest", "pump"] },
]
"#;

/// Larger than the sheet: rows of pumps and coolers between two sea chests and two mains.
pub fn large() -> String {
    let (mut nodes, mut pipes) = (String::new(), String::new());
    let mut node = |key: &str, kind: &str, name: &str, at: (i32, i32), more: &str| {
        nodes +=
            &format!("{{ key = \"{key}\", kind = \"{kind}\", name = \"{name}\", at = [{}, {}]{more} }},\n", at.0, at.1);
    };
    let mut pipe = |from: &str, to: &str, via: &str| {
        pipes += &format!("{{ from = \"{from}\", to = \"{to}\", via = [{via}] }},\n");
    };
    node("high", "sea-chest", "High sea chest", (1, 1), ", medium = \"sea-water\"");
    node("low", "sea-chest", "Low sea chest", (1, 9), ", medium = \"sea-water\"");
    node("high-valve", "valve", "High suction", (2, 1), "");
    node("low-valve", "valve", "Low suction", (2, 9), ", open = true");
    pipe("high", "high-valve", "");
    pipe("low", "low-valve", "");
    for row in 0..5 {
        let (n, y) = (row + 1, 1 + 2 * row);
        node(&format!("tee-{n}"), "junction", "Suction main", (3, y), "");
        node(&format!("suction-{n}"), "valve", &format!("Suction valve of pump {n}"), (4, y), "");
        node(&format!("strainer-{n}"), "filter", &format!("Strainer {n}"), (5, y), "");
        node(&format!("pump-{n}"), "pump", &format!("Sea-water pump {n}"), (6, y), "");
        node(&format!("check-{n}"), "non-return", &format!("Non-return {n}"), (7, y), "");
        node(&format!("delivery-{n}"), "valve", &format!("Delivery valve of pump {n}"), (8, y), "");
        node(&format!("main-{n}"), "junction", "Delivery main", (9, y), "");
        node(&format!("cooler-inlet-{n}"), "valve", &format!("Inlet of cooler {n}"), (10, y), "");
        node(&format!("cooler-{n}"), "cooler", &format!("Central cooler {n}"), (11, y), "");
        node(&format!("cooler-outlet-{n}"), "valve", &format!("Outlet of cooler {n}"), (12, y), "");
        node(&format!("overboard-{n}"), "overboard", &format!("Overboard {n}"), (14, y), "");
        let chain = [
            "tee",
            "suction",
            "strainer",
            "pump",
            "check",
            "delivery",
            "main",
            "cooler-inlet",
            "cooler",
            "cooler-outlet",
            "overboard",
        ];
        for pair in chain.windows(2) {
            pipe(&format!("{}-{n}", pair[0]), &format!("{}-{n}", pair[1]), "");
        }
        if n > 1 {
            pipe(&format!("tee-{}", n - 1), &format!("tee-{n}"), "");
            pipe(&format!("main-{}", n - 1), &format!("main-{n}"), "");
        }
    }
    pipe("high-valve", "tee-1", "");
    pipe("low-valve", "tee-5", "");
    format!(
        "node = [\n{nodes}]\npipe = [\n{pipes}]\ndemand = [{{ name = \"Low sea chest through pump 2 and cooler 4\", flow = \
         [\"low\", \"pump-2\", \"cooler-4\", \"overboard-4\"] }}, {{ name = \"High sea chest shut off\", never = [\"high\", \
         \"pump-2\"] }}]\n"
    )
}

/// Reads a sample.
pub fn network(text: &str) -> Network {
    let table: Table = text.parse().expect("the sample is TOML");
    network_of(&table)
}

/// Reads a table with `node`, `pipe` and `demand`, as decks write them.
pub fn network_of(table: &Table) -> Network {
    let rows = |key: &str| -> Vec<&Table> {
        table[key].as_array().expect("rows").iter().map(|row| row.as_table().expect("a table")).collect()
    };
    let text = |row: &Table, key: &str| row.get(key).and_then(Value::as_str).unwrap_or_default().to_owned();
    let flag = |row: &Table, key: &str| row.get(key).and_then(Value::as_bool).unwrap_or(false);
    let keys: Vec<String> = rows("node").iter().map(|row| text(row, "key")).collect();
    let of = |key: &str| keys.iter().position(|k| k == key).unwrap_or_else(|| panic!("no node {key}"));
    let place = |value: &Value| {
        let at: Vec<i32> =
            value.as_array().expect("a place").iter().map(|n| n.as_integer().expect("a number") as i32).collect();
        [at[0], at[1]]
    };
    let list = |value: &Value| -> Vec<usize> {
        value.as_array().expect("keys").iter().map(|k| of(k.as_str().expect("a key"))).collect()
    };
    let nodes = rows("node").into_iter().map(|row| Node {
        key: text(row, "key"),
        kind: NodeKind::ALL.into_iter().find(|k| k.word() == text(row, "kind")).expect("a kind"),
        name: text(row, "name"),
        at: row.get("at").map(place),
        medium: row.get("medium").map(|m| medium(m.as_str().expect("a medium"))),
        open: flag(row, "open"),
        fixed: flag(row, "fixed"),
        ways: row.get("ways").map(|ways| {
            let ways = list(ways);
            [ways[0], ways[1]]
        }),
    });
    let pipes = rows("pipe").into_iter().map(|row| Pipe {
        from: of(&text(row, "from")),
        to: of(&text(row, "to")),
        via: row.get("via").and_then(Value::as_array).map_or_else(Vec::new, |via| via.iter().map(place).collect()),
    });
    let demands = rows("demand").into_iter().map(|row| Demand {
        name: text(row, "name"),
        want: match (row.get("flow"), row.get("never")) {
            (Some(flow), _) => Want::Flow(list(flow)),
            (_, Some(never)) => {
                let never = list(never);
                Want::Never([never[0], never[1]])
            }
            _ => panic!("a demand wants something"),
        },
    });
    Network { nodes: nodes.collect(), pipes: pipes.collect(), demands: demands.collect() }
}

fn medium(word: &str) -> Medium {
    Medium::ALL.into_iter().find(|medium| medium.word() == word).unwrap_or_else(|| panic!("no medium {word}"))
}

/// A program with one line-up on a card.
pub struct LineupProgram {
    /// Every command so far.
    pub log: Rc<RefCell<Vec<Command>>>,
    /// What is lined up.
    pub network: Network,
    /// Its question.
    pub ask: String,
    /// The checks so far, the first one first.
    pub checks: Vec<LinedUp>,
    /// A setting that works was asked for.
    pub right: bool,
    /// The flooding is seen as it spreads.
    pub moving: bool,
    /// Its theme.
    pub theme: ThemeChoice,
    /// Its scale.
    pub scale: u32,
    /// The learner’s notch.
    pub notch: Notch,
}

impl LineupProgram {
    /// Of a network, not yet checked.
    pub fn of(network: Network) -> Self {
        Self {
            log: Rc::default(),
            network,
            ask: "Line up distillate fuel to auxiliary engine 2, return to its own tank.".to_owned(),
            checks: vec![],
            right: false,
            moving: false,
            theme: ThemeChoice::Sheet,
            scale: 100,
            notch: Notch::None,
        }
    }

    /// Of a network, checked once with these open and these ways.
    pub fn checked(network: Network, open: &str, ways: &[(&str, &str)]) -> Self {
        let open = open.split_whitespace().map(str::to_owned).collect();
        let ways: BTreeMap<String, String> = ways.iter().map(|(a, b)| ((*a).to_owned(), (*b).to_owned())).collect();
        Self { checks: vec![LinedUp { open, ways }], ..Self::of(network) }
    }

    fn stage(&self) -> Stage {
        let network = &self.network;
        let Some((first, last)) = self.checks.first().zip(self.checks.last()) else {
            return Stage::LineupAsked(Box::new(lineup::asked(network)));
        };
        let right = self.right.then(|| lineup::right_setting(network).expect("a simple network"));
        let view = |set: &LinedUp, result| {
            let set = network.setting_of(set).expect("the window names what there is");
            lineup::of_setting(network, set, self.checks.len(), right.clone(), result)
        };
        // The first check counts, whatever was mended since.
        let found = view(first, self.result(0, 0, false)).demands;
        let met = found.iter().filter(|demand| demand.met).count();
        let result = self.result(met, found.len(), found.iter().any(|demand| demand.leaks));
        Stage::LineupChecked(Box::new(view(last, result)))
    }

    fn result(&self, met: usize, of: usize, leaks: bool) -> ResultView {
        let worked_out = match (leaks, met == of) {
            (true, _) => Outcome::Missed,
            (false, true) => Outcome::Answered,
            (false, false) => Outcome::Prompted,
        };
        ResultView {
            outcome: worked_out.notched(self.notch),
            detail: format!("{met} of {of} demands met, 1 min 5 s. Next in 9 days."),
            worked_out,
            notch: self.notch,
            rule: "All said: Answered. Fewer: Missed.".to_owned(),
            withheld: false,
            fixed: false,
            because: Some(
                "The supply and the return are shifted as a pair, or one tank empties into the other.".to_owned(),
            ),
        }
    }
}

impl Program for LineupProgram {
    fn view(&mut self) -> Arc<ShellView> {
        let card = WatchCardView {
            picture: None,
            shown: None,
            key: CardKey::new("marram-light", "fuel-line"),
            kind: Kind::Lineup,
            place: "Auxiliary engines, fuel supply".to_owned(),
            ask: self.ask.clone(),
            caution: None,
            seconds: 65,
            limit: None,
            clock_runs: false,
            today: StudyDay(20_782),
            in_oral: false,
            keeping: false,
            can_take_back: false,
            stage: self.stage(),
            block: TitleBlock::of([
                ["Deck", "Auxiliary engines and first start", "Card", "22 of 138"],
                ["Topic", "Fuel supply and return", "Edition", "3"],
                ["Source", "Common practice; ship’s fuel drawing", "Seen", "4 times"],
            ]),
        };
        let rail = RailView {
            place: Some(Place::Watch),
            learner: "E. Dunmore".to_owned(),
            clock: "20:42".to_owned(),
            offset: "UTC+3".to_owned(),
            oral: Some("Oral in 41 days".to_owned()),
        };
        Arc::new(ShellView {
            rail,
            title: "Watch".to_owned(),
            context: "Card 23 of 46".to_owned(),
            notice: None,
            progress: Some(0.5),
            view: View::WatchCard(Box::new(card)),
        })
    }

    fn command(&mut self, command: Command) {
        self.log.borrow_mut().push(command.clone());
        match command {
            Command::Submit(Given::LinedUp(set)) | Command::CheckAgain(set) => self.checks.push(set),
            Command::ShowRightSetting => self.right = true,
            Command::SetNotch(notch) => self.notch = notch,
            Command::SetTheme(theme) => self.theme = theme,
            Command::SetScale(scale) => self.scale = scale,
            Command::Accept => (self.checks, self.right, self.notch) = (vec![], false, Notch::None),
            _ => {}
        }
    }

    fn tick(&mut self) -> Option<Duration> {
        None
    }

    fn theme(&self) -> ThemeChoice {
        self.theme
    }

    fn scale_percent(&self) -> u32 {
        self.scale
    }

    fn still(&self) -> bool {
        !self.moving
    }
}
