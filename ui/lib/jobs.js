// How far long work is and what came of it, and what was found on the way, as sentences.
// It never starts or stops anything. Invariant: every line the backend can find has words here; a new one is shown as it is.

import { count, listed } from './format.js';
import { failedJob } from './explain.js';

/** @import {JobView} from '../api/types.js' */

/**
 * @typedef {object} JobWords
 * @property {string} running what is being done, such as `Checking`
 * @property {(job: JobView) => string} done
 * @property {string} stopped
 * @property {string} failed said before the reason
 */

/**
 * @param {JobView} job
 * @param {JobWords} words
 */
export function jobWords(job, words) {
  if (wasStopped(job)) return words.stopped;
  switch (job.state) {
    case 'running': return job.total > 1 ? `${words.running}, ${job.done} of ${job.total}…` : `${words.running}…`;
    case 'failed': return `${words.failed} ${failedJob(job.found.at(-1) ?? '')}`;
    default: return words.done(job);
  }
}

/** @param {JobView} job */
export function wasStopped(job) {
  return job.state === 'cancelled' || (job.state === 'failed' && job.found.at(-1) === 'conflict: cancelled');
}

/**
 * What a job carries as its result, when that is an object.
 * @param {JobView} job
 * @returns {Record<string, number>}
 */
export function resultOf(job) {
  try {
    return JSON.parse(job.result ?? '{}');
  } catch {
    return {};
  }
}

/** What the tables of the register keep. @type {Record<string, string>} */
const TABLES = {
  act: 'the journal of acts', field: 'what things are', log: 'the logs', log_state: 'the state of the logs', spot: 'the spots', strain: 'the strains', entry: 'the entries', look: 'the looks',
  picking: 'the pickings', check: 'the night rounds’ checks', round: 'the night rounds', ending: 'the endings', photo: 'the photos’ places', measure: 'the caps’ widths', blob: 'the list of photos', draft: 'unfinished forms', setting: 'the settings',
  move: 'the moves', condition: 'what was found on the wood', tending: 'what was done for logs', searched: 'what is found by words', search: 'the index of words',
  register: 'its own outline',
};

/** A device as people tell it from another. @param {string} device */
export function deviceName(device) {
  return `device ${device.slice(-6)}`;
}

/** @type {[RegExp, (whole: string[]) => string][]} */
const LINES = [
  [/^missing ([0-9a-f]{16,})$/, (all) => `${count(all.length, 'photo')} ${all.length === 1 ? 'is' : 'are'} missing from the yard folder: ${named(all)}. A backup or the other device may still have ${all.length === 1 ? 'it' : 'them'}.`],
  [/^swapped ([0-9a-f]{16,})$/, (all) => `${count(all.length, 'photo')} ${all.length === 1 ? 'is' : 'are'} no longer what the camera wrote: ${named(all)}. A backup or the other device may still have ${all.length === 1 ? 'it' : 'them'} whole.`],
  [/^missing (.+)$/, (all) => `Not in the file although it is listed: ${all.join(', ')}.`],
  [/^changed (.+)$/, (all) => `Changed since it was written, so passed over: ${all.join(', ')}.`],
  [/^passed over (.+)$/, (all) => `${count(all.length, 'file')} ${all.length === 1 ? 'is' : 'are'} not complete yet and ${all.length === 1 ? 'was' : 'were'} passed over: ${all.join(', ')}.`],
  [/^clock ahead (.+)$/, (all) => `The clock of ${listed(all.map(deviceName))} is more than a day ahead. What it wrote is put aside until the clocks agree; nothing of it is lost.`],
  [/^two copies (.+)$/, (all) => `${listed(all.map(deviceName))} exists twice: two copies of one yard were both written to. Nothing of it was taken in. Restore a backup on one of the two: that gives it a name of its own.`],
  [/^waiting (\d+)$/, ([n]) => `${count(Number(n), 'act')} ${n === '1' ? 'waits' : 'wait'} for earlier ones that are not in the folder yet.`],
  [/^([a-z_]+): [\s\S]+$/, (all) => `The register is damaged where it keeps ${listed([...new Set(all)].map((table) => TABLES[table] ?? `“${table}”`))}.`],
];

/** @param {string[]} hashes */
function named(hashes) {
  const some = hashes.slice(0, 5).map((hash) => hash.slice(0, 8));
  return hashes.length > 5 ? `${some.join(', ')} and ${hashes.length - 5} more` : some.join(', ');
}

/**
 * What was found, one sentence a kind.
 * @param {readonly string[]} found
 * @returns {string[]}
 */
export function foundWords(found) {
  let left = [...found];
  const said = [];
  for (const [pattern, words] of LINES) {
    const hits = left.filter((line) => pattern.test(line));
    left = left.filter((line) => !pattern.test(line));
    const whole = hits.map((line) => pattern.exec(line)?.[1] ?? line);
    if (hits.length) said.push(words(whole));
  }
  return [...said, ...left].map((line) => line.charAt(0).toUpperCase() + line.slice(1));
}
