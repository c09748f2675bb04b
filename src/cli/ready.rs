//! `bedplate ready`: the competence table and the chance of passing, as text or JSON.

use std::path::PathBuf;
use std::process::ExitCode;

use serde_json::json;

use crate::app::jobs::outlook;
use crate::app::profile::opening::{self, Profile, Ready, worth_saying};
use crate::app::views::competence::{chance, view};
use crate::cli::out::{self, cannot};
use crate::cli::profile;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::readiness::Chance;
use crate::present::competence::{CostRow, asked_words, figure, needs_words};
use crate::present::words;

/// Prints where the learner stands: today and on `on` (a date such as 2026-12-24), or on the day of their oral.
pub fn run(dir: Option<PathBuf>, on: Option<&str>, is_json: bool) -> ExitCode {
    let clock = profile::system_clock();
    let now = clock();
    let setup = match profile::setup(dir, clock) {
        Ok(setup) => setup,
        Err(error) => return cannot(error),
    };
    let mut ready = match opening::open_or_read(&setup, now) {
        Ok(ready) => ready,
        Err(error) => return cannot(error),
    };
    let today = ready.profile.learner.day(now);
    if let Some(text) = on {
        match words::read_date(text, today).filter(|day| *day >= today) {
            Some(day) => ready.profile.learner.settings.oral = Some(day),
            None => return cannot(format!("`{text}` is no day from today on. Write it as 2026-12-24")),
        }
    }
    let code = print(&ready, now, today, is_json);
    let Ready { profile: Profile { store, .. }, mut notices, .. } = ready;
    notices.extend(store.close().iter().filter(|n| worth_saying(n)).map(ToString::to_string));
    profile::tell(&notices);
    code
}

fn print(ready: &Ready, now: Instant, today: StudyDay, is_json: bool) -> ExitCode {
    let learner = &ready.profile.learner;
    let outlook = match outlook::work_out(&ready.profile.store, learner, &ready.shelf, today) {
        Ok(outlook) => outlook,
        Err(error) => return cannot(error),
    };
    let table = view(learner, &ready.shelf, Ok(Some(&outlook)), now);
    if is_json {
        // Null, with the reason beside it, while there is not enough to say one.
        let range = |chance: Chance| {
            chance.range().map(|range| json!({ "low": range.low, "middle": range.middle, "high": range.high }))
        };
        let missing = outlook.on_day.unwrap_or(outlook.today).needs().map(|needs| needs_words(&needs));
        let rows: Vec<_> = table.bands.iter().flat_map(|band| &band.rows).collect();
        let competences: Vec<_> = rows
            .iter()
            .map(|row| {
                json!({
                    "competence": row.key, "title": row.title, "met": row.met, "required": row.required,
                    "recall_today": row.today, "recall_on_day": row.on_day, "last_oral_mark": row.mark, "weak": row.weak,
                })
            })
            .collect();
        let costs: Vec<_> =
            outlook.costs.iter().map(|of| json!({ "competence": of.competence, "cost": of.cost })).collect();
        let out = json!({
            "chance_today": range(outlook.today), "chance_on_day": outlook.on_day.and_then(range),
            "chance_missing": missing, "recall_target": learner.settings.recall_target,
            "unseen": outlook.unseen, "cards": outlook.cards, "costs": costs, "competences": competences,
        });
        return out::ended(out::line(format_args!("{out:#}")), ExitCode::SUCCESS);
    }
    let said = chance(&outlook, learner.settings.oral.filter(|day| *day > today));
    let mut text = match &said.range {
        Some(range) => format!("Chance of passing: {range} {}. {}\n", said.when, said.behind),
        None => format!("Chance of passing: not yet. {} {}\n", said.when, said.behind),
    };
    for CostRow { area, cost } in &said.costs {
        text += &format!("  {area} {cost}\n");
    }
    for band in &table.bands {
        text += &format!("\n{}\n", band.title);
        for row in &band.rows {
            let weak = if row.weak { ", weak" } else { "" };
            text += &format!(
                "  {}: {}, recall of these today {}, on the day {}, last oral {}{weak}\n",
                row.title,
                asked_words(row.met, row.required),
                figure(row.today),
                figure(row.on_day),
                figure(row.mark)
            );
        }
    }
    out::ended(out::all(text.as_bytes()), ExitCode::SUCCESS)
}
