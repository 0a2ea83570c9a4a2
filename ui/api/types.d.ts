// Made from the Rust types by `cargo xtask types`. Never edited by hand.

export type ActList = { 
/**
 * At most so many.
 */
limit: number, };

export type ActRow = { 
/**
 * `device:seq`.
 */
act: string, 
/**
 * The command's name.
 */
name: string, 
/**
 * When, RFC 3339 with the local offset.
 */
at: string, 
/**
 * Values for the sentence on screen.
 */
said: Record<string, any>, 
/**
 * Taken back by a later act that still stands.
 */
undone: boolean, 
/**
 * May be taken back now.
 */
undoable: boolean, 
/**
 * The device it was done on, short enough to tell devices apart by eye.
 */
device: string, 
/**
 * Done on this device.
 */
mine: boolean, };

export type ActsView = { 
/**
 * The acts.
 */
acts: Array<ActRow>, };

export type Answer = { 
/**
 * What can be said.
 */
kind: Verdict, 
/**
 * The wood in front.
 */
wood: string | null, 
/**
 * Its name.
 */
name: string | null, 
/**
 * Names of woods it can't be told apart from, best first.
 */
close: Array<string>, 
/**
 * How many more logs, of each of the two, would likely tell the wood in front from the next.
 */
need: number | null, };

export type ArchivePreview = { 
/**
 * The file.
 */
file: string, };

export type ArchiveRead = { 
/**
 * The file.
 */
file: string, 
/**
 * Makes a double tap one job.
 */
request: string, };

export type ArchiveView = { 
/**
 * The schema version it was written with.
 */
version: number, 
/**
 * Acts in it.
 */
acts: number, 
/**
 * Of these, new here.
 */
new_acts: number, 
/**
 * Live logs, as it says itself.
 */
logs: number, 
/**
 * Photos in it.
 */
photos: number, 
/**
 * Devices whose acts are in it.
 */
devices: number, 
/**
 * Whether all is as it should be.
 */
sound: boolean, 
/**
 * What is not.
 */
found: Array<string>, };

export type ArchiveWrite = { 
/**
 * The folder it goes into.
 */
folder: string, };

export type BackupFolder = { 
/**
 * The folder; null: beside the register.
 */
folder?: string | null, };

export type BackupList = Record<symbol, never>;

export type BackupNow = Record<symbol, never>;

export type BackupRow = { 
/**
 * Its file's name.
 */
name: string, 
/**
 * When it was taken, RFC 3339 with the local offset here.
 */
at: string, 
/**
 * Its length.
 */
bytes: number, 
/**
 * Acts in it.
 */
acts: number, 
/**
 * Logs in it.
 */
logs: number, 
/**
 * Entries in it.
 */
entries: number, 
/**
 * Photos that were kept with it.
 */
photos: number, 
/**
 * Whole, as far as known; null: not held against its name now.
 */
sound: boolean | null, };

export type BackupView = { 
/**
 * The folder.
 */
folder: string, 
/**
 * No folder was chosen: they lie beside the register.
 */
auto: boolean, 
/**
 * The last backup that was read back and found whole, and still stands.
 */
last: BackupRow | null, 
/**
 * Acts have been without a good backup for too long.
 */
old: boolean, };

export type BackupsView = { 
/**
 * The backups.
 */
backups: Array<BackupRow>, };

export type By = "slugs" | "insects" | "mice" | "squirrels" | "birds" | "deer" | "other";

export type CareShow = Record<symbol, never>;

export type CareView = { 
/**
 * Why nothing can be written; null when it can.
 */
reading_only: Closed | null, 
/**
 * This program's version.
 */
version: string, 
/**
 * The register's version.
 */
register: number, 
/**
 * This device, short.
 */
device: string, 
/**
 * Who has written in it, the one heard of last first.
 */
devices: Array<DeviceRow>, 
/**
 * Acts of all devices.
 */
acts: number, 
/**
 * Of these, kept but not understood by this version.
 */
not_understood: number, 
/**
 * Acts that the shared folder does not hold yet; null: there is no folder, or it is not there.
 */
unsent: number | null, 
/**
 * The last full check that came to its end.
 */
last_check: LastCheck | null, 
/**
 * Where backups go, and the last one.
 */
backup: BackupView, 
/**
 * Bytes on this device.
 */
storage: Storage, 
/**
 * Copies taken before something that changed much, newest first.
 */
snapshots: Array<BackupRow>, 
/**
 * The folder shared with other devices.
 */
shared_folder: string | null, };

export type CheckRow = { 
/**
 * The entry.
 */
id: string, 
/**
 * How it was done.
 */
how: How, 
/**
 * Slugs and snails found.
 */
slugs: number, 
/**
 * Damage seen.
 */
damage: Damage, };

export type ChoresShow = Record<symbol, never>;

export type ChoresView = { 
/**
 * The local day.
 */
today: string, 
/**
 * The day whose evening it is: before noon still yesterday's.
 */
evening: string, 
/**
 * Logs in the register.
 */
total: number, 
/**
 * When tonight's round is due.
 */
tonight: Tonight, 
/**
 * A round that is still open.
 */
round: RoundRow | null, 
/**
 * Logs with pins or caps that were seen and not picked since; the oldest sight first.
 */
caps_out: Array<LogRow>, 
/**
 * The last act that can be taken back.
 */
last: ActRow | null, 
/**
 * What was being typed and is not saved.
 */
drafts: Array<DraftRow>, 
/**
 * Days for which acts have had no good backup, when they are too many.
 */
backup_old: number | null, 
/**
 * What the last full check found; empty when sound.
 */
trouble: Array<string>, };

export type Clash = "two_rounds" | "ended_twice" | "after_ending" | "removed_and_used" | "one_tag" | "one_spot" | "one_strain";

export type Closed = "newer" | "damaged";

export type Contradiction = { 
/**
 * How.
 */
kind: Clash, 
/**
 * What a person calls it: a tag or a name; empty when it has none.
 */
name: string, 
/**
 * The day it is about, where it is about one.
 */
day: string | null, 
/**
 * The logs, rounds, spots or strains.
 */
ids: Array<string>, 
/**
 * The words that differ, e.g. the reasons of two endings.
 */
words: Array<string>, };

export type ContradictionsShow = Record<symbol, never>;

export type ContradictionsView = { 
/**
 * By kind, then by name.
 */
contradictions: Array<Contradiction>, };

export type Counts = { 
/**
 * Acts, of all devices.
 */
acts: number, 
/**
 * Logs.
 */
logs: number, 
/**
 * Entries in the record.
 */
entries: number, 
/**
 * Photos kept with it.
 */
photos: number, };

export type CsvLook = { 
/**
 * The file's text.
 */
text?: string | null, 
/**
 * The file's bytes, base64.
 */
base64?: string | null, 
/**
 * What parts its cells; null: to be guessed.
 */
delimiter?: Delimiter | null, };

export type CsvTake = { 
/**
 * The file's text.
 */
text?: string | null, 
/**
 * The file's bytes, base64.
 */
base64?: string | null, 
/**
 * What parts its cells; null: to be guessed.
 */
delimiter?: Delimiter | null, 
/**
 * What a row is.
 */
what: What, 
/**
 * Which column says what, counted from 0.
 */
columns: { [key in Meaning]?: number }, 
/**
 * The order of a day's parts.
 */
dates: DateOrder, 
/**
 * What lengths are written in.
 */
lengths: LengthUnit, 
/**
 * What weights are written in.
 */
weights: WeightUnit, 
/**
 * What logs carry where no cell says it.
 */
mushroom?: Mushroom | null, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type CsvTried = { 
/**
 * Rows that can be taken in.
 */
good: number, 
/**
 * Rows that can't.
 */
bad: number, 
/**
 * Everything that is wrong with those.
 */
refused: Array<Refused>, 
/**
 * Logs whose tag another live log bears, or one further up: a warning, no refusal.
 */
same_tag: number, 
/**
 * The first good rows as they would be kept.
 */
sample: Array<Sample>, };

export type CsvTry = { 
/**
 * The file's text.
 */
text?: string | null, 
/**
 * The file's bytes, base64.
 */
base64?: string | null, 
/**
 * What parts its cells; null: to be guessed.
 */
delimiter?: Delimiter | null, 
/**
 * What a row is.
 */
what: What, 
/**
 * Which column says what, counted from 0.
 */
columns: { [key in Meaning]?: number }, 
/**
 * The order of a day's parts.
 */
dates: DateOrder, 
/**
 * What lengths are written in.
 */
lengths: LengthUnit, 
/**
 * What weights are written in.
 */
weights: WeightUnit, 
/**
 * What logs carry where no cell says it.
 */
mushroom?: Mushroom | null, };

export type CsvView = { 
/**
 * How its letters are spelled.
 */
letters: Letters, 
/**
 * What parts its cells.
 */
delimiter: Delimiter, 
/**
 * Its first row.
 */
headers: Array<string>, 
/**
 * The first rows below.
 */
sample: Array<Array<string>>, 
/**
 * How many rows there are below.
 */
rows: number, 
/**
 * What the headers seem to say.
 */
guess: { [key in Meaning]?: number }, };

export type Damage = "none" | "some" | "much";

export type DateOrder = "ymd" | "dmy" | "mdy";

export type Delimiter = "comma" | "semicolon" | "tab";

export type DetailsCopy = Record<symbol, never>;

export type DetailsView = { 
/**
 * Plain text without any word, name, place or path of the grower's.
 */
text: string, };

export type DeviceRow = { 
/**
 * Its id.
 */
device: string, 
/**
 * The id's last six digits.
 */
short: string, 
/**
 * Its acts here.
 */
acts: number, 
/**
 * When the last of them was done, RFC 3339 with the local offset.
 */
last: string, 
/**
 * This device.
 */
mine: boolean, 
/**
 * Its clock, or the one here, is more than a day off.
 */
ahead: boolean, };

export type Done = { 
/**
 * `device:seq`.
 */
act: string, 
/**
 * The command's name.
 */
name: string, 
/**
 * Values for the sentence on screen.
 */
said: Record<string, any>, 
/**
 * Topics whose screens should load again.
 */
changed: Array<string>, 
/**
 * True when this request had been done before: nothing new was written.
 */
again: boolean, };

export type DraftGet = { 
/**
 * Which.
 */
key: string, };

export type DraftRow = { 
/**
 * What it is a draft of, e.g. `look:ID`.
 */
key: string, 
/**
 * When it was last written, RFC 3339 with the local offset.
 */
at: string, };

export type DraftSet = { 
/**
 * Which.
 */
key: string, 
/**
 * Its text; null throws it away.
 */
value?: string | null, };

export type DraftView = { 
/**
 * Its text; null: there is none.
 */
value: string | null, };

export type Entry = { 
/**
 * Its id.
 */
id: string, 
/**
 * The act that wrote it, `device:seq`.
 */
act: string, 
/**
 * The local day it is about.
 */
day: string, 
/**
 * When it was written, RFC 3339 with the local offset.
 */
at: string, 
/**
 * The grower's words.
 */
note: string, 
/**
 * Photos taken with it.
 */
photos: Array<PhotoRow>, 
/**
 * What was observed.
 */
what: Observed, };

export type How = "seen" | "clean" | "skipped";

export type Id = string;

export type JobCancel = { 
/**
 * Which.
 */
job: string, };

export type JobShow = { 
/**
 * Which.
 */
job: string, };

export type JobStarted = { 
/**
 * Its id.
 */
job: string, };

export type JobState = "running" | "done" | "failed" | "cancelled";

export type JobView = { 
/**
 * Its id.
 */
job: string, 
/**
 * Running, done, failed or cancelled.
 */
state: JobState, 
/**
 * Steps done.
 */
done: number, 
/**
 * Steps in all.
 */
total: number, 
/**
 * What it found that is not as it should be; empty when sound.
 */
found: Array<string>, 
/**
 * What came of it, e.g. the file it wrote; null until there is something.
 */
result: string | null, };

export type LastCheck = { 
/**
 * When it ended, RFC 3339 with the local offset.
 */
at: string, 
/**
 * What was not as it should be; empty when sound.
 */
found: Array<string>, };

export type LengthUnit = "mm" | "cm" | "in";

export type Letters = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";

export type Light = "system" | "day" | "lamp";

export type LightSet = { 
/**
 * Which.
 */
light: Light, };

export type LogAdd = { 
/**
 * What the grower says of it.
 */
fields: LogFields, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type LogEdit = { 
/**
 * The log.
 */
log: Id, 
/**
 * All its fields as they should be.
 */
fields: LogFields, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type LogEnd = { 
/**
 * The log.
 */
log: Id, 
/**
 * Why.
 */
why: Why, 
/**
 * The day; null: today.
 */
day?: string | null, 
/**
 * The grower's words.
 */
note: string, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type LogFields = { 
/**
 * The label on the log.
 */
tag: string, 
/**
 * The wood's id; null when not known.
 */
wood: string | null, 
/**
 * None to three diameters, mm: one; both ends; or end, middle, end.
 */
d_mm: Array<number>, 
/**
 * Length, mm.
 */
length_mm: number | null, 
/**
 * When the tree was felled.
 */
felled: Rough | null, 
/**
 * What it carries.
 */
mushroom: Mushroom, 
/**
 * The strain's name; null when not known.
 */
strain: string | null, 
/**
 * The strain's class; shiitake only.
 */
strain_class: StrainClass | null, 
/**
 * The form the spawn came in.
 */
spawn: Spawn | null, 
/**
 * How it was brought in.
 */
method: Method | null, 
/**
 * When it was inoculated; null: not yet; `XXXX`: nobody knows.
 */
laid: Rough | null, 
/**
 * The spot's name.
 */
spot: string | null, 
/**
 * Anything else.
 */
note: string, };

export type LogForm = { 
/**
 * The local day.
 */
today: string, 
/**
 * Woods by name.
 */
woods: Array<WoodChoice>, 
/**
 * Strains the yard knows.
 */
strains: Array<StrainRow>, 
/**
 * Spots in walking order.
 */
spots: Array<SpotRow>, 
/**
 * A tag that is free.
 */
next_tag: string, 
/**
 * The log's fields when one is changed.
 */
fields: LogFields | null, };

export type LogFormAsk = { 
/**
 * The log to change; null for a new one.
 */
log?: Id | null, };

export type LogRow = { 
/**
 * Its id.
 */
id: string, 
/**
 * The label on it.
 */
tag: string, 
/**
 * The wood's id.
 */
wood: string | null, 
/**
 * The wood's common name, lower case.
 */
wood_name: string | null, 
/**
 * What it carries.
 */
mushroom: Mushroom, 
/**
 * The strain's name.
 */
strain: string | null, 
/**
 * The strain's class.
 */
strain_class: StrainClass | null, 
/**
 * How it was inoculated.
 */
method: Method | null, 
/**
 * The spot's name.
 */
spot: string | null, 
/**
 * The spot's id.
 */
spot_id: string | null, 
/**
 * Its state today.
 */
state: State, 
/**
 * When it was laid.
 */
laid: Rough | null, 
/**
 * Diameters, mm.
 */
d_mm: Array<number>, 
/**
 * Length, mm.
 */
length_mm: number | null, 
/**
 * What the newest look saw.
 */
last_seen: Stage | null, 
/**
 * When.
 */
last_seen_day: string | null, 
/**
 * The newest picking's day.
 */
last_picked: string | null, 
/**
 * How many pickings.
 */
pickings: number, 
/**
 * Their weight, g, of those that were weighed.
 */
grams: number, 
/**
 * How many were not weighed.
 */
unweighed: number, 
/**
 * The newest photo.
 */
photo: string | null, };

export type LogShow = { 
/**
 * The log.
 */
log: Id, };

export type LogView = { 
/**
 * The local day.
 */
today: string, 
/**
 * What lists show.
 */
row: LogRow, 
/**
 * All that the grower says of it.
 */
fields: LogFields, 
/**
 * Volume from diameters and length, litres.
 */
litres: number | null, 
/**
 * Other live logs with the same tag.
 */
same_tag: Array<string>, 
/**
 * Its record, newest first.
 */
entries: Array<Entry>, };

export type LogYears = { 
/**
 * Least.
 */
low: number, 
/**
 * Most.
 */
high: number, };

export type LookAdd = { 
/**
 * The log.
 */
log: Id, 
/**
 * What was seen.
 */
seen: Stage, 
/**
 * Hashes of photos kept before.
 */
photos: Array<string>, 
/**
 * The grower's words.
 */
note: string, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type LookForm = { 
/**
 * The local day.
 */
today: string, 
/**
 * The log.
 */
row: LogRow, 
/**
 * What can be seen on it, `nothing` first.
 */
stages: Array<Stage>, 
/**
 * Largest photo, bytes: asked before it is read.
 */
max_bytes: number, };

export type LookFormAsk = { 
/**
 * The log.
 */
log: Id, };

export type Losers = { 
/**
 * The field.
 */
name: string, 
/**
 * The value that stands.
 */
stands: Version, 
/**
 * The last values of other devices that differ from it, newest first.
 */
others: Array<Version>, };

export type LosersShow = { 
/**
 * The log.
 */
log: Id, };

export type LosersView = { 
/**
 * Field by field.
 */
fields: Array<Losers>, };

export type LostAct = { 
/**
 * The command's name.
 */
name: string, 
/**
 * Values for the sentence on screen.
 */
said: Record<string, any>, 
/**
 * When, RFC 3339 with the local offset.
 */
at: string, };

export type Meaning = "tag" | "wood" | "d1" | "d2" | "d3" | "length" | "felled" | "mushroom" | "strain" | "strain_class" | "spawn" | "method" | "laid" | "spot" | "day" | "weight" | "caps" | "damaged_pct" | "by" | "note";

export type MergeDo = { 
/**
 * The shared folder; null: the one that was set.
 */
folder?: string | null, 
/**
 * Makes a double tap one job.
 */
request: string, };

export type MergeFolder = { 
/**
 * The folder; null: none.
 */
folder?: string | null, };

export type MergePreview = { 
/**
 * The shared folder; null: the one that was set.
 */
folder?: string | null, };

export type MergeView = { 
/**
 * Acts that are new here.
 */
new_acts: number, 
/**
 * Of these, kept but not understood by this version.
 */
not_understood: number, 
/**
 * Observations by kind, and things that are new here by kind.
 */
by_kind: { [key in string]: number }, 
/**
 * Fields that have a value here and would have another.
 */
changed_fields: number, 
/**
 * Photos to come.
 */
photos_to_come: number, 
/**
 * Devices whose clock is more than a day ahead.
 */
ahead: Array<string>, 
/**
 * Devices that exist twice: two copies of one register were written to.
 */
forked: Array<string>, 
/**
 * Files that are not complete.
 */
passed_over: Array<string>, 
/**
 * Acts that wait for earlier ones.
 */
waiting: number, 
/**
 * Acts that would go out.
 */
to_send: number, 
/**
 * Contradictions that are not there yet and would be.
 */
contradictions: Array<Contradiction>, 
/**
 * Twins that are not there yet and would be.
 */
twins: Array<Twins>, };

export type Method = "drilled" | "totem";

export type Mushroom = "shiitake" | "erinaceus" | "americanum";

export type NoDusk = "no_place" | "sun_never_sets" | "never_dark" | "sun_never_rises";

export type Nothing = Record<symbol, never>;

export type Observed = { "kind": "look", 
/**
 * The cap stage, or nothing.
 */
seen: Stage, } | { "kind": "picking", 
/**
 * Weight, g; null: not weighed.
 */
grams: number | null, 
/**
 * Number of caps; null: not counted.
 */
caps: number | null, 
/**
 * Share damaged, per cent; null: not judged.
 */
damaged_pct: number | null, 
/**
 * By what.
 */
by: By | null, } | { "kind": "check", 
/**
 * The round.
 */
round: string, 
/**
 * How it was done.
 */
how: How, 
/**
 * Slugs and snails found.
 */
slugs: number, 
/**
 * Damage seen.
 */
damage: Damage, } | { "kind": "ending", 
/**
 * Why.
 */
why: Why, };

export type PhotoKeep = { 
/**
 * The file's bytes, base64, when they do not come raw.
 */
base64?: string | null, };

export type PhotoKept = { 
/**
 * The hash of its bytes: its name from now on.
 */
hash: string, 
/**
 * Length, bytes.
 */
bytes: number, 
/**
 * Width as it is looked at, pixels.
 */
width: number, 
/**
 * Height as it is looked at, pixels.
 */
height: number, 
/**
 * The kind of file.
 */
mime: string, 
/**
 * When it was taken, by the camera's own clock.
 */
taken: string | null, 
/**
 * The same bytes had been kept before.
 */
already: boolean, };

export type PhotoRow = { 
/**
 * The hash of its bytes.
 */
hash: string, 
/**
 * Whether its file is on this device.
 */
here: boolean, 
/**
 * Width as it is looked at, pixels.
 */
width: number, 
/**
 * Height as it is looked at, pixels.
 */
height: number, 
/**
 * The kind of file.
 */
mime: string, 
/**
 * When it was taken, by the camera's own clock.
 */
taken: string | null, };

export type PhotoShare = { 
/**
 * Its hash.
 */
hash: string, };

export type PhotoShared = { 
/**
 * A name for the file: of it only the day and the first digits of its hash.
 */
name: string, 
/**
 * Its bytes, without the place and what else a camera wrote into it but the hour.
 */
base64: string, };

export type PickingAdd = { 
/**
 * The log.
 */
log: Id, 
/**
 * The day; null: today.
 */
day?: string | null, 
/**
 * Weight, g; null: not weighed.
 */
grams?: number | null, 
/**
 * Number of caps; null: not counted.
 */
caps?: number | null, 
/**
 * Share damaged, per cent; null: not judged.
 */
damaged_pct?: number | null, 
/**
 * By what.
 */
by?: By | null, 
/**
 * The grower's words.
 */
note: string, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type PickingForm = { 
/**
 * The local day.
 */
today: string, 
/**
 * The log.
 */
row: LogRow, 
/**
 * What can have damaged the caps.
 */
by: Array<By>, };

export type PickingFormAsk = { 
/**
 * The log.
 */
log: Id, };

export type PickingLine = { 
/**
 * The log's id.
 */
log: string, 
/**
 * Its tag.
 */
tag: string, 
/**
 * The day.
 */
day: string, 
/**
 * Weight, g.
 */
grams: number | null, 
/**
 * Number of caps.
 */
caps: number | null, 
/**
 * Share damaged, per cent.
 */
damaged_pct: number | null, 
/**
 * By what.
 */
by: By | null, 
/**
 * Anything else.
 */
note: string, };

export type Place = "backups" | "snapshots";

export type Range = { 
/**
 * Mean over the logs.
 */
mean: number, 
/**
 * Lower end, never below 0.
 */
low: number, 
/**
 * Upper end.
 */
high: number, 
/**
 * Logs behind it.
 */
n: number, };

export type Refused = { 
/**
 * The row's number in a spreadsheet: headers are row 1.
 */
row: number, 
/**
 * The column, counted from 0; null: the row as a whole.
 */
column: number | null, 
/**
 * A fixed word for the reason.
 */
why: string, 
/**
 * Bounds and the like, for the sentence on screen.
 */
detail: Record<string, any>, 
/**
 * What stands in the cell, its first letters.
 */
text: string, };

export type RegisterCheck = Record<symbol, never>;

export type RestoreDo = { 
/**
 * The copy's name.
 */
name: string, 
/**
 * Where it lies.
 */
from: Place, 
/**
 * Makes a double tap one restore.
 */
request: string, };

export type RestorePreview = { 
/**
 * The copy's name.
 */
name: string, 
/**
 * Where it lies.
 */
from: Place, };

export type RestoreView = { 
/**
 * The copy's name.
 */
name: string, 
/**
 * When it was taken, RFC 3339 with the local offset here.
 */
at: string, 
/**
 * Its version; an older one is brought to today's.
 */
version: number, 
/**
 * What is in the register now; null: it is damaged and can't be counted.
 */
now: Counts | null, 
/**
 * What would be.
 */
then: Counts, 
/**
 * Acts that are done now and would not be, newest first, the first twenty.
 */
lost: Array<LostAct>, 
/**
 * How many there are.
 */
lost_count: number, 
/**
 * Photos of the copy that are neither here nor in the backup folder.
 */
photos_missing: number, };

export type ReviewView = { 
/**
 * The local day.
 */
today: string, 
/**
 * What was asked for.
 */
mushroom: Mushroom | null, 
/**
 * Mushrooms that the yard's logs carry.
 */
mushrooms: Array<Mushroom>, 
/**
 * Which wood did best, or why that can't be told.
 */
answer: Answer, 
/**
 * Best first; those that can't be told last.
 */
woods: Array<WoodRow>, };

export type ReviewWoods = { 
/**
 * Logs that carry this; null: all.
 */
mushroom?: Mushroom | null, };

export type Risk = "caps" | "damage";

export type Rough = string;

export type RoundCheck = { 
/**
 * The round.
 */
round: Id, 
/**
 * The log.
 */
log: Id, 
/**
 * Seen or skipped.
 */
how: How, 
/**
 * Slugs and snails found.
 */
slugs: number, 
/**
 * Damage seen.
 */
damage: Damage, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type RoundEnd = { 
/**
 * The round.
 */
round: Id, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type RoundRow = { 
/**
 * Its id.
 */
id: string, 
/**
 * The evening's day.
 */
day: string, 
/**
 * When it was started, RFC 3339 with the local offset.
 */
started: string, 
/**
 * When it was ended; null: still open.
 */
ended: string | null, 
/**
 * Logs in it.
 */
logs: number, 
/**
 * Logs seen or ticked clean.
 */
done: number, 
/**
 * Logs passed over.
 */
skipped: number, 
/**
 * Logs without a check.
 */
left: number, 
/**
 * Slugs and snails found.
 */
slugs: number, 
/**
 * Logs with damage.
 */
damaged: number, };

export type RoundShow = { 
/**
 * The round.
 */
round: Id, };

export type RoundSpot = { 
/**
 * Its name; null: logs in no spot.
 */
spot: string | null, 
/**
 * Its id.
 */
spot_id: string | null, 
/**
 * Logs in it.
 */
logs: number, 
/**
 * Of these, without a check.
 */
left: number, 
/**
 * Slugs and snails found.
 */
slugs: number, 
/**
 * Logs with damage.
 */
damaged: number, };

export type RoundSpotClean = { 
/**
 * The round.
 */
round: Id, 
/**
 * The spot; null: logs in no spot.
 */
spot_id?: Id | null, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type RoundStart = { 
/**
 * Makes a double tap one act.
 */
request: string, };

export type RoundView = { 
/**
 * The round and its sums.
 */
round: RoundRow, 
/**
 * In walking order.
 */
stops: Array<Stop>, 
/**
 * The first stop without a check.
 */
next: number | null, 
/**
 * Spot by spot, in walking order.
 */
spots: Array<RoundSpot>, };

export type Sample = LogFields | PickingLine;

export type SettingsSet = { 
/**
 * The grower's name for the place; may be empty.
 */
place: string, 
/**
 * Latitude, degrees, north positive.
 */
lat?: number | null, 
/**
 * Longitude, degrees, east positive.
 */
lon?: number | null, 
/**
 * Minutes from dark to the night round.
 */
night_after_min: number, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type SettingsShow = Record<symbol, never>;

export type SettingsView = { 
/**
 * The grower's name for the place.
 */
place: string, 
/**
 * Latitude, degrees, north positive.
 */
lat: number | null, 
/**
 * Longitude, degrees, east positive.
 */
lon: number | null, 
/**
 * Minutes from dark to the night round.
 */
night_after_min: number, 
/**
 * Which light this device shows.
 */
light: Light, 
/**
 * This program's version.
 */
version: string, 
/**
 * Logs in the register.
 */
logs: number, 
/**
 * Entries in the record.
 */
entries: number, 
/**
 * Photos kept here.
 */
photos: number, 
/**
 * Their bytes.
 */
photo_bytes: number, 
/**
 * Bytes of the register itself.
 */
register_bytes: number, };

export type Spawn = "plug" | "sawdust";

export type SpotList = Record<symbol, never>;

export type SpotOrder = { 
/**
 * Every spot, in the new order.
 */
spots: Array<Id>, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type SpotRow = { 
/**
 * Its id.
 */
id: string, 
/**
 * The grower's name for it.
 */
name: string, 
/**
 * Live logs that lie there.
 */
logs: number, };

export type SpotsView = { 
/**
 * In the order they are walked.
 */
spots: Array<SpotRow>, };

export type Stage = "nothing" | "pin" | "button" | "cupped" | "opening" | "flat" | "upturned" | "knob" | "short_spines" | "long_spines" | "yellowing";

export type State = "waiting" | "spawn_run" | "may_fruit" | "pins" | "fruiting" | "resting" | "spent" | "lost" | "discarded";

export type Stop = { 
/**
 * The log.
 */
log: LogRow, 
/**
 * Why it is walked to first within its spot.
 */
risk: Risk | null, 
/**
 * What was found; null: not yet there.
 */
check: CheckRow | null, };

export type Storage = { 
/**
 * The register with its log.
 */
register_bytes: number, 
/**
 * Photos, as they came.
 */
photo_bytes: number, 
/**
 * How many.
 */
photos: number, 
/**
 * Smaller pictures made from them.
 */
made_bytes: number, 
/**
 * Snapshots.
 */
snapshots_bytes: number, 
/**
 * Backups in their folder, without photos.
 */
backups_bytes: number, };

export type StrainClass = "cold" | "warm" | "wide";

export type StrainRow = { 
/**
 * Its id.
 */
id: string, 
/**
 * The grower's name for it.
 */
name: string, 
/**
 * What it is a strain of.
 */
mushroom: Mushroom | null, 
/**
 * Its class; shiitake only.
 */
class: StrainClass | null, };

export type Tonight = { 
/**
 * The grower's name for the place.
 */
place: string | null, 
/**
 * Sunset.
 */
sunset: string | null, 
/**
 * End of civil twilight: the sun 6° down.
 */
dark: string | null, 
/**
 * When the round is due: some time after dark.
 */
go: string | null, 
/**
 * Minutes from dark to the round.
 */
after_min: number, 
/**
 * Why there is no time.
 */
why: NoDusk | null, };

export type Twin = { 
/**
 * The entry.
 */
id: string, 
/**
 * The device that entered it.
 */
device: string, 
/**
 * Whether that is this one.
 */
mine: boolean, 
/**
 * Weight, g; null: not weighed.
 */
grams: number | null, 
/**
 * Number of caps; null: not counted.
 */
caps: number | null, 
/**
 * When it was entered, RFC 3339 with the local offset.
 */
at: string, };

export type TwinAnswer = { 
/**
 * The entries.
 */
entries: Array<Id>, 
/**
 * Whether they are one picking.
 */
same: boolean, 
/**
 * The one that stays, when they are.
 */
keep?: Id | null, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type Twins = { 
/**
 * The log.
 */
log: string, 
/**
 * Its tag.
 */
tag: string, 
/**
 * The day.
 */
day: string, 
/**
 * The pickings, oldest first.
 */
entries: Array<Twin>, };

export type TwinsShow = Record<symbol, never>;

export type TwinsView = { 
/**
 * Newest day first.
 */
twins: Array<Twins>, };

export type Undo = { 
/**
 * Which; null: the last one that can be.
 */
act?: string | null, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type Untold = "few_logs" | "too_young" | "no_weights";

export type Verdict = "no_logs" | "none_fruited" | "too_few" | "one_wood" | "best" | "close";

export type Version = { 
/**
 * The value; a spot's or strain's name in place of its id.
 */
value: any, 
/**
 * The device.
 */
device: string, 
/**
 * When, RFC 3339 with the local offset.
 */
at: string, };

export type WeightUnit = "g" | "kg" | "oz" | "lb";

export type What = "logs" | "pickings";

export type Why = "spent" | "lost" | "discarded";

export type WoodChoice = { 
/**
 * Its id.
 */
id: string, 
/**
 * Common name, lower case.
 */
name: string, 
/**
 * Scientific name.
 */
scientific: string, 
/**
 * Conifers carry none of the yard's mushrooms.
 */
conifer: boolean, 
/**
 * Fitness for shiitake, 0 unsuitable to 4 best; null: nobody says.
 */
shiitake: number | null, 
/**
 * Fitness for Hericium.
 */
hericium: number | null, };

export type WoodRow = { 
/**
 * The wood's id; `None` for logs of a wood nobody named.
 */
wood: string | null, 
/**
 * Its common name.
 */
name: string | null, 
/**
 * Logs, wood waiting to be laid included.
 */
logs: number, 
/**
 * Logs that fruited.
 */
fruited: number, 
/**
 * Laid logs too young to have fruited.
 */
spawn_run: number, 
/**
 * Logs whose watch ended.
 */
ended: number, 
/**
 * Log-years of dated logs past their spawn run; `None` without such logs.
 */
log_years: LogYears | null, 
/**
 * Laid logs whose laying nobody knows.
 */
undated: number, 
/**
 * Weighed, g: at least this much was picked.
 */
grams: number, 
/**
 * Pickings.
 */
pickings: number, 
/**
 * Pickings without a weight.
 */
unweighed: number, 
/**
 * Laid logs without a size: left out of `per_litre`.
 */
unmeasured: number, 
/**
 * g per log-year.
 */
per_log_year: Range | null, 
/**
 * g per litre of wood over the life so far.
 */
per_litre: Range | null, 
/**
 * Whether the rate stands on enough.
 */
tell: boolean, 
/**
 * Why not.
 */
why: Untold | null, };

export type YardList = { 
/**
 * Part of a tag; empty for all.
 */
search: string, };

export type YardView = { 
/**
 * The local day.
 */
today: string, 
/**
 * Logs in the register.
 */
total: number, 
/**
 * Those asked for, by tag; an exact match first.
 */
logs: Array<LogRow>, };

export interface Commands {
  care_show: { request: CareShow; reply: CareView };
  details_copy: { request: DetailsCopy; reply: DetailsView };
  backup_now: { request: BackupNow; reply: JobStarted };
  backup_list: { request: BackupList; reply: BackupsView };
  backup_folder: { request: BackupFolder; reply: Nothing };
  restore_preview: { request: RestorePreview; reply: RestoreView };
  restore_do: { request: RestoreDo; reply: JobStarted };
  chores_show: { request: ChoresShow; reply: ChoresView };
  csv_look: { request: CsvLook; reply: CsvView };
  csv_try: { request: CsvTry; reply: CsvTried };
  csv_take: { request: CsvTake; reply: Done };
  yard_list: { request: YardList; reply: YardView };
  log_form: { request: LogFormAsk; reply: LogForm };
  log_add: { request: LogAdd; reply: Done };
  log_edit: { request: LogEdit; reply: Done };
  log_end: { request: LogEnd; reply: Done };
  log_show: { request: LogShow; reply: LogView };
  look_form: { request: LookFormAsk; reply: LookForm };
  look_add: { request: LookAdd; reply: Done };
  photo_keep: { request: PhotoKeep; reply: PhotoKept };
  photo_share: { request: PhotoShare; reply: PhotoShared };
  picking_form: { request: PickingFormAsk; reply: PickingForm };
  picking_add: { request: PickingAdd; reply: Done };
  round_start: { request: RoundStart; reply: Done };
  round_show: { request: RoundShow; reply: RoundView };
  round_check: { request: RoundCheck; reply: Done };
  round_spot_clean: { request: RoundSpotClean; reply: Done };
  round_end: { request: RoundEnd; reply: Done };
  spot_list: { request: SpotList; reply: SpotsView };
  spot_order: { request: SpotOrder; reply: Done };
  review_woods: { request: ReviewWoods; reply: ReviewView };
  archive_write: { request: ArchiveWrite; reply: JobStarted };
  archive_preview: { request: ArchivePreview; reply: ArchiveView };
  archive_read: { request: ArchiveRead; reply: JobStarted };
  merge_folder: { request: MergeFolder; reply: Nothing };
  merge_preview: { request: MergePreview; reply: MergeView };
  merge_do: { request: MergeDo; reply: JobStarted };
  contradictions_show: { request: ContradictionsShow; reply: ContradictionsView };
  twins_show: { request: TwinsShow; reply: TwinsView };
  twin_answer: { request: TwinAnswer; reply: Done };
  losers_show: { request: LosersShow; reply: LosersView };
  settings_show: { request: SettingsShow; reply: SettingsView };
  settings_set: { request: SettingsSet; reply: Done };
  light_set: { request: LightSet; reply: Nothing };
  draft_get: { request: DraftGet; reply: DraftView };
  draft_set: { request: DraftSet; reply: Nothing };
  act_list: { request: ActList; reply: ActsView };
  undo: { request: Undo; reply: Done };
  register_check: { request: RegisterCheck; reply: JobStarted };
  job_show: { request: JobShow; reply: JobView };
  job_cancel: { request: JobCancel; reply: JobView };
}
