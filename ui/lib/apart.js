// What two devices wrote apart, in words: what a merge brings and did, contradictions, twins, values that did not win.
// It never takes sides. Invariant: nothing new on either side is said as such, never as silence.

import { capital, cm, lengthUnit, count, dayName, grams, listed, rough } from './format.js';
import { deviceName } from './jobs.js';
import { ENDING, METHOD, MUSHROOM, SPAWN, STRAIN_CLASS } from './words.js';

/** @import {Contradiction, MergeView, Mushroom, Twin, Twins} from '../api/types.js' */

/** @type {[string, string, string?][]} */
const KINDS = [
  ['picking', 'picking'], ['look', 'look'], ['check', 'check on a night round', 'checks on night rounds'], ['ending', 'ended log'],
  ['move', 'move'], ['condition', 'look at the wood', 'looks at the wood'], ['tending', 'deed for a log', 'deeds for logs'],
  ['log', 'new log'], ['spot', 'new spot'], ['strain', 'new strain'], ['round', 'night round'],
];

/**
 * What would come in, as one sentence; empty when nothing would.
 * @param {Pick<MergeView, 'new_acts' | 'by_kind' | 'changed_fields' | 'photos_to_come'>} view
 */
export function comesIn(view) {
  const parts = KINDS.filter(([kind]) => view.by_kind[kind] > 0).map(([kind, one, many]) => count(view.by_kind[kind], one, many));
  if (view.changed_fields > 0) parts.push(count(view.changed_fields, 'changed field'));
  if (view.photos_to_come > 0) parts.push(`${count(view.photos_to_come, 'photo')} still to come`);
  if (parts.length === 0 && view.new_acts > 0) parts.push(count(view.new_acts, 'act'));
  return parts.length ? `${capital(listed(parts))}.` : '';
}

/** @param {Pick<MergeView, 'to_send'>} view */
export function goesOut({ to_send: n }) {
  return n > 0 ? `${count(n, 'act')}, with the photos the folder does not have yet.` : '';
}

/**
 * What to mind about a merge before it is done.
 * @param {MergeView} view
 * @returns {string[]} lines as long work leaves them
 */
export function mergeRemarks(view) {
  return [
    ...view.passed_over.map((file) => `passed over ${file}`),
    ...view.ahead.map((device) => `clock ahead ${device}`),
    ...view.forked.map((device) => `two copies ${device}`),
    ...(view.waiting > 0 ? [`waiting ${view.waiting}`] : []),
  ];
}

/** @param {number} n */
export function notUnderstood(n) {
  if (n === 0) return '';
  return `${count(n, 'act')} of a newer Shadeyard ${n === 1 ? 'is' : 'are'} kept and passed on, and shown once this one is as new.`;
}

/**
 * What a merge did.
 * @param {Record<string, number>} did
 */
export function merged({ acts = 0, blobs = 0, sent = 0 }) {
  if (acts + blobs + sent === 0) return 'Merged. There was nothing new on either side, so nothing was written.';
  const came = [acts ? count(acts, 'act') : '', blobs ? count(blobs, 'photo') : ''].filter(Boolean);
  const words = [came.length ? `${listed(came)} came in` : 'nothing new came in', sent ? `${count(sent, 'act')} went out` : ''].filter(Boolean);
  return `Merged: ${listed(words)}.`;
}

/** @param {Contradiction} clash */
export function contradiction({ kind, name, day, words }) {
  const log = name ? `Log ${name}` : 'A log';
  switch (kind) {
    case 'two_rounds': return `Two night rounds were begun for ${day ? `the evening of ${dayName(day)}` : 'one evening'}. Both are kept.`;
    case 'ended_twice': return `${log} ended twice, for different reasons: ${listed(words.map((why) => ENDING[/** @type {keyof typeof ENDING} */ (why)] ?? why))}.`;
    case 'after_ending': return `${log} ended, and was worked on afterwards${day ? `, from ${dayName(day)} on` : ''}.`;
    case 'removed_and_used': return `${log} was taken out on one device and worked on with another${day ? `, last on ${dayName(day)}` : ''}.`;
    case 'one_tag': return `Two logs carry the tag ${name}.`;
    case 'one_spot': return `Two spots are called ${name}.`;
    case 'one_strain': return `Two strains are called ${name}.`;
  }
}

/** Where a contradiction is mended: the logs it is about. @param {Contradiction} clash */
export function logsOf({ kind, ids }) {
  return ['ended_twice', 'after_ending', 'one_tag'].includes(kind) ? ids : [];
}

/** @param {Twin} twin */
export function weighed({ grams: g, caps }) {
  return g === null && caps !== null ? count(caps, 'cap') : grams(g);
}

/**
 * The question twins ask.
 * @param {Twins} twins
 * @param {string | null} [today]
 */
export function twinQuestion({ tag, day, entries }, today = null) {
  const people = new Set(entries.map(({ device }) => device)).size;
  const who = people === 2 ? 'Two people' : `${people} people`;
  const what = entries.length === 2 ? 'entered a picking' : `entered ${entries.length} pickings`;
  const on = dayName(day, today);
  return `${who} ${what} of log ${tag} ${/^\d/.test(on) ? `on ${on}` : on}: ${listed(entries.map(weighed))}. ${entries.length === 2 ? 'One or two?' : 'Was one entered twice?'}`;
}

/** @type {Record<string, Record<string, string>>} */
const WORDS = { mushroom: MUSHROOM, strain_class: STRAIN_CLASS, class: STRAIN_CLASS, spawn: SPAWN, method: METHOD };

/**
 * A field's value, as it is said on the log's page.
 * @param {string} name
 * @param {any} value
 * @returns {string}
 */
export function fieldValue(name, value) {
  if (name === 'void') return value === 1 ? 'taken out' : 'in the register';
  if (name === 'laid') return rough(value, 'not laid yet');
  if (value === null || value === '') return 'left empty';
  if (name === 'felled') return rough(String(value), 'not known');
  if (/^d\d_mm$|^length_mm$/.test(name)) return `${cm(Number(value))} ${lengthUnit()}`;
  if (name === 'wood') return String(value).replace(/-/g, ' ');
  if (name === 'note') return `“${value}”`;
  return WORDS[name]?.[/** @type {Mushroom} */ (value)] ?? String(value);
}

/**
 * Who gave a value.
 * @param {string} device
 * @param {string} mine the end of this device's id
 */
export function whose(device, mine) {
  return mine !== '' && device.endsWith(mine) ? 'this device' : deviceName(device);
}
