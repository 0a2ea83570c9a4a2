// The words of the yard's work: soaking, weighing, watering, weather, chores put off.
// It never works anything out. Invariant: each act of these rooms has one sentence.

import { air, capital, count, dayName, grams, listed, litres, logWeight, rain } from './format.js';

/** @import {Lift} from '../api/types.js' */

/** Where a log in the tank stands. @type {Record<Lift, string>} */
export const LIFT = {
  soaking: 'leave it in', may_lift: 'may come out', lift_now: 'lift it out now', too_long: 'too long: lift it out now',
};

/** Why one asks before a log goes in or out. @type {Record<string, (detail: Record<string, any>) => string>} */
export const WHY_ASK = {
  not_laid: () => 'is not laid yet: there is no spawn in it',
  too_young: ({ from, months }) => `is younger than ${months ? count(months, 'month') : 'a log should be'}${from ? `; old enough on ${dayName(from)}` : ''}`,
  still_resting: ({ until }) => `is still resting${until ? `, until ${dayName(until)}` : ''}`,
  caps_out: () => 'has pins or caps out: pick them first',
  cold_strain: () => 'carries a cold-weather strain, which is generally not forced',
  totem: () => 'is a totem: its joints part in the tank',
  hericium: () => 'carries Hericium, which is watered, not soaked, as a rule',
  in_tank: () => 'is in the tank',
  not_in_tank: () => 'is not in the tank',
  ended_already: () => 'has ended',
  away: () => 'left the yard',
  too_heavy: ({ bound_g: bound }) => `is heavier than its wood can be, soaked full: ${logWeight(bound)}`,
  too_light: ({ bound_g: bound }) => `is lighter than its wood is without water: ${logWeight(bound)}`,
};

/** @param {string[]} tags */
export function someLogs(tags) {
  if (tags.length === 1) return `log ${tags[0]}`;
  return tags.length > 8 ? count(tags.length, 'log') : `logs ${listed(tags)}`;
}

/**
 * What an act of the yard's work did; null for any other.
 * @param {string} name
 * @param {Record<string, any>} said
 * @returns {string | null}
 */
export function workSentence(name, said) {
  switch (name) {
    case 'soak_in': return `${capital(someLogs(said.tags))} put into the tank${said.water_dc == null ? '' : `, water ${air(said.water_dc)}`}.`;
    case 'soak_out': return `${capital(someLogs(said.tags))} lifted out of the tank.`;
    case 'weigh_add': return said.n === 1 && said.grams != null ? `Log ${said.tags[0]} weighed: ${logWeight(said.grams)}.` : `${capital(someLogs(said.tags))} weighed.`;
    case 'water_add': return `${said.spot ? `${said.spot}: ${count(said.n, 'log')}` : capital(someLogs(said.tags))} watered${said.litres_tenths == null ? '' : `, ${litres(said.litres_tenths)} each`}.`;
    case 'disc_set': return `Sample disc of ${said.name || 'the batch'} kept: ${grams(said.wet_g)} wet, ${grams(said.dry_g)} dry.`;
    case 'weather_set': return `Weather of ${dayName(said.day)} kept${said.min_dc == null ? '' : `: down to ${air(said.min_dc)}`}${said.rain_tenths == null ? '' : `, ${rain(said.rain_tenths)} of rain`}.`;
    case 'weather_take': return `Taken in from station ${said.station}: ${count(said.n, 'day')} of weather.`;
    case 'chore_put_off': return said.until ? `Put off till ${dayName(said.until)}.` : 'Back on the list.';
    case 'ways_set': return 'Units and ways of working kept.';
    default: return null;
  }
}

/**
 * @param {string} name
 * @param {Record<string, any>} said
 */
export function workWarning(name, said) {
  if (name === 'soak_in' && said.cooler === false) return `Mind: the water is not clearly cooler than the air (${air(said.air_dc)}).`;
  return '';
}
