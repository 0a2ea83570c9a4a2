// A strain: its name, what it is of, its class and where it fruits.
// It never names a seller. Invariant: a range left empty goes by the class.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips, lines, text } from '../components/field.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { Draft, keptDraft } from '../flow/draft.js';
import { save, showWrong, wrongAt } from '../flow/form.js';
import { back, finish, redraw } from '../flow/onshow.js';
import { airNumber, airUnit } from '../lib/format.js';
import { readAir } from '../lib/numbers.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { MUSHROOM, STRAIN_CLASS } from '../lib/words.js';
import { degrees } from '../lib/words-life.js';

/** @import {Mushroom, StrainClass, StrainFields, StrainsView} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */
/** @typedef {{name: string, mushroom: Mushroom | null, class: StrainClass | '', from: string, to: string, note: string}} Typed */
/** @typedef {FormView & {list: StrainsView, strain: string | null, typed: Typed, request: string, draft: Draft, restored: boolean}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = (/** @type {View} */ view) => (view.strain ? `Strain ${view.typed.name}` : 'Add a strain');

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ strain }) {
  const list = await call('strains_show', {});
  const row = list.strains.find((s) => s.id === strain);
  const said = (/** @type {number | null | undefined} */ dc) => (dc === null || dc === undefined ? '' : airNumber(dc));
  /** @type {Typed} */
  const fresh = { name: row?.name ?? '', mushroom: row?.mushroom ?? null, class: row?.class ?? '', from: said(row?.from_dc), to: said(row?.to_dc), note: row?.note ?? '' };
  const key = `strain:${strain}`;
  const kept = /** @type {{request: string, typed: Typed} | null} */ (await keptDraft(key));
  const typed = { ...fresh, ...kept?.typed };
  const request = kept?.request ?? newRequest();
  const draft = new Draft(key, () => ({ about: typed.name, request, typed }));
  return { list, strain: row ? strain : null, typed, request, restored: kept !== null, busy: false, wrong: null, draft };
}

/** @param {View} view */
export async function leave(view) {
  view.draft.stop();
  await view.draft.flush();
}

const KNOWN = ['name', 'mushroom', 'class', 'from_dc', 'to_dc', 'note'];

/** @param {View} view */
export function render(view) {
  const { typed, wrong } = view;
  const set = (/** @type {keyof Typed} */ field) => (/** @type {string} */ value) => on.typed(view, field, value);
  const byClass = view.list.classes.find((c) => c.class === typed.class);
  return html`${head(title(view), { back: { label: 'Back, keeping what is typed', onBack: on.back } })}
    ${trouble(wrong && !KNOWN.includes(wrong.field ?? '') ? wrong.text : '')}
    ${view.restored ? html`<p class="mind" role="status">What you were typing is back.</p>` : nothing}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      <section class="sheet group" aria-label="The strain">
        ${text({ name: 'name', label: 'Name', value: typed.name, required: true, wrong: wrongAt(wrong, 'name'), onInput: set('name') })}
        ${chips({ name: 'mushroom', legend: 'Mushroom', required: true, options: Object.entries(MUSHROOM).map(([value, label]) => ({ value, label })), value: typed.mushroom, wrong: wrongAt(wrong, 'mushroom'), onPick: set('mushroom') })}
        ${typed.mushroom === 'shiitake' ? chips({ name: 'class', legend: 'Class', options: [{ value: '', label: 'not known' }, ...Object.entries(STRAIN_CLASS).map(([value, label]) => ({ value, label }))], value: typed.class, wrong: wrongAt(wrong, 'class'), onPick: set('class') }) : nothing}
      </section>
      <section class="sheet group" aria-labelledby="range-title">
        <h2 id="range-title">Fruits at <span class="soft">may wait</span></h2>
        <div class="two">
          ${text({ name: 'from_dc', label: 'From', unit: airUnit(), value: typed.from, keys: 'text', wrong: wrongAt(wrong, 'from_dc'), onInput: set('from') })}
          ${text({ name: 'to_dc', label: 'To', unit: airUnit(), value: typed.to, keys: 'text', wrong: wrongAt(wrong, 'to_dc'), onInput: set('to') })}
        </div>
        ${byClass ? html`<p class="hint">Left empty, it goes by its class: ${degrees(byClass.fruiting)} (common practice, no source; sellers disagree).</p>` : nothing}
        ${lines({ name: 'note', label: 'Note', value: typed.note, wrong: wrongAt(wrong, 'note'), onInput: set('note') })}
      </section>
      ${view.strain ? html`<p class="acts"><button type="button" class="button button-quiet" id="take-out" @click=${() => on.out(view)}>Take this strain out</button></p>` : nothing}
    </form>`;
}

/** @param {View} view */
export const foot = (view) => saveBar('Save the strain', view.busy);

export const on = {
  back: () => back(link('strains')),

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
    if (typed.mushroom === null) return showWrong(view, { field: 'mushroom', text: 'No mushroom is chosen. Nothing you typed is gone. Tap the one this is a strain of.' });
    const from = readAir(typed.from);
    if (!from.ok) return showWrong(view, { field: 'from_dc', text: from.why });
    const to = readAir(typed.to);
    if (!to.ok) return showWrong(view, { field: 'to_dc', text: to.why });
    /** @type {StrainFields} */
    const fields = {
      name: typed.name.trim(), mushroom: typed.mushroom, class: (typed.mushroom === 'shiitake' && typed.class) || null,
      from_dc: from.value, to_dc: to.value, note: typed.note.trim(),
    };
    const saved = await save(view, 'strain_set', { strain: view.strain, fields, request: view.request, draft: view.draft.key });
    if (saved.kind === 'done') finish(link('strains'));
  },

  /** @param {View} view */
  async out(view) {
    const saved = await save(view, 'strain_out', { strain: view.strain ?? '', request: newRequest() });
    if (saved.kind === 'done') finish(link('strains'));
  },
};
