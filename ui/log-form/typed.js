// A log as it is typed: text in every field, and how it becomes the fields of the register.
// It never talks to the backend. Invariant: reading a log into text and back changes nothing.

import { cm } from '../lib/format.js';
import { readCm } from '../lib/numbers.js';
import { fromParts, toParts } from '../lib/rough.js';

/** @import {LogFields, LogForm, Method, Mushroom, Spawn, StrainClass} from '../api/types.js' */
/** @import {RoughParts} from '../lib/rough.js' */
/** @import {Wrong} from '../flow/form.js' */

/**
 * @typedef {object} Typed
 * @property {string} tag
 * @property {Mushroom | null} mushroom
 * @property {string} wood
 * @property {[string, string, string]} d
 * @property {string} length
 * @property {RoughParts} felled
 * @property {RoughParts} laid
 * @property {string} strain
 * @property {StrainClass | ''} strain_class
 * @property {Spawn | ''} spawn
 * @property {Method | ''} method
 * @property {string} spot
 * @property {string} batch
 * @property {string} lot
 * @property {string} note
 */

/**
 * @param {string} tag
 * @returns {Typed}
 */
export function blank(tag) {
  return {
    tag, mushroom: null, wood: '', d: ['', '', ''], length: '', felled: toParts(null, 'unknown'), laid: toParts('XXXX', 'none'),
    strain: '', strain_class: '', spawn: '', method: '', spot: '', batch: '', lot: '', note: '',
  };
}

/**
 * @param {LogFields} fields
 * @returns {Typed}
 */
export function asTyped(fields) {
  const [a = null, b = null, c = null] = fields.d_mm;
  return {
    tag: fields.tag, mushroom: fields.mushroom, wood: fields.wood ?? '', d: [cm(a), cm(b), cm(c)], length: cm(fields.length_mm),
    felled: toParts(fields.felled, 'unknown'), laid: toParts(fields.laid, 'none'), strain: fields.strain ?? '',
    strain_class: fields.strain_class ?? '', spawn: fields.spawn ?? '', method: fields.method ?? '', spot: fields.spot ?? '', batch: fields.batch ?? '', lot: fields.lot ?? '', note: fields.note,
  };
}

/**
 * @param {Typed} typed
 * @param {LogFields | null} before an unknown felling day stays written as it was
 * @returns {{ok: true, fields: LogFields} | {ok: false, wrong: Wrong}}
 */
export function asFields(typed, before) {
  if (typed.mushroom === null) return wrong('mushroom', 'No mushroom is chosen. Nothing you typed is gone. Tap the one this log carries.');
  const d_mm = [];
  for (const [i, text] of typed.d.entries()) {
    const read = readCm(text);
    if (!read.ok) return wrong(`d_${i + 1}`, read.why);
    if (read.value !== null) d_mm.push(read.value);
  }
  const length = readCm(typed.length);
  if (!length.ok) return wrong('length_mm', length.why);
  const felled = fromParts(typed.felled, before?.felled === 'XXXX' ? 'XXXX' : null);
  if (!felled.ok) return wrong('felled', felled.why);
  const laid = fromParts(typed.laid);
  if (!laid.ok) return wrong('laid', laid.why);
  const shiitake = typed.mushroom === 'shiitake';
  return {
    ok: true,
    fields: {
      tag: typed.tag.trim(), wood: typed.wood || null, d_mm, length_mm: length.value, felled: felled.value, mushroom: typed.mushroom,
      strain: typed.strain.trim() || null, strain_class: (shiitake && typed.strain_class) || null, spawn: typed.spawn || null,
      method: typed.method || null, laid: laid.value, spot: typed.spot.trim() || null, batch: typed.batch || null, lot: typed.lot || null, note: typed.note.trim(),
    },
  };
}

/**
 * A batch says what its wood is and when it was felled.
 * @param {Typed} typed
 * @param {LogForm} form
 * @param {string} id
 */
export function ofBatch(typed, form, id) {
  typed.batch = id;
  const fields = form.batches.find((b) => b.id === id)?.fields;
  if (fields?.wood) typed.wood = fields.wood;
  if (fields?.felled) typed.felled = toParts(fields.felled, 'unknown');
}

/**
 * A log of wood that waits: not laid yet.
 * @param {Typed} typed
 * @param {LogForm} form
 * @param {string} batch
 */
export function ofWaiting(typed, form, batch) {
  ofBatch(typed, form, batch);
  typed.laid = toParts(null, 'none');
}

/**
 * A spawn lot says what it is of and in what form.
 * @param {Typed} typed
 * @param {LogForm} form
 * @param {string} id
 */
export function ofLot(typed, form, id) {
  typed.lot = id;
  const lot = form.lots.find((l) => l.id === id);
  if (lot?.strain_name) typed.strain = lot.strain_name;
  if (lot?.class) typed.strain_class = lot.class;
  if (lot?.fields.form) typed.spawn = lot.fields.form;
  if (lot?.mushroom && typed.mushroom === null) typed.mushroom = lot.mushroom;
}

/**
 * A strain that is known says its class.
 * @param {Typed} typed
 * @param {LogForm} form
 * @param {string} name
 */
export function ofStrain(typed, form, name) {
  typed.strain = name;
  const known = form.strains.find((s) => s.name === name && s.mushroom === typed.mushroom);
  if (known?.class) typed.strain_class = known.class;
}

/**
 * @param {LogFields} a
 * @param {LogFields} b
 */
export function sameFields(a, b) {
  const keys = /** @type {(keyof LogFields)[]} */ (Object.keys(a));
  return keys.every((key) => JSON.stringify(a[key]) === JSON.stringify(b[key]));
}

/**
 * @param {string} field
 * @param {string} text
 * @returns {{ok: false, wrong: Wrong}}
 */
function wrong(field, text) {
  return { ok: false, wrong: { field, text } };
}
