// The words on screen for mushrooms, stages, states, damage, and what an act did.
// It never formats numbers itself. Invariant: one meaning, one word, the same on every screen.

import { photoSentence } from './words-photos.js';
import { capital, count, dayName, grams, listed } from './format.js';
import { YARD_FIELD, yardSentence, yardWarning } from './words-yard.js';
import { besides, roundSentence } from './words-rounds.js';
import { workSentence, workWarning } from './words-work.js';
import { lifeSentence } from './words-life.js';

/** @import {By, Damage, Why, How, LogRow, Meaning, Method, Mushroom, Spawn, Stage, State, StrainClass} from '../api/types.js' */

/** @type {Record<Mushroom, string>} */
export const MUSHROOM = { shiitake: 'shiitake', erinaceus: 'lion’s mane', americanum: 'bear’s head' };

/** @type {Record<Mushroom, string>} */
export const MUSHROOM_FULL = { shiitake: 'shiitake (Lentinula edodes)', erinaceus: 'lion’s mane (Hericium erinaceus)', americanum: 'bear’s head (Hericium americanum)' };

/** @type {Record<StrainClass, string>} */
export const STRAIN_CLASS = { cold: 'cold weather', warm: 'warm weather', wide: 'wide range' };

/** @type {Record<Spawn, string>} */
export const SPAWN = { plug: 'plug', sawdust: 'sawdust' };

/** @type {Record<Method, string>} */
export const METHOD = { drilled: 'drilled', totem: 'totem' };

/** @type {Record<Stage, string>} */
export const STAGE = {
  nothing: 'nothing', pin: 'pins', button: 'buttons', cupped: 'cupped', opening: 'opening', flat: 'flat', upturned: 'upturned',
  knob: 'knobs', short_spines: 'short spines', long_spines: 'long spines', yellowing: 'yellowing',
};

/**
 * What was seen at a stage, as the thing itself.
 * @param {Stage} stage
 */
export function capsAt(stage) {
  if (stage === 'yellowing') return 'yellowing spines';
  return ['cupped', 'opening', 'flat', 'upturned'].includes(stage) ? `${STAGE[stage]} caps` : STAGE[stage] ?? stage;
}

/** What a stage means at the log. @type {Record<Stage, string>} */
export const STAGE_HINT = {
  nothing: 'bare bark', pin: 'dark bumps breaking the bark', button: 'round, rim tucked in', cupped: 'rim still turned under: pick',
  opening: 'rim letting go: pick now', flat: 'open flat: eat first', upturned: 'rim turned up: late',
  knob: 'white knobs', short_spines: 'spines under 1 cm', long_spines: 'white, spines about 1 cm: pick', yellowing: 'yellowing: late',
};

/** @type {Record<State, string>} */
export const STATE = {
  waiting: 'waiting to be laid', spawn_run: 'spawn run', may_fruit: 'may fruit', soaking: 'in the tank', soaked: 'soaked', pins: 'pins out', fruiting: 'caps out',
  resting: 'resting', spent: 'spent', lost: 'lost', discarded: 'discarded', given: 'given away', sold: 'sold', lent: 'lent', stolen: 'stolen',
};

/** @type {Record<By, string>} */
export const BY = { slugs: 'slugs', insects: 'insects', mice: 'mice', squirrels: 'squirrels', birds: 'birds', deer: 'deer', other: 'something else' };

/** @type {Record<Damage, string>} */
export const DAMAGE = { none: 'none', some: 'some', much: 'much' };

/** @type {Record<Why, string>} */
export const ENDING = { spent: 'spent', lost: 'lost', discarded: 'discarded', given: 'given away', sold: 'sold', lent: 'lent', stolen: 'stolen' };

/** @type {Record<Why, string>} */
export const ENDING_HINT = {
  spent: 'it gave what it had', lost: 'gone, or taken over by another fungus', discarded: 'taken out of the yard',
  given: 'it lives on with someone else', sold: 'it lives on with a buyer', lent: 'it comes back one day', stolen: 'it was taken',
};

/** @type {Record<string, string>} */
export const FIELD = {
  tag: 'tag', wood: 'wood', d_mm: 'thickness', length_mm: 'length', felled: 'felled', mushroom: 'mushroom', strain: 'strain',
  strain_class: 'strain class', spawn: 'spawn', method: 'method', laid: 'laid', spot: 'spot', note: 'note', grams: 'weight', caps: 'caps',
  damaged_pct: 'damaged', by: 'damaged by', day: 'day', lat: 'latitude', lon: 'longitude', place: 'place',
  night_after_min: 'minutes after dark', slugs: 'slugs', seen: 'what was seen', photos: 'photos', photo: 'photo',
  log: 'log', round: 'round', act: 'act', spots: 'spots', why: 'why', walk: 'walking order', name: 'name', value: 'setting', ended: 'end of the round', void: 'being in the register', key: 'draft',
  d1_mm: 'thickness', d2_mm: 'second thickness', d3_mm: 'third thickness', folder: 'folder', file: 'file', text: 'spreadsheet', columns: 'columns',
  lines: 'sheet', basket: 'basket', again: 'day to look again', n: 'count',
  wet_g: 'wet weight of the disc', dry_g: 'dry weight of the disc', water_dc: 'water', weights: 'weights', logs: 'logs', min_dc: 'lowest', max_dc: 'highest', rain_tenths: 'rain', wind_tenths: 'wind',
  litres_tenths: 'amount', weather: 'weather', units: 'units', until: 'day it comes back', season_first: 'first day of the season', flush_gap_days: 'gap between flushes', when: 'now or last night', ago_min: 'minutes ago', from: 'first day', h_mm: 'hands in front', from_mm: 'start', to_mm: 'end',
  scientific: 'scientific name', conifer: 'conifer', shiitake: 'rating for shiitake', hericium: 'rating for Hericium', density_kg_m3: 'fresh weight', moisture_pct: 'fresh moisture',
  batch: 'batch', lot: 'spawn lot', source: 'source', disc_wet_g: 'wet disc', disc_dry_g: 'dry disc', doubtful: 'strain doubtful', form: 'form', received: 'received', kept: 'kept', from_dc: 'lowest temperature', to_dc: 'highest temperature', class: 'class',
  picking: 'picking', entries: 'pickings', keep: 'picking that stays', job: 'work',
};

/** What a column of a spreadsheet can say. @type {Record<Meaning, string>} */
export const MEANING = {
  tag: 'tag', wood: 'wood', d1: 'thickness', d2: 'thickness, second', d3: 'thickness, third', length: 'length', felled: 'felled', mushroom: 'mushroom',
  strain: 'strain', strain_class: 'strain class', spawn: 'spawn', method: 'method', laid: 'laid', spot: 'spot', day: 'day of the picking', weight: 'weight',
  caps: 'caps', damaged_pct: 'per cent damaged', by: 'damaged by', note: 'note',
};

/** @param {string} meaning */
export function meaningName(meaning) {
  return MEANING[/** @type {Meaning} */ (meaning)] ?? meaning;
}

/** @param {string} field */
export function fieldName(field) {
  return FIELD[field] ?? YARD_FIELD[field] ?? field.replace(/_/g, ' ');
}

/** @param {LogRow} row */
export function woodName(row) {
  return row.wood_name ?? 'wood not known';
}

/**
 * What the log asks for next, with where the figure comes from.
 * @param {LogRow} row
 * @returns {string}
 */
export function next(row) {
  const hericium = row.mushroom !== 'shiitake';
  switch (row.state) {
    case 'waiting': return 'Lay it within about a month of felling, before wild fungi get ahead (common practice).';
    case 'spawn_run': return hericium
      ? 'Leave it shaded and moist. First fruit can take up to 18 months, often 2 years on drilled logs (common practice).'
      : 'Leave it shaded and moist. First caps come 6 to 18 months after laying (published: University of Kentucky FOR-85).';
    case 'may_fruit': return 'Old enough to fruit. Look at it after rain or a change in the weather (common practice).';
    case 'soaking': return 'It lies in the tank. Lift it out after 8 to 24 hours (published: University of Kentucky FOR-85 says 8 to 12; common practice about 24).';
    case 'soaked': return 'Look for pins: they come a few days after the soak, and caps within one to two weeks (common practice).';
    case 'pins': return hericium
      ? 'Knobs are out. Look again in a few days.'
      : 'Pins are out. From button to full size is a matter of days: look again soon (common practice).';
    case 'fruiting': return hericium
      ? 'Pick while white, with spines of about 1 cm; yellowing means late (common practice).'
      : 'Pick while the rim is still turned under, half to three quarters open (common practice).';
    case 'resting': return hericium
      ? 'Let it rest, and keep it moist.'
      : 'Let it rest 7 to 10 weeks before it is soaked again (published: University of Kentucky FOR-85).';
    case 'given': case 'sold': return 'It left the yard. Its care slip goes with it; its record stays here.';
    case 'lent': return 'It is lent. When it comes back, take its ending back: its record goes on.';
    case 'stolen': return 'It was stolen. Should it be found, take its ending back: its record goes on.';
    default: return 'This log has ended. Its record stays.';
  }
}

/** @type {Record<How, string>} */
export const HOW = { seen: 'looked at', clean: 'clean', skipped: 'skipped', tallied: 'counted' };

/**
 * A round check in words.
 * @param {{how: How, slugs: number, damage: Damage, others?: any, hid?: any, did?: any}} check
 */
export function checked(check) {
  if (check.how === 'skipped') return 'skipped';
  const slugs = check.slugs === 0 ? 'no slugs' : count(check.slugs, 'slug');
  if (check.how === 'tallied') return `${slugs}, damage not judged`;
  const damage = check.damage === 'none' ? 'no damage' : `${DAMAGE[check.damage]} damage`;
  return [slugs, damage, besides(check)].filter(Boolean).join(', ');
}

/**
 * What an act did, as one sentence.
 * @param {string} name of the command that wrote it
 * @param {Record<string, any>} said
 * @returns {string}
 */
export function sentence(name, said) {
  const round = roundSentence(name, said, capsAt);
  if (round) return round;
  switch (name) {
    case 'log_add': return `Log ${said.tag} added.`;
    case 'log_edit': return `Log ${said.tag} changed${said.fields?.length ? `: ${listed(said.fields.map(fieldName))}` : ''}.`;
    case 'log_end': return `Log ${said.tag} ended: ${ENDING[/** @type {Why} */ (said.why)] ?? said.why}.`;
    case 'look_add': return `Log ${said.tag} looked at: ${capsAt(said.seen)} seen${said.when === 'last_night' ? ' last night' : ''}${said.photos ? `, ${count(said.photos, 'photo')}` : ''}.`;
    case 'picking_add': return `Log ${said.tag} picked${said.when === 'last_night' ? ' last night' : ''}: ${grams(said.grams ?? null)}${said.caps == null ? '' : `, ${count(said.caps, 'cap')}`}.`;
    case 'round_start': return `Night round of ${dayName(said.day)} started: ${count(said.logs, 'log')}.`;
    case 'round_check': return `Log ${said.tag} on the night round: ${checked(/** @type {any} */ (said))}.`;
    case 'round_spot_clean': return `${count(said.n, 'log')}${said.spot ? ` of ${said.spot}` : ''} marked clean.`;
    case 'round_end': return `Night round of ${dayName(said.day)} ended: ${said.done} of ${count(said.logs, 'log')} seen, ${count(said.slugs, 'slug')}.`;
    case 'spot_order': return 'Walking order of the spots changed.';
    case 'flush_gap_set': return `Pickings ${count(said.days, 'day')} apart or more are two flushes from now on.`;
    case 'settings_set': return 'Place and time of the night round kept.';
    case 'twin_answer': return `Log ${said.tag}, ${dayName(said.day)}: ${said.same ? 'one picking, entered twice' : `${said.n} pickings, each its own`}.`;
    case 'csv_take': return `${said.what === 'logs' ? count(said.n, 'log') : count(said.n, 'picking')} taken in from a spreadsheet.`;
    case 'photo_add': case 'photo_tie': case 'cap_add': return photoSentence(name, said);
    case 'undo': return takenBack(said);
    default: return yardSentence(name, said) ?? workSentence(name, said) ?? lifeSentence(name, said) ?? `${capital(name.replace(/_/g, ' '))}.`;
  }
}

/** @param {Record<string, any>} said */
function takenBack({ undone, kept: left }) {
  if (!undone) return 'The last act was taken back.';
  const again = undone.name === 'undo' && undone.said.undone;
  const words = again ? `Done again: ${sentence(again.name, again.said)}` : `Taken back: ${sentence(undone.name, undone.said)}`;
  return words + kept(left);
}

/** @param {string[] | undefined} fields */
function kept(fields) {
  if (!fields?.length) return '';
  return ` Changed again since, so left as it is: ${listed(fields.map(fieldName))}.`;
}

/**
 * What to mind after an act that was done all the same.
 * @param {string} name
 * @param {Record<string, any>} said
 */
export function warning(name, said) {
  if (name === 'csv_take' && said.same_tag > 0) return `Mind: ${said.same_tag === 1 ? 'one of them carries a tag' : `${said.same_tag} of them carry tags`} that another log carries too.`;
  if (name !== 'log_add' && name !== 'log_edit') return yardWarning(name, said) || workWarning(name, said);
  const same = said.same_tag > 0 ? `Mind: ${said.same_tag === 1 ? 'another log carries' : `${said.same_tag} other logs carry`} the tag ${said.tag} too.` : '';
  const conifer = said.conifer ? 'Mind: a conifer does not carry these mushrooms.' : '';
  return [same, conifer].filter(Boolean).join(' ');
}
