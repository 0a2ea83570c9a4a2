// The rough date: first how well it is known, then only the parts that are.
// It never fills in a part by itself. Invariant: what is on show is what `fromParts` reads.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { MONTHS, SEASONS } from '../lib/rough.js';
import { capital } from '../lib/format.js';
import { select, text } from './field.js';

/** @import {RoughKind, RoughParts} from '../lib/rough.js' */

/** @type {Record<RoughKind, string>} */
const KINDS = { day: 'the day', month: 'the month', season: 'the season', year: 'the year', unknown: 'not known', none: 'not laid yet' };

/**
 * @param {object} r
 * @param {string} r.name
 * @param {string} r.legend
 * @param {RoughParts} r.parts changed in place
 * @param {readonly RoughKind[]} r.kinds
 * @param {() => void} r.onChange
 * @param {string} [r.hint]
 * @param {string} [r.wrong]
 */
export function roughDate(r) {
  const { name, parts } = r;
  const set = (/** @type {keyof RoughParts} */ part) => (/** @type {string} */ value) => {
    Object.assign(parts, { [part]: value });
    r.onChange();
  };
  return html`<div class="rough" role="group" data-field=${name} aria-labelledby=${`${name}-legend`}>
    <p class="legend" id=${`${name}-legend`}>${r.legend}</p>
    <div class="rough-row">
      ${r.kinds.length > 1 ? select({ name: `${name}-kind`, label: 'How well known', value: parts.kind, onInput: set('kind'), options: r.kinds.map((kind) => ({ value: kind, label: KINDS[kind] })) }) : nothing}
      ${parts.kind === 'day' ? text({ name: `${name}-day`, label: 'Day', value: parts.day, onInput: set('day'), keys: 'numeric' }) : nothing}
      ${parts.kind === 'day' || parts.kind === 'month' ? select({ name: `${name}-month`, label: 'Month', value: parts.month, onInput: set('month'), options: [{ value: '', label: 'choose' }, ...MONTHS.map((month, i) => ({ value: String(i + 1), label: month }))] }) : nothing}
      ${parts.kind === 'season' ? select({ name: `${name}-season`, label: 'Season', value: parts.season, onInput: set('season'), options: [{ value: '', label: 'choose' }, ...Object.entries(SEASONS).map(([code, season]) => ({ value: code, label: capital(season) }))] }) : nothing}
      ${parts.kind === 'unknown' || parts.kind === 'none' ? nothing : text({ name: `${name}-year`, label: 'Year', value: parts.year, onInput: set('year'), keys: 'numeric' })}
    </div>
    ${parts.kind === 'season' ? html`<p class="hint">A season over New Year goes by the year it begins in.</p>` : nothing}
    ${r.hint ? html`<p class="hint">${r.hint}</p>` : nothing}
    ${r.wrong ? html`<p class="wrong" role="alert">${r.wrong}</p>` : nothing}
  </div>`;
}
