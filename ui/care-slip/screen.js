// A log's care slip, to print and hand over with it: what it is, what it needs, what it did, what to mind.
// It never writes. Invariant: the paper says what the screen shows.

import { html } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { head } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { handOut } from '../flow/hand-out.js';
import { back, tellTrouble } from '../flow/onshow.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';
import { MIND, facts, gave, needs, paper, record, slipTitle, written } from './parts.js';

/** @import {LogView} from '../api/types.js' */

export const topics = LOGS;
export const title = (/** @type {LogView} */ view) => `Care slip of log ${view.row.tag}`;

/**
 * @param {Record<string, string>} params
 * @returns {Promise<LogView>}
 */
export const load = ({ log }) => call('log_show', { log });

/** @param {LogView} view */
export function render(view) {
  return html`${head('Care slip', { back: { label: 'Back', onBack: () => on.back(view) } })}
    <p class="acts"><button type="button" class="button button-main" id="print" @click=${() => on.paper(view)}>${icon('down')} As a PDF, to print</button></p>
    <article class="sheet slip" aria-labelledby="slip-title">
      <h2 id="slip-title">${slipTitle(view)}</h2>
      <dl class="facts">${facts(view).map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}</dl>
      <h3>What it needs</h3>
      ${list(needs(view))}
      <h3>What it did</h3>
      <p>${gave(view)}</p>
      ${list(record(view))}
      <h3>Mind</h3>
      ${list(MIND)}
      <p class="soft">${written(view)}</p>
    </article>`;
}

/** @param {string[]} all */
const list = (all) => html`<ul class="slip-list">${all.map((words) => html`<li>${words}</li>`)}</ul>`;

export const on = {
  /** @param {LogView} view */
  back: (view) => back(link('log', { log: view.row.id })),

  /** @param {LogView} view */
  async paper(view) {
    try {
      const file = await call('pdf_make', { name: `log-${view.row.tag.replace(/[^\p{L}\p{N}-]+/gu, '-')}`, parts: paper(view) });
      handOut(file.name, file.base64);
    } catch (error) {
      tellTrouble(error);
    }
  },
};
