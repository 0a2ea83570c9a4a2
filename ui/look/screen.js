// A look at one log: a photo or more, what was seen, a note.
// It never alters a photo. Invariant: a photo that was kept is in the draft at once, so a kill cannot lose it.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call, keepPhoto, refused } from '../api/call.js';
import { chips, lines } from '../components/field.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { Draft, keptDraft } from '../flow/draft.js';
import { inOneText } from '../lib/explain.js';
import { save, showWrong, wrongAt } from '../flow/form.js';
import { back, finish, redraw } from '../flow/onshow.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { question } from '../lib/words-life.js';
import { WHEN } from '../lib/words-rounds.js';
import { photos, seen, which } from './parts.js';

/** @import {LookForm, Offered, RoundWhen, Stage} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */

/** @typedef {{photos: string[], seen: Stage | null, note: string, when: RoundWhen}} Typed */
/** @typedef {FormView & {draft: Draft, form: LookForm, typed: Typed, request: string, restored: boolean, keeping: boolean, photoWrong: string, othersTag: Offered | null}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = (/** @type {View} */ view) => `Look at log ${view.form.row.tag}`;

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log }) {
  const key = `look:${log}`;
  const form = await call('look_form', { log });
  const kept = /** @type {{request: string, typed: Typed} | null} */ (await keptDraft(key));
  /** @type {Typed} */
  const typed = { photos: [], seen: null, note: '', when: 'now', ...kept?.typed };
  const request = kept?.request ?? newRequest();
  const draft = new Draft(key, () => ({ about: form.row.tag, request, typed }));
  return { form, typed, request, restored: kept !== null, keeping: false, photoWrong: '', othersTag: null, busy: false, wrong: null, draft };
}

/** @param {View} view */
export async function leave(view) {
  view.draft.stop();
  await view.draft.flush();
}

/** @param {View} view */
export function render(view) {
  const ask = asked(view);
  const atField = view.wrong?.field && ['seen', 'note'].includes(view.wrong.field);
  return html`${head(title(view), { back: { label: 'Back, keeping what is entered', onBack: () => on.back(view) } })}
    ${trouble(view.wrong && !atField ? view.wrong.text : '')}
    <form class="form" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      ${which(view)}
      ${photos(view, on)}
      ${seen(view, on)}
      ${ask ? html`<p class="mind" id="tag-right" role="status">${ask} If so, save; if not, go back and find the right one.</p>` : nothing}
      <section class="sheet group" aria-label="When and note">
        ${chips({ name: 'when', legend: 'Seen', options: WHEN, value: view.typed.when, hint: view.typed.when === 'last_night' ? 'Kept for last night’s day, and not forecast from.' : undefined, onPick: (when) => on.when(view, when) })}
        ${lines({ name: 'note', label: 'Note', value: view.typed.note, wrong: wrongAt(view.wrong, 'note'), onInput: (value) => on.note(view, value) })}
      </section>
    </form>`;
}

/** @param {View} view */
const asked = (view) => (view.typed.seen === null || view.typed.seen === 'nothing' ? '' : question(view.form, view.form.row.tag));

/** @param {View} view */
export const foot = (view) => saveBar(asked(view) ? `Yes, it is log ${view.form.row.tag}: save` : 'Save the look', view.busy || view.keeping);

export const on = {
  /** @param {View} view */
  back: (view) => back(link('log', { log: view.form.row.id })),

  /** The camera may end the app: keep everything first. @param {View} view */
  opening: (view) => void view.draft.flush(),

  /**
   * @param {Event} event
   * @param {View} view
   */
  async photo(event, view) {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const file = input.files?.[0];
    if (!file || view.keeping) return;
    view.keeping = true;
    view.photoWrong = '';
    redraw();
    view.photoWrong = await kept(file, view);
    view.keeping = false;
    input.value = '';
    redraw();
  },

  /**
   * @param {View} view
   * @param {string} hash
   */
  leaveOut(view, hash) {
    view.typed.photos = view.typed.photos.filter((other) => other !== hash);
    view.draft.note();
    redraw();
  },

  /**
   * @param {View} view
   * @param {Stage} stage
   */
  seen(view, stage) {
    view.typed.seen = stage;
    if (view.wrong?.field === 'seen') view.wrong = null;
    view.draft.note();
    redraw();
  },

  /**
   * @param {View} view
   * @param {RoundWhen} when
   */
  when(view, when) {
    view.typed.when = when;
    view.draft.note();
    redraw();
  },

  /**
   * @param {View} view
   * @param {string} note
   */
  note(view, note) {
    view.typed.note = note;
    view.draft.note();
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async save(event, view) {
    event.preventDefault();
    if (view.keeping) return;
    const { seen: stage, photos: hashes, note, when } = view.typed;
    if (stage === null) return showWrong(view, { field: 'seen', text: 'It is not said yet what you saw. Nothing entered is gone. Tap a picture; “nothing” counts too.' });
    const saved = await save(view, 'look_add', { log: view.form.row.id, seen: stage, photos: hashes, note: note.trim(), when, request: view.request, draft: view.draft.key });
    if (saved.kind === 'done') finish(link('log', { log: view.form.row.id }));
  },
};

/**
 * Checks the size before reading, keeps the photo, and writes the draft at once.
 * @param {File} file
 * @param {View} view
 * @returns {Promise<string>} why it was not kept, empty when it was
 */
async function kept(file, view) {
  if (file.size > view.form.max_bytes) {
    return inOneText({ code: 'invalid', message: '', field: 'photo', detail: { why: 'too_big_bytes', max_bytes: view.form.max_bytes } });
  }
  try {
    const { hash } = await keepPhoto(file);
    if (!view.typed.photos.includes(hash)) view.typed.photos.push(hash);
    view.draft.note();
    await view.draft.flush();
    void whose(hash, view);
    return '';
  } catch (error) {
    return inOneText(refused(error));
  }
}

/**
 * Says so when the tag in a photo is another log's; the look waits for nothing.
 * @param {string} hash
 * @param {View} view
 */
async function whose(hash, view) {
  try {
    const { logs } = await call('photo_find', { hash });
    const mine = logs.length === 0 || logs.some(({ log }) => log === view.form.row.id);
    view.othersTag = mine ? null : logs[0];
    redraw();
  } catch {
    // Whose it is can be asked again from the photo itself; the photo is kept.
  }
}
