// Long work of the backend, followed from a screen: begun, asked how far it is, stopped, found again.
// It never says what the work is for. Invariant: work goes on when its screen is left, and is found again on the way back.

import { call, refused } from '../api/call.js';
import { inOneText } from '../lib/explain.js';
import { redraw, tellTrouble } from './onshow.js';

/** @import {JobStarted, JobView} from '../api/types.js' */

/** @typedef {{kind: string, job: JobView | null, starting: boolean, wrong: string}} Work */
/** @typedef {{gone: boolean}} Watching a view that says when it is left */

const POLL = 300;

/** What runs, by what it is for. @type {Map<string, string>} */
const running = new Map();

/**
 * @param {string} kind
 * @returns {Work}
 */
export function workOf(kind) {
  const job = running.get(kind);
  return { kind, job: job ? { job, state: 'running', done: 0, total: 0, found: [], result: null } : null, starting: false, wrong: '' };
}

/** @param {Work} work */
export function isRunning(work) {
  return work.starting || work.job?.state === 'running';
}

/**
 * @param {Watching} view
 * @param {Work} work
 * @param {() => Promise<JobStarted>} start
 * @param {(job: JobView) => void | Promise<void>} [ended]
 */
export async function begin(view, work, start, ended) {
  if (isRunning(work)) return;
  Object.assign(work, { job: null, starting: true, wrong: '' });
  redraw();
  try {
    const { job } = await start();
    running.set(work.kind, job);
    work.job = workOf(work.kind).job;
  } catch (error) {
    work.wrong = inOneText(refused(error));
  }
  work.starting = false;
  redraw();
  await follow(view, work, ended);
}

/**
 * Asks how far the work is until it has ended or the screen is left.
 * @param {Watching} view
 * @param {Work} work
 * @param {(job: JobView) => void | Promise<void>} [ended]
 */
export async function follow(view, work, ended) {
  try {
    while (work.job?.state === 'running' && !view.gone) {
      work.job = await call('job_show', { job: work.job.job });
      if (work.job.state === 'running') {
        redraw();
        await new Promise((later) => setTimeout(later, POLL));
      }
    }
  } catch (error) {
    running.delete(work.kind);
    work.job = null;
    work.wrong = inOneText(refused(error));
  }
  if (!view.gone && work.job) {
    running.delete(work.kind);
    await ended?.(work.job);
  }
  redraw();
}

/** @param {Work} work */
export async function stop(work) {
  if (!work.job) return;
  try {
    await call('job_cancel', { job: work.job.job });
  } catch (error) {
    tellTrouble(error);
  }
}
