//! Commands are carried out here: one function for each, in a file for each part of the program.

mod clock;
mod kinds;
mod knowing;
mod library;
pub(super) mod oral;
mod places;
mod plan;
pub(crate) mod report;
mod settings;
mod sheet;
mod sound;
mod watch;

use crate::app::program::app::App;
use crate::app::program::command::Command;
use crate::domain::settings::Settings;
use crate::store::Store;

impl App {
    /// Carries out one command. What cannot be done is said on the notice line; nothing panics and nothing is lost.
    pub fn handle(&mut self, command: Command) {
        self.shown = None;
        if self.may_run(&command) {
            self.noticing(command);
        }
    }

    /// Carries out a command; a notice that it mends or puts away goes.
    fn noticing(&mut self, command: Command) {
        let which = std::mem::discriminant(&command);
        let puts_away = matches!(
            command,
            Command::Go(_)
                | Command::DismissNotice
                | Command::OpenProfile(_)
                | Command::NewProfile(_)
                | Command::RestoreBackup
                | Command::StartAfresh
                | Command::RetryOpen
                | Command::ForgetTraining
        );
        let before = self.notices.shown.take();
        self.carry_out(command);
        self.notices.carried_out(which, puts_away, before);
    }

    /// An answer could not be kept.
    fn fail_to_keep(&mut self, error: &dyn std::error::Error) {
        self.fail(error);
        self.notices.note_not_kept();
    }

    fn carry_out(&mut self, command: Command) {
        match command {
            Command::Go(route) => self.go(route),
            Command::FinishFirstRun { certificate, oral, minutes, watch } => {
                self.change_settings(|s| {
                    (s.certificate, s.oral, s.minutes, s.first_run_done) = (certificate, oral, minutes, true);
                });
                self.finish_first_run(watch);
            }
            Command::StandWatch { shorter } => self.stand_watch(shorter),
            Command::LeaveWatch => self.leave_watch(),
            Command::ShowPoints => self.submit(crate::domain::answer::Given::Said(Vec::new())),
            Command::Submit(given) => self.submit(given),
            Command::Tick(point) => self.tick(point),
            Command::SetNotch(_) if !self.told().notch => {}
            Command::SetNotch(notch) => self.set_notch(notch),
            Command::TrainMemory => self.train_memory(),
            Command::StopTraining => self.jobs.training.stop(),
            Command::ForgetTraining => self.forget_training(),
            Command::PlanWith(minutes) => self.plan_with(minutes),
            Command::KeepPlan => self.keep_plan(),
            Command::StopPlan => self.jobs.plan.stop(),
            Command::TellResult(passed) => self.tell_result(passed),
            Command::StudyCompetence(competence) => self.study_competence(&competence),
            Command::StudyCards(cards) => self.study(&cards),
            Command::WriteProgress(form) => self.write_progress(form),
            Command::WriteReport(form) => self.write_report(form),
            Command::DrawFor(place) => self.jobs.picture.draw_for(place),
            Command::Accept if self.in_oral() => self.accept_turn(),
            Command::Accept => self.accept(),
            Command::TakeBack => self.take_back(),
            Command::BeginOral(choice) => self.begin_oral(choice, None),
            Command::GoOnWithOral(way) => self.go_on_with_oral(way),
            Command::LeaveOral => self.leave_oral(),
            Command::BreakOffOral => self.break_off_oral(),
            Command::ResumeOral(id, way) => self.resume_oral(&id, way),
            Command::PauseOral(pause) => self.pause_oral(pause),
            Command::AnswerBy(way) => self.set_way(way),
            Command::FinishSpeaking => self.finish_speaking(),
            Command::RunDry => self.run_dry(),
            Command::ReadAgain => self.read_again(),
            Command::HearAgain => self.hear_again(),
            Command::HearTurn(turn) => self.hear_turn(turn),
            Command::SetReadAloud(on) => self.change_settings(|s| s.read_aloud = on),
            Command::SetRecord(on) => self.change_settings(|s| s.record = on),
            Command::KeepRecordings(days) => self.change_settings(|s| s.keep_recordings_days = days),
            Command::SetNote(note) => self.set_note(note),
            Command::SetBlueprint(blueprint) => self.set_blueprint(*blueprint),
            Command::RemedyOn => self.remedy_on(),
            // As on the day: what would have been right is told in the debrief.
            Command::RunAgain(_)
            | Command::ShowRightOrder
            | Command::Explain
            | Command::CheckAgain(_)
            | Command::ShowRightSetting
            | Command::TryAgain
            | Command::ShowMethod
            | Command::FreshFigures
                if !self.told().answer => {}
            Command::RunAgain(steps) => self.run_again(steps),
            Command::ShowRightOrder => self.show_right_order(),
            Command::Explain => self.explain(),
            Command::CheckAgain(set) => self.check_again(set),
            Command::ShowRightSetting => self.show_right_setting(),
            Command::Work(work) => self.work(work),
            Command::TryAgain => self.try_again(),
            Command::ShowMethod => self.show_method(),
            Command::FreshFigures => self.fresh_figures(),
            Command::BackToMarking => self.back_to_marking(),
            Command::SetAside { card, until } => self.set_aside(card, until),
            Command::ReportFault { card, note } => self.report_fault(card, note),
            Command::Search(query) => self.look_for(query),
            Command::RereadDecks => self.reread_decks(),
            Command::SetShip(ship) => self.change_settings(|s| s.ship = ship),
            Command::SetTheme(theme) => self.change_settings(|s| s.theme = theme),
            Command::SetScale(percent) => self.change_settings(|s| s.scale_percent = percent),
            Command::SetStill(still) => self.change_settings(|s| s.still = still),
            Command::SetMinutes(minutes) => self.change_settings(|s| s.minutes = minutes),
            Command::SetRecallTarget(target) => self.set_recall_target(target),
            Command::SetOral(oral) => self.change_settings(|s| s.oral = oral),
            Command::SetCertificate(certificate) => self.change_settings(|s| s.certificate = certificate),
            Command::SetLearner(name) => self.set_learner(name),
            Command::NewProfile(name) => self.new_profile(&name),
            Command::OpenProfile(folder) => self.open_profile(&folder),
            Command::RestoreBackup => self.recover(Store::restore_backup),
            Command::StartAfresh => self.recover(Store::start_afresh),
            Command::RetryOpen => self.reopen(),
            Command::DateIsRight => self.date_is_right(),
            Command::SetClock => self.set_clock(),
            Command::TakeBackLater => self.take_back_later(),
            Command::LeaveLater => self.leave_later(),
            Command::DismissNotice => self.notices.shown = None,
        }
    }

    /// Changes settings, brings them into range and keeps them.
    fn change_settings(&mut self, change: impl FnOnce(&mut Settings)) {
        let Some(open) = self.open_mut() else { return };
        let mut settings = open.profile.learner.settings.clone();
        change(&mut settings);
        let settings = settings.clamped();
        if settings == open.profile.learner.settings {
            return;
        }
        let ticket = open.profile.store.save_settings(&settings);
        open.profile.learner.settings = settings;
        self.keeping.changes.push(ticket);
    }
}
