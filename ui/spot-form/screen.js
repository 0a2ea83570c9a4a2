// Adding a spot, and changing what is said of one: only its name is needed.
// It never guesses. Invariant: what is typed survives a kill, and is saved once.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips, lines, text } from '../components/field.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { Draft, keptDraft } from '../flow/draft.js';
import { save, showWrong, wrongAt } from '../flow/form.js';
import { back, finish, redraw, replace } from '../flow/onshow.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { GROUND, RAIN, SHADE, WATER } from '../lib/words-yard.js';

/** @import {SpotFields} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */
/** @typedef {FormView & {draft: Draft, spot: string | null, before: SpotFields | null, typed: SpotFields, request: string, restored: boolean}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = (/** @type {View} */ view) => (view.before ? `Edit ${view.before.name}` : 'Add a spot');

/** @type {SpotFields} */
const BLANK = { name: '', shade: null, ground: null, water: null, rain: null, winter_sun: null, heated: null, note: '' };

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ spot }) {
  const key = `spot:${spot ?? 'new'}`;
  const before = spot ? (await call('spot_show', { spot })).fields : null;
  const kept = /** @type {{request: string, typed: SpotFields} | null} */ (await keptDraft(key));
  const typed = { ...BLANK, ...before, ...kept?.typed };
  const request = kept?.request ?? newRequest();
  const draft = new Draft(key, () => ({ about: typed.name, request, typed }));
  return { spot: spot ?? null, before, typed, request, restored: kept !== null, busy: false, wrong: null, draft };
}

/** @param {View} view */
export async function leave(view) {
  view.draft.stop();
  await view.draft.flush();
}

/** @param {View} view */
export function render(view) {
  const { typed, wrong } = view;
  const set = (/** @type {keyof SpotFields} */ field) => (/** @type {any} */ value) => on.typed(view, field, value);
  const atField = wrong?.field && wrong.field in BLANK;
  return html`${head(title(view), { back: { label: 'Back, keeping what is typed', onBack: () => on.back(view) } })}
    ${trouble(wrong && !atField ? wrong.text : '')}
    ${view.restored ? html`<p class="mind" role="status">What you were typing is back.</p>` : nothing}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      <section class="sheet group" aria-label="Name">
        ${text({ name: 'name', label: 'Name', value: typed.name, required: true, hint: 'As you call it: North hedge, By the tank.', wrong: wrongAt(wrong, 'name'), onInput: set('name') })}
      </section>
      <section class="sheet group" aria-label="Sun and rain">
        ${chips({ name: 'shade', legend: 'Shade in summer', options: options(SHADE), value: typed.shade, onPick: set('shade') })}
        ${chips({ name: 'winter_sun', legend: 'When the leaves are down', options: [{ value: 'yes', label: 'bare of shade' }, { value: 'no', label: 'shaded all year' }], value: asWord(typed.winter_sun), onPick: (value) => set('winter_sun')(value === 'yes') })}
        ${chips({ name: 'rain', legend: 'Rain that reaches the logs', options: options(RAIN), value: typed.rain, onPick: set('rain') })}
      </section>
      <section class="sheet group" aria-label="Water, ground and frost">
        ${chips({ name: 'water', legend: 'What waters it', options: options(WATER), value: typed.water, onPick: set('water') })}
        ${chips({ name: 'ground', legend: 'What the logs stand on', options: options(GROUND), value: typed.ground, onPick: set('ground') })}
        ${chips({ name: 'heated', legend: 'Frost', options: [{ value: 'yes', label: 'kept from frost' }, { value: 'no', label: 'open to frost' }], value: asWord(typed.heated), onPick: (value) => set('heated')(value === 'yes') })}
      </section>
      <section class="sheet group" aria-label="Note">${lines({ name: 'note', label: 'Note', value: typed.note, wrong: wrongAt(wrong, 'note'), onInput: set('note') })}</section>
    </form>`;
}

/**
 * @template {string} V
 * @param {Record<V, string>} words
 */
function options(words) {
  return /** @type {{value: V, label: string}[]} */ (Object.entries(words).map(([value, label]) => ({ value, label })));
}

/** @param {boolean | null} value @returns {'yes' | 'no' | null} */
function asWord(value) {
  return value === null ? null : value ? 'yes' : 'no';
}

/** @param {View} view */
export const foot = (view) => saveBar('Save the spot', view.busy);

export const on = {
  /** @param {View} view */
  back: (view) => back(view.spot ? link('spot', { spot: view.spot }) : link('spots')),

  /**
   * @param {View} view
   * @param {keyof SpotFields} field
   * @param {any} value
   */
  typed(view, field, value) {
    Object.assign(view.typed, { [field]: value });
    if (view.wrong?.field === field) view.wrong = null;
    view.draft.note();
    redraw();
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async save(event, view) {
    event.preventDefault();
    if (view.typed.name.trim() === '') return showWrong(view, { field: 'name', text: 'The spot has no name yet. Nothing you typed is gone. Write one.' });
    const saved = await save(view, 'spot_save', { spot: view.spot, fields: view.typed, request: view.request, draft: view.draft.key });
    if (saved.kind !== 'done') return;
    const page = link('spot', { spot: saved.done.said.spot });
    if (view.spot) finish(page);
    else await replace(page);
  },
};
