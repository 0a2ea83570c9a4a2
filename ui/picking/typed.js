// A picking as it is typed, and how it becomes what the register keeps.
// It never talks to the backend. Invariant: an empty weight stays "not weighed", it never turns into 0.

import { dayPlus } from '../lib/format.js';
import { readCount, readGrams } from '../lib/numbers.js';
import { fromParts, toParts } from '../lib/rough.js';

/** @import {By, RoundWhen} from '../api/types.js' */
/** @import {RoughParts} from '../lib/rough.js' */
/** @import {Wrong} from '../flow/form.js' */

/**
 * @typedef {object} Typed
 * @property {string} grams
 * @property {string} caps
 * @property {string} damaged
 * @property {By | ''} by
 * @property {string} note
 * @property {'today' | 'last_night' | 'yesterday' | 'other'} when
 * @property {RoughParts} day used when `when` is `other`
 */

/** @typedef {{day: string | null, when: RoundWhen, grams: number | null, caps: number | null, damaged_pct: number | null, by: By | null, note: string}} Picking */

/**
 * @param {string} today
 * @returns {Typed}
 */
export function blank(today) {
  return { grams: '', caps: '', damaged: '', by: '', note: '', when: 'today', day: { ...toParts(today, 'day'), day: '' } };
}

/**
 * @param {Typed} typed
 * @param {string} today
 * @returns {{ok: true, picking: Picking} | {ok: false, wrong: Wrong}}
 */
export function asPicking(typed, today) {
  const grams = readGrams(typed.grams);
  if (!grams.ok) return { ok: false, wrong: { field: 'grams', text: grams.why } };
  const caps = readCount(typed.caps, 'caps');
  if (!caps.ok) return { ok: false, wrong: { field: 'caps', text: caps.why } };
  const damaged = readCount(typed.damaged.replace(/\s*%\s*$/, ''), 'per cent');
  if (!damaged.ok) return { ok: false, wrong: { field: 'damaged_pct', text: damaged.why } };
  const other = typed.when === 'other' ? fromParts({ ...typed.day, kind: 'day' }) : null;
  if (other && !other.ok) return { ok: false, wrong: { field: 'day', text: other.why } };
  const last = typed.when === 'last_night';
  const day = last ? null : other?.value ?? dayPlus(today, typed.when === 'yesterday' ? -1 : 0);
  return { ok: true, picking: { day, when: last ? 'last_night' : 'now', grams: grams.value, caps: caps.value, damaged_pct: damaged.value, by: typed.by || null, note: typed.note.trim() } };
}
