// The review: the question first, the answer in a sentence, then the picture, then the table.
// It never computes a figure. Invariant: too few logs to tell is said in words before any number.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips, select } from '../components/field.js';
import { head } from '../components/frame.js';
import { handOut } from '../flow/hand-out.js';
import { readdress, redraw, tellTrouble } from '../flow/onshow.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';
import { MUSHROOM } from '../lib/words.js';
import { BY_GROUP, MEASURE, measured } from '../lib/words-review.js';
import { answer, layWords } from './answer.js';
import { beats, beside, mind, sources, table } from './parts.js';
import { picture } from './picture.js';

/** @import {GroupBy, Measure, Mushroom, Question, ReviewView} from '../api/types.js' */

/** @typedef {ReviewView & {wanted?: Question}} View */

export const topics = [...LOGS, 'soak', 'batch', 'lot', 'condition', 'wood'];
export const frame = /** @type {const} */ ('tab');
export const title = () => 'Review';

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load(params) {
  const question = asked(params);
  const view = await call('review_ask', { question });
  // Woods do differently for each mushroom, so the first question is about one of them.
  if (params.mushroom === undefined && view.choices.mushrooms.length > 1) {
    return call('review_ask', { question: { ...question, mushroom: view.choices.mushrooms[0] } });
  }
  return view;
}

/**
 * @param {Record<string, string>} params
 * @returns {Question}
 */
function asked(params) {
  const year = (/** @type {string | undefined} */ text) => (text && /^\d{4}$/.test(text) ? Number(text) : null);
  return {
    by: /** @type {GroupBy} */ (params.by in BY_GROUP ? params.by : 'wood'),
    measure: /** @type {Measure} */ (params.measure in MEASURE ? params.measure : 'log_year'),
    mushroom: params.mushroom in MUSHROOM ? /** @type {Mushroom} */ (params.mushroom) : null,
    from: year(params.from), to: year(params.to), spot: params.spot || null,
  };
}

/** @param {Question} q */
function params(q) {
  /** @type {Record<string, string>} */
  const values = { by: q.by, measure: q.measure, mushroom: q.mushroom ?? 'all' };
  if (q.from) values.from = String(q.from);
  if (q.to) values.to = String(q.to);
  if (q.spot) values.spot = q.spot;
  return values;
}

/** @param {View} view */
export function render(view) {
  const { question: q } = view;
  const some = view.rows.length > 0;
  return html`${head('Review')}
    <section class="sheet answer" aria-labelledby="answer-title">
      <h2 id="answer-title">Which ${BY_GROUP[q.by].one} ${measured(q.measure).choice}?</h2>
      <p class="answer-words" id="answer" role="status">${answer(q, view.answer)}</p>
      ${layWords(q, view.answer) ? html`<p id="lay-next"><strong>${layWords(q, view.answer)}</strong></p>` : nothing}
    </section>
    ${mind(view)}
    ${some ? picture(view) : nothing}
    ${asking(view)}
    ${some ? table(view) : nothing}
    ${some ? beats(view) : nothing}
    ${beside(view)}
    ${some ? sources(view) : nothing}
    <nav aria-label="More of Review"><a class="way-line" href=${link('season')}><span><strong>Through the year</strong><span class="soft">harvest by month, soaks, losses; the season’s report to print</span></span></a>
      <a class="way-line" id="losses" href=${link('losses')}><span><strong>What slugs and others cost</strong><span class="soft">damage by spot and season, and what helped</span></span></a></nav>
    ${some ? html`<p class="acts"><button type="button" class="button" id="save-rows" @click=${() => on.rows(view)}>Save these logs as CSV</button></p>` : nothing}`;
}

/** @param {View} view */
function asking(view) {
  const { question: q, choices } = view;
  const set = (/** @type {Partial<Question>} */ change) => on.ask(view, change);
  const years = [{ value: '', label: 'any year' }, ...choices.years.map((y) => ({ value: String(y), label: String(y) }))];
  return html`<section class="sheet" aria-labelledby="ask-title"><h2 id="ask-title">Ask</h2>
    ${choices.mushrooms.length > 1 ? chips({ name: 'mushroom', legend: 'Mushroom', options: [{ value: 'all', label: 'all' }, ...choices.mushrooms.map((m) => ({ value: /** @type {string} */ (m), label: MUSHROOM[m] }))], value: q.mushroom ?? 'all', onPick: (m) => set({ mushroom: m in MUSHROOM ? /** @type {Mushroom} */ (m) : null }) }) : nothing}
    <div class="two">
      ${select({ name: 'by', label: 'Which', value: q.by, options: Object.entries(BY_GROUP).map(([value, w]) => ({ value, label: w.one })), onInput: (by) => set({ by: /** @type {GroupBy} */ (by) }) })}
      ${select({ name: 'measure', label: 'Did what', value: q.measure, options: Object.keys(MEASURE).map((value) => ({ value, label: measured(/** @type {Measure} */ (value)).choice })), onInput: (m) => set({ measure: /** @type {Measure} */ (m) }) })}
    </div>
    <details ?open=${Boolean(q.from || q.to || q.spot)}><summary>Only some logs</summary>
      <div class="three">
        ${select({ name: 'from', label: 'Laid from', value: String(q.from ?? ''), options: years, onInput: (y) => set({ from: y ? Number(y) : null }) })}
        ${select({ name: 'to', label: 'Laid up to', value: String(q.to ?? ''), options: years, onInput: (y) => set({ to: y ? Number(y) : null }) })}
        ${select({ name: 'spot', label: 'Spot', value: q.spot ?? '', options: [{ value: '', label: 'any spot' }, ...choices.spots.map((s) => ({ value: s, label: s }))], onInput: (s) => set({ spot: s || null }) })}
      </div></details>
  </section>`;
}

export const on = {
  /**
   * @param {View} view
   * @param {Partial<Question>} change
   */
  async ask(view, change) {
    // A second choice made before the first one's answer came adds to it; only the newest answer is shown.
    const question = { ...(view.wanted ?? view.question), ...change };
    view.wanted = question;
    try {
      const answer = await call('review_ask', { question });
      if (view.wanted !== question) return;
      Object.assign(view, answer, { wanted: undefined });
      readdress(view, link('review', params(question)));
      redraw();
    } catch (error) {
      tellTrouble(error);
    }
  },

  /** @param {View} view */
  async rows(view) {
    try {
      const file = await call('review_sheet', { question: view.question });
      handOut(file.name, file.base64);
    } catch (error) {
      tellTrouble(error);
    }
  },
};
