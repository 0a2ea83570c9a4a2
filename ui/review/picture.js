// The woods as dots with intervals, best first.
// It never stands alone: a table follows. Invariant: the whole interval lies inside the picture.

import { html, svg } from '../vendor/lit-html/lit-html.js';
import { chips } from '../components/field.js';
import { capital, figure } from '../lib/format.js';

/** @import {WoodRow} from '../api/types.js' */
/** @import {Measure, View} from './screen.js' */

/** @type {Record<Measure, {label: string, unit: string, name: string}>} */
export const MEASURES = {
  per_log_year: { label: 'a log and year', unit: 'g', name: 'grams a log gave in a year' },
  per_litre: { label: 'a litre of wood', unit: 'g', name: 'grams a litre of wood gave so far' },
};

/** @param {WoodRow} row */
export function woodLabel(row) {
  return capital(row.name ?? 'wood not known');
}

/**
 * @param {View} view
 * @param {{measure: (view: View, measure: Measure) => void}} on
 */
export function picture(view, on) {
  const told = view.woods.filter((row) => row.tell && row[view.measure]);
  const options = /** @type {Measure[]} */ (Object.keys(MEASURES)).map((value) => ({ value, label: MEASURES[value].label }));
  return html`<section class="sheet" aria-label="Picture">
    ${chips({ name: 'measure', legend: 'Grams for', options, value: view.measure, onPick: (m) => on.measure(view, m) })}
    ${told.length === 0 ? html`<p class="soft">No wood has enough weighed logs for a picture yet.</p>` : drawing(told, view.measure)}
  </section>`;
}

/**
 * @param {WoodRow[]} rows
 * @param {Measure} measure
 */
function drawing(rows, measure) {
  const { name } = MEASURES[measure];
  const top = Math.max(...rows.map((row) => row[measure]?.high ?? 0));
  const step = tickStep(top);
  const end = Math.ceil(top / step) * step || 1;
  const x = (/** @type {number} */ value) => `${(2 + (Math.max(0, value) / end) * 92).toFixed(2)}%`;
  const ticks = Array.from({ length: Math.round(end / step) + 1 }, (_, i) => i * step);
  const height = rows.length * 3.4 + 2;
  return html`<svg class="plot" role="img" aria-labelledby="plot-title plot-desc" width="100%" height=${`${height}em`}>
    <title id="plot-title">Woods by ${name}</title>
    <desc id="plot-desc">${rows.map((row) => spoken(row, measure)).join(' ')}</desc>
    ${ticks.map((tick) => svg`<line class="plot-grid" x1=${x(tick)} x2=${x(tick)} y1="0" y2=${`${height - 1.8}em`} />
      <text class="plot-tick" x=${x(tick)} y=${`${height - 0.5}em`}><tspan>${figure(tick)}</tspan></text>`)}
    ${rows.map((row, i) => line(row, measure, i * 3.4, x))}
  </svg>`;
}

/**
 * @param {WoodRow} row
 * @param {Measure} measure
 * @param {number} y in em
 * @param {(value: number) => string} x
 */
function line(row, measure, y, x) {
  const range = row[measure];
  if (!range) return svg``;
  const mid = `${y + 2.1}em`;
  return svg`<text class="plot-label" x="2%" y=${`${y + 1.2}em`}>${woodLabel(row)}</text>
    <line class="plot-range" x1=${x(range.low)} x2=${x(range.high)} y1=${mid} y2=${mid} />
    <circle class="plot-dot" cx=${x(range.mean)} cy=${mid} r="0.42em" />`;
}

/**
 * @param {WoodRow} row
 * @param {Measure} measure
 */
function spoken(row, measure) {
  const range = row[measure];
  return range ? `${woodLabel(row)}: ${figure(range.mean)} ${MEASURES[measure].unit}, between ${figure(range.low)} and ${figure(range.high)}, from ${range.n} logs.` : '';
}

/** A step of 1, 2 or 5 that gives three to five marks. @param {number} top */
function tickStep(top) {
  if (top <= 0) return 1;
  const size = 10 ** Math.floor(Math.log10(top / 3));
  return [1, 2, 5, 10].map((n) => n * size).find((step) => top / step <= 4.5) ?? size * 10;
}
