// Care: how the register is, its backups, what was shared, devices, bytes, and details for a report.
// It never mends by itself. Invariant: it can be shown when nothing can be written, and even when part of the register cannot be read.

import { html } from '../vendor/lit-html/lit-html.js';
import { call, refused } from '../api/call.js';
import { head } from '../components/frame.js';
import { begin, follow, stop, workOf } from '../flow/job.js';
import { back, redraw, tell, tellTrouble } from '../flow/onshow.js';
import { stands } from '../flow/standing.js';
import { inOneText } from '../lib/explain.js';
import { count } from '../lib/format.js';
import { link } from '../lib/router.js';
import { ALL } from '../lib/topics.js';
import { backup, copies } from './backups.js';
import { details, devices, health, open, sharing, storage, unreadable } from './parts.js';

/** @import {Refused} from '../api/call.js' */
/** @import {BackupRow, CareView, Contradiction, Twins} from '../api/types.js' */
/** @import {Work} from '../flow/job.js' */

/**
 * @typedef {object} View
 * @property {CareView | null} care null when the register cannot even tell this
 * @property {Refused | null} trouble why
 * @property {BackupRow[]} backups
 * @property {string} today
 * @property {number | null} old days without a good backup, when too many
 * @property {Twins[]} twins
 * @property {Contradiction[]} clashes
 * @property {Work} check
 * @property {Work} backing
 * @property {string} folder as typed
 * @property {string} folderWrong
 * @property {string} details empty until asked for
 * @property {boolean} copied
 * @property {boolean} gone
 */

export const topics = ALL;
export const title = () => 'Care';

/** @returns {Promise<View>} */
export async function load() {
  const [asked, listed, chores, twins, clashes] = await Promise.all([
    orNot(call('care_show', {})), orNot(call('backup_list', {})), orNot(call('chores_show', {})),
    orNot(call('twins_show', {})), orNot(call('contradictions_show', {})),
  ]);
  if (asked.trouble && !listed.reply?.backups.length) throw asked.trouble;
  const care = asked.reply;
  if (care) stands(care);
  /** @type {View} */
  const view = {
    care, trouble: asked.trouble, backups: listed.reply?.backups ?? [],
    today: chores.reply?.today ?? new Date().toISOString().slice(0, 10), old: chores.reply?.backup_old ?? null,
    twins: twins.reply?.twins ?? [], clashes: clashes.reply?.contradictions ?? [],
    check: workOf('check'), backing: workOf('backup'), folder: care && !care.backup.auto ? care.backup.folder : '', folderWrong: '', details: '', copied: false, gone: false,
  };
  void follow(view, view.check, () => freshen(view));
  void follow(view, view.backing, () => freshen(view));
  return view;
}

/**
 * A damaged register may refuse one question and answer the next.
 * @template T
 * @param {Promise<T>} asked
 * @returns {Promise<{reply: T | null, trouble: Refused | null}>}
 */
async function orNot(asked) {
  try {
    return { reply: await asked, trouble: null };
  } catch (error) {
    return { reply: null, trouble: refused(error) };
  }
}

/**
 * @param {string | null} folder
 * @param {number} there copies in it already
 * @param {boolean} first whether one is made now
 */
function movedTo(folder, there, first) {
  const where = folder === null ? 'From now on backups are kept beside the yard.' : 'From now on backups go into the folder you chose.';
  if (there > 0) return `${where} It holds ${count(there, 'copy', 'copies')} to go back to.`;
  return first ? `${where} The first one is made now.` : where;
}

/** @param {View} view */
export function leave(view) {
  view.gone = true;
}

/** @param {View} view */
export function render(view) {
  return html`${head('Care', { back: { label: 'Back', onBack: on.back } })}
    ${open(view)}
    ${view.care ? health(view, on) : unreadable(view)}
    ${view.care ? backup(view, on) : ''}
    ${copies(view)}
    ${view.care ? [sharing(view), devices(view), storage(view), details(view, on)] : ''}`;
}

/**
 * Shows what has changed without leaving the screen.
 * @param {View} view
 */
async function freshen(view) {
  const fresh = await load();
  const { check, backing, folder, folderWrong, details: text, copied } = view;
  fresh.gone = true;
  if (!view.gone) Object.assign(view, fresh, { check, backing, folder, folderWrong, details: text, copied, gone: false });
  redraw();
}

export const on = {
  back: () => back(link('settings')),

  /** @param {View} view */
  check: (view) => void begin(view, view.check, () => call('register_check', {}), () => freshen(view)),

  /** @param {View} view */
  backup: (view) => void begin(view, view.backing, () => call('backup_now', {}), () => freshen(view)),

  /** @param {Work} work */
  stop: (work) => void stop(work),

  /**
   * @param {View} view
   * @param {string} folder
   */
  typed(view, folder) {
    view.folder = folder;
  },

  /**
   * @param {View} view
   * @param {string | null} folder null: beside the register
   */
  async folder(view, folder) {
    view.folderWrong = folder === '' ? 'The folder is empty. Nothing was changed. Write its whole path, or keep the backups beside the yard.' : '';
    if (view.folderWrong) return redraw();
    try {
      await call('backup_folder', { folder });
      view.folder = folder ?? '';
      await freshen(view);
      const first = view.backups.length === 0 && (view.care?.acts ?? 0) > 0;
      tell(movedTo(folder, view.backups.length, first));
      if (first) on.backup(view);
    } catch (error) {
      view.folderWrong = inOneText(refused(error));
      redraw();
    }
  },

  /** @param {View} view */
  async details(view) {
    try {
      view.details = (await call('details_copy', {})).text;
      redraw();
    } catch (error) {
      tellTrouble(error);
    }
  },

  /** @param {View} view */
  async copy(view) {
    try {
      await navigator.clipboard.writeText(view.details);
      view.copied = true;
    } catch {
      const field = document.getElementById('details-text');
      if (field instanceof HTMLTextAreaElement) field.select();
      tell('It could not be copied by itself. The text is marked: copy it with the system’s own copy.');
    }
    redraw();
  },
};
