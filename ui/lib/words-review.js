// The words of Review: what is asked, why a group cannot be told, why a log stands aside.
// It computes nothing but units. Invariant: every word of the backend's lists has one here.

import { MUSHROOM, METHOD, SPAWN, STRAIN_CLASS } from './words.js';
import { figure, isUs } from './format.js';
import { MONTHS } from './rough.js';

/** @import {Aside, GroupBy, Measure, Untold} from '../api/types.js' */

/** What logs are told apart by: of one, of several. @type {Record<GroupBy, {one: string, many: string}>} */
export const BY_GROUP = {
  wood: { one: 'wood', many: 'woods' }, strain: { one: 'strain', many: 'strains' }, class: { one: 'strain class', many: 'strain classes' },
  method: { one: 'method', many: 'methods' }, spawn: { one: 'form of spawn', many: 'forms of spawn' }, spot: { one: 'spot', many: 'spots' },
  thickness: { one: 'thickness', many: 'thicknesses' }, laid_month: { one: 'month of laying', many: 'months of laying' },
  laid_year: { one: 'year of laying', many: 'years of laying' }, wood_source: { one: 'source of wood', many: 'sources of wood' },
  spawn_source: { one: 'source of spawn', many: 'sources of spawn' }, mushroom: { one: 'mushroom', many: 'mushrooms' },
};

/**
 * What best means: as a choice, as a claim, and the unit of its figure.
 * @type {Record<Measure, {choice: string, did: string, leads: string, unit: string, axis: string, digits?: number}>}
 */
export const MEASURE = {
  log_year: { choice: 'gave most for a log and year', did: 'gave most for a log and year', leads: 'leads', unit: 'g', axis: 'grams for a log and year' },
  litre: { choice: 'gave most for a litre of wood', did: 'gave most for a litre of wood', leads: 'leads', unit: 'g', axis: 'grams for a litre of wood, over a whole life' },
  dry_kg: { choice: 'gave most for its dry wood', did: 'gave most for its dry wood', leads: 'leads', unit: '%', axis: 'fresh mushrooms in per cent of the dry wood, over a whole life' },
  soak: { choice: 'gave most after a soak', did: 'gave most after a soak', leads: 'leads', unit: 'g', axis: 'grams in the four weeks after a soak' },
  life: { choice: 'gives most in its whole life', did: 'gives most in its whole life', leads: 'leads', unit: 'g', axis: 'grams in a whole life' },
  soonest: { choice: 'fruited soonest', did: 'fruited soonest', leads: 'leads', unit: 'years', axis: 'years from laying to the first fruit, median' },
  longest: { choice: 'lasted longest', did: 'lasted longest', leads: 'leads', unit: 'years', axis: 'years of life, median' },
  damage: { choice: 'lost least to slugs and others', did: 'lost least to slugs and others', leads: 'leads', unit: '%', axis: 'per cent of the weight damaged' },
  competitors: { choice: 'kept competitors off longest', did: 'kept competitors off longest', leads: 'leads', unit: 'years', axis: 'years until a competitor came, median' },
};

const OZ = 28.349523125;
/** Ounces a cubic foot for a gram a litre: nearly one. */
const OZ_FOOT = 28.316846592 / OZ;

/** The measures that have other units where those are set. @type {Partial<Record<Measure, {unit: string, axis: string, by: number}>>} */
const US = {
  log_year: { unit: 'oz', axis: 'ounces for a log and year', by: 1 / OZ },
  litre: { unit: 'oz', axis: 'ounces for a cubic foot of wood, over a whole life', by: OZ_FOOT },
  soak: { unit: 'oz', axis: 'ounces in the four weeks after a soak', by: 1 / OZ },
  life: { unit: 'lb', axis: 'pounds in a whole life', by: 1 / (16 * OZ) },
};

/** What best means, in the units that are set. @param {Measure} measure */
export function measured(measure) {
  const plain = MEASURE[measure];
  const us = isUs() ? US[measure] : undefined;
  const words = us && measure === 'litre' ? { choice: US_LITRE, did: US_LITRE } : {};
  return { ...plain, ...words, unit: us?.unit ?? plain.unit, axis: us?.axis ?? plain.axis, by: us?.by ?? 1 };
}

const US_LITRE = 'gave most for a cubic foot of wood';

/**
 * A measure's figure with its unit.
 * @param {Measure} measure
 * @param {number} value as the backend gives it
 */
export function withUnit(measure, value) {
  const { unit, by } = measured(measure);
  return `${figure(value * by)}\u00a0${unit}`;
}

/** @type {Record<Untold, string>} */
export const UNTOLD = {
  few_logs: 'too few logs to tell', too_young: 'too young to tell', no_weights: 'nothing weighed', unnamed: 'nobody knows which', nothing_seen: 'nothing of this seen yet',
};

/** Why logs stand aside. @type {Record<Aside, string>} */
export const ASIDE = {
  not_laid: 'not laid yet', undated: 'laid nobody knows when', spawn_run: 'in the spawn run: they count once they could have fruited',
  no_weights: 'picked, but nothing was ever weighed', unmeasured: 'without a size', not_soaked: 'never soaked',
  not_judged: 'no picking was judged for damage', came_late: 'came to the yard too old: it may have happened before', doubtful: 'of doubtful strain',
};

/** What was taken out of the comparison. @type {Record<string, string>} */
export const ADJUSTED = { mushroom: 'mushroom', strain: 'strain', method: 'method', wood: 'wood', size: 'size of the log' };

/** @type {Record<string, string>} */
const THICK = {
  under_100_mm: 'under 10 cm', '100_to_125_mm': '10 to 12.5 cm', '125_to_150_mm': '12.5 to 15 cm', '150_to_200_mm': '15 to 20 cm', over_200_mm: '20 cm and more',
};

/** The same bounds in inches, to a tenth. @type {Record<string, string>} */
const THICK_IN = {
  under_100_mm: 'under 3.9 in', '100_to_125_mm': '3.9 to 4.9 in', '125_to_150_mm': '4.9 to 5.9 in', '150_to_200_mm': '5.9 to 7.9 in', over_200_mm: '7.9 in and more',
};

/**
 * A group's name on screen.
 * @param {GroupBy} by
 * @param {string | null} name
 */
export function groupName(by, name) {
  if (name === null) return `${BY_GROUP[by].one} not known`;
  const words = /** @type {Record<string, Record<string, string>>} */ ({ mushroom: MUSHROOM, method: METHOD, spawn: SPAWN, class: STRAIN_CLASS, thickness: isUs() ? THICK_IN : THICK })[by];
  if (by === 'laid_month') return MONTHS[Number(name) - 1] ?? name;
  return words?.[name] ?? name;
}
