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
undoable: boolean, };

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

export type By = "slugs" | "insects" | "mice" | "squirrels" | "birds" | "deer" | "other";

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
drafts: Array<DraftRow>, };

export type Damage = "none" | "some" | "much";

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
what: What, };

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
found: Array<string>, };

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

export type Method = "drilled" | "totem";

export type Mushroom = "shiitake" | "erinaceus" | "americanum";

export type NoDusk = "no_place" | "sun_never_sets" | "never_dark" | "sun_never_rises";

export type Nothing = Record<symbol, never>;

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

export type RegisterCheck = Record<symbol, never>;

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

export type What = { "kind": "look", 
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
  chores_show: { request: ChoresShow; reply: ChoresView };
  yard_list: { request: YardList; reply: YardView };
  log_form: { request: LogFormAsk; reply: LogForm };
  log_add: { request: LogAdd; reply: Done };
  log_edit: { request: LogEdit; reply: Done };
  log_end: { request: LogEnd; reply: Done };
  log_show: { request: LogShow; reply: LogView };
  look_form: { request: LookFormAsk; reply: LookForm };
  look_add: { request: LookAdd; reply: Done };
  photo_keep: { request: PhotoKeep; reply: PhotoKept };
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
