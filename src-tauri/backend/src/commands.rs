//! The list of commands: one line each. It makes the dispatch, the names and the types.
//! Never what a command does.
//! Invariant: a command that is not in this list cannot be called, and one that is has its types.

use crate::book::{Book, Clock};
use crate::error::{Error, Result};
use crate::types::Types;
use crate::{care, chores, import, logs, looks, photos, pickings, review, rounds, settings, sharing, spots};
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use std::path::Path;

macro_rules! commands {
    ($($room:ident::$name:ident($ask:ident) -> $reply:ty;)+) => {
        /// Names of all commands.
        pub const NAMES: &[&str] = &[$(stringify!($name)),+];

        fn call(book: &Book, name: &str, request: Value) -> Result<Value> {
            match name {
                $(stringify!($name) => {
                    let ask: $room::acts::$ask = read(request)?;
                    Ok(serde_json::to_value($room::acts::$name(book, ask)?)?)
                })+
                _ => Err(Error::Missing { what: "command" }),
            }
        }

        /// The text of `ui/api/types.d.ts`.
        pub fn types() -> String {
            let mut types = Types::default();
            $(types.command::<$room::acts::$ask, $reply>(stringify!($name));)+
            types.text()
        }
    };
}

use crate::book::jobs::{JobStarted, JobView};
use crate::book::{Done, Nothing};

commands! {
    care::care_show(CareShow) -> care::acts::CareView;
    care::details_copy(DetailsCopy) -> care::acts::DetailsView;
    care::backup_now(BackupNow) -> JobStarted;
    care::backup_list(BackupList) -> care::acts::BackupsView;
    care::backup_folder(BackupFolder) -> Nothing;
    care::restore_preview(RestorePreview) -> care::acts::RestoreView;
    care::restore_do(RestoreDo) -> JobStarted;
    chores::chores_show(ChoresShow) -> chores::acts::ChoresView;
    import::csv_look(CsvLook) -> import::acts::CsvView;
    import::csv_try(CsvTry) -> import::acts::CsvTried;
    import::csv_take(CsvTake) -> Done;
    logs::yard_list(YardList) -> logs::acts::YardView;
    logs::log_form(LogFormAsk) -> logs::acts::LogForm;
    logs::log_add(LogAdd) -> Done;
    logs::log_edit(LogEdit) -> Done;
    logs::log_end(LogEnd) -> Done;
    logs::log_show(LogShow) -> logs::acts::LogView;
    looks::look_form(LookFormAsk) -> looks::acts::LookForm;
    looks::look_add(LookAdd) -> Done;
    photos::photo_keep(PhotoKeep) -> photos::acts::PhotoKept;
    photos::photo_share(PhotoShare) -> photos::acts::PhotoShared;
    pickings::picking_form(PickingFormAsk) -> pickings::acts::PickingForm;
    pickings::picking_add(PickingAdd) -> Done;
    rounds::round_start(RoundStart) -> Done;
    rounds::round_show(RoundShow) -> rounds::acts::RoundView;
    rounds::round_check(RoundCheck) -> Done;
    rounds::round_spot_clean(RoundSpotClean) -> Done;
    rounds::round_end(RoundEnd) -> Done;
    spots::spot_list(SpotList) -> spots::acts::SpotsView;
    spots::spot_order(SpotOrder) -> Done;
    review::review_woods(ReviewWoods) -> review::acts::ReviewView;
    sharing::archive_write(ArchiveWrite) -> JobStarted;
    sharing::archive_preview(ArchivePreview) -> sharing::acts::ArchiveView;
    sharing::archive_read(ArchiveRead) -> JobStarted;
    sharing::merge_folder(MergeFolder) -> Nothing;
    sharing::merge_preview(MergePreview) -> sharing::acts::MergeView;
    sharing::merge_do(MergeDo) -> JobStarted;
    sharing::contradictions_show(ContradictionsShow) -> sharing::acts::ContradictionsView;
    sharing::twins_show(TwinsShow) -> sharing::acts::TwinsView;
    sharing::twin_answer(TwinAnswer) -> Done;
    sharing::losers_show(LosersShow) -> sharing::acts::LosersView;
    settings::settings_show(SettingsShow) -> settings::acts::SettingsView;
    settings::settings_set(SettingsSet) -> Done;
    settings::light_set(LightSet) -> Nothing;
    settings::draft_get(DraftGet) -> settings::acts::DraftView;
    settings::draft_set(DraftSet) -> Nothing;
    settings::act_list(ActList) -> settings::acts::ActsView;
    settings::undo(Undo) -> Done;
    settings::register_check(RegisterCheck) -> JobStarted;
    settings::job_show(JobShow) -> JobView;
    settings::job_cancel(JobCancel) -> JobView;
}

/// Opens the yard in `folder`, making it when absent.
///
/// # Errors
/// See [`Book::open`].
pub fn open(folder: &Path, clock: Clock) -> Result<Book> {
    Book::open(folder, clock, logs::rows::derive)
}

/// What is done by itself once a yard is open and shown: a check, and a backup when one is due.
/// Returns the jobs' ids.
pub fn after_open(book: &Book) -> Vec<String> {
    care::acts::after_open(book)
}

/// Does the command `name`. `bytes` are a photo's, when they come raw.
///
/// # Errors
/// The command's own; `Invalid` on `request` when its shape is wrong.
pub fn dispatch(book: &Book, name: &str, request: Value, bytes: Option<Vec<u8>>) -> Result<Value> {
    match (name, bytes) {
        ("photo_keep", Some(bytes)) => {
            let ask = photos::acts::PhotoKeep { bytes: Some(bytes), base64: None };
            Ok(serde_json::to_value(photos::acts::photo_keep(book, ask)?)?)
        }
        (_, Some(_)) => Err(Error::invalid("request", "unknown_word")),
        (_, None) => call(book, name, request),
    }
}

/// A photo to be shown, by its name in the `photo` scheme: its kind and bytes.
///
/// # Errors
/// See [`photos::acts::show`].
pub fn photo(book: &Book, name: &str) -> Result<(String, Vec<u8>)> {
    photos::acts::show(book, name)
}

/// A request of the wrong shape names the shape's fault; nothing was done.
fn read<T: DeserializeOwned>(request: Value) -> Result<T> {
    let request = if request.is_null() { json!({}) } else { request };
    serde_json::from_value(request)
        .map_err(|e| Error::invalid_with("request", "unknown_word", json!({"word": e.to_string()})))
}
