// Photos from the camera or from files, one or hundreds: kept one after the other, each finds its log by its tag.
// It never ties a photo by itself. Invariant: a photo that is kept stays kept, whatever stops the rest.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call, keepPhoto, refused } from '../api/call.js';
import { head, trouble } from '../components/frame.js';
import { keptDraft, dropDraft } from '../flow/draft.js';
import { back, go, redraw, reload, write } from '../flow/onshow.js';
import { inOneText } from '../lib/explain.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { cards, choose, loose, progress, putAll } from './parts.js';

/** @import {LooseView, PhotoFound} from '../api/types.js' */

/**
 * A photo on its way into the record.
 * @typedef {object} Coming
 * @property {string} name of its file
 * @property {string} hash empty until it is kept
 * @property {PhotoFound | null} found
 * @property {string} wrong why it was not kept
 * @property {string} unshown
 * @property {string} to the log it is put to; empty: to the loose ones
 * @property {boolean} put it is in the record
 */

/** @typedef {LooseView & {coming: Coming[], files: number, at: number, stop: boolean, busy: boolean, wrong: string, tie: Record<string, string>, gone: boolean}} View */

const KEY = 'photos';

export const topics = /** @type {string[]} */ ([]);
export const title = () => 'Photos';

/** @returns {Promise<View>} */
export async function load() {
  const view = await call('loose_list', {});
  const kept = /** @type {{coming: Coming[]} | null} */ (await keptDraft(KEY));
  return { ...view, coming: (kept?.coming ?? []).filter(({ put }) => !put), files: 0, at: 0, stop: false, busy: false, wrong: '', tie: {}, gone: false };
}

/** @param {View} view */
export function leave(view) {
  view.gone = true;
  view.stop = true;
}

/** @param {View} view */
export function render(view) {
  return html`${head('Photos', { back: { label: 'Back', onBack: on.back } })}
    ${trouble(view.wrong)}
    ${choose(view, on)}
    ${progress(view, on)}
    ${putAll(view, on)}
    ${cards(view, on)}
    ${view.busy ? nothing : loose(view, on)}`;
}

/** @param {View} view */
async function remember(view) {
  const coming = view.coming.filter(({ hash, put }) => hash && !put);
  if (coming.length === 0) return dropDraft(KEY);
  await call('draft_set', { key: KEY, value: JSON.stringify({ about: '', coming }) });
}

/**
 * Keeps one, then asks whose it is.
 * @param {File} file
 * @param {View} view
 */
async function one(file, view) {
  /** @type {Coming} */
  const photo = { name: file.name, hash: '', found: null, wrong: '', unshown: '', to: '', put: false };
  try {
    if (file.size > view.max_bytes) throw { code: 'invalid', message: '', field: 'photo', detail: { why: 'too_big_bytes', max_bytes: view.max_bytes } };
    const kept = await keepPhoto(file);
    Object.assign(photo, { hash: kept.hash, unshown: kept.unshown ?? '' });
    if (view.coming.some(({ hash }) => hash === kept.hash)) return;
    photo.found = await call('photo_find', { hash: kept.hash });
    const { logs, tied, loose: isLoose } = photo.found;
    photo.put = tied.length > 0 || (isLoose && logs.length === 0);
    photo.to = logs[0]?.log ?? '';
  } catch (error) {
    photo.wrong = inOneText(refused(error));
  }
  view.coming.push(photo);
}

export const on = {
  back: () => back(link('yard')),

  /**
   * @param {Event} event
   * @param {View} view
   */
  async files(event, view) {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const files = [...(input.files ?? [])];
    if (files.length === 0 || view.busy) return;
    Object.assign(view, { busy: true, stop: false, files: files.length, at: 0, wrong: '' });
    redraw();
    for (const file of files) {
      if (view.stop) break;
      await one(file, view);
      view.at += 1;
      if (view.at % 10 === 0 || view.at === files.length) await remember(view);
      if (!view.gone) redraw();
    }
    await remember(view);
    view.busy = false;
    input.value = '';
    if (!view.gone) redraw();
  },

  /** @param {View} view */
  stop(view) {
    view.stop = true;
    redraw();
  },

  /**
   * @param {View} view
   * @param {Coming} photo
   * @param {string} to
   */
  to(view, photo, to) {
    photo.to = to;
    void remember(view);
    redraw();
  },

  /**
   * On to a look at the log, with this photo in it already.
   * @param {View} view
   * @param {Coming} photo
   * @param {string} log
   */
  async look(view, photo, log) {
    const key = `look:${log}`;
    const draft = /** @type {{request: string, about: string, typed: {photos: string[], seen: string | null, note: string}} | null} */ (await keptDraft(key));
    const typed = draft?.typed ?? { photos: [], seen: null, note: '' };
    const about = view.logs.find((row) => row.log === log)?.tag ?? '';
    if (!typed.photos.includes(photo.hash)) typed.photos.push(photo.hash);
    await call('draft_set', { key, value: JSON.stringify({ about, request: draft?.request ?? newRequest(), typed }) });
    photo.put = true;
    await remember(view);
    void go(link('look', { log }));
  },

  /**
   * Puts all that wait where they belong, some at a time.
   * @param {View} view
   */
  async putAll(view) {
    if (view.busy) return;
    view.busy = true;
    view.wrong = '';
    redraw();
    const waiting = view.coming.filter(({ hash, put }) => hash && !put);
    try {
      for (let i = 0; i < waiting.length; i += view.together) {
        const some = waiting.slice(i, i + view.together);
        await write('photo_add', { photos: some.map(({ hash, to }) => ({ hash, log: to || null })), request: newRequest() });
        for (const photo of some) photo.put = true;
      }
    } catch (error) {
      view.wrong = inOneText(refused(error));
    }
    await remember(view);
    view.busy = false;
    if (view.wrong) return redraw();
    await reload();
  },

  /**
   * @param {View} view
   * @param {string} entry
   * @param {string} log
   */
  chooseTie(view, entry, log) {
    view.tie[entry] = log;
    redraw();
  },

  /**
   * @param {View} view
   * @param {string} entry
   */
  async tie(view, entry) {
    try {
      await write('photo_tie', { entry, log: view.tie[entry], request: newRequest() });
      await reload();
    } catch (error) {
      view.wrong = inOneText(refused(error));
      redraw();
    }
  },
};
