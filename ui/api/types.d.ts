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
 * The group in front.
 */
key: string | null, 
/**
 * Its name.
 */
name: string | null, 
/**
 * The probability that it is the best of those that can be told.
 */
chance: number | null, 
/**
 * Names of groups that may be as good, best first.
 */
close: Array<string>, 
/**
 * How many more logs of each of the first two would likely tell them apart.
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

export type Aside = "not_laid" | "undated" | "spawn_run" | "no_weights" | "unmeasured" | "not_soaked" | "not_judged" | "came_late" | "doubtful";

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

export type BadLine = "cut_short" | "no_such_day" | "not_a_number" | "other_station" | "says_otherwise";

export type Band = "dies" | "low" | "fair" | "ideal";

export type Bark = "tight" | "loose" | "off" | "bare";

export type Basis = "disc" | "published" | "own_wood";

export type Basket = { 
/**
 * Its id.
 */
id: string, 
/**
 * The day of its pickings.
 */
day: string, 
/**
 * When it was begun, RFC 3339 with the local offset.
 */
opened: string, 
/**
 * Its whole weight, g; null: not weighed yet.
 */
grams: number | null, 
/**
 * What lies in it, log by log.
 */
pickings: Array<InBasket>, 
/**
 * It was weighed on two devices: the weights each gave, g. One basket, or two?
 */
twice: Array<WeighedTwice>, };

export type BasketAnswer = { 
/**
 * The basket.
 */
basket: Id, 
/**
 * The weighing that stays, as its act; null: they were two baskets, and both stay.
 */
keep?: string | null, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type BasketPair = { 
/**
 * The one.
 */
one: Basket, 
/**
 * The device that began it.
 */
one_by: string, 
/**
 * The other.
 */
other: Basket, 
/**
 * The device that began it.
 */
other_by: string, 
/**
 * Tags of the logs that lie in both.
 */
tags: Array<string>, };

export type BasketPairAnswer = { 
/**
 * The one.
 */
one: Id, 
/**
 * The other.
 */
other: Id, 
/**
 * The basket that stays; null: they are two, and both stay.
 */
keep?: Id | null, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type BasketShare = { 
/**
 * The picking.
 */
entry: Id, 
/**
 * Grams.
 */
grams: number, };

export type BasketShow = { 
/**
 * The basket.
 */
basket: Id, };

export type BasketWeigh = { 
/**
 * The basket.
 */
basket: Id, 
/**
 * The whole weight, g, shared out by counts of caps; null: log by log.
 */
grams?: number | null, 
/**
 * Log by log, all of them; empty: shared out.
 */
each: Array<BasketShare>, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type BatchFields = { 
/**
 * The grower's name for it.
 */
name: string, 
/**
 * The wood's id; null when not known.
 */
wood: string | null, 
/**
 * When the trees were felled.
 */
felled: Rough | null, 
/**
 * Where the wood comes from.
 */
source: string, 
/**
 * A sample disc as it was cut, g; null: none was weighed.
 */
disc_wet_g: number | null, 
/**
 * The same disc oven-dry, g.
 */
disc_dry_g: number | null, 
/**
 * Whether it is doubtful what its logs carry: they stay out of comparisons of strains.
 */
doubtful: boolean, 
/**
 * The grower's words.
 */
note: string, };

export type BatchForm = { 
/**
 * The local day.
 */
today: string, 
/**
 * Woods by name.
 */
woods: Array<WoodLine>, 
/**
 * The batch when one is changed.
 */
batch: BatchRow | null, 
/**
 * The disc's moisture, per cent of its fresh weight.
 */
moisture_pct: number | null, };

export type BatchFormAsk = { 
/**
 * The batch to change; null for a new one.
 */
batch?: Id | null, };

export type BatchOut = { 
/**
 * The batch.
 */
batch: Id, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type BatchRow = { 
/**
 * Its id.
 */
id: string, 
/**
 * What the grower says of it.
 */
fields: BatchFields, 
/**
 * Its wood's common name.
 */
wood_name: string | null, 
/**
 * Logs of it that the register has, ended ones too.
 */
logs: number, };

export type BatchSet = { 
/**
 * The batch to change; null for a new one.
 */
batch?: Id | null, 
/**
 * What the grower says of it.
 */
fields: BatchFields, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type By = "slugs" | "insects" | "mice" | "squirrels" | "birds" | "deer" | "other";

export type CalendarFile = Record<symbol, never>;

export type CalendarView = { 
/**
 * Its name.
 */
name: string, 
/**
 * Its text (RFC 5545).
 */
text: string, };

export type Candidate = { 
/**
 * The log.
 */
row: LogRow, 
/**
 * How it fits.
 */
fit: Fit, 
/**
 * Its newest photos.
 */
photos: Array<PhotoRow>, };

export type CapAdd = { 
/**
 * What was measured.
 */
measured: CapTry, 
/**
 * The cap's number in its flush: the same cap bears the same number in the next photo.
 */
cap: number, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type CapForm = { 
/**
 * The log.
 */
log: Offered, 
/**
 * The photo.
 */
hash: string, 
/**
 * Its width as it is looked at, pixels.
 */
width: number, 
/**
 * Its height.
 */
height: number, 
/**
 * The corners of the tag's code in it, pixels; null: there is none to measure by.
 */
corners: [[number, number], [number, number], [number, number], [number, number]] | null, 
/**
 * Why there is none: `no_tag`, `too_small`, `unclear`, `heic`, `too_much_memory`.
 */
why_not: string | null, 
/**
 * The tag is another log's.
 */
other: Offered | null, 
/**
 * About how far the tag was from the camera, mm.
 */
distance_mm: number | null, 
/**
 * The printed code's width, mm.
 */
code_mm: number, 
/**
 * What was measured since the last picking, oldest first.
 */
caps: Array<CapRow>, 
/**
 * How fast they grow.
 */
growth: Growth | null, };

export type CapFormAsk = { 
/**
 * The log.
 */
log: Id, 
/**
 * The photo's hash.
 */
hash: string, };

export type CapRow = { 
/**
 * The entry.
 */
entry: string, 
/**
 * The photo.
 */
photo: string, 
/**
 * Its number in its flush.
 */
cap: number, 
/**
 * Width, tenths of mm.
 */
width_tenths: number, 
/**
 * As little as.
 */
low_tenths: number, 
/**
 * As much as.
 */
high_tenths: number, 
/**
 * The day it shows.
 */
day: string, };

export type CapTried = { 
/**
 * Width, tenths of mm.
 */
width_tenths: number, 
/**
 * As little as.
 */
low_tenths: number, 
/**
 * As much as.
 */
high_tenths: number, 
/**
 * Where the number comes from.
 */
from: WhereFrom, };

export type CapTry = { 
/**
 * The log.
 */
log: Id, 
/**
 * The photo's hash.
 */
hash: string, 
/**
 * One side of the cap, pixels of the whole photo as it is looked at.
 */
a: [number, number], 
/**
 * The other side.
 */
b: [number, number], 
/**
 * How near to what was meant each point lies, pixels.
 */
tap_px: number, 
/**
 * How far the cap's rim stands before the tag, mm; null: not said.
 */
proud_mm: number | null, };

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
damage: Damage, 
/**
 * Other animals seen.
 */
others: Array<OtherSeen>, 
/**
 * Where slugs hid.
 */
hid: Array<Hid>, 
/**
 * What was done.
 */
did: Array<Did>, };

export type Choice = { 
/**
 * What to ask for.
 */
value: string, 
/**
 * Its name; empty for what has none.
 */
name: string, 
/**
 * Logs of it in the whole register.
 */
logs: number, };

export type Chore = "frost" | "lift" | "pick" | "round" | "lay" | "water" | "weigh" | "look_again" | "look_pins" | "look_season" | "rest_over" | "overdue" | "fungus" | "backup";

export type ChorePutOff = { 
/**
 * The chore's key.
 */
key: string, 
/**
 * The day it comes back; null: now.
 */
until?: string | null, 
/**
 * Makes a double tap one act.
 */
request: string, };

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
 * What is due, the most urgent first.
 */
due: Array<Due>, 
/**
 * What is due and was put off, with the day it comes back.
 */
put_off: Array<PutOff>, 
/**
 * Logs in the tank.
 */
in_tank: number, 
/**
 * Logs with pins or caps that were seen and not picked since; the oldest sight first.
 */
caps_out: Array<LogRow>, 
/**
 * How many such logs there are: the list stops at forty.
 */
caps_out_n: number, 
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

export type ClassLine = { 
/**
 * The class.
 */
class: StrainClass, 
/**
 * Where its strains fruit unless the grower says otherwise.
 */
fruiting: Fruiting, 
/**
 * First and last month it fruits in by itself, north of the equator; null: all season.
 */
months: [number, number] | null, 
/**
 * Where these come from.
 */
from: WhereFrom, };

export type Closed = "newer" | "damaged";

export type Compared = { 
/**
 * The answer.
 */
answer: Answer, 
/**
 * The groups, best first; those that can't be told last.
 */
rows: Array<GroupRow>, 
/**
 * `beats[a][b]`: the probability that row a is better than row b, for the first told rows.
 */
beats: Array<Array<number>>, 
/**
 * What cannot be told apart from what.
 */
tied: Array<Tied>, 
/**
 * Pickings to be asked about.
 */
odd: Array<Odd>, 
/**
 * The answer without them, when there are some.
 */
without_odd: Answer | null, 
/**
 * Logs not behind the figures.
 */
left_out: Array<LeftOut>, 
/**
 * Whether groups differ at all.
 */
differ: Differ | null, 
/**
 * Standard deviation between groups, on the log scale.
 */
between: number | null, 
/**
 * What was taken out as far as it differed between logs.
 */
adjusted: Array<string>, 
/**
 * The size of log, litres, that the figures speak of.
 */
litres: number | null, };

export type Competitor = "none" | "green_mould" | "dark_crust" | "crust" | "bracket" | "grey_fan" | "other";

export type ConditionAdd = { 
/**
 * The log.
 */
log: Id, 
/**
 * The bark.
 */
bark?: Bark | null, 
/**
 * Cracks in the ends.
 */
cracks?: Cracks | null, 
/**
 * The wax.
 */
wax?: Wax | null, 
/**
 * Plugs pecked out.
 */
pecked?: Pecked | null, 
/**
 * Another fungus.
 */
competitor?: Competitor | null, 
/**
 * How far that has spread.
 */
extent?: Extent | null, 
/**
 * The day; null: today.
 */
day?: string | null, 
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

export type ConditionForm = { 
/**
 * The local day.
 */
today: string, 
/**
 * The log.
 */
row: LogRow, 
/**
 * Largest photo, bytes: asked before it is read.
 */
max_bytes: number, 
/**
 * What speaks against writing on it today: its watch has ended, or it left the yard.
 */
asks: Array<Reason>, };

export type ConditionFormAsk = { 
/**
 * The log.
 */
log: Id, };

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

export type CostsShow = Record<symbol, never>;

export type CostsView = { 
/**
 * The local day.
 */
today: string, 
/**
 * By spot, as logs lie now.
 */
by_spot: Array<LossGroup>, 
/**
 * By season.
 */
by_season: Array<LossGroup>, 
/**
 * By hours after dark.
 */
by_hours: Array<LossGroup>, 
/**
 * By days since pins.
 */
by_pins: Array<LossGroup>, 
/**
 * By what was last done at the spot in the two weeks before.
 */
by_control: Array<LossGroup>, 
/**
 * Slugs by evening.
 */
evenings: Array<SlugEvening>, 
/**
 * Early against late pickings.
 */
early: EarlyOrLate, 
/**
 * How forecasts came out.
 */
forecasts: ForecastScore, 
/**
 * Sightings outside rounds, newest first.
 */
sightings: Array<Sighting>, };

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

export type Cracks = "none" | "fine" | "wide";

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

export type CuppedForecast = { 
/**
 * One in ten is cupped before this day.
 */
from: string, 
/**
 * The middle.
 */
mid: string, 
/**
 * One in ten is cupped after this day.
 */
to: string, 
/**
 * The day to look again: before the range begins.
 */
look_on: string, 
/**
 * Looks a day from then on: two in warm spells.
 */
looks_a_day: number, 
/**
 * Of how many own fruitings.
 */
own: number, 
/**
 * The growth it was told by, mm a day; null: none was measured.
 */
grown_mm_a_day: number | null, 
/**
 * Where it comes from.
 */
from_what: WhereFrom, };

export type CurveStep = { 
/**
 * When.
 */
at: number, 
/**
 * At risk just before.
 */
at_risk: number, 
/**
 * Events then.
 */
events: number, 
/**
 * Share still without the event.
 */
share: number, 
/**
 * Greenwood's standard error.
 */
error: number, 
/**
 * Lower end of the 90 % interval.
 */
low: number, 
/**
 * Upper end.
 */
high: number, };

export type Damage = "none" | "some" | "much";

export type DateOrder = "ymd" | "dmy" | "mdy";

export type Deed = { 
/**
 * What.
 */
what: Tend, 
/**
 * For how many of the logs.
 */
logs: number, };

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

export type Did = "hand_picked" | "iron_phosphate" | "barrier" | "moved" | "picked_early";

export type Differ = { 
/**
 * `anova` or `log_rank`.
 */
form: string, 
/**
 * F, or χ².
 */
value: number, 
/**
 * Degrees of freedom: between, or the test's.
 */
df: number, 
/**
 * Degrees of freedom within; null for a log-rank.
 */
df_within: number | null, 
/**
 * Probability of a greater value were all groups alike.
 */
p: number, };

export type DiscSet = { 
/**
 * The batch.
 */
batch: Id, 
/**
 * The disc's weight on the day it was cut, g.
 */
wet_g: number, 
/**
 * Its oven-dry weight, g.
 */
dry_g: number, 
/**
 * Makes a double tap one act.
 */
request: string, };

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

export type Dot = { 
/**
 * Its figure, in the measure's unit.
 */
value: number, 
/**
 * How much it says beside the yard's weightiest log, 0 to 1.
 */
weight: number, 
/**
 * Whether it is still going on: at least so much.
 */
open: boolean, };

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

export type Drawn = { 
/**
 * From the back to the front.
 */
shapes: Array<Shape>, 
/**
 * What the picture shows, for who cannot see it and for what is printed.
 */
words: string, };

export type Due = { 
/**
 * Names it for putting it off: the same until something new makes it due.
 */
key: string, 
/**
 * What is to be done.
 */
what: Chore, 
/**
 * How much it presses.
 */
urgency: Urgency, 
/**
 * The day it is due from; null: no day in particular.
 */
since: string | null, 
/**
 * The logs, by tag.
 */
logs: Array<DueLog>, 
/**
 * The spot's name, where it is about one.
 */
spot: string | null, 
/**
 * Values for the sentence that says why.
 */
why: Record<string, any>, 
/**
 * On whose word it is due.
 */
from: WhereFrom, 
/**
 * What does it.
 */
tap: Tap, };

export type DueLog = { 
/**
 * Its id.
 */
id: string, 
/**
 * Its tag.
 */
tag: string, };

export type EarlyOrLate = { 
/**
 * Pickings up to cupped (Hericium: up to long spines).
 */
early: number, 
/**
 * Their mean damage, per cent.
 */
early_pct: number | null, 
/**
 * Their mean weight, g, of those weighed.
 */
early_g: number | null, 
/**
 * Later pickings.
 */
late: number, 
/**
 * Their mean damage, per cent.
 */
late_pct: number | null, 
/**
 * Their mean weight, g, of those weighed.
 */
late_g: number | null, 
/**
 * Either side too few to tell.
 */
few: boolean, };

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

export type Expected = { 
/**
 * How many.
 */
years: Life, 
/**
 * Where they come from.
 */
from: WhereFrom, };

export type Extent = "spots" | "patch" | "half" | "most";

export type Factors = { 
/**
 * Horizontal.
 */
hm: number, 
/**
 * Vertical.
 */
vm: number, 
/**
 * Distance.
 */
dm: number, 
/**
 * Asymmetry.
 */
am: number, 
/**
 * Frequency.
 */
fm: number, 
/**
 * Coupling.
 */
cm: number, 
/**
 * Recommended weight limit, kg.
 */
rwl_kg: number, };

export type FileUnits = "tenths" | "metric" | "us";

export type FileView = { 
/**
 * Its name.
 */
name: string, 
/**
 * Its bytes.
 */
base64: string, };

export type Fit = { 
/**
 * The spot; a log may have been moved without a word.
 */
spot: Fits, 
/**
 * The wood.
 */
wood: Fits, 
/**
 * The thickness, within [`TOLERANCE_MM`] of what was measured.
 */
thick: Fits, };

export type Fits = "yes" | "open" | "not_asked" | "no";

export type FlushGapSet = { 
/**
 * Days; null: the usual ones.
 */
days?: number | null, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type FlushHow = "split" | "join";

export type FlushMark = { 
/**
 * The picking.
 */
picking: Id, 
/**
 * How; null: by the gap again.
 */
how?: FlushHow | null, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type FlushPicking = { 
/**
 * The entry.
 */
entry: string, 
/**
 * The day.
 */
day: string, 
/**
 * Weight, g; null: not weighed.
 */
grams: number | null, 
/**
 * What the grower said of its flush.
 */
how: FlushHow | null, };

export type FlushesShow = { 
/**
 * The log.
 */
log: Id, };

export type FlushesView = { 
/**
 * Flushes, oldest first.
 */
flushes: Array<LogFlush>, 
/**
 * Pickings less than so many days apart, with no soak between, are one.
 */
gap_days: number, 
/**
 * Sightings, newest first.
 */
sightings: Array<Sighting>, 
/**
 * How likely it is lost to another fungus, and why.
 */
risk: LossView | null, };

export type Forcing = "careful" | "quick";

export type ForecastScore = { 
/**
 * Forecasts whose caps were seen cupped.
 */
n: number, 
/**
 * Of these, within the days that were shown.
 */
hits: number, 
/**
 * Share within, per cent.
 */
hit_pct: number | null, 
/**
 * Mean distance of the middle from what happened, days.
 */
miss_days: number | null, 
/**
 * Forecasts still open.
 */
open: number, 
/**
 * So few that the share says little.
 */
few: boolean, };

export type FoundAt = { 
/**
 * The log.
 */
log: string, 
/**
 * `tag`, `note` (the log's own) or `entry` (a note in its record).
 */
what: string, 
/**
 * The entry's day.
 */
day: string | null, 
/**
 * The words around, cut at a word; what was asked for stands between U+0002 and U+0003.
 */
words: string, };

export type Freshness = { 
/**
 * True for Hericium laid as totems; else for any mushroom on drilled logs.
 */
totem: boolean, 
/**
 * The last day to lay it, if it was felled on the first day its date allows.
 */
by: string, 
/**
 * Days left to that day; below nought it is past.
 */
left: number, 
/**
 * Days left if it was felled on the last day its date allows.
 */
left_most: number, 
/**
 * Past even then.
 */
stale: boolean, 
/**
 * Where the limit comes from.
 */
from: WhereFrom, };

export type FrostBasis = "forecast" | "month";

export type Fruiting = { 
/**
 * From.
 */
from_dc: number, 
/**
 * To.
 */
to_dc: number, };

export type Grip = "good" | "fair" | "poor";

export type Ground = "soil" | "litter" | "grass" | "gravel" | "rails" | "floor";

export type GroupBy = "wood" | "strain" | "class" | "method" | "spawn" | "spot" | "thickness" | "laid_month" | "laid_year" | "wood_source" | "spawn_source" | "mushroom";

export type GroupRow = { 
/**
 * Its key; null for logs of a kind nobody named.
 */
key: string | null, 
/**
 * Its name.
 */
name: string | null, 
/**
 * All its logs.
 */
logs: number, 
/**
 * Those behind the figure.
 */
used: number, 
/**
 * Logs that fruited.
 */
fruited: number, 
/**
 * Laid logs in their spawn run.
 */
spawn_run: number, 
/**
 * Logs whose watch ended.
 */
ended: number, 
/**
 * Years that dated logs were watched.
 */
log_years: number, 
/**
 * Weighed, g: at least this much was picked.
 */
grams: number, 
/**
 * Pickings.
 */
pickings: number, 
/**
 * Pickings nobody weighed.
 */
unweighed: number, 
/**
 * The figure by plain division or counting, nothing pooled and nothing adjusted.
 */
plain: number | null, 
/**
 * The figure.
 */
mean: number | null, 
/**
 * Lower end of its 90 % interval.
 */
low: number | null, 
/**
 * Upper end; null where it is not reached.
 */
high: number | null, 
/**
 * Probability of being the best of those that can be told.
 */
best: number | null, 
/**
 * How far it was drawn to the yard's mean, 0 to 1.
 */
pull: number | null, 
/**
 * Whether the figure stands on enough.
 */
tell: boolean, 
/**
 * Why not.
 */
why: Untold | null, 
/**
 * Its logs. A screen gets some of them, evenly through all: more would hide each other.
 */
dots: Array<Dot>, 
/**
 * For a time: the share without the event, by years.
 */
curve: Array<CurveStep>, 
/**
 * Where the figure comes from.
 */
from: WhereFrom, };

export type Growth = { 
/**
 * Tenths of mm a day, the mean of the caps that were measured more than once.
 */
tenths_a_day: number, 
/**
 * It may be as little as this.
 */
low: number, 
/**
 * Or as much.
 */
high: number, 
/**
 * Caps that it was read from.
 */
caps: number, 
/**
 * Hours between the first and the last photo.
 */
hours: number, 
/**
 * The widest cap when last measured, tenths of mm.
 */
widest_tenths: number, 
/**
 * When that was, local time, `YYYY-MM-DDThh:mm`.
 */
last: string, };

export type HeapOf = { 
/**
 * `2026-05` for a month, `2026-W19` for an ISO week, `2026` for a year, a class's word, or a season's.
 */
of: string, 
/**
 * Weighed, g.
 */
grams: number, 
/**
 * Pickings.
 */
pickings: number, 
/**
 * Those nobody weighed.
 */
unweighed: number, };

export type Hid = "caps" | "under" | "bark" | "litter" | "face";

export type How = "seen" | "clean" | "skipped" | "tallied";

export type Id = string;

export type InBasket = { 
/**
 * The entry.
 */
entry: string, 
/**
 * The log.
 */
log: string, 
/**
 * Its tag.
 */
tag: string, 
/**
 * Caps; null: not counted.
 */
caps: number | null, 
/**
 * Its share, g; null: not weighed yet.
 */
grams: number | null, 
/**
 * The act that wrote it.
 */
act: string, };

export type Input = { 
/**
 * Its key; the screen has the word for it.
 */
name: string, 
/**
 * Its value, in the unit the key says (`_g`, `_mm`, `_dc`, `_days`, `_pct`), or a word.
 */
value: JsonValue, };

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

export type JsonValue = number | string | boolean | Array<JsonValue> | { [key in string]: JsonValue } | null;

export type Kept = "cold" | "cool" | "room";

export type LastCheck = { 
/**
 * When it ended, RFC 3339 with the local offset.
 */
at: string, 
/**
 * What was not as it should be; empty when sound.
 */
found: Array<string>, };

export type Layout = "dly" | "long" | "wide";

export type LeftOut = { 
/**
 * Why.
 */
why: Aside, 
/**
 * How many.
 */
logs: number, };

export type LengthUnit = "mm" | "cm" | "in";

export type Letters = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";

export type Life = { 
/**
 * Fewest.
 */
from: number, 
/**
 * Most.
 */
to: number, };

export type Lift = "soaking" | "may_lift" | "lift_now" | "too_long";

export type LiftScreen = { 
/**
 * The log; null: only the weight counts.
 */
log?: Id | null, 
/**
 * The weight, g; null: the log's last weight, or what size and wood give.
 */
grams?: number | null, 
/**
 * Hands in front of the ankles, mm.
 */
h_mm: number, 
/**
 * Hands above the ground where it begins, mm.
 */
from_mm: number, 
/**
 * Where it ends, mm.
 */
to_mm: number, 
/**
 * Turn of the body, degrees.
 */
turn_deg: number, 
/**
 * Lifts a minute of lifting, tenths.
 */
lifts_tenths: number, 
/**
 * Minutes of lifting in each quarter of an hour.
 */
work_min: number, 
/**
 * How long it goes on.
 */
spell: Spell, 
/**
 * How well it can be gripped.
 */
grip: Grip, };

export type LiftView = { 
/**
 * The log's tag.
 */
tag: string | null, 
/**
 * The weight it was asked with, g; null: not known.
 */
grams: number | null, 
/**
 * `typed`, `weighed` or `about`.
 */
grams_are: string, 
/**
 * Lifts a minute as the equation counts them.
 */
per_min: number, 
/**
 * The answer; null without a weight.
 */
screened: Screened | null, };

export type Light = "system" | "day" | "lamp";

export type LightSet = { 
/**
 * Which.
 */
light: Light, };

export type LineLeftOut = { 
/**
 * Counted from 1.
 */
line: number, 
/**
 * Why.
 */
why: BadLine, 
/**
 * The day or the piece of text, to find it by.
 */
what: string, };

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
 * The batch of wood it was cut with, by id.
 */
batch?: string | null, 
/**
 * The spawn lot it was laid with, by id.
 */
lot?: string | null, 
/**
 * Anything else.
 */
note: string, };

export type LogFlush = { 
/**
 * Counted from 1.
 */
n: number, 
/**
 * Its first picking's day.
 */
from: string, 
/**
 * Its last picking's day.
 */
to: string, 
/**
 * Weight, g, of those weighed.
 */
grams: number, 
/**
 * Pickings not weighed.
 */
unweighed: number, 
/**
 * Its pickings, oldest first.
 */
pickings: Array<FlushPicking>, };

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
 * Batches of wood, the newest first.
 */
batches: Array<BatchRow>, 
/**
 * Spawn lots, the newest first.
 */
lots: Array<LotRow>, 
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

export type LogMove = { 
/**
 * The logs.
 */
logs: Array<Id>, 
/**
 * Where to.
 */
spot: Id, 
/**
 * Why.
 */
why: MoveWhy, 
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

export type LogRetag = { 
/**
 * The log.
 */
log: Id, 
/**
 * What stands on its new label.
 */
tag: string, 
/**
 * Makes a double tap one act.
 */
request: string, };

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
photo: string | null, 
/**
 * Whether its batch or spawn lot is marked: what it carries is doubtful, and it stays out of
 * comparisons of strains.
 */
doubtful: boolean, 
/**
 * Another live log carries the same tag.
 */
tag_twice: boolean, 
/**
 * Its end-grain picture.
 */
grain: Drawn, };

export type LogShow = { 
/**
 * The log.
 */
log: Id, };

export type LogUnend = { 
/**
 * The log.
 */
log: Id, 
/**
 * Makes a double tap one act.
 */
request: string, };

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
entries: Array<Entry>, 
/**
 * When first fruit may be expected; null once it fruited, or when its laying is not known.
 */
first_fruit: Window | null, 
/**
 * Years it is expected to bear.
 */
life: Expected, 
/**
 * How long its wood can still wait; empty once it is laid, or when nobody knows the felling.
 */
fresh: Array<Freshness>, 
/**
 * Its batch's name.
 */
batch_name: string | null, 
/**
 * Its spawn lot's name.
 */
lot_name: string | null, 
/**
 * How fast its caps grow, when they were measured in photos.
 */
growth: Growth | null, };

export type LogsAdd = { 
/**
 * What they share; its tag is the first one, its size counts for nothing.
 */
fields: LogFields, 
/**
 * One a log, in the order of their tags.
 */
sizes: Array<Size>, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

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
 * Now, or last night, typed in afterwards; null: now.
 */
when?: RoundWhen | null, 
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
max_bytes: number, 
/**
 * What to ask first when fruit is seen.
 */
asks: Array<Reason>, 
/**
 * Set when its class does not fruit in these months: is the tag right?
 */
season: OutOfSeason | null, };

export type LookFormAsk = { 
/**
 * The log.
 */
log: Id, };

export type Loose = { 
/**
 * The photo.
 */
photo: PhotoRow, 
/**
 * The day it shows.
 */
day: string, };

export type LooseList = Record<symbol, never>;

export type LooseView = { 
/**
 * The local day.
 */
today: string, 
/**
 * Photos that belong to no log, newest first.
 */
loose: Array<Loose>, 
/**
 * All logs, by tag.
 */
logs: Array<Offered>, 
/**
 * Largest photo, bytes: asked before it is read.
 */
max_bytes: number, 
/**
 * Most photos that go into one act.
 */
together: number, };

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

export type LossGroup = { 
/**
 * Its key: a name, a season such as `2026-23`, an hour or days such as `0-1`, a word; empty: none.
 */
key: string, 
/**
 * Stops where damage was judged.
 */
stops: number, 
/**
 * Of these, damaged.
 */
damaged: number, 
/**
 * Slugs found at all its stops.
 */
slugs: number, 
/**
 * Too few to tell.
 */
few: boolean, };

export type LossRisk = "watch" | "high";

export type LossView = { 
/**
 * How likely.
 */
risk: LossRisk, 
/**
 * Why.
 */
why: LossWhy, 
/**
 * What was seen last; null: a word of a newer version.
 */
what: Sighted | null, 
/**
 * How much of the log it held; null: not said.
 */
extent: Reach | null, 
/**
 * What that tells of the log.
 */
tells: Tells | null, 
/**
 * The day of it.
 */
day: string, 
/**
 * On how many days a competitor was seen.
 */
days: number, };

export type LossWhy = "seen" | "again" | "half";

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

export type LostTagFind = { 
/**
 * Where it lies: a spot's id.
 */
spot?: string | null, 
/**
 * Its wood's id.
 */
wood?: string | null, 
/**
 * Its thickness, mm.
 */
thick_mm?: number | null, };

export type LostTagView = { 
/**
 * The local day.
 */
today: string, 
/**
 * A tag that is free.
 */
next_tag: string, 
/**
 * Spots in walking order.
 */
spots: Array<SpotRow>, 
/**
 * Woods that logs of this yard are of.
 */
woods: Array<Choice>, 
/**
 * How far a measure may differ from the one written down, mm.
 */
tolerance_mm: number, 
/**
 * How many live logs it can be.
 */
found: number, 
/**
 * The first of them, those that fit best first.
 */
candidates: Array<Candidate>, };

export type LotFields = { 
/**
 * The grower's name for it.
 */
name: string, 
/**
 * The strain's id; null when not known.
 */
strain: string | null, 
/**
 * The form it comes in.
 */
form: Spawn | null, 
/**
 * From where it came.
 */
source: string, 
/**
 * When it was received or made.
 */
received: Rough | null, 
/**
 * How it is kept.
 */
kept: Kept | null, 
/**
 * Whether it is doubtful what it is: its logs stay out of comparisons of strains.
 */
doubtful: boolean, 
/**
 * The grower's words.
 */
note: string, };

export type LotOut = { 
/**
 * The lot.
 */
lot: Id, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type LotRow = { 
/**
 * Its id.
 */
id: string, 
/**
 * What the grower says of it.
 */
fields: LotFields, 
/**
 * Its strain's name.
 */
strain_name: string | null, 
/**
 * What it is spawn of.
 */
mushroom: Mushroom | null, 
/**
 * Its strain's class.
 */
class: StrainClass | null, 
/**
 * Logs laid with it.
 */
logs: number, };

export type LotSet = { 
/**
 * The lot to change; null for a new one.
 */
lot?: Id | null, 
/**
 * What the grower says of it.
 */
fields: LotFields, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type MapView = { 
/**
 * The local day.
 */
today: string, 
/**
 * In walking order; logs without a spot come last.
 */
stations: Array<Station>, };

export type Mark = "published" | "derived" | "common" | "memory" | "own" | "chosen";

export type Meaning = "tag" | "wood" | "d1" | "d2" | "d3" | "length" | "felled" | "mushroom" | "strain" | "strain_class" | "spawn" | "method" | "laid" | "spot" | "day" | "weight" | "caps" | "damaged_pct" | "by" | "note";

export type Measure = "log_year" | "litre" | "dry_kg" | "soak" | "life" | "soonest" | "longest" | "damage" | "competitors";

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

export type Moisture = { 
/**
 * Per cent of the wet weight; null: neither a disc nor the wood's figure is known.
 */
pct: number | null, 
/**
 * What that means; null: not known.
 */
band: Band | null, 
/**
 * What the dry mass was taken from.
 */
basis: Basis | null, 
/**
 * How far it is below its first weight, per cent.
 */
below_first_pct: number, 
/**
 * The weight at which it has lost 10 % of the first, g.
 */
line_g: number, 
/**
 * What it weighs at 35 %, g.
 */
ideal_g: number | null, 
/**
 * What it weighs at 23 %, g.
 */
dies_g: number | null, 
/**
 * The wood was under 35 % on the day it was felled: that alone alarms nobody.
 */
felled_dry: boolean, 
/**
 * Whether it wants water.
 */
water: boolean, 
/**
 * Where it comes from.
 */
from: WhereFrom, };

export type MoistureList = Record<symbol, never>;

export type MoistureRow = { 
/**
 * Its id.
 */
id: string, 
/**
 * Its tag.
 */
tag: string, 
/**
 * Its state today.
 */
state: State, 
/**
 * Its spot's id.
 */
spot_id: string | null, 
/**
 * Its spot's name.
 */
spot: string | null, 
/**
 * Whether it is in its spawn run.
 */
spawn_run: boolean, 
/**
 * Its newest weight, g.
 */
last_g: number | null, 
/**
 * That day.
 */
last_day: string | null, 
/**
 * In the spawn run and weighed; null otherwise.
 */
moisture: Moisture | null, 
/**
 * About its fresh weight, g.
 */
about_g: number | null, 
/**
 * The newest watering.
 */
watered: string | null, 
/**
 * Rain that reached it in a week, tenths of mm; null: not known.
 */
week_tenths: number | null, 
/**
 * Days since rain wet it; null: not known.
 */
dry_days: number | null, 
/**
 * Whether it wants water.
 */
thirsty: boolean, };

export type MoistureRows = { 
/**
 * The local day.
 */
today: string, 
/**
 * The logs: those that want water by who gets it first, then the rest by tag.
 */
logs: Array<MoistureRow>, 
/**
 * Litres for one log when there are few, tenths.
 */
sip_tenths: number, 
/**
 * On whose word one waters.
 */
from: WhereFrom, };

export type MoistureShow = { 
/**
 * The log.
 */
log: Id, };

export type MoistureView = { 
/**
 * The local day.
 */
today: string, 
/**
 * The log.
 */
id: string, 
/**
 * Its tag.
 */
tag: string, 
/**
 * Its state today.
 */
state: State, 
/**
 * Whether it is in its spawn run.
 */
spawn_run: boolean, 
/**
 * Its weighings, oldest first.
 */
weighings: Array<WeighedDay>, 
/**
 * In the spawn run and weighed; null otherwise.
 */
moisture: Moisture | null, 
/**
 * Its weight after its last soak, g.
 */
soaked_grams: number | null, 
/**
 * How far it is below that, per cent, after the spawn run.
 */
below_soaked_pct: number | null, 
/**
 * About its fresh weight, g.
 */
about_g: number | null, 
/**
 * Where that comes from.
 */
about_from: WhereFrom | null, 
/**
 * The most it can weigh, g.
 */
most_g: number | null, 
/**
 * Its batch.
 */
batch: string | null, 
/**
 * The batch's disc, g wet.
 */
disc_wet_g: number | null, 
/**
 * The batch's disc, g oven-dry.
 */
disc_dry_g: number | null, 
/**
 * The newest watering.
 */
watered: string | null, };

export type MoveForm = { 
/**
 * The local day.
 */
today: string, 
/**
 * Spots in walking order.
 */
spots: Array<SpotRow>, 
/**
 * Those that are kept from frost.
 */
heated: Array<string>, 
/**
 * Whether frost is to be reckoned with.
 */
frost: boolean, 
/**
 * What says so.
 */
basis: FrostBasis, 
/**
 * The logs that are live, by tag.
 */
logs: Array<MoveLog>, };

export type MoveFormAsk = { 
/**
 * Only the logs at this spot; null: all.
 */
spot?: Id | null, 
/**
 * Only this log.
 */
log?: Id | null, };

export type MoveLog = { 
/**
 * Its id.
 */
id: string, 
/**
 * Its tag.
 */
tag: string, 
/**
 * The wood's common name.
 */
wood_name: string | null, 
/**
 * What it carries.
 */
mushroom: Mushroom, 
/**
 * Its state.
 */
state: State, 
/**
 * Where it is.
 */
spot_id: string | null, 
/**
 * The name of that spot.
 */
spot: string | null, 
/**
 * Why it should come in now.
 */
bring_in: MoveReason | null, 
/**
 * Why it should go out now.
 */
harden_off: MoveReason | null, };

export type MoveReason = "frost_on_caps" | "frost_after_soak" | "frost_first_winter" | "frost_over";

export type MoveWhy = "plain" | "bring_in" | "harden_off" | "corrected";

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
damage: Damage, } | { "kind": "soak", 
/**
 * Which.
 */
part: Part, 
/**
 * The water, tenths of °C; null: not measured.
 */
water_dc: number | null, 
/**
 * The log's weight, g; null: not weighed.
 */
grams: number | null, } | { "kind": "weighing", 
/**
 * g.
 */
grams: number, } | { "kind": "watering", 
/**
 * Litres, tenths; null: not said.
 */
litres_tenths: number | null, } | { "kind": "sighting", 
/**
 * What was seen.
 */
what: Sighted, 
/**
 * How many; null: not counted.
 */
n: number | null, } | { "kind": "ending", 
/**
 * Why.
 */
why: Why, } | { "kind": "move", 
/**
 * The spot's id.
 */
spot_id: string | null, 
/**
 * The spot's name now.
 */
spot: string | null, 
/**
 * Why.
 */
reason: MoveWhy, } | { "kind": "condition", 
/**
 * The bark.
 */
bark: Bark | null, 
/**
 * Cracks in the ends.
 */
cracks: Cracks | null, 
/**
 * The wax.
 */
wax: Wax | null, 
/**
 * Plugs pecked out.
 */
pecked: Pecked | null, 
/**
 * Another fungus.
 */
competitor: Competitor | null, 
/**
 * How far that has spread.
 */
extent: Extent | null, } | { "kind": "tending", 
/**
 * What.
 */
what: Tend, } | { "kind": "photo", } | { "kind": "measure", 
/**
 * Its number in its flush.
 */
cap: number, 
/**
 * Width, tenths of mm.
 */
width_tenths: number, 
/**
 * As little as.
 */
low_tenths: number, 
/**
 * As much as.
 */
high_tenths: number, };

export type Odd = { 
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
 * What stands there, g.
 */
grams: number, 
/**
 * The yard's usual picking of that mushroom, g.
 */
usual: number, };

export type Offered = { 
/**
 * Its id.
 */
log: string, 
/**
 * Its tag.
 */
tag: string, };

export type OriginalsHome = { 
/**
 * The job's id, made by the screen.
 */
request: string, };

export type OriginalsOut = { 
/**
 * The folder: a card, a disk.
 */
folder: string, 
/**
 * Bytes of originals to keep here.
 */
keep_bytes: number, 
/**
 * The job's id, made by the screen.
 */
request: string, };

export type Orphan = { 
/**
 * The hash that is its name.
 */
hash: string, 
/**
 * Length, bytes.
 */
bytes: number, };

export type OtherSeen = "beetles" | "springtails" | "mice" | "squirrels" | "birds" | "deer";

export type OutOfSeason = { 
/**
 * The class.
 */
class: StrainClass, 
/**
 * The first and the last month it fruits in by itself, where the yard is.
 */
months: [number, number], 
/**
 * Where they come from.
 */
from: WhereFrom, };

export type Paper = "a4" | "letter";

export type Part = "in" | "out";

export type PdfLog = { 
/**
 * The log.
 */
log: string, 
/**
 * The hash of its photo; null: none.
 */
photo?: string | null, 
/**
 * Words, a line each.
 */
words: Array<string>, };

export type PdfMake = { 
/**
 * The file's name without its ending.
 */
name: string, 
/**
 * What is in it.
 */
parts: Array<PdfPart>, };

export type PdfPart = { "part": "heading", 
/**
 * Its words.
 */
words: string, 
/**
 * Whether it is the document's own.
 */
first: boolean, } | { "part": "words", 
/**
 * Its words.
 */
words: string, } | { "part": "row", 
/**
 * The cells.
 */
cells: Array<string>, 
/**
 * Whether it is the head.
 */
head: boolean, } | { "part": "interval", 
/**
 * The group.
 */
name: string, 
/**
 * The figure.
 */
mean: number, 
/**
 * Its interval's lower end.
 */
low: number, 
/**
 * Its upper end.
 */
high: number, 
/**
 * Where the scale ends.
 */
end: number, } | { "part": "logs", 
/**
 * The logs, at most three.
 */
logs: Array<PdfLog>, } | { "part": "bars", 
/**
 * Words.
 */
words: Array<string>, 
/**
 * Heights.
 */
values: Array<number>, };

export type Pecked = "none" | "some" | "many";

export type PhotoAdd = { 
/**
 * The photos, kept before.
 */
photos: Array<Taken>, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type PhotoFind = { 
/**
 * Its hash.
 */
hash: string, };

export type PhotoFound = { 
/**
 * Its hash.
 */
hash: string, 
/**
 * Logs whose tags are in it, the largest tag first.
 */
logs: Array<Offered>, 
/**
 * Tags in it that name no log of this register.
 */
strangers: number, 
/**
 * The log that was last written about.
 */
last: Offered | null, 
/**
 * Logs that it is tied to already.
 */
tied: Array<Offered>, 
/**
 * It lies among the loose photos.
 */
loose: boolean, 
/**
 * Why it could not be looked at: `heic` or `too_much_memory`.
 */
unseen: string | null, };

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
already: boolean, 
/**
 * Why it is kept but cannot be shown here: `heic` or `too_much_memory`.
 */
unshown: string | null, };

export type PhotoRoom = Record<symbol, never>;

export type PhotoRoomView = { 
/**
 * Originals on this device.
 */
here: number, 
/**
 * Their bytes.
 */
here_bytes: number, 
/**
 * Originals that were moved out from this device.
 */
moved: number, 
/**
 * Their bytes.
 */
moved_bytes: number, 
/**
 * The folders they were moved to.
 */
folders: Array<string>, 
/**
 * Previews, bytes.
 */
made_bytes: number, 
/**
 * Files that lie among the photos without a record of them. They are listed, never swept.
 */
orphans: Array<Orphan>, 
/**
 * Photos that belong to no log.
 */
loose: number, };

export type PhotoRow = { 
/**
 * The entry that ties it.
 */
entry: string, 
/**
 * The hash of its bytes.
 */
hash: string, 
/**
 * Whether its file is on this device.
 */
here: boolean, 
/**
 * The folder its file was moved to from this device.
 */
moved: string | null, 
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

export type PhotoTie = { 
/**
 * The entry that ties it now.
 */
entry: Id, 
/**
 * The log; null: to the loose photos.
 */
log: Id | null, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type PickDone = { 
/**
 * What was seen.
 */
seen: Stage | null, 
/**
 * The day to look again.
 */
again: string | null, 
/**
 * Pickings entered.
 */
pickings: number, 
/**
 * Their weight, g, of those weighed.
 */
grams: number, 
/**
 * How many are not weighed.
 */
unweighed: number, 
/**
 * How many lie in a basket that is still open.
 */
in_basket: number, 
/**
 * Caps, of those counted.
 */
caps: number, 
/**
 * Passed over.
 */
skipped: boolean, };

export type PickLook = { 
/**
 * The round.
 */
round: Id, 
/**
 * The log.
 */
log: Id, 
/**
 * What was seen.
 */
seen: Stage, 
/**
 * The day to look again; null: as the forecast has it.
 */
again?: string | null, 
/**
 * Hashes of photos kept before.
 */
photos: Array<string>, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type PickQuality = "best" | "good" | "poor";

export type PickRoundShow = { 
/**
 * The round.
 */
round: Id, };

export type PickRoundView = { 
/**
 * The round and its sums.
 */
round: RoundRow, 
/**
 * Logs with caps first, by urgency; then all others.
 */
stops: Array<PickStop>, 
/**
 * How many of them have caps.
 */
asked: number, 
/**
 * The first stop with caps where nothing was done.
 */
next: number | null, 
/**
 * Baskets of this round, the open one last.
 */
baskets: Array<Basket>, 
/**
 * What can have damaged the caps.
 */
by: Array<By>, 
/**
 * Largest photo, bytes: asked before it is read.
 */
max_bytes: number, };

export type PickSkip = { 
/**
 * The round.
 */
round: Id, 
/**
 * The log.
 */
log: Id, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type PickStop = { 
/**
 * The log.
 */
log: LogRow, 
/**
 * The caps that were out when the round came; null: none known.
 */
stage: Stage | null, 
/**
 * When that was seen.
 */
seen_on: string | null, 
/**
 * The day that the look before named for this one.
 */
again: string | null, 
/**
 * When its caps should be cupped.
 */
forecast: CuppedForecast | null, 
/**
 * What was done; null: not yet there.
 */
done: PickDone | null, };

export type PickTake = { 
/**
 * The round.
 */
round: Id, 
/**
 * The log.
 */
log: Id, 
/**
 * The caps as they were picked; null: not said.
 */
seen?: Stage | null, 
/**
 * Weight, g; null: not weighed, or weighed later.
 */
grams?: number | null, 
/**
 * It went into the basket that is weighed in the kitchen.
 */
basket: boolean, 
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
 * How good they were.
 */
quality?: PickQuality | null, 
/**
 * Hashes of photos kept before.
 */
photos: Array<string>, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type PickingAdd = { 
/**
 * The log.
 */
log: Id, 
/**
 * The day; null: as `when` says.
 */
day?: string | null, 
/**
 * Without a day: now, or last night, typed in afterwards; null: now.
 */
when?: RoundWhen | null, 
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
by: Array<By>, 
/**
 * What to ask first.
 */
asks: Array<Reason>, 
/**
 * Set when its class does not fruit in these months: is the tag right?
 */
season: OutOfSeason | null, };

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

export type Pinned = { 
/**
 * The log.
 */
log: string, 
/**
 * Its tag.
 */
tag: string, 
/**
 * The day pins were first seen in these days.
 */
day: string, 
/**
 * What was seen then.
 */
seen: Stage | null, 
/**
 * The newest photo of these days; null: none was taken.
 */
photo: PhotoRow | null, };

export type PinnedView = { 
/**
 * The local day.
 */
today: string, 
/**
 * The first of the days.
 */
from: string, 
/**
 * The logs, by the day pins were seen.
 */
pinned: Array<Pinned>, };

export type PinnedWeek = Record<symbol, never>;

export type Place = "backups" | "snapshots";

export type Published = { 
/**
 * Steps of wood ids.
 */
order: Array<Array<string>>, 
/**
 * The source.
 */
source: string, };

export type PutOff = { 
/**
 * The chore.
 */
due: Due, 
/**
 * The day it comes back.
 */
until: string, };

export type Question = { 
/**
 * What logs are told apart by.
 */
by: GroupBy, 
/**
 * What best means.
 */
measure: Measure, 
/**
 * Logs that carry this.
 */
mushroom?: Mushroom | null, 
/**
 * Laid in this year or later.
 */
from?: number | null, 
/**
 * Laid in this year or before.
 */
to?: number | null, 
/**
 * In the spot of this name.
 */
spot?: string | null, };

export type Rain = "all" | "some" | "none";

export type Rating = { 
/**
 * The least any source gives.
 */
low: number, 
/**
 * The most any source gives.
 */
high: number, };

export type Reach = "spot" | "part" | "most";

export type Reason = "not_laid" | "too_young" | "still_resting" | "caps_out" | "cold_strain" | "totem" | "hericium" | "in_tank" | "not_in_tank" | "ended_already" | "away" | "not_ended" | "day_before";

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

export type ReviewAsk = { 
/**
 * The question.
 */
question: Question, };

export type ReviewChoices = { 
/**
 * Mushrooms that laid logs carry, the one on most logs first.
 */
mushrooms: Array<Mushroom>, 
/**
 * Spots.
 */
spots: Array<string>, 
/**
 * Years of laying.
 */
years: Array<number>, };

export type ReviewSheet = { 
/**
 * The question that was answered.
 */
question: Question, };

export type ReviewView = { 
/**
 * The local day.
 */
today: string, 
/**
 * What was asked.
 */
question: Question, 
/**
 * What else can be asked.
 */
choices: ReviewChoices, 
/**
 * Published orderings of the same woods, never part of the figures.
 */
published: Array<Published>, 
/**
 * What was assumed beforehand.
 */
assumed: Array<WhereFrom>, 
/**
 * The answer.
 */
answer: Answer, 
/**
 * The groups, best first; those that can't be told last.
 */
rows: Array<GroupRow>, 
/**
 * `beats[a][b]`: the probability that row a is better than row b, for the first told rows.
 */
beats: Array<Array<number>>, 
/**
 * What cannot be told apart from what.
 */
tied: Array<Tied>, 
/**
 * Pickings to be asked about.
 */
odd: Array<Odd>, 
/**
 * The answer without them, when there are some.
 */
without_odd: Answer | null, 
/**
 * Logs not behind the figures.
 */
left_out: Array<LeftOut>, 
/**
 * Whether groups differ at all.
 */
differ: Differ | null, 
/**
 * Standard deviation between groups, on the log scale.
 */
between: number | null, 
/**
 * What was taken out as far as it differed between logs.
 */
adjusted: Array<string>, 
/**
 * The size of log, litres, that the figures speak of.
 */
litres: number | null, };

export type Risk = "caps" | "damage" | "slugs" | "wet";

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
 * Other animals seen.
 */
others?: Array<OtherSeen> | null, 
/**
 * Where slugs hid.
 */
hid?: Array<Hid> | null, 
/**
 * What was done.
 */
did?: Array<Did> | null, 
/**
 * Now, or last night, typed in afterwards; null: now.
 */
when?: RoundWhen | null, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type RoundDue = { 
/**
 * Which round.
 */
kind: RoundKind, 
/**
 * Logs it is due for.
 */
logs: number, 
/**
 * Why: the most urgent stage seen, or `weather`.
 */
why: string, 
/**
 * How often today: twice in warm spells.
 */
times: number, };

export type RoundEnd = { 
/**
 * The round.
 */
round: Id, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type RoundKind = "night" | "picking";

export type RoundRow = { 
/**
 * Its id.
 */
id: string, 
/**
 * What it is for.
 */
kind: RoundKind, 
/**
 * The evening's day.
 */
day: string, 
/**
 * The spots it walks to; empty: all.
 */
spots: Array<string>, 
/**
 * A child's: it only tallies.
 */
child: boolean, 
/**
 * Entered afterwards.
 */
later: boolean, 
/**
 * Rounds of the same evening that others began and that are counted with it.
 */
halves: number, 
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

export type RoundSheet = { 
/**
 * The evening it was walked on.
 */
day: string, 
/**
 * The logs that were looked at; others were not reached.
 */
lines: Array<SheetLine>, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

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

export type RoundSpotChoice = { 
/**
 * Its id.
 */
id: string, 
/**
 * Its name.
 */
name: string, 
/**
 * Logs that a round walks to.
 */
logs: number, };

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
 * Now, or last night, typed in afterwards; null: now.
 */
when?: RoundWhen | null, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type RoundStart = { 
/**
 * What for; null: slugs by night.
 */
kind?: RoundKind | null, 
/**
 * When it is walked; null: now. One of last night is typed in afterwards.
 */
when?: RoundWhen | null, 
/**
 * The spots it walks to; null: all.
 */
spots?: Array<Id> | null, 
/**
 * A child's: it only tallies.
 */
child?: boolean | null, 
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
spots: Array<RoundSpot>, 
/**
 * The round's night is over: what is entered now was most likely seen last night.
 */
afterwards: boolean, };

export type RoundWhen = "now" | "last_night";

export type RoundsShow = Record<symbol, never>;

export type RoundsView = { 
/**
 * The local day.
 */
today: string, 
/**
 * The evening that runs, or ran last.
 */
evening: string, 
/**
 * How tonight suits slugs; null: no weather is known.
 */
weather: SlugWeather | null, 
/**
 * Rounds that are due.
 */
due: Array<RoundDue>, 
/**
 * This evening's night round, if it is open.
 */
night: RoundRow | null, 
/**
 * Today's picking round, if it is open.
 */
picking: RoundRow | null, 
/**
 * Logs with pins or caps.
 */
caps: number, 
/**
 * Spots, in walking order.
 */
spots: Array<RoundSpotChoice>, 
/**
 * Baskets to be weighed, or asked about.
 */
baskets: Array<Basket>, 
/**
 * Baskets that may be one, entered on two devices.
 */
pairs: Array<BasketPair>, 
/**
 * The newest rounds.
 */
rounds: Array<RoundRow>, 
/**
 * Whether a place is set, so that tonight has an hour.
 */
has_hour: boolean, };

export type Sample = LogFields | PickingLine;

export type Screened = { 
/**
 * Where it begins.
 */
start: Factors, 
/**
 * Where it ends, when it must be set down with care.
 */
end: Factors, 
/**
 * The smaller limit of the two, g.
 */
limit_g: number, 
/**
 * The load over the limit; null where the limit is 0: such a lift is out of the question.
 */
index: number | null, 
/**
 * Where it comes from.
 */
from: WhereFrom, };

export type SeasonBest = { 
/**
 * The mushroom.
 */
mushroom: Mushroom, 
/**
 * The woods of all its logs, grams for a log and year.
 */
woods: Compared, };

export type SeasonLog = { 
/**
 * The log.
 */
log: LogRow, 
/**
 * Weighed in the season, g.
 */
grams: number, 
/**
 * Pickings of the season that nobody weighed.
 */
unweighed: number, 
/**
 * Its newest photo of the season that can be shown here, by its hash.
 */
photo: string | null, };

export type SeasonShow = { 
/**
 * The year in which the season begins; null: the season of today.
 */
year?: number | null, };

export type SeasonView = { 
/**
 * The local day.
 */
today: string, 
/**
 * The yard's place, as the grower named it.
 */
place: string, 
/**
 * The harvest.
 */
season: YearOf, 
/**
 * How the forecasts made in the season came out.
 */
forecasts: ForecastScore, 
/**
 * What did best, by mushroom.
 */
best: Array<SeasonBest>, 
/**
 * The logs that gave most in the season, at most three.
 */
most: Array<SeasonLog>, 
/**
 * Logs with pins or caps on them today, at most three; none for a season that is over.
 */
out: Array<SeasonLog>, };

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
 * What figures are shown in.
 */
units: Units, 
/**
 * How old a log is before its first soak.
 */
forcing: Forcing, 
/**
 * Month and day a season begins on, `MM-DD`; null: as the hemisphere has it.
 */
season_first: string | null, 
/**
 * What that is.
 */
usual_first: string, 
/**
 * Pickings of one log less than so many days apart, with no soak between, are one flush.
 */
flush_gap_days: number, 
/**
 * What that is where nobody set it.
 */
usual_gap_days: number, 
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

export type Shade = "deep" | "dappled" | "half" | "open";

export type Shape = { "shape": "path", 
/**
 * What it is.
 */
class: string, 
/**
 * SVG path data.
 */
d: string, } | { "shape": "circle", 
/**
 * What it is.
 */
class: string, 
/**
 * Its middle.
 */
cx: number, 
/**
 * Its middle.
 */
cy: number, 
/**
 * Its radius.
 */
r: number, };

export type SheetLine = { 
/**
 * The log.
 */
log: Id, 
/**
 * Seen, clean or skipped.
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

export type SheetShow = Record<symbol, never>;

export type SheetView = { 
/**
 * The local day.
 */
today: string, 
/**
 * The evening that runs, or ran last.
 */
evening: string, 
/**
 * Its logs.
 */
stops: Array<Stop>, };

export type Sighted = "slugs" | "beetles" | "springtails" | "mice" | "squirrels" | "birds" | "deer" | "trichoderma" | "crusts" | "stereum" | "trametes" | "schizophyllum" | "other_fungus";

export type Sighting = { 
/**
 * The entry.
 */
id: string, 
/**
 * The log; null: not on a log.
 */
log: string | null, 
/**
 * Its tag.
 */
tag: string | null, 
/**
 * The spot's name, where it was not on a log.
 */
spot: string | null, 
/**
 * The day.
 */
day: string, 
/**
 * What was seen.
 */
what: Sighted, 
/**
 * What that tells of the log.
 */
tells: Tells | null, 
/**
 * How many; null: not counted.
 */
n: number | null, 
/**
 * How much of the log it holds.
 */
extent: Reach | null, 
/**
 * Where it hid.
 */
hid: Array<Hid>, 
/**
 * What was done.
 */
did: Array<Did>, 
/**
 * The grower's words.
 */
note: string, 
/**
 * Photos taken with it.
 */
photos: Array<PhotoRow>, };

export type SightingAdd = { 
/**
 * The log; null: not on a log.
 */
log?: Id | null, 
/**
 * The spot, where it was on no log.
 */
spot?: Id | null, 
/**
 * What was seen.
 */
what: Sighted, 
/**
 * Now, or last night.
 */
when: RoundWhen, 
/**
 * How many; null: not counted.
 */
n?: number | null, 
/**
 * How much of the log a competitor holds.
 */
extent?: Reach | null, 
/**
 * Where it hid.
 */
hid: Array<Hid>, 
/**
 * What was done.
 */
did: Array<Did>, 
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

export type SightingForm = { 
/**
 * The local day.
 */
today: string, 
/**
 * The log.
 */
row: LogRow | null, 
/**
 * Spots, in walking order: id and name.
 */
spots: Array<[string, string]>, 
/**
 * What can be seen.
 */
what: Array<Sighted>, 
/**
 * Largest photo, bytes: asked before it is read.
 */
max_bytes: number, };

export type SightingFormAsk = { 
/**
 * The log; null: not on a log.
 */
log?: Id | null, };

export type Size = { 
/**
 * None to three diameters, mm.
 */
d_mm: Array<number>, 
/**
 * Length, mm.
 */
length_mm: number | null, };

export type SlugEvening = { 
/**
 * The evening's day.
 */
day: string, 
/**
 * Slugs found.
 */
slugs: number, 
/**
 * Stops.
 */
stops: number, };

export type SlugWeather = { 
/**
 * The word.
 */
suits: Suits, 
/**
 * Why, each with its figure and source. `how` is one of `slug_cold`, `slug_warm`, `slug_hot`,
 * `slug_mild`, `slug_liked`, `slug_falling`, `slug_level`, `slug_wet`, `slug_dry`, `slug_driving`,
 * `slug_still`, `slug_windy`.
 */
reasons: Array<WhereFrom>, 
/**
 * What is not known, of `rain` and `wind`.
 */
unknown: Array<string>, };

export type SoakAsk = { 
/**
 * The log.
 */
log: string, 
/**
 * Its tag.
 */
tag: string, 
/**
 * Why.
 */
why: Reason, 
/**
 * Days and the like, for the sentence on screen.
 */
detail: Record<string, any>, };

export type SoakIn = { 
/**
 * The load.
 */
logs: Array<Id>, 
/**
 * Weights of those that were weighed.
 */
weights: Array<WeighedLog>, 
/**
 * The water, tenths of °C.
 */
water_dc?: number | null, 
/**
 * Minutes ago; null: some time on `day`.
 */
ago_min?: number | null, 
/**
 * The day, when it was not just now; null: today.
 */
day?: string | null, 
/**
 * The grower's words.
 */
note: string, 
/**
 * What was asked was answered: do it.
 */
sure: boolean, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type SoakOut = { 
/**
 * The load.
 */
logs: Array<Id>, 
/**
 * Weights of those that were weighed.
 */
weights: Array<WeighedLog>, 
/**
 * Minutes ago; null: some time on `day`.
 */
ago_min?: number | null, 
/**
 * The day, when it was not just now; null: today.
 */
day?: string | null, 
/**
 * The grower's words.
 */
note: string, 
/**
 * What was asked was answered: do it.
 */
sure: boolean, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type Soaked = { 
/**
 * What is asked; the same request with `sure` does it. Empty when it is done.
 */
asks: Array<SoakAsk>, 
/**
 * What was done; null: asked first.
 */
done: Done | null, };

export type Spawn = "plug" | "sawdust";

export type Spell = "short" | "moderate" | "long";

export type SpotFields = { 
/**
 * Its name.
 */
name: string, 
/**
 * Shade in the growing season.
 */
shade: Shade | null, 
/**
 * What the logs lie on.
 */
ground: Ground | null, 
/**
 * What waters it.
 */
water: Water | null, 
/**
 * How much rain comes through.
 */
rain: Rain | null, 
/**
 * Bare of shade when the leaves are down.
 */
winter_sun: boolean | null, 
/**
 * Kept from frost.
 */
heated: boolean | null, 
/**
 * Anything else.
 */
note: string, };

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

export type SpotOut = { 
/**
 * The spot.
 */
spot: Id, 
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

export type SpotSave = { 
/**
 * The spot; null for a new one.
 */
spot?: Id | null, 
/**
 * All its fields as they should be.
 */
fields: SpotFields, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type SpotShow = { 
/**
 * The spot.
 */
spot: Id, };

export type SpotView = { 
/**
 * The local day.
 */
today: string, 
/**
 * Its id.
 */
id: string, 
/**
 * What it is like.
 */
fields: SpotFields, 
/**
 * Its place in the walk, from 1, and of how many.
 */
place: number, 
/**
 * How many spots there are.
 */
places: number, 
/**
 * The live logs there, by tag.
 */
logs: Array<LogRow>, 
/**
 * How many ended logs were there last.
 */
ended: number, };

export type SpotsView = { 
/**
 * In the order they are walked.
 */
spots: Array<SpotRow>, };

export type Stage = "nothing" | "pin" | "button" | "cupped" | "opening" | "flat" | "upturned" | "knob" | "short_spines" | "long_spines" | "yellowing";

export type State = "waiting" | "spawn_run" | "may_fruit" | "soaking" | "soaked" | "pins" | "fruiting" | "resting" | "spent" | "lost" | "discarded" | "given" | "sold" | "lent" | "stolen";

export type Station = { 
/**
 * The spot; null: logs that lie nowhere in particular.
 */
spot: SpotRow | null, 
/**
 * What it is like; null as above.
 */
fields: SpotFields | null, 
/**
 * Its live logs by tag, as many as a map can show.
 */
logs: Array<LogRow>, 
/**
 * All of them.
 */
total: number, };

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

export type StrainFields = { 
/**
 * The grower's name for it.
 */
name: string, 
/**
 * What it is a strain of.
 */
mushroom: Mushroom, 
/**
 * Its class; shiitake only.
 */
class: StrainClass | null, 
/**
 * Fruits from here, tenths of °C; null: as its class.
 */
from_dc: number | null, 
/**
 * To here.
 */
to_dc: number | null, 
/**
 * The grower's words.
 */
note: string, };

export type StrainOut = { 
/**
 * The strain.
 */
strain: Id, 
/**
 * Makes a double tap one act.
 */
request: string, };

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
class: StrainClass | null, 
/**
 * The grower's own fruiting range, tenths of °C; null: as its class.
 */
from_dc: number | null, 
/**
 * To here.
 */
to_dc: number | null, 
/**
 * The grower's words.
 */
note: string, 
/**
 * Logs of it that the register has.
 */
logs: number, };

export type StrainSet = { 
/**
 * The strain to change; null for a new one.
 */
strain?: Id | null, 
/**
 * What the grower says of it.
 */
fields: StrainFields, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type StrainsShow = Record<symbol, never>;

export type StrainsView = { 
/**
 * The local day.
 */
today: string, 
/**
 * Whether the yard lies south of the equator.
 */
southern: boolean, 
/**
 * The classes of shiitake.
 */
classes: Array<ClassLine>, 
/**
 * Named strains, by name.
 */
strains: Array<StrainRow>, 
/**
 * Spawn lots, the newest first.
 */
lots: Array<LotRow>, };

export type Suits = "quiet" | "some" | "well";

export type TagList = Record<symbol, never>;

export type TagSheet = { 
/**
 * The logs, in the order of their tags on the sheet.
 */
logs: Array<Id>, 
/**
 * The paper.
 */
paper: Paper, };

export type TagSheetFile = { 
/**
 * A name for the file.
 */
name: string, 
/**
 * Its bytes: PDF.
 */
base64: string, 
/**
 * How many sheets.
 */
sheets: number, 
/**
 * Tags whose letters can't be printed: they have a line to write on.
 */
by_hand: Array<string>, };

export type TagsView = { 
/**
 * The local day.
 */
today: string, 
/**
 * Logs that have not ended, by tag.
 */
logs: Array<LogRow>, 
/**
 * Length of the check bar, mm.
 */
bar_mm: number, 
/**
 * The code's width, mm.
 */
code_mm: number, 
/**
 * Tags on one sheet.
 */
on_a_sheet: number, };

export type Taken = { 
/**
 * Its hash.
 */
hash: string, 
/**
 * The log; null: to the loose photos.
 */
log: Id | null, };

export type TankChoice = { 
/**
 * Its id.
 */
id: string, 
/**
 * Its tag.
 */
tag: string, 
/**
 * Its spot's name.
 */
spot: string | null, 
/**
 * What one would ask first; empty: nothing speaks against it.
 */
asks: Array<Reason>, 
/**
 * It rests until then.
 */
rest_until: string | null, 
/**
 * About its weight, g.
 */
about_g: number | null, };

export type TankLog = { 
/**
 * Its id.
 */
id: string, 
/**
 * Its tag.
 */
tag: string, 
/**
 * The day it went in.
 */
day: string, 
/**
 * When, RFC 3339 with the local offset; null: the hour was not said.
 */
at: string | null, 
/**
 * Whole hours so far; from noon of its day where the hour was not said.
 */
hours: number, 
/**
 * Where it stands.
 */
lift: Lift, 
/**
 * What it weighs dry of the tank, about, g: by size and wood; null where either is not known.
 */
about_g: number | null, };

export type TankShow = Record<symbol, never>;

export type TankView = { 
/**
 * The local day.
 */
today: string, 
/**
 * Logs in the tank, the longest first.
 */
tank: Array<TankLog>, 
/**
 * Other live logs: those nothing speaks against first.
 */
logs: Array<TankChoice>, 
/**
 * The newest water that was measured, tenths of °C.
 */
water_dc: number | null, 
/**
 * Today's warmest, tenths of °C, where it is in the register.
 */
air_dc: number | null, 
/**
 * Tonight's low, tenths of °C, where it is in the register.
 */
low_dc: number | null, 
/**
 * When to lift.
 */
lift_from: WhereFrom, 
/**
 * How much cooler the water should be.
 */
cooler_from: WhereFrom, 
/**
 * The rest after it.
 */
rest_from: WhereFrom, 
/**
 * The age before a first soak.
 */
age_from: WhereFrom, };

export type Tap = { 
/**
 * The screen's name in the router's table; null: `command` does it.
 */
screen: string | null, 
/**
 * What stands in the screen's address.
 */
params: { [key in string]: string }, 
/**
 * The command that does it at once.
 */
command: string | null, 
/**
 * Its request, but for the request id.
 */
request: Record<string, any>, };

export type Tells = "too_wet" | "too_dry" | "may_be_lost";

export type Tend = "rewax" | "turn" | "restack" | "lift" | "clear" | "bag" | "bag_off" | "foot";

export type TendAdd = { 
/**
 * The logs.
 */
logs: Array<Id>, 
/**
 * What was done. Logs that it cannot be done to are passed over, and counted.
 */
what: Tend, 
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

export type TendForm = { 
/**
 * The local day.
 */
today: string, 
/**
 * The spot, when it was asked for.
 */
spot: string | null, 
/**
 * The live logs, by tag.
 */
logs: Array<LogRow>, 
/**
 * What can be done, and for how many of them.
 */
deeds: Array<Deed>, };

export type TendFormAsk = { 
/**
 * One log.
 */
log?: Id | null, 
/**
 * All logs of one spot.
 */
spot?: Id | null, };

export type Tied = { 
/**
 * The covariate.
 */
with: GroupBy, 
/**
 * Names of the groups in a net of their own.
 */
groups: Array<string>, 
/**
 * Names of the only levels that they met, and that no other group did.
 */
only: Array<string>, };

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
at: string, 
/**
 * The basket it went into; null: none.
 */
basket: string | null, };

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

export type Units = "metric" | "us";

export type Untold = "few_logs" | "too_young" | "no_weights" | "unnamed" | "nothing_seen";

export type Urgency = "now" | "today" | "soon" | "can";

export type Verdict = "no_logs" | "nothing_yet" | "too_few" | "one_group" | "best" | "close";

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

export type WaitingRow = { 
/**
 * The batch; null for logs of no batch.
 */
batch: string | null, 
/**
 * Its name.
 */
name: string | null, 
/**
 * The wood's name; null when not known.
 */
wood: string | null, 
/**
 * When it was felled.
 */
felled: Rough | null, 
/**
 * Days since, fewest and most.
 */
days: [number, number] | null, 
/**
 * How long it can still wait, by use.
 */
fresh: Array<Freshness>, 
/**
 * The waiting logs: id and tag.
 */
logs: Array<[string, string]>, 
/**
 * A sample disc's moisture, per cent of the fresh weight.
 */
moisture_pct: number | null, 
/**
 * Whether what its logs carry is doubtful.
 */
doubtful: boolean, };

export type WaitingView = { 
/**
 * The local day.
 */
today: string, 
/**
 * What has to be laid first comes first.
 */
waiting: Array<WaitingRow>, 
/**
 * Batches all of whose logs are laid or gone.
 */
laid: Array<BatchRow>, };

export type Water = "none" | "can" | "hose" | "sprinkler";

export type WaterAdd = { 
/**
 * The logs; empty when `spot` says which.
 */
logs: Array<Id>, 
/**
 * All live, laid logs of this spot.
 */
spot?: Id | null, 
/**
 * Litres on each log, tenths; null: not said.
 */
litres_tenths?: number | null, 
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

export type Wax = "whole" | "some" | "off";

export type WaysSet = { 
/**
 * What figures are shown in.
 */
units: Units, 
/**
 * How old a log is before its first soak.
 */
forcing: Forcing, 
/**
 * Month and day a season begins on, `MM-DD`; null: as the hemisphere has it.
 */
season_first?: string | null, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type WeatherDay = { 
/**
 * The day.
 */
day: string, 
/**
 * Lowest, tenths of °C.
 */
min_dc: number | null, 
/**
 * Highest, tenths of °C.
 */
max_dc: number | null, 
/**
 * Rain, tenths of mm; 0: a dry day.
 */
rain_tenths: number | null, 
/**
 * Wind, tenths of km/h.
 */
wind_tenths: number | null, 
/**
 * `typed`, or the station it was read from.
 */
source: string | null, };

export type WeatherSet = { 
/**
 * The day; up to a week ahead, as a forecast from elsewhere says.
 */
day: string, 
/**
 * Lowest, tenths of °C.
 */
min_dc?: number | null, 
/**
 * Highest, tenths of °C.
 */
max_dc?: number | null, 
/**
 * Rain, tenths of mm.
 */
rain_tenths?: number | null, 
/**
 * Wind, tenths of km/h.
 */
wind_tenths?: number | null, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type WeatherShow = Record<symbol, never>;

export type WeatherTake = { 
/**
 * The file's text.
 */
text: string, 
/**
 * What its figures are in.
 */
units: FileUnits, 
/**
 * Take no day before this; null: three years back.
 */
from?: string | null, 
/**
 * Also over what was typed by hand.
 */
over_typed: boolean, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type WeatherTried = { 
/**
 * How it is laid out.
 */
layout: Layout, 
/**
 * The station.
 */
station: string, 
/**
 * The units its figures were read in.
 */
units: FileUnits, 
/**
 * The values cannot be in these units: say in which they are.
 */
ask_units: boolean, 
/**
 * Days with impossible values, the first few.
 */
impossible: Array<string>, 
/**
 * Days in the file.
 */
days: number, 
/**
 * The first day that would be taken.
 */
first: string | null, 
/**
 * The last.
 */
last: string | null, 
/**
 * Days that would be taken.
 */
take: number, 
/**
 * Of these, days that stand in the register with the same values.
 */
same: number, 
/**
 * Of these, days that stand with other values from a file: they are replaced.
 */
replaced: number, 
/**
 * Days typed by hand with other values: they stay, unless `over_typed`.
 */
typed: number, 
/**
 * Values that failed the source's quality check.
 */
flagged: number, 
/**
 * Values that stood twice and alike.
 */
twice: number, 
/**
 * Lines left out.
 */
left_out: number, 
/**
 * The first of them.
 */
lines: Array<LineLeftOut>, 
/**
 * A few days as they would be taken.
 */
sample: Array<WeatherDay>, };

export type WeatherTry = { 
/**
 * The file's text.
 */
text: string, 
/**
 * What its figures are in; null: tenths, as the archive keeps them.
 */
units?: FileUnits | null, 
/**
 * Take no day before this; null: three years back.
 */
from?: string | null, };

export type WeatherView = { 
/**
 * The local day.
 */
today: string, 
/**
 * Newest first.
 */
days: Array<WeatherDay>, 
/**
 * Days in the register.
 */
total: number, 
/**
 * The first of them.
 */
first: string | null, 
/**
 * The last.
 */
last: string | null, 
/**
 * Rain of the last seven days in the open, tenths of mm; null: fewer than five of them are known.
 */
week_tenths: number | null, 
/**
 * Tonight's low, tenths of °C.
 */
low_dc: number | null, };

export type WeighAdd = { 
/**
 * The weights.
 */
weights: Array<Weight>, 
/**
 * The day; null: today.
 */
day?: string | null, 
/**
 * The grower's words.
 */
note: string, 
/**
 * What was asked was answered: do it.
 */
sure: boolean, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type Weighed = { 
/**
 * What is asked; the same request with `sure` does it. Empty when it is done.
 */
asks: Array<WeightAsk>, 
/**
 * What was done; null: asked first.
 */
done: Done | null, };

export type WeighedDay = { 
/**
 * The day.
 */
day: string, 
/**
 * The weight, g.
 */
grams: number, };

export type WeighedLog = { 
/**
 * The log.
 */
log: Id, 
/**
 * Its weight, g.
 */
grams: number, };

export type WeighedTwice = { 
/**
 * The act.
 */
act: string, 
/**
 * The device.
 */
device: string, 
/**
 * Its weight, g.
 */
grams: number, 
/**
 * When, RFC 3339 with the local offset.
 */
at: string, };

export type Weight = { 
/**
 * The log.
 */
log: Id, 
/**
 * Its weight, g.
 */
grams: number, };

export type WeightAsk = { 
/**
 * The log.
 */
log: string, 
/**
 * Its tag.
 */
tag: string, 
/**
 * `too_heavy` or `too_light`.
 */
why: string, 
/**
 * What was typed, g.
 */
grams: number, 
/**
 * The most or the least its wood can weigh, g.
 */
bound_g: number, };

export type WeightUnit = "g" | "kg" | "oz" | "lb";

export type What = "logs" | "pickings";

export type WhereFrom = { 
/**
 * The key of the formula in words.
 */
how: string, 
/**
 * What went in.
 */
inputs: Array<Input>, 
/**
 * On whose word.
 */
mark: Mark, 
/**
 * The source as it is cited; empty for the yard's own records.
 */
source: string, 
/**
 * For the yard's own records: of how many logs.
 */
logs: number | null, };

export type Why = "spent" | "lost" | "discarded" | "given" | "sold" | "lent" | "stolen";

export type Window = { 
/**
 * The first day.
 */
from: string, 
/**
 * The last day.
 */
to: string, 
/**
 * After this day a log without fruit is late.
 */
late: string, 
/**
 * Months from laying, fewest and most, before the class's season is looked at.
 */
months: [number, number], 
/**
 * Where they come from.
 */
source: WhereFrom, };

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
hericium: number | null, 
/**
 * Whether it is one of the grower's own.
 */
own: boolean, };

export type WoodFields = { 
/**
 * Common name.
 */
name: string, 
/**
 * Scientific name; empty when not known.
 */
scientific: string, 
/**
 * Whether it is a softwood.
 */
conifer: boolean, 
/**
 * The grower's rating for shiitake, 0 unsuitable to 4 best; null: not rated.
 */
shiitake: number | null, 
/**
 * The grower's rating for Hericium.
 */
hericium: number | null, 
/**
 * Weight of fresh wood, kg/m³; null: not known.
 */
density_kg_m3: number | null, 
/**
 * Moisture of fresh wood, per cent of its fresh weight; null: not known.
 */
moisture_pct: number | null, 
/**
 * The grower's words.
 */
note: string, };

export type WoodLine = { 
/**
 * Its id.
 */
id: string, 
/**
 * Common name.
 */
name: string, 
/**
 * Scientific name; empty when not known.
 */
scientific: string, 
/**
 * Conifers carry none of the yard's mushrooms.
 */
conifer: boolean, 
/**
 * Fitness for shiitake, 0 unsuitable to 4 best; null: nobody says.
 */
shiitake: Rating | null, 
/**
 * Fitness for Hericium.
 */
hericium: Rating | null, 
/**
 * On whose word the ratings stand.
 */
mark: Mark, 
/**
 * Their source; empty without one.
 */
source: string, 
/**
 * What else to know.
 */
note: WoodNote | null, 
/**
 * Weight of fresh wood, kg/m³.
 */
density_kg_m3: number | null, 
/**
 * Moisture of fresh wood, per cent of the fresh weight.
 */
moisture_pct: number | null, 
/**
 * Where those two come from: the number of its row in REF_SPECIES; null for an own wood.
 */
fia_spcd: number | null, 
/**
 * Years a log of it is expected to bear.
 */
life: Life, 
/**
 * The grower's fields when the wood is his own.
 */
own: WoodFields | null, 
/**
 * Live logs of it.
 */
logs: number, };

export type WoodNote = "short_life" | "bark_strips" | "sources_differ";

export type WoodOut = { 
/**
 * The wood.
 */
wood: Id, 
/**
 * Makes a double tap one act.
 */
request: string, };

export type WoodSet = { 
/**
 * The wood to change; null for a new one.
 */
wood?: Id | null, 
/**
 * What the grower says of it.
 */
fields: WoodFields, 
/**
 * Makes a double tap one act.
 */
request: string, 
/**
 * The draft that this makes needless.
 */
draft?: string | null, };

export type WoodWaiting = Record<symbol, never>;

export type WoodsShow = Record<symbol, never>;

export type WoodsView = { 
/**
 * By name, the grower's own among them.
 */
woods: Array<WoodLine>, };

export type YardChoices = { 
/**
 * Woods, by name.
 */
woods: Array<Choice>, 
/**
 * Mushrooms.
 */
mushrooms: Array<Choice>, 
/**
 * Strains, by name.
 */
strains: Array<Choice>, 
/**
 * Spots, by name.
 */
spots: Array<Choice>, 
/**
 * States, in the order of a life.
 */
states: Array<Choice>, };

export type YardList = { 
/**
 * Part of a tag, or beginnings of words of notes; empty for all.
 */
search: string, 
/**
 * Only of this wood: its id; empty: of a wood nobody knows.
 */
wood?: string | null, 
/**
 * Only with this mushroom.
 */
mushroom?: Mushroom | null, 
/**
 * Only of the strain of this name; empty: of one without a name.
 */
strain?: string | null, 
/**
 * Only at this spot: its id; empty: at none.
 */
spot?: string | null, 
/**
 * Only in this state.
 */
state?: State | null, 
/**
 * At most so many; null: all.
 */
limit?: number | null, };

export type YardMap = Record<symbol, never>;

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
 * Logs that fit what was asked.
 */
found: number, 
/**
 * The first of those, by tag; an exact match first.
 */
logs: Array<LogRow>, 
/**
 * Where those were found that their tag did not bring.
 */
places: Array<FoundAt>, 
/**
 * What the list can be narrowed by.
 */
choices: YardChoices, };

export type YearOf = { 
/**
 * The year its first day lies in.
 */
year: number, 
/**
 * Its first day.
 */
first: string, 
/**
 * Its last day.
 */
last: string, 
/**
 * All seasons with a picking, oldest first.
 */
years: Array<HeapOf>, 
/**
 * Its months, all of them; the first and the last of thirteen in part where it begins within a month.
 */
months: Array<HeapOf>, 
/**
 * Its ISO weeks with a picking.
 */
weeks: Array<HeapOf>, 
/**
 * Its spring, summer, autumn and winter, meteorological.
 */
seasons: Array<HeapOf>, 
/**
 * By the strains' classes; other mushrooms by their own word.
 */
classes: Array<HeapOf>, 
/**
 * Flushes that began in it.
 */
flushes: number, 
/**
 * Logs that had one.
 */
logs: number, 
/**
 * Soaks, and those that were answered within four weeks.
 */
soaks: number, 
/**
 * Those answered.
 */
soaks_answered: number, 
/**
 * Mean days from a soak to the first picking that answered it.
 */
answer_days: number | null, 
/**
 * Share of the judged weight that was damaged, per cent.
 */
damaged_pct: number | null, 
/**
 * Logs that ended in it.
 */
ended: number, 
/**
 * Of these, lost to a competitor.
 */
lost: number, 
/**
 * Logs laid in it.
 */
laid: number, 
/**
 * Where the figures come from.
 */
from: WhereFrom, };

export interface Commands {
  care_show: { request: CareShow; reply: CareView };
  details_copy: { request: DetailsCopy; reply: DetailsView };
  backup_now: { request: BackupNow; reply: JobStarted };
  backup_list: { request: BackupList; reply: BackupsView };
  backup_folder: { request: BackupFolder; reply: Nothing };
  restore_preview: { request: RestorePreview; reply: RestoreView };
  restore_do: { request: RestoreDo; reply: JobStarted };
  chores_show: { request: ChoresShow; reply: ChoresView };
  chore_put_off: { request: ChorePutOff; reply: Done };
  tank_show: { request: TankShow; reply: TankView };
  soak_in: { request: SoakIn; reply: Soaked };
  soak_out: { request: SoakOut; reply: Soaked };
  moisture_list: { request: MoistureList; reply: MoistureRows };
  moisture_show: { request: MoistureShow; reply: MoistureView };
  weigh_add: { request: WeighAdd; reply: Weighed };
  water_add: { request: WaterAdd; reply: Done };
  disc_set: { request: DiscSet; reply: Done };
  weather_show: { request: WeatherShow; reply: WeatherView };
  weather_set: { request: WeatherSet; reply: Done };
  weather_try: { request: WeatherTry; reply: WeatherTried };
  weather_take: { request: WeatherTake; reply: Done };
  lift_screen: { request: LiftScreen; reply: LiftView };
  csv_look: { request: CsvLook; reply: CsvView };
  csv_try: { request: CsvTry; reply: CsvTried };
  csv_take: { request: CsvTake; reply: Done };
  yard_list: { request: YardList; reply: YardView };
  log_form: { request: LogFormAsk; reply: LogForm };
  log_add: { request: LogAdd; reply: Done };
  log_edit: { request: LogEdit; reply: Done };
  logs_add: { request: LogsAdd; reply: Done };
  log_retag: { request: LogRetag; reply: Done };
  lost_tag_find: { request: LostTagFind; reply: LostTagView };
  log_end: { request: LogEnd; reply: Done };
  log_unend: { request: LogUnend; reply: Done };
  log_show: { request: LogShow; reply: LogView };
  woods_show: { request: WoodsShow; reply: WoodsView };
  wood_set: { request: WoodSet; reply: Done };
  wood_out: { request: WoodOut; reply: Done };
  wood_waiting: { request: WoodWaiting; reply: WaitingView };
  batch_form: { request: BatchFormAsk; reply: BatchForm };
  batch_set: { request: BatchSet; reply: Done };
  batch_out: { request: BatchOut; reply: Done };
  strains_show: { request: StrainsShow; reply: StrainsView };
  strain_set: { request: StrainSet; reply: Done };
  strain_out: { request: StrainOut; reply: Done };
  lot_set: { request: LotSet; reply: Done };
  lot_out: { request: LotOut; reply: Done };
  look_form: { request: LookFormAsk; reply: LookForm };
  look_add: { request: LookAdd; reply: Done };
  photo_keep: { request: PhotoKeep; reply: PhotoKept };
  photo_share: { request: PhotoShare; reply: PhotoShared };
  photo_find: { request: PhotoFind; reply: PhotoFound };
  photo_add: { request: PhotoAdd; reply: Done };
  photo_tie: { request: PhotoTie; reply: Done };
  loose_list: { request: LooseList; reply: LooseView };
  pinned_week: { request: PinnedWeek; reply: PinnedView };
  cap_form: { request: CapFormAsk; reply: CapForm };
  cap_try: { request: CapTry; reply: CapTried };
  cap_add: { request: CapAdd; reply: Done };
  photo_room: { request: PhotoRoom; reply: PhotoRoomView };
  originals_out: { request: OriginalsOut; reply: JobStarted };
  originals_home: { request: OriginalsHome; reply: JobStarted };
  picking_form: { request: PickingFormAsk; reply: PickingForm };
  picking_add: { request: PickingAdd; reply: Done };
  round_start: { request: RoundStart; reply: Done };
  round_show: { request: RoundShow; reply: RoundView };
  round_check: { request: RoundCheck; reply: Done };
  round_spot_clean: { request: RoundSpotClean; reply: Done };
  round_end: { request: RoundEnd; reply: Done };
  rounds_show: { request: RoundsShow; reply: RoundsView };
  pick_round_show: { request: PickRoundShow; reply: PickRoundView };
  pick_look: { request: PickLook; reply: Done };
  pick_take: { request: PickTake; reply: Done };
  pick_skip: { request: PickSkip; reply: Done };
  basket_show: { request: BasketShow; reply: Basket };
  basket_weigh: { request: BasketWeigh; reply: Done };
  basket_answer: { request: BasketAnswer; reply: Done };
  basket_pair_answer: { request: BasketPairAnswer; reply: Done };
  sheet_show: { request: SheetShow; reply: SheetView };
  round_sheet: { request: RoundSheet; reply: Done };
  sighting_form: { request: SightingFormAsk; reply: SightingForm };
  sighting_add: { request: SightingAdd; reply: Done };
  flushes_show: { request: FlushesShow; reply: FlushesView };
  flush_mark: { request: FlushMark; reply: Done };
  costs_show: { request: CostsShow; reply: CostsView };
  calendar_file: { request: CalendarFile; reply: CalendarView };
  spot_list: { request: SpotList; reply: SpotsView };
  spot_order: { request: SpotOrder; reply: Done };
  spot_show: { request: SpotShow; reply: SpotView };
  spot_save: { request: SpotSave; reply: Done };
  spot_out: { request: SpotOut; reply: Done };
  yard_map: { request: YardMap; reply: MapView };
  move_form: { request: MoveFormAsk; reply: MoveForm };
  log_move: { request: LogMove; reply: Done };
  condition_form: { request: ConditionFormAsk; reply: ConditionForm };
  condition_add: { request: ConditionAdd; reply: Done };
  tend_form: { request: TendFormAsk; reply: TendForm };
  tend_add: { request: TendAdd; reply: Done };
  review_ask: { request: ReviewAsk; reply: ReviewView };
  review_sheet: { request: ReviewSheet; reply: FileView };
  season_show: { request: SeasonShow; reply: SeasonView };
  pdf_make: { request: PdfMake; reply: FileView };
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
  ways_set: { request: WaysSet; reply: Done };
  flush_gap_set: { request: FlushGapSet; reply: Done };
  light_set: { request: LightSet; reply: Nothing };
  draft_get: { request: DraftGet; reply: DraftView };
  draft_set: { request: DraftSet; reply: Nothing };
  act_list: { request: ActList; reply: ActsView };
  undo: { request: Undo; reply: Done };
  register_check: { request: RegisterCheck; reply: JobStarted };
  job_show: { request: JobShow; reply: JobView };
  job_cancel: { request: JobCancel; reply: JobView };
  tag_list: { request: TagList; reply: TagsView };
  tag_sheet: { request: TagSheet; reply: TagSheetFile };
}
