// Words of woods, batches, strains, spawn lots and of a log's life: names of words, and sentences for questions.
// It never computes. Invariant: every reason the register can ask about has a sentence here.

import { MONTHS } from './rough.js';
import { air, airNumber, capital, count } from './format.js';

/** @import {Kept, OutOfSeason, Reason, WoodNote, Rating, Fruiting} from '../api/types.js' */

/** @type {Record<WoodNote, string>} */
export const WOOD_NOTE = {
  short_life: 'Fruits early and is soon spent.',
  bark_strips: 'Its bark strips off, and a log without bark dries out.',
  sources_differ: 'Sources disagree widely on it.',
};

/** @type {Record<Kept, string>} */
export const KEPT = { cold: 'in a refrigerator', cool: 'in a cellar or cool shed', room: 'at room temperature' };

const GRADE = ['unsuitable', 'poor', 'fair', 'good', 'best'];

/**
 * A rating as figures and a word; a range stays a range.
 * @param {Rating | null} rating
 */
export function rating(rating) {
  if (rating === null) return 'nobody says';
  if (rating.low === rating.high) return `${rating.low} of 4, ${GRADE[rating.low]}`;
  return `${rating.low} to ${rating.high} of 4, ${GRADE[rating.low]} to ${GRADE[rating.high]}`;
}

/** @param {Fruiting} range */
export function degrees({ from_dc, to_dc }) {
  return `${airNumber(from_dc)} to ${air(to_dc)}`;
}

/** @param {[number, number] | null} months */
export function season(months) {
  return months === null ? 'all season' : `${MONTHS[months[0] - 1]} to ${MONTHS[months[1] - 1]}`;
}

/** @type {Record<Reason, string>} */
export const ASKS = {
  not_laid: 'This log is not laid yet.',
  too_young: 'This log is younger than logs fruit as a rule.',
  still_resting: 'This log is still resting.',
  caps_out: 'Caps are out on this log.',
  cold_strain: 'Cold strains are as a rule not forced.',
  totem: 'The joints of a totem part in the tank: water it instead.',
  hericium: 'Drilled Hericium is watered, as a rule not soaked.',
  in_tank: 'By the register this log still lies in the tank.',
  not_in_tank: 'By the register this log is not in a tank.',
  ended_already: 'The watch over this log has ended.',
  away: 'This log left the yard.',
  not_ended: 'This log has not ended.',
  day_before: 'That day is too early.',
};

/** @type {Record<string, string>} */
const CLASS_FRUITS = { cold: 'Cold strains fruit in the cool months', warm: 'Warm strains fruit from early summer to early autumn', wide: 'Wide-range strains fruit all season' };

/**
 * The question before fruit is written down that does not fit; empty when it does.
 * @param {{asks: Reason[], season: OutOfSeason | null}} form
 * @param {string} tag
 */
export function question({ asks, season: out }, tag) {
  const said = asks.map((reason) => ASKS[reason]);
  if (out) said.push(`${CLASS_FRUITS[out.class]} (here ${season(out.months)}).`);
  return said.length ? `${said.join(' ')} Is it log ${tag}?` : '';
}

/**
 * Days left until wood is stale.
 * @param {{left: number, left_most: number, stale: boolean}} fresh
 */
export function daysLeft({ left, left_most, stale }) {
  if (stale) return left === left_most ? `stale since ${count(-left, 'day')}` : `stale since ${-left_most} to ${-left} days`;
  if (left === left_most) return left === 0 ? 'today is the last day' : `${count(left, 'day')} left`;
  if (left < 0) return `may be stale; at most ${count(left_most, 'day')} left`;
  return `${left} to ${left_most} days left`;
}

/** @param {[number, number] | null} days */
export function since(days) {
  if (days === null) return 'nobody knows when it was felled';
  return days[0] === days[1] ? `${count(days[0], 'day')} since felling` : `${days[0]} to ${days[1]} days since felling`;
}

/**
 * What an act on woods, batches, strains and lots did; null when it is none of these.
 * @param {string} name
 * @param {Record<string, any>} said
 */
export function lifeSentence(name, said) {
  const done = said.new ? 'added' : 'changed';
  switch (name) {
    case 'log_unend': return `Log ${said.tag} is in the yard again; its ending was taken back.`;
    case 'wood_set': return `Wood ${said.name} ${done}.`;
    case 'wood_out': return `Wood ${said.name} taken out of the list.`;
    case 'batch_set': return `Batch ${said.name} ${done}.`;
    case 'batch_out': return `Batch ${said.name} taken out.`;
    case 'strain_set': return `Strain ${said.name} ${done}.`;
    case 'strain_out': return `Strain ${said.name} taken out.`;
    case 'lot_set': return `Spawn lot ${said.name} ${done}.${doubt(said)}`;
    case 'lot_out': return `Spawn lot ${said.name} taken out.`;
    default: return null;
  }
}

/** @param {Record<string, any>} said */
function doubt({ doubtful, logs }) {
  if (doubtful === null || doubtful === undefined || !logs) return '';
  return doubtful ? ` ${count(logs, 'log')} of it stay out of comparisons of strains.` : ` ${count(logs, 'log')} of it count in comparisons of strains.`;
}

/**
 * Why something of these was refused.
 * @param {string} why
 * @param {Record<string, any>} detail
 * @returns {{what: string, todo: string} | null}
 */
export function lifeRefusal(why, detail) {
  switch (why) {
    case 'conifer': return { what: `${capital(detail.name)} is a conifer: neither shiitake nor Hericium lives on it.`, todo: 'Choose a hardwood. A conifer log that is there already can be written down in the register.' };
    case 'known_wood': return { what: `The list has “${detail.name}” already.`, todo: 'Choose it there, or give yours another name.' };
    case 'known_strain': return { what: `There is a strain “${detail.name}” of this mushroom already.`, todo: 'Change that one, or give this another name.' };
    case 'dry_heavier': return { what: 'The disc weighs as much dry as wet, or more.', todo: `Dry wood is lighter than the ${detail.wet} g it had wet: look whether the two are swapped, or weigh again.` };
    default: return null;
  }
}

/** @param {Record<string, any>} detail */
export function inUse({ logs = 0, batches = 0, lots = 0 }) {
  const by = [logs && count(logs, 'log'), batches && count(batches, 'batch', 'batches'), lots && count(lots, 'spawn lot')].filter(Boolean).join(' and ');
  return { what: `${by} of it ${logs + batches + lots === 1 ? 'stands' : 'stand'} in the register.`, safe: 'Nothing was changed.', todo: 'It can be taken out once nothing is of it.' };
}
