// How a spreadsheet is to be read: which column says what, in which order and units.
// It never reads a cell. Invariant: one column has one meaning and one meaning one column.

/** @import {DateOrder, Delimiter, LengthUnit, Meaning, Mushroom, WeightUnit} from '../api/types.js' */

/** @typedef {Partial<Record<Meaning, number>>} Columns */

/**
 * @typedef {object} Match
 * @property {'logs' | 'pickings'} what
 * @property {Columns} columns
 * @property {DateOrder} dates
 * @property {LengthUnit} lengths
 * @property {WeightUnit} weights
 * @property {Mushroom | null} mushroom
 */

/** What a row can say. @type {Record<'logs' | 'pickings', Meaning[]>} */
export const MEANINGS = {
  logs: ['tag', 'wood', 'd1', 'd2', 'd3', 'length', 'felled', 'mushroom', 'strain', 'strain_class', 'spawn', 'method', 'laid', 'spot', 'note'],
  pickings: ['tag', 'day', 'weight', 'caps', 'damaged_pct', 'by', 'note'],
};

const DATES = new Set(['felled', 'laid', 'day']);
const LENGTHS = new Set(['d1', 'd2', 'd3', 'length']);

/**
 * The start: what the headers seem to say, of what such a row can say.
 * @param {Columns} guess
 * @param {'logs' | 'pickings' | null} what null: whichever the headers speak of
 * @param {Match | null} before keeps order and units
 * @returns {Match}
 */
export function startWith(guess, what, before) {
  const rows = what ?? (guess.day !== undefined || guess.weight !== undefined ? 'pickings' : 'logs');
  const fits = Object.entries(guess).filter(([meaning]) => MEANINGS[rows].includes(/** @type {Meaning} */ (meaning)));
  /** @type {Columns} */
  const columns = {};
  for (const [meaning, column] of fits) if (!Object.values(columns).includes(column)) columns[/** @type {Meaning} */ (meaning)] = column;
  const kept = before ?? { dates: /** @type {DateOrder} */ ('dmy'), lengths: /** @type {LengthUnit} */ ('cm'), weights: /** @type {WeightUnit} */ ('g'), mushroom: null };
  return { what: rows, columns, dates: kept.dates, lengths: kept.lengths, weights: kept.weights, mushroom: kept.mushroom };
}

/**
 * @param {Columns} columns
 * @param {number} column
 * @param {Meaning | ''} meaning empty: left out
 * @returns {Columns}
 */
export function matched(columns, column, meaning) {
  const rest = Object.entries(columns).filter(([other, at]) => at !== column && other !== meaning);
  return { ...Object.fromEntries(rest), ...(meaning ? { [meaning]: column } : {}) };
}

/**
 * @param {Columns} columns
 * @param {number} column
 * @returns {Meaning | ''}
 */
export function meaningOf(columns, column) {
  const hit = Object.entries(columns).find(([, at]) => at === column);
  return hit ? /** @type {Meaning} */ (hit[0]) : '';
}

/** Which questions about order and units the columns raise. @param {Match} match */
export function raises({ what, columns }) {
  const said = Object.keys(columns);
  return {
    dates: said.some((meaning) => DATES.has(meaning)), lengths: said.some((meaning) => LENGTHS.has(meaning)),
    weights: said.includes('weight'), mushroom: what === 'logs',
  };
}

/**
 * The request for trying and for taking.
 * @param {{file: string, sheet: {delimiter: Delimiter} | null, match: Match | null}} view
 */
export function asked({ file, sheet, match }) {
  if (!sheet || !match) throw new Error('nothing was chosen yet');
  const { what, columns, dates, lengths, weights, mushroom } = match;
  return { base64: file, delimiter: sheet.delimiter, what, columns, dates, lengths, weights, mushroom: what === 'logs' ? mushroom : null };
}
