// What each chore says: what to do, why, and what its one tap is called.
// It never decides what is due. Invariant: every chore has a heading, a reason and a word for its tap.

import { air, capital, clockTime, count, dayName, rain } from './format.js';
import { LOSS_RISK, TELLS, lossWhy } from './words-rounds.js';
import { LIFT, someLogs } from './words-work.js';

/** @import {Chore, Due, Urgency} from '../api/types.js' */

/** @type {Record<Urgency, string>} */
export const URGENCY = { now: 'Now', today: 'Today', soon: 'Soon', can: 'When you can' };

/** Why the list is in this order, in words. */
export const ORDER = 'Most urgent first: what spoils while it waits, then today, then within days, then when there is time. Within one urgency: frost, tank, picking, round, laying, watering, weighing, looking, other fungi; then by the day it was due from.';

/** @type {Record<Chore, (due: Due) => string>} */
const HEADING = {
  frost: ({ why, logs }) => `Frost tonight: ${[logs.length ? `pick ${someLogs(tags(logs))}` : '', why.tank ? 'empty the tank' : '', 'soak nothing'].filter(Boolean).join(', ')}`,
  lift: ({ logs, why }) => `${capital(someLogs(tags(logs)))}: ${LIFT[/** @type {keyof typeof LIFT} */ (why.stage)]}`,
  pick: ({ logs }) => `Pick ${someLogs(tags(logs))}`,
  round: ({ why }) => `Night round${why.go ? ` from ${clockTime(why.go)}` : ' after dark'}`,
  lay: ({ logs, why }) => `Lay ${why.name === undefined ? someLogs(tags(logs)) : `the wood of “${why.name}”`}${why.left != null && why.left < 0 ? ': the wood is getting stale' : ''}`,
  water: ({ logs, spot }) => `Water ${spot ? `${spot}: ${someLogs(tags(logs))}` : someLogs(tags(logs))}`,
  weigh: ({ logs }) => `Weigh ${someLogs(tags(logs))}`,
  look_again: ({ logs }) => `Look again at ${someLogs(tags(logs))}`,
  look_pins: ({ logs }) => `Look for pins on ${someLogs(tags(logs))}`,
  look_season: ({ logs }) => `Look over ${someLogs(tags(logs))}`,
  rest_over: ({ logs }) => `${capital(someLogs(tags(logs)))} may be soaked again`,
  overdue: ({ logs }) => `${capital(someLogs(tags(logs)))} never fruited`,
  fungus: ({ logs, why }) => (why.risk === 'high' ? `Set ${someLogs(tags(logs))} apart` : `Watch ${someLogs(tags(logs))}`),
  backup: ({ why }) => (why.days === 0 ? 'Make a first backup' : `Make a backup: none for ${count(why.days, 'day')}`),
};

/** @type {Record<Chore, (due: Due, today: string) => string>} */
const REASON = {
  frost: ({ why }) => `Down to ${air(why.low_dc)} by your weather. Frozen caps go soft, and ice bursts a tank.`,
  lift: ({ why }) => `${count(why.hours, 'hour')} in the water.`,
  pick: ({ why }, today) => `Ripe caps seen ${dayName(why.seen, today)}, not picked since.`,
  round: ({ logs }) => `Pins or caps are out on ${count(logs.length, 'log')}, and slugs come after dark.`,
  lay: ({ why }, today) => {
    if (why.left == null) return 'The day it was felled is not known. Within about a month is common practice.';
    if (why.left < 0) return `Felled more than ${count((why.totem ? 90 : 30) - why.left, 'day')} ago. Wild fungi get ahead; lay it now or watch for them.`;
    return `${why.totem ? 'Too old to drill. As Hericium totems: ' : ''}${count(why.left, 'day')} left: until ${dayName(why.until, today)}.`;
  },
  water: ({ why }) => [why.weighed ? 'Their weight says they are too dry.' : '', why.dry_days == null ? '' : `${count(why.dry_days, 'dry day')}, ${rain(why.week_tenths)} of rain reached them in a week${why.hot ? ', and it is hot' : ''}.`].filter(Boolean).join(' '),
  weigh: ({ why }, today) => `Last weighed ${dayName(why.last, today)}, and it is dry.`,
  look_again: ({ why }, today) => `Small ones seen ${dayName(why.seen, today)}. They grow in days.`,
  look_pins: ({ why }, today) => `Out of the tank since ${dayName(why.soaked, today)}, not looked at since.`,
  look_season: ({ why }) => `A mean of ${air(why.mean_dc)} in the last week is weather they fruit in, and nobody has looked for two weeks.`,
  rest_over: ({ why }, today) => `Rested since their last flush or soak; over since ${dayName(why.since, today)}.`,
  overdue: () => 'Older than the longest published spawn run. Look over their bark and ends, and whether something else took them.',
  fungus: ({ logs, why }, today) => `${logs.length > 1 ? 'The newest: ' : ''}${lossWhy(/** @type {any} */ (why), today)} ${LOSS_RISK[/** @type {'watch' | 'high'} */ (why.risk)]}${why.tells ? ` ${TELLS[/** @type {'too_wet'} */ (why.tells)]}` : ''}`,
  backup: () => 'What was written since would be gone with this device.',
};

/** @type {Record<Chore, string>} */
const TAP = {
  frost: 'See to it', lift: 'Lifted out', pick: 'Pick', round: 'Start the round', lay: 'To the wood', water: 'Watered', weigh: 'Weigh', look_again: 'Look', look_pins: 'Look',
  look_season: 'To the logs', rest_over: 'To the tank', overdue: 'Look it over', fungus: 'Look it over', backup: 'To the backups',
};

/** @param {{tag: string}[]} logs */
function tags(logs) {
  return logs.map(({ tag }) => tag);
}

/** @param {Due} due */
export const heading = (due) => HEADING[due.what](due);
/**
 * @param {Due} due
 * @param {string} today
 */
export const reason = (due, today) => REASON[due.what](due, today);
/** @param {Due} due */
export const tapWord = (due) => TAP[due.what];
