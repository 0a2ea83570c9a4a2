// Through the year, and the season's report: what did best, losses, what to lay next; to print or keep as PDF.
// It never computes a figure. Invariant: the printed page and the PDF say what the screen says.

import { html, nothing, svg } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { select } from '../components/field.js';
import { head } from '../components/frame.js';
import { endgrain } from '../components/endgrain.js';
import { photo } from '../components/photo.js';
import { whereFrom } from '../components/where-from.js';
import { handOut } from '../flow/hand-out.js';
import { back, readdress, redraw, tellTrouble } from '../flow/onshow.js';
import { capital, grams, gramsAtLeast } from '../lib/format.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';
import { MUSHROOM } from '../lib/words.js';
import { measured } from '../lib/words-review.js';
import { answer, tiedWords } from '../review/answer.js';
import { drawing } from '../review/picture.js';
import { className, layNext, logWords, losses, monthName, parts, pictured, question, seasonName, sentences } from './report.js';

/** @import {HeapOf, SeasonLog, SeasonView} from '../api/types.js' */

export const topics = [...LOGS, 'soak', 'setting'];
export const frame = /** @type {const} */ ('page');
export const title = (/** @type {SeasonView} */ view) => `Season ${seasonName(view.season)}`;

/** @param {Record<string, string>} params */
export function load({ year }) {
  return call('season_show', { year: /^\d{4}$/.test(year ?? '') ? Number(year) : null });
}

/** @param {SeasonView} view */
export function render(view) {
  const { season: s } = view;
  // Every season of a yard runs over the new year, or none does.
  const named = (/** @type {string} */ y) => seasonName({ year: Number(y), last: `${Number(y) + Number(s.last.slice(0, 4)) - s.year}` });
  const years = [...new Set([...s.years.map((y) => y.of), String(s.year)])].sort();
  return html`${head(`The season ${seasonName(s)}`, { back: { label: 'Back to Review', onBack: () => back(link('review')) } })}
    <section class="sheet" aria-label="The year in short">
      ${years.length > 1 ? select({ name: 'year', label: 'Season', value: String(s.year), options: years.map((y) => ({ value: y, label: named(y) })), onInput: (y) => on.year(view, Number(y)) }) : nothing}
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
      <p class="hint">${capital(measured('log_year').axis)}, over all seasons so far; bars are 90 % intervals.</p>
    </section>
    ${pictured(view).map(([words, logs], i) => cards(words, logs, `logs-${i}`))}
    <section aria-labelledby="lost-title"><h2 id="lost-title">Losses</h2>${losses(view).map((words) => html`<p>${words}</p>`)}</section>
    <section aria-labelledby="next-title"><h2 id="next-title">What to lay next</h2>${layNext(view).map((words) => html`<p>${words}</p>`)}</section>
    <section class="sheet" aria-labelledby="year-title"><h2 id="year-title">Through the year</h2>
      ${bars(s.months)}
      ${heaps('Month', s.months, monthName)}
    </section>
    <section aria-labelledby="more-title"><h2 id="more-title">By season, class, week and year</h2>
      ${heaps('Time of year', s.seasons, (h) => capital(h.of))}
      ${heaps('Class', s.classes, (h) => capital(className(h)))}
      <details class="where"><summary>Week by week</summary>${heaps('Week', s.weeks, (h) => h.of.slice(5))}</details>
      ${heaps('Season', s.years, (h) => named(h.of))}
    </section>
    <p class="acts"><button type="button" class="button button-main" id="save-pdf" @click=${() => on.pdf(view)}>As a PDF, to print</button></p>`;
}

/**
 * @param {string} words
 * @param {SeasonLog[]} logs
 * @param {string} id
 */
function cards(words, logs, id) {
  return html`<section aria-labelledby=${id}><h2 id=${id}>${words}</h2>
    <ul class="season-logs">${logs.map((shown) => html`<li><a class="season-log" href=${link('log', { log: shown.log.id })}>
      ${endgrain(shown.log, { spoken: true })}
      ${shown.photo ? html`<span class="season-photo">${photo(shown.photo, 'small', `Log ${shown.log.tag}`)}</span>` : nothing}
      <span>${logWords(shown).map((line, i) => (i === 0 ? html`<strong>${line}</strong>` : html`<span class="soft">${line}</span>`))}</span></a></li>`)}</ul></section>`;
}

/** @param {readonly HeapOf[]} months */
function bars(months) {
  const top = Math.max(1, ...months.map((m) => m.grams));
  const step = 100 / months.length;
  const x = (/** @type {number} */ i) => `${i * step + 1.2}%`;
  const high = (/** @type {HeapOf} */ m) => (m.grams / top) * 8;
  return html`<svg class="plot" role="img" aria-labelledby="months-title months-desc" width="100%" height="10em">
    <title id="months-title">Weighed harvest by month</title>
    <desc id="months-desc">${months.map((m) => `${monthName(m)} ${grams(m.grams)}`).join(', ')}.</desc>
    ${months.map((m, i) => svg`<rect class="plot-bar" x=${x(i)} y=${`${8.2 - high(m)}em`} width=${`${step * 0.7}%`} height=${`${high(m)}em`} />
      <text class="plot-bar-word" x=${`${(i + 0.5) * step}%`} y="9.6em">${monthName(m).charAt(0)}</text>`)}
  </svg>`;
}

/**
 * @param {string} what
 * @param {readonly HeapOf[]} rows
 * @param {(heap: HeapOf) => string} name
 */
function heaps(what, rows, name) {
  if (rows.length === 0) return nothing;
  return html`<div class="wide" tabindex="0" role="group" aria-label=${`By ${what.toLowerCase()}, as a table`}><table class="table"><thead><tr><th scope="col">${what}</th><th scope="col">Weighed</th><th scope="col">Pickings</th></tr></thead>
    <tbody>${rows.map((heap) => html`<tr><th scope="row">${name(heap)}</th><td>${gramsAtLeast(heap.grams, heap.unweighed)}</td><td>${heap.pickings}</td></tr>`)}</tbody></table></div>`;
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
