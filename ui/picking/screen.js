// Recording a picking: how much, how many, how much was damaged and by what, on which day.
// It never insists on a weight. Invariant: what stands in the form survives a kill, and is saved once.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { Draft, keptDraft } from '../flow/draft.js';
import { save, showWrong } from '../flow/form.js';
import { back, finish, redraw } from '../flow/onshow.js';
import { onceADay } from '../lib/once.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { question } from '../lib/words-life.js';
import { which } from '../look/parts.js';
import { amount, caution, damage, day } from './parts.js';
import { asPicking, blank } from './typed.js';

/** @import {PickingForm} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */
/** @import {Typed} from './typed.js' */

/** @typedef {FormView & {draft: Draft, form: PickingForm, typed: Typed, request: string, restored: boolean, caution: boolean}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = (/** @type {View} */ view) => `Picking of log ${view.form.row.tag}`;

const KNOWN = ['grams', 'caps', 'damaged_pct', 'by', 'day', 'note'];

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log }) {
  const key = `picking:${log}`;
  const form = await call('picking_form', { log });
  const kept = /** @type {{request: string, typed: Typed} | null} */ (await keptDraft(key));
  const typed = { ...blank(form.today), ...kept?.typed };
  const request = kept?.request ?? newRequest();
  const draft = new Draft(key, () => ({ about: form.row.tag, request, typed }));
  return { form, typed, request, restored: kept !== null, caution: onceADay(localStorage, 'picking', form.today, request), busy: false, wrong: null, draft };
}

/** @param {View} view */
export async function leave(view) {
  view.draft.stop();
  await view.draft.flush();
}

/** @param {View} view */
export function render(view) {
  const atField = view.wrong?.field && KNOWN.includes(view.wrong.field);
  return html`${head(title(view), { back: { label: 'Back, keeping what is typed', onBack: () => on.back(view) } })}
    ${trouble(view.wrong && !atField ? view.wrong.text : '')}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      ${which(view)}
      ${view.caution ? caution() : nothing}
      ${asked(view) ? html`<p class="mind" id="tag-right" role="status">${asked(view)} If so, save; if not, go back and find the right one.</p>` : nothing}
      ${amount(view, on)}
      ${damage(view, on)}
      ${day(view, on)}
    </form>`;
}

/** @param {View} view */
const asked = (view) => question(view.form, view.form.row.tag);

/** @param {View} view */
export const foot = (view) => saveBar(asked(view) ? `Yes, it is log ${view.form.row.tag}: save` : 'Save the picking', view.busy);

export const on = {
  /** @param {View} view */
  back: (view) => back(link('log', { log: view.form.row.id })),

  /** @param {View} view */
  typed(view) {
    view.draft.note();
    redraw();
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async save(event, view) {
    event.preventDefault();
    const read = asPicking(view.typed, view.form.today);
    if (!read.ok) return showWrong(view, read.wrong);
    const log = view.form.row.id;
    const saved = await save(view, 'picking_add', { log, ...read.picking, request: view.request, draft: view.draft.key });
    if (saved.kind === 'done') finish(link('log', { log }));
  },
};
