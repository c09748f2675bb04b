//! A working in the terminal: lines such as `A = pi * D^2 / 4` are worked out and echoed as they come, anything else is
//! the answer. After the marking a second try, the model working, and fresh figures.

use std::io::{BufRead, Write};

use crate::app::program::Program;
use crate::app::program::command::{CardCommand, Command, OralCommand};
use crate::app::sheet::EditWorksheet;
use crate::cli::face::{Face, Heard, Next, card_of};
use crate::cli::kinds::kind::{Asked, Chosen, Marked};
use crate::cli::said::{Said, said};
use crate::cli::say::{labelled, printable, wrapped};
use crate::domain::answer::{Given, Worked};
use crate::present::kinds::AskedView;
use crate::present::kinds::working::{MarkedLine, Round, TryView, WorkingAskedView, WorkingMarkedView};
use crate::present::stage::Stage;
use crate::present::worksheet::{LineResult, ValueView, WorkLine};
use crate::present::{Tone, WatchCardView};

const HELP: &str = "A line with `=` goes on the worksheet, such as `A = pi * D^2 / 4`; `= expression` needs no name. Anything else is the answer.\n\
    take takes the last value as the answer    list lists the lines    undo takes the last line away";

impl Asked for WorkingAskedView {
    fn lines(&self) -> Vec<String> {
        asked(self)
    }

    /// The figures are the program's to add.
    fn given(&self, line: &str) -> Result<Given, String> {
        Ok(Given::Worked(Worked { text: line.to_owned(), ..Worked::default() }))
    }

    fn worksheet(&self) -> Option<&WorkingAskedView> {
        Some(self)
    }
}

impl Marked for WorkingMarkedView {
    fn lines(&self) -> Vec<String> {
        told(self)
    }

    fn choices(&self) -> &'static str {
        match (self.may_try_again, self.practice) {
            (true, _) => "t tries again, m shows a model working, n asks with fresh figures",
            (_, true) => "m shows a model working, n asks with fresh figures, b goes back",
            _ => "m shows a model working, n asks with fresh figures",
        }
    }

    fn chosen(&self, line: &str) -> Chosen {
        match line {
            "t" if self.may_try_again => Chosen::Work(Command::Card(CardCommand::TryAgain)),
            "n" => Chosen::Work(Command::Card(CardCommand::FreshFigures)),
            "m" => Chosen::Work(Command::Card(CardCommand::ShowMethod)),
            "b" if self.practice => Chosen::Work(Command::Card(CardCommand::BackToMarking)),
            _ => Chosen::Nothing,
        }
    }
}

/// What is given, and how to go about it, as lines of text.
fn asked(view: &WorkingAskedView) -> Vec<String> {
    let mut out = vec!["Given:".to_owned()];
    let names = view.givens.iter().map(|g| g.symbol.chars().count()).max().unwrap_or_default();
    for given in &view.givens {
        let figure = format!("{} {}", given.number, given.unit);
        let text = format!("{:names$} = {}  ({})", given.symbol, figure.trim_end(), given.name);
        out.push(wrapped_line(&text));
    }
    out.extend(view.before.iter().map(|t| wrapped(&spoken(t), 0)));
    match view.round {
        Round::First => {}
        Round::Second => {
            out.push("The second try, on the same figures. A right answer now counts as prompted.".to_owned())
        }
        Round::Practice => out.push("Fresh figures, for practice: what you answer here changes no outcome.".to_owned()),
    }
    out.push(wrapped(&view.hint, 0));
    out
}

/// Two spaces and the text as it is, so that columns stay columns.
fn wrapped_line(text: &str) -> String {
    format!("  {}", printable(text))
}

fn spoken(one: &TryView) -> String {
    format!("{} {}", one.words, one.note).trim_end().to_owned()
}

/// What a new line comes to: its value, or what is wrong with it and where.
fn echoed(number: usize, line: &WorkLine) -> Vec<String> {
    match &line.result {
        LineResult::Value(value) => {
            let name = line.text.split_once('=').map(|(name, _)| format!("{} = ", name.trim())).unwrap_or_default();
            let mut out = vec![labelled(&format!("  {number}"), &format!("{name}{}", value.words()), 5)];
            if !line.note.is_empty() {
                out.push(wrapped(&line.note, 5));
            }
            out
        }
        LineResult::Wrong { words, place, .. } => {
            let mut out = vec![format!("     {}", printable(&line.text))];
            if let Some(place) = place {
                let marks = "^".repeat(place.len().max(1));
                out.push(format!("     {}{marks}", " ".repeat(place.start)));
            }
            out.push(wrapped(words, 5));
            out
        }
        LineResult::Nothing | LineResult::Pending => Vec::new(),
    }
}

/// The marking, as lines of text.
fn told(view: &WorkingMarkedView) -> Vec<String> {
    let mut out = Vec::new();
    for (n, line) in view.lines.iter().enumerate() {
        out.push(labelled(&format!("  {}", n + 1), &marked_line(line), 5));
        if line.tone != Tone::Good && !line.words.is_empty() {
            out.push(wrapped(&line.words, 9));
        }
    }
    out.extend(view.tries.iter().map(|t| wrapped(&spoken(t), 0)));
    if let Some(expected) = &view.expected {
        out.push(wrapped(&format!("The right answer: {expected}."), 0));
    }
    if let Some(method) = &view.method {
        out.push("A model working, with these figures:".to_owned());
        for (n, line) in method.iter().enumerate() {
            let text = format!("{}{} {}", line.text, valued(Some(&line.value)), line.yours);
            out.push(labelled(&format!("  {}", n + 1), text.trim_end(), 5));
        }
    }
    if view.practice {
        out.push("That was practice. What counts stands as it was:".to_owned());
    }
    out
}

fn marked_line(line: &MarkedLine) -> String {
    let word = match line.tone {
        Tone::Good => " (right)",
        Tone::Bad => " (wrong)",
        _ => "",
    };
    format!("{}{}{word}", line.text, valued(line.value.as_ref()))
}

fn valued(value: Option<&ValueView>) -> String {
    value.map_or_else(String::new, |v| format!(" → {}", v.words()))
}

impl<R: BufRead, W: Write> Face<R, W> {
    /// Asks for lines and the answer until one is handed in, the card is put away, or the watch is left.
    pub(in crate::cli) fn work(&mut self, card: &WatchCardView, view: &WorkingAskedView) -> std::io::Result<Next> {
        self.lines(asked(view))?;
        if view.round == Round::First {
            writeln!(self.out, "{HELP}")?;
        }
        let mut lines: Vec<String> =
            view.sheet.lines.iter().map(|l| l.text.clone()).filter(|l| !l.is_empty()).collect();
        self.list(&lines)?;
        loop {
            let typed = match self.hear(card, &format!("Line {} or the answer: ", lines.len() + 1), HELP)? {
                Heard::Line(line) => line,
                Heard::Done => continue,
                Heard::Over(next) => return Ok(next),
            };
            let answer = match said(&typed) {
                Said::Answer if typed == "-" && card.in_oral => {
                    self.app.handle(Command::Oral(OralCommand::NothingToSay));
                    return Ok(Next::Card);
                }
                Said::Answer if typed.is_empty() => {
                    writeln!(self.out, "{HELP}")?;
                    continue;
                }
                Said::List => {
                    self.list(&lines)?;
                    continue;
                }
                Said::Undo => {
                    lines.pop();
                    self.list(&lines)?;
                    continue;
                }
                Said::Take => match self.worked_out(&lines).iter().rev().find_map(|l| l.result.value()) {
                    Some(value) => value.taken.clone(),
                    None => {
                        writeln!(self.out, "No line has a value yet.")?;
                        continue;
                    }
                },
                Said::Answer if typed.contains('=') => {
                    let line = typed.strip_prefix('=').unwrap_or(&typed).trim().to_owned();
                    lines.push(line);
                    let worked_out = self.worked_out(&lines);
                    if let Some(last) = worked_out.get(lines.len() - 1) {
                        self.lines(echoed(lines.len(), last))?;
                        if last.result.value().is_none() {
                            lines.pop();
                        }
                    }
                    continue;
                }
                _ => typed,
            };
            self.app.handle(Command::Card(CardCommand::Submit(Given::Worked(Worked {
                text: answer,
                lines: lines.clone(),
                ..Worked::default()
            }))));
            self.app.settle();
            let shell = self.app.view();
            let handed_in = card_of(&shell.view).is_some_and(|card| card.stage.is_marked());
            if handed_in {
                return Ok(Next::Card);
            }
            self.notice()?;
        }
    }

    /// Has the lines worked out.
    fn worked_out(&mut self, lines: &[String]) -> Vec<WorkLine> {
        let work = EditWorksheet { lines: lines.to_vec(), answer: String::new(), entered: lines.last().cloned() };
        self.app.handle(Command::EditWorksheet(work));
        self.app.settle();
        match card_of(&self.app.view().view).map(|card| &card.stage) {
            Some(Stage::Asked(AskedView::Working(view))) => view.sheet.lines.clone(),
            _ => Vec::new(),
        }
    }

    fn list(&mut self, lines: &[String]) -> std::io::Result<()> {
        if lines.is_empty() {
            return Ok(());
        }
        let told = self.worked_out(lines).into_iter().enumerate();
        let told = told.map(|(n, line)| {
            labelled(&format!("  {}", n + 1), &format!("{}{}", line.text, valued(line.result.value())), 5)
        });
        self.lines(told.collect())
    }

    /// Carries out what was chosen after the marking; where that opens the worksheet again, works on it.
    pub(in crate::cli) fn work_again(&mut self, card: &WatchCardView, command: Command) -> std::io::Result<Next> {
        self.app.handle(command);
        let shell = self.app.view();
        match card_of(&shell.view).map(|now| (&now.ask, &now.stage)) {
            Some((ask, Stage::Asked(AskedView::Working(asked)))) => {
                if asked.round == Round::Practice {
                    writeln!(self.out, "{}", wrapped(ask, 0))?;
                }
                self.work(card, asked)
            }
            _ => Ok(Next::Card),
        }
    }
}
