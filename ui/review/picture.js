// Groups as dots with intervals, best first; their logs as cut ends behind; for times the curves.
// It never stands alone: a table follows. Invariant: the whole interval lies inside the picture.

import { html, nothing, svg } from '../vendor/lit-html/lit-html.js';
import { capital, count, figure } from '../lib/format.js';
import { groupName, measured, withUnit } from '../lib/words-review.js';

/** @import {Dot, GroupRow, Question} from '../api/types.js' */
/** @import {View} from './screen.js' */

/** Rows drawn at most: a phone shows no more. */
const SHOWN = 12;

/** @param {View} view */
export function picture(view) {
  const told = view.rows.filter((row) => row.tell && row.mean !== null).slice(0, SHOWN);
  return html`<section class="sheet" aria-label="Picture">
    ${told.length === 0 ? html`<p class="soft">There is not enough behind any figure for a picture yet.</p>` : drawing(told, view.question)}
    ${view.question.measure === 'soonest' || view.question.measure === 'longest' || view.question.measure === 'competitors' ? html`<p class="hint">Median, by the Kaplan–Meier curve; open rings are logs that are still waiting for it.</p>`
    : told.length ? html`<p class="hint">Dot and bar: mean and 90 % interval. Rings: your logs, larger where they say more; open where more is to come.</p>` : nothing}
    ${told.some((row) => row.dots.length < row.used) ? html`<p class="hint">Of a row with many logs some are drawn; the figures count them all.</p>` : nothing}
  </section>`;
}

/**
 * @param {GroupRow[]} rows
 * @param {Question} q
 * @param {string} [id] of the picture, where there are several
 */
export function drawing(rows, q, id = 'plot') {
  const { axis, by } = measured(q.measure);
  const top = Math.max(...rows.map(furthest)) * by;
  const step = tickStep(top);
  const end = Math.ceil(top / step) * step || 1;
  const x = (/** @type {number} */ value) => `${(2 + (Math.min(Math.max(0, value * by), end) / end) * 94).toFixed(2)}%`;
  const ticks = Array.from({ length: Math.round(end / step) + 1 }, (_, i) => i * step);
  const height = rows.length * 3.2 + 2;
  return html`<svg class="plot" role="img" aria-labelledby=${`${id}-title ${id}-desc`} width="100%" height=${`${height}em`}>
    <title id=${`${id}-title`}>${capital(axis)}</title>
    <desc id=${`${id}-desc`}>${rows.map((row) => spoken(row, q)).join(' ')}</desc>
    ${ticks.map((tick) => svg`<line class="plot-grid" x1=${x(tick / by)} x2=${x(tick / by)} y1="0" y2=${`${height - 1.8}em`} />
      <text class="plot-tick" x=${x(tick / by)} y=${`${height - 0.5}em`}><tspan>${figure(tick)}</tspan></text>`)}
    ${rows.map((row, i) => line(row, q, i * 3.2, x, end / by))}
  </svg>`;
}

/**
 * @param {GroupRow} row
 * @param {Question} q
 * @param {number} y in em
 * @param {(value: number) => string} x
 * @param {number} end
 */
function line(row, q, y, x, end) {
  const mid = `${y + 2.1}em`;
  const logs = row.dots.filter((dot) => dot.value <= end);
  const ring = (/** @type {Dot} */ dot) => svg`<circle cx=${x(dot.value)} cy=${mid} r=${`${(0.22 + 0.28 * Math.sqrt(dot.weight)).toFixed(2)}em`} />`;
  return svg`<text class="plot-label" x="2%" y=${`${y + 1.2}em`}>${capital(groupName(q.by, row.name))}</text>
    ${row.mean === null ? nothing : svg`<text class="plot-figure" x="97%" y=${`${y + 1.2}em`}>${withUnit(q.measure, row.mean)}</text>`}
    <g class="plot-log">${logs.filter((dot) => !dot.open).map(ring)}</g>
    <g class="plot-log plot-log-open">${logs.filter((dot) => dot.open).map(ring)}</g>
    ${row.low === null ? nothing : svg`<line class="plot-range" x1=${x(row.low)} x2=${row.high === null ? '98%' : x(row.high)} y1=${mid} y2=${mid} />`}
    ${row.mean === null ? nothing : svg`<circle class="plot-dot" cx=${x(row.mean)} cy=${mid} r="0.42em" />`}`;
}

/** @param {GroupRow} row */
function furthest(row) {
  const middle = row.dots.map((dot) => dot.value).sort((a, b) => a - b)[Math.floor(row.dots.length * 0.9)] ?? 0;
  return Math.max(row.high ?? row.mean ?? 0, Math.min(middle, 2 * (row.high ?? row.mean ?? 0)));
}

/**
 * @param {GroupRow} row
 * @param {Question} q
 */
function spoken(row, q) {
  const { by } = measured(q.measure);
  if (row.mean === null) return '';
  const to = row.high === null ? 'with no upper end yet' : `and ${figure(row.high * by)}`;
  return `${capital(groupName(q.by, row.name))}: ${withUnit(q.measure, row.mean)}, between ${row.low === null ? 'no lower end' : figure(row.low * by)} ${to}, from ${count(row.used, 'log')}.`;
}

/** A step of 1, 2 or 5 that gives three to five marks. @param {number} top */
export function tickStep(top) {
  if (top <= 0) return 1;
  const size = 10 ** Math.floor(Math.log10(top / 3));
  return [1, 2, 5, 10].map((n) => n * size).find((step) => top / step <= 4.5) ?? size * 10;
}
