// Tags to print: which logs, on which paper, and the file that is handed out.
// It never changes a log. Invariant: the sheet holds just the logs that are ticked.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call, refused } from '../api/call.js';
import { chips } from '../components/field.js';
import { head } from '../components/frame.js';
import { handOut } from '../flow/hand-out.js';
import { back, redraw } from '../flow/onshow.js';
import { inOneText } from '../lib/explain.js';
import { count } from '../lib/format.js';
import { link } from '../lib/router.js';
import { chooser, printing } from './parts.js';

/** @import {TagsView} from '../api/types.js' */
/** @typedef {TagsView & {chosen: Set<string>, paper: 'a4' | 'letter', busy: boolean, said: string, wrong: string}} View */

export const topics = /** @type {string[]} */ ([]);
export const title = () => 'Tags to print';

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log = '' }) {
  const view = await call('tag_list', {});
  const paper = /-(US|CA|MX|PH)$/.test(navigator.language) ? 'letter' : 'a4';
  return { ...view, chosen: new Set(log ? [log] : view.logs.map(({ id }) => id)), paper, busy: false, said: '', wrong: '' };
}

/** @param {View} view */
export function render(view) {
  if (view.logs.length === 0) {
    return html`${head('Tags to print', { back: { label: 'Back', onBack: on.back } })}<p>No logs yet. <a href=${link('log-new')}>Add your first one</a>, then print its tag.</p>`;
  }
  const sheets = Math.ceil(view.chosen.size / view.on_a_sheet);
  return html`${head('Tags to print', { back: { label: 'Back', onBack: on.back } })}
    <p>Each tag has its name in large letters and a code that names the log. A photo with the tag in it finds its log by itself, and caps beside it can be measured.</p>
    <section class="sheet group" aria-label="Paper">
      ${chips({ name: 'paper', legend: 'Paper', options: [{ value: 'a4', label: 'A4' }, { value: 'letter', label: 'Letter' }], value: view.paper, onPick: (paper) => on.paper(view, paper) })}
      <button type="button" class="button button-main button-wide" id="make" ?disabled=${view.busy || view.chosen.size === 0} @click=${() => on.make(view)}>Make the sheet</button>
      <p class="soft" id="tags-count">${view.chosen.size === 0 ? 'No log is ticked.' : `${count(view.chosen.size, 'tag')} on ${count(sheets, 'sheet')}.`}</p>
      <p id="tags-said" role="status">${view.said}</p>
      ${view.wrong ? html`<p class="wrong" role="alert">${view.wrong}</p>` : nothing}
    </section>
    ${printing(view)}
    ${chooser(view, on)}`;
}

export const on = {
  back: () => back(link('yard')),

  /**
   * @param {View} view
   * @param {'a4' | 'letter'} paper
   */
  paper(view, paper) {
    Object.assign(view, { paper, said: '' });
    redraw();
  },

  /**
   * @param {View} view
   * @param {string} log
   */
  tick(view, log) {
    if (!view.chosen.delete(log)) view.chosen.add(log);
    view.said = '';
    redraw();
  },

  /**
   * @param {View} view
   * @param {boolean} all
   */
  all(view, all) {
    view.chosen = new Set(all ? view.logs.map(({ id }) => id) : []);
    view.said = '';
    redraw();
  },

  /** @param {View} view */
  async make(view) {
    if (view.busy) return;
    Object.assign(view, { busy: true, said: '', wrong: '' });
    redraw();
    try {
      const logs = view.logs.map(({ id }) => id).filter((id) => view.chosen.has(id));
      const { name, base64, sheets, by_hand } = await call('tag_sheet', { logs, paper: view.paper });
      handOut(name, base64);
      const hand = by_hand.length ? ` Letters of ${by_hand.join(', ')} cannot be printed: write them on the line.` : '';
      view.said = `${count(sheets, 'sheet')} handed to the system to save as ${name}: look in the downloads folder.${hand}`;
    } catch (error) {
      view.wrong = inOneText(refused(error));
    }
    view.busy = false;
    redraw();
  },
};
