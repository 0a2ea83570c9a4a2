// Weighing a basket in the kitchen: one weight shared out by caps, or log by log.
// It never works out a share; the backend does. Invariant: what is typed survives a kill, and is saved once.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips, text } from '../components/field.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { Draft, keptDraft } from '../flow/draft.js';
import { save, showWrong, wrongAt } from '../flow/form.js';
import { back, finish, redraw } from '../flow/onshow.js';
import { count, dayName, grams } from '../lib/format.js';
import { readGrams } from '../lib/numbers.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { basketLogs } from '../lib/words-rounds.js';

/** @import {Basket} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */
/** @typedef {{how: 'whole' | 'each', grams: string, each: Record<string, string>}} Typed */
/** @typedef {FormView & {draft: Draft, basket: Basket, typed: Typed, request: string}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = (/** @type {View} */ view) => `Basket of ${dayName(view.basket.day)}`;

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ basket: id }) {
  const key = `basket:${id}`;
  const basket = await call('basket_show', { basket: id });
  const kept = /** @type {{request: string, typed: Typed} | null} */ (await keptDraft(key));
  /** @type {Typed} */
  const typed = { how: 'whole', grams: '', each: {}, ...kept?.typed };
  const request = kept?.request ?? newRequest();
  const draft = new Draft(key, () => ({ about: '', request, typed }));
  return { basket, typed, request, busy: false, wrong: null, draft };
}

/** @param {View} view */
export async function leave(view) {
  view.draft.stop();
  await view.draft.flush();
}

/** @param {View} view */
export function render(view) {
  const { basket, typed, wrong } = view;
  return html`${head(title(view), { back: { label: 'Back, keeping what is typed', onBack: on.back } })}
    ${trouble(wrong && wrong.field !== 'grams' ? wrong.text : '')}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      <p>${count(basket.pickings.length, 'picking')}, ${basketLogs(basket)}.${basket.grams === null ? '' : ` Weighed before: ${grams(basket.grams)}; saving weighs it again.`}</p>
      <section class="sheet group" aria-label="Weight">
        ${chips({ name: 'how', legend: 'Weigh', options: [{ value: /** @type {const} */ ('whole'), label: 'the whole basket' }, { value: /** @type {const} */ ('each'), label: 'log by log' }], value: typed.how, onPick: (how) => on.typed(view, { how }) })}
        ${typed.how === 'whole'
          ? text({ name: 'grams', label: 'Whole basket', unit: 'g', value: typed.grams, keys: 'decimal', hint: 'Without the basket itself. Shared out over its logs by caps, to the gram.', wrong: wrongAt(wrong, 'grams'), onInput: (value) => on.typed(view, { grams: value }) })
          : basket.pickings.map((p) => text({ name: `grams-${p.entry}`, label: `Log ${p.tag}${p.caps === null ? '' : `, ${count(p.caps, 'cap')}`}`, unit: 'g', value: typed.each[p.entry] ?? '', keys: 'decimal', onInput: (value) => on.typed(view, { each: { ...typed.each, [p.entry]: value } }) }))}
        ${typed.how === 'each' && wrong?.field === 'grams' ? html`<p class="wrong" role="alert">${wrong.text}</p>` : nothing}
      </section>
    </form>`;
}

/** @param {View} view */
export const foot = (view) => saveBar('Save the weight', view.busy);

export const on = {
  back: () => back(link('rounds')),

  /** @param {View} view @param {Partial<Typed>} words */
  typed(view, words) {
    Object.assign(view.typed, words);
    view.draft.note();
    redraw();
  },

  /** @param {Event} event @param {View} view */
  async save(event, view) {
    event.preventDefault();
    const { basket, typed } = view;
    const rows = typed.how === 'each' ? basket.pickings.map(({ entry }) => ({ entry, read: readGrams(typed.each[entry] ?? '') })) : [];
    const whole = readGrams(typed.grams);
    const bad = typed.how === 'whole' ? whole : rows.map(({ read }) => read).find((read) => !read.ok || read.value === null) ?? { ok: true, value: 1 };
    if (!bad.ok) return showWrong(view, { field: 'grams', text: bad.why });
    if (bad.value === null) return showWrong(view, { field: 'grams', text: 'The weight is empty. Nothing you typed is gone. Write grams; the basket stays open until then.' });
    const each = rows.map(({ entry, read }) => ({ entry, grams: read.ok ? read.value ?? 0 : 0 }));
    const saved = await save(view, 'basket_weigh', { basket: basket.id, grams: typed.how === 'whole' && whole.ok ? whole.value : null, each, request: view.request, draft: view.draft.key });
    if (saved.kind === 'done') finish(link('rounds'));
  },
};
