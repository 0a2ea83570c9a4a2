// A batch of wood: what was felled, when, where, and its sample disc.
// It never lays a log. Invariant: what is typed survives a kill, and is saved once.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips, lines, select, text } from '../components/field.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { roughDate } from '../components/rough-date.js';
import { Draft, keptDraft } from '../flow/draft.js';
import { save, showWrong, wrongAt } from '../flow/form.js';
import { back, finish, redraw } from '../flow/onshow.js';
import { readGrams } from '../lib/numbers.js';
import { newRequest } from '../lib/request.js';
import { fromParts, toParts } from '../lib/rough.js';
import { link } from '../lib/router.js';

/** @import {BatchFields, BatchForm} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */
/** @import {RoughParts} from '../lib/rough.js' */
/** @typedef {{name: string, wood: string, felled: RoughParts, source: string, wet: string, dry: string, doubtful: 'no' | 'yes', note: string}} Typed */
/** @typedef {FormView & {draft: Draft, form: BatchForm, batch: string | null, typed: Typed, request: string, restored: boolean}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = (/** @type {View} */ view) => (view.batch ? `Batch ${view.form.batch?.fields.name ?? ''}` : 'Add wood to be laid');

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ batch }) {
  const id = batch === 'new' ? null : batch;
  const key = `batch:${batch}`;
  const form = await call('batch_form', { batch: id });
  const kept = /** @type {{request: string, typed: Typed} | null} */ (await keptDraft(key));
  const typed = { ...asTyped(form.batch?.fields ?? null), ...kept?.typed };
  const request = kept?.request ?? newRequest();
  const draft = new Draft(key, () => ({ about: typed.name, request, typed }));
  return { form, batch: id, typed, request, restored: kept !== null, busy: false, wrong: null, draft };
}

/**
 * @param {BatchFields | null} fields
 * @returns {Typed}
 */
function asTyped(fields) {
  const said = (/** @type {number | null | undefined} */ n) => (n === null || n === undefined ? '' : String(n));
  return {
    name: fields?.name ?? '', wood: fields?.wood ?? '', felled: toParts(fields?.felled ?? null, fields ? 'unknown' : 'day'), source: fields?.source ?? '',
    wet: said(fields?.disc_wet_g), dry: said(fields?.disc_dry_g), doubtful: fields?.doubtful ? 'yes' : 'no', note: fields?.note ?? '',
  };
}

/** @param {View} view */
export async function leave(view) {
  view.draft.stop();
  await view.draft.flush();
}

const KNOWN = ['name', 'wood', 'felled', 'source', 'disc_wet_g', 'disc_dry_g', 'note'];

/** @param {View} view */
export function render(view) {
  const { typed, wrong, form } = view;
  const set = (/** @type {keyof Typed} */ field) => (/** @type {string} */ value) => on.typed(view, field, value);
  const woods = [{ value: '', label: 'not known' }, ...form.woods.map((w) => ({ value: w.id, label: `${w.name}${w.own ? ', yours' : w.scientific ? ` (${w.scientific})` : ''}${w.conifer ? ' – conifer' : ''}` }))];
  return html`${head(title(view), { back: { label: 'Back, keeping what is typed', onBack: on.back } })}
    ${trouble(wrong && !KNOWN.includes(wrong.field ?? '') ? wrong.text : '')}
    ${view.restored ? html`<p class="mind" role="status">What you were typing is back.</p>` : nothing}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      <section class="sheet group" aria-label="The wood">
        ${text({ name: 'name', label: 'Name of the batch', value: typed.name, required: true, hint: 'As you would call the pile: oak by the gate.', wrong: wrongAt(wrong, 'name'), onInput: set('name') })}
        ${select({ name: 'wood', label: 'Wood', value: typed.wood, options: woods, wrong: wrongAt(wrong, 'wood'), onInput: set('wood') })}
        ${roughDate({ name: 'felled', legend: 'Felled', parts: typed.felled, kinds: ['day', 'month', 'season', 'year', 'unknown'], hint: 'The days it can lie are counted from here. No treated, painted or sprayed wood; mind saws, and quarantines on firewood: ask the local authority.', wrong: wrongAt(wrong, 'felled'), onChange: () => on.changed(view) })}
        ${text({ name: 'source', label: 'Where it comes from', value: typed.source, wrong: wrongAt(wrong, 'source'), onInput: set('source') })}
      </section>
      <section class="sheet group" aria-labelledby="disc-title">
        <h2 id="disc-title">Sample disc <span class="soft">may wait</span></h2>
        <p class="hint">Saw a disc from the middle of a log, weigh it at once, dry it at 103 °C until its weight no longer falls (ISO 13061-1, from memory), weigh it again.</p>
        <div class="two">
          ${text({ name: 'disc_wet_g', label: 'Wet', unit: 'g', value: typed.wet, keys: 'decimal', wrong: wrongAt(wrong, 'disc_wet_g'), onInput: set('wet') })}
          ${text({ name: 'disc_dry_g', label: 'Oven-dry', unit: 'g', value: typed.dry, keys: 'decimal', wrong: wrongAt(wrong, 'disc_dry_g'), onInput: set('dry') })}
        </div>
      </section>
      <section class="sheet group" aria-label="Doubt and note">
        ${chips({ name: 'doubtful', legend: 'Is it doubtful what its logs carry?', options: [{ value: 'no', label: 'no' }, { value: 'yes', label: 'strain doubtful', hint: 'its logs stay out of comparisons of strains' }], value: typed.doubtful, onPick: set('doubtful') })}
        ${lines({ name: 'note', label: 'Note', value: typed.note, wrong: wrongAt(wrong, 'note'), onInput: set('note') })}
      </section>
      ${view.batch ? html`<p class="acts"><button type="button" class="button button-quiet" id="take-out" @click=${() => on.out(view)}>Take this batch out</button></p>` : nothing}
    </form>`;
}

/** @param {View} view */
export const foot = (view) => saveBar('Save the wood', view.busy);

export const on = {
  back: () => back(link('wood-waiting')),

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
    const felled = fromParts(typed.felled, view.form.batch?.fields.felled === 'XXXX' ? 'XXXX' : null);
    if (!felled.ok) return showWrong(view, { field: 'felled', text: felled.why });
    const wet = readGrams(typed.wet);
    if (!wet.ok) return showWrong(view, { field: 'disc_wet_g', text: wet.why });
    const dry = readGrams(typed.dry);
    if (!dry.ok) return showWrong(view, { field: 'disc_dry_g', text: dry.why });
    /** @type {BatchFields} */
    const fields = {
      name: typed.name.trim(), wood: typed.wood || null, felled: felled.value, source: typed.source.trim(), disc_wet_g: wet.value,
      disc_dry_g: dry.value, doubtful: typed.doubtful === 'yes', note: typed.note.trim(),
    };
    const saved = await save(view, 'batch_set', { batch: view.batch, fields, request: view.request, draft: view.draft.key });
    if (saved.kind === 'done') finish(link('wood-waiting'));
  },

  /** @param {View} view */
  async out(view) {
    const saved = await save(view, 'batch_out', { batch: view.batch ?? '', request: newRequest() });
    if (saved.kind === 'done') finish(link('wood-waiting'));
  },
};
