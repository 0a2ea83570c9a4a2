// A look at the wood itself: bark, ends, wax, plugs, other fungi; a note and photos.
// It never judges the log. Invariant: what nobody looked at stays not said, and what is typed survives a kill.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips, lines } from '../components/field.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { readDay, someDay, whichDay } from '../components/which-day.js';
import { Draft, keptDraft } from '../flow/draft.js';
import { save, showWrong, wrongAt } from '../flow/form.js';
import { back, finish, redraw } from '../flow/onshow.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { question } from '../lib/words-life.js';
import { BARK, COMPETITOR, COMPETITOR_HINT, CRACKS, EXTENT, PECKED, SAW_CAUTION, WAX } from '../lib/words-yard.js';
import { photos, which } from '../look/parts.js';
import { on as looking } from '../look/screen.js';

/** @import {Bark, Competitor, ConditionForm, Cracks, Extent, Pecked, Wax} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */
/** @import {Day} from '../components/which-day.js' */
/** @typedef {{bark: Bark | null, cracks: Cracks | null, wax: Wax | null, pecked: Pecked | null, competitor: Competitor | null, extent: Extent | null, photos: string[], note: string, day: Day}} Typed */
/** @typedef {FormView & {draft: Draft, form: ConditionForm, typed: Typed, request: string, restored: boolean, keeping: boolean, photoWrong: string}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = (/** @type {View} */ view) => `Wood of log ${view.form.row.tag}`;

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log }) {
  const key = `condition:${log}`;
  const form = await call('condition_form', { log });
  const kept = /** @type {{request: string, typed: Typed} | null} */ (await keptDraft(key));
  /** @type {Typed} */
  const blank = { bark: null, cracks: null, wax: null, pecked: null, competitor: null, extent: null, photos: [], note: '', day: someDay(form.today) };
  const typed = { ...blank, ...kept?.typed };
  const request = kept?.request ?? newRequest();
  const draft = new Draft(key, () => ({ about: form.row.tag, request, typed }));
  return { form, typed, request, restored: kept !== null, keeping: false, photoWrong: '', busy: false, wrong: null, draft };
}

/** @param {View} view */
export async function leave(view) {
  view.draft.stop();
  await view.draft.flush();
}

/** @param {View} view */
export function render(view) {
  const { typed, wrong } = view;
  const shared = /** @type {any} */ (view);
  return html`${head(title(view), { back: { label: 'Back, keeping what is entered', onBack: () => on.back(view) } })}
    ${trouble(wrong && !['day', 'note'].includes(wrong.field ?? '') ? wrong.text : '')}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      ${which(shared)}
      ${view.form.asks.length ? html`<p class="mind" role="status" id="asks">${question({ asks: view.form.asks, season: null }, view.form.row.tag)}</p>` : nothing}
      <p class="soft">Tap what you looked at; leave the rest. A second tap takes it away.</p>
      <section class="sheet group" aria-label="Bark, ends, wax and plugs">
        ${part(view, 'bark', 'Bark', BARK)}
        ${part(view, 'cracks', 'Cracks in the ends', CRACKS)}
        ${typed.cracks === 'wide' ? html`<p class="hint">Wide cracks let the wood dry and other fungi in: shade the ends, water, or wax them (common practice).</p>` : nothing}
        ${part(view, 'wax', 'Wax on the holes', WAX)}
        ${part(view, 'pecked', 'Plugs pecked out', PECKED)}
      </section>
      <section class="sheet group" aria-label="Other fungi">
        ${part(view, 'competitor', 'Another fungus', COMPETITOR, COMPETITOR_HINT)}
        <p class="hint">Names: published. What they tell: common practice, no source.</p>
        ${typed.competitor && typed.competitor !== 'none' ? html`${part(view, 'extent', 'How far', EXTENT)}
        <p class="mind" id="caution">Be sure of nothing by its looks alone: eat only what you planted. ${SAW_CAUTION}</p>` : nothing}
      </section>
      ${photos(shared, /** @type {any} */ (looking))}
      <section class="sheet group" aria-label="When, and a note">
        ${whichDay(typed.day, () => on.typed(view), wrongAt(wrong, 'day'))}
        ${lines({ name: 'note', label: 'Note', value: typed.note, wrong: wrongAt(wrong, 'note'), onInput: (note) => { typed.note = note; view.draft.note(); } })}
      </section>
    </form>`;
}

/**
 * @param {View} view
 * @param {'bark' | 'cracks' | 'wax' | 'pecked' | 'competitor' | 'extent'} name
 * @param {string} legend
 * @param {Record<string, string>} words
 * @param {Record<string, string>} [hints]
 */
function part(view, name, legend, words, hints) {
  const options = Object.entries(words).map(([value, label]) => ({ value, label, hint: hints?.[value] }));
  return html`<div @click=${(/** @type {Event} */ e) => on.again(e, view, name)}>${chips({ name, legend, options, value: view.typed[name], look: hints ? 'chips-wide' : '', onPick: (value) => on.part(view, name, value) })}</div>`;
}

/** @param {View} view */
export const foot = (view) => saveBar('Save what was found', view.busy || view.keeping);

export const on = {
  /** @param {View} view */
  back: (view) => back(link('log', { log: view.form.row.id })),

  /** @param {View} view */
  typed(view) {
    view.draft.note();
    redraw();
  },

  /**
   * @param {View} view
   * @param {'bark' | 'cracks' | 'wax' | 'pecked' | 'competitor' | 'extent'} name
   * @param {string | null} value
   */
  part(view, name, value) {
    Object.assign(view.typed, { [name]: value });
    if (view.typed.competitor === null || view.typed.competitor === 'none') view.typed.extent = null;
    if (view.wrong?.field === 'condition') view.wrong = null;
    on.typed(view);
  },

  /**
   * A tap on what is chosen already takes it away: it was not looked at.
   * @param {Event} event
   * @param {View} view
   * @param {'bark' | 'cracks' | 'wax' | 'pecked' | 'competitor' | 'extent'} name
   */
  again(event, view, name) {
    const input = event.target;
    if (!(input instanceof HTMLInputElement) || input.value !== view.typed[name]) return;
    on.part(view, name, null);
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async save(event, view) {
    event.preventDefault();
    if (view.keeping) return;
    const { day: when, note, ...found } = view.typed;
    const day = readDay(when, view.form.today);
    if (!day.ok) return showWrong(view, day.wrong);
    const log = view.form.row.id;
    const saved = await save(view, 'condition_add', { ...found, log, day: day.value, note: note.trim(), request: view.request, draft: view.draft.key });
    if (saved.kind === 'done') finish(link('log', { log }));
  },
};
