// A sighting outside rounds: an animal, or a fungus that competes for a log; with photos.
// It never judges the log; the backend does. Invariant: a photo that was kept is in the draft at once.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call, keepPhoto, refused } from '../api/call.js';
import { chips, lines, select, text } from '../components/field.js';
import { sightedDrawing } from '../components/competitors.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { Draft, keptDraft } from '../flow/draft.js';
import { save, showWrong, wrongAt } from '../flow/form.js';
import { back, finish, redraw } from '../flow/onshow.js';
import { inOneText } from '../lib/explain.js';
import { capital } from '../lib/format.js';
import { readCount } from '../lib/numbers.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { photos } from '../look/parts.js';
import { CAUTION, DID, EXTENT, HID, SIGHTED, SIGHTED_NAME, TELLS, WHEN } from '../lib/words-rounds.js';

/** @import {Did, Reach, Hid, SightingForm, Tells, Sighted} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */
/** @typedef {{what: Sighted | null, when: 'now' | 'last_night', spot: string, n: string, extent: Reach | null, hid: Hid[], did: Did[], photos: string[], note: string}} Typed */
/** @typedef {FormView & {draft: Draft, form: SightingForm, typed: Typed, request: string, keeping: boolean, photoWrong: string}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = (/** @type {View} */ view) => (view.form.row ? `Sighting on log ${view.form.row.tag}` : 'Sighting in the yard');

/** What a competitor tells. @type {Partial<Record<Sighted, Tells>>} */
const TELLING = { trichoderma: 'too_wet', crusts: 'too_dry', schizophyllum: 'too_dry', stereum: 'may_be_lost', trametes: 'may_be_lost', other_fungus: 'may_be_lost' };

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log }) {
  const key = `sighting:${log ?? 'yard'}`;
  const form = await call('sighting_form', { log: log ?? null });
  const kept = /** @type {{request: string, typed: Typed} | null} */ (await keptDraft(key));
  /** @type {Typed} */
  const typed = { what: null, when: 'now', spot: '', n: '', extent: null, hid: [], did: [], photos: [], note: '', ...kept?.typed };
  const request = kept?.request ?? newRequest();
  const draft = new Draft(key, () => ({ about: form.row?.tag ?? '', request, typed }));
  return { form, typed, request, keeping: false, photoWrong: '', busy: false, wrong: null, draft };
}

/** @param {View} view */
export async function leave(view) {
  view.draft.stop();
  await view.draft.flush();
}

/** @param {View} view */
export function render(view) {
  const { form, typed, wrong } = view;
  const competitor = typed.what !== null && typed.what in TELLING;
  const options = form.what.filter((what) => form.row || !(what in TELLING)).map((what) => ({
    value: what, label: html`${sightedDrawing(what)}<span>${capital(SIGHTED[what])}</span>`, hint: SIGHTED_NAME[what],
  }));
  return html`${head(title(view), { back: { label: 'Back, keeping what is entered', onBack: () => on.back(view) } })}
    ${trouble(wrong && !['what', 'n', 'note'].includes(wrong.field ?? '') ? wrong.text : '')}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      ${photos(view, on)}
      <section class="sheet group" aria-label="What was seen">
        ${chips({ name: 'what', legend: 'What did you see?', options, value: typed.what, wrong: wrongAt(wrong, 'what'), look: 'chips-stages', onPick: (what) => on.typed(view, { what }) })}
        ${competitor && typed.what ? html`<p class="mind" id="tells">${TELLS[/** @type {Tells} */ (TELLING[typed.what])]}</p>` : nothing}
        ${competitor ? chips({ name: 'extent', legend: 'How much of the log', options: pairs(EXTENT), value: typed.extent, onPick: (extent) => on.typed(view, { extent }) }) : text({ name: 'n', label: 'How many', value: typed.n, keys: 'numeric', hint: typed.n.trim() === '' ? 'Empty: kept as not counted.' : undefined, wrong: wrongAt(wrong, 'n'), onInput: (n) => on.typed(view, { n }) })}
        ${chips({ name: 'when', legend: 'When', options: WHEN, value: typed.when, onPick: (when) => on.typed(view, { when }) })}
        ${form.row || form.spots.length === 0 ? nothing : select({ name: 'spot', label: 'Where', value: typed.spot, options: [{ value: '', label: 'not said' }, ...form.spots.map(([value, label]) => ({ value, label }))], onInput: (spot) => on.typed(view, { spot }) })}
      </section>
      ${typed.what === 'slugs' ? marks(view, 'hid', 'Where they hid', HID) : nothing}
      ${typed.what && !competitor ? html`${marks(view, 'did', 'What was done', DID)}<p class="mind">${typed.did.includes('iron_phosphate') || typed.did.includes('barrier') ? CAUTION.bait : typed.what === 'slugs' ? CAUTION.salt : CAUTION.animals}</p>` : nothing}
      <section class="sheet group" aria-label="Note">${lines({ name: 'note', label: 'Note', value: typed.note, wrong: wrongAt(wrong, 'note'), onInput: (note) => on.typed(view, { note }) })}</section>
    </form>`;
}

/** @template {string} V @param {Record<V, string>} words */
function pairs(words) {
  return /** @type {{value: V, label: string}[]} */ (Object.entries(words).map(([value, label]) => ({ value, label })));
}

/** @param {View} view @param {'hid' | 'did'} field @param {string} legend @param {Record<string, string>} words */
function marks(view, field, legend, words) {
  const chosen = /** @type {string[]} */ (view.typed[field]);
  return html`<fieldset class="sheet group spot-choice"><legend class="legend">${legend}</legend>
    ${Object.entries(words).map(([word, label]) => html`<label class="check-line"><input type="checkbox" name=${field} value=${word} .checked=${chosen.includes(word)} @change=${() => on.typed(view, { [field]: chosen.includes(word) ? chosen.filter((w) => w !== word) : [...chosen, word] })} /> <span>${label}</span></label>`)}
  </fieldset>`;
}

/** @param {View} view */
export const foot = (view) => saveBar('Save the sighting', view.busy || view.keeping);

/** @param {View} view */
function home(view) {
  return view.form.row ? link('log', { log: view.form.row.id }) : link('rounds');
}

export const on = {
  /** @param {View} view */
  back: (view) => back(home(view)),
  /** The camera may end the app: keep everything first. @param {View} view */
  opening: (view) => void view.draft.flush(),

  /** @param {Event} event @param {View} view */
  async photo(event, view) {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const file = input.files?.[0];
    if (!file || view.keeping) return;
    view.keeping = true;
    view.photoWrong = '';
    redraw();
    try {
      if (file.size > view.form.max_bytes) throw { code: 'invalid', message: '', field: 'photo', detail: { why: 'too_big_bytes', max_bytes: view.form.max_bytes } };
      const { hash } = await keepPhoto(file);
      if (!view.typed.photos.includes(hash)) view.typed.photos.push(hash);
      view.draft.note();
      await view.draft.flush();
    } catch (error) {
      view.photoWrong = inOneText(refused(error));
    }
    view.keeping = false;
    input.value = '';
    redraw();
  },

  /** @param {View} view @param {string} hash */
  leaveOut: (view, hash) => on.typed(view, { photos: view.typed.photos.filter((other) => other !== hash) }),

  /** @param {View} view @param {Partial<Typed>} words */
  typed(view, words) {
    Object.assign(view.typed, words);
    view.draft.note();
    redraw();
  },

  /** @param {Event} event @param {View} view */
  async save(event, view) {
    event.preventDefault();
    const { typed, form } = view;
    if (view.keeping) return;
    if (typed.what === null) return showWrong(view, { field: 'what', text: 'It is not said yet what you saw. Nothing entered is gone. Tap a picture.' });
    const n = readCount(typed.n, 'animals');
    if (!n.ok) return showWrong(view, { field: 'n', text: n.why });
    const saved = await save(view, 'sighting_add', {
      log: form.row?.id ?? null, spot: form.row ? null : typed.spot || null, what: typed.what, when: typed.when, n: n.value, extent: typed.extent,
      hid: typed.what === 'slugs' ? typed.hid : [], did: typed.did, photos: typed.photos, note: typed.note.trim(), request: view.request, draft: view.draft.key,
    });
    if (saved.kind === 'done') finish(home(view));
  },
};
