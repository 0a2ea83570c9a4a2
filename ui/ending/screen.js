// Ending a log: why it ended or how it left, with a note.
// It never deletes anything. Invariant: an ended log keeps its whole record, and ending can be taken back.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips, lines } from '../components/field.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { tagLabel, tagTwice, whatItIs } from '../components/log-line.js';
import { save, showWrong, wrongAt } from '../flow/form.js';
import { back, finish, redraw } from '../flow/onshow.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { ENDING, ENDING_HINT } from '../lib/words.js';

/** @import {Why, LogView} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */

/** @typedef {FormView & {log: LogView, why: Why | null, note: string, request: string}} View */

/** A log that goes to someone else goes with its care slip. */
const LEAVES = new Set(['given', 'sold', 'lent']);

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = (/** @type {View} */ view) => `End log ${view.log.row.tag}`;

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log }) {
  const shown = await call('log_show', { log });
  return { log: shown, why: null, note: '', request: newRequest(), busy: false, wrong: null, draft: null };
}

/** @param {View} view */
export function render(view) {
  const { row } = view.log;
  const options = /** @type {Why[]} */ (Object.keys(ENDING)).map((why) => ({ value: why, label: ENDING[why], hint: ENDING_HINT[why] }));
  return html`${head(title(view), { back: { label: 'Back', onBack: () => on.back(view) } })}
    ${trouble(view.wrong && view.wrong.field !== 'why' ? view.wrong.text : '')}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      <p class="which">${tagLabel(row.tag)} <span>${whatItIs(row)}. Its record stays, and this can be taken back.</span></p>
      ${tagTwice(row)}
      <section class="sheet group" aria-label="Why">
        ${chips({ name: 'why', legend: 'Why does it end, or how did it leave?', options, value: view.why, wrong: wrongAt(view.wrong, 'why'), look: 'chips-wide', onPick: (why) => on.why(view, why) })}
        ${view.why && LEAVES.has(view.why) ? html`<p class="mind" role="status">Its care slip comes next, to print and hand over. Its life goes on; only the watch over it ends here.</p>` : nothing}
        ${lines({ name: 'note', label: 'Note', value: view.note, onInput: (note) => on.note(view, note) })}
      </section>
    </form>`;
}

/** @param {View} view */
export const foot = (view) => saveBar('End this log today', view.busy);

export const on = {
  /** @param {View} view */
  back: (view) => back(link('log', { log: view.log.row.id })),

  /**
   * @param {View} view
   * @param {Why} why
   */
  why(view, why) {
    view.why = why;
    if (view.wrong?.field === 'why') view.wrong = null;
    redraw();
  },

  /**
   * @param {View} view
   * @param {string} note
   */
  note(view, note) {
    view.note = note;
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async save(event, view) {
    event.preventDefault();
    if (view.why === null) return showWrong(view, { field: 'why', text: 'It is not said yet why the log ends. Nothing was written. Tap one of them.' });
    const log = view.log.row.id;
    const saved = await save(view, 'log_end', { log, why: view.why, day: null, note: view.note.trim(), request: view.request, draft: null });
    if (saved.kind === 'done') finish(LEAVES.has(view.why) ? link('care-slip', { log }) : link('log', { log }));
  },
};
