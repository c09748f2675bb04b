//! A line-up in the terminal: everything with what it is joined with, what can be turned with numbers, an answer read
//! from numbers or names, the check told demand by demand.

use crate::app::program::command::{CardCommand, Command};
use crate::cli::kinds::kind::{Asked, Chosen, Marked};
use crate::cli::say::{labelled, wrapped};
use crate::domain::answer::{Given, LinedUp};
use crate::domain::piping::{NodeKind, Setting};
use crate::present::kinds::lineup::{LineupAskedView, LineupCheckedView, SchematicView, kind_word, medium_name};
use crate::present::words;

const WANTED: &str = "Type what stands open, by number or by name, with commas between names, and the way of a three-way \
                      valve with “to”; all else is shut. “none” opens nothing.";

impl Asked for LineupAskedView {
    fn lines(&self) -> Vec<String> {
        asked(self)
    }

    fn prompt(&self) -> String {
        prompt(self)
    }

    fn given(&self, line: &str) -> Result<Given, String> {
        set_up(line, self).map(Given::LinedUp)
    }
}

impl Marked for LineupCheckedView {
    fn lines(&self) -> Vec<String> {
        told(self)
    }

    fn choices(&self) -> &'static str {
        "what stands open is checked again, w shows one that works"
    }

    fn chosen(&self, line: &str) -> Chosen {
        match line {
            "w" => Chosen::Run(vec![Command::Card(CardCommand::ShowRightSetting)]),
            _ => match set_up(line, &self.asked) {
                Ok(set) => Chosen::Run(vec![Command::Card(CardCommand::CheckAgain(set))]),
                Err(message) => Chosen::Unread(wrapped(&message, 0)),
            },
        }
    }
}

/// What stands over the prompt, as lines of text.
fn asked(view: &LineupAskedView) -> Vec<String> {
    let schematic = &view.schematic;
    let mut out = vec!["What there is, and where it leads:".to_owned()];
    out.extend((0..schematic.network.nodes.len()).map(|node| labelled("  ", &leads(schematic, node), 4)));
    out.push("What can be turned, as found:".to_owned());
    for (n, node) in schematic.network.turnable().into_iter().enumerate() {
        out.push(labelled(&format!("  {}", n + 1), &turnable(schematic, node), 5));
    }
    out.push("What the line-up must do:".to_owned());
    out.extend(view.demands.iter().map(|name| labelled("  -", name, 4)));
    out.push(wrapped(WANTED, 0));
    out
}

/// A node, what is in it, and what pipes lead from it to.
fn leads(view: &SchematicView, node: usize) -> String {
    let of = &view.network.nodes[node];
    let mut said = view.known(node);
    let kind = kind_word(of.kind);
    if !said.to_lowercase().contains(kind) {
        said += &format!(", {kind}");
    }
    if let Some(medium) = of.medium {
        said += &format!(", {}", medium_name(medium).to_lowercase());
    }
    if of.fixed {
        let state = view.state(node, &view.found).unwrap_or_default();
        said += &format!(", {state} as found");
    }
    let to: Vec<String> =
        view.network.pipes.iter().filter(|pipe| pipe.from == node).map(|pipe| view.known(pipe.to)).collect();
    if to.is_empty() { said } else { format!("{said} → {}", to.join("; ")) }
}

/// What can be turned, how it is found, and for a three-way valve where it can go.
fn turnable(view: &SchematicView, node: usize) -> String {
    let of = &view.network.nodes[node];
    let state = view.state(node, &view.found).unwrap_or_default();
    match of.ways {
        Some([a, b]) if of.kind == NodeKind::ThreeWay => {
            format!("{}: to {} (a) or to {} (b)", view.known(node), view.known(a), view.known(b))
        }
        _ => format!("{}: {state}", view.known(node)),
    }
}

/// The prompt.
fn prompt(view: &LineupAskedView) -> String {
    let network = &view.schematic.network;
    let three_way = network.turnable().iter().position(|node| network.nodes[*node].kind == NodeKind::ThreeWay);
    match three_way {
        Some(n) => format!("Open, such as 1 2, {} to a: ", n + 1),
        None => "Open, such as 1 2: ".to_owned(),
    }
}

/// The setting that a line gives.
///
/// # Errors
/// Where it gives nothing that the card can be answered with.
fn set_up(line: &str, view: &LineupAskedView) -> Result<LinedUp, String> {
    let schematic = &view.schematic;
    let mut reading = Reading { view: schematic, set: schematic.network.all_shut(), named: Vec::new() };
    let line = line.trim();
    if line.is_empty() {
        return Err(WANTED.to_owned());
    }
    if !["none", "nothing", "all shut", "-"].contains(&line.to_lowercase().as_str()) {
        for clause in line.split([',', ';']).map(str::trim).filter(|clause| !clause.is_empty()) {
            reading.clause(clause)?;
        }
        if reading.named.is_empty() {
            return Err(WANTED.to_owned());
        }
    }
    Ok(schematic.answer(&reading.set))
}

/// A line as far as it has been read.
struct Reading<'a> {
    view: &'a SchematicView,
    set: Setting,
    named: Vec<usize>,
}

impl Reading<'_> {
    /// What stands between two commas: `open 1 3 5 to cooler`, `return valve`, `5b`.
    fn clause(&mut self, clause: &str) -> Result<(), String> {
        // A name may itself hold “to”, or begin with “open”: it comes before what such a word means.
        if let Ok(node) = self.node(clause) {
            return self.open(node);
        }
        if let Some(message) = self.stays(clause) {
            return Err(message);
        }
        let words: Vec<&str> = clause.split_whitespace().filter(|w| !["and", "&", "+"].contains(w)).collect();
        let is_open = |word: &str| word.eq_ignore_ascii_case("open");
        let words = match words.as_slice() {
            [first, rest @ ..] if is_open(first) && !rest.is_empty() => rest,
            [rest @ .., last] if is_open(last) && !rest.is_empty() => rest,
            words => words,
        };
        let turns = (0..words.len()).find(|at| *at > 0 && is_to(words[*at]));
        if let Some(at) = turns {
            let (before, after) = (&words[..at], &words[at + 1..]);
            return self.named_way(before, &after.join(" "));
        }
        self.opened(words)
    }

    /// Words before a “to”: valves that stand open, and last the three-way valve.
    fn named_way(&mut self, before: &[&str], way: &str) -> Result<(), String> {
        // As much as names one thing is the three-way valve, the longest first.
        for at in 0..before.len() {
            if let Ok(node) = self.node(&before[at..].join(" ")) {
                self.opened(&before[..at])?;
                return self.turn(node, way);
            }
        }
        Err(self.unknown(&before.join(" ")))
    }

    /// Valves that stand open, one after the other.
    fn opened(&mut self, words: &[&str]) -> Result<(), String> {
        let mut at = 0;
        while at < words.len() {
            let taken = (at + 1..=words.len()).rev().find_map(|end| {
                let node = self.node(&words[at..end].join(" ")).ok()?;
                Some((node, end))
            });
            if let Some((node, end)) = taken {
                self.open(node)?;
                at = end;
                continue;
            }
            // `5b`: a three-way valve and its way in one.
            let (number, way) =
                words[at].split_at(words[at].len() - words[at].chars().last().map_or(0, char::len_utf8));
            match self.node(number) {
                Ok(node) if ["a", "b", "A", "B"].contains(&way) => self.turn(node, way)?,
                _ => return Err(self.node(&words[at..].join(" ")).err().unwrap_or_else(|| self.unknown(words[at]))),
            }
            at += 1;
        }
        Ok(())
    }

    fn open(&mut self, node: usize) -> Result<(), String> {
        let of = &self.view.network.nodes[node];
        let name = self.view.known(node);
        if of.kind == NodeKind::ThreeWay {
            let ways = of.ways.map_or_else(String::new, |[a, b]| {
                format!(": “{name} to {}” or “{name} to {}”", self.view.name(a), self.view.name(b))
            });
            return Err(format!("{name} is a three-way valve; say to which way{ways}."));
        }
        self.note(node)?;
        self.set.open[node] = true;
        Ok(())
    }

    fn turn(&mut self, node: usize, way: &str) -> Result<(), String> {
        let name = self.view.known(node);
        let Some(ways) = self.view.network.nodes[node].ways else {
            return Err(format!("{name} is no three-way valve; it is open where it is named, and shut where not."));
        };
        let at = match way.to_lowercase().as_str() {
            "a" => Some(0),
            "b" => Some(1),
            way => {
                let fits = |n: &usize| is_like(self.view.name(*n), way) || self.view.network.nodes[*n].key == way;
                let fitting: Vec<usize> = (0..2).filter(|n| fits(&ways[*n])).collect();
                fitting.first().copied().filter(|_| fitting.len() == 1)
            }
        };
        let Some(at) = at else {
            let [a, b] = ways.map(|way| self.view.name(way));
            return Err(format!("“{way}” is no way of {name}; it goes to {a} (a) or to {b} (b)."));
        };
        self.note(node)?;
        self.set.way[node] = Some(at);
        Ok(())
    }

    fn note(&mut self, node: usize) -> Result<(), String> {
        if self.named.contains(&node) {
            return Err(format!("{} stands there twice.", self.view.known(node)));
        }
        self.named.push(node);
        Ok(())
    }

    /// What is meant by a number, a key or a name, or by as much of a name as fits one thing only.
    fn node(&self, text: &str) -> Result<usize, String> {
        let network = &self.view.network;
        let turnable = network.turnable();
        if let Ok(number) = text.parse::<usize>() {
            let node = number.checked_sub(1).and_then(|n| turnable.get(n).copied());
            return node.ok_or_else(|| {
                format!("There is no {number}; what can be turned has the numbers 1 to {}.", turnable.len())
            });
        }
        let exact = |node: &&usize| {
            let same = |name: &str| name.eq_ignore_ascii_case(text);
            same(&network.nodes[**node].key) || same(self.view.name(**node)) || same(&self.view.known(**node))
        };
        let found: Vec<&usize> = turnable.iter().filter(exact).collect();
        let found = if found.is_empty() {
            turnable.iter().filter(|node| is_like(self.view.name(**node), &text.to_lowercase())).collect()
        } else {
            found
        };
        match found.as_slice() {
            [one] => Ok(**one),
            [] => Err(self.unknown(text)),
            several => {
                let known: Vec<String> = several.iter().map(|node| self.view.known(**node)).collect();
                Err(format!("“{text}” may be {}; give its number.", known.join(" or ")))
            }
        }
    }

    fn unknown(&self, text: &str) -> String {
        let nothing = || format!("Nothing that can be turned is called “{text}”. {WANTED}");
        self.stays(text).unwrap_or_else(nothing)
    }

    /// What there is to say of something that cannot be turned.
    fn stays(&self, text: &str) -> Option<String> {
        let network = &self.view.network;
        let is = |node: &usize| self.view.name(*node).eq_ignore_ascii_case(text) || network.nodes[*node].key == text;
        let node = (0..network.nodes.len()).filter(|node| !network.nodes[*node].can_be_turned()).find(is)?;
        let why = if network.nodes[node].fixed { "is fixed as found and cannot" } else { "cannot" };
        Some(format!("{} {why} be turned.", self.view.known(node)))
    }
}

fn is_to(word: &str) -> bool {
    ["to", "=", "→", "->", "on"].contains(&word.to_lowercase().as_str())
}

/// Whether a part of a name is meant: its beginning, or the beginning of one of its words. In small letters.
fn is_like(name: &str, part: &str) -> bool {
    // A single letter fits too much to mean anything, as do words that stand in any name.
    const SAYS_NOTHING: [&str; 7] = ["the", "of", "to", "on", "and", "from", "for"];
    let name = name.to_lowercase();
    part.chars().count() > 1
        && !SAYS_NOTHING.contains(&part)
        && (name.starts_with(part) || name.contains(&format!(" {part}")))
}

/// The marking, as lines of text.
fn told(view: &LineupCheckedView) -> Vec<String> {
    let met = view.demands.iter().filter(|demand| demand.met).count();
    let tally = format!("{met} of {} met", words::count(view.demands.len(), "demand"));
    let mut out = vec![match view.check {
        0 | 1 => format!("First check, which counts: {tally}"),
        n => format!("Check {}: {tally}; the first check counts", words::number(n)),
    }];
    for demand in &view.demands {
        let how = if demand.met { "met" } else { "not met" };
        let text = match demand.reason.as_str() {
            "" => demand.name.clone(),
            reason => format!("{}: {reason}", demand.name),
        };
        out.push(labelled(&format!("  {how}"), &text, 11));
    }
    if view.works() {
        out.push("It works: every demand is met.".to_owned());
    }
    if let Some(right) = &view.right {
        out.push(format!("One that works. {}", right.note).trim_end().to_owned());
        out.extend(right.words.iter().map(|line| wrapped(line, 2)));
    }
    out
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use crate::app::views::kinds::lineup as views;
    use crate::domain::piping::{Demand, Medium, Network, Node, Pipe, Want, prove};
    use crate::present::kinds::lineup::RightSetting;

    /// A tank by a quick-closing valve and a cock to one of two coolers, with a return and a drain that is fixed.
    fn network() -> Network {
        let node = |key: &str, kind, name: &str| Node {
            key: key.to_owned(),
            kind,
            name: name.to_owned(),
            at: None,
            medium: None,
            open: false,
            fixed: false,
            ways: None,
        };
        let pipe = |from, to| Pipe { from, to, via: vec![] };
        let mut network = Network {
            nodes: vec![
                node("tank", NodeKind::Tank, "Service tank"),
                node("qcv", NodeKind::QuickClosing, "Tank outlet"),
                node("cock", NodeKind::ThreeWay, "Cooler cock"),
                node("cooler-one", NodeKind::Cooler, "Cooler 1"),
                node("cooler-two", NodeKind::Cooler, "Cooler 2"),
                node("return", NodeKind::ScrewDownNonReturn, "To the tank"),
                node("drain", NodeKind::Valve, "Drain"),
                node("vent", NodeKind::Valve, "Tank vent"),
            ],
            pipes: vec![pipe(0, 1), pipe(1, 2), pipe(2, 3), pipe(2, 4), pipe(3, 5), pipe(4, 5), pipe(5, 0), pipe(0, 6)],
            demands: vec![
                Demand { name: "Through cooler 2 and back".to_owned(), want: Want::Flow(vec![0, 4, 0]) },
                Demand { name: "Nothing to cooler 1".to_owned(), want: Want::Never([0, 3]) },
            ],
        };
        network.nodes[0].medium = Some(Medium::FuelOil);
        network.nodes[2].ways = Some([3, 4]);
        network.nodes[6].fixed = true;
        network
    }

    fn read(line: &str) -> Result<LinedUp, String> {
        set_up(line, &views::asked(&network()))
    }

    fn set(open: &[&str], way: Option<&str>) -> LinedUp {
        let ways: BTreeMap<_, _> = way.map(|way| ("cock".to_owned(), way.to_owned())).into_iter().collect();
        LinedUp { open: open.iter().map(|key| (*key).to_owned()).collect(), ways }
    }

    #[test]
    fn an_answer_is_read_from_numbers_names_and_keys() {
        let both = Ok(set(&["qcv", "return"], Some("cooler-two")));
        for line in [
            "1 3, 2 to cooler 2",
            "1 3 2 to b",
            "open 1 3 2b",
            "qcv, to the tank, cock to cooler-two",
            "Tank outlet; To the tank; Cooler cock to Cooler 2",
            "tank outlet open, 3 and 2 = B",
            "return qcv cock -> cooler 2",
        ] {
            assert_eq!(read(line), both, "{line}");
        }
        assert_eq!(read("outlet"), Ok(set(&["qcv"], None)), "as much of a name as fits one thing only");
        assert_eq!(read("none"), Ok(set(&[], None)));
        assert_eq!(read("2 to a"), Ok(set(&[], Some("cooler-one"))));
    }

    #[test]
    fn what_cannot_be_read_says_why() {
        for (line, says) in [
            ("", "Type what stands open"),
            (",", "Type what stands open"),
            ("9", "numbers 1 to 4"),
            ("0", "There is no 0"),
            ("2", "Cooler cock is a three-way valve; say to which way: “Cooler cock to Cooler 1”"),
            ("2 to drain", "“drain” is no way of Cooler cock"),
            ("1 to b", "Tank outlet is no three-way valve"),
            ("1, outlet", "Tank outlet stands there twice"),
            ("drain", "Drain is fixed as found"),
            ("cooler 1", "Cooler 1 cannot be turned"),
            ("ta", "“ta” may be Tank outlet or To the tank or Tank vent"),
            ("the moon", "called “the moon”"),
        ] {
            let error = read(line).expect_err(line);
            assert!(error.contains(says), "{line}: {error}");
        }
    }

    #[test]
    fn everything_is_listed_with_what_it_leads_to() {
        let text = asked(&views::asked(&network())).join("\n");
        for part in [
            "  Service tank, fuel oil → Tank outlet; Drain",
            "  Tank outlet, quick-closing valve → Cooler cock",
            "  Drain, valve, shut, fixed as found",
            "  1  Tank outlet: shut",
            "  2  Cooler cock: to Cooler 1 (a) or to Cooler 2 (b)",
            "  - Nothing to cooler 1",
        ] {
            assert!(text.contains(part), "no “{part}” in:\n{text}");
        }
        assert_eq!(prompt(&views::asked(&network())), "Open, such as 1 2, 2 to a: ");
    }

    #[test]
    fn a_check_is_told_demand_by_demand_with_what_is_wrong() {
        let network = network();
        let set = network.setting_of(&set(&["qcv"], Some("cooler-one"))).expect("it is one");
        let right = prove(&network).ok().map(|proof| RightSetting::of(&network, proof));
        let text = told(&views::checked(&network, set, 2, right, false)).join("\n");
        let wanted = "Check two: 0 of 2 demands met; the first check counts\n  \
                      not met  Through cooler 2 and back: Cooler cock stands to Cooler 1 and To\n           the tank is shut\n  \
                      not met  Nothing to cooler 1: it flows by Tank outlet and Cooler cock\n\
                      One that works. One of 2, with the fewest open.\n  \
                      Open: Tank outlet, To the tank\n  Cooler cock to Cooler 2\n  Shut: Tank vent";
        assert_eq!(text, wanted);
    }
}
