// The archive: everything in one file of open formats, written to a folder and read from a file.
// It never opens what it did not look over. Invariant: an archive is taken in only after it was said what is in it.

import { html } from '../vendor/lit-html/lit-html.js';
import { call, refused } from '../api/call.js';
import { head } from '../components/frame.js';
import { begin, follow, isRunning, stop, workOf } from '../flow/job.js';
import { back, redraw } from '../flow/onshow.js';
import { showWrong } from '../flow/form.js';
import { inOneText } from '../lib/explain.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { reading, writing } from './parts.js';

/** @import {ArchiveView, JobView} from '../api/types.js' */
/** @import {Wrong} from '../flow/form.js' */
/** @import {Work} from '../flow/job.js' */

/** @typedef {{folder: string, file: string, seen: ArchiveView | null, looking: boolean, wrong: Wrong | null, out: Work, into: Work, request: string, gone: boolean}} View */

export const topics = /** @type {string[]} */ ([]);
export const title = () => 'Archive';

/** What was typed stays while the app is open. */
const typed = { folder: '', file: '' };

/** @returns {Promise<View>} */
export async function load() {
  /** @type {View} */
  const view = { ...typed, seen: null, looking: false, wrong: null, out: workOf('archive-write'), into: workOf('archive-read'), request: newRequest(), gone: false };
  void follow(view, view.out);
  void follow(view, view.into, (job) => on.ended(view, job));
  return view;
}

/** @param {View} view */
export function leave(view) {
  view.gone = true;
}

/** @param {View} view */
export function render(view) {
  return html`${head('Archive', { back: { label: 'Back', onBack: on.back } })}
    ${writing(view, on)}
    ${reading(view, on)}`;
}

export const on = {
  back: () => back(link('care')),

  /**
   * @param {View} view
   * @param {'folder' | 'file'} field
   * @param {string} value
   */
  typed(view, field, value) {
    view[field] = value;
    typed[field] = value;
    if (field === 'file' && view.seen) {
      view.seen = null;
      redraw();
    }
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  write(event, view) {
    event.preventDefault();
    if (isRunning(view.out)) return;
    const folder = view.folder.trim();
    view.wrong = null;
    if (!folder.startsWith('/') && !/^[A-Za-z]:/.test(folder)) return showWrong(view, { field: 'folder', text: 'This is not the whole path of a folder. Nothing was written. Write it from the first slash on.' });
    void begin(view, view.out, () => call('archive_write', { folder }));
  },

  /**
   * @param {Event} event
   * @param {View} view
   */
  async look(event, view) {
    event.preventDefault();
    if (view.looking || isRunning(view.into)) return;
    Object.assign(view, { looking: true, wrong: null, seen: null, into: workOf('archive-read') });
    redraw();
    try {
      view.seen = await call('archive_preview', { file: view.file.trim() });
      view.looking = false;
      redraw();
    } catch (error) {
      view.looking = false;
      showWrong(view, { field: 'file', text: inOneText(refused(error)) });
    }
  },

  /** @param {View} view */
  read(view) {
    const file = view.file.trim();
    void begin(view, view.into, () => call('archive_read', { file, request: view.request }), (job) => on.ended(view, job));
  },

  /**
   * @param {View} view
   * @param {JobView} job
   */
  ended(view, job) {
    view.request = newRequest();
    if (job.state === 'done') view.seen = null;
  },

  /** @param {Work} work */
  stop: (work) => void stop(work),
};
