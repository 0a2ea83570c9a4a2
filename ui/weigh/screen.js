// Weighing many logs in a row: sample logs first, each with its last weight and the line it should not fall below.
// It never works out moisture; the backend does. Invariant: only typed weights are written, all in one act.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { repeat } from '../vendor/lit-html/directives/repeat.js';
import { call, refused } from '../api/call.js';
import { askFirst } from '../components/ask-first.js';
import { chips, text } from '../components/field.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { showWrong } from '../flow/form.js';
import { back, finish, redraw, written } from '../flow/onshow.js';
import { explain, inOneText } from '../lib/explain.js';
import { dayName, dayPlus, logWeight, logWeightUnit } from '../lib/format.js';
import { readLogWeight } from '../lib/numbers.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';

/** @import {MoistureRow, MoistureRows, WeightAsk} from '../api/types.js' */
/** @import {Wrong} from '../flow/form.js' */

/** @typedef {{rows: MoistureRows, find: string, when: 'today' | 'yesterday', typed: Map<string, string>, asks: WeightAsk[], request: string, busy: boolean, wrong: Wrong | null}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = () => 'Weigh logs';

/** @returns {Promise<View>} */
export async function load() {
  return { rows: await call('moisture_list', {}), find: '', when: 'today', typed: new Map(), asks: [], request: newRequest(), busy: false, wrong: null };
}

/** @param {View} view */
export function render(view) {
  const field = view.wrong?.field?.startsWith('w-');
  const asked = view.asks.map(({ tag, why, bound_g: bound }) => ({ tag, why, detail: { bound_g: bound } }));
  return html`${head('Weigh logs', { back: { label: 'Back', onBack: on.back } })}
    ${trouble(view.wrong && !field ? view.wrong.text : '')}
    ${asked.length ? askFirst({ title: 'Is that what the scale says?', asks: asked, yes: 'Yes, keep it', onYes: () => on.save(null, view, true), onNo: () => on.not(view) }) : nothing}
    <p class="mind">A log can weigh as much as a sack of cement: hang the scale, or lift with two.</p>
    ${text({ name: 'find', label: 'Find a log by its tag', value: view.find, keys: 'search', onInput: (value) => on.find(view, value) })}
    ${chips({ name: 'when', legend: 'Weighed', options: /** @type {{value: 'today' | 'yesterday', label: string}[]} */ ([{ value: 'today', label: 'today' }, { value: 'yesterday', label: 'yesterday' }]), value: view.when, onPick: (value) => { view.when = value; redraw(); } })}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view, false)}>
      <section class="sheet" aria-label="Weights">
        ${listed(view).length === 0 ? html`<p class="soft">${view.rows.logs.length === 0 ? 'No laid log to weigh yet.' : 'No log carries such a tag.'}</p>` : nothing}
        ${repeat(listed(view), ({ id }) => id, (row) => line(view, row))}
      </section>
    </form>`;
}

/** Sample logs first: those in their spawn run that were weighed before; then the rest. @param {View} view */
function listed({ rows, find }) {
  const rank = (/** @type {MoistureRow} */ row) => (row.spawn_run && row.last_g !== null ? 0 : row.spawn_run ? 1 : 2);
  const found = rows.logs.filter(({ tag }) => tag.toLowerCase().includes(find.trim().toLowerCase()));
  return found.map((row, i) => ({ row, i })).sort((a, b) => rank(a.row) - rank(b.row) || a.i - b.i).slice(0, 60).map(({ row }) => row);
}

/**
 * @param {View} view
 * @param {MoistureRow} row
 */
function line(view, row) {
  const name = `w-${row.id}`;
  const wrong = view.wrong?.field === name ? view.wrong.text : '';
  const last = row.last_g === null ? (row.about_g === null ? 'never weighed' : `never weighed; about ${logWeight(row.about_g)} fresh`) : `${logWeight(row.last_g)} ${row.last_day ? dayName(row.last_day, view.rows.today) : ''}`;
  const line10 = row.moisture ? `, water below ${logWeight(row.moisture.line_g)}` : '';
  return html`<div class="weigh-line" data-tag=${row.tag}>
    ${text({ name, label: `Log ${row.tag}`, unit: logWeightUnit(), value: view.typed.get(row.id) ?? '', keys: 'decimal', wrong, onInput: (value) => on.typed(view, row.id, value) })}
    <p class="soft">${last}${line10}. <a href=${link('moisture', { log: row.id })}>How wet<span class="unseen"> log ${row.tag} is</span></a></p>
  </div>`;
}

/** @param {View} view */
export const foot = (view) => saveBar('Save the weights', view.busy);

export const on = {
  back: () => back(link('chores')),

  /**
   * @param {View} view
   * @param {string} value
   */
  find(view, value) {
    view.find = value;
    redraw();
  },

  /**
   * @param {View} view
   * @param {string} id
   * @param {string} value
   */
  typed(view, id, value) {
    view.typed.set(id, value);
  },

  /** @param {View} view */
  not(view) {
    Object.assign(view, { asks: [], request: newRequest() });
    redraw();
  },

  /**
   * @param {Event | null} event
   * @param {View} view
   * @param {boolean} sure
   */
  async save(event, view, sure) {
    event?.preventDefault();
    if (view.busy) return;
    const weights = [];
    for (const [log, typed] of view.typed) {
      const read = readLogWeight(typed);
      if (!read.ok) return showWrong(view, { field: `w-${log}`, text: read.why });
      if (read.value !== null) weights.push({ log, grams: read.value });
    }
    if (weights.length === 0) return showWrong(view, { field: null, text: 'No weight is typed yet. Type what the scale says beside its log.' });
    Object.assign(view, { busy: true, wrong: null, asks: [] });
    redraw();
    try {
      const { asks, done } = await call('weigh_add', { weights, day: view.when === 'today' ? null : dayPlus(view.rows.today, -1), note: '', sure, request: view.request, draft: null });
      Object.assign(view, { busy: false, asks });
      if (done) {
        await written(done);
        return finish(link('chores'));
      }
      redraw();
      document.getElementById('ask-title')?.focus();
    } catch (error) {
      const why = refused(error);
      view.busy = false;
      showWrong(view, { field: explain(why).field, text: inOneText(why) });
    }
  },
};
