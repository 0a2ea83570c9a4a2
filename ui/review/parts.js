// The table under the picture, and where each figure comes from.
// They never round an interval away. Invariant: sums with unweighed pickings read "at least".

import { html } from '../vendor/lit-html/lit-html.js';
import { count, figure, gramsAtLeast } from '../lib/format.js';
import { MEASURES, woodLabel } from './picture.js';

/** @import {Range, WoodRow} from '../api/types.js' */
/** @import {View} from './screen.js' */

/** @param {View} view */
export function table(view) {
  return html`<section aria-labelledby="table-title">
    <h2 id="table-title">Wood by wood</h2>
    <div class="wide" tabindex="0" role="group" aria-labelledby="table-title">
    <table class="table" id="woods-table">
      <thead><tr><th scope="col">Wood</th><th scope="col">Logs</th><th scope="col">Picked</th><th scope="col">g for ${MEASURES[view.measure].label}</th></tr></thead>
      <tbody>${view.woods.map((row) => html`<tr data-wood=${row.wood ?? ''}>
        <th scope="row">${woodLabel(row)}</th>
        <td>${row.logs}<small>${row.fruited} fruited${row.spawn_run ? `, ${row.spawn_run} too young` : ''}${row.ended ? `, ${row.ended} ended` : ''}</small></td>
        <td>${gramsAtLeast(row.grams, row.unweighed)}</td>
        <td>${range(row[view.measure], row)}</td>
      </tr>`)}</tbody>
    </table></div>
  </section>`;
}

/**
 * @param {Range | null} r
 * @param {WoodRow} row
 */
function range(r, row) {
  if (!row.tell) return html`<span class="soft">${whyNot(row)}</span>`;
  if (!r) return html`<span class="soft">not measured</span>`;
  return html`${figure(r.mean)}<small>${figure(r.low)} to ${figure(r.high)}</small>`;
}

/** @param {WoodRow} row */
function whyNot(row) {
  switch (row.why) {
    case 'few_logs': return 'too few logs to tell';
    case 'too_young': return 'too young to tell';
    case 'no_weights': return 'nothing weighed';
    default: return 'cannot tell';
  }
}

/** @param {View} view */
export function whereFrom(view) {
  return html`<section aria-labelledby="from-title">
    <h2 id="from-title">Where the figures come from</h2>
    ${view.woods.map((row) => html`<details class="where" data-where=${row.wood ?? ''}>
      <summary>${woodLabel(row)}</summary>
      <p>From your own ${count(row.logs, 'log')}${row.tell ? '' : `: ${whyNot(row)}, so no figure is given`}.</p>
      ${row.per_log_year ? perLogYear(row, row.per_log_year) : ''}
      ${row.per_litre ? perLitre(row, row.per_litre) : ''}
      ${leftOut(row)}
    </details>`)}
  </section>`;
}

/**
 * @param {WoodRow} row
 * @param {Range} r
 */
function perLogYear(row, r) {
  return html`<p><strong>A log and year: ${figure(r.mean)} g.</strong> For each log, what was picked divided by its years since laying (to its end, or to today); then the mean over ${count(r.n, 'log')}, each weighing the same. Together: ${gramsAtLeast(row.grams, row.unweighed)} in ${count(row.pickings, 'picking')}, over ${years(row)}.</p>
    <p>Between ${figure(r.low)} and ${figure(r.high)} g: the 90 % interval (Student’s t). So far apart the true mean may lie, going by how much one log differs from the next.</p>`;
}

/**
 * @param {WoodRow} row
 * @param {Range} r
 */
function perLitre(row, r) {
  return html`<p><strong>A litre of wood: ${figure(r.mean)} g</strong>, between ${figure(r.low)} and ${figure(r.high)} g (90 % interval). For each of ${count(r.n, 'measured log')}, what was picked so far divided by its litres from thickness and length${row.unmeasured ? '; the others are left out' : ''}.</p>`;
}

/** @param {WoodRow} row */
function years({ log_years }) {
  if (!log_years) return 'not known';
  const [low, high] = [log_years.low.toFixed(1), log_years.high.toFixed(1)];
  return low === high ? `${low} log-years` : `${low} to ${high} log-years, as some laying dates are rough`;
}

/** @param {WoodRow} row */
function leftOut(row) {
  const parts = [
    row.unweighed ? `${count(row.unweighed, 'picking')} without a weight: the sums are “at least”; in the means each counts as that log’s own mean picking.` : '',
    row.undated ? `${count(row.undated, 'log')} laid nobody knows when: left out of the years.` : '',
    row.unmeasured ? `${count(row.unmeasured, 'log')} without a size: left out of the litres.` : '',
    row.spawn_run ? `${count(row.spawn_run, 'log')} too young to have fruited: left out until they could have.` : '',
  ].filter(Boolean);
  return parts.length ? html`<ul class="left-out">${parts.map((part) => html`<li>${part}</li>`)}</ul>` : '';
}
