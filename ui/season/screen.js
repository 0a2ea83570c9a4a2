// Through the year, and the season's report: what did best, losses, what to lay next; to print or keep as PDF.
// It never computes a figure. Invariant: the printed page and the PDF say what the screen says.

import { html, nothing, svg } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { select } from '../components/field.js';
import { head } from '../components/frame.js';
import { whereFrom } from '../components/where-from.js';
import { handOut } from '../flow/hand-out.js';
import { back, readdress, redraw, tellTrouble } from '../flow/onshow.js';
import { capital, grams, gramsAtLeast } from '../lib/format.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';
import { MUSHROOM } from '../lib/words.js';
import { answer, tiedWords } from '../review/answer.js';
import { drawing } from '../review/picture.js';
import { MONTH_LETTERS, className, layNext, losses, parts, question, sentences } from './report.js';

/** @import {HeapOf, SeasonView} from '../api/types.js' */

export const topics = [...LOGS, 'soak'];
export const frame = /** @type {const} */ ('page');
export const title = (/** @type {SeasonView} */ view) => `Season ${view.season.year}`;

/** @param {Record<string, string>} params */
export function load({ year }) {
  return call('season_show', { year: /^\d{4}$/.test(year ?? '') ? Number(year) : null });
}

/** @param {SeasonView} view */
export function render(view) {
  const { season: s } = view;
  const years = [...new Set([...s.years.map((y) => y.of), String(s.year)])].sort();
  return html`${head(`The season ${s.year}`, { back: { label: 'Back to Review', onBack: () => back(link('review')) } })}
    <section class="sheet" aria-label="The year in short">
      ${years.length > 1 ? select({ name: 'year', label: 'Year', value: String(s.year), options: years.map((y) => ({ value: y, label: y })), onInput: (y) => on.year(view, Number(y)) }) : nothing}
      ${sentences(view).map((words) => html`<p>${words}</p>`)}
      ${whereFrom(s.from)}
    </section>
    <section class="sheet" aria-labelledby="best-title"><h2 id="best-title">What did best</h2>
      ${view.best.length === 0 ? html`<p>No log was laid yet.</p>` : view.best.map((best) => {
        const q = question(best);
        const rows = best.woods.rows.filter((row) => row.tell && row.mean !== null).slice(0, 8);
        return html`<h3>${capital(MUSHROOM[best.mushroom])}</h3><p>${answer(q, best.woods.answer)}</p>
          ${best.woods.tied.slice(0, 2).map((tied) => html`<p class="hint">${tiedWords(q, tied)}</p>`)}
          ${rows.length ? drawing(rows, q, `best-${best.mushroom}`) : nothing}`;
      })}
      <p class="hint">Grams for a log and year, over all years so far; bars are 90 % intervals.</p>
    </section>
    <section aria-labelledby="lost-title"><h2 id="lost-title">Losses</h2>${losses(view).map((words) => html`<p>${words}</p>`)}</section>
    <section aria-labelledby="next-title"><h2 id="next-title">What to lay next</h2>${layNext(view).map((words) => html`<p>${words}</p>`)}</section>
    <section class="sheet" aria-labelledby="year-title"><h2 id="year-title">Through the year</h2>
      ${bars(s.months)}
      ${heaps('Month', s.months, (h, i) => MONTH_LETTERS[i])}
    </section>
    <section aria-labelledby="more-title"><h2 id="more-title">By season, class, week and year</h2>
      ${heaps('Season', s.seasons, (h) => capital(h.of))}
      ${heaps('Class', s.classes, (h) => capital(className(h)))}
      <details class="where"><summary>Week by week</summary>${heaps('Week', s.weeks, (h) => h.of.slice(5))}</details>
      ${heaps('Year', s.years, (h) => h.of)}
    </section>
    <p class="acts"><button type="button" class="button button-main" id="save-pdf" @click=${() => on.pdf(view)}>Keep as PDF</button>
      <button type="button" class="button" id="print" @click=${() => window.print()}>Print</button></p>`;
}

/** @param {readonly HeapOf[]} months */
function bars(months) {
  const top = Math.max(1, ...months.map((m) => m.grams));
  const x = (/** @type {number} */ i) => `${(i * 100) / 12 + 1.2}%`;
  const high = (/** @type {HeapOf} */ m) => (m.grams / top) * 8;
  return html`<svg class="plot" role="img" aria-labelledby="months-title months-desc" width="100%" height="10em">
    <title id="months-title">Weighed harvest by month</title>
    <desc id="months-desc">${months.map((m, i) => `${MONTH_LETTERS[i]} ${grams(m.grams)}`).join(', ')}.</desc>
    ${months.map((m, i) => svg`<rect class="plot-bar" x=${x(i)} y=${`${8.2 - high(m)}em`} width="5.9%" height=${`${high(m)}em`} />
      <text class="plot-bar-word" x=${`${(i * 100) / 12 + 4.2}%`} y="9.6em">${MONTH_LETTERS[i].charAt(0)}</text>`)}
  </svg>`;
}

/**
 * @param {string} what
 * @param {readonly HeapOf[]} rows
 * @param {(heap: HeapOf, i: number) => string} name
 */
function heaps(what, rows, name) {
  if (rows.length === 0) return nothing;
  return html`<div class="wide" tabindex="0" role="group" aria-label=${`By ${what.toLowerCase()}, as a table`}><table class="table"><thead><tr><th scope="col">${what}</th><th scope="col">Weighed</th><th scope="col">Pickings</th></tr></thead>
    <tbody>${rows.map((heap, i) => html`<tr><th scope="row">${name(heap, i)}</th><td>${gramsAtLeast(heap.grams, heap.unweighed)}</td><td>${heap.pickings}</td></tr>`)}</tbody></table></div>`;
}

export const on = {
  /**
   * @param {SeasonView} view
   * @param {number} year
   */
  async year(view, year) {
    try {
      Object.assign(view, await call('season_show', { year }));
      readdress(view, link('season', { year: String(year) }));
      redraw();
    } catch (error) {
      tellTrouble(error);
    }
  },

  /** @param {SeasonView} view */
  async pdf(view) {
    try {
      const file = await call('pdf_make', { name: `season-${view.season.year}`, parts: parts(view) });
      handOut(file.name, file.base64);
    } catch (error) {
      tellTrouble(error);
    }
  },
};
