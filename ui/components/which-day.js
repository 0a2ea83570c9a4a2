// Which day something was: today, yesterday, or another day written out.
// It never asks the time. Invariant: what is on show is what `readDay` reads, and a day to come is refused by the backend.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { chips } from './field.js';
import { roughDate } from './rough-date.js';
import { dayPlus } from '../lib/format.js';
import { fromParts, toParts } from '../lib/rough.js';

/** @import {RoughParts} from '../lib/rough.js' */
/** @typedef {{when: 'today' | 'yesterday' | 'other', parts: RoughParts}} Day */

/**
 * @param {string} today
 * @returns {Day}
 */
export function someDay(today) {
  return { when: 'today', parts: { ...toParts(today, 'day'), day: '' } };
}

/**
 * @param {Day} day changed in place
 * @param {() => void} onChange
 * @param {string} [wrong]
 */
export function whichDay(day, onChange, wrong = '') {
  return html`<div class="which-day">
    ${chips({ name: 'when', legend: 'Which day?', value: day.when, onPick: (when) => { day.when = when; onChange(); },
      options: /** @type {const} */ ([{ value: 'today', label: 'today' }, { value: 'yesterday', label: 'yesterday' }, { value: 'other', label: 'another day' }]), wrong: day.when === 'other' ? '' : wrong })}
    ${day.when === 'other' ? roughDate({ name: 'day', legend: 'The day', parts: day.parts, kinds: ['day'], onChange, wrong }) : nothing}
  </div>`;
}

/**
 * @param {Day} day
 * @param {string} today
 * @returns {{ok: true, value: string} | {ok: false, wrong: {field: string, text: string}}}
 */
export function readDay(day, today) {
  if (day.when !== 'other') return { ok: true, value: dayPlus(today, day.when === 'yesterday' ? -1 : 0) };
  const read = fromParts({ ...day.parts, kind: 'day' });
  return read.ok && read.value ? { ok: true, value: read.value } : { ok: false, wrong: { field: 'day', text: read.ok ? 'Write the day.' : read.why } };
}
