// Something done for one log, or for all logs of a spot: waxed, turned, restacked, lifted, cleared; a totem's own steps.
// It never waters or soaks. Invariant: one tap is one act for all, and says for how many.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips, lines } from '../components/field.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { tagLabel, tagTwice, whatItIs } from '../components/log-line.js';
import { readDay, someDay, whichDay } from '../components/which-day.js';
import { save, showWrong, wrongAt } from '../flow/form.js';
import { back, finish, redraw } from '../flow/onshow.js';
import { count } from '../lib/format.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { TEND_ACT, TEND_CAUTION, TEND_HINT } from '../lib/words-yard.js';

/** @import {Tend, TendForm} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */
/** @import {Day} from '../components/which-day.js' */
/** @typedef {FormView & {form: TendForm, log: string | null, spot: string | null, what: Tend | null, day: Day, note: string, request: string}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = (/** @type {View} */ view) => (view.form.spot !== null ? `Tend ${view.form.spot}` : `Tend log ${view.form.logs[0]?.tag ?? ''}`);

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log, spot }) {
  const form = await call('tend_form', { log: log ?? null, spot: log ? null : spot ?? null });
  return { form, log: log ?? null, spot: log ? null : spot ?? null, what: null, day: someDay(form.today), note: '', request: newRequest(), busy: false, wrong: null, draft: null };
}

/** @param {View} view */
export function render(view) {
  const { form, wrong, what } = view;
  const all = form.logs.length;
  const options = form.deeds.map((deed) => ({ value: deed.what, label: TEND_ACT[deed.what], hint: deed.logs < all ? `${TEND_HINT[deed.what]}; ${count(deed.logs, 'log')} of ${all}` : TEND_HINT[deed.what] }));
  const caution = what ? TEND_CAUTION[what] : undefined;
  return html`${head(title(view), { back: { label: 'Back', onBack: () => on.back(view) } })}
    ${trouble(wrong && !['what', 'day', 'note'].includes(wrong.field ?? '') ? wrong.text : '')}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      ${view.log && form.logs[0] ? html`<p class="which">${tagLabel(form.logs[0].tag)} <span>${whatItIs(form.logs[0])}</span></p>${tagTwice(form.logs[0])}` : html`<p>${count(all, 'log')}: ${form.logs.slice(0, 12).map(({ tag }) => tag).join(', ')}${all > 12 ? ' …' : ''}</p>`}
      ${all === 0 ? html`<p class="mind">There is no live log to do anything for.</p>` : html`<section class="sheet group" aria-label="What was done">
        ${chips({ name: 'what', legend: 'What did you do?', options, value: what, wrong: wrongAt(wrong, 'what'), look: 'chips-wide', onPick: (picked) => on.what(view, picked) })}
        ${caution ? html`<p class="mind" id="caution" role="status">${caution}</p>` : nothing}
        <p class="hint">What it is for: common practice, no source.</p>
      </section>
      <section class="sheet group" aria-label="When">
        ${whichDay(view.day, redraw, wrongAt(wrong, 'day'))}
        ${lines({ name: 'note', label: 'Note', value: view.note, wrong: wrongAt(wrong, 'note'), onInput: (note) => { view.note = note; } })}
      </section>`}
    </form>`;
}

/** @param {View} view */
export const foot = (view) => {
  const deed = view.form.deeds.find(({ what }) => what === view.what);
  return saveBar(deed && view.spot ? `Record it for ${count(deed.logs, 'log')}` : 'Record it', view.busy || view.form.logs.length === 0);
};

export const on = {
  /** @param {View} view */
  back: (view) => back(view.log ? link('log', { log: view.log }) : link('spot', { spot: view.spot ?? '' })),

  /**
   * @param {View} view
   * @param {Tend} what
   */
  what(view, what) {
    view.what = what;
    if (view.wrong?.field === 'what') view.wrong = null;
    redraw();
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async save(event, view) {
    event.preventDefault();
    if (view.what === null) return showWrong(view, { field: 'what', text: 'It is not said yet what you did. Nothing was written. Tap one.' });
    const day = readDay(view.day, view.form.today);
    if (!day.ok) return showWrong(view, day.wrong);
    const saved = await save(view, 'tend_add', { logs: view.form.logs.map(({ id }) => id), what: view.what, day: day.value, note: view.note.trim(), request: view.request, draft: null });
    if (saved.kind === 'done') finish(view.log ? link('log', { log: view.log }) : link('spot', { spot: view.spot ?? '' }));
  },
};
