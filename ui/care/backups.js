// The backups in Care: the last good one, where they go, and every copy one can go back to.
// They never call the backend. Invariant: a copy is restored only from its own page, which says what would be lost.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { text } from '../components/field.js';
import { icon } from '../components/icons.js';
import { work } from '../components/work.js';
import { age, copyWords, holds, takenBefore } from '../lib/care.js';
import { capital, count, when } from '../lib/format.js';
import { foundWords } from '../lib/jobs.js';
import { link } from '../lib/router.js';

/** @import {BackupRow, JobView} from '../api/types.js' */
/** @import {Work} from '../flow/job.js' */
/** @import {View} from './screen.js' */

/**
 * @param {View} view
 * @param {{backup: (view: View) => void, stop: (work: Work) => void, typed: (view: View, folder: string) => void, folder: (view: View, folder: string | null) => void}} on
 */
export function backup(view, on) {
  const { care, today } = view;
  if (!care) return nothing;
  const { last, auto, folder } = care.backup;
  return html`<section class="sheet" aria-labelledby="backup-title">
    <h2 id="backup-title">Backup</h2>
    <p class="care-state" id="backup-last">${last ? capital(age(last.at, today)) : 'None yet'}</p>
    ${last ? html`<p class="soft">The last one that was read back and found whole: ${holds(last)}.</p>` : nothing}
    ${care.backup.old ? html`<p class="wrong" id="backup-old">${old(view)}</p>` : nothing}
    <p class="soft">One is made by itself about once a day when Shadeyard starts and something is new. Old ones are thinned: days, then weeks, then months.</p>
    ${work({ name: 'backup', label: 'Back up now', work: view.backing, words: BACKUP, onBegin: () => on.backup(view), onStop: () => on.stop(view.backing), off: care.reading_only !== null })}
    ${view.backing.job?.found.length && view.backing.job.state === 'done' ? html`<ul>${foundWords(view.backing.job.found).map((line) => html`<li>${line}</li>`)}</ul>` : nothing}
    <details class="where" id="where-backups" ?open=${view.folderWrong !== ''}><summary>Where they are kept</summary>
      <p>${auto ? 'Beside the yard, on this device: good against a slip, no help when the device is lost. Choose a folder on a stick, a card or another drive.' : html`In <span class="path">${folder}</span>`}</p>
      <div class="care-folder">
        ${text({ name: 'folder', label: 'Folder for backups', value: view.folder, hint: 'Its whole path, from the first slash on.', wrong: view.folderWrong, onInput: (value) => on.typed(view, value) })}
        <p class="acts"><button type="button" class="button" id="folder-save" @click=${() => on.folder(view, view.folder.trim())}>Keep them there</button>
        ${auto ? nothing : html`<button type="button" class="button button-quiet" id="folder-auto" @click=${() => on.folder(view, null)}>Keep them beside the yard</button>`}</p>
      </div>
    </details>
  </section>`;
}

/** @param {View} view */
function old({ old: days, care }) {
  const since = care?.backup.last ? 'have had no good backup' : 'have never been backed up';
  return days === null || days === 0 ? `What was written lately and before: ${since.replace('have', 'has')}.` : `Your last ${count(days, 'day')} of work ${since}.`;
}

const BACKUP = {
  running: 'Copying, with the photos',
  done: (/** @type {JobView} */ job) => (job.found.length ? 'The records are backed up and were read back whole; not every photo could be.' : 'Backed up, read back and found whole.'),
  stopped: 'Stopped. The backups that were there stay as they are.',
  failed: 'No backup was made.',
};

/** @param {View} view */
export function copies({ backups, care, today }) {
  const snapshots = care?.snapshots ?? [];
  return html`<section class="sheet" aria-labelledby="copies-title">
    <h2 id="copies-title">Going back</h2>
    ${backups.length + snapshots.length === 0 ? html`<p class="soft">There is no copy to go back to yet. A backup makes one.</p>` : html`<p class="soft">Choose a copy; its page says what you would lose before anything is done.</p>`}
    ${backups.length ? html`<ul class="plain" id="backups">${backups.slice(0, FEW).map((row) => line(row, 'backups', today))}</ul>
      ${backups.length > FEW ? html`<details class="where"><summary>${backups.length - FEW} older ones</summary><ul class="plain">${backups.slice(FEW).map((row) => line(row, 'backups', today))}</ul></details>` : nothing}` : nothing}
    ${snapshots.length ? html`<details class="where" id="snapshots"><summary>${snapshots.length === 1 ? 'One snapshot' : `${snapshots.length} snapshots`}, taken before something that changed much</summary>
      <ul class="plain">${snapshots.map((row) => line(row, 'snapshots', today))}</ul></details>` : nothing}
  </section>`;
}

const FEW = 3;

/**
 * @param {BackupRow} row
 * @param {'backups' | 'snapshots'} from
 * @param {string} today
 */
function line(row, from, today) {
  const why = takenBefore(row.name);
  return html`<li><a class="way-line" data-copy=${row.name} href=${link('copy', { from, name: row.name })}>
    <span><strong>${capital(when(row.at, today))}</strong> <span class="soft">${why ? `${capital(why)}: ` : ''}${copyWords(row)}</span></span>${icon('more')}</a></li>`;
}
