// Moving logs: which, where to, why and on which day; with the lists of what to bring in and what to put out again.
// It never moves one by itself. Invariant: one act moves all that are ticked, and it can be taken back.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips, lines, select } from '../components/field.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { readDay, someDay, whichDay } from '../components/which-day.js';
import { save, showWrong, wrongAt } from '../flow/form.js';
import { back, finish, redraw, tellTrouble } from '../flow/onshow.js';
import { count } from '../lib/format.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { MOVE_HINT, MOVE_WHY } from '../lib/words-yard.js';
import { basis, logList } from './parts.js';

/** @import {MoveForm, MoveLog} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */
/** @import {Day} from '../components/which-day.js' */
/** @import {Carried} from '../lib/words-yard.js' */
/** @typedef {FormView & {form: MoveForm, log: string | null, from: string, to: string, why: Carried, ticked: Set<string>, day: Day, note: string, request: string}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = (/** @type {View} */ view) => (view.log ? `Move log ${view.form.logs[0]?.tag ?? ''}` : 'Move logs');

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log, spot = '', why = 'plain' }) {
  const form = await call('move_form', { log: log ?? null, spot: log || !spot ? null : spot });
  const view = { form, log: log ?? null, from: spot, to: '', why: /** @type {Carried} */ (why), ticked: new Set(log ? [log] : []), day: someDay(form.today), note: '', request: newRequest(), busy: false, wrong: null, draft: null };
  if (!log) tickListed(view);
  return view;
}

/** Those on the list of the season are ticked to begin with. @param {Pick<View, 'form' | 'why' | 'ticked'>} view */
function tickListed({ form, why, ticked }) {
  ticked.clear();
  for (const log of form.logs) if (reason(log, why)) ticked.add(log.id);
}

/**
 * @param {MoveLog} log
 * @param {Carried} why
 */
export function reason(log, why) {
  return why === 'bring_in' ? log.bring_in : why === 'harden_off' ? log.harden_off : null;
}

/** @param {View} view */
export function render(view) {
  const { form, wrong } = view;
  const whys = /** @type {Carried[]} */ (Object.keys(MOVE_WHY)).map((value) => ({ value, label: MOVE_WHY[value], hint: MOVE_HINT[value] }));
  const targets = form.spots.filter(({ id }) => view.why !== 'bring_in' || form.heated.length === 0 || form.heated.includes(id));
  return html`${head(title(view), { back: { label: 'Back', onBack: () => on.back(view) } })}
    ${trouble(wrong && !['logs', 'spot', 'day', 'note'].includes(wrong.field ?? '') ? wrong.text : '')}
    ${form.logs.length === 0 && !view.from ? html`<section class="sheet first"><h2>No logs to move</h2><p>Add logs first, and the spots where they lie.</p></section>` : nothing}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      <section class="sheet group" aria-label="Why">
        ${chips({ name: 'why', legend: 'What for?', options: whys, value: view.why, onPick: (why) => on.why(view, why) })}
        ${view.why === 'plain' ? nothing : basis(view)}
      </section>
      ${view.log ? nothing : logList(view, on)}
      <section class="sheet group" aria-label="Where to and when">
        ${form.spots.length === 0
          ? html`<p>There is no spot yet. <a class="button" href=${link('spot-new')}>Add a spot</a></p>`
          : select({ name: 'spot', label: 'Where to', value: view.to, wrong: wrongAt(wrong, 'spot'), options: [{ value: '', label: 'choose a spot' }, ...targets.map(({ id, name }) => ({ value: id, label: name }))], onInput: (to) => on.to(view, to) })}
        ${view.why === 'bring_in' && form.heated.length === 0 ? html`<p class="hint">No spot is said to be kept from frost yet: say so on its page, and only such are offered here.</p>` : nothing}
        ${whichDay(view.day, redraw, wrongAt(wrong, 'day'))}
        ${lines({ name: 'note', label: 'Note', value: view.note, wrong: wrongAt(wrong, 'note'), onInput: (note) => { view.note = note; } })}
      </section>
      <p class="mind">Wet logs are heavy: lift from the knees, and carry large ones with two.</p>
    </form>`;
}

/** @param {View} view */
export const foot = (view) => saveBar(view.ticked.size === 0 ? 'Move' : view.log ? 'Move this log' : `Move ${count(view.ticked.size, 'log')}`, view.busy);

export const on = {
  /** @param {View} view */
  back: (view) => back(view.log ? link('log', { log: view.log }) : view.from ? link('spot', { spot: view.from }) : link('yard')),

  /**
   * @param {View} view
   * @param {Carried} why
   */
  why(view, why) {
    view.why = why;
    view.to = '';
    if (!view.log) tickListed(view);
    redraw();
  },

  /**
   * @param {View} view
   * @param {string} from
   */
  async from(view, from) {
    try {
      view.form = await call('move_form', { log: null, spot: from || null });
      view.from = from;
      tickListed(view);
      redraw();
    } catch (error) {
      tellTrouble(error);
    }
  },

  /**
   * @param {View} view
   * @param {string} to
   */
  to(view, to) {
    view.to = to;
    if (view.wrong?.field === 'spot') view.wrong = null;
    redraw();
  },

  /**
   * @param {View} view
   * @param {readonly string[]} logs
   * @param {boolean} ticked
   */
  tick(view, logs, ticked) {
    for (const log of logs) {
      if (ticked) view.ticked.add(log);
      else view.ticked.delete(log);
    }
    if (view.wrong?.field === 'logs') view.wrong = null;
    redraw();
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async save(event, view) {
    event.preventDefault();
    if (view.ticked.size === 0) return showWrong(view, { field: 'logs', text: 'No log is ticked. Nothing was written. Tick those you carried.' });
    if (view.to === '') return showWrong(view, { field: 'spot', text: 'It is not said where to. Nothing was written. Choose the spot.' });
    const day = readDay(view.day, view.form.today);
    if (!day.ok) return showWrong(view, day.wrong);
    const saved = await save(view, 'log_move', { logs: [...view.ticked], spot: view.to, why: view.why, day: day.value, note: view.note.trim(), request: view.request, draft: null });
    if (saved.kind === 'done') finish(view.log ? link('log', { log: view.log }) : link('spot', { spot: view.to }));
  },
};
