// The end-grain picture: the disc on a log's cut end, drawn from its own record.
// It never invents: no size gives a dashed bark, no laying day gives no rings. Invariant: the same record, the same picture.

import { html, svg } from '../vendor/lit-html/lit-html.js';
import { count, daysAgo } from '../lib/format.js';
import { STATE } from '../lib/words.js';

/** @import {Entry, LogRow} from '../api/types.js' */

const TURN = Math.PI * 2;

/**
 * @param {LogRow} row
 * @param {string} today
 * @param {{entries?: Entry[], spoken?: boolean}} [more]
 */
export function endgrain(row, today, { entries = [], spoken = false } = {}) {
  const seed = seedOf(row.id);
  const radius = radiusOf(row.d_mm);
  const years = yearsLaid(row.laid, today);
  const disc = svg`
    <path class=${`grain-bark grain-${row.state}${row.d_mm.length ? '' : ' grain-unmeasured'}`} d=${wobbly(50, 50, radius, seed, 0.035)} />
    <path class="grain-wood" d=${wobbly(50, 50, radius * 0.86, seed + 1, 0.025)} />
    ${rings(years, radius * 0.86, seed)}
    ${entries.flatMap((entry) => wedge(entry, radius * 0.84))}
    <circle class="grain-pith" cx="49" cy="51" r="1.8" />
    ${marks(row, radius, seed)}`;
  return spoken
    ? html`<svg class="grain" viewBox="0 0 100 100" role="img" aria-label=${spokenGrain(row, years)}>${disc}</svg>`
    : html`<svg class="grain" viewBox="0 0 100 100" aria-hidden="true" focusable="false">${disc}</svg>`;
}

/**
 * @param {LogRow} row
 * @param {number | null} years
 */
function spokenGrain(row, years) {
  const wide = row.d_mm.length ? `${Math.round(mean(row.d_mm) / 10)} cm thick` : 'thickness not measured';
  const laid = row.laid === null ? 'not laid yet' : years === null ? 'laid, nobody knows when' : `laid ${years === 0 ? 'less than a year' : count(years, 'year')} ago`;
  return `End grain of log ${row.tag}: ${wide}, ${laid}, ${STATE[row.state]}.`;
}

/** @param {number[]} numbers */
function mean(numbers) {
  return numbers.reduce((sum, n) => sum + n, 0) / numbers.length;
}

/** 60 mm and less draw small, 250 mm and more fill the square. @param {number[]} d_mm */
function radiusOf(d_mm) {
  if (d_mm.length === 0) return 36;
  const d = Math.min(250, Math.max(60, mean(d_mm)));
  return 31 + ((d - 60) / 190) * 15;
}

/**
 * Whole years since laying, from the latest day a rough date can mean; null when nobody knows.
 * @param {string | null} laid
 * @param {string} today
 */
function yearsLaid(laid, today) {
  if (laid === null || laid === 'XXXX') return null;
  const [year, second = '12', day = '28'] = laid.split('-');
  const season = Number(second) > 12 ? (Number(second) - 20) * 3 : Number(second);
  const ago = daysAgo(`${year}-${String(season).padStart(2, '0')}-${day}`, today);
  return Math.max(0, Math.floor(ago / 365.25));
}

/**
 * @param {number | null} years
 * @param {number} radius
 * @param {number} seed
 */
function rings(years, radius, seed) {
  if (!years) return [];
  const shown = Math.min(years, 12);
  return Array.from({ length: shown }, (_, i) => {
    const r = (radius * (i + 1)) / (shown + 1);
    return svg`<path class="grain-ring" d=${wobbly(49.5, 50.5, r, seed + i + 2, 0.05)} />`;
  });
}

/**
 * A picking: a wedge at its month of the year, as long as its weight.
 * @param {Entry} entry
 * @param {number} radius
 */
function wedge(entry, radius) {
  if (entry.what.kind !== 'picking') return [];
  const [, month, day] = entry.day.split('-').map(Number);
  const angle = ((month - 1 + day / 31) / 12) * TURN - TURN / 4;
  const length = entry.what.grams === null ? 0.3 : Math.min(1, 0.25 + Math.sqrt(entry.what.grams / 1500) * 0.75);
  const inner = radius * (1 - length);
  const half = 0.09;
  const points = [[inner, angle], [radius, angle - half], [radius, angle + half]].map(([r, a]) => `${round(50 + r * Math.cos(a))} ${round(50 + r * Math.sin(a))}`);
  return [svg`<path class=${entry.what.grams === null ? 'grain-wedge grain-unweighed' : 'grain-wedge'} d=${`M${points.join('L')}Z`} />`];
}

/**
 * The state as a shape on or around the bark.
 * @param {LogRow} row
 * @param {number} radius
 * @param {number} seed
 */
function marks(row, radius, seed) {
  if (row.state === 'pins' || row.state === 'fruiting') {
    const big = row.state === 'fruiting';
    return around(big ? 5 : 8, seed).map((a) => {
      const [x, y] = [50 + radius * Math.cos(a), 50 + radius * Math.sin(a)];
      return svg`<circle class="grain-cap" cx=${round(x)} cy=${round(y)} r=${big ? 6.5 : 2.8} />`;
    });
  }
  if (row.state === 'spawn_run') {
    return around(7, seed).map((a) => svg`<circle class="grain-spawn" cx=${round(50 + radius * 0.66 * Math.cos(a))} cy=${round(50 + radius * 0.66 * Math.sin(a))} r="2.4" />`);
  }
  if (row.state === 'spent' || row.state === 'lost' || row.state === 'discarded') {
    return around(3, seed).map((a) => svg`<path class="grain-crack" d=${`M50 51L${round(50 + radius * Math.cos(a))} ${round(50 + radius * Math.sin(a))}`} />`);
  }
  return [];
}

/**
 * @param {number} n
 * @param {number} seed
 */
function around(n, seed) {
  return Array.from({ length: n }, (_, i) => ((i + chance(seed + i * 7) * 0.5) / n) * TURN);
}

/**
 * A closed, hand-drawn circle.
 * @param {number} cx
 * @param {number} cy
 * @param {number} r
 * @param {number} seed
 * @param {number} amount share of the radius it strays by
 */
function wobbly(cx, cy, r, seed, amount) {
  const n = 10;
  const points = Array.from({ length: n }, (_, i) => {
    const angle = (i / n) * TURN;
    const stray = r * (1 + (chance(seed * 31 + i) - 0.5) * 2 * amount);
    return [cx + stray * Math.cos(angle), cy + stray * Math.sin(angle)];
  });
  const middle = (/** @type {number} */ i) => {
    const [a, b] = [points[i % n], points[(i + 1) % n]];
    return `${round((a[0] + b[0]) / 2)} ${round((a[1] + b[1]) / 2)}`;
  };
  const curves = points.map((_, i) => `Q${round(points[(i + 1) % n][0])} ${round(points[(i + 1) % n][1])} ${middle(i + 1)}`);
  return `M${middle(0)}${curves.join('')}Z`;
}

/** @param {number} x */
function round(x) {
  return Math.round(x * 10) / 10;
}

/** @param {string} id */
function seedOf(id) {
  return [...id].reduce((sum, letter) => (sum * 33 + letter.charCodeAt(0)) % 9973, 7);
}

/** Always the same for the same seed, between 0 and 1. @param {number} seed */
function chance(seed) {
  const x = Math.sin(seed * 12.9898) * 43758.5453;
  return x - Math.floor(x);
}
