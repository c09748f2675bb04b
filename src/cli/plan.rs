//! `bedplate plan`: the plan to the oral, as text and JSON.

use std::path::PathBuf;
use std::process::ExitCode;

use serde_json::json;

use crate::app::program::Program;
use crate::app::program::command::{Command, PlanCommand};
use crate::app::program::route::Route;
use crate::cli::oral::opened;
use crate::cli::out::{self, cannot};
use crate::present::View;
use crate::present::competence::CostRow;
use crate::present::plan::{ChancePoint, PlanState, ReadyPlan};

/// Prints the plan.
pub fn run(dir: Option<PathBuf>, minutes: Option<u32>, is_json: bool) -> ExitCode {
    let mut app = match opened(dir) {
        Ok(app) => app,
        Err(code) => return code,
    };
    app.handle(Command::Go(Route::Plan));
    if let Some(minutes) = minutes {
        app.handle(Command::Plan(PlanCommand::TryMinutes(minutes)));
    }
    app.settle();
    let shell = app.view();
    let View::Plan(view) = &shell.view else { return cannot("the profile could not be read") };
    let text = match &view.state {
        PlanState::Ready(plan) if is_json => json_text(view.minutes, view.recall_target, plan),
        PlanState::Ready(plan) => text(plan),
        PlanState::Upkeep { sentence, .. } if is_json => format!("{:#}\n", json!({ "plan": null, "why": sentence })),
        PlanState::Upkeep { sentence, .. } => format!("{sentence}\n"),
        PlanState::Over(day) => {
            format!("The oral was on {day}. Tell what came of it in the window, on the page Plan.\n")
        }
        PlanState::Working(_) | PlanState::Stopped => return cannot("the plan could not be worked out"),
    };
    out::ended(out::all(text.as_bytes()), ExitCode::SUCCESS)
}

fn json_text(minutes: u32, target: f64, plan: &ReadyPlan) -> String {
    // Null, with the reason beside it, while there is not enough to say one.
    let chance: Option<Vec<_>> = plan.range.is_some().then(|| {
        let point =
            |on: &ChancePoint| json!({ "in_days": on.in_days, "low": on.low, "middle": on.middle, "high": on.high });
        plan.chance.iter().map(point).collect()
    });
    let costs: Vec<_> = plan.costs.iter().map(|of| json!({ "competence": of.area, "cost": of.cost })).collect();
    let out = json!({
        "days": plan.days, "minutes_a_day": minutes, "made": plan.made, "short_of_time": plan.short,
        "chance": chance, "chance_missing": plan.range.is_none().then_some(&plan.when),
        "recall_target": target, "load_minutes": plan.load, "costs": costs, "more": plan.more,
    });
    format!("{out:#}\n")
}

fn text(plan: &ReadyPlan) -> String {
    let today = plan.today.as_ref().map(|today| format!("; {today}")).unwrap_or_default();
    let mut text = match &plan.range {
        Some(range) => {
            format!("{} days to the {}. Chance of passing {range} {}{today}.\n", plan.days, plan.oral, plan.when)
        }
        None => format!("{} days to the {}. Chance of passing: not yet. {}\n", plan.days, plan.oral, plan.when),
    };
    text += &format!("{}\n{}\n", plan.made, plan.more);
    if let Some(short) = &plan.short {
        text += &format!("{short}\n");
    }
    for CostRow { area, cost } in &plan.costs {
        text += &format!("  {area} {cost}\n");
    }
    text += "Minutes of each day:\n";
    for week in plan.load.chunks(7) {
        let minutes: Vec<String> = week.iter().map(|m| format!("{m:>4.0}")).collect();
        text += &format!(" {}\n", minutes.join(""));
    }
    text
}
