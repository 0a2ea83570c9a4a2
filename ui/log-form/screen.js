// Adding a log, and editing one: only tag and mushroom are needed, the rest may stay open.
// It never judges the wood; it hints. Invariant: what is typed survives a kill, and is saved once.

import { html } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { Draft, dropDraft, keptDraft } from '../flow/draft.js';
import { save, showWrong } from '../flow/form.js';
import { back, finish, redraw, replace, tellTrouble } from '../flow/onshow.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { growth, needed, place, restored, wood } from './parts.js';
import { asFields, asTyped, blank, ofBatch, ofLot, ofStrain, ofWaiting, sameFields } from './typed.js';

/** @import {LogForm, Mushroom} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */
/** @import {Typed} from './typed.js' */

/** @typedef {FormView & {draft: Draft, form: LogForm, log: string | null, typed: Typed, request: string, restored: boolean}} View */
/** @typedef {{about: string, request: string, typed: Typed}} Kept */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = (/** @type {View} */ view) => (view.log ? `Edit log ${view.form.fields?.tag ?? ''}` : 'Add a log');

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log, batch }) {
  const key = `log:${log ?? 'new'}`;
  const form = await call('log_form', { log: log ?? null });
  const kept = /** @type {Kept | null} */ (await keptDraft(key));
  const base = form.fields ? asTyped(form.fields) : blank(form.next_tag);
  if (batch && !form.fields) ofWaiting(base, form, batch);
  const request = kept?.request ?? newRequest();
  const typed = { ...base, ...kept?.typed };
  const draft = new Draft(key, () => ({ about: typed.tag, request, typed }));
  return { form, log: log ?? null, typed, request, restored: kept !== null, busy: false, wrong: null, draft };
}

/** @param {View} view */
export async function leave(view) {
  view.draft.stop();
  await view.draft.flush();
}

/** @param {View} view */
export function render(view) {
  const atField = view.wrong?.field && KNOWN.has(view.wrong.field);
  return html`${head(title(view), { back: { label: 'Back, keeping what is typed', onBack: () => on.back(view) } })}
    ${trouble(view.wrong && !atField ? view.wrong.text : '')}
    ${restored(view, on)}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      ${needed(view, on)}
      ${wood(view, on)}
      ${growth(view, on)}
      ${place(view, on)}
    </form>`;
}

const KNOWN = new Set(['tag', 'mushroom', 'wood', 'd_mm', 'd_1', 'd_2', 'd_3', 'length_mm', 'felled', 'laid', 'strain', 'strain_class', 'spawn', 'method', 'spot', 'batch', 'lot', 'note']);

/** @param {View} view */
export const foot = (view) => saveBar(view.log ? 'Save the changes' : 'Save the log', view.busy);

export const on = {
  /** @param {View} view */
  back: (view) => back(view.log ? link('log', { log: view.log }) : link('yard')),

  /**
   * Something was typed or picked.
   * @param {View} view
   */
  typed(view) {
    view.draft.note();
    redraw();
  },

  /**
   * @param {View} view
   * @param {string} name
   */
  strain(view, name) {
    ofStrain(view.typed, view.form, name);
    on.typed(view);
  },

  /**
   * @param {View} view
   * @param {Mushroom} mushroom
   */
  mushroom(view, mushroom) {
    view.typed.mushroom = mushroom;
    if (view.wrong?.field === 'mushroom') view.wrong = null;
    on.typed(view);
  },

  /**
   * A batch says what its wood is and when it was felled.
   * @param {View} view
   * @param {string} id
   */
  batch(view, id) {
    ofBatch(view.typed, view.form, id);
    on.typed(view);
  },

  /**
   * A spawn lot says what it is of and in what form.
   * @param {View} view
   * @param {string} id
   */
  lot(view, id) {
    ofLot(view.typed, view.form, id);
    on.typed(view);
  },

  /** @param {View} view */
  async startOver(view) {
    await view.draft.pause();
    await dropDraft(view.draft.key);
    Object.assign(view.typed, view.form.fields ? asTyped(view.form.fields) : blank(view.form.next_tag));
    view.restored = false;
    view.wrong = null;
    redraw();
  },

  /**
   * Saved as it was: nothing to write, and no draft to keep.
   * @param {View} view
   */
  async unchanged(view) {
    await view.draft.pause();
    await dropDraft(view.draft.key).catch(tellTrouble);
    finish(link('log', { log: view.log ?? '' }));
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async save(event, view) {
    event.preventDefault();
    const read = asFields(view.typed, view.form.fields);
    if (!read.ok) return showWrong(view, read.wrong);
    if (view.form.fields && sameFields(read.fields, view.form.fields)) return on.unchanged(view);
    const draft = view.draft.key;
    const { request } = view;
    const { fields } = read;
    const saved = view.log
      ? await save(view, 'log_edit', { log: view.log, fields, request, draft })
      : await save(view, 'log_add', { fields, request, draft });
    if (saved.kind !== 'done') return;
    if (view.log) finish(link('log', { log: view.log }));
    else await replace(link('log', { log: saved.done.said.log }));
  },
};
