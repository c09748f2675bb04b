//! Commands are carried out here: one function for each, in a file for each part of the program.

mod bring;
mod clock;
mod editions;
mod kinds;
mod knowing;
mod library;
pub(super) mod oral;
mod places;
mod plan;
mod reading;
pub(crate) mod report;
mod settings;
mod sheet;
mod sound;
mod taking_in;
mod watch;
mod writing;
mod writing_reports;

use crate::app::program::app::App;
use crate::app::program::command::{
    BringCommand, CardCommand, ClockCommand, Command, LibraryCommand, OralCommand, PlanCommand, ProfileCommand,
    ReportCommand, SettingsCommand, TrainingCommand, WatchCommand,
};
use crate::domain::answer::Given;
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
        let puts_away = matches!(
            command,
            Command::Go(_)
                | Command::DismissNotice
                | Command::Profile(
                    ProfileCommand::Open(_)
                        | ProfileCommand::New(_)
                        | ProfileCommand::RestoreBackup
                        | ProfileCommand::StartAfresh
                        | ProfileCommand::RetryOpen
                )
                | Command::Training(TrainingCommand::Forget)
        );
        let before = self.notices.shown.take();
        self.carry_out(command.clone());
        self.notices.carried_out(command, puts_away, before);
    }

    /// An answer could not be kept.
    fn fail_to_keep(&mut self, error: &dyn std::error::Error) {
        self.fail(error);
        self.notices.note_not_kept();
    }

    fn carry_out(&mut self, command: Command) {
        match command {
            Command::Go(route) => self.go(route),
            Command::DismissNotice => self.notices.shown = None,
            Command::Watch(command) => self.about_watch(command),
            Command::Card(command) => self.about_card(command),
            Command::EditWorksheet(work) => self.work(work),
            Command::Oral(command) => self.about_oral(command),
            Command::Plan(command) => self.about_plan(command),
            Command::Training(command) => self.about_training(command),
            Command::Report(ReportCommand::WriteClass) => self.write_class(),
            Command::Report(ReportCommand::WriteProgress(form)) => self.write_progress(form),
            Command::Report(ReportCommand::WriteSitting(form)) => self.write_report(form),
            Command::Library(command) => self.about_library(command),
            Command::Writing(command) => self.about_writing(command),
            Command::Settings(command) => self.about_settings(command),
            Command::Profile(command) => self.about_profile(command),
            Command::Bring(command) => self.about_bring(command),
            Command::Clock(command) => self.about_clock(command),
        }
    }

    fn about_watch(&mut self, command: WatchCommand) {
        match command {
            WatchCommand::Stand { shorter } => self.stand_watch(shorter),
            WatchCommand::Leave => self.leave_watch(),
            WatchCommand::TakeBack => self.take_back(),
            WatchCommand::RemedyOn => self.remedy_on(),
            WatchCommand::StudyCompetence(competence) => self.study_competence(&competence),
            WatchCommand::StudyCards(cards) => self.study(&cards),
            WatchCommand::StandOnly(only) => self.stand_only(&only, None),
        }
    }

    fn about_card(&mut self, command: CardCommand) {
        match command {
            CardCommand::ShowPoints => self.submit(Given::Said(Vec::new())),
            CardCommand::Submit(given) => self.submit(given),
            CardCommand::Withdraw => self.withdraw(),
            CardCommand::Tick(point) => self.tick(point),
            CardCommand::Settle { point, said } => self.settle_point(point, said),
            CardCommand::SetNotch(_) if !self.told().notch => {}
            CardCommand::SetNotch(notch) => self.set_notch(notch),
            CardCommand::Accept if self.in_writing() => self.put_answer_away(),
            CardCommand::Accept if self.in_oral() => self.accept_turn(),
            CardCommand::Accept => self.accept(),
            CardCommand::DrawFor(place) => self.jobs.picture.draw_for(place),
            CardCommand::BackToMarking => self.back_to_marking(),
            // As on the day: what would have been right is told in the debrief.
            CardCommand::RunAgain(_)
            | CardCommand::ShowRightOrder
            | CardCommand::Explain
            | CardCommand::CheckAgain(_)
            | CardCommand::ShowRightSetting
            | CardCommand::TryAgain
            | CardCommand::ShowMethod
            | CardCommand::FreshFigures
                if !self.told().answer => {}
            CardCommand::RunAgain(steps) => self.run_again(steps),
            CardCommand::ShowRightOrder => self.show_right_order(),
            CardCommand::Explain => self.explain(),
            CardCommand::CheckAgain(set) => self.check_again(set),
            CardCommand::ShowRightSetting => self.show_right_setting(),
            CardCommand::TryAgain => self.try_again(),
            CardCommand::ShowMethod => self.show_method(),
            CardCommand::FreshFigures => self.fresh_figures(),
        }
    }

    fn about_oral(&mut self, command: OralCommand) {
        match command {
            OralCommand::Begin(choice) => self.begin_oral(choice, None),
            OralCommand::GoOn(way) => self.go_on_with_oral(way),
            OralCommand::Leave => self.leave_oral(),
            OralCommand::BreakOff => self.break_off_oral(),
            OralCommand::Resume(id, way) => self.resume_oral(&id, way),
            OralCommand::Pause(pause) => self.pause_oral(pause),
            OralCommand::AnswerBy(way) => self.set_way(way),
            OralCommand::FinishSpeaking => self.finish_speaking(),
            OralCommand::NothingToSay => self.run_dry(),
            OralCommand::ReadAgain => self.read_again(),
            OralCommand::HearAgain => self.hear_again(),
            OralCommand::HearTurn(turn) => self.hear_turn(turn),
            OralCommand::SetNote(note) => self.set_note(note),
        }
    }

    fn about_plan(&mut self, command: PlanCommand) {
        match command {
            PlanCommand::TryMinutes(minutes) => self.plan_with(minutes),
            PlanCommand::Keep => self.keep_plan(),
            PlanCommand::Stop => self.jobs.plan.stop(),
            PlanCommand::RecordOralResult(passed) => self.tell_result(passed),
        }
    }

    fn about_training(&mut self, command: TrainingCommand) {
        match command {
            TrainingCommand::Begin => self.train_memory(),
            TrainingCommand::Stop => self.jobs.training.stop(),
            TrainingCommand::Forget => self.forget_training(),
        }
    }

    fn about_library(&mut self, command: LibraryCommand) {
        match command {
            LibraryCommand::SetAside { card, until } => self.set_aside(card, until),
            LibraryCommand::ReportFault { card, note } => self.report_fault(card, note),
            LibraryCommand::Search(query) => self.look_for(query),
            LibraryCommand::RereadDecks => self.reread_decks(),
            LibraryCommand::EditionSeen => self.edition_seen(),
            LibraryCommand::AskForFile => self.ask_for_file(),
            LibraryCommand::LookInto(path) => self.look_into_file(path),
            LibraryCommand::TakeIn => self.take_in_file(),
            LibraryCommand::PutFileAway => self.put_file_away(),
            LibraryCommand::GoBack(deck) => self.go_back_to_edition(deck),
        }
    }

    fn about_settings(&mut self, command: SettingsCommand) {
        match command {
            SettingsCommand::SetShip(ship) => self.change_settings(|s| s.ship = ship),
            SettingsCommand::SetTheme(theme) => self.change_settings(|s| s.theme = theme),
            SettingsCommand::SetScale(percent) => self.change_settings(|s| s.scale_percent = percent),
            SettingsCommand::SetStill(still) => self.change_settings(|s| s.still = still),
            SettingsCommand::SetMinutes(minutes) => self.change_settings(|s| s.minutes = minutes),
            SettingsCommand::SetRecallTarget(target) => self.set_recall_target(target),
            SettingsCommand::SetOral(oral) => self.change_settings(|s| s.oral = oral),
            SettingsCommand::SetCertificate(certificate) => self.change_settings(|s| s.certificate = certificate),
            SettingsCommand::SetLearner(name) => self.set_learner(name),
            SettingsCommand::SetSecondReader(on) => self.change_settings(|s| s.second_reader = on),
            SettingsCommand::SetReadAloud(on) => self.change_settings(|s| s.read_aloud = on),
            SettingsCommand::SetRecord(on) => self.change_settings(|s| s.record = on),
            SettingsCommand::KeepRecordings(days) => self.change_settings(|s| s.keep_recordings_days = days),
            SettingsCommand::SetBlueprint(blueprint) => self.set_blueprint(*blueprint),
        }
    }

    fn about_profile(&mut self, command: ProfileCommand) {
        match command {
            ProfileCommand::FinishFirstRun { certificate, oral, minutes, watch } => {
                self.change_settings(|s| {
                    (s.certificate, s.oral, s.minutes, s.first_run_done) = (certificate, oral, minutes, true);
                });
                self.finish_first_run(watch);
            }
            ProfileCommand::New(name) => self.new_profile(&name),
            ProfileCommand::Open(folder) => self.open_profile(&folder),
            ProfileCommand::RestoreBackup => self.recover(Store::restore_backup),
            ProfileCommand::StartAfresh => self.recover(Store::start_afresh),
            ProfileCommand::RetryOpen => self.reopen(),
        }
    }

    fn about_bring(&mut self, command: BringCommand) {
        match command {
            BringCommand::LookInto(file) => self.look_into(&file),
            BringCommand::TakeIn => self.take_in(),
            BringCommand::Leave => self.leave_file(),
            BringCommand::WriteOut(to) => self.write_out(&to),
        }
    }

    fn about_clock(&mut self, command: ClockCommand) {
        match command {
            ClockCommand::DateIsRight => self.date_is_right(),
            ClockCommand::SetClock => self.set_clock(),
            ClockCommand::TakeBackLater => self.take_back_later(),
            ClockCommand::LeaveLater => self.leave_later(),
        }
    }

    /// Changes settings, brings them into range and keeps them.
    fn change_settings(&mut self, change: impl FnOnce(&mut Settings)) {
        let now = self.now();
        let Some(open) = self.open_mut() else { return };
        let mut settings = open.profile.learner.settings.clone();
        change(&mut settings);
        let settings = settings.clamped();
        if settings == open.profile.learner.settings {
            return;
        }
        let ticket = open.profile.store.save_settings(&settings, now);
        open.profile.learner.settings = settings;
        self.keeping.changes.push(ticket);
    }
}
