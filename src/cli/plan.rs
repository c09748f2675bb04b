//! `bedplate plan`: the plan to the oral, as text and JSON.

use std::path::PathBuf;
use std::process::ExitCode;

use serde_json::json;

use crate::app::command::Command;
use crate::app::program::Program;
use crate::app::route::Route;
use crate::cli::cannot;
use crate::cli::oral::opened;
use crate::present::View;
use crate::present::plan::{PlanState, ReadyPlan};

/// Prints the plan.
pub fn run(dir: Option<PathBuf>, minutes: Option<u32>, is_json: bool) -> ExitCode {
    let mut app = match opened(dir) {
        Ok(app) => app,
        Err(code) => return code,
    };
    app.handle(Command::Go(Route::Plan));
    if let Some(minutes) = minutes {
        app.handle(Command::PlanWith(minutes));
    }
    app.settle();
    let shell = app.view();
    let View::Plan(view) = &shell.view else { return cannot("the profile could not be read") };
    match &view.state {
        PlanState::Ready(plan) if is_json => print_json(view.minutes, view.recall_target, plan),
        PlanState::Ready(plan) => print_text(plan),
        PlanState::Upkeep(sentence, _) if is_json => println!("{:#}", json!({ "plan": null, "why": sentence })),
        PlanState::Upkeep(sentence, _) => println!("{sentence}"),
        PlanState::Over(day) => {
            println!("The oral was on {day}. Tell what came of it in the window, on the page Plan.")
        }
        PlanState::Working(_) | PlanState::Stopped => return cannot("the plan could not be worked out"),
    }
    ExitCode::SUCCESS
}

fn print_json(minutes: u32, target: f64, plan: &ReadyPlan) {
    // Null, with the reason beside it, while there is not enough to say one.
    let chance: Option<Vec<_>> = plan.range.is_some().then(|| {
        let point = |(day, low, middle, high): &(u32, f64, f64, f64)| {
            json!({ "in_days": day, "low": low, "middle": middle, "high": high })
        };
        plan.chance.iter().map(point).collect()
    });
    let costs: Vec<_> = plan.costs.iter().map(|(name, cost)| json!({ "competence": name, "cost": cost })).collect();
    let out = json!({
        "days": plan.days, "minutes_a_day": minutes, "made": plan.made, "short_of_time": plan.short,
        "chance": chance, "chance_missing": plan.range.is_none().then_some(&plan.when),
        "recall_target": target, "load_minutes": plan.load, "costs": costs, "more": plan.more,
    });
    println!("{out:#}");
}

fn print_text(plan: &ReadyPlan) {
    let today = plan.today.as_ref().map(|today| format!("; {today}")).unwrap_or_default();
    match &plan.range {
        Some(range) => {
            println!("{} days to the {}. Chance of passing {range} {}{today}.", plan.days, plan.oral, plan.when)
        }
        None => println!("{} days to the {}. Chance of passing: not yet. {}", plan.days, plan.oral, plan.when),
    }
    println!("{}\n{}", plan.made, plan.more);
    if let Some(short) = &plan.short {
        println!("{short}");
    }
    for (name, cost) in &plan.costs {
        println!("  {name} {cost}");
    }
    println!("Minutes of each day:");
    for week in plan.load.chunks(7) {
        let minutes: Vec<String> = week.iter().map(|m| format!("{m:>4.0}")).collect();
        println!(" {}", minutes.join(""));
    }
}
