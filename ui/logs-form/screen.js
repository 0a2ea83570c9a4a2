// Many logs alike in one go: what they share, a first tag, and a size for each, one a line.
// It never counts a tag itself. Invariant: what is typed survives a kill, and all logs are one act.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips, lines, select, text } from '../components/field.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { roughDate } from '../components/rough-date.js';
import { Draft, dropDraft, keptDraft } from '../flow/draft.js';
import { save, showWrong, wrongAt } from '../flow/form.js';
import { back, redraw, replace } from '../flow/onshow.js';
import { batchField, lotField } from '../log-form/parts.js';
import { asFields, blank, ofBatch, ofLot, ofStrain, ofWaiting } from '../log-form/typed.js';
import { count } from '../lib/format.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { METHOD, MUSHROOM, SPAWN, STRAIN_CLASS } from '../lib/words.js';
import { readSizes } from './sizes.js';

/** @import {LogForm} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */
/** @import {Typed as LogTyped} from '../log-form/typed.js' */
/** @typedef {LogTyped & {n: string, sizes: string}} Typed */
/** @typedef {FormView & {draft: Draft, form: LogForm, typed: Typed, request: string, restored: boolean}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = () => 'Add many logs';

const KEY = 'logs:new';
const FIELDS = new Set(['tag', 'n', 'sizes', 'length_mm', 'mushroom', 'wood', 'felled', 'laid', 'strain', 'strain_class', 'spawn', 'method', 'spot', 'batch', 'lot', 'note']);

/** @param {Record<string, string>} params @returns {Promise<View>} */
export async function load({ batch }) {
  const form = await call('log_form', { log: null });
  const base = fresh(form);
  if (batch) ofWaiting(base, form, batch);
  const kept = /** @type {{request: string, typed: Typed} | null} */ (await keptDraft(KEY));
  const typed = { ...base, ...kept?.typed };
  const request = kept?.request ?? newRequest();
  const draft = new Draft(KEY, () => ({ about: typed.tag, request, typed }));
  return { form, typed, request, restored: kept !== null, busy: false, wrong: null, draft };
}

/** @param {LogForm} form @returns {Typed} */
function fresh(form) {
  return { ...blank(form.next_tag), n: '10', sizes: '' };
}

/** @param {View} view */
export async function leave(view) {
  view.draft.stop();
  await view.draft.flush();
}

/** @param {View} view */
export function render(view) {
  const { wrong } = view;
  return html`${head('Add many logs', { back: { label: 'Back, keeping what is typed', onBack: on.back } })}
    ${trouble(wrong && !FIELDS.has(wrong.field ?? '') ? wrong.text : '')}
    ${view.restored ? html`<p class="mind" role="status">What you were typing is back. <button type="button" class="button button-quiet" id="start-over" @click=${() => on.startOver(view)}>Start over</button></p>` : nothing}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      ${each(view)}
      ${shared(view)}
    </form>`;
}

/**
 * @param {View} view
 * @param {keyof Typed} field
 */
function setter(view, field) {
  return (/** @type {any} */ value) => {
    Object.assign(view.typed, { [field]: value });
    if (view.wrong?.field === field) view.wrong = null;
    view.draft.note();
    redraw();
  };
}

/** @param {View} view */
function each(view) {
  const { typed, wrong } = view;
  const read = readSizes(typed.sizes, typed.n, typed.length);
  return html`<section class="sheet group" aria-labelledby="each-title">
    <h2 id="each-title">Each log</h2>
    <div class="two">
      ${text({ name: 'n', label: 'How many', value: typed.n, keys: 'numeric', required: true, wrong: wrongAt(wrong, 'n'), onInput: setter(view, 'n') })}
      ${text({ name: 'tag', label: 'First tag', value: typed.tag, required: true, wrong: wrongAt(wrong, 'tag'), onInput: setter(view, 'tag') })}
    </div>
    <p class="hint">The tags count on from the first. One that is in use is passed over, and you are told.</p>
    ${lines({ name: 'sizes', label: 'Thickness of each, in cm', value: typed.sizes, hint: 'One log a line, in the order of the tags: 12.5, or both ends: 13 / 11. May stay empty.', wrong: wrongAt(wrong, 'sizes'), onInput: setter(view, 'sizes') })}
    ${text({ name: 'length_mm', label: 'Length', unit: 'cm', value: typed.length, keys: 'decimal', hint: 'Of all; one that differs: write 12.5 x 95 in its line.', wrong: wrongAt(wrong, 'length_mm'), onInput: setter(view, 'length') })}
    <p class="soft" id="read" role="status">${read.ok ? `${count(read.sizes.length, 'log')}, ${read.measured} measured.` : ''}</p>
  </section>`;
}

/** @param {View} view */
function shared(view) {
  const { typed, wrong, form } = view;
  const known = (/** @type {Record<string, string>} */ words) => [{ value: '', label: 'not known' }, ...Object.entries(words).map(([value, label]) => ({ value, label }))];
  const woods = [{ value: '', label: 'not known' }, ...form.woods.map((w) => ({ value: w.id, label: `${w.name} (${w.scientific})` }))];
  const note = () => { view.draft.note(); redraw(); };
  return html`<section class="sheet group" aria-labelledby="shared-title">
    <h2 id="shared-title">What they share</h2>
    ${chips({ name: 'mushroom', legend: 'Mushroom', required: true, options: /** @type {any} */ (known(MUSHROOM).slice(1)), value: typed.mushroom, wrong: wrongAt(wrong, 'mushroom'), onPick: setter(view, 'mushroom') })}
    ${batchField(view, (id) => { ofBatch(typed, form, id); note(); })}
    ${select({ name: 'wood', label: 'Wood', value: typed.wood, options: woods, wrong: wrongAt(wrong, 'wood'), onInput: setter(view, 'wood') })}
    ${lotField(view, (id) => { ofLot(typed, form, id); note(); })}
    ${text({ name: 'strain', label: 'Strain', value: typed.strain, list: form.strains.filter((s) => s.mushroom === typed.mushroom).map((s) => s.name), wrong: wrongAt(wrong, 'strain'), onInput: (name) => { ofStrain(typed, form, name); note(); } })}
    ${typed.mushroom === 'shiitake' ? select({ name: 'strain_class', label: 'Class of the strain', value: typed.strain_class, options: known(STRAIN_CLASS), onInput: setter(view, 'strain_class') }) : nothing}
    <div class="two">
      ${select({ name: 'spawn', label: 'Spawn', value: typed.spawn, options: known(SPAWN), onInput: setter(view, 'spawn') })}
      ${select({ name: 'method', label: 'Method', value: typed.method, options: known(METHOD), onInput: setter(view, 'method') })}
    </div>
    ${roughDate({ name: 'felled', legend: 'Felled', parts: typed.felled, kinds: ['unknown', 'day', 'month', 'season', 'year'], wrong: wrongAt(wrong, 'felled'), onChange: note })}
    ${roughDate({ name: 'laid', legend: 'Laid', parts: typed.laid, kinds: ['none', 'day', 'month', 'season', 'year', 'unknown'], wrong: wrongAt(wrong, 'laid'), onChange: note })}
    ${text({ name: 'spot', label: 'Spot', value: typed.spot, list: form.spots.map((s) => s.name), wrong: wrongAt(wrong, 'spot'), onInput: setter(view, 'spot') })}
    ${lines({ name: 'note', label: 'Note', value: typed.note, wrong: wrongAt(wrong, 'note'), onInput: setter(view, 'note') })}
  </section>`;
}

/** @param {View} view */
export const foot = (view) => {
  const read = readSizes(view.typed.sizes, view.typed.n, view.typed.length);
  return saveBar(read.ok ? `Add ${count(read.sizes.length, 'log')}` : 'Add the logs', view.busy);
};

export const on = {
  back: () => back(link('yard')),

  /** @param {View} view */
  async startOver(view) {
    await view.draft.pause();
    await dropDraft(KEY);
    Object.assign(view.typed, fresh(view.form));
    view.restored = false;
    view.wrong = null;
    redraw();
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async save(event, view) {
    event.preventDefault();
    const sizes = readSizes(view.typed.sizes, view.typed.n, view.typed.length);
    if (!sizes.ok) return showWrong(view, sizes.wrong);
    const read = asFields({ ...view.typed, d: ['', '', ''], length: '' }, null);
    if (!read.ok) return showWrong(view, read.wrong);
    const saved = await save(view, 'logs_add', { fields: read.fields, sizes: sizes.sizes, request: view.request, draft: KEY });
    if (saved.kind === 'done') await replace(link('yard', {}));
  },
};
