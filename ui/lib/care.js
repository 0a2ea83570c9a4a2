// The health of the yard in words: backups and their age, what a way back would lose, devices, bytes.
// It never decides what is old; the backend does. Invariant: a copy that was not read back is never called good.

import { bytes, clockTime, count, dayName, daysAgo, listed, when } from './format.js';

/** @import {BackupRow, Counts, DeviceRow, RestoreView} from '../api/types.js' */

/**
 * How long ago, in words.
 * @param {string} at
 * @param {string} today
 */
export function age(at, today) {
  const days = daysAgo(at.slice(0, 10), today);
  if (days <= 1) return `${dayName(at.slice(0, 10), today)} at ${clockTime(at)}`;
  return `${when(at, today)}, ${count(days, 'day')} ago`;
}

/** @param {Pick<Counts, 'acts' | 'logs' | 'entries' | 'photos'>} counts */
export function holds({ logs, entries, photos }) {
  return listed([count(logs, 'log'), count(entries, 'entry', 'entries'), count(photos, 'photo')]);
}

/** @param {BackupRow} row */
export function copyWords(row) {
  if (row.sound === false) return 'cannot be read';
  return `${holds(row)}, ${bytes(row.bytes)}`;
}

/** What a copy was taken before, by its name. @param {string} name */
export function takenBefore(name) {
  if (name.startsWith('before-merge')) return 'before a merge';
  if (name.startsWith('before-restore')) return 'before going back to a copy';
  if (name.startsWith('before-archive')) return 'before an archive was taken in';
  if (name.startsWith('before-version')) return 'before a newer version changed the register';
  return '';
}

/** @param {RestoreView} view */
export function wouldLose({ lost_count: n, now }) {
  if (now === null) return 'What is in the damaged yard cannot be counted, so it cannot be said what would be lost.';
  if (n === 0) return 'You would lose nothing: all that was done is in this copy.';
  return `You would lose ${count(n, 'act')}, the newest:`;
}

/** @param {number} n */
export function photosMissing(n) {
  if (n === 0) return 'All its photos are here or beside the backups.';
  return `${count(n, 'photo')} of it ${n === 1 ? 'is' : 'are'} neither here nor beside the backups. ${n === 1 ? 'Its place stays' : 'Their places stay'} in the record and ${n === 1 ? 'fills' : 'fill'} again when a device that has ${n === 1 ? 'it' : 'them'} is merged.`;
}

/**
 * @param {DeviceRow} row
 * @param {string} today
 */
export function deviceWords(row, today) {
  return `${count(row.acts, 'act')}, last ${row.mine ? 'one' : 'heard of'} ${when(row.last, today)}`;
}
