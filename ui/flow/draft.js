// Keeps what is being typed in the register's draft, so that it survives a kill.
// It never saves an act. Invariant: after `stop()` nothing more is written, so a saved form never comes back as a draft.

import { call } from '../api/call.js';
import { tellTrouble } from './onshow.js';

const PAUSE = 300;

/**
 * @template T
 * @param {string} key
 * @returns {Promise<T | null>} what was kept, null when nothing or nothing readable
 */
export async function keptDraft(key) {
  const { value } = await call('draft_get', { key });
  if (value === null) return null;
  try {
    return JSON.parse(value);
  } catch {
    return null;
  }
}

/** @param {string} key */
export async function dropDraft(key) {
  await call('draft_set', { key, value: null });
}

/** One keeper a form: writes in order, the newest last, never two at once. */
export class Draft {
  /**
   * @param {string} key
   * @param {() => unknown} typed what to keep, asked at the time of writing
   */
  constructor(key, typed) {
    this.key = key;
    this.typed = typed;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.timer = undefined;
    /** @type {Promise<unknown>} */
    this.writing = Promise.resolve();
    this.dirty = false;
    this.leaving = () => void this.flush();
    document.addEventListener('visibilitychange', this.leaving);
    window.addEventListener('pagehide', this.leaving);
  }

  /** Something was typed: keep it after a short pause. */
  note() {
    this.dirty = true;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.flush(), PAUSE);
  }

  /** Keeps it now; resolves once everything noted is written. */
  flush() {
    clearTimeout(this.timer);
    if (!this.dirty) return this.writing;
    this.dirty = false;
    const value = JSON.stringify(this.typed());
    this.writing = this.writing.then(() => call('draft_set', { key: this.key, value })).catch((error) => {
      this.dirty = true;
      tellTrouble(error);
    });
    return this.writing;
  }

  /** The act is about to be saved: let running writes finish and start no more. */
  async pause() {
    clearTimeout(this.timer);
    this.dirty = false;
    await this.writing;
  }

  /** The form is left or saved. */
  stop() {
    clearTimeout(this.timer);
    document.removeEventListener('visibilitychange', this.leaving);
    window.removeEventListener('pagehide', this.leaving);
  }
}
