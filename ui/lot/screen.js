// A spawn lot: its strain and form, from where, when it came and how it is kept; and whether it is what it should be.
// It never lays a log. Invariant: a doubtful lot says what follows from it before it is saved.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips, lines, select, text } from '../components/field.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { roughDate } from '../components/rough-date.js';
import { Draft, keptDraft } from '../flow/draft.js';
import { save, showWrong, wrongAt } from '../flow/form.js';
import { back, finish, redraw } from '../flow/onshow.js';
import { count } from '../lib/format.js';
import { newRequest } from '../lib/request.js';
import { fromParts, toParts } from '../lib/rough.js';
import { link } from '../lib/router.js';
import { MUSHROOM, SPAWN } from '../lib/words.js';
import { KEPT } from '../lib/words-life.js';

/** @import {Kept, LotFields, LotRow, Spawn, StrainsView} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */
/** @import {RoughParts} from '../lib/rough.js' */
/** @typedef {{name: string, strain: string, form: Spawn | '', source: string, received: RoughParts, kept: Kept | '', doubtful: 'no' | 'yes', note: string}} Typed */
/** @typedef {FormView & {list: StrainsView, lot: LotRow | null, typed: Typed, request: string, draft: Draft, restored: boolean}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = (/** @type {View} */ view) => (view.lot ? `Spawn lot ${view.lot.fields.name}` : 'Add a spawn lot');

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ lot }) {
  const list = await call('strains_show', {});
  const row = list.lots.find((l) => l.id === lot) ?? null;
  const f = row?.fields;
  /** @type {Typed} */
  const fresh = {
    name: f?.name ?? '', strain: f?.strain ?? '', form: f?.form ?? '', source: f?.source ?? '', received: toParts(f?.received ?? null, 'unknown'),
    kept: f?.kept ?? '', doubtful: f?.doubtful ? 'yes' : 'no', note: f?.note ?? '',
  };
  const key = `lot:${lot}`;
  const kept = /** @type {{request: string, typed: Typed} | null} */ (await keptDraft(key));
  const typed = { ...fresh, ...kept?.typed };
  const request = kept?.request ?? newRequest();
  const draft = new Draft(key, () => ({ about: typed.name, request, typed }));
  return { list, lot: row, typed, request, restored: kept !== null, busy: false, wrong: null, draft };
}

/** @param {View} view */
export async function leave(view) {
  view.draft.stop();
  await view.draft.flush();
}

const KNOWN = ['name', 'strain', 'form', 'source', 'received', 'kept', 'note'];
/** @param {Record<string, string>} words */
const open = (words) => [{ value: '', label: 'not known' }, ...Object.entries(words).map(([value, label]) => ({ value, label }))];

/** @param {View} view */
export function render(view) {
  const { typed, wrong, list } = view;
  const set = (/** @type {keyof Typed} */ field) => (/** @type {string} */ value) => on.typed(view, field, value);
  const strains = [{ value: '', label: 'not known' }, ...list.strains.map((s) => ({ value: s.id, label: s.mushroom && s.mushroom !== 'shiitake' ? `${s.name} (${MUSHROOM[s.mushroom]})` : s.name }))];
  return html`${head(title(view), { back: { label: 'Back, keeping what is typed', onBack: on.back } })}
    ${trouble(wrong && !KNOWN.includes(wrong.field ?? '') ? wrong.text : '')}
    ${view.restored ? html`<p class="mind" role="status">What you were typing is back.</p>` : nothing}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      <section class="sheet group" aria-label="The spawn">
        ${text({ name: 'name', label: 'Name of the lot', value: typed.name, required: true, hint: 'What stands on its bag, or how you would call it.', wrong: wrongAt(wrong, 'name'), onInput: set('name') })}
        ${select({ name: 'strain', label: 'Strain', value: typed.strain, options: strains, hint: 'A new strain is added under Mushrooms and strains first.', wrong: wrongAt(wrong, 'strain'), onInput: set('strain') })}
        ${chips({ name: 'form', legend: 'Form', options: open(SPAWN), value: typed.form, wrong: wrongAt(wrong, 'form'), onPick: set('form') })}
        ${text({ name: 'source', label: 'From where', value: typed.source, wrong: wrongAt(wrong, 'source'), onInput: set('source') })}
        ${roughDate({ name: 'received', legend: 'Received or made', parts: typed.received, kinds: ['day', 'month', 'season', 'year', 'unknown'], wrong: wrongAt(wrong, 'received'), onChange: () => on.changed(view) })}
        ${chips({ name: 'kept', legend: 'Kept', options: open(KEPT), value: typed.kept, wrong: wrongAt(wrong, 'kept'), onPick: set('kept') })}
      </section>
      <section class="sheet group" aria-label="Doubt and note">
        ${chips({ name: 'doubtful', legend: 'Is it what it should be?', options: [{ value: 'no', label: 'as far as known' }, { value: 'yes', label: 'strain doubtful' }], value: typed.doubtful, onPick: set('doubtful') })}
        ${typed.doubtful === 'yes' ? html`<p class="mind" role="status">${view.lot?.logs ? `Its ${count(view.lot.logs, 'log')} stay` : 'Logs laid with it stay'} out of comparisons of strains. They count everywhere else.</p>` : nothing}
        ${lines({ name: 'note', label: 'Note', value: typed.note, wrong: wrongAt(wrong, 'note'), onInput: set('note') })}
      </section>
      ${view.lot ? html`<p class="acts"><button type="button" class="button button-quiet" id="take-out" @click=${() => on.out(view)}>Take this lot out</button></p>` : nothing}
    </form>`;
}

/** @param {View} view */
export const foot = (view) => saveBar('Save the lot', view.busy);

export const on = {
  back: () => back(link('strains')),

  /** @param {View} view */
  changed(view) {
    view.draft.note();
    redraw();
  },

  /**
   * @param {View} view
   * @param {keyof Typed} field
   * @param {string} value
   */
  typed(view, field, value) {
    Object.assign(view.typed, { [field]: value });
    on.changed(view);
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async save(event, view) {
    event.preventDefault();
    const { typed } = view;
    const received = fromParts(typed.received, view.lot?.fields.received === 'XXXX' ? 'XXXX' : null);
    if (!received.ok) return showWrong(view, { field: 'received', text: received.why });
    /** @type {LotFields} */
    const fields = {
      name: typed.name.trim(), strain: typed.strain || null, form: typed.form || null, source: typed.source.trim(), received: received.value,
      kept: typed.kept || null, doubtful: typed.doubtful === 'yes', note: typed.note.trim(),
    };
    const saved = await save(view, 'lot_set', { lot: view.lot?.id ?? null, fields, request: view.request, draft: view.draft.key });
    if (saved.kind === 'done') finish(link('strains'));
  },

  /** @param {View} view */
  async out(view) {
    const saved = await save(view, 'lot_out', { lot: view.lot?.id ?? '', request: newRequest() });
    if (saved.kind === 'done') finish(link('strains'));
  },
};
