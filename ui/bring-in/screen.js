// Bringing in a spreadsheet: choose the file, say what its columns hold, try it, take it in.
// It never guesses silently. Invariant: every row is good or nothing is written, and one undo takes all of it back.

import { html } from '../vendor/lit-html/lit-html.js';
import { base64, call, refused } from '../api/call.js';
import { head } from '../components/frame.js';
import { back, go, redraw, write } from '../flow/onshow.js';
import { showWrong } from '../flow/form.js';
import { explain, inOneText } from '../lib/explain.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { asked, matched, startWith } from '../lib/sheet.js';
import { choose, columns, outcome, reading } from './parts.js';

/** @import {CsvTried, CsvView, Delimiter, Meaning} from '../api/types.js' */
/** @import {Wrong} from '../flow/form.js' */
/** @import {Match} from '../lib/sheet.js' */

/**
 * @typedef {object} View
 * @property {string} name of the file
 * @property {string} file its bytes, base64
 * @property {CsvView | null} sheet
 * @property {Match | null} match how it is to be read
 * @property {CsvTried | null} tried
 * @property {boolean} busy
 * @property {Wrong | null} wrong
 * @property {string} request
 */

export const topics = /** @type {string[]} */ ([]);
export const title = () => 'Bring in a spreadsheet';

const MAX_BYTES = 5_000_000;

/** @returns {Promise<View>} */
export async function load() {
  return { name: '', file: '', sheet: null, match: null, tried: null, busy: false, wrong: null, request: newRequest() };
}

/** @param {View} view */
export function render(view) {
  return html`${head(title(), { back: { label: 'Back', onBack: on.back } })}
    ${choose(view, on)}
    ${view.sheet && view.match ? [columns(view, on), reading(view, on), outcome(view, on)] : ''}`;
}

export const on = {
  back: () => back(link('yard')),

  /**
   * @param {Event} event
   * @param {View} view
   */
  async file(event, view) {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const file = input.files?.[0];
    if (!file || view.busy) return;
    Object.assign(view, { name: file.name, file: '', sheet: null, match: null, tried: null, wrong: null });
    if (file.size > MAX_BYTES) {
      input.value = '';
      return showWrong(view, { field: 'sheet', text: inOneText({ code: 'invalid', message: '', field: 'text', detail: { why: 'too_big_bytes', max_bytes: MAX_BYTES } }) });
    }
    try {
      view.file = await base64(file);
    } catch (error) {
      return showWrong(view, { field: 'sheet', text: inOneText(refused(error)) });
    }
    input.value = '';
    await look(view, null);
  },

  /**
   * @param {View} view
   * @param {Delimiter} delimiter
   */
  delimiter: (view, delimiter) => look(view, delimiter),

  /**
   * @param {View} view
   * @param {Partial<Match>} changes
   */
  match(view, changes) {
    if (!view.match || !view.sheet) return;
    const what = changes.what ?? view.match.what;
    if (what !== view.match.what) view.match = startWith(view.sheet.guess, what, view.match);
    Object.assign(view.match, changes);
    Object.assign(view, { tried: null, wrong: null });
    redraw();
  },

  /**
   * @param {View} view
   * @param {number} column
   * @param {Meaning | ''} meaning
   */
  column(view, column, meaning) {
    if (!view.match) return;
    on.match(view, { columns: matched(view.match.columns, column, meaning) });
  },

  /** @param {View} view */
  async try(view) {
    if (view.busy || !view.match || !view.sheet) return;
    await working(view, async () => {
      view.tried = await call('csv_try', asked(view));
    });
    document.getElementById('tried')?.scrollIntoView({ block: 'start' });
  },

  /** @param {View} view */
  async take(view) {
    if (view.busy || !view.match || !view.tried || view.tried.bad > 0) return;
    const took = await working(view, async () => {
      await write('csv_take', { ...asked(view), request: view.request });
    });
    if (took) void go(link('yard'));
  },
};

/**
 * @param {View} view
 * @param {Delimiter | null} delimiter null: to be guessed
 */
async function look(view, delimiter) {
  await working(view, async () => {
    const sheet = await call('csv_look', { base64: view.file, delimiter });
    Object.assign(view, { sheet, match: startWith(sheet.guess, null, null), tried: null });
  });
}

/**
 * @param {View} view
 * @param {() => Promise<void>} work
 * @returns {Promise<boolean>} whether it was done
 */
async function working(view, work) {
  Object.assign(view, { busy: true, wrong: null });
  redraw();
  try {
    await work();
    view.busy = false;
    redraw();
    return true;
  } catch (error) {
    const why = refused(error);
    view.busy = false;
    const { field } = explain(why);
    showWrong(view, { field: field === 'columns' ? 'columns' : 'sheet', text: inOneText(why) });
    return false;
  }
}
