// An own wood: its name is enough, the rest may wait.
// It never changes the table's woods. Invariant: what is refused keeps every letter as typed.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips, lines, text } from '../components/field.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { Draft, keptDraft } from '../flow/draft.js';
import { save, showWrong, wrongAt } from '../flow/form.js';
import { back, finish, redraw } from '../flow/onshow.js';
import { readCount } from '../lib/numbers.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';

/** @import {WoodFields} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */
/** @typedef {{name: string, scientific: string, conifer: 'no' | 'yes', shiitake: string, hericium: string, density: string, moisture: string, note: string}} Typed */
/** @typedef {FormView & {wood: string | null, typed: Typed, request: string, draft: Draft, restored: boolean}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = (/** @type {View} */ view) => (view.wood ? `Change ${view.typed.name}` : 'Add an own wood');

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ wood }) {
  const own = wood === 'new' ? null : (await call('woods_show', {})).woods.find((w) => w.id === wood)?.own ?? null;
  const said = (/** @type {number | null | undefined} */ n) => (n === null || n === undefined ? '' : String(n));
  const fresh = {
    name: own?.name ?? '', scientific: own?.scientific ?? '', conifer: /** @type {'no' | 'yes'} */ (own?.conifer ? 'yes' : 'no'),
    shiitake: said(own?.shiitake), hericium: said(own?.hericium), density: said(own?.density_kg_m3), moisture: said(own?.moisture_pct), note: own?.note ?? '',
  };
  const key = `wood:${wood}`;
  const kept = /** @type {{request: string, typed: Typed} | null} */ (await keptDraft(key));
  const typed = { ...fresh, ...kept?.typed };
  const request = kept?.request ?? newRequest();
  const draft = new Draft(key, () => ({ about: typed.name, request, typed }));
  return { wood: own ? wood : null, typed, request, restored: kept !== null, busy: false, wrong: null, draft };
}

/** @param {View} view */
export async function leave(view) {
  view.draft.stop();
  await view.draft.flush();
}

const RATINGS = [{ value: '', label: 'not rated' }, ...['unsuitable', 'poor', 'fair', 'good', 'best'].map((word, n) => ({ value: String(n), label: String(n), hint: word }))];
const KNOWN = ['name', 'scientific', 'shiitake', 'hericium', 'density_kg_m3', 'moisture_pct', 'note'];

/** @param {View} view */
export function render(view) {
  const { typed, wrong } = view;
  const set = (/** @type {keyof Typed} */ field) => (/** @type {string} */ value) => on.typed(view, field, value);
  return html`${head(title(view), { back: { label: 'Back, keeping what is typed', onBack: on.back } })}
    ${trouble(wrong && !KNOWN.includes(wrong.field ?? '') ? wrong.text : '')}
    ${view.restored ? html`<p class="mind" role="status">What you were typing is back.</p>` : nothing}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      <section class="sheet group" aria-label="The wood">
        ${text({ name: 'name', label: 'Name', value: typed.name, required: true, wrong: wrongAt(wrong, 'name'), onInput: set('name') })}
        ${text({ name: 'scientific', label: 'Scientific name', value: typed.scientific, wrong: wrongAt(wrong, 'scientific'), onInput: set('scientific') })}
        ${chips({ name: 'conifer', legend: 'Is it a conifer?', options: [{ value: 'no', label: 'no' }, { value: 'yes', label: 'yes' }], value: typed.conifer, onPick: set('conifer') })}
      </section>
      ${typed.conifer === 'yes' ? html`<p class="mind" role="status">Neither shiitake nor Hericium lives on conifers. It is kept, so that the register can say what a log is.</p>` : html`<section class="sheet group" aria-label="Your ratings">
        ${chips({ name: 'shiitake', legend: 'Your rating for shiitake', options: RATINGS, value: typed.shiitake, wrong: wrongAt(wrong, 'shiitake'), onPick: set('shiitake') })}
        ${chips({ name: 'hericium', legend: 'Your rating for Hericium', options: RATINGS, value: typed.hericium, wrong: wrongAt(wrong, 'hericium'), onPick: set('hericium') })}
      </section>`}
      <section class="sheet group" aria-label="Weight and note">
        ${text({ name: 'density_kg_m3', label: 'Fresh weight', unit: 'kg/m³', value: typed.density, keys: 'numeric', wrong: wrongAt(wrong, 'density_kg_m3'), onInput: set('density') })}
        ${text({ name: 'moisture_pct', label: 'Fresh moisture', unit: '% of the fresh weight', value: typed.moisture, keys: 'numeric', wrong: wrongAt(wrong, 'moisture_pct'), onInput: set('moisture') })}
        ${lines({ name: 'note', label: 'Note', value: typed.note, wrong: wrongAt(wrong, 'note'), onInput: set('note') })}
      </section>
      ${view.wood ? html`<p class="acts"><button type="button" class="button button-quiet" id="take-out" @click=${() => on.out(view)}>Take this wood out of the list</button></p>` : nothing}
    </form>`;
}

/** @param {View} view */
export const foot = (view) => saveBar('Save the wood', view.busy);

export const on = {
  back: () => back(link('woods')),

  /**
   * @param {View} view
   * @param {keyof Typed} field
   * @param {string} value
   */
  typed(view, field, value) {
    Object.assign(view.typed, { [field]: value });
    view.draft.note();
    redraw();
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async save(event, view) {
    event.preventDefault();
    const { typed } = view;
    const density = readCount(typed.density, 'kg/m³');
    if (!density.ok) return showWrong(view, { field: 'density_kg_m3', text: density.why });
    const moisture = readCount(typed.moisture, 'per cent');
    if (!moisture.ok) return showWrong(view, { field: 'moisture_pct', text: moisture.why });
    const rated = (/** @type {string} */ text) => (text === '' ? null : Number(text));
    /** @type {WoodFields} */
    const fields = {
      name: typed.name.trim(), scientific: typed.scientific.trim(), conifer: typed.conifer === 'yes', shiitake: rated(typed.shiitake),
      hericium: rated(typed.hericium), density_kg_m3: density.value, moisture_pct: moisture.value, note: typed.note.trim(),
    };
    const saved = await save(view, 'wood_set', { wood: view.wood, fields, request: view.request, draft: view.draft.key });
    if (saved.kind === 'done') finish(link('woods'));
  },

  /** @param {View} view */
  async out(view) {
    const saved = await save(view, 'wood_out', { wood: view.wood ?? '', request: newRequest() });
    if (saved.kind === 'done') finish(link('woods'));
  },
};
