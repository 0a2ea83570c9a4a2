//! The list of commands: one line each. It makes the dispatch, the names and the types.
//! Never what a command does.
//! Invariant: a command that is not in this list cannot be called, and one that is has its types.

use crate::book::{Book, Clock};
use crate::error::{Error, Result};
use crate::types::Types;
use crate::{
    batches, care, chores, condition, import, lifting, logs, looks, moisture, moves, photos, pickings,
    review, rounds, settings, sharing, soaking, spots, strains, tags, weather, woods,
};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use std::path::Path;

macro_rules! commands {
    ($($room:ident::$name:ident($ask:ident) -> $reply:ty;)+) => {
        /// Names of all commands.
        pub const NAMES: &[&str] = &[$(stringify!($name)),+];

        fn call(book: &Book, name: &str, request: Value) -> Result<Value> {
            match name {
                $(stringify!($name) => answer::<$room::acts::$ask, $reply>(book, request, $room::acts::$name),)+
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
    chores::chore_put_off(ChorePutOff) -> Done;
    soaking::tank_show(TankShow) -> soaking::acts::TankView;
    soaking::soak_in(SoakIn) -> soaking::acts::Soaked;
    soaking::soak_out(SoakOut) -> soaking::acts::Soaked;
    moisture::moisture_list(MoistureList) -> moisture::acts::MoistureRows;
    moisture::moisture_show(MoistureShow) -> moisture::acts::MoistureView;
    moisture::weigh_add(WeighAdd) -> moisture::acts::Weighed;
    moisture::water_add(WaterAdd) -> Done;
    moisture::disc_set(DiscSet) -> Done;
    weather::weather_show(WeatherShow) -> weather::acts::WeatherView;
    weather::weather_set(WeatherSet) -> Done;
    weather::weather_try(WeatherTry) -> weather::acts::WeatherTried;
    weather::weather_take(WeatherTake) -> Done;
    lifting::lift_screen(LiftScreen) -> lifting::acts::LiftView;
    import::csv_look(CsvLook) -> import::acts::CsvView;
    import::csv_try(CsvTry) -> import::acts::CsvTried;
    import::csv_take(CsvTake) -> Done;
    logs::yard_list(YardList) -> logs::acts::YardView;
    logs::log_form(LogFormAsk) -> logs::acts::LogForm;
    logs::log_add(LogAdd) -> Done;
    logs::log_edit(LogEdit) -> Done;
    logs::logs_add(LogsAdd) -> Done;
    logs::log_retag(LogRetag) -> Done;
    logs::lost_tag_find(LostTagFind) -> logs::acts::LostTagView;
    logs::log_end(LogEnd) -> Done;
    logs::log_unend(LogUnend) -> Done;
    logs::log_show(LogShow) -> logs::acts::LogView;
    woods::woods_show(WoodsShow) -> woods::acts::WoodsView;
    woods::wood_set(WoodSet) -> Done;
    woods::wood_out(WoodOut) -> Done;
    batches::wood_waiting(WoodWaiting) -> batches::acts::WaitingView;
    batches::batch_form(BatchFormAsk) -> batches::acts::BatchForm;
    batches::batch_set(BatchSet) -> Done;
    batches::batch_out(BatchOut) -> Done;
    strains::strains_show(StrainsShow) -> strains::acts::StrainsView;
    strains::strain_set(StrainSet) -> Done;
    strains::strain_out(StrainOut) -> Done;
    strains::lot_set(LotSet) -> Done;
    strains::lot_out(LotOut) -> Done;
    looks::look_form(LookFormAsk) -> looks::acts::LookForm;
    looks::look_add(LookAdd) -> Done;
    photos::photo_keep(PhotoKeep) -> photos::acts::PhotoKept;
    photos::photo_share(PhotoShare) -> photos::acts::PhotoShared;
    photos::photo_find(PhotoFind) -> photos::acts::PhotoFound;
    photos::photo_add(PhotoAdd) -> Done;
    photos::photo_tie(PhotoTie) -> Done;
    photos::loose_list(LooseList) -> photos::acts::LooseView;
    photos::pinned_week(PinnedWeek) -> photos::acts::PinnedView;
    photos::cap_form(CapFormAsk) -> photos::acts::CapForm;
    photos::cap_try(CapTry) -> photos::acts::CapTried;
    photos::cap_add(CapAdd) -> Done;
    photos::photo_room(PhotoRoom) -> photos::acts::PhotoRoomView;
    photos::originals_out(OriginalsOut) -> JobStarted;
    photos::originals_home(OriginalsHome) -> JobStarted;
    pickings::picking_form(PickingFormAsk) -> pickings::acts::PickingForm;
    pickings::picking_add(PickingAdd) -> Done;
    rounds::round_start(RoundStart) -> Done;
    rounds::round_show(RoundShow) -> rounds::acts::RoundView;
    rounds::round_check(RoundCheck) -> Done;
    rounds::round_spot_clean(RoundSpotClean) -> Done;
    rounds::round_end(RoundEnd) -> Done;
    rounds::rounds_show(RoundsShow) -> rounds::acts::RoundsView;
    rounds::pick_round_show(PickRoundShow) -> rounds::acts::PickRoundView;
    rounds::pick_look(PickLook) -> Done;
    rounds::pick_take(PickTake) -> Done;
    rounds::pick_skip(PickSkip) -> Done;
    rounds::basket_show(BasketShow) -> rounds::rows::baskets::Basket;
    rounds::basket_weigh(BasketWeigh) -> Done;
    rounds::basket_answer(BasketAnswer) -> Done;
    rounds::basket_pair_answer(BasketPairAnswer) -> Done;
    rounds::sheet_show(SheetShow) -> rounds::acts::SheetView;
    rounds::round_sheet(RoundSheet) -> Done;
    rounds::sighting_form(SightingFormAsk) -> rounds::acts::SightingForm;
    rounds::sighting_add(SightingAdd) -> Done;
    rounds::flushes_show(FlushesShow) -> rounds::acts::FlushesView;
    rounds::flush_mark(FlushMark) -> Done;
    rounds::costs_show(CostsShow) -> rounds::acts::CostsView;
    rounds::calendar_file(CalendarFile) -> rounds::acts::CalendarView;
    spots::spot_list(SpotList) -> spots::acts::SpotsView;
    spots::spot_order(SpotOrder) -> Done;
    spots::spot_show(SpotShow) -> spots::acts::SpotView;
    spots::spot_save(SpotSave) -> Done;
    spots::spot_out(SpotOut) -> Done;
    spots::yard_map(YardMap) -> spots::acts::MapView;
    moves::move_form(MoveFormAsk) -> moves::acts::MoveForm;
    moves::log_move(LogMove) -> Done;
    condition::condition_form(ConditionFormAsk) -> condition::acts::ConditionForm;
    condition::condition_add(ConditionAdd) -> Done;
    condition::tend_form(TendFormAsk) -> condition::acts::TendForm;
    condition::tend_add(TendAdd) -> Done;
    review::review_ask(ReviewAsk) -> review::acts::ReviewView;
    review::review_sheet(ReviewSheet) -> review::acts::FileView;
    review::season_show(SeasonShow) -> review::acts::SeasonView;
    review::pdf_make(PdfMake) -> review::acts::FileView;
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
    settings::ways_set(WaysSet) -> Done;
    settings::flush_gap_set(FlushGapSet) -> Done;
    settings::light_set(LightSet) -> Nothing;
    settings::draft_get(DraftGet) -> settings::acts::DraftView;
    settings::draft_set(DraftSet) -> Nothing;
    settings::act_list(ActList) -> settings::acts::ActsView;
    settings::undo(Undo) -> Done;
    settings::register_check(RegisterCheck) -> JobStarted;
    settings::job_show(JobShow) -> JobView;
    settings::job_cancel(JobCancel) -> JobView;
    tags::tag_list(TagList) -> tags::acts::TagsView;
    tags::tag_sheet(TagSheet) -> tags::acts::TagSheetFile;
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

/// Reads the request, does the command, writes the reply. Never inlined: all commands in one function took
/// the compiler minutes.
#[inline(never)]
fn answer<A: DeserializeOwned, R: Serialize>(
    book: &Book,
    request: Value,
    act: fn(&Book, A) -> Result<R>,
) -> Result<Value> {
    Ok(serde_json::to_value(act(book, read(request)?)?)?)
}

/// A request of the wrong shape names the shape's fault; nothing was done.
fn read<T: DeserializeOwned>(request: Value) -> Result<T> {
    let request = if request.is_null() { json!({}) } else { request };
    serde_json::from_value(request)
        .map_err(|e| Error::invalid_with("request", "unknown_word", json!({"word": e.to_string()})))
}
