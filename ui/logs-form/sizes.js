// The sizes of many logs as typed, one a line, to millimetres.
// It never talks to the backend. Invariant: as many sizes come out as logs were said, or what is wrong is said by line.

import { readCm, readCount } from '../lib/numbers.js';

/** @import {Wrong} from '../flow/form.js' */
/** @typedef {{d_mm: number[], length_mm: number | null}} Size */

export const MOST = 200;

/**
 * @param {string} text one log a line: `12.5`, `13 / 11`, `12.5 x 95`
 * @param {string} many how many logs
 * @param {string} length of all that say none themselves
 * @returns {{ok: true, sizes: Size[], measured: number} | {ok: false, wrong: Wrong}}
 */
export function readSizes(text, many, length) {
  const n = readCount(many, 'logs');
  if (!n.ok) return { ok: false, wrong: { field: 'n', text: n.why } };
  if (n.value === null || n.value < 1 || n.value > MOST) return { ok: false, wrong: { field: 'n', text: `From 1 to ${MOST} logs go in at once. Nothing you typed is gone.` } };
  const all = readCm(length);
  if (!all.ok) return { ok: false, wrong: { field: 'length_mm', text: all.why } };
  const lines = text.replace(/\s+$/, '').split('\n');
  const typed = lines.length === 1 && lines[0].trim() === '' ? [] : lines;
  if (typed.length > n.value) return { ok: false, wrong: { field: 'sizes', text: `There are ${typed.length} lines for ${n.value} logs. Change one of the two.` } };
  /** @type {Size[]} */
  const sizes = [];
  for (let i = 0; i < n.value; i += 1) {
    const read = readSize(typed[i] ?? '', all.value);
    if (typeof read === 'string') return { ok: false, wrong: { field: 'sizes', text: `Line ${i + 1}: ${read}` } };
    sizes.push(read);
  }
  return { ok: true, sizes, measured: sizes.filter(({ d_mm }) => d_mm.length > 0).length };
}

/**
 * @param {string} line
 * @param {number | null} length
 * @returns {Size | string} what is wrong, as text
 */
function readSize(line, length) {
  const [thick, own, ...rest] = line.split(/[x×*]/i);
  if (rest.length > 0) return `“${line.trim()}” has more than one length.`;
  const d_mm = [];
  for (const piece of thick.split(/[/;]|\s+(?=\d)/).filter((part) => part.trim() !== '')) {
    const read = readCm(piece);
    if (!read.ok) return read.why;
    if (read.value !== null) d_mm.push(read.value);
  }
  if (d_mm.length > 3) return 'a log has three thicknesses at most.';
  const long = own === undefined ? { ok: /** @type {const} */ (true), value: length } : readCm(own);
  return long.ok ? { d_mm, length_mm: long.value } : long.why;
}
