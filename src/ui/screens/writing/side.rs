//! Beside the card in hand: problems in sentences, sample answers, what learners say.

use eframe::egui::{Align2, Ui, pos2, vec2};

use crate::app::program::command::{Command, WritingCommand};
use crate::present::words;
use crate::present::writing::{ReportRow, SampleRow, Worked, WriteDeskView, WrittenProblem};
use crate::ui::keys;
use crate::ui::kit::{self, Mark, key_button, label_in, list_rule, mark, paint};
use crate::ui::screens::writing::heads::part_head;
use crate::ui::theme::measure::{S4, S8, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// Problems that are opened by a digit.
const BY_DIGIT: usize = 9;

/// Draws what stands beside the card in hand: its own problems, its samples, what learners say, and last the problems that
/// are not its own.
pub(super) fn side_ui(ui: &mut Ui, view: &WriteDeskView) -> Option<Command> {
    let own = view.problems.iter().take_while(|problem| problem.of.is_none()).count();
    let (of_card, elsewhere) = view.problems.split_at(own);
    let note = |problems: &[WrittenProblem]| match problems.len() {
        0 => "none".to_owned(),
        many => many.to_string(),
    };
    let of_card_note = if view.reading { String::new() } else { note(of_card) };
    part_head(ui, "Problems of this card", &of_card_note);
    let mut command = problems_ui(ui, of_card, 0);
    ui.add_space(S16);
    samples_ui(ui, &view.samples);
    if !view.reports.is_empty() || view.reports_elsewhere > 0 {
        ui.add_space(S16);
        command = reports_ui(ui, view).or(command);
    }
    if !elsewhere.is_empty() {
        ui.add_space(S16);
        part_head(ui, "Problems elsewhere", &note(elsewhere));
        command = problems_ui(ui, elsewhere, own).or(command);
    }
    ui.add_space(S16);
    command
}

/// Problems as sentences, each with its way to the line; the first ones of the page by a digit. `first` is which of the page
/// the first of these is, from 0.
pub(super) fn problems_ui(ui: &mut Ui, problems: &[WrittenProblem], first: usize) -> Option<Command> {
    let p = theme::palette(ui);
    let mut command = None;
    let mut of: Option<&String> = None;
    for (at, problem) in (first..).zip(problems) {
        if problem.of.as_ref() != of {
            of = problem.of.as_ref();
            if let Some(of) = of {
                ui.add_space(S8);
                let quiet = theme::palette(ui).ink_second;
                ui.add(eframe::egui::Label::new(kit::job(of, Size::Small, Cut::Semi, quiet)).truncate());
            }
        }
        ui.add_space(S8);
        ui.horizontal_top(|ui| {
            let (_, place) = ui.allocate_space(vec2(S24 - S4, theme::line_height(Size::Label)));
            let tone = theme::tone(ui, problem.severity.tone());
            mark(ui.painter(), pos2(place.left() + S8, place.center().y), Mark::WedgeDown, tone);
            ui.vertical(|ui| {
                label_in(ui, ui.available_width(), &problem.what, Size::Label, Cut::Regular, p.ink);
                if !problem.mend.is_empty() {
                    label_in(ui, ui.available_width(), &problem.mend, Size::Label, Cut::Italic, p.ink_second);
                }
                if open_ui(ui, problem, at) {
                    let WrittenProblem { file, line, .. } = problem.clone();
                    command = Some(Command::Writing(WritingCommand::OpenAt { file, line }));
                }
            });
        });
        list_rule(ui);
    }
    command
}

/// The severity in a word, and the way to the line.
fn open_ui(ui: &mut Ui, problem: &WrittenProblem, at: usize) -> bool {
    let (_, row) = ui.allocate_space(vec2(ui.available_width(), S24));
    let tone = theme::tone(ui, problem.severity.tone());
    paint(
        ui.painter(),
        row.left_center(),
        Align2::LEFT_CENTER,
        problem.severity.word(),
        Size::Label,
        Cut::Regular,
        tone,
    );
    let word = format!("open at line {}", problem.line);
    let name = format!("Open {} at line {}: {}", problem.file, problem.line, problem.what);
    if at >= BY_DIGIT {
        let response = kit::word_button(ui, row.right_center(), &word, &name);
        return response.clicked();
    }
    let hot = keys::digit(at + 1);
    if at == 0 {
        keys::offer(ui.ctx(), hot, "Open the first problem’s file at its line; 2 the second’s, and so on");
    }
    let (response, _) = ui.push_id(at, |ui| key_button(ui, row.right_center(), &word, hot, &name, true)).inner;
    response.clicked() || keys::take(ui, hot)
}

fn samples_ui(ui: &mut Ui, samples: &Worked<Vec<SampleRow>>) {
    let p = theme::palette(ui);
    let note = match samples {
        Worked::Done(rows) if rows.is_empty() => "none".to_owned(),
        Worked::Done(rows) => rows.len().to_string(),
        _ => String::new(),
    };
    part_head(ui, "Sample answers", &note);
    let quiet = |ui: &mut Ui, words: &str| {
        label_in(ui, ui.available_width(), words, Size::Label, Cut::Regular, p.ink_second);
    };
    match samples {
        Worked::Pending => quiet(ui, "They are being marked …"),
        Worked::Failed(why) => quiet(ui, why),
        Worked::Done(rows) if rows.is_empty() => quiet(ui, "Answer the card, then make a sample of the answer."),
        Worked::Done(rows) => rows.iter().for_each(|row| sample_ui(ui, row)),
    }
}

fn sample_ui(ui: &mut Ui, sample: &SampleRow) {
    let p = theme::palette(ui);
    ui.add_space(S4);
    let is_right = sample.otherwise.is_empty();
    label_in(ui, ui.available_width(), &sample.answer, Size::Label, Cut::Regular, p.ink);
    ui.horizontal_top(|ui| {
        let (_, place) = ui.allocate_space(vec2(S24 - S4, theme::line_height(Size::Label)));
        let (shape, color) = if is_right { (Mark::Tick, p.sea) } else { (Mark::WedgeDown, p.red_lead) };
        mark(ui.painter(), pos2(place.left() + S8, place.center().y), shape, color);
        ui.vertical(|ui| {
            let words = match is_right {
                true => format!("meant: {}; comes to it", sample.meant),
                false => format!("meant: {}; comes out otherwise: {}", sample.meant, sample.otherwise),
            };
            label_in(ui, ui.available_width(), &words, Size::Label, Cut::Regular, p.ink_second);
        });
    });
    list_rule(ui);
}

fn reports_ui(ui: &mut Ui, view: &WriteDeskView) -> Option<Command> {
    let p = theme::palette(ui);
    part_head(ui, "From learners", &words::count(view.reports.len(), "report"));
    let first = view.reports.iter().position(|report| report.answered);
    let mut command = None;
    for (at, report) in view.reports.iter().enumerate() {
        if ui.push_id(("report", at), |ui| report_ui(ui, report, first == Some(at))).inner {
            command = Some(Command::Writing(WritingCommand::TryReported(at)));
        }
    }
    if view.reports_elsewhere > 0 {
        ui.add_space(S4);
        let words = format!("{} on other cards of this deck.", words::count(view.reports_elsewhere, "report"));
        label_in(ui, ui.available_width(), &words, Size::Label, Cut::Regular, p.ink_second);
    }
    command
}

/// A report; true where a sample is to be made of its answer. The first that has one has a key.
fn report_ui(ui: &mut Ui, report: &ReportRow, is_first: bool) -> bool {
    let p = theme::palette(ui);
    ui.add_space(S4);
    label_in(ui, ui.available_width(), &format!("“{}”", report.note), Size::Label, Cut::Regular, p.ink);
    label_in(ui, ui.available_width(), &report.when, Size::Small, Cut::Regular, p.ink_second);
    let mut made = false;
    if report.answered {
        let words = format!("Had answered: {}", report.answer);
        label_in(ui, ui.available_width(), &words, Size::Label, Cut::Italic, p.ink_second);
        let (_, row) = ui.allocate_space(vec2(ui.available_width(), S24));
        let name = format!("Make a sample of this answer: {}", report.answer);
        let hot = keys::letter('M');
        made = if is_first {
            keys::offer(ui.ctx(), hot, "Make a sample of the first answer that learners sent");
            let (response, _) = key_button(ui, row.right_center(), "make a sample of it", hot, &name, true);
            response.clicked() || keys::take(ui, hot)
        } else {
            kit::word_button(ui, row.right_center(), "make a sample of it", &name).clicked()
        };
    }
    list_rule(ui);
    made
}
